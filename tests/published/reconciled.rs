//! Published cells held against their own figures: which design the figures speak of together, and how far each is off it.
//!
//! The sheets are those of [`chen`] and [`cells`]; what a paper prints of the finished cell is a reading, known to half a
//! unit of its last digit (a rectangle: half its width over √3). An open-circuit model is held against loaded figures, and
//! nothing is taken off for that.

use super::accuracy::{Expect, Published, Row};
use super::{cells, chen};
use roulade::sheet::Sheet;
use roulade_answer::answer::Reconciliation;
use roulade_answer::ask::{self, BenchQuestion};
use serde_json::Value;
use std::fmt::Write;

/// A published figure as a row of a bench sheet: its name in the table, its name on the bench, unit, and the figure.
pub(super) type Reading = (&'static str, &'static str, &'static str, (Published, &'static str));

pub(super) fn held(sheet: &Value, readings: &[Reading]) -> Reconciliation {
    let mut bench = String::from("quantity,value,unit,uncertainty\n");
    for (_, key, unit, (published, _)) in readings {
        writeln!(bench, "{key},{},{unit},{:e}", published.value, published.reading / 3f64.sqrt()).unwrap();
    }
    let sheet = Sheet::parse(&sheet.to_string()).unwrap_or_else(|problems| panic!("{problems}"));
    ask::reconciled(&sheet, &bench, BenchQuestion::default()).unwrap_or_else(|problems| panic!("{problems}"))
}

/// Each figure beside what the reconciled design predicts for it.
fn beside(
    what: &'static str,
    sheet: &Value,
    readings: &[Reading],
    expected: &[(Expect, &'static str)],
) -> Vec<Row> {
    let found = held(sheet, readings);
    println!("{} ({} steps, {})", found.answer.text, found.fit.steps, found.fit.stopped);
    for row in found.parameters.iter().filter(|row| row.moved.abs() > 1.0) {
        println!(
            "  {}: {} became {}, moved by {:+.1} u",
            row.label, row.before.text, row.after.text, row.moved
        );
    }
    readings
        .iter()
        .zip(&found.readings)
        .zip(expected)
        .map(|(((quantity, _, _, published), row), expected)| {
            let predicted = row.predicted.as_ref().unwrap();
            Row::of(what, quantity, published.clone(), predicted, *expected)
        })
        .collect()
}

/// All of them.
pub(super) fn rows() -> Vec<Row> {
    let data = cells::data();
    let (chen_sheet, chen_readings) = chen::readings(&data);
    let (sturm_sheet, sturm_readings) = cells::sturm_readings(&data);
    let (heenan_sheet, heenan_readings) = cells::heenan_readings(&data);
    let agreed = (
        Expect::Agreement,
        "the readings pull against one another; a loaded voltage is taken up by the errors of the curves",
    );
    [
        beside("21 × 70 (Chen 2020), reconciled with these", &chen_sheet, &chen_readings, &[agreed; 4]),
        beside("18 × 65 (Sturm 2019), reconciled with these", &sturm_sheet, &sturm_readings, &[agreed; 3]),
        beside("18 × 65 (Heenan 2020), reconciled with these", &heenan_sheet, &heenan_readings, &[agreed; 3]),
    ]
    .concat()
}
