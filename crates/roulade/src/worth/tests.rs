use super::*;
use crate::by_hand::{sheet, with};
use crate::many::alone;
use serde_json::json;

fn demo(name: &str) -> Sheet {
    crate::ask::sheet(match name {
        "series 1" => include_str!("../../../../demo/series-1.json"),
        "series 2" => include_str!("../../../../demo/series-2.json"),
        _ => include_str!("../../../../demo/small.json"),
    })
    .unwrap()
}

#[test]
fn try_demo() {
    let (a, b) = (demo("series 1"), demo("series 2"));
    let q = Question { first: &a, second: &b, changes: None, prices: None, draws: 200, seed: 1 };
    let start = std::time::Instant::now();
    let w = of(&q, &alone()).unwrap();
    println!("{:?}", start.elapsed());
    for c in &w.changes {
        println!("{} {:?}", c.name, c.edits.iter().map(|i| &w.edits[*i]).collect::<Vec<_>>());
    }
    for f in &w.figures {
        println!("{:?} {} {} {:?}", f.merit, f.first, f.second, f.whole);
        for (c, w) in w.changes.iter().zip(&f.worths) {
            println!(
                "   {} {:?} {:?} {:?}",
                c.name,
                w.worth,
                w.first_in.map(|t| t.value),
                w.last_in.map(|t| t.value)
            );
        }
        for p in &f.pairs {
            println!("    {p:?}");
        }
    }
    println!("{} {:?} {}", w.corners, w.impossible, w.answered);
}
