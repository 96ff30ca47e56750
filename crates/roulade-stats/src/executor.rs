//! Much work in pieces that do not depend on one another: who does them, and in which order the results come back.
//!
//! The model has no threads and no clock. Whoever asks decides: one after another with a word on the progress, or on
//! all cores. Results come back in the order of their numbers either way, so that both give the same bits.

/// Does pieces of work.
pub trait Executor {
    /// Does the pieces `0 .. count` and returns their results in that order.
    fn each<T: Send>(&self, count: usize, piece: impl Fn(usize) -> T + Sync) -> Vec<T>;
}

/// One after another, telling after each how many are done, and of how many.
///
/// ```
/// use roulade_stats::executor::{Executor, OneByOne};
/// let squares = OneByOne(|done, of| assert!(done <= of)).each(3, |i| i * i);
/// assert_eq!(squares, [0, 1, 4]);
/// ```
#[derive(Clone, Copy, Debug)]
pub struct OneByOne<F>(pub F);

impl<F: Fn(usize, usize)> Executor for OneByOne<F> {
    fn each<T: Send>(&self, count: usize, piece: impl Fn(usize) -> T + Sync) -> Vec<T> {
        let done = |i: usize| {
            let result = piece(i);
            (self.0)(i + 1, count);
            result
        };
        (0..count).map(done).collect()
    }
}

/// One after another, without a word.
pub fn alone() -> OneByOne<impl Fn(usize, usize)> {
    OneByOne(|_, _| {})
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::RefCell;

    #[test]
    fn results_keep_their_order_and_progress_is_reported() {
        let reported = RefCell::new(Vec::new());
        let executor = OneByOne(|done, of| reported.borrow_mut().push((done, of)));
        assert_eq!(executor.each(3, |i| 10 * i), [0, 10, 20]);
        assert_eq!(*reported.borrow(), [(1, 3), (2, 3), (3, 3)]);
        assert!(alone().each(0, |i| i).is_empty());
    }
}
