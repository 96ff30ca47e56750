//! What a bench can read off a cell: each quantity by its name, with its unit, how a design predicts it, and what an
//! ordinary instrument is worth on it.

use super::conditions::{Condition, Conditions};
use crate::cell::balance::{Side, disc};
use crate::cell::current_path::{self, Pulse};
use crate::cell::design::Part;
use crate::cell::draft::Draft;
use crate::cell::draft::Input;
use crate::cell::figures::{self, Worked};
use crate::cell::ledger::{self, Group};
use crate::cell::state::{Cause, Change, Changes, State};
use crate::quantity::problem::{Problem, nearest, shortened};
use crate::quantity::slip;
use crate::quantity::units::{ElectricCharge, Unit};
use crate::sheet::defaults::field;
use crate::sheet::former;
use Changes::{Cell, Diameter, DryCell, DryRoll, Electrolyte, Loading, Porosity, Thickness, WetRoll};
use Side::{Anode, Cathode};
use serde::Serialize;

/// How a design predicts a quantity.
#[derive(Clone, Copy, Debug)]
pub enum Of {
    /// From the worked design, SI.
    Worked(fn(&Worked) -> Option<f64>),
    /// From the worked design under the conditions it was read under, SI, with what the model is off by: some of those
    /// conditions may be said, and one must be where the second says which.
    Under(&'static [Condition], Option<Condition>, fn(&Worked, &Conditions) -> Option<Change>),
    /// From one of its parts, SI.
    Part(fn(&Part) -> f64),
    /// It is an input of the sheet.
    Input,
    /// The figure of this id, where this version has one.
    Figure(&'static str),
}

/// What an ordinary instrument is worth on a quantity: common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Typical {
    /// Standard uncertainty in the quantity's unit.
    pub absolute: f64,
    /// The same as a share of the value; the two add in squares.
    pub relative: f64,
    /// Which instrument.
    pub instrument: &'static str,
}

/// A quantity of a bench.
#[derive(Debug)]
pub struct Quantity {
    /// Its name, as written in a bench sheet; a part's is `parts[NAME].height`, a material's
    /// `materials[NAME].metals.nickel`.
    pub key: &'static str,
    /// Heading it stands under.
    pub group: &'static str,
    /// Unit of the trade; any unit of the same kind will do in a bench sheet.
    pub unit: Unit,
    /// How a design predicts it, as built.
    pub of: Of,
    /// What of it the state changes that a cell is read in.
    pub changes: Changes,
    /// Path of the input it reads directly; empty for none.
    pub input: &'static str,
    /// An ordinary instrument.
    pub typical: Typical,
    /// What is meant by it; empty where the name says it.
    pub note: &'static str,
}

/// Share of an ordinary reading's variance that all readings of one instrument have in common: its zero and scale, how it is
/// held and read. Half: common practice, no source; maximum permissible errors of calipers, micrometers, tapes and balances
/// (ISO 13385-1, ISO 3611, the tapes of directive 2014/32/EU, OIML R 76; from memory) are as large as one such reading repeats.
pub const SHARED: f64 = 0.5;

impl Typical {
    /// Standard uncertainty that readings of a value with one ordinary instrument have in common, both SI; counts have none.
    pub fn shared(&self, value: f64, unit: Unit) -> f64 {
        if self.instrument == "counted" { 0.0 } else { SHARED.sqrt() * self.u(value, unit) }
    }

    /// Standard uncertainty on a value, both SI.
    pub fn u(&self, value: f64, unit: Unit) -> f64 {
        let (a, b) = (self.absolute * unit.in_si(), self.relative * value);
        (a * a + b * b).sqrt()
    }
}

/// A quantity that was asked for, of one part where it is a part's.
#[derive(Clone, Debug)]
pub struct Asked {
    /// The quantity.
    pub quantity: &'static Quantity,
    /// Name of the part.
    pub part: Option<String>,
    /// In which state the cell was read.
    pub state: State,
    /// Under which conditions.
    pub under: Conditions,
}

impl PartialEq for Asked {
    fn eq(&self, other: &Self) -> bool {
        self.alike(other) && self.state == other.state && self.under == other.under
    }
}

/// Beginnings of the names of quantities that are a part's, or a material's.
const OF_PART: [&str; 2] = ["parts[].", "materials[].metals."];

impl Asked {
    /// A quantity of a cell as built.
    pub fn of(quantity: &'static Quantity, part: Option<String>) -> Self {
        Self { quantity, part, state: State::default(), under: Conditions::default() }
    }

    /// A quantity as one would read it of a design: where it needs a capacity drawn, at half of the design's.
    pub fn proposed(quantity: &'static Quantity, part: Option<String>, worked: &Worked) -> Self {
        let half = 0.5 * worked.estimate.balance.capacity.value;
        let needs = matches!(quantity.of, Of::Under(_, Some(Condition::Drawn), _));
        let under = Conditions { drawn: needs.then_some(half), ..Conditions::default() };
        Self { under, ..Self::of(quantity, part) }
    }

    /// Whether another is the same quantity, in whatever state and under whatever conditions.
    pub fn alike(&self, other: &Self) -> bool {
        self.quantity.key == other.quantity.key && self.part == other.part
    }

    /// Its name: "cathode length", `parts[lid].height`.
    pub fn key(&self) -> String {
        self.filled(self.quantity.key)
    }

    /// Its name in plain words, and the state where it is not the cell as built: "cathode length", "height of lid", "anode
    /// coating thickness (after formation, discharged)".
    pub fn label(&self) -> String {
        let mut label = self.name();
        if !self.under.none() {
            label = format!("{label} at {}", self.under);
        }
        if !self.state.as_built() {
            label = format!("{label} ({})", self.state);
        }
        label
    }

    fn name(&self) -> String {
        match (&self.part, OF_PART.iter().find_map(|begin| self.quantity.key.strip_prefix(begin))) {
            (Some(part), Some(what)) => format!("{} of {part}", what.replace('_', "-")),
            _ => self.quantity.key.to_owned(),
        }
    }

    /// What a number of it is, as far as typical slips depend on that.
    pub fn slips(&self) -> slip::Kind {
        let kind = slip::Kind::of(self.quantity.unit.dimension());
        let has = |word: &str| self.quantity.key.contains(word);
        match () {
            () if has("diameter") => kind.round(),
            () if has("both faces") || has("both sides") => kind.both_sides(),
            () if has("loading") || has("coating") || has("areal capacity") => kind.per_side(),
            () => kind,
        }
    }

    /// Number of the input that it reads directly, in a draft.
    pub fn input(&self, draft: &Draft) -> Option<usize> {
        let wanted = self.filled(self.quantity.input);
        draft.inputs().iter().position(|input| !wanted.is_empty() && input.key == wanted)
    }

    fn filled(&self, path: &str) -> String {
        match &self.part {
            Some(part) => path.replace("[]", &format!("[{part}]")),
            None => path.to_owned(),
        }
    }

    /// What its state adds to it, and how well that is known; `None` where the design cannot tell how full the cell is.
    pub fn change(&self, draft: &Draft, worked: &Worked) -> Option<Change> {
        self.state.change(self.quantity.changes, &worked.design, &worked.estimate.balance, draft.ion())
    }

    /// Standard uncertainty of what a design predicts for it beside that of the design, SI, by cause: of its state and of the
    /// model.
    pub fn unsure(&self, draft: &Draft, worked: &Worked) -> [f64; Cause::ALL.len()] {
        let change = self.change(draft, worked).unwrap_or_default();
        match self.quantity.of {
            Of::Under(.., of) => of(worked, &self.under).unwrap_or_default().and(change).u,
            _ => change.u,
        }
    }

    /// What a design at these values of the draft's inputs predicts for it, SI, in its state; `None` where that design has
    /// no such quantity.
    pub fn predict(&self, draft: &Draft, values: &[f64], worked: &Worked) -> Option<f64> {
        let built = match self.quantity.of {
            Of::Worked(of) => of(worked),
            Of::Under(.., of) => of(worked, &self.under).map(|predicted| predicted.by),
            Of::Part(of) => {
                let parts = &worked.design.blueprint().parts;
                parts.iter().find(|part| Some(&part.name) == self.part.as_ref()).map(of)
            }
            Of::Input => values.get(self.input(draft)?).copied(),
            Of::Figure(id) => (figures::definition(id)?.of)(worked),
        }?;
        Some(built + self.change(draft, worked)?.by).filter(|value| value.is_finite())
    }
}

/// Other names, former ones among them, and the name of the table.
const ALIASES: &[(&str, &str)] = &[
    ("roll diameter, widest", "jelly roll diameter, widest"),
    ("roll diameter", "jelly roll diameter"),
    ("turns of the web", "turns of the jelly roll"),
    ("anode lead", "anode overhang at the start"),
    ("core turns", "separator turns at the core"),
    ("outer turns", "separator turns outside"),
    ("separator margin", "separator overhang"),
    ("cathode fold height", "cathode folded edge height"),
    ("anode fold height", "anode folded edge height"),
    ("cathode coated both faces", "cathode coated both sides"),
    ("anode coated both faces", "anode coated both sides"),
    ("cathode coated one face", "cathode coated one side"),
    ("anode coated one face", "anode coated one side"),
    ("cathode coating", "cathode coating thickness"),
    ("anode coating", "anode coating thickness"),
    ("cathode foil", "cathode foil thickness"),
    ("anode foil", "anode foil thickness"),
    ("cathode loading", "cathode areal mass loading"),
    ("anode loading", "anode areal mass loading"),
    ("dry roll mass", "dry jelly roll mass"),
    ("wet roll mass", "wet jelly roll mass"),
    ("resistance", "d.c. internal resistance"),
    ("silicon share", "silicon mass fraction"),
    ("silicon oxide share", "silicon oxide mass fraction"),
    ("head space", "void height"),
    ("headspace", "void height"),
    ("radial gap", "radial clearance"),
    ("anode bare edge", "anode uncoated foil margin"),
    ("cathode bare edge", "cathode uncoated foil margin"),
    ("internal resistance", "d.c. internal resistance"),
    ("a.c. internal resistance", "resistance at 1 kHz"),
    ("cathode areal capacity", "cathode disc areal capacity"),
    ("anode areal capacity", "anode disc areal capacity"),
];

/// The quantity of a name: as it stands in the table, as the path of the input it reads, or, of a part, as
/// "height of NAME" or `parts[NAME].height`. Capitals, hyphens and underscores do not matter.
///
/// # Errors
/// Where there is none: with the nearest name.
pub fn find(name: &str, part: Option<&str>) -> Result<Asked, Problem> {
    let wanted = folded(&former::path_today(name.trim()));
    let wanted = ALIASES.iter().find(|(other, _)| *other == wanted).map_or(wanted, |(_, key)| folded(key));
    let of_part = |what: &str, part: &str| {
        let what = folded(what).replace(' ', "_");
        let what = former::name_today(&what).map_or(what, str::to_owned);
        let named = |quantity: &&Quantity| {
            OF_PART.iter().any(|begin| quantity.key.strip_prefix(begin) == Some(&what))
        };
        let quantity = QUANTITIES.iter().find(named)?;
        Some(Asked::of(quantity, Some(part.trim().to_owned())))
    };
    let bracketed = OF_PART.iter().find_map(|begin| {
        let (before, after) = begin.split_once("[]")?;
        let (inside, what) = name.trim().strip_prefix(before)?.strip_prefix('[')?.split_once(']')?;
        Some((inside, what.strip_prefix(after)?))
    });
    if let Some((inside, what)) = bracketed
        && let Some(asked) = of_part(what, inside)
    {
        return Ok(asked);
    }
    if let Some((what, of)) = name.split_once(" of ")
        && let Some(asked) = of_part(what, of)
    {
        return Ok(asked);
    }
    if let Some(part) = part
        && let Some(asked) = of_part(name.trim().strip_prefix("part ").unwrap_or(name), part)
    {
        return Ok(asked);
    }
    let named = |quantity: &&Quantity| {
        !quantity.key.contains("[]")
            && (folded(quantity.key) == wanted
                || (!quantity.input.is_empty() && folded(quantity.input) == wanted))
    };
    QUANTITIES
        .iter()
        .find(named)
        .map(|quantity| Asked::of(quantity, None))
        .ok_or_else(|| unknown(name, &wanted))
}

/// The quantity that reads an input directly; `None` for an input no bench reads, a material's density say.
pub fn of_input(input: &Input) -> Option<&'static Quantity> {
    let path = field(&input.path)?.path;
    QUANTITIES.iter().find(|quantity| quantity.input == path)
}

fn unknown(name: &str, wanted: &str) -> Problem {
    let near = nearest(wanted, QUANTITIES.iter().map(|quantity| quantity.key));
    let hint = near.map(|near| format!("perhaps \"{near}\" was meant; ")).unwrap_or_default();
    let found = if name.trim().is_empty() {
        "nothing".to_owned()
    } else {
        format!("\"{}\", a quantity that is not known", shortened(name))
    };
    Problem::new(
        "",
        found,
        format!(
            "{hint}a quantity of the list, for example \"cathode length\" or \"height of cap assembly\" (roulade readings lists them)"
        ),
    )
}

fn folded(name: &str) -> String {
    let plain: String = name.chars().map(|c| if matches!(c, '_' | '-' | '.') { ' ' } else { c }).collect();
    plain.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// Mass of the roll: plies and tape, with the electrolyte in the pores or without any.
fn roll_mass(w: &Worked, wet: bool) -> f64 {
    let mut mass = 0.0;
    ledger::lines(&w.design, |line| {
        let plies = matches!(line.group, Group::Anode | Group::Cathode | Group::Separator);
        let soaked = wet && line.what == "electrolyte in the pores";
        if plies || soaked || line.what == "tape around the roll" {
            mass += line.mass.value;
        }
    });
    mass
}

/// Mass of one group of the ledger.
fn electrolyte(w: &Worked) -> f64 {
    let mut mass = 0.0;
    ledger::lines(&w.design, |line| {
        if line.group == Group::Electrolyte {
            mass += line.mass.value;
        }
    });
    mass
}

macro_rules! quantities {
    ($($group:literal { $($key:literal $unit:ident $input:literal,
        $absolute:literal $relative:literal $instrument:literal, $of:expr $(=> $changes:expr)? $(, $note:literal)?;)* })*) => {
        &[$($(Quantity {
            key: $key, group: $group, unit: Unit::$unit, of: $of, changes: changes!($($changes)?), input: $input,
            typical: Typical { absolute: $absolute, relative: $relative, instrument: $instrument },
            note: concat!($($note)?),
        }),*),*]
    };
}

macro_rules! changes {
    () => {
        Changes::Nothing
    };
    ($changes:expr) => {
        $changes
    };
}

macro_rules! read {
    (|$w:ident| $of:expr) => {
        Of::Worked(|$w| Some($of))
    };
}

/// Every quantity, in the order it is listed.
pub static QUANTITIES: &[Quantity] = quantities! {
    "Can" {
        "can diameter" Millimetre "can.diameter", 0.03 0.0 "caliper", read!(|w| w.design.blueprint().can.diameter.value),
            "largest outer diameter, no sleeve";
        "can height" Millimetre "can.height", 0.03 0.0 "caliper", read!(|w| w.design.blueprint().can.height.value),
            "largest outer height, cap and terminals included";
        "can wall" Millimetre "can.wall", 0.01 0.0 "micrometer", read!(|w| w.design.blueprint().can.wall.value);
        "can bottom" Millimetre "can.bottom", 0.01 0.0 "micrometer", read!(|w| w.design.blueprint().can.bottom.value);
        "can mass" Gram "can.mass", 0.01 0.0 "balance", read!(|w| {
            let can = &w.design.blueprint().can;
            can.weighed.map_or((can.shell() * can.density).value, |mass| mass.value)
        }), "the empty can: wall and bottom";
    }
    "Parts" {
        "parts[].height" Millimetre "parts[].height", 0.03 0.0 "caliper", Of::Part(|part| part.height.value),
            "\"height of NAME\": axial height of the part itself";
        "parts[].axial_clearance" Millimetre "parts[].axial_clearance", 0.1 0.0 "depth gauge", Of::Part(|part| part.axial_clearance.value),
            "\"axial clearance of NAME\": height lost to it besides its own";
        "parts[].mass" Gram "parts[].mass", 0.01 0.0 "balance", Of::Part(|part| part.mass.value), "\"mass of NAME\"";
        "parts[].volume" CubicCentimetre "parts[].volume", 0.02 0.0 "balance, in water", Of::Part(|part| part.volume.value),
            "\"volume of NAME\": its solid";
        "void height" Millimetre "void_height", 0.2 0.0 "depth gauge", read!(|w| w.design.stack().void_height.value),
            "empty height (headspace) between the jelly roll and the parts above it";
    }
    "Jelly roll" {
        "core diameter" Millimetre "winding.core_diameter", 0.1 0.0 "pin gauge", read!(|w| w.design.blueprint().winding.core_diameter.value),
            "of the hole the mandrel left";
        "jelly roll diameter" Millimetre "", 0.05 0.0 "caliper", read!(|w| 2.0 * w.design.outer_radius().value) => Diameter(1.0),
            "mean over the angle, tape included";
        "jelly roll diameter, widest" Millimetre "", 0.05 0.0 "caliper", read!(|w| 2.0 * w.design.widest().value) => Diameter(1.0);
        "radial clearance" Millimetre "winding.radial_clearance", 0.05 0.0 "feeler gauge", read!(|w| w.design.radial_clearance().value) => Diameter(-0.5),
            "mean distance from the jelly roll to the wall of the can";
        "turns of cathode" Turn "", 0.25 0.0 "counted", read!(|w| w.design.roll().cathode_turns());
        "turns of the jelly roll" Turn "", 0.25 0.0 "counted", read!(|w| w.design.roll().web_turns()),
            "from the first turn of separator to the last, tape not counted";
        "separator turns at the core" Turn "winding.core_turns", 0.1 0.0 "counted", read!(|w| w.design.blueprint().winding.core_turns),
            "separator-only turns at the core";
        "anode overhang at the start" Turn "winding.anode_overhang_start", 0.1 0.0 "counted", read!(|w| w.design.blueprint().winding.anode_overhang_start),
            "turns of anode before the cathode begins";
        "separator turns outside" Turn "winding.outer_turns", 0.1 0.0 "counted", read!(|w| w.design.blueprint().winding.outer_turns),
            "separator-only turns outside";
        "tape turns" Turn "winding.tape_turns", 0.1 0.0 "counted", read!(|w| w.design.blueprint().winding.tape_turns);
        "tape thickness" Micrometre "winding.tape_thickness", 2.0 0.0 "micrometer", read!(|w| w.design.blueprint().winding.tape_thickness.value);
    }
    "Lengths and widths" {
        "cathode length" Millimetre "winding.cathode_length", 1.0 0.001 "steel tape", read!(|w| w.design.roll().lengths().cathode.value),
            "coated length, unrolled";
        "anode length" Millimetre "winding.anode_length", 1.0 0.001 "steel tape", read!(|w| w.design.roll().lengths().anode.value),
            "coated length, unrolled";
        "inner separator length" Millimetre "", 2.0 0.002 "steel tape", read!(|w| w.design.roll().lengths().inner_separator.value),
            "the one under the anode";
        "outer separator length" Millimetre "", 2.0 0.002 "steel tape", read!(|w| w.design.roll().lengths().outer_separator.value),
            "the one under the cathode";
        "cathode width" Millimetre "cathode.width", 0.1 0.0 "caliper", read!(|w| w.design.stack().cathode_width.value), "coated";
        "anode width" Millimetre "", 0.1 0.0 "caliper", read!(|w| w.design.anode_width().value), "coated";
        "separator width" Millimetre "", 0.2 0.0 "caliper", read!(|w| w.design.separator_width().value);
        "anode overhang" Millimetre "anode.overhang", 0.1 0.0 "caliper", read!(|w| w.design.blueprint().overhang.value),
            "past the cathode's coating, at each edge";
        "separator overhang" Millimetre "separator.margin", 0.1 0.0 "caliper", read!(|w| w.design.blueprint().separator.margin.value),
            "past the anode's coating, at each edge";
        "cathode uncoated foil margin" Millimetre "cathode.uncoated_margin", 0.1 0.0 "caliper", read!(|w| w.design.blueprint().cathode.uncoated_margin.value),
            "foil beyond the coating at the connected edge, as cut";
        "anode uncoated foil margin" Millimetre "anode.uncoated_margin", 0.1 0.0 "caliper", read!(|w| w.design.blueprint().anode.uncoated_margin.value),
            "foil beyond the coating at the connected edge, as cut";
        "cathode folded edge height" Millimetre "cathode.fold_height", 0.1 0.0 "depth gauge", read!(|w| w.design.blueprint().cathode.fold_height.value);
        "anode folded edge height" Millimetre "anode.fold_height", 0.1 0.0 "depth gauge", read!(|w| w.design.blueprint().anode.fold_height.value);
    }
    "Thicknesses" {
        "cathode coated both sides" Micrometre "", 1.0 0.0 "micrometer", read!(|w| w.design.blueprint().cathode.thickness_both().value) => Thickness(Cathode, 2.0),
            "foil and both coatings";
        "anode coated both sides" Micrometre "", 1.0 0.0 "micrometer", read!(|w| w.design.blueprint().anode.thickness_both().value) => Thickness(Anode, 2.0),
            "foil and both coatings";
        "cathode coated one side" Micrometre "", 1.0 0.0 "micrometer", read!(|w| {
            let cathode = &w.design.blueprint().cathode;
            (cathode.thickness + cathode.foil).value
        }) => Thickness(Cathode, 1.0), "foil and one coating";
        "anode coated one side" Micrometre "", 1.0 0.0 "micrometer", read!(|w| {
            let anode = &w.design.blueprint().anode;
            (anode.thickness + anode.foil).value
        }) => Thickness(Anode, 1.0), "foil and one coating";
        "cathode coating thickness" Micrometre "cathode.thickness", 1.5 0.0 "micrometer", read!(|w| w.design.blueprint().cathode.thickness.value) => Thickness(Cathode, 1.0),
            "per side, without foil";
        "anode coating thickness" Micrometre "anode.thickness", 1.5 0.0 "micrometer", read!(|w| w.design.blueprint().anode.thickness.value) => Thickness(Anode, 1.0),
            "per side, without foil";
        "cathode foil thickness" Micrometre "cathode.foil.thickness", 0.5 0.0 "micrometer", read!(|w| w.design.blueprint().cathode.foil.value);
        "anode foil thickness" Micrometre "anode.foil.thickness", 0.5 0.0 "micrometer", read!(|w| w.design.blueprint().anode.foil.value);
        "separator thickness" Micrometre "", 0.5 0.0 "micrometer", read!(|w| w.design.blueprint().separator.thickness().value),
            "film and ceramic layer";
    }
    "Coatings" {
        "cathode areal mass loading" MilligramPerSquareCentimetre "cathode.loading", 0.0 0.01 "balance, on discs", read!(|w| w.design.blueprint().cathode.loading.value) => Loading(Cathode),
            "per side, dry, without foil";
        "anode areal mass loading" MilligramPerSquareCentimetre "anode.loading", 0.0 0.01 "balance, on discs", read!(|w| w.design.blueprint().anode.loading.value) => Loading(Anode),
            "per side, dry, without foil; lithium of the first charge is part of it where the state says that there was one";
        "cathode porosity" Percent "cathode.porosity", 1.5 0.0 "intrusion or sections", read!(|w| w.design.blueprint().cathode.porosity().value) => Porosity(Cathode);
        "anode porosity" Percent "anode.porosity", 1.5 0.0 "intrusion or sections", read!(|w| w.design.blueprint().anode.porosity().value) => Porosity(Anode);
        "separator porosity" Percent "separator.porosity", 2.0 0.0 "intrusion or sections", read!(|w| w.design.blueprint().separator.porosity.value), "of the film";
    }
    "Composition" {
        "materials[].metals.nickel" One "materials[].metals.nickel", 0.005 0.0 "element analysis", Of::Input,
            "\"nickel of NAME\": mole fraction of the metals of a cathode material, where the sheet has it as an entry";
        "materials[].metals.cobalt" One "materials[].metals.cobalt", 0.005 0.0 "element analysis", Of::Input;
        "materials[].metals.manganese" One "materials[].metals.manganese", 0.005 0.0 "element analysis", Of::Input;
        "materials[].metals.aluminium" One "materials[].metals.aluminium", 0.005 0.0 "element analysis", Of::Input;
        "silicon mass fraction" Percent "anode.silicon", 0.3 0.02 "element analysis", Of::Input,
            "mass share of the anode's active part, where the sheet has it as an entry";
        "silicon oxide mass fraction" Percent "anode.silicon_oxide", 0.3 0.02 "element analysis", Of::Input,
            "the same of silicon monoxide";
    }
    "Masses" {
        "cell mass" Gram "", 0.02 0.0 "balance", read!(|w| w.estimate.mass.value) => Cell, "the whole cell, before it is opened";
        "dry cell mass" Gram "", 0.05 0.0 "balance", read!(|w| w.estimate.mass.value - electrolyte(w)) => DryCell, "without any electrolyte";
        "dry jelly roll mass" Gram "", 0.1 0.0 "balance", read!(|w| roll_mass(w, false)) => DryRoll,
            "electrodes, separators and tape, washed and dried where the state says nothing else";
        "wet jelly roll mass" Gram "", 0.0 0.01 "balance", read!(|w| roll_mass(w, true)) => WetRoll,
            "the same with the electrolyte in its pores; what has dried away by then is missing";
        "electrolyte mass" Gram "electrolyte.mass", 0.0 0.03 "balance, as a difference", read!(|w| electrolyte(w)) => Electrolyte, "all of it";
    }
    "Electrical" {
        "capacity" AmpereHour "", 0.0 0.005 "cycler", read!(|w| w.estimate.balance.capacity.value),
            "between the sheet's cut-off voltages, so slowly that losses do not count; nothing is taken off for a rate";
        "energy" WattHour "", 0.0 0.005 "cycler", read!(|w| w.estimate.balance.energy.value), "as the capacity";
        "mean voltage" Volt "", 0.003 0.0 "cycler", read!(|w| w.estimate.balance.mean_voltage().value), "as the capacity";
        "capacity under load" AmpereHour "", 0.0 0.005 "cycler", Of::Figure("loaded_capacity"), "at the current of the sheet's load";
        "energy under load" WattHour "", 0.0 0.005 "cycler", Of::Figure("loaded_energy"), "at the current of the sheet's load";
        "d.c. internal resistance" Milliohm "", 0.0 0.02 "four-wire meter", Of::Figure("resistance"), "by the step of the voltage on a step of the current, fresh cell";
        "pulse resistance" Milliohm "", 0.0 0.02 "cycler", Of::Under(
            &[Condition::Length, Condition::Share, Condition::Temperature], None, |w, under| {
                let pulse = Pulse { seconds: under.length, share: under.share, celsius: under.celsius };
                let found = current_path::by_pulse(&w.design, &w.estimate.balance, &pulse)?;
                Some(Change::of(found.value, Cause::Pulse, found.u()))
            }),
            "by the step of the voltage so long into a discharge pulse; at: length, state of charge, temperature (10 s, 50 % and that of the design where left out)";
        "resistance at 1 kHz" Milliohm "", 0.0 0.02 "four-wire meter", Of::Under(&[Condition::Temperature], None, |w, under| {
            let found = current_path::at_one_kilohertz(&w.design, under.celsius)?;
            Some(Change::of(found.value, Cause::HighFrequency, found.u()))
        }), "real part; metals, electrolyte and separator, no charge transfer; at: temperature";
        "cell voltage" Volt "", 0.01 0.0 "cycler", Of::Under(&[Condition::Drawn, Condition::Current], Some(Condition::Drawn), |w, under| {
            let drawn = ElectricCharge::new::<uom::si::electric_charge::coulomb>(under.drawn?);
            let open = w.estimate.balance.voltage_after(&w.design, drawn)?.value;
            let drop = under.current.map_or(0.0, |current| current * w.loaded().0.total().value);
            Some(Change::exact(open - drop))
        }), "on a slow discharge from full; at: the capacity drawn so far, and the current where its I·R counts; hysteresis and the shape of half-cell curves are most of its uncertainty";
        "cathode disc areal capacity" MilliampereHourPerSquareCentimetre "", 0.0 0.015 "cycler, on discs", Of::Under(&[Condition::Window], None, |w, under| {
            Some(Change::exact(disc(&w.design.blueprint().cathode, under.window)?.value))
        }), "reversible, per side, against lithium, of discs out of the cell; over the practical window of the material, or at: the two cut-off voltages";
        "anode disc areal capacity" MilliampereHourPerSquareCentimetre "", 0.0 0.015 "cycler, on discs", Of::Under(&[Condition::Window], None, |w, under| {
            Some(Change::exact(disc(&w.design.blueprint().anode, under.window)?.value))
        }), "as that of the cathode's";
    }
};

/// A quantity as it is listed.
#[derive(Clone, Debug, Serialize)]
pub struct Listed {
    /// Its name.
    pub key: &'static str,
    /// Heading.
    pub group: &'static str,
    /// Unit of the trade.
    pub unit: &'static str,
    /// Path of the input it reads directly; empty for none.
    pub input: &'static str,
    /// Standard uncertainty of an ordinary instrument, as one would write it: common practice, no source.
    pub typical: String,
    /// That instrument.
    pub instrument: &'static str,
    /// What is meant by it.
    pub note: &'static str,
}

/// Every quantity as it is listed.
pub fn listed() -> Vec<Listed> {
    let typical = |quantity: &Quantity| {
        let Typical { absolute, relative, .. } = quantity.typical;
        let parts = [(absolute, quantity.unit.symbol()), (100.0 * relative, "% of the value")];
        let told = parts.iter().filter(|(u, _)| *u > 0.0).map(|(u, unit)| format!("{u} {unit}"));
        told.collect::<Vec<_>>().join(" and ")
    };
    QUANTITIES
        .iter()
        .map(|quantity| Listed {
            key: quantity.key,
            group: quantity.group,
            unit: quantity.unit.symbol(),
            input: quantity.input,
            typical: typical(quantity),
            instrument: quantity.typical.instrument,
            note: quantity.note,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::draft;

    #[test]
    fn names_are_unique_and_found_however_they_are_written() {
        for (i, quantity) in QUANTITIES.iter().enumerate() {
            assert!(
                QUANTITIES.iter().skip(i + 1).all(|other| folded(other.key) != folded(quantity.key)),
                "{}",
                quantity.key
            );
            if !quantity.key.contains("[]") {
                assert_eq!(
                    find(&quantity.key.to_uppercase().replace(' ', "_"), None).unwrap().quantity.key,
                    quantity.key
                );
            }
            assert!(quantity.typical.absolute + quantity.typical.relative > 0.0, "{}", quantity.key);
            if !quantity.input.is_empty() {
                let field = field(quantity.input).expect(quantity.key);
                assert_eq!(field.unit.dimension(), quantity.unit.dimension(), "{}", quantity.key);
            }
        }
        for name in ["height of lid", "parts[lid].height", "Height of lid"] {
            let asked = find(name, None).unwrap();
            assert_eq!(
                (asked.key().as_str(), asked.label().as_str()),
                ("parts[lid].height", "height of lid")
            );
        }
        assert_eq!(find("nickel of NMC811", None).unwrap().key(), "materials[NMC811].metals.nickel");
        assert_eq!(find("axial clearance", Some("plate")).unwrap().key(), "parts[plate].axial_clearance");
        assert_eq!(find("winding.cathode_length", None).unwrap().key(), "cathode length");
        let told = find("cathod lenght", None).unwrap_err().to_string();
        assert!(told.contains("perhaps \"cathode length\" was meant"), "{told}");
        assert!(find("", None).unwrap_err().found == "nothing");
    }

    /// The cell of round numbers: widths 80, + 2 · 0.5, + 2 · 0.5 mm; foils and coatings 12 + 2 · 50, 8 + 2 · 100 µm.
    #[test]
    fn a_design_predicts_what_a_bench_would_read() {
        let draft = draft(&[]);
        let values = draft.values();
        let worked = Worked::at(&draft, &values).unwrap();
        let read = |name: &str| {
            let asked =
                Asked::proposed(find(name, None).unwrap().quantity, find(name, None).unwrap().part, &worked);
            asked.predict(&draft, &values, &worked).map(|value| value / asked.quantity.unit.in_si())
        };
        for (name, value) in [
            ("anode width", 81.0),
            ("separator width", 82.0),
            ("cathode coated both faces", 112.0),
            ("anode coated both faces", 208.0),
            ("cathode coated one face", 62.0),
            ("anode coated one face", 108.0),
            ("separator thickness", 20.0),
            ("roll diameter", 44.5),
            ("axial clearance of plate", 1.5),
            ("mass of plate", 4.0),
            ("cathode disc areal capacity", 3.6),
            ("anode areal capacity", 4.5),
        ] {
            let predicted = read(name).expect(name);
            assert!((predicted - value).abs() < 1e-9, "{name}: {predicted}");
        }
        assert_eq!(read("height of spring"), None);
        let [dry, wet, cell, dry_cell, liquid] =
            ["dry roll mass", "wet roll mass", "cell mass", "dry cell mass", "electrolyte mass"]
                .map(|n| read(n).unwrap());
        // A tenth of the electrolyte in the pores stands free: of 1.1 shares, one is in the roll.
        assert!((wet - dry - liquid / 1.1).abs() < 1e-9 && (cell - dry_cell - liquid).abs() < 1e-9);
        // Every quantity but a part's and those that are entries of their own has a prediction.
        let plain = |q: &&Quantity| !q.key.contains("[]") && !q.key.starts_with("silicon");
        for quantity in QUANTITIES.iter().filter(plain) {
            assert!(read(quantity.key).is_some(), "{}", quantity.key);
        }
    }

    /// Straight curves: 4.4 V less y on 4 mAh/cm² a volt, 0.9 of 20 mg/cm² with 200 mAh/g of host from 0 to 1.
    #[test]
    fn conditions_are_taken() {
        let draft = draft(&[]);
        let values = draft.values();
        let worked = Worked::at(&draft, &values).unwrap();
        let read = |name: &str, under: &str| {
            let asked = find(name, None).unwrap();
            let Of::Under(takes, needs, _) = asked.quantity.of else { panic!("{name}") };
            let under = Conditions::read(under, takes, needs).unwrap();
            let asked = Asked { under, ..asked };
            asked.predict(&draft, &values, &worked).unwrap() / asked.quantity.unit.in_si()
        };
        // From y = 0.9 to y = 0.4, half of 3.6 mAh/cm².
        assert!((read("cathode disc areal capacity", "3.5 .. 4.0 V") - 1.8).abs() < 1e-6);
        // From 0.42 to 0.18 V: 0.6 of 4.5 mAh/cm².
        assert!((read("anode disc areal capacity", "0.18 .. 0.42 V") - 2.7).abs() < 1e-6);
        let balance = &worked.estimate.balance;
        let capacity = balance.capacity.value / 3600.0;
        assert!((read("cell voltage", "0 Ah") - 4.1).abs() < 1e-6);
        let windows = balance.windows.unwrap();
        let end = 4.4 - windows.cathode_discharged - (0.5 - 0.4 * windows.anode_discharged);
        assert!((read("cell voltage", &format!("{capacity:.12} Ah")) - end).abs() < 1e-6);
        let drop = read("cell voltage", "1 Ah") - read("cell voltage", "1 Ah, 2 A");
        assert!((drop - 2.0 * worked.loaded().0.total().value).abs() < 1e-9);
        assert!(read("pulse resistance", "30 s, 60 %") > read("pulse resistance", "1 s, 60 %"));
        let unsure = Asked::proposed(find("pulse resistance", None).unwrap().quantity, None, &worked);
        assert!(unsure.unsure(&draft, &worked).iter().sum::<f64>() > 0.0);
    }
}
