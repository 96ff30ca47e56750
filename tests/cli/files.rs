//! What can go wrong with files and streams, each in one clear line.

use crate::{call, call_with, demo, folder, roulade, text_of};
use std::io::Read;
use std::process::Stdio;

/// One line on standard error that names the file and says this.
fn refused(arguments: &[&str], file: &str, saying: &str) {
    let said = call(arguments);
    assert_eq!((said.status, said.out.as_str()), (2, ""), "{said:?}");
    assert_eq!(said.err.lines().count(), 1, "{}", said.err);
    assert!(said.err.starts_with(&format!("{file}: found ")) && said.err.contains(saying), "{}", said.err);

    let json = call(&[arguments, &["--json"]].concat());
    assert_eq!((json.status, json.err.as_str()), (2, ""), "{json:?}");
    let answer: serde_json::Value = serde_json::from_str(&json.out).expect("problems are JSON too");
    assert!(answer["problems"][0]["text"].as_str().is_some_and(|text| text.contains(saying)), "{answer}");
}

#[test]
fn files_that_cannot_be_read_are_named() {
    refused(&["estimate", "nowhere.json"], "nowhere.json", "no such file");
    refused(&["estimate", "demo"], "demo", "a folder");
    refused(&["compare", "demo/marram-small.json", "nowhere.json"], "nowhere.json", "no such file");
    refused(
        &["without", "demo/marram-small.json", "lid", "--instead", "nowhere.json"],
        "nowhere.json",
        "no such file",
    );
}

#[test]
fn both_files_of_a_comparison_are_named() {
    let said = call(&["compare", "nowhere.json", "demo"]);
    assert_eq!(said.status, 2);
    let lines: Vec<&str> = said.err.lines().collect();
    assert!(
        matches!(lines.as_slice(), [a, b] if a.starts_with("nowhere.json: ") && b.starts_with("demo: ")),
        "{lines:?}"
    );
}

#[test]
fn places_in_a_comparison_are_reported_by_file() {
    let folder = folder("places");
    let broken = folder.join("broken.json");
    let text = text_of("demo/marram-b.json").replace("0.42 ± 0.01 mm", "0.42 ± 0.01 V");
    std::fs::write(&broken, text).expect("it can be written");
    let broken = broken.to_str().expect("a plain path");
    let said = call(&["compare", "demo/marram-a.json", broken]);
    assert_eq!(said.status, 2);
    for line in said.err.lines() {
        assert!(line.starts_with(&format!("{broken}: ")) && !line.contains("second"), "{line}");
    }
    assert!(said.err.contains(": can.wall: found "), "{}", said.err);
}

#[test]
fn a_part_that_comes_is_reported_by_its_file() {
    let part = folder("part").join("part.json");
    std::fs::write(&part, r#"{"name": "ring", "place": "below roll", "height": "1 V", "mass": "1 g"}"#)
        .expect("it can be written");
    let part = part.to_str().expect("a plain path");
    let said = call(&["without", "demo/marram-a.json", "lower collector plate", "--instead", part]);
    assert_eq!(said.status, 2);
    assert!(said.err.contains(&format!("{part}: height: found \"1 V\"")), "{}", said.err);
}

#[test]
fn a_file_of_ten_megabytes_is_not_parsed() {
    let large = folder("large").join("large.json");
    std::fs::write(&large, "[".repeat(10_000_000)).expect("it can be written");
    let large = large.to_str().expect("a plain path");
    refused(&["estimate", large], large, "10.0 MB; expected at most 1 MB");
    let said = call_with(&["estimate", "-"], "[".repeat(10_000_000).as_bytes());
    assert_eq!(said.status, 2);
    assert!(said.err.starts_with("standard input: found "), "{}", said.err);
    assert!(said.err.contains("expected at most 1 MB"), "{}", said.err);
}

#[test]
fn a_sheet_in_another_encoding_is_the_same_sheet() {
    let text = text_of("demo/marram-small.json");
    let utf8 = call_with(&["estimate", "-", "--json"], text.as_bytes());
    let marked: Vec<u8> =
        [0xFF, 0xFE].into_iter().chain(text.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    let windows: Vec<u8> = text.chars().map(|c| u8::try_from(u32::from(c)).expect("Latin")).collect();
    for bytes in [marked, windows] {
        let said = call_with(&["estimate", "-", "--json"], &bytes);
        assert_eq!((said.status, &said.out), (0, &utf8.out));
    }
}

#[test]
fn a_byte_order_mark_is_borne() {
    let text = text_of("demo/marram-small.json");
    let marked = call_with(&["estimate", "-", "--json"], format!("\u{feff}{text}").as_bytes());
    assert_eq!((marked.status, marked.out), (0, roulade_answer::ask::estimate(&text) + "\n"));
}

#[test]
fn whoever_stops_listening_hears_no_complaint() {
    for verb in [&["compare", "demo/marram-a.json", "demo/marram-b.json"][..], &["schema"], &["--help"]] {
        let mut child =
            roulade(verb).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("it starts");
        drop(child.stdout.take());
        let mut complaint = String::new();
        child.stderr.take().expect("a stream").read_to_string(&mut complaint).expect("text");
        let status = child.wait().expect("it ends");
        assert_eq!((complaint.as_str(), status.code()), ("", Some(0)), "{verb:?}");
    }
}

#[test]
fn every_sheet_of_the_demo_is_answered() {
    for sheet in demo() {
        assert_eq!(call(&["estimate", &sheet]).status, 0, "{sheet}");
    }
}
