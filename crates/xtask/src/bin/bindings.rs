//! Makes a compiled module ready for the page: `bindings MODULE FOLDER NAME` writes NAME.js, NAME.d.ts and NAME_bg.wasm
//! into FOLDER. The work is that of wasm-bindgen's own library.
#![forbid(unsafe_code)]
#![allow(clippy::print_stderr, reason = "a terminal tool")]

use std::process::ExitCode;
use wasm_bindgen_cli_support::Bindgen;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let [module, folder, name] = words.as_slice() else {
        eprintln!("usage: bindings MODULE FOLDER NAME");
        return ExitCode::from(2);
    };
    let mut bindgen = Bindgen::new();
    // The page hands the bytes over itself; a default address in the glue would make the bundler pack them twice.
    let done = bindgen
        .input_path(module)
        .out_name(name)
        .typescript(true)
        .omit_default_module_path(true)
        .web(true)
        .and_then(|bindgen| bindgen.generate(folder));
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => {
            eprintln!("{module}: {problem:#}");
            ExitCode::FAILURE
        }
    }
}
