//! One cell as it is built: every number present, every part consistent with the rest.
//!
//! A [`Blueprint`] is a set of numbers; a [`Design`] is one that holds together. There is no other way to a
//! `Design` than [`Design::new`], so nothing downstream checks again.

mod blueprint;
mod bounds;
mod coated;
mod collection;
mod opened;
mod room;
mod stack;
mod swelling;

pub use blueprint::{
    Blueprint, Can, Component, Electrode, Electrolyte, Fill, Fit, Part, Potential, Prelithiation, Separator,
    Sleeve, VoltageWindow, Winding,
};
pub use bounds::Bounds;
pub use coated::BareEnds;
pub use collection::{
    CurrentCollection, CurrentPath, Electrochemical, Feed, Join, Kinetics, Metal, Plate, Ring, Tab, Transport,
};
pub use opened::Opened;
pub use room::{Room, Space};
pub use stack::{Band, BandKind, Stack};
pub use swelling::{Silicon, Swelling};

use crate::cell::winding::{Facing, LayUp, Reach, Roll};
use crate::quantity::problem::{Problem, Problems};
use crate::quantity::units::{Area, Length, Volume};
use crate::sheet::Place;
use coated::Missing;
use std::f64::consts::PI;

/// A cell that holds together: the stack-up fills the can's height exactly and the roll is wound.
#[derive(Clone, Debug)]
pub struct Design {
    blueprint: Blueprint,
    stack: Stack,
    roll: Roll,
    /// What tabs and bare stretches take from the coatings, the anode first.
    missing: [Missing; 2],
    facing: Facing,
    room: Room,
}

/// Far beyond any cell, and few enough that every turn can be drawn.
const MOST_TURNS: f64 = 2000.0;

impl Design {
    /// Checks a blueprint, stacks its parts and winds its roll. Allocates nothing where the blueprint holds.
    ///
    /// # Errors
    /// Everything that does not hold together, each with its place in the sheet.
    pub fn new(blueprint: Blueprint) -> Result<Self, Problems> {
        let mut problems = Problems::default();
        blueprint.check(&mut problems);
        if !problems.0.is_empty() {
            return Err(problems);
        }
        let stack = Stack::new(&blueprint)?;
        let missing = missing(&blueprint);
        let roll = wound(&blueprint, &missing)?;
        if roll.all_turns().is_nan() || roll.all_turns() > MOST_TURNS {
            return Err(Problem::new(
                "winding",
                format!("a roll of {:.0} turns", roll.all_turns()),
                format!(
                    "a cell has at most {MOST_TURNS} turns: thicker plies, or fewer turns without cathode"
                ),
            )
            .into());
        }
        let facing = facing(&blueprint, &roll);
        let mut design = Self { blueprint, stack, roll, missing, facing, room: Room::default() };
        design.check_spaces(&mut problems);
        if !problems.0.is_empty() {
            return Err(problems);
        }
        design.room = Room::of(&design)?;
        Ok(design)
    }

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
    fn above(&self) -> Area {
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
        let [of_anode, of_cathode] = self.missing;
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

    /// Parts must fit into the heights and gaps they are said to take.
    fn check_spaces(&self, problems: &mut Problems) {
        let b = &self.blueprint;
        let bore = b.can.bore_area();
        let wall = 0.5 * b.can.bore();
        let [anode, cathode] = &self.missing;
        let (widest, what) = match b.winding.fill {
            Fill::Lengths { .. } => (self.widest(), "at its widest"),
            // The gap does not say at which angle plies end; a roll that ends where there is room for it is round. Its tabs
            // stand out all the same.
            Fill::Gap(_) => (self.outer_radius() + anode.highest.max(cathode.highest), "over its tabs"),
        };
        // Where plies end the roll stands out, and somewhere each of them must.
        let across = 2.0 * radius_with(0.5 * self.roll.least_across(), self.above());
        if matches!(b.winding.fill, Fill::Gap(_)) && across.value > b.can.bore().value + 1e-10 {
            problems.push(Problem::new(
                "winding",
                format!(
                    "plies that make the jelly roll {:.2} mm wide where they end, at whatever angle, in a can of {:.2} mm \
                     inner diameter",
                    1e3 * across.value,
                    1e3 * b.can.bore().value
                ),
                "thinner plies, a wider can or more radial clearance would fit",
            ));
        }
        // A tenth of a nanometre is rounding.
        if widest.value > wall.value + 1e-10 {
            problems.push(Problem::new(
                "winding",
                format!(
                    "an overfilled can: a jelly roll of {:.2} mm diameter, {:.2} mm {what}, in a can of {:.2} mm inner diameter",
                    2e3 * self.outer_radius().value,
                    2e3 * widest.value,
                    2e3 * wall.value
                ),
                "shorter lengths, thinner plies or a wider can would fit; a roll pressed into its can is a hazard, \
                 not a design",
            ));
        }
        for side in self.sides() {
            if side.coated.value <= 0.0 {
                problems.push(Problem::new(
                    format!("current_path.{}.tabs", side.name),
                    format!(
                        "tabs and bare ends that take {:.1} mm of the {} of {:.1} mm, both sides together",
                        1e3 * side.missing.length.value,
                        side.name,
                        2e3 * side.length.value
                    ),
                    "fewer tabs, or shorter uncoated stretches, leave some coating",
                ));
            }
        }
        let mut beside = Volume::default();
        let mut in_core = Volume::default();
        for (i, part) in b.parts.iter().enumerate() {
            match part.place {
                Place::BelowRoll | Place::AboveRoll => {
                    let room = bore * (part.height + part.axial_clearance);
                    if exceeds(part.volume, room) {
                        problems.push(Problem::new(
                            format!("parts[{i}]"),
                            format!(
                                "{} of {:.3} cm³ in a height that offers {:.3} cm³",
                                part.name,
                                1e6 * part.volume.value,
                                1e6 * room.value
                            ),
                            "a smaller mass or volume, a greater height, or a denser material would fit",
                        ));
                    }
                }
                Place::BesideRoll => beside += part.volume,
                Place::InCore => in_core += part.volume,
            }
        }
        for side in self.sides() {
            let (foil, room) = (side.folded_foil(), bore * side.electrode.fold_height);
            if exceeds(foil, room) {
                problems.push(Problem::new(
                    format!("{}.uncoated_margin", side.name),
                    format!(
                        "{:.3} cm³ of bare foil in a fold that offers {:.3} cm³",
                        1e6 * foil.value,
                        1e6 * room.value
                    ),
                    "a shorter uncoated foil margin or a higher fold would fit",
                ));
            }
        }
        let width = self.separator_width();
        if beside.value > 0.0 {
            let gap = (bore - self.enclosed()) * width;
            if exceeds(beside, gap) {
                problems.push(too_much("beside the roll", beside, gap));
            }
        }
        let core = 0.5 * b.winding.core_diameter;
        let hole = core * core * PI * width;
        if exceeds(in_core, hole) {
            problems.push(too_much("in the core", in_core, hole));
        }
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
    missing: Missing,
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

/// Whether a volume is too large for its room by more than rounding.
fn exceeds(volume: Volume, room: Volume) -> bool {
    volume.value > room.value.max(0.0) * (1.0 + 1e-9)
}

fn too_much(place: &str, volume: Volume, room: Volume) -> Problem {
    Problem::new(
        "parts",
        format!(
            "parts {place} of {:.3} cm³ together, where there is room for {:.3} cm³",
            1e6 * volume.value,
            1e6 * room.value
        ),
        "smaller parts, or a wider gap, would fit",
    )
}

fn missing(b: &Blueprint) -> [Missing; 2] {
    let length = match b.winding.fill {
        Fill::Lengths { cathode, .. } => cathode,
        // As long as a full roll of one pitch: this decides no more than whether a tab lies in a bare end.
        Fill::Gap(gap) => {
            let (outer, core) = (0.5 * b.can.bore() - gap, 0.5 * b.winding.core_diameter);
            let pitch = b.anode.thickness_both() + b.cathode.thickness_both() + 2.0 * b.separator.thickness();
            (outer * outer - core * core) * PI / pitch
        }
    };
    [Missing::of(&b.anode, &b.path.anode, length), Missing::of(&b.cathode, &b.path.cathode, length)]
}

/// The radius of a circle whose area is larger by `more`.
fn radius_with(radius: Length, more: Area) -> Length {
    if more.value == 0.0 { radius } else { (radius * radius + more / PI).max(Area::default()).sqrt() }
}

/// Winds the roll: to its lengths, or to the mean radial gap that the sheet states.
fn wound(b: &Blueprint, missing: &[Missing; 2]) -> Result<Roll, Problem> {
    let [anode, cathode] = missing;
    let (below, above) = (anode.below + cathode.below, anode.above + cathode.above);
    let lay_up = LayUp { core_radius: radius_with(0.5 * b.winding.core_diameter, below), ..lay_up(b) };
    if lay_up.core_radius.value <= 0.0 {
        return Err(Problem::new(
            "winding.core_diameter",
            "uncoated or one-sided stretches at the start that are longer than the way around the core",
            "shorter stretches, or a wider core, can be wound",
        ));
    }
    let wall = 0.5 * b.can.bore();
    let Fill::Gap(gap) = b.winding.fill else { return Roll::wind(lay_up, reach(b)) };
    // A full turn of plies must fit between core and wall, however little of one is wound.
    let turn = lay_up.anode + lay_up.cathode + 2.0 * lay_up.separator + lay_up.slack;
    if turn > wall - lay_up.core_radius {
        return Err(Problem::new(
            "winding",
            format!(
                "one turn of both electrodes and separators of {:.2} mm where core and can leave {:.2} mm",
                1e3 * turn.value,
                1e3 * (wall - lay_up.core_radius).value
            ),
            "thinner coatings, foils or separators, or a wider can, leave room for a turn",
        ));
    }
    Roll::wind(lay_up, Reach::Radius(radius_with(wall - gap, -above)))
}

fn facing(b: &Blueprint, roll: &Roll) -> Facing {
    let whole = roll.facing();
    let (inner, outer) = coated::idle(roll, (&b.anode, &b.path.anode), (&b.cathode, &b.path.cathode));
    let none = Length::default();
    Facing { inner: (whole.inner - inner).max(none), outer: (whole.outer - outer).max(none) }
}

fn lay_up(b: &Blueprint) -> LayUp {
    let w = &b.winding;
    LayUp {
        core_radius: 0.5 * w.core_diameter,
        separator: b.separator.thickness(),
        anode: b.anode.thickness_both(),
        cathode: b.cathode.thickness_both(),
        slack: w.slack,
        tape: w.tape_thickness,
        core_turns: w.core_turns,
        anode_overhang_start: w.anode_overhang_start,
        anode_overhang_end: w.anode_overhang_end,
        outer_turns: w.outer_turns,
        tape_turns: w.tape_turns,
    }
}

fn reach(b: &Blueprint) -> Reach {
    match b.winding.fill {
        Fill::Gap(gap) => Reach::Radius(0.5 * b.can.bore() - gap),
        Fill::Lengths { cathode, anode } => Reach::Lengths { cathode, anode },
    }
}

#[cfg(test)]
mod tests;
