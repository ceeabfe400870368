//! A word with several meanings, where the words around it decide.

use super::assemble::Draft;
use super::lexicon;
use super::settle::Settler;
use super::tokens::Token;
use super::unit::Unit;

/// Words that, near a word of several meanings, leave only this one.
const CLUES: &[(&str, &[&str])] = &[
    (
        "cut-flowers",
        &[
            "vase",
            "bunch",
            "bouquet",
            "florist",
            "windowsill",
            "table",
            "jug",
        ],
    ),
    ("coal-ash", &["coal", "barbecue", "bbq", "briquette"]),
    ("wood-ash", &["log", "wood", "woodburner", "bonfire"]),
    (
        "manure-chicken-bedded",
        &["hen", "chicken", "coop", "henhouse", "poultry"],
    ),
    (
        "manure-chicken-fresh",
        &["hen", "chicken", "coop", "henhouse"],
    ),
    (
        "bedding-rabbit",
        &["rabbit", "bunny", "hutch", "guinea", "hamster", "gerbil"],
    ),
    ("manure-rabbit", &["rabbit", "bunny", "hutch", "guinea"]),
    ("pet-faeces", &["cat", "kitten", "tray"]),
    ("manure-horse", &["horse", "pony", "stable"]),
    ("manure-cow", &["cow", "cattle"]),
    ("vacuum-dust", &["hoover", "vacuum", "carpet"]),
    ("dryer-lint", &["dryer", "tumble", "laundry"]),
    (
        "old-potting-mix",
        &[
            "pot",
            "tub",
            "planter",
            "basket",
            "window",
            "container",
            "trough",
            "hanging",
        ],
    ),
];

/// Whether this word near a thing speaks for this meaning of it.
pub(super) fn clue(id: &str, word: &str) -> bool {
    CLUES
        .iter()
        .any(|(of, clues)| *of == id && clues.contains(&word))
}

/// What is meant where the thing itself is old or soft, not what is peeled off it.
const WHOLE: &[&str] = &["potato-raw", "stone-fruit", "egg-raw"];

/// A tablespoon, L, and a little: powders are spooned, fruit is not.
const SPOON_L: f64 = 0.02;

impl Settler<'_> {
    /// Narrows each thing of several meanings; where blight is said, potatoes and tomatoes have it.
    pub(super) fn narrow(&self, mut drafts: Vec<Draft>) -> Vec<Draft> {
        let blight = self.blight();
        for at in 0..drafts.len() {
            let (Some(draft), before) = (drafts.get(at), at.checked_sub(1)) else {
                continue;
            };
            let from = before.and_then(|b| drafts.get(b)).map_or(0, |d| d.to);
            let to = drafts.get(at + 1).map_or(self.tokens.len(), |d| d.from);
            let ill = if blight { blighted(draft) } else { None };
            let one = ill.or_else(|| self.meant(draft, from, to));
            if let (Some(one), Some(draft)) = (one, drafts.get_mut(at))
                && self.catalogue.get(one).is_some()
            {
                draft.thing.may_be = vec![one.to_owned()];
            }
        }
        drafts
    }

    /// The one meaning that the words in `from..to` leave.
    fn meant(&self, draft: &Draft, from: usize, to: usize) -> Option<&'static str> {
        if draft.thing.may_be.len() < 2 || draft.part.is_some() {
            return None;
        }
        let may = |id: &str| draft.thing.may_be.iter().any(|m| m == id);
        let spooned = match draft.unit {
            Some(Unit::Volume { litres, .. }) => litres <= SPOON_L,
            _ => false,
        };
        // Pots are named first, and what was in them behind.
        if may("old-potting-mix")
            && self
                .tokens
                .iter()
                .any(|t| clue("old-potting-mix", t.norm()))
        {
            return Some("old-potting-mix");
        }
        if spooned && may("garden-lime") {
            return Some("garden-lime");
        }
        if draft.whole
            && !draft.cooked
            && let Some(id) = WHOLE.iter().find(|id| may(id))
        {
            return Some(id);
        }
        let stop = |t: &Token| t.is_mark('.') || t.is_mark(';');
        let near = self.tokens.get(from..draft.from.max(from))?;
        let near = near.rsplit(stop).next().unwrap_or_default();
        let own = self.tokens.get(draft.from..draft.to)?;
        let after = self.tokens.get(draft.to..to.max(draft.to))?;
        let after = after.split(stop).next().unwrap_or_default();
        let said = |clue: &&str| {
            let mut all = near.iter().chain(own).chain(after);
            all.any(|t| t.norm() == *clue)
        };
        let mut left = CLUES
            .iter()
            .filter(|(id, clues)| may(id) && clues.iter().any(said))
            .map(|(id, _)| *id);
        match (left.next(), left.next()) {
            (Some(one), None) => Some(one),
            _ => None,
        }
    }

    /// Whether blight is spoken of, and not denied.
    fn blight(&self) -> bool {
        self.tokens.iter().enumerate().any(|(at, t)| {
            let before = at.checked_sub(1).and_then(|b| self.tokens.get(b));
            let denied = before.is_some_and(|b| lexicon::NOT.contains(&b.low()));
            matches!(t.low(), "blight" | "blighted" | "blighty") && !denied
        })
    }
}

/// What a plant of the potato kind is when there is blight.
fn blighted(draft: &Draft) -> Option<&'static str> {
    let any = |ids: &[&str]| draft.thing.may_be.iter().any(|m| ids.contains(&m.as_str()));
    let haulm = [
        "potato-haulm",
        "potato-haulm-dry",
        "tomato-vines",
        "tomato-vines-dry",
    ];
    if any(&haulm) {
        Some("blighted-haulm")
    } else if draft.thing.may_be == ["potato-raw"] || draft.whole && any(&["potato-raw", "tomato"])
    {
        Some("blighted-tubers-fruit")
    } else {
        None
    }
}
