//! Blended curves kept while many drafts are worked out at the same values: the sheets between two sheets, say.

use super::Draft;
use super::coating::Coating;
use super::materials::HalfCell;
use crate::design::blueprint::Potential;
use crate::material::Curve;

/// Most blends kept at a time; the oldest gives way.
const MOST: usize = 16;

/// Blends of the last few sets of values. The same answers as without, sooner.
#[derive(Clone, Debug, Default)]
pub struct Blends(Vec<Blend>);

#[derive(Clone, Debug)]
struct Blend {
    hosts: Vec<HalfCell>,
    shares: Vec<f64>,
    potential: Option<Potential>,
}

impl Blends {
    /// The potential of these hosts at these shares: one that was made before, or a new one.
    pub(super) fn get(
        &mut self,
        halves: &[&HalfCell],
        shares: &[f64],
        make: impl FnOnce() -> Option<Potential>,
    ) -> Option<Potential> {
        let same = |kept: &&Blend| {
            kept.shares == shares
                && kept.hosts.len() == halves.len()
                && kept.hosts.iter().zip(halves).all(|(kept, half)| {
                    kept.curve.is(&half.curve) && kept.as_assembled.to_bits() == half.as_assembled.to_bits()
                })
        };
        if let Some(kept) = self.0.iter().rev().find(same) {
            return kept.potential.clone();
        }
        if self.0.len() >= MOST {
            self.0.remove(0);
        }
        let hosts = halves.iter().map(|half| (*half).clone()).collect();
        let potential = make();
        self.0.push(Blend { hosts, shares: shares.to_vec(), potential: potential.clone() });
        potential
    }
}

impl Draft {
    /// Takes the half-cell curves that other drafts have too from them, so that blends can be shared, and drops what
    /// is only read by people: a draft that many values are put into, with thousands of others beside it.
    pub(crate) fn for_many(mut self, like: &[&Self]) -> Self {
        let known: Vec<Curve> = like
            .iter()
            .flat_map(|draft| [&draft.cathode, &draft.anode])
            .flat_map(Coating::halves)
            .map(|half| half.curve.clone())
            .collect();
        for half in self.cathode.halves_mut().chain(self.anode.halves_mut()) {
            if let Some(same) = known.iter().find(|curve| **curve == half.curve) {
                half.curve = same.clone();
            }
        }
        self.inputs = Vec::new();
        self.remarks = Vec::new();
        self
    }
}
