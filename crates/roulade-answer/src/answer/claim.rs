//! A declared figure weighed: the verdict in words, then what it rests on.

use super::estimate::{in_full, leans};
use super::figure_writer::Figure;
use super::sentence::{Sentence, Words, assumed, gives, listed};
use crate::cautions::{CAUTIONS, Caution};
use roulade::cell::draft::Draft;
use roulade::quantity::notation;
use roulade::quantity::units::Unit;
use roulade::study::claim::{
    Basis, CONTRADICTED, Check, Claim, LIKELY, On, Reading, Relation, Required, SUPPORTED, UNLIKELY, Verdict,
    Where,
};
use roulade_stats::propagation::interval::Interval;
use roulade_stats::uncertain::Uncertain;
use serde::Serialize;

/// The claim as it was understood.
#[derive(Clone, Debug, Serialize)]
pub struct ClaimTold {
    /// In its shortest clear form.
    pub text: String,
    /// Id of the figure.
    pub figure: &'static str,
    /// What the figure is called.
    pub label: &'static str,
    /// How it stands to the value.
    pub relation: Relation,
    /// Whether it is a change over the other cell.
    pub over: bool,
    /// The value, in `unit`.
    pub value: f64,
    /// Lower end of the interval in which the claim holds, rounding allowed for; absent where there is none.
    pub low: Option<f64>,
    /// Upper end.
    pub high: Option<f64>,
    /// Unit in which all figures of this answer are shown.
    pub unit: &'static str,
    /// What the figure is taken over.
    pub basis: &'static str,
    /// The same in words.
    pub basis_text: &'static str,
    /// The rate, 1/h, where the claim states one.
    pub rate: Option<f64>,
    /// Voltage limits, V, where the claim states them.
    pub window: Option<(f64, f64)>,
}

/// A chance.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Chance {
    /// 0 to 1.
    pub value: f64,
    /// In per cent, as it is read.
    pub text: String,
}

impl Chance {
    fn of(value: f64) -> Self {
        let text = match 100.0 * value {
            percent if percent < 1.0 => "less than 1 %".to_owned(),
            percent if percent > 99.0 => "more than 99 %".to_owned(),
            percent => format!("{percent:.0} %"),
        };
        Self { value, text }
    }
}

/// What the digits of the claim leave open.
#[derive(Clone, Debug, Serialize)]
pub struct Digits {
    /// Whether the verdict is another one by another reading of the digits.
    pub decides: bool,
    /// In a sentence.
    pub text: String,
    /// Each reading.
    pub readings: Vec<DigitsRow>,
}

/// One way to read the digits.
#[derive(Clone, Debug, Serialize)]
pub struct DigitsRow {
    /// In words.
    pub text: String,
    /// Lower end of the interval in which the claim then holds.
    pub low: Option<f64>,
    /// Upper end.
    pub high: Option<f64>,
    /// Chance of that.
    pub chance: Chance,
    /// What becomes of the claim.
    pub verdict: Verdict,
    /// Whether this reading decides.
    pub main: bool,
}

/// The claim on one basis.
#[derive(Clone, Debug, Serialize)]
pub struct BasisRow {
    /// Which: "cell", "roll", "cell, under load".
    pub basis: String,
    /// In words.
    pub text: &'static str,
    /// The figure on it.
    pub figure: Figure,
    /// Chance that the claim holds on it.
    pub chance: Chance,
    /// What becomes of it.
    pub verdict: Verdict,
    /// Whether it is the claim's own.
    pub main: bool,
}

/// What one input alone would have to be.
#[derive(Clone, Debug, Serialize)]
pub struct AloneRow {
    /// Its path in the sheet.
    pub path: String,
    /// What it is called, in full.
    pub label: String,
    /// Its cell, where there are two and they do not share it.
    pub cell: Option<String>,
    /// As it is known.
    pub known: String,
    /// Its plausible range; absent where none is stated.
    pub plausible: Option<String>,
    /// Where that comes from.
    pub source: Option<&'static str>,
    /// The value that would do; absent where none does.
    pub needed: Option<Figure>,
    /// Where it lies: "known", "plausible", "beyond" or "never".
    pub place: Where,
    /// The same in words.
    pub place_text: &'static str,
    /// What that value would make of another quantity, where that is not plausible: "cathode porosity 8.2 %".
    #[serde(skip_serializing_if = "Option::is_none")]
    pub implies: Option<String>,
}

/// A reading that could settle the claim.
#[derive(Clone, Debug, Serialize)]
pub struct SettleRow {
    /// Path of the input.
    pub path: String,
    /// What it is called, in full.
    pub label: String,
    /// Its cell, where there are two and they do not share it.
    pub cell: Option<String>,
    /// How it would be read.
    pub how: &'static str,
    /// Whether the cell must be opened for it.
    pub opens: bool,
    /// Standard uncertainty now.
    pub now: String,
    /// That of the reading: common practice, no source.
    pub reading: String,
    /// Share of the figure's variance that it takes away.
    pub takes: f64,
    /// The figure's standard uncertainty after it.
    pub leaves: String,
    /// Chance that the claim is supported or contradicted after it.
    pub settles: Chance,
    /// The same after this one and all above it.
    pub together: Chance,
}

/// The most probable cell that just meets the claim: what would have to be true.
#[derive(Clone, Debug, Serialize)]
pub struct NearestTold {
    /// Its distance from the middle of what is known, standard deviations.
    pub beta: f64,
    /// In a sentence.
    pub text: String,
    /// What would have to be true, the furthest from its middle first.
    pub rows: Vec<NearestRow>,
}

/// One quantity of that cell.
#[derive(Clone, Debug, Serialize)]
pub struct NearestRow {
    /// Path of the input.
    pub path: String,
    /// What it is called, in full.
    pub label: String,
    /// As it is known.
    pub prior: String,
    /// What it would have to be.
    pub needed: String,
    /// By how many of its standard deviations it moves.
    pub deviations: f64,
}

/// How the draws lie, in the unit of the claim.
#[derive(Clone, Debug, Serialize)]
pub struct StripTold {
    /// Mean of the draws.
    pub mean: f64,
    /// Their standard deviation.
    pub deviation: f64,
    /// Shares, and the value that so many draws lie below.
    pub quantiles: Vec<(f64, f64)>,
    /// Lower edge of the first bar.
    pub from: f64,
    /// Width of each bar.
    pub step: f64,
    /// Draws in each.
    pub counts: Vec<u32>,
    /// Draws asked for.
    pub draws: u32,
    /// Those whose cell held together.
    pub held: u32,
}

/// Answer about a claim.
#[derive(Clone, Debug, Serialize)]
pub struct ClaimAnswer {
    /// Version of this crate.
    pub roulade: &'static str,
    /// The cell it is about.
    pub cell: String,
    /// The cell it compares with.
    pub other: Option<String>,
    /// What becomes of the claim.
    pub verdict: Verdict,
    /// In words.
    pub answer: Sentence,
    /// The claim as it was understood.
    pub claim: ClaimTold,
    /// The figure on the claim's basis.
    pub figure: Figure,
    /// Chance that the claim holds, by draws.
    pub chance: Chance,
    /// The same for a normal distribution of the first-order uncertainty.
    pub normal: Chance,
    /// The chances at which a claim counts as contradicted and as supported.
    pub thresholds: (f64, f64),
    /// What its digits leave open.
    pub rounding: Digits,
    /// On each basis.
    pub bases: Vec<BasisRow>,
    /// The most probable cell that just meets the claim; absent where nothing uncertain moves the figure.
    pub nearest: Option<NearestTold>,
    /// Whether `alone` says when the claim would hold ("hold"), or when it would fail ("fail").
    pub alone_to: &'static str,
    /// What each input alone would have to be, the nearest first.
    pub alone: Vec<AloneRow>,
    /// Readings that could settle it, the best first.
    pub settle: Vec<SettleRow>,
    /// How the draws lie.
    pub strip: StripTold,
    /// What to know of this answer.
    pub remarks: Vec<String>,
    /// What to keep in mind where a cell is opened for a reading.
    pub cautions: &'static [Caution],
}

impl ClaimAnswer {
    /// Puts a check in words.
    pub fn of(check: &Check) -> Self {
        let claim = check.claim();
        let unit = claim.shown_in();
        let size = unit.in_si();
        let shown =
            |(low, high): (f64, f64)| [low, high].map(|edge| edge.is_finite().then(|| tidy(edge / size)));
        let [low, high] = shown(check.holds);
        let value = figure(check.best, check.u, unit, claim.over.is_some());
        let s = &check.strip;
        let other = check.other().map(|draft| draft.name().to_owned());
        Self {
            roulade: env!("CARGO_PKG_VERSION"),
            cell: check.cell().name().to_owned(),
            verdict: check.verdict,
            answer: sentence(check, &value),
            claim: ClaimTold {
                text: claim.text(),
                figure: claim.figure.id,
                label: claim.figure.label,
                relation: claim.relation,
                over: claim.over.is_some(),
                value: tidy(claim.value / size),
                low,
                high,
                unit: unit.symbol(),
                basis: claim.basis.name(),
                basis_text: On { figure: claim.figure, basis: claim.basis }.note(),
                rate: claim.rate.map(|rate| tidy(rate / Unit::PerHour.in_si())),
                window: claim.window,
            },
            figure: value,
            chance: Chance::of(check.chance),
            normal: Chance::of(check.normal),
            thresholds: (tidy(1.0 - SUPPORTED), SUPPORTED),
            rounding: digits(check, shown),
            bases: check
                .bases
                .iter()
                .map(|on| BasisRow {
                    basis: on.on.words(claim.figure),
                    text: on.on.note(),
                    figure: figure(on.best, on.u, unit, claim.over.is_some()),
                    chance: Chance::of(on.chance),
                    verdict: on.verdict,
                    main: on.on.basis == claim.basis && on.on.figure.id == claim.figure.id,
                })
                .collect(),
            nearest: nearest(check),
            alone_to: if holds_at_best(check) { "fail" } else { "hold" },
            alone: check.alone.iter().map(alone).collect(),
            settle: check.settle.iter().map(|reading| settle(reading, unit)).collect(),
            strip: StripTold {
                mean: s.mean / size,
                deviation: s.deviation / size,
                quantiles: s.quantiles.iter().map(|(share, value)| (*share, value / size)).collect(),
                from: s.from / size,
                step: s.step / size,
                counts: s.counts.clone(),
                draws: check.draws,
                held: check.held,
            },
            remarks: remarks(check),
            cautions: CAUTIONS,
            other,
        }
    }
}

/// Without the trace of a unit's conversion.
fn tidy(x: f64) -> f64 {
    format!("{x:.11e}").parse().unwrap_or(x)
}

fn figure(si: f64, u: f64, unit: Unit, change: bool) -> Figure {
    let print = if change { notation::print_signed } else { notation::print };
    Figure::of(si, u, Interval::about(si, u), unit, print)
}

fn holds_at_best(check: &Check) -> bool {
    check.holds.0 <= check.best && check.best <= check.holds.1
}

/// What the figure is called after its value, where its unit does not say it, and its basis, where it is not the cell.
fn named(claim: &Claim) -> String {
    let named = if claim.says_its_figure() { String::new() } else { format!(" {}", claim.figure.name()) };
    match claim.basis {
        Basis::Cell => named,
        basis => format!("{named} ({})", basis.name()),
    }
}

fn sentence(check: &Check, value: &Figure) -> Sentence {
    let claim = check.claim();
    let verdict = match check.verdict {
        Verdict::Supported => "Supported.",
        Verdict::Likely => "Likely.",
        Verdict::Open => "Open.",
        Verdict::Unlikely => "Unlikely.",
        Verdict::Contradicted => "Contradicted.",
    };
    let mut words = Words::default().strong(verdict).say(format!(
        " {} {} ",
        check.cell().name(),
        gives(check.cell().inputs().iter())
    ));
    words = words.number(value).say(match check.other() {
        Some(other) => format!(" over {}{}", other.name(), named(claim)),
        None => named(claim),
    });
    words = words
        .say(format!(": “{}” holds with a chance of ", claim.text()))
        .strong(Chance::of(check.chance).text);
    words = words.say(match claim.relation {
        // An interval narrower than what is known is missed by most draws wherever it lies.
        Relation::About => format!(
            "; {} of the trials lie below it, {} above.",
            Chance::of(check.below).text,
            Chance::of(check.above).text
        ),
        Relation::AtLeast | Relation::AtMost => ".".to_owned(),
    });
    if let Some(first) = check.alone.first()
        && let Some(needed) = first.needed
        && first.place <= Where::Plausible
    {
        let (label, cell) = (&first.label, first.cell.as_deref());
        words = words.say(format!(
            " It would {} if {} alone were {} ({}: {}).",
            if holds_at_best(check) { "fail" } else { "hold" },
            in_sentence(first.section, label, cell),
            notation::print(needed, 0.0, first.unit),
            if first.known.u() > 0.0 { "known" } else { "taken" },
            notation::print_brief(&first.known, first.unit),
        ));
    } else if check.verdict != Verdict::Supported {
        words = words.say(" No single quantity within its plausible range makes it hold.");
    }
    if matches!(check.verdict, Verdict::Unlikely | Verdict::Contradicted)
        && let Some(nearest) = nearest(check)
    {
        words = words.say(format!(" {}", nearest.text));
    }
    if let Some(best) = check.settle.first()
        && check.verdict == Verdict::Open
    {
        words = words.say(format!(
            " Most informative next measurement: {} ({}).",
            in_sentence(best.section, &best.label, best.cell.as_deref()),
            best.how,
        ));
    }
    let all = check.cell().inputs().iter().chain(check.other().map_or(&[][..], Draft::inputs));
    words.done(leans(&check.spread, check.output, |i| check.input(i)), assumed(all))
}

/// An input inside a sentence: "cathode loading, one face", "the practical capacity of NMC811".
fn in_sentence(section: &str, label: &str, cell: Option<&str>) -> String {
    let named = match label.split_once(": ") {
        Some((of, what)) => format!("the {what} of {of}"),
        None => format!("{} {label}", section.to_lowercase()),
    };
    match cell {
        Some(cell) => format!("{named} ({cell})"),
        None => named,
    }
}

fn digits(check: &Check, shown: impl Fn((f64, f64)) -> [Option<f64>; 2]) -> Digits {
    let claim = check.claim();
    let unit = claim.unit.symbol();
    let written = &claim.rounding.written;
    let readings: Vec<DigitsRow> = check
        .readings
        .iter()
        .map(|read| {
            let [low, high] = shown(read.holds);
            let text = match read.half {
                None => format!("{written} {unit} as it stands"),
                Some(half) if claim.rounding.stated => format!("{written} ± {} {unit}", tidy(half)),
                Some(half) => format!("rounded to the nearest {} {unit}", tidy(2.0 * half)),
            };
            let text = text.trim_end().to_owned();
            DigitsRow {
                text,
                low,
                high,
                chance: Chance::of(read.chance),
                verdict: read.verdict,
                main: read.main,
            }
        })
        .collect();
    let decides = readings.iter().any(|row| row.verdict != check.verdict);
    let text = if decides {
        let others: Vec<String> = readings
            .iter()
            .filter(|row| row.verdict != check.verdict)
            .map(|row| format!("{} where it is {}", row.verdict.word(), row.text))
            .collect();
        format!("Rounding decides: the claim is {}.", listed(&others))
    } else if readings.len() > 1 {
        "Rounding does not decide: each way to read the digits gives the same verdict.".to_owned()
    } else {
        "The digits can be read in one way only.".to_owned()
    };
    Digits { decides, text, readings }
}

/// Rows of the most probable cell.
const NEAREST: usize = 8;
/// Below this a quantity is where it is known to be.
const MOVES: f64 = 0.1;

fn nearest(check: &Check) -> Option<NearestTold> {
    let nearest = check.nearest.as_ref()?;
    let rows: Vec<NearestRow> = nearest
        .moved
        .iter()
        .filter(|(.., deviations)| deviations.abs() >= MOVES)
        .filter_map(|(i, value, deviations)| {
            let (input, cell) = check.input(*i)?;
            Some(NearestRow {
                path: input.path.to_string(),
                label: in_full(input.section, &input.label, cell),
                prior: notation::print(input.known.value, input.known.u(), input.unit),
                needed: notation::print(*value, 0.1 * input.known.u(), input.unit)
                    .split(" ± ")
                    .next()
                    .map_or_else(String::new, |value| {
                        format!("{value} {}", input.unit.symbol()).trim_end().to_owned()
                    }),
                deviations: *deviations,
            })
        })
        .take(NEAREST)
        .collect();
    let named: Vec<String> = rows
        .iter()
        .take(3)
        .map(|row| format!("{} {} ({:+.1} standard deviations)", row.label, row.needed, row.deviations))
        .collect();
    let text = format!(
        "The most probable cell at the edge of the claim lies {:.1} standard deviations from the middle of what is known: above \
         all {}.",
        nearest.beta,
        listed(&named)
    );
    Some(NearestTold { beta: nearest.beta, text, rows })
}

fn alone(alone: &Required) -> AloneRow {
    let range = alone
        .plausible
        .map(|((low, high), _)| notation::print_brief(&Uncertain::range(low, high), alone.unit));
    AloneRow {
        path: alone.path.clone(),
        label: in_full(alone.section, &alone.label, alone.cell.as_deref()),
        cell: alone.cell.clone(),
        known: notation::print_brief(&alone.known, alone.unit),
        plausible: range,
        source: alone.plausible.map(|(_, source)| source),
        needed: alone.needed.map(|needed| figure(needed, 0.0, alone.unit, false)),
        place: alone.place,
        implies: alone
            .implies
            .map(|(figure, value)| format!("{} {}", figure.label, notation::print(value, 0.0, figure.unit))),
        place_text: match alone.place {
            _ if alone.implies.is_some() => "would take another quantity beyond what is plausible",
            Where::Uncertain => "within what is known",
            Where::Plausible => "plausible",
            Where::Beyond if alone.plausible.is_some() => "beyond what is plausible",
            Where::Beyond => "beyond what is known",
            Where::Never => "cannot reach it alone",
        },
    }
}

fn settle(reading: &Reading, unit: Unit) -> SettleRow {
    SettleRow {
        path: reading.path.clone(),
        label: in_full(reading.section, &reading.label, reading.cell.as_deref()),
        cell: reading.cell.clone(),
        how: reading.how,
        opens: reading.opens,
        now: spread(reading.now, reading.unit),
        reading: spread(reading.of_reading, reading.unit),
        takes: reading.takes,
        leaves: spread(reading.leaves, unit),
        settles: Chance::of(reading.settles),
        together: Chance::of(reading.together),
    }
}

/// A standard uncertainty by itself: "± 0.2 mg/cm²".
fn spread(u: f64, unit: Unit) -> String {
    let shown = notation::rounded(0.0, u / unit.in_si()).1.unwrap_or_else(|| "0".to_owned());
    format!("± {shown} {}", unit.symbol()).trim_end().to_owned()
}

fn remarks(check: &Check) -> Vec<String> {
    let claim = check.claim();
    let mut remarks: Vec<String> = claim.taken.iter().map(|taken| (*taken).to_owned()).collect();
    remarks.push(format!(
        "A claim counts as supported where it holds with a chance of at least {:.0} %, as contradicted where it fails with such \
         a chance whatever plausible choice is made of what the sheets leave out. The chance is that of {} draws of all inputs; a normal distribution of the first-order uncertainty gives {}.",
        100.0 * SUPPORTED,
        check.held,
        Chance::of(check.normal).text,
    ));
    if check.held < check.draws {
        remarks.push(format!(
            "{} of {} trials gave no cell that holds together; they do not count.",
            check.draws - check.held,
            check.draws
        ));
    }
    remarks.push(format!(
        "Verdicts by the chance: contradicted below {:.0} %, unlikely below {:.0} %, open to {:.0} %, likely to {:.0} %, \
         supported from there.",
        100.0 * CONTRADICTED,
        100.0 * UNLIKELY,
        100.0 * LIKELY,
        100.0 * SUPPORTED
    ));
    if check.claim().relation == Relation::About {
        remarks.push(
            "The chance of a value that is declared without “at least” or “at most” is that of a cell at least as far from the \
             middle of what is known, on either side."
                .to_owned(),
        );
    }
    let drafts = [Some(check.cell()), check.other()];
    for draft in drafts.into_iter().flatten() {
        for remark in draft.remarks() {
            if !remarks.contains(remark) {
                remarks.push(remark.clone());
            }
        }
    }
    remarks
}
