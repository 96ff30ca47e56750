//! A report: question, answer and all that the answer rests on, as one HTML file without scripts that asks for nothing
//! from elsewhere, for the screen and for paper.
//!
//! It only arranges what the model answers; every text from a sheet is escaped by the template engine.
#![forbid(unsafe_code)]
#![cfg_attr(
    not(test),
    warn(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)
)]

mod cells;
mod draw;
mod question;
mod rows;

pub use cells::ReportedCells;
pub use question::ReportQuestion;

use askama::Template;
use draw::{Half, HistogramPicture};
use roulade::cell::draft::Draft;
use roulade::quantity::problem::{Problem, Problems, visible};
use roulade::sheet::Sheet;
use roulade::study::attribute;
use roulade::study::claim::{List, Verdict};
use roulade_answer::answer::{
    AttributionAnswer, ClaimAnswer, ClaimsAnswer, Comparison, EstimateAnswer, NextAnswer, Reconciliation,
    Sentence,
};
use roulade_answer::ask::{self, Weighed};
use roulade_answer::cautions::Caution;
use roulade_stats::executor::Executor;
use rows::{ContributionBars, FigureRow, Filled, Group, LedgerRow};

/// A report as JSON text: `{"ok": {"html": …}}`, or the problems.
///
/// The question is `{"first": …}`, a sheet, with `"second"`, another, `"claim"`, a text, of one figure or several, or its parts, `"draws"`,
/// `"seed"`, `"readings"`, a bench sheet as CSV text, `"instruments"`; their uncertainties; and `"date"`, a text that is
/// printed as it stands, where they are wanted. A claim is about the second cell, and compares with the first, where
/// there are two.
pub fn report(question: &str, executor: &impl Executor) -> String {
    let page = ReportQuestion::parse(question).and_then(|question| written(question, executor));
    ask::answer(page.map(Html::from))
}

/// The page behind its key.
#[derive(Debug, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct Html {
    html: String,
}

impl From<String> for Html {
    fn from(html: String) -> Self {
        Self { html }
    }
}

/// A report, before it becomes JSON.
///
/// # Errors
/// Everything wrong with the question; places begin with `first.`, `second.`, `claim`, `readings.` or `instruments.`.
pub fn written(question: ReportQuestion, executor: &impl Executor) -> Result<String, Problems> {
    Ok(reported(question, executor)?.html())
}

/// Everything that a report is made of, before it becomes a page.
///
/// # Errors
/// As [`written`].
pub fn reported(mut question: ReportQuestion, executor: &impl Executor) -> Result<Report, Problems> {
    let missing = || Problem::new("first", "nothing", "the question to have a first sheet");
    let first = question.first.take().ok_or_else(missing)?;
    let second = question.second.take();
    let mut problems = Problems::default();
    let mut read = |sheet, place| Draft::read(sheet).map_err(|p| problems.0.extend(p.within(place).0)).ok();
    let drafts = (read(&first, "first"), second.as_ref().map(|second| read(second, "second")));
    let (first_draft, second_draft) = match drafts {
        (Some(first), None) => (first, None),
        (Some(first), Some(Some(second))) => (first, Some(second)),
        _ => return Err(problems),
    };
    let (bench, left) = reconciled(&question, &first, second.as_ref())?;
    let figure = match &question.claim {
        Some(said) => List::read(std::slice::from_ref(said))?
            .claims
            .first()
            .map_or("volumetric", |claim| claim.figure.id),
        None => "volumetric",
    };
    let (readings, instruments) = (question.readings.as_deref(), question.instruments.as_deref());
    let next = ask::next_left((&first, second.as_ref()), figure, (readings, instruments), left)
        .map_err(|problems| renamed(problems, ("first", "second")))?;
    let asked = second.as_ref().map(|second| {
        // First order: what is shown of it is rounded by its uncertainty anyway.
        let asked = attribute::Question {
            first: &first,
            second,
            changes: None,
            prices: None,
            draws: 0,
            seed: 1,
            sharing: 3,
        };
        AttributionAnswer::of(&asked, executor)
    });
    let (contributions, left_out) = match asked {
        Some(Ok(contributions)) => (Some(contributions), None),
        Some(Err(problems)) => {
            (None, Some(format!("The contributions of the changes are left out: {problems}")))
        }
        None => (None, None),
    };
    let cells = if let Some(second) = &second_draft {
        ReportedCells::Two(Box::new(Comparison::of(&first_draft, second)?))
    } else {
        let alone = EstimateAnswer::of(&first_draft).map_err(|problems| problems.within("first"))?;
        ReportedCells::One(Box::new(alone))
    };
    let claim = match &question.claim {
        None => None,
        Some(said) => {
            let (cell, other) = match second_draft {
                Some(second) => (second, Some(Ok(first_draft))),
                None => (first_draft, None),
            };
            let named = if other.is_some() { ("second", "first") } else { ("first", "second") };
            let said = std::slice::from_ref(said);
            let answer = ask::weighed(said, Ok(cell), other, (question.draws, question.seed), executor);
            Some(answer.map_err(|problems| renamed(problems, named))?)
        }
    };
    Ok(Report {
        date: question.date,
        cells,
        claim,
        contributions,
        bench,
        next: Some(next),
        remarks: left_out.into_iter().collect(),
    })
}

/// Answers of the bench, and what they leave known of the first cell and of the second.
type Held = (Vec<Reconciliation>, [Option<ask::Left>; 2]);

/// The bench sheet held against each sheet that it has readings of; against one sheet alone, whatever its name.
fn reconciled(question: &ReportQuestion, first: &Sheet, second: Option<&Sheet>) -> Result<Held, Problems> {
    let Some(readings) = question.readings.as_deref() else { return Ok((Vec::new(), [None, None])) };
    let asked =
        ask::BenchQuestion { instruments: question.instruments.as_deref(), ..ask::BenchQuestion::default() };
    let held = |sheet: &Sheet, place| {
        ask::reconciled_and_left(sheet, readings, asked)
            .map_err(|problems| renamed(problems, (place, "other")))
    };
    let first = held(first, "first");
    let all = match second.map(|second| held(second, "second")) {
        None => vec![Some(first?), None],
        Some(second) => match (first, second) {
            (Err(problems), Err(_)) => return Err(problems),
            (first, second) => vec![first.ok(), second.ok()],
        },
    };
    let (answers, left): (Vec<_>, Vec<_>) = all.into_iter().map(Option::unzip).unzip();
    let mut left = left.into_iter();
    Ok((answers.into_iter().flatten().collect(), [left.next().flatten(), left.next().flatten()]))
}

/// Places of a claim's sheets as they are called here.
fn renamed(problems: Problems, (sheet, other): (&str, &str)) -> Problems {
    let placed = problems.0.into_iter().map(|problem| {
        let place = match (problem.place.strip_prefix("sheet"), problem.place.strip_prefix("other")) {
            (Some(rest), _) => format!("{sheet}{rest}"),
            (_, Some(rest)) => format!("{other}{rest}"),
            _ => problem.place.clone(),
        };
        Problem { place, ..problem }
    });
    Problems(placed.collect())
}

/// All that a report is made of; what is absent has no section.
#[derive(Debug)]
pub struct Report {
    /// As it is printed; the model has no clock.
    pub date: Option<String>,
    /// The cell or cells.
    pub cells: ReportedCells,
    /// What is declared, weighed.
    pub claim: Option<Weighed>,
    /// The contribution of each change between two cells.
    pub contributions: Option<AttributionAnswer>,
    /// A bench sheet held against each cell that it has readings of.
    pub bench: Vec<Reconciliation>,
    /// What to read next.
    pub next: Option<NextAnswer>,
    /// What else is to be remarked.
    pub remarks: Vec<String>,
}

impl Report {
    /// The page.
    pub fn html(&self) -> String {
        let (first, second) = (self.cells.first(), self.cells.second());
        let (claim, claims) = match &self.claim {
            Some(Weighed::One(claim)) => (Some(claim.as_ref()), None),
            Some(Weighed::Several(claims)) => (None, Some(claims.as_ref())),
            None => (None, None),
        };
        let weighed = self.claim.as_ref().map(|claim| (claim.verdict(), claim.sentence()));
        let page = Page {
            date: self.date.as_deref(),
            version: first.roulade,
            title: self.title(),
            question: self.question(),
            answer: self.cells.answer(),
            first,
            second,
            weighed,
            claim,
            claims,
            contributions: self.contributions.as_ref().map(ContributionBars::of),
            bench: &self.bench,
            next: self.next.as_ref(),
            histogram: claim.map(HistogramPicture::of),
            halves: Half::both(first, second),
            headline: rows::headline(&self.cells),
            tables: rows::tables(&self.cells),
            ledger: rows::ledger(&self.cells),
            given: rows::given(first, second),
            filled: rows::filled(first, second),
            remarks: rows::remarks(first, second).into_iter().chain(self.remarks.clone()).collect(),
            cautions: first.cautions,
        };
        // Writing to a string does not fail. What a screen would obey is made visible, line by line: names may hold it.
        let page = page.render().unwrap_or_default();
        page.lines().flat_map(|line| [visible(line), "\n".into()]).collect()
    }

    fn title(&self) -> String {
        match self.cells.second() {
            Some(second) => format!("{} and {}", self.cells.first().cell, second.cell),
            None => self.cells.first().cell.clone(),
        }
    }

    fn question(&self) -> String {
        let first = &self.cells.first().cell;
        let declared = self.claim.as_ref().map(|claim| match claim {
            Weighed::One(claim) => ("it", claim.claim.text.clone()),
            Weighed::Several(claims) => (
                "all of it",
                claims.figures.iter().map(|one| one.claim.as_str()).collect::<Vec<_>>().join("; "),
            ),
        });
        match (declared, self.cells.second()) {
            (Some((what, said)), Some(second)) => {
                format!("Can {what} be true of {}, beside {first}: “{said}”?", second.cell)
            }
            (Some((what, said)), None) => format!("Can {what} be true of {first}: “{said}”?"),
            (None, Some(second)) => format!("What is the difference between {first} and {}?", second.cell),
            (None, None) => format!("What is {first} predicted to give?"),
        }
    }
}

#[derive(Template)]
#[template(path = "report.html")]
struct Page<'a> {
    date: Option<&'a str>,
    version: &'static str,
    title: String,
    question: String,
    answer: &'a Sentence,
    first: &'a EstimateAnswer,
    second: Option<&'a EstimateAnswer>,
    weighed: Option<(Verdict, &'a Sentence)>,
    claim: Option<&'a ClaimAnswer>,
    claims: Option<&'a ClaimsAnswer>,
    contributions: Option<ContributionBars>,
    bench: &'a [Reconciliation],
    next: Option<&'a NextAnswer>,
    histogram: Option<HistogramPicture>,
    halves: Vec<Half>,
    headline: Vec<FigureRow>,
    tables: Vec<Group<FigureRow>>,
    ledger: Vec<LedgerRow>,
    given: Vec<Group<rows::Given>>,
    filled: Vec<Group<Filled>>,
    remarks: Vec<String>,
    cautions: &'static [Caution],
}

#[cfg(test)]
mod tests;
