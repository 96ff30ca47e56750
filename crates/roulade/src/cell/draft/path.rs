//! How the current leaves the foils and reaches the terminals, read from a sheet.

use super::materials::Materials;
use super::materials::used::MetalSlot;
use super::transport::KineticsSlots;
use crate::cell::design::{CurrentCollection, CurrentPath, Electrochemical, Feed, Join, Plate, Ring, Tab};
use crate::cell::draft::read::{Name, Reader, Slot};
use crate::cell::population;
use crate::quantity::problem::{Problem, hint, nearest, shortened};
use crate::quantity::units::{
    ArealResistance, ElectricalResistance, Frequency, HeatTransfer, Length, MassDensity, TemperatureInterval,
};
use crate::sheet::Place;
use crate::sheet::{self, Entry, Sheet};
use crate::sheet::{FeedKind, NegativeAt, Welded};
use std::sync::Arc;

/// More tabs than that on one foil are an edge.
pub(crate) const MOST_TABS: usize = 16;

#[derive(Debug)]
pub(super) struct PathSlots {
    rate: Slot<Frequency>,
    temperature: Slot<f64>,
    heat_transfer: Slot<HeatTransfer>,
    allowed_rise: Slot<TemperatureInterval>,
    cathode: LeadSlots,
    anode: LeadSlots,
    lid: Slot<ElectricalResistance>,
    can: MetalSlot,
    negative_at: NegativeAt,
    electrochemical: ElectrochemicalSlots,
    tape: Slot<MassDensity>,
}

#[derive(Debug)]
enum ElectrochemicalSlots {
    Whole(Slot<ElectricalResistance>),
    Areal(Slot<ArealResistance>),
    Computed(KineticsSlots),
}

#[derive(Debug)]
struct LeadSlots {
    foil: MetalSlot,
    tabs: Option<Vec<TabSlots>>,
    tabs_are_a_part: bool,
    joint: Slot<ElectricalResistance>,
    plate: Option<(usize, MetalSlot)>,
    spots: Slot<f64>,
    spot_radius: Slot<Length>,
    ring: RingSlots,
    centre_weld_radius: Slot<Length>,
}

#[derive(Debug)]
enum RingSlots {
    Radius(Slot<Length>),
    Share(Slot<f64>),
}

#[derive(Debug)]
struct TabSlots {
    at: Slot<f64>,
    width: Slot<Length>,
    thickness: Slot<Length>,
    length: Slot<Length>,
    metal: MetalSlot,
    welded: Welded,
    uncoated: Slot<Length>,
    tape: Slot<Length>,
    density: Slot<MassDensity>,
}

/// What is different about the two sides.
struct Side<'a> {
    name: &'static str,
    collection: Option<&'a sheet::CurrentCollection>,
    foil: &'a str,
    usual_foil: &'static str,
    usual_tab: &'static str,
    place: Place,
    folded: bool,
}

impl PathSlots {
    pub(super) fn read<'s>(r: &mut Reader, materials: &mut Materials<'_>, sheet: &'s Sheet) -> Self {
        let empty = sheet::CurrentPath::default();
        let material = |foil: Option<&'s sheet::Foil>| foil.and_then(|foil| foil.material.as_deref());
        let path = sheet.current_path.as_ref().unwrap_or(&empty);
        if path.electrochemical.is_some() && path.areal_resistance.is_some() {
            r.one_too_many(
                "current_path.areal_resistance",
                "an areal resistance beside that of the whole cell",
                "the resistance of the whole cell alone, from which the areal one follows",
            );
        }
        let (cathode, anode) = (sheet.cathode.as_ref(), sheet.anode.as_ref());
        let cathode = Side {
            name: "cathode",
            collection: path.cathode.as_ref(),
            foil: material(cathode.and_then(|c| c.foil.as_ref())).unwrap_or("aluminium"),
            usual_foil: "aluminium",
            usual_tab: "aluminium",
            place: Place::AboveRoll,
            folded: cathode.and_then(|c| c.fold_height.as_ref()).is_some_and(Entry::is_something),
        };
        let anode = Side {
            name: "anode",
            collection: path.anode.as_ref(),
            foil: material(anode.and_then(|a| a.foil.as_ref())).unwrap_or("copper"),
            usual_foil: "copper",
            usual_tab: "nickel",
            place: Place::BelowRoll,
            folded: anode.and_then(|a| a.fold_height.as_ref()).is_some_and(Entry::is_something),
        };
        let can = sheet.can.as_ref().and_then(|can| can.material.as_deref()).unwrap_or("steel");
        Self {
            rate: r.entry("current_path.c_rate", path.c_rate.as_ref()),
            temperature: r.entry("current_path.temperature", path.temperature.as_ref()),
            heat_transfer: r.entry("current_path.heat_transfer", path.heat_transfer.as_ref()),
            allowed_rise: r.entry("current_path.allowed_rise", path.allowed_rise.as_ref()),
            cathode: cathode.read(r, materials, sheet),
            anode: anode.read(r, materials, sheet),
            lid: r.entry("current_path.cap_assembly", path.cap_assembly.as_ref()),
            can: materials.metal(r, can, "steel"),
            negative_at: path.negative_at.unwrap_or(NegativeAt::Top),
            tape: materials.density(r, "current_path.tape", "polypropylene"),
            electrochemical: match &path.electrochemical {
                Some(whole) => {
                    ElectrochemicalSlots::Whole(r.entry("current_path.electrochemical", Some(whole)))
                }
                None if path.areal_resistance.is_some() => ElectrochemicalSlots::Areal(
                    r.entry("current_path.areal_resistance", path.areal_resistance.as_ref()),
                ),
                None => ElectrochemicalSlots::Computed(KineticsSlots::read(r, sheet, path)),
            },
        }
    }

    /// The way of the current at some values, in the room of a former one where nobody else has that.
    pub(super) fn at(&self, v: &[f64], former: Option<Arc<CurrentPath>>) -> Arc<CurrentPath> {
        let Some(mut path) = former else { return Arc::new(self.new_at(v, [None, None])) };
        if let Some(room) = Arc::get_mut(&mut path) {
            let feeds = [&mut room.cathode, &mut room.anode];
            let feeds = feeds.map(|collection| Some(std::mem::replace(&mut collection.feed, Feed::Edge)));
            *room = self.new_at(v, feeds);
            return path;
        }
        Arc::new(self.new_at(v, [None, None]))
    }

    fn new_at(&self, v: &[f64], [of_cathode, of_anode]: [Option<Feed>; 2]) -> CurrentPath {
        CurrentPath {
            rate: self.rate.of(v),
            temperature: self.temperature.of(v),
            heat_transfer: self.heat_transfer.of(v),
            allowed_rise: self.allowed_rise.of(v),
            cathode: self.cathode.at(v, of_cathode),
            anode: self.anode.at(v, of_anode),
            lid: self.lid.of(v),
            can: self.can.of(v),
            negative_at: self.negative_at,
            tape_density: self.tape.of(v),
            electrochemical: match self.electrochemical {
                ElectrochemicalSlots::Whole(slot) => Electrochemical::Whole(slot.of(v)),
                ElectrochemicalSlots::Areal(slot) => Electrochemical::Areal(slot.of(v)),
                ElectrochemicalSlots::Computed(slots) => Electrochemical::Computed(slots.at(v)),
            },
        }
    }
}

impl LeadSlots {
    fn at(&self, v: &[f64], former: Option<Feed>) -> CurrentCollection {
        CurrentCollection {
            foil: self.foil.of(v),
            feed: self.feed(v, former),
            join: Join {
                joint: self.joint.of(v),
                plate: self.plate.map(|(part, metal)| Plate { part, metal: metal.of(v) }),
                spots: self.spots.of(v),
                spot_radius: self.spot_radius.of(v),
                ring: match self.ring {
                    RingSlots::Radius(slot) => Ring::Radius(slot.of(v)),
                    RingSlots::Share(slot) => Ring::Share(slot.of(v)),
                },
                centre_weld_radius: self.centre_weld_radius.of(v),
            },
            tabs_are_a_part: self.tabs_are_a_part,
        }
    }

    fn feed(&self, v: &[f64], former: Option<Feed>) -> Feed {
        let Some(slots) = &self.tabs else { return Feed::Edge };
        if let Some(Feed::Tabs(mut tabs)) = former
            && let Some(room) = Arc::get_mut(&mut tabs)
        {
            room.iter_mut().zip(slots).for_each(|(tab, slots)| *tab = slots.at(v));
            return Feed::Tabs(tabs);
        }
        Feed::Tabs(slots.iter().map(|tab| tab.at(v)).collect())
    }
}

impl TabSlots {
    fn at(&self, v: &[f64]) -> Tab {
        Tab {
            at: self.at.of(v),
            width: self.width.of(v),
            thickness: self.thickness.of(v),
            length: self.length.of(v),
            metal: self.metal.of(v),
            welded: self.welded,
            uncoated: self.uncoated.of(v),
            tape: self.tape.of(v),
            density: self.density.of(v),
        }
    }
}

impl Side<'_> {
    fn read(&self, r: &mut Reader, materials: &mut Materials<'_>, sheet: &Sheet) -> LeadSlots {
        let empty = sheet::CurrentCollection::default();
        let collection = self.collection.unwrap_or(&empty);
        let place = |key: &str| format!("current_path.{}.{key}", self.name);
        let by_tabs = match collection.feed {
            Some(feed) => feed == FeedKind::Tabs,
            None => {
                collection.tabs.is_some()
                    || !self.folded && collection.plate.is_none() && !r.setting().collected.edges
            }
        };
        if collection.feed == Some(FeedKind::Edge) && collection.tabs.is_some() {
            r.one_too_many(&place("tabs"), "tabs beside a whole edge", "the edge alone");
        }
        if by_tabs {
            // The ring's share is listed with its default whatever the feed, and may be written; it has no effect then.
            for (key, given) in
                [("plate", collection.plate.is_some()), ("ring_radius", collection.ring_radius.is_some())]
            {
                if given {
                    r.one_too_many(&place(key), "an entry for a whole edge beside tabs", "tabs alone");
                }
            }
        }
        if collection.ring_radius.is_some() && collection.ring.is_some() {
            r.one_too_many(
                &place("ring"),
                "a share beside the ring's radius",
                "the radius alone, from which the share follows",
            );
        }
        LeadSlots {
            foil: materials.metal(r, self.foil, self.usual_foil),
            tabs: by_tabs.then(|| self.tabs(r, materials, collection)),
            tabs_are_a_part: self.has_tabs_among(sheet.parts.as_deref().unwrap_or(&[])),
            joint: self.entry(r, "joint", collection.joint.as_ref()),
            plate: self.plate(r, materials, sheet, collection.plate.as_deref()).filter(|_| !by_tabs),
            spots: self.entry(r, "spots", collection.spots.as_ref()),
            spot_radius: self.entry(r, "spot_radius", collection.spot_radius.as_ref()),
            ring: match &collection.ring_radius {
                Some(radius) => RingSlots::Radius(self.entry(r, "ring_radius", Some(radius))),
                None => RingSlots::Share(self.entry(r, "ring", collection.ring.as_ref())),
            },
            centre_weld_radius: self.entry(r, "centre_weld_radius", collection.centre_weld_radius.as_ref()),
        }
    }

    /// Whether a part is this side's tab by its name: "anode tab", "negative tabs".
    fn has_tabs_among(&self, parts: &[sheet::Part]) -> bool {
        let pole = if self.name == "anode" { "negative" } else { "positive" };
        parts.iter().filter_map(|part| part.name.as_deref()).any(|name| {
            let name = name.to_ascii_lowercase();
            let tab = population::words(&name).any(|word| word == "tab" || word == "tabs");
            tab && (name.contains(self.name) || name.contains(pole))
        })
    }

    fn entry<Q>(&self, r: &mut Reader, key: &str, entry: Option<&Entry>) -> Slot<Q> {
        let path = ["current_path.", self.name, ".", key].concat();
        r.entry(Name::of(&path, self.name), entry)
    }

    fn tabs(
        &self,
        r: &mut Reader,
        materials: &mut Materials<'_>,
        collection: &sheet::CurrentCollection,
    ) -> Vec<TabSlots> {
        let stand_in = collection.tabs.is_none().then(|| population::tabs(r.setting(), self.name == "anode"));
        let listed = collection.tabs.as_deref().or(stand_in.as_deref()).unwrap_or(&[]);
        let place = format!("current_path.{}.tabs", self.name);
        if listed.is_empty() || listed.len() > MOST_TABS {
            r.problems.push(Problem::new(
                &place,
                format!("{} tabs", listed.len()),
                format!("from one to {MOST_TABS} tabs; a foil with more is connected along its edge"),
            ));
        }
        let mut tabs: Vec<TabSlots> = Vec::new();
        for (i, tab) in listed.iter().enumerate() {
            let of = if listed.len() == 1 {
                format!("{} tab", self.name)
            } else {
                format!("{} tab {}", self.name, i + 1)
            };
            let path = |key: &str| format!("{place}[{i}].{key}");
            let field = |key: &str| format!("{place}[].{key}");
            let metal = tab.material.as_deref().unwrap_or(self.usual_tab);
            if !materials.conducts(metal) {
                not_a_metal(r, &path("material"), metal);
            }
            let at: Slot<f64> = r.entry(Name::numbered(&field("at"), i, &of), tab.at.as_ref());
            if let Some(input) = r.inputs.get_mut(at.number()).filter(|_| stand_in.is_some()) {
                input.stand_in("as many tabs as a cell of this size and purpose needs to carry 1 C: common practice, no source");
            }
            if tabs.last().is_some_and(|before| r.value(before.at) > r.value(at)) {
                r.problems.push(Problem::new(
                    path("at"),
                    "a tab before the one that is listed before it",
                    "tabs to be listed from the core outwards",
                ));
            }
            let welded = tab.welded.unwrap_or(Welded::Across);
            // A tab at the edge sits on foil that is bare anyhow.
            let none = Entry::Text("0 mm".to_owned());
            let own = |entry: &Option<Entry>| match (entry, welded) {
                (None, Welded::Edge) => Some(none.clone()),
                (entry, _) => entry.clone(),
            };
            let (uncoated, tape) = (own(&tab.uncoated), own(&tab.tape));
            let (uncoated, tape) = (
                r.entry(Name::numbered(&field("uncoated"), i, &of), uncoated.as_ref()),
                r.entry(Name::numbered(&field("tape"), i, &of), tape.as_ref()),
            );
            tabs.push(TabSlots {
                at,
                width: r.entry(Name::numbered(&field("width"), i, &of), tab.width.as_ref()),
                thickness: r.entry(Name::numbered(&field("thickness"), i, &of), tab.thickness.as_ref()),
                length: r.entry(Name::numbered(&field("length"), i, &of), tab.length.as_ref()),
                metal: materials.metal(r, metal, self.usual_tab),
                welded,
                uncoated,
                tape,
                density: materials.density(r, path("material"), metal),
            });
        }
        tabs
    }

    /// The part that gathers the edge, by its name, or a metal part on that side that is called a collector.
    fn plate(
        &self,
        r: &mut Reader,
        materials: &mut Materials<'_>,
        sheet: &Sheet,
        named: Option<&str>,
    ) -> Option<(usize, MetalSlot)> {
        let stand_in = sheet.parts.is_none().then(|| population::parts(r.setting()));
        let parts = sheet.parts.as_deref().or(stand_in.as_deref()).unwrap_or(&[]);
        let name_of = part_name;
        let place = || format!("current_path.{}.plate", self.name);
        let found = match named {
            Some(name) => parts.iter().position(|part| name_of(part) == name.trim()),
            None => parts.iter().position(|part| {
                part.place == Some(self.place)
                    && part.height.is_some()
                    && name_of(part).to_ascii_lowercase().contains("collector")
                    && part.material.as_deref().is_some_and(|material| materials.conducts(material))
            }),
        };
        let Some(part) = found.and_then(|at| parts.get(at)) else {
            if let Some(name) = named {
                let names = parts.iter().map(name_of);
                let hint = hint(nearest(name, names));
                r.problems.push(Problem::new(
                    place(),
                    format!("\"{}\", a part that the sheet does not have", shortened(name)),
                    format!("the name of a part, or nothing where the edge is welded directly{hint}"),
                ));
            }
            return None;
        };
        let metal = part.material.as_deref().unwrap_or_default();
        if !materials.conducts(metal) {
            not_a_metal(r, &place(), metal);
        }
        if part.height.is_none() {
            r.problems.push(Problem::new(
                place(),
                format!("\"{}\", a part without a height", shortened(name_of(part))),
                "the plate to have a height, the thickness that carries the current",
            ));
        }
        found.map(|at| (at, materials.metal(r, metal, self.usual_foil)))
    }
}

fn part_name(part: &sheet::Part) -> &str {
    part.name.as_deref().unwrap_or_default().trim()
}

fn not_a_metal(r: &mut Reader, place: &str, name: &str) {
    let found = if name.is_empty() {
        "a part without a material".to_owned()
    } else {
        format!("\"{}\", which has no resistivity", shortened(name))
    };
    r.problems.push(Problem::new(
        place,
        found,
        "copper, aluminium, nickel, steel, or a metal whose resistivity is given in the sheet's materials",
    ));
}

/// Keys of this section that nobody knows.
pub(super) fn unknown_keys(r: &mut Reader, sheet: &Sheet) {
    let Some(path) = &sheet.current_path else { return };
    r.unknown("current_path", &path.unknown, sheet::CurrentPath::KEYS);
    for (side, collection) in [("cathode", &path.cathode), ("anode", &path.anode)] {
        let Some(collection) = collection else { continue };
        r.unknown(format_args!("current_path.{side}"), &collection.unknown, sheet::CurrentCollection::KEYS);
        for (i, tab) in collection.tabs.iter().flatten().enumerate() {
            r.unknown(format_args!("current_path.{side}.tabs[{i}]"), &tab.unknown, sheet::Tab::KEYS);
        }
    }
}
