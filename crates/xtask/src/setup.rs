//! What a fresh machine lacks, each piece fetched once and looked for first.

use crate::run::{Outcome, ask, cargo, command, root, run, step, which};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// What the page's model is compiled for.
pub(crate) const WASM_TARGET: &str = "wasm32-unknown-unknown";

/// The standard library for WebAssembly.
pub(crate) fn wasm_target() -> Outcome {
    let sysroot = ask(command("rustc").args(["--print", "sysroot"]))
        .ok_or("rustc is missing: see https://rustup.rs")?;
    if Path::new(&sysroot).join("lib/rustlib").join(WASM_TARGET).is_dir() {
        return Ok(());
    }
    step("set up: Rust for WebAssembly", || run(command("rustup").args(["target", "add", WASM_TARGET])))
}

/// rustfmt and clippy, which a minimal toolchain comes without.
pub(crate) fn rust_tools() -> Outcome {
    for (subcommand, component) in [("fmt", "rustfmt"), ("clippy", "clippy")] {
        if ask(cargo().args([subcommand, "--version"])).is_none() {
            step(&format!("set up: {component}"), || {
                run(command("rustup").args(["component", "add", component]))
            })?;
        }
    }
    Ok(())
}

/// The program that makes a compiled module ready for JavaScript: this crate's own, for the library behind it builds in a
/// third of the time of wasm-bindgen's command line.
pub(crate) fn bindings() -> Outcome {
    run(cargo()
        .args([
            "build",
            "--locked",
            "--quiet",
            "--package",
            "xtask",
            "--features",
            "bindings",
            "--bin",
            "bindings",
        ])
        .args(["--profile", "quick"]))
}

/// Where [`bindings`] puts it.
pub(crate) fn bindings_program() -> PathBuf {
    root().join("target/quick/bindings")
}

/// The page's packages, exactly as locked; again only when the lock file has changed.
pub(crate) fn packages() -> Outcome {
    let web = root().join("web");
    let (lock, installed) = (web.join("package-lock.json"), web.join("node_modules/.installed-lock.json"));
    let wanted = fs::read(&lock).map_err(|error| format!("{}: {error}", lock.display()))?;
    if fs::read(&installed).is_ok_and(|found| found == wanted) {
        return Ok(());
    }
    step("set up: the page's packages", || {
        run(command("npm").current_dir(&web).args(["ci", "--no-audit", "--no-fund"]))?;
        fs::write(&installed, wanted).map_err(|error| format!("{}: {error}", installed.display()))
    })
}

/// The browser for most of the page's tests: `CHROMIUM`, one on the search path, or else the system's package.
pub(crate) fn chromium() -> Outcome<PathBuf> {
    program("Chromium", "CHROMIUM", &["chromium"], &["chromium"])
}

/// The other browser that the page is tested in: `FIREFOX`, one on the search path, or else the system's package.
pub(crate) fn firefox() -> Outcome<PathBuf> {
    program("Firefox", "FIREFOX", &["firefox-esr", "firefox"], &["firefox-esr"])
}

/// What drives the third, and a screen for it: `WEBKIT`, one on the search path, or else the system's packages, 198 MB without
/// those that they merely recommend.
pub(crate) fn webkit() -> Outcome<PathBuf> {
    let packages = ["--no-install-recommends", "webkit2gtk-driver", "xvfb"];
    program("WebKit", "WEBKIT", &["WebKitWebDriver"], &packages)
}

/// What Spark runs on: `JAVA_HOME`, one on the search path, or else the system's package.
pub(crate) fn java() -> Outcome {
    program("Java", "JAVA_HOME", &["java"], &["default-jre-headless"]).map(|_| ())
}

fn program(name: &str, variable: &str, programs: &[&str], packages: &[&str]) -> Outcome<PathBuf> {
    if let Some(chosen) = std::env::var_os(variable) {
        return Ok(chosen.into());
    }
    let find = || programs.iter().find_map(|program| which(program));
    if let Some(found) = find() {
        return Ok(found);
    }
    step(&format!("set up: {name}"), || {
        run(&mut apt(&["update"]))?;
        run(apt(&["install", "--yes"]).args(packages))
    })?;
    find().ok_or_else(|| format!("{name} was installed but is not on the search path: set {variable}"))
}

/// apt-get, asking nothing, through sudo for everyone but root.
fn apt(arguments: &[&str]) -> Command {
    let root = ask(command("id").arg("-u")).is_some_and(|user| user == "0");
    let mut apt = command(if root { "env" } else { "sudo" });
    apt.args(["DEBIAN_FRONTEND=noninteractive", "apt-get"]).args(arguments);
    apt
}
