//! Words as people type them, brought to one form, and the index over them.

use std::borrow::Cow;
use std::collections::HashMap;

/// Lower case, accents off, punctuation to spaces, each word singular, single spaces.
pub fn normalise(text: &str) -> String {
    form(text).into_owned()
}

/// As [`normalise`]; text that is in that form already is lent, which most of the tables are.
fn form(text: &str) -> Cow<'_, str> {
    let plain_ascii = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit();
    if !text.is_empty()
        && text
            .split(' ')
            .all(|w| !w.is_empty() && w.bytes().all(plain_ascii) && one(w) == w)
    {
        return Cow::Borrowed(text);
    }
    Cow::Owned(formed(text))
}

fn formed(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            'A'..='Z' => plain.push(c.to_ascii_lowercase()),
            'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' | 'À' | 'Á' | 'Â' | 'Ä' => plain.push('a'),
            'è' | 'é' | 'ê' | 'ë' | 'È' | 'É' | 'Ê' => plain.push('e'),
            'ì' | 'í' | 'î' | 'ï' => plain.push('i'),
            'ò' | 'ó' | 'ô' | 'õ' | 'ö' | 'Ö' => plain.push('o'),
            'ù' | 'ú' | 'û' | 'ü' | 'Ü' => plain.push('u'),
            'ñ' => plain.push('n'),
            'ç' | 'Ç' => plain.push('c'),
            // An apostrophe joins: "brewer's" and "brewers" are one word.
            '\'' | '’' | '‘' => {}
            c if c.is_alphanumeric() => plain.extend(c.to_lowercase()),
            _ => plain.push(' '),
        }
    }
    plain
        .split_whitespace()
        .map(one)
        .collect::<Vec<_>>()
        .join(" ")
}

/// The singular of one lower-case English word; words that only look plural are left alone.
pub fn singular(word: &str) -> String {
    one(word).into_owned()
}

fn one(word: &str) -> Cow<'_, str> {
    const KEEP: &[&str] = &[
        "grass",
        "moss",
        "cress",
        "watercress",
        "asparagus",
        "citrus",
        "couscous",
        "hummus",
        "molasses",
        "compress",
        "less",
        "mess",
        "glass",
        "brussels",
        "swiss",
        "plus",
        "bus",
        "gas",
        "as",
        "this",
        "is",
        "was",
        "us",
        "yes",
        "cactus",
        "octopus",
        "hibiscus",
        "eucalyptus",
        "virus",
        "gladiolus",
        "narcissus",
        "crocus",
        "lotus",
        "minus",
        "bass",
        "press",
        "chaos",
        "dress",
        "leylandii",
    ];
    // Every rule below is about one of these endings.
    if word.len() < 4 || !word.ends_with(['s', 'i', 'e']) || KEEP.contains(&word) {
        return Cow::Borrowed(word);
    }
    let whole = match word {
        "leaves" => "leaf",
        "loaves" => "loaf",
        "halves" => "half",
        "knives" => "knife",
        "calves" => "calf",
        "shelves" => "shelf",
        "mice" => "mouse",
        "geese" => "goose",
        "cookies" => "cookie",
        "pies" => "pie",
        "veggies" => "veggie",
        "smoothies" => "smoothie",
        "brownies" => "brownie",
        "cacti" => "cactus",
        "fungi" => "fungus",
        "chillies" | "chilies" => "chilli",
        "potatoes" => "potato",
        "tomatoes" => "tomato",
        "mangoes" => "mango",
        "avocadoes" => "avocado",
        _ => "",
    };
    if !whole.is_empty() {
        return Cow::Borrowed(whole);
    }
    if let Some(stem) = word.strip_suffix("ies") {
        return Cow::Owned(format!("{stem}y"));
    }
    for end in ["sses", "shes", "ches", "xes", "zes"] {
        if word.ends_with(end) {
            return Cow::Borrowed(&word[..word.len() - 2]);
        }
    }
    if word.ends_with('s')
        && !word.ends_with("ss")
        && !word.ends_with("us")
        && !word.ends_with("is")
    {
        return Cow::Borrowed(&word[..word.len() - 1]);
    }
    Cow::Borrowed(word)
}

/// Normalised word groups and the materials they may mean.
#[derive(Debug, Clone, Default)]
pub(crate) struct Words {
    to: HashMap<Cow<'static, str>, Vec<usize>>,
    longest: usize,
}

impl Words {
    pub(crate) fn add(&mut self, word: Cow<'static, str>, material: usize) {
        let word = match word {
            Cow::Borrowed(word) => form(word),
            Cow::Owned(word) => Cow::Owned(normalise(&word)),
        };
        if word.is_empty() {
            return;
        }
        self.longest = self.longest.max(word.split(' ').count());
        let to = self.to.entry(word).or_default();
        if !to.contains(&material) {
            to.push(material);
        }
    }

    /// Room for this many more groups.
    pub(crate) fn reserve(&mut self, groups: usize) {
        self.to.reserve(groups);
    }

    /// Replaces what a word means: the household's own name outranks the catalogue's.
    pub(crate) fn shadow(&mut self, word: &str, material: usize) {
        let word = normalise(word);
        self.longest = self.longest.max(word.split(' ').count());
        self.to.insert(Cow::Owned(word), vec![material]);
    }

    pub(crate) fn get(&self, normalised: &str) -> &[usize] {
        self.to.get(normalised).map_or(&[], Vec::as_slice)
    }

    pub(crate) fn iter(&self) -> impl Iterator<Item = (&str, &[usize])> {
        self.to
            .iter()
            .map(|(word, to)| (word.as_ref(), to.as_slice()))
    }

    /// Words in the longest group.
    pub(crate) fn longest(&self) -> usize {
        self.longest
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_form_for_many_spellings() {
        for (said, form) in [
            ("Banana Peels", "banana peel"),
            ("dry LEAVES", "dry leaf"),
            ("crème-fraîche", "creme fraiche"),
            ("brewer's grains", "brewer grain"),
            ("grass", "grass"),
            ("berries", "berry"),
            ("radishes", "radish"),
            ("loo-roll tubes!", "loo roll tube"),
        ] {
            assert_eq!(normalise(said), form);
        }
    }
}
