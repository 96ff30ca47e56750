//! What can be wrong with a typed quantity, and the one place where that is put into words.

use super::{dimension_words, print_uncertain, spelling};
use crate::quantity::problem::{Problem, hint, shortened};
use crate::quantity::units::{Dimension, Unit};
use roulade_stats::uncertain::Uncertain;

/// A typed quantity that cannot be taken: what was found and what would be right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Complaint {
    /// What was found, quoted.
    pub found: String,
    /// What would be right, with an example of the dimension asked for.
    pub expected: String,
}

impl Complaint {
    /// The same, once it is known where the text stood.
    pub fn at(self, place: impl Into<String>) -> Problem {
        Problem::new(place, self.found, self.expected)
    }
}

/// One way in which a text fails; the parts of the text that show it are kept.
#[derive(Clone, Copy, Debug)]
pub(super) enum Fault<'a> {
    Empty,
    /// No number where one must stand, after this mark.
    NoNumber(&'static str),
    Comma,
    NotFinite,
    /// A number, or what follows from it, that overflows.
    Beyond,
    NoUnit,
    /// A unit on the first of two numbers only.
    HalfUnit,
    UnknownUnit(&'a str),
    /// A unit of another dimension.
    Other(Dimension),
    Negative,
    /// Bounds in the wrong order; here they are in the right one.
    Reversed(Uncertain, Unit),
    LeftOver(&'a str),
    Dash,
    Unclosed,
    TwoUncertainties,
}

impl Fault<'_> {
    /// In words, for `text` where `dimension` was asked for.
    pub(super) fn complain(self, text: &str, dimension: Dimension) -> Complaint {
        let (name, example) = dimension_words(dimension);
        let name = with_article(name);
        let for_example = |rule: &str| format!("{rule}, for example \"{example}\"");
        let needed = || for_example(&name);
        let (what, expected) = match self {
            Fault::Empty => return Complaint { found: "nothing".to_owned(), expected: needed() },
            Fault::NoNumber("") => (", which does not begin with a number".to_owned(), needed()),
            Fault::NoNumber(mark) => (format!(", without a number after \"{mark}\""), needed()),
            Fault::Comma => (
                ", with a comma".to_owned(),
                for_example(
                    "decimals to follow a point (\"68.5\") and thousands not to be grouped (\"1234\")",
                ),
            ),
            Fault::NotFinite => (", not a finite number".to_owned(), needed()),
            Fault::Beyond => (", a size that no cell comes near".to_owned(), needed()),
            Fault::NoUnit => (", without a unit".to_owned(), for_example(&format!("{name} with its unit"))),
            Fault::HalfUnit => (
                ", with a unit on the first number only".to_owned(),
                for_example("the unit to follow the last number or both"),
            ),
            Fault::UnknownUnit(word) => (
                format!(", in the unknown unit {}", quote(word)),
                for_example(&choice(dimension)) + &meant(word, dimension),
            ),
            Fault::Other(other) => (format!(", {}", with_article(dimension_words(other).0)), needed()),
            Fault::Negative => (
                ", with a negative uncertainty".to_owned(),
                for_example("an uncertainty that is zero or more"),
            ),
            Fault::Reversed(uncertain, unit) => (
                ", whose lower bound is above its upper bound".to_owned(),
                format!(
                    "the lower bound to come first, for example \"{}\"",
                    print_uncertain(&uncertain, unit)
                ),
            ),
            Fault::LeftOver(rest) => (format!(", with {} left over", quote(rest)), needed()),
            Fault::Dash => (
                ", where a dash may mean a range or a minus".to_owned(),
                for_example("a range to be written with two dots (\"60 .. 75\") and an uncertainty with ±"),
            ),
            Fault::Unclosed => (", with an open parenthesis".to_owned(), needed()),
            Fault::TwoUncertainties => (", with more than one uncertainty".to_owned(), needed()),
        };
        Complaint { found: quote(text) + &what, expected }
    }
}

/// The unit that was probably meant.
fn meant(word: &str, dimension: Dimension) -> String {
    hint(spelling::nearest(word, dimension).map(Unit::symbol))
}

/// The units that would do.
fn choice(dimension: Dimension) -> String {
    let symbols: Vec<_> = Unit::ALL
        .iter()
        .filter(|unit| unit.dimension() == dimension)
        .map(|unit| if *unit == Unit::One { "no unit" } else { unit.symbol() })
        .chain((dimension == Dimension::Count).then_some("no unit"))
        .collect();
    let all = match symbols.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        _ => symbols.concat(),
    };
    format!("{} in {all}", with_article(dimension_words(dimension).0))
}

fn with_article(name: &str) -> String {
    let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {name}")
}

/// `text` between quotes on one line: what is invisible is made visible, cut after 60 characters.
fn quote(text: &str) -> String {
    let spaced: String = text
        .trim()
        .chars()
        .take(200)
        .map(|c| if c.is_whitespace() && !c.is_control() { ' ' } else { c })
        .collect();
    format!("\"{}\"", shortened(&spaced).replace('"', "\\\""))
}

#[cfg(test)]
mod tests {
    use super::super::read;
    use super::*;
    use proptest::prelude::*;

    fn message(text: &str, dimension: Dimension) -> String {
        read(text, dimension).expect_err(text).at("").to_string()
    }

    #[test]
    fn each_fault_of_a_number_has_its_message() {
        use Dimension::*;
        for (text, dimension, expected) in [
            ("  ", Length, r#"found nothing; expected a length, for example "68 ± 1 µm""#),
            (
                "thick",
                Length,
                r#"found "thick", which does not begin with a number; expected a length, for example "68 ± 1 µm""#,
            ),
            (
                "68 ± µm",
                Length,
                r#"found "68 ± µm", without a number after "±"; expected a length, for example "68 ± 1 µm""#,
            ),
            (
                "60 ... 75 µm",
                Length,
                r#"found "60 ... 75 µm", without a number after ".."; expected a length, for example "68 ± 1 µm""#,
            ),
            (
                "22,4 mg/cm²",
                Loading,
                r#"found "22,4 mg/cm²", with a comma; expected decimals to follow a point ("68.5") and thousands not to be grouped ("1234"), for example "22.4 mg/cm²""#,
            ),
            (
                "NaN V",
                Voltage,
                r#"found "NaN V", not a finite number; expected a voltage, for example "3.65 V""#,
            ),
            (
                "-inf",
                Fraction,
                r#"found "-inf", not a finite number; expected a fraction, for example "66.5 ± 0.4 %""#,
            ),
            (
                "1e999 g",
                Mass,
                r#"found "1e999 g", a size that no cell comes near; expected a mass, for example "70.0 ± 0.1 g""#,
            ),
        ] {
            assert_eq!(message(text, dimension), expected);
        }
    }

    #[test]
    fn each_other_fault_has_its_message() {
        use Dimension::*;
        for (text, dimension, expected) in [
            (
                "68",
                Length,
                r#"found "68", without a unit; expected a length with its unit, for example "68 ± 1 µm""#,
            ),
            (
                "68 ± 2 %",
                Length,
                r#"found "68 ± 2 %", without a unit; expected a length with its unit, for example "68 ± 1 µm""#,
            ),
            (
                "60 % .. 75",
                Fraction,
                r#"found "60 % .. 75", with a unit on the first number only; expected the unit to follow the last number or both, for example "66.5 ± 0.4 %""#,
            ),
            (
                "20 MG/CM2",
                Loading,
                r#"found "20 MG/CM2", in the unknown unit "MG/CM2"; expected a loading in mg/cm² or g/m², for example "22.4 mg/cm²"; perhaps "mg/cm²" was meant"#,
            ),
            (
                "3 parsec",
                Length,
                r#"found "3 parsec", in the unknown unit "parsec"; expected a length in mm, µm, cm or m, for example "68 ± 1 µm""#,
            ),
            (
                "3 laps",
                Count,
                r#"found "3 laps", in the unknown unit "laps"; expected a number of turns in turns or no unit, for example "1.5 turns""#,
            ),
            ("3 mm", Loading, r#"found "3 mm", a length; expected a loading, for example "22.4 mg/cm²""#),
            ("3 mm²", Energy, r#"found "3 mm²", an area; expected an energy, for example "18.1 Wh""#),
            (
                "68 ± -1 µm",
                Length,
                r#"found "68 ± -1 µm", with a negative uncertainty; expected an uncertainty that is zero or more, for example "68 ± 1 µm""#,
            ),
            (
                "75 .. 60 µm",
                Length,
                r#"found "75 .. 60 µm", whose lower bound is above its upper bound; expected the lower bound to come first, for example "60 .. 75 µm""#,
            ),
            (
                "68 µm thick",
                Length,
                r#"found "68 µm thick", with "thick" left over; expected a length, for example "68 ± 1 µm""#,
            ),
            (
                "1 234 µm",
                Length,
                r#"found "1 234 µm", with "234 µm" left over; expected a length, for example "68 ± 1 µm""#,
            ),
            (
                "60 – 75 µm",
                Length,
                r#"found "60 – 75 µm", where a dash may mean a range or a minus; expected a range to be written with two dots ("60 .. 75") and an uncertainty with ±, for example "68 ± 1 µm""#,
            ),
            (
                "(68 ± 1 µm",
                Length,
                r#"found "(68 ± 1 µm", with an open parenthesis; expected a length, for example "68 ± 1 µm""#,
            ),
            (
                "68.0(10) ± 1 µm",
                Length,
                r#"found "68.0(10) ± 1 µm", with more than one uncertainty; expected a length, for example "68 ± 1 µm""#,
            ),
        ] {
            assert_eq!(message(text, dimension), expected);
        }
    }

    #[test]
    fn the_same_fault_in_other_spellings() {
        use Dimension::*;
        for (text, dimension, expected) in [
            ("60-75 µm", Length, "where a dash"),
            ("60 µm − 75 µm", Length, "where a dash"),
            ("60—75 µm", Length, "where a dash"),
            ("68 µm, 5", Length, "left over"),
            ("1,234.5 µm", Length, "with a comma"),
            (",5 µm", Length, "with a comma"),
            ("68 ± 1,5 µm", Length, "with a comma"),
            ("∞ µm", Length, "not a finite"),
            ("68 ± infinity µm", Length, "not a finite"),
            ("1e308 m .. 1e999 m", Length, "no cell comes near"),
            ("1e16 m", Length, "no cell comes near"),
            ("70 ± 1e16 mm", Length, "no cell comes near"),
            ("1.7e308 Ah", Charge, "no cell comes near"),
            ("-1.7e308 .. 1.7e308 m", Length, "no cell comes near"),
            ("68 ± 1 ± 2 µm", Length, "left over"),
            ("68 µm)", Length, "left over"),
            ("68 (10) µm", Length, "left over"),
            ("68(ten) µm", Length, "left over"),
            ("68.5.3 µm", Length, "left over"),
            ("60(1) .. 75 µm", Length, "more than one"),
            ("68 µm ± 1", Length, "first number only"),
            ("(68 ± 2) %", Length, "\", a fraction"),
            ("150 %", Count, "\", a fraction"),
            ("0.5 turns", Fraction, "\", a number of turns"),
            ("5 µm ± 0.1 g", Length, "\", a mass"),
            ("± 1 µm", Length, "does not begin"),
            (".. 75 µm", Length, "does not begin"),
            (". µm", Length, "does not begin"),
            ("e5 µm", Length, "does not begin"),
        ] {
            let found = read(text, dimension).expect_err(text).found;
            assert!(found.contains(expected), "{text}: {found}");
        }
    }

    #[test]
    fn a_place_is_added_by_the_caller() {
        let problem = read("68", Dimension::Length).unwrap_err().at("anode.coating.thickness");
        assert_eq!(problem.place, "anode.coating.thickness");
        assert_eq!(problem.found, "\"68\", without a unit");
    }

    #[test]
    fn what_is_quoted_is_short_and_visible() {
        assert_eq!(quote("a\tb\u{1}\u{202e}\u{a0}'c\""), r#""a\tb\u0001\u202e 'c\"""#);
        assert_eq!(quote(&"µ".repeat(60)), format!("\"{}\"", "µ".repeat(60)));
        assert_eq!(quote(&"µ".repeat(61)), format!("\"{}…\"", "µ".repeat(59)));
    }

    proptest! {
        #[test]
        fn a_quote_stays_short(text in any::<String>()) {
            let quoted = quote(&text);
            prop_assert!(quoted.chars().count() <= 63);
            prop_assert!(!quoted.chars().any(char::is_control));
        }
    }
}
