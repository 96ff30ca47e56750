//! Every question asked with what a schema-aware generator makes, a little of it here: the long run is
//! `cargo run --profile fuzz --package roulade-tests --example fuzz -- --seconds 600`.
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_possible_wrap,
    clippy::cast_sign_loss,
    clippy::disallowed_methods,
    reason = "dice of inputs, not numbers of the model"
)]
#![allow(clippy::neg_cmp_op_on_partial_ord, reason = "not a number is at fault too")]
#![allow(clippy::format_push_string, reason = "a bench sheet is a text of lines")]
#![allow(clippy::unused_self, reason = "a generator is one, whether it looks at its schema or not")]

mod benches;
mod drive;
pub(crate) mod luck;
mod oracle;
mod questions;
pub(crate) mod sheets;
mod targets;
mod words;

use drive::{Tally, checked};
use sheets::Bases;
use std::path::Path;
use targets::TARGETS;

#[test]
fn whatever_is_asked_is_answered_or_refused_in_words() {
    let bases = Bases::new();
    let mut all_finds = Vec::new();
    for target in TARGETS {
        let mut tally = Tally::default();
        tally.run(target, &bases, 20_311, |executions| executions < target.few);
        assert!(tally.answered > 0, "{}: none of {} was answered", target.name, tally.executions);
        all_finds
            .extend(tally.finds.into_values().map(|(why, input)| format!("{}: {why}\n{input}", target.name)));
    }
    assert!(all_finds.is_empty(), "{}", all_finds.join("\n\n"));
}

/// What once failed, one input per file.
#[test]
fn what_once_failed_fails_no_more() {
    let corpus = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus");
    let mut seen = 0;
    for target in TARGETS {
        let Ok(files) = std::fs::read_dir(corpus.join(target.name)) else { continue };
        for file in files.map(|file| file.expect("it can be listed").path()) {
            let input = std::fs::read_to_string(&file).expect("a text");
            if let Err(why) = checked(target, &input) {
                panic!("{}: {why}", file.display());
            }
            seen += 1;
        }
    }
    assert!(seen > 0, "{} has its inputs", corpus.display());
}
