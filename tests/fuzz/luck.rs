//! Chance from a seed: the same seed gives the same inputs on every machine.

use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};

/// A stream of chance.
pub(crate) struct Luck(Pcg64Mcg);

impl Luck {
    pub(crate) fn of(seed: u64) -> Self {
        Self(Pcg64Mcg::seed_from_u64(seed))
    }

    pub(crate) fn bits(&mut self) -> u64 {
        self.0.next_u64()
    }

    /// A number below `n`; 0 where there is none.
    pub(crate) fn below(&mut self, n: usize) -> usize {
        usize::try_from((u128::from(self.bits()) * n as u128) >> 64).unwrap_or(0)
    }

    /// Once in so many times.
    pub(crate) fn once_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }

    /// From 0 to 1.
    pub(crate) fn part(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn pick<'a, T: ?Sized>(&mut self, of: &[&'a T]) -> &'a T {
        of[self.below(of.len())]
    }

    pub(crate) fn any<'a, T>(&mut self, of: &'a [T]) -> &'a T {
        &of[self.below(of.len())]
    }
}
