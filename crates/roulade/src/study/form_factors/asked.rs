//! What a question about sizes asks for: inputs by their keys, stretches of them, figures by their ids, what is held.

use super::{Axis, Hardware, Hold, Parts, Recipe, Wall};
use crate::cell::draft::Draft;
use crate::cell::draft::Input;
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems, hint, nearest, shortened};
use crate::quantity::units::{Dimension, Length};
use crate::section;
use crate::sheet::{Sheet, defaults, former, unknown_keys};
use crate::study::effort;
use roulade_stats::uncertain::{Spread, Uncertain};

/// Most cells of one grid: half a second on one core.
const MOST_CELLS: u64 = 250_000;

section! {
    /// One input of a sweep.
    Along {
        /// Its key in the sheet.
        key: String,
        /// Where it begins, with its unit.
        from: String,
        /// Where it ends, with its unit.
        to: String,
        /// How many steps it is walked in.
        steps: u32,
    }
}

section! {
    /// What stays as it is where a recipe goes into another can. What is left out is that of the sheet, and hardware grows
    /// with the diameter.
    HoldEntries {
        /// Wall, bottom, core, radial clearance, and heights of parts: "grows" with the diameter as from cell to cell, or
        /// "stays".
        hardware: String,
        /// Wall thickness, or "with the diameter".
        wall: String,
        /// Bottom thickness.
        bottom: String,
        /// Core diameter.
        core_diameter: String,
        /// Mean radial clearance.
        radial_clearance: String,
        /// Empty height above the roll.
        void_height: String,
        /// Masses and volumes of parts: "with the inner diameter", or "as they are".
        parts: String,
    }
}

section! {
    /// A can of another size.
    ResizeEntries {
        /// Outer diameter of the other can.
        diameter: String,
        /// Its outer height.
        height: String,
        /// What is held.
        hold: HoldEntries,
    }
}

impl ResizeEntries {
    /// The sheet in that can.
    ///
    /// # Errors
    /// Everything wrong with the entries, or with the sheet in its own can or in the other.
    pub fn resized(self, sheet: Sheet) -> Result<Sheet, Problems> {
        let mut problems = Problems::default();
        unknown_keys(&mut problems, "", &self.unknown, Self::KEYS);
        let mut side = |place: &'static str, text: Option<String>| {
            let read =
                text.ok_or_else(|| Problem::new(place, "nothing", "a length, such as \"21 mm\"")).and_then(
                    |text| notation::read(&text, Dimension::Length).map_err(|complaint| complaint.at(place)),
                );
            read.map_err(|problem| problems.push(problem)).ok()
        };
        let sides = side("diameter", self.diameter).zip(side("height", self.height));
        let hold = hold(self.hold, &mut problems);
        match sides {
            Some((diameter, height)) if problems.0.is_empty() => {
                let length = |uncertain: Uncertain| Length::new::<uom::si::length::meter>(uncertain.value);
                super::resized(sheet, length(diameter), length(height), hold)
            }
            _ => Err(problems),
        }
    }
}

/// Inputs that change the size of the can: they leave open what becomes of everything else.
const SIZES: [&str; 4] = ["can.diameter", "can.height", "can.wall", "can.bottom"];

/// Whether an input changes the size of the can.
pub fn resizes(key: Option<&str>) -> bool {
    key.is_some_and(|key| SIZES.contains(&key.trim()))
}

/// The number of an input by its key, or by its path in the sheet. `resized` says that a recipe replaces some.
///
/// # Errors
/// Where the cell has no such input, or it follows from others.
pub fn input(draft: &Draft, key: &str, resized: bool, place: &str) -> Result<usize, Problem> {
    let wanted = &*former::path_today(key.trim());
    let quoted = || format!("\"{}\"", shortened(key));
    let found = draft.inputs().iter().enumerate().find(|(_, i)| i.key == wanted || i.path == wanted);
    let Some((number, input)) = found else {
        if defaults::field(wanted).is_some() {
            return Err(Problem::new(
                place,
                format!("{}, which is not among the entries of this cell", quoted()),
                "an entry that the cell has; this one follows from others, or belongs to a part or a material that is not \
                 there",
            ));
        }
        let near = nearest(wanted, draft.inputs().iter().map(|input| input.key.as_ref()));
        let hint = hint(near);
        return Err(Problem::new(
            place,
            format!("{}, a key that is not known", quoted()),
            format!("the key of an entry, such as \"cathode.loading\"{hint}"),
        ));
    };
    if draft.gives_way(number) {
        return Err(Problem::new(
            place,
            format!("{}, the share that takes what the others leave", quoted()),
            "the share of another component; this one follows from it",
        ));
    }
    match Recipe::replaces(&input.key).filter(|_| resized) {
        Some(by) => Err(Problem::new(
            place,
            format!("{}, where the can changes its size", quoted()),
            format!("another input, since {by}"),
        )),
        None => Ok(number),
    }
}

/// An input between two values, told as much as is wrong with them.
pub fn stretch(
    draft: &Draft,
    [key, from, to]: [Option<&str>; 3],
    resized: bool,
    place: &str,
    problems: &mut Problems,
) -> Option<(usize, f64, f64)> {
    let at = |what: &str| format!("{place}.{what}");
    let Some(key) = key else {
        problems.push(Problem::new(at("key"), "nothing", "the key of an entry, such as \"cathode.loading\""));
        return None;
    };
    let number = match input(draft, key, resized, &at("key")) {
        Ok(number) => number,
        Err(problem) => {
            problems.push(problem);
            return None;
        }
    };
    let input = draft.inputs().get(number)?;
    let (from, to) = (value(input, from, &at("from"), problems), value(input, to, &at("to"), problems));
    let (from, to) = (from?, to?);
    if from.total_cmp(&to).is_eq() {
        problems.push(Problem::new(
            at("to"),
            "the value that it begins with",
            "another value, so that the range has two ends",
        ));
    }
    Some((number, from, to))
}

/// One value of an input, within its bound.
fn value(input: &Input, text: Option<&str>, place: &str, problems: &mut Problems) -> Option<f64> {
    let Some(text) = text else {
        let example = notation::dimension_words(input.unit.dimension()).1;
        problems.push(Problem::new(
            place,
            "nothing",
            format!("a value with its unit, for example \"{example}\""),
        ));
        return None;
    };
    let value = exact(text, input.unit.dimension(), place, problems)?;
    within_bound(&input.path, &input.label, value, text, place, problems)
}

fn within_bound(
    path: &str,
    label: &str,
    value: f64,
    text: &str,
    place: &str,
    problems: &mut Problems,
) -> Option<f64> {
    match defaults::field(path).map(|field| field.bound).filter(|bound| !bound.holds(value)) {
        Some(bound) => {
            let found = format!("\"{}\"", shortened(text));
            problems.push(Problem::new(place, found, bound.asks(label)));
            None
        }
        None => Some(value),
    }
}

/// A quantity without a spread.
pub fn exact(text: &str, dimension: Dimension, place: &str, problems: &mut Problems) -> Option<f64> {
    match notation::read(text, dimension) {
        Ok(Uncertain { value, spread: Spread::Exact }) => Some(value),
        Ok(_) => {
            let found = format!("\"{}\", with an uncertainty", shortened(text));
            problems.push(Problem::new(place, found, "one value with its unit, without an uncertainty"));
            None
        }
        Err(complaint) => {
            problems.push(complaint.at(place));
            None
        }
    }
}

/// The axes of a grid, as many as hold.
pub fn axes(
    draft: &Draft,
    along: &[Along],
    places: &[&str],
    resized: bool,
    problems: &mut Problems,
) -> Vec<Axis> {
    let mut axes: Vec<Axis> = Vec::new();
    for (along, place) in along.iter().zip(places) {
        let texts = [along.key.as_deref(), along.from.as_deref(), along.to.as_deref()];
        let stretch = stretch(draft, texts, resized, place, problems);
        let steps = along.steps.filter(|steps| *steps > 0);
        if steps.is_none() {
            let found = if along.steps.is_none() { "nothing" } else { "0" };
            let expected = "one step or more";
            problems.push(Problem::new(format!("{place}.steps"), found, expected));
        }
        let (Some((input, from, to)), Some(steps)) = (stretch, steps) else { continue };
        if axes.iter().any(|other| other.input == input) {
            problems.push(Problem::new(
                format!("{place}.key"),
                "the same input a second time",
                "each input to be named once",
            ));
        }
        axes.push(Axis { input, from, to, steps });
    }
    let cells = axes.iter().fold(1_u64, |cells, axis| cells.saturating_mul(u64::from(axis.steps) + 1));
    let most = (effort::cells(draft.inputs().len(), 0) as u64).min(MOST_CELLS);
    if cells > most {
        let place = format!("{}.steps", places.first().copied().unwrap_or_default());
        let of_many = if most < MOST_CELLS { " of so many entries" } else { "" };
        let expected = format!("fewer steps, so that the grid has at most {most} cells{of_many}");
        problems.push(Problem::new(place, format!("{cells} cells"), expected));
    }
    axes
}

/// What is held.
pub fn hold(asked: Option<HoldEntries>, problems: &mut Problems) -> Hold {
    let Some(HoldEntries {
        hardware,
        wall,
        bottom,
        core_diameter,
        radial_clearance,
        void_height,
        parts,
        unknown,
    }) = asked
    else {
        return Hold::default();
    };
    unknown_keys(problems, "hold", &unknown, HoldEntries::KEYS);
    let mut hold = Hold::default();
    match hardware.as_deref().map(str::trim) {
        None | Some("grows") => {}
        Some("stays") => hold.hardware = Hardware::Stays,
        Some(other) => problems.push(Problem::new(
            "hold.hardware",
            format!("\"{}\"", shortened(other)),
            "\"grows\" or \"stays\"",
        )),
    }
    match parts.as_deref().map(str::trim) {
        None | Some("with the inner diameter" | "with the bore") => {}
        Some("as they are") => hold.parts = Parts::AsTheyAre,
        Some(other) => problems.push(Problem::new(
            "hold.parts",
            format!("\"{}\"", shortened(other)),
            "\"with the inner diameter\" or \"as they are\"",
        )),
    }
    let mut length = |key: &str, path: &str, text: Option<String>| {
        let (text, place) = (text?, format!("hold.{key}"));
        let value = exact(&text, Dimension::Length, &place, problems)?;
        let label = defaults::field(path).map_or("", |field| field.label);
        let value = within_bound(path, label, value, &text, &place, problems)?;
        Some(Length::new::<uom::si::length::meter>(value))
    };
    match wall {
        Some(text) if text.trim() == "with the diameter" => hold.wall = Wall::WithTheDiameter,
        text => hold.wall_thickness = length("wall", "can.wall", text),
    }
    hold.bottom = length("bottom", "can.bottom", bottom);
    hold.core_diameter = length("core_diameter", "winding.core_diameter", core_diameter);
    hold.radial_clearance = length("radial_clearance", "winding.radial_clearance", radial_clearance);
    hold.void_height = length("void_height", "void_height", void_height);
    hold
}
