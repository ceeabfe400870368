//! The words of a look, each with what it means and whether it may stand by itself.

use std::sync::LazyLock;

use super::Value;
use crate::entry::tokens::{Token, tokens};

/// What a part of a look is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Topic {
    Squeeze,
    Smell,
    Warmth,
    Degrees,
    Level,
    Card,
    Peel,
    Weight,
    Water,
    Turn,
    /// The air, the shed: no look inside.
    Outside,
    /// Something went in: that is an entry, not a look.
    Entry,
}

/// A word or a few, and what they mean.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Meaning {
    Topic(Topic),
    /// Needs no topic.
    Alone(Value),
    /// Means this under the topic only.
    Under(Topic, Value),
    /// No drip: true of three grades.
    NoDrip,
    /// A share of [`super::SHARES`].
    Share(usize),
    Creature(&'static str),
    Filler,
}

use Meaning::{Alone, Creature, Filler, NoDrip, Share, Under};
use Topic::{
    Card, Degrees, Entry, Level, Outside, Peel, Smell, Squeeze, Turn, Warmth, Water, Weight,
};

const fn squeeze(grade: u8) -> Meaning {
    Alone(Value::Squeeze(grade))
}

/// Words of one meaning, parted by `|`.
const TABLE: &[(&str, Meaning)] = &[
    (
        "squeeze|squeezed|squeezing|squeezes|squeeze test|squeezed handful|in the fist|fist|grip",
        Meaning::Topic(Squeeze),
    ),
    (
        "smell|smells|smelt|smelled|smelling|smelly|stinks|stink|stench|odour|odor|whiff|pongs|pong|reeks|niff|nose",
        Meaning::Topic(Smell),
    ),
    (
        "to the touch|by hand|hand warmth|warmth|feels|felt|hand in",
        Meaning::Topic(Warmth),
    ),
    (
        "temperature|temp|thermometer|probe|degrees inside",
        Meaning::Topic(Degrees),
    ),
    ("level|full|filled|fill|height|depth", Meaning::Topic(Level)),
    (
        "card|cardboard|carton|egg box|egg carton|egg boxes|paper|stalk|stem|shreds|newspaper",
        Meaning::Topic(Card),
    ),
    ("peel|peeling|peelings|skin|rind", Meaning::Topic(Peel)),
    (
        "weight|weighs|weighed|weigh|weighing|scale|scales",
        Meaning::Topic(Weight),
    ),
    ("water|watered|watering", Meaning::Topic(Water)),
    (
        "turn|turns|turned|turning|rolled|tumbled|spun|spin|rotated|mixed it|gave it a turn",
        Meaning::Topic(Turn),
    ),
    (
        "air|outside|outdoors|ambient|shed|weather|kitchen|lid|fridge|shade",
        Meaning::Topic(Outside),
    ),
    (
        "added|put|tipped|threw|chucked|emptied|went in|closed|caddy|caddies|handful|handfuls|bucket|bag",
        Meaning::Topic(Entry),
    ),
    // Squeezed handful.
    (
        "dusty|dust|dust dry|bone dry|powdery|falls to dust",
        squeeze(1),
    ),
    ("crumbles|crumble|crumbled|crumbly|falls apart", squeeze(2)),
    (
        "holds|held|holds together|holds its shape|keeps its shape|wrung sponge|wrung out sponge|wrung-out sponge|like a wrung-out sponge|like a wrung out sponge|like a sponge",
        squeeze(3),
    ),
    (
        "drips|drip|dripped|one drop|two drops|three drops|1 drop|2 drops|3 drops|a drop|a few drops|few drops|some drops|one to three drops|1 to 3 drops|1-3 drops|a drop or two|a couple of drops",
        squeeze(4),
    ),
    (
        "runs|ran|running water|water runs|water runs out|runs out|streams|pours|pours out|dripping wet|sopping|sopping wet|soaking|soaking wet|sodden|soggy",
        squeeze(5),
    ),
    ("dry|too dry|dryish", Under(Squeeze, Value::Squeeze(2))),
    (
        "damp|moist|just right|sponge",
        Under(Squeeze, Value::Squeeze(3)),
    ),
    ("wet|too wet|drops", Under(Squeeze, Value::Squeeze(4))),
    (
        "no drip|no drips|no drop|no drops|not dripping|does not drip|did not drip|doesnt drip|didnt drip|without a drip|without dripping",
        NoDrip,
    ),
    // Smell.
    (
        "no smell|no odour|no odor|odourless|odorless|smells of nothing|does not smell|doesnt smell|didnt smell|no whiff",
        Alone(Value::Smell(0)),
    ),
    ("nothing|neutral|none", Under(Smell, Value::Smell(0))),
    (
        "earthy|earth smell|forest floor|woodland|forest|woodsy",
        Alone(Value::Smell(1)),
    ),
    (
        "earth|soil|wood|leaf mould|leaf mold|woods",
        Under(Smell, Value::Smell(1)),
    ),
    (
        "sour|vinegary|vinegar|silage|acidic",
        Alone(Value::Smell(2)),
    ),
    (
        "acid|cider|yeasty|sick|vomit|pickled|pickles",
        Under(Smell, Value::Smell(2)),
    ),
    (
        "rotten eggs|bad eggs|eggy|sulphur|sulfur|sulphurous|sulfurous|putrid|sewage|drains",
        Alone(Value::Smell(3)),
    ),
    (
        "rotten|bad|foul|rot|drain|swamp|swampy|egg|eggs|rank",
        Under(Smell, Value::Smell(3)),
    ),
    (
        "ammonia|cat pee|cat wee|stings the nose|smelling salts",
        Alone(Value::Smell(4)),
    ),
    (
        "urine|pee|wee|stings|sting|stinging",
        Under(Smell, Value::Smell(4)),
    ),
    ("musty|fusty|old cloth", Alone(Value::Smell(5))),
    (
        "mouldy|moldy|mould|mold|cellar|mushroom|mushrooms|mushroomy|damp cloth",
        Under(Smell, Value::Smell(5)),
    ),
    // Warmth by hand.
    (
        "cold|stone cold|icy|frozen|freezing",
        Alone(Value::Warmth(0)),
    ),
    ("cool|coolish", Alone(Value::Warmth(1))),
    (
        "warm|lukewarm|hand warm|body warm|body heat",
        Alone(Value::Warmth(2)),
    ),
    (
        "hot|too hot to hold|hot to the touch",
        Alone(Value::Warmth(3)),
    ),
    // Level.
    (
        "brim full|full to the brim|full to the rim|brimming|completely full",
        Alone(Value::Full(1.0)),
    ),
    ("once", Under(Turn, Value::Turned(1.0))),
    ("twice", Under(Turn, Value::Turned(2.0))),
    // Shares.
    ("none|no", Share(0)),
    ("few|a few|very few|hardly any|little", Share(1)),
    ("some", Share(2)),
    ("most|mostly|nearly all|almost all|all|most of", Share(3)),
    // Creatures.
    (
        "worm|worms|brandlings|red worms|earthworm|earthworms",
        Creature("worms"),
    ),
    (
        "fruit fly|fruit flies|vinegar flies|gnats|gnat",
        Creature("fruit flies"),
    ),
    ("fly|flies|housefly|house flies", Creature("flies")),
    ("maggot|maggots", Creature("maggots")),
    (
        "soldier fly larvae|soldier fly larva|soldier flies|larvae|larva|grubs|grub",
        Creature("larvae"),
    ),
    ("ant|ants", Creature("ants")),
    (
        "woodlouse|woodlice|pill bug|pill bugs|sow bug|sow bugs|slater|slaters",
        Creature("woodlice"),
    ),
    ("slug|slugs", Creature("slugs")),
    ("snail|snails", Creature("snails")),
    ("mite|mites", Creature("mites")),
    ("springtail|springtails", Creature("springtails")),
    ("millipede|millipedes", Creature("millipedes")),
    ("centipede|centipedes", Creature("centipedes")),
    ("beetle|beetles", Creature("beetles")),
    ("earwig|earwigs", Creature("earwigs")),
    ("spider|spiders", Creature("spiders")),
    ("rat|rats", Creature("rats")),
    ("mouse|mice", Creature("mice")),
    (
        "white threads|threads|fungus|fungi|white fungus",
        Creature("white threads"),
    ),
    (
        "it|is|was|the|a|an|of|at|in|to|still|left|now|very|quite|bit|about|around|approx|approximately|roughly|my|its|can|see|i|we|looks|look|looked|like|there|are|were|be|been|have|has|had|only|just|on|for|core|middle|centre|center|inside|heap|drum|pile|compost|from|up|out|you|with|rather|fairly|pretty|when|test|piece|pieces|bits|scraps|visible|recognisable|recognizable|recognise|recognize|recognised|recognized|seen|found|spotted|this|that|time|reading|check|checked|today s|lots|many|loads|any|says|said|read|reads|stuff|contents|again|well",
        Filler,
    ),
];

struct Phrase {
    words: Vec<String>,
    meaning: &'static Meaning,
}

/// Every phrase, longest first.
static PHRASES: LazyLock<Vec<Phrase>> = LazyLock::new(|| {
    let mut all: Vec<Phrase> = TABLE
        .iter()
        .flat_map(|(words, meaning)| {
            words.split('|').map(move |words| Phrase {
                words: tokens(words).iter().map(form).collect(),
                meaning,
            })
        })
        .collect();
    // The sort is stable: of two as long, the one that stands first in the table wins.
    all.sort_by_key(|p| std::cmp::Reverse(p.words.len()));
    all
});

/// How a token is compared: a word in catalogue form, a number by its value.
fn form(token: &Token) -> String {
    match token.number() {
        Some(n) => n.to_string(),
        None if token.is_mark('-') => "-".into(),
        None => token.norm().to_owned(),
    }
}

/// What the words at `at` may mean, longest first, each with the first token after it.
pub(super) fn meanings(t: &[Token], at: usize) -> Vec<(&'static Meaning, usize)> {
    let here: Vec<String> = t[at..].iter().take(6).map(form).collect();
    PHRASES
        .iter()
        .filter(|p| here.starts_with(&p.words))
        .map(|p| (p.meaning, at + p.words.len()))
        .collect()
}

/// Whether a word denies what follows.
pub(super) fn denies(word: &str) -> bool {
    matches!(
        word,
        "not"
            | "isnt"
            | "wasnt"
            | "never"
            | "without"
            | "doesnt"
            | "didnt"
            | "dont"
            | "cant"
            | "hasnt"
            | "arent"
    )
}
