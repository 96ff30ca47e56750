//! One number of a sheet, and what it says of itself.

use crate::material::Figure;
use crate::quantity::notation;
use crate::quantity::units::Unit;
use crate::sheet::defaults::Default;
use roulade_stats::uncertain::{Origin, Spread, Uncertain};
use std::borrow::Cow;

/// One number of a sheet, whether written by the user or filled in.
#[derive(Clone, Debug)]
pub struct Input {
    /// Where it stands in the sheet: `parts[1].mass`.
    pub path: Cow<'static, str>,
    /// The same with names in the place of indices, so that two sheets can be laid side by side.
    pub key: Cow<'static, str>,
    /// Heading it stands under.
    pub section: &'static str,
    /// What it is called.
    pub label: Cow<'static, str>,
    /// Unit of the trade.
    pub unit: Unit,
    /// Where it comes from.
    pub origin: Origin,
    /// The user's remark.
    pub remark: Option<String>,
    /// The number.
    pub uncertain: Uncertain,
    pub(super) said: Said,
}

/// What an input says of itself, put into words when somebody asks: most sheets are read by nobody.
#[derive(Clone, Debug)]
pub(super) enum Said {
    /// By the user.
    Written(String),
    /// In a sheet of this crate's own, with its source.
    StandIn(String, &'static str),
    /// A default.
    Default(Default),
    /// What the population of cells has, with its source.
    Population(&'static str),
    /// A figure of the table, or one lent by the material of that name.
    Figure(&'static Figure, Option<&'static str>),
    /// A text and its source, where it was worked out.
    WorkedOut(String, String),
}

impl Input {
    /// As it was written, or the default as one would write it.
    pub fn text(&self) -> Cow<'_, str> {
        match &self.said {
            Said::Written(text) | Said::StandIn(text, _) | Said::WorkedOut(text, _) => text.into(),
            Said::Default(default) => default.text.into(),
            Said::Figure(figure, _) => notation::print_brief(&figure.uncertain, self.unit).into(),
            Said::Population(_) if self.uncertain.u() > 0.0 => {
                notation::print(self.uncertain.value, self.uncertain.u(), self.unit).into()
            }
            Said::Population(_) => notation::print_brief(&self.uncertain, self.unit).into(),
        }
    }

    /// Source of a default.
    pub fn source(&self) -> Option<Cow<'_, str>> {
        Some(match &self.said {
            Said::Written(_) => return None,
            Said::StandIn(_, source) | Said::Population(source) => (*source).into(),
            Said::WorkedOut(_, source) => source.into(),
            Said::Default(default) => default.source.into(),
            Said::Figure(figure, None) => figure.cited().into(),
            Said::Figure(figure, Some(lender)) => format!("that of {lender}: {}", figure.cited()).into(),
        })
    }

    /// Whether it is supposed where the sheet says nothing.
    pub(super) fn stands_in(&self) -> bool {
        matches!(self.said, Said::StandIn(..) | Said::Population(_))
    }

    /// Whether it stands in from the population of cells: the same supposition in another cell may be of another size.
    pub fn of_population(&self) -> bool {
        matches!(self.said, Said::Population(_))
    }

    /// As an input that was worked out: of a cell in another state, or of another chemistry than the default's.
    pub(super) fn replace(&mut self, uncertain: Uncertain, source: String) {
        self.uncertain = uncertain;
        let text = match uncertain.spread {
            Spread::Range { .. } => notation::print_brief(&uncertain, self.unit),
            _ => notation::print(uncertain.value, uncertain.u(), self.unit),
        };
        self.said = Said::WorkedOut(text, source);
    }

    /// As an input of a sheet that this crate supposes, with the source of all that stands in it.
    pub(super) fn stand_in(&mut self, source: &'static str) {
        self.origin = Origin::Default;
        if let Said::Written(text) = &mut self.said {
            self.said = Said::StandIn(std::mem::take(text), source);
        }
    }
}
