//! Questions over many cells: contributions, trials, the best design, lines of sheets.

use super::said::{draft, judged, named, said, sheet, write};
use crate::args::{AttributeArgs, BatchArgs, SearchArgs, SpreadArgs};
use crate::cores::AllCores;
use crate::report::{Delivery, Report, Sources};
use crate::{batch as lines, files, page, search as searched, vary};
use roulade::material::CurveCache;
use roulade::quantity::problem::{Problems, both};
use roulade::study::attribute::{Changes, Prices, Question};
use roulade_answer::answer::{AttributionAnswer, SampledAnswer, SensitivityAnswer};
use std::path::Path;

/// Contributions of the changes between two cells.
pub(super) fn attribute(asked: &AttributeArgs) -> Delivery {
    let mut begins = vec![("first", files::name(&asked.first)), ("second", files::name(&asked.second))];
    begins.extend(named("changes", asked.changes.as_deref()));
    begins.extend(named("prices", asked.prices.as_deref()));
    begins.extend(named("write", asked.write_changes.as_deref()));
    begins.push(("draws", "--trials".to_owned()));
    said(&asked.form, attributed(asked), &Sources { file: "roulade".to_owned(), begins })
}

fn attributed(asked: &AttributeArgs) -> Result<Report, Problems> {
    fn list<T>(
        path: Option<&Path>,
        whose: &str,
        of: impl Fn(&str) -> Result<T, Problems>,
    ) -> Result<Option<T>, Problems> {
        let read = |path| files::read(path).map_err(Problems::from).and_then(|text| of(&text));
        path.map(read).transpose().map_err(|problems| problems.within(whose))
    }
    let sheets = both(sheet(&asked.first, "first"), sheet(&asked.second, "second"));
    let changes = list(asked.changes.as_deref(), "changes", Changes::parse);
    let prices = list(asked.prices.as_deref(), "prices", Prices::parse);
    let ((first, second), (changes, prices)) = both(sheets, both(changes, prices))?;
    let answer = AttributionAnswer::of(
        &Question {
            first: &first,
            second: &second,
            changes: changes.as_ref(),
            prices: prices.as_ref(),
            draws: asked.draws,
            seed: asked.seed,
            sharing: 1,
        },
        &AllCores,
    )?;
    let instead = write(asked.write_changes.as_deref(), &answer.grouping, asked.overwrite)?;
    let (page, rows) = page::attribute(&answer);
    Ok(Report { instead, ..Report::of(page, &answer, rows) })
}

/// Trials of a cell, or of two and their difference.
pub(super) fn spread(asked: &SpreadArgs) -> Delivery {
    let mut begins = vec![("sheet", files::name(&asked.sheet))];
    begins.extend(named("second", asked.second.as_deref()));
    begins.extend([("figure", "--figure".to_owned()), ("draws", "--trials".to_owned())]);
    begins.push(("figures", "--figure".to_owned()));
    said(&asked.form, sampled(asked), &Sources { file: "roulade".to_owned(), begins })
}

fn sampled(asked: &SpreadArgs) -> Result<Report, Problems> {
    let second =
        asked.second.as_deref().map(|path| draft(path).map_err(|problems| problems.within("second")));
    let first = draft(&asked.sheet).map_err(|problems| problems.within("sheet"));
    let (first, second) = both(first, second.transpose())?;
    let seed = asked.seed.map(u64::from);
    let mut answer =
        SampledAnswer::of(&first, second.as_ref(), &asked.figure, (asked.draws, seed), &AllCores)?;
    if asked.shares {
        let main = asked.figure.first().map(String::as_str);
        let plan = (Some(answer.draws), seed);
        answer.sensitivity = Some(SensitivityAnswer::of(&first, second.as_ref(), main, plan, &AllCores)?);
    }
    let (page, rows) = page::spread(&answer);
    Ok(Report::of(page, &answer, rows))
}

/// The best design within ranges and constraints.
pub(super) fn search(asked: &SearchArgs) -> Delivery {
    let begins = vec![("sheet", files::name(&asked.sheet))];
    let sources = Sources { file: files::name(&asked.question), begins };
    judged(&asked.form, searched::search(&asked.sheet, &asked.question), &sources)
}

/// Many sheets, one on each line; or one, and a table of what varies.
pub(super) fn batch(asked: &BatchArgs) -> Delivery {
    if let (Some(base), Some(table)) = (&asked.base, &asked.vary) {
        return vary::run(base, table, asked);
    }
    let form = if asked.csv { lines::Form::Csv } else { lines::Form::Json };
    let form = if asked.table.is_some() { lines::Form::Workbook } else { form };
    let how = lines::As { spread: asked.spread, form, curve_cache: CurveCache::full() };
    lines::run(asked, &how)
}
