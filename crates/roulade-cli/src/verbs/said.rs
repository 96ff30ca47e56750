//! A report in the form that was asked for, and the files that verbs read and write.

use crate::args::FormArgs;
use crate::report::{Delivery, Report, Sources, form, lines};
use crate::{files, table};
use roulade::cell::draft::Draft;
use roulade::quantity::problem::{Problems, json_visible};
use roulade::sheet::Sheet;
use serde::Serialize;
use std::path::Path;

/// A report delivered.
pub(super) fn said(asked: &FormArgs, report: Result<Report, Problems>, sources: &Sources) -> Delivery {
    judged(asked, report.map(|report| (report, true)), sources)
}

/// A report delivered with its status, 1 where the answer is no; the file that was asked for is written beside it.
pub(super) fn judged(
    asked: &FormArgs,
    report: Result<(Report, bool), Problems>,
    sources: &Sources,
) -> Delivery {
    let form = form(asked);
    let report = report.and_then(|(report, yes)| {
        table::beside(&asked.table, &report).map_err(|problems| problems.within("--table"))?;
        Ok((report, yes))
    });
    match report {
        Ok((report, yes)) => Delivery { out: report.out(&*form), err: String::new(), status: u8::from(!yes) },
        Err(problems) => form.problems(&problems, sources),
    }
}

/// Whose file a place belongs to: `begin` where a file was given.
pub(super) fn named(begin: &'static str, path: Option<&Path>) -> Option<(&'static str, String)> {
    path.map(|path| (begin, files::name(path)))
}

/// The text of a bench sheet, or of what goes with it, places below `place`.
pub(super) fn text(path: &Path, place: &str) -> Result<String, Problems> {
    files::read_bench(path).map_err(|problem| problem.within(place).into())
}

/// The sheet of a file, places below `place`.
pub(super) fn sheet(path: &Path, place: &str) -> Result<Sheet, Problems> {
    let read = files::read(path).map_err(Problems::from).and_then(|text| Sheet::parse(&text));
    read.map_err(|problems| problems.within(place))
}

/// The draft of a file's sheet.
pub(super) fn draft(path: &Path) -> Result<Draft, Problems> {
    Draft::parse(&files::read(path)?)
}

/// What looks wrong with a sheet that is handed out rather than answered about, a line each.
pub(super) fn plausibility(name: &str, sheet: &Sheet) -> String {
    let plausibility = Draft::read(sheet).map(|draft| draft.plausibility()).unwrap_or_default();
    lines(name, &plausibility)
}

/// Writes plain data to a file, where one was asked for; what is to be said in the place of the answer, where that file is
/// standard output.
pub(super) fn write(
    path: Option<&Path>,
    data: &impl Serialize,
    overwrite: bool,
) -> Result<Option<String>, Problems> {
    let Some(path) = path else { return Ok(None) };
    // Plain data always becomes text.
    let text = json_visible(serde_json::to_string_pretty(data).unwrap_or_default()) + "\n";
    Ok(files::write(path, text, overwrite).map_err(|problem| problem.within("write"))?)
}

/// Writes a text to a file, where one was named; what is left to print.
pub(super) fn written(text: String, path: Option<&Path>, overwrite: bool) -> Result<String, Problems> {
    let Some(path) = path else { return Ok(text) };
    let printed = files::write(path, text, overwrite).map_err(|problem| problem.within("write"))?;
    Ok(printed.unwrap_or_default())
}
