//! How far the figures spread, drawn at random and held against first order.

use super::estimate::{leans, unmoved};
use super::figure_writer::Figure;
use super::leaning::LeaningAnswer;
use super::plan::plan;
use super::sentence::{Sentence, Words, assumed};
use super::subject::{Of, Subject};
use roulade::cell::draft::Draft;
use roulade::cell::figures::Definition;
use roulade::quantity::notation;
use roulade::quantity::problem::{Problem, Problems};
use roulade_stats::executor::Executor;
use roulade_stats::propagation::interval::{Interval, Validation, Verdict, tolerance};
use roulade_stats::propagation::sample::{Drawn, Sampled, sample};
use roulade_stats::uncertain::Spread;
use serde::Serialize;

/// One figure, drawn and to first order.
#[derive(Clone, Debug, Serialize)]
pub struct DrawnFigure {
    /// Stable name.
    pub id: &'static str,
    /// What it is.
    pub label: &'static str,
    /// Which cell it is of.
    pub of: Of,
    /// Mean, standard deviation and probabilistically symmetric 95 % interval of the draws.
    pub drawn: Figure,
    /// That interval as it is read.
    pub interval: String,
    /// Standard errors of these four, from how the pieces of the draws differ, in the figure's unit: mean, u, low, high.
    pub errors: [f64; 4],
    /// The best value, its standard uncertainty to first order, and 1.96 of it either way.
    pub first_order: Figure,
    /// That interval as it is read.
    pub first_order_interval: String,
    /// Shares of the draws and the value they lie below, in the figure's unit: the shape of the distribution. Empty where
    /// all draws gave the same.
    pub quantiles: Vec<[f64; 2]>,
    /// Whether the two intervals agree (JCGM 101:2008, clause 8).
    pub verdict: Verdict,
    /// In words, where they do not.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub remark: String,
    /// How far the ends may lie apart: half of the last place that the uncertainty is shown to.
    pub tolerance: f64,
    /// How far they do: lower and upper end of the draws less that of first order.
    pub apart: [f64; 2],
}

/// Draws in which the cell does not hold together.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Apart {
    /// The place in the sheet where that shows.
    pub place: String,
    /// Their share of all draws.
    pub share: f64,
}

/// Answer about how far figures spread.
#[derive(Clone, Debug, Serialize)]
pub struct SampledAnswer {
    /// Version of this crate.
    pub roulade: &'static str,
    /// Names of the cells.
    pub cells: Vec<String>,
    /// In a sentence.
    pub answer: Sentence,
    /// How many draws.
    pub draws: u32,
    /// Their seed.
    pub seed: u64,
    /// Share of the draws in which an input is no longer what it may be.
    pub impossible: f64,
    /// Share of the draws in which the cell does not hold together, by the place in the sheet where that shows.
    pub apart: Vec<Apart>,
    /// Each figure.
    pub figures: Vec<DrawnFigure>,
    /// What to know of this answer.
    pub remarks: Vec<String>,
    /// What the main figure leans on, where that was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub leaning: Option<LeaningAnswer>,
}

/// Steps of a distribution that is told by its quantiles: as many bars as a histogram of some thousand draws bears.
const STEPS: u32 = 40;

impl SampledAnswer {
    /// Draws a cell, or two, and the figures asked for by their ids; those that come first where none is.
    ///
    /// # Errors
    /// Where a cell does not hold together, a figure is not known, or the number of draws is out of bounds; places begin
    /// with `sheet`, `second`, `figures` and `draws`.
    pub fn of(
        first: &Draft,
        second: Option<&Draft>,
        figures: &[String],
        (draws, seed): (Option<u32>, Option<u64>),
        hands: &impl Executor,
    ) -> Result<Self, Problems> {
        let plan = plan(draws, seed)?;
        let subject = Subject::of(
            first,
            second,
            ("figures", figures),
            &[Of::First, Of::Second, Of::Hardware, Of::Change],
        )?;
        let sampler = subject.sampler();
        let sampled =
            sample(&sampler, subject.outputs.len(), plan, hands, |values, out| subject.at(values, out));
        if sampled.outputs.iter().any(|drawn| drawn.tally.count() < 2) {
            return Err(Problem::new(
                "sheet",
                format!("{} trials without an answer", plan.draws),
                "smaller uncertainties: a cell that holds together in some trials at least",
            )
            .into());
        }
        let spread = subject.first_order();
        let mut all = Vec::with_capacity(subject.outputs.len());
        for (i, ((definition, of), drawn)) in subject.outputs.iter().zip(&sampled.outputs).enumerate() {
            let best = subject.at_best.get(i).copied().unwrap_or(f64::NAN);
            all.push(figure(definition, *of, drawn, best, spread.u(i)));
        }
        let main =
            |figure: &DrawnFigure| figure.id == "volumetric" && (figure.of == Of::Change || second.is_none());
        let leaning =
            all.iter().position(main).map_or_else(Vec::new, |at| leans(&spread, at, |i| subject.input(i)));
        let mut remarks = remarks(&subject, &sampled, &all);
        remarks.extend(spread.unmoved().iter().filter_map(|i| Some(unmoved(subject.input(*i)?.0))));
        let words = sentence(&subject, &sampled, &all);
        Ok(Self {
            roulade: env!("CARGO_PKG_VERSION"),
            cells: subject.cells(),
            answer: words.done(leaning, assumed(subject.inputs())),
            draws: plan.draws,
            seed: plan.seed,
            impossible: sampled.impossible as f64 / f64::from(plan.draws),
            apart: sampled
                .apart
                .iter()
                .map(|(place, count)| Apart {
                    place: place.clone(),
                    share: *count as f64 / f64::from(plan.draws),
                })
                .collect(),
            figures: all,
            remarks,
            leaning: None,
        })
    }
}

fn figure(definition: &'static Definition, of: Of, drawn: &Drawn, best: f64, u: f64) -> DrawnFigure {
    let size = definition.unit.in_si();
    let write = |value, u, interval| {
        let print =
            if matches!(of, Of::Change | Of::Hardware) { notation::print_signed } else { notation::print };
        Figure::of(value, u, interval, definition.unit, print)
    };
    // Below the rounding of what it is taken from, an uncertainty is none.
    let noise = |u: f64| if u > 1e-12 * best.abs() { u } else { 0.0 };
    let (u, drawn_u) = (noise(u), noise(drawn.u));
    let about = Interval::about(best, u);
    let (shown, first_order) = (write(drawn.mean, drawn_u, drawn.interval), write(best, u, about));
    let within = size * tolerance(u / size, notation::digits(u / size));
    let validation = if drawn_u == 0.0 && u == 0.0 {
        Validation { verdict: Verdict::Agrees, tolerance: 0.0, low: 0.0, high: 0.0 }
    } else {
        Validation::of(about, drawn.interval, drawn.interval_error, within)
    };
    let interval = if drawn_u > 0.0 { shown.interval() } else { shown.text.clone() };
    let first_order_interval = if u > 0.0 { first_order.interval() } else { first_order.text.clone() };
    let remark = match validation.verdict {
        Verdict::Agrees => String::new(),
        Verdict::Differs => format!(
            "first order is not enough: it gives {first_order_interval}, Monte Carlo {interval}, and Monte Carlo holds"
        ),
        Verdict::Open => "too few trials to tell whether first order is enough".to_owned(),
    };
    let quantiles = if drawn_u > 0.0 {
        let shares = (0..=STEPS).map(|step| f64::from(step) / f64::from(STEPS));
        shares.map(|share| [share, drawn.tally.quantile(share) / size]).collect()
    } else {
        Vec::new()
    };
    DrawnFigure {
        quantiles,
        id: definition.id,
        label: definition.label,
        of,
        errors: [drawn.mean_error, drawn.u_error, drawn.interval_error.low, drawn.interval_error.high]
            .map(|error| error / size),
        drawn: shown,
        interval,
        first_order,
        first_order_interval,
        verdict: validation.verdict,
        remark,
        tolerance: validation.tolerance / size,
        apart: [validation.low / size, validation.high / size],
    }
}

fn sentence(subject: &Subject<'_>, sampled: &Sampled, all: &[DrawnFigure]) -> Words {
    let cells = subject.cells();
    let draws = sampled.draws;
    let (opening, of) = match cells.as_slice() {
        [first, second] => {
            (format!("In {draws} Monte Carlo trials {second}, compared with {first}, gives "), Of::Change)
        }
        _ => (format!("In {draws} Monte Carlo trials {} gives ", cells.join(" and ")), Of::First),
    };
    let words = told(Words::default().say(opening), all, of).say(".");
    if all.iter().any(|figure| figure.of == Of::Hardware) {
        told(words.say(" Of that, the changed parts alone contribute "), all, Of::Hardware).say(".")
    } else {
        words
    }
}

/// The figures that a cell is judged by, or the first of those asked for.
fn told(mut words: Words, all: &[DrawnFigure], of: Of) -> Words {
    let wanted = ["volumetric", "gravimetric", "energy", "capacity"];
    let find = |id: &str| all.iter().find(|figure| figure.id == id && figure.of == of);
    let mut told: Vec<&DrawnFigure> = wanted.into_iter().filter_map(find).collect();
    if told.is_empty() {
        told.extend(all.iter().filter(|figure| figure.of == of).take(4));
    }
    for (i, figure) in told.iter().enumerate() {
        let before = match told.len() - i {
            _ if i == 0 => "",
            1 => " and ",
            _ => ", ",
        };
        words = words.say(before).number(&figure.drawn);
        if i == 0 && !figure.interval.is_empty() {
            words = words.say(format!(" (95 %: {})", figure.interval));
        }
    }
    words
}

fn remarks(subject: &Subject<'_>, sampled: &Sampled, all: &[DrawnFigure]) -> Vec<String> {
    let mut remarks = Vec::new();
    if let Some(words) = without(sampled) {
        remarks.push(words);
    }
    for (verdict, words) in [
        (Verdict::Differs, "First order is not enough for"),
        (Verdict::Open, "Too few trials to tell whether first order is enough for"),
    ] {
        let of_it: Vec<&DrawnFigure> = all.iter().filter(|figure| figure.verdict == verdict).collect();
        if !of_it.is_empty() {
            let mut names: Vec<String> = of_it.iter().map(|figure| figure.label.to_owned()).collect();
            names.dedup();
            remarks.push(format!("{words} {}.", super::sentence::listed(&names)));
        }
    }
    let together = subject.correlation().inputs();
    let ranges = together.iter().filter_map(|i| subject.known().get(*i));
    if ranges.into_iter().any(|known| matches!(known.spread, Spread::Range { .. })) {
        remarks.push(
            "Correlated ranges are sampled through a Gaussian copula: their coefficients come out up to 0.02 smaller.".to_owned(),
        );
    }
    remarks
}

/// How many draws have no answer, and why; nothing where all have one.
fn without(sampled: &Sampled) -> Option<String> {
    let share = |count: u64| match 100.0 * count as f64 / f64::from(sampled.draws) {
        percent if percent < 0.1 => "less than 0.1 %".to_owned(),
        percent => format!("{percent:.1} %"),
    };
    let apart: u64 = sampled.apart.iter().map(|(_, count)| count).sum();
    if apart + sampled.impossible == 0 {
        return None;
    }
    let mut why = Vec::new();
    if apart > 0 {
        let most = sampled.apart.iter().take(3).filter(|(place, _)| !place.is_empty());
        let places: Vec<String> = most.map(|(place, count)| format!("{place} {}", share(*count))).collect();
        let places = if places.is_empty() { String::new() } else { format!(" ({})", places.join(", ")) };
        why.push(format!("in {} the cell does not hold together{places}", share(apart)));
    }
    if sampled.impossible > 0 {
        why.push(format!(
            "in {} an entry is no longer what it may be, as a length below zero",
            share(sampled.impossible)
        ));
    }
    Some(format!(
        "{} of the trials have no answer: {}. All figures are of the other draws; where many have none, the entries \
         contradict one another or are given too wide.",
        share(apart + sampled.impossible),
        why.join(", and ")
    ))
}

#[cfg(test)]
mod tests {
    use super::super::Comparison;
    use super::*;
    use crate::test_support::{compared, demo, draft, read, sheet, with};
    use roulade::sheet::{Shape, Sheet, parse};
    use roulade::study::remove::without;
    use roulade_stats::executor::alone;
    use serde_json::json;

    const FEW: (Option<u32>, Option<u64>) = (Some(4000), Some(7));

    fn of<'a>(answer: &'a SampledAnswer, id: &str, of: Of) -> &'a DrawnFigure {
        answer.figures.iter().find(|figure| figure.id == id && figure.of == of).expect(id)
    }

    fn uncertain() -> Draft {
        draft(&[
            ("cathode/loading", json!("20 ± 0.1 mg/cm2")),
            ("can/height", json!("95 ± 0.05 mm")),
            ("cathode/foil/thickness", json!("11.5 .. 12.5 µm")),
        ])
    }

    #[test]
    fn first_order_is_that_of_the_estimate_and_the_draws_agree_where_nothing_bends() {
        let cell = uncertain();
        let answer = SampledAnswer::of(&cell, None, &[], FEW, &alone()).unwrap();
        let estimate = super::super::EstimateAnswer::of(&cell).unwrap();
        assert_eq!(answer.figures.len(), estimate.headline.len());
        for (drawn, row) in answer.figures.iter().zip(&estimate.headline) {
            assert_eq!(drawn.id, row.id);
            assert_eq!(drawn.first_order, row.figure, "{}", row.id);
            assert_eq!(drawn.first_order.low.is_some(), drawn.drawn.u.is_some());
            let [mean, u, ..] = drawn.errors;
            assert!((drawn.drawn.value - row.figure.value).abs() <= 4.0 * mean + 1e-3 * u, "{}", row.id);
        }
        let envelope = of(&answer, "envelope", Of::First);
        assert_ne!(envelope.verdict, Verdict::Differs, "{envelope:?}");
        assert!(
            answer.remarks.is_empty() || answer.remarks[0].starts_with("Too few trials"),
            "{:?}",
            answer.remarks
        );
        assert!(
            answer.answer.text.starts_with("In 4000 Monte Carlo trials by hand gives "),
            "{}",
            answer.answer.text
        );
        assert_eq!(answer.answer.leans, estimate.answer.leans);
    }

    #[test]
    fn an_exact_cell_does_not_spread() {
        // Nothing of its can has an uncertainty.
        let exact = draft(&[]);
        let answer = SampledAnswer::of(&exact, None, &["envelope".to_owned()], FEW, &alone()).unwrap();
        let can = of(&answer, "envelope", Of::First);
        assert_eq!(
            (can.drawn.u, can.verdict, can.interval.as_str()),
            (None, Verdict::Agrees, can.drawn.text.as_str())
        );
    }

    /// A void height of 0.1 ± 0.1 mm ends at none, so that no trial falls away; two entries that do not fit together still do.
    #[test]
    fn draws_without_an_answer_are_told() {
        let cell = draft(&[("cathode/width", json!(null)), ("void_height", json!("0.1 ± 0.1 mm"))]);
        let answer = SampledAnswer::of(&cell, None, &[], FEW, &alone()).unwrap();
        assert!(answer.impossible.abs() < 1e-12, "{}", answer.impossible);
        // Coated width and hardware take 91 of 95 mm, and 4 are left: half of the draws of ± 4 mm and more do not fit.
        let tall = draft(&[("cathode/width", json!("84 ± 3 mm"))]);
        let answer = SampledAnswer::of(&tall, None, &[], FEW, &alone()).unwrap();
        let share: f64 = answer.apart.iter().map(|apart| apart.share).sum();
        assert!(share > 0.4 && share < 0.6 && answer.apart[0].place == "cathode.width", "{:?}", answer.apart);
        assert!(answer.remarks[0].contains("(cathode.width "), "{:?}", answer.remarks);
    }

    #[test]
    fn two_cells_are_drawn_as_they_are_compared() {
        let (first, second) = (demo("marram a"), demo("marram b"));
        let answer = SampledAnswer::of(&first, Some(&second), &[], FEW, &alone()).unwrap();
        let comparison = Comparison::of(&first, &second).unwrap();
        let bought = comparison.reclaim.iter().find(|reclaim| reclaim.label == "as designed").unwrap();
        for id in ["volumetric", "gravimetric", "mass", "capacity"] {
            let change = comparison.figures.iter().find(|change| change.id == id).unwrap();
            assert_eq!(of(&answer, id, Of::Change).first_order, change.change, "{id}");
            assert_eq!(of(&answer, id, Of::Second).first_order, change.second, "{id}");
            if let Some(change) = bought.rows.iter().find(|change| change.id == id) {
                assert_eq!(of(&answer, id, Of::Hardware).first_order, change.change, "{id}");
            }
        }
        // Hardware moves no electrode's potential: what rounding leaves of the difference is none, in every draw.
        let voltage = of(&answer, "mean_voltage", Of::Hardware);
        assert_eq!((voltage.drawn.value, voltage.drawn.u, voltage.verdict), (0.0, None, Verdict::Agrees));
        assert!(
            answer.answer.text.contains(" Of that, the changed parts alone contribute +"),
            "{}",
            answer.answer.text
        );
        assert_eq!(answer.cells, ["Marram A", "Marram B"]);
    }

    /// The second cell is the first without its plate, and its share of the height was chosen.
    #[test]
    fn what_was_chosen_is_held_when_the_rest_moves() {
        let before = with(&[
            ("cathode/width", json!({ "value": "80 ± 0.1 mm", "from": "measured" })),
            ("parts/1/axial_clearance", json!({ "value": "1.5 ± 0.1 mm", "from": "measured" })),
        ]);
        let sheet = Sheet::whole(parse(&before.to_string(), "a sheet").unwrap(), &mut Problems::default());
        let after = serde_json::to_value(without(sheet.unwrap(), &["plate"], None, 1.0).unwrap()).unwrap();
        let answer =
            SampledAnswer::of(&read(&before).unwrap(), Some(&read(&after).unwrap()), &[], FEW, &alone())
                .unwrap();
        assert!(!answer.figures.iter().any(|figure| figure.of == Of::Hardware));
        let comparison = compared(&before, &after);
        let change = comparison.figures.iter().find(|change| change.id == "volumetric").unwrap();
        let drawn = of(&answer, "volumetric", Of::Change);
        assert_eq!(drawn.first_order, change.change);
        // The gain is by the height freed, 2 ± 0.1 mm of 80: its spread is that of the axial clearance.
        let relative = drawn.drawn.u.unwrap() / drawn.drawn.value;
        assert!((relative - 0.05).abs() < 0.005, "{relative}");
    }

    #[test]
    fn strange_questions_are_refused() {
        let cell = draft(&[]);
        let told = |figures: &[&str], plan| {
            let figures: Vec<String> = figures.iter().map(|id| (*id).to_owned()).collect();
            let problems = SampledAnswer::of(&cell, None, &figures, plan, &alone()).unwrap_err();
            problems.0.into_iter().map(|problem| problem.to_string()).collect::<Vec<_>>()
        };
        assert_eq!(told(&[], (Some(999), None)), ["draws: found 999; from 1000 to 1000000000 trials"]);
        let unknown = told(&["volumetrik", "mass", "colour"], FEW);
        assert!(
            unknown[0].contains("figures: found \"volumetrik\"")
                && unknown[0].contains("perhaps \"volumetric\"")
        );
        assert_eq!(unknown.len(), 2);
        let over = read(&sheet()).unwrap();
        let none =
            SampledAnswer::of(&draft(&[("cathode/width", json!("90 mm"))]), Some(&over), &[], FEW, &alone());
        assert!(none.unwrap_err().0[0].place.starts_with("sheet"));
        let twice = ["mass".to_owned(), "mass".to_owned()];
        assert_eq!(SampledAnswer::of(&cell, None, &twice, FEW, &alone()).unwrap().figures.len(), 1);
    }

    #[test]
    fn correlated_entries_are_drawn_together() {
        let of_r = |r: f64| {
            let cell = draft(&[
                ("cathode/loading", json!("20 ± 0.2 mg/cm2")),
                ("cathode/thickness", json!("50 .. 51 µm")),
                (
                    "correlated",
                    json!({ "paths": ["cathode.loading", "cathode.thickness"], "coefficients": [[r]] }),
                ),
            ]);
            let answer =
                SampledAnswer::of(&cell, None, &["cathode.porosity".to_owned()], FEW, &alone()).unwrap();
            let figure = answer.figures[0].clone();
            (figure.drawn.u.unwrap(), figure.first_order.u.unwrap(), figure.errors[1], answer.remarks)
        };
        let (apart, first, error, _) = of_r(0.0);
        assert!((apart - first).abs() < 4.0 * error, "{apart} {first}");
        // More coating of the same density: what the two have together cancels, all but the copula's few per cent.
        let (together, first, error, remarks) = of_r(0.9);
        assert!(
            together < 0.5 * apart && (together - first).abs() < 4.0 * error + 0.1 * first,
            "{together} {first}"
        );
        assert!(remarks.iter().any(|remark| remark.contains("Gaussian copula")), "{remarks:?}");
    }
}
