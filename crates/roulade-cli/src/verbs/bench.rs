//! The verbs of the bench.

use super::said::{judged, named, said, sheet, text, write};
use crate::args::{FormArgs, NextArgs, ReadingsArgs, ReconcileArgs, Robust};
use crate::report::{Delivery, Out, Report, Sources, form};
use crate::{files, page};
use roulade::quantity::problem::{Problems, both};
use roulade::study::readings::quantity;
use roulade_answer::ask::{self, BenchQuestion};
use std::path::{Path, PathBuf};

/// What a bench can read, or what a bench sheet holds.
pub(super) fn readings(asked: &ReadingsArgs) -> Delivery {
    if let Some(sheet) = &asked.template {
        return template(sheet);
    }
    let Some(path) = &asked.bench else {
        let listed = quantity::listed();
        let (page, rows) = page::bench_quantities(&listed);
        let report = Report::of(page, &listed, rows);
        return said(&asked.form, Ok(report), &Sources::one(String::new()));
    };
    let report = files::read_bench(path).map_err(Problems::from).and_then(|text| {
        let answer = ask::readings_of(&text)?;
        let (page, rows) = page::readings(&answer);
        let good = answer.problems.is_empty();
        Ok((Report::of(page, &answer, rows), good))
    });
    judged(&asked.form, report, &Sources::one(files::name(path)))
}

/// A bench sheet to fill in.
fn template(path: &Path) -> Delivery {
    let text = sheet(path, "sheet").and_then(|sheet| ask::template(&sheet));
    match text {
        Ok(text) => Delivery { out: Out::Exact(text), err: String::new(), status: 0 },
        Err(problems) => {
            let begins = vec![("sheet", files::name(path))];
            form(&FormArgs::default()).problems(&problems, &Sources { file: files::name(path), begins })
        }
    }
}

/// Holds a bench sheet against a design sheet.
pub(super) fn reconcile(asked: &ReconcileArgs) -> Delivery {
    let mut begins = vec![
        ("sheet", files::name(&asked.sheet)),
        ("readings", files::name(&asked.bench)),
        ("loss", "--robust".to_owned()),
        ("populations", "--two".to_owned()),
    ];
    begins.extend(named("instruments", asked.instruments.as_deref()));
    begins.extend(named("write", asked.write.as_deref()));
    judged(&asked.form, reconciled(asked), &Sources { file: files::name(&asked.sheet), begins })
}

fn reconciled(asked: &ReconcileArgs) -> Result<(Report, bool), Problems> {
    let instruments = asked.instruments.as_deref().map(|path| text(path, "instruments")).transpose();
    let files = both(sheet(&asked.sheet, "sheet"), text(&asked.bench, "readings"));
    let ((sheet, bench), instruments) = both(files, instruments)?;
    let question = BenchQuestion {
        instruments: instruments.as_deref(),
        cell: asked.cell.as_deref(),
        loss: asked.robust.map(Robust::name),
        independent: asked.independent,
        populations: &asked.two,
    };
    let answer = ask::reconciled(&sheet, &bench, question)?;
    let instead = write(asked.write.as_deref(), &answer.sheet, asked.overwrite)?;
    let (page, rows) = page::reconciliation(&answer);
    let agree = answer.verdict == "agree";
    Ok((Report { instead, ..Report::of(page, &answer, rows) }, agree))
}

/// What to read next.
pub(super) fn next(asked: &NextArgs) -> Delivery {
    let mut begins = vec![("sheet", files::name(&asked.sheet)), ("figure", "--for".to_owned())];
    begins.extend(named("readings", asked.bench.as_deref()));
    begins.extend(named("second", asked.second.as_deref()));
    begins.extend(named("instruments", asked.instruments.as_deref()));
    judged(&asked.form, ranked(asked), &Sources { file: files::name(&asked.sheet), begins })
}

fn ranked(asked: &NextArgs) -> Result<(Report, bool), Problems> {
    let optional =
        |path: &Option<PathBuf>, place: &str| path.as_deref().map(|path| text(path, place)).transpose();
    let second = asked.second.as_deref().map(|path| sheet(path, "second")).transpose();
    let sheets = both(sheet(&asked.sheet, "sheet"), second);
    let texts = both(optional(&asked.bench, "readings"), optional(&asked.instruments, "instruments"));
    let ((sheet, second), (bench, instruments)) = both(sheets, texts)?;
    let answer =
        ask::next_after(&sheet, second.as_ref(), &asked.figure, bench.as_deref(), instruments.as_deref())?;
    let (page, rows) = page::next(&answer);
    Ok((Report::of(page, &answer, rows), true))
}
