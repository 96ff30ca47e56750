//! All reading and writing, and what can go wrong with either.

use crate::report::{Delivery, Out, visible};
use anstream::stream::{AsLockedWrite, RawStream};
use anstream::{AutoStream, ColorChoice};
use roulade::quantity::problem::Problem;
use roulade::sheet::read::{LARGEST, too_large};
use std::fs::{File, OpenOptions};
use std::io::{self, ErrorKind, IsTerminal, Read, Write};
use std::path::Path;
use std::process::ExitCode;

/// Width of texts where nothing else is known, and the widest that reads well.
const WIDTH: usize = 100;

/// Text of a file, or of standard input where its name is "-".
pub(crate) fn read(path: &Path) -> Result<String, Problem> {
    let bytes = if path == Path::new("-") { at_most(io::stdin().lock(), None)? } else { from_file(path)? };
    match String::from_utf8(bytes) {
        // Some editors begin a file with a byte order mark.
        Ok(text) => Ok(text.strip_prefix('\u{feff}').map_or(text.clone(), str::to_owned)),
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let byte = error.as_bytes().get(at).copied().unwrap_or_default();
            Err(Problem::new(
                "",
                format!("byte 0x{byte:02X} at offset {at}, which is not UTF-8"),
                "a text file in UTF-8 is read",
            ))
        }
    }
}

/// Text of a bench sheet as it was saved: also a workbook, or a text in another encoding than UTF-8.
pub(crate) fn read_bench(path: &Path) -> Result<String, Problem> {
    let bytes = if path == Path::new("-") { at_most(io::stdin().lock(), None)? } else { from_file(path)? };
    crate::spreadsheet::text(bytes)
}

fn from_file(path: &Path) -> Result<Vec<u8>, Problem> {
    let about = std::fs::metadata(path).map_err(|error| refused(&error))?;
    if about.is_dir() {
        return Err(Problem::new("", "a folder", "a file is read"));
    }
    if about.len() > LARGEST as u64 {
        return Err(too_large(about.len()));
    }
    at_most(File::open(path).map_err(|error| refused(&error))?, Some(about.len()))
}

/// A file, or standard input where its name is "-", to be read as it comes.
pub(crate) fn open(path: &Path) -> Result<Box<dyn Read + Send>, Problem> {
    if path == Path::new("-") {
        return Ok(Box::new(io::stdin()));
    }
    if std::fs::metadata(path).map_err(|error| refused(&error))?.is_dir() {
        return Err(Problem::new("", "a folder", "a file is read"));
    }
    Ok(Box::new(File::open(path).map_err(|error| refused(&error))?))
}

/// All bytes, unless there are more than a sheet may have.
fn at_most(from: impl Read, expected: Option<u64>) -> Result<Vec<u8>, Problem> {
    let mut bytes = Vec::with_capacity(expected.and_then(|n| usize::try_from(n).ok()).unwrap_or(0));
    from.take(LARGEST as u64 + 1).read_to_end(&mut bytes).map_err(|error| refused(&error))?;
    if bytes.len() > LARGEST { Err(too_large(bytes.len() as u64)) } else { Ok(bytes) }
}

pub(crate) fn refused(error: &io::Error) -> Problem {
    match error.kind() {
        ErrorKind::NotFound => Problem::new("", "no such file", "the name of a file that is there"),
        ErrorKind::PermissionDenied => {
            Problem::new("", "a file that may not be opened", "a file this user may open")
        }
        _ => Problem::new("", error.to_string(), "a file that can be read"),
    }
}

/// Writes a new file; one that is there is kept unless `overwrite`.
pub(crate) fn write(path: &Path, text: &str, overwrite: bool) -> Result<(), Problem> {
    write_bytes(path, text.as_bytes(), overwrite)
}

/// The same for what is no text.
pub(crate) fn write_bytes(path: &Path, bytes: &[u8], overwrite: bool) -> Result<(), Problem> {
    let mut options = OpenOptions::new();
    options.write(true);
    if overwrite {
        options.create(true).truncate(true)
    } else {
        options.create_new(true)
    };
    let written = options.open(path).and_then(|mut file| file.write_all(bytes));
    written.map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => {
            Problem::new("", "a file that is there already", "another name, or --overwrite to replace it")
        }
        ErrorKind::NotFound => Problem::new("", "no such folder", "a file in a folder that is there"),
        ErrorKind::PermissionDenied | ErrorKind::IsADirectory => {
            Problem::new("", "a place that may not be written to", "a file this user may write")
        }
        _ => Problem::new("", error.to_string(), "a file that can be written"),
    })
}

/// Today's date, UTC: "2026-11-25".
pub(crate) fn today() -> String {
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).unwrap_or_default();
    date(since.as_secs() / 86_400)
}

/// The date so many days after 1970-01-01, by whole years and months of the Gregorian calendar.
fn date(mut days: u64) -> String {
    let leap = |year: u64| year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let mut year = 1970;
    while days >= 365 + u64::from(leap(year)) {
        days -= 365 + u64::from(leap(year));
        year += 1;
    }
    let months = [31, 28 + u64::from(leap(year)), 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    let mut month = 1;
    for length in months {
        if days < length {
            break;
        }
        days -= length;
        month += 1;
    }
    format!("{year}-{month:02}-{:02}", days + 1)
}

/// Whether the user asked for no colour, or the terminal has none.
pub(crate) fn plain_terminal() -> bool {
    let set = |name| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    set("NO_COLOR") || std::env::var_os("TERM").is_some_and(|term| term == "dumb")
}

/// Columns to fill: those of the terminal, where standard output is one.
pub(crate) fn width() -> usize {
    if !io::stdout().is_terminal() {
        return WIDTH;
    }
    terminal_size::terminal_size().map_or(WIDTH, |(columns, _)| usize::from(columns.0)).clamp(20, WIDTH)
}

/// Says what there is to say, each to its stream, and ends with the status.
pub(crate) fn deliver(delivery: Delivery) -> ExitCode {
    let said = match delivery.out {
        Out::Styled(text) => styled(io::stdout(), &text),
        Out::Exact(text) => exact(&text),
    };
    let complained = styled(io::stderr(), &delivery.err);
    match said.and(complained) {
        Ok(()) => ExitCode::from(delivery.status),
        // Whoever was listening has heard enough.
        Err(error) if error.kind() == ErrorKind::BrokenPipe => ExitCode::from(delivery.status),
        Err(error) => {
            // Nothing is left to be done where even this cannot be said.
            drop(styled(io::stderr(), &format!("roulade: the answer could not be written: {error}\n")));
            ExitCode::from(2)
        }
    }
}

/// For people: with colour only where a terminal shows it.
fn styled<S: RawStream + AsLockedWrite>(stream: S, text: &str) -> io::Result<()> {
    let colour =
        if stream.is_terminal() && !plain_terminal() { ColorChoice::Always } else { ColorChoice::Never };
    let mut stream = AutoStream::new(stream, colour);
    stream.write_all(text.as_bytes())?;
    stream.flush()
}

/// For programs: byte for byte; but a terminal would obey the control characters in it.
fn exact(text: &str) -> io::Result<()> {
    let mut stdout = io::stdout().lock();
    if stdout.is_terminal() {
        for line in text.lines() {
            writeln!(stdout, "{}", visible(line))?;
        }
    } else {
        stdout.write_all(text.as_bytes())?;
    }
    stdout.flush()
}

/// What a file is called in a message.
pub(crate) fn name(path: &Path) -> String {
    if path == Path::new("-") { "standard input".to_owned() } else { path.display().to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Seconds of Unix time of some dates, by the system's own `date -u` (from memory for the first and the last).
    #[test]
    fn days_become_dates() {
        for (seconds, told) in [
            (0_u64, "1970-01-01"),
            (951_782_400, "2000-02-29"),
            (1_709_164_800, "2024-02-29"),
            (1_735_603_200, "2024-12-31"),
        ] {
            assert_eq!(date(seconds / 86_400), told);
        }
        assert!(today().len() == 10);
    }
}
