//! The one clock.

use catalogue::entry::{Day, When};
use jiff::civil::{Date, Weekday};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan, ZonedDateTime};

/// Where "now" comes from.
#[derive(Debug, Clone)]
pub enum Clock {
    /// The machine's clock.
    System,
    /// A fixed moment, for the demo and for tests.
    Fixed(Timestamp),
}

impl Clock {
    /// Now, in a zone.
    pub fn now(&self, zone: &TimeZone) -> ZonedDateTime {
        match self {
            Self::System => ZonedDateTime::now().with_time_zone(zone.clone()),
            Self::Fixed(at) => at.to_zoned_datetime(zone.clone()),
        }
    }
}

/// A moment as a page tells it.
pub(crate) fn moment(at: Timestamp, zone: &TimeZone) -> String {
    at.to_zoned_datetime(zone.clone())
        .strftime("%-d %B %Y, %H:%M")
        .to_string()
}

/// The moment a phrase means, or `None` for a date that does not exist.
pub(crate) fn resolve(when: &When, now: &ZonedDateTime) -> Option<Timestamp> {
    let today = now.date();
    let date = match when.day {
        Day::Ago(days) => today.checked_sub(i32::from(days).days()).ok()?,
        Day::Weekday(day) => {
            let weekday = Weekday::from_monday_one_offset(i8::try_from(day).ok()?).ok()?;
            today.nth_weekday(-1, weekday).ok()?
        }
        Day::Date { month, day, year } => latest(today, month, day, year)?,
    };
    let (hour, minute) = when.time.unwrap_or_else(|| {
        if date == today {
            (now.hour().unsigned_abs(), now.minute().unsigned_abs())
        } else {
            (18, 0)
        }
    });
    let at = date
        .at(i8::try_from(hour).ok()?, i8::try_from(minute).ok()?, 0, 0)
        .to_zoned_datetime(now.time_zone().clone())
        .ok()?;
    // "This evening", said at noon, is not yet: it is taken as now.
    Some(at.timestamp().min(now.timestamp()))
}

/// The latest such day that is not in the future.
fn latest(today: Date, month: Option<u8>, day: u8, year: Option<i16>) -> Option<Date> {
    let day = i8::try_from(day).ok()?;
    if let (Some(month), Some(year)) = (month, year) {
        return Date::new(year, i8::try_from(month).ok()?, day)
            .ok()
            .filter(|d| *d <= today);
    }
    (0..=48).find_map(|back: i32| {
        let then = today.first_of_month().checked_sub(back.months()).ok()?;
        if month.is_some_and(|m| i8::try_from(m) != Ok(then.month())) {
            return None;
        }
        Date::new(then.year(), then.month(), day)
            .ok()
            .filter(|d| *d <= today)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(day: Day, time: Option<(u8, u8)>) -> String {
        let now: ZonedDateTime = "2026-09-18T19:30[Europe/Brussels]".parse().unwrap();
        let when = When {
            text: String::new(),
            day,
            time,
        };
        resolve(&when, &now).map_or("none".into(), |t| {
            t.to_zoned_datetime(now.time_zone().clone())
                .strftime("%Y-%m-%d %H:%M")
                .to_string()
        })
    }

    #[test]
    fn phrases_become_moments() {
        assert_eq!(said(Day::Ago(1), Some((19, 0))), "2026-09-17 19:00");
        // 18 September 2026 is a Friday; "Tuesday" is the 15th, "Friday" a week ago.
        assert_eq!(said(Day::Weekday(2), None), "2026-09-15 18:00");
        assert_eq!(said(Day::Weekday(5), None), "2026-09-11 18:00");
        assert_eq!(
            said(
                Day::Date {
                    month: Some(12),
                    day: 24,
                    year: None
                },
                None
            ),
            "2025-12-24 18:00"
        );
        assert_eq!(
            said(
                Day::Date {
                    month: None,
                    day: 31,
                    year: None
                },
                None
            ),
            "2026-08-31 18:00"
        );
        assert_eq!(
            said(
                Day::Date {
                    month: Some(2),
                    day: 30,
                    year: Some(2026)
                },
                None
            ),
            "none"
        );
        assert_eq!(
            said(Day::Ago(0), Some((23, 0))),
            "2026-09-18 19:30",
            "not in the future"
        );
    }
}
