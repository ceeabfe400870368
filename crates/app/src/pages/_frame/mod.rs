//! What every page shares: the frame, the desk behind it, and how a failure looks.

pub(crate) mod form;
pub(crate) mod guard;
pub(crate) mod say;
pub(crate) mod shelf;

use std::sync::Arc;

use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use desk::{Desk, Error};
use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::words::{self, Tongue};

pub(crate) use form::{Fields, Input, Typed, key};
pub(crate) use say::{mark, number, sentence, why};

/// The desk, as the handlers share it.
#[derive(Clone)]
pub(crate) struct Site {
    desk: Arc<Desk>,
    shelf: Arc<shelf::Shelf>,
}

/// Why there is no page as asked.
#[derive(Debug)]
pub(crate) enum Oops {
    /// The desk says why.
    Desk(Error),
    /// The work broke off.
    Broke,
}

impl Oops {
    /// What it says, as a sentence.
    pub(crate) fn text(&self) -> String {
        match self {
            Self::Desk(error) => sentence(&words::refusal(error, Tongue::default())),
            Self::Broke => {
                "The work broke off. Nothing was recorded by this step. Try it again.".into()
            }
        }
    }

    pub(crate) fn status(&self) -> StatusCode {
        match self {
            Self::Desk(Error::NoSuchId(_) | Error::NoJournal) => StatusCode::NOT_FOUND,
            Self::Desk(error @ Error::Journal(_)) => crate::api::status(error),
            Self::Desk(Error::Catalogue(_)) | Self::Broke => StatusCode::INTERNAL_SERVER_ERROR,
            Self::Desk(_) => StatusCode::UNPROCESSABLE_ENTITY,
        }
    }
}

impl IntoResponse for Oops {
    fn into_response(self) -> Response {
        problem(self.status(), &self.text())
    }
}

impl Site {
    pub(crate) fn new(desk: Arc<Desk>) -> Self {
        Self {
            desk,
            shelf: Arc::default(),
        }
    }

    /// Asks the desk off the threads that serve; the journal blocks.
    pub(crate) async fn ask<T, F>(&self, question: F) -> Result<T, Oops>
    where
        T: Send + 'static,
        F: FnOnce(&Desk) -> Result<T, Error> + Send + 'static,
    {
        let desk = Arc::clone(&self.desk);
        match tokio::task::spawn_blocking(move || question(&desk)).await {
            Ok(answer) => answer.map_err(Oops::Desk),
            Err(_) => Err(Oops::Broke),
        }
    }

    /// How the household measures and spells.
    pub(crate) async fn tongue(&self) -> Result<Tongue, Oops> {
        self.ask(|desk| Ok(Tongue::of(desk))).await
    }

    /// A page in its frame.
    pub(crate) fn page(&self, tab: Tab, title: &str, body: &Markup) -> Html<String> {
        Html(frame(tab, title, self.desk.is_demo(), body).into_string())
    }

    /// A page with a status of its own, for a form that did not do.
    pub(crate) fn page_with(
        &self,
        status: StatusCode,
        tab: Tab,
        title: &str,
        body: &Markup,
    ) -> Response {
        (status, self.page(tab, title, body)).into_response()
    }
}

/// Entries of the bottom bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Tab {
    Today,
    Add,
    Chambers,
    Look,
    More,
}

const BAR: [(Tab, &str, &str, &str); 5] = [
    (Tab::Today, "/", "Today", "M4 11 12 4l8 7v9h-5v-6H9v6H4z"),
    (
        Tab::Add,
        "/add",
        "Add",
        "M5 8h14l-2 12H7zM8 8V5h8v3M12 11v6M9 14h6",
    ),
    (
        Tab::Chambers,
        "/chambers",
        "Chambers",
        "M12 4a8 8 0 1 0 .01 0zM4.5 14l3-2 3 2 3-2 3 2 3-2",
    ),
    (
        Tab::Look,
        "/look",
        "Look up",
        "M10 4a6 6 0 1 0 .01 0zM14.5 14.5 20 20",
    ),
    (Tab::More, "/more", "More", "M4 7h16M4 12h16M4 17h10"),
];

/// The frame: strip, page, bar. It works without a script.
pub(crate) fn frame(tab: Tab, title: &str, demo: bool, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en-GB" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) " – Loamwright" }
                link rel="stylesheet" href="/static/style.css";
                link rel="icon" href="/static/icon.svg" type="image/svg+xml";
            }
            body {
                a.skip href="#main" { "Skip to the page" }
                div.strip aria-hidden="true" { i {} }
                header {
                    span.name { "Loamwright" }
                    @if demo { p.demo { "Invented household. Nothing you note here is kept." } }
                }
                main #main { (body) }
                nav.bar aria-label="Main" {
                    @for (this, href, name, path) in BAR {
                        a href=(href) aria-current=[(this == tab).then_some("page")] {
                            svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true" focusable="false" {
                                path d=(path) {}
                            }
                            span { (name) }
                        }
                    }
                }
            }
        }
    }
}

/// A page that only says what is wrong.
pub(crate) fn problem(status: StatusCode, text: &str) -> Response {
    let body = html! {
        h1 { "That did not work" }
        p.wrong role="alert" { (text) }
        p { a.go href="/" { "Back to Today" } }
    };
    (
        status,
        Html(frame(Tab::More, "That did not work", false, &body).into_string()),
    )
        .into_response()
}

/// After a form: look at another page, so that a reload repeats nothing.
pub(crate) fn see(place: &str) -> Response {
    Redirect::to(place).into_response()
}

/// A part of a query, escaped.
pub(crate) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for byte in text.bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'_' | b'.' | b'~' => {
                out.push(char::from(byte))
            }
            b' ' => out.push('+'),
            other => {
                out.push('%');
                out.push_str(&format!("{other:02X}"));
            }
        }
    }
    out
}

/// Markup that holds nothing.
pub(crate) fn nothing() -> Markup {
    PreEscaped(String::new())
}
