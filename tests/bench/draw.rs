//! Designs and bench sheets thrown at random.

use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};
use roulade::cell::draft::Draft;
use roulade::cell::figures::Worked;
use roulade::sheet::Sheet;
use roulade::study::bench::{Options, Reconciled, reconcile};
use roulade::study::readings::Reading;
use roulade::study::readings::quantity::{Asked, find, listed};
use roulade_stats::least_squares::Loss;
use roulade_stats::uncertain::Spread;

pub(crate) struct Throw(pub(crate) Pcg64Mcg);

impl Throw {
    pub(crate) fn seeded(seed: u64) -> Self {
        Self(Pcg64Mcg::seed_from_u64(seed))
    }

    pub(crate) fn uniform(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / 9_007_199_254_740_992.0
    }

    /// Box and Muller's: the other side of a comparison has its own way to normal numbers.
    pub(crate) fn normal(&mut self) -> f64 {
        let (u, v) = (1.0 - self.uniform(), self.uniform());
        (-2.0 * u.ln()).sqrt() * (std::f64::consts::TAU * v).cos()
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place in a short list")]
    pub(crate) fn below(&mut self, count: usize) -> usize {
        ((self.uniform() * count as f64) as usize).min(count - 1)
    }
}

/// How many sheets of each kind: `few`, unless SHEETS says otherwise.
pub(crate) fn sheets(few: usize) -> usize {
    std::env::var("SHEETS").ok().and_then(|count| count.parse().ok()).unwrap_or(few)
}

pub(crate) fn series() -> (Sheet, Draft) {
    let sheet = Sheet::parse(include_str!("../../demo/marram-a.json")).unwrap();
    let draft = Draft::read(&sheet).unwrap();
    (sheet, draft)
}

/// Every quantity that a bench reads off the opened cell of a sheet.
pub(crate) fn readable(draft: &Draft) -> Vec<Asked> {
    let worked = Worked::at(draft, &draft.values()).unwrap();
    let mut names: Vec<String> = draft
        .inputs()
        .iter()
        .filter_map(|input| Some(input.key.strip_prefix("parts[")?.split_once(']')?.0.to_owned()))
        .collect();
    names.dedup();
    let mut all: Vec<Asked> = Vec::new();
    for row in listed().iter().filter(|row| !["Composition"].contains(&row.group)) {
        if let Some(what) = row.key.strip_prefix("parts[].") {
            all.extend(names.iter().filter_map(|name| find(what, Some(name)).ok()));
        } else {
            all.extend(find(row.key, None));
        }
    }
    all.retain(|asked| asked.predict(draft, &draft.values(), &worked).is_some_and(|value| value > 0.0));
    all
}

/// A design from what the sheet leaves open.
pub(crate) fn design(draft: &Draft, throw: &mut Throw) -> (Vec<f64>, Worked) {
    loop {
        let truth: Vec<f64> = draft
            .inputs()
            .iter()
            .map(|input| match input.known.spread {
                Spread::Exact => input.known.value,
                Spread::Standard(u) => input.known.value + u * throw.normal(),
                Spread::Range { low, high } => low + (high - low) * throw.uniform(),
            })
            .collect();
        if let Ok(worked) = Worked::at(draft, &truth) {
            return (truth, worked);
        }
    }
}

/// A sheet of so many specimens and quantities, each read once off each, as an instrument shows it and a hand writes it.
pub(crate) fn bench(
    draft: &Draft,
    readable: &[Asked],
    throw: &mut Throw,
    specimens: usize,
    quantities: usize,
) -> (Vec<f64>, Vec<Reading>) {
    let (truth, worked) = design(draft, throw);
    let mut left: Vec<&Asked> = readable.iter().collect();
    let mut readings = Vec::new();
    for _ in 0..quantities.min(left.len()) {
        let asked = left.swap_remove(throw.below(left.len()));
        let quantity = asked.quantity;
        let Some(value) = asked.predict(draft, &truth, &worked) else { continue };
        let typical = quantity.typical.u(value, quantity.unit);
        let shared = quantity.typical.shared(value, quantity.unit) * throw.normal();
        let own = (typical * typical - quantity.typical.shared(value, quantity.unit).powi(2)).max(0.0).sqrt();
        // Parts of one kind differ by a part in a thousand.
        let tau = if specimens > 1 { 0.001 * value } else { 0.0 };
        for specimen in 0..specimens {
            let read = value + shared + tau * throw.normal() + own * throw.normal();
            readings.push(written(asked, specimen, read, typical));
        }
    }
    (truth, readings)
}

/// A reading with as many digits as its uncertainty leaves, and no word of that.
pub(crate) fn written(asked: &Asked, specimen: usize, value: f64, typical: f64) -> Reading {
    let unit = asked.quantity.unit;
    let place = (typical / unit.in_si()).log10().floor();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few decimals")]
    let decimals = (-place).max(0.0) as usize;
    let digits = format!("{:.decimals$}", (value / unit.in_si()).max(0.0));
    let value = digits.parse::<f64>().unwrap() * unit.in_si();
    let text = format!("{digits} {}", unit.symbol());
    Reading { text, u: None, ..reading(asked, specimen, value, 0.0) }
}

pub(crate) fn reading(asked: &Asked, specimen: usize, value: f64, u: f64) -> Reading {
    Reading {
        line: 0,
        cell: None,
        specimen: format!("S{specimen}"),
        asked: asked.clone(),
        text: String::new(),
        value,
        u: Some(u),
        instrument: None,
        unfit: None,
        checked: false,
        population: None,
        remark: None,
        date: None,
    }
}

pub(crate) fn held(sheet: &Sheet, draft: &Draft, readings: &[Reading], suspected: &[Asked]) -> Reconciled {
    let options = Options { instruments: &[], cell: None, loss: Loss::Normal, independent: false, suspected };
    reconcile(sheet, draft, readings, &options).unwrap_or_else(|problems| panic!("{problems}"))
}
