//! The separator, the electrolyte, and the voltages between which both electrodes work.

use super::bound::Bound;
use super::row::{Field, MEMORY, PRACTICE, given, or};
use crate::quantity::units::Unit;
use Bound::{Exponent, NotNegative, Porosity, Positive};
use Unit::{
    Gram, GramPerAmpereHour, GramPerCubicCentimetre, Micrometre, Millimetre, MillisiemensPerCentimetre, One,
    Percent, SquareMicrometrePerSecond, Volt,
};

const BOTH_ENDS: &str = "LiPF6, 1.1 mol/L in carbonates: 157 µm²/s and 0.26, Nyman, Behm, Lindbergh, Electrochim. Acta 53 (2008) \
     6356, doi 10.1016/j.electacta.2008.04.023, its formula read in an example file of the open exchange standard; 310 µm²/s and \
     0.38, Valøen, Reimers, J. Electrochem. Soc. 152 (2005) A882, doi 10.1149/1.1872737, from memory; 0.31 to 0.35, Krachkovskiy et \
     al., J. Electrochem. Soc. 164 (2017) A912, doi 10.1149/2.1531704jes, abstract read";

/// In the order they are shown.
pub(super) const SEPARATOR: &[Field] = &[
    given("separator.thickness", "Separator", "film thickness", Micrometre, Positive),
    or(
        given("separator.porosity", "Separator", "porosity", Percent, Porosity),
        "36 .. 48 %",
        "40 % in a web review, read; the range from memory",
    ),
    or(
        given(
            "separator.tortuosity_exponent",
            "Separator",
            "exponent of tortuosity over porosity",
            One,
            Exponent,
        ),
        "0.8 .. 1.4",
        "MacMullin numbers of polyolefin films, 4.5 to 8 at 36 to 48 %: Landesfeind et al., J. Electrochem. Soc. 163 (2016) \
         A1373, doi 10.1149/2.1141607jes, from memory; 4 to 20 in an instrument's application note of 2023, read",
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
        "LiPF6, 1 mol/L in carbonates, 9.5 mS/cm: Nyman, Behm, Lindbergh, Electrochim. Acta 53 (2008) 6356, doi \
         10.1016/j.electacta.2008.04.023, its formula read in an example file of the open exchange standard",
    ),
    or(
        given(
            "electrolyte.salt_diffusion",
            "Electrolyte",
            "diffusion coefficient of the salt at 25 °C",
            SquareMicrometrePerSecond,
            Positive,
        ),
        "160 .. 320 µm²/s",
        BOTH_ENDS,
    ),
    or(
        given(
            "electrolyte.transference_number",
            "Electrolyte",
            "transference number of the cation",
            One,
            Porosity,
        ),
        "0.26 .. 0.38",
        BOTH_ENDS,
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
];
