//! For the terminal: sentences, and tables without rules, numbers set by their last digit.

mod grid;
mod wrap;

use super::form::{BOLD, DIM, Form, Out, Report, in_style, visible};
use crate::page::{Block, Table};
use anstyle::Style;
use grid::{Grid, Measured, Row};
use roulade_answer::answer::Run;
use std::iter::repeat_n;
use textwrap::core::display_width;
use wrap::{FIRM, INDENT, wrapped};

/// Text of at most so many columns.
pub(crate) struct Text {
    pub(crate) width: usize,
}

impl Form for Text {
    fn answer(&self, report: &Report) -> Out {
        let mut text = String::new();
        let mut under_heading = true;
        for block in &report.page.0 {
            let begins =
                matches!(block, Block::Heading(_)) || matches!(block, Block::Text(_)) && !under_heading;
            if begins && !text.is_empty() {
                text.push('\n');
            }
            self.block(&mut text, block);
            under_heading = matches!(block, Block::Heading(_));
        }
        Out::Styled(text)
    }
}

impl Text {
    fn block(&self, text: &mut String, block: &Block) {
        match block {
            Block::Answer(runs) => self.paragraph(text, "", "", &lead(runs), Style::new()),
            Block::Heading(heading) => self.paragraph(text, "", "", &visible(heading), BOLD),
            Block::Text(words) => self.paragraph(text, INDENT, INDENT, &visible(words), Style::new()),
            Block::Aside(words) => self.paragraph(text, INDENT, INDENT, &visible(words), DIM),
            Block::List(items) => {
                for item in items {
                    self.paragraph(text, "  - ", "    ", &visible(item), Style::new());
                }
            }
            Block::Numbered(items) => {
                let widest = items.len().to_string().len() + 2;
                for (item, n) in items.iter().zip(1..) {
                    let mark = format!("  {:>widest$} ", format!("[{n}]"));
                    self.paragraph(text, &mark, &" ".repeat(mark.len()), &visible(item), Style::new());
                }
            }
            Block::Table(table) => self.table(text, table),
        }
    }

    fn paragraph(&self, text: &mut String, first: &str, further: &str, words: &str, style: Style) {
        let room = self.width.saturating_sub(display_width(first)).max(1);
        for (i, line) in wrapped(words, room).iter().enumerate() {
            text.push_str(if i == 0 { first } else { further });
            text.push_str(&in_style(style, line));
            text.push('\n');
        }
    }

    fn table(&self, text: &mut String, table: &Table) {
        let grid = Grid::of(table);
        match grid.fitted(self.width) {
            Some((widths, gap)) => self.side_by_side(text, &grid, &widths, gap),
            None => self.stacked(text, &grid),
        }
    }

    fn side_by_side(&self, text: &mut String, grid: &Grid, widths: &[usize], gap: usize) {
        let between = " ".repeat(gap);
        let set = |text: &mut String, cells: &[String], style: &dyn Fn(&Measured) -> Style, head: bool| {
            let cells = cells.iter().zip(&grid.columns).zip(widths);
            let blocks: Vec<(Vec<String>, Style, usize)> = cells
                .map(|((cell, column), width)| {
                    let lines = if head { column.set_head(*width) } else { column.set(cell, *width) };
                    (lines, style(column), *width)
                })
                .collect();
            let height = blocks.iter().map(|(lines, ..)| lines.len()).max().unwrap_or(0);
            for i in 0..height {
                let mut line = String::new();
                for (j, (lines, style, width)) in blocks.iter().enumerate() {
                    // Heads stand on their columns, cells hang from the first line.
                    let at = if head { (i + lines.len()).checked_sub(height) } else { Some(i) };
                    let shown = at.and_then(|at| lines.get(at)).map_or("", |shown| shown.trim_end());
                    line.push_str(if j == 0 { INDENT } else { &between });
                    line.push_str(&in_style(*style, shown));
                    line.extend(repeat_n(' ', width.saturating_sub(display_width(shown))));
                }
                text.push_str(line.trim_end());
                text.push('\n');
            }
        };
        let heads: Vec<String> = grid.columns.iter().map(|column| column.head.clone()).collect();
        if heads.iter().any(|head| !head.is_empty()) {
            set(text, &heads, &|_| DIM, true);
        }
        for line in &grid.lines {
            match line {
                Row::Group(name) => self.paragraph(text, INDENT, INDENT, name, BOLD),
                Row::Under(note) => self.paragraph(text, "      ", "      ", note, DIM),
                Row::Cells { cells, strong } => set(text, cells, &|column| column.style(*strong), false),
            }
        }
    }

    /// Where columns do not fit beside one another: a row's cells below one another, each after its column's head.
    fn stacked(&self, text: &mut String, grid: &Grid) {
        let deeper = INDENT.repeat(2);
        for line in &grid.lines {
            match line {
                Row::Group(name) => self.paragraph(text, INDENT, INDENT, name, BOLD),
                Row::Under(note) => self.paragraph(text, &deeper, &deeper, note, DIM),
                Row::Cells { cells, strong } => {
                    for (i, (cell, column)) in cells.iter().zip(&grid.columns).enumerate() {
                        let (cell, style) = (cell.trim(), column.style(*strong));
                        if i == 0 {
                            self.paragraph(text, INDENT, INDENT, cell, style);
                        } else if !cell.is_empty() {
                            let head = match column.name.as_str() {
                                "" => String::new(),
                                name => format!("{name}: "),
                            };
                            self.paragraph(text, &deeper, &deeper, &(head + cell), style);
                        }
                    }
                }
            }
        }
    }
}

/// The sentence with its numbers in bold, none of them broken over two lines.
fn lead(runs: &[Run]) -> String {
    let shown = runs.iter().map(|run| {
        let words = visible(&run.text);
        if run.strong { in_style(BOLD, &words.replace(' ', &FIRM.to_string())) } else { words.into_owned() }
    });
    shown.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::{Column, Line, Page};

    fn shown(width: usize) -> String {
        let row = |cells: [&str; 4]| cells.map(str::to_owned).to_vec();
        let table = Table {
            columns: vec![
                Column::Words(String::new()),
                Column::Number("mass".to_owned()),
                Column::Number("figure".to_owned()),
                Column::Note(String::new()),
            ],
            lines: vec![
                Line::Group("roll".to_owned()),
                Line::Row(row(["foil of copper", "27.3 ± 1.0 g", "4.43 ± 0.05 m", "as it was weighed"])),
                Line::Sum(row(["together", "154 ± 12 g", "0 µm", ""])),
            ],
        };
        let report = Report {
            page: Page(vec![Block::Table(table)]),
            json: String::new(),
            rows: Vec::new(),
            instead: None,
        };
        let Out::Styled(text) = (Text { width }).answer(&report) else { return String::new() };
        anstream::adapter::strip_str(&text).to_string()
    }

    #[test]
    fn numbers_stand_by_their_last_digit_and_a_shared_unit_in_the_head() {
        let wanted = "                        mass, g           figure
  roll
    foil of copper   27.3 ± 1.0   4.43 ± 0.05 m    as it was weighed
    together          154 ± 12       0        µm
";
        assert_eq!(shown(100), wanted);
    }

    #[test]
    fn words_give_way_first_then_columns_are_stacked() {
        assert!(shown(60).lines().all(|line| display_width(line) <= 60));
        assert!(shown(60).contains("as it was\n"), "{}", shown(60));
        let wanted = "  roll
  foil of copper
    mass: 27.3 ± 1.0 g
    figure: 4.43 ± 0.05 m
    as it was weighed
  together
    mass: 154 ± 12 g
    figure: 0 µm
";
        assert_eq!(shown(40), wanted);
    }

    #[test]
    fn a_figure_is_not_broken() {
        assert_eq!(wrapped("it gives 26.5 ± 0.6 Ah.", 20), ["it gives", "26.5 ± 0.6 Ah."]);
        assert_eq!(wrapped("energy, open circuit, Wh", 21), ["energy, open", "circuit, Wh"]);
    }
}
