//! What a line of a batch costs: reading a sheet, filling its gaps, its figures alone and with their uncertainties.
//!
//! `cargo bench -p roulade-answer --bench batch`. Marram A is read to the end; Marram B has a blended anode besides, whose
//! curve is made for the shares of each sheet.

use divan::{AllocProfiler, Bencher, black_box};
use roulade::cell::draft::Draft;
use roulade::cell::figures::{Definition, FIGURES, HEADLINE};
use roulade::material::CurveCache;
use roulade::sheet::Sheet;
use roulade_answer::answer::plain;

#[global_allocator]
static ALLOCATIONS: AllocProfiler = AllocProfiler::system();

const SHEETS: [(&str, &str); 2] = [
    ("marram a", include_str!("../../../demo/marram-a.json")),
    ("marram b", include_str!("../../../demo/marram-b.json")),
];
const NAMES: [&str; 2] = ["marram a", "marram b"];

fn main() {
    divan::main();
}

fn text(name: &str) -> &'static str {
    SHEETS.iter().find(|(sheet, _)| *sheet == name).map_or("", |(_, text)| text)
}

fn draft(name: &str, curve_cache: &CurveCache) -> Draft {
    Draft::parse_with(text(name), curve_cache).expect("the demo sheet is sound")
}

fn headline() -> Vec<&'static Definition> {
    FIGURES.iter().filter(|figure| figure.table == HEADLINE).collect()
}

/// JSON text to the entries of a sheet.
#[divan::bench(args = NAMES)]
fn entries(bencher: Bencher, name: &str) {
    bencher.bench(|| Sheet::parse(black_box(text(name))));
}

/// JSON text to numbers, every gap filled.
#[divan::bench(args = NAMES)]
fn numbers(bencher: Bencher, name: &str) {
    let curve_cache = CurveCache::full();
    bencher.bench(|| draft(black_box(name), &curve_cache));
}

/// Numbers to figures.
#[divan::bench(args = NAMES)]
fn figures(bencher: Bencher, name: &str) {
    let (draft, figures) = (draft(name, &CurveCache::full()), headline());
    bencher.bench(|| plain(black_box(&draft), &figures, false));
}

/// The same with uncertainties: a hundred inputs and more, each moved both ways.
#[divan::bench(args = NAMES)]
fn figures_with_uncertainties(bencher: Bencher, name: &str) {
    let (draft, figures) = (draft(name, &CurveCache::full()), headline());
    bencher.bench(|| plain(black_box(&draft), &figures, true));
}
