//! One cell, two cells, and one without some of its parts.

use super::said::{draft, named, said, write};
use crate::args::{CompareArgs, EstimateArgs, WithoutArgs};
use crate::report::{Delivery, Report, Sources};
use crate::{files, page};
use roulade::quantity::problem::{Problems, both};
use roulade::sheet::{Part, Sheet};
use roulade_answer::answer::EstimateAnswer;
use roulade_answer::ask;
use roulade_answer::question::Reclaimed;

/// One cell.
pub(super) fn estimate(asked: &EstimateArgs) -> Delivery {
    let report = draft(&asked.sheet).and_then(|draft| EstimateAnswer::of(&draft)).map(|answer| {
        let (page, rows) = page::estimate(&answer, asked.ledger, asked.elements);
        Report::of(page, &answer, rows)
    });
    said(&asked.form, report, &Sources::one(files::name(&asked.sheet)))
}

/// Two cells side by side.
pub(super) fn compare(asked: &CompareArgs) -> Delivery {
    let begins = vec![("first", files::name(&asked.first)), ("second", files::name(&asked.second))];
    let report = ask::compared(draft(&asked.first), draft(&asked.second)).map(|answer| {
        let (page, rows) = page::comparison(&answer, asked.elements);
        Report::of(page, &answer, rows)
    });
    said(&asked.form, report, &Sources { file: "roulade".to_owned(), begins })
}

/// A cell beside itself without some parts.
pub(super) fn without(asked: &WithoutArgs) -> Delivery {
    let mut begins = vec![("reclaim", "--reclaim".to_owned())];
    begins.extend(named("instead", asked.instead.as_deref()));
    begins.extend(named("write", asked.write.as_deref()));
    said(&asked.form, removed(asked), &Sources { file: files::name(&asked.sheet), begins })
}

fn removed(asked: &WithoutArgs) -> Result<Report, Problems> {
    let as_it_was = files::read(&asked.sheet).map_err(Problems::from).and_then(|text| Sheet::parse(&text));
    let instead = asked.instead.as_deref().map(|path| {
        let text = files::read(path).map_err(Problems::from);
        text.and_then(|text| Part::parse(&text)).map_err(|problems| problems.within("instead"))
    });
    let (as_it_was, instead) = both(as_it_was, instead.transpose())?;
    let reclaim = asked.reclaim.as_deref().map(Reclaimed::parse).transpose()?;
    let answer = ask::taken(as_it_was, &asked.parts, instead, reclaim.map(|share| share.0))?;
    let instead = write(asked.write.as_deref(), &answer.sheet, asked.overwrite)?;
    let (page, rows) = page::comparison(&answer, false);
    Ok(Report { instead, ..Report::of(page, &answer, rows) })
}
