//! A claim as one line of text, or in parts, and what can be wrong with either.
//!
//! ```text
//! claim  = any order of: relation, value, figure, "over the other cell", basis, load, window
//! value  = number [ "±" number ] unit
//! load   = "open circuit" | "under load" | [ "at" ] number ("C" | "It")
//! window = "between" number "and" number "V"        (or "from" … "to" …)
//!        | "charged to" number "V" | "down to" number "V"
//! ```
//!
//! and, also in any order, "minimum" or "typical" and a temperature in °C. A unit that only one figure has says which figure
//! is meant: Wh/L, Wh/kg, Ah, Wh, g, V, mΩ.

use super::basis::Basis;
use super::declared::{Claim, Relation, Standing};
use super::phrases::{LONGEST, Meaning, PHRASES, begins_phrase, meaning};
use super::said::{Claimed, Said};
use crate::cell::figures::FIGURES;
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems, hint, nearest, shortened};
use crate::sheet::unknown_keys;
use roulade_stats::decimal;

use Meaning::{Between, ChargedTo, DownTo, Figure, Load, Nothing, Over};

/// The parts of a claim, each as it was written.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Parts {
    /// Which figure.
    pub figure: Option<&'static str>,
    /// Which relation.
    pub relation: Option<Relation>,
    /// Number and unit.
    pub value: Option<String>,
    /// Whether it is a change over the other cell; −1 for one below it.
    pub over: Option<f64>,
    /// Which basis.
    pub basis: Option<Basis>,
    /// Voltage limits, as a range.
    pub window: Option<String>,
    /// Whether it is meant under load.
    pub load: Option<bool>,
    /// The rate, as it was written.
    pub rate: Option<String>,
    /// What it is charged to, as it was written.
    pub charged: Option<String>,
    /// What it is discharged to, as it was written.
    pub discharged: Option<String>,
    /// The temperature, as it was written.
    pub temperature: Option<String>,
    /// Minimum or typical.
    pub standing: Option<Standing>,
}

pub(super) const EXAMPLE: &str =
    "for example \"at least 290 Wh/kg\" or \"12 % over the other cell per volume\"";

impl Claim {
    /// Reads a claim, whether a line of text or its parts.
    ///
    /// ```
    /// use roulade::study::claim::{ComparedAs, Claim, Said};
    /// let claim = Claim::read(&Said::Words("12 % over the other cell per volume".to_owned()))?;
    /// assert_eq!((claim.figure.id, claim.over), ("volumetric", Some(ComparedAs::Share)));
    /// # Ok::<(), roulade::quantity::problem::Problems>(())
    /// ```
    ///
    /// # Errors
    /// Everything wrong with it; places begin with `claim`.
    pub fn read(said: &Said) -> Result<Self, Problems> {
        match said {
            Said::Words(text) => Self::of(&Parts::of_text(text)?, &|_| "claim".to_owned()),
            Said::Parts(parts) => Self::of(&Parts::of_object(parts)?, &|part| {
                format!("claim.{part}").trim_end_matches('.').to_owned()
            }),
        }
    }
}

/// Number, tolerance and unit of "290 ± 5 Wh/kg".
pub(super) fn split(value: &str) -> (String, Option<String>, String) {
    let tokens = tokens(value);
    let mut rest = tokens.iter().map(String::as_str);
    let number = rest.next().unwrap_or_default().to_owned();
    let rest: Vec<&str> = rest.collect();
    match rest.as_slice() {
        ["±", tolerance, unit @ ..] => (number, Some((*tolerance).to_owned()), unit.join(" ")),
        unit => (number, None, unit.join(" ")),
    }
}

fn is_number(token: &str) -> bool {
    token.trim_start_matches(['-', '+', '.']).starts_with(|c: char| c.is_ascii_digit())
}

/// Words, numbers, units and marks, one after another.
fn tokens(text: &str) -> Vec<String> {
    let mut spaced = text.replace('−', "-").replace("+/-", "±").replace("+-", "±");
    for mark in ["±", "..", "≥", "≤", "≈", "~", ">=", "<="] {
        spaced = spaced.replace(mark, &format!(" {mark} "));
    }
    let mut tokens = Vec::new();
    for word in spaced.split_whitespace() {
        let word = word.trim_matches(|c| matches!(c, '"' | '“' | '”' | ';' | ',' | ':' | '(' | ')'));
        if !is_number(word) {
            tokens.push(word.to_owned());
            continue;
        }
        // "12%" and "290Wh/kg": the unit begins with the first letter that is no exponent.
        let unit = word.char_indices().find(|(i, c)| {
            let after = word.get(i + 1..).unwrap_or_default();
            let power = after.trim_start_matches(['-', '+']).starts_with(|c: char| c.is_ascii_digit());
            !(c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+') || (matches!(c, 'e' | 'E') && power))
        });
        let (number, unit) = word.split_at(unit.map_or(word.len(), |(i, _)| i));
        tokens.extend([number, unit].into_iter().filter(|part| !part.is_empty()).map(str::to_owned));
    }
    tokens.retain(|token| !token.is_empty());
    tokens
}

/// One limit of the voltage from the front of the tokens: "4.2 V".
fn limit<'a>(
    slot: &mut Option<String>,
    tokens: &'a [String],
    example: &str,
) -> Result<&'a [String], Problems> {
    let [number, rest @ ..] = tokens else {
        return Err(Problem::new(
            "claim",
            "a voltage limit that breaks off",
            format!("a voltage limit, for example \"{example}\""),
        )
        .into());
    };
    if !is_number(number) {
        let found = format!("\"{}\" as a voltage limit", shortened(number));
        return Err(
            Problem::new("claim", found, format!("a voltage limit, for example \"{example}\"")).into()
        );
    }
    *slot = Some(format!("{number} V"));
    Ok(match rest {
        [unit, rest @ ..] if unit == "V" => rest,
        rest => rest,
    })
}

impl Parts {
    /// Finds the parts in a line of text.
    pub(super) fn of_text(text: &str) -> Result<Self, Problems> {
        let wrong = |found: String, expected: &str| Problems::from(Problem::new("claim", found, expected));
        let tokens = tokens(text);
        if tokens.is_empty() {
            return Err(wrong("nothing".to_owned(), &format!("a claim, {EXAMPLE}")));
        }
        let mut parts = Self::default();
        let mut rest = tokens.as_slice();
        while let Some(first) = rest.first() {
            // "C/3"
            if let Some(hours) = first.strip_prefix("C/").and_then(decimal::number)
                && hours > 0.0
            {
                parts.rate = Some(format!("{} C", 1.0 / hours));
                rest = rest.get(1..).unwrap_or_default();
                continue;
            }
            if is_number(first) {
                rest = parts.number(rest)?;
                continue;
            }
            let longest = (1..=rest.len().min(LONGEST)).rev().find_map(|n| {
                let (words, after) = rest.split_at_checked(n)?;
                Some((meaning(&words.join(" ").to_lowercase().replace(',', ""))?, after))
            });
            let Some((found, after)) = longest else {
                let words = PHRASES.iter().flat_map(|(phrase, _)| phrase.split(' '));
                let near = nearest(first, words.chain(FIGURES.iter().map(|figure| figure.id)))
                    .filter(|near| *near != first.to_lowercase());
                let hint = hint(near);
                let found = format!("\"{}\", a word that a claim does not have", shortened(first));
                return Err(wrong(found, &format!("words of a claim, {EXAMPLE}{hint}")));
            };
            rest = match found {
                Between => parts.between(after)?,
                ChargedTo => limit(&mut parts.charged, after, "charged to 4.2 V")?,
                DownTo => limit(&mut parts.discharged, after, "down to 2.5 V")?,
                _ => after,
            };
            parts.add(found).map_err(|found| wrong(found, "a claim to state one value of one figure"))?;
        }
        Ok(parts)
    }

    /// A value, or a window, from the front of the tokens.
    fn number<'a>(&mut self, tokens: &'a [String]) -> Result<&'a [String], Problems> {
        let wrong = |found: String, expected: &str| Problems::from(Problem::new("claim", found, expected));
        if let [low, dots, high, unit, after @ ..] = tokens
            && dots == ".."
        {
            if unit != "V" {
                let found = format!("a range, \"{} .. {}\"", shortened(low), shortened(high));
                return Err(wrong(
                    found,
                    "one value, with its tolerance where it has one, for example \"750 ± 20 Wh/L\"",
                ));
            }
            self.window = Some(format!("{low} .. {high} V"));
            return Ok(after);
        }
        let (mut value, mut rest) = match tokens {
            [number, mark, tolerance, rest @ ..] if mark == "±" => (format!("{number} ± {tolerance}"), rest),
            [number, rest @ ..] => (number.clone(), rest),
            [] => return Ok(tokens),
        };
        if let [unit, after @ ..] = rest
            && (unit == "C" || unit == "It")
        {
            self.rate = Some(format!("{value} C"));
            return Ok(after);
        }
        if let [unit, after @ ..] = rest
            && unit == "°C"
        {
            self.temperature = Some(format!("{value} °C"));
            return Ok(after);
        }
        for n in [2, 1] {
            if let Some((words, after)) = rest.split_at_checked(n)
                && (notation::unit(&words.join(" ")).is_some() || n == 1 && !begins_phrase(&words.join(" ")))
            {
                value = format!("{value} {}", words.join(" "));
                rest = after;
                break;
            }
        }
        if let Some(before) = self.value.replace(value.clone()) {
            return Err(wrong(
                format!("two values, \"{}\" and \"{}\"", shortened(&before), shortened(&value)),
                "a claim to state one value of one figure",
            ));
        }
        Ok(rest)
    }

    /// "2.5 and 4.2 V", "2.5 V to 4.2 V".
    fn between<'a>(&mut self, tokens: &'a [String]) -> Result<&'a [String], Problems> {
        let unit = |rest: &'a [String]| match rest {
            [unit, rest @ ..] if unit == "V" => rest,
            rest => rest,
        };
        if let [low, rest @ ..] = tokens
            && let [joint, high, rest @ ..] = unit(rest)
            && is_number(low)
            && is_number(high)
            && (joint == "and" || joint == "to")
        {
            self.window = Some(format!("{low} .. {high} V"));
            return Ok(unit(rest));
        }
        Err(Problem::new(
            "claim",
            "voltage limits that break off",
            "two voltage limits, for example \"between 2.5 and 4.2 V\"",
        )
        .into())
    }

    fn add(&mut self, meaning: Meaning) -> Result<(), String> {
        fn once<T: PartialEq>(slot: &mut Option<T>, value: T, what: &str) -> Result<(), String> {
            let other = slot.as_ref().is_some_and(|before| *before != value);
            *slot = Some(value);
            if other { Err(format!("two {what}")) } else { Ok(()) }
        }
        match meaning {
            Meaning::Relation(relation) => once(&mut self.relation, relation, "relations"),
            Meaning::Figure(figure) => once(&mut self.figure, figure, "figures"),
            Meaning::Basis(basis) => once(&mut self.basis, basis, "bases"),
            Meaning::Over(sign) => once(&mut self.over, sign, "comparisons"),
            Meaning::Load(load) => once(&mut self.load, load, "loads"),
            Meaning::Standing(standing) => once(&mut self.standing, standing, "of minimum and typical"),
            Between | ChargedTo | DownTo | Nothing => Ok(()),
        }
    }

    /// The parts of an object.
    #[allow(clippy::too_many_lines, reason = "one part after another")]
    fn of_object(object: &Claimed) -> Result<Self, Problems> {
        let mut problems = Problems::default();
        let mut parts = Self {
            value: object.value.clone(),
            window: object.window.clone(),
            temperature: object.temperature.clone(),
            charged: object.charged_to.clone(),
            discharged: object.down_to.clone(),
            ..Self::default()
        };
        match object.rate.as_deref().map(|rate| (rate, meaning(&rate.trim().to_lowercase()))) {
            Some((_, Some(Load(load)))) => parts.load = Some(load),
            Some((rate, _)) => parts.rate = Some(rate.to_owned()),
            None => {}
        }
        unknown_keys(&mut problems, "claim", &object.unknown, Claimed::KEYS);
        let over = object.over.as_ref().map(|over| {
            let over = over.to_lowercase();
            if over.contains("other") && meaning(&over).is_none() { format!("over {over}") } else { over }
        });
        for (key, text, expected) in [
            (
                "figure",
                &object.figure,
                "\"per volume\", \"per mass\", \"capacity\", or the name of another figure",
            ),
            ("relation", &object.relation, "\"at least\", \"at most\" or \"about\""),
            ("over", &over, "\"the other cell\""),
            (
                "basis",
                &object.basis,
                "\"cell\", \"with sleeve\", \"without sleeve\", \"nominal size\", \"inside of the can\" or \"jelly roll\"",
            ),
            ("standing", &object.standing, "\"minimum\" or \"typical\""),
        ] {
            let Some(text) = text else { continue };
            let found = meaning(&text.trim().to_lowercase().replace(',', ""));
            let fits = match (key, found) {
                ("figure", Some(Figure(_)))
                | ("relation", Some(Meaning::Relation(_)))
                | ("over", Some(Over(_)))
                | ("basis", Some(Meaning::Basis(_)))
                | ("standing", Some(Meaning::Standing(_))) => found,
                _ => None,
            };
            if fits.is_none_or(|fits| parts.add(fits).is_err()) {
                let near = nearest(text, FIGURES.iter().map(|figure| figure.id)).filter(|_| key == "figure");
                let hint = hint(near);
                let place = format!("claim.{key}");
                problems.push(Problem::new(
                    place,
                    format!("\"{}\"", shortened(text)),
                    format!("{expected}{hint}"),
                ));
            }
        }
        problems.or_else_ok(parts)
    }
}
