//! Two cells worked out, and the first with the hardware of the second.

use super::block::AS_DESIGNED;
use crate::answer::elements::At;
use roulade::cell::draft::Draft;
use roulade::cell::figures::Worked;
use roulade::quantity::problem::Problems;
use roulade::study::compare::HardwareChange;
use std::borrow::Cow;

/// Both cells, and the first with the second's hardware at each share of the freed height.
pub(super) struct Pair<'a> {
    pub(super) drafts: [&'a Draft; 2],
    pub(super) values: [Vec<f64>; 2],
    /// Its own, or one that others look at too: most inputs move one cell only.
    pub(super) first: Cow<'a, Worked>,
    pub(super) second: Cow<'a, Worked>,
    pub(super) hardware: Option<HardwareChange>,
    pub(super) reclaimed: Vec<(&'static str, f64, Worked)>,
}

pub(super) fn pair(drafts: [&Draft; 2], values: [Vec<f64>; 2]) -> Result<Pair<'_>, Problems> {
    let ([first, second], [a, b]) = (drafts, &values);
    let first = Worked::at(first, a).map_err(|problems| problems.within("first"))?;
    let second = Worked::at(second, b).map_err(|problems| problems.within("second"))?;
    Ok(Pair::new(drafts, values, (Cow::Owned(first), Cow::Owned(second))))
}

impl<'a> Pair<'a> {
    pub(super) fn new(
        drafts: [&'a Draft; 2],
        values: [Vec<f64>; 2],
        (first, second): (Cow<'a, Worked>, Cow<'a, Worked>),
    ) -> Self {
        let hardware = HardwareChange::between(&first.design, &second.design);
        Self { drafts, values, first, second, hardware, reclaimed: Vec::new() }
    }

    pub(super) fn at_first(&self) -> At<'_> {
        let ([draft, _], [values, _]) = (&self.drafts, &self.values);
        At::new(draft, values, &self.first)
    }

    pub(super) fn at_second(&self) -> At<'_> {
        let ([_, draft], [_, values]) = (&self.drafts, &self.values);
        At::new(draft, values, &self.second)
    }

    /// Works out the shares of the freed height. Where the second cell is the first with other hardware and nothing
    /// else, its share was chosen and stays as it is when inputs move; any other has its share from its readings.
    pub(super) fn hold(&mut self, chosen: bool) -> Option<f64> {
        let held = self.hardware.as_ref().filter(|_| chosen).map(|hardware| hardware.share);
        self.reclaim(held);
        held
    }

    pub(super) fn reclaim(&mut self, held: Option<f64>) {
        let Some(hardware) = &self.hardware else { return };
        for (label, share) in
            [("none of it", 0.0), (AS_DESIGNED, held.unwrap_or(hardware.share)), ("all of it", 1.0)]
        {
            // A share that cannot be built, or whose electrodes do not reach the window, is left out.
            if let Ok(design) = hardware.apply(&self.first.design, share)
                && let Ok(worked) = Worked::of(design)
            {
                if held.is_some() && label == AS_DESIGNED {
                    self.second = Cow::Owned(worked.clone());
                }
                self.reclaimed.push((label, share, worked));
            }
        }
    }
}
