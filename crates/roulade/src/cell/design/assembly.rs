//! From a blueprint to a cell that holds together: stacked, wound, and every part where there is room for it.

use super::blueprint::{Blueprint, Fill};
use super::coated::{Missing, idle};
use super::filling;
use super::room::Room;
use super::stack::Stack;
use super::whole::{Design, radius_with};
use crate::cell::winding::{Facing, LayUp, Reach, Roll};
use crate::quantity::problem::{Problem, Problems, shortened};
use crate::quantity::units::{Length, Volume};
use crate::sheet::Place;
use std::f64::consts::PI;

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
        blueprint.path.check(&mut problems);
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
                    "at most {MOST_TURNS} turns, which thicker plies or fewer turns without cathode give"
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
        design.room = filling::room(&design)?;
        Ok(design)
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
        let across = || 2.0 * radius_with(0.5 * self.roll.least_across(), self.above());
        if matches!(b.winding.fill, Fill::Gap(_))
            && let across = across()
            && across.value > b.can.bore().value + 1e-10
        {
            problems.push(Problem::new(
                "winding",
                format!(
                    "plies that make the jelly roll {:.2} mm wide where they end, at whatever angle, in a can of {:.2} mm \
                     inner diameter",
                    1e3 * across.value,
                    1e3 * b.can.bore().value
                ),
                "thinner plies, a wider can or more radial clearance, so that the jelly roll fits",
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
                "shorter lengths, thinner plies or a wider can; a jelly roll pressed into its can is a hazard",
            ));
        }
        let sides = self.sides();
        for side in &sides {
            if side.coated.value <= 0.0 {
                problems.push(Problem::new(
                    format!("current_path.{}.tabs", side.name),
                    format!(
                        "tabs and bare ends that take {:.1} mm of the {} of {:.1} mm, both sides together",
                        1e3 * side.missing.length.value,
                        side.name,
                        2e3 * side.length.value
                    ),
                    "fewer tabs, or shorter uncoated stretches, so that some coating is left",
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
                                "\"{}\" of {:.3} cm³ in a height that offers {:.3} cm³",
                                shortened(&part.label.name),
                                1e6 * part.volume.value,
                                1e6 * room.value
                            ),
                            "a smaller mass or volume, a greater height, or a denser material, so that the part fits",
                        ));
                    }
                }
                Place::BesideRoll => beside += part.volume,
                Place::InCore => in_core += part.volume,
            }
        }
        for side in &sides {
            let (foil, room) = (side.folded_foil(), bore * side.electrode.fold_height);
            if exceeds(foil, room) {
                problems.push(Problem::new(
                    format!("{}.uncoated_margin", side.name),
                    format!(
                        "{:.3} cm³ of bare foil in a fold that offers {:.3} cm³",
                        1e6 * foil.value,
                        1e6 * room.value
                    ),
                    "a shorter uncoated foil margin or a higher fold, so that the foil fits",
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
        "smaller parts, or more room for them, so that they fit",
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

/// Winds the roll: to its lengths, or to the mean radial gap that the sheet states.
fn wound(b: &Blueprint, missing: &[Missing; 2]) -> Result<Roll, Problem> {
    let [anode, cathode] = missing;
    let (below, above) = (anode.below + cathode.below, anode.above + cathode.above);
    let lay_up = LayUp { core_radius: radius_with(0.5 * b.winding.core_diameter, below), ..lay_up(b) };
    if lay_up.core_radius.value <= 0.0 {
        return Err(Problem::new(
            "winding.core_diameter",
            "uncoated or one-sided stretches at the start that are longer than the way around the core",
            "shorter stretches, or a wider core, which can be wound",
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
            "thinner coatings, foils or separators, or a wider can, so that one turn fits",
        ));
    }
    Roll::wind(lay_up, Reach::Radius(radius_with(wall - gap, -above)))
}

fn facing(b: &Blueprint, roll: &Roll) -> Facing {
    let whole = roll.facing();
    let (inner, outer) = idle(roll, (&b.anode, &b.path.anode), (&b.cathode, &b.path.cathode));
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
mod tests {
    use super::*;

    #[test]
    fn a_billionth_too_much_is_rounding() {
        let litre = |x: f64| Volume::new::<uom::si::volume::liter>(x);
        assert!(!exceeds(litre(1.0), litre(1.0)) && !exceeds(litre(1.0 + 5e-10), litre(1.0)));
        assert!(exceeds(litre(1.0 + 2e-9), litre(1.0)) && exceeds(litre(1e-6), litre(-1.0)));
        assert!(!exceeds(litre(0.0), litre(-1.0)));
    }
}
