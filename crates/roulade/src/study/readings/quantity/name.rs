//! A quantity by its name.

use super::rows::QUANTITIES;
use super::{Asked, OF_PART, Quantity};
use crate::cell::draft::Input;
use crate::quantity::problem::{Problem, hint, nearest, shortened};
use crate::sheet::defaults::field;
use crate::sheet::former;

/// Other names, former ones among them, and the name of the table.
const ALIASES: &[(&str, &str)] = &[
    ("roll diameter, widest", "jelly roll diameter, widest"),
    ("roll diameter", "jelly roll diameter"),
    ("turns of the web", "turns of the jelly roll"),
    ("anode lead", "anode overhang at the start"),
    ("core turns", "separator turns at the core"),
    ("outer turns", "separator turns outside"),
    ("separator margin", "separator overhang"),
    ("cathode fold height", "cathode folded edge height"),
    ("anode fold height", "anode folded edge height"),
    ("cathode coated both faces", "cathode coated both sides"),
    ("anode coated both faces", "anode coated both sides"),
    ("cathode coated one face", "cathode coated one side"),
    ("anode coated one face", "anode coated one side"),
    ("cathode coating", "cathode coating thickness"),
    ("anode coating", "anode coating thickness"),
    ("cathode foil", "cathode foil thickness"),
    ("anode foil", "anode foil thickness"),
    ("cathode loading", "cathode areal mass loading"),
    ("anode loading", "anode areal mass loading"),
    ("dry roll mass", "dry jelly roll mass"),
    ("wet roll mass", "wet jelly roll mass"),
    ("resistance", "d.c. internal resistance"),
    ("silicon share", "silicon mass fraction"),
    ("silicon oxide share", "silicon oxide mass fraction"),
    ("head space", "void height"),
    ("headspace", "void height"),
    ("radial gap", "radial clearance"),
    ("anode bare edge", "anode uncoated foil margin"),
    ("cathode bare edge", "cathode uncoated foil margin"),
    ("internal resistance", "d.c. internal resistance"),
    ("a.c. internal resistance", "resistance at 1 kHz"),
    ("cathode areal capacity", "cathode disc areal capacity"),
    ("anode areal capacity", "anode disc areal capacity"),
    ("mass", "cell mass"),
    ("weight", "cell mass"),
    ("cell weight", "cell mass"),
    ("mass of the cell", "cell mass"),
    ("energy at open circuit", "energy"),
    ("dc internal resistance", "d.c. internal resistance"),
    ("dc resistance", "d.c. internal resistance"),
    ("ac internal resistance", "resistance at 1 kHz"),
];

/// The quantity of a name: as it stands in the table, as the path or the label of the input it reads ("can.diameter", "outer
/// diameter", "Can: outer diameter"), or, of a part, as "height of NAME" or `parts[NAME].height`. Capitals, hyphens and
/// underscores do not matter.
///
/// # Errors
/// Where there is none: with the nearest name.
pub fn find(name: &str, part: Option<&str>) -> Result<Asked, Problem> {
    let wanted = folded(&former::path_today(name.trim()));
    let wanted = ALIASES.iter().find(|(other, _)| *other == wanted).map_or(wanted, |(_, key)| folded(key));
    let of_part = |what: &str, part: &str| {
        let what = folded(what).replace(' ', "_");
        let what = former::name_today(&what).map_or(what, str::to_owned);
        let named = |quantity: &&Quantity| {
            OF_PART.iter().any(|begin| quantity.key.strip_prefix(begin) == Some(&what))
        };
        let quantity = QUANTITIES.iter().find(named)?;
        Some(Asked::of(quantity, Some(part.trim().to_owned())))
    };
    let bracketed = OF_PART.iter().find_map(|begin| {
        let (before, after) = begin.split_once("[]")?;
        let (inside, what) = name.trim().strip_prefix(before)?.strip_prefix('[')?.split_once(']')?;
        Some((inside, what.strip_prefix(after)?))
    });
    if let Some((inside, what)) = bracketed
        && let Some(asked) = of_part(what, inside)
    {
        return Ok(asked);
    }
    if let Some(part) = part
        && let Some(asked) = of_part(name.trim().strip_prefix("part ").unwrap_or(name), part)
    {
        return Ok(asked);
    }
    let named = |quantity: &&Quantity| {
        !quantity.key.contains("[]")
            && (folded(quantity.key) == wanted
                || (!quantity.input.is_empty() && folded(quantity.input) == wanted))
    };
    if let Some(quantity) = QUANTITIES.iter().find(named) {
        return Ok(Asked::of(quantity, None));
    }
    if let Some((what, of)) = name.split_once(" of ")
        && let Some(asked) = of_part(what, of)
    {
        return Ok(asked);
    }
    labelled(&wanted).map(|quantity| Asked::of(quantity, None)).ok_or_else(|| unknown(name, &wanted))
}

/// The one quantity whose input has this label in a design sheet, by itself or after the heading it stands under.
fn labelled(wanted: &str) -> Option<&'static Quantity> {
    let plain = |text: &str| folded(&text.replace([',', ':'], " "));
    let wanted = plain(wanted);
    let mut found = QUANTITIES.iter().filter(|quantity| {
        field(quantity.input).filter(|_| !quantity.key.contains("[]")).is_some_and(|field| {
            wanted == plain(field.label) || wanted == plain(&[field.section, " ", field.label].concat())
        })
    });
    let first = found.next()?;
    found.next().is_none().then_some(first)
}

/// The quantity that reads an input directly; `None` for an input no bench reads, a material's density say.
pub(crate) fn of_input(input: &Input) -> Option<&'static Quantity> {
    let path = field(&input.path)?.path;
    QUANTITIES.iter().find(|quantity| quantity.input == path)
}

fn unknown(name: &str, wanted: &str) -> Problem {
    let near = nearest(wanted, QUANTITIES.iter().map(|quantity| quantity.key));
    let hint = hint(near);
    let found = if name.trim().is_empty() {
        "nothing".to_owned()
    } else {
        format!("\"{}\", a quantity that is not known", shortened(name))
    };
    Problem::new(
        "",
        found,
        format!(
            "a quantity that `roulade readings` lists, for example \"cathode length\" or \"height of cap assembly\"{hint}"
        ),
    )
}

pub(super) fn folded(name: &str) -> String {
    let plain: String = name.chars().map(|c| if matches!(c, '_' | '-' | '.') { ' ' } else { c }).collect();
    plain.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}
