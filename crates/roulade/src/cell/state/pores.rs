//! What is in the pores of an electrode when it is weighed, and what leaves an open cell.

use super::cause::{Cause, StateChange};
use super::{Pores, State};
use crate::cell::design::{Design, Electrolyte};

/// Mass in pores of a volume, kg.
///
/// # Formula
/// Wet, `V·ρ`: the electrolyte of density ρ. Dried and not washed, `V·ρ·w·r`: its salt of mass fraction w, the solvent gone,
/// r what stays over that salt ([`Opened::residue`](crate::cell::design::Opened::residue)).
/// Washed, or where nothing is said, nothing.
pub(super) fn held(design: &Design, volume: f64, pores: Option<Pores>) -> StateChange {
    let b = design.blueprint();
    let (Electrolyte::Excess { density, .. }
    | Electrolyte::Filled { density, .. }
    | Electrolyte::PerCapacity { density, .. }) = b.electrolyte;
    let liquid = volume.max(0.0) * density.value;
    match pores {
        Some(Pores::Wet) => StateChange::of(liquid, Cause::Residue, 0.0),
        Some(Pores::Dried) => {
            let (salt, residue) = (liquid * b.salt, b.opened.residue);
            StateChange::of(salt * residue.value, Cause::Residue, salt * residue.u())
        }
        Some(Pores::Washed) | None => StateChange::default(),
    }
}

/// What a mass of electrolyte loses in an open cell, kg: less than nothing.
pub(super) fn evaporated(state: &State, design: &Design, mass: f64) -> StateChange {
    let share = design.blueprint().opened.evaporated;
    if state.opened {
        StateChange::of(-share.value * mass, Cause::Opening, share.u() * mass)
    } else {
        StateChange::default()
    }
}
