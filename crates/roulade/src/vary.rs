//! Many designs around one: the same for the same seed, on every target.

use crate::answer::figure_values;
use crate::design::Draft;
use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};

/// Values of a draft's inputs, each moved by up to one standard uncertainty either way, `count` times over.
pub fn varied(draft: &Draft, count: u32, seed: u64, mut each: impl FnMut(&[f64])) {
    let mut random = Pcg64Mcg::seed_from_u64(seed);
    let best = draft.values();
    let mut values = best.clone();
    for _ in 0..count {
        for ((value, best), input) in values.iter_mut().zip(&best).zip(draft.inputs()) {
            // 53 bits: every such fraction is a double, whatever the target.
            let part = (random.next_u64() >> 11) as f64 * (1.0 / 9_007_199_254_740_992.0);
            *value = best + input.known.u() * 2.0 * (part - 0.5);
        }
        each(&values);
    }
}

/// One number for all bits of all figures of `count` varied designs: equal only where every bit is equal.
///
/// Designs that do not hold together count as such. The digest is FNV-1a over the little-endian bytes (Fowler, Noll
/// and Vo; IETF draft-eastlake-fnv).
pub fn digest(draft: &Draft, count: u32, seed: u64) -> u64 {
    let mut hash = 0xcbf2_9ce4_8422_2325_u64;
    let mut byte = |byte: u8| hash = (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
    varied(draft, count, seed, |values| match figure_values(draft, values) {
        Ok(figures) => figures.iter().flat_map(|figure| figure.to_bits().to_le_bytes()).for_each(&mut byte),
        Err(_) => byte(0xff),
    });
    hash
}
