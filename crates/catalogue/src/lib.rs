//! What a material is, what people call it, how much a hand holds of it, and what an entry says.
//!
//! All data is compiled in from `data/*.csv`; [`Catalogue::load`] is the only place where raw numbers
//! become quantities. Nothing here reads a file, knows a batch or has a clock: an entry's "yesterday"
//! stays a phrase ([`entry::When`]) until `desk` gives it a day.

pub mod climate;
mod composition;
pub mod entry;
mod find;
mod food;
mod load;
mod material;
mod measure;
mod own;
pub mod reading;
mod source;
mod words;

use std::collections::HashMap;

pub use composition::Composition;
pub use find::{Found, Near};
pub use food::{Food, Trim};
pub use load::BadData;
pub use material::{Material, Property, Role, Verdict, VerdictList};
pub use measure::{Bought, Measure};
pub use own::{OwnError, OwnRow, read_own};
pub use source::Source;
pub use words::{normalise, singular};

/// Everything known about materials, indexed by id and by word.
#[derive(Debug, Clone)]
pub struct Catalogue {
    materials: Vec<Material>,
    by_id: HashMap<String, usize>,
    words: words::Words,
    measures: Vec<Measure>,
    bought: Vec<Bought>,
    sources: HashMap<String, Source>,
    lists: Vec<VerdictList>,
    /// Words for mending slips; made from the rest when first asked for.
    book: std::sync::OnceLock<entry::Book>,
}

impl Catalogue {
    /// Every material, in the order of the tables.
    pub fn materials(&self) -> &[Material] {
        &self.materials
    }

    /// The material with this id.
    pub fn get(&self, id: &str) -> Option<&Material> {
        self.by_id.get(id).map(|&at| &self.materials[at])
    }

    /// Counts and containers with a weight or a volume.
    pub fn measures(&self) -> &[Measure] {
        &self.measures
    }

    /// Foods as bought, with the share that becomes scraps.
    pub fn bought(&self) -> &[Bought] {
        &self.bought
    }

    /// A source by id.
    pub fn source(&self, id: &str) -> Option<&Source> {
        self.sources.get(id)
    }

    /// Every source, by id.
    pub fn sources(&self) -> Vec<&Source> {
        let mut all: Vec<_> = self.sources.values().collect();
        all.sort_by(|a, b| a.id.cmp(&b.id));
        all
    }

    /// What published lists say of a material, beside our verdict.
    pub fn lists<'a>(&'a self, material: &'a str) -> impl Iterator<Item = &'a VerdictList> {
        self.lists
            .iter()
            .filter(move |row| row.material == material)
    }
}
