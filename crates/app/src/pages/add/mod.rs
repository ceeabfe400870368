//! How much browns with this?

mod view;

use axum::extract::State;
use axum::response::{IntoResponse, Response};
use desk::{CardFacts, DoseAnswer, DoseAsk, DoseLine};

use super::_frame::form::Wrong;
use super::_frame::{Fields, Oops, Site, Tab, Typed, escaped, number, see};
use super::chambers::tip_into;
use crate::words::{CUP_L, QUART_L, Tongue};

pub(crate) use view::FORM;

pub(crate) async fn page(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    show(&site, Typed::new(FORM, asked)).await
}

async fn show(site: &Site, typed: Typed) -> Result<Response, Oops> {
    let chambers = site.ask(|desk| desk.chambers()).await?;
    let status = typed.status();
    Ok(site
        .page_with(status, Tab::Add, "Add", &view::page(&chambers, &typed))
        .into_response())
}

/// Reads the entry and leads to its answer; a quick word is put behind what was typed.
pub(crate) async fn post(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let quick = fields.get("quick");
    let mut entry = fields.get("entry").to_owned();
    if !quick.is_empty() {
        if !entry.is_empty() {
            entry.push_str(", ");
        }
        entry.push_str(quick);
    }
    let place = |path: &str| {
        let mut query = format!("{path}?entry={}", escaped(&entry));
        for name in ["with", "chamber", "count"] {
            if let Some(value) = fields.some(name) {
                query.push_str(&format!("&{name}={}", escaped(value)));
            }
        }
        query
    };
    // A caddy can be answered at once; a small thing is more often one of several.
    if !quick.is_empty() && !quick.contains("caddy") {
        return Ok(see(&place("/add")));
    }
    let ask = ask_of(&entry, &fields);
    match site.ask(move |desk| desk.dose(&ask)).await {
        Ok(_) => Ok(see(&place("/add/answer"))),
        Err(oops) => refused(&site, fields, &oops).await,
    }
}

fn ask_of(entry: &str, fields: &Fields) -> DoseAsk {
    DoseAsk {
        text: entry.to_owned(),
        with: fields.owned("with"),
        chamber: fields
            .owned("chamber")
            .filter(|_| fields.some("count").is_some()),
        target: None,
    }
}

async fn refused(site: &Site, fields: Fields, oops: &Oops) -> Result<Response, Oops> {
    let with = fields.get("with");
    let field = match oops {
        Oops::Desk(desk::Error::NothingUnderstood { text, .. })
            if !with.is_empty() && text == with =>
        {
            "with"
        }
        Oops::Desk(desk::Error::NoChamber { .. }) => "chamber",
        _ => "entry",
    };
    show(site, Typed::refused(FORM, fields, field, oops)).await
}

pub(crate) async fn answer(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    if asked.get("entry").is_empty() {
        return Ok(see("/add"));
    }
    answered(&site, asked, None).await
}

/// What the answer page needs to know.
pub(super) struct Answered {
    pub(super) dose: DoseAnswer,
    /// The browns as words that read back to the same things.
    pub(super) browns: String,
    /// Where it goes; `None` without a chamber.
    pub(super) chamber: Option<String>,
    /// Measures and words of the household.
    pub(super) tongue: Tongue,
    /// Windows as text: wetness, C:N, air.
    pub(super) windows: [String; 3],
    /// What the card buys in days, if it is worked out.
    pub(super) card: Option<CardFacts>,
}

async fn answered(site: &Site, asked: Fields, typed: Option<Typed>) -> Result<Response, Oops> {
    let ask = ask_of(asked.get("entry"), &asked);
    let wanted = asked.owned("chamber");
    let found = site
        .ask(move |desk| {
            let dose = desk.dose(&ask)?;
            let tongue = Tongue::of(desk);
            let browns: Vec<String> = dose
                .doses
                .iter()
                .filter_map(|d| in_words(desk, d, tongue))
                .collect();
            let chambers = desk.chambers().unwrap_or_default();
            let chamber = dose
                .read
                .chamber
                .clone()
                .or(wanted)
                .or_else(|| tip_into(&chambers).map(|c| c.name.clone()));
            let mut windows = <[String; 3]>::default();
            for (place, id) in windows
                .iter_mut()
                .zip(["window.water", "window.cn", "window.air"])
            {
                *place = desk.why(id)?.value.unwrap_or_default();
            }
            Ok(Answered {
                dose,
                browns: browns.join(", "),
                chamber,
                tongue,
                windows,
                card: desk.card_if_known(),
            })
        })
        .await;
    match found {
        Ok(found) => {
            let typed = typed.unwrap_or_else(|| Typed::new(FORM, asked.clone()));
            let status = typed.status();
            let body = view::answer(&found, &asked, &typed);
            Ok(site.page_with(status, Tab::Add, "What to add", &body))
        }
        Err(oops) => refused(site, asked, &oops).await,
    }
}

/// Above it nobody counts hands.
const MOST_HANDFULS: f64 = 8.5;

/// A dose in words that the grammar reads back to the same material.
fn in_words(desk: &desk::Desk, dose: &DoseLine, tongue: Tongue) -> Option<String> {
    let amount = match (dose.handfuls, dose.litres) {
        (Some(n), _) if n.round() <= 1.0 => "1 handful".to_owned(),
        (Some(n), _) if n <= MOST_HANDFULS => format!("{:.0} handfuls", n.round()),
        (_, Some(litres)) if tongue.us => in_us(litres),
        (Some(_), Some(litres)) if litres >= 1.0 => format!("{litres:.0} L"),
        (_, Some(litres)) if litres < 1.0 => format!("{:.0} ml", (litres * 20.0).round() * 50.0),
        (_, Some(litres)) => format!("{} L", number((litres * 2.0).round() / 2.0)),
        (_, None) => format!("{} kg", number((dose.kg * 10.0).round() / 10.0)),
    };
    let plain = dose.name.replace(',', " ");
    let short = dose
        .name
        .split([',', '('])
        .next()
        .unwrap_or_default()
        .trim()
        .to_owned();
    let id = dose.material.replace('-', " ");
    [short, plain, id]
        .into_iter()
        .map(|name| format!("{amount} {}", name.to_lowercase()))
        .find(|text| {
            desk.mix(text).is_ok_and(|m| {
                m.read.unknown.is_empty()
                    && matches!(m.read.items.as_slice(), [one] if one.material == dose.material)
            })
        })
}

/// A volume in cups or quarts, as the entry reads them.
fn in_us(litres: f64) -> String {
    let (size, unit) = if litres < QUART_L {
        (CUP_L, "cups")
    } else {
        (QUART_L, "quarts")
    };
    let units = litres / size;
    if units < 10.0 {
        format!("{} {unit}", number((units * 2.0).round().max(1.0) / 2.0))
    } else {
        format!("{units:.0} {unit}")
    }
}

/// Notes the caddy and the browns as one entry, so that one undo takes back both.
pub(crate) async fn went_in(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let entry = fields.get("caddy").to_owned();
    let browns = fields.get("browns").to_owned();
    let nothing = ["", "none", "nothing", "0"].contains(&browns.to_lowercase().as_str());
    let again = asked_again(&fields);
    if !nothing {
        let read = browns.clone();
        let wrong = match site.ask(move |desk| desk.mix(&read)).await {
            Err(oops) => Some(oops.text()),
            Ok(mix) => mix.read.unknown.first().map(|u| {
                format!(
                    "“{}” is not understood. Say it otherwise, or leave the field empty.",
                    u.text
                )
            }),
        };
        if let Some(text) = wrong {
            let typed = Typed::wrong(
                view::WENT_IN,
                fields,
                Wrong {
                    field: "browns",
                    text,
                },
            );
            return answered(&site, again, Some(typed)).await;
        }
    }
    let text = if nothing {
        entry
    } else {
        format!("{entry}, {browns}")
    };
    let (chamber, key) = (fields.owned("chamber"), fields.owned("key"));
    match site
        .ask(move |desk| desk.add(&text, chamber.as_deref(), key.as_deref()))
        .await
    {
        Ok(done) => Ok(see(&format!("/log?noted={}", escaped(&done.id)))),
        Err(oops) => {
            let typed = Typed::refused(view::WENT_IN, fields, "browns", &oops);
            answered(&site, again, Some(typed)).await
        }
    }
}

/// The question behind a form of the answer page.
fn asked_again(fields: &Fields) -> Fields {
    fields.renamed(&[
        ("caddy", "entry"),
        ("with", "with"),
        ("chamber", "chamber"),
        ("count", "count"),
    ])
}
