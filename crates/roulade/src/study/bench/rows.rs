//! From readings to rows: how uncertain each is, and with which others it shares an error.

use crate::study::readings::Reading;
use crate::study::readings::instrument::{self, Instrument};
use serde::Serialize;

/// Where the uncertainty of a reading comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum UncertaintySource {
    /// It stands beside the reading.
    Stated,
    /// From the instrument file.
    Instrument,
    /// That of an ordinary instrument: common practice, no source.
    Typical,
}

/// An own uncertainty is at least this part of the whole, so that no reading is exact.
pub(super) const LEAST_OWN: f64 = 1e-3;

/// Where readings have an error in common.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Source {
    /// An instrument of the instrument file.
    File(usize),
    /// An ordinary instrument, by the quantity it reads and the name that the bench sheet gives it.
    Ordinary { asked: usize, name: Option<String> },
    /// None.
    Independent,
}

/// A reading that is used.
#[derive(Clone, Debug)]
pub(super) struct Row {
    /// Which reading.
    pub(super) reading: usize,
    /// Which of the quantities.
    pub(super) asked: usize,
    /// The reading, SI.
    pub(super) value: f64,
    /// Standard uncertainty that is its own, SI, the rounding to a step of the scale included.
    pub(super) own: f64,
    /// That of the rounding alone, SI.
    pub(super) rounding: f64,
    /// Standard uncertainty in all, without the scatter between specimens, SI.
    pub(super) u: f64,
    pub(super) uncertainty_from: UncertaintySource,
    /// What it shares an error with, by its place among the model's sources.
    pub(super) source: usize,
    pub(super) specimen: String,
    pub(super) variant: Option<String>,
    /// How much it counts beside one of a normal error.
    pub(super) weight: f64,
    /// It is left out of the fit.
    pub(super) aside: bool,
    /// Somebody read it again and it stands: it is never left out.
    pub(super) checked: bool,
}

/// How uncertain a reading is, and why.
#[derive(Clone, Debug)]
pub(super) struct ReadUncertainty {
    pub(super) uncertainty_from: UncertaintySource,
    pub(super) own: f64,
    pub(super) rounding: f64,
    pub(super) u: f64,
    pub(super) source: Source,
}

/// How uncertain a reading is: by what stands beside it, by its instrument, or by an ordinary one. Without a file that says it,
/// nobody knows what all readings of an instrument have in common; then it is what ordinary instruments have
/// ([`Typical::shared`](crate::study::readings::quantity::Typical::shared)), unless `independent`.
pub(super) fn uncertainties(
    reading: &Reading,
    asked: usize,
    instruments: &[Instrument],
    independent: bool,
) -> ReadUncertainty {
    let unit = reading.unit();
    let typical = &reading.asked.quantity.typical;
    let shared = if independent { 0.0 } else { typical.shared(reading.value, unit) };
    let source = if shared > 0.0 {
        let name = reading.instrument.as_deref().map(|name| name.trim().to_lowercase());
        Source::Ordinary { asked, name }
    } else {
        Source::Independent
    };
    let named = reading.instrument.as_deref().and_then(|name| named(name, reading, instruments));
    if let Some(own) = reading.u {
        // What stands beside a reading is how it repeats; a file may say what its instrument's readings share.
        return match named {
            Some((i, found)) => {
                let scale = found.relative * reading.value;
                let u = (own * own + found.calibration * found.calibration + scale * scale).sqrt();
                let shares = u > own;
                let source = if shares { Source::File(i) } else { Source::Independent };
                ReadUncertainty { uncertainty_from: UncertaintySource::Stated, own, rounding: 0.0, u, source }
            }
            None => ReadUncertainty {
                uncertainty_from: UncertaintySource::Stated,
                own,
                rounding: 0.0,
                u: (own * own + shared * shared).sqrt(),
                source,
            },
        };
    }
    if let Some((i, found)) = named {
        let u = found.u(reading.value);
        if u > 0.0 {
            return ReadUncertainty {
                uncertainty_from: UncertaintySource::Instrument,
                own: found.own().max(LEAST_OWN * u),
                rounding: found.resolution / 12f64.sqrt(),
                u,
                source: Source::File(i),
            };
        }
    }
    let u = typical.u(reading.value, unit);
    // A relative uncertainty of a reading of zero.
    let u = if u > 0.0 { u } else { LEAST_OWN * unit.in_si() };
    let own = (u * u - shared * shared).max(LEAST_OWN * LEAST_OWN * u * u).sqrt();
    ReadUncertainty { uncertainty_from: UncertaintySource::Typical, own, rounding: 0.0, u, source }
}

/// The instrument of a name that reads this kind of quantity.
fn named<'a>(
    name: &str,
    reading: &Reading,
    instruments: &'a [Instrument],
) -> Option<(usize, &'a Instrument)> {
    let wanted = reading.unit().dimension();
    instruments
        .iter()
        .enumerate()
        .find(|(_, i)| instrument::same(&i.name, name) && i.dimension.is_none_or(|own| own == wanted))
}
