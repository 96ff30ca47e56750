//! The answer and everything it rests on as one page.

use super::said::{named, sheet, text};
use crate::args::{FormArgs, ReportArgs};
use crate::cores::AllCores;
use crate::files;
use crate::report::{Delivery, Out, Sources, form};
use crate::table::{self, Table};
use roulade::quantity::problem::{Problems, both};
use roulade::study::claim::Said;
use roulade_answer::ask;
use roulade_report::{Report, ReportQuestion, ReportedCells};
use std::path::Path;

/// Writes the page, or prints it.
pub(super) fn report(asked: ReportArgs) -> Delivery {
    let mut begins = vec![("first", files::name(&asked.first)), ("draws", "--trials".to_owned())];
    begins.extend(named("second", asked.second.as_deref()));
    begins.extend(named("write", asked.write.as_deref()));
    begins.extend(named("readings", asked.bench.as_deref()));
    begins.extend(named("instruments", asked.instruments.as_deref()));
    match written(asked) {
        Ok(page) => Delivery { out: Out::Exact(page), err: String::new(), status: 0 },
        Err(problems) => {
            form(&FormArgs::default()).problems(&problems, &Sources { file: "roulade".to_owned(), begins })
        }
    }
}

/// What is to be printed.
fn written(asked: ReportArgs) -> Result<String, Problems> {
    let second = asked.second.as_deref().map(|path| sheet(path, "second")).transpose();
    let sheets = both(sheet(&asked.first, "first"), second);
    let claim = asked.claim.as_deref().map(said_or_in_file).transpose();
    let texts = both(
        asked.bench.as_deref().map(|path| text(path, "readings")).transpose(),
        asked.instruments.as_deref().map(|path| text(path, "instruments")).transpose(),
    );
    let ((first, second), (claim, (readings, instruments))) = both(sheets, both(claim, texts))?;
    let question = ReportQuestion {
        first: Some(first),
        second,
        claim,
        readings,
        instruments,
        draws: asked.draws,
        seed: asked.seed,
        date: asked.date.or_else(|| Some(files::today())),
        ..ReportQuestion::default()
    };
    let report = roulade_report::reported(question, &AllCores)?;
    if let Some(path) = &asked.table.table {
        let figures = Table::of_figures(&answers(&report));
        table::write(path, &[figures], asked.table.replace_table)
            .map_err(|problems| problems.within("--table"))?;
    }
    let page = report.html();
    let Some(path) = &asked.write else { return Ok(page) };
    let left = files::write(path, page, asked.overwrite).map_err(|problem| problem.within("write"))?;
    Ok(left.unwrap_or_default())
}

/// The answers that a report is made of, each with its name and as JSON.
fn answers(report: &Report) -> Vec<(&'static str, String)> {
    let mut answers = vec![match &report.cells {
        ReportedCells::One(cell) => ("", ask::answer(Ok(cell))),
        ReportedCells::Two(cells) => ("", ask::answer(Ok(cells))),
    }];
    answers.extend(report.claim.as_ref().map(|claim| ("claim", ask::answer(Ok(claim)))));
    answers.extend(
        report.contributions.as_ref().map(|contributions| ("contributions", ask::answer(Ok(contributions)))),
    );
    for (bench, name) in report.bench.iter().zip(["readings", "readings of the second cell"]) {
        answers.push((name, ask::answer(Ok(bench))));
    }
    answers.extend(report.next.as_ref().map(|next| ("next", ask::answer(Ok(next)))));
    answers
}

/// A claim in words, or in a file.
fn said_or_in_file(claim: &str) -> Result<Said, Problems> {
    if Path::new(claim).extension().is_none_or(|ending| ending != "json") {
        return Said::parse(claim);
    }
    Said::parse(&files::read(Path::new(claim)).map_err(|problem| problem.within("claim"))?)
}
