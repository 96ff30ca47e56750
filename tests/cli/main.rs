//! The command line from end to end: its own process, its own streams.

mod answers;
mod attribution;
mod bench;
mod book;
mod claims;
mod contract;
mod edit;
mod exchange;
mod files;
mod forms;
mod help;
#[path = "../refused/mod.rs"]
mod refused;
mod schema;
mod sizes;
mod slips;
mod tables;
mod tour;
mod typescript;
mod vary;
mod workbooks;
mod writing;

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// The top of the repository.
pub(crate) fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).ancestors().nth(2).expect("two folders up").to_owned()
}

/// Every sheet of the demo.
pub(crate) fn demo() -> Vec<String> {
    let files = std::fs::read_dir(top().join("demo")).expect("there is a demo");
    let mut names: Vec<String> = files
        .map(|file| format!("demo/{}", file.expect("it can be listed").file_name().to_string_lossy()))
        .filter(|name| Path::new(name).extension().is_some_and(|ending| ending == "json"))
        // Other lists belong to a verb of their own.
        .filter(|name| text_of(name).contains("\"can\""))
        .collect();
    names.sort();
    assert!(names.len() >= 3, "the demo has its sheets: {names:?}");
    names
}

pub(crate) fn text_of(path: &str) -> String {
    std::fs::read_to_string(top().join(path)).expect("a file of the repository")
}

/// The binary, at the top of the repository, in an environment without colour or terminal.
pub(crate) fn roulade(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_roulade"));
    command.args(arguments).current_dir(top()).stdin(Stdio::null());
    for name in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "TERM"] {
        command.env_remove(name);
    }
    command
}

/// What a call said.
#[derive(Debug)]
pub(crate) struct Said {
    pub(crate) out: String,
    pub(crate) err: String,
    pub(crate) status: i32,
}

impl From<Output> for Said {
    fn from(output: Output) -> Self {
        let text = |bytes| String::from_utf8(bytes).expect("UTF-8 is said");
        let status = output.status.code().expect("it ends by itself");
        let said = Self { out: text(output.stdout), err: text(output.stderr), status };
        assert!(!said.err.contains("panicked"), "{said:?}");
        said
    }
}

/// Runs it.
pub(crate) fn call(arguments: &[&str]) -> Said {
    roulade(arguments).output().expect("it starts").into()
}

/// Runs it with a text, or bytes, on standard input.
pub(crate) fn call_with(arguments: &[&str], input: &[u8]) -> Said {
    let mut child = roulade(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it starts");
    let mut pipe = child.stdin.take().expect("it has an input");
    // It may have read enough before all is written.
    drop(pipe.write_all(input));
    drop(pipe);
    child.wait_with_output().expect("it ends").into()
}

/// Runs it and wants an answer.
pub(crate) fn answered(arguments: &[&str]) -> String {
    let said = call(arguments);
    assert_eq!((said.status, said.err.as_str()), (0, ""), "{arguments:?}");
    said.out
}

/// A folder of this test's own, empty.
pub(crate) fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    drop(std::fs::remove_dir_all(&folder));
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    folder
}
