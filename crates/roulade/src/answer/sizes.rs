//! A map over diameter and height, or a sweep along one input or over two: figures as compact data, the lines of equal
//! value, and the common sizes with their uncertainties.

use super::pen::Figure;
use crate::contour::{Field, Line, levels};
use crate::design::sheet::{Along, Hold as HoldSheet, MapQuestion, Sheet, Span, SweepQuestion, Unknown};
use crate::design::{Draft, defaults, unknown_keys};
use crate::figures::{Definition, FIGURES, Worked, definition};
use crate::known::{Known, Spread};
use crate::many::Hands;
use crate::notation;
use crate::problem::{Problem, Problems, nearest, shortened};
use crate::sizes::{Axis, Grid, Held, Hold, Parts, Recipe, Wall, common};
use crate::spread::FirstOrder;
use crate::spread::interval::Interval;
use crate::units::{Dimension, Length, Unit};
use serde::Serialize;

/// Figures of a map where the question names none.
const USUAL: [&str; 9] = [
    "volumetric",
    "gravimetric",
    "capacity",
    "energy",
    "mass",
    "resistance",
    "heat.radial",
    "heat.axial",
    "roll.cathode_turns",
];

/// Most cells of one grid: half a second on one core.
const MOST_CELLS: usize = 250_000;

/// An axis.
#[derive(Clone, Debug, Serialize)]
pub struct AxisRow {
    /// Key of the input.
    pub key: String,
    /// What it is called, with its section.
    pub label: String,
    /// Unit of its values.
    pub unit: &'static str,
    /// Values, both ends included.
    pub values: Vec<f64>,
}

/// The lines of one level.
#[derive(Clone, Debug, Serialize)]
pub struct Contour {
    /// The level, in the unit of the figure.
    pub level: f64,
    /// Its lines as pairs in the units of the axes; a closed one ends where it began.
    pub lines: Vec<Line>,
}

/// A figure over the grid.
#[derive(Clone, Debug, Serialize)]
pub struct GridFigure {
    /// Its name.
    pub id: &'static str,
    /// What it is.
    pub label: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// What is meant; may be empty.
    pub note: &'static str,
    /// Values to seven digits, the first axis running fastest; `null` where there is none.
    pub values: Vec<f64>,
    /// The least of them; `null` where there is none.
    pub least: f64,
    /// The greatest.
    pub greatest: f64,
    /// Lines at round levels, over two axes.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub contours: Vec<Contour>,
}

/// A figure that the grid does not have.
#[derive(Clone, Debug, Serialize)]
pub struct AbsentRow {
    /// Its name.
    pub id: String,
    /// Why not.
    pub why: &'static str,
}

/// Cells that are blank for one reason.
#[derive(Clone, Debug, Serialize)]
pub struct BlankRow {
    /// How many.
    pub cells: usize,
    /// Place in the sheet.
    pub place: String,
    /// What was found there, in the first of them.
    pub found: String,
    /// What would be right.
    pub expected: String,
}

/// One size with its figures.
#[derive(Clone, Debug, Serialize)]
pub struct SizeRow {
    /// "21 × 70", or the cell's name for its own size.
    pub label: String,
    /// As a standard names it.
    pub designation: String,
    /// Outer diameter, mm.
    pub diameter: f64,
    /// Outer height, mm.
    pub height: f64,
    /// A figure for each of the grid's, with its uncertainty; `null` where the cell has none.
    pub figures: Vec<Option<Figure>>,
    /// Why there is no cell of that size.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}

/// A map or a sweep.
#[derive(Clone, Debug, Serialize)]
pub struct GridAnswer {
    /// Version of this crate.
    pub roulade: &'static str,
    /// Name of the cell.
    pub cell: String,
    /// One axis or two; the first runs fastest.
    pub axes: Vec<AxisRow>,
    /// The figures.
    pub figures: Vec<GridFigure>,
    /// Figures that were asked for, or are usual, and are not there.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub absent: Vec<AbsentRow>,
    /// How many cells the grid has.
    pub cells: usize,
    /// Why cells are blank.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub blank: Vec<BlankRow>,
    /// What is held; empty where all else is as the sheet has it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub held: Vec<Held>,
    /// The cell in its own can, by the same rules.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub own: Option<SizeRow>,
    /// Common sizes inside the map.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub common: Vec<SizeRow>,
    /// What to know of this answer.
    pub remarks: Vec<String>,
}

impl GridAnswer {
    /// The recipe of a sheet in cans of other diameters and heights.
    ///
    /// # Errors
    /// Everything wrong with the question; places of the sheet begin with `sheet.`.
    pub fn map(question: MapQuestion, hands: &impl Hands) -> Result<Self, Problems> {
        let MapQuestion { sheet, diameter, height, hold, figures, unknown } = question;
        let mut problems = Problems::default();
        unknown_keys(&mut problems, "", &unknown, MapQuestion::KEYS);
        let hold = read_hold(hold, &mut problems);
        let figures = read_figures(figures, &mut problems);
        let draft = read_sheet(sheet, &mut problems);
        let axes: Vec<Along> = [("diameter", "can.diameter", diameter), ("height", "can.height", height)]
            .into_iter()
            .filter_map(|(place, key, span)| along(place, key, span, &mut problems))
            .collect();
        let places = ["diameter".to_owned(), "height".to_owned()];
        let axes = draft.as_ref().map(|draft| read_axes(draft, &axes, &places, true, &mut problems));
        let (Some(draft), Some(axes), true) = (draft, axes, problems.0.is_empty()) else {
            return Err(problems);
        };
        let recipe = Recipe::of(&draft, &draft.values(), hold).map_err(|p| p.within("sheet"))?;
        let mut answer = Self::of(&draft, &axes, figures, recipe.values(), |v| recipe.at(v), hands);
        answer.held = recipe.held();
        answer.sizes(&draft, hold, &recipe);
        Ok(answer)
    }

    /// A cell along one of its inputs, or over two.
    ///
    /// # Errors
    /// Everything wrong with the question; places of the sheet begin with `sheet.`.
    pub fn sweep(question: SweepQuestion, hands: &impl Hands) -> Result<Self, Problems> {
        let SweepQuestion { sheet, along, hold, figures, unknown } = question;
        let mut problems = Problems::default();
        unknown_keys(&mut problems, "", &unknown, SweepQuestion::KEYS);
        let along = along.unwrap_or_default();
        let places: Vec<String> = (0..along.len()).map(|i| format!("along[{i}]")).collect();
        for (along, place) in along.iter().zip(&places) {
            unknown_keys(&mut problems, place, &along.unknown, Along::KEYS);
        }
        if !(1..=2).contains(&along.len()) {
            let found =
                if along.is_empty() { "nothing".to_owned() } else { format!("{} inputs", along.len()) };
            problems.push(Problem::new(
                "along",
                found,
                "one input, or two, each with key, from, to and steps",
            ));
        }
        // The can's own sizes leave open what becomes of everything else.
        let resized = hold.is_some()
            || along.iter().any(|a| a.key.as_deref().is_some_and(|key| SIZES.contains(&key.trim())));
        let hold = read_hold(hold, &mut problems);
        let figures = read_figures(figures, &mut problems);
        let draft = read_sheet(sheet, &mut problems);
        let axes = draft.as_ref().map(|draft| read_axes(draft, &along, &places, resized, &mut problems));
        let (Some(draft), Some(axes), true) = (draft, axes, problems.0.is_empty()) else {
            return Err(problems);
        };
        if resized {
            let recipe = Recipe::of(&draft, &draft.values(), hold).map_err(|p| p.within("sheet"))?;
            let mut answer = Self::of(&draft, &axes, figures, recipe.values(), |v| recipe.at(v), hands);
            answer.held = recipe.held();
            Ok(answer)
        } else {
            Ok(Self::of(&draft, &axes, figures, &draft.values(), |v| Worked::at(&draft, v), hands))
        }
    }

    fn of(
        draft: &Draft,
        axes: &[Axis],
        asked: Vec<Result<&'static Definition, String>>,
        values: &[f64],
        cell: impl Fn(&[f64]) -> Result<Worked, Problems> + Sync,
        hands: &impl Hands,
    ) -> Self {
        let mut absent = Vec::new();
        let mut figures = Vec::new();
        for figure in asked {
            match figure {
                Ok(figure) => figures.push(figure),
                Err(id) => absent.push(AbsentRow { id, why: "no such figure in this version" }),
            }
        }
        let grid = Grid::of(axes, values, &figures, cell, hands);
        let rows: Vec<AxisRow> = axes
            .iter()
            .zip(&grid.axes)
            .filter_map(|(axis, along)| {
                let input = draft.inputs().get(axis.input)?;
                let values = along.iter().map(|v| digits(v / input.unit.in_si())).collect();
                let named = input.label.contains(':');
                let label =
                    if named { input.label.clone() } else { format!("{}: {}", input.section, input.label) };
                Some(AxisRow { key: input.key.clone(), label, unit: input.unit.symbol(), values })
            })
            .collect();
        let cells = grid.axes.iter().map(Vec::len).product();
        let held_together = grid.blank.iter().map(|blank| blank.cells).sum::<usize>() < cells;
        let mut shown = Vec::new();
        for (figure, si) in figures.into_iter().zip(&grid.figures) {
            if held_together && si.iter().all(|value| value.is_nan()) {
                absent.push(AbsentRow { id: figure.id.to_owned(), why: "this cell has no such figure" });
            } else {
                shown.push(grid_figure(figure, si, &rows));
            }
        }
        let blank = grid.blank.into_iter().map(|blank| BlankRow {
            cells: blank.cells,
            place: blank.reason.place,
            found: blank.reason.found,
            expected: blank.reason.expected,
        });
        Self {
            roulade: env!("CARGO_PKG_VERSION"),
            cell: draft.name().to_owned(),
            axes: rows,
            figures: shown,
            absent,
            cells,
            blank: blank.collect(),
            held: Vec::new(),
            own: None,
            common: Vec::new(),
            remarks: draft.remarks().to_vec(),
        }
    }

    /// The cell's own size and the common ones inside the map, each with its uncertainties.
    fn sizes(&mut self, draft: &Draft, hold: Hold, recipe: &Recipe<'_>) {
        let figures: Vec<&'static Definition> =
            self.figures.iter().filter_map(|figure| definition(figure.id)).collect();
        let letter = common::letter(recipe.own().blueprint());
        let row = |label: String, diameter: f64, height: f64| {
            let figures = sized(draft, hold, recipe, &figures, diameter, height);
            let (figures, why) = match figures {
                Ok(figures) => (figures, None),
                Err(problems) => (Vec::new(), problems.0.first().map(ToString::to_string)),
            };
            let designation = common::designation(letter, diameter, height);
            SizeRow { label, designation, diameter, height, figures, why }
        };
        let can = &recipe.own().blueprint().can;
        self.own = Some(row(
            draft.name().to_owned(),
            digits(1e3 * can.diameter.value),
            digits(1e3 * can.height.value),
        ));
        let inside = |axis: Option<&AxisRow>, value: f64| {
            axis.and_then(|axis| Some((*axis.values.first()?, *axis.values.last()?)))
                .is_some_and(|(from, to)| (from.min(to)..=from.max(to)).contains(&value))
        };
        self.common = common::COMMON
            .into_iter()
            .filter(|(d, h)| {
                inside(self.axes.first(), f64::from(*d)) && inside(self.axes.get(1), f64::from(*h))
            })
            .map(|(d, h)| row(common::label(d, h), f64::from(d), f64::from(h)))
            .collect();
        self.remarks
            .push(format!("Common sizes, nominal: common practice, no source; {}.", common::STANDARD));
    }
}

/// Inputs that change the size of the can.
const SIZES: [&str; 4] = ["can.diameter", "can.height", "can.wall", "can.bottom"];

/// Figures of the recipe in one can, with uncertainties: the recipe is taken anew from each moved sheet, so that what it
/// holds moves too. The size itself is exact.
fn sized(
    draft: &Draft,
    hold: Hold,
    recipe: &Recipe<'_>,
    figures: &[&'static Definition],
    diameter: f64,
    height: f64,
) -> Result<Vec<Option<Figure>>, Problems> {
    let mm = Length::new::<uom::si::length::millimeter>;
    let of = |recipe: &Recipe<'_>| -> Result<Vec<f64>, Problems> {
        let worked = recipe.sized(mm(diameter), mm(height))?;
        Ok(figures.iter().map(|figure| (figure.of)(&worked).unwrap_or(f64::NAN)).collect())
    };
    let best = of(recipe)?;
    let known: Vec<Known> = draft.inputs().iter().map(|input| input.known).collect();
    let spread = FirstOrder::of(&known, draft.correlation(), &best, |values| {
        of(&Recipe::of(draft, values, hold).ok()?).ok()
    });
    let write = |(i, (definition, value)): (usize, (&&Definition, &f64))| {
        (!value.is_nan()).then(|| figure(*value, spread.u(i), definition.unit))
    };
    Ok(figures.iter().zip(&best).enumerate().map(write).collect())
}

fn figure(value: f64, u: f64, unit: Unit) -> Figure {
    Figure::of(value, u, Interval::about(value, u), unit, notation::print)
}

fn grid_figure(figure: &'static Definition, si: &[f64], axes: &[AxisRow]) -> GridFigure {
    let values: Vec<f64> = si.iter().map(|value| digits(value / figure.unit.in_si())).collect();
    let extreme = |of: fn(f64, f64) -> f64| values.iter().copied().fold(f64::NAN, of);
    let (least, greatest) = (extreme(f64::min), extreme(f64::max));
    let mut contours = Vec::new();
    if let [x, y] = axes {
        let field = Field { x: &x.values, y: &y.values, heights: &values };
        for level in levels(least, greatest, 9) {
            let mut lines = field.lines(level);
            lines.iter_mut().flatten().flatten().for_each(|place| *place = digits(*place));
            contours.push(Contour { level, lines });
        }
    }
    GridFigure {
        id: figure.id,
        label: figure.label,
        unit: figure.unit.symbol(),
        note: figure.note,
        values,
        least,
        greatest,
        contours,
    }
}

/// To seven significant digits, so that a grid of tens of thousands stays small: a ten-thousandth of any uncertainty here.
fn digits(value: f64) -> f64 {
    format!("{value:.6e}").parse().unwrap_or(f64::NAN)
}

fn along(place: &str, key: &str, span: Option<Span>, problems: &mut Problems) -> Option<Along> {
    let Some(Span { from, to, steps, unknown }) = span else {
        problems.push(Problem::new(
            place,
            "nothing",
            "{\"from\": \"16 mm\", \"to\": \"50 mm\", \"steps\": 34}",
        ));
        return None;
    };
    unknown_keys(problems, place, &unknown, Span::KEYS);
    Some(Along { key: Some(key.to_owned()), from, to, steps, unknown: Unknown::default() })
}

fn read_sheet(sheet: Option<Sheet>, problems: &mut Problems) -> Option<Draft> {
    let Some(sheet) = sheet else {
        problems.push(Problem::new("sheet", "nothing", "the question has a sheet"));
        return None;
    };
    match Draft::read(&sheet) {
        Ok(draft) => Some(draft),
        Err(more) => {
            problems.0.extend(more.within("sheet").0);
            None
        }
    }
}

/// Figures by id, with those that this version lacks where the question names none.
fn read_figures(
    asked: Option<Vec<String>>,
    problems: &mut Problems,
) -> Vec<Result<&'static Definition, String>> {
    let Some(asked) = asked else {
        return USUAL.iter().map(|id| definition(id).ok_or_else(|| (*id).to_owned())).collect();
    };
    let mut figures: Vec<Result<&'static Definition, String>> = Vec::new();
    for (i, id) in asked.iter().enumerate() {
        match definition(id.trim()) {
            Some(figure) if !figures.iter().flatten().any(|other| other.id == figure.id) => {
                figures.push(Ok(figure));
            }
            Some(_) => {}
            None => problems.push(unknown_figure(&format!("figures[{i}]"), id)),
        }
    }
    if asked.is_empty() {
        problems.push(Problem::new("figures", "an empty list", "one figure or more, such as \"volumetric\""));
    }
    figures
}

/// The complaint about a figure that there is not.
pub(crate) fn unknown_figure(place: &str, id: &str) -> Problem {
    let near = nearest(id, FIGURES.iter().map(|figure| figure.id));
    let hint = near.map_or(String::new(), |near| format!("perhaps \"{near}\" was meant; "));
    let ids: Vec<&str> = FIGURES.iter().map(|figure| figure.id).collect();
    let found = format!("\"{}\", a figure that is not known", shortened(id));
    Problem::new(place, found, format!("{hint}one of: {}", ids.join(", ")))
}

fn read_axes(
    draft: &Draft,
    along: &[Along],
    places: &[String],
    resized: bool,
    problems: &mut Problems,
) -> Vec<Axis> {
    let mut axes: Vec<Axis> = Vec::new();
    for (along, place) in along.iter().zip(places) {
        let Some(axis) = read_axis(draft, along, place, resized, problems) else { continue };
        if axes.iter().any(|other| other.input == axis.input) {
            problems.push(Problem::new(
                format!("{place}.key"),
                "the same input a second time",
                "another input",
            ));
        }
        axes.push(axis);
    }
    let cells: u64 = axes.iter().map(|axis| u64::from(axis.steps) + 1).product();
    if cells > MOST_CELLS as u64 {
        let place = places.first().map_or(String::new(), |place| format!("{place}.steps"));
        problems.push(Problem::new(
            place,
            format!("{cells} cells"),
            format!("a grid has at most {MOST_CELLS}: fewer steps"),
        ));
    }
    axes
}

/// The number of an input by its key or its path in the sheet.
///
/// # Errors
/// Where the cell has no such input, or it follows from others.
pub(crate) fn input_of(draft: &Draft, key: &str, place: &str) -> Result<usize, Problem> {
    let wanted = key.trim();
    let at = draft.inputs().iter().position(|input| input.key == wanted || input.path == wanted);
    if at.is_some_and(|number| draft.gives_way(number)) {
        let found = format!("\"{}\", the share that takes what the others leave", shortened(key));
        return Err(Problem::new(place, found, "a share of another component: this one gives way to it"));
    }
    at.ok_or_else(|| {
        let known = defaults::field(wanted).is_some();
        let found = if known {
            format!("\"{}\", which is not among the entries of this cell", shortened(key))
        } else {
            format!("\"{}\", a key that is not known", shortened(key))
        };
        let near = nearest(wanted, draft.inputs().iter().map(|input| input.key.as_str()));
        let hint = near.filter(|_| !known).map(|near| format!("perhaps \"{near}\" was meant; "));
        let why = if known { "it follows from the others; give it in the sheet to move it; " } else { "" };
        let hint = hint.unwrap_or_default() + why;
        Problem::new(
            place,
            found,
            format!("{hint}any key of the sheet that this cell has, with its unit and range"),
        )
    })
}

fn read_axis(
    draft: &Draft,
    along: &Along,
    place: &str,
    resized: bool,
    problems: &mut Problems,
) -> Option<Axis> {
    let within = |what: &str| format!("{place}.{what}");
    let Some(key) = &along.key else {
        problems.push(Problem::new(
            within("key"),
            "nothing",
            "the key of an input, such as \"cathode.loading\"",
        ));
        return None;
    };
    let number = match input_of(draft, key, &within("key")) {
        Ok(number) => number,
        Err(problem) => {
            problems.push(problem);
            return None;
        }
    };
    let input = draft.inputs().get(number)?;
    if let Some(by) = Recipe::replaces(&input.key).filter(|_| resized) {
        problems.push(Problem::new(
            within("key"),
            format!("\"{}\", where the can changes its size: {by}", input.key),
            "another input, or what is held instead",
        ));
    }
    let bound = defaults::field(&input.path).or_else(|| defaults::field(&input.key)).map(|field| field.bound);
    let mut end = |what: &str, text: Option<&String>| {
        let place = within(what);
        let Some(text) = text else {
            let example = notation::dimension_words(input.unit.dimension()).1;
            problems.push(Problem::new(
                place,
                "nothing",
                format!("a value with its unit, for example \"{example}\""),
            ));
            return None;
        };
        let known = read_exact(text, input.unit.dimension(), &place, problems)?;
        if let Some(bound) = bound.filter(|bound| !bound.holds(known)) {
            let expected = format!("{}: must be {}", input.label, bound.words());
            problems.push(Problem::new(place, format!("\"{}\"", shortened(text)), expected));
            return None;
        }
        Some(known)
    };
    let (from, to) = (end("from", along.from.as_ref()), end("to", along.to.as_ref()));
    let steps = match along.steps {
        Some(0) => {
            problems.push(Problem::new(within("steps"), "0", "one step or more"));
            None
        }
        Some(steps) => Some(steps),
        None => {
            problems.push(Problem::new(
                within("steps"),
                "nothing",
                "a number of steps; there is one value more",
            ));
            None
        }
    };
    let (from, to) = (from?, to?);
    if from.total_cmp(&to).is_eq() {
        problems.push(Problem::new(
            within("to"),
            "the value it begins with",
            "another value: a stretch has two ends",
        ));
    }
    Some(Axis { input: number, from, to, steps: steps? })
}

/// A quantity without a spread.
pub(crate) fn read_exact(
    text: &str,
    dimension: Dimension,
    place: &str,
    problems: &mut Problems,
) -> Option<f64> {
    match notation::read(text, dimension) {
        Ok(Known { value, spread: Spread::Exact }) => Some(value),
        Ok(_) => {
            let found = format!("\"{}\", with a spread", shortened(text));
            problems.push(Problem::new(place, found, "one value with its unit"));
            None
        }
        Err(complaint) => {
            problems.push(complaint.at(place));
            None
        }
    }
}

fn read_hold(hold: Option<HoldSheet>, problems: &mut Problems) -> Hold {
    let Some(asked) = hold else { return Hold::default() };
    unknown_keys(problems, "hold", &asked.unknown, HoldSheet::KEYS);
    let with_the_diameter = asked.wall.as_deref().map(str::trim) == Some("with the diameter");
    let mut length = |key: &str, text: Option<String>| {
        let place = format!("hold.{key}");
        let text = text?;
        let value = read_exact(&text, Dimension::Length, &place, problems)?;
        let field = match key {
            "head_space" => defaults::field(key),
            "wall" | "bottom" => defaults::field(&format!("can.{key}")),
            _ => defaults::field(&format!("winding.{key}")),
        };
        if let Some(field) = field.filter(|field| !field.bound.holds(value)) {
            let expected = format!("{}: must be {}", field.label, field.bound.words());
            problems.push(Problem::new(place, format!("\"{}\"", shortened(&text)), expected));
        }
        Some(Length::new::<uom::si::length::meter>(value))
    };
    let mut hold = Hold {
        wall: if with_the_diameter { Wall::WithTheDiameter } else { Wall::Stays },
        wall_thickness: length("wall", asked.wall.filter(|_| !with_the_diameter)),
        bottom: length("bottom", asked.bottom),
        core_diameter: length("core_diameter", asked.core_diameter),
        radial_gap: length("radial_gap", asked.radial_gap),
        head_space: length("head_space", asked.head_space),
        parts: Parts::WithTheBore,
    };
    match asked.parts.as_deref().map(str::trim) {
        None | Some("with the bore") => {}
        Some("as they are") => hold.parts = Parts::AsTheyAre,
        Some(other) => problems.push(Problem::new(
            "hold.parts",
            format!("\"{}\"", shortened(other)),
            "\"with the bore\", or \"as they are\"",
        )),
    }
    hold
}

#[cfg(test)]
mod tests;
