//! Turned, watered, and the weather that was measured: noted, taken back, and what a forecast makes of them.
#![allow(clippy::unwrap_used, clippy::panic, reason = "tests")]

use desk::{Assumed, Desk, ForecastAnswer, ForecastAsk};
use jiff::ToSpan as _;
use jiff::civil::date;

fn forecast(desk: &Desk, chamber: &str) -> ForecastAnswer {
    let ask = ForecastAsk {
        chamber: Some(chamber.into()),
        members: 32,
        moves: false,
        ..ForecastAsk::default()
    };
    desk.forecast(&ask).unwrap()
}

/// So many even days of one temperature up to the demo's own day, 18 September 2026.
fn file(days: i64, celsius: f64) -> String {
    let mut text = "date,tmean_c\n".to_owned();
    for ago in (0..days).rev() {
        let day = date(2026, 9, 18).saturating_sub(ago.days());
        text.push_str(&format!("{day},{celsius}\n"));
    }
    text
}

#[test]
fn one_tap_turns_all_that_holds_something_and_each_can_be_taken_back() {
    let desk = Desk::demo().unwrap();
    assert!(desk.today().unwrap().turned_today.is_empty());
    let before = desk.state_hash().unwrap();
    let done = desk.turned(None, Some("tap")).unwrap();
    assert_eq!(done.chambers, ["Far", "Near"]);
    assert!(done.written && done.ids.len() == 2);
    let again = desk.turned(None, Some("tap")).unwrap();
    assert!(!again.written, "a second tap on the same form is one entry");
    assert_eq!(again.ids, done.ids);
    assert_eq!(desk.today().unwrap().turned_today, ["Far", "Near"]);
    let line = &desk.log(1, None).unwrap()[0];
    assert_eq!(
        (line.text.as_str(), line.kind.as_str()),
        ("turned", "reading")
    );
    desk.undo(Some(&done.ids[0]), None).unwrap();
    assert_eq!(desk.today().unwrap().turned_today, ["Near"]);
    desk.undo(Some(&done.ids[1]), None).unwrap();
    assert_eq!(desk.state_hash().unwrap(), before);
}

#[test]
fn what_is_empty_cannot_be_turned_or_watered() {
    let desk = Desk::demo().unwrap();
    desk.empty("Far", None, None, None).unwrap();
    let before = desk.state_hash().unwrap();
    for error in [
        desk.turned(Some("Far"), None).unwrap_err(),
        desk.watered("far", "2 L", None).unwrap_err(),
    ] {
        assert_eq!(error.to_string(), "Far: is empty; nothing was recorded");
    }
    assert_eq!(desk.turned(None, None).unwrap().chambers, ["Near"]);
    desk.undo(None, None).unwrap();
    for (amount, says) in [
        ("lots", "is not an amount"),
        ("", "is not an amount"),
        ("2 kg card", "is not an amount"),
        ("-2", "outside 0.05 to 200 L"),
        ("NaN", "not a number"),
        ("5000 L", "L"),
    ] {
        let error = desk.watered("Near", amount, None).unwrap_err().to_string();
        assert!(error.contains(says), "{amount}: {error}");
    }
    assert_eq!(desk.state_hash().unwrap(), before);
}

#[test]
fn water_poured_makes_the_forecast_wetter() {
    let desk = Desk::demo().unwrap();
    let dry = forecast(&desk, "Far").inside.water_pct.mid;
    for (amount, text) in [
        ("2", "watered: 2 L"),
        ("2,5 L", "watered: 2,5 L"),
        ("half a bucket", "watered: half a bucket"),
    ] {
        desk.watered("Far", amount, None).unwrap();
        assert_eq!(desk.log(1, None).unwrap()[0].text, text);
    }
    let wet = forecast(&desk, "Far").inside.water_pct.mid;
    assert!(wet > dry + 2.0, "{dry} to {wet}");
}

#[test]
fn a_first_turning_noted_late_keeps_the_usual_ones_before_it() {
    let dir = std::env::temp_dir().join(format!("loamwright-tend-{}", std::process::id()));
    std::fs::create_dir_all(&dir).unwrap();
    let desk = Desk::open(&dir.join("journal.db"), None).unwrap();
    desk.add(
        "full caddy, 3 handfuls card, 40 days ago",
        Some("Near"),
        None,
    )
    .unwrap();
    let plain = forecast(&desk, "Near");
    desk.turned(Some("Near"), None).unwrap();
    let noted = forecast(&desk, "Near");
    std::fs::remove_dir_all(&dir).unwrap();
    assert!(plain.assumed.contains(&Assumed::Turned {
        every: 3,
        noted: false
    }));
    assert!(noted.assumed.contains(&Assumed::TurnedBetween(3)));
    let core = |a: &ForecastAnswer| a.inside.recognisable_pct.mid;
    assert!(
        (core(&plain) - core(&noted)).abs() < 2.0,
        "one tap moves no weeks"
    );
}

#[test]
fn measured_days_stand_in_place_of_drawn_ones() {
    let desk = Desk::demo().unwrap();
    let drawn = forecast(&desk, "Far");
    assert!(drawn.inside.air_c.high - drawn.inside.air_c.low > 3.0);
    let hash = desk.state_hash().unwrap();
    let done = desk
        .set_weather(file(200, 19.5).as_bytes(), "garden.csv", None)
        .unwrap();
    assert_eq!((done.kept.count, done.left_out), (200, (0, 0)));
    assert_eq!(done.kept.to, date(2026, 9, 18));
    assert_eq!(desk.weather_kept().unwrap(), Some(done.kept));
    let line = &desk.log(1, None).unwrap()[0];
    assert_eq!(
        line.text,
        "weather of 200 days, 2026-03-03 to 2026-09-18: garden.csv"
    );
    let a = forecast(&desk, "Far");
    assert!(a.assumed.iter().any(|x| matches!(
        x,
        Assumed::Observed { days, to } if *days == 183 && *to == date(2026, 9, 18)
    )));
    // From noon on the air goes towards a tomorrow that is drawn.
    let air = a.inside.air_c;
    assert!(
        (air.low - 19.5).abs() < 1.0 && (air.high - 19.5).abs() < 1.0,
        "{air:?}"
    );
    desk.undo(None, None).unwrap();
    assert_eq!(desk.state_hash().unwrap(), hash);
    assert_eq!(forecast(&desk, "Far"), drawn);
}

#[test]
fn a_weather_file_that_cannot_be_used_is_told_by_its_line_and_leaves_no_trace() {
    let desk = Desk::demo().unwrap();
    let hash = desk.state_hash().unwrap();
    for (text, says) in [
        ("", "weather file: the file is empty"),
        ("date,tmean_c\n2026-09-01,12\n2026-09-02,warm\n", "line 3"),
        ("date,tmean_c\n2026-09-01,120\n", "line 2"),
        (
            "date,tmean_c\n2010-09-01,12\n2010-09-02,13\n",
            "only days from 2022",
        ),
    ] {
        let error = desk
            .set_weather(text.as_bytes(), "x.csv", None)
            .unwrap_err();
        assert!(error.to_string().contains(says), "{text}: {error}");
    }
    assert_eq!(desk.state_hash().unwrap(), hash);
    // Days to come are no measurement.
    let ahead = format!("{}2026-09-19,12\n", file(3, 15.0));
    let done = desk.set_weather(ahead.as_bytes(), "x.csv", None).unwrap();
    assert_eq!((done.kept.count, done.left_out), (3, (0, 1)));
    let far = desk
        .set_weather(file(30, 45.0).as_bytes(), "x.csv", None)
        .unwrap();
    assert!(
        far.notes.iter().any(|n| n.contains("°C warmer than usual")),
        "{:?}",
        far.notes
    );
}
