//! A search: a sheet and a question, each in its file.

use crate::report::Report;
use crate::{files, page};
use roulade::quantity::problem::{Problem, Problems};
use roulade::sheet::Sheet;
use roulade_search::SearchQuestion;
use std::path::Path;

/// The report, and whether a design keeps everything.
pub(crate) fn search(sheet: &Path, question: &Path) -> Result<(Report, bool), Problems> {
    let read_sheet = files::read(sheet).map_err(Problems::from).and_then(|text| Sheet::parse(&text));
    let read_question =
        files::read(question).map_err(Problems::from).and_then(|text| SearchQuestion::parse(&text));
    let (sheet, mut question) = match (read_sheet.map_err(|p| p.within("sheet")), read_question) {
        (Ok(sheet), Ok(question)) => (sheet, question),
        (Err(mut problems), Err(more)) => {
            problems.0.extend(more.0);
            return Err(problems);
        }
        (Err(problems), _) | (_, Err(problems)) => return Err(problems),
    };
    if question.sheet.is_some() {
        return Err(Problem::new(
            "",
            "a sheet in the question",
            "the sheet to stand in its own file; leave it out here",
        )
        .into());
    }
    question.sheet = Some(sheet);
    let found = roulade_search::search(question)?;
    let (page, rows) = page::search(&found);
    Ok((Report::of(page, &found, rows), found.holds))
}
