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

#[test]
fn some_is_moved_into_a_bin_and_both_forecasts_follow() {
    let home = Home::new("move");
    home.run(&["household", "--chamber", "Near", "--size", "100"]);
    let (code, household) = home.json(&[
        "household",
        "--chamber",
        "Bin",
        "--size",
        "200",
        "--upright",
    ]);
    assert_eq!(code, 0, "{household}");
    let (code, _) = home.json(&["add", "8 kg potato peel, 2 kg card", "--to", "Near"]);
    assert_eq!(code, 0);
    // Before anything is written: what cannot be.
    for (args, code, says) in [
        (&["move", "Bin", "Near", "half"][..], 1, "empty"),
        (&["move", "Near", "near", "half"], 1, "name another"),
        (&["move", "Near", "Attic", "half"], 1, "Attic"),
        (&["move", "Near", "Bin", "some"], 1, "half, a third"),
        (&["move", "Near", "Bin", "120", "%"], 1, "half, a third"),
        (&["move", "Near", "Bin", "30", "L"], 1, "level"),
        (&["move", "Near", "Bin"], 2, ""),
    ] {
        let (got, value) = home.json(args);
        assert_eq!(got, code, "{args:?}: {value}");
        let message = value["error"]["message"].as_str().unwrap();
        assert!(message.contains(says), "{args:?}: {message}");
    }
    let (code, moved) = home.json(&["move", "Near", "Bin", "a", "quarter", "--key", "once"]);
    assert_eq!(code, 0, "{moved}");
    assert_eq!(moved["schema"], "loamwright/move/1");
    let (_, again) = home.json(&["move", "Near", "Bin", "a", "quarter", "--key", "once"]);
    assert_eq!(again["written"], false, "{again}");
    // What went in is shared as was said, and the bin is taken for one.
    let put_in = |name: &str| {
        let (code, f) = home.json(&["forecast", name, "--members", "20"]);
        assert_eq!(code, 0, "{f}");
        f
    };
    let (near, bin) = (put_in("Near"), put_in("Bin"));
    let assumed = |f: &Value, what: &str| {
        let all = f["assumed"].as_array().unwrap();
        all.iter().any(|a| a["what"] == what)
    };
    assert!(
        assumed(&near, "usual_drum") && assumed(&bin, "usual_bin"),
        "{bin}"
    );
    let (_, log) = home.json(&["log"]);
    let line = &log["entries"][0];
    assert_eq!(line["text"], "a quarter moved into Bin", "{log}");
    assert_eq!(line["chamber"], "Near");
    // More than is there, by a level that was noted.
    home.run(&["check", "Near", "level 50 %"]);
    let (code, much) = home.json(&["move", "Near", "Bin", "90", "L"]);
    assert_eq!(code, 1, "{much}");
    assert!(
        much["error"]["message"]
            .as_str()
            .unwrap()
            .contains("about 50 L"),
        "{much}"
    );
    let id = moved["id"].as_str().unwrap();
    let (code, _) = home.json(&["undo", id]);
    assert_eq!(code, 0);
    let (code, value) = home.json(&["forecast", "Bin", "--members", "20"]);
    assert_eq!(code, 1, "the bin is empty again: {value}");
}

#[test]
fn a_chamber_is_closed_and_emptied_by_command() {
    let home = Home::new("empty");
    home.run(&["add", "full caddy", "--to", "Near"]);
    for (args, code) in [
        (&["empty", "Near", "--litres", "-3"][..], 2),
        (&["empty", "Near", "--fit-for", "lettuce"], 1),
        (&["close", "Near"], 0),
        (&["close", "Near"], 1),
        (
            &["empty", "Near", "--litres", "30", "--fit-for", "mulch"],
            0,
        ),
        (&["empty", "Near"], 1),
        (&["close", "Attic"], 1),
    ] {
        let (got, value) = home.json(args);
        assert_eq!(got, code, "{args:?}: {value}");
    }
}
