//! The only door to transcendental functions.
//!
//! The standard library's `exp`, `ln`, `tanh` … give other bits in WebAssembly than natively; `libm` in Rust gives
//! the same on every target.

/// eˣ.
pub fn exp(x: f64) -> f64 {
    libm::exp(x)
}

/// Natural logarithm.
pub fn ln(x: f64) -> f64 {
    libm::log(x)
}

/// Complementary error function, 2/√π ∫ₓ^∞ exp(−t²) dt.
pub fn erfc(x: f64) -> f64 {
    libm::erfc(x)
}

/// Hyperbolic tangent.
pub fn tanh(x: f64) -> f64 {
    libm::tanh(x)
}

/// `base` raised to `exponent`.
pub fn pow(base: f64, exponent: f64) -> f64 {
    libm::pow(base, exponent)
}

/// Inverse hyperbolic sine.
pub fn asinh(x: f64) -> f64 {
    libm::asinh(x)
}

/// Hyperbolic sine.
pub fn sinh(x: f64) -> f64 {
    libm::sinh(x)
}

/// Hyperbolic cosine.
pub fn cosh(x: f64) -> f64 {
    libm::cosh(x)
}

/// Sine.
pub fn sin(x: f64) -> f64 {
    libm::sin(x)
}

/// Cosine.
pub fn cos(x: f64) -> f64 {
    libm::cos(x)
}

/// Logarithm of |Γ(x)|.
pub fn lgamma(x: f64) -> f64 {
    libm::lgamma(x)
}
