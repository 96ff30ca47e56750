//! What the model leaves between a cell whose layers are known and its capacity: the number in the sheet's defaults, estimated.
//!
//! Sources as in [`cells`](super::cells) and [`chen`](super::chen), and the 18 × 65 cell of the open parameter-exchange JSON
//! standard's example files (2022; 2 Ah, LFP and graphite), opened, with its coatings as measured there. The estimate is
//! that of Paule and Mandel, J. Res. Natl. Bur. Stand. 87 (1982) 377, doi 10.6028/jres.087.022: the deviation that, beside
//! each prediction's own uncertainty, makes the sum of squared differences what it should be. It is common to all cells, and
//! each is also predicted with the estimate of the others.

use super::cells::{cell, data, sturm_sheet};
use super::chen;
use super::say::number;
use roulade::cell::draft::Draft;
use roulade::cell::figures::definition;
use roulade_answer::answer::plain;
use serde_json::{Value, json};

/// The opened LFP cell: thicknesses, porosities, active shares of the volume and loading as its file has them. The separator's
/// figures are the file's too, which took them from the literature.
fn exchanged() -> Value {
    // Active material and the rest of the solids by volume, at the middles of the table's densities.
    let coating = |active: &str, share: f64, density: f64, pores: f64, rest: &str, other: f64| {
        let (a, b) = (share * density, (1.0 - share - pores) * other);
        json!({ "mix": [{ "material": active, "share": format!("{:.8}", a / (a + b)) },
                { "material": rest, "share": format!("{:.8}", b / (a + b)) }],
            "porosity": format!("{pores}") })
    };
    let mut sheet = json!({
        "can": { "size": "18 × 65" },
        "cathode": coating("LFP", 0.736, 3.56, 0.204, "PVDF", 1.78),
        "anode": coating("graphite", 0.757, 2.23, 0.207, "CMC", 1.6),
        "separator": { "thickness": "20 µm", "porosity": "47 %" },
    });
    sheet["cathode"]["thickness"] = json!("64.3 µm");
    sheet["anode"]["thickness"] = json!("44.4 µm");
    sheet
}

/// Capacity over the published one, less one, and the model's relative uncertainty without a discrepancy.
fn difference(mut sheet: Value, published: f64) -> (f64, f64) {
    sheet["model"] = json!({ "capacity": "0 %" });
    let draft = Draft::parse(&sheet.to_string()).unwrap_or_else(|problems| panic!("{problems}"));
    let figures = plain(&draft, &[definition("capacity").unwrap()], true).unwrap();
    let (value, u) = (figures[0].value.unwrap(), figures[0].u.unwrap());
    (value / published - 1.0, u / published)
}

/// The deviation τ with Σ d²/(u² + τ²) = n, by bisection; 0 where the uncertainties explain the differences.
fn paule_mandel(rows: &[(f64, f64)]) -> f64 {
    let excess =
        |tau: f64| rows.iter().map(|(d, u)| d * d / (u * u + tau * tau)).sum::<f64>() - rows.len() as f64;
    if excess(0.0) <= 0.0 {
        return 0.0;
    }
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if excess(middle) > 0.0 { low = middle } else { high = middle }
    }
    high
}

#[test]
fn the_discrepancy_is_that_of_published_cells_with_known_layers() {
    let data = data();
    let says = |id: &str, what: &str| number(cell(&data, id), &format!("/to_predict/{what}/value"));
    let cells = [
        (
            "21 × 70 (Chen 2020)",
            difference(
                chen::full_sheet(&data),
                says("wound-21x70-nmc811-graphite-siox", "nominal_capacity_Ah"),
            ),
        ),
        (
            "18 × 65 (Sturm 2019)",
            difference(sturm_sheet(&data), says("wound-18x65-nmc811-silicon-graphite", "capacity_Ah")),
        ),
        ("18 × 65 (example file 2022)", difference(exchanged(), 2.0)),
    ];
    let rows: Vec<(f64, f64)> = cells.iter().map(|(_, row)| *row).collect();
    let all = paule_mandel(&rows);
    for (i, (what, (d, u))) in cells.iter().enumerate() {
        let others: Vec<_> = rows.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, row)| *row).collect();
        let tau = paule_mandel(&others);
        let z = d / (u * u + tau * tau).sqrt();
        assert!(z.abs() < 2.0, "{what}: {z}");
        println!(
            "{what}: {:+.1} % of the published capacity, u {:.1} %; τ of the others {:.1} %, z {z:+.2}",
            100.0 * d,
            100.0 * u,
            100.0 * tau
        );
    }
    println!("τ of all {}: {:.1} %", rows.len(), 100.0 * all);
    // The default of the sheet is this estimate, to half a per cent.
    let stated = Draft::parse(
        r#"{ "can": { "size": "18 × 65" }, "cathode": { "mix": [{ "material": "LFP" }] },
        "anode": { "mix": [{ "material": "graphite" }] } }"#,
    );
    let stated = stated.unwrap();
    let stated = stated.inputs().iter().find(|input| input.path == "model.capacity").unwrap().uncertain.u();
    assert!((stated - all).abs() <= 0.005, "{stated} beside {all}");
}
