//! Large bench sheets: memory and time.

use super::draw::{Throw, design, held, readable, series, written};
use roulade::study::bench::{Options, reconcile};
use roulade::study::readings::Reading;
use roulade_stats::least_squares::Loss;

/// Ten thousand readings, of twenty quantities off ten specimens, are answered; the time is printed, and the largest resident
/// memory of this process where the system tells it. What a fit works with does not grow with their number, and the tests of
/// readings go with it.
#[test]
fn ten_thousand_readings() {
    let (sheet, draft) = series();
    let mut throw = Throw::seeded(21);
    let readable = readable(&draft);
    let (_, worked) = design(&draft, &mut throw);
    let values = draft.values();
    let count: usize = std::env::var("READINGS").ok().and_then(|n| n.parse().ok()).unwrap_or(10_000);
    let mut readings: Vec<Reading> = Vec::new();
    for i in 0..count {
        let asked = &readable[i % 20 * 3];
        let value = asked.predict(&draft, &values, &worked).unwrap();
        let typical = asked.quantity.typical.u(value, asked.quantity.unit);
        readings.push(written(asked, i / 20 % 10, value + 0.5 * typical * throw.normal(), typical));
    }
    let begun = std::time::Instant::now();
    let found = held(&sheet, &draft, &readings, &[]);
    println!("{count} readings: {:.2} s, {} suspect", begun.elapsed().as_secs_f64(), found.outliers.len());
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    println!("  {}", status.lines().find(|line| line.starts_with("VmHWM")).unwrap_or("memory not told"));
    assert_eq!(found.fates.iter().flatten().count(), count);
}

/// Beyond what is stated a sheet is refused in words.
#[test]
fn too_many_readings_are_refused() {
    let (sheet, draft) = series();
    let asked = readable(&draft).remove(0);
    let readings = vec![written(&asked, 0, 0.04, 1e-5); 100_001];
    let options =
        Options { instruments: &[], cell: None, loss: Loss::Normal, independent: false, suspected: &[] };
    let diagnostics = reconcile(&sheet, &draft, &readings, &options).unwrap_err().to_string();
    assert!(
        diagnostics.contains("100001 readings") && diagnostics.contains("at most 100000"),
        "{diagnostics}"
    );
}
