//! Two hundred entries written and labelled by people who had not seen the reader.
//!
//! `entries.jsonl` has one entry a line; a `note` says where a label was changed and why.
//! `entries_each.csv` is a small table of weights of its own, so that amounts are checked against
//! something other than the tables the reader uses.

#![allow(clippy::unwrap_used, clippy::panic, clippy::print_stdout)]

use std::collections::{BTreeMap, BTreeSet};

use catalogue::Catalogue;
use catalogue::entry::{Day, Entry, Hands, Item};
use serde_json::Value;

fn hands(us: bool) -> Hands {
    Hands {
        us,
        chambers: vec!["Near".into(), "Far".into()],
        ..Hands::default()
    }
}

fn labels() -> Vec<Value> {
    include_str!("entries.jsonl")
        .lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect()
}

fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key].as_str().unwrap_or_default()
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
        _ => One::Each,
    }
}

fn each() -> BTreeMap<(String, String), f64> {
    let table = include_str!("entries_each.csv");
    table
        .lines()
        .skip(1)
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            (
                (cells[0].to_owned(), cells[1].to_owned()),
                cells[2].parse().unwrap(),
            )
        })
        .collect()
}

/// How far an item's amount is from the label: the factor, or nothing where the label gives none.
fn factor(
    catalogue: &Catalogue,
    each: &BTreeMap<(String, String), f64>,
    label: &Value,
    item: &Item,
    us: bool,
) -> Result<Option<f64>, String> {
    let Some(count) = label["count"].as_f64() else {
        return Ok(None);
    };
    let unit = label["unit"].as_str().unwrap_or("none");
    if label["cooked_from"].as_bool() == Some(true) {
        let words = catalogue::normalise(text(label, "food"));
        let row = catalogue.bought().iter().find(|b| b.word == words);
        let row = row.ok_or_else(|| format!("no food as bought for {words}"))?;
        let kg = match one(unit, us) {
            One::Kg(kg) => kg,
            // How many peas a bag holds is anyone's guess.
            _ if unit == "bag" => return Ok(None),
            _ => row.each_g.unwrap() / 1000.0 * if unit == "bunch" { 6.0 } else { 1.0 },
        };
        let expected = count * kg * row.refuse_pct / 100.0;
        return Ok(item.kg.map(|got| got.mid / expected));
    }
    match one(unit, us) {
        One::Kg(kg) => Ok(item.kg.map(|got| got.mid / (kg * count))),
        One::Litres(litres) => Ok(item.litres.map(|got| got.mid / (litres * count))),
        One::Each => {
            let key = (text(label, "material").to_owned(), unit.to_owned());
            let grams = each
                .get(&key)
                .ok_or_else(|| format!("no weight for {key:?}"))?;
            Ok(item.kg.map(|got| got.mid * 1000.0 / (grams * count)))
        }
    }
}

fn day_of(phrase: &str) -> Option<(Day, Option<(u8, u8)>)> {
    let date = |month, day| Day::Date {
        month,
        day,
        year: None,
    };
    Some(match phrase {
        "1 Nov" => (date(Some(11), 1), None),
        "14 Sept" | "14/9" | "9/14" => (date(Some(9), 14), None),
        "24 Dec" => (date(Some(12), 24), None),
        "3 Sept" | "Sept 3" => (date(Some(9), 3), None),
        "on the 12th" => (date(None, 12), None),
        "2 days ago" => (Day::Ago(2), None),
        "two days ago about teatime" => (Day::Ago(2), Some((17, 0))),
        "3 days ago" | "three days ago" => (Day::Ago(3), None),
        "6pm" | "about 6 pm" | "at 18h" => (Day::Ago(0), Some((18, 0))),
        "Sunday" | "since Sunday" => (Day::Weekday(7), None),
        "Sunday evening" => (Day::Weekday(7), Some((19, 0))),
        "monday" | "on Monday" => (Day::Weekday(1), None),
        "Tuesday" | "last Tuesday" => (Day::Weekday(2), None),
        "Wed" => (Day::Weekday(3), None),
        "Wednesday night" => (Day::Weekday(3), Some((22, 0))),
        "since Friday" => (Day::Weekday(5), None),
        "saturday" | "last Saturday" | "last weekend" => (Day::Weekday(6), None),
        "just now" => (Day::Ago(0), None),
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

/// What is wrong with a reading; `silent` marks what the gardener would not be told.
#[derive(Default)]
struct Check {
    wrong: Vec<String>,
    silent: Vec<String>,
}

fn check(
    catalogue: &Catalogue,
    weights: &BTreeMap<(String, String), f64>,
    label: &Value,
    entry: &Entry,
) -> Check {
    let us = text(label, "set") == "b";
    let mut found = Check::default();
    let mut left: Vec<&Item> = entry.items.iter().collect();
    let mut ambiguous: Vec<_> = entry.ambiguous.iter().collect();
    for item in label["items"].as_array().unwrap() {
        let id = text(item, "material");
        let either = item["ambiguous"].as_bool() == Some(true);
        if let Some(at) = left.iter().position(|i| i.material == id) {
            let got = left.remove(at);
            match factor(catalogue, weights, item, got, us) {
                Err(reason) => found.wrong.push(reason),
                Ok(None) if got.assumed.is_none() && item["count"].is_null() => {
                    found
                        .wrong
                        .push(format!("{id}: an amount nobody said, {:?}", got.kg));
                }
                Ok(Some(f)) if !(0.6..=1.67).contains(&f) => {
                    found
                        .wrong
                        .push(format!("{id}: {f:.2} times the amount said"));
                    if !(0.5..=2.0).contains(&f) && got.assumed.is_none() {
                        found.silent.push(format!("{id}: {f:.2} times"));
                    }
                }
                Ok(_) => {}
            }
        } else if let Some(at) = ambiguous
            .iter()
            .position(|a| either && a.may_be.iter().any(|m| m == id))
        {
            ambiguous.remove(at);
        } else {
            found.wrong.push(format!("{id} missing"));
            if entry.unknown.is_empty() && entry.ambiguous.is_empty() {
                found.silent.push(format!("{id} dropped"));
            }
        }
    }
    for item in left {
        found.wrong.push(format!(
            "{} ({}) not in the label",
            item.material, item.text
        ));
        if item.assumed.is_none() {
            found
                .silent
                .push(format!("{} ({})", item.material, item.text));
        }
    }
    for item in ambiguous {
        found.wrong.push(format!("{} called ambiguous", item.text));
    }
    if entry.chamber.as_deref() != label["chamber"].as_str() {
        found.wrong.push(format!("chamber {:?}", entry.chamber));
    }
    let said = label["when"]
        .as_str()
        .map(|w| day_of(w).unwrap_or_else(|| panic!("no day for {w}")));
    let read = entry.when.as_ref().map(|w| (w.day, w.time));
    if said != read {
        found.wrong.push(format!("when {read:?}"));
    }
    let mut unread: BTreeSet<&str> = entry.unknown.iter().map(|u| u.text.as_str()).collect();
    for word in label["unknown"].as_array().unwrap() {
        let word = word.as_str().unwrap();
        let hit = unread
            .iter()
            .copied()
            .find(|u| u.contains(word) || word.contains(u));
        if hit.is_none_or(|hit| !unread.remove(hit)) {
            found.wrong.push(format!("{word} not flagged"));
        }
    }
    for word in unread {
        found.wrong.push(format!("unknown: {word}"));
    }
    found
}

#[test]
fn nine_of_ten_are_read_fully_and_none_is_misread_in_silence() {
    let catalogue = Catalogue::load().unwrap();
    let weights = each();
    let labels = labels();
    assert_eq!(labels.len(), 200);
    let (mut fully, mut silent) = (0, Vec::new());
    for label in &labels {
        let said = text(label, "text");
        let entry = catalogue
            .read(said, &hands(text(label, "set") == "b"))
            .unwrap();
        let found = check(&catalogue, &weights, label, &entry);
        fully += usize::from(found.wrong.is_empty());
        if !found.wrong.is_empty() {
            println!("{said}\n    {}", found.wrong.join("; "));
        }
        silent.extend(found.silent.into_iter().map(|s| format!("{said}: {s}")));
    }
    println!("{fully} of {} read fully", labels.len());
    assert!(
        silent.is_empty(),
        "misread in silence:\n{}",
        silent.join("\n")
    );
    assert!(fully * 10 >= labels.len() * 9, "{fully} read fully");
}
