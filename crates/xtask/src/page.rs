//! The page: the model as WebAssembly, both builds, and a server for this machine only.

use crate::run::{Outcome, cargo, command, node, root, run, step};
use crate::setup;
use std::fs;
use std::process::Command;
use std::time::Instant;

/// Everything that building the page needs.
pub(crate) fn set_up() -> Outcome {
    setup::wasm_target()?;
    setup::packages()?;
    step("set up: bindings between the model and JavaScript", setup::bindings)
}

/// One of the two models that the page carries.
struct Model {
    name: &'static str,
    profile: &'static str,
    features: &'static [&'static str],
    /// Whether the compiled module is then made fast or small, and how long functions are that are always copied.
    level: &'static [&'static str],
}

/// What makes a module smaller as it is sent. Copies of functions, and values kept instead of read again, make it shorter
/// before compression and 4 to 7 % longer after it; of the shortest functions they cost less than 1 % and save 4 to 9 % of the time,
/// so only these are copied. Functions that begin alike stand side by side, where compression finds what they share: 3 %.
const SMALLER: [&str; 4] = [
    "--flexible-inline-max-function-size=0",
    "--one-caller-inline-max-function-size=0",
    "--skip-pass=local-cse",
    "--reorder-functions-by-name",
];

const WHOLE: Model = Model {
    name: "whole",
    profile: "page",
    features: &[],
    level: &["-O3", "--always-inline-max-function-size=14"],
};
const FIRST: Model = Model {
    name: "first",
    profile: "first",
    features: &["--no-default-features"],
    level: &["-Oz", "--always-inline-max-function-size=8"],
};

/// The model for the page, into web/model: whole, and as the small one that answers a first screen.
pub(crate) fn model() -> Outcome {
    wasm(&WHOLE)?;
    wasm(&FIRST)
}

/// Compiles the module, adds its glue, makes it smaller; the last two only where the module is another than last time.
fn wasm(model: &Model) -> Outcome {
    run(cargo()
        .args(["build", "--locked", "--quiet", "--package", "roulade-wasm", "--lib"])
        .args(["--profile", model.profile, "--target", setup::WASM_TARGET])
        .args(model.features))?;
    let compiled =
        root().join("target").join(setup::WASM_TARGET).join(model.profile).join("roulade_wasm.wasm");
    let module = fs::read(&compiled).map_err(|error| format!("{}: {error}", compiled.display()))?;
    let folder = root().join("web/model").join(model.name);
    let (made, from) = (folder.join("roulade_wasm_bg.wasm"), folder.join(".compiled.wasm"));
    if made.is_file() && fs::read(&from).is_ok_and(|last| last == module) {
        return Ok(());
    }
    run(command(setup::bindings_program()).args([compiled.as_path(), &folder]).arg("roulade_wasm"))?;
    // A name of its own until it is whole: what stops half-way is made anew.
    let small = folder.join(".small.wasm");
    run(command(root().join("web/node_modules/.bin/wasm-opt"))
        .args(model.level)
        .args(SMALLER)
        .arg(&made)
        .arg("-o")
        .arg(&small))?;
    fs::rename(&small, &made)
        .and_then(|()| fs::write(&from, module))
        .map_err(|error| format!("{}: {error}", folder.display()))
}

/// web/dist and, inside it and therefore second, web/dist/single.
pub(crate) fn builds() -> Outcome {
    let vite = |mode| run(node("vite/bin/vite.js").args(["build", "--mode", mode, "--logLevel", "warn"]));
    vite("production")?;
    vite("single")
}

/// Both builds with a fresh model.
pub(crate) fn build() -> Outcome {
    step("the model as WebAssembly", model)?;
    step("the page, as files and as one file", builds)
}

/// Prints the comparison of the two demo cells, then sets up, builds and serves the page until stopped.
pub(crate) fn show(port: Option<u16>) -> Outcome {
    let start = Instant::now();
    step("the demo on the command line", || {
        run(cargo()
            .args(["run", "--locked", "--quiet", "--profile", "quick", "--package", "roulade-cli", "--"])
            .args(["compare", "demo/marram-a.json", "demo/marram-b.json"]))
    })?;
    println!(
        "The answer stood after {:.0} s. The page follows; the first time it takes a few minutes.",
        start.elapsed().as_secs_f64()
    );
    set_up()?;
    build()?;

    println!("The page stood after {:.0} s.", start.elapsed().as_secs_f64());
    println!("\nThe page, until Ctrl-C; as one file to keep or to mail: web/dist/single/roulade.html");
    let mut server = node("vite/bin/vite.js");
    server.args(["preview", "--host", "127.0.0.1"]);
    if let Some(port) = port {
        server.args(["--strictPort", "--port", &port.to_string()]);
    }
    hand_over(&mut server)
}

/// Hands this process over, so that whoever stops it stops the server.
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
