//! One number for the bits of all figures of many designs: what is to be the same on every target.

use crate::answer::figure_values;
use roulade::cell::draft::Draft;
use roulade::cell::vary::varied;

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::draft;
    use serde_json::json;

    #[test]
    fn a_digest_tells_any_figure_apart() {
        let (a, b) = (draft(&[]), draft(&[("cathode/loading", json!("20.0000001 mg/cm2"))]));
        assert_eq!(digest(&a, 3, 1), digest(&a, 3, 1));
        assert_ne!(digest(&a, 3, 1), digest(&a, 4, 1));
        assert_ne!(digest(&a, 3, 1), digest(&b, 3, 1));
        // Of nothing, and of one design that does not hold together: FNV-1a of no byte and of 0xff.
        assert_eq!(digest(&a, 0, 1), 0xcbf2_9ce4_8422_2325);
        let over = draft(&[("cathode/width", json!("90 mm"))]);
        assert_eq!(digest(&over, 1, 1), 0xaf64_724c_8602_eb6e);
    }
}
