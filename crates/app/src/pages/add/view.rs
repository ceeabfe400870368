//! The entry, and its answer.

use desk::ChamberFacts;
use maud::{Markup, html};

use super::Answered;
use crate::pages::_frame::say::{linked, unbroken, understood};
use crate::pages::_frame::{Fields, Input, Typed, escaped, mark, sentence, why};
use crate::pages::chambers::tip_into;
use crate::words;

pub(crate) const FORM: &str = "add";
pub(super) const WENT_IN: &str = "went-in";

/// What one tap puts in: a caddy, or a small thing of every day.
const TAPS: [(&str, &str); 9] = [
    ("Full caddy", "full caddy"),
    ("¾ caddy", "3/4 caddy"),
    ("Half caddy", "half caddy"),
    ("+ Coffee grounds", "coffee grounds"),
    ("+ Tea leaves", "tea leaves"),
    ("+ 2 eggshells", "2 eggshells"),
    ("+ Handful of card", "1 handful card"),
    ("+ Handful of leaves", "1 handful dry leaves"),
    ("+ Yester\u{ad}day", "yesterday"),
];

pub(super) fn page(chambers: &[ChamberFacts], typed: &Typed) -> Markup {
    let now = typed.get(FORM, "chamber");
    html! {
        h1 { "How much browns with this?" }
        (typed.summary())
        form #entry-form method="post" action="/add" {
            (Input::new(FORM, "entry", "What is in the caddy?")
                .hint("As: full caddy, leek tops, coffee. Or: half caddy, yesterday.").list("things").draw(typed))
            datalist #things {
                @for (_, text) in TAPS { option value=(text) {} }
            }
            // Enter in the field asks: a form takes its first button for that.
            button.first tabindex="-1" aria-hidden="true" {}
            fieldset {
                legend { "One tap" }
                p.quiet { "A caddy is answered at once." }
                div.trio {
                    @for (name, text) in TAPS { button name="quick" value=(text) { (name) } }
                }
            }
            button.main { "What goes with it?" }
            details open[!typed.get(FORM, "with").is_empty() || typed.open(FORM)] {
                summary { "Browns at hand, and where it goes" }
                (Input::new(FORM, "with", "Browns at hand")
                    .hint("As: dry leaves, 10 L torn card. Empty: your counted browns.").draw(typed))
                @if !chambers.is_empty() {
                    div.field {
                        label for="add-chamber" { "Into" }
                        @if let Some(text) = typed.beside(FORM, "chamber") { p.beside { (text) } }
                        select #add-chamber name="chamber" {
                            @for c in chambers {
                                @let chosen = if now.is_empty() { tip_into(chambers).is_some_and(|t| t.id == c.id) } else { now == c.name };
                                option value=(c.name) selected[chosen] { (c.name) " (" (c.state) ")" }
                            }
                        }
                    }
                    label.tick {
                        input type="checkbox" name="count" value="1" checked[!typed.get(FORM, "count").is_empty()];
                        span { "Count what is in there already" }
                    }
                }
            }
        }
    }
}

pub(super) fn answer(found: &Answered, asked: &Fields, typed: &Typed) -> Markup {
    let dose = &found.dose;
    let read = &dose.read;
    let tongue = found.tongue;
    let told = words::dose_lines(dose, tongue);
    html! {
        h1 { "What goes with it?" }
        (typed.summary())
        div.cols {
            section {
                @if !read.items.is_empty() { p.echo {
                    "Understood: "
                    @for (at, line) in read.items.iter().enumerate() { @if at > 0 { "; " } (line.name.to_lowercase()) ", " (words::measure(line.kg, line.litres, tongue)) }
                    "."
                    @if let Some(when) = &read.when { " On " (when) "." }
                } }
                @for out in &read.refused {
                    div.wrong role="alert" { p { b { "Leave out: " (out.name.to_lowercase()) "." } " " (sentence(&out.caution)) } }
                }
                @for line in words::not_understood(read, tongue) { p.flag { (line.replace('`', "“").replacen("“ ", "” ", 1)) } }
                div.answer {
                    p.big { (unbroken(&told.action)) }
                    @for d in &dose.doses {
                        @if let Some(n) = d.handfuls {
                            p.portion { (mark("dries")) span { "That is " (handfuls(n)) " of " (d.name.to_lowercase()) "." } }
                        }
                    }
                }
                p { (unbroken(&told.reason)) " " (why("dose.amount", "How it is worked out")) }
                @if let Some(text) = words::without(dose) { p { (linked(&text)) } }
                @if let Some(card) = &found.card {
                    @let said = words::card::lines(dose, card);
                    @if !said.is_empty() { p { (linked(&said.join(" "))) } }
                }
                p.quiet { (told.doubt) }
                (went_in(found, asked, typed))
            }
            section {
                @let beside = words::beside(dose, tongue);
                @if !beside.is_empty() {
                    h2 { "If you would rather" }
                    ul.notes { @for line in &beside { li { (line) } } }
                }
                h2 { "What was understood" }
                ul.plain.pack { @for line in read.items.iter().chain(&read.refused) { (understood(line, tongue)) } }
                @if !read.items.is_empty() { (table(found)) }
                form method="post" action="/add" {
                    h2 { "Say it again" }
                    (Input::new(FORM, "entry", "What is in the caddy?").usual(asked.get("entry")).draw(typed))
                    @for name in ["with", "chamber", "count"] {
                        @if let Some(value) = asked.some(name) { input type="hidden" name=(name) value=(value); }
                    }
                    button { "Ask again" }
                }
                @let words: Vec<_> = read.unknown.iter().flat_map(|u| &u.near).collect();
                @if !words.is_empty() {
                    ul.plain { @for near in words { li { a.row href=(format!("/look?q={}", escaped(&near.name))) { "Look up " (near.name) } } } }
                }
            }
        }
    }
}

fn handfuls(n: f64) -> String {
    match n.round().max(1.0) {
        1.0 => "1 handful".into(),
        n if n <= 20.0 => format!("{n:.0} handfuls"),
        n => format!("about {:.0} handfuls", (n / 5.0).round() * 5.0),
    }
}

fn went_in(found: &Answered, asked: &Fields, typed: &Typed) -> Markup {
    html! {
        @match &found.chamber {
            _ if !found.dose.read.refused.is_empty() => {
                p { "Take it out of the line below, then note the rest." }
            }
            None => {
                p { "To note it, name a chamber first." }
                p { a.go href="/household#chamber-name" { "Name a chamber" } }
            }
            Some(chamber) => {
                form.note method="post" action="/went-in" {
                    (typed.key(WENT_IN))
                    input type="hidden" name="caddy" value=(asked.get("entry"));
                    input type="hidden" name="chamber" value=(chamber);
                    @for name in ["with", "count"] {
                        @if let Some(value) = asked.some(name) { input type="hidden" name=(name) value=(value); }
                    }
                    (Input::new(WENT_IN, "browns", "Browns that went in with it")
                        .hint("Change it to what you did. Leave it empty if none did.").usual(found.browns.clone()).draw(typed))
                    button.main { "Went in: " (chamber) }
                }
            }
        }
    }
}

/// The middle above, the range under it: a narrow screen breaks neither.
fn in_cell(range: &str) -> Markup {
    match range.split_once(" (") {
        Some((mid, ends)) => html! { (mid) br; span.quiet { "(" (ends) } },
        None => html! { (range) },
    }
}

fn table(found: &Answered) -> Markup {
    let (before, after) = (&found.dose.before, &found.dose.after);
    let rows = [
        (
            "Wetness",
            "mix.water",
            "window.water",
            before.water_pct,
            after.water_pct,
            "%",
        ),
        ("C:N", "mix.cn", "window.cn", before.cn, after.cn, ""),
        (
            "Air",
            "mix.air_space",
            "window.air",
            before.air_space_pct,
            after.air_space_pct,
            "%",
        ),
    ];
    html! {
        h2 { "Before and after" }
        table {
            thead { tr { th scope="col" { "" span.unseen { "What" } } th scope="col" { "Before" } th scope="col" { "After" } th scope="col" { "Good" } } }
            tbody {
                @for ((name, id, window, before, after, unit), good) in rows.into_iter().zip(&found.windows) {
                    tr {
                        th scope="row" { (why(id, name)) }
                        td { (in_cell(&words::range(before, unit))) }
                        td { (in_cell(&words::range(after, unit))) }
                        td { (why(window, good)) }
                    }
                }
            }
        }
        p.quiet { "In brackets: 18 of 20 mixes like this lie between these." }
    }
}
