//! Export and import.

use journal::{Error, FORMAT, Page, Recorded, Sqlite, Store, Unreadable, export, import};

use crate::common::*;

fn text(journal: &Sqlite, household: &str) -> String {
    let mut out = Vec::new();
    export(journal, household, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

fn read(journal: &Sqlite, text: &str) -> journal::Result<journal::Restored> {
    import(journal, &mut text.as_bytes())
}

fn sample() -> Sqlite {
    let journal = Sqlite::open_memory().unwrap();
    let mut keyed = event(3, 2, note("with a \"key\"\nand two lines"));
    keyed.key = Some("k".into());
    journal
        .append(&[
            event(1, 5, put_in("near", "card", 0.1)),
            event(2, 1, put_in("near", "leaves", 1.0 / 3.0)),
            keyed,
            event(4, 3, correct(1, put_in("near", "card", 0.2))),
            event(5, 0, undo(2)),
        ])
        .unwrap();
    journal
}

#[test]
fn an_export_read_into_an_empty_journal_exports_the_same_bytes() {
    let journal = sample();
    let first = text(&journal, HOME);
    assert!(
        first.starts_with("{\"loamwright_journal\":1,\"household\":\"courtyard\",\"events\":5}\n")
    );
    assert_eq!(first.lines().count(), 6);
    assert_eq!(FORMAT, 1);
    let other = Sqlite::open_memory().unwrap();
    let told = read(&other, &first).unwrap();
    assert_eq!(
        (told.written, told.present, told.unreadable.len()),
        (5, 0, 0)
    );
    assert_eq!(text(&other, HOME), first);
    assert_eq!(
        other.state_hash(HOME).unwrap(),
        journal.state_hash(HOME).unwrap()
    );
    // A second time it finds all of it there.
    let told = read(&other, &first).unwrap();
    assert_eq!((told.written, told.present), (0, 5));
    assert_eq!(text(&other, HOME), first);
}

#[test]
fn an_export_with_windows_line_ends_reads_the_same() {
    let first = text(&sample(), HOME);
    let other = Sqlite::open_memory().unwrap();
    read(&other, &first.replace('\n', "\r\n")).unwrap();
    assert_eq!(text(&other, HOME), first);
}

#[test]
fn an_unknown_kind_or_version_is_kept_reported_and_exported_again() {
    let lines = format!(
        "{{\"loamwright_journal\":1,\"household\":\"courtyard\",\"events\":3}}\n\
         {{\"id\":\"{}\",\"at\":\"2026-01-01T00:00:00Z\",\"recorded\":\"2026-01-01T00:00:00Z\",\
         \"kind\":\"moonphase\",\"version\":1,\"body\":{{\"x\": [1,  2.50]}}}}\n\
         {{\"id\":\"{}\",\"at\":\"2026-01-01T00:00:00Z\",\"recorded\":\"2026-01-01T00:00:00Z\",\
         \"kind\":\"note\",\"version\":2,\"body\":{{\"words\":\"later\"}}}}\n\
         {{\"id\":\"{}\",\"at\":\"2026-01-01T00:00:00Z\",\"recorded\":\"2026-01-01T00:00:00Z\",\
         \"kind\":\"undone\",\"version\":7,\"body\":{{\"event\":\"{}\",\"why\":1}}}}\n",
        id(1),
        id(2),
        id(3),
        id(1)
    );
    let journal = Sqlite::open_memory().unwrap();
    let told = read(&journal, &lines).unwrap();
    let expected = vec![
        (
            id(1),
            Unreadable::Kind {
                kind: "moonphase".into(),
            },
        ),
        (
            id(2),
            Unreadable::Version {
                kind: "note".into(),
                version: 2,
            },
        ),
        (
            id(3),
            Unreadable::Version {
                kind: "undone".into(),
                version: 7,
            },
        ),
    ];
    assert_eq!(told.unreadable, expected);
    assert_eq!(journal.unreadable(HOME).unwrap(), expected);
    assert_eq!(text(&journal, HOME), lines);
    let event = journal.event(HOME, id(1)).unwrap().unwrap();
    assert!(
        matches!(event.body, Recorded::Unknown { ref text, .. } if text == "{\"x\": [1,  2.50]}")
    );
    // It shows in the history, can be undone, and outlives a rebuild.
    assert_eq!(journal.history(HOME, &Page::default()).unwrap().len(), 2);
    add(&journal, event_after(4, undo(1))).unwrap();
    journal.rebuild().unwrap();
    assert_eq!(journal.history(HOME, &Page::default()).unwrap().len(), 1);
    assert_eq!(journal.unreadable(HOME).unwrap(), expected);
}

fn event_after(n: u64, body: journal::Body) -> journal::NewEvent {
    event(n, 100, body)
}

#[test]
fn a_bad_line_is_named_and_nothing_is_imported() {
    let good = text(&sample(), HOME);
    let lines: Vec<&str> = good.lines().collect();
    let with = |i: usize, line: &str| {
        let mut lines = lines.clone();
        lines[i] = line;
        lines.join("\n") + "\n"
    };
    let bad_number = lines[1].replace("\"mid\":0.1", "\"mid\":-0.1");
    let bad_field = lines[3].replace("\"text\":", "\"txt\":");
    let no_target = lines[5].replace(&id(2).to_string(), &id(77).to_string());
    let not_seven = lines[2].replace("-7000-", "-4000-");
    let cases = [
        (
            with(0, "{\"loamwright_journal\":2}"),
            1,
            "format 2 is not known",
        ),
        (with(0, "date;what;how much"), 1, "not a journal export"),
        (String::new(), 1, "not a journal export"),
        (
            with(0, "{\"loamwright_journal\":1}"),
            1,
            "missing field `household`",
        ),
        (
            with(1, &bad_number),
            2,
            "portions[0].kg.mid: -0.1 is out of range",
        ),
        (with(3, &bad_field), 4, "does not read as a \"note\""),
        (with(5, &no_target), 6, "there is no entry"),
        (with(2, &not_seven), 3, "UUID of version 7"),
        (with(4, ""), 5, "does not read as an entry"),
        (
            lines[..5].join("\n") + "\n",
            5,
            "holds 4 entries, its first line says 5",
        ),
        (
            good[..good.len() - 9].to_owned(),
            6,
            "does not read as an entry",
        ),
    ];
    for (input, at, says) in cases {
        let journal = Sqlite::open_memory().unwrap();
        let error = read(&journal, &input).unwrap_err();
        match &error {
            Error::Import { line, why } => {
                assert!(why.contains(says), "{error}");
                assert_eq!(*line, at, "{error}");
            }
            other => panic!("{other}"),
        }
        assert_eq!(
            journal.households().unwrap(),
            Vec::<String>::new(),
            "{error}"
        );
    }
}

#[test]
fn an_import_that_disagrees_with_what_is_there_is_refused() {
    let good = text(&sample(), HOME);
    let journal = Sqlite::open_memory().unwrap();
    add(&journal, event(3, 2, note("something else"))).unwrap();
    let error = read(&journal, &good).unwrap_err().to_string();
    assert!(
        error.starts_with("line 4: the event id") && error.contains("is taken"),
        "{error}"
    );
    let journal = Sqlite::open_memory().unwrap();
    let mut keyed = event(30, 2, note("something else"));
    keyed.key = Some("k".into());
    add(&journal, keyed).unwrap();
    let error = read(&journal, &good).unwrap_err().to_string();
    assert!(
        error.starts_with("line 4: the one-time key \"k\""),
        "{error}"
    );
    assert_eq!(journal.count(HOME).unwrap(), 1);
}

#[test]
fn two_copies_that_undid_the_same_entry_can_be_joined() {
    let one = Sqlite::open_memory().unwrap();
    let two = Sqlite::open_memory().unwrap();
    add(&one, event(1, 0, note("a"))).unwrap();
    read(&two, &text(&one, HOME)).unwrap();
    add(&one, event(2, 1, undo(1))).unwrap();
    add(&two, event(3, 1, undo(1))).unwrap();
    let told = read(&one, &text(&two, HOME)).unwrap();
    assert_eq!((told.written, told.present), (1, 1));
    // Both undos must be undone to bring it back.
    assert!(notes(&one).is_empty());
    add(&one, event(4, 2, undo(3))).unwrap();
    assert!(notes(&one).is_empty());
    add(&one, event(5, 3, undo(2))).unwrap();
    assert_eq!(notes(&one), ["a"]);
}

#[test]
fn an_export_knows_one_household_only() {
    let journal = sample();
    let mut next_door = event(50, 0, note("elsewhere"));
    next_door.household = "next-door".into();
    add(&journal, next_door).unwrap();
    assert!(!text(&journal, HOME).contains("elsewhere"));
    let nobody = text(&journal, "nobody");
    assert_eq!(
        nobody,
        "{\"loamwright_journal\":1,\"household\":\"nobody\",\"events\":0}\n"
    );
    assert_eq!(
        read(&Sqlite::open_memory().unwrap(), &nobody)
            .unwrap()
            .written,
        0
    );
}
