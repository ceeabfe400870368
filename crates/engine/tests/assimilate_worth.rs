//! What a reading would be worth, before it is taken.
#![allow(clippy::unwrap_used, reason = "tests")]

#[path = "../examples/household/mod.rs"]
mod household;

use engine::assimilate::worth::worth;
use engine::assimilate::{Kind, Reading, Seen, Settings, learn, members};
use engine::ensemble::{Ensemble, Plan, prior, simulate};
use engine::forecast::Rung;
use household::{Ask, Household};

fn forecast(count: u64) -> (Plan, Ensemble) {
    let home = Household::drawn(
        4,
        &Ask {
            seed: 11,
            days: 300,
            weeks: 5,
            month: Some(9),
            slips: false,
            varied: true,
        },
    );
    let rows: Vec<_> = (0..count).map(|m| prior::row(1, m)).collect();
    let skies = home.skies(1, 100);
    let e = simulate(&home.plan, &members(&home.plan, &skies, &rows));
    (home.plan, e)
}

#[test]
fn card_is_worth_more_than_a_thermometer_for_a_bed() {
    let (plan, e) = forecast(1000);
    let all = worth(&e, &plan, Rung::PlantedBed, 63.0);
    for w in &all {
        println!(
            "{:>8}: {:5.1} d of {:.0} d",
            w.kind.as_str(),
            w.shorter,
            w.now
        );
    }
    assert_eq!(all.len(), 8);
    assert!(all.windows(2).all(|w| w[0].shorter >= w[1].shorter));
    let of = |kind| all.iter().find(|w| w.kind == kind).unwrap().shorter;
    assert!(of(Kind::Card) > of(Kind::Core));
    assert!(of(Kind::Card) > of(Kind::Smell));
    assert!(
        all.iter()
            .all(|w| w.shorter > -0.1 * w.now && w.shorter < w.now)
    );
}

#[test]
fn a_batch_that_is_ready_needs_no_reading() {
    let (plan, e) = forecast(40);
    assert!(worth(&e, &plan, Rung::Mulch, 299.5).is_empty());
}

#[test]
fn days_that_were_not_kept_are_no_panic() {
    let (plan, _) = forecast(20);
    let rows: Vec<_> = (0..40).map(|m| prior::row(1, m)).collect();
    let air = engine::batch::air::Air::constant(12.0, 0.7, plan.days + 1);
    let skies = [std::sync::Arc::new(air)];
    let weekly = plan.clone().keeping((0..plan.days).step_by(7));
    let e = simulate(&weekly, &members(&weekly, &skies, &rows));
    assert!(worth(&e, &weekly, Rung::PlantedBed, 66.0).is_empty());
    let readings = [
        Reading::new(66.4, Seen::Core(21.0)),
        Reading::new(66.4, Seen::Squeeze(4)),
        Reading::new(66.5, Seen::Squeeze(4)),
    ];
    let learnt = learn(&weekly, &skies, &rows, &readings, &Settings::default()).unwrap();
    assert_eq!((learnt.used, learnt.fits.len()), (2, 3));
    assert!(
        learnt
            .fits
            .iter()
            .all(|f| f.after.0.is_finite() && f.after.1 > 0.0)
    );
    assert!(!worth(&learnt.ensemble, &weekly, Rung::PlantedBed, 66.0).is_empty());
}
