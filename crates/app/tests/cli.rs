//! The command line from outside: answers, exit codes, JSON in every case.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking; helpers outside test functions too"
)]

mod home;

use std::process::Command;

use home::Home;
use serde_json::Value;

#[test]
fn every_answer_names_its_schema() {
    let home = Home::new("schema");
    for args in [
        &["look", "egg", "shells"][..],
        &["mix", "2 kg potato peel, 1 bucket dry leaves"],
        &["dose", "full caddy, coffee"],
        &["add", "full caddy", "--to", "Near"],
        &["today"],
        &["household"],
        &["log"],
        &["why", "mix.cn"],
        &["undo"],
    ] {
        let (code, value) = home.json(args);
        assert_eq!(
            value["schema"],
            format!("loamwright/{}/1", args[0]),
            "{value}"
        );
        assert_eq!(code, 0, "{args:?}");
    }
}

#[test]
fn numbers_with_a_spread_are_three() {
    let home = Home::new("spread");
    let (_, mix) = home.json(&["mix", "2 kg potato peel, 1 bucket dry leaves"]);
    for name in [
        "mass_kg",
        "volume_l",
        "water_pct",
        "cn",
        "cn_degradable",
        "air_space_pct",
        "carbon_kg",
        "nitrogen_kg",
    ] {
        let of = |end: &str| mix[name][end].as_f64().unwrap();
        assert!(
            of("low") <= of("mid") && of("mid") <= of("high"),
            "{name}: {}",
            mix[name]
        );
    }
    assert_eq!(mix["missing"], serde_json::json!([]));
}

#[test]
fn exit_codes() {
    let home = Home::new("codes");
    for (args, code) in [
        (&["mix", "full caddy, 3 wibbles"][..], 0),
        (&["mix", "wibbles"], 3),
        (&["mix", ""], 3),
        (&["add", "dog poo"], 4),
        (&["why", "nothing.like.it"], 1),
        (&["dose", "full caddy", "--target", "warmth=3"], 2),
        (&["frobnicate"], 2),
        (&["undo"], 1),
    ] {
        let (got, value) = home.json(args);
        assert_eq!(got, code, "{args:?}: {value}");
        let plain = home.run(args);
        assert_eq!(plain.status.code(), Some(code), "{args:?}");
        if code != 0 {
            assert!(
                plain.stdout.is_empty() && !plain.stderr.is_empty(),
                "{args:?}: chatter goes to stderr"
            );
        }
    }
    let (_, log) = home.json(&["log"]);
    assert_eq!(
        log["entries"],
        serde_json::json!([]),
        "what was refused left no trace"
    );
}

#[test]
fn absurd_input_is_answered_in_words() {
    let home = Home::new("absurd");
    let long = "carrot ".repeat(160_000);
    for text in [
        "-3 kg peelings",
        "10000 kg peelings",
        "NaN kg card",
        "🥕🥕🥕",
        "'; DROP TABLE event; --",
        "<script>alert(1)</script>",
        "1e999 kg card",
        "\u{0}\u{1}",
        "½½½ of ½",
    ] {
        // Options come first: the words are data, whatever they look like.
        let out = Command::new(env!("CARGO_BIN_EXE_loamwright"))
            .args(["mix", "--json", text.replace('\0', " ").as_str()])
            .env("LOAMWRIGHT_DATA", &home.0)
            .output()
            .unwrap();
        let code = out.status.code().unwrap();
        assert!(code == 0 || code == 3, "{text}: {code}");
        let value: Value = serde_json::from_slice(&out.stdout).unwrap();
        assert!(value["schema"].is_string());
    }
    // One argument of the command line is at most 128 KiB on Linux; the page takes the megabyte.
    let (code, value) = home.json(&["mix", &long[..100_000]]);
    assert_eq!(code, 1);
    assert!(
        value["error"]["message"].as_str().unwrap().contains("4096"),
        "{value}"
    );
}

#[test]
fn foreign_and_truncated_journals_are_left_alone() {
    let home = Home::new("foreign");
    let file = home.0.join("journal.db");
    std::fs::write(
        &file,
        "not a database at all, only a text that is long enough to look like one",
    )
    .unwrap();
    let out = home.run(&["log"]);
    assert_eq!(out.status.code(), Some(1));
    let said = String::from_utf8_lossy(&out.stderr).into_owned();
    assert!(said.contains("journal.db"), "{said}");
    assert!(
        std::fs::read_to_string(&file)
            .unwrap()
            .starts_with("not a database")
    );
}

#[test]
fn a_quarter_more_scraps_keeps_the_answer() {
    let home = Home::new("quarter");
    let of = |kg: f64| {
        home.json(&[
            "dose",
            &format!("{kg} kg kitchen scraps"),
            "--with",
            "torn card, dry leaves",
        ])
        .1
    };
    let mid = of(2.0);
    for k in [1.5, 2.5] {
        let other = of(k);
        assert_eq!(other["outcome"], mid["outcome"]);
        let (a, b) = (
            other["doses"].as_array().unwrap(),
            mid["doses"].as_array().unwrap(),
        );
        assert_eq!(a.len(), b.len());
        for (a, b) in a.iter().zip(b) {
            assert_eq!(a["material"], b["material"]);
            let ratio = a["kg"].as_f64().unwrap() / b["kg"].as_f64().unwrap();
            assert!((0.6..=1.4).contains(&ratio), "{ratio}");
        }
    }
}

#[test]
fn the_demo_prints_tonights_answer() {
    let home = Home::new("demo");
    let out = home.run(&["demo", "--print-only"]);
    assert!(out.status.success());
    let text = String::from_utf8(out.stdout).unwrap();
    assert!(
        text.contains("invented")
            && text.contains("18 September 2026")
            && text.contains("Add about"),
        "{text}"
    );
}

#[test]
fn what_stays_out_is_no_mix_that_is_right() {
    let home = Home::new("out");
    for command in ["mix", "dose"] {
        let out = home.run(&[command, "dog poo"]);
        assert_eq!(out.status.code(), Some(4));
        let text = String::from_utf8(out.stdout).unwrap();
        assert!(text.contains("stays out"), "{text}");
        assert!(
            !text.contains("in its windows") && !text.contains("0 kg"),
            "{text}"
        );
    }
}

#[test]
fn messages_name_the_value_and_the_way_out() {
    let home = Home::new("messages");
    let file = home.0.join("a-file");
    std::fs::write(&file, "").unwrap();
    for (args, code, says) in [
        (&["mix", "10000 kg peelings"][..], 3, "at most 500 kg"),
        (&["mix", "-3 kg peelings"], 3, "more than 0"),
        (
            &["undo", "nonsense"],
            1,
            "\"nonsense\" is not the id of an entry",
        ),
        (&["look", " "], 3, "say what it is"),
        (
            &["dose", "full caddy", "--with", " "],
            3,
            "--with names nothing",
        ),
        (
            &["log", "--data", file.to_str().unwrap()],
            1,
            "is a file; the journal needs a folder",
        ),
        (
            &["dose", "full caddy", "--target", "water=120"],
            2,
            "1 to 99 %",
        ),
    ] {
        let (got, value) = home.json(args);
        assert_eq!(got, code, "{args:?}: {value}");
        assert!(
            value["error"]["message"].as_str().unwrap().contains(says),
            "{value}"
        );
        let plain = home.run(args);
        assert_eq!(plain.status.code(), Some(code), "{args:?}");
        assert!(
            String::from_utf8(plain.stderr).unwrap().contains(says),
            "{args:?}"
        );
    }
    let today = String::from_utf8(home.run(&["today"]).stdout).unwrap();
    assert!(today.contains("loamwright add"), "{today}");
}

#[test]
fn all_there_is_is_what_was_counted() {
    let home = Home::new("all");
    let out = home.run(&[
        "dose",
        "full caddy",
        "--with",
        "torn card 2 L, dry leaves 1 L",
    ]);
    let text = String::from_utf8(out.stdout).unwrap();
    assert!(
        text.starts_with("Add all there is: 2 L of torn cardboard and 1 L of dry autumn leaves."),
        "{text}"
    );
}

#[test]
fn a_foreign_database_and_a_cut_one_are_named() {
    let home = Home::new("cut");
    home.run(&["add", "full caddy", "--to", "Near"]);
    let file = home.0.join("journal.db");
    let whole = std::fs::read(&file).unwrap();
    std::fs::write(&file, &whole[..6000]).unwrap();
    for args in [
        &["log"][..],
        &["add", "full caddy"],
        &["dose", "full caddy"],
    ] {
        let (code, value) = home.json(args);
        assert_eq!(code, 1, "{value}");
        assert!(
            value["error"]["message"]
                .as_str()
                .unwrap()
                .contains("cut short"),
            "{value}"
        );
    }
    assert_eq!(
        std::fs::read(&file).unwrap(),
        whole[..6000],
        "it is left as it is"
    );
}

#[test]
fn two_programs_write_to_one_journal() {
    let home = Home::new("two");
    home.run(&["add", "full caddy", "--to", "Near"]);
    let running: Vec<_> = (1..=6)
        .map(|n| {
            Command::new(env!("CARGO_BIN_EXE_loamwright"))
                .args(["add", &format!("{n} handfuls card")])
                .env("LOAMWRIGHT_DATA", &home.0)
                .output()
        })
        .collect();
    for out in running {
        assert!(out.unwrap().status.success());
    }
    let (_, log) = home.json(&["log"]);
    let put_in = |e: &&Value| e["kind"] == "put_in";
    assert_eq!(
        log["entries"]
            .as_array()
            .unwrap()
            .iter()
            .filter(put_in)
            .count(),
        7
    );
}

#[test]
fn own_figures_read_units_and_name_a_bad_row() {
    let home = Home::new("own");
    let file = home.0.join("own.csv");
    let head = "name,water_pct,carbon_pct_dry,nitrogen_pct_dry,cn,density_kg_m3,ash_pct_dry,lignin_pct_dry";
    let run = |rows: &str| {
        std::fs::write(&file, format!("{head}\n{rows}\n")).unwrap();
        home.json(&["mix", "1 kg lawn cuttings", "--own", file.to_str().unwrap()])
    };
    let (code, value) = run("lawn cuttings,\"81,5 %\",45,,15:1,200 kg/m³,,");
    assert_eq!(code, 0, "{value}");
    let near = |name: &str, wanted: f64| {
        let found = value[name]["mid"].as_f64().unwrap();
        assert!((found - wanted).abs() < 1e-9, "{name}: {found}");
    };
    near("water_pct", 81.5);
    near("cn", 15.0);
    near("volume_l", 5.0);
    for (row, says) in [
        ("lawn cuttings,6O,,,,,,", "`6O` is not a number"),
        ("lawn cuttings,-5,,,,,,", "outside 0 to 100"),
        ("lawn cuttings,NaN,,,,,,", "not a number"),
        ("lawn cuttings,60,45,1,30,,,", "make C:N 45"),
    ] {
        let (code, value) = run(row);
        assert_eq!(code, 1, "{value}");
        let said = value["error"]["message"].as_str().unwrap();
        assert!(
            said.contains("line 2 (lawn cuttings)") && said.contains(says),
            "{said}"
        );
    }
    std::fs::write(&file, format!("{head}\ndog poo,60,45,1.5,,,,\n")).unwrap();
    let (code, value) = home.json(&["mix", "1 kg dog poo", "--own", file.to_str().unwrap()]);
    assert_eq!(
        (code, &value["understood"]),
        (4, &serde_json::json!([])),
        "no own figure changes a verdict"
    );
}

#[test]
fn completions_are_json_when_asked() {
    let home = Home::new("completions");
    let (code, value) = home.json(&["completions", "bash"]);
    assert_eq!(
        (code, &value["schema"]),
        (0, &"loamwright/completions/1".into())
    );
    assert!(value["script"].as_str().unwrap().contains("loamwright"));
}

#[test]
fn fix_lists_answers_and_asks_back() {
    let home = Home::new("fix");
    let (code, list) = home.json(&["fix"]);
    assert_eq!((code, &list["schema"]), (0, &"loamwright/fix/1".into()));
    let ids: Vec<&str> = list["symptoms"]
        .as_array()
        .unwrap()
        .iter()
        .map(|s| s["id"].as_str().unwrap())
        .collect();
    assert!(
        ids.contains(&"ammonia") && ids.contains(&"caddy_juice"),
        "{ids:?}"
    );

    let (code, a) = home.json(&["fix", "it", "is", "all", "slimy"]);
    assert_eq!(code, 0, "{a}");
    assert_eq!(a["schema"], "loamwright/fix/1");
    assert_eq!(
        a["rests_on"], "nothing",
        "no chamber is known, and it says so"
    );
    let first = &a["causes"][0];
    for field in [
        "cause",
        "chance",
        "act",
        "amount",
        "look_again",
        "tell_apart",
    ] {
        assert!(!first[field].is_null(), "{field}: {first}");
    }
    assert_eq!(
        (&first["cause"], &first["act"]),
        (&"wet".into(), &"add_card".into())
    );
    assert_eq!(first["amount"]["per_bucket"], true);

    home.json(&[
        "add",
        "2 caddies cucumber, 1 caddy tomatoes",
        "--to",
        "Near",
    ]);
    let (code, a) = home.json(&["fix", "slimy", "--chamber", "near"]);
    assert_eq!(
        (code, &a["rests_on"], &a["chamber"]),
        (0, &"forecast".into(), &"Near".into())
    );
    let card = &a["causes"][0]["amount"];
    assert!(
        card["kg"].as_f64().unwrap() > 0.1 && card["per_bucket"] == false,
        "{card}"
    );
    let plain = home.run(&["fix", "slimy"]);
    let text = String::from_utf8(plain.stdout).unwrap();
    assert!(
        text.contains("Look again on") && text.contains("Tell them apart"),
        "{text}"
    );

    let (code, asked) = home.json(&["fix", "caddy"]);
    assert_eq!(code, 3, "{asked}");
    let said = asked["error"]["message"].as_str().unwrap();
    assert!(
        said.contains("did you mean") && said.contains("caddy smells"),
        "{said}"
    );
    assert_eq!(home.json(&["fix", "zzqxv"]).0, 3);
    assert_eq!(home.json(&["fix", "slimy", "--chamber", "attic"]).0, 1);
}

#[test]
fn a_look_is_checked_and_says_what_it_changed() {
    let home = Home::new("check");
    home.run(&["add", "full caddy, 3 handfuls torn card", "--to", "Near"]);
    let (code, value) = home.json(&["check", "Near", "squeeze drips, card most, 41 C, zzqxv"]);
    assert_eq!(code, 0, "{value}");
    assert_eq!(value["schema"], "loamwright/check/1");
    assert_eq!(value["understood"].as_array().unwrap().len(), 3);
    assert_eq!(value["unknown"][0]["text"], "zzqxv");
    for name in ["before", "after"] {
        assert_eq!(value[name]["schema"], "loamwright/forecast/1");
    }
    assert_eq!(value["moved_days_by"][0]["cause"], "reading");
    assert!(value["worth_taking"].is_array() && value["set_aside"].is_array());
    let (_, value) = home.json(&["check", "Near", "85 C"]);
    assert_eq!(value["set_aside"][0]["reason"], "powered_up");
    for (args, expected) in [
        (&["check", "Near", "wibble"][..], 3),
        (&["check", "Nowhere", "41 C"], 1),
        (&["check", "Near"], 2),
    ] {
        let (code, value) = home.json(args);
        assert_eq!(code, expected, "{args:?}: {value}");
        assert_eq!(value["schema"], "loamwright/error/1");
    }
    let text = home.run(&["check", "Near", "smells sour"]);
    let text = String::from_utf8(text.stdout).unwrap();
    assert!(text.contains("Parts of it lack air"), "{text}");
    assert!(text.contains("Undo it with"), "{text}");
}
