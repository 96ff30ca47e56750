//! One cell: its figures, ledger, drawings, inputs, and what to keep in mind.

use super::change::above_roundings;
use super::drawing::{CurveDrawing, RollDrawing, Section, ends};
use super::elements::{At, CompositionAnswer, ElementLedger, write_compositions, write_elements};
use super::figure_writer::{Figure, FigureWriter, Noting, Writing};
use super::path::{self, PathTable};
use super::row::Row;
use super::sentence::{Sentence, VarianceShare, Words, assumed, gives, head, listed, sharpened};
use crate::cautions::{Caution, cautions};
use roulade::cell::draft::Input;
use roulade::cell::draft::{Draft, plausibility_of};
use roulade::cell::evaluator::Evaluator;
use roulade::cell::figures::{FIGURES, HEADLINE, Worked};
use roulade::cell::hazard::hazards;
use roulade::cell::ledger::{self, Group, How, Totals};
use roulade::quantity::problem::Problems;
use roulade::quantity::units::Unit;
use roulade_stats::propagation::FirstOrder;
use roulade_stats::uncertain::{Origin, Uncertain};
use serde::Serialize;

/// Rows under one heading.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Table {
    /// The heading.
    pub title: &'static str,
    /// Its rows.
    pub rows: Vec<Row>,
}

/// A line of the ledger.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "LedgerLine"))]
pub struct LedgerLine<F = Figure> {
    /// Its group.
    pub group: Group,
    /// What it is.
    pub line: String,
    /// How its mass was obtained.
    pub how: How,
    /// Mass; absent for spaces.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mass: Option<F>,
    /// Volume.
    pub volume: F,
}

/// A sum over a group, or over the cell.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Total"))]
pub struct Total<F = Figure> {
    /// The group, or "cell".
    pub group: String,
    /// Its mass.
    pub mass: F,
    /// Its volume.
    pub volume: F,
}

/// Every gram and every cubic millimetre.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Ledger"))]
pub struct Ledger<F = Figure> {
    /// All lines.
    pub lines: Vec<LedgerLine<F>>,
    /// Groups, then the cell.
    pub totals: Vec<Total<F>>,
    /// Sum of all volumes less the envelope: rounding.
    pub volume_closure: F,
    /// Computed less weighed mass, where the cell was weighed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mass_residual: Option<F>,
}

/// An input as it is shown.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct InputRow {
    /// Path in the sheet.
    pub path: String,
    /// Heading.
    pub section: &'static str,
    /// What it is called.
    pub label: String,
    /// As written, or the default.
    pub text: String,
    /// Unit of the trade.
    pub unit: &'static str,
    /// Where it comes from.
    pub origin: Origin,
    /// The user's remark.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub remark: Option<String>,
    /// Source of a default.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// What looks like a slip in it, in a sentence.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub plausibility: Option<String>,
}

impl InputRow {
    /// An input of a cell in a can of an outer diameter, m.
    fn of(input: &Input, diameter: f64) -> Self {
        Self {
            path: input.path.to_string(),
            section: input.section,
            label: input.label.to_string(),
            text: input.text().into_owned(),
            unit: input.unit.symbol(),
            origin: input.origin,
            remark: input.remark.clone(),
            source: input.source().map(Into::into),
            plausibility: Some(plausibility_of(input, diameter).join(" "))
                .filter(|remark| !remark.is_empty()),
        }
    }
}

/// Answer about one cell.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EstimateAnswer {
    /// Version of this crate.
    pub roulade: &'static str,
    /// The cell's name.
    pub cell: String,
    /// In one sentence.
    pub answer: Sentence,
    /// The figures that come first.
    pub headline: Vec<Row>,
    /// All others.
    pub tables: Vec<Table>,
    /// The ledger.
    pub ledger: Ledger,
    /// The same by elements.
    pub elements: ElementLedger,
    /// Cathode active materials that the sheet gives by their metals.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub compositions: Vec<CompositionAnswer>,
    /// The way of the current, element by element.
    pub path: PathTable,
    /// Discharge at open circuit and under load, where half-cell curves were used.
    pub curve: Option<CurveDrawing>,
    /// The axial section.
    pub section: Section,
    /// The roll across the axis.
    pub roll: RollDrawing,
    /// All inputs.
    pub inputs: Vec<InputRow>,
    /// What to know of this answer.
    pub remarks: Vec<String>,
    /// What to keep in mind where readings come from an opened cell.
    pub cautions: &'static [Caution],
}

/// Figures and ledger: all that is written with the writer.
pub(super) struct Written<F = Figure> {
    pub(super) rows: Vec<(&'static str, Row<F>)>,
    pub(super) ledger: Ledger<F>,
    pub(super) elements: ElementLedger<F>,
    pub(super) compositions: Vec<CompositionAnswer<F>>,
    pub(super) path: PathTable<F>,
}

/// All figures of a draft at some values of its inputs, ledger included, SI base units.
///
/// # Errors
/// Where the cell does not hold together at those values.
pub fn figure_values(draft: &Draft, values: &[f64]) -> Result<Vec<f64>, Problems> {
    let worked = Worked::at(draft, values)?;
    Ok(note(&At::new(draft, values, &worked)))
}

fn note(at: &At<'_>) -> Vec<f64> {
    let mut writer = Noting::new();
    write(&mut writer, at);
    writer.noted()
}

/// Writes figures and ledgers.
pub(super) fn write<W: FigureWriter>(writer: &mut W, at: &At<'_>) -> Written<W::Figure> {
    let w = at.worked;
    let mut rows = Vec::with_capacity(FIGURES.len());
    for shown in FIGURES {
        if let Some(value) = (shown.of)(w) {
            let figure = if shown.table == HEADLINE {
                writer.amount(value, shown.unit)
            } else {
                writer.figure(value, shown.unit)
            };
            rows.push((shown.table, Row { id: shown.id, label: shown.label, figure, note: shown.note }));
        }
    }
    Written {
        rows,
        ledger: write_ledger(writer, w),
        elements: write_elements(writer, at),
        compositions: write_compositions(writer, at),
        path: path::write(writer, w),
    }
}

fn write_ledger<W: FigureWriter>(writer: &mut W, w: &Worked) -> Ledger<W::Figure> {
    let mut lines = Vec::with_capacity(32);
    ledger::lines(&w.design, |line| {
        let mass = writer.figure(line.mass.value, Unit::Gram);
        lines.push(LedgerLine {
            group: line.group,
            line: writer.words(line.what),
            how: line.how,
            mass: (line.group != Group::Space).then_some(mass),
            volume: writer.figure(line.volume.value, Unit::CubicCentimetre),
        });
    });
    let totals = Totals::of(&w.design);
    let mut sums = Vec::new();
    for (group, (mass, volume)) in Group::ALL.iter().zip(totals.masses.iter().zip(&totals.volumes)) {
        sums.push(Total {
            group: group.name().to_owned(),
            mass: writer.figure(mass.value, Unit::Gram),
            volume: writer.figure(volume.value, Unit::CubicCentimetre),
        });
    }
    sums.push(Total {
        group: "cell".to_owned(),
        mass: writer.figure(totals.mass().value, Unit::Gram),
        volume: writer.figure(totals.volume().value, Unit::CubicCentimetre),
    });
    let weighed = w.design.blueprint().weighed;
    Ledger {
        lines,
        totals: sums,
        volume_closure: writer.rounding(
            above_roundings(totals.closure(&w.design).value, w.design.blueprint().envelope().value),
            Unit::CubicMillimetre,
        ),
        mass_residual: weighed.map(|weighed| writer.difference((totals.mass() - weighed).value, Unit::Gram)),
    }
}

impl EstimateAnswer {
    /// Answers for one draft.
    ///
    /// # Errors
    /// Where its cell does not hold together or its electrodes do not reach the voltage window.
    pub fn of(draft: &Draft) -> Result<Self, Problems> {
        let values = draft.values();
        let best = Worked::at(draft, &values)?;
        let at = At::new(draft, &values, &best);
        let at_best = note(&at);
        let uncertain: Vec<Uncertain> = draft.inputs().iter().map(|input| input.uncertain).collect();
        let mut evaluator = Evaluator::of(draft);
        let spread = FirstOrder::of(&uncertain, draft.correlation(), &at_best, |values| {
            Some(note(&At::new(draft, values, evaluator.at(values).ok()?)))
        });
        let u: Vec<f64> = (0..at_best.len()).map(|i| spread.u(i)).collect();
        let written = write(&mut Writing::with(&u), &at);
        let main = FIGURES
            .iter()
            .filter(|shown| (shown.of)(&best).is_some())
            .position(|shown| shown.id == "volumetric");
        let each = |i: usize| Some((draft.inputs().get(i)?, None));
        let sharper = main.and_then(|output| sharpened(draft, &spread, output, each));
        let sensitivity = main.map_or_else(Vec::new, |output| variance_shares(&spread, output, each));
        let mut answer = Self::finish(draft, &best, written, (sensitivity, sharper));
        answer.remarks.extend(spread.unmoved().iter().filter_map(|i| draft.inputs().get(*i)).map(unmoved));
        Ok(answer)
    }

    /// What does not need the writer.
    pub(super) fn finish(
        draft: &Draft,
        w: &Worked,
        written: Written,
        sensitivity: (Vec<VarianceShare>, Option<String>),
    ) -> Self {
        let sentence = sentence(draft, &written, sensitivity);
        let mut tables: Vec<Table> = Vec::new();
        let mut headline = Vec::new();
        for (title, row) in written.rows {
            if title == HEADLINE {
                headline.push(row);
            } else if let Some(table) = tables.last_mut().filter(|table| table.title == title) {
                table.rows.push(row);
            } else {
                tables.push(Table { title, rows: vec![row] });
            }
        }
        let cut: Vec<String> = headline
            .iter()
            .filter(|row| row.figure.low == Some(0.0))
            .map(|row| row.label.to_owned())
            .collect();
        let mut remarks = remarks(draft, w);
        if !cut.is_empty() {
            remarks.push(format!(
                "To first order the interval of {} reaches below zero, where nothing is, and is cut off there: Monte Carlo trials \
                 keep every entry within what it may be.",
                listed(&cut)
            ));
        }
        Self {
            roulade: env!("CARGO_PKG_VERSION"),
            cell: draft.name().to_owned(),
            answer: sentence,
            headline,
            tables,
            ledger: written.ledger,
            elements: written.elements,
            compositions: written.compositions,
            path: written.path,
            curve: CurveDrawing::of(w),
            section: Section::of(w),
            roll: RollDrawing::of(w),
            inputs: draft.inputs().iter().map(|input| InputRow::of(input, draft.diameter())).collect(),
            remarks,
            cautions: cautions(draft.ion()),
        }
    }
}

/// The three inputs that contribute most to the variance of an output, each with the name of its cell where there are two.
pub(super) fn variance_shares<'a>(
    spread: &FirstOrder,
    output: usize,
    input: impl Fn(usize) -> Option<(&'a Input, Option<&'a str>)>,
) -> Vec<VarianceShare> {
    let ranked = spread.shares(output).into_iter().filter_map(|(i, share)| {
        let (input, cell) = input(i)?;
        Some(VarianceShare { path: input.path.to_string(), label: named(input, cell), share })
    });
    ranked.take(3).collect()
}

/// What an input is called where it stands alone, with the name of its cell where there are two.
pub(super) fn named(input: &Input, cell: Option<&str>) -> String {
    in_full(input.section, &input.label, cell)
}

/// The same from its section and its label.
pub(super) fn in_full(section: &str, label: &str, cell: Option<&str>) -> String {
    // A part's label names the part; elsewhere the section tells two alike apart.
    let label = if label.contains(':') { label.to_owned() } else { format!("{section}: {label}") };
    match cell {
        Some(cell) => format!("{label} ({cell})"),
        None => label,
    }
}

fn sentence(
    draft: &Draft,
    written: &Written,
    (sensitivity, sharper): (Vec<VarianceShare>, Option<String>),
) -> Sentence {
    let mut words = Words::default();
    words = words.say(format!("{} {} ", head(draft), gives(draft.inputs().iter())));
    for (id, before, after) in [
        ("capacity", "", " and "),
        ("energy", "", ": "),
        ("volumetric", "volumetric energy density ", ", "),
        ("gravimetric", "gravimetric energy density ", "."),
    ] {
        if let Some((_, row)) = written.rows.iter().find(|(_, row)| row.id == id) {
            words = words.say(before).number(&row.figure).say(after);
        }
    }
    if let Some(sharper) = sharper {
        words = words.say(sharper);
    }
    words.done(sensitivity, assumed(&[draft]))
}

/// What to know of an input whose uncertainty could not be carried through.
pub(super) fn unmoved(input: &Input) -> String {
    format!(
        "The uncertainty of {} ({}) is left out: the cell holds together at neither end of it.",
        input.label,
        input.text()
    )
}

/// What to know of this answer, in plain words.
pub(super) fn remarks(draft: &Draft, w: &Worked) -> Vec<String> {
    let mut remarks = draft.plausibility();
    remarks.extend(hazards(draft, w).into_iter().map(|hazard| hazard.text));
    remarks.extend_from_slice(draft.remarks());
    remarks.extend(ends(w));
    remarks.extend(path::remarks(w));
    let b = w.design.blueprint();
    let facing = w.design.roll().facing();
    let length = w.design.roll().lengths().cathode;
    for (face, paired) in [("inner", facing.inner), ("outer", facing.outer)] {
        let idle = (length - paired).value;
        if idle > 1e-9 * length.value {
            remarks.push(format!(
                "{:.1} mm of the cathode's {face} face have no anode opposite (unpaired area): {} can plate there.",
                1e3 * idle,
                draft.ion().name()
            ));
        }
    }
    let dry = w.design.room().dry_pores().value;
    if dry > 1e-12 {
        remarks.push(format!("The electrolyte leaves {:.1} cm³ of the pores dry.", 1e6 * dry));
    }
    let widest = w.design.widest();
    if widest > 0.5 * b.can.bore() {
        remarks.push(format!(
            "Where plies end at this number of turns the jelly roll stands out to {:.2} mm in a can of {:.2} mm inner diameter; on the mean it \
             fits, and so it does where plies end at another angle. A computed fit is not a safety margin.",
            2e3 * widest.value,
            1e3 * b.can.bore().value
        ));
    }
    remarks
}
