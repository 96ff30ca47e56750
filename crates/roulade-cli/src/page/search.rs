//! What a search found: the best design beside the sheet's own, then the trade-off.

use super::{Line, Page, Table, note, number, words};
use roulade::cell::draft::in_short;
use roulade_search::{Found, KeepRow, Point};

/// Points of a trade-off that are shown; --csv and --json have all.
const SHOWN: usize = 12;

/// The page, and the trade-off as rows; the best design alone where there is none.
pub(crate) fn search(found: &Found) -> (Page, Vec<Vec<String>>) {
    let mut page = Page::default();
    let wanted = found.wanted.first().cloned().unwrap_or_default();
    page.text(if found.holds {
        format!("{}: the design with the {wanted} within the ranges, of {} tried.", found.cell, found.tried)
    } else {
        format!(
            "{}: of {} designs tried within the ranges, none keeps everything. The one that breaks the least:",
            found.cell, found.tried
        )
    });
    page.aside(in_short(&found.plausibility));
    page.heading("Inputs");
    let mut table = Table::new([words(""), number("before"), number("found"), words("range"), note("")]);
    for (i, (chosen, free)) in found.best.inputs.iter().zip(&found.free).enumerate() {
        let own = found.own.as_ref().and_then(|own| own.inputs.get(i)).map_or("", |own| &own.value.text);
        let end = if chosen.at_end.is_some() { "at the end of its range" } else { "" };
        table.row([&chosen.value.label, own, &chosen.value.text, &free.text, end]);
    }
    page.table(table);
    page.heading("Figures");
    let mut table = Table::new([words(""), number("before"), number("found"), words("kept"), note("")]);
    for (i, figure) in found.best.figures.iter().enumerate() {
        let own = found.own.as_ref().and_then(|own| own.figures.get(i)).map_or("", |own| &own.text);
        let kept = found.keep.iter().find(|kept| kept.id == figure.id);
        let bounds = kept.map_or(String::new(), bounds);
        table.row([&figure.label, own, &figure.text, &bounds, kept.map_or("", |kept| state(kept))]);
    }
    page.table(table);
    trade_off(&mut page, found);
    if !found.held.is_empty() {
        page.heading("What is held");
        let mut table = Table::new([words(""), words(""), words("")]);
        for held in &found.held {
            table.row([held.what, &held.text, if held.asked { "as asked" } else { "" }]);
        }
        page.table(table);
    }
    page.heading("Remarks");
    let mut remarks = vec![
        format!(
            "Best values of all inputs, without their uncertainties; found by trial with seed {}: another seed, or more \
             trials, may find a little more.",
            found.seed
        ),
        "A computed fit is not a safety margin.".to_owned(),
    ];
    remarks.extend(found.remarks.iter().cloned());
    page.list(remarks);
    (page, rows(found))
}

fn bounds(kept: &KeepRow) -> String {
    let said = [("at least", kept.bounds.at_least), ("at most", kept.bounds.at_most)];
    let said =
        said.into_iter().filter_map(|(words, bound)| Some(format!("{words} {} {}", bound?, kept.unit)));
    said.map(|text| text.trim_end().to_owned()).collect::<Vec<_>>().join(", ")
}

fn state(kept: &KeepRow) -> &'static str {
    match kept.state {
        "binds" => "at its bound",
        "broken" => "not kept",
        _ => "",
    }
}

fn trade_off(page: &mut Page, found: &Found) {
    let ([first, second], Some(point)) = (found.wanted.as_slice(), found.front.first()) else { return };
    page.heading(format!("Pareto front: {first}, {second}"));
    let mut table = Table::new(
        point
            .figures
            .iter()
            .take(2)
            .map(|f| number(&f.label))
            .chain(point.inputs.iter().map(|chosen| number(&chosen.value.label)))
            .collect::<Vec<_>>(),
    );
    let count = found.front.len();
    let shown = SHOWN.min(count);
    for i in 0..shown {
        let at = if shown > 1 { i * (count - 1) / (shown - 1) } else { 0 };
        if let Some(point) = found.front.get(at) {
            let figures = point.figures.iter().take(2).map(|figure| figure.text.clone());
            let inputs = point.inputs.iter().map(|chosen| chosen.value.text.clone());
            table.lines.push(Line::Row(figures.chain(inputs).collect()));
        }
    }
    page.table(table);
    if count > shown {
        page.aside(format!("{shown} of {count} designs; all of them: --csv."));
    }
}

fn rows(found: &Found) -> Vec<Vec<String>> {
    let head = |point: &Point| {
        let named = |id: &str, unit: &str| format!("{id}_{unit}").trim_end_matches('_').to_owned();
        let inputs = point.inputs.iter().map(|chosen| named(&chosen.value.id, chosen.value.unit));
        inputs.chain(point.figures.iter().map(|figure| named(&figure.id, figure.unit))).collect()
    };
    let row = |point: &Point| {
        let values = point.inputs.iter().map(|chosen| chosen.value.value);
        let values = values.chain(point.figures.iter().map(|figure| figure.value));
        values.map(|value| value.map_or(String::new(), |value| value.to_string())).collect()
    };
    let mut rows = vec![head(&found.best)];
    if found.front.is_empty() {
        rows.push(row(&found.best));
    }
    rows.extend(found.front.iter().map(row));
    rows
}
