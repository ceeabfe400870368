//! One folder or file a page: its handlers and its view.

mod _frame;
mod add;
mod chamber;
mod chambers;
mod check;
mod handover;
mod heat;
mod household;
mod log;
mod look;
mod more;
mod put_right;
mod ready;
mod season;
mod start;
mod stock;
#[cfg(test)]
mod tests;
mod today;
mod when;
mod workings;

use std::sync::Arc;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::extract::{DefaultBodyLimit, Request, State};
use axum::http::{HeaderValue, StatusCode, header};
use axum::middleware::{Next, from_fn_with_state};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use desk::Desk;

pub(crate) use _frame::guard::guard;
use _frame::{Site, problem};

use crate::words::{american_page, names};

/// Most bytes of a form; a long entry holds 4 kB (choice).
const MOST_BYTES: usize = 64 * 1024;
/// Most bytes of a log taken back in; ten years of entries are below it (choice).
const MOST_LOG_BYTES: usize = 16 * 1024 * 1024;

/// Most bytes of a pasted weather file; four years of days are below a tenth of it (choice).
const MOST_WEATHER_BYTES: usize = 4 * 1024 * 1024;

/// Every page of the program.
pub(crate) fn router(desk: Arc<Desk>) -> Router {
    let site = Site::new(desk);
    Router::new()
        .route("/", get(today::page))
        .route("/add", get(add::page).post(add::post))
        .route("/add/answer", get(add::answer))
        .route("/went-in", post(add::went_in))
        .route("/chamber", get(chamber::page))
        .route("/turned", post(chamber::tend::turned))
        .route("/watered", post(chamber::tend::watered))
        .route("/moved", post(chamber::tend::moved))
        .route("/chambers", get(chambers::page))
        .route("/chambers/close", post(chambers::close))
        .route("/chambers/empty", post(chambers::empty))
        .route("/chambers/part-full", post(chambers::part_full))
        .route("/look", get(look::page))
        .route("/stock", get(stock::page).post(stock::count))
        .route("/stock/none", post(stock::none))
        .route("/log", get(log::page).post(log::catch_up))
        .route("/log/correct", post(log::correct))
        .route("/log/export", get(log::export))
        .route(
            "/log/import",
            post(log::import).layer(DefaultBodyLimit::max(MOST_LOG_BYTES)),
        )
        .route("/undo", post(log::undo))
        .route("/workings", get(workings::page))
        .route("/household", get(household::page).post(household::settings))
        .route("/household/chamber", post(household::chamber))
        .route("/household/rules", post(household::rules::keep))
        .route("/household/own", post(household::own))
        .route(
            "/household/weather",
            post(household::weather).layer(DefaultBodyLimit::max(MOST_WEATHER_BYTES)),
        )
        .route("/start", get(start::page))
        .route("/when", get(when::page))
        .route("/ready", get(ready::page).post(ready::note))
        .route("/heat", get(heat::page))
        .route("/household/probe", post(household::probes::make))
        .route("/household/probe/revoke", post(household::probes::revoke))
        .route("/check", get(check::page).post(check::post))
        .route("/check/seen", get(check::seen))
        .route("/season", get(season::page))
        .route("/away", get(season::away))
        .route("/handover", get(handover::page))
        .route("/more", get(more::page))
        .route("/put-right", get(put_right::page).post(put_right::done))
        .route(
            "/static/style.css",
            get(|| {
                text(
                    "text/css; charset=utf-8",
                    include_str!("../assets/style.css"),
                )
            }),
        )
        .route(
            "/static/icon.svg",
            get(|| text("image/svg+xml", include_str!("../assets/icon.svg"))),
        )
        .fallback(nowhere)
        .method_not_allowed_fallback(wrong_way)
        .layer(DefaultBodyLimit::max(MOST_BYTES))
        .layer(from_fn_with_state(site.clone(), spoken))
        .layer(from_fn_with_state(site.clone(), _frame::shelf::shelf))
        .with_state(site)
}

/// A page in the words the household chose; anything that is no page passes as it is.
async fn spoken(State(site): State<Site>, request: Request, next: Next) -> Response {
    let answer = next.run(request).await;
    let is_page = answer
        .headers()
        .get(header::CONTENT_TYPE)
        .is_some_and(|kind| kind.as_bytes().starts_with(b"text/html"));
    if !is_page || !site.tongue().await.is_ok_and(|t| t.american) {
        return answer;
    }
    let (mut parts, body) = answer.into_parts();
    let read = to_bytes(body, MOST_LOG_BYTES).await.ok();
    let Some(page) = read.and_then(|bytes| String::from_utf8(bytes.to_vec()).ok()) else {
        return problem(
            StatusCode::INTERNAL_SERVER_ERROR,
            "The page came out too long to send.",
        );
    };
    let names = site.ask(|desk| Ok(names(desk))).await.unwrap_or_default();
    parts.headers.remove(header::CONTENT_LENGTH);
    Response::from_parts(parts, Body::from(american_page(&page, &names)))
}

async fn text(kind: &'static str, body: &'static str) -> Response {
    let mut answer = body.into_response();
    let headers = answer.headers_mut();
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(kind));
    headers.insert(
        header::CACHE_CONTROL,
        HeaderValue::from_static("max-age=600"),
    );
    answer
}

async fn nowhere() -> Response {
    problem(
        StatusCode::NOT_FOUND,
        "There is no such page. The bar below leads to those there are.",
    )
}

async fn wrong_way() -> Response {
    problem(
        StatusCode::METHOD_NOT_ALLOWED,
        "This address takes no such request. Use the form on its page.",
    )
}
