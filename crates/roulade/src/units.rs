//! The quantities of this crate as `uom` types, and the units the trade writes them in.
//!
//! Inside the library every quantity is a [`uom`] type in SI base units; a [`Unit`] is met only where text or
//! JSON is read or printed. Adding a unit is one variant and its three rows here.

use serde::Serialize;
use uom::si::{
    area, areal_mass_density, electric_charge, electric_potential, electrical_resistance, energy, length,
    mass, mass_density, ratio, volume,
};

pub use uom::si::f64::{
    Area, ArealMassDensity, AvailableEnergy, ElectricCharge, ElectricPotential, ElectricalResistance, Energy,
    Length, Mass, MassDensity, Ratio, Volume,
};

use uom::si::{ISQ, Quantity, SI};
use uom::typenum::{N1, N2, P1, Z0};

/// Charge a gram of a material holds (C/kg; the trade writes mAh/g).
pub type SpecificCharge = Quantity<ISQ<Z0, N1, P1, P1, Z0, Z0, Z0>, SI<f64>, f64>;
/// Charge a coated area holds (C/m²; the trade writes mAh/cm²).
pub type ArealCharge = Quantity<ISQ<N2, Z0, P1, P1, Z0, Z0, Z0>, SI<f64>, f64>;
/// Energy per outer volume (J/m³; the trade writes Wh/L).
pub type EnergyDensity = Quantity<ISQ<N1, P1, N2, Z0, Z0, Z0, Z0>, SI<f64>, f64>;

/// What kind of quantity a text must hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[allow(missing_docs, reason = "the names are the documentation")]
pub enum Dimension {
    Length,
    Area,
    Volume,
    Mass,
    Density,
    Loading,
    SpecificCapacity,
    ArealCapacity,
    Charge,
    Voltage,
    Energy,
    EnergyDensity,
    SpecificEnergy,
    Resistance,
    /// A share: written as a plain number or in per cent.
    Fraction,
    /// A count that need not be whole: turns.
    Count,
}

/// A unit as the trade writes it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names are the documentation")]
pub enum Unit {
    Metre,
    Centimetre,
    Millimetre,
    Micrometre,
    SquareMetre,
    SquareCentimetre,
    SquareMillimetre,
    Litre,
    Millilitre,
    CubicCentimetre,
    CubicMillimetre,
    Kilogram,
    Gram,
    Milligram,
    GramPerCubicCentimetre,
    KilogramPerCubicMetre,
    MilligramPerSquareCentimetre,
    GramPerSquareMetre,
    MilliampereHourPerGram,
    AmpereHourPerKilogram,
    MilliampereHourPerSquareCentimetre,
    AmpereHour,
    MilliampereHour,
    Volt,
    Millivolt,
    WattHour,
    WattHourPerLitre,
    WattHourPerKilogram,
    Milliohm,
    Ohm,
    One,
    Percent,
    Turn,
}

impl Unit {
    /// Every unit; the first of a dimension is the one it is printed in.
    pub const ALL: [Unit; 33] = {
        use Unit::*;
        [
            Millimetre,
            Micrometre,
            Centimetre,
            Metre,
            SquareMetre,
            SquareCentimetre,
            SquareMillimetre,
            CubicCentimetre,
            Millilitre,
            Litre,
            CubicMillimetre,
            Gram,
            Milligram,
            Kilogram,
            GramPerCubicCentimetre,
            KilogramPerCubicMetre,
            MilligramPerSquareCentimetre,
            GramPerSquareMetre,
            MilliampereHourPerGram,
            AmpereHourPerKilogram,
            MilliampereHourPerSquareCentimetre,
            AmpereHour,
            MilliampereHour,
            Volt,
            Millivolt,
            WattHour,
            WattHourPerLitre,
            WattHourPerKilogram,
            Milliohm,
            Ohm,
            One,
            Percent,
            Turn,
        ]
    };

    /// What it measures. [`Unit::One`] also serves counts: "1.5" turns may be written without a unit.
    pub fn dimension(self) -> Dimension {
        use Unit::*;
        match self {
            Metre | Centimetre | Millimetre | Micrometre => Dimension::Length,
            SquareMetre | SquareCentimetre | SquareMillimetre => Dimension::Area,
            Litre | Millilitre | CubicCentimetre | CubicMillimetre => Dimension::Volume,
            Kilogram | Gram | Milligram => Dimension::Mass,
            GramPerCubicCentimetre | KilogramPerCubicMetre => Dimension::Density,
            MilligramPerSquareCentimetre | GramPerSquareMetre => Dimension::Loading,
            MilliampereHourPerGram | AmpereHourPerKilogram => Dimension::SpecificCapacity,
            MilliampereHourPerSquareCentimetre => Dimension::ArealCapacity,
            AmpereHour | MilliampereHour => Dimension::Charge,
            Volt | Millivolt => Dimension::Voltage,
            WattHour => Dimension::Energy,
            WattHourPerLitre => Dimension::EnergyDensity,
            WattHourPerKilogram => Dimension::SpecificEnergy,
            Milliohm | Ohm => Dimension::Resistance,
            One | Percent => Dimension::Fraction,
            Turn => Dimension::Count,
        }
    }

    /// As it is printed.
    pub fn symbol(self) -> &'static str {
        use Unit::*;
        match self {
            Metre => "m",
            Centimetre => "cm",
            Millimetre => "mm",
            Micrometre => "µm",
            SquareMetre => "m²",
            SquareCentimetre => "cm²",
            SquareMillimetre => "mm²",
            Litre => "L",
            Millilitre => "mL",
            CubicCentimetre => "cm³",
            CubicMillimetre => "mm³",
            Kilogram => "kg",
            Gram => "g",
            Milligram => "mg",
            GramPerCubicCentimetre => "g/cm³",
            KilogramPerCubicMetre => "kg/m³",
            MilligramPerSquareCentimetre => "mg/cm²",
            GramPerSquareMetre => "g/m²",
            MilliampereHourPerGram => "mAh/g",
            AmpereHourPerKilogram => "Ah/kg",
            MilliampereHourPerSquareCentimetre => "mAh/cm²",
            AmpereHour => "Ah",
            MilliampereHour => "mAh",
            Volt => "V",
            Millivolt => "mV",
            WattHour => "Wh",
            WattHourPerLitre => "Wh/L",
            WattHourPerKilogram => "Wh/kg",
            Milliohm => "mΩ",
            Ohm => "Ω",
            One => "",
            Percent => "%",
            Turn => "turns",
        }
    }

    /// Size of one such unit in SI base units, by way of `uom`.
    pub fn in_si(self) -> f64 {
        use Unit::*;
        let charge = ElectricCharge::new::<electric_charge::ampere_hour>(1.0);
        match self {
            Metre => Length::new::<length::meter>(1.0).value,
            Centimetre => Length::new::<length::centimeter>(1.0).value,
            Millimetre => Length::new::<length::millimeter>(1.0).value,
            Micrometre => Length::new::<length::micrometer>(1.0).value,
            SquareMetre => Area::new::<area::square_meter>(1.0).value,
            SquareCentimetre => Area::new::<area::square_centimeter>(1.0).value,
            SquareMillimetre => Area::new::<area::square_millimeter>(1.0).value,
            Litre => Volume::new::<volume::liter>(1.0).value,
            Millilitre => Volume::new::<volume::milliliter>(1.0).value,
            CubicCentimetre => Volume::new::<volume::cubic_centimeter>(1.0).value,
            CubicMillimetre => Volume::new::<volume::cubic_millimeter>(1.0).value,
            Kilogram => Mass::new::<mass::kilogram>(1.0).value,
            Gram => Mass::new::<mass::gram>(1.0).value,
            Milligram => Mass::new::<mass::milligram>(1.0).value,
            GramPerCubicCentimetre => MassDensity::new::<mass_density::gram_per_cubic_centimeter>(1.0).value,
            KilogramPerCubicMetre => MassDensity::new::<mass_density::kilogram_per_cubic_meter>(1.0).value,
            MilligramPerSquareCentimetre => {
                (Mass::new::<mass::milligram>(1.0) / Area::new::<area::square_centimeter>(1.0)).value
            }
            GramPerSquareMetre => {
                ArealMassDensity::new::<areal_mass_density::gram_per_square_meter>(1.0).value
            }
            MilliampereHourPerGram | AmpereHourPerKilogram => {
                (charge / Mass::new::<mass::kilogram>(1.0)).value
            }
            MilliampereHourPerSquareCentimetre => {
                (ElectricCharge::new::<electric_charge::milliampere_hour>(1.0)
                    / Area::new::<area::square_centimeter>(1.0))
                .value
            }
            AmpereHour => charge.value,
            MilliampereHour => ElectricCharge::new::<electric_charge::milliampere_hour>(1.0).value,
            Volt => ElectricPotential::new::<electric_potential::volt>(1.0).value,
            Millivolt => ElectricPotential::new::<electric_potential::millivolt>(1.0).value,
            WattHour => Energy::new::<energy::watt_hour>(1.0).value,
            WattHourPerLitre => {
                (Energy::new::<energy::watt_hour>(1.0) / Volume::new::<volume::liter>(1.0)).value
            }
            WattHourPerKilogram => {
                (Energy::new::<energy::watt_hour>(1.0) / Mass::new::<mass::kilogram>(1.0)).value
            }
            Milliohm => ElectricalResistance::new::<electrical_resistance::milliohm>(1.0).value,
            Ohm => ElectricalResistance::new::<electrical_resistance::ohm>(1.0).value,
            One | Turn => Ratio::new::<ratio::ratio>(1.0).value,
            Percent => Ratio::new::<ratio::percent>(1.0).value,
        }
    }
}
