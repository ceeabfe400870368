//! What does the next person need to know? One sheet to print.

use axum::extract::State;
use axum::response::Html;
use desk::{HandedOver, HandoverAnswer, Within};
use maud::{Markup, html};

use super::_frame::{Oops, Site, Tab, why};
use crate::words::{Tongue, handover as say, when};

pub(crate) async fn page(State(site): State<Site>) -> Result<Html<String>, Oops> {
    let (answer, tongue) = site
        .ask(|desk| Ok((desk.handover(None)?, Tongue::of(desk))))
        .await?;
    Ok(site.page(Tab::More, "Handing over", &view(&answer, tongue)))
}

fn view(a: &HandoverAnswer, tongue: Tongue) -> Markup {
    let soon = a.chambers.iter().any(|c| c.within == Within::Soon);
    html! {
        h1 { "What does the next person need to know?" }
        p.quiet { span translate="no" { (a.household) } ", " (when::day(a.today)) ". Print this page: it goes with the compost." }
        @if a.chambers.is_empty() {
            p.big { "No chamber has a name yet, so there is nothing to hand over." }
            p { a.go href="/household#chamber-name" { "Name a chamber" } }
        }
        @if soon { p { a.go href="/handover" { "Look again" } } }
        div.cols.sheet {
            section { @for c in a.chambers.iter().step_by(2) { (chamber(a, c, tongue)) } }
            section { @for c in a.chambers.iter().skip(1).step_by(2) { (chamber(a, c, tongue)) } }
        }
        div.columns {
            section {
                h2 { "Take care" }
                ul.notes { @for line in say::care(a, tongue) { li { (line) } } }
            }
            section {
                h2 { "The record" }
                ul.notes { @for line in say::record(a) { li { (line) } } }
                p { a.go href="/log" { "To the log and its export" } }
            }
        }
    }
}

fn chamber(a: &HandoverAnswer, c: &HandedOver, tongue: Tongue) -> Markup {
    html! {
        h2 { span translate="no" { (c.chamber.name) } ", " (c.chamber.state) }
        @for line in say::holds(c, tongue) { p { (line) } }
        h3 { "Next" }
        ul.notes { @for line in say::next(a, c, tongue) { li { (line) } } }
        @if let Within::Known { ready, .. } = &c.within {
            h3 { "Fit for" }
            @for line in say::fit(ready) { p { (line) } }
            p.quiet { "A test grants it, never the date (" (why("ready.chance", "how")) ")." }
        }
        @let known = say::known(c, tongue);
        @if !known.is_empty() {
            h3 { "Known and not known" }
            @if let Some(kinds) = say::kinds(c, tongue) { p { (kinds) } }
            ul.notes { @for line in known { li { (line) } } }
        }
    }
}
