//! A map over diameter and height, or a sweep along one input or over two: figures as compact data, the lines of equal
//! value, and the common sizes with their uncertainties.

use super::estimate::named;
use super::figure_writer::Figure;
use super::hazards::cautioned;
use crate::question::{MapQuestion, Span, SweepQuestion};
use roulade::cell::draft::Draft;
use roulade::cell::figures::{self, Definition, definition};
use roulade::quantity::notation;
use roulade::quantity::problem::{Problem, Problems};
use roulade::quantity::units::{Length, Unit};
use roulade::sheet::unknown_keys;
use roulade::sheet::{Sheet, Unknown};
use roulade::study::form_factors::asked::{self, Along, HoldEntries};
use roulade::study::form_factors::{Axis, CellSource, Grid, HeldItem, Hold, Recipe, common};
use roulade_stats::contour::{Heights, Line, levels};
use roulade_stats::decimal;
use roulade_stats::executor::Executor;
use roulade_stats::propagation::FirstOrder;
use roulade_stats::propagation::interval::Interval;
use roulade_stats::uncertain::Uncertain;
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

/// An axis.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Contour {
    /// The level, in the unit of the figure.
    pub level: f64,
    /// Its lines as pairs in the units of the axes; a closed one ends where it began.
    pub lines: Vec<Line>,
}

/// A figure over the grid.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
    #[cfg_attr(feature = "schema", schemars(with = "Vec<Option<f64>>"))]
    pub values: Vec<f64>,
    /// The least of them; `null` where there is none.
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub least: f64,
    /// The greatest.
    #[cfg_attr(feature = "schema", schemars(with = "Option<f64>"))]
    pub greatest: f64,
    /// Lines at round levels, over two axes.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub contours: Vec<Contour>,
}

/// A figure that the grid does not have.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AbsentRow {
    /// Its name.
    pub id: String,
    /// Why not.
    pub why: &'static str,
}

/// Cells that are blank for one reason.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BlankRow {
    /// How many.
    pub cells: usize,
    /// Place in the sheet.
    pub place: String,
    /// What was found there, in the first of them.
    pub found: String,
    /// What would be right, as it reads after "expected".
    pub expected: String,
}

/// One size with its figures.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
    pub held: Vec<HeldItem>,
    /// The cell in its own can, by the same rules.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub own: Option<SizeRow>,
    /// Common sizes inside the map.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub common: Vec<SizeRow>,
    /// What looks wrong with entries of the sheet, each in a sentence.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub plausibility: Vec<String>,
    /// What to know of this answer.
    pub remarks: Vec<String>,
}

impl GridAnswer {
    /// The recipe of a sheet in cans of other diameters and heights.
    ///
    /// # Errors
    /// Everything wrong with the question; places of the sheet begin with `sheet.`.
    pub fn map(question: MapQuestion, executor: &impl Executor) -> Result<Self, Problems> {
        let MapQuestion { sheet, diameter, height, hold, figures, unknown } = question;
        let mut problems = Problems::default();
        unknown_keys(&mut problems, "", &unknown, MapQuestion::KEYS);
        let mut along = Vec::new();
        for (place, key, span) in [("diameter", "can.diameter", diameter), ("height", "can.height", height)] {
            let Some(Span { from, to, steps, unknown }) = span else {
                let expected = "a range, {\"from\": \"16 mm\", \"to\": \"50 mm\", \"steps\": 34}";
                problems.push(Problem::new(place, "nothing", expected));
                continue;
            };
            unknown_keys(&mut problems, place, &unknown, Span::KEYS);
            along.push(Along { key: Some(key.to_owned()), from, to, steps, unknown: Unknown::default() });
        }
        let asked = Asked { sheet, along, places: &["diameter", "height"], hold, figures, resized: true };
        let (draft, hold, mut answer) = asked.answered(problems, executor)?;
        answer.sizes(&draft, hold)?;
        Ok(answer)
    }

    /// A cell along one of its inputs, or over two.
    ///
    /// # Errors
    /// Everything wrong with the question; places of the sheet begin with `sheet.`.
    pub fn sweep(question: SweepQuestion, executor: &impl Executor) -> Result<Self, Problems> {
        let SweepQuestion { sheet, along, hold, figures, unknown } = question;
        let mut problems = Problems::default();
        unknown_keys(&mut problems, "", &unknown, SweepQuestion::KEYS);
        let along = along.unwrap_or_default();
        let places = ["along[0]", "along[1]"];
        for (along, place) in along.iter().zip(places) {
            unknown_keys(&mut problems, place, &along.unknown, Along::KEYS);
        }
        if !(1..=2).contains(&along.len()) {
            let found =
                if along.is_empty() { "nothing".to_owned() } else { format!("{} inputs", along.len()) };
            problems.push(Problem::new(
                "along",
                found,
                "one input or two, each with key, from, to and steps",
            ));
        }
        let resized = hold.is_some() || along.iter().any(|along| asked::resizes(along.key.as_deref()));
        let asked = Asked { sheet, along, places: &places, hold, figures, resized };
        asked.answered(problems, executor).map(|(_, _, answer)| answer)
    }

    fn of(
        draft: &Draft,
        axes: &[Axis],
        figures: &[&'static Definition],
        cells: &CellSource<'_>,
        executor: &impl Executor,
    ) -> Self {
        let grid = Grid::of(axes, &cells.values(), figures, |values| cells.at(values), executor);
        let held = cells.held();
        let rows: Vec<AxisRow> = axes
            .iter()
            .zip(&grid.axes)
            .filter_map(|(axis, along)| {
                let input = draft.inputs().get(axis.input)?;
                let values = along.iter().map(|v| digits(v / input.unit.in_si())).collect();
                let label = named(input, None);
                Some(AxisRow { key: input.key.to_string(), label, unit: input.unit.symbol(), values })
            })
            .collect();
        let count = grid.axes.iter().map(Vec::len).product();
        let held_together = grid.blank.iter().map(|blank| blank.cells).sum::<usize>() < count;
        let (mut shown, mut absent) = (Vec::new(), Vec::new());
        for (figure, si) in figures.iter().zip(&grid.figures) {
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
        let mut remarks = [cautioned(&[draft]), draft.remarks().to_vec()].concat();
        if rows.iter().any(|row| row.key == "can.diameter") {
            remarks.extend(cells.steps().map(str::to_owned));
        }
        Self {
            roulade: env!("CARGO_PKG_VERSION"),
            cell: draft.name().to_owned(),
            axes: rows,
            figures: shown,
            absent,
            cells: count,
            blank: blank.collect(),
            held,
            own: None,
            common: Vec::new(),
            plausibility: draft.plausibility(),
            remarks,
        }
    }

    /// The cell's own size and the common ones inside the map, each with its uncertainties.
    fn sizes(&mut self, draft: &Draft, hold: Hold) -> Result<(), Problems> {
        let recipe = &Recipe::of(draft, &draft.values(), hold)?;
        let figures: Vec<&'static Definition> =
            self.figures.iter().filter_map(|figure| definition(figure.id)).collect();
        let letter = common::letter(recipe.own().blueprint());
        let row = |label: String, diameter: f64, height: f64, [d, h]: [f64; 2]| {
            let figures = sized(draft, hold, recipe, &figures, diameter, height);
            let (figures, why) = match figures {
                Ok(figures) => (figures, None),
                Err(problems) => (Vec::new(), problems.0.first().map(ToString::to_string)),
            };
            let designation = common::designation(letter, d, h);
            SizeRow { label, designation, diameter, height, figures, why }
        };
        let can = &recipe.own().blueprint().can;
        let outer = [can.diameter, can.height];
        let [diameter, height] = outer.map(|side| digits(1e3 * side.value));
        // A can that is known by the name of its size goes by that, whatever such cans measure.
        let called = can.named.unwrap_or(outer).map(|side| 1e3 * side.value);
        self.own = Some(row(draft.name().to_owned(), diameter, height, called));
        let inside = |axis: Option<&AxisRow>, value: f64| {
            axis.and_then(|axis| Some((*axis.values.first()?, *axis.values.last()?)))
                .is_some_and(|(from, to)| (from.min(to)..=from.max(to)).contains(&value))
        };
        self.common = common::COMMON
            .into_iter()
            .filter(|(d, h)| {
                inside(self.axes.first(), f64::from(*d)) && inside(self.axes.get(1), f64::from(*h))
            })
            .map(|(d, h)| (common::label(d, h), f64::from(d), f64::from(h)))
            .map(|(label, d, h)| row(label, d, h, [d, h]))
            .collect();
        self.remarks
            .push(format!("Common sizes, nominal: common practice, no source; {}.", common::STANDARD));
        Ok(())
    }
}

/// What both questions ask for.
struct Asked<'a> {
    sheet: Option<Sheet>,
    along: Vec<Along>,
    places: &'a [&'a str],
    hold: Option<HoldEntries>,
    figures: Option<Vec<String>>,
    resized: bool,
}

impl Asked<'_> {
    fn answered(
        self,
        mut problems: Problems,
        executor: &impl Executor,
    ) -> Result<(Draft, Hold, GridAnswer), Problems> {
        let hold = asked::hold(self.hold, &mut problems);
        let figures = read_figures(self.figures, &mut problems);
        let Some(draft) = read_sheet(self.sheet, &mut problems) else { return Err(problems) };
        let axes = asked::axes(&draft, &self.along, self.places, self.resized, &mut problems);
        let axes = problems.or_else_ok(axes)?;
        let cells = CellSource::of(&draft, self.resized.then_some(hold)).map_err(|p| p.within("sheet"))?;
        let answer = GridAnswer::of(&draft, &axes, &figures, &cells, executor);
        Ok((draft, hold, answer))
    }
}

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
    let uncertain: Vec<Uncertain> = draft.inputs().iter().map(|input| input.uncertain).collect();
    let spread = FirstOrder::of(&uncertain, draft.correlation(), &best, |values| {
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
        let field = Heights { x: &x.values, y: &y.values, heights: &values };
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
    decimal::number(&format!("{value:.6e}")).unwrap_or(f64::NAN)
}

fn read_sheet(sheet: Option<Sheet>, problems: &mut Problems) -> Option<Draft> {
    let Some(sheet) = sheet else {
        problems.push(Problem::new("sheet", "nothing", "the question to have a sheet"));
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

/// The figures asked for; the usual ones where the question names none.
fn read_figures(ids: Option<Vec<String>>, problems: &mut Problems) -> Vec<&'static Definition> {
    let ids = ids.unwrap_or_else(|| USUAL.iter().map(|id| (*id).to_owned()).collect());
    if ids.is_empty() {
        problems.push(Problem::new(
            "figures",
            "an empty list",
            "the list to name at least one figure, such as \"volumetric\"",
        ));
    }
    figures::wanted(&ids, "figures").unwrap_or_else(|more| {
        problems.0.extend(more.0);
        Vec::new()
    })
}

#[cfg(test)]
mod tests;
