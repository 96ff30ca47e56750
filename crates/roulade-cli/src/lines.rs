//! Lines of a long input, some hundreds at a time, none longer in memory than a sheet may be.

use roulade::sheet::read::LARGEST;
use std::io::{self, BufRead, Read};

/// Lines that are worked on together.
const MOST_LINES: usize = 512;
/// Bytes of lines that are worked on together, and a line besides.
const MOST_BYTES: usize = 4_000_000;

/// One line.
#[derive(Debug)]
pub(crate) struct Line {
    /// Its number, from one.
    pub(crate) number: u64,
    /// Its bytes without the line's end; cut off where it is longer than a sheet may be.
    pub(crate) bytes: Vec<u8>,
    /// How many bytes it had.
    pub(crate) length: u64,
}

/// Takes an input apart.
pub(crate) struct Lines<R> {
    from: R,
    number: u64,
}

impl<R: BufRead> Lines<R> {
    pub(crate) fn of(from: R) -> Self {
        Self { from, number: 0 }
    }

    /// The next lines, those with nothing but spaces left out; none at the end of the input.
    pub(crate) fn some(&mut self) -> io::Result<Vec<Line>> {
        let (mut lines, mut bytes) = (Vec::with_capacity(MOST_LINES), 0);
        while lines.len() < MOST_LINES && bytes < MOST_BYTES {
            let Some(line) = self.next()? else { break };
            if !line.bytes.iter().all(u8::is_ascii_whitespace) {
                bytes += line.bytes.len();
                lines.push(line);
            }
        }
        Ok(lines)
    }

    fn next(&mut self) -> io::Result<Option<Line>> {
        let mut bytes = Vec::new();
        // One byte more than may be read tells that there are too many; the line's end stands after that.
        let most = LARGEST + 2;
        if self.from.by_ref().take(most as u64).read_until(b'\n', &mut bytes)? == 0 {
            return Ok(None);
        }
        let ended = bytes.pop_if(|last| *last == b'\n').is_some();
        let mut length = bytes.len() as u64;
        if !ended && bytes.len() == most {
            length += (self.from.skip_until(b'\n')? as u64).saturating_sub(1);
            bytes.truncate(LARGEST + 1);
        }
        self.number += 1;
        if self.number == 1 && bytes.starts_with("\u{feff}".as_bytes()) {
            // Some editors begin a file with a byte order mark.
            bytes.drain(..3);
        }
        bytes.pop_if(|last| *last == b'\r');
        Ok(Some(Line { number: self.number, bytes, length }))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &[u8]) -> Vec<(u64, Vec<u8>)> {
        let mut lines = Lines::of(io::BufReader::with_capacity(3, text));
        let mut all = Vec::new();
        loop {
            let some = lines.some().expect("memory can be read");
            if some.is_empty() {
                return all;
            }
            all.extend(some.into_iter().map(|line| (line.number, line.bytes)));
        }
    }

    #[test]
    fn lines_keep_their_numbers() {
        let lines = read(b"\xef\xbb\xbfone\r\n\n  \ntwo\nlast");
        assert_eq!(lines, [(1, b"one".to_vec()), (4, b"two".to_vec()), (5, b"last".to_vec())]);
        assert!(read(b"").is_empty() && read(b"\n\n").is_empty());
    }

    #[test]
    fn a_line_without_end_is_cut_off() {
        let mut text = vec![b'x'; LARGEST + 5000];
        text.extend_from_slice(b"\nshort\n");
        let mut lines = Lines::of(text.as_slice());
        let some = lines.some().expect("memory can be read");
        assert_eq!((some[0].bytes.len(), some[0].length), (LARGEST + 1, LARGEST as u64 + 5000));
        assert_eq!((some[1].number, some[1].bytes.as_slice()), (2, b"short".as_slice()));
    }

    #[test]
    fn many_lines_come_in_parts() {
        let text = "a\n".repeat(2 * MOST_LINES + 1);
        assert_eq!(read(text.as_bytes()).len(), 2 * MOST_LINES + 1);
    }
}
