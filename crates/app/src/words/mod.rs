//! Facts into sentences: action first, reason second, doubt third.

mod american;
mod number;
mod tongue;

pub(crate) use american::{american_lines, american_page};
pub(crate) use number::{amount, measure, range};
pub(crate) use tongue::{CUP_L, Kind, QUART_L, Tongue, unit_named};

use desk::{DoseAnswer, DoseLine, Line, Mix, Reading};

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

fn list(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

fn lower(name: &str) -> String {
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

/// The dose in three sentences.
pub(crate) fn dose_lines(a: &DoseAnswer, tongue: Tongue) -> Told {
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
            if u.text
                .trim_start_matches(['-', '−'])
                .starts_with(|c: char| c.is_ascii_digit())
                && near.is_empty()
            {
                let (kg, litres) = (
                    units::ranges::PORTION_KG.most,
                    units::ranges::PORTION_L.most,
                );
                return format!(
                    "`{}` cannot be an amount here; say more than 0, at most {} or {}.",
                    u.text,
                    tongue.weight(kg),
                    tongue.size(litres)
                );
            }
            match (u.ambiguous, near.is_empty()) {
                (true, _) => format!("`{}` could be {}. Say which.", u.text, near.join(" or ")),
                (false, true) => format!("`{}` is not known here.", u.text),
                (false, false) => format!(
                    "`{}` is not known here. Did you mean {}?",
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
