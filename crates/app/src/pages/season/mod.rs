//! Will there be room, and compost when beds want it? And going away.

mod strip;
mod view;

use axum::extract::State;
use axum::response::{IntoResponse, Response};
use jiff::civil::Date;

use super::_frame::form::Wrong;
use super::_frame::{Fields, Oops, Site, Tab, Typed};
use crate::words::Tongue;

const QUESTION: &str = "Will there be room?";

/// A day as the field gives it.
fn day(fields: &Fields, name: &'static str) -> Result<Option<Date>, Wrong> {
    let Some(text) = fields.some(name) else {
        return Ok(None);
    };
    text.parse().map(Some).map_err(|_| Wrong {
        field: name,
        text: format!("“{text}” is not a day. Write it as 2027-04-15."),
    })
}

pub(crate) async fn page(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    let (known, chambers, tongue) = site
        .ask(|desk| {
            Ok((
                desk.season_if_known(),
                desk.chambers()?.len(),
                Tongue::of(desk),
            ))
        })
        .await?;
    let Some(known) = known else {
        let body = view::soon(chambers);
        return Ok(site.page(Tab::More, QUESTION, &body).into_response());
    };
    let mut typed = Typed::new("for", asked.clone());
    let mut answer = known;
    match day(&asked, "day") {
        Ok(None) => {}
        Ok(Some(by)) => match site.ask(move |desk| desk.season(Some(by))).await {
            Ok(with) => answer = std::sync::Arc::new(with),
            Err(oops @ Oops::Desk(desk::Error::BadSetting { .. })) => {
                typed = Typed::refused("for", asked, "day", &oops);
            }
            Err(oops) => return Err(oops),
        },
        Err(wrong) => typed = Typed::wrong("for", asked, wrong),
    }
    let body = view::page(&answer, &typed, tongue);
    Ok(site
        .page_with(typed.status(), Tab::More, QUESTION, &body)
        .into_response())
}

pub(crate) async fn away(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    let title = "Going away";
    let tongue = site.tongue().await?;
    let typed = Typed::new("away", asked.clone());
    let refused = |typed: Typed| {
        let body = view::away(None, &typed, tongue);
        site.page_with(typed.status(), Tab::More, title, &body)
            .into_response()
    };
    let (from, to) = match (day(&asked, "from"), day(&asked, "to")) {
        (Ok(Some(from)), Ok(Some(to))) => (from, to),
        (Ok(None), Ok(None)) => return Ok(refused(typed)),
        (Err(wrong), _) | (_, Err(wrong)) => {
            return Ok(refused(Typed::wrong("away", asked, wrong)));
        }
        (Ok(from), Ok(_)) => {
            let field = if from.is_none() { "from" } else { "to" };
            let text = "Give both days: the first away, and the one you are back.".into();
            return Ok(refused(Typed::wrong("away", asked, Wrong { field, text })));
        }
    };
    match site.ask(move |desk| desk.away(from, to, false)).await {
        Ok(answer) => {
            let body = view::away(Some(&answer), &typed, tongue);
            Ok(site.page(Tab::More, title, &body).into_response())
        }
        Err(oops @ Oops::Desk(desk::Error::BadSetting { .. })) => {
            let field = if oops.text().starts_with("First") {
                "from"
            } else {
                "to"
            };
            Ok(refused(Typed::refused("away", asked, field, &oops)))
        }
        Err(oops) => Err(oops),
    }
}
