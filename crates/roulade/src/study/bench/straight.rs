//! A straight line in the place of a prediction that has kinks.

/// A prediction by its mean and its slopes over what a fit leaves open.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Straight {
    /// The fit's parameters of the design that it is drawn through.
    pub(super) at: Vec<f64>,
    /// What is predicted there, in the mean over its surroundings, SI.
    pub(super) value: f64,
    /// By how much it goes with each parameter.
    pub(super) slopes: Vec<f64>,
    /// Standard deviation of the prediction about the line, SI.
    pub(super) u: f64,
}

impl Straight {
    /// Along the line.
    pub(super) fn predicted(&self, to: &[f64]) -> f64 {
        self.value + self.goes(to)
    }

    /// How far it goes from where it is drawn through.
    pub(super) fn goes(&self, to: &[f64]) -> f64 {
        let by = to.iter().zip(&self.at).map(|(to, at)| to - at);
        by.zip(&self.slopes).map(|(by, slope)| by * slope).sum()
    }
}
