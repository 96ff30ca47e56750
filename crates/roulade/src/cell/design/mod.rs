//! One cell as it is built: every number present, every part consistent with the rest.
//!
//! A [`Blueprint`] is a set of numbers; a [`Design`] is one that holds together. There is no other way to a
//! `Design` than [`Design::new`], so nothing downstream checks again.

mod blueprint;
mod bounds;
mod collection;
mod stack;
mod swelling;

pub use blueprint::{
    Blueprint, Can, Component, Electrode, Electrolyte, Fill, Fit, Part, Potential, Prelithiation, Separator,
    VoltageWindow, Winding,
};
pub use bounds::Bounds;
pub use collection::{CurrentCollection, CurrentPath, Electrochemical, Feed, Join, Metal, Plate, Ring, Tab};
pub use stack::{Band, BandKind, Stack};
pub use swelling::{Silicon, Swelling};

use crate::cell::winding::{LayUp, Reach, Roll};
use crate::quantity::problem::{Problem, Problems};
use crate::quantity::units::{Area, Length, Volume};
use crate::sheet::Place;
use std::f64::consts::PI;

/// A cell that holds together: the stack-up fills the can's height exactly and the roll is wound.
#[derive(Clone, Debug)]
pub struct Design {
    blueprint: Blueprint,
    stack: Stack,
    roll: Roll,
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
        let roll = Roll::wind(lay_up(&blueprint), reach(&blueprint))?;
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
        let design = Self { blueprint, stack, roll };
        design.check_spaces(&mut problems);
        if problems.0.is_empty() { Ok(design) } else { Err(problems) }
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

    /// Mean distance from the roll to the can's wall; negative where measured lengths overfill the can.
    pub fn radial_clearance(&self) -> Length {
        0.5 * self.blueprint.can.bore() - self.roll.outer_radius()
    }

    /// Both electrodes as they are wound, the anode first.
    pub fn sides(&self) -> [Side<'_>; 2] {
        let b = &self.blueprint;
        let lengths = self.roll.lengths();
        [
            Side {
                name: "anode",
                electrode: &b.anode,
                length: lengths.anode,
                width: self.anode_width(),
                beyond: b.separator.margin,
            },
            Side {
                name: "cathode",
                electrode: &b.cathode,
                length: lengths.cathode,
                width: self.stack.cathode_width,
                beyond: b.overhang + b.separator.margin,
            },
        ]
    }

    /// Area of cathode that has anode opposite, inner and outer face.
    pub fn active_area(&self) -> (Area, Area) {
        let facing = self.roll.facing();
        (facing.inner * self.stack.cathode_width, facing.outer * self.stack.cathode_width)
    }

    /// Parts must fit into the heights and gaps they are said to take.
    fn check_spaces(&self, problems: &mut Problems) {
        let b = &self.blueprint;
        let bore = b.can.bore_area();
        if self.radial_clearance().value < -1e-9 {
            problems.push(Problem::new(
                "winding",
                format!(
                    "an overfilled can: a jelly roll of {:.2} mm diameter in a can of {:.2} mm inner diameter",
                    2e3 * self.roll.outer_radius().value,
                    1e3 * b.can.bore().value
                ),
                "shorter lengths, thinner plies or a wider can would fit; a roll pressed into its can is a hazard, \
                 not a design",
            ));
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
            let gap = (bore - self.roll.enclosed()) * width;
            if exceeds(beside, gap) {
                problems.push(too_much("beside the roll", beside, gap));
            }
        }
        let core = self.roll.lay_up().core_radius;
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
    /// Wound length.
    pub length: Length,
    /// Coated width.
    pub width: Length,
    /// How far the separator reaches past the coating at each edge.
    pub beyond: Length,
}

impl Side<'_> {
    /// Bare foil between the separators.
    pub fn bare_inside(&self) -> Length {
        self.electrode.uncoated_margin.min(self.beyond)
    }

    /// Volume of the bare foil outside the separators.
    pub fn folded_foil(&self) -> Volume {
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
