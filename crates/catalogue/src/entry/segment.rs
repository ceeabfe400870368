//! Tokens to parts: the longest known group wins, then times, numbers, units, small words.

use super::number::{self, Amount};
use super::tokens::{Kind, Token};
use super::unit::{self, Unit};
use super::when::{self, Time};
use super::{Hands, english, lexicon};
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
    /// "took it out": the thing before does not go in.
    Withdrawn,
    Adjective,
    /// "the", "some", "my": a thing with an amount of its own, though not said.
    Own,
    Cook,
    Put,
    Filler,
    Unknown,
    /// Known words in a longer group that is not known, and what they name.
    Doubt(Vec<String>),
}

/// A part and its tokens.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Part {
    pub(super) what: What,
    pub(super) from: usize,
    pub(super) to: usize,
}

/// Behind an amount these say that food was cooked and left, not that it was prepared: "2 mashed
/// carrots". What it is then is not known, unless the words list it.
const COOKED: &[&str] = &[
    "cooked", "boiled", "roasted", "baked", "steamed", "fried", "mashed",
];

pub(super) struct Scanner<'a> {
    pub(super) catalogue: &'a Catalogue,
    pub(super) hands: &'a Hands,
    pub(super) tokens: &'a [Token],
    pub(super) alternatives: &'a [Vec<String>],
    pub(super) chamber_at: &'a [Option<(String, usize)>],
}

impl Scanner<'_> {
    pub(super) fn norm(&self, at: usize) -> &str {
        self.tokens.get(at).map_or("", Token::norm)
    }
    pub(super) fn low(&self, at: usize) -> &str {
        self.tokens.get(at).map_or("", Token::low)
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
            // "half a tin of baked beans" names no dish that was made.
            let amount = matches!(
                all.last().map(|p| &p.what),
                Some(What::Of | What::Num(_) | What::Unit(_))
            );
            let what = match what {
                What::Cook if amount && COOKED.contains(&self.low(at)) => What::Unknown,
                other => other,
            };
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
        if let Some((unit, to)) = self.made_of(at, us) {
            return (What::Unit(unit), to);
        }
        // "scraped out the jam jar": the jam.
        if let Some(jar) = self.scraped(at)
            && let Some((thing, to)) = self.longest_before(at, jar)
        {
            return (What::Thing(thing), to);
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
                // "a bucket of windfall apples", though buckets of windfalls are listed.
                self.norm(to) == "of"
                    && rest.is_some_and(|(t, e)| e > *end || e == *end && t.may_be == thing.may_be)
            };
            // "a mower box full of grass": a vessel, though the box has a name of its own.
            let holds = |(_, end): &(Thing, usize)| *end <= to && to > at + 1;
            let vessel = self.norm(to) == "of" && longest.as_ref().is_some_and(holds);
            if vessel || longest.as_ref().is_some_and(same) {
                return (What::Unit(unit), to);
            }
        }
        if let Some((_, to)) = longest.as_ref()
            && self.plot(at, *to)
        {
            return (What::Filler, to + 1);
        }
        if words >= 2
            && let Some((thing, to)) = longest
        {
            return (What::Thing(thing), to);
        }
        let article = matches!(token.low(), "a" | "an");
        if article && unit::sized(self.tokens, at + 1, us).is_some() {
            return (What::Num(Amount::exact(1.0)), at + 1);
        }
        if let Some((unit, to)) = unit::sized(self.tokens, at, us) {
            return (What::Unit(unit), to);
        }
        if token.low() == "both" && unit::unit(self.tokens, at + 1, true, us).is_some() {
            return (What::Num(Amount::exact(2.0)), at + 1);
        }
        if !lexicon::is_x_alone(self.tokens, at)
            && let Some((amount, to)) = number::number(self.tokens, at)
        {
            return (What::Num(amount), to);
        }
        if let Some(found) = self.mark(at) {
            return found;
        }
        if let Some((unit, to)) = unit::unit(self.tokens, at, after_number, us) {
            // "two sticks of celery" counts; "sticks" alone is a thing of its own.
            let counted = matches!(unit, Unit::Count(_)) && longest.is_some();
            let source = self.source(at) && !matches!(unit, unit::Unit::Caddy(_));
            if source && !after_number && self.low(to) != "of" {
                return (What::Filler, to);
            }
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
            // Greens are a vegetable, green is a colour.
            let colour = token.low() == "green" && thing.words == "green";
            let part = colour || touching && self.norm(at) == "leaf" && thing.words == "leaf";
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
            _ => return self.talk(at),
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
        let plain = [lexicon::FILLER, lexicon::PLACE, lexicon::STORY]
            .iter()
            .any(|list| list.contains(&low) || list.contains(&norm));
        let slips = match self.alternatives.get(at) {
            Some(all) if !plain => all.as_slice(),
            _ => &[],
        };
        let has = |list: &[&str]| {
            list.contains(&low)
                || list.contains(&norm)
                || slips.iter().any(|s| list.contains(&s.as_str()))
        };
        let what = match low {
            "of" | "o" => What::Of,
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
            _ if has(lexicon::PART) => {
                let known = [norm].into_iter().chain(slips.iter().map(String::as_str));
                let mut parts = known.filter(|w| lexicon::PART.contains(w));
                What::Part(parts.next().unwrap_or(norm).to_owned())
            }
            _ if has(lexicon::ADJECTIVE) => What::Adjective,
            _ if english::ASIDE.contains(&low) => What::Filler,
            _ if has(lexicon::FILLER) || has(lexicon::PLACE) || has(lexicon::STORY) => What::Filler,
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
