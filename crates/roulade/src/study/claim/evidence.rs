//! A declared figure as evidence: how likely it would be declared so of a cell whose figure is this or that.

use super::chance;
use super::declared::{Claim, Relation};
use roulade_stats::propagation::deviate::normal_probability as below;

/// Standard uncertainty of what is declared beside what the cells are, as a share of it: whether a minimum, a mean or a
/// rounded aim is told, at which rate and temperature. Common practice, no source.
const DECLARED: [(&str, f64); 10] = [
    ("capacity", 0.012),
    ("loaded_capacity", 0.012),
    ("energy", 0.015),
    ("loaded_energy", 0.015),
    ("mass", 0.01),
    ("mean_voltage", 0.008),
    ("envelope", 0.005),
    // By alternating current or by a pulse, and which: nobody says.
    ("resistance", 0.3),
    ("resistance.metal", 0.3),
    // For how many cycles it must last.
    ("continuous_current", 0.2),
];
/// Of any other figure.
const OTHERS: f64 = 0.015;

/// A declared figure as evidence.
#[derive(Clone, Copy, Debug)]
pub(super) struct Evidence {
    relation: Relation,
    /// Where the figure would have to lie.
    holds: (f64, f64),
    /// Standard uncertainty of the declaration, SI.
    pub(super) sigma: f64,
    /// The same as a share of what is declared.
    pub(super) share: f64,
}

impl Evidence {
    pub(super) fn of(claim: &Claim) -> Self {
        let share =
            DECLARED.iter().find(|(id, _)| *id == claim.figure.id).map_or(OTHERS, |(_, share)| *share);
        Self {
            relation: claim.relation,
            holds: claim.holds(claim.rounding.half() * claim.unit.in_si()),
            sigma: (share * claim.value.abs()).max(1e-12),
            share,
        }
    }

    /// The same declaration, taken to hold over another interval.
    pub(super) fn within(self, holds: (f64, f64)) -> Self {
        Self { holds, ..self }
    }

    /// Likelihood of the declaration where the figure of the cells is this, up to a constant.
    pub(super) fn likelihood(&self, figure: f64) -> f64 {
        let (low, high) = self.holds;
        (below((high - figure) / self.sigma) - below((low - figure) / self.sigma)).max(0.0)
    }

    /// Chances that what is declared of a cell with this figure lies below the interval, and above it. A bound is about the
    /// cell itself, an interval about what is declared of it.
    pub(super) fn missed(&self, figure: f64) -> (f64, f64) {
        let (low, high) = self.holds;
        if self.relation == Relation::About {
            (below((low - figure) / self.sigma), below((figure - high) / self.sigma))
        } else {
            (f64::from(u8::from(figure < low)), f64::from(u8::from(figure > high)))
        }
    }

    /// The same chances on the mean over sorted draws of the figure.
    pub(super) fn missed_by(&self, sorted: &[f64]) -> (f64, f64) {
        if self.relation != Relation::About {
            return chance::missed(sorted, self.holds);
        }
        let n = sorted.len().max(1) as f64;
        let (low, high) = sorted
            .iter()
            .map(|figure| self.missed(*figure))
            .fold((0.0, 0.0), |sum, one| (sum.0 + one.0, sum.1 + one.1));
        (low / n, high / n)
    }

    /// Chance of the claim where the figure is normal.
    pub(super) fn normal(&self, claim: &Claim, mean: f64, u: f64) -> f64 {
        let (low, high) = self.holds;
        let own = if self.relation == Relation::About { self.sigma } else { 0.0 };
        let u = (u * u + own * own).sqrt();
        let (low, high) =
            if u > 0.0 { (below((low - mean) / u), below((mean - high) / u)) } else { self.missed(mean) };
        claim.chance(low, high).clamp(0.0, 1.0)
    }

    /// The same as a normal reading: its value and standard uncertainty; `None` where a bound holds at this figure anyway.
    pub(super) fn reading(&self, best: f64) -> Option<(f64, f64)> {
        let (low, high) = self.holds;
        match self.relation {
            Relation::About => {
                // An even density over the interval has half its width over √3 (JCGM 100:2008, 4.3.7).
                let half = 0.5 * (high - low);
                Some((0.5 * (low + high), (self.sigma * self.sigma + half * half / 3.0).sqrt()))
            }
            Relation::AtLeast => (best < low).then_some((low, self.sigma)),
            Relation::AtMost => (best > high).then_some((high, self.sigma)),
        }
    }
}
