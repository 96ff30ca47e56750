//! What may be wrong, and how far it is off.

use super::groups::Expected;
use roulade_stats::maths::pow;

/// Risk of naming any reading of a sheet whose uncertainties are right.
pub(crate) const RISK: f64 = 0.05;

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
