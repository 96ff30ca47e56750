//! The command line of roulade: arguments, a call, an exit status.

mod args;
mod batch;
mod cores;
mod files;
mod lines;
mod page;
mod picture;
mod report;
mod schema;
mod search;
mod spreadsheet;
mod table;
mod vary;
mod verbs;

use std::process::ExitCode;

fn main() -> ExitCode {
    let asked = args::read();
    files::deliver(verbs::answer(asked.verb))
}
