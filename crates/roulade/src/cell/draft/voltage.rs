//! Where charge and discharge end.

use crate::cell::design::VoltageWindow;
use crate::cell::draft::read::{Reader, Slot};
use crate::material;
use crate::quantity::units::ElectricPotential;
use crate::sheet;
use crate::sheet::Sheet;
use roulade_stats::uncertain::Uncertain;

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

/// Cathodes that are charged to another voltage than others of their kind, V.
const OWN_LIMITS: [(&str, f64); 2] = [("LMFP", 4.2), ("high-voltage LCO", 4.45)];

/// The charge cut-off voltage of cells with a cathode of this sheet's mix, where it is not that of its kind.
fn own_limit(sheet: &Sheet) -> Option<(&'static str, f64)> {
    let mix = sheet.cathode.as_ref()?.mix.as_deref()?;
    let mut names = mix.iter().filter_map(|mixed| Some(material::find(mixed.material.as_deref()?)?.name));
    names.find_map(|name| OWN_LIMITS.into_iter().find(|(own, _)| *own == name))
}

pub(super) fn window(r: &mut Reader, sheet: &Sheet) -> WindowSlots {
    let empty = sheet::Voltage::default();
    let v = sheet.voltage.as_ref().unwrap_or(&empty);
    let upper: Slot<ElectricPotential> = r.entry("voltage.charge_cut_off", v.charge_cut_off.as_ref());
    if let (None, Some((name, volts))) = (&v.charge_cut_off, own_limit(sheet))
        && let Some(input) = r.inputs.get_mut(upper.number())
    {
        input.replace(Uncertain::exact(volts), format!("cells with {name}: common practice, from memory"));
    }
    WindowSlots {
        upper,
        lower: r.entry("voltage.discharge_cut_off", v.discharge_cut_off.as_ref()),
        nominal: r.optional("voltage.nominal", v.nominal.as_ref()),
    }
}

#[cfg(test)]
mod tests {
    use crate::cell::figures::{Worked, definition};
    use crate::test_support::read;
    use serde_json::json;

    /// Manganese in the olivine gives its charge at 4.1 V against lithium, and a cobalt oxide for more than 4.4 V is charged to it.
    #[test]
    fn a_cathode_is_charged_as_cells_with_it_are() {
        let energy = |material: &str| {
            let sheet = json!({ "can": { "size": "21 × 70" }, "cathode": { "mix": [{ "material": material }] },
                "anode": { "mix": [{ "material": "graphite" }] } });
            let draft = read(&sheet).unwrap();
            let w = Worked::at(&draft, &draft.values()).unwrap();
            (definition("energy").unwrap().of)(&w).unwrap()
        };
        assert!(energy("LMFP") > energy("LFP") && energy("high-voltage LCO") > energy("LCO"));
    }
}
