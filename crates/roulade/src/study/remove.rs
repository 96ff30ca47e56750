//! A sheet without one of its parts.

use crate::cell::design::Fit;
use crate::cell::draft::Draft;
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems, nearest, shortened};
use crate::quantity::units::{Length, Unit};
use crate::sheet::{Correlated, Entry, Part, Sheet};
use roulade_stats::uncertain::Uncertain;
use std::sync::Arc;

/// The sheet without a part, all of the height that it frees turned into coated width: what a part costs is the
/// [comparison](crate::compare) of the two.
///
/// # Errors
/// Where the sheet has no such part, or does not hold together with or without it.
pub fn remove(sheet: &Sheet, part: &str) -> Result<Sheet, Problems> {
    without(sheet.clone(), part, None, 1.0)
}

/// The sheet without `part`, `instead` in its place, and `reclaim` of the freed height turned into coated width.
///
/// # Errors
/// Where the sheet has no such part, the share is not between 0 and 1, or the sheet does not hold together.
pub fn without(mut sheet: Sheet, part: &str, instead: Option<Part>, reclaim: f64) -> Result<Sheet, Problems> {
    if !(0.0..=1.0).contains(&reclaim) {
        return Err(Problem::new(
            "reclaim",
            format!("{reclaim}"),
            "a share of the freed height between 0 and 1",
        )
        .into());
    }
    let design = Draft::read(&sheet)?.design()?;
    let listed = sheet.parts.as_deref().unwrap_or(&[]);
    let name_of = |p: &Part| p.name.as_deref().unwrap_or_default().trim().to_owned();
    let Some(at) = listed.iter().position(|p| name_of(p) == part.trim()) else {
        let names: Vec<String> = listed.iter().map(name_of).collect();
        let hint = match nearest(part, names.iter().map(String::as_str)) {
            Some(near) => format!("perhaps \"{near}\" was meant; "),
            None => String::new(),
        };
        let found = format!("\"{}\", a part that {} does not have", shortened(part), design.blueprint().name);
        let expected = if names.is_empty() {
            "a part of the sheet, which lists none".to_owned()
        } else {
            format!("{hint}one of: {}", names.join(", "))
        };
        return Err(Problem::new("part", found, expected).into());
    };
    let (name, width) = (Arc::clone(&design.blueprint().name), design.stack().cathode_width);
    let (own_width, own_space) =
        (sheet.cathode.as_ref().and_then(|c| c.width.clone()), sheet.void_height.clone());
    sheet.made_from = Some(name.to_string());
    sheet.cell = Some(match &instead {
        Some(instead) => format!("{name} with {} for the {}", name_of(instead), part.trim()),
        None => format!("{name} without the {}", part.trim()),
    });
    let comes = instead.is_some();
    // Paths name what is about to change.
    let correlated = sheet.correlated.take().and_then(|section| following(section, at, comes));
    // A plate that leaves gathers no edge any more; the edge is then welded directly, or to what comes.
    if let Some(path) = &mut sheet.current_path {
        for lead in [&mut path.cathode, &mut path.anode].into_iter().flatten() {
            lead.plate.take_if(|plate| plate.trim() == part.trim());
        }
    }
    let parts = sheet.parts.get_or_insert_default();
    match instead {
        Some(instead) => parts.splice(at..=at, [instead]).for_each(drop),
        None => drop(parts.remove(at)),
    }
    // With the coated width as it was, what the change frees shows as void height.
    close(&mut sheet, Some(shifted(own_width.as_ref(), width)), None);
    let after = Draft::read(&sheet)
        .and_then(|draft| draft.design())
        .map_err(|problems| if comes { of_instead(problems, at) } else { problems })?;
    let freed = after.stack().void_height - design.stack().void_height;
    match design.blueprint().fit {
        Fit::Width(_) => close(&mut sheet, Some(shifted(own_width.as_ref(), width + freed * reclaim)), None),
        Fit::VoidHeight(space) => {
            let left = space + freed * (1.0 - reclaim);
            close(&mut sheet, None, Some(shifted(own_space.as_ref(), left)));
        }
    }
    let draft = Draft::read(&sheet)?;
    let uncertain =
        |path: &str| draft.inputs().iter().any(|i| i.known.u() > 0.0 && (i.path == path || i.key == path));
    sheet.correlated =
        correlated.and_then(|section| kept(section, |path| uncertain(path).then(|| path.to_owned())));
    Ok(sheet)
}

/// The section once the part at `at` has gone, `comes` where another stands in its place: what was of the one is not of
/// the other, and all further parts move up where none comes.
fn following(section: Correlated, at: usize, comes: bool) -> Option<Correlated> {
    kept(section, |path| {
        let numbered = path.trim().strip_prefix("parts[").and_then(|rest| rest.split_once(']'));
        match numbered.and_then(|(i, rest)| Some((i.parse::<usize>().ok()?, rest))) {
            Some((i, _)) if i == at => None,
            Some((i, rest)) if i > at && !comes => Some(format!("parts[{}]{rest}", i - 1)),
            _ => Some(path.trim().to_owned()),
        }
    })
}

/// Those of its paths that `keep` keeps, as they are called then; nothing where fewer than two are left.
fn kept(section: Correlated, keep: impl Fn(&str) -> Option<String>) -> Option<Correlated> {
    let (paths, below) = (section.paths.unwrap_or_default(), section.coefficients.unwrap_or_default());
    let kept: Vec<(usize, String)> =
        paths.iter().enumerate().filter_map(|(i, path)| Some((i, keep(path)?))).collect();
    let row = |i: usize| below.get(i.checked_sub(1)?);
    let coefficients = kept.iter().enumerate().skip(1).map(|(k, (i, _))| {
        kept.iter().take(k).filter_map(|(j, _)| row(*i)?.get(*j).copied()).collect::<Vec<f64>>()
    });
    let coefficients = coefficients.collect();
    (kept.len() > 1).then(|| Correlated {
        coefficients: Some(coefficients),
        paths: Some(kept.into_iter().map(|(_, path)| path).collect()),
        unknown: section.unknown,
    })
}

/// What is wrong with the part that came stands in the part's own text, not in the sheet.
fn of_instead(problems: Problems, at: usize) -> Problems {
    let in_sheet = format!("parts[{at}]");
    let told = problems.0.into_iter().map(|problem| match problem.place.strip_prefix(&in_sheet) {
        Some(rest) => Problem { place: format!("instead{rest}"), ..problem },
        None => problem,
    });
    Problems(told.collect())
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
    let known = text.and_then(|text| notation::read(text, Unit::Millimetre.dimension()).ok());
    let known = match known {
        Some(known) if known.u() > 0.0 => Uncertain::standard(to.value, known.u()),
        _ => Uncertain::exact(to.value),
    };
    Entry::Text(notation::print_known(&known, Unit::Millimetre))
}

#[cfg(test)]
mod tests;
