//! For the terminal: sentences, and tables without rules, numbers set by their last digit.

use super::form::{BOLD, DIM, Form, Out, Report, in_style, visible};
use crate::page::{Block, Column, Line, Table};
use anstyle::Style;
use roulade::quantity::units::Unit;
use roulade_answer::answer::Run;
use std::iter::repeat_n;
use textwrap::WordSplitter;
use textwrap::core::display_width;

/// Text of at most so many columns.
pub(crate) struct Text {
    pub(crate) width: usize,
}

const INDENT: &str = "  ";
/// No column of words is made narrower.
const NARROWEST: usize = 14;
/// Stands for a space at which a line may not break.
const FIRM: char = '\u{a0}';

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

/// A table measured.
struct Grid {
    columns: Vec<Measured>,
    lines: Vec<Row>,
}

struct Measured {
    name: String,
    /// The name, and the unit where all figures share it.
    head: String,
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
    unit: usize,
    mark: usize,
    unit_in_head: bool,
}

enum Row {
    Group(String),
    Under(String),
    Cells { cells: Vec<String>, strong: bool },
}

impl Grid {
    fn of(table: &Table) -> Self {
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
    fn fitted(&self, width: usize) -> Option<(Vec<usize>, usize)> {
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
    fn of(column: &Column, cells: &[&str]) -> Self {
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

    fn style(&self, strong: bool) -> Style {
        match self.kind {
            Kind::Note => DIM,
            _ if strong => BOLD,
            _ => Style::new(),
        }
    }

    fn set_head(&self, width: usize) -> Vec<String> {
        let lines = wrapped(&self.head, width);
        match self.kind {
            Kind::Number(_) => lines.iter().map(|line| right(line, width)).collect(),
            Kind::Words | Kind::Note => lines,
        }
    }

    fn set(&self, cell: &str, width: usize) -> Vec<String> {
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
    fn width(self) -> usize {
        let after = [self.spread, self.unit, self.mark].into_iter().filter(|w| *w > 0).map(|w| w + 1);
        self.value + after.sum::<usize>()
    }
}

/// The parts of "26.5 ± 0.6 Ah [3]".
struct Figures<'a> {
    value: &'a str,
    spread: &'a str,
    unit: &'a str,
    mark: &'a str,
}

impl<'a> Figures<'a> {
    fn of(text: &'a str) -> Self {
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

fn cell(line: &Line, i: usize) -> &str {
    match line {
        Line::Group(_) | Line::Under(_) => "",
        Line::Row(cells) | Line::Sum(cells) => cells.get(i).map_or("", String::as_str),
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

fn wrapped(words: &str, width: usize) -> Vec<String> {
    let options = textwrap::Options::new(width.max(1)).word_splitter(WordSplitter::NoHyphenation);
    textwrap::wrap(&firm(words), options).iter().map(|line| line.trim_end().replace(FIRM, " ")).collect()
}

/// A figure stays on one line with its uncertainty and its unit, and so does a label with the unit at its end.
fn firm(words: &str) -> String {
    let mut firm = String::with_capacity(words.len());
    for word in words.split(' ') {
        let bare = word.trim_end_matches(|c: char| ".,;:)".contains(c));
        let unit = Unit::ALL.iter().any(|unit| !bare.is_empty() && unit.symbol() == bare);
        let after_number =
            firm.ends_with(|c: char| c.is_ascii_digit()) && (unit || ["±", "..", "%"].contains(&bare));
        let at_end = unit && firm.ends_with(',') && words.ends_with(&format!(", {word}"));
        if !firm.is_empty() {
            firm.push(if after_number || at_end || firm.ends_with('±') { FIRM } else { ' ' });
        }
        firm.push_str(word);
    }
    firm
}

/// Wrapped; further lines stand as far in as the first.
fn hanging(cell: &str, width: usize) -> Vec<String> {
    let depth = cell.len() - cell.trim_start().len();
    if depth == 0 {
        return wrapped(cell, width);
    }
    let lines = wrapped(cell.trim_start(), width.saturating_sub(depth));
    lines.iter().map(|line| format!("{}{line}", " ".repeat(depth))).collect()
}

fn right(text: &str, width: usize) -> String {
    format!("{}{text}", " ".repeat(width.saturating_sub(display_width(text))))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::Page;

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
        let report = Report { page: Page(vec![Block::Table(table)]), json: String::new(), rows: Vec::new() };
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
