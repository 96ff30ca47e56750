//! What is wrong, where, what was found and what would be right: data first, and the wording once.

use serde::Serialize;
use std::borrow::Cow;
use std::fmt::{self, Write as _};

/// Most characters of a place, of what was found and of what would be right.
const LONGEST: [usize; 3] = [200, 500, 1200];
/// Length of a list of names after which the rest are counted, bytes: it leaves room for what follows the list.
const LONGEST_LIST: usize = 800;
/// Most problems that are told one by one.
const MOST_LISTED: usize = 50;

/// One thing wrong with what was given.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, thiserror::Error)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Problem {
    /// Path in the sheet, for example `cathode.mix[0].share`; empty where the whole of it is meant.
    pub place: String,
    /// What was found there.
    pub found: String,
    /// What would be right, as it reads after "expected".
    pub expected: String,
}

impl Problem {
    /// A problem at `place`. What a terminal would obey is made [visible], and no part is longer than a reader's patience.
    pub fn new(place: impl Into<String>, found: impl Into<String>, expected: impl Into<String>) -> Self {
        let [of_place, of_found, of_expected] = LONGEST;
        Self {
            place: bounded(place.into(), of_place),
            found: bounded(found.into(), of_found),
            expected: bounded(expected.into(), of_expected),
        }
    }

    /// The same problem, seen from outside: `prefix` is put before its place.
    pub fn within(mut self, prefix: &str) -> Self {
        self.place =
            if self.place.is_empty() { prefix.to_owned() } else { format!("{prefix}.{}", self.place) };
        self
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.place.is_empty() {
            write!(f, "{}: ", self.place)?;
        }
        write!(f, "found {}; expected {}", self.found, self.expected)
    }
}

/// Everything wrong that could be found in one pass, never the first alone.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Problems(pub Vec<Problem>);

impl Problems {
    /// Adds one.
    pub fn push(&mut self, problem: Problem) {
        self.0.push(problem);
    }

    /// `Ok` with `value` where nothing is wrong.
    ///
    /// # Errors
    /// These problems, where there are any.
    pub fn or_else_ok<T>(self, value: T) -> Result<T, Problems> {
        if self.0.is_empty() { Ok(value) } else { Err(self) }
    }

    /// Those that are told one by one: the first fifty, and how many more there are.
    pub fn listed(&self) -> Cow<'_, [Problem]> {
        if self.0.len() <= MOST_LISTED {
            return Cow::Borrowed(&self.0);
        }
        let mut listed: Vec<Problem> = self.0.iter().take(MOST_LISTED - 1).cloned().collect();
        let place = self.0.get(MOST_LISTED - 1).map_or(String::new(), |next| next.place.clone());
        let found = format!("{} more problems from here on", self.0.len() - listed.len());
        listed.push(Problem {
            place,
            found,
            expected: "the problems before this one to be corrected first".to_owned(),
        });
        Cow::Owned(listed)
    }

    /// All of them, each with `prefix` before its place.
    pub fn within(self, prefix: &str) -> Self {
        Self(self.0.into_iter().map(|p| p.within(prefix)).collect())
    }
}

impl From<Problem> for Problems {
    fn from(problem: Problem) -> Self {
        Self(vec![problem])
    }
}

impl fmt::Display for Problems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, problem) in self.listed().iter().enumerate() {
            if i > 0 {
                writeln!(f)?;
            }
            write!(f, "{problem}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Problems {}

/// The candidate that differs least from `word`, whatever the case; `None` where more than a third of its letters
/// differ.
pub fn nearest<'a>(word: &str, candidates: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let wanted: String = word.trim().to_ascii_lowercase().chars().take(60).collect();
    let most = (wanted.chars().count() / 3).max(1);
    candidates
        .map(|candidate| (edits(&wanted, &candidate.to_ascii_lowercase()), candidate))
        .filter(|(edits, _)| *edits <= most)
        .min_by_key(|(edits, _)| *edits)
        .map(|(_, candidate)| candidate)
}

/// Fewest letters to insert, drop or change to make `b` of `a`.
fn edits(a: &str, b: &str) -> usize {
    let mut row: Vec<usize> = (0..=b.chars().count()).collect();
    for (i, from) in a.chars().enumerate() {
        let (mut diagonal, mut left) = (i, i + 1);
        for (cell, to) in row.iter_mut().skip(1).zip(b.chars()) {
            let changed = diagonal + usize::from(from != to);
            diagonal = *cell;
            left = changed.min(diagonal + 1).min(left + 1);
            *cell = left;
        }
        if let Some(first) = row.first_mut() {
            *first = i + 1;
        }
    }
    row.last().copied().unwrap_or_default()
}

/// Both, or everything wrong with either.
///
/// # Errors
/// The problems of both.
pub fn both<A, B>(first: Result<A, Problems>, second: Result<B, Problems>) -> Result<(A, B), Problems> {
    match (first, second) {
        (Ok(first), Ok(second)) => Ok((first, second)),
        (Err(mut first), Err(second)) => {
            first.0.extend(second.0);
            Err(first)
        }
        (Err(problems), _) | (_, Err(problems)) => Err(problems),
    }
}

/// That another name was perhaps meant, shortened and made visible.
pub fn perhaps(near: &str) -> String {
    format!("perhaps \"{}\" was meant", shortened(near))
}

/// The same behind what would be right; nothing where no name comes near.
///
/// ```
/// # use roulade::quantity::problem::{hint, nearest};
/// assert_eq!(hint(nearest("stell", ["steel", "copper"].into_iter())), "; perhaps \"steel\" was meant");
/// assert_eq!(hint(None), "");
/// ```
pub fn hint(near: Option<&str>) -> String {
    near.map(|near| format!("; {}", perhaps(near))).unwrap_or_default()
}

/// Names that somebody gave, each in quotation marks and shortened, with commas between; the last of many are counted.
///
/// ```
/// # use roulade::quantity::problem::quoted;
/// assert_eq!(quoted(&["lid", "0.43 mAh"]), "\"lid\", \"0.43 mAh\"");
/// ```
pub fn quoted(names: &[impl AsRef<str>]) -> String {
    let mut list = String::new();
    for (i, name) in names.iter().enumerate() {
        if list.len() > LONGEST_LIST {
            return format!("{list} and {} more", names.len() - i);
        }
        list.extend([if i > 0 { ", \"" } else { "\"" }, &shortened(name.as_ref()), "\""]);
    }
    list
}

/// At most sixty characters of what somebody wrote, made [visible].
pub fn shortened(text: &str) -> String {
    let few: String = text.chars().take(200).collect();
    cut(&visible(&few), 60)
}

fn cut(text: &str, most: usize) -> String {
    match text.char_indices().nth(most) {
        None => text.to_owned(),
        Some(_) => text.chars().take(most - 1).chain(['…']).collect(),
    }
}

fn bounded(text: String, most: usize) -> String {
    // No character is shorter than a byte.
    let text = if text.len() > most { cut(&text, most) } else { text };
    match visible(&text) {
        Cow::Borrowed(_) => text,
        Cow::Owned(shown) => shown,
    }
}

/// Whether a terminal would obey a character, or a reader's screen turn a line around at it.
fn obeyed(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{061C}' | '\u{200E}' | '\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

/// Somebody's text as it may be shown: what a terminal would obey, or what would reorder a line, is written as JSON would
/// write it.
///
/// ```
/// # use roulade::quantity::problem::visible;
/// assert_eq!(visible("lid\u{1b}[31m \u{202e}"), "lid\\u001b[31m \\u202e");
/// ```
pub fn visible(text: &str) -> Cow<'_, str> {
    if !text.contains(obeyed) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        match c {
            '\n' => shown.push_str("\\n"),
            '\r' => shown.push_str("\\r"),
            '\t' => shown.push_str("\\t"),
            _ if obeyed(c) => {
                // Writing to a string does not fail.
                let _ = write!(shown, "\\u{:04x}", u32::from(c));
            }
            _ => shown.push(c),
        }
    }
    Cow::Owned(shown)
}

/// JSON text in which what a terminal would obey, or what would reorder a line, is written as its escape: the same JSON.
///
/// ```
/// # use roulade::quantity::problem::json_visible;
/// assert_eq!(json_visible("[\"a\u{202e}b\",\n1]".to_owned()), "[\"a\\u202eb\",\n1]");
/// ```
pub fn json_visible(json: String) -> String {
    let hidden = |c: char| c != '\n' && obeyed(c);
    if !json.contains(hidden) {
        return json;
    }
    let mut shown = String::with_capacity(json.len() + 64);
    for c in json.chars() {
        if hidden(c) {
            // Only within a text is such a character JSON; writing to a string does not fail.
            let _ = write!(shown, "\\u{:04x}", u32::from(c));
        } else {
            shown.push(c);
        }
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn problems_say_where_what_and_what_would_be_right() {
        let problem = Problem::new("can.wall", "\"3 V\", a voltage", "a length");
        assert_eq!(
            problem.clone().within("first").to_string(),
            "first.can.wall: found \"3 V\", a voltage; expected a length"
        );
        let whole = Problem::new("", "an empty text", "a design sheet").within("second");
        assert_eq!(
            Problems(vec![problem, whole]).to_string().lines().last(),
            Some("second: found an empty text; expected a design sheet")
        );
    }

    #[test]
    fn the_nearest_word_is_near() {
        assert_eq!(edits("kitten", "sitting"), 3);
        for (a, b, count) in [
            ("flaw", "lawn", 2),
            ("abcd", "bcd", 1),
            ("bcd", "abcd", 1),
            ("", "abc", 3),
            ("abc", "", 3),
            ("abc", "abc", 0),
        ] {
            assert_eq!(edits(a, b), count, "{a} {b}");
        }
        assert_eq!(nearest("waal", ["wall", "bottom"].into_iter()), Some("wall"));
        assert_eq!(nearest("lid", ["bottom"].into_iter()), None);
    }

    #[test]
    fn long_and_strange_text_is_cut_and_made_visible() {
        assert_eq!(shortened("a\u{1b}[31m\u{202e}"), "a\\u001b[31m\\u202e");
        assert_eq!(shortened(&"µ".repeat(100)).chars().count(), 60);
        let problem = Problem::new("parts[a\u{1b}]", "µ".repeat(10_000), "b\nc");
        assert_eq!((problem.place.as_str(), problem.expected.as_str()), ("parts[a\\u001b]", "b\\nc"));
        assert_eq!(problem.found.chars().count(), 500);
    }

    #[test]
    fn many_problems_are_counted() {
        let all = |n: usize| Problems((0..n).map(|i| Problem::new(format!("a{i}"), "b", "c")).collect());
        assert_eq!(all(50).listed().len(), 50);
        let listed = all(20_000).listed().into_owned();
        assert_eq!((listed.len(), listed[49].place.as_str()), (50, "a49"));
        assert_eq!(listed[49].found, "19951 more problems from here on");
        assert!(all(20_000).to_string().len() < 1_500);
    }
}
