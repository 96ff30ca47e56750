//! Bench sheets drawn from known designs, of a fixed plan: coverage, gross errors, variants, instruments.

use super::draw::{
    Drawn, FIGURES, PLAN, Plan, Read, Throw, drawn, figures, held, percent, reading, series, sheets,
    true_figures,
};
use roulade::study::bench::{Fate, Options, VariantsVerdict, reconcile};
use roulade::study::readings::Reading;
use roulade::study::readings::instrument::{self, Instrument};
use roulade::study::readings::quantity::find;
use roulade_stats::least_squares::Loss;
use roulade_stats::least_squares::distribution::{normal_critical, normal_two_sided};

/// Intervals of 95 % hold the truth in 93 to 97 of a hundred: three standard deviations of a binomial of thousands are less
/// than 2, the rest is what a scatter found from four specimens costs. So it is with errors that an instrument's readings
/// share, as is supposed where nothing is said, and with independent ones that are said to be so; and χ² follows its
/// distribution in both. Where readings are taken to share an error that they do not have, intervals are wide and χ² is small.
#[test]
fn intervals_hold_the_truth() {
    let [entries, figures, low, high] = coverage("shared errors, as supposed", sheets(300), false, false);
    for rate in [entries, figures] {
        assert!((0.93..=0.97).contains(&rate), "{rate}");
    }
    assert!((0.02..=0.09).contains(&low) && (0.02..=0.09).contains(&high), "{low} {high}");
    let [entries, figures, low, high] =
        coverage("independent errors, said to be so", sheets(200), true, true);
    for rate in [entries, figures] {
        assert!((0.93..=0.97).contains(&rate), "{rate}");
    }
    assert!((0.02..=0.09).contains(&low) && (0.02..=0.09).contains(&high), "{low} {high}");
    let [entries, figures, low, _] =
        coverage("independent errors, supposed shared", sheets(100), true, false);
    assert!(entries > 0.94 && figures > 0.93 && low < 0.05, "{entries} {figures} {low}");
}

/// Shares of entries and of figures within their intervals, and of sheets whose χ² is improbably large, and small, by less than
/// a twentieth.
fn coverage(what: &str, sheets: usize, drawn_independent: bool, independent: bool) -> [f64; 4] {
    let (sheet, draft) = series();
    let mut throw = Throw::seeded(1);
    let (mut held_in, mut all, mut named) = (0, 0, 0);
    let mut of_figures = [0_usize; FIGURES.len()];
    let mut probabilities = Vec::new();
    let options = Options { instruments: &[], cell: None, loss: Loss::Normal, independent, suspected: &[] };
    // A few of all quantities, for the time it takes.
    let plan = [0, 1, 2, 5, 9, 10, 12].map(|i| PLAN[i]);
    for _ in 0..sheets {
        let drawn = drawn(&draft, &mut throw, &plan, drawn_independent);
        let found = reconcile(&sheet, &draft, &drawn.readings, &options).unwrap();
        for moved in found.moved.iter().filter(|moved| moved.share() > 0.5) {
            let off = (moved.after.value - drawn.truth[moved.input]).abs();
            held_in += usize::from(off <= 1.959_964 * moved.after.u());
            all += 1;
        }
        let truth = true_figures(&drawn.worked);
        for ((count, (value, u)), truth) in of_figures.iter_mut().zip(figures(&found)).zip(truth) {
            *count += usize::from((value - truth).abs() <= 1.959_964 * u);
        }
        probabilities.push(found.agreement.probability.unwrap());
        named += usize::from(!found.outliers.is_empty());
    }
    println!(
        "{what}: 95 % intervals of {all} entries of {sheets} sheets hold the truth in {:.1} %; of figures:",
        percent(held_in, all)
    );
    for (id, count) in FIGURES.iter().zip(of_figures) {
        println!("  {id} {:.1} %", percent(count, sheets));
    }
    probabilities.sort_by(f64::total_cmp);
    let share = |from: f64, to: f64| probabilities.iter().filter(|p| (from..to).contains(*p)).count();
    let deciles: Vec<usize> =
        (0..10).map(|k| share(0.1 * f64::from(k), 0.1 * f64::from(k + 1) + 1e-9)).collect();
    let (low, high) = (share(0.0, 0.05), share(0.95, 2.0));
    // Kolmogorov's largest distance; 1.36/√n is exceeded once in twenty.
    let distance =
        probabilities.iter().enumerate().map(|(i, p)| ((i as f64 + 0.5) / sheets as f64 - p).abs());
    println!(
        "  χ²: probability below 5 % in {low}, above 95 % in {high} of {sheets}; tenths {deciles:?}; furthest from even {:.3} \
         ({:.3} by chance); a reading named in {named}",
        distance.fold(0.0, f64::max),
        1.36 / (sheets as f64).sqrt()
    );
    assert!(named < sheets * 12 / 100, "{named}");
    let of_all = of_figures.iter().sum::<usize>();
    [
        percent(held_in, all),
        percent(of_all, sheets * FIGURES.len()),
        percent(low, sheets),
        percent(high, sheets),
    ]
    .map(|x| x / 100.0)
}

/// One specimen, each quantity read three times.
fn one_specimen() -> Vec<Read> {
    PLAN.iter().map(|(name, unit, u, ..)| (*name, *unit, *u, 0.0, 1, 3)).collect()
}

/// Four specimens, each quantity read three times off each.
fn repeated() -> Vec<Read> {
    PLAN.iter().map(|(name, unit, u, tau, ..)| (*name, *unit, *u, *tau, 4, 3)).collect()
}

/// Four specimens that are alike, each quantity read once off each.
fn alike() -> Vec<Read> {
    PLAN.iter().map(|(name, unit, u, ..)| (*name, *unit, *u, 0.0, 4, 1)).collect()
}

/// What is said of drawn bench sheets, in how many of them.
#[derive(Debug, Default)]
struct Said {
    /// A reading is named in a sheet without fault.
    falsely: usize,
    /// A gross error of six standard deviations of its reading is named first.
    first: usize,
    /// It is named.
    any: usize,
    /// It is ranked first, whether that is beyond chance or not.
    ranked: usize,
    /// It is named, or among the three furthest of the rest.
    ordered: usize,
    /// Somebody who knows the cell, the shared errors and every scatter, but not which reading is wrong, names it first.
    knowing: usize,
    /// Somebody who holds a specimen against the others of its quantity and knows of their scatter only which scatters there are among
    /// the quantities of the plan, as parts of the value, names it first.
    holding: usize,
}

/// The risk of naming a single reading of a faultless sheet: half of that of naming anything.
const RISK_OF_READINGS: f64 = 0.025;

/// What the largest of so many normal numbers may be.
fn limit(tests: usize) -> f64 {
    normal_critical(1.0 - (1.0 - RISK_OF_READINGS).powf(1.0 / tests as f64))
}

/// Whether the wrong reading is the furthest from the truth, and beyond chance.
fn by_knowing(drawn: &Drawn, wild: usize) -> bool {
    let z = |i: usize| ((drawn.readings[i].value - drawn.centre[i]) / drawn.about[i]).abs();
    z(wild) > limit(drawn.readings.len()) && (0..drawn.readings.len()).all(|i| i == wild || z(i) < z(wild))
}

/// Whether it is the furthest from the other specimens of its quantity, and beyond chance, by the scatters that there are.
fn by_holding(drawn: &Drawn, plan: &Plan, wild: usize) -> bool {
    let mean_of = |own: &[f64]| own.iter().sum::<f64>() / own.len() as f64;
    let groups: Vec<(&Read, Vec<usize>)> = plan
        .iter()
        .map(|read| {
            let asked = find(read.0, None).unwrap();
            (read, (0..drawn.readings.len()).filter(|i| drawn.readings[*i].asked == asked).collect())
        })
        .collect();
    let value = |own: &[usize]| mean_of(&own.iter().map(|i| drawn.readings[*i].value).collect::<Vec<_>>());
    let parts: Vec<f64> = groups.iter().map(|(read, own)| read.3 * read.1 / value(own)).collect();
    let mut all: Vec<(f64, usize)> = Vec::new();
    for (read, own) in &groups {
        for i in own {
            let rest: Vec<f64> = own.iter().filter(|j| *j != i).map(|j| drawn.readings[*j].value).collect();
            let (mean, n) = (mean_of(&rest), rest.len() as f64);
            let squares: f64 = rest.iter().map(|x| (x - mean) * (x - mean)).sum();
            let (mut weights, mut beyond) = (0.0, 0.0);
            for part in &parts {
                let u = read.2 * read.1;
                let variance = u * u + (part * mean) * (part * mean);
                let weight = (-0.5 * squares / variance).exp() * (variance / (u * u)).powf(-0.5 * (n - 1.0));
                let z = (drawn.readings[*i].value - mean) / (variance * (1.0 + 1.0 / n)).sqrt();
                weights += weight;
                beyond += weight * normal_two_sided(z);
            }
            all.push((beyond / weights, *i));
        }
    }
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    all[0].1 == wild && all[0].0 < 1.0 - (1.0 - RISK_OF_READINGS).powf(1.0 / all.len() as f64)
}

fn said(plan: &Plan, sheets: usize, seed: u64) -> Said {
    let (sheet, draft) = series();
    let mut throw = Throw::seeded(seed);
    let mut said = Said::default();
    for _ in 0..sheets {
        let mut drawn = drawn(&draft, &mut throw, plan, false);
        said.falsely += usize::from(!held(&sheet, &draft, &drawn.readings, &[]).outliers.is_empty());
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place in a short list")]
        let wild = (throw.uniform() * drawn.readings.len() as f64) as usize;
        let side = if throw.uniform() < 0.5 { -6.0 } else { 6.0 };
        drawn.readings[wild].value += side * drawn.about[wild];
        said.knowing += usize::from(by_knowing(&drawn, wild));
        said.holding += usize::from(by_holding(&drawn, plan, wild));
        let found = held(&sheet, &draft, &drawn.readings, &[]);
        let named: Vec<usize> = found.outliers.iter().map(|outlier| outlier.reading).collect();
        let order: Vec<usize> =
            named.iter().copied().chain(found.furthest.iter().map(|far| far.reading)).collect();
        said.first += usize::from(named.first() == Some(&wild));
        said.any += usize::from(named.contains(&wild));
        said.ranked += usize::from(order.first() == Some(&wild));
        said.ordered += usize::from(order.contains(&wild));
    }
    said
}

/// In the ordinary plans of a bench such an error is the first to be named in nine of ten sheets: on one specimen that is
/// read three times, and on four specimens that are each read three times, where a reading is held against the repeats of its
/// own specimen. Of four specimens that are each read once nothing but the others' scatter is there to hold it against, and
/// three know that badly: with what the sheet's other quantities lend it is ranked first in most sheets, and beyond chance in
/// some. A reading is named in one of twenty sheets without fault, or fewer.
#[test]
fn a_gross_error_is_named_first() {
    gross("one specimen, three readings", &one_specimen(), sheets(80), 2, [90, 95]);
    gross("four specimens, three readings", &repeated(), sheets(60), 4, [90, 95]);
}

/// Held against three others that hardly know their own scatter: 36 and 41 % of 300 sheets are named, where one who holds specimens
/// against one another and knows which scatters there are names 95 and 33 %.
#[test]
fn a_gross_error_among_four_readings_is_ranked_first() {
    gross("four specimens alike, one reading", &alike(), sheets(120), 5, [34, 90]);
    gross("four specimens, one reading", PLAN, sheets(150), 3, [33, 65]);
}

fn gross(what: &str, plan: &Plan, sheets: usize, seed: u64, [first, ranked]: [usize; 2]) {
    let said = said(plan, sheets, seed);
    println!(
        "{what}: of {sheets} sheets with a reading 6 standard deviations off it is named first in {}, at all in {}, ranked first in \
         {}, told in {}; {} without fault have a reading named; knowing all but which it is, one names it first in {}; holding \
         specimens against one another, and knowing which scatters there are, in {}",
        said.first, said.any, said.ranked, said.ordered, said.falsely, said.knowing, said.holding
    );
    assert!(said.first >= sheets * first / 100, "{what}: {said:?}");
    assert!(said.ranked >= sheets * ranked / 100, "{what}: {said:?}");
    // A twentieth, and three standard deviations of a binomial.
    let most = 0.05 * sheets as f64;
    assert!(said.falsely as f64 <= most + 3.0 * most.sqrt(), "{what}: {said:?}");
}

/// Half of eight specimens have a lid that is heavier by eight times the scatter: told apart, and only suspected.
#[test]
fn a_second_population_is_found() {
    let (sheet, draft) = series();
    let mut throw = Throw::seeded(3);
    let plan = [PLAN[0], PLAN[5], ("mass of cap assembly", 1e-3, 0.01, 0.03, 8, 1)];
    let lid = find("mass of cap assembly", None).unwrap();
    let (mut found_two, mut split, mut apart, mut right, mut calm, sheets) = (0, 0, 0, 0, 0, sheets(100));
    for _ in 0..sheets {
        let mut drawn = drawn(&draft, &mut throw, &plan, false);
        calm += usize::from(
            held(&sheet, &draft, &drawn.readings, std::slice::from_ref(&lid)).populations[0].verdict
                != VariantsVerdict::Two,
        );
        for reading in drawn.readings.iter_mut().filter(|reading| reading.asked == lid) {
            let heavy = ["S5", "S6", "S7"].contains(&reading.specimen.as_str());
            reading.value += if heavy { 8.0 * 0.03e-3 } else { 0.0 };
        }
        let found = held(&sheet, &draft, &drawn.readings, std::slice::from_ref(&lid));
        split += usize::from(found.populations[0].verdict == VariantsVerdict::Two);
        apart += usize::from(found.populations[0].groups[1].1.len() == 3);
        for reading in drawn.readings.iter_mut().filter(|reading| reading.asked == lid) {
            let heavy = ["S5", "S6", "S7"].contains(&reading.specimen.as_str());
            reading.population = Some(if heavy { "new" } else { "old" }.to_owned());
        }
        let found = held(&sheet, &draft, &drawn.readings, &[]);
        let population = &found.populations[0];
        found_two +=
            usize::from(population.verdict == VariantsVerdict::Two && population.groups[0].0 == "old");
        right += usize::from((population.difference - 8.0 * 0.03e-3).abs() < 1.96 * population.u);
    }
    println!(
        "of {sheets} second populations {found_two} are found where told apart, {split} where suspected ({apart} split right)"
    );
    println!("  the difference is right in {right}; one kind is not called two in {calm}");
    assert!(found_two >= sheets * 97 / 100 && split >= sheets * 90 / 100 && apart >= sheets * 85 / 100);
    assert!(right >= sheets * 90 / 100 && calm >= sheets * 90 / 100, "{right} {calm}");
}

/// An error that an instrument's readings share is not averaged away by reading more often.
#[test]
fn a_calibration_is_not_averaged_away() {
    let (sheet, draft) = series();
    let asked = find("cathode width", None).unwrap();
    let (instruments, problems) =
        instrument::read("instrument,repeatability,calibration\ncaliper,10 µm,50 µm\n");
    assert!(problems.0.is_empty());
    let of = |count: usize| {
        let mut readings: Vec<Reading> =
            (0..count).map(|i| reading(&asked, 0, 0.0779 + 1e-6 * (i % 3) as f64, 1.0)).collect();
        for reading in &mut readings {
            (reading.u, reading.instrument) = (None, Some("caliper".to_owned()));
        }
        let instruments: &[Instrument] = &instruments;
        let options =
            Options { instruments, cell: None, loss: Loss::Normal, independent: false, suspected: &[] };
        let found = reconcile(&sheet, &draft, &readings, &options).unwrap();
        let width = draft.inputs().iter().position(|input| input.path == "cathode.width").unwrap();
        found.moved.iter().find(|moved| moved.input == width).unwrap().after.u()
    };
    // Prior 0.1 mm: with n readings 1/(1/0.1² + 1/(0.05² + 0.01²/n)).
    let expected = |n: f64| (1.0 / (1e2 + 1.0 / (0.05f64.powi(2) + 0.01f64.powi(2) / n))).sqrt() * 1e-3;
    for n in [1, 2, 40] {
        let u = of(n);
        println!("{n} readings of ± 10 µm with a calibration of ± 50 µm: ± {:.2} µm", 1e6 * u);
        assert!((u / expected(n as f64) - 1.0).abs() < 1e-6, "{u} {}", expected(n as f64));
    }
}

#[test]
fn what_no_reading_speaks_of_is_undetermined() {
    let (sheet, draft) = series();
    let asked = find("cathode loading", None).unwrap();
    let found = held(&sheet, &draft, &[reading(&asked, 0, 0.2255, 1e-3)], &[]);
    let determined: Vec<&str> = found
        .moved
        .iter()
        .filter(|moved| moved.shows())
        .map(|moved| draft.inputs()[moved.input].path.as_ref())
        .collect();
    assert_eq!(determined, ["cathode.loading"]);
    assert!(found.moved.len() > 30 && found.moved.iter().filter(|moved| moved.share() > 0.0).count() <= 1);
    assert!(matches!(found.fates[0], Some(Fate::Used(_))));
}
