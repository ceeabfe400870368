//! Just enough reading of Rust and of manifests to check the rules.
//!
//! Not a parser: macros that build a banned path from pieces go unseen.

/// The code with comments and the contents of literals blanked; lines keep their numbers.
pub(crate) fn bare(source: &str) -> String {
    let text: Vec<char> = source.chars().collect();
    let mut out = String::with_capacity(source.len());
    let mut at = 0;
    while at < text.len() {
        let end = skipped(&text, at);
        if end > at {
            out.extend(text[at..end].iter().filter(|c| **c == '\n'));
            out.push(' ');
            at = end;
        } else {
            out.push(text[at]);
            at += 1;
        }
    }
    out
}

/// Where a comment or a literal that starts here ends; `at` itself when none starts.
fn skipped(text: &[char], at: usize) -> usize {
    let here = |offset: usize| text.get(at + offset).copied();
    let in_word = at > 0 && (text[at - 1].is_alphanumeric() || text[at - 1] == '_');
    match (here(0), here(1)) {
        (Some('/'), Some('/')) => find(text, at, &['\n']),
        (Some('/'), Some('*')) => block(text, at),
        (Some('"'), _) => quoted(text, at + 1, '"'),
        (Some('r'), Some('"' | '#')) if !in_word => raw(text, at + 1).unwrap_or(at),
        (Some('b'), Some('r')) if !in_word => raw(text, at + 2).unwrap_or(at),
        // A lifetime has no closing quote; a character does, one place on or after a backslash.
        (Some('\''), Some('\\')) => quoted(text, at + 1, '\''),
        (Some('\''), Some(_)) if here(2) == Some('\'') => at + 3,
        _ => at,
    }
}

fn find(text: &[char], from: usize, needle: &[char]) -> usize {
    (from..text.len())
        .find(|i| text[*i..].starts_with(needle))
        .unwrap_or(text.len())
}

/// Block comments nest.
fn block(text: &[char], at: usize) -> usize {
    let (mut depth, mut i) = (0usize, at);
    while i < text.len() {
        if text[i..].starts_with(&['/', '*']) {
            depth += 1;
            i += 2;
        } else if text[i..].starts_with(&['*', '/']) {
            depth -= 1;
            i += 2;
            if depth == 0 {
                return i;
            }
        } else {
            i += 1;
        }
    }
    text.len()
}

fn quoted(text: &[char], from: usize, close: char) -> usize {
    let mut i = from;
    while i < text.len() {
        match text[i] {
            '\\' => i += 2,
            c if c == close => return i + 1,
            _ => i += 1,
        }
    }
    text.len()
}

/// A raw string whose hashes start here; none for a raw identifier.
fn raw(text: &[char], from: usize) -> Option<usize> {
    let hashes = text[from..].iter().take_while(|c| **c == '#').count();
    if text.get(from + hashes) != Some(&'"') {
        return None;
    }
    let mut close = vec!['"'];
    close.extend(std::iter::repeat_n('#', hashes));
    Some((find(text, from + hashes + 1, &close) + close.len()).min(text.len()))
}

/// Numbered lines of the bare code.
pub(crate) fn lines(source: &str) -> Vec<(usize, String)> {
    bare(source)
        .lines()
        .enumerate()
        .map(|(index, line)| (index + 1, line.to_owned()))
        .collect()
}

/// Whether a word stands in a line, not as a part of a longer word.
pub(crate) fn has(line: &str, word: &str) -> bool {
    let joins = |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric() || c == '_');
    let open = word.starts_with(|c: char| c.is_alphanumeric());
    let shut = word.ends_with(|c: char| c.is_alphanumeric());
    line.match_indices(word).any(|(at, _)| {
        let longer = (open && joins(line[..at].chars().next_back()))
            || (shut && joins(line[at + word.len()..].chars().next()));
        !longer
    })
}

/// The modules named by `use std::{fs, time::Duration}`, each as `std::fs`.
pub(crate) fn grouped_std(bare: &str) -> Vec<String> {
    let mut found = Vec::new();
    for (at, opening) in bare.match_indices("std::{") {
        let (mut depth, mut word) = (1usize, String::new());
        // A module is named right after an opening brace or a comma of the outer group.
        let mut fresh = true;
        for c in bare[at + opening.len()..].chars() {
            match c {
                '{' => depth += 1,
                '}' => depth -= 1,
                _ if c.is_alphanumeric() || c == '_' => {
                    if fresh && depth == 1 {
                        word.push(c);
                    }
                    continue;
                }
                _ => {}
            }
            if !word.is_empty() {
                found.push(format!("std::{}", std::mem::take(&mut word)));
                fresh = false;
            }
            if c == ',' && depth == 1 {
                fresh = true;
            }
            if depth == 0 {
                break;
            }
        }
    }
    found
}

/// Names of all dependencies of a manifest: ordinary, for tests, for builds, renamed ones too.
pub(crate) fn dependencies(manifest: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut inside = false;
    for line in manifest
        .lines()
        .map(|line| line.split('#').next().unwrap_or_default().trim())
    {
        if let Some(section) = line.strip_prefix('[') {
            let section = section.trim_matches(|c| c == '[' || c == ']');
            let (table, name) = match section.rsplit_once("dependencies.") {
                Some((_, name)) => (true, Some(name)),
                None => (section.ends_with("dependencies"), None),
            };
            inside = table;
            found.extend(name.map(|name| name.trim_matches('"').to_owned()));
        } else if inside && let Some((key, value)) = line.split_once('=') {
            let key = key.trim().split('.').next().unwrap_or_default();
            found.push(key.trim_matches('"').to_owned());
            for attribute in ["package", "path"] {
                let whole = format!("{attribute}={value}");
                for part in whole.split([',', '{', '}']).chain([line]) {
                    if let Some((name, value)) = part.split_once('=')
                        && name.trim() == attribute
                    {
                        let value = value.trim().trim_matches('"');
                        found.push(value.rsplit('/').next().unwrap_or(value).to_owned());
                    }
                }
            }
        }
    }
    found
}

/// Whether an absolute path under `root` begins in the line; the middle of an address does not.
pub(crate) fn starts_path(line: &str, root: &str) -> bool {
    line.match_indices(root).any(|(at, _)| {
        line[..at]
            .chars()
            .next_back()
            .is_none_or(|c| !(c.is_alphanumeric() || "._-~}/%".contains(c)))
            || line[..at].ends_with("file://")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_and_literals_are_no_code() {
        let source = "let a = \"std::fs\"; // jiff\nlet b = 'x'; /* axum /* in */ */ let c = r#\"t\"o\"#;\nfn f<'a>(x: &'a str) {}";
        let bare = bare(source);
        assert_eq!(bare.lines().count(), 3);
        for word in ["std::fs", "jiff", "axum"] {
            assert!(!has(&bare, word), "{word} seen in {bare}");
        }
        assert!(has(&bare, "let c") && bare.contains("fn f<'a>(x: &'a str) {}"));
    }

    #[test]
    fn a_banned_word_is_seen_whole() {
        assert!(has("use std::time::Duration;", "std::time"));
        assert!(has("let r = rand::rng();", "rand::rng("));
        assert!(has("#[ignore = ]", "#[ignore"));
        assert!(!has("struct InstantSoup;", "Instant"));
        assert!(!has("my_todo!()", "todo!"));
    }

    #[test]
    fn grouped_imports_are_opened() {
        let found = grouped_std("use std::{fmt, fs::{self, File}, time::Duration};");
        assert_eq!(found, ["std::fmt", "std::fs", "std::time"]);
    }

    #[test]
    fn every_way_to_depend_is_seen() {
        let manifest = "[dependencies]\nunits.workspace = true\nserde = \"1\"\n\
            mixer = { path = \"../engine\", package = \"journal\" }\n\
            [dev-dependencies.desk]\nworkspace = true\n[features]\nx = []\n";
        let found = dependencies(manifest);
        for name in ["units", "serde", "mixer", "engine", "journal", "desk"] {
            assert!(found.iter().any(|f| f == name), "{name} not in {found:?}");
        }
        assert!(!found.iter().any(|f| f == "x"));
    }

    #[test]
    fn an_address_is_no_path() {
        let root = format!("/{}/", "home");
        assert!(starts_path(&format!("cd {root}ann"), &root));
        assert!(starts_path(&format!("\"file://{root}ann\""), &root));
        assert!(!starts_path(
            &format!("https://example.org{root}compost"),
            &root
        ));
    }
}
