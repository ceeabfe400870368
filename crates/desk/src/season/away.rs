//! Going away: what to do before, and what to write down for whoever looks after it.

use jiff::ToSpan as _;
use jiff::civil::Date;

use super::facts::SeasonAnswer;
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
const NEARLY: f64 = 0.9;
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
    /// For the sitter.
    pub sitter: Sitter,
}

impl Desk {
    /// Going away from one day to another.
    ///
    /// # Errors
    /// Days in the wrong order, past, or too far apart; as the journal's.
    pub fn away(&self, from: Date, to: Date) -> Result<AwayAnswer, Error> {
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
        let known = self.season_if_known();
        let full = known.as_deref().is_some_and(|s| nearly_full(s, from));
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
        let tip_into = self.tip_into().ok().filter(|_| !full);
        let leave_shut = self
            .chambers()?
            .into_iter()
            .find(|c| c.state == "closed")
            .map(|c| c.name);
        let usual = match &tip_into {
            Some(_) => self.today()?.usual,
            None => None,
        };
        let browns = match usual {
            Some(usual) => usual.doses,
            None => Vec::new(),
        };
        Ok(AwayAnswer {
            from,
            to,
            days,
            air_c,
            before,
            sitter: Sitter {
                needed: days > ALONE_DAYS && air_c > ASLEEP_C,
                turn_weekly: days > ALONE_DAYS && air_c > 0.0,
                tip_into: tip_into.map(|c| c.name.unwrap_or(c.id)),
                leave_shut,
                browns,
                caddy_l: self.household()?.caddy_l,
            },
        })
    }
}

/// Whether the chamber that fills is nearly full on a day: by the month's end that is nearest to it.
fn nearly_full(s: &SeasonAnswer, day: Date) -> bool {
    let month = day.saturating_sub(15.days()).first_of_month();
    s.filling
        && s.months
            .iter()
            .find(|m| m.month >= month && m.chamber == s.chambers[0])
            .is_some_and(|m| m.state == "filling" && m.level_l.mid > NEARLY * s.room_l[0])
}
