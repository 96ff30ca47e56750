//! The materials a sheet uses: the table's, with the figures that the sheet gives in their place.

mod figure;
mod host;
pub(super) mod used;

use super::filled_in::FilledIn;
use super::makeup::{Composition, Makeup, Makeups};
use crate::cell::draft::read::{Reader, Slot};
use crate::material::{CurveCache, Role};
use crate::quantity::problem::Problem;
use crate::quantity::units::{MassDensity, TemperatureCoefficient};
use crate::sheet::Sheet;
use crate::{material, sheet};
use figure::{figure, known_as, own_formula, unknown_material};
use std::borrow::Cow;
use std::sync::Arc;
use uom::si::temperature_coefficient::per_kelvin;
use used::{MetalSlot, Used};

/// The materials met so far.
#[derive(Debug)]
pub(super) struct Materials<'a> {
    own: &'a [sheet::Material],
    curve_cache: &'a CurveCache,
    used: Vec<Used>,
    /// In the order of the makeups.
    densities: Vec<Slot<MassDensity>>,
    pub(super) compositions: Vec<Arc<Composition>>,
    pub(super) makeups: Makeups,
    metals: Vec<(String, MetalSlot)>,
    pub(super) remarks: Vec<String>,
}

impl<'a> Materials<'a> {
    pub(super) fn new(r: &mut Reader, sheet: &'a Sheet, curve_cache: &'a CurveCache) -> Self {
        let own = sheet.materials.as_deref().unwrap_or(&[]);
        for (i, material) in own.iter().enumerate() {
            if material.name.as_deref().is_none_or(|name| name.trim().is_empty()) {
                r.problems.push(Problem::new(
                    format!("materials[{i}].name"),
                    "nothing",
                    "each material to have a name",
                ));
            }
        }
        Self {
            own,
            curve_cache,
            used: Vec::new(),
            densities: Vec::new(),
            metals: Vec::new(),
            compositions: Vec::new(),
            makeups: Makeups::default(),
            remarks: Vec::new(),
        }
    }

    /// Density alone, of a material that holds no lithium. `place` names the entry that asks for it.
    pub(super) fn density(
        &mut self,
        r: &mut Reader,
        place: impl Into<Cow<'static, str>>,
        name: &str,
    ) -> Slot<MassDensity> {
        let (canonical, table) = known_as(name);
        let place = place.into();
        let number = self.makeups.number(canonical);
        if let Some((number, slot)) = number.and_then(|number| Some((number, *self.densities.get(number)?))) {
            self.makeups.name(place, number);
            return slot;
        }
        let own = self.own_entry(canonical);
        if own.is_none() && table.is_none() {
            unknown_material(r, &place, name);
        }
        self.makeups.name(place, self.densities.len());
        let measured = own.is_some_and(|(_, m)| m.metals.is_some());
        let composition = own.and_then(|own| Composition::read(r, own, canonical, &mut self.remarks));
        let stand_in = match &composition {
            Some(composition) => Some(composition.estimate.clone()),
            None if measured => Some(FilledIn::missed()),
            None => table.map(|t| FilledIn::of(&t.density)),
        };
        let slot = figure(
            r,
            canonical,
            own.and_then(|(i, m)| Some((i, m.density.as_ref()?))),
            "materials[].density",
            stand_in,
        );
        let makeup = match composition {
            Some(mut composition) => {
                composition.density = Some(slot);
                let composition = Arc::new(composition);
                self.compositions.push(Arc::clone(&composition));
                Some(Makeup::Measured(composition))
            }
            None => own_formula(r, own).or_else(|| Some(Makeup::of_table(table?.formula?))),
        };
        self.makeups.add(canonical, makeup);
        self.densities.push(slot);
        slot
    }

    /// Whether a material conducts like a metal.
    pub(super) fn conducts(&self, name: &str) -> bool {
        let (name, table) = known_as(name);
        table.is_some_and(|table| table.conduction.is_some())
            || self.own_entry(name).is_some_and(|(_, own)| own.resistivity.is_some())
    }

    /// How a metal conducts; `usual`, a metal of the table, where nothing is known of it.
    pub(super) fn metal(&mut self, r: &mut Reader, name: &str, usual: &'static str) -> MetalSlot {
        let (mut name, mut table) = known_as(name);
        let there = |metals: &[(String, MetalSlot)], name: &str| {
            metals.iter().find(|(uncertain, _)| uncertain == name).map(|(_, slot)| *slot)
        };
        if let Some(slot) = there(&self.metals, name) {
            return slot;
        }
        if !self.conducts(name) {
            // A material that nobody knows was complained of where its density was asked for.
            if self.own_entry(name).is_some() || table.is_some() {
                let remark = format!(
                    "{name} has no resistivity here; that of {usual} stands in for the current path."
                );
                if !self.remarks.contains(&remark) {
                    self.remarks.push(remark);
                }
            }
            (name, table) = known_as(usual);
            if let Some(slot) = there(&self.metals, name) {
                return slot;
            }
        }
        let conduction = table.and_then(|table| table.conduction.as_ref());
        let resistivity = figure(
            r,
            name,
            self.own_entry(name).and_then(|(i, m)| Some((i, m.resistivity.as_ref()?))),
            "materials[].resistivity",
            conduction.map(|conduction| FilledIn::of(&conduction.at_20)),
        );
        // A metal of the sheet's own is taken to warm like the usual one.
        let warms = conduction.or_else(|| material::find(usual)?.conduction.as_ref());
        let coefficient = warms.map_or(0.0, |warms| warms.per_kelvin.uncertain.value);
        let slot =
            MetalSlot { resistivity, per_kelvin: TemperatureCoefficient::new::<per_kelvin>(coefficient) };
        self.metals.push((name.to_owned(), slot));
        slot
    }

    /// A component of a coating: density, and what makes it a host where it is one.
    pub(super) fn component(&mut self, r: &mut Reader, place: String, name: &str) -> Used {
        let (canonical, table) = known_as(name);
        if let Some(used) = self.used.iter().find(|used| *used.name == *canonical) {
            return used.clone();
        }
        let own = self.own_entry(canonical);
        let own_role = own.and_then(|(_, m)| m.role);
        let density = self.density(r, place, name);
        let metals = own.is_some_and(|(_, m)| m.metals.is_some());
        let said = own_role.or(table.map(|t| t.role));
        let role = said.filter(|_| !metals).unwrap_or(if metals { Role::Cathode } else { Role::Binder });
        if metals && said.is_some_and(|role| role != Role::Cathode) {
            r.problems.push(Problem::new(
                format!("materials[{}].metals", own.map_or(0, |(i, _)| i)),
                format!("metals of \"{canonical}\", which is no cathode material"),
                "a cathode material of your own, a layered oxide, where metals are given",
            ));
        }
        if table.is_none() && own_role.is_none() && own.is_some() && !metals {
            r.problems.push(Problem::new(
                format!("materials[{}].role", own.map_or(0, |(i, _)| i)),
                "nothing",
                "each material of your own to have a role: cathode, anode, binder, conductive, metal, polymer or ceramic",
            ));
        }
        let host = matches!(role, Role::Cathode | Role::Anode).then(|| self.host(r, canonical, table, own));
        let used = Used { name: canonical.into(), role, density, host };
        self.used.push(used.clone());
        used
    }

    fn own_entry(&self, canonical: &str) -> Option<(usize, &'a sheet::Material)> {
        self.own
            .iter()
            .enumerate()
            .find(|(_, m)| m.name.as_deref().is_some_and(|name| known_as(name).0 == canonical))
    }
}
