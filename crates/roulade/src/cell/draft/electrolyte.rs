//! The electrolyte and how much of it there is.

use crate::cell::design::Electrolyte;
use crate::cell::draft::materials::Materials;
use crate::cell::draft::read::{Reader, Slot};
use crate::quantity::units::{Mass, MassDensity, MassPerCharge, Ratio};
use crate::sheet;
use crate::sheet::Sheet;

#[derive(Debug)]
pub(super) struct ElectrolyteSlots {
    pub(super) density: Slot<MassDensity>,
    pub(super) amount: AmountSlots,
    pub(super) salt: Slot<f64>,
}

impl ElectrolyteSlots {
    pub(super) fn at(&self, v: &[f64]) -> Electrolyte {
        let density = self.density.of(v);
        match self.amount {
            AmountSlots::Mass(mass) => Electrolyte::Filled { density, mass: mass.of(v) },
            AmountSlots::Excess(share) => Electrolyte::Excess { density, share: share.of(v) },
            AmountSlots::PerCapacity(ratio) => Electrolyte::PerCapacity { density, ratio: ratio.of(v) },
        }
    }
}

/// How much electrolyte there is.
#[derive(Debug)]
pub(super) enum AmountSlots {
    Excess(Slot<Ratio>),
    Mass(Slot<Mass>),
    PerCapacity(Slot<MassPerCharge>),
}

pub(super) fn electrolyte(r: &mut Reader, materials: &mut Materials, sheet: &Sheet) -> ElectrolyteSlots {
    let empty = sheet::Electrolyte::default();
    let e = sheet.electrolyte.as_ref().unwrap_or(&empty);
    if e.mass.is_some() && e.excess.is_some() {
        r.one_too_many(
            "electrolyte.excess",
            "an excess beside a mass",
            "the mass alone, from which the excess follows",
        );
    }
    if e.per_capacity.is_some() && (e.mass.is_some() || e.excess.is_some()) {
        r.one_too_many(
            "electrolyte.per_capacity",
            "a mass per capacity beside a mass or an excess",
            "one of the three, from which the others follow",
        );
    }
    let density = match &e.density {
        Some(density) => r.entry("electrolyte.density", Some(density)),
        None => materials.density(r, "electrolyte.density", "electrolyte"),
    };
    let amount = match (&e.mass, &e.per_capacity) {
        (Some(mass), _) => AmountSlots::Mass(r.entry("electrolyte.mass", Some(mass))),
        (None, Some(ratio)) => AmountSlots::PerCapacity(r.entry("electrolyte.per_capacity", Some(ratio))),
        (None, None) => AmountSlots::Excess(r.entry("electrolyte.excess", e.excess.as_ref())),
    };
    let salt = r.entry("electrolyte.salt", e.salt.as_ref());
    ElectrolyteSlots { density, amount, salt }
}
