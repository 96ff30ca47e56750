//! The can and the sleeve around it.

use crate::cell::design::{Can, Sleeve};
use crate::cell::draft::materials::Materials;
use crate::cell::draft::read::{Reader, Slot};
use crate::cell::population;
use crate::cell::population::Size;
use crate::quantity::problem::Problem;
use crate::quantity::units::{Length, Mass, MassDensity};
use crate::sheet;
use crate::sheet::{Entry, Sheet};
use roulade_stats::uncertain::Uncertain;
use uom::si::length::millimeter;

#[derive(Debug)]
pub(super) struct CanSlots {
    pub(super) diameter: Slot<Length>,
    pub(super) height: Slot<Length>,
    pub(super) wall: Slot<Length>,
    pub(super) bottom: Slot<Length>,
    pub(super) density: Slot<MassDensity>,
    pub(super) weighed: Option<Slot<Mass>>,
    /// The size's name, where the sheet gives it.
    pub(super) size: Option<Size>,
}

impl CanSlots {
    pub(super) fn at(&self, v: &[f64]) -> Can {
        let named =
            |size: Size| [size.diameter, size.height].map(|mm| Length::new::<millimeter>(f64::from(mm)));
        Can {
            diameter: self.diameter.of(v),
            height: self.height.of(v),
            wall: self.wall.of(v),
            bottom: self.bottom.of(v),
            density: self.density.of(v),
            weighed: self.weighed.map(|slot| slot.of(v)),
            named: self.size.map(named),
        }
    }
}

#[derive(Debug)]
pub(super) struct SleeveSlots {
    pub(super) thickness: Slot<Length>,
    pub(super) density: Slot<MassDensity>,
    pub(super) counts: bool,
}

impl SleeveSlots {
    pub(super) fn at(&self, v: &[f64]) -> Sleeve {
        Sleeve { thickness: self.thickness.of(v), density: self.density.of(v), counts: self.counts }
    }
}

pub(super) fn can(r: &mut Reader, materials: &mut Materials, sheet: &Sheet) -> CanSlots {
    let empty = sheet::Can::default();
    let can = sheet.can.as_ref().unwrap_or(&empty);
    let size = can.size.as_deref().and_then(|text| match Size::read(text, "can.size") {
        Ok(size) => Some(size),
        Err(problem) => {
            r.problems.push(problem);
            None
        }
    });
    let outer = size.map(Size::outer);
    // A size that was refused is missed no second time.
    let refused = can.size.is_some() && size.is_none();
    let mut side = |path: &'static str, entry: Option<&Entry>, named: Option<Uncertain>| match (entry, named)
    {
        (None, Some(uncertain)) => r.of_population(&path.into(), (uncertain, 0.0), population::OUTER_SIZE),
        (None, None) if refused => {
            r.of_population(&path.into(), (Uncertain::exact(f64::NAN), 0.0), population::OUTER_SIZE)
        }
        (entry, named) => {
            let slot: Slot<Length> = r.entry(path, entry);
            let uncertain = r.uncertain(slot);
            if let Some(named) = named.filter(|named| (uncertain.value - named.value).abs() > 2e-3) {
                let found = format!(
                    "{:.2} mm beside a size of {:.0} mm by its name",
                    1e3 * uncertain.value,
                    1e3 * named.value
                );
                r.problems.push(Problem::new(
                    path,
                    found,
                    "a dimension within 2 mm of the size's name, or another size",
                ));
            }
            slot
        }
    };
    CanSlots {
        diameter: side("can.diameter", can.diameter.as_ref(), outer.map(|outer| outer.diameter)),
        height: side("can.height", can.height.as_ref(), outer.map(|outer| outer.height)),
        wall: r.entry("can.wall", can.wall.as_ref()),
        bottom: r.entry("can.bottom", can.bottom.as_ref()),
        density: materials.density(r, "can.material", can.material.as_deref().unwrap_or("steel")),
        weighed: r.optional("can.mass", can.mass.as_ref()),
        size,
    }
}

pub(super) fn sleeve(r: &mut Reader, materials: &mut Materials, sheet: &Sheet) -> Option<SleeveSlots> {
    let sleeve = sheet.sleeve.as_ref()?;
    Some(SleeveSlots {
        counts: sleeve.counts != Some(sheet::Counts::No),
        thickness: r.entry("sleeve.thickness", sleeve.thickness.as_ref()),
        density: materials.density(r, "sleeve.material", sleeve.material.as_deref().unwrap_or("PET")),
    })
}
