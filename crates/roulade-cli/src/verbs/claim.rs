//! Declared figures weighed.

use super::said::judged;
use crate::args::ClaimArgs;
use crate::cores::AllCores;
use crate::report::{Delivery, Report, Sources};
use crate::{files, page};
use roulade::cell::draft::Draft;
use roulade::quantity::problem::{Problem, Problems};
use roulade::sheet::read;
use roulade::study::claim::{Said, Verdict};
use roulade_answer::ask::{self, Weighed};
use std::path::{Path, PathBuf};

pub(super) fn claim(asked: ClaimArgs) -> Delivery {
    let (claims, sheet) = claims_and_sheet(asked.claims);
    let mut begins = vec![("sheet", files::name(&sheet)), ("draws", "--trials".to_owned())];
    begins.extend(asked.over.as_deref().map(|path| ("other", files::name(path))));
    let weighed = weigh(&claims, &sheet, asked.over.as_deref(), (asked.draws, asked.seed));
    let refuted = weighed.as_ref().is_ok_and(|answer| answer.verdict() == Verdict::Contradicted);
    let report = weighed.map(|answer| {
        let (page, rows) = match &answer {
            Weighed::One(answer) => page::claim(answer),
            Weighed::Several(answer) => page::claims(answer),
        };
        (Report::of(page, &answer, rows), !refuted)
    });
    judged(&asked.form, report, &Sources { file: "roulade".to_owned(), begins })
}

/// The claims, and the sheet: the one that stands last, or first where it alone of all ends as a sheet does.
fn claims_and_sheet(mut given: Vec<String>) -> (Vec<String>, PathBuf) {
    let sheet = |text: Option<&String>| text.is_some_and(|text| is_sheet(Path::new(text)));
    let first = sheet(given.first()) && !sheet(given.last());
    let sheet = if first { given.remove(0) } else { given.pop().unwrap_or_default() };
    (given, PathBuf::from(sheet))
}

fn is_sheet(path: &Path) -> bool {
    path == Path::new("-") || path.extension().is_some_and(|ending| ending == "json")
}

/// Claims, each in words or in a file; a file may hold a list.
fn all_said(claims: &[String]) -> Result<Vec<Said>, Problems> {
    let mut said = Vec::new();
    for claim in claims {
        let file = Path::new(claim).extension().is_some_and(|ending| ending == "json");
        let text = if file {
            files::read(Path::new(claim)).map_err(|problem| problem.within("claim"))?
        } else {
            claim.clone()
        };
        if text.trim_start().starts_with('[') {
            let list = read::text::<Vec<Said>>(&text, "a list of claims").map_err(|p| p.within("claim"))?;
            said.extend(list);
        } else {
            said.push(Said::parse(&text)?);
        }
    }
    Ok(said)
}

fn weigh(
    claims: &[String],
    sheet: &Path,
    over: Option<&Path>,
    drawn: (Option<u32>, Option<u32>),
) -> Result<Weighed, Problems> {
    if claims.is_empty() {
        let found =
            if is_sheet(sheet) { "a design sheet and no claim" } else { "a claim and no design sheet" };
        let expected = "both; `roulade sheet 21700 NMC811 graphite`, with size and active materials, makes a sheet to begin with";
        return Err(Problem::new("", found, expected).into());
    }
    let draft = |path: &Path| Draft::parse(&files::read(path)?);
    ask::weighed(&all_said(claims)?, draft(sheet), over.map(draft), drawn, &AllCores)
}
