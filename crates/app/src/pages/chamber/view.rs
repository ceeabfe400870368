//! The inside of one chamber: the picture, what to do, and the same in numbers.

use desk::{ChamberFacts, ForecastAnswer};
use maud::{Markup, html};
use units::Spread;

use super::picture::{Cut, picture};
use super::{course, fill, inside_of, others, tend};
use crate::pages::_frame::{Typed, why};
use crate::pages::chambers::drum;
use crate::pages::{heat, put_right, ready, when};
use crate::words::{self, Tongue, check, inside};

pub(super) fn page(
    chamber: &ChamberFacts,
    a: &ForecastAnswer,
    browns: &drum::Browns,
    names: &[String],
    (typed, tongue): (&Typed, Tongue),
) -> Markup {
    let i = &a.inside;
    let [act, reason] = inside::turning(a);
    let [water, water_act] = inside::water(i);
    html! {
        div.cols {
            section {
                h1 { "What is it like inside?" }
                (typed.summary())
                (figure(chamber, a, browns, tongue))
                h2 { "Turn it?" }
                p.big { (act) }
                p { (reason) " (" (why("forecast.oxygen", "why")) ")" }
                (tend::turn(Some(&a.chamber)))
                h2 { "Water" }
                p { (water) }
                p { b { (water_act) } }
                (tend::water(&a.chamber, typed, tongue))
                h2 { "Warmth" }
                p { (inside::warmth(i, tongue)) }
                @if let Some(smell) = inside::smell(i) { h2 { "Smell" } p { (smell) } }
                (tend::moving(&a.chamber, names, typed, tongue))
                p { a.row href=(crate::pages::check::of(&a.chamber)) { "Note what you saw inside" } }
                p { a.row href=(when::of(&a.chamber)) { "When can I use it, and for what?" } }
                p { a.row href=(put_right::of(&a.chamber)) { "Something wrong with it?" } }
                p { a.row href=(ready::of(&a.chamber)) { "May I use it now?" } }
                p { a.row href=(heat::of(&a.chamber)) { "What heat was logged?" } }
                (others(names, &a.chamber, inside_of))
            }
            section {
                h2 { "The same in numbers" }
                (numbers(chamber, a, tongue))
                h2 { "Week by week" }
                (course::page(a, tongue))
            }
        }
    }
}

fn figure(
    chamber: &ChamberFacts,
    a: &ForecastAnswer,
    browns: &drum::Browns,
    tongue: Tongue,
) -> Markup {
    let said = inside::sentence(a, tongue);
    let share = drum::brown_share(chamber, browns).unwrap_or_default();
    let went_in = chamber
        .went_in
        .as_ref()
        .and_then(|m| m.mass_kg)
        .map_or(0.0, |m| m.mid);
    let id: String = chamber
        .id
        .chars()
        .filter(char::is_ascii_alphanumeric)
        .collect();
    let cut = Cut {
        id: &id,
        name: &chamber.name,
        inside: &a.inside,
        litres: a.chamber_litres,
        browns_kg: went_in * share,
        level: chamber.level.as_ref().map(|(l, d)| (*l, d.as_str())),
        probe: a.learnt.probe.map(|(_, _, counts)| counts),
    };
    html! {
        figure.drum.cut.pale[a.learnt.used == 0] {
            (picture(&cut, &said, tongue))
            figcaption {
                p { (said) }
                @if let Some((level, _)) = &chamber.level {
                    @if let Some(apart) = inside::level_apart(a, *level) { p.flag { (apart) } }
                }
                p.pencil {
                    @if a.learnt.used == 0 { b { "Drawn from arithmetic only." } " No reading has moved it." }
                    @else { (check::rests_on(a)) }
                    " The torn edge is as thick as the doubt about the level."
                }
                @if let Some((date, c, counts)) = a.learnt.probe {
                    p {
                        @if counts { "The solid ring: a probe read " } @else { "The hollow ring: a probe read " }
                        (inside::degrees(c, tongue)) " on " (words::when::day(date))
                        @if !counts { ". That cannot be, so it does not count" } "."
                    }
                }
                (key(a.chamber_litres, tongue))
            }
        }
    }
}

/// What the marks mean, each in its own hatch.
fn key(litres: f64, tongue: Tongue) -> Markup {
    let unit = inside::dot(fill::unit(litres), tongue);
    let sample = |class: &str, d: &str| {
        html! { svg.sample viewBox="0 0 30 16" width="30" height="16" aria-hidden="true" focusable="false" {
            rect.mix width="30" height="16" {}
            path class=(class) d=(d) {}
        } }
    };
    html! {
        ul.key {
            li { (sample("water", "M6 8h.01M15 8h.01M24 8h.01")) "a dot: " (unit) " of water" }
            li { (sample("gaps", "M7 8h.01M16 8h.01M25 8h.01")) "a gap: " (unit) " of air" }
            li { (sample("browns", "M5 3L24 4L25 13L6 12ZM9 12L13 3M14 12L18 4M19 13L22 4")) "brown still to be recognised" }
            li { (sample("crumbs", "M4 5l1.600 1.200M10 10l1.600 -1.200M16 5l1.600 1.200M22 11l1.600 -1.200M26 5l1.600 1.200M7 13l1.600 -1.200M19 8l1.600 1.200M13 13l1.600 -1.200")) "crumb" }
        }
    }
}

fn numbers(chamber: &ChamberFacts, a: &ForecastAnswer, tongue: Tongue) -> Markup {
    let i = &a.inside;
    let of = |s: Spread, unit: &str| words::range(Some(s), unit);
    let level = i.litres.scale(100.0 / a.chamber_litres);
    let rows: [(&str, String); 12] = [
        ("Core", inside::warmth_range(i.core_c, tongue)),
        ("Wall", inside::warmth_range(i.shell_c, tongue)),
        ("Air outside", inside::warmth_range(i.air_c, tongue)),
        ("Water", of(i.water_pct, "%")),
        ("Level", of(level, "%")),
        ("Volume", tongue.volume(Some(i.litres))),
        ("Weight", tongue.mass(Some(i.mass_kg))),
        ("C:N", of(i.cn, "")),
        ("Air space", of(i.air_space_pct, "%")),
        ("Oxygen, at the least", of(i.oxygen_pct, "%")),
        // No hand tells parts of a per cent.
        (
            "In wet clumps",
            if i.clumped_pct.high < 1.0 {
                "under 1 %".into()
            } else {
                of(i.clumped_pct, "%")
            },
        ),
        ("Card still recognised", of(i.recognisable_pct, "%")),
    ];
    html! {
        p { "Worked out for " (words::when::day(a.today)) " (" (why("forecast.inside", "how")) "). The middle of " (a.members) " runs; in brackets, 18 of 20 of them." }
        table.worked {
            caption.unseen { "Inside " (a.chamber) ", worked out" }
            thead.unseen { tr { th scope="col" { "What" } th scope="col" { "Middle, and 18 of 20 runs" } } }
            tbody {
                @for (name, value) in rows { tr { th scope="row" { (name) } td { (value) } } }
                @if let Some((level, date)) = &chamber.level {
                    tr { th scope="row" { "Level noted" } td { (format!("{level:.0} %, {date}")) } }
                }
            }
        }
    }
}
