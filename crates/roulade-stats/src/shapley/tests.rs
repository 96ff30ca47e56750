use super::*;
use approx::assert_relative_eq;
use proptest::prelude::*;

fn contributions(values: &[f64]) -> Vec<f64> {
    let n = values.len().trailing_zeros() as usize;
    let orders = Orders::new(n, 1);
    let can_be: Vec<bool> = values.iter().map(|value| value.is_finite()).collect();
    orders.contributions(&orders.weights(&can_be).unwrap(), values)
}

/// Every order one after another: the definition, at n·n! cost.
fn by_definition(values: &[f64], n: usize) -> Option<Vec<f64>> {
    fn go(at: usize, n: usize, path: &mut Vec<usize>, values: &[f64], sums: &mut Vec<f64>, orders: &mut f64) {
        if !values[at].is_finite() {
            return;
        }
        if path.len() == n {
            let mut corner = 0;
            for i in &*path {
                sums[*i] += values[corner | 1 << i] - values[corner];
                corner |= 1 << i;
            }
            *orders += 1.0;
            return;
        }
        for i in (0..n).filter(|i| at >> i & 1 == 0) {
            path.push(i);
            go(at | 1 << i, n, path, values, sums, orders);
            path.pop();
        }
    }
    let (mut sums, mut orders) = (vec![0.0; n], 0.0);
    go(0, n, &mut Vec::new(), values, &mut sums, &mut orders);
    (orders > 0.0).then(|| sums.iter().map(|sum| sum / orders).collect())
}

#[test]
fn two_changes_share_what_they_have_together_evenly() {
    // 0, 3 alone, 5 alone, 10 together: 3 + 1 and 5 + 1.
    assert_eq!(contributions(&[0.0, 3.0, 5.0, 10.0]), [4.0, 6.0]);
    let orders = Orders::new(2, 1);
    assert_eq!(orders.interaction(&[true; 4], &[0.0, 3.0, 5.0, 10.0], 0, 1), Some(2.0));
    assert_eq!(orders.interaction(&[true; 4], &[0.0; 4], 0, 0), None);
    assert_eq!((contributions(&[7.0]).len(), contributions(&[7.0, 9.0])[0]), (0, 2.0));
}

#[test]
fn a_corner_that_cannot_be_leaves_the_orders_around_it() {
    // The second change needs the first: one order is left, and contributions are its steps.
    assert_eq!(contributions(&[0.0, 3.0, f64::NAN, 10.0]), [3.0, 7.0]);
    // Neither can be made alone: no order is left.
    let orders = Orders::new(2, 1);
    assert!(orders.weights(&[true, false, false, true]).is_none());
    assert!(orders.weights(&[false, true, true, true]).is_none());
    assert!(orders.weights(&[true; 3]).is_none());
    assert_eq!(orders.interaction(&[true, true, false, true], &[0.0, 3.0, f64::NAN, 10.0], 0, 1), None);
}

#[test]
fn more_than_sixteen_changes_are_drawn() {
    let n = MOST_EXACT + 3;
    let orders = Orders::new(n, 7);
    let corners: Vec<u64> = (0..orders.corners()).map(|i| orders.corner(i)).collect();
    assert!(corners.len() < 2 * PAIRS * n && orders.find(0) == Some(0));
    assert!(corners.iter().enumerate().all(|(i, corner)| orders.find(*corner) == Some(i)));
    // Each change brings its number, and neighbours bring one more together.
    let value = |corner: &u64| {
        let own: f64 = (0..n).filter(|i| corner >> i & 1 == 1).map(|i| i as f64).sum();
        own + (0..n - 1).filter(|i| corner >> i & 3 == 3).count() as f64
    };
    let values: Vec<f64> = corners.iter().map(value).collect();
    let weights = orders.weights(&vec![true; values.len()]).unwrap();
    let (found, errors) =
        (orders.contributions(&weights, &values), orders.standard_errors(&weights, &values).unwrap());
    for (i, (found, error)) in found.iter().zip(&errors).enumerate() {
        let exact = i as f64 + if i == 0 || i == n - 1 { 0.5 } else { 1.0 };
        // An order and its reverse give a pair of neighbours to one each: without error.
        assert_relative_eq!(*found, exact, epsilon = 4.0 * error + 1e-12);
    }
    let whole = values[orders.find((1 << n) - 1).unwrap()];
    assert_relative_eq!(found.iter().sum::<f64>(), whole, max_relative = 1e-13);
    // Without one corner on the way, the orders through it are left out.
    let mut can_be = vec![true; values.len()];
    can_be[orders.find(corners[1]).unwrap()] = false;
    let Some(Weights::Of(of)) = orders.weights(&can_be) else { panic!("orders are left") };
    assert!(of.len() < 2 * PAIRS);
    assert!(
        Orders::new(3, 1)
            .standard_errors(&Orders::new(3, 1).weights(&[true; 8]).unwrap(), &[0.0; 8])
            .is_none()
    );
}

#[test]
fn drawn_orders_come_near_all_of_them() {
    // Sixteen changes that matter to the square of how many there are, and in pairs.
    let n = 8;
    let value = |corner: usize| {
        let own: f64 = (0..n).filter(|i| corner >> i & 1 == 1).map(|i| (i * i + 1) as f64).sum();
        own.sqrt() + (f64::from(corner.count_ones()) * 0.3) * f64::from(u8::from(corner & 5 == 5))
    };
    let all: Vec<f64> = (0..1 << n).map(value).collect();
    let exact = contributions(&all);
    let drawn = DrawnOrders::new(n, 400, 3);
    let values: Vec<f64> =
        drawn.corners.iter().map(|corner| value(usize::try_from(*corner).unwrap())).collect();
    let orders = Orders::Some(drawn);
    let weights = orders.weights(&vec![true; values.len()]).unwrap();
    let (found, errors) =
        (orders.contributions(&weights, &values), orders.standard_errors(&weights, &values).unwrap());
    let mut far = 0;
    for ((exact, found), error) in exact.iter().zip(&found).zip(&errors) {
        assert!(*error > 0.0 && *error < 0.05, "{error}");
        far += usize::from((exact - found).abs() > 2.0 * error);
        assert_relative_eq!(*exact, *found, epsilon = 4.0 * error);
    }
    assert!(far <= 2, "{far} of {n} beyond two standard errors");
}

#[test]
fn interactions_of_a_product_by_hand() {
    // v = 2·3·5 where each factor is 1 before its change. With the third averaged over made and not: (5 + 1)/2.
    let factors = [2.0, 3.0, 5.0];
    let value = |corner: usize| (0..3).filter(|i| corner >> i & 1 == 1).map(|i| factors[i]).product::<f64>();
    let values: Vec<f64> = (0..8).map(value).collect();
    let orders = Orders::new(3, 1);
    let more = orders.interaction(&[true; 8], &values, 0, 1).unwrap();
    assert_relative_eq!(more, (2.0 - 1.0) * (3.0 - 1.0) * 3.0, max_relative = 1e-14);
    // One of the two situations cannot be: the other counts alone.
    let mut can_be = [true; 8];
    can_be[0b101] = false;
    assert_relative_eq!(orders.interaction(&can_be, &values, 0, 1).unwrap(), 2.0, max_relative = 1e-14);
}

fn corners_of(n: usize) -> impl Strategy<Value = Vec<f64>> {
    proptest::collection::vec(-1e3..1e3, 1 << n)
}

/// A game of one to six changes, some corners of which cannot be.
fn holed() -> impl Strategy<Value = Vec<f64>> {
    (1_usize..6).prop_flat_map(|n| {
        (corners_of(n), proptest::collection::vec(proptest::bool::weighted(0.8), 1 << n)).prop_map(
            |(mut values, can)| {
                let last = values.len() - 1;
                for (i, can) in can.iter().enumerate() {
                    if !can && i != 0 && i != last {
                        values[i] = f64::NAN;
                    }
                }
                values
            },
        )
    })
}

proptest! {
    #[test]
    fn contributions_are_the_mean_over_all_orders_and_add_to_the_whole(values in holed()) {
        let n = values.len().trailing_zeros() as usize;
        let orders = Orders::new(n, 1);
        let can_be: Vec<bool> = values.iter().map(|value| value.is_finite()).collect();
        match (orders.weights(&can_be), by_definition(&values, n)) {
            (Some(weights), Some(defined)) => {
                let found = orders.contributions(&weights, &values);
                for (found, defined) in found.iter().zip(&defined) {
                    prop_assert!((found - defined).abs() < 1e-9, "{found} {defined}");
                }
                let whole = values[values.len() - 1] - values[0];
                // A few units in the last place of the largest value.
                prop_assert!((found.iter().sum::<f64>() - whole).abs() <= 4e3 * f64::EPSILON);
            }
            (found, defined) => prop_assert!(found.is_none() && defined.is_none()),
        }
    }

    #[test]
    fn a_change_that_does_nothing_is_worth_nothing(values in corners_of(4), i in 0_usize..4) {
        let values: Vec<f64> = (0..16).map(|corner: usize| values[corner & !(1 << i)]).collect();
        prop_assert!(contributions(&values)[i].abs() < f64::MIN_POSITIVE);
    }

    #[test]
    fn changes_that_do_the_same_are_worth_the_same(values in corners_of(4)) {
        // Only how many of the first two are made counts.
        let counted = |corner: usize| (corner & 0b1100) | [0, 1, 1, 3][corner & 3];
        let values: Vec<f64> = (0..16).map(|corner| values[counted(corner)]).collect();
        let found = contributions(&values);
        prop_assert!((found[0] - found[1]).abs() < 1e-9);
    }

    #[test]
    fn contributions_to_a_sum_are_sums_of_contributions(a in corners_of(4), b in corners_of(4)) {
        let sum: Vec<f64> = a.iter().zip(&b).map(|(a, b)| a + 2.0 * b).collect();
        for ((a, b), sum) in contributions(&a).iter().zip(contributions(&b)).zip(contributions(&sum)) {
            prop_assert!((a + 2.0 * b - sum).abs() < 1e-9);
        }
    }

    #[test]
    fn with_and_without_another_average_to_the_contribution(values in corners_of(4)) {
        // Σⱼ of half the interactions is not the contribution; but the contribution with j made first less that without j is the
        // interaction of the three-change games on either side, averaged by size: checked against its definition.
        let orders = Orders::new(4, 1);
        let found = orders.interaction(&[true; 16], &values, 1, 3).unwrap();
        let half = |made: bool| -> Vec<f64> {
            let at = |c: usize| (c & 1) | (c >> 1 & 1) << 1 | (c >> 2 & 1) << 2 | usize::from(made) << 3;
            (0..8).map(|c| values[at(c)]).collect()
        };
        let apart = contributions(&half(true))[1] - contributions(&half(false))[1];
        prop_assert!((found - apart).abs() < 1e-9, "{found} {apart}");
    }
}
