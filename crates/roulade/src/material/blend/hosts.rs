//! The hosts of one coating, and at what potentials they pass from one piece of their curves to the next.

use crate::material::Curve;
use roulade_stats::order;
use std::sync::Arc;

/// Rungs nearer than this are one, V.
const SAME: f64 = 1e-12;

/// Hosts of one coating, in whatever shares. Cloning is cheap: they are shared.
#[derive(Clone, Debug, Default)]
pub struct Hosts(pub(super) Arc<Ladder>);

#[derive(Debug, Default)]
pub(super) struct Ladder {
    pub(super) curves: Vec<Curve>,
    /// Potentials at which a host passes a knot, falling.
    pub(super) rungs: Vec<f64>,
    /// Stoichiometry of every host at every rung, rung by rung.
    pub(super) x: Vec<f64>,
    /// The piece of its curve that every host is on from each rung to the next; none where it is at rest.
    pub(super) pieces: Vec<Option<u32>>,
}

impl Hosts {
    /// Hosts by their curves.
    pub fn new(curves: Vec<Curve>) -> Self {
        let mut rungs: Vec<f64> = curves.iter().flat_map(Curve::knot_potentials).collect();
        order::by(&mut rungs, |a, b| b.total_cmp(a));
        rungs.dedup_by(|next, kept| *kept - *next < SAME);
        if curves.len() < 2 {
            rungs.clear();
        }
        let x = rungs.iter().flat_map(|u| curves.iter().map(|curve| curve.stoichiometry(*u))).collect();
        let middles = rungs.iter().zip(rungs.iter().skip(1)).map(|(above, below)| 0.5 * (above + below));
        let piece = |curve: &Curve, u| curve.passing(u).and_then(|piece| u32::try_from(piece).ok());
        let pieces = middles.flat_map(|u| curves.iter().map(move |curve| piece(curve, u))).collect();
        Self(Arc::new(Ladder { curves, rungs, x, pieces }))
    }

    /// Their curves.
    pub fn curves(&self) -> &[Curve] {
        &self.0.curves
    }
}

impl PartialEq for Hosts {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0) || self.0.curves == other.0.curves
    }
}
