//! What the next person is told: nothing is waited for, nothing is claimed that nobody looked at.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking; helpers outside test functions too"
)]

use desk::{Desk, HandedOver, HouseholdChange, Within};

fn of<'a>(all: &'a [HandedOver], name: &str) -> &'a HandedOver {
    all.iter().find(|c| c.chamber.name == name).unwrap()
}

#[test]
fn a_page_gets_every_chamber_without_waiting_and_a_command_gets_what_is_in_them() {
    let desk = Desk::demo().unwrap();
    let soon = desk.handover(None).unwrap();
    assert_eq!(soon.chambers.len(), 2);
    assert!(soon.chambers.iter().all(|c| c.within == Within::Soon));
    // What was looked at needs no forecast.
    assert!(!of(&soon.chambers, "Far").looks.is_empty());

    let told = desk.handover(Some(40)).unwrap();
    assert_eq!(told.tip_into.as_deref(), Some("Near"));
    assert!(!told.browns.is_empty());
    let far = of(&told.chambers, "Far");
    let Within::Known {
        forecast,
        ready,
        tubs,
    } = &far.within
    else {
        panic!("{:?}", far.within)
    };
    // As many tubs as are told carry what is in there, and one of them can be lifted.
    let mass = forecast.inside.mass_kg;
    assert!(f64::from(tubs.count.1) * tubs.kg >= mass.high - 1e-9);
    assert!(tubs.kg <= desk::TUB_KG + 1e-9);
    // It is what `ready` says, by the same forecast.
    assert_eq!(ready.chamber, "Far");
    let by_now: Vec<_> = forecast.rungs.iter().map(|r| r.in_twenty_by_now).collect();
    let told: Vec<_> = ready
        .rungs
        .iter()
        .filter_map(|r| r.forecast_in_twenty)
        .collect();
    assert_eq!(told, by_now);
}

#[test]
fn the_last_look_of_each_kind_is_told_and_what_nobody_looked_at() {
    let dir = std::env::temp_dir().join(format!("loamwright-handover-{}", std::process::id()));
    std::fs::create_dir_all(&dir).unwrap();
    let desk = Desk::open(&dir.join("journal.db"), None).unwrap();
    assert!(desk.handover(None).unwrap().chambers.is_empty());
    desk.add(
        "2 full caddies, 1 caddy torn card, 3 days ago",
        Some("Near"),
        None,
    )
    .unwrap();
    let spare = HouseholdChange::Chamber {
        name: "Far".into(),
        litres: Some(100.0),
        length_cm: None,
        across_cm: None,
        upright: None,
    };
    desk.change_household(spare, None).unwrap();
    desk.note_look(Some("Near"), "squeeze runs, level 30 %, 2 days ago", None)
        .unwrap();
    desk.note_look(Some("Near"), "squeeze holds, 500 C", None)
        .unwrap();
    let told = desk.handover(None).unwrap();
    let near = of(&told.chambers, "Near");
    let said: Vec<&str> = near.looks.iter().map(|(s, _)| s.reading.as_str()).collect();
    assert_eq!(said, ["level_pct", "squeeze"]);
    assert_eq!(near.looks[1].0.word, Some("holds, no drip"));
    assert_eq!(near.looks[1].1, told.today);
    // What cannot be was not looked at.
    assert_eq!(near.never, ["core_c", "card", "smell"]);
    let far = of(&told.chambers, "Far");
    assert_eq!(far.within, Within::Empty);
    assert!(far.never.is_empty());
    std::fs::remove_dir_all(dir).unwrap();
}
