//! `check`: what was seen, what it means, what it changed.

use std::fmt::Write as _;

use desk::{CheckAnswer, ForecastAnswer};
use serde_json::{Value, json};

use super::forecast;
use crate::words::{Tongue, check as words, when};

/// As a gardener reads it in a terminal.
pub(super) fn text(a: &CheckAnswer, tongue: Tongue) -> String {
    let mut out = String::new();
    let seen: Vec<String> = a
        .understood
        .iter()
        .map(|s| words::echo(s, tongue))
        .collect();
    _ = writeln!(out, "{}: {}.", a.chamber, seen.join("; "));
    for s in a.understood.iter().filter_map(|s| Some((s, s.assumed?))) {
        _ = writeln!(out, "  \"{}\": {}.", s.0.text, s.1);
    }
    for one in &a.set_aside {
        _ = writeln!(out, "  {}", words::aside(one, tongue));
    }
    for one in &a.unknown {
        _ = writeln!(out, "  Not understood: \"{}\"; {}.", one.text, one.hint);
    }
    if !a.written {
        _ = writeln!(out, "It was noted before; nothing was written twice.");
    }
    _ = writeln!(out, "{}", words::meaning(a));
    if let (Some(before), Some(after)) = (&a.before, &a.after) {
        _ = writeln!(out, "{}", words::changed(before, after));
        if let Some(bed) = when::rung_asked(after, when::BED) {
            _ = writeln!(
                out,
                "{} [forecast.window]",
                when::window(after, bed).join(" ")
            );
        }
        if let Some(text) = words::worth(after) {
            _ = writeln!(out, "{text} [check.worth]");
        }
    }
    if let Some(why) = &a.no_forecast {
        _ = writeln!(
            out,
            "It is noted. What it changes cannot be worked out: {why}."
        );
    }
    _ = writeln!(out, "Undo it with: loamwright undo {}", a.id);
    out
}

/// Readings worth taking.
pub(super) fn worth(a: &ForecastAnswer) -> Value {
    a.worth
        .iter()
        .map(|w| json!({"reading": w.reading, "rung": w.rung, "days_shorter": w.days_shorter}))
        .collect()
}

/// The same as JSON.
pub(crate) fn value(a: &CheckAnswer, wall_ms: u128) -> Value {
    let whole = |f: &Option<std::sync::Arc<ForecastAnswer>>| {
        f.as_ref()
            .map_or(Value::Null, |f| forecast::value(f, wall_ms))
    };
    json!({
        "schema": "loamwright/check/1",
        "id": a.id, "chamber": a.chamber, "written": a.written, "at": a.at,
        "understood": a.understood.iter().map(|s| json!({
            "text": s.text, "reading": s.reading, "word": s.word, "number": s.number, "assumed": s.assumed,
        })).collect::<Vec<_>>(),
        "unknown": a.unknown.iter().map(|u| json!({"text": u.text, "hint": u.hint})).collect::<Vec<_>>(),
        "set_aside": a.set_aside.iter().map(|s| json!({
            "reading": s.reading, "text": s.said, "reason": s.reason,
        })).collect::<Vec<_>>(),
        "meaning": words::meaning(a),
        "before": whole(&a.before),
        "after": whole(&a.after), "no_forecast": a.no_forecast,
        "moved_days_by": a.moved.iter().map(|m| json!({"cause": m.cause, "days": m.days})).collect::<Vec<_>>(),
        "worth_taking": a.after.as_ref().map_or(json!([]), |f| worth(f)),
    })
}
