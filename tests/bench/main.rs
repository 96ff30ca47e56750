//! Bench sheets drawn from known designs: how often what is said of them is so. Every rate is printed, over a few sheets in the
//! ordinary run and over as many as are asked for otherwise:
//! `SHEETS=2000 cargo test --release -p roulade-tests --test bench -- --nocapture`.

#![allow(clippy::print_stdout, reason = "a reader wants to see the rates, not only that they pass")]
#![allow(
    clippy::disallowed_methods,
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test that cannot go on stops there"
)]

mod curve;
mod draw;
mod drawn;
mod kinds;
mod opened;
mod posterior;
mod size;
mod slips;
mod sound;
mod systematic;
mod widths;
