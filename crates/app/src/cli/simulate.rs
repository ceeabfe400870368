//! A batch described in a file: run, told in sentences and a table, or as JSON.

use std::fmt::Write as _;
use std::io::Write as _;
use std::path::Path;

use desk::{CaseError, CaseFault, Desk, Points, SimulateAnswer, SimulateAsk};
use serde_json::{Map, Value, json};
use units::Spread;

use super::progress::Progress;
use super::run::Failed;
use crate::words;

pub(super) fn code(e: &CaseError) -> u8 {
    match e.fault {
        CaseFault::Bad => 2,
        CaseFault::NotUnderstood => 3,
        CaseFault::Refused => 4,
        CaseFault::Failed => 1,
    }
}

pub(super) fn kind(e: &CaseError) -> &'static str {
    match e.fault {
        CaseFault::Bad => "bad_value",
        CaseFault::NotUnderstood => "nothing_understood",
        CaseFault::Refused => "refused",
        CaseFault::Failed => "failed",
    }
}

/// The message, with the file that it is about.
pub(super) fn said(path: &Path, e: &CaseError) -> String {
    if e.key.starts_with("--") {
        e.to_string()
    } else {
        format!("{}: {e}", path.display())
    }
}

pub(super) fn run(
    path: &Path,
    members: Option<u64>,
    seed: Option<u64>,
) -> Result<SimulateAnswer, Failed> {
    let file = |source| Failed::File {
        path: path.to_owned(),
        source,
    };
    let bytes = std::fs::read(path).map_err(file)?;
    let text = String::from_utf8(bytes).map_err(|_| {
        file(std::io::Error::new(
            std::io::ErrorKind::InvalidData,
            "is not plain text; a case is a TOML file, see docs/simulate.md",
        ))
    })?;
    let desk = Desk::without_journal(None)?;
    let mut progress = Progress::new();
    let ask = SimulateAsk {
        text: text.strip_prefix('\u{feff}').unwrap_or(&text),
        folder: path.parent().unwrap_or(Path::new("")),
        members,
        seed,
    };
    let answer = desk.simulate(&ask, &mut |done, all| progress.tell(done, all));
    progress.end();
    answer.map_err(|source| Failed::Case {
        path: path.to_owned(),
        source,
    })
}

/// Notes on standard error, where the answer itself is JSON.
pub(super) fn warn(a: &SimulateAnswer) {
    for note in &a.notes {
        _ = writeln!(std::io::stderr().lock(), "{note}");
    }
}

/// `loamwright/simulate/1`.
pub(super) fn json(a: &SimulateAnswer) -> Value {
    let mut all = Map::new();
    all.insert("schema".into(), json!("loamwright/simulate/1"));
    for (name, p) in &a.figures {
        all.insert(
            (*name).into(),
            json!({"p5": p.low, "p50": p.mid, "p95": p.high}),
        );
    }
    let ready: Map<String, Value> = a
        .ready
        .iter()
        .map(|r| {
            let p = r.days;
            let value = json!({
                "p10": p.low, "p50": p.mid, "p90": p.high, "never_share": r.never_share,
            });
            (r.rung.to_owned(), value)
        })
        .collect();
    all.insert("ready_day".into(), Value::Object(ready));
    all.insert("members".into(), json!(a.members));
    all.insert("seed".into(), json!(a.seed));
    all.insert("wall_ms".into(), json!(a.wall_ms));
    all.insert("horizon_days".into(), json!(a.horizon_days));
    all.insert("missing".into(), json!(a.missing));
    Value::Object(all)
}

/// Days to five, from four weeks on in weeks.
fn days(value: f64) -> String {
    if value < 28.0 {
        format!("{:.0} days", ((value / 5.0).round() * 5.0).max(5.0))
    } else {
        format!("{:.0} weeks", value / 7.0)
    }
}

fn span(low: &str, high: &str) -> String {
    if low == high {
        return low.to_owned();
    }
    // "12 weeks", "25 weeks": the unit once.
    match (low.split_once(' '), high.split_once(' ')) {
        (Some((from, unit)), Some((_, other))) if unit == other => format!("{from} to {high}"),
        _ => format!("{low} to {high}"),
    }
}

/// When a rung is reached, for a person: the middle, and the range.
fn when(p: Points, horizon: usize) -> (String, String) {
    let end = days(horizon as f64);
    let say = |v: Option<f64>| v.map(days);
    let mid = say(p.mid).unwrap_or_else(|| format!("past {end}"));
    let range = match (say(p.low), say(p.high)) {
        (Some(low), Some(high)) => span(&low, &high),
        (Some(low), None) => format!("from {low}, perhaps past {end}"),
        (None, _) => format!("past {end}"),
    };
    (mid, range)
}

const USES: [(&str, &str); 5] = [
    ("mulch", "mulch"),
    ("resting_bed", "a bed at rest"),
    ("planted_bed", "a planted bed"),
    ("pots", "pots"),
    ("seed_trays", "seed trays"),
];

fn use_of(rung: &str) -> &str {
    USES.iter().find(|u| u.0 == rung).map_or(rung, |u| u.1)
}

/// "a, b or c".
fn listed(all: &[&str]) -> String {
    match all {
        [start @ .., last] if !start.is_empty() => format!("{} or {last}", start.join(", ")),
        _ => all.concat(),
    }
}

fn spread(p: Option<Points>) -> Option<Spread> {
    let p = p?;
    Some(Spread::new(p.low?, p.mid?, p.high?))
}

/// Sentences first, then a small table.
pub(super) fn text(a: &SimulateAnswer) -> String {
    let mut out = String::new();
    ready_lines(&mut out, a);
    heat_lines(&mut out, a);
    if let Some(lost) = spread(a.figure("wet_mass_loss_pct")) {
        _ = writeln!(out, "{}", weight_line(lost));
    }
    _ = writeln!(
        out,
        "All of this is arithmetic, from {} runs with different luck. A thermometer and your nose know better.",
        a.members
    );
    for note in &a.notes {
        _ = writeln!(out, "{note}");
    }
    if a.members < 100 {
        _ = writeln!(out, "With fewer than 100 runs the ranges are rough.");
    }
    if !a.missing.is_empty() {
        _ = writeln!(
            out,
            "Not given, so taken as none or as usual: {}.",
            a.missing.join(", ")
        );
    }
    table(&mut out, a);
    out
}

fn ready_lines(out: &mut String, a: &SimulateAnswer) {
    let mut never = Vec::new();
    for r in &a.ready {
        if r.days.mid.is_some() && ["mulch", "planted_bed"].contains(&r.rung) {
            let (mid, range) = when(r.days, a.horizon_days);
            _ = writeln!(
                out,
                "Count on {mid} until it is fit for {} (likely: {range}).",
                use_of(r.rung)
            );
        }
        if r.days.mid.is_none() {
            never.push(use_of(r.rung));
        }
    }
    if !never.is_empty() {
        _ = writeln!(
            out,
            "More likely than not it is not yet fit for {} after {}.",
            listed(&never),
            days(a.horizon_days as f64)
        );
    }
    _ = writeln!(out, "Days count from the first feed, on {}.", a.first_feed);
}

/// Tenths of the weight are all that a spread this wide carries.
fn weight_line(lost: Spread) -> String {
    let tenths = |v: f64| (v / 10.0).round() + 0.0;
    let (low, mid, high) = (tenths(lost.low), tenths(lost.mid), tenths(lost.high));
    if mid < 1.0 {
        return "It loses little of its weight, or gains some from water.".into();
    }
    if low < 0.0 {
        return format!(
            "It loses about {mid:.0} tenths of its weight (at most {high:.0}; rain may make it heavier)."
        );
    }
    format!("It loses about {mid:.0} tenths of its weight (likely {low:.0} to {high:.0}).")
}

fn heat_lines(out: &mut String, a: &SimulateAnswer) {
    let Some(peak) = spread(a.figure("peak_c")) else {
        return;
    };
    let five = |v: f64| (v / 5.0).round() * 5.0;
    _ = writeln!(
        out,
        "At its warmest the middle is about {:.0} °C (likely {:.0} to {:.0}).",
        five(peak.mid),
        five(peak.low),
        five(peak.high)
    );
    _ = writeln!(
        out,
        "Do not count on that heat to kill weed seeds or germs; only a thermometer in the heap can tell."
    );
}

fn table(out: &mut String, a: &SimulateAnswer) {
    _ = writeln!(
        out,
        "\n  {:<24} {:<22} likely (8 of 10 runs)",
        "fit for", "middle"
    );
    for r in &a.ready {
        let (mid, range) = when(r.days, a.horizon_days);
        _ = writeln!(out, "  {:<24} {mid:<22} {range}", use_of(r.rung));
    }
    _ = writeln!(out, "\n  {:<24} middle (9 of 10 runs)", "figure");
    for (name, title, unit) in [
        ("peak_c", "warmest middle", "°C"),
        ("days_ge_40", "days at 40 °C or more", ""),
        ("days_ge_55", "days at 55 °C or more", ""),
        ("wet_mass_loss_pct", "weight lost", "%"),
        ("dry_mass_loss_pct", "dry weight lost", "%"),
        ("nitrogen_loss_pct", "nitrogen lost", "%"),
        ("final_cn", "C:N at the end", ""),
        ("final_water_pct", "wetness at the end", "%"),
    ] {
        _ = writeln!(
            out,
            "  {title:<24} {}",
            words::range(spread(a.figure(name)), unit)
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_said_to_five_and_then_in_weeks() {
        for (value, said) in [
            (1.0, "5 days"),
            (13.0, "15 days"),
            (27.0, "25 days"),
            (28.0, "4 weeks"),
            (100.0, "14 weeks"),
        ] {
            assert_eq!(days(value), said);
        }
        assert_eq!(span("14 weeks", "20 weeks"), "14 to 20 weeks");
        assert_eq!(span("15 days", "4 weeks"), "15 days to 4 weeks");
    }

    #[test]
    fn beyond_the_horizon_no_day_is_said() {
        let p = |low, mid, high| Points { low, mid, high };
        let (mid, range) = when(p(Some(40.0), None, None), 180);
        assert_eq!(
            (mid.as_str(), range.as_str()),
            ("past 26 weeks", "from 6 weeks, perhaps past 26 weeks")
        );
        assert_eq!(when(p(None, None, None), 180).1, "past 26 weeks");
        assert_eq!(
            listed(&["pots", "mulch", "seed trays"]),
            "pots, mulch or seed trays"
        );
    }

    #[test]
    fn the_weight_is_said_in_tenths() {
        assert_eq!(
            weight_line(Spread::new(21.0, 58.0, 76.0)),
            "It loses about 6 tenths of its weight (likely 2 to 8)."
        );
        assert!(weight_line(Spread::new(-20.0, 2.0, 30.0)).contains("little"));
        assert!(weight_line(Spread::new(-20.0, 22.0, 30.0)).contains("at most 3"));
    }
}
