//! The gates, in the order in which they are quickest to fail.

use crate::run::{Outcome, cargo, command, node, root, run, step};
use crate::{npm, page, python, setup};
use std::fs;
use std::path::PathBuf;
use std::time::Instant;

/// Sets up and passes every gate, or stops at the first that fails.
pub(crate) fn all() -> Outcome {
    let start = Instant::now();
    setup::rust_tools()?;
    page::set_up()?;
    let (chromium, firefox, webkit) = (setup::chromium()?, setup::firefox()?, setup::webkit()?);

    step("gate: format", || run(cargo().args(["fmt", "--all", "--check"])))?;
    step("gate: lints", || {
        run(cargo().args(["clippy", "--locked", "--workspace", "--all-targets", "--", "--deny", "warnings"]))
    })?;
    step("gate: documentation", || {
        run(cargo()
            .args(["doc", "--locked", "--workspace", "--no-deps"])
            .env("RUSTDOCFLAGS", "--deny warnings"))
    })?;
    step("gate: tests", || run(cargo().args(["test", "--locked", "--workspace"])))?;
    step("gate: tables as Arrow and Parquet", || {
        // With the whole workspace, so that what it has in common with the gate before is not compiled anew.
        let feature = ["--features", "roulade-cli/arrow", "--lib", "--bin", "roulade"];
        run(cargo().args(["test", "--locked", "--workspace"]).args(feature).args(["--", "arrow"]))
    })?;
    step("gate: packages as a registry would have them", packages)?;
    python::tested()?;
    step("gate: the model as WebAssembly", page::model)?;
    step("gate: both builds of the page", page::builds)?;
    step("gate: the npm package of the model", || npm::check(Some(&chromium)))?;
    step("gate: types of the page", || {
        run(node("typescript/bin/tsc").arg("--noEmit"))?;
        run(node("typescript/bin/tsc").args(["--noEmit", "--project", "tsconfig.tools.json"]))
    })?;
    step("gate: the page in a browser", || {
        let tests = |files: &[PathBuf]| {
            run(command("node")
                // A browser waits for its pages half of the time.
                .args(["--test", "--test-reporter", "spec", "--test-concurrency", "2"])
                .args(files)
                .env("CHROMIUM", &chromium)
                .env("FIREFOX", &firefox)
                .env("WEBKIT", &webkit))
        };
        // What counts frames does so with nothing beside it.
        let (timed, others): (Vec<_>, Vec<_>) =
            browser_tests()?.into_iter().partition(|file| file.ends_with("frames.test.mjs"));
        tests(&others)?;
        tests(&timed)
    })?;
    println!("\nEvery gate passed, in {:.0} s.", start.elapsed().as_secs_f64());
    Ok(())
}

/// Packs every crate that may be published, and builds it from its package; nothing leaves this machine.
fn packages() -> Outcome {
    let folder = root().join("crates");
    let entries = fs::read_dir(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    let mut names = Vec::new();
    for entry in entries.filter_map(Result::ok) {
        let manifest = entry.path().join("Cargo.toml");
        let text =
            fs::read_to_string(&manifest).map_err(|error| format!("{}: {error}", manifest.display()))?;
        // The workspace says that nothing is published, and what inherits that is not.
        if !text.contains("publish.workspace = true") {
            names.push(entry.file_name().to_string_lossy().into_owned());
        }
    }
    let asked = names.iter().flat_map(|name| ["--package", name]);
    run(cargo().args(["package", "--locked", "--offline", "--quiet", "--allow-dirty"]).args(asked))
}

/// tests/page/*.test.mjs by name: node 20 does not expand patterns, and with no file at all it would look elsewhere.
fn browser_tests() -> Outcome<Vec<PathBuf>> {
    let folder = root().join("tests/page");
    let entries = fs::read_dir(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    let mut files: Vec<PathBuf> = entries
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.to_string_lossy().ends_with(".test.mjs"))
        .collect();
    files.sort();
    if files.is_empty() { Err(format!("no tests in {}", folder.display())) } else { Ok(files) }
}
