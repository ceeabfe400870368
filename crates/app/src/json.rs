//! Answers as JSON: `"schema":"loamwright/<command>/1"`, spreads as low, mid and high.

use desk::{
    AddAnswer, CardFacts, DoseAnswer, DoseLine, Error, Line, LogLine, LookAnswer, Mix, MixAnswer,
    Reading, TodayAnswer, WhyAnswer,
};
use serde_json::{Map, Value, json};
use units::Spread;

fn spread(s: Option<Spread>) -> Value {
    s.map_or(
        Value::Null,
        |s| json!({"low": s.low, "mid": s.mid, "high": s.high}),
    )
}

fn schema(command: &str) -> String {
    format!("loamwright/{command}/1")
}

fn line(l: &Line) -> Value {
    json!({
        "text": l.text, "material": l.material, "name": l.name, "verdict": l.verdict, "role": l.role,
        "cap_pct": l.cap_pct, "preparation": l.preparation, "caution": l.caution, "kg": spread(l.kg),
        "litres": spread(l.litres), "assumed": l.assumed,
    })
}

fn mix_map(m: &Mix, r: Option<&Reading>) -> Map<String, Value> {
    let mut all = Map::new();
    for (name, value) in [
        ("mass_kg", m.mass_kg),
        ("volume_l", m.volume_l),
        ("water_pct", m.water_pct),
        ("cn", m.cn),
        ("cn_degradable", m.cn_degradable),
        ("air_space_pct", m.air_space_pct),
        ("carbon_kg", m.carbon_kg),
        ("nitrogen_kg", m.nitrogen_kg),
    ] {
        all.insert(name.into(), spread(value));
    }
    all.insert("missing".into(), json!(m.missing));
    if let Some(r) = r {
        reading(&mut all, r);
    }
    all
}

fn reading(all: &mut Map<String, Value>, r: &Reading) {
    all.insert("understood".into(), r.items.iter().map(line).collect());
    all.insert(
        "unknown".into(),
        r.unknown.iter().map(|u| json!(u.text)).collect(),
    );
    all.insert(
        "did_you_mean".into(),
        r.unknown
            .iter()
            .map(|u| json!({
                "text": u.text, "ambiguous": u.ambiguous,
                "near": u.near.iter().map(|n| json!({"id": n.id, "name": n.name})).collect::<Vec<_>>(),
            }))
            .collect(),
    );
    all.insert("refused".into(), r.refused.iter().map(line).collect());
    all.insert("when".into(), json!(r.when));
    all.insert("chamber".into(), json!(r.chamber));
}

fn dose_line(d: &DoseLine) -> Value {
    json!({
        "material": d.material, "name": d.name, "kg": d.kg, "litres": d.litres, "handfuls": d.handfuls,
        "led_by": d.led_by.as_str(),
    })
}

/// `look`.
pub(crate) fn look(a: &LookAnswer) -> Value {
    let matches: Vec<Value> = a
        .matches
        .iter()
        .map(|m| {
            let named = [
                ("cn", m.cn),
                ("water_pct", m.water_pct),
                ("nitrogen_pct_dry", m.nitrogen_pct_dry),
                ("carbon_pct_dry", m.carbon_pct_dry),
                ("density_kg_m3", m.density_kg_m3),
            ];
            let missing: Vec<_> = named.iter().filter(|(_, v)| v.is_none()).map(|(n, _)| *n).collect();
            json!({
                "id": m.id, "name": m.name, "verdict": m.verdict, "cap_pct": m.cap_pct, "role": m.role,
                "cn": spread(m.cn), "water_pct": spread(m.water_pct),
                "nitrogen_pct_dry": spread(m.nitrogen_pct_dry), "carbon_pct_dry": spread(m.carbon_pct_dry),
                "density_kg_m3": spread(m.density_kg_m3), "preparation": m.preparation, "caution": m.caution,
                "local_rule": m.local.map(desk::LocalFood::as_str),
                "missing": missing,
                "figures": m.figures.iter().map(|f| json!({
                    "id": f.id, "property": f.property, "value": f.value, "low": f.low, "high": f.high,
                    "unit": f.unit, "source": f.source, "place": f.place, "grade": f.grade,
                })).collect::<Vec<_>>(),
                "lists": m.lists.iter().map(|l| json!({
                    "source": l.source, "says": l.says, "agrees": l.agrees, "why": l.why,
                })).collect::<Vec<_>>(),
            })
        })
        .collect();
    json!({
        "schema": schema("look"), "asked": a.asked, "matches": matches,
        "near": a.near.iter().map(|n| json!({"id": n.id, "name": n.name})).collect::<Vec<_>>(),
    })
}

/// `mix`.
pub(crate) fn mix(a: &MixAnswer) -> Value {
    let mut all = mix_map(&a.mix, Some(&a.read));
    all.insert("schema".into(), json!(schema("mix")));
    Value::Object(all)
}

fn gain(g: desk::Gain) -> Value {
    json!({"days_sooner": g.days, "doubt_days": g.doubt})
}

/// A dose with what its browns buy in days, where that is worked out.
pub(crate) fn dose_with(a: &DoseAnswer, card: Option<&CardFacts>) -> Value {
    let mut value = dose(a);
    let Some(c) = card else { return value };
    value["card_buys"] = json!({
        "browns": gain(c.browns), "torn": gain(c.torn), "shredded": gain(c.shredded),
        "arrive_share": {"without": c.arrive.0, "with": c.arrive.1},
        "nitrogen_lost_pct": {"without": c.nitrogen_lost_pct.0, "with": c.nitrogen_lost_pct.1},
    });
    value
}

/// `dose`. The rows of `doses` that are to be added carry the `led_by` named in `add`; rows led by one limit
/// alone stand beside a compromise for comparison. JSON speaks metric and British whatever the household chose.
pub(crate) fn dose(a: &DoseAnswer) -> Value {
    let told = crate::words::dose_lines(a, crate::words::Tongue::default());
    let mut all = Map::new();
    reading(&mut all, &a.read);
    all.insert("schema".into(), json!(schema("dose")));
    all.insert("outcome".into(), json!(a.outcome));
    all.insert("binding".into(), json!(a.binding));
    all.insert(
        "doses".into(),
        a.doses.iter().chain(&a.beside).map(dose_line).collect(),
    );
    all.insert(
        "add".into(),
        json!(a.doses.first().map(|d| d.led_by.as_str())),
    );
    all.insert(
        "before".into(),
        Value::Object(mix_map(&a.before, Some(&a.read))),
    );
    all.insert(
        "after".into(),
        Value::Object(mix_map(&a.after, Some(&a.read))),
    );
    all.insert("cause".into(), json!(a.cause));
    all.insert(
        "why".into(),
        json!(format!("{} {}", told.action, told.reason)),
    );
    all.insert("card_buys".into(), Value::Null);
    all.insert("missing".into(), json!(a.after.missing));
    all.insert(
        "unknown_stock".into(),
        a.unknown_stock.iter().map(|u| json!(u.text)).collect(),
    );
    Value::Object(all)
}

/// `add`.
pub(crate) fn add(a: &AddAnswer) -> Value {
    let mut all = Map::new();
    reading(&mut all, &a.read);
    all.insert("schema".into(), json!(schema("add")));
    all.insert("id".into(), json!(a.id));
    all.insert("chamber".into(), json!(a.chamber));
    all.insert("written".into(), json!(a.written));
    Value::Object(all)
}

fn log_line(l: &LogLine) -> Value {
    json!({
        "id": l.id, "at": l.at, "kind": l.kind, "chamber": l.chamber, "text": l.text, "unknown": l.unknown,
        "undone": l.undone, "corrected": l.corrected,
        "set_aside": l.aside.iter().map(|(reading, reason)| json!({"reading": reading, "reason": reason})).collect::<Vec<_>>(),
    })
}

/// `log`.
pub(crate) fn log(lines: &[LogLine]) -> Value {
    json!({"schema": schema("log"), "entries": lines.iter().map(log_line).collect::<Vec<_>>()})
}

/// `turned` and `watered`.
pub(crate) fn tended(command: &str, a: &desk::TendAnswer) -> Value {
    json!({
        "schema": schema(command), "ids": a.ids, "chambers": a.chambers, "text": a.text, "written": a.written,
    })
}

/// `close` and `empty`.
pub(crate) fn noted(command: &str, id: &str) -> Value {
    json!({"schema": schema(command), "id": id})
}

/// `move`.
pub(crate) fn moved(a: &desk::MoveAnswer) -> Value {
    json!({
        "schema": schema("move"), "id": a.id, "from": a.from, "to": a.to, "share": a.share, "notes": a.notes,
        "written": a.written,
    })
}

/// `weather`.
pub(crate) fn weather(a: &desk::WeatherAnswer) -> Value {
    json!({
        "schema": schema("weather"), "id": a.id, "written": a.written, "from": a.kept.from, "to": a.kept.to,
        "days": a.kept.count,
        "left_out": {"too_long_ago": a.left_out.0, "yet_to_come": a.left_out.1}, "notes": a.notes,
    })
}

/// `undo`.
pub(crate) fn undo(l: &LogLine) -> Value {
    json!({"schema": schema("undo"), "undone": log_line(l)})
}

/// `today`.
pub(crate) fn today(a: &TodayAnswer) -> Value {
    json!({
        "schema": schema("today"), "date": a.date, "tip_into": a.tip_into, "days_since_last": a.days_since_last,
        "chambers": a.chambers.iter().map(|c| json!({
            "id": c.id, "name": c.name, "litres": c.litres, "state": c.state, "since": c.since, "days": c.days,
            "portions": c.portions, "level_pct": c.level.as_ref().map(|l| l.0),
            "went_in": c.went_in.as_ref().map(|m| Value::Object(mix_map(m, None))),
        })).collect::<Vec<_>>(),
        "usual": a.usual.as_ref().map(dose),
        "stock": a.stock.iter().map(|s| json!({
            "material": s.material, "name": s.name, "litres": s.litres, "kg": s.kg,
        })).collect::<Vec<_>>(),
        "turned_today": a.turned_today,
        "latest": a.latest.iter().map(log_line).collect::<Vec<_>>(),
    })
}

/// `why`.
pub(crate) fn why(a: &WhyAnswer) -> Value {
    json!({
        "schema": schema("why"), "id": a.id, "title": a.title, "value": a.value, "lines": a.lines,
        "sources": a.sources, "rests_on": a.rests_on,
    })
}

/// A refusal or failure.
pub(crate) fn error(e: &Error) -> Value {
    let kind = match e {
        Error::NothingUnderstood { .. } | Error::NoSymptom { .. } | Error::NothingSeen { .. } => {
            "nothing_understood"
        }
        Error::OtherSensor { .. } => "other_sensor",
        Error::Refused { .. } => "refused",
        Error::NoChamber { .. } => "no_chamber",
        Error::Own(_) => "own_figures",
        Error::TooLong(_) => "too_long",
        Error::Weather(_) => "bad_value",
        Error::Range(_) | Error::BadTarget { .. } | Error::BadSetting { .. } | Error::BadDay(_) => {
            "bad_value"
        }
        Error::NoSuchId(_) => "no_such_id",
        Error::Unknown { .. } => "unknown_figure",
        _ => "failed",
    };
    failure(kind, &e.to_string())
}

/// A failure by kind and message.
pub(crate) fn failure(kind: &str, message: &str) -> Value {
    json!({"schema": schema("error"), "error": {"kind": kind, "message": message}})
}
