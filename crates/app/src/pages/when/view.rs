//! The forecast of one chamber: what it rests on, when, how sure, for what, and what would move it.

use desk::{ForecastAnswer, RungFacts};
use maud::{Markup, html};

use super::{dots, of};
use crate::pages::_frame::why;
use crate::pages::chamber::{inside_of, others};
use crate::pages::ready;
use crate::words::{Tongue, capital, check, when};

pub(super) fn page(a: &ForecastAnswer, asked: &str, names: &[String], tongue: Tongue) -> Markup {
    let rung = when::rung_asked(a, asked);
    html! {
        div.cols.when {
            section {
                h1 { "When can I use " (a.chamber) "?" }
                (assumed(a, tongue))
                @if let Some(rung) = rung { (answer(a, rung)) }
            }
            section {
                h2 { "Fit for what" }
                (ladder(a, rung.map_or("", |r| r.rung)))
                p { "A rung is a limit on what still works, on card you can see, and on rest. " (why("forecast.rung", "The limits of each rung")) "." }
            }
            section {
                h2 { "What would move it" }
                (moves(a))
                p { a.row href=(ready::of(&a.chamber)) { "May I use it now?" } }
                p { a.row href=(inside_of(&a.chamber)) { "What is it like inside?" } }
                (others(names, &a.chamber, of))
            }
        }
    }
}

fn assumed(a: &ForecastAnswer, tongue: Tongue) -> Markup {
    html! {
        div.rests {
            p { b { (check::rests_on(a)) } " It takes for granted:" }
            ul.notes { @for line in when::assumed(a, |l| tongue.size(l)) { li { (line) } } }
            p.quiet { "Wrong about your drum? " a href="/household" { "Say so on the household page" } "." }
        }
    }
}

fn answer(a: &ForecastAnswer, rung: &RungFacts) -> Markup {
    let said = when::window(a, rung);
    let (first, rest) = said
        .split_first()
        .map_or((String::new(), &[][..]), |(f, r)| (f.clone(), r));
    html! {
        p.big { (first) }
        @if !rest.is_empty() { p { (rest.join(" ")) " (" (why("forecast.window", "how")) ")" } }
        p { b { (when::decision(a, rung)) } " A test grants it, never the date." }
        @if let Some(text) = check::worth(a) {
            p { a.row href=(crate::pages::check::of(&a.chamber)) { (text) } }
        }
        @if let Some(text) = check::record(&a.record) { p { (text) " (" (why("check.record", "how")) ")" } }
        figure.dots {
            (dots::picture(a, rung, &said.join(" ")))
            figcaption.quiet { "Twenty runs of the same arithmetic. Each dot is one, where " (a.chamber) " is fit for " (when::rung(rung.rung)) "." }
        }
        details {
            summary { "How to test it" }
            p { "Seal a damp handful in a bag for three days in a warm room. Open it outdoors, away from your face." }
            p { "Earth: go on. Sour or foul: give it two more weeks. For pots and seed, sow cress in it first." }
            p.quiet { "Common practice." }
        }
    }
}

/// Five rungs, the roughest at the foot as on a ladder; the list reads from the foot up.
fn ladder(a: &ForecastAnswer, shown: &str) -> Markup {
    html! {
        ol.ladder reversed {
            @for r in a.rungs.iter().rev() {
                li.shown[r.rung == shown] {
                    p { b { (capital(when::rung(r.rung))) } " " span.quiet { (when::rung_use(r.rung)) } }
                    p { (when::rung_window(a, r)) }
                    p.by { (tally(r.in_twenty_by_now)) span { (r.in_twenty_by_now) " of 20 by today" } }
                    @if r.rung == shown { p.quiet { "Shown by the dots." } }
                    @else { p { a.row href=(format!("{}&rung={}", of(&a.chamber), r.rung)) { "Dots for " (when::rung(r.rung)) } } }
                }
            }
        }
    }
}

/// Twenty small strokes in fives, those reached by now long.
pub(crate) fn tally(count: usize) -> Markup {
    let (mut reached, mut rest) = (String::new(), String::new());
    for n in 0..20usize {
        let x = 3 + n * 6 + n / 5 * 6;
        if n < count {
            reached.push_str(&format!("M{x} 2V18"));
        } else {
            rest.push_str(&format!("M{x} 12V18"));
        }
    }
    html! {
        svg.tally viewBox="0 0 142 20" width="142" height="20" aria-hidden="true" focusable="false" {
            path.reached d=(reached) {}
            path.rest d=(rest) {}
        }
    }
}

fn moves(a: &ForecastAnswer) -> Markup {
    let told = when::moves(a);
    html! {
        @if told.is_empty() {
            p { "Nothing tried here moves the planted-bed date by more than the doubt about it." }
        } @else {
            p { "The date for planted beds, if from tomorrow you:" }
            ul.plain.moves {
                @for (act, by) in &told { li { b { (act) } span.later[by.ends_with("later")] { (capital(by)) "." } } }
            }
        }
        p.quiet { "Each is worked out against doing nothing, run by run (" (why("forecast.moves", "how")) "). What does less than its doubt is left out." }
    }
}
