//! One cell: the answer, its figures, its ledger, what was supposed.

use super::{Page, Table, elements, note, number, unrounded, words};
use roulade::cell::ledger::{Group, How};
use roulade_answer::answer::{EstimateAnswer, InputRow, Ledger, PathLine, PathTable, Row, Table as Titled};
use roulade_stats::uncertain::Origin;

/// The page, and the ledger as rows. `every_line` shows the ledger line by line, `every_element` that of elements; its
/// rows are then those of elements.
pub(crate) fn estimate(
    answer: &EstimateAnswer,
    every_line: bool,
    every_element: bool,
) -> (Page, Vec<Vec<String>>) {
    let mut page = Page::default();
    page.lead(&answer.answer);
    headline(&mut page, &answer.headline);
    for Titled { title, rows } in &answer.tables {
        page.heading(*title);
        let mut table = Table::new([words(""), number(""), note("")]);
        for row in rows {
            table.row([row.label, &row.figure.text, row.note]);
        }
        page.table(table);
    }
    path(&mut page, &answer.path);
    ledger(&mut page, &answer.ledger, every_line);
    elements::of_one(&mut page, answer, every_element);
    assumed(&mut page, &answer.inputs);
    if !answer.remarks.is_empty() {
        page.heading("Remarks");
        page.list(answer.remarks.clone());
    }
    page.caution();
    let rows = if every_element { elements::rows(&answer.elements) } else { rows(&answer.ledger) };
    (page, rows)
}

/// The figures that come first, each with its 95 % interval.
fn headline(page: &mut Page, rows: &[Row]) {
    page.heading("In short");
    let mut table = Table::new([words(""), number(""), words("95 %"), note("")]);
    for row in rows {
        let interval = row.figure.interval();
        // The figure beside it has the unit.
        let bare = interval.strip_suffix(row.figure.unit).unwrap_or(&interval).trim_end();
        table.row([row.label, &row.figure.text, bare, row.note]);
    }
    page.table(table);
    page.aside(INTERVALS);
}

pub(super) const INTERVALS: &str = "95 %: 1.96 standard uncertainties either way, to first order. Whether that is enough: roulade uncertainty";

fn path(page: &mut Page, path: &PathTable) {
    page.heading("Current path");
    let mut table = Table::new([
        words(""),
        number(""),
        number("heat"),
        number("share"),
        note("resistivity of the metal"),
    ]);
    let cells = |line: &PathLine| {
        let resistivity = line.resistivity.as_ref().map_or(String::new(), |of| of.text.clone());
        [line.resistance.text.clone(), line.heat.text.clone(), line.share.text.clone(), resistivity]
    };
    for line in &path.lines {
        let [resistance, heat, share, resistivity] = cells(line);
        table.row([line.line, &resistance, &heat, &share, &resistivity]);
    }
    for line in &path.totals {
        let [resistance, heat, share, _] = cells(line);
        table.sum([line.line, &resistance, &heat, &share, ""]);
    }
    page.table(table);
    page.aside(format!("At {}, metals at {}.", path.current.text, path.temperature.text));
}

fn ledger(page: &mut Page, ledger: &Ledger, every_line: bool) {
    page.heading("Ledger");
    let mut table = Table::new([words(""), note(""), number("mass"), number("volume")]);
    for total in &ledger.totals {
        let group = Group::ALL.into_iter().find(|group| group.name() == total.group);
        // Spaces weigh nothing.
        let mass = if group == Some(Group::Space) { "" } else { &total.mass.text };
        let volume = &total.volume.text;
        match group {
            None => table.sum(["the cell", "", mass, volume]),
            Some(_) if !every_line => table.row([&total.group, "", mass, volume]),
            Some(group) => {
                table.group(&total.group);
                for line in ledger.lines.iter().filter(|line| line.group == group) {
                    let mass = line.mass.as_ref().map_or("", |mass| mass.text.as_str());
                    let how = if group == Group::Space { "" } else { how(line.how) };
                    table.row([&line.line, how, mass, &line.volume.text]);
                }
                table.sum(["together", "", mass, volume]);
            }
        }
    }
    page.table(table);
    let mut closing = vec![closure(ledger)];
    closing.extend(
        ledger
            .mass_residual
            .as_ref()
            .map(|residual| format!("Computed less weighed mass: {}.", residual.text)),
    );
    closing.extend((!every_line).then(|| "Every line: --ledger.".to_owned()));
    page.aside(closing.join(" "));
}

fn how(how: How) -> &'static str {
    match how {
        How::Computed => "computed",
        How::Weighed => "weighed",
    }
}

/// What the sheet supposes, and what was filled in.
fn assumed(page: &mut Page, inputs: &[InputRow]) {
    let supposed = |row: &&InputRow| matches!(row.origin, Origin::Assumed | Origin::Default);
    let sections = super::sections();
    let mut table = Table::new([words(""), words("taken as"), note("because")]);
    for section in sections {
        let mut rows = inputs.iter().filter(supposed).filter(|row| row.section == section).peekable();
        if rows.peek().is_some() {
            table.group(section);
        }
        for row in rows {
            let because = match (row.origin, &row.remark, &row.source) {
                (Origin::Assumed, Some(remark), _) => format!("the sheet supposes it: {remark}"),
                (Origin::Assumed, None, _) => "the sheet supposes it".to_owned(),
                (_, _, Some(source)) => source.clone(),
                (_, _, None) => String::new(),
            };
            table.row([&row.label, &row.text, &because]);
        }
    }
    if table.lines.is_empty() {
        return;
    }
    page.heading("Assumed");
    page.table(table);
}

fn rows(ledger: &Ledger) -> Vec<Vec<String>> {
    let head = ["group", "line", "how", "mass_g", "mass_u_g", "volume_cm3", "volume_u_cm3"];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    for line in &ledger.lines {
        let [mass, mass_u] = unrounded(line.mass.as_ref());
        let [volume, volume_u] = unrounded(Some(&line.volume));
        let [group, how] = [line.group.name(), how(line.how)].map(str::to_owned);
        rows.push(vec![group, line.line.clone(), how, mass, mass_u, volume, volume_u]);
    }
    rows
}

/// Whether the ledger closes. What is left of thousands of sums of cubic centimetres is rounding, and no figure.
fn closure(ledger: &Ledger) -> String {
    let left = &ledger.volume_closure;
    if left.value.abs() < 1e-6 {
        "The volumes add up to the envelope.".to_owned()
    } else {
        format!("The volumes miss the envelope by {}.", left.text)
    }
}
