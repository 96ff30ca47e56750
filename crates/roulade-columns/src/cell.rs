//! What a cell of a table says, as a number or as it would stand in the sheet.

use crate::head::Head;
use roulade::quantity::notation;
use roulade::quantity::problem::{Problem, shortened};
use roulade_stats::uncertain::{Spread, Uncertain};
use std::fmt::Write as _;

/// One cell of a table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cell<'a> {
    /// Nothing stands there.
    Nothing,
    /// A number.
    Number(f64),
    /// A text, which may be that of a number.
    Text(&'a str),
}

/// Rows of cells.
pub trait Rows: Sync {
    /// How many.
    fn count(&self) -> usize;

    /// What stands in a row in a column of what varies, both counted from 0.
    fn cell(&self, row: usize, column: usize) -> Cell<'_>;

    /// What is wrong with a row whatever its cells hold.
    fn fault(&self, _row: usize) -> Option<Problem> {
        None
    }

    /// The line of its file that a row stands in, counted from 1.
    fn line(&self, _row: usize) -> Option<u64> {
        None
    }
}

/// What a cell says under a key whose number decides nothing but itself.
pub(crate) fn number(head: &Head, cell: Cell<'_>) -> Result<Uncertain, Problem> {
    let Some(field) = head.field else { return Err(nothing(head)) };
    let uncertain = match (cell, head.unit) {
        (Cell::Nothing, _) => return Err(nothing(head)),
        (Cell::Number(value), Some(unit)) if value.is_finite() => Uncertain::exact(value * unit.in_si()),
        (Cell::Text(text), Some(unit)) if let Some(value) = plain(text) => {
            Uncertain::exact(value * unit.in_si())
        }
        (Cell::Text(text), None) => notation::read(text, field.unit.dimension())
            .map_err(|complaint| complaint.at(head.key.clone()))?,
        (cell, _) => return Err(wrong(head, cell)),
    };
    let (low, high) = match uncertain.spread {
        Spread::Range { low, high } => (low, high),
        _ => (uncertain.value, uncertain.value),
    };
    if field.bound.holds(low) && field.bound.holds(high) {
        return Ok(uncertain);
    }
    let found = match cell {
        Cell::Text(text) => format!("\"{}\"", shortened(text)),
        Cell::Number(number) => number.to_string(),
        Cell::Nothing => "nothing".to_owned(),
    };
    Err(Problem::new(head.key.clone(), found, field.bound.asks(field.label)))
}

/// What a cell says, as it would stand in the sheet.
pub(crate) fn text(head: &Head, cell: Cell<'_>) -> Result<String, Problem> {
    match (cell, head.unit) {
        (Cell::Nothing, _) => Err(nothing(head)),
        (Cell::Number(value), Some(unit)) if value.is_finite() => Ok(format!("{value} {}", unit.symbol())),
        (Cell::Text(text), Some(unit)) => match plain(text) {
            Some(value) => Ok(format!("{value} {}", unit.symbol())),
            None => Err(wrong(head, cell)),
        },
        (Cell::Text(text), None) => Ok(text.to_owned()),
        (cell, _) => Err(wrong(head, cell)),
    }
}

/// A plain number; "inf" and "nan" are numbers to Rust alone.
fn plain(text: &str) -> Option<f64> {
    text.trim().parse::<f64>().ok().filter(|value| value.is_finite())
}

pub(crate) fn nothing(head: &Head) -> Problem {
    Problem::new(head.key.clone(), "nothing", head.expected())
}

fn wrong(head: &Head, cell: Cell<'_>) -> Problem {
    let mut found = String::new();
    let _ = match cell {
        Cell::Text(text) => write!(found, "\"{}\"", shortened(text)),
        Cell::Number(number) if number.is_nan() => write!(found, "NaN"),
        Cell::Number(number) => write!(found, "{number}"),
        Cell::Nothing => write!(found, "nothing"),
    };
    Problem::new(head.key.clone(), found, head.expected())
}
