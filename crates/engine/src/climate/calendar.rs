//! Days counted from 1 January 1970, so that no clock and no time zone is needed.
//!
//! Conversion after Howard Hinnant, "chrono-compatible low-level date algorithms" (2013), proleptic Gregorian.

use std::fmt;
use std::ops::{Add, Sub};

use serde::{Deserialize, Serialize};

/// Days in the months of a common year.
const LENGTHS: [u32; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// Days before each month of a common year.
const BEFORE: [u32; 12] = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];

/// A civil day; 0 is 1 January 1970.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Day(pub i32);

/// A date that no calendar has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoSuchDay {
    /// Year as given.
    pub year: i32,
    /// Month as given.
    pub month: u32,
    /// Day of the month as given.
    pub day: u32,
}

impl fmt::Display for NoSuchDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "date {:04}-{:02}-{:02}: no such day; give a year from 1600 to 2999, a month from 1 to 12 and a day of that month",
            self.year, self.month, self.day
        )
    }
}

impl std::error::Error for NoSuchDay {}

/// Whether a year has 29 February.
pub(crate) fn is_leap(year: i32) -> bool {
    year % 4 == 0 && (year % 100 != 0 || year % 400 == 0)
}

/// Days of a month, 1 to 12; 0 for any other.
pub(crate) fn month_length(year: i32, month: u32) -> u32 {
    match (month, is_leap(year)) {
        (2, true) => 29,
        (1..=12, _) => LENGTHS[month as usize - 1],
        _ => 0,
    }
}

impl Day {
    /// The day of a civil date.
    ///
    /// # Errors
    /// [`NoSuchDay`] for 30 February and the like, and for years outside 1600 to 2999.
    pub fn from_ymd(year: i32, month: u32, day: u32) -> Result<Self, NoSuchDay> {
        if !(1600..3000).contains(&year) || day == 0 || day > month_length(year, month) {
            return Err(NoSuchDay { year, month, day });
        }
        let y = if month <= 2 { year - 1 } else { year };
        let era = y.div_euclid(400);
        let of_era = y.rem_euclid(400);
        let from_march = (month as i32 + 9) % 12;
        let of_year = (153 * from_march + 2) / 5 + day as i32 - 1;
        let of_era_day = of_era * 365 + of_era / 4 - of_era / 100 + of_year;
        Ok(Self(era * 146_097 + of_era_day - 719_468))
    }

    /// Year, month 1 to 12, day of the month.
    #[must_use]
    pub fn ymd(self) -> (i32, u32, u32) {
        let z = i64::from(self.0) + 719_468;
        let era = z.div_euclid(146_097);
        let of_era = z.rem_euclid(146_097);
        let year_of_era = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
        let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let from_march = (5 * of_year + 2) / 153;
        let day = (of_year - (153 * from_march + 2) / 5 + 1) as u32;
        let month = ((from_march + 2) % 12 + 1) as u32;
        let year = (year_of_era + era * 400) as i32 + i32::from(month <= 2);
        (year, month, day)
    }

    /// Whether the year is a leap year, and the day of it counted from 0.
    #[must_use]
    pub fn of_year(self) -> (bool, usize) {
        let (year, month, day) = self.ymd();
        let before = BEFORE[month as usize - 1] + u32::from(month > 2 && is_leap(year));
        (is_leap(year), (before + day - 1) as usize)
    }
}

impl Add<i32> for Day {
    type Output = Self;
    fn add(self, days: i32) -> Self {
        Self(self.0 + days)
    }
}

impl Sub for Day {
    type Output = i32;
    fn sub(self, other: Self) -> i32 {
        self.0 - other.0
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (year, month, day) = self.ymd();
        write!(f, "{year:04}-{month:02}-{day:02}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn known_days() {
        // Julian day numbers: 1 January 2000 is 10,957 days after 1 January 1970.
        assert_eq!(Day::from_ymd(1970, 1, 1), Ok(Day(0)));
        assert_eq!(Day::from_ymd(2000, 1, 1), Ok(Day(10_957)));
        assert_eq!(Day::from_ymd(2024, 2, 29).map(Day::of_year), Ok((true, 59)));
        assert_eq!(
            Day::from_ymd(2023, 12, 31).map(Day::of_year),
            Ok((false, 364))
        );
        assert!(Day::from_ymd(1900, 2, 29).is_err());
        assert!(Day::from_ymd(2023, 13, 1).is_err());
        assert_eq!(Day(10_957).to_string(), "2000-01-01");
    }

    #[test]
    fn there_and_back_over_five_centuries() {
        for n in -130_000..60_000 {
            let (y, m, d) = Day(n).ymd();
            assert_eq!(Day::from_ymd(y, m, d), Ok(Day(n)));
        }
    }
}
