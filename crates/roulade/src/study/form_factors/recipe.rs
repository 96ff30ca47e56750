//! A cell without the size of its can, and what it holds in another.

use crate::cell::design::Blueprint;
use crate::cell::design::Design;
use crate::cell::design::Electrolyte;
use crate::cell::design::Feed;
use crate::cell::design::Fill;
use crate::cell::design::Fit;
use crate::cell::design::Part;
use crate::cell::design::Ring;
use crate::cell::design::Tab;
use crate::cell::draft::Draft;
use crate::cell::figures::Worked;
use crate::cell::population::{self, Growth};
use crate::quantity::notation;
use crate::quantity::problem::Problems;
use crate::quantity::units::{Length, Ratio, Unit};
use crate::sheet::Place;
use roulade_stats::uncertain::Origin;
use std::sync::Arc;

/// What becomes of wall, bottom, core, radial clearance, and the heights of parts below and above the roll.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hardware {
    /// They grow with the diameter as they do from cell to cell: each by the ratio of what is usual at both sizes.
    #[default]
    Grows,
    /// They stay, which flatters a larger can.
    Stays,
}

/// What becomes of the wall.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Wall {
    /// As the rest of the hardware.
    #[default]
    AsHardware,
    /// Its thickness goes with the diameter of the can, as the stress in a pressed can would have it.
    WithTheDiameter,
}

/// What becomes of the masses and volumes of parts, beside what their heights do.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Parts {
    /// A part above or below the roll covers the inside of the can and goes with its area; one beside the roll goes with its
    /// circumference and the height; one in the core with the height.
    #[default]
    WithTheDiameter,
    /// They stay.
    AsTheyAre,
}

/// What a recipe holds otherwise than its sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Hold {
    /// What becomes of the hardware but for what is held otherwise here.
    pub hardware: Hardware,
    /// What becomes of the wall.
    pub wall: Wall,
    /// Another thickness of the wall, in the sheet's own can where it goes with the diameter.
    pub wall_thickness: Option<Length>,
    /// Another bottom.
    pub bottom: Option<Length>,
    /// Another core.
    pub core_diameter: Option<Length>,
    /// Another radial clearance.
    pub radial_clearance: Option<Length>,
    /// Another void height.
    pub void_height: Option<Length>,
    /// What becomes of parts.
    pub parts: Parts,
}

/// One thing that is held.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct HeldItem {
    /// The key of a question's `hold` that would hold it otherwise; none for what cannot be.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub key: Option<&'static str>,
    /// What it is.
    pub what: &'static str,
    /// Its value, or what it goes with.
    pub text: String,
    /// Whether the question asked for it; otherwise it is that of the sheet.
    pub asked: bool,
}

/// Inputs that a recipe replaces, and by what.
const REPLACED: [(&str, &str); 6] = [
    ("cathode.width", "the void height that it leaves is held"),
    ("winding.cathode_length", "the radial clearance that it leaves is held"),
    ("winding.anode_length", "the turns of anode after the cathode are held"),
    ("can.mass", "the mass of the can goes with its shell"),
    ("electrolyte.mass", "the electrolyte goes with the pores"),
    ("cell_mass", "a weighed cell stays at its own size"),
];

/// A cell without the size of its can.
#[derive(Debug)]
pub struct Recipe<'a> {
    draft: &'a Draft,
    hold: Hold,
    pub(super) values: Vec<f64>,
    own: Design,
    /// Free electrolyte over that in the pores, where the sheet gives all of it.
    excess: Option<Ratio>,
    /// Parts known by the share of their room that they fill: these have gone with the inner diameter already.
    filled: Vec<bool>,
    /// Whether as many tabs as a cell of its size needs stand in, on cathode and anode.
    tabs_stand_in: [bool; 2],
}

impl<'a> Recipe<'a> {
    /// The recipe of a draft at some values of its inputs.
    ///
    /// # Errors
    /// Where the cell does not hold together in its own can.
    pub fn of(draft: &'a Draft, values: &[f64], hold: Hold) -> Result<Self, Problems> {
        let own = draft.design_at(values)?;
        let mut values = values.to_vec();
        for (key, asked) in [
            ("can.wall", hold.wall_thickness),
            ("can.bottom", hold.bottom),
            ("winding.core_diameter", hold.core_diameter),
            ("winding.radial_clearance", hold.radial_clearance),
            ("void_height", hold.void_height),
        ] {
            let at = draft.inputs().iter().position(|input| input.key == key);
            if let (Some(slot), Some(asked)) = (at.and_then(|i| values.get_mut(i)), asked) {
                *slot = asked.value;
            }
        }
        let excess = match own.blueprint().electrolyte {
            Electrolyte::Excess { .. } | Electrolyte::PerCapacity { .. } => None,
            Electrolyte::Filled { density, mass } => {
                Some(mass / density / own.room().pores - Ratio::from(1.0))
            }
        };
        let tabs_stand_in =
            ["current_path.cathode.tabs[0].at", "current_path.anode.tabs[0].at"].map(|path| {
                draft.inputs().iter().any(|input| input.path == path && input.origin == Origin::Default)
            });
        Ok(Self { draft, hold, values, own, excess, filled: draft.filled_parts(), tabs_stand_in })
    }

    /// The values of the draft's inputs, with what is held otherwise.
    pub fn values(&self) -> &[f64] {
        &self.values
    }

    /// The cell in its own can.
    pub fn own(&self) -> &Design {
        &self.own
    }

    /// Why an input cannot be moved: the recipe replaces it.
    pub fn replaces(key: &str) -> Option<&'static str> {
        REPLACED.iter().find(|(replaced, _)| *replaced == key).map(|(_, by)| *by)
    }

    /// The recipe in the can that `values` say, in the order of the draft's inputs.
    ///
    /// # Errors
    /// Where that cell does not hold together.
    pub fn at(&self, values: &[f64]) -> Result<Worked, Problems> {
        Worked::of(Design::new(self.blueprint(values))?)
    }

    /// The recipe in a can of another size.
    ///
    /// # Errors
    /// Where that cell does not hold together.
    pub fn sized(&self, diameter: Length, height: Length) -> Result<Worked, Problems> {
        let mut values = self.values.clone();
        for (key, size) in [("can.diameter", diameter), ("can.height", height)] {
            let at = self.draft.inputs().iter().position(|input| input.key == key);
            if let Some(slot) = at.and_then(|i| values.get_mut(i)) {
                *slot = size.value;
            }
        }
        self.at(&values)
    }

    fn blueprint(&self, values: &[f64]) -> Blueprint {
        let own = self.own.blueprint();
        let mut b = self.draft.blueprint_at(values);
        // The bore by whose area parts that fill a share of their room were read.
        let read_in = b.can.bore();
        if self.hold.wall == Wall::WithTheDiameter {
            b.can.wall *= (b.can.diameter / own.can.diameter).value;
        }
        if let Fit::Width(_) = b.fit {
            b.fit = Fit::VoidHeight(self.hold.void_height.unwrap_or(self.own.stack().void_height));
        }
        if let Fill::Lengths { .. } = b.winding.fill {
            b.winding.fill = Fill::Gap(self.hold.radial_clearance.unwrap_or(self.own.radial_clearance()));
            b.winding.anode_overhang_end = self.own.roll().anode_overhang_end();
        }
        let heights = self.grow(&mut b);
        if let (Some(share), Electrolyte::Filled { density, .. }) = (self.excess, b.electrolyte) {
            // Less than the pores hold counts as a negative excess: the mass is right.
            b.electrolyte = Electrolyte::Excess { density, share };
        }
        b.can.weighed = b.can.weighed.map(|mass| mass * (b.can.shell() / own.can.shell()).value);
        b.weighed = None;
        b.parts = self.parts(&b, read_in, heights).collect();
        let bore = (b.can.bore() / own.can.bore()).value;
        let path = Arc::make_mut(&mut b.path);
        if b.can.diameter != own.can.diameter && self.hold.hardware == Hardware::Grows {
            let at = self.draft.inputs().iter().position(|input| input.path == "purpose");
            let purpose = at.and_then(|i| values.get(i)).copied().unwrap_or(0.0);
            let [of_cathode, of_anode] = self.tabs_stand_in;
            for (stand_in, anode, collection) in
                [(of_cathode, false, &mut path.cathode), (of_anode, true, &mut path.anode)]
            {
                if stand_in {
                    collection.feed = tabs_for(&collection.feed, 1e3 * b.can.diameter.value, purpose, anode);
                }
            }
        }
        for join in [&mut path.cathode.join, &mut path.anode.join] {
            if let Ring::Radius(radius) = &mut join.ring {
                *radius *= bore;
            }
        }
        b
    }

    /// Lets hardware grow but for what was moved or asked for, and returns the factor for heights of parts.
    fn grow(&self, b: &mut Blueprint) -> f64 {
        let own = self.own.blueprint();
        if self.hold.hardware == Hardware::Stays || b.can.diameter == own.can.diameter {
            return 1.0;
        }
        let growth = Growth::between(1e3 * own.can.diameter.value, 1e3 * b.can.diameter.value);
        let hold = &self.hold;
        if b.can.wall == own.can.wall && hold.wall == Wall::AsHardware && hold.wall_thickness.is_none() {
            b.can.wall *= growth.wall;
        }
        if b.can.bottom == own.can.bottom && hold.bottom.is_none() {
            b.can.bottom *= growth.bottom;
        }
        if b.winding.core_diameter == own.winding.core_diameter && hold.core_diameter.is_none() {
            b.winding.core_diameter *= growth.core;
        }
        let own_gap = match own.winding.fill {
            Fill::Gap(gap) => gap,
            Fill::Lengths { .. } => self.own.radial_clearance(),
        };
        if let (Fill::Gap(gap), None) = (b.winding.fill, hold.radial_clearance)
            && gap == own_gap
        {
            // The bore, and so the wall, stands by now.
            let grown = population::clearance(b).value / population::clearance(own).value;
            if grown.is_finite() && grown > 0.0 {
                b.winding.fill = Fill::Gap(gap * grown);
            }
        }
        growth.heights
    }

    /// The parts as they are in the own can, but for inputs that were moved, then brought to the size of this one.
    fn parts(&self, b: &Blueprint, read_in: Length, heights: f64) -> impl Iterator<Item = Part> {
        let (own, parts) = (self.own.blueprint().can, b.parts.clone());
        let own_parts = Arc::clone(&self.own.blueprint().parts);
        let bore = (b.can.bore() / own.bore()).value;
        let filled_by = (read_in / own.bore()).value;
        let height = (b.can.height / own.height).value;
        let grown = self.hold.parts == Parts::WithTheDiameter;
        (0..parts.len()).filter_map(move |i| {
            let mut part = parts.get(i)?.clone();
            let axial = matches!(part.place, Place::BelowRoll | Place::AboveRoll);
            let moved = own_parts.get(i).is_none_or(|own| own.height != part.height);
            let taller = if axial && !moved { heights } else { 1.0 };
            part.height *= taller;
            let wanted = match part.place {
                _ if !grown => 1.0,
                Place::BelowRoll | Place::AboveRoll => bore * bore * taller,
                Place::BesideRoll => bore * height,
                Place::InCore => height,
            };
            let has = if self.filled.get(i).copied().unwrap_or(false) { filled_by * filled_by } else { 1.0 };
            part.mass *= wanted / has;
            part.volume *= wanted / has;
            Some(part)
        })
    }

    /// Whether the number of tabs goes with the diameter, as it does where they stand in for unlisted ones.
    pub(super) fn tabs_follow(&self) -> bool {
        self.tabs_stand_in.contains(&true) && self.hold.hardware == Hardware::Grows
    }

    /// What is held, in the order of the sheet.
    pub fn held(&self) -> Vec<HeldItem> {
        let (own, hold) = (self.own.blueprint(), &self.hold);
        let b = self.blueprint(&self.values);
        let plain = |what, text: String| HeldItem { key: None, what, text, asked: false };
        let length = |key, what, value: Length, asked: Option<Length>| {
            let text = notation::print(value.value, 0.0, Unit::Millimetre);
            HeldItem { key, what, text, asked: asked.is_some() }
        };
        let mut held = Vec::new();
        held.push(match hold.hardware {
            Hardware::Grows => HeldItem {
                key: Some("hardware"),
                what: "wall, bottom, core, radial clearance, heights of parts",
                text: "grow with the diameter as from cell to cell, but for what is held otherwise here"
                    .to_owned(),
                asked: false,
            },
            Hardware::Stays => HeldItem {
                key: Some("hardware"),
                what: "wall, bottom, core, radial clearance, heights of parts",
                text: "stay, which flatters a larger can".to_owned(),
                asked: true,
            },
        });
        held.push(match hold.wall {
            Wall::AsHardware => length(Some("wall"), "wall", b.can.wall, hold.wall_thickness),
            Wall::WithTheDiameter => HeldItem {
                key: Some("wall"),
                what: "wall",
                text: format!(
                    "goes with the diameter: {} at {}",
                    notation::print(b.can.wall.value, 0.0, Unit::Millimetre),
                    notation::print(own.can.diameter.value, 0.0, Unit::Millimetre)
                ),
                asked: true,
            },
        });
        held.push(length(Some("bottom"), "bottom", b.can.bottom, hold.bottom));
        held.push(length(
            Some("core_diameter"),
            "core diameter",
            b.winding.core_diameter,
            hold.core_diameter,
        ));
        if let Fill::Gap(gap) = b.winding.fill {
            held.push(length(Some("radial_clearance"), "radial clearance, mean", gap, hold.radial_clearance));
        }
        if let Fit::VoidHeight(space) = b.fit {
            held.push(length(Some("void_height"), "void height", space, hold.void_height));
        }
        held.push(length(
            None,
            "height of all hardware and folds",
            self.own.stack().hardware(&b),
            hold.bottom,
        ));
        let (text, asked) = match hold.parts {
            Parts::WithTheDiameter => (
                "go with the area inside the can, rings of weld spots with its inner diameter; beside the jelly roll with its \
                 circumference and the height, in the core with the height",
                false,
            ),
            Parts::AsTheyAre => ("stay as they are", true),
        };
        held.push(HeldItem { key: Some("parts"), what: "masses of parts", text: text.to_owned(), asked });
        held.push(plain("rings of weld spots", "go with the inner diameter".to_owned()));
        if own.can.weighed.is_some() {
            held.push(plain("mass of the can", "goes with the volume of its shell".to_owned()));
        }
        let tabs = if self.tabs_follow() {
            "as many as the diameter asks for, since the sheet lists none"
        } else {
            "as in the sheet"
        };
        held.push(plain("tabs", tabs.to_owned()));
        let edges = matches!(own.path.cathode.feed, Feed::Edge);
        held.push(plain(
            "current collection",
            format!(
                "{} at every size; from about {:.0} mm on edges are likelier, below it tabs: the other is another sheet",
                if edges { "along the edges" } else { "by tabs" },
                population::EDGES_FROM
            ),
        ));
        held.push(plain("electrolyte", "goes with the pores".to_owned()));
        held.push(plain("coatings, foils, separator, idle turns", "as in the sheet".to_owned()));
        held
    }
}

/// As many tabs as a can of this diameter, mm, needs, each like the first.
fn tabs_for(feed: &Feed, diameter: f64, purpose: f64, anode: bool) -> Feed {
    match feed {
        Feed::Tabs(tabs) if let Some(first) = tabs.first() => {
            let places = population::tab_places(diameter, purpose, anode);
            Feed::Tabs(places.into_iter().map(|at| Tab { at, ..*first }).collect())
        }
        other => other.clone(),
    }
}
