//! The inside of a chamber in sentences: warmth, water, turning, smell, what can still be recognised.

use desk::{ForecastAnswer, InsideFacts};
use units::Spread;

use super::tongue::Tongue;

/// Core and wall differ by this before the difference is told, K.
pub(crate) const TOLD_K: f64 = 3.0;
/// Water edges, %: dry, good, wet, too wet (the windows; NRAES-54, Table 2.1).
pub(crate) const DRY: f64 = 50.0;
pub(crate) const WET: f64 = 62.0;
pub(crate) const SOAKED: f64 = 68.0;
/// Acids at which the engine's pH is about 6.5, g/kg dry matter (choice).
const SOUR: f64 = 6.0;
/// Least oxygen a heap wants, vol-% (common practice).
const SHORT: f64 = 5.0;

/// A temperature as the household reads it; to the whole degree.
pub(crate) fn degrees(celsius: f64, tongue: Tongue) -> String {
    let (value, unit) = if tongue.us {
        (celsius * 1.8 + 32.0, "°F")
    } else {
        (celsius, "°C")
    };
    // Zero has no sign.
    let whole = value.round() + 0.0;
    format!("{} {unit}", format!("{whole:.0}").replace('-', "−"))
}

/// "17 °C (13–22)".
pub(crate) fn warmth_range(c: Spread, tongue: Tongue) -> String {
    let of = |v: f64| degrees(v, tongue);
    let bare = |v: f64| of(v).split(' ').next().unwrap_or_default().to_owned();
    let join = if bare(c.low).starts_with('−') || bare(c.high).starts_with('−') {
        " to "
    } else {
        "–"
    };
    format!("{} ({}{join}{})", of(c.mid), bare(c.low), bare(c.high))
}

/// What a dot of the picture stands for, as a person pours it.
pub(crate) fn dot(litres: f64, tongue: Tongue) -> String {
    match litres {
        l if tongue.us && l < 0.3 => "about a cup".into(),
        l if l < 0.3 => "¼ litre".into(),
        l if tongue.us => format!("about {}", tongue.size(l)),
        l if l < 0.7 => "½ litre".into(),
        1.0 => "1 litre".into(),
        l => format!("{l:.0} litres"),
    }
}

/// To the nearest five: no squeeze tells more.
pub(crate) fn fives(value: f64) -> f64 {
    (value / 5.0).round() * 5.0
}

/// Wetness as one word.
pub(crate) fn wetness(water_pct: f64) -> &'static str {
    match water_pct {
        w if w < 40.0 => "very dry",
        w if w < DRY => "dry",
        w if w <= WET => "as damp as it should be",
        w if w <= SOAKED => "wet",
        _ => "too wet",
    }
}

/// Water in plain words, and what to do.
pub(crate) fn water(i: &InsideFacts) -> [String; 2] {
    let w = i.water_pct.mid;
    let squeeze = match w {
        w if w < 40.0 => "A squeezed handful would be dusty.",
        w if w < DRY => "A squeezed handful would crumble.",
        w if w <= WET => "A squeezed handful would hold and not drip.",
        w if w <= SOAKED => "A squeezed handful would give a few drops.",
        _ => "A squeezed handful would run.",
    };
    let act = match w {
        _ if i.core_c.mid <= 0.0 => "Wait for the thaw before you judge it.",
        w if w < DRY => "Water it by the cup as you turn it, until a handful holds together.",
        w if w <= WET => "Add no water.",
        _ => "Add no water. Mix in torn card or dry leaves, and keep the rain out.",
    };
    [
        format!(
            "It is {}: about {:.0} % water. {squeeze}",
            wetness(w),
            fives(w)
        ),
        act.to_owned(),
    ]
}

/// Turning advice: what to do, and why.
pub(crate) fn turning(a: &ForecastAnswer) -> [String; 2] {
    let i = &a.inside;
    if i.core_c.mid <= 0.0 {
        return [
            "Leave it until it thaws.".into(),
            "It is frozen by the arithmetic, and a frozen drum can jam.".into(),
        ];
    }
    match advice(a).as_str() {
        "break_balls" => [
            "Turn it, and break the wet balls.".into(),
            format!(
                "About {:.0} % of it lies in wet clumps that get no air. Wear gloves; latch the drum before you reach in.",
                fives(i.clumped_pct.mid).max(5.0)
            ),
        ],
        "turn" => [
            "Turn it now.".into(),
            format!(
                "Air runs short: {} % oxygen at the least hour of the day.",
                oxygen(i.oxygen_pct.mid)
            ),
        ],
        _ => [
            "Leave it be.".into(),
            format!(
                "It has air: about {} % oxygen at the least hour of the day. More turning would mostly cool it.",
                oxygen(i.oxygen_pct.mid)
            ),
        ],
    }
}

/// turn, break_balls or leave: the engine's word, as in JSON.
fn advice(a: &ForecastAnswer) -> String {
    let word = serde_json::to_value(a.turning).ok();
    word.and_then(|w| w.as_str().map(str::to_owned))
        .unwrap_or_default()
}

fn oxygen(pct: f64) -> String {
    if pct < 1.0 {
        "under 1".into()
    } else {
        format!("{pct:.0}")
    }
}

/// Warmth, and what it means.
pub(crate) fn warmth(i: &InsideFacts, tongue: Tongue) -> String {
    let (core, air) = (i.core_c.mid, i.air_c.mid);
    let told = format!(
        "About {} in the middle, {} outside.",
        degrees(core, tongue),
        degrees(air, tongue)
    );
    let means = match core {
        c if c <= 0.0 => "It is frozen. Nothing rots until it thaws; that harms nothing.",
        c if c >= 55.0 => "That is hot. A thermometer should bear it out before you count on it.",
        c if c >= 40.0 => "That is warm work: soft scraps go fast now.",
        c if c - air >= TOLD_K => "It warms itself.",
        _ => "It is about as warm as the air. Cold is not failure: card rots on, slowly.",
    };
    format!("{told} {means}")
}

/// A smell, where acids or air say that one is to be expected.
pub(crate) fn smell(i: &InsideFacts) -> Option<String> {
    if i.core_c.mid <= 0.0 {
        return None;
    }
    let (sour, short) = (i.acids_g_kg.mid >= SOUR, i.oxygen_pct.mid < SHORT);
    match (sour, short) {
        (false, false) => None,
        (true, false) => {
            Some("Expect it to smell sour, like vinegar. Dry browns and air mend that.".into())
        }
        (_, true) => Some(
            "Expect a foul smell when you open it. Stand upwind; then give it air and dry browns."
                .into(),
        ),
    }
}

/// How much card can still be recognised, in the four words a person would use.
pub(crate) fn recognisable(pct: f64) -> &'static str {
    match pct {
        p if p < 25.0 => "hardly any",
        p if p < 50.0 => "some",
        p if p < 75.0 => "much",
        _ => "most",
    }
}

/// What the picture shows, in one sentence.
pub(crate) fn sentence(a: &ForecastAnswer, tongue: Tongue) -> String {
    let i = &a.inside;
    let low = 100.0 * i.litres_10_90.0 / a.chamber_litres;
    let high = 100.0 * i.litres_10_90.1 / a.chamber_litres;
    let state = if i.core_c.mid <= 0.0 {
        "frozen"
    } else {
        wetness(i.water_pct.mid)
    };
    format!(
        "Inside {} today: {:.0} to {:.0} % full, {state}, about {} in the middle, with {} of the card still to be recognised.",
        a.chamber,
        fives(low),
        fives(high.min(100.0)).max(fives(low) + 5.0),
        degrees(i.core_c.mid, tongue),
        recognisable(i.recognisable_pct.mid)
    )
}

/// Whether the last measured level lies outside what is drawn.
pub(crate) fn level_apart(a: &ForecastAnswer, level_pct: f64) -> Option<&'static str> {
    let of = |litres: f64| 100.0 * litres / a.chamber_litres;
    match level_pct {
        l if l > of(a.inside.litres_10_90.1) => {
            Some("The level you noted lies above what the arithmetic draws. Trust the level.")
        }
        l if l < of(a.inside.litres_10_90.0) => {
            Some("The level you noted lies below what the arithmetic draws. Trust the level.")
        }
        _ => None,
    }
}

/// Turning in one line, for a page that asks something else.
pub(crate) fn turning_in_short(a: &ForecastAnswer) -> String {
    let [act, _] = turning(a);
    match act.strip_suffix('.') {
        Some("Leave it be") => "Leave it be, it has air.".into(),
        _ => act,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn degrees_follow_the_household() {
        let us = Tongue {
            us: true,
            american: false,
        };
        assert_eq!(degrees(17.4, Tongue::default()), "17 °C");
        assert_eq!(degrees(-0.3, Tongue::default()), "0 °C");
        assert_eq!(degrees(-5.2, Tongue::default()), "−5 °C");
        assert_eq!(degrees(20.0, us), "68 °F");
        assert_eq!(
            warmth_range(Spread::new(-4.0, -1.0, 2.0), Tongue::default()),
            "−1 °C (−4 to 2)"
        );
    }

    #[test]
    fn water_is_spoken_in_fives() {
        assert_eq!(wetness(73.5), "too wet");
        assert_eq!(fives(73.4), 75.0);
        assert_eq!(wetness(55.0), "as damp as it should be");
    }
}
