//! Going away: what to do before, and what to write down for whoever looks after it.

use std::sync::Arc;

use jiff::ToSpan as _;
use jiff::civil::Date;
use units::Spread;

use super::facts::{MonthFacts, SeasonAnswer};
use crate::{Desk, DoseLine, Error};

/// Longest absence that is planned, d (choice: beyond, it is a stop, not a trip).
const LONGEST: i32 = 120;
/// Above this mean it dries and smells, °C (judged).
const WARM_C: f64 = 16.0;
/// A closed drum needs no hand for this long, d (judged: two to three turnings missed).
const ALONE_DAYS: i32 = 14;
/// A caddy smells after this many days in the warm and in the cold (common practice, as on the caddy's page).
const CADDY_DAYS: [i32; 2] = [3, 7];
/// Share of the room that counts as nearly full (choice).
pub(crate) const NEARLY: f64 = 0.9;
/// Below this a drum may be left alone, °C (judged: next to nothing rots).
const ASLEEP_C: f64 = 5.0;

/// Something to do before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AwayAct {
    /// Empty the caddy into the chamber, with its browns.
    EmptyCaddy,
    /// Freeze what comes after.
    Freeze,
    /// Close the chamber: it is nearly full.
    Close,
    /// Turn it once, the day before.
    Turn,
    /// Squeeze it: it dries in the warm.
    Squeeze,
    /// Take food out of reach: a lid and a latch.
    Latch,
}

impl AwayAct {
    /// As in JSON.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::EmptyCaddy => "empty_caddy",
            Self::Freeze => "freeze",
            Self::Close => "close",
            Self::Turn => "turn",
            Self::Squeeze => "squeeze",
            Self::Latch => "latch",
        }
    }
}

/// What the sitter needs to know.
#[derive(Debug, Clone, PartialEq)]
pub struct Sitter {
    /// Whether somebody has to come at all.
    pub needed: bool,
    /// Turn it once a week; not in frost.
    pub turn_weekly: bool,
    /// Chamber for caddies, if there are any.
    pub tip_into: Option<String>,
    /// Chamber that takes nothing.
    pub leave_shut: Option<String>,
    /// Browns with a full caddy.
    pub browns: Vec<DoseLine>,
    /// Litres of the caddy.
    pub caddy_l: f64,
}

/// The chamber that fills while you are away, by the year as it looks now.
#[derive(Debug, Clone, PartialEq)]
pub struct RoomThen {
    /// Its name.
    pub chamber: String,
    /// Litres in it on the first day away: 10, 50, 90 % of the runs.
    pub level_l: Spread,
    /// Litres it may hold, with room left to turn.
    pub room_l: f64,
    /// Whether it is nearly full then.
    pub nearly_full: bool,
}

/// `away`.
#[derive(Debug, Clone, PartialEq)]
pub struct AwayAnswer {
    /// First day away.
    pub from: Date,
    /// Day of return.
    pub to: Date,
    /// Days.
    pub days: i32,
    /// Mean of the air while away, °C.
    pub air_c: f64,
    /// What to do before, each by its day.
    pub before: Vec<(AwayAct, Date)>,
    /// Room while away; `None` until the year is worked out, or where no chamber fills then.
    pub room: Option<RoomThen>,
    /// Whether the year is worked out, so that `room` says all there is to say.
    pub year_known: bool,
    /// For the sitter.
    pub sitter: Sitter,
}

impl Desk {
    /// Going away from one day to another. The year is waited for only with `wait`; a page never does.
    ///
    /// # Errors
    /// Days in the wrong order, past, or too far apart; as the journal's.
    pub fn away(&self, from: Date, to: Date, wait: bool) -> Result<AwayAnswer, Error> {
        let zone = self.zone();
        let today = self.clock.now(&zone).date();
        let bad = |field: &str, reason: String| Error::BadSetting {
            field: field.into(),
            reason,
        };
        if from < today {
            return Err(bad(
                &format!("first day away, {from}"),
                format!("is past; give {today} or later"),
            ));
        }
        let days = from.until(to).map_or(-1, |s| s.get_days());
        if !(1..=LONGEST).contains(&days) {
            return Err(bad(
                &format!("day of return, {to}"),
                format!(
                    "give a day from {} to {}: one to {LONGEST} days away",
                    from.saturating_add(1.days()),
                    from.saturating_add(i64::from(LONGEST).days())
                ),
            ));
        }
        let (normals, _) = self.season_place()?;
        let first = crate::forecast::day_of(from);
        let air_c = (0..days).map(|d| normals.on(first + d).mean_c).sum::<f64>() / f64::from(days);
        let eve = from.saturating_sub(1.days()).max(today);
        let mut before = vec![(AwayAct::EmptyCaddy, eve)];
        let warm = air_c >= WARM_C;
        if days > CADDY_DAYS[usize::from(!warm)] {
            before.push((AwayAct::Freeze, from));
        }
        let year = match self.season_if_known() {
            None if wait && !self.chambers()?.is_empty() => Some(Arc::new(self.season(None)?)),
            known => known,
        };
        let room = year.as_deref().and_then(|s| room_then(s, from));
        let full = room.as_ref().is_some_and(|r| r.nearly_full);
        if full {
            before.push((AwayAct::Close, eve));
        }
        if air_c > 0.0 {
            before.push((AwayAct::Turn, eve));
        }
        if warm && days >= 7 {
            before.push((AwayAct::Squeeze, eve.saturating_sub(2.days()).max(today)));
        }
        before.push((AwayAct::Latch, from));
        before.sort_by_key(|(_, by)| *by);
        let tip_into = match (&room, self.tip_into()) {
            _ if full => None,
            // By then the caddies may have moved to the other chamber.
            (Some(room), _) => Some(room.chamber.clone()),
            (None, now) => now.ok().map(|c| c.name.unwrap_or(c.id)),
        };
        let leave_shut = match &room {
            Some(room) => shut_then(year.as_deref(), &room.chamber, from),
            None => self
                .chambers()?
                .into_iter()
                .find(|c| c.state == "closed")
                .map(|c| c.name),
        };
        let usual = match &tip_into {
            Some(_) => self.today()?.usual,
            None => None,
        };
        let browns = match usual {
            Some(usual) => usual.doses,
            None => Vec::new(),
        };
        let needed = days > ALONE_DAYS && air_c > ASLEEP_C;
        Ok(AwayAnswer {
            from,
            to,
            days,
            air_c,
            before,
            year_known: year.is_some(),
            room,
            sitter: Sitter {
                needed,
                // Who need not come need not turn.
                turn_weekly: needed,
                tip_into,
                leave_shut,
                browns,
                caddy_l: self.household()?.caddy_l,
            },
        })
    }
}

/// The month of a day in the course of the year; a day before its first month is in that.
fn of_month(s: &SeasonAnswer, day: Date) -> impl Iterator<Item = &MonthFacts> {
    let first = s.months.first().map(|m| m.month);
    let month = first.map_or(day, |first| day.first_of_month().max(first));
    s.months.iter().filter(move |m| m.month == month)
}

/// The chamber that fills on a day, and its level: a straight line from the end of the month before to that of this one.
fn room_then(s: &SeasonAnswer, day: Date) -> Option<RoomThen> {
    let end = of_month(s, day).find(|m| m.state == "filling")?;
    let room_l = *s
        .room_l
        .get(s.chambers.iter().position(|c| *c == end.chamber)?)?;
    let before = end.month.saturating_sub(1.months());
    let start = s
        .months
        .iter()
        .find(|m| m.month == before && m.chamber == end.chamber && m.state == "filling");
    let share = f64::from(day.day()) / f64::from(end.month.days_in_month());
    let level_l = start.map_or(end.level_l, |start| {
        let between = |a: f64, b: f64| a + (b - a) * share;
        Spread::new(
            between(start.level_l.low, end.level_l.low),
            between(start.level_l.mid, end.level_l.mid),
            between(start.level_l.high, end.level_l.high),
        )
    });
    Some(RoomThen {
        chamber: end.chamber.clone(),
        nearly_full: level_l.mid > NEARLY * room_l,
        level_l,
        room_l,
    })
}

/// A chamber that finishes on a day, beside the one that fills.
fn shut_then(s: Option<&SeasonAnswer>, fills: &str, day: Date) -> Option<String> {
    let mut closed = of_month(s?, day).filter(|m| m.state == "closed" && m.chamber != fills);
    closed.next().map(|m| m.chamber.clone())
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn month(month: Date, chamber: &str, state: &'static str, mid: f64) -> MonthFacts {
        MonthFacts {
            month,
            chamber: chamber.into(),
            state,
            level_l: Spread::new(mid * 0.9, mid, mid * 1.1),
            emptied: 0,
        }
    }

    /// Near fills to 100 L by the end of October, then Far takes over.
    fn year() -> SeasonAnswer {
        let desk = Desk::demo().unwrap();
        let mut s = desk.season(None).unwrap();
        s.chambers = vec!["Near".into(), "Far".into()];
        s.room_l = vec![104.0, 104.0];
        let [september, october, november] = [9, 10, 11].map(|m| date(2026, m, 1));
        s.months = vec![
            month(september, "Near", "filling", 60.0),
            month(september, "Far", "closed", 50.0),
            month(october, "Near", "filling", 100.0),
            month(october, "Far", "closed", 40.0),
            month(november, "Near", "closed", 90.0),
            month(november, "Far", "filling", 30.0),
        ];
        s
    }

    #[test]
    fn the_level_is_that_of_the_first_day_away() {
        let s = year();
        let then = |day| room_then(&s, day).unwrap();
        // Half-way through October it is half-way between both ends of the month.
        let middle = then(date(2026, 10, 15));
        let exact = 60.0 + 40.0 * 15.0 / 31.0;
        assert!((middle.level_l.mid - exact).abs() < 1e-9 && !middle.nearly_full);
        assert!(then(date(2026, 10, 31)).nearly_full);
        let moved = then(date(2026, 11, 20));
        assert_eq!(moved.chamber, "Far");
        assert!(!moved.nearly_full);
        assert_eq!(
            shut_then(Some(&s), "Far", date(2026, 11, 20)).as_deref(),
            Some("Near")
        );
        // Beyond the year nothing is known.
        assert_eq!(room_then(&s, date(2028, 1, 1)), None);
    }
}
