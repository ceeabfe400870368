//! When can I use it, and for what?

mod dots;
mod view;

use axum::extract::State;
use axum::response::{IntoResponse, Response};

use super::_frame::{Fields, Oops, Site, Tab, escaped};
use super::chamber::{Found, find, without};
use crate::words::Tongue;
pub(crate) use view::tally;

/// Address of the forecast of a chamber.
pub(crate) fn of(name: &str) -> String {
    format!("/when?chamber={}", escaped(name))
}

pub(crate) async fn page(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    let name = asked.get("chamber").to_owned();
    let (found, names, tongue) = site
        .ask(move |desk| {
            let (found, names) = find(desk, &name)?;
            Ok((found, names, Tongue::of(desk)))
        })
        .await?;
    let question = "When can I use it?";
    if let Some((status, body)) = without(&found, question, &of(asked.get("chamber"))) {
        return Ok(site.page_with(status, Tab::Chambers, question, &body));
    }
    let Found::Known(_, known) = found else {
        return Err(Oops::Broke);
    };
    let body = view::page(&known, asked.get("rung"), &names, tongue);
    let title = format!("When can I use {}?", known.chamber);
    Ok(site.page(Tab::Chambers, &title, &body).into_response())
}
