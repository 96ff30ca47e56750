//! What is in the pores of an electrode when it is weighed, and what leaves an open cell.

use super::cause::{Cause, StateChange};
use super::{Pores, State};
use crate::cell::design::{Design, Electrolyte};

/// Uncertainty of what stays in unwashed pores, as a share of the salt: cyclic carbonate that does not evaporate adds to it,
/// salt that decomposes to fluoride takes away from it. Common practice, no source.
const RESIDUE: f64 = 0.5;
/// Share of the electrolyte that evaporates from an open cell before it is weighed, and its standard uncertainty: linear
/// carbonates evaporate within minutes. Common practice, no source.
const EVAPORATED: (f64, f64) = (0.05, 0.03);

/// Mass in pores of a volume, kg.
///
/// # Formula
/// Wet, `V·ρ`: the electrolyte of density ρ. Dried and not washed, `V·ρ·w`: its salt of mass fraction w, the solvent gone.
/// Washed, or where nothing is said, nothing.
pub(super) fn held(design: &Design, volume: f64, pores: Option<Pores>) -> StateChange {
    let b = design.blueprint();
    let (Electrolyte::Excess { density, .. }
    | Electrolyte::Filled { density, .. }
    | Electrolyte::PerCapacity { density, .. }) = b.electrolyte;
    let liquid = volume.max(0.0) * density.value;
    match pores {
        Some(Pores::Wet) => StateChange::of(liquid, Cause::Residue, 0.0),
        Some(Pores::Dried) => StateChange::of(liquid * b.salt, Cause::Residue, RESIDUE * liquid * b.salt),
        Some(Pores::Washed) | None => StateChange::default(),
    }
}

/// What a mass of electrolyte loses in an open cell, kg: less than nothing.
pub(super) fn evaporated(state: &State, mass: f64) -> StateChange {
    let (share, u) = EVAPORATED;
    if state.opened {
        StateChange::of(-share * mass, Cause::Opening, u * mass)
    } else {
        StateChange::default()
    }
}
