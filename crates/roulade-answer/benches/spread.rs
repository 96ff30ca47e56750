//! What drawing costs beside the estimate itself: divide by `bare_estimates`, which works out as many cells.
//!
//! `cargo bench -p roulade-answer --bench spread`.

use divan::{Bencher, black_box, counter::ItemsCount};
use roulade::cell::draft::Draft;
use roulade::cell::figures::Worked;
use roulade_answer::answer::SampledAnswer;
use roulade_stats::executor::alone;
use roulade_stats::propagation::deviate::Stream;
use roulade_stats::propagation::quantile::Tally;
use roulade_stats::propagation::sample::Sampler;
use roulade_stats::uncertain::Uncertain;

const MANY: u32 = 100_000;
const FIRST: &str = include_str!("../../../demo/marram-a.json");
const SECOND: &str = include_str!("../../../demo/marram-b.json");
const CELLS: [Cell; 2] = [Cell::Graphite, Cell::Blend];

/// By its anode: one host, or two that share their potential.
#[derive(Clone, Copy, Debug)]
enum Cell {
    Graphite,
    Blend,
}

impl Cell {
    fn text(self) -> &'static str {
        match self {
            Self::Graphite => FIRST,
            Self::Blend => SECOND,
        }
    }
}

impl std::fmt::Display for Cell {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(if matches!(self, Self::Graphite) { "graphite" } else { "graphite with silicon oxide" })
    }
}

fn main() {
    divan::main();
}

fn draft(text: &str) -> Draft {
    Draft::parse(text).expect("the demo sheet is sound")
}

fn sampler(draft: &Draft) -> Sampler {
    let known: Vec<Uncertain> = draft.inputs().iter().map(|input| input.known).collect();
    Sampler::new(&known, draft.correlation())
}

#[divan::bench(sample_count = 5, args = CELLS)]
fn bare_estimates(bencher: Bencher, cell: Cell) {
    let draft = draft(cell.text());
    let values = draft.values();
    bencher
        .counter(ItemsCount::new(MANY))
        .bench(|| (0..MANY).filter(|_| Worked::at(black_box(&draft), black_box(&values)).is_ok()).count());
}

#[divan::bench(sample_count = 5, args = CELLS)]
fn draws_alone(bencher: Bencher, cell: Cell) {
    let sampler = sampler(&draft(cell.text()));
    bencher.counter(ItemsCount::new(MANY)).bench(|| {
        let (mut stream, mut values) = (Stream::of(1, 0), sampler.best().to_vec());
        for _ in 0..MANY {
            sampler.draw(&mut stream, black_box(&mut values));
        }
        values
    });
}

#[divan::bench(sample_count = 5)]
fn tallies_of_seven_figures(bencher: Bencher) {
    bencher.counter(ItemsCount::new(MANY)).bench(|| {
        let mut tallies = vec![Tally::around(0.5, 0.3); 7];
        let mut stream = Stream::of(1, 0);
        for _ in 0..MANY {
            let number = stream.even();
            for tally in &mut tallies {
                tally.add(number);
            }
        }
        tallies
    });
}

#[divan::bench(sample_count = 5, args = CELLS)]
fn one_cell_and_seven_figures(bencher: Bencher, cell: Cell) {
    let draft = draft(cell.text());
    bencher
        .counter(ItemsCount::new(MANY))
        .bench(|| SampledAnswer::of(&draft, None, &[], (Some(MANY), None), &alone()));
}

#[divan::bench(sample_count = 5)]
fn two_cells_and_what_lies_between(bencher: Bencher) {
    let (first, second) = (draft(FIRST), draft(SECOND));
    bencher
        .counter(ItemsCount::new(MANY))
        .bench(|| SampledAnswer::of(&first, Some(&second), &[], (Some(MANY), None), &alone()));
}
