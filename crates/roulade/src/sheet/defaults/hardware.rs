//! The cell as a whole, its can, its parts and its winding.

use super::bound::Bound;
use super::row::{Field, PRACTICE, given, or};
use crate::quantity::units::Unit;
use Bound::{NotNegative, Positive, Share};
use Unit::{CubicCentimetre, Gram, Micrometre, Millimetre, One, Percent, Turn};

const DISCREPANCY: &str = "what the model leaves between a cell whose layers are known and its capacity: estimated after Paule \
     and Mandel (J. Res. Natl. Bur. Stand. 87 (1982) 377) from three published cells, 5.5 %; 4 to 7 % with one of them left out";

/// In the order they are shown.
pub(super) const HARDWARE: &[Field] = &[
    given("purpose", "Cell", "purpose: power −1, middle 0, energy +1", One, Bound::Any),
    or(
        given("model.capacity", "Cell", "model error of the capacity", Percent, Bound::Deviation),
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
];
