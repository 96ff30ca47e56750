//! Units as programs exchange them: codes of The Unified Code for Units of Measure (UCUM, <https://ucum.org/ucum>), case
//! sensitive.

use super::units::Unit;

/// The code of a unit; of a C-rate, how often an hour the cell is emptied.
///
/// ```
/// use roulade::quantity::{ucum, units::Unit};
/// assert_eq!(ucum::code(Unit::WattHourPerLitre), "W.h/L");
/// ```
pub fn code(unit: Unit) -> &'static str {
    match unit {
        Unit::Millimetre => "mm",
        Unit::Micrometre => "um",
        Unit::Centimetre => "cm",
        Unit::Metre => "m",
        Unit::SquareMetre => "m2",
        Unit::SquareCentimetre => "cm2",
        Unit::SquareMillimetre => "mm2",
        Unit::CubicCentimetre => "cm3",
        Unit::Millilitre => "mL",
        Unit::Litre => "L",
        Unit::CubicMillimetre => "mm3",
        Unit::Gram => "g",
        Unit::Milligram => "mg",
        Unit::Kilogram => "kg",
        Unit::GramPerCubicCentimetre => "g/cm3",
        Unit::KilogramPerCubicMetre => "kg/m3",
        Unit::MilligramPerSquareCentimetre => "mg/cm2",
        Unit::GramPerSquareMetre => "g/m2",
        Unit::MilliampereHourPerGram => "mA.h/g",
        Unit::AmpereHourPerKilogram => "A.h/kg",
        Unit::MilliampereHourPerSquareCentimetre => "mA.h/cm2",
        Unit::AmpereHour => "A.h",
        Unit::MilliampereHour => "mA.h",
        Unit::Volt => "V",
        Unit::Millivolt => "mV",
        Unit::WattHour => "W.h",
        Unit::WattHourPerLitre => "W.h/L",
        Unit::WattHourPerKilogram => "W.h/kg",
        Unit::Milliohm => "mOhm",
        Unit::Ohm => "Ohm",
        Unit::GramPerMole => "g/mol",
        Unit::GramPerKilowattHour => "g/(kW.h)",
        Unit::MillisiemensPerCentimetre => "mS/cm",
        Unit::SquareMicrometrePerSecond => "um2/s",
        Unit::SquareCentimetrePerSecond => "cm2/s",
        Unit::SquareMetrePerSecond => "m2/s",
        Unit::GramPerAmpereHour => "g/(A.h)",
        Unit::OhmSquareCentimetre => "Ohm.cm2",
        Unit::NanoohmMetre => "nOhm.m",
        Unit::Ampere => "A",
        Unit::Watt => "W",
        Unit::WattPerSquareMetreKelvin => "W/(m2.K)",
        Unit::JoulePerKelvin => "J/K",
        Unit::Kelvin => "K",
        Unit::PerHour => "/h",
        Unit::Celsius => "Cel",
        Unit::One => "1",
        Unit::Percent => "%",
        Unit::Turn => "{turn}",
    }
}

/// The code of a unit by the symbol that figures carry; nothing where it is none of these.
pub fn of_symbol(symbol: &str) -> Option<&'static str> {
    Unit::ALL.iter().find(|unit| unit.symbol() == symbol).map(|unit| code(*unit))
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Size of a code in SI base units, by the standard's grammar: prefixes, atoms, exponents, `.`, `/` and brackets. Atoms
    /// and prefixes from its tables (version 2.2), from memory; the base unit of mass there is the gram, here the kilogram.
    fn size(code: &str) -> f64 {
        if let Some(rest) = code.strip_prefix('/') {
            return 1.0 / size(rest);
        }
        let (mut total, mut divides, mut depth, mut start) = (1.0, false, 0, 0);
        for (at, c) in code.char_indices().chain([(code.len(), '.')]) {
            match c {
                '(' => depth += 1,
                ')' => depth -= 1,
                '.' | '/' if depth == 0 => {
                    let factor = match code[start..at].strip_prefix('(') {
                        Some(inner) => size(inner.trim_end_matches(')')),
                        None => one(&code[start..at]),
                    };
                    total *= if divides { 1.0 / factor } else { factor };
                    (divides, start) = (c == '/', at + 1);
                }
                _ => {}
            }
        }
        total
    }

    fn one(component: &str) -> f64 {
        const ATOMS: [(&str, f64); 17] = [
            ("m", 1.0),
            ("s", 1.0),
            ("g", 1e-3),
            ("L", 1e-3),
            ("h", 3600.0),
            ("A", 1.0),
            ("V", 1.0),
            ("W", 1.0),
            ("J", 1.0),
            ("K", 1.0),
            ("Ohm", 1.0),
            ("S", 1.0),
            ("mol", 1.0),
            ("Cel", 1.0),
            ("1", 1.0),
            ("%", 0.01),
            ("{turn}", 1.0),
        ];
        const PREFIXES: [(&str, f64); 6] =
            [("", 1.0), ("k", 1e3), ("c", 1e-2), ("m", 1e-3), ("u", 1e-6), ("n", 1e-9)];
        let letters = component.trim_end_matches(['2', '3']);
        let exponent = component[letters.len()..].parse().unwrap_or(1);
        let (name, exponent) = if letters.is_empty() { (component, 1) } else { (letters, exponent) };
        for (prefix, times) in PREFIXES {
            for (atom, of) in ATOMS {
                if name.strip_prefix(prefix) == Some(atom) {
                    return (0..exponent).map(|_| times * of).product();
                }
            }
        }
        panic!("{component} is no unit of the code")
    }

    #[test]
    fn codes_are_of_the_size_of_their_units() {
        for unit in Unit::ALL {
            // A mole of anything is a count here, and a temperature a difference.
            assert_relative_eq!(size(code(*unit)), unit.in_si(), max_relative = 1e-12);
        }
        assert_eq!((of_symbol("Wh/kg"), of_symbol("furlong")), (Some("W.h/kg"), None));
    }
}
