//! A bench sheet held against a design sheet: which design the readings speak of, how well they determine it, and where
//! they contradict it or one another.

mod model;
pub mod next;
mod outliers;
mod parameters;
mod populations;
mod rewrite;
mod specimens;

pub use model::Worth;
pub use outliers::{Doubt, Furthest, RISK};
pub use populations::{Population, Verdict};
pub use specimens::{Member, Scatter};

use crate::cell::draft::Draft;
use crate::cell::figures::Worked;
use crate::quantity::problem::{Problem, Problems, nearest, shortened};
use crate::quantity::units::Unit;
use crate::sheet::Sheet;
use crate::study::readings::Reading;
use crate::study::readings::instrument::{self, Instrument};
use crate::study::readings::quantity::{Asked, Of};
use model::{Model, Row, Shared, Worthy, known, worth};
use nalgebra::DMatrix;
use parameters::Parameters;
use roulade_stats::least_squares::distribution::chi_square_tail;
use roulade_stats::least_squares::fit::FitError;
use roulade_stats::least_squares::{Loss, Outcome};
use roulade_stats::uncertain::Uncertain;

/// What is asked beside the sheets.
#[derive(Clone, Debug)]
pub struct Options<'a> {
    /// What the instruments are worth.
    pub instruments: &'a [Instrument],
    /// Name of the cell whose readings are used; that of the design sheet where left out.
    pub cell: Option<&'a str>,
    /// How dear a residual is.
    pub loss: Loss,
    /// Quantities in which specimens may be of two kinds.
    pub suspected: &'a [Asked],
}

/// What became of a reading.
#[derive(Clone, Debug, PartialEq)]
pub enum Fate {
    /// It was used.
    Used(Used),
    /// Its specimen was not fit for it.
    Unfit(String),
    /// The design has no such quantity.
    Unreadable(String),
}

/// A reading that was used.
#[derive(Clone, Debug, PartialEq)]
pub struct Used {
    /// Standard uncertainty, without the scatter between specimens, SI.
    pub u: f64,
    /// Where that comes from.
    pub worth: Worth,
    /// What the reconciled design predicts, SI.
    pub predicted: f64,
    /// Standard uncertainty of the prediction, SI.
    pub predicted_u: f64,
    /// Reading less prediction over the reading's uncertainty, specimens' scatter and shared errors included.
    pub residual: f64,
    /// The same over the standard deviation of the difference after the fit; `None` for a reading nothing else speaks of.
    pub z: Option<f64>,
    /// How much it counted under a robust loss, 1 otherwise.
    pub weight: f64,
    /// How far the design follows it: 0, it had no say, to 1, nothing else had.
    pub counted: f64,
    /// Whether it is of a variant that the design is not.
    pub other_variant: bool,
}

/// An input before and after.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moved {
    /// Number of the input.
    pub input: usize,
    /// Before the readings.
    pub before: Uncertain,
    /// After.
    pub after: Uncertain,
    /// It stood as exact in the sheet, and moved because it was read.
    pub freed: bool,
    /// Which of its bounds stopped it: −1 the lower, 1 the upper, 0 none.
    pub stopped: i8,
}

/// An error that an instrument's readings share, as the fit found it.
#[derive(Clone, Debug, PartialEq)]
pub struct Drift {
    /// Which instrument.
    pub instrument: usize,
    /// Error of its zero, SI.
    pub zero: Option<Uncertain>,
    /// Relative error of its scale.
    pub scale: Option<Uncertain>,
    /// How many readings share it.
    pub readings: usize,
    /// Unit of the first of them.
    pub unit: Unit,
}

/// A search that ends with less than this to gain is at its end: no parameter is further off than a hundredth of its
/// uncertainty.
const SETTLED: f64 = 1e-4;

impl Reconciled {
    /// Whether the parameters are the best there are nearby.
    pub fn is_settled(&self) -> bool {
        self.outcome.converged || self.left < SETTLED
    }
}

/// A bench sheet held against a design sheet.
#[derive(Clone, Debug)]
pub struct Reconciled {
    /// What became of each reading of the cell; `None` for those of other cells.
    pub fates: Vec<Option<Fate>>,
    /// Every input that could move.
    pub moved: Vec<Moved>,
    /// Covariances of those, SI.
    pub covariance: DMatrix<f64>,
    /// Quantities that were read and used.
    pub asked: Vec<Asked>,
    /// Scatter between specimens in each of these.
    pub scatter: Vec<Scatter>,
    /// Two suspected variants, in each quantity where there are.
    pub populations: Vec<Population>,
    /// Readings to doubt, the worst first.
    pub doubts: Vec<Doubt>,
    /// Readings that are furthest off of those that are not in doubt: within chance.
    pub furthest: Vec<Furthest>,
    /// Errors that instruments' readings share.
    pub drifts: Vec<Drift>,
    /// How the readings agree.
    pub agreement: Agreement,
    /// By how much the sum of squares could still fall, by its slopes.
    pub left: f64,
    /// The fit itself, with scatter between specimens as wide as 95 % intervals need it.
    pub outcome: Outcome,
    /// The sheet with every entry that moved.
    pub sheet: Sheet,
    /// What to know of it, in plain words.
    pub remarks: Vec<String>,
}

/// Holds readings against a sheet.
///
/// # Errors
/// Where the sheet's cell does not hold together, no reading is of it, or nothing can be predicted.
pub fn reconcile(
    sheet: &Sheet,
    draft: &Draft,
    readings: &[Reading],
    options: &Options<'_>,
) -> Result<Reconciled, Problems> {
    let worked = Worked::at(draft, &draft.values())?;
    let mut remarks = Vec::new();
    let own = of_cell(draft, readings, options.cell, &mut remarks)?;
    let mut fates: Vec<Option<Fate>> = vec![None; readings.len()];
    let (mut asked, mut rows): (Vec<Asked>, Vec<Row>) = (Vec::new(), Vec::new());
    for (i, reading) in readings.iter().enumerate().filter(|(i, _)| own.contains(i)) {
        let fate = match &reading.unfit {
            Some(why) => Some(Fate::Unfit(why.clone())),
            None => unreadable(draft, &worked, reading).map(Fate::Unreadable),
        };
        if let Some(slot) = fates.get_mut(i) {
            slot.clone_from(&fate);
        }
        if fate.is_some() {
            continue;
        }
        let at = asked.iter().position(|known| *known == reading.asked).unwrap_or_else(|| {
            asked.push(reading.asked.clone());
            asked.len() - 1
        });
        let Worthy { worth, own, rounding, u, instrument } = worth(reading, options.instruments);
        rows.push(Row {
            reading: i,
            asked: at,
            value: reading.value,
            own,
            rounding,
            u,
            worth,
            instrument,
            specimen: reading.specimen.clone(),
            variant: reading.population.clone(),
        });
    }
    if rows.is_empty() {
        let expected = "at least one reading of this cell, fit, of a quantity that the design has";
        return Err(Problem::new("readings", "no reading that can be used", expected).into());
    }
    unknown_instruments(readings, &own, options.instruments, &mut remarks);
    let (populations, first) = told_apart(&asked, &mut rows, options.suspected);
    let direct = directly_read(draft, &asked, &rows);
    let parameters = Parameters::of(draft, &direct);
    let parameters = parameters.clone().without_idle(|own| model::designed(draft, &parameters, &asked, own));
    let model = Model::new(draft, parameters, asked, rows, options.instruments, first);

    let told = |error: FitError| Problems::from(not_fitted(&model, &error));
    let plain = model.fit(Loss::Normal, None).map_err(told)?;
    let doubted = outliers::doubted(&model, &plain).map_err(told)?;
    let wide = model.widened();
    let outcome = if options.loss == Loss::Normal && model.is_as_wide() {
        plain.clone()
    } else {
        wide.fit(options.loss, Some(&plain)).map_err(told)?
    };
    let test = if options.loss == Loss::Normal {
        plain
    } else {
        model.fit(options.loss, Some(&plain)).map_err(told)?
    };
    finished(
        sheet,
        &wide,
        outcome,
        Tested::of(&test, model.silent(), doubted),
        Gathered { fates, populations, remarks },
    )
}

/// How the readings agree, with the scatter between specimens as it was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Agreement {
    /// Squares of all normalised residuals, of readings and of what was known beforehand.
    pub chi_square: f64,
    /// Degrees of freedom: readings, but of those that an instrument without scatter shows at one step only one.
    pub degrees: usize,
    /// χ² per degree of freedom.
    pub reduced: Option<f64>,
    /// Probability of a χ² at least as large if all uncertainties are right; `None` under a robust loss.
    pub probability: Option<f64>,
}

struct Tested {
    agreement: Agreement,
    doubted: outliers::Doubted,
}

impl Tested {
    fn of(test: &Outcome, silent: usize, doubted: outliers::Doubted) -> Self {
        let (chi_square, probability) = (test.chi_square, test.probability);
        let degrees = test.degrees.saturating_sub(silent);
        let some = (degrees > 0).then_some(degrees as f64);
        let reduced = some.map(|degrees| chi_square / degrees);
        // Without one under a robust loss.
        let probability = probability.and(some).map(|degrees| chi_square_tail(chi_square, degrees));
        Self { agreement: Agreement { chi_square, degrees, reduced, probability }, doubted }
    }
}

struct Gathered {
    fates: Vec<Option<Fate>>,
    populations: Vec<Population>,
    remarks: Vec<String>,
}

#[allow(clippy::indexing_slicing, reason = "within the shape that was just made")]
fn finished(
    sheet: &Sheet,
    model: &Model<'_>,
    outcome: Outcome,
    tested: Tested,
    gathered: Gathered,
) -> Result<Reconciled, Problems> {
    let Tested { agreement, doubted } = tested;
    let Gathered { mut fates, populations, remarks } = gathered;
    let count = model.parameters.count();
    let slopes = model.parameters.slopes();
    let mut covariance = &slopes * outcome.covariance.view((0, 0), (count, count)) * slopes.transpose();
    for i in model.parameters.idle() {
        let u = model.parameters.all.get(*i).map_or(0.0, |p| p.before.u());
        covariance[(*i, *i)] = u * u;
    }
    let after = model.parameters.at(outcome.parameters.get(..count).unwrap_or(&[]));
    let moved: Vec<Moved> = model
        .parameters
        .all
        .iter()
        .zip(&after)
        .enumerate()
        .map(|(i, (parameter, value))| Moved {
            input: parameter.input,
            before: parameter.before,
            after: known(*value, covariance[(i, i)].max(0.0).sqrt()),
            freed: parameter.freed,
            stopped: if *value <= parameter.bounds.0 { -1 } else { i8::from(*value >= parameter.bounds.1) },
        })
        .collect();
    let designed = model.designed(&after).unwrap_or_default();
    for (i, row) in model.rows.iter().enumerate() {
        if let Some(slot) = fates.get_mut(row.reading) {
            *slot = Some(Fate::Used(used(model, &outcome, &doubted, &designed, i, row)));
        }
    }
    let drifts = drifts(model, &outcome);
    let populations = as_fitted(model, &outcome, populations);
    let sheet = rewrite::rewritten(sheet, model.draft, &moved, &covariance)?;
    Ok(Reconciled {
        fates,
        moved,
        covariance,
        asked: model.asked.clone(),
        scatter: model.scatter.clone(),
        populations,
        doubts: doubted.doubts,
        furthest: doubted.furthest,
        drifts,
        agreement,
        left: model.left(&outcome),
        outcome,
        sheet,
        remarks,
    })
}

fn used(
    model: &Model<'_>,
    outcome: &Outcome,
    doubted: &outliers::Doubted,
    designed: &[f64],
    i: usize,
    row: &Row,
) -> Used {
    let count = model.parameters.count();
    // What the design alone makes of the reading, and how uncertain that is.
    let mut alone = outcome.jacobian.row(i).clone_owned();
    alone.columns_range_mut(count..).fill(0.0);
    let through = &alone * &outcome.covariance;
    let predicted = designed.get(row.asked).copied().unwrap_or(f64::NAN);
    let other_variant = row.variant.is_some() && model.first.get(row.asked) != Some(&row.variant);
    let about = model.about(i);
    let weight = outcome.weights.get(i).copied().unwrap_or(1.0);
    let fitted_u = model.fitted_u(i);
    let expected = match &row.variant {
        Some(variant) if other_variant => {
            let at = model.place(&Shared::Variant(row.asked, variant.clone()));
            predicted + at.and_then(|at| outcome.parameters.get(at)).copied().unwrap_or(0.0)
        }
        _ => predicted,
    };
    Used {
        u: row.u,
        worth: row.worth,
        predicted: expected,
        predicted_u: through.dot(&alone).max(0.0).sqrt(),
        residual: (row.value - expected) / about,
        z: doubted.z.get(i).copied().flatten(),
        weight,
        counted: (weight * through.dot(&outcome.jacobian.row(i)) / (fitted_u * fitted_u)).clamp(0.0, 1.0),
        other_variant,
    }
}

/// Errors of instruments as the fit found them.
fn drifts(model: &Model<'_>, outcome: &Outcome) -> Vec<Drift> {
    let found = |what: Shared, size: f64| {
        let at = model.place(&what)?;
        Some(known(outcome.parameters.get(at)? * size, outcome.u(at) * size))
    };
    let unit = |i: usize| {
        let first = model.rows.iter().find(|row| row.instrument == Some(i));
        first.and_then(|row| model.asked.get(row.asked)).map_or(Unit::One, |asked| asked.quantity.unit)
    };
    let all = model.instruments.iter().enumerate().map(|(i, instrument)| Drift {
        instrument: i,
        unit: unit(i),
        zero: found(Shared::Zero(i), instrument.calibration),
        scale: found(Shared::Scale(i), instrument.relative),
        readings: model.rows.iter().filter(|row| row.instrument == Some(i)).count(),
    });
    all.filter(|drift| drift.zero.is_some() || drift.scale.is_some()).collect()
}

/// Variants kept apart with their difference as the fit found it.
fn as_fitted(model: &Model<'_>, outcome: &Outcome, populations: Vec<Population>) -> Vec<Population> {
    let mut populations = populations;
    for population in &mut populations {
        let what = Shared::Variant(population.asked, population.groups[1].0.clone());
        if let Some(at) = model.place(&what)
            && let Some(difference) = outcome.parameters.get(at)
        {
            (population.difference, population.u) = (*difference, outcome.u(at));
        }
    }
    populations
}

/// Readings of the cell that is asked for.
fn of_cell(
    draft: &Draft,
    readings: &[Reading],
    asked: Option<&str>,
    remarks: &mut Vec<String>,
) -> Result<Vec<usize>, Problem> {
    let wanted = asked.unwrap_or(draft.name());
    let mut names: Vec<&str> = Vec::new();
    for name in readings.iter().filter_map(|reading| reading.cell.as_deref()) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let same = |name: &str| instrument::same(name, wanted);
    if !names.is_empty() && !names.iter().any(|name| same(name)) {
        let listed: Vec<String> = names.iter().map(|name| format!("\"{}\"", shortened(name))).collect();
        return Err(Problem::new(
            "readings",
            format!("no reading of \"{}\", but of {}", shortened(wanted), listed.join(", ")),
            "readings of the design sheet's cell, or the name of the one that is meant, as \"cell\" (--cell)",
        ));
    }
    let mine = |reading: &Reading| reading.cell.as_deref().is_none_or(same);
    let own: Vec<usize> =
        readings.iter().enumerate().filter(|(_, reading)| mine(reading)).map(|(i, _)| i).collect();
    let others = readings.len() - own.len();
    if others > 0 {
        remarks.push(format!("{others} readings are of other cells, and were not looked at."));
    }
    Ok(own)
}

/// Why a design has no such quantity; `None` where it has.
fn unreadable(draft: &Draft, worked: &Worked, reading: &Reading) -> Option<String> {
    let asked = &reading.asked;
    if asked.predict(draft, &draft.values(), worked).is_some() {
        return None;
    }
    Some(match (asked.quantity.of, &asked.part) {
        (Of::Part(_), Some(part)) => {
            let parts = &worked.design.blueprint().parts;
            let near = nearest(part, parts.iter().map(|part| part.name.as_str()));
            let hint = near.map(|near| format!("; perhaps \"{near}\" was meant")).unwrap_or_default();
            format!("the sheet has no part \"{}\"{hint}", shortened(part))
        }
        (Of::Input, _) => format!("the sheet has no entry for {}", asked.label()),
        _ => "this design has no such quantity".to_owned(),
    })
}

fn unknown_instruments(readings: &[Reading], own: &[usize], known: &[Instrument], remarks: &mut Vec<String>) {
    if known.is_empty() {
        return;
    }
    let mut told: Vec<&str> = Vec::new();
    for reading in own.iter().filter_map(|i| readings.get(*i)).filter(|reading| reading.u.is_none()) {
        let Some(name) = reading.instrument.as_deref() else { continue };
        if !told.contains(&name) && !known.iter().any(|i| instrument::same(&i.name, name)) {
            told.push(name);
            remarks.push(format!(
                "The instrument \"{}\" is not in the instrument file; an ordinary one stands in for it.",
                shortened(name)
            ));
        }
    }
}

/// Variants: those told apart by the sheet, those only suspected. Rows keep a variant where it is kept apart.
fn told_apart(
    asked: &[Asked],
    rows: &mut [Row],
    suspected: &[Asked],
) -> (Vec<Population>, Vec<Option<String>>) {
    let (mut populations, mut first) = (Vec::new(), vec![None; asked.len()]);
    for (at, (quantity, first)) in asked.iter().zip(&mut first).enumerate() {
        let unit = quantity.quantity.unit;
        let largest =
            rows.iter().filter(|row| row.asked == at).map(|row| row.value.abs()).fold(0.0, f64::max);
        let margin = 3.0 * quantity.quantity.typical.u(largest, unit);
        let labels = |row: &&mut Row| row.asked == at;
        let scatter = Scatter::of(&model::seen(rows, at));
        let found = populations::labelled(at, &scatter, margin);
        if found.is_empty() {
            // A label that all of them have says nothing.
            rows.iter_mut().filter(labels).for_each(|row| row.variant = None);
            if suspected.contains(quantity) {
                let found = populations::suspected(at, &scatter, margin);
                if found.verdict == Verdict::Two {
                    *first = Some(found.groups[0].0.clone());
                    for row in rows.iter_mut().filter(labels) {
                        let group = found.groups.iter().find(|(_, members)| members.contains(&row.specimen));
                        row.variant = group.map(|(name, _)| name.clone());
                    }
                }
                populations.push(found);
            }
            continue;
        }
        let design = found.first().map(|population| population.groups[0].0.clone());
        for one in found.iter().filter(|population| population.verdict == Verdict::One) {
            let merged = |row: &&mut Row| row.asked == at && row.variant.as_ref() == Some(&one.groups[1].0);
            rows.iter_mut().filter(merged).for_each(|row| row.variant.clone_from(&design));
        }
        *first = design;
        populations.extend(found);
    }
    (populations, first)
}

/// Inputs that are read directly, each with the uncertainty of its best reading.
fn directly_read(draft: &Draft, asked: &[Asked], rows: &[Row]) -> Vec<(usize, f64)> {
    let read = asked.iter().enumerate().filter_map(|(at, asked)| {
        let own = rows.iter().filter(|row| row.asked == at).map(|row| row.u).fold(f64::INFINITY, f64::min);
        asked.input(draft).map(|input| (input, own))
    });
    read.collect()
}

/// Why there is no fit at all.
#[allow(clippy::indexing_slicing, reason = "within the shape that was just made")]
fn not_fitted(model: &Model<'_>, error: &FitError) -> Problem {
    let path = |parameter: &usize| {
        let slopes = model.parameters.slopes();
        let at = (0..slopes.nrows()).find(|i| *parameter < slopes.ncols() && slopes[(*i, *parameter)] != 0.0);
        let input =
            at.and_then(|i| model.parameters.all.get(i)).and_then(|p| model.draft.inputs().get(p.input));
        input.map_or_else(String::new, |input| input.path.to_string())
    };
    match error {
        FitError::Start { .. } => Problem::new(
            "sheet",
            "a design that does not hold together within the ranges it gives",
            "a starting sheet whose best values lie within its ranges",
        ),
        FitError::Slope { parameter, .. } => Problem::new(
            path(parameter),
            "an entry that cannot move either way without the design falling apart",
            "a starting sheet with some room about its best values",
        ),
        FitError::Prior { parameter, .. } => {
            Problem::new(path(parameter), error.to_string(), "another entry")
        }
        other => Problem::new("readings", other.to_string(), "other readings"),
    }
}
