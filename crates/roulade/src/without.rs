//! A sheet without one of its parts.

use crate::design::sheet::{Entry, Part, Sheet};
use crate::design::{Draft, Fit};
use crate::known::Known;
use crate::notation;
use crate::problem::{Problem, Problems, nearest, shortened};
use crate::units::Unit;

/// The sheet without `part`, `instead` in its place, and `reclaim` of the freed height turned into coated width.
///
/// # Errors
/// Where the sheet has no such part, the share is not between 0 and 1, or the sheet does not hold together.
pub fn without(sheet: &Sheet, part: &str, instead: Option<&Part>, reclaim: f64) -> Result<Sheet, Problems> {
    if !(0.0..=1.0).contains(&reclaim) {
        return Err(Problem::new(
            "reclaim",
            format!("{reclaim}"),
            "a share of the freed height between 0 and 1",
        )
        .into());
    }
    let design = Draft::read(sheet)?.design()?;
    let listed = sheet.parts.as_deref().unwrap_or(&[]);
    let name_of = |p: &Part| p.name.as_deref().unwrap_or_default().trim().to_owned();
    let Some(at) = listed.iter().position(|p| name_of(p) == part.trim()) else {
        let names: Vec<String> = listed.iter().map(name_of).collect();
        let hint = match nearest(part, names.iter().map(String::as_str)) {
            Some(near) => format!("perhaps \"{near}\" was meant; "),
            None => String::new(),
        };
        let found = format!("\"{}\", a part that {} does not have", shortened(part), design.blueprint().name);
        let expected = if names.is_empty() {
            "a part of the sheet, which lists none".to_owned()
        } else {
            format!("{hint}one of: {}", names.join(", "))
        };
        return Err(Problem::new("part", found, expected).into());
    };
    let mut changed = sheet.clone();
    let parts = changed.parts.get_or_insert_default();
    match instead {
        Some(instead) => parts.splice(at..=at, [instead.clone()]).for_each(drop),
        None => drop(parts.remove(at)),
    }
    changed.made_from = Some(design.blueprint().name.to_string());
    changed.cell = Some(match instead {
        Some(instead) => {
            format!("{} with {} for the {}", design.blueprint().name, name_of(instead), part.trim())
        }
        None => format!("{} without the {}", design.blueprint().name, part.trim()),
    });
    let freed = {
        // With the coated width as it was, what the change frees shows as head-space.
        let mut held = changed.clone();
        hold_width(&mut held, design.stack().cathode_width.value, sheet);
        let after = Draft::read(&held)
            .and_then(|draft| draft.design())
            .map_err(|problems| if instead.is_some() { of_instead(problems, at) } else { problems })?;
        after.stack().head_space - design.stack().head_space
    };
    let width = design.stack().cathode_width + freed * reclaim;
    match design.blueprint().fit {
        Fit::Width(_) => hold_width(&mut changed, width.value, sheet),
        Fit::HeadSpace(space) => {
            let left = space + freed * (1.0 - reclaim);
            changed.head_space = Some(shifted(sheet.head_space.as_ref(), left.value));
        }
    }
    Ok(changed)
}

/// What is wrong with the part that came stands in the part's own text, not in the sheet.
fn of_instead(problems: Problems, at: usize) -> Problems {
    let in_sheet = format!("parts[{at}]");
    let told = problems.0.into_iter().map(|problem| match problem.place.strip_prefix(&in_sheet) {
        Some(rest) => Problem { place: format!("instead{rest}"), ..problem },
        None => problem,
    });
    Problems(told.collect())
}

/// Gives the sheet a coated width in the place of a head-space.
fn hold_width(sheet: &mut Sheet, width: f64, original: &Sheet) {
    let entry = original.cathode.as_ref().and_then(|c| c.width.as_ref());
    sheet.head_space = None;
    let cathode = sheet.cathode.get_or_insert_default();
    cathode.width = Some(shifted(entry, width));
}

/// An entry with another value and the spread it had.
fn shifted(entry: Option<&Entry>, to: f64) -> Entry {
    let text = match entry {
        Some(Entry::Text(text)) => Some(text.as_str()),
        Some(Entry::Noted(noted)) => Some(noted.value.as_str()),
        _ => None,
    };
    let known = text.and_then(|text| notation::read(text, Unit::Millimetre.dimension()).ok());
    let known = match known {
        Some(known) if known.u() > 0.0 => Known::standard(to, known.u()),
        _ => Known::exact(to),
    };
    Entry::Text(notation::print_known(&known, Unit::Millimetre))
}
