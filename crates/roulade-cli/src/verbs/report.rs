//! The answer and everything it rests on as one page.

use super::said::{named, sheet, text};
use crate::args::{FormArgs, ReportArgs};
use crate::cores::AllCores;
use crate::files;
use crate::report::{Delivery, Out, Sources, form};
use roulade::quantity::problem::{Problems, both};
use roulade::study::claim::Said;
use roulade_report::ReportQuestion;
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
            form(FormArgs::default()).problems(&problems, &Sources { file: "roulade".to_owned(), begins })
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
    let page = roulade_report::written(question, &AllCores)?;
    let Some(path) = &asked.write else { return Ok(page) };
    files::write(path, &page, asked.overwrite).map_err(|problem| problem.within("write"))?;
    Ok(String::new())
}

/// A claim in words, or in a file.
fn said_or_in_file(claim: &str) -> Result<Said, Problems> {
    if Path::new(claim).extension().is_none_or(|ending| ending != "json") {
        return Said::parse(claim);
    }
    Said::parse(&files::read(Path::new(claim)).map_err(|problem| problem.within("claim"))?)
}
