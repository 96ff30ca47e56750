//! The parser of a typed quantity.
//!
//! ```text
//! quantity = amount [ link amount ] | "(" number [ link number ] ")" unit
//! amount   = number [ unit ]
//! link     = "±" | ".."                              (or "+-", "+/-")
//! number   = sign decimal [ "(" digits ")" ] [ exponent ]
//! ```

use super::complaint::{Complaint, Fault};
use super::scan::{Link, Scanner};
use crate::quantity::units::{Dimension, Unit};
use roulade_stats::uncertain::{Spread, Uncertain};
use std::borrow::Cow;

/// Reads a typed quantity of `dimension` into SI base units.
///
/// | written | meaning |
/// |---|---|
/// | `68 µm` | taken as it stands |
/// | `68 ± 1 µm`, `68 +- 1 um`, `68 +/- 1 um`, `(68 ± 1) µm`, `68 µm ± 1 µm` | with a standard uncertainty |
/// | `68.0(10) µm` | the same: the digits in parentheses count in the last place (JCGM 100:2008, 7.2.2) |
/// | `68 µm ± 2 %` | relative standard uncertainty |
/// | `60 .. 75 µm`, `60 µm .. 75 µm` | anywhere between two bounds |
///
/// A unit after the last of two numbers is the unit of both, so `66.5 ± 0.4 %` of a fraction is 0.665 ± 0.004; a
/// per cent sign on a fraction's uncertainty is always percentage points. A fraction and a count may go without a
/// unit. An uncertainty of zero, and a range with equal ends, are exact. A number a thousand million times larger, or smaller,
/// than what cells have is none of a cell: see [`Dimension::reasonable`].
///
/// # Errors
/// A [`Complaint`] that quotes the text, says what is wrong with it, and gives an example of what would be right.
///
/// # Examples
/// A nominal 100 g standard of mass, 100.021 47 g with a standard uncertainty of 0.35 mg (NIST, Reference on
/// Constants, Units and Uncertainty, "Examples of uncertainty statements"):
/// ```
/// use roulade::quantity::notation::read;
/// use roulade::quantity::units::Dimension;
/// let mass = read("100.02147(35) g", Dimension::Mass)?;
/// assert!((mass.value - 0.10002147).abs() < 1e-15);
/// assert!((mass.u() - 0.35e-6).abs() < 1e-18);
/// # Ok::<(), roulade::quantity::notation::Complaint>(())
/// ```
pub fn read(text: &str, dimension: Dimension) -> Result<Uncertain, Complaint> {
    interpret(plain(text).trim(), dimension)
        .and_then(|uncertain| reasonable(uncertain, dimension))
        .map_err(|fault| fault.complain(text, dimension))
}

/// Of a size that can be worked with, and so is its uncertainty.
fn reasonable(uncertain: Uncertain, dimension: Dimension) -> Result<Uncertain, Fault<'static>> {
    let ends = match uncertain.spread {
        Spread::Range { low, high } => [low, high],
        // A value next to nothing is a usual one where its uncertainty is.
        Spread::Standard(u) => [uncertain.value.abs().max(u), u],
        Spread::Exact => [uncertain.value; 2],
    };
    if ends.iter().all(|end| dimension.reasonable(*end)) { Ok(uncertain) } else { Err(Fault::Beyond) }
}

/// With the one sign that each other one stands for; most texts have no other. Office programs make a dash of a minus sign;
/// between two numbers a dash is one.
fn plain(text: &str) -> Cow<'_, str> {
    let text = match text.trim_start().strip_prefix('–') {
        Some(rest) => format!("-{rest}").into(),
        None => Cow::Borrowed(text),
    };
    if text.contains(['−', '+']) {
        text.replace('−', "-").replace("+/-", "±").replace("+-", "±").into()
    } else {
        text
    }
}

fn interpret(text: &str, dimension: Dimension) -> Result<Uncertain, Fault<'_>> {
    if text.is_empty() {
        return Err(Fault::Empty);
    }
    let mut scan = Scanner { rest: text };
    let grouped = scan.eat("(");
    let first = scan.number("")?;
    let first_unit = if grouped { None } else { scan.unit()? };
    let link = scan.link();
    let second = match link {
        Link::None => None,
        Link::PlusMinus => Some(scan.number("±")?),
        Link::To => Some(scan.number("..")?),
    };
    if grouped && !scan.eat(")") {
        return Err(Fault::Unclosed);
    }
    let last_unit = scan.unit()?;
    if !scan.rest.trim().is_empty() {
        return Err(Fault::LeftOver(scan.rest));
    }

    let Some(second) = second else {
        let size = size(first_unit.or(last_unit), dimension)?;
        return checked(Uncertain::standard(first.value * size, first.u.unwrap_or(0.0) * size));
    };
    if first.u.or(second.u).is_some() {
        return Err(Fault::TwoUncertainties);
    }
    let relative = matches!(link, Link::PlusMinus)
        && !grouped
        && last_unit == Some(Unit::Percent)
        && dimension != Dimension::Fraction;
    if first_unit.is_some() && last_unit.is_none() {
        return Err(Fault::HalfUnit);
    }
    let first_size = size(if relative { first_unit } else { first_unit.or(last_unit) }, dimension)?;
    let value = first.value * first_size;
    let u_size = if relative { value.abs() * Unit::Percent.in_si() } else { size(last_unit, dimension)? };
    let other = second.value * u_size;
    match link {
        Link::To if value > other => {
            Err(Fault::Reversed(checked(Uncertain::range(other, value))?, last_unit.unwrap_or(Unit::One)))
        }
        Link::To => checked(Uncertain::range(value, other)),
        _ if other < 0.0 => Err(Fault::Negative),
        _ => checked(Uncertain::standard(value, other)),
    }
}

/// Size of the unit in SI, if it is one of `dimension`.
fn size(unit: Option<Unit>, dimension: Dimension) -> Result<f64, Fault<'static>> {
    match unit {
        Some(unit) if unit.dimension() == dimension => Ok(unit.in_si()),
        Some(unit) => Err(Fault::Other(unit.dimension())),
        None if matches!(dimension, Dimension::Fraction | Dimension::Count) => Ok(Unit::One.in_si()),
        None => Err(Fault::NoUnit),
    }
}

/// Finite, and exact where there is no spread.
fn checked(uncertain: Uncertain) -> Result<Uncertain, Fault<'static>> {
    match uncertain.spread {
        _ if !(uncertain.value.is_finite() && uncertain.u().is_finite()) => Err(Fault::Beyond),
        Spread::Range { low, high } if low < high => Ok(uncertain),
        Spread::Range { low, .. } => Ok(Uncertain::exact(low)),
        Spread::Standard(u) if u > 0.0 => Ok(uncertain),
        Spread::Standard(_) | Spread::Exact => Ok(Uncertain::exact(uncertain.value)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;
    use uom::si::f64::Length;
    use uom::si::length::{micrometer, millimeter};

    fn um(value: f64) -> f64 {
        Length::new::<micrometer>(value).value
    }

    /// A fit may leave next to nothing of an error; what is next to nothing without an uncertainty is a slip.
    #[test]
    fn next_to_nothing_with_its_uncertainty() {
        assert!(read("1.3e-9 ± 5.5 %", Dimension::Fraction).is_ok());
        for slip in ["1.3e-9 %", "1.3e-9 ± 1e-10 %", "5.5 ± 1.3e-9 %", "5.5 mAh/g ± 1e-320 %"] {
            assert!(
                read(slip, Dimension::Fraction).or_else(|_| read(slip, Dimension::SpecificCapacity)).is_err(),
                "{slip}"
            );
        }
    }

    #[track_caller]
    fn check(text: &str, dimension: Dimension, expected: Uncertain) {
        let uncertain = read(text, dimension).expect(text);
        let near = |a: f64, b: f64| assert_relative_eq!(a, b, max_relative = 1e-14);
        near(uncertain.value, expected.value);
        match (uncertain.spread, expected.spread) {
            (Spread::Exact, Spread::Exact) => {}
            (Spread::Standard(a), Spread::Standard(b)) => near(a, b),
            (Spread::Range { low: a, high: b }, Spread::Range { low: c, high: d }) => {
                near(a, c);
                near(b, d);
            }
            (found, wanted) => panic!("{text}: {found:?} is not {wanted:?}"),
        }
    }

    #[test]
    fn an_exact_length() {
        for text in [
            "68 µm",
            "68 um",
            "68 \u{3bc}m",
            "68µm",
            "  68\u{a0}µm\u{202f}",
            "+68 µm",
            "68. µm",
            "6.8e1 um",
            "6.8E+1um",
            "68e-6 m",
            "0.068 mm",
            ".068 mm",
            "(68) µm",
            "68 ± 0 µm",
            "68 ± -0 µm",
            "68 .. 68 µm",
            "68(0) µm",
            "68 µm ± 0 %",
        ] {
            check(text, Dimension::Length, Uncertain::exact(um(68.0)));
        }
        check("1.2e-3 m", Dimension::Length, Uncertain::exact(Length::new::<millimeter>(1.2).value));
        for text in ["-3 mm", "−3 mm", "(-3) mm"] {
            check(text, Dimension::Length, Uncertain::exact(Length::new::<millimeter>(-3.0).value));
        }
    }

    #[test]
    fn a_length_with_its_uncertainty() {
        for text in [
            "68 ± 1 µm",
            "68±1µm",
            "68 +- 1 um",
            "68+-1um",
            "68 +/- 1 um",
            "68 ± +1 um",
            "(68 ± 1) µm",
            "( 68 +- 1 )um",
            "68 µm ± 1 µm",
            "68 µm ± 0.001 mm",
            "0.068 mm ± 1 µm",
            "68\u{a0}±\u{a0}1\u{a0}µm",
            "68.0(10) µm",
            "68.0( 10 ) µm",
            "68(1)um",
            "68.0(1.0) µm",
            "6.80(10)e1 µm",
            "6.80(10)e-5 m",
        ] {
            check(text, Dimension::Length, Uncertain::standard(um(68.0), um(1.0)));
        }
        for text in ["68 um ± 2 %", "68 µm +- 2%", "0.068 mm ± 2 %"] {
            check(text, Dimension::Length, Uncertain::standard(um(68.0), um(1.36)));
        }
        check("-68 µm ± 2 %", Dimension::Length, Uncertain::standard(um(-68.0), um(1.36)));
        check("0.068(.001) mm", Dimension::Length, Uncertain::standard(um(68.0), um(1.0)));
    }

    /// NIST, Reference on Constants, Units and Uncertainty, "Examples of uncertainty statements": 100.021 47 g,
    /// standard uncertainty 0.35 mg.
    #[test]
    fn the_textbook_mass_in_each_form() {
        for text in [
            "100.02147(35) g",
            "100.02147(0.00035) g",
            "100.02147 ± 0.00035 g",
            "(100.02147 ± 0.00035) g",
            "100.02147 g ± 0.35 mg",
        ] {
            check(text, Dimension::Mass, Uncertain::standard(0.100_021_47, 0.35e-6));
        }
    }

    #[test]
    fn a_range() {
        for text in [
            "60 .. 75 µm",
            "60..75um",
            "60.0..75.um",
            "60. .. 75 µm",
            "60 µm .. 75 µm",
            "60 µm..0.075 mm",
            "(60 .. 75) µm",
        ] {
            check(text, Dimension::Length, Uncertain::range(um(60.0), um(75.0)));
        }
        check("-5..5 µm", Dimension::Length, Uncertain::range(um(-5.0), um(5.0)));
        check(".5 .. .75", Dimension::Fraction, Uncertain::range(0.5, 0.75));
    }

    #[test]
    fn fractions_and_counts() {
        check("4 %", Dimension::Fraction, Uncertain::exact(0.04));
        check("4%", Dimension::Fraction, Uncertain::exact(0.04));
        check("0.665", Dimension::Fraction, Uncertain::exact(0.665));
        for text in ["66.5 ± 0.4 %", "66.5 % ± 0.4 %", "(66.5 ± 0.4) %", "66.5(4) %", "0.665 ± 0.004"] {
            check(text, Dimension::Fraction, Uncertain::standard(0.665, 0.004));
        }
        check("4 .. 6 %", Dimension::Fraction, Uncertain::range(0.04, 0.06));
        for text in ["1.5", "1.5 turns", "1.5 turn"] {
            check(text, Dimension::Count, Uncertain::exact(1.5));
        }
        for text in ["1.5 ± 0.03", "1.5 ± 0.03 turns", "1.5 ± 2 %", "1.5 turns ± 2 %"] {
            check(text, Dimension::Count, Uncertain::standard(1.5, 0.03));
        }
    }

    #[test]
    fn long_texts_are_read_too() {
        let zeros = "0".repeat(100_000);
        check(&format!("{zeros}68.{zeros} µm"), Dimension::Length, Uncertain::exact(um(68.0)));
        check(&format!("68.{zeros}(0) µm"), Dimension::Length, Uncertain::exact(um(68.0)));
        assert!(read(&"(".repeat(100_000), Dimension::Length).is_err());
        assert!(read(&"68 ± ".repeat(100_000), Dimension::Length).is_err());
        assert!(read(&format!("68e{zeros}9{zeros} µm"), Dimension::Length).is_err());
    }

    fn any_dimension() -> impl Strategy<Value = Dimension> {
        prop::sample::select(Unit::ALL.iter().map(|unit| unit.dimension()).collect::<Vec<_>>())
    }

    fn any_valid() -> impl Strategy<Value = &'static str> {
        prop::sample::select(vec![
            "68 ± 1 µm",
            "(68 ± 1) µm",
            "68.0(10)e-1 µm",
            "60 .. 75 µm",
            "68 µm ± 2 %",
            "22.4 mg cm⁻²",
            "12 +/- 1 mOhm",
            "66.5 % ± 0.4 %",
            "1.5 turns",
        ])
    }

    fn sound(result: Result<Uncertain, Complaint>) -> bool {
        match result {
            Ok(uncertain) => {
                uncertain.value.is_finite()
                    && match uncertain.spread {
                        Spread::Exact => true,
                        Spread::Standard(u) => u > 0.0 && u.is_finite(),
                        Spread::Range { low, high } => low < high && low.is_finite() && high.is_finite(),
                    }
            }
            Err(complaint) => !complaint.found.is_empty() && complaint.expected.contains("for example"),
        }
    }

    proptest! {
        #[test]
        fn any_text_is_answered(text in any::<String>(), dimension in any_dimension()) {
            prop_assert!(sound(read(&text, dimension)));
        }

        #[test]
        fn any_text_of_the_right_marks_is_answered(
            text in "[-0-9.,eE+±()−– \u{a0}/%^²⁻µuml]{0,24}",
            dimension in any_dimension(),
        ) {
            prop_assert!(sound(read(&text, dimension)));
        }

        #[test]
        fn any_mutation_is_answered(
            valid in any_valid(),
            edits in prop::collection::vec((0usize..24, 0u8..4, "[-0-9.,e+±() µm%]|\\PC"), 1..4),
            dimension in any_dimension(),
        ) {
            let mut text: Vec<char> = valid.chars().collect();
            for (at, kind, with) in edits {
                let at = at % (text.len() + 1);
                let end = if at == text.len() { at } else { at + 1 };
                match kind {
                    0 => drop(text.drain(at..end)),
                    1 => drop(text.splice(at..at, with.chars())),
                    2 => drop(text.splice(at..end, with.chars())),
                    _ => text.truncate(at),
                }
            }
            prop_assert!(sound(read(&text.iter().collect::<String>(), dimension)));
        }

        #[test]
        fn a_written_number_is_the_number_read(value in -1e9..1e9f64) {
            prop_assert_eq!(read(&format!("{value}"), Dimension::Fraction).unwrap(), Uncertain::exact(value));
        }
    }
}
