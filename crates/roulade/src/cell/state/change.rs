//! What a state does to a quantity.

use super::cause::{Cause, StateChange};
use super::contents::Contents;
use super::film::{self, per_mole};
use super::{State, coating, pores};
use crate::cell::balance::{Balance, Side};
use crate::cell::design::Design;
use crate::material::{FARADAY, Ion};
use std::f64::consts::PI;

/// What of a cell a state changes. Coated lengths and widths stay: the foil holds its coating in the plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Changes {
    /// Nothing.
    Nothing,
    /// Thickness of so many coatings of an electrode.
    Thickness(Side, f64),
    /// Mass of a coating on a unit of area.
    Loading(Side),
    /// Porosity of a coating.
    Porosity(Side),
    /// The roll's diameter, taken so many times: minus a half for the gap around it.
    Diameter(f64),
    /// Mass of the jelly roll without electrolyte.
    DryRoll,
    /// The same with the electrolyte in its pores.
    WetRoll,
    /// Mass of the cell without electrolyte.
    DryCell,
    /// Mass of the cell.
    Cell,
    /// Mass of the electrolyte.
    Electrolyte,
}

impl State {
    /// What it does to a quantity of a cell whose electrodes store an ion; nothing where the design cannot tell how full the
    /// cell is.
    pub fn change(&self, what: Changes, design: &Design, balance: &Balance, ion: Ion) -> Option<StateChange> {
        if self.as_built() || what == Changes::Nothing {
            return Some(StateChange::default());
        }
        let contents = match self.formed {
            Some(charge) => Some(Contents::of(design, balance, charge)?),
            None => None,
        };
        let formed =
            |of: &dyn Fn(&Contents) -> StateChange| contents.as_ref().map_or_else(StateChange::default, of);
        let room = design.room();
        let soaked = (room.wetted * room.density).value;
        // What film holds besides lithium came out of the electrolyte.
        let from_electrolyte = formed(&|c| {
            let film = per_mole(&design.blueprint().opened, ion);
            let moles = c.film / FARADAY;
            StateChange::of(moles * (film.value - film::metal(ion)), Cause::Film, moles * film.u())
        });
        Some(match what {
            Changes::Nothing => StateChange::default(),
            Changes::Thickness(side, faces) => formed(&|c| coating::thickness(design, c, side).times(faces)),
            Changes::Loading(side) => {
                if let Some(contents) = &contents {
                    coating::loading(design, contents, side, ion, self.pores)
                } else {
                    let electrode = coating::of(design, side);
                    let volume = electrode.thickness.value * electrode.porosity().value;
                    pores::held(design, volume, self.pores)
                }
            }
            Changes::Porosity(side) => formed(&|c| coating::porosity(design, c, side, ion)),
            Changes::Diameter(times) => formed(&|c| diameter(design, c).times(times)),
            Changes::DryRoll | Changes::DryCell => {
                from_electrolyte.and(pores::held(design, room.wetted.value, self.pores))
            }
            // Whether free electrolyte took the place of what the film used up is not known.
            Changes::WetRoll => {
                StateChange { by: 0.0, ..from_electrolyte }.and(pores::evaporated(self, design, soaked))
            }
            Changes::Cell => pores::evaporated(self, design, room.electrolyte().value),
            Changes::Electrolyte => {
                from_electrolyte.times(-1.0).and(pores::evaporated(self, design, room.electrolyte().value))
            }
        })
    }
}

/// What the roll gains in diameter, m.
///
/// # Formula
/// Every turn lies on the one below, so cross-sections add: `√(R² + ΔA/π) − R` on the radius R, `ΔA` the thickness that both
/// electrodes gain times their coated lengths; no further than to the wall.
fn diameter(design: &Design, contents: &Contents) -> StateChange {
    let [anode, cathode] = design.sides();
    let grown = [(Side::Anode, anode.coated), (Side::Cathode, cathode.coated)]
        .into_iter()
        .fold(StateChange::default(), |sum, (side, coated)| {
            sum.and(coating::thickness(design, contents, side).times(coated.value))
        });
    let built = design.outer_radius().value;
    let radius = (built * built + grown.by / PI).sqrt();
    let wall = 0.5 * design.blueprint().can.bore().value;
    if radius >= wall {
        return StateChange::exact(2.0 * (wall - built).max(0.0));
    }
    let mut change = grown.times(1.0 / (PI * radius));
    change.by = 2.0 * (radius - built);
    change
}
