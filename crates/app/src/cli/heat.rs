//! `heat`: the record of a batch as text and as JSON.

use std::fmt::Write as _;

use desk::{HeatAnswer, HeatHours};
use serde_json::{Value, json};

use crate::words::inside::degrees;
use crate::words::{Tongue, heat, when};

/// As text.
pub(super) fn text(a: &HeatAnswer, tongue: Tongue) -> String {
    let mut out = String::new();
    _ = writeln!(
        out,
        "{}, {} to {}.",
        a.chamber,
        when::day(a.began),
        when::day(a.until)
    );
    _ = writeln!(out, "{} [heat.hours]", heat::headline(a, tongue));
    for line in heat::doubts(a) {
        _ = writeln!(out, "{line}");
    }
    for (name, hours) in [("Core", Some(a.core)), ("Shell", a.shell)] {
        let Some(h) = hours.filter(heat::told) else {
            continue;
        };
        let warmest = h
            .warmest_c
            .map_or_else(String::new, |c| format!(", warmest {}", degrees(c, tongue)));
        _ = writeln!(
            out,
            "  {name}: {} at {} or more, {} weighted, of {} known; {} readings{warmest}.",
            heat::hours(h.plain),
            degrees(55.0, tongue),
            heat::hours(h.weighted),
            heat::hours(h.known),
            h.readings
        );
    }
    _ = writeln!(out, "{} [heat.turns]", heat::turnings(a));
    _ = writeln!(
        out,
        "\nCriteria beside it, heat and turnings only [heat.yardstick]:"
    );
    for y in &a.yardsticks {
        let kind = if y.law { "law" } else { "yardstick" };
        let seen = if y.seen {
            ""
        } else {
            " (recalled, not checked)"
        };
        _ = writeln!(
            out,
            "  {}: {}. It asks {}; {kind} for {}{seen}.",
            y.name,
            heat::met(y.met),
            tongue.warm(y.condition),
            y.reach,
        );
    }
    _ = writeln!(out, "\nWeeds and plant disease:");
    for (id, met) in a.bands {
        _ = writeln!(out, "  {}", heat::band(id, met, tongue));
    }
    _ = writeln!(out, "  {}", heat::NEVER);
    _ = writeln!(out, "\n{}", heat::LAW);
    out
}

fn hours(h: &HeatHours) -> Value {
    let known = |v: f64| heat::told(h).then_some(v);
    json!({
        "hours_ge_55": known(h.plain), "weighted_hours": known(h.weighted),
        "log_reduction": known(h.log_reduction), "known_hours": h.known, "warmest_c": h.warmest_c,
        "readings": h.readings,
    })
}

/// As JSON. The hours on top are those of the colder place.
pub(crate) fn value(a: &HeatAnswer) -> Value {
    let places = [Some(a.core), a.shell];
    let known = places.iter().flatten().all(heat::told);
    let least = |of: fn(&HeatHours) -> f64| {
        let all = places
            .iter()
            .flatten()
            .map(of)
            .fold(f64::INFINITY, f64::min);
        known.then_some(all)
    };
    let (plain, weighted) = (least(|h| h.plain), least(|h| h.weighted));
    let yardsticks: Vec<Value> = a
        .yardsticks
        .iter()
        .map(|y| {
            json!({
                "id": y.id, "name": y.name, "law_or_yardstick": if y.law { "law" } else { "yardstick" },
                "binds": y.reach, "household": if y.exempt { "exempt" } else { "yardstick_only" },
                "condition": y.condition, "met": y.met.known(), "state": y.met.as_str(),
                "not_compared": y.also, "grade": if y.seen { "seen" } else { "recalled, not checked" },
                "source": y.source,
            })
        })
        .collect();
    let readings: Vec<Value> = a
        .readings
        .iter()
        .map(|r| json!({"at": r.at, "celsius": r.celsius, "place": r.place}))
        .collect();
    let bands: Vec<Value> = a
        .bands
        .iter()
        .map(|(id, met)| json!({"band": id, "met": met.known(), "state": met.as_str()}))
        .collect();
    let mut missing = Vec::new();
    if plain.is_none() {
        missing.extend(["hours_ge_55", "weighted_hours"]);
    }
    if a.core_only() {
        missing.push("shell");
    }
    json!({
        "schema": "loamwright/heat/1", "chamber": a.chamber, "state": a.state, "began": a.began,
        "until": a.until, "span_hours": a.span_h, "hours_ge_55": plain, "weighted_hours": weighted,
        "graded_hours": known.then_some(a.graded_h), "reaches_72_h": known.then_some(a.reaches),
        "turnings": a.turned, "turns_between": a.turns_between,
        "never_heated_pct": a.never_heated_pct.map(|[low, mid, high]| json!({"low": low, "mid": mid, "high": high})),
        "core_only": a.core_only(), "core": hours(&a.core), "shell": a.shell.as_ref().map(hours),
        "readings": readings, "set_aside": a.set_aside, "yardsticks": yardsticks, "bands": bands,
        "fed_kg": a.fed_kg, "feeds": a.feeds,
        "kinds": a.kinds.iter().map(|(name, kg)| json!({"name": name, "kg": kg})).collect::<Vec<_>>(),
        "law": heat::LAW, "missing": missing,
    })
}
