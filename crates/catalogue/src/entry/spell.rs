//! Slips of the finger: a word nobody knows, close to exactly one that is known.

use std::collections::{BTreeSet, HashMap};

use super::tokens::{Kind, Token};
use super::{lexicon, number, unit, when};
use crate::{Catalogue, normalise};

/// Every single word of the catalogue and of the grammar.
pub(super) struct Book {
    words: BTreeSet<String>,
}

/// Most alternatives kept for one word.
const MOST: usize = 5;

impl Book {
    pub(super) fn of(catalogue: &Catalogue) -> Self {
        let mut words: BTreeSet<String> = BTreeSet::new();
        for (group, _) in catalogue.words.iter() {
            words.extend(group.split(' ').filter(|w| w.len() > 1).map(str::to_owned));
        }
        words.extend(
            catalogue
                .bought()
                .iter()
                .flat_map(|b| b.word.split(' ').map(str::to_owned)),
        );
        let grammar = [
            lexicon::FILLER,
            lexicon::PLACE,
            lexicon::ADJECTIVE,
            lexicon::JOINT,
            lexicon::COOK,
            lexicon::MADE,
            lexicon::PUT,
            lexicon::PART,
            lexicon::WITHOUT,
            lexicon::NOT,
            when::WORDS,
            UNITS,
        ];
        words.extend(
            grammar
                .iter()
                .flat_map(|list| list.iter().map(|w| normalise(w))),
        );
        words.extend(
            grammar
                .iter()
                .flat_map(|list| list.iter().map(|w| (*w).to_owned())),
        );
        Self { words }
    }

    fn knows(&self, token: &Token) -> bool {
        self.words.contains(token.norm())
            || self.words.contains(token.low())
            || unit::is_unit_word(token.norm())
            || when::knows(token.low())
            || number::number(std::slice::from_ref(token), 0).is_some()
    }

    /// Known words within a slip of this one, closest first: one letter from five letters on, two
    /// from eight on; the first letter is kept unless the first two are swapped.
    fn close(&self, token: &Token) -> Vec<String> {
        let (low, norm) = (token.low(), token.norm());
        let length = low.chars().count();
        if !(4..=24).contains(&length) {
            return Vec::new();
        }
        let most = if length >= 8 { 2 } else { 1 };
        let first = low.chars().next();
        let second = low.chars().nth(1);
        let mut found: Vec<(usize, &str)> = Vec::new();
        for word in &self.words {
            let count = word.chars().count();
            if count < 3 || count.abs_diff(length) > most + 1 {
                continue;
            }
            let start = word.chars().next();
            let swapped = start == second && word.chars().nth(1) == first;
            if start != first && !swapped {
                continue;
            }
            let distance =
                strsim::damerau_levenshtein(low, word).min(strsim::damerau_levenshtein(norm, word));
            // Four letters bear a missing letter or a swap, not a changed one.
            let short = length == 4 && !(count == 5 || swapped || same_letters(low, word));
            if distance <= most && !short {
                found.push((distance, word));
            }
        }
        found.sort();
        let best = found.first().map_or(0, |f| f.0);
        found
            .into_iter()
            .filter(|f| f.0 == best)
            .take(MOST)
            .map(|f| f.1.to_owned())
            .collect()
    }
}

fn same_letters(a: &str, b: &str) -> bool {
    let sorted = |s: &str| {
        let mut all: Vec<char> = s.chars().collect();
        all.sort_unstable();
        all
    };
    sorted(a) == sorted(b)
}

const UNITS: &[&str] = &[
    "handful",
    "handfuls",
    "fistful",
    "caddy",
    "bucket",
    "buckets",
    "barrow",
    "wheelbarrow",
    "sack",
    "sheet",
    "sheets",
    "slice",
    "slices",
    "litre",
    "liter",
    "gallon",
    "pound",
    "ounce",
    "bunch",
    "armful",
    "scoop",
    "spoon",
    "tablespoon",
    "teaspoon",
    "quart",
    "kilo",
    "grams",
    "half",
    "quarter",
    "dozen",
    "couple",
    "several",
];

/// Slips of two or three letters too short for a rule.
const KNOWN_SLIPS: &[(&str, &str)] = &[
    ("haf", "half"),
    ("hlaf", "half"),
    ("tow", "two"),
    ("adn", "and"),
    ("lst", "last"),
    ("teh", "the"),
    ("nite", "night"),
    ("ful", "full"),
    ("mornin", "morning"),
];

/// Replaces words that have one close neighbour; keeps several for the longest match to decide.
pub(super) fn correct(
    catalogue: &Catalogue,
    tokens: &mut [Token],
    keep: &[bool],
) -> Vec<Vec<String>> {
    let mut book = None;
    let mut seen: HashMap<String, Vec<String>> = HashMap::new();
    let mut alternatives = vec![Vec::new(); tokens.len()];
    for (at, token) in tokens.iter_mut().enumerate() {
        let Kind::Word { low, norm } = &mut token.kind else {
            continue;
        };
        if let Some((_, right)) = KNOWN_SLIPS.iter().find(|(slip, _)| slip == low) {
            (*low, *norm) = ((*right).to_owned(), normalise(right));
            continue;
        }
        if keep.get(at).copied().unwrap_or(false) {
            continue;
        }
        let book = book.get_or_insert_with(|| Book::of(catalogue));
        if book.knows(token) {
            continue;
        }
        let close = seen
            .entry(token.low().to_owned())
            .or_insert_with(|| book.close(token))
            .clone();
        let mut forms: Vec<String> = close.iter().map(|w| normalise(w)).collect();
        forms.dedup();
        if let ([_], Some(word)) = (forms.as_slice(), close.first()) {
            token.kind = Kind::Word {
                low: word.clone(),
                norm: normalise(word),
            };
        } else {
            alternatives[at] = forms;
        }
    }
    alternatives
}
