//! A declared figure: what is claimed, in which words, and what becomes of it.

use super::basis::{Basis, On};
use super::rounding::Rounding;
use crate::cell::figures::{Definition, definition};
use crate::quantity::units::{Dimension, Unit};
use serde::Serialize;
use std::fmt::Write as _;

/// A claim is supported where it holds with at least this chance.
pub const SUPPORTED: f64 = 0.95;
/// What is claimed of a figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Relation {
    /// The figure is at least the value.
    #[serde(rename = "at least")]
    AtLeast,
    /// At most.
    #[serde(rename = "at most")]
    AtMost,
    /// The value, within the rounding of its digits.
    #[serde(rename = "about")]
    About,
}

impl Relation {
    /// As it is written.
    pub fn name(self) -> &'static str {
        match self {
            Self::AtLeast => "at least",
            Self::AtMost => "at most",
            Self::About => "about",
        }
    }
}

/// What becomes of a claim.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Verdict {
    /// It holds with a chance of at least [`SUPPORTED`].
    Supported,
    /// With less than that and at least [`LIKELY`].
    Likely,
    /// Between [`UNLIKELY`] and [`LIKELY`].
    Open,
    /// With less than [`UNLIKELY`] and at least [`CONTRADICTED`].
    Unlikely,
    /// With less than [`CONTRADICTED`].
    Contradicted,
}

/// Chances at which the verdict changes, beside [`SUPPORTED`].
pub const LIKELY: f64 = 0.8;
/// Below this a claim is unlikely.
pub const UNLIKELY: f64 = 0.2;
/// Below this it is contradicted.
pub const CONTRADICTED: f64 = 0.01;

impl Verdict {
    /// That of a chance.
    pub fn of(chance: f64) -> Self {
        match chance {
            chance if chance >= SUPPORTED => Self::Supported,
            chance if chance >= LIKELY => Self::Likely,
            chance if chance >= UNLIKELY => Self::Open,
            chance if chance >= CONTRADICTED => Self::Unlikely,
            _ => Self::Contradicted,
        }
    }

    /// In one word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Supported => "supported",
            Self::Likely => "likely",
            Self::Open => "open",
            Self::Unlikely => "unlikely",
            Self::Contradicted => "contradicted",
        }
    }
}

/// Which of many cells a declared figure stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// The mean of cells.
    Typical,
    /// What the least of them gives.
    Minimum,
}

impl Standing {
    /// As it is written.
    pub fn name(self) -> &'static str {
        match self {
            Self::Typical => "typical",
            Self::Minimum => "minimum",
        }
    }

    /// The figure that is declared, over that of a typical cell: a minimum is stated some 2 % below what is typical
    /// (common practice, no source).
    pub fn factor(self) -> f64 {
        match self {
            Self::Typical => 1.0,
            Self::Minimum => 0.98,
        }
    }
}

/// Voltage limits that a figure is stated for, V.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Limits {
    /// What it is discharged to.
    pub lower: Option<f64>,
    /// What it is charged to.
    pub upper: Option<f64>,
}

impl Limits {
    /// Whether neither is stated.
    pub fn is_none(&self) -> bool {
        *self == Self::default()
    }
}

/// How a cell is set against the other one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ComparedAs {
    /// As a share of the other cell's figure.
    Share,
    /// As the difference of the two figures.
    Difference,
}

/// A declared figure.
#[derive(Clone, Debug)]
pub struct Claim {
    /// The figure it is about.
    pub figure: &'static Definition,
    /// How it stands to the value.
    pub relation: Relation,
    /// Whether the value is a change over the other cell, and of what kind.
    pub over: Option<ComparedAs>,
    /// The value, SI; a share where it is one of the other cell's.
    pub value: f64,
    /// The unit it was written in.
    pub unit: Unit,
    /// What its digits leave open.
    pub rounding: Rounding,
    /// What the figure is taken over.
    pub basis: Basis,
    /// Voltage limits it is stated for; those of the sheet where it states none.
    pub window: Limits,
    /// The rate it is stated for, 1/s; that of the sheet where it states none.
    pub rate: Option<f64>,
    /// The temperature it is stated for, °C; that of the sheet where it states none.
    pub temperature: Option<f64>,
    /// Whether it is a minimum or typical, where it says so.
    pub standing: Option<Standing>,
    /// What was taken where the claim does not say, in plain words.
    pub taken: Vec<&'static str>,
}

impl Claim {
    /// The claim in its shortest clear form: "at least 290 Wh/kg, cell", "about 12 % over the other cell,
    /// volumetric energy density, cell".
    pub fn text(&self) -> String {
        let mut text = format!("{} {}", self.relation.name(), self.rounding.written);
        let symbol = self.unit.symbol();
        if !symbol.is_empty() {
            text.push(' ');
            text.push_str(symbol);
        }
        if self.over.is_some() {
            text.push_str(" over the other cell");
        }
        if !self.says_its_figure() {
            text.push_str(if self.over.is_some() { ", " } else { " " });
            text.push_str(self.figure.name());
        }
        if On::all(self.figure).iter().any(|on| on.basis != Basis::Cell) {
            text.push_str(", ");
            text.push_str(self.basis.name());
        }
        // Writing to a string does not fail.
        if let Some(rate) = self.rate {
            let _ = write!(text, ", at {} C", rate / Unit::PerHour.in_si());
        }
        let _ = match (self.window.lower, self.window.upper) {
            (Some(low), Some(high)) => write!(text, ", between {low} and {high} V"),
            (Some(low), None) => write!(text, ", down to {low} V"),
            (None, Some(high)) => write!(text, ", charged to {high} V"),
            (None, None) => Ok(()),
        };
        if let Some(temperature) = self.temperature {
            let _ = write!(text, ", at {temperature} °C");
        }
        if let Some(standing) = self.standing {
            let _ = write!(text, ", {}", standing.name());
        }
        text
    }

    /// The declared figure over that of a typical cell.
    pub(super) fn factor(&self) -> f64 {
        if self.over.is_some() { 1.0 } else { self.standing.map_or(1.0, Standing::factor) }
    }

    /// What an input is by the conditions of the claim, SI; `None` where it says nothing of it.
    pub(super) fn sets(&self, path: &str) -> Option<f64> {
        match path {
            "voltage.discharge_cut_off" => self.window.lower,
            "voltage.charge_cut_off" => self.window.upper,
            "current_path.c_rate" => self.rate,
            "current_path.temperature" => self.temperature,
            _ => None,
        }
    }

    /// Whether the unit alone says which figure is meant.
    pub fn says_its_figure(&self) -> bool {
        self.over != Some(ComparedAs::Share)
            && figure_of(self.unit.dimension()).is_some_and(|figure| figure.id == self.figure.id)
    }

    /// The interval in which the claim holds, where its value may be off by `half`.
    pub fn holds(&self, half: f64) -> (f64, f64) {
        match self.relation {
            Relation::AtLeast => (self.value - half, f64::INFINITY),
            Relation::AtMost => (f64::NEG_INFINITY, self.value + half),
            Relation::About => (self.value - half, self.value + half),
        }
    }

    /// The chance of a claim from the chances `below` and `above` of missing its interval on either side.
    ///
    /// A bound holds with the chance of lying within. An interval about a value may be narrower than what is known, and then
    /// the chance of hitting it is small however near its middle is; its chance is that of a figure at least as far out, on
    /// either side: twice the smaller of the chances of reaching it from below and from above, at most one.
    pub fn chance(&self, below: f64, above: f64) -> f64 {
        match self.relation {
            Relation::AtLeast | Relation::AtMost => 1.0 - below - above,
            Relation::About => (2.0 * (1.0 - below).min(1.0 - above)).min(1.0),
        }
    }

    /// Unit in which the figure is shown.
    pub fn shown_in(&self) -> Unit {
        match self.over {
            Some(ComparedAs::Share) => Unit::Percent,
            Some(ComparedAs::Difference) | None => self.figure.unit,
        }
    }
}

/// The figure that a unit of this dimension stands for, where it stands for one alone.
pub(super) fn figure_of(dimension: Dimension) -> Option<&'static Definition> {
    definition(match dimension {
        Dimension::EnergyDensity => "volumetric",
        Dimension::SpecificEnergy => "gravimetric",
        Dimension::Charge => "capacity",
        Dimension::Energy => "energy",
        Dimension::Mass => "mass",
        Dimension::Voltage => "mean_voltage",
        Dimension::Resistance => "resistance",
        Dimension::Current => "continuous_current",
        _ => return None,
    })
}
