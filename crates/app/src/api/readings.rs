//! Points of a probe: `POST /api/readings` with the token of the probe.
//!
//! The token lets a request through, not its origin: another site cannot send it without being asked first, and that
//! question is never answered with a yes.

use std::sync::Arc;

use axum::Json;
use axum::extract::State;
use axum::extract::rejection::JsonRejection;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use desk::{Desk, SensorPoint};
use serde::Deserialize;
use utoipa::openapi::security::{HttpAuthScheme, HttpBuilder, SecurityScheme};
use utoipa::{Modify, ToSchema};

use super::{Answer, Wrong, said, status};
use crate::json;

/// One point of a probe.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Point {
    /// Name of the probe, as it was made known.
    #[schema(example = "core-1")]
    sensor: String,
    /// When, as `2026-09-18T12:00:00Z`.
    #[schema(value_type = String, format = DateTime)]
    at: jiff::Timestamp,
    /// °C.
    #[schema(example = 41.2)]
    celsius: f64,
}

/// The token of a probe, as a way in.
pub(super) struct Bearer;

impl Modify for Bearer {
    fn modify(&self, api: &mut utoipa::openapi::OpenApi) {
        let scheme = HttpBuilder::new().scheme(HttpAuthScheme::Bearer).build();
        if let Some(parts) = api.components.as_mut() {
            parts.add_security_scheme("probe", SecurityScheme::Http(scheme));
        }
    }
}

/// The token a request carries.
pub(crate) fn token(headers: &HeaderMap) -> Option<&str> {
    headers
        .get(header::AUTHORIZATION)?
        .to_str()
        .ok()?
        .strip_prefix("Bearer ")
        .map(str::trim)
}

/// Takes points in. A point sent twice is one; of each hour its median is kept.
#[utoipa::path(post, path = "/api/readings",
    request_body = Vec<Point>,
    security(("probe" = [])),
    responses(
        (status = 202, body = Answer, description = "taken in: how many were new, known or set aside"),
        (status = 401, body = Wrong, description = "no token, or one that is not known"),
        (status = 403, body = Wrong, description = "from another site"),
        (status = 409, body = Wrong, description = "the token belongs to another probe"),
        (status = 413, body = Wrong, description = "too long"),
        (status = 422, body = Wrong, description = "not a list of points, or a time that lies ahead"),
        (status = 500, body = Wrong, description = "failed")
    )
)]
pub(super) async fn take(
    State(desk): State<Arc<Desk>>,
    headers: HeaderMap,
    body: Result<Json<Vec<Point>>, JsonRejection>,
) -> Response {
    let Some(token) = token(&headers).map(str::to_owned) else {
        return unknown("send the token of the probe as `Authorization: Bearer …`");
    };
    let known = {
        let desk = Arc::clone(&desk);
        tokio::task::spawn_blocking(move || desk.sensor_of(&token)).await
    };
    let sensor = match known {
        Ok(Ok(Some(sensor))) => sensor,
        Ok(Ok(None)) => {
            return unknown("this token is not known; the household page makes a new one");
        }
        Ok(Err(e)) => return (status(&e), Json(json::error(&e))).into_response(),
        Err(_) => return broke(),
    };
    let points: Vec<SensorPoint> = match body {
        Ok(Json(points)) => points
            .into_iter()
            .map(|p| SensorPoint {
                sensor: p.sensor,
                at: p.at,
                celsius: p.celsius,
            })
            .collect(),
        Err(e) if e.status() == StatusCode::PAYLOAD_TOO_LARGE => {
            return said(
                StatusCode::PAYLOAD_TOO_LARGE,
                "too_long",
                "a batch holds 2 MB at most; send it in parts",
            );
        }
        Err(e) => return super::usage(&e.body_text()),
    };
    match tokio::task::spawn_blocking(move || desk.take_points(&sensor, &points)).await {
        Ok(Ok(sent)) => {
            let told = serde_json::json!({
                "schema": "loamwright/readings/1", "taken": sent.taken, "known": sent.known,
                "set_aside": sent.set_aside, "hours": sent.hours,
            });
            (StatusCode::ACCEPTED, Json(told)).into_response()
        }
        Ok(Err(e)) => (status(&e), Json(json::error(&e))).into_response(),
        Err(_) => broke(),
    }
}

fn unknown(message: &str) -> Response {
    let mut answer = said(StatusCode::UNAUTHORIZED, "no_token", message);
    answer.headers_mut().insert(
        header::WWW_AUTHENTICATE,
        header::HeaderValue::from_static("Bearer"),
    );
    answer
}

fn broke() -> Response {
    said(
        StatusCode::INTERNAL_SERVER_ERROR,
        "failed",
        "the answer broke off; try again",
    )
}
