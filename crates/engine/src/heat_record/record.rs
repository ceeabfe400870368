//! The heat record of a batch: everything at once.

use super::bands::{Bands, bands};
use super::course::{Course, Place, Reading};
use super::hours::{HOT_C, YARDSTICK_H, log_reduction, plain, weighted};
use super::turns::{COOL, between, never_heated, occasions};
use super::yardstick::{Yardstick, yardsticks};

/// Hours of one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hours {
    /// At 55 °C or more.
    pub plain: f64,
    /// Weighted, at 55 °C.
    pub weighted: f64,
    /// Tenfold kills of the marker.
    pub log_reduction: f64,
    /// Hours that are known.
    pub known: f64,
    /// Warmest reading, °C.
    pub warmest: Option<f64>,
    /// Readings.
    pub readings: usize,
}

impl Hours {
    fn of(course: &Course) -> Self {
        let weighted = weighted(course);
        Self {
            plain: plain(course, HOT_C),
            weighted,
            log_reduction: log_reduction(weighted),
            known: course.known(),
            warmest: course.warmest,
            readings: course.readings,
        }
    }

    /// The worse of plain and weighted, h.
    #[must_use]
    pub fn worse(&self) -> f64 {
        self.plain.min(self.weighted)
    }
}

/// The record.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// Core, and readings whose place was not said.
    pub core: Hours,
    /// Shell, if it was read.
    pub shell: Option<Hours>,
    /// How long the batch lasts, h.
    pub span: f64,
    /// Turnings written down.
    pub turnings: usize,
    /// Of them, those between hot spells.
    pub turns_between: usize,
    /// Share never in the heat, for a small, usual and large cool zone; nothing where no hot spell is known.
    pub never_heated: Option<[f64; 3]>,
    /// Criteria.
    pub yardsticks: Vec<Yardstick>,
    /// Weeds and plant disease.
    pub bands: Bands,
}

impl Record {
    /// Whether the shell was never read.
    #[must_use]
    pub fn core_only(&self) -> bool {
        self.shell.is_none()
    }

    /// Hours that are graded: the worse of both kinds, at the colder place.
    #[must_use]
    pub fn graded(&self) -> f64 {
        let shell = self.shell.map_or(f64::INFINITY, |s| s.worse());
        self.core.worse().min(shell)
    }

    /// Whether the graded hours reach the yardstick of 72 h at 55 °C.
    #[must_use]
    pub fn reaches(&self) -> bool {
        self.graded() >= YARDSTICK_H - 1e-9
    }
}

/// The record of readings and turnings, both in hours since the batch began; `span` is its length so far.
#[must_use]
pub fn record(readings: &[Reading], turns: &[f64], span: f64) -> Record {
    let core = Course::of(readings, |p| p != Place::Shell);
    let shell = Course::of(readings, |p| p == Place::Shell);
    let shell = (shell.readings > 0).then_some(shell);
    let occasions = occasions(turns);
    let least = |a: usize, b: Option<usize>| b.map_or(a, |b| a.min(b));
    let turns_between = least(
        between(&core, &occasions),
        shell.as_ref().map(|s| between(s, &occasions)),
    );
    let core_hours = Hours::of(&core);
    Record {
        never_heated: (core_hours.plain > 0.0)
            .then(|| COOL.map(|cool| never_heated(cool, turns_between))),
        shell: shell.as_ref().map(Hours::of),
        span,
        turnings: occasions.len(),
        turns_between,
        yardsticks: yardsticks(&core, shell.as_ref(), &occasions, span),
        bands: bands(&core, shell.as_ref(), &occasions, span),
        core: core_hours,
    }
}
