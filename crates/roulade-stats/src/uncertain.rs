//! A number, how well it is known, where it comes from, and what it moves with.

mod correlation;

pub use correlation::Correlation;

use serde::Serialize;

/// How well a number is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spread {
    /// Written without an uncertainty: taken as it stands.
    Exact,
    /// Standard uncertainty, in the unit of the value.
    Standard(f64),
    /// Anywhere between two bounds with equal density; the value is their middle.
    Range {
        /// Lower bound.
        low: f64,
        /// Upper bound.
        high: f64,
    },
}

/// A number in SI base units with its spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Uncertain {
    /// Best value, SI base units.
    pub value: f64,
    /// How well it is known, in the same units.
    pub spread: Spread,
}

impl Uncertain {
    /// A number taken as it stands.
    pub const fn exact(value: f64) -> Self {
        Self { value, spread: Spread::Exact }
    }

    /// A value with its standard uncertainty.
    pub const fn standard(value: f64, u: f64) -> Self {
        Self { value, spread: Spread::Standard(u) }
    }

    /// A rectangular distribution; the value is its middle.
    pub const fn range(low: f64, high: f64) -> Self {
        Self { value: 0.5 * (low + high), spread: Spread::Range { low, high } }
    }

    /// The number and its spread so many times as large; not for a factor below zero.
    #[must_use]
    pub fn times(self, by: f64) -> Self {
        let spread = match self.spread {
            Spread::Exact => Spread::Exact,
            Spread::Standard(u) => Spread::Standard(by * u),
            Spread::Range { low, high } => Spread::Range { low: by * low, high: by * high },
        };
        Self { value: by * self.value, spread }
    }

    /// The number moved by so much, known as well as it was.
    #[must_use]
    pub fn plus(self, by: f64) -> Self {
        let spread = match self.spread {
            Spread::Range { low, high } => Spread::Range { low: low + by, high: high + by },
            spread => spread,
        };
        Self { value: self.value + by, spread }
    }

    /// Standard uncertainty; of a range, half its width over √3 (JCGM 100:2008, 4.3.7).
    pub fn u(&self) -> f64 {
        match self.spread {
            Spread::Exact => 0.0,
            Spread::Standard(u) => u,
            Spread::Range { low, high } => (high - low) / 12f64.sqrt(),
        }
    }
}

/// Where an entry of a sheet comes from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Origin {
    /// Read off a specimen.
    Measured,
    /// Declared by the maker.
    Stated,
    /// Supposed by whoever wrote the sheet.
    #[default]
    Assumed,
    /// Left out, and filled in by this crate.
    Default,
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn standard_uncertainties() {
        assert_relative_eq!(Uncertain::exact(3.0).u(), 0.0);
        assert_relative_eq!(Uncertain::standard(3.0, 0.2).u(), 0.2);
        // Half the width, 0.6, over √3.
        let range = Uncertain::range(2.0, 3.2);
        assert_relative_eq!(range.value, 2.6);
        assert_relative_eq!(range.u(), 0.346_410_161_513_775_5, max_relative = 1e-15);
        let moved = range.times(2.0).plus(-1.0);
        assert_relative_eq!(moved.value, 4.2, max_relative = 1e-15);
        assert_relative_eq!(moved.u(), 2.0 * range.u(), max_relative = 1e-15);
    }
}
