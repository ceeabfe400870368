//! The picture of six chambers, each unlike the others.

use desk::InsideFacts;
use units::Spread;

use super::fill::{counts, unit};
use super::picture::{Cut, picture};
use crate::words::Tongue;

/// A chamber of 130 L by name.
pub(super) fn inside(kind: &str) -> InsideFacts {
    let around = |mid: f64, by: f64| Spread::new(mid - by, mid, mid + by);
    // Core, wall, water, litres, mass, air space, recognisable, clumped.
    let (core, wall, water, litres, mass, air, left, clumped) = match kind {
        "full" => (47.0, 36.0, 60.0, 108.0, 52.0, 48.0, 82.0, 1.0),
        "half" => (24.0, 19.0, 57.0, 64.0, 33.0, 42.0, 60.0, 1.0),
        "wet" => (15.0, 14.0, 74.0, 72.0, 60.0, 18.0, 48.0, 22.0),
        "dry" => (13.0, 12.5, 34.0, 70.0, 17.0, 66.0, 76.0, 0.0),
        "frozen" => (-1.5, -4.0, 62.0, 80.0, 44.0, 36.0, 66.0, 2.0),
        _ => (12.0, 11.0, 52.0, 46.0, 28.0, 32.0, 6.0, 0.5),
    };
    InsideFacts {
        core_c: around(core, 4.0),
        shell_c: around(wall, 3.0),
        air_c: around(wall - 2.0, 4.0),
        water_pct: around(water, 5.0),
        litres: around(litres, 12.0),
        litres_10_90: (litres - 9.0, (litres + 9.0).min(128.0)),
        mass_kg: around(mass, 5.0),
        cn: around(24.0, 5.0),
        air_space_pct: around(air, 8.0),
        oxygen_pct: around(18.0, 2.0),
        clumped_pct: around(clumped, clumped.min(5.0)),
        acids_g_kg: Spread::exact(0.1),
        uptake: around(8.0, 2.0),
        recognisable_pct: around(left, 5.0),
        nitrogen_lost_pct: around(15.0, 5.0),
    }
}

pub(super) const KINDS: [&str; 6] = ["full", "half", "wet", "dry", "frozen", "finished"];

fn drawn(kind: &str) -> String {
    let facts = inside(kind);
    picture(&cut(&facts), "said", Tongue::default()).into_string()
}

fn cut(facts: &InsideFacts) -> Cut<'_> {
    Cut {
        id: "x",
        name: "Near",
        inside: facts,
        litres: 130.0,
        browns_kg: 15.0,
        level: Some((facts.litres.mid / 1.3 + 6.0, "9 September")),
        probe: None,
    }
}

#[test]
fn what_is_counted_is_to_scale() {
    let facts = inside("half");
    let c = counts(&cut(&facts));
    assert_eq!(unit(130.0), 0.25);
    assert_eq!(unit(600.0), 2.0);
    // 33 kg at 57 % are 18.8 L of water; 64 L at 42 % are 26.9 L of air.
    assert!((c.water - 75.24).abs() < 0.01, "{c:?}");
    assert!((c.air - 107.52).abs() < 0.01, "{c:?}");
    assert!((c.size - 0.6f64.sqrt()).abs() < 1e-12);
}

#[test]
fn as_many_dots_are_drawn_as_there_is_water() {
    for kind in ["full", "half", "dry", "finished"] {
        let facts = inside(kind);
        let html = drawn(kind);
        let path = html.split("class=\"water\" d=\"").nth(1).unwrap();
        let dots = path.split('"').next().unwrap().matches("h.01").count() as f64;
        let wanted = counts(&cut(&facts)).water;
        assert!(
            (dots / wanted - 1.0).abs() < 0.2,
            "{kind}: {dots} dots for {wanted:.0}"
        );
    }
}

#[test]
fn each_state_looks_its_own() {
    let has = |kind: &str, what: &str| drawn(kind).contains(what);
    for kind in KINDS {
        assert_eq!(
            has(kind, "class=\"frost\""),
            kind == "frozen",
            "{kind}: rime"
        );
        assert_eq!(has(kind, "class=\"pool\""), kind == "wet", "{kind}: a pool");
        assert_eq!(
            has(kind, "class=\"cracks\""),
            kind == "dry",
            "{kind}: cracks"
        );
        assert_eq!(
            has(kind, "class=\"steam\""),
            kind == "full",
            "{kind}: steam"
        );
        assert_eq!(has(kind, "class=\"ball\""), kind == "wet", "{kind}: balls");
        assert_eq!(
            has(kind, "class=\"warm\""),
            ["full", "half"].contains(&kind),
            "{kind}: isotherms"
        );
        assert!(
            has(kind, "room to turn") && has(kind, "a hand") && has(kind, "9 September"),
            "{kind}"
        );
        assert!(!has(kind, "NaN") && !has(kind, "inf"), "{kind}");
    }
    assert!(drawn("full").contains("core 47 °C") && drawn("full").contains("wall 36 °C"));
    assert!(
        drawn("finished").contains("class=\"browns\" d=\"\""),
        "crumb, no pieces"
    );
    assert!(
        drawn("frozen").contains("class=\"water\" d=\"\""),
        "ice, no drops"
    );
}

#[test]
fn no_state_breaks_the_picture() {
    for (litres, chamber) in [(0.0, 130.0), (400.0, 130.0), (0.3, 8.0), (900.0, 1500.0)] {
        let facts = InsideFacts {
            litres: Spread::exact(litres),
            litres_10_90: (litres, litres),
            ..inside("half")
        };
        let cut = Cut {
            litres: chamber,
            level: None,
            ..cut(&facts)
        };
        let html = picture(&cut, "said", Tongue::default()).into_string();
        assert!(
            !html.contains("NaN") && !html.contains("inf"),
            "{litres} in {chamber}"
        );
        assert!(
            html.len() < 120_000,
            "{litres} in {chamber}: {} bytes",
            html.len()
        );
    }
}

/// The six beside each other, as a page; written where `LOAMWRIGHT_PICTURES` names a folder, to be looked at.
#[test]
fn six_chambers_stand_on_one_page() {
    let css = include_str!("../../assets/style.css");
    let page = maud::html! {
        html { head { meta charset="utf-8"; style { (maud::PreEscaped(css)) } }
            body { main { @for kind in KINDS {
                h2 { (kind) }
                figure.drum.cut.pale { (maud::PreEscaped(drawn(kind).replace("cut-x", &format!("cut-{kind}")))) }
            } } }
        }
    }
    .into_string();
    assert_eq!(page.matches("<svg").count(), 6);
    if let Some(folder) = std::env::var_os("LOAMWRIGHT_PICTURES") {
        std::fs::write(std::path::Path::new(&folder).join("chambers.html"), page).unwrap();
    }
}
