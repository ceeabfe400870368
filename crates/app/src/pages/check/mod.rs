//! What did I just see, and what does it mean?

mod view;

use axum::extract::State;
use axum::response::{IntoResponse, Response};

use super::_frame::form::Wrong;
use super::_frame::{Fields, Oops, Site, Tab, Typed, escaped, see};
use crate::words::Tongue;

const FORM: &str = "check";

/// Address of the look at a chamber.
pub(crate) fn of(name: &str) -> String {
    format!("/check?chamber={}", escaped(name))
}

pub(crate) async fn page(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    show(&site, Typed::new(FORM, asked)).await
}

async fn show(site: &Site, typed: Typed) -> Result<Response, Oops> {
    let asked = typed.get(FORM, "chamber").to_owned();
    let (chambers, tongue) = site
        .ask(|desk| Ok((desk.chambers()?, Tongue::of(desk))))
        .await?;
    let worth = {
        let holding: Vec<(String, String)> = chambers
            .iter()
            .filter(|c| c.state != "empty")
            .map(|c| (c.id.clone(), c.name.clone()))
            .collect();
        site.ask(move |desk| {
            Ok(holding
                .iter()
                .filter(|(_, name)| asked.is_empty() || *name == asked)
                .find_map(|(id, _)| desk.forecast_if_known(id)))
        })
        .await?
    };
    let body = view::page(&chambers, worth.as_deref(), &typed, tongue);
    Ok(site.page_with(typed.status(), Tab::Chambers, "Check", &body))
}

/// The choices and the words of the form, as one look.
fn look(fields: &Fields, tongue: Tongue) -> String {
    let mut parts: Vec<String> = Vec::new();
    for (name, say) in [
        ("squeeze", "squeeze"),
        ("card", "card"),
        ("smell", "smell"),
        ("warmth", "by hand"),
    ] {
        if let Some(word) = fields.some(name) {
            parts.push(format!("{say} {word}"));
        }
    }
    if let Some(fingers) = fields.some("fingers") {
        let unit = if fingers
            .chars()
            .all(|c| c.is_ascii_digit() || ",.".contains(c))
        {
            " fingers below the rim"
        } else {
            ""
        };
        parts.push(format!("level {fingers}{unit}"));
    }
    if let Some(degrees) = fields.some("degrees") {
        let bare = degrees
            .chars()
            .all(|c| c.is_ascii_digit() || "+-−,.".contains(c));
        let unit = match (bare, tongue.us) {
            (false, _) => "",
            (true, true) => " F",
            (true, false) => " C",
        };
        parts.push(format!("{degrees}{unit}"));
    }
    parts.extend(fields.owned("look"));
    parts.join(", ")
}

pub(crate) async fn post(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let tongue = site.tongue().await?;
    let text = look(&fields, tongue);
    if text.is_empty() {
        let wrong = Wrong {
            field: "look",
            text: "Choose what you saw, or write it in your own words.".into(),
        };
        return show(&site, Typed::wrong(FORM, fields, wrong)).await;
    }
    let (chamber, key) = (fields.owned("chamber"), fields.owned("key"));
    match site
        .ask(move |desk| desk.note_look(chamber.as_deref(), &text, key.as_deref()))
        .await
    {
        Ok(done) => Ok(see(&format!("/check/seen?id={}", escaped(&done.id)))),
        Err(oops) => {
            let field = match &oops {
                Oops::Desk(desk::Error::NoChamber { .. }) => "chamber",
                _ => "look",
            };
            show(&site, Typed::refused(FORM, fields, field, &oops)).await
        }
    }
}

/// What was noted, what it means, and what it changed as far as that is worked out.
pub(crate) async fn seen(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    let id = asked.get("id").to_owned();
    let (look, given, tongue) = site
        .ask(move |desk| {
            let look = desk.look_again(&id)?;
            let given = desk.given_before(&look.chamber_id, &id)?;
            Ok((look, given, Tongue::of(desk)))
        })
        .await?;
    let body = view::seen(&look, given.as_ref(), tongue);
    Ok(site
        .page(Tab::Chambers, "What it means", &body)
        .into_response())
}
