//! When it happened, as said.

use super::Day;
use super::date::{MONTHS, calendar};
use super::number;
use super::tokens::Token;

/// A time read at some tokens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Time {
    pub(crate) day: Option<Day>,
    pub(crate) clock: Option<(u8, u8)>,
}

const DAYS: &[(&str, u8)] = &[
    ("monday", 1),
    ("tuesday", 2),
    ("wednesday", 3),
    ("thursday", 4),
    ("friday", 5),
    ("saturday", 6),
    ("sunday", 7),
    ("mon", 1),
    ("tue", 2),
    ("tues", 2),
    ("wed", 3),
    ("weds", 3),
    ("thu", 4),
    ("thur", 4),
    ("thurs", 4),
    ("fri", 5),
    ("sat", 6),
    ("sun", 7),
];

/// Words that belong to a time, so that spelling is corrected towards them.
pub(super) const WORDS: &[&str] = &[
    "yesterday",
    "today",
    "tonight",
    "morning",
    "afternoon",
    "evening",
    "night",
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
    "january",
    "february",
    "september",
    "october",
    "november",
    "december",
    "weekend",
    "teatime",
    "midday",
    "noon",
    "ago",
    "last",
    "august",
];

/// Whether a word is part of the calendar.
pub(super) fn knows(word: &str) -> bool {
    table(MONTHS, word).is_some()
        || table(DAYS, word).is_some()
        || part_of_day(word).is_some()
        || matches!(
            word,
            "week" | "day" | "hour" | "minute" | "month" | "fortnight" | "now" | "earlier"
        )
        || matches!(word, "pm" | "oclock" | "since" | "th" | "st" | "nd" | "rd")
}

pub(super) fn low(t: &[Token], at: usize) -> &str {
    t.get(at).map_or("", Token::low)
}
pub(super) fn norm(t: &[Token], at: usize) -> &str {
    t.get(at).map_or("", Token::norm)
}
pub(super) fn table(of: &[(&str, u8)], word: &str) -> Option<u8> {
    of.iter().find(|(name, _)| *name == word).map(|(_, n)| *n)
}
pub(super) fn whole(t: &[Token], at: usize) -> Option<u16> {
    let n = t.get(at)?.number()?;
    (n.fract() == 0.0 && (0.0..=9999.0).contains(&n)).then_some(n as u16)
}

/// A part of the day: morning 8:00, afternoon 15:00, evening 19:00, night 22:00.
fn part_of_day(word: &str) -> Option<(u8, u8)> {
    Some(match word {
        "morning" | "mornin" | "am" => (8, 0),
        "afternoon" | "arvo" => (15, 0),
        "evening" | "eve" => (19, 0),
        "night" | "nite" => (22, 0),
        "lunch" | "lunchtime" | "noon" | "midday" => (12, 0),
        "teatime" => (17, 0),
        "dinnertime" => (19, 0),
        "breakfast" => (8, 0),
        _ => return None,
    })
}

/// A clock time: "6pm", "at 18:30", "18h", "noon", "teatime".
fn clock(t: &[Token], at: usize) -> Option<((u8, u8), usize)> {
    if matches!(
        low(t, at),
        "noon" | "midday" | "teatime" | "lunchtime" | "midnight"
    ) {
        return match low(t, at) {
            "midnight" => Some(((0, 0), at + 1)),
            word => part_of_day(word).map(|c| (c, at + 1)),
        };
    }
    let hour = whole(t, at).filter(|h| *h < 24)? as u8;
    let (mut minute, mut next) = (0, at + 1);
    let mut said = false;
    if t.get(next)
        .is_some_and(|m| (m.is_mark(':') || m.is_mark('.')) && m.glued)
        && let Some(m) = whole(t, next + 1).filter(|m| *m < 60 && t[next + 1].glued)
        && t[next + 1].end - t[next + 1].start == 2
    {
        (minute, next, said) = (m as u8, next + 2, true);
    }
    match low(t, next) {
        "pm" if (1..=12).contains(&hour) => Some(((hour % 12 + 12, minute), next + 1)),
        "am" if (1..=12).contains(&hour) => Some(((hour % 12, minute), next + 1)),
        "h" | "hrs" | "oclock" => Some(((hour, minute), next + 1)),
        _ if said => Some(((hour, minute), next)),
        _ => None,
    }
}

/// Whether a weekday names a meal or a thing here rather than a time.
fn meal(word: &str) -> bool {
    matches!(
        word,
        "roast" | "dinner" | "lunch" | "joint" | "paper" | "papers" | "breakfast" | "brunch"
    )
}

/// A time at `at`, and the first token after it.
pub(crate) fn when(t: &[Token], at: usize, us: bool) -> Option<(Time, usize)> {
    let mut start = at;
    let lead = low(t, start);
    let led = matches!(
        lead,
        "on" | "since" | "about" | "around" | "at" | "by" | "last" | "lst" | "this" | "past"
    );
    if matches!(lead, "on" | "since" | "about" | "around" | "at" | "by") {
        start += 1;
    }
    if let Some((clock, next)) = clock(t, start) {
        return Some((
            Time {
                day: None,
                clock: Some(clock),
            },
            next,
        ));
    }
    let (day, mut next, mut time) = day(t, start, us, led)?;
    if let Some(part) = part_of_day(low(t, next)) {
        let roast = matches!(low(t, next), "lunch" | "breakfast") && meal(low(t, next + 1));
        if !roast {
            time = Some(part);
            next += 1;
        }
    } else {
        let skip = usize::from(matches!(low(t, next), "at" | "about" | "around" | "by"));
        if let Some((said, after)) = clock(t, next + skip) {
            (time, next) = (Some(said), after);
        }
    }
    Some((
        Time {
            day: Some(day),
            clock: time,
        },
        next,
    ))
}

/// A day, the first token after it, and the time of day that its word implies.
type DayRead = (Day, usize, Option<(u8, u8)>);

fn day(t: &[Token], at: usize, us: bool, led: bool) -> Option<DayRead> {
    let next = low(t, at + 1);
    match low(t, at) {
        "today" => return Some((Day::Ago(0), at + 1, None)),
        "tonight" => return Some((Day::Ago(0), at + 1, Some((22, 0)))),
        "yesterday" => return Some((Day::Ago(1), at + 1, None)),
        "just" | "right" if next == "now" => return Some((Day::Ago(0), at + 2, None)),
        "now" if at + 1 == t.len() => return Some((Day::Ago(0), at + 1, None)),
        "earlier" if next == "today" => return Some((Day::Ago(0), at + 2, None)),
        "earlier" => return Some((Day::Ago(0), at + 1, None)),
        "last" if matches!(next, "night" | "nite" | "evening") => {
            return Some((Day::Ago(1), at + 1, None));
        }
        "last" | "the" | "at" | "this" if next == "weekend" => {
            return Some((Day::Weekday(6), at + 2, None));
        }
        "last" if next == "week" => return Some((Day::Ago(7), at + 2, None)),
        "this" if part_of_day(next).is_some() && next != "breakfast" => {
            return Some((Day::Ago(0), at + 1, None));
        }
        "the" if next == "day" && low(t, at + 2) == "before" && low(t, at + 3) == "yesterday" => {
            return Some((Day::Ago(2), at + 4, None));
        }
        _ => {}
    }
    let name_at = at + usize::from(matches!(low(t, at), "last" | "this" | "past"));
    let name = low(t, name_at);
    if let Some(weekday) = table(DAYS, name) {
        let short = !name.ends_with("day");
        let alone =
            |x: Option<&Token>| x.is_none_or(|x| x.norm().is_empty() && x.number().is_none());
        let stands = led
            || name_at > at
            || alone(t.get(name_at + 1))
            || name_at > 0 && low(t, name_at - 1) == "was"
            || name_at == 0
            || part_of_day(low(t, name_at + 1)).is_some();
        if !meal(low(t, name_at + 1)) && (!short || stands) {
            return Some((Day::Weekday(weekday), name_at + 1, None));
        }
        return None;
    }
    if let Some((amount, after)) = number::number(t, at) {
        let n = amount.mid;
        let by = match norm(t, after) {
            "day" => 1.0,
            "week" => 7.0,
            "fortnight" => 14.0,
            "month" => 30.0,
            "hour" | "minute" | "min" => 0.0,
            _ => -1.0,
        };
        if by >= 0.0
            && norm(t, after + 1) == "ago"
            && (0.0..=3650.0).contains(&(n * by))
            && n.is_finite()
        {
            return Some((Day::Ago((n * by).round() as u16), after + 2, None));
        }
    }
    calendar(t, at, us).map(|(day, next)| (day, next, None))
}

#[cfg(test)]
mod tests {
    use super::super::tokens::tokens;
    use super::*;

    fn read(text: &str, us: bool) -> Option<(Time, usize)> {
        when(&tokens(text), 0, us)
    }
    fn on(month: Option<u8>, day: u8, year: Option<i16>) -> Option<Day> {
        Some(Day::Date { month, day, year })
    }

    #[test]
    fn days() {
        for (text, day, clock) in [
            ("today", Some(Day::Ago(0)), None),
            ("yesterday evening", Some(Day::Ago(1)), Some((19, 0))),
            ("last night", Some(Day::Ago(1)), Some((22, 0))),
            ("this morning", Some(Day::Ago(0)), Some((8, 0))),
            (
                "two days ago about teatime",
                Some(Day::Ago(2)),
                Some((17, 0)),
            ),
            ("a week ago", Some(Day::Ago(7)), None),
            ("last Tuesday", Some(Day::Weekday(2)), None),
            ("on Monday", Some(Day::Weekday(1)), None),
            ("Wed", Some(Day::Weekday(3)), None),
            ("3 Sept", on(Some(9), 3, None), None),
            ("Sept 3", on(Some(9), 3, None), None),
            ("3rd of September", on(Some(9), 3, None), None),
            ("on the 12th", on(None, 12, None), None),
            ("14/9", on(Some(9), 14, None), None),
            ("2026-09-12", on(Some(9), 12, Some(2026)), None),
            ("6pm", None, Some((18, 0))),
            ("at 18:30", None, Some((18, 30))),
            ("at 18h", None, Some((18, 0))),
            ("noon", None, Some((12, 0))),
        ] {
            let (time, next) = read(text, false).unwrap_or_else(|| panic!("{text}"));
            assert_eq!((time.day, time.clock), (day, clock), "{text}");
            assert_eq!(next, tokens(text).len(), "{text}");
        }
    }

    #[test]
    fn months_come_first_in_the_us() {
        assert_eq!(read("9/14", true).unwrap().0.day, on(Some(9), 14, None));
        assert_eq!(read("9/14", false), None);
    }

    #[test]
    fn not_times() {
        for text in [
            "last year's leaves",
            "Sunday roast",
            "3/4 caddy",
            "31/2",
            "99:99",
            "sun",
        ] {
            let read = read(text, false);
            assert!(read.is_none() || text == "sun", "{text}: {read:?}");
        }
    }
}
