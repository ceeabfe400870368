//! May I use it now?

mod forms;
mod view;

use axum::extract::State;
use axum::response::Response;
use desk::{Error, ReadyAnswer};

use super::_frame::form::Wrong;
use super::_frame::{Fields, Oops, Site, Tab, Typed, escaped, see, sentence};
use super::chamber::{Found, answered, without};
use crate::words::{self, Tongue};

const QUESTION: &str = "May I use it now?";

/// Address of this page for a chamber.
pub(crate) fn of(name: &str) -> String {
    format!("/ready?chamber={}", escaped(name))
}

pub(crate) async fn page(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    show(&site, &asked, &Typed::default()).await
}

/// The answer and the names of all chambers, or why there is none.
type Looked = (Result<ReadyAnswer, Found>, Vec<String>, Tongue);

async fn show(site: &Site, asked: &Fields, typed: &Typed) -> Result<Response, Oops> {
    let (name, noted) = (asked.owned("chamber"), asked.owned("noted"));
    let (found, names, tongue): Looked = site
        .ask(move |desk| {
            let names = desk.chambers()?.into_iter().map(|c| c.name).collect();
            let found = answered(name.as_deref(), desk.ready(name.as_deref(), None))?;
            Ok((found, names, Tongue::of(desk)))
        })
        .await?;
    match found {
        Ok(answer) => {
            let news = noted
                .as_deref()
                .and_then(|id| answer.tests.iter().find(|t| t.id == id));
            let body = view::page(&answer, news, typed, &names, tongue);
            let title = format!("May I use {} now?", answer.chamber);
            Ok(site.page_with(typed.status(), Tab::Chambers, &title, &body))
        }
        Err(found) => match without(&found, QUESTION, "/ready") {
            Some((status, body)) => Ok(site.page_with(status, Tab::Chambers, QUESTION, &body)),
            None => Err(Oops::Broke),
        },
    }
}

/// Notes a test, from whichever of the forms it came.
pub(crate) async fn note(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let tongue = site.tongue().await?;
    let form = forms::named(fields.get("form"));
    let text = match forms::words(form, &fields, tongue) {
        Ok(text) => text,
        Err(wrong) => return refused(&site, form, fields, wrong).await,
    };
    let (chamber, key) = (fields.owned("chamber"), fields.owned("key"));
    match site
        .ask(move |desk| desk.record_test(chamber.as_deref(), &text, key.as_deref()))
        .await
    {
        Ok(done) => Ok(see(&format!(
            "{}&noted={}",
            of(&done.chamber),
            escaped(&done.id)
        ))),
        Err(Oops::Desk(Error::NoChamber { .. })) => show(&site, &fields, &Typed::default()).await,
        Err(Oops::Desk(error @ (Error::BadSetting { .. } | Error::NothingUnderstood { .. }))) => {
            let wrong = Wrong {
                field: forms::field_of(form, &error),
                text: sentence(&words::refusal(&error, tongue)),
            };
            refused(&site, form, fields, wrong).await
        }
        Err(oops) => Err(oops),
    }
}

async fn refused(site: &Site, form: &str, fields: Fields, wrong: Wrong) -> Result<Response, Oops> {
    let asked = fields.clone();
    show(site, &asked, &Typed::wrong(form, fields, wrong)).await
}
