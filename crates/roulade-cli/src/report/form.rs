//! What an answer is, and what a form makes of it.

use crate::page::Page;
use anstyle::Style;
pub(crate) use roulade::quantity::problem::visible;
use roulade::quantity::problem::{Problem, Problems};
use roulade_answer::ask;
use serde::Serialize;
use std::fmt::Write as _;

/// An answer, in everything that a form may need of it.
pub(crate) struct Report {
    /// For people.
    pub(crate) page: Page,
    /// For programs: the model's own text.
    pub(crate) json: String,
    /// For spreadsheets: a header, then rows.
    pub(crate) rows: Vec<Vec<String>>,
    /// What goes to standard output in its place: a file that was to be written there.
    pub(crate) instead: Option<String>,
}

impl Report {
    /// An answer, for people, for programs and for spreadsheets.
    pub(crate) fn of<T: Serialize + ?Sized>(page: Page, answer: &T, rows: Vec<Vec<String>>) -> Self {
        Self { page, json: ask::answer(Ok(answer)), rows, instead: None }
    }

    /// What goes to standard output.
    pub(crate) fn out(self, form: &dyn Form) -> Out {
        match self.instead {
            Some(text) => Out::Exact(text),
            None => form.answer(&self),
        }
    }
}

/// A form of an answer.
pub(crate) trait Form {
    /// The whole answer.
    fn answer(&self, report: &Report) -> Out;

    /// What stands in the place of an answer, where there is none.
    fn problems(&self, problems: &Problems, sources: &Sources) -> Delivery {
        Delivery { out: Out::Exact(String::new()), err: complaints(problems, sources), status: 2 }
    }
}

/// What goes to standard output.
pub(crate) enum Out {
    /// For people, with styles where the terminal has them.
    Styled(String),
    /// For programs, byte for byte.
    Exact(String),
}

/// All that a call leaves behind.
pub(crate) struct Delivery {
    pub(crate) out: Out,
    pub(crate) err: String,
    pub(crate) status: u8,
}

/// Where the places in problems are to be looked for.
pub(crate) struct Sources {
    /// What problems without one of the beginnings below are about.
    pub(crate) file: String,
    /// Beginnings of places, and the file each stands for.
    pub(crate) begins: Vec<(&'static str, String)>,
}

impl Sources {
    /// One file for every place.
    pub(crate) fn one(file: String) -> Self {
        Self { file, begins: Vec::new() }
    }

    /// The file of a problem, and its place in there.
    fn find<'a>(&'a self, problem: &'a Problem) -> (&'a str, &'a str) {
        let found = self.begins.iter().find_map(|(begin, file)| {
            let rest = problem.place.strip_prefix(begin)?;
            (rest.is_empty() || rest.starts_with('.'))
                .then_some((file.as_str(), rest.trim_start_matches('.')))
        });
        found.unwrap_or((&self.file, &problem.place))
    }
}

/// "FILE: place: found …; …", a line for each problem.
pub(super) fn complaints(problems: &Problems, sources: &Sources) -> String {
    let mut lines = String::new();
    for problem in &*problems.listed() {
        let (file, place) = sources.find(problem);
        let message = Problem { place: place.to_owned(), ..problem.clone() }.to_string();
        // Writing to a string does not fail.
        let _ = writeln!(lines, "{}: {}", in_style(BOLD, &visible(file)), visible(&message));
    }
    lines
}

pub(super) const BOLD: Style = Style::new().bold();
pub(super) const DIM: Style = Style::new().dimmed();

pub(super) fn in_style(style: Style, text: &str) -> String {
    if text.is_empty() { String::new() } else { format!("{style}{text}{style:#}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_terminal_obeys_is_made_visible() {
        assert_eq!(visible("\u{1b}]0;a\u{7}\n\u{9b}2J"), "\\u001b]0;a\\u0007\\n\\u009b2J");
        assert_eq!(visible("a\u{202e}b"), "a\\u202eb");
        assert_eq!(visible("68 ± 1 µm, Größe"), "68 ± 1 µm, Größe");
    }

    #[test]
    fn places_lead_to_the_right_file() {
        let sources = Sources {
            file: "sheet.json".to_owned(),
            begins: vec![("first", "a.json".to_owned()), ("second", "b.json".to_owned())],
        };
        let problems = Problems(vec![
            Problem::new("first.can.wall", "1", "2"),
            Problem::new("second", "3", "4"),
            Problem::new("firstly", "5", "6"),
        ]);
        let lines = complaints(&problems, &sources);
        let plain = anstream::adapter::strip_str(&lines).to_string();
        assert_eq!(
            plain,
            "a.json: can.wall: found 1; expected 2\nb.json: found 3; expected 4\nsheet.json: firstly: found 5; expected 6\n"
        );
    }
}
