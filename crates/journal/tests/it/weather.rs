//! Measured weather: a day stands until it is measured anew or taken back.

use journal::{Body, Error, Sqlite, Store, WEATHER_DAYS, WeatherSet};

use crate::common::*;

fn set(days: &[(&str, f64)]) -> Body {
    Body::WeatherSet(WeatherSet {
        source: "garden.csv".into(),
        days: days.iter().map(|(d, c)| weather_day(d, *c)).collect(),
    })
}

fn means(journal: &Sqlite) -> Vec<(String, f64)> {
    let days = journal.weather(HOME).unwrap();
    days.iter()
        .map(|d| (d.day.to_string(), d.mean_c.unwrap()))
        .collect()
}

#[test]
fn a_later_file_stands_for_its_days_and_undo_brings_the_earlier_back() {
    let journal = Sqlite::open_memory().unwrap();
    add(
        &journal,
        event(1, 0, set(&[("2025-12-31", 2.0), ("2026-01-01", 3.0)])),
    )
    .unwrap();
    add(&journal, event(2, 1, set(&[("2026-01-01", 5.5)]))).unwrap();
    let now = |first: f64| {
        vec![
            ("2025-12-31".to_owned(), 2.0),
            ("2026-01-01".to_owned(), first),
        ]
    };
    assert_eq!(means(&journal), now(5.5));
    let day = journal.weather(HOME).unwrap().remove(1);
    assert_eq!(
        day,
        weather_day("2026-01-01", 5.5),
        "every value comes back"
    );
    add(&journal, event(3, 2, undo(2))).unwrap();
    assert_eq!(means(&journal), now(3.0));
    journal.rebuild().unwrap();
    assert_eq!(means(&journal), now(3.0));
    assert!(journal.weather("next-door").unwrap().is_empty());
}

#[test]
fn days_out_of_range_or_too_many_are_refused_by_name() {
    let journal = Sqlite::open_memory().unwrap();
    let wrong = add(&journal, event(1, 0, set(&[("2026-01-01", 75.0)]))).unwrap_err();
    assert!(matches!(&wrong, Error::BadValue { field, .. } if field == "days[0].mean_c"));
    let many = vec![("2026-01-01", 3.0); WEATHER_DAYS + 1];
    let wrong = add(&journal, event(1, 0, set(&many))).unwrap_err();
    assert!(
        matches!(&wrong, Error::TooMany { field, most, .. } if field == "days" && *most == WEATHER_DAYS)
    );
    assert_eq!(journal.count(HOME).unwrap(), 0);
}
