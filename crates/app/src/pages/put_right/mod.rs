//! What is wrong, and what is the smallest thing that fixes it?

mod view;

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use desk::{Desk, Error, PutRightAsk, PutRightDone};

use super::_frame::form::Wrong;
use super::_frame::{Fields, Oops, Site, Tab, Typed, escaped, see};
use crate::words::Tongue;

/// Most letters of a text that the form hands back for the log (choice).
const MOST_TEXT: usize = 300;

/// Address of the question for a chamber.
pub(crate) fn of(chamber: &str) -> String {
    format!("/put-right?chamber={}", escaped(chamber))
}

/// Address of an answer.
pub(crate) fn answer_of(symptom: &str, chamber: Option<&str>) -> String {
    let about = chamber.map_or_else(String::new, |c| format!("&chamber={}", escaped(c)));
    format!("/put-right?symptom={}{about}", escaped(symptom))
}

pub(crate) async fn page(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    let question = "What is wrong?";
    let chamber = asked.owned("chamber");
    let Some(symptom) = asked.owned("symptom") else {
        let body = view::ask(chamber.as_deref(), &[], &Typed::default());
        return Ok(site.page(Tab::More, question, &body).into_response());
    };
    let ask = PutRightAsk {
        symptom,
        chamber: chamber.clone(),
        wait: false,
    };
    let found = site
        .ask(move |desk| {
            let answer = desk.put_right(&ask);
            let holding = desk.chambers().unwrap_or_default();
            let names: Vec<String> = holding
                .into_iter()
                .filter(|c| c.state != "empty")
                .map(|c| c.name)
                .collect();
            Ok((answer, names, Tongue::of(desk)))
        })
        .await?;
    match found {
        (Ok(answer), names, tongue) => {
            let body = view::answer(&answer, &names, tongue);
            let title = format!("{} – put right", crate::words::capital(answer.symptom.name));
            Ok(site.page(Tab::More, &title, &body).into_response())
        }
        (Err(Error::NoSymptom { text, near }), ..) => {
            let said = if near.is_empty() {
                format!(
                    "“{text}” is not known here. Pick what is nearest below, or say it otherwise."
                )
            } else {
                format!("“{text}” could be several things. Pick the one you mean.")
            };
            let wrong = Wrong {
                field: "symptom",
                text: said,
            };
            let typed = Typed::wrong(view::FORM, asked, wrong);
            let body = view::ask(chamber.as_deref(), &near, &typed);
            Ok(site.page_with(StatusCode::UNPROCESSABLE_ENTITY, Tab::More, question, &body))
        }
        (Err(error @ Error::NoChamber { .. }), ..) => {
            let oops = Oops::Desk(error);
            let typed = Typed::refused(view::FORM, asked, "symptom", &oops);
            let body = view::ask(None, &[], &typed);
            Ok(site.page_with(StatusCode::NOT_FOUND, Tab::More, question, &body))
        }
        (Err(error), ..) => Err(Oops::Desk(error)),
    }
}

/// It is done, or it helped: noted as it was shown.
pub(crate) async fn done(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let kg = fields.number("kg").ok().flatten();
    let done = PutRightDone {
        symptom: fields.get("symptom").to_owned(),
        chamber: fields.owned("chamber"),
        cause: fields.get("cause").to_owned(),
        act: fields.get("act").to_owned(),
        added: fields.owned("material").zip(kg),
        text: fields.get("text").chars().take(MOST_TEXT).collect(),
        helped: fields.get("helped") == "1",
    };
    let key = fields.owned("key");
    let id = site
        .ask(move |desk: &Desk| desk.note_put_right(&done, key.as_deref()))
        .await?;
    Ok(see(&format!("/log?noted={}", escaped(&id))))
}
