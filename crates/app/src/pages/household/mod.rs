//! What do you know about us?

pub(super) mod probes;
pub(super) mod rules;
mod view;

use axum::extract::State;
use axum::response::{IntoResponse, Response};
use desk::{Household, HouseholdChange};

use super::_frame::form::Wrong;
use super::_frame::{Fields, Oops, Site, Tab, Typed, see};
use crate::words::{self, Kind, Tongue};

pub(crate) async fn page(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    let done = (asked.get("done") == "kept").then(|| vec!["Kept.".to_owned()]);
    show(&site, Typed::default(), &done.unwrap_or_default()).await
}

async fn show(site: &Site, typed: Typed, done: &[String]) -> Result<Response, Oops> {
    let (household, chambers, rules, (weather, sensors)) = site
        .ask(|desk| {
            let kept = (desk.weather_kept()?, desk.sensors()?);
            Ok((
                desk.household()?,
                desk.chambers()?,
                desk.local_rules()?,
                kept,
            ))
        })
        .await?;
    let status = typed.status();
    let body = view::page(
        &household,
        (&chambers, &rules),
        (weather.as_ref(), &sensors),
        &typed,
        done,
    );
    Ok(site
        .page_with(status, Tab::More, "Household", &body)
        .into_response())
}

async fn keep(
    site: &Site,
    form: &str,
    field: &'static str,
    fields: Fields,
    change: Result<HouseholdChange, Wrong>,
) -> Result<Response, Oops> {
    let change = match change {
        Ok(change) => change,
        Err(wrong) => return show(site, Typed::wrong(form, fields, wrong), &[]).await,
    };
    let key = fields.owned("key");
    match site
        .ask(move |desk| desk.change_household(change, key.as_deref()))
        .await
    {
        Ok(_) => Ok(see("/household?done=kept")),
        Err(oops) => {
            let field = concerned(&oops).unwrap_or(field);
            let tongue = site.tongue().await?;
            let typed = match (&oops, kind_of(field)) {
                (Oops::Desk(desk::Error::Range(wrong)), Some(kind)) if tongue.us => {
                    let text = tongue.outside(wrong, kind);
                    Typed::wrong(form, fields, Wrong { field, text })
                }
                _ => Typed::refused(form, fields, field, &oops),
            };
            show(site, typed, &[]).await
        }
    }
}

/// The field that a refusal is about.
fn concerned(oops: &Oops) -> Option<&'static str> {
    let named = match oops {
        Oops::Desk(desk::Error::Range(wrong)) => wrong.range.name,
        Oops::Desk(desk::Error::BadSetting { field, .. }) => field,
        _ => return None,
    };
    match named {
        "caddy" => Some("caddy_l"),
        "full caddy" => Some("caddy_kg"),
        "handful" => Some("handfuls"),
        "latitude" => Some("latitude"),
        "time zone" => Some("zone"),
        "chamber" => Some("litres"),
        "distance to a neighbour" => Some("apart"),
        "largest size allowed" => Some("largest"),
        _ => None,
    }
}

/// What a field of these forms holds.
fn kind_of(field: &str) -> Option<Kind> {
    match field {
        "caddy_l" => Some(Kind::Caddy),
        "caddy_kg" => Some(Kind::Mass),
        "litres" | "largest" => Some(Kind::Chamber),
        "apart" => Some(Kind::Distance),
        _ => None,
    }
}

pub(crate) async fn settings(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let (now, tongue) = site
        .ask(|desk| Ok((desk.household()?, Tongue::of(desk))))
        .await?;
    let change = read_settings(&fields, &now, tongue);
    keep(&site, view::SETTINGS, "place", fields, change).await
}

/// The numbers are in the measures the form was drawn in, also when it changes them.
fn read_settings(
    fields: &Fields,
    now: &Household,
    tongue: Tongue,
) -> Result<HouseholdChange, Wrong> {
    // A size left as it was shown is left as it was kept: rounding to quarts must not move it.
    let changed = |name, kind, kept: Option<f64>| {
        let shown = kept.map(|v| view::filled(v, kind, tongue));
        if shown.is_some_and(|text| text == fields.get(name)) {
            return Ok(kept);
        }
        fields.measure(name, kind, tongue)
    };
    let caddy_l = changed("caddy_l", Kind::Caddy, Some(now.caddy_l))?;
    let handfuls = fields.number("handfuls")?;
    if handfuls.is_some_and(|n| n < 1.0) {
        return Err(Wrong {
            field: "handfuls",
            text: "Handfuls: give 1 or more, or leave it empty.".into(),
        });
    }
    Ok(HouseholdChange::Settings {
        name: fields.owned("name"),
        place: fields.owned("place"),
        latitude: fields.number("latitude")?,
        zone: fields.owned("zone"),
        us: fields.some("units").map(|u| u == "us"),
        american: fields.some("english").map(|e| e == "american"),
        caddy_l,
        caddy_kg: changed("caddy_kg", Kind::Mass, now.caddy_kg)?,
        // Counting handfuls into a caddy of known size measures the hand.
        handful_l: handfuls.map(|n| caddy_l.unwrap_or(now.caddy_l) / n),
    })
}

pub(crate) async fn chamber(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let tongue = site.tongue().await?;
    let change = read_chamber(&fields, tongue);
    keep(&site, view::CHAMBER, "name", fields, change).await
}

fn read_chamber(fields: &Fields, tongue: Tongue) -> Result<HouseholdChange, Wrong> {
    let wrong = |field, text: &str| Wrong {
        field,
        text: text.to_owned(),
    };
    let name = fields
        .owned("name")
        .ok_or_else(|| wrong("name", "Chamber: give it a name, as Near."))?;
    if name.chars().count() > 40 {
        return Err(wrong("name", "Chamber: a name has 40 letters at most."));
    }
    let (length_cm, across_cm) = (
        fields.measure("length", Kind::Length, tongue)?,
        fields.measure("across", Kind::Length, tongue)?,
    );
    for (field, value) in [("length", length_cm), ("across", across_cm)] {
        if value.is_some_and(|v| !(5.0..=500.0).contains(&v)) {
            let allowed = if tongue.us {
                "2 to 196 inches"
            } else {
                "5 to 500 cm"
            };
            return Err(wrong(field, &format!("Give {allowed}, or leave it empty.")));
        }
    }
    let litres = match (
        fields.measure("litres", Kind::Chamber, tongue)?,
        length_cm,
        across_cm,
    ) {
        (Some(litres), ..) => Some(litres),
        // Volume of a round drum, to the whole litre.
        (None, Some(length), Some(across)) => {
            Some((std::f64::consts::PI / 4.0 * across * across * length / 1000.0).round())
        }
        (None, None, None) => None,
        (None, None, _) => {
            return Err(wrong(
                "length",
                "Give the length too, or the litres instead.",
            ));
        }
        (None, _, None) => {
            return Err(wrong(
                "across",
                "Give the width across too, or the litres instead.",
            ));
        }
    };
    Ok(HouseholdChange::Chamber {
        name,
        litres,
        length_cm,
        across_cm,
        upright: fields.some("upright").map(|_| true),
    })
}

/// Takes a pasted weather file. What was made of it is told on the page itself: with the one-time key a reload
/// notes nothing twice.
pub(crate) async fn weather(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let (text, key) = (fields.get("days").to_owned(), fields.owned("key"));
    match site
        .ask(move |desk| desk.set_weather(text.as_bytes(), "pasted", key.as_deref()))
        .await
    {
        Ok(done) => show(&site, Typed::default(), &words::weather(&done)).await,
        Err(oops) => {
            let typed = Typed::refused(view::WEATHER, fields, "days", &oops);
            show(&site, typed, &[]).await
        }
    }
}

/// Form field, column of the own figures.
const OWN: [(&str, &str); 5] = [
    ("water", "water_pct"),
    ("carbon", "carbon_pct_dry"),
    ("nitrogen", "nitrogen_pct_dry"),
    ("cn", "cn"),
    ("density", "density_kg_m3"),
];

pub(crate) async fn own(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let columns: Vec<(&str, &str)> = OWN
        .iter()
        .map(|&(field, column)| (column, fields.some(field).unwrap_or_default()))
        .collect();
    let name = fields.some("material").unwrap_or_default();
    let change = HouseholdChange::own(name, &columns).map_err(|e| Wrong {
        field: OWN
            .iter()
            .find(|(_, column)| e.to_string().contains(column))
            .map_or("material", |(field, _)| *field),
        text: e.to_string(),
    });
    keep(&site, view::OWN, "material", fields, change).await
}
