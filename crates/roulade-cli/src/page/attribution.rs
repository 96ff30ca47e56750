//! The contribution of each change between two cells: for each figure a table that adds to the whole.

use super::{Page, Table, note, number, words};
use roulade::quantity::problem::quoted;
use roulade_answer::answer::{Amount, AttributionAnswer, ContributionRow, ContributionTable};

/// Signs of the longest bar.
const LONGEST: u8 = 16;

/// The page, and every contribution as a row.
pub(crate) fn attribute(answer: &AttributionAnswer) -> (Page, Vec<Vec<String>>) {
    let mut page = Page::default();
    page.lead(&answer.answer);
    answer.figures.iter().for_each(|figure| shared(&mut page, figure));
    if !answer.changes.is_empty() {
        moves(&mut page, answer);
    }
    if !answer.method.shown.is_empty() {
        cannot_be(&mut page, answer);
    }
    page.heading("Remarks");
    page.list(answer.remarks.clone());
    page.caution();
    (page, rows(answer))
}

fn shared(page: &mut Page, figure: &ContributionTable) {
    if figure.rows.is_empty() {
        return;
    }
    let unit = if figure.unit.is_empty() { String::new() } else { format!(", {}", figure.unit) };
    page.heading(format!("{}{unit}", figure.label));
    page.text(format!("{} in the first cell, {} in the second.", figure.first.text, figure.second.text));
    if figure.rows.iter().all(|row| row.contribution.value == 0.0 && row.contribution.u.is_none()) {
        page.text("No change moves it.");
        return;
    }
    let drawn = figure.rows.iter().any(|row| row.standard_error.is_some());
    let last = if drawn { "standard error" } else { "" };
    let mut table = Table::new([
        words(""),
        number("contribution"),
        number("made first"),
        number("made last"),
        number(last),
        note(""),
    ]);
    let longest = figure.rows.iter().map(|row| row.contribution.value.abs()).fold(0.0, f64::max);
    for row in &figure.rows {
        let error = row.standard_error.map_or(String::new(), |error| format!("{error:.2}"));
        let (first, last) = (optional(row.first_in.as_ref()), optional(row.last_in.as_ref()));
        table.row([&row.change, &bare(&row.contribution), &first, &last, &error, &bar(row, longest)]);
    }
    table.sum(["all changes", &bare(&figure.whole), "", "", "", ""]);
    page.table(table);
    if !figure.pairs.is_empty() {
        page.list(figure.pairs.iter().map(|pair| pair.text.clone()).collect());
    }
}

/// A contribution as a row of signs, the longest for the largest.
fn bar(row: &ContributionRow, longest: f64) -> String {
    let share = if longest > 0.0 { row.contribution.value / longest } else { 0.0 };
    let length =
        (1..=LONGEST).filter(|sign| f64::from(*sign) - 0.5 <= f64::from(LONGEST) * share.abs()).count();
    (if share < 0.0 { "−" } else { "+" }).repeat(length)
}

/// Without its unit, which stands in the heading.
fn bare(amount: &Amount) -> String {
    amount.text.strip_suffix(amount.unit.as_str()).unwrap_or(&amount.text).trim_end().to_owned()
}

fn optional(amount: Option<&Amount>) -> String {
    amount.map_or_else(|| "cannot be built".to_owned(), bare)
}

fn moves(page: &mut Page, answer: &AttributionAnswer) {
    page.heading("Entries of each change");
    let mut table = Table::new([words(""), words(&answer.first), words(&answer.second)]);
    let shown = |text: &str| if text.is_empty() { "none".to_owned() } else { text.to_owned() };
    for change in &answer.changes {
        table.group(&change.name);
        for entry in &change.moves {
            table.row([&entry.key, &shown(&entry.first), &shown(&entry.second)]);
        }
    }
    page.table(table);
}

fn cannot_be(page: &mut Page, answer: &AttributionAnswer) {
    page.heading("Cells that cannot be built");
    let method = &answer.method;
    page.text(format!("{} of {} cells between the two.", method.cannot_be, method.corners));
    let refused = method.shown.iter().map(|corner| format!("with {}: {}", quoted(&corner.made), corner.why));
    let left = method.cannot_be - method.shown.len();
    let more = (left > 0).then(|| format!("and {left} more"));
    page.list(refused.chain(more).collect());
}

fn rows(answer: &AttributionAnswer) -> Vec<Vec<String>> {
    let head = [
        "figure",
        "unit",
        "change",
        "attribute",
        "contribution_u",
        "contribution_low_95",
        "contribution_high_95",
        "made_first",
        "made_first_u",
        "made_last",
        "made_last_u",
        "standard_error",
    ];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    let two = |amount: Option<&Amount>| {
        let value = amount.map_or(String::new(), |amount| amount.value.to_string());
        [value, amount.and_then(|amount| amount.u).map_or(String::new(), |u| u.to_string())]
    };
    for figure in &answer.figures {
        let row = |change: &str, contribution: &Amount, others: [Option<&Amount>; 2], error: Option<f64>| {
            let ends = [0, 1].map(|end| {
                let end = contribution.interval.and_then(|ends| ends.get(end).copied());
                end.map_or(String::new(), |end| end.to_string())
            });
            let mut row = vec![figure.id.to_owned(), figure.unit.clone(), change.to_owned()];
            row.extend(two(Some(contribution)));
            row.extend(ends);
            row.extend(others.into_iter().flat_map(two));
            row.push(error.map_or(String::new(), |error| error.to_string()));
            row
        };
        for contribution in &figure.rows {
            let others = [contribution.first_in.as_ref(), contribution.last_in.as_ref()];
            rows.push(row(
                &contribution.change,
                &contribution.contribution,
                others,
                contribution.standard_error,
            ));
        }
        rows.push(row("all changes", &figure.whole, [None, None], None));
    }
    rows
}
