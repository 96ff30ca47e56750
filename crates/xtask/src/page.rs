//! The page: the model as WebAssembly, both builds, and a server for this machine only.

use crate::run::{Outcome, cargo, command, node, root, run, step};
use crate::setup;
use std::ffi::OsString;
use std::process::Command;

/// Everything that building the page needs.
pub(crate) fn set_up() -> Outcome {
    setup::wasm_target()?;
    setup::packages()?;
    setup::wasm_pack().map(drop)
}

/// The model for the page, into web/model: whole, and as the small one that answers a first screen.
pub(crate) fn model() -> Outcome {
    wasm("whole", &[])?;
    wasm("first", &["--", "--no-default-features"])
}

fn wasm(name: &str, more: &[&str]) -> Outcome {
    // wasm-pack takes wasm-opt from the search path, and would otherwise download one that it cannot always get.
    let mut path = OsString::from(root().join("web/node_modules/.bin"));
    if let Some(rest) = std::env::var_os("PATH") {
        path.push(":");
        path.push(rest);
    }
    run(command(setup::wasm_pack()?)
        .args(["--log-level", "error", "build", "crates/roulade-wasm", "--target", "web", "--no-pack"])
        .args(["--out-dir", &format!("../../web/model/{name}"), "--profile", "page"])
        .args(more)
        .env("PATH", path))
}

/// web/dist and, inside it and therefore second, web/dist/single.
pub(crate) fn builds() -> Outcome {
    let vite = |mode| run(node("vite/bin/vite.js").args(["build", "--mode", mode, "--logLevel", "warn"]));
    vite("production")?;
    vite("single")
}

/// Both builds with a fresh model.
pub(crate) fn build() -> Outcome {
    step("the model as WebAssembly (the first time also wasm-bindgen, two or three minutes)", model)?;
    step("the page, as files and as one file", builds)
}

/// Sets up, builds, prints the comparison of the two demo cells, and serves the page until stopped.
pub(crate) fn show(port: Option<u16>) -> Outcome {
    set_up()?;
    build()?;
    step("the same on the command line", || {
        run(cargo().args(["run", "--quiet", "--release", "--package", "roulade-cli", "--"]).args([
            "compare",
            "demo/marram-a.json",
            "demo/marram-b.json",
        ]))
    })?;

    println!("\nThe page, until Ctrl-C; as one file to keep or to mail: web/dist/single/roulade.html");
    let mut server = node("vite/bin/vite.js");
    server.args(["preview", "--host", "127.0.0.1"]);
    if let Some(port) = port {
        server.args(["--strictPort", "--port", &port.to_string()]);
    }
    hand_over(&mut server)
}

/// Executor this process over, so that whoever stops it stops the server.
#[cfg(unix)]
fn hand_over(command: &mut Command) -> Outcome {
    use std::os::unix::process::CommandExt;
    let error = command.exec();
    Err(format!("{} did not start: {error}", crate::run::words(command)))
}

/// Runs the server below this process where a process cannot be handed over.
#[cfg(not(unix))]
fn hand_over(command: &mut Command) -> Outcome {
    run(command)
}
