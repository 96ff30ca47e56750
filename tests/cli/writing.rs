//! Writing that is stopped on the way: a full disk, a limit, a kill, a listener that has gone. The old file stays whole.

use crate::{folder, roulade, text_of};
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Writes a long sheet over a file, from a shell that first says this.
fn written_after(first: &str, file: &Path) -> (Option<i32>, String) {
    let said = Command::new("sh")
        .args(["-c", &format!("{first}; exec \"$0\" \"$@\"")])
        .arg(env!("CARGO_BIN_EXE_roulade"))
        .args(["edit", "demo/marram-a.json", "can.wall=0.4 mm", "--overwrite", "--write"])
        .arg(file)
        .current_dir(crate::top())
        .output()
        .expect("it starts");
    (said.status.code(), String::from_utf8(said.stderr).expect("text"))
}

/// Blocks of 512 bytes: where no more may be written, it is said in words, and nothing is lost or left.
#[test]
fn a_full_disk_leaves_the_old_file_whole() {
    let folder = folder("full");
    let file = folder.join("sheet.json");
    let old = text_of("demo/marram-small.json");
    std::fs::write(&file, &old).expect("it can be written");
    // As from a file system that is full: an error, and the program goes on.
    let (status, err) = written_after("trap '' XFSZ; ulimit -f 1", &file);
    assert_eq!(status, Some(2), "{err}");
    assert!(err.contains("sheet.json: found ") && err.lines().count() == 1, "{err}");
    assert_eq!(std::fs::read_to_string(&file).expect("it is there"), old);
    assert_eq!(std::fs::read_dir(&folder).expect("a folder").count(), 1, "nothing is left beside it");
    // And where the system ends the program there and then.
    let (status, _) = written_after("ulimit -c 0; ulimit -f 1", &file);
    assert_ne!(status, Some(0));
    assert_eq!(std::fs::read_to_string(&file).expect("it is there"), old);
}

#[test]
fn a_kill_leaves_the_old_file_or_the_new_one_whole() {
    let file = folder("kill").join("sheet.json");
    let old = text_of("demo/marram-small.json");
    let path = file.to_str().expect("a plain path");
    let arguments = ["edit", "demo/marram-a.json", "can.wall=0.4 mm", "--overwrite", "--write", path];
    let whole = roulade(&arguments).status().expect("it starts");
    assert!(whole.success());
    let new = std::fs::read_to_string(&file).expect("it is there");
    let start = Instant::now();
    assert!(roulade(&arguments).status().expect("it starts").success());
    let usual = start.elapsed();
    let mut kept = 0;
    for part in 0..40_u32 {
        std::fs::write(&file, &old).expect("it can be written");
        let mut child = roulade(&arguments).stdout(Stdio::null()).spawn().expect("it starts");
        std::thread::sleep(usual * part / 32);
        child.kill().expect("it can be killed");
        child.wait().expect("it has ended");
        let found = std::fs::read_to_string(&file).expect("it is there");
        assert!(found == old || found == new, "neither whole: {} bytes", found.len());
        kept += u32::from(found == old);
    }
    assert!(kept > 0, "some were stopped before");
}

/// `roulade batch | head -1`: whoever has heard enough is not kept waiting for the rest, however long.
#[test]
fn a_batch_whose_listener_has_gone_ends_at_once() {
    let line = text_of("demo/marram-small.json").replace('\n', " ") + "\n";
    let mut child =
        roulade(&["batch"]).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().expect("it starts");
    let mut pipe = child.stdin.take().expect("an input");
    // Lines without end: the writer stops once nobody reads.
    let writer = std::thread::spawn(move || while pipe.write_all(line.as_bytes()).is_ok() {});
    let mut first = String::new();
    let mut reader = BufReader::new(child.stdout.take().expect("an output"));
    reader.read_line(&mut first).expect("a line");
    assert!(first.starts_with("{\"line\":1"), "{first}");
    drop(reader);
    let start = Instant::now();
    while child.try_wait().expect("it can be asked").is_none() {
        if start.elapsed() > Duration::from_mins(1) {
            drop(child.kill());
            panic!("it goes on though nobody listens");
        }
        std::thread::sleep(Duration::from_millis(20));
    }
    writer.join().expect("it has stopped");
}

#[test]
fn an_answer_that_cannot_be_written_is_no_success() {
    let Ok(full) = std::fs::File::options().write(true).open("/dev/full") else { return };
    let said = roulade(&["estimate", "demo/marram-small.json"])
        .stdout(full)
        .stderr(Stdio::piped())
        .spawn()
        .and_then(std::process::Child::wait_with_output)
        .expect("it starts");
    assert_eq!(said.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&said.stderr).contains("could not be written"));
}
