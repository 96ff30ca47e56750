//! The way of the current.

use super::bound::Bound;
use super::row::{Field, PRACTICE, given, or};
use crate::quantity::units::Unit;
use Bound::{NotNegative, Part, Positive, Share};
use Unit::{
    Celsius, Kelvin, Micrometre, Millimetre, Milliohm, OhmSquareCentimetre, One, PerHour, Percent,
    WattPerSquareMetreKelvin,
};

const AIR: &str = "air: still, with radiation, about 10; moved by the fan of a climate chamber, more. Gases in free convection have 2 to \
     25 W/m²/K, and from 25 when blown (Incropera, DeWitt, Bergman, Lavine, Fundamentals of Heat and Mass Transfer, table 1.1, from \
     memory), radiation of a sleeve about 6; the ends: common practice, no source";
const CURRENT: &str = "Current path";

/// In the order they are shown.
pub(super) const CURRENT_PATH: &[Field] = &[
    or(
        given("current_path.c_rate", CURRENT, "discharge rate (C-rate)", PerHour, Positive),
        "1 C",
        "the rate meant where none is named",
    ),
    or(
        given("current_path.temperature", CURRENT, "ambient temperature", Celsius, Bound::Temperature),
        "20 .. 30 °C",
        "room temperature",
    ),
    or(
        given(
            "current_path.heat_transfer",
            CURRENT,
            "heat transfer coefficient at the cell's surface",
            WattPerSquareMetreKelvin,
            NotNegative,
        ),
        "8 .. 30 W/m²/K",
        AIR,
    ),
    or(
        given(
            "current_path.allowed_rise",
            CURRENT,
            "temperature rise that a continuous discharge is allowed",
            Kelvin,
            Positive,
        ),
        "20 .. 50 K",
        "from room temperature to where discharges are ended, 45 to 75 °C at the surface: common practice, no source",
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
];
