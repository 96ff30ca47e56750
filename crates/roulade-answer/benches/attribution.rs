//! What it costs to take the difference of two cells apart: few changes with few draws as on the page, many with many.
//!
//! `cargo bench -p roulade-answer --bench attribution`.

use divan::Bencher;
use roulade::sheet::Sheet;
use roulade::study::attribute::Changes;
use roulade::study::attribute::{self, Question};
use roulade_stats::executor::{Executor, alone};

const FIRST: &str = include_str!("../../../demo/marram-a.json");
const SECOND: &str = include_str!("../../../demo/marram-b.json");

fn main() {
    divan::main();
}

/// Two threads, every other piece each.
struct Two;

impl Executor for Two {
    fn each<T: Send>(&self, count: usize, piece: impl Fn(usize) -> T + Sync) -> Vec<T> {
        let half = |odd: usize| (odd..count).step_by(2).map(&piece).collect::<Vec<T>>();
        let (mut even, mut odd) = std::thread::scope(|scope| {
            let odd = scope.spawn(|| half(1));
            (half(0).into_iter(), odd.join().expect("it ends").into_iter())
        });
        (0..count).filter_map(|i| if i % 2 == 0 { even.next() } else { odd.next() }).collect()
    }
}

/// Marram B with other entries besides, and its difference from Marram A as this many changes.
fn cells(count: usize) -> (Sheet, Sheet, Changes) {
    let second = SECOND
        .replace("\"wall\": { \"value\": \"0.50", "\"wall\": { \"value\": \"0.48")
        .replace(
            "\"separator\": { \"thickness\": { \"value\": \"12.0",
            "\"separator\": { \"thickness\": { \"value\": \"11.0",
        )
        .replace("\"core_diameter\": { \"value\": \"4.0", "\"core_diameter\": { \"value\": \"3.5")
        .replace("\"thickness\": { \"value\": \"8.0 ± 0.3", "\"thickness\": { \"value\": \"7.5 ± 0.3");
    let names = [
        "cathode.foil",
        "cathode.loading",
        "cathode.thickness",
        "anode.loading",
        "anode.thickness",
        "can.wall",
        "separator",
        "winding",
        "anode.foil",
    ];
    // Three more are grouped by themselves: the plate, the active material, silicon oxide. The rest of the mix joins.
    let listed: Vec<String> =
        names.iter().map(|key| format!("{{\"name\": \"{key}\", \"keys\": [\"{key}\"]}}")).collect();
    let extra = "{\"name\": \"binders\", \"keys\": [\"cathode.mix[PVDF]\", \"cathode.mix[carbon black]\", \"cathode.foil\"]}";
    let text = if count >= 12 {
        format!("{{\"changes\": [{extra}, {}]}}", listed[1..].join(", "))
    } else {
        "{}".to_owned()
    };
    let second = if count < 8 { SECOND.to_owned() } else { second };
    let sheets = (Sheet::parse(FIRST).expect("sound"), Sheet::parse(&second).expect("sound"));
    let mut changes = Changes::parse(&text).expect("sound");
    if count == 8 {
        let some = "{\"changes\": [{\"name\": \"metal\", \"keys\": [\"can.wall\", \"anode.foil\", \"cathode.foil\"]}]}";
        changes = Changes::parse(some).expect("sound");
    }
    (sheets.0, sheets.1, changes)
}

#[divan::bench(args = [(6, 200), (8, 200)], sample_count = 10)]
fn one_hand(bencher: Bencher, (count, draws): (usize, u32)) {
    run(bencher, count, draws, &alone());
}

#[divan::bench(args = [(12, 250)], sample_count = 1)]
fn two_hands(bencher: Bencher, (count, draws): (usize, u32)) {
    run(bencher, count, draws, &Two);
}

fn run(bencher: Bencher, count: usize, draws: u32, executor: &(impl Executor + Sync)) {
    let (first, second, changes) = cells(count);
    let changes = Some(&changes);
    let question =
        Question { first: &first, second: &second, changes, prices: None, draws, seed: 1, sharing: 1 };
    let found = attribute::changes(&first, &second, changes).expect("sound").1.len();
    assert_eq!(found, count, "the changes are as many as they are called");
    bencher.bench(|| attribute::of(&question, executor));
}
