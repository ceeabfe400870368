//! Pick what you notice; then the act first, the reason, the doubt, and how to tell it from the next.

use desk::{CauseFacts, Desk, PutRightAnswer, SymptomFacts};
use maud::{Markup, html};

use super::{answer_of, of};
use crate::pages::_frame::say::unbroken;
use crate::pages::_frame::{Input, Typed, key, why};
use crate::words::{Tongue, capital, put_right as say, when};

pub(super) const FORM: &str = "put-right";

/// Families in the order of the page.
const FAMILIES: [&str; 5] = ["smell", "look", "warmth", "animals", "caddy"];

pub(super) fn ask(chamber: Option<&str>, near: &[&str], typed: &Typed) -> Markup {
    let all = Desk::symptoms();
    html! {
        h1 { "What is wrong?" }
        @if typed.status().is_success() {
            p { "Tap what you notice" @if let Some(name) = chamber { " in " b { (name) } } ". You get the smallest thing that fixes it." }
        } @else {
            (typed.summary())
        }
        @if !near.is_empty() {
            ul.picks { @for name in near { li { a.go href=(answer_of(name, chamber)) { (capital(name)) } } } }
        }
        @for family in FAMILIES {
            @let of_it: Vec<&SymptomFacts> = all.iter().filter(|s| s.family == family).collect();
            section {
                h2 { (say::family(family)) }
                ul.picks { @for s in of_it { li { a.go href=(answer_of(s.id, chamber)) { (capital(s.name)) } } } }
            }
        }
        form method="get" action="/put-right" role="search" {
            (Input::new(FORM, "symptom", "Or say it in your own words").hint("As: it stinks, nothing happens, flies.").search().draw(typed))
            @if let Some(name) = chamber { input type="hidden" name="chamber" value=(name); }
            button { "Ask" }
        }
    }
}

pub(super) fn answer(a: &PutRightAnswer, names: &[String], tongue: Tongue) -> Markup {
    html! {
        div.cols {
            section {
                p.quiet { (capital(a.symptom.name)) @if let Some(name) = &a.chamber { ", " (name) } }
                h1 { "What is the smallest thing that fixes it?" }
                @if let Some(first) = a.causes.first() {
                    div.answer {
                        p.big { (unbroken(&say::lead(first, a.caddy_l, tongue))) }
                        @if let Some(besides) = say::besides(first, a.state, a.caddy_l, tongue) { p { (besides) } }
                        @if let Some(against) = say::against(first, tongue) { p.flag { (unbroken(&against)) } }
                    }
                    p { b { (say::likely(first)) } " " (say::reason(first.cause, tongue)) " (" (why("fix.chance", "how sure")) ")" }
                    @if let Some(because) = say::because(first, tongue) { p { (unbroken(&because)) } }
                    p { "Look again on " b { (when::day(first.look_again)) } "." @if first.amount.is_some() { " " (why("fix.amount", "How the amount is worked out")) "." } }
                    @for mind in say::mind(a.symptom.id, first) { p.flag { (mind) } }
                    (noting(a, first, tongue))
                }
            }
            section {
                @if let Some(pair) = say::apart(a, tongue) {
                    h2 { "If it is not that" }
                    p { "A hand tells the two likeliest apart:" }
                    ul.notes { @for line in pair { li { (line) } } }
                }
                @for c in a.causes.iter().skip(1) { (or_else(a, c, tongue)) }
                p.quiet { (say::rests(a)) }
                @if a.rests == desk::Rests::Log { p { a.row href=(answer_of(a.symptom.id, a.chamber.as_deref())) { "Look again in a few seconds" } } }
                @if a.chamber.is_some() {
                    @for name in names.iter().filter(|n| a.chamber.as_ref() != Some(*n)) {
                        p { a.row href=(answer_of(a.symptom.id, Some(name))) { "The same for " (name) } }
                    }
                }
                p { a.row href=(a.chamber.as_deref().map_or_else(|| "/put-right".to_owned(), of)) { "Something else" } }
            }
        }
    }
}

fn or_else(a: &PutRightAnswer, c: &CauseFacts, tongue: Tongue) -> Markup {
    html! {
        details {
            summary { (say::likely(c)) }
            p { b { (unbroken(&say::lead(c, a.caddy_l, tongue))) } " " (say::reason(c.cause, tongue)) }
            @if let Some(besides) = say::besides(c, a.state, a.caddy_l, tongue) { p { (besides) } }
            @if let Some(against) = say::against(c, tongue) { p.flag { (unbroken(&against)) } }
            @if let Some(because) = say::because(c, tongue) { p { (unbroken(&because)) } }
            p { "Look again on " (when::day(c.look_again)) "." }
            @for mind in say::mind(a.symptom.id, c) { p.flag { (mind) } }
            (noting(a, c, tongue))
        }
    }
}

/// What was shown goes into the form, so that a second tap notes the same.
fn fields(a: &PutRightAnswer, c: &CauseFacts, text: &str) -> Markup {
    html! {
        input type="hidden" name="symptom" value=(a.symptom.id);
        @if let Some(name) = &a.chamber { input type="hidden" name="chamber" value=(name); }
        input type="hidden" name="cause" value=(c.cause);
        input type="hidden" name="act" value=(c.act);
        input type="hidden" name="text" value=(text);
        input type="hidden" name="key" value=(key());
    }
}

fn noting(a: &PutRightAnswer, c: &CauseFacts, tongue: Tongue) -> Markup {
    let (done, was) = if c.nothing_wrong {
        ("Note it", "It was that: remember it")
    } else {
        ("Done: note it", "It helped: remember that")
    };
    html! {
        div.noting {
            form method="post" action="/put-right" {
                (fields(a, c, &say::noted(a, c, tongue)))
                @if let Some(line) = say::step(c) {
                    input type="hidden" name="material" value=(line.material);
                    input type="hidden" name="kg" value=(format!("{:.3}", line.kg));
                }
                button.main { (done) span.unseen { ": " (say::cause(c.cause)) } }
            }
            form method="post" action="/put-right" {
                (fields(a, c, &say::helped(a, c)))
                input type="hidden" name="helped" value="1";
                button.small { (was) span.unseen { ": " (say::cause(c.cause)) } }
            }
        }
    }
}
