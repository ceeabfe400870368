//! A year of daily drivers for one member. `cargo bench -p engine --bench climate`.

use catalogue::climate::{FoundTown, Towns};
use engine::climate::{Day, Noise, Normals, Observed, Place, Weather};

fn main() {
    divan::main();
}

fn lisbon() -> Option<Normals> {
    let towns = Towns::load().ok()?;
    let FoundTown::One(town) = towns.find("Lisbon") else {
        return None;
    };
    Normals::new(Place::from(town)).ok()
}

#[divan::bench]
fn year_of_one_member(bencher: divan::Bencher<'_, '_>) {
    let Some(normals) = lisbon() else { return };
    let observed = Observed::new();
    bencher.bench_local(|| {
        let luck = divan::black_box((1, 2));
        Weather::draw(
            &normals,
            Day(20_000),
            365,
            &observed,
            Noise::default(),
            luck,
        )
    });
}

#[divan::bench]
fn normals_of_a_place(bencher: divan::Bencher<'_, '_>) {
    let Some(normals) = lisbon() else { return };
    bencher.bench_local(|| Normals::new(divan::black_box(normals.place().clone())));
}
