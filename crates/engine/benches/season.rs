//! A plan of 52 weeks over 200 years, from the table on. `cargo bench -p engine --bench season`.

use engine::climate::Day;
use engine::season::course::AGES;
use engine::season::{
    Chambers, Lot, Problem, STRATA, Table, Typical, WEEKS, Weekly, as_now, follow, plan,
};

fn main() {
    divan::main();
}

fn table() -> Table {
    let one = |m: usize| {
        let pace = |age: usize| {
            let month = m as f64 + age as f64 / 4.35;
            0.06 * (1.0 - 0.8 * (std::f64::consts::TAU * month / 12.0).cos())
        };
        let mut share = 1.0;
        let left: [f64; AGES] = std::array::from_fn(|age| {
            if age > 0 {
                share = 0.3 + (share - 0.3) * (-pace(age)).exp();
            }
            share
        });
        Typical {
            left: vec![left; STRATA],
            mulch: [6.0; STRATA],
            bed: [20.0; STRATA],
        }
    };
    Table {
        months: (0..12).map(one).collect(),
    }
}

#[divan::bench]
fn draw_plan_and_follow(bencher: divan::Bencher<'_, '_>) {
    let (table, start) = (table(), Day(20_714));
    let weekly = Weekly {
        litres: vec![10.0; WEEKS],
        spread: 0.3,
        known: 0,
    };
    let lot = Lot {
        litres: vec![50.0; WEEKS],
        mulch: 2.0,
        bed: 10.0,
        closed: -10.0,
    };
    bencher.bench_local(|| {
        let chambers = Chambers {
            room: vec![104.0, 104.0],
            filling: true,
            rests: Some(21.0),
        };
        let lots = |_| (lot.clone(), lot.clone());
        let problem = Problem::draw(&table, start, chambers, &weekly, lots, 200, 1);
        let now = as_now(&problem);
        let found = plan(&problem);
        (now.len(), follow(&problem, &found.changes).len())
    });
}
