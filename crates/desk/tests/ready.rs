//! May I use it now, and the heat record, over the demo household and journals of our own.
#![allow(clippy::unwrap_used, clippy::panic, reason = "tests")]

use desk::{Desk, Error, HoldFacts, MetFacts, TestResult};

fn refused(desk: &Desk, text: &str) -> String {
    let before = desk.state_hash().unwrap();
    let said = match desk.record_test(Some("Far"), text, None) {
        Ok(done) => panic!("{text} was taken: {done:?}"),
        Err(error) => error.to_string(),
    };
    assert_eq!(
        desk.state_hash().unwrap(),
        before,
        "{text}: something was written"
    );
    said
}

#[test]
fn a_test_that_cannot_be_is_refused_and_nothing_is_written() {
    let desk = Desk::demo().unwrap();
    for (text, why) in [
        ("seeds 0 of 0, control 19 of 20", "none was sown"),
        (
            "seeds 30 of 20, control 19 of 20",
            "30 cannot come up of 20 sown",
        ),
        (
            "seeds 17 of 20, control 0 of 20",
            "0 of 20 came up in plain mix",
        ),
        ("seeds 17 of 20, control 15 of 20", "at least 16 must"),
        ("control 19 of 20", "only the control was counted"),
        ("flask rose 400 K", "between 0 and 75 K"),
        ("flask rose -4 K", "cannot be"),
        ("bag", "nothing understood"),
        ("flask in 5 days", "half a test"),
        ("jar 20000 ppm", "hours"),
        ("seeds 17 of 20, roots 22 mm", "both counts"),
        ("lovely weather", "nothing understood"),
        (
            "seeds 99999999999 of 99999999999",
            "between 1 and 1000 seeds",
        ),
    ] {
        let said = refused(&desk, text);
        assert!(said.contains(why), "{text}: {said}");
    }
    assert!(matches!(
        desk.record_test(Some("Nowhere"), "bag earthy", None),
        Err(Error::NoChamber { .. })
    ));
}

#[test]
fn tests_move_the_chance_and_open_pots_only_together() {
    let desk = Desk::demo().unwrap();
    let before = desk.ready(Some("Far"), Some(64)).unwrap();
    assert_eq!(before.rungs.len(), 5);
    // The demo has its seed test of 12 September, 17 of 20 against 19 of 20, and none of breath.
    assert!(before.tests.iter().any(|t| t.counts && t.kind == "seeds"));
    assert!(before.rungs[3].holds.contains(&HoldFacts::NoStabilityTest));
    assert!(!before.rungs[3].holds.contains(&HoldFacts::NoPlantTest));
    assert_ne!(
        before.next.unwrap().test,
        "seeds",
        "that was done six days ago"
    );

    let done = desk
        .record_test(Some("far"), "bag earthy", Some("k1"))
        .unwrap();
    assert!(done.written && done.chamber == "Far");
    assert!(
        !desk
            .record_test(Some("far"), "bag earthy", Some("k1"))
            .unwrap()
            .written
    );
    let after = desk.ready(Some("Far"), Some(64)).unwrap();
    for (a, b) in after.rungs.iter().zip(&before.rungs) {
        assert!(a.chance.unwrap() >= b.chance.unwrap(), "{}", a.rung);
        assert!(a.in_twenty().unwrap() <= 19);
    }
    assert!(!after.rungs[3].holds.contains(&HoldFacts::NoStabilityTest));
    for pair in after.rungs.windows(2) {
        assert!(pair[0].chance >= pair[1].chance);
    }

    desk.record_test(Some("far"), "bag rotten", None).unwrap();
    let foul = desk.ready(Some("Far"), Some(64)).unwrap();
    for (c, b) in foul.rungs.iter().zip(&before.rungs) {
        assert!(c.chance.unwrap() < b.chance.unwrap(), "{}", c.rung);
        assert!(c.holds.contains(&HoldFacts::Failed("bag")));
    }
    let bags: Vec<bool> = foul
        .tests
        .iter()
        .filter(|t| t.kind == "bag")
        .map(|t| t.counts)
        .collect();
    assert_eq!(bags, [true, false], "only the latest bag counts");
    let undone = desk.undo(None, None).unwrap();
    assert!(undone.text.contains("bag rotten"));
    assert_eq!(
        desk.ready(Some("Far"), Some(64)).unwrap().rungs,
        after.rungs,
        "undo brings it back"
    );
}

#[test]
fn a_page_gets_the_tests_without_waiting() {
    let desk = Desk::demo().unwrap();
    let quick = desk.ready(Some("Far"), None).unwrap();
    assert!(quick.rungs.iter().all(|r| r.chance.is_none()) && quick.next.is_none());
    let Some(TestResult::Seeds {
        ratio: Some((ratio, ends)),
        likely,
        ..
    }) = quick
        .tests
        .iter()
        .find(|t| t.counts)
        .map(|t| t.result.clone())
    else {
        panic!("no seed test: {:?}", quick.tests);
    };
    assert!((ratio - 17.0 / 19.0).abs() < 1e-9);
    assert!(
        ends.low < 0.9 && ends.high > 0.9,
        "twenty seeds cannot tell nine of ten: {ends:?}"
    );
    assert!(likely.low > 0.6 && likely.high < 0.96);
}

#[test]
fn a_chamber_still_fed_is_held_back_by_rest() {
    let desk = Desk::demo().unwrap();
    let near = desk.ready(Some("Near"), Some(64)).unwrap();
    assert_eq!(near.state, "filling");
    for r in &near.rungs {
        assert!(
            r.holds.iter().any(|h| matches!(h, HoldFacts::Rest { .. })),
            "{}",
            r.rung
        );
    }
}

/// A journal of our own with hourly temperatures in core and shell, from an export.
fn logged(hours: u32, shell: bool, celsius: f64) -> Desk {
    let dir = std::env::temp_dir().join(format!(
        "loamwright-heat-{}-{hours}-{shell}-{celsius}",
        std::process::id()
    ));
    std::fs::create_dir_all(&dir).unwrap();
    let file = dir.join("journal.db");
    _ = std::fs::remove_file(&file);
    let desk = Desk::open(&file, None).unwrap();
    desk.add(
        "full caddy, 3 handfuls card, 10 days ago",
        Some("Hot"),
        None,
    )
    .unwrap();
    let mut out = Vec::new();
    desk.export(&mut out).unwrap();
    let export = String::from_utf8(out).unwrap();
    let sample: serde_json::Value = export
        .lines()
        .map(|l| serde_json::from_str(l).unwrap())
        .find(|v: &serde_json::Value| v["kind"] == "put_in")
        .unwrap();
    let start: jiff::Timestamp = sample["at"].as_str().unwrap().parse().unwrap();
    let mut head: serde_json::Value = serde_json::from_str(export.lines().next().unwrap()).unwrap();
    head["events"] = (hours / 12 + 2).into();
    let mut lines = format!("{head}\n");
    for hour in (0..=hours).step_by(12) {
        let at = start + jiff::SignedDuration::from_hours(i64::from(hour));
        let mut values = serde_json::json!({"core_c": celsius});
        if shell {
            values["shell_c"] = celsius.into();
        }
        let mut event = sample.clone();
        event["id"] = uuid::Uuid::now_v7().to_string().into();
        event["kind"] = "reading".into();
        event["at"] = at.to_string().into();
        event["key"] = serde_json::Value::Null;
        event["body"] = serde_json::json!({
            "chamber": sample["body"]["chamber"], "text": "", "values": values,
        });
        lines.push_str(&event.to_string());
        lines.push('\n');
    }
    let wrong = serde_json::json!({
        "chamber": sample["body"]["chamber"], "text": "", "values": {"core_c": -127.0},
    });
    let mut event = sample.clone();
    event["id"] = uuid::Uuid::now_v7().to_string().into();
    event["kind"] = "reading".into();
    event["key"] = serde_json::Value::Null;
    event["body"] = wrong;
    lines.push_str(&event.to_string());
    desk.import(&mut lines.as_bytes()).unwrap();
    _ = std::fs::remove_dir_all(&dir);
    desk
}

#[test]
fn heat_is_told_from_readings_alone() {
    let core = logged(96, false, 60.0).heat(Some("Hot")).unwrap();
    assert!((core.core.plain - 96.0).abs() < 1e-6, "{:?}", core.core);
    assert!(core.core_only() && core.set_aside == 1 && core.reaches);
    let efsa = |a: &desk::HeatAnswer| {
        a.yardsticks
            .iter()
            .find(|y| y.id == "efsa-2024")
            .unwrap()
            .met
    };
    assert_eq!(efsa(&core), MetFacts::CoreOnly);
    assert_eq!(efsa(&core).known(), None);
    let both = logged(96, true, 60.0).heat(Some("Hot")).unwrap();
    assert_eq!(efsa(&both), MetFacts::Met);
    assert_eq!(both.turns_between, 0);
    let demo = Desk::demo().unwrap().heat(Some("Far")).unwrap();
    assert!(demo.core_only() && !demo.reaches && demo.core.plain == 0.0);
    assert!(!demo.turned.is_empty() && demo.fed_kg > 10.0 && !demo.kinds.is_empty());
}
