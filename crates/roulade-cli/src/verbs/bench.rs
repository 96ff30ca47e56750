//! The verbs of the bench.

use crate::args::FormArgs;
use crate::report::{Delivery, Out, Report, Sources, form};
use crate::{files, page};
use roulade::quantity::problem::{Problems, both};
use roulade::sheet::Sheet;
use roulade::study::readings::quantity;
use roulade_answer::ask::{self, Question};
use std::path::{Path, PathBuf};

/// An answer with its status: 1 where the answer is no.
fn said(asked: FormArgs, report: Result<(Report, bool), Problems>, sources: &Sources) -> Delivery {
    let form = form(asked);
    match report {
        Ok((report, yes)) => {
            Delivery { out: form.answer(&report), err: String::new(), status: u8::from(!yes) }
        }
        Err(problems) => form.problems(&problems, sources),
    }
}

fn sheet(path: &Path, place: &str) -> Result<Sheet, Problems> {
    let text = files::read(path).map_err(|problem| problem.within(place))?;
    Sheet::parse(&text).map_err(|problems| problems.within(place))
}

fn text(path: &Path, place: &str) -> Result<String, Problems> {
    files::read_bench(path).map_err(|problem| problem.within(place).into())
}

/// What a bench can read, or what a bench sheet holds.
pub(super) fn readings(bench: Option<&Path>, asked: FormArgs) -> Delivery {
    let Some(path) = bench else {
        let listed = quantity::listed();
        let (page, rows) = page::bench_quantities(&listed);
        let report = Report { page, json: ask::answer(Ok(listed)), rows };
        return said(asked, Ok((report, true)), &Sources::one(String::new()));
    };
    let report = files::read_bench(path).map_err(Problems::from).and_then(|text| {
        let answer = ask::readings_of(&text)?;
        let (page, rows) = page::readings(&answer);
        let good = answer.problems.is_empty();
        Ok((Report { page, json: ask::answer(Ok(answer)), rows }, good))
    });
    said(asked, report, &Sources::one(files::name(path)))
}

/// A bench sheet to fill in.
pub(super) fn template(path: &Path) -> Delivery {
    let text = sheet(path, "sheet").and_then(|sheet| ask::template(&sheet));
    match text {
        Ok(text) => Delivery { out: Out::Exact(text), err: String::new(), status: 0 },
        Err(problems) => {
            let begins = vec![("sheet", files::name(path))];
            form(FormArgs::default()).problems(&problems, &Sources { file: files::name(path), begins })
        }
    }
}

/// What is asked of a bench sheet.
#[derive(Debug)]
pub(super) struct Reconcile {
    pub(super) sheet: PathBuf,
    pub(super) bench: PathBuf,
    pub(super) instruments: Option<PathBuf>,
    pub(super) cell: Option<String>,
    pub(super) robust: Option<String>,
    pub(super) independent: bool,
    pub(super) two: Vec<String>,
    pub(super) write: Option<PathBuf>,
    pub(super) overwrite: bool,
}

/// Holds a bench sheet against a design sheet.
pub(super) fn reconcile(asked: &Reconcile, form: FormArgs) -> Delivery {
    let mut begins = vec![
        ("sheet", files::name(&asked.sheet)),
        ("readings", files::name(&asked.bench)),
        ("loss", "--robust".to_owned()),
        ("populations", "--two".to_owned()),
    ];
    begins.extend(asked.instruments.as_deref().map(|path| ("instruments", files::name(path))));
    begins.extend(asked.write.as_deref().map(|path| ("write", files::name(path))));
    said(form, reconciled(asked), &Sources { file: files::name(&asked.sheet), begins })
}

fn reconciled(asked: &Reconcile) -> Result<(Report, bool), Problems> {
    let instruments = asked.instruments.as_deref().map(|path| text(path, "instruments")).transpose();
    let files = both(sheet(&asked.sheet, "sheet"), text(&asked.bench, "readings"));
    let ((sheet, bench), instruments) = both(files, instruments)?;
    let question = Question {
        instruments: instruments.as_deref(),
        cell: asked.cell.as_deref(),
        loss: asked.robust.as_deref(),
        independent: asked.independent,
        populations: &asked.two,
    };
    let answer = ask::reconciled(&sheet, &bench, question)?;
    if let Some(path) = &asked.write {
        // Plain data always becomes text.
        let text = serde_json::to_string_pretty(&answer.sheet).unwrap_or_default() + "\n";
        files::write(path, &text, asked.overwrite).map_err(|problem| problem.within("write"))?;
    }
    let (page, rows) = page::reconciliation(&answer);
    let agree = answer.verdict == "agree";
    Ok((Report { page, json: ask::answer(Ok(&answer)), rows }, agree))
}

/// What is asked of what to read next.
#[derive(Debug)]
pub(super) struct Next {
    pub(super) sheet: PathBuf,
    pub(super) bench: Option<PathBuf>,
    pub(super) figure: String,
    pub(super) second: Option<PathBuf>,
    pub(super) instruments: Option<PathBuf>,
}

/// What to read next.
pub(super) fn next(asked: &Next, form: FormArgs) -> Delivery {
    let mut begins = vec![("sheet", files::name(&asked.sheet)), ("figure", "--for".to_owned())];
    begins.extend(asked.bench.as_deref().map(|path| ("readings", files::name(path))));
    begins.extend(asked.second.as_deref().map(|path| ("second", files::name(path))));
    begins.extend(asked.instruments.as_deref().map(|path| ("instruments", files::name(path))));
    said(form, ranked(asked), &Sources { file: files::name(&asked.sheet), begins })
}

fn ranked(asked: &Next) -> Result<(Report, bool), Problems> {
    let optional =
        |path: &Option<PathBuf>, place: &str| path.as_deref().map(|path| text(path, place)).transpose();
    let second = asked.second.as_deref().map(|path| sheet(path, "second")).transpose();
    let sheets = both(sheet(&asked.sheet, "sheet"), second);
    let texts = both(optional(&asked.bench, "readings"), optional(&asked.instruments, "instruments"));
    let ((sheet, second), (bench, instruments)) = both(sheets, texts)?;
    let answer =
        ask::next_after(&sheet, second.as_ref(), &asked.figure, bench.as_deref(), instruments.as_deref())?;
    let (page, rows) = page::next(&answer);
    Ok((Report { page, json: ask::answer(Ok(&answer)), rows }, true))
}
