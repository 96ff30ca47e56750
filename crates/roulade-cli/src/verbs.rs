//! A verb in, all that is to be said out.

use crate::args::{FormArgs, Verb};
use crate::cores::AllCores;
use crate::report::{Delivery, Out, Report, Sources, form};
use crate::{files, page, schema};
use roulade::answer::{self, EstimateAnswer, LeaningAnswer, MaterialRow, SampledAnswer};
use roulade::ask;
use roulade::cautions::CAUTIONS;
use roulade::design::Draft;
use roulade::material;
use roulade::problem::{Problem, Problems, shortened};
use std::path::Path;

/// Answers.
pub(crate) fn answer(verb: Verb) -> Delivery {
    match verb {
        Verb::Estimate { sheet, ledger, elements, form } => {
            said(form, estimate(&sheet, ledger, elements), &Sources::one(name(&sheet)))
        }
        Verb::Compare { first, second, elements, form } => {
            let begins = vec![("first", name(&first)), ("second", name(&second))];
            said(form, compare(&first, &second, elements), &Sources { file: "roulade".to_owned(), begins })
        }
        Verb::Without { sheet, part, instead, reclaim, write, overwrite, form } => {
            let mut begins = vec![("reclaim", "--reclaim".to_owned())];
            begins.extend(instead.as_deref().map(|path| ("instead", name(path))));
            begins.extend(write.as_deref().map(|path| ("write", name(path))));
            let report =
                without(&sheet, &part, instead.as_deref(), reclaim, write.as_deref().zip(Some(overwrite)));
            said(form, report, &Sources { file: name(&sheet), begins })
        }
        Verb::Spread { sheet, second, draws, seed, figure, shares, form } => {
            let mut begins = vec![("sheet", name(&sheet))];
            begins.extend(second.as_deref().map(|path| ("second", name(path))));
            begins.extend(["figure", "draws"].map(|option| (option, format!("--{option}"))));
            begins.push(("figures", "--figure".to_owned()));
            let report = spread(&sheet, second.as_deref(), (draws, seed), &figure, shares);
            said(form, report, &Sources { file: "roulade".to_owned(), begins })
        }
        Verb::Materials { name, form } => {
            said(form, materials(name.as_deref()), &Sources::one("roulade materials".to_owned()))
        }
        Verb::Quantities { form } => said(form, Ok(quantities()), &Sources::one(String::new())),
        Verb::Schema => Delivery { out: Out::Exact(schema::text()), err: String::new(), status: 0 },
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

fn name(path: &Path) -> String {
    if path == Path::new("-") { "standard input".to_owned() } else { path.display().to_string() }
}

fn draft(path: &Path) -> Result<Draft, Problems> {
    ask::draft(&files::read(path)?)
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
    part: &str,
    instead: Option<&Path>,
    reclaim: Option<f64>,
    write: Option<(&Path, bool)>,
) -> Result<Report, Problems> {
    let as_it_was = files::read(sheet).map_err(Problems::from).and_then(|text| ask::sheet(&text));
    let instead = instead.map(|path| {
        let text = files::read(path).map_err(Problems::from);
        text.and_then(|text| ask::part(&text)).map_err(|problems| problems.within("instead"))
    });
    let (as_it_was, instead) = match (as_it_was, instead.transpose()) {
        (Ok(sheet), Ok(part)) => (sheet, part),
        (Err(mut problems), Err(more)) => {
            problems.0.extend(more.0);
            return Err(problems);
        }
        (Err(problems), _) | (_, Err(problems)) => return Err(problems),
    };
    let answer = ask::taken(as_it_was, part, instead, reclaim)?;
    if let Some((path, overwrite)) = write {
        // Plain data always becomes text.
        let text = serde_json::to_string_pretty(&answer.sheet).unwrap_or_default() + "\n";
        files::write(path, &text, overwrite).map_err(|problem| problem.within("write"))?;
    }
    let (page, rows) = page::comparison(&answer, false);
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
        ask::both(draft(sheet).map_err(|problems| problems.within("sheet")), of_second.transpose())?;
    let mut answer = SampledAnswer::of(&first, second.as_ref(), figures, plan, &AllCores)?;
    if shares {
        let main = figures.first().map(String::as_str);
        let plan = (Some(answer.draws), plan.1);
        answer.leaning = Some(LeaningAnswer::of(&first, second.as_ref(), main, plan, &AllCores)?);
    }
    let (page, rows) = page::spread(&answer);
    Ok(Report { page, json: ask::answer(Ok(&answer)), rows })
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
