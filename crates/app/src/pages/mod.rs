//! One folder or file a page: its handlers and its view.

mod _frame;
mod add;
mod chambers;
mod household;
mod log;
mod look;
mod more;
mod start;
mod stock;
#[cfg(test)]
mod tests;
mod today;
mod workings;

use std::sync::Arc;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use desk::Desk;

pub(crate) use _frame::guard::guard;
use _frame::{Site, problem};

/// Most bytes of a form; a long entry holds 4 kB (choice).
const MOST_BYTES: usize = 64 * 1024;
/// Most bytes of a log taken back in; ten years of entries are below it (choice).
const MOST_LOG_BYTES: usize = 16 * 1024 * 1024;

/// Every page of the program.
pub(crate) fn router(desk: Arc<Desk>) -> Router {
    let site = Site::new(desk);
    Router::new()
        .route("/", get(today::page))
        .route("/add", get(add::page).post(add::post))
        .route("/add/answer", get(add::answer))
        .route("/went-in", post(add::went_in))
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
        .route("/household/own", post(household::own))
        .route("/start", get(start::page))
        .route("/more", get(more::page))
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
        .with_state(site)
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
