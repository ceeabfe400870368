//! What members come to, by name: quantiles over the members.

use crate::forecast::rungs::Rung;
use crate::forecast::window::quantile;

use super::Outcome;

/// A quantity of [`Outcome`] at 5, 50 and 95 % of the members.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Summed {
    /// As in JSON.
    pub name: &'static str,
    /// 5, 50 and 95 %.
    pub at: [f64; 3],
}

/// A rung at 10, 50 and 90 % of the members, in days since the first feed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ready {
    /// Which.
    pub rung: Rung,
    /// 10, 50 and 90 %; infinite beyond the horizon.
    pub at: [f64; 3],
    /// Share of members that do not arrive by the horizon.
    pub never: f64,
}

type Read = fn(&Outcome) -> f64;

const QUANTITIES: [(&str, Read); 10] = [
    ("peak_c", |o| o.peak_c),
    ("peak_day", |o| o.peak_day),
    ("days_ge_40", |o| o.days_ge_40),
    ("days_ge_55", |o| o.days_ge_55),
    ("wet_mass_loss_pct", |o| o.wet_mass_loss_pct),
    ("dry_mass_loss_pct", |o| o.dry_mass_loss_pct),
    ("organic_matter_loss_pct", |o| o.organic_matter_loss_pct),
    ("nitrogen_loss_pct", |o| o.nitrogen_loss_pct),
    ("final_cn", |o| o.final_cn),
    ("final_water_pct", |o| o.final_water_pct),
];

fn over(outcomes: &[Outcome], read: impl Fn(&Outcome) -> f64, shares: [f64; 3]) -> ([f64; 3], f64) {
    let mut all: Vec<f64> = outcomes.iter().map(read).collect();
    all.sort_by(f64::total_cmp);
    let never = all.iter().filter(|v| v.is_infinite()).count() as f64 / all.len().max(1) as f64;
    (shares.map(|share| quantile(&all, share)), never)
}

/// Every summed quantity of some members.
#[must_use]
pub fn summed(outcomes: &[Outcome]) -> Vec<Summed> {
    QUANTITIES
        .iter()
        .map(|&(name, read)| Summed {
            name,
            at: over(outcomes, read, [0.05, 0.5, 0.95]).0,
        })
        .collect()
}

/// Every rung of some members.
#[must_use]
pub fn ready(outcomes: &[Outcome]) -> [Ready; 5] {
    Rung::ALL.map(|rung| {
        let (at, never) = over(outcomes, |o| o.ready[rung as usize], [0.1, 0.5, 0.9]);
        Ready { rung, at, never }
    })
}
