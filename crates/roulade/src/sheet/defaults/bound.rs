//! What a number of the sheet may be.

/// What a number may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// Greater than zero.
    Positive,
    /// Zero or more.
    NotNegative,
    /// Greater than zero and at most one.
    Share,
    /// Zero or more and less than one.
    Porosity,
    /// From zero to one, both ends included.
    Part,
    /// Above absolute zero, in degrees Celsius.
    Temperature,
    /// Greater than zero and at most two: above one something else gave.
    Efficiency,
    /// From zero to ten: an exponent of tortuosity over porosity. Bruggeman's spheres have 1/2, coatings and films that were
    /// measured up to about 2 (from memory); at ten the pores of an ordinary coating are shut.
    Exponent,
    /// What something is off by, in parts of it: more than −1.
    Deviation,
    /// Any number.
    Any,
}

impl Bound {
    /// Whether a value lies within.
    pub fn holds(self, value: f64) -> bool {
        match self {
            Bound::Positive => value > 0.0,
            Bound::NotNegative => value >= 0.0,
            Bound::Share => value > 0.0 && value <= 1.0,
            Bound::Porosity => (0.0..1.0).contains(&value),
            Bound::Part => (0.0..=1.0).contains(&value),
            Bound::Temperature => value > -273.15,
            Bound::Efficiency => value > 0.0 && value <= 2.0,
            Bound::Exponent => (0.0..=10.0).contains(&value),
            Bound::Deviation => value > -1.0 && value.is_finite(),
            Bound::Any => value.is_finite(),
        }
    }

    /// Lower and upper end of what a value may be.
    pub fn ends(self) -> (f64, f64) {
        match self {
            Bound::Positive | Bound::NotNegative => (0.0, f64::INFINITY),
            Bound::Share | Bound::Porosity | Bound::Part => (0.0, 1.0),
            Bound::Temperature => (-273.15, f64::INFINITY),
            Bound::Efficiency => (0.0, 2.0),
            Bound::Exponent => (0.0, 10.0),
            Bound::Deviation => (-1.0, f64::INFINITY),
            Bound::Any => (f64::NEG_INFINITY, f64::INFINITY),
        }
    }

    /// What is right, in words that follow "is".
    pub fn words(self) -> &'static str {
        match self {
            Bound::Positive => "greater than zero",
            Bound::NotNegative => "zero or more",
            Bound::Share => "greater than zero and at most 1 (100 %)",
            Bound::Porosity => "zero or more and less than 1 (100 %)",
            Bound::Part => "from zero to 1 (100 %)",
            Bound::Temperature => "above absolute zero",
            Bound::Efficiency => "greater than zero and at most 2 (200 %)",
            Bound::Exponent => "from zero to 10",
            Bound::Deviation => "greater than −1 (−100 %)",
            Bound::Any => "a finite number",
        }
    }

    /// What would be right of the entry that is labelled so, in words that follow "expected".
    pub fn asks(self, label: &str) -> String {
        format!("a value that is {} for {label}", self.words())
    }
}
