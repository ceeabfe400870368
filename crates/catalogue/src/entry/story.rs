//! Clauses around a thing that change nothing about what goes in: how it has gone, who left it, what
//! crawls in it, what it was scraped out of.

use super::lexicon;
use super::segment::{Scanner, What};
use super::unit;

/// Words between "gone" and the state.
const RATHER: &[&str] = &[
    "a",
    "bit",
    "all",
    "very",
    "quite",
    "rather",
    "really",
    "too",
    "so",
    "slightly",
    "little",
    "completely",
    "totally",
    "a",
    "tad",
    "well",
    "past",
];
/// States of things that do not end in -y, -ed, -ing, -ish.
const STATE: &[&str] = &[
    "off", "bad", "soft", "hard", "brown", "black", "green", "yellow", "limp", "sour", "stale",
    "flat", "over", "rotten", "rancid", "wrong", "marrow", "cold", "mush", "pulp", "slime",
    "woolly", "bitter", "wooden", "waste", "seed", "brittle", "crisp", "grey", "gray", "white",
    "blue",
];
/// Small animals and moulds that come with old food; they are no item.
const GUESTS: &[&str] = &[
    "weevil",
    "maggot",
    "fly",
    "bug",
    "ant",
    "worm",
    "slug",
    "snail",
    "mould",
    "mold",
    "moth",
    "mite",
    "aphid",
    "wasp",
    "earwig",
    "woodlouse",
    "caterpillar",
    "grub",
    "beetle",
    "greenfly",
    "blackfly",
    "whitefly",
    "spider",
    "fluff",
    "fur",
    "hole",
];
/// Who leaves, brings or does not eat things.
const WHO: &[&str] = &[
    "cat",
    "dog",
    "kid",
    "husband",
    "wife",
    "toddler",
    "baby",
    "mum",
    "mom",
    "dad",
    "nan",
    "gran",
    "grandad",
    "son",
    "daughter",
    "partner",
    "flatmate",
    "neighbour",
    "neighbor",
    "children",
    "child",
    "boy",
    "girl",
    "lodger",
    "guest",
    "lad",
    "he",
    "she",
    "they",
    "we",
    "i",
    "bird",
    "mouse",
    "squirrel",
    "pigeon",
    "slug",
    "everyone",
    "somebody",
    "someone",
];
const LEFT: &[&str] = &[
    "brought",
    "left",
    "dropped",
    "dragged",
    "caught",
    "killed",
    "found",
    "rejected",
    "spat",
    "dug",
    "refused",
    "abandoned",
    "ignored",
    "picked",
    "forgot",
    "missed",
    "got",
    "had",
    "bought",
];
/// Verbs of taking out what is in a vessel.
const SCRAPED: &[&str] = &[
    "scraped", "emptied", "rinsed", "cleaned", "cleared", "tipped", "washed", "poured", "finished",
    "dumped", "shook", "knocked", "clean", "clear", "mucked", "muck",
];
/// Vessels and rooms that are emptied and do not go in.
const EMPTIED: &[&str] = &[
    "teapot",
    "cafetiere",
    "kettle",
    "fridge",
    "freezer",
    "cupboard",
    "larder",
    "pantry",
    "drawer",
    "grate",
    "stove",
    "woodburner",
    "burner",
    "hutch",
    "gutter",
    "greenhouse",
    "shed",
    "vase",
    "lunchbox",
    "coop",
    "henhouse",
    "hen",
    "run",
    "cage",
    "stable",
    "pond",
    "sink",
    "machine",
    "filter",
    "strainer",
    "toaster",
    "juicer",
    "garage",
    "loft",
    "border",
    "allotment",
    "polytunnel",
];
/// Vessels that food comes in.
const VESSEL: &[&str] = &[
    "jar", "tub", "pot", "bottle", "carton", "tin", "can", "packet", "pan", "bowl", "tray", "box",
    "bag", "punnet", "pouch", "jug", "tube", "pack", "dish",
];

impl Scanner<'_> {
    /// Clauses of the story.
    pub(super) fn story(&self, at: usize) -> Option<(What, usize)> {
        let (one, two, three) = (self.low(at), self.low(at + 1), self.low(at + 2));
        let fill = |to| Some((What::Filler, to));
        match (one, two, three) {
            ("left", "over", _) => {
                let alone = self.ends(at + 2) || matches!(three, "from" | "after");
                let named = at > 0 && !self.ends(at - 1);
                return match (alone, named) {
                    (true, true) => fill(at + 2),
                    (false, _) => Some((What::Adjective, at + 2)),
                    _ => None,
                };
            }
            ("gone" | "went" | "going" | "turned" | "turning" | "getting", ..) => {
                return self.state(at);
            }
            (
                "nobody" | "noone",
                "wanted" | "ate" | "touched" | "liked" | "finished" | "eats" | "wants" | "likes"
                | "fancied",
                _,
            ) => {
                return fill(at + 2);
            }
            (
                "no",
                "one",
                "wanted" | "ate" | "touched" | "liked" | "finished" | "eats" | "wants" | "likes"
                | "fancied",
            ) => {
                return fill(at + 3);
            }
            ("says" | "saying" | "labelled" | "labeled" | "marked", ..) => {
                let mut to = at + 1;
                while to < at + 5 && !self.ends(to) && !matches!(self.low(to), "and" | "on") {
                    to += 1;
                }
                return match (self.low(to), self.low(to + 1)) {
                    ("on", "it" | "them") => fill(to + 2),
                    ("on", "the") => fill(to + 3),
                    _ => None,
                };
            }
            ("seen", "better", "days") | ("past", "its" | "their", "best" | "prime") => {
                return fill(at + 3);
            }
            ("on", "the", "turn") => return fill(at + 3),
            ("in", "all", _) | ("all", "told", _) | ("or", "so", _) if self.ends(at + 2) => {
                return fill(at + 2);
            }
            _ => {}
        }
        if matches!(one, "with" | "full" | "covered" | "crawling" | "riddled") {
            return self.guests_in(at);
        }
        // "leaves and all".
        if two == "and" && three == "all" && self.ends(at + 3) && at > 0 {
            let part =
                lexicon::PART.contains(&self.norm(at)) || matches!(one, "soil" | "mud" | "all");
            return part.then_some((What::Filler, at + 3));
        }
        self.brought(at).or_else(|| self.out_of(at))
    }

    fn ends(&self, at: usize) -> bool {
        self.tokens
            .get(at)
            .is_none_or(|t| t.norm().is_empty() && t.number().is_none())
    }

    /// "gone furry", "gone to marrow", "went a bit slimy".
    fn state(&self, at: usize) -> Option<(What, usize)> {
        let mut to = at + 1;
        while RATHER.contains(&self.low(to)) {
            to += 1;
        }
        let led = self.low(to) == "to";
        to += usize::from(led);
        let word = self.low(to);
        let ending = word.len() > 4 && ["y", "ed", "ing", "ish"].iter().any(|e| word.ends_with(e));
        let state = STATE.contains(&word) || !led && (ending || lexicon::ADJECTIVE.contains(&word));
        // Weeds gone to seed are another thing than weeds.
        let weeds = word == "seed"
            && self.tokens[..at].iter().rev().take(4).any(|t| {
                matches!(
                    t.norm(),
                    "weed" | "dock" | "thistle" | "dandelion" | "nettle" | "dockweed"
                )
            });
        (state && !weeds && !word.is_empty()).then_some((What::Adjective, to + 1))
    }

    /// "with weevils in it", "full of maggots".
    fn guests_in(&self, at: usize) -> Option<(What, usize)> {
        let mut to = at + 1;
        while matches!(
            self.low(to),
            "a" | "an"
                | "of"
                | "few"
                | "some"
                | "the"
                | "odd"
                | "lots"
                | "little"
                | "with"
                | "in"
                | "by"
                | "fruit"
                | "tiny"
        ) {
            to += 1;
        }
        if !GUESTS.contains(&self.norm(to)) {
            return None;
        }
        to += 1;
        if matches!(self.low(to), "in" | "on" | "inside" | "through") {
            to += 1;
            while matches!(self.low(to), "it" | "them" | "there" | "all") {
                to += 1;
            }
        }
        (to > at + 1 && self.ends(to) || self.low(to) == "and").then_some((What::Filler, to))
    }

    /// "the cat brought in", "the kids left".
    fn brought(&self, at: usize) -> Option<(What, usize)> {
        let mut who = at;
        while matches!(
            self.low(who),
            "that" | "which" | "the" | "my" | "our" | "a" | "what"
        ) {
            who += 1;
        }
        if at == 0 || who == at && !matches!(self.low(at), "he" | "she" | "they" | "we" | "i") {
            return None;
        }
        if !WHO.contains(&self.norm(who)) || !LEFT.contains(&self.low(who + 1)) || self.ends(at - 1)
        {
            return None;
        }
        let mut to = who + 2;
        while matches!(
            self.low(to),
            "in" | "up" | "out" | "behind" | "half" | "us" | "me" | "over" | "home" | "on"
        ) {
            to += 1;
        }
        (self.ends(to) || matches!(self.low(to), "and" | "from")).then_some((What::Filler, to))
    }

    /// "cleaned out the fridge": the fridge is no item; "scraped out the jam jar": the jam is.
    fn out_of(&self, at: usize) -> Option<(What, usize)> {
        if !SCRAPED.contains(&self.low(at)) {
            return None;
        }
        let mut to = at + 1;
        let mut the = false;
        while matches!(
            self.low(to),
            "out" | "of" | "off" | "the" | "a" | "an" | "my" | "our" | "last" | "up" | "old"
        ) {
            the |= matches!(self.low(to), "the" | "my" | "our" | "a" | "an");
            to += 1;
        }
        if !the {
            return None;
        }
        let coffee = usize::from(
            matches!(self.low(to), "coffee" | "bread" | "salad" | "wood")
                && EMPTIED.contains(&self.norm(to + 1)),
        );
        if EMPTIED.contains(&self.norm(to + coffee)) && !matches!(self.low(to + coffee + 1), "of") {
            return Some((What::Filler, to + coffee + 1));
        }
        // "emptied the hoover", "hoovered the stairs and emptied the bag".
        let hoover = |w: &str| matches!(w, "hoover" | "vacuum" | "dyson" | "henry");
        let bag = matches!(self.low(to), "bag" | "cylinder" | "dustbin")
            && self.tokens[..at]
                .iter()
                .any(|t| matches!(t.low(), "hoovered" | "vacuumed" | "hoovering" | "vacuuming"));
        if hoover(self.low(to)) || bag {
            let more = usize::from(matches!(
                self.low(to + 1),
                "bag" | "cylinder" | "cleaner" | "bin"
            ));
            let dust = super::segment::thing(self.catalogue, "hoover dust")
                .or_else(|| super::segment::thing(self.catalogue, "vacuum dust"))?;
            return Some((What::Thing(dust), to + 1 + more));
        }
        self.held(to).map(|_| (What::Filler, to))
    }

    /// A food and the vessel behind it that was scraped out: where the vessel stands.
    fn held(&self, at: usize) -> Option<usize> {
        (at + 1..=at + 3).find(|&to| {
            VESSEL.contains(&self.norm(to)) && (at..to).all(|a| !self.norm(a).is_empty())
        })
    }

    /// Where the food ends whose vessel is scraped out, if `at` is the first word of it.
    pub(super) fn scraped(&self, at: usize) -> Option<usize> {
        let mut back = at;
        while back > 0
            && matches!(
                self.low(back - 1),
                "out" | "of" | "off" | "the" | "a" | "an" | "my" | "our" | "last" | "up" | "old"
            )
        {
            back -= 1;
        }
        let verb = back.checked_sub(1).map(|b| self.low(b))?;
        let out = self.tokens[back..at]
            .iter()
            .any(|t| matches!(t.low(), "the" | "my" | "our" | "a" | "an"));
        if !SCRAPED.contains(&verb) || !out {
            return None;
        }
        self.held(at)
    }

    /// "glass jar of pickles": what a vessel is made of is no item.
    pub(super) fn made_of(&self, at: usize, us: bool) -> Option<(unit::Unit, usize)> {
        let made = matches!(
            self.low(at),
            "glass"
                | "plastic"
                | "metal"
                | "foil"
                | "jam"
                | "wooden"
                | "ceramic"
                | "china"
                | "steel"
                | "tin"
                | "takeaway"
                | "takeout"
                | "paper"
                | "cardboard"
        );
        let of = matches!(self.norm(at + 2), "of" | "full");
        if !made || !of || !VESSEL.contains(&self.norm(at + 1)) {
            return None;
        }
        unit::unit(self.tokens, at + 1, false, us)
    }
}
