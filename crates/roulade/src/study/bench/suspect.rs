//! What may be wrong, and how far it is off.

use super::groups::Expected;
use roulade_stats::maths::pow;

/// Risk of naming anything at all in a sheet whose uncertainties are right: a reading, an offset of a quantity, another cell, or
/// specimens of two kinds.
///
/// It is shared out before a sheet is seen, and shares add up to the whole (Bonferroni's inequality, weighted: C. R. Genovese, K.
/// Roeder, L. Wasserman, Biometrika 93 (2006) 509, doi:10.1093/biomet/93.3.509). Half is for single readings, which go wrong most
/// often, whatever else is asked; the other half is for what many readings have in common, evenly among what can be asked of a
/// sheet: of one specimen it is offsets alone. Slips that are looked for before the fit need no share to speak of: each has a
/// chance of 1e-4 beforehand and must be ten times likelier than none, so that of m slips of faultless readings m/100 000 are told
/// at most, by Markov's inequality.
pub(crate) const RISK: f64 = 0.05;

/// The part of the risk that two kinds of specimens have where they are asked for: a third of the half that is for what readings
/// have in common.
pub(super) const OF_KINDS: f64 = OF_COMMON / 3.0;
const OF_COMMON: f64 = 0.5;

/// Parts of the risk of single readings, of quantities as a whole and of specimens as a whole, by how many tests there are of each
/// and whether two kinds are asked for.
pub(super) fn shares(tests: [usize; 3], kinds: bool) -> [f64; 3] {
    let [readings, wholes, cells] = tests.map(|count| f64::from(u8::from(count > 0)));
    let rest = if kinds { OF_COMMON - OF_KINDS } else { OF_COMMON };
    let each = rest / f64::max(wholes + cells, 1.0);
    [readings * (1.0 - OF_COMMON), wholes * each, cells * each]
}

/// How much is suspect at once.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Scope {
    /// One reading.
    Reading,
    /// All readings of one quantity off one specimen.
    Specimen,
    /// All readings of one quantity.
    Quantity,
    /// Two readings that stand in one another's place.
    Exchange,
    /// All readings of one specimen: it is another cell.
    Cell,
}

/// Rows that may be wrong together.
#[derive(Clone)]
pub(super) struct Suspect {
    pub(super) row: usize,
    pub(super) also: Vec<usize>,
    pub(super) scope: Scope,
    pub(super) z: f64,
    pub(super) probability: f64,
    /// How many times the risk of a test among many is this one's: a quantity as a whole is one of few.
    pub(super) weight: f64,
    pub(super) expected: Expected,
    pub(super) or: Vec<usize>,
}

impl Suspect {
    /// What its probability may be, as the worst of so many tests: each has the part of the risk that its weight is
    /// (Z. Šidák, J. Am. Stat. Assoc. 62 (1967) 626, doi:10.1080/01621459.1967.10482935; weighted: C. R. Genovese,
    /// K. Roeder, L. Wasserman, Biometrika 93 (2006) 509, doi:10.1093/biomet/93.3.509).
    pub(super) fn limit(&self, tests: usize) -> f64 {
        1.0 - pow(1.0 - RISK, self.weight / tests as f64)
    }

    /// Whether it is beyond chance, as the worst of so many.
    pub(super) fn is_beyond(&self, tests: usize) -> bool {
        self.probability < self.limit(tests)
    }

    /// Probability that the worst of so many is as far off by chance.
    pub(super) fn chance(&self, tests: usize) -> f64 {
        1.0 - pow(1.0 - self.probability, tests as f64 / self.weight)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_are_no_more_than_the_whole_risk() {
        let (half, third) = (0.5, 0.5 / 3.0);
        for (tests, kinds, expected) in [
            ([9, 0, 0], false, [half, 0.0, 0.0]),
            ([9, 3, 0], false, [half, half, 0.0]),
            ([9, 3, 4], false, [half, 0.25, 0.25]),
            ([9, 3, 4], true, [half, third, third]),
            ([9, 3, 0], true, [half, 2.0 * third, 0.0]),
            ([0, 3, 0], false, [0.0, half, 0.0]),
        ] {
            let found = shares(tests, kinds);
            assert!(found.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-12), "{found:?} {expected:?}");
            let all = found.iter().sum::<f64>() + if kinds { OF_KINDS } else { 0.0 };
            assert!(all <= 1.0 + 1e-12);
        }
    }
}
