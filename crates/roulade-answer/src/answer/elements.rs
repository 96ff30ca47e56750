//! The ledger of elements, and what is known of a cathode that was given by its metals.

use super::change::FigureChange;
use super::figure_writer::{Figure, FigureWriter};
use super::row::Row;
use roulade::cell::draft::Draft;
use roulade::cell::elements::Elements;
use roulade::cell::figures::Worked;
use roulade::material::{ELEMENTS, Layered, METALS};
use roulade::quantity::units::Unit;
use serde::Serialize;

/// Id and label of the last line.
const UNRESOLVED: (&str, &str) = ("unresolved", "not resolved into elements");
const NOTE: &str = "every ion where it is at assembly; per energy at open circuit; the make-up of mixtures (steel, binders, solvent) is \
                    supposed without an uncertainty";

/// One element of a cell.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "ElementRow"))]
pub struct ElementRow<F = Figure> {
    /// Its symbol, or "unresolved".
    pub id: &'static str,
    /// Its name.
    pub label: &'static str,
    /// Mass in the cell.
    pub mass: F,
    /// That mass over the cell's energy.
    pub per_energy: F,
}

/// The mass of each element in a cell.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "ElementLedger"))]
pub struct ElementLedger<F = Figure> {
    /// Elements of which there is any, then what has no formula, where anything has none.
    pub rows: Vec<ElementRow<F>>,
    /// All rows together.
    pub total: F,
    /// All rows less the mass of the ledger: rounding.
    pub closure: F,
    /// On which basis.
    pub note: &'static str,
}

/// One element of two cells.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "ElementChange"))]
pub struct ElementChange<F = Figure> {
    /// Its symbol, or "unresolved".
    pub id: &'static str,
    /// Its name.
    pub label: &'static str,
    /// Mass in the cell.
    pub mass: FigureChange<F>,
    /// That mass over the cell's energy.
    pub per_energy: FigureChange<F>,
}

/// A cathode active material that the sheet gives by the mole fractions of its metals.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "CompositionAnswer"))]
pub struct CompositionAnswer<F = Figure> {
    /// Its name.
    pub material: String,
    /// As a formula.
    pub formula: String,
    /// The table's nearest.
    pub nearest: &'static str,
    /// Molar mass, theoretical capacity, density, distance.
    pub rows: Vec<Row<F>>,
}

/// A draft at some values of its inputs, worked out.
pub(super) struct At<'a> {
    draft: &'a Draft,
    values: &'a [f64],
    pub(super) worked: &'a Worked,
    elements: Elements,
}

impl<'a> At<'a> {
    pub(super) fn new(draft: &'a Draft, values: &'a [f64], worked: &'a Worked) -> Self {
        Self { draft, values, worked, elements: Elements::of(draft, values, &worked.design) }
    }

    fn energy(&self) -> f64 {
        self.worked.estimate.balance.energy.value
    }
}

/// Every element that there may be, whatever the values, so that the writer always passes as often; then what is left.
fn entries(
    may_hold: impl Fn(usize) -> bool,
) -> impl Iterator<Item = (Option<usize>, &'static str, &'static str)> {
    let elements = ELEMENTS.iter().enumerate().filter(move |(i, _)| may_hold(*i));
    elements.map(|(i, element)| (Some(i), element.symbol, element.name)).chain(std::iter::once((
        None,
        UNRESOLVED.0,
        UNRESOLVED.1,
    )))
}

fn mass(elements: &Elements, entry: Option<usize>) -> f64 {
    match entry {
        Some(i) => elements.masses.get(i).map_or(0.0, |mass| mass.value),
        None => elements.unresolved.value,
    }
}

pub(super) fn write_elements<W: FigureWriter>(writer: &mut W, at: &At<'_>) -> ElementLedger<W::Figure> {
    let elements = at.elements;
    let mut rows = Vec::new();
    for (entry, id, label) in entries(|i| at.draft.may_hold(i)) {
        let mass = mass(&elements, entry);
        let row = ElementRow {
            id,
            label,
            mass: writer.figure(mass, Unit::Gram),
            per_energy: writer.figure(mass / at.energy(), Unit::GramPerKilowattHour),
        };
        rows.extend((mass > 0.0).then_some(row));
    }
    // Below the rounding of the two it is taken from, a difference is none.
    let mass = at.worked.estimate.mass.value;
    let apart = elements.mass().value - mass;
    let closure = if apart.abs() > 1e-12 * mass { apart } else { 0.0 };
    ElementLedger {
        rows,
        total: writer.figure(elements.mass().value, Unit::Gram),
        closure: writer.rounding(closure, Unit::Milligram),
        note: NOTE,
    }
}

/// Elements of both cells.
pub(super) fn write_element_changes<W: FigureWriter>(
    writer: &mut W,
    first: &At<'_>,
    second: &At<'_>,
) -> Vec<ElementChange<W::Figure>> {
    let mut rows = Vec::new();
    for (entry, id, label) in entries(|i| first.draft.may_hold(i) || second.draft.may_hold(i)) {
        let (a, b) = (mass(&first.elements, entry), mass(&second.elements, entry));
        let (per_a, per_b) = (a / first.energy(), b / second.energy());
        let row = ElementChange {
            id,
            label,
            mass: FigureChange::write(writer, ("mass", "mass"), Unit::Gram, a, b),
            per_energy: FigureChange::write(
                writer,
                ("per_energy", "per energy"),
                Unit::GramPerKilowattHour,
                per_a,
                per_b,
            ),
        };
        rows.extend((a > 0.0 || b > 0.0).then_some(row));
    }
    rows
}

pub(super) fn write_compositions<W: FigureWriter>(
    writer: &mut W,
    at: &At<'_>,
) -> Vec<CompositionAnswer<W::Figure>> {
    let mut answers = Vec::new();
    for composition in at.draft.compositions() {
        let layered = composition.at(at.values);
        let mut rows = Vec::with_capacity(4);
        let mut row = |id, label, si, unit, note| {
            rows.push(Row { id, label, figure: writer.figure(si, unit), note });
        };
        row("molar_mass", "molar mass", layered.formula().molar_mass(), Unit::GramPerMole, "");
        row(
            "theoretical_capacity",
            "theoretical capacity",
            layered.capacity(),
            Unit::MilliampereHourPerGram,
            "F/(3.6·M) for each lithium, all of it out; no cell gives that",
        );
        row(
            "density",
            "true density",
            composition.density(at.values).unwrap_or(f64::NAN),
            Unit::GramPerCubicCentimetre,
            "the sheet's own, or between the table's layered oxides",
        );
        row(
            "distance",
            "distance from the nearest",
            Layered::of(composition.nearest).map_or(f64::NAN, |nearest| layered.distance(&nearest)),
            Unit::Percent,
            "½·Σ|Δf|: share of the metal sites that hold another metal",
        );
        answers.push(CompositionAnswer {
            material: writer.words(&composition.name),
            formula: writer.words(&spelled(&layered)),
            nearest: composition.nearest.name,
            rows,
        });
    }
    answers
}

/// "LiNi0.83Co0.11Mn0.06O2", counts to three decimals.
fn spelled(layered: &Layered) -> String {
    let mut formula = String::new();
    let metals = METALS.iter().zip(layered.metals).map(|((_, symbol), fraction)| (*symbol, fraction));
    for (symbol, count) in std::iter::once(("Li", layered.lithium)).chain(metals) {
        let figures = format!("{count:.3}");
        let figures = figures.trim_end_matches('0').trim_end_matches('.');
        match figures {
            "0" => {}
            "1" => formula.push_str(symbol),
            figures => {
                formula.push_str(symbol);
                formula.push_str(figures);
            }
        }
    }
    formula + "O2"
}
