//! What drawing costs beside the estimate itself: divide by `bare_estimates`, which works out as many cells.
//!
//! `cargo bench -p roulade-answer --bench spread`. First it prints how much sooner two threads are done with the trials of a cell
//! than one, where two cores have nothing else to do: by the clock, and by what of the cores the threads took. The second leaves
//! out the time that others have; but two threads that seldom run at once seldom wait for one another, so on a busy machine it
//! flatters.
#![allow(clippy::print_stdout, reason = "a bench's result")]

use divan::{Bencher, black_box, counter::ItemsCount};
use roulade::cell::draft::Draft;
use roulade::cell::figures::Worked;
use roulade_answer::answer::SampledAnswer;
use roulade_stats::executor::{Executor, alone};
use roulade_stats::propagation::deviate::Stream;
use roulade_stats::propagation::quantile::Tally;
use roulade_stats::propagation::sample::Sampler;
use roulade_stats::uncertain::Uncertain;
use std::sync::atomic::{AtomicUsize, Ordering::Relaxed};
use std::thread;
use std::time::Instant;

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
    // As `cargo bench` calls it, not to list or to try.
    if std::env::args().any(|word| word == "--bench") {
        CELLS.into_iter().for_each(scaling);
    }
    divan::main();
}

/// So many threads, each taking the next piece that nobody has.
struct Threads(usize);

impl Executor for Threads {
    fn each<T: Send>(&self, count: usize, piece: impl Fn(usize) -> T + Sync) -> Vec<T> {
        let next = AtomicUsize::new(0);
        let some = || {
            let pieces = std::iter::from_fn(|| Some(next.fetch_add(1, Relaxed)).filter(|i| *i < count));
            pieces.map(|i| (i, piece(i))).collect::<Vec<_>>()
        };
        let mut all: Vec<(usize, T)> = thread::scope(|scope| {
            let threads: Vec<_> = (0..self.0).map(|_| scope.spawn(some)).collect();
            threads.into_iter().flat_map(|thread| thread.join().expect("no panic")).collect()
        });
        all.sort_by_key(|(i, _)| *i);
        all.into_iter().map(|(_, piece)| piece).collect()
    }
}

/// Seconds that this process has had of all cores, where the system tells (Linux, hundredths of a second).
fn of_all_cores() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/stat").ok()?;
    let fields: Vec<&str> = status.rsplit_once(')')?.1.split_whitespace().collect();
    let ticks = |at: usize| fields.get(at)?.parse::<f64>().ok();
    Some((ticks(11)? + ticks(12)?) / 100.0)
}

fn scaling(cell: Cell) {
    const TURNS: usize = 5;
    let draft = draft(cell.text());
    let [mut clock, mut core] = [[0.0; 2]; 2];
    for _ in 0..TURNS {
        for threads in [1, 2] {
            let (start, before) = (Instant::now(), of_all_cores());
            let answer = SampledAnswer::of(&draft, None, &[], (Some(4 * MANY), None), &Threads(threads));
            black_box(answer).expect("a cell");
            clock[threads - 1] += start.elapsed().as_secs_f64();
            core[threads - 1] +=
                of_all_cores().zip(before).map_or(f64::NAN, |(after, before)| after - before);
        }
    }
    let (by_clock, by_core) = (clock[0] / clock[1], 2.0 * core[0] / core[1]);
    println!(
        "{cell}: two threads are done {by_clock:.2} times as soon by the clock, {by_core:.2} times by their cores"
    );
}

fn draft(text: &str) -> Draft {
    Draft::parse(text).expect("the demo sheet is sound")
}

fn sampler(draft: &Draft) -> Sampler {
    let uncertain: Vec<Uncertain> = draft.inputs().iter().map(|input| input.uncertain).collect();
    Sampler::new(&uncertain, draft.correlation())
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
