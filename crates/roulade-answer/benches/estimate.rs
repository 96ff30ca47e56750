//! What an estimate costs: winding, balance and ledger alone, one design from its numbers, a batch, a comparison.
//!
//! `cargo bench -p roulade-answer`. The allocation columns show that an estimate allocates nothing.

use divan::{AllocProfiler, Bencher, black_box, counter::ItemsCount};
use roulade::cell::balance::Balance;
use roulade::cell::design::Blueprint;
use roulade::cell::design::Design;
use roulade::cell::draft::Draft;
use roulade::cell::estimate::Estimate;
use roulade::cell::ledger;
use roulade::cell::winding::{Reach, Roll};
use roulade_answer::answer::Comparison;

#[global_allocator]
static ALLOCATIONS: AllocProfiler = AllocProfiler::system();

const FIRST: &str = include_str!("../../../demo/marram-a.json");
const SECOND: &str = include_str!("../../../demo/marram-b.json");

fn main() {
    divan::main();
}

fn draft(text: &str) -> Draft {
    Draft::parse(text).expect("the demo sheet is sound")
}

fn design() -> Design {
    draft(SECOND).design().expect("the demo cell holds together")
}

/// The demo cell with its thicknesses, loadings and width moved by up to a per cent.
fn vary(b: &mut Blueprint, base: &Blueprint, i: usize) {
    let part = |k: usize| 0.99 + 0.02 * ((i * (2 * k + 1) * 7919) % 1000) as f64 / 1000.0;
    b.cathode.loading = base.cathode.loading * part(0);
    b.cathode.thickness = base.cathode.thickness * part(0);
    b.anode.loading = base.anode.loading * part(1);
    b.anode.thickness = base.anode.thickness * part(1);
    b.cathode.foil = base.cathode.foil * part(2);
    b.anode.foil = base.anode.foil * part(3);
    b.separator.film = base.separator.film * part(4);
    b.winding.core_diameter = base.winding.core_diameter * part(5);
}

#[divan::bench]
fn one_estimate(bencher: Bencher) {
    let design = design();
    bencher.bench(|| Estimate::of(black_box(&design)));
}

#[divan::bench]
fn winding_alone(bencher: Bencher) {
    let design = design();
    let (lay_up, outer) = (*design.roll().lay_up(), design.roll().outer_radius());
    bencher.bench(|| {
        let roll = Roll::wind(black_box(lay_up), Reach::Radius(black_box(outer))).expect("there is room");
        (*roll.lengths(), roll.facing())
    });
}

#[divan::bench]
fn balance_alone(bencher: Bencher) {
    let design = design();
    bencher.bench(|| Balance::of(black_box(&design)));
}

#[divan::bench]
fn ledger_alone(bencher: Bencher) {
    let design = design();
    bencher.bench(|| ledger::mass(black_box(&design)));
}

#[divan::bench]
fn one_design_and_its_estimate(bencher: Bencher) {
    let base = design().blueprint().clone();
    bencher.bench(|| {
        let design = Design::new(black_box(&base).clone()).expect("it holds together");
        Estimate::of(&design)
    });
}

/// The demo's two cells by their anodes: a blend asks for the potential that its hosts share.
#[divan::bench(sample_count = 20, args = ["graphite", "graphite with silicon oxide"])]
fn batch_of_100_000_varied(bencher: Bencher, anode: &str) {
    const MANY: usize = 100_000;
    let text = if anode == "graphite" { FIRST } else { SECOND };
    let base = draft(text).design().expect("the demo cell holds together").blueprint().clone();
    bencher.counter(ItemsCount::new(MANY)).bench(|| {
        // One set of numbers, changed in place: no reference counts move.
        let mut blueprint = base.clone();
        let mut sum = 0.0;
        for i in 0..MANY {
            vary(&mut blueprint, &base, i);
            let design = Design::new(blueprint).expect("it holds together");
            sum += Estimate::of(&design).expect("it reaches the window").volumetric(&design).value;
            blueprint = design.into_blueprint();
        }
        sum
    });
}

#[divan::bench(sample_count = 50)]
fn one_comparison_with_uncertainties(bencher: Bencher) {
    let (first, second) = (draft(FIRST), draft(SECOND));
    bencher.bench(|| Comparison::of(black_box(&first), black_box(&second)));
}
