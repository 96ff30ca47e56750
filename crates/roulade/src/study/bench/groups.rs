//! All readings of one quantity, off specimens of one variant, as sums: a sheet of ten thousand readings is then no more work
//! for the fit than one of fifty, and takes no more memory than its rows.
//!
//! A point's reading is y = H + d + e: H is what the design predicts with the errors that the point's source shares (one for
//! each source that reads this quantity), d the specimen's own deviation of variance τ², e the point's own error of variance v.
//! Rows of one specimen that an instrument shows at one step of its scale are one point: they were rounded by one error. d is
//! integrated out: for the points of a specimen the covariance is V + τ²·11ᵀ, whose inverse is W − t·ww ᵀ with W = V⁻¹, w its
//! diagonal and t = τ²/(1 + τ²·Σw) (J. Sherman, W. J. Morrison, Ann. Math. Stat. 21 (1950) 124,
//! doi:10.1214/aoms/1177729893). So every specimen adds its part to the precision Λ and to the information b of H, and can be
//! taken out again without a look at the others.

use super::rows::{LEAST_OWN, Row};
use nalgebra::{Cholesky, DMatrix, DVector, Dyn};
use roulade_stats::order;

/// What a group weighs that has no row left: nothing to speak of, but its prediction is still worked out.
const GHOST: f64 = 1e-16;

/// Rows that are one reading: of one specimen, at one step of an instrument's scale.
#[derive(Clone, Debug)]
pub(super) struct Point {
    /// Less the group's origin, SI.
    pub(super) value: f64,
    /// Variance that is its own.
    pub(super) variance: f64,
    /// Which of the group's sources.
    pub(super) source: usize,
    /// Which of the group's blocks.
    pub(super) block: usize,
    /// Rows of the model.
    pub(super) rows: Vec<usize>,
}

/// Sums of the points of one specimen.
#[derive(Clone, Debug)]
pub(super) struct Block {
    /// Its name; empty where specimens do not differ, and all are one.
    pub(super) specimen: String,
    /// Σw and Σw·y of each source.
    weights: Vec<f64>,
    sums: Vec<f64>,
    /// Points.
    count: usize,
}

impl Block {
    fn new(specimen: &str, sources: usize) -> Self {
        let none = vec![0.0; sources];
        Self { specimen: specimen.to_owned(), weights: none.clone(), sums: none, count: 0 }
    }

    fn add(&mut self, point: &Point, sign: f64) {
        let weight = sign / point.variance;
        if let (Some(all), Some(sum)) = (self.weights.get_mut(point.source), self.sums.get_mut(point.source))
        {
            *all += weight;
            *sum += weight * point.value;
        }
        self.count = if sign > 0.0 { self.count + 1 } else { self.count.saturating_sub(1) };
        if self.count == 0 {
            *self = Self::new(&self.specimen, self.weights.len());
        }
    }

    fn weight(&self) -> f64 {
        self.weights.iter().sum()
    }

    fn sum(&self) -> f64 {
        self.sums.iter().sum()
    }

    /// t.
    fn shrink(&self, tau2: f64) -> f64 {
        tau2 / (1.0 + tau2 * self.weight())
    }

    /// Weighted mean of its points, less the group's origin.
    pub(super) fn mean(&self) -> f64 {
        self.sum() / self.weight()
    }

    fn precision(&self, tau2: f64) -> DMatrix<f64> {
        let (t, w) = (self.shrink(tau2), DVector::from_column_slice(&self.weights));
        DMatrix::from_diagonal(&w) - t * &w * w.transpose()
    }

    fn information(&self, tau2: f64) -> DVector<f64> {
        let by = self.shrink(tau2) * self.sum();
        DVector::from_iterator(
            self.sums.len(),
            self.sums.iter().zip(&self.weights).map(|(sum, weight)| sum - by * weight),
        )
    }
}

/// What is expected of a number by all that does not contain it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Expected {
    /// SI.
    pub(super) value: f64,
    /// Variance of the number about it.
    pub(super) variance: f64,
}

/// What the whole sheet says of a group's H.
#[derive(Clone, Debug)]
pub(super) struct Stand {
    /// H less the group's origin, of each source.
    pub(super) h: DVector<f64>,
    /// Its covariance.
    pub(super) covariance: DMatrix<f64>,
    /// The same by all that is not of the group itself; `None` where nothing is.
    pub(super) others: Option<(DVector<f64>, DMatrix<f64>)>,
}

/// All rows of one quantity and variant.
#[derive(Clone, Debug)]
pub(super) struct Group {
    pub(super) asked: usize,
    pub(super) variant: Option<String>,
    /// Places among the model's sources.
    pub(super) sources: Vec<usize>,
    /// What values are counted from, SI.
    pub(super) origin: f64,
    /// How large they are, or how uncertain where that is more.
    size: f64,
    pub(super) tau2: f64,
    pub(super) points: Vec<Point>,
    pub(super) blocks: Vec<Block>,
    /// Λ.
    pub(super) precision: DMatrix<f64>,
    /// Λ⁻¹ b: less the origin.
    pub(super) mean: DVector<f64>,
    /// Λ⁻¹.
    pub(super) covariance: DMatrix<f64>,
    /// Λ's triangle.
    root: DMatrix<f64>,
}

impl Group {
    /// From rows of one quantity and variant, by their numbers; `tau2` is the variance between specimens.
    pub(super) fn of(rows: &[Row], numbers: &[usize], tau2: f64) -> Option<Self> {
        let first = rows.get(*numbers.first()?)?;
        let mut group = Self {
            asked: first.asked,
            variant: first.variant.clone(),
            sources: Vec::new(),
            origin: first.value,
            size: first.value.abs().max(first.u).max(1e-100),
            tau2,
            points: Vec::new(),
            blocks: Vec::new(),
            precision: DMatrix::zeros(0, 0),
            mean: DVector::zeros(0),
            covariance: DMatrix::zeros(0, 0),
            root: DMatrix::zeros(0, 0),
        };
        for row in numbers.iter().filter_map(|number| rows.get(*number)) {
            if !group.sources.contains(&row.source) {
                group.sources.push(row.source);
            }
        }
        group.collect(rows, numbers);
        group.sum();
        Some(group)
    }

    fn collect(&mut self, rows: &[Row], numbers: &[usize]) {
        let count = self.sources.len();
        // Rows in the order of specimen, source and value: those of one point follow one another.
        let specimen = |row: &Row| if self.tau2 > 0.0 { row.specimen.clone() } else { String::new() };
        let mut keyed: Vec<(String, usize, u64, usize)> = numbers
            .iter()
            .filter_map(|number| Some((rows.get(*number)?, *number)))
            .filter(|(row, _)| !row.aside)
            .map(|(row, number)| (specimen(row), row.source, row.value.to_bits(), number))
            .collect();
        order::by(&mut keyed, |a, b| (&a.0, a.1, a.2, a.3).cmp(&(&b.0, b.1, b.2, b.3)));
        let mut at = 0;
        while let Some((name, source, bits, number)) = keyed.get(at).cloned() {
            let Some(row) = rows.get(number) else { break };
            let rounded = row.rounding > 0.0 && row.weight >= 1.0;
            let same = keyed
                .iter()
                .skip(at)
                .take_while(|key| rounded && key.0 == name && key.1 == source && key.2 == bits);
            let many = same.count().max(1);
            let own: Vec<usize> = keyed.iter().skip(at).take(many).map(|key| key.3).collect();
            at += many;
            let variance = if many > 1 {
                let rest = row.own * row.own - row.rounding * row.rounding;
                let rest = rest.max(LEAST_OWN * LEAST_OWN * row.u * row.u);
                row.rounding * row.rounding + rest / many as f64
            } else {
                row.own * row.own / row.weight.max(1e-12)
            };
            if self.blocks.last().is_none_or(|block| block.specimen != name) {
                self.blocks.push(Block::new(&name, count));
            }
            let place = self.sources.iter().position(|own| *own == source).unwrap_or(0);
            let value = row.value - self.origin;
            let point = Point { value, variance, source: place, block: self.blocks.len() - 1, rows: own };
            if let Some(block) = self.blocks.last_mut() {
                block.add(&point, 1.0);
            }
            self.points.push(point);
        }
    }

    fn sum(&mut self) {
        let count = self.sources.len();
        let (mut precision, mut information) = (DMatrix::zeros(count, count), DVector::zeros(count));
        for block in &self.blocks {
            precision += block.precision(self.tau2);
            information += block.information(self.tau2);
        }
        // A source with no row left has nothing to say.
        for i in 0..count {
            if let Some(slot) = precision.get_mut((i, i)) {
                *slot = slot.max(GHOST / (self.size * self.size));
            }
        }
        if let Some(root) = Cholesky::new(precision.clone()) {
            self.mean = root.solve(&information);
            self.covariance = root.inverse();
            self.root = root.l();
        } else {
            let diagonal = precision.diagonal();
            self.mean = information.component_div(&diagonal);
            self.covariance = DMatrix::from_diagonal(&diagonal.map(f64::recip));
            self.root = DMatrix::from_diagonal(&diagonal.map(f64::sqrt));
        }
        self.precision = precision;
    }

    /// Points less what they are averaged to: observations of the fit.
    pub(super) fn observed(&self) -> DVector<f64> {
        self.root.tr_mul(&self.mean)
    }

    /// What the fit compares with that, of H less the origin.
    pub(super) fn compared(&self, h: &DVector<f64>) -> DVector<f64> {
        self.root.tr_mul(h)
    }

    /// ∂H/∂θ from the derivatives of what is compared.
    pub(super) fn uncompared(&self, jacobian: &DMatrix<f64>) -> DMatrix<f64> {
        self.root.tr_solve_lower_triangular(jacobian).unwrap_or_else(|| jacobian.clone())
    }

    /// Whether any row is left.
    pub(super) fn is_empty(&self) -> bool {
        self.points.is_empty()
    }

    /// Precision and information of H by all others.
    #[allow(clippy::indexing_slicing, reason = "within the shape that was just made")]
    fn others(&self, stand: &Stand) -> Option<(DMatrix<f64>, DVector<f64>)> {
        let (h, covariance) = stand.others.as_ref()?;
        // What is left of a difference of equal numbers is no knowledge.
        let floor = |i: usize| (1e-9 * self.covariance[(i, i)]).max(covariance[(i, i)].abs() * 1e-12);
        let mut covariance = covariance.clone();
        for i in 0..covariance.nrows() {
            covariance[(i, i)] = covariance[(i, i)].max(0.0) + floor(i);
        }
        let precision = Cholesky::new(covariance)?.inverse();
        let information = &precision * h;
        Some((precision, information))
    }

    /// H by all others and some more of its own precision and information.
    fn with(
        (precision, information): &(DMatrix<f64>, DVector<f64>),
        more: &DMatrix<f64>,
        learned: &DVector<f64>,
    ) -> Option<(DVector<f64>, Cholesky<f64, Dyn>)> {
        let root = Cholesky::new(precision + more)?;
        Some((root.solve(&(information + learned)), root))
    }

    fn read(
        &self,
        (h, root): &(DVector<f64>, Cholesky<f64, Dyn>),
        by: &DVector<f64>,
        more: f64,
        own: f64,
    ) -> Expected {
        Expected { value: self.origin + more + by.dot(h), variance: own + by.dot(&root.solve(by)) }
    }

    /// Precision and information of all blocks but one.
    fn beside(&self, block: &Block, information: &DVector<f64>) -> (DMatrix<f64>, DVector<f64>) {
        let many = self.sources.len();
        if self.blocks.len() < 2 {
            return (DMatrix::zeros(many, many), DVector::zeros(many));
        }
        (&self.precision - block.precision(self.tau2), information - block.information(self.tau2))
    }

    /// What each point is expected to read by all others, its siblings of the same specimen included; `None` where nothing
    /// else speaks of it.
    pub(super) fn of_points(&self, stand: &Stand) -> Vec<Option<Expected>> {
        let Some(others) = self.others(stand) else { return vec![None; self.points.len()] };
        let information = &self.precision * &self.mean;
        let expected = |point: &Point| {
            let block = self.blocks.get(point.block)?;
            let mut rest = block.clone();
            rest.add(point, -1.0);
            let (more, learned) = self.beside(block, &information);
            let (more, learned) = (more + rest.precision(self.tau2), learned + rest.information(self.tau2));
            let h = Self::with(&others, &more, &learned)?;
            let t = rest.shrink(self.tau2);
            let mut by = -t * DVector::from_column_slice(&rest.weights);
            if let Some(slot) = by.get_mut(point.source) {
                *slot += 1.0;
            }
            Some(self.read(&h, &by, t * rest.sum(), point.variance + t))
        };
        self.points.iter().map(expected).collect()
    }

    /// What the mean of each block is expected to be by all others, and by nothing of its own specimen.
    pub(super) fn of_blocks(&self, stand: &Stand) -> Vec<Option<Expected>> {
        let Some(others) = self.others(stand) else { return vec![None; self.blocks.len()] };
        let information = &self.precision * &self.mean;
        let expected = |block: &Block| {
            let (more, learned) = self.beside(block, &information);
            let h = Self::with(&others, &more, &learned)?;
            let by = DVector::from_column_slice(&block.weights) / block.weight();
            Some(self.read(&h, &by, 0.0, 1.0 / block.weight() + self.tau2))
        };
        self.blocks.iter().map(expected).collect()
    }

    /// What the mean of all is expected to be by the other quantities and by what was known before; and that mean.
    pub(super) fn of_all(&self, stand: &Stand) -> Option<(f64, Expected)> {
        let others = self.others(stand)?;
        let by = &self.precision * DVector::from_element(self.sources.len(), 1.0);
        let weight = by.sum();
        let many = self.sources.len();
        let h = Self::with(&others, &DMatrix::zeros(many, many), &DVector::zeros(many))?;
        let by = by / weight;
        Some((self.origin + by.dot(&self.mean), self.read(&h, &by, 0.0, 1.0 / weight)))
    }

    /// How far H, of each source, follows a point.
    pub(super) fn follows(&self, point: &Point) -> DVector<f64> {
        let Some(block) = self.blocks.get(point.block) else { return DVector::zeros(self.sources.len()) };
        let mut by = -block.shrink(self.tau2) * DVector::from_column_slice(&block.weights);
        if let Some(slot) = by.get_mut(point.source) {
            *slot += 1.0;
        }
        by / point.variance
    }
}

#[cfg(test)]
mod tests {
    use super::super::rows::UncertaintySource;
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn row(specimen: &str, source: usize, value: f64, own: f64) -> Row {
        Row {
            reading: 0,
            asked: 0,
            value,
            own,
            rounding: 0.0,
            u: own,
            uncertainty_from: UncertaintySource::Stated,
            source,
            specimen: specimen.to_owned(),
            variant: None,
            weight: 1.0,
            aside: false,
            checked: false,
        }
    }

    /// The covariance of all points written out.
    fn dense(group: &Group) -> DMatrix<f64> {
        DMatrix::from_fn(group.points.len(), group.points.len(), |i, j| {
            let (a, b) = (&group.points[i], &group.points[j]);
            f64::from(u8::from(i == j)) * a.variance + if a.block == b.block { group.tau2 } else { 0.0 }
        })
    }

    proptest! {
        /// Sums give what the whole covariance gives: mean, and what is expected of a point by all others, with a
        /// prior of H beside the readings.
        #[test]
        fn sums_are_the_whole_covariance(
            values in prop::collection::vec((0..3_usize, 0..2_usize, -2.0..2.0_f64, 0.2..1.5_f64), 4..9),
            tau in 0.1..2.0_f64,
        ) {
            let mut rows: Vec<Row> = values.iter()
                .map(|(s, source, value, own)| row(["A", "B", "C"][*s], *source, 10.0 + value, *own)).collect();
            rows.push(row("A", 0, 10.3, 0.7));
            rows.push(row("B", 1, 9.3, 0.7));
            let numbers: Vec<usize> = (0..rows.len()).collect();
            let group = Group::of(&rows, &numbers, tau * tau).unwrap();
            let inverse = dense(&group).try_inverse().unwrap();
            let design = DMatrix::from_fn(group.points.len(), 2, |i, j| f64::from(u8::from(group.points[i].source == j)));
            let y = DVector::from_iterator(group.points.len(), group.points.iter().map(|p| p.value));
            let precision = design.transpose() * &inverse * &design;
            prop_assert!((&precision - &group.precision).amax() < 1e-9 * precision.amax());
            let mean = precision.clone().try_inverse().unwrap() * design.transpose() * &inverse * &y;
            prop_assert!((&mean - &group.mean).amax() < 1e-8);
            // A prior of 0 ± 3, correlated, and what all say together.
            let prior = DMatrix::from_row_slice(2, 2, &[9.0, 4.0, 4.0, 9.0]).try_inverse().unwrap();
            let covariance = (&prior + &precision).try_inverse().unwrap();
            let others = Some((DVector::zeros(2), prior.clone().try_inverse().unwrap()));
            let stand = Stand { h: &covariance * &precision * &mean, covariance, others };
            let expected = group.of_points(&stand);
            for (i, found) in expected.iter().enumerate() {
                let kept: Vec<usize> = (0..group.points.len()).filter(|k| *k != i).collect();
                let all = dense(&group) + &design * prior.clone().try_inverse().unwrap() * design.transpose();
                let rest = all.select_rows(&kept).select_columns(&kept).try_inverse().unwrap();
                let beside = all.row(i).select_columns(&kept);
                let value = (&beside * &rest * y.select_rows(&kept))[0];
                let variance = all[(i, i)] - (&beside * &rest * beside.transpose())[0];
                let found = found.unwrap();
                prop_assert!((found.value - group.origin - value).abs() < 1e-6, "{} {}", found.value, value);
                prop_assert!((found.variance - variance).abs() < 1e-6 * variance, "{} {}", found.variance, variance);
            }
        }
    }

    #[test]
    fn rows_at_one_step_are_one_point() {
        let mut rows: Vec<Row> = (0..4).map(|_| row("A", 0, 146e-6, 0.3e-6)).collect();
        for row in &mut rows {
            row.rounding = 0.3e-6;
        }
        let group = Group::of(&rows, &[0, 1, 2, 3], 0.0).unwrap();
        assert_eq!(group.points.len(), 1);
        assert_relative_eq!(group.points[0].variance.sqrt(), 0.3e-6, max_relative = 1e-3);
        rows[2].aside = true;
        assert_eq!(Group::of(&rows, &[0, 1, 2, 3], 0.0).unwrap().points[0].rows.len(), 3);
        for row in &mut rows {
            row.aside = true;
        }
        assert!(Group::of(&rows, &[0, 1, 2, 3], 0.0).unwrap().is_empty());
    }
}
