//! What a comparison says, block by block.

use crate::answer::change::FigureChange;
use crate::answer::figure_writer::Figure;
use roulade::cell::ledger::Group;
use serde::Serialize;

/// What left and what came in its place.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Freed {
    /// Parts of the first cell that the second does not have.
    pub left: Vec<String>,
    /// Parts of the second cell that the first does not have.
    pub came: Vec<String>,
    /// Parts that both have but not alike.
    pub changed: Vec<String>,
    /// Height freed: what left less what came.
    pub height: Figure,
    /// That height times the inner cross-section.
    pub volume: Figure,
    /// Solid volume of the hardware that left less that which came: smaller.
    pub solid_volume: Figure,
    /// Mass of it.
    pub mass: Figure,
    /// Axial place of what left, in the first cell, mm.
    pub z: Option<[f64; 2]>,
}

/// What the hardware alone buys, for one share of the freed height that becomes coated width.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Reclaim"))]
pub struct Reclaim<F = Figure> {
    /// In words.
    pub label: &'static str,
    /// Share of the freed height.
    pub share: f64,
    /// The first cell against the first cell with the second's hardware.
    pub rows: Vec<FigureChange<F>>,
}

impl Reclaim {
    /// The label, and the share where the label does not say it: "as designed: 85 % of it".
    pub fn heading(&self) -> String {
        if self.label == AS_DESIGNED {
            format!("{AS_DESIGNED}: {} of it", share_in_words(self.share))
        } else {
            self.label.to_owned()
        }
    }
}

/// An input that differs.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Differing {
    /// Its path in the second sheet, or in the first where only that has it.
    pub path: String,
    /// Heading.
    pub section: &'static str,
    /// What it is called.
    pub label: String,
    /// In the first sheet; empty where it has none.
    pub first: String,
    /// In the second.
    pub second: String,
}

/// A ledger line of both cells.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "LedgerChange"))]
pub struct LedgerChange<F = Figure> {
    /// Its group.
    pub group: Group,
    /// What it is.
    pub line: String,
    /// Mass; absent for spaces.
    pub mass: Option<FigureChange<F>>,
    /// Volume.
    pub volume: FigureChange<F>,
}

/// The share of the freed height that the second cell turns into coated width.
pub(super) const AS_DESIGNED: &str = "as designed";

pub(super) fn share_in_words(share: f64) -> String {
    if share > 0.995 && share < 1.005 {
        "all".to_owned()
    } else if share.abs() < 0.005 {
        "nothing".to_owned()
    } else {
        format!("{:.0} %", 100.0 * share)
    }
}
