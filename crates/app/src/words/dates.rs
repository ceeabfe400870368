//! Dates as wide as their window: a day, a third of a month, a season.

use jiff::civil::Date;

/// How finely a date may be spoken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Grain {
    /// A day: the window is under three weeks.
    Day,
    /// Early, mid or late in a month: up to eight weeks.
    Third,
    /// A season: beyond, or without end.
    Season,
}

/// Windows up to these are spoken by the day and by the third of a month, d (choice).
const DAYS: i32 = 21;
const THIRDS: i32 = 56;

impl Grain {
    /// From the ends of a window.
    pub(crate) fn of(early: Option<Date>, late: Option<Date>) -> Self {
        match early
            .zip(late)
            .and_then(|(e, l)| l.since(e).ok())
            .map(|s| s.get_days())
        {
            Some(days) if days < DAYS => Self::Day,
            Some(days) if days <= THIRDS => Self::Third,
            _ => Self::Season,
        }
    }
}

/// What a spoken date rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Speech {
    /// Dates of other years say so.
    pub(crate) this_year: i16,
    /// Winter in June.
    pub(crate) south: bool,
}

/// Season 0–3 from December on, and the year it begins in.
fn season(date: Date) -> (usize, i16) {
    let month = date.month();
    let at = usize::from(month.unsigned_abs() % 12) / 3;
    (
        at,
        if month <= 2 {
            date.year() - 1
        } else {
            date.year()
        },
    )
}

impl Speech {
    /// "10 May", "mid May", "spring 2027".
    pub(crate) fn plain(self, date: Date, grain: Grain) -> String {
        let year = if date.year() == self.this_year {
            String::new()
        } else {
            format!(" {}", date.year())
        };
        match grain {
            Grain::Day => format!("{}{year}", date.strftime("%-d %B")),
            Grain::Third => {
                let part = match date.day() {
                    ..=10 => "early",
                    11..=20 => "mid",
                    _ => "late",
                };
                format!("{part} {}{year}", date.strftime("%B"))
            }
            Grain::Season => {
                let (at, begun) = season(date);
                let names = if self.south {
                    ["summer", "autumn", "winter", "spring"]
                } else {
                    ["winter", "spring", "summer", "autumn"]
                };
                let years = if at == 0 {
                    format!("{begun}–{:02}", (begun + 1).rem_euclid(100))
                } else {
                    begun.to_string()
                };
                format!("{} {years}", names[at])
            }
        }
    }

    /// "around 10 May", "around mid May", "in spring 2027".
    pub(crate) fn about(self, date: Date, grain: Grain) -> String {
        let lead = if grain == Grain::Season {
            "in"
        } else {
            "around"
        };
        format!("{lead} {}", self.plain(date, grain))
    }

    /// "on 10 May", "in mid May", "in spring 2027".
    pub(crate) fn on(self, date: Date, grain: Grain) -> String {
        let lead = if grain == Grain::Day { "on" } else { "in" };
        format!("{lead} {}", self.plain(date, grain))
    }

    /// "3 to 20 May"; one name where both ends have the same.
    pub(crate) fn span(self, early: Date, late: Date, grain: Grain) -> String {
        let (a, b) = (self.plain(early, grain), self.plain(late, grain));
        if a == b { a } else { format!("{a} to {b}") }
    }

    /// "between 3 May and 20 May"; "in spring 2027" where both ends have the same name.
    pub(crate) fn between(self, early: Date, late: Date, grain: Grain) -> String {
        let (a, b) = (self.plain(early, grain), self.plain(late, grain));
        if a == b {
            self.on(early, grain)
        } else {
            format!("between {a} and {b}")
        }
    }

    /// What to wait for if a thing must be there: never the start of a stretch that is meant whole.
    pub(crate) fn end_of(self, date: Date, grain: Grain) -> String {
        match grain {
            Grain::Day => self.plain(date, grain),
            // The third after: it has passed when that one begins.
            Grain::Third => {
                let after = match date.day() {
                    ..=10 => 10,
                    11..=20 => 20,
                    _ => date.days_in_month(),
                };
                let next = date
                    .first_of_month()
                    .checked_add(jiff::Span::new().days(after))
                    .unwrap_or(date);
                self.plain(next, grain)
            }
            Grain::Season => format!("the end of {}", self.plain(date, grain)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    const NORTH: Speech = Speech {
        this_year: 2026,
        south: false,
    };

    #[test]
    fn the_grain_follows_the_window() {
        let of =
            |days: i8, month: i8| Grain::of(Some(date(2026, 1, 1)), Some(date(2026, month, days)));
        assert_eq!(of(21, 1), Grain::Day);
        assert_eq!(of(22, 1), Grain::Third);
        assert_eq!(of(26, 2), Grain::Third);
        assert_eq!(of(27, 2), Grain::Season);
        assert_eq!(Grain::of(Some(date(2026, 1, 1)), None), Grain::Season);
    }

    #[test]
    fn dates_are_spoken_as_wide_as_they_are() {
        let d = date(2026, 5, 10);
        assert_eq!(NORTH.about(d, Grain::Day), "around 10 May");
        assert_eq!(NORTH.on(d, Grain::Third), "in early May");
        assert_eq!(NORTH.end_of(d, Grain::Season), "the end of spring 2026");
        assert_eq!(NORTH.plain(date(2027, 5, 11), Grain::Third), "mid May 2027");
        for (day, after) in [
            (10, "mid May"),
            (11, "late May"),
            (21, "early June"),
            (31, "early June"),
        ] {
            assert_eq!(NORTH.end_of(date(2026, 5, day), Grain::Third), after);
        }
        for (y, m) in [(2026, 12), (2027, 1), (2027, 2)] {
            assert_eq!(NORTH.plain(date(y, m, 3), Grain::Season), "winter 2026–27");
        }
        assert_eq!(
            NORTH.plain(date(2099, 12, 3), Grain::Season),
            "winter 2099–00"
        );
    }

    #[test]
    fn the_south_has_winter_in_june() {
        let south = Speech {
            south: true,
            ..NORTH
        };
        assert_eq!(south.plain(date(2026, 7, 1), Grain::Season), "winter 2026");
        assert_eq!(
            south.plain(date(2026, 12, 1), Grain::Season),
            "summer 2026–27"
        );
        assert_eq!(
            south.between(date(2026, 9, 1), date(2026, 11, 1), Grain::Season),
            "in spring 2026"
        );
    }
}
