//! The parts of a sheet, or the lid that stands in where a sheet has none.

use super::materials::Materials;
use crate::cell::design::{Label, Part};
use crate::cell::draft::read::{Name, Reader, Slot};
use crate::cell::population;
use crate::quantity::problem::Problem;
use crate::quantity::units::{Area, Length, Mass, MassDensity, Ratio, Volume};
use crate::sheet::Place;
use crate::sheet::{self, Entry, Sheet};
use std::borrow::Cow;
use std::sync::Arc;

/// All parts.
#[derive(Debug)]
pub(super) struct Hardware {
    parts: Vec<PartSlots>,
    pub(super) remarks: Vec<String>,
}

#[derive(Debug)]
struct PartSlots {
    label: Arc<Label>,
    place: Place,
    height: Slot<Length>,
    axial_clearance: Slot<Length>,
    bulk: Bulk,
}

/// How mass and volume of a part are known.
#[derive(Debug)]
pub(super) enum Bulk {
    Both(Slot<Mass>, Slot<Volume>),
    Mass(Slot<Mass>, Slot<MassDensity>),
    Volume(Slot<Volume>, Slot<MassDensity>),
    Filling(Slot<Ratio>, Slot<MassDensity>),
}

impl Hardware {
    pub(super) fn read(r: &mut Reader, materials: &mut Materials<'_>, sheet: &Sheet) -> Self {
        let filled_in = sheet.parts.is_none();
        let listed =
            sheet.parts.as_ref().map_or_else(|| Cow::Owned(population::parts(r.setting())), Cow::Borrowed);
        let remarks = if filled_in {
            vec![
                "The sheet lists no parts; those of ordinary cells of this size stand in for all hardware."
                    .to_owned(),
            ]
        } else {
            Vec::new()
        };
        let mut parts: Vec<PartSlots> = Vec::new();
        for (i, part) in listed.iter().enumerate() {
            let read = one(r, materials, i, part, filled_in);
            if parts.iter().any(|other| other.label.name == read.label.name) {
                r.problems.push(Problem::new(
                    format!("parts[{i}].name"),
                    format!("a second part called \"{}\"", read.label.name),
                    "each part of a cell to have a name of its own",
                ));
            }
            parts.push(read);
        }
        Self { parts, remarks }
    }

    /// Heights and axial clearances of what stands below and above the roll.
    pub(super) fn heights(&self) -> impl Iterator<Item = Slot<Length>> {
        let axial = |part: &&PartSlots| matches!(part.place, Place::BelowRoll | Place::AboveRoll);
        self.parts.iter().filter(axial).flat_map(|part| [part.height, part.axial_clearance])
    }

    /// Height with axial clearance, and mass or volume, of what stands below and above the roll.
    pub(super) fn axial(&self) -> impl Iterator<Item = ([Slot<Length>; 2], &Bulk)> {
        let axial = |part: &&PartSlots| matches!(part.place, Place::BelowRoll | Place::AboveRoll);
        self.parts.iter().filter(axial).map(|part| ([part.height, part.axial_clearance], &part.bulk))
    }

    pub(super) fn filled(&self) -> Vec<bool> {
        self.parts.iter().map(|part| matches!(part.bulk, Bulk::Filling(..))).collect()
    }

    /// The parts at some values, in the room of former ones where nobody else has these.
    pub(super) fn at(&self, v: &[f64], bore: Area, former: Option<Arc<[Part]>>) -> Arc<[Part]> {
        if let Some(mut parts) = former
            && let Some(room) = Arc::get_mut(&mut parts)
        {
            for (part, slots) in room.iter_mut().zip(&self.parts) {
                (part.height, part.axial_clearance) = (slots.height.of(v), slots.axial_clearance.of(v));
                (part.mass, part.volume) = slots.bulk.at(v, bore * part.height);
            }
            return parts;
        }
        let part = |slots: &PartSlots| {
            let height = slots.height.of(v);
            let (mass, volume) = slots.bulk.at(v, bore * height);
            Part {
                label: Arc::clone(&slots.label),
                place: slots.place,
                height,
                axial_clearance: slots.axial_clearance.of(v),
                mass,
                volume,
                weighed: matches!(slots.bulk, Bulk::Both(..) | Bulk::Mass(..)),
            }
        };
        self.parts.iter().map(part).collect()
    }
}

impl Bulk {
    /// Mass and volume at some values, with the room that the part's height has in the can.
    fn at(&self, v: &[f64], room: Volume) -> (Mass, Volume) {
        match self {
            Self::Both(mass, volume) => (mass.of(v), volume.of(v)),
            Self::Mass(mass, density) => (mass.of(v), mass.of(v) / density.of(v)),
            Self::Volume(volume, density) => (volume.of(v) * density.of(v), volume.of(v)),
            Self::Filling(share, density) => {
                let volume = room * share.of(v);
                (volume * density.of(v), volume)
            }
        }
    }
}

fn one(
    r: &mut Reader,
    materials: &mut Materials<'_>,
    i: usize,
    part: &sheet::Part,
    filled_in: bool,
) -> PartSlots {
    let usual = population::usual_part(part, r.setting()).map(|(usual, gave_way)| {
        r.remarks.extend(gave_way);
        usual
    });
    let filled = usual.is_some();
    let own_height = part.height.is_none();
    let part = usual.as_ref().unwrap_or(part);
    let name = match part.name.as_deref().map(str::trim) {
        Some(name) if !name.is_empty() => name.to_owned(),
        _ => {
            r.problems.push(Problem::new(format!("parts[{i}].name"), "nothing", "each part to have a name"));
            format!("part {}", i + 1)
        }
    };
    let place = part.place.unwrap_or_else(|| {
        r.problems.push(Problem::new(
            format!("parts[{i}].place"),
            "nothing",
            "each part to have a place: below roll, above roll, beside roll or in core",
        ));
        Place::AboveRoll
    });
    let from = r.inputs.len();
    let named = |field| Name::item(field, Some(i), &name);
    let height = r.entry(named("parts[].height"), part.height.as_ref());
    let axial_clearance = r.entry(named("parts[].axial_clearance"), part.axial_clearance.as_ref());
    let bulk = bulk(r, materials, i, &name, part);
    if let (true, Bulk::Mass(mass, _)) = (filled, &bulk) {
        let supposed = [Some(mass.number()), own_height.then(|| height.number())];
        for i in supposed.into_iter().flatten() {
            r.inputs.get_mut(i).into_iter().for_each(|input| input.stand_in(population::USUAL_PART));
        }
    }
    if filled_in {
        for input in r.inputs.iter_mut().skip(from) {
            input.stand_in(population::HARDWARE);
        }
    }
    let label = Arc::new(Label { name, material: part.material.clone() });
    PartSlots { label, place, height, axial_clearance, bulk }
}

fn bulk(r: &mut Reader, materials: &mut Materials<'_>, i: usize, name: &str, part: &sheet::Part) -> Bulk {
    let density = part.material.as_deref().map(|m| materials.density(r, format!("parts[{i}].material"), m));
    let named = |field| Name::item(field, Some(i), name);
    match (&part.mass, &part.volume, &part.solid_fraction, density) {
        (Some(mass), Some(volume), None, _) => Bulk::Both(
            r.entry(named("parts[].mass"), Some(mass)),
            r.entry(named("parts[].volume"), Some(volume)),
        ),
        (Some(mass), None, None, Some(density)) => {
            Bulk::Mass(r.entry(named("parts[].mass"), Some(mass)), density)
        }
        (None, Some(volume), None, Some(density)) => {
            Bulk::Volume(r.entry(named("parts[].volume"), Some(volume)), density)
        }
        (None, None, Some(filling), Some(density)) => {
            Bulk::Filling(r.entry(named("parts[].solid_fraction"), Some(filling)), density)
        }
        (mass, volume, filling, density) => {
            let mut given: Vec<&str> = Vec::new();
            given.extend(mass.as_ref().map(|_| "a mass"));
            given.extend(volume.as_ref().map(|_| "a volume"));
            given.extend(filling.as_ref().map(|_| "a solid fraction"));
            given.extend(density.map(|_| "a material"));
            let found = match given.as_slice() {
                [] => "neither mass nor volume".to_owned(),
                [only] => format!("{only} alone"),
                several => several.join(" and "),
            };
            r.problems.push(Problem::new(
                format!("parts[{i}]"),
                format!("\"{name}\" with {found}"),
                "mass and volume; or a material with mass, volume or solid_fraction; or a name that says what the part is: tab, insulator, \
                 gasket, cap assembly, crimp, collector plate, weld or tape, so that a usual mass is taken",
            ));
            let density = density.unwrap_or_else(|| materials.density(r, "", "steel"));
            let nothing = Entry::Text("0 cm³".to_owned());
            Bulk::Volume(r.entry(named("parts[].volume"), Some(&nothing)), density)
        }
    }
}
