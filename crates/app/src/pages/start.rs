//! How to begin?

use axum::extract::State;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};

use super::_frame::form::Wrong;
use super::_frame::{Fields, Input, Oops, Site, Tab, Typed};
use crate::words::{Kind, Tongue};

/// Food waste of one person in a week, kg: middle, low and high of UNEP Food Waste Index (year 2022),
/// Eurostat (2022) and WRAP (2021). Not all of it goes into a drum.
const SCRAPS_KG: [f64; 3] = [1.4, 1.38, 1.51];
/// Scraps as they lie in a caddy, kg per litre (judged; soft food packs closer than peelings).
const CADDY_KG_L: f64 = 0.5;
/// Litres of each of two chambers for one person's half year (judged: browns added, shrinking counted).
const CHAMBER_L: f64 = 40.0;
/// Caddies sold and used, L (common practice).
const CADDIES_L: [f64; 4] = [3.0, 5.0, 7.0, 10.0];

pub(crate) async fn page(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    let (typed, sizes) = match asked.number("people") {
        Ok(None) => (Typed::default(), None),
        Ok(Some(people)) if (1.0..=12.0).contains(&people) => {
            (Typed::new("start", asked), Some(Sizes::of(people)))
        }
        Ok(Some(_)) => {
            let text = "Give 1 to 12 people. More than that want a heap in a garden.".into();
            (
                Typed::wrong(
                    "start",
                    asked,
                    Wrong {
                        field: "people",
                        text,
                    },
                ),
                None,
            )
        }
        Err(wrong) => (Typed::wrong("start", asked, wrong), None),
    };
    let tongue = site.tongue().await?;
    let status = typed.status();
    Ok(site
        .page_with(
            status,
            Tab::More,
            "How to begin",
            &view(&typed, sizes.as_ref(), tongue),
        )
        .into_response())
}

/// What a household of so many needs.
#[derive(Debug, PartialEq)]
struct Sizes {
    week_kg: f64,
    caddy_l: f64,
    chamber_l: f64,
}

impl Sizes {
    /// The caddy is emptied twice a week; the next size up is taken.
    fn of(people: f64) -> Self {
        let week_kg = people * SCRAPS_KG[0];
        let needed = week_kg / 2.0 / CADDY_KG_L;
        let largest = CADDIES_L[CADDIES_L.len() - 1];
        Self {
            week_kg,
            caddy_l: CADDIES_L
                .into_iter()
                .find(|l| *l >= needed)
                .unwrap_or(largest),
            chamber_l: people * CHAMBER_L,
        }
    }
}

fn view(typed: &Typed, sizes: Option<&Sizes>, tongue: Tongue) -> Markup {
    html! {
        h1 { "How to begin?" }
        (typed.summary())
        form method="get" action="/start" {
            (Input::new("start", "people", "How many people eat at home?").hint("As: 3").digits().draw(typed))
            button { "What do we need?" }
        }
        @if let Some(sizes) = sizes { (needed(sizes, tongue)) }
        div.columns {
            section {
                h2 { "Bought or home-made?" }
                p { "A drum on a stand turns easily and keeps rats out. It costs most and holds least." }
                p { "Two bins with lids hold more and cost little. You turn them with a fork." }
                p { "A barrel with holes, or four pallets, costs next to nothing. Line the ground with wire mesh against rats." }
                p { "Two chambers beat one big one: one fills while the other finishes." }
            }
            section {
                h2 { "Where does it stand?" }
                p { "Close to the kitchen door, on firm and level ground, with room to swing or fork." }
                p { "Half shade is best. Full sun dries it; deep shade keeps it cold. Keep dripping juice off the neighbours." }
                p { "Ask the landlord and look up local rules first. No room outside? Ask about a shared heap nearby." }
            }
            section {
                h2 { "What does it cost and save?" }
                p { "A half year’s batch gives perhaps a quarter of the chamber as finished compost (judged)." }
                @if tongue.us {
                    p { "A chamber of 34 gal then gives about 9 gal, or 1 cubic foot. Bags are sold by the cubic foot: look at your store." }
                    p { "The gain is soil, not money." }
                } @else {
                    p { "Bagged compost costs about £0.10 to £0.25 a litre (recalled; look at your shop)." }
                    p { "So a chamber of 130 L may save £3 to £8 a batch. The gain is soil, not money." }
                }
            }
            section {
                h2 { "The first fill" }
                ol {
                    li { "Lay in a sack of dry leaves or torn card before the first scraps." }
                    li { "Start with a hand’s depth of coarse browns: twigs, torn egg boxes." }
                    li { "Tip in the first caddy with the browns that " a href="/add" { "Add" } " names. Mix." }
                    li { "A spade of garden soil or old compost may help it along. It needs no bought starter." }
                }
            }
            section {
                h2 { "The first six weeks" }
                ol {
                    li { "Weeks 1–2: little happens. It may stay cold; a small amount loses heat fast." }
                    li { "Each caddy: browns with it, every time. Turn once or twice a week." }
                    li { "Weeks 3–4: the level falls. Squeeze a handful: it holds, and does not drip." }
                    li { "It drips or smells? More torn card, and turn. It crumbles dry? A cup of water." }
                    li { "Weeks 5–6: it smells of earth inside. Keep on filling until a fifth is left empty." }
                }
                p.quiet { "Common practice." }
            }
            section {
                h2 { "Already half full?" }
                p { "Say how full it is, since when, and roughly what is in it. A guess is fine." }
                p { a.go href="/household#chamber-name" { "1. Name the chambers" } }
                p { a.go href="/chambers" { "2. Say what is in them" } }
            }
        }
    }
}

fn needed(sizes: &Sizes, tongue: Tongue) -> Markup {
    let (mass, size) = tongue.field(Kind::Mass);
    let whole = |kg: f64| format!("{:.0} {mass}", (kg / size).max(1.0));
    let each = |kg: f64| {
        let text = format!("{:.2}", kg / size);
        if tongue.us {
            format!("{:.1}", kg / size)
        } else {
            text.trim_end_matches('0').to_owned()
        }
    };
    html! {
        p.big { "A caddy of about " (tongue.size(sizes.caddy_l)) ", and two chambers of about " (tongue.size(sizes.chamber_l)) "." }
        p {
            "You throw out about " (whole(sizes.week_kg)) " of food scraps a week: "
            (each(SCRAPS_KG[1])) "–" (each(SCRAPS_KG[2])) " " (mass) " each (UNEP 2022, Eurostat 2022, WRAP 2021)."
        }
        p.quiet {
            "That counts all food; what stays out makes it less. The caddy is for two trips a week, "
            @if tongue.us { "a pound a quart" } @else { "half a kilogram a litre" } " (judged). "
            "A chamber takes half a year at " (tongue.size(CHAMBER_L)) " each (judged: "
            @if tongue.us { "8–16 gal" } @else { "30–60 L" } ")."
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_people_need_a_middling_caddy() {
        let sizes = Sizes::of(3.0);
        assert_eq!((sizes.caddy_l, sizes.chamber_l), (5.0, 120.0));
        assert_eq!(
            Sizes::of(12.0).caddy_l,
            10.0,
            "no caddy larger than one can carry"
        );
    }
}
