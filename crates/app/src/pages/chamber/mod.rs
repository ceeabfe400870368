//! What is it like inside this chamber?

mod course;
mod fill;
mod picture;
pub(crate) mod tend;
#[cfg(test)]
mod tests;
mod view;

use std::sync::Arc;

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use desk::{ChamberFacts, Desk, Error, ForecastAnswer, ForecastAsk};
use maud::{Markup, html};

use super::_frame::{Fields, Oops, Site, Tab, Typed, escaped, sentence};
use super::chambers::drum;
use crate::words::Tongue;

/// What is known of the chamber asked for.
#[derive(Debug)]
pub(crate) enum Found {
    /// Its forecast.
    Known(Box<ChamberFacts>, Arc<ForecastAnswer>),
    /// It is being worked out.
    Soon(String),
    /// There is none, and why.
    None(String),
    /// No chamber goes by this name.
    Nowhere(String),
}

/// An answer of the desk about a chamber, or why the page has none to show; other errors stay errors.
pub(crate) fn answered<T>(
    asked: Option<&str>,
    answer: Result<T, Error>,
) -> Result<Result<T, Found>, Error> {
    match answer {
        Ok(answer) => Ok(Ok(answer)),
        Err(Error::NoChamber { .. }) => {
            let asked: String = asked.unwrap_or_default().chars().take(60).collect();
            Ok(Err(Found::Nowhere(format!(
                "No chamber is called “{asked}”."
            ))))
        }
        Err(error @ Error::NothingToForecast { .. }) => {
            Ok(Err(Found::None(sentence(&error.to_string()))))
        }
        Err(error) => Err(error),
    }
}

/// The chamber by its name; the one that finishes if none is named, else the one that fills.
fn pick<'a>(chambers: &'a [ChamberFacts], asked: &str) -> Option<&'a ChamberFacts> {
    let asked = asked.trim();
    if !asked.is_empty() {
        let named = |c: &&ChamberFacts| c.name.to_lowercase() == asked.to_lowercase();
        return chambers
            .iter()
            .find(named)
            .or_else(|| chambers.iter().find(|c| c.id == asked));
    }
    let in_state = |state: &str| chambers.iter().find(|c| c.state == state);
    in_state("closed")
        .or_else(|| in_state("filling"))
        .or_else(|| chambers.first())
}

/// Looks a chamber up without ever waiting for its forecast.
pub(crate) fn find(desk: &Desk, asked: &str) -> Result<(Found, Vec<String>), Error> {
    let chambers = desk.chambers()?;
    let names = chambers.iter().map(|c| c.name.clone()).collect();
    let Some(chamber) = pick(&chambers, asked) else {
        let found = if chambers.is_empty() {
            Found::None("No chamber has a name yet. Name one on the household page first.".into())
        } else {
            let asked: String = asked.chars().take(60).collect();
            Found::Nowhere(format!("No chamber is called “{asked}”."))
        };
        return Ok((found, names));
    };
    if chamber.state == "empty" {
        return Ok((
            Found::None(format!(
                "{} is empty, so there is nothing to work out.",
                chamber.name
            )),
            names,
        ));
    }
    if let Some(known) = desk.forecast_if_known(&chamber.id) {
        return Ok((Found::Known(Box::new(chamber.clone()), known), names));
    }
    // One run tells at once whether there will be a forecast at all.
    let ask = ForecastAsk {
        chamber: Some(chamber.id.clone()),
        members: 1,
        moves: false,
        ..ForecastAsk::default()
    };
    Ok((
        match desk.forecast(&ask) {
            Ok(_) => Found::Soon(chamber.name.clone()),
            Err(error) => Found::None(sentence(&error.to_string())),
        },
        names,
    ))
}

/// A page that has no forecast to show, in a sentence.
pub(crate) fn without(found: &Found, question: &str, again: &str) -> Option<(StatusCode, Markup)> {
    let (status, big, text) = match found {
        Found::Known(..) => return None,
        Found::Soon(name) => (
            StatusCode::OK,
            format!("{name} is being worked out."),
            "That takes a few seconds after each change. Look again: the next look has it."
                .to_owned(),
        ),
        Found::None(why) => (StatusCode::OK, "Nothing to show yet.".into(), why.clone()),
        Found::Nowhere(why) => (StatusCode::NOT_FOUND, "Which chamber?".into(), why.clone()),
    };
    let body = html! {
        h1 { (question) }
        p.big { (big) }
        p { (text) }
        @if matches!(found, Found::Soon(_)) { p { a.go href=(again) { "Look again" } } }
        p { a.row href="/chambers" { "All chambers" } }
    };
    Some((status, body))
}

/// Address of the inside of a chamber.
pub(crate) fn inside_of(name: &str) -> String {
    format!("/chamber?name={}", escaped(name))
}

/// Links between the chambers of a page that shows one.
pub(crate) fn others(names: &[String], this: &str, address: impl Fn(&str) -> String) -> Markup {
    html! {
        @for name in names.iter().filter(|n| *n != this) {
            a.row href=(address(name)) { "The same for " (name) }
        }
    }
}

pub(crate) async fn page(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    show(&site, asked.get("name"), &Typed::default()).await
}

async fn show(site: &Site, asked: &str, typed: &Typed) -> Result<Response, Oops> {
    let name = asked.to_owned();
    let (found, names, tongue) = site
        .ask(move |desk| {
            let (found, names) = find(desk, &name)?;
            Ok((found, names, Tongue::of(desk)))
        })
        .await?;
    let question = "What is it like inside?";
    let again = inside_of(asked);
    if let Some((status, body)) = without(&found, question, &again) {
        // What was done can be noted while the rest is worked out.
        let soon = match &found {
            Found::Soon(name) => Some(name),
            _ => None,
        };
        let body = html! {
            (body)
            (typed.summary())
            @if let Some(name) = soon { (tend::turn(Some(name))) (tend::water(name, typed, tongue)) (tend::moving(name, &names, typed, tongue)) }
        };
        let status = if soon.is_some() {
            typed.status()
        } else {
            status
        };
        return Ok(site.page_with(status, Tab::Chambers, question, &body));
    }
    let Found::Known(chamber, known) = found else {
        return Err(Oops::Broke);
    };
    let browns = drum::browns(site, std::slice::from_ref(&chamber)).await?;
    let body = view::page(&chamber, &known, &browns, &names, (typed, tongue));
    let title = format!("Inside {}", chamber.name);
    Ok(site
        .page_with(typed.status(), Tab::Chambers, &title, &body)
        .into_response())
}
