//! Which readings are of this cell and can be used, and what they read.

use super::populations::{self, Population, VariantsVerdict};
use super::rows::Row;
use super::specimens::{Scatter, seen};
use crate::cell::draft::Draft;
use crate::cell::figures::Worked;
use crate::quantity::problem::{Problem, hint, nearest, shortened};
use crate::study::readings::Reading;
use crate::study::readings::instrument::{self, Instrument};
use crate::study::readings::quantity::{Asked, Of};
use roulade_stats::uncertain::Spread;

/// More readings of one cell than this are refused: ten thousand take half a second and 25 MB, and this is ten times as many.
const MOST: usize = 100_000;

/// Readings of the cell that is asked for.
pub(super) fn of_cell(
    draft: &Draft,
    readings: &[Reading],
    asked: Option<&str>,
    remarks: &mut Vec<String>,
) -> Result<Vec<usize>, Problem> {
    let wanted = asked.unwrap_or(draft.name());
    let mut names: Vec<&str> = Vec::new();
    for name in readings.iter().filter_map(|reading| reading.cell.as_deref()) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let same = |name: &str| instrument::same(name, wanted);
    if !names.is_empty() && !names.iter().any(|name| same(name)) {
        let listed: Vec<String> = names.iter().map(|name| format!("\"{}\"", shortened(name))).collect();
        return Err(Problem::new(
            "readings",
            format!("no reading of \"{}\", but of {}", shortened(wanted), listed.join(", ")),
            "readings of the design sheet's cell, or the cell that is meant to be named as \"cell\" (--cell)",
        ));
    }
    let mine = |reading: &Reading| reading.cell.as_deref().is_none_or(same);
    let own: Vec<usize> =
        readings.iter().enumerate().filter(|(_, reading)| mine(reading)).map(|(i, _)| i).collect();
    if own.len() > MOST {
        return Err(Problem::new(
            "readings",
            format!("{} readings of this cell", own.len()),
            format!("at most {MOST}; give means of repeats, each with the standard uncertainty of the mean"),
        ));
    }
    let others = readings.len() - own.len();
    if others > 0 {
        remarks.push(format!("{others} readings are of other cells, and were not looked at."));
    }
    Ok(own)
}

/// Why a design has no such quantity; `None` where it has.
pub(super) fn unreadable(draft: &Draft, worked: &Worked, reading: &Reading) -> Option<String> {
    let asked = &reading.asked;
    if let Some(entry) = flat_edge(draft, asked) {
        return Some(format!(
            "the sheet has no folded edge there; with one more changes than its height: \"{entry}\" in the sheet says that it is there"
        ));
    }
    if asked.predict(draft, &draft.values(), worked).is_some() {
        return None;
    }
    Some(match (asked.quantity.of, &asked.part) {
        (Of::Part(_), Some(part)) => {
            let parts = &worked.design.blueprint().parts;
            let near = nearest(part, parts.iter().map(|part| &*part.label.name));
            let hint = hint(near);
            format!("the sheet has no part \"{}\"{hint}", shortened(part))
        }
        (Of::Input, _) => format!("the sheet has no entry for {}", asked.label()),
        (Of::Under(..), _) => format!(
            "this design does not tell {}: that takes half-cell curves, and at 1 kHz a resistance worked out from the coatings",
            asked.label()
        ),
        _ if !asked.state.as_built() => {
            format!("this design has no {}, or does not say it at that voltage", asked.label())
        }
        _ => "this design has no such quantity".to_owned(),
    })
}

/// The entry of a folded edge that is exactly none in the sheet: stating it changes what stands where, which no fit goes through.
pub(super) fn flat_edge<'a>(draft: &'a Draft, asked: &Asked) -> Option<&'a str> {
    let input = draft.inputs().get(asked.input(draft)?)?;
    let flat = input.uncertain.spread == Spread::Exact && input.uncertain.value == 0.0;
    (flat && input.path.ends_with(".fold_height")).then_some(&*input.path)
}

pub(super) fn unknown_instruments(
    readings: &[Reading],
    own: &[usize],
    instruments: &[Instrument],
    remarks: &mut Vec<String>,
) {
    if instruments.is_empty() {
        return;
    }
    let mut named: Vec<&str> = Vec::new();
    for reading in own.iter().filter_map(|i| readings.get(*i)).filter(|reading| reading.u.is_none()) {
        let Some(name) = reading.instrument.as_deref() else { continue };
        if !named.contains(&name) && !instruments.iter().any(|i| instrument::same(&i.name, name)) {
            named.push(name);
            remarks.push(format!(
                "The instrument \"{}\" is not in the instrument file; an ordinary one stands in for it.",
                shortened(name)
            ));
        }
    }
}

/// Variants: those told apart by the sheet, those only suspected. Rows keep a variant where it is kept apart.
pub(super) fn variants(
    asked: &[Asked],
    rows: &mut [Row],
    suspected: &[Asked],
) -> (Vec<Population>, Vec<Option<String>>) {
    let (mut populations, mut first) = (Vec::new(), vec![None; asked.len()]);
    for (at, (quantity, first)) in asked.iter().zip(&mut first).enumerate() {
        let unit = quantity.quantity.unit;
        let largest =
            rows.iter().filter(|row| row.asked == at).map(|row| row.value.abs()).fold(0.0, f64::max);
        let margin = 3.0 * quantity.quantity.typical.u(largest, unit);
        let labels = |row: &&mut Row| row.asked == at;
        let scatter = Scatter::of(&seen(
            rows,
            (0..rows.len()).filter(|i| rows.get(*i).is_some_and(|row| row.asked == at)),
        ));
        let found = populations::labelled(at, &scatter, margin);
        if found.is_empty() {
            // A label that all of them have says nothing.
            rows.iter_mut().filter(labels).for_each(|row| row.variant = None);
            if suspected.iter().any(|suspected| suspected.alike(quantity)) {
                let found = populations::suspected(at, &scatter, margin);
                if found.verdict == VariantsVerdict::Two {
                    *first = Some(found.groups[0].0.clone());
                    for row in rows.iter_mut().filter(labels) {
                        let group = found.groups.iter().find(|(_, members)| members.contains(&row.specimen));
                        row.variant = group.map(|(name, _)| name.clone());
                    }
                }
                populations.push(found);
            }
            continue;
        }
        let design = found.first().map(|population| population.groups[0].0.clone());
        for one in found.iter().filter(|population| population.verdict == VariantsVerdict::One) {
            let merged = |row: &&mut Row| row.asked == at && row.variant.as_ref() == Some(&one.groups[1].0);
            rows.iter_mut().filter(merged).for_each(|row| row.variant.clone_from(&design));
        }
        *first = design;
        populations.extend(found);
    }
    (populations, first)
}

/// Kinds that nobody asked for, in quantities without a word of variants, among the rows that are not left out. Rows then keep the
/// kind that they are of.
pub(super) fn fallen_apart(
    asked: &[Asked],
    rows: &mut [Row],
    first: &mut [Option<String>],
    apart_already: &[Population],
) -> Vec<Population> {
    let of = |at: usize, rows: &[Row]| {
        let own = (0..rows.len()).filter(|i| rows.get(*i).is_some_and(|row| row.asked == at && !row.aside));
        Scatter::of(&seen(rows, own))
    };
    let plain: Vec<(usize, Scatter, f64)> = (0..asked.len())
        .filter(|at| apart_already.iter().all(|population| population.asked != *at))
        .filter(|at| rows.iter().all(|row| row.asked != *at || row.variant.is_none()))
        .filter_map(|at| {
            let quantity = asked.get(at)?.quantity;
            let scatter = of(at, rows);
            let largest = scatter.members.iter().map(|m| m.value.abs()).fold(0.0, f64::max);
            (scatter.members.len() > 1)
                .then(|| (at, scatter, 3.0 * quantity.typical.u(largest, quantity.unit)))
        })
        .collect();
    let plain: Vec<(usize, &Scatter, f64)> =
        plain.iter().map(|(at, scatter, margin)| (*at, scatter, *margin)).collect();
    let found = populations::unasked(&plain);
    for population in &found {
        if let Some(first) = first.get_mut(population.asked) {
            *first = Some(population.groups[0].0.clone());
        }
        for row in rows.iter_mut().filter(|row| row.asked == population.asked) {
            let group = population.groups.iter().find(|(_, members)| members.contains(&row.specimen));
            row.variant =
                group.map(|(name, _)| name.clone()).or_else(|| Some(population.groups[0].0.clone()));
        }
    }
    found
}

/// Inputs that are read directly, each with the uncertainty of its best reading.
pub(super) fn directly_read(draft: &Draft, asked: &[Asked], rows: &[Row]) -> Vec<(usize, f64)> {
    let read = asked.iter().enumerate().filter_map(|(at, asked)| {
        let own = rows.iter().filter(|row| row.asked == at).map(|row| row.u).fold(f64::INFINITY, f64::min);
        asked.input(draft).map(|input| (input, own))
    });
    read.collect()
}
