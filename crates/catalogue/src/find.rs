//! From words to a material: exact on any of its names, otherwise "did you mean".

use crate::Catalogue;
use crate::material::Material;
use crate::words::normalise;

/// What a group of words means.
#[derive(Debug, Clone)]
pub enum Found<'a> {
    /// One material.
    One(&'a Material),
    /// Several, truly: the asker has to choose.
    Several(Vec<&'a Material>),
    /// None.
    Nothing,
}

/// A close word and the material it would mean.
#[derive(Debug, Clone)]
pub struct Near<'a> {
    /// The word as the catalogue knows it, normalised.
    pub word: String,
    /// Its material.
    pub material: &'a Material,
    /// Likeness, 0 to 1.
    pub likeness: f64,
}

impl Catalogue {
    /// The material that these words name, exactly (case, plural and accents aside).
    pub fn find(&self, words: &str) -> Found<'_> {
        let form = normalise(words);
        if let Some(material) = self
            .get(&form.replace(' ', "-"))
            .or_else(|| self.get(words.trim()))
            && self.words.get(&form).is_empty()
        {
            return Found::One(material);
        }
        match self.words.get(&form) {
            [] => Found::Nothing,
            [one] => Found::One(&self.materials[*one]),
            many => Found::Several(many.iter().map(|&at| &self.materials[at]).collect()),
        }
    }

    /// Words in the longest group that [`Catalogue::find`] knows.
    pub fn longest_name(&self) -> usize {
        self.words.longest()
    }

    /// Up to `most` near materials, closest first, each once; likeness at least 0.6.
    ///
    /// Likeness is the larger of the Damerau–Levenshtein likeness of the whole group and, a little
    /// discounted, the share of words in common, so that "oak leafs brown" finds oak leaves.
    pub fn near(&self, words: &str, most: usize) -> Vec<Near<'_>> {
        let form = normalise(words);
        if form.is_empty() {
            return Vec::new();
        }
        let asked: Vec<&str> = form.split(' ').collect();
        let mut best: Vec<(f64, &str, usize)> = Vec::new();
        for (word, to) in self.words.iter() {
            let spelling = strsim::normalized_damerau_levenshtein(&form, word);
            let known: Vec<&str> = word.split(' ').collect();
            let common = asked.iter().filter(|w| known.contains(w)).count();
            let shared = 0.95 * (2 * common) as f64 / (asked.len() + known.len()) as f64;
            let likeness = spelling.max(shared);
            if likeness >= 0.6 {
                best.extend(to.iter().map(|&at| (likeness, word, at)));
            }
        }
        best.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)).then(a.2.cmp(&b.2)));
        let mut seen = Vec::new();
        best.retain(|&(_, _, at)| {
            if seen.contains(&at) {
                false
            } else {
                seen.push(at);
                true
            }
        });
        best.truncate(most);
        best.into_iter()
            .map(|(likeness, word, at)| Near {
                word: word.to_owned(),
                material: &self.materials[at],
                likeness,
            })
            .collect()
    }
}
