//! Lines, cells, numbers and dates as weather files write them.

use super::error::FileError;
use crate::climate::calendar::Day;

/// Text of a file: UTF-8, else taken as Latin-1 (for the degree sign of older stations).
pub(super) fn text_of(bytes: &[u8]) -> Result<String, FileError> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    if bytes.contains(&0) || bytes.starts_with(b"PK\x03\x04") {
        return Err(FileError::NotText);
    }
    Ok(match std::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        Err(_) => bytes.iter().map(|&b| char::from(b)).collect(),
    })
}

/// Numbered lines with content; blank lines and `#` comments are left out.
pub(super) fn lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    (1..)
        .zip(text.lines())
        .filter(|(_, l)| !l.trim().is_empty() && !l.starts_with('#'))
}

/// The mark between cells: the first of `;`, tab, `|`, `,` that the line has.
pub(super) fn separator(line: &str) -> char {
    [';', '\t', '|']
        .into_iter()
        .find(|&c| line.contains(c))
        .unwrap_or(',')
}

/// Cells of a line, quotes off, trimmed. A quoted cell may hold the separator but no line end.
pub(super) fn split(line: &str, by: char) -> Vec<&str> {
    let (mut cells, mut from, mut quoted) = (Vec::new(), 0, false);
    for (at, c) in line.char_indices() {
        if c == '"' {
            quoted = !quoted;
        } else if c == by && !quoted {
            cells.push(&line[from..at]);
            from = at + c.len_utf8();
        }
    }
    cells.push(&line[from..]);
    cells
        .into_iter()
        .map(|c| c.trim().trim_matches('"').trim())
        .collect()
}

/// A number, `None` for a mark of a missing value, or an error for anything else.
pub(super) fn number(cell: &str) -> Result<Option<f64>, ()> {
    const MARKS: [&str; 13] = [
        "", "-", "--", "---", "?", "m", "na", "n/a", "nan", "null", "none", "missing", "eqp",
    ];
    // Whole numbers that stations write for "missing"; 99.9 is one only for °C, see the caller.
    const NUMBERS: [f64; 10] = [
        -9999.0, -9900.0, -999.0, -999.9, -99.9, -9999.9, 999.9, 9999.0, 9999.9, 99999.0,
    ];
    let lower = cell.to_lowercase();
    if MARKS.contains(&lower.as_str()) {
        return Ok(None);
    }
    let plain = lower.replace('−', "-");
    let plain = if plain.contains('.') {
        plain
    } else {
        plain.replacen(',', ".", 1)
    };
    match plain.parse::<f64>() {
        Ok(v) if NUMBERS.contains(&v) => Ok(None),
        Ok(v) if v.is_finite() => Ok(Some(v)),
        _ => Err(()),
    }
}

/// Which of the two leading numbers of 03/04/2024 is the month.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Order {
    /// 31/12/2024.
    DayFirst,
    /// 12/31/2024.
    MonthFirst,
}

/// A date cell, taken apart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Stamp {
    /// Year, month, day are known.
    Ymd(i32, u32, u32),
    /// Two numbers of which one is the month, then the year.
    Open(u32, u32, i32),
}

/// Date of a cell and whether a time of day stands beside it.
pub(super) fn stamp(cell: &str) -> Option<(Stamp, bool)> {
    let cell = cell.trim();
    let (date, time) = match cell.find(['T', ' ']) {
        Some(at) => (&cell[..at], !cell[at + 1..].trim().is_empty()),
        None => (cell, false),
    };
    if date.bytes().all(|b| b.is_ascii_digit()) {
        // 20240229, and with hours (and minutes) appended.
        return matches!(date.len(), 8 | 10 | 12).then(|| {
            let n = |a: usize, b: usize| date[a..b].parse::<u32>().ok();
            let ymd = Stamp::Ymd(i32::try_from(n(0, 4)?).ok()?, n(4, 6)?, n(6, 8)?);
            Some((ymd, time || date.len() > 8))
        })?;
    }
    let parts: Vec<&str> = date.split(['-', '/', '.']).collect();
    let [a, b, c] = parts[..] else { return None };
    if a.len() == 4 {
        return Some((
            Stamp::Ymd(a.parse().ok()?, b.parse().ok()?, c.parse().ok()?),
            time,
        ));
    }
    if c.len() != 4 || a.len() > 2 || b.len() > 2 {
        return None;
    }
    let (a, b, year) = (a.parse().ok()?, b.parse().ok()?, c.parse().ok()?);
    // 29.02.2024 is day first wherever the dot is used.
    Some((
        if date.contains('.') {
            Stamp::Ymd(year, b, a)
        } else {
            Stamp::Open(a, b, year)
        },
        time,
    ))
}

/// The day of a stamp, once the order of the file is known.
pub(super) fn day(stamp: Stamp, order: Order) -> Option<Day> {
    let (y, m, d) = match (stamp, order) {
        (Stamp::Ymd(y, m, d), _) => (y, m, d),
        (Stamp::Open(a, b, y), Order::DayFirst) => (y, b, a),
        (Stamp::Open(a, b, y), Order::MonthFirst) => (y, a, b),
    };
    Day::from_ymd(y, m, d).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_in_their_spellings() {
        for (cell, want) in [
            ("2024-02-29", Some((Stamp::Ymd(2024, 2, 29), false))),
            ("2024-02-29T13:00", Some((Stamp::Ymd(2024, 2, 29), true))),
            ("2024/02/29 01:00", Some((Stamp::Ymd(2024, 2, 29), true))),
            ("20240229", Some((Stamp::Ymd(2024, 2, 29), false))),
            ("2024022913", Some((Stamp::Ymd(2024, 2, 29), true))),
            ("29.02.2024", Some((Stamp::Ymd(2024, 2, 29), false))),
            ("2/29/2024", Some((Stamp::Open(2, 29, 2024), false))),
            ("29 February", None),
            ("1.5", None),
            ("", None),
        ] {
            assert_eq!(stamp(cell), want, "{cell}");
        }
    }

    #[test]
    fn numbers_and_marks() {
        assert_eq!(number("12.5"), Ok(Some(12.5)));
        assert_eq!(number("−3,5"), Ok(Some(-3.5)));
        for mark in ["", "-9999", "-9999.0", "NA", "M", "999.9"] {
            assert_eq!(number(mark), Ok(None), "{mark}");
        }
        assert_eq!(number("warm"), Err(()));
        assert_eq!(split("a;\"b;c\"; d ", ';'), ["a", "b;c", "d"]);
    }
}
