//! Which inputs move together: coefficients of correlation between some of a list of numbers.
//!
//! All others are independent of these and of one another (JCGM 100:2008, 5.2.2 and C.3.6).

use nalgebra::DMatrix;

/// What is left of a coefficient when the matrix is factored: coefficients are written to a few digits, and a matrix
/// of rounded ones may fall short of a possible one by that much. Six digits after the point are enough.
const ROUNDING: f64 = 1e-6;

/// Correlation coefficients between some of a list of numbers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Correlation {
    inputs: Vec<usize>,
    matrix: DMatrix<f64>,
    factor: DMatrix<f64>,
}

impl Correlation {
    /// Everything independent.
    pub fn none() -> Self {
        Self::default()
    }

    /// From the numbers that are correlated, each by its place in the list, and the coefficients below the diagonal:
    /// the second number has a row of one, the third a row of two. `None` where no numbers could be correlated so:
    /// a row of another length, a place that occurs twice, or a matrix that is not positive semidefinite.
    ///
    /// ```
    /// # use roulade_stats::uncertain::Correlation;
    /// let correlation = Correlation::new(vec![4, 2, 7], &[vec![0.9], vec![0.1, -0.2]]).unwrap();
    /// assert_eq!((correlation.between(2, 4), correlation.between(7, 2)), (0.9, -0.2));
    /// assert_eq!((correlation.between(7, 7), correlation.between(7, 3)), (1.0, 0.0));
    /// // Both nearly equal to the first, they cannot be nearly opposite.
    /// assert!(Correlation::new(vec![4, 2, 7], &[vec![0.9], vec![0.9, -0.9]]).is_none());
    /// ```
    pub fn new(inputs: Vec<usize>, below: &[Vec<f64>]) -> Option<Self> {
        let twice = inputs.iter().enumerate().any(|(i, input)| inputs.iter().take(i).any(|o| o == input));
        let fits = below.len() == inputs.len().saturating_sub(1)
            && below.iter().enumerate().all(|(k, row)| row.len() == k + 1);
        if twice || !fits {
            return None;
        }
        let of = |i: usize, j: usize| below.get(i.checked_sub(1)?)?.get(j).copied();
        let matrix = DMatrix::from_fn(inputs.len(), inputs.len(), |i, j| {
            if i == j { 1.0 } else { of(i.max(j), i.min(j)).unwrap_or(f64::NAN) }
        });
        Self::of_matrix(inputs, matrix)
    }

    /// Numbers that move together through one other alone, each by its place and its coefficient of correlation with that
    /// one (1 for that one itself): between two of them the coefficient is the product of both.
    ///
    /// ```
    /// # use roulade_stats::uncertain::Correlation;
    /// let together = Correlation::through_one(vec![(3, 1.0), (5, 0.8), (9, -0.5)]);
    /// assert_eq!((together.between(3, 5), together.between(5, 9)), (0.8, -0.4));
    /// ```
    pub fn through_one(with: Vec<(usize, f64)>) -> Self {
        let coefficient = |i: usize| with.get(i).map_or(0.0, |(_, coefficient)| *coefficient);
        let count = with.len();
        let matrix =
            DMatrix::from_fn(count, count, |i, j| if i == j { 1.0 } else { coefficient(i) * coefficient(j) });
        // Its factor is known: the one that all go with, and what each has of its own.
        let factor = DMatrix::from_fn(count, count + 1, |i, j| match j {
            0 => coefficient(i),
            own if own == i + 1 => (1.0 - coefficient(i) * coefficient(i)).max(0.0).sqrt(),
            _ => 0.0,
        });
        // A column of nothing, that of the one itself, is left out.
        let kept: Vec<usize> = (0..factor.ncols()).filter(|j| factor.column(*j).amax() > 0.0).collect();
        let factor = factor.select_columns(&kept);
        Self { inputs: with.into_iter().map(|(input, _)| input).collect(), matrix, factor }
    }

    fn of_matrix(inputs: Vec<usize>, matrix: DMatrix<f64>) -> Option<Self> {
        let (factor, left) = factored(&matrix, matrix.nrows());
        // Of a possible matrix nothing is left; what is left of another is negative somewhere on its diagonal, or
        // nothing there and more than that beside it. A comparison that is true also of no number.
        left.iter().all(|value| value.abs() <= ROUNDING).then_some(Self { inputs, matrix, factor })
    }

    /// Whether everything is independent.
    pub fn is_empty(&self) -> bool {
        self.inputs.is_empty()
    }

    /// The numbers that are correlated, each by its place in the list.
    pub fn inputs(&self) -> &[usize] {
        &self.inputs
    }

    /// The coefficient of two places of the list: 1 of one with itself, 0 of any that are independent.
    pub fn between(&self, a: usize, b: usize) -> f64 {
        let place = |of: usize| self.inputs.iter().position(|input| *input == of);
        match (place(a), place(b)) {
            _ if a == b => 1.0,
            (Some(i), Some(j)) => self.matrix.get((i, j)).copied().unwrap_or(0.0),
            _ => 0.0,
        }
    }

    /// The coefficients of [`Self::inputs`] with one another.
    pub fn matrix(&self) -> &DMatrix<f64> {
        &self.matrix
    }

    /// A matrix of a row for each of [`Self::inputs`] whose product with its transpose is that of the coefficients:
    /// times independent standard normal deviates, one a column, it gives correlated ones (JCGM 101:2008, 6.4.8).
    pub fn factor(&self) -> &DMatrix<f64> {
        &self.factor
    }

    /// Two correlations over one list. What both name is in `shared`; the two must agree on it.
    ///
    /// What only the first names and what only the second names are independent given what both name, the one
    /// completion that adds nothing to what is known (Dempster, Biometrics 28 (1972) 157, doi 10.2307/2528966; from
    /// memory). With nothing shared, that is plain independence.
    #[allow(clippy::indexing_slicing, reason = "rows and columns are counted from the matrix itself")]
    pub fn joined(&self, other: &Self) -> Self {
        let shared: Vec<usize> = self.inputs.iter().copied().filter(|i| other.inputs.contains(i)).collect();
        let own = |of: &Self| of.inputs.iter().copied().filter(|i| !shared.contains(i)).collect::<Vec<_>>();
        let (first, second) = (own(self), own(other));
        let inputs: Vec<usize> = [shared.as_slice(), &first, &second].concat();
        let count = inputs.len();
        let mut matrix = DMatrix::from_fn(count, count, |i, j| {
            let (a, b) = (inputs.get(i).copied().unwrap_or(i), inputs.get(j).copied().unwrap_or(j));
            if self.inputs.contains(&a) && self.inputs.contains(&b) {
                self.between(a, b)
            } else {
                other.between(a, b)
            }
        });
        let (through, _) = factored(&matrix, shared.len());
        let second_from = shared.len() + first.len();
        for i in shared.len()..second_from {
            for j in second_from..count {
                let given = through.row(i).dot(&through.row(j));
                matrix[(i, j)] = given;
                matrix[(j, i)] = given;
            }
        }
        let (factor, _) = factored(&matrix, count);
        Self { inputs, matrix, factor }
    }

    /// The same numbers by their places in another list; one without a place there is left out.
    pub fn mapped(&self, place: impl Fn(usize) -> Option<usize>) -> Self {
        let kept: Vec<(usize, usize)> =
            self.inputs.iter().enumerate().filter_map(|(k, input)| Some((k, place(*input)?))).collect();
        let rows: Vec<usize> = kept.iter().map(|(k, _)| *k).collect();
        let matrix = self.matrix.select_rows(&rows).select_columns(&rows);
        let (factor, _) = factored(&matrix, matrix.nrows());
        Self { inputs: kept.into_iter().map(|(_, input)| input).collect(), matrix, factor }
    }
}

/// Cholesky's factor of a positive semidefinite matrix, with the largest of the first `among` diagonal entries as the
/// next pivot, and what is left of the matrix once no pivot of more than rounding remains (Higham, in Reliable Numerical
/// Computation, Oxford (1990), 161; from memory).
#[allow(clippy::indexing_slicing, reason = "`among` is at most the number of rows")]
fn factored(matrix: &DMatrix<f64>, among: usize) -> (DMatrix<f64>, DMatrix<f64>) {
    let mut left = matrix.clone();
    let mut columns = Vec::new();
    for _ in 0..among {
        let pivot = (0..among).map(|i| (i, left[(i, i)])).max_by(|a, b| a.1.total_cmp(&b.1));
        let Some((at, size)) = pivot.filter(|(_, size)| *size > ROUNDING) else { break };
        let column = left.column(at) / size.sqrt();
        left -= &column * column.transpose();
        columns.push(column);
    }
    let factor =
        if columns.is_empty() { DMatrix::zeros(matrix.nrows(), 0) } else { DMatrix::from_columns(&columns) };
    (factor, left)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::float_cmp, reason = "coefficients are kept as they are")]

    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn product(correlation: &Correlation) -> DMatrix<f64> {
        correlation.factor() * correlation.factor().transpose()
    }

    #[test]
    fn what_cannot_be_is_refused() {
        for (inputs, below) in [
            (vec![0, 1], vec![]),
            (vec![0, 1], vec![vec![0.1, 0.2]]),
            (vec![0, 0], vec![vec![0.1]]),
            (vec![0, 1], vec![vec![1.1]]),
            (vec![0, 1], vec![vec![f64::NAN]]),
            (vec![0, 1, 2], vec![vec![0.9], vec![0.0, 0.9]]),
            // Two of three equal: the third stands to both alike.
            (vec![0, 1, 2], vec![vec![1.0], vec![0.3, 0.31]]),
        ] {
            assert!(Correlation::new(inputs, &below).is_none(), "{below:?}");
        }
        // 0.9² + 0.43² = 0.9949 < 1: just possible.
        assert!(Correlation::new(vec![0, 1, 2], &[vec![0.9], vec![0.0, 0.43]]).is_some());
        assert!(Correlation::new(vec![], &[]).is_some_and(|none| none.is_empty()));
        assert!(Correlation::new(vec![3], &[]).is_some_and(|one| one.inputs() == [3]));
    }

    #[test]
    fn numbers_that_are_one_have_a_factor_of_one_column() {
        let one = Correlation::new(vec![0, 1, 2], &[vec![1.0], vec![-1.0, -1.0]]).unwrap();
        assert_eq!(one.factor().ncols(), 1);
        assert_relative_eq!(product(&one), one.matrix, epsilon = 1e-12);
    }

    #[test]
    fn two_are_joined_through_what_they_share() {
        let first = Correlation::new(vec![0, 1], &[vec![0.8]]).unwrap();
        let second = Correlation::new(vec![2, 1], &[vec![0.5]]).unwrap();
        let joined = first.joined(&second);
        assert_relative_eq!(joined.between(0, 1), 0.8);
        assert_relative_eq!(joined.between(2, 1), 0.5);
        // 0.8 · 0.5: independent given the shared one.
        assert_relative_eq!(joined.between(0, 2), 0.4, max_relative = 1e-12);
        assert_relative_eq!(product(&joined), joined.matrix, epsilon = 1e-12);
        let apart = first.joined(&Correlation::new(vec![3, 4], &[vec![0.5]]).unwrap());
        assert_eq!((apart.between(0, 3), apart.between(3, 4)), (0.0, 0.5));
        assert_eq!(Correlation::none().joined(&Correlation::none()), Correlation::none());
    }

    #[test]
    fn places_can_be_told_anew() {
        let three = Correlation::new(vec![4, 2, 7], &[vec![0.9], vec![0.1, -0.2]]).unwrap();
        let moved = three.mapped(|place| (place != 4).then_some(place + 10));
        assert_eq!(moved.inputs(), [12, 17]);
        assert_relative_eq!(moved.between(12, 17), -0.2);
        assert_relative_eq!(product(&moved), moved.matrix, epsilon = 1e-12);
    }

    proptest! {
        #[test]
        fn every_possible_matrix_is_its_factor_squared(
            rows in prop::collection::vec(prop::collection::vec(-1.0..1.0_f64, 3), 6),
        ) {
            // Correlations of six vectors in three dimensions: possible, and of rank three.
            let cosine = |a: &[f64], b: &[f64]| {
                let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(x, y)| x * y).sum::<f64>();
                dot(a, b) / (dot(a, a) * dot(b, b)).sqrt()
            };
            prop_assume!(rows.iter().all(|row| row.iter().map(|x| x * x).sum::<f64>() > 1e-3));
            let below: Vec<Vec<f64>> =
                (1..6).map(|i| (0..i).map(|j| cosine(&rows[i], &rows[j])).collect()).collect();
            let correlation = Correlation::new((0..6).collect(), &below).unwrap();
            prop_assert!(correlation.factor().ncols() <= 3);
            prop_assert!((product(&correlation) - &correlation.matrix).amax() <= 2.0 * ROUNDING);
        }
    }
}
