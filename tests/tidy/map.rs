//! The map of DEVELOPERS.md against the tree and against what every file imports.

use super::source::{Name, Sources};
use super::top;
use std::collections::BTreeSet;
use std::fs;

/// What the map lists, in its order: crates, their modules, and the modules of some of these.
fn map() -> Vec<Name> {
    let text = fs::read_to_string(top().join("DEVELOPERS.md")).expect("DEVELOPERS.md");
    let map = text.split("## Map").nth(1).and_then(|rest| rest.split("\n## ").next()).expect("a section Map");
    let mut listed = Vec::new();
    let mut at = Name::new();
    for line in map.lines().filter(|line| line.starts_with("    ")) {
        let first = line.split_whitespace().next().expect("a name");
        match line.len() - line.trim_start().len() {
            4 => {
                at =
                    first.strip_prefix("crates/").map_or_else(Name::new, |name| vec![name.replace('-', "_")]);
            }
            deep if at.is_empty() => panic!("{line}: {deep} spaces under what is no crate"),
            6 => at.truncate(1),
            8 => at.truncate(2),
            // The rest of a long line.
            _ => continue,
        }
        if line.starts_with("     ") {
            at.push(first.to_owned());
        }
        if !at.is_empty() {
            listed.push(at.clone());
        }
    }
    assert!(listed.len() > 40, "{listed:?}");
    listed
}

/// Where a module stands in the map: the last of the map's lines that it is or lies under.
fn rank(map: &[Name], module: &[String]) -> usize {
    let place = |n: usize| map.iter().position(|listed| Some(listed.as_slice()) == module.get(..n));
    (1..=module.len())
        .rev()
        .find_map(place)
        .unwrap_or_else(|| panic!("{} is not in the map", module.join("::")))
}

#[test]
fn the_map_is_the_tree() {
    let (map, sources) = (map(), Sources::read());
    let listed: BTreeSet<&[String]> = map.iter().map(Vec::as_slice).collect();
    assert_eq!(listed.len(), map.len(), "a line stands twice in the map");
    // A module that has one line of its own below it in the map has one for each of its modules.
    let opened: BTreeSet<&[String]> = map.iter().filter_map(|name| name.get(..name.len() - 1)).collect();
    let there: BTreeSet<&[String]> = sources
        .names()
        .map(Vec::as_slice)
        .filter(|name| name.len() == 1 || opened.contains(&name[..name.len() - 1]))
        .collect();
    // The sheet of a command line without modules of its own is listed by its crate alone.
    let missing: Vec<String> = there.difference(&listed).map(|name| name.join("::")).collect();
    let gone: Vec<String> = listed.difference(&there).map(|name| name.join("::")).collect();
    assert!(missing.is_empty() && gone.is_empty(), "not in the map: {missing:?}; not in the tree: {gone:?}");
}

#[test]
fn modules_depend_upwards_in_the_map_only() {
    let (map, sources) = (map(), Sources::read());
    let mut seen = 0;
    let mut wrong = Vec::new();
    for module in sources.names() {
        for used in sources.used_by(module) {
            seen += 1;
            // A module and what lies under it are one place; `circles` looks inside.
            let nested = module.starts_with(used) || used.starts_with(module);
            // An amount of electrolyte per capacity is known once the balance is: the one way back.
            let per_capacity =
                module.ends_with(&["filling".to_owned()]) && used.contains(&"balance".to_owned());
            if !nested && !per_capacity && rank(&map, used) > rank(&map, module) {
                wrong.push(format!("{} uses {}", module.join("::"), used.join("::")));
            }
        }
    }
    assert!(seen > 500, "only {seen} uses were found");
    assert!(wrong.is_empty(), "against the order of the map:\n{}", wrong.join("\n"));
}

#[test]
fn no_two_files_use_one_another() {
    let sources = Sources::read();
    let circles: Vec<String> = sources
        .circles()
        .iter()
        .map(|circle| circle.iter().map(|name| name.join("::")).collect::<Vec<_>>().join(" → "))
        .collect();
    assert!(circles.is_empty(), "{}", circles.join("\n"));
}

#[test]
fn every_crate_says_in_a_paragraph_what_it_knows() {
    for name in map().iter().filter(|name| name.len() == 1) {
        let folder = top().join("crates").join(name[0].replace('_', "-"));
        let text = fs::read_to_string(folder.join("README.md")).unwrap_or_default();
        let paragraphs = text.trim().split("\n\n").filter(|part| !part.starts_with('#')).count();
        assert_eq!(paragraphs, 1, "{}: a README.md of one paragraph", folder.display());
        assert!(
            text.split_whitespace().collect::<Vec<_>>().join(" ").contains("must not know"),
            "{}: README.md says what it must not know",
            folder.display()
        );
    }
}
