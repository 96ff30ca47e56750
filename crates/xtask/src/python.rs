//! The Python package: its wheel, built and installed as users install it, and what is tested of that.

use crate::run::{Outcome, command, root, run, step};
use crate::setup;
use std::fs;
use std::path::{Path, PathBuf};

/// What the tests need besides the wheel: its optional dependencies, and what builds it.
const TOOLS: [&str; 13] = [
    "maturin==1.16.0",
    "numpy==2.4.6",
    "pandas==3.1.1",
    "pyarrow==26.0.1",
    "polars==2.1.0",
    "pint==0.25.3",
    "pytest==9.2.0",
    "mypy==2.4.1",
    "nbclient==0.11.0",
    "ipykernel==7.4.0",
    "matplotlib==3.11.2",
    "duckdb==2.0.1",
    "pyspark==4.3.0",
];

/// What `maturin generate-stubs` makes of the compiled module.
const STUB: &str = "roulade/_roulade.pyi";

/// The examples in the package's documentation, without anything else being installed.
const DOCTESTS: &str = "import doctest, importlib, pkgutil, roulade, sys; \
    names = [\"roulade\", *(f\"roulade.{m.name}\" for m in pkgutil.iter_modules(roulade.__path__))]; \
    results = [doctest.testmod(importlib.import_module(name)) for name in names]; \
    sys.exit(any(r.failed for r in results) or not sum(r.attempted for r in results) > 10)";

/// Builds the wheel and tests it: alone in a fresh environment, then with all that it goes together with.
pub(crate) fn tested() -> Outcome {
    setup::java()?;
    let folder = root().join("target/python");
    let (tools, fresh, wheels) = (folder.join("tools"), folder.join("fresh"), folder.join("wheels"));
    let installed = folder.join("tools.txt");
    if !fs::read_to_string(&installed).is_ok_and(|text| text == TOOLS.join("\n")) {
        step("set up: Python", || {
            environment(&tools)?;
            pip(&tools, &["--upgrade"], &TOOLS)?;
            fs::write(&installed, TOOLS.join("\n"))
                .map_err(|error| format!("{}: {error}", installed.display()))
        })?;
    }
    step("gate: types of the Python package", || types(&tools, &folder.join("types")))?;
    step("gate: the Python package, alone", || {
        let _ = fs::remove_dir_all(&wheels);
        maturin(&tools, "build", &wheels)?;
        let wheel = wheel(&wheels)?;
        environment(&fresh)?;
        pip(&fresh, &["--no-index"], &[&wheel])?;
        run(command(bin(&fresh, "python")).current_dir(root()).args(["-c", DOCTESTS]))?;
        pip(&tools, &["--no-index", "--no-deps", "--force-reinstall"], &[&wheel])
    })?;
    step("gate: the Python package, with data frames, an engine and a notebook", || {
        let mut test = command(bin(&tools, "python"));
        test.current_dir(root()).args(["-m", "pytest", "--quiet", "crates/roulade-py/tests"]);
        // As the tests before this gate have left it; without them, what needs it is passed over.
        let program = root().join("target/debug/roulade");
        test.envs(program.is_file().then_some(("ROULADE", program)));
        run(&mut test)
    })
}

/// Runs maturin on the package; what it makes goes into a folder.
fn maturin(tools: &Path, verb: &str, out: &Path) -> Outcome {
    run(command(bin(tools, "maturin"))
        .args([verb, "--quiet", "--profile", "dev", "--manifest-path"])
        .arg(root().join("crates/roulade-py/Cargo.toml"))
        .arg("--interpreter")
        .arg(bin(tools, "python"))
        .arg("--out")
        .arg(out))
}

/// Holds the stub of the compiled module to what its Rust says, or with `UPDATE=1` writes it anew.
fn types(tools: &Path, folder: &Path) -> Outcome {
    let _ = fs::remove_dir_all(folder);
    maturin(tools, "generate-stubs", folder)?;
    let (made, kept) = (folder.join(STUB), root().join("crates/roulade-py/python/roulade/_roulade.pyi"));
    let text = |path: &Path| fs::read_to_string(path).map_err(|error| format!("{}: {error}", path.display()));
    let current = text(&made)?;
    if std::env::var_os("UPDATE").is_some() {
        return fs::write(&kept, current).map_err(|error| format!("{}: {error}", kept.display()));
    }
    if text(&kept)? == current {
        return Ok(());
    }
    Err(format!("{} is not what the module says: UPDATE=1 cargo xtask python", kept.display()))
}

/// A new environment, whatever stood there.
fn environment(at: &Path) -> Outcome {
    run(command("python3").args(["-m", "venv", "--clear"]).arg(at))
}

fn pip(environment: &Path, how: &[&str], what: &[&str]) -> Outcome {
    run(command(bin(environment, "python"))
        // What comes from the registry is locked to a version by `TOOLS`.
        .args(["-m", "pip"])
        .args(["install", "--quiet", "--disable-pip-version-check"]) // locked
        .args(how)
        .args(what))
}

fn bin(environment: &Path, program: &str) -> String {
    environment.join("bin").join(program).to_string_lossy().into_owned()
}

fn wheel(folder: &Path) -> Outcome<String> {
    let entries = fs::read_dir(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    let wheels: Vec<PathBuf> = entries.filter_map(|entry| Some(entry.ok()?.path())).collect();
    match wheels.as_slice() {
        [wheel] => Ok(wheel.to_string_lossy().into_owned()),
        other => Err(format!("{}: {} wheels where there should be one", folder.display(), other.len())),
    }
}
