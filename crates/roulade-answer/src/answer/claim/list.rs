//! Several declared figures weighed together: first whether they agree with one another, then each given the others.

use super::super::before_after::BeforeAfter;
use super::super::estimate::variance_shares;
use super::super::figure_writer::Figure;
use super::super::hazards::cautioned;
use super::super::sentence::{Sentence, Words, assumed, gives, head, listed, sharpened};
use super::chance::Chance;
use super::details::{figure, tidy};
use super::nearest::{NearestAnswer, described};
use crate::cautions::{Caution, cautions};
use roulade::quantity::notation;
use roulade::study::claim::{Agreement, Basis, Claim, FEWEST, Together, Verdict, Way};
use roulade::study::effort;
use serde::Serialize;

/// What some figures make of another by arithmetic.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RelationshipRow {
    /// The arithmetic: "26 Ah × 3.66 V ÷ 355 g".
    pub text: String,
    /// What it gives, its tolerance as standard uncertainty: rounding, and what is not stated.
    pub gives: Figure,
    /// What is declared of the same figure.
    pub declared: String,
    /// What is declared, over what the arithmetic gives, less one.
    pub off: f64,
    /// The same in standard uncertainties of both; nothing where a declared bound holds.
    pub deviations: f64,
}

/// Whether declared figures agree with one another.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ConsistencyAnswer {
    /// "untested", "agree", "strained" or "disagree".
    pub agreement: &'static str,
    /// In a sentence.
    pub text: String,
    /// Claims without any one of which the others agree best.
    pub strains: Vec<String>,
    /// Each figure that others determine.
    pub rows: Vec<RelationshipRow>,
}

/// A declared figure alone and given all others.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DeclaredRow {
    /// The claim in its shortest clear form.
    pub claim: String,
    /// Id of the figure.
    pub figure: &'static str,
    /// What the figure is called.
    pub label: &'static str,
    /// The figure from the sheet alone.
    pub expected: Figure,
    /// Chance of the claim from that.
    pub chance: Chance,
    /// What becomes of it.
    pub verdict: Verdict,
    /// The figure given all other declared figures.
    pub given: Figure,
    /// Chance of the claim from that.
    pub given_chance: Chance,
    /// What becomes of it.
    pub given_verdict: Verdict,
    /// Effective number of trials behind it.
    pub effective: f64,
    /// How it was found, in words.
    pub how: String,
}

/// Answer about several declared figures of one cell.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ClaimsAnswer {
    /// Version of this crate.
    pub roulade: &'static str,
    /// The cell they are about.
    pub cell: String,
    /// The size that is declared beside them.
    pub size: Option<String>,
    /// What becomes of all of them together.
    pub verdict: Verdict,
    /// In words.
    pub answer: Sentence,
    /// Whether they agree with one another.
    pub consistency: ConsistencyAnswer,
    /// Share of cells whose figures would lie as far out together.
    pub chance: Chance,
    /// Each figure.
    pub figures: Vec<DeclaredRow>,
    /// What they imply.
    pub implied: Vec<BeforeAfter>,
    /// The claim that stands weakest.
    pub weakest: String,
    /// The most probable cell that just meets that one.
    pub nearest: Option<NearestAnswer>,
    /// Trials asked for.
    pub draws: u32,
    /// Those whose cell held together.
    pub held: u32,
    /// What to know of this answer.
    pub remarks: Vec<String>,
    /// What to keep in mind where a cell is opened for a reading.
    pub cautions: &'static [Caution],
}

impl ClaimsAnswer {
    /// Puts several claims in words.
    pub fn of(together: &Together) -> Self {
        let consistency = consistency(together);
        let claims = together.claims();
        let figures = claims.iter().zip(&together.figures).map(|(claim, one)| {
            let unit = claim.figure.unit;
            DeclaredRow {
                claim: claim.text(),
                figure: claim.figure.id,
                label: claim.figure.label,
                expected: figure(one.expected.mean, one.expected.u, unit, false),
                chance: Chance::of(one.chance),
                verdict: one.verdict,
                given: figure(one.given.mean, one.given.u, unit, false),
                given_chance: Chance::of(one.given_chance),
                given_verdict: one.given_verdict,
                effective: one.effective,
                how: match one.way {
                    Way::Weighted => format!("{:.0} effective trials", one.effective),
                    Way::Steered => {
                        format!("{:.0} effective trials, some sampled near the other figures", one.effective)
                    }
                    Way::FirstOrder => {
                        format!(
                            "to first order: fewer than {FEWEST:.0} effective trials meet the other figures"
                        )
                    }
                },
            }
        });
        let implied = together.implied.iter().map(|one| BeforeAfter {
            id: one.figure.id,
            label: one.figure.label,
            before: figure(one.before.mean, one.before.u, one.figure.unit, false),
            after: figure(one.after.mean, one.after.u, one.figure.unit, false),
        });
        let nearest =
            together.nearest.as_ref().map(|nearest| described(nearest, |i| Some((together.input(i)?, None))));
        Self {
            roulade: env!("CARGO_PKG_VERSION"),
            cell: together.cell().name().to_owned(),
            size: together.size.map(|(diameter, height)| format!("{diameter} × {height}")),
            verdict: together.verdict,
            answer: sentence(together, &consistency, nearest.as_ref()),
            consistency,
            chance: Chance::of(together.chance),
            figures: figures.collect(),
            implied: implied.collect(),
            weakest: claims.get(together.weakest).map(Claim::text).unwrap_or_default(),
            nearest,
            draws: together.draws,
            held: together.held,
            remarks: remarks(together),
            cautions: cautions(together.cell().ion()),
        }
    }
}

/// The number and unit of a claim as they were written.
fn written(claim: &Claim) -> String {
    format!("{} {}", claim.rounding.written, claim.unit.symbol())
}

fn consistency(together: &Together) -> ConsistencyAnswer {
    let found = &together.consistency;
    let claims = together.claims();
    let rows: Vec<RelationshipRow> = found
        .relationships
        .iter()
        .filter_map(|one| {
            let claim = claims.get(one.figure)?;
            Some(RelationshipRow {
                text: one.text.clone(),
                gives: figure(one.gives.0, one.gives.1, claim.figure.unit, false),
                declared: written(claim),
                off: tidy(one.off),
                deviations: tidy(one.deviations),
            })
        })
        .collect();
    let apart = rows.iter().max_by(|a, b| a.deviations.abs().total_cmp(&b.deviations.abs()));
    let strains: Vec<String> = found.strains.iter().filter_map(|i| claims.get(*i)).map(written).collect();
    let agreement = match found.agreement {
        Agreement::Untested => "untested",
        Agreement::Agree => "agree",
        Agreement::Strained => "strained",
        Agreement::Disagree => "disagree",
    };
    let said = |row: &RelationshipRow| format!("{} = {}", row.text, row.gives.text);
    let text = match (found.agreement, apart) {
        (Agreement::Untested, _) | (_, None) => {
            "No declared figure follows from the others by arithmetic.".to_owned()
        }
        (Agreement::Agree, Some(_)) => {
            let each: Vec<String> =
                rows.iter().map(|row| format!("{} (declared {})", said(row), row.declared)).collect();
            format!("The declared figures agree with one another: {}.", listed(&each))
        }
        (agreement, Some(row)) => {
            let disagree = agreement == Agreement::Disagree;
            let which = match strains.as_slice() {
                [] => String::new(),
                [one] => format!(" {one} fits the others worst: without it they agree best."),
                _ => format!(" One of {} does not fit the others.", listed(&strains)),
            };
            format!(
                "The declared figures {}: {}, where {} is declared, {:.0} % {} ({:.1} standard deviations).{which}",
                if disagree { "do not agree with one another" } else { "agree poorly with one another" },
                said(row),
                row.declared,
                100.0 * row.off.abs(),
                if row.off > 0.0 { "more" } else { "less" },
                row.deviations.abs(),
            )
        }
    };
    ConsistencyAnswer { agreement, text, strains, rows }
}

fn sentence(
    together: &Together,
    consistency: &ConsistencyAnswer,
    nearest: Option<&NearestAnswer>,
) -> Sentence {
    let verdict = match together.verdict {
        Verdict::Supported => "Supported.",
        Verdict::Likely => "Likely.",
        Verdict::Open => "Open.",
        Verdict::Unlikely => "Unlikely.",
        Verdict::Contradicted => "Contradicted.",
    };
    let cell = together.cell();
    let mut words = Words::default().strong(verdict).say(format!(" {} {} ", consistency.text, head(cell)));
    words = words.say(format!("{} ", gives(cell.inputs().iter())));
    let each: Vec<String> = together
        .claims()
        .iter()
        .zip(&together.figures)
        .map(|(claim, one)| {
            let expected_text = figure(one.expected.mean, one.expected.u, claim.figure.unit, false);
            let basis =
                if claim.basis == Basis::Cell { String::new() } else { format!(", {}", claim.basis.name()) };
            format!("{} ({} declared{basis})", expected_text.text, written(claim))
        })
        .collect();
    words = words.say(format!("{}: ", listed(&each)));
    words = words.strong(Chance::of(together.chance).text).say(
        " of such cells have figures that lie as far from the prediction as the declared ones together.",
    );
    if let (Some(claim), Some(one)) =
        (together.claims().get(together.weakest), together.figures.get(together.weakest))
    {
        let given = figure(one.given.mean, one.given.u, claim.figure.unit, false);
        words = words.say(format!(
            " The least probable is “{}”: all the others imply {}, which gives it a chance of {}.",
            claim.text(),
            given.text,
            Chance::of(one.given_chance).text
        ));
        // What arithmetic refuses no cell mends.
        if matches!(together.verdict, Verdict::Unlikely | Verdict::Contradicted)
            && together.consistency.agreement != Agreement::Disagree
            && let Some(nearest) = nearest
        {
            words = words.say(format!(" {}", nearest.text));
        }
    }
    let input = |i: usize| Some((together.input(i)?, None));
    if let Some(text) = sharpened(cell, together.spread(), together.weakest, input) {
        words = words.say(text);
    }
    words.done(variance_shares(together.spread(), together.weakest, input), assumed(&[cell]))
}

/// Where the middle of the trials lies well beside the figure at the best values, which is what an estimate gives.
fn at_best(together: &Together) -> Option<String> {
    let claims = together.claims();
    let beside = claims
        .iter()
        .zip(&together.figures)
        .filter(|(_, one)| (one.expected.mean - one.at_best).abs() > 0.2 * one.expected.u);
    let beside: Vec<String> =
        beside.map(|(claim, one)| notation::print(one.at_best, one.expected.u, claim.figure.unit)).collect();
    (!beside.is_empty()).then(|| {
        format!(
            "What is expected is the mean of the trials; an estimate, which takes the likeliest value of each entry, gives {}.",
            listed(&beside)
        )
    })
}

fn remarks(together: &Together) -> Vec<String> {
    let mut remarks: Vec<String> = vec![
        "Tolerances of the arithmetic: the rounding of each figure, 1 % where a figure does not say whether it is a minimum or \
         typical, 0.8 % between a nominal and a mean voltage (common practice, no source), and the mean voltage of the \
         chemistry where none is declared."
            .to_owned(),
        "Given the others: trials of the joint prior weighted by how likely each other figure would be declared so, with a \
         standard uncertainty of 1 to 1.5 % of what is declared, 30 % of a resistance (common practice, no source), and what \
         the model may be off by."
            .to_owned(),
    ];
    for taken in together.claims().iter().flat_map(|claim| &claim.taken) {
        if !remarks.iter().any(|other| other == taken) {
            remarks.push((*taken).to_owned());
        }
    }
    remarks.extend(at_best(together));
    remarks.extend(effort::remark(together.asked, together.draws));
    if together.held < together.draws {
        remarks.push(format!(
            "{} of {} trials gave no cell that holds together; they do not count.",
            together.draws - together.held,
            together.draws
        ));
    }
    remarks.extend(cautioned(&[together.cell()]));
    remarks.extend(together.cell().remarks().iter().cloned());
    remarks
}
