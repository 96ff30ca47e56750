//! Where a quantity of the sheet lies in wound cells at large, ordinary or not.
//!
//! A default stands in for an ordinary cell; a declared figure is often that of a cell which is not. So a claim is held
//! against these ranges where a sheet leaves a quantity out. Where none stands here, the default's own range holds.

use super::defaults::field;
use crate::quantity::notation;
use roulade_stats::uncertain::Spread;

/// A plausible range, and why that.
#[derive(Clone, Copy, Debug)]
pub struct Plausible {
    /// Path of the quantity, list indices left out.
    pub path: &'static str,
    /// As a user would write it.
    pub text: &'static str,
    /// Where it comes from.
    pub source: &'static str,
}

const PRACTICE: &str = "common practice, no source";
const MEMORY: &str = "common practice, from memory";
const COATINGS: &str = "87.3 µm read in Nat. Commun. 14 (2023) 420, doi 10.1038/s41467-023-35933-2; 66 to 87 µm in wound cells for \
     energy (J. Power Sources 412 (2019) 204; J. Electrochem. Soc. 167 (2020) 080534), from memory; less in cells for power: \
     Batteries 5 (2019) 64, doi 10.3390/batteries5040064; the ends: common practice, no source";
const POROSITIES: &str = "22 % read in Nat. Commun. 14 (2023) 420, doi 10.1038/s41467-023-35933-2; 17 to 34 % in wound cells (J. \
     Power Sources 412 (2019) 204; J. Electrochem. Soc. 167 (2020) 080534), from memory";
const FOILS: &str = "wound cells: J. Power Sources 412 (2019) 204 and J. Electrochem. Soc. 167 (2020) 080534, from memory; thinner \
     foils: common practice, no source";

const fn range(path: &'static str, text: &'static str, source: &'static str) -> Plausible {
    Plausible { path, text, source }
}

/// All plausible ranges, in the order of the quantities.
pub(crate) const PLAUSIBLE: &[Plausible] = &[
    range("can.wall", "0.15 .. 0.35 mm", PRACTICE),
    range("can.bottom", "0.2 .. 0.6 mm", PRACTICE),
    range("void_height", "0 .. 1.5 mm", PRACTICE),
    range("winding.core_diameter", "1 .. 5 mm", PRACTICE),
    range(
        "winding.radial_clearance",
        "0.05 .. 0.4 mm",
        "small in fresh cells: Batteries 9 (2023) 6, doi 10.3390/batteries9010006; the ends: common practice, no source",
    ),
    range("cathode.foil.thickness", "10 .. 18 µm", FOILS),
    range(
        "cathode.loading",
        "9 .. 34 mg/cm2",
        "the plausible thickness times 2.3 to 3.4 g/cm³, which dense coatings reach: J. Electrochem. Soc. (2023), doi \
         10.1149/1945-7111/acf525",
    ),
    range("cathode.thickness", "40 .. 100 µm", COATINGS),
    range("cathode.porosity", "17 .. 36 %", POROSITIES),
    range("cathode.initial_coulombic_efficiency", "85 .. 95 %", MEMORY),
    range("anode.foil.thickness", "5 .. 12 µm", FOILS),
    range(
        "anode.loading",
        "4 .. 20 mg/cm2",
        "the plausible thickness times 1.0 to 1.7 g/cm³: common practice, no source",
    ),
    range("anode.thickness", "40 .. 120 µm", COATINGS),
    range("anode.porosity", "20 .. 36 %", POROSITIES),
    range(
        "anode.n_to_p",
        "1.02 .. 1.25",
        "1.04 read in Nat. Commun. 14 (2023) 420, doi 10.1038/s41467-023-35933-2; the ends: common practice, no source",
    ),
    range("anode.initial_coulombic_efficiency", "80 .. 95 %", MEMORY),
    range("anode.overhang", "0.3 .. 1.5 mm", PRACTICE),
    range(
        "separator.thickness",
        "7 .. 20 µm",
        "7 to 25 µm in web reviews, read; the upper end in wound cells: common practice, no source",
    ),
    range(
        "separator.porosity",
        "35 .. 55 %",
        "40 % in a web review, read; 47 % in J. Electrochem. Soc. 167 (2020) 080534, from memory; the ends: common practice, \
         no source",
    ),
    range("separator.margin", "0.3 .. 2 mm", PRACTICE),
    range("electrolyte.density", "1.15 .. 1.32 g/cm3", MEMORY),
    range("electrolyte.excess", "0 .. 30 %", PRACTICE),
];

/// The plausible range that is stated for a quantity, whatever the indices in its path.
pub fn stated(path: &str) -> Option<&'static Plausible> {
    let bare = field(path)?.path;
    PLAUSIBLE.iter().find(|range| range.path == bare)
}

/// Lower and upper end, SI, and the source: the range that is stated, or that of the default.
pub fn ends(path: &str) -> Option<((f64, f64), &'static str)> {
    let field = field(path)?;
    let stated = stated(path).map(|range| (range.text, range.source));
    let (text, source) = stated.or_else(|| field.default.map(|default| (default.text, default.source)))?;
    match notation::read(text, field.unit.dimension()).ok()?.spread {
        Spread::Range { low, high } => Some(((low, high), source)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::defaults::FIELDS;
    use super::*;

    #[test]
    fn every_range_is_of_a_quantity_and_holds_its_default() {
        let mut at = 0;
        for range in PLAUSIBLE {
            let field = field(range.path).expect(range.path);
            // In the order of the quantities, each once.
            let place = FIELDS.iter().position(|other| other.path == range.path).expect(range.path);
            assert!(place > at, "{}", range.path);
            at = place;
            let ((low, high), _) = ends(range.path).expect(range.path);
            assert!(low < high && field.bound.holds(low) && field.bound.holds(high), "{}", range.path);
            let Some(default) = field.default else { continue };
            let default = notation::read(default.text, field.unit.dimension()).expect(range.path);
            let Spread::Range { low: from, high: to } = default.spread else {
                panic!("{}: a default that is exact says what is meant, and is no guess", range.path)
            };
            assert!(low <= from && to <= high, "{}: the default reaches further", range.path);
        }
    }

    #[test]
    fn a_default_stands_in_where_no_range_is_stated() {
        assert!(stated("winding.core_turns").is_none());
        assert_eq!(ends("winding.core_turns").map(|(ends, _)| ends), Some((1.0, 2.0)));
        assert!(ends("can.diameter").is_none() && ends("winding.slack").is_none());
    }
}
