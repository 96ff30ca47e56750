//! Correlations of a sheet that was edited.

use super::Draft;
use super::read::Input;
use crate::material::CurveCache;
use crate::sheet::{Sheet, carried, former};

impl Draft {
    /// A sheet made from another by edits, without the correlations of what takes no part in it any more: a quantity that
    /// became exact, or one that follows from others now. What took no part before stays, to be complained of.
    pub fn settled(before: &Sheet, mut after: Sheet) -> Sheet {
        let Some(section) = after.correlated.take() else { return after };
        let curve_cache = CurveCache::default();
        let inputs = |sheet: &Sheet| Self::gathered(sheet, &curve_cache).0.inputs;
        let (old, new) = (inputs(before), inputs(&after));
        // What cannot be read yet is not exact.
        let moves = |input: &Input| !(input.uncertain.u() == 0.0 && input.uncertain.value.is_finite());
        let takes_part = |inputs: &[Input], path: &str| {
            let path = &*former::path_today(path);
            inputs.iter().any(|input| (input.path == path || input.key == path) && moves(input))
        };
        let stands = |path: &str| {
            let of_before =
                before.correlated.as_ref().and_then(|section| section.paths.as_deref()).unwrap_or(&[]);
            of_before.iter().any(|other| other.trim() == path) && !takes_part(&old, path)
        };
        let keep = |path: &str| takes_part(&new, path.trim()) || stands(path.trim());
        after.correlated = carried::kept(section, |path| keep(path).then(|| path.to_owned()));
        after
    }
}
