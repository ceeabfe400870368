//! Noting what was done to a chamber: turned, watered.

use axum::extract::State;
use axum::response::Response;
use maud::{Markup, html};

use super::show;
use crate::pages::_frame::{Fields, Input, Oops, Site, Typed, escaped, key, see};
use crate::words::Tongue;

pub(super) const WATER: &str = "water";

/// One tap: it was turned. Without a chamber it is all that hold something, as from Today.
pub(crate) async fn turned(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let (chamber, key) = (fields.owned("chamber"), fields.owned("key"));
    let all = chamber.is_none();
    let done = site
        .ask(move |desk| desk.turned(chamber.as_deref(), key.as_deref()))
        .await?;
    Ok(match done.ids.first() {
        Some(id) if !all => noted(id),
        _ => see("/?done=turned"),
    })
}

pub(crate) async fn watered(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let (chamber, amount) = (
        fields.get("chamber").to_owned(),
        fields.get("amount").to_owned(),
    );
    let (name, key) = (chamber.clone(), fields.owned("key"));
    match site
        .ask(move |desk| desk.watered(&chamber, &amount, key.as_deref()))
        .await
    {
        Ok(done) => Ok(noted(done.ids.first().map_or("", |id| id))),
        Err(oops) => {
            show(
                &site,
                &name,
                &Typed::refused(WATER, fields, "amount", &oops),
            )
            .await
        }
    }
}

fn noted(id: &str) -> Response {
    see(&format!("/log?noted={}", escaped(id)))
}

/// The button that notes a turning; without a chamber for all that hold something.
pub(crate) fn turn(chamber: Option<&str>) -> Markup {
    html! {
        form.tend method="post" action="/turned" {
            @if let Some(name) = chamber { input type="hidden" name="chamber" value=(name); }
            input type="hidden" name="key" value=(key());
            button { "Turned it" @if let Some(name) = chamber { span.unseen { ": " (name) } } }
        }
    }
}

pub(super) fn water(chamber: &str, typed: &Typed, tongue: Tongue) -> Markup {
    let hint = if tongue.us {
        "As: 2 quarts, or half a bucket."
    } else {
        "As: 2 L, or half a bucket."
    };
    html! {
        form.tend method="post" action="/watered" {
            input type="hidden" name="chamber" value=(chamber);
            (typed.key(WATER))
            (Input::new(WATER, "amount", "Water you poured in").hint(hint).draw(typed))
            button { "Watered it" }
        }
    }
}
