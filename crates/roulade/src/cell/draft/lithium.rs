//! What a sheet says of the ions themselves: which they are, and what was put in beforehand.

use super::coating::Coating;
use super::makeup::Makeup;
use super::read::{Input, Reader, Slot};
use crate::cell::design::Prelithiation;
use crate::material::{self, Formula, Fractions, Ion, LithiumSource};
use crate::quantity::problem::{Problem, shortened};
use crate::quantity::units::{ArealCharge, ArealMassDensity, Ratio};
use crate::sheet::Sheet;
use roulade_stats::uncertain::{Origin, Uncertain};
use std::marker::PhantomData;

/// Lithium put in beside that of the cathode.
#[derive(Debug)]
pub(super) struct PrelithiationSlots {
    source: &'static LithiumSource,
    /// Kilograms that stay in the cell for a coulomb, all of the source used.
    per_charge: f64,
    areal: Slot<ArealCharge>,
    utilisation: Slot<Ratio>,
}

impl PrelithiationSlots {
    /// Reads the section.
    pub(super) fn read(r: &mut Reader, sheet: &Sheet) -> Option<Self> {
        let p = sheet.prelithiation.as_ref()?;
        let source = p.source.as_deref().and_then(material::lithium_source);
        if source.is_none() {
            let names: Vec<&str> = material::LITHIUM_SOURCES.iter().map(|source| source.name).collect();
            r.problems.push(Problem::new(
                "prelithiation.source",
                p.source.as_deref().map_or("nothing".to_owned(), |name| format!("\"{}\"", shortened(name))),
                format!("a source of lithium, one of: {}", names.join(", ")),
            ));
        }
        let areal = r.entry("prelithiation.areal_capacity", p.areal_capacity.as_ref());
        let utilisation = r.entry("prelithiation.utilisation", p.utilisation.as_ref());
        let source = source?;
        let per_charge = source.share_that_stays() / source.capacity();
        Some(Self { source, per_charge, areal, utilisation })
    }

    /// At some values of the inputs: what stays of the source weighs `q/(u·n·F/M)·M′/M`, with u the share of it that takes part.
    pub(super) fn at(&self, v: &[f64]) -> Prelithiation {
        let areal = self.areal.of(v);
        let mass = areal.value * self.per_charge / self.utilisation.of(v).value;
        let mass = ArealMassDensity { dimension: PhantomData, units: PhantomData, value: mass };
        Prelithiation { source: self.source, areal, mass }
    }

    /// Mass fractions of the elements in what stays of it.
    pub(super) fn elements(&self) -> Option<Fractions> {
        Some(Formula::read(self.source.stays).ok()?.fractions())
    }
}

/// Salt and solvent.
pub(super) fn dissolved(ion: Ion) -> Option<[Makeup; 2]> {
    let solvent = material::find("electrolyte")?.formula?;
    Some([Makeup::of_table(ion.salt()), Makeup::of_table(solvent)])
}

/// The ion that both electrodes store; lithium where no host says it.
pub(super) fn one_ion(r: &mut Reader, cathode: &Coating, anode: &Coating) -> Ion {
    let mut hosts = [cathode, anode].into_iter().flat_map(Coating::ions);
    let Some((name, ion)) = hosts.next() else { return Ion::default() };
    if let Some((other, its)) = hosts.find(|(_, other)| *other != ion) {
        r.problems.push(Problem::new(
            "anode.mix",
            format!(
                "{other}, which stores {}, in a cell with {name}, which stores {}",
                its.name(),
                ion.name()
            ),
            format!("active materials that store {} on both sides", ion.name()),
        ));
    }
    ion
}

const CARBONATES: &str = "a salt in carbonates, as such electrolytes have: common practice, no source";
const IN_PARTICLES: &str = "layered oxides and hard carbon: published values range over orders of magnitude; common practice, no source";

/// What stands in of electrolyte and particles in a sodium cell: the sheet's own defaults are those of lithium cells.
const OF_SODIUM: [(&str, (f64, f64), &str); 7] = [
    (
        "electrolyte.conductivity",
        (0.6, 1.0),
        "NaPF6, 1 mol/L in mixtures of cyclic and linear carbonates: from memory, 6 to 10 mS/cm in articles",
    ),
    (
        "electrolyte.salt",
        (0.14, 0.168),
        "1.0 to 1.2 mol/L of NaPF6, 168 g/mol, at 1.2 g/cm³: common practice, no source",
    ),
    ("electrolyte.salt_diffusion", (130e-12, 350e-12), CARBONATES),
    ("electrolyte.transference_number", (0.25, 0.45), CARBONATES),
    ("cathode.solid_diffusion", (0.002e-12, 0.03e-12), IN_PARTICLES),
    ("anode.solid_diffusion", (0.002e-12, 0.03e-12), IN_PARTICLES),
    ("anode.particle_radius", (2.5e-6, 6e-6), "hard carbon: common practice, no source"),
];

/// Calls an input by what its cell stores, and lets stand in what does there: labels and defaults are those of lithium cells.
pub(super) fn relabel(input: &mut Input, ion: Ion) {
    if ion == Ion::Sodium {
        let stands_in =
            OF_SODIUM.iter().find(|(path, ..)| input.origin == Origin::Default && input.path == *path);
        if let Some((_, (low, high), source)) = stands_in {
            input.replace(Uncertain::range(*low, *high), (*source).to_owned());
        }
        for (lithium, sodium) in [("LiPF6", ion.salt()), ("lithiation", "sodiation"), ("lithium", ion.name())]
        {
            if input.label.contains(lithium) {
                input.label = input.label.replace(lithium, sodium).into();
            }
        }
    }
}

/// What an initial coulombic efficiency above 100 % says.
pub(super) fn above_all(r: &Reader, coatings: [&Coating; 2], prelithiated: bool, ion: Ion) -> Vec<String> {
    let ion = ion.name();
    let mut remarks = Vec::new();
    for coating in coatings {
        let Some((what, value)) = coating.above_all(r) else { continue };
        let side = coating.side();
        let meaning = if side == "anode" {
            format!("more comes back than the first charge put in: {ion} was there beforehand")
        } else {
            format!("more goes back than the first charge took out: it was assembled short of {ion}")
        };
        let twice = if prelithiated && side == "anode" {
            "; what the sheet's prelithiation adds comes on top"
        } else {
            ""
        };
        remarks.push(format!(
            "An initial coulombic efficiency of {:.1} % of {what} means that {meaning}; it is taken as such{twice}.",
            100.0 * value
        ));
    }
    remarks
}
