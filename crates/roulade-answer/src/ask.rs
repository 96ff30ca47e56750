//! Questions as JSON text in, answers as JSON text out: one door for every face of the model.
//!
//! An answer is `{"ok": …}`, or `{"problems": [{"place", "found", "expected", "text"}, …]}`.

mod bench;

use crate::answer::{
    AttributionAnswer, ClaimAnswer, ClaimsAnswer, Comparison, Diagnostic, EditAnswer, EstimateAnswer,
    GridAnswer, SampledAnswer, SensitivityAnswer, Sentence,
};
use crate::question;
use roulade::cell::draft::Draft;
use roulade::quantity::problem::{Problem, Problems, both, json_visible};
use roulade::sheet::{Part, Sheet, read, unknown_keys};
use roulade::study::claim::{Check, List, Said, Together, Verdict};
use roulade::study::edit::SheetChange;
use roulade::study::form_factors::asked::ResizeEntries;
use roulade::study::{attribute, claim, remove};
use roulade_stats::executor::Executor;
use serde::Serialize;

pub use bench::{
    BenchAnswer, BenchQuestion, Left, loss, next, next_after, next_left, readable, readings, readings_of,
    reconcile, reconciled, reconciled_and_left, template, template_text,
};

/// What one cell must give.
pub fn estimate(sheet: &str) -> String {
    answer(Draft::parse(sheet).and_then(|draft| EstimateAnswer::of(&draft)))
}

/// A sheet from its text, read as every question reads it but not judged: the sheet as it is written.
pub fn sheet(text: &str) -> String {
    answer(question::sheet(text))
}

/// The work on cells that a link or a browser keeps, from its text; see [`question::Work`].
pub fn work(text: &str) -> String {
    answer(question::Work::read(text))
}

/// Two cells compared.
pub fn compare(first: &str, second: &str) -> String {
    answer(compared(Draft::parse(first), Draft::parse(second)))
}

/// Two cells compared, before the answer becomes text.
///
/// # Errors
/// Everything wrong with either; places begin with `first.` or `second.`.
pub fn compared(
    first: Result<Draft, Problems>,
    second: Result<Draft, Problems>,
) -> Result<Comparison, Problems> {
    let (first, second) = both(first.map_err(|p| p.within("first")), second.map_err(|p| p.within("second")))?;
    Comparison::of(&first, &second)
}

/// Takes parts out of a sheet, and compares with the sheet as it was: the comparison and the new sheet.
///
/// The question is `{"sheet": …, "part": "…"}`, or `"parts": ["…", "…"]` for several at once, with `"instead"`, a part, and `"reclaim"`, a number from 0 to 1 or a
/// text such as "85 %", where they are wanted.
pub fn without(question: &str) -> String {
    answer(read::text::<question::Without>(question, "a question, {\"sheet\": …, \"part\": \"…\"}").and_then(
        |question| {
            let missing =
                |what: &str| Problem::new(what, "nothing", format!("the question to have a {what}"));
            let sheet = question.sheet.ok_or_else(|| missing("sheet"))?;
            let parts: Vec<String> =
                question.part.into_iter().chain(question.parts.into_iter().flatten()).collect();
            if parts.is_empty() {
                return Err(missing("part").into());
            }
            taken(sheet, &parts, question.instead, question.reclaim.map(|share| share.0))
        },
    ))
}

/// Takes parts out of a sheet, `instead` in the place of the first; all of the freed height becomes coated width unless `reclaim`
/// is another share of it.
///
/// # Errors
/// Everything wrong with the sheet, before or after; places in the part that comes begin with `instead.`.
pub fn taken(
    sheet: Sheet,
    parts: &[impl AsRef<str>],
    instead: Option<Part>,
    reclaim: Option<f64>,
) -> Result<Comparison, Problems> {
    let draft = Draft::read(&sheet)?;
    let sheet = remove::without(
        sheet,
        &parts.iter().map(AsRef::as_ref).collect::<Vec<&str>>(),
        instead,
        reclaim.unwrap_or(1.0),
    )?;
    let comparison = Comparison::of(&draft, &Draft::read(&sheet)?)?;
    Ok(Comparison { sheet: Some(sheet), ..comparison })
}

/// Whether declared figures can be true.
///
/// The question is `{"claim": "at least 290 Wh/kg", "sheet": …}`, or `"claims": ["26 Ah", "355 g"]` for several, with `"other"`, the sheet of the cell it compares
/// with, `"draws"` and `"seed"` where they are wanted. A claim may also be given in parts: see [`roulade::study::claim::Claimed`].
///
/// The answer to one claim is a [`ClaimAnswer`], that to several a [`ClaimsAnswer`].
pub fn claim(question: &str, executor: &impl Executor) -> String {
    const QUESTION: &str = "a question, {\"claim\": \"at least 290 Wh/kg\", \"sheet\": …}";
    answer(read::text::<question::ClaimAsked>(question, QUESTION).and_then(|question| {
        let missing = |what: &str| Problem::new(what, "nothing", format!("the question to have a {what}"));
        let said: Vec<Said> =
            question.claim.into_iter().chain(question.claims.into_iter().flatten()).collect();
        if said.is_empty() {
            return Err(missing("claim").into());
        }
        let sheet = question.sheet.ok_or_else(|| missing("sheet"))?;
        let other = question.other.as_ref().map(Draft::read);
        weighed(&said, Draft::read(&sheet), other, (question.draws, question.seed), executor)
    }))
}

/// An answer about declared figures: one, or several of one cell.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum Weighed {
    /// One.
    One(Box<ClaimAnswer>),
    /// Several.
    Several(Box<ClaimsAnswer>),
}

impl Weighed {
    /// What becomes of the claim, or of all of them together.
    pub fn verdict(&self) -> Verdict {
        match self {
            Self::One(answer) => answer.verdict,
            Self::Several(answer) => answer.verdict,
        }
    }

    /// The answer in a sentence.
    pub fn sentence(&self) -> &Sentence {
        match self {
            Self::One(answer) => &answer.answer,
            Self::Several(answer) => &answer.answer,
        }
    }
}

/// Whether declared figures can be true, before the answer becomes text; draws and seed take their defaults where they are
/// left out.
///
/// # Errors
/// Everything wrong with the claims or a sheet; places begin with `claim`, `claims[0]`, `sheet.` or `other.`.
pub fn weighed(
    said: &[Said],
    sheet: Result<Draft, Problems>,
    other: Option<Result<Draft, Problems>>,
    (draws, seed): (Option<u32>, Option<u32>),
    executor: &impl Executor,
) -> Result<Weighed, Problems> {
    let mut problems = Problems::default();
    let mut kept = |problems_here: Problems| problems.0.extend(problems_here.0);
    let list = List::read(said).map_err(&mut kept).ok();
    let sheet = sheet.map_err(|p| kept(p.within("sheet"))).ok();
    let other = other.transpose().map_err(|p| kept(p.within("other"))).ok();
    let draws = plan(draws).map_err(&mut kept).ok();
    match (list, sheet, other, draws) {
        (Some(mut list), Some(sheet), Some(other), Some(draws)) if problems.0.is_empty() => {
            let plan = (draws, u64::from(seed.unwrap_or(1)));
            if list.claims.len() > 1 {
                let together = Together::of(&list, sheet, plan, executor)?;
                return Ok(Weighed::Several(Box::new(ClaimsAnswer::of(&together))));
            }
            if let Some(problem) = list.other_size(&sheet) {
                return Err(problem.into());
            }
            let Some(claim) = list.claims.pop() else { return Err(Problems::default()) };
            Ok(Weighed::One(Box::new(ClaimAnswer::of(&Check::of(claim, sheet, other, plan, executor)?))))
        }
        _ => Err(problems),
    }
}

/// The number of trials that is asked for.
fn plan(draws: Option<u32>) -> Result<u32, Problems> {
    let draws = draws.unwrap_or(claim::DRAWS);
    if (2..=claim::MOST_DRAWS).contains(&draws) {
        return Ok(draws);
    }
    let most = claim::MOST_DRAWS;
    Err(Problem::new("draws", draws.to_string(), format!("from 2 to {most} trials")).into())
}

/// The contribution of each change between two sheets.
///
/// The question is `{"first": …, "second": …}`, two sheets, with `"changes"` (see `Changes`), `"prices"` (see
/// `Prices`), `"draws"` and `"seed"` where they are wanted.
pub fn attribute(question: &str, executor: &impl Executor) -> String {
    let asked =
        read::text::<question::AttributionQuestion>(question, "a question, {\"first\": …, \"second\": …}");
    answer(asked.and_then(|asked| {
        let mut problems = Problems::default();
        unknown_keys(&mut problems, "", &asked.unknown, question::AttributionQuestion::KEYS);
        let missing =
            |what: &str| Problem::new(what, "nothing", format!("the question to have a {what} sheet"));
        let sheets = [("first", &asked.first), ("second", &asked.second)];
        problems.0.extend(sheets.iter().filter(|(_, sheet)| sheet.is_none()).map(|(what, _)| missing(what)));
        problems.or_else_ok(())?;
        let (Some(first), Some(second)) = (&asked.first, &asked.second) else {
            return Err(Problems::default());
        };
        let (changes, prices) = (asked.changes.as_ref(), asked.prices.as_ref());
        let (draws, seed) = (asked.draws.unwrap_or(attribute::DRAWS), asked.seed.unwrap_or(1));
        AttributionAnswer::of(
            &attribute::Question { first, second, changes, prices, draws, seed, sharing: 1 },
            executor,
        )
    }))
}

/// The recipe of a sheet in cans of other diameters and heights.
///
/// The question is `{"sheet": …, "diameter": {"from": "16 mm", "to": "50 mm", "steps": 34}, "height": {…}}`, with
/// `"hold"` and `"figures"` where they are wanted.
pub fn map(question: &str, executor: &impl Executor) -> String {
    let asked =
        "a question, {\"sheet\": …, \"diameter\": {\"from\": …, \"to\": …, \"steps\": …}, \"height\": {…}}";
    answer(
        read::text::<question::MapQuestion>(question, asked).and_then(|question| mapped(question, executor)),
    )
}

/// The recipe of a sheet in cans of other diameters and heights, before the answer becomes text.
///
/// # Errors
/// Everything wrong with the question.
pub fn mapped(question: question::MapQuestion, executor: &impl Executor) -> Result<GridAnswer, Problems> {
    GridAnswer::map(question, executor)
}

/// A sheet in a can of another size, by the rules of the map: the sheet.
///
/// The question is `{"sheet": …, "diameter": "21 mm", "height": "70 mm"}`, with `"hold"` as in the map's.
pub fn resize(question: &str) -> String {
    let asked = "a question, {\"sheet\": …, \"diameter\": …, \"height\": …}";
    answer(read::text::<question::ResizeQuestion>(question, asked).and_then(|question| {
        let missing = || Problem::new("sheet", "nothing", "the question to have a sheet");
        let sheet = question.sheet.ok_or_else(missing)?;
        let (diameter, height, hold) = (question.diameter, question.height, question.hold);
        ResizeEntries { diameter, height, hold, unknown: question.unknown }.resized(sheet)
    }))
}

/// A sheet with some entries changed.
///
/// The question is `{"sheet": {…}, "edits": [{…}, …]}`. Each edit is one of
///
/// | edit | what it does |
/// |---|---|
/// | `{"set": "can.wall", "to": "0.3 mm"}` | writes what stands under a key; `to` is what would stand in the sheet: a text, `{"value", "from", "remark"}`, a section, a list |
/// | `{"set": "can.wall.value", "to": "0.3 mm"}` | the same for one entry of a quantity: `value`, `from` or `remark`; the others stay |
/// | `{"clear": "can.wall"}` | leaves it out; nothing happens where nothing stands there |
/// | `{"remove": "parts[lid]"}` | takes an item out of its list |
/// | `{"add": "parts", "item": {…}}` | puts one in, last; `"at": 0` counts its place, `"after": "lid"` names the one before it |
/// | `{"reorder": "parts[lid]", "at": 0}` | moves one within its list |
/// | `{"replace": "parts[lid]", "with": {…}}` | puts another in its place |
/// | `{"rename": "parts[lid]", "to": "cap"}` | calls it otherwise, here and wherever the sheet names it |
/// | `{"fix": "can.diameter"}`, with `"value": "46 mm"` where wanted | makes a quantity exact |
/// | `{"scale": "parts[lid].mass", "by": 1.2}` | multiplies a quantity and its uncertainty |
/// | `{"resize": {"diameter": "21 mm", "height": "70 mm"}}`, with `"hold"` as in the map's question | the same electrodes in another can |
///
/// Items are called by their names, in every list that has names: `parts[lid].mass`, `cathode.mix[NMC811].share`,
/// `materials[NMC811].density`; tabs by their number from 0: `current_path.anode.tabs[0].width`. Edits are made in turn.
/// Correlations follow their entries.
///
/// The answer is `{"ok": {"sheet": {…}, "inverse": [{…}, …], "problems": [{…}, …]}}`: the new sheet, the edits that lead
/// back from it to the old one, and what is wrong with the new sheet as a cell (an entry half-typed, say), with places as
/// in the answer to `estimate`. Where an edit cannot be made, nothing is, and the answer is `{"problems": […]}`, places
/// beginning with `edits[0].`.
pub fn edit(question: &str) -> String {
    answer(
        read::text::<question::EditQuestion>(question, "a question, {\"sheet\": …, \"edits\": […]}")
            .and_then(|question| {
                let mut problems = Problems::default();
                unknown_keys(&mut problems, "", &question.unknown, question::EditQuestion::KEYS);
                let missing =
                    |what: &str| Problem::new(what, "nothing", format!("the question to have {what}"));
                problems.0.extend(question.sheet.is_none().then(|| missing("sheet")));
                problems.0.extend(question.edits.is_none().then(|| missing("edits")));
                problems.or_else_ok(())?;
                edited(&question.sheet.unwrap_or_default(), &question.edits.unwrap_or_default())
            }),
    )
}

/// A sheet with some entries changed, before the answer becomes text.
///
/// # Errors
/// What is wrong with the edits.
pub fn edited(sheet: &Sheet, edits: &[SheetChange]) -> Result<EditAnswer, Problems> {
    EditAnswer::of(sheet, edits)
}

/// A cell along one of its inputs, or over two.
///
/// The question is `{"sheet": …, "along": [{"key": "cathode.loading", "from": …, "to": …, "steps": …}]}`, with `"hold"`
/// and `"figures"` where they are wanted.
pub fn sweep(question: &str, executor: &impl Executor) -> String {
    let asked = "a question, {\"sheet\": …, \"along\": [{\"key\": …, \"from\": …, \"to\": …, \"steps\": …}]}";
    answer(
        read::text::<question::SweepQuestion>(question, asked).and_then(|question| swept(question, executor)),
    )
}

/// A cell along one of its inputs, or over two, before the answer becomes text.
///
/// # Errors
/// Everything wrong with the question.
pub fn swept(question: question::SweepQuestion, executor: &impl Executor) -> Result<GridAnswer, Problems> {
    GridAnswer::sweep(question, executor)
}

/// How far the figures of a cell spread, drawn at random; with a second cell, those of both and what lies between.
///
/// The question is `{"sheet": …}`, with `"second"`, a sheet, `"figures"`, a list of ids, `"draws"` and `"seed"`, whole
/// numbers, where they are wanted.
pub fn sampled(question: &str, executor: &impl Executor) -> String {
    let expected = "a question, {\"sheet\": …, \"draws\": …}";
    answer(read::text::<question::SampledQuestion>(question, expected).and_then(|question| {
        let (first, second) = drafts(question.sheet, question.second)?;
        let plan = (question.draws, question.seed.map(u64::from));
        SampledAnswer::of(&first, second.as_ref(), &question.figures.unwrap_or_default(), plan, executor)
    }))
}

/// Sensitivity of a figure: its inputs by their share of the variance, to first order, and by Sobol's indices where
/// draws are asked for.
///
/// The question is `{"sheet": …}`, with `"second"`, a sheet, `"figure"`, an id, `"draws"` and `"seed"`, whole numbers,
/// where they are wanted.
pub fn sensitivity(question: &str, executor: &impl Executor) -> String {
    let expected = "a question, {\"sheet\": …, \"figure\": \"…\"}";
    answer(read::text::<question::SensitivityQuestion>(question, expected).and_then(|question| {
        let (first, second) = drafts(question.sheet, question.second)?;
        let plan = (question.draws, question.seed.map(u64::from));
        SensitivityAnswer::of(&first, second.as_ref(), question.figure.as_deref(), plan, executor)
    }))
}

/// Drafts of one sheet or two; places begin with `sheet.` or `second.`.
fn drafts(sheet: Option<Sheet>, second: Option<Sheet>) -> Result<(Draft, Option<Draft>), Problems> {
    let sheet = sheet.ok_or_else(|| Problem::new("sheet", "nothing", "the question to have a sheet"))?;
    let first = Draft::read(&sheet).map_err(|problems| problems.within("sheet"));
    let second = second.map(|sheet| Draft::read(&sheet).map_err(|problems| problems.within("second")));
    both(first, second.transpose())
}

/// One number, in hexadecimal, for all bits of all figures of `count` designs around a sheet's; see [`crate::digest`].
pub fn digest(sheet: &str, count: u32, seed: u32) -> String {
    answer(
        Draft::parse(sheet)
            .map(|draft| format!("{:016x}", crate::digest::digest(&draft, count, u64::from(seed)))),
    )
}

/// The table of materials.
pub fn materials() -> String {
    answer(Ok(crate::answer::materials()))
}

/// Every quantity of a design sheet: path, section, label, unit, what it may be, default and its source.
pub fn quantities() -> String {
    answer(Ok(crate::answer::quantities()))
}

/// An answer as JSON text.
pub fn answer<T: Serialize>(result: Result<T, Problems>) -> String {
    #[derive(Serialize)]
    #[serde(rename_all = "lowercase")]
    enum Answer<T> {
        Ok(T),
        Problems(Vec<Diagnostic>),
    }
    let written = match result {
        Ok(value) => Answer::Ok(value),
        Err(problems) => Answer::Problems(problems.listed().iter().map(Diagnostic::from).collect()),
    };
    // Serialising plain data to a string does not fail; were it to, the answer would say so.
    serde_json::to_string(&written)
        .map_or_else(|e| format!("{{\"problems\":[{{\"text\":{:?}}}]}}", e.to_string()), json_visible)
}

#[cfg(test)]
mod tests;
