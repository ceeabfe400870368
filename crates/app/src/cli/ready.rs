//! `ready`: as a gardener reads it, and as JSON.

use std::fmt::Write as _;

use desk::{
    Desk, Ends, Error, ForecastAsk, HoldFacts, ReadyAnswer, RungReady, TestFacts, TestNoted,
    TestResult,
};
use serde_json::{Value, json};

use crate::words::{self, Tongue, ready, when};

/// What was asked: the answer, and a test that was noted on the way.
pub(super) struct Ready {
    noted: Option<TestNoted>,
    answer: Result<ReadyAnswer, Error>,
}

/// Notes a test, if one is given, then asks. One argument that is no chamber but has a space is a test.
pub(super) fn ask(desk: &Desk, chamber: Option<&str>, test: Option<&str>) -> Result<Ready, Error> {
    let (chamber, test) = match (chamber, test) {
        (Some(one), None) if one.trim().contains(' ') => match desk.chambers() {
            Ok(all) if !all.iter().any(|c| c.name.eq_ignore_ascii_case(one.trim())) => {
                (None, Some(one))
            }
            _ => (Some(one), None),
        },
        other => other,
    };
    let noted = test
        .map(|text| desk.record_test(chamber, text, None))
        .transpose()?;
    let of = noted.as_ref().map(|n| n.chamber.clone());
    let answer = desk.ready(
        of.as_deref().or(chamber),
        Some(ForecastAsk::default().members),
    );
    match (&noted, answer) {
        // What was written is told, whatever came of the rest.
        (None, Err(error)) => Err(error),
        (_, answer) => Ok(Ready { noted, answer }),
    }
}

/// As text.
pub(super) fn text(r: &Ready, tongue: Tongue) -> String {
    let mut out = String::new();
    if let Some(noted) = &r.noted {
        let again = if noted.written {
            "Noted"
        } else {
            "Noted before"
        };
        _ = writeln!(
            out,
            "{again} for {}. `loamwright undo` takes it back.",
            noted.chamber
        );
        for test in &noted.tests {
            _ = writeln!(out, "  {}", ready::result(test, tongue));
        }
        out.push('\n');
    }
    let a = match &r.answer {
        Ok(a) => a,
        Err(error) => {
            _ = writeln!(out, "{}", words::refusal(error, tongue));
            return out;
        }
    };
    for line in ready::headline(a).iter().filter(|l| !l.is_empty()) {
        _ = writeln!(out, "{line}");
    }
    _ = writeln!(out, "\nFit for, by forecast and tests [ready.chance]:");
    for rung in &a.rungs {
        let n = rung.in_twenty().unwrap_or_default();
        let (name, likely) = (when::rung(rung.rung), ready::likely(n));
        let shown = if rung.holds.is_empty() {
            likely
        } else {
            "held back"
        };
        _ = writeln!(
            out,
            "  {name:<14} {n:>2} in 20, {shown}. {}",
            why(rung).join(" ")
        );
    }
    if !a.tests.is_empty() {
        _ = writeln!(out, "\nTests of this batch [ready.seeds, ready.flask]:");
        for test in &a.tests {
            let counts = if test.counts {
                ""
            } else {
                " (does not count now)"
            };
            let (day, said) = (when::day(test.date), ready::result(test, tongue));
            _ = writeln!(out, "  {day}: {said}{counts}");
        }
    }
    if let Some(next) = &a.next {
        _ = writeln!(out, "\n{} [ready.next]", ready::next(next).join(" "));
    }
    _ = writeln!(out, "{}", ready::CARE);
    out
}

fn why(rung: &RungReady) -> Vec<String> {
    ready::hold(rung)
        .into_iter()
        .chain(ready::reasons(rung))
        .collect()
}

fn spread(ends: Ends, mid: f64) -> Value {
    // No number bounds a ratio from above where no control came up.
    let high = ends.high.is_finite().then_some(ends.high);
    json!({"low": ends.low, "mid": mid, "high": high})
}

fn hold(h: &HoldFacts) -> Value {
    match h {
        HoldFacts::Rest { days, needed } => {
            json!({"what": "rest", "days": days, "needed_days": needed})
        }
        HoldFacts::Failed(test) => json!({"what": "failed", "test": test}),
        HoldFacts::NoStabilityTest => json!({"what": "no_stability_test"}),
        HoldFacts::NoPlantTest => json!({"what": "no_plant_test"}),
    }
}

fn result(t: &TestResult) -> Value {
    match t {
        TestResult::Flask {
            rise_k,
            class,
            small,
            cut_short,
        } => json!({
            "rise_k": rise_k, "class": class, "small_or_unknown_flask": small, "cut_short": cut_short,
        }),
        TestResult::Bag(word) => json!({"bag": word}),
        TestResult::Seeds {
            pots: (up, sown),
            control,
            likely,
            exact,
            ratio,
        } => {
            let share = f64::from(*up) / f64::from(*sown);
            json!({
                "up": up, "sown": sown,
                "control_up": control.map(|c| c.0), "control_sown": control.map(|c| c.1),
                "share_wilson_95": spread(*likely, share), "share_exact_95": spread(*exact, share),
                "ratio_koopman_95": ratio.map(|(mid, ends)| spread(ends, mid)),
            })
        }
        TestResult::Index { index } => json!({"index_pct": index}),
        TestResult::Jar {
            rates: [low, mid, high],
            class,
        } => json!({
            "co2_c_mg_g_d": {"low": low, "mid": mid, "high": high}, "class": class,
        }),
        TestResult::Ash { lost, left } => json!({
            "organic_matter_lost_pct": lost * 100.0, "dry_matter_left_pct": left * 100.0,
        }),
        TestResult::Void(why) => json!({"void": why}),
    }
}

fn test(t: &TestFacts) -> Value {
    json!({
        "id": t.id, "test": t.kind, "date": t.date, "days_ago": t.days_ago, "text": t.text,
        "counts": t.counts, "result": result(&t.result),
    })
}

/// As JSON.
pub(super) fn value(r: &Ready) -> Value {
    let recorded = r.noted.as_ref().map(|n| {
        json!({
            "id": n.id, "chamber": n.chamber, "written": n.written,
            "tests": n.tests.iter().map(test).collect::<Vec<_>>(),
        })
    });
    match &r.answer {
        Ok(a) => {
            let mut all = answer_value(a);
            all["recorded"] = json!(recorded);
            all
        }
        Err(error) => {
            json!({
                "schema": "loamwright/ready/1", "recorded": recorded, "rungs": [], "next_test": null,
                "tests": [], "missing": ["rungs"], "why": error.to_string(),
            })
        }
    }
}

/// The answer alone, as JSON: nothing was noted.
pub(crate) fn answer_value(a: &ReadyAnswer) -> Value {
    let rungs: Vec<Value> = a
        .rungs
        .iter()
        .map(|r| {
            json!({
                "rung": r.rung, "chance": r.chance, "in_twenty": r.in_twenty(),
                "forecast_in_twenty": r.forecast_in_twenty, "shown": r.holds.is_empty(),
                "held_back_by": r.holds.iter().map(hold).collect::<Vec<_>>(),
                "odds": r.factors.iter().map(|(t, f)| json!({"test": t, "factor": f})).collect::<Vec<_>>(),
                "why": why(r),
            })
        })
        .collect();
    let next = a.next.as_ref().map(|n| {
        let [now, pass, fail] = n.chances;
        json!({
            "name": n.test, "bits": n.bits,
            "tells": {"rung": n.rung, "now": now, "if_pass": pass, "if_fail": fail},
            "why": ready::next(n).join(" "),
        })
    });
    let mut missing = Vec::new();
    for (name, gone) in [("ccqc", a.ccqc.is_none()), ("cured", a.cured.is_none())] {
        if gone {
            missing.push(name);
        }
    }
    json!({
        "schema": "loamwright/ready/1", "chamber": a.chamber, "state": a.state, "today": a.today,
        "last_feed": a.last_feed, "recorded": null, "why": ready::headline(a).join(" ").trim(),
        "rungs": rungs, "next_test": next, "tests": a.tests.iter().map(test).collect::<Vec<_>>(),
        "ccqc": a.ccqc, "cured": a.cured, "missing": missing,
    })
}
