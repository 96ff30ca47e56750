//! Every quantity of the design sheet: its label, its unit, what it may be, and what stands in for it when it is
//! left out. To add a quantity, add a row here, its key in [`crate::sheet`], and its use in the module `draft` beside it.

mod bound;
mod current_path;
mod electrode;
mod hardware;
mod material;
mod opened;
mod row;
mod separator;

pub use bound::Bound;
pub use row::{Default, Field};

/// The table, part by part.
const PARTS: [&[Field]; 7] = [
    hardware::HARDWARE,
    electrode::ELECTRODES,
    opened::OPENED,
    separator::SEPARATOR,
    material::METALS,
    current_path::CURRENT_PATH,
    material::FIGURES,
];

#[allow(clippy::indexing_slicing, reason = "evaluated by the compiler")]
const COUNT: usize = {
    let (mut count, mut part) = (0, 0);
    while part < PARTS.len() {
        count += PARTS[part].len();
        part += 1;
    }
    count
};

/// All quantities, in the order they are shown.
pub const FIELDS: &[Field] = &fields();

#[allow(clippy::indexing_slicing, reason = "evaluated by the compiler")]
const fn fields() -> [Field; COUNT] {
    let mut fields = [PARTS[0][0]; COUNT];
    let (mut part, mut at) = (0, 0);
    while part < PARTS.len() {
        let mut row = 0;
        while row < PARTS[part].len() {
            fields[at] = PARTS[part][row];
            (at, row) = (at + 1, row + 1);
        }
        part += 1;
    }
    fields
}

/// The row of a path, whatever its list indices and names.
pub fn field(path: &str) -> Option<&'static Field> {
    let mut at = hash(path.as_bytes());
    loop {
        let field = FIELDS.get(usize::from(*ROWS.get(at % ROWS.len())?))?;
        if field.path == path || bare(field.path).eq(bare(path)) {
            return Some(field);
        }
        at += 1;
    }
}

/// A path with its list indices left out: `parts[2].mass` → `parts[].mass`.
fn bare(path: &str) -> impl Iterator<Item = u8> {
    let mut inside = false;
    path.bytes().filter(move |byte| {
        inside = *byte != b']' && (inside || *byte == b'[');
        !inside || *byte == b'['
    })
}

/// Numbers of rows, each where the hash of its path says or at the next free place; `u8::MAX` where none is.
static ROWS: [u8; 512] = rows();

#[allow(clippy::indexing_slicing, clippy::cast_possible_truncation, reason = "evaluated by the compiler")]
const fn rows() -> [u8; 512] {
    assert!(FIELDS.len() < u8::MAX as usize);
    let mut rows = [u8::MAX; 512];
    let mut row = 0;
    while row < FIELDS.len() {
        let mut at = hash(FIELDS[row].path.as_bytes()) % rows.len();
        while rows[at] != u8::MAX {
            at = (at + 1) % rows.len();
        }
        rows[at] = row as u8;
        row += 1;
    }
    rows
}

/// Of a path without its list indices (Fowler, Noll and Vo's hash 1a, from memory; any that spreads would do).
const fn hash(path: &[u8]) -> usize {
    let (mut rest, mut inside, mut hash) = (path, false, 0x811c_9dc5_u32);
    while let [byte, after @ ..] = rest {
        inside = *byte != b']' && (inside || *byte == b'[');
        if !inside {
            hash = (hash ^ *byte as u32).wrapping_mul(0x0100_0193);
        }
        rest = after;
    }
    (hash ^ (hash >> 15)) as usize
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::notation;
    use Bound::{NotNegative, Part, Porosity, Positive, Share};
    use roulade_stats::uncertain::Spread;

    #[test]
    fn every_path_is_unique_and_found() {
        for (i, row) in FIELDS.iter().enumerate() {
            assert!(FIELDS.iter().skip(i + 1).all(|other| other.path != row.path), "{}", row.path);
            let written = row.path.replace("[]", "[12]");
            assert_eq!(field(&written).map(|found| found.path), Some(row.path));
            assert_eq!(field(&row.path.replace("[]", "[by name]")).map(|found| found.path), Some(row.path));
            assert!(!row.label.is_empty() && !row.section.is_empty(), "{}", row.path);
        }
        assert!(field("can").is_none() && field("parts[0]").is_none());
        assert_eq!(bare("parts[2].mass").collect::<Vec<_>>(), b"parts[].mass");
    }

    #[test]
    fn every_default_reads_and_is_what_it_may_be() {
        let mut defaults = 0;
        for row in FIELDS {
            let Some(default) = row.default else { continue };
            defaults += 1;
            let uncertain = notation::read(default.text, row.unit.dimension()).expect(row.path);
            let ends = match uncertain.spread {
                Spread::Range { low, high } => [low, high],
                _ => [uncertain.value; 2],
            };
            assert!(ends.into_iter().all(|end| row.bound.holds(end)), "{}: {}", row.path, default.text);
            assert!(!default.source.is_empty(), "{}", row.path);
        }
        assert!(defaults > 25, "{defaults}");
    }

    #[test]
    fn bounds_at_their_ends() {
        let holds = |bound: Bound| [-0.1, 0.0, 0.1, 1.0, 1.1].map(|value| bound.holds(value));
        assert_eq!(holds(Positive), [false, false, true, true, true]);
        assert_eq!(holds(NotNegative), [false, true, true, true, true]);
        assert_eq!(holds(Share), [false, false, true, true, false]);
        assert_eq!(holds(Porosity), [false, true, true, false, false]);
        assert_eq!(holds(Part), [false, true, true, true, false]);
        assert!(Bound::Temperature.holds(-0.1) && !Bound::Temperature.holds(-273.15));
        assert_eq!(
            [-0.1, 0.0, 10.0, 10.1].map(|value| Bound::Exponent.holds(value)),
            [false, true, true, false]
        );
        assert!(Bound::Deviation.holds(-0.99) && !Bound::Deviation.holds(-1.0));
    }
}
