//! `turned`, `watered`, `weather` and `dose --days` from outside.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking; helpers outside test functions too"
)]

mod home;

use home::Home;
use serde_json::Value;

#[test]
fn turned_and_watered_are_noted_once_and_taken_back() {
    let home = Home::new("tend");
    let (code, nothing) = home.json(&["turned"]);
    assert_eq!(code, 1, "{nothing}");
    assert_eq!(nothing["error"]["kind"], "bad_value");
    home.run(&["add", "full caddy", "--to", "Near"]);
    for written in [true, false] {
        let (code, value) = home.json(&["turned", "--key", "tap"]);
        assert_eq!(code, 0, "{value}");
        assert_eq!(value["schema"], "loamwright/turned/1");
        assert_eq!(value["chambers"], serde_json::json!(["Near"]));
        assert_eq!(value["written"], written);
    }
    let (_, today) = home.json(&["today"]);
    assert_eq!(today["turned_today"], serde_json::json!(["Near"]));
    let (code, value) = home.json(&["watered", "near", "2", "L"]);
    assert_eq!((code, value["text"].as_str().unwrap()), (0, "watered: 2 L"));
    let id = value["ids"][0].as_str().unwrap();
    let plain = home.run(&["watered", "Near", "half", "a", "bucket"]);
    let text = String::from_utf8(plain.stdout).unwrap();
    assert!(
        text.starts_with("Near: watered: half a bucket.\nEntry ["),
        "{text}"
    );
    let (_, log) = home.json(&["log"]);
    assert_eq!(log["entries"].as_array().unwrap().len(), 5, "{log}");
    let (code, undone) = home.json(&["undo", id]);
    assert_eq!((code, &undone["undone"]["undone"]), (0, &Value::Bool(true)));
    for (args, code) in [
        (&["watered", "Near", "-2"][..], 2),
        (&["watered", "Near", "lots"], 1),
        (&["watered", "Near"], 2),
        (&["watered", "Attic", "2"], 1),
        (&["turned", "Attic"], 1),
    ] {
        let (got, value) = home.json(args);
        assert_eq!(got, code, "{args:?}: {value}");
    }
}

#[test]
fn a_weather_file_is_kept_or_refused_with_its_line() {
    let home = Home::new("weather");
    let file = home.0.join("garden.csv");
    let path = file.to_str().unwrap();
    // Days that no clock of a test machine has left behind by four years.
    let recent = {
        let out = home.run(&["today", "--json"]);
        let today: Value = serde_json::from_slice(&out.stdout).unwrap();
        let date = today["date"].as_str().unwrap().to_owned();
        let day = jiff::civil::Date::strptime("%d %B %Y", &date).unwrap();
        [day.yesterday().unwrap(), day]
    };
    let table = |second: &str| {
        format!(
            "date,tmin,tmax\n{},9.5,20\n{},{second},21\n",
            recent[0], recent[1]
        )
    };
    std::fs::write(&file, table("cold")).unwrap();
    let (code, value) = home.json(&["weather", path]);
    assert_eq!(
        (code, value["error"]["kind"].as_str().unwrap()),
        (1, "bad_value")
    );
    let said = value["error"]["message"].as_str().unwrap();
    assert!(said.contains("line 3, tmin"), "{said}");
    let (_, log) = home.json(&["log"]);
    assert_eq!(log["entries"], serde_json::json!([]));
    std::fs::write(&file, table("10")).unwrap();
    let (code, value) = home.json(&["weather", path]);
    assert_eq!(code, 0, "{value}");
    assert_eq!(value["schema"], "loamwright/weather/1");
    assert_eq!(
        (&value["days"], &value["to"]),
        (&2.into(), &recent[1].to_string().into())
    );
    let text = String::from_utf8(home.run(&["weather", path]).stdout).unwrap();
    assert!(text.starts_with("Weather kept: 2 days, "), "{text}");
    home.run(&["add", "full caddy, yesterday", "--to", "Near"]);
    let out = home.run(&["forecast", "--members", "40"]);
    let text = String::from_utf8(out.stdout).unwrap();
    assert!(
        text.contains("Weather measured on 2 days is used, up to "),
        "{text}"
    );
    let (code, value) = home.json(&["weather", "/nowhere/at/all.csv"]);
    assert_eq!(
        (code, value["error"]["kind"].as_str().unwrap()),
        (1, "failed")
    );
}

#[test]
fn days_are_told_where_they_are_asked_for() {
    let home = Home::new("days");
    let (_, plain) = home.json(&["dose", "full caddy"]);
    assert_eq!(plain["card_buys"], Value::Null);
    let (code, value) = home.json(&["dose", "full caddy", "--days"]);
    assert_eq!(code, 0, "{value}");
    for what in ["browns", "torn", "shredded"] {
        let gain = &value["card_buys"][what];
        assert!(gain["days_sooner"].as_f64().unwrap().is_finite(), "{value}");
        assert!(gain["doubt_days"].as_f64().unwrap() >= 0.0);
    }
    let text = String::from_utf8(home.run(&["dose", "full caddy", "--days"]).stdout).unwrap();
    assert!(text.contains("[dose.days]"), "{text}");
}
