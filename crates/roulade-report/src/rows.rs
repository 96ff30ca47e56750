//! Rows of the report's tables, one cell or two.

use crate::cells::ReportedCells;
use roulade_answer::answer::{
    AttributionAnswer, ContributionTable, EstimateAnswer, FigureChange, InputRow, Row,
};
use roulade_stats::uncertain::Origin;

/// Rows under a heading.
#[derive(Debug)]
pub(crate) struct Group<T> {
    pub(crate) title: String,
    pub(crate) rows: Vec<T>,
}

/// A figure of one cell, or of both with what lies between.
#[derive(Debug)]
pub(crate) struct FigureRow {
    pub(crate) label: &'static str,
    pub(crate) first: String,
    pub(crate) second: String,
    pub(crate) change: String,
    pub(crate) percent: String,
    pub(crate) note: &'static str,
}

impl FigureRow {
    fn of(cells: &ReportedCells, row: &Row) -> Option<Self> {
        let of_first = Self {
            label: row.label,
            first: row.figure.text.clone(),
            second: String::new(),
            change: String::new(),
            percent: String::new(),
            note: row.note,
        };
        let ReportedCells::Two(both) = cells else { return Some(of_first) };
        // A figure that only one of the cells has is no difference.
        let change: &FigureChange = both.figures.iter().find(|change| change.id == row.id)?;
        Some(Self {
            first: change.first.text.clone(),
            second: change.second.text.clone(),
            change: change.change.text.clone(),
            percent: change.percent.as_ref().map(|percent| percent.text.clone()).unwrap_or_default(),
            ..of_first
        })
    }
}

/// The figures that come first.
pub(crate) fn headline(cells: &ReportedCells) -> Vec<FigureRow> {
    cells.first().headline.iter().filter_map(|row| FigureRow::of(cells, row)).collect()
}

/// All others, under their headings.
pub(crate) fn tables(cells: &ReportedCells) -> Vec<Group<FigureRow>> {
    let tables = cells.first().tables.iter().map(|table| Group {
        title: table.title.to_owned(),
        rows: table.rows.iter().filter_map(|row| FigureRow::of(cells, row)).collect(),
    });
    tables.filter(|group| !group.rows.is_empty()).collect()
}

/// The contribution of each change to some of the figures.
#[derive(Debug)]
pub(crate) struct ContributionBars {
    /// What the figures are called.
    pub(crate) heads: Vec<String>,
    pub(crate) rows: Vec<ContributionOf>,
    pub(crate) whole: Vec<String>,
    /// The strongest interactions, in words.
    pub(crate) pairs: Vec<String>,
    pub(crate) remarks: Vec<String>,
}

/// One change.
#[derive(Debug)]
pub(crate) struct ContributionOf {
    pub(crate) change: String,
    /// Its bar for the first of the figures, from and how far.
    pub(crate) bar: (f64, f64),
    pub(crate) contributions: Vec<String>,
}

/// Width of the bars.
pub(crate) const BARS: f64 = 180.0;

impl ContributionBars {
    /// Per outer volume and per mass, the largest contribution first.
    pub(crate) fn of(answer: &AttributionAnswer) -> Self {
        let wanted = ["volumetric", "gravimetric"];
        let tables: Vec<&ContributionTable> =
            wanted.iter().filter_map(|id| answer.figures.iter().find(|table| table.id == *id)).collect();
        let first = tables.first().map_or(&[][..], |table| table.rows.as_slice());
        let values = || first.iter().map(|row| row.contribution.value);
        let (low, high) = (values().fold(0.0, f64::min), values().fold(0.0, f64::max));
        let x = |value: f64| if high > low { (BARS * (value - low) / (high - low)).round() } else { 0.0 };
        let mut order: Vec<usize> = (0..first.len()).collect();
        let size = |i: &usize| first.get(*i).map_or(0.0, |row| row.contribution.value.abs());
        order.sort_by(|a, b| size(b).total_cmp(&size(a)));
        let rows = order.iter().filter_map(|i| {
            let row = first.get(*i)?;
            let (from, to) = (x(row.contribution.value.min(0.0)), x(row.contribution.value.max(0.0)));
            Some(ContributionOf {
                change: row.change.clone(),
                bar: (from, (to - from).max(1.0)),
                contributions: tables
                    .iter()
                    .filter_map(|t| Some(t.rows.get(*i)?.contribution.text.clone()))
                    .collect(),
            })
        });
        Self {
            heads: tables.iter().map(|table| table.label.clone()).collect(),
            rows: rows.collect(),
            whole: tables.iter().map(|table| table.whole.text.clone()).collect(),
            pairs: tables.first().map_or_else(Vec::new, |table| {
                table.pairs.iter().take(3).map(|pair| pair.text.clone()).collect()
            }),
            remarks: answer.remarks.clone(),
        }
    }
}

/// A group of the ledger.
#[derive(Debug)]
pub(crate) struct LedgerRow {
    pub(crate) group: String,
    pub(crate) masses: Vec<String>,
    pub(crate) volumes: Vec<String>,
}

/// Masses and volumes by group, the cell last.
pub(crate) fn ledger(cells: &ReportedCells) -> Vec<LedgerRow> {
    let sides: Vec<&EstimateAnswer> = [Some(cells.first()), cells.second()].into_iter().flatten().collect();
    let rows = cells.first().ledger.totals.iter().map(|total| {
        let own = |side: &&EstimateAnswer| {
            side.ledger.totals.iter().find(|other| other.group == total.group).cloned()
        };
        let found: Vec<_> = sides.iter().filter_map(own).collect();
        LedgerRow {
            group: total.group.clone(),
            // Spaces weigh nothing.
            masses: found
                .iter()
                .map(|t| if t.group == "space" { String::new() } else { t.mass.text.clone() })
                .collect(),
            volumes: found.iter().map(|t| t.volume.text.clone()).collect(),
        }
    });
    rows.collect()
}

/// An input that a sheet gives.
#[derive(Debug)]
pub(crate) struct Given {
    pub(crate) label: String,
    pub(crate) first: String,
    pub(crate) second: String,
    pub(crate) from: String,
    pub(crate) remark: String,
}

fn origin(origin: Origin) -> &'static str {
    match origin {
        Origin::Measured => "measured",
        Origin::Stated => "stated",
        Origin::Assumed => "assumed",
        Origin::Default => "filled in",
    }
}

/// Inputs of both cells side by side, in the order of the first.
fn paired<'a>(
    first: &'a EstimateAnswer,
    second: Option<&'a EstimateAnswer>,
) -> Vec<(Option<&'a InputRow>, Option<&'a InputRow>)> {
    let others = second.map_or(&[][..], |second| second.inputs.as_slice());
    // Parts stand at other places in another sheet, under the same labels.
    let same = |a: &InputRow, b: &InputRow| a.section == b.section && a.label == b.label;
    let mut taken = vec![false; others.len()];
    let mut pairs: Vec<_> = first
        .inputs
        .iter()
        .map(|a| {
            let twin = others.iter().zip(&mut taken).find(|(b, taken)| !**taken && same(a, b));
            let twin = twin.map(|(b, taken)| {
                *taken = true;
                b
            });
            (Some(a), twin)
        })
        .collect();
    pairs.extend(others.iter().zip(taken).filter(|(_, taken)| !taken).map(|(b, _)| (None, Some(b))));
    pairs
}

/// In groups by section, the sections in the order in which they first appear.
fn grouped<T>(rows: impl Iterator<Item = (&'static str, T)>) -> Vec<Group<T>> {
    let mut groups: Vec<Group<T>> = Vec::new();
    for (section, row) in rows {
        match groups.iter_mut().find(|group| group.title == section) {
            Some(group) => group.rows.push(row),
            None => groups.push(Group { title: section.to_owned(), rows: vec![row] }),
        }
    }
    groups
}

/// Everything that a sheet gives, with where it comes from.
pub(crate) fn given(first: &EstimateAnswer, second: Option<&EstimateAnswer>) -> Vec<Group<Given>> {
    let rows = paired(first, second).into_iter().filter_map(|(a, b)| {
        let either = a.or(b)?;
        if [a, b].into_iter().flatten().all(|row| row.origin == Origin::Default) {
            return None;
        }
        let text = |row: Option<&InputRow>| row.map_or(String::new(), |row| row.text.clone());
        let mut from: Vec<&str> = [a, b].into_iter().flatten().map(|row| origin(row.origin)).collect();
        from.dedup();
        let mut remarks: Vec<&str> =
            [a, b].into_iter().flatten().filter_map(|row| row.remark.as_deref()).collect();
        remarks.dedup();
        let row = Given {
            label: either.label.clone(),
            first: text(a),
            second: text(b),
            from: from.join(" / "),
            remark: remarks.join("; "),
        };
        Some((either.section, row))
    });
    grouped(rows)
}

/// An input that was left out, and what stands in.
#[derive(Debug)]
pub(crate) struct Filled {
    pub(crate) label: String,
    pub(crate) text: String,
    pub(crate) source: String,
    pub(crate) whose: String,
}

/// Everything that was filled in, with its source; what is alike in both cells once.
pub(crate) fn filled(first: &EstimateAnswer, second: Option<&EstimateAnswer>) -> Vec<Group<Filled>> {
    let is = |row: &&InputRow| row.origin == Origin::Default;
    let one = |row: &InputRow, whose: &str| {
        let filled = Filled {
            label: row.label.clone(),
            text: row.text.clone(),
            source: row.source.clone().unwrap_or_default(),
            whose: whose.to_owned(),
        };
        (row.section, filled)
    };
    let mut rows = Vec::new();
    for (a, b) in paired(first, second) {
        match (a.filter(is), b.filter(is)) {
            (Some(a), Some(b)) if a.text == b.text => rows.push(one(a, "")),
            (a, b) => {
                let whose =
                    |cell: &EstimateAnswer| if second.is_some() { cell.cell.clone() } else { String::new() };
                rows.extend(a.map(|a| one(a, &whose(first))));
                rows.extend(b.zip(second).map(|(b, second)| one(b, &whose(second))));
            }
        }
    }
    grouped(rows.into_iter())
}

/// Remarks of both cells, those they share once.
pub(crate) fn remarks(first: &EstimateAnswer, second: Option<&EstimateAnswer>) -> Vec<String> {
    let Some(second) = second else { return first.remarks.clone() };
    let shared = |remark: &String| first.remarks.contains(remark) && second.remarks.contains(remark);
    let mut all_remarks: Vec<String> =
        first.remarks.iter().filter(|remark| shared(remark)).cloned().collect();
    for cell in [first, second] {
        let own = cell.remarks.iter().filter(|remark| !shared(remark));
        all_remarks.extend(own.map(|remark| format!("{}: {remark}", cell.cell)));
    }
    all_remarks
}
