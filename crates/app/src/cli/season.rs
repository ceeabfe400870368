//! `season` and `away`: as text and as JSON; sentences stand in `words::season`.

use std::fmt::Write as _;

use desk::{AwayAnswer, MonthFacts, SeasonAnswer};
use serde_json::{Value, json};

use crate::words::{Tongue, season};

/// As a gardener reads it in a terminal.
pub(super) fn text(a: &SeasonAnswer, tongue: Tongue) -> String {
    let mut out = String::new();
    _ = writeln!(out, "{} [season.overflow]", season::room(a).join(" "));
    if a.first_over().is_some() {
        _ = writeln!(out, "{}", season::spilt(a, tongue));
    }
    for line in season::advice(a, tongue) {
        _ = writeln!(out, "{line}");
    }
    if let Some(ready) = &a.ready {
        _ = writeln!(out, "\n{}", season::ready(a, ready).join("\n"));
    }
    _ = writeln!(out, "\nIt takes for granted:");
    for line in season::assumed(a, tongue) {
        _ = writeln!(out, "  {line}");
    }
    _ = writeln!(out, "\nMonth by month, doing as now (litres at its end):");
    for m in &a.months {
        _ = writeln!(
            out,
            "  {}  {:<12} {}",
            m.month.strftime("%b %Y"),
            m.chamber,
            season::month(a, m, tongue)
        );
    }
    if a.first_over().is_some() {
        if !a.changes.is_empty() {
            _ = writeln!(out, "\nThe plan [season.plan]:");
        }
        for change in &a.changes {
            _ = writeln!(out, "  {}", season::change(a, change));
        }
        _ = writeln!(out, "\nWhat helps, least work first [season.acts]:");
        for act in &a.acts {
            _ = writeln!(
                out,
                "  {}. {}",
                season::act_words(a, act.act),
                season::act_effect(a, act, tongue)
            );
        }
    }
    _ = writeln!(
        out,
        "\nBrowns: {} [season.browns]",
        season::browns(a, tongue).join(" ")
    );
    out
}

fn months(all: &[MonthFacts]) -> Value {
    all.iter()
        .map(|m| {
            json!({
                "month": m.month.strftime("%Y-%m").to_string(), "chamber": m.chamber, "state": m.state,
                "level_l": {"low": m.level_l.low, "mid": m.level_l.mid, "high": m.level_l.high},
                "emptied_in_20": m.emptied,
            })
        })
        .collect()
}

/// The season as JSON.
pub(crate) fn value(a: &SeasonAnswer, wall_ms: u128) -> Value {
    json!({
        "schema": "loamwright/season/1",
        "today": a.today,
        "chambers": a.chambers, "filling": a.filling, "room_l": a.room_l, "weekly_l": a.weekly_l,
        "months": months(&a.months),
        "planned_months": months(&a.planned),
        "overflow": a.overflow.iter().map(|o| json!({"week": o.week, "litres": o.litres, "chance": o.chance})).collect::<Vec<_>>(),
        "overflow_l": {
            "now": {"mean": a.now.mean, "median": a.now.median, "in_20": a.now.in_twenty},
            "plan": {"mean": a.plan.mean, "median": a.plan.median, "in_20": a.plan.in_twenty},
            "tried": a.tried.iter().map(|(f, now, plan)| json!({"inflow": f, "now": now, "plan": plan})).collect::<Vec<_>>(),
        },
        "changes": a.changes.iter().map(|c| json!({
            "on": c.on, "close": c.close, "empty": c.empty, "early_weeks": c.early_weeks.is_finite().then_some(c.early_weeks),
        })).collect::<Vec<_>>(),
        "acts": a.acts.iter().map(|x| json!({
            "act": x.act, "by": x.by, "cost": {"minutes": x.minutes}, "effect_l": x.effect_l,
            "after_plan_l": x.after_plan_l,
        })).collect::<Vec<_>>(),
        "browns": {
            "weeks_left": a.browns.weeks_left, "stock_l": a.browns.stock_l, "weekly_l": a.browns.weekly_l,
            "lay_in": a.browns.lay_in.iter().map(|l| json!({
                "what": l.what, "amount": {"litres": l.litres, "sacks": l.sacks}, "by": l.by,
            })).collect::<Vec<_>>(),
        },
        "ready": a.ready.as_ref().map(|r| json!({
            "by": r.by, "close_by": r.close_by,
            "chambers": r.chambers.iter().map(|(name, fit)| json!({"chamber": name, "in_20": fit})).collect::<Vec<_>>(),
        })),
        "assumed": season::assumed(a, Tongue::default()),
        "members": a.members,
        "wall_ms": wall_ms,
    })
}

/// Going away, in a terminal.
pub(super) fn away_text(a: &AwayAnswer, tongue: Tongue) -> String {
    let mut out = String::new();
    _ = writeln!(out, "Before you go:");
    for (act, by) in &a.before {
        _ = writeln!(
            out,
            "  {:<6} {}",
            by.strftime("%-d %b").to_string(),
            season::before(*act)
        );
    }
    if let Some(room) = season::room_then(a, tongue) {
        _ = writeln!(out, "  {room}");
    }
    _ = writeln!(
        out,
        "\nFor whoever looks after it, {} to {}:",
        a.from.strftime("%-d %b"),
        a.to.strftime("%-d %b")
    );
    for line in season::slip(a, tongue) {
        _ = writeln!(out, "  {line}");
    }
    _ = writeln!(out, "[season.away]");
    out
}

/// Going away, as JSON.
pub(crate) fn away_value(a: &AwayAnswer) -> Value {
    json!({
        "schema": "loamwright/away/1", "from": a.from, "to": a.to, "days": a.days, "air_c": a.air_c,
        "room": a.room.as_ref().map(|r| json!({
            "chamber": r.chamber, "level_l": {"low": r.level_l.low, "mid": r.level_l.mid, "high": r.level_l.high},
            "room_l": r.room_l, "nearly_full": r.nearly_full,
        })),
        "before": a.before.iter().map(|(act, by)| json!({"act": act.as_str(), "by": by})).collect::<Vec<_>>(),
        "sitter": {
            "needed": a.sitter.needed, "turn_weekly": a.sitter.turn_weekly, "tip_into": a.sitter.tip_into,
            "leave_shut": a.sitter.leave_shut, "slip": season::slip(a, Tongue::default()),
        },
    })
}
