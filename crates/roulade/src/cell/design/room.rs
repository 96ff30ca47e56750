//! What is left empty inside a can, and how the electrolyte fills it: pores first, then the spaces.

use super::{Design, Electrolyte};
use crate::cell::balance::Balance;
use crate::quantity::problem::{Problem, Problems};
use crate::quantity::units::{Mass, MassDensity, Volume};
use crate::sheet::Place;
use std::f64::consts::PI;

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
    fn place(self) -> &'static str {
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

    /// Works out the spaces of a design, and fills them.
    ///
    /// # Errors
    /// A space that is less than nothing, and electrolyte for which there is no room.
    pub(super) fn of(design: &Design) -> Result<Self, Problems> {
        let mut room = Self { pores: pores(design), spaces: spaces(design), ..Self::default() };
        let mut problems = Problems::default();
        let inside = design.blueprint().can.bore_area() * design.blueprint().can.height;
        for (space, volume) in Space::ALL.iter().zip(&mut room.spaces) {
            // A sum of terms as large as the can's inside: what is left of their rounding is nothing.
            if volume.value.abs() <= 1e-12 * inside.value {
                *volume = Volume::default();
            } else if volume.value.is_nan() || volume.value <= 0.0 {
                problems.push(Problem::new(
                    space.place(),
                    format!(
                        "{} of less than nothing: {:.3} cm³ are missing",
                        space.name(),
                        -1e6 * volume.value
                    ),
                    "smaller parts, or more room for them, would fit",
                ));
            }
        }
        if !problems.0.is_empty() {
            return Err(problems);
        }
        room.fill(design)?;
        Ok(room)
    }

    fn fill(&mut self, design: &Design) -> Result<(), Problems> {
        let (density, volume, place) = match design.blueprint().electrolyte {
            Electrolyte::Excess { density, share } => {
                (density, self.pores + self.pores * share, "electrolyte.excess")
            }
            Electrolyte::Filled { density, mass } => (density, mass / density, "electrolyte.mass"),
            Electrolyte::PerCapacity { density, ratio } => {
                let mass = Balance::of(design)?.capacity * ratio;
                (density, mass / density, "electrolyte.per_capacity")
            }
        };
        self.density = density;
        self.wetted = self.pores.min(volume);
        self.free = (volume - self.pores).max(Volume::default());
        let space = self.space();
        if self.free.value > space.value * (1.0 + 1e-9) || volume.value.is_nan() {
            return Err(Problem::new(
                place,
                format!(
                    "{:.2} cm³ of electrolyte ({:.2} g) where pores hold {:.2} cm³ and the spaces beside them {:.2} cm³",
                    1e6 * volume.value,
                    1e3 * (volume * density).value,
                    1e6 * self.pores.value,
                    1e6 * space.value
                ),
                format!("at most {:.2} g would fit", 1e3 * ((self.pores + space) * density).value),
            )
            .into());
        }
        Ok(())
    }
}

fn pores(design: &Design) -> Volume {
    let b = design.blueprint();
    let lengths = design.roll().lengths();
    let mut pores = Volume::default();
    for side in design.sides() {
        pores += side.coated * side.width * side.electrode.thickness * side.electrode.porosity();
    }
    let s = &b.separator;
    let separators = (lengths.inner_separator + lengths.outer_separator) * design.separator_width();
    pores + separators * s.film * s.porosity + separators * s.ceramic * s.ceramic_porosity
}

fn spaces(design: &Design) -> [Volume; 8] {
    let b = design.blueprint();
    let (roll, stack) = (design.roll(), design.stack());
    let width = design.separator_width();
    let bore = b.can.bore_area();
    let core = 0.5 * b.winding.core_diameter;
    let parts = |wanted: &[Place]| {
        b.parts
            .iter()
            .filter(|part| wanted.contains(&part.place))
            .fold(Volume::default(), |sum, part| sum + part.volume)
    };
    let mut beside = Volume::default();
    let mut around_tabs = Volume::default();
    let mut folded = Volume::default();
    let mut past_the_foil = Volume::default();
    for side in design.sides() {
        let electrode = side.electrode;
        // Beside a coating but between the separators, the layer is only as full as its bare foil.
        let layer = side.length * electrode.thickness_both() - side.missing.ends;
        beside += layer * (width - side.width) - side.length * electrode.foil * side.bare_inside();
        around_tabs += side.missing.bulges * width + side.missing.under_tabs * side.width
            - side.tabs_on_foil()
            - side.tape();
        folded += side.folded_foil();
        past_the_foil += side.tabs_past_foil();
    }
    // Tabs are folded in among the parts, and reach into the space above the roll where there is no room.
    let around_parts = bore * (stack.below + stack.above) - parts(&[Place::BelowRoll, Place::AboveRoll]);
    let among_parts = past_the_foil.min(around_parts.max(Volume::default()));
    [
        core * core * PI * width - parts(&[Place::InCore]),
        roll.lengths().slack * b.winding.slack * width,
        beside,
        around_tabs,
        (bore - design.enclosed()) * width - parts(&[Place::BesideRoll]),
        bore * (b.anode.fold_height + b.cathode.fold_height) - folded,
        around_parts - among_parts,
        bore * stack.void_height - (past_the_foil - among_parts),
    ]
}
