//! `ready` and `heat` from outside: answers, refusals, JSON.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking; helpers outside test functions too"
)]

mod home;

use home::Home;

#[test]
fn a_test_is_noted_and_weighed_in_one_command() {
    let home = Home::new("noted");
    home.run(&[
        "add",
        "full caddy, 2 caddies torn card, 90 days ago",
        "--to",
        "Far",
    ]);
    let (code, a) = home.json(&["ready", "Far", "seeds 17 of 20, control 19 of 20"]);
    assert_eq!(
        (code, a["schema"].as_str()),
        (0, Some("loamwright/ready/1"))
    );
    assert_eq!(a["recorded"]["written"], true);
    let rungs = a["rungs"].as_array().unwrap();
    assert_eq!(rungs.len(), 5);
    for r in rungs {
        let chance = r["chance"].as_f64().unwrap();
        assert!((0.0..=0.97).contains(&chance) && r["in_twenty"].as_u64().unwrap() <= 19);
        assert!(!r["why"].as_array().unwrap().is_empty());
    }
    assert_eq!(rungs[3]["rung"], "pots");
    assert_eq!(rungs[3]["shown"], false);
    assert_eq!(rungs[3]["held_back_by"][0]["what"], "no_stability_test");
    assert!(["bag", "self_heating"].contains(&a["next_test"]["name"].as_str().unwrap()));
    let share = &a["tests"][0]["result"]["share_wilson_95"];
    assert!(
        (share["mid"].as_f64().unwrap() - 0.85).abs() < 1e-9
            && share["low"].as_f64().unwrap() < 0.65
    );
}

#[test]
fn bad_tests_are_refused_in_plain_words_and_nothing_is_written() {
    let home = Home::new("refused");
    home.run(&["add", "full caddy, 3 handfuls card", "--to", "Far"]);
    let entries = || home.json(&["log"]).1["entries"].as_array().unwrap().len();
    let before = entries();
    for (test, says, wanted) in [
        ("seeds 0 of 0", "none was sown", 1),
        (
            "seeds 30 of 20, control 19 of 20",
            "30 cannot come up of 20 sown",
            1,
        ),
        (
            "seeds 17 of 20, control 0 of 20",
            "Sow again with fresh seed",
            1,
        ),
        ("flask rose 400 K", "between 0 and 75 K", 1),
        ("17 of", "nothing understood", 3),
        ("", "nothing understood", 3),
    ] {
        let out = home.run(&["ready", "Far", test]);
        let said = String::from_utf8(out.stderr).unwrap();
        assert!(said.contains(says), "{test}: {said}");
        assert_eq!(out.status.code(), Some(wanted), "{test}");
        let (code, a) = home.json(&["ready", "Far", test]);
        assert_eq!(
            (a["schema"].as_str(), code),
            (Some("loamwright/error/1"), wanted),
            "{test}"
        );
    }
    assert_eq!(entries(), before);
}

#[test]
fn a_batch_without_readings_has_unknown_hours_not_none() {
    let home = Home::new("heat");
    home.run(&[
        "add",
        "full caddy, 3 handfuls card, 30 days ago",
        "--to",
        "Far",
    ]);
    let (code, a) = home.json(&["heat", "Far"]);
    assert_eq!((code, a["schema"].as_str()), (0, Some("loamwright/heat/1")));
    assert_eq!(a["core_only"], true);
    for field in ["hours_ge_55", "weighted_hours"] {
        assert!(a[field].is_null());
        assert!(a["missing"].as_array().unwrap().contains(&field.into()));
    }
    let rows = a["yardsticks"].as_array().unwrap();
    assert!(rows.len() >= 12 && rows.iter().all(|y| y["met"] != true));
    for y in rows {
        assert!(["law", "yardstick"].contains(&y["law_or_yardstick"].as_str().unwrap()));
    }
    let text = String::from_utf8(home.run(&["heat"]).stdout).unwrap();
    assert!(text.contains("No temperature of Far is noted") && !text.contains(" safe"));
    assert_eq!(home.run(&["heat", "Nowhere"]).status.code(), Some(1));
}
