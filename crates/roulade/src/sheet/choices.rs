//! What an entry of the sheet may choose between.

use super::shape::{Json, Shape, Trail, word};
use crate::material::Role;
use crate::quantity::problem::Problems;
use roulade_stats::uncertain::Origin;

/// Where a part sits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Place {
    /// Between the can's bottom and the roll: takes axial height.
    #[serde(rename = "below roll")]
    BelowRoll,
    /// Between the roll and the outside of the top, lid included: takes axial height.
    #[serde(rename = "above roll")]
    AboveRoll,
    /// Between the roll and the wall: takes no height.
    #[serde(rename = "beside roll")]
    BesideRoll,
    /// In the hole the mandrel left.
    #[serde(rename = "in core")]
    InCore,
}

impl Place {
    /// All of them.
    pub(crate) const ALL: [Self; 4] = [Self::BelowRoll, Self::AboveRoll, Self::BesideRoll, Self::InCore];

    /// As sheets write it.
    pub fn word(self) -> &'static str {
        match self {
            Self::BelowRoll => "below roll",
            Self::AboveRoll => "above roll",
            Self::BesideRoll => "beside roll",
            Self::InCore => "in core",
        }
    }
}

/// How the current of a cell is collected.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Collection {
    /// By tabs on the foils.
    Tabs,
    /// Along the whole edge of each foil, with collector plates.
    Edges,
}

/// Where the current leaves a foil, as the sheet says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum FeedKind {
    /// Along one whole edge.
    Edge,
    /// By tabs.
    Tabs,
}

/// How far across the foil a tab is welded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Welded {
    /// Over the whole width of the foil.
    Across,
    /// At the edge alone.
    Edge,
}

/// Whether something counts into both the mass and the volume of a cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Counts {
    /// Into both.
    Yes,
    /// Into neither.
    No,
}

/// Where the current leaves the can.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum NegativeAt {
    /// At its top, after the whole wall.
    Top,
    /// At its bottom.
    Bottom,
}

impl Shape for Origin {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        let words = [("measured", Self::Measured), ("stated", Self::Stated), ("assumed", Self::Assumed)];
        word(value, place, &words, problems)
    }
}

impl Shape for Place {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        word(value, place, &Self::ALL.map(|one| (one.word(), one)), problems)
    }
}

impl Shape for Collection {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        word(value, place, &[("tabs", Self::Tabs), ("edges", Self::Edges)], problems)
    }
}

impl Shape for FeedKind {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        word(value, place, &[("edge", Self::Edge), ("tabs", Self::Tabs)], problems)
    }
}

impl Shape for Counts {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        word(value, place, &[("yes", Self::Yes), ("no", Self::No)], problems)
    }
}

impl Shape for Welded {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        word(value, place, &[("across", Self::Across), ("edge", Self::Edge)], problems)
    }
}

impl Shape for NegativeAt {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        word(value, place, &[("top", Self::Top), ("bottom", Self::Bottom)], problems)
    }
}

impl Shape for Role {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        word(value, place, &Self::ALL.map(|one| (one.word(), one)), problems)
    }
}
