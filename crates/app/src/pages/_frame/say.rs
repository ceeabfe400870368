//! Small pieces of speech that many pages use.

use desk::{Line, LogLine};
use maud::{Markup, html};

use super::escaped;
use crate::words::{self, Tongue};

/// A message as a sentence: a capital in front, a stop behind.
pub(crate) fn sentence(text: &str) -> String {
    let text = text.trim();
    let mut chars = text.chars();
    let Some(first) = chars.next() else {
        return String::new();
    };
    let mut out: String = first.to_uppercase().chain(chars).collect();
    if !out.ends_with(['.', '?', '!']) {
        out.push('.');
    }
    out
}

/// A value as it was given, without trailing zeros; three figures at most behind the point.
pub(crate) fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Keeps a number and its unit on one line.
pub(crate) fn unbroken(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(' ') {
        let (before, after) = (&rest[..at], &rest[at + 1..]);
        let word = after
            .find(|c: char| !(c.is_alphabetic() || c == '%'))
            .map_or(after, |end| &after[..end]);
        let joined = before.ends_with(|c: char| c.is_ascii_digit() || c == '½')
            && [
                "L", "kg", "g", "ml", "%", "cup", "cups", "qt", "gal", "lb", "oz",
            ]
            .contains(&word);
        out.push_str(before);
        out.push(if joined { '\u{a0}' } else { ' ' });
        rest = after;
    }
    out.push_str(rest);
    out
}

/// A link to the workings of a number.
pub(crate) fn why(id: &str, text: &str) -> Markup {
    // On paper the id stands behind the words, so that the number can still be looked up.
    let shown = (id != text).then_some(id);
    html! { a href=(format!("/workings?id={}", escaped(id))) data-id=[shown] { (text) } }
}

/// A sentence whose `[id]` at the end becomes a link to the workings.
pub(crate) fn linked(text: &str) -> Markup {
    match text
        .split_once(" [")
        .and_then(|(said, rest)| Some((said, rest.split_once(']')?)))
    {
        Some((said, (id, rest))) => html! { (said) " (" (why(id, "why")) ")" (rest) },
        None => html! { (text) },
    }
}

/// Letter, hatch and colour of a role; the word stands beside it.
pub(crate) fn mark(role: &str) -> Markup {
    let (class, letter) = match role {
        "feeds" => ("mark greens", "G"),
        "dries" | "opens" => ("mark browns", "B"),
        _ => ("mark plain", "–"),
    };
    html! { span class=(class) aria-hidden="true" { b { (letter) } i {} } }
}

/// What an entry of the log says; the words of a person are marked as theirs.
pub(crate) fn noted(line: &LogLine, tongue: Tongue) -> Markup {
    let text = words::log_text(line, tongue);
    let own = words::own_words(line).then_some("no");
    html! {
        span translate=[own] { @if line.undone { s { (text) } } @else { (text) } }
        @if line.undone { " (undone)" }
    }
}

/// A portion as it was understood, with what to mind.
pub(crate) fn understood(line: &Line, tongue: Tongue) -> Markup {
    let amount = words::measure(line.kg, line.litres, tongue);
    html! {
        li.portion {
            (mark(line.role))
            div {
                p { b { (line.name) } span.quiet { " " (words::role(line.role)) } }
                p.quiet { span translate="no" { "“" (line.text) "”" } ": " (amount) }
                @if let Some(assumed) = &line.assumed { p.quiet { "Amount not said; taken as " (assumed) "." } }
                @if line.verdict != "yes" { p.flag { b { (words::verdict(line.verdict)) } } }
                @if !line.preparation.is_empty() { p { (sentence(&line.preparation)) } }
                @if let Some(cap) = line.cap_pct { p { "At most " (number(cap)) " % of a week’s feed." } }
                @if !line.caution.is_empty() { p { (sentence(&line.caution)) } }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_stays_with_its_number() {
        assert_eq!(
            unbroken("3 caddies (20 L), 66 % of 2 lb"),
            "3 caddies (20\u{a0}L), 66\u{a0}% of 2\u{a0}lb"
        );
    }

    #[test]
    fn messages_become_sentences() {
        assert_eq!(sentence("nothing to undo"), "Nothing to undo.");
        assert_eq!(sentence("Did you mean it?"), "Did you mean it?");
        assert_eq!(sentence(""), "");
    }
}
