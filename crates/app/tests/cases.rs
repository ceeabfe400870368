//! Published and computed mixing cases, asked on the command line with own figures: the printed digits come out.
//!
//! The figures of each case stand in its own rows, so that no figure of the catalogue takes part.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking; helpers outside test functions too"
)]

use std::process::Command;

use serde_json::Value;

const HEAD: &str =
    "name,water_pct,carbon_pct_dry,nitrogen_pct_dry,cn,density_kg_m3,ash_pct_dry,lignin_pct_dry\n";
/// Kilograms of a pound (NIST Handbook 44, appendix C).
const POUND: f64 = 0.453_592_37;

/// Asks with own figures in a folder of its own.
fn ask(case: &str, own: &str, args: &[&str]) -> Value {
    let dir = std::env::temp_dir().join(format!("loamwright-case-{}-{case}", std::process::id()));
    std::fs::create_dir_all(&dir).unwrap();
    let file = dir.join("own.csv");
    std::fs::write(&file, format!("{HEAD}{own}")).unwrap();
    let out = Command::new(env!("CARGO_BIN_EXE_loamwright"))
        .args(args)
        .args(["--json", "--own"])
        .arg(&file)
        .env("LOAMWRIGHT_DATA", dir.join("none"))
        .output()
        .unwrap();
    _ = std::fs::remove_dir_all(&dir);
    let value: Value = serde_json::from_slice(&out.stdout).unwrap();
    assert_eq!(out.status.code(), Some(0), "{case}: {value}");
    assert_eq!(value["unknown"], serde_json::json!([]), "{case}: {value}");
    value
}

fn mid(value: &Value) -> f64 {
    value["mid"].as_f64().unwrap_or_else(|| panic!("{value}"))
}

/// Asserts a number to the digit it is printed to.
fn printed(case: &str, value: f64, digits: &str) {
    let places = digits.split_once('.').map_or(0, |(_, p)| p.len());
    assert_eq!(format!("{value:.places$}"), digits, "{case}: {value}");
}

/// The one amount of a dose, in kg.
fn dosed(case: &str, own: &str, entry: &str, with: &str, target: &str) -> (f64, Value) {
    let value = ask(
        case,
        own,
        &["dose", entry, "--with", with, "--target", target],
    );
    assert_eq!(value["outcome"], "meets", "{case}: {value}");
    let [one] = value["doses"].as_array().unwrap().as_slice() else {
        panic!("{case}: {value}")
    };
    (one["kg"].as_f64().unwrap(), value)
}

#[test]
fn mixes_come_out_as_printed() {
    let scraps = "house scraps,85,45,,17,,,\n";
    let leaves = format!("{scraps}crisp leaves,20,48,,54,,,\n");
    let card = format!("{scraps}grey board,8,45,,500,,,\n");
    let pair = |a: &str, b: &str| format!("clay stuff,0,40,,{a},,,\nchaff stuff,0,40,,{b},,,\n");
    // Handout, "How to calculate the carbon-to-nitrogen ratio of your compost mix": shares of the wet mass.
    let hay =
        "meadow hay,0,40,1,,,,\nhouse scraps,0,10,1,,,,\nspent grounds,0,25,1,,,,\n".to_owned();
    for (case, own, entry, water, cn) in [
        (
            "handout",
            hay,
            "50 lb meadow hay, 10 lb house scraps, 2 lb spent grounds",
            None,
            "34.7",
        ),
        // County handout: half and half of 20:1 and 40:1 is no 30:1.
        (
            "halves",
            pair("20", "40"),
            "1 kg clay stuff, 1 kg chaff stuff",
            None,
            "26.67",
        ),
        // Compost Recipe Worksheet Key: 2 lb at 15:1 and 1 lb at 65:1.
        (
            "key",
            pair("15", "65"),
            "2 lb clay stuff, 1 lb chaff stuff",
            None,
            "20.17",
        ),
        // North Carolina text: nine tenths litter at 7.5:1, straw at 130:1.
        (
            "litter",
            pair("7.5", "130"),
            "0.9 kg clay stuff, 0.1 kg chaff stuff",
            None,
            "8.3",
        ),
        // Computed: a caddy with card or leaves.
        (
            "card",
            card,
            "2 kg house scraps, 0.7018 kg grey board",
            Some("65.0"),
            "49.9",
        ),
        (
            "leaves",
            leaves.clone(),
            "2 kg house scraps, 1.25 kg crisp leaves",
            Some("60.0"),
            "36.5",
        ),
        (
            "three",
            leaves.clone(),
            "4.55 kg house scraps, 1.35 kg crisp leaves",
            Some("70.1"),
            "29.8",
        ),
        (
            "thirty",
            leaves,
            "4.55 kg house scraps, 13.5 kg crisp leaves",
            Some("36.4"),
            "48.1",
        ),
    ] {
        let value = ask(case, &own, &["mix", entry]);
        printed(case, mid(&value["cn"]), cn);
        if let Some(water) = water {
            printed(case, mid(&value["water_pct"]), water);
        }
        if case == "handout" {
            printed(case, mid(&value["carbon_kg"]) / POUND, "21.5");
            printed(case, mid(&value["nitrogen_kg"]) / POUND, "0.62");
        }
    }
}

#[test]
fn air_space_follows_the_three_phases() {
    // Computed with particle densities of 1600 (organic) and 2500 (ash).
    for (case, own, air) in [
        ("air-600", "my heap mix,60,,,,600,20,\n", "50.1"),
        ("air-800", "my heap mix,65,,,,800,25,\n", "32.1"),
    ] {
        let value = ask(case, own, &["mix", "10 kg my heap mix"]);
        printed(case, mid(&value["air_space_pct"]), air);
        assert_eq!(value["cn"], Value::Null, "what is blank is unknown");
        assert!(value["missing"].as_array().unwrap().contains(&"cn".into()));
    }
}

#[test]
fn doses_come_out_as_printed() {
    let egg = "layer manure,70,,6,10,,,\nmill dust,35,,0.11,500,,,\n";
    let wet = "wet clippings,77,45,2.4,,,,\ncrisp leaves,35,50,0.75,,,,\n";
    let dust = "mill dust,0,60,,400,,,\nprill,0,0,46,,,,\n";
    for (case, own, entry, with, target, unit, amount) in [
        // Solved examination problem: vegetable waste and sawdust.
        (
            "exam",
            "green waste mix,80,,4,11,,,\nmill dust,50,,0.1,500,,,\n",
            "1 kg green waste mix",
            "mill dust",
            "cn=20",
            1.0,
            "0.300",
        ),
        // Oregon State University Extension: a cubic yard of sawdust (400 lb) and urea, and four fifths of it.
        (
            "urea",
            dust,
            "400 lb mill dust",
            "prill",
            "cn=30",
            POUND,
            "16.09",
        ),
        (
            "urea-part",
            dust,
            "320 lb mill dust",
            "prill",
            "cn=30",
            POUND,
            "12.87",
        ),
        // Richard and Trautmann, Cornell: by moisture, then by C:N. Moisture alone needs no carbon.
        (
            "moisture",
            "wet clippings,77,,,,,,\ncrisp leaves,35,,,,,,\n",
            "10 kg wet clippings",
            "crisp leaves",
            "water=60",
            1.0,
            "6.8",
        ),
        (
            "ratio",
            wet,
            "10 kg wet clippings",
            "crisp leaves",
            "cn=30",
            1.0,
            "3.474",
        ),
        // NRAES-54 chapter 3: manure to one pound of sawdust.
        (
            "manure",
            egg,
            "1 lb mill dust",
            "layer manure",
            "water=60",
            POUND,
            "2.5",
        ),
        (
            "manure-cn",
            egg,
            "1 lb mill dust",
            "layer manure",
            "cn=25",
            POUND,
            "1.258",
        ),
        // County handout: 5 lb at 25:1 and stalks at 60:1, by carbon and not by averaging.
        (
            "stalks",
            "clay stuff,0,40,,25,,,\nchaff stuff,0,40,,60,,,\n",
            "5 lb clay stuff",
            "chaff stuff",
            "cn=30",
            POUND,
            "2.0",
        ),
        // North Carolina text: litter at 7.5:1 in straw at 130:1.
        (
            "straw",
            "clay stuff,0,40,,7.5,,,\nchaff stuff,0,40,,130,,,\n",
            "0.796 kg chaff stuff",
            "clay stuff",
            "cn=30",
            1.0,
            "0.204",
        ),
    ] {
        let (kg, value) = dosed(case, own, entry, with, target);
        printed(case, kg / unit, amount);
        if case == "manure" {
            printed(case, mid(&value["after"]["cn"]), "17.7");
        }
        if case == "manure-cn" {
            printed(case, mid(&value["after"]["water_pct"]), "54.5");
        }
        if case == "ratio" {
            printed(case, mid(&value["after"]["water_pct"]), "66.2");
        }
    }
}

#[test]
fn what_cannot_be_reached_is_said() {
    // Sludge at 6:1 and grass at 15:1 never reach 30:1 (inputs of a published exercise).
    let own = "sludge cake,80,,5,6,,,\nlawn cuttings,80,,3,15,,,\n";
    let args = [
        "dose",
        "1 kg sludge cake",
        "--with",
        "lawn cuttings",
        "--target",
        "cn=30",
    ];
    let value = ask("cannot", own, &args);
    assert_eq!(value["outcome"], "cannot");
    assert_eq!(value["doses"], serde_json::json!([]));
    assert_eq!(value["cause"], "target_out_of_reach");
}

#[test]
fn plain_water_is_a_material_and_both_targets_are_met() {
    let own = "crisp leaves,10,48,,54,,,\nclover cut,80,45,3,,,,\n";
    let args = [
        "dose",
        "10 kg crisp leaves",
        "--with",
        "clover cut, water",
        "--target",
        "water=60,cn=30",
    ];
    let value = ask("both", own, &args);
    assert_eq!(value["outcome"], "meets", "{value}");
    printed("both", mid(&value["after"]["water_pct"]), "60.000");
    printed("both", mid(&value["after"]["cn"]), "30.000");
    let materials: Vec<&str> = value["doses"]
        .as_array()
        .unwrap()
        .iter()
        .map(|d| d["material"].as_str().unwrap())
        .collect();
    assert!(materials.contains(&"water-plain"), "{value}");
}
