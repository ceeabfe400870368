//! Can this go in, and as what?

use axum::extract::State;
use axum::response::{IntoResponse, Response};
use desk::{FigureFacts, LookAnswer, MatchFacts};
use maud::{Markup, html};

use super::_frame::{Fields, Input, Site, Tab, Typed, escaped, mark, number, sentence, why};
use crate::words;

pub(crate) async fn page(State(site): State<Site>, asked: Fields) -> Response {
    let words = asked.get("q").to_owned();
    if words.is_empty() {
        return site
            .page(Tab::Look, "Look up", &view(None, &Typed::default()))
            .into_response();
    }
    let question = words.clone();
    match site.ask(move |desk| desk.look_up(&question)).await {
        Ok(answer) => {
            let body = view(Some(&answer), &Typed::new("look", asked));
            site.page(Tab::Look, &format!("{} – look up", answer.asked), &body)
                .into_response()
        }
        Err(oops) => {
            let typed = Typed::refused("look", asked, "q", &oops);
            site.page_with(typed.status(), Tab::Look, "Look up", &view(None, &typed))
        }
    }
}

fn view(answer: Option<&LookAnswer>, typed: &Typed) -> Markup {
    html! {
        h1 { "Can this go in?" }
        (typed.summary())
        form.low[answer.is_none()] method="get" action="/look" role="search" {
            (Input::new("look", "q", "What is it?").hint("As: eggshell, pizza box, oak leaves.").search().draw(typed))
            button.main { "Look it up" }
        }
        @if let Some(answer) = answer {
            @for (at, found) in answer.matches.iter().enumerate() { (material(found, at == 0)) }
            @if answer.matches.is_empty() {
                p.big { span translate="no" { "“" (answer.asked) "”" } " is not known here." }
                p { "Leave it out until you know what it is made of. Plain plant matter mostly goes in." }
            }
            @if !answer.near.is_empty() {
                h2 { "Near names" }
                ul.plain {
                    @for near in &answer.near {
                        li { a.row href=(format!("/look?q={}", escaped(&near.name))) { (near.name) } }
                    }
                }
            }
        }
    }
}

fn material(found: &MatchFacts, first: bool) -> Markup {
    let (agree, differ): (Vec<_>, Vec<_>) = found.lists.iter().partition(|l| l.agrees);
    html! {
        article.material {
            h2 { (mark(found.role)) " " (found.name) }
            p.big { (sentence(words::verdict(found.verdict))) }
            @if !found.preparation.is_empty() { p { b { "First: " } (sentence(&found.preparation)) } }
            @if let Some(cap) = found.cap_pct { p { b { "At most " (number(cap)) " %" } " of a week’s feed." } }
            @if !found.caution.is_empty() { p.flag { (sentence(&found.caution)) } }
            @if let Some(local) = words::household::food(found.local) {
                p.quiet { (local) " (" a href="/household#rules" { "local rules" } ")" }
            }
            p {
                @if found.role == "neutral" { "It is " } @else { "It " } (words::role(found.role)) "."
                @if let Some(cn) = found.cn {
                    " C:N about " b { (two(cn.mid)) } " (" (two(cn.low)) "–" (two(cn.high)) "); " (why("mix.cn", "how")) "."
                }
            }
            @if !found.lists.is_empty() {
                details open[first && !differ.is_empty()] {
                    summary { "What published lists say (" (found.lists.len()) ")" }
                    @if !differ.is_empty() { h3 { "They differ from us" } }
                    ul.notes {
                        @for l in &differ {
                            li { span translate="no" { (sentence(&l.says)) } " " @if !l.why.is_empty() { b { "Ours: " } (sentence(&l.why)) " " } span.quiet translate="no" { (l.source) } }
                        }
                    }
                    @if !agree.is_empty() { h3 { "They agree with us" } }
                    ul.notes { @for l in &agree { li { span translate="no" { (sentence(&l.says)) } " " span.quiet translate="no" { (l.source) } } } }
                }
            }
            @if !found.figures.is_empty() {
                details {
                    summary { "Figures and where they come from (" (found.figures.len()) ")" }
                    ul.notes { @for f in &found.figures { (figure(f)) } }
                }
            }
        }
    }
}

fn figure(f: &FigureFacts) -> Markup {
    let value = if f.low == f.high {
        format!("{} {}", three(f.value), f.unit)
    } else {
        format!(
            "{} ({}–{}) {}",
            three(f.value),
            three(f.low),
            three(f.high),
            f.unit
        )
    };
    html! {
        li { (property(f.property)) ": " (why(&f.id, &value)) ", " (f.grade) ". " span.quiet translate="no" { (f.source) } }
    }
}

/// Properties as a gardener calls them.
fn property(word: &str) -> &str {
    match word {
        "water_pct" => "Wetness",
        "carbon_pct_dry" => "Carbon",
        "nitrogen_pct_dry" => "Nitrogen",
        "cn" => "C:N",
        "density_kg_m3" => "Weight of a cubic metre",
        "ash_pct_dry" => "Ash",
        "lignin_pct_dry" => "Lignin (woody part)",
        "carbonate_carbon_pct_dry" => "Carbon in shell or lime",
        other => other,
    }
}

fn figures(value: f64, most: i32) -> String {
    if value == 0.0 || !value.is_finite() {
        return number(value);
    }
    let below = most - 1 - value.abs().log10().floor() as i32;
    let step = 10f64.powi(-below);
    let rounded = (value / step).round() * step;
    let places = usize::try_from(below.max(0)).unwrap_or_default();
    let text = format!("{rounded:.places$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// Two figures: a table of C:N bears no more.
fn two(value: f64) -> String {
    figures(value, 2)
}

fn three(value: f64) -> String {
    figures(value, 3)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_more_than_the_figures_asked_for() {
        for (value, said) in [
            (24.7, "25"),
            (7.96, "8"),
            (463.0, "460"),
            (0.0, "0"),
            (1.25, "1.3"),
        ] {
            assert_eq!(two(value), said);
        }
        assert_eq!(three(45.0), "45");
        assert_eq!(three(0.1234), "0.123");
    }
}
