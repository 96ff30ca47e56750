mod lists;
mod sleeve;

use super::case::{case, draw};
use super::*;
use crate::cell::draft::Draft;
use crate::cell::figures::Worked;
use crate::quantity::problem::Problems;
use crate::quantity::units::Unit;
use crate::study::readings::quantity;
use crate::test_support::{demo, draft};
use approx::assert_relative_eq;
use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};
use roulade_stats::executor::alone;
use roulade_stats::uncertain::Uncertain;
use serde_json::json;
use std::fmt::Write as _;

fn read(text: &str) -> Result<Claim, Problems> {
    Claim::read(&Said::Words(text.to_owned()))
}

fn refused(text: &str) -> String {
    read(text).expect_err(text).to_string()
}

fn weighed(text: &str, cell: Draft, other: Option<Draft>) -> Check {
    Check::of(read(text).unwrap(), cell, other, (400, 1), &alone()).unwrap()
}

#[test]
fn claims_in_plain_words() {
    for (text, expected) in [
        ("at least 290 Wh/kg", "at least 290 Wh/kg, cell"),
        ("290Wh/kg", "about 290 Wh/kg, cell"),
        ("≥ 290 Wh kg⁻¹ of the roll", "at least 290 Wh/kg, roll"),
        ("per mass, at least 290 Wh/kg", "at least 290 Wh/kg, cell"),
        ("about 750 Wh/L cell", "about 750 Wh/L, cell"),
        ("750 Wh/l, jelly roll only", "about 750 Wh/L, roll"),
        (
            "12 % over the other cell per volume",
            "about 12 % over the other cell, volumetric energy density, cell",
        ),
        ("at least 12 Wh/L over the other cell", "at least 12 Wh/L over the other cell, cell"),
        (
            "at least 12% more than the other cell, volumetric",
            "at least 12 % over the other cell, volumetric energy density, cell",
        ),
        (
            "at least 5 % below the other cell, mass",
            "at most −5 % over the other cell, mass of the cell, cell",
        ),
        ("at most 70 g", "at most 70 g, cell"),
        ("capacity of at least 5.0 Ah between 2.5 and 4.2 V", "at least 5.0 Ah, between 2.5 and 4.2 V"),
        ("3.65 V from 2.8 V to 4.2 V", "about 3.65 V, between 2.8 and 4.2 V"),
        ("at least 4 m electrode length, cathode", "at least 4 m electrode length, cathode"),
        ("at most 25 % cathode.porosity", "at most 25 % cathode porosity"),
        ("balance.n_to_p about 1.1", "about 1.1 N/P ratio"),
        ("about 750 ± 20 Wh/L", "about 750 Wh/L, cell"),
        ("at least 5 Ah at 0.2 C", "at least 5 Ah capacity under load, at 0.2 C"),
        ("at least 5 Ah at C/5", "at least 5 Ah capacity under load, at 0.2 C"),
        ("at least 280 Wh/kg under load", "at least 280 Wh/kg gravimetric energy density, under load, cell"),
    ] {
        assert_eq!(
            read(text).map(|claim| claim.text()).map_err(|p| p.to_string()).as_deref(),
            Ok(expected),
            "{text}"
        );
    }
    let below = read("at least 5 % below the other cell, mass").unwrap();
    assert_eq!((below.relation, below.value), (Relation::AtMost, -0.05));
    assert_relative_eq!(read("about 750 ± 20 Wh/L").unwrap().rounding.half(), 20.0, max_relative = 1e-12);
    assert_eq!(read("290 Wh/kg").unwrap().taken.len(), 3);
}

#[test]
fn each_fault_in_its_words() {
    for (text, words) in [
        ("", "found nothing; expected a claim"),
        ("at least", "no value"),
        ("12 % over the other cell", "a percentage of an unknown figure"),
        ("12 % per volume", "without the other cell"),
        ("290 mm per volume", "to be given in Wh/L"),
        ("290 parsec", "a unit that is not known"),
        ("290", "does not say what it is a figure of"),
        ("at last 290 Wh/kg", "perhaps \"least\" was meant"),
        ("at least at most 3 Ah", "two relations"),
        ("3 Ah 4 Ah", "two values"),
        ("per mass per volume 3 Wh/L", "two figures"),
        ("3 Ah roll", "\"roll\" as the basis of capacity; expected a basis of this figure, one of: cell"),
        ("70 g at 0.5 C", "does not depend on one"),
        ("3 Ah open circuit at 0.5 C", "one of the two, a rate or open circuit"),
        ("3 Ah at 0 C", "greater than zero"),
        ("3 Ah between 2 V", "break off"),
        ("700 .. 750 Wh/L", "a range"),
        ("3 Ah between 4.2 and 2.5 V", "2.5 .. 4.2 V"),
    ] {
        let diagnostics = refused(text);
        assert!(
            diagnostics.starts_with("claim: found ") && diagnostics.contains(words),
            "{text}: {diagnostics}"
        );
    }
}

#[test]
fn a_claim_in_parts_is_the_claim_in_words() {
    let parts = Claimed {
        figure: Some("per volume".to_owned()),
        relation: Some("at least".to_owned()),
        value: Some("12 %".to_owned()),
        over: Some("the other cell".to_owned()),
        basis: Some("roll".to_owned()),
        window: Some("2.5 .. 4.2 V".to_owned()),
        ..Claimed::default()
    };
    let of_parts = Claim::read(&Said::Parts(Box::new(parts))).unwrap();
    let of_words = read("at least 12 % over the other cell per volume roll between 2.5 and 4.2 V").unwrap();
    assert_eq!(of_parts.text(), of_words.text());
    let wrong = Claimed {
        figure: Some("volumetrc".to_owned()),
        relation: Some("over the other cell".to_owned()),
        ..Claimed::default()
    };
    let diagnostic = Claim::read(&Said::Parts(Box::new(wrong))).unwrap_err().to_string();
    assert!(
        diagnostic.contains("claim.figure: found \"volumetrc\"; expected \"per volume\"")
            && diagnostic.contains("another figure; perhaps \"volumetric\" was meant"),
        "{diagnostic}"
    );
    assert!(diagnostic.contains("claim.relation: found "), "{diagnostic}");
}

/// A cell that is exactly known: the figure itself decides, and rounding does where the value lies above it.
#[test]
fn what_is_exactly_known_is_decided() {
    let exact = || draft(&[]).known_as(|input| Some(Uncertain::exact(input.uncertain.value)));
    let figure = {
        let cell = exact();
        let w = Worked::at(&cell, &cell.values()).unwrap();
        (definition_of("capacity"))(&w).unwrap() / Unit::AmpereHour.in_si()
    };
    let at = |text: &str| weighed(text, exact(), None).verdict;
    assert_eq!(at(&format!("at least {:.3} Ah", figure - 0.01)), Verdict::Supported);
    assert_eq!(at(&format!("at least {:.3} Ah", figure + 0.01)), Verdict::Contradicted);
    assert_eq!(at(&format!("at most {:.3} Ah", figure + 0.01)), Verdict::Supported);
    assert_eq!(at(&format!("about {figure:.2} Ah")), Verdict::Supported);
    // Within what is declared of such a cell, and far from it.
    assert_eq!(at(&format!("about {:.2} Ah", 1.005 * figure)), Verdict::Open);
    assert_eq!(at(&format!("about {:.2} Ah", 1.1 * figure)), Verdict::Contradicted);
    let rounded_up = (figure * 10.0).ceil() / 10.0;
    let check = weighed(&format!("at least {rounded_up:.1} ± 0.1 Ah"), exact(), None);
    assert_eq!(check.verdict, Verdict::Supported);
}

fn definition_of(id: &str) -> fn(&Worked) -> Option<f64> {
    crate::cell::figures::definition(id).unwrap().of
}

/// Draws and first order agree where the model is nearly linear, and the figure at what an input alone would have to
/// be is the edge of the claim.
#[test]
fn chances_agree_and_what_is_needed_is_enough() {
    let uncertain =
        || draft(&[("cathode/loading", json!("20 ± 0.4 mg/cm2")), ("cathode/width", json!("80 ± 0.2 mm"))]);
    let best = weighed("at least 1 Wh", uncertain(), None);
    let wh = |si: f64| si / Unit::WattHour.in_si();
    let (value, u) = (wh(best.best), wh(best.u));
    let check = Check::of(
        read(&format!("at least {:.4} Wh", value + 0.5 * u)).unwrap(),
        uncertain(),
        None,
        (4000, 7),
        &alone(),
    )
    .unwrap();
    assert_relative_eq!(check.chance, check.normal, epsilon = 0.03);
    assert_relative_eq!(check.histogram.deviation, check.u, max_relative = 0.05);
    assert_eq!(check.verdict, Verdict::Open);
    let loading = check.required.iter().find(|alone| alone.path == "cathode.loading").unwrap();
    assert_eq!(loading.place, Where::Uncertain);
    let cell = uncertain();
    let mut values = cell.values();
    values[cell.inputs().iter().position(|input| input.path == "cathode.loading").unwrap()] =
        loading.needed.unwrap();
    let there = (definition_of("energy"))(&Worked::at(&cell, &values).unwrap()).unwrap();
    assert_relative_eq!(there, check.holds.0, max_relative = 1e-8);
    // The loading is most of the variance: reading it settles most.
    assert_eq!(check.information[0].path, "cathode.loading");
    assert!(check.information[0].takes > check.information[1].takes);
}

#[test]
fn a_claim_over_another_cell_shares_what_is_shared() {
    let (one, two) = (|| demo("marram a"), || demo("marram b"));
    let check = weighed("at least 10 % over the other cell per volume", two(), Some(one()));
    let figure =
        |draft: &Draft| (definition_of("volumetric"))(&Worked::at(draft, &draft.values()).unwrap()).unwrap();
    assert_relative_eq!(
        check.best,
        figure(check.cell()) / figure(check.other().unwrap()) - 1.0,
        max_relative = 1e-12
    );
    let more = weighed("at least 60 Wh/L over the other cell", two(), Some(one()));
    let difference = figure(more.cell()) - figure(more.other().unwrap());
    assert_relative_eq!(more.best, difference, max_relative = 1e-12);
    // The same cell on both sides: nothing but its own readings lies between the two.
    let same = weighed("at least 1 % over the other cell per volume", one(), Some(one()));
    assert_relative_eq!(same.best, 0.0);
    let separate = weighed("at least 1 Wh/L", one(), None);
    assert!(same.u < separate.u / separate.best * 2f64.sqrt());
    let missing =
        Check::of(read("5 % over the other cell per mass").unwrap(), one(), None, (10, 1), &alone())
            .unwrap_err();
    assert_eq!(missing.0[0].place, "other");
}

#[test]
fn bases_differ_as_their_volumes_do() {
    let check = weighed("at least 1 Wh/L", draft(&[]), None);
    let on = |basis: Basis| check.bases.iter().find(|on| on.on.basis == basis).unwrap().best;
    // 46 × 95 mm are whole millimetres already; the bore is 45 mm, the inside 94.4 mm high.
    assert_relative_eq!(on(Basis::Nominal), on(Basis::Cell), max_relative = 1e-12);
    assert_relative_eq!(
        on(Basis::Inside) / on(Basis::Cell),
        46.0 * 46.0 * 95.0 / (45.0 * 45.0 * 94.4),
        max_relative = 1e-12
    );
    // The roll is 44.5 mm wide (a gap of 0.25 mm) and 82 mm high.
    assert_relative_eq!(
        on(Basis::Roll) / on(Basis::Cell),
        46.0 * 46.0 * 95.0 / (44.5 * 44.5 * 82.0),
        max_relative = 1e-9
    );
    let mass = weighed("at least 1 Wh/kg", draft(&[]), None);
    let by = |basis: Basis| mass.bases.iter().find(|on| on.on.basis == basis).unwrap().best;
    assert!(by(Basis::Roll) > by(Basis::Cell) && by(Basis::Sleeved) < by(Basis::Cell));
    // A sleeve of 0.1 mm all round, by hand.
    assert_relative_eq!(
        on(Basis::Sleeved) / on(Basis::Cell),
        46.0 * 46.0 * 95.0 / (46.2 * 46.2 * 95.2),
        max_relative = 1e-9
    );
}

#[test]
fn a_window_narrows_the_capacity() {
    let whole = weighed("at least 1 Ah", draft(&[]), None);
    let narrow = weighed("at least 1 Ah between 3.2 and 4 V", draft(&[]), None);
    assert!(narrow.best < whole.best);
}

/// Synthetic pairs: true values thrown over broad ranges, read with their uncertainties; a capacity that nobody reads
/// is the same in both cells. Among claims that are given a chance of 80 %, about 80 % are true.
#[test]
#[allow(clippy::print_stdout, reason = "a reader wants to see the table, not only that it passes")]
fn chances_are_what_they_say() {
    const PAIRS: u64 = 120;
    const OFFSETS: [f64; 8] = [-1.5, -0.9, -0.5, -0.2, 0.2, 0.5, 0.9, 1.5];
    let mut random = Pcg64Mcg::seed_from_u64(11);
    let mut part = || (random.next_u64() >> 11) as f64 / 9_007_199_254_740_992.0;
    let mut bins = [(0_u32, 0_u32, 0.0_f64); 5];
    let readings = [
        ("cathode/loading", 18.0, 22.0, 0.4, "mg/cm2"),
        ("cathode/width", 77.0, 80.0, 0.4, "mm"),
        ("anode/thickness", 95.0, 105.0, 1.5, "µm"),
    ];
    for pair in 0..PAIRS {
        let capacity = 190.0 + 20.0 * part();
        let mut uncertain = Vec::new();
        let mut truth = Vec::new();
        for _ in 0..2 {
            let (mut read, mut real) = (Vec::new(), Vec::new());
            for (path, low, high, u, unit) in readings {
                let value = low + (high - low) * part();
                // Twelve uniform parts less six: near enough to normal (from memory).
                let noise: f64 = (0..12).map(|_| part()).sum::<f64>() - 6.0;
                read.push((
                    path,
                    json!({ "value": format!("{:.9} ± {u} {unit}", value + u * noise), "from": "measured" }),
                ));
                real.push((path, json!(format!("{value:.9} {unit}"))));
            }
            for sheet in [&mut read, &mut real] {
                sheet.push(("cathode/thickness", json!("60 µm")));
            }
            read.push(("materials/3/capacity", json!("190 .. 210 mAh/g")));
            real.push(("materials/3/capacity", json!(format!("{capacity:.9} mAh/g"))));
            uncertain.push(draft(&read));
            let real = draft(&real);
            truth.push((definition_of("volumetric"))(&Worked::at(&real, &real.values()).unwrap()).unwrap());
        }
        let truth = truth[0] / truth[1] - 1.0;
        let (other, cell) = (uncertain.pop().unwrap(), uncertain.pop().unwrap());
        let claim = read("at least 1 % over the other cell per volume").unwrap();
        let case = case(claim, cell, Some(other)).unwrap();
        let drawn = draw(&case, &case.uncertain(), 150, pair, &alone()).swap_remove(0);
        let histogram = Histogram::of(&drawn).unwrap();
        for offset in OFFSETS {
            let edge = histogram.mean + offset * histogram.deviation;
            let (below, _) = chance::missed(&drawn, (edge, f64::INFINITY));
            let given = 1.0 - below;
            let bin = bins.iter_mut().zip(1..).find(|(_, i)| given <= 0.2 * f64::from(*i)).unwrap().0;
            *bin = (bin.0 + 1, bin.1 + u32::from(truth >= edge), bin.2 + given);
        }
    }
    let mut table = String::from("given   true    claims\n");
    let mut faults = 0;
    for (count, held, given) in bins {
        let n = f64::from(count);
        let (given, held) = (given / n, f64::from(held) / n);
        writeln!(table, "{:4.0} %  {:4.0} %  {count}", 100.0 * given, 100.0 * held).unwrap();
        // The claims of one pair hang together: at most two to a bin count as one.
        faults += u32::from((given - held).abs() > 3.0 * (given * (1.0 - given) / (0.5 * n)).sqrt());
    }
    println!("{table}");
    assert_eq!(faults, 0, "\n{table}");
}

/// Every reading that is recommended has its line in the bench sheet, and the cell predicts it.
#[test]
fn every_recommended_reading_exists_in_the_bench_sheet() {
    let small = json!({
        "can": { "size": "18 × 65" },
        "cathode": { "mix": [{ "material": "NMC811" }, { "material": "PVDF", "share": "3 .. 5 %" }] },
        "anode": { "mix": [{ "material": "graphite" }, { "material": "CMC", "share": "2 .. 3 %" }] },
    });
    let bare = |size: &str, collection: Option<&str>| {
        let mut sheet = small.clone();
        sheet["can"]["size"] = json!(size);
        if let Some(collection) = collection {
            sheet["collection"] = json!(collection);
        }
        Draft::parse(&sheet.to_string()).unwrap()
    };
    let mut count = 0;
    for claim in ["at least 700 Wh/L", "about 5 Ah", "at most 80 g", "at least 250 Wh/kg under load", "20 mΩ"]
    {
        let sheets = [
            bare("18 × 65", None),
            bare("46 × 80", None),
            bare("26 × 70", Some("edges")),
            demo("marram a"),
            demo("marram b"),
            demo("small"),
        ];
        for cell in sheets {
            let check = weighed(claim, cell, None);
            let values = check.cell().values();
            let worked = Worked::at(check.cell(), &values).unwrap();
            for reading in &check.information {
                let asked = quantity::find(&reading.key, None);
                let asked = asked.unwrap_or_else(|problem| panic!("{}: {problem}", reading.key));
                assert!(asked.predict(check.cell(), &values, &worked).is_some(), "{}", reading.key);
                assert!(reading.takes <= 1.0 && reading.takes > 0.0, "{}: {}", reading.key, reading.takes);
                count += 1;
            }
            // Of a resistance that the sheet states nothing else is read.
            assert!(
                !check.information.is_empty() || claim.ends_with("Ω"),
                "{claim}: {}",
                check.cell().name()
            );
        }
    }
    assert!(count > 100, "{count}");
}

#[test]
fn conventions_move_a_claim_by_their_factors() {
    let check = weighed("at least 5 Ah", demo("small"), None);
    let named = |name: &str| check.conventions.iter().find(|one| one.name == name).unwrap();
    assert_relative_eq!(named("minimum").best, 0.98 * check.best, max_relative = 1e-12);
    assert!(named("rated at 1 It").best < named("rated at 0.2 It").best);
    assert!(named("rated at 0.2 It").best < check.best);
    let stated = weighed("at least 5 Ah, minimum, at 0.2 It, at 25 °C", demo("small"), None);
    assert!(stated.conventions.iter().all(|one| !one.name.contains("It") && one.name != "minimum"));
    // A change over another cell knows none.
    let change =
        weighed("at least 1 % over the other cell per volume", demo("marram b"), Some(demo("marram a")));
    assert!(change.conventions.is_empty());
}
