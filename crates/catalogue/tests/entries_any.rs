//! Whatever is typed: no panic, the same answer twice, every id known, nothing dropped.

#![allow(clippy::unwrap_used, clippy::panic, clippy::print_stdout)]

use catalogue::Catalogue;
use catalogue::entry::{Entry, Hands};
use proptest::prelude::*;
use std::sync::OnceLock;

fn catalogue() -> &'static Catalogue {
    static ALL: OnceLock<Catalogue> = OnceLock::new();
    ALL.get_or_init(|| Catalogue::load().unwrap())
}

fn hands() -> Hands {
    Hands {
        chambers: vec!["Near".into(), "Far".into()],
        ..Hands::default()
    }
}

fn read(text: &str) -> Entry {
    catalogue().read(text, &hands()).unwrap()
}

fn sound(text: &str) {
    let entry = read(text);
    assert_eq!(entry, read(text), "{text:?} is read in two ways");
    for item in &entry.items {
        assert!(
            catalogue().get(&item.material).is_some(),
            "{text:?}: {}",
            item.material
        );
        assert!(
            text.contains(&item.text) && !item.text.is_empty(),
            "{text:?}: {:?}",
            item.text
        );
        for spread in item.kg.iter().chain(&item.litres) {
            assert!(
                spread.is_finite() && spread.low > 0.0,
                "{text:?}: {spread:?}"
            );
            assert!(
                spread.low <= spread.mid && spread.mid <= spread.high,
                "{text:?}: {spread:?}"
            );
        }
        assert!(item.kg.is_none_or(|kg| kg.mid <= 500.0), "{text:?}");
        assert!(item.litres.is_none_or(|l| l.mid <= 2000.0), "{text:?}");
    }
    for unread in &entry.unknown {
        assert!(
            text.contains(&unread.text) && !unread.text.is_empty(),
            "{text:?}: {unread:?}"
        );
        assert!(
            unread.near.iter().all(|id| catalogue().get(id).is_some()),
            "{text:?}"
        );
    }
    for several in &entry.ambiguous {
        assert!(
            several.may_be.len() > 1 && text.contains(&several.text),
            "{text:?}"
        );
        assert!(
            several
                .may_be
                .iter()
                .all(|id| catalogue().get(id).is_some()),
            "{text:?}"
        );
    }
}

/// Words of the grammar in any order, where the seams between the rules are.
fn word() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec![
        "2",
        "½",
        "1/2",
        "-3",
        "a",
        "half",
        "a few",
        "x4",
        "0",
        "2-3",
        "99999999999",
        "kg",
        "caddy",
        "handfuls",
        "bucket",
        "of",
        "and",
        ",",
        ":",
        "with",
        "in it",
        "then",
        "no",
        "not",
        "without",
        "cooked",
        "peeled",
        "made",
        "peel of",
        "tops off",
        "crusts",
        "stones",
        "their",
        "potatoes",
        "card",
        "coffee",
        "leaves",
        "banana",
        "bread",
        "tea bags",
        "onion and garlic skins",
        "Near",
        "into",
        "farr",
        "yesterday",
        "3 Sept",
        "14/9",
        "6pm",
        "at",
        "last",
        "dead",
        "mouldy",
        "gizmo",
        "no wait",
        "(",
        ")",
        "full",
        "🍌",
        "sheats",
        "/",
        "stick",
        "tube",
        "box",
        "loaf",
        "bag of leaves",
        "\n",
        ";",
        "teabgas",
        "x",
        "the",
        "some",
        "plus",
    ])
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn any_text(text in "\\PC{0,60}") {
        sound(&text);
    }

    #[test]
    fn any_bytes_of_any_plane(chars in prop::collection::vec(any::<char>(), 0..40)) {
        sound(&chars.into_iter().collect::<String>());
    }

    #[test]
    fn any_order_of_words(words in prop::collection::vec(word(), 0..12)) {
        sound(&words.join(" "));
    }
}

#[test]
fn odd_texts() {
    for text in [
        "",
        " \t\n",
        "🍌🍌 2 kg 🍌",
        "'; DROP TABLE events; --",
        "<script>alert(1)</script>",
        "\u{0}\u{7}\u{1b}[31mcoffee",
        "ｆｕｌｌ　ｃａｄｄｙ",
        "1/0 kg card",
        "1e400 kg card",
        "nan kg card",
        "a a a a a a a a",
        "half half half",
        "of of of",
        "x x4 4x x",
        "and and , , ; ;",
        "2-3-4-5",
        "İstanbul ẞ ﬁ",
        "﷽",
        "e\u{301}\u{301}\u{301}ggshells",
    ] {
        sound(text);
    }
}

#[test]
fn a_hostile_length() {
    let error = catalogue()
        .read(&"banana ".repeat(150_000), &hands())
        .unwrap_err();
    assert_eq!((error.bytes, error.most), (1_050_000, 4096));
    sound(&"zzqx ".repeat(819));
    sound(&"half a ".repeat(580));
    sound(&"1½ kg of torn card and ".repeat(170));
}

#[test]
fn absurd_amounts_are_shown_and_the_rest_stands() {
    for amount in [
        "-3 kg",
        "0 kg",
        "501 kg",
        "20000",
        "2100 L",
        "9999999999999999999999999 kg",
    ] {
        let text = format!("{amount} card, 2 banana skins");
        let entry = read(&text);
        assert_eq!(entry.items.len(), 1, "{text}: {entry:?}");
        assert_eq!(entry.items[0].material, "banana-peel");
        assert_eq!(entry.unknown.len(), 1, "{text}: {entry:?}");
        assert!(entry.unknown[0].text.contains("card"), "{text}: {entry:?}");
    }
}

#[test]
fn every_content_word_ends_somewhere() {
    for word in ["flumph", "quibber", "snorgle"] {
        for text in [
            format!("2 kg {word}"),
            format!("a caddy of {word} and coffee"),
            format!("coffee, {word}, card"),
            format!("no {word}, coffee"),
            format!("peel of 3 {word}"),
            format!("cooked 2 {word} yesterday"),
        ] {
            let entry = read(&text);
            let shown = entry.unknown.iter().map(|u| u.text.as_str());
            let shown = shown.chain(entry.items.iter().map(|i| i.text.as_str()));
            assert!(shown.clone().any(|t| t.contains(word)), "{text}: {entry:?}");
        }
    }
}
