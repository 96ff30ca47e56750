//! A sheet as text: what is written reads back the same.

use super::Sheet;
use crate::quantity::notation;
use crate::quantity::problem::json_visible;
use crate::quantity::units::Unit;
use roulade_stats::uncertain::{Spread, Uncertain};

/// The sheet as the text of a file: JSON, its keys in the order of the schema.
///
/// # Examples
/// ```
/// use roulade::sheet::{Sheet, write};
/// let sheet = Sheet::parse(r#"{"can": {"height": "70 mm", "diameter": "21 mm"}}"#)?;
/// let text = write::text(&sheet);
/// assert!(text.find("diameter") < text.find("height") && text.ends_with("}\n"));
/// assert_eq!(Sheet::parse(&text)?, sheet);
/// # Ok::<(), roulade::quantity::problem::Problems>(())
/// ```
pub fn text(sheet: &Sheet) -> String {
    // Plain data always becomes text.
    json_visible(serde_json::to_string_pretty(sheet).unwrap_or_default()) + "\n"
}

/// A number as the text of an entry that reads back as the same number, or as near as the unit allows: to the last bit
/// where a decimal of 17 digits in that unit reaches it, to the last but one otherwise.
pub fn number(uncertain: &Uncertain, unit: Unit) -> String {
    let same = |text: &str, si: f64| {
        notation::read(text, unit.dimension()).is_ok_and(|read| read.value.to_bits() == si.to_bits())
    };
    let with_unit = |figure: &str| format!("{figure} {}", unit.symbol()).trim_end().to_owned();
    let figure = |si: f64| {
        let quotient = si / unit.in_si();
        let short = (12..=17).map(|digits| notation::print_digits(quotient, digits));
        let beside = [quotient.next_up(), quotient.next_down()].map(|near| notation::print_digits(near, 17));
        let found = short.chain(beside).find(|figure| same(&with_unit(figure), si));
        found.unwrap_or_else(|| notation::print_digits(quotient, 17))
    };
    let figures = match uncertain.spread {
        Spread::Standard(u) if u > 0.0 => format!("{} ± {}", figure(uncertain.value), figure(u)),
        Spread::Range { low, high } => format!("{} .. {}", figure(low), figure(high)),
        Spread::Exact | Spread::Standard(_) => figure(uncertain.value),
    };
    with_unit(&figures)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn numbers_are_as_short_as_they_can_be() {
        for text in ["68 ± 1 µm", "60 .. 75 µm", "0.3 µm", "100000 µm", "-2 µm"] {
            let uncertain = notation::read(text, Unit::Micrometre.dimension()).unwrap();
            assert_eq!(number(&uncertain, Unit::Micrometre), text);
        }
        assert_eq!(number(&Uncertain::exact(0.25), Unit::One), "0.25");
    }

    proptest! {
        #[test]
        fn a_number_that_was_read_once_is_written_and_read_for_ever(x in 1e-9..1e9_f64, u in 1e-9..1.0_f64) {
            for unit in [Unit::Micrometre, Unit::Percent, Unit::MilligramPerSquareCentimetre, Unit::Gram, Unit::Volt] {
                let uncertain = Uncertain::standard(x * unit.in_si(), x * u * unit.in_si());
                let read = |uncertain: &Uncertain| notation::read(&number(uncertain, unit), unit.dimension()).unwrap();
                let once = read(&uncertain);
                prop_assert!((once.value - uncertain.value).abs() <= 2.0 * f64::EPSILON * uncertain.value);
                prop_assert!((once.u() - uncertain.u()).abs() <= 2.0 * f64::EPSILON * uncertain.u());
                prop_assert_eq!(read(&once), once);
            }
        }
    }
}
