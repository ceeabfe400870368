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

impl crate::Catalogue {
    /// Every source with what rests on it, as Markdown; the file SOURCES.md is this text.
    pub fn sources_page(&self) -> String {
        use std::collections::BTreeMap;
        use std::fmt::Write as _;
        let mut uses: BTreeMap<&str, usize> = BTreeMap::new();
        for material in self.materials() {
            for (_, figure) in &material.figures {
                for id in &figure.source {
                    *uses.entry(id).or_default() += 1;
                }
            }
            if material.food.is_some() {
                // Water, carbon, nitrogen and ash are computed from the row.
                *uses.entry("usda-sr28").or_default() += 4;
            }
        }
        for measure in self.measures() {
            for id in &measure.source {
                *uses.entry(id).or_default() += 1;
            }
        }
        if let Ok(towns) = crate::climate::Towns::load() {
            let n = towns.all().len();
            for (id, each) in crate::climate::SOURCES.into_iter().zip([12, 1, 1]) {
                *uses.entry(id).or_default() += each * n;
            }
        }
        let mut lists: BTreeMap<&str, usize> = BTreeMap::new();
        for row in &self.lists {
            *lists.entry(&row.source).or_default() += 1;
        }
        let mut page = String::from(
            "# Sources\n\nWritten by `cargo run -p catalogue --example sources > SOURCES.md`; a test keeps it fresh.\n\
             Equations name their sources beside the code.\n\n\
             | id | source | kind | read | figures | verdicts compared |\n|---|---|---|---|---|---|\n",
        );
        for s in self.sources() {
            let read = if s.seen { "yes" } else { "no" };
            let licence = if s.licence.is_empty() {
                String::new()
            } else {
                format!(" ({})", s.licence)
            };
            let count =
                |map: &BTreeMap<&str, usize>| map.get(s.id.as_str()).copied().unwrap_or_default();
            _ = writeln!(
                page,
                "| {} | {}{licence} | {} | {read} | {} | {} |",
                s.id,
                s.citation.replace('|', "/"),
                s.kind,
                count(&uses),
                count(&lists)
            );
        }
        page
    }
}
