//! How dear a residual is: its square, or less where readings may be off by more than they say.

use crate::maths::ln;

/// What a normalised residual z = (y − h)/u costs, so that the sum of costs is the χ² of a normal error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Loss {
    /// z²: errors are normal.
    Normal,
    /// z² up to k, 2k·|z| − k² beyond (P. J. Huber, Ann. Math. Statist. 35 (1964) 73, doi:10.1214/aoms/1177703732):
    /// no reading pulls harder than one that is off by k. At k = 1.345 nothing but 5 % of efficiency is lost where errors
    /// are normal after all (from memory).
    Huber {
        /// Where the square ends, in standard uncertainties.
        k: f64,
    },
    /// (ν + 1)·ln(1 + z²/ν): errors follow Student's distribution, and a wild one counts for nothing in the end (K. L.
    /// Lange, R. J. A. Little, J. M. G. Taylor, J. Am. Stat. Assoc. 84 (1989) 881, doi:10.1080/01621459.1989.10478852).
    Student {
        /// Degrees of freedom; 4 is common.
        nu: f64,
    },
}

impl Loss {
    /// Whether its one number makes sense.
    pub(super) fn is_sound(self) -> bool {
        match self {
            Self::Normal => true,
            Self::Huber { k: tail } | Self::Student { nu: tail } => tail > 0.0 && tail.is_finite(),
        }
    }

    /// The cost of a normalised residual.
    pub fn cost(self, z: f64) -> f64 {
        match self {
            Self::Huber { k } if z.abs() > k => k * (2.0 * z.abs() - k),
            Self::Normal | Self::Huber { .. } => z * z,
            Self::Student { nu } => (nu + 1.0) * ln(1.0 + z * z / nu),
        }
    }

    /// How much a reading with this residual counts, beside one of a normal error: half the cost's slope over z.
    pub fn weight(self, z: f64) -> f64 {
        match self {
            Self::Huber { k } if z.abs() > k => k / z.abs(),
            Self::Normal | Self::Huber { .. } => 1.0,
            Self::Student { nu } => (nu + 1.0) / (nu + z * z),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn the_weight_is_half_the_slope_over_the_residual() {
        for loss in [Loss::Normal, Loss::Huber { k: 1.345 }, Loss::Student { nu: 4.0 }] {
            for z in [-7.0, -1.3, 0.2, 1.0, 1.4, 12.0] {
                let slope = (loss.cost(z + 1e-5) - loss.cost(z - 1e-5)) / 2e-5;
                assert_relative_eq!(loss.weight(z), 0.5 * slope / z, max_relative = 1e-8);
            }
        }
        assert_relative_eq!(Loss::Huber { k: 2.0 }.cost(2.0 + 1e-12), 4.0, max_relative = 1e-11);
        assert!(!Loss::Huber { k: 0.0 }.is_sound() && !Loss::Student { nu: f64::NAN }.is_sound());
    }
}
