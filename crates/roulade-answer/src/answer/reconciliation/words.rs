//! The answer in a sentence, and what to know of it.

use super::systematic::PopulationRow;
use super::tables::{CONTRADICTED, FitRow, OutlierRow, ReadingRow, small};
use crate::answer::sentence::{Sentence, Words, slips};
use roulade::cell::draft::Draft;
use roulade::quantity::notation;
use roulade::quantity::problem::quoted;
use roulade::study::bench::{Reconciled, VariantsVerdict};
use roulade_stats::uncertain::Spread;

pub(super) fn sentence(
    draft: &Draft,
    fit: &FitRow,
    readings: &[ReadingRow],
    (outliers, populations): (&[OutlierRow], &[PopulationRow]),
    verdict: &str,
) -> Sentence {
    let count = |fate: &str| readings.iter().filter(|row| row.fate == fate).count();
    let plural = |n: usize| if n == 1 { "reading".to_owned() } else { "readings".to_owned() };
    let used = count("used");
    let left_out = count("left out");
    let does = match (verdict, used) {
        ("agree", 1) => "agrees with the design sheet",
        ("agree", _) => "agree with one another and with the design sheet",
        ("unfinished", _) => "were held against the design sheet, and the fit did not come to its end",
        (_, 1) => "contradicts the design sheet",
        _ => "contradict one another or the design sheet",
    };
    // What contradicts is said by χ² and by the test for outliers, each of what it tests.
    let counted = match outliers.len() {
        _ if fit.probability.is_some_and(|p| p < CONTRADICTED) => None,
        0 => None,
        1 => Some("1 outlier".to_owned()),
        n => Some(format!("{n} outliers")),
    };
    let does = match (&counted, verdict) {
        (Some(counted), "contradicted") if used == 1 => {
            format!("agrees with the design sheet, but for {counted}")
        }
        (Some(counted), "contradicted") => {
            format!("agree with one another and with the design sheet, but for {counted}")
        }
        _ => does.to_owned(),
    };
    let chance = fit.probability.map_or_else(String::new, |p| format!(", probability {}", small(p)));
    let mut words = Words::default().say(match used {
        0 => format!("No reading of {} is left to hold against the design sheet.", draft.name()),
        _ => format!(
            "{used} {} of {} {does}: χ² {} for {} degrees of freedom{chance}.",
            plural(used),
            draft.name(),
            notation::rounded(fit.chi_square, 0.05 * fit.chi_square.max(0.1)).0,
            fit.degrees
        ),
    });
    if let Some(worst) = outliers.first() {
        let text = worst.text.trim_end_matches('?');
        let end = if text.len() < worst.text.len() { '?' } else { '.' };
        words = words
            .say(format!(" {}: {text}{end}", if outliers.len() == 1 { "Outlier" } else { "Worst outlier" }));
    }
    for kinds in populations.iter().filter(|row| row.verdict == VariantsVerdict::Two) {
        words = words.say(format!(" {}", kinds.text));
    }
    words = match left_out {
        0 => words,
        1 => words.say(" 1 reading was left out of the fit.".to_owned()),
        n => words.say(format!(" {n} readings were left out of the fit.")),
    };
    let aside = [
        ("unfit", "is unfit", "are unfit"),
        ("unreadable", "does not fit the sheet", "do not fit the sheet"),
    ];
    let mut aside: Vec<String> = aside
        .iter()
        .filter_map(|(fate, one, many)| match count(fate) {
            0 => None,
            1 => Some(format!("1 reading {one} and was not used.")),
            n => Some(format!("{n} readings {many} and were not used.")),
        })
        .collect();
    let slips = slips(&[draft]);
    aside.extend((!slips.is_empty()).then_some(slips));
    words.done(Vec::new(), aside.join(" "))
}

/// What follows from how it came about.
pub(super) fn remarked(draft: &Draft, found: &Reconciled, fit: &FitRow) -> Vec<String> {
    let mut remarks = vec![
        "Before the readings, an entry with an uncertainty is normal with it; a range is normal with the standard uncertainty \
         of a rectangle, and keeps its ends as bounds where the sheet gives them; exact entries stay, unless they are read."
            .to_owned(),
    ];
    let freed: Vec<&str> = found
        .moved
        .iter()
        .filter(|moved| moved.freed)
        .filter_map(|moved| Some(draft.inputs().get(moved.input)?.path.as_ref()))
        .collect();
    if !freed.is_empty() {
        remarks.push(format!(
            "Exact in the sheet, but read as well, and so taken to be uncertain by a tenth of their value before the fit: {}.",
            freed.join(", ")
        ));
    }
    if fit.probability.is_some_and(|p| p > 1.0 - CONTRADICTED) {
        remarks.push(
            "The readings agree better than their uncertainties allow: these may be stated too large."
                .to_owned(),
        );
    }
    if found.outliers.iter().any(|outlier| outlier.left_out) {
        remarks.push(
            "Suspect readings were left out of the fit, each of them named. Take them again; write \"checked\" in the column \
             fit of one that stands, and it is used however far it is off."
                .to_owned(),
        );
    }
    if found.outliers.iter().any(|outlier| !outlier.left_out) {
        remarks.push(
            "Where nothing that was read can say which of several readings is wrong, all of them were used."
                .to_owned(),
        );
    }
    let supposed: Vec<&str> = found
        .drifts
        .iter()
        .filter(|drift| drift.supposed.is_some())
        .map(|drift| drift.name.as_str())
        .collect();
    if !supposed.is_empty() {
        remarks.push(format!(
            "What all readings with one instrument have in common is not averaged away. Where no instrument file says how \
             large it is, half of the variance of an ordinary instrument's reading is taken (common practice, no source): {}. \
             An instrument file, or --independent, takes its place.",
            quoted(&supposed)
        ));
    }
    if draft.inputs().iter().any(|input| input.path == "cell_mass") {
        remarks.push(
            "The mass of the whole cell in the design sheet is no part of the design: give it as a reading."
                .to_owned(),
        );
    }
    let exact = |input: &&roulade::cell::draft::Input| matches!(input.uncertain.spread, Spread::Exact);
    let stay = draft.inputs().iter().filter(exact).count() - freed.len();
    if !fit.converged {
        remarks.push(format!("After {} steps {}.", fit.steps, fit.ending));
    }
    remarks.push(format!("{stay} entries stand as exact and stay as they are."));
    remarks
}
