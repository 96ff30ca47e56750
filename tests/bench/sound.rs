//! Sheets without a fault are answered, and say so.

use super::draw::{Throw, bench, design, held, readable, reading, series, sheets};
use roulade::cell::draft::Draft;
use roulade::cell::figures::Worked;
use roulade::sheet::{Sheet, write};
use roulade::study::readings::quantity::find;

/// Four specimens read in whole steps, 13, 14, 13 and 14 µm: their variance is a third, and the readings' own may be as much.
#[test]
fn whole_steps_are_no_contradiction() {
    let (sheet, draft) = series();
    let asked = find("separator thickness", None).unwrap();
    for u in [Some((1.0_f64 / 3.0).sqrt()), Some(0.5), Some(1.0 / 12f64.sqrt()), None] {
        let mut readings: Vec<_> = [13e-6, 14e-6, 13e-6, 14e-6]
            .into_iter()
            .enumerate()
            .map(|(specimen, value)| reading(&asked, specimen, value, u.unwrap_or(0.0) * 1e-6))
            .collect();
        readings.iter_mut().filter(|_| u.is_none()).for_each(|reading| reading.u = None);
        let found = held(&sheet, &draft, &readings, &[]);
        let scatter = &found.scatter[0];
        println!(
            "13, 14, 13, 14 µm, each ± {u:?}: probability {:?}, scatter {:?}",
            found.agreement.probability, scatter.between
        );
        assert!(found.outliers.is_empty() && found.populations.is_empty(), "{:?}", found.outliers);
        assert!(found.agreement.probability.unwrap() > 0.05, "{:?}", found.agreement);
        assert!(scatter.between.is_some_and(|tau| (0.0..1e-6).contains(&tau)));
    }
}

/// Specimens that scatter by less than the steps of the instrument, drawn: such sheets contradict themselves no more often than others.
#[test]
fn whole_steps_contradict_nothing() {
    let (sheet, draft) = series();
    let mut throw = Throw::seeded(52);
    let count = sheets(60);
    let (mut contradicted, mut named) = (0, 0);
    for _ in 0..count {
        let (truth, worked) = design(&draft, &mut throw);
        let mut readings = Vec::new();
        for name in ["separator thickness", "cathode coated both sides", "anode coated both sides"] {
            let asked = find(name, None).unwrap();
            let centre = asked.predict(&draft, &truth, &worked).unwrap();
            for specimen in 0..4 {
                // Half a step of the reading's own; the rounding adds the 1/√12 that nobody need write.
                let value = 1e-6 * (1e6 * centre + 0.5 * throw.normal()).round();
                readings.push(reading(&asked, specimen, value, 1e-6 * (0.25_f64 + 1.0 / 12.0).sqrt()));
            }
        }
        let found = held(&sheet, &draft, &readings, &[]);
        contradicted += usize::from(found.agreement.probability.is_some_and(|p| p < 0.05));
        named += usize::from(!found.outliers.is_empty() || !found.populations.is_empty());
    }
    println!(
        "{count} sheets read in whole steps: χ² improbable in {contradicted}, something named falsely in {named}"
    );
    let most = 0.05 * count as f64;
    let seldom = |n: usize| n as f64 <= most + 3.0 * most.sqrt();
    assert!(seldom(contradicted) && seldom(named), "{contradicted} {named}");
}

/// A void height of hardly more than its uncertainty leaves no room to round into: what is written is read again, and holds
/// together.
#[test]
fn a_small_void_height_is_no_reason_to_refuse() {
    let mut whole: serde_json::Value =
        serde_json::from_str(include_str!("../../demo/marram-a.json")).unwrap();
    whole["cathode"]["width"] = serde_json::Value::Null;
    whole["void_height"] = serde_json::json!("0.2 ± 0.15 mm");
    let sheet = Sheet::parse(&whole.to_string()).unwrap();
    let draft = Draft::read(&sheet).unwrap();
    let readable = readable(&draft);
    let mut throw = Throw::seeded(51);
    let count = sheets(25);
    for _ in 0..count {
        let (_, readings) = bench(&draft, &readable, &mut throw, [1, 20, 1]);
        let found = held(&sheet, &draft, &readings, &[]);
        let again = Sheet::parse(&write::text(&found.sheet)).unwrap();
        let again = Draft::read(&again).unwrap_or_else(|problems| panic!("{problems}"));
        Worked::at(&again, &again.values()).unwrap_or_else(|problems| panic!("{problems}"));
    }
    println!(
        "{count} drawn sheets with a void height of 0.2 ± 0.15 mm are answered, and what is written is read again"
    );
}
