//! Weather files given as text: generic CSV, GHCN-Daily, EPW, TMY3, told apart by their first lines.
//!
//! A file is taken whole or refused with the line. What is missing stays missing: [`Reading::gaps`] lists it, and
//! [`Gap::bridge`] says what [`super::Weather::draw`] will do there.

mod cells;
mod days;
mod error;
mod ghcn;
mod headings;
mod hourly;
mod table;
mod units;

pub use error::FileError;
pub use headings::Unit;

use super::calendar::Day;
use super::normals::Normals;
use super::weather::Observed;

/// What kind of file it was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// A table with headings, daily or hourly.
    Csv,
    /// GHCN-Daily, fixed width.
    GhcnDly,
    /// GHCN-Daily, comma separated.
    GhcnCsv,
    /// EnergyPlus weather.
    Epw,
    /// Typical meteorological year, third edition.
    Tmy3,
}

/// What a gap is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Series {
    /// Mean, or minimum and maximum.
    Temperature,
    /// Radiation.
    Radiation,
    /// Rain.
    Rain,
}

/// How a gap is bridged when weather is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bridge {
    /// Drawn for each member about the usual mean, tied to the observed days on both sides.
    DrawnBetweenNeighbours,
    /// From the day's temperature range, else the usual radiation.
    FromRangeOrUsual,
    /// Drawn for each member from the rain of a usual year.
    DrawnFromYear,
}

/// Days without a value, first to last.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gap {
    /// Of what.
    pub series: Series,
    /// First day without.
    pub first: Day,
    /// Last day without.
    pub last: Day,
}

impl Gap {
    /// How many days.
    #[must_use]
    pub fn days(&self) -> i32 {
        self.last - self.first + 1
    }

    /// What weather drawn from these days does there.
    #[must_use]
    pub fn bridge(&self) -> Bridge {
        match self.series {
            Series::Temperature => Bridge::DrawnBetweenNeighbours,
            Series::Radiation => Bridge::FromRangeOrUsual,
            Series::Rain => Bridge::DrawnFromYear,
        }
    }
}

/// What the reader understood and did.
#[derive(Debug, Clone, PartialEq)]
pub enum Note {
    /// Unit of a column; told by the heading, or inferred from the numbers.
    Unit {
        /// Heading.
        column: String,
        /// Which unit.
        unit: Unit,
        /// Whether the heading says so.
        told: bool,
    },
    /// A column not used.
    Ignored {
        /// Heading.
        column: String,
    },
    /// Cells that were blank or marked as missing.
    Missing {
        /// How many.
        cells: usize,
    },
    /// Values that failed the station's own check; not used.
    Flagged {
        /// How many.
        cells: usize,
    },
    /// Days with too few hours for a mean; taken as missing.
    ThinDays {
        /// How many.
        days: usize,
        /// Readings that a day needs.
        readings: usize,
    },
    /// A day with its minimum above its maximum; the pair is not used.
    MinOverMax {
        /// Line.
        line: usize,
    },
    /// A mean outside its minimum and maximum; the mean is not used.
    MeanOutside {
        /// Line.
        line: usize,
    },
}

/// A weather file, read.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Which format.
    pub format: Format,
    /// Name or number of the station, if the file has one.
    pub station: Option<String>,
    /// Degrees, north positive, if the file has it.
    pub latitude: Option<f64>,
    /// Months of several years put together: good for [`Reading::monthly_means`], not as observed days.
    pub typical_year: bool,
    /// The days.
    pub days: Observed,
    /// Days without a value between the first and the last.
    pub gaps: Vec<Gap>,
    /// What was understood and done.
    pub notes: Vec<Note>,
}

impl Reading {
    /// Mean temperature of each calendar month over all years, `None` with fewer than 20 days of it (judged).
    #[must_use]
    pub fn monthly_means(&self) -> [Option<f64>; 12] {
        let (mut sums, mut counts) = ([0.0; 12], [0_u32; 12]);
        for (day, mean) in self.days.iter().filter_map(|(d, o)| Some((d, o.mean()?))) {
            let month = day.ymd().1 as usize - 1;
            sums[month] += mean;
            counts[month] += 1;
        }
        std::array::from_fn(|m| (counts[m] >= 20).then(|| sums[m] / f64::from(counts[m])))
    }

    /// Mean departure from what is usual at a place, K. Beyond about 8 K a wrong unit or place is likely (judged).
    #[must_use]
    pub fn mean_departure(&self, normals: &Normals) -> Option<f64> {
        let all: Vec<f64> = self
            .days
            .iter()
            .filter_map(|(&day, o)| Some(o.mean()? - normals.on(day).mean_c))
            .collect();
        (!all.is_empty()).then(|| all.iter().sum::<f64>() / all.len() as f64)
    }
}

/// Rows of a file before they are gathered into days.
struct Sheet {
    rows: Vec<days::Row>,
    station: Option<String>,
    latitude: Option<f64>,
    typical_year: bool,
}

/// Reads a weather file.
///
/// # Errors
/// [`FileError`] names line, column, value, what is allowed and the way out; nothing is kept then.
pub fn read(bytes: &[u8]) -> Result<Reading, FileError> {
    let text = cells::text_of(bytes)?;
    let mut head = cells::lines(&text).map(|(_, line)| line);
    let first = head.next().ok_or(FileError::Empty)?;
    let second = head.next().unwrap_or_default();
    let mut notes = Vec::new();
    let plain = |(rows, station)| Sheet {
        rows,
        station,
        latitude: None,
        typical_year: false,
    };
    let (format, sheet) = if first.starts_with("LOCATION,") {
        (Format::Epw, hourly::read_epw(&text, &mut notes)?)
    } else if second.starts_with("Date (MM/DD/YYYY),Time (HH:MM)") {
        (Format::Tmy3, hourly::read_tmy3(&text, &mut notes)?)
    } else if ghcn::is_dly(first) {
        (Format::GhcnDly, plain(ghcn::read_dly(&text, &mut notes)?))
    } else if ghcn::is_long(first) {
        (Format::GhcnCsv, plain(ghcn::read_long(&text, &mut notes)?))
    } else {
        let heads = table::heads(&text)?;
        let (format, rows, station) = table::read(&text, &heads, &mut notes)?;
        (format, plain((rows, station)))
    };
    let (days, gaps) = days::gather(&sheet.rows, &mut notes)?;
    Ok(Reading {
        format,
        station: sheet.station,
        latitude: sheet.latitude,
        typical_year: sheet.typical_year,
        days,
        gaps,
        notes,
    })
}
