//! A sheet with every number read and every gap filled in, ready to become a [`Design`](super::design::Design) at any set of values.
//!
//! Reading text happens once; a `Draft` can then be built at shifted values as often as an uncertainty needs.

mod alone;
mod as_built;
mod at_values;
mod can;
mod chemical;
mod coating;
mod correlated;
mod decided;
mod electrolyte;
mod filled_in;
mod fits;
mod hardware;
mod implausible;
mod input;
mod lent;
mod lithium;
mod makeup;
mod materials;
mod opened;
mod parse;
mod path;
mod read;
mod separator;
mod setting;
mod settled;
mod stacked;
mod transport;
mod unknown;
mod voltage;
mod wound;

use self::read::{Reader, Slot};
use super::design::Bounds;
use crate::cell::state::State;
use crate::material::{CurveCache, Ion};
use crate::quantity::problem::{Problem, Problems};
use crate::quantity::units::{Length, Mass};
use crate::sheet::Sheet;
use can::{CanSlots, SleeveSlots, can, sleeve};
use coating::Coating;
use electrolyte::{ElectrolyteSlots, electrolyte};
use hardware::Hardware;
use lithium::PrelithiationSlots;
use makeup::{Makeup, Makeups};
use materials::Materials;
use opened::OpenedSlots;
use path::PathSlots;
use roulade_stats::uncertain::{Correlation, Origin, Uncertain};
use separator::{SeparatorSlots, separator};
use setting::setting;
use std::sync::Arc;
use unknown::unknown_keys;
use voltage::{WindowSlots, window};
use wound::{EndSlots, FitSlots, WindingSlots, clearance_of, fit, winding};

pub(crate) use self::fits::Fits;
pub use self::implausible::{
    Implausible, far_from, in_short, plausibility_of, plausible_range, reaches_past,
};
pub use self::read::Input;
pub(crate) use self::setting::{list_parts, stand_in, stand_in_tabs};
pub use makeup::Composition;

/// A sheet with every number read and every gap filled in.
#[derive(Debug)]
pub struct Draft {
    name: Arc<str>,
    made_from: Option<String>,
    inputs: Vec<Input>,
    correlation: Correlation,
    /// Figures that were read, and the uncertainty of that, in the figure's unit.
    held: Vec<(String, f64)>,
    remarks: Vec<String>,
    can: CanSlots,
    sleeve: Option<SleeveSlots>,
    hardware: Hardware,
    fit: FitSlots,
    winding: WindingSlots,
    cathode: Coating,
    anode: Coating,
    /// Bare ends of cathode and anode.
    ends: [EndSlots; 2],
    /// Tortuosity of cathode and anode, where it was read.
    tortuosity: [Option<Slot<f64>>; 2],
    overhang: Slot<Length>,
    prelithiation: Option<PrelithiationSlots>,
    separator: SeparatorSlots,
    electrolyte: ElectrolyteSlots,
    opened: Option<OpenedSlots>,
    window: WindowSlots,
    path: PathSlots,
    weighed: Option<Slot<Mass>>,
    discrepancy: Slot<f64>,
    makeups: Makeups,
    /// Salt and solvent of the electrolyte.
    dissolved: Option<[Makeup; 2]>,
    ion: Ion,
    compositions: Vec<Arc<Composition>>,
    /// Inputs that were read in another state than as built, and changed to that.
    restored: Vec<usize>,
    /// Whether the number of each input decided more than itself.
    decided: Vec<bool>,
    /// The input that follows from all others.
    follows: Option<usize>,
}

impl Draft {
    /// Reads a sheet. Every problem that can be seen without building the cell is reported, not the first alone.
    ///
    /// # Errors
    /// All of them, each with its place in the sheet.
    pub fn read(sheet: &Sheet) -> Result<Self, Problems> {
        Self::read_with(sheet, &CurveCache::default())
    }

    /// The same, with curves of the table from a cache: for many sheets.
    ///
    /// # Errors
    /// All of them, each with its place in the sheet.
    pub fn read_with(sheet: &Sheet, curve_cache: &CurveCache) -> Result<Self, Problems> {
        let (draft, problems) = Self::gathered(sheet, curve_cache);
        problems.or_else_ok(draft)
    }

    /// The same with everything that is wrong; a draft with any of that is good for its inputs only.
    #[allow(clippy::too_many_lines, reason = "one line for each section of the sheet")]
    fn gathered(sheet: &Sheet, curve_cache: &CurveCache) -> (Self, Problems) {
        let mut r = Reader::new(setting(sheet));
        unknown_keys(&mut r, sheet);
        match sheet.roulade_sheet {
            None | Some(1) => {}
            Some(other) => r.problems.push(Problem::new(
                "roulade_sheet",
                format!("version {other}"),
                "version 1, which this program reads",
            )),
        }
        r.purpose(sheet.purpose.as_ref());
        let discrepancy =
            r.entry("model.capacity", sheet.model.as_ref().and_then(|model| model.capacity.as_ref()));
        let mut materials = Materials::new(&mut r, sheet, curve_cache);
        let can = can(&mut r, &mut materials, sheet);
        let sleeve = sleeve(&mut r, &mut materials, sheet);
        let hardware = Hardware::read(&mut r, &mut materials, sheet);
        let fit = fit(&mut r, sheet);
        let winding = winding(&mut r, &mut materials, sheet);
        let cathode = Coating::cathode(&mut r, &mut materials, sheet);
        let anode = Coating::anode(&mut r, &mut materials, sheet);
        let ends = [
            EndSlots::read(
                &mut r,
                "cathode",
                sheet.cathode.as_ref().map_or([None; 4], |c| {
                    [&c.uncoated_start, &c.uncoated_end, &c.one_sided_start, &c.one_sided_end]
                        .map(Option::as_ref)
                }),
            ),
            EndSlots::read(
                &mut r,
                "anode",
                sheet.anode.as_ref().map_or([None; 4], |a| {
                    [&a.uncoated_start, &a.uncoated_end, &a.one_sided_start, &a.one_sided_end]
                        .map(Option::as_ref)
                }),
            ),
        ];
        let tortuosity = [
            r.optional("cathode.tortuosity", sheet.cathode.as_ref().and_then(|c| c.tortuosity.as_ref())),
            r.optional("anode.tortuosity", sheet.anode.as_ref().and_then(|a| a.tortuosity.as_ref())),
        ];
        let overhang = r.entry("anode.overhang", sheet.anode.as_ref().and_then(|a| a.overhang.as_ref()));
        let prelithiation = PrelithiationSlots::read(&mut r, sheet);
        let separator = separator(&mut r, &mut materials, sheet);
        let electrolyte = electrolyte(&mut r, &mut materials, sheet);
        let window = window(&mut r, sheet);
        let path = PathSlots::read(&mut r, &mut materials, sheet);
        let weighed = r.optional("cell_mass", sheet.cell_mass.as_ref());
        // A curve that was refused is missed already.
        let refused = r.problems.0.iter().any(|problem| {
            problem.place.contains("].curve")
                || problem.place.contains("].window")
                || problem.place.contains("].metals")
        });
        if window.nominal.is_none() && !refused {
            for coating in [&cathode, &anode] {
                coating.needs_curves(&mut r);
            }
        }
        let opened = OpenedSlots::read(&mut r, sheet);
        let ion = lithium::one_ion(&mut r, &cathode, &anode);
        let state = state(sheet, &mut r.problems);
        let said = correlated::read(&mut r, sheet);
        let stacked = match fit {
            FitSlots::Width(width) => {
                let heights = stacked::Heights {
                    can: can.height,
                    bottom: can.bottom,
                    width,
                    folds: [cathode.fold_height(), anode.fold_height()],
                    overhang,
                    margin: separator.margin,
                };
                stacked::conditioned(&mut r, &hardware, &heights, &said)
            }
            FitSlots::VoidHeight(_) => Correlation::none(),
        };
        let correlation = r.together(&said).joined(&said).joined(&stacked);
        let held = correlated::held(&mut r, sheet);
        let Materials { mut remarks, makeups, compositions, .. } = materials;
        remarks.extend(lithium::above_all(&r, [&cathode, &anode], prelithiation.is_some(), ion));
        remarks.extend(cathode.remarks.iter().chain(&anode.remarks).chain(&hardware.remarks).cloned());
        let name: Arc<str> = sheet.cell.as_deref().unwrap_or(Self::UNNAMED).into();
        let chosen = clearance_of(&r, sheet, &winding);
        if !state.as_built() {
            r.all_decide();
        }
        let decided = r.decided();
        let Reader { mut inputs, problems, remarks: former, .. } = r;
        for input in &mut inputs {
            lithium::relabel(input, ion);
        }
        remarks.extend(former);
        let draft = Self {
            name,
            made_from: sheet.made_from.clone(),
            inputs,
            correlation,
            held,
            remarks,
            can,
            sleeve,
            hardware,
            fit,
            winding,
            cathode,
            anode,
            ends,
            tortuosity,
            overhang,
            prelithiation,
            separator,
            electrolyte,
            opened,
            window,
            path,
            weighed,
            discrepancy,
            makeups,
            dissolved: lithium::dissolved(ion),
            ion,
            compositions,
            restored: Vec::new(),
            decided,
            follows: chosen,
        };
        (draft.with_clearance().restored(&state), problems)
    }

    /// With the clearance that the charged roll of this cell asks for, where the sheet says none.
    fn with_clearance(mut self) -> Self {
        if let Some((slot, uncertain)) = self.follows_at(&self.values())
            && let Some(input) = self.inputs.get_mut(slot)
        {
            input.uncertain = uncertain;
        }
        self
    }

    /// What stands for the name of a cell that has none.
    pub const UNNAMED: &'static str = "a cell";

    /// Name of the cell.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Name of the cell whose sheet this one was made from.
    pub fn made_from(&self) -> Option<&str> {
        self.made_from.as_deref()
    }

    /// Whether another sheet says of the same cell the same in the same words.
    pub fn same(&self, other: &Self) -> bool {
        let said = |draft: &Self| {
            let each = draft.inputs.iter().map(|input| {
                (input.key.clone(), input.text().into_owned(), input.origin, input.remark.clone())
            });
            each.collect::<Vec<_>>()
        };
        self.name == other.name
            && self.made_from == other.made_from
            && self.correlation == other.correlation
            && self.held == other.held
            && self.compositions.len() == other.compositions.len()
            && said(self) == said(other)
    }

    /// Every number of the sheet, written or filled in.
    pub fn inputs(&self) -> &[Input] {
        &self.inputs
    }

    /// The same sheet with some inputs known otherwise: those for which `other` gives a number.
    pub fn known_as(mut self, other: impl Fn(&Input) -> Option<Uncertain>) -> Self {
        for input in &mut self.inputs {
            if let Some(uncertain) = other(input) {
                input.uncertain = uncertain;
            }
        }
        self
    }

    /// What the inputs may be where a draw can move them beyond it.
    pub fn bounds(&self) -> Bounds {
        Bounds::of(self.inputs.iter().map(|input| (&*input.path, input.uncertain, input.of_population())))
    }

    /// Which inputs move together, each by its place among [`Self::inputs`].
    pub fn correlation(&self) -> &Correlation {
        &self.correlation
    }

    /// Figures that were read and made inputs move together: the id of each, and the standard uncertainty of what was read, in the
    /// figure's unit.
    pub fn held(&self) -> &[(String, f64)] {
        &self.held
    }

    /// What the reader should know of how gaps were filled, in plain words.
    pub fn remarks(&self) -> &[String] {
        &self.remarks
    }

    /// The best value of every input, in their order, SI base units.
    pub fn values(&self) -> Vec<f64> {
        self.inputs.iter().map(|input| input.uncertain.value).collect()
    }

    /// What the mix of "cathode" or "anode" is stated without, of what an ordinary one has.
    pub(crate) fn mixed_without(&self, side: &str) -> Option<&'static str> {
        [&self.cathode, &self.anode].into_iter().find(|coating| coating.side() == side)?.without()
    }

    /// How many inputs were supposed, by the user or by this crate.
    pub fn assumed(&self) -> usize {
        self.inputs.iter().filter(|i| matches!(i.origin, Origin::Assumed | Origin::Default)).count()
    }

    /// Takes what other drafts have too from them, and drops what is only read by people: a draft that many values are
    /// put into, with thousands of others beside it.
    pub(crate) fn for_many(mut self, like: &[&Self]) -> Self {
        for other in like {
            self.cathode.share(&other.cathode);
            self.anode.share(&other.anode);
        }
        self.inputs = Vec::new();
        self.remarks = Vec::new();
        self
    }

    /// Whether an input follows from others whatever its value: the share that takes what those beside it leave.
    pub(crate) fn gives_way(&self, input: usize) -> bool {
        [&self.cathode, &self.anode].into_iter().any(|coating| coating.gives_way() == Some(input))
    }

    /// For each part, whether its mass follows from the share of its room that it fills.
    pub(crate) fn filled_parts(&self) -> Vec<bool> {
        self.hardware.filled()
    }
}

/// The state that a sheet's readings were taken in.
fn state(sheet: &Sheet, problems: &mut Problems) -> State {
    let Some(text) = &sheet.readings_state else { return State::default() };
    State::read(text).unwrap_or_else(|problem| {
        problems.push(Problem { place: "readings_state".to_owned(), ..problem });
        State::default()
    })
}

#[cfg(test)]
mod tests;
