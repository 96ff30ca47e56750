//! Many rows on all cores, in pieces that come back in the order of the rows.

use crate::plan::{Plan, Refused, Rows, Scratch};
use rayon::prelude::*;
use std::collections::BTreeMap;

/// Rows that one core works on at a time.
const PIECE: usize = 256;

/// The figures of some rows.
#[derive(Clone, Debug, Default)]
pub struct Piece {
    /// The number of its first row among the rows of its block, counted from 0.
    pub from: usize,
    /// How many rows it has.
    pub rows: usize,
    /// Row by row; NaN where there is no such figure, or no answer.
    pub figures: Vec<f64>,
    /// Rows without an answer.
    pub refused: Vec<Refused>,
    /// What looks wrong with what rows say.
    pub plausibility: Plausibility,
}

/// What looks wrong with what rows say, by the number of the column: how many rows, the first of them, and a sentence on it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Plausibility(BTreeMap<usize, (u64, u64, String)>);

impl Plausibility {
    fn add(&mut self, (column, remark): (usize, String), row: u64) {
        self.0.entry(column).and_modify(|(count, ..)| *count += 1).or_insert((1, row, remark));
    }

    /// Those of earlier rows with these.
    pub fn join(&mut self, later: Self) {
        for (column, (more, row, remark)) in later.0 {
            self.0.entry(column).and_modify(|(count, ..)| *count += more).or_insert((more, row, remark));
        }
    }

    /// Each column in a sentence or two, with the first row that it is so with, counted from 1.
    pub fn of_columns(&self) -> impl Iterator<Item = (u64, String)> {
        self.0.values().map(|(count, row, remark)| match count {
            1 => (*row, remark.clone()),
            2 => (*row, format!("{remark} So it is with one more row of this column.")),
            _ => (*row, format!("{remark} So it is with {} more rows of this column.", count - 1)),
        })
    }

    /// The same, each with its row in words.
    pub fn remarks(&self) -> Vec<String> {
        self.of_columns().map(|(row, remark)| format!("row {row}: {remark}")).collect()
    }
}

/// Works out every row of a block, `before` of which came in earlier blocks, and makes something of each piece.
pub fn each<T: Send>(plan: &Plan, rows: &impl Rows, before: u64, make: impl Fn(Piece) -> T + Sync) -> Vec<T> {
    let count = rows.count();
    let piece = |number: usize| {
        let from = number * PIECE;
        make(piece(plan, rows, before, from, count.min(from + PIECE)))
    };
    (0..count.div_ceil(PIECE)).into_par_iter().map(piece).collect()
}

fn piece(plan: &Plan, rows: &impl Rows, before: u64, from: usize, to: usize) -> Piece {
    let width = plan.width();
    let mut piece = Piece { from, rows: to - from, ..Piece::default() };
    piece.figures.reserve_exact(width * piece.rows);
    let mut scratch = Scratch::default();
    for row in from..to {
        let number = before + row as u64 + 1;
        let done = plan.row(rows, row, &mut scratch, &mut piece.figures);
        plan.plausibility(rows, row).into_iter().for_each(|remark| piece.plausibility.add(remark, number));
        if let Err(problems) = done {
            piece.figures.extend(std::iter::repeat_n(f64::NAN, width));
            let line = rows.line(row);
            piece.refused.push(Refused { row: number, line, problems });
        }
    }
    piece
}
