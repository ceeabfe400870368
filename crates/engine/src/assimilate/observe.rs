//! From a member's days to what a reading should say, and how far off a reading may be.
//!
//! Each kind looks at one number of the batch: °C at the probe, ln litres, ln kilograms, water share, share of card
//! left, ln uptake. A class is that number between two cuts, blurred (ordered probit). A smell has no order: see
//! [`super::smells`].
//!
//! A probe in the middle reads T1 + 0.5 max(0, T1 − T2): the very middle of a parabolic profile would read
//! T1 + 0.95 (T1 − T2) (computed), and nobody hits the very middle (choice). The hour's core is rebuilt from the day's
//! mean and warmest hour: a cosine about the mean, warmest at [`WARMEST`]. Against hourly runs it is right to
//! about 1 K (root mean square, `tests/assimilate_observe.rs`), small beside the 3 K of the probe's spot.

use crate::batch::air::STEPS;
use crate::batch::events::Deed;
use crate::ensemble::{Daily, Ensemble, Plan};

use super::normal;
use super::reading::{Card, Kind, Reading, Seen, Warmth};
use super::smells;

/// Hour of the warmest core: the air's 14 h and some hours of lag (judged; checked against hourly runs).
pub const WARMEST: f64 = 17.0;

/// What one reading says about one number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Noise {
    /// Operator and instrument, one standard deviation.
    pub sd: f64,
    /// What the model itself gets wrong about this number, one standard deviation.
    pub model_sd: f64,
    /// Correlation of that from one week to the next.
    pub per_week: f64,
    /// Kinds with the same letter err together: both look at the same number.
    pub family: u8,
    /// Where it is from.
    pub source: &'static str,
}

impl Kind {
    /// Its noise.
    #[must_use]
    pub const fn noise(self) -> Noise {
        let (sd, model_sd, per_week, family, source) = match self {
            Self::Core => (
                3.0,
                4.0,
                0.6,
                b't',
                "choice: spot of the probe and hour; no published model met 2 °C on mean or peak (Mason 2006, abstract)",
            ),
            Self::Warmth => (
                4.0,
                4.0,
                0.6,
                b't',
                "judged: a hand tells body heat from room warmth, hardly more",
            ),
            Self::Level => (
                0.10,
                0.08,
                0.8,
                b'v',
                "choice: two fingers in a drum, and how it lies",
            ),
            Self::Weight => (
                0.05,
                0.05,
                0.9,
                b'm',
                "choice: a luggage scale; feeds were weighed no better",
            ),
            Self::Squeeze => (
                0.05,
                0.04,
                0.8,
                b'w',
                "choice: ±5 points; no published error of a hand was found",
            ),
            Self::Card => (
                0.15,
                0.10,
                0.9,
                b'c',
                "choice: an eye's share of pieces, and cellulose for card",
            ),
            Self::Uptake => (
                0.40,
                0.0,
                0.9,
                b'u',
                "choice: kitchen tests, a factor of 1.5",
            ),
            Self::Smell => (0.0, 0.0, 0.0, b's', "see smells.rs"),
        };
        Noise {
            sd,
            model_sd,
            per_week,
            family,
            source,
        }
    }

    /// Cuts between the classes of a kind, in the number it looks at; none for kinds that give a number.
    ///
    /// Squeeze in water shares and card in shares left: choice. Warmth: skin is near 33 °C and a room near 20 °C
    /// (common practice), so cuts at 15, 25 and 40 °C.
    #[must_use]
    pub const fn cuts(self) -> &'static [f64] {
        match self {
            Self::Squeeze => &[0.45, 0.55, 0.63, 0.70],
            Self::Card => &[0.25, 0.5, 0.75],
            Self::Warmth => &[15.0, 25.0, 40.0],
            _ => &[],
        }
    }

    /// Ends of the outer classes, for their midpoints.
    const fn ends(self) -> (f64, f64) {
        match self {
            Self::Squeeze => (0.35, 0.80),
            Self::Card => (0.0, 1.0),
            Self::Warmth => (0.0, 60.0),
            _ => (0.0, 0.0),
        }
    }
}

/// The class of a reading, from nought; `None` for kinds without cuts.
#[must_use]
pub fn class(seen: &Seen) -> Option<usize> {
    match seen {
        Seen::Squeeze(c) => Some(usize::from(c.saturating_sub(1)).min(4)),
        Seen::Card(c) => Some(match c {
            Card::None => 0,
            Card::Few => 1,
            Card::Some => 2,
            Card::Most => 3,
        }),
        Seen::Warmth(w) => Some(match w {
            Warmth::Cold => 0,
            Warmth::Cool => 1,
            Warmth::Warm => 2,
            Warmth::Hot => 3,
        }),
        _ => None,
    }
}

/// The cuts of a class; infinite outside.
#[must_use]
pub fn edges(kind: Kind, class: usize) -> (f64, f64) {
    let cuts = kind.cuts();
    let low = class.checked_sub(1).and_then(|i| cuts.get(i)).copied();
    let high = cuts.get(class).copied();
    (
        low.unwrap_or(f64::NEG_INFINITY),
        high.unwrap_or(f64::INFINITY),
    )
}

/// A reading as a number with a spread, to be shown: a class is its midpoint, spread evenly over its width.
#[must_use]
pub fn datum(reading: &Reading) -> (f64, f64) {
    let kind = reading.kind();
    let sd = kind.noise().sd;
    match reading.seen {
        Seen::Core(c) => (c, sd),
        Seen::Litres(x) | Seen::Kilograms(x) | Seen::Uptake(x) => (x.max(1e-9).ln(), sd),
        // The share of members who would say the word is held against 1: see smells.rs.
        Seen::Smell(_) => (1.0, smells::SD),
        Seen::Squeeze(_) | Seen::Card(_) | Seen::Warmth(_) => {
            let (low, high) = edges(kind, class(&reading.seen).unwrap_or(0));
            let ends = kind.ends();
            let (low, high) = (low.max(ends.0), high.min(ends.1));
            let width = high - low;
            (0.5 * (low + high), (sd * sd + width * width / 12.0).sqrt())
        }
    }
}

/// Least share of a class's news that is still listened to; below it the class was certain beforehand.
const LEAST_NEWS: f64 = 1e-4;

/// A reading as a number with a spread, for members whose own numbers have a mean and a standard deviation. A class
/// becomes the number that moves a normal as the class itself would:
///
/// ```text
/// y = x + noise, S its variance;  ŷ, V mean and variance of y inside the class
/// d = m + S/(S−V) (ŷ − m),   R = S²/(S−V) − P
/// ```
/// m, P of the members (matching of moments, Minka 2001, UAI, recalled). A midpoint would pull members that say 0.95
/// down to 0.875 each time "most" is read; this says that "most" was expected.
#[must_use]
pub fn matched(reading: &Reading, (mean, spread): (f64, f64)) -> (f64, f64) {
    let kind = reading.kind();
    let Some(class) = class(&reading.seen) else {
        return datum(reading);
    };
    let sd = kind.noise().sd;
    let total = (spread * spread + sd * sd).sqrt();
    let (low, high) = edges(kind, class);
    let (a, b) = ((low - mean) / total, (high - mean) / total);
    let share = normal::between(0.0, 1.0, a, b);
    if share < 1e-9 {
        // Nothing to match so far out: the midpoint says where to go.
        return datum(reading);
    }
    let (at_a, at_b) = (normal::density(a), normal::density(b));
    let off = (at_a - at_b) / share;
    let term = |z: f64, density: f64| if z.is_finite() { z * density } else { 0.0 };
    let inside = 1.0 + (term(a, at_a) - term(b, at_b)) / share - off * off;
    let news = (1.0 - inside).clamp(LEAST_NEWS, 1.0);
    let variance = total * total / news - spread * spread;
    (mean + total * off / news, variance.max(sd * sd).sqrt())
}

/// ln of the likelihood of a reading, for the number a member has. `model_error` counts the model's own error in,
/// one reading by itself.
#[must_use]
pub fn log_likelihood(reading: &Reading, number: f64, model_error: bool) -> f64 {
    let kind = reading.kind();
    let noise = kind.noise();
    let sd = if model_error {
        noise.sd.hypot(noise.model_sd)
    } else {
        noise.sd
    };
    if let Seen::Smell(_) = reading.seen {
        return smells::WEIGHT * number.max(1e-9).ln();
    }
    if let Some(class) = class(&reading.seen) {
        let (low, high) = edges(kind, class);
        return normal::between(number, sd, low, high).max(1e-30).ln();
    }
    let e = (datum(reading).0 - number) / sd;
    -0.5 * e * e - sd.ln() - 0.5 * std::f64::consts::TAU.ln()
}

/// Where in the daily record a reading stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment {
    /// Day of the record.
    pub day: usize,
    /// Hour, 0 to 24.
    pub hour: f64,
    /// Share of the way from the end of the day before to the end of this day. Nought or one where something was
    /// put in or taken out on that day after or before the reading: then there is no straight line.
    pub share: f64,
}

/// Where a reading of a plan stands; a reading beyond the run is held at its end.
#[must_use]
pub fn moment(plan: &Plan, day: f64) -> Moment {
    let last = plan.days.saturating_sub(1);
    let whole = (day.max(0.0).floor() as usize).min(last);
    let within = (day - whole as f64).clamp(0.0, 1.0);
    let (mut earlier, mut later) = (false, false);
    for deed in &plan.deeds {
        if matches!(deed.deed, Deed::Turn | Deed::Place { .. } | Deed::Cut(_)) {
            continue;
        }
        let hour = Plan::hour(deed.day);
        if hour / STEPS == whole {
            if hour <= Plan::hour(day) {
                earlier = true;
            } else {
                later = true;
            }
        }
    }
    let share = match (earlier, later) {
        (true, false) => 1.0,
        (false, true) => 0.0,
        _ => within,
    };
    Moment {
        day: whole,
        hour: within * 24.0,
        share,
    }
}

/// A quantity of every member at the end of a day; the day before the first is the first.
fn column(e: &Ensemble, quantity: Daily, day: usize) -> Vec<f64> {
    e.daily(quantity, day.min(e.days.saturating_sub(1)))
        .map(f64::from)
        .collect()
}

/// A quantity between the end of the day before and the end of the day.
fn along(e: &Ensemble, quantity: Daily, at: Moment) -> Vec<f64> {
    let now = column(e, quantity, at.day);
    // Before the first day ends there is nothing but the first feed: its end stands for it.
    if at.day == 0 || at.share == 1.0 {
        return now;
    }
    let before = column(e, quantity, at.day - 1);
    now.iter()
        .zip(before)
        .map(|(n, b)| b + (n - b) * at.share)
        .collect()
}

/// °C at a probe.
fn probe(e: &Ensemble, at: Moment) -> Vec<f64> {
    let mean = column(e, Daily::Core, at.day);
    let most = column(e, Daily::CoreMax, at.day);
    // Means stand at noon: the next one draws the afternoon, the last one the morning.
    let other = if at.hour < 12.0 {
        at.day.saturating_sub(1)
    } else {
        (at.day + 1).min(e.days.saturating_sub(1))
    };
    let beside = column(e, Daily::Core, other);
    let share = (at.hour - 12.0).abs() / 24.0;
    let end = column(e, Daily::Shell, at.day);
    let start = column(e, Daily::Shell, at.day.saturating_sub(1));
    let turn = ((at.hour - WARMEST) / 24.0 * std::f64::consts::TAU).cos();
    (0..mean.len())
        .map(|i| {
            let drift = beside[i] - mean[i];
            // The warmest hour holds half a day's drift as well.
            let swing = (most[i] - mean[i] - 0.5 * drift.abs()).max(0.0);
            let core = mean[i] + drift * share + swing * turn;
            let shell = start[i] + (end[i] - start[i]) * at.hour / 24.0;
            core + 0.5 * (core - shell).max(0.0)
        })
        .collect()
}

/// The number that a reading looks at, for every member.
#[must_use]
pub fn numbers(e: &Ensemble, plan: &Plan, reading: &Reading) -> Vec<f64> {
    let at = moment(plan, reading.day);
    let ln = |q| {
        along(e, q, at)
            .into_iter()
            .map(|x: f64| x.max(1e-6).ln())
            .collect()
    };
    let share = |q| along(e, q, at).into_iter().map(|x| x / 100.0).collect();
    match reading.seen {
        Seen::Core(_) | Seen::Warmth(_) => probe(e, at),
        Seen::Litres(_) => ln(Daily::Litres),
        Seen::Kilograms(_) => ln(Daily::Mass),
        Seen::Squeeze(_) => share(Daily::Water),
        Seen::Card(_) => share(Daily::Recognisable),
        Seen::Uptake(_) => ln(Daily::Uptake),
        Seen::Smell(word) => signs(e, at)
            .iter()
            .map(|s| smells::shares(s)[word as usize])
            .collect(),
    }
}

/// What the nose goes by, for every member.
#[must_use]
pub fn signs(e: &Ensemble, at: Moment) -> Vec<smells::Signs> {
    let day = |q| column(e, q, at.day);
    let (oxygen, clumped) = (day(Daily::Oxygen), day(Daily::Clumped));
    let (acids, uptake) = (day(Daily::Acids), day(Daily::Uptake));
    let (water, lost) = (day(Daily::Water), day(Daily::NitrogenLost));
    let lost_before = if at.day == 0 {
        vec![0.0; lost.len()]
    } else {
        column(e, Daily::NitrogenLost, at.day - 1)
    };
    (0..oxygen.len())
        .map(|i| smells::Signs {
            oxygen: oxygen[i],
            clumped: clumped[i],
            acids: acids[i],
            uptake: uptake[i],
            water: water[i],
            nitrogen: (lost[i] - lost_before[i]).max(0.0),
        })
        .collect()
}
