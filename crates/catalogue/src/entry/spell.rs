//! Slips of the finger: a word nobody knows, close to exactly one that is known.

use std::collections::{BTreeMap, HashMap};

use super::tokens::{Kind, Token};
use super::{english, lexicon, number, unit, when};
use crate::{Catalogue, normalise};

/// Every single word of the catalogue and of the grammar.
#[derive(Debug, Clone)]
pub(crate) struct Book {
    /// Each word with the number of groups it stands in.
    words: BTreeMap<String, usize>,
}

/// Most alternatives kept for one word.
const MOST: usize = 5;
/// A word in this many groups is no slip (choice).
const COMMON: usize = 4;

impl Book {
    fn of(catalogue: &Catalogue) -> Self {
        let mut words: BTreeMap<String, usize> = BTreeMap::new();
        for (group, _) in catalogue.words.iter() {
            for word in group.split(' ').filter(|w| w.len() > 1) {
                *words.entry(word.to_owned()).or_default() += 1;
            }
        }
        for word in catalogue.bought().iter().flat_map(|b| b.word.split(' ')) {
            *words.entry(word.to_owned()).or_default() += COMMON;
        }
        let grammar = [
            lexicon::FILLER,
            lexicon::STORY,
            lexicon::TALK,
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
        for word in grammar.iter().flat_map(|list| list.iter()) {
            *words.entry(normalise(word)).or_default() += COMMON;
            *words.entry((*word).to_owned()).or_default() += COMMON;
        }
        Self { words }
    }

    fn knows(&self, token: &Token) -> bool {
        english::is_plain(token.low())
            || self.words.contains_key(token.norm())
            || self.words.contains_key(token.low())
            || unit::is_unit_word(token.norm())
            || when::knows(token.low())
            || number::number(std::slice::from_ref(token), 0).is_some()
    }

    /// Those of the close words that stand in nearly as many groups as the most usual one.
    fn likely<'w>(&self, close: &'w [String]) -> Vec<&'w String> {
        let count = |w: &String| self.words.get(w).copied().unwrap_or(0);
        let most = close.iter().map(count).max().unwrap_or(0);
        close.iter().filter(|w| count(w) * 8 >= most).collect()
    }

    /// In how many groups it stands; few of them may mean a slip that was listed.
    fn groups(&self, token: &Token) -> usize {
        if english::is_plain(token.low()) {
            return 4 * COMMON;
        }
        let count = |w: &str| self.words.get(w).copied().unwrap_or(0);
        let most = count(token.norm()).max(count(token.low()));
        if token.low().len() >= 5 && most > 0 {
            most
        } else {
            usize::MAX
        }
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
        for word in self.words.keys() {
            let count = word.chars().count();
            if count < 3 || count.abs_diff(length) > most + 1 {
                continue;
            }
            let start = word.chars().next();
            let swapped = length > 4 && start == second && word.chars().nth(1) == first;
            if start != first && !swapped {
                continue;
            }
            if *word == low || *word == norm {
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

/// "grassclippings" is "grass clippings".
fn split(catalogue: &Catalogue, token: &Token) -> Option<String> {
    let word = token.norm();
    let ends = word
        .char_indices()
        .map(|(at, _)| at)
        .filter(|at| *at >= 3 && word.len() - at >= 3);
    ends.map(|at| format!("{} {}", &word[..at], &word[at..]))
        .find(|group| matches!(catalogue.find(group), crate::Found::One(_)))
}

fn same_letters(a: &str, b: &str) -> bool {
    let sorted = |s: &str| {
        let mut all: Vec<char> = s.chars().collect();
        all.sort_unstable();
        all
    };
    sorted(a) == sorted(b)
}

/// Whether the grammar knows the word as one that is no thing.
fn small(token: &Token) -> bool {
    [
        lexicon::ADJECTIVE,
        lexicon::FILLER,
        lexicon::STORY,
        lexicon::PLACE,
        lexicon::COOK,
    ]
    .iter()
    .any(|list| list.contains(&token.low()))
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
    ("pale", "pail"),
    ("hlaf", "half"),
    ("tow", "two"),
    ("adn", "and"),
    ("lst", "last"),
    ("teh", "the"),
    ("nite", "night"),
    ("ful", "full"),
    ("mornin", "morning"),
    ("twa", "two"),
    ("frae", "from"),
    ("wi", "with"),
    ("breid", "bread"),
];

/// Behind "from the" stands where it came from, which may be any word: "oil from the fryer".
fn origin(lows: &[String], norms: &[String], at: usize) -> bool {
    let [.., before, from, the] = &lows[..at] else {
        return false;
    };
    let part = norms[..at].iter().rev().nth(2);
    from == "from"
        && matches!(the.as_str(), "the" | "my" | "our")
        && !before.is_empty()
        && part.is_none_or(|p| !lexicon::PART.contains(&p.as_str()))
}

/// Replaces words that have one close neighbour; keeps several for the longest match to decide.
pub(super) fn correct(
    catalogue: &Catalogue,
    tokens: &mut [Token],
    keep: &[bool],
) -> Vec<Vec<String>> {
    let mut seen: HashMap<String, Vec<String>> = HashMap::new();
    let mut alternatives = vec![Vec::new(); tokens.len()];
    let numbers: Vec<bool> = tokens
        .iter()
        .map(|t| number::number(std::slice::from_ref(t), 0).is_some())
        .collect();
    let lows: Vec<String> = tokens.iter().map(|t| t.low().to_owned()).collect();
    let norms: Vec<String> = tokens.iter().map(|t| t.norm().to_owned()).collect();
    for (at, token) in tokens.iter_mut().enumerate() {
        let counted = at > 0 && numbers[at - 1];
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
        let book = catalogue.book.get_or_init(|| Book::of(catalogue));
        if !book.knows(token) && origin(&lows, &norms, at) {
            continue;
        }
        if !book.knows(token) {
            if let Some(group) = split(catalogue, token) {
                let (low, norm) = (group.clone(), group);
                token.kind = Kind::Word { low, norm };
                continue;
            }
        } else if book.groups(token) < 4 * COMMON && !small(token) {
            // A slip that the catalogue lists on its own may also stand in a longer group.
            let many = 3 * book.groups(token).max(2);
            let common = |w: &String| book.words.get(w).is_some_and(|n| *n >= many);
            let close = book.close(token).into_iter().filter(common);
            let own = [token.norm().to_owned()];
            let mut forms: Vec<String> = own
                .into_iter()
                .chain(close.map(|w| normalise(&w)))
                .collect();
            forms.dedup();
            if forms.len() > 1 {
                alternatives[at] = forms;
            }
            continue;
        } else {
            continue;
        }
        let close = seen
            .entry(token.low().to_owned())
            .or_insert_with(|| book.close(token))
            .clone();
        let mut forms: Vec<String> = Vec::new();
        for word in book.likely(&close) {
            let form = normalise(word);
            if !forms.contains(&form) {
                forms.push(form);
            }
        }
        // "a colander of peas": a vessel is no herb with a slip.
        let holds = counted && lows.get(at + 1).is_some_and(|w| w == "of");
        let unit = close
            .iter()
            .find(|w| counted && unit::is_unit_word(&normalise(w)));
        if let Some(word) = unit {
            token.kind = Kind::Word {
                low: word.clone(),
                norm: normalise(word),
            };
        } else if holds {
            continue;
        } else if let ([_], Some(word)) = (
            forms.as_slice(),
            close.iter().find(|w| forms.contains(&normalise(w))),
        ) {
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
