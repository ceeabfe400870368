//! Units: masses, volumes, hands and vessels, and words for one of a thing.

use units::Spread;

use super::number;
use super::tokens::Token;

/// A vessel whose size is the household's own or common practice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Vessel {
    Caddy,
    /// A pail: the caddy for scraps, a bucket for garden things.
    Pail,
    Bucket,
    Sack,
    Bag,
    Barrow,
    Other,
}

/// A unit as said.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Unit {
    /// Kilograms of one.
    Mass(f64),
    /// Litres of one, relative half-width, and whether the size was guessed here.
    Volume {
        litres: f64,
        doubt: f64,
        guessed: Option<&'static str>,
        vessel: Option<Vessel>,
    },
    Handful,
    Caddy(Vessel),
    /// One sheet, slice, head … of a thing.
    Count(&'static str),
}

impl Unit {
    /// How the unit is named, and how many of that name make one.
    pub(super) fn name(self) -> (f64, &'static str) {
        match self {
            Self::Mass(kg) => (kg, "kg"),
            Self::Volume {
                guessed: Some(name),
                ..
            } => {
                let bare = name.strip_prefix("a ").or(name.strip_prefix("an "));
                (1.0, bare.unwrap_or(name))
            }
            Self::Volume { litres, .. } => (litres, "l"),
            Self::Handful => (1.0, "handful"),
            Self::Caddy(_) => (1.0, "caddy"),
            Self::Count(name) => (1.0, name),
        }
    }

    /// Whether several things can share it.
    pub(super) fn is_vessel(&self) -> bool {
        matches!(
            self,
            Self::Caddy(_)
                | Self::Volume {
                    vessel: Some(_),
                    ..
                }
        )
    }
}

/// A number with a relative half-width, in logarithm.
pub(super) fn about(mid: f64, doubt: f64) -> Spread {
    Spread::new(mid / (1.0 + doubt), mid, mid * (1.0 + doubt))
}

/// Litre and its parts, ±5 %: filled by eye (judged).
const LITRE: f64 = 0.05;
/// A bucket, sack or barrow filled by eye, ±15 % (judged).
const FILLED: f64 = 0.15;
/// Sizes that differ between households, ±40 % (judged).
const LOOSE: f64 = 0.4;

fn exact(litres: f64) -> Unit {
    Unit::Volume {
        litres,
        doubt: LITRE,
        guessed: None,
        vessel: None,
    }
}
fn vessel(litres: f64, vessel: Vessel) -> Unit {
    Unit::Volume {
        litres,
        doubt: FILLED,
        guessed: None,
        vessel: Some(vessel),
    }
}
fn guess(litres: f64, name: &'static str, vessel: Option<Vessel>) -> Unit {
    Unit::Volume {
        litres,
        doubt: LOOSE,
        guessed: Some(name),
        vessel,
    }
}

/// US customary (true) or imperial and metric volumes, L: exact by definition (NIST Handbook 44,
/// appendix C; UK Weights and Measures Act 1985, schedule 1; a metric cup is 0.25 L).
fn customary(us: bool, american: f64, other: f64) -> Unit {
    exact(if us { american } else { other })
}

/// Words for one unit. Sizes of vessels are common practice, judged where the doubt is wide.
fn by_word(word: &str, us: bool) -> Option<Unit> {
    Some(match word {
        "kg" | "kgs" | "kilo" | "kilogram" | "kilogramme" => Unit::Mass(1.0),
        "g" | "gm" | "gms" | "gram" | "gramme" | "grm" => Unit::Mass(0.001),
        "lb" | "lbs" | "pound" => Unit::Mass(0.453_592_37),
        "oz" | "ozs" | "ounce" => Unit::Mass(0.028_349_523),
        "tonne" | "ton" => Unit::Mass(1000.0),
        "l" | "litre" | "liter" | "ltr" => exact(1.0),
        "ml" | "mls" | "millilitre" | "milliliter" | "cc" => exact(0.001),
        "cl" => exact(0.01),
        "dl" => exact(0.1),
        "pint" | "pt" => customary(us, 0.473, 0.568),
        "quart" | "qt" => customary(us, 0.946, 1.137),
        "gallon" | "gal" => customary(us, 3.785, 4.546),
        "cup" | "cupful" => customary(us, 0.237, 0.25),
        "mug" | "mugful" => Unit::Volume {
            litres: 0.3,
            doubt: FILLED,
            guessed: None,
            vessel: None,
        },
        "glass" | "glassful" => guess(0.25, "a glass", None),
        "tbsp" | "tablespoon" => Unit::Volume {
            litres: 0.015,
            doubt: FILLED,
            guessed: None,
            vessel: None,
        },
        "tsp" | "teaspoon" => Unit::Volume {
            litres: 0.005,
            doubt: FILLED,
            guessed: None,
            vessel: None,
        },
        "spoon" | "spoonful" => guess(0.015, "a spoon", None),
        "handful" | "handfull" | "fistful" | "fistfull" | "fist" => Unit::Handful,
        "pinch" => guess(0.001, "a pinch", None),
        "armful" | "armfull" | "armload" => guess(20.0, "an armful", None),
        "scoop" | "scoopful" => guess(0.5, "a scoop", None),
        "trowel" | "trowelful" => guess(0.5, "a trowel", None),
        "shovel" | "shovelful" | "spadeful" | "spade" => guess(4.5, "a shovel", None),
        "caddy" | "caddie" | "caddyful" => Unit::Caddy(Vessel::Caddy),
        "tub" | "tubful" => Unit::Caddy(Vessel::Other),
        "pail" | "pailful" | "bin" => Unit::Caddy(Vessel::Pail),
        "bucket" | "bucketful" | "bucketload" => vessel(10.0, Vessel::Bucket),
        "trug" | "trugful" => guess(15.0, "a trug", Some(Vessel::Other)),
        "basket" | "basketful" => guess(10.0, "a basket", Some(Vessel::Other)),
        "bowl" | "bowlful" => guess(2.0, "a bowl", Some(Vessel::Other)),
        "sack" | "sackful" => vessel(50.0, Vessel::Sack),
        "bag" | "bagful" => guess(15.0, "a bag", Some(Vessel::Bag)),
        "barrow" | "wheelbarrow" | "barrowload" | "barrowful" => vessel(75.0, Vessel::Barrow),
        "bunch" => Unit::Count("bunch"),
        "sheet" => Unit::Count("sheet"),
        "slice" => Unit::Count("slice"),
        "head" => Unit::Count("head"),
        "plant" => Unit::Count("plant"),
        "box" => Unit::Count("box"),
        "tube" => Unit::Count("tube"),
        "brew" => Unit::Count("brew"),
        "pot" | "potful" | "cafetiere" | "teapot" => Unit::Count("pot"),
        "roll" => Unit::Count("roll"),
        "loaf" => Unit::Count("loaf"),
        "ear" => Unit::Count("ear"),
        "stalk" => Unit::Count("stalk"),
        "stick" => Unit::Count("stick"),
        "clove" => Unit::Count("clove"),
        "thumb" => Unit::Count("thumb"),
        "piece" | "bit" | "chunk" | "lump" => Unit::Count("piece"),
        "packet" | "pack" => Unit::Count("packet"),
        "wedge" => Unit::Count("wedge"),
        "page" => Unit::Count("sheet"),
        "bale" => Unit::Count("bale"),
        "clump" | "tuft" | "wad" | "ball" => Unit::Count("clump"),
        "pile" | "heap" => guess(20.0, "a pile", Some(Vessel::Other)),
        "crate" => guess(30.0, "a crate", Some(Vessel::Other)),
        "colander" => guess(3.0, "a colander", Some(Vessel::Other)),
        "jug" | "jugful" => guess(1.0, "a jug", None),
        "kettle" | "kettleful" => guess(1.5, "a kettle", None),
        "saucepanful" | "panful" | "pan" => guess(2.0, "a saucepan", None),
        "jarful" => guess(0.4, "a jar", None),
        "tinful" | "canful" => guess(0.4, "a tin", None),
        "trayful" => guess(3.0, "a tray", Some(Vessel::Other)),
        "dustpanful" => guess(1.5, "a dustpan", None),
        "colanderful" => guess(3.0, "a colander", Some(Vessel::Other)),
        "boxful" => guess(10.0, "a boxful", Some(Vessel::Other)),
        "pocketful" | "pocket" => guess(0.25, "a pocket", None),
        "ladle" | "ladleful" => guess(0.1, "a ladle", None),
        "bottleful" => guess(0.75, "a bottle", None),
        "carton" | "cartonful" => guess(1.0, "a carton", None),
        "flask" | "flaskful" => guess(1.0, "a flask", None),
        "tumbler" | "beaker" => guess(0.3, "a beaker", None),
        "ramekin" | "eggcup" => guess(0.1, "a ramekin", None),
        "forkful" => guess(2.0, "a forkful", None),
        "sinkful" => guess(10.0, "a sinkful", Some(Vessel::Other)),
        "hatful" => guess(3.0, "a hatful", Some(Vessel::Other)),
        "carload" | "trailer" | "trailerload" => guess(500.0, "a trailer", Some(Vessel::Other)),
        "bottle" => guess(0.75, "a bottle", None),
        "tray" => guess(3.0, "a tray", Some(Vessel::Other)),
        "punnet" => guess(0.5, "a punnet", None),
        "plate" | "plateful" => guess(0.5, "a plate", None),
        "dustpan" => guess(1.5, "a dustpan", None),
        "saucepan" => guess(2.0, "a saucepan", None),
        "can" | "tin" => guess(0.4, "a tin", None),
        "jar" => guess(0.4, "a jar", None),
        _ => return None,
    })
}

/// Units of one or two letters that only count right after a number.
fn is_short(word: &str) -> bool {
    matches!(
        word,
        "g" | "l" | "t" | "cc" | "cl" | "dl" | "pt" | "qt" | "lb" | "oz" | "gm" | "kg" | "ml"
    )
}

fn norm(tokens: &[Token], at: usize) -> &str {
    tokens.get(at).map_or("", Token::norm)
}

/// The 3 of "m3" and "m³".
fn cubed(tokens: &[Token], at: usize) -> bool {
    tokens
        .get(at)
        .is_some_and(|t| t.glued && t.number() == Some(3.0))
}

/// A unit at `at`, and the first token after it.
pub(super) fn unit(
    tokens: &[Token],
    at: usize,
    after_number: bool,
    us: bool,
) -> Option<(Unit, usize)> {
    let (one, two, three) = (norm(tokens, at), norm(tokens, at + 1), norm(tokens, at + 2));
    let pair = match (one, two) {
        ("bin" | "black" | "refuse" | "rubbish" | "garden", "bag" | "sack" | "liner") => {
            Some(guess(50.0, "a bin bag", Some(Vessel::Sack)))
        }
        ("carrier" | "shopping" | "plastic", "bag") => {
            Some(guess(15.0, "a carrier bag", Some(Vessel::Bag)))
        }
        (
            "kitchen" | "food" | "compost" | "scrap" | "worktop" | "counter",
            "caddy" | "pail" | "bin" | "tub",
        ) => Some(Unit::Caddy(Vessel::Caddy)),
        ("hand" | "fist", "full" | "ful") => Some(Unit::Handful),
        ("jam" | "kilner" | "mason", "jar") if three == "of" => Some(guess(0.4, "a jar", None)),
        ("fl" | "fluid", "oz" | "ounce") => Some(customary(us, 0.0296, 0.0284)),
        // By definition (NIST Handbook 44, appendix C).
        ("cubic" | "cu", "foot" | "feet" | "ft") => Some(exact(28.316_847)),
        ("cubic" | "cu", "yard" | "yd") => Some(exact(764.554_858)),
        ("cubic" | "cu", "inch" | "in") => Some(exact(0.016_387_064)),
        ("cubic" | "cu", "metre" | "meter" | "m") => Some(exact(1000.0)),
        ("m" | "dm" | "cm" | "ft" | "yd", _) if after_number && cubed(tokens, at + 1) => {
            let litres = match one {
                "m" => 1000.0,
                "dm" => 1.0,
                "cm" => 0.001,
                "ft" => 28.316_847,
                _ => 764.554_858,
            };
            Some(exact(litres))
        }
        ("bushel", _) => Some(customary(us, 35.24, 36.37)),
        ("table", "spoon") => by_word("tablespoon", us),
        ("tea", "spoon") => by_word("teaspoon", us),
        ("wheel", "barrow") => by_word("barrow", us),
        ("mixing" | "big" | "large", "bowl") => Some(guess(3.0, "a big bowl", Some(Vessel::Other))),
        ("watering", "can") => Some(guess(8.0, "a watering can", Some(Vessel::Other))),
        ("mower" | "grass", "box") => Some(guess(50.0, "a mower box", Some(Vessel::Other))),
        _ => None,
    };
    if let Some(found) = pair {
        let long = if one == "bushel" { 1 } else { 2 };
        return Some((found, load(tokens, at + long)));
    }
    if (one, two) == ("washing", "up") && three == "bowl" {
        return Some((guess(9.0, "a washing-up bowl", Some(Vessel::Other)), at + 3));
    }
    if one == "washing" && norm(tokens, at + 2) == "up" && norm(tokens, at + 3) == "bowl" {
        return Some((guess(9.0, "a washing-up bowl", Some(Vessel::Other)), at + 4));
    }
    if is_short(one) && !after_number {
        return None;
    }
    // A stone is a weight only where nothing else fits: "2 stone of apples".
    if one == "stone"
        && after_number
        && tokens.get(at).is_some_and(|t| t.low() == "stone")
        && two == "of"
    {
        return Some((Unit::Mass(6.350_293), at + 1));
    }
    if one == "t" && after_number {
        return Some((Unit::Mass(1000.0), at + 1));
    }
    // Glass and tin are things first: "broken glass" is no glassful. A vessel says what it is of.
    if matches!(
        one,
        "glass"
            | "can"
            | "tin"
            | "jar"
            | "plate"
            | "dustpan"
            | "saucepan"
            | "ball"
            | "bottle"
            | "tray"
            | "jug"
            | "kettle"
            | "pan"
            | "pocket"
            | "ladle"
            | "carton"
            | "flask"
            | "tumbler"
            | "beaker"
            | "ramekin"
            | "eggcup"
            | "trailer"
    ) && !matches!(two, "of" | "full" | "ful")
    {
        return None;
    }
    by_word(one, us).map(|found| (found, load(tokens, at + 1)))
}

/// "barrow load", "caddy full of" say no more than "barrow", "caddy".
fn load(tokens: &[Token], at: usize) -> usize {
    match norm(tokens, at) {
        "load" => at + 1,
        "full" | "ful" if norm(tokens, at + 1) == "of" => at + 1,
        _ => at,
    }
}

/// "5 gallon bucket", "10 L bucket": a vessel of a said size, and the first token after it.
pub(super) fn sized(tokens: &[Token], at: usize, us: bool) -> Option<(Unit, usize)> {
    let (n, mut next) = match tokens.get(at)?.number() {
        Some(n) => (n, at + 1),
        None => match number::number(tokens, at) {
            Some((said, to)) if to == at + 1 && !said.article => (said.mid, to),
            _ => return None,
        },
    };
    if tokens.get(next).is_some_and(|t| t.is_mark('-')) {
        next += 1;
    }
    let (
        Unit::Volume {
            litres,
            vessel: None,
            ..
        },
        mut next,
    ) = unit(tokens, next, true, us)?
    else {
        return None;
    };
    if tokens.get(next).is_some_and(|t| t.is_mark('-')) {
        next += 1;
    }
    let kind = match unit(tokens, next, false, us)?.0 {
        Unit::Caddy(kind) => kind,
        Unit::Volume {
            vessel: Some(kind), ..
        } => kind,
        _ => return None,
    };
    // A five-gallon bucket is the US one wherever it is sold.
    let litres = if n == 5.0 && (litres - 4.546).abs() < 1e-9 {
        18.9
    } else {
        n * litres
    };
    let found = Unit::Volume {
        litres,
        doubt: FILLED,
        guessed: None,
        vessel: Some(kind),
    };
    Some((found, load(tokens, next + 1)))
}

/// Whether this word alone names a unit, so that spelling is not "corrected" away from it.
pub(super) fn is_unit_word(word: &str) -> bool {
    by_word(word, false).is_some()
}

#[cfg(test)]
mod tests {
    use super::super::tokens::tokens;
    use super::*;

    #[test]
    fn customary_volumes_follow_the_household() {
        let litres = |us| match unit(&tokens("gallon"), 0, true, us) {
            Some((Unit::Volume { litres, .. }, 1)) => litres,
            other => panic!("{other:?}"),
        };
        assert_eq!((litres(true), litres(false)), (3.785, 4.546));
    }

    #[test]
    fn cubic_measures() {
        for (text, expected, end) in [
            ("cubic yard", 764.554_858, 2),
            ("cu ft", 28.316_847, 2),
            ("m3", 1000.0, 2),
            ("m³", 1000.0, 2),
            ("bushel", 36.37, 1),
        ] {
            let Some((Unit::Volume { litres, .. }, at)) = unit(&tokens(text), 0, true, false)
            else {
                panic!("{text} is not read")
            };
            assert_eq!((litres, at), (expected, end), "{text}");
        }
        assert_eq!(unit(&tokens("m 3"), 0, true, false), None);
    }

    #[test]
    fn a_vessel_of_a_said_size() {
        let Some((Unit::Volume { litres, .. }, 3)) = sized(&tokens("5 gallon bucket"), 0, false)
        else {
            panic!("not read")
        };
        assert_eq!(litres, 18.9);
    }

    #[test]
    fn short_units_need_a_number() {
        assert_eq!(unit(&tokens("g"), 0, false, false), None);
        assert_eq!(
            unit(&tokens("g"), 0, true, false),
            Some((Unit::Mass(0.001), 1))
        );
    }
}
