//! Are there browns enough, and how many sacks of leaves to lay in?

use jiff::civil::{Date, date};

use super::facts::{BrownsFacts, LayIn};
use crate::{Desk, Error};

/// A garden sack, L (common practice: 50 to 60).
const SACK_L: f64 = 60.0;
/// Leaves are down by the end of this month, north and south (common practice).
const FALLEN: [i8; 2] = [11, 5];
/// Weeks of the log that are looked at.
const YEAR: usize = 52;

impl Desk {
    pub(super) fn season_browns(
        &self,
        today: Date,
        south: bool,
        used: &[f64],
    ) -> Result<BrownsFacts, Error> {
        let lines = self.stock_lines()?;
        // Bulk browns only: a sack of something that feeds is no card.
        let catalogue = self.catalogue()?;
        let dry = |id: &str| {
            catalogue
                .get(id)
                .is_some_and(|m| matches!(m.role, catalogue::Role::Dries | catalogue::Role::Opens))
        };
        let counted: Vec<f64> = lines
            .iter()
            .filter(|l| dry(&l.material))
            .filter_map(|l| l.litres)
            .collect();
        let stock_l = (!counted.is_empty()).then(|| counted.iter().sum::<f64>().max(0.0));
        let weeks = used.len().min(YEAR);
        let weekly_l = (weeks >= 4).then(|| used[..weeks].iter().sum::<f64>() / weeks as f64);
        let weeks_left = stock_l
            .zip(weekly_l)
            .filter(|(_, w)| *w > 0.0)
            .map(|(s, w)| s / w);
        let mut lay_in = Vec::new();
        if let Some(weekly) = weekly_l.filter(|w| *w > 0.0) {
            let fallen = next_end_of(today, FALLEN[usize::from(south)]);
            let until = today.until(fallen).map_or(0, |s| s.get_days()).max(0);
            // From the end of leaf fall to the next: a year's browns, less what will be left of the stock.
            let before = weekly * f64::from(until) / 7.0;
            let left = (stock_l.unwrap_or(0.0) - before).max(0.0);
            let short = before - stock_l.unwrap_or(0.0);
            if short > weekly {
                let out = (stock_l.unwrap_or(0.0) / weekly * 7.0) as i64;
                let by = today
                    .checked_add(jiff::Span::new().days(out))
                    .unwrap_or(today);
                lay_in.push(of("card", short, by));
            }
            let need = weekly * YEAR as f64 - left;
            if need > SACK_L / 2.0 {
                lay_in.push(of("leaves", need, fallen));
            }
        }
        Ok(BrownsFacts {
            stock_l,
            weekly_l,
            weeks_left,
            lay_in,
        })
    }
}

fn of(what: &'static str, litres: f64, by: Date) -> LayIn {
    LayIn {
        what,
        litres,
        sacks: (litres / SACK_L).ceil().max(1.0) as u32,
        by,
    }
}

fn next_end_of(today: Date, month: i8) -> Date {
    let of = |year: i16| date(year, month, 1).last_of_month();
    let this = of(today.year());
    if this >= today {
        this
    } else {
        of(today.year() + 1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn leaf_fall_lies_ahead() {
        assert_eq!(next_end_of(date(2026, 9, 18), 11), date(2026, 11, 30));
        assert_eq!(next_end_of(date(2026, 12, 1), 11), date(2027, 11, 30));
        assert_eq!(next_end_of(date(2026, 9, 18), 5), date(2027, 5, 31));
    }
}
