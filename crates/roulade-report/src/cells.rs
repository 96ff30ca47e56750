//! What a report is about: one cell, or two.

use roulade_answer::answer::{Comparison, EstimateAnswer, Sentence};

/// What a report is about.
#[derive(Debug)]
pub enum ReportedCells {
    /// One cell.
    One(Box<EstimateAnswer>),
    /// Two, compared.
    Two(Box<Comparison>),
}

impl ReportedCells {
    pub(crate) fn first(&self) -> &EstimateAnswer {
        match self {
            Self::One(alone) => alone,
            Self::Two(both) => &both.first,
        }
    }

    pub(crate) fn second(&self) -> Option<&EstimateAnswer> {
        match self {
            Self::One(_) => None,
            Self::Two(both) => Some(&both.second),
        }
    }

    pub(crate) fn answer(&self) -> &Sentence {
        match self {
            Self::One(alone) => &alone.answer,
            Self::Two(both) => &both.answer,
        }
    }
}
