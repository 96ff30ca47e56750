//! Entries outside what wound cells have, with the slip that would explain them.
//!
//! Such an entry is taken as it stands: it may be right. It is said, so that a slip is not carried through in silence.

use super::{Draft, Input};
use crate::quantity::notation;
use crate::quantity::problem::Problems;
use crate::quantity::slip::{self, Slip, SlipKind};
use crate::quantity::units::{Dimension, Unit};
use crate::sheet::defaults::field;
use crate::sheet::plausible;
use roulade_stats::uncertain::{Origin, Spread, Uncertain};

/// An entry that lies outside what wound cells have.
#[derive(Clone, Debug, PartialEq)]
pub struct Implausible {
    /// Where it stands.
    pub path: String,
    /// What it is called.
    pub label: String,
    /// As it was written.
    pub text: String,
    /// Lower and upper end of what wound cells have, SI.
    pub range: (f64, f64),
    /// The slip that would explain it, where there is one.
    pub slip: Option<Slip>,
    /// All of it in one sentence.
    pub remark: String,
}

/// Ranges of quantities for which no other is stated: path, as a user would write it. Common practice, no source; far
/// wider than any default, so that only what is hardly ever seen is said.
const SEEN: &[(&str, &str)] = &[
    ("can.diameter", "10 .. 60 mm"),
    ("can.height", "20 .. 150 mm"),
    ("can.wall", "0.1 .. 1 mm"),
    ("can.bottom", "0.1 .. 2 mm"),
    ("winding.slack", "0 .. 10 µm"),
    ("winding.core_turns", "0 .. 6"),
    ("winding.anode_overhang_start", "0 .. 3"),
    ("winding.anode_overhang_end", "0 .. 3"),
    ("winding.outer_turns", "0 .. 6"),
    ("winding.tape_thickness", "10 .. 100 µm"),
    ("cathode.width", "15 .. 145 mm"),
    ("cathode.fold_height", "0 .. 5 mm"),
    ("anode.fold_height", "0 .. 5 mm"),
    ("anode.swelling", "0 .. 60 %"),
    ("separator.ceramic_thickness", "0 .. 10 µm"),
    ("electrolyte.per_capacity", "0.8 .. 4 g/Ah"),
    ("electrolyte.conductivity", "3 .. 20 mS/cm"),
    ("voltage.upper", "2.5 .. 5 V"),
    ("voltage.lower", "1 .. 3.6 V"),
    ("current_path.rate", "0.01 .. 30 C"),
    ("current_path.temperature", "-40 .. 80 °C"),
    ("current_path.heat_transfer", "2 .. 2000 W/m²/K"),
    ("current_path.allowed_rise", "5 .. 80 K"),
    ("current_path.charge_transfer", "5 .. 3000 Ω·cm²"),
    ("current_path.areal_resistance", "1 .. 200 Ω·cm²"),
    ("materials[].density", "0.8 .. 10 g/cm3"),
    ("materials[].capacity", "80 .. 3700 mAh/g"),
    ("parts[].height", "0 .. 15 mm"),
    ("parts[].stand_off", "0 .. 10 mm"),
];

/// Lower and upper end of what wound cells have, SI; `None` where nothing is said of the quantity.
pub fn plausible_range(path: &str) -> Option<(f64, f64)> {
    let bare = field(path)?;
    let text = SEEN
        .iter()
        .find(|(seen, _)| *seen == bare.path)
        .map(|(_, text)| *text)
        .or_else(|| plausible::stated(path).map(|range| range.text))?;
    match notation::read(text, bare.unit.dimension()).ok()?.spread {
        Spread::Range { low, high } => Some((low, high)),
        _ => None,
    }
}

/// What a quantity is, as far as slips depend on it.
fn kind(path: &str, dimension: Dimension, text: &str) -> SlipKind {
    let kind = SlipKind::of(dimension).percent(text.contains('%'));
    let per_side =
        ["cathode.loading", "anode.loading", "cathode.thickness", "anode.thickness"].contains(&path);
    let round = path.contains("diameter") || path.contains("radius");
    match (per_side, round) {
        (true, _) => kind.per_side(),
        (_, true) => kind.round(),
        _ => kind,
    }
}

impl Implausible {
    /// An input that its user wrote and that lies outside; a default never does.
    pub fn of(input: &Input) -> Option<Self> {
        if input.origin == Origin::Default {
            return None;
        }
        let mut found = Self::told(&input.path, input.known.value, input.unit, &input.text())?;
        found.label = input.label.to_string();
        Some(found)
    }

    /// The same of a quantity by its path, its value (SI), its unit, and its text.
    pub fn told(path: &str, value: f64, unit: Unit, text: &str) -> Option<Self> {
        let range = plausible_range(path)?;
        let inside = |x: f64| x >= range.0 * (1.0 - 1e-9) - 1e-12 && x <= range.1 * (1.0 + 1e-9);
        if inside(value) {
            return None;
        }
        let slip = slip::into_range(value, range, kind(path, unit.dimension(), text));
        let shown = |si: f64| notation::print_brief(&Uncertain::exact(si), unit);
        let mut remark = format!(
            "{path}: {} is outside what wound cells have ({} .. {}).",
            shown(value),
            shown(range.0),
            shown(range.1)
        );
        if let Some(slip) = slip {
            remark.extend([
                " Perhaps ",
                slip.words,
                ": ",
                &shown(slip.meant(value)),
                " would then be meant.",
            ]);
        }
        Some(Self { path: path.to_owned(), label: String::new(), text: text.to_owned(), range, slip, remark })
    }
}

/// What to say of an uncertainty that a user wrote and that reaches, within one standard uncertainty, past what the entry may
/// be.
pub fn reaches_past(path: &str, known: &Uncertain, unit: Unit) -> Option<String> {
    let Spread::Standard(u) = known.spread else { return None };
    let bound = field(path)?.bound;
    let (low, high) = bound.ends();
    // Zero with its uncertainty is a usual way to say "hardly any".
    let below = known.value - u < low && known.value > low;
    let above = known.value + u > high && known.value < high;
    (below || above).then(|| {
        format!(
            "{path}: {} reaches past what it may be ({}) within one standard uncertainty. Trials are cut off there; what is \
             carried through to first order is not, and its intervals do not hold. A range, \"a .. b\", would say what is meant.",
            notation::print_brief(known, unit),
            bound.words()
        )
    })
}

impl Draft {
    /// Problems of a cell that does not hold together, with the slips that would explain them.
    pub(crate) fn explained(&self, mut problems: Problems) -> Problems {
        for entry in self.inputs().iter().filter_map(Implausible::of).take(MOST_EXPLAINED) {
            let own = problems.0.iter().position(|problem| problem.place == entry.path).unwrap_or(0);
            if let Some(problem) = problems.0.get_mut(own) {
                problem.expected.extend(["; ", entry.remark.trim_end_matches('.')]);
            }
        }
        problems
    }
}

/// Slips that are told beside what is wrong with a cell.
const MOST_EXPLAINED: usize = 3;

/// What looks wrong with an entry, each in a sentence; a default never does.
pub fn doubts_of(input: &Input) -> Vec<String> {
    if input.origin == Origin::Default {
        return Vec::new();
    }
    let outside = Implausible::of(input).map(|entry| entry.remark);
    outside.into_iter().chain(reaches_past(&input.path, &input.known, input.unit)).collect()
}

/// What to say of a mass that was weighed or stated and of the one that was worked out, kg, where they lie far apart: by
/// more than a quarter.
pub fn far_from(place: &str, stated: f64, computed: f64) -> Option<String> {
    let shown = |si: f64| notation::print_brief(&Uncertain::exact(si), Unit::Gram);
    if (stated - computed).abs() <= 0.25 * computed.abs() {
        return None;
    }
    let slip = slip::between(stated, computed, 0.25, SlipKind::of(Dimension::Mass));
    let mut remark =
        format!("{place}: {} is far from the {} that was worked out.", shown(stated), shown(computed));
    if let Some(slip) = slip {
        remark.extend([" Perhaps ", slip.words, ": ", &shown(slip.meant(stated)), " would then be meant."]);
    }
    Some(remark)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::draft;
    use serde_json::{Value, json};

    fn told(path: &str, value: Value) -> Vec<String> {
        draft(&[(path, value)])
            .inputs()
            .iter()
            .filter_map(Implausible::of)
            .filter(|of| of.path == path.replace('/', "."))
            .map(|of| of.remark)
            .collect()
    }

    #[test]
    fn plain_slips_are_said() {
        for (path, value, meant) in [
            ("can/height", "95 cm", "95 mm would then be meant"),
            ("cathode/thickness", "670 µm", "67 µm would then be meant"),
            ("electrolyte/excess", "2000 %", "20 % would then be meant"),
            ("current_path/temperature", "2500 °C", "25 °C would then be meant"),
        ] {
            let all = told(path, json!(value));
            assert!(all.len() == 1 && all[0].contains(meant), "{path}: {all:?}");
        }
        assert!(told("can/height", json!("95 mm")).is_empty());
    }

    #[test]
    fn an_uncertainty_past_what_may_be_is_said() {
        let of = |value: &str| {
            let draft = draft(&[("cathode/thickness", json!(value))]);
            draft.doubts().into_iter().filter(|told| told.contains("reaches past")).collect::<Vec<_>>()
        };
        let told = of("70 ± 90 µm");
        assert!(
            told.len() == 1 && told[0].starts_with("cathode.thickness: 70 ± 90 µm reaches past"),
            "{told:?}"
        );
        assert!(of("70 ± 5 µm").is_empty() && of("20 .. 120 µm").is_empty());
        let draft = draft(&[("anode/initial_coulombic_efficiency", json!("95 ± 300 %"))]);
        assert!(draft.doubts().iter().any(|told| told.contains("reaches past")));
    }

    #[test]
    fn a_cell_that_a_slip_makes_impossible_is_told_with_it() {
        let of = |path: &str, value: &str| draft(&[(path, json!(value))]).design().unwrap_err().to_string();
        let told = of("electrolyte/excess", "5000 %");
        assert!(
            told.contains("electrolyte.excess: found")
                && told.contains("three places too far right: 5 % would then be meant"),
            "{told}"
        );
        let told = of("can/height", "9.5 mm");
        assert!(
            told.contains("can.height: 9.5 mm is outside") && told.contains("95 mm would then be meant"),
            "{told}"
        );
    }

    #[test]
    fn a_total_far_from_the_one_worked_out() {
        let told = far_from("cell_mass", 0.004_26, 0.426).unwrap();
        assert!(told.contains("two places too far left") && told.contains("426"), "{told}");
        assert!(far_from("cell_mass", 0.4, 0.426).is_none());
    }
}
