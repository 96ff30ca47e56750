//! Whether chances are what they say: synthetic cells of the prior, and claims about them.

use super::evidence::Evidence;
use super::panel::Panel;
use super::together::{Study, Way};
use super::{Claim, List, Said};
use crate::cell::draft::Draft;
use roulade_stats::executor::alone;
use roulade_stats::propagation::conditioned::Weights;
use roulade_stats::propagation::deviate::Stream;
use serde_json::json;
use std::fmt::Write as _;

const CELLS: usize = 2000;
/// Twice that, and some that do not hold together.
const DRAWN: u32 = 4400;
const BINS: usize = 10;

pub(super) fn can_and_chemistry() -> Draft {
    let sheet = json!({
        "can": { "size": "21 × 70" },
        "cathode": { "mix": [{ "material": "NMC811" }, { "material": "PVDF", "share": "3 .. 5 %" }] },
        "anode": { "mix": [{ "material": "graphite" }, { "material": "CMC", "share": "2 .. 3 %" }] },
    });
    Draft::parse(&sheet.to_string()).unwrap()
}

/// Of claims that were given a chance, the share that is true, in bins of the chance.
#[derive(Default)]
struct Bins([(u32, u32, f64); BINS]);

impl Bins {
    fn add(&mut self, given: f64, held: bool) {
        let mut edges = (1..BINS).map(|i| i as f64 / BINS as f64);
        let bin = &mut self.0[edges.position(|edge| given < edge).unwrap_or(BINS - 1)];
        *bin = (bin.0 + 1, bin.1 + u32::from(held), bin.2 + given);
    }

    /// As a table, and the bins that are off by more than sampling explains: 3.3 standard errors, one bin in a thousand, with
    /// that of the chances themselves, `own`.
    fn summary(&self, name: &str, own: f64) -> (String, u32) {
        let mut table = format!("{name}\ngiven     true      claims\n");
        let mut faults = 0;
        for (count, held, given) in self.0 {
            let n = f64::from(count).max(1.0);
            let (given, held) = (given / n, f64::from(held) / n);
            writeln!(table, "{:5.1} %   {:5.1} %   {count}", 100.0 * given, 100.0 * held).unwrap();
            let error = (given * (1.0 - given) / n + own * own).sqrt();
            faults += u32::from(count > 0 && (given - held).abs() > 3.3 * error);
        }
        (table, faults)
    }
}

/// The same for one figure of a list given several others, narrow enough together that hardly a draw of the prior meets them:
/// draws steered towards them, and what is said to first order.
#[test]
#[allow(clippy::print_stdout, reason = "a reader wants to see the table, not only that it passes")]
fn of_figures_given_several_others_that_share_is_true() {
    const LISTS: usize = 500;
    const DRAWS: u32 = 2000;
    let list =
        List::read(&[Said::Words("at least 1 Wh/L, 5 Ah, 70 g, 3.6 V, 30 mΩ, continuous 10 A".to_owned())]);
    let mut panel = Panel::of(list.unwrap().claims, can_and_chemistry()).unwrap();
    let prior = panel.drawn(None, DRAWS, (1, 0), &alone());
    let cells = panel.drawn(None, 700, (2, 0), &alone()).outputs;
    assert!(cells.len() >= LISTS, "{}", cells.len());
    let (mut stream, mut bins, mut effective) = (Stream::of(3, 0), Bins::default(), Vec::new());
    let mut ways = [0_u32; 3];
    for (number, cell) in (0_u64..).zip(cells.iter().take(LISTS)) {
        for (claim, truth) in panel.claims.iter_mut().zip(cell).skip(1) {
            let sigma = Evidence::of(claim).sigma / claim.value;
            let declared = truth * (1.0 + sigma * stream.normal()) / claim.unit.in_si();
            let text = format!("{declared:.3} {} {}", claim.unit.symbol(), claim.figure.id);
            *claim = Claim::read(&Said::Words(text)).unwrap();
        }
        let figure = |panel: &Panel| {
            let evidence: Vec<Evidence> = panel.claims.iter().map(Evidence::of).collect();
            let plan = (DRAWS, number + 10);
            Study { panel, evidence: &evidence, prior: &prior, plan, executor: &alone() }.figure(0).unwrap()
        };
        let given = figure(&panel).given;
        let edge = given.mean + 1.3 * given.u * stream.normal();
        let text = format!("at least {} Wh/L", edge / panel.claims[0].unit.in_si());
        panel.claims[0] = Claim::read(&Said::Words(text)).unwrap();
        let figure_given = figure(&panel);
        ways[match figure_given.way {
            Way::Weighted => 0,
            Way::Steered => 1,
            Way::FirstOrder => 2,
        }] += 1;
        effective.push(figure_given.effective);
        bins.add(figure_given.given_chance, cell[0] >= panel.claims[0].value);
    }
    effective.sort_by(f64::total_cmp);
    let middle = effective[LISTS / 2];
    let (table, faults) =
        bins.summary("energy density given five declared figures", (0.5 / middle.sqrt()).min(0.05));
    println!("{table}\neffective draws {middle:.0} at the median; weighted, steered, first order: {ways:?}");
    assert!(ways[1] > 100, "{ways:?}");
    assert_eq!(faults, 0, "\n{table}");
}

/// Cells drawn from the prior with one seed, answers from draws of it with another. A claim is a value that does not come from
/// the cell itself, as a maker's wish does not: the figure of another cell, or one around what the answer expects; one that
/// came from the cell would be evidence of it. A declared capacity does come from the cell, with its error and rounding.
#[test]
#[allow(clippy::print_stdout, reason = "a reader wants to see the table, not only that it passes")]
fn of_claims_given_a_chance_that_share_is_true() {
    let list = List::read(&[Said::Words("at least 1 Wh/L, 5.0 Ah".to_owned())]).unwrap();
    let capacity = list.claims[1].clone();
    let panel = Panel::of(list.claims, can_and_chemistry()).unwrap();
    let prior = panel.drawn(None, 8000, (1, 0), &alone()).outputs;
    let cells = panel.drawn(None, DRAWN, (2, 0), &alone()).outputs;
    assert!(cells.len() >= 2 * CELLS, "{}", cells.len());
    let mut sorted: Vec<f64> = prior.iter().map(|out| out[0]).collect();
    sorted.sort_by(f64::total_cmp);
    let (mut alone, mut given) = (Bins::default(), Bins::default());
    let (mut stream, mut effective) = (Stream::of(3, 0), Vec::new());
    for (cell, other) in cells.iter().zip(&cells[CELLS..]).take(CELLS) {
        let truth = cell[0];
        let edge = other[0];
        let above = sorted.len() - sorted.partition_point(|x| *x < edge);
        alone.add(above as f64 / sorted.len() as f64, truth >= edge);
        let declared = cell[1] * (1.0 + 0.012 * stream.normal());
        let ah = format!("{:.1} Ah", declared / capacity.unit.in_si());
        let evidence = Evidence::of(&Claim::read(&Said::Words(ah)).unwrap());
        let weights = Weights::of(prior.iter().map(|out| evidence.likelihood(out[1])).collect());
        effective.push(weights.effective);
        let mean = weights.mean(prior.iter().map(|out| out[0]));
        let u = weights.mean(prior.iter().map(|out| (out[0] - mean) * (out[0] - mean))).sqrt();
        let edge = mean + 1.3 * u * stream.normal();
        given.add(weights.mean(prior.iter().map(|out| f64::from(u8::from(out[0] >= edge)))), truth >= edge);
    }
    effective.sort_by(f64::total_cmp);
    // The chances' own standard errors: of the prior's draws, and of those that a declared capacity leaves.
    let (own, left) = (0.5 / 8000f64.sqrt(), 0.5 / effective[CELLS / 2].sqrt());
    let (first, faults) = alone.summary("energy density from can and chemistry", own);
    let (second, more) = given.summary("energy density given a declared capacity", left.min(0.03));
    println!("{first}\n{second}\neffective draws: {:.0} of 8000 at the median", effective[CELLS / 2]);
    assert_eq!(faults + more, 0, "\n{first}\n{second}");
    // Given the capacity, far less is open: without that conditioning the second table would not hold.
    assert!(effective[CELLS / 2] < 4000.0);
}
