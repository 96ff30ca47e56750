//! Under which conditions something electrical was read: "2.5 Ah, 0.1 A", "10 s, 50 %, 25 °C", "3.0 .. 4.3 V".

use crate::quantity::notation;
use crate::quantity::problem::{Problem, shortened};
use crate::quantity::units::{Dimension, Unit};
use roulade_stats::decimal;
use roulade_stats::uncertain::{Spread, Uncertain};
use std::fmt;

/// A condition that some quantities are read under.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Condition {
    /// Capacity drawn from the full cell.
    Drawn,
    /// Current of the discharge.
    Current,
    /// Length of a pulse up to the reading.
    Length,
    /// State of charge.
    Share,
    /// Temperature.
    Temperature,
    /// Cut-off voltages against lithium.
    Window,
}

impl Condition {
    const ALL: [Self; 6] =
        [Self::Drawn, Self::Current, Self::Length, Self::Share, Self::Temperature, Self::Window];

    fn words(self) -> &'static str {
        match self {
            Self::Drawn => "the capacity drawn from the full cell, \"2.5 Ah\"",
            Self::Current => "the current, \"0.1 A\"",
            Self::Length => "the pulse's length, \"10 s\"",
            Self::Share => "the state of charge, \"50 %\"",
            Self::Temperature => "the temperature, \"25 °C\"",
            Self::Window => "the two cut-off voltages against lithium, \"3.0 .. 4.3 V\"",
        }
    }
}

/// The conditions of a reading, SI but for the temperature, °C.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Conditions {
    /// Charge drawn from the full cell, C.
    pub drawn: Option<f64>,
    /// Current, A.
    pub current: Option<f64>,
    /// Length of the pulse, s.
    pub length: Option<f64>,
    /// State of charge.
    pub share: Option<f64>,
    /// Temperature, °C.
    pub celsius: Option<f64>,
    /// Lower and upper cut-off voltage against lithium, V.
    pub window: Option<(f64, f64)>,
}

impl Conditions {
    /// Reads conditions of a quantity that takes some of them and must have `needs`.
    ///
    /// # Errors
    /// What is no condition, or none of that quantity, or there twice; one that is missing. The place is left to the caller.
    ///
    /// # Example
    /// ```
    /// use roulade::study::readings::conditions::{Condition, Conditions};
    /// let takes = [Condition::Drawn, Condition::Current];
    /// let read = Conditions::read("0,1 A; 2.5 Ah", &takes, Some(Condition::Drawn))?;
    /// assert_eq!((read.drawn, read.current), (Some(9000.0), Some(0.1)));
    /// # Ok::<(), roulade::quantity::problem::Problem>(())
    /// ```
    pub fn read(text: &str, takes: &[Condition], needs: Option<Condition>) -> Result<Self, Problem> {
        let mut read = Self::default();
        let expected = || match takes {
            [] => "no words, since this quantity is read under no conditions".to_owned(),
            takes => {
                let words: Vec<&str> = takes.iter().map(|one| one.words()).collect();
                format!("words between commas: {}", words.join(", "))
            }
        };
        for word in notation_words(text) {
            let refused =
                |what: &str| Problem::new("", format!("\"{}\", {what}", shortened(&word)), expected());
            let condition = read.take(&word).ok_or_else(|| refused("which is no condition"))?;
            let (condition, again) = condition;
            if !takes.contains(&condition) {
                return Err(refused("a condition that this quantity is not read under"));
            }
            if again {
                return Err(refused("a second one of its kind"));
            }
        }
        match needs {
            Some(needs) if !read.has(needs) => {
                Err(Problem::new("", format!("no word of {}", needs.words()), expected()))
            }
            _ => Ok(read),
        }
    }

    /// Whether nothing is said.
    pub fn none(&self) -> bool {
        *self == Self::default()
    }

    fn has(&self, condition: Condition) -> bool {
        match condition {
            Condition::Drawn => self.drawn.is_some(),
            Condition::Current => self.current.is_some(),
            Condition::Length => self.length.is_some(),
            Condition::Share => self.share.is_some(),
            Condition::Temperature => self.celsius.is_some(),
            Condition::Window => self.window.is_some(),
        }
    }

    /// Takes one word: which condition it is, and whether that was there before.
    fn take(&mut self, word: &str) -> Option<(Condition, bool)> {
        let read = |dimension| notation::read(word, dimension).ok();
        let (condition, uncertain) = Condition::ALL.into_iter().find_map(|condition| {
            let uncertain = match condition {
                Condition::Drawn => read(Dimension::Charge).filter(|uncertain| uncertain.value >= 0.0),
                Condition::Current => read(Dimension::Current).filter(|uncertain| uncertain.value >= 0.0),
                Condition::Length => seconds(word),
                Condition::Share => {
                    let per_cent = word.contains('%').then(|| read(Dimension::Fraction)).flatten();
                    per_cent.filter(|uncertain| (0.0..=1.0).contains(&uncertain.value))
                }
                Condition::Temperature => read(Dimension::Temperature)
                    .filter(|uncertain| uncertain.value > -273.15 && word.contains(['C', '℃'])),
                Condition::Window => read(Dimension::Voltage)
                    .filter(|uncertain| matches!(uncertain.spread, Spread::Range { .. })),
            };
            uncertain.map(|uncertain| (condition, uncertain))
        })?;
        let again = self.has(condition);
        let value = Some(uncertain.value);
        match condition {
            Condition::Drawn => self.drawn = value,
            Condition::Current => self.current = value,
            Condition::Length => self.length = value,
            Condition::Share => self.share = value,
            Condition::Temperature => self.celsius = value,
            Condition::Window => {
                self.window = match uncertain.spread {
                    Spread::Range { low, high } => Some((low, high)),
                    _ => None,
                };
            }
        }
        Some((condition, again))
    }
}

/// A time: "10 s", "100 ms", "1 min".
fn seconds(word: &str) -> Option<Uncertain> {
    let units = [("ms", 1e-3), ("min", 60.0), ("s", 1.0)];
    let (number, unit) = units.iter().find_map(|(name, unit)| Some((word.strip_suffix(name)?, unit)))?;
    let number = decimal::number(number.trim())?;
    (number > 0.0 && number.is_finite()).then(|| Uncertain::exact(number * unit))
}

/// Words between commas and semicolons; a comma between digits is a decimal one.
fn notation_words(text: &str) -> Vec<String> {
    let chars: Vec<char> = text.chars().collect();
    let digit = |i: Option<usize>| i.and_then(|i| chars.get(i)).is_some_and(char::is_ascii_digit);
    let marked: String = (0..chars.len())
        .filter_map(|i| {
            let c = *chars.get(i)?;
            let decimal = c == ',' && digit(i.checked_sub(1)) && digit(Some(i + 1));
            Some(if decimal {
                '.'
            } else if c == ',' {
                ';'
            } else {
                c
            })
        })
        .collect();
    marked.split(';').map(|word| word.trim().to_owned()).filter(|word| !word.is_empty()).collect()
}

impl fmt::Display for Conditions {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let in_unit = |value: Option<f64>, unit| {
            value.map(|value| notation::print_brief(&Uncertain::exact(value), unit))
        };
        let window =
            self.window.map(|(low, high)| notation::print_brief(&Uncertain::range(low, high), Unit::Volt));
        let all = [
            in_unit(self.drawn, Unit::AmpereHour),
            in_unit(self.current, Unit::Ampere),
            self.length.map(|length| format!("{length} s")),
            in_unit(self.share, Unit::Percent),
            in_unit(self.celsius, Unit::Celsius),
            window,
        ];
        f.write_str(&all.into_iter().flatten().collect::<Vec<_>>().join(", "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn in_any_order_and_back() {
        let pulse = [Condition::Length, Condition::Share, Condition::Temperature];
        for text in ["10 s, 50 %, 25 °C", "25 °C; 10 s; 50 %", "50%,25 °C,10s"] {
            let read = Conditions::read(text, &pulse, None).unwrap();
            assert_eq!(
                (read.length, read.share, read.celsius),
                (Some(10.0), Some(0.5), Some(25.0)),
                "{text}"
            );
            assert_eq!(Conditions::read(&read.to_string(), &pulse, None).unwrap(), read);
        }
        assert_eq!(Conditions::read("100 ms", &pulse, None).unwrap().length, Some(0.1));
        let window = Conditions::read("3,0 .. 4,3 V", &[Condition::Window], None).unwrap();
        assert_eq!(window.window, Some((3.0, 4.3)));
        assert_eq!(window.to_string(), "3 .. 4.3 V");
        assert!(Conditions::read("", &pulse, None).unwrap().none());
    }

    #[test]
    fn what_is_none_is_refused_in_words() {
        let drawn = [Condition::Drawn, Condition::Current];
        let refusal = |text: &str, takes: &[Condition]| {
            Conditions::read(text, takes, takes.first().copied()).unwrap_err().to_string()
        };
        assert!(refusal("", &drawn).contains("no word of the capacity drawn"));
        assert!(
            refusal("2.5 Ah, 10 s", &drawn)
                .contains("\"10 s\", a condition that this quantity is not read under")
        );
        assert!(refusal("2.5 Ah, 2.6 Ah", &drawn).contains("a second one of its kind"));
        assert!(refusal("2.5 Ah, slowly", &drawn).contains("which is no condition"));
        assert!(refusal("130 %", &[Condition::Share]).contains("which is no condition"));
        assert!(Conditions::read("25 °C", &[], None).unwrap_err().to_string().contains("no conditions"));
    }
}
