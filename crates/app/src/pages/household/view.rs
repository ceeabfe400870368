//! Settings as a person would say them.

use desk::{ChamberFacts, Household, LocalRules, MeasuredDays, SensorFacts};
use maud::{Markup, html};

use crate::pages::_frame::{Input, Typed, number, why};
use crate::words::{Kind, Tongue, capital, household as say, when};

pub(super) const SETTINGS: &str = "settings";
pub(super) const CHAMBER: &str = "chamber";
pub(super) const OWN: &str = "own";

pub(super) const WEATHER: &str = "weather";

pub(super) fn page(
    h: &Household,
    (chambers, rules): (&[ChamberFacts], &LocalRules),
    (weather, sensors): (Option<&MeasuredDays>, &[SensorFacts]),
    typed: &Typed,
    done: &[String],
) -> Markup {
    let shown = |v: Option<f64>| v.map(number).unwrap_or_default();
    let tongue = Tongue {
        us: h.us,
        american: h.american,
    };
    let (caddy, _) = tongue.field(Kind::Caddy);
    let (mass, _) = tongue.field(Kind::Mass);
    let (chamber, _) = tongue.field(Kind::Chamber);
    let (length, _) = tongue.field(Kind::Length);
    html! {
        h1 { "What do you know about us?" }
        (typed.summary())
        @if !done.is_empty() { p.done role="status" { (done.join(" ")) " If that was a slip, the " a href="/log" { "log" } " takes it back." } }
        form method="post" action="/household" {
            h2 { "Caddy and hand" }
            (typed.key(SETTINGS))
            div.fields {
            (Input::new(SETTINGS, "caddy_l", &format!("Caddy, {caddy}")).usual(filled(h.caddy_l, Kind::Caddy, tongue)).digits().draw(typed))
            (Input::new(SETTINGS, "caddy_kg", &format!("A full caddy on the scale, {mass}"))
                .hint("Weigh it once, without the caddy itself.").usual(h.caddy_kg.map(|kg| filled(kg, Kind::Mass, tongue)).unwrap_or_default()).digits().draw(typed))
            (Input::new(SETTINGS, "handfuls", "Handfuls of torn card that fill the caddy")
                .hint("Count once. Hands differ twofold, so this helps most.").digits().draw(typed))
            }
            p.quiet { "A handful is taken as " @if h.us { (tongue.size(h.handful_l)) } @else { (format!("{:.2} L", h.handful_l)) } " now (" (why("dose.handful", "why")) ")." }
            h2 { "Place" }
            div.fields {
            (Input::new(SETTINGS, "name", "Name of the household").usual(h.name.clone()).draw(typed))
            (Input::new(SETTINGS, "place", "Place").usual(h.place.clone().unwrap_or_default()).draw(typed))
            (Input::new(SETTINGS, "latitude", "Latitude, degrees north").hint("As: 50.85. South is below zero.").usual(shown(h.latitude)).draw(typed))
            (Input::new(SETTINGS, "zone", "Time zone")
                .hint(&format!("As: Europe/Brussels. Empty: as on this machine. Days now follow {}.", h.zone_used))
                // One that was not given stays out: kept as an answer it would no longer follow the machine.
                .usual(h.zone_given().unwrap_or_default()).draw(typed))
            }
            h2 { "Words and measures" }
            div.fields {
            (choice("units", "Measures", &[("metric", "Litres and kilograms"), ("us", "US: quarts, gallons, pounds")], usize::from(h.us)))
            (choice("english", "Words", &[("british", "British"), ("american", "American")], usize::from(h.american)))
            }
            button.main { "Keep it" }
        }
        h2 { "Chambers" }
        @if chambers.is_empty() { p { "None has a name yet." } }
        @else {
            ul.plain {
                @for c in chambers {
                    li { b { (c.name) } ": " @match c.litres { Some(l) => { (tongue.size(l)) } None => { "size not given" } }
                        @if let Some(text) = say::too_large(rules, &c.name, tongue) { ". " b { (text) } } }
                }
            }
        }
        form method="post" action="/household/chamber" {
            (typed.key(CHAMBER))
            div.fields {
            (Input::new(CHAMBER, "name", "Name of a chamber, bin or heap").hint("A name there is changes that one; a new name adds one.").draw(typed))
            (Input::new(CHAMBER, "litres", &capital(chamber)).hint("Of this chamber alone. Or give the two below.").digits().draw(typed))
            (Input::new(CHAMBER, "length", &format!("Length inside, {length}")).hint("Of this chamber, along the axle.").digits().draw(typed))
            (Input::new(CHAMBER, "across", &format!("Width across, {length}")).digits().draw(typed))
            }
            label.tick { input type="checkbox" name="upright" value="1" checked[!typed.get(CHAMBER, "upright").is_empty()]; span { "It stands on the ground: a bin, box or heap" } }
            button { "Keep this chamber" }
        }
        (super::rules::section(rules, typed, tongue))
        h2 { "Weather" }
        @match weather {
            Some(kept) => p { "Measured: " (kept.count) " days, " (when::day(kept.from)) " to " (when::day(kept.to)) ". Forecasts use them; other days are drawn." }
            None => p { "None measured. Forecasts draw it from what is usual at your place." }
        }
        form method="post" action="/household/weather" {
            (typed.key(WEATHER))
            (Input::new(WEATHER, "days", "Measured days, a line each")
                .hint("Paste a table with a heading, as: date,tmin,tmax. A station’s file does too. Days of the last four years are kept; rain is not, as none falls into a drum.")
                .lines(5).draw(typed))
            button { "Keep this weather" }
        }
        (super::probes::section(sensors, chambers, typed, tongue))
        h2 { "Own figures" }
        @if h.own.is_empty() { p { "None. Figures come from the built-in tables (" a href="/workings" { "workings" } ")." } }
        @else {
            ul.notes {
                @for (name, figures) in &h.own {
                    li { b { (name) } @for (property, value) in figures { ", " (property) " " (number(*value)) } }
                }
            }
        }
        p { "Weighed or measured it yourself? Your figures then stand before the tables. Leave empty what you do not know." }
        form method="post" action="/household/own" {
            (typed.key(OWN))
            div.fields {
            (Input::new(OWN, "material", "What it is").hint("As: our lawn grass.").draw(typed))
            (Input::new(OWN, "water", "Water, % of its weight").digits().draw(typed))
            (Input::new(OWN, "carbon", "Carbon, % of dry weight").digits().draw(typed))
            (Input::new(OWN, "nitrogen", "Nitrogen, % of dry weight").digits().draw(typed))
            (Input::new(OWN, "cn", "C:N, if one of the two is not known").digits().draw(typed))
            (Input::new(OWN, "density", "Grams a litre, as it lies").digits().draw(typed))
            }
            button { "Keep these figures" }
        }
    }
}

/// A kept size as its field shows it; the tenth of a quart or a pound is enough.
pub(super) fn filled(value: f64, kind: Kind, tongue: Tongue) -> String {
    let (_, size) = tongue.field(kind);
    if tongue.us {
        number((value / size * 10.0).round() / 10.0)
    } else {
        number(value)
    }
}

fn choice(name: &str, label: &str, options: &[(&str, &str)], now: usize) -> Markup {
    html! {
        div.field {
            label for={ "settings-" (name) } { (label) }
            select id={ "settings-" (name) } name=(name) {
                @for (at, (value, text)) in options.iter().enumerate() {
                    option value=(value) selected[at == now] { (text) }
                }
            }
        }
    }
}
