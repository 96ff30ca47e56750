//! What a density is taken over: outside of the can, its sleeve, nominal size, inside of the can, or the roll alone.

use crate::cell::design::{Can, Sleeve};
use crate::cell::figures::{Definition, Worked, definition};
use crate::cell::ledger::{Group, Totals};
use crate::quantity::units::{Length, Mass, MassDensity, Volume};
use serde::Serialize;
use std::f64::consts::PI;
use uom::si::length::millimeter;
use uom::si::mass_density::gram_per_cubic_centimeter;

/// What a figure is taken over.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Basis {
    /// The whole cell: the envelope over its largest outside dimensions, or the whole mass; a sleeve counts into both where the
    /// sheet says so.
    Cell,
    /// The whole cell with a shrink sleeve around it.
    #[serde(rename = "with sleeve")]
    Sleeved,
    /// The whole cell without one, also where that of the sheet counts.
    #[serde(rename = "without sleeve")]
    Bare,
    /// The size a cell is named by: diameter and height in whole millimetres, the nearest.
    Nominal,
    /// The inside of the can: bore times the height above the bottom, hardware included.
    Inside,
    /// The roll alone: its mean outer diameter times the separator's width, core hole included; electrodes, separator
    /// and electrolyte by mass.
    Roll,
}

impl Basis {
    /// As it is written in a claim.
    pub fn name(self) -> &'static str {
        match self {
            Self::Cell => "cell",
            Self::Sleeved => "cell with sleeve",
            Self::Bare => "cell without sleeve",
            Self::Nominal => "nominal size",
            Self::Inside => "inside of the can",
            Self::Roll => "roll",
        }
    }
}

/// A figure over a basis.
#[derive(Clone, Copy, Debug)]
pub struct On {
    /// The figure, at open circuit or under load.
    pub figure: &'static Definition,
    /// What it is taken over.
    pub basis: Basis,
}

/// Figures at open circuit, and the same under load.
const LOADED: [(&str, &str); 4] = [
    ("capacity", "loaded_capacity"),
    ("energy", "loaded_energy"),
    ("volumetric", "loaded_volumetric"),
    ("gravimetric", "loaded_gravimetric"),
];

/// The same figure under load, or at open circuit; `None` where there is none.
pub(super) fn under(figure: &Definition, load: bool) -> Option<&'static Definition> {
    let (open, loaded) = LOADED.iter().find(|(open, loaded)| [*open, *loaded].contains(&figure.id))?;
    definition(if load { loaded } else { open })
}

/// Whether a figure is one under load; `None` where that makes no difference.
pub(super) fn loaded(figure: &Definition) -> Option<bool> {
    LOADED.iter().find_map(|(open, loaded)| match figure.id {
        id if id == *open => Some(false),
        id if id == *loaded => Some(true),
        _ => None,
    })
}

impl On {
    /// All that a figure may be taken over, that of the cell first; then the cell under load where the figure is one at
    /// open circuit, and the other way round.
    pub fn all(figure: &'static Definition) -> Vec<Self> {
        let bases: &[Basis] = match figure.id {
            "volumetric" | "loaded_volumetric" => {
                &[Basis::Cell, Basis::Sleeved, Basis::Bare, Basis::Nominal, Basis::Inside, Basis::Roll]
            }
            "gravimetric" | "loaded_gravimetric" | "mass" => {
                &[Basis::Cell, Basis::Sleeved, Basis::Bare, Basis::Roll]
            }
            _ => &[Basis::Cell],
        };
        let own = bases.iter().map(|basis| Self { figure, basis: *basis });
        let other = loaded(figure).and_then(|loaded| under(figure, !loaded));
        own.chain(other.map(|figure| Self { figure, basis: Basis::Cell })).collect()
    }

    /// In a few words: "roll", "cell, under load".
    pub fn words(&self, of: &Definition) -> String {
        match loaded(self.figure) {
            Some(true) if self.figure.id != of.id => format!("{}, under load", self.basis.name()),
            Some(false) if self.figure.id != of.id => format!("{}, open circuit", self.basis.name()),
            _ => self.basis.name().to_owned(),
        }
    }

    /// What it means.
    pub fn note(&self) -> &'static str {
        let volume = self.figure.id.ends_with("volumetric");
        match self.basis {
            Basis::Cell if volume => "over the envelope: that of the bare can, or of a sleeve that counts",
            Basis::Cell if self.figure.id.ends_with("gravimetric") => "over the mass of the whole cell",
            Basis::Cell => "of the whole cell",
            Basis::Sleeved => {
                "with the sleeve of the sheet, or one of 0.1 mm of polymer (common practice, no source)"
            }
            Basis::Bare => "without a sleeve, also where that of the sheet counts",
            Basis::Nominal => "over the nominal size, whole millimetres",
            Basis::Inside => "over the inside of the can",
            Basis::Roll if volume => "over the roll alone, core hole included",
            Basis::Roll => "of electrodes, separator and electrolyte alone",
        }
    }

    /// The figure over this, SI; `nominal` is the volume of the size that the cell is named by.
    pub fn value(&self, w: &Worked, nominal: Volume) -> Option<f64> {
        let energy = || match loaded(self.figure) {
            Some(true) => w.loaded().1.energy(),
            _ => w.estimate.balance.energy,
        };
        let volume = self.figure.id.ends_with("volumetric");
        Some(match self.basis {
            Basis::Cell => return (self.figure.of)(w),
            Basis::Sleeved => return wrapped(self.figure, w, true),
            Basis::Bare => return wrapped(self.figure, w, false),
            Basis::Nominal => (energy() / nominal).value,
            Basis::Inside => {
                let can = &w.design.blueprint().can;
                (energy() / (can.bore_area() * (can.height - can.bottom))).value
            }
            Basis::Roll if volume => {
                let radius = w.design.outer_radius();
                (energy() / (PI * radius * radius * w.design.separator_width())).value
            }
            Basis::Roll if self.figure.id == "mass" => roll_mass(w).value,
            Basis::Roll => (energy() / roll_mass(w)).value,
        })
    }
}

/// Thickness, mm, and density, g/cm³, of a sleeve where the sheet has none: common practice, no source.
const SLEEVE: (f64, f64) = (0.1, 1.35);

/// A figure of the cell with or without a sleeve around it, whether or not that of the sheet counts.
fn wrapped(figure: &Definition, w: &Worked, with: bool) -> Option<f64> {
    let counted = (figure.of)(w)?;
    let blueprint = w.design.blueprint();
    if blueprint.counted_sleeve().is_some() == with {
        return Some(counted);
    }
    let sleeve = blueprint.sleeve.unwrap_or(Sleeve {
        thickness: Length::new::<millimeter>(SLEEVE.0),
        density: MassDensity::new::<gram_per_cubic_centimeter>(SLEEVE.1),
        counts: true,
    });
    let can = &blueprint.can;
    let (film, sign) = (sleeve.density * sleeve.volume(can), if with { 1.0 } else { -1.0 });
    let whole = w.estimate.mass;
    Some(match figure.id {
        "mass" => counted + sign * film.value,
        id if id.ends_with("gravimetric") => counted * (whole / (whole + sign * film)).value,
        _ => {
            let envelope = if with { sleeve.envelope(can) } else { can.envelope() };
            counted * (blueprint.envelope() / envelope).value
        }
    })
}

/// π/4·D²·H in whole millimetres.
pub(super) fn nominal(can: &Can) -> Volume {
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
