//! The centre of the priors in a small black drum, month by month, beside the ensemble: a first look.
#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "a study prints")]

use std::sync::Arc;
use std::time::Instant;

use engine::batch::air::{Air, courses};
use engine::batch::events::{Deed, Feed};
use engine::batch::vessel::Vessel;
use engine::climate::{Day, Noise, Normals, Observed, Place, Weather};
use engine::ensemble::{At, Member, Plan, prior, simulate};

fn feed(kg: f64, water: f64, day: f64) -> At {
    // Kitchen greens and card to C:N 30 in organic matter; 58 % water.
    let dry = kg * (1.0 - water);
    let organic = dry * 0.9;
    At {
        day,
        deed: Deed::Feed(Feed {
            water: kg * water,
            quick: organic * 0.40,
            cellulose: organic * 0.43,
            lignin: organic * 0.17,
            ash: dry * 0.1,
            carbon: dry * 0.45,
            nitrogen: dry * 0.45 / 30.0,
            dry_density: 130.0,
            pieces: 1.0,
            temperature: 15.0,
        }),
    }
}

fn main() {
    let mut months = [0.0; 12];
    for (i, m) in months.iter_mut().enumerate() {
        *m = 11.0 - 8.0 * ((i as f64 + 0.5 - 0.5) * std::f64::consts::TAU / 12.0).cos();
    }
    let normals = Normals::new(Place {
        latitude: 48.0,
        monthly_mean_c: months,
        annual_rain_mm: Some(800.0),
        annual_sun_h: Some(1700.0),
    })
    .unwrap();
    let vessel = Vessel {
        litres: 106.0,
        ..Vessel::default()
    };
    for (month, day) in [(5, 1), (9, 15), (11, 1)] {
        let first = Day::from_ymd(2025, month, day).unwrap();
        let mut deeds = Vec::new();
        for i in 0..14 {
            deeds.push(feed(48.0 / 14.0, 0.58, f64::from(i) * 3.0));
        }
        for i in 1..140 {
            deeds.push(At {
                day: f64::from(i) * 3.0 + 0.04,
                deed: Deed::Turn,
            });
        }
        let days = 420;
        let doy = first.of_year().1 as f64 + 1.0;
        let plan = Plan::new(
            vessel,
            deeds,
            days,
            courses(48f64.to_radians(), doy, days + 1),
        );
        let weather = |m: u64, sigma: f64| {
            Arc::new(Air::of(&Weather::draw(
                &normals,
                first,
                days,
                &Observed::new(),
                Noise {
                    sigma_k: sigma,
                    phi: 0.75,
                },
                (1, m),
            )))
        };
        let centre = [Member {
            params: prior::params(&[0.0; 23], &vessel),
            air: weather(0, 0.0),
        }];
        let one = simulate(&plan, &centre);
        let o = &one.outcomes[0];
        println!(
            "{month}/{day}: peak {:.1} at {:.1}; OM loss {:.1} wet {:.1} N {:.1} cn {:.1} water {:.1} ready {:?} sound {} res {:?} heat {:.1e}",
            o.peak_c,
            o.peak_day,
            o.organic_matter_loss_pct,
            o.wet_mass_loss_pct,
            o.nitrogen_loss_pct,
            o.final_cn,
            o.final_water_pct,
            o.ready.map(f64::round),
            o.sound,
            o.residual,
            o.heat_residual
        );
        let t = Instant::now();
        let members: Vec<Member> = (0..1000)
            .map(|m| Member {
                params: prior::params(&prior::row(1, m), &vessel),
                air: weather(m, 2.5),
            })
            .collect();
        let drawn = t.elapsed();
        let t = Instant::now();
        let all = simulate(&plan, &members);
        let ran = t.elapsed();
        let q = |f: &dyn Fn(&engine::ensemble::Outcome) -> f64| {
            let mut v: Vec<f64> = all.outcomes.iter().map(f).collect();
            v.sort_by(f64::total_cmp);
            [v[50], v[500], v[949]].map(|x| (x * 10.0).round() / 10.0)
        };
        println!(
            "  ensemble peak {:?} ge40 {:?} bed {:?} pots {:?} wet {:?} N {:?}  drawn {drawn:?} ran {ran:?}",
            q(&|o| o.peak_c),
            q(&|o| o.days_ge_40),
            q(&|o| o.ready[2]),
            q(&|o| o.ready[3]),
            q(&|o| o.wet_mass_loss_pct),
            q(&|o| o.nitrogen_loss_pct)
        );
        println!(
            "  mulch {:?} resting {:?} heat residual {:?} unsound {}",
            q(&|o| o.ready[0]),
            q(&|o| o.ready[1]),
            q(&|o| o.heat_residual * 1e6),
            all.outcomes.iter().filter(|o| !o.sound).count()
        );
    }
}
