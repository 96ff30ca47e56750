//! What each column does in the base sheet, and one row's figures.

use crate::cell::{number, text};
use crate::head::Head;
use crate::ranges::Ranges;
use roulade::cell::design::{Blueprint, Design};
use roulade::cell::draft::Draft;
use roulade::cell::evaluator::Evaluator;
use roulade::cell::figures::{Definition, Worked, wanted};
use roulade::material::CurveCache;
use roulade::quantity::problem::{Problem, Problems, shortened};
use roulade::sheet::{Edit, Sheet, all_applied};
use roulade_stats::propagation::FirstOrder;
use roulade_stats::uncertain::{Correlation, Uncertain};
use std::collections::HashMap;
use std::fmt;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

pub use crate::cell::{Cell, Rows};

/// A row that has no figures, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// Its number, counted from 1, the head left out.
    pub row: u64,
    /// The line it stands in, where it comes from a file of lines.
    pub line: Option<u64>,
    /// What is wrong; places are keys of the sheet.
    pub problems: Problems,
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "row {}", self.row)?;
        if let Some(line) = self.line {
            write!(f, " (line {line})")?;
        }
        let all: Vec<String> = self.problems.0.iter().map(ToString::to_string).collect();
        write!(f, ": {}", all.join("; also "))
    }
}

/// Sheets that stand by at most, each for the rows that say the same in columns that decide more than a number.
const MOST_BASES: usize = 256;

/// One base sheet, the columns that vary, and the figures that are asked for.
#[derive(Debug)]
pub struct Plan {
    sheet: Sheet,
    curves: CurveCache,
    heads: Vec<Head>,
    figures: Vec<&'static Definition>,
    spread: bool,
    ranges: Ranges,
    /// Whether the number of each column decides nothing but itself, as it is in the first row that could be read.
    alone: OnceLock<Vec<bool>>,
    bases: Mutex<HashMap<String, Arc<Base>>>,
}

/// The base sheet with what the columns say that decide more than a number.
#[derive(Debug)]
struct Base {
    draft: Draft,
    values: Vec<f64>,
    correlation: Correlation,
    /// For each column, the input that it is the number of, where that decides nothing else.
    inputs: Vec<Option<usize>>,
}

/// Room that one row leaves to the next.
#[derive(Debug, Default)]
pub struct Scratch {
    given: Vec<Option<Uncertain>>,
    values: Vec<f64>,
    key: String,
    /// What the last row said in columns that decide more than a number, and the base for that.
    last: Option<(String, Arc<Base>)>,
    room: Option<Blueprint>,
}

impl Plan {
    /// Columns by their heads, figures by their ids (those that come first where there are none); with standard uncertainties
    /// to first order where `spread` asks for them.
    ///
    /// # Errors
    /// Unknown figures; a key that stands twice.
    pub fn new(sheet: Sheet, heads: Vec<Head>, figures: &[String], spread: bool) -> Result<Self, Problems> {
        let mut problems = Problems::default();
        for (i, head) in heads.iter().enumerate() {
            if heads.iter().take(i).any(|before| before.key == head.key) {
                let found = format!("\"{}\" a second time", shortened(&head.key));
                problems.push(Problem::new(shortened(&head.text), found, "each key to head one column only"));
            }
        }
        let figures =
            wanted(figures, "figures").map_err(|more| problems.0.extend(more.0)).unwrap_or_default();
        let plan = Self {
            ranges: Ranges::of(&heads, &sheet),
            sheet,
            curves: CurveCache::full(),
            heads,
            figures,
            spread,
            alone: OnceLock::new(),
            bases: Mutex::default(),
        };
        // A key that no sheet has is wrong in every row, and is told before the first.
        for head in &plan.heads {
            if let Some(problem) = plan.no_key(head) {
                problems.push(problem);
            }
        }
        problems.or_else_ok(plan)
    }

    /// What is wrong with a key, where an entry cannot be written under it.
    fn no_key(&self, head: &Head) -> Option<Problem> {
        let example = head.field.map_or("", |field| field.example());
        let edit = Edit::Set { key: head.key.clone(), to: example.into() };
        let Err(Problems(problems)) = all_applied(&self.sheet, &[edit]) else { return None };
        // What a word may be differs from key to key: the rows tell.
        let of_key = |problem: &Problem| {
            head.field.is_some()
                || problem.found.starts_with("a key that is not known")
                || problem.found.contains("which the sheet does not have")
        };
        let problem = problems.into_iter().find(of_key)?;
        Some(Problem { place: shortened(&head.text), ..problem })
    }

    /// The columns that vary.
    pub fn heads(&self) -> &[Head] {
        &self.heads
    }

    /// The figures that are asked for.
    pub fn figures(&self) -> &[&'static Definition] {
        &self.figures
    }

    /// Whether each figure has its standard uncertainty behind it.
    pub fn spread(&self) -> bool {
        self.spread
    }

    /// How many numbers a row gives.
    pub fn width(&self) -> usize {
        self.figures.len() * (1 + usize::from(self.spread))
    }

    /// What the columns of figures are called.
    pub fn names(&self) -> Vec<String> {
        let names = |figure: &&'static Definition| {
            let u = self.spread.then(|| crate::name::of_uncertainty(figure));
            std::iter::once(crate::name::of(figure)).chain(u)
        };
        self.figures.iter().flat_map(names).collect()
    }

    /// What looks wrong with what a row says, as the number of its column and a sentence: outside what wound cells have, or
    /// uncertain past what it may be.
    pub fn plausibility(&self, rows: &impl Rows, row: usize) -> Vec<(usize, String)> {
        self.ranges.plausibility(&self.heads, rows, row)
    }

    /// What looks wrong with the entries of the base sheet that no column writes, each in a sentence.
    pub fn plausibility_of_base(&self) -> Vec<String> {
        let Ok(draft) = Draft::read_with(&self.sheet, &self.curves) else { return Vec::new() };
        self.ranges.plausibility_of_base(&self.heads, &draft)
    }

    /// The figures of a row, in the units of their names, appended to `out`; NaN where the cell has no such figure.
    ///
    /// # Errors
    /// Everything wrong with the row, places being keys of the sheet; then nothing is appended.
    pub fn row(
        &self,
        rows: &impl Rows,
        row: usize,
        scratch: &mut Scratch,
        out: &mut Vec<f64>,
    ) -> Result<(), Problems> {
        if let Some(fault) = rows.fault(row) {
            return Err(fault.into());
        }
        let Some(alone) = self.alone.get() else { return self.first(rows, row, out) };
        let Scratch { given, values, key, last, room } = scratch;
        given.clear();
        key.clear();
        let mut problems = Problems::default();
        for (column, (head, alone)) in self.heads.iter().zip(alone).enumerate() {
            let cell = rows.cell(row, column);
            let read = if *alone {
                number(head, cell).map(Some)
            } else {
                // A mark that no text of a table has keeps texts apart.
                text(head, cell).map(|text| {
                    key.push_str(&text);
                    key.push('\u{1f}');
                    None
                })
            };
            match read {
                Ok(read) => given.push(read),
                Err(problem) => problems.push(problem),
            }
        }
        problems.or_else_ok(())?;
        // Most rows say the same as the one before: then no thread waits for others that look among the bases.
        let same = last.take().filter(|(said, _)| said == key);
        let (_, base) = last.insert(if let Some(same) = same {
            same
        } else if let Some(base) = self.base(key) {
            (key.clone(), base)
        } else {
            let base = Arc::new(self.read(rows, row)?);
            self.keep(key, &base);
            (key.clone(), base)
        });
        let both = || given.iter().zip(&base.inputs);
        if both().any(|(given, input)| given.is_some() && input.is_none()) {
            // Beside what this row says, a number decides more than it did in the first.
            let base = self.read(rows, row)?;
            let mut values = base.values.clone();
            return self.figure(&base, &[], &mut values, room, out);
        }
        values.clone_from(&base.values);
        for (given, input) in both() {
            if let (Some(uncertain), Some(input)) = (given, input)
                && let Some(value) = values.get_mut(*input)
            {
                *value = uncertain.value;
            }
        }
        self.figure(base, given, values, room, out)
    }

    /// The first row that can be read says which columns decide nothing but themselves.
    fn first(&self, rows: &impl Rows, row: usize, out: &mut Vec<f64>) -> Result<(), Problems> {
        let base = self.read(rows, row)?;
        let _ = self.alone.set(base.inputs.iter().map(Option::is_some).collect());
        let mut values = base.values.clone();
        self.figure(&base, &[], &mut values, &mut None, out)
    }

    /// The base sheet with all entries of a row, read as any sheet is.
    fn read(&self, rows: &impl Rows, row: usize) -> Result<Base, Problems> {
        let mut problems = Problems::default();
        let mut edits = Vec::with_capacity(self.heads.len());
        for (column, head) in self.heads.iter().enumerate() {
            match text(head, rows.cell(row, column)) {
                Ok(text) => edits.push(Edit::Set { key: head.key.clone(), to: text.into() }),
                Err(problem) => problems.push(problem),
            }
        }
        problems.or_else_ok(())?;
        let places = |mut problem: Problem| {
            // The number of an edit is of no use to whoever wrote a table.
            if let Some((_, place)) =
                problem.place.strip_prefix("edits[").and_then(|rest| rest.split_once("]."))
            {
                problem.place = place.to_owned();
            }
            problem
        };
        let mut sheet = all_applied(&self.sheet, &edits)
            .map_err(|Problems(problems)| Problems(problems.into_iter().map(places).collect()))?;
        if self.sheet.correlated.is_some() {
            sheet = Draft::settled(&self.sheet, sheet);
        }
        let draft = Draft::read_with(&sheet, &self.curves)?;
        Ok(Base {
            values: draft.values(),
            correlation: draft.correlation().clone(),
            inputs: self.heads.iter().map(|head| head.field.and_then(|_| draft.alone(&head.key))).collect(),
            draft,
        })
    }

    fn base(&self, key: &str) -> Option<Arc<Base>> {
        self.bases.lock().unwrap_or_else(PoisonError::into_inner).get(key).cloned()
    }

    fn keep(&self, key: &str, base: &Arc<Base>) {
        let mut bases = self.bases.lock().unwrap_or_else(PoisonError::into_inner);
        if bases.len() >= MOST_BASES {
            bases.clear();
        }
        bases.insert(key.to_owned(), Arc::clone(base));
    }

    /// The figures at some values of a base's inputs, what follows from them filled in anew.
    fn figure(
        &self,
        base: &Base,
        given: &[Option<Uncertain>],
        values: &mut [f64],
        room: &mut Option<Blueprint>,
        out: &mut Vec<f64>,
    ) -> Result<(), Problems> {
        let blueprint = base.draft.refilled_at(values, room.take());
        let worked = Worked::of(Design::new(blueprint)?)?;
        if !self.spread {
            let figure = |figure: &&'static Definition| {
                (figure.of)(&worked).map_or(f64::NAN, |value| value / figure.unit.in_si())
            };
            out.extend(self.figures.iter().map(figure));
            *room = Some(worked.design.into_blueprint());
            return Ok(());
        }
        let all = |worked: &Worked| -> Vec<f64> {
            self.figures.iter().map(|figure| (figure.of)(worked).unwrap_or(f64::NAN)).collect()
        };
        let best = all(&worked);
        let mut uncertain: Vec<Uncertain> = base.draft.inputs().iter().map(|input| input.uncertain).collect();
        for (given, input) in given.iter().zip(&base.inputs) {
            if let (Some(given), Some(input)) = (given, input)
                && let Some(uncertain) = uncertain.get_mut(*input)
            {
                *uncertain = *given;
            }
        }
        if let Some((input, follows)) = base.draft.follows_at(values)
            && let Some(uncertain) = uncertain.get_mut(input)
        {
            *uncertain = follows;
        }
        let mut evaluator = Evaluator::of(&base.draft);
        let spread = FirstOrder::of(&uncertain, &base.correlation, &best, |values| {
            Some(all(evaluator.at(values).ok()?))
        });
        for (i, (figure, value)) in self.figures.iter().zip(&best).enumerate() {
            let si = figure.unit.in_si();
            out.extend([value / si, if value.is_nan() { f64::NAN } else { spread.u(i) / si }]);
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests;
