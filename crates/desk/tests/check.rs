//! Looks inside: what they change, what is set aside, and forecasts held against what came.
#![allow(clippy::unwrap_used, clippy::panic, reason = "tests")]

use desk::{Desk, Error, ForecastAsk, HouseholdChange, SensorPoint};

fn ask(chamber: &str) -> ForecastAsk {
    ForecastAsk {
        chamber: Some(chamber.into()),
        moves: false,
        ..ForecastAsk::default()
    }
}

/// Entries that the log shows. A page of it holds 500 at most, and the demo has more.
fn log_len(desk: &Desk) -> usize {
    let mut out = Vec::new();
    desk.export(&mut out).unwrap();
    let quiet = |line: &&str| {
        ["foretold", "hours"]
            .iter()
            .all(|k| !line.contains(&format!("\"kind\":\"{k}\"")))
    };
    String::from_utf8(out)
        .unwrap()
        .lines()
        .filter(quiet)
        .count()
}

#[test]
fn a_look_moves_the_forecast_and_undo_brings_it_back() {
    let desk = Desk::demo().unwrap();
    let untouched = desk.forecast(&ask("Far")).unwrap();
    let text = "squeeze dusty, card most, 12 C";
    let a = desk.check(Some("Far"), text, Some("k1")).unwrap();
    assert!(a.written && a.set_aside.is_empty() && a.unknown.is_empty());
    let (before, after) = (a.before.unwrap(), a.after.unwrap());
    assert_eq!(before.rungs, untouched.rungs);
    assert_eq!(after.learnt.used, before.learnt.used + 3);
    assert!(
        after.inside.water_pct.mid < before.inside.water_pct.mid,
        "dust is drier than {:?}",
        before.inside.water_pct
    );
    assert!(after.inside.recognisable_pct.mid > before.inside.recognisable_pct.mid);
    assert_eq!(a.moved.len(), 1);
    assert_eq!(a.moved[0].cause, "reading");
    // The same key again is the same entry.
    let again = desk.note_look(Some("Far"), text, Some("k1")).unwrap();
    assert_eq!((again.id.as_str(), again.written), (a.id.as_str(), false));
    desk.undo(Some(&a.id), None).unwrap();
    assert_eq!(desk.forecast(&ask("Far")).unwrap().rungs, untouched.rungs);
}

#[test]
fn what_cannot_be_is_kept_and_does_not_count() {
    let desk = Desk::demo().unwrap();
    let before = desk.forecast(&ask("Far")).unwrap();
    for (text, reading, reason) in [
        ("85 C", "core_c", "powered_up"),
        ("-127 C", "core_c", "disconnected"),
        ("200 C", "core_c", "out_of_range"),
        ("level 115 %", "level_pct", "out_of_range"),
        ("41 C, 3 Feb 2024", "core_c", "before_first_feed"),
    ] {
        let a = desk.note_look(Some("Far"), text, None).unwrap();
        let aside = a.set_aside.first().unwrap_or_else(|| panic!("{text}"));
        assert_eq!(
            (aside.reading.as_str(), aside.reason.as_str()),
            (reading, reason)
        );
        assert_eq!(desk.look_again(&a.id).unwrap().set_aside, a.set_aside);
    }
    let line = desk.log(20, None).unwrap();
    assert!(
        line.iter()
            .any(|l| l.aside == [("core_c".to_owned(), "powered_up".to_owned())])
    );
    let after = desk.forecast(&ask("Far")).unwrap();
    assert_eq!(after.rungs, before.rungs);
    assert!(after.learnt.aside >= 4);
}

#[test]
fn hot_and_frozen_on_one_day_are_both_set_aside() {
    let desk = Desk::demo().unwrap();
    let first = desk
        .note_look(Some("Far"), "55 C, today at 9am", None)
        .unwrap();
    assert!(first.set_aside.is_empty());
    let used = desk.forecast(&ask("Far")).unwrap().learnt.used;
    let second = desk
        .note_look(Some("Far"), "-2 C, today at 3pm", None)
        .unwrap();
    assert_eq!(second.set_aside[0].reason, "contradicts");
    // The first one was written before: it is left out as well, though its entry stands as it was.
    assert!(desk.forecast(&ask("Far")).unwrap().learnt.used <= used);
}

#[test]
fn nothing_understood_writes_nothing() {
    let desk = Desk::demo().unwrap();
    let before = log_len(&desk);
    for (chamber, text) in [
        (Some("Far"), "wibble"),
        (Some("Far"), "wet"),
        (Some("Far"), ""),
        (Some("Nowhere"), "41 C"),
        (Some("Far"), "Near: 41 C"),
    ] {
        assert!(desk.note_look(chamber, text, None).is_err(), "{text}");
    }
    let long = "squeeze drips ".repeat(80_000);
    assert!(matches!(
        desk.note_look(Some("Far"), &long, None),
        Err(Error::TooLong(_))
    ));
    assert_eq!(log_len(&desk), before);
}

#[test]
fn a_look_is_noted_where_no_forecast_can_be_made_and_says_why() {
    let desk = Desk::demo().unwrap();
    let old = HouseholdChange::Chamber {
        name: "Old".into(),
        litres: Some(100.0),
        length_cm: None,
        across_cm: None,
        upright: None,
    };
    desk.change_household(old, None).unwrap();
    desk.add("5 kg potato peel, 1 March 2019", Some("Old"), None)
        .unwrap();
    let before = log_len(&desk);
    let refused = desk.check(Some("Old"), "wibble", None);
    assert!(matches!(refused, Err(Error::NothingSeen { .. })));
    assert_eq!(log_len(&desk), before, "nothing is half written");
    let a = desk.check(Some("Old"), "squeeze drips", None).unwrap();
    assert!(a.written && a.before.is_none() && a.after.is_none());
    let why = a.no_forecast.unwrap();
    assert!(why.contains("Old") && why.contains("years"), "{why}");
    assert_eq!(log_len(&desk), before + 1);
}

#[test]
fn turning_and_reading_are_told_apart() {
    let desk = Desk::demo().unwrap();
    let a = desk
        .check(Some("Far"), "turned, squeeze runs", None)
        .unwrap();
    let causes: Vec<&str> = a.moved.iter().map(|m| m.cause).collect();
    assert_eq!(causes, ["turning", "reading"]);
    let whole = |f: &desk::ForecastAnswer| f.rungs[2].days[1];
    if let (Some(b), Some(f)) = (whole(&a.before.unwrap()), whole(&a.after.unwrap())) {
        let sum: f64 = a.moved.iter().filter_map(|m| m.days).sum();
        assert!((sum - (f - b)).abs() < 1e-6, "parts add up");
    }
}

#[test]
fn forecasts_are_kept_as_given_once_a_day_and_out_of_the_log() {
    let desk = Desk::demo().unwrap();
    let far = desk.forecast(&ask("Far")).unwrap();
    assert_eq!((far.record.batches, far.record.inside), (5, 3));
    assert_eq!(far.learnt.stretch_rests_on, 5);
    let before = log_len(&desk);
    desk.work_out_forecasts().unwrap();
    assert!(
        desk.forecast_if_known("far").is_some(),
        "kept beside what was written"
    );
    let mut out = Vec::new();
    desk.export(&mut out).unwrap();
    let given = |out: &[u8]| {
        String::from_utf8_lossy(out)
            .matches("\"kind\":\"foretold\"")
            .count()
    };
    let once = given(&out);
    assert_eq!(once, 6 + 2, "six at closing, two today");
    desk.work_out_forecasts().unwrap();
    let mut out = Vec::new();
    desk.export(&mut out).unwrap();
    assert_eq!(given(&out), once);
    assert_eq!(log_len(&desk), before);
    // A plain undo takes back what a person did, never a forecast.
    let undone = desk.undo(None, None).unwrap();
    assert_ne!(undone.kind, "foretold");
}

#[test]
fn a_batch_that_is_used_is_held_against_its_window() {
    let desk = Desk::demo().unwrap();
    assert!(desk.empty("Far", Some(30.0), Some("lawn"), None).is_err());
    desk.empty("Far", Some(30.0), Some("planted_bed"), None)
        .unwrap();
    let near = desk.forecast(&ask("Near")).unwrap();
    assert_eq!(near.record.batches, 6);
}

#[test]
fn readings_shorten_the_window() {
    let desk = Desk::demo().unwrap();
    let with = desk.forecast(&ask("Far")).unwrap();
    assert!(with.learnt.used >= 15, "{:?}", with.learnt);
    assert!(with.learnt.latest.is_some());
    let without = desk
        .forecast(&ForecastAsk {
            // Too few to learn: the same batch by arithmetic alone.
            members: 19,
            ..ask("Far")
        })
        .unwrap();
    assert_eq!(without.learnt.used, 0);
    let water = |a: &desk::ForecastAnswer| a.inside.water_pct.high - a.inside.water_pct.low;
    assert!(water(&with) < water(&without));
}

fn points(sensor: &str, from: &str, count: i64, every_s: i64) -> Vec<SensorPoint> {
    let start: jiff::Timestamp = from.parse().unwrap();
    (0..count)
        .map(|i| SensorPoint {
            sensor: sensor.into(),
            at: jiff::Timestamp::from_second(start.as_second() + i * every_s).unwrap(),
            celsius: 30.0 + (i % 7) as f64 / 10.0,
        })
        .collect()
}

#[test]
fn a_probe_sends_and_only_hours_are_kept() {
    let desk = Desk::demo().unwrap();
    let token = desk.add_sensor("core-1", "Far").unwrap();
    assert_eq!(desk.sensor_of(&token).unwrap().as_deref(), Some("core-1"));
    assert_eq!(desk.sensor_of("no such").unwrap(), None);
    let mut out = Vec::new();
    desk.export(&mut out).unwrap();
    assert!(
        !String::from_utf8_lossy(&out).contains(&token),
        "only the hash is kept"
    );

    let used = desk.forecast(&ask("Far")).unwrap().learnt.used;
    let day = points("core-1", "2026-09-17T00:00:00Z", 8_640, 10);
    let began = std::time::Instant::now();
    let sent = desk.take_points("core-1", &day).unwrap();
    assert!(began.elapsed().as_secs() < 5, "{:?}", began.elapsed());
    assert_eq!((sent.taken, sent.known, sent.hours), (8_640, 0, 24));
    let again = desk.take_points("core-1", &day).unwrap();
    assert_eq!((again.taken, again.known, again.hours), (0, 8_640, 0));
    assert_eq!(desk.forecast(&ask("Far")).unwrap().learnt.used, used + 24);

    // The hour that runs is held, and a point sent twice is one.
    let now = points("core-1", "2026-09-18T16:10:00Z", 3, 60);
    assert_eq!(desk.take_points("core-1", &now).unwrap().taken, 3);
    assert_eq!(desk.take_points("core-1", &now).unwrap().known, 3);

    let ahead = points("core-1", "2026-09-19T00:00:00Z", 1, 60);
    assert!(desk.take_points("core-1", &ahead).is_err());
    assert!(matches!(
        desk.take_points("core-1", &points("other", "2026-09-17T00:00:00Z", 1, 1)),
        Err(Error::OtherSensor { .. })
    ));
    let facts = desk.sensors().unwrap();
    assert_eq!(facts[0].chamber.as_deref(), Some("Far"));
    assert!(
        facts[0]
            .last
            .as_ref()
            .is_some_and(|(_, c)| (*c - 30.3).abs() < 0.2)
    );
    desk.revoke_sensor("core-1").unwrap();
    assert_eq!(desk.sensor_of(&token).unwrap(), None);
    assert!(desk.revoke_sensor("core-1").is_err());
}
