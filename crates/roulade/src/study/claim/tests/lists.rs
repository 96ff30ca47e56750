//! Several declared figures together.

use super::super::calibration::can_and_chemistry;
use super::super::together::Known;
use super::*;

fn together(text: &str, draws: u32) -> Together {
    let list = List::read(&[Said::Words(text.to_owned())]).unwrap();
    Together::of(&list, can_and_chemistry(), (draws, 1), &alone()).unwrap()
}

/// Few draws steered towards what is declared say what very many of the prior say by their weights alone.
#[test]
fn steered_draws_say_what_many_say() {
    let text = "4.9 Ah, 66 g, at least 300 Wh/kg";
    let (few, many) = (together(text, 2000), together(text, 60_000));
    assert!(few.figures.iter().any(|one| one.way == Way::Steered), "{:?}", few.figures);
    // What even steered draws hardly reach is told to first order, which is no count of draws.
    let steered = few.figures.iter().zip(&many.figures).filter(|(few, _)| few.way == Way::Steered);
    for (few, many) in steered {
        let error = many.given.u / few.effective.sqrt() + many.given.u / many.effective.sqrt();
        assert!((few.given.mean - many.given.mean).abs() < 4.0 * error, "{few:?} {many:?}");
        assert!(
            (few.given_chance - many.given_chance).abs() < 4.0 * 0.5 / few.effective.sqrt(),
            "{few:?} {many:?}"
        );
    }
}

#[test]
fn what_is_declared_beside_a_figure_is_evidence_of_it() {
    let found = together("5.0 Ah, 68 g, 18.2 Wh, 3.64 V", 2000);
    assert_eq!(found.consistency.agreement, Agreement::Agree);
    let energy = &found.figures[2];
    // Capacity and voltage leave little of the spread of an energy, and nothing contradicts it.
    assert!(energy.given.u < 0.25 * energy.expected.u, "{energy:?}");
    assert!(energy.given_chance > 0.2 && found.chance > CONTRADICTED, "{energy:?} {}", found.chance);
    let areal = found.implied.iter().find(|one| one.figure.id == "balance.cathode_areal").unwrap();
    // It is log-normal, so its spread is held against its mean.
    let share = |uncertain: Known| uncertain.u / uncertain.mean;
    assert!(share(areal.after) < share(areal.before) && areal.after.mean > areal.before.mean, "{areal:?}");
    // Twice the capacity in the same mass: arithmetic alone refuses it, and so does the prior.
    let wrong = together("10 Ah, 68 g, 270 Wh/kg", 2000);
    assert_eq!((wrong.verdict, wrong.consistency.agreement), (Verdict::Contradicted, Agreement::Disagree));
    assert!(wrong.chance < CONTRADICTED && wrong.nearest.is_some(), "{}", wrong.chance);
    // A bound that an ordinary cell meets by far says nothing.
    let loose = together("at least 1 Ah, at most 200 g", 500);
    assert_eq!(loose.verdict, Verdict::Supported);
}

#[test]
fn a_size_that_is_not_the_sheets_is_refused() {
    let list = List::read(&[Said::Words("46 × 80, 26 Ah, 355 g".to_owned())]).unwrap();
    let problems = Together::of(&list, demo("small"), (200, 1), &alone()).unwrap_err();
    assert!(
        problems.to_string().contains("claim: found a size of 46 × 80 where the sheet's can measures"),
        "{problems}"
    );
}

#[test]
fn conditions_of_each_figure_are_its_own() {
    let found = together("4.8 Ah, 4.7 Ah at 1 It, 4.2 Ah charged to 4.1 V, 4.7 Ah minimum", 500);
    let best: Vec<f64> = found.figures.iter().map(|one| one.expected.mean).collect();
    assert!(best[1] < best[0] && best[2] < best[0], "{best:?}");
    assert_relative_eq!(best[3] / best[0], 0.98, max_relative = 1e-9);
}

/// A figure has one chance, asked for alone or in a list: the trials differ, the question does not.
#[test]
fn alone_and_in_a_list_a_figure_has_the_same_chance() {
    for words in ["4.5 Ah", "70 g", "25 mΩ", "12 A", "at least 4.6 Ah"] {
        let list = together(&format!("{words}, at most 10 kg"), 4000);
        let claim = read(words).unwrap();
        let single = Check::of(claim, can_and_chemistry(), None, (4000, 2), &alone()).unwrap().chance;
        let listed = list.figures[0].chance;
        // Five standard errors of both numbers of trials; a chance on two sides is twice that on one.
        let error = 10.0 * (single * (1.0 - single) * 2.0 / 4000.0).sqrt() + 0.005;
        assert!((single - listed).abs() < error, "{words}: {single} alone, {listed} in a list");
    }
}

/// Charge transfer goes with one over the thickness of the coating: a law of coatings that reaches down to nothing would give
/// the resistance no mean at all.
#[test]
fn of_a_resistance_that_nobody_read_something_is_known() {
    let list = List::read(&[Said::Words("40 mΩ, at most 10 kg".to_owned())]).unwrap();
    let found = Together::of(&list, can_and_chemistry(), (20_000, 3), &alone()).unwrap();
    let expected = found.figures[0].expected;
    assert!(expected.u < 0.35 * expected.mean, "{expected:?}");
}

/// However far beyond reach a claim is, the nearest cell has no entry that cannot be.
#[test]
fn the_nearest_cell_is_made_of_what_can_be() {
    let found = together("at least 12 Ah, at most 40 g", 500);
    let bounds = found.cell().bounds();
    let nearest = found.nearest.as_ref().unwrap();
    assert!(!nearest.meets && nearest.beta > 5.0, "{nearest:?}");
    for (i, value, _) in &nearest.moved {
        let (low, high) = bounds.ends(*i);
        assert!((low..=high).contains(value), "{}: {value}", found.input(*i).unwrap().path);
    }
}
