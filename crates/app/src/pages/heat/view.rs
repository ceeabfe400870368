//! The record of one batch: the criterion and the readings, one page of paper.

use desk::{HeatAnswer, HeatHours, HeatReading, YardstickFacts};
use maud::{Markup, html};

use super::of;
use crate::pages::_frame::why;
use crate::pages::chamber::others;
use crate::pages::ready;
use crate::words::inside::degrees;
use crate::words::when::day;
use crate::words::{Tongue, capital, heat, lower};

/// Readings and turnings listed, so that the record stays on one page; the log holds them all.
const LISTED: usize = 12;
/// Criteria that stand open: they are sorted, the nearest to kitchen scraps first (choice).
const NEAREST: usize = 3;

pub(super) fn page(a: &HeatAnswer, names: &[String], tongue: Tongue) -> Markup {
    html! {
        div.cols.heat {
            section {
                h1 { "Heat record of " (a.chamber) }
                p.big { (heat::headline(a, tongue)) }
                @for line in heat::doubts(a) { p { (line) } }
                (hours(a, tongue))
                p { (heat::turnings(a)) " (" (why("heat.turns", "how")) ")" }
                h2 { "The batch" }
                (batch(a, tongue))
                h2 { "Readings" }
                (readings(a, tongue))
                h2 { "Weeds and plant disease" }
                ul.notes { @for (id, met) in a.bands { li { (heat::band(id, met, tongue)) } } li { (heat::NEVER) } }
            }
            section {
                h2 { "Criteria beside it" }
                p { (heat::LAW) }
                (yardsticks(a, tongue))
                p.quiet { "Heat, time and turnings are compared, nothing else (" (why("heat.yardstick", "how")) "). A row with * is recalled, not checked." }
                p { a.row href=(ready::of(&a.chamber)) { "May I use it now?" } }
                (others(names, &a.chamber, of))
            }
        }
    }
}

fn hours(a: &HeatAnswer, tongue: Tongue) -> Markup {
    let rows: Vec<(&str, HeatHours)> = [("Core", Some(a.core)), ("Shell", a.shell)]
        .into_iter()
        .filter_map(|(name, h)| Some((name, h?)))
        .filter(|(_, h)| h.readings > 0)
        .collect();
    let told = |h: &HeatHours, value: f64| {
        if heat::told(h) {
            heat::hours(value)
        } else {
            "not known".into()
        }
    };
    html! {
        @if !rows.is_empty() {
            table.worked {
                caption.unseen { "Hours of heat" }
                thead { tr {
                    th scope="col" { "Where" }
                    th scope="col" { (degrees(55.0, tongue)) " or more" }
                    th scope="col" { "Weighted" }
                } }
                tbody { @for (name, h) in &rows { tr {
                    th scope="row" { (name) }
                    td { (told(h, h.plain)) }
                    td { (told(h, h.weighted)) }
                } } }
            }
            p.quiet { "The worse of both is compared (" (why("heat.hours", "how")) ")." }
        }
    }
}

fn batch(a: &HeatAnswer, tongue: Tongue) -> Markup {
    let kinds: Vec<String> = a
        .kinds
        .iter()
        .map(|(name, kg)| format!("{} {}", lower(name), tongue.weight(*kg)))
        .collect();
    html! {
        p { "From " (day(a.began)) " to " (day(a.until)) ", " (a.state) "." }
        p { "About " (tongue.weight(a.fed_kg)) " in " (a.feeds) " entries. Most of it: " (kinds.join(", ")) "." }
        @if !a.turned.is_empty() {
            @let latest: Vec<String> = a.turned.iter().rev().take(LISTED).rev()
                .map(|d| d.strftime("%-d %b").to_string()).collect();
            p { "Turned " @if a.turned.len() > LISTED { "(the last " (LISTED) " of " (a.turned.len()) " days) " } "on " (latest.join(", ")) "." }
        }
    }
}

fn readings(a: &HeatAnswer, tongue: Tongue) -> Markup {
    let from = a.readings.len().saturating_sub(LISTED);
    let place = |r: &HeatReading| match r.place {
        "not said" => "place not said".to_owned(),
        place => place.to_owned(),
    };
    let warmest = [Some(a.core), a.shell]
        .into_iter()
        .flatten()
        .filter_map(|h| h.warmest_c)
        .max_by(f64::total_cmp);
    html! {
        @if a.readings.is_empty() { p { "None." } }
        @if let Some(c) = warmest { p { "The warmest was " b { (degrees(c, tongue)) } "." } }
        @if from > 0 { p { "The last " (LISTED) " of " (a.readings.len()) "; the " a href="/log" { "log" } " has them all." } }
        ul.plain.pack {
            @for r in &a.readings[from..] { li { (r.at) ": " b { (degrees(r.celsius, tongue)) } ", " (place(r)) } }
        }
    }
}

/// The nearest to kitchen scraps stand open, the rest are folded.
fn yardsticks(a: &HeatAnswer, tongue: Tongue) -> Markup {
    let (first, rest) = a.yardsticks.split_at(NEAREST.min(a.yardsticks.len()));
    html! {
        ul.plain.criteria { @for y in first { li { (one(y, tongue)) } } }
        @if !rest.is_empty() {
            details {
                summary { (rest.len()) " more, from other places" }
                ul.plain.criteria { @for y in rest { li { (one(y, tongue)) } } }
            }
        }
    }
}

fn one(y: &YardstickFacts, tongue: Tongue) -> Markup {
    let kind = if y.law { "Law" } else { "Yardstick" };
    html! {
        p { b { (y.name) @if !y.seen { "*" } } ": " (tongue.warm(y.condition)) ". " }
        p { b { (capital(heat::met(y.met))) "." } " "
            span.quiet { (kind) " for " (y.reach) @if y.exempt { "; homes are exempt" } "." } }
    }
}
