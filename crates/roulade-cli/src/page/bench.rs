//! The bench: what can be read, a bench sheet as it was read, a bench sheet held against a design sheet, what to read next.

use super::{Page, Table, note, number, unrounded, words};
use roulade::study::readings::quantity::Listed;
use roulade::study::readings::sheet::COLUMNS;
use roulade_answer::answer::{ChoiceRow, Diagnostic, NextAnswer, ParameterRow, ReadingRow, Reconciliation};
use roulade_answer::ask::BenchAnswer;

/// Every quantity of a bench.
pub(crate) fn bench_quantities(listed: &[Listed]) -> (Page, Vec<Vec<String>>) {
    let head = ["key", "group", "unit", "input", "typical uncertainty", "instrument", "note"];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    let mut table = Table::new([words("quantity"), words("unit"), words("ordinary instrument")]);
    let mut group = "";
    for row in listed {
        if row.group != group {
            group = row.group;
            table.group(group);
        }
        table.row([row.key, row.unit, &format!("± {}, {}", row.typical, row.instrument)]);
        if !row.note.is_empty() {
            table.under(row.note);
        }
        let cells = [row.key, row.group, row.unit, row.input, &row.typical, row.instrument, row.note];
        rows.push(cells.map(str::to_owned).to_vec());
    }
    let mut page = Page::default();
    page.heading("Columns of a bench sheet");
    page.text("CSV, a reading a line, the columns in any order; quantity and value must be there.");
    let mut columns = Table::new([words("column"), words("holds")]);
    for (name, holds) in COLUMNS {
        columns.row([name, holds]);
    }
    page.table(columns);
    page.heading("What can be read");
    page.table(table);
    page.aside(
        "Any unit of the same kind will do. Where neither the reading nor an instrument file says how uncertain a reading is, the \
         ordinary instrument stands in: common practice, no source.",
    );
    (page, rows)
}

/// A bench sheet as it was read.
pub(crate) fn readings(answer: &BenchAnswer) -> (Page, Vec<Vec<String>>) {
    let mut page = Page::default();
    page.text(match (answer.readings.len(), answer.problems.len()) {
        (1, 0) => "1 reading, and nothing is wrong with it.".to_owned(),
        (n, 0) => format!("{n} readings, and nothing is wrong with them."),
        (n, wrong) => {
            let readings = if n == 1 { "reading" } else { "readings" };
            let things = if wrong == 1 { "thing is" } else { "things are" };
            format!("{n} {readings} can be used; {wrong} {things} wrong.")
        }
    });
    wrong(&mut page, &answer.problems);
    let only = match answer.cells.as_slice() {
        [only] => only.as_str(),
        _ => "",
    };
    page.heading("Readings");
    let mut table =
        Table::new([number("line"), words("specimen"), words("quantity"), number("value"), note("")]);
    for row in &answer.readings {
        table.row([&row.line.to_string(), &row.specimen, &row.label, &row.reading.text, &aside(row, only)]);
    }
    page.table(table);
    page.caution();
    (page, reading_rows(&answer.readings))
}

fn aside(row: &ReadingRow, cell_above: &str) -> String {
    let unfit = match (row.fate, &row.why) {
        ("unfit", Some(why)) => Some(format!("unfit: {why}")),
        (_, why) => why.clone(),
    };
    let other = row.other_variant.then(|| "of the other kind".to_owned());
    let outlier = row.outlier.then(|| "outlier".to_owned());
    let cell = row.cell.clone().filter(|cell| cell != cell_above);
    let all = [cell, outlier, unfit, row.population.clone(), other, row.remark.clone()];
    all.into_iter().flatten().collect::<Vec<_>>().join("; ")
}

fn wrong(page: &mut Page, problems: &[Diagnostic]) {
    if !problems.is_empty() {
        page.heading("Not read");
        page.list(problems.iter().map(|problem| problem.text.clone()).collect());
    }
}

/// A bench sheet held against a design sheet.
pub(crate) fn reconciliation(answer: &Reconciliation) -> (Page, Vec<Vec<String>>) {
    let mut page = Page::default();
    page.lead(&answer.answer);
    page.heading("Before and after");
    let mut table = Table::new([words(""), number("by the sheet"), number("with the readings")]);
    for figure in &answer.figures {
        table.row([figure.label, &figure.before.text, &figure.after.text]);
    }
    page.table(table);
    outliers(&mut page, answer);
    used(&mut page, answer);
    specimens(&mut page, answer);
    parameters(&mut page, answer);
    wrong(&mut page, &answer.problems);
    page.heading("Remarks");
    page.list(answer.remarks.clone());
    page.caution();
    (page, reading_rows(&answer.readings))
}

fn outliers(page: &mut Page, answer: &Reconciliation) {
    if answer.outliers.is_empty() {
        return;
    }
    page.heading("Outliers, the worst first");
    page.0.push(super::Block::Numbered(answer.outliers.iter().map(|outlier| outlier.text.clone()).collect()));
    page.aside(answer.correction.clone());
}

fn used(page: &mut Page, answer: &Reconciliation) {
    page.heading("Readings");
    let heads = [
        words("line"),
        words("specimen"),
        number("read"),
        number("predicted"),
        number("normalised residual"),
        number("leverage"),
        note(""),
    ];
    let mut table = Table::new(heads);
    let mut keys: Vec<&str> = Vec::new();
    for row in answer.readings.iter().filter(|row| row.fate != "other") {
        if !keys.contains(&row.key.as_str()) {
            keys.push(&row.key);
        }
    }
    for key in keys {
        let own = answer.readings.iter().filter(|row| row.key == key && row.fate != "other");
        for (i, row) in own.enumerate() {
            if i == 0 {
                table.group(row.label.clone());
            }
            let predicted = row.predicted.as_ref().map_or("", |figure| figure.text.as_str());
            let off = row.z.map_or(String::new(), |off| format!("{off:+.1}").replace('-', "−"));
            let counts = row.counted.map_or(String::new(), |counted| format!("{:.0} %", 100.0 * counted));
            table.row([
                &row.line.to_string(),
                &row.specimen,
                &row.reading.text,
                predicted,
                &off,
                &counts,
                &aside(row, &answer.cell),
            ]);
        }
    }
    page.table(table);
    page.aside(
        "Normalised residual: reading less prediction over the standard deviation of that difference; none where no other reading \
         tests this one. Leverage: how far the prediction follows this reading.",
    );
}

fn specimens(page: &mut Page, answer: &Reconciliation) {
    let several = answer.scatter.iter().filter(|row| row.specimens.len() > 1);
    let several: Vec<String> = several.map(|row| format!("{}: {}.", row.label, row.text)).collect();
    if !several.is_empty() {
        page.heading("Specimens");
        page.list(several);
    }
    if !answer.populations.is_empty() {
        page.heading("Two variants (mixture)");
        page.list(answer.populations.iter().map(|row| row.text.clone()).collect());
    }
    if !answer.instruments.is_empty() {
        page.heading("Errors that an instrument's readings share");
        let rows = answer.instruments.iter().map(|row| {
            let zero = row.zero.as_ref().map(|zero| format!("zero {}", zero.text));
            let scale = row.scale.as_ref().map(|scale| format!("scale {}", scale.text));
            let errors: Vec<String> = zero.into_iter().chain(scale).collect();
            format!("{} ({} readings): {}", row.instrument, row.readings, errors.join(", "))
        });
        page.list(rows.collect());
    }
}

fn parameters(page: &mut Page, answer: &Reconciliation) {
    page.heading("Entries of the sheet");
    let mut table = Table::new([
        words(""),
        number("before"),
        number("after"),
        number("moved"),
        number("variance removed"),
        note(""),
    ]);
    for row in answer.parameters.iter().filter(|row| row.determined) {
        table.row([
            &row.label,
            &row.before.text,
            &row.after.text,
            &format!("{:+.1} u", row.moved).replace('-', "−"),
            &format!("{:.0} %", 100.0 * row.read),
            &stopped(row),
        ]);
    }
    page.table(table);
    page.aside(
        "Moved: in standard uncertainties from before. Variance removed: by the readings; the rest was \
         known before.",
    );
    if !answer.undetermined.is_empty() {
        page.text(format!("The readings say nothing of: {}.", answer.undetermined.join("; ")));
    }
}

fn stopped(row: &ParameterRow) -> String {
    match (row.stopped, row.freed) {
        (Some(side), _) => format!("at the {side} end of its range"),
        (None, true) => "was exact".to_owned(),
        (None, false) => String::new(),
    }
}

fn reading_rows(readings: &[ReadingRow]) -> Vec<Vec<String>> {
    let head = [
        "line",
        "cell",
        "specimen",
        "quantity",
        "unit",
        "value",
        "u",
        "fate",
        "why",
        "predicted",
        "predicted_u",
        "residual",
        "z",
        "counted",
        "outlier",
        "population",
        "instrument",
        "remark",
        "date",
    ];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    let owned = |text: &Option<String>| text.clone().unwrap_or_default();
    let plain = |x: Option<f64>| x.map_or(String::new(), |x| x.to_string());
    for row in readings {
        let [value, u] = unrounded(Some(&row.reading));
        let [predicted, predicted_u] = unrounded(row.predicted.as_ref());
        rows.push(vec![
            row.line.to_string(),
            owned(&row.cell),
            row.specimen.clone(),
            row.key.clone(),
            row.reading.unit.to_owned(),
            value,
            u,
            row.fate.to_owned(),
            owned(&row.why),
            predicted,
            predicted_u,
            plain(row.residual),
            plain(row.z),
            plain(row.counted),
            row.outlier.to_string(),
            owned(&row.population),
            owned(&row.instrument),
            owned(&row.remark),
            owned(&row.date),
        ]);
    }
    rows
}

/// How many readings are shown where nobody asks for all.
const SHOWN: usize = 15;

/// What to read next.
pub(crate) fn next(answer: &NextAnswer) -> (Page, Vec<Vec<String>>) {
    let mut page = Page::default();
    page.lead(&answer.answer);
    let several = answer.cells.len() > 1;
    let table = |rows: &[ChoiceRow]| {
        let mut table = Table::new([
            words("read"),
            number("to ±"),
            words("with"),
            number("variance removed"),
            number("remaining ±"),
        ]);
        for row in rows.iter().take(SHOWN).filter(|row| row.removed > 0.0) {
            let what = if several { format!("{}, {}", row.label, row.cell) } else { row.label.clone() };
            let taken = format!("{:.1} %", 100.0 * row.removed);
            table.row([&what, &row.instrument_u.text, &row.instrument, &taken, &row.after.text]);
        }
        table
    };
    page.heading("Each measurement alone");
    page.table(table(&answer.alone));
    page.heading("The best sequence of measurements");
    page.table(table(&answer.in_turn));
    page.heading("Remarks");
    page.list(answer.remarks.clone());
    page.caution();
    let head = [
        "cell",
        "quantity",
        "unit",
        "instrument_u",
        "instrument",
        "removed_share",
        "figure_u_after",
        "figure_unit",
    ];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    for row in &answer.alone {
        rows.push(vec![
            row.cell.clone(),
            row.key.clone(),
            row.instrument_u.unit.to_owned(),
            row.instrument_u.value.to_string(),
            row.instrument.clone(),
            row.removed.to_string(),
            row.after.value.to_string(),
            row.after.unit.to_owned(),
        ]);
    }
    (page, rows)
}
