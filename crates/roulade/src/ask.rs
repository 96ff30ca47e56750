//! Questions as JSON text in, answers as JSON text out: one door for every face of the model.
//!
//! An answer is `{"ok": …}`, or `{"problems": [{"place", "found", "expected", "text"}, …]}`.

use crate::answer::{Comparison, EstimateAnswer};
use crate::design::Draft;
use crate::design::sheet::{Part, Sheet};
use crate::problem::{Problem, Problems};
use crate::without;
use serde::{Deserialize, Serialize};

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
        return Err(Problem::new(
            "",
            format!("{:.1} MB", text.len() as f64 / 1e6),
            format!("a sheet of at most {} MB is read", LARGEST / 1_000_000),
        )
        .into());
    }
    if text.trim().is_empty() {
        return Err(Problem::new("", "an empty text", expected).into());
    }
    serde_json::from_str(text).map_err(|e| Problem::new("", e.to_string(), expected).into())
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
    let both = (draft(first).map_err(|p| p.within("first")), draft(second).map_err(|p| p.within("second")));
    answer(match both {
        (Ok(first), Ok(second)) => Comparison::of(&first, &second),
        (Err(mut first), Err(second)) => {
            first.0.extend(second.0);
            Err(first)
        }
        (Err(problems), _) | (_, Err(problems)) => Err(problems),
    })
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

/// Takes a part out of a sheet, and compares with the sheet as it was: the comparison and the new sheet.
pub fn without(question: &str) -> String {
    #[derive(Serialize)]
    struct Answered {
        sheet: Sheet,
        #[serde(flatten)]
        comparison: Comparison,
    }
    answer(parse::<Without>(question, "{\"sheet\": …, \"part\": \"…\"}").and_then(|q| {
        let sheet = without::without(&q.sheet, &q.part, q.instead.as_ref(), q.reclaim.unwrap_or(1.0))?;
        let (first, second) = (Draft::read(&q.sheet)?, Draft::read(&sheet)?);
        Ok(Answered { comparison: Comparison::of(&first, &second)?, sheet })
    }))
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
