//! First order: a straight line through the best values, after JCGM 100:2008, 5.1 and 5.2.
//!
//! Each input is moved up and down by its standard uncertainty and the outputs are computed anew (5.1.3, note 2);
//! half the difference is that input's contribution. Inputs are independent of one another unless they are said to be
//! correlated; what two cells share is one input.
//!
//! What moves together is moved by an eighth of that: after a fit inputs may contribute five times what is left of them
//! together, and a slope over a whole uncertainty, which nobody of them goes alone, is off by its curvature's change,
//! f‴u³/6. A hundredth of a contribution is a twentieth of what is left.

use crate::order;
use crate::uncertain::{Correlation, Uncertain};
use nalgebra::DMatrix;

/// What each uncertain input contributes to each output, in the unit of the output.
#[derive(Clone, Debug)]
pub struct FirstOrder {
    contributions: DMatrix<f64>,
    /// The contributions times the matrix of correlation coefficients.
    together: DMatrix<f64>,
    inputs: Vec<usize>,
    unmoved: Vec<usize>,
}

/// Steps that are tried, as shares of the standard uncertainty.
const SHORTER: [f64; 8] = [1.0, 0.125, 0.015_625, 0.001, 1e-4, 1e-5, 1e-6, 1e-7];

impl FirstOrder {
    /// Moves every uncertain input up and down and watches the outputs; `outputs` gives `None` where there is no
    /// answer at those values, and then the side that has one counts alone; so it does where the other has no finite one.
    ///
    /// # Example
    /// A product of 2 ± 0.1 and 3 ± 0.2 has the standard uncertainty √(0.3² + 0.4²) = 0.5:
    /// ```
    /// # use roulade_stats::{propagation::FirstOrder, uncertain::{Correlation, Uncertain}};
    /// let inputs = [Uncertain::standard(2.0, 0.1), Uncertain::standard(3.0, 0.2)];
    /// let product = |x: &[f64]| Some(vec![x[0] * x[1]]);
    /// let spread = FirstOrder::of(&inputs, &Correlation::none(), &[6.0], product);
    /// assert!((spread.u(0) - 0.5).abs() < 1e-12);
    /// // Wholly correlated, the two contributions add: 0.3 + 0.4.
    /// let alike = Correlation::new(vec![0, 1], &[vec![1.0]]).unwrap();
    /// assert!((FirstOrder::of(&inputs, &alike, &[6.0], product).u(0) - 0.7).abs() < 1e-12);
    /// ```
    pub fn of(
        inputs: &[Uncertain],
        correlation: &Correlation,
        at_best: &[f64],
        mut outputs: impl FnMut(&[f64]) -> Option<Vec<f64>>,
    ) -> Self {
        let mut values: Vec<f64> = inputs.iter().map(|input| input.value).collect();
        let uncertain: Vec<usize> =
            (0..inputs.len()).filter(|i| inputs.get(*i).is_some_and(|k| k.u() > 0.0)).collect();
        let mut contributions = DMatrix::zeros(at_best.len(), uncertain.len());
        let mut unmoved = Vec::new();
        for (column, &i) in uncertain.iter().enumerate() {
            let (Some(input), Some(value)) = (inputs.get(i), values.get(i).copied()) else { continue };
            let mut moved = |to: f64| {
                if let Some(slot) = values.get_mut(i) {
                    *slot = to;
                }
                let moved = outputs(&values).filter(|out| comparable(out, at_best));
                if let Some(slot) = values.get_mut(i) {
                    *slot = value;
                }
                moved
            };
            // Where there is no answer at either end, a smaller step tells the slope.
            let longest = usize::from(correlation.inputs().contains(&i));
            let found = SHORTER.into_iter().skip(longest).find_map(|share| {
                let step = share * input.u();
                let (up, down) = (moved(value + step), moved(value - step));
                (up.is_some() || down.is_some()).then_some((up, down, 1.0 / share))
            });
            let Some((up, down, times)) = found else {
                unmoved.push(i);
                continue;
            };
            let halves = match (&up, &down) {
                (Some(up), Some(down)) => (up.as_slice(), down.as_slice(), 0.5 * times),
                (Some(up), None) => (up.as_slice(), at_best, times),
                (None, Some(down)) => (at_best, down.as_slice(), times),
                (None, None) => continue,
            };
            for (row, (up, down)) in halves.0.iter().zip(halves.1).enumerate() {
                if let Some(cell) = contributions.get_mut((row, column)) {
                    *cell = halves.2 * (up - down);
                }
            }
        }
        let together = together(&contributions, &uncertain, correlation);
        Self { contributions, together, inputs: uncertain, unmoved }
    }

    /// What an input contributes to an output, in the output's unit: half the difference between its two moves.
    pub fn contribution(&self, output: usize, input: usize) -> f64 {
        let column = self.inputs.binary_search(&input).ok();
        column.and_then(|column| self.contributions.get((output, column))).copied().unwrap_or(0.0)
    }

    /// Standard uncertainty of an output: √(Σᵢ Σⱼ cᵢ rᵢⱼ cⱼ), c the contributions of the inputs and r their
    /// correlation coefficients (JCGM 100:2008, 5.2.2, eq. 16).
    pub fn u(&self, output: usize) -> f64 {
        // What cancels wholly can fall short of nothing by rounding.
        self.covariance(output, output).max(0.0).sqrt()
    }

    /// Covariance of two outputs (JCGM 100:2008, H.2.3, eq. H.9).
    pub fn covariance(&self, a: usize, b: usize) -> f64 {
        if a.max(b) < self.contributions.nrows() {
            self.contributions.row(a).dot(&self.together.row(b))
        } else {
            0.0
        }
    }

    /// Covariances of all outputs with one another.
    pub fn covariances(&self) -> DMatrix<f64> {
        &self.contributions * self.together.transpose()
    }

    /// Inputs with their share of an output's variance, the largest first; those without any are left out.
    ///
    /// The share of input i is cᵢ·Σⱼ rᵢⱼ cⱼ / u²: its own part and half of each that it has together with another.
    /// Shares add to one. That of an input is negative where what it moves with takes away more than it brings; of
    /// independent inputs none is.
    pub fn shares(&self, output: usize) -> Vec<(usize, f64)> {
        let u = self.u(output);
        if u.is_nan() || u <= 0.0 {
            return Vec::new();
        }
        let (row, together) = (self.contributions.row(output), self.together.row(output));
        let mut shares: Vec<(usize, f64)> = self
            .inputs
            .iter()
            .zip(row.iter().zip(together.iter()))
            .map(|(i, (c, with))| (*i, (c / u) * (with / u)))
            .filter(|(_, share)| *share != 0.0)
            .collect();
        order::by(&mut shares, |a, b| b.1.total_cmp(&a.1));
        shares
    }

    /// How far each input moves, in its own standard deviations, where an output moves by one of its own and the most probable
    /// way: its coefficient of correlation with the output. Squared, it is the share of the output's variance that knowing
    /// the input would take away.
    pub fn direction(&self, output: usize) -> Vec<(usize, f64)> {
        let u = self.u(output);
        if u.is_nan() || u <= 0.0 {
            return Vec::new();
        }
        let together = self.together.row(output);
        let each = self.inputs.iter().zip(together.iter()).map(|(i, with)| (*i, with / u));
        each.filter(|(_, with)| *with != 0.0).collect()
    }

    /// Inputs that could not be moved either way.
    pub fn unmoved(&self) -> &[usize] {
        &self.unmoved
    }
}

/// Contributions times correlation coefficients. Independent inputs keep theirs.
fn together(contributions: &DMatrix<f64>, uncertain: &[usize], correlation: &Correlation) -> DMatrix<f64> {
    let mut together = contributions.clone();
    let place = |input: &usize| uncertain.binary_search(input).ok();
    let columns: Vec<Option<usize>> = correlation.inputs().iter().map(place).collect();
    for (i, own) in columns.iter().enumerate() {
        let Some(own) = *own else { continue };
        for (j, other) in columns.iter().enumerate() {
            if let (Some(other), Some(r)) = (*other, correlation.matrix().get((i, j)).filter(|_| i != j)) {
                together.column_mut(own).axpy(*r, &contributions.column(other), 1.0);
            }
        }
    }
    together
}

/// Whether outputs can be held against those at the best values: as many, and none without a number that has one there.
fn comparable(out: &[f64], at_best: &[f64]) -> bool {
    out.len() == at_best.len()
        && out.iter().zip(at_best).all(|(moved, best)| moved.is_finite() || !best.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn linear_models_are_exact_and_shares_add_to_one() {
        let inputs = [Uncertain::standard(1.0, 0.3), Uncertain::exact(5.0), Uncertain::range(0.0, 1.2)];
        let spread = FirstOrder::of(&inputs, &Correlation::none(), &[11.6], |x| {
            Some(vec![x[0] * 2.0 + x[1] * 2.0 - x[2]])
        });
        // u of the range: 1.2/√12.
        assert_relative_eq!(spread.u(0), (0.36f64 + 0.12).sqrt(), max_relative = 1e-12);
        let shares = spread.shares(0);
        assert_eq!(shares.iter().map(|s| s.0).collect::<Vec<_>>(), [0, 2]);
        assert_relative_eq!(shares.iter().map(|s| s.1).sum::<f64>(), 1.0, max_relative = 1e-12);
    }

    /// Logarithms of a share and of a rest, each ± 0.3 by itself and their product ± 0.03: the slopes that cancel are those
    /// at the best values.
    #[test]
    #[allow(clippy::disallowed_methods, reason = "the other side of a comparison")]
    fn what_cancels_is_reported_by_its_slopes() {
        let inputs = [Uncertain::standard(0.0, 0.3); 2];
        let correlation = Correlation::new(vec![0, 1], &[vec![0.005 - 1.0]]).unwrap();
        let spread = FirstOrder::of(&inputs, &correlation, &[1.0, 1.0], |x| {
            Some(vec![x[0].exp() + x[1], (x[0] + x[1]).exp()])
        });
        assert_relative_eq!(spread.u(0), 0.03, max_relative = 0.002);
        assert_relative_eq!(spread.u(1), 0.03, max_relative = 0.002);
    }

    #[test]
    fn an_input_without_effect_has_no_share() {
        let inputs = [Uncertain::standard(1.0, 0.3), Uncertain::standard(2.0, 0.1)];
        let spread =
            FirstOrder::of(&inputs, &Correlation::none(), &[2.0, 7.0], |x| Some(vec![x[0] * 2.0, 7.0]));
        assert_eq!(spread.shares(0), [(0, 1.0)]);
        assert_relative_eq!(spread.u(1), 0.0);
        assert!(spread.shares(1).is_empty() && spread.shares(2).is_empty());
        assert_relative_eq!(spread.u(2), 0.0);
    }

    #[test]
    fn an_answer_of_another_length_is_none() {
        let inputs = [Uncertain::standard(1.0, 0.5), Uncertain::standard(1.0, 0.25)];
        let spread = FirstOrder::of(&inputs, &Correlation::none(), &[2.0], |x| {
            // Above one there is no answer; the second input moves nothing but the length.
            let more = if x[1] < 1.0 { vec![0.0] } else { vec![] };
            (x[0] <= 1.0).then(|| [vec![2.0 * x[0]], more].concat())
        });
        // One-sided: the whole step down of the first; the side of the second that has an answer is no step.
        assert_relative_eq!(spread.u(0), 1.0);
        assert!(spread.unmoved().is_empty());
    }

    #[test]
    fn a_side_without_an_answer_leaves_the_other() {
        let inputs = [Uncertain::standard(1.0, 0.5)];
        let spread = FirstOrder::of(&inputs, &Correlation::none(), &[2.0], |x| {
            (x[0] <= 1.0).then(|| vec![2.0 * x[0]])
        });
        assert_relative_eq!(spread.u(0), 1.0);
        let none = FirstOrder::of(&inputs, &Correlation::none(), &[2.0], |_| None);
        assert_eq!((none.u(0), none.unmoved()), (0.0, [0].as_slice()));
    }

    /// Four weld spots give or take four: with none of them there is no way for the current.
    #[test]
    fn a_side_that_leads_beyond_all_numbers_is_none() {
        let inputs = [Uncertain::standard(4.0, 4.0)];
        let spread = FirstOrder::of(&inputs, &Correlation::none(), &[0.25], |x| Some(vec![1.0 / x[0]]));
        assert_relative_eq!(spread.u(0), 0.25 - 0.125);
    }

    #[test]
    fn correlated_inputs_share_what_they_have_together() {
        let inputs = [Uncertain::standard(0.0, 3.0), Uncertain::exact(1.0), Uncertain::standard(0.0, 4.0)];
        let of = |r: f64| {
            let correlation = Correlation::new(vec![2, 0], &[vec![r]]).unwrap();
            FirstOrder::of(&inputs, &correlation, &[0.0, 0.0], |x| Some(vec![x[0] + x[2], x[0] - x[2]]))
        };
        // 9 + 16 ± 2·0.5·12.
        let spread = of(0.5);
        assert_relative_eq!(spread.u(0), 37f64.sqrt(), max_relative = 1e-12);
        assert_relative_eq!(spread.u(1), 13f64.sqrt(), max_relative = 1e-12);
        assert_relative_eq!(spread.covariance(0, 1), 9.0 - 16.0, max_relative = 1e-12);
        assert_relative_eq!(spread.covariances()[(1, 0)], -7.0, max_relative = 1e-12);
        // 4·(4 − 1.5) = 10 and 3·(3 − 2) = 3 of 13.
        assert_eq!(
            spread.shares(1).iter().map(|(i, s)| (*i, (13.0 * s).round())).collect::<Vec<_>>(),
            [(2, 10.0), (0, 3.0)]
        );
        // The smaller takes away more than it brings: 3·(3 − 0.9·4) of 25 − 21.6.
        let shares = of(0.9).shares(1);
        assert_relative_eq!(shares[1].1, -1.8 / 3.4, max_relative = 1e-9);
        assert_relative_eq!(shares[0].1 + shares[1].1, 1.0, max_relative = 1e-12);
    }
}
