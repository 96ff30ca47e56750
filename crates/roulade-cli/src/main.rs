//! The command line of roulade: arguments, a call, an exit status.

mod args;
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
