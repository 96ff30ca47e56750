//! What inputs may be, where a draw can move them beyond it: a normal distribution has no end.

use crate::sheet::defaults::{Bound, field};
use roulade_stats::propagation::sample::Sampler;
use roulade_stats::uncertain::{Correlation, Spread, Uncertain};

/// Bounds of the inputs that are normally distributed, by number, and whether the population says what is known of them.
/// Both ends of a range were checked when it was read.
#[derive(Clone, Debug, Default)]
pub struct Bounds(Vec<(usize, Bound, bool)>);

impl Bounds {
    /// Of inputs in their order, each by its path, what is known of it, and whether the population says so.
    pub fn of<'a>(inputs: impl IntoIterator<Item = (&'a str, Uncertain, bool)>) -> Self {
        let normal = |uncertain: Uncertain| matches!(uncertain.spread, Spread::Standard(u) if u > 0.0);
        let each = inputs.into_iter().enumerate().filter(|(_, (_, uncertain, _))| normal(*uncertain));
        Self(each.filter_map(|(i, (path, _, usual))| Some((i, field(path)?.bound, usual))).collect())
    }

    /// Draws these inputs within their bounds. What the population says is log-normal where nothing at all is not far off: a coating
    /// of a tenth of the usual thickness is no wound cell's, however much the purposes of cells differ. What a sheet says with
    /// an uncertainty is normal (JCGM 101:2008, 6.4.7), cut off at what is possible.
    pub fn sampler(&self, uncertain: &[Uncertain], correlation: &Correlation) -> Sampler {
        let usual = |input| self.0.iter().any(|(i, _, usual)| *i == input && *usual);
        Sampler::new(uncertain, correlation).within(|i| self.ends(i)).log_normal(usual, |i| self.ends(i))
    }

    /// The ends of what an input may be, by its number: where a distribution of it is cut off.
    pub fn ends(&self, input: usize) -> (f64, f64) {
        let found = self.0.iter().find(|(i, ..)| *i == input);
        found.map_or((f64::NEG_INFINITY, f64::INFINITY), |(_, bound, _)| bound.ends())
    }

    /// Values with those that are past an end of what they may be put there, where they may be that.
    pub(crate) fn clamped(&self, mut values: Vec<f64>) -> Vec<f64> {
        for (i, bound, _) in &self.0 {
            if let Some(slot) = values.get_mut(*i).filter(|value| !bound.holds(**value)) {
                let (low, high) = bound.ends();
                let end = slot.max(low).min(high);
                if bound.holds(end) {
                    *slot = end;
                }
            }
        }
        values
    }

    /// Whether all values are what they may be.
    pub fn hold(&self, values: &[f64]) -> bool {
        self.0.iter().all(|(i, bound, _)| values.get(*i).is_some_and(|value| bound.holds(*value)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_normal_input_may_leave_its_bounds_and_no_other() {
        let spread = |spread| Uncertain { value: 0.1, spread };
        let range = Spread::Range { low: 0.0, high: 0.2 };
        let bounds = Bounds::of([
            ("can.wall", spread(Spread::Standard(0.1)), false),
            ("can.bottom", spread(Spread::Exact), false),
            ("void_height", spread(range), false),
        ]);
        assert!(bounds.hold(&[0.1, -1.0, -1.0]) && !bounds.hold(&[-0.1, 0.1, 0.1]) && !bounds.hold(&[]));
        assert!(Bounds::default().hold(&[-1.0]));
        let height = Bounds::of([("void_height", spread(Spread::Standard(0.1)), false)]);
        assert_eq!(height.clamped(vec![-0.01, -1.0]), [0.0, -1.0]);
    }
}
