//! Answers as a gardener reads them in a terminal.

use std::fmt::Write as _;

use desk::{
    AddAnswer, CardFacts, Desk, DoseAnswer, LogLine, LookAnswer, Mix, MixAnswer, Reading,
    TodayAnswer, WhyAnswer,
};

use crate::words::{self, Tongue};

fn reading(out: &mut String, r: &Reading, tongue: Tongue) {
    for line in &r.items {
        _ = writeln!(out, "  {}", words::line(line, tongue));
    }
    for line in &r.refused {
        _ = writeln!(
            out,
            "  {} → {} stays out. {}",
            line.text, line.name, line.caution
        );
    }
    for line in words::not_understood(r, tongue) {
        _ = writeln!(out, "  {line}");
    }
}

fn mix_table(out: &mut String, m: &Mix, tongue: Tongue) {
    for (name, value, id) in words::mix_lines(m, tongue) {
        _ = writeln!(out, "  {name:<15} {value:<20} [{id}]");
    }
}

pub(super) fn mix(a: &MixAnswer, tongue: Tongue) -> String {
    let mut out = String::new();
    reading(&mut out, &a.read, tongue);
    if a.read.items.is_empty() {
        out.push_str("\nNothing of it goes in, so there is no mix.\n");
    } else {
        out.push_str("\nThis mix:\n");
        mix_table(&mut out, &a.mix, tongue);
    }
    out
}

pub(super) fn dose(a: &DoseAnswer, card: Option<&CardFacts>, tongue: Tongue) -> String {
    let mut out = String::new();
    let told = words::dose_lines(a, tongue);
    _ = writeln!(out, "{}\n{}\n{}", told.action, told.reason, told.doubt);
    for line in words::beside(a, tongue) {
        _ = writeln!(out, "{line}");
    }
    if let Some(line) = words::without(a) {
        _ = writeln!(out, "{line}");
    }
    for line in card.map(|c| words::card::lines(a, c)).unwrap_or_default() {
        _ = writeln!(out, "{line}");
    }
    _ = writeln!(out, "\nUnderstood:");
    reading(&mut out, &a.read, tongue);
    if a.read.items.is_empty() && a.chamber.is_none() {
        return out;
    }
    if let Some(chamber) = &a.chamber {
        _ = writeln!(
            out,
            "  and what went into {chamber}; drying and rotting are not counted"
        );
    }
    for line in &a.unknown_stock {
        _ = writeln!(out, "  `{}` in the stock is not known here.", line.text);
    }
    let at_hand: Vec<String> = a
        .at_hand
        .iter()
        .filter(|s| s.material != "water-plain")
        .map(|s| {
            s.litres.map_or_else(
                || s.name.clone(),
                |l| format!("{} {}", s.name, tongue.size(l)),
            )
        })
        .collect();
    _ = writeln!(out, "At hand: {}", at_hand.join(", "));
    _ = writeln!(out, "\n  {:<15} {:<20} after", "", "before");
    for ((name, before, id), (_, after, _)) in words::mix_lines(&a.before, tongue)
        .into_iter()
        .zip(words::mix_lines(&a.after, tongue))
    {
        _ = writeln!(out, "  {name:<15} {before:<20} {after:<20} [{id}]");
    }
    _ = writeln!(
        out,
        "  good: wetness 50–62 % [window.water], C:N 25–40 [window.cn], air 35 % or more [window.air]"
    );
    _ = writeln!(out, "  amounts: [dose.amount]");
    out
}

pub(super) fn look(a: &LookAnswer) -> String {
    let mut out = String::new();
    for m in &a.matches {
        _ = writeln!(out, "{}: {}", m.name, words::verdict(m.verdict));
        if let Some(cap) = m.cap_pct {
            _ = writeln!(out, "  at most {cap:.0} % of the week's feed by weight");
        }
        for text in [&m.preparation, &m.caution]
            .into_iter()
            .filter(|t| !t.is_empty())
        {
            _ = writeln!(out, "  {text}");
        }
        if let Some(local) = words::household::food(m.local) {
            _ = writeln!(out, "  {local}");
        }
        _ = writeln!(
            out,
            "  {}; C:N {}",
            words::role(m.role),
            words::range(m.cn, "")
        );
        for f in &m.figures {
            let value = words::range(Some(units::Spread::new(f.low, f.value, f.high)), "");
            _ = writeln!(
                out,
                "  {:<26} {value} {}  [{}] {}",
                f.property, f.unit, f.id, f.grade
            );
        }
        let (yes, no): (Vec<_>, Vec<_>) = m.lists.iter().partition(|l| l.agrees);
        if !m.lists.is_empty() {
            _ = writeln!(
                out,
                "  published lists: {} agree, {} differ",
                yes.len(),
                no.len()
            );
        }
        for l in no {
            _ = writeln!(out, "    {} {}. {}", l.source, l.says, l.why);
        }
    }
    if a.matches.is_empty() {
        _ = writeln!(out, "`{}` is not known here.", a.asked);
    }
    if a.matches.len() > 1 {
        _ = writeln!(out, "Several things go by that name. Say which.");
    }
    if !a.near.is_empty() {
        let near: Vec<_> = a.near.iter().map(|n| n.name.as_str()).collect();
        _ = writeln!(out, "Near: {}", near.join("; "));
    }
    out
}

pub(super) fn add(a: &AddAnswer, tongue: Tongue) -> String {
    let mut out = String::new();
    let again = if a.written {
        ""
    } else {
        " (it was there already)"
    };
    let when = a
        .read
        .when
        .as_ref()
        .map_or_else(String::new, |w| format!(", {w}"));
    _ = writeln!(out, "In {}{when}{again}:", a.chamber);
    reading(&mut out, &a.read, tongue);
    _ = writeln!(out, "Entry [{}]. Take it back with: loamwright undo", a.id);
    out
}

/// What an entry says: the words of a person as they are, the program's own through `own`.
fn noted(l: &LogLine, tongue: Tongue, own: &impl Fn(String) -> String) -> String {
    let text = words::log_text(l, tongue);
    if words::own_words(l) { text } else { own(text) }
}

pub(super) fn log(lines: &[LogLine], tongue: Tongue, own: impl Fn(String) -> String) -> String {
    let mut out = String::new();
    if lines.is_empty() {
        out.push_str("Nothing yet. Begin with: loamwright add \"full caddy\" --to Near\n");
    }
    for l in lines {
        let chamber = l.chamber.as_deref().unwrap_or("");
        let mark = if l.undone {
            " (undone)"
        } else if l.corrected {
            " (corrected)"
        } else {
            ""
        };
        let text = noted(l, tongue, &own);
        _ = writeln!(out, "{:<26} {chamber:<8} {text}{mark}  [{}]", l.at, l.id);
    }
    out
}

pub(super) fn undo(l: &LogLine, tongue: Tongue, own: impl Fn(String) -> String) -> String {
    format!(
        "Undone: {} {}. Bring it back by undoing the undo.\n",
        l.at,
        noted(l, tongue, &own)
    )
}

pub(super) fn why(a: &WhyAnswer) -> String {
    let mut out = format!("{}\n", a.title);
    if let Some(value) = &a.value {
        _ = writeln!(out, "  {value}");
    }
    for line in a.lines.iter().filter(|l| !l.is_empty()) {
        _ = writeln!(out, "  {line}");
    }
    for source in &a.sources {
        _ = writeln!(out, "  source: {source}");
    }
    if !a.rests_on.is_empty() {
        _ = writeln!(out, "  rests on: {}", a.rests_on.join(", "));
    }
    out
}

pub(super) fn today(a: &TodayAnswer, tongue: Tongue) -> String {
    let mut out = format!("{}\n", a.date);
    match &a.tip_into {
        Some(name) => _ = writeln!(out, "Tip tonight's caddy into {name}."),
        None => {
            _ = writeln!(
                out,
                "{}",
                if a.chambers.is_empty() {
                    "No chamber has a name yet. Begin with: loamwright add \"full caddy\" --to Near"
                } else {
                    "No chamber is filling or empty. Empty one, or name another on the household page."
                }
            )
        }
    }
    if let Some(days) = a.days_since_last {
        let said = match days {
            0 => "today".into(),
            1 => "yesterday".into(),
            n => format!("{n} days ago"),
        };
        _ = writeln!(
            out,
            "Last entry: {said}. Empty the caddy every two to four days."
        );
    }
    if let Some(usual) = &a.usual {
        let told = words::dose_lines(usual, tongue);
        _ = writeln!(out, "With a full caddy of mixed scraps: {}", told.action);
    }
    for c in &a.chambers {
        let since = c
            .since
            .as_ref()
            .map_or_else(String::new, |s| format!(" since {s}"));
        let level = c
            .level
            .as_ref()
            .map_or_else(String::new, |(l, on)| format!(", level {l:.0} % on {on}"));
        let turned = if a.turned_today.contains(&c.name) {
            ", turned today"
        } else {
            ""
        };
        _ = writeln!(out, "  {}: {}{since}{level}{turned}", c.name, c.state);
    }
    out
}

pub(super) fn demo(desk: &Desk, a: &DoseAnswer) -> String {
    format!(
        "{}. An invented household: Ines and Joris, a two-chamber drum in a courtyard.\nTonight: {}\n\n{}",
        desk.today_text(),
        desk::TONIGHT,
        dose(a, None, Tongue::default())
    )
}
