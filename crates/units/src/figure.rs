//! A figure: a number that says where it comes from and how far it may be off.

use serde::Serialize;

/// How a figure was come by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Grade {
    /// Analysed by the source itself (a food table, a laboratory study).
    Measured,
    /// Tabulated by a handbook or an extension service from others' analyses.
    Handbook,
    /// Recalled or estimated from like things; no table was read.
    Judged,
}

impl Grade {
    /// As written in the data files and in JSON.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Handbook => "handbook",
            Self::Judged => "judged",
        }
    }

    /// Reads the word of the data files.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        [Self::Measured, Self::Handbook, Self::Judged]
            .into_iter()
            .find(|g| g.as_str() == word)
    }
}

/// One number of a table, with its range, unit, source and grade.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// Typical value.
    pub value: f64,
    /// About the 5th percentile among real samples.
    pub low: f64,
    /// About the 95th percentile.
    pub high: f64,
    /// Unit, spelled as printed.
    pub unit: String,
    /// Ids in the table of sources, the first one leading.
    pub source: Vec<String>,
    /// Table, page, row or reasoning within the source.
    pub place: String,
    /// How it was come by.
    pub grade: Grade,
}
