//! House rules that no lint knows: each with the reason in its name.

mod map;
mod published;
mod size;
mod source;
mod supply;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("tests/ stands in the top level").to_owned()
}

fn files(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path()) {
        if entry.is_dir() {
            found.extend(files(&entry, ending));
        } else if entry.to_string_lossy().ends_with(ending) {
            found.push(entry);
        }
    }
    found.sort();
    found
}

#[test]
fn nalgebra_has_no_std_because_its_bits_would_differ() {
    let out = Command::new(env!("CARGO"))
        .args([
            "tree",
            "--workspace",
            "--edges",
            "features",
            "--invert",
            "nalgebra",
            "--prefix",
            "none",
            "--offline",
        ])
        .current_dir(top())
        .output()
        .expect("cargo runs");
    let tree = String::from_utf8_lossy(&out.stdout);
    assert!(tree.contains("nalgebra feature \"libm\""), "{tree}{}", String::from_utf8_lossy(&out.stderr));
    for feature in ["std", "libm-force", "rand", "default"] {
        assert!(!tree.contains(&format!("nalgebra feature \"{feature}\"")), "{feature} is on:\n{tree}");
    }
}

#[test]
fn every_demo_file_is_opened_by_a_test() {
    let mut texts = String::new();
    for (folder, ending) in [("tests", ".rs"), ("tests", ".mjs"), ("crates", ".rs"), ("crates", ".py")] {
        for file in files(&top().join(folder), ending) {
            texts.push_str(&fs::read_to_string(file).expect("a source file"));
        }
    }
    let demo = files(&top().join("demo"), "");
    assert!(!demo.is_empty());
    for file in demo {
        let name = file.file_name().expect("a name").to_string_lossy().into_owned();
        assert!(texts.contains(&name), "no test opens demo/{name}");
        assert!(
            fs::read_to_string(&file).expect("text").contains("Invented data"),
            "{name} does not say that it is invented"
        );
    }
}

#[test]
fn the_top_level_stays_as_it_is() {
    let tracked = Command::new("git").args(["ls-files"]).current_dir(top()).output().expect("git runs");
    let tracked = String::from_utf8_lossy(&tracked.stdout);
    let mut names: Vec<&str> = tracked.lines().map(|line| line.split('/').next().unwrap_or(line)).collect();
    names.dedup();
    let allowed = [
        "CHANGELOG.md",
        "Cargo.lock",
        "Cargo.toml",
        "DEVELOPERS.md",
        "LICENSE",
        "README.md",
        "crates",
        "demo",
        "tests",
        "web",
    ];
    for name in names {
        assert!(
            name.starts_with('.') || allowed.contains(&name),
            "{name} does not belong into the top level"
        );
    }
}

#[test]
fn the_model_reads_no_file_no_clock_and_no_environment() {
    let model = ["roulade-stats", "roulade", "roulade-answer", "roulade-search", "roulade-report"];
    for file in model.iter().flat_map(|name| files(&top().join("crates").join(name).join("src"), ".rs")) {
        let text = fs::read_to_string(&file).expect("a source file");
        for banned in [
            "std::fs",
            "std::io",
            "std::time",
            "std::env",
            "std::net",
            "std::thread",
            "static mut",
            "thread_local!",
        ] {
            assert!(!text.contains(banned), "{} has {banned}", file.display());
        }
    }
}
