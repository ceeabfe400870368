//! `forecast`: as JSON; its sentences stand in `words::when`.

use std::fmt::Write as _;

use desk::{Assumed, ForecastAnswer};
use serde_json::{Map, Value, json};
use units::Spread;

use crate::words::{Tongue, check, inside, when};

/// As a gardener reads it in a terminal: what it takes for granted first.
pub(super) fn text(a: &ForecastAnswer, tongue: Tongue) -> String {
    let mut out = String::new();
    _ = writeln!(out, "{}. {}", a.chamber, check::rests_on(a));
    _ = writeln!(out, "It takes for granted:");
    for line in when::assumed(a, |litres| tongue.size(litres)) {
        _ = writeln!(out, "  {line}");
    }
    if let Some(bed) = when::rung_asked(a, when::BED) {
        _ = writeln!(out, "\n{}", when::window(a, bed).join(" "));
        _ = writeln!(out, "{} [forecast.rung]", when::decision(a, bed));
    }
    if let Some(text) = check::worth(a) {
        _ = writeln!(out, "{text} [check.worth]");
    }
    if let Some(text) = check::record(&a.record) {
        _ = writeln!(out, "{text}");
    }
    _ = writeln!(out, "\nFit for:");
    for rung in &a.rungs {
        let (name, window) = (when::rung(rung.rung), when::rung_window(a, rung));
        _ = writeln!(
            out,
            "  {name:<14} {:>2} of 20 by now. {window}",
            rung.in_twenty_by_now
        );
    }
    let moves = when::moves(a);
    if !moves.is_empty() {
        _ = writeln!(
            out,
            "\nWhat would move the day for planted beds [forecast.moves]:"
        );
        for (act, moved) in moves {
            _ = writeln!(out, "  {moved:<24} {act}");
        }
    }
    _ = writeln!(out, "\nInside now: {}", inside::sentence(a, tongue));
    _ = writeln!(out, "{}", inside::turning(a).join(" "));
    out
}

fn spread(s: Spread) -> Value {
    json!({"low": s.low, "mid": s.mid, "high": s.high})
}

/// Not a number and infinity have no place in JSON.
fn finite(value: f64) -> Value {
    if value.is_finite() {
        json!(value)
    } else {
        Value::Null
    }
}

/// Quantiles by name, as `{p5, p50, p95}`.
pub(crate) fn summed(all: &[(&'static str, [f64; 3])]) -> Map<String, Value> {
    all.iter()
        .map(|(name, [p5, p50, p95])| {
            let value = json!({"p5": finite(*p5), "p50": finite(*p50), "p95": finite(*p95)});
            ((*name).to_owned(), value)
        })
        .collect()
}

fn assumed(a: &Assumed) -> Value {
    match a {
        Assumed::Town(town) => json!({"what": "climate_of_town", "town": town}),
        Assumed::Latitude(latitude) => json!({"what": "climate_of_latitude", "latitude": latitude}),
        Assumed::NoPlace(town) => json!({"what": "no_place_given", "town": town}),
        Assumed::NothingMore => json!({"what": "nothing_more_goes_in"}),
        Assumed::Turned { every, noted } => {
            json!({"what": "turned", "every_days": every, "noted": noted})
        }
        Assumed::TurnedBetween(every) => {
            json!({"what": "turned_where_not_noted", "every_days": every})
        }
        Assumed::Observed { days, to } => {
            json!({"what": "weather_measured", "days": days, "to": to})
        }
        Assumed::Litres(litres) => json!({"what": "size_not_known", "litres": litres}),
        Assumed::UsualDrum => json!({"what": "usual_drum"}),
        Assumed::UsualBin => json!({"what": "usual_bin"}),
        Assumed::LeftOut(ids) => json!({"what": "left_out", "materials": ids}),
        Assumed::BeforeRecord => json!({"what": "begun_before_record"}),
        Assumed::Torn => json!({"what": "card_torn"}),
    }
}

/// The forecast as JSON; `wall_ms` is the time the whole answer took.
pub(crate) fn value(a: &ForecastAnswer, wall_ms: u128) -> Value {
    let mut all = summed(&a.summed);
    let ready: Map<String, Value> = a
        .rungs
        .iter()
        .map(|r| {
            let [p10, p50, p90] = r.days;
            (
                r.rung.to_owned(),
                json!({"p10": p10, "p50": p50, "p90": p90, "never_share": r.never}),
            )
        })
        .collect();
    let rungs: Vec<Value> = a
        .rungs
        .iter()
        .map(|r| {
            json!({
                "rung": r.rung, "early": r.early, "middle": r.middle, "late": r.late, "dots": r.dots,
                "never_share": r.never, "in_twenty_by_now": r.in_twenty_by_now,
            })
        })
        .collect();
    let i = &a.inside;
    let inside = json!({
        "core_c": spread(i.core_c), "shell_c": spread(i.shell_c), "air_c": spread(i.air_c),
        "water_pct": spread(i.water_pct), "litres": spread(i.litres), "mass_kg": spread(i.mass_kg),
        "cn": spread(i.cn), "air_space_pct": spread(i.air_space_pct), "oxygen_pct": spread(i.oxygen_pct),
        "clumped_pct": spread(i.clumped_pct), "acids_g_kg": spread(i.acids_g_kg),
        "uptake_mg_g_d": spread(i.uptake), "recognisable_pct": spread(i.recognisable_pct),
        "nitrogen_lost_pct": spread(i.nitrogen_lost_pct),
    });
    let weeks: Vec<Value> = a
        .weeks
        .iter()
        .map(|w| {
            json!({
                "date": w.date, "core_c": spread(w.core_c), "air_c": w.air_c,
                "water_pct": spread(w.water_pct), "litres": spread(w.litres), "cn": spread(w.cn),
                "recognisable_pct": spread(w.recognisable_pct),
            })
        })
        .collect();
    let moves: Vec<Value> = a
        .moves
        .iter()
        .map(|m| json!({"act": m.act, "days_sooner": m.days, "doubt_days": m.doubt}))
        .collect();
    let missing: Vec<&String> = a
        .assumed
        .iter()
        .filter_map(|x| match x {
            Assumed::LeftOut(ids) => Some(ids),
            _ => None,
        })
        .flatten()
        .collect();
    for (name, value) in [
        ("schema", json!("loamwright/forecast/1")),
        ("chamber", json!(a.chamber)),
        ("state", json!(a.state)),
        ("first_feed", json!(a.first_feed)),
        ("last_feed", json!(a.last_feed)),
        ("today", json!(a.today)),
        ("assumed", a.assumed.iter().map(assumed).collect()),
        ("ready_day", Value::Object(ready)),
        ("rungs", json!(rungs)),
        ("inside", inside),
        ("turning", json!(a.turning)),
        ("weeks", json!(weeks)),
        ("moves", json!(moves)),
        ("members", json!(a.members)),
        ("seed", json!(a.seed)),
        (
            "learnt",
            json!({
                "readings": a.learnt.used, "set_aside": a.learnt.aside, "latest": a.learnt.latest,
                "stretch": a.learnt.stretch, "stretch_rests_on": a.learnt.stretch_rests_on,
            }),
        ),
        ("worth_taking", super::check::worth(a)),
        (
            "record",
            json!({"batches": a.record.batches, "inside": a.record.inside}),
        ),
        ("wall_ms", json!(wall_ms)),
        ("horizon_days", json!(a.horizon_days)),
        ("missing", json!(missing)),
    ] {
        all.insert(name.into(), value);
    }
    Value::Object(all)
}
