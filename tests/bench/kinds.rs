//! Specimens of two kinds, of which nobody was told: are they named, with their difference?

use super::draw::{Plan, Throw, drawn, held, series, sheets};
use super::systematic::thrice;
use roulade::study::bench::VariantsVerdict;
use roulade::study::readings::quantity::find;

/// How many specimens there are; half of them are of the other kind.
const SPECIMENS: usize = 8;
/// How far the kinds are apart, in standard deviations of one reading.
const APART: [f64; 3] = [4.0, 8.0, 14.0];
/// Risk of calling specimens two kinds in a sheet without such, over all its quantities: a third of half of a twentieth.
const RISK: f64 = 0.05 / 6.0;
/// How many times a quantity scatters that is unlike the others.
const WIDE: f64 = 5.0;
/// Throws of the ideal observer's ratio; a few of a thousand quantities are beyond what the risk leaves.
const THROWS: usize = 20_000;

/// What an ideal observer would find who knows which scatters there are among the plan's quantities, as parts of the value, not
/// which is this one's; how far the kinds are apart if there are two; and takes the same risk: by the likelihood of two kinds
/// over that of one (J. Neyman, E. S. Pearson, Philos. Trans. R. Soc. A 231 (1933) 289, doi:10.1098/rsta.1933.0009).
struct Ideal {
    /// Of each scatter: 1/2σ², σ^(1−n) and how far the kinds would be apart.
    scatters: Vec<(f64, f64, f64)>,
    limit: f64,
}

impl Ideal {
    /// Of a quantity with a reading's uncertainty and scatters, read three times off each specimen.
    fn of(u: f64, scatters: &[f64], apart: f64, quantities: usize, throw: &mut Throw) -> Self {
        let of = |tau: &f64| {
            let square = u * u / 3.0 + tau * tau;
            let power = (square / (u * u)).powf(-0.5 * (SPECIMENS - 1) as f64);
            (0.5 / square, power, apart * (u * u + tau * tau).sqrt())
        };
        let mut ideal = Self { scatters: scatters.iter().map(of).collect(), limit: 0.0 };
        let mut thrown: Vec<f64> = (0..THROWS)
            .map(|i| {
                let spread = (0.5 / ideal.scatters[i % scatters.len()].0).sqrt();
                ideal.ratio((0..SPECIMENS).map(|_| spread * throw.normal()).collect())
            })
            .collect();
        thrown.sort_by(f64::total_cmp);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place in the list")]
        let at = (THROWS as f64 * (1.0 - RISK / quantities as f64)) as usize;
        ideal.limit = thrown[at];
        ideal
    }

    fn ratio(&self, mut values: Vec<f64>) -> f64 {
        values.sort_by(f64::total_cmp);
        let squares = |from: usize, by: f64| {
            let moved = |(i, x): (usize, &f64)| if i < from { *x } else { x - by };
            let all = || values.iter().enumerate().map(moved);
            let mean = all().sum::<f64>() / values.len() as f64;
            all().map(|x| (x - mean) * (x - mean)).sum::<f64>()
        };
        let (mut one, mut two) = (f64::MIN_POSITIVE, f64::MIN_POSITIVE);
        let whole = squares(SPECIMENS, 0.0);
        for (half, power, apart) in &self.scatters {
            one += power * (-half * whole).exp();
            two += (2..SPECIMENS - 1).map(|from| power * (-half * squares(from, *apart)).exp()).sum::<f64>();
        }
        two.ln() - one.ln()
    }

    fn names(&self, values: Vec<f64>) -> bool {
        self.ratio(values) > self.limit
    }
}

/// An ideal observer for each quantity of a plan.
fn ideals(plan: &Plan, values: &[f64], apart: f64, throw: &mut Throw) -> Vec<Ideal> {
    let parts: Vec<f64> = plan.iter().zip(values).map(|((_, unit, _, tau, ..), v)| tau * unit / v).collect();
    let one = |((_, unit, u, ..), value): (&super::draw::Read, &f64)| {
        let scatters: Vec<f64> = parts.iter().map(|part| part * value).collect();
        Ideal::of(u * unit, &scatters, apart, plan.len(), throw)
    };
    plan.iter().zip(values).map(one).collect()
}

/// Half of eight specimens are of another kind in one quantity; nobody asks. Four standard deviations of a reading are what one
/// scatter may do that is large among those of the sheet's quantities; eight are not, and are named nearly as often as by the ideal
/// observer. By the squares within alone, and by what the others lend but with a scatter that is taken for as large as those within
/// let it be, it was in a quarter.
#[test]
fn two_populations_are_named() {
    let (sheet, draft) = series();
    let mut throw = Throw::seeded(47);
    let (count, plan) = (sheets(20), thrice(SPECIMENS));
    let values: Vec<f64> = {
        let first = drawn(&draft, &mut Throw::seeded(48), &plan, false);
        let of =
            |name: &str| first.readings.iter().find(|r| r.asked == find(name, None).unwrap()).unwrap().value;
        plan.iter().map(|read| of(read.0)).collect()
    };
    let ideals = APART.map(|apart| ideals(&plan, &values, apart, &mut throw));
    let (mut named, mut sized, mut falsely, mut ideal) = ([0; 3], [0; 3], 0, [0; 3]);
    for i in 0..3 * count {
        let mut drawn = drawn(&draft, &mut throw, &plan, false);
        let clean = held(&sheet, &draft, &drawn.readings, &[]);
        falsely += usize::from(!clean.populations.is_empty());
        let kind = throw.below(plan.len());
        let (name, unit, u, tau, ..) = plan[kind];
        let asked = find(name, None).unwrap();
        let off = APART[i % 3] * unit * (u * u + tau * tau).sqrt();
        let mut means = vec![0.0; SPECIMENS];
        for reading in drawn.readings.iter_mut().filter(|reading| reading.asked == asked) {
            let specimen: usize = reading.specimen[1..].parse().unwrap();
            reading.value += if specimen >= SPECIMENS / 2 { off } else { 0.0 };
            means[specimen] += reading.value / 3.0;
        }
        ideal[i % 3] += usize::from(ideals[i % 3][kind].names(means));
        let found = held(&sheet, &draft, &drawn.readings, &[]);
        let mut two = found.populations.iter().filter(|p| p.verdict == VariantsVerdict::Two);
        let is = two.find(|p| found.asked[p.asked] == asked);
        named[i % 3] += usize::from(is.is_some());
        sized[i % 3] += usize::from(is.is_some_and(|p| (p.difference.abs() - off).abs() < 2.0 * p.u));
    }
    println!(
        "of {count} sheets each with two kinds of four specimens, {APART:?} standard deviations of a reading apart, they are named in \
         {named:?}, the difference right in {sized:?}; an ideal observer names them in {ideal:?}; of {} of one kind {falsely} are \
         called two",
        3 * count
    );
    let least = |share: f64| share * count as f64 - 3.0 * (share * (1.0 - share) * count as f64).sqrt();
    assert!(named[1] as f64 >= least(0.7) && named[2] as f64 >= least(0.97), "{named:?}");
    let most = RISK * 3.0 * count as f64;
    assert!(falsely as f64 <= most + 3.0 * most.sqrt() + 1.0, "{falsely}");
}

/// One quantity of eight specimens scatters five times as much as it does otherwise: that is one kind of specimens all the same.
#[test]
fn a_wide_scatter_is_no_second_kind() {
    let (sheet, draft) = series();
    let mut throw = Throw::seeded(49);
    let count = sheets(40);
    for specimens in [SPECIMENS, 4] {
        let (mut two, mut of_it) = (0, 0);
        for _ in 0..count {
            let mut plan = thrice(specimens);
            let kind = throw.below(plan.len());
            plan[kind].3 = WIDE * f64::max(plan[kind].3, plan[kind].2);
            let wide = find(plan[kind].0, None).unwrap();
            let drawn = drawn(&draft, &mut throw, &plan, false);
            let found = held(&sheet, &draft, &drawn.readings, &[]);
            let mut named = found.populations.iter().filter(|p| p.verdict == VariantsVerdict::Two);
            two += usize::from(!found.populations.is_empty());
            of_it += usize::from(named.any(|p| found.asked[p.asked] == wide));
        }
        println!(
            "of {count} sheets of {specimens} specimens of one kind, one quantity of which scatters {WIDE} times as much, {two} are called \
             two kinds, {of_it} in that quantity"
        );
        let most = RISK * count as f64;
        assert!(two as f64 <= most + 3.0 * most.sqrt() + 1.0, "{two} of {count}");
    }
}
