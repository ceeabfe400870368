//! Probes that send readings by themselves: making one known, its token once, where it seems to be.

use axum::extract::State;
use axum::response::{IntoResponse, Response};
use desk::{ChamberFacts, ProbePlace, SensorFacts};
use maud::{Markup, html};

use crate::pages::_frame::{Fields, Input, Oops, Site, Tab, Typed, see};
use crate::words::{Tongue, inside::degrees};

pub(super) const PROBE: &str = "probe";

/// Makes a probe known. The token is in this one answer and nowhere else, so no other page is led to.
pub(crate) async fn make(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let (name, chamber) = (
        fields.get("name").to_owned(),
        fields.get("chamber").to_owned(),
    );
    let shown = name.clone();
    match site.ask(move |desk| desk.add_sensor(&name, &chamber)).await {
        Ok(token) => Ok(site
            .page(Tab::More, "A probe is known", &token_of(&shown, &token))
            .into_response()),
        Err(oops) => {
            let typed = Typed::refused(PROBE, fields, "name", &oops);
            super::show(&site, typed, &[]).await
        }
    }
}

/// Takes a token back.
pub(crate) async fn revoke(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let name = fields.get("name").to_owned();
    match site.ask(move |desk| desk.revoke_sensor(&name)).await {
        Ok(()) => Ok(see("/household?done=kept")),
        Err(Oops::Desk(desk::Error::NoSuchId(_))) => Ok(see("/household")),
        Err(oops) => Err(oops),
    }
}

fn token_of(name: &str, token: &str) -> Markup {
    html! {
        h1 { "The token of " span translate="no" { (name) } }
        p { "Copy it now into the program that reads the probe. It is shown this once and kept nowhere." }
        p.big.token translate="no" { code { (token) } }
        p { "Send points as JSON to /api/readings, with the header Authorization: Bearer and the token." }
        p { "Lost it? Make the probe known again under the same name: it gets a new token." }
        p { a.go href="/household" { "Back to the household" } }
    }
}

fn place(place: ProbePlace) -> &'static str {
    match place {
        ProbePlace::Heap => "It touches the heap: it hardly follows the air’s day.",
        ProbePlace::Air => {
            "It seems to hang in the air: it follows the air’s day. Push it in deeper."
        }
        ProbePlace::CannotTell => {
            "Whether it touches the heap cannot be told yet: that takes three days."
        }
    }
}

pub(super) fn section(
    sensors: &[SensorFacts],
    chambers: &[ChamberFacts],
    typed: &Typed,
    tongue: Tongue,
) -> Markup {
    html! {
        h2 #probes { "Probes" }
        @if sensors.is_empty() { p { "None. A thermometer that can send its readings saves you the looking." } }
        @else {
            ul.plain {
                @for s in sensors {
                    li {
                        p { b translate="no" { (s.name) } @if let Some(chamber) = &s.chamber { " in " (chamber) }
                            @match &s.last { Some((at, c)) => { ": " (degrees(*c, tongue)) ", " (at) } None => { ": nothing yet" } } }
                        p { (place(s.place)) }
                        @if s.set_aside > 0 { p.flag.hollow { (s.set_aside) " of its points cannot be and do not count." } }
                        form method="post" action="/household/probe/revoke" {
                            input type="hidden" name="name" value=(s.name);
                            button.small { "Take its token back" span.unseen { ": " (s.name) } }
                        }
                    }
                }
            }
        }
        @if !chambers.is_empty() {
            form method="post" action="/household/probe" {
                div.fields {
                    (Input::new(PROBE, "name", "Name of a probe").hint("As: core-1. A name there is gets a new token.").draw(typed))
                    div.field {
                        label for="probe-chamber" { "In which chamber?" }
                        select id="probe-chamber" name="chamber" {
                            @for c in chambers { option value=(c.name) { (c.name) } }
                        }
                    }
                }
                button { "Make it known" }
            }
        }
    }
}
