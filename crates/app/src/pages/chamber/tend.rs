//! Noting what was done to a chamber: turned, watered.

use axum::extract::State;
use axum::response::Response;
use maud::{Markup, html};

use super::show;
use crate::pages::_frame::{Fields, Input, Oops, Site, Typed, escaped, key, see};
use crate::words::{self, Tongue};

pub(super) const WATER: &str = "water";
pub(super) const MOVE: &str = "move";

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

/// Some went into another chamber: the button says which.
pub(crate) async fn moved(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let (from, to) = (
        fields.get("chamber").to_owned(),
        fields.get("to").to_owned(),
    );
    let amount = fields.get("amount").to_owned();
    let (name, key) = (from.clone(), fields.owned("key"));
    match site
        .ask(move |desk| desk.move_some(&from, &to, &amount, key.as_deref()))
        .await
    {
        Ok(done) => Ok(noted(&done.id)),
        Err(oops) => show(&site, &name, &Typed::refused(MOVE, fields, "amount", &oops)).await,
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

/// Moving some into another chamber; nothing where there is no other.
pub(super) fn moving(chamber: &str, names: &[String], typed: &Typed, tongue: Tongue) -> Markup {
    let hint = if tongue.us {
        "As: half, a third, a quarter, all, or 40 %."
    } else {
        "As: half, a third, a quarter, all, or 30 L."
    };
    let others: Vec<&String> = names.iter().filter(|name| *name != chamber).collect();
    html! {
        @if !others.is_empty() {
            details open[typed.open(MOVE)] {
                summary { "Some of it went into another chamber" }
                p { (words::MOVING_CARE) }
                form.tend method="post" action="/moved" {
                    input type="hidden" name="chamber" value=(chamber);
                    (typed.key(MOVE))
                    (Input::new(MOVE, "amount", "How much of it").usual("half").hint(hint).draw(typed))
                    @for other in others {
                        button name="to" value=(other) { "It went into " (other) }
                    }
                }
            }
        }
    }
}
