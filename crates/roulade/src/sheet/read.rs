//! JSON text to the types of a sheet.

use super::{Part, Shape, Sheet, parse};
use crate::quantity::problem::{Problem, Problems};

/// Largest text that is read, bytes. A sheet of every quantity takes some ten thousand.
pub const LARGEST: usize = 1_000_000;

/// What a sheet is, for whoever was given something else.
const SHEET: &str = "a design sheet: a JSON object with \"can\", \"cathode\" and \"anode\"";

/// Reads a value from JSON text; `expected` says what would be right where the text is none.
///
/// # Errors
/// Where the text is no JSON, with line and column; or every place where its shape is wrong.
pub fn text<T: Shape>(text: &str, expected: &str) -> Result<T, Problems> {
    let mut problems = Problems::default();
    match shaped(text, expected, &mut problems)? {
        Some(read) if problems.0.is_empty() => Ok(read),
        _ => Err(problems),
    }
}

/// As much as could be read; what is of the wrong shape is told and left out.
fn shaped<T: Shape>(text: &str, expected: &str, problems: &mut Problems) -> Result<Option<T>, Problems> {
    if text.len() > LARGEST {
        return Err(too_large(text.len() as u64).into());
    }
    if text.trim().is_empty() {
        return Err(Problem::new("", "an empty text", expected).into());
    }
    Ok(T::whole(parse(text, expected)?, problems))
}

/// As much of a sheet as could be read; what is of the wrong shape is told and left out.
///
/// # Errors
/// Where the text is no JSON, with line and column; or is no object.
pub(crate) fn as_far_as_shaped(text: &str, problems: &mut Problems) -> Result<Option<Sheet>, Problems> {
    shaped(text, SHEET, problems)
}

/// The complaint about a text of so many bytes, for whoever can tell before reading it.
pub fn too_large(bytes: u64) -> Problem {
    Problem::new(
        "",
        format!("{:.1} MB", bytes as f64 / 1e6),
        format!("at most {} MB, which can be read", LARGEST / 1_000_000),
    )
}

impl Sheet {
    /// Reads a sheet from JSON text.
    ///
    /// # Errors
    /// Where the text is no JSON, with line and column; or every place where its shape is not that of a sheet.
    pub fn parse(json: &str) -> Result<Self, Problems> {
        text(json, SHEET)
    }
}

impl Part {
    /// Reads one part of a sheet from JSON text.
    ///
    /// # Errors
    /// Where the text is no JSON, with line and column; or every place where its shape is not that of a part.
    pub fn parse(json: &str) -> Result<Self, Problems> {
        text(json, "a part: a JSON object with \"name\" and \"place\"")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell::draft::Draft;

    #[test]
    fn texts_that_are_no_sheet() {
        for text in ["", "  \n", "[]", "{", "3"] {
            assert_eq!(Draft::parse(text).unwrap_err().0.len(), 1, "{text}");
        }
        let padded = |size: usize| format!("{{{}}}", " ".repeat(size - 2));
        let diagnostic = |size| Draft::parse(&padded(size)).unwrap_err().to_string();
        assert!(!diagnostic(LARGEST).contains("MB"));
        assert!(diagnostic(LARGEST + 1).contains("found 1.0 MB; expected at most 1 MB"));
        assert_eq!(too_large(2_500_000).found, "2.5 MB");
        assert!(Part::parse("[]").is_err() && Part::parse("{\"name\": 3}").is_err());
        assert!(Sheet::parse("{\"cell\": 3}").is_err());
    }
}
