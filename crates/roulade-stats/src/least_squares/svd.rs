//! A matrix taken apart into the directions it sees and those it does not.
//!
//! By rotations of its columns against one another until they stand at right angles (M. R. Hestenes, J. SIAM 6 (1958) 51,
//! doi:10.1137/0106005). Written here because nalgebra's singular value decomposition has other bits in WebAssembly than
//! natively (seen with 0.35.0, features `alloc` and `libm`), while its products and its QR have the same; and because this
//! way small singular values keep their digits.

use super::step::tells_apart;
use crate::order;
use nalgebra::{DMatrix, DVector};

/// Singular values below this part of the largest are none: derivatives are numeric, good to about 10⁻¹⁰.
const NONE: f64 = 1e-8;
/// How much of a null direction a column must be in to be called blind.
const TAKES_PART: f64 = 1e-4;
/// Columns are at right angles when the cosine between them is below this.
const RIGHT: f64 = 1e-15;
/// Sweeps over all pairs; some ten are enough.
const SWEEPS: usize = 60;

/// W = A V with orthogonal columns, and V.
fn rotated(a: &DMatrix<f64>) -> (DMatrix<f64>, DMatrix<f64>) {
    let columns = a.ncols();
    // Fewer rows are quicker, and QR changes neither V nor the lengths.
    let mut w = if a.nrows() > columns { a.clone().qr().r() } else { a.clone() };
    let mut v = DMatrix::identity(columns, columns);
    let largest = w.column_iter().map(|c| c.norm_squared()).fold(0.0, f64::max);
    for _ in 0..SWEEPS {
        let mut turned = false;
        for p in 0..columns {
            for q in p + 1..columns {
                let (a, b) = (w.column(p).norm_squared(), w.column(q).norm_squared());
                let across = w.column(p).dot(&w.column(q));
                // A column of rounding is at no angle to any other.
                if across.abs() <= RIGHT * (a * b).sqrt() || a.min(b) <= 1e-32 * largest {
                    continue;
                }
                turned = true;
                let half = (b - a) / (2.0 * across);
                let tangent = 1.0_f64.copysign(half) / (half.abs() + (1.0 + half * half).sqrt());
                let cosine = 1.0 / (1.0 + tangent * tangent).sqrt();
                turn(&mut w, p, q, cosine, cosine * tangent);
                turn(&mut v, p, q, cosine, cosine * tangent);
            }
        }
        if !turned {
            break;
        }
    }
    (w, v)
}

fn turn(matrix: &mut DMatrix<f64>, p: usize, q: usize, cosine: f64, sine: f64) {
    let (mut left, mut right) = matrix.columns_range_pair_mut(p, q);
    for (a, b) in left.iter_mut().zip(right.iter_mut()) {
        (*a, *b) = (cosine * *a - sine * *b, sine * *a + cosine * *b);
    }
}

/// Singular values, the largest first, as many as there are columns.
pub(super) fn singular_values(a: &DMatrix<f64>) -> Vec<f64> {
    // A matrix and its transpose have the same, and fewer columns are quicker.
    let turned = if a.nrows() < a.ncols() { a.transpose() } else { a.clone() };
    let mut values: Vec<f64> = rotated(&turned).0.column_iter().map(|c| c.norm()).collect();
    values.resize(a.ncols(), 0.0);
    order::by(&mut values, |a, b| b.total_cmp(a));
    values
}

/// A matrix A taken apart with its columns scaled to length one, A D⁻¹ = U S Vᵀ, without the directions that it does not
/// see.
pub(super) struct Svd {
    /// U: A is seen from these.
    pub(super) left: DMatrix<f64>,
    /// D⁻¹ V S⁻¹: its product with its own transpose is the inverse of Aᵀ A, among what is seen.
    pub(super) right: DMatrix<f64>,
    /// Columns that take part in a direction that is not seen.
    pub(super) blind: Vec<usize>,
}

impl Svd {
    pub(super) fn of(a: &DMatrix<f64>) -> Self {
        let lengths: Vec<f64> = a.column_iter().map(|c| c.norm()).collect();
        let mut scaled = a.clone();
        for (mut column, length) in scaled.column_iter_mut().zip(&lengths) {
            if *length > 0.0 {
                column /= *length;
            }
        }
        let (w, v) = rotated(&scaled);
        let values: Vec<f64> = w.column_iter().map(|c| c.norm()).collect();
        let largest = values.iter().copied().fold(0.0, f64::max);
        let (mut left, mut right, mut blind) = (Vec::new(), Vec::new(), Vec::new());
        for (direction, value) in v.column_iter().zip(&values) {
            if *value > NONE * largest {
                left.push(&scaled * direction / *value);
                let over = |(v, length): (&f64, &f64)| if *length > 0.0 { v / (value * length) } else { 0.0 };
                right.push(DVector::from_iterator(v.nrows(), direction.iter().zip(&lengths).map(over)));
            } else {
                blind.extend(
                    direction.iter().enumerate().filter(|(_, v)| v.abs() > TAKES_PART).map(|(j, _)| j),
                );
            }
        }
        blind.sort_unstable();
        blind.dedup();
        let side = |rows: usize, columns: &[DVector<f64>]| {
            if columns.is_empty() { DMatrix::zeros(rows, 0) } else { DMatrix::from_columns(columns) }
        };
        Self { left: side(a.nrows(), &left), right: side(a.ncols(), &right), blind }
    }

    /// The same from a triangle R with Rᵀ R = Aᵀ A that tells all columns apart, of the rows of A that are given; `None`
    /// where it may not.
    pub(super) fn of_triangle(r: &DMatrix<f64>, rows: &DMatrix<f64>) -> Option<Self> {
        let right = if tells_apart(r) {
            r.solve_upper_triangular(&DMatrix::identity(r.nrows(), r.ncols()))?
        } else {
            return None;
        };
        Some(Self { left: rows * &right, right, blind: Vec::new() })
    }

    /// How many directions are seen.
    pub(super) fn rank(&self) -> usize {
        self.left.ncols()
    }

    /// By how much ‖b‖² falls at best if A δ may be taken off b.
    pub(super) fn decrease(&self, b: &DVector<f64>) -> f64 {
        self.left.tr_mul(b).norm_squared()
    }
}

/// The columns of a matrix that are not in `without`.
pub(super) fn columns_without(a: &DMatrix<f64>, without: &[usize]) -> DMatrix<f64> {
    let kept: Vec<usize> = (0..a.ncols()).filter(|j| !without.contains(j)).collect();
    a.select_columns(&kept)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn blind_columns_are_those_that_no_row_tells_apart() {
        // The first two only by their sum, the third alone, the fourth not at all.
        let a =
            DMatrix::from_row_slice(3, 4, &[1.0, 1.0, 0.0, 0.0, 2.0, 2.0, 1e-3, 0.0, 0.0, 0.0, 1e-3, 0.0]);
        let parts = Svd::of(&a);
        assert_eq!((parts.rank(), parts.blind.as_slice()), (2, [0, 1, 3].as_slice()));
        let nothing = Svd::of(&DMatrix::zeros(0, 2));
        assert_eq!((nothing.rank(), nothing.blind.as_slice()), (0, [0, 1].as_slice()));
        assert_eq!(Svd::of(&DMatrix::zeros(3, 0)).rank(), 0);
    }

    proptest! {
        #[test]
        #[allow(clippy::disallowed_methods, reason = "the other side of a comparison")]
        fn the_same_as_nalgebras(
            rows in 1_usize..9, columns in 1_usize..7, numbers in prop::collection::vec(-3.0..3.0_f64, 48),
        ) {
            let a = DMatrix::from_fn(rows, columns, |i, j| numbers[6 * (i % 8) + j]);
            let theirs = a.singular_values();
            for (i, ours) in singular_values(&a).iter().enumerate() {
                let their = theirs.get(i).copied().unwrap_or(0.0);
                prop_assert!((ours - their).abs() < 1e-12 * theirs.max(), "{} {}", ours, their);
            }
            let (w, v) = rotated(&a);
            prop_assert!((v.transpose() * &v - DMatrix::identity(columns, columns)).amax() < 1e-13);
            let squares = w.transpose() * &w;
            prop_assert!((&squares - DMatrix::from_diagonal(&squares.diagonal())).amax() < 1e-12 * squares.amax());
            prop_assert!(((&a * &v).transpose() * (&a * &v) - squares).amax() < 1e-10);
            let parts = Svd::of(&a);
            if parts.rank() == columns && singular_values(&a).last().is_some_and(|least| *least > 0.1) {
                let inverse = &parts.right * parts.right.transpose();
                prop_assert!((inverse * a.transpose() * &a - DMatrix::identity(columns, columns)).amax() < 1e-8);
                prop_assert!((&parts.left * parts.left.transpose() * &a - &a).amax() < 1e-10);
            }
        }
    }
}
