//! What is it like inside?

pub(crate) mod drum;
mod view;

use axum::extract::State;
use axum::response::{IntoResponse, Response};
use desk::ChamberFacts;

use super::_frame::form::Wrong;
use super::_frame::{Fields, Oops, Site, Tab, Typed, escaped, see};
use crate::words::{self, Kind, Tongue};

pub(crate) async fn page(State(site): State<Site>) -> Result<Response, Oops> {
    show(&site, Typed::default()).await
}

async fn show(site: &Site, typed: Typed) -> Result<Response, Oops> {
    let (mut chambers, tongue) = site
        .ask(|desk| Ok((desk.chambers()?, Tongue::of(desk))))
        .await?;
    drum::in_use_first(&mut chambers);
    let browns = drum::browns(site, &chambers).await?;
    let ids: Vec<(String, String)> = chambers
        .iter()
        .map(|c| (c.id.clone(), c.name.clone()))
        .collect();
    let before = site.ask(move |desk| before(desk, &ids, tongue)).await?;
    let status = typed.status();
    Ok(site
        .page_with(
            status,
            Tab::Chambers,
            "Chambers",
            &view::page(&chambers, &browns, &before, &typed, tongue),
        )
        .into_response())
}

/// What is known without a wait of each chamber, before it is closed, emptied or topped up.
fn before(
    desk: &desk::Desk,
    chambers: &[(String, String)],
    tongue: Tongue,
) -> Result<Vec<view::Before>, desk::Error> {
    let today = desk.today()?;
    let season = desk.season_if_known();
    Ok(chambers
        .iter()
        .map(|(id, name)| {
            let takes = today.tip_into.as_ref() == Some(name);
            let usual = today.usual.as_ref().filter(|_| takes);
            view::Before {
                id: id.clone(),
                alone: chambers.len() == 1,
                last_dose: usual.map(|dose| words::lower(&words::dose_lines(dose, tongue).action)),
                mass_kg: desk.forecast_if_known(id).map(|a| a.inside.mass_kg),
                top_up: season
                    .as_deref()
                    .and_then(|a| words::season::top_up(a, name)),
            }
        })
        .collect())
}

/// The chamber to tip into: the one begun last that is filling, else an empty one.
pub(crate) fn tip_into(chambers: &[ChamberFacts]) -> Option<&ChamberFacts> {
    let filling = chambers
        .iter()
        .filter(|c| c.state == "filling")
        .min_by_key(|c| c.days.unwrap_or(i64::MAX));
    filling.or_else(|| chambers.iter().find(|c| c.state == "empty"))
}

fn noted(id: &str) -> Response {
    see(&format!("/log?noted={}", escaped(id)))
}

pub(crate) async fn close(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let (name, key) = (fields.get("chamber").to_owned(), fields.owned("key"));
    let form = view::form("close", fields.get("chamber"));
    match site
        .ask(move |desk| desk.close(&name, key.as_deref()))
        .await
    {
        Ok(id) => Ok(noted(&id)),
        Err(oops) => show(&site, Typed::refused(&form, fields, "chamber", &oops)).await,
    }
}

pub(crate) async fn empty(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let (name, key) = (fields.get("chamber").to_owned(), fields.owned("key"));
    let fit_for = fields.owned("fit_for");
    let form = view::form("empty", fields.get("chamber"));
    let tongue = site.tongue().await?;
    let litres = match fields.measure("litres", Kind::Chamber, tongue) {
        Ok(litres) => litres,
        Err(wrong) => return show(&site, Typed::wrong(&form, fields, wrong)).await,
    };
    match site
        .ask(move |desk| desk.empty(&name, litres, fit_for.as_deref(), key.as_deref()))
        .await
    {
        Ok(id) => Ok(noted(&id)),
        Err(Oops::Desk(desk::Error::Range(wrong))) if tongue.us => {
            let text = tongue.outside(&wrong, Kind::Chamber);
            let wrong = Wrong {
                field: "litres",
                text,
            };
            show(&site, Typed::wrong(&form, fields, wrong)).await
        }
        Err(oops) => show(&site, Typed::refused(&form, fields, "litres", &oops)).await,
    }
}

pub(crate) async fn part_full(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let (name, key) = (fields.get("chamber").to_owned(), fields.owned("key"));
    let text = fields.get("text").to_owned();
    let form = view::form("part", fields.get("chamber"));
    let (level, days) = match (
        fields.number("level"),
        fields.number("days").and_then(whole_days),
    ) {
        (Ok(level), Ok(days)) => (level, days),
        (Err(wrong), _) | (_, Err(wrong)) => {
            return show(&site, Typed::wrong(&form, fields, wrong)).await;
        }
    };
    match site
        .ask(move |desk| desk.open_part_full(&name, level, days, &text, key.as_deref()))
        .await
    {
        Ok(done) => Ok(noted(&done.id)),
        Err(oops) => {
            let field = match &oops {
                Oops::Desk(desk::Error::Range(_)) => "level",
                _ => "text",
            };
            show(&site, Typed::refused(&form, fields, field, &oops)).await
        }
    }
}

/// Days as the desk takes them; ten years is the most (choice).
fn whole_days(days: Option<f64>) -> Result<Option<u16>, Wrong> {
    let Some(days) = days else { return Ok(None) };
    if (0.0..=3650.0).contains(&days) {
        Ok(Some(days.round() as u16))
    } else {
        Err(Wrong {
            field: "days",
            text: "Days ago: give 0 to 3650, or leave it empty.".into(),
        })
    }
}
