//! The rule by which an entry counts as read fully, or as misread in silence.
//!
//! It was fixed before the first count. An entry is READ FULLY when
//! - each labelled item is read as its material or one in `accept`; where the label says `ask`,
//!   asking back on it will do as well;
//! - with the same amount: the same count of the same unit, or kilograms or litres between 0.6 and
//!   1.67 times what the label comes to. Words for one of a thing (tube, crust, stalk, ear …) are
//!   the same as "each" where the label's own words name the thing;
//! - there is no item more, nothing more is called unknown, day, time and chamber are as labelled,
//!   and each word labelled unknown is flagged.
//!
//! An entry is MISREAD IN SILENCE when an item has another material or another amount, is dropped or
//! invented, and the reading flags nothing about it. Asking back where the label does not is neither.

#![allow(clippy::unwrap_used, clippy::panic)]

use std::collections::{BTreeMap, BTreeSet};

use catalogue::Catalogue;
use catalogue::entry::{Day, Entry, Hands, Item};
use serde_json::Value;

/// What is wrong with a reading; `silent` is what the gardener is not told.
#[derive(Default)]
pub(crate) struct Check {
    pub(crate) wrong: Vec<String>,
    pub(crate) silent: Vec<String>,
}

impl Check {
    fn both(&mut self, told: bool, what: String) {
        if !told {
            self.silent.push(what.clone());
        }
        self.wrong.push(what);
    }
}

/// The labels of a file, one JSON object a line.
pub(crate) fn labels(file: &str) -> Vec<Value> {
    file.lines()
        .filter(|line| !line.trim().is_empty())
        .map(|line| serde_json::from_str(line).unwrap_or_else(|e| panic!("{e}: {line}")))
        .collect()
}

pub(crate) fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key].as_str().unwrap_or_default()
}

fn list(value: &Value) -> impl Iterator<Item = &str> {
    value
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(Value::as_str)
}

/// Reads a labelled text as the household of the label would.
pub(crate) fn read(catalogue: &Catalogue, label: &Value) -> Entry {
    let hands = Hands {
        us: label["us"].as_bool() == Some(true),
        chambers: vec!["Near".into(), "Far".into()],
        ..Hands::default()
    };
    catalogue.read(text(label, "text"), &hands).unwrap()
}

/// Kilograms, or litres of one, for units that do not depend on the thing.
enum One {
    Kg(f64),
    Litres(f64),
    Each,
}

fn one(unit: &str, us: bool) -> One {
    let either = |american, other| One::Litres(if us { american } else { other });
    match unit {
        "kg" => One::Kg(1.0),
        "g" => One::Kg(0.001),
        "lb" => One::Kg(0.4536),
        "oz" => One::Kg(0.02835),
        "l" => One::Litres(1.0),
        "ml" => One::Litres(0.001),
        "pint" => either(0.473, 0.568),
        "quart" => either(0.946, 1.137),
        "gallon" => either(3.785, 4.546),
        "cup" => either(0.237, 0.25),
        "mug" => One::Litres(0.3),
        "caddy" => One::Litres(6.0),
        "bucket" => One::Litres(10.0),
        "sack" => One::Litres(50.0),
        "bin bag" => One::Litres(60.0),
        "barrow" => One::Litres(75.0),
        "armful" => One::Litres(20.0),
        "spoon" => One::Litres(0.015),
        _ => One::Each,
    }
}

/// Words for one of a thing.
const LIKE: &[&str] = &[
    "each", "whole", "tube", "crust", "loaf", "stalk", "ear", "box", "end", "slice", "head",
    "plant",
];
/// One of a thing whatever the thing: an ear is one corn; the last five were not in the labellers'
/// list of units, so they wrote "each" or "stalk" for them.
const ONE: &[&str] = &[
    "each", "whole", "ear", "stick", "thumb", "clove", "piece", "wedge",
];

/// Grams of one, from a small table that is not the reader's own.
pub(crate) fn weights() -> BTreeMap<(String, String), f64> {
    let table = include_str!("../entries_each.csv");
    table
        .lines()
        .skip(1)
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            let key = (cells[0].to_owned(), cells[1].to_owned());
            (key, cells[2].parse().unwrap())
        })
        .collect()
}

fn near(got: f64, expected: f64) -> bool {
    (0.6..=1.67).contains(&(got / expected))
}

/// Whether the amount of the item is the one labelled; the label gives a count.
fn same_amount(
    weights: &BTreeMap<(String, String), f64>,
    label: &Value,
    count: f64,
    item: &Item,
    us: bool,
) -> bool {
    let unit = label["unit"].as_str().unwrap_or("");
    let said = item.said.as_ref();
    if said.is_some_and(|s| {
        // A carrier bag and a bag hold the same in the tables.
        let bag = (s.unit, unit) == ("carrier bag", "bag");
        let same_unit = s.unit == unit || unit.is_empty() || bag;
        let words = catalogue::normalise(text(label, "words"));
        // "crust" said of a crust, or of the heel of a loaf; "tube" of a toilet-roll-tube.
        let named = |u: &str| {
            let id = item.material.split('-');
            words.split(' ').chain(id).any(|w| w == u)
                || u == "crust" && words.split(' ').any(|w| matches!(w, "heel" | "end"))
        };
        let of_it = |u: &str| ONE.contains(&u) || named(u);
        let like = LIKE.contains(&unit) && of_it(unit);
        let like = like && (ONE.contains(&s.unit) || LIKE.contains(&s.unit) && of_it(s.unit));
        (s.count / count - 1.0).abs() < 0.02 && (same_unit || like)
    }) {
        return true;
    }
    let (kg, litres) = (item.kg.map(|s| s.mid), item.litres.map(|s| s.mid));
    match one(unit, us) {
        One::Kg(of) => {
            let by_word = said.is_some_and(|s| s.unit == "kg" && near(s.count, of * count));
            by_word || kg.is_some_and(|kg| near(kg, of * count))
        }
        One::Litres(of) => {
            let by_word = said.is_some_and(|s| s.unit == "l" && near(s.count, of * count));
            by_word || litres.is_some_and(|l| near(l, of * count))
        }
        One::Each => weights
            .get(&(item.material.clone(), unit.to_owned()))
            .is_some_and(|grams| kg.is_some_and(|kg| near(kg * 1000.0, grams * count))),
    }
}

/// The day and hour that a phrase of the labels means; phrases not listed are compared as words.
fn day_of(phrase: &str) -> Option<(Day, Option<(u8, u8)>)> {
    let date = |month, day| Day::Date {
        month,
        day,
        year: None,
    };
    Some(match phrase {
        "1 Nov" => (date(Some(11), 1), None),
        "Nov 2" => (date(Some(11), 2), None),
        "14 Sept" | "14/9" | "9/14" => (date(Some(9), 14), None),
        "24 Dec" => (date(Some(12), 24), None),
        "3 Sept" | "Sept 3" => (date(Some(9), 3), None),
        "on the 4th of March" => (date(Some(3), 4), None),
        "on the 12th" => (date(None, 12), None),
        "2 days ago" => (Day::Ago(2), None),
        "two days ago about teatime" => (Day::Ago(2), Some((17, 0))),
        "3 days ago" | "three days ago" => (Day::Ago(3), None),
        "6pm" | "about 6 pm" | "at 18h" => (Day::Ago(0), Some((18, 0))),
        "Sunday" | "since Sunday" | "on Sunday" => (Day::Weekday(7), None),
        "Sunday evening" => (Day::Weekday(7), Some((19, 0))),
        "monday" | "on Monday" => (Day::Weekday(1), None),
        "Tuesday" | "last Tuesday" => (Day::Weekday(2), None),
        "Wed" => (Day::Weekday(3), None),
        "Wednesday night" => (Day::Weekday(3), Some((22, 0))),
        "last Thursday" => (Day::Weekday(4), None),
        "since Friday" => (Day::Weekday(5), None),
        "Friday night" => (Day::Weekday(5), Some((22, 0))),
        "saturday" | "last Saturday" | "from Saturday" | "last weekend" => (Day::Weekday(6), None),
        "just now" | "today" => (Day::Ago(0), None),
        "last night" | "last nite" | "lst night" => (Day::Ago(1), Some((22, 0))),
        "this morning" | "this mornin" => (Day::Ago(0), Some((8, 0))),
        "this afternoon" | "this arvo" => (Day::Ago(0), Some((15, 0))),
        "this evening" => (Day::Ago(0), Some((19, 0))),
        "tonight" => (Day::Ago(0), Some((22, 0))),
        "today lunch" => (Day::Ago(0), Some((12, 0))),
        "yesterday" | "yestarday" | "yesturday" => (Day::Ago(1), None),
        "yesterday evening" => (Day::Ago(1), Some((19, 0))),
        _ => return None,
    })
}

fn same_time(phrase: Option<&str>, entry: &Entry) -> bool {
    let (phrase, read) = match (phrase, &entry.when) {
        (None, read) => return read.is_none(),
        (Some(_), None) => return false,
        (Some(phrase), Some(read)) => (phrase, read),
    };
    if let Some(said) = day_of(phrase) {
        return said == (read.day, read.time);
    }
    const LEADS: &[&str] = &["on", "from", "since", "at", "about", "around", "the", "by"];
    let words = |s: &str| -> Vec<String> {
        let all = catalogue::normalise(s);
        let kept = all.split(' ').filter(|w| !LEADS.contains(w));
        kept.map(str::to_owned).collect()
    };
    words(phrase) == words(&read.text)
}

/// Whether two texts share a word that says something.
fn overlap(a: &str, b: &str) -> bool {
    let words = |s: &str| -> BTreeSet<String> {
        let all = catalogue::normalise(s);
        let kept = all.split(' ').filter(|w| w.len() > 2);
        kept.filter(|w| !matches!(*w, "the" | "and" | "from" | "off" | "with"))
            .map(str::to_owned)
            .collect()
    };
    !words(a).is_disjoint(&words(b))
}

/// Holds a reading against its label.
pub(crate) fn check(
    weights: &BTreeMap<(String, String), f64>,
    label: &Value,
    entry: &Entry,
) -> Check {
    let us = label["us"].as_bool() == Some(true);
    let mut found = Check::default();
    let mut left: Vec<&Item> = entry.items.iter().collect();
    let mut asked: Vec<_> = entry.ambiguous.iter().collect();
    let unknown: Vec<&str> = entry.unknown.iter().map(|u| u.text.as_str()).collect();
    let mut used: BTreeSet<usize> = BTreeSet::new();
    let items = label["items"].as_array().unwrap();
    // The material itself is matched before what is accepted for it, items with the same words first.
    let fits = |item: &Value, got: &Item| {
        let ids = [text(item, "material")].into_iter();
        ids.chain(list(&item["accept"]))
            .any(|id| id == got.material)
    };
    let mut missing = Vec::new();
    for item in items {
        let words = text(item, "words");
        let at = left
            .iter()
            .position(|got| fits(item, got) && overlap(&got.text, words))
            .or_else(|| left.iter().position(|got| fits(item, got)));
        let Some(at) = at else {
            missing.push(item);
            continue;
        };
        let got = left.remove(at);
        let id = &got.material;
        match item["count"].as_f64() {
            None if got.assumed.is_none() => {
                found.both(
                    false,
                    format!("{id}: an amount nobody said, {:?}", got.said),
                );
            }
            Some(count) if !same_amount(weights, item, count, got, us) => {
                let other = got
                    .said
                    .as_ref()
                    .is_some_and(|s| (s.count / count - 1.0).abs() > 0.02);
                let told = got.assumed.is_some() && !other
                    || unknown.iter().any(|u| overlap(u, &got.text));
                let read = format!("{:?}, {:?} kg", got.said, got.kg.map(|k| k.mid));
                found.both(
                    told,
                    format!("{id}: {count} {} read as {read}", item["unit"]),
                );
            }
            _ => {}
        }
    }
    for item in missing {
        let (id, words) = (text(item, "material"), text(item, "words"));
        if let Some(at) = asked
            .iter()
            .position(|a| overlap(&a.text, words) || a.may_be.iter().any(|m| m == id))
        {
            let asked = asked.remove(at);
            if item["ask"].as_bool() != Some(true) {
                found
                    .wrong
                    .push(format!("{id}: asked back on {:?}", asked.text));
            }
            continue;
        }
        let flagged = unknown.iter().position(|u| overlap(u, words));
        used.extend(flagged);
        found.both(flagged.is_some(), format!("{id} ({words}) missing"));
    }
    for item in left {
        found.both(
            false,
            format!("{} ({}) not in the label", item.material, item.text),
        );
    }
    for several in asked {
        found
            .wrong
            .push(format!("asked back on {:?}", several.text));
    }
    if entry.chamber.as_deref() != label["chamber"].as_str() {
        found.wrong.push(format!("chamber {:?}", entry.chamber));
    }
    if !same_time(label["when"].as_str(), entry) {
        let read = entry.when.as_ref().map(|w| w.text.as_str());
        found.wrong.push(format!("when {read:?}"));
    }
    for word in list(&label["unknown"]) {
        let hit = (0..unknown.len()).find(|at| {
            let got = unknown[*at];
            !used.contains(at) && (got.contains(word) || word.contains(got) || overlap(got, word))
        });
        used.extend(hit);
        if hit.is_none() {
            found.both(false, format!("{word} not flagged"));
        }
    }
    for (at, word) in unknown.iter().enumerate() {
        if !used.contains(&at) {
            found.wrong.push(format!("called unknown: {word:?}"));
        }
    }
    found
}
