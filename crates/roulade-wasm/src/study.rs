//! Questions that take a while, and all that nobody asks before a first answer stands.

use js_sys::Function;
use roulade_answer::ask;
use roulade_stats::executor::{Executor, OneByOne};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// What leaving a part out would buy.
#[wasm_bindgen]
pub fn without(question: &str) -> String {
    ask::without(question)
}

/// A sheet with some entries changed, and the way back.
#[wasm_bindgen]
pub fn edit(question: &str) -> String {
    ask::edit(question)
}

/// The materials a sheet may name, with their properties and sources.
#[wasm_bindgen]
pub fn materials() -> String {
    ask::materials()
}

/// Every quantity of a sheet, with what it is called.
#[wasm_bindgen]
pub fn quantities() -> String {
    ask::quantities()
}

/// Whether a declared figure can be true.
#[wasm_bindgen]
pub fn claim(question: &str, tell: &Function) -> String {
    ask::claim(question, &executor(tell))
}

/// Question, answer and all that it rests on as one HTML page.
#[wasm_bindgen]
pub fn report(question: &str, tell: &Function) -> String {
    roulade_report::report(question, &executor(tell))
}

/// A sheet in a can of another size.
#[wasm_bindgen]
pub fn resize(question: &str) -> String {
    ask::resize(question)
}

/// A digest of the bits of `count` estimates around `sheet`, drawn from `seed`; native and wasm must agree on it.
#[wasm_bindgen]
pub fn digest(sheet: &str, count: u32, seed: u32) -> String {
    ask::digest(sheet, count, seed)
}

/// How far figures spread when every uncertain entry is drawn at random.
#[wasm_bindgen]
pub fn sampled(question: &str, tell: &Function) -> String {
    ask::sampled(question, &executor(tell))
}

/// Sensitivity of a figure.
#[wasm_bindgen]
pub fn sensitivity(question: &str, tell: &Function) -> String {
    ask::sensitivity(question, &executor(tell))
}

/// The recipe of a sheet in cans of other diameters and heights.
#[wasm_bindgen]
pub fn map(question: &str, tell: &Function) -> String {
    ask::map(question, &executor(tell))
}

/// A cell along one of its inputs, or over two.
#[wasm_bindgen]
pub fn sweep(question: &str, tell: &Function) -> String {
    ask::sweep(question, &executor(tell))
}

/// The contribution of each change between two sheets.
#[wasm_bindgen]
pub fn attribute(question: &str, tell: &Function) -> String {
    ask::attribute(question, &executor(tell))
}

/// What a bench can read: every quantity by its name, with its unit.
#[wasm_bindgen]
pub fn readable() -> String {
    ask::readable()
}

/// An empty bench sheet for the cell of a sheet: what tells most of its energy density first.
#[wasm_bindgen]
pub fn template(sheet: &str) -> String {
    ask::template_text(sheet)
}

/// A bench sheet held against a design sheet.
#[wasm_bindgen]
pub fn reconcile(question: &str, _tell: &Function) -> String {
    ask::reconcile(question)
}

/// What to read next.
#[wasm_bindgen]
pub fn next(question: &str, _tell: &Function) -> String {
    ask::next(question)
}

/// Long work, one piece after another; `tell` is called with how many are done, and of how many.
fn executor(tell: &Function) -> impl Executor {
    OneByOne(|done: usize, of: usize| {
        let [done, of] = [done, of].map(|count| JsValue::from_f64(count as f64));
        // Whoever listens may have stopped listening; the work goes on.
        drop(tell.call2(&JsValue::NULL, &done, &of));
    })
}
