//! The way of the current, element by element.

use super::change::FigureChange;
use super::figure_writer::{Figure, FigureWriter};
use roulade::cell::current_path::{Element, Path};
use roulade::cell::figures::Worked;
use roulade::quantity::units::{ElectricalResistance, Unit};
use serde::Serialize;

/// One element of the way.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "PathLine"))]
pub struct PathLine<F = Figure> {
    /// What it is.
    pub line: &'static str,
    /// Its resistance.
    pub resistance: F,
    /// Heat in it at the stated rate.
    pub heat: F,
    /// Its share of the whole.
    pub share: F,
    /// Resistivity of its metal at the stated temperature, where one metal makes it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub resistivity: Option<F>,
}

/// The way of the current from terminal to terminal.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "PathTable"))]
pub struct PathTable<F = Figure> {
    /// The current at the stated rate.
    pub current: F,
    /// Temperature of the metals.
    pub temperature: F,
    /// Its elements, one after another.
    pub lines: Vec<PathLine<F>>,
    /// All metals, then the whole cell.
    pub totals: Vec<PathLine<F>>,
}

/// An element of two cells' ways; zero where a cell does not have it.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "PathChange"))]
pub struct PathChange<F = Figure> {
    /// What it is.
    pub line: &'static str,
    /// Resistance.
    pub resistance: FigureChange<F>,
    /// Heat, each at the rate its own sheet states.
    pub heat: FigureChange<F>,
}

const METALS: &str = "all metals";
const CELL: &str = "the cell";

pub(super) fn write<W: FigureWriter>(writer: &mut W, w: &Worked) -> PathTable<W::Figure> {
    let (path, load) = w.loaded();
    let whole = path.total();
    let line = |writer: &mut W, name, resistance: ElectricalResistance, element: Option<Element>| PathLine {
        line: name,
        resistance: writer.figure(resistance.value, Unit::Milliohm),
        heat: writer.figure(load.heat(resistance).value, Unit::Watt),
        share: writer.figure((resistance / whole).value, Unit::Percent),
        resistivity: element
            .and_then(|element| Path::resistivity(&w.design, element))
            .map(|resistivity| writer.figure(resistivity.value, Unit::NanoohmMetre)),
    };
    PathTable {
        current: writer.figure(load.current.value, Unit::Ampere),
        temperature: writer.figure(w.design.blueprint().path.temperature, Unit::Celsius),
        lines: path.elements().map(|(element, of)| line(writer, element.name(), of, Some(element))).collect(),
        totals: vec![line(writer, METALS, path.metal(), None), line(writer, CELL, whole, None)],
    }
}

/// Elements that either cell has, then both sums.
pub(super) fn write_change<W: FigureWriter>(
    writer: &mut W,
    first: &Worked,
    second: &Worked,
) -> Vec<PathChange<W::Figure>> {
    let ((a, load_a), (b, load_b)) = (first.loaded(), second.loaded());
    let of = |path: &Path, element| path.elements().find(|(own, _)| *own == element).map(|(_, of)| of);
    let elements = Element::ALL.into_iter().filter_map(|element| {
        let own = (of(a, element), of(b, element));
        if own == (None, None) {
            return None;
        }
        Some((element.name(), own.0.unwrap_or_default(), own.1.unwrap_or_default()))
    });
    let sums = [(METALS, a.metal(), b.metal()), (CELL, a.total(), b.total())];
    elements
        .chain(sums)
        .map(|(line, a, b)| PathChange {
            line,
            resistance: FigureChange::write(
                writer,
                ("resistance", "resistance"),
                Unit::Milliohm,
                a.value,
                b.value,
            ),
            heat: FigureChange::write(
                writer,
                ("heat", "heat"),
                Unit::Watt,
                load_a.heat(a).value,
                load_b.heat(b).value,
            ),
        })
        .collect()
}

/// What the weld spots resist, and whether the load can be borne.
pub(super) fn remarks(w: &Worked) -> Vec<String> {
    let mut remarks = Vec::new();
    let path = &w.loaded().0;
    let spots = path.of_element(Element::CathodeSpots) + path.of_element(Element::AnodeSpots);
    let [half, twice] = w.other_spots();
    let percent = |share: f64| {
        let percent = 100.0 * share.abs();
        if percent < 0.1 { format!("{percent:.2} %") } else { format!("{percent:.1} %") }
    };
    remarks.push(format!(
        "Weld spots are {} of the resistance by their constriction; twice as many on both sides, spreading in the plates \
         included, take {} off it, half as many add {}.",
        percent((spots / path.total()).value),
        percent(twice),
        percent(half),
    ));
    if w.loaded().1.drawn.is_none() {
        remarks.push(
            "The load is too heavy: a full cell is below the discharge cut-off voltage at once, and gives no energy at that rate."
                .to_owned(),
        );
    }
    remarks
}
