//! The answer as a bench engineer would say it: runs of text, so that a page can set numbers apart.

use super::figure_writer::Figure;
use roulade::cell::draft::{Draft, Input, in_short};
use roulade_stats::order;
use roulade_stats::propagation::FirstOrder;
use roulade_stats::uncertain::Origin;
use serde::Serialize;

/// A stretch of a sentence.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Run {
    /// The words.
    pub text: String,
    /// Whether they are the answer's numbers.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub strong: bool,
}

/// An input from which the uncertainty of the answer comes.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct VarianceShare {
    /// Its path in the sheet.
    pub path: String,
    /// What it is called.
    pub label: String,
    /// Its share of the variance of the main figure.
    pub share: f64,
}

impl VarianceShare {
    /// Its share as it is read: "48 %".
    pub fn percent(&self) -> String {
        format!("{:.0} %", 100.0 * self.share)
    }
}

/// A sentence and what it rests on.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Sentence {
    /// The sentence in runs.
    pub runs: Vec<Run>,
    /// The same as one text.
    pub text: String,
    /// What its uncertainty comes from, the most first.
    pub sensitivity: Vec<VarianceShare>,
    /// How much of it was supposed.
    pub assumed: String,
}

/// Puts a sentence together.
#[derive(Debug, Default)]
pub(super) struct Words(Vec<Run>);

impl Words {
    pub(super) fn say(mut self, text: impl Into<String>) -> Self {
        self.0.push(Run { text: text.into(), strong: false });
        self
    }

    pub(super) fn number(self, figure: &Figure) -> Self {
        self.strong(&figure.text)
    }

    pub(super) fn strong(mut self, text: impl Into<String>) -> Self {
        self.0.push(Run { text: text.into(), strong: true });
        self
    }

    pub(super) fn done(self, sensitivity: Vec<VarianceShare>, assumed: String) -> Sentence {
        let text = self.0.iter().map(|run| run.text.as_str()).collect();
        Sentence { runs: self.0, text, sensitivity, assumed }
    }
}

/// "7 of 46 entries are assumed.", and what of the others looks like a slip.
pub(super) fn assumed(drafts: &[&Draft]) -> String {
    let (mut assumed, mut all) = (0, 0);
    for input in drafts.iter().flat_map(|draft| draft.inputs()) {
        all += 1;
        assumed += usize::from(matches!(input.origin, Origin::Assumed | Origin::Default));
    }
    let text = match assumed {
        1 => format!("1 of {all} entries is assumed."),
        n => format!("{n} of {all} entries are assumed."),
    };
    match slips(drafts) {
        slips if slips.is_empty() => text,
        slips => format!("{text} {slips}"),
    }
}

/// What looks like a slip, the first in full; nothing where nothing does.
pub(crate) fn slips(drafts: &[&Draft]) -> String {
    let all: Vec<String> = drafts.iter().flat_map(|draft| draft.plausibility()).collect();
    in_short(&all)
}

/// A cell's name where a sentence begins with it: what stands for a name is none, and takes a capital.
pub(super) fn head(draft: &Draft) -> &str {
    if draft.name() == Draft::UNNAMED { "A cell" } else { draft.name() }
}

/// How a cell gives its figures: predicted from what was read, expected where nothing was.
pub(super) fn gives<'a>(mut inputs: impl Iterator<Item = &'a Input>) -> &'static str {
    if inputs.any(|input| input.origin == Origin::Measured) {
        "is predicted to give"
    } else {
        "is expected to give, from assumptions alone,"
    }
}

/// An input inside a sentence: "cathode coating thickness, per side", "the practical capacity of NMC811".
pub(super) fn in_sentence(section: &str, label: &str, cell: Option<&str>) -> String {
    let named = match label.split_once(": ") {
        // The classes stand behind the word.
        Some(("purpose", _)) => "the purpose of the cell".to_owned(),
        // "the mass fraction of the dry coating of carbon black" would have two things of one another.
        Some((of, what)) if what.contains(" of ") || what.contains(" in ") => format!("{of}'s {what}"),
        Some((of, what)) => format!("the {what} of {of}"),
        None if section == "Cell" => label.to_owned(),
        None => format!("{} {label}", section.to_ascii_lowercase()),
    };
    match cell {
        Some(cell) => format!("{named} ({cell})"),
        None => named,
    }
}

/// Whether an entry is of the cell, and not what the model itself may be off by, which nobody reads or changes.
pub(super) fn is_read(path: &str) -> bool {
    !path.starts_with("model.") && !path.ends_with(".potential")
}

/// Where nothing was measured: the three entries whose reading would sharpen the figure most, in a sentence.
pub(super) fn sharpened<'a>(
    draft: &Draft,
    spread: &FirstOrder,
    output: usize,
    input: impl Fn(usize) -> Option<(&'a Input, Option<&'a str>)>,
) -> Option<String> {
    if draft.inputs().iter().any(|input| input.origin == Origin::Measured) {
        return None;
    }
    let mut direction = spread.direction(output);
    order::by(&mut direction, |a, b| b.1.abs().total_cmp(&a.1.abs()));
    let named = direction.into_iter().filter_map(|(i, _)| {
        let (input, cell) = input(i)?;
        is_read(&input.path).then(|| in_sentence(input.section, &input.label, cell))
    });
    let named: Vec<String> = named.take(3).collect();
    (!named.is_empty()).then(|| format!(" Entries that would sharpen it most: {}.", listed(&named)))
}

/// "a, b and c".
pub(super) fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}
