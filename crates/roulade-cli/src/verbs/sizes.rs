//! Maps and sweeps: arguments to a question, an answer to a report and a picture.

use super::said::said;
use crate::args::{MapArgs, PictureArgs, SweepArgs};
use crate::cores::AllCores;
use crate::report::{Delivery, Report, Sources};
use crate::{files, page, picture};
use roulade::quantity::problem::{Problem, Problems, shortened};
use roulade::sheet::Sheet;
use roulade::sheet::{Shape, Trail, Unknown};
use roulade::study::form_factors::asked::{Along, HoldEntries};
use roulade_answer::answer::GridAnswer;
use roulade_answer::ask;
use roulade_answer::question::{MapQuestion, Span, SweepQuestion};
use serde_json::{Map as JsonMap, Value};
use std::path::Path;

/// The same electrodes in other cans.
pub(super) fn map(asked: MapArgs) -> Delivery {
    let begins =
        [("diameter", "--diameter"), ("height", "--height"), ("figures", "--figure"), ("hold", "--hold")];
    let sources = sources(files::name(&asked.sheet), &begins, &asked.picture);
    let form = asked.form.clone();
    said(&form, mapped(asked), &sources)
}

/// A cell along one input or over two.
pub(super) fn sweep(asked: SweepArgs) -> Delivery {
    let begins =
        [("along[0]", "KEY FROM TO"), ("along[1]", "--and"), ("figures", "--figure"), ("hold", "--hold")];
    let sources = sources(files::name(&asked.sheet), &begins, &asked.picture);
    let form = asked.form.clone();
    said(&form, swept(asked), &sources)
}

fn sources(sheet: String, begins: &[(&'static str, &str)], picture: &PictureArgs) -> Sources {
    let mut begins: Vec<(&'static str, String)> =
        begins.iter().map(|(begin, argument)| (*begin, (*argument).to_owned())).collect();
    begins.push(("sheet", sheet.clone()));
    begins.extend(picture.picture.as_deref().map(|path| ("picture", path.display().to_string())));
    Sources { file: sheet, begins }
}

fn mapped(asked: MapArgs) -> Result<Report, Problems> {
    let span = |ends: Vec<String>| {
        let mut ends = ends.into_iter();
        Span { from: ends.next(), to: ends.next(), steps: Some(asked.steps), unknown: Unknown::default() }
    };
    let question = MapQuestion {
        sheet: Some(read(&asked.sheet)?),
        diameter: Some(span(asked.diameter)),
        height: Some(span(asked.height)),
        hold: hold(&asked.hold)?,
        figures: some(asked.figures),
        unknown: Unknown::default(),
    };
    let answer = ask::mapped(question, &AllCores)?;
    let instead = draw(&answer, &asked.picture)?;
    let (page, rows) = page::map(&answer);
    Ok(Report { instead, ..Report::of(page, &answer, rows) })
}

fn swept(asked: SweepArgs) -> Result<Report, Problems> {
    let one = |texts: Vec<String>| {
        let mut texts = texts.into_iter();
        let (key, from, to) = (texts.next(), texts.next(), texts.next());
        Along { key, from, to, steps: Some(asked.steps), unknown: Unknown::default() }
    };
    let inputs =
        [vec![asked.key, asked.from, asked.to], asked.and].into_iter().filter(|texts| !texts.is_empty());
    let question = SweepQuestion {
        sheet: Some(read(&asked.sheet)?),
        along: Some(inputs.map(one).collect()),
        hold: hold(&asked.hold)?,
        figures: some(asked.figures),
        unknown: Unknown::default(),
    };
    let answer = ask::swept(question, &AllCores)?;
    let instead = draw(&answer, &asked.picture)?;
    let (page, rows) = page::sweep(&answer);
    Ok(Report { instead, ..Report::of(page, &answer, rows) })
}

fn read(path: &Path) -> Result<Sheet, Problems> {
    Sheet::parse(&files::read(path)?)
}

fn some(figures: Vec<String>) -> Option<Vec<String>> {
    (!figures.is_empty()).then_some(figures)
}

/// "what=value", one or more.
fn hold(asked: &[String]) -> Result<Option<HoldEntries>, Problems> {
    if asked.is_empty() {
        return Ok(None);
    }
    let mut problems = Problems::default();
    let mut map = JsonMap::new();
    for text in asked {
        match text.split_once('=') {
            Some((what, value)) => {
                if map.insert(what.trim().to_owned(), Value::String(value.to_owned())).is_some() {
                    let found = format!("\"{}\" a second time", shortened(what));
                    problems.push(Problem::new("hold", found, "each dimension to be held in one way"));
                }
            }
            None => problems.push(Problem::new(
                "hold",
                format!("\"{}\"", shortened(text)),
                "the dimension that is held, \"=\" and how it is held, for example wall=\"0.3 mm\"",
            )),
        }
    }
    let read = HoldEntries::read(Value::Object(map).into(), Trail::Key(&Trail::Start, "hold"), &mut problems);
    problems.or_else_ok(read)
}

fn draw(answer: &GridAnswer, asked: &PictureArgs) -> Result<Option<String>, Problems> {
    let Some(path) = asked.picture.as_deref() else { return Ok(None) };
    let Some(text) = picture::grid(answer) else {
        return Err(Problem::new(
            "picture",
            "a grid that has no figure over two axes",
            "form factors, or a sweep over two inputs, which can be drawn",
        )
        .into());
    };
    Ok(files::write(path, text, asked.overwrite).map_err(|mut problem| {
        problem.expected = problem.expected.replace("--overwrite", "--overwrite beside --picture");
        problem.within("picture")
    })?)
}
