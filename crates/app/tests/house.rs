//! The rules of the house, read off the tree: layers, banned calls, sizes, papers.

#![allow(
    clippy::panic,
    reason = "a file that cannot be read fails the test by name"
)]

mod house {
    pub(crate) mod code;
    pub(crate) mod tree;
}

use house::code;
use house::tree::{self, File};

/// Crates of the workspace, and which of the others each may depend on.
const LAYERS: &[(&str, &[&str])] = &[
    ("units", &[]),
    ("catalogue", &["units"]),
    ("engine", &["units", "catalogue"]),
    ("journal", &["units"]),
    ("desk", &["units", "catalogue", "engine", "journal"]),
    ("app", &["units", "desk"]),
];

/// Crates that are pure: the same input gives the same answer.
const PURE: &[&str] = &["units", "catalogue", "engine"];

/// Paths and calls through which the world enters, and where they belong instead.
const WORLD: &[(&str, &str)] = &[
    ("std::time", "time enters at desk"),
    ("SystemTime", "time enters at desk"),
    ("Instant", "time enters at desk"),
    ("jiff", "time enters at desk"),
    (
        "std::fs",
        "data are compiled in; files belong to journal and app",
    ),
    ("std::env", "settings enter at app"),
    ("std::net", "the network belongs to app"),
    ("std::process", "other programs belong to app"),
    ("rusqlite", "storage belongs to journal"),
    ("axum", "pages belong to app"),
    ("rand::rng(", "the seed enters at desk"),
    ("rand::random", "the seed enters at desk"),
    ("thread_rng", "the seed enters at desk"),
    ("from_os_rng", "the seed enters at desk"),
];

/// Marks of unfinished work.
const UNFINISHED: &[&str] = &["todo!", "unimplemented!", "dbg!", "#[ignore"];

/// Papers that a newcomer reads first.
const PAPERS: &[&str] = &[
    "README.md",
    "ARCHITECTURE.md",
    "GLOSSARY.md",
    "DECISIONS.md",
    "CHANGELOG.md",
    "SOURCES.md",
    "LICENSE-MIT",
    "LICENSE-APACHE",
    "NOTICE",
];

const MOST_LINES: usize = 600;
const MOST_LINES_OF_ARCHITECTURE: usize = 150;

/// Fails with every breach on a line of its own.
fn none(rule: &str, breaches: &[String]) {
    assert!(breaches.is_empty(), "{rule}\n  {}\n", breaches.join("\n  "));
}

fn rust_files() -> Vec<File> {
    let files: Vec<File> = tree::files()
        .into_iter()
        .filter(|f| f.extension() == "rs")
        .collect();
    assert!(
        files.len() > 20,
        "only {} Rust files found: the walk is broken",
        files.len()
    );
    files
}

#[test]
fn every_crate_depends_only_on_the_layers_below() {
    let ours: Vec<&str> = LAYERS.iter().map(|(name, _)| *name).collect();
    let mut breaches = Vec::new();
    for (name, allowed) in LAYERS {
        let path = format!("crates/{name}/Cargo.toml");
        let manifest = tree::read(&path);
        for dependency in code::dependencies(&manifest) {
            // The package of crates/app is named after the program.
            let dependency = if dependency == "loamwright" {
                "app"
            } else {
                &dependency
            };
            if ours.contains(&dependency) && !allowed.contains(&dependency) {
                breaches.push(format!("{path}: {name} may not depend on {dependency}"));
            }
        }
        if !manifest
            .replace(' ', "")
            .contains("[lints]\nworkspace=true")
        {
            breaches.push(format!(
                "{path}: the lints of the workspace are not taken over"
            ));
        }
    }
    none("A crate may import only the layers below it.", &breaches);
}

#[test]
fn every_crate_has_a_layer() {
    let known: Vec<&str> = LAYERS.iter().map(|(name, _)| *name).collect();
    let breaches: Vec<String> = tree::folders("crates")
        .into_iter()
        .filter(|name| !known.contains(&name.as_str()))
        .map(|name| format!("crates/{name} has no place in the layers"))
        .collect();
    none("Six crates, each with its layer.", &breaches);
}

#[test]
fn pure_crates_touch_nothing() {
    let mut breaches = Vec::new();
    let mut read = 0;
    for file in rust_files() {
        if !PURE
            .iter()
            .any(|name| file.path.starts_with(&format!("crates/{name}/src/")))
        {
            continue;
        }
        read += 1;
        for (number, line) in code::lines(&file.text) {
            for (word, reason) in WORLD {
                if code::has(&line, word) {
                    breaches.push(format!("{}:{number}: {word}: {reason}", file.path));
                }
            }
        }
        for inner in code::grouped_std(&code::bare(&file.text)) {
            if let Some((word, reason)) = WORLD.iter().find(|(word, _)| *word == inner) {
                breaches.push(format!(
                    "{}: {word} in a grouped import: {reason}",
                    file.path
                ));
            }
        }
    }
    assert!(
        read >= PURE.len(),
        "only {read} files of the pure crates found"
    );
    none("units, catalogue and engine touch nothing.", &breaches);
}

#[test]
fn nothing_is_left_unfinished() {
    let mut breaches = Vec::new();
    for file in rust_files() {
        for (number, line) in code::lines(&file.text) {
            for mark in UNFINISHED {
                if code::has(&line, mark) {
                    breaches.push(format!("{}:{number}: {mark}", file.path));
                }
            }
        }
    }
    none("Code is finished, and every test runs.", &breaches);
}

#[test]
fn no_source_file_is_longer_than_600_lines() {
    let mut sizes: Vec<(usize, String)> = tree::files()
        .into_iter()
        .filter(|f| ["rs", "css", "js", "mjs", "py"].contains(&f.extension()))
        .map(|f| (f.text.lines().count(), f.path))
        .collect();
    sizes.sort();
    let median = sizes[sizes.len() / 2].0;
    let within = sizes.iter().filter(|(lines, _)| *lines <= 400).count();
    println!(
        "{} source files, median {median} lines, {} % of 400 lines or fewer",
        sizes.len(),
        100 * within / sizes.len()
    );
    let breaches: Vec<String> = sizes
        .iter()
        .filter(|(lines, _)| *lines > MOST_LINES)
        .map(|(lines, path)| format!("{path}: {lines} lines"))
        .collect();
    none(
        "A source file has at most 600 lines: split it by what it answers.",
        &breaches,
    );
}

#[test]
fn no_file_names_a_path_of_one_machine() {
    // Built from parts, so that this file does not name one itself.
    let roots = ["work", "tmp", "home", "root", "Users"].map(|name| format!("/{name}/"));
    let mut breaches = Vec::new();
    for file in tree::files() {
        for (index, line) in file.text.lines().enumerate() {
            for root in &roots {
                if code::starts_path(line, root) {
                    breaches.push(format!("{}:{}: {root}", file.path, index + 1));
                }
            }
        }
    }
    none(
        "The tree builds anywhere: no path of one machine.",
        &breaches,
    );
}

#[test]
fn the_lock_of_the_browser_tests_names_no_registry() {
    let lock = tree::read("tests/browser/package-lock.json");
    assert!(
        lock.contains("\"integrity\""),
        "the lock pins nothing by checksum"
    );
    assert!(
        !lock.contains("\"resolved\""),
        "tests/browser/package-lock.json names a registry; \
         .npmrc sets omit-lockfile-registry-resolved"
    );
}

#[test]
fn the_papers_are_present() {
    let breaches: Vec<String> = PAPERS
        .iter()
        .filter(|name| tree::try_read(name).is_none_or(|text| text.trim().is_empty()))
        .map(|name| format!("{name} is missing or empty"))
        .collect();
    none("A newcomer finds the papers at the root.", &breaches);
}

#[test]
fn the_architecture_fits_on_two_pages() {
    let lines = tree::read("ARCHITECTURE.md").lines().count();
    assert!(
        lines <= MOST_LINES_OF_ARCHITECTURE,
        "ARCHITECTURE.md has {lines} lines; at most {MOST_LINES_OF_ARCHITECTURE}"
    );
}

#[test]
fn just_ci_is_exactly_ci() {
    let justfile = tree::read("justfile");
    let mut lines = justfile.lines().skip_while(|line| *line != "ci:").skip(1);
    let recipe: Vec<&str> = lines
        .by_ref()
        .take_while(|line| line.starts_with(' '))
        .map(str::trim)
        .collect();
    assert_eq!(
        recipe,
        ["bash .ci/run"],
        "`just ci` must be exactly `bash .ci/run`"
    );
}
