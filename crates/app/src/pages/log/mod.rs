//! What happened?

mod view;

use axum::extract::State;
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};

use super::_frame::form::Wrong;
use super::_frame::{Fields, Oops, Site, Tab, Typed, escaped, see, sentence};
use crate::words::{Tongue, own_words};

const MOST: u32 = 40;
/// Lines of one catching-up; a season of caddies is below it (choice).
const MOST_LINES: usize = 200;

pub(crate) async fn page(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    show(&site, &asked, Typed::default()).await
}

async fn show(site: &Site, asked: &Fields, typed: Typed) -> Result<Response, Oops> {
    let (after, noted) = (asked.owned("after"), asked.owned("noted"));
    let from = after.clone();
    let (lines, tongue) = site
        .ask(move |desk| {
            let lines = desk.log(MOST, from.as_deref())?;
            // The measures are asked of the journal; most pages of the log hold words of a person only.
            let tongue = if lines.iter().all(own_words) {
                Tongue::default()
            } else {
                Tongue::of(desk)
            };
            Ok((lines, tongue))
        })
        .await?;
    let more = (lines.len() == MOST as usize)
        .then(|| lines.last().map(|l| l.id.clone()))
        .flatten();
    let news = match (noted, asked.get("done")) {
        (Some(id), _) => lines.iter().find(|l| l.id == id).map(view::News::Noted),
        (None, "undone") => Some(view::News::Said("Undone. Nothing else changed.".into())),
        (None, "corrected") => Some(view::News::Said(
            "Corrected. The old words stay in the record.".into(),
        )),
        (None, "caught-up") => Some(view::News::Said("Noted, a line an entry.".into())),
        (None, "imported") => Some(view::News::Said(imported(asked.get("new")))),
        _ => None,
    };
    let status = typed.status();
    let body = view::page(
        &lines,
        more.as_deref(),
        after.is_some(),
        news.as_ref(),
        &typed,
        tongue,
    );
    Ok(site
        .page_with(status, Tab::More, "Log", &body)
        .into_response())
}

fn imported(new: &str) -> String {
    match new.parse::<usize>() {
        Ok(0) => "Taken in. Every entry was here already.".into(),
        Ok(n) => format!("Taken in: {n} new."),
        Err(_) => "Taken in.".into(),
    }
}

pub(crate) async fn undo(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let (id, key) = (fields.owned("id"), fields.owned("key"));
    site.ask(move |desk| desk.undo(id.as_deref(), key.as_deref()))
        .await?;
    Ok(see("/log?done=undone"))
}

pub(crate) async fn correct(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let (id, text, key) = (
        fields.get("id").to_owned(),
        fields.get("text").to_owned(),
        fields.owned("key"),
    );
    let form = view::correct_form(&id);
    match site
        .ask(move |desk| desk.correct(&id, &text, key.as_deref()))
        .await
    {
        Ok(_) => Ok(see("/log?done=corrected")),
        Err(oops) => {
            show(
                &site,
                &Fields::default(),
                Typed::refused(&form, fields, "text", &oops),
            )
            .await
        }
    }
}

/// Reads every line before it writes any; with the same key a second try writes none twice.
pub(crate) async fn catch_up(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let lines: Vec<String> = fields
        .get("lines")
        .lines()
        .map(str::trim)
        .filter(|l| !l.is_empty())
        .map(str::to_owned)
        .collect();
    let key = fields.get("key").to_owned();
    let wrong = if lines.is_empty() {
        Some("Write one entry a line, as: Tuesday, full caddy, 4 handfuls card.".to_owned())
    } else if lines.len() > MOST_LINES {
        Some(format!(
            "{} lines; the most is {MOST_LINES}. Send them in parts.",
            lines.len()
        ))
    } else {
        let read = lines.clone();
        site.ask(move |desk| {
            Ok(read.iter().enumerate().find_map(|(at, line)| {
                let said = match desk.mix(line) {
                    Err(error) => sentence(&error.to_string()),
                    Ok(answer) => match answer.read.refused.first() {
                        Some(out) => format!("{} stays out. Leave it out of the line.", out.name),
                        None => return None,
                    },
                };
                Some(format!("Line {}: {said}", at + 1))
            }))
        })
        .await?
    };
    if let Some(text) = wrong {
        let typed = Typed::wrong(
            view::CATCH_UP,
            fields,
            Wrong {
                field: "lines",
                text,
            },
        );
        return show(&site, &Fields::default(), typed).await;
    }
    let written = site
        .ask(move |desk| {
            for (at, line) in lines.iter().enumerate() {
                desk.add(line, None, Some(&format!("{key}.{at}")))?;
            }
            Ok(())
        })
        .await;
    match written {
        Ok(()) => Ok(see("/log?done=caught-up")),
        Err(oops) => {
            let typed = Typed::refused(view::CATCH_UP, fields, "lines", &oops);
            show(&site, &Fields::default(), typed).await
        }
    }
}

pub(crate) async fn export(State(site): State<Site>) -> Result<Response, Oops> {
    let all = site
        .ask(|desk| {
            let mut all = Vec::new();
            desk.export(&mut all)?;
            Ok(all)
        })
        .await?;
    let mut answer = all.into_response();
    let headers = answer.headers_mut();
    headers.insert(
        header::CONTENT_TYPE,
        HeaderValue::from_static("application/x-ndjson"),
    );
    let name = HeaderValue::from_static("attachment; filename=\"loamwright-log.jsonl\"");
    headers.insert(header::CONTENT_DISPOSITION, name);
    Ok(answer)
}

pub(crate) async fn import(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let text = fields.get("export").to_owned();
    if text.is_empty() {
        let text = "Paste the lines of an export here first.".into();
        let typed = Typed::wrong(
            view::IMPORT,
            fields,
            Wrong {
                field: "export",
                text,
            },
        );
        return show(&site, &Fields::default(), typed).await;
    }
    match site
        .ask(move |desk| desk.import(&mut text.as_bytes()))
        .await
    {
        Ok(new) => Ok(see(&format!(
            "/log?done=imported&new={}",
            escaped(&new.to_string())
        ))),
        Err(oops) => {
            let typed = Typed::refused(view::IMPORT, fields, "export", &oops);
            show(&site, &Fields::default(), typed).await
        }
    }
}
