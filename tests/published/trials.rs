//! How many Monte Carlo trials fall away: cells that do not hold together though every entry is what it may be.
//!
//! What must fit into what binds the trials' distributions, so that fewer than one in a hundred falls away in the demo and in
//! the cells of [`chen`](super::chen), [`cells`](super::cells) and [`alone`](super::alone), and in the same reconciled.

use super::{alone, cells, chen};
use roulade::cell::draft::Draft;
use roulade::sheet::Sheet;
use roulade_answer::answer::SampledAnswer;
use roulade_stats::executor::alone;
use serde_json::Value;

/// Trials of each cell.
const TRIALS: u32 = 4000;

fn falls_away(name: &str, draft: &Draft) -> f64 {
    let capacity = ["capacity".to_owned()];
    let answer = SampledAnswer::of(draft, None, &capacity, (Some(TRIALS), Some(12)), &self::alone())
        .unwrap_or_else(|problems| panic!("{name}: {problems}"));
    let apart: f64 = answer.apart.iter().map(|apart| apart.share).sum();
    let where_ = answer.apart.iter().map(|apart| format!("{} {:.2} %", apart.place, 100.0 * apart.share));
    let share = answer.impossible + apart;
    println!(
        "{name}: {:.2} % of {TRIALS} trials fall away ({})",
        100.0 * share,
        where_.collect::<Vec<_>>().join(", ")
    );
    share
}

#[test]
fn fewer_than_one_in_a_hundred_trials_fall_away() {
    let data = cells::data();
    let read =
        |sheet: &Value| Draft::parse(&sheet.to_string()).unwrap_or_else(|problems| panic!("{problems}"));
    let mut all: Vec<(String, Draft)> = Vec::new();
    for (name, text) in [
        ("demo, A", include_str!("../../demo/marram-a.json")),
        ("demo, B", include_str!("../../demo/marram-b.json")),
        ("demo, small", include_str!("../../demo/marram-small.json")),
    ] {
        all.push((name.to_owned(), Draft::parse(text).unwrap()));
    }
    for (name, (sheet, readings)) in [
        ("Chen 2020", chen::readings(&data)),
        ("Sturm 2019", cells::sturm_readings(&data)),
        ("Heenan 2020", cells::heenan_readings(&data)),
    ] {
        all.push((name.to_owned(), read(&sheet)));
        let found: Sheet = super::reconciled::held(&sheet, &readings).sheet;
        all.push((format!("{name}, reconciled"), Draft::read(&found).unwrap()));
    }
    all.extend(alone::sheets().into_iter().map(|(name, sheet)| (name, read(&sheet))));
    let most = all.iter().map(|(name, draft)| falls_away(name, draft)).fold(0.0, f64::max);
    assert!(most < 0.01, "{most}");
}
