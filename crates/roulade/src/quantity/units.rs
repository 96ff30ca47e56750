//! The quantities of this crate as `uom` types, and the units the trade writes them in.
//!
//! Inside the library every quantity is a [`uom`] type in SI base units; a [`Unit`] is met only where text or
//! JSON is read or printed. Adding a unit is one row here.

use serde::Serialize;
use uom::si::{
    area, areal_mass_density, electric_charge, electric_current, electric_potential, electrical_resistance,
    electrical_resistivity, energy, length, mass, mass_density, power, ratio, volume,
};

pub use uom::si::f64::{
    Area, ArealMassDensity, AvailableEnergy, DiffusionCoefficient, ElectricCharge, ElectricCurrent,
    ElectricPotential, ElectricalConductivity, ElectricalResistance, ElectricalResistivity, Energy,
    Frequency, HeatTransfer, Length, Mass, MassDensity, Power, Ratio, TemperatureCoefficient,
    TemperatureInterval, Volume,
};

use uom::si::{ISQ, Quantity, SI};
use uom::typenum::{N1, N2, N3, P1, P4, Z0};

/// Mass for each charge (kg/C; the trade writes g/Ah).
pub type MassPerCharge = Quantity<ISQ<Z0, P1, N1, N1, Z0, Z0, Z0>, SI<f64>, f64>;

/// Charge a gram of a material holds (C/kg; the trade writes mAh/g).
pub type SpecificCharge = Quantity<ISQ<Z0, N1, P1, P1, Z0, Z0, Z0>, SI<f64>, f64>;
/// Charge a coated area holds (C/m²; the trade writes mAh/cm²).
pub type ArealCharge = Quantity<ISQ<N2, Z0, P1, P1, Z0, Z0, Z0>, SI<f64>, f64>;
/// Energy per outer volume (J/m³; the trade writes Wh/L).
pub type EnergyDensity = Quantity<ISQ<N1, P1, N2, Z0, Z0, Z0, Z0>, SI<f64>, f64>;

/// Resistance that an area of cell has between its foils (Ω·m²; the trade writes Ω·cm²).
pub type ArealResistance = Quantity<ISQ<P4, P1, N3, N2, Z0, Z0, Z0>, SI<f64>, f64>;

/// What kind of quantity a text must hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
    MolarMass,
    MassPerEnergy,
    MassPerCharge,
    Conductivity,
    Diffusivity,
    ArealResistance,
    Resistivity,
    Current,
    Power,
    /// Heat that leaves an area for each kelvin between it and what is around it.
    HeatTransfer,
    HeatCapacity,
    /// Between two temperatures, in kelvin.
    TemperatureRise,
    /// Capacities per hour: "1 C" empties the cell in an hour.
    Rate,
    /// Kept in degrees Celsius: only the distance from another temperature counts.
    Temperature,
    /// A share: written as a plain number or in per cent.
    Fraction,
    /// A count that need not be whole: turns.
    Count,
}

impl Dimension {
    /// An ordinary size of it in a cell, SI; only its power of ten counts.
    #[allow(clippy::match_same_arms, reason = "a table: one line for each dimension")]
    pub(crate) fn ordinary(self) -> f64 {
        match self {
            Self::Length => 1e-3,
            Self::Area => 1e-3,
            Self::Volume => 1e-5,
            Self::Mass => 1e-2,
            Self::Density => 1e3,
            Self::Loading => 1e-1,
            Self::SpecificCapacity => 1e6,
            Self::ArealCapacity => 1e5,
            Self::Charge => 1e4,
            Self::Voltage => 1.0,
            Self::Energy => 1e5,
            Self::EnergyDensity => 1e9,
            Self::SpecificEnergy => 1e6,
            Self::Resistance => 1e-2,
            Self::MolarMass => 1e-1,
            Self::MassPerEnergy => 1e-6,
            Self::MassPerCharge => 1e-6,
            Self::Conductivity => 1.0,
            Self::Diffusivity => 1e-14,
            Self::ArealResistance => 1e-3,
            Self::Resistivity => 1e-8,
            Self::Current => 1.0,
            Self::Power => 1.0,
            Self::HeatTransfer => 10.0,
            Self::HeatCapacity => 1e2,
            Self::TemperatureRise => 10.0,
            Self::Rate => 1e-4,
            Self::Temperature => 1e2,
            Self::Fraction | Self::Count => 1.0,
        }
    }

    /// Whether a number of it, SI, is a size that can be worked with: nothing, or within a factor of 10⁹ of what cells have.
    /// Beyond that sums of small and large lose the small, and figures would say nothing.
    ///
    /// ```
    /// # use roulade::quantity::units::Dimension;
    /// assert!(Dimension::Length.reasonable(70e-3) && Dimension::Length.reasonable(0.0));
    /// assert!(!Dimension::Length.reasonable(1e16) && !Dimension::Length.reasonable(1e-20));
    /// ```
    pub fn reasonable(self, si: f64) -> bool {
        let times = si.abs() / self.ordinary();
        // Not `times == 0.0`: what hardly differs from nothing underflows to it.
        si == 0.0 || (1e-9..=1e9).contains(&times)
    }
}

/// Declares the units: what each measures, how it is printed, and its size in SI base units by way of `uom`.
macro_rules! units {
    ($($unit:ident: $dimension:ident, $symbol:literal, $si:expr;)*) => {
        /// A unit as the trade writes it.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        #[allow(missing_docs, reason = "the names are the documentation")]
        pub enum Unit {
            $($unit,)*
        }

        impl Unit {
            /// Every unit.
            pub const ALL: &'static [Unit] = &[$(Unit::$unit),*];

            /// What it measures. [`Unit::One`] also serves counts: "1.5" turns may be written without a unit.
            pub fn dimension(self) -> Dimension {
                match self {
                    $(Unit::$unit => Dimension::$dimension,)*
                }
            }

            /// As it is printed.
            pub fn symbol(self) -> &'static str {
                match self {
                    $(Unit::$unit => $symbol,)*
                }
            }

            /// Size of one such unit in SI base units.
            pub fn in_si(self) -> f64 {
                match self {
                    $(Unit::$unit => $si,)*
                }
            }
        }
    };
}

units! {
    Millimetre: Length, "mm", Length::new::<length::millimeter>(1.0).value;
    Micrometre: Length, "µm", Length::new::<length::micrometer>(1.0).value;
    Centimetre: Length, "cm", Length::new::<length::centimeter>(1.0).value;
    Metre: Length, "m", Length::new::<length::meter>(1.0).value;
    SquareMetre: Area, "m²", Area::new::<area::square_meter>(1.0).value;
    SquareCentimetre: Area, "cm²", Area::new::<area::square_centimeter>(1.0).value;
    SquareMillimetre: Area, "mm²", Area::new::<area::square_millimeter>(1.0).value;
    CubicCentimetre: Volume, "cm³", Volume::new::<volume::cubic_centimeter>(1.0).value;
    Millilitre: Volume, "mL", Volume::new::<volume::milliliter>(1.0).value;
    Litre: Volume, "L", Volume::new::<volume::liter>(1.0).value;
    CubicMillimetre: Volume, "mm³", Volume::new::<volume::cubic_millimeter>(1.0).value;
    Gram: Mass, "g", Mass::new::<mass::gram>(1.0).value;
    Milligram: Mass, "mg", Mass::new::<mass::milligram>(1.0).value;
    Kilogram: Mass, "kg", Mass::new::<mass::kilogram>(1.0).value;
    GramPerCubicCentimetre: Density, "g/cm³",
        MassDensity::new::<mass_density::gram_per_cubic_centimeter>(1.0).value;
    KilogramPerCubicMetre: Density, "kg/m³",
        MassDensity::new::<mass_density::kilogram_per_cubic_meter>(1.0).value;
    MilligramPerSquareCentimetre: Loading, "mg/cm²",
        (Mass::new::<mass::milligram>(1.0) / Area::new::<area::square_centimeter>(1.0)).value;
    GramPerSquareMetre: Loading, "g/m²",
        ArealMassDensity::new::<areal_mass_density::gram_per_square_meter>(1.0).value;
    MilliampereHourPerGram: SpecificCapacity, "mAh/g",
        per_kilogram(ElectricCharge::new::<electric_charge::ampere_hour>(1.0));
    AmpereHourPerKilogram: SpecificCapacity, "Ah/kg",
        per_kilogram(ElectricCharge::new::<electric_charge::ampere_hour>(1.0));
    MilliampereHourPerSquareCentimetre: ArealCapacity, "mAh/cm²",
        (ElectricCharge::new::<electric_charge::milliampere_hour>(1.0) / Area::new::<area::square_centimeter>(1.0)).value;
    AmpereHour: Charge, "Ah", ElectricCharge::new::<electric_charge::ampere_hour>(1.0).value;
    MilliampereHour: Charge, "mAh", ElectricCharge::new::<electric_charge::milliampere_hour>(1.0).value;
    Volt: Voltage, "V", ElectricPotential::new::<electric_potential::volt>(1.0).value;
    Millivolt: Voltage, "mV", ElectricPotential::new::<electric_potential::millivolt>(1.0).value;
    WattHour: Energy, "Wh", Energy::new::<energy::watt_hour>(1.0).value;
    WattHourPerLitre: EnergyDensity, "Wh/L",
        (Energy::new::<energy::watt_hour>(1.0) / Volume::new::<volume::liter>(1.0)).value;
    WattHourPerKilogram: SpecificEnergy, "Wh/kg",
        (Energy::new::<energy::watt_hour>(1.0) / Mass::new::<mass::kilogram>(1.0)).value;
    Milliohm: Resistance, "mΩ", ElectricalResistance::new::<electrical_resistance::milliohm>(1.0).value;
    Ohm: Resistance, "Ω", ElectricalResistance::new::<electrical_resistance::ohm>(1.0).value;
    GramPerMole: MolarMass, "g/mol", 1e-3;
    GramPerKilowattHour: MassPerEnergy, "g/kWh",
        (Mass::new::<mass::gram>(1.0) / Energy::new::<energy::kilowatt_hour>(1.0)).value;
    MillisiemensPerCentimetre: Conductivity, "mS/cm", 0.1;
    SquareMicrometrePerSecond: Diffusivity, "µm²/s", 1e-12;
    SquareCentimetrePerSecond: Diffusivity, "cm²/s", 1e-4;
    SquareMetrePerSecond: Diffusivity, "m²/s", 1.0;
    GramPerAmpereHour: MassPerCharge, "g/Ah",
        (Mass::new::<mass::gram>(1.0) / ElectricCharge::new::<electric_charge::ampere_hour>(1.0)).value;
    OhmSquareCentimetre: ArealResistance, "Ω·cm²",
        (ElectricalResistance::new::<electrical_resistance::ohm>(1.0) * Area::new::<area::square_centimeter>(1.0)).value;
    NanoohmMetre: Resistivity, "nΩ·m",
        ElectricalResistivity::new::<electrical_resistivity::ohm_meter>(1e-9).value;
    Ampere: Current, "A", ElectricCurrent::new::<electric_current::ampere>(1.0).value;
    Watt: Power, "W", Power::new::<power::watt>(1.0).value;
    WattPerSquareMetreKelvin: HeatTransfer, "W/m²/K", 1.0;
    JoulePerKelvin: HeatCapacity, "J/K", 1.0;
    Kelvin: TemperatureRise, "K", 1.0;
    PerHour: Rate, "C", 1.0 / uom::si::f64::Time::new::<uom::si::time::hour>(1.0).value;
    Celsius: Temperature, "°C", 1.0;
    One: Fraction, "", Ratio::new::<ratio::ratio>(1.0).value;
    Percent: Fraction, "%", Ratio::new::<ratio::percent>(1.0).value;
    Turn: Count, "turns", Ratio::new::<ratio::ratio>(1.0).value;
}

fn per_kilogram(charge: ElectricCharge) -> f64 {
    (charge / Mass::new::<mass::kilogram>(1.0)).value
}
