//! Every gram and every cubic millimetre, each on one line.

mod heat_capacity;

pub(crate) use heat_capacity::heat_capacity;

use crate::cell::design::Design;
use crate::cell::design::{Electrolyte, Feed, Space};
use crate::quantity::units::{Mass, MassDensity, Volume};
use serde::Serialize;

/// The five basic components of a cell, and the spaces between them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
#[allow(missing_docs, reason = "the names are the documentation")]
pub enum How {
    Computed,
    Weighed,
}

/// What a line of the ledger is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names are the documentation")]
pub enum Thing {
    Foil,
    /// A component of a coating; the line is called by its name.
    Component,
    /// What stays of the source of a prelithiation.
    Prelithiation,
    Film,
    Ceramic,
    Electrolyte,
    Can,
    /// A part, by its number in the design.
    Part(usize),
    /// Tabs of an electrode.
    Tabs(Group),
    Tape,
    TabTape,
    Sleeve,
    Space,
}

/// One line of the ledger.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line<'a> {
    /// Its group.
    pub group: Group,
    /// What it is.
    pub what: &'a str,
    /// What it is about.
    pub thing: Thing,
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
    /// Sums the ledger of a design.
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
        self.volume() - design.blueprint().envelope()
    }
}

/// Walks over the ledger of a design, line by line: what has mass, then the spaces.
///
/// Pores are a volume of the electrolyte that fills them, and spaces hold what free electrolyte leaves of them.
pub fn lines<'a>(design: &'a Design, mut each: impl FnMut(Line<'a>)) {
    solids(design, &mut each);
    spaces(design, &mut each);
}

/// Lines that have mass.
fn solids<'a>(design: &'a Design, mut each: impl FnMut(Line<'a>)) {
    let b = design.blueprint();
    let lengths = design.roll().lengths();
    let mut line =
        |group, thing, what, how, mass, volume| each(Line { group, what, thing, how, mass, volume });

    let mut tape_on_tabs = Volume::default();
    for side in design.sides() {
        let electrode = side.electrode;
        let foil = side.length * (side.width + electrode.uncoated_margin) * electrode.foil;
        let (group, name, tabs_name) = match side.name {
            "anode" => (Group::Anode, "anode current collector foil", "anode tabs"),
            _ => (Group::Cathode, "cathode current collector foil", "cathode tabs"),
        };
        line(group, Thing::Foil, name, How::Computed, foil * electrode.foil_density, foil);
        let dry = side.coated * side.width * electrode.loading;
        for component in electrode.mix.iter() {
            let mass = dry * component.share;
            line(group, Thing::Component, &component.name, How::Computed, mass, mass / component.density);
        }
        if let (Feed::Tabs(tabs), false) = (&side.collection.feed, side.collection.tabs_are_a_part) {
            let volume = side.tabs_on_foil() + side.tabs_past_foil();
            let density = tabs.first().map_or(MassDensity::default(), |tab| tab.density);
            line(Group::Enclosure, Thing::Tabs(group), tabs_name, How::Computed, volume * density, volume);
        }
        tape_on_tabs += side.tape();
    }

    if let Some(p) = &b.prelithiation {
        // It lies in the pores or on the host and is taken up there: no volume of its own.
        let group = if p.source.in_cathode { Group::Cathode } else { Group::Anode };
        let (inner, outer) = design.active_area();
        let mass = (inner + outer) * p.mass;
        line(group, Thing::Prelithiation, p.source.name, How::Computed, mass, Volume::default());
    }

    let s = &b.separator;
    let separator_width = design.separator_width();
    let separators = (lengths.inner_separator + lengths.outer_separator) * separator_width;
    let film = separators * s.film;
    let polymer = film - film * s.porosity;
    line(Group::Separator, Thing::Film, "separator film", How::Computed, polymer * s.density, polymer);
    if s.ceramic.value > 0.0 {
        let layer = separators * s.ceramic;
        let solid = layer - layer * s.ceramic_porosity;
        line(
            Group::Separator,
            Thing::Ceramic,
            "ceramic layer",
            How::Computed,
            solid * s.ceramic_density,
            solid,
        );
    }

    let room = design.room();
    let how = match b.electrolyte {
        Electrolyte::Filled { .. } => How::Weighed,
        Electrolyte::Excess { .. } | Electrolyte::PerCapacity { .. } => How::Computed,
    };
    for (what, volume) in
        [("electrolyte in the pores", room.wetted), ("free electrolyte, in the spaces", room.free)]
    {
        line(Group::Electrolyte, Thing::Electrolyte, what, how, volume * room.density, volume);
    }

    let shell = b.can.shell();
    let (how, mass) = match b.can.weighed {
        Some(mass) => (How::Weighed, mass),
        None => (How::Computed, shell * b.can.density),
    };
    line(Group::Enclosure, Thing::Can, "can, wall and bottom", how, mass, shell);
    for (i, part) in b.parts.iter().enumerate() {
        let how = if part.weighed { How::Weighed } else { How::Computed };
        line(Group::Enclosure, Thing::Part(i), &part.label.name, how, part.mass, part.volume);
    }
    let tape = lengths.tape * b.winding.tape_thickness * separator_width;
    line(
        Group::Enclosure,
        Thing::Tape,
        "tape around the roll",
        How::Computed,
        tape * b.winding.tape_density,
        tape,
    );
    if tape_on_tabs.value > 0.0 {
        let mass = tape_on_tabs * b.path.tape_density;
        line(Group::Enclosure, Thing::TabTape, "tape over the tabs", How::Computed, mass, tape_on_tabs);
    }
    if let Some(sleeve) = b.counted_sleeve() {
        let film = sleeve.volume(&b.can);
        line(Group::Enclosure, Thing::Sleeve, "sleeve", How::Computed, film * sleeve.density, film);
    }
}

/// The line for what a sleeve leaves at the ends of its can.
const AROUND_SLEEVE: &str = "within the sleeve's ends";

/// Lines without mass.
fn spaces<'a>(design: &'a Design, mut each: impl FnMut(Line<'a>)) {
    let room = design.room();
    let mut space = |what, volume| {
        let (group, thing) = (Group::Space, Thing::Space);
        each(Line { group, what, thing, how: How::Computed, mass: Mass::default(), volume });
    };
    space(DRY_PORES, room.dry_pores());
    let gas = 1.0 - room.filled();
    for (of, volume) in Space::ALL.iter().zip(room.spaces) {
        // A cell whose edges gather the current has no tabs to have room around.
        if *of != Space::AroundTabs || volume.value > 0.0 {
            space(of.name(), volume * gas);
        }
    }
    let b = design.blueprint();
    if let Some(sleeve) = b.counted_sleeve() {
        space(AROUND_SLEEVE, b.envelope() - b.can.envelope() - sleeve.volume(&b.can));
    }
}

/// Mass of a cell: the ledger's, without its spaces. Allocates nothing.
pub fn mass(design: &Design) -> Mass {
    let mut mass = Mass::default();
    solids(design, |line| mass += line.mass);
    mass
}

#[cfg(test)]
mod tests;
