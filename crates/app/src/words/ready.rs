//! "May I use it now?" in sentences: action first, reason second, doubt third.

use desk::{HoldFacts, NextFacts, ReadyAnswer, RungReady, TestFacts, TestResult};
use units::Spread;

use super::tongue::Tongue;
use super::when::rung as use_of;
use super::{capital, range};

/// Of twenty, from which a use is called likely (choice).
const LIKELY: usize = 13;

/// A chance in words.
pub(crate) fn likely(in_twenty: usize) -> &'static str {
    match in_twenty {
        ..=2 => "most likely not yet",
        3..=7 => "likely not yet",
        8..=12 => "could be either",
        13..=16 => "likely",
        _ => "most likely",
    }
}

/// A test by its name in JSON.
pub(crate) fn test(kind: &str) -> &'static str {
    match kind {
        "self_heating" => "flask",
        "bag" => "bag",
        "jar" => "jar",
        "seeds" | "seeds_without_control" => "seeds",
        "germination_index" | "vitality_index" => "roots",
        "ash" => "ash",
        _ => "test",
    }
}

/// The finest use that is likely and that nothing holds back.
pub(crate) fn best(a: &ReadyAnswer) -> Option<&RungReady> {
    a.rungs
        .iter()
        .rev()
        .find(|r| r.holds.is_empty() && r.in_twenty().is_some_and(|n| n >= LIKELY))
}

/// What to do, why, and how sure.
pub(crate) fn headline(a: &ReadyAnswer) -> [String; 3] {
    let Some(best) = best(a) else {
        let act = if a.state == "filling" {
            format!("Not yet: {} is still being fed.", a.chamber)
        } else {
            format!("Not yet: leave {} shut and test it again.", a.chamber)
        };
        let reason = a
            .rungs
            .first()
            .and_then(|r| hold(r).into_iter().next())
            .unwrap_or_else(|| "Not even mulch is likely enough.".into());
        return [act, reason, String::new()];
    };
    let n = best.in_twenty().unwrap_or_default();
    // A test that says nothing of this use does not count as one.
    let tested = !best.factors.is_empty();
    let act = if tested {
        format!("{} may go on {} now.", a.chamber, to(best.rung))
    } else {
        format!(
            "Test {} first; it may do for {}.",
            a.chamber,
            use_of(best.rung)
        )
    };
    let reason = format!(
        "{} fit for {}: {n} in 20.",
        capital(likely(n)),
        use_of(best.rung)
    );
    let held = a
        .rungs
        .iter()
        .skip_while(|r| r.rung != best.rung)
        .skip(1)
        .find(|r| !r.holds.is_empty() && r.in_twenty().is_some_and(|n| n >= LIKELY));
    let doubt = held.map_or_else(String::new, |r| {
        let why = hold(r).into_iter().next().unwrap_or_default();
        let verb = if r.rung == "planted_bed" || r.rung == "pots" || r.rung == "seed_trays" {
            "are"
        } else {
            "is"
        };
        format!("{} {verb} not shown yet. {why}", capital(use_of(r.rung)))
    });
    [act, reason, doubt]
}

/// Where it goes, behind "may go on".
fn to(rung: &str) -> &'static str {
    match rung {
        "mulch" => "the soil as mulch",
        "resting_bed" => "a resting bed",
        "planted_bed" => "planted beds",
        "pots" => "the potting bench, as a part of the mix",
        _ => "the potting bench, as a part of a seed mix",
    }
}

/// What holds a rung back, a sentence each.
pub(crate) fn hold(r: &RungReady) -> Vec<String> {
    r.holds
        .iter()
        .map(|h| match h {
            HoldFacts::Rest { days, needed } => {
                let days = days.round();
                let s = if days == 1.0 { "" } else { "s" };
                format!("Last fed {days:.0} day{s} ago; this use wants {needed:.0} days of rest.")
            }
            HoldFacts::Failed("bag") => {
                "The bag was not earthy enough for this. Give it two weeks and test again.".into()
            }
            HoldFacts::Failed("self_heating") => {
                "The flask warmed too far for this. Give it two weeks and test again.".into()
            }
            HoldFacts::Failed("jar") => {
                "It breathes too much for this. Give it two weeks and test again.".into()
            }
            HoldFacts::Failed(_) => {
                "Too few seedlings did well for this. Give it two weeks and sow again.".into()
            }
            HoldFacts::NoStabilityTest => "Not shown yet: no bag or flask test is noted.".into(),
            HoldFacts::NoPlantTest => {
                "Not shown yet: no seed test against plain mix is noted.".into()
            }
        })
        .collect()
}

/// What moved the chance from the forecast's.
pub(crate) fn reasons(r: &RungReady) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(n) = r.forecast_in_twenty {
        said.push(format!("The forecast alone: {n} of 20 runs."));
    }
    let mut push = |way: &str, of: &dyn Fn(f64) -> bool| {
        let names: Vec<String> = r
            .factors
            .iter()
            .filter(|(_, f)| of(*f))
            .map(|(kind, _)| format!("the {}", test(kind)))
            .collect();
        if !names.is_empty() {
            said.push(capital(&format!("{} {way}.", super::list(&names))));
        }
    };
    push("speaks for it", &|f| f > 1.15);
    push("hardly moves it", &|f| (0.87..=1.15).contains(&f));
    push("speaks against it", &|f| f < 0.87);
    said.into_iter().map(|s| agree(&s)).collect()
}

/// Plural verbs behind "seeds", "roots" and lists.
fn agree(text: &str) -> String {
    if text.contains(" and ") || text.starts_with("The seeds") || text.starts_with("The roots") {
        text.replace("speaks", "speak").replace("moves", "move")
    } else {
        text.to_owned()
    }
}

/// A rise of temperature as the household reads it.
pub(crate) fn rise(kelvin: f64, tongue: Tongue) -> String {
    if tongue.us {
        format!("{:.0} °F", kelvin * 1.8)
    } else {
        format!("{kelvin:.0} °C")
    }
}

fn percent(mid: f64, low: f64, high: f64) -> String {
    range(
        Some(Spread::new(
            low * 100.0,
            mid * 100.0,
            high.min(9.99) * 100.0,
        )),
        "%",
    )
}

/// What a test came to.
pub(crate) fn result(t: &TestFacts, tongue: Tongue) -> String {
    match &t.result {
        TestResult::Flask {
            rise_k,
            class,
            small,
            cut_short,
        } => {
            let mut said = format!(
                "Flask: {} warmer than the room, class {class} of I to V.",
                rise(*rise_k, tongue)
            );
            if *cut_short {
                said.push_str(" Under 5 days it can fail, but not pass.");
            } else if *small {
                said.push_str(" Its size is small or not said, so IV is the best it can show.");
            }
            said
        }
        TestResult::Bag("earthy") => "Bag: smells of earth. It passed.".into(),
        TestResult::Bag("swollen") => {
            "Bag: swollen. It still breathes; for mulch it may do.".into()
        }
        TestResult::Bag(smell) => format!("Bag: {smell}. It fell short."),
        TestResult::Seeds {
            pots: (up, sown),
            control,
            likely,
            ratio,
            ..
        } => match (control, ratio) {
            (Some((cu, cs)), Some((ratio, ends))) => format!(
                "Seeds: {up} of {sown} came up, {cu} of {cs} in plain mix. That is {} as many.{}",
                percent(*ratio, ends.low, ends.high),
                if ends.low < 0.9 && ends.high > 0.9 {
                    " It cannot tell yet whether nine of ten do."
                } else {
                    ""
                }
            ),
            _ => format!(
                "Seeds: {up} of {sown} came up, {}. Without plain mix beside it, it says less.",
                percent(f64::from(*up) / f64::from(*sown), likely.low, likely.high)
            ),
        },
        TestResult::Index { index } => format!(
            "Roots and seeds: index {index:.0} %. Above 80 is good; it differs much with the seed."
        ),
        TestResult::Jar {
            rates: [low, mid, high],
            class,
        } => format!(
            "Jar: {} of carbon a day for each gram of organic matter, {}.",
            range(Some(Spread::new(*low, *mid, *high)), "mg"),
            class.replace('_', " ")
        ),
        TestResult::Ash { lost, left } => format!(
            "Ash: about {:.0} % of the organic matter is gone, {:.0} % of the dry weight left.",
            lost * 100.0,
            left * 100.0
        ),
        TestResult::Void(why) => format!("Says nothing: {why}."),
    }
}

/// What to do next, and what it would tell.
pub(crate) fn next(n: &NextFacts) -> [String; 2] {
    let act = match n.test {
        "bag" => "Do the bag test next.",
        "self_heating" => "Do the flask test next.",
        _ => "Sow the seed test next.",
    };
    let [now, pass, fail] = n.chances.map(|c| ((c * 20.0).round() as usize).min(19));
    [
        act.into(),
        format!(
            "It tells most of {}: {now} in 20 now, {pass} after a pass, {fail} after a fail.",
            use_of(n.rung)
        ),
    ]
}

/// How each test is done, a name and sentences.
pub(crate) const HOW: [(&str, &[&str]); 3] = [
    (
        "Bag",
        &[
            "Wear gloves. Seal a damp handful in a bag for 5 to 7 days in a warm room.",
            "Open it outdoors, away from your face. Earth passes; sour, rotten or ammonia does not.",
        ],
    ),
    (
        "Seeds",
        &[
            "Fill two pots with half compost, half plain mix, and two with plain mix alone. Damp both first: no dust.",
            "Sow 10 cress or radish seeds in each. Count after a week.",
            "Were seedlings eaten, or did the pots dry out? Then sow again: that says nothing of the compost.",
        ],
    ),
    (
        "Flask",
        &[
            "Sieve out the lumps. Damp it until a squeeze gives one drop.",
            "Fill a wide vacuum flask, 1.5 litres or more, and put a thermometer in. Leave the lid loose.",
            "Read it daily for 5 to 10 days. Note the most it was above the room.",
        ],
    ),
];

/// Care where compost is handled.
pub(crate) const CARE: &str = "Wear gloves, and wet it before you open or sieve it: the dust carries mould spores and Legionella. Wash your hands after.";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chances_grow_in_words() {
        assert_eq!(likely(0), "most likely not yet");
        assert_eq!(likely(10), "could be either");
        assert_eq!(likely(19), "most likely");
    }

    #[test]
    fn the_demo_waits_for_a_bag_before_pots() {
        let desk = desk::Desk::demo().unwrap();
        let a = desk.ready(Some("Far"), Some(64)).unwrap();
        let pots = a.rungs.iter().find(|r| r.rung == "pots").unwrap();
        assert!(
            hold(pots)
                .iter()
                .any(|s| s.contains("no bag or flask test")),
            "{pots:?}"
        );
        let told = headline(&a).join(" ");
        assert!(told.contains("Far"), "{told}");
        for word in ["safe", "certified", "pathogen"] {
            assert!(!told.to_lowercase().contains(word));
        }
        let seeds = a.tests.iter().find(|t| t.counts).unwrap();
        let said = result(seeds, Tongue::default());
        assert!(
            said.contains("17 of 20") && said.contains("cannot tell yet"),
            "{said}"
        );
        let [act, tells] = next(&a.next.unwrap());
        assert!(
            act.contains("next") && tells.contains("in 20 now"),
            "{act} {tells}"
        );
    }
}
