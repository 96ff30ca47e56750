//! Designs and bench sheets thrown at random.

use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};
use roulade::cell::draft::Draft;
use roulade::cell::figures::{Worked, definition};
use roulade::sheet::Sheet;
use roulade::study::bench::{Options, Reconciled, reconcile};
use roulade::study::readings::Reading;
use roulade::study::readings::quantity::{Asked, find, listed};
use roulade_stats::least_squares::Loss;
use roulade_stats::propagation::FirstOrder;
use roulade_stats::uncertain::{Spread, Uncertain};

pub(crate) struct Throw(pub(crate) Pcg64Mcg);

impl Throw {
    /// `SEED=1` throws other sheets than those that the ordinary run has.
    pub(crate) fn seeded(seed: u64) -> Self {
        let other: u64 = std::env::var("SEED").ok().and_then(|seed| seed.parse().ok()).unwrap_or(0);
        Self(Pcg64Mcg::seed_from_u64(seed + 1000 * other))
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
            .map(|input| match input.uncertain.spread {
                Spread::Exact => input.uncertain.value,
                Spread::Standard(u) => input.uncertain.value + u * throw.normal(),
                Spread::Range { low, high } => low + (high - low) * throw.uniform(),
            })
            .collect();
        if let Ok(worked) = Worked::at(draft, &truth) {
            return (truth, worked);
        }
    }
}

/// What is said of a cell in the end.
pub(crate) const FIGURES: [&str; 6] =
    ["volumetric", "gravimetric", "capacity", "energy", "roll.cathode_length", "roll.anode_length"];

/// Those of a known design.
pub(crate) fn true_figures(worked: &Worked) -> [f64; FIGURES.len()] {
    FIGURES.map(|id| (definition(id).unwrap().of)(worked).unwrap())
}

/// The same of a reconciled sheet as it is written, to first order: value and standard uncertainty.
pub(crate) fn figures(found: &Reconciled) -> [(f64, f64); FIGURES.len()] {
    let draft = Draft::read(&found.sheet).unwrap();
    let uncertain: Vec<Uncertain> = draft.inputs().iter().map(|input| input.uncertain).collect();
    let best = true_figures(&Worked::at(&draft, &draft.values()).unwrap());
    let first_order = FirstOrder::of(&uncertain, draft.correlation(), &best, |values| {
        Some(true_figures(&Worked::at(&draft, values).ok()?).to_vec())
    });
    std::array::from_fn(|i| (best[i], first_order.u(i)))
}

pub(crate) fn percent(count: usize, all: usize) -> f64 {
    100.0 * count as f64 / all.max(1) as f64
}

/// What is read: quantity, unit, standard uncertainty of a reading, scatter between specimens, specimens, readings of each.
pub(crate) type Read = (&'static str, f64, f64, f64, usize, usize);
pub(crate) type Plan = [Read];

/// An ordinary bench.
pub(crate) const PLAN: &Plan = &[
    ("cathode loading", 0.01, 0.10, 0.10, 4, 2),
    ("anode loading", 0.01, 0.08, 0.05, 4, 1),
    ("cathode coated both sides", 1e-6, 1.0, 0.8, 4, 1),
    ("anode coated both sides", 1e-6, 1.0, 0.0, 4, 1),
    ("separator thickness", 1e-6, 0.3, 0.2, 4, 1),
    ("cathode width", 1e-3, 0.05, 0.05, 4, 1),
    ("anode width", 1e-3, 0.05, 0.05, 4, 1),
    ("separator width", 1e-3, 0.08, 0.0, 4, 1),
    ("jelly roll diameter", 1e-3, 0.05, 0.04, 4, 1),
    ("cathode length", 1e-3, 2.0, 4.0, 4, 1),
    ("cell mass", 1e-3, 0.02, 0.4, 5, 1),
    ("mass of cap assembly", 1e-3, 0.02, 0.03, 4, 1),
    ("capacity", 3600.0, 0.05, 0.08, 5, 1),
];

/// A bench sheet whose design is known.
#[derive(Clone)]
pub(crate) struct Drawn {
    pub(crate) truth: Vec<f64>,
    pub(crate) worked: Worked,
    pub(crate) readings: Vec<Reading>,
    /// What each reading is drawn about: the truth with what all of its quantity share.
    pub(crate) centre: Vec<f64>,
    /// Standard deviation of each reading about that.
    pub(crate) about: Vec<f64>,
}

/// A design from what the sheet leaves open, and its bench sheet. All readings of a quantity share an ordinary instrument's
/// error, as is supposed of it where nothing is said, unless they are independent.
pub(crate) fn drawn(draft: &Draft, throw: &mut Throw, plan: &Plan, independent: bool) -> Drawn {
    let (truth, worked) = design(draft, throw);
    let (mut readings, mut centre, mut about) = (Vec::new(), Vec::new(), Vec::new());
    for (name, unit, u, tau, specimens, repeats) in plan {
        let asked = find(name, None).unwrap();
        let mut value = asked.predict(draft, &truth, &worked).unwrap();
        if !independent {
            value += asked.quantity.typical.shared(value, asked.quantity.unit) * throw.normal();
        }
        for specimen in 0..*specimens {
            let own = value + tau * unit * throw.normal();
            for _ in 0..*repeats {
                readings.push(reading(&asked, specimen, own + u * unit * throw.normal(), u * unit));
                centre.push(value);
                about.push(unit * (u * u + tau * tau).sqrt());
            }
        }
    }
    Drawn { truth, worked, readings, centre, about }
}

/// A sheet of so many specimens and quantities, each read so many times off each, as an instrument shows it and a hand writes it.
pub(crate) fn bench(
    draft: &Draft,
    readable: &[Asked],
    throw: &mut Throw,
    [specimens, quantities, repeats]: [usize; 3],
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
            let part = value + shared + tau * throw.normal();
            for _ in 0..repeats {
                readings.push(written(asked, specimen, part + own * throw.normal(), typical));
            }
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

/// A figure of the fitted cell and its standard uncertainty, to first order.
pub(crate) fn fitted(draft: &Draft, found: &Reconciled, of: impl Fn(&Worked) -> f64) -> Uncertain {
    let mut values = draft.values();
    for moved in &found.moved {
        values[moved.input] = moved.after.value;
    }
    let at = |values: &[f64]| Some(of(&Worked::at(draft, values).ok()?));
    let here = at(&values).unwrap();
    let slopes: Vec<f64> = found
        .moved
        .iter()
        .map(|moved| {
            let (u, mut values) = (0.1 * moved.after.u(), values.clone());
            if u == 0.0 {
                return 0.0;
            }
            values[moved.input] += u;
            let up = at(&values);
            values[moved.input] -= 2.0 * u;
            // At the end of what can be wound a step goes one way alone.
            match (up, at(&values)) {
                (Some(up), Some(down)) => (up - down) / (2.0 * u),
                (Some(up), None) => (up - here) / u,
                (None, Some(down)) => (here - down) / u,
                (None, None) => 0.0,
            }
        })
        .collect();
    let mut variance = 0.0;
    for (i, a) in slopes.iter().enumerate() {
        variance += slopes.iter().enumerate().map(|(j, b)| a * b * found.covariance[(i, j)]).sum::<f64>();
    }
    Uncertain::standard(here, variance.sqrt())
}
