//! Crates that others may depend on carry what a registry shows, and can be packed.

use super::top;
use serde_json::Value;
use std::process::Command;

/// Those, in the order in which they would be published.
const PUBLISHED: [&str; 8] = [
    "roulade-stats",
    "roulade",
    "roulade-answer",
    "roulade-search",
    "roulade-columns",
    "roulade-exchange",
    "roulade-report",
    "roulade-cli",
];

fn cargo(words: &[&str]) -> String {
    let out = Command::new(env!("CARGO")).args(words).current_dir(top()).output().expect("cargo runs");
    assert!(out.status.success(), "cargo {words:?}: {}", String::from_utf8_lossy(&out.stderr));
    String::from_utf8(out.stdout).expect("UTF-8")
}

#[test]
fn every_published_crate_says_what_a_registry_shows() {
    let text = cargo(&["metadata", "--no-deps", "--offline", "--format-version", "1"]);
    let metadata: Value = serde_json::from_str(&text).expect("JSON");
    let mut seen = Vec::new();
    for package in metadata["packages"].as_array().expect("packages") {
        let name = package["name"].as_str().expect("a name");
        // An empty list forbids publishing.
        if package["publish"].as_array().is_some_and(Vec::is_empty) {
            assert!(!PUBLISHED.contains(&name), "{name} cannot be published");
            continue;
        }
        seen.push(name);
        for field in ["description", "license", "readme", "documentation", "rust_version"] {
            assert!(package[field].as_str().is_some_and(|text| !text.is_empty()), "{name} has no {field}");
        }
        for field in ["keywords", "categories"] {
            let count = package[field].as_array().map_or(0, Vec::len);
            assert!((1..=5).contains(&count), "{name} has {count} {field}");
        }
        // What it needs of the others must be there by version once it stands alone.
        for needed in package["dependencies"].as_array().expect("dependencies") {
            let (what, version) =
                (needed["name"].as_str().expect("a name"), needed["req"].as_str().expect("a version"));
            if what.starts_with("roulade") && needed["kind"].is_null() {
                assert!(PUBLISHED.contains(&what) && version != "*", "{name} needs {what} {version}");
            }
        }
    }
    seen.sort_unstable();
    let mut wanted = PUBLISHED;
    wanted.sort_unstable();
    assert_eq!(seen, wanted);
}

#[test]
fn what_is_packed_is_complete() {
    for name in PUBLISHED {
        let list = cargo(&["package", "--list", "--allow-dirty", "--offline", "--package", name]);
        for file in ["Cargo.toml", "README.md", "LICENSE"] {
            assert!(list.lines().any(|line| line == file), "{name} leaves {file} behind:\n{list}");
        }
        assert!(list.contains("src/lib.rs") || list.contains("src/main.rs"), "{name}:\n{list}");
    }
}
