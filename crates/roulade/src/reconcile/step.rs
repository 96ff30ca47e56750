//! One damped step in the linear model around a point, within bounds.

use super::posterior::Linear;
use nalgebra::DVector;

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

/// The same linear model in as few rows as there are columns: R δ ≈ Qᵀ b. What is left of b no step can change.
pub(super) fn reduce(linear: &Linear) -> Linear {
    if linear.a.nrows() <= linear.a.ncols() || linear.a.is_empty() {
        return linear.clone();
    }
    let qr = linear.a.clone().qr();
    let mut b = linear.b.clone();
    qr.q_tr_mul(&mut b);
    let r = qr.r();
    Linear { b: b.rows(0, r.nrows()).into_owned(), a: r }
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
        let rows = linear.a.nrows();
        let a = linear.a.select_columns(&moving);
        let mut stacked = a.clone().resize_vertically(rows + moving.len(), 0.0);
        for (k, column) in a.column_iter().enumerate() {
            let length = column.norm();
            // A column of zeros moves nothing; any number keeps it where it is.
            stacked[(rows + k, k)] = if length > 0.0 { damping.sqrt() * length } else { 1.0 };
        }
        let mut rhs = linear.b.clone().resize_vertically(stacked.nrows(), 0.0);
        let qr = stacked.qr();
        qr.q_tr_mul(&mut rhs);
        let Some(found) = qr.r().solve_upper_triangular(&rhs.rows(0, moving.len())) else {
            return (step, 0.0);
        };
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
