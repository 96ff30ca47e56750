//! What a density is taken over: outside of the can, nominal size, inside of the can, or the roll alone.

use crate::figures::{Definition, Worked};
use crate::ledger::{Group, Totals};
use crate::units::{Length, Mass, Volume};
use serde::Serialize;
use std::f64::consts::PI;

/// What a figure is taken over.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Basis {
    /// The whole cell: the envelope of the bare can over its largest outside dimensions, or the whole mass.
    Cell,
    /// The size a cell is named by: diameter and height in whole millimetres, the nearest.
    Nominal,
    /// The inside of the can: bore times the height above the bottom, hardware included.
    Inside,
    /// The roll alone: its mean outer diameter times the separator's width, core hole included; electrodes, separator
    /// and electrolyte by mass.
    Roll,
}

impl Basis {
    /// Those that make sense for a figure, that of the cell first.
    pub fn of(figure: &Definition) -> &'static [Basis] {
        match figure.id {
            "volumetric" => &[Basis::Cell, Basis::Nominal, Basis::Inside, Basis::Roll],
            "gravimetric" | "mass" => &[Basis::Cell, Basis::Roll],
            _ => &[Basis::Cell],
        }
    }

    /// As it is written in a claim.
    pub fn name(self) -> &'static str {
        match self {
            Self::Cell => "cell",
            Self::Nominal => "nominal size",
            Self::Inside => "inside of the can",
            Self::Roll => "roll",
        }
    }

    /// What it means for a figure.
    pub fn words(self, figure: &Definition) -> &'static str {
        let volume = figure.id == "volumetric";
        match self {
            Self::Cell if volume => "over the envelope of the bare can, no sleeve",
            Self::Cell if figure.id == "gravimetric" => "over the mass of the whole cell",
            Self::Cell => "of the whole cell",
            Self::Nominal => "over the nominal size, whole millimetres",
            Self::Inside => "over the inside of the can",
            Self::Roll if volume => "over the roll alone, core hole included",
            Self::Roll => "of electrodes, separator and electrolyte alone",
        }
    }

    /// The figure over this, SI.
    pub fn value(self, figure: &Definition, w: &Worked) -> Option<f64> {
        let energy = w.estimate.balance.energy;
        match (self, figure.id) {
            (Self::Cell, _) => (figure.of)(w),
            (Self::Nominal, "volumetric") => Some((energy / nominal(w)).value),
            (Self::Inside, "volumetric") => {
                let can = &w.design.blueprint().can;
                Some((energy / (can.bore_area() * (can.height - can.bottom))).value)
            }
            (Self::Roll, "volumetric") => {
                let radius = w.design.roll().outer_radius();
                Some((energy / (PI * radius * radius * w.design.separator_width())).value)
            }
            (Self::Roll, "gravimetric") => Some((energy / roll_mass(w)).value),
            (Self::Roll, "mass") => Some(roll_mass(w).value),
            _ => None,
        }
    }
}

/// π/4·D²·H in whole millimetres.
fn nominal(w: &Worked) -> Volume {
    let can = &w.design.blueprint().can;
    let whole = |length: Length| {
        let millimetres = (1e3 * length.value).round();
        if millimetres >= 1.0 { length * (1e-3 * millimetres / length.value) } else { length }
    };
    let diameter = whole(can.diameter);
    0.25 * PI * diameter * diameter * whole(can.height)
}

fn roll_mass(w: &Worked) -> Mass {
    let totals = Totals::of(&w.design);
    let masses = Group::ALL.iter().zip(totals.masses);
    masses
        .filter(|(group, _)| {
            matches!(group, Group::Anode | Group::Cathode | Group::Separator | Group::Electrolyte)
        })
        .fold(Mass::default(), |sum, (_, mass)| sum + mass)
}
