//! The same answers over HTTP, as JSON: shapes as on the command line with `--json`.
//!
//! `GET /api/openapi.json` describes them; it is made from the handlers below, in [`batch`] and in [`readings`].
//!
//! `GET /api/look?q=` · `/api/mix?entry=` · `/api/dose?entry=&with=&chamber=&target=` · `/api/today` ·
//! `/api/fix?q=&chamber=` · `/api/ready?chamber=` · `/api/heat?chamber=` · `/api/season?day=` · `/api/log?most=` · `/api/why?id=`; `POST /api/add` with `{"entry","to","key"}` and
//! `POST /api/undo` with `{"id"}`; `POST /api/readings` takes the points of a probe. Errors: 403 refused, 404 no such
//! id, 409 a key used for something else, 413 too long, 422 not
//! understood or out of range, 500 otherwise; the body is the error of the command line.

mod batch;
pub(crate) mod readings;

use std::sync::Arc;

use axum::extract::rejection::{JsonRejection, QueryRejection};
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use axum::{Json, Router};
use desk::{Desk, DoseAsk, Error, PutRightAsk};
use serde::Deserialize;
use serde_json::Value;
use utoipa::{OpenApi as _, ToSchema};

use crate::cli::fix;
use crate::json;
use readings::Bearer;

type Shared = State<Arc<Desk>>;

/// The routes under `/api`.
pub(crate) fn router(desk: Arc<Desk>) -> Router {
    Router::new()
        .route("/api/look", get(look))
        .route("/api/mix", get(mix))
        .route("/api/dose", get(dose))
        .route("/api/today", get(today))
        .route("/api/fix", get(fix))
        .route("/api/ready", get(batch::ready))
        .route("/api/heat", get(batch::heat))
        .route("/api/season", get(batch::season))
        .route("/api/log", get(log))
        .route("/api/why", get(why))
        .route("/api/add", post(add))
        .route("/api/undo", post(undo))
        .route("/api/readings", post(readings::take))
        .route("/api/openapi.json", get(openapi))
        .method_not_allowed_fallback(wrong_way)
        .with_state(desk)
}

#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Ask {
    q: String,
    entry: String,
    with: Option<String>,
    chamber: Option<String>,
    target: Option<String>,
    most: Option<u32>,
    id: String,
}

/// Something went in.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
struct Add {
    /// What, in words.
    entry: String,
    /// Chamber.
    to: Option<String>,
    /// One-time key.
    key: Option<String>,
}

/// What to take back.
#[derive(Debug, Default, Deserialize, ToSchema)]
#[serde(deny_unknown_fields, default)]
struct Undo {
    /// Id of the entry; the last one if none is named.
    id: Option<String>,
}

/// An answer as of the command line with `--json`: its fields stand in docs/json.md.
#[derive(ToSchema)]
#[allow(dead_code, reason = "a shape for the description")]
struct Answer {
    /// `loamwright/<command>/1`.
    schema: String,
}

/// What went wrong.
#[derive(ToSchema)]
#[allow(dead_code, reason = "a shape for the description")]
struct Wrong {
    /// `loamwright/error/1`.
    schema: String,
    error: Reason,
}

/// Why.
#[derive(ToSchema)]
#[allow(dead_code, reason = "a shape for the description")]
struct Reason {
    /// A fixed word.
    kind: String,
    /// A sentence, with the way out.
    message: String,
}

/// The whole interface.
#[derive(utoipa::OpenApi)]
#[openapi(
    info(title = "Loamwright", description = "The same answers as on the command line, as JSON."),
    paths(
        look, mix, dose, fix, today, batch::ready, batch::heat, batch::season, log, why, add, undo, readings::take
    ),
    components(schemas(Answer, Wrong, Reason)),
    modifiers(&Bearer)
)]
struct Description;

async fn openapi() -> Response {
    Json(Description::openapi()).into_response()
}

async fn wrong_way() -> Response {
    said(
        StatusCode::METHOD_NOT_ALLOWED,
        "usage",
        "this address takes no such request; /api/openapi.json says what it takes",
    )
}

/// Runs a use case off the event loop: the journal waits for the disk.
async fn on<T: Send + 'static>(
    desk: Arc<Desk>,
    work: impl FnOnce(&Desk) -> Result<T, Error> + Send + 'static,
    tell: impl FnOnce(&T) -> Value,
) -> Response {
    match tokio::task::spawn_blocking(move || work(&desk)).await {
        Ok(Ok(answer)) => Json(tell(&answer)).into_response(),
        Ok(Err(e)) => (status(&e), Json(json::error(&e))).into_response(),
        Err(_) => said(
            StatusCode::INTERNAL_SERVER_ERROR,
            "failed",
            "the answer broke off; try again",
        ),
    }
}

pub(crate) fn status(e: &Error) -> StatusCode {
    match e {
        Error::Refused { .. } => StatusCode::FORBIDDEN,
        Error::NoSuchId(_) | Error::NothingToUndo | Error::NoChamber { .. } => {
            StatusCode::NOT_FOUND
        }
        Error::TooLong(_) => StatusCode::PAYLOAD_TOO_LARGE,
        Error::NoRoom { .. } | Error::OtherSensor { .. } => StatusCode::CONFLICT,
        Error::Journal(journal) if journal_conflict(journal) => StatusCode::CONFLICT,
        Error::Journal(journal) if no_entry(journal) => StatusCode::NOT_FOUND,
        Error::Journal(_) | Error::Catalogue(_) | Error::NoJournal => {
            StatusCode::INTERNAL_SERVER_ERROR
        }
        _ => StatusCode::UNPROCESSABLE_ENTITY,
    }
}

/// A key used twice, or an entry that is undone already: the asker's state is old.
fn journal_conflict(e: &impl std::fmt::Display) -> bool {
    let text = e.to_string();
    text.contains("one-time key") || text.contains("undone already")
}

/// No entry has that id, or it is none at all.
fn no_entry(e: &impl std::fmt::Display) -> bool {
    let text = e.to_string();
    text.contains("is not an event id") || text.starts_with("there is no entry ")
}

fn said(status: StatusCode, kind: &str, message: &str) -> Response {
    (status, Json(json::failure(kind, message))).into_response()
}

fn usage(message: &str) -> Response {
    said(StatusCode::UNPROCESSABLE_ENTITY, "usage", message)
}

macro_rules! asked {
    ($query:expr) => {
        match $query {
            Ok(Query(ask)) => ask,
            Err(e) => return usage(&e.body_text()),
        }
    };
}

#[utoipa::path(get, path = "/api/look",
    params(("q" = Option<String>, Query, description = "what it is, in words")),
    responses(
        (status = 200, body = Answer, description = "the answer"),
        (status = 422, body = Wrong, description = "not understood, or out of range"),
        (status = 413, body = Wrong, description = "too long"),
        (status = 500, body = Wrong, description = "failed")
    )
)]
async fn look(State(desk): Shared, query: Result<Query<Ask>, QueryRejection>) -> Response {
    let ask: Ask = asked!(query);
    on(desk, move |d| d.look_up(&ask.q), json::look).await
}

#[utoipa::path(get, path = "/api/mix",
    params(("entry" = Option<String>, Query, description = "what is in it, in words")),
    responses(
        (status = 200, body = Answer, description = "the answer"),
        (status = 422, body = Wrong, description = "not understood, or out of range"),
        (status = 413, body = Wrong, description = "too long"),
        (status = 500, body = Wrong, description = "failed")
    )
)]
async fn mix(State(desk): Shared, query: Result<Query<Ask>, QueryRejection>) -> Response {
    let ask: Ask = asked!(query);
    on(desk, move |d| d.mix(&ask.entry), json::mix).await
}

#[utoipa::path(get, path = "/api/dose",
    params(("entry" = Option<String>, Query, description = "what comes from the caddy"), ("with" = Option<String>, Query, description = "what is at hand"), ("chamber" = Option<String>, Query, description = "count what is in it too"), ("target" = Option<String>, Query, description = "water=60,cn=30")),
    responses(
        (status = 200, body = Answer, description = "the answer"),
        (status = 404, body = Wrong, description = "no such chamber"),
        (status = 422, body = Wrong, description = "not understood, or out of range"),
        (status = 413, body = Wrong, description = "too long"),
        (status = 500, body = Wrong, description = "failed")
    )
)]
async fn dose(State(desk): Shared, query: Result<Query<Ask>, QueryRejection>) -> Response {
    let ask: Ask = asked!(query);
    let ask = DoseAsk {
        text: ask.entry,
        with: ask.with,
        chamber: ask.chamber,
        target: ask.target,
    };
    on(
        desk,
        // What the card buys is told if it is known, never waited for.
        move |d| Ok((d.dose(&ask)?, d.card_if_known())),
        |(a, card)| json::dose_with(a, card.as_ref()),
    )
    .await
}

/// What is wrong; without `q` what may be noticed. It takes a forecast only if one is worked out.
#[utoipa::path(get, path = "/api/fix",
    params(("q" = Option<String>, Query, description = "what is noticed, in words"), ("chamber" = Option<String>, Query, description = "which chamber")),
    responses(
        (status = 200, body = Answer, description = "the answer"),
        (status = 404, body = Wrong, description = "no such chamber"),
        (status = 422, body = Wrong, description = "not understood, or out of range"),
        (status = 413, body = Wrong, description = "too long"),
        (status = 500, body = Wrong, description = "failed")
    )
)]
async fn fix(State(desk): Shared, query: Result<Query<Ask>, QueryRejection>) -> Response {
    let ask: Ask = asked!(query);
    if ask.q.trim().is_empty() {
        return Json(fix::list_value(&Desk::symptoms())).into_response();
    }
    let ask = PutRightAsk {
        symptom: ask.q,
        chamber: ask.chamber,
        wait: false,
    };
    on(desk, move |d| d.put_right(&ask), fix::value).await
}

#[utoipa::path(get, path = "/api/today",
    responses(
        (status = 200, body = Answer, description = "the answer"),
        (status = 500, body = Wrong, description = "failed")
    )
)]
async fn today(State(desk): Shared) -> Response {
    on(desk, Desk::today, json::today).await
}

#[utoipa::path(get, path = "/api/log",
    params(("most" = Option<u32>, Query, description = "how many entries")),
    responses(
        (status = 200, body = Answer, description = "the answer"),
        (status = 422, body = Wrong, description = "not understood, or out of range"),
        (status = 500, body = Wrong, description = "failed")
    )
)]
async fn log(State(desk): Shared, query: Result<Query<Ask>, QueryRejection>) -> Response {
    let ask: Ask = asked!(query);
    on(
        desk,
        move |d| d.log(ask.most.unwrap_or(20), None),
        |lines| json::log(lines),
    )
    .await
}

#[utoipa::path(get, path = "/api/why",
    params(("id" = Option<String>, Query, description = "id beside a number")),
    responses(
        (status = 200, body = Answer, description = "the answer"),
        (status = 404, body = Wrong, description = "no such id"),
        (status = 422, body = Wrong, description = "not understood, or out of range"),
        (status = 500, body = Wrong, description = "failed")
    )
)]
async fn why(State(desk): Shared, query: Result<Query<Ask>, QueryRejection>) -> Response {
    let ask: Ask = asked!(query);
    on(desk, move |d| d.why(&ask.id), json::why).await
}

#[utoipa::path(post, path = "/api/add",
    request_body = Add,
    responses(
        (status = 200, body = Answer, description = "the answer"),
        (status = 403, body = Wrong, description = "stays out of any compost"),
        (status = 404, body = Wrong, description = "no such chamber"),
        (status = 409, body = Wrong, description = "a key used for something else, or no room"),
        (status = 413, body = Wrong, description = "too long"),
        (status = 422, body = Wrong, description = "not understood, or out of range"),
        (status = 500, body = Wrong, description = "failed")
    )
)]
async fn add(State(desk): Shared, body: Result<Json<Add>, JsonRejection>) -> Response {
    match body {
        Ok(Json(it)) => {
            on(
                desk,
                move |d| d.add(&it.entry, it.to.as_deref(), it.key.as_deref()),
                json::add,
            )
            .await
        }
        Err(e) => usage(&e.body_text()),
    }
}

#[utoipa::path(post, path = "/api/undo",
    request_body = Undo,
    responses(
        (status = 200, body = Answer, description = "the answer"),
        (status = 403, body = Wrong, description = "from another site"),
        (status = 404, body = Wrong, description = "no such entry"),
        (status = 409, body = Wrong, description = "undone already"),
        (status = 422, body = Wrong, description = "not understood, or out of range"),
        (status = 500, body = Wrong, description = "failed")
    )
)]
async fn undo(State(desk): Shared, body: Result<Json<Undo>, JsonRejection>) -> Response {
    match body {
        Ok(Json(it)) => on(desk, move |d| d.undo(it.id.as_deref(), None), json::undo).await,
        Err(e) => usage(&e.body_text()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::body::{Body, to_bytes};
    use axum::http::Request;
    use tower::ServiceExt as _;

    async fn ask(router: &Router, request: Request<Body>) -> (StatusCode, Value) {
        let answer = router.clone().oneshot(request).await.unwrap();
        let status = answer.status();
        let body = to_bytes(answer.into_body(), 1 << 22).await.unwrap();
        (status, serde_json::from_slice(&body).unwrap())
    }

    fn get_of(uri: &str) -> Request<Body> {
        Request::get(uri).body(Body::empty()).unwrap()
    }

    fn post_of(uri: &str, body: &str) -> Request<Body> {
        Request::post(uri)
            .header("content-type", "application/json")
            .body(Body::from(body.to_owned()))
            .unwrap()
    }

    #[tokio::test]
    async fn the_same_answers_as_on_the_command_line() {
        let router = router(Arc::new(Desk::demo().unwrap()));
        for (uri, schema) in [
            ("/api/look?q=egg%20shells", "loamwright/look/1"),
            ("/api/mix?entry=full%20caddy", "loamwright/mix/1"),
            (
                "/api/dose?entry=full%20caddy&with=torn%20card",
                "loamwright/dose/1",
            ),
            ("/api/today", "loamwright/today/1"),
            ("/api/ready?chamber=Far", "loamwright/ready/1"),
            ("/api/heat?chamber=Far", "loamwright/heat/1"),
            ("/api/season", "loamwright/season/1"),
            ("/api/season?day=2027-05-01", "loamwright/season/1"),
            ("/api/log?most=3", "loamwright/log/1"),
            ("/api/why?id=mix.cn", "loamwright/why/1"),
        ] {
            let (status, value) = ask(&router, get_of(uri)).await;
            assert_eq!(status, StatusCode::OK, "{uri}: {value}");
            assert_eq!(value["schema"], schema);
        }
    }

    #[tokio::test]
    async fn one_entry_for_a_key_and_words_for_what_is_wrong() {
        let router = router(Arc::new(Desk::demo().unwrap()));
        let body = r#"{"entry":"full caddy","key":"k1"}"#;
        let (status, one) = ask(&router, post_of("/api/add", body)).await;
        assert_eq!(status, StatusCode::OK, "{one}");
        let (_, two) = ask(&router, post_of("/api/add", body)).await;
        assert_eq!(one["id"], two["id"]);
        let (status, value) = ask(
            &router,
            post_of("/api/add", r#"{"entry":"half a caddy","key":"k1"}"#),
        )
        .await;
        assert_eq!(status, StatusCode::CONFLICT, "{value}");
        let (status, _) = ask(&router, post_of("/api/undo", "{}")).await;
        assert_eq!(status, StatusCode::OK);
        for (request, expected) in [
            (
                post_of("/api/add", r#"{"entry":"dog poo"}"#),
                StatusCode::FORBIDDEN,
            ),
            (
                post_of("/api/add", r#"{"entry":"wibbles"}"#),
                StatusCode::UNPROCESSABLE_ENTITY,
            ),
            (
                post_of("/api/add", r#"{"entry":1}"#),
                StatusCode::UNPROCESSABLE_ENTITY,
            ),
            (get_of("/api/why?id=none"), StatusCode::NOT_FOUND),
            (get_of("/api/ready?chamber=Attic"), StatusCode::NOT_FOUND),
            (get_of("/api/heat?chamber=Attic"), StatusCode::NOT_FOUND),
            (
                get_of("/api/season?day=soon"),
                StatusCode::UNPROCESSABLE_ENTITY,
            ),
            (
                get_of("/api/season?day=2026-01-01"),
                StatusCode::UNPROCESSABLE_ENTITY,
            ),
            (
                get_of("/api/dose?entry=full%20caddy&target=x"),
                StatusCode::UNPROCESSABLE_ENTITY,
            ),
        ] {
            let (status, value) = ask(&router, request).await;
            assert_eq!(status, expected, "{value}");
            assert!(
                value["error"]["message"]
                    .as_str()
                    .is_some_and(|m| !m.is_empty())
            );
        }
    }
}
