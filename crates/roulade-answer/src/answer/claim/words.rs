//! What is said of a claim: the sentence, its digits, the remarks.

use super::super::estimate::variance_shares;
use super::super::figure_writer::Figure;
use super::super::hazards::cautioned;
use super::super::sentence::{
    Sentence, Words, assumed, gives, head, in_sentence, is_read, listed, sharpened,
};
use super::chance::Chance;
use super::details::{Digits, DigitsRow, holds_at_best, tidy};
use super::nearest::of_check;
use roulade::cell::draft::Draft;
use roulade::quantity::notation;
use roulade::quantity::units::Unit;
use roulade::study::claim::{
    Basis, CONTRADICTED, Check, Claim, LIKELY, Relation, SUPPORTED, UNLIKELY, Verdict, Where,
};
use roulade::study::effort;

/// What the figure is called after its value, where its unit does not say it, and its basis, where it is not the cell.
fn named(claim: &Claim) -> String {
    let named = if claim.says_its_figure() { String::new() } else { format!(" {}", claim.figure.name()) };
    match claim.basis {
        Basis::Cell => named,
        basis => format!("{named} ({})", basis.name()),
    }
}

pub(super) fn sentence(check: &Check, value: &Figure) -> Sentence {
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
        head(check.cell()),
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
            "; {} of such cells would be declared lower, {} higher.",
            Chance::of(check.below).text,
            Chance::of(check.above).text
        ),
        Relation::AtLeast | Relation::AtMost => ".".to_owned(),
    });
    // What the model may be off by is nobody's to change.
    if let Some(first) = check.required.iter().find(|alone| is_read(&alone.path))
        && let Some(needed) = first.needed
        && first.place <= Where::Plausible
    {
        let (label, cell) = (&first.label, first.cell.as_deref());
        words = words.say(format!(
            " It would {} if {} alone were {} ({}: {}).",
            if holds_at_best(check) { "fail" } else { "hold" },
            in_sentence(first.section, label, cell),
            notation::print(needed, 0.0, first.unit),
            if first.uncertain.u() > 0.0 { "now" } else { "assumed exactly" },
            notation::print_brief(&first.uncertain, first.unit),
        ));
    } else if check.verdict != Verdict::Supported {
        words = words.say(" No single quantity within its plausible range makes it hold.");
    }
    if matches!(check.verdict, Verdict::Unlikely | Verdict::Contradicted)
        && let Some(nearest) = of_check(check)
    {
        words = words.say(format!(" {}", nearest.text));
    }
    if let Some(best) = check.information.first()
        && check.verdict == Verdict::Open
    {
        words = words.say(format!(
            " Most informative next measurement: {} ({}).",
            in_sentence(best.section, &best.label, best.cell.as_deref()),
            best.how,
        ));
    }
    if let Some(text) = sharpened(check.cell(), &check.spread, check.output, |i| check.input(i)) {
        words = words.say(text);
    }
    let all: Vec<&Draft> = std::iter::once(check.cell()).chain(check.other()).collect();
    words.done(variance_shares(&check.spread, check.output, |i| check.input(i)), assumed(&all))
}

pub(super) fn digits(check: &Check, shown: impl Fn((f64, f64)) -> [Option<f64>; 2]) -> Digits {
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

pub(super) fn remarks(check: &Check) -> Vec<String> {
    let claim = check.claim();
    let mut remarks: Vec<String> = claim.taken.iter().map(|taken| (*taken).to_owned()).collect();
    remarks.push(format!(
        "The chance is that of {} trials over all inputs; what the sheets leave out is drawn from the population of cells by size, \
         purpose and chemistry. A normal distribution of the first-order uncertainty gives {}.",
        check.held,
        Chance::of(check.normal).text,
    ));
    remarks.extend(effort::remark(check.asked, check.draws));
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
        remarks.push(format!(
            "The chance of a value that is declared without “at least” or “at most” is that of a cell at least as far from the \
             best estimate, on either side; a declared value is taken to have a standard uncertainty of {} (common practice, \
             no source).",
            notation::print(check.declared_within, 0.0, Unit::Percent),
        ));
    }
    let drafts: Vec<&Draft> = std::iter::once(check.cell()).chain(check.other()).collect();
    remarks.extend(cautioned(&drafts));
    for draft in drafts {
        for remark in draft.remarks() {
            if !remarks.contains(remark) {
                remarks.push(remark.clone());
            }
        }
    }
    remarks
}

/// Under which conventions and on which bases another verdict would stand, each verdict with those that give it.
pub(super) fn conventions(check: &Check) -> String {
    let claim = check.claim();
    let bases = check.bases.iter().map(|on| (on.on.words(claim.figure), on.verdict));
    let all: Vec<(String, Verdict)> =
        bases.chain(check.conventions.iter().map(|one| (one.name.clone(), one.verdict))).collect();
    let verdicts =
        [Verdict::Supported, Verdict::Likely, Verdict::Open, Verdict::Unlikely, Verdict::Contradicted];
    let others = verdicts.into_iter().filter(|verdict| *verdict != check.verdict).filter_map(|verdict| {
        let names: Vec<String> =
            all.iter().filter(|(_, of)| *of == verdict).map(|(name, _)| format!("“{name}”")).collect();
        (!names.is_empty()).then(|| format!("{} if it is declared as {}", verdict.word(), listed(&names)))
    });
    let others: Vec<String> = others.collect();
    if others.is_empty() { String::new() } else { format!("The claim would be {}.", others.join("; ")) }
}
