//! What a claim costs: one with 10,000 trials, and a data sheet's four figures together.
//!
//! `cargo bench -p roulade-answer --bench claim`. On one core a claim stays below 150 ms.

use divan::Bencher;
use roulade::cell::draft::Draft;
use roulade::study::claim::{Check, Claim, List, Said, Together};
use roulade_stats::executor::alone;

const SMALL: &str = include_str!("../../../demo/marram-small.json");
/// Can and chemistry: most is drawn from the population.
const BARE: &str = r#"{ "can": { "size": "46 × 80" },
    "cathode": { "mix": [{ "material": "NMC811" }, { "material": "PVDF", "share": "3 .. 5 %" }] },
    "anode": { "mix": [{ "material": "graphite" }, { "material": "CMC", "share": "2 .. 3 %" }] } }"#;
const TRIALS: (u32, u64) = (10_000, 1);

fn main() {
    divan::main();
}

fn said(text: &str) -> Said {
    Said::Words(text.to_owned())
}

#[divan::bench(args = ["marram small", "can and chemistry"], sample_count = 10)]
fn one_claim(bencher: Bencher, name: &str) {
    let sheet = if name == "marram small" { SMALL } else { BARE };
    bencher.with_inputs(|| Draft::parse(sheet).expect("the sheet is sound")).bench_values(|draft| {
        let claim = Claim::read(&said("at least 650 Wh/L")).expect("a claim");
        Check::of(claim, draft, None, TRIALS, &alone()).expect("an answer")
    });
}

#[divan::bench(sample_count = 10)]
fn four_figures_together(bencher: Bencher) {
    bencher.with_inputs(|| Draft::parse(BARE).expect("the sheet is sound")).bench_values(|draft| {
        let list = List::read(&[said("26 Ah, 355 g, 270 Wh/kg, 720 Wh/L")]).expect("a list");
        Together::of(&list, draft, TRIALS, &alone()).expect("an answer")
    });
}
