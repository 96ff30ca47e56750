//! Questions as JSON text in, answers as JSON text out: one door for every face of the model.
//!
//! An answer is `{"ok": …}`, or `{"problems": [{"place", "found", "expected", "text"}, …]}`.

use crate::answer::{Comparison, EstimateAnswer};
use crate::design::Draft;
use crate::design::sheet::{self, Shape, Sheet};
use crate::problem::{Problem, Problems};
use crate::without;
use serde::Serialize;

/// Largest sheet that is read, bytes. A sheet of every quantity takes some ten thousand.
pub const LARGEST: usize = 1_000_000;

/// Reads a sheet from JSON text.
///
/// # Errors
/// Where the text is no JSON, with line and column; or every place where its shape is not that of a sheet.
pub fn sheet(text: &str) -> Result<Sheet, Problems> {
    read(text, "a design sheet: a JSON object with \"can\", \"cathode\" and \"anode\"")
}

fn read<T: Shape>(text: &str, expected: &str) -> Result<T, Problems> {
    if text.len() > LARGEST {
        let found = format!("{:.1} MB", text.len() as f64 / 1e6);
        return Err(Problem::new(
            "",
            found,
            format!("a sheet of at most {} MB is read", LARGEST / 1_000_000),
        )
        .into());
    }
    if text.trim().is_empty() {
        return Err(Problem::new("", "an empty text", expected).into());
    }
    let mut problems = Problems::default();
    match T::read(sheet::parse(text, expected)?, "", &mut problems) {
        Some(read) if problems.0.is_empty() => Ok(read),
        _ => Err(problems),
    }
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

/// Takes a part out of a sheet, and compares with the sheet as it was: the comparison and the new sheet.
///
/// The question is `{"sheet": …, "part": "…"}`, with `"instead"`, a part, and `"reclaim"`, a number from 0 to 1, where
/// they are wanted.
pub fn without(question: &str) -> String {
    #[derive(Serialize)]
    struct Answered {
        sheet: Sheet,
        #[serde(flatten)]
        comparison: Comparison,
    }
    answer(read::<sheet::Without>(question, "{\"sheet\": …, \"part\": \"…\"}").and_then(|question| {
        let missing = |what: &str| Problem::new(what, "nothing", format!("the question has a {what}"));
        let first = question.sheet.ok_or_else(|| missing("sheet"))?;
        let part = question.part.ok_or_else(|| missing("part"))?;
        let draft = Draft::read(&first)?;
        let sheet = without::without(first, &part, question.instead, question.reclaim.unwrap_or(1.0))?;
        Ok(Answered { comparison: Comparison::of(&draft, &Draft::read(&sheet)?)?, sheet })
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
    struct Told {
        #[serde(flatten)]
        problem: Problem,
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
            let told = problems.into_iter().map(|problem| Told { text: problem.to_string(), problem });
            Answer::Problems(told.collect())
        }
    };
    // Serialising plain data to a string does not fail; were it to, the answer would say so.
    serde_json::to_string(&told)
        .unwrap_or_else(|e| format!("{{\"problems\":[{{\"text\":{:?}}}]}}", e.to_string()))
}
