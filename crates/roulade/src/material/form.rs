//! Half-cell potentials in closed form, as their papers print them.

use roulade_stats::maths;

/// A term of a closed form, or a sum of terms: U in volts over the stoichiometry x.
///
/// ```
/// use roulade::material::Form;
/// // Plateau of LiFePO₄, Afshar et al., arXiv:1709.03970 (from memory).
/// const PLATEAU: Form = Form::Polynomial(&[3.4077, -0.020269]);
/// assert!((PLATEAU.potential(0.5) - 3.397_565_5).abs() < 1e-12);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Form {
    /// Σ terms.
    Sum(&'static [Form]),
    /// c₀ + c₁·x + c₂·x² + …, lowest power first.
    Polynomial(&'static [f64]),
    /// a·tanh(k·(x − m)).
    Tanh {
        /// Half the height of the step, V.
        a: f64,
        /// Steepness.
        k: f64,
        /// Middle of the step.
        m: f64,
    },
    /// a·exp(k·x + s).
    Exp {
        /// Factor, V.
        a: f64,
        /// Rate.
        k: f64,
        /// Constant part of the exponent.
        s: f64,
    },
    /// a·exp(k·xᵖ).
    ExpOfPower {
        /// Factor, V.
        a: f64,
        /// Rate.
        k: f64,
        /// Power of x in the exponent.
        p: f64,
    },
    /// a·xᵖ.
    Power {
        /// Factor, V.
        a: f64,
        /// Power of x.
        p: f64,
    },
    /// N(x²)/D(x²), both lowest power first.
    EvenRatio {
        /// Coefficients of N.
        above: &'static [f64],
        /// Coefficients of D.
        below: &'static [f64],
    },
    /// The form within, at 1 − x.
    Mirrored(&'static Form),
}

impl Form {
    /// a·tanh((x − m)/w), the other way papers write a step.
    pub const fn step(a: f64, m: f64, w: f64) -> Self {
        Self::Tanh { a, k: 1.0 / w, m }
    }

    /// U(x), V.
    pub fn potential(&self, x: f64) -> f64 {
        self.potential_and_slope(x).0
    }

    /// dU/dx, V, by the analytic derivative of each term.
    pub fn slope(&self, x: f64) -> f64 {
        self.potential_and_slope(x).1
    }

    /// U(x) and dU/dx, which share most of their work.
    pub(crate) fn potential_and_slope(&self, x: f64) -> (f64, f64) {
        match *self {
            Self::Sum(terms) => terms
                .iter()
                .map(|term| term.potential_and_slope(x))
                .fold((0.0, 0.0), |(u, d), (du, dd)| (u + du, d + dd)),
            Self::Polynomial(coefficients) => polynomial(coefficients, x),
            Self::Tanh { a, k, m } => {
                let t = maths::tanh(k * (x - m));
                (a * t, a * k * (1.0 - t * t))
            }
            Self::Exp { a, k, s } => {
                let e = a * maths::exp(k * x + s);
                (e, k * e)
            }
            Self::ExpOfPower { a, k, p } => {
                let e = a * maths::exp(k * maths::pow(x, p));
                (e, k * p * maths::pow(x, p - 1.0) * e)
            }
            Self::Power { a, p } => (a * maths::pow(x, p), a * p * maths::pow(x, p - 1.0)),
            Self::EvenRatio { above, below } => {
                let (n, dn) = polynomial(above, x * x);
                let (d, dd) = polynomial(below, x * x);
                (n / d, 2.0 * x * (dn * d - n * dd) / (d * d))
            }
            Self::Mirrored(form) => {
                let (u, d) = form.potential_and_slope(1.0 - x);
                (u, -d)
            }
        }
    }
}

/// Horner's scheme for a polynomial and its derivative.
fn polynomial(coefficients: &[f64], x: f64) -> (f64, f64) {
    coefficients.iter().rev().fold((0.0, 0.0), |(u, d), c| (u * x + c, d * x + u))
}

#[cfg(test)]
mod tests {
    use super::*;
    use Form::{EvenRatio, Exp, ExpOfPower, Mirrored, Polynomial, Power, Sum};
    use approx::assert_abs_diff_eq;
    use proptest::prelude::*;

    /// Safari, Delacourt, J. Electrochem. Soc. 158 (2011) A562, doi 10.1149/1.3567007, from memory: LFP.
    const LFP_POWERS: Form = Sum(&[
        Polynomial(&[3.4323]),
        Mirrored(&Sum(&[
            ExpOfPower { a: -0.8428, k: -80.2493, p: 1.3198 },
            ExpOfPower { a: -3.2474e-6, k: 20.2645, p: 3.8003 },
            ExpOfPower { a: 3.2482e-6, k: 20.2646, p: 3.7995 },
        ])),
    ]);

    /// The same article, from memory: graphite.
    const GRAPHITE_TWO_STAGE: Form = Sum(&[
        Polynomial(&[0.6379]),
        Exp { a: 0.5416, k: -305.5309, s: 0.0 },
        Form::step(-0.044, 0.1958, 0.1088),
        Form::step(-0.1978, 1.0571, 0.0854),
        Form::step(-0.6875, -0.0117, 0.0529),
        Form::step(-0.0175, 0.5692, 0.0875),
    ]);

    /// Kim, Smith, Lee, Santhanagopalan, Pesaran, J. Electrochem. Soc. 158 (2011) A955, doi 10.1149/1.3597614,
    /// from memory: graphite.
    const GRAPHITE_EIGHT_STEPS: Form = Sum(&[
        Polynomial(&[0.124]),
        Exp { a: 1.5, k: -150.0, s: 0.0 },
        Form::step(0.0155, 0.105, 0.029),
        Form::step(-0.011, 0.124, 0.0226),
        Form::step(-0.102, 0.194, 0.142),
        Form::step(0.0347, 0.286, 0.083),
        Form::step(-0.0147, 0.5, 0.034),
        Form::step(-0.0045, 0.9, 0.119),
        Form::step(-0.022, 0.98, 0.0164),
        Form::step(-0.035, 0.99, 0.05),
    ]);

    /// Ramadass, Haran, Gomadam, White, Popov, J. Electrochem. Soc. 151 (2004) A196, doi 10.1149/1.1634273, from
    /// memory: graphite, without stages.
    const GRAPHITE_SMOOTH: Form = Sum(&[
        Polynomial(&[0.7222, 0.1387]),
        Power { a: 0.029, p: 0.5 },
        Power { a: -0.0172, p: -1.0 },
        Power { a: 0.0019, p: -1.5 },
        Exp { a: 0.2808, k: -15.0, s: 0.90 },
        Exp { a: -0.7984, k: 0.4465, s: -0.4108 },
    ]);

    /// Attributed to Verbrugge, Baker, Xiao, J. Electrochem. Soc. 163 (2016) A262, from memory, attribution
    /// uncertain: silicon taking up lithium.
    const SILICON_LITHIATION: Form =
        Polynomial(&[0.8633, -9.286, 62.99, -232.8, 489.9, -587.6, 372.6, -96.63]);

    /// Every kind of term at once, for the derivative.
    const ALL_TERMS: Form = Sum(&[
        LFP_POWERS,
        GRAPHITE_SMOOTH,
        GRAPHITE_EIGHT_STEPS,
        EvenRatio { above: &[4.0, -1.0, 0.3], below: &[1.0, 0.2, 0.5] },
    ]);

    /// Potentials at the ends of the valid windows, computed apart from this crate on the printed coefficients.
    #[test]
    fn ends_of_the_published_windows() {
        for (form, window, ends) in [
            (LFP_POWERS, (0.02, 0.98), (3.7272, 2.8999)),
            (GRAPHITE_TWO_STAGE, (0.01, 0.9), (0.6527, 0.077)),
            (GRAPHITE_EIGHT_STEPS, (0.01, 0.98), (0.5836, 0.0508)),
            (GRAPHITE_SMOOTH, (0.03, 0.8), (0.4275, 0.0835)),
            // The reference's low end of silicon was taken at 0.0001.
            (SILICON_LITHIATION, (0.0001, 1.0), (0.8624, 0.0373)),
        ] {
            assert_abs_diff_eq!(form.potential(window.0), ends.0, epsilon = 6e-5);
            assert_abs_diff_eq!(form.potential(window.1), ends.1, epsilon = 6e-5);
        }
    }

    #[test]
    fn plateau_of_the_form_with_powers() {
        assert_abs_diff_eq!(LFP_POWERS.potential(0.5), 3.432, epsilon = 5e-4);
    }

    /// The printed polynomial's mean is its exact integral over 0..1; the reference states 0.213 V.
    #[test]
    fn mean_of_silicon_lithiation() {
        let n = 1000;
        let mean =
            (0..n).map(|i| SILICON_LITHIATION.potential((f64::from(i) + 0.5) / f64::from(n))).sum::<f64>()
                / f64::from(n);
        assert_abs_diff_eq!(mean, 0.213, epsilon = 6e-4);
    }

    proptest! {
        #[test]
        fn slope_is_the_derivative(x in 0.05..0.95f64) {
            let h = 1e-5;
            let difference = (ALL_TERMS.potential(x + h) - ALL_TERMS.potential(x - h)) / (2.0 * h);
            prop_assert!((difference - ALL_TERMS.slope(x)).abs() < 1e-5 * (1.0 + difference.abs()));
        }
    }
}
