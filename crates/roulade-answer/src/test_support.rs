//! Answers about the cell of round numbers, for the tests beside the code.

use crate::answer::{Comparison, EstimateAnswer};
pub(crate) use roulade::test_support::*;
use serde_json::Value;

pub(crate) fn answer(changes: &[(&str, Value)]) -> EstimateAnswer {
    EstimateAnswer::of(&draft(changes)).unwrap()
}

pub(crate) fn compared(first: &Value, second: &Value) -> Comparison {
    Comparison::of(&read(first).unwrap(), &read(second).unwrap()).unwrap()
}
