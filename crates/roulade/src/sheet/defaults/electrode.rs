//! Cathode and anode, and lithium put in beforehand.

use super::bound::Bound;
use super::row::{Field, given, or};
use crate::quantity::units::Unit;
use Bound::{NotNegative, Porosity, Positive, Share};
use Unit::{Micrometre, MilligramPerSquareCentimetre, Millimetre, One, Percent};

/// In the order they are shown.
pub(super) const ELECTRODES: &[Field] = &[
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
    given("cathode.mix[].share", "Cathode", "mass fraction of the dry coating", Percent, Share),
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
    given("anode.mix[].share", "Anode", "mass fraction of the dry coating", Percent, Share),
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
];
