//! The answer first, then why, rung by rung; the next test and the forms to note one.

use desk::{ReadyAnswer, RungReady, TestFacts};
use maud::{Markup, html};

use super::{forms, of};
use crate::pages::_frame::say::unbroken;
use crate::pages::_frame::{Typed, key, why};
use crate::pages::chamber::others;
use crate::pages::{heat, when};
use crate::words::when::{day, rung as use_of, rung_use};
use crate::words::{Tongue, capital, ready};

pub(super) fn page(
    a: &ReadyAnswer,
    news: Option<&TestFacts>,
    typed: &Typed,
    names: &[String],
    tongue: Tongue,
) -> Markup {
    html! {
        (typed.summary())
        @if let Some(test) = news { (noted(test, tongue)) }
        div.cols.ready {
            section {
                h1 { "May I use " (a.chamber) " now?" }
                (answer(a))
                @if let Some(next) = &a.next {
                    @let [act, tells] = ready::next(next);
                    h2 { "What would tell most" }
                    p { b { (act) } " " (tells) " (" (why("ready.next", "how")) ")" }
                }
                (how())
            }
            section {
                h2 { "Fit for what" }
                ol.ladder reversed { @for r in a.rungs.iter().rev() { (rung(r)) } }
                p { "The forecast’s twenty runs, turned by your tests (" (why("ready.chance", "how")) "). No test at home is surer than 19 in 20." }
                h2 { "Tests of this batch" }
                (tests(a, tongue))
            }
            section {
                h2.act { "Note a test" }
                (forms::seeds(a, typed))
                (forms::bag(a, typed))
                details open[typed.open(forms::FLASK)] { summary { "Flask test" } (forms::flask(a, typed, tongue)) }
                details open[typed.open(forms::WORDS)] { summary { "In words" } (forms::free(a, typed)) }
                p { a.row href=(when::of(&a.chamber)) { "When will it be fit, and for what?" } }
                p { a.row href=(heat::of(&a.chamber)) { "What heat was logged?" } }
                (others(names, &a.chamber, of))
            }
        }
    }
}

fn noted(test: &TestFacts, tongue: Tongue) -> Markup {
    html! {
        div.done role="status" {
            p { "Noted. " (unbroken(&ready::result(test, tongue))) }
            form method="post" action="/undo" {
                input type="hidden" name="id" value=(test.id);
                input type="hidden" name="key" value=(key());
                button.small { "Undo" span.unseen translate="no" { ": " (test.text) } }
            }
        }
    }
}

fn answer(a: &ReadyAnswer) -> Markup {
    if a.rungs.iter().all(|r| r.chance.is_none()) {
        return html! {
            p.big { (a.chamber) " is being worked out." }
            p { "That takes a few seconds after each change. Your tests are kept meanwhile." }
            p { a.go href=(of(&a.chamber)) { "Look again" } }
        };
    }
    let [act, reason, doubt] = ready::headline(a);
    html! {
        p.big { (act) }
        p { (reason) }
        @if !doubt.is_empty() { p.flag { (doubt) } }
        p.quiet { (ready::CARE) }
    }
}

fn rung(r: &RungReady) -> Markup {
    let n = r.in_twenty();
    html! {
        li.shown[r.holds.is_empty() && n.is_some_and(|n| n > 12)] {
            p { b { (capital(use_of(r.rung))) } " " span.quiet { (rung_use(r.rung)) } }
            @if let Some(n) = n {
                p.by {
                    (when::tally(n))
                    span { b { @if r.holds.is_empty() { (capital(ready::likely(n))) } @else { "Held back" } } ", " (n) " in 20" }
                }
            }
            @for line in ready::hold(r) { p { (line) } }
            p.quiet { (ready::reasons(r).join(" ")) }
        }
    }
}

fn tests(a: &ReadyAnswer, tongue: Tongue) -> Markup {
    html! {
        @if a.tests.is_empty() { p { "None yet." } }
        ul.log {
            @for test in &a.tests {
                li {
                    p.quiet { (day(test.date)) @if !test.counts { ", no longer counts" } }
                    p { (unbroken(&ready::result(test, tongue))) }
                }
            }
        }
        p.quiet { "What a test can tell: " (why("ready.seeds", "seeds")) ", " (why("ready.flask", "flask and bag")) "." }
    }
}

fn how() -> Markup {
    html! {
        details {
            summary { "How to do a test" }
            @for (name, lines) in ready::HOW {
                h3 { (name) }
                @for line in lines { p { (line) } }
            }
            p.quiet { "Bag, flask and radish pots as extension services and standards describe them; care is common practice." }
        }
    }
}
