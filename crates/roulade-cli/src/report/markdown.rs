//! For notes and reports: Markdown with pipe tables.

use super::form::{Form, Out, Report, visible};
use crate::page::{Block, Column, Line, Table};
use std::fmt::Write as _;

/// Markdown.
pub(crate) struct Markdown;

impl Form for Markdown {
    fn answer(&self, report: &Report) -> Out {
        let blocks: Vec<String> = report.page.0.iter().map(block).collect();
        Out::Exact(blocks.join("\n"))
    }
}

fn block(block: &Block) -> String {
    match block {
        Block::Answer(runs) => {
            let shown = runs.iter().map(|run| {
                let words = escaped(&run.text);
                if run.strong { format!("**{words}**") } else { words }
            });
            format!("{}\n", shown.collect::<String>().trim())
        }
        Block::Heading(text) => format!("## {}\n", escaped(text)),
        Block::Text(text) | Block::Aside(text) => format!("{}\n", escaped(text)),
        Block::List(items) => lines(items.iter().map(|item| format!("- {}", escaped(item)))),
        Block::Numbered(items) => {
            lines(items.iter().zip(1..).map(|(item, n)| format!("{n}. {}", escaped(item))))
        }
        Block::Table(shown) => table(shown),
    }
}

fn lines(items: impl Iterator<Item = String>) -> String {
    items.collect::<Vec<_>>().join("\n") + "\n"
}

fn table(table: &Table) -> String {
    let mut text = String::new();
    let mut row = |cells: &mut dyn Iterator<Item = String>| {
        text.push('|');
        for cell in cells {
            // Writing to a string does not fail.
            let _ = write!(text, " {cell} |");
        }
        text.push('\n');
    };
    row(&mut table.columns.iter().map(|column| escaped(column.head())));
    row(&mut table.columns.iter().map(|column| {
        match column {
            Column::Words(_) | Column::Note(_) => ":---",
            Column::Number(_) => "---:",
        }
        .to_owned()
    }));
    for line in &table.lines {
        match line {
            Line::Group(name) => {
                let rest = table.columns.iter().skip(1).map(|_| String::new());
                row(&mut std::iter::once(format!("**{}**", escaped(name))).chain(rest));
            }
            Line::Under(note) => {
                let rest = table.columns.iter().skip(1).map(|_| String::new());
                row(&mut std::iter::once(escaped(note)).chain(rest));
            }
            Line::Row(cells) => row(&mut cells.iter().map(|cell| escaped(cell))),
            Line::Sum(cells) => row(&mut cells
                .iter()
                .map(|cell| if cell.is_empty() { String::new() } else { format!("**{}**", escaped(cell)) })),
        }
    }
    text
}

/// Letters that Markdown would take for marks are given a backslash.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in visible(text).chars() {
        match c {
            '\\' | '`' | '*' | '_' | '[' | ']' | '#' | '|' | '~' => safe.extend(['\\', c]),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '&' => safe.push_str("&amp;"),
            _ => safe.push(c),
        }
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_cannot_become_markup() {
        assert_eq!(escaped("<script>|*"), "&lt;script&gt;\\|\\*");
    }
}
