//! A diagnosis with everything known, and its amount. `cargo bench -p engine --bench diagnosis`.

use catalogue::Catalogue;
use engine::blend::Point;
use engine::diagnosis::{Evidence, Group, Inside, Symptom, Things, amount, diagnose, plan};
use units::Spread;

fn main() {
    divan::main();
}

fn known() -> Evidence {
    let about = |v: f64| Some(Spread::new(v * 0.9, v, v * 1.1));
    Evidence {
        water_pct: about(70.0),
        cn: about(19.0),
        air_space_pct: about(28.0),
        oxygen_pct: about(4.0),
        clumped_pct: about(12.0),
        core_c: about(24.0),
        air_c: about(9.0),
        litres: about(70.0),
        level_pct: about(54.0),
        days_ge_40: about(2.0),
        days_since_turn: Some(3.0),
        days_since_feed: Some(1.0),
        filled_over_days: Some(60.0),
        recognisable_pct: about(45.0),
        shares: Group::ALL.iter().map(|g| (*g, 10.0)).collect(),
        closed: false,
    }
}

#[divan::bench]
fn every_symptom(bencher: divan::Bencher<'_, '_>) {
    let evidence = known();
    bencher.bench_local(|| {
        Symptom::ALL
            .iter()
            .map(|s| diagnose(*s, divan::black_box(&evidence), &[]).len())
            .sum::<usize>()
    });
}

#[divan::bench]
fn causes_and_amounts_of_one(bencher: divan::Bencher<'_, '_>) {
    let Ok(catalogue) = Catalogue::load() else {
        return;
    };
    let point = |id| catalogue.get(id).map(|m| Point::from(&m.composition()));
    let (Some(card), Some(greens)) = (point("cardboard-corrugated"), point("coffee-grounds"))
    else {
        return;
    };
    let evidence = known();
    let inside = Inside {
        mass_kg: 30.0,
        water: 0.70,
        cn: Some(19.0),
        litres: 70.0,
        chamber_l: 130.0,
        juicy_l: None,
    };
    bencher.bench_local(|| {
        diagnose(Symptom::Rotten, divan::black_box(&evidence), &[])
            .iter()
            .filter_map(|c| {
                let act = plan(c.cause, &evidence).act;
                amount(
                    act,
                    Symptom::Rotten,
                    c.cause,
                    &inside,
                    &Things { card, greens },
                )
            })
            .count()
    });
}
