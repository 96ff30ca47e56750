//! Commas, points and spaces within the numbers of a spreadsheet: which are decimal marks, and which may group thousands.

/// What a comma between digits is in a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Marks {
    /// It separates cells: before three digits of a quoted number it may group them.
    Separator,
    /// It may be a decimal mark; none is.
    Either,
    /// It is a decimal mark: a point before three digits may group them.
    Decimal,
}

impl Marks {
    /// By what separates the cells of a sheet, and its numbers.
    pub(super) fn of<'a>(separator: char, mut numbers: impl Iterator<Item = &'a str>) -> Self {
        if separator == ',' {
            return Self::Separator;
        }
        let decimal = |text: &str| !between_digits(&text.chars().collect::<Vec<_>>(), ',').is_empty();
        if numbers.any(decimal) { Self::Decimal } else { Self::Either }
    }

    /// A number with points for its decimal commas.
    ///
    /// # Errors
    /// Where its marks may group thousands: both ways of reading it, "1234.5 or 1.2345".
    pub(super) fn plain(self, text: &str) -> Result<String, String> {
        let chars: Vec<char> = text.chars().collect();
        let (commas, points) = (between_digits(&chars, ','), between_digits(&chars, '.'));
        // A point beside a comma always groups.
        let mixed = !commas.is_empty() && text.contains('.') && !text.contains("..");
        let grouped = match self {
            Self::Separator => grouping(&chars, &commas),
            Self::Either => false,
            Self::Decimal => grouping(&chars, &points),
        };
        if grouped || mixed || spaced(&chars) {
            let number: String =
                text.chars().take_while(|c| !c.is_alphabetic() && !"%±°".contains(*c)).collect();
            return Err(both_ways(&number));
        }
        Ok(chars.iter().enumerate().map(|(i, c)| if commas.contains(&i) { '.' } else { *c }).collect())
    }
}

/// Places of a mark between digits.
fn between_digits(chars: &[char], mark: char) -> Vec<usize> {
    let digit = |i: usize| chars.get(i).is_some_and(char::is_ascii_digit);
    (1..chars.len()).filter(|i| chars.get(*i) == Some(&mark) && digit(i - 1) && digit(i + 1)).collect()
}

/// Whether one of these marks stands between at most three digits, of which none is a leading zero, and three.
fn grouping(chars: &[char], marks: &[usize]) -> bool {
    marks.iter().any(|i| {
        let after = chars.iter().skip(i + 1).take_while(|c| c.is_ascii_digit()).count();
        let before = chars.iter().take(*i).rev().take_while(|c| c.is_ascii_digit()).count();
        let leading_zero = before == 1 && chars.get(i - 1) == Some(&'0');
        after == 3 && before <= 3 && !leading_zero
    })
}

/// Whether spaces or apostrophes stand between digits in groups of three.
fn spaced(chars: &[char]) -> bool {
    let digit = |i: usize| chars.get(i).is_some_and(char::is_ascii_digit);
    (1..chars.len()).any(|i| {
        let mark = chars.get(i).is_some_and(|c| c.is_whitespace() || matches!(c, '\'' | '’'));
        mark && digit(i - 1) && (1..=3).all(|k| digit(i + k)) && !digit(i + 4)
    })
}

/// A number whose marks may group thousands or be decimal ones, both ways: "1234.5 or 1.2345".
fn both_ways(text: &str) -> String {
    let plain: String = text.chars().filter(|c| c.is_ascii_digit() || matches!(c, '.' | ',')).collect();
    let without = |marks: &[char]| plain.replace(marks, "");
    let last = plain.rfind(['.', ',']);
    let grouped = without(&['.', ',']);
    let decimal = last.map(|at| {
        let (whole, rest) = plain.split_at(at);
        format!("{}.{}", whole.replace(['.', ','], ""), rest.get(1..).unwrap_or_default())
    });
    match decimal {
        // Two marks: the last is the decimal one, or the first.
        Some(decimal) if plain.matches(['.', ',']).count() > 1 => {
            let first = plain.find(['.', ',']).unwrap_or(0);
            let (whole, rest) = plain.split_at(first);
            format!("{decimal} or {whole}.{}", rest.replace(['.', ','], ""))
        }
        Some(decimal) => format!("{decimal} or {grouped}"),
        None => format!("{grouped}, or two numbers in two cells"),
    }
}
