//! The chambers as pictures, sentences and forms.

use desk::ChamberFacts;
use maud::{Markup, html};

use super::drum;
use crate::pages::_frame::{Input, Typed, why};
use crate::pages::chamber::inside_of;
use crate::pages::when;
use crate::words::{self, Kind, Tongue};

/// The name of a form, one for each chamber.
pub(super) fn form(what: &str, chamber: &str) -> String {
    let plain: String = chamber
        .chars()
        .map(|c| if c.is_alphanumeric() { c } else { '-' })
        .collect();
    format!("{what}-{plain}")
}

pub(super) fn page(
    chambers: &[ChamberFacts],
    browns: &drum::Browns,
    before: &[Before],
    typed: &Typed,
    tongue: Tongue,
) -> Markup {
    html! {
        h1 { "What is it like inside?" }
        (typed.summary())
        @if chambers.is_empty() {
            p.big { "No chamber has a name yet." }
            p { "Give each chamber, bin or heap a name and a size first." }
            p { a.go href="/household#chamber-name" { "Name a chamber" } }
        }
        div.chambers { @for chamber in chambers { (one(chamber, browns, before.iter().find(|b| b.id == chamber.id), typed, tongue)) } }
        @if !chambers.is_empty() { p { a.row href="/household#chamber-name" { "Add or change a chamber" } } }
    }
}

fn one(
    chamber: &ChamberFacts,
    browns: &drum::Browns,
    before: Option<&Before>,
    typed: &Typed,
    tongue: Tongue,
) -> Markup {
    html! {
        section.chamber {
            h2 { (chamber.name) }
            (drum::figure(chamber, browns))
            @if chamber.state != "empty" {
                a.row href=(inside_of(&chamber.name)) { "What is it like inside " (chamber.name) "?" }
                a.row href=(when::of(&chamber.name)) { "When can I use " (chamber.name) "?" }
            }
            @if let Some(said) = before.and_then(|b| b.top_up.as_ref()) { p { (said) } }
            @if !chamber.kinds.is_empty() {
                h3 { "What went in most" }
                ul.plain {
                    @for (name, kg) in &chamber.kinds {
                        li.portion {
                            (drum::mark_of(browns, name))
                            span { (name) ", about " (tongue.weight(*kg)) }
                        }
                    }
                }
            }
            @if let Some(mix) = &chamber.went_in {
                p {
                    "As it went in: wetness " (words::range(mix.water_pct, "%")) " (" (why("mix.water", "how")) "), C:N "
                    (words::range(mix.cn, "")) " (" (why("mix.cn", "how")) "). "
                    span.quiet { "Drying and rotting since then are not counted." }
                }
            }
            (forms(chamber, before, typed, tongue))
        }
    }
}

/// What to know before a chamber is closed, emptied or topped up.
#[derive(Debug, Default)]
pub(super) struct Before {
    pub(super) id: String,
    /// The last dose, in words, if the chamber takes one.
    pub(super) last_dose: Option<String>,
    /// What is inside, kg: low, middle, high.
    pub(super) mass_kg: Option<units::Spread>,
    pub(super) top_up: Option<String>,
    /// Whether there is no other chamber for the next caddy.
    pub(super) alone: bool,
}

fn lifting(mass: units::Spread, tongue: Tongue) -> String {
    use desk::TUB_KG;
    format!(
        "It weighs {}, by arithmetic. That is {:.0} to {:.0} tubs of {} at most: lift no more at once.",
        tongue.mass(Some(mass)),
        (mass.low / TUB_KG).ceil(),
        (mass.high / TUB_KG).ceil(),
        tongue.weight(TUB_KG)
    )
}

fn forms(chamber: &ChamberFacts, before: Option<&Before>, typed: &Typed, tongue: Tongue) -> Markup {
    let came_out = format!(
        "{} that came out",
        words::capital(tongue.field(Kind::Chamber).0)
    );
    let bucket = format!(
        "Leave it empty if you did not count. A bucket is {}.",
        tongue.size(10.0)
    );
    let name = chamber.name.as_str();
    let (close, empty, part) = (form("close", name), form("empty", name), form("part", name));
    html! {
        @if chamber.state == "filling" {
            details open[typed.open(&close)] {
                summary { "Close " (name) }
                form #{(close) "-chamber"} method="post" action="/chambers/close" {
                    @if let Some(dose) = before.and_then(|b| b.last_dose.as_ref()) {
                        p { b { "The last dose first: " } "with the last full caddy, " (dose) }
                    }
                    p {
                        "It takes no more and finishes. "
                        @if before.is_some_and(|b| b.alone) { "The next caddy wants a second container." }
                        @else { "The next caddy goes to the other chamber." }
                    }
                    input type="hidden" name="chamber" value=(name);
                    (typed.key(&close))
                    button { "Close " (name) " now" }
                }
            }
        }
        @if chamber.state != "empty" {
            details open[typed.open(&empty)] {
                summary { "Empty " (name) }
                form method="post" action="/chambers/empty" {
                    @if let Some(mass) = before.and_then(|b| b.mass_kg) { p { (lifting(mass, tongue)) } }
                    input type="hidden" name="chamber" value=(name);
                    (typed.key(&empty))
                    (Input::new(&empty, "litres", &came_out).hint(&bucket).digits().draw(typed))
                    div.field {
                        label for={ (empty) "-fit_for" } { "What was it fit for?" }
                        select id={ (empty) "-fit_for" } name="fit_for" {
                            option value="" { "Not judged" }
                            @for rung in ["mulch", "resting_bed", "planted_bed", "pots", "seed_trays"] {
                                option value=(rung) { (words::capital(words::when::rung(rung))) }
                            }
                        }
                        p.hint { "It shows how good our windows are, and mends the next." }
                    }
                    button { (name) " is empty now" }
                }
            }
        }
        details open[typed.open(&part)] {
            summary { "Begin with " (name) " part-full" }
            form method="post" action="/chambers/part-full" {
                p { "For a chamber that was filling before you kept a log. A guess is fine." }
                input type="hidden" name="chamber" value=(name);
                (typed.key(&part))
                (Input::new(&part, "level", "How full, %").hint("Half is 50.").digits().draw(typed))
                (Input::new(&part, "days", "Begun how many days ago?").hint("Four months is about 120.").digits().draw(typed))
                (Input::new(&part, "text", "Roughly what is in it?").hint(if tongue.us { "As: 45 pounds kitchen scraps, 2 sacks of dry leaves." } else { "As: 20 kg kitchen scraps, 2 sacks of dry leaves." }).draw(typed))
                button { "Begin from here" }
            }
        }
    }
}
