//! A thing inside a longer group of nouns is another thing: "bread flour", "coffee table".
//!
//! A known group with a word nobody knows right before or behind it, or with a second material right
//! behind it, is taken back, so that it is asked about and not read as the part that is known.

use super::lexicon;
use super::segment::{Part, Thing, What};
use super::tokens::Token;

/// Places that make another thing of the word behind them: "table salt", "log basket", "roast potatoes".
const NOT_BEFORE: &[&str] = &[
    "roast", "crumble", "log", "fire", "tea", "table", "pan", "pot", "bin", "bowl", "basket",
    "plate", "barbecue", "counter", "burner", "sink", "party",
];
/// Places and vessels that a thing in front makes into something else: "coffee table", "bread bin".
const NOT_BEHIND: &[&str] = &[
    "bed", "bin", "basket", "bowl", "table", "pan", "plate", "drawer", "cupboard", "shop",
    "market", "patch", "border", "field", "plot", "party", "fryer", "juicer", "grinder", "burner",
    "crumble", "roast", "freezer", "house", "vase", "drive",
];

/// Taken back where the nouns around a thing make it doubtful.
pub(super) fn doubt(tokens: &[Token], parts: Vec<Part>) -> Vec<Part> {
    let mut all: Vec<Part> = Vec::with_capacity(parts.len());
    for at in 0..parts.len() {
        let part = &parts[at];
        let run = run(&parts, at);
        let Some(last) = all.last_mut() else {
            all.push(part.clone());
            continue;
        };
        let joined = match (&last.what, &part.what) {
            (What::Unknown, What::Thing(thing)) if word(tokens, last) && !named(tokens, last) => {
                Some(thing.may_be.clone())
            }
            (What::Doubt(ids), What::Thing(thing)) if last.to == part.from && run == 1 => {
                Some(both(ids, &thing.may_be))
            }
            (What::Doubt(ids), What::Unit(_)) => Some(ids.clone()),
            (What::Doubt(ids), What::Unknown) if word(tokens, part) => Some(ids.clone()),
            (What::Thing(thing), What::Unknown) if word(tokens, part) => {
                let low = tokens[part.from].low();
                let done = low.ends_with("ed") || low.ends_with("ing");
                (!done || !plural(tokens, last)).then(|| thing.may_be.clone())
            }
            (What::Thing(one), What::Thing(two)) if run == 2 => {
                // "fish and chip paper".
                let pair = one.words.contains(" and ") && !plural(tokens, last);
                if pair && !two.words.contains(' ') {
                    (last.what, last.to) = (What::Doubt(both(&one.may_be, &two.may_be)), part.to);
                    continue;
                }
                compound(tokens, last, one, two).then(|| both(&one.may_be, &two.may_be))
            }
            (What::Thing(thing), What::Filler) => {
                let place = NOT_BEHIND.contains(&tokens[part.from].norm());
                // "from the chip pan": a place, whatever it is named after.
                if place && part.to == part.from + 1 && from_the(tokens, last.from) {
                    (last.what, last.to) = (What::Filler, part.to);
                    continue;
                }
                (place && part.to == part.from + 1 && !plural(tokens, last))
                    .then(|| thing.may_be.clone())
            }
            (What::Filler, What::Thing(thing)) => {
                let place = NOT_BEFORE.contains(&tokens[last.from].norm());
                let led = last.from.checked_sub(1).is_some_and(|b| leads(&tokens[b]));
                (place && last.to == last.from + 1 && !led).then(|| thing.may_be.clone())
            }
            _ => None,
        };
        match joined {
            Some(ids) => {
                (last.what, last.to) = (What::Doubt(ids), part.to);
                paired(tokens, &mut all);
            }
            None => all.push(part.clone()),
        }
    }
    all
}

/// Whether a small word of place and an article stand before this token.
fn from_the(tokens: &[Token], at: usize) -> bool {
    let low = |back: usize| at.checked_sub(back).map_or("", |b| tokens[b].low());
    matches!(low(1), "the" | "my" | "our" | "a" | "their")
        && matches!(
            low(2),
            "from" | "off" | "of" | "in" | "on" | "under" | "by" | "near"
        )
}

/// How many things stand side by side up to this one and behind it, without a mark or a small word.
fn run(parts: &[Part], at: usize) -> usize {
    let thing = |p: &&Part| matches!(p.what, What::Thing(_));
    let before = parts[..at].iter().rev().take_while(thing).count();
    before + parts[at..].iter().take_while(thing).count()
}

fn word(tokens: &[Token], part: &Part) -> bool {
    tokens.get(part.from).is_some_and(|t| t.low().len() > 2)
}

/// "Dave's apples": whose they are, not what.
fn named(tokens: &[Token], part: &Part) -> bool {
    part.to == part.from + 1 && tokens[part.from].owns
}

/// "from the table leaves": a place behind a small word says where.
fn leads(token: &Token) -> bool {
    matches!(
        token.low(),
        "the" | "my" | "our" | "from" | "off" | "in" | "on" | "at" | "a" | "an" | "their" | "your"
    )
}

fn plural(tokens: &[Token], part: &Part) -> bool {
    tokens
        .get(part.to.saturating_sub(1))
        .is_some_and(|t| t.low() != t.norm())
}

/// "salmon bread": one word in the singular in front of another. A list says "apples bread", "coffee
/// grounds bread", or more than two.
fn compound(tokens: &[Token], first: &Part, one: &Thing, two: &Thing) -> bool {
    let same = one.may_be.iter().all(|id| two.may_be.contains(id));
    let part = lexicon::PART.contains(&one.words.as_str());
    !same && !part && !one.words.contains(' ') && !two.words.contains(' ') && !plural(tokens, first)
}

fn both(one: &[String], two: &[String]) -> Vec<String> {
    let mut ids = one.to_vec();
    ids.extend(two.iter().cloned());
    ids.dedup();
    ids
}

/// "chicken and mushroom pie": a bare singular before "and" belongs to the doubtful group behind it.
fn paired(tokens: &[Token], all: &mut Vec<Part>) {
    let [.., one, and, group] = all.as_slice() else {
        return;
    };
    let (What::Thing(thing), What::Doubt(ids)) = (&one.what, &group.what) else {
        return;
    };
    let joined = tokens[and.from].low() == "and" || tokens[and.from].is_mark('&');
    let touches = one.to == and.from && and.to == group.from && and.to == and.from + 1;
    if !joined || !touches || thing.words.contains(' ') || plural(tokens, one) {
        return;
    }
    let whole = Part {
        what: What::Doubt(both(&thing.may_be, ids)),
        from: one.from,
        to: group.to,
    };
    all.truncate(all.len() - 3);
    all.push(whole);
}
