//! Runs a target: input after input, each in its own guard, what fails kept once for each way to fail.

use super::luck::Luck;
use super::oracle::Verdict;
use super::sheets::Bases;
use super::targets::Target;
use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};

/// What became of a target.
#[derive(Default)]
pub(crate) struct Tally {
    pub(crate) executions: u64,
    pub(crate) answered: u64,
    /// A failure without its numbers, and the first input that gave it.
    pub(crate) finds: BTreeMap<String, (String, String)>,
    /// The slowest execution, and its input.
    pub(crate) slowest: (Duration, String),
}

/// One input, a panic counted as a failure.
pub(crate) fn checked(target: &Target, input: &str) -> Verdict {
    catch_unwind(AssertUnwindSafe(|| (target.check)(input))).unwrap_or_else(|panic| {
        let text = panic.downcast_ref::<String>().map(String::as_str);
        Err(format!(
            "a panic: {}",
            text.or_else(|| panic.downcast_ref::<&str>().copied()).unwrap_or("without words")
        ))
    })
}

impl Tally {
    /// Runs a target while `on` says so, which is asked with the number of executions so far.
    pub(crate) fn run(&mut self, target: &Target, bases: &Bases, seed: u64, mut on: impl FnMut(u64) -> bool) {
        let mut luck = Luck::of(seed);
        while on(self.executions) {
            let input = (target.make)(&mut luck, bases);
            let start = Instant::now();
            let verdict = checked(target, &input);
            let took = start.elapsed();
            self.executions += 1;
            if took > self.slowest.0 {
                self.slowest = (took, input.clone());
            }
            match verdict {
                Ok(answered) => self.answered += u64::from(answered),
                Err(why) => drop(self.finds.entry(kind(&why)).or_insert((why, input))),
            }
        }
    }
}

/// A failure without what changes from input to input: numbers, and what stands in quotation marks.
fn kind(why: &str) -> String {
    let bare: String = why.split('"').step_by(2).collect::<Vec<_>>().join("…");
    let mut short = String::new();
    for c in bare.chars().map(|c| if c.is_ascii_digit() { '#' } else { c }).take(40) {
        if !(c == '#' && short.ends_with('#')) {
            short.push(c);
        }
    }
    short
}
