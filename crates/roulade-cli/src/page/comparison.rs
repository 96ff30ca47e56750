//! Two cells: what the hardware alone buys, then the whole difference.

use super::estimate::INTERVALS;
use super::{Page, Table, elements, number, unrounded, words};
use roulade_answer::answer::{Comparison, Figure, FigureChange, Freed, LedgerChange};

/// The page, and both ledgers as rows; with `every_element` those of elements, in full.
pub(crate) fn comparison(answer: &Comparison, every_element: bool) -> (Page, Vec<Vec<String>>) {
    let mut page = Page::default();
    page.lead(&answer.answer);
    hardware(&mut page, answer);
    figures(&mut page, answer);
    inputs(&mut page, answer);
    path(&mut page, answer);
    ledgers(&mut page, answer);
    elements::of_two(&mut page, between(answer), &answer.elements, every_element);
    remarks(&mut page, answer);
    page.caution();
    let rows = if every_element { elements::change_rows(&answer.elements) } else { rows(answer) };
    (page, rows)
}

fn hardware(page: &mut Page, answer: &Comparison) {
    page.heading("Contribution of the changed parts alone");
    let Some(freed) = &answer.freed else {
        page.text("The contribution of the parts is not given: the parts are equal, or the cans differ.");
        return;
    };
    page.table(what_left(freed));
    if answer.reclaim.is_empty() {
        return;
    }
    page.text(format!(
        "{} before and after the change of parts, by the share of the freed height that becomes electrode:",
        answer.first.cell
    ));
    let mut table = Table::new([words(""), number("before"), number("after"), number("change"), number("")]);
    for reclaim in &answer.reclaim {
        table.group(reclaim.heading());
        reclaim.rows.iter().for_each(|change| figure(&mut table, change));
    }
    page.table(table);
    let designed = answer.reclaim.iter().find(|reclaim| reclaim.heading().starts_with(AS_DESIGNED));
    page.aside(designed.map_or(String::new(), |reclaim| intervals("As designed", &reclaim.rows)));
}

/// How the heading of the share that was built begins.
const AS_DESIGNED: &str = "as designed";

fn what_left(freed: &Freed) -> Table {
    let mut table = Table::new([words(""), words("")]);
    for (what, parts) in [("removed", &freed.left), ("added", &freed.came), ("changed", &freed.changed)] {
        if !parts.is_empty() {
            table.row([what, &parts.join(", ")]);
        }
    }
    table.row(["height freed", &freed.height.text]);
    table.row(["that height times the inner cross-section", &freed.volume.text]);
    table.row(["part volume saved", &freed.solid_volume.text]);
    table.row(["part mass saved", &freed.mass.text]);
    table
}

fn figures(page: &mut Page, answer: &Comparison) {
    page.heading("Both cells, with all changes");
    let mut table = between(answer);
    let headline = ("In short", &answer.first.headline);
    let grouped =
        std::iter::once(headline).chain(answer.first.tables.iter().map(|table| (table.title, &table.rows)));
    for (title, rows) in grouped {
        table.group(title);
        // A figure that only one of the cells has is no difference.
        let both = rows.iter().filter_map(|row| answer.figures.iter().find(|change| change.id == row.id));
        both.for_each(|change| figure(&mut table, change));
    }
    page.table(table);
    page.aside(intervals("With all changes", &answer.figures));
}

/// The 95 % intervals of what a change buys.
fn intervals(what: &str, rows: &[FigureChange]) -> String {
    let bought = ["volumetric", "gravimetric", "energy", "capacity"];
    let bought = bought.iter().filter_map(|id| rows.iter().find(|row| row.id == *id));
    let each: Vec<String> =
        bought.map(|row| row.change.interval()).filter(|interval| !interval.is_empty()).collect();
    if each.is_empty() { String::new() } else { format!("{what}, {}. {INTERVALS}", each.join("; ")) }
}

fn inputs(page: &mut Page, answer: &Comparison) {
    page.heading("Entries that differ");
    if answer.inputs.is_empty() {
        page.text("Nothing.");
        return;
    }
    let sections = super::sections();
    let mut table = Table::new([words(""), words(&answer.first.cell), words(&answer.second.cell)]);
    let in_order =
        sections.iter().flat_map(|s| answer.inputs.iter().filter(move |input| input.section == *s));
    let mut section = "";
    for input in in_order {
        if input.section != section {
            section = input.section;
            table.group(section);
        }
        let shown = |text: &str| if text.is_empty() { "none".to_owned() } else { text.to_owned() };
        table.row([&input.label, &shown(&input.first), &shown(&input.second)]);
    }
    page.table(table);
}

fn path(page: &mut Page, answer: &Comparison) {
    page.heading("Current path");
    let mut table = between(answer);
    for entry in &answer.path {
        line(&mut table, entry.line, &entry.resistance);
    }
    page.table(table);
}

fn ledgers(page: &mut Page, answer: &Comparison) {
    for (title, of) in [
        ("Masses", (|line| line.mass.as_ref()) as fn(&LedgerChange) -> Option<&FigureChange>),
        ("Volumes", |line| Some(&line.volume)),
    ] {
        page.heading(title);
        let mut table = between(answer);
        let mut group = "";
        for (entry, change) in answer.ledger.iter().filter_map(|entry| Some((entry, of(entry)?))) {
            if entry.group.name() != group {
                group = entry.group.name();
                table.group(group);
            }
            line(&mut table, &entry.line, change);
        }
        page.table(table);
    }
}

fn remarks(page: &mut Page, answer: &Comparison) {
    let (first, second) = (&answer.first, &answer.second);
    let mut said = Vec::new();
    for remark in &first.remarks {
        if second.remarks.contains(remark) {
            said.push(remark.clone());
        } else {
            said.push(format!("{}: {remark}", first.cell));
        }
    }
    for remark in second.remarks.iter().filter(|remark| !first.remarks.contains(remark)) {
        said.push(format!("{}: {remark}", second.cell));
    }
    if !said.is_empty() {
        page.heading("Remarks");
        page.list(said);
    }
}

/// A table with a column for each cell and one for what lies between.
fn between(answer: &Comparison) -> Table {
    let (first, second) = (&answer.first.cell, &answer.second.cell);
    Table::new([words(""), number(first), number(second), number("change"), number("")])
}

/// A row of figures of any unit, which stands beside the label.
fn figure(table: &mut Table, change: &FigureChange) {
    let unit = change.first.unit;
    // "turns of cathode" names its unit already.
    let named = unit.is_empty() || change.label.starts_with(unit);
    let label = if named { change.label.to_owned() } else { format!("{}, {unit}", change.label) };
    let bare =
        |figure: &'_ Figure| figure.text.strip_suffix(unit).unwrap_or(&figure.text).trim_end().to_owned();
    table.row([&label, &bare(&change.first), &bare(&change.second), &bare(&change.change), percent(change)]);
}

/// A row of figures that share their unit with all others.
fn line(table: &mut Table, label: &str, change: &FigureChange) {
    table.row([label, &change.first.text, &change.second.text, &change.change.text, percent(change)]);
}

fn percent(change: &FigureChange) -> &str {
    change.percent.as_ref().map_or("", |percent| percent.text.as_str())
}

fn rows(answer: &Comparison) -> Vec<Vec<String>> {
    let mut head = ["group", "line"].map(str::to_owned).to_vec();
    for (what, unit) in [("mass", "g"), ("volume", "cm3")] {
        for of in ["first", "second", "change"] {
            head.extend([format!("{what}_{of}_{unit}"), format!("{what}_{of}_u_{unit}")]);
        }
    }
    let mut rows = vec![head];
    for line in &answer.ledger {
        let mut row = vec![line.group.name().to_owned(), line.line.clone()];
        for change in [line.mass.as_ref(), Some(&line.volume)] {
            let figures = [change.map(|c| &c.first), change.map(|c| &c.second), change.map(|c| &c.change)];
            row.extend(figures.into_iter().flat_map(unrounded));
        }
        rows.push(row);
    }
    rows
}
