use super::super::Comparison;
use super::*;
use crate::test_support::{compared, demo, draft, read, sheet, with};
use roulade::sheet::{Shape, Sheet, parse};
use roulade::study::remove::without;
use roulade_stats::executor::alone;
use serde_json::json;

const FEW: (Option<u32>, Option<u64>) = (Some(4000), Some(7));

fn of<'a>(answer: &'a SampledAnswer, id: &str, of: WhichCell) -> &'a DrawnFigure {
    answer.figures.iter().find(|figure| figure.id == id && figure.of == of).expect(id)
}

fn uncertain() -> Draft {
    draft(&[
        ("cathode/loading", json!("20 ± 0.1 mg/cm2")),
        ("can/height", json!("95 ± 0.05 mm")),
        ("cathode/foil/thickness", json!("11.5 .. 12.5 µm")),
    ])
}

#[test]
fn first_order_is_that_of_the_estimate_and_the_draws_agree_where_nothing_bends() {
    let cell = uncertain();
    // So many that chance alone does not tell the two apart: of 4,000 it does in one of ten.
    let answer = SampledAnswer::of(&cell, None, &[], (Some(60_000), Some(7)), &alone()).unwrap();
    let estimate = super::super::EstimateAnswer::of(&cell).unwrap();
    assert_eq!(answer.figures.len(), estimate.headline.len());
    for (drawn, row) in answer.figures.iter().zip(&estimate.headline) {
        assert_eq!(drawn.id, row.id);
        assert_eq!(drawn.first_order, row.figure, "{}", row.id);
        assert_eq!(drawn.first_order.low.is_some(), drawn.drawn.u.is_some());
        let [mean, u, ..] = drawn.errors;
        assert!((drawn.drawn.value - row.figure.value).abs() <= 4.0 * mean + 1e-3 * u, "{}", row.id);
    }
    let envelope = of(&answer, "envelope", WhichCell::First);
    assert_ne!(envelope.verdict, IntervalVerdict::Differs, "{envelope:?}");
    assert!(
        answer.remarks.is_empty() || answer.remarks[0].starts_with("Too few trials"),
        "{:?}",
        answer.remarks
    );
    assert!(
        answer.answer.text.starts_with("In 60000 Monte Carlo trials by hand gives "),
        "{}",
        answer.answer.text
    );
    assert_eq!(answer.answer.sensitivity, estimate.answer.sensitivity);
}

#[test]
fn an_exact_cell_does_not_spread() {
    // Nothing of its can has an uncertainty.
    let exact = draft(&[]);
    let answer = SampledAnswer::of(&exact, None, &["envelope".to_owned()], FEW, &alone()).unwrap();
    let can = of(&answer, "envelope", WhichCell::First);
    assert_eq!(
        (can.drawn.u, can.verdict, can.interval.as_str()),
        (None, IntervalVerdict::Agrees, can.drawn.text.as_str())
    );
}

/// A void height of 0.1 ± 0.1 mm ends at none, and a coated width of 84 ± 3 mm where it just fits in: no trial falls away.
#[test]
fn draws_keep_to_what_fits() {
    let spaced = draft(&[("cathode/width", json!(null)), ("void_height", json!("0.1 ± 0.1 mm"))]);
    let tall = draft(&[("cathode/width", json!("84 ± 3 mm"))]);
    for cell in [spaced, tall] {
        let answer = SampledAnswer::of(&cell, None, &[], FEW, &alone()).unwrap();
        assert!(answer.impossible.abs() < 1e-12 && answer.apart.is_empty(), "{}", answer.impossible);
    }
}

/// Full at 4.1 V: one trial in twenty ends its discharge above that, and the answer says of which entry that comes.
#[test]
fn an_entry_that_costs_trials_is_named() {
    let wide = draft(&[("voltage/discharge_cut_off", json!("3.6 ± 0.3 V"))]);
    let answer = SampledAnswer::of(&wide, None, &[], FEW, &alone()).unwrap();
    let remark = answer.remarks.iter().find(|remark| remark.starts_with("Trials without an answer"));
    let remark = remark.unwrap_or_else(|| panic!("{:?} {:?}", answer.remarks, answer.apart));
    assert!(remark.contains("(voltage.discharge_cut_off), which is large in them: state it"), "{remark}");
    let apart: f64 = answer.apart.iter().map(|trials| trials.share).sum();
    assert!((0.03..0.07).contains(&apart), "{apart}");
}

#[test]
fn two_cells_are_drawn_as_they_are_compared() {
    let (first, second) = (demo("marram a"), demo("marram b"));
    let answer = SampledAnswer::of(&first, Some(&second), &[], FEW, &alone()).unwrap();
    let comparison = Comparison::of(&first, &second).unwrap();
    let bought = comparison.reclaim.iter().find(|reclaim| reclaim.label == "as designed").unwrap();
    for id in ["volumetric", "gravimetric", "mass", "capacity"] {
        let change = comparison.figures.iter().find(|change| change.id == id).unwrap();
        assert_eq!(of(&answer, id, WhichCell::Change).first_order, change.change, "{id}");
        assert_eq!(of(&answer, id, WhichCell::Second).first_order, change.second, "{id}");
        if let Some(change) = bought.rows.iter().find(|change| change.id == id) {
            assert_eq!(of(&answer, id, WhichCell::Hardware).first_order, change.change, "{id}");
        }
    }
    // Hardware moves no electrode's potential: what rounding leaves of the difference is none, in every draw.
    let voltage = of(&answer, "mean_voltage", WhichCell::Hardware);
    assert_eq!((voltage.drawn.value, voltage.drawn.u, voltage.verdict), (0.0, None, IntervalVerdict::Agrees));
    assert!(
        answer.answer.text.contains(" Of that, the changed parts alone contribute +"),
        "{}",
        answer.answer.text
    );
    assert_eq!(answer.cells, ["Marram A", "Marram B"]);
}

/// The second cell is the first without its plate, and its share of the height was chosen.
#[test]
fn what_was_chosen_is_held_when_the_rest_moves() {
    let before = with(&[
        ("cathode/width", json!({ "value": "80 ± 0.1 mm", "from": "measured" })),
        ("parts/1/axial_clearance", json!({ "value": "1.5 ± 0.1 mm", "from": "measured" })),
    ]);
    let sheet = Sheet::whole(parse(&before.to_string(), "a sheet").unwrap(), &mut Problems::default());
    let after = serde_json::to_value(without(sheet.unwrap(), &["plate"], None, 1.0).unwrap()).unwrap();
    let answer =
        SampledAnswer::of(&read(&before).unwrap(), Some(&read(&after).unwrap()), &[], FEW, &alone()).unwrap();
    assert!(!answer.figures.iter().any(|figure| figure.of == WhichCell::Hardware));
    let comparison = compared(&before, &after);
    let change = comparison.figures.iter().find(|change| change.id == "volumetric").unwrap();
    let drawn = of(&answer, "volumetric", WhichCell::Change);
    assert_eq!(drawn.first_order, change.change);
    // The gain is by the height freed, 2 ± 0.1 mm of 80: its spread is that of the axial clearance.
    let relative = drawn.drawn.u.unwrap() / drawn.drawn.value;
    assert!((relative - 0.05).abs() < 0.005, "{relative}");
}

#[test]
fn strange_questions_are_refused() {
    let cell = draft(&[]);
    let diagnostics = |figures: &[&str], plan| {
        let figures: Vec<String> = figures.iter().map(|id| (*id).to_owned()).collect();
        let problems = SampledAnswer::of(&cell, None, &figures, plan, &alone()).unwrap_err();
        problems.0.into_iter().map(|problem| problem.to_string()).collect::<Vec<_>>()
    };
    assert_eq!(
        diagnostics(&[], (Some(999), None)),
        ["draws: found 999; expected from 1000 to 400000 trials"]
    );
    let unknown = diagnostics(&["volumetrik", "mass", "colour"], FEW);
    assert!(
        unknown[0].contains("figures: found \"volumetrik\"") && unknown[0].contains("perhaps \"volumetric\"")
    );
    assert_eq!(unknown.len(), 2);
    let over = read(&sheet()).unwrap();
    let none =
        SampledAnswer::of(&draft(&[("cathode/width", json!("90 mm"))]), Some(&over), &[], FEW, &alone());
    assert!(none.unwrap_err().0[0].place.starts_with("sheet"));
    let twice = ["mass".to_owned(), "mass".to_owned()];
    assert_eq!(SampledAnswer::of(&cell, None, &twice, FEW, &alone()).unwrap().figures.len(), 1);
}

#[test]
fn correlated_entries_are_drawn_together() {
    let of_r = |r: f64| {
        let cell = draft(&[
            ("cathode/loading", json!("20 ± 0.2 mg/cm2")),
            ("cathode/thickness", json!("50 .. 51 µm")),
            (
                "correlated",
                json!({ "paths": ["cathode.loading", "cathode.thickness"], "coefficients": [[r]] }),
            ),
        ]);
        let answer = SampledAnswer::of(&cell, None, &["cathode.porosity".to_owned()], FEW, &alone()).unwrap();
        let figure = answer.figures[0].clone();
        (figure.drawn.u.unwrap(), figure.first_order.u.unwrap(), figure.errors[1], answer.remarks)
    };
    let (apart, first, error, _) = of_r(0.0);
    assert!((apart - first).abs() < 4.0 * error, "{apart} {first}");
    // More coating of the same density: what the two have together cancels, all but the copula's few per cent. By hand 0.47 of
    // what they have apart: √(1 + 0.57² − 2·0.9·0.57) of √(1 + 0.57²), per cent.
    let (together, first, error, remarks) = of_r(0.9);
    assert!(
        together < 0.55 * apart && (together - first).abs() < 4.0 * error + 0.1 * first,
        "{together} {first}"
    );
    assert!(remarks.iter().any(|remark| remark.contains("Gaussian copula")), "{remarks:?}");
}
