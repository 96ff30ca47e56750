//! What comes of a bench sheet held against a design sheet.

use super::agreement::Agreement;
use super::offsets::Offset;
use super::outliers::{Furthest, SuspectReading};
use super::populations::Population;
use super::rows::UncertaintySource;
use super::specimens::Scatter;
use crate::quantity::units::Unit;
use crate::sheet::Sheet;
use crate::study::readings::quantity::Asked;
use nalgebra::DMatrix;
use roulade_stats::least_squares::Outcome;
use roulade_stats::uncertain::Uncertain;

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
    pub uncertainty_from: UncertaintySource,
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
    /// Whether it was left out of the fit.
    pub left_out: bool,
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
    /// Its name: as in the instrument file, or that of an ordinary one with what it read.
    pub name: String,
    /// Standard uncertainty that was supposed of it beforehand, where no file says it, SI.
    pub supposed: Option<f64>,
    /// Error of its zero, SI.
    pub zero: Option<Uncertain>,
    /// Relative error of its scale.
    pub scale: Option<Uncertain>,
    /// How many readings share it.
    pub readings: usize,
    /// Unit of the first of them.
    pub unit: Unit,
}

/// An error that readings share.
#[derive(Clone, Debug, PartialEq)]
pub enum SharedErrorSource {
    /// The zero of an instrument of the file.
    Zero(usize),
    /// Its scale.
    Scale(usize),
    /// That of an ordinary instrument, in one quantity.
    Ordinary(Asked),
}

/// What a fit leaves unknown of an error that readings share.
#[derive(Clone, Debug, PartialEq)]
pub struct SharedError {
    /// Which.
    pub of: SharedErrorSource,
    /// Its standard uncertainty, as a part of what it was beforehand.
    pub u: f64,
    /// Coefficients of correlation with inputs, by their keys.
    pub with: Vec<(String, f64)>,
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
    /// Suspect readings, the worst first.
    pub outliers: Vec<SuspectReading>,
    /// Readings that are furthest off of those that are not in doubt: within chance.
    pub furthest: Vec<Furthest>,
    /// Errors that instruments' readings share.
    pub drifts: Vec<Drift>,
    /// Quantities whose readings may all be off, each with its chance.
    pub offsets: Vec<Offset>,
    /// What is left unknown of errors that readings share.
    pub shared: Vec<SharedError>,
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
