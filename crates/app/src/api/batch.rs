//! What a batch may be used for, what heat it had, and the year ahead: `GET /api/ready`, `/api/heat`, `/api/season`.

use std::sync::Arc;
use std::time::Instant;

use axum::extract::rejection::QueryRejection;
use axum::extract::{Query, State};
use axum::response::Response;
use desk::Desk;
use serde::Deserialize;

use super::{Answer, Shared, Wrong, on, usage};
use crate::cli::{heat, ready, season};

/// Which chamber.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Of {
    chamber: Option<String>,
}

/// The day compost is wanted.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Year {
    day: Option<jiff::civil::Date>,
}

/// What it may be used for now; chances are null until its forecast is worked out.
#[utoipa::path(get, path = "/api/ready",
    params(("chamber" = Option<String>, Query, description = "which chamber; else the one closed longest")),
    responses(
        (status = 200, body = Answer, description = "the answer"),
        (status = 404, body = Wrong, description = "no such chamber"),
        (status = 422, body = Wrong, description = "nothing in it"),
        (status = 500, body = Wrong, description = "failed")
    )
)]
pub(super) async fn ready(
    State(desk): Shared,
    query: Result<Query<Of>, QueryRejection>,
) -> Response {
    match query {
        Ok(Query(of)) => {
            let answer = move |d: &Desk| d.ready(of.chamber.as_deref(), None);
            on(desk, answer, ready::answer_value).await
        }
        Err(e) => usage(&e.body_text()),
    }
}

/// What heat was logged, beside published criteria.
#[utoipa::path(get, path = "/api/heat",
    params(("chamber" = Option<String>, Query, description = "which chamber; else the one closed longest")),
    responses(
        (status = 200, body = Answer, description = "the answer"),
        (status = 404, body = Wrong, description = "no such chamber"),
        (status = 422, body = Wrong, description = "nothing in it"),
        (status = 500, body = Wrong, description = "failed")
    )
)]
pub(super) async fn heat(
    State(desk): Shared,
    query: Result<Query<Of>, QueryRejection>,
) -> Response {
    match query {
        Ok(Query(of)) => {
            let answer = move |d: &Desk| d.heat(of.chamber.as_deref());
            on(desk, answer, heat::value).await
        }
        Err(e) => usage(&e.body_text()),
    }
}

/// The year ahead. It is waited for where it is not worked out yet: that takes some seconds, once.
#[utoipa::path(get, path = "/api/season",
    params(("day" = Option<String>, Query, format = Date, description = "when compost is wanted, as 2027-04-15")),
    responses(
        (status = 200, body = Answer, description = "the answer"),
        (status = 422, body = Wrong, description = "no such day, one that is past or too far, or no chamber"),
        (status = 500, body = Wrong, description = "failed")
    )
)]
pub(super) async fn season(
    State(desk): Shared,
    query: Result<Query<Year>, QueryRejection>,
) -> Response {
    let day = match query {
        Ok(Query(year)) => year.day,
        Err(e) => return usage(&e.body_text()),
    };
    let started = Instant::now();
    let answer = move |d: &Desk| match (day, d.season_if_known()) {
        (None, Some(known)) => Ok(known),
        (day, _) => d.season(day).map(Arc::new),
    };
    on(desk, answer, move |a| {
        season::value(a, started.elapsed().as_millis())
    })
    .await
}
