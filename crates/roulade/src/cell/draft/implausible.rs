//! Entries outside what wound cells have, with the slip that would explain them.
//!
//! Such an entry is taken as it stands: it may be right. It is said, so that a slip is not carried through in silence.

use super::{Draft, Input};
use crate::cell::population;
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
/// wider than any default, so that only what is hardly ever seen is said. What goes with the size of the can is stated for 21 mm.
const SEEN: &[(&str, &str)] = &[
    ("purpose", "-3 .. 3"),
    ("model.capacity", "-30 .. 30 %"),
    ("can.diameter", "10 .. 60 mm"),
    ("can.height", "20 .. 150 mm"),
    ("can.wall", "0.1 .. 1 mm"),
    ("can.bottom", "0.1 .. 2 mm"),
    ("sleeve.thickness", "20 .. 500 µm"),
    ("parts[].height", "0 .. 15 mm"),
    ("parts[].axial_clearance", "0 .. 10 mm"),
    ("winding.slack", "0 .. 10 µm"),
    ("winding.core_turns", "0 .. 6"),
    ("winding.anode_overhang_start", "0 .. 3"),
    ("winding.anode_overhang_end", "0 .. 3"),
    ("winding.outer_turns", "0 .. 6"),
    ("winding.tape_thickness", "10 .. 100 µm"),
    ("winding.tape_turns", "0 .. 10"),
    ("winding.cathode_length", "0.1 .. 20 m"),
    ("winding.anode_length", "0.1 .. 20 m"),
    ("cathode.width", "15 .. 145 mm"),
    ("cathode.uncoated_margin", "0 .. 20 mm"),
    ("cathode.fold_height", "0 .. 5 mm"),
    ("prelithiation.areal_capacity", "0 .. 5 mAh/cm2"),
    ("anode.uncoated_margin", "0 .. 20 mm"),
    ("anode.fold_height", "0 .. 5 mm"),
    ("anode.swelling", "0 .. 60 %"),
    ("separator.ceramic_thickness", "0 .. 10 µm"),
    ("electrolyte.per_capacity", "0.8 .. 4 g/Ah"),
    ("electrolyte.conductivity", "3 .. 20 mS/cm"),
    ("electrolyte.salt", "5 .. 30 %"),
    ("voltage.charge_cut_off", "2.5 .. 5 V"),
    ("voltage.discharge_cut_off", "1 .. 3.6 V"),
    ("voltage.nominal", "1.5 .. 4.5 V"),
    ("current_path.c_rate", "0.01 .. 30 C"),
    ("current_path.temperature", "-40 .. 80 °C"),
    ("current_path.heat_transfer", "2 .. 2000 W/m²/K"),
    ("current_path.allowed_rise", "5 .. 80 K"),
    ("current_path.charge_transfer", "5 .. 3000 Ω·cm²"),
    ("current_path.areal_resistance", "1 .. 200 Ω·cm²"),
    ("current_path.electrochemical", "0.1 .. 1000 mΩ"),
    ("current_path.cap_assembly", "0 .. 10 mΩ"),
    ("current_path.cathode.tabs[].width", "1 .. 20 mm"),
    ("current_path.cathode.tabs[].thickness", "0.02 .. 0.5 mm"),
    ("current_path.cathode.tabs[].tape", "0 .. 200 µm"),
    ("current_path.cathode.joint", "0 .. 5 mΩ"),
    ("current_path.cathode.spots", "1 .. 500"),
    ("current_path.cathode.spot_radius", "0.05 .. 3 mm"),
    ("current_path.anode.tabs[].width", "1 .. 20 mm"),
    ("current_path.anode.tabs[].thickness", "0.02 .. 0.5 mm"),
    ("current_path.anode.tabs[].tape", "0 .. 200 µm"),
    ("current_path.anode.joint", "0 .. 5 mΩ"),
    ("current_path.anode.spots", "1 .. 500"),
    ("current_path.anode.spot_radius", "0.05 .. 3 mm"),
    ("materials[].density", "0.8 .. 10 g/cm3"),
    ("materials[].capacity", "80 .. 3700 mAh/g"),
];

/// Lower and upper end of what wound cells have in a can of an outer diameter (m), SI; `None` where nothing is said of the
/// quantity.
pub fn plausible_range(path: &str, diameter: f64) -> Option<(f64, f64)> {
    let bare = field(path)?;
    let text = SEEN
        .iter()
        .find(|(seen, _)| *seen == bare.path)
        .map(|(_, text)| *text)
        .or_else(|| plausible::stated(path).map(|range| range.text))?;
    match notation::read(text, bare.unit.dimension()).ok()?.spread {
        Spread::Range { low, high } => Some(population::at_size(bare.path, (low, high), diameter)),
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
    /// An input that its user wrote and that lies outside, in a can of an outer diameter, m; a default never does.
    pub fn of(input: &Input, diameter: f64) -> Option<Self> {
        if input.origin == Origin::Default {
            return None;
        }
        let mut found =
            Self::of_value(&input.path, input.uncertain.value, input.unit, &input.text(), diameter)?;
        found.label = input.label.to_string();
        Some(found)
    }

    /// The same of a quantity by its path, its value (SI), its unit, and its text.
    pub fn of_value(path: &str, value: f64, unit: Unit, text: &str, diameter: f64) -> Option<Self> {
        let range = plausible_range(path, diameter)?;
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
pub fn reaches_past(path: &str, uncertain: &Uncertain, unit: Unit) -> Option<String> {
    let Spread::Standard(u) = uncertain.spread else { return None };
    let bound = field(path)?.bound;
    let (low, high) = bound.ends();
    // Zero with its uncertainty is a usual way to say "hardly any".
    let below = uncertain.value - u < low && uncertain.value > low;
    let above = uncertain.value + u > high && uncertain.value < high;
    (below || above).then(|| {
        format!(
            "{path}: {} reaches past what it may be ({}) within one standard uncertainty. Trials are cut off there; what is \
             carried through to first order is not, and its intervals do not hold. A range, \"a .. b\", would say what is meant.",
            notation::print_brief(uncertain, unit),
            bound.words()
        )
    })
}

impl Draft {
    /// Entries outside what wound cells of this size have.
    pub fn implausible(&self) -> impl Iterator<Item = Implausible> {
        let diameter = self.diameter();
        self.inputs().iter().filter_map(move |input| Implausible::of(input, diameter))
    }

    /// Outer diameter of the can as the sheet has it, m.
    pub fn diameter(&self) -> f64 {
        self.can.diameter.of(&self.values()).value
    }

    /// Problems of a cell that does not hold together, with the slips that would explain them.
    pub(super) fn explained(&self, mut problems: Problems) -> Problems {
        for entry in self.implausible().take(MOST_EXPLAINED) {
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

/// What looks wrong with an entry of a cell in a can of an outer diameter (m), each in a sentence; a default never does.
pub fn plausibility_of(input: &Input, diameter: f64) -> Vec<String> {
    if input.origin == Origin::Default {
        return Vec::new();
    }
    let outside = Implausible::of(input, diameter).map(|entry| entry.remark);
    outside.into_iter().chain(reaches_past(&input.path, &input.uncertain, input.unit)).collect()
}

/// All that looks wrong, in short: the first in full, how many more; nothing where nothing does.
pub fn in_short(plausibility: &[String]) -> String {
    match plausibility {
        [] => String::new(),
        [one] => one.clone(),
        [first, second] if first == second => first.clone(),
        [first, more @ ..] if more.len() == 1 => format!("{first} So is 1 more entry."),
        [first, more @ ..] => format!("{first} So are {} more entries.", more.len()),
    }
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

    fn of_value(path: &str, value: Value) -> Vec<String> {
        draft(&[(path, value)])
            .implausible()
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
            ("current_path/c_rate", "100 C", "10 C would then be meant"),
            ("voltage/charge_cut_off", "42 V", "4.2 V would then be meant"),
            ("voltage/discharge_cut_off", "0.27 V", "2.7 V would then be meant"),
        ] {
            let all = of_value(path, json!(value));
            assert!(all.len() == 1 && all[0].contains(meant), "{path}: {all:?}");
        }
        assert!(of_value("can/height", json!("95 mm")).is_empty());
    }

    /// Each row is of a quantity, once, and holds what stands in for it.
    #[test]
    fn every_range_is_of_a_quantity_and_holds_its_default() {
        for (i, (path, text)) in SEEN.iter().enumerate() {
            assert!(SEEN.iter().skip(i + 1).all(|(other, _)| other != path), "{path} twice");
            let field = field(path).filter(|field| field.path == *path).expect(path);
            let (low, high) = plausible_range(path, 21e-3).expect(text);
            assert!(low < high && field.bound.holds(high), "{path}");
            let Some(default) = field.default else { continue };
            let default = notation::read(default.text, field.unit.dimension()).expect(path);
            let (from, to) = match default.spread {
                Spread::Range { low, high } => (low, high),
                _ => (default.value - default.u(), default.value + default.u()),
            };
            assert!(low <= from && to <= high, "{path}: its default lies outside");
        }
    }

    /// What goes with the size of the can is held against cells of that size: what the population has at a size lies within,
    /// at every size, and a slip of ten does not.
    #[test]
    fn ranges_grow_with_the_can() {
        for diameter in [18.0, 21.0, 26.0, 46.0, 60.0, 80.0] {
            let setting = population::Setting { diameter, ..population::REFERENCE };
            for path in ["can.wall", "can.bottom", "winding.core_diameter"] {
                let (uncertain, _) = population::row(path).unwrap().uncertain(&setting);
                let (low, high) = plausible_range(path, 1e-3 * diameter).unwrap();
                let (from, to) =
                    (uncertain.value - 2.0 * uncertain.u(), uncertain.value + 2.0 * uncertain.u());
                assert!(
                    low <= from && to <= high,
                    "{path} at {diameter} mm: {from} .. {to} in {low} .. {high}"
                );
                assert!(
                    10.0 * uncertain.value > high && 0.1 * uncertain.value < low,
                    "{path} at {diameter} mm"
                );
            }
            for part in population::parts(&setting) {
                let (_, high) = plausible_range("parts[0].height", 1e-3 * diameter).unwrap();
                let height = notation::read(part.height.as_ref().unwrap().text(), Dimension::Length).unwrap();
                assert!(height.value + 2.0 * height.u() <= high, "{:?} at {diameter} mm", part.name);
            }
        }
        // By hand: 1 to 5 mm where 2.58 mm is ordinary, at 46 mm 4.08 mm.
        let (low, high) = plausible_range("winding.core_diameter", 46e-3).unwrap();
        assert!((low - 1e-3 * 4.08 / 2.58).abs() < 1e-9 && (high - 5e-3 * 4.08 / 2.58).abs() < 1e-9);
    }

    #[test]
    fn a_can_far_heavier_than_its_shell_is_said() {
        let diagnostics = draft(&[("can/mass", json!("410 g"))]).plausibility();
        assert!(
            diagnostics.iter().any(|diagnostics| diagnostics.starts_with("can.mass: 410 g is far from")),
            "{diagnostics:?}"
        );
        assert!(draft(&[]).plausibility().is_empty());
    }

    #[test]
    fn an_uncertainty_past_what_may_be_is_said() {
        let of = |value: &str| {
            let draft = draft(&[("cathode/thickness", json!(value))]);
            draft
                .plausibility()
                .into_iter()
                .filter(|diagnostics| diagnostics.contains("reaches past"))
                .collect::<Vec<_>>()
        };
        let diagnostics = of("70 ± 90 µm");
        assert!(
            diagnostics.len() == 1
                && diagnostics[0].starts_with("cathode.thickness: 70 ± 90 µm reaches past"),
            "{diagnostics:?}"
        );
        assert!(of("70 ± 5 µm").is_empty() && of("20 .. 120 µm").is_empty());
        let draft = draft(&[("anode/initial_coulombic_efficiency", json!("95 ± 300 %"))]);
        assert!(draft.plausibility().iter().any(|diagnostics| diagnostics.contains("reaches past")));
    }

    #[test]
    fn a_cell_that_a_slip_makes_impossible_is_reported_with_it() {
        let of = |path: &str, value: &str| draft(&[(path, json!(value))]).design().unwrap_err().to_string();
        let diagnostic = of("electrolyte/excess", "5000 %");
        assert!(
            diagnostic.contains("electrolyte.excess: found")
                && diagnostic.contains("three places too far right: 5 % would then be meant"),
            "{diagnostic}"
        );
        let diagnostic = of("can/height", "9.5 mm");
        assert!(
            diagnostic.contains("can.height: 9.5 mm is outside")
                && diagnostic.contains("95 mm would then be meant"),
            "{diagnostic}"
        );
    }

    #[test]
    fn a_total_far_from_the_one_worked_out() {
        let diagnostics = far_from("cell_mass", 0.004_26, 0.426).unwrap();
        assert!(
            diagnostics.contains("two places too far left") && diagnostics.contains("426"),
            "{diagnostics}"
        );
        assert!(far_from("cell_mass", 0.4, 0.426).is_none());
    }
}
