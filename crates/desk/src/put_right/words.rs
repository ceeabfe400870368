//! Everyday words for what is noticed.

use engine::diagnosis::Symptom as S;

use crate::Error;

/// A symptom and what people call it. The first words are its name; all words of one phrase have to be there.
#[rustfmt::skip]
const PHRASES: &[(S, &[&str])] = &[
    (S::Ammonia, &["smells of ammonia", "ammonia", "sharp smell", "stings the nose", "smells of urine", "smells like cat", "cat pee", "smells of cleaner"]),
    (S::Rotten, &["smells rotten or sour", "rotten", "rotten egg", "sour", "vinegar", "sewage", "foul", "putrid", "sulphur", "sulfur", "stink", "stinks", "stench", "smells bad", "bad smell", "smelly", "reeks", "pong", "anaerobic", "sick"]),
    (S::MustyGrey, &["musty, grey and light", "musty", "grey", "gray", "dusty", "ash grey"]),
    (S::Slimy, &["wet and slimy", "slimy", "slime", "too wet", "soggy", "sludge", "mush", "wet", "sodden", "gooey", "heavy and wet"]),
    (S::Dripping, &["it drips", "drip", "dripping", "leak", "leachate", "brown liquid", "liquid runs out", "juice runs out"]),
    (S::DryUnchanged, &["dry and unchanged", "unchanged", "too dry", "dry", "same as before", "card still there", "nothing happen", "nothing happening", "not rot", "not rotting", "not breaking down", "not break down", "not decomposing"]),
    (S::Clumps, &["balls or clumps", "ball", "clump", "lump", "clod", "rolls into balls"]),
    (S::Mould, &["white threads or mould", "mould", "mold", "white thread", "white fluff", "white stuff", "fungus", "fungi", "mushroom", "white powder", "fluff", "cobweb"]),
    (S::LevelStays, &["the level does not fall", "level", "not shrinking", "does not shrink", "does not go down", "not going down", "stays full", "volume", "nothing happen", "nothing happening"]),
    (S::Shells, &["shells or stones still there", "eggshell", "shell", "stone", "nutshell", "avocado stone", "pit"]),
    (S::Seedlings, &["seedlings come up", "seedling", "sprout", "seed", "weeds grow", "tomato plant", "plants growing"]),
    (S::NotHeating, &["does not get warm", "not heating", "does not heat", "not warm", "not hot", "stays cold", "cold", "no heat", "wont heat", "not heat", "nothing happen", "nothing happening", "not rot", "not rotting", "not breaking down", "not break down", "not decomposing"]),
    (S::HeatsThenStops, &["was warm, then stopped", "stopped heating", "cooled down", "went cold", "was hot", "was warm", "heats then stops", "heat stopped", "gone cold"]),
    (S::TooHot, &["too hot", "very hot", "overheating", "steaming", "over 65", "over 70"]),
    (S::Frozen, &["frozen", "froze", "ice", "freezing", "frost"]),
    (S::FruitFlies, &["tiny flies", "fruit fly", "fruit flies", "fly", "flies", "gnat", "midge"]),
    (S::Larvae, &["maggots or larvae", "maggot", "larva", "larvae", "grub", "worm like", "soldier fly"]),
    (S::Ants, &["ants", "ant", "ant nest"]),
    (S::Rodents, &["rats or mice", "rat", "mouse", "mice", "rodent", "vermin", "gnawed", "droppings"]),
    (S::CaddyJuice, &["juice at the bottom of the caddy", "caddy juice", "caddy liquid", "caddy wet", "caddy leak", "caddy water"]),
    (S::CaddySmell, &["the caddy smells", "caddy smell", "caddy stink", "caddy stinks", "caddy smelly", "caddy reeks", "caddy sour"]),
    (S::CaddyFlies, &["flies or maggots at the caddy", "caddy fly", "caddy flies", "caddy maggot"]),
    (S::CaddyLid, &["drops or mould on the caddy lid", "caddy lid", "caddy mould", "caddy mold", "caddy condensation", "caddy drop", "lid mould", "lid wet"]),
];

/// Words that tell nothing apart here.
const IDLE: &[&str] = &[
    "a", "all", "an", "and", "at", "are", "compost", "drum", "has", "have", "i", "in", "inside",
    "is", "it", "its", "lot", "lots", "me", "mine", "much", "my", "no", "of", "on", "or", "really",
    "some", "that", "the", "there", "this", "tumbler", "very", "what", "why", "with", "s", "of",
    "from", "like", "out", "so", "chamber", "heap", "bin", "do", "doe", "does", "get", "getting",
    "got", "too", "bit",
];

/// Everyday name.
pub(super) fn name(symptom: S) -> &'static str {
    PHRASES
        .iter()
        .find(|(s, _)| *s == symptom)
        .map_or("", |(_, phrases)| phrases[0])
}

fn tokens(text: &str) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for word in catalogue::normalise(text).split(' ') {
        let after_not = all.last().is_some_and(|w| w == "not");
        all.push(
            match word {
                // "Doesn't" and "isn't" say what "not" says.
                "isnt" | "doesnt" | "dont" | "wont" | "arent" | "never" | "cannot" | "cant" => {
                    "not"
                }
                // A kitchen bin or pail is the caddy.
                "kitchen" | "pail" => "caddy",
                "smelling" => "smell",
                "heating" | "heated" => "heat",
                "warm" | "hot" if after_not => "heat",
                word if word.is_empty() || IDLE.contains(&word) => continue,
                word => word,
            }
            .to_owned(),
        );
    }
    all
}

/// Whether two words are one, a slip aside.
fn same(said: &str, known: &str) -> bool {
    said == known || {
        let slips = strsim::damerau_levenshtein(said, known);
        let long = said.chars().count().min(known.chars().count());
        (long >= 5 && slips <= 1) || (long >= 8 && slips <= 2)
    }
}

/// How well a phrase fits: words of it, all of which have to be said; exact ones count a little more.
fn fit(said: &[String], phrase: &str) -> Option<f64> {
    let wanted = tokens(phrase);
    if wanted.is_empty() {
        return None;
    }
    wanted
        .iter()
        .map(|w| {
            let exact = said.iter().any(|s| s == w);
            let near = said.iter().any(|s| same(s, w));
            (exact || near).then_some(if exact { 1.0 } else { 0.9 })
        })
        .sum()
}

/// The symptom that the words mean.
///
/// # Errors
/// [`Error::NoSymptom`], with those it may have been.
pub(super) fn read(text: &str) -> Result<S, Error> {
    let id = text.trim().to_lowercase().replace([' ', '-'], "_");
    if let Some(symptom) = S::parse(&id) {
        return Ok(symptom);
    }
    let said = tokens(&text.chars().take(400).collect::<String>());
    let caddy = said.iter().any(|w| w == "caddy");
    let mut fits: Vec<(f64, S)> = PHRASES
        .iter()
        .filter(|(s, _)| s.of_caddy() || !caddy)
        .filter_map(|(s, phrases)| {
            let best = phrases.iter().filter_map(|p| fit(&said, p));
            Some((best.max_by(f64::total_cmp)?, *s))
        })
        .collect();
    fits.sort_by(|a, b| b.0.total_cmp(&a.0));
    match fits.as_slice() {
        [(_, only)] => return Ok(*only),
        [(first, one), (second, _), ..] if first - second > 0.5 => return Ok(*one),
        _ => {}
    }
    let best = fits.first().map_or(0.0, |f| f.0);
    let mut near: Vec<&'static str> = fits
        .iter()
        .filter(|(fit, _)| best - fit <= 0.5)
        .map(|(_, s)| name(*s))
        .collect();
    if near.is_empty() {
        near = PHRASES
            .iter()
            .filter(|(s, phrases)| {
                (caddy && s.of_caddy())
                    || phrases
                        .iter()
                        .flat_map(|p| tokens(p))
                        .any(|w| w != "not" && said.iter().any(|s| same(s, &w)))
            })
            .map(|(s, _)| name(*s))
            .collect();
    }
    near.truncate(5);
    Err(Error::NoSymptom {
        text: crate::read::shortened(text),
        near,
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "tests")]
    use super::*;

    #[test]
    fn everyday_words_are_understood() {
        for (text, symptom) in [
            ("smells of ammonia", S::Ammonia),
            ("it smells like ammonia!", S::Ammonia),
            ("amonia", S::Ammonia),
            ("it stinks", S::Rotten),
            ("rotten eggs", S::Rotten),
            ("smells bad", S::Rotten),
            ("flies", S::FruitFlies),
            ("maggots", S::Larvae),
            ("too wet", S::Slimy),
            ("it's all slimy", S::Slimy),
            ("balls", S::Clumps),
            ("not heating", S::NotHeating),
            ("it doesn't get warm", S::NotHeating),
            ("too dry", S::DryUnchanged),
            ("juice in the caddy", S::CaddyJuice),
            ("the caddy stinks", S::CaddySmell),
            ("flies in the kitchen caddy", S::CaddyFlies),
            ("mould on the lid of the caddy", S::CaddyLid),
            ("white threads", S::Mould),
            ("mold", S::Mould),
            ("rats", S::Rodents),
            ("too hot", S::TooHot),
            ("frozen solid", S::Frozen),
            ("ants", S::Ants),
            ("brown liquid runs out", S::Dripping),
            ("not_heating", S::NotHeating),
            ("Not-Heating", S::NotHeating),
            ("tomato seedlings", S::Seedlings),
            ("it was warm and went cold", S::HeatsThenStops),
        ] {
            assert_eq!(
                read(text).ok(),
                Some(symptom),
                "{text}: {:?}",
                read(text).err()
            );
        }
    }

    #[test]
    fn what_could_be_several_is_asked_back_and_nonsense_is_refused() {
        let near = |text: &str| match read(text) {
            Err(Error::NoSymptom { near, .. }) => near,
            other => panic!("{text}: {other:?}"),
        };
        assert!(near("caddy").len() >= 3, "{:?}", near("caddy"));
        assert!(near("ants and rats").len() >= 2);
        // Nobody said that it is dry.
        assert_eq!(near("nothing happens").len(), 3);
        assert_eq!(near("it is not breaking down").len(), 2);
        assert!(near("zzqxv").is_empty());
        assert!(near("").is_empty());
        assert!(near(&"x".repeat(10_000)).is_empty());
    }

    #[test]
    fn every_symptom_is_reached_by_its_own_name() {
        for symptom in S::ALL {
            assert!(!name(*symptom).is_empty(), "{symptom:?}");
            assert_eq!(
                read(name(*symptom)).ok(),
                Some(*symptom),
                "{}",
                name(*symptom)
            );
        }
    }
}
