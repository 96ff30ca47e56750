//! Columns of what varies as comma-separated values in, columns of figures out.
//!
//! RFC 4180 with a head, in UTF-8. A semicolon or a tab between values is seen from the head; with semicolons decimals may
//! follow a comma, as they do where spreadsheets write them. Memory stays as it is however many rows there are.

mod source;

use crate::head::Head;
use crate::output::{Output, Row, Text};
use crate::pieces::{self, Piece, Plausibility};
use crate::plan::{Cell, Plan, Refused, Rows};
use roulade::quantity::problem::{Problem, Problems, hint, nearest, shortened};
use roulade::sheet::Sheet;
use source::{Block, Source};
use std::io::{Read, Write};
use std::sync::mpsc::sync_channel;
use std::thread;

/// What is asked of a table.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Ids of figures; those that come first where there are none.
    pub figures: Vec<String>,
    /// Standard uncertainties too, to first order.
    pub spread: bool,
    /// Heads of columns that are handed on as they are, before the figures.
    pub kept: Vec<String>,
}

/// How many rows were answered, and how many not.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Count {
    /// With figures.
    pub answered: u64,
    /// Without, and told.
    pub refused: u64,
    /// What looks wrong with the base sheet and with what the rows say, each in a sentence.
    pub plausibility: Vec<String>,
}

/// Works out a table. Rows that cannot be answered are told in their order, and stay empty.
///
/// # Errors
/// What is wrong with the head, with what was asked, or with reading and writing; rows before that were written.
pub fn run(
    sheet: Sheet,
    from: impl Read + Send,
    to: impl Write,
    asked: &Asked,
    tell: impl FnMut(&Refused),
) -> Result<Count, Problems> {
    run_into(sheet, from, &mut Text(to), asked, tell)
}

/// The same, to wherever else rows go.
///
/// # Errors
/// As [`run`].
pub fn run_into<O: Output>(
    sheet: Sheet,
    from: impl Read + Send,
    to: &mut O,
    asked: &Asked,
    mut tell: impl FnMut(&Refused),
) -> Result<Count, Problems> {
    let mut source = Source::of(from);
    let head = source.head()?;
    let decimal_comma = source.mark == b';';
    let columns = Columns::of(&head, &asked.kept)?;
    let plan = Plan::new(sheet, columns.heads.clone(), &asked.figures, asked.spread)?;
    let mut names = vec!["row".to_owned()];
    names.extend(asked.kept.iter().map(|kept| kept.trim().to_owned()));
    names.extend(plan.names());
    let mut count = Count::default();
    if !to.head(&names)? {
        return Ok(count);
    }
    thread::scope(|scope| {
        let (send, receive) = sync_channel(1);
        scope.spawn(move || {
            loop {
                let block = source.block();
                let last = block.as_ref().map_or(true, |block| block.rows.is_empty());
                // Nobody listens any more where the output was closed.
                if send.send(block).is_err() || last {
                    break;
                }
            }
        });
        let (mut before, mut plausibility) = (0, Plausibility::default());
        for block in receive {
            let table = Table { block: block?, decimal_comma, columns: &columns };
            let done = pieces::each(&plan, &table, before, |piece| {
                (table.made::<O>(&piece, plan.width(), before), piece.refused, piece.plausibility)
            });
            for (made, refused, more) in done {
                plausibility.join(more);
                refused.iter().for_each(&mut tell);
                count.refused += refused.len() as u64;
                if !to.put(made)? {
                    return Ok(count);
                }
            }
            before += table.block.rows.len() as u64;
            count.answered = before - count.refused;
        }
        to.end()?;
        count.plausibility = [plan.plausibility_of_base(), plausibility.remarks()].concat();
        Ok(count)
    })
}

/// Which columns vary, and which are handed on.
pub(crate) struct Columns {
    heads: Vec<Head>,
    /// Their places in the table.
    pub(crate) places: Vec<usize>,
    pub(crate) kept: Vec<usize>,
    /// How many there are in all.
    all: usize,
}

impl Columns {
    pub(crate) fn of(head: &[String], kept: &[String]) -> Result<Self, Problems> {
        let mut problems = Problems::default();
        let mut columns = Self { heads: Vec::new(), places: Vec::new(), kept: Vec::new(), all: head.len() };
        for wanted in kept {
            if let Some(at) = head.iter().position(|text| text.trim() == wanted.trim()) {
                columns.kept.push(at);
                continue;
            }
            let near = nearest(wanted, head.iter().map(String::as_str));
            let expected = format!("the head of a column of the table{}", hint(near));
            let found = format!("\"{}\", which heads no column", shortened(wanted));
            problems.push(Problem::new("keep", found, expected));
        }
        for (at, text) in head.iter().enumerate() {
            match Head::read(text) {
                // What is handed on may vary too, where it is a key.
                Ok(read) if columns.kept.contains(&at) && read.field.is_none() => {}
                Err(_) if columns.kept.contains(&at) => {}
                Ok(_) if text.trim().is_empty() => problems.push(Problem::new(
                    format!("column {}", at + 1),
                    "no head",
                    "the key of an entry with its unit, for example \"cathode.loading (mg/cm²)\"",
                )),
                Ok(read) => {
                    columns.heads.push(read);
                    columns.places.push(at);
                }
                Err(problem) => problems.push(problem),
            }
        }
        problems.or_else_ok(columns)
    }
}

/// Some rows of a table.
struct Table<'a> {
    block: Block,
    /// Whether decimals may follow a comma.
    decimal_comma: bool,
    columns: &'a Columns,
}

impl Rows for Table<'_> {
    fn count(&self) -> usize {
        self.block.rows.len()
    }

    fn cell(&self, row: usize, column: usize) -> Cell<'_> {
        let Some(at) = self.columns.places.get(column) else { return Cell::Nothing };
        match std::str::from_utf8(self.block.field(row, *at)) {
            Ok(text) if text.trim().is_empty() => Cell::Nothing,
            Ok(text) if self.decimal_comma && text.contains(',') && !text.contains('.') => {
                text.trim().replace(',', ".").parse().map_or(Cell::Text(text), Cell::Number)
            }
            Ok(text) => Cell::Text(text),
            // Told as a fault of the row before it comes to this.
            Err(_) => Cell::Text("\u{fffd}"),
        }
    }

    fn fault(&self, row: usize) -> Option<Problem> {
        let row = self.block.rows.get(row)?;
        (row.fields != self.columns.all).then(|| {
            let values = |n: usize| if n == 1 { "1 value".to_owned() } else { format!("{n} values") };
            Problem::new("", values(row.fields), format!("{}, as the head has", self.columns.all))
        })
    }

    fn line(&self, row: usize) -> Option<u64> {
        self.block.rows.get(row).map(|row| row.line)
    }
}

impl Table<'_> {
    /// Some rows of figures as they leave; those without an answer have none after what is handed on.
    fn made<O: Output>(&self, piece: &Piece, width: usize, before: u64) -> O::Piece {
        let (mut made, mut kept) = (O::Piece::default(), Vec::new());
        for i in 0..piece.rows {
            let row = piece.from + i;
            kept.clear();
            let handed_on = |at: &usize| String::from_utf8_lossy(self.block.field(row, *at));
            kept.extend(self.columns.kept.iter().map(handed_on));
            let figures = piece.figures.get(i * width..(i + 1) * width).unwrap_or_default();
            O::add(&Row { number: before + row as u64 + 1, kept: &kept, figures }, &mut made);
        }
        made
    }
}

#[cfg(test)]
mod tests;
