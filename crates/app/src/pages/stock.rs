//! Are there browns enough?

use axum::extract::State;
use axum::response::{IntoResponse, Response};
use desk::StockLine;
use maud::{Markup, html};

use super::_frame::{Fields, Input, Oops, Site, Tab, Typed, mark, see};
use crate::words::Tongue;

const FORM: &str = "stock";

pub(crate) async fn page(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    show(&site, Typed::default(), asked.get("done") == "counted").await
}

async fn show(site: &Site, typed: Typed, done: bool) -> Result<Response, Oops> {
    let (stock, tongue) = site
        .ask(|desk| Ok((desk.stock()?, Tongue::of(desk))))
        .await?;
    let status = typed.status();
    Ok(site
        .page_with(
            status,
            Tab::More,
            "Browns at hand",
            &view(&stock, &typed, done, tongue),
        )
        .into_response())
}

pub(crate) async fn count(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let (text, key) = (fields.get("text").to_owned(), fields.owned("key"));
    match site
        .ask(move |desk| desk.count_stock(&text, key.as_deref()))
        .await
    {
        Ok(_) => Ok(see("/stock?done=counted")),
        Err(oops) => show(&site, Typed::refused(FORM, fields, "text", &oops), false).await,
    }
}

pub(crate) async fn none(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let (material, key) = (fields.get("material").to_owned(), fields.owned("key"));
    site.ask(move |desk| desk.no_stock(&material, key.as_deref()))
        .await?;
    Ok(see("/stock?done=counted"))
}

fn view(stock: &[StockLine], typed: &Typed, done: bool, tongue: Tongue) -> Markup {
    html! {
        h1 { "Are there browns enough?" }
        (typed.summary())
        @if done { p.done role="status" { "Counted. If that was a slip, the " a href="/log" { "log" } " takes it back." } }
        div.cols {
            section {
                @if stock.is_empty() {
                    p { "No browns counted yet. Until then, torn card and dry leaves are taken as at hand, with no end." }
                } @else {
                    ul.plain {
                        @for line in stock {
                            li.split {
                                (one(line, tongue))
                                @if line.litres != Some(0.0) {
                                    form method="post" action="/stock/none" {
                                        input type="hidden" name="material" value=(line.material);
                                        (Typed::default().key("none"))
                                        button.small { "Used up" span.unseen { ": " (line.name) } }
                                    }
                                }
                            }
                        }
                    }
                }
            }
            section {
                form method="post" action="/stock" {
                    (typed.key(FORM))
                    (Input::new(FORM, "text", "What is there now?")
                        .hint(if tongue.us { "As: torn card 5 gallons, a sack of dry leaves. It replaces the last count of each." }
                            else { "As: torn card 20 L, a sack of dry leaves. It replaces the last count of each." })
                        .draw(typed))
                    button.main { "Count it" }
                }
                p { "Lay in leaves in autumn: dry, in a sack or wire basket. Card keeps dry indoors." }
            }
        }
    }
}

fn one(line: &StockLine, tongue: Tongue) -> Markup {
    html! {
        span.portion {
            (mark("dries"))
            span { b { (line.name) } br; (much(line, tongue)) }
        }
    }
}

/// Stock as a list to read.
pub(crate) fn list(stock: &[StockLine], tongue: Tongue) -> Markup {
    html! { ul.plain { @for line in stock { li { (one(line, tongue)) } } } }
}

fn much(line: &StockLine, tongue: Tongue) -> String {
    match (line.litres, line.kg) {
        (Some(0.0), _) => "used up".into(),
        (Some(litres), _) if litres < 10.0 || tongue.us => {
            format!("about {}", tongue.size(litres))
        }
        (Some(litres), _) => format!("about {:.0} L", (litres / 5.0).round() * 5.0),
        (None, Some(kg)) => format!("about {}", tongue.weight(kg)),
        (None, None) => "plenty".into(),
    }
}
