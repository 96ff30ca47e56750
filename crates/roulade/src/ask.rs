//! Questions as JSON text in, answers as JSON text out: one door for every face of the model.
//!
//! An answer is `{"ok": …}`, or `{"problems": [{"place", "found", "expected", "text"}, …]}`.

use crate::answer::{Comparison, EstimateAnswer};
use crate::design::Draft;
use crate::design::sheet::{Part, Sheet};
use crate::problem::{Problem, Problems};
use crate::without;
use serde::{Deserialize, Serialize};
use serde_json::error::Category;

/// Largest sheet that is read, bytes. A sheet of every quantity takes some ten thousand.
pub const LARGEST: usize = 1_000_000;

/// Reads a sheet from JSON text.
///
/// # Errors
/// Where the text is no JSON object of that shape, with line and column.
pub fn sheet(text: &str) -> Result<Sheet, Problems> {
    parse(text, "a design sheet: a JSON object with \"can\", \"cathode\" and \"anode\"")
}

fn parse<'a, T: Deserialize<'a>>(text: &'a str, expected: &str) -> Result<T, Problems> {
    if text.len() > LARGEST {
        return Err(too_large(text.len() as u64).into());
    }
    if text.trim().is_empty() {
        return Err(Problem::new("", "an empty text", expected).into());
    }
    serde_json::from_str(text).map_err(|e| Problem::new("", unreadable(&e), expected).into())
}

/// The complaint about a text of so many bytes, for whoever can tell before reading it.
pub fn too_large(bytes: u64) -> Problem {
    Problem::new(
        "",
        format!("{}.{} MB", bytes / 1_000_000, bytes % 1_000_000 / 100_000),
        format!("a sheet of at most {} MB is read", LARGEST / 1_000_000),
    )
}

/// What is wrong with a text that is no JSON of the shape asked for, and where.
fn unreadable(error: &serde_json::Error) -> String {
    let place = format!("line {}, column {}", error.line(), error.column().max(1));
    let said = error.to_string();
    let said = said.rsplit_once(" at line ").map_or(said.as_str(), |(said, _)| said);
    match error.classify() {
        Category::Eof => format!("a text that breaks off at {place}"),
        Category::Syntax | Category::Io => format!("text that is not JSON at {place} ({said})"),
        Category::Data => {
            let plain = |kind: &str| match kind {
                "map" | "a map" => "an object".to_owned(),
                "sequence" | "a sequence" => "a list".to_owned(),
                other => other.to_owned(),
            };
            let quoted = |said: &'_ str| said.replace('`', "\"");
            if let Some((found, right)) =
                said.strip_prefix("unknown variant ").and_then(|said| said.split_once(", expected "))
            {
                return format!("{} where {} belongs, at {place}", quoted(found), quoted(right));
            }
            if let Some(key) = said.strip_prefix("duplicate field ") {
                return format!("the key {} a second time, at {place}", quoted(key));
            }
            match said.strip_prefix("invalid type: ").and_then(|said| said.split_once(", expected ")) {
                Some((found, right)) => {
                    format!("{} where {} belongs, at {place}", plain(found), plain(right))
                }
                None => format!("{said} at {place}"),
            }
        }
    }
}

/// Reads one part of a sheet from JSON text.
///
/// # Errors
/// Where the text is no JSON object of that shape, with line and column.
pub fn part(text: &str) -> Result<Part, Problems> {
    parse(text, "a part: a JSON object with \"name\" and \"place\"")
}

/// Reads a sheet and fills its gaps.
///
/// # Errors
/// Everything wrong with it.
pub fn draft(text: &str) -> Result<Draft, Problems> {
    Draft::read(&sheet(text)?)
}

/// What one cell must give.
pub fn estimate(sheet: &str) -> String {
    answer(draft(sheet).and_then(|draft| EstimateAnswer::of(&draft)))
}

/// Two cells compared.
pub fn compare(first: &str, second: &str) -> String {
    answer(compared(draft(first), draft(second)))
}

/// Two cells compared, before the answer becomes text.
///
/// # Errors
/// Everything wrong with either; places begin with `first.` or `second.`.
pub fn compared(
    first: Result<Draft, Problems>,
    second: Result<Draft, Problems>,
) -> Result<Comparison, Problems> {
    match (first.map_err(|p| p.within("first")), second.map_err(|p| p.within("second"))) {
        (Ok(first), Ok(second)) => Comparison::of(&first, &second),
        (Err(mut first), Err(second)) => {
            first.0.extend(second.0);
            Err(first)
        }
        (Err(problems), _) | (_, Err(problems)) => Err(problems),
    }
}

/// A cell against itself without one part.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Without {
    sheet: Sheet,
    part: String,
    #[serde(default)]
    instead: Option<Part>,
    #[serde(default)]
    reclaim: Option<f64>,
}

/// A sheet without one of its parts, compared with the sheet as it was.
#[derive(Clone, Debug, Serialize)]
pub struct Taken {
    /// The new sheet.
    pub sheet: Sheet,
    /// The sheet as it was against the new one.
    #[serde(flatten)]
    pub comparison: Comparison,
}

/// Takes a part out of a sheet, and compares with the sheet as it was: the comparison and the new sheet.
pub fn without(question: &str) -> String {
    answer(
        parse::<Without>(question, "{\"sheet\": …, \"part\": \"…\"}")
            .and_then(|q| taken(&q.sheet, &q.part, q.instead.as_ref(), q.reclaim)),
    )
}

/// Takes a part out of a sheet, `instead` in its place; all of the freed height becomes coated width unless `reclaim`
/// is another share of it.
///
/// # Errors
/// Everything wrong with the sheet, before or after; places in the part that comes begin with `instead.`.
pub fn taken(
    sheet: &Sheet,
    part: &str,
    instead: Option<&Part>,
    reclaim: Option<f64>,
) -> Result<Taken, Problems> {
    let changed = without::without(sheet, part, instead, reclaim.unwrap_or(1.0))?;
    let comparison = Comparison::of(&Draft::read(sheet)?, &Draft::read(&changed)?)?;
    Ok(Taken { sheet: changed, comparison })
}

/// One number, in hexadecimal, for all bits of all figures of `count` designs around a sheet's; see [`crate::vary`].
pub fn digest(sheet: &str, count: u32, seed: u32) -> String {
    answer(draft(sheet).map(|draft| format!("{:016x}", crate::vary::digest(&draft, count, u64::from(seed)))))
}

/// The table of materials.
pub fn materials() -> String {
    answer(Ok(crate::answer::materials()))
}

/// An answer as JSON text.
#[allow(clippy::needless_pass_by_value, reason = "an answer that was told is done with")]
pub fn answer<T: Serialize>(result: Result<T, Problems>) -> String {
    #[derive(Serialize)]
    struct Told<'a> {
        #[serde(flatten)]
        problem: &'a Problem,
        text: String,
    }
    #[derive(Serialize)]
    #[serde(rename_all = "lowercase")]
    enum Answer<'a, T> {
        Ok(T),
        Problems(Vec<Told<'a>>),
    }
    let told = match &result {
        Ok(value) => Answer::Ok(value),
        Err(problems) => {
            Answer::Problems(problems.0.iter().map(|p| Told { problem: p, text: p.to_string() }).collect())
        }
    };
    // Serialising plain data to a string does not fail; were it to, the answer would say so.
    serde_json::to_string(&told)
        .unwrap_or_else(|e| format!("{{\"problems\":[{{\"text\":{:?}}}]}}", e.to_string()))
}
