//! What a search found, as data.

use crate::asked::{Aim, Asked, Kept};
use crate::engine::{best, front};
use roulade::cell::draft::Draft;
use roulade::cell::figures::{Definition, Worked};
use roulade::cell::hazard::hazards;
use roulade::quantity::notation;
use roulade::quantity::problem::Problems;
use roulade::quantity::units::Unit;
use roulade::study::form_factors::HeldItem;
use serde::Serialize;

/// A number with its name.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Value {
    /// Key of an input, or id of a figure.
    pub id: String,
    /// What it is.
    pub label: String,
    /// Its unit.
    pub unit: &'static str,
    /// Its value, unrounded; `null` for a figure that the cell has not.
    pub value: Option<f64>,
    /// Rounded, with its unit.
    pub text: String,
}

/// An input that was chosen.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Chosen {
    /// The input.
    #[serde(flatten)]
    pub value: Value,
    /// "from" or "to", where it stands at that end of its range: more of it would be better still.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_end: Option<&'static str>,
}

/// A design and its figures.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Point {
    /// What was chosen.
    pub inputs: Vec<Chosen>,
    /// What is wanted, then what is kept.
    pub figures: Vec<Value>,
}

/// An input with its range.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FreeRow {
    /// Its key.
    pub key: String,
    /// What it is, with its section.
    pub label: String,
    /// Its unit.
    pub unit: &'static str,
    /// One end.
    pub from: f64,
    /// The other.
    pub to: f64,
    /// Both, with their unit.
    pub text: String,
}

/// `FigureBounds` of a figure, in its unit.
#[derive(Clone, Copy, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FigureBounds {
    /// It is this or more.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_least: Option<f64>,
    /// It is this or less.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_most: Option<f64>,
}

/// A figure that was to be kept.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct KeepRow {
    /// Its id.
    pub id: &'static str,
    /// What it is.
    pub label: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// Within what.
    #[serde(flatten)]
    pub bounds: FigureBounds,
    /// "holds", "binds" where it stands at its bound, or "broken".
    pub state: &'static str,
}

/// What a search found.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Found {
    /// Version of this crate.
    pub roulade: &'static str,
    /// Name of the cell.
    pub cell: String,
    /// What was wanted, in words.
    pub wanted: Vec<String>,
    /// Whether a design was found that keeps everything.
    pub holds: bool,
    /// The best design; where none holds, the one that breaks the least.
    pub best: Point,
    /// The sheet as it is, where it holds together.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub own: Option<Point>,
    /// Designs of which none beats another in both figures, in order of the first, where two were wanted.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub front: Vec<Point>,
    /// What was free.
    pub free: Vec<FreeRow>,
    /// What was to be kept, and whether the best design does.
    pub keep: Vec<KeepRow>,
    /// What is held where the can changes its size.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub held: Vec<HeldItem>,
    /// Seed of the random numbers.
    pub seed: u32,
    /// How many designs were tried.
    pub tried: u64,
    /// What looks wrong with entries of the sheet, each in a sentence.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub plausibility: Vec<String>,
    /// What to know of this answer.
    pub remarks: Vec<String>,
}

/// A value that was typed, in its unit: on the way through SI units its last digit may have gone astray.
fn as_typed(si: f64, unit: Unit) -> f64 {
    let value = si / unit.in_si();
    format!("{value:.12e}").parse().unwrap_or(value)
}

/// A hundred-thousandth of a bound or of a range is no distance to it.
const NEAR: f64 = 1e-5;

pub(crate) fn found(asked: &Asked<'_>, draft: &Draft) -> Result<Found, Problems> {
    let (inputs, own, seed, trials) =
        (asked.free.len(), asked.own(), u64::from(asked.seed), u64::from(asked.trials));
    let one = best(inputs, &own, seed, trials, |place| asked.trial(place, [asked.best]));
    let Some((place, mut tried)) = one else {
        // The reasons at the sheet's own place stand for all.
        return Err(asked.worked(&own).err().unwrap_or_else(|| no_figure(asked)));
    };
    let worked = asked.worked(&place)?;
    let mut points = Vec::new();
    if let Some(against) = asked.against {
        let (places, more) =
            front(inputs, &place, seed, trials, |place| asked.trial(place, [asked.best, against]));
        tried += more;
        for place in places {
            points.push((point(asked, draft, &asked.values(&place), &asked.worked(&place)?), place));
        }
        let first = |point: &Point| point.figures.first().and_then(|figure| figure.value).unwrap_or(f64::NAN);
        points.sort_by(|(a, _), (b, _)| first(a).total_cmp(&first(b)));
        points.dedup_by(|(a, _), (b, _)| a.figures == b.figures);
    }
    let keep: Vec<KeepRow> = asked.keep.iter().map(|kept| keep_row(kept, &worked)).collect();
    let own = asked.cells.values();
    Ok(Found {
        roulade: env!("CARGO_PKG_VERSION"),
        cell: draft.name().to_owned(),
        wanted: std::iter::once(asked.best).chain(asked.against).map(words).collect(),
        holds: keep.iter().all(|row| row.state != "broken"),
        best: point(asked, draft, &asked.values(&place), &worked),
        own: asked.cells.at(&own).ok().map(|worked| point(asked, draft, &own, &worked)),
        front: points.into_iter().map(|(point, _)| point).collect(),
        free: asked
            .free
            .iter()
            .filter_map(|choice| {
                let input = draft.inputs().get(choice.input)?;
                Some(FreeRow {
                    key: input.key.to_string(),
                    label: label(draft, choice.input),
                    unit: input.unit.symbol(),
                    from: as_typed(choice.from, input.unit),
                    to: as_typed(choice.to, input.unit),
                    text: format!(
                        "{} to {}",
                        notation::print(choice.from, 0.0, input.unit),
                        notation::print(choice.to, 0.0, input.unit)
                    ),
                })
            })
            .collect(),
        keep,
        held: asked.cells.held(),
        seed: asked.seed,
        tried,
        plausibility: draft.plausibility(),
        remarks: [at_best(draft, &worked), draft.remarks().to_vec()].concat(),
    })
}

/// Hazards of the design that was found.
fn at_best(draft: &Draft, worked: &Worked) -> Vec<String> {
    hazards(draft, worked).into_iter().map(|hazard| hazard.text).collect()
}

/// No design had every figure that was asked for.
fn no_figure(asked: &Asked<'_>) -> Problems {
    let ids: Vec<&str> = std::iter::once(asked.best.figure.id)
        .chain(asked.against.map(|aim| aim.figure.id))
        .chain(asked.keep.iter().map(|kept| kept.figure.id))
        .collect();
    roulade::quantity::problem::Problem::new(
        "free",
        format!("no design in these ranges that holds together and has {}", ids.join(", ")),
        "ranges within which a cell can be built, and figures that this cell has",
    )
    .into()
}

fn words(aim: Aim) -> String {
    format!("{} {}", if aim.least { "least" } else { "greatest" }, aim.figure.label)
}

/// The label of an input with its section, unless it names a part.
fn label(draft: &Draft, input: usize) -> String {
    draft.inputs().get(input).map_or(String::new(), |input| {
        if input.label.contains(':') {
            input.label.to_string()
        } else {
            format!("{}: {}", input.section, input.label)
        }
    })
}

fn point(asked: &Asked<'_>, draft: &Draft, values: &[f64], worked: &Worked) -> Point {
    let inputs = asked.free.iter().filter_map(|choice| {
        let (input, si) = (draft.inputs().get(choice.input)?, *values.get(choice.input)?);
        let near = |end: f64| (si - end).abs() <= NEAR * (choice.to - choice.from).abs();
        let at_end = if near(choice.from) {
            Some("from")
        } else if near(choice.to) {
            Some("to")
        } else {
            None
        };
        let value = Value {
            id: input.key.to_string(),
            label: label(draft, choice.input),
            unit: input.unit.symbol(),
            value: Some(si / input.unit.in_si()),
            text: notation::print(si, 0.0, input.unit),
        };
        Some(Chosen { value, at_end })
    });
    let mut wanted: Vec<&'static Definition> = Vec::new();
    let all = [Some(asked.best.figure), asked.against.map(|aim| aim.figure)];
    for figure in all.into_iter().flatten().chain(asked.keep.iter().map(|kept| kept.figure)) {
        if !wanted.iter().any(|other| other.id == figure.id) {
            wanted.push(figure);
        }
    }
    let figures = wanted.into_iter().map(|figure| {
        let si = (figure.of)(worked).filter(|si| si.is_finite());
        Value {
            id: figure.id.to_owned(),
            label: figure.label.to_owned(),
            unit: figure.unit.symbol(),
            value: si.map(|si| si / figure.unit.in_si()),
            text: si.map_or(String::new(), |si| notation::print(si, 0.0, figure.unit)),
        }
    });
    Point { inputs: inputs.collect(), figures: figures.collect() }
}

fn keep_row(kept: &Kept, worked: &Worked) -> KeepRow {
    let unit = kept.figure.unit;
    let value = (kept.figure.of)(worked).unwrap_or(f64::NAN);
    let near = |bound: &f64| (value - bound).abs() <= NEAR * bound.abs().max(unit.in_si() * NEAR);
    let state = match kept.broken(worked) {
        Some(broken) if broken <= 0.0 => {
            if kept.at_least.iter().chain(&kept.at_most).any(near) {
                "binds"
            } else {
                "holds"
            }
        }
        _ => "broken",
    };
    let bounds = FigureBounds {
        at_least: kept.at_least.map(|bound| as_typed(bound, unit)),
        at_most: kept.at_most.map(|bound| as_typed(bound, unit)),
    };
    KeepRow { id: kept.figure.id, label: kept.figure.label, unit: unit.symbol(), bounds, state }
}
