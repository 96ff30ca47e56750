//! Low-rate discharge curves of drawn cells: what fitting one finds of lithium and of both electrodes.

use super::draw::{Throw, design, fitted, held, reading, series, sheets};
use roulade::cell::balance::Windows;
use roulade::cell::draft::Draft;
use roulade::cell::figures::Worked;
use roulade::sheet::Sheet;
use roulade::study::readings::conditions::Conditions;
use roulade::study::readings::quantity::{Asked, find};
use roulade_stats::uncertain::Uncertain;

/// Points of a curve.
const POINTS: u32 = 25;
/// Standard deviation of a point about the curve of the cell, V.
const NOISE: f64 = 0.003;

/// A cell of which the electrodes' loadings and their losses are known roughly, and all else.
fn cell() -> (Sheet, Draft) {
    let (sheet, draft) = series();
    let draft = draft.known_as(|input| {
        let value = input.uncertain.value;
        let u = match &*input.path {
            "cathode.loading" | "anode.loading" => 0.04 * value,
            path if path.ends_with("initial_coulombic_efficiency") => 0.02,
            _ => return Some(Uncertain::exact(value)),
        };
        Some(Uncertain::standard(value, u))
    });
    (sheet, draft)
}

fn windows(worked: &Worked) -> Windows {
    worked.estimate.balance.windows.unwrap()
}

/// What it is called, and where it is taken from.
type Sought = (&'static str, fn(&Worked) -> f64);

/// What the fit must find: lithium that the first charge used up, and where both electrodes stand at either end of discharge.
const SOUGHT: [Sought; 5] = [
    ("irreversible capacity loss, Ah", |worked| worked.estimate.balance.lost.value / 3600.0),
    ("cathode stoichiometry, charged", |worked| windows(worked).cathode_charged),
    ("cathode stoichiometry, discharged", |worked| windows(worked).cathode_discharged),
    ("anode stoichiometry, charged", |worked| windows(worked).anode_charged),
    ("anode stoichiometry, discharged", |worked| windows(worked).anode_discharged),
];

/// The truth is recovered within 95 % intervals in as many cells as they promise, and known better than before.
#[test]
fn a_curve_gives_lithium_and_offsets() {
    let (sheet, draft) = cell();
    let voltage = find("cell voltage", None).unwrap();
    let mut throw = Throw::seeded(77);
    let count = sheets(150);
    let (mut cells, mut inside, mut narrower) = (0, [0.0; SOUGHT.len()], [0.0; SOUGHT.len()]);
    let nothing_read = |of: fn(&Worked) -> f64, throw: &mut Throw| {
        let drawn: Vec<f64> = (0..60).map(|_| of(&design(&draft, throw).1)).collect();
        let mean = drawn.iter().sum::<f64>() / drawn.len() as f64;
        (drawn.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>() / drawn.len() as f64).sqrt()
    };
    let before = SOUGHT.map(|(_, of)| nothing_read(of, &mut throw));
    while cells < count {
        let (_, worked) = design(&draft, &mut throw);
        let balance = &worked.estimate.balance;
        let shared = voltage.quantity.typical.shared(3.7, voltage.quantity.unit) * throw.normal();
        let points: Option<Vec<_>> = (0..POINTS)
            .map(|i| {
                let drawn = balance.capacity * (f64::from(i) / f64::from(POINTS) * 0.99);
                let under = Conditions { drawn: Some(drawn.value), ..Conditions::default() };
                let asked = Asked { under, ..voltage.clone() };
                let volts = balance.voltage_after(&worked.design, drawn)?.value;
                Some(reading(&asked, 0, volts + shared + NOISE * throw.normal(), NOISE))
            })
            .collect();
        let Some(points) = points else { continue };
        cells += 1;
        let found = held(&sheet, &draft, &points, &[]);
        for (i, (_, of)) in SOUGHT.iter().enumerate() {
            let uncertain = fitted(&draft, &found, of);
            inside[i] += f64::from((uncertain.value - of(&worked)).abs() <= 1.96 * uncertain.u());
            narrower[i] += uncertain.u() / before[i] / count as f64;
        }
    }
    for (i, (what, _)) in SOUGHT.iter().enumerate() {
        let share = 100.0 * inside[i] / count as f64;
        println!(
            "{what}: truth within its 95 % interval in {share:.0} %, u {:.2} of what it was",
            narrower[i]
        );
        assert!(share >= 85.0, "{what}");
        assert!(narrower[i] < 0.9, "{what}");
    }
}
