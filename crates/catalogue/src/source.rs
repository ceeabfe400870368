//! Where figures come from.

/// One row of the table of sources.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// Id used beside figures.
    pub id: String,
    /// Author, year, title, table.
    pub citation: String,
    /// publication, dataset, practice, recalled or judged.
    pub kind: String,
    /// Whether the source was read when the figure was entered.
    pub seen: bool,
    /// Licence or standing of the data, where it matters.
    pub licence: String,
}
