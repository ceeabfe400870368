//! A day of the calendar, as written.

use super::Day;
use super::tokens::Token;
use super::when::{low, norm, table, whole};

pub(super) const MONTHS: &[(&str, u8)] = &[
    ("jan", 1),
    ("january", 1),
    ("feb", 2),
    ("february", 2),
    ("mar", 3),
    ("march", 3),
    ("apr", 4),
    ("april", 4),
    ("may", 5),
    ("jun", 6),
    ("june", 6),
    ("jul", 7),
    ("july", 7),
    ("aug", 8),
    ("august", 8),
    ("sep", 9),
    ("sept", 9),
    ("september", 9),
    ("oct", 10),
    ("october", 10),
    ("nov", 11),
    ("november", 11),
    ("dec", 12),
    ("december", 12),
];
fn valid(day: u16, month: Option<u16>) -> bool {
    let most = match month {
        Some(2) => 29,
        Some(4 | 6 | 9 | 11) => 30,
        None | Some(1..=12) => 31,
        Some(_) => return false,
    };
    (1..=most).contains(&day)
}

fn date(day: u16, month: Option<u16>, year: Option<u16>) -> Option<Day> {
    valid(day, month).then_some(Day::Date {
        month: month.map(|m| m as u8),
        day: day as u8,
        year: year.map(|y| if y < 100 { y as i16 + 2000 } else { y as i16 }),
    })
}

fn year(t: &[Token], at: usize) -> Option<u16> {
    whole(t, at).filter(|y| (2000..2100).contains(y))
}

fn ordinal(word: &str) -> bool {
    matches!(word, "st" | "nd" | "rd" | "th")
}

/// "3 Sept", "3rd of September", "Sept 3", "the 12th", "14/9", "2026-09-12".
pub(super) fn calendar(t: &[Token], at: usize, us: bool) -> Option<(Day, usize)> {
    let the = usize::from(low(t, at) == "the");
    if let Some(month) = table(MONTHS, low(t, at)) {
        let day = whole(t, at + 1)?;
        let mut next = at + 2;
        next += usize::from(ordinal(low(t, next)));
        // "May 3 handfuls" is no date; a month word and a count of something is left alone.
        let year = year(t, next);
        return date(day, Some(month.into()), year)
            .map(|d| (d, next + usize::from(year.is_some())));
    }
    let first = whole(t, at + the)?;
    let mut next = at + the + 1;
    let mark = |at: usize, m: char| t.get(at).is_some_and(|x| x.is_mark(m) && x.glued);
    if the == 0 && mark(next, '-') && mark(next + 2, '-') && first >= 2000 {
        let (month, day) = (whole(t, next + 1)?, whole(t, next + 3)?);
        return date(day, Some(month), Some(first)).map(|d| (d, next + 4));
    }
    if the == 0 && mark(next, '/') {
        let second = whole(t, next + 1)?;
        let (day, month) = if us { (second, first) } else { (first, second) };
        let mut after = next + 2;
        let mut said = None;
        if mark(after, '/') {
            said = Some(whole(t, after + 1)?);
            after += 2;
        }
        if said.is_none() && is_fraction(t, at, first, second) {
            return None;
        }
        return date(day, Some(month), said).map(|d| (d, after));
    }
    let suffixed = ordinal(low(t, next)) && t[next].glued;
    next += usize::from(suffixed);
    let of = usize::from(low(t, next) == "of");
    if let Some(month) = table(MONTHS, low(t, next + of)) {
        let end = next + of + 1;
        let year = year(t, end);
        return date(first, Some(month.into()), year)
            .map(|d| (d, end + usize::from(year.is_some())));
    }
    if suffixed && the == 1 {
        date(first, None, None).map(|d| (d, next))
    } else {
        None
    }
}

/// 3/4 before a vessel, or after a whole number or a thing, is a fraction; 14/9 is a day.
fn is_fraction(t: &[Token], at: usize, up: u16, down: u16) -> bool {
    let usual = up < down && matches!(down, 2 | 3 | 4 | 5 | 6 | 8);
    let after = norm(t, at + 3);
    let before = at.checked_sub(1).and_then(|b| t.get(b));
    usual
        && (!after.is_empty()
            || before.is_some_and(|b| b.number().is_some() || !b.norm().is_empty()))
}
