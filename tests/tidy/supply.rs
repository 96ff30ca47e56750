//! What is compiled in from elsewhere: whence it comes, under which licence, once each; and the notices that go with it.
//!
//! A database of advisories can be had from no package registry, so none is asked here.

use super::top;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::fs;
use std::path::Path;
use std::process::Command;

/// Licences that may be compiled in: all ask for no more than a notice. The first of several that may be chosen is.
const ALLOWED: [&str; 12] = [
    "MIT",
    "MIT-0",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "Zlib",
    "ISC",
    "Unicode-3.0",
    "BSL-1.0",
    "CC0-1.0",
    "Unlicense",
];

/// Packages of which the lock file holds several versions, and who asks for them.
const TWICE: [(&str, &str); 6] = [
    ("bit-set", "proptest and the command line of its own tests"),
    ("bit-vec", "as bit-set"),
    ("getrandom", "rand's two generations, in tests"),
    ("glam", "nalgebra names all whose vectors it can convert; none is compiled"),
    ("num-bigint", "fractions of the optimiser, and JSON Schema in tests"),
    ("syn", "macros of others and the test of the map"),
];

/// What cargo knows of all packages on a platform.
struct Packages(Value);

impl Packages {
    fn on(platform: &str) -> Self {
        let out = Command::new(env!("CARGO"))
            .args([
                "metadata",
                "--locked",
                "--offline",
                "--format-version",
                "1",
                "--filter-platform",
                platform,
            ])
            .current_dir(top())
            .output()
            .expect("cargo runs");
        let text = String::from_utf8_lossy(&out.stdout);
        Self(
            serde_json::from_str(&text)
                .unwrap_or_else(|_| panic!("{}", String::from_utf8_lossy(&out.stderr))),
        )
    }

    fn all(&self) -> &[Value] {
        self.0["packages"].as_array().expect("packages")
    }

    fn find(&self, id: &Value) -> &Value {
        self.all().iter().find(|package| package["id"] == *id).expect("a package of the graph")
    }

    /// What is compiled into a package from elsewhere; macros run in the compiler and are not.
    fn within(&self, root: &str) -> Vec<&Value> {
        let nodes = self.0["resolve"]["nodes"].as_array().expect("a graph");
        let mut open: Vec<&Value> = self
            .all()
            .iter()
            .filter(|package| package["name"] == root)
            .map(|package| &package["id"])
            .collect();
        let mut seen: BTreeMap<String, &Value> = BTreeMap::new();
        while let Some(id) = open.pop() {
            let package = self.find(id);
            let macros = package["targets"]
                .as_array()
                .expect("targets")
                .iter()
                .any(|target| target["kind"][0] == "proc-macro");
            if macros || seen.insert(text(id), package).is_some() {
                continue;
            }
            let node = nodes.iter().find(|node| node["id"] == *id).expect("a node");
            let needed = node["deps"].as_array().expect("its needs").iter();
            open.extend(
                needed
                    .filter(|dep| {
                        dep["dep_kinds"].as_array().expect("kinds").iter().any(|kind| kind["kind"].is_null())
                    })
                    .map(|dep| &dep["pkg"]),
            );
        }
        seen.into_values().filter(|package| !package["source"].is_null()).collect()
    }
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

/// Whether a licence expression (SPDX) can be met by what is allowed; "/" stands for "OR" in old ones.
fn allowed(expression: &str) -> bool {
    let expression = expression.replace('/', " OR ");
    let inner = expression.trim();
    // The parts between operators that stand outside all brackets.
    let split = |by: &str| {
        let (mut parts, mut depth) = (vec![String::new()], 0);
        for word in inner.replace('(', " ( ").replace(')', " ) ").split_whitespace() {
            depth += i32::from(word == "(") - i32::from(word == ")");
            if word == by && depth == 0 {
                parts.push(String::new());
            } else {
                let last = parts.last_mut().expect("a part");
                *last += word;
                last.push(' ');
            }
        }
        parts
    };
    let (or, and) = (split("OR"), split("AND"));
    if or.len() > 1 {
        or.iter().any(|part| allowed(part))
    } else if and.len() > 1 {
        and.iter().all(|part| allowed(part))
    } else if let Some(inside) = or[0].trim().strip_prefix('(').and_then(|rest| rest.trim().strip_suffix(')'))
    {
        allowed(inside)
    } else {
        ALLOWED.contains(&or[0].trim())
    }
}

#[test]
fn expressions_of_licences_are_read() {
    for yes in [
        "MIT",
        "MIT/Apache-2.0",
        "GPL-3.0 OR MIT",
        "(MIT OR Apache-2.0) AND Unicode-3.0",
        "Apache-2.0 WITH LLVM-exception",
    ] {
        assert!(allowed(yes), "{yes}");
    }
    for no in ["GPL-3.0", "MIT AND GPL-3.0", "(MIT OR Zlib) AND (GPL-3.0)", "", "MPL-2.0"] {
        assert!(!allowed(no), "{no}");
    }
}

#[test]
fn everything_comes_from_the_registry_once_and_under_a_licence_that_asks_for_a_notice() {
    let packages = Packages::on("x86_64-unknown-linux-gnu");
    let mut versions: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut sources = BTreeSet::new();
    for package in packages.all().iter().filter(|package| !package["source"].is_null()) {
        let (name, licence) = (text(&package["name"]), text(&package["license"]));
        sources.insert(text(&package["source"]));
        assert!(allowed(&licence), "{name}: {licence}");
        versions.entry(name).or_default().insert(text(&package["version"]));
    }
    assert!(sources.len() == 1 && sources.iter().all(|of| of.starts_with("registry+")), "{sources:?}");
    let twice: Vec<&String> = versions.iter().filter(|(_, of)| of.len() > 1).map(|(name, _)| name).collect();
    assert_eq!(twice, TWICE.map(|(name, _)| name), "{versions:?}");
}

/// Every file of a package that holds its licence or a notice, with its name.
fn licences(package: &Value) -> Vec<(String, String)> {
    let manifest = text(&package["manifest_path"]);
    let folder = Path::new(&manifest).parent().expect("a folder");
    let mut found: Vec<(String, String)> = fs::read_dir(folder)
        .expect("a package")
        .map(|file| file.expect("a file").path())
        .filter(|path| path.is_file())
        .filter_map(|path| {
            let name = path.file_name()?.to_string_lossy().into_owned();
            let of = name.to_uppercase();
            ["LICENSE", "LICENCE", "COPYING", "NOTICE", "UNLICENSE"]
                .iter()
                .any(|begin| of.starts_with(begin))
                .then_some(())?;
            Some((name, fs::read_to_string(&path).ok()?))
        })
        .collect();
    found.sort();
    // Of licences to choose from, the shortest that is offered.
    let expression = text(&package["license"]);
    if !expression.contains("AND")
        && expression.contains("MIT")
        && found.iter().any(|(name, _)| name.to_uppercase().contains("MIT"))
    {
        found.retain(|(name, _)| {
            name.to_uppercase().contains("MIT") || name.to_uppercase().starts_with("NOTICE")
        });
    }
    found
}

/// The notices of all that is compiled in: packages with the same text stand together above it.
fn notices(packages: &[&Value]) -> String {
    let mut by_text: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for package in packages {
        let name = format!(
            "{} {} ({})",
            text(&package["name"]),
            text(&package["version"]),
            text(&package["license"])
        );
        let found = licences(package);
        assert!(!found.is_empty(), "{name} brings no text of its licence");
        for (_, licence) in found {
            let lines: Vec<&str> = licence.lines().map(str::trim_end).collect();
            by_text.entry(lines.join("\n").trim().to_owned()).or_default().insert(name.clone());
        }
    }
    let mut groups: Vec<(BTreeSet<String>, String)> =
        by_text.into_iter().map(|(text, names)| (names, text)).collect();
    groups.sort();
    let mut all =
        "Compiled into this program from elsewhere, with the notices that its licences ask for.\n".to_owned();
    for (names, licence) in groups {
        // Writing to a string does not fail.
        let _ = write!(
            all,
            "\n{}\n{}\n\n{licence}\n",
            "=".repeat(80),
            names.into_iter().collect::<Vec<_>>().join("\n")
        );
    }
    all
}

#[test]
fn the_notices_are_those_of_what_is_compiled_in() {
    for (root, platform, file) in [
        ("roulade-cli", "x86_64-unknown-linux-gnu", "notices.txt"),
        ("roulade-wasm", "wasm32-unknown-unknown", "notices.txt"),
        // Beside the modules: whatever lies there goes into the wheel.
        ("roulade-py", "x86_64-unknown-linux-gnu", "python/roulade/notices.txt"),
    ] {
        let wanted = notices(&Packages::on(platform).within(root));
        let path = top().join("crates").join(root).join(file);
        if std::env::var_os("UPDATE").is_some() {
            fs::write(&path, &wanted).expect("it can be written");
        }
        let held = fs::read_to_string(&path).unwrap_or_default();
        assert!(held == wanted, "{}: write it anew with UPDATE=1", path.display());
    }
}

/// Whatever is fetched is of the version that was last tested.
#[test]
fn versions_are_locked_everywhere() {
    for file in ["crates/xtask/src", ".cargo/config.toml", ".ci/run"] {
        let path = top().join(file);
        let sources = if path.is_dir() { super::files(&path, ".rs") } else { vec![path] };
        for source in sources {
            let text = fs::read_to_string(&source).expect("a source");
            for fetched in ["\"install\"", "npm install", "npm i "] {
                for line in text.lines().filter(|line| line.contains(fetched)) {
                    assert!(line.contains("locked") || line.contains("apt"), "{}: {line}", source.display());
                }
            }
        }
    }
    let lock =
        fs::read_to_string(top().join("web/package-lock.json")).expect("the page's versions are locked");
    let lock: Value = serde_json::from_str(&lock).expect("JSON");
    let mut hosts = BTreeSet::new();
    for (name, package) in
        lock["packages"].as_object().expect("packages").iter().filter(|(name, _)| !name.is_empty())
    {
        assert!(package["integrity"].is_string(), "{name} has no digest");
        hosts.insert(text(&package["resolved"]).split('/').nth(2).unwrap_or_default().to_owned());
    }
    assert_eq!(hosts.len(), 1, "all of the page's packages come from one registry: {hosts:?}");
}
