//! A question read: what is free, what is kept, what is wanted.

use crate::engine::Trial;
use crate::question::{Free, Keep, SearchQuestion};
use roulade::cell::draft::Draft;
use roulade::cell::figures::{self, Definition, Worked};
use roulade::quantity::problem::{Problem, Problems};
use roulade::sheet::unknown_keys;
use roulade::study::effort;
use roulade::study::form_factors::{CellSource, asked};

/// More would be a search of another kind.
const MOST_FREE: usize = 20;
const USUAL_TRIALS: u32 = 20_000;

/// A figure to be made great or small.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Aim {
    pub(crate) figure: &'static Definition,
    pub(crate) least: bool,
}

impl Aim {
    fn read(text: Option<&str>, place: &str, problems: &mut Problems) -> Option<Self> {
        let Some(text) = text.map(str::trim) else {
            problems.push(Problem::new(
                place,
                "nothing",
                "a figure's id, such as \"volumetric\", or \"least mass\"",
            ));
            return None;
        };
        let (least, id) = match text.strip_prefix("least ") {
            Some(id) => (true, id),
            None => (false, text.strip_prefix("greatest ").unwrap_or(text)),
        };
        figures::find(id, place)
            .map_err(|problem| problems.push(problem))
            .ok()
            .map(|figure| Self { figure, least })
    }

    /// Great is good.
    fn score(self, worked: &Worked) -> Option<f64> {
        (self.figure.of)(worked).map(|value| if self.least { -value } else { value })
    }
}

/// A figure to be kept within bounds, SI.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Kept {
    pub(crate) figure: &'static Definition,
    pub(crate) at_least: Option<f64>,
    pub(crate) at_most: Option<f64>,
}

impl Kept {
    /// By how much a value breaks its bounds, in parts of them; `None` for a figure that is not there.
    pub(crate) fn broken(&self, worked: &Worked) -> Option<f64> {
        let value = (self.figure.of)(worked).filter(|value| value.is_finite())?;
        let part = |over: f64, bound: f64| {
            if bound == 0.0 { over / self.figure.unit.in_si() } else { over / bound.abs() }
        };
        let below = self.at_least.map_or(0.0, |bound| part((bound - value).max(0.0), bound));
        let above = self.at_most.map_or(0.0, |bound| part((value - bound).max(0.0), bound));
        Some(below + above)
    }
}

/// An input that may be chosen.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Choice {
    pub(crate) input: usize,
    pub(crate) from: f64,
    pub(crate) to: f64,
}

/// A question read.
pub(crate) struct Asked<'a> {
    pub(crate) free: Vec<Choice>,
    pub(crate) keep: Vec<Kept>,
    pub(crate) best: Aim,
    pub(crate) against: Option<Aim>,
    pub(crate) cells: CellSource<'a>,
    pub(crate) seed: u32,
    pub(crate) trials: u32,
    values: Vec<f64>,
}

impl<'a> Asked<'a> {
    pub(crate) fn read(
        question: SearchQuestion,
        draft: &'a Draft,
        mut problems: Problems,
    ) -> Result<Self, Problems> {
        let SearchQuestion { remark: _, sheet: _, free, keep, best, against, hold, seed, trials, unknown } =
            question;
        unknown_keys(&mut problems, "", &unknown, SearchQuestion::KEYS);
        let free = free.unwrap_or_default();
        let resized = hold.is_some() || free.iter().any(|free| asked::resizes(free.key.as_deref()));
        let hold = asked::hold(hold, &mut problems);
        if free.is_empty() || free.len() > MOST_FREE {
            let found = if free.is_empty() { "nothing".to_owned() } else { format!("{} inputs", free.len()) };
            problems.push(Problem::new("free", found, format!("from one to {MOST_FREE} inputs")));
        }
        let mut choices: Vec<Choice> = Vec::new();
        for (i, Free { key, from, to, unknown }) in free.iter().enumerate() {
            let place = format!("free[{i}]");
            unknown_keys(&mut problems, &place, unknown, Free::KEYS);
            let texts = [key.as_deref(), from.as_deref(), to.as_deref()];
            let Some((input, from, to)) = asked::stretch(draft, texts, resized, &place, &mut problems) else {
                continue;
            };
            if choices.iter().any(|other| other.input == input) {
                problems.push(Problem::new(
                    format!("{place}.key"),
                    "the same input a second time",
                    "each input to be named once",
                ));
            }
            choices.push(Choice { input, from, to });
        }
        let mut kept = Vec::new();
        for (i, keep) in keep.unwrap_or_default().iter().enumerate() {
            kept.extend(read_keep(keep, &format!("keep[{i}]"), &mut problems));
        }
        let best = Aim::read(best.as_deref(), "best", &mut problems);
        let against = against.and_then(|text| Aim::read(Some(&text), "against", &mut problems));
        if let (Some(best), Some(against)) = (best, against)
            && best.figure.id == against.figure.id
        {
            problems.push(Problem::new(
                "against",
                "the figure that \"best\" names",
                "another figure than that",
            ));
        }
        // The front of two figures is sought beside the best of the one.
        let times = 1 + usize::from(against.is_some());
        let most = effort::trials(u32::MAX, effort::cells(draft.inputs().len(), 0), times);
        let trials = trials.unwrap_or(USUAL_TRIALS.min(most));
        if !(1..=most).contains(&trials) {
            let expected = format!("from 1 to {most} for a cell of so many entries");
            problems.push(Problem::new("trials", trials.to_string(), expected));
        }
        let (Some(best), true) = (best, problems.0.is_empty()) else { return Err(problems) };
        let cells =
            CellSource::of(draft, resized.then_some(hold)).map_err(|problems| problems.within("sheet"))?;
        let values = cells.values();
        Ok(Self { free: choices, keep: kept, best, against, cells, seed: seed.unwrap_or(1), trials, values })
    }

    /// Values of the draft's inputs at a place in the unit cube.
    pub(crate) fn values(&self, place: &[f64]) -> Vec<f64> {
        let mut values = self.values.clone();
        for (choice, part) in self.free.iter().zip(place) {
            if let Some(slot) = values.get_mut(choice.input) {
                // Both ends exactly.
                *slot = choice.from * (1.0 - part) + choice.to * part;
            }
        }
        values
    }

    /// The sheet's own place, brought inside the ranges.
    pub(crate) fn own(&self) -> Vec<f64> {
        let part = |choice: &Choice| {
            let value = self.values.get(choice.input).copied().unwrap_or(choice.from);
            ((value - choice.from) / (choice.to - choice.from)).clamp(0.0, 1.0)
        };
        self.free.iter().map(part).collect()
    }

    /// The cell at a place.
    pub(crate) fn worked(&self, place: &[f64]) -> Result<Worked, Problems> {
        self.cells.at(&self.values(place))
    }

    /// A design tried; `None` where it does not hold together, or lacks a figure.
    pub(crate) fn trial<const M: usize>(&self, place: &[f64], aims: [Aim; M]) -> Option<Trial<M>> {
        let worked = self.worked(place).ok()?;
        let mut broken = 0.0;
        for kept in &self.keep {
            broken += kept.broken(&worked)?;
        }
        let mut scores = [0.0; M];
        for (score, aim) in scores.iter_mut().zip(aims) {
            // No number is the best of all, nor beyond all: a resistance without end is no figure of a cell.
            *score = aim.score(&worked).filter(|score| score.is_finite())?;
        }
        Some(Trial { scores, broken })
    }
}

fn read_keep(keep: &Keep, place: &str, problems: &mut Problems) -> Option<Kept> {
    unknown_keys(problems, place, &keep.unknown, Keep::KEYS);
    let at = |what: &str| format!("{place}.{what}");
    let Some(id) = &keep.figure else {
        problems.push(Problem::new(at("figure"), "nothing", "the id of the figure to keep within bounds"));
        return None;
    };
    let figure = match figures::find(id, &at("figure")) {
        Ok(figure) => figure,
        Err(problem) => {
            problems.push(problem);
            return None;
        }
    };
    let mut bound = |what: &str, text: Option<&String>| {
        text.and_then(|text| asked::exact(text, figure.unit.dimension(), &at(what), problems))
    };
    let (at_least, at_most) =
        (bound("at_least", keep.at_least.as_ref()), bound("at_most", keep.at_most.as_ref()));
    if keep.at_least.is_none() && keep.at_most.is_none() {
        problems.push(Problem::new(
            place,
            "no bound",
            "\"at_least\" or \"at_most\", or both, each with its unit",
        ));
    }
    if let (Some(low), Some(high)) = (at_least, at_most)
        && low > high
    {
        problems.push(Problem::new(at("at_most"), "less than at_least", "at_most to be above at_least"));
    }
    Some(Kept { figure, at_least, at_most })
}
