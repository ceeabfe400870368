//! A household over its journal: what is recorded, repeated, undone, and what the demo shows.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking; helpers outside test functions too"
)]

use desk::{Desk, DoseAsk, Error, HouseholdChange, TONIGHT};

fn fresh() -> (std::path::PathBuf, Desk) {
    use std::sync::atomic::{AtomicU32, Ordering};
    static NEXT: AtomicU32 = AtomicU32::new(0);
    let n = NEXT.fetch_add(1, Ordering::Relaxed);
    let dir = std::env::temp_dir().join(format!("loamwright-desk-{}-{n}", std::process::id()));
    std::fs::create_dir_all(&dir).unwrap();
    let desk = Desk::open(&dir.join("journal.db"), None).unwrap();
    (dir, desk)
}

#[test]
fn the_first_entry_asks_nothing_and_undo_restores_the_state() {
    let (dir, desk) = fresh();
    let first = desk
        .add("full caddy, 3 handfuls card", Some("Near"), None)
        .unwrap();
    assert_eq!(first.chamber, "Near");
    let before = desk.state_hash().unwrap();
    desk.add("2 banana peels, yesterday", None, None).unwrap();
    assert_ne!(desk.state_hash().unwrap(), before);
    let line = desk.undo(None, None).unwrap();
    assert!(line.undone && line.text.contains("banana"));
    assert_eq!(desk.state_hash().unwrap(), before);
    std::fs::remove_dir_all(dir).unwrap();
}

#[test]
fn a_repeated_key_is_one_entry_and_the_refused_leave_no_trace() {
    let (dir, desk) = fresh();
    let one = desk.add("full caddy", Some("Near"), Some("tap-1")).unwrap();
    let two = desk.add("full caddy", Some("Near"), Some("tap-1")).unwrap();
    assert_eq!(one.id, two.id);
    assert!(one.written && !two.written);
    let before = desk.state_hash().unwrap();
    let refused = desk.add("full caddy, dog poo", Some("Near"), None);
    assert!(matches!(refused, Err(Error::Refused { .. })), "{refused:?}");
    // Adding, opening and correcting refuse in the same words.
    let said = refused.unwrap_err().to_string();
    let opened = desk.open_part_full("Near", Some(50.0), None, "full caddy, dog poo", None);
    assert_eq!(opened.unwrap_err().to_string(), said);
    let corrected = desk.correct(&one.id, "full caddy, dog poo", None);
    assert_eq!(corrected.unwrap_err().to_string(), said);
    assert_eq!(desk.state_hash().unwrap(), before);
    std::fs::remove_dir_all(dir).unwrap();
}

#[test]
fn unknown_words_are_kept_and_flagged() {
    let (dir, desk) = fresh();
    let added = desk
        .add("full caddy, 3 wibbles", Some("Near"), None)
        .unwrap();
    assert_eq!(added.read.items.len(), 1);
    assert!(
        added
            .read
            .unknown
            .iter()
            .any(|u| u.text.contains("wibbles")),
        "{:?}",
        added.read.unknown
    );
    let line = &desk.log(1, None).unwrap()[0];
    assert!(line.text.contains("wibbles") && !line.unknown.is_empty());
    let better = desk
        .correct(&added.id, "full caddy and 2 egg boxes", None)
        .unwrap();
    assert!(better.corrected && better.text.contains("egg boxes"));
    std::fs::remove_dir_all(dir).unwrap();
}

#[test]
fn stock_limits_the_dose_and_own_figures_shadow() {
    let (dir, desk) = fresh();
    desk.add("1 handful peelings", Some("Near"), None).unwrap();
    desk.count_stock("torn card 3 L", None).unwrap();
    let a = desk
        .dose(&DoseAsk {
            text: "full caddy".into(),
            ..DoseAsk::default()
        })
        .unwrap();
    let litres: f64 = a
        .doses
        .iter()
        .filter(|d| d.material == "cardboard-corrugated")
        .filter_map(|d| d.litres)
        .sum();
    assert!(litres <= 3.0 + 1e-9, "{litres}");
    let row = catalogue_row("Peelings from us", 60.0);
    desk.change_household(row, None).unwrap();
    let mix = desk.mix("1 kg peelings from us").unwrap().mix;
    assert!((mix.water_pct.unwrap().mid - 60.0).abs() < 1e-9);
    let bad = desk.change_household(catalogue_row("", 60.0), None);
    assert!(bad.is_err());
    std::fs::remove_dir_all(dir).unwrap();
}

fn catalogue_row(name: &str, water: f64) -> HouseholdChange {
    let csv =
        format!("name,water_pct,carbon_pct_dry,cn,density_kg_m3\n\"{name}\",{water},45,20,400\n");
    match catalogue::read_own(&csv) {
        Ok(rows) => HouseholdChange::Own(rows[0].clone()),
        Err(_) => HouseholdChange::Chamber {
            name: name.into(),
            litres: None,
            length_cm: None,
            across_cm: None,
            upright: None,
        },
    }
}

#[test]
fn export_import_export_is_identical() {
    let demo = Desk::demo().unwrap();
    let mut out = Vec::new();
    demo.export(&mut out).unwrap();
    let (dir, desk) = fresh();
    let written = desk.import(&mut out.as_slice()).unwrap();
    assert!(written > 800, "{written}");
    let mut again = Vec::new();
    desk.export(&mut again).unwrap();
    assert!(out == again);
    assert_eq!(demo.state_hash().unwrap(), desk.state_hash().unwrap());
    std::fs::remove_dir_all(dir).unwrap();
}

#[test]
fn the_demo_answers_tonight() {
    let demo = Desk::demo().unwrap();
    let today = demo.today().unwrap();
    assert_eq!(today.date, "18 September 2026");
    assert_eq!(today.tip_into.as_deref(), Some("Near"));
    let states: Vec<_> = today
        .chambers
        .iter()
        .map(|c| (c.name.as_str(), c.state))
        .collect();
    assert!(
        states.contains(&("Near", "filling")) && states.contains(&("Far", "closed")),
        "{states:?}"
    );
    let tonight = demo
        .dose(&DoseAsk {
            text: TONIGHT.into(),
            ..DoseAsk::default()
        })
        .unwrap();
    assert_ne!(tonight.outcome, "cannot");
    assert!(
        tonight.read.unknown.is_empty(),
        "{:?}",
        tonight.read.unknown
    );
    assert_eq!(tonight.read.items.len(), 3);
    // The demo's own entries are all understood.
    for line in demo.log(500, None).unwrap() {
        assert!(line.unknown.is_empty(), "{line:?}");
    }
}

#[test]
fn a_published_recipe_with_own_figures() {
    // Richard & Trautmann 1996, Cornell, moisture page: 10 kg grass 77 %, leaves 35 %, aim 60 %: 6.8 kg.
    let csv = "name,water_pct,carbon_pct_dry,nitrogen_pct_dry\nlawn grass,77,45,2.4\nold leaves,35,50,0.75\n";
    let desk = Desk::without_journal(Some(csv)).unwrap();
    let ask = DoseAsk {
        text: "10 kg lawn grass".into(),
        with: Some("old leaves".into()),
        target: Some("water=60".into()),
        chamber: None,
    };
    let a = desk.dose(&ask).unwrap();
    assert_eq!(a.outcome, "meets");
    assert!((a.doses[0].kg - 6.8).abs() < 0.005);
    let bad = desk.dose(&DoseAsk {
        target: Some("water=200".into()),
        ..ask
    });
    assert!(bad.unwrap_err().to_string().contains("1 to 99"));
}

#[test]
fn a_zone_that_was_not_given_is_not_made_up() {
    let (dir, desk) = fresh();
    let before = desk.household().unwrap();
    assert_eq!(before.zone_given(), None);
    let machine = jiff::tz::TimeZone::system();
    match machine.iana_name() {
        Some("Etc/Unknown") => assert_eq!(before.zone_used, "UTC"),
        Some(name) => assert_eq!(before.zone_used, name),
        None => assert!(before.zone_used.starts_with("UTC"), "{}", before.zone_used),
    }
    desk.change_household(zone("Pacific/Auckland"), None)
        .unwrap();
    let after = desk.household().unwrap();
    assert_eq!(after.zone_given(), Some("Pacific/Auckland"));
    assert_eq!(after.zone_used, "Pacific/Auckland");
    // One that was given as UTC is given.
    desk.change_household(zone("UTC"), None).unwrap();
    assert_eq!(desk.household().unwrap().zone_given(), Some("UTC"));
    std::fs::remove_dir_all(dir).unwrap();
}

fn zone(name: &str) -> HouseholdChange {
    HouseholdChange::Settings {
        name: None,
        place: None,
        latitude: None,
        zone: Some(name.into()),
        us: None,
        american: None,
        caddy_l: None,
        caddy_kg: None,
        handful_l: None,
    }
}

#[test]
fn two_desks_on_one_journal_see_what_the_other_writes() {
    let (dir, running) = fresh();
    let other = Desk::open(&dir.join("journal.db"), None).unwrap();
    running.add("full caddy", Some("Near"), None).unwrap();
    // Both have answered once, so both hold what they knew.
    assert!(running.look_up("kwibbel husks").unwrap().matches.is_empty());
    assert_eq!(running.today().unwrap().chambers[0].portions, 1);
    assert_eq!(other.log(10, None).unwrap().len(), 2);

    other
        .change_household(catalogue_row("Kwibbel husks", 61.0), None)
        .unwrap();
    other
        .change_household(zone("Pacific/Auckland"), None)
        .unwrap();
    other.add("2 eggshells", Some("Near"), None).unwrap();

    let mix = running.mix("1 kg kwibbel husks").unwrap().mix;
    assert!((mix.water_pct.unwrap().mid - 61.0).abs() < 1e-9);
    assert_eq!(running.household().unwrap().zone_used, "Pacific/Auckland");
    assert_eq!(running.today().unwrap().chambers[0].portions, 2);
    let log = running.log(10, None).unwrap();
    assert_eq!(log[0].text, "2 eggshells");
    assert_eq!(log, other.log(10, None).unwrap());

    // The running desk takes it back; the other one no longer knows the material.
    let own = log.iter().find(|l| l.kind == "own_figures").unwrap();
    running.undo(Some(&own.id), None).unwrap();
    assert!(other.mix("1 kg kwibbel husks").is_err());
    std::fs::remove_dir_all(dir).unwrap();
}

#[test]
fn the_level_a_chamber_opened_with_is_told_in_tens() {
    let (dir, desk) = fresh();
    desk.add("full caddy", Some("Near"), None).unwrap();
    assert_eq!(desk.chambers().unwrap()[0].level, None);
    let opened = desk
        .open_part_full("Near", Some(47.0), Some(30), "20 L dry leaves", None)
        .unwrap();
    let (level, date) = desk.chambers().unwrap()[0].level.clone().unwrap();
    assert!((level - 50.0).abs() < 1e-9, "{level}");
    assert!(date.ends_with(", by eye"), "{date}");
    // The words given stand in the log as they were.
    assert!(desk.log(1, None).unwrap()[0].text.contains("47 %"));
    desk.undo(Some(&opened.id), None).unwrap();
    assert_eq!(desk.chambers().unwrap()[0].level, None);
    std::fs::remove_dir_all(dir).unwrap();
}

fn rules(food: Option<bool>, apart_m: Option<f64>, largest_l: Option<f64>) -> HouseholdChange {
    HouseholdChange::Rules {
        food_allowed: food,
        apart_m,
        largest_l,
    }
}

#[test]
fn a_local_rule_tightens_a_verdict_and_never_loosens_one() {
    let (dir, desk) = fresh();
    let look = |what: &str| desk.look_up(what).unwrap().matches[0].clone();
    let before = look("cooked pasta");
    assert_eq!(before.verdict, "a_little");
    assert_eq!(before.local, Some(desk::LocalFood::Unsaid));
    // Peel is what no such rule is about.
    assert_eq!(look("banana peel").local, None);

    desk.change_household(rules(Some(false), None, None), None)
        .unwrap();
    let barred = look("cooked pasta");
    assert_eq!(barred.verdict, "not_here");
    assert!(barred.caution.contains("local rule you noted"));
    let line = desk.mix("1 kg cooked pasta").unwrap().read.items[0].clone();
    assert_eq!(line.verdict, "not_here");
    assert_eq!(look("banana peel").verdict, "yes");

    desk.change_household(rules(Some(true), None, None), None)
        .unwrap();
    assert_eq!(look("cooked pasta").verdict, before.verdict);
    assert_eq!(look("raw meat").verdict, "not_here");
    assert_eq!(look("raw meat").local, Some(desk::LocalFood::Allowed));
    std::fs::remove_dir_all(dir).unwrap();
}

#[test]
fn a_chamber_over_the_households_own_limit_is_named() {
    let (dir, desk) = fresh();
    for (name, litres) in [("Near", 130.0), ("Heap", 600.0)] {
        let chamber = HouseholdChange::Chamber {
            name: name.into(),
            litres: Some(litres),
            length_cm: None,
            across_cm: None,
            upright: None,
        };
        desk.change_household(chamber, None).unwrap();
    }
    assert_eq!(desk.local_rules().unwrap(), desk::LocalRules::default());
    desk.change_household(rules(None, Some(3.0), Some(400.0)), None)
        .unwrap();
    let noted = desk.local_rules().unwrap();
    assert_eq!(noted.too_large, [("Heap".to_owned(), 600.0)]);
    assert_eq!((noted.apart_m, noted.food_allowed), (Some(3.0), None));
    // A later answer to one question leaves the others as they were.
    desk.change_household(rules(Some(false), None, None), None)
        .unwrap();
    assert_eq!(desk.local_rules().unwrap().largest_l, Some(400.0));
    let wrong = desk
        .change_household(rules(None, Some(-1.0), None), None)
        .unwrap_err();
    assert!(wrong.to_string().contains("-1 m is outside 0 to 200 m"));
    assert_eq!(desk.local_rules().unwrap().apart_m, Some(3.0));
    std::fs::remove_dir_all(dir).unwrap();
}
