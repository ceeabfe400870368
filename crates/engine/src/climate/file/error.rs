//! Why a weather file was not taken: line, column, value, what is allowed, and the way out.

use thiserror::Error;
use units::OutOfRange;

use crate::climate::calendar::Day;

/// Why a file was refused. Nothing of it is kept then.
#[derive(Debug, Error, Clone, PartialEq)]
pub enum FileError {
    /// No lines with content.
    #[error("the file is empty; give at least one day with a date and a temperature")]
    Empty,
    /// A spreadsheet, an archive, UTF-16.
    #[error("the file is not plain text; save it as CSV (UTF-8) and read that")]
    NotText,
    /// No heading that names a date and a temperature.
    #[error(
        "line {line}: no heading names both a date and a temperature (read: {read}); name the columns, for example date,tmin,tmax"
    )]
    NoHeadings {
        /// The line most like a heading.
        line: usize,
        /// What it says, cut short.
        read: String,
    },
    /// Two columns claim to be the same thing.
    #[error("line {line}: {first:?} and {second:?} both look like {what}; keep one of them")]
    TwoColumns {
        /// Line of the headings.
        line: usize,
        /// What both look like.
        what: &'static str,
        /// Heading kept first.
        first: String,
        /// Heading met second.
        second: String,
    },
    /// A cell that is no number and no known mark for missing.
    #[error(
        "line {line}, {column}: {value:?} is not a number; write one such as 12.5, or leave the cell blank if it is missing"
    )]
    NotANumber {
        /// Line, from 1.
        line: usize,
        /// Heading.
        column: String,
        /// The cell.
        value: String,
    },
    /// A number that the air does not reach.
    #[error(
        "line {line}, {column}: {why}; correct the cell, blank it if it is missing, or name the unit in the heading, for example tmax (°F)"
    )]
    OutOfRange {
        /// Line, from 1.
        line: usize,
        /// Heading.
        column: String,
        /// Value and range, in our unit.
        why: OutOfRange,
    },
    /// A date that cannot be read, or that no calendar has.
    #[error("line {line}: date {value:?} is no day from 1600 to 2999; write it as 2024-02-29")]
    Date {
        /// Line, from 1.
        line: usize,
        /// The cell.
        value: String,
    },
    /// 03/04/2024 throughout.
    #[error(
        "line {line}: date {value:?} may be day/month or month/day, and no line of the file decides; write dates as 2024-02-29"
    )]
    DateOrder {
        /// Line, from 1.
        line: usize,
        /// The cell.
        value: String,
    },
    /// A day given twice.
    #[error("line {line}: {day} was given before, on line {before}; keep one of the two")]
    Twice {
        /// Line, from 1.
        line: usize,
        /// Which day.
        day: Day,
        /// Line where it came first.
        before: usize,
    },
    /// Minimum above maximum nearly everywhere.
    #[error(
        "line {line}: minimum {min} °C lies above maximum {max} °C, and so on {days} of {of} days; the two columns are swapped: swap their headings"
    )]
    Swapped {
        /// First such line.
        line: usize,
        /// Its minimum.
        min: f64,
        /// Its maximum.
        max: f64,
        /// Days with the order reversed.
        days: usize,
        /// Days with both.
        of: usize,
    },
    /// °F, °C or tenths: the numbers do not tell.
    #[error(
        "temperatures from {least} to {most} may be °F or tenths of °C; name the unit in the heading, for example tmax (°F) or tmax (0.1 °C)"
    )]
    UnitUnclear {
        /// Least number of the columns.
        least: f64,
        /// Most.
        most: f64,
    },
    /// A line with too few cells or characters.
    #[error("line {line}: {found} {of} where {wanted} are needed; the line is cut off")]
    Short {
        /// Line, from 1.
        line: usize,
        /// How many there are.
        found: usize,
        /// How many are needed.
        wanted: usize,
        /// Cells or characters.
        of: &'static str,
    },
    /// More than one station.
    #[error("line {line}: station {second:?} follows {first:?}; keep the lines of one station")]
    Stations {
        /// Line, from 1.
        line: usize,
        /// First station.
        first: String,
        /// The other.
        second: String,
    },
    /// Not one day with a temperature.
    #[error(
        "no day of the file has a temperature; check the columns and the marks for missing values"
    )]
    NoDays,
}
