//! Shares of a whole against games whose value is known in closed form.
//!
//! - The airport game: S. C. Littlechild, G. Owen, "A Simple Expression for the Shapley Value in a Special Case",
//!   Management Science 20 (1973) 370–372. Each aircraft needs a runway of its own length, and pays for each stretch
//!   its share among those that need it. The runways of 8, 11, 13 and 18 and what they pay, 2, 3, 4 and 9, were read in
//!   an encyclopedia's article on the problem.
//! - The glove game: one left glove, two right ones, a pair is worth one. The owner of the left glove has 2/3, the
//!   others 1/6 each (after L. S. Shapley, M. Shubik, "Pure competition, coalitional power, and fair division", Int.
//!   Economic Review 10 (1969) 337–362; from memory).
//! - Weighted majority: quota 50 of weights 10, 10, 20 and 30 gives 1/12, 1/12, 1/4 and 7/12, read in the
//!   documentation of a general package for cooperative games, where I. Stach, "Shapley-Shubik index", Encyclopedia of
//!   Power (2011) 603–606, is cited for it.
//! - A sum of what each brings, and a product of what each multiplies: by hand.

use roulade_stats::shapley::{MOST_EXACT, Orders};

fn contributions(n: usize, value: impl Fn(usize) -> f64) -> Vec<f64> {
    let values: Vec<f64> = (0..1 << n).map(value).collect();
    let orders = Orders::new(n, 1);
    let weights = orders.weights(&vec![true; values.len()]).expect("every order can be made");
    orders.contributions(&weights, &values)
}

fn made(corner: usize, n: usize) -> impl Iterator<Item = usize> {
    (0..n).filter(move |i| corner >> i & 1 == 1)
}

fn near(found: &[f64], expected: &[f64]) {
    assert_eq!(found.len(), expected.len());
    for (found, expected) in found.iter().zip(expected) {
        assert!((found - expected).abs() <= 1e-12 * expected.abs().max(1.0), "{found} {expected}");
    }
}

#[test]
fn airport() {
    let runways: [f64; 4] = [8.0, 11.0, 13.0, 18.0];
    let longest = |corner| made(corner, 4).map(|i| runways[i]).fold(0.0, f64::max);
    near(&contributions(4, longest), &[2.0, 3.0, 4.0, 9.0]);
}

#[test]
fn airport_of_as_many_as_are_exact() {
    // Runways of 1, 2, … n: the k-th stretch is shared by the n + 1 − k that need it.
    let n = MOST_EXACT;
    let longest = |corner: usize| f64::from(usize::BITS - corner.leading_zeros());
    let mut paid = 0.0;
    let expected: Vec<f64> = (1..=n)
        .map(|k| {
            paid += 1.0 / (n + 1 - k) as f64;
            paid
        })
        .collect();
    near(&contributions(n, longest), &expected);
}

#[test]
fn gloves() {
    let pairs = |corner: usize| f64::from(u8::from(corner & 1 == 1 && corner & 6 != 0));
    near(&contributions(3, pairs), &[2.0 / 3.0, 1.0 / 6.0, 1.0 / 6.0]);
}

#[test]
fn weighted_majority() {
    let weights = [10, 10, 20, 30];
    let wins = |corner| f64::from(u8::from(made(corner, 4).map(|i| weights[i]).sum::<i32>() >= 50));
    near(&contributions(4, wins), &[1.0 / 12.0, 1.0 / 12.0, 1.0 / 4.0, 7.0 / 12.0]);
}

#[test]
fn sum() {
    let own = [3.0, -1.5, 0.0, 7.25, 100.0];
    near(&contributions(5, |corner| 40.0 + made(corner, 5).map(|i| own[i]).sum::<f64>()), &own);
}

#[test]
fn product() {
    // v = Π fᵢ, each 1 before its change. Of two: (f₁ − 1)·(1 + f₂)/2. Of three, with weights 1/3, 1/6, 1/6, 1/3:
    // (f₁ − 1)·(2 + f₂ + f₃ + 2·f₂·f₃)/6.
    let factors = [1.1, 0.95, 1.25];
    let product = |corner, n| made(corner, n).map(|i| factors[i]).product::<f64>();
    let [a, b, c] = factors;
    near(
        &contributions(2, |corner| product(corner, 2)),
        &[(a - 1.0) * (1.0 + b) / 2.0, (b - 1.0) * (1.0 + a) / 2.0],
    );
    let of = |own: f64, x: f64, y: f64| (own - 1.0) * (2.0 + x + y + 2.0 * x * y) / 6.0;
    near(&contributions(3, |corner| product(corner, 3)), &[of(a, b, c), of(b, a, c), of(c, a, b)]);
}

#[test]
fn unanimity_with_an_order_compelled() {
    // All three are needed for one; the second can only follow the first. Of the three orders left, each change is the
    // last in: the third once (1, 2, 3), the second twice (1, 3, 2 and 3, 1, 2), the first never. By hand, after the
    // value of U. Faigle and W. Kern, Int. J. Game Theory 21 (1992) 249–266, doi 10.1007/BF01258278.
    let orders = Orders::new(3, 1);
    let can_be: Vec<bool> = (0_usize..8).map(|corner| corner & 2 == 0 || corner & 1 == 1).collect();
    let weights = orders.weights(&can_be).expect("three orders are left");
    let values: Vec<f64> = can_be
        .iter()
        .enumerate()
        .map(|(corner, can)| if *can { f64::from(u8::from(corner == 7)) } else { f64::NAN })
        .collect();
    near(&orders.contributions(&weights, &values), &[0.0, 2.0 / 3.0, 1.0 / 3.0]);
}
