//! Local rules, as the household answers for itself.

use axum::extract::State;
use axum::response::Response;
use desk::{HouseholdChange, LocalRules};
use maud::{Markup, html};

use super::view::filled;
use crate::pages::_frame::form::Wrong;
use crate::pages::_frame::{Fields, Input, Oops, Site, Typed};
use crate::words::{Kind, Tongue, household as say};

pub(super) const RULES: &str = "rules";

pub(crate) async fn keep(State(site): State<Site>, fields: Fields) -> Result<Response, Oops> {
    let (now, tongue) = site
        .ask(|desk| Ok((desk.local_rules()?, Tongue::of(desk))))
        .await?;
    let change = read(&fields, &now, tongue);
    super::keep(&site, RULES, "apart", fields, change).await
}

fn read(fields: &Fields, now: &LocalRules, tongue: Tongue) -> Result<HouseholdChange, Wrong> {
    // What still stands as it was shown was not answered anew.
    let changed = |name, kind, kept: Option<f64>| {
        let shown = kept.map(|v| filled(v, kind, tongue));
        if shown.is_some_and(|text| text == fields.get(name)) {
            return Ok(kept);
        }
        fields.measure(name, kind, tongue)
    };
    let change = (
        fields.some("food").map(|f| f == "yes"),
        changed("apart", Kind::Distance, now.apart_m)?,
        changed("largest", Kind::Chamber, now.largest_l)?,
    );
    if change == (None, None, None) {
        return Err(Wrong {
            field: "food",
            text: "Nothing is answered yet. Answer what you know, and leave the rest.".into(),
        });
    }
    let (food_allowed, apart_m, largest_l) = change;
    Ok(HouseholdChange::Rules {
        food_allowed,
        apart_m,
        largest_l,
    })
}

pub(super) fn section(rules: &LocalRules, typed: &Typed, tongue: Tongue) -> Markup {
    let (metres, _) = tongue.field(Kind::Distance);
    let (litres, _) = tongue.field(Kind::Chamber);
    let shown = |v: Option<f64>, kind| v.map(|v| filled(v, kind, tongue)).unwrap_or_default();
    html! {
        h2 #rules { "Local rules" }
        p { (say::ASK) " No rule of any place is known here: answer what you were told." }
        form method="post" action="/household/rules" {
            (typed.key(RULES))
            div.fields {
                (food(rules.food_allowed, typed))
                (Input::new(RULES, "apart", &format!("How far from a neighbour or a window, {metres}"))
                    .usual(shown(rules.apart_m, Kind::Distance)).digits().draw(typed))
                (Input::new(RULES, "largest", &format!("How large a chamber may be, {litres}"))
                    .usual(shown(rules.largest_l, Kind::Chamber)).digits().draw(typed))
            }
            button { "Keep these rules" }
        }
        p.quiet { "Left empty, nothing is taken for granted. The log takes an answer back." }
    }
}

fn food(now: Option<bool>, typed: &Typed) -> Markup {
    let chosen = match (typed.get(RULES, "food"), now) {
        ("yes", _) | ("", Some(true)) => "yes",
        ("no", _) | ("", Some(false)) => "no",
        _ => "",
    };
    let beside = typed.beside(RULES, "food");
    html! {
        div.field {
            label for="rules-food" { "May cooked food and meat go in?" }
            @if let Some(text) = beside { p.beside id="rules-food-wrong" { (text) } }
            select id="rules-food" name="food" aria-describedby=[beside.map(|_| "rules-food-wrong")]
                aria-invalid=[beside.map(|_| "true")] {
                @for (value, text) in [("", "I do not know"), ("no", "No"), ("yes", "Yes")] {
                    @if !value.is_empty() || now.is_none() {
                        option value=(value) selected[value == chosen] { (text) }
                    }
                }
            }
        }
    }
}
