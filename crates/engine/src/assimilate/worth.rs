//! Which reading would help most now: by how many days the 80 % window is expected to shrink, without a new run.
//!
//! For each outcome that a reading may have, members are weighted by how well they agree with it; the width of the
//! weighted window is averaged over the outcomes as likely as the members think them. Numbers are cut into nine
//! outcomes of even share. The model's own error counts in for temperatures, as it does in learning.
//!
//! Members that are not ready by the horizon count as the horizon. An estimate: weights stand in for learning, and a
//! second reading of a kind is worth less than the first.

use crate::ensemble::{Daily, Ensemble, Plan};
use crate::forecast::Rung;

use super::learnt::ModelError;
use super::normal;
use super::observe;
use super::reading::{Card, Kind, Reading, Seen, Smell, Warmth};
use super::smells;

/// Outcomes of a number.
const OUTCOMES: usize = 9;

/// What a reading would be worth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worth {
    /// Which kind.
    pub kind: Kind,
    /// 80 % window now, d.
    pub now: f64,
    /// Days by which it is expected to shrink; noise may make it a little less than nought.
    pub shorter: f64,
}

/// A reading of a kind on a day, to look up what members say of it.
fn example(kind: Kind, day: f64) -> Reading {
    let seen = match kind {
        Kind::Core => Seen::Core(20.0),
        Kind::Level => Seen::Litres(1.0),
        Kind::Weight => Seen::Kilograms(1.0),
        Kind::Squeeze => Seen::Squeeze(3),
        Kind::Smell => Seen::Smell(Smell::None),
        Kind::Card => Seen::Card(Card::Some),
        Kind::Warmth => Seen::Warmth(Warmth::Warm),
        Kind::Uptake => Seen::Uptake(10.0),
    };
    Reading::new(day, seen)
}

/// One outcome: how likely each member makes it, and how much each would count after it.
type Outcome = (Vec<f64>, Vec<f64>);

/// The outcomes of a reading of a kind.
fn outcomes(e: &Ensemble, plan: &Plan, kind: Kind, day: f64) -> Vec<Outcome> {
    if kind == Kind::Smell {
        let signs = observe::signs(e, observe::moment(plan, day));
        let shares: Vec<[f64; 6]> = signs.iter().map(smells::shares).collect();
        return (0..6)
            .map(|word| {
                let likely: Vec<f64> = shares.iter().map(|s| s[word]).collect();
                let counts = likely.iter().map(|s| s.powf(smells::WEIGHT)).collect();
                (likely, counts)
            })
            .collect();
    }
    let numbers = observe::numbers(e, plan, &example(kind, day));
    let noise = kind.noise();
    let sd = if ModelError::Heat.counts(kind) {
        noise.sd.hypot(noise.model_sd)
    } else {
        noise.sd
    };
    let cuts: Vec<f64> = if kind.cuts().is_empty() {
        // Even shares of members and noise together, taken as normal.
        let n = numbers.len() as f64;
        let mean = numbers.iter().sum::<f64>() / n;
        let variance = numbers.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / n;
        let wide = (variance + sd * sd).sqrt();
        (1..OUTCOMES)
            .map(|i| mean + wide * normal::quantile(i as f64 / OUTCOMES as f64))
            .collect()
    } else {
        kind.cuts().to_vec()
    };
    // Each cut is met once; what lies between two is a difference.
    let mut under = vec![0.0; numbers.len()];
    let mut all: Vec<Outcome> = Vec::with_capacity(cuts.len() + 1);
    for cut in cuts.iter().copied().chain([f64::INFINITY]) {
        let shares = numbers.iter().zip(&mut under).map(|(x, under)| {
            let now = normal::below((cut - x) / sd);
            let share = (now - *under).max(0.0);
            *under = now;
            share
        });
        let shares: Vec<f64> = shares.collect();
        all.push((shares.clone(), shares));
    }
    all
}

/// Width of the 80 % window of weighted members; `order` sorts them by day.
fn width(days: &[f64], order: &[usize], weights: impl Fn(usize) -> f64) -> f64 {
    let total: f64 = order.iter().map(|&i| weights(i)).sum();
    let mut sum = 0.0;
    let (mut early, mut late) = (f64::NAN, f64::NAN);
    for &i in order {
        sum += weights(i);
        if early.is_nan() && sum >= 0.1 * total {
            early = days[i];
        }
        if late.is_nan() && sum >= 0.9 * total {
            late = days[i];
        }
    }
    late - early
}

/// What each kind of reading would be worth on `today` for a rung, best first. Of the members that have not reached it
/// yet; empty when there are fewer than ten, or when today and the two days beside it were not kept.
#[must_use]
pub fn worth(e: &Ensemble, plan: &Plan, rung: Rung, today: f64) -> Vec<Worth> {
    let horizon = plan.days as f64;
    let days: Vec<f64> = e
        .outcomes
        .iter()
        .map(|o| o.ready[rung as usize].min(horizon))
        .collect();
    let mut order: Vec<usize> = (0..days.len()).filter(|&i| days[i] > today).collect();
    let day = today.max(0.0) as usize;
    let last = plan.days.saturating_sub(1);
    let kept = [day.saturating_sub(1), day, day.saturating_add(1)]
        .iter()
        .all(|d| e.daily(Daily::Core, (*d).min(last)).next().is_some());
    if order.len() < 10 || !kept {
        return Vec::new();
    }
    order.sort_by(|&a, &b| days[a].total_cmp(&days[b]));
    let now = width(&days, &order, |_| 1.0);
    let mut all: Vec<Worth> = Kind::ALL
        .into_iter()
        .map(|kind| {
            let (mut sum, mut total) = (0.0, 0.0);
            for (likely, counts) in outcomes(e, plan, kind, today) {
                let likely: f64 = order.iter().map(|&i| likely[i]).sum();
                if likely > 0.0 {
                    sum += likely * width(&days, &order, |i| counts[i]);
                    total += likely;
                }
            }
            Worth {
                kind,
                now,
                shorter: if total > 0.0 { now - sum / total } else { 0.0 },
            }
        })
        .collect();
    all.sort_by(|a, b| b.shorter.total_cmp(&a.shorter));
    all
}
