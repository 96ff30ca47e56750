//! Materials of the sheet's own.

use super::bound::Bound;
use super::row::{Field, given, or};
use crate::quantity::units::Unit;
use Bound::{NotNegative, Part, Positive};
use Unit::{GramPerCubicCentimetre, MilliampereHourPerGram, NanoohmMetre, One, Percent};

/// Composition of a layered oxide.
pub(super) const METALS: &[Field] = &[
    given("materials[].metals.nickel", "Materials", "nickel, mole fraction of the metals", One, Part),
    given("materials[].metals.cobalt", "Materials", "cobalt, mole fraction of the metals", One, Part),
    given("materials[].metals.manganese", "Materials", "manganese, mole fraction of the metals", One, Part),
    given("materials[].metals.aluminium", "Materials", "aluminium, mole fraction of the metals", One, Part),
    or(
        given("materials[].metals.lithium", "Materials", "lithium per formula unit", One, Positive),
        "1",
        "as a stoichiometric layered oxide",
    ),
];

/// Figures of a material.
pub(super) const FIGURES: &[Field] = &[
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
