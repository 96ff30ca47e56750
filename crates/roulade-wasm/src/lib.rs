//! The model for the page: one function per question, JSON text in, JSON text out, no arithmetic.
//!
//! The text is that of the files and of the command line's `--json`, so the page has no schema of its own. A
//! question that cannot be answered comes back as text too, with its problems; nothing here throws.
//!
//! The crate is built twice: whole, and without its feature `study`, as the small model that answers a first screen
//! and reads what is kept of one.
#![forbid(unsafe_code)]

#[cfg(feature = "study")]
pub mod study;

use roulade_answer::ask;
use wasm_bindgen::prelude::wasm_bindgen;

/// What one design sheet amounts to.
#[wasm_bindgen]
pub fn estimate(sheet: &str) -> String {
    ask::estimate(sheet)
}

/// A sheet from the text of a file.
#[wasm_bindgen]
pub fn sheet(text: &str) -> String {
    ask::sheet(text)
}

/// The work on cells from the text of a link.
#[wasm_bindgen]
pub fn work(text: &str) -> String {
    ask::work(text)
}

/// Two design sheets side by side, and what each difference contributes.
#[wasm_bindgen]
pub fn compare(first: &str, second: &str) -> String {
    ask::compare(first, second)
}
