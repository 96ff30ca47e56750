//! The chores of this repository: `cargo xtask show` and `cargo xtask check` do everything on a fresh machine.
#![forbid(unsafe_code)]
#![allow(clippy::print_stdout, clippy::print_stderr, reason = "a terminal tool")]

mod check;
mod npm;
mod page;
mod python;
mod run;
mod setup;

use run::Outcome;
use std::process::ExitCode;

const USAGE: &str = "\
usage: cargo xtask <chore>

  show [--port N]  set up, build and compare the two demo cells; then serve the page on this machine
  check            set up and run every gate; stops at the first that fails
  page             set up and build the page: web/dist/ and web/dist/single/roulade.html
  python           set up, build the Python package and test it
  npm              set up, lay out and try the npm package of the model: target/npm/roulade-model/

What is set up stays in target/ and web/node_modules/, except for what only the system can hold: the wasm32 target
of the Rust toolchain and, for check, Chromium, Firefox and Java.";

/// What was asked for.
#[derive(Debug, PartialEq, Eq)]
enum Chore {
    Show { port: Option<u16> },
    Check,
    Page,
    Python,
    Npm,
    Help,
}

impl Chore {
    fn read(words: &[&str]) -> Option<Self> {
        match words {
            ["show"] => Some(Self::Show { port: None }),
            ["show", "--port", port] => port.parse().ok().map(|port| Self::Show { port: Some(port) }),
            ["check"] => Some(Self::Check),
            ["page"] => Some(Self::Page),
            ["python"] => Some(Self::Python),
            ["npm"] => Some(Self::Npm),
            ["help" | "--help" | "-h"] => Some(Self::Help),
            _ => None,
        }
    }

    fn perform(&self) -> Outcome {
        match self {
            Self::Show { port } => page::show(*port),
            Self::Check => check::all(),
            Self::Page => page::set_up().and_then(|()| page::build()),
            Self::Python => python::tested(),
            Self::Npm => page::set_up().and_then(|()| page::model()).and_then(|()| npm::check(None)),
            Self::Help => {
                println!("{USAGE}");
                Ok(())
            }
        }
    }
}

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let Some(chore) = Chore::read(&words) else {
        eprintln!("{USAGE}");
        return ExitCode::from(2);
    };
    match chore.perform() {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => {
            eprintln!("\nxtask: {problem}");
            ExitCode::FAILURE
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Chore;

    #[test]
    fn reads_each_chore_and_refuses_the_rest() {
        assert_eq!(Chore::read(&["show"]), Some(Chore::Show { port: None }));
        assert_eq!(Chore::read(&["python"]), Some(Chore::Python));
        assert_eq!(Chore::read(&["show", "--port", "8080"]), Some(Chore::Show { port: Some(8080) }));
        assert_eq!(Chore::read(&["check"]), Some(Chore::Check));
        for wrong in [&[][..], &["show", "--port"], &["show", "--port", "65536"], &["check", "everything"]] {
            assert_eq!(Chore::read(wrong), None, "{wrong:?}");
        }
    }
}
