//! The forecast of the demo household, and of journals of our own.
#![allow(clippy::unwrap_used, clippy::panic, reason = "tests")]

use desk::{Assumed, Desk, ForecastAsk};

fn ask(chamber: Option<&str>) -> ForecastAsk {
    ForecastAsk {
        chamber: chamber.map(str::to_owned),
        members: 64,
        ..ForecastAsk::default()
    }
}

#[test]
fn the_demo_chambers_are_plausible() {
    let desk = Desk::demo().unwrap();
    let far = desk.forecast(&ask(Some("Far"))).unwrap();
    assert_eq!(far.state, "closed");
    assert!(far.assumed.contains(&Assumed::Town("Brussels".into())));
    assert_eq!(far.rungs.len(), 5);
    for pair in far.rungs.windows(2) {
        // A finer use never comes before a rougher one.
        let late = |r: &desk::RungFacts| r.days[1].unwrap_or(f64::INFINITY);
        assert!(
            late(&pair[0]) <= late(&pair[1]),
            "{} after {}",
            pair[0].rung,
            pair[1].rung
        );
    }
    let inside = &far.inside;
    assert!(
        (45.0..80.0).contains(&inside.water_pct.mid),
        "{:?}",
        inside.water_pct
    );
    assert!(
        (12.0..45.0).contains(&inside.core_c.mid),
        "{:?}",
        inside.core_c
    );
    assert!(inside.litres.mid < 130.0, "{:?}", inside.litres);
    let near = desk.forecast(&ask(Some("Near"))).unwrap();
    assert!(near.assumed.contains(&Assumed::NothingMore));
}

#[test]
fn the_same_journal_and_seed_give_the_same_forecast() {
    let desk = Desk::demo().unwrap();
    let (a, b) = (
        desk.forecast(&ask(None)).unwrap(),
        desk.forecast(&ask(None)).unwrap(),
    );
    assert_eq!(a, b);
    assert_eq!(a.chamber, "Far");
}

#[test]
fn an_empty_chamber_is_an_answer_not_a_failure() {
    let dir = std::env::temp_dir().join(format!("loamwright-forecast-{}", std::process::id()));
    std::fs::create_dir_all(&dir).unwrap();
    let desk = Desk::open(&dir.join("empty.db"), None).unwrap();
    let error = desk.forecast(&ask(None)).unwrap_err().to_string();
    std::fs::remove_dir_all(&dir).unwrap();
    assert!(error.contains("no chamber holds anything yet"), "{error}");
}

#[test]
fn card_buys_time_and_keeps_nitrogen() {
    let desk = Desk::demo().unwrap();
    assert!(desk.card_if_known().is_none(), "a page never waits for it");
    desk.work_out_forecasts().unwrap();
    let card = desk.card_if_known().unwrap();
    let (without, with) = card.nitrogen_lost_pct;
    assert!(without > with, "{card:?}");
    // Smaller pieces rot sooner (process: cellulose decides the date).
    assert!(card.torn.days > 0.0 && card.shredded.days > 0.0, "{card:?}");
    assert!(desk.forecast_if_known("far").is_some() || desk.forecast_if_known("Far").is_some());
    println!("{card:?}");
}
