//! What a fit is given: what is known of the parameters beforehand, and the readings.

/// What is known of a parameter before any reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prior {
    /// The best value, where the search starts.
    pub value: f64,
    /// Its standard uncertainty: infinite if nothing is known, zero if it is known exactly and shall not move.
    pub u: f64,
    /// The parameter is not below this; may be infinite.
    pub low: f64,
    /// The parameter is not above this; may be infinite.
    pub high: f64,
}

impl Prior {
    /// A value and its standard uncertainty, without bounds.
    pub const fn new(value: f64, u: f64) -> Self {
        Self { value, u, low: f64::NEG_INFINITY, high: f64::INFINITY }
    }

    /// Nothing is known; the search starts at a value.
    pub const fn flat(start: f64) -> Self {
        Self::new(start, f64::INFINITY)
    }

    /// The same within bounds.
    pub const fn within(self, low: f64, high: f64) -> Self {
        Self { low, high, ..self }
    }

    pub(super) fn is_sound(&self) -> bool {
        self.value.is_finite() && self.u >= 0.0 && self.low <= self.high
    }

    pub(super) fn is_exact(&self) -> bool {
        self.u == 0.0 || self.low >= self.high
    }
}

/// A reading and its standard uncertainty, in the unit of its prediction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Observation {
    /// The reading.
    pub value: f64,
    /// Its standard uncertainty, above zero.
    pub u: f64,
}
