//! Running other programs, always from the top of the repository, and saying what came of it.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

/// A chore either ends well or with one line that says what did not.
pub(crate) type Outcome<T = ()> = Result<T, String>;

/// The top of the repository.
pub(crate) fn root() -> &'static Path {
    // crates/xtask/../.. : two parents that a manifest of this workspace always has.
    Path::new(env!("CARGO_MANIFEST_DIR")).ancestors().nth(2).unwrap_or(Path::new("."))
}

/// `program`, to be run from the top of the repository.
pub(crate) fn command(program: impl Into<OsString>) -> Command {
    let mut command = Command::new(program.into());
    command.current_dir(root());
    command
}

/// The cargo that runs this, so that a toolchain asked for by `cargo +…` is kept.
pub(crate) fn cargo() -> Command {
    command(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
}

/// A script of one of the page's packages.
pub(crate) fn node(script: &str) -> Command {
    let mut node = command("node");
    node.current_dir(root().join("web")).arg(Path::new("node_modules").join(script));
    node
}

/// Runs to the end, the output going to the terminal.
pub(crate) fn run(command: &mut Command) -> Outcome {
    match command.status() {
        Ok(status) if status.success() => Ok(()),
        Ok(status) => Err(format!("{} ended with {status}", words(command))),
        Err(error) => Err(format!("{} did not start: {error}", words(command))),
    }
}

/// What a command prints, or nothing if there is no such program or it fails.
pub(crate) fn ask(command: &mut Command) -> Option<String> {
    let output = command.stdin(Stdio::null()).stderr(Stdio::null()).output().ok()?;
    output.status.success().then(|| String::from_utf8_lossy(&output.stdout).trim().to_owned())
}

/// Where a program stands on the search path.
pub(crate) fn which(program: &str) -> Option<PathBuf> {
    std::env::split_paths(&std::env::var_os("PATH")?)
        .map(|folder| folder.join(program))
        .find(|file| file.is_file())
}

/// One named step: announced, timed, and named again if it fails.
pub(crate) fn step(name: &str, action: impl FnOnce() -> Outcome) -> Outcome {
    println!("── {name}");
    let start = Instant::now();
    let outcome = action();
    let seconds = start.elapsed().as_secs_f64();
    match outcome {
        Ok(()) => {
            println!("── {name}: done in {seconds:.1} s");
            Ok(())
        }
        Err(problem) => Err(format!("{name} FAILED after {seconds:.1} s: {problem}")),
    }
}

/// A command as one would type it.
pub(crate) fn words(command: &Command) -> String {
    std::iter::once(command.get_program())
        .chain(command.get_args())
        .map(|word| word.to_string_lossy())
        .collect::<Vec<_>>()
        .join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_top_holds_the_lock_file() {
        assert!(root().join("Cargo.lock").is_file());
    }

    #[test]
    fn a_failure_names_the_step_and_the_command() {
        let problem = step("a step", || run(command("false").arg("--x"))).unwrap_err();
        assert!(
            problem.starts_with("a step FAILED") && problem.contains("false --x ended with"),
            "{problem}"
        );
        let problem = run(&mut command("no-such-program")).unwrap_err();
        assert!(problem.starts_with("no-such-program did not start"), "{problem}");
    }
}
