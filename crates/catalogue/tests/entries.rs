//! Two hundred entries written before the reader, and sixty written after it; both labelled by people
//! who never saw a reading. The rule is in `scoring`, who did what in `docs/entries.md`.

#![allow(clippy::unwrap_used, clippy::print_stdout)]

mod scoring;

use catalogue::Catalogue;

/// Counts the entries read fully, and asserts that none is misread in silence.
fn fully(file: &str) -> (usize, usize) {
    let catalogue = Catalogue::load().unwrap();
    let weights = scoring::weights();
    let labels = scoring::labels(file);
    let (mut fully, mut silent) = (0, Vec::new());
    for label in &labels {
        let said = scoring::text(label, "text");
        let found = scoring::check(&weights, label, &scoring::read(&catalogue, label));
        if found.wrong.is_empty() {
            fully += 1;
        } else {
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
    (fully, labels.len())
}

#[test]
fn nine_of_ten_are_read_fully_and_none_is_misread_in_silence() {
    let (fully, all) = fully(include_str!("entries.jsonl"));
    assert_eq!(all, 200);
    assert!(fully * 10 >= all * 9, "{fully} of {all} read fully");
}

#[test]
fn fresh_entries_are_read_as_well() {
    let (fully, all) = fully(include_str!("entries_fresh.jsonl"));
    assert_eq!(all, 60);
    assert!(fully * 10 >= all * 9, "{fully} of {all} read fully");
}
