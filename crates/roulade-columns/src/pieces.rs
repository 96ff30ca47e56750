//! Many rows on all cores, in pieces that come back in the order of the rows.

use crate::plan::{Plan, Refused, Rows, Scratch};
use rayon::prelude::*;

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
        if let Err(problems) = plan.row(rows, row, &mut scratch, &mut piece.figures) {
            piece.figures.extend(std::iter::repeat_n(f64::NAN, width));
            let line = rows.line(row);
            piece.refused.push(Refused { row: before + row as u64 + 1, line, problems });
        }
    }
    piece
}
