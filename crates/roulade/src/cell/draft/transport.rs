//! How lithium gets about in coatings, separator and electrolyte, read from a sheet.

use crate::cell::design::{Kinetics, Transport};
use crate::cell::draft::read::{Reader, Slot};
use crate::quantity::units::{ArealResistance, DiffusionCoefficient, ElectricalConductivity, Length};
use crate::sheet::{self, Entry, Sheet};

#[derive(Clone, Copy, Debug)]
pub(super) struct KineticsSlots {
    conductivity: Slot<ElectricalConductivity>,
    transfer: Slot<ArealResistance>,
    anode: TransportSlots,
    cathode: TransportSlots,
    salt_diffusion: Slot<DiffusionCoefficient>,
    transference: Slot<f64>,
    separator_exponent: Slot<f64>,
}

#[derive(Clone, Copy, Debug)]
struct TransportSlots {
    /// Nothing where the tortuosity itself is stated.
    exponent: Option<Slot<f64>>,
    radius: Slot<Length>,
    diffusion: Slot<DiffusionCoefficient>,
}

/// What a sheet says of one coating: tortuosity, its exponent, radius of a particle, diffusion in it.
type Said<'s> = [Option<&'s Entry>; 4];

impl KineticsSlots {
    pub(super) fn read(r: &mut Reader, sheet: &Sheet, path: &sheet::CurrentPath) -> Self {
        let electrolyte = sheet.electrolyte.as_ref();
        let conductivity =
            r.entry("electrolyte.conductivity", electrolyte.and_then(|e| e.conductivity.as_ref()));
        let transfer = r.entry("current_path.charge_transfer", path.charge_transfer.as_ref());
        let cathode = sheet.cathode.as_ref().map_or([None; 4], |c| {
            [&c.tortuosity, &c.tortuosity_exponent, &c.particle_radius, &c.solid_diffusion]
                .map(Option::as_ref)
        });
        let anode = sheet.anode.as_ref().map_or([None; 4], |a| {
            [&a.tortuosity, &a.tortuosity_exponent, &a.particle_radius, &a.solid_diffusion]
                .map(Option::as_ref)
        });
        Self {
            conductivity,
            transfer,
            cathode: TransportSlots::read(r, "cathode", cathode),
            anode: TransportSlots::read(r, "anode", anode),
            salt_diffusion: r
                .entry("electrolyte.salt_diffusion", electrolyte.and_then(|e| e.salt_diffusion.as_ref())),
            transference: r.entry(
                "electrolyte.transference_number",
                electrolyte.and_then(|e| e.transference_number.as_ref()),
            ),
            separator_exponent: r.entry(
                "separator.tortuosity_exponent",
                sheet.separator.as_ref().and_then(|s| s.tortuosity_exponent.as_ref()),
            ),
        }
    }

    pub(super) fn at(&self, v: &[f64]) -> Kinetics {
        Kinetics {
            conductivity: self.conductivity.of(v),
            transfer: self.transfer.of(v),
            anode: self.anode.at(v),
            cathode: self.cathode.at(v),
            salt_diffusion: self.salt_diffusion.of(v),
            transference: self.transference.of(v),
            separator_exponent: self.separator_exponent.of(v),
        }
    }
}

impl TransportSlots {
    fn read(r: &mut Reader, side: &str, [tortuosity, exponent, radius, diffusion]: Said<'_>) -> Self {
        let at = |key: &str| format!("{side}.{key}");
        if tortuosity.is_some() && exponent.is_some() {
            r.one_too_many(
                &at("tortuosity_exponent"),
                "an exponent beside the tortuosity",
                "the tortuosity alone",
            );
        }
        Self {
            exponent: tortuosity.is_none().then(|| r.entry(at("tortuosity_exponent").as_str(), exponent)),
            radius: r.entry(at("particle_radius").as_str(), radius),
            diffusion: r.entry(at("solid_diffusion").as_str(), diffusion),
        }
    }

    fn at(&self, v: &[f64]) -> Transport {
        Transport {
            exponent: self.exponent.map_or(0.0, |slot| slot.of(v)),
            radius: self.radius.of(v),
            diffusion: self.diffusion.of(v),
        }
    }
}
