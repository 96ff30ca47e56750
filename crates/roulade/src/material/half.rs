//! A published half-cell potential: its shape, the window a capacity stands for, how it goes on past it, and its error.

use super::figure::Status;
use super::{Curve, Form};
use serde::Serialize;

/// How far a half-cell curve can be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Grade {
    /// Measured, or with its partner it gives its paper's full-cell voltage limits.
    A,
    /// Plausible and monotone: a digitised figure, a neighbour's shape close by, a form from memory.
    B,
    /// A neighbour's shape from further off, points from memory, or an uncertain attribution.
    C,
}

/// The ion that a host stores.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
#[allow(missing_docs, reason = "the names are the documentation")]
pub enum Ion {
    #[default]
    Lithium,
    Sodium,
}

impl Ion {
    /// The element's name.
    pub fn name(self) -> &'static str {
        match self {
            Self::Lithium => "lithium",
            Self::Sodium => "sodium",
        }
    }

    /// Its symbol.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Lithium => "Li",
            Self::Sodium => "Na",
        }
    }

    /// The usual salt of its electrolytes.
    pub fn salt(self) -> &'static str {
        match self {
            Self::Lithium => super::formula::SALT,
            Self::Sodium => "NaPF6",
        }
    }
}

/// How the potential is given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// In closed form, over these stoichiometries.
    Form(Form, (f64, f64)),
    /// By points, in rising order of the stoichiometry; between them a falling cubic.
    Points(&'static [(f64, f64)]),
}

/// A half-cell potential and the part of it that stands for the material's practical capacity.
///
/// The curve goes on past its window by what `below` and `above` state, so that cut-off voltages count; an answer says
/// where that was used.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Half {
    /// U over stoichiometry.
    pub shape: Shape,
    /// Added to the shape's potentials, V: the mean voltage of this material less that of the shape's own.
    pub raised: f64,
    /// Stoichiometries between which the practical capacity lies.
    pub window: (f64, f64),
    /// Points of the continuation below the shape's first stoichiometry, rising.
    pub below: &'static [(f64, f64)],
    /// Points of the continuation above its last.
    pub above: &'static [(f64, f64)],
    /// Where the continuation comes from.
    pub continued: &'static str,
    /// Standard uncertainty of its potential, one number for the whole window, V.
    pub error: f64,
    /// What stands behind that uncertainty.
    pub error_source: &'static str,
    /// Material whose shape this is, where it is a neighbour's.
    pub shape_of: Option<&'static str>,
    /// What it stores.
    pub ion: Ion,
    /// Whether it is the metal itself, which grows as it is plated and has no host to fill.
    pub plates: bool,
    /// Whose scale the stoichiometry is on.
    pub scale: &'static str,
    /// Where the curve comes from.
    pub source: &'static str,
    /// The article's digital object identifier.
    pub doi: Option<&'static str>,
    /// How it came here.
    pub status: Status,
    /// What it was checked against.
    pub check: &'static str,
    /// How far it can be trusted.
    pub grade: Grade,
}

impl Half {
    /// The table of it; `None` only where its numbers do not fall, which a test excludes.
    pub fn curve(&self) -> Option<Curve> {
        Curve::from_half(self).ok()
    }
}

/// What a composition's distance from the curve it borrows adds to the error, V for all metal sites exchanged: the mean
/// potentials of NMC111 and NMC811 between 4.28 and 3.60 V, 3.859 and 3.901 V, lie 42 mV apart over 0.467 of the sites.
pub(crate) const ERROR_PER_DISTANCE: f64 = 0.09;

/// The error of a curve whose shape is borrowed over a distance: `u² = u₀² + (0.09 V · d)²`.
///
/// ```
/// // 25 mV over a tenth of the metal sites.
/// assert!((roulade::material::borrowed_error(0.025, 0.1) - 0.02657).abs() < 1e-5);
/// ```
pub fn borrowed_error(own: f64, distance: f64) -> f64 {
    (own * own + ERROR_PER_DISTANCE * ERROR_PER_DISTANCE * distance * distance).sqrt()
}
