//! The one place where a result is rounded and printed.

use crate::quantity::units::Unit;
use roulade_stats::decimal;
use roulade_stats::uncertain::{Spread, Uncertain};

/// A value and its standard uncertainty, both in SI base units, in `unit`: "572 ± 12 Wh/L".
///
/// The rounding is that of [`rounded`]. The text can be given back to [`read`](super::read), unless it is
/// "not a number" or "beyond range".
///
/// # Examples
/// ```
/// use roulade::quantity::notation::print;
/// use roulade::quantity::units::Unit;
/// let litre = Unit::WattHourPerLitre.in_si();
/// assert_eq!(print(572.4 * litre, 12.3 * litre, Unit::WattHourPerLitre), "572 ± 12 Wh/L");
/// ```
pub fn print(value_si: f64, u_si: f64, unit: Unit) -> String {
    assemble(value_si, u_si, unit, "")
}

/// Like [`print()`], for a change: a gain carries a plus.
pub fn print_signed(value_si: f64, u_si: f64, unit: Unit) -> String {
    assemble(value_si, u_si, unit, "+")
}

fn assemble(value_si: f64, u_si: f64, unit: Unit, plus: &str) -> String {
    // What is so small against ordinary sizes is what their sums and differences round to.
    let rounding = 1e-13 * unit.dimension().ordinary();
    if value_si.abs() <= rounding && u_si.abs() <= rounding {
        return with_unit("0", unit);
    }
    let (value, u) = (value_si / unit.in_si(), u_si / unit.in_si());
    let (shown, shown_u) = rounded(value, u);
    if !(value.is_finite() && u.is_finite()) {
        return shown;
    }
    let plus = if value > 0.0 && !is_zero(&shown) { plus } else { "" };
    let spread = shown_u.map(|u| format!(" ± {u}")).unwrap_or_default();
    with_unit(&format!("{plus}{shown}{spread}"), unit)
}

/// A value and its standard uncertainty as rounded figures, in the unit in which they are given.
///
/// The uncertainty keeps one significant digit, two where the first is 1 or 2 (common practice, no source), and the
/// value the same decimal place. Without an uncertainty the value keeps four significant digits; an uncertainty
/// below 10⁻¹² of the value is the noise of the arithmetic and counts as none. Above 10⁷ and below 10⁻⁴ both carry
/// a power of ten ("1.20e8"). The minus is U+2212.
pub fn rounded(value: f64, u: f64) -> (String, Option<String>) {
    let u = u.abs();
    if value.is_nan() || u.is_nan() {
        return ("not a number".to_owned(), None);
    }
    if value.is_infinite() || u.is_infinite() {
        return ("beyond range".to_owned(), None);
    }
    let size = value.abs().max(u);
    if size == 0.0 {
        return ("0".to_owned(), None);
    }
    if (1e-4..=1e7).contains(&size) {
        return placed(value, u);
    }
    let power = exponent(&format!("{size:.3e}"));
    let (value, u) = placed(shifted(value, -power), shifted(u, -power));
    let suffix = format!("e{power}").replace('-', "−");
    (value + &suffix, u.map(|u| u + &suffix))
}

/// Both at the decimal place that the uncertainty sets.
fn placed(value: f64, u: f64) -> (String, Option<String>) {
    if u <= 1e-12 * value.abs() {
        return (to_place(value, exponent(&format!("{value:.3e}")) - 3), None);
    }
    let place = exponent(&format!("{u:.0e}")) - i32::from(digits(u) == 2);
    (to_place(value, place), Some(to_place(u, place)))
}

/// Significant digits that a standard uncertainty keeps: one, two where the first is 1 or 2.
pub fn digits(u: f64) -> usize {
    // Twelve digits, so that 2.9999999999999996 begins with a 3.
    let first = format!("{:.11e}", u.abs());
    let single = format!("{:.0e}", u.abs());
    if first.starts_with(['1', '2']) || single.starts_with('1') { 2 } else { 1 }
}

/// Rounded to a multiple of 10^`place`.
fn to_place(x: f64, place: i32) -> String {
    let digits = match usize::try_from(-place) {
        Ok(decimals) => format!("{x:.decimals$}"),
        Err(_) => format!("{:.0}", shifted(shifted(x, -place).round_ties_even(), place)),
    };
    match digits.strip_prefix('-') {
        Some(zero) if is_zero(zero) => zero.to_owned(),
        Some(magnitude) => format!("−{magnitude}"),
        None => digits,
    }
}

/// `x`·10^`power`, correctly rounded: the exponent is changed in the text.
fn shifted(x: f64, power: i32) -> f64 {
    let text = format!("{x:e}");
    let mantissa = text.split_once('e').map_or("0", |(mantissa, _)| mantissa);
    decimal::number(&format!("{mantissa}e{}", exponent(&text) + power)).unwrap_or(f64::NAN)
}

/// The power of ten at the end of "1.2e3".
fn exponent(text: &str) -> i32 {
    text.split_once('e').and_then(|(_, power)| power.parse().ok()).unwrap_or(0)
}

fn is_zero(figures: &str) -> bool {
    figures.chars().all(|c| matches!(c, '0' | '.'))
}

fn with_unit(figures: &str, unit: Unit) -> String {
    format!("{figures} {}", unit.symbol()).trim_end().to_owned()
}

/// A known number as the text of a sheet: "12 µm", "68 ± 1 µm", "60 .. 75 µm".
///
/// Each figure is the shortest that agrees to twelve significant digits, so that the unit's conversion leaves no
/// trace (never "70.00000000000001 µm"); [`read`](super::read) gives the same number back to 5 in 10¹².
pub fn print_uncertain(uncertain: &Uncertain, unit: Unit) -> String {
    to_digits(uncertain, unit, 12)
}

/// Like [`print_uncertain`] to four significant digits, for reading only: "343.2 .. 352.6 mAh/g".
pub fn print_brief(uncertain: &Uncertain, unit: Unit) -> String {
    to_digits(uncertain, unit, 4)
}

/// A plain number as the shortest text that agrees with it to so many significant digits, as [`read`](super::read) takes it.
pub(crate) fn print_digits(figure: f64, digits: usize) -> String {
    let rounded = decimal::number(&format!("{:.*e}", digits.saturating_sub(1), figure)).unwrap_or(f64::NAN);
    if rounded == 0.0 || (1e-6..1e15).contains(&rounded.abs()) {
        format!("{}", rounded + 0.0)
    } else {
        format!("{rounded:e}")
    }
}

fn to_digits(uncertain: &Uncertain, unit: Unit, digits: usize) -> String {
    let figure = |si: f64| print_digits(si / unit.in_si(), digits);
    let figures = match uncertain.spread {
        Spread::Standard(u) if u > 0.0 => format!("{} ± {}", figure(uncertain.value), figure(u)),
        Spread::Range { low, high } => format!("{} .. {}", figure(low), figure(high)),
        Spread::Exact | Spread::Standard(_) => figure(uncertain.value),
    };
    with_unit(&figures, unit)
}

#[cfg(test)]
mod tests {
    use super::super::read;
    use super::*;
    use proptest::prelude::*;

    fn shown(value: f64, u: f64) -> String {
        print(value, u, Unit::One)
    }

    #[test]
    fn rounding_follows_the_uncertainty() {
        for (value, u, expected) in [
            (572.4, 12.3, "572 ± 12"),
            (572.4, 29.6, "572 ± 30"),
            (572.4, 34.0, "570 ± 30"),
            (572.4, 123.0, "570 ± 120"),
            (572.4, 345.0, "600 ± 300"),
            (20.0, 345.0, "0 ± 300"),
            (572.4, 9.4, "572 ± 9"),
            (572.4, 9.6, "572 ± 10"),
            (572.46, 0.96, "572.5 ± 1.0"),
            (572.46, 3.0 * (1.0 - f64::EPSILON), "572 ± 3"),
            (572.46, 1.0, "572.5 ± 1.0"),
            (572.46, 2.96, "572.5 ± 3.0"),
            (0.0042, 0.00031, "0.0042 ± 0.0003"),
            (-572.46, 0.3, "−572.5 ± 0.3"),
            (-572.46, -0.3, "−572.5 ± 0.3"),
            (-0.04, 0.3, "0.0 ± 0.3"),
            (0.0, 0.3, "0.0 ± 0.3"),
            (9.96, 0.3, "10.0 ± 0.3"),
        ] {
            assert_eq!(shown(value, u), expected);
        }
    }

    #[test]
    fn four_digits_without_uncertainty() {
        for (value, expected) in [
            (572.3456, "572.3"),
            (12.0, "12.00"),
            (12345.6, "12350"),
            (9999.6, "10000"),
            (0.000_123_456, "0.0001235"),
            (-3.651_49, "−3.651"),
            (0.0, "0"),
            (-0.0, "0"),
        ] {
            assert_eq!(shown(value, 0.0), expected);
        }
        assert_eq!(shown(572.3456, 1e-13), "572.3");
    }

    #[test]
    fn very_large_and_very_small() {
        assert_eq!(shown(1.234e8, 1.2e7), "1.23e8 ± 0.12e8");
        assert_eq!(shown(-1.234_56e-7, 0.0), "−1.235e−7");
        assert_eq!(shown(9.9996e8, 0.0), "1.000e9");
        assert_eq!(shown(3e-9, 5e-6), "0e−6 ± 5e−6");
        assert_eq!(shown(1e7, 0.0), "10000000");
        assert_eq!(shown(f64::MAX, 0.0), "1.798e308");
        assert_eq!(shown(5e-324, 0.0), "0");
        for (value, u, expected) in [
            (f64::NAN, 1.0, "not a number"),
            (1.0, f64::NAN, "not a number"),
            (f64::INFINITY, 1.0, "beyond range"),
            (1.0, f64::NEG_INFINITY, "beyond range"),
        ] {
            assert_eq!(print(value, u, Unit::Volt), expected);
            assert_eq!(print_signed(value, u, Unit::Volt), expected);
        }
        assert_eq!(print(1e306, 0.0, Unit::Micrometre), "beyond range");
    }

    #[test]
    fn units_follow_after_a_space() {
        assert_eq!(print(0.042, 0.003, Unit::Percent), "4.2 ± 0.3 %");
        assert_eq!(print(68e-6, 1.4e-6, Unit::Micrometre), "68.0 ± 1.4 µm");
        assert_eq!(print(1.5, 0.0, Unit::Turn), "1.500 turns");
    }

    #[test]
    fn a_change_carries_its_sign() {
        assert_eq!(print_signed(4.2, 0.3, Unit::Volt), "+4.2 ± 0.3 V");
        assert_eq!(print_signed(-4.2, 0.3, Unit::Volt), "−4.2 ± 0.3 V");
        assert_eq!(print_signed(0.04, 0.3, Unit::Volt), "0.0 ± 0.3 V");
        assert_eq!(print_signed(0.0, 0.0, Unit::Volt), "0 V");
        assert_eq!(print_signed(2e9, 0.0, Unit::Volt), "+2.000e9 V");
    }

    #[test]
    fn a_sheet_text_is_short() {
        let um = Unit::Micrometre;
        assert_eq!(print_uncertain(&Uncertain::exact(70.0 * 1e-6), um), "70 µm");
        assert_eq!(print_uncertain(&Uncertain::exact(0.1 + 0.2), Unit::One), "0.3");
        assert_eq!(print_uncertain(&Uncertain::standard(68e-6, 1e-6), um), "68 ± 1 µm");
        assert_eq!(print_uncertain(&Uncertain::standard(68e-6, 0.0), um), "68 µm");
        assert_eq!(print_uncertain(&Uncertain::range(60e-6, 75e-6), um), "60 .. 75 µm");
        assert_eq!(print_uncertain(&Uncertain::standard(0.665, 0.004), Unit::Percent), "66.5 ± 0.4 %");
        assert_eq!(print_uncertain(&Uncertain::exact(-0.0), um), "0 µm");
        assert_eq!(print_uncertain(&Uncertain::exact(1e-20), um), "1e-14 µm");
    }

    fn near(a: f64, b: f64) -> bool {
        (a - b).abs() <= 1e-11 * b.abs()
    }

    fn any_unit() -> impl Strategy<Value = Unit> {
        prop::sample::select(Unit::ALL.to_vec())
    }

    fn any_size() -> impl Strategy<Value = f64> {
        (1.0..10.0f64, -8i32..8, any::<bool>())
            .prop_map(|(m, power, minus)| shifted(if minus { -m } else { m }, power))
    }

    proptest! {
        #[test]
        fn a_sheet_text_reads_back(a in any_size(), b in any_size(), unit in any_unit()) {
            let [a, b] = [a, b].map(|times| times * unit.dimension().ordinary());
            let (low, high) = (a.min(b), a.max(b));
            for uncertain in [Uncertain::exact(a), Uncertain::standard(a, b.abs()), Uncertain::range(low, high)] {
                let text = print_uncertain(&uncertain, unit);
                let back = read(&text, unit.dimension()).unwrap();
                match (back.spread, uncertain.spread) {
                    (Spread::Range { low: a, high: b }, Spread::Range { low, high }) => {
                        prop_assert!(near(a, low) && near(b, high), "{}", text);
                    }
                    (Spread::Standard(a), Spread::Standard(b)) => {
                        prop_assert!(near(a, b) && near(back.value, uncertain.value), "{}", text);
                    }
                    (Spread::Exact, Spread::Exact) => prop_assert!(near(back.value, uncertain.value), "{}", text),
                    _ => prop_assert!(false, "{} became {:?}", text, back),
                }
            }
        }

        #[test]
        fn what_is_printed_is_near_and_reads_back(value in any_size(), u in any_size(), unit in any_unit()) {
            let [value, u] = [value, u.abs()].map(|times| times * unit.dimension().ordinary());
            let text = print_signed(value, u, unit);
            let back = read(&text, unit.dimension()).unwrap();
            let noise = u <= 1e-12 * value.abs();
            // One digit of at least 3 is off by less than a sixth, two digits by a twentieth.
            let tolerance = if noise { 6e-4 * value.abs() } else { 0.17 * u };
            prop_assert!((back.value - value).abs() <= tolerance, "{} for {}", text, value);
            prop_assert_eq!(noise, back.spread == Spread::Exact);
            prop_assert!(noise || (back.u() - u).abs() <= tolerance, "{} for {}", text, u);
        }

        #[test]
        fn any_bits_are_printed(value in any::<u64>(), u in any::<u64>(), unit in any_unit()) {
            let (value, u) = (f64::from_bits(value), f64::from_bits(u));
            prop_assert!(print_signed(value, u, unit).len() < 80);
            prop_assert!(!print_uncertain(&Uncertain::standard(value, u), unit).is_empty());
        }
    }
}
