//! The ledger of elements, and what is known of a measured composition.

use super::{Page, Table, note, number, unrounded, words};
use roulade_answer::answer::{CompositionAnswer, ElementChange, ElementLedger, EstimateAnswer, Figure};

/// What is asked for first; the others stand in the full ledger.
const FIRST: [&str; 7] = ["Li", "Ni", "Co", "Mn", "Al", "Cu", "Fe"];
const ALL: &str = "Every element: --elements.";

/// Elements of one cell.
pub(super) fn of_one(page: &mut Page, answer: &EstimateAnswer, every: bool) {
    answer.compositions.iter().for_each(|composition| self::composition(page, composition));
    let elements = &answer.elements;
    page.heading("Elements");
    let mut table = Table::new([words(""), number("mass"), number("g per kWh")]);
    for row in elements.rows.iter().filter(|row| every || FIRST.contains(&row.id)) {
        table.row([row.label, &row.mass.text, &bare(&row.per_energy)]);
    }
    if every {
        table.sum(["the cell", &elements.total.text, ""]);
    }
    page.table(table);
    page.aside(if every {
        format!("Rounding leaves {}. Basis: {}.", elements.closure.text, elements.note)
    } else {
        ALL.to_owned()
    });
}

/// A figure whose unit stands above it.
fn bare(figure: &Figure) -> String {
    figure.text.strip_suffix(figure.unit).unwrap_or(&figure.text).trim_end().to_owned()
}

fn composition(page: &mut Page, composition: &CompositionAnswer) {
    page.heading(format!("Composition of {}: {}", composition.material, composition.formula));
    let mut table = Table::new([words(""), number(""), note("")]);
    table.row(["nearest of the table", composition.nearest, ""]);
    for row in &composition.rows {
        table.row([row.label, &row.figure.text, row.note]);
    }
    page.table(table);
}

/// Elements of two cells.
pub(super) fn of_two(page: &mut Page, mut table: Table, elements: &[ElementChange], every: bool) {
    page.heading("Elements");
    let percent = |change: &roulade_answer::answer::FigureChange| {
        change.percent.as_ref().map_or(String::new(), |percent| percent.text.clone())
    };
    for (title, per_energy) in
        [("mass, g", false), ("per energy, g/kWh", true)].into_iter().filter(|(_, per)| every || *per)
    {
        table.group(title);
        for row in elements.iter().filter(|row| every || FIRST.contains(&row.id)) {
            let change = if per_energy { &row.per_energy } else { &row.mass };
            let [first, second, apart] = [&change.first, &change.second, &change.change];
            table.row([row.label, &bare(first), &bare(second), &bare(apart), &percent(change)]);
        }
    }
    page.table(table);
    if !every {
        page.aside(ALL);
    }
}

/// One cell's as rows.
pub(super) fn rows(elements: &ElementLedger) -> Vec<Vec<String>> {
    let head = ["element", "name", "mass_g", "mass_u_g", "per_energy_g_per_kWh", "per_energy_u_g_per_kWh"];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    for row in &elements.rows {
        let mut cells = vec![row.id.to_owned(), row.label.to_owned()];
        cells.extend([&row.mass, &row.per_energy].into_iter().flat_map(|figure| unrounded(Some(figure))));
        rows.push(cells);
    }
    rows
}

/// Two cells' as rows.
pub(super) fn change_rows(elements: &[ElementChange]) -> Vec<Vec<String>> {
    let mut head = ["element", "name"].map(str::to_owned).to_vec();
    for (what, unit) in [("mass", "g"), ("per_energy", "g_per_kWh")] {
        for of in ["first", "second", "change"] {
            head.extend([format!("{what}_{of}_{unit}"), format!("{what}_{of}_u_{unit}")]);
        }
    }
    let mut rows = vec![head];
    for row in elements {
        let mut cells = vec![row.id.to_owned(), row.label.to_owned()];
        for change in [&row.mass, &row.per_energy] {
            let figures = [&change.first, &change.second, &change.change];
            cells.extend(figures.into_iter().flat_map(|figure| unrounded(Some(figure))));
        }
        rows.push(cells);
    }
    rows
}
