//! Declared figures of published cells, weighed; and whether chances are what they say.
//!
//! Sources as in [`cells`](super::cells) and [`chen`](super::chen), with the figures and their standing in
//! `data/cells.json`. A claim at the published figure must not be contradicted, and one 15 % above it must not be
//! supported, whether the sheet holds all that the paper gives, the can alone, or the can and what the cell is made for.
//! What a sheet leaves out is drawn
//! from the population's joint prior, each law with its source; nothing is fitted.

use super::cells::{cell, data, litres, practice_in, size, sturm_sheet, with};
use super::chen;
use super::say::number;
use roulade::cell::draft::Draft;
use roulade::study::claim::Said;
use roulade::study::claim::Verdict;
use roulade_answer::answer::ClaimAnswer;
use roulade_answer::ask::{self, Weighed};
use roulade_stats::executor::alone;
use serde_json::{Value, json};

const CHEN: &str = "wound-21x70-nmc811-graphite-siox";
const STURM: &str = "wound-18x65-nmc811-silicon-graphite";
const HEENAN: &str = "wound-18x65-nmc811-graphite-silicon";

fn weighed(claim: &str, sheet: &Value) -> ClaimAnswer {
    let said = [Said::Words(claim.to_owned())];
    let answer = ask::weighed(&said, Draft::parse(&sheet.to_string()), None, (Some(1500), None), &alone());
    match answer.unwrap_or_else(|problems| panic!("{claim}: {problems}")) {
        Weighed::One(answer) => *answer,
        Weighed::Several(answer) => panic!("{claim}: {} figures", answer.figures.len()),
    }
}

/// The can, and a mix of common practice.
fn can_alone(data: &Value, id: &str) -> Value {
    practice_in(&json!({ "size": size(cell(data, id)) }))
}

/// Sheet, figure, unit and basis of each published claim, and its standing.
fn published(data: &Value) -> Vec<(&'static str, Value, f64, &'static str, &'static str)> {
    let says = |id: &str, what: &str| number(cell(data, id), &format!("/to_predict/{what}/value"));
    let (chen, sturm, heenan) = (cell(data, CHEN), cell(data, STURM), cell(data, HEENAN));
    let energy = says(CHEN, "nominal_energy_Wh");
    let mass =
        0.5 * (number(chen, "/to_predict/mass_g/value/0") + number(chen, "/to_predict/mass_g/value/1"));
    let full = chen::full_sheet(data);
    let mut rows = Vec::new();
    for (what, sheet) in [("21 × 70, can alone", can_alone(data, CHEN)), ("21 × 70, all that is given", full)]
    {
        rows.push((what, sheet.clone(), energy / litres(chen), "Wh/L over the nominal size", "derived"));
        rows.push((what, sheet.clone(), 1e3 * energy / mass, "Wh/kg", "derived"));
        rows.push((what, sheet, says(CHEN, "nominal_capacity_Ah"), "Ah", "from memory"));
    }
    for (what, sheet) in [
        ("18 × 65 (a), can alone", can_alone(data, STURM)),
        ("18 × 65 (a), all that is given", sturm_sheet(data)),
    ] {
        rows.push((what, sheet, number(sturm, "/to_predict/capacity_Ah/value"), "Ah", "from memory"));
    }
    let sheet = can_alone(data, HEENAN);
    let classed = with(sheet.clone(), &json!({ "purpose": "energy" }));
    for (what, sheet) in [("18 × 65 (b), can alone", sheet), ("18 × 65 (b), can and purpose", classed)] {
        let energy = says(HEENAN, "nominal_energy_Wh");
        rows.push((what, sheet.clone(), energy / litres(heenan), "Wh/L over the nominal size", "derived"));
        rows.push((what, sheet, says(HEENAN, "nominal_capacity_Ah"), "Ah", "read"));
    }
    rows
}

#[test]
fn published_claims_are_not_contradicted_and_larger_ones_not_supported() {
    let mut faults = Vec::new();
    for (what, sheet, value, unit, attested) in published(&data()) {
        for (times, wrong) in [(1.0, Verdict::Contradicted), (1.15, Verdict::Supported)] {
            let claim = format!("at least {:.3} {unit}", times * value);
            let answer = weighed(&claim, &sheet);
            let miss = 100.0 * (answer.histogram.trials.mean / (times * value) - 1.0);
            println!(
                "{what}: {claim} ({attested}, × {times}): {}, chance {}; draws {:.4} ± {:.2}, {miss:+.1} % of it",
                answer.verdict.word(),
                answer.chance.text,
                answer.histogram.trials.mean,
                answer.histogram.trials.deviation,
            );
            if answer.verdict == wrong {
                faults.push(format!("{what}: {claim}: {}", answer.verdict.word()));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// A graphite cell of 1,000 Wh/L or 400 Wh/kg: of these materials no published cell comes near, whatever the size, and with
/// can and chemistry alone the model says so, and what would have to be true.
#[test]
fn a_graphite_cell_of_1000_wh_per_litre_is_contradicted() {
    for size in ["18 × 65", "21 × 70", "26 × 70", "46 × 80", "46 × 95"] {
        let mut sheet = practice_in(&json!({ "size": size }));
        sheet["anode"]["mix"][0]["material"] = json!("graphite");
        for sheet in [sheet.clone(), with(sheet, &json!({ "purpose": "energy" }))] {
            for claim in ["1000 Wh/L", "at least 1000 Wh/L", "400 Wh/kg", "at least 400 Wh/kg"] {
                let answer = weighed(claim, &sheet);
                let text = &answer.answer.text;
                println!("{size}, {}: {claim}: chance {:.4}; {text}", sheet["purpose"], answer.chance.value);
                assert_eq!(answer.verdict, Verdict::Contradicted, "{size}, {claim}: {text}");
                let nearest = answer.nearest.expect("a cell at the edge");
                let words = [
                    "The most probable cell at the edge of the claim lies",
                    "standard deviations from the best estimate does not",
                ];
                assert!(words.iter().any(|words| text.contains(words)), "{text}");
                assert!(nearest.beta > 2.3 && nearest.rows.len() >= 3, "{nearest:?}");
            }
        }
    }
}
