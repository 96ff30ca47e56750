//! What all readings of a quantity, or of a specimen, have in common: is it named without being asked for, and how large is it?

use super::draw::{
    Drawn, FIGURES, PLAN, Plan, Read, Throw, drawn, figures, held, percent, reading, series, sheets,
    true_figures,
};
use roulade::cell::draft::Draft;
use roulade::sheet::Sheet;
use roulade::study::bench::{Fate, Scope, VariantsVerdict};
use roulade::study::readings::quantity::find;

/// Every quantity read three times off so many specimens.
fn thrice(specimens: usize) -> Vec<Read> {
    // What is said of a single specimen is said of itself.
    let scatter = |tau: f64| if specimens > 1 { tau } else { 0.0 };
    PLAN.iter().map(|(name, unit, u, tau, ..)| (*name, *unit, *u, scatter(*tau), specimens, 3)).collect()
}

/// How far the mean of a quantity's readings is known beforehand, by all that is not of it and by what is supposed of its instrument.
fn open(sheet: &Sheet, draft: &Draft, plan: &Plan, kind: usize, drawn: &Drawn) -> f64 {
    let (name, unit, u, tau, specimens, repeats) = plan[kind];
    let asked = find(name, None).unwrap();
    let mut rest: Vec<_> = drawn.readings.iter().filter(|reading| reading.asked != asked).cloned().collect();
    let value = drawn.readings.iter().find(|reading| reading.asked == asked).unwrap().value;
    rest.push(reading(&asked, 0, value, value));
    let found = held(sheet, draft, &rest, &[]);
    let Some(Fate::Used(used)) = &found.fates[rest.len() - 1] else { return f64::INFINITY };
    let shared = asked.quantity.typical.shared(value, asked.quantity.unit);
    let own = unit * unit * (tau * tau + u * u / repeats as f64) / specimens as f64;
    (used.predicted_u * used.predicted_u + shared * shared + own).sqrt()
}

/// All readings of one quantity are off, and no instrument is declared: by four standard uncertainties of an ordinary one, which the
/// other readings of these plans hardly ever determine, and by five standard deviations of what they and the sheet expect of it.
#[test]
fn an_offset_of_a_whole_quantity_is_named() {
    let (sheet, draft) = series();
    let mut throw = Throw::seeded(41);
    let count = sheets(20);
    for (plan, determined) in [(thrice(1), false), (thrice(4), false), (thrice(1), true), (thrice(4), true)] {
        let (mut named, mut sized) = (0, 0);
        let mut of_figures = [0_usize; FIGURES.len()];
        for _ in 0..count {
            let mut drawn = drawn(&draft, &mut throw, &plan, false);
            let kind = throw.below(plan.len());
            let asked = find(plan[kind].0, None).unwrap();
            let value = drawn.readings.iter().find(|reading| reading.asked == asked).unwrap().value;
            let size = if determined {
                5.0 * open(&sheet, &draft, &plan, kind, &drawn)
            } else {
                4.0 * asked.quantity.typical.u(value, asked.quantity.unit)
            };
            let off = size * if throw.uniform() < 0.5 { -1.0 } else { 1.0 };
            for reading in drawn.readings.iter_mut().filter(|reading| reading.asked == asked) {
                reading.value += off;
            }
            let found = held(&sheet, &draft, &drawn.readings, &[]);
            let is = found
                .doubts
                .iter()
                .find(|doubt| doubt.scope == Scope::Quantity && drawn.readings[doubt.reading].asked == asked);
            if let Some(doubt) = is {
                named += 1;
                let all: Vec<f64> =
                    drawn.readings.iter().filter(|r| r.asked == asked).map(|r| r.value).collect();
                let size = all.iter().sum::<f64>() / all.len() as f64 - doubt.expected.value;
                sized += usize::from((size - off).abs() < 2.0 * doubt.expected.u());
            }
            let truth = true_figures(&drawn.worked);
            for ((count, (value, u)), truth) in of_figures.iter_mut().zip(figures(&found)).zip(truth) {
                *count += usize::from((value - truth).abs() <= 1.959_964 * u);
            }
        }
        let what = if determined { "that the others determine" } else { "of 4 u" };
        println!(
            "{} specimens, three readings: an offset {what} is named in {named} of {count} sheets, its size right in {sized}",
            plan[0].4
        );
        for (id, held) in FIGURES.iter().zip(of_figures) {
            println!("  {id} within its interval in {:.0} %", percent(held, count));
        }
        assert!(!determined || named * 100 >= count * 80, "{named}");
    }
}

/// One specimen of four is another cell, by four standard deviations of a reading in every quantity; or drawn from the same design
/// sheet, which is often much like the first; or off in one quantity alone, where three others hardly know their own scatter.
#[test]
fn another_cell_is_named() {
    let (sheet, draft) = series();
    let mut throw = Throw::seeded(43);
    let (count, plan) = (sheets(20), thrice(4));
    let (mut named, mut by_draw, mut alone, mut wrongly, mut other) = (0, 0, 0, 0, 0);
    for _ in 0..count {
        let (one, another) =
            (drawn(&draft, &mut throw, &plan, false), drawn(&draft, &mut throw, &plan, false));
        let mut other_draw = one.clone();
        for (reading, from) in other_draw.readings.iter_mut().zip(&another.readings) {
            if reading.specimen == "S2" {
                reading.value = from.value;
            }
        }
        let found = held(&sheet, &draft, &other_draw.readings, &[]);
        let is = |i: usize| other_draw.readings[i].specimen == "S2";
        by_draw +=
            usize::from(found.doubts.iter().any(|doubt| doubt.scope == Scope::Cell && is(doubt.reading)));
        let mut mixed = one.clone();
        for (name, unit, u, tau, ..) in &plan {
            let asked = find(name, None).unwrap();
            let off =
                4.0 * unit * (u * u + tau * tau).sqrt() * if throw.uniform() < 0.5 { -1.0 } else { 1.0 };
            for reading in mixed.readings.iter_mut().filter(|r| r.asked == asked && r.specimen == "S2") {
                reading.value += off;
            }
        }
        let found = held(&sheet, &draft, &mixed.readings, &[]);
        let cell = found.doubts.iter().find(|doubt| doubt.scope == Scope::Cell);
        named += usize::from(cell.is_some_and(|doubt| mixed.readings[doubt.reading].specimen == "S2"));
        wrongly += usize::from(cell.is_some_and(|doubt| mixed.readings[doubt.reading].specimen != "S2"));
        let (mut odd, kind) = (one, throw.below(plan.len()));
        let (name, unit, u, tau, ..) = plan[kind];
        let asked = find(name, None).unwrap();
        for reading in &mut odd.readings {
            if reading.asked == asked && reading.specimen == "S2" {
                reading.value += 4.0 * unit * (u * u + tau * tau).sqrt();
            }
        }
        let found = held(&sheet, &draft, &odd.readings, &[]);
        let is = |i: usize| odd.readings[i].asked == asked && odd.readings[i].specimen == "S2";
        alone += usize::from(found.doubts.iter().any(|doubt| is(doubt.reading)));
        other += usize::from(found.doubts.iter().any(|doubt| doubt.scope == Scope::Cell));
    }
    println!(
        "of {count} sheets one specimen of four is 4 standard deviations off in every quantity, and named as another cell in {named}, a \
         wrong one in {wrongly}; a cell drawn from the same sheet in {by_draw}; a specimen that is off in one quantity alone in {alone}, \
         taken for another cell in {other}"
    );
    assert!(
        named * 100 >= count * 80 && wrongly * 20 <= count && other * 20 <= count,
        "{named} {wrongly} {other}"
    );
}

/// Half of eight specimens are of another kind in one quantity; nobody asks. Eight numbers of one normal distribution, split where
/// that parts them best, lie 5 standard deviations apart in one of twenty throws, and 9 in one of five hundred, which is what the
/// worst of a dozen quantities may be: 4 standard deviations are hardly ever beyond chance, and 14 are.
#[test]
fn two_populations_are_named() {
    let (sheet, draft) = series();
    let mut throw = Throw::seeded(47);
    let (count, plan) = (sheets(20), thrice(8));
    let (mut named, mut sized, mut falsely) = ([0; 3], [0; 3], 0);
    for i in 0..3 * count {
        let mut drawn = drawn(&draft, &mut throw, &plan, false);
        let clean = held(&sheet, &draft, &drawn.readings, &[]);
        falsely += usize::from(!clean.populations.is_empty());
        let (name, unit, u, tau, ..) = plan[throw.below(plan.len())];
        let asked = find(name, None).unwrap();
        let off = [4.0, 8.0, 14.0][i % 3] * unit * (u * u + tau * tau).sqrt();
        for reading in drawn.readings.iter_mut().filter(|reading| reading.asked == asked) {
            if ["S4", "S5", "S6", "S7"].contains(&reading.specimen.as_str()) {
                reading.value += off;
            }
        }
        let found = held(&sheet, &draft, &drawn.readings, &[]);
        let is = found
            .populations
            .iter()
            .find(|p| found.asked[p.asked] == asked && p.verdict == VariantsVerdict::Two);
        named[i % 3] += usize::from(is.is_some());
        sized[i % 3] += usize::from(is.is_some_and(|p| (p.difference.abs() - off).abs() < 2.0 * p.u));
    }
    println!(
        "of {count} sheets each with two kinds of four specimens, 4, 8 and 14 standard deviations of a reading apart, they are named in \
         {named:?}, the difference right in {sized:?}; of {} of one kind {falsely} are called two",
        3 * count
    );
    assert!(named[2] * 100 >= count * 80 && falsely * 100 <= 3 * count * 5 + 900, "{named:?} {falsely}");
}
