//! Every quantity of the design sheet: its label, its unit, what it may be, and what stands in for it when it is
//! left out. To add a quantity, add a row here, its key in [`crate::sheet`], and its use in the module `draft` beside it.

use crate::quantity::notation;
use crate::quantity::units::Unit;

/// What a number may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// Greater than zero.
    Positive,
    /// Zero or more.
    NotNegative,
    /// Greater than zero and at most one.
    Share,
    /// Zero or more and less than one.
    Porosity,
    /// From zero to one, both ends included.
    Part,
    /// Above absolute zero, in degrees Celsius.
    Temperature,
    /// Greater than zero and at most two: above one something else gave.
    Efficiency,
    /// Any number.
    Any,
}

impl Bound {
    /// Whether a value lies within.
    pub fn holds(self, value: f64) -> bool {
        match self {
            Bound::Positive => value > 0.0,
            Bound::NotNegative => value >= 0.0,
            Bound::Share => value > 0.0 && value <= 1.0,
            Bound::Porosity => (0.0..1.0).contains(&value),
            Bound::Part => (0.0..=1.0).contains(&value),
            Bound::Temperature => value > -273.15,
            Bound::Efficiency => value > 0.0 && value <= 2.0,
            Bound::Any => value.is_finite(),
        }
    }

    /// Lower and upper end of what a value may be.
    pub fn ends(self) -> (f64, f64) {
        match self {
            Bound::Positive | Bound::NotNegative => (0.0, f64::INFINITY),
            Bound::Share | Bound::Porosity | Bound::Part => (0.0, 1.0),
            Bound::Temperature => (-273.15, f64::INFINITY),
            Bound::Efficiency => (0.0, 2.0),
            Bound::Any => (f64::NEG_INFINITY, f64::INFINITY),
        }
    }

    /// What is right, in words that follow "is".
    pub fn words(self) -> &'static str {
        match self {
            Bound::Positive => "greater than zero",
            Bound::NotNegative => "zero or more",
            Bound::Share => "greater than zero and at most 1 (100 %)",
            Bound::Porosity => "zero or more and less than 1 (100 %)",
            Bound::Part => "from zero to 1 (100 %)",
            Bound::Temperature => "above absolute zero",
            Bound::Efficiency => "greater than zero and at most 2 (200 %)",
            Bound::Any => "a finite number",
        }
    }
}

/// One quantity of the sheet.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// Its path, list indices left out: `parts[].height`.
    pub path: &'static str,
    /// Heading it stands under.
    pub section: &'static str,
    /// What it is called.
    pub label: &'static str,
    /// Unit of the trade; decides the dimension.
    pub unit: Unit,
    /// What it may be.
    pub bound: Bound,
    /// What stands in for it, and why that.
    pub default: Option<Default>,
}

impl Field {
    /// A quantity of its dimension, as it may be written.
    pub fn example(&self) -> &'static str {
        notation::dimension_words(self.unit.dimension()).1
    }
}

/// What stands in for a quantity that was left out.
#[derive(Clone, Copy, Debug)]
pub struct Default {
    /// As a user would write it.
    pub text: &'static str,
    /// Why that.
    pub source: &'static str,
}

const PRACTICE: &str = "common practice, no source";
const DISCREPANCY: &str = "what the model leaves between a cell whose layers are known and its capacity: estimated after Paule \
     and Mandel (J. Res. Natl. Bur. Stand. 87 (1982) 377) from three published cells, 5.5 %; 4 to 7 % with one of them left out";
const CURRENT: &str = "Current path";
const MEMORY: &str = "common practice, from memory";

const fn given(
    path: &'static str,
    section: &'static str,
    label: &'static str,
    unit: Unit,
    bound: Bound,
) -> Field {
    Field { path, section, label, unit, bound, default: None }
}

const fn or(field: Field, text: &'static str, source: &'static str) -> Field {
    Field { default: Some(Default { text, source }), ..field }
}

use Bound::{NotNegative, Part, Porosity, Positive, Share};
use Unit::{
    Celsius, CubicCentimetre, Gram, GramPerAmpereHour, GramPerCubicCentimetre, Micrometre,
    MilliampereHourPerGram, MilligramPerSquareCentimetre, Millimetre, Milliohm, MillisiemensPerCentimetre,
    NanoohmMetre, OhmSquareCentimetre, One, PerHour, Percent, Turn, Volt,
};

/// All quantities, in the order they are shown.
pub const FIELDS: &[Field] = &[
    given("purpose", "Cell", "purpose: power −1, middle 0, energy +1", One, Bound::Any),
    or(
        given("model.capacity", "Cell", "what the model's capacity may be off by", Percent, Bound::Any),
        "0 ± 5.5 %",
        DISCREPANCY,
    ),
    given("can.diameter", "Can", "outer diameter", Millimetre, Positive),
    given("can.height", "Can", "outer height", Millimetre, Positive),
    given("can.wall", "Can", "wall thickness", Millimetre, Positive),
    given("can.bottom", "Can", "bottom thickness", Millimetre, Positive),
    given("can.mass", "Can", "mass of the empty can", Gram, Positive),
    or(given("sleeve.thickness", "Can", "sleeve thickness", Micrometre, Positive), "50 .. 100 µm", PRACTICE),
    given("cell_mass", "Can", "mass of the whole cell", Gram, Positive),
    or(
        given("parts[].height", "Parts", "height", Millimetre, NotNegative),
        "0 mm",
        "as a part that takes no height",
    ),
    or(
        given("parts[].axial_clearance", "Parts", "axial clearance", Millimetre, NotNegative),
        "0 mm",
        "as a part that lies flush",
    ),
    given("parts[].mass", "Parts", "mass", Gram, NotNegative),
    given("parts[].volume", "Parts", "solid volume", CubicCentimetre, NotNegative),
    given("parts[].solid_fraction", "Parts", "solid fraction of its height", Percent, Share),
    or(
        given("void_height", "Parts", "void height (headspace)", Millimetre, NotNegative),
        "0 .. 0.8 mm",
        PRACTICE,
    ),
    given("winding.core_diameter", "Winding", "core diameter", Millimetre, Positive),
    given("winding.radial_clearance", "Winding", "radial clearance", Millimetre, NotNegative),
    or(given("winding.slack", "Winding", "slack per turn", Micrometre, NotNegative), "0 µm", "a tight roll"),
    or(
        given("winding.core_turns", "Winding", "separator turns at the core", Turn, NotNegative),
        "1 .. 2",
        PRACTICE,
    ),
    or(
        given(
            "winding.anode_overhang_start",
            "Winding",
            "anode overhang at the start of winding",
            Turn,
            NotNegative,
        ),
        "0.1 .. 0.5",
        PRACTICE,
    ),
    or(
        given(
            "winding.anode_overhang_end",
            "Winding",
            "anode overhang at the end of winding",
            Turn,
            NotNegative,
        ),
        "1 .. 1.3",
        PRACTICE,
    ),
    or(
        given("winding.outer_turns", "Winding", "separator turns outside", Turn, NotNegative),
        "1 .. 2",
        PRACTICE,
    ),
    or(
        given("winding.tape_thickness", "Winding", "tape thickness", Micrometre, NotNegative),
        "30 µm",
        PRACTICE,
    ),
    or(given("winding.tape_turns", "Winding", "turns of tape", Turn, NotNegative), "1 .. 1.5", PRACTICE),
    given("winding.cathode_length", "Winding", "electrode length, cathode", Millimetre, Positive),
    given("winding.anode_length", "Winding", "electrode length, anode", Millimetre, Positive),
    given("cathode.foil.thickness", "Cathode", "current collector foil", Micrometre, Positive),
    given(
        "cathode.loading",
        "Cathode",
        "areal mass loading, per side",
        MilligramPerSquareCentimetre,
        Positive,
    ),
    given("cathode.thickness", "Cathode", "coating thickness, per side", Micrometre, Positive),
    given("cathode.porosity", "Cathode", "porosity", Percent, Porosity),
    given("cathode.mix[].share", "Cathode", "mass fraction in the dry coating", Percent, Share),
    given(
        "cathode.initial_coulombic_efficiency",
        "Cathode",
        "initial coulombic efficiency",
        Percent,
        Bound::Efficiency,
    ),
    given("cathode.width", "Cathode", "coated width", Millimetre, Positive),
    given("cathode.uncoated_margin", "Cathode", "uncoated foil margin, as cut", Millimetre, NotNegative),
    given("cathode.fold_height", "Cathode", "folded foil edge, height", Millimetre, NotNegative),
    or(
        given("cathode.uncoated_start", "Cathode", "uncoated at the start", Millimetre, NotNegative),
        "0 mm",
        "as an electrode that is coated from end to end on both sides",
    ),
    or(
        given("cathode.uncoated_end", "Cathode", "uncoated at the end", Millimetre, NotNegative),
        "0 mm",
        "as an electrode that is coated from end to end on both sides",
    ),
    or(
        given(
            "cathode.one_sided_start",
            "Cathode",
            "coated on one side, at the start",
            Millimetre,
            NotNegative,
        ),
        "0 mm",
        "as an electrode that is coated from end to end on both sides",
    ),
    or(
        given("cathode.one_sided_end", "Cathode", "coated on one side, at the end", Millimetre, NotNegative),
        "0 mm",
        "as an electrode that is coated from end to end on both sides",
    ),
    given("cathode.tortuosity", "Cathode", "tortuosity of the pores", One, Positive),
    given("anode.foil.thickness", "Anode", "current collector foil", Micrometre, Positive),
    given("anode.loading", "Anode", "areal mass loading, per side", MilligramPerSquareCentimetre, Positive),
    given("anode.thickness", "Anode", "coating thickness, per side", Micrometre, NotNegative),
    given("anode.porosity", "Anode", "porosity", Percent, Porosity),
    given("anode.n_to_p", "Anode", "N/P ratio, reversible areal capacities", One, Positive),
    given("anode.mix[].share", "Anode", "mass fraction in the dry coating", Percent, Share),
    given("anode.silicon", "Anode", "silicon, mass fraction of the active material", Percent, Porosity),
    given(
        "anode.silicon_oxide",
        "Anode",
        "silicon oxide, mass fraction of the active material",
        Percent,
        Porosity,
    ),
    given(
        "anode.initial_coulombic_efficiency",
        "Anode",
        "initial coulombic efficiency",
        Percent,
        Bound::Efficiency,
    ),
    given("anode.overhang", "Anode", "anode overhang at each edge", Millimetre, NotNegative),
    given("anode.uncoated_margin", "Anode", "uncoated foil margin, as cut", Millimetre, NotNegative),
    given("anode.fold_height", "Anode", "folded foil edge, height", Millimetre, NotNegative),
    given(
        "prelithiation.areal_capacity",
        "Prelithiation",
        "capacity put in beforehand, per side",
        Unit::MilliampereHourPerSquareCentimetre,
        NotNegative,
    ),
    or(
        given("prelithiation.utilisation", "Prelithiation", "utilisation of the source", Percent, Share),
        "80 .. 100 %",
        "common practice, no source",
    ),
    or(
        given("anode.uncoated_start", "Anode", "uncoated at the start", Millimetre, NotNegative),
        "0 mm",
        "as an electrode that is coated from end to end on both sides",
    ),
    or(
        given("anode.uncoated_end", "Anode", "uncoated at the end", Millimetre, NotNegative),
        "0 mm",
        "as an electrode that is coated from end to end on both sides",
    ),
    or(
        given("anode.one_sided_start", "Anode", "coated on one side, at the start", Millimetre, NotNegative),
        "0 mm",
        "as an electrode that is coated from end to end on both sides",
    ),
    or(
        given("anode.one_sided_end", "Anode", "coated on one side, at the end", Millimetre, NotNegative),
        "0 mm",
        "as an electrode that is coated from end to end on both sides",
    ),
    given("anode.tortuosity", "Anode", "tortuosity of the pores", One, Positive),
    given("anode.swelling", "Anode", "thickness increase at full lithiation", Percent, NotNegative),
    or(
        given(
            "anode.expansion_into_pores",
            "Anode",
            "share of the expansion into the pores",
            Percent,
            Porosity,
        ),
        "0 .. 60 %",
        "next to none where a free graphite electrode gains 9 %: Michael et al., J. Electrochem. Soc. 168 (2021) 010507, \
         abstract read, place from memory; more in a tight roll: common practice, no source",
    ),
    given("separator.thickness", "Separator", "film thickness", Micrometre, Positive),
    or(
        given("separator.porosity", "Separator", "porosity", Percent, Porosity),
        "36 .. 48 %",
        "40 % in a web review, read; the range from memory",
    ),
    given("separator.margin", "Separator", "separator overhang at each edge", Millimetre, NotNegative),
    or(
        given(
            "separator.ceramic_thickness",
            "Separator",
            "ceramic layer thickness, both sides together",
            Micrometre,
            NotNegative,
        ),
        "0 µm",
        "as a separator without one",
    ),
    or(
        given("separator.ceramic_porosity", "Separator", "porosity of the ceramic layer", Percent, Porosity),
        "40 .. 60 %",
        MEMORY,
    ),
    given("electrolyte.density", "Electrolyte", "density", GramPerCubicCentimetre, Positive),
    given(
        "electrolyte.excess",
        "Electrolyte",
        "free electrolyte over that in the pores",
        Percent,
        NotNegative,
    ),
    or(
        given(
            "electrolyte.conductivity",
            "Electrolyte",
            "ionic conductivity at 25 °C",
            MillisiemensPerCentimetre,
            Positive,
        ),
        "8 .. 11 mS/cm",
        "LiPF6, 1 mol/L in carbonates: Nyman, Behm, Lindbergh, Electrochim. Acta 53 (2008) 6356, doi \
         10.1016/j.electacta.2008.04.023, from memory",
    ),
    given("electrolyte.per_capacity", "Electrolyte", "electrolyte per capacity", GramPerAmpereHour, Positive),
    given("electrolyte.mass", "Electrolyte", "total mass", Gram, Positive),
    or(
        given("electrolyte.salt", "Electrolyte", "LiPF6 mass fraction", Percent, Porosity),
        "12.5 .. 15.2 %",
        "1.0 to 1.2 mol/L at 1.2 g/cm³: common practice, no source",
    ),
    given("voltage.charge_cut_off", "Voltage", "charge cut-off voltage", Volt, Positive),
    or(
        given("voltage.discharge_cut_off", "Voltage", "discharge cut-off voltage", Volt, Positive),
        "2.5 V",
        PRACTICE,
    ),
    given("voltage.nominal", "Voltage", "nominal voltage, in place of curves", Volt, Positive),
    given("materials[].metals.nickel", "Materials", "nickel, mole fraction of the metals", One, Part),
    given("materials[].metals.cobalt", "Materials", "cobalt, mole fraction of the metals", One, Part),
    given("materials[].metals.manganese", "Materials", "manganese, mole fraction of the metals", One, Part),
    given("materials[].metals.aluminium", "Materials", "aluminium, mole fraction of the metals", One, Part),
    or(
        given("materials[].metals.lithium", "Materials", "lithium per formula unit", One, Positive),
        "1",
        "as a stoichiometric layered oxide",
    ),
    or(
        given("current_path.c_rate", CURRENT, "discharge rate (C-rate)", PerHour, Positive),
        "1 C",
        "the rate meant where none is named",
    ),
    or(
        given("current_path.temperature", CURRENT, "temperature of the metals", Celsius, Bound::Temperature),
        "20 .. 30 °C",
        "room temperature",
    ),
    given(
        "current_path.areal_resistance",
        CURRENT,
        "area-specific resistance of coatings and electrolyte",
        OhmSquareCentimetre,
        NotNegative,
    ),
    or(
        given(
            "current_path.charge_transfer",
            CURRENT,
            "charge-transfer resistance of the particles' surface",
            OhmSquareCentimetre,
            NotNegative,
        ),
        "60 .. 350 Ω·cm²",
        "a pulse of seconds, half charged, at 25 °C, particles of 5 µm: 4 to 20 Ω·cm² of an ordinary electrode pair; common \
         practice, no source",
    ),
    given(
        "current_path.electrochemical",
        CURRENT,
        "resistance of coatings and electrolyte, whole cell",
        Milliohm,
        NotNegative,
    ),
    or(
        given(
            "current_path.cap_assembly",
            CURRENT,
            "cap assembly, from plate to terminal",
            Milliohm,
            NotNegative,
        ),
        "0.05 .. 0.3 mΩ",
        PRACTICE,
    ),
    or(
        given("current_path.cathode.tabs[].at", CURRENT, "tab position along the foil", Percent, Part),
        "50 %",
        "one tab in the middle: common practice, no source",
    ),
    or(
        given("current_path.cathode.tabs[].width", CURRENT, "width", Millimetre, Positive),
        "3 .. 5 mm",
        PRACTICE,
    ),
    or(
        given("current_path.cathode.tabs[].thickness", CURRENT, "thickness", Millimetre, Positive),
        "0.08 .. 0.12 mm",
        PRACTICE,
    ),
    or(
        given("current_path.cathode.tabs[].length", CURRENT, "length past the foil", Millimetre, NotNegative),
        "5 .. 15 mm",
        PRACTICE,
    ),
    or(
        given("current_path.cathode.tabs[].uncoated", CURRENT, "uncoated stretch", Millimetre, NotNegative),
        "6 .. 12 mm",
        "the tab and a few millimetres beside it: common practice, no source",
    ),
    or(
        given(
            "current_path.cathode.tabs[].tape",
            CURRENT,
            "insulating tape, per side",
            Micrometre,
            NotNegative,
        ),
        "25 .. 60 µm",
        PRACTICE,
    ),
    or(
        given("current_path.cathode.joint", CURRENT, "joint resistance, edge or tabs", Milliohm, NotNegative),
        "0 .. 0.1 mΩ",
        "supposed, no source: a few hundredths of a milliohm at most for a welded edge",
    ),
    or(given("current_path.cathode.spots", CURRENT, "weld spots", One, Positive), "6 .. 12", PRACTICE),
    or(
        given("current_path.cathode.spot_radius", CURRENT, "radius of a spot", Millimetre, Positive),
        "0.3 .. 0.6 mm",
        PRACTICE,
    ),
    given("current_path.cathode.ring_radius", CURRENT, "radius of the ring of spots", Millimetre, Positive),
    or(
        given(
            "current_path.cathode.ring",
            CURRENT,
            "radius of the ring of spots over that of the can's inside",
            Percent,
            Share,
        ),
        "40 .. 70 %",
        PRACTICE,
    ),
    or(
        given(
            "current_path.cathode.centre_weld_radius",
            CURRENT,
            "radius of the central weld",
            Millimetre,
            Positive,
        ),
        "1 .. 3 mm",
        PRACTICE,
    ),
    or(
        given("current_path.anode.tabs[].at", CURRENT, "tab position along the foil", Percent, Part),
        "100 %",
        "one tab at the outer end: common practice, no source",
    ),
    or(
        given("current_path.anode.tabs[].width", CURRENT, "width", Millimetre, Positive),
        "3 .. 5 mm",
        PRACTICE,
    ),
    or(
        given("current_path.anode.tabs[].thickness", CURRENT, "thickness", Millimetre, Positive),
        "0.08 .. 0.12 mm",
        PRACTICE,
    ),
    or(
        given("current_path.anode.tabs[].length", CURRENT, "length past the foil", Millimetre, NotNegative),
        "5 .. 15 mm",
        PRACTICE,
    ),
    or(
        given("current_path.anode.tabs[].uncoated", CURRENT, "uncoated stretch", Millimetre, NotNegative),
        "6 .. 12 mm",
        "the tab and a few millimetres beside it: common practice, no source",
    ),
    or(
        given(
            "current_path.anode.tabs[].tape",
            CURRENT,
            "insulating tape, per side",
            Micrometre,
            NotNegative,
        ),
        "25 .. 60 µm",
        PRACTICE,
    ),
    or(
        given("current_path.anode.joint", CURRENT, "joint resistance, edge or tabs", Milliohm, NotNegative),
        "0 .. 0.1 mΩ",
        "supposed, no source: a few hundredths of a milliohm at most for a welded edge",
    ),
    or(given("current_path.anode.spots", CURRENT, "weld spots", One, Positive), "6 .. 12", PRACTICE),
    or(
        given("current_path.anode.spot_radius", CURRENT, "radius of a spot", Millimetre, Positive),
        "0.3 .. 0.6 mm",
        PRACTICE,
    ),
    given("current_path.anode.ring_radius", CURRENT, "radius of the ring of spots", Millimetre, Positive),
    or(
        given(
            "current_path.anode.ring",
            CURRENT,
            "radius of the ring of spots over that of the can's inside",
            Percent,
            Share,
        ),
        "40 .. 70 %",
        PRACTICE,
    ),
    or(
        given(
            "current_path.anode.centre_weld_radius",
            CURRENT,
            "radius of the central weld",
            Millimetre,
            Positive,
        ),
        "1 .. 3 mm",
        PRACTICE,
    ),
    given("materials[].resistivity", "Materials", "resistivity at 20 °C", NanoohmMetre, Positive),
    given("materials[].expansion", "Materials", "volume expansion at full lithiation", Percent, NotNegative),
    given("materials[].density", "Materials", "true density", GramPerCubicCentimetre, Positive),
    given("materials[].capacity", "Materials", "practical capacity", MilliampereHourPerGram, Positive),
    given(
        "materials[].initial_coulombic_efficiency",
        "Materials",
        "initial coulombic efficiency",
        Percent,
        Bound::Efficiency,
    ),
    given("materials[].potential", "Materials", "potential, error of its curve", Unit::Millivolt, Bound::Any),
    given("materials[].extension", "Materials", "continuation of its curve past the window", One, Positive),
];

/// The row of a path, whatever its list indices and names.
pub fn field(path: &str) -> Option<&'static Field> {
    let mut at = hash(path.as_bytes());
    loop {
        let field = FIELDS.get(usize::from(*ROWS.get(at % ROWS.len())?))?;
        if field.path == path || bare(field.path).eq(bare(path)) {
            return Some(field);
        }
        at += 1;
    }
}

/// A path with its list indices left out: `parts[2].mass` → `parts[].mass`.
fn bare(path: &str) -> impl Iterator<Item = u8> {
    let mut inside = false;
    path.bytes().filter(move |byte| {
        inside = *byte != b']' && (inside || *byte == b'[');
        !inside || *byte == b'['
    })
}

/// Numbers of rows, each where the hash of its path says or at the next free place; `u8::MAX` where none is.
static ROWS: [u8; 512] = rows();

#[allow(clippy::indexing_slicing, clippy::cast_possible_truncation, reason = "evaluated by the compiler")]
const fn rows() -> [u8; 512] {
    assert!(FIELDS.len() < u8::MAX as usize);
    let mut rows = [u8::MAX; 512];
    let mut row = 0;
    while row < FIELDS.len() {
        let mut at = hash(FIELDS[row].path.as_bytes()) % rows.len();
        while rows[at] != u8::MAX {
            at = (at + 1) % rows.len();
        }
        rows[at] = row as u8;
        row += 1;
    }
    rows
}

/// Of a path without its list indices (Fowler, Noll and Vo's hash 1a, from memory; any that spreads would do).
const fn hash(path: &[u8]) -> usize {
    let (mut rest, mut inside, mut hash) = (path, false, 0x811c_9dc5_u32);
    while let [byte, after @ ..] = rest {
        inside = *byte != b']' && (inside || *byte == b'[');
        if !inside {
            hash = (hash ^ *byte as u32).wrapping_mul(0x0100_0193);
        }
        rest = after;
    }
    (hash ^ (hash >> 15)) as usize
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::notation;
    use roulade_stats::uncertain::Spread;

    #[test]
    fn every_path_is_unique_and_found() {
        for (i, row) in FIELDS.iter().enumerate() {
            assert!(FIELDS.iter().skip(i + 1).all(|other| other.path != row.path), "{}", row.path);
            let written = row.path.replace("[]", "[12]");
            assert_eq!(field(&written).map(|found| found.path), Some(row.path));
            assert_eq!(field(&row.path.replace("[]", "[by name]")).map(|found| found.path), Some(row.path));
            assert!(!row.label.is_empty() && !row.section.is_empty(), "{}", row.path);
        }
        assert!(field("can").is_none() && field("parts[0]").is_none());
        assert_eq!(bare("parts[2].mass").collect::<Vec<_>>(), b"parts[].mass");
    }

    #[test]
    fn every_default_reads_and_is_what_it_may_be() {
        let mut defaults = 0;
        for row in FIELDS {
            let Some(default) = row.default else { continue };
            defaults += 1;
            let known = notation::read(default.text, row.unit.dimension()).expect(row.path);
            let ends = match known.spread {
                Spread::Range { low, high } => [low, high],
                _ => [known.value; 2],
            };
            assert!(ends.into_iter().all(|end| row.bound.holds(end)), "{}: {}", row.path, default.text);
            assert!(!default.source.is_empty(), "{}", row.path);
        }
        assert!(defaults > 25, "{defaults}");
    }

    #[test]
    fn bounds_at_their_ends() {
        let holds = |bound: Bound| [-0.1, 0.0, 0.1, 1.0, 1.1].map(|value| bound.holds(value));
        assert_eq!(holds(Positive), [false, false, true, true, true]);
        assert_eq!(holds(NotNegative), [false, true, true, true, true]);
        assert_eq!(holds(Share), [false, false, true, true, false]);
        assert_eq!(holds(Porosity), [false, true, true, false, false]);
        assert_eq!(holds(Part), [false, true, true, true, false]);
        assert!(Bound::Temperature.holds(-0.1) && !Bound::Temperature.holds(-273.15));
    }
}
