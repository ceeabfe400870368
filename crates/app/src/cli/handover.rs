//! `handover`: as text and as JSON; its sentences stand in `words::handover`.

use std::fmt::Write as _;

use desk::{HandedOver, HandoverAnswer, Within};
use serde_json::{Value, json};

use crate::words::{Tongue, handover as say, when};

/// As a gardener reads it in a terminal.
pub(super) fn text(a: &HandoverAnswer, tongue: Tongue) -> String {
    let mut out = format!("{}, {}\n", a.household, when::day(a.today));
    if a.chambers.is_empty() {
        _ = writeln!(
            out,
            "\nNo chamber has a name yet, so there is nothing to hand over."
        );
    }
    for c in &a.chambers {
        _ = writeln!(out, "\n{}, {}:", c.chamber.name, c.chamber.state);
        let fit = match &c.within {
            Within::Known { ready, .. } => say::fit(ready),
            _ => Vec::new(),
        };
        for (title, lines) in [
            ("", say::holds(c, tongue)),
            ("Fit for [ready.chance]", fit),
            ("Next", say::next(a, c, tongue)),
            ("Known", say::known(c, tongue)),
        ] {
            if !title.is_empty() && !lines.is_empty() {
                _ = writeln!(out, "  {title}:");
            }
            for line in lines {
                _ = writeln!(out, "    {line}");
            }
        }
        if let Some(kinds) = say::kinds(c, tongue) {
            _ = writeln!(out, "    {kinds}");
        }
    }
    _ = writeln!(out, "\nTake care:");
    for line in say::care(a, tongue) {
        _ = writeln!(out, "  {line}");
    }
    _ = writeln!(out, "\nThe record:");
    for line in say::record(a) {
        _ = writeln!(out, "  {line}");
    }
    out
}

fn chamber(a: &HandoverAnswer, c: &HandedOver) -> Value {
    let spread = |s: units::Spread| json!({"low": s.low, "mid": s.mid, "high": s.high});
    let (mass, litres) = say::inside_of(c).unzip();
    let (ready, tubs) = match &c.within {
        Within::Known { ready, tubs, .. } => (Some(ready), Some(tubs)),
        _ => (None, None),
    };
    json!({
        "chamber": c.chamber.name, "state": c.chamber.state, "size_l": c.chamber.litres,
        "mass_kg": mass.map(spread), "litres": litres.map(spread),
        "tubs": tubs.map(|t| json!({"fewest": t.count.0, "most": t.count.1, "litres": t.litres, "kg": t.kg})),
        "fit_for": ready.map(|r| r.rungs.iter().map(|r| json!({
            "rung": r.rung, "chance": r.chance, "held_back": !r.holds.is_empty(),
        })).collect::<Vec<_>>()),
        "next": say::next(a, c, Tongue::default()),
        "looks": c.looks.iter().map(|(s, day)| json!({
            "reading": s.reading, "word": s.word, "number": s.number, "on": day,
        })).collect::<Vec<_>>(),
        "never_looked_at": c.never,
    })
}

/// The same as JSON.
pub(super) fn value(a: &HandoverAnswer) -> Value {
    json!({
        "schema": "loamwright/handover/1", "household": a.household, "today": a.today,
        "chambers": a.chambers.iter().map(|c| chamber(a, c)).collect::<Vec<_>>(),
        "tip_into": a.tip_into, "entries": a.entries, "care": say::care(a, Tongue::default()),
    })
}
