//! Where does this number come from?

use axum::extract::State;
use axum::response::{IntoResponse, Response};
use desk::WhyAnswer;
use maud::{Markup, html};

use super::_frame::{Fields, Input, Oops, Site, Tab, Typed, sentence, why};

pub(crate) async fn page(State(site): State<Site>, asked: Fields) -> Result<Response, Oops> {
    let rules = site.ask(|desk| Ok(desk.rules())).await?;
    let Some(id) = asked.owned("id") else {
        let body = list(&rules, &Typed::default());
        return Ok(site.page(Tab::More, "Workings", &body).into_response());
    };
    match site.ask(move |desk| desk.why(&id)).await {
        Ok(answer) => Ok(site
            .page(Tab::More, &answer.title, &one(&answer))
            .into_response()),
        Err(oops) => {
            let typed = Typed::refused("workings", asked, "id", &oops);
            Ok(site.page_with(typed.status(), Tab::More, "Workings", &list(&rules, &typed)))
        }
    }
}

fn one(answer: &WhyAnswer) -> Markup {
    let (ids, others): (Vec<_>, Vec<_>) = answer.rests_on.iter().partition(|id| !id.contains(' '));
    html! {
        h1 { (answer.title) }
        @if let Some(value) = &answer.value { p.big { (value) } }
        @for line in &answer.lines { p { (line) } }
        @for other in &others { p { "Rests on " (other) "." } }
        h2 { "From" }
        ul.notes { @for source in &answer.sources { li translate="no" { (sentence(source)) } } }
        @if !ids.is_empty() {
            h2 { "Rests on" }
            ul.plain { @for id in &ids { li.row { (why(id, id)) } } }
        }
        p { a.row href="/workings" { "All workings" } }
    }
}

fn list(rules: &[(&str, &str)], typed: &Typed) -> Markup {
    html! {
        h1 { "Where does a number come from?" }
        (typed.summary())
        form method="get" action="/workings" {
            (Input::new("workings", "id", "Id of a number")
                .hint("Ids stand beside numbers, as coffee-grounds.nitrogen_pct_dry.")
                .draw(typed))
            button { "Show it" }
        }
        h2 { "Rules and choices" }
        ul.plain.many { @for (id, title) in rules { li.row { (why(id, title)) } } }
        p { "Figures of a material stand on its page: " a href="/look" { "look it up" } "." }
    }
}
