//! A map over diameter and height, and a sweep: common sizes or a table of values; every cell as rows.

use super::{Column, Line, Page, Table, number, words};
use roulade::cell::draft::in_short;
use roulade::quantity::notation::rounded;
use roulade_answer::answer::{AxisRow, GridAnswer, GridFigure, SizeRow};

/// Figures beside one another that a terminal has room for.
const BESIDE: usize = 4;

/// The page of a map, and its cells as rows.
pub(crate) fn map(answer: &GridAnswer) -> (Page, Vec<Vec<String>>) {
    let mut page = Page::default();
    page.text(format!(
        "Form factors: the electrodes of {} in cans of {}: {}.",
        answer.cell,
        answer.axes.iter().map(stretch).collect::<Vec<_>>().join(" by "),
        cells(answer)
    ));
    page.aside(in_short(&answer.plausibility));
    page.heading("Common sizes");
    sizes(&mut page, answer);
    extremes(&mut page, answer);
    rest(&mut page, answer);
    (page, rows(answer))
}

/// The page of a sweep, and its cells as rows.
pub(crate) fn sweep(answer: &GridAnswer) -> (Page, Vec<Vec<String>>) {
    let mut page = Page::default();
    let along: Vec<String> =
        answer.axes.iter().map(|axis| format!("{} from {}", axis.label, stretch(axis))).collect();
    page.text(format!("{}, {}: {}.", answer.cell, along.join(" and "), cells(answer)));
    page.aside(in_short(&answer.plausibility));
    if let [axis] = answer.axes.as_slice() {
        values(&mut page, answer, axis);
    } else {
        extremes(&mut page, answer);
    }
    rest(&mut page, answer);
    (page, rows(answer))
}

fn stretch(axis: &AxisRow) -> String {
    let end = |value: Option<&f64>| value.map_or(String::new(), |value| plain(*value));
    format!("{} to {} {}", end(axis.values.first()), end(axis.values.last()), axis.unit).trim_end().to_owned()
}

/// As it was typed: ends of an axis are no results.
fn plain(value: f64) -> String {
    value.to_string()
}

fn cells(answer: &GridAnswer) -> String {
    let blank: usize = answer.blank.iter().map(|blank| blank.cells).sum();
    match blank {
        0 => format!("{} cells", answer.cells),
        _ => format!("{} cells, {blank} of them blank", answer.cells),
    }
}

fn heads(figures: &[GridFigure]) -> impl Iterator<Item = Column> {
    figures.iter().map(|figure| {
        let named = figure.unit.is_empty() || figure.label.starts_with(figure.unit);
        number(&if named { figure.label.to_owned() } else { format!("{}, {}", figure.label, figure.unit) })
    })
}

/// Common sizes, and the cell's own, in tables of a few figures each.
fn sizes(page: &mut Page, answer: &GridAnswer) {
    let bare = |size: &SizeRow, at: usize| {
        let figure = size.figures.get(at).and_then(Option::as_ref);
        figure.map_or(String::new(), |f| f.text.strip_suffix(f.unit).unwrap_or(&f.text).trim_end().to_owned())
    };
    for (part, figures) in answer.figures.chunks(BESIDE).enumerate() {
        let mut columns = vec![words("mm"), words("")];
        columns.extend(heads(figures));
        let mut table = Table::new(columns);
        for size in answer.own.iter().chain(&answer.common) {
            let mut row = vec![size.label.clone(), size.designation.clone()];
            row.extend((0..figures.len()).map(|i| bare(size, part * BESIDE + i)));
            table.lines.push(Line::Row(row));
        }
        page.table(table);
    }
    let none: Vec<String> = answer
        .own
        .iter()
        .chain(&answer.common)
        .filter_map(|size| Some(format!("{}: {}", size.label, size.why.as_ref()?)))
        .collect();
    if !none.is_empty() {
        page.text("No cell of that size:");
        page.list(none);
    }
}

/// The least and the greatest of each figure, and where.
fn extremes(page: &mut Page, answer: &GridAnswer) {
    page.heading("Over the whole grid, best values");
    let mut table = Table::new([words(""), number("least"), words("at"), number("greatest"), words("at")]);
    for figure in &answer.figures {
        let at = |value: f64| {
            let found = figure.values.iter().position(|other| other.total_cmp(&value).is_eq());
            found.map_or(String::new(), |i| place(answer, i))
        };
        let shown = |value: f64| {
            if value.is_nan() { String::new() } else { format!("{} {}", rounded(value, 0.0).0, figure.unit) }
        };
        table.row([
            figure.label,
            &shown(figure.least),
            &at(figure.least),
            &shown(figure.greatest),
            &at(figure.greatest),
        ]);
    }
    page.table(table);
}

/// "46 mm × 95 mm".
fn place(answer: &GridAnswer, cell: usize) -> String {
    let mut left = cell;
    let mut texts = Vec::new();
    for axis in &answer.axes {
        let width = axis.values.len().max(1);
        let value = axis.values.get(left % width).map_or(String::new(), |value| rounded(*value, 0.0).0);
        texts.push(format!("{value} {}", axis.unit).trim_end().to_owned());
        left /= width;
    }
    texts.join(" × ")
}

fn values(page: &mut Page, answer: &GridAnswer, axis: &AxisRow) {
    page.heading("Best values");
    for figures in answer.figures.chunks(BESIDE) {
        let mut columns = vec![number(format!("{}, {}", axis.label, axis.unit).trim_end_matches(", "))];
        columns.extend(heads(figures));
        let mut table = Table::new(columns);
        for (i, along) in axis.values.iter().enumerate() {
            let mut row = vec![rounded(*along, 0.0).0];
            row.extend(figures.iter().map(|figure| {
                let value = figure.values.get(i).copied().unwrap_or(f64::NAN);
                if value.is_nan() { String::new() } else { rounded(value, 0.0).0 }
            }));
            table.lines.push(Line::Row(row));
        }
        page.table(table);
    }
}

/// Why cells are blank, what is held, and what else is to be known.
fn rest(page: &mut Page, answer: &GridAnswer) {
    if !answer.blank.is_empty() {
        page.heading("Why cells are blank");
        page.list(
            answer
                .blank
                .iter()
                .map(|b| format!("{}: {}: found {}; expected {}", b.cells, b.place, b.found, b.expected))
                .collect(),
        );
    }
    if !answer.held.is_empty() {
        page.heading("What is held");
        let mut table = Table::new([words(""), words(""), words("")]);
        for held in &answer.held {
            table.row([held.what, &held.text, if held.asked { "as asked" } else { "" }]);
        }
        page.table(table);
    }
    let mut remarks: Vec<String> =
        answer.absent.iter().map(|absent| format!("{}: {}.", absent.id, absent.why)).collect();
    remarks.extend(answer.remarks.iter().cloned());
    if !remarks.is_empty() {
        page.heading("Remarks");
        page.list(remarks);
    }
    page.caution();
}

/// A row for each cell: where it stands, then its figures, unrounded but for their seventh digit.
fn rows(answer: &GridAnswer) -> Vec<Vec<String>> {
    let named = |id: &str, unit: &str| format!("{id}_{unit}").trim_end_matches('_').to_owned();
    let mut head: Vec<String> = answer.axes.iter().map(|axis| named(&axis.key, axis.unit)).collect();
    head.extend(answer.figures.iter().map(|figure| named(figure.id, figure.unit)));
    let mut rows = vec![head];
    for cell in 0..answer.cells {
        let mut left = cell;
        let mut row = Vec::new();
        for axis in &answer.axes {
            let width = axis.values.len().max(1);
            row.push(axis.values.get(left % width).map_or(String::new(), f64::to_string));
            left /= width;
        }
        row.extend(answer.figures.iter().map(|figure| {
            figure.values.get(cell).filter(|value| !value.is_nan()).map_or(String::new(), f64::to_string)
        }));
        rows.push(row);
    }
    rows
}
