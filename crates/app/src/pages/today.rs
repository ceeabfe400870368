//! Anything to do now?

use std::sync::Arc;

use axum::extract::State;
use axum::response::Html;
use desk::{ForecastAnswer, TodayAnswer};
use maud::{Markup, html};

use super::_frame::say::{linked, noted, unbroken};
use super::_frame::{Fields, Oops, Site, Tab, why};
use super::chambers::drum;
use super::{chamber, stock, when};
use crate::words::{self, Tongue};

pub(crate) async fn page(State(site): State<Site>, asked: Fields) -> Result<Html<String>, Oops> {
    let (mut today, begun, tongue) = site
        .ask(|desk| Ok((desk.today()?, desk.household()?.begun, Tongue::of(desk))))
        .await?;
    drum::in_use_first(&mut today.chambers);
    let browns = drum::browns(&site, &today.chambers).await?;
    let ids: Vec<String> = today.chambers.iter().map(|c| c.id.clone()).collect();
    let known = site
        .ask(move |desk| {
            Ok(ids
                .iter()
                .filter_map(|id| desk.forecast_if_known(id))
                .collect::<Vec<_>>())
        })
        .await?;
    let season = site.ask(|desk| Ok(desk.season_if_known())).await?;
    let room = season.and_then(|a| words::season::in_short(&a));
    let body = view(
        &today,
        begun,
        &browns,
        (&known, room.as_deref()),
        (tongue, asked.get("done") == "turned"),
    );
    Ok(site.page(Tab::Today, "Today", &body))
}

/// The date of the chamber that finishes, and whether any wants turning; nothing while it is worked out.
fn ahead(known: &[Arc<ForecastAnswer>]) -> Markup {
    // Of all looks worth taking, the one that gains most.
    let gains = |a: &ForecastAnswer| words::check::best(&a.worth).map(|w| w.days_shorter);
    let best = known
        .iter()
        .filter_map(|a| Some((gains(a)?, a)))
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .and_then(|(_, a)| Some((a, words::check::worth(a)?)));
    html! {
        @if let Some((a, text)) = &best {
            a.row.ahead href=(super::check::of(&a.chamber)) { span { (text) } }
        }
        @for a in known {
            @if a.state == "closed" && let Some(date) = words::when::in_short(a) {
                a.row.ahead href=(when::of(&a.chamber)) { span { b { (a.chamber) } ": " (words::lower(&date)) } }
            }
            a.row.ahead href=(chamber::inside_of(&a.chamber)) { span { b { (a.chamber) } ": " (words::lower(&words::inside::turning_in_short(a))) } }
        }
    }
}

fn view(
    today: &TodayAnswer,
    begun: bool,
    browns: &drum::Browns,
    (known, room): (&[Arc<ForecastAnswer>], Option<&str>),
    (tongue, noted_now): (Tongue, bool),
) -> Markup {
    html! {
        div.cols {
            section {
                p.quiet { (today.date) }
                h1 { "Anything to do now?" }
                @match (&today.tip_into, &today.usual) {
                    (Some(chamber), Some(dose)) => {
                        @let told = words::dose_lines(dose, tongue);
                        p { "With a full caddy of mixed scraps into " b { (chamber) } ":" }
                        p.big { (unbroken(&told.action)) }
                        p { (unbroken(&told.reason)) " " (why("dose.amount", "How it is worked out")) }
                        @if let Some(text) = words::without(dose) { p { (linked(&text)) } }
                        p.quiet { (told.doubt) }
                    }
                    _ if begun && !today.chambers.is_empty() => {
                        p.big { "Hold the caddy back." }
                        p { "No chamber is filling and none is empty. Empty the one that is done first." }
                        p { a.go href="/chambers" { "See the chambers" } }
                    }
                    _ => {
                        p.big { "Nothing is set up yet." }
                        p { "Say what you have, and what is in it. It takes two minutes." }
                        p { a.go href="/start" { "How to begin" } }
                    }
                }
                p { a.go.main href="/add" { "What is in tonight’s caddy?" } }
                p { a.row href="/put-right" { "Something wrong? The smallest thing that fixes it" } }
                @if let Some(days) = today.days_since_last { p.quiet { (last(days)) } }
            }
            section {
                @if !today.chambers.is_empty() {
                    h2 { "Inside the chambers" }
                    (ahead(known))
                    @if let Some(room) = room { a.row.ahead href="/season" { span { b { "The chambers" } ": " (room) } } }
                    (turned(today, noted_now))
                    @if today.chambers.iter().any(|c| c.state != "empty") {
                        p { a.row href="/check" { "Note what you saw inside" } }
                    }
                    div.drums {
                        @for chamber in &today.chambers { (drum::figure(chamber, browns)) }
                    }
                }
            }
            section {
                h2 { "Browns at hand" }
                @if today.stock.is_empty() { p { "None counted. Torn card and dry leaves are taken as at hand." } }
                @else { (stock::list(&today.stock, tongue)) }
                p { a.row href="/stock" { "Count the browns" } }
                @if !today.latest.is_empty() {
                    h2 { "Noted last" }
                    ul.plain {
                        @for line in &today.latest {
                            li {
                                span.quiet { (line.at) @if let Some(chamber) = &line.chamber { ", " (chamber) } }
                                br;
                                (noted(line, tongue))
                            }
                        }
                    }
                    p { a.row href="/log" { "All of the log" } }
                }
            }
        }
    }
}

/// What was turned today, and the button that notes a turning.
fn turned(today: &TodayAnswer, noted_now: bool) -> Markup {
    let names = words::list(&today.turned_today);
    html! {
        @if !names.is_empty() {
            @if noted_now {
                p.done role="status" { "Turned today: " (names) ". If that was a slip, the " a href="/log" { "log" } " takes it back." }
            } @else {
                p.quiet { "Turned today: " (names) "." }
            }
        }
        @if today.chambers.iter().any(|c| c.state != "empty") { (chamber::tend::turn(None)) }
    }
}

fn last(days: i64) -> String {
    match days {
        ..=0 => "The last caddy went in today.".into(),
        1 => "The last caddy went in yesterday.".into(),
        n => format!(
            "The last caddy went in {n} days ago. If others did since, the log takes them late."
        ),
    }
}
