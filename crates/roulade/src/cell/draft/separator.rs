//! The separator.

use crate::cell::design::Separator;
use crate::cell::draft::materials::Materials;
use crate::cell::draft::read::{Reader, Slot};
use crate::quantity::units::{Length, MassDensity, Ratio};
use crate::sheet;
use crate::sheet::Sheet;

#[derive(Debug)]
pub(super) struct SeparatorSlots {
    pub(super) film: Slot<Length>,
    pub(super) porosity: Slot<Ratio>,
    pub(super) density: Slot<MassDensity>,
    pub(super) margin: Slot<Length>,
    pub(super) ceramic: Slot<Length>,
    pub(super) ceramic_porosity: Slot<Ratio>,
    pub(super) ceramic_density: Slot<MassDensity>,
}

impl SeparatorSlots {
    pub(super) fn at(&self, v: &[f64]) -> Separator {
        Separator {
            film: self.film.of(v),
            porosity: self.porosity.of(v),
            density: self.density.of(v),
            margin: self.margin.of(v),
            ceramic: self.ceramic.of(v),
            ceramic_porosity: self.ceramic_porosity.of(v),
            ceramic_density: self.ceramic_density.of(v),
        }
    }
}

pub(super) fn separator(r: &mut Reader, materials: &mut Materials, sheet: &Sheet) -> SeparatorSlots {
    let empty = sheet::Separator::default();
    let s = sheet.separator.as_ref().unwrap_or(&empty);
    SeparatorSlots {
        film: r.entry("separator.thickness", s.thickness.as_ref()),
        porosity: r.entry("separator.porosity", s.porosity.as_ref()),
        density: materials.density(r, "separator.material", s.material.as_deref().unwrap_or("polyethylene")),
        margin: r.entry("separator.margin", s.margin.as_ref()),
        ceramic: r.entry("separator.ceramic_thickness", s.ceramic_thickness.as_ref()),
        ceramic_porosity: r.entry("separator.ceramic_porosity", s.ceramic_porosity.as_ref()),
        ceramic_density: materials.density(r, "separator.ceramic", s.ceramic.as_deref().unwrap_or("alumina")),
    }
}
