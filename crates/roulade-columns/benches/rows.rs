//! Many cells around one sheet: read sheet by sheet, as columns of numbers, as comma-separated values and as Arrow record
//! batches, in one run.
//!
//! `cargo bench -p roulade-columns --features arrow --bench rows` prints how many times as many cells as from their sheets each
//! gives, then all times. It is work of one thread, but for reading ahead: cells per second and core.
#![allow(clippy::print_stdout, reason = "a bench's result")]

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
use std::time::Instant;

const ROWS: usize = 10_000;
/// Sheets that are read at a time.
const FEW: usize = 200;
const TURNS: usize = 15;
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
    // As `cargo bench` calls it, not to list or to try.
    if std::env::args().any(|word| word == "--bench") {
        ratios();
    }
    divan::main();
}

fn text(name: &str) -> &'static str {
    SHEETS.iter().find(|(sheet, _)| *sheet == name).map_or("", |(_, text)| text)
}

fn name_of(name: &str) -> &'static str {
    NAMES.into_iter().find(|name_of| *name_of == name).unwrap_or("")
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

/// Lines of a batch: JSON text to figures.
fn lines(name: &'static str) -> impl Fn() {
    let (curves, figures) = (CurveCache::full(), wanted(&[], "").expect("figures"));
    move || {
        for _ in 0..FEW {
            let draft = Draft::parse_with(black_box(text(name)), &curves).expect("the demo sheet is sound");
            black_box(plain(&draft, &figures, false)).expect("a cell");
        }
    }
}

/// Columns of numbers to columns of figures.
fn columns(name: &str) -> impl Fn() {
    let plan = plan(name);
    move || {
        let pieces = pieces::each(&plan, &Numbers, 0, |piece| piece);
        assert!(pieces.iter().all(|piece| piece.refused.is_empty()), "{:?}", pieces[0].refused.first());
        black_box(pieces);
    }
}

/// Comma-separated values to comma-separated values; reading ahead is a second thread's, and counts.
fn csv_to_csv(name: &str) -> impl Fn() {
    let mut table = HEADS.map(|(head, _)| head).join(",");
    for row in 0..ROWS {
        let cells: Vec<String> =
            (0..HEADS.len()).map(|column| format!("{:.5}", value(row, column))).collect();
        let _ = write!(table, "\n{}", cells.join(","));
    }
    let sheet = sheet(name);
    move || {
        let mut out = Vec::new();
        let count = csv::run(sheet.clone(), table.as_bytes(), &mut out, &csv::Asked::default(), |_| {});
        assert_eq!(count.map(|count| count.answered), Ok(ROWS as u64));
        black_box(out);
    }
}

/// A record batch to a record batch, reading the base sheet included.
#[cfg(feature = "arrow")]
fn batch_to_batch(name: &str) -> impl Fn() {
    use arrow_array::{ArrayRef, Float64Array, RecordBatch};
    let column = |column: usize| -> ArrayRef {
        std::sync::Arc::new(Float64Array::from_iter_values((0..ROWS).map(|row| value(row, column))))
    };
    let named = HEADS.iter().enumerate().map(|(i, (head, _))| (*head, column(i)));
    let batch = RecordBatch::try_from_iter(named).expect("columns of one length");
    let sheet = sheet(name);
    move || {
        let heads = roulade_columns::arrow::heads(&batch.schema()).expect("heads");
        let plan = Plan::new(sheet.clone(), heads, &[], false).expect("the heads are keys");
        let roulade_columns::arrow::Figures { batch: made, refused, .. } =
            roulade_columns::arrow::figures(&plan, &batch, 0).expect("figures");
        assert!(refused.is_empty(), "{:?}", refused.first());
        black_box(made);
    }
}

#[divan::bench(args = NAMES, sample_count = 10)]
fn sheets(bencher: Bencher, name: &str) {
    bencher.counter(ItemsCount::new(FEW)).bench(lines(name_of(name)));
}

#[divan::bench(args = NAMES, sample_count = 10)]
fn numbers(bencher: Bencher, name: &str) {
    let (way, pool) = (columns(name), alone());
    bencher.counter(ItemsCount::new(ROWS)).bench(|| pool.install(&way));
}

#[divan::bench(args = NAMES, sample_count = 10)]
fn comma_separated(bencher: Bencher, name: &str) {
    let (way, pool) = (csv_to_csv(name), alone());
    bencher.counter(ItemsCount::new(ROWS)).bench(|| pool.install(&way));
}

#[cfg(feature = "arrow")]
#[divan::bench(args = NAMES, sample_count = 10)]
fn record_batches(bencher: Bencher, name: &str) {
    let (way, pool) = (batch_to_batch(name), alone());
    bencher.counter(ItemsCount::new(ROWS)).bench(|| pool.install(&way));
}

type Way = Box<dyn Fn() + Sync>;

/// How many times as many cells as from their sheets, the ways taking turns so that a busy machine slows them alike; the
/// median of the turns.
fn ratios() {
    let pool = alone();
    for name in NAMES {
        let of_sheets = lines(name);
        let mut ways: Vec<(&str, Way)> =
            vec![("numbers", Box::new(columns(name))), ("CSV", Box::new(csv_to_csv(name)))];
        #[cfg(feature = "arrow")]
        ways.push(("Arrow", Box::new(batch_to_batch(name))));
        let mut found = vec![Vec::new(); ways.len()];
        for _ in 0..TURNS {
            let per_sheet = seconds(&of_sheets) / FEW as f64;
            for ((_, way), found) in ways.iter().zip(&mut found) {
                let per_row = pool.install(|| seconds(way)) / ROWS as f64;
                found.push(per_sheet / per_row);
            }
        }
        for ((way, _), mut found) in ways.iter().zip(found) {
            found.sort_by(f64::total_cmp);
            let middle = found.get(TURNS / 2).copied().unwrap_or(f64::NAN);
            println!("{name}, {way}: {middle:.1} times the cells per second and core of reading each sheet");
        }
    }
}

fn seconds(work: impl Fn()) -> f64 {
    let start = Instant::now();
    work();
    start.elapsed().as_secs_f64()
}
