//! What an entry of the sheet may choose between.

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
