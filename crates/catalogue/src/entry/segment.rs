//! Tokens to parts: the longest known group wins, then times, numbers, units, small words.

use super::number::{self, Amount};
use super::tokens::{Kind, Token};
use super::unit::{self, Unit};
use super::when::{self, Time};
use super::{Hands, lexicon};
use crate::{Catalogue, Found};

/// Words that name a material, or several.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Thing {
    /// Ids of what it may be.
    pub(super) may_be: Vec<String>,
    /// The words in catalogue form.
    pub(super) words: String,
}

/// What parts items from each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Break {
    Comma,
    And,
    With,
    Colon,
    Line,
}

/// What a run of tokens is.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum What {
    Num(Amount),
    Unit(Unit),
    Of,
    Thing(Thing),
    When(Time),
    Chamber(String),
    Break(Break),
    /// "peel of", "tops off": part of the thing that follows.
    PartOf(String),
    /// A part whose plant was named before: "and their stones".
    Part(String),
    Not,
    /// "no wait", "I mean".
    Instead,
    Adjective,
    /// "the", "some", "my": a thing with an amount of its own, though not said.
    Own,
    Cook,
    Put,
    Filler,
    Unknown,
}

/// A part and its tokens.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Part {
    pub(super) what: What,
    pub(super) from: usize,
    pub(super) to: usize,
}

/// Words between the content words of a group: "crusts off the bread".
const INNER: &[&str] = &[
    "the", "a", "an", "some", "of", "off", "from", "my", "our", "out", "that", "in", "worth",
];

pub(super) struct Scanner<'a> {
    pub(super) catalogue: &'a Catalogue,
    pub(super) hands: &'a Hands,
    pub(super) tokens: &'a [Token],
    pub(super) alternatives: &'a [Vec<String>],
    pub(super) chamber_at: &'a [Option<(String, usize)>],
}

impl Scanner<'_> {
    fn norm(&self, at: usize) -> &str {
        self.tokens.get(at).map_or("", Token::norm)
    }
    fn low(&self, at: usize) -> &str {
        self.tokens.get(at).map_or("", Token::low)
    }

    pub(super) fn thing(&self, words: &str) -> Option<Thing> {
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

    /// The longest group at `at` that names something.
    fn longest(&self, at: usize) -> Option<(Thing, usize)> {
        let end = self.run_end(at);
        for to in (at + 1..=end).rev() {
            if self.norm(to - 1).is_empty() {
                continue;
            }
            if let Some(thing) = self.settle(&self.readings(at, to, false)) {
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

    /// "skins of potato" is "potato skins".
    fn part_first(&self, at: usize, to: usize) -> Option<Thing> {
        if !lexicon::PART.contains(&self.norm(at)) {
            return None;
        }
        let mut of = at + 1;
        let mut parts = self.norm(at).to_owned();
        if self.norm(of) == "and" && lexicon::PART.contains(&self.norm(of + 1)) {
            parts = format!("{parts} and {}", self.norm(of + 1));
            of += 2;
        }
        if !matches!(self.norm(of), "of" | "off" | "from" | "out") {
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
    fn part_of(&self, at: usize) -> Option<(String, usize)> {
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
        if !matches!(self.norm(of), "of" | "off" | "from") {
            return None;
        }
        let mut next = of + 1;
        while matches!(self.norm(next), "the" | "some" | "my" | "our") {
            next += 1;
        }
        let follows = number::number(self.tokens, next).is_some() || self.longest(next).is_some();
        follows.then_some((parts, next))
    }

    /// All parts, in order, every token in exactly one.
    pub(super) fn parts(&self) -> Vec<Part> {
        let mut all: Vec<Part> = Vec::new();
        let mut at = 0;
        while at < self.tokens.len() {
            let after_number = matches!(
                all.last(),
                Some(Part {
                    what: What::Num(_),
                    ..
                })
            ) || self.sized_gap(&all);
            let touching = matches!(
                all.last(),
                Some(Part {
                    what: What::Thing(_),
                    ..
                })
            );
            let (what, to) = self.part(at, after_number, touching);
            let to = to.clamp(at + 1, self.tokens.len());
            // "made a big curry with": the dish is not what goes in.
            let made = what == What::Cook && lexicon::MADE.contains(&self.low(at));
            all.push(Part { what, from: at, to });
            at = to;
            if made {
                let end = self.dish(at);
                if end > at {
                    all.push(Part {
                        what: What::Filler,
                        from: at,
                        to: end,
                    });
                    at = end;
                }
            }
        }
        all
    }

    /// A number, then only a size ("2 big handfuls").
    fn sized_gap(&self, all: &[Part]) -> bool {
        let mut back = all.iter().rev();
        matches!(
            back.next(),
            Some(Part {
                what: What::Adjective,
                ..
            })
        ) && matches!(
            back.next(),
            Some(Part {
                what: What::Num(_),
                ..
            })
        )
    }

    fn dish(&self, at: usize) -> usize {
        let mut end = at;
        while end < self.tokens.len() {
            let token = &self.tokens[end];
            let stop = token.norm().is_empty() && !(token.is_mark('-') && token.glued)
                || matches!(
                    token.low(),
                    "with" | "so" | "from" | "using" | "plus" | "then" | "coffee" | "tea"
                )
                || end > at
                    && !matches!(token.low(), "a" | "an")
                    && number::number(self.tokens, end).is_some()
                || when::when(self.tokens, end, self.hands.us).is_some();
            if stop {
                break;
            }
            end += 1;
        }
        end
    }

    fn part(&self, at: usize, after_number: bool, touching: bool) -> (What, usize) {
        let token = &self.tokens[at];
        let us = self.hands.us;
        if let Some((name, to)) = self.chamber_at.get(at).and_then(Option::as_ref) {
            return (What::Chamber(name.clone()), *to);
        }
        if let Some((time, to)) = when::when(self.tokens, at, us) {
            return (What::When(time), to);
        }
        if let Some(found) = self.phrase(at) {
            return found;
        }
        let longest = if token.norm().is_empty() {
            None
        } else {
            self.longest(at)
        };
        let words = longest.as_ref().map_or(0, |(_, to)| to - at);
        // "spent tea leaves" are tea leaves, not spent tea; "leftover coleslaw" is coleslaw.
        if lexicon::ADJECTIVE.contains(&token.low()) {
            let behind = self.longest(at + 1).map(|(_, to)| to);
            let next = self.norm(at + 1);
            let leads = words == 1 && !next.is_empty() && !lexicon::is_small(next);
            if behind.is_some_and(|to| to > at + words) || leads {
                return (What::Adjective, at + 1);
            }
        }
        // "a bag of leaves": an amount first, even where the table lists the group.
        if let Some((unit, to)) = unit::unit(self.tokens, at, after_number, us) {
            let same = |(thing, end): &(Thing, usize)| {
                let rest = self.longest(to + 1);
                self.norm(to) == "of"
                    && rest.is_some_and(|(t, e)| e == *end && t.may_be == thing.may_be)
            };
            if longest.as_ref().is_some_and(same) {
                return (What::Unit(unit), to);
            }
        }
        if words >= 2 {
            if let Some((thing, to)) = longest {
                return (What::Thing(thing), to);
            }
        }
        if let Some((unit, to)) = unit::sized(self.tokens, at, us) {
            return (What::Unit(unit), to);
        }
        if !lexicon::is_x_alone(self.tokens, at) {
            if let Some((amount, to)) = number::number(self.tokens, at) {
                return (What::Num(amount), to);
            }
        }
        if let Some(found) = self.mark(at) {
            return found;
        }
        if let Some((unit, to)) = unit::unit(self.tokens, at, after_number, us) {
            // "two sticks of celery" counts; "sticks" alone is a thing of its own.
            let counted = matches!(unit, Unit::Count(_)) && longest.is_some();
            // "broccoli stalk" is a part of it, "4 stalks of broccoli" a count.
            let part = touching && lexicon::PART.contains(&token.norm());
            if !part && (!counted || after_number || matches!(self.norm(to), "of" | "from")) {
                return (What::Unit(unit), to);
            }
        }
        if let Some((parts, to)) = self.part_of(at) {
            return (What::PartOf(parts), to);
        }
        if let Some((thing, to)) = longest {
            let part = touching && self.norm(at) == "leaf" && thing.words == "leaf";
            if !matches!(token.low(), "down" | "like") && !part {
                return (What::Thing(thing), to);
            }
        }
        self.small(at)
    }

    /// Short phrases that mean one thing together.
    fn phrase(&self, at: usize) -> Option<(What, usize)> {
        let three = (self.low(at), self.low(at + 1), self.low(at + 2));
        Some(match three {
            ("on", "top", _) => (What::Filler, at + 2),
            // A meal is where it came from, not what it is.
            (
                "sunday" | "xmas" | "christmas" | "thanksgiving" | "easter" | "for",
                "roast" | "dinner" | "lunch" | "breakfast" | "tea" | "supper",
                _,
            ) => (What::Filler, at + 2),
            ("veg" | "vegetable" | "salad" | "fruit", "drawer" | "rack" | "box", _) => {
                (What::Filler, at + 2)
            }
            ("leftovers" | "scraps", ..)
                if self.tokens.get(at + 1).is_some_and(|t| t.is_mark(':')) =>
            {
                (What::Filler, at + 1)
            }
            ("dog" | "cat" | "hair" | "pet", "brush", _) => (What::Filler, at + 2),
            ("for", ..) if self.guests(at + 1) => (What::Filler, at + 2),
            ("let", "me", "think") | ("made", "up", "of") => (What::Filler, at + 3),
            ("no" | "sorry" | "actually", "wait" | "sorry", _)
            | ("make" | "scratch", "that", _) => (What::Instead, at + 2),
            ("i", "mean", _) => (What::Instead, at + 2),
            ("wait" | "actually", ..) => (What::Instead, at + 1),
            ("as", "well", _) | ("at", "least", _) => (What::Filler, at + 2),
            ("last", "years" | "weeks", _) => (What::Filler, at + 2),
            ("bit" | "load" | "loads" | "lot" | "lots" | "rest" | "last" | "amount", "of", _) => {
                (What::Own, at + 2)
            }
            _ => return None,
        })
    }

    /// "dinner for eight": people, not an amount.
    fn guests(&self, at: usize) -> bool {
        number::number(self.tokens, at).is_some_and(|(amount, to)| {
            !amount.article && self.tokens.get(to).is_none_or(|t| t.norm().is_empty())
        })
    }

    fn mark(&self, at: usize) -> Option<(What, usize)> {
        Some(match self.tokens[at].kind {
            Kind::Mark(',' | ';') if self.low(at + 1) == "and" => {
                (What::Break(Break::Comma), at + 2)
            }
            Kind::Mark(',') => (What::Break(Break::Comma), at + 1),
            Kind::Mark(';' | '.') => (What::Break(Break::Line), at + 1),
            Kind::Mark(':') => (What::Break(Break::Colon), at + 1),
            Kind::Mark('+' | '&') => (What::Break(Break::And), at + 1),
            Kind::Mark('-') if !self.tokens[at].glued => (What::Break(Break::Comma), at + 1),
            Kind::Mark(_) => (What::Filler, at + 1),
            Kind::Symbol => (What::Unknown, at + 1),
            _ => return None,
        })
    }

    fn small(&self, at: usize) -> (What, usize) {
        let (low, norm) = (self.low(at), self.norm(at));
        let slips = self.alternatives.get(at).map_or(&[][..], Vec::as_slice);
        let has = |list: &[&str]| {
            list.contains(&low)
                || list.contains(&norm)
                || slips.iter().any(|s| list.contains(&s.as_str()))
        };
        let what = match low {
            "of" => What::Of,
            "w" if self.tokens.get(at + 1).is_some_and(|t| t.is_mark('/')) => {
                return (What::Break(Break::With), at + 2);
            }
            "with" => What::Break(Break::With),
            "then" | "plus" => What::Put,
            "the" | "some" | "my" | "our" | "their" | "its" => What::Own,
            _ if has(lexicon::JOINT) => What::Break(Break::And),
            _ if has(lexicon::NOT) => What::Not,
            _ if has(lexicon::COOK) || has(lexicon::MADE) && !matches!(low, "did" | "make") => {
                What::Cook
            }
            "did" if self.dish(at + 1) > at + 1 => What::Cook,
            _ if has(lexicon::PUT) => What::Put,
            _ if has(lexicon::PART) => What::Part(norm.to_owned()),
            _ if has(lexicon::ADJECTIVE) => What::Adjective,
            _ if has(lexicon::FILLER) || has(lexicon::PLACE) => What::Filler,
            _ => What::Unknown,
        };
        (what, at + 1)
    }
}

/// What these words name, if anything.
pub(super) fn thing(catalogue: &Catalogue, words: &str) -> Option<Thing> {
    let may_be = match catalogue.find(words) {
        Found::One(material) => vec![material.id.clone()],
        Found::Several(all) => all.iter().map(|m| m.id.clone()).collect(),
        Found::Nothing => return None,
    };
    Some(Thing {
        may_be,
        words: words.to_owned(),
    })
}
