//! Forecasts of the invented household's finished batches, as given on the day each was closed: what
//! `src/demo/foretold.csv` holds. Arguments: `course` prints the weeks of every batch instead, from the prior alone.
#![allow(clippy::print_stdout, clippy::unwrap_used, reason = "an example")]

use desk::{Desk, ForecastAsk};

/// Moments of closing, and the days on which the batches were emptied.
const CLOSED: [(&str, &str); 6] = [
    ("near", "2024-01-20T19:00:00Z"),
    ("far", "2024-06-02T18:00:00Z"),
    ("near", "2024-11-17T19:00:00Z"),
    ("far", "2025-05-25T18:00:00Z"),
    ("near", "2026-03-20T19:00:00Z"),
    ("far", "2026-07-06T18:00:00Z"),
];

fn main() {
    let course = std::env::args().any(|a| a == "course");
    println!("at,chamber,readings,rung,early,middle,late,p5,p50,p95,drum");
    for (chamber, at) in CLOSED {
        let desk = Desk::demo_on(at.parse().unwrap()).unwrap();
        let ask = ForecastAsk {
            chamber: Some(chamber.into()),
            moves: false,
            members: if course { 19 } else { 1000 },
            ..ForecastAsk::default()
        };
        let a = desk.forecast(&ask).unwrap();
        if course {
            println!("{chamber} closed {at}");
            for w in &a.weeks {
                println!(
                    "{:?} level {:.0} % water {:.0} core {:.0} air {:.0} card {:.0} kg",
                    w.date,
                    w.litres.mid / a.chamber_litres * 100.0,
                    w.water_pct.mid,
                    w.core_c.mid,
                    w.air_c,
                    w.recognisable_pct.mid
                );
            }
            continue;
        }
        for r in &a.rungs {
            let date = |d: Option<jiff::civil::Date>| d.map(|d| d.to_string()).unwrap_or_default();
            let days = |d: Option<f64>| {
                d.map(|d| format!("{:.1}", d - a.days_since_first as f64))
                    .unwrap_or_default()
            };
            let drum: Vec<String> = a
                .learnt
                .drum
                .iter()
                .map(|(name, [mean, sd])| format!("{name} {mean} {sd}"))
                .collect();
            println!(
                "{at},{chamber},{},{},{},{},{},{},{},{},{}",
                a.learnt.used,
                r.rung,
                date(r.early),
                date(r.middle),
                date(r.late),
                days(r.raw[0]),
                days(r.raw[1]),
                days(r.raw[2]),
                drum.join(";")
            );
        }
    }
}
