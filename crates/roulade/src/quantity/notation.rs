//! Quantities as people write them: `68 ± 1 µm`, `60 .. 75 µm`, `4 %`.
//!
//! [`read`] is the one parser of a typed quantity, [`print()`] the one place where a result is rounded, and
//! [`print_uncertain`] writes a [`Uncertain`](roulade_stats::uncertain::Uncertain) so that [`read`] gives it back.

mod complaint;
mod print;
mod read;
mod scan;
mod spelling;

pub use complaint::Complaint;
pub(crate) use print::print_digits;
pub use print::{digits, print, print_brief, print_signed, print_uncertain, rounded};
pub use read::read;

use crate::quantity::units::Dimension;

/// The unit a text stands for, in any of its spellings: `Wh/L`, `Wh l⁻¹`, `%`.
pub fn unit(text: &str) -> Option<crate::quantity::units::Unit> {
    spelling::find(text)
}

/// The name of a dimension in words, and an entry that would do for it.
pub fn dimension_words(dimension: Dimension) -> (&'static str, &'static str) {
    match dimension {
        Dimension::Length => ("length", "68 ± 1 µm"),
        Dimension::Area => ("area", "1250 ± 5 cm²"),
        Dimension::Volume => ("volume", "5.1 ± 0.1 cm³"),
        Dimension::Mass => ("mass", "70.0 ± 0.1 g"),
        Dimension::Density => ("density", "4.75 g/cm³"),
        Dimension::Loading => ("loading", "22.4 mg/cm²"),
        Dimension::SpecificCapacity => ("specific capacity", "200 ± 2 mAh/g"),
        Dimension::ArealCapacity => ("areal capacity", "4.5 mAh/cm²"),
        Dimension::Charge => ("charge", "5.0 ± 0.1 Ah"),
        Dimension::Voltage => ("voltage", "3.65 V"),
        Dimension::Energy => ("energy", "18.1 Wh"),
        Dimension::EnergyDensity => ("energy density", "700 ± 5 Wh/L"),
        Dimension::SpecificEnergy => ("specific energy", "260 Wh/kg"),
        Dimension::Resistance => ("resistance", "12 ± 1 mΩ"),
        Dimension::MolarMass => ("molar mass", "97.28 g/mol"),
        Dimension::MassPerEnergy => ("mass per energy", "620 ± 10 g/kWh"),
        Dimension::MassPerCharge => ("mass per charge", "1.5 ± 0.1 g/Ah"),
        Dimension::Conductivity => ("conductivity", "9.5 ± 0.5 mS/cm"),
        Dimension::Diffusivity => ("diffusion coefficient", "0.02 ± 0.01 µm²/s"),
        Dimension::ArealResistance => ("resistance of an area", "20 ± 2 Ω·cm²"),
        Dimension::Resistivity => ("resistivity", "17.2 ± 0.1 nΩ·m"),
        Dimension::Current => ("current", "5 A"),
        Dimension::Power => ("power", "1.2 W"),
        Dimension::HeatTransfer => ("heat transfer coefficient", "15 ± 5 W/m²/K"),
        Dimension::HeatCapacity => ("heat capacity", "60 ± 3 J/K"),
        Dimension::TemperatureRise => ("rise of temperature", "8 ± 1 K"),
        Dimension::Rate => ("rate", "1 C"),
        Dimension::Temperature => ("temperature", "25 ± 2 °C"),
        Dimension::Fraction => ("fraction", "66.5 ± 0.4 %"),
        Dimension::Count => ("number of turns", "1.5 turns"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::units::Unit;

    #[test]
    fn every_example_reads_in_its_own_dimension() {
        for dimension in Unit::ALL.iter().map(|unit| unit.dimension()) {
            let (_, example) = dimension_words(dimension);
            assert!(read(example, dimension).is_ok(), "{example}");
        }
    }
}
