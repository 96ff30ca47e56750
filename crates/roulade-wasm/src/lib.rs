//! The model for the page: one function per question, JSON text in, JSON text out, no arithmetic.
//!
//! The text is that of the files and of the command line's `--json`, so the page has no schema of its own. A
//! question that cannot be answered comes back as text too, with its problems; nothing here throws.
#![forbid(unsafe_code)]

use roulade::ask;
use roulade::many::OneByOne;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

#[wasm_bindgen]
extern "C" {
    /// A function of the page that is told how many pieces of long work are done, and of how many.
    pub type Progress;
    #[wasm_bindgen(method, structural)]
    fn call(this: &Progress, of: &JsValue, done: u32, count: u32);
}

/// One after another, with a word to the page after each.
fn hands(progress: &Progress) -> OneByOne<impl Fn(usize, usize)> {
    // Pieces are counted in thousands at most.
    let whole = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    OneByOne(move |done, count| progress.call(&JsValue::NULL, whole(done), whole(count)))
}

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

/// The materials a sheet may name, with their properties and sources.
#[wasm_bindgen]
pub fn materials() -> String {
    ask::materials()
}

/// How far figures spread when every uncertain entry is drawn at random.
#[wasm_bindgen]
pub fn sampled(question: &str, progress: &Progress) -> String {
    ask::sampled(question, &hands(progress))
}

/// What a figure leans on.
#[wasm_bindgen]
pub fn leaning(question: &str, progress: &Progress) -> String {
    ask::leaning(question, &hands(progress))
}

/// A digest of the bits of `count` estimates around `sheet`, drawn from `seed`; native and wasm must agree on it.
#[wasm_bindgen]
pub fn digest(sheet: &str, count: u32, seed: u32) -> String {
    ask::digest(sheet, count, seed)
}
