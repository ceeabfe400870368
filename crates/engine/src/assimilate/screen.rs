//! Readings that cannot be are set aside, each with its reason; none is dropped in silence.
//!
//! Two doors: [`screen`] for what people note, [`sensor`] for the points of a probe, which come by the thousand and
//! leave as medians of hours. 85.0 °C is what a one-wire thermometer says when it was asked before it had measured,
//! −127 °C what its usual library says for a broken wire (maker's data sheet and common practice, recalled).

use serde::{Deserialize, Serialize};

use super::reading::{CORE_C, Reading, Seen, Warmth};

/// Why a reading is set aside.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Reason {
    /// Exactly 85.0 °C: the probe had not measured yet.
    PoweredUp,
    /// −127 °C: the wire is loose.
    Disconnected,
    /// Not a number, or outside what its kind can be.
    OutOfRange,
    /// A jump of more than 15 K within ten minutes.
    Jump,
    /// The same value for many hours while the air moved.
    FlatLine,
    /// Before anything was put in.
    BeforeFirstFeed,
    /// After now.
    Future,
    /// Hot and frozen on the same day.
    Contradicts,
    /// The clock went back.
    ClockWentBack,
}

/// A reading set aside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Aside {
    /// The reading.
    pub reading: Reading,
    /// Why.
    pub reason: Reason,
}

/// What is kept, and what is not.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Screened {
    /// Readings to learn from, in order of time.
    pub kept: Vec<Reading>,
    /// The others.
    pub aside: Vec<Aside>,
}

/// One point of a probe.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Days since the start of the run.
    pub day: f64,
    /// °C.
    pub celsius: f64,
}

/// Points set aside, a run of the same reason together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AsideRun {
    /// First day.
    pub from: f64,
    /// Last day.
    pub to: f64,
    /// How many points.
    pub count: usize,
    /// First value, °C.
    pub celsius: f64,
    /// Why.
    pub reason: Reason,
}

/// What a probe leaves.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Hours {
    /// Medians of hours, each in the middle of its hour.
    pub hours: Vec<Point>,
    /// What was set aside.
    pub aside: Vec<AsideRun>,
}

/// K within ten minutes that no heap does (choice: opening a drum takes longer to cool a core).
const JUMP: (f64, f64) = (15.0, 10.0 / 1440.0);
/// Points that differ by less are the same, K.
const SAME: f64 = 0.01;
/// A line is flat after so many hours, if the air moved by so many K meanwhile (choice: half a day holds most of a
/// day's swing; a core deep in a large heap still moves by more than a hundredth).
const FLAT: (f64, f64) = (12.0 / 24.0, 3.0);
/// Hot and frozen, °C: no heap is both in a day.
const HOT_FROZEN: (f64, f64) = (40.0, 1.0);
/// Clocks differ by this much without harm, d: one minute.
const SLACK: f64 = 1.0 / 1440.0;

/// Why a temperature cannot be, by itself.
fn impossible(celsius: f64) -> Option<Reason> {
    if celsius == 85.0 {
        Some(Reason::PoweredUp)
    } else if (celsius + 127.0).abs() < SAME {
        Some(Reason::Disconnected)
    } else if CORE_C.check(celsius).is_err() {
        Some(Reason::OutOfRange)
    } else {
        None
    }
}

/// Warmth of a reading, if it says any: −1 frozen, 1 hot, 0 neither.
fn warmth(seen: &Seen) -> i8 {
    match *seen {
        Seen::Core(c) if c >= HOT_FROZEN.0 => 1,
        Seen::Core(c) if c <= HOT_FROZEN.1 => -1,
        Seen::Warmth(Warmth::Hot) => 1,
        _ => 0,
    }
}

/// Screens what people noted. `first_feed` and `now` in days of the run.
///
/// Of a hot and a frozen reading on one day neither can be told the wrong one: both are set aside.
#[must_use]
pub fn screen(readings: &[Reading], first_feed: f64, now: f64) -> Screened {
    let alone = |r: &Reading| {
        if let Seen::Core(c) = r.seen
            && let Some(reason) = impossible(c)
        {
            return Some(reason);
        }
        if !r.day.is_finite() {
            return Some(Reason::OutOfRange);
        }
        if r.day < first_feed - SLACK {
            return Some(Reason::BeforeFirstFeed);
        }
        if r.day > now + SLACK {
            return Some(Reason::Future);
        }
        r.check().is_err().then_some(Reason::OutOfRange)
    };
    let mut out = Screened::default();
    let mut left = Vec::new();
    for r in readings {
        match alone(r) {
            Some(reason) => out.aside.push(Aside {
                reading: *r,
                reason,
            }),
            None => left.push(*r),
        }
    }
    left.sort_by(|a, b| a.day.total_cmp(&b.day));
    let mut wrong = vec![None; left.len()];
    for i in 0..left.len() {
        for j in i + 1..left.len() {
            let (a, b) = (&left[i], &left[j]);
            if a.day.floor() == b.day.floor() && warmth(&a.seen) * warmth(&b.seen) < 0 {
                wrong[i] = Some(Reason::Contradicts);
                wrong[j] = Some(Reason::Contradicts);
            }
            if let (Seen::Core(x), Seen::Core(y)) = (a.seen, b.seen)
                && (x - y).abs() > JUMP.0
                && b.day - a.day <= JUMP.1
            {
                wrong[i] = wrong[i].or(Some(Reason::Jump));
                wrong[j] = wrong[j].or(Some(Reason::Jump));
            }
            if b.day.floor() > a.day.floor() && b.day - a.day > JUMP.1 {
                break;
            }
        }
    }
    for (reading, wrong) in left.into_iter().zip(wrong) {
        match wrong {
            Some(reason) => out.aside.push(Aside { reading, reason }),
            None => out.kept.push(reading),
        }
    }
    out
}

/// Screens the points of one probe, in the order they came, and takes medians of hours. `air` is the air's temperature
/// by the hour from day nought, if known: without it no line is called flat.
///
/// A jump sets aside the points after it, until one is within 15 K of the last good point, ten minutes bring none, or
/// an hour has gone.
#[must_use]
pub fn sensor(points: &[Point], air: &[f64], first_feed: f64, now: f64) -> Hours {
    let mut reasons: Vec<Option<Reason>> = vec![None; points.len()];
    let mut latest = f64::NEG_INFINITY;
    let mut good: Option<Point> = None;
    let mut beside = f64::NEG_INFINITY;
    for (p, reason) in points.iter().zip(&mut reasons) {
        *reason = if !p.day.is_finite() {
            Some(Reason::OutOfRange)
        } else if let Some(why) = impossible(p.celsius) {
            Some(why)
        } else if p.day > now + SLACK {
            Some(Reason::Future)
        } else if p.day < latest - SLACK {
            Some(Reason::ClockWentBack)
        } else if p.day < first_feed - SLACK {
            latest = latest.max(p.day);
            Some(Reason::BeforeFirstFeed)
        } else {
            latest = latest.max(p.day);
            match good {
                Some(g) if (p.celsius - g.celsius).abs() > JUMP.0 => {
                    // Beside the last good point or another that jumped; an hour on, the good one may be the odd one.
                    let at_once = p.day - beside <= JUMP.1 && p.day - g.day <= 6.0 * JUMP.1;
                    at_once.then_some(Reason::Jump)
                }
                _ => None,
            }
        };
        if matches!(*reason, None | Some(Reason::Jump)) {
            beside = p.day;
        }
        if reason.is_none() {
            good = Some(*p);
        }
    }
    flat(points, air, &mut reasons);
    let mut out = Hours::default();
    let mut hour: Vec<f64> = Vec::new();
    let mut slot = i64::MIN;
    let close = |hour: &mut Vec<f64>, slot: i64, out: &mut Hours| {
        if !hour.is_empty() {
            hour.sort_by(f64::total_cmp);
            let middle = 0.5 * (hour[(hour.len() - 1) / 2] + hour[hour.len() / 2]);
            out.hours.push(Point {
                day: (slot as f64 + 0.5) / 24.0,
                celsius: middle,
            });
            hour.clear();
        }
    };
    for (p, reason) in points.iter().zip(&reasons) {
        if let Some(reason) = *reason {
            match out.aside.last_mut() {
                Some(run) if run.reason == reason => {
                    run.to = p.day;
                    run.count += 1;
                }
                _ => out.aside.push(AsideRun {
                    from: p.day,
                    to: p.day,
                    count: 1,
                    celsius: p.celsius,
                    reason,
                }),
            }
            continue;
        }
        let own = (p.day * 24.0).floor() as i64;
        // A minute of slack may turn the order round at the edge of an hour: it stays in the later one.
        if own > slot {
            close(&mut hour, slot, &mut out);
            slot = own;
        }
        hour.push(p.celsius);
    }
    close(&mut hour, slot, &mut out);
    out
}

/// Marks runs of the same value that last while the air moves.
fn flat(points: &[Point], air: &[f64], reasons: &mut [Option<Reason>]) {
    let swing = |from: f64, to: f64| {
        let at = |day: f64| ((day * 24.0).max(0.0) as usize).min(air.len());
        let part = &air[at(from)..at(to)];
        let low = part.iter().copied().fold(f64::INFINITY, f64::min);
        let high = part.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        high - low
    };
    let mut start = 0;
    while start < points.len() {
        if reasons[start].is_some() {
            start += 1;
            continue;
        }
        let mut end = start + 1;
        while end < points.len()
            && reasons[end].is_none()
            && (points[end].celsius - points[start].celsius).abs() < SAME
        {
            end += 1;
        }
        let (from, to) = (points[start].day, points[end - 1].day);
        // Two points apart are no line: it takes a point every two hours or so.
        let dense = (end - start) as f64 >= (to - from) * 12.0;
        if to - from >= FLAT.0 && dense && swing(from, to) >= FLAT.1 {
            for reason in &mut reasons[start..end] {
                *reason = Some(Reason::FlatLine);
            }
        }
        start = end;
    }
}
