//! Facts into sentences: action first, reason second, doubt third.

mod american;
pub(crate) mod card;
pub(crate) mod check;
mod dates;
pub(crate) mod handover;
pub(crate) mod heat;
pub(crate) mod household;
pub(crate) mod inside;
mod number;
pub(crate) mod put_right;
pub(crate) mod ready;
pub(crate) mod season;
mod tongue;
pub(crate) mod when;

pub(crate) use american::american_page;
pub(crate) use number::{amount, measure, range};
pub(crate) use tongue::{CUP_L, Kind, QUART_L, Tongue, names, unit_named};

use desk::{DoseAnswer, DoseLine, Line, LogLine, Mix, Reading};

/// What a dose says to a person.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Told {
    /// What to do.
    pub(crate) action: String,
    /// Why.
    pub(crate) reason: String,
    /// How sure.
    pub(crate) doubt: String,
}

/// Care with a shovel in finished or dry matter (moulds and Legionella in dust: the usual caution of health services).
pub(crate) const MOVING_CARE: &str = "Damp it first if it is dusty, do not breathe the dust, and wear gloves. Lift little at a time.";

/// Verdict as a short phrase.
pub(crate) fn verdict(word: &str) -> &'static str {
    match word {
        "yes" => "goes in",
        "prepare" => "goes in once prepared",
        "a_little" => "a little goes in",
        "hot_only" => "only into a hot batch",
        "not_here" => "not in this drum",
        "never" => "stays out",
        _ => "no verdict",
    }
}

/// Role as a short phrase.
pub(crate) fn role(word: &str) -> &'static str {
    match word {
        "feeds" => "feeds (a green)",
        "dries" => "dries (a brown)",
        "opens" => "opens (a coarse brown)",
        _ => "neither green nor brown",
    }
}

/// Window names as spoken.
pub(crate) fn limit(word: &str) -> &'static str {
    match word {
        "water" => "wetness",
        "carbon_nitrogen" => "C:N",
        "air" => "air",
        _ => "",
    }
}

/// "Near and Far".
pub(crate) fn list(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

pub(crate) fn lower(name: &str) -> String {
    let mut chars = name.chars();
    chars
        .next()
        .map_or_else(String::new, |c| c.to_lowercase().chain(chars).collect())
}

/// Amounts as one phrase: "about 2½ caddies (16 L) of torn card and 3 handfuls of dry leaves".
pub(crate) fn amounts(doses: &[DoseLine], caddy_l: f64, exact: bool, tongue: Tongue) -> String {
    let each: Vec<String> = doses
        .iter()
        .map(|d| {
            let name = lower(&d.name);
            if exact {
                format!("{} of {name}", number::exact_mass(d.kg, tongue))
            } else {
                format!("{} of {name}", amount(d, caddy_l, tongue))
            }
        })
        .collect();
    list(&each)
}

/// Amounts where the stock runs out: what is left below a handful goes in with the rest.
fn all_there_is(a: &DoseAnswer, tongue: Tongue) -> String {
    let each: Vec<String> = a
        .doses
        .iter()
        .map(|d| {
            let stock = a.at_hand.iter().find(|s| s.material == d.material);
            let whole = stock.and_then(|s| s.litres).filter(|stock| {
                let handful = d.litres.zip(d.handfuls).map_or(0.0, |(l, n)| l / n);
                d.litres.is_some_and(|l| l + handful > *stock)
            });
            match whole {
                Some(litres) => format!("{} of {}", tongue.size(litres), lower(&d.name)),
                None => amounts(std::slice::from_ref(d), a.caddy_l, a.exact, tongue),
            }
        })
        .collect();
    list(&each)
}

/// The dose in three sentences.
pub(crate) fn dose_lines(a: &DoseAnswer, tongue: Tongue) -> Told {
    if a.read.items.is_empty() && a.chamber.is_none() {
        return Told {
            action: "Leave it out, and add nothing.".into(),
            reason: "Nothing that was named goes in, so there is nothing to balance.".into(),
            doubt: "Say the rest without it.".into(),
        };
    }
    let what = amounts(&a.doses, a.caddy_l, a.exact, tongue);
    let after = format!(
        "Then: wetness {}, C:N {}, air {}.",
        range(a.after.water_pct, "%"),
        range(a.after.cn, ""),
        range(a.after.air_space_pct, "%")
    );
    let action = match (a.outcome, a.doses.is_empty()) {
        ("cannot", true) => "No mix of what is at hand does it.".to_owned(),
        ("cannot", false) if a.cause == Some("stock_too_small") => {
            let what = all_there_is(a, tongue);
            format!("Add all there is: {what}. It stays outside the windows.")
        }
        ("cannot", false) => format!("Nothing at hand brings it right. Best there is: {what}."),
        (_, true) => "Add nothing. The mix is in its windows.".to_owned(),
        _ => format!("Add {what}."),
    };
    let reason = match a.outcome {
        "cannot" => cause(a.cause.unwrap_or_default()).to_owned(),
        "compromise" => format!(
            "A compromise: {} asks for it, but no mix at hand meets every window. {after}",
            capital(limit(a.binding.unwrap_or("water")))
        ),
        _ => match a.binding {
            Some(b) => format!("{} asks for it. {after}", capital(limit(b))),
            None => after,
        },
    };
    let doubt = if a.exact {
        "Exact for the figures given; no doubt is counted in the amount.".to_owned()
    } else {
        let mut doubt = "A handful more or less does no harm.".to_owned();
        if a.read.items.iter().any(|l| l.assumed.is_some()) {
            doubt.push_str(" Some amounts were not said and were taken as usual.");
        }
        doubt
    };
    Told {
        action,
        reason,
        doubt,
    }
}

/// "Water-led" and "C:N-led" amounts beside a compromise.
pub(crate) fn beside(a: &DoseAnswer, tongue: Tongue) -> Vec<String> {
    [
        (desk::LedBy::Water, "For wetness alone"),
        (desk::LedBy::CarbonNitrogen, "For C:N alone"),
    ]
    .into_iter()
    .filter_map(|(led, label)| {
        let lines: Vec<DoseLine> = a
            .beside
            .iter()
            .filter(|d| d.led_by == led)
            .cloned()
            .collect();
        (!lines.is_empty())
            .then(|| format!("{label}: {}.", amounts(&lines, a.caddy_l, a.exact, tongue)))
    })
    .collect()
}

/// What the card buys, if a brown is dosed on a wet mix.
pub(crate) fn without(a: &DoseAnswer) -> Option<String> {
    let wetter = a
        .without_wet_points
        .filter(|_| !a.exact && !a.doses.is_empty())?;
    let water = a.before.water_pct?;
    let wetter = if wetter >= 1.0 {
        format!("wetness stays at {}", range(Some(water), "%"))
    } else {
        "it stays wetter".into()
    };
    Some(format!(
        "Without it: {wetter}, and of the nitrogen 8 to 27 parts in a hundred more are lost [dose.without]."
    ))
}

/// What was kept of a weather file, and what was made of it.
pub(crate) fn weather(a: &desk::WeatherAnswer) -> Vec<String> {
    let days = |n: usize| format!("{n} {}", if n == 1 { "day" } else { "days" });
    let mut all = vec![format!(
        "Weather kept: {}, {} to {}. Forecasts use it in place of drawn weather.",
        days(a.kept.count),
        when::day(a.kept.from),
        when::day(a.kept.to)
    )];
    if a.left_out.0 > 0 {
        all.push(format!(
            "Left out: {} over four years old.",
            days(a.left_out.0)
        ));
    }
    if a.left_out.1 > 0 {
        all.push(format!("Left out: {} yet to come.", days(a.left_out.1)));
    }
    all.extend(a.notes.iter().cloned());
    all
}

fn cause(word: &str) -> &'static str {
    match word {
        "too_wet" => "It is too wet, and nothing at hand dries it. Find card, paper or dry leaves.",
        "too_dry" => "It is too dry, and nothing at hand wets it. Add water by the cup.",
        "too_little_carbon" => {
            "It is short of carbon, and nothing at hand brings it. Find card or dry leaves."
        }
        "too_little_nitrogen" => {
            "It is all brown, and nothing at hand feeds it. Wait for kitchen scraps or grass."
        }
        "too_dense" => {
            "It is too dense for air, and nothing at hand opens it. Find torn card or twigs."
        }
        "stock_too_small" => "The right thing is at hand, but not enough of it. Lay in more.",
        "conflict" => {
            "Wetness and C:N pull apart with what is at hand. Another brown would settle it."
        }
        "target_out_of_reach" => {
            "The targets lie outside what these materials can make. An amount would be below nothing."
        }
        _ => "No mix of what is at hand reaches the windows.",
    }
}

/// A capital in front.
pub(crate) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars
        .next()
        .map_or_else(String::new, |c| c.to_uppercase().chain(chars).collect())
}

/// What an entry of the log says. The words of a person stay; amounts the program noted follow the measures
/// of the household.
pub(crate) fn log_text(l: &LogLine, tongue: Tongue) -> String {
    let amount = l.text.rsplit_once(' ').and_then(|(before, unit)| {
        let (before, number) = before.rsplit_once(' ')?;
        let number: f64 = number.parse().ok()?;
        let said = match unit {
            "L" => tongue.size(number),
            "kg" => tongue.weight(number),
            _ => return None,
        };
        Some(format!("{before} {said}"))
    });
    match l.kind.as_str() {
        "emptied" | "stock_set" if tongue.us => amount.unwrap_or_else(|| l.text.clone()),
        _ => l.text.clone(),
    }
}

/// Whether an entry of the log speaks in the words of a person rather than the program's.
pub(crate) fn own_words(l: &LogLine) -> bool {
    ["put_in", "note", "reading", "stock_moved", "own_figures"].contains(&l.kind.as_str())
}

/// A hint where a number in front may be what was not understood.
pub(crate) fn amount_hint(text: &str, tongue: Tongue) -> Option<String> {
    let text = text.trim_start().trim_start_matches(['-', '−', '+']);
    text.starts_with(|c: char| c.is_ascii_digit()).then(|| {
        format!(
            "An amount is more than 0 and at most {} or {}.",
            tongue.weight(units::ranges::PORTION_KG.most),
            tongue.size(units::ranges::PORTION_L.most)
        )
    })
}

/// A refusal of the desk in words; an entry is known by the id in its line of the log.
pub(crate) fn refusal(e: &desk::Error, tongue: Tongue) -> String {
    let text = e.to_string();
    match e {
        desk::Error::NothingUnderstood { text: typed, .. } => match amount_hint(typed, tongue) {
            Some(hint) => format!("{text} {hint}"),
            None => text,
        },
        desk::Error::Journal(_) => match text.split_once(" is not an event id") {
            Some((id, _)) => {
                format!("{id} is not the id of an entry; `loamwright log` shows the ids")
            }
            None => text,
        },
        _ => text,
    }
}

/// One understood portion as a line of text.
pub(crate) fn line(l: &Line, tongue: Tongue) -> String {
    let mut text = format!(
        "{} → {}, {}",
        l.text,
        lower(&l.name),
        measure(l.kg, l.litres, tongue)
    );
    if let Some(assumed) = &l.assumed {
        text.push_str(&format!(" (not said; taken as {assumed})"));
    }
    let flag = match l.verdict {
        "prepare" if !l.preparation.is_empty() => format!("first: {}", l.preparation),
        "a_little" => l.cap_pct.map_or_else(
            || "only a little".to_owned(),
            |cap| format!("at most {cap:.0} % of the week's feed"),
        ),
        "hot_only" | "not_here" | "never" => format!("{}. {}", verdict(l.verdict), l.caution),
        _ => String::new(),
    };
    if !flag.is_empty() {
        text.push_str(&format!(" — {flag}"));
    }
    text
}

/// What was not understood, as lines.
pub(crate) fn not_understood(r: &Reading, tongue: Tongue) -> Vec<String> {
    r.unknown
        .iter()
        .map(|u| {
            let near: Vec<String> = u.near.iter().map(|n| lower(&n.name)).collect();
            let hint = amount_hint(&u.text, tongue).filter(|_| !u.ambiguous);
            if let (Some(hint), true) = (&hint, near.is_empty()) {
                return format!("`{}` is not understood. {hint}", u.text);
            }
            let hint = hint.map_or_else(String::new, |hint| format!(" {hint}"));
            match (u.ambiguous, near.is_empty()) {
                (true, _) => format!("`{}` could be {}. Say which.", u.text, near.join(" or ")),
                (false, true) => format!("`{}` is not known here.", u.text),
                (false, false) => format!(
                    "`{}` is not understood. Did you mean {}?{hint}",
                    u.text,
                    near.join(", ")
                ),
            }
        })
        .collect()
}

/// A mix as lines: name, value, id for `why`.
pub(crate) fn mix_lines(m: &Mix, tongue: Tongue) -> Vec<(&'static str, String, &'static str)> {
    vec![
        ("mass", tongue.mass(m.mass_kg), "mix.mass"),
        ("volume", tongue.volume(m.volume_l), "mix.volume"),
        ("wetness", range(m.water_pct, "%"), "mix.water"),
        ("C:N", range(m.cn, ""), "mix.cn"),
        (
            "C:N degradable",
            range(m.cn_degradable, ""),
            "mix.cn_degradable",
        ),
        ("air space", range(m.air_space_pct, "%"), "mix.air_space"),
    ]
}
