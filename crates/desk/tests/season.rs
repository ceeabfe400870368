//! The year ahead: of the invented household, and of one that has just begun.
#![allow(clippy::unwrap_used, reason = "tests")]

use desk::{Desk, Error};

#[test]
fn the_demo_sees_its_winter_in_september_and_a_plan_that_spills_less() {
    let desk = Desk::demo().unwrap();
    assert!(desk.season_if_known().is_none(), "no page waits for it");
    desk.work_out_season().unwrap();
    let a = desk.season_if_known().unwrap();
    assert_eq!(a.chambers, ["Near", "Far"]);
    assert_eq!((a.months.len(), a.planned.len()), (24, 24));
    let winter: Vec<_> = a
        .overflow
        .iter()
        .filter(|o| o.week.year() == 2027 && o.week.month() <= 3)
        .collect();
    assert!(winter.iter().any(|o| o.chance >= 0.5), "{winter:?}");
    assert!(a.first_over().is_some_and(|o| o.week <= winter[0].week));
    assert!(a.plan.mean < 0.7 * a.now.mean, "{:?} {:?}", a.plan, a.now);
    let [less, more] = a.tried;
    assert!(less.1 < a.now.mean && a.now.mean < more.1, "{:?}", a.tried);
    for m in a.months.iter().chain(&a.planned) {
        assert!(m.level_l.low >= 0.0 && m.level_l.low <= m.level_l.high);
    }
    assert!(a.acts.windows(2).all(|w| w[0].minutes <= w[1].minutes));
    assert!(a.acts.iter().all(|x| x.effect_l <= a.now.mean + 1e-9));
    assert_eq!(a.browns.stock_l, Some(60.0));
    assert!(a.browns.lay_in.iter().any(|l| l.what == "leaves"));
    // The same journal gives the same year, and an entry makes it old.
    assert_eq!(desk.season(None).unwrap(), *a);
    desk.add("full caddy", None, None).unwrap();
    assert!(desk.season_if_known().is_none());
}

#[test]
fn a_household_without_a_chamber_or_with_an_empty_one_is_told_so() {
    let dir = std::env::temp_dir().join(format!("loamwright-season-{}", std::process::id()));
    std::fs::create_dir_all(&dir).unwrap();
    let desk = Desk::open(&dir.join("journal.db"), None).unwrap();
    let wrong = desk.season(None).unwrap_err();
    assert!(matches!(wrong, Error::BadSetting { .. }) && wrong.to_string().contains("no chamber"));
    desk.work_out_season().unwrap();
    assert!(desk.season_if_known().is_none());
    desk.change_household(
        desk::HouseholdChange::Chamber {
            name: "Bin".into(),
            litres: Some(300.0),
            length_cm: None,
            across_cm: None,
            upright: None,
        },
        None,
    )
    .unwrap();
    let a = desk.season(None).unwrap();
    assert_eq!(
        (a.chambers.len(), a.months.len(), a.changes.len()),
        (1, 12, 0)
    );
    assert!(a.weekly_l > 1.0, "a usual kitchen is taken");
    // A command waits for the year, a page does not.
    let (from, to) = (
        a.today.saturating_add(jiff::Span::new().days(3)),
        a.today.saturating_add(jiff::Span::new().days(9)),
    );
    let page = desk.away(from, to, false).unwrap();
    assert!(!page.year_known && page.room.is_none());
    let command = desk.away(from, to, true).unwrap();
    let room = command.room.unwrap();
    assert_eq!((room.chamber.as_str(), room.room_l), ("Bin", 240.0));
    assert!(!room.nearly_full && command.year_known);
    assert_eq!(command.sitter.tip_into.as_deref(), Some("Bin"));
    // In no season is somebody asked to turn it who need not come.
    for month in 0..11 {
        let from = a
            .today
            .saturating_add(jiff::Span::new().months(month).days(2));
        let to = from.saturating_add(jiff::Span::new().days(20));
        let sitter = desk.away(from, to, false).unwrap().sitter;
        assert!(sitter.needed || !sitter.turn_weekly, "{from}");
    }
    std::fs::remove_dir_all(dir).unwrap();
}
