//! Where charge and discharge end.

use crate::cell::design::VoltageWindow;
use crate::cell::draft::read::{Reader, Slot};
use crate::quantity::units::ElectricPotential;
use crate::sheet;
use crate::sheet::Sheet;

#[derive(Debug)]
pub(super) struct WindowSlots {
    pub(super) upper: Slot<ElectricPotential>,
    pub(super) lower: Slot<ElectricPotential>,
    pub(super) nominal: Option<Slot<ElectricPotential>>,
}

impl WindowSlots {
    pub(super) fn at(&self, v: &[f64]) -> VoltageWindow {
        VoltageWindow {
            upper: self.upper.of(v),
            lower: self.lower.of(v),
            nominal: self.nominal.map(|slot| slot.of(v)),
        }
    }
}

pub(super) fn window(r: &mut Reader, sheet: &Sheet) -> WindowSlots {
    let empty = sheet::Voltage::default();
    let v = sheet.voltage.as_ref().unwrap_or(&empty);
    WindowSlots {
        upper: r.entry("voltage.charge_cut_off", v.charge_cut_off.as_ref()),
        lower: r.entry("voltage.discharge_cut_off", v.discharge_cut_off.as_ref()),
        nominal: r.optional("voltage.nominal", v.nominal.as_ref()),
    }
}
