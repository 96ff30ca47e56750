//! What is left empty inside a can, and the electrolyte in it.

use crate::quantity::units::{Mass, MassDensity, Volume};

/// A space between the parts of a cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Space {
    /// The hole that the mandrel left.
    Core,
    /// Between the turns.
    Slack,
    /// Between the separators, beyond the coatings' edges.
    BesideCoatings,
    /// Where tabs leave room that the roll bridges.
    AroundTabs,
    /// Between roll and wall.
    RadialClearance,
    /// Around the folded or straight edges of the foils.
    FoldedEdges,
    /// Around parts above and below the roll.
    AroundParts,
    /// Above the roll.
    Head,
}

impl Space {
    /// All, in the order they are shown.
    pub const ALL: [Space; 8] = [
        Space::Core,
        Space::Slack,
        Space::BesideCoatings,
        Space::AroundTabs,
        Space::RadialClearance,
        Space::FoldedEdges,
        Space::AroundParts,
        Space::Head,
    ];

    /// As it is shown.
    pub fn name(self) -> &'static str {
        match self {
            Space::Core => "core hole",
            Space::Slack => "slack between turns",
            Space::BesideCoatings => "beside the coatings",
            Space::AroundTabs => "around tabs",
            Space::RadialClearance => "radial clearance",
            Space::FoldedEdges => "around folded foil edges",
            Space::AroundParts => "around parts",
            Space::Head => "void height (headspace)",
        }
    }

    /// The entry of the sheet that decides on it.
    pub(super) fn place(self) -> &'static str {
        match self {
            Space::Core => "winding.core_diameter",
            Space::Slack => "winding.slack",
            Space::BesideCoatings => "separator.margin",
            Space::AroundTabs => "current_path",
            Space::RadialClearance => "winding.radial_clearance",
            Space::FoldedEdges => "anode.fold_height",
            Space::AroundParts => "parts",
            Space::Head => "void_height",
        }
    }
}

/// Volumes that hold no solid, and the electrolyte in them.
///
/// # Formula
/// Pores `P = Σ coating·ε + film·εₛ + ceramic·ε꜀`; spaces `S` are what geometry leaves of the inside of the can. An
/// electrolyte of volume V fills `min(V, P)` of the pores and `V − P` of the spaces; what stays is gas, `P + S − V`.
/// Free electrolyte finds the spaces by gravity and by suction; which of them it fills is not known, so each is taken to
/// be filled alike.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Room {
    /// Pores of coatings and separator.
    pub pores: Volume,
    /// The spaces, in the order of [`Space::ALL`], without the electrolyte.
    pub spaces: [Volume; 8],
    /// Density of the electrolyte.
    pub density: MassDensity,
    /// Electrolyte in the pores.
    pub wetted: Volume,
    /// Electrolyte in the spaces.
    pub free: Volume,
}

impl Room {
    /// All spaces together.
    pub fn space(&self) -> Volume {
        self.spaces.iter().fold(Volume::default(), |sum, space| sum + *space)
    }

    /// Pores that the electrolyte leaves dry.
    pub fn dry_pores(&self) -> Volume {
        self.pores - self.wetted
    }

    /// Void volume: spaces that no electrolyte fills, which hold gas.
    pub fn void(&self) -> Volume {
        self.space() - self.free
    }

    /// Share of the spaces that free electrolyte fills.
    pub fn filled(&self) -> f64 {
        if self.free.value > 0.0 { (self.free / self.space()).value } else { 0.0 }
    }

    /// All of the electrolyte.
    pub fn electrolyte(&self) -> Mass {
        (self.wetted + self.free) * self.density
    }
}
