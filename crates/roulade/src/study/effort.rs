//! How much is worked out for one answer, so that none takes longer than some seconds on one core whatever is asked. It is
//! counted in cells that are worked out, never by a clock: the same question has the same answer on every machine.

/// Cells of [`ORDINARY`] entries for one answer.
const MOST: u64 = 400_000;
/// Entries of two ordinary cells.
const ORDINARY: u64 = 260;

/// How many cells of so many entries, of which so many move together, are worked out for one answer: each costs as much as
/// it has entries, and those that move together the square of their number, a seventieth as much each.
///
/// # Example
/// ```
/// use roulade::study::effort;
/// assert_eq!(effort::cells(110, 0), 400_000);
/// assert_eq!(effort::cells(520, 0), 200_000);
/// assert!(effort::cells(520, 300) < 100_000);
/// ```
pub fn cells(entries: usize, together: usize) -> usize {
    let [entries, together] = [entries, together].map(|count| u64::try_from(count).unwrap_or(u64::MAX));
    let cost = entries.saturating_add(together.saturating_mul(together) / 70).max(ORDINARY);
    usize::try_from(MOST * ORDINARY / cost).unwrap_or(usize::MAX)
}

/// As many trials as one answer holds, of so many that are asked for, where each takes so many cells; never fewer than
/// [`FEWEST`].
pub fn trials(asked: u32, cells: usize, each: usize) -> u32 {
    let most = u32::try_from(cells / each.max(1)).unwrap_or(u32::MAX);
    asked.min(most.max(FEWEST))
}

/// Fewest trials that tell an uncertainty: to a tenth of it, 1/√(2·50) (JCGM 100:2008, E.4.3).
pub const FEWEST: u32 = 50;

/// What is said where fewer trials are drawn than were asked for; nothing where all are.
pub fn remark(asked: u32, drawn: u32) -> Option<String> {
    (drawn < asked).then(|| {
        format!(
            "{drawn} trials are drawn where {asked} are asked for: as many as one answer holds of a cell of so many entries. \
             A standard uncertainty from them has a standard error of {:.1} % of itself, a chance one of {:.1} % at most.",
            100.0 / (2.0 * f64::from(drawn)).sqrt(),
            50.0 / f64::from(drawn).sqrt()
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fewer_trials_where_each_costs_more() {
        assert_eq!((trials(200, 500_000, 1000), trials(2000, 500_000, 1000)), (200, 500));
        assert_eq!((trials(200, 500_000, 1_000_000), trials(20, 500_000, 1_000_000)), (FEWEST, 20));
        assert_eq!(remark(200, 200), None);
        let diagnostics = remark(10_000, 2500).unwrap_or_default();
        assert!(
            diagnostics.starts_with("2500 trials are drawn where 10000") && diagnostics.contains("1.4 %"),
            "{diagnostics}"
        );
        assert!(diagnostics.contains("1.0 % at most"), "{diagnostics}");
    }
}
