//! The longest known group of words at a place.

use super::segment::{Scanner, Thing, thing};
use super::{lexicon, number};

/// Words between the content words of a group: "crusts off the bread".
const INNER: &[&str] = &[
    "the", "a", "an", "some", "of", "o", "off", "from", "my", "our", "out", "that", "in", "worth",
];

impl Scanner<'_> {
    fn thing(&self, words: &str) -> Option<Thing> {
        thing(self.catalogue, words)
    }

    /// The words of tokens `from..to` with `pick` choosing among alternatives, one group per choice.
    fn readings(&self, from: usize, to: usize, inner: bool) -> Vec<String> {
        let mut all = vec![String::new()];
        for at in from..to {
            let word = self.norm(at);
            let dropped = inner
                && at > from
                && at + 1 < to
                && (INNER.contains(&word) || lexicon::ADJECTIVE.contains(&word));
            if word.is_empty() || dropped {
                continue;
            }
            let choices = self.alternatives.get(at).filter(|a| !a.is_empty());
            let mut next = Vec::new();
            for start in &all {
                let mut add = |w: &str| {
                    let gap = if start.is_empty() { "" } else { " " };
                    next.push(format!("{start}{gap}{w}"));
                };
                match choices {
                    Some(words) => words.iter().for_each(|w| add(w)),
                    None => add(word),
                }
            }
            next.truncate(36);
            all = next;
        }
        all
    }

    /// One thing that all known readings agree on; words with slips must mean one material.
    fn settle(&self, readings: &[String]) -> Option<Thing> {
        let mut found: Vec<Thing> = readings.iter().filter_map(|w| self.thing(w)).collect();
        found.dedup_by(|a, b| a.may_be == b.may_be);
        if found.len() == 1 { found.pop() } else { None }
    }

    fn run_end(&self, at: usize) -> usize {
        let most = self.catalogue.longest_name().max(3) + 3;
        let mut end = at;
        while end < self.tokens.len() && end < at + most {
            let token = &self.tokens[end];
            let hyphen = token.is_mark('-') && token.glued && end > at;
            if token.norm().is_empty() && !hyphen || token.low() == "plus" || token.low() == "then"
            {
                break;
            }
            end += 1;
        }
        end
    }

    /// The group at `at` up to a vessel at `jar`, the vessel taken with it.
    pub(super) fn longest_before(&self, at: usize, jar: usize) -> Option<(Thing, usize)> {
        let (thing, to) = self.longest_to(at, jar)?;
        (to == jar).then_some((thing, jar + 1))
    }

    /// The longest group at `at` that names something.
    pub(super) fn longest(&self, at: usize) -> Option<(Thing, usize)> {
        self.longest_to(at, self.run_end(at))
    }

    fn longest_to(&self, at: usize, end: usize) -> Option<(Thing, usize)> {
        for to in (at + 1..=end).rev() {
            if self.norm(to - 1).is_empty() {
                continue;
            }
            if let Some(thing) = self.settle(&self.readings(at, to, false)) {
                if self.two_things(at, to, &thing) {
                    continue;
                }
                return Some((thing, to));
            }
            if let Some(thing) = self.two_of_a_kind(at, to) {
                return Some((thing, to));
            }
            let last = self.norm(to - 1);
            if to > at + 2 && !INNER.contains(&last) && !INNER.contains(&self.norm(at)) {
                if let Some(thing) = self.settle(&self.readings(at, to, true)) {
                    return Some((thing, to));
                }
                if let Some(thing) = self.part_first(at, to) {
                    return Some((thing, to));
                }
            }
        }
        None
    }

    /// "rice and curry" are two things, though the table lists them as one.
    fn two_things(&self, at: usize, to: usize, whole: &Thing) -> bool {
        let Some(and) = (at + 1..to.saturating_sub(1)).find(|&a| self.low(a) == "and") else {
            return false;
        };
        let of = |from, to| self.settle(&self.readings(from, to, false));
        let (Some(one), Some(two)) = (of(at, and), of(and + 1, to)) else {
            return false;
        };
        one.may_be.len() == 1
            && two.may_be.len() == 1
            && one.may_be != two.may_be
            && (one.may_be == whole.may_be || two.may_be == whole.may_be)
    }

    /// "onion and garlic skins" are skins of both, where both mean the same.
    fn two_of_a_kind(&self, at: usize, to: usize) -> Option<Thing> {
        if to != at + 4 || self.norm(at + 1) != "and" || !lexicon::PART.contains(&self.norm(at + 3))
        {
            return None;
        }
        let of = |word: &str| self.thing(&format!("{word} {}", self.norm(at + 3)));
        let (first, second) = (of(self.norm(at))?, of(self.norm(at + 2))?);
        (first.may_be == second.may_be && first.may_be.len() == 1).then_some(second)
    }

    /// "skins of potato" is "potato skins".
    fn part_first(&self, at: usize, to: usize) -> Option<Thing> {
        let known = lexicon::PART.contains(&self.norm(at));
        let mut of = at + 1;
        let mut parts = self.norm(at).to_owned();
        if self.norm(of) == "and" && lexicon::PART.contains(&self.norm(of + 1)) {
            parts = format!("{parts} and {}", self.norm(of + 1));
            of += 2;
        }
        // "fluff off the hoover" is hoover fluff, but "bag of leaves" is no leaf bag.
        let from = matches!(self.norm(of), "off" | "from" | "out");
        let of_it = known && matches!(self.norm(of), "of" | "o");
        if !(from || of_it) {
            return None;
        }
        let mut rest = of + 1;
        while rest < to
            && (INNER.contains(&self.norm(rest)) || lexicon::ADJECTIVE.contains(&self.norm(rest)))
        {
            rest += 1;
        }
        if rest >= to {
            return None;
        }
        let turned: Vec<String> = self
            .readings(rest, to, false)
            .iter()
            .map(|words| format!("{words} {parts}"))
            .collect();
        self.settle(&turned)
    }

    /// "peel of 4 carrots": the part, and the first token after "of".
    pub(super) fn part_of(&self, at: usize) -> Option<(String, usize)> {
        let part = self.norm(at);
        if !lexicon::PART.contains(&part) || part == "half" {
            return None;
        }
        let mut parts = part.to_owned();
        let mut of = at + 1;
        if self.norm(of) == "and" && lexicon::PART.contains(&self.norm(of + 1)) {
            parts = format!("{parts} and {}", self.norm(of + 1));
            of += 2;
        }
        if !matches!(self.norm(of), "of" | "o" | "off" | "from") {
            return None;
        }
        let mut next = of + 1;
        while matches!(self.norm(next), "the" | "some" | "my" | "our") {
            next += 1;
        }
        let follows = number::number(self.tokens, next).is_some() || self.longest(next).is_some();
        follows.then_some((parts, next))
    }
}
