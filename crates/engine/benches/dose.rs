//! A dose with eight ingredients, and a mix of three. `cargo bench -p engine`.

use catalogue::Catalogue;
use engine::blend::{Mixture, PACKING, Point, Portion};
use engine::dose::{Candidate, Limit, Problem, Windows, solve};
use units::Spread;

fn main() {
    divan::main();
}

const AT_HAND: [&str; 8] = [
    "cardboard-corrugated",
    "leaves-dry-mixed",
    "newspaper",
    "egg-carton",
    "wood-shavings",
    "straw-wheat",
    "grass-fresh",
    "water-plain",
];

fn portion<'a>(catalogue: &'a Catalogue, id: &str, kg: f64) -> Option<Portion<'a>> {
    Some(Portion {
        material: catalogue.get(id)?,
        kg: Spread::new(kg * 0.8, kg, kg * 1.25),
    })
}

#[divan::bench]
fn dose_of_eight(bencher: divan::Bencher<'_, '_>) {
    let Ok(catalogue) = Catalogue::load() else {
        return;
    };
    let base: Vec<_> = portion(&catalogue, "mixed-kitchen-scraps", 2.0)
        .into_iter()
        .collect();
    let problem = Problem {
        base: Mixture::of(&base, 1).middle(),
        candidates: AT_HAND
            .iter()
            .filter_map(|id| catalogue.get(id))
            .map(|m| Candidate {
                per_kg: Point::from(&m.composition()).parts(1.0),
                stock_kg: None,
                handful_kg: Some(0.02),
            })
            .collect(),
        windows: Windows::default(),
        packing: PACKING.1,
        limits: Limit::ALL.to_vec(),
    };
    assert_eq!(problem.candidates.len(), 8);
    bencher.bench_local(|| solve(divan::black_box(&problem)));
}

#[divan::bench]
fn mix_of_three(bencher: divan::Bencher<'_, '_>) {
    let Ok(catalogue) = Catalogue::load() else {
        return;
    };
    let portions: Vec<_> = [
        "mixed-kitchen-scraps",
        "coffee-grounds",
        "cardboard-corrugated",
    ]
    .iter()
    .filter_map(|id| portion(&catalogue, id, 1.0))
    .collect();
    bencher.bench_local(|| {
        let mix = Mixture::of(divan::black_box(&portions), 1);
        (mix.water(), mix.carbon_nitrogen(), mix.air_space())
    });
}

#[divan::bench]
fn load_the_tables() -> bool {
    Catalogue::load().is_ok()
}
