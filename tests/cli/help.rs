//! Help: examples that run, statuses, cautions.

use crate::{answered, call};

const VERBS: [&str; 20] = [
    "estimate",
    "compare",
    "remove",
    "attribute",
    "form-factors",
    "sweep",
    "optimise",
    "batch",
    "uncertainty",
    "claim",
    "report",
    "readings",
    "reconcile",
    "next",
    "export-parameters",
    "import-parameters",
    "materials",
    "quantities",
    "schema",
    "cautions",
];

#[test]
fn every_verb_has_an_example_in_both_helps() {
    for verb in VERBS {
        for help in ["-h", "--help"] {
            let text = answered(&[verb, help]);
            assert!(text.contains(&format!("\n  roulade {verb}")), "{text}");
            assert!(text.lines().all(|line| line.chars().count() <= 100), "{text}");
        }
    }
    let text = answered(&["--help"]);
    for verb in VERBS {
        assert!(text.contains(&format!("\n  {verb}")), "{text}");
    }
}

#[test]
fn examples_run() {
    let mut run = 0;
    for verb in VERBS {
        for line in answered(&[verb, "-h"]).lines() {
            let Some(example) =
                line.trim().strip_prefix("roulade ").filter(|_| line.starts_with("  roulade"))
            else {
                continue;
            };
            let example = example.split(" > ").next().unwrap_or_default();
            // Every other piece stood between quotation marks.
            let words: Vec<&str> = example
                .split('"')
                .enumerate()
                .flat_map(
                    |(i, piece)| if i % 2 == 0 { piece.split_whitespace().collect() } else { vec![piece] },
                )
                .collect();
            // An answer may be no.
            assert!(call(&words).status < 2, "{words:?}");
            run += 1;
        }
    }
    assert!(run >= VERBS.len(), "{run} examples");
}

#[test]
fn long_help_names_statuses_and_hazards() {
    for verb in ["estimate", "compare", "remove", "uncertainty"] {
        let text = answered(&[verb, "--help"]).split_whitespace().collect::<Vec<_>>().join(" ");
        for words in [
            "Exit status: 0 answered 2 could not be answered",
            "hazardous",
            "local codes and licensed practice",
            "trained",
        ] {
            assert!(text.contains(words), "{verb}: {words}");
        }
    }
}

/// Every verb says its own, and a status that it never ends with is not among them.
#[test]
fn statuses_stand_where_they_apply() {
    for verb in VERBS {
        let text = answered(&[verb, "--help"]);
        let (_, statuses) = text.split_once("Exit status:\n").unwrap_or_else(|| panic!("{verb} says none"));
        let no =
            statuses.lines().take_while(|line| line.starts_with("  ")).any(|line| line.starts_with("  1  "));
        let may =
            ["claim", "optimise", "batch", "readings", "reconcile", "import-parameters"].contains(&verb);
        assert_eq!(no, may, "{verb}: {statuses}");
    }
}

#[test]
fn misuse_cannot_be_answered() {
    for arguments in
        [&["estimate"][..], &["guess"], &["estimate", "demo/marram-small.json", "--csv", "--json"], &[]]
    {
        let said = call(arguments);
        assert_eq!((said.status, said.out.as_str()), (2, ""), "{arguments:?}");
        assert!(said.err.contains("Usage"), "{}", said.err);
    }
    let said = call(&["without", "demo/marram-small.json", "cap assembly", "--reclaim", "1.5"]);
    assert_eq!(
        (said.status, said.err.as_str()),
        (2, "--reclaim: found 1.5; expected a share of the freed height between 0 and 1\n")
    );
    let said = call(&["without", "demo/marram-small.json", "cap assembley"]);
    assert_eq!(said.status, 2);
    assert!(said.err.contains("perhaps \"cap assembly\" was meant"), "{}", said.err);
}

/// A person who knows the field finds the verb by any of its names, the former ones among them.
#[test]
fn other_names_of_a_verb_are_answered() {
    for (name, verb) in [
        ("without", "remove"),
        ("worth", "attribute"),
        ("shapley", "attribute"),
        ("map", "form-factors"),
        ("sizes", "form-factors"),
        ("search", "optimise"),
        ("optimize", "optimise"),
        ("pareto", "optimise"),
        ("spread", "uncertainty"),
        ("montecarlo", "uncertainty"),
        ("monte-carlo", "uncertainty"),
        ("sensitivity", "uncertainty"),
        ("outliers", "reconcile"),
        ("least-squares", "reconcile"),
    ] {
        let text = answered(&[name, "--help"]);
        assert_eq!(text, answered(&[verb, "--help"]), "{name}");
        assert!(text.contains(&format!("Usage: roulade {verb} ")), "{name}: {text}");
    }
    let text = answered(&["sensitivity", "demo/marram-small.json", "--trials", "2000"]);
    assert!(text.contains("Sobol"), "{text}");
}

#[test]
fn help_is_a_verb() {
    assert_eq!(answered(&["help"]), answered(&["--help"]));
    for verb in VERBS {
        assert_eq!(answered(&["help", verb]), answered(&[verb, "--help"]), "{verb}");
    }
    assert_eq!(answered(&["help", "montecarlo"]), answered(&["uncertainty", "--help"]));
}

/// Terms of the field that lead somebody to their place.
pub(crate) const TERMS: [&str; 20] = [
    "energy density",
    "specific energy",
    "jelly roll",
    "current collector",
    "areal loading",
    "N/P ratio",
    "form factor",
    "internal resistance",
    "C-rate",
    "open-circuit voltage",
    "irreversible capacity",
    "tear-down",
    "tabless",
    "crimp",
    "gasket",
    "Monte Carlo",
    "sensitivity",
    "outlier",
    "least squares",
    "Pareto",
];

#[test]
fn terms_of_the_field_are_found_in_the_help_and_in_the_readme() {
    let readme = crate::text_of("README.md");
    for (place, text) in [("--help", answered(&["--help"])), ("README.md", readme)] {
        let text = text.to_lowercase();
        for term in TERMS {
            assert!(text.contains(&term.to_lowercase()), "{place}: {term}");
        }
    }
}
