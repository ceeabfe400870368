//! A chamber for the next person, in sentences: what is in it, what it is fit for, what to do and when.

use desk::{Assumed, ForecastAnswer, HandedOver, HandoverAnswer, ReadyAnswer, Tubs, Within};
use units::Spread;

use super::{Tongue, amount, capital, check, household, inside, list, lower, ready, season, when};

/// What a chamber holds, how heavy that is and how it is carried.
pub(crate) fn holds(c: &HandedOver, tongue: Tongue) -> Vec<String> {
    let of = c.chamber.litres.map_or_else(
        || "of unknown size".into(),
        |l| format!("of {}", tongue.size(l)),
    );
    match &c.within {
        Within::Empty => vec![format!("Empty: a chamber {of}.")],
        Within::Soon => vec![format!(
            "A chamber {of}. What is in it is being worked out: look again in a moment."
        )],
        Within::NotFollowed(why) => vec![format!("A chamber {of}."), capital(&format!("{why}."))],
        Within::Known { forecast, tubs, .. } => {
            let i = &forecast.inside;
            vec![
                format!(
                    "In a chamber {of}, by arithmetic: {}, {}.",
                    tongue.mass(Some(i.mass_kg)),
                    tongue.volume(Some(i.litres))
                ),
                carried(tubs, tongue),
            ]
        }
    }
}

/// "That is 3 to 4 tubs or bags of about 20 L: 12 kg each."
fn carried(t: &Tubs, tongue: Tongue) -> String {
    let many = match t.count {
        (1, 1) => "1 tub".to_owned(),
        (few, most) if few == most => format!("{few} tubs"),
        (few, most) => format!("{few} to {most} tubs"),
    };
    format!(
        "That is {many} or bags of about {}: {} each.",
        tongue.size(t.litres),
        tongue.weight(t.kg)
    )
}

/// What it may be used for today, with the chance of each use.
pub(crate) fn fit(a: &ReadyAnswer) -> Vec<String> {
    let [act, reason, _] = ready::headline(a);
    let all: Vec<String> = a
        .rungs
        .iter()
        .filter_map(|r| {
            let held = if r.holds.is_empty() {
                ""
            } else {
                ", not shown yet"
            };
            Some(format!("{} {}{held}", when::rung(r.rung), r.in_twenty()?))
        })
        .collect();
    let mut said = vec![act, reason];
    // Where everything is held back, the reason says it all.
    if !all.is_empty() && a.rungs.iter().any(|r| r.holds.is_empty()) {
        said.push(format!(
            "Chances in 20, by forecast and tests: {}.",
            all.join("; ")
        ));
    }
    said
}

/// What to do next, and when.
pub(crate) fn next(a: &HandoverAnswer, c: &HandedOver, tongue: Tongue) -> Vec<String> {
    let forecast = match &c.within {
        Within::Known { forecast, .. } => Some(forecast.as_ref()),
        _ => None,
    };
    match c.chamber.state {
        "filling" => filling(a, c, forecast, tongue),
        "closed" => {
            let mut said = vec!["Put nothing in: it finishes.".to_owned()];
            if let Some(f) = forecast {
                said.push(inside::turning_in_short(f));
                said.extend(bed(f));
            }
            said
        }
        _ => vec!["Begin here when the other is closed: torn card first, then scraps.".into()],
    }
}

fn filling(
    a: &HandoverAnswer,
    c: &HandedOver,
    forecast: Option<&ForecastAnswer>,
    tongue: Tongue,
) -> Vec<String> {
    let name = &c.chamber.name;
    let mut said = Vec::new();
    if a.tip_into.as_ref() == Some(name) {
        let browns: Vec<String> = a
            .browns
            .iter()
            .map(|d| format!("{} of {}", amount(d, a.caddy_l, tongue), lower(&d.name)))
            .collect();
        said.push(if browns.is_empty() {
            "Scraps go in here, with torn card or dry leaves.".into()
        } else {
            format!("Scraps go in here. With a full caddy: {}.", list(&browns))
        });
    }
    let planned = a.season.as_deref().and_then(|s| {
        let change = s.changes.first().filter(|change| change.close == *name)?;
        s.first_over().map(|_| season::change(s, change))
    });
    said.push(
        planned.unwrap_or_else(|| "Close it when it is four fifths full, and rest it.".into()),
    );
    if let Some(f) = forecast {
        said.push(inside::turning_in_short(f));
        said.push("Nobody goes on? Close it today, and turn it once a week.".into());
        said.extend(when::rung_asked(f, when::BED).map(|bed| {
            let all = when::window(f, bed);
            all.into_iter().take(2).collect::<Vec<_>>().join(" ")
        }));
    }
    said
}

/// When to test a closed chamber, and what to promise.
fn bed(f: &ForecastAnswer) -> Option<String> {
    let bed = when::rung_asked(f, when::BED)?;
    Some(format!(
        "{} {}",
        when::window(f, bed).into_iter().next().unwrap_or_default(),
        when::decision(f, bed)
    ))
}

/// The last look of each kind, and what nobody looked at.
pub(crate) fn known(c: &HandedOver, tongue: Tongue) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    let looks: Vec<String> = c
        .looks
        .iter()
        .map(|(seen, day)| {
            format!(
                "{} ({})",
                check::echo(seen, tongue),
                day.strftime("%-d %b %Y")
            )
        })
        .collect();
    if !looks.is_empty() {
        said.push(format!("Last looks: {}.", looks.join("; ")));
    }
    let never: Vec<String> = c.never.iter().map(|n| reading(n).to_owned()).collect();
    if !never.is_empty() {
        said.push(format!("Not looked at in this batch: {}.", list(&never)));
    }
    if let Within::Known { forecast, .. } = &c.within {
        let unsure = forecast.assumed.iter().filter(|x| is_unknown(x));
        said.extend(unsure.map(|x| when::taken(x, |l| tongue.size(l))));
    }
    said
}

/// Whether something is taken for granted because nobody said it.
fn is_unknown(x: &Assumed) -> bool {
    matches!(
        x,
        Assumed::NoPlace(_)
            | Assumed::Litres(_)
            | Assumed::Turned { noted: false, .. }
            | Assumed::LeftOut(_)
            | Assumed::BeforeRecord
    )
}

fn reading(name: &str) -> &'static str {
    match name {
        "level_pct" => "its level",
        "squeeze" => "a squeezed handful",
        "core_c" => "its warmth",
        "card" => "the card still to be seen",
        "smell" => "its smell",
        _ => "its weight",
    }
}

/// What went in most, "Begun 20 March 2026. Most of what went in: 41 kg of mixed raw kitchen scraps; 6 kg of torn card.".
pub(crate) fn kinds(c: &HandedOver, tongue: Tongue) -> Option<String> {
    let most: Vec<String> = c
        .chamber
        .kinds
        .iter()
        .take(3)
        .map(|(name, kg)| format!("{} of {}", tongue.weight(*kg), lower(name)))
        .collect();
    let since = c.chamber.since.as_ref()?;
    (!most.is_empty()).then(|| format!("Begun {since}. Most of what went in: {}.", most.join("; ")))
}

/// How the record is passed on.
pub(crate) fn record(a: &HandoverAnswer) -> Vec<String> {
    let entries = match a.entries {
        1 => "1 entry".to_owned(),
        n => format!("{n} entries"),
    };
    vec![
        format!("The log holds {entries}. Its page exports them all as one file."),
        "The next person imports that file on the log page of their own machine.".into(),
        "It names your place and what you eat: give it only to somebody you trust.".into(),
    ]
}

/// Cautions, and the local rules that were noted.
pub(crate) fn care(a: &HandoverAnswer, tongue: Tongue) -> Vec<String> {
    let mut said = vec![
        format!(
            "Lift no more than {} at once, with a straight back and bent knees. Two carry better.",
            tongue.weight(desk::TUB_KG)
        ),
        "Empty a drum before you move it. Keep fingers clear of doors and hinges.".to_owned(),
        "Wet dry compost before you open it: its dust carries mould spores. Wear gloves.".into(),
        "No figure here says that it is free of germs. Wash hands, and what grows in it.".into(),
    ];
    said.extend(household::noted(&a.rules, tongue));
    said.push(household::ASK.into());
    said
}

/// Mass as JSON and words have it: low, middle, high.
pub(crate) fn inside_of(c: &HandedOver) -> Option<(Spread, Spread)> {
    match &c.within {
        Within::Known { forecast, .. } => Some((forecast.inside.mass_kg, forecast.inside.litres)),
        _ => None,
    }
}
