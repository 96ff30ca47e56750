//! Every gram and every cubic millimetre, each on one line.

use crate::design::{Blueprint, Design, Electrode, Electrolyte, Place};
use crate::units::{Area, Length, Mass, Volume};
use serde::Serialize;
use std::f64::consts::PI;

/// The five basic components of a cell, and the spaces between them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
#[allow(missing_docs, reason = "the names are the documentation")]
pub enum Group {
    Anode,
    Cathode,
    Separator,
    Electrolyte,
    Enclosure,
    Space,
}

impl Group {
    /// All, in the order they are shown.
    pub const ALL: [Group; 6] =
        [Group::Anode, Group::Cathode, Group::Separator, Group::Electrolyte, Group::Enclosure, Group::Space];
}

impl Group {
    /// As it is shown.
    pub fn name(self) -> &'static str {
        match self {
            Group::Anode => "anode",
            Group::Cathode => "cathode",
            Group::Separator => "separator",
            Group::Electrolyte => "electrolyte",
            Group::Enclosure => "enclosure",
            Group::Space => "space",
        }
    }
}

/// The line for pores that the electrolyte does not fill.
pub(crate) const DRY_PORES: &str = "pores left dry";

/// How a line was obtained.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
#[allow(missing_docs, reason = "the names are the documentation")]
pub enum How {
    Computed,
    Weighed,
}

/// One line of the ledger.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line<'a> {
    /// Its group.
    pub group: Group,
    /// What it is.
    pub what: &'a str,
    /// How its mass was obtained.
    pub how: How,
    /// Mass; none for spaces.
    pub mass: Mass,
    /// Volume it takes.
    pub volume: Volume,
}

/// Sums over the ledger.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Totals {
    /// Mass of each group, in the order of [`Group::ALL`].
    pub masses: [Mass; 6],
    /// Volume of each group.
    pub volumes: [Volume; 6],
}

impl Totals {
    /// Sums the ledger of a design. Allocates nothing.
    pub fn of(design: &Design) -> Self {
        let mut totals = Self::default();
        lines(design, |line| {
            let i = line.group as usize;
            if let (Some(mass), Some(volume)) = (totals.masses.get_mut(i), totals.volumes.get_mut(i)) {
                *mass += line.mass;
                *volume += line.volume;
            }
        });
        totals
    }

    /// Mass of the cell.
    pub fn mass(&self) -> Mass {
        self.masses.iter().fold(Mass::default(), |a, b| a + *b)
    }

    /// Volume of everything in the ledger, spaces included.
    pub fn volume(&self) -> Volume {
        self.volumes.iter().fold(Volume::default(), |a, b| a + *b)
    }

    /// Volume of all lines less the envelope: rounding, or a fault of the model.
    pub fn closure(&self, design: &Design) -> Volume {
        self.volume() - design.blueprint().can.envelope()
    }
}

/// Walks over the ledger of a design, line by line.
///
/// Pores are a volume of the electrolyte that fills them. Electrolyte beyond the pores stands in the spaces: it has
/// mass on its own line, and its volume is already that of the spaces.
pub fn lines<'a>(design: &'a Design, mut each: impl FnMut(Line<'a>)) {
    let b = design.blueprint();
    let roll = design.roll();
    let mut line = |group, what, how, mass, volume| each(Line { group, what, how, mass, volume });
    let zero = Volume::default();
    let none = Mass::default();

    let mut pores = zero;
    let mut edge_spaces = zero;
    let mut folds = zero;
    let separator_width = design.separator_width();
    let sides = [
        (Group::Anode, &b.anode, roll.anode_length(), design.anode_width(), b.separator.margin),
        (
            Group::Cathode,
            &b.cathode,
            roll.cathode_length(),
            design.stack().cathode_width,
            b.overhang + b.separator.margin,
        ),
    ];
    for (group, electrode, length, width, beyond) in sides {
        let foil = length * (width + electrode.bare_edge) * electrode.foil;
        line(group, foil_name(group), How::Computed, foil * electrode.foil_density, foil);
        let dry = length * width * 2.0 * electrode.loading;
        for component in electrode.mix.iter() {
            let mass = dry * component.share;
            line(group, &component.name, How::Computed, mass, mass / component.density);
        }
        pores += coating(electrode, length * width) * electrode.porosity();
        // Beside the coating but between the separators, the layer is only as full as its bare foil.
        let inside = electrode.bare_edge.min(beyond);
        edge_spaces += length * electrode.thickness_both() * (separator_width - width)
            - length * electrode.foil * inside;
        folds += length * electrode.foil * (electrode.bare_edge - inside);
    }

    let s = &b.separator;
    let separators = (roll.inner_separator_length() + roll.outer_separator_length()) * separator_width;
    let film = separators * s.film;
    let polymer = film - film * s.porosity;
    line(Group::Separator, "separator film", How::Computed, polymer * s.density, polymer);
    pores += film * s.porosity;
    if s.ceramic.value > 0.0 {
        let layer = separators * s.ceramic;
        let solid = layer - layer * s.ceramic_porosity;
        line(Group::Separator, "ceramic layer", How::Computed, solid * s.ceramic_density, solid);
        pores += layer * s.ceramic_porosity;
    }

    let (density, wetted, free) = match b.electrolyte {
        Electrolyte::Excess { density, share } => (density, pores * density, pores * share * density),
        Electrolyte::Filled { density, mass } => {
            let wetted = (pores * density).min(mass);
            (density, wetted, mass - wetted)
        }
    };
    let how = if matches!(b.electrolyte, Electrolyte::Filled { .. }) { How::Weighed } else { How::Computed };
    line(Group::Electrolyte, "electrolyte in the pores", how, wetted, wetted / density);
    line(Group::Electrolyte, "free electrolyte, in the spaces", how, free, zero);

    enclosure(b, &mut line);

    let tape = roll.tape_length() * b.winding.tape_thickness * separator_width;
    line(Group::Enclosure, "tape", How::Computed, tape * b.winding.tape_density, tape);

    let bore = b.can.bore_area();
    let core = roll.lay_up().core_radius;
    let part_volume = |wanted: &[Place]| {
        b.parts.iter().filter(|p| wanted.contains(&p.place)).fold(zero, |sum, part| sum + part.volume)
    };
    let mut space = |what, volume| line(Group::Space, what, How::Computed, none, volume);
    space(DRY_PORES, pores - wetted / density);
    space("core hole", core * core * PI * separator_width - part_volume(&[Place::InCore]));
    space("slack between turns", roll.slack_area() * separator_width);
    space("beside the coatings", edge_spaces);
    space(
        "between roll and wall",
        (bore - roll.enclosed()) * separator_width - part_volume(&[Place::BesideRoll]),
    );
    let stack = design.stack();
    space("around folded edges", bore * (b.anode.fold_height + b.cathode.fold_height) - folds);
    space(
        "around parts",
        bore * (stack.below + stack.above) - part_volume(&[Place::BelowRoll, Place::AboveRoll]),
    );
    space("head-space", bore * stack.head_space);
}

fn enclosure<'a>(b: &'a Blueprint, line: &mut impl FnMut(Group, &'a str, How, Mass, Volume)) {
    let shell = b.can.shell();
    let (how, mass) = match b.can.weighed {
        Some(mass) => (How::Weighed, mass),
        None => (How::Computed, shell * b.can.density),
    };
    line(Group::Enclosure, "can", how, mass, shell);
    for part in b.parts.iter() {
        let how = if part.weighed { How::Weighed } else { How::Computed };
        line(Group::Enclosure, &part.name, how, part.mass, part.volume);
    }
}

/// Volume of both coatings over an area of foil.
fn coating(electrode: &Electrode, area: Area) -> Volume {
    let both: Length = 2.0 * electrode.thickness;
    area * both
}

fn foil_name(group: Group) -> &'static str {
    if group == Group::Anode { "anode foil" } else { "cathode foil" }
}
