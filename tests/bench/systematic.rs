//! What all readings of a quantity, or of a specimen, have in common: is it named without being asked for, and how large is it?

use super::draw::{
    FIGURES, PLAN, Read, Throw, bench, drawn, figures, held, percent, readable, series, sheets, true_figures,
};
use roulade::cell::draft::Draft;
use roulade::cell::figures::Worked;
use roulade::sheet::Sheet;
use roulade::study::bench::{Fate, Reconciled, Scope, SuspectReading};
use roulade::study::readings::Reading;
use roulade::study::readings::quantity::{Asked, SHARED, find};
use roulade_stats::least_squares::distribution::normal_critical;
use roulade_stats::propagation::deviate::normal_probability;

/// Every quantity read three times off so many specimens.
pub(crate) fn thrice(specimens: usize) -> Vec<Read> {
    // What is said of a single specimen is said of itself.
    let scatter = |tau: f64| if specimens > 1 { tau } else { 0.0 };
    PLAN.iter().map(|(name, unit, u, tau, ..)| (*name, *unit, *u, scatter(*tau), specimens, 3)).collect()
}

/// How well the other readings and the sheet determine an offset of all readings of a quantity of which nothing is known beforehand, in
/// standard uncertainties of one ordinary reading: by a fit of the sheet without fault. Where all readings of a quantity count c of
/// its prediction, whose variance is p, all others know it to p/(1 − c).
fn open(found: &Reconciled, readings: &[Reading], asked: &Asked) -> f64 {
    let (mut counted, mut variance, mut own, mut specimens) = (0.0, 0.0, 0.0, Vec::new());
    for (reading, fate) in readings.iter().zip(&found.fates).filter(|(reading, _)| reading.asked == *asked) {
        let Some(Fate::Used(used)) = fate else { return f64::INFINITY };
        counted += used.counted;
        variance = used.predicted_u * used.predicted_u;
        let shared = asked.quantity.typical.shared(reading.value, asked.quantity.unit);
        own = (used.u * used.u - shared * shared).max(0.0);
        if !specimens.contains(&&reading.specimen) {
            specimens.push(&reading.specimen);
        }
    }
    let count = readings.iter().filter(|reading| reading.asked == *asked).count() as f64;
    let at = found.asked.iter().position(|own| own == asked);
    let scatter = at.and_then(|at| found.scatter[at].between).unwrap_or(0.0);
    let mean = own / count + scatter * scatter / specimens.len().max(1) as f64;
    let value = readings.iter().find(|reading| reading.asked == *asked).map_or(0.0, |reading| reading.value);
    let ordinary = asked.quantity.typical.u(value, asked.quantity.unit);
    ((variance / (1.0 - counted).max(1e-9) + mean) / (ordinary * ordinary)).sqrt()
}

/// The other readings determine an offset where somebody who knows which quantity may be off, and every uncertainty, but who takes
/// no more risk than the test of all of them does, would name it in so many of a hundred sheets.
const DETERMINED: f64 = 0.8;
/// The risk of naming an offset in a sheet without one: half of it all, or a third of that half where other cells and two kinds
/// can be asked for.
const RISK_OF_OFFSETS: [f64; 2] = [0.025, 0.05 / 6.0];

/// A part of an offset by which nothing is named.
const SLIGHTLY: f64 = 0.02;
/// A standard normal number is beyond this, either way, in one of twenty.
const NORMAL: f64 = 1.959_964;

/// What became of sheets with one offset.
#[derive(Default)]
struct Offsets {
    sheets: usize,
    named: usize,
    /// It is named, or as one that may be off in the place of the one that is named.
    among: usize,
    sized: usize,
    /// Chance that a test of every quantity against all others, which knows its uncertainties, names it.
    power: f64,
    figures: [usize; FIGURES.len()],
    /// Share of figures that lie within intervals of 95 % which know the offset where such a test names it, and nothing of it otherwise.
    ceiling: f64,
    /// Sheets, and figures within their intervals, where it alone is named, it and others, others alone, none.
    by: [[usize; 2]; 4],
}

impl Offsets {
    fn add(
        &mut self,
        (sheet, draft): (&Sheet, &Draft),
        (readings, clean): (&[Reading], &Reconciled),
        asked: &Asked,
        (off, power): (f64, f64),
        truth: &[f64; FIGURES.len()],
    ) {
        let offset = |off: f64| {
            let mut readings = readings.to_vec();
            for reading in readings.iter_mut().filter(|reading| reading.asked == *asked) {
                reading.value += off;
            }
            readings
        };
        self.power += power;
        // How far a figure goes with the offset, from a part of it that nobody sees.
        let slightly = figures(&held(sheet, draft, &offset(SLIGHTLY * off), &[]));
        for ((value, u), (moved, _)) in figures(clean).iter().zip(slightly) {
            let by = (moved - value) / (SLIGHTLY * u);
            let unseen = normal_probability(by + NORMAL) - normal_probability(by - NORMAL);
            self.ceiling += (power * 0.95 + (1.0 - power) * unseen) / FIGURES.len() as f64;
        }
        let readings = offset(off);
        let found = held(sheet, draft, &readings, &[]);
        let of_it = |reading: &usize| readings[*reading].asked == *asked;
        let whole = |outlier: &&SuspectReading| outlier.scope == Scope::Quantity;
        let is = found.outliers.iter().filter(whole).find(|outlier| of_it(&outlier.reading));
        self.sheets += 1;
        self.named += usize::from(is.is_some());
        self.among += usize::from(
            found
                .outliers
                .iter()
                .filter(whole)
                .any(|outlier| of_it(&outlier.reading) || outlier.or.iter().any(of_it)),
        );
        if is.is_none() && std::env::var_os("TELL").is_some() {
            println!("    not named: {} off by {off:.3e}", asked.label());
            for outlier in &found.outliers {
                println!(
                    "      {:?} {} z {:.1} p {:.1e} of {:.1e}",
                    outlier.scope,
                    readings[outlier.reading].asked.label(),
                    outlier.z,
                    outlier.probability,
                    outlier.limit
                );
            }
            for far in &found.furthest {
                println!(
                    "      furthest {} z {:.1} p {:.1e} chance {:.2}",
                    readings[far.reading].asked.label(),
                    far.z,
                    far.probability,
                    far.chance
                );
            }
        }
        if let Some(outlier) = is {
            let all: Vec<f64> = readings.iter().filter(|r| r.asked == *asked).map(|r| r.value).collect();
            let size = all.iter().sum::<f64>() / all.len() as f64 - outlier.expected.value;
            self.sized += usize::from((size - off).abs() < 2.0 * outlier.expected.u());
        }
        let way = match (is.is_some(), found.outliers.len()) {
            (true, 1) => 0,
            (true, _) => 1,
            (false, 1..) => 2,
            (false, 0) => 3,
        };
        self.by[way][0] += 1;
        for ((count, (value, u)), truth) in self.figures.iter_mut().zip(figures(&found)).zip(truth) {
            let held = usize::from((value - truth).abs() <= 1.959_964 * u);
            *count += held;
            self.by[way][1] += held;
        }
    }

    fn join(&mut self, other: &Self) {
        self.sheets += other.sheets;
        self.named += other.named;
        self.among += other.among;
        self.sized += other.sized;
        self.power += other.power;
        self.ceiling += other.ceiling;
        for (all, more) in self.figures.iter_mut().zip(other.figures) {
            *all += more;
        }
        for (all, more) in self.by.iter_mut().zip(other.by) {
            *all = [all[0] + more[0], all[1] + more[1]];
        }
    }

    fn say(&self, what: &str) {
        let all = FIGURES.len() * self.sheets;
        println!(
            "  {what}: {} sheets, named in {:.1} %, as one of several in {:.1} %, its size right in {} of {}; an ideal test {:.1} %; figures \
             within their intervals in {:.1} %, of such a test in {:.1} %:",
            self.sheets,
            percent(self.named, self.sheets),
            percent(self.among, self.sheets),
            self.sized,
            self.named,
            100.0 * self.power / self.sheets.max(1) as f64,
            percent(self.figures.iter().sum(), all),
            100.0 * self.ceiling / self.sheets.max(1) as f64
        );
        let each = FIGURES
            .iter()
            .zip(self.figures)
            .map(|(id, held)| format!("{id} {:.1}", percent(held, self.sheets)));
        println!("    {}", each.collect::<Vec<_>>().join(", "));
        let ways = ["it alone is named", "it and others", "others alone", "none"].iter().zip(self.by);
        let ways = ways.map(|(way, [sheets, held])| {
            format!("{way} in {sheets} ({:.1} %)", percent(held, FIGURES.len() * sheets))
        });
        println!("    by what is named: {}", ways.collect::<Vec<_>>().join(", "));
    }
}

/// All readings of one quantity are off by four standard uncertainties of an ordinary reading, and no instrument is declared. What
/// nothing else speaks of nobody can find, and figures that rest on it are off: with intervals that hold 95 % without fault, and one
/// of 13 quantities off that no other speaks of, 95 % of 12/13 is the most. Where the others determine it, it is named.
#[test]
fn an_offset_of_a_whole_quantity_is_named() {
    let (sheet, draft) = series();
    let readable = readable(&draft);
    let mut throw = Throw::seeded(41);
    let count = sheets(12);
    let (mut all, mut determined) = (Offsets::default(), Offsets::default());
    for (what, specimens, planned) in [
        ("the plan off one specimen", 1, true),
        ("the plan off four specimens", 4, true),
        ("27 quantities off one specimen", 1, false),
        ("27 quantities off four specimens", 4, false),
    ] {
        let (mut any, mut by_others) = (Offsets::default(), Offsets::default());
        let (mut clean, mut falsely) = ([0; FIGURES.len()], 0);
        for _ in 0..count {
            let (worked, readings) = if planned {
                let drawn = drawn(&draft, &mut throw, &thrice(specimens), false);
                (drawn.worked, drawn.readings)
            } else {
                let (truth, readings) = bench(&draft, &readable, &mut throw, [specimens, 27, 3]);
                (Worked::at(&draft, &truth).unwrap(), readings)
            };
            let truth = true_figures(&worked);
            let found = held(&sheet, &draft, &readings, &[]);
            falsely += usize::from(!found.outliers.is_empty());
            for ((count, (value, u)), truth) in clean.iter_mut().zip(figures(&found)).zip(truth) {
                *count += usize::from((value - truth).abs() <= 1.959_964 * u);
            }
            // What is counted has no error that its readings share, and no offset.
            let mut kinds: Vec<&Asked> =
                found.asked.iter().filter(|asked| asked.quantity.typical.instrument != "counted").collect();
            let off = |asked: &Asked, throw: &mut Throw| {
                let value = readings.iter().find(|reading| reading.asked == *asked).unwrap().value;
                let side = if throw.uniform() < 0.5 { -4.0 } else { 4.0 };
                side * asked.quantity.typical.u(value, asked.quantity.unit)
            };
            let risk = RISK_OF_OFFSETS[usize::from(specimens > 1)];
            let limit = normal_critical(risk / kinds.len() as f64);
            let power = |asked: &Asked| {
                let open = open(&found, &readings, asked);
                let z = 4.0 / (open * open + SHARED).sqrt();
                1.0 - normal_probability(limit - z) + normal_probability(-limit - z)
            };
            let kind = kinds[throw.below(kinds.len())];
            let by = (off(kind, &mut throw), power(kind));
            any.add((&sheet, &draft), (&readings, &found), kind, by, &truth);
            kinds.retain(|asked| power(asked) >= DETERMINED);
            if !kinds.is_empty() {
                let kind = kinds[throw.below(kinds.len())];
                let by = (off(kind, &mut throw), power(kind));
                by_others.add((&sheet, &draft), (&readings, &found), kind, by, &truth);
            }
        }
        let held = clean.iter().zip(FIGURES).map(|(held, id)| format!("{id} {:.1}", percent(*held, count)));
        println!(
            "{what}, three readings: without fault a reading is named in {falsely} of {count}, figures within their intervals in {:.1} %:\n    {}",
            percent(clean.iter().sum(), count * FIGURES.len()),
            held.collect::<Vec<_>>().join(", ")
        );
        any.say("an offset of 4 u of any quantity");
        by_others.say("an offset of 4 u that the others determine");
        all.join(&any);
        determined.join(&by_others);
    }
    all.say("all: any quantity");
    determined.say("all: that the others determine");
    let share = |held: usize, all: usize| held as f64 / all.max(1) as f64;
    let least = |rate: f64, all: usize| rate - 3.0 * (rate * (1.0 - rate) / all as f64).sqrt();
    assert!(determined.sheets > count / 2);
    assert!(
        share(determined.among, determined.sheets) >= least(0.8, determined.sheets),
        "{}",
        determined.among
    );
    // Figures of one sheet are hardly independent of one another. What nobody can see no interval holds that is not too wide for
    // sheets without fault; within a fiftieth of the rest is all.
    let within = share(all.figures.iter().sum(), FIGURES.len() * all.sheets);
    let most = all.ceiling / all.sheets as f64;
    assert!(within >= least(f64::min(0.9, 0.98 * most), all.sheets), "{within} {most}");
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
        by_draw += usize::from(
            found.outliers.iter().any(|outlier| outlier.scope == Scope::Cell && is(outlier.reading)),
        );
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
        let cell = found.outliers.iter().find(|outlier| outlier.scope == Scope::Cell);
        named += usize::from(cell.is_some_and(|outlier| mixed.readings[outlier.reading].specimen == "S2"));
        wrongly += usize::from(cell.is_some_and(|outlier| mixed.readings[outlier.reading].specimen != "S2"));
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
        alone += usize::from(found.outliers.iter().any(|outlier| is(outlier.reading)));
        other += usize::from(found.outliers.iter().any(|outlier| outlier.scope == Scope::Cell));
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
