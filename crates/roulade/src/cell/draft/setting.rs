//! What is known of a cell before anything in it is read, and the parts that stand in for those of a sheet without any.

use crate::cell::population;
use crate::cell::population::{Chemistry, Collected, Purpose, Setting, Size};
use crate::quantity::notation;
use crate::quantity::units::{Dimension, Unit};
use crate::sheet::{Entry, Sheet};
use crate::{material, sheet};

/// Lists in a sheet the parts that stand in where it lists none, and how its current is collected where it says nothing
/// of that.
pub(crate) fn list_parts(sheet: &mut Sheet) {
    let setting = setting(sheet);
    if sheet.parts.is_none() {
        sheet.parts = Some(population::parts(&setting));
        if sheet.collection.is_none() && setting.collected.chance > 0.0 {
            let edges = setting.collected.edges;
            sheet.collection = Some(if edges { sheet::Collection::Edges } else { sheet::Collection::Tabs });
        }
    }
}

/// The parts that stand in for all hardware of a sheet without parts.
pub(crate) fn stand_in(sheet: &Sheet) -> Vec<sheet::Part> {
    population::parts(&setting(sheet))
}

/// The tabs that stand in for those of a foil that a sheet lists none for.
pub(crate) fn stand_in_tabs(sheet: &Sheet, anode: bool) -> Vec<sheet::Tab> {
    population::tabs(&setting(sheet), anode)
}

/// What is known of a cell before anything in it is read; what cannot be read is complained of elsewhere.
pub(super) fn setting(sheet: &Sheet) -> Setting {
    let can = sheet.can.as_ref();
    let named = can.and_then(|can| Size::read(can.size.as_deref()?, "").ok());
    let side = |entry: Option<&Entry>| {
        let text = match entry? {
            Entry::Text(text) => text,
            Entry::Noted(noted) => &noted.value,
        };
        let uncertain = notation::read(text, Dimension::Length).ok()?;
        (uncertain.value > 0.0).then_some(1e3 * uncertain.value)
    };
    let or = |own: Option<f64>, named: Option<u32>, usual: f64| own.or(named.map(f64::from)).unwrap_or(usual);
    let diameter = side(can.and_then(|can| can.diameter.as_ref()));
    let height = side(can.and_then(|can| can.height.as_ref()));
    let diameter = or(diameter, named.map(|size| size.diameter), population::REFERENCE.diameter);
    let holds = |mix: Option<&[sheet::Mixed]>, sought: fn(&str) -> bool| {
        let names = mix.unwrap_or(&[]).iter().filter_map(|mixed| material::find(mixed.material.as_deref()?));
        names.map(|material| material.name).any(sought)
    };
    let mix = sheet.cathode.as_ref().and_then(|cathode| cathode.mix.as_deref());
    let olivine = holds(mix, |name| Chemistry::of(name) == Chemistry::Olivine);
    let silicon =
        holds(sheet.anode.as_ref().and_then(|anode| anode.mix.as_deref()), |name| name.contains("silicon"));
    Setting {
        diameter,
        height: or(height, named.map(|size| size.height), population::REFERENCE.height),
        chemistry: if olivine { Chemistry::Olivine } else { Chemistry::Layered },
        purpose: said_purpose(sheet).unwrap_or_else(|| Purpose::unsaid(silicon, diameter)),
        collected: Collected::of(sheet, diameter),
    }
}

/// What the sheet says that the cell is made for; nothing where that cannot be read.
fn said_purpose(sheet: &Sheet) -> Option<Purpose> {
    let text = sheet.purpose.as_ref()?.text();
    let number = || notation::read(text, Unit::One.dimension()).ok();
    Purpose::of_class(text).or_else(|| Some(Purpose::of(&number()?)))
}
