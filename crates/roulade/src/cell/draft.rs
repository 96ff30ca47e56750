//! A sheet with every number read and every gap filled in, ready to become a [`Design`] at any set of values.
//!
//! Reading text happens once; a `Draft` can then be built at shifted values as often as an uncertainty needs.

mod as_built;
mod coating;
mod correlated;
mod filled_in;
mod hardware;
mod implausible;
mod lent;
mod lithium;
mod makeup;
mod materials;
mod parse;
mod path;
mod read;
mod stacked;

use self::read::{Reader, Slot};
use super::design::Bounds;
use super::design::Design;
use super::design::{
    BareEnds, Blueprint, Can, Electrolyte, Fill, Fit, Separator, Sleeve, VoltageWindow, Winding,
};
use crate::cell::population::{self, Chemistry, Collected, Purpose, Setting, Size};
use crate::cell::state::State;
use crate::material::{self, CurveCache, Fractions, Ion};
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems};
use crate::quantity::units::{Dimension, ElectricPotential, Length, Mass, MassDensity, MassPerCharge, Ratio};
use crate::sheet::{self, Entry, Sheet};
use coating::Coating;
use hardware::Hardware;
use lithium::PrelithiationSlots;
use makeup::{Makeup, Makeups};
use materials::Materials;
use path::PathSlots;
use roulade_stats::uncertain::{Correlation, Origin, Uncertain};
use std::sync::Arc;
use uom::si::length::millimeter;

pub use self::implausible::{Implausible, far_from};
pub use self::read::Input;
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
}

#[derive(Debug)]
struct CanSlots {
    diameter: Slot<Length>,
    height: Slot<Length>,
    wall: Slot<Length>,
    bottom: Slot<Length>,
    density: Slot<MassDensity>,
    weighed: Option<Slot<Mass>>,
    /// The size's name, where the sheet gives it.
    size: Option<Size>,
}

#[derive(Debug)]
struct SleeveSlots {
    thickness: Slot<Length>,
    density: Slot<MassDensity>,
}

/// Bare start and end, one-sided start and end.
#[derive(Debug)]
struct EndSlots([Slot<Length>; 4]);

impl EndSlots {
    fn read(r: &mut Reader, side: &str, given: [Option<&Entry>; 4]) -> Self {
        let keys = ["uncoated_start", "uncoated_end", "one_sided_start", "one_sided_end"];
        let mut given = given.into_iter();
        Self(keys.map(|key| r.entry([side, ".", key].concat().as_str(), given.next().flatten())))
    }

    fn of(&self, v: &[f64]) -> BareEnds {
        let [start, end, one_sided_start, one_sided_end] = self.0.map(|slot| slot.of(v));
        BareEnds { start, end, one_sided_start, one_sided_end }
    }
}

#[derive(Debug)]
enum FitSlots {
    Width(Slot<Length>),
    VoidHeight(Slot<Length>),
}

#[derive(Debug)]
struct WindingSlots {
    core_diameter: Slot<Length>,
    fill: FillSlots,
    slack: Slot<Length>,
    core_turns: Slot<f64>,
    anode_overhang_start: Slot<f64>,
    anode_overhang_end: Slot<f64>,
    outer_turns: Slot<f64>,
    tape_thickness: Slot<Length>,
    tape_turns: Slot<f64>,
    tape_density: Slot<MassDensity>,
}

#[derive(Debug)]
enum FillSlots {
    Gap(Slot<Length>),
    Lengths(Slot<Length>, Option<Slot<Length>>),
}

#[derive(Debug)]
struct SeparatorSlots {
    film: Slot<Length>,
    porosity: Slot<Ratio>,
    density: Slot<MassDensity>,
    margin: Slot<Length>,
    ceramic: Slot<Length>,
    ceramic_porosity: Slot<Ratio>,
    ceramic_density: Slot<MassDensity>,
}

#[derive(Debug)]
struct ElectrolyteSlots {
    density: Slot<MassDensity>,
    amount: AmountSlots,
    salt: Slot<f64>,
}

/// How much electrolyte there is.
#[derive(Debug)]
enum AmountSlots {
    Excess(Slot<Ratio>),
    Mass(Slot<Mass>),
    PerCapacity(Slot<MassPerCharge>),
}

#[derive(Debug)]
struct WindowSlots {
    upper: Slot<ElectricPotential>,
    lower: Slot<ElectricPotential>,
    nominal: Option<Slot<ElectricPotential>>,
}

impl Draft {
    /// Reads a sheet. Every problem that can be seen without building the cell is reported, not the first alone.
    ///
    /// # Errors
    /// All of them, each with its place in the sheet.
    pub fn read(sheet: &Sheet) -> Result<Self, Problems> {
        Self::read_with(sheet, &CurveCache::default())
    }

    /// The same, with curves of the table from a shelf: for many sheets.
    ///
    /// # Errors
    /// All of them, each with its place in the sheet.
    pub fn read_with(sheet: &Sheet, shelf: &CurveCache) -> Result<Self, Problems> {
        let (draft, problems) = Self::gathered(sheet, shelf);
        problems.or_else_ok(draft)
    }

    /// A sheet made from another by edits, without the correlations of what takes no part in it any more: a quantity that
    /// became exact, or one that follows from others now. What took no part before stays, to be complained of.
    pub fn settled(before: &Sheet, after: Sheet) -> Sheet {
        correlated::settled(before, after)
    }

    /// Lists in a sheet the parts that stand in where it lists none, and how its current is collected where it says nothing
    /// of that.
    pub(crate) fn list_parts(sheet: &mut Sheet) {
        let setting = setting(sheet);
        if sheet.parts.is_none() {
            sheet.parts = Some(population::parts(&setting));
            if sheet.collection.is_none() && setting.collected.chance > 0.0 {
                let edges = setting.collected.edges;
                sheet.collection =
                    Some(if edges { sheet::Collection::Edges } else { sheet::Collection::Tabs });
            }
        }
    }

    /// The same with everything that is wrong; a draft with any of that is good for its inputs only.
    #[allow(clippy::too_many_lines, reason = "one line for each section of the sheet")]
    fn gathered(sheet: &Sheet, shelf: &CurveCache) -> (Self, Problems) {
        let mut r = Reader::new(setting(sheet));
        unknown_keys(&mut r, sheet);
        match sheet.roulade_sheet {
            None | Some(1) => {}
            Some(other) => r.problems.push(Problem::new(
                "roulade_sheet",
                format!("version {other}"),
                "this version reads sheets of version 1",
            )),
        }
        r.purpose(sheet.purpose.as_ref());
        let discrepancy =
            r.entry("model.capacity", sheet.model.as_ref().and_then(|model| model.capacity.as_ref()));
        let mut materials = Materials::new(&mut r, sheet, shelf);
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
            window,
            path,
            weighed,
            discrepancy,
            makeups,
            dissolved: lithium::dissolved(ion),
            ion,
            compositions,
            restored: Vec::new(),
        };
        (draft.with_clearance(chosen).restored(&state), problems)
    }

    /// With the clearance that the charged roll of this cell asks for, where the sheet says none.
    fn with_clearance(mut self, gap: Option<usize>) -> Self {
        let Some(slot) = gap else { return self };
        let known = population::clearance(&self.blueprint_at(&self.values()));
        if let Some(input) = self.inputs.get_mut(slot) {
            input.known = known;
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
            if let Some(known) = other(input) {
                input.known = known;
            }
        }
        self
    }

    /// What the inputs may be where a draw can move them beyond it.
    pub fn bounds(&self) -> Bounds {
        Bounds::of(self.inputs.iter().map(|input| (&*input.path, input.known)))
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
        self.inputs.iter().map(|input| input.known.value).collect()
    }

    /// Mass fractions of the elements in the material that a place of the sheet names, "can.material", at some values of
    /// the inputs; `None` where no formula says it.
    pub fn elements_at(&self, place: &str, values: &[f64]) -> Option<Fractions> {
        self.makeups.at(place).map(|makeup| makeup.fractions(values))
    }

    /// Mass fractions of the elements in a component of a coating, by its name.
    pub fn elements_of(&self, component: &str, values: &[f64]) -> Option<Fractions> {
        self.makeups.of(component).map(|makeup| makeup.fractions(values))
    }

    /// Mass fractions of the elements in the electrolyte: salt, and the solvent of the table.
    pub fn elements_of_electrolyte(&self, values: &[f64]) -> Option<Fractions> {
        let [mut mixed, solvent] = self.dissolved.as_ref()?.each_ref().map(|part| part.fractions(values));
        let salt = self.electrolyte.salt.of(values);
        for (share, other) in mixed.iter_mut().zip(solvent) {
            *share = salt * *share + (1.0 - salt) * other;
        }
        Some(mixed)
    }

    /// Whether there can be any of an element, by its number in [`material::ELEMENTS`], whatever the values.
    pub fn may_hold(&self, element: usize) -> bool {
        let mut all = self.makeups.all().chain(self.dissolved.iter().flatten());
        all.any(|makeup| makeup.may_hold(element))
    }

    /// The ion that its electrodes store.
    pub fn ion(&self) -> Ion {
        self.ion
    }

    /// Mass fractions of the elements in what stays of the source of its prelithiation.
    pub fn elements_of_prelithiation(&self) -> Option<Fractions> {
        self.prelithiation.as_ref()?.elements()
    }

    /// The cathode active materials that the sheet gives by their metals.
    pub fn compositions(&self) -> &[Arc<Composition>] {
        &self.compositions
    }

    /// How many inputs were supposed, by the user or by this crate.
    pub fn assumed(&self) -> usize {
        self.inputs.iter().filter(|i| matches!(i.origin, Origin::Assumed | Origin::Default)).count()
    }

    /// The design at the best values.
    ///
    /// # Errors
    /// Where the cell does not hold together: see [`Design::new`].
    pub fn design(&self) -> Result<Design, Problems> {
        self.design_at(&self.values())
    }

    /// The design at other values of the inputs, in their order, SI base units.
    ///
    /// # Errors
    /// Where the cell does not hold together at those values.
    pub fn design_at(&self, values: &[f64]) -> Result<Design, Problems> {
        Design::new(self.blueprint_at(values))
    }

    /// Takes what other drafts have too from them, and drops what is only read by people: a draft that many values are
    /// put into, with thousands of others beside it.
    pub fn for_many(mut self, like: &[&Self]) -> Self {
        for other in like {
            self.cathode.share(&other.cathode);
            self.anode.share(&other.anode);
        }
        self.inputs = Vec::new();
        self.remarks = Vec::new();
        self
    }

    /// Whether an input follows from others whatever its value: the share that takes what those beside it leave.
    pub fn gives_way(&self, input: usize) -> bool {
        [&self.cathode, &self.anode].into_iter().any(|coating| coating.gives_way() == Some(input))
    }

    /// For each part, whether its mass follows from the share of its room that it fills.
    pub fn filled_parts(&self) -> Vec<bool> {
        self.hardware.filled()
    }

    /// The blueprint at some values, in the order of the inputs; it need not hold together.
    pub fn blueprint_at(&self, v: &[f64]) -> Blueprint {
        let can = Can {
            diameter: self.can.diameter.of(v),
            height: self.can.height.of(v),
            wall: self.can.wall.of(v),
            bottom: self.can.bottom.of(v),
            density: self.can.density.of(v),
            weighed: self.can.weighed.map(|slot| slot.of(v)),
            named: self
                .can
                .size
                .map(|size| [size.diameter, size.height].map(|mm| Length::new::<millimeter>(f64::from(mm)))),
        };
        let overhang = self.overhang.of(v);
        let margin = self.separator.margin.of(v);
        let mut cathode = self.cathode.at(v, overhang + margin, None);
        let mut anode = self.anode.at(v, margin, Some(&cathode));
        let [of_cathode, of_anode] = &self.ends;
        (cathode.bare_ends, anode.bare_ends) = (of_cathode.of(v), of_anode.of(v));
        [cathode.tortuosity, anode.tortuosity] = self.tortuosity.map(|read| read.map(|slot| slot.of(v)));
        let swelling = self.anode.swelling(v, &anode);
        let w = &self.winding;
        let s = &self.separator;
        let density = self.electrolyte.density.of(v);
        Blueprint {
            name: Arc::clone(&self.name),
            parts: self.hardware.at(v, can.bore_area()),
            can,
            sleeve: self
                .sleeve
                .as_ref()
                .map(|sleeve| Sleeve { thickness: sleeve.thickness.of(v), density: sleeve.density.of(v) }),
            fit: match self.fit {
                FitSlots::Width(width) => Fit::Width(width.of(v)),
                FitSlots::VoidHeight(space) => Fit::VoidHeight(space.of(v)),
            },
            winding: Winding {
                core_diameter: w.core_diameter.of(v),
                fill: match w.fill {
                    FillSlots::Gap(gap) => Fill::Gap(gap.of(v)),
                    FillSlots::Lengths(cathode, anode) => {
                        Fill::Lengths { cathode: cathode.of(v), anode: anode.map(|slot| slot.of(v)) }
                    }
                },
                slack: w.slack.of(v),
                core_turns: w.core_turns.of(v),
                anode_overhang_start: w.anode_overhang_start.of(v),
                anode_overhang_end: w.anode_overhang_end.of(v),
                outer_turns: w.outer_turns.of(v),
                tape_thickness: w.tape_thickness.of(v),
                tape_turns: w.tape_turns.of(v),
                tape_density: w.tape_density.of(v),
            },
            cathode,
            anode,
            overhang,
            prelithiation: self.prelithiation.as_ref().map(|slots| slots.at(v)),
            separator: Separator {
                film: s.film.of(v),
                porosity: s.porosity.of(v),
                density: s.density.of(v),
                margin,
                ceramic: s.ceramic.of(v),
                ceramic_porosity: s.ceramic_porosity.of(v),
                ceramic_density: s.ceramic_density.of(v),
            },
            electrolyte: match self.electrolyte.amount {
                AmountSlots::Mass(mass) => Electrolyte::Filled { density, mass: mass.of(v) },
                AmountSlots::Excess(share) => Electrolyte::Excess { density, share: share.of(v) },
                AmountSlots::PerCapacity(ratio) => Electrolyte::PerCapacity { density, ratio: ratio.of(v) },
            },
            salt: self.electrolyte.salt.of(v),
            window: VoltageWindow {
                upper: self.window.upper.of(v),
                lower: self.window.lower.of(v),
                nominal: self.window.nominal.map(|slot| slot.of(v)),
            },
            path: Arc::new(self.path.at(v)),
            swelling,
            weighed: self.weighed.map(|slot| slot.of(v)),
            discrepancy: self.discrepancy.of(v),
        }
    }
}

/// The parts that stand in for all hardware of a sheet without parts.
pub(crate) fn stand_in(sheet: &Sheet) -> Vec<sheet::Part> {
    population::parts(&setting(sheet))
}

/// What is known of a cell before anything in it is read; what cannot be read is complained of elsewhere.
fn setting(sheet: &Sheet) -> Setting {
    let can = sheet.can.as_ref();
    let named = can.and_then(|can| Size::read(can.size.as_deref()?, "").ok());
    let side = |entry: Option<&Entry>| {
        let text = match entry? {
            Entry::Text(text) => text,
            Entry::Noted(noted) => &noted.value,
        };
        let known = notation::read(text, Dimension::Length).ok()?;
        (known.value > 0.0).then_some(1e3 * known.value)
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
        purpose: Purpose::unsaid(silicon, diameter),
        collected: Collected::of(sheet, diameter),
    }
}

fn can(r: &mut Reader, materials: &mut Materials, sheet: &Sheet) -> CanSlots {
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
        (None, Some(known)) => r.of_population(&path.into(), (known, 0.0), population::OUTER_SIZE),
        (None, None) if refused => {
            r.of_population(&path.into(), (Uncertain::exact(f64::NAN), 0.0), population::OUTER_SIZE)
        }
        (entry, named) => {
            let slot: Slot<Length> = r.entry(path, entry);
            let known = r.known(slot);
            if let Some(named) = named.filter(|named| (known.value - named.value).abs() > 2e-3) {
                let found = format!(
                    "{:.2} mm beside a size of {:.0} mm by its name",
                    1e3 * known.value,
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

/// The input of the clearance, where the sheet leaves it out.
fn clearance_of(r: &Reader, sheet: &Sheet, winding: &WindingSlots) -> Option<usize> {
    let said = sheet.winding.as_ref().is_some_and(|winding| winding.radial_clearance.is_some());
    match winding.fill {
        FillSlots::Gap(slot) if !said && r.problems.0.is_empty() => Some(slot.number()),
        _ => None,
    }
}

fn sleeve(r: &mut Reader, materials: &mut Materials, sheet: &Sheet) -> Option<SleeveSlots> {
    let sleeve = sheet.sleeve.as_ref().filter(|sleeve| sleeve.counts != Some(sheet::Counts::No))?;
    Some(SleeveSlots {
        thickness: r.entry("sleeve.thickness", sleeve.thickness.as_ref()),
        density: materials.density(r, "sleeve.material", sleeve.material.as_deref().unwrap_or("PET")),
    })
}

fn fit(r: &mut Reader, sheet: &Sheet) -> FitSlots {
    let width = sheet.cathode.as_ref().and_then(|cathode| cathode.width.as_ref());
    match (width, &sheet.void_height) {
        (Some(width), None) => FitSlots::Width(r.entry("cathode.width", Some(width))),
        (None, space) => FitSlots::VoidHeight(r.entry("void_height", space.as_ref())),
        (Some(width), Some(_)) => {
            r.one_too_many(
                "void_height",
                "a void height beside a coated width",
                "one of the two follows from the other",
            );
            FitSlots::Width(r.entry("cathode.width", Some(width)))
        }
    }
}

fn winding(r: &mut Reader, materials: &mut Materials, sheet: &Sheet) -> WindingSlots {
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
            "the gap follows from the lengths",
        );
    }
    if w.cathode_length.is_none() && w.anode_length.is_some() {
        r.problems.push(Problem::new(
            "winding.anode_length",
            "the anode's length without the cathode's",
            "the cathode's length beside it, or the radial clearance alone",
        ));
    }
    if w.anode_length.is_some() && w.anode_overhang_end.is_some() {
        r.one_too_many(
            "winding.anode_overhang_end",
            "a tail beside the anode's length",
            "the tail follows from the lengths",
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

fn separator(r: &mut Reader, materials: &mut Materials, sheet: &Sheet) -> SeparatorSlots {
    let empty = sheet::Separator::default();
    let s = sheet.separator.as_ref().unwrap_or(&empty);
    SeparatorSlots {
        film: r.entry("separator.thickness", s.thickness.as_ref()),
        porosity: r.entry("separator.porosity", s.porosity.as_ref()),
        density: materials.density(r, "separator.material", s.material.as_deref().unwrap_or("polyethylene")),
        margin: r.entry("separator.margin", s.margin.as_ref()),
        ceramic: r.entry("separator.ceramic_thickness", s.ceramic_thickness.as_ref()),
        ceramic_porosity: r.entry("separator.ceramic_porosity", s.ceramic_porosity.as_ref()),
        ceramic_density: materials.density(r, "separator.ceramic", s.ceramic.as_deref().unwrap_or("alumina")),
    }
}

fn electrolyte(r: &mut Reader, materials: &mut Materials, sheet: &Sheet) -> ElectrolyteSlots {
    let empty = sheet::Electrolyte::default();
    let e = sheet.electrolyte.as_ref().unwrap_or(&empty);
    if e.mass.is_some() && e.excess.is_some() {
        r.one_too_many("electrolyte.excess", "an excess beside a mass", "the excess follows from the mass");
    }
    if e.per_capacity.is_some() && (e.mass.is_some() || e.excess.is_some()) {
        r.one_too_many(
            "electrolyte.per_capacity",
            "a mass per capacity beside a mass or an excess",
            "one of them gives the others",
        );
    }
    let density = match &e.density {
        Some(density) => r.entry("electrolyte.density", Some(density)),
        None => materials.density(r, "electrolyte.density", "electrolyte"),
    };
    let amount = match (&e.mass, &e.per_capacity) {
        (Some(mass), _) => AmountSlots::Mass(r.entry("electrolyte.mass", Some(mass))),
        (None, Some(ratio)) => AmountSlots::PerCapacity(r.entry("electrolyte.per_capacity", Some(ratio))),
        (None, None) => AmountSlots::Excess(r.entry("electrolyte.excess", e.excess.as_ref())),
    };
    let salt = r.entry("electrolyte.salt", e.salt.as_ref());
    ElectrolyteSlots { density, amount, salt }
}

fn window(r: &mut Reader, sheet: &Sheet) -> WindowSlots {
    let empty = sheet::Voltage::default();
    let v = sheet.voltage.as_ref().unwrap_or(&empty);
    WindowSlots {
        upper: r.entry("voltage.charge_cut_off", v.charge_cut_off.as_ref()),
        lower: r.entry("voltage.discharge_cut_off", v.discharge_cut_off.as_ref()),
        nominal: r.optional("voltage.nominal", v.nominal.as_ref()),
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

fn unknown_keys(r: &mut Reader, s: &Sheet) {
    r.unknown("", &s.unknown, Sheet::KEYS);
    macro_rules! section {
        ($place:literal, $section:expr, $kind:ty) => {
            if let Some(section) = $section {
                r.unknown($place, &section.unknown, <$kind>::KEYS);
            }
        };
    }
    section!("model", &s.model, sheet::Model);
    section!("can", &s.can, sheet::Can);
    section!("sleeve", &s.sleeve, sheet::Sleeve);
    section!("winding", &s.winding, sheet::Winding);
    section!("cathode", &s.cathode, sheet::Cathode);
    section!("anode", &s.anode, sheet::Anode);
    section!("cathode.foil", s.cathode.as_ref().and_then(|c| c.foil.as_ref()), sheet::Foil);
    section!("anode.foil", s.anode.as_ref().and_then(|a| a.foil.as_ref()), sheet::Foil);
    section!("prelithiation", &s.prelithiation, sheet::Prelithiation);
    section!("separator", &s.separator, sheet::Separator);
    section!("electrolyte", &s.electrolyte, sheet::Electrolyte);
    section!("voltage", &s.voltage, sheet::Voltage);
    section!("correlated", &s.correlated, sheet::Correlated);
    path::unknown_keys(r, s);
    for (i, part) in s.parts.iter().flatten().enumerate() {
        r.unknown(format_args!("parts[{i}]"), &part.unknown, sheet::Part::KEYS);
    }
    for (i, material) in s.materials.iter().flatten().enumerate() {
        r.unknown(format_args!("materials[{i}]"), &material.unknown, sheet::Material::KEYS);
        if let Some(metals) = &material.metals {
            r.unknown(format_args!("materials[{i}].metals"), &metals.unknown, sheet::Metals::KEYS);
        }
    }
    let mixes = [
        ("cathode", s.cathode.as_ref().and_then(|c| c.mix.as_ref())),
        ("anode", s.anode.as_ref().and_then(|a| a.mix.as_ref())),
    ];
    for (side, mix) in mixes {
        for (i, mixed) in mix.into_iter().flatten().enumerate() {
            r.unknown(format_args!("{side}.mix[{i}]"), &mixed.unknown, sheet::Mixed::KEYS);
        }
    }
}

#[cfg(test)]
mod tests;
