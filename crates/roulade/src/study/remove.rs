//! A sheet without some of its parts.

use crate::cell::design::Fit;
use crate::cell::draft::Draft;
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems, hint, nearest, quoted, shortened};
use crate::quantity::units::{Length, Unit};
use crate::sheet::{Edit, Entry, Part, Sheet, all_applied};
use roulade_stats::uncertain::Uncertain;
use std::sync::Arc;

/// The sheet without a part, all of the height that it frees turned into coated width: what a part costs is the
/// [comparison](crate::compare) of the two.
///
/// # Errors
/// Where the sheet has no such part, or does not hold together with or without it.
pub fn remove(sheet: &Sheet, part: &str) -> Result<Sheet, Problems> {
    without(sheet.clone(), &[part], None, 1.0)
}

/// The sheet without some parts, `instead` in the place of the first, and `reclaim` of the freed height turned into coated
/// width.
///
/// # Errors
/// Where the sheet has no such part, none or one twice is named, the share is not between 0 and 1, or the sheet does not
/// hold together.
#[allow(clippy::needless_pass_by_value, reason = "the sheet becomes another one")]
pub fn without(sheet: Sheet, parts: &[&str], instead: Option<Part>, reclaim: f64) -> Result<Sheet, Problems> {
    if !(0.0..=1.0).contains(&reclaim) {
        return Err(Problem::new(
            "reclaim",
            format!("{reclaim}"),
            "a share of the freed height between 0 and 1",
        )
        .into());
    }
    let sheet = Draft::sheet_as_built(&sheet)?.into_owned();
    let design = Draft::read(&sheet)?.design()?;
    let (name, width) = (Arc::clone(&design.blueprint().name), design.stack().cathode_width);
    let gone = places(&sheet, parts, &name)?;
    let name_of = |p: &Part| p.name.as_deref().unwrap_or_default().trim().to_owned();
    let (own_width, own_space) =
        (sheet.cathode.as_ref().and_then(|c| c.width.clone()), sheet.void_height.clone());
    let comes = instead.as_ref().map(name_of);
    let mut edits = Vec::new();
    let mut replacing = instead;
    for (_, part) in &gone {
        let key = format!("parts[{part}]");
        edits.push(match replacing.take() {
            // Plain data become JSON.
            Some(with) => Edit::Replace { key, with: serde_json::to_value(with).unwrap_or_default() },
            None => Edit::Remove { key },
        });
    }
    let before = sheet.clone();
    let mut sheet = all_applied(&sheet, &edits)?;
    let all: Vec<String> = gone.iter().map(|(_, part)| format!("the {part}")).collect();
    let all = match all.as_slice() {
        [most @ .., last] if !most.is_empty() => format!("{} and {last}", most.join(", ")),
        _ => all.concat(),
    };
    sheet.cell = Some(match &comes {
        Some(instead) => format!("{name} with {instead} for {all}"),
        None => format!("{name} without {all}"),
    });
    descends(&mut sheet, &name);
    // Entries are about to change that it names.
    let correlated = sheet.correlated.take();
    // With the coated width as it was, what the change frees shows as void height.
    close(&mut sheet, Some(shifted(own_width.as_ref(), width)), None);
    let at = gone.first().map_or(0, |(at, _)| *at);
    let after = Draft::read(&sheet)
        .and_then(|draft| draft.design())
        .map_err(|problems| if comes.is_some() { of_instead(problems, at) } else { problems })?;
    let freed = after.stack().void_height - design.stack().void_height;
    match design.blueprint().fit {
        Fit::Width(_) => close(&mut sheet, Some(shifted(own_width.as_ref(), width + freed * reclaim)), None),
        Fit::VoidHeight(space) => {
            let left = space + freed * (1.0 - reclaim);
            close(&mut sheet, None, Some(shifted(own_space.as_ref(), left)));
        }
    }
    sheet.correlated = correlated;
    Ok(Draft::settled(&before, sheet))
}

/// Says of a sheet that it was made from another: from the first of all, where that was made from one itself, so that
/// all that were made from it know what they have in common.
pub(crate) fn descends(sheet: &mut Sheet, from: &str) {
    sheet.made_from.get_or_insert_with(|| from.to_owned());
}

/// Places and names of the parts that are to go.
fn places(sheet: &Sheet, wanted: &[&str], cell: &str) -> Result<Vec<(usize, String)>, Problems> {
    let names: Vec<&str> =
        sheet.parts.iter().flatten().map(|part| part.name.as_deref().unwrap_or_default().trim()).collect();
    let (mut found, mut problems) = (Vec::<(usize, String)>::new(), Problems::default());
    for part in wanted.iter().map(|part| part.trim()) {
        match names.iter().position(|name| *name == part) {
            Some(at) if found.iter().any(|(other, _)| *other == at) => {
                let what = format!("\"{}\" a second time", shortened(part));
                problems.push(Problem::new("part", what, "each part to be named once"));
            }
            Some(at) => found.push((at, part.to_owned())),
            None => {
                let hint = hint(nearest(part, names.iter().copied()));
                let what = format!("\"{}\", a part that {cell} does not have", shortened(part));
                let expected = if names.is_empty() {
                    "a part of the sheet, but the sheet has none".to_owned()
                } else {
                    format!("one of: {}{hint}", quoted(&names))
                };
                problems.push(Problem::new("part", what, expected));
            }
        }
    }
    if wanted.is_empty() {
        problems.push(Problem::new("part", "nothing", "the name of a part, or of several"));
    }
    problems.or_else_ok(found)
}

/// What is wrong with the part that came stands in the part's own text, not in the sheet.
fn of_instead(problems: Problems, at: usize) -> Problems {
    let in_sheet = format!("parts[{at}]");
    let placed = problems.0.into_iter().map(|problem| match problem.place.strip_prefix(&in_sheet) {
        Some(rest) => Problem { place: format!("instead{rest}"), ..problem },
        None => problem,
    });
    Problems(placed.collect())
}

/// Sets what closes the stack-up.
fn close(sheet: &mut Sheet, width: Option<Entry>, void_height: Option<Entry>) {
    sheet.void_height = void_height;
    sheet.cathode.get_or_insert_default().width = width;
}

/// An entry with another value and the spread it had.
fn shifted(entry: Option<&Entry>, to: Length) -> Entry {
    let text = match entry {
        Some(Entry::Text(text)) => Some(text.as_str()),
        Some(Entry::Noted(noted)) => Some(noted.value.as_str()),
        _ => None,
    };
    let uncertain = text.and_then(|text| notation::read(text, Unit::Millimetre.dimension()).ok());
    let uncertain = match uncertain {
        Some(uncertain) if uncertain.u() > 0.0 => Uncertain::standard(to.value, uncertain.u()),
        _ => Uncertain::exact(to.value),
    };
    Entry::Text(notation::print_uncertain(&uncertain, Unit::Millimetre))
}

#[cfg(test)]
mod tests;
