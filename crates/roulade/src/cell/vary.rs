//! Many designs around one: the same for the same seed, on every target.

use crate::cell::draft::Draft;
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
            *value = best + input.uncertain.u() * 2.0 * (part - 0.5);
        }
        each(&values);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::demo;

    #[test]
    fn moves_what_is_uncertain_within_one_standard_uncertainty() {
        let draft = demo("marram a");
        let (best, mut count, mut widest, mut sum) = (draft.values(), 0, 0.0_f64, 0.0);
        varied(&draft, 200, 3, |values| {
            count += 1;
            for ((value, best), input) in values.iter().zip(&best).zip(draft.inputs()) {
                let u = input.uncertain.u();
                assert!((value - best).abs() <= u * (1.0 + 1e-9) + 1e-15 * best.abs(), "{}", input.path);
                if input.path == "can.wall" {
                    widest = widest.max((value - best).abs() / u);
                    sum += (value - best) / u;
                }
            }
        });
        assert_eq!(count, 200);
        // Two hundred throws come close to the end, and their mean (2/√12 over √200 = 0.04) close to nothing.
        assert!(widest > 0.95 && sum.abs() < 0.2 * 200.0, "{widest} {sum}");
    }

    #[test]
    fn a_seed_gives_its_own_designs_and_always_the_same() {
        let draft = demo("small");
        let throw = |seed| {
            let mut all = Vec::new();
            varied(&draft, 2, seed, |values| all.push(values.to_vec()));
            all
        };
        assert_eq!(throw(1), throw(1));
        assert_ne!(throw(1), throw(2));
        assert_ne!(throw(1)[0], throw(1)[1]);
    }
}
