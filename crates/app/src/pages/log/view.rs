//! The log, newest first.

use desk::LogLine;
use maud::{Markup, html};

use crate::pages::_frame::say::noted;
use crate::pages::_frame::{Input, Typed, escaped, key};
use crate::words::Tongue;

pub(super) const CATCH_UP: &str = "catch-up";
pub(super) const IMPORT: &str = "import";

/// What was just done.
pub(super) enum News<'a> {
    /// An entry was written; it can be undone at once.
    Noted(&'a LogLine),
    /// Something else.
    Said(String),
}

pub(super) fn correct_form(id: &str) -> String {
    format!("correct-{id}")
}

pub(super) fn page(
    lines: &[LogLine],
    more: Option<&str>,
    later: bool,
    news: Option<&News<'_>>,
    typed: &Typed,
    tongue: Tongue,
) -> Markup {
    html! {
        h1 { "What happened?" }
        (typed.summary())
        @match news {
            Some(News::Noted(line)) => {
                div.done role="status" {
                    p { "Noted" @if let Some(chamber) = &line.chamber { " for " b { (chamber) } } ": " (noted(line, tongue)) }
                    @if !line.undone { (undo(line)) }
                }
            }
            Some(News::Said(text)) => { p.done role="status" { (text) } }
            None => {}
        }
        div.cols {
            section {
                @if lines.is_empty() { p.big { "Nothing is noted yet." } }
                @else if !later { p { a.row href="#catch-up-lines" { "Catch up on missed days" } } }
                ul.log { @for line in lines { (entry(line, typed, tongue)) } }
                @if let Some(id) = more { p { a.row href=(format!("/log?after={}", escaped(id))) { "Earlier" } } }
                @if later { p { a.row href="/log" { "Back to the latest" } } }
            }
            section.act {
                h2 { "Catch up" }
                form method="post" action="/log" {
                    (typed.key(CATCH_UP))
                    (Input::new(CATCH_UP, "lines", "What went in, a line an entry")
                        .hint("Each line may carry its day: Tuesday, full caddy, 4 handfuls card. A rough guess beats a gap.")
                        .lines(5).draw(typed))
                    button.main { "Note them all" }
                }
                h2 { "Take it with you" }
                p { a.row href="/log/export" download { "Export the whole log" } }
                details open[typed.open(IMPORT)] {
                    summary { "Import a log" }
                    form method="post" action="/log/import" {
                        (Input::new(IMPORT, "export", "Lines of an export")
                            .hint("All of it is taken, or nothing. Entries that are here already are left alone.")
                            .lines(4).draw(typed))
                        button { "Take it in" }
                    }
                }
            }
        }
    }
}

fn entry(line: &LogLine, typed: &Typed, tongue: Tongue) -> Markup {
    let form = correct_form(&line.id);
    html! {
        li {
            p.quiet {
                (line.at)
                @if let Some(chamber) = &line.chamber { ", " (chamber) }
                @if line.corrected { ", corrected" }
            }
            p { (noted(line, tongue)) }
            @for (reading, reason) in &line.aside {
                p.flag.hollow { (crate::words::capital(&reading_name(reading))) " is kept but does not count: " (crate::words::check::reason(reason, tongue)) }
            }
            @for word in &line.unknown { p.flag { "Not understood: " span translate="no" { "“" (word) "”" } ". It is kept, not counted." } }
            @if !line.undone {
                div.pair {
                    (undo(line))
                    @if line.kind == "put_in" {
                        details open[typed.open(&form)] {
                            summary { "Correct" }
                            form method="post" action="/log/correct" {
                                input type="hidden" name="id" value=(line.id);
                                (typed.key(&form))
                                (Input::new(&form, "text", "It should say").usual(line.text.clone()).draw(typed))
                                button { "Put it right" }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// A reading set aside, as the log names it.
fn reading_name(id: &str) -> String {
    match id {
        "core_c" => "the temperature".into(),
        "level_pct" => "the level".into(),
        "weight_kg" => "the weight".into(),
        other => format!("the {other}"),
    }
}

fn undo(line: &LogLine) -> Markup {
    html! {
        form method="post" action="/undo" {
            input type="hidden" name="id" value=(line.id);
            input type="hidden" name="key" value=(key());
            button.small { "Undo" span.unseen translate="no" { ": " (line.text) } }
        }
    }
}
