//! First order against trials on reconciled sheets of several designs, of one, two and five specimens; and how often the
//! intervals of either hold the truth.

use super::draw::{FIGURES, Throw, bench, figures, held, percent, readable, sheets, true_figures};
use super::posterior::trials;
use roulade::cell::draft::Draft;
use roulade::cell::figures::Worked;
use roulade::sheet::Sheet;

const DESIGNS: [(&str, &str); 2] = [
    ("first design", include_str!("../../demo/marram-a.json")),
    ("second design", include_str!("../../demo/marram-b.json")),
];
/// Specimens, quantities, readings of each.
const BENCHES: [[usize; 3]; 3] = [[1, 27, 1], [2, 20, 1], [5, 14, 1]];
/// What first order may miss a mean or a standard deviation by, in standard uncertainties: as an uncertainty of one digit is
/// written.
const ALIKE: f64 = 0.1;
const TRIALS: u32 = 2000;

/// Sheets of both designs and all benches.
#[derive(Default)]
struct Tally {
    sheets: usize,
    off: [Vec<f64>; FIGURES.len()],
    wide: [Vec<f64>; FIGURES.len()],
    /// Figures whose mean and standard deviation are alike, but for twice the error of so many trials.
    alike: usize,
    first_in: [usize; FIGURES.len()],
    drawn_in: [usize; FIGURES.len()],
}

fn middle(all: &[f64]) -> (f64, f64) {
    let n = all.len() as f64;
    let mean = all.iter().sum::<f64>() / n;
    let squares: f64 = all.iter().map(|x| (x - mean) * (x - mean)).sum();
    (mean, (squares / (n - 1.0) / n).sqrt())
}

fn tallied(each: usize) -> Tally {
    let mut tally = Tally::default();
    for (number, (name, text)) in DESIGNS.into_iter().enumerate() {
        let sheet = Sheet::parse(text).unwrap();
        let draft = Draft::read(&sheet).unwrap();
        let readable = readable(&draft);
        let mut throw = Throw::seeded(71 + number as u64);
        for shape in BENCHES {
            let (mut alike, mut worst) = (0, 0.0_f64);
            for _ in 0..each {
                let (truth, readings) = bench(&draft, &readable, &mut throw, shape);
                let truth = true_figures(&Worked::at(&draft, &truth).unwrap());
                let found = held(&sheet, &draft, &readings, &[]);
                let drawn = trials(&found, TRIALS);
                for (i, (value, u)) in figures(&found).into_iter().enumerate() {
                    let of = &drawn.outputs[i];
                    let (off, wide) = ((of.mean - value) / u, of.u / u);
                    let same = off.abs() < ALIKE + 2.0 * of.mean_error / u
                        && (wide - 1.0).abs() < ALIKE + 2.0 * of.u_error / u;
                    alike += usize::from(same);
                    worst = worst.max(wide.max(wide.recip()));
                    tally.off[i].push(off);
                    tally.wide[i].push(wide);
                    tally.first_in[i] += usize::from((value - truth[i]).abs() <= 1.96 * u);
                    tally.drawn_in[i] +=
                        usize::from((of.interval.low..=of.interval.high).contains(&truth[i]));
                }
            }
            let [specimens, quantities, _] = shape;
            println!(
                "{name}, {specimens} specimens, {quantities} quantities: alike in {:.1} % of the figures of {each} sheets, at worst {worst:.2} \
                 times as wide or narrow",
                percent(alike, each * FIGURES.len())
            );
            tally.alike += alike;
            tally.sheets += each;
        }
    }
    tally
}

/// Slopes over a whole uncertainty of inputs that move together made first order up to 10 % too wide or too narrow by turns; trials
/// that kept to the widest diameter of the jelly roll, which goes up and down with every turn, were up to twice as wide.
#[test]
fn first_order_is_as_wide_as_trials() {
    let tally = tallied(sheets(4));
    let share = percent(tally.alike, tally.sheets * FIGURES.len());
    println!("first order and trials are alike in {share:.1} % of all");
    let n = tally.sheets as f64;
    for (i, id) in FIGURES.iter().enumerate() {
        let ((off, off_error), (wide, wide_error)) = (middle(&tally.off[i]), middle(&tally.wide[i]));
        let rate = |count: usize| {
            let p = count as f64 / n;
            format!("{:.1} ± {:.1} %", 100.0 * p, 100.0 * (p * (1.0 - p) / n).sqrt())
        };
        println!(
            "  {id}: mean of trials off by {off:.3} ± {off_error:.3} u, {wide:.3} ± {wide_error:.3} times as wide; the truth is in the \
             interval of first order in {}, of trials in {}",
            rate(tally.first_in[i]),
            rate(tally.drawn_in[i])
        );
        assert!(off.abs() < 0.5 * ALIKE && (wide - 1.0).abs() < 0.5 * ALIKE, "{id}: {off} {wide}");
        // Three standard errors of a rate of 95 %.
        let least = 0.95 - 3.0 * (0.95 * 0.05 / n).sqrt();
        assert!(tally.drawn_in[i] as f64 >= least * n, "{id}: {}", tally.drawn_in[i]);
    }
    assert!(share >= 95.0, "{share}");
}
