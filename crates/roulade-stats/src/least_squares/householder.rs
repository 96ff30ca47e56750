//! Rows taken onto a diagonal by reflections (A. S. Householder, J. ACM 5 (1958) 339, doi:10.1145/320941.320947).
//!
//! Written here because what is known of parameters beforehand, and the damping of a step, are diagonals: below them nothing
//! has to be cleared, which nalgebra's QR does not know. It is half the work, in loops over plain slices.

use super::linear::Linear;
use nalgebra::{DMatrix, DVector};

/// R and Qᵀb of the diagonal with the rows under it, QR of both: R is triangular, with as many rows as there are columns.
/// What is left of b no step can change, and is dropped.
///
/// `diagonal` has an entry and `target` the matching b for each column of `rows`, whose own b is `b`.
#[allow(clippy::indexing_slicing, reason = "within the shape that was just made")]
pub(super) fn onto(diagonal: &[f64], target: &[f64], rows: &DMatrix<f64>, b: &DVector<f64>) -> Linear {
    let (count, height) = (rows.ncols(), rows.nrows());
    let mut r = DMatrix::from_diagonal(&DVector::from_column_slice(diagonal));
    let mut q = DVector::from_column_slice(target);
    if height == 0 {
        return Linear { a: r, b: q };
    }
    let (mut columns, mut left) = (rows.as_slice().to_vec(), b.as_slice().to_vec());
    for k in 0..count {
        let (done, rest) = columns.split_at_mut((k + 1) * height);
        let Some(column) = done.chunks_exact(height).next_back() else { break };
        let (head, squares) = (r[(k, k)], dot(column, column));
        let length = (head * head + squares).sqrt();
        // NaN too: nothing to reflect.
        if length.is_nan() || squares <= 0.0 {
            continue;
        }
        let first = head + length.copysign(head);
        let twice = 2.0 / (first * first + squares);
        r[(k, k)] = -length.copysign(head);
        // The diagonal has nothing right of its own column.
        for (other, j) in rest.chunks_exact_mut(height).zip(k + 1..) {
            let by = twice * dot(column, other);
            r[(k, j)] = -by * first;
            take(other, by, column);
        }
        let by = twice * (first * q[k] + dot(column, &left));
        q[k] -= by * first;
        take(&mut left, by, column);
    }
    Linear { a: r, b: q }
}

/// In lanes of their own, since a sum has to wait for itself; which lane a product goes to is the same everywhere, and so are the
/// bits.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    const LANES: usize = 8;
    let ((a, last_of_a), (b, last_of_b)) = (a.as_chunks::<LANES>(), b.as_chunks::<LANES>());
    let mut lanes = [0.0; LANES];
    for (a, b) in a.iter().zip(b) {
        for ((lane, a), b) in lanes.iter_mut().zip(a).zip(b) {
            *lane += a * b;
        }
    }
    let last: f64 = last_of_a.iter().zip(last_of_b).map(|(a, b)| a * b).sum();
    lanes.iter().sum::<f64>() + last
}

fn take(from: &mut [f64], by: f64, column: &[f64]) {
    for (x, c) in from.iter_mut().zip(column) {
        *x -= by * c;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn nothing_under_the_diagonal_and_nothing_on_it() {
        let bare = onto(&[2.0, 3.0], &[4.0, 5.0], &DMatrix::zeros(0, 2), &DVector::zeros(0));
        assert_eq!((bare.a[(1, 1)], bare.b[0]), (3.0, 4.0));
        let none = onto(&[0.0], &[0.0], &DMatrix::zeros(2, 1), &DVector::zeros(2));
        assert_eq!((none.a[(0, 0)], none.b[0]), (0.0, 0.0));
    }

    proptest! {
        #[test]
        fn squares_are_those_of_the_stack(
            diagonal in prop::collection::vec(prop_oneof![Just(0.0), -2.0..2.0_f64], 4),
            target in prop::collection::vec(-2.0..2.0_f64, 4),
            rows in prop::collection::vec(-2.0..2.0_f64, 4 * 21),
            height in prop_oneof![Just(3_usize), 1..=21_usize],
            b in prop::collection::vec(-2.0..2.0_f64, 21),
        ) {
            let rows = DMatrix::from_row_slice(height, 4, &rows[..4 * height]);
            let b = DVector::from_column_slice(&b[..height]);
            let found = onto(&diagonal, &target, &rows, &b);
            let top = DMatrix::from_diagonal(&DVector::from_column_slice(&diagonal));
            let squares = top.transpose() * &top + rows.transpose() * &rows;
            prop_assert!((found.a.transpose() * &found.a - squares).amax() < 1e-11);
            let across = top.transpose() * DVector::from_column_slice(&target) + rows.transpose() * b;
            prop_assert!((found.a.transpose() * &found.b - across).amax() < 1e-11);
            prop_assert!((1..4).all(|i| (0..i).all(|j| found.a[(i, j)] == 0.0)));
        }
    }
}
