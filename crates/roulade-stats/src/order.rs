//! Lists put in order: one sort for all that is long enough to tell, so that the page does not carry thirty.
//!
//! A stable sort of the standard library is compiled anew for every type and every comparison, 2 kB of the page each.

use std::cmp::Ordering;

/// Numbers in ascending order.
#[inline(never)]
pub fn ascending(numbers: &mut [f64]) {
    numbers.sort_by(f64::total_cmp);
}

/// A list in the order of `compare`; what compares as equal stays as it stood.
pub fn by<T>(list: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    let mut places: Vec<usize> = (0..list.len()).collect();
    places_by(&mut places, &|a, b| match (list.get(a), list.get(b)) {
        (Some(a), Some(b)) => compare(a, b),
        _ => Ordering::Equal,
    });
    bring(&mut places, &mut |a, b| list.swap(a, b));
}

#[inline(never)]
fn places_by(places: &mut [usize], compare: &dyn Fn(usize, usize) -> Ordering) {
    places.sort_by(|a, b| compare(*a, *b));
}

/// Swaps items until each place holds what stood at the place that is listed for it.
#[inline(never)]
fn bring(places: &mut [usize], swap: &mut dyn FnMut(usize, usize)) {
    for start in 0..places.len() {
        let mut at = start;
        while let Some(place) = places.get_mut(at) {
            let from = std::mem::replace(place, at);
            if from == start {
                break;
            }
            swap(at, from);
            at = from;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn it_is_the_standard_librarys_stable_order(list in prop::collection::vec((0..9_u8, 0..100_u8), 0..80)) {
            let (mut mine, mut theirs) = (list.clone(), list);
            by(&mut mine, |a, b| b.0.cmp(&a.0));
            theirs.sort_by_key(|item| std::cmp::Reverse(item.0));
            prop_assert_eq!(mine, theirs);
        }
    }

    #[test]
    fn numbers_ascend() {
        let mut numbers = [2.0, f64::NEG_INFINITY, -0.0, 0.0, 1.0];
        ascending(&mut numbers);
        assert_eq!(numbers.map(f64::to_bits), [f64::NEG_INFINITY, -0.0, 0.0, 1.0, 2.0].map(f64::to_bits));
    }
}
