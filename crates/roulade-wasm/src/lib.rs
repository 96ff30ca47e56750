//! The model for the page: one function per question, JSON text in, JSON text out, no arithmetic.
//!
//! The text is that of the files and of the command line's `--json`, so the page has no schema of its own. A
//! question that cannot be answered comes back as text too, with its problems; nothing here throws.
#![forbid(unsafe_code)]

use roulade::ask;
use wasm_bindgen::prelude::wasm_bindgen;

/// What one design sheet amounts to.
#[wasm_bindgen]
pub fn estimate(sheet: &str) -> String {
    ask::estimate(sheet)
}

/// Two design sheets side by side, and what each difference is worth.
#[wasm_bindgen]
pub fn compare(first: &str, second: &str) -> String {
    ask::compare(first, second)
}

/// What leaving a part out would buy.
#[wasm_bindgen]
pub fn without(question: &str) -> String {
    ask::without(question)
}

/// Whether a declared figure can be true.
#[wasm_bindgen]
pub fn claim(question: &str) -> String {
    ask::claim(question)
}

/// Question, answer and all that it rests on as one HTML page.
#[wasm_bindgen]
pub fn report(question: &str) -> String {
    roulade_report::report(question)
}

/// The materials a sheet may name, with their properties and sources.
#[wasm_bindgen]
pub fn materials() -> String {
    ask::materials()
}

/// A digest of the bits of `count` estimates around `sheet`, drawn from `seed`; native and wasm must agree on it.
#[wasm_bindgen]
pub fn digest(sheet: &str, count: u32, seed: u32) -> String {
    ask::digest(sheet, count, seed)
}
