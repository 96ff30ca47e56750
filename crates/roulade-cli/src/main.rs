//! The command line of roulade: arguments, a call, an exit status.

mod args;
#[cfg_attr(not(test), expect(dead_code, reason = "the long verbs use it"))]
mod cores;
mod files;
mod page;
mod report;
mod schema;
mod verbs;

use std::process::ExitCode;

fn main() -> ExitCode {
    let asked = args::read();
    files::deliver(verbs::answer(asked.verb))
}
