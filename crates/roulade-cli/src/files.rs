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

/// Text of a file, or of standard input where its name is "-": UTF-8, or as other programs save it.
pub(crate) fn read(path: &Path) -> Result<String, Problem> {
    crate::spreadsheet::decoded(bytes(path)?)
}

/// Text of a bench sheet as it was saved: also a workbook.
pub(crate) fn read_bench(path: &Path) -> Result<String, Problem> {
    crate::spreadsheet::text(bytes(path)?)
}

fn bytes(path: &Path) -> Result<Vec<u8>, Problem> {
    if path == Path::new("-") { at_most(io::stdin().lock(), None) } else { from_file(path) }
}

fn from_file(path: &Path) -> Result<Vec<u8>, Problem> {
    let about = std::fs::metadata(path).map_err(|error| refused(&error))?;
    if about.is_dir() {
        return Err(Problem::new("", "a folder", "a file, which can be read"));
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
        return Err(Problem::new("", "a folder", "a file, which can be read"));
    }
    Ok(Box::new(File::open(path).map_err(|error| refused(&error))?))
}

/// All bytes, unless there are more than a sheet may have.
fn at_most(from: impl Read, expected: Option<u64>) -> Result<Vec<u8>, Problem> {
    let mut bytes = Vec::with_capacity(expected.and_then(|n| usize::try_from(n).ok()).unwrap_or(0));
    from.take(LARGEST as u64 + 1).read_to_end(&mut bytes).map_err(|error| refused(&error))?;
    if bytes.len() <= LARGEST {
        return Ok(bytes);
    }
    // How much more there would be is not known: nobody read on.
    let most = format!("more than {} MB", LARGEST / 1_000_000);
    Err(Problem { found: most, ..too_large(bytes.len() as u64) })
}

pub(crate) fn refused(error: &io::Error) -> Problem {
    match error.kind() {
        ErrorKind::NotFound => Problem::new("", "no such file", "the name of a file that exists"),
        ErrorKind::PermissionDenied => {
            Problem::new("", "a file that may not be opened", "a file that this user may open")
        }
        _ => Problem::new("", error.to_string(), "a file that can be read"),
    }
}

/// Writes a file whole or not at all; one that is there is kept unless `overwrite`. For the name "-" the text is given back:
/// it goes to standard output in the place of the answer.
pub(crate) fn write(path: &Path, text: String, overwrite: bool) -> Result<Option<String>, Problem> {
    if path == Path::new("-") {
        return Ok(Some(text));
    }
    write_bytes(path, text.as_bytes(), overwrite).map(|()| None)
}

/// The same for what is no text, and never on standard output.
pub(crate) fn write_bytes(path: &Path, bytes: &[u8], overwrite: bool) -> Result<(), Problem> {
    write_with(path, overwrite, |file| file.write_all(bytes))
}

/// The same for what is written piece by piece.
pub(crate) fn write_with(
    path: &Path,
    overwrite: bool,
    fill: impl FnOnce(&mut File) -> io::Result<()>,
) -> Result<(), Problem> {
    put(path, overwrite, fill).map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => {
            Problem::new("", "a file that is there already", "another name, or --overwrite to replace it")
        }
        ErrorKind::NotFound => Problem::new("", "no such folder", "a file in a folder that exists"),
        ErrorKind::PermissionDenied | ErrorKind::IsADirectory => {
            Problem::new("", "a place that may not be written to", "a file that this user may write")
        }
        _ => Problem::new("", error.to_string(), "a file that can be written"),
    })
}

/// A temporary file beside the wanted one is filled and synchronised, then takes its name: whoever is stopped on the way, by a
/// full disk or a kill, leaves the old file whole.
fn put(path: &Path, overwrite: bool, fill: impl FnOnce(&mut File) -> io::Result<()>) -> io::Result<()> {
    // A name that leads elsewhere goes on leading there.
    let path = &path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let old = std::fs::metadata(path).ok();
    if let Some(old) = &old {
        if old.is_dir() {
            return Err(ErrorKind::IsADirectory.into());
        }
        if !old.is_file() {
            // A device or a pipe has nothing that could be lost.
            return fill(&mut OpenOptions::new().write(true).open(path)?);
        }
        if !overwrite {
            return Err(ErrorKind::AlreadyExists.into());
        }
        if old.permissions().readonly() {
            return Err(ErrorKind::PermissionDenied.into());
        }
    }
    let name = path.file_name().ok_or(ErrorKind::IsADirectory)?.to_string_lossy();
    let beside = path.with_file_name(format!(".{name}.{}.new", std::process::id()));
    let written = (|| {
        let mut file = OpenOptions::new().write(true).create_new(true).open(&beside)?;
        if let Some(old) = old {
            file.set_permissions(old.permissions())?;
        }
        fill(&mut file)?;
        file.sync_all()?;
        if overwrite {
            return std::fs::rename(&beside, path);
        }
        // A link takes no name that is taken, which a change of name would.
        match std::fs::hard_link(&beside, path) {
            Err(error) if error.kind() != ErrorKind::AlreadyExists && !path.exists() => {
                std::fs::rename(&beside, path)
            }
            linked => linked,
        }
    })();
    // Where it took the wanted name it is no longer there.
    drop(std::fs::remove_file(&beside));
    written
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
    fn a_file_is_written_whole_or_not_at_all() {
        let folder = std::env::temp_dir().join(format!("roulade-files-{}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        let path = folder.join("sheet.json");
        let written = |text: &str, overwrite| write(&path, text.to_owned(), overwrite);
        assert_eq!(written("old", false), Ok(None));
        assert!(written("new", false).unwrap_err().found.contains("there already"));
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "old");
        // Whoever reads the old file while the new one is written reads all of the old one: the name leads elsewhere then.
        let mut reader = File::open(&path).unwrap();
        assert_eq!(written("new", true), Ok(None));
        let mut read = String::new();
        reader.read_to_string(&mut read).unwrap();
        assert_eq!((read.as_str(), std::fs::read_to_string(&path).unwrap().as_str()), ("old", "new"));
        assert_eq!(std::fs::read_dir(&folder).unwrap().count(), 1, "nothing is left beside it");
        assert!(write(&folder, String::new(), true).is_err());
        assert!(
            write(&folder.join("no/where"), String::new(), true)
                .unwrap_err()
                .found
                .contains("no such folder")
        );
        assert_eq!(write(Path::new("-"), "text".to_owned(), false), Ok(Some("text".to_owned())));
        std::fs::remove_dir_all(&folder).unwrap();
    }

    #[test]
    fn days_become_dates() {
        for (seconds, expected) in [
            (0_u64, "1970-01-01"),
            (951_782_400, "2000-02-29"),
            (1_709_164_800, "2024-02-29"),
            (1_735_603_200, "2024-12-31"),
        ] {
            assert_eq!(date(seconds / 86_400), expected);
        }
        assert!(today().len() == 10);
    }
}
