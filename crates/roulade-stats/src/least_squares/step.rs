//! One damped step in the linear model around a point, within bounds.

use super::householder::onto;
use super::linear::Linear;
use nalgebra::{DMatrix, DVector};

/// Of each column: which bound the parameter is at (−1, 0 or 1), and which way the cost falls.
pub(super) struct Walls {
    pub(super) sides: Vec<(f64, f64)>,
}

impl Walls {
    /// Columns whose cost falls only beyond the bound they are at.
    pub(super) fn pushing(&self) -> Vec<usize> {
        let pushes = |(_, (side, falls)): &(usize, &(f64, f64))| *side != 0.0 && side * falls >= 0.0;
        self.sides.iter().enumerate().filter(pushes).map(|(j, _)| j).collect()
    }

    /// Columns at a bound whose step leads beyond it.
    fn left_by(&self, step: &DVector<f64>) -> Vec<usize> {
        let leaves = |(_, ((side, _), by)): &(usize, (&(f64, f64), &f64))| side * **by > 0.0;
        self.sides.iter().zip(step.iter()).enumerate().filter(leaves).map(|(j, _)| j).collect()
    }
}

/// No damping to speak of: it keeps a direction that nothing sees where it is.
pub(super) const UNDAMPED: f64 = 1e-14;
/// A column with less than this part of its length at right angles to those before it may depend on them.
const APART: f64 = 1e-5;

/// The same linear model in as few rows as there are columns: R δ ≈ Qᵀ b. `readings` says how many rows come before the
/// priors, each of which has one column.
#[allow(clippy::indexing_slicing, reason = "rows and columns are counted from the matrix itself")]
pub(super) fn reduce(linear: &Linear, readings: usize) -> Linear {
    let (a, columns) = (&linear.a, linear.a.ncols());
    let (mut diagonal, mut target) = (vec![0.0; columns], vec![0.0; columns]);
    for row in readings..a.nrows() {
        if let Some((j, pull)) = a.row(row).iter().enumerate().find(|(_, pull)| **pull != 0.0) {
            (diagonal[j], target[j]) = (*pull, linear.b[row]);
        }
    }
    onto(&diagonal, &target, &a.rows(0, readings).into_owned(), &linear.b.rows(0, readings).into_owned())
}

/// R⁻¹ c where R tells all of its columns apart; `None` where it may not.
pub(super) fn back(r: &DMatrix<f64>, c: &DVector<f64>) -> Option<DVector<f64>> {
    if tells_apart(r) { r.solve_upper_triangular(c) } else { None }
}

/// Whether no column of a triangle nearly depends on those before it.
pub(super) fn tells_apart(r: &DMatrix<f64>) -> bool {
    r.is_square()
        && r.column_iter().zip(r.diagonal().iter()).all(|(column, d)| d.abs() > APART * column.norm())
}

/// The damped step that leaves no bound it stands at, and by how much the linear model's ‖b‖² falls with it.
///
/// A parameter is held where the cost falls only beyond its bound, and for this step where the step itself leads beyond:
/// the others then find their way without it. The damping is in units of the columns' squared lengths.
#[allow(clippy::indexing_slicing, reason = "indices are of the columns counted at the top")]
pub(super) fn solve(linear: &Linear, walls: &Walls, damping: f64) -> (DVector<f64>, f64) {
    let columns = linear.a.ncols();
    let mut held = walls.pushing();
    loop {
        let moving: Vec<usize> = (0..columns).filter(|j| !held.contains(j)).collect();
        let mut step = DVector::zeros(columns);
        if moving.is_empty() || linear.a.nrows() == 0 {
            return (step, 0.0);
        }
        let a = linear.a.select_columns(&moving);
        let whole = if damping <= UNDAMPED && held.is_empty() { back(&a, &linear.b) } else { None };
        let found = whole.or_else(|| {
            // A column of zeros moves nothing; any number keeps it where it is.
            let pull = |length: f64| if length > 0.0 { damping.sqrt() * length } else { 1.0 };
            let diagonal: Vec<f64> = a.column_iter().map(|column| pull(column.norm())).collect();
            let damped = onto(&diagonal, &vec![0.0; moving.len()], &a, &linear.b);
            damped.a.solve_upper_triangular(&damped.b)
        });
        let Some(found) = found else { return (step, 0.0) };
        for (j, by) in moving.iter().zip(found.iter()) {
            step[*j] = *by;
        }
        let beyond = walls.left_by(&step);
        if beyond.is_empty() {
            // ‖b‖² − ‖b − A δ‖² for this δ, without a difference of large numbers.
            let pulled: f64 =
                a.column_iter().zip(found.iter()).map(|(c, by)| c.norm_squared() * by * by).sum();
            return (step, (a * found).norm_squared() + 2.0 * damping * pulled);
        }
        held.extend(beyond);
    }
}
