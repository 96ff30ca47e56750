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

/// What is compiled in from elsewhere, and the notices that go with it.
const NOTICES: &str = include_str!("../notices.txt");

fn main() -> ExitCode {
    if std::env::args().skip(1).eq(["--version", "--verbose"]) {
        let text = format!("roulade {}\n\n{NOTICES}", env!("CARGO_PKG_VERSION"));
        return files::deliver(report::Delivery {
            out: report::Out::Exact(text),
            err: String::new(),
            status: 0,
        });
    }
    let asked = args::read();
    files::deliver(verbs::answer(asked.verb))
}
