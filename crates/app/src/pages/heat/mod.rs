//! What heat was logged in this batch? A record to print.

mod view;

use axum::extract::State;
use axum::response::{IntoResponse, Response};

use super::_frame::{Fields, Oops, Site, Tab, escaped};
use super::chamber::{answered, without};
use crate::words::Tongue;

const QUESTION: &str = "What heat was logged?";

/// Address of the heat record of a chamber.
pub(crate) fn of(name: &str) -> String {
    format!("/heat?name={}", escaped(name))
}

pub(crate) async fn page(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    let name = asked.owned("name");
    let (found, names, tongue) = site
        .ask(move |desk| {
            let names: Vec<String> = desk.chambers()?.into_iter().map(|c| c.name).collect();
            let found = answered(name.as_deref(), desk.heat(name.as_deref()))?;
            Ok((found, names, Tongue::of(desk)))
        })
        .await?;
    match found {
        Ok(answer) => {
            let body = view::page(&answer, &names, tongue);
            let title = format!("Heat record of {}", answer.chamber);
            Ok(site.page(Tab::Chambers, &title, &body).into_response())
        }
        Err(found) => match without(&found, QUESTION, "/heat") {
            Some((status, body)) => Ok(site.page_with(status, Tab::Chambers, QUESTION, &body)),
            None => Err(Oops::Broke),
        },
    }
}
