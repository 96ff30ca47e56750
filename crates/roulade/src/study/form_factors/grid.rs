//! Figures over one input or two.

use crate::cell::figures::{Definition, Worked};
use crate::quantity::problem::{Problem, Problems};
use roulade_stats::executor::Executor;

/// A stretch of one input, SI base units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axis {
    /// Number of the input in its draft.
    pub input: usize,
    /// Where it begins.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// How many steps lie between; one value more.
    pub steps: u32,
}

impl Axis {
    /// Its values, both ends included.
    pub fn values(&self) -> Vec<f64> {
        let at = |i: u32| {
            if i == self.steps {
                self.to
            } else {
                self.from + (self.to - self.from) * (f64::from(i) / f64::from(self.steps))
            }
        };
        (0..=self.steps).map(at).collect()
    }
}

/// Cells that do not hold together for one reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Blank {
    /// The reason, as the first of them gives it.
    pub reason: Problem,
    /// How many there are.
    pub cells: usize,
}

/// Figures over one axis or two.
#[derive(Clone, Debug)]
pub struct Grid {
    /// Values along each axis.
    pub axes: Vec<Vec<f64>>,
    /// For each figure its values, SI, the first axis running fastest; NaN where there is no cell or no such figure.
    pub figures: Vec<Vec<f64>>,
    /// Why cells are blank, each counted under its first reason.
    pub blank: Vec<Blank>,
}

/// Cells of a grid that lie along one axis alone are worked out so many at a time.
const STRETCH: usize = 64;

/// A stretch of cells as one hand gives it back.
struct Piece {
    figures: Vec<f64>,
    blank: Vec<Blank>,
}

impl Grid {
    /// Works out every cell: `cell` at `values` with the axes' inputs moved along them.
    pub fn of(
        axes: &[Axis],
        values: &[f64],
        figures: &[&'static Definition],
        cell: impl Fn(&[f64]) -> Result<Worked, Problems> + Sync,
        executor: &impl Executor,
    ) -> Self {
        let along: Vec<Vec<f64>> = axes.iter().map(Axis::values).collect();
        let cells = along.iter().map(Vec::len).product::<usize>();
        let width = along.first().map_or(1, Vec::len);
        let stretch = if axes.len() > 1 { width } else { STRETCH };
        let pieces = executor.each(cells.div_ceil(stretch), |piece| {
            let mut values = values.to_vec();
            let mut done = Piece { figures: Vec::with_capacity(stretch * figures.len()), blank: Vec::new() };
            for number in piece * stretch..cells.min((piece + 1) * stretch) {
                let places = [number % width, number / width];
                for ((axis, along), place) in axes.iter().zip(&along).zip(places) {
                    if let (Some(slot), Some(value)) = (values.get_mut(axis.input), along.get(place)) {
                        *slot = *value;
                    }
                }
                match cell(&values) {
                    Ok(worked) => done
                        .figures
                        .extend(figures.iter().map(|figure| (figure.of)(&worked).unwrap_or(f64::NAN))),
                    Err(Problems(problems)) => {
                        done.figures.extend(figures.iter().map(|_| f64::NAN));
                        if let Some(reason) = problems.into_iter().next() {
                            count(&mut done.blank, Blank { reason, cells: 1 });
                        }
                    }
                }
            }
            done
        });
        let mut grid =
            Self { axes: along, figures: vec![Vec::with_capacity(cells); figures.len()], blank: Vec::new() };
        for Piece { figures: values, blank } in pieces {
            for row in values.chunks(figures.len().max(1)) {
                grid.figures.iter_mut().zip(row).for_each(|(figure, value)| figure.push(*value));
            }
            for blank in blank {
                count(&mut grid.blank, blank);
            }
        }
        grid
    }
}

/// Two reasons are one where they ask for the same at the same place; what was found differs from cell to cell.
fn count(blanks: &mut Vec<Blank>, more: Blank) {
    let same = |blank: &&mut Blank| {
        blank.reason.place == more.reason.place && blank.reason.expected == more.reason.expected
    };
    match blanks.iter_mut().find(same) {
        Some(blank) => blank.cells += more.cells,
        None => blanks.push(more),
    }
}
