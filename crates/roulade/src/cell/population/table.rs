//! The laws of what sheets leave out, row by row, each with where its numbers come from.

use super::{Chemistry, Setting};
use crate::quantity::units::Unit;
use roulade_stats::uncertain::{Spread, Uncertain};

/// Middle for a purpose of 0, slope on the purpose, and a scatter of its own, in the unit of the row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Law {
    /// At a purpose of 0.
    pub(crate) middle: f64,
    /// What a purpose of +1 adds.
    pub(crate) slope: f64,
    /// Standard deviation given size, chemistry and purpose.
    pub(crate) scatter: f64,
}

impl Law {
    const fn of(middle: f64, slope: f64, scatter: f64) -> Self {
        Self { middle, slope, scatter }
    }

    /// One that does not go with the purpose; its scatter is a share of its middle.
    fn sized(middle: f64, share: f64) -> Self {
        Self { middle, slope: 0.0, scatter: share * middle }
    }

    /// Taken as it stands.
    const fn exactly(middle: f64) -> Self {
        Self { middle, slope: 0.0, scatter: 0.0 }
    }
}

/// A quantity, and its law.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Row {
    /// Its path in the sheet, list indices left out.
    pub(crate) path: &'static str,
    /// Unit of the law.
    pub(crate) unit: Unit,
    law: fn(&Setting) -> Law,
    /// Where it comes from.
    pub(crate) source: &'static str,
}

impl Row {
    /// What is known of it in a setting, SI, and its coefficient of correlation with the purpose.
    pub(crate) fn uncertain(&self, setting: &Setting) -> (Uncertain, f64) {
        let (law, si) = ((self.law)(setting), self.unit.in_si());
        let with = law.slope * setting.purpose.deviation;
        let u = (with * with + law.scatter * law.scatter).sqrt();
        let value = si * (law.middle + law.slope * setting.purpose.middle);
        if u > 0.0 {
            (Uncertain { value, spread: Spread::Standard(si * u) }, with / u)
        } else {
            (Uncertain::exact(value), 0.0)
        }
    }
}

/// The row of a path, list indices left out.
pub(crate) fn row(path: &str) -> Option<&'static Row> {
    ROWS.iter().find(|row| row.path == path)
}

const MEMORY: &str = "common practice, from memory";
const WALL: &str = "0.22 to 0.28 mm at 18 mm, 0.22 to 0.34 mm at 21 mm, 0.5 to 0.6 mm at 46 mm (web reference on cell \
     hardware; case kit of a laboratory supplier): a straight line through them";
const CORE: &str =
    "2 mm at 18 mm (web reference on cell hardware); how it grows: common practice, from memory";
const ALUMINIUM: &str = "10 to 20 µm in the trade; 16 to 17.3 µm in opened cells (J. Electrochem. Soc. 167 (2020) 080534; J. Power \
     Sources 412 (2019) 204; from memory); thicker in cells for power: common practice, from memory";
const COPPER: &str = "4 to 12 µm in the trade; 11 to 12 µm in opened cells (J. Electrochem. Soc. 167 (2020) 080534; J. Power \
     Sources 412 (2019) 204; from memory); thicker in cells for power: common practice, from memory";
const COATING: &str = "66 to 94 µm in cells for energy (n = 4; 87.3 µm read in Nat. Commun. 14 (2023) 420, doi \
     10.1038/s41467-023-35933-2), 52 to 64 µm in the middle (n = 2, example files of the open parameter-exchange JSON \
     standard, 2022); less in cells for power: Batteries 5 (2019) 64, doi 10.3390/batteries5040064, how much less: common \
     practice, from memory";
const CATHODE_POROSITY: &str = "17 to 34 % in opened cells (n = 6; 22 % read in Nat. Commun. 14 (2023) 420, doi \
     10.1038/s41467-023-35933-2); more in cells for power: Batteries 5 (2019) 64, doi 10.3390/batteries5040064; olivines \
     pressed to 1.9 to 2.5 g/cm³, least in cells for power: common practice, from memory";
const ANODE_POROSITY: &str =
    "21 to 25 % in opened cells (n = 4); 22 to 32 % from half-cells and practice, from memory";
const RATIO: &str = "1.04 to 1.06 in cells for energy (Nat. Commun. 14 (2023) 420, doi 10.1038/s41467-023-35933-2, read; \
     Electrochim. Acta 471 (2023) 143341), 1.1 as a rule, 1.1 to 1.3 for power: practice, from memory";
const FILM: &str = "12 µm in opened cells for energy (n = 2, from memory), 20 µm stated for two in the middle, 16 to 26 µm with \
     coating (Polymers 15 (2023) 3690, doi 10.3390/polym15183690)";
const OVERHANG: &str = "0.5 to 1 mm (notes of a pilot line)";
const MARGIN: &str =
    "about 1 mm (notes of a pilot line); less in large-scale winding: common practice, from memory";
const EXCESS: &str = "1 g/Ah in a pouch cell (Nat. Commun. 14 (2023) 420, doi 10.1038/s41467-023-35933-2), more in a can with \
     core and header: common practice, from memory";
const BINDER: &str =
    "96 to 98 % active in cells for energy, 90 to 95 % for power: common practice, from memory";
const FOLD: &str = "a folded or flattened edge of 0.5 to 1.5 mm where the current leaves along it: common practice, from memory";
const AREAL: &str = "a pulse of seconds, half charged, at room temperature: common practice, no source";
const LIMITS: &str = "charge rule of the chemistry: common practice";

/// All laws, in the order of the sheet.
pub(crate) const ROWS: &[Row] = &[
    sized("can.wall", Unit::Millimetre, |s| Law::sized((0.25 + 0.01 * s.wider()).max(0.15), 0.11), WALL),
    sized("can.bottom", Unit::Millimetre, |s| Law::sized((0.3 + 0.01 * s.wider()).max(0.2), 0.18), MEMORY),
    sized(
        "winding.core_diameter",
        Unit::Millimetre,
        |s| Law::sized((2.4 + 0.06 * s.wider()).max(1.2), 0.2),
        CORE,
    ),
    sized("cathode.foil.thickness", Unit::Micrometre, |_| Law::of(14.8, -0.8, 2.2), ALUMINIUM),
    sized(
        "cathode.thickness",
        Unit::Micrometre,
        |s| match s.chemistry {
            Chemistry::Layered => Law::of(58.0, 23.0, 9.0),
            Chemistry::Olivine => Law::of(60.0, 20.0, 10.0),
        },
        COATING,
    ),
    sized(
        "cathode.porosity",
        Unit::Percent,
        |s| match s.chemistry {
            Chemistry::Layered => Law::of(26.0, -2.0, 5.0),
            Chemistry::Olivine => Law::of(32.0, -4.0, 6.0),
        },
        CATHODE_POROSITY,
    ),
    sized("cathode.fold_height", Unit::Millimetre, fold, FOLD),
    sized("anode.foil.thickness", Unit::Micrometre, |_| Law::of(9.3, -0.8, 1.9), COPPER),
    sized("anode.porosity", Unit::Percent, |_| Law::of(26.0, -1.5, 3.5), ANODE_POROSITY),
    sized("anode.n_to_p", Unit::One, |_| Law::of(1.085, -0.025, 0.028), RATIO),
    sized("anode.overhang", Unit::Millimetre, |_| Law::of(0.6, 0.0, 0.18), OVERHANG),
    sized("anode.fold_height", Unit::Millimetre, fold, FOLD),
    sized("separator.thickness", Unit::Micrometre, |_| Law::of(14.8, -2.2, 2.6), FILM),
    sized("separator.margin", Unit::Millimetre, |_| Law::of(0.7, 0.0, 0.2), MARGIN),
    sized("electrolyte.excess", Unit::Percent, |_| Law::of(13.0, -1.0, 5.0), EXCESS),
    sized(
        "voltage.charge_cut_off",
        Unit::Volt,
        |s| match s.chemistry {
            Chemistry::Layered => Law::exactly(4.2),
            Chemistry::Olivine => Law::exactly(3.65),
        },
        LIMITS,
    ),
    sized("current_path.areal_resistance", Unit::OhmSquareCentimetre, |_| Law::of(19.0, 6.0, 4.5), AREAL),
];

/// What a mix that names its active material alone is taken to hold besides.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Besides {
    /// "cathode" or "anode".
    pub(crate) side: &'static str,
    /// The material.
    pub(crate) material: &'static str,
    /// The law of its share.
    pub(crate) share: Row,
}

/// Binders and conductive additive.
pub(crate) const BESIDES: [Besides; 4] = [
    besides("cathode", "PVDF", |_| Law::of(2.0, -0.3, 0.5)),
    besides("cathode", "carbon black", |_| Law::of(2.0, -0.8, 0.6)),
    besides("anode", "CMC", |_| Law::of(1.3, 0.0, 0.25)),
    besides("anode", "SBR", |_| Law::of(1.7, -0.2, 0.4)),
];

const fn besides(side: &'static str, material: &'static str, law: fn(&Setting) -> Law) -> Besides {
    Besides { side, material, share: sized("mix[].share", Unit::Percent, law, BINDER) }
}

const fn sized(path: &'static str, unit: Unit, law: fn(&Setting) -> Law, source: &'static str) -> Row {
    Row { path, unit, law, source }
}

/// Height of a folded edge; none where tabs collect the current.
fn fold(s: &Setting) -> Law {
    if s.collected.edges { Law::sized((0.6 + 0.01 * s.wider()).max(0.4), 0.25) } else { Law::exactly(0.0) }
}

#[cfg(test)]
mod tests {
    use super::super::REFERENCE;
    use super::super::purpose::CLASSES;
    use super::*;
    use crate::sheet::defaults::field;

    #[test]
    fn every_row_is_of_a_quantity_without_another_default() {
        for row in ROWS {
            let field = field(row.path).expect(row.path);
            assert!(field.default.is_none(), "{} has two defaults", row.path);
            assert_eq!(field.unit.dimension(), row.unit.dimension(), "{}", row.path);
            for diameter in [10.0, 18.0, 46.0, 60.0] {
                let (uncertain, with) = row.uncertain(&Setting { diameter, ..REFERENCE });
                assert!(field.bound.holds(uncertain.value) && with.abs() <= 1.0, "{}", row.path);
                // Three standard deviations, which is as good as never, may leave what is possible.
                assert!(
                    field.bound.holds(uncertain.value - 1.8 * uncertain.u()),
                    "{} at {diameter} mm",
                    row.path
                );
            }
            assert!(!row.source.is_empty());
        }
    }

    /// Published ranges of parts and electrodes (`SOURCES` of the rows) within two standard deviations of the class.
    #[test]
    fn published_ranges_lie_within_the_laws() {
        let wall = |diameter: f64, class: &str, path: &str, chemistry: Chemistry, ends: &[f64]| {
            let purpose = CLASSES.iter().find(|(name, _)| *name == class).unwrap().1;
            let row = row(path).unwrap();
            let (uncertain, _) = row.uncertain(&Setting { diameter, chemistry, purpose, ..REFERENCE });
            for end in ends {
                let z = (end * row.unit.in_si() - uncertain.value) / uncertain.u();
                assert!(z.abs() < 2.3, "{path} {diameter} {class}: {end} at {z:.2}");
            }
        };
        wall(18.0, "energy", "can.wall", Chemistry::Layered, &[0.22, 0.275, 0.28]);
        wall(21.0, "energy", "can.wall", Chemistry::Layered, &[0.22, 0.34]);
        wall(46.0, "energy", "can.wall", Chemistry::Layered, &[0.5, 0.6]);
        wall(18.0, "energy", "winding.core_diameter", Chemistry::Layered, &[2.0]);
        wall(18.0, "energy", "cathode.thickness", Chemistry::Layered, &[66.2, 75.6, 87.3, 94.0]);
        wall(18.0, "middle", "cathode.thickness", Chemistry::Layered, &[52.3]);
        wall(18.0, "middle", "cathode.thickness", Chemistry::Olivine, &[64.3]);
        wall(18.0, "energy", "cathode.porosity", Chemistry::Layered, &[17.1, 22.0, 33.5]);
        wall(18.0, "middle", "cathode.porosity", Chemistry::Olivine, &[20.4]);
        wall(18.0, "energy", "anode.porosity", Chemistry::Layered, &[21.6, 25.0]);
        wall(18.0, "energy", "anode.n_to_p", Chemistry::Layered, &[1.04, 1.06]);
        wall(18.0, "middle", "anode.n_to_p", Chemistry::Layered, &[1.05]);
        wall(18.0, "energy", "separator.thickness", Chemistry::Layered, &[12.0]);
        wall(18.0, "middle", "separator.thickness", Chemistry::Layered, &[20.0]);
        wall(18.0, "energy", "cathode.foil.thickness", Chemistry::Layered, &[16.0, 17.3]);
        wall(18.0, "energy", "anode.foil.thickness", Chemistry::Layered, &[11.0, 12.0]);
    }
}
