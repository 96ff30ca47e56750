//! Where a sheet names its parts and materials.

use super::Sheet;
use super::tree::canonical;

/// The plates that are this part: they are called otherwise, or are none any more.
pub(super) fn plates(sheet: &mut Sheet, name: &str, to: Option<&str>) {
    let Some(path) = &mut sheet.current_path else { return };
    for collection in [&mut path.cathode, &mut path.anode].into_iter().flatten() {
        if collection.plate.as_deref().is_some_and(|plate| plate.trim() == name.trim()) {
            collection.plate = to.map(str::to_owned);
        }
    }
}

/// Every place that names a material.
pub(super) fn materials(sheet: &mut Sheet, name: &str, to: &str) {
    let was = canonical(name);
    for place in places(sheet).into_iter().flatten() {
        if canonical(place) == was {
            to.clone_into(place);
        }
    }
}

fn places(sheet: &mut Sheet) -> Vec<Option<&mut String>> {
    let mut all = Vec::new();
    all.extend(sheet.can.as_mut().map(|can| can.material.as_mut()));
    all.extend(sheet.parts.iter_mut().flatten().map(|part| part.material.as_mut()));
    if let Some(cathode) = &mut sheet.cathode {
        all.extend(cathode.foil.as_mut().map(|foil| foil.material.as_mut()));
        all.extend(cathode.mix.iter_mut().flatten().map(|mixed| mixed.material.as_mut()));
    }
    if let Some(anode) = &mut sheet.anode {
        all.extend(anode.foil.as_mut().map(|foil| foil.material.as_mut()));
        all.extend(anode.mix.iter_mut().flatten().map(|mixed| mixed.material.as_mut()));
    }
    if let Some(separator) = &mut sheet.separator {
        all.extend([separator.material.as_mut(), separator.ceramic.as_mut()]);
    }
    if let Some(path) = &mut sheet.current_path {
        let sides = [&mut path.cathode, &mut path.anode].into_iter().flatten();
        all.extend(sides.flat_map(|side| side.tabs.iter_mut().flatten()).map(|tab| tab.material.as_mut()));
    }
    all
}
