//! Cases in files: what is run, and what each slip is told.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking; helpers outside test functions too"
)]

use std::path::{Path, PathBuf};

mod simulate {
    pub(crate) mod slips;
}

use desk::{CaseError, CaseFault, Desk, SimulateAnswer, SimulateAsk};

use CaseFault::{Failed, Refused};
use simulate::slips::SLIPS;

const CASE: &str = r#"start = 2025-04-01
days = 60
[vessel]
kind = "drum"
litres = 106
[place]
town = "Cologne"
[[feeds]]
day = 0
entry = "2 kg scraps, 10 handfuls torn card"
repeat = { every_days = 3, until_day = 30 }
"#;

fn run_in(folder: &Path, text: &str, members: u64) -> Result<SimulateAnswer, CaseError> {
    let ask = SimulateAsk {
        text,
        folder,
        members: Some(members),
        seed: None,
    };
    Desk::without_journal(None)
        .unwrap()
        .simulate(&ask, &mut |_, _| {})
}

fn run(text: &str) -> Result<SimulateAnswer, CaseError> {
    run_in(Path::new(""), text, 8)
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// A file of our own in the temporary folder, gone at the end.
struct Folder(PathBuf);

impl Folder {
    fn with(name: &str, file: &str, text: &str) -> Self {
        let dir =
            std::env::temp_dir().join(format!("loamwright-case-{}-{name}", std::process::id()));
        std::fs::create_dir_all(&dir).unwrap();
        std::fs::write(dir.join(file), text).unwrap();
        Self(dir)
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        _ = std::fs::remove_dir_all(&self.0);
    }
}

#[test]
fn the_examples_run_and_their_figures_are_in_order() {
    for name in ["drum-spring", "bin-south", "shed-composition"] {
        let folder = root().join("examples/cases");
        let text = std::fs::read_to_string(folder.join(format!("{name}.toml"))).unwrap();
        let a = run_in(&folder, &text, 16).unwrap_or_else(|e| panic!("{name}: {e}"));
        assert_eq!((a.members, a.figures.len(), a.ready.len()), (16, 10, 5));
        for (figure, p) in &a.figures {
            let all =
                [p.low, p.mid, p.high].map(|v| v.unwrap_or_else(|| panic!("{name}: {figure}")));
            assert!(all.is_sorted(), "{name}: {figure} {all:?}");
        }
        // A batch warms above its air, loses weight, and ends between mud and dust.
        let mid = |figure| a.figure(figure).and_then(|p| p.mid).unwrap();
        assert!((20.0..75.0).contains(&mid("peak_c")), "{name}");
        assert!(
            (5.0..95.0).contains(&mid("organic_matter_loss_pct")),
            "{name}"
        );
        assert!((10.0..90.0).contains(&mid("final_water_pct")), "{name}");
        for r in &a.ready {
            assert!((0.0..=1.0).contains(&r.never_share));
            assert_eq!(r.days.mid.is_none(), r.never_share > 0.5, "{name}: {r:?}");
        }
        // A rougher use never comes after a finer one.
        let days: Vec<f64> = a
            .ready
            .iter()
            .map(|r| r.days.mid.unwrap_or(f64::INFINITY))
            .collect();
        assert!(days.is_sorted(), "{name}: {days:?}");
    }
}

#[test]
fn the_same_seed_gives_the_same_answer_and_another_another() {
    let one = run(CASE).unwrap();
    let again = run(CASE).unwrap();
    assert_eq!(
        (one.figures.clone(), one.ready),
        (again.figures, again.ready)
    );
    let other = run(&format!("seed = 2\n{CASE}")).unwrap();
    assert_eq!(other.seed, 2);
    assert_ne!(one.figures, other.figures);
}

#[test]
fn days_count_from_the_first_feed() {
    let one = "day = 0\nentry = \"20 kg scraps, 60 handfuls torn card\"";
    let base = format!(
        "turnings = [9]\n{}",
        CASE.split("day = 0")
            .next()
            .unwrap()
            .replace("[place]\ntown = \"Cologne\"", "[place]\nair_c = 15")
    );
    let at = |day: &str, extra: &str| {
        run(&format!("{base}{}{extra}", one.replace("day = 0", day))).unwrap()
    };
    let early = at("day = 0", "");
    let late = at("day = 9", "");
    assert_eq!(late.first_feed, "2025-04-10");
    // The same room, so the same batch; only the turning is at another time of it.
    let peak = |a: &SimulateAnswer| a.figure("peak_day").and_then(|p| p.mid).unwrap();
    assert!((peak(&early) - peak(&late)).abs() < 9.0);
    assert_eq!(at("date = 2025-04-10", "").figures, late.figures);
}

#[test]
fn the_targets_of_a_mix_are_met() {
    let text = CASE
        .replace(
            "entry = \"2 kg scraps, 10 handfuls torn card\"",
            "mix = { total_kg = 33, water_pct = 58, cn = 30 }",
        )
        .replace("days = 60", "days = 31");
    let mix = run(&text).unwrap();
    // Fed to the last day, water is still near its target; members differ by 4 points each way.
    let water = mix.figure("final_water_pct").unwrap();
    assert!((45.0..70.0).contains(&water.mid.unwrap()), "{water:?}");
    assert!(
        mix.missing.contains(&"turnings".to_owned()),
        "{:?}",
        mix.missing
    );
}

#[test]
fn an_overfull_vessel_is_said() {
    let a = run(&CASE.replace("litres = 106", "litres = 20")).unwrap();
    assert!(
        a.notes
            .iter()
            .any(|n| n.contains("more than the vessel holds") && n.contains("20 L")),
        "{:?}",
        a.notes
    );
}

#[test]
fn every_slip_is_told_by_line_value_and_way_out() {
    let mut wrong = Vec::new();
    for (from, to, says, fault) in SLIPS {
        let text = CASE.replacen(from, to, 1);
        assert_ne!(text, CASE, "{from}");
        match run(&text) {
            Ok(_) => wrong.push(format!("{to}: ran")),
            Err(e) if e.to_string() != *says || e.fault != *fault => {
                wrong.push(format!("{to}:\n    {e}\n    {:?}", e.fault));
            }
            Err(_) => {}
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn what_stays_out_is_refused_and_no_feeds_are_no_case() {
    let refused = run(&CASE.replace("2 kg scraps", "2 kg dog poo")).unwrap_err();
    assert_eq!(refused.fault, Refused, "{refused}");
    let none = CASE.split("[[feeds]]").next().unwrap();
    for text in [none.to_owned(), format!("feeds = []\n{none}")] {
        let e = run(&text).unwrap_err();
        assert!(
            e.to_string()
                .contains("no feeds; give at least one [[feeds]]"),
            "{e}"
        );
    }
    let torn = run("start = 2025-04-01\ndays = = 3\n").unwrap_err();
    assert!(
        torn.to_string()
            .starts_with("line 2: `days = = 3` cannot be read"),
        "{torn}"
    );
    let no_day = run(&CASE.replace("2025-04-01", "2025-02-29")).unwrap_err();
    assert_eq!(no_day.line, Some(1), "{no_day}");
}

#[test]
fn leap_day_and_lonely_minerals_are_handled() {
    let a = run(&CASE.replace("2025-04-01", "2024-02-29")).unwrap();
    assert_eq!(a.first_feed, "2024-02-29");
    let stones = run(&CASE.replace(
        "entry = \"2 kg scraps, 10 handfuls torn card\"",
        "composition = { kg = 3, water_pct = 30, carbon_pct_dry = 0, nitrogen_pct_dry = 0 }",
    ))
    .unwrap();
    // No nitrogen, so no C:N: unknown, not nought.
    assert!(stones.figure("final_water_pct").unwrap().mid.is_some());
    let cn = stones.figure("final_cn").unwrap().mid;
    assert!(cn.is_none_or(|v| v.is_finite()), "{cn:?}");
}

#[test]
fn weather_files_are_used_and_their_gaps_are_said() {
    let mut text = String::from("date,tmin (°C),tmax (°C)\n");
    for d in 0..61 {
        let (month, day) = if d < 30 { (4, d + 1) } else { (5, d - 29) };
        if (10..13).contains(&d) || day > 31 {
            continue;
        }
        text.push_str(&format!(
            "2025-{month:02}-{day:02},{},{}\n",
            5 + d / 10,
            15 + d / 10
        ));
    }
    let folder = Folder::with("gaps", "days.csv", &text);
    let case = CASE.replace(
        "town = \"Cologne\"",
        "town = \"Cologne\"\nweather = \"days.csv\"",
    );
    let a = run_in(&folder.0, &case, 8).unwrap();
    assert_eq!(
        a.notes,
        [
            "The weather file has no temperature from 2025-04-11 to 2025-04-13: drawn between the days beside them."
        ]
    );
    // Out of its own months: the file alone needs a latitude.
    let alone = case.replace("town = \"Cologne\"\n", "");
    let e = run_in(&folder.0, &alone, 8).unwrap_err();
    assert_eq!(
        e.to_string(),
        "line 7, place.weather: the file does not say where it is from; give latitude or town beside it"
    );
    let with = alone.replace("weather =", "latitude = 51.3\nweather =");
    assert!(run_in(&folder.0, &with, 8).is_ok());
    let later = with.replace("2025-04-01", "2025-07-01");
    let e = run_in(&folder.0, &later, 8).unwrap_err();
    assert!(
        e.to_string().contains("fewer than 20 days of month 7"),
        "{e}"
    );
    let past = case.replace("2025-04-01", "2025-05-11");
    let a = run_in(&folder.0, &past, 8).unwrap();
    assert!(
        a.notes
            .iter()
            .any(|n| n.contains("The other 39 of 60 days are drawn")),
        "{:?}",
        a.notes
    );
}

#[test]
fn swapped_columns_and_fahrenheit_are_told() {
    let days = |row: &dyn Fn(i32) -> String, head: &str| {
        (1..=30).fold(format!("{head}\n"), |all, d| {
            format!("{all}2025-04-{d:02},{}\n", row(d))
        })
    };
    let case = CASE
        .replace(
            "town = \"Cologne\"",
            "town = \"Cologne\"\nweather = \"days.csv\"",
        )
        .replace("days = 60", "days = 20")
        .replace("until_day = 30", "until_day = 15");
    let swapped = days(
        &|d| format!("{},{}", 15 + d % 3, 5 + d % 3),
        "date,tmin,tmax",
    );
    let folder = Folder::with("swapped", "days.csv", &swapped);
    let e = run_in(&folder.0, &case, 8).unwrap_err();
    assert_eq!(e.fault, Failed);
    assert!(
        e.to_string()
            .contains("columns are swapped: swap their headings"),
        "{e}"
    );
    let hot = days(
        &|d| format!("{},{}", 40 + d % 3, 60 + d % 3),
        "date,tmin (°F),tmax (°F)",
    );
    let folder = Folder::with("fahrenheit", "days.csv", &hot);
    assert_eq!(
        run_in(&folder.0, &case, 8).unwrap().notes,
        Vec::<String>::new()
    );
    // The same numbers under °C are a desert in spring: run, and told.
    let wrong = days(
        &|d| format!("{},{}", 32 + d % 3, 46 + d % 3),
        "date,tmin (°C),tmax (°C)",
    );
    let folder = Folder::with("celsius", "days.csv", &wrong);
    let notes = run_in(&folder.0, &case, 8).unwrap().notes;
    assert!(
        notes.iter().any(|n| n.contains("°C warmer than usual")),
        "{notes:?}"
    );
}
