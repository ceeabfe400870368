//! What people say around the things: asides, dictated stops, second thoughts, where it grew.

use super::segment::{Break, Scanner, What};
use super::{lexicon, number};

/// Plots and plants that a thing is taken from: "out of the raspberry bed".
const PLOT: &[&str] = &[
    "bed", "patch", "border", "plot", "row", "frame", "tunnel", "tree", "bush", "cage",
];

impl Scanner<'_> {
    /// Phrases of talk.
    pub(super) fn talk(&self, at: usize) -> Option<(What, usize)> {
        let (one, two, three) = (self.low(at), self.low(at + 1), self.low(at + 2));
        Some(match (one, two, three) {
            ("next", "door", _) | ("by", "mistake" | "accident", _) => (What::Filler, at + 2),
            ("hello" | "hi" | "hey" | "dear", "compost", _) => (What::Filler, at + 2),
            ("full", "stop", _) | ("new", "line", _) => (What::Break(Break::Line), at + 2),
            ("wee", ..) if !two.is_empty() && !lexicon::is_small(two) || two == "bit" => {
                (What::Adjective, at + 1)
            }
            ("ones", ..) => (What::Filler, at + 1),
            ("comma", ..) => (What::Break(Break::Comma), at + 1),
            ("im", "not", "sure") => (What::Filler, at + 3),
            ("not" | "wasnt" | "isnt" | "im", "sure", _) => (What::Filler, at + 2),
            ("game" | "movie" | "film" | "quiz", "night", _) => (What::Filler, at + 2),
            (
                "didnt" | "wouldnt" | "dont" | "wont",
                "touch" | "want" | "eat" | "like" | "finish" | "fancy",
                _,
            ) => (
                What::Filler,
                at + 2 + usize::from(matches!(three, "it" | "them" | "theirs" | "any")),
            ),
            (
                "took" | "fished" | "picked" | "pulled" | "got" | "taken" | "lifted" | "put",
                "it" | "them",
                "out" | "back",
            ) => (
                What::Withdrawn,
                at + 3 + usize::from(matches!(self.low(at + 3), "out" | "again")),
            ),
            ("binned" | "removed" | "rescued" | "retrieved", "it" | "them", _) => {
                (What::Withdrawn, at + 2)
            }
            (
                "fished" | "picked" | "taken" | "pulled" | "lifted" | "took" | "came" | "left",
                "out" | "back",
                _,
            ) if self.behind_stop(at) && self.stops(at + 2, three) => (What::Withdrawn, at + 2),
            ("removed" | "rescued" | "binned", ..)
                if self.behind_stop(at) && self.stops(at + 1, two) =>
            {
                (What::Withdrawn, at + 1)
            }
            ("didnt" | "doesnt" | "wont", "go" | "belong", _) if self.behind_stop(at) => {
                (What::Withdrawn, at + 2)
            }
            (
                "didnt" | "havent" | "hasnt" | "wont" | "dont" | "couldnt" | "wouldnt",
                "put" | "add" | "added" | "include" | "included" | "use",
                _,
            ) => (What::Not, at + 2),
            ("out", "of", "date") => (What::Filler, at + 3),
            ("past", "its" | "their" | "the", "best" | "date") => (What::Filler, at + 3),
            ("best", "before", _) | ("use" | "sell", "by", _) => (
                What::Filler,
                at + 2 + usize::from(matches!(three, "date" | "dates")),
            ),
            ("only", "used" | "put" | "added" | "tipped", _)
                if number::number(self.tokens, at + 2).is_some_and(|(n, _)| !n.article) =>
            {
                (What::Instead, at + 2)
            }
            _ => return self.story(at).or_else(|| self.taken_off(at)),
        })
    }

    /// A comma or "and", "but" before this verb: it is said of the thing before.
    fn behind_stop(&self, at: usize) -> bool {
        at.checked_sub(1).is_some_and(|b| {
            self.low(b).is_empty() && self.tokens[b].number().is_none()
                || matches!(
                    self.low(b),
                    "and" | "but" | "then" | "was" | "were" | "got" | "been" | "it" | "they" | "so"
                )
        })
    }

    fn stops(&self, at: usize, next: &str) -> bool {
        self.tokens
            .get(at)
            .is_none_or(|t| t.norm().is_empty() && t.number().is_none())
            || matches!(
                next,
                "again" | "and" | "later" | "straight" | "before" | "by"
            )
    }

    /// "with the tape pulled off", "labels removed": what is not in it.
    fn taken_off(&self, at: usize) -> Option<(What, usize)> {
        let mut next = at;
        while matches!(self.low(next), "with" | "the" | "all" | "any" | "its") {
            next += 1;
        }
        if !lexicon::WITHOUT.contains(&self.norm(next)) {
            return None;
        }
        next += 1;
        if matches!(
            self.low(next),
            "pulled"
                | "taken"
                | "peeled"
                | "ripped"
                | "torn"
                | "cut"
                | "picked"
                | "came"
                | "shaken"
                | "knocked"
                | "washed"
                | "scraped"
                | "brushed"
                | "rinsed"
        ) {
            next += 1;
        }
        matches!(self.low(next), "off" | "out" | "removed").then_some((What::Filler, next + 1))
    }

    /// "tea leaves from the pot": the vessel is where it was, not how much.
    pub(super) fn source(&self, at: usize) -> bool {
        let before = |back: usize| at.checked_sub(back).map_or("", |b| self.low(b));
        matches!(before(1), "the" | "my" | "our")
            && (matches!(before(2), "from" | "off") || before(2) == "of" && before(3) == "out")
    }

    /// Whether the thing at `at..to` only says where another one grew.
    pub(super) fn plot(&self, at: usize, to: usize) -> bool {
        let before = |back: usize| at.checked_sub(back).map_or("", |b| self.low(b));
        let led = matches!(before(1), "the" | "my" | "our" | "their" | "a")
            && (matches!(
                before(2),
                "from" | "off" | "in" | "by" | "near" | "under" | "around"
            ) || before(2) == "of" && before(3) == "out");
        led && PLOT.contains(&self.norm(to))
    }
}
