//! `fix`: as JSON and in a terminal; its sentences stand in `words::put_right`.

use std::fmt::Write as _;

use desk::{CauseFacts, PutRightAmount, PutRightAnswer, SpeaksFor, SymptomFacts};
use serde_json::{Value, json};

use crate::words::{Tongue, put_right as say, when};

const SCHEMA: &str = "loamwright/fix/1";

/// What may be noticed, by family.
pub(super) fn list_text(all: &[SymptomFacts]) -> String {
    let mut out =
        String::from("What do you notice? Say it after `fix`, in your own words or by its id.\n");
    let mut family = "";
    for s in all {
        if s.family != family {
            family = s.family;
            _ = writeln!(out, "\n{}:", say::family(family));
        }
        _ = writeln!(out, "  {:<18} {}", s.id, s.name);
    }
    out
}

fn symptom(s: &SymptomFacts) -> Value {
    json!({"id": s.id, "name": s.name, "family": s.family})
}

/// The same as JSON.
pub(crate) fn list_value(all: &[SymptomFacts]) -> Value {
    json!({"schema": SCHEMA, "symptoms": all.iter().map(symptom).collect::<Vec<_>>()})
}

/// As a gardener reads it in a terminal.
pub(super) fn text(a: &PutRightAnswer, tongue: Tongue) -> String {
    let mut out = String::new();
    let about = a
        .chamber
        .as_ref()
        .map_or_else(String::new, |name| format!(", {name}"));
    _ = writeln!(out, "{}{about}", crate::words::capital(a.symptom.name));
    if let Some(first) = a.causes.first() {
        _ = writeln!(out, "\n{}", say::lead(first, a.caddy_l, tongue));
        if let Some(besides) = say::besides(first, a.state, a.caddy_l, tongue) {
            _ = writeln!(out, "{besides}");
        }
        if let Some(against) = say::against(first, tongue) {
            _ = writeln!(out, "{against}");
        }
        _ = writeln!(
            out,
            "\n{} {} [fix.chance]",
            say::likely(first),
            say::reason(first.cause, tongue)
        );
        if let Some(because) = say::because(first, tongue) {
            _ = writeln!(out, "{because}");
        }
        _ = writeln!(out, "Look again on {}.", when::day(first.look_again));
        for mind in say::mind(a.symptom.id, first) {
            _ = writeln!(out, "Mind: {mind}");
        }
    }
    if let Some([first, second]) = say::apart(a, tongue) {
        _ = writeln!(out, "\nTell them apart:\n  {first}\n  {second}");
    }
    if a.causes.len() > 1 {
        _ = writeln!(out, "\nOr else:");
        for c in &a.causes[1..] {
            _ = writeln!(
                out,
                "  {} {}",
                say::likely(c),
                say::lead(c, a.caddy_l, tongue)
            );
        }
    }
    _ = writeln!(out, "\n{}", say::rests(a));
    out
}

fn amount(a: &PutRightAmount) -> Value {
    json!({
        "what": a.what, "material": a.line.material, "name": a.line.name, "kg": a.line.kg, "litres": a.line.litres,
        "handfuls": a.line.handfuls, "bound_by": a.bound_by, "water_after_pct": a.water_after_pct,
        "cn_after": a.cn_after, "per_bucket": a.per_bucket,
        "today": a.today.as_ref().map(|l| json!({"kg": l.kg, "litres": l.litres, "handfuls": l.handfuls})),
    })
}

fn speaks(b: &SpeaksFor) -> Value {
    json!({"what": b.what, "value": b.value, "times": b.times, "measured": b.measured})
}

fn cause(a: &PutRightAnswer, c: &CauseFacts) -> Value {
    json!({
        "cause": c.cause, "name": say::cause(c.cause), "nothing_wrong": c.nothing_wrong, "chance": c.chance,
        "chance_range": [c.range.0, c.range.1], "in_twenty": c.in_twenty, "act": c.act,
        "do": say::act(c, a.caddy_l, Tongue::default()), "why": say::reason(c.cause, Tongue::default()),
        "amount": c.amount.as_ref().map(amount), "feed_instead": c.feed_instead, "look_again": c.look_again, "tell_apart": say::sign(c.cause, Tongue::default()),
        "mind": say::mind(a.symptom.id, c),
        "against": c.against.as_ref().map(speaks),
        "because": c.because.iter().map(speaks).collect::<Vec<_>>(),
    })
}

/// The answer as JSON; it speaks metric and British whatever the household chose.
pub(crate) fn value(a: &PutRightAnswer) -> Value {
    json!({
        "schema": SCHEMA, "symptom": symptom(&a.symptom), "chamber": a.chamber, "state": a.state,
        "rests_on": a.rests.as_str(), "today": a.today,
        "causes": a.causes.iter().map(|c| cause(a, c)).collect::<Vec<_>>(),
    })
}
