//! How the electrodes are wound, how wide they are coated, and where along them.

use crate::cell::design::{BareEnds, Fill, Fit, Winding};
use crate::cell::draft::materials::Materials;
use crate::cell::draft::read::{Reader, Slot};
use crate::cell::population;
use crate::quantity::problem::Problem;
use crate::quantity::units::{Length, MassDensity};
use crate::sheet;
use crate::sheet::{Entry, Sheet};
use roulade_stats::uncertain::Uncertain;

/// Bare start and end, one-sided start and end.
#[derive(Debug)]
pub(super) struct EndSlots(pub(super) [Slot<Length>; 4]);

impl EndSlots {
    pub(super) fn read(r: &mut Reader, side: &str, given: [Option<&Entry>; 4]) -> Self {
        let keys = ["uncoated_start", "uncoated_end", "one_sided_start", "one_sided_end"];
        let mut given = given.into_iter();
        Self(keys.map(|key| r.entry([side, ".", key].concat().as_str(), given.next().flatten())))
    }

    pub(super) fn of(&self, v: &[f64]) -> BareEnds {
        let [start, end, one_sided_start, one_sided_end] = self.0.map(|slot| slot.of(v));
        BareEnds { start, end, one_sided_start, one_sided_end }
    }
}

#[derive(Debug)]
pub(super) enum FitSlots {
    Width(Slot<Length>),
    VoidHeight(Slot<Length>),
}

impl FitSlots {
    pub(super) fn at(&self, v: &[f64]) -> Fit {
        match self {
            Self::Width(width) => Fit::Width(width.of(v)),
            Self::VoidHeight(space) => Fit::VoidHeight(space.of(v)),
        }
    }
}

#[derive(Debug)]
pub(super) struct WindingSlots {
    pub(super) core_diameter: Slot<Length>,
    pub(super) fill: FillSlots,
    pub(super) slack: Slot<Length>,
    pub(super) core_turns: Slot<f64>,
    pub(super) anode_overhang_start: Slot<f64>,
    pub(super) anode_overhang_end: Slot<f64>,
    pub(super) outer_turns: Slot<f64>,
    pub(super) tape_thickness: Slot<Length>,
    pub(super) tape_turns: Slot<f64>,
    pub(super) tape_density: Slot<MassDensity>,
}

impl WindingSlots {
    pub(super) fn at(&self, v: &[f64]) -> Winding {
        Winding {
            core_diameter: self.core_diameter.of(v),
            fill: match self.fill {
                FillSlots::Gap(gap) => Fill::Gap(gap.of(v)),
                FillSlots::Lengths(cathode, anode) => {
                    Fill::Lengths { cathode: cathode.of(v), anode: anode.map(|slot| slot.of(v)) }
                }
            },
            slack: self.slack.of(v),
            core_turns: self.core_turns.of(v),
            anode_overhang_start: self.anode_overhang_start.of(v),
            anode_overhang_end: self.anode_overhang_end.of(v),
            outer_turns: self.outer_turns.of(v),
            tape_thickness: self.tape_thickness.of(v),
            tape_turns: self.tape_turns.of(v),
            tape_density: self.tape_density.of(v),
        }
    }
}

#[derive(Debug)]
pub(super) enum FillSlots {
    Gap(Slot<Length>),
    Lengths(Slot<Length>, Option<Slot<Length>>),
}

/// The input of the clearance, where the sheet leaves it out.
pub(super) fn clearance_of(r: &Reader, sheet: &Sheet, winding: &WindingSlots) -> Option<usize> {
    let said = sheet.winding.as_ref().is_some_and(|winding| winding.radial_clearance.is_some());
    match winding.fill {
        FillSlots::Gap(slot) if !said && r.problems.0.is_empty() => Some(slot.number()),
        _ => None,
    }
}

pub(super) fn fit(r: &mut Reader, sheet: &Sheet) -> FitSlots {
    let width = sheet.cathode.as_ref().and_then(|cathode| cathode.width.as_ref());
    match (width, &sheet.void_height) {
        (Some(width), None) => FitSlots::Width(r.entry("cathode.width", Some(width))),
        (None, space) => FitSlots::VoidHeight(r.entry("void_height", space.as_ref())),
        (Some(width), Some(_)) => {
            r.one_too_many(
                "void_height",
                "a void height beside a coated width",
                "one of the two, from which the other follows",
            );
            FitSlots::Width(r.entry("cathode.width", Some(width)))
        }
    }
}

pub(super) fn winding(r: &mut Reader, materials: &mut Materials, sheet: &Sheet) -> WindingSlots {
    let empty = sheet::Winding::default();
    let w = sheet.winding.as_ref().unwrap_or(&empty);
    let fill = match &w.cathode_length {
        None => FillSlots::Gap(match &w.radial_clearance {
            Some(gap) => r.entry("winding.radial_clearance", Some(gap)),
            // What it is follows from all else, once that is read.
            None => r.of_population(
                &"winding.radial_clearance".into(),
                (Uncertain::standard(2e-4, 5e-5), 0.0),
                population::CLEARANCE,
            ),
        }),
        Some(length) => FillSlots::Lengths(
            r.entry("winding.cathode_length", Some(length)),
            r.optional("winding.anode_length", w.anode_length.as_ref()),
        ),
    };
    if w.cathode_length.is_some() && w.radial_clearance.is_some() {
        r.one_too_many(
            "winding.radial_clearance",
            "a radial clearance beside a length",
            "the lengths alone, from which the clearance follows",
        );
    }
    if w.cathode_length.is_none() && w.anode_length.is_some() {
        r.problems.push(Problem::new(
            "winding.anode_length",
            "the anode's length without the cathode's",
            "the cathode's length beside it, or only the radial clearance",
        ));
    }
    if w.anode_length.is_some() && w.anode_overhang_end.is_some() {
        r.one_too_many(
            "winding.anode_overhang_end",
            "an anode overhang at the end beside the anode's length",
            "the lengths alone, from which the overhang follows",
        );
    }
    WindingSlots {
        core_diameter: r.entry("winding.core_diameter", w.core_diameter.as_ref()),
        fill,
        slack: r.entry("winding.slack", w.slack.as_ref()),
        core_turns: r.entry("winding.core_turns", w.core_turns.as_ref()),
        anode_overhang_start: r.entry("winding.anode_overhang_start", w.anode_overhang_start.as_ref()),
        anode_overhang_end: r.entry("winding.anode_overhang_end", w.anode_overhang_end.as_ref()),
        outer_turns: r.entry("winding.outer_turns", w.outer_turns.as_ref()),
        tape_thickness: r.entry("winding.tape_thickness", w.tape_thickness.as_ref()),
        tape_turns: r.entry("winding.tape_turns", w.tape_turns.as_ref()),
        tape_density: materials.density(r, "winding.tape_thickness", "polypropylene"),
    }
}
