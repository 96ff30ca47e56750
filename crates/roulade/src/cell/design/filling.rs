//! How the electrolyte fills what solids leave: pores first, then the spaces.

use super::blueprint::Electrolyte;
use super::room::{Room, Space};
use super::whole::{Design, Side};
use crate::cell::balance::Balance;
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems};
use crate::quantity::units::{Unit, Volume};
use crate::sheet::Place;
use std::f64::consts::PI;

/// Works out the spaces of a design, and fills them.
///
/// # Errors
/// A space that is less than nothing, and electrolyte for which there is no room.
pub(super) fn room(design: &Design) -> Result<Room, Problems> {
    let sides = design.sides();
    let mut room = Room { pores: pores(design, &sides), spaces: spaces(design, &sides), ..Room::default() };
    let mut problems = Problems::default();
    let inside = design.blueprint().can.bore_area() * design.blueprint().can.height;
    for (space, volume) in Space::ALL.iter().zip(&mut room.spaces) {
        // A sum of terms as large as the can's inside: what is left of their rounding is nothing.
        if volume.value.abs() <= 1e-12 * inside.value {
            *volume = Volume::default();
        } else if volume.value.is_nan() || volume.value <= 0.0 {
            problems.push(Problem::new(
                space.place(),
                format!("{} of less than nothing: {:.3} cm³ are missing", space.name(), -1e6 * volume.value),
                "smaller parts, or more room for them, so that they fit",
            ));
        }
    }
    if !problems.0.is_empty() {
        return Err(problems);
    }
    fill(&mut room, design)?;
    Ok(room)
}

fn fill(room: &mut Room, design: &Design) -> Result<(), Problems> {
    let (density, volume, place) = match design.blueprint().electrolyte {
        Electrolyte::Excess { density, share } => {
            (density, room.pores + room.pores * share, "electrolyte.excess")
        }
        Electrolyte::Filled { density, mass } => (density, mass / density, "electrolyte.mass"),
        Electrolyte::PerCapacity { density, ratio } => {
            let mass = Balance::of(design)?.capacity * ratio;
            (density, mass / density, "electrolyte.per_capacity")
        }
    };
    room.density = density;
    room.wetted = room.pores.min(volume);
    room.free = (volume - room.pores).max(Volume::default());
    let space = room.space();
    if volume.value < 0.0 {
        let found = format!("{} of electrolyte", notation::print(volume.value, 0.0, Unit::CubicCentimetre));
        return Err(Problem::new(place, found, "a mass that is zero or more").into());
    }
    if room.free.value > space.value * (1.0 + 1e-9) || volume.value.is_nan() {
        return Err(Problem::new(
            place,
            format!(
                "{:.2} cm³ of electrolyte ({:.2} g) where pores hold {:.2} cm³ and the spaces beside them {:.2} cm³",
                1e6 * volume.value,
                1e3 * (volume * density).value,
                1e6 * room.pores.value,
                1e6 * space.value
            ),
            format!("at most {:.2} g, which would fit", 1e3 * ((room.pores + space) * density).value),
        )
        .into());
    }
    Ok(())
}

fn pores(design: &Design, sides: &[Side<'_>; 2]) -> Volume {
    let b = design.blueprint();
    let lengths = design.roll().lengths();
    let mut pores = Volume::default();
    for side in sides {
        pores += side.coated * side.width * side.electrode.thickness * side.electrode.porosity();
    }
    let s = &b.separator;
    let separators = (lengths.inner_separator + lengths.outer_separator) * design.separator_width();
    pores + separators * s.film * s.porosity + separators * s.ceramic * s.ceramic_porosity
}

fn spaces(design: &Design, sides: &[Side<'_>; 2]) -> [Volume; 8] {
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
    for side in sides {
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
