//! `simulate` from outside: the fields of the JSON, the sentences, the exit codes.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking; helpers outside test functions too"
)]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn run(case: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_loamwright"))
        .arg("simulate")
        .arg(case)
        .args(args)
        // No journal is made: this folder does not exist, and must not afterwards.
        .env("LOAMWRIGHT_DATA", root().join("target/no-such-journal"))
        .output()
        .unwrap()
}

fn json(out: &Output) -> Value {
    serde_json::from_slice(&out.stdout)
        .unwrap_or_else(|e| panic!("{e}: {}", String::from_utf8_lossy(&out.stdout)))
}

/// A case of our own, gone at the end.
struct Case(PathBuf);

impl Case {
    fn of(name: &str, text: &str) -> Self {
        let dir =
            std::env::temp_dir().join(format!("loamwright-sim-{}-{name}", std::process::id()));
        std::fs::create_dir_all(&dir).unwrap();
        let file = dir.join("case.toml");
        std::fs::write(&file, text).unwrap();
        Self(file)
    }
}

impl Drop for Case {
    fn drop(&mut self) {
        _ = self.0.parent().map(std::fs::remove_dir_all);
    }
}

/// Whole cases in the paper: its TOML blocks with a start.
fn cases_of_the_paper() -> Vec<String> {
    let paper = std::fs::read_to_string(root().join("docs/simulate.md")).unwrap();
    paper
        .split("```toml\n")
        .skip(1)
        .filter_map(|rest| rest.split("```").next())
        .filter(|block| block.contains("start ="))
        .map(str::to_owned)
        .collect()
}

const POINTS: [&str; 10] = [
    "peak_c",
    "peak_day",
    "days_ge_40",
    "days_ge_55",
    "wet_mass_loss_pct",
    "dry_mass_loss_pct",
    "organic_matter_loss_pct",
    "nitrogen_loss_pct",
    "final_cn",
    "final_water_pct",
];

#[test]
fn the_json_has_its_fields_and_no_others() {
    let case = root().join("examples/cases/drum-spring.toml");
    let out = run(&case, &["--members", "16", "--seed", "3", "--json"]);
    assert_eq!(out.status.code(), Some(0));
    let value = json(&out);
    let mut keys: Vec<&str> = value
        .as_object()
        .unwrap()
        .keys()
        .map(String::as_str)
        .collect();
    let mut wanted = POINTS.to_vec();
    wanted.extend([
        "schema",
        "ready_day",
        "members",
        "seed",
        "wall_ms",
        "horizon_days",
        "missing",
    ]);
    keys.sort_unstable();
    wanted.sort_unstable();
    assert_eq!(keys, wanted);
    assert_eq!(value["schema"], "loamwright/simulate/1");
    assert_eq!((&value["members"], &value["seed"]), (&16.into(), &3.into()));
    assert_eq!(value["horizon_days"], 240);
    for name in POINTS {
        let p = |k: &str| {
            value[name][k]
                .as_f64()
                .unwrap_or_else(|| panic!("{name}.{k}"))
        };
        assert!(p("p5") <= p("p50") && p("p50") <= p("p95"), "{name}");
    }
    for rung in ["mulch", "resting_bed", "planted_bed", "pots", "seed_trays"] {
        let r = &value["ready_day"][rung];
        assert_eq!(r.as_object().unwrap().len(), 4, "{rung}");
        let never = r["never_share"].as_f64().unwrap();
        assert_eq!(r["p90"].is_null(), never > 0.1, "{rung}: {r}");
    }
    assert!(!root().join("target/no-such-journal").exists());
}

#[test]
fn the_cases_of_the_paper_run_and_speak_in_sentences_first() {
    let cases = cases_of_the_paper();
    assert!(!cases.is_empty());
    for text in cases {
        let case = Case::of("paper", &text);
        let out = run(&case.0, &["--members", "16"]);
        let said = String::from_utf8(out.stdout).unwrap();
        assert_eq!(out.status.code(), Some(0), "{said}");
        let at = |words: &str| {
            said.find(words)
                .unwrap_or_else(|| panic!("{words}: {said}"))
        };
        assert!(at("Days count from the first feed") < at("fit for  "));
        assert!(at("only a thermometer") < at("C:N at the end"));
        assert!(said.contains("vessel.colour"), "{said}");
    }
}

#[test]
fn each_kind_of_slip_has_its_exit_code() {
    let good = cases_of_the_paper().remove(0);
    for (name, from, to, code, kind, says) in [
        (
            "key",
            "litres =",
            "liters =",
            2,
            "bad_value",
            "line 5, vessel.liters: no such key; did you mean `litres`?",
        ),
        (
            "town",
            "Cologne",
            "Colonge",
            3,
            "nothing_understood",
            "did you mean Cologne, Germany?",
        ),
        (
            "word",
            "scraps",
            "zzxqv",
            3,
            "nothing_understood",
            "line 12, feeds[1].entry: ",
        ),
        (
            "never",
            "20 kg scraps",
            "20 kg dog poo",
            4,
            "refused",
            "stays out",
        ),
        (
            "file",
            "town = \"Cologne\"",
            "weather = \"none.csv\"",
            1,
            "failed",
            "none.csv",
        ),
    ] {
        let case = Case::of(name, &good.replacen(from, to, 1));
        let out = run(&case.0, &["--members", "16", "--json"]);
        let value = json(&out);
        assert_eq!(out.status.code(), Some(code), "{value}");
        assert_eq!(value["error"]["kind"], kind, "{value}");
        let message = value["error"]["message"].as_str().unwrap();
        assert!(
            message.contains(says) && message.contains("case.toml"),
            "{message}"
        );
    }
    let case = Case::of("many", &good);
    let out = run(&case.0, &["--members", "1000000000"]);
    assert_eq!(out.status.code(), Some(2));
    assert_eq!(
        String::from_utf8(out.stderr).unwrap(),
        "loamwright: --members: members: 1000000000 is outside 1 to 100000\n"
    );
    let out = run(Path::new("no-such-case.toml"), &[]);
    assert_eq!(out.status.code(), Some(1));
}
