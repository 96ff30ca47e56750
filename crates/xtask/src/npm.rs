//! The npm package of the model, laid out in target/npm/roulade-model from what the page is built of.

use crate::run::{Outcome, command, root, run};
use std::fs;
use std::path::Path;

/// Lays the package out: `npm publish` or `npm pack` may follow there. Needs both models in web/model.
fn lay_out() -> Outcome {
    let folder = root().join("target/npm/roulade-model");
    drop(fs::remove_dir_all(&folder));
    copy(&root().join("crates/roulade-wasm/npm"), &folder, &["js", "json", "ts", "md"])?;
    for model in ["whole", "first"] {
        copy(&root().join("web/model").join(model), &folder.join(model), &["js", "wasm", "ts"])?;
    }
    for (from, name) in [("LICENSE", "LICENSE"), ("crates/roulade-wasm/notices.txt", "notices.txt")] {
        let from = root().join(from);
        fs::copy(&from, folder.join(name)).map_err(|error| format!("{}: {error}", from.display()))?;
    }
    // Types alone, which is what a declaration is; one that stands alone names the file it imports.
    for name in ["contract", "types"] {
        let from = root().join(format!("web/src/model/{name}.ts"));
        let problem = |error: std::io::Error| format!("{}: {error}", from.display());
        let text =
            fs::read_to_string(&from).map_err(problem)?.replace("from \"./types\"", "from \"./types.js\"");
        fs::write(folder.join(format!("{name}.d.ts")), text).map_err(problem)?;
    }
    Ok(())
}

/// Installs the package where no other code is, runs the example of its README, and type-checks a use of it.
/// Its worker runs in that browser, or the system's where there is one.
pub(crate) fn check(chromium: Option<&Path>) -> Outcome {
    lay_out()?;
    let mut test = command("node");
    test.args(["--test", "--test-reporter", "spec", "tests/npm/package.test.mjs"]);
    test.envs(chromium.map(|chromium| ("CHROMIUM", chromium)));
    run(&mut test)
}

/// Copies the files with these endings, hidden ones left out.
fn copy(from: &Path, to: &Path, endings: &[&str]) -> Outcome {
    let problem = |error: std::io::Error| format!("{}: {error}", from.display());
    fs::create_dir_all(to).map_err(problem)?;
    for entry in fs::read_dir(from).map_err(problem)? {
        let entry = entry.map_err(problem)?;
        let name = entry.file_name();
        let ending = entry.path().extension().map(|ending| ending.to_string_lossy().into_owned());
        let wanted = ending.is_some_and(|ending| endings.contains(&ending.as_str()));
        if wanted && !name.to_string_lossy().starts_with('.') {
            fs::copy(entry.path(), to.join(name)).map_err(problem)?;
        }
    }
    Ok(())
}
