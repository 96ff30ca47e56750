//! Words wrapped, figures kept whole.

use roulade::quantity::units::Unit;
use textwrap::WordSplitter;
use textwrap::core::display_width;

/// What a line begins with.
pub(super) const INDENT: &str = "  ";
/// Stands for a space at which a line may not break.
pub(super) const FIRM: char = '\u{a0}';

pub(super) fn wrapped(words: &str, width: usize) -> Vec<String> {
    let options = textwrap::Options::new(width.max(1)).word_splitter(WordSplitter::NoHyphenation);
    textwrap::wrap(&firm(words), options).iter().map(|line| line.trim_end().replace(FIRM, " ")).collect()
}

/// A figure stays on one line with its uncertainty and its unit, and so does a label with the unit at its end.
pub(super) fn firm(words: &str) -> String {
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
pub(super) fn hanging(cell: &str, width: usize) -> Vec<String> {
    let depth = cell.len() - cell.trim_start().len();
    if depth == 0 {
        return wrapped(cell, width);
    }
    let lines = wrapped(cell.trim_start(), width.saturating_sub(depth));
    lines.iter().map(|line| format!("{}{line}", " ".repeat(depth))).collect()
}

pub(super) fn right(text: &str, width: usize) -> String {
    format!("{}{text}", " ".repeat(width.saturating_sub(display_width(text))))
}
