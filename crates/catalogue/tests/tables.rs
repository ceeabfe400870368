//! The tables hold, and hold what they promise.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking; helpers outside test functions too"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use catalogue::{Catalogue, Found, Property, Role, Verdict, read_own};
use units::Grade;

static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(|| Catalogue::load().unwrap());

#[test]
fn four_hundred_distinct_things() {
    let ids: BTreeSet<_> = CATALOGUE.materials().iter().map(|m| &m.id).collect();
    assert_eq!(ids.len(), CATALOGUE.materials().len());
    let names: BTreeSet<_> = CATALOGUE
        .materials()
        .iter()
        .map(|m| m.name.to_lowercase())
        .collect();
    assert_eq!(names.len(), ids.len(), "two materials share a name");
    assert!(ids.len() >= 400, "{}", ids.len());
    let foods = CATALOGUE
        .materials()
        .iter()
        .filter(|m| m.food.is_some())
        .count();
    assert!(foods >= 140, "{foods} computed from the food table");
}

#[test]
fn every_figure_has_its_source() {
    for material in CATALOGUE.materials() {
        for (property, figure) in &material.figures {
            assert!(!figure.source.is_empty(), "{} {property}", material.id);
            for id in &figure.source {
                let source = CATALOGUE.source(id).unwrap();
                let judged = source.kind == "judged" || source.kind == "recalled";
                assert!(
                    !(judged && figure.source.len() == 1 && figure.grade == Grade::Measured),
                    "{} {property}: {id}",
                    material.id
                );
            }
        }
    }
}

#[test]
fn caps_cautions_and_never() {
    for m in CATALOGUE.materials() {
        if m.verdict == Verdict::ALittle {
            assert!(
                m.cap_pct.is_some_and(|c| c > 0.0 && c <= 50.0),
                "{} has no cap",
                m.id
            );
        }
        if matches!(
            m.verdict,
            Verdict::Never | Verdict::NotHere | Verdict::HotOnly
        ) {
            assert!(!m.caution.is_empty(), "{} says no reason", m.id);
        }
        if m.verdict == Verdict::Prepare {
            assert!(!m.preparation.is_empty(), "{} says no preparation", m.id);
        }
        for text in [&m.preparation, &m.caution] {
            let text = text.to_lowercase();
            assert!(
                !text.contains("pathogen-free") && !text.split(' ').any(|w| w == "safe"),
                "{}: {text}",
                m.id
            );
        }
    }
    // Things a stranger must not be told to put in.
    for id in [
        "dog-cat-waste",
        "wood-treated",
        "plastic-glass-metal",
        "dead-animals",
        "supplements-medicine",
    ] {
        if let Some(m) = CATALOGUE.get(id) {
            assert_eq!(m.verdict, Verdict::Never, "{id}");
        }
    }
    for words in ["dog poo", "glossy magazine", "treated wood", "coal ash"] {
        match CATALOGUE.find(words) {
            Found::One(m) => assert_eq!(m.verdict, Verdict::Never, "{words}: {}", m.id),
            other => panic!("{words}: {other:?}"),
        }
    }
}

#[test]
fn verdicts_stand_beside_two_published_lists() {
    let mut lists: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for material in CATALOGUE.materials() {
        for row in CATALOGUE.lists(&material.id) {
            assert!(
                CATALOGUE.source(&row.source).is_some_and(|s| s.seen),
                "{}: {}",
                material.id,
                row.source
            );
            assert!(
                row.agrees || !row.why.is_empty(),
                "{}: unexplained disagreement with {}",
                material.id,
                row.source
            );
            lists
                .entry(material.id.clone())
                .or_default()
                .insert(row.source.clone());
        }
    }
    let two = lists.values().filter(|l| l.len() >= 2).count();
    assert!(two >= 150, "{two}");
}

#[test]
fn lately_green_feeds_and_dead_dry_dries() {
    // Common practice.
    for id in [
        "grass-fresh",
        "potato-peel",
        "lettuce",
        "coffee-grounds",
        "weeds-green",
        "banana-peel",
    ] {
        assert_eq!(CATALOGUE.get(id).unwrap().role, Role::Feeds, "{id}");
    }
    for id in [
        "leaves-dry-mixed",
        "newspaper",
        "cardboard-corrugated",
        "office-paper",
        "egg-carton",
    ] {
        assert_eq!(CATALOGUE.get(id).unwrap().role, Role::Dries, "{id}");
    }
}

#[test]
fn carbonate_is_apart_and_one_carbon_basis_holds() {
    let shell = CATALOGUE.get("eggshell").unwrap().composition();
    assert!(shell.carbonate > 0.10 && shell.carbonate < 0.12);
    assert!(shell.carbon.unwrap().mid < 0.05);
    for m in CATALOGUE.materials() {
        if let Some(c) = m.figure(Property::Carbon) {
            // Fat reaches 77 % (its formula), carbohydrate 40 %; nothing organic lies above.
            assert!(c.value <= 78.0, "{}: {} % C", m.id, c.value);
        }
        if let Some(w) = m.composition().water {
            assert!(
                (0.0..=1.0).contains(&w.low) && w.high <= 1.0,
                "{}: {w:?}",
                m.id
            );
        }
    }
}

#[test]
fn one_density_for_each_form_of_card() {
    let density = |id: &str| {
        CATALOGUE
            .get(id)
            .unwrap()
            .composition()
            .density
            .unwrap()
            .mid
    };
    for (id, least, most) in [
        ("cardboard-corrugated", 25.0, 65.0),
        ("cardboard-shredded", 70.0, 150.0),
        ("egg-carton", 25.0, 65.0),
        ("toilet-roll-tube", 20.0, 60.0),
    ] {
        let d = density(id);
        assert!((least..=most).contains(&d), "{id}: {d}");
    }
}

#[test]
fn own_figures_shadow_and_bad_rows_are_named() {
    let rows = read_own(
        "name;water_pct;cn;carbon_pct_dry\nGrass clippings;77,5 %;19:1;45\nOur mash;80;;\n",
    )
    .unwrap();
    let laid = CATALOGUE.with_own(&rows).unwrap();
    let Found::One(grass) = laid.find("grass clippings") else {
        panic!()
    };
    assert_eq!(grass.composition().water.unwrap().mid, 0.775);
    assert!((grass.composition().nitrogen.unwrap().mid - 0.45 / 19.0).abs() < 1e-12);
    assert!(
        grass.composition().density.is_some(),
        "blank cells fall back to the catalogue"
    );
    let Found::One(mash) = laid.find("our mash") else {
        panic!()
    };
    assert_eq!(mash.composition().carbon, None, "unknown stays unknown");
    for (csv, says) in [
        ("name,water_pct\nmud,120\n", "line 2 (mud)"),
        ("name,water_pct\nmud,wet\n", "not a number"),
        ("name,cn\nmud,30\n", "cn alone"),
        ("water_pct\n12\n", "name"),
        ("name,colour\nmud,brown\n", "unknown column"),
        ("name,water_pct\nmud,7,5\n", "quote a decimal comma"),
        ("name,nitrogen_pct_dry\nmud,NaN\n", "not a number"),
    ] {
        let said = match read_own(csv) {
            Err(e) => e.to_string(),
            Ok(rows) => CATALOGUE.with_own(&rows).unwrap_err().to_string(),
        };
        assert!(said.contains(says), "{csv:?} said {said}");
    }
}

#[test]
fn sources_page_is_fresh() {
    let file =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../SOURCES.md")).unwrap();
    assert!(
        file == CATALOGUE.sources_page(),
        "run: cargo run -p catalogue --example sources > SOURCES.md"
    );
}

proptest::proptest! {
    #[test]
    fn any_text_as_own_figures_is_read_or_refused_in_words(text in ".{0,400}", name in "[ -~]{0,20}", cell in "\\PC{0,12}") {
        for csv in [text.clone(), format!("name,water_pct,cn\n{name},{cell},{cell}\n{text}\n")] {
            match read_own(&csv) {
                Ok(rows) => if let Err(e) = CATALOGUE.with_own(&rows) {
                    proptest::prop_assert!(!e.reason.is_empty());
                },
                Err(e) => proptest::prop_assert!(e.line >= 1 && !e.reason.is_empty()),
            }
        }
    }
}
