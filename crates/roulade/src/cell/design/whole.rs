//! A cell that holds together, and what is read off it.

use super::blueprint::{Blueprint, Electrode};
use super::coated::Missing;
use super::collection::{CurrentCollection, Feed};
use super::room::Room;
use super::stack::Stack;
use crate::cell::winding::{Facing, Roll};
use crate::quantity::units::{Area, Length, Volume};
use std::f64::consts::PI;

/// A cell that holds together: the stack-up fills the can's height exactly and the roll is wound.
#[derive(Clone, Debug)]
pub struct Design {
    pub(super) blueprint: Blueprint,
    pub(super) stack: Stack,
    pub(super) roll: Roll,
    /// What tabs and bare stretches take from the coatings, the anode first.
    pub(super) missing: [Missing; 2],
    pub(super) facing: Facing,
    pub(super) room: Room,
}

impl Design {
    /// The numbers it is built from.
    pub fn blueprint(&self) -> &Blueprint {
        &self.blueprint
    }

    /// The numbers, to be changed and built anew.
    pub fn into_blueprint(self) -> Blueprint {
        self.blueprint
    }

    /// Its axial stack-up.
    pub fn stack(&self) -> &Stack {
        &self.stack
    }

    /// Its wound roll.
    pub fn roll(&self) -> &Roll {
        &self.roll
    }

    /// Coated width of the anode: the cathode's and an overhang at each edge.
    pub fn anode_width(&self) -> Length {
        self.stack.cathode_width + 2.0 * self.blueprint.overhang
    }

    /// Width of the separator: the anode's coating and a margin at each edge.
    pub fn separator_width(&self) -> Length {
        self.anode_width() + 2.0 * self.blueprint.separator.margin
    }

    /// Outer radius of the roll, the mean over the angle, with what tabs and bare stretches add to it.
    pub fn outer_radius(&self) -> Length {
        radius_with(self.roll.outer_radius(), self.above())
    }

    /// Largest radius of the roll: where its edge stands out most, with the highest bulge that a tab makes on top.
    pub fn widest(&self) -> Length {
        let [anode, cathode] = &self.missing;
        radius_with(self.roll.widest(), self.above()) + anode.highest.max(cathode.highest)
    }

    /// Area that the roll's outer edge encloses, core hole included.
    pub fn enclosed(&self) -> Area {
        self.roll.enclosed() + self.above()
    }

    /// Cross-section that tabs and bare stretches add past the turns they lie under.
    pub(super) fn above(&self) -> Area {
        let [anode, cathode] = &self.missing;
        anode.above + cathode.above
    }

    /// Lengths of cathode whose coating has the anode's opposite, per face.
    pub fn facing(&self) -> Facing {
        self.facing
    }

    /// What the can holds besides solids.
    pub fn room(&self) -> &Room {
        &self.room
    }

    /// Mean distance from the roll to the can's wall.
    pub fn radial_clearance(&self) -> Length {
        0.5 * self.blueprint.can.bore() - self.outer_radius()
    }

    /// Both electrodes as they are wound, the anode first.
    pub fn sides(&self) -> [Side<'_>; 2] {
        let b = &self.blueprint;
        let lengths = self.roll.lengths();
        let [of_anode, of_cathode] = &self.missing;
        [
            Side {
                name: "anode",
                electrode: &b.anode,
                collection: &b.path.anode,
                length: lengths.anode,
                coated: 2.0 * lengths.anode - of_anode.length,
                width: self.anode_width(),
                beyond: b.separator.margin,
                missing: of_anode,
            },
            Side {
                name: "cathode",
                electrode: &b.cathode,
                collection: &b.path.cathode,
                length: lengths.cathode,
                coated: 2.0 * lengths.cathode - of_cathode.length,
                width: self.stack.cathode_width,
                beyond: b.overhang + b.separator.margin,
                missing: of_cathode,
            },
        ]
    }

    /// Area of cathode that has anode opposite, inner and outer face.
    pub fn active_area(&self) -> (Area, Area) {
        let facing = self.facing;
        (facing.inner * self.stack.cathode_width, facing.outer * self.stack.cathode_width)
    }
}

/// One electrode as it is wound.
#[derive(Clone, Copy, Debug)]
pub struct Side<'a> {
    /// "anode" or "cathode".
    pub name: &'static str,
    /// Foil and coating.
    pub electrode: &'a Electrode,
    /// How the current leaves it.
    pub collection: &'a CurrentCollection,
    /// Wound length.
    pub length: Length,
    /// Coated length, both sides together.
    pub coated: Length,
    /// Coated width.
    pub width: Length,
    /// How far the separator reaches past the coating at each edge.
    pub beyond: Length,
    pub(super) missing: &'a Missing,
}

impl Side<'_> {
    /// Volume of its tabs as far as they lie on the foil; none where a part of the sheet stands for them.
    pub(crate) fn tabs_on_foil(&self) -> Volume {
        if self.collection.tabs_are_a_part { Volume::default() } else { self.missing.tabs * self.width }
    }

    /// Volume of its tabs past the foil; none where a part of the sheet stands for them.
    pub(crate) fn tabs_past_foil(&self) -> Volume {
        match &self.collection.feed {
            Feed::Tabs(tabs) if !self.collection.tabs_are_a_part => {
                tabs.iter().fold(Volume::default(), |sum, tab| sum + tab.width * tab.thickness * tab.length)
            }
            _ => Volume::default(),
        }
    }

    /// Volume of the tape over its tabs.
    pub fn tape(&self) -> Volume {
        self.missing.tape * self.width
    }

    /// Bare foil between the separators.
    pub(crate) fn bare_inside(&self) -> Length {
        self.electrode.uncoated_margin.min(self.beyond)
    }

    /// Volume of the bare foil outside the separators.
    pub(crate) fn folded_foil(&self) -> Volume {
        self.length * self.electrode.foil * (self.electrode.uncoated_margin - self.bare_inside())
    }
}

/// The radius of a circle whose area is larger by `more`.
pub(super) fn radius_with(radius: Length, more: Area) -> Length {
    if more.value == 0.0 { radius } else { (radius * radius + more / PI).max(Area::default()).sqrt() }
}
