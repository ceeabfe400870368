//! Between the words of a look, the values of an event and the readings of the engine.

use std::collections::BTreeMap;

use catalogue::reading::{Look, SHARES, SMELLS, SQUEEZES, Sighting, Value, WARMTHS};
use engine::assimilate::screen::Reason;
use engine::assimilate::{Card, Seen, Smell, Warmth};
use journal::{Chamber, Measured, Shape};

use super::answer::SeenFacts;

/// A level above it cannot be, % of the chamber: a heaped chamber, and a finger of doubt (choice).
pub(super) const MOST_PCT: f64 = 108.0;
/// A chamber whose size is not known, L; as in a forecast.
const USUAL_LITRES: f64 = crate::forecast::USUAL_LITRES;

/// Share of a chamber that is full, from the depth of what is in it, cm.
///
/// A drum lies on its side: the share is that of a segment of its circle. Any other chamber is taken as upright; where
/// no height is known, as a cube of its volume (choice).
fn share_of_depth(chamber: &Chamber, deep: f64) -> f64 {
    let litres = chamber.litres.unwrap_or(USUAL_LITRES);
    let cube = (litres * 1000.0).cbrt();
    match (chamber.shape, chamber.width_cm, chamber.height_cm) {
        (Some(Shape::Drum), Some(across), _) if across > 0.0 => {
            let r = across / 2.0;
            let d = (r - deep.clamp(0.0, across)) / r;
            (d.acos() - d * (1.0 - d * d).max(0.0).sqrt()) / std::f64::consts::PI
        }
        (_, _, Some(height)) if height > 0.0 => deep.max(0.0) / height,
        _ => deep.max(0.0) / cube,
    }
}

/// Height from floor to rim, cm.
fn height(chamber: &Chamber) -> f64 {
    let cube = (chamber.litres.unwrap_or(USUAL_LITRES) * 1000.0).cbrt();
    let said = match chamber.shape {
        Some(Shape::Drum) => chamber.width_cm,
        _ => chamber.height_cm,
    };
    said.filter(|cm| *cm > 0.0).unwrap_or(cube)
}

/// Name of the value and the value.
fn value(value: &Value, chamber: &Chamber) -> (&'static str, Measured) {
    let word = |w: &str| Measured::Text(w.to_owned());
    let pct = |share: f64| Measured::Number((share * 100.0).round());
    match value {
        Value::Squeeze(grade) => (
            "squeeze",
            word(SQUEEZES[usize::from(grade.saturating_sub(1)).min(4)]),
        ),
        Value::Smell(at) => ("smell", word(SMELLS[(*at).min(5)])),
        Value::Warmth(at) => ("warmth", word(WARMTHS[(*at).min(3)])),
        Value::Card(at) => ("card", word(SHARES[(*at).min(3)])),
        Value::Peel(at) => ("peel", word(SHARES[(*at).min(3)])),
        Value::Celsius(c) => ("core_c", Measured::Number(*c)),
        Value::BelowRimCm(cm) => {
            let deep = height(chamber) - cm;
            ("level_pct", pct(share_of_depth(chamber, deep)))
        }
        Value::DeepCm(cm) => ("level_pct", pct(share_of_depth(chamber, *cm))),
        Value::Full(share) => ("level_pct", pct(*share)),
        Value::Litres(l) => ("level_pct", pct(l / chamber.litres.unwrap_or(USUAL_LITRES))),
        Value::Kilograms(kg) => ("weight_kg", Measured::Number(*kg)),
        Value::Turned(n) => ("turns", Measured::Number(*n)),
        Value::Watered(l) => ("water_l", Measured::Number(*l)),
        Value::Creature(name, some) => (
            "creatures",
            Measured::Text(if *some {
                (*name).to_owned()
            } else {
                format!("no {name}")
            }),
        ),
    }
}

/// What was understood of one thing.
pub(super) fn told(seen: &Sighting, chamber: &Chamber) -> SeenFacts {
    let (reading, measured) = value(&seen.value, chamber);
    let again = seen_again(reading, &measured, &seen.text);
    SeenFacts {
        word: match &seen.value {
            Value::Creature(name, _) => Some(*name),
            _ => again.word,
        },
        assumed: seen.assumed,
        ..again
    }
}

/// A value of the journal as it was understood.
pub(crate) fn seen_again(reading: &str, measured: &Measured, text: &str) -> SeenFacts {
    let (word, number) = match measured {
        Measured::Number(n) => (None, Some(*n)),
        Measured::Text(text) => {
            let mut words = SQUEEZES
                .iter()
                .chain(&SMELLS)
                .chain(&WARMTHS)
                .chain(&SHARES);
            (words.find(|w| *w == text).copied(), None)
        }
    };
    SeenFacts {
        text: text.to_owned(),
        reading: reading.to_owned(),
        word,
        number,
        assumed: None,
    }
}

/// Values of an event.
pub(super) fn values(look: &Look, chamber: &Chamber) -> BTreeMap<String, Measured> {
    let mut all: BTreeMap<String, Measured> = BTreeMap::new();
    for seen in &look.seen {
        let (name, measured) = value(&seen.value, chamber);
        match (all.get_mut(name), &measured) {
            // Several creatures are one list.
            (Some(Measured::Text(list)), Measured::Text(more)) => {
                list.push_str(", ");
                list.push_str(more);
            }
            _ => {
                all.insert(name.to_owned(), measured);
            }
        }
    }
    all
}

/// What the engine learns of a value; nothing of turnings, creatures and peel, which rots before the card does.
pub(super) fn seen(name: &str, value: &Measured, litres: f64) -> Option<Seen> {
    let place = |list: &[&str]| match value {
        Measured::Text(text) => list.iter().position(|w| w == text),
        Measured::Number(_) => None,
    };
    match (name, value) {
        ("core_c", Measured::Number(c)) => Some(Seen::Core(*c)),
        ("level_pct", Measured::Number(pct)) => Some(Seen::Litres(pct / 100.0 * litres)),
        ("level_l", Measured::Number(l)) => Some(Seen::Litres(*l)),
        ("weight_kg", Measured::Number(kg)) => Some(Seen::Kilograms(*kg)),
        ("squeeze", Measured::Number(grade)) => {
            let whole = grade.fract() == 0.0 && (1.0..=5.0).contains(grade);
            whole.then_some(Seen::Squeeze(*grade as u8))
        }
        ("squeeze", _) => {
            let at = place(&SQUEEZES)?;
            Some(Seen::Squeeze(u8::try_from(at + 1).ok()?))
        }
        ("smell", _) => Some(Seen::Smell(*Smell::ALL.get(place(&SMELLS)?)?)),
        ("warmth", _) => Some(Seen::Warmth(*Warmth::ALL.get(place(&WARMTHS)?)?)),
        ("card", _) => Some(Seen::Card(*Card::ALL.get(place(&SHARES)?)?)),
        _ => None,
    }
}

/// A reason as it is stored.
pub(super) const fn reason(reason: Reason) -> &'static str {
    match reason {
        Reason::PoweredUp => "powered_up",
        Reason::Disconnected => "disconnected",
        Reason::OutOfRange => "out_of_range",
        Reason::Jump => "jump",
        Reason::FlatLine => "flat_line",
        Reason::BeforeFirstFeed => "before_first_feed",
        Reason::Future => "future",
        Reason::Contradicts => "contradicts",
        Reason::ClockWentBack => "clock_went_back",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drum() -> Chamber {
        Chamber {
            id: "far".into(),
            litres: Some(130.0),
            shape: Some(Shape::Drum),
            length_cm: Some(36.0),
            width_cm: Some(68.0),
            ..Chamber::default()
        }
    }

    #[test]
    fn a_drum_fills_as_a_circle_does() {
        let near = |a: f64, b: f64| (a - b).abs() < 0.005;
        assert!(near(share_of_depth(&drum(), 34.0), 0.5));
        assert!(near(share_of_depth(&drum(), 68.0), 1.0));
        assert!(near(share_of_depth(&drum(), 0.0), 0.0));
        // A finger about the middle is near 4 %, a hand near 19 %.
        let finger = share_of_depth(&drum(), 35.0) - share_of_depth(&drum(), 33.0);
        assert!((0.03..0.045).contains(&finger), "{finger}");
        let hand = share_of_depth(&drum(), 39.0) - share_of_depth(&drum(), 29.0);
        assert!((0.17..0.20).contains(&hand), "{hand}");
    }

    #[test]
    fn fingers_become_a_level() {
        let (name, level) = value(&Value::BelowRimCm(14.0), &drum());
        assert_eq!(name, "level_pct");
        // 14 cm below the rim of 68 cm across: a segment of 14 cm is empty, 14.9 % of the circle.
        assert_eq!(level, Measured::Number(85.0));
        let plain = Chamber {
            litres: Some(125.0),
            ..Chamber::default()
        };
        assert_eq!(
            value(&Value::DeepCm(25.0), &plain).1,
            Measured::Number(50.0)
        );
    }

    #[test]
    fn every_word_of_a_look_is_learnt_from() {
        for (name, list) in [
            ("squeeze", SQUEEZES.as_slice()),
            ("smell", &SMELLS),
            ("warmth", &WARMTHS),
            ("card", &SHARES),
        ] {
            for word in list {
                let value = Measured::Text((*word).to_owned());
                assert!(seen(name, &value, 130.0).is_some(), "{name} {word}");
            }
        }
        assert!(seen("peel", &Measured::Text("some".into()), 130.0).is_none());
    }
}
