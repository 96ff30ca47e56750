//! Cathode and anode, and lithium put in beforehand.

use super::bound::Bound;
use super::row::{Field, given, or};
use crate::quantity::units::Unit;
use Bound::{Exponent, NotNegative, Porosity, Positive, Share};
use Unit::{Micrometre, MilligramPerSquareCentimetre, Millimetre, One, Percent, SquareMicrometrePerSecond};

const PORES: &str = "Bruggeman's 0.5 for round particles (Ann. Phys. 416 (1935) 636, doi 10.1002/andp.19354160705), which sets of \
     parameters of whole cells carry too (Chen et al., J. Electrochem. Soc. 167 (2020) 080534, doi 10.1149/1945-7111/ab9050, from \
     memory). Calendered coatings that were measured alone have more: 0.75 to 1 for cathodes (Usseglio-Viretta et al., J. \
     Electrochem. Soc. 165 (2018) A3403, doi 10.1149/2.0731814jes, abstract read), up to 1.5 for flakes that lie flat \
     (Landesfeind et al., J. Electrochem. Soc. 163 (2016) A1373, doi 10.1149/2.1141607jes, from memory). A guess; the \
     uncertainty is how far those measured lie from it: 0.25 to 0.5 for cathodes, up to 1, two of its standard deviations, for \
     anodes. With 0.9 and 1.1 default energy cells kept at 25 °C give 75 % at 1C and 22 % at 2C, as the same cells \
     stepped in slices do within 5 %; cells give most of it at 1C (common practice, no source)";
const IN_CATHODES: &str = "NMC111, 4.6 µm and 0.032 µm²/s, in an opened cell: example file of the open exchange standard, read; \
     NMC811, 5.2 µm and 0.004 µm²/s: Chen et al., J. Electrochem. Soc. 167 (2020) 080534, doi 10.1149/1945-7111/ab9050, from \
     memory; published values range over four orders of magnitude (Kang, Chueh, J. Electrochem. Soc. 168 (2021) 120504, abstract \
     read), so the two are taken for one standard deviation about their mean; fine LiFePO4, 0.5 µm and 7e-5 µm²/s, takes three times as long";
const IN_ANODES: &str = "graphite in opened cells: 4.1 µm and 0.027 µm²/s, 4.8 µm and 0.0096 µm²/s, example files of the open \
     exchange standard, read; 5.9 µm and 0.033 µm²/s: Chen et al., J. Electrochem. Soc. 167 (2020) 080534, doi \
     10.1149/1945-7111/ab9050, from memory";

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
    or(
        given(
            "cathode.tortuosity_exponent",
            "Cathode",
            "exponent of tortuosity over porosity",
            One,
            Exponent,
        ),
        "0.5 ± 0.35",
        PORES,
    ),
    or(
        given("cathode.particle_radius", "Cathode", "radius of an active particle", Micrometre, Positive),
        "3 .. 6 µm",
        "layered oxides: common practice, no source",
    ),
    or(
        given(
            "cathode.solid_diffusion",
            "Cathode",
            "diffusion coefficient in the particles at 25 °C",
            SquareMicrometrePerSecond,
            Positive,
        ),
        "0.018 ± 0.014 µm²/s",
        IN_CATHODES,
    ),
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
    or(
        given("anode.tortuosity_exponent", "Anode", "exponent of tortuosity over porosity", One, Exponent),
        "0.5 ± 0.5",
        PORES,
    ),
    or(
        given("anode.particle_radius", "Anode", "radius of an active particle", Micrometre, Positive),
        "4.1 .. 5.9 µm",
        IN_ANODES,
    ),
    or(
        given(
            "anode.solid_diffusion",
            "Anode",
            "diffusion coefficient in the particles at 25 °C",
            SquareMicrometrePerSecond,
            Positive,
        ),
        "0.0096 .. 0.033 µm²/s",
        IN_ANODES,
    ),
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
