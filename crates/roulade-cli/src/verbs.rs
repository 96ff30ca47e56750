//! A verb in, all that is to be said out.

mod bench;
mod claim;
mod edit;

use crate::args::{FormArgs, Verb};
use crate::cores::AllCores;
use crate::report::{Delivery, Out, Report, Sources, form};
use crate::{batch, files, page, schema, search, sizes};
use roulade::cell::draft::Draft;
use roulade::material;
use roulade::quantity::problem::{Problem, Problems, both, shortened};
use roulade::sheet::Part;
use roulade::sheet::Sheet;
use roulade::study::attribute::Changes;
use roulade::study::attribute::Prices;
use roulade::study::claim::Said;
use roulade_answer::answer::{self, EstimateAnswer, LeaningAnswer, MaterialRow, SampledAnswer, WorthAnswer};
use roulade_answer::ask;
use roulade_answer::cautions::CAUTIONS;
use roulade_report::ReportQuestion;
use std::path::Path;

/// Answers.
#[allow(clippy::too_many_lines, reason = "one short arm for each verb")]
pub(crate) fn answer(verb: Verb) -> Delivery {
    match verb {
        Verb::Estimate { sheet, ledger, elements, form } => {
            said(form, estimate(&sheet, ledger, elements), &Sources::one(files::name(&sheet)))
        }
        Verb::Compare { first, second, elements, form } => {
            let begins = vec![("first", files::name(&first)), ("second", files::name(&second))];
            said(form, compare(&first, &second, elements), &Sources { file: "roulade".to_owned(), begins })
        }
        Verb::Without { sheet, parts, instead, reclaim, write, overwrite, form } => {
            let mut begins = vec![("reclaim", "--reclaim".to_owned())];
            begins.extend(instead.as_deref().map(|path| ("instead", files::name(path))));
            begins.extend(write.as_deref().map(|path| ("write", files::name(path))));
            let report =
                without(&sheet, &parts, instead.as_deref(), reclaim, write.as_deref().zip(Some(overwrite)));
            said(form, report, &Sources { file: files::name(&sheet), begins })
        }
        Verb::Edit(asked) => edit::edit(&asked),
        Verb::Claim(asked) => claim::claim(asked),
        Verb::Report { first, second, claim, bench, instruments, draws, seed, date, write, overwrite } => {
            let mut begins = vec![("first", files::name(&first)), ("draws", "--trials".to_owned())];
            begins.extend(second.as_deref().map(|path| ("second", files::name(path))));
            begins.extend(write.as_deref().map(|path| ("write", files::name(path))));
            begins.extend(bench.as_deref().map(|path| ("readings", files::name(path))));
            begins.extend(instruments.as_deref().map(|path| ("instruments", files::name(path))));
            let beside = [bench.as_deref(), instruments.as_deref()];
            let asked = reported(&first, second.as_deref(), claim.as_deref(), beside).map(|asked| {
                ReportQuestion { draws, seed, date: date.or_else(|| Some(files::today())), ..asked }
            });
            let page = asked.and_then(|asked| roulade_report::written(asked, &AllCores));
            let page = page.and_then(|page| match &write {
                None => Ok(page),
                Some(path) => {
                    files::write(path, &page, overwrite).map_err(|problem| problem.within("write"))?;
                    Ok(String::new())
                }
            });
            match page {
                Ok(page) => Delivery { out: Out::Exact(page), err: String::new(), status: 0 },
                Err(problems) => form(FormArgs::default())
                    .problems(&problems, &Sources { file: "roulade".to_owned(), begins }),
            }
        }
        Verb::Map { sheet, diameter, height, steps, figures, hold, picture, form } => {
            let asked = sizes::Map { diameter, height, steps, figures, hold };
            said(
                form,
                sizes::map(&sheet, asked, &picture),
                &sizes::map_sources(files::name(&sheet), &picture),
            )
        }
        Verb::Sweep { sheet, key, from, to, and, steps, figures, hold, picture, form } => {
            let along = sizes::Along { first: [key, from, to], and, steps };
            let report = sizes::sweep(&sheet, along, figures, &hold, &picture);
            said(form, report, &sizes::sweep_sources(files::name(&sheet), &picture))
        }
        Verb::Search { sheet, question, form } => {
            let begins = vec![("sheet", files::name(&sheet))];
            let sources = Sources { file: files::name(&question), begins };
            match search::search(&sheet, &question) {
                Ok((report, holds)) => {
                    Delivery { status: u8::from(!holds), ..said(form, Ok(report), &sources) }
                }
                Err(problems) => said(form, Err(problems), &sources),
            }
        }
        Verb::Batch { sheets, figures, spread, csv } => batch::run(
            &sheets,
            &files::name(&sheets),
            &figures,
            &batch::As { spread, csv, shelf: material::CurveCache::full() },
        ),
        Verb::Worth { first, second, changes, prices, draws, seed, write_changes, overwrite, form } => {
            let mut begins = vec![("first", files::name(&first)), ("second", files::name(&second))];
            begins.extend(changes.as_deref().map(|path| ("changes", files::name(path))));
            begins.extend(prices.as_deref().map(|path| ("prices", files::name(path))));
            begins.extend(write_changes.as_deref().map(|path| ("write", files::name(path))));
            begins.push(("draws", "--trials".to_owned()));
            let asked = WorthFiles {
                first: &first,
                second: &second,
                changes: changes.as_deref(),
                prices: prices.as_deref(),
                write: write_changes.as_deref().zip(Some(overwrite)),
            };
            said(form, worth(&asked, draws, seed), &Sources { file: "roulade".to_owned(), begins })
        }
        Verb::Spread { sheet, second, draws, seed, figure, shares, form } => {
            let mut begins = vec![("sheet", files::name(&sheet))];
            begins.extend(second.as_deref().map(|path| ("second", files::name(path))));
            begins.extend([("figure", "--figure".to_owned()), ("draws", "--trials".to_owned())]);
            begins.push(("figures", "--figure".to_owned()));
            let report = spread(&sheet, second.as_deref(), (draws, seed.map(u64::from)), &figure, shares);
            said(form, report, &Sources { file: "roulade".to_owned(), begins })
        }
        Verb::Materials { name, form } => {
            said(form, materials(name.as_deref()), &Sources::one("roulade materials".to_owned()))
        }
        Verb::Quantities { form } => said(form, Ok(quantities()), &Sources::one(String::new())),
        Verb::Readings { template: Some(sheet), .. } => bench::template(&sheet),
        Verb::Readings { bench, form, .. } => bench::readings(bench.as_deref(), form),
        Verb::Reconcile {
            sheet,
            bench,
            instruments,
            cell,
            robust,
            independent,
            two,
            write,
            overwrite,
            form,
        } => {
            let robust = robust.map(|loss| loss.name().to_owned());
            let asked = bench::Reconcile {
                sheet,
                bench,
                instruments,
                cell,
                robust,
                independent,
                two,
                write,
                overwrite,
            };
            bench::reconcile(&asked, form)
        }
        Verb::Next { sheet, bench, figure, second, instruments, form } => {
            bench::next(&bench::Next { sheet, bench, figure, second, instruments }, form)
        }
        Verb::Schema { what } => {
            Delivery { out: Out::Exact(schema::text(&what)), err: String::new(), status: 0 }
        }
        Verb::Cautions { form } => {
            let (page, rows) = page::cautions(CAUTIONS);
            let report = Report { page, json: ask::answer(Ok(CAUTIONS)), rows };
            said(form, Ok(report), &Sources::one(String::new()))
        }
    }
}

fn said(asked: FormArgs, report: Result<Report, Problems>, sources: &Sources) -> Delivery {
    let form = form(asked);
    match report {
        Ok(report) => Delivery { out: form.answer(&report), err: String::new(), status: 0 },
        Err(problems) => form.problems(&problems, sources),
    }
}

fn draft(path: &Path) -> Result<Draft, Problems> {
    Draft::parse(&files::read(path)?)
}

fn estimate(sheet: &Path, every_line: bool, every_element: bool) -> Result<Report, Problems> {
    let answer = EstimateAnswer::of(&draft(sheet)?)?;
    let (page, rows) = page::estimate(&answer, every_line, every_element);
    Ok(Report { page, json: ask::answer(Ok(&answer)), rows })
}

fn compare(first: &Path, second: &Path, every_element: bool) -> Result<Report, Problems> {
    let answer = ask::compared(draft(first), draft(second))?;
    let (page, rows) = page::comparison(&answer, every_element);
    Ok(Report { page, json: ask::answer(Ok(&answer)), rows })
}

fn without(
    sheet: &Path,
    parts: &[String],
    instead: Option<&Path>,
    reclaim: Option<f64>,
    write: Option<(&Path, bool)>,
) -> Result<Report, Problems> {
    let as_it_was = files::read(sheet).map_err(Problems::from).and_then(|text| Sheet::parse(&text));
    let instead = instead.map(|path| {
        let text = files::read(path).map_err(Problems::from);
        text.and_then(|text| Part::parse(&text)).map_err(|problems| problems.within("instead"))
    });
    let (as_it_was, instead) = both(as_it_was, instead.transpose())?;
    let answer = ask::taken(as_it_was, parts, instead, reclaim)?;
    if let Some((path, overwrite)) = write {
        // Plain data always becomes text.
        let text = serde_json::to_string_pretty(&answer.sheet).unwrap_or_default() + "\n";
        files::write(path, &text, overwrite).map_err(|problem| problem.within("write"))?;
    }
    let (page, rows) = page::comparison(&answer, false);
    Ok(Report { page, json: ask::answer(Ok(&answer)), rows })
}

struct WorthFiles<'a> {
    first: &'a Path,
    second: &'a Path,
    changes: Option<&'a Path>,
    prices: Option<&'a Path>,
    write: Option<(&'a Path, bool)>,
}

fn worth(asked: &WorthFiles<'_>, draws: u32, seed: u32) -> Result<Report, Problems> {
    fn read<T>(
        path: &Path,
        whose: &str,
        of: impl Fn(&str) -> Result<T, Problems>,
        problems: &mut Problems,
    ) -> Option<T> {
        let text = files::read(path).map_err(Problems::from);
        match text.and_then(|text| of(&text)) {
            Ok(read) => Some(read),
            Err(more) => {
                problems.0.extend(more.within(whose).0);
                None
            }
        }
    }
    let mut problems = Problems::default();
    let first = read(asked.first, "first", Sheet::parse, &mut problems);
    let second = read(asked.second, "second", Sheet::parse, &mut problems);
    let changes = asked.changes.and_then(|path| read(path, "changes", Changes::parse, &mut problems));
    let prices = asked.prices.and_then(|path| read(path, "prices", Prices::parse, &mut problems));
    let (Some(first), Some(second)) = (&first, &second) else { return Err(problems) };
    problems.or_else_ok(())?;
    let (changes, prices) = (changes.as_ref(), prices.as_ref());
    let question = roulade::study::attribute::Question { first, second, changes, prices, draws, seed };
    let answer = WorthAnswer::of(&question, &AllCores)?;
    if let Some((path, overwrite)) = asked.write {
        // Plain data always becomes text.
        let text = serde_json::to_string_pretty(&answer.grouping).unwrap_or_default() + "\n";
        files::write(path, &text, overwrite).map_err(|problem| problem.within("write"))?;
    }
    let (page, rows) = page::worth(&answer);
    Ok(Report { page, json: ask::answer(Ok(&answer)), rows })
}

fn spread(
    sheet: &Path,
    second: Option<&Path>,
    plan: (Option<u32>, Option<u64>),
    figures: &[String],
    shares: bool,
) -> Result<Report, Problems> {
    let of_second = second.map(|path| draft(path).map_err(|problems| problems.within("second")));
    let (first, second) =
        both(draft(sheet).map_err(|problems| problems.within("sheet")), of_second.transpose())?;
    let mut answer = SampledAnswer::of(&first, second.as_ref(), figures, plan, &AllCores)?;
    if shares {
        let main = figures.first().map(String::as_str);
        let plan = (Some(answer.draws), plan.1);
        answer.leaning = Some(LeaningAnswer::of(&first, second.as_ref(), main, plan, &AllCores)?);
    }
    let (page, rows) = page::spread(&answer);
    Ok(Report { page, json: ask::answer(Ok(&answer)), rows })
}

/// A claim in words, or in a file.
fn said_or_in_file(claim: &str) -> Result<Said, Problems> {
    if Path::new(claim).extension().is_none_or(|ending| ending != "json") {
        return Said::parse(claim);
    }
    Said::parse(&files::read(Path::new(claim)).map_err(|problem| problem.within("claim"))?)
}

/// The sheets of a report and its claim.
fn reported(
    first: &Path,
    second: Option<&Path>,
    claim: Option<&str>,
    [bench, instruments]: [Option<&Path>; 2],
) -> Result<ReportQuestion, Problems> {
    let text =
        |path: &Path, place: &str| files::read(path).map_err(|problem| Problems::from(problem.within(place)));
    let sheet = |path: &Path, place: &str| {
        let read = files::read(path).map_err(Problems::from).and_then(|text| Sheet::parse(&text));
        read.map_err(|problems| problems.within(place))
    };
    let mut problems = Problems::default();
    let mut kept = |more: Problems| problems.0.extend(more.0);
    let asked = ReportQuestion {
        first: sheet(first, "first").map_err(&mut kept).ok(),
        second: second.and_then(|second| sheet(second, "second").map_err(&mut kept).ok()),
        claim: claim.and_then(|claim| said_or_in_file(claim).map_err(&mut kept).ok()),
        readings: bench.and_then(|path| text(path, "readings").map_err(&mut kept).ok()),
        instruments: instruments.and_then(|path| text(path, "instruments").map_err(&mut kept).ok()),
        ..ReportQuestion::default()
    };
    problems.or_else_ok(asked)
}

fn materials(name: Option<&str>) -> Result<Report, Problems> {
    let all = answer::materials();
    let Some(name) = name else {
        let (page, rows) = page::materials(&all);
        return Ok(Report { page, json: ask::answer(Ok(&all)), rows });
    };
    let found = material::find(name);
    match found.and_then(|found| all.iter().find(|row| row.name == found.name)) {
        Some(row) => {
            let (page, rows) = page::material(row);
            Ok(Report { page, json: ask::answer(Ok(row)), rows })
        }
        None => Err(unknown(name, &all).into()),
    }
}

fn unknown(name: &str, all: &[MaterialRow]) -> Problem {
    let hint =
        material::nearest(name).map_or(String::new(), |near| format!("perhaps \"{near}\" was meant; "));
    let names: Vec<&str> = all.iter().map(|row| row.name).collect();
    let found = format!("\"{}\", a material that is not known", shortened(name));
    Problem::new("", found, format!("{hint}one of: {}", names.join(", ")))
}

fn quantities() -> Report {
    let (page, rows) = page::quantities(&answer::quantities());
    Report { page, json: ask::quantities(), rows }
}
