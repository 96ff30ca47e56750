//! Long work on all cores.

use rayon::prelude::*;
use roulade_stats::executor::Executor;

/// All cores of this machine.
#[derive(Clone, Copy, Debug)]
pub(crate) struct AllCores;

impl Executor for AllCores {
    fn each<T: Send>(&self, count: usize, piece: impl Fn(usize) -> T + Sync) -> Vec<T> {
        (0..count).into_par_iter().map(&piece).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use roulade_stats::executor::alone;

    #[test]
    fn gives_what_one_after_another_gives() {
        let piece = |i: usize| (i as f64).sqrt();
        assert_eq!(AllCores.each(1000, piece), alone().each(1000, piece));
    }
}
