//! What a map costs: one cell of another size, the whole of 200 × 200, its lines, its answer as text.
//!
//! `cargo bench -p roulade-answer --bench sizes`.

use divan::{Bencher, black_box, counter::ItemsCount};
use roulade::cell::draft::Draft;
use roulade::cell::figures::definition;
use roulade::quantity::units::Length;
use roulade::study::form_factors::{Axis, Grid, Hold, Recipe};
use roulade_answer::ask;
use roulade_stats::contour::Heights;
use roulade_stats::executor::alone;

const SHEET: &str = include_str!("../../../demo/marram-a.json");

fn main() {
    divan::main();
}

fn draft() -> Draft {
    Draft::parse(SHEET).expect("the demo sheet is sound")
}

fn axes(draft: &Draft, steps: u32) -> [Axis; 2] {
    let axis = |key, from, to| {
        let input = draft.inputs().iter().position(|input| input.key == key).expect("a can has its sizes");
        Axis { input, from, to, steps }
    };
    [axis("can.diameter", 0.016, 0.050), axis("can.height", 0.050, 0.130)]
}

#[divan::bench]
fn one_cell(bencher: Bencher) {
    let draft = draft();
    let recipe = Recipe::of(&draft, &draft.values(), Hold::default()).expect("it holds together");
    let mm = Length::new::<uom::si::length::millimeter>;
    bencher.bench(|| recipe.sized(black_box(mm(21.0)), black_box(mm(70.0))));
}

#[divan::bench(args = [50, 200])]
fn map_of_two_figures(bencher: Bencher, steps: u32) {
    let draft = draft();
    let recipe = Recipe::of(&draft, &draft.values(), Hold::default()).expect("it holds together");
    let axes = axes(&draft, steps);
    let figures = ["volumetric", "gravimetric"].map(|id| definition(id).expect("a figure"));
    let cells = (steps as usize + 1) * (steps as usize + 1);
    bencher
        .counter(ItemsCount::new(cells))
        .bench(|| Grid::of(&axes, recipe.values(), &figures, |values| recipe.at(values), &alone()));
}

#[divan::bench]
fn lines_of_200_by_200(bencher: Bencher) {
    let draft = draft();
    let recipe = Recipe::of(&draft, &draft.values(), Hold::default()).expect("it holds together");
    let figure = [definition("volumetric").expect("a figure")];
    let grid = Grid::of(&axes(&draft, 200), recipe.values(), &figure, |values| recipe.at(values), &alone());
    // Every 20 Wh/L from 420 to 660.
    let levels: Vec<f64> = (0..13).map(|i| 3.6e6 * (420.0 + 20.0 * f64::from(i))).collect();
    let [x, y] = grid.axes.as_slice() else { return };
    let field = Heights { x, y, heights: &grid.figures[0] };
    bencher.bench(|| levels.iter().map(|level| field.lines(*level).len()).sum::<usize>());
}

/// Everything that the page is given, the usual figures with their lines and the common sizes with uncertainties.
#[divan::bench(args = [60, 200], sample_count = 20)]
fn question_to_answer(bencher: Bencher, steps: u32) {
    let question = format!(
        r#"{{"sheet": {SHEET}, "diameter": {{"from": "16 mm", "to": "50 mm", "steps": {steps}}},
            "height": {{"from": "50 mm", "to": "130 mm", "steps": {steps}}}}}"#
    );
    bencher.bench(|| ask::map(black_box(&question), &alone()));
}
