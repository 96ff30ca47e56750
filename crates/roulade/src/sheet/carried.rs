//! What an edit carries along: which quantities move together.
//!
//! A coefficient belongs to two quantities, not to two places in a file. An entry that goes, or becomes exact, leaves its
//! coefficients; one whose item is called otherwise or stands elsewhere keeps them, and so does one that is multiplied.

use super::key::{called, find, item_of, position, text};
use super::tree::Inner;
use super::{Correlated, Sheet, defaults};
use crate::quantity::notation;

/// Where the items of a list went.
pub(super) struct Moved {
    list: String,
    how: How,
}

enum How {
    /// Each item is where its name is.
    ByName,
    /// Each stays at its place, whatever it is called.
    Kept,
    Removed(usize),
    Replaced(usize),
    Inserted(usize),
    Reordered(usize, usize),
}

impl Moved {
    pub(super) fn by_name() -> Self {
        Self { list: String::new(), how: How::ByName }
    }

    pub(super) fn kept(list: &str, _at: usize) -> Self {
        Self { list: list.to_owned(), how: How::Kept }
    }

    pub(super) fn removed(list: &str, at: usize) -> Self {
        Self { list: list.to_owned(), how: How::Removed(at) }
    }

    pub(super) fn replaced(list: &str, at: usize) -> Self {
        Self { list: list.to_owned(), how: How::Replaced(at) }
    }

    pub(super) fn inserted(list: &str, at: usize) -> Self {
        Self { list: list.to_owned(), how: How::Inserted(at) }
    }

    pub(super) fn reordered(list: &str, from: usize, to: usize) -> Self {
        Self { list: list.to_owned(), how: How::Reordered(from, to) }
    }

    /// The new place of the item that was at `at`; `None` where it is gone.
    fn place(&self, at: usize) -> Option<usize> {
        match self.how {
            How::ByName | How::Kept => Some(at),
            How::Removed(gone) if at == gone => None,
            How::Removed(gone) => Some(if at > gone { at - 1 } else { at }),
            How::Replaced(gone) => (at != gone).then_some(at),
            How::Inserted(new) => Some(if at >= new { at + 1 } else { at }),
            How::Reordered(from, to) if at == from => Some(to),
            How::Reordered(from, to) => {
                let without = if at > from { at - 1 } else { at };
                Some(if without >= to { without + 1 } else { without })
            }
        }
    }
}

/// Makes the sheet's correlations those of its entries as they are after an edit.
pub(super) fn carry(before: &mut Sheet, after: &mut Sheet, moved: &Moved) {
    // A section that the edit itself wrote is what was meant.
    if before.correlated.is_none() || before.correlated != after.correlated {
        return;
    }
    let Some(section) = after.correlated.take() else { return };
    after.correlated = kept(section, |path| follow(before, after, moved, path));
}

/// What a quantity is called after an edit; `None` where it takes no part any more.
fn follow(before: &mut Sheet, after: &mut Sheet, moved: &Moved, path: &str) -> Option<String> {
    let path = path.trim();
    let now = match item_of(path) {
        Some((list, item, rest)) => match at(before, list, item) {
            // A material of the table, or what stands in for a list.
            None => path.to_owned(),
            Some(i) if list == moved.list && !matches!(moved.how, How::ByName) => {
                let to = moved.place(i)?;
                format!("{list}[{}]{rest}", name(after, list, to)?)
            }
            Some(i) => {
                let by = name(before, list, i)?;
                match at(after, list, &by) {
                    Some(_) => path.to_owned(),
                    // A list that the edit made, or one whose item went with it.
                    None => return None,
                }
            }
        },
        None => path.to_owned(),
    };
    let (was, is) = (text(before, path), text(after, &now));
    if was.is_some() && is.is_none() || is != was && is.as_deref().is_some_and(|text| exact(&now, text)) {
        return None;
    }
    Some(now)
}

fn at(sheet: &mut Sheet, list: &str, item: &str) -> Option<usize> {
    match find(sheet, list, false).ok()? {
        super::key::Found::Slot(slot) => match slot.inner()? {
            Inner::List(list) => position(list, item),
            _ => None,
        },
        _ => None,
    }
}

fn name(sheet: &mut Sheet, list: &str, at: usize) -> Option<String> {
    match find(sheet, list, false).ok()? {
        super::key::Found::Slot(slot) => match slot.inner()? {
            Inner::List(list) => Some(called(list, at)),
            _ => None,
        },
        _ => None,
    }
}

/// Whether an entry is certain; one that cannot be read is not yet.
fn exact(key: &str, text: &str) -> bool {
    let uncertain = defaults::field(key).map(|field| notation::read(text, field.unit.dimension()));
    uncertain.is_some_and(|uncertain| uncertain.is_ok_and(|uncertain| uncertain.u() == 0.0))
}

/// Those of its paths that `keep` keeps, as they are called then; nothing where fewer than two are left.
pub(crate) fn kept(section: Correlated, mut keep: impl FnMut(&str) -> Option<String>) -> Option<Correlated> {
    let (paths, below) = (section.paths.unwrap_or_default(), section.coefficients.unwrap_or_default());
    let kept: Vec<(usize, String)> =
        paths.iter().enumerate().filter_map(|(i, path)| Some((i, keep(path)?))).collect();
    if kept.len() == paths.len() {
        return Some(Correlated {
            paths: Some(kept.into_iter().map(|(_, path)| path).collect()),
            coefficients: Some(below),
            held: section.held,
            held_u: section.held_u,
            unknown: section.unknown,
        });
    }
    let row = |i: usize| below.get(i.checked_sub(1)?);
    let coefficients = kept.iter().enumerate().skip(1).map(|(k, (i, _))| {
        kept.iter().take(k).filter_map(|(j, _)| row(*i)?.get(*j).copied()).collect::<Vec<f64>>()
    });
    let coefficients = coefficients.collect();
    (kept.len() > 1).then(|| Correlated {
        coefficients: Some(coefficients),
        paths: Some(kept.into_iter().map(|(_, path)| path).collect()),
        held: section.held,
        held_u: section.held_u,
        unknown: section.unknown,
    })
}
