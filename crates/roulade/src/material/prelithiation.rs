//! Sources of lithium that is put into a cell beside that of its cathode.

use super::formula::Formula;

/// Something that gives up lithium once, in the first charge or before it.
///
/// # Formula
/// A source of formula mass M gives n lithium, so a gram holds `n·F/M`; what stays in the cell, the lithium it gave
/// included, is `M′/M` of it, with M′ the formula mass of what is neither driven off as gas nor left behind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LithiumSource {
    /// As the trade calls it.
    pub name: &'static str,
    /// Other spellings.
    pub aliases: &'static [&'static str],
    /// Its formula.
    pub formula: &'static str,
    /// Lithium it gives for one formula unit.
    pub lithium: f64,
    /// What stays in the cell of it, its lithium included.
    pub stays: &'static str,
    /// Whether it stands in the cathode; otherwise on the anode.
    pub in_cathode: bool,
    /// What becomes of it.
    pub source: &'static str,
}

impl LithiumSource {
    /// Charge that a kilogram of it gives, all of it used, C/kg.
    ///
    /// ```
    /// // Lithium metal: 3861 mAh/g in textbooks.
    /// let metal = roulade::material::lithium_source("lithium metal").expect("a source");
    /// assert!((metal.capacity() / 3600.0 - 3861.9).abs() < 0.5);
    /// ```
    pub fn capacity(&self) -> f64 {
        Formula::read(self.formula).map_or(f64::NAN, |formula| formula.capacity(self.lithium))
    }

    /// Share of its mass that stays in the cell.
    pub(crate) fn share_that_stays(&self) -> f64 {
        let mass = |text| Formula::read(text).map_or(f64::NAN, |formula| formula.molar_mass());
        mass(self.stays) / mass(self.formula)
    }
}

const REACTION: &str =
    "the reaction as articles write it, from memory; gas is drawn off before the cell is sealed";

/// All sources.
pub(crate) static LITHIUM_SOURCES: [LithiumSource; 6] = [
    LithiumSource {
        name: "lithium metal",
        aliases: &["lithium", "lithium foil", "lithium powder", "Li"],
        formula: "Li",
        lithium: 1.0,
        stays: "Li",
        in_cathode: false,
        source: "foil or powder on the anode; all of it stays, used or not",
    },
    LithiumSource {
        name: "lithium iron oxide",
        aliases: &["Li5FeO4", "LFO"],
        formula: "Li5FeO4",
        lithium: 5.0,
        stays: "Li5FeO2",
        in_cathode: true,
        source: REACTION,
    },
    LithiumSource {
        name: "lithium nickel oxide",
        aliases: &["Li2NiO2", "LNO additive"],
        formula: "Li2NiO2",
        lithium: 2.0,
        stays: "Li2NiO2",
        in_cathode: true,
        source: "Li2NiO2 -> NiO2 and two lithium at most; the residue stays: from memory",
    },
    LithiumSource {
        name: "lithium oxide",
        aliases: &["Li2O"],
        formula: "Li2O",
        lithium: 2.0,
        stays: "Li2",
        in_cathode: true,
        source: REACTION,
    },
    LithiumSource {
        name: "lithium nitride",
        aliases: &["Li3N"],
        formula: "Li3N",
        lithium: 3.0,
        stays: "Li3",
        in_cathode: true,
        source: REACTION,
    },
    LithiumSource {
        name: "lithium oxalate",
        aliases: &["Li2C2O4"],
        formula: "Li2C2O4",
        lithium: 2.0,
        stays: "Li2",
        in_cathode: true,
        source: REACTION,
    },
];

/// The source of that name or other spelling, whatever the case.
pub fn lithium_source(name: &str) -> Option<&'static LithiumSource> {
    let wanted = name.trim();
    LITHIUM_SOURCES.iter().find(|source| {
        std::iter::once(source.name)
            .chain(source.aliases.iter().copied())
            .any(|spelling| spelling.eq_ignore_ascii_case(wanted))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// n·F/(3.6·M): 867, 513, 1794, 2309 and 526 mAh/g, worked with atomic weights apart from this crate.
    #[test]
    fn capacities_and_residues() {
        for (name, capacity, stays) in [
            ("Li5FeO4", 867.1, 0.7929),
            ("Li2NiO2", 512.6, 1.0),
            ("Li2O", 1794.0, 0.4645),
            ("Li3N", 2308.7, 0.5978),
            ("Li2C2O4", 526.1, 0.1362),
        ] {
            let source = lithium_source(name).unwrap();
            assert!(
                (source.capacity() / 3600.0 - capacity).abs() < 0.6,
                "{name}: {}",
                source.capacity() / 3600.0
            );
            assert!(
                (source.share_that_stays() - stays).abs() < 2e-4,
                "{name}: {}",
                source.share_that_stays()
            );
        }
        assert!(lithium_source(" LITHIUM ").is_some() && lithium_source("salt").is_none());
    }
}
