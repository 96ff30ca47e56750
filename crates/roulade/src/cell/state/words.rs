//! A state as it is written: words in any order, between commas or semicolons.

use super::{Charge, Pores, State};
use crate::quantity::notation;
use crate::quantity::problem::{Problem, hint, nearest, shortened};
use crate::quantity::units::{Dimension, Unit};
use roulade_stats::uncertain::Uncertain;
use std::fmt;

/// Words that stand alone.
const WORDS: [&str; 11] = [
    "as built",
    "before formation",
    "after formation",
    "formed",
    "charged",
    "discharged",
    "washed",
    "dried",
    "wet",
    "before opening",
    "opened",
];

fn expected() -> String {
    "words between commas: \"as built\", or \"after formation\" with \"charged\", \"discharged\", \"discharged to 3.0 V\" or \
     \"at 30 %\", with \"washed\", \"dried\" or \"wet\", and with \"before opening\" or \"opened\""
        .to_owned()
}

impl State {
    /// Reads a state.
    ///
    /// A word for the pores says nothing without one for the formation. A cell after its formation is taken to be
    /// discharged where nothing else is said; electrodes that are called dried and not washed keep their salt.
    ///
    /// # Errors
    /// A word that is not known, or two that exclude one another; the place is left to the caller.
    ///
    /// # Example
    /// ```
    /// use roulade::cell::state::{Charge, Pores, State};
    /// let state = State::read("washed; after formation, discharged to 2,5 V")?;
    /// assert_eq!((state.formed, state.pores), (Some(Charge::Voltage(2.5)), Some(Pores::Washed)));
    /// # Ok::<(), roulade::quantity::problem::Problem>(())
    /// ```
    pub fn read(text: &str) -> Result<Self, Problem> {
        let mut said = Said::default();
        for word in words(text) {
            said.take(&word).map_err(|found| Problem::new("", found, expected() + &near(&word)))?;
        }
        said.state().map_err(|found| Problem::new("", found, expected()))
    }
}

/// What a text says, before it is known to hold together.
#[derive(Default)]
struct Said {
    formed: Option<bool>,
    charge: Option<Charge>,
    washed: bool,
    pores: Option<Pores>,
    opened: Option<bool>,
}

impl Said {
    fn take(&mut self, word: &str) -> Result<(), String> {
        match word.to_ascii_lowercase().as_str() {
            "as built" | "before formation" => set(&mut self.formed, false, word)?,
            "after formation" | "formed" => set(&mut self.formed, true, word)?,
            "charged" => set(&mut self.charge, Charge::Charged, word)?,
            "discharged" => set(&mut self.charge, Charge::Discharged, word)?,
            // Washed electrodes are dried afterwards.
            "washed" => self.washed = true,
            "dried" | "unwashed" => set(&mut self.pores, Pores::Dried, word)?,
            "wet" => set(&mut self.pores, Pores::Wet, word)?,
            "before opening" => set(&mut self.opened, false, word)?,
            "opened" => set(&mut self.opened, true, word)?,
            _ => set(&mut self.charge, charge(word)?, word)?,
        }
        Ok(())
    }

    fn state(self) -> Result<State, String> {
        let formed = match (self.formed, self.charge) {
            (Some(false), Some(_)) => return Err("a state of charge of a cell as built".to_owned()),
            (Some(false) | None, None) => None,
            (_, charge) => Some(charge.unwrap_or(Charge::Discharged)),
        };
        let pores = match (self.washed, self.pores) {
            (true, Some(Pores::Wet)) => return Err("both washed and wet".to_owned()),
            (true, _) => Some(Pores::Washed),
            (false, pores) => pores,
        };
        if pores.is_some() && formed.is_none() && self.formed.is_none() {
            return Err("washed, dried or wet, and not whether before formation or after".to_owned());
        }
        Ok(State { formed, pores, opened: self.opened.unwrap_or(false) })
    }
}

fn set<T: PartialEq>(slot: &mut Option<T>, to: T, word: &str) -> Result<(), String> {
    if slot.as_ref().is_some_and(|there| *there != to) {
        return Err(format!("\"{}\" beside another word that excludes it", shortened(word)));
    }
    *slot = Some(to);
    Ok(())
}

/// "charged to 4.2 V", "discharged to 3 V", "at 3.7 V", "at 30 %".
fn charge(word: &str) -> Result<Charge, String> {
    let unknown = || format!("\"{}\", a word that is not known", shortened(word));
    let begins = ["charged to ", "discharged to ", "at "];
    let after = |begin: &&str| {
        let (head, rest) = word.split_at_checked(begin.len())?;
        head.eq_ignore_ascii_case(begin).then_some(rest)
    };
    let number = begins.iter().find_map(after).ok_or_else(unknown)?;
    if let Ok(uncertain) = notation::read(number, Dimension::Voltage) {
        return if uncertain.value > 0.0 { Ok(Charge::Voltage(uncertain.value)) } else { Err(unknown()) };
    }
    let share = number.trim_end_matches("state of charge").trim();
    match notation::read(share, Dimension::Fraction) {
        Ok(uncertain) if share.contains('%') && (0.0..=1.0).contains(&uncertain.value) => {
            Ok(Charge::Share(uncertain.value))
        }
        _ => Err(unknown()),
    }
}

/// The words of a text, decimal commas as points.
fn words(text: &str) -> Vec<String> {
    let chars: Vec<char> = text.chars().collect();
    let digit = |i: Option<usize>| i.and_then(|i| chars.get(i)).is_some_and(char::is_ascii_digit);
    let marked = chars.iter().enumerate().map(|(i, c)| match c {
        ',' if digit(i.checked_sub(1)) && digit(Some(i + 1)) => '.',
        ',' => ';',
        '_' => ' ',
        other => *other,
    });
    let marked: String = marked.collect();
    let plain = |word: &str| word.split_whitespace().collect::<Vec<_>>().join(" ");
    marked.split(';').map(plain).filter(|word| !word.is_empty()).collect()
}

fn near(word: &str) -> String {
    hint(nearest(word, WORDS.iter().copied()).filter(|near| *near != word))
}

impl fmt::Display for State {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let formed = match self.formed {
            None if self.pores.is_none() && self.opened => None,
            None => Some("as built".to_owned()),
            Some(Charge::Discharged) => Some("after formation, discharged".to_owned()),
            Some(Charge::Charged) => Some("after formation, charged".to_owned()),
            Some(Charge::Voltage(volts)) => Some(format!(
                "after formation, at {}",
                notation::print_brief(&Uncertain::exact(volts), Unit::Volt)
            )),
            Some(Charge::Share(share)) => Some(format!(
                "after formation, at {}",
                notation::print_brief(&Uncertain::exact(share), Unit::Percent)
            )),
        };
        let pores = self.pores.map(|pores| match pores {
            Pores::Washed => "washed".to_owned(),
            Pores::Dried => "dried".to_owned(),
            Pores::Wet => "wet".to_owned(),
        });
        let opened = self.opened.then(|| "opened".to_owned());
        f.write_str(&[formed, pores, opened].into_iter().flatten().collect::<Vec<_>>().join(", "))
    }
}
