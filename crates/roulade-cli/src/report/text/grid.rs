//! A table measured, its columns fitted to a width.

use super::wrap::{INDENT, firm, hanging, right, wrapped};
use crate::page::{Column, Line, Table};
use crate::report::form::{BOLD, DIM, visible};
use anstyle::Style;
use std::iter::repeat_n;
use textwrap::core::display_width;

/// No column of words is made narrower.
const NARROWEST: usize = 14;

/// A table measured.
pub(super) struct Grid {
    pub(super) columns: Vec<Measured>,
    pub(super) lines: Vec<Row>,
}

pub(super) struct Measured {
    pub(super) name: String,
    /// The name, and the unit where all figures share it.
    pub(super) head: String,
    kind: Kind,
    /// What it takes without wrapping anything but its head.
    natural: usize,
}

/// How cells of a column are set.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Words,
    Note,
    Number(Parts),
}

/// Widths of the parts of a column's figures. A unit that all of them share stands in the head instead.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
struct Parts {
    value: usize,
    spread: usize,
    pub(super) unit: usize,
    pub(super) mark: usize,
    unit_in_head: bool,
}

pub(super) enum Row {
    Group(String),
    Under(String),
    Cells { cells: Vec<String>, strong: bool },
}

impl Grid {
    pub(super) fn of(table: &Table) -> Self {
        let used: Vec<bool> = (0..table.columns.len())
            .map(|i| i == 0 || table.lines.iter().any(|line| !cell(line, i).is_empty()))
            .collect();
        let grouped = table.lines.iter().any(|line| matches!(line, Line::Group(_)));
        let lines = table.lines.iter().map(|line| match line {
            Line::Group(name) => Row::Group(visible(name).into_owned()),
            Line::Under(note) => Row::Under(visible(note).into_owned()),
            Line::Row(cells) | Line::Sum(cells) => {
                let mut shown: Vec<String> = cells
                    .iter()
                    .zip(&used)
                    .filter(|(_, used)| **used)
                    .map(|(c, _)| visible(c).into())
                    .collect();
                if let Some(first) = shown.first_mut().filter(|_| grouped) {
                    first.insert_str(0, INDENT);
                }
                Row::Cells { cells: shown, strong: matches!(line, Line::Sum(_)) }
            }
        });
        let lines: Vec<Row> = lines.collect();
        let columns = table.columns.iter().zip(&used).filter(|(_, used)| **used).enumerate();
        let columns = columns
            .map(|(i, (column, _))| {
                let cells = lines.iter().filter_map(|line| match line {
                    Row::Cells { cells, .. } => cells.get(i).map(String::as_str).filter(|c| !c.is_empty()),
                    Row::Group(_) | Row::Under(_) => None,
                });
                Measured::of(column, &cells.collect::<Vec<_>>())
            })
            .collect();
        Self { columns, lines }
    }

    /// Widths of the columns, and the gap between them, where there is room for them.
    pub(super) fn fitted(&self, width: usize) -> Option<(Vec<usize>, usize)> {
        [3, 2].into_iter().find_map(|gap| {
            let mut widths: Vec<usize> = self.columns.iter().map(|column| column.natural).collect();
            let taken = INDENT.len() + gap * widths.len().saturating_sub(1);
            loop {
                let over = (taken + widths.iter().sum::<usize>()).checked_sub(width).filter(|over| *over > 0);
                let Some(over) = over else { return Some((widths, gap)) };
                // The widest column of words gives way, down to the next widest at a time.
                let mut words: Vec<&mut usize> = widths
                    .iter_mut()
                    .zip(&self.columns)
                    .filter(|(width, column)| !matches!(column.kind, Kind::Number(_)) && **width > NARROWEST)
                    .map(|(width, _)| width)
                    .collect();
                words.sort_by(|a, b| b.cmp(a));
                let next = words.get(1).map_or(NARROWEST, |next| **next).max(NARROWEST);
                let widest = words.first_mut()?;
                **widest -= over.min((**widest - next).max(1));
            }
        })
    }
}

impl Measured {
    pub(super) fn of(column: &Column, cells: &[&str]) -> Self {
        let name = visible(column.head()).into_owned();
        let mut head = name.clone();
        let widest_word = |text: &str| firm(text).split(' ').map(display_width).max().unwrap_or(0);
        let (kind, natural) = match column {
            Column::Words(_) | Column::Note(_) => {
                let widest = cells.iter().map(|cell| display_width(cell)).max().unwrap_or(0);
                let kind = if matches!(column, Column::Note(_)) { Kind::Note } else { Kind::Words };
                (kind, widest.max(widest_word(&head)))
            }
            Column::Number(_) => {
                let split: Vec<Figures<'_>> = cells.iter().map(|cell| Figures::of(cell)).collect();
                let most = |part: fn(&Figures<'_>) -> usize| split.iter().map(part).max().unwrap_or(0);
                let mut parts = Parts {
                    value: most(|f| display_width(f.value)),
                    spread: most(|f| display_width(f.spread)),
                    unit: most(|f| display_width(f.unit)),
                    mark: most(|f| display_width(f.mark)),
                    unit_in_head: false,
                };
                if let [first, rest @ ..] = split.as_slice()
                    && !first.unit.is_empty()
                    && rest.iter().all(|other| other.unit == first.unit)
                    && !rest.is_empty()
                {
                    parts = Parts { unit: 0, unit_in_head: true, ..parts };
                    head = if head.is_empty() {
                        first.unit.to_owned()
                    } else {
                        format!("{head}, {}", first.unit)
                    };
                }
                (Kind::Number(parts), parts.width().max(widest_word(&head)))
            }
        };
        Self { name, head, kind, natural }
    }

    pub(super) fn style(&self, strong: bool) -> Style {
        match self.kind {
            Kind::Note => DIM,
            _ if strong => BOLD,
            _ => Style::new(),
        }
    }

    pub(super) fn set_head(&self, width: usize) -> Vec<String> {
        let lines = wrapped(&self.head, width);
        match self.kind {
            Kind::Number(_) => lines.iter().map(|line| right(line, width)).collect(),
            Kind::Words | Kind::Note => lines,
        }
    }

    pub(super) fn set(&self, cell: &str, width: usize) -> Vec<String> {
        let Kind::Number(parts) = self.kind else { return hanging(cell, width) };
        if cell.is_empty() {
            return vec![String::new()];
        }
        let figures = Figures::of(cell);
        let mut line = right(figures.value, parts.value);
        for (part, room) in [
            (figures.spread, parts.spread),
            (if parts.unit_in_head { "" } else { figures.unit }, parts.unit),
            (figures.mark, parts.mark),
        ] {
            if room > 0 {
                line.push(' ');
                line.push_str(part);
                line.extend(repeat_n(' ', room.saturating_sub(display_width(part))));
            }
        }
        vec![right(&line, width)]
    }
}

impl Parts {
    pub(super) fn width(self) -> usize {
        let after = [self.spread, self.unit, self.mark].into_iter().filter(|w| *w > 0).map(|w| w + 1);
        self.value + after.sum::<usize>()
    }
}

/// The parts of "26.5 ± 0.6 Ah [3]".
struct Figures<'a> {
    value: &'a str,
    spread: &'a str,
    pub(super) unit: &'a str,
    pub(super) mark: &'a str,
}

impl<'a> Figures<'a> {
    pub(super) fn of(text: &'a str) -> Self {
        let last = |text: &'a str, is: fn(&str) -> bool| match text.rsplit_once(' ') {
            Some((rest, word)) if is(word) => (rest, word),
            _ => (text, ""),
        };
        let (text, mark) = last(text, |word| word.starts_with('['));
        let (text, unit) =
            last(text, |word| !word.starts_with(|c: char| c.is_ascii_digit() || "+-−".contains(c)));
        let (value, spread) = text.split_once(' ').unwrap_or((text, ""));
        Self { value, spread, unit, mark }
    }
}

pub(super) fn cell(line: &Line, i: usize) -> &str {
    match line {
        Line::Group(_) | Line::Under(_) => "",
        Line::Row(cells) | Line::Sum(cells) => cells.get(i).map_or("", String::as_str),
    }
}
