//! Questions as JSON text in, answers as JSON text out: one door for every face of the model.
//!
//! An answer is `{"ok": …}`, or `{"problems": [{"place", "found", "expected", "text"}, …]}`.

use crate::answer::{Comparison, EstimateAnswer};
use crate::design::Draft;
use crate::design::sheet::{self, Part, Shape, Sheet};
use crate::problem::{Problem, Problems};
use crate::without;
use serde::Serialize;

/// Largest sheet that is read, bytes. A sheet of every quantity takes some ten thousand.
pub const LARGEST: usize = 1_000_000;

const SHEET: &str = "a design sheet: a JSON object with \"can\", \"cathode\" and \"anode\"";

/// Reads a sheet from JSON text.
///
/// # Errors
/// Where the text is no JSON, with line and column; or every place where its shape is not that of a sheet.
pub fn sheet(text: &str) -> Result<Sheet, Problems> {
    read(text, SHEET)
}

fn read<T: Shape>(text: &str, expected: &str) -> Result<T, Problems> {
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
    Ok(T::read(sheet::parse(text, expected)?, "", problems))
}

/// The complaint about a text of so many bytes, for whoever can tell before reading it.
pub fn too_large(bytes: u64) -> Problem {
    Problem::new(
        "",
        format!("{:.1} MB", bytes as f64 / 1e6),
        format!("a sheet of at most {} MB is read", LARGEST / 1_000_000),
    )
}

/// Reads one part of a sheet from JSON text.
///
/// # Errors
/// Where the text is no JSON, with line and column; or every place where its shape is not that of a part.
pub fn part(text: &str) -> Result<Part, Problems> {
    read(text, "a part: a JSON object with \"name\" and \"place\"")
}

/// Reads a sheet and fills its gaps.
///
/// # Errors
/// Everything wrong with it.
pub fn draft(text: &str) -> Result<Draft, Problems> {
    let mut problems = Problems::default();
    let Some(sheet) = shaped::<Sheet>(text, SHEET, &mut problems)? else { return Err(problems) };
    // An item that was left out of a list would shift the places of all after it.
    if problems.0.iter().any(|problem| problem.place.ends_with(']')) {
        return Err(problems);
    }
    match Draft::read(&sheet) {
        Ok(draft) => problems.or_else_ok(draft),
        Err(more) => {
            // What was left out for its shape is missed no second time.
            let told: Vec<String> = problems.0.iter().map(|problem| problem.place.clone()).collect();
            let again =
                |place: &str| told.iter().any(|at| at.starts_with(place) || place.starts_with(at.as_str()));
            problems.0.extend(more.0.into_iter().filter(|problem| !again(&problem.place)));
            Err(problems)
        }
    }
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

/// Takes a part out of a sheet, and compares with the sheet as it was: the comparison and the new sheet.
///
/// The question is `{"sheet": …, "part": "…"}`, with `"instead"`, a part, and `"reclaim"`, a number from 0 to 1, where
/// they are wanted.
pub fn without(question: &str) -> String {
    answer(read::<sheet::Without>(question, "{\"sheet\": …, \"part\": \"…\"}").and_then(|question| {
        let missing = |what: &str| Problem::new(what, "nothing", format!("the question has a {what}"));
        let sheet = question.sheet.ok_or_else(|| missing("sheet"))?;
        let part = question.part.ok_or_else(|| missing("part"))?;
        taken(sheet, &part, question.instead, question.reclaim)
    }))
}

/// Takes a part out of a sheet, `instead` in its place; all of the freed height becomes coated width unless `reclaim`
/// is another share of it.
///
/// # Errors
/// Everything wrong with the sheet, before or after; places in the part that comes begin with `instead.`.
pub fn taken(
    sheet: Sheet,
    part: &str,
    instead: Option<Part>,
    reclaim: Option<f64>,
) -> Result<Comparison, Problems> {
    let draft = Draft::read(&sheet)?;
    let sheet = without::without(sheet, part, instead, reclaim.unwrap_or(1.0))?;
    let comparison = Comparison::of(&draft, &Draft::read(&sheet)?)?;
    Ok(Comparison { sheet: Some(sheet), ..comparison })
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
    struct Told {
        place: String,
        found: String,
        expected: String,
        text: String,
    }
    #[derive(Serialize)]
    #[serde(rename_all = "lowercase")]
    enum Answer<T> {
        Ok(T),
        Problems(Vec<Told>),
    }
    let told = match result {
        Ok(value) => Answer::Ok(value),
        Err(Problems(problems)) => {
            let told = problems.into_iter().map(|problem| {
                let text = problem.to_string();
                let Problem { place, found, expected } = problem;
                Told { place, found, expected, text }
            });
            Answer::Problems(told.collect())
        }
    };
    // Serialising plain data to a string does not fail; were it to, the answer would say so.
    serde_json::to_string(&told)
        .unwrap_or_else(|e| format!("{{\"problems\":[{{\"text\":{:?}}}]}}", e.to_string()))
}
