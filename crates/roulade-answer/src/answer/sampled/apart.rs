//! Which entry to state where many trials have no answer.

use crate::answer::subject::Subject;
use roulade_stats::propagation::deviate::Stream;

/// Trials that are drawn again to tell: one in a hundred of them without an answer is ten.
const TRIALS: u32 = 2000;
/// Means that differ by less than that, in standard uncertainties, tell nothing.
const TELLS: f64 = 0.3;

/// The entry in which trials without an answer differ most from the others, in a sentence; nothing where none stands out.
///
/// The difference of its means in both, over its standard uncertainty.
pub(super) fn entry_to_state(subject: &Subject<'_>, seed: u64) -> Option<String> {
    let (sampler, uncertain) = (subject.sampler(), subject.uncertain());
    let mut stream = Stream::of(seed, u64::from(u32::MAX));
    let mut values = sampler.best().to_vec();
    let (mut by, mut outputs) = (subject.evaluators(), vec![0.0; subject.outputs.len()]);
    // Sums of every input over trials with and without an answer.
    let (mut sums, mut counts) = ([vec![0.0; uncertain.len()], vec![0.0; uncertain.len()]], [0.0, 0.0]);
    for _ in 0..TRIALS {
        sampler.draw(&mut stream, &mut values);
        let missing = usize::from(subject.at(&mut by, &values, &mut outputs).is_err());
        if let (Some(sums), Some(count)) = (sums.get_mut(missing), counts.get_mut(missing)) {
            sums.iter_mut().zip(&values).for_each(|(sum, value)| *sum += value);
            *count += 1.0;
        }
    }
    let [with, without] = counts;
    let [answered, missing] = sums;
    if with < 2.0 || without < 2.0 {
        return None;
    }
    let apart = |i: usize| {
        let u = uncertain.get(i)?.u();
        let difference = missing.get(i)? / without - answered.get(i)? / with;
        (u > 0.0).then_some((i, difference / u))
    };
    let (i, by) = (0..uncertain.len()).filter_map(apart).max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
    if by.abs() < TELLS {
        return None;
    }
    let (input, cell) = subject.input(i)?;
    let of = cell.map_or(String::new(), |cell| format!(" of {cell}"));
    let way = if by > 0.0 { "large" } else { "small" };
    Some(format!(
        "Trials without an answer differ most from the others in {}{of} ({}), which is {way} in them: state it, or state it more \
         closely.",
        input.label, input.key
    ))
}
