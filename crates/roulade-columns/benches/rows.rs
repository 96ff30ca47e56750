//! Many cells around one sheet: read sheet by sheet, as columns of numbers, and as comma-separated values, in one run.
//!
//! `cargo bench -p roulade-columns --bench rows`. Sheets per second and core are what a comparison of the three gives: all of
//! it is work of one thread here.

use divan::{Bencher, black_box, counter::ItemsCount};
use rayon::ThreadPoolBuilder;
use roulade::Sheet;
use roulade::cell::draft::Draft;
use roulade::cell::figures::wanted;
use roulade::material::CurveCache;
use roulade_answer::answer::plain;
use roulade_columns::csv;
use roulade_columns::head::Head;
use roulade_columns::pieces;
use roulade_columns::plan::{Cell, Plan, Rows};
use std::fmt::Write as _;

const ROWS: usize = 10_000;
const SHEETS: [(&str, &str); 2] = [
    ("marram a", include_str!("../../../demo/marram-a.json")),
    ("marram b", include_str!("../../../demo/marram-b.json")),
];
const NAMES: [&str; 2] = ["marram a", "marram b"];
const HEADS: [(&str, f64); 5] = [
    ("cathode.loading (mg/cm²)", 21.0),
    ("can.wall (mm)", 0.5),
    ("cathode.foil.thickness (µm)", 12.0),
    ("anode.foil.thickness (µm)", 8.0),
    ("separator.thickness (µm)", 12.0),
];

fn main() {
    divan::main();
}

fn text(name: &str) -> &'static str {
    SHEETS.iter().find(|(known, _)| *known == name).map_or("", |(_, text)| text)
}

fn sheet(name: &str) -> Sheet {
    Sheet::parse(text(name)).expect("the demo sheet is sound")
}

/// Within some per cent of what stands in the sheets, in steps that have many digits.
fn value(row: usize, column: usize) -> f64 {
    HEADS[column].1 * (1.0 + 0.02 * ((row * (7 + 2 * column)) % 1009) as f64 / 1009.0)
}

struct Numbers;

impl Rows for Numbers {
    fn count(&self) -> usize {
        ROWS
    }

    fn cell(&self, row: usize, column: usize) -> Cell<'_> {
        Cell::Number(value(row, column))
    }
}

fn plan(name: &str) -> Plan {
    let heads = HEADS.iter().map(|(head, _)| Head::read(head).expect("a head")).collect();
    Plan::new(sheet(name), heads, &[], false).expect("the heads are keys")
}

fn alone() -> rayon::ThreadPool {
    ThreadPoolBuilder::new().num_threads(1).build().expect("a thread")
}

/// As a line of a batch: JSON text to figures.
#[divan::bench(args = NAMES, sample_count = 10)]
fn sheets(bencher: Bencher, name: &str) {
    const FEW: usize = 200;
    let (curves, figures) = (CurveCache::full(), wanted(&[], "").expect("figures"));
    bencher.counter(ItemsCount::new(FEW)).bench(|| {
        for _ in 0..FEW {
            let draft = Draft::parse_with(black_box(text(name)), &curves).expect("the demo sheet is sound");
            black_box(plain(&draft, &figures, false)).expect("a cell");
        }
    });
}

/// Columns of numbers to columns of figures.
#[divan::bench(args = NAMES, sample_count = 10)]
fn numbers(bencher: Bencher, name: &str) {
    let (plan, pool) = (plan(name), alone());
    bencher.counter(ItemsCount::new(ROWS)).bench(|| {
        pool.install(|| {
            let pieces = pieces::each(&plan, &Numbers, 0, |piece| piece);
            assert!(pieces.iter().all(|piece| piece.refused.is_empty()), "{:?}", pieces[0].refused.first());
            pieces
        })
    });
}

/// Comma-separated values to comma-separated values; reading ahead is a second thread's, and counts.
#[divan::bench(args = NAMES, sample_count = 10)]
fn comma_separated(bencher: Bencher, name: &str) {
    let mut table = HEADS.map(|(head, _)| head).join(",");
    for row in 0..ROWS {
        let cells: Vec<String> =
            (0..HEADS.len()).map(|column| format!("{:.5}", value(row, column))).collect();
        let _ = write!(table, "\n{}", cells.join(","));
    }
    let (sheet, pool) = (sheet(name), alone());
    bencher.counter(ItemsCount::new(ROWS)).bench(|| {
        pool.install(|| {
            let mut out = Vec::new();
            let count = csv::run(sheet.clone(), table.as_bytes(), &mut out, &csv::Asked::default(), |_| {});
            assert_eq!(count.map(|count| count.answered), Ok(ROWS as u64));
            out
        })
    });
}
