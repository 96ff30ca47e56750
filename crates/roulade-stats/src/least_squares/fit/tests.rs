use super::*;
use approx::assert_relative_eq;
use proptest::prelude::*;
use std::cell::Cell;

fn readings(values: &[f64], u: f64) -> Vec<Observation> {
    values.iter().map(|value| Observation { value: *value, u }).collect()
}

/// y = a·e^(−bt) at 0, 1, …, and its readings.
fn decay(count: u32) -> (impl Fn(&[f64]) -> Option<Vec<f64>>, Vec<Observation>) {
    let predict = move |x: &[f64]| {
        Some((0..count).map(|t| x[0] * crate::maths::exp(-x[1] * f64::from(t))).collect::<Vec<f64>>())
    };
    let observations = readings(&predict(&[5.0, 0.3]).unwrap(), 0.1);
    (predict, observations)
}

#[test]
fn exact_readings_are_met() {
    let (predict, observations) = decay(8);
    let found = fit(&[Prior::flat(1.0), Prior::flat(1.0)], &observations, Loss::Normal, predict).unwrap();
    assert!(found.converged && found.chi_square < 1e-16, "{found:?}");
    assert_relative_eq!(found.parameters[0], 5.0, max_relative = 1e-9);
    assert_relative_eq!(found.parameters[1], 0.3, max_relative = 1e-9);
    assert_eq!((found.degrees, found.undetermined.len()), (6, 0));
    assert_relative_eq!(found.leverage.iter().sum::<f64>(), 2.0, max_relative = 1e-9);
    assert_relative_eq!(found.probability.unwrap(), 1.0);
}

#[test]
fn a_wild_reading_pulls_less_under_a_robust_loss() {
    let values = [10.0, 10.1, 9.9, 10.05, 9.95, 10.0, 60.0];
    let one =
        |loss| fit(&[Prior::flat(0.0)], &readings(&values, 0.1), loss, |x| Some(vec![x[0]; 7])).unwrap();
    let (normal, huber, student) =
        (one(Loss::Normal), one(Loss::Huber { k: 1.345 }), one(Loss::Student { nu: 4.0 }));
    assert!(normal.converged && huber.converged && student.converged, "{huber:?} {student:?}");
    assert_relative_eq!(normal.parameters[0], 120.0 / 7.0, max_relative = 1e-9);
    // Huber's estimating equation Σψ = 0 with the last at its limit: six readings give 60 − 6m, and 1.345 u stands against.
    assert_relative_eq!(huber.parameters[0], (60.0 + 0.1345) / 6.0, max_relative = 1e-8);
    assert!((student.parameters[0] - 10.0).abs() < 0.01, "{}", student.parameters[0]);
    assert!(student.weights[6] < 1e-4 && huber.weights[6] < 0.01 && huber.weights[0] >= 1.0);
    assert!(normal.probability.unwrap() < 1e-9 && huber.probability.is_none());
}

#[test]
fn bounds_hold_and_are_reported() {
    let line = |x: &[f64]| Some((0..5).map(|t| x[0] + x[1] * f64::from(t)).collect::<Vec<f64>>());
    let data = readings(&[1.0, 2.1, 2.9, 4.0, 5.0], 0.1);
    let free = fit(&[Prior::flat(0.0), Prior::flat(0.0)], &data, Loss::Normal, line).unwrap();
    assert!(free.at_bound.is_empty() && free.parameters[1] > 0.98);
    let held =
        fit(&[Prior::flat(0.0), Prior::flat(0.0).within(0.0, 0.5)], &data, Loss::Normal, line).unwrap();
    assert_eq!((held.at_bound.as_slice(), held.parameters[1], held.converged), ([1].as_slice(), 0.5, true));
    // With the slope held the best intercept is the mean of what is left: 3.0 − 0.5·2.
    assert_relative_eq!(held.parameters[0], 2.0, max_relative = 1e-9);
    assert_eq!((held.degrees, free.degrees), (4, 3));
    // What is known is not more because of the bound.
    assert_relative_eq!(held.u(1), free.u(1), max_relative = 1e-7);
    assert_relative_eq!(held.leverage.iter().sum::<f64>(), 1.0, max_relative = 1e-9);
    // A bound that does not matter changes nothing.
    let wide =
        fit(&[Prior::flat(0.0), Prior::flat(0.0).within(0.0, 5.0)], &data, Loss::Normal, line).unwrap();
    assert_relative_eq!(wide.parameters[1], free.parameters[1], max_relative = 1e-9);
    assert!(wide.at_bound.is_empty());
}

#[test]
fn what_readings_do_not_determine_is_reported() {
    // Only the sum of the first two is seen, the third not at all, the fourth by its prior only, the fifth is known.
    let priors =
        [Prior::flat(1.0), Prior::flat(2.0), Prior::flat(3.0), Prior::new(4.0, 0.5), Prior::new(5.0, 0.0)];
    let found = fit(&priors, &readings(&[10.0, 10.2], 0.1), Loss::Normal, |x| {
        Some(vec![x[0] + x[1] + x[4], x[0] + x[1] + x[4]])
    })
    .unwrap();
    assert!(found.converged, "{found:?}");
    assert_eq!(found.undetermined, [0, 1, 2, 3]);
    assert!(found.u(0).is_infinite() && found.u(1).is_infinite() && found.u(2).is_infinite());
    assert_relative_eq!(found.u(3), 0.5, max_relative = 1e-9);
    assert_eq!((found.u(4), found.parameters[4], found.degrees), (0.0, 5.0, 1));
    assert_relative_eq!(found.parameters[0] + found.parameters[1], 5.1, max_relative = 1e-8);
    // The sum itself is known.
    let c = &found.covariance;
    assert_relative_eq!(c[(0, 0)] + c[(1, 1)] + 2.0 * c[(0, 1)], 0.005, max_relative = 1e-6);
    let singular = found.singular();
    assert_eq!(singular.len(), 4);
    assert!(singular[0] > 1.0 && singular[1] < 1e-6, "{singular:?}");
}

#[test]
fn a_prior_alone_stays() {
    let found = fit(&[Prior::new(3.0, 0.2)], &[], Loss::Normal, |_| Some(vec![])).unwrap();
    assert_eq!(
        (found.parameters[0], found.undetermined.as_slice(), found.converged),
        (3.0, [0].as_slice(), true)
    );
    assert_relative_eq!(found.u(0), 0.2, max_relative = 1e-12);
    let nothing = fit(&[], &readings(&[1.0], 1.0), Loss::Normal, |_| Some(vec![0.0])).unwrap();
    assert_eq!((nothing.chi_square, nothing.degrees, nothing.converged), (1.0, 1, true));
    let empty = fit(&[], &[], Loss::Normal, |_| Some(vec![])).unwrap();
    assert_eq!((empty.degrees, empty.reduced, empty.probability), (0, None, None));
}

#[test]
fn steps_without_an_answer_are_not_taken() {
    // The full step from 10 leads to −20, where there is no logarithm.
    let refused = Cell::new(0);
    let found = fit(&[Prior::flat(10.0)], &readings(&[crate::maths::ln(0.5)], 0.1), Loss::Normal, |x| {
        refused.set(refused.get() + u32::from(x[0] <= 0.0));
        (x[0] > 0.0).then(|| vec![crate::maths::ln(x[0])])
    })
    .unwrap();
    assert!(found.converged && refused.get() > 0, "{found:?}");
    assert_relative_eq!(found.parameters[0], 0.5, max_relative = 1e-9);
}

#[test]
fn a_search_that_does_not_converge_says_so() {
    // A staircase: no step of a derivative's size changes anything, then all of it does.
    let jump = |x: &[f64]| Some(vec![if x[0] < 1.0 { 3.0 - 0.001 * x[0] } else { 9.0 }]);
    let found = fit(&[Prior::flat(0.999_9)], &readings(&[0.0], 1.0), Loss::Normal, jump).unwrap();
    assert!(!found.converged && found.ending == Ending::Stuck, "{found:?}");
    assert!(found.parameters[0] < 1.0 && found.parameters[0] > 0.999);
    // e^(−x) falls for ever.
    let forever = |x: &[f64]| Some(vec![crate::maths::exp(-1e-3 * x[0] / (1.0 + x[0].abs())) + 1.0]);
    let found = fit(&[Prior::flat(0.0)], &readings(&[0.0], 1.0), Loss::Normal, forever).unwrap();
    assert!(found.iterations > 0 && found.parameters[0].is_finite());
}

#[test]
fn a_search_at_the_edge_of_what_is_predicted_says_so() {
    // Two parameters may not be more than 1 together, and each is read to be 2: the cost falls only beyond.
    let within = |x: &[f64]| (x[0] + x[1] <= 1.0).then(|| x.to_vec());
    let found = fit(&[Prior::flat(0.2), Prior::flat(0.1)], &readings(&[2.0, 2.0], 1.0), Loss::Normal, within)
        .unwrap();
    assert!(!found.converged && found.ending == Ending::Edge, "{:?}", found.ending);
    assert!(found.parameters[0] + found.parameters[1] > 1.0 - 1e-3, "{:?}", found.parameters);
    // What the edge does not concern goes on, from the edge itself too.
    let within = |x: &[f64]| (x[0] + x[1] <= 1.0).then(|| x.to_vec());
    let priors = [Prior::flat(0.5), Prior::flat(0.5), Prior::flat(0.0)];
    let found = fit(&priors, &readings(&[2.0, 2.0, 50.0], 1.0), Loss::Normal, within).unwrap();
    assert!(found.ending == Ending::Edge, "{:?}", found.ending);
    assert_relative_eq!(found.parameters[2], 50.0, max_relative = 1e-9);
}

#[test]
fn another_start_comes_to_the_same_end() {
    let (predict, observations) = decay(8);
    let priors = [Prior::new(4.0, 2.0), Prior::new(0.5, 0.3)];
    let cold = fit(&priors, &observations, Loss::Normal, &predict).unwrap();
    let warm = fit_from(&cold.parameters, &priors, &observations, Loss::Normal, &predict).unwrap();
    assert!(
        warm.converged && warm.iterations <= 1 && cold.iterations > 1,
        "{} {}",
        warm.iterations,
        cold.iterations
    );
    assert_relative_eq!(warm.parameters[1], cold.parameters[1], max_relative = 1e-10);
}

#[test]
fn numbers_without_sense_are_refused() {
    let one = readings(&[1.0], 1.0);
    let same = |x: &[f64]| Some(x.to_vec());
    let of = |prior| fit(&[prior], &one, Loss::Normal, same).unwrap_err();
    let diagnostics = of(Prior::new(f64::NAN, 1.0)).to_string();
    assert!(diagnostics.starts_with("the prior of parameter 0 is"), "{diagnostics}");
    assert!(matches!(of(Prior::new(1.0, -1.0)), FitError::Prior { parameter: 0, .. }));
    assert!(matches!(of(Prior::flat(1.0).within(2.0, 1.0)), FitError::Prior { .. }));
    let zero = fit(&[Prior::flat(1.0)], &readings(&[1.0], 0.0), Loss::Normal, same);
    assert!(matches!(zero, Err(FitError::Observation { reading: 0, .. })));
    let flat = [Prior::flat(1.0)];
    assert!(matches!(fit(&flat, &one, Loss::Huber { k: -1.0 }, same), Err(FitError::Loss(_))));
    assert_eq!(fit(&flat, &one, Loss::Normal, |_| None).unwrap_err(), FitError::Start { at: vec![1.0] });
    let two = fit(&flat, &one, Loss::Normal, |_| Some(vec![1.0, 2.0])).unwrap_err();
    assert_eq!(two.to_string(), "2 predictions for 1 readings");
    // What cannot be moved either way stays where it is, and nothing is said of it.
    let only_here =
        fit(&flat, &one, Loss::Normal, |x| ((x[0] - 1.0).abs() < 1e-15).then(|| vec![0.0])).unwrap();
    assert_eq!((only_here.parameters[0], only_here.undetermined.as_slice()), (1.0, [0].as_slice()));
}

proptest! {
    /// The closed form of the linear model with a normal prior: C = (JᵀU⁻¹J + P⁻¹)⁻¹, θ = C (JᵀU⁻¹y + P⁻¹μ).
    #[test]
    fn a_linear_model_has_its_closed_form(
        design in prop::collection::vec(-2.0..2.0_f64, 6 * 4),
        y in prop::collection::vec(-5.0..5.0_f64, 6),
        u in prop::collection::vec(0.05..3.0_f64, 6),
        prior in prop::collection::vec((-3.0..3.0_f64, 0.1..5.0_f64), 4),
    ) {
        let j = DMatrix::from_row_slice(6, 4, &design);
        let priors: Vec<Prior> = prior.iter().map(|(value, u)| Prior::new(*value, *u)).collect();
        let observations: Vec<Observation> = y.iter().zip(&u).map(|(value, u)| Observation { value: *value, u: *u }).collect();
        let found = fit(&priors, &observations, Loss::Normal, |x| {
            Some((&j * DVector::from_column_slice(x)).iter().copied().collect())
        }).unwrap();
        let weights = DMatrix::from_diagonal(&DVector::from_iterator(6, u.iter().map(|u| 1.0 / (u * u))));
        let before = DMatrix::from_diagonal(&DVector::from_iterator(4, prior.iter().map(|(_, u)| 1.0 / (u * u))));
        let covariance = (j.transpose() * &weights * &j + &before).try_inverse().unwrap();
        let means = DVector::from_iterator(4, prior.iter().map(|(value, _)| *value));
        let best = &covariance * (j.transpose() * weights * DVector::from_vec(y) + before * means);
        prop_assert!(found.converged);
        for (i, best) in best.iter().enumerate() {
            prop_assert!((found.parameters[i] - best).abs() < 1e-7 * found.u(i), "{} {}", found.parameters[i], best);
        }
        prop_assert!((&found.covariance - &covariance).amax() < 1e-7 * covariance.amax());
        prop_assert_eq!(found.degrees, 6);
        // Readings and priors share the parameters among them.
        let of_priors: f64 = (0..4).map(|i| covariance[(i, i)] / (prior[i].1 * prior[i].1)).sum();
        prop_assert!((found.leverage.iter().sum::<f64>() + of_priors - 4.0).abs() < 1e-6);
    }

    /// Within bounds no neighbour is cheaper (Karush, Kuhn and Tucker's conditions, by trying).
    #[test]
    fn a_bounded_fit_is_the_cheapest(
        design in prop::collection::vec(-2.0..2.0_f64, 6 * 3),
        y in prop::collection::vec(-5.0..5.0_f64, 6),
    ) {
        let j = DMatrix::from_row_slice(6, 3, &design);
        let predict = |x: &[f64]| -> Vec<f64> { (&j * DVector::from_column_slice(x)).iter().copied().collect() };
        let priors = [Prior::new(0.0, 5.0).within(-0.5, 0.5); 3];
        let found = fit(&priors, &readings(&y, 0.5), Loss::Normal, |x| Some(predict(x))).unwrap();
        prop_assert!(found.converged, "{:?}", found);
        let cost = |x: &[f64]| {
            y.iter().zip(predict(x)).map(|(y, h)| (y - h) * (y - h) / 0.25).sum::<f64>()
                + x.iter().map(|x| x * x / 25.0).sum::<f64>()
        };
        let best = cost(&found.parameters);
        for i in 0..27 {
            let x: Vec<f64> = found.parameters.iter().enumerate()
                .map(|(k, x)| (x + 1e-3 * f64::from(i / [1, 3, 9][k] % 3 - 1)).clamp(-0.5, 0.5)).collect();
            prop_assert!(cost(&x) >= best * (1.0 - 1e-9), "{:?} is cheaper than {:?}", x, found.parameters);
        }
    }
}
