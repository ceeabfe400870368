//! The towns hold, and are found by the names people give them.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking; helpers outside test functions too"
)]

use std::collections::BTreeSet;
use std::sync::LazyLock;

use catalogue::Catalogue;
use catalogue::climate::{FoundTown, SOURCES, Towns};

static TOWNS: LazyLock<Towns> = LazyLock::new(|| Towns::load().unwrap());

fn one(words: &str) -> (String, String) {
    match TOWNS.find(words) {
        FoundTown::One(town) => (town.name.clone(), town.country.clone()),
        other => panic!("{words}: {other:?}"),
    }
}

#[test]
fn two_hundred_and_sixty_nine_distinct_towns() {
    let keys: BTreeSet<_> = TOWNS
        .all()
        .iter()
        .map(|t| (t.name.clone(), t.country_code.clone()))
        .collect();
    assert_eq!((TOWNS.all().len(), keys.len()), (269, 269));
    for t in TOWNS.all() {
        let year = t.monthly_mean_c.iter().sum::<f64>() / 12.0;
        assert!((-5.0..32.0).contains(&year), "{}: {year}", t.name);
        assert!((1.0..5000.0).contains(&t.annual_rain_mm), "{}", t.name);
        assert!((1000.0..4200.0).contains(&t.annual_sun_h), "{}", t.name);
        let warm = t.monthly_mean_c[6] - t.monthly_mean_c[0];
        if t.latitude.abs() > 30.0 {
            assert!(warm.signum() == t.latitude.signum(), "{}: {warm}", t.name);
        }
    }
}

#[test]
fn a_name_in_its_spellings() {
    for (words, name, country) in [
        ("Lisbon", "Lisbon", "Portugal"),
        ("lisboa", "Lisbon", "Portugal"),
        ("Köln", "Cologne", "Germany"),
        ("KRAKOW", "Kraków", "Poland"),
        ("Porto, Portugal", "Porto", "Portugal"),
        ("porto pt", "Porto", "Portugal"),
        ("new york", "New York City", "United States"),
        ("London UK", "London", "United Kingdom"),
        ("Windhoek", "Windhoek", "Namibia"),
        ("Windhoek NA", "Windhoek", "Namibia"),
        ("Namibia", "Windhoek", "Namibia"),
        ("Chișinău", "Chișinău", "Moldova"),
        ("chisinau", "Chișinău", "Moldova"),
    ] {
        assert_eq!(one(words), (name.to_owned(), country.to_owned()), "{words}");
    }
}

#[test]
fn a_slip_is_asked_back_and_a_country_lists_its_towns() {
    for (words, first) in [
        ("Lisbn", "Lisbon"),
        ("Edinburg, UK", "Edinburgh"),
        ("Hambrug", "Hamburg"),
    ] {
        match TOWNS.find(words) {
            FoundTown::Nothing(near) => assert_eq!(near[0].name, first, "{words}"),
            other => panic!("{words}: {other:?}"),
        }
    }
    assert!(matches!(TOWNS.find("Germany"), FoundTown::Several(t) if t.len() >= 4));
    assert_eq!(
        TOWNS.find("Porto, Spain"),
        FoundTown::Nothing(TOWNS.near("Porto", 5))
    );
    assert_eq!(TOWNS.find("qqqqqqqq"), FoundTown::Nothing(vec![]));
    assert_eq!(TOWNS.find(""), FoundTown::Nothing(vec![]));
}

#[test]
fn the_nearest_town_to_a_point() {
    let (town, km) = TOWNS.nearest(48.8, 2.1).unwrap();
    assert_eq!(town.name, "Paris");
    assert!((10.0..30.0).contains(&km), "{km}");
}

#[test]
fn the_tables_are_credited() {
    let catalogue = Catalogue::load().unwrap();
    for id in SOURCES {
        let source = catalogue.source(id).unwrap();
        assert!(source.licence.contains("CC-BY-4.0"), "{id}");
        assert!(source.citation.contains("GeoRank.place"), "{id}");
    }
    let notice =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../NOTICE")).unwrap();
    assert!(
        notice.contains("Temperature data © GeoRank.place (CC-BY-4.0), derived from CHELSA v2.1")
    );
}

proptest::proptest! {
    #[test]
    fn any_words_are_found_or_not(words in "\\PC{0,40}") {
        if let FoundTown::Nothing(near) = TOWNS.find(&words) {
            proptest::prop_assert!(near.len() <= 5);
        }
    }
}
