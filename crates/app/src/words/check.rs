//! A look inside in sentences: what it means, what it changed, what to look at next.

use desk::{AsideFacts, CheckAnswer, ForecastAnswer, Given, RecordFacts, SeenFacts, WorthFacts};
use jiff::civil::Date;

use super::inside::degrees;
use super::tongue::Tongue;
use super::when::BED;
use super::{capital, list};

/// What was seen, as an echo: "squeeze: one to three drops".
pub(crate) fn echo(s: &SeenFacts, tongue: Tongue) -> String {
    let number = s.number.unwrap_or_default();
    let word = s.word.unwrap_or_default();
    match s.reading.as_str() {
        "core_c" => format!("core: {}", degrees(number, tongue)),
        "squeeze" => format!("squeeze: {word}"),
        "smell" => format!("smell: {word}"),
        "warmth" => format!("by hand: {word}"),
        "level_pct" => format!("level: about {number:.0} % full"),
        "card" => format!("card still to be seen: {word}"),
        "peel" => format!("peel still to be seen: {word}"),
        "creatures" => format!("creatures: {}", s.text),
        "weight_kg" if tongue.us => format!("weight: {:.0} lb", number / 0.453_592_37),
        "weight_kg" => format!("weight: {} kg", (number * 10.0).round() / 10.0),
        "turns" if number <= 1.0 => "turned".into(),
        "turns" => format!("turned {number:.0} times"),
        "water_l" => format!("watered: {}", tongue.size(number)),
        other => format!("{other}: {}", s.text),
    }
}

/// What one thing means, and how much it matters: the lowest comes first.
fn means(s: &SeenFacts) -> (u8, &'static str) {
    let number = s.number.unwrap_or_default();
    match (s.reading.as_str(), s.word.unwrap_or_default()) {
        ("squeeze", "dusty") => (
            0,
            "It is too dry to rot. Water it by the cup as you turn it, until a handful holds.",
        ),
        ("squeeze", "runs") => (
            0,
            "It is soaked. Mix in torn card or dry leaves, and keep the rain out.",
        ),
        ("creatures", "rats" | "mice") => (
            0,
            "Close every gap, and keep cooked food out. Ask your council how to be rid of them.",
        ),
        ("smell", "rotten") => (
            1,
            "It lacks air. Turn it and mix in torn card. Keep your face out of the door.",
        ),
        ("smell", "sour") => (1, "Parts of it lack air. Turn it and mix in torn card."),
        ("smell", "ammonia") => (
            1,
            "It has more nitrogen than it can hold. Mix in torn card or dry leaves.",
        ),
        ("smell", "musty") => (
            1,
            "Mould grows in it. Damp it before you turn it, and keep your face away.",
        ),
        ("squeeze", "crumbles") => (2, "It is dry. Water it by the cup as you turn it."),
        ("squeeze", "one to three drops") => (
            2,
            "It is wet. Add no water; mix in torn card or dry leaves.",
        ),
        ("core_c", _) if number >= 65.0 => {
            (2, "It is very hot. Turn it, so that it cools and gets air.")
        }
        ("core_c", _) if number >= 40.0 => (4, "It heats well. Leave it be while it is warm."),
        ("core_c", _) if number <= 0.0 => {
            (3, "It is frozen. Leave it until it thaws; nothing is lost.")
        }
        ("core_c", _) if number < 10.0 => (
            4,
            "It is cold, so it works slowly. A small drum follows the air: that is no fault.",
        ),
        ("core_c", _) => (5, "It is as warm as a small drum mostly is."),
        ("warmth", "hot") => (4, "It heats well. Leave it be while it is warm."),
        ("warmth", "cold") => (
            4,
            "It is cold, so it works slowly. A small drum follows the air: that is no fault.",
        ),
        ("warmth", _) => (5, "It is as warm as a small drum mostly is."),
        ("squeeze", "holds, no drip") => (
            3,
            "It is as damp as it should be. Leave the water as it is.",
        ),
        ("smell", "earthy") => (5, "It has air enough."),
        ("smell", "nothing") => (5, "Nothing is amiss with its air."),
        ("level_pct", _) if number >= 90.0 => (
            3,
            "It is nearly full. A drum needs about a fifth of it empty to mix as it turns.",
        ),
        ("card", "most") => (4, "The card has hardly begun to rot. That sets the date."),
        ("card", "some") => (4, "The card is half-way. That sets the date."),
        ("card", "few") => (4, "Most of the card is gone. Beds come next."),
        ("card", "none") => (4, "The card is gone. It is time for the tests."),
        ("creatures", "worms") => (
            5,
            "Worms have moved in: it is cool and damp enough for them.",
        ),
        ("creatures", "flies" | "fruit flies" | "maggots") => (
            3,
            "Cover fresh scraps with card or leaves, and flies lose their place.",
        ),
        ("creatures", "ants") => (4, "Ants like it dry. Squeeze a handful to see."),
        ("turns", _) => (6, "Turned: it has fresh air."),
        ("water_l", _) => (6, "Watered. Squeeze a handful in two days."),
        _ => (9, "Noted."),
    }
}

/// The one sentence of meaning, of what counts most; what cannot be means nothing.
pub(crate) fn meaning(a: &CheckAnswer) -> String {
    let counts = |s: &&SeenFacts| a.set_aside.iter().all(|x| x.reading != s.reading);
    let best = a
        .understood
        .iter()
        .filter(counts)
        .map(means)
        .min_by_key(|m| m.0);
    match best {
        Some((_, text)) => text.to_owned(),
        None => "Nothing of it counts.".into(),
    }
}

/// Why a reading is set aside, and what to do.
pub(crate) fn aside(a: &AsideFacts, tongue: Tongue) -> String {
    format!(
        "{} is kept but does not count: {}",
        capital(&a.said),
        reason(&a.reason, tongue)
    )
}

/// A reason as a sentence.
pub(crate) fn reason(id: &str, tongue: Tongue) -> String {
    tongue.warm(match id {
        "powered_up" => {
            "85\u{a0}°C exactly is what a probe says before it has measured. Read it again."
        }
        "disconnected" => {
            "−127\u{a0}°C is what a probe says when its wire is loose. Check the plug."
        }
        "out_of_range" => "that cannot be. Look again, or write it anew.",
        "jump" => "no heap jumps by 15 degrees within ten minutes. Read it again.",
        "flat_line" => "the probe said the same for hours while the air changed. Check it.",
        "before_first_feed" => "nothing was in it yet on that day. Mend the day.",
        "future" => "that day lies ahead. Mend the day.",
        "contradicts" => "it was hot and frozen on one day. Look again, and note what is right.",
        "clock_went_back" => "the clock of the probe went back. Set it.",
        _ => "it does not fit the rest.",
    })
}

/// Days as a person says them: single below a fortnight, else weeks.
fn days(n: f64) -> String {
    let whole = n.abs().round();
    match whole {
        1.0 => "1 day".into(),
        n if n < 14.0 => format!("{n:.0} days"),
        n => format!("{:.0} weeks", (n / 7.0).round()),
    }
}

fn between(from: Date, to: Date) -> f64 {
    to.since(from).map_or(0.0, |s| f64::from(s.get_days()))
}

/// What a look changed of a window: early, middle, late, before and after.
pub(crate) fn window_changed(before: [Option<Date>; 3], after: [Option<Date>; 3]) -> Vec<String> {
    let mut said = Vec::new();
    match (before, after) {
        ([Some(e0), _, Some(l0)], [Some(e1), _, Some(l1)]) => {
            let shorter = between(e0, l0) - between(e1, l1);
            if shorter >= 1.0 {
                said.push(format!("the window is {} shorter", days(shorter)));
            } else if shorter <= -1.0 {
                said.push(format!("the window is {} longer", days(shorter)));
            }
        }
        ([_, _, None], [_, _, Some(_)]) => said.push("the window now ends within the year".into()),
        ([_, _, Some(_)], [_, _, None]) => {
            said.push("the window no longer ends within the year".into());
        }
        _ => {}
    }
    match (before[1], after[1]) {
        (Some(b), Some(a)) if between(b, a).abs() >= 1.0 => {
            let way = if a > b { "later" } else { "sooner" };
            said.push(format!("most likely {} {way}", days(between(b, a))));
        }
        (None, Some(_)) => said.push("most likely within the year now".into()),
        (Some(_), None) => said.push("most likely not within the year now".into()),
        _ => {}
    }
    said
}

/// Least change told: points of water, °C (choice: a squeeze tells five points, a hand some degrees).
const TOLD: (f64, f64) = (1.5, 2.0);

/// What was thought before and is thought now.
fn thought(before: &ForecastAnswer, after: &ForecastAnswer) -> Vec<String> {
    let (b, a) = (&before.inside, &after.inside);
    let mut said = Vec::new();
    let water = a.water_pct.mid - b.water_pct.mid;
    if water.abs() >= TOLD.0 {
        said.push(if water > 0.0 { "wetter" } else { "drier" }.to_owned());
    }
    let warm = a.core_c.mid - b.core_c.mid;
    if warm.abs() >= TOLD.1 {
        said.push(if warm > 0.0 { "warmer" } else { "cooler" }.to_owned());
    }
    let left = a.recognisable_pct.mid - b.recognisable_pct.mid;
    if left.abs() >= 5.0 {
        said.push(if left > 0.0 { "slower" } else { "further on" }.to_owned());
    }
    match said.as_slice() {
        [] => said,
        _ => vec![format!("Inside it is {} than we thought.", list(&said))],
    }
}

fn bed(a: &ForecastAnswer) -> [Option<Date>; 3] {
    a.rungs
        .iter()
        .find(|r| r.rung == BED)
        .map_or([None; 3], |r| [r.early, r.middle, r.late])
}

/// What a look changed, in one sentence.
pub(crate) fn changed(before: &ForecastAnswer, after: &ForecastAnswer) -> String {
    let window = window_changed(bed(before), bed(after));
    let mut said = thought(before, after);
    if !window.is_empty() || said.is_empty() {
        said.insert(0, sentence(&window));
    }
    said.join(" ")
}

/// What changed since a forecast was given.
pub(crate) fn changed_since(given: &Given, after: &ForecastAnswer) -> String {
    sentence(&window_changed(given.window, bed(after)))
}

fn sentence(said: &[String]) -> String {
    if said.is_empty() {
        "It fits what we thought: the window for planted beds stays as it was.".into()
    } else {
        format!("For planted beds: {}.", said.join("; "))
    }
}

/// A reading as a thing to do.
pub(crate) fn look_at(reading: &str) -> &'static str {
    match reading {
        "card" => "A look at the card",
        "squeeze" => "A squeeze of a handful",
        "level" => "A look at the level",
        "core" => "A thermometer in the middle",
        "warmth" => "A hand held in",
        "smell" => "A sniff at the door",
        "weight" => "Its weight",
        _ => "A look",
    }
}

/// The reading worth taking now: "A look at the card in Far would shorten the window by about 5 days."
pub(crate) fn worth(a: &ForecastAnswer) -> Option<String> {
    let best = best(&a.worth)?;
    Some(format!(
        "{} in {} would shorten the window by about {}.",
        look_at(best.reading),
        a.chamber,
        days(best.days_shorter)
    ))
}

/// The best that a household without instruments can do; a scale or a probe only where it is worth twice as much.
pub(crate) fn best(all: &[WorthFacts]) -> Option<&WorthFacts> {
    let by_hand = all.iter().find(|w| !matches!(w.reading, "weight" | "core"));
    match (all.first(), by_hand) {
        (Some(first), Some(hand)) if first.days_shorter >= 2.0 * hand.days_shorter => Some(first),
        (_, Some(hand)) => Some(hand),
        (first, None) => first,
    }
    .filter(|w| w.days_shorter >= 2.0)
}

/// How past windows fared.
pub(crate) fn record(r: &RecordFacts) -> Option<String> {
    match (r.batches, r.inside) {
        (0, _) => None,
        (1, 1) => Some("Your last batch landed inside our window.".into()),
        (1, _) => Some("Your last batch landed outside our window.".into()),
        (n, k) => Some(format!(
            "Of your last {n} batches, {k} landed inside our window."
        )),
    }
}

/// What readings did to a forecast, in one sentence.
pub(crate) fn rests_on(a: &ForecastAnswer) -> String {
    let day = a
        .learnt
        .latest
        .map(|d| d.strftime("%-d %B").to_string())
        .unwrap_or_default();
    let aside = match a.learnt.aside {
        0 => String::new(),
        1 => " One more cannot be and does not count.".into(),
        n => format!(" {n} more cannot be and do not count."),
    };
    match a.learnt.used {
        0 => format!("This is arithmetic, not a look inside.{aside}"),
        1 => format!("One reading has moved it, of {day}.{aside}"),
        n => format!("{n} readings have moved it, the latest of {day}.{aside}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn a_change_is_said_in_no_finer_words_than_days() {
        let d = |m, day| Some(date(2026, m, day));
        let before = [d(5, 1), d(5, 20), d(6, 20)];
        assert_eq!(
            window_changed(before, [d(5, 5), d(5, 16), d(6, 15)]),
            ["the window is 9 days shorter", "most likely 4 days sooner"]
        );
        assert_eq!(
            window_changed(before, [d(5, 1), d(5, 20), d(7, 20)]),
            ["the window is 4 weeks longer"]
        );
        assert_eq!(
            window_changed([d(5, 1), None, None], before),
            [
                "the window now ends within the year",
                "most likely within the year now"
            ]
        );
        assert!(window_changed(before, before).is_empty());
    }

    #[test]
    fn a_hand_comes_before_a_scale() {
        let worth = |reading, days_shorter| WorthFacts {
            reading,
            rung: BED,
            days_shorter,
        };
        let all = [worth("core", 6.0), worth("card", 5.0)];
        assert_eq!(best(&all).map(|w| w.reading), Some("card"));
        let all = [worth("core", 12.0), worth("card", 5.0)];
        assert_eq!(best(&all).map(|w| w.reading), Some("core"));
        assert!(best(&[worth("card", 1.2)]).is_none());
        assert!(best(&[]).is_none());
    }

    #[test]
    fn a_record_is_counted_not_praised() {
        let of = |batches, inside| record(&RecordFacts { batches, inside });
        assert_eq!(of(0, 0), None);
        assert_eq!(
            of(6, 5).as_deref(),
            Some("Of your last 6 batches, 5 landed inside our window.")
        );
        assert!(of(1, 0).unwrap().contains("outside"));
    }
}
