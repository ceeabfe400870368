//! Choices as large as a glove, and what came of them.

use desk::{ChamberFacts, CheckAnswer, ForecastAnswer, Given};
use maud::{Markup, html};

use super::FORM;
use crate::pages::_frame::{Input, Typed, key, why};
use crate::pages::{chamber, when};
use crate::words::{self, Tongue, check};

/// A choice: what is sent, what is shown, a word more.
type Choice = (&'static str, &'static str, &'static str);

const SQUEEZE: [Choice; 5] = [
    ("dusty", "Dusty", "dust on the glove"),
    ("crumbles", "Crumbles", "falls apart"),
    ("holds", "Holds", "no drip"),
    ("drips", "Drips", "one to three drops"),
    ("runs", "Runs", "water runs out"),
];
const SHARES: [Choice; 4] = [
    ("none", "None", ""),
    ("few", "Few", "under half"),
    ("some", "Some", "over half"),
    ("most", "Most", "nearly all"),
];
const SMELLS: [Choice; 6] = [
    ("nothing", "Nothing", ""),
    ("earthy", "Earthy", "forest floor"),
    ("sour", "Sour", "vinegar"),
    ("rotten", "Rotten", "bad eggs, drains"),
    ("ammonia", "Ammonia", "stings the nose"),
    ("musty", "Musty", "cellar, mould"),
];
const WARMTHS: [Choice; 4] = [
    ("cold", "Cold", ""),
    ("cool", "Cool", "as a cellar"),
    ("warm", "Warm", "as skin"),
    ("hot", "Hot", "hard to hold"),
];

pub(super) fn page(
    chambers: &[ChamberFacts],
    known: Option<&ForecastAnswer>,
    typed: &Typed,
    tongue: Tongue,
) -> Markup {
    let holding: Vec<&ChamberFacts> = chambers.iter().filter(|c| c.state != "empty").collect();
    html! {
        h1 { "What did you see?" }
        (typed.summary())
        @if holding.is_empty() {
            p.big { "Nothing to look into yet." }
            p { "Once something is in a chamber, what you see in it is noted here." }
            p { a.go href="/add" { "What is in tonight’s caddy?" } }
        } @else {
            @if let Some(text) = known.and_then(check::worth) { p { (text) " (" (why("check.worth", "how")) ")" } }
            form.check method="post" action="/check" {
                (typed.key(FORM))
                (of_which(&holding, typed))
                (pick("squeeze", "Squeeze a handful", &SQUEEZE, typed, true, Some(hand)))
                (pick("card", "Card and stalk you can still tell", &SHARES, typed, false, None))
                (level(typed))
                (pick("smell", "Smell, at the door", &SMELLS, typed, false, None))
                (pick("warmth", "A hand held in", &WARMTHS, typed, false, None))
                details open[open(typed, "degrees") || open(typed, "look")] {
                    summary { "Thermometer, creatures, your own words" }
                    (Input::new(FORM, "degrees", if tongue.us { "In the middle, °F" } else { "In the middle, °C" }).digits().draw(typed))
                    (Input::new(FORM, "look", "In your own words")
                        .hint("As: turned, worms, 31 kg, yesterday evening.").draw(typed))
                }
                div.save { button.main { "Note it" } }
            }
            p.quiet { "Wear gloves. Latch the drum before you reach in, and keep your face out of the door." }
        }
    }
}

fn open(typed: &Typed, name: &str) -> bool {
    !typed.get(FORM, name).is_empty() || typed.beside(FORM, name).is_some()
}

fn of_which(holding: &[&ChamberFacts], typed: &Typed) -> Markup {
    let asked = typed.get(FORM, "chamber");
    let first = holding
        .iter()
        .find(|c| c.name == asked)
        .or_else(|| holding.iter().find(|c| c.state == "closed"))
        .or(holding.first());
    html! {
        fieldset.pick #check-chamber {
            legend { "Which chamber?" }
            @for c in holding {
                label { input type="radio" name="chamber" value=(c.name) checked[first.is_some_and(|f| f.id == c.id)]; span { b { (c.name) } " " span.quiet { (c.state) } } }
            }
        }
    }
}

/// A fold of large choices; one more takes a choice back, for want of a script.
fn pick(
    name: &str,
    legend: &str,
    choices: &[Choice],
    typed: &Typed,
    first: bool,
    sketch: Option<fn(usize) -> Markup>,
) -> Markup {
    let chosen = typed.get(FORM, name);
    html! {
        details open[first || !chosen.is_empty()] {
            summary { (legend) }
            fieldset.pick.sketched[sketch.is_some()] {
                legend.unseen { (legend) }
                @for (at, (value, shown, more)) in choices.iter().enumerate() {
                    label {
                        input type="radio" name=(name) value=(value) checked[chosen == *value];
                        @if let Some(draw) = sketch { (draw(at)) }
                        span { b { (shown) } @if !more.is_empty() { " " span.quiet { (more) } } }
                    }
                }
                label { input type="radio" name=(name) value="" checked[chosen.is_empty()]; span.quiet { "Not looked at" } }
            }
        }
    }
}

/// A squeezed lump in five grades: dust, crumbs, a lump, drops, a stream.
fn hand(grade: usize) -> Markup {
    let lump = match grade {
        0 => "M10 20h.01M16 16h.01M22 20h.01M28 15h.01M33 21h.01M13 25h.01M25 26h.01M31 27h.01",
        1 => "M8 22l5-6 5 5-4 5zM20 14l6-2 3 6-6 3zM25 27l6-3 4 4-5 3z",
        _ => "M8 18c0-7 6-11 14-11s14 4 14 10-6 10-14 10S8 25 8 18z",
    };
    let drops = match grade {
        3 => "M16 32v3M23 34v3",
        4 => "M13 29v12M18 30v12M23 31v12M28 30v12M32 28v10",
        _ => "",
    };
    html! {
        svg.lump.dust[grade == 0] viewBox="0 0 44 44" width="44" height="44" aria-hidden="true" focusable="false" {
            path d=(lump) {}
            @if !drops.is_empty() { path.drops d=(drops) {} }
        }
    }
}

fn level(typed: &Typed) -> Markup {
    html! {
        details open[open(typed, "fingers")] {
            summary { "Level, by fingers" }
            div.split {
                svg.rim viewBox="0 0 120 84" width="120" height="84" aria-hidden="true" focusable="false" {
                    path.shell d="M20 10C6 26 6 62 30 80h60c24-18 24-54 10-70" {}
                    path.mix d="M12 50q24-5 48 0t48 0c0 12-6 24-18 30H30C18 74 12 62 12 50z" {}
                    path.fingers d="M44 12h26M44 20h26M44 28h26M44 36h26M44 44h26" {}
                }
                div {
                    (Input::new(FORM, "fingers", "Fingers from the rim down to the surface")
                        .hint("Lay your fingers flat, one under the other. Or write: half full, 60 %.").digits().draw(typed))
                }
            }
        }
    }
}

pub(super) fn seen(a: &CheckAnswer, given: Option<&Given>, tongue: Tongue) -> Markup {
    html! {
        h1 { "What it means" }
        div.done role="status" {
            p { "Noted for " b { (a.chamber) } ", " (a.at) ":" }
            ul.notes { @for s in &a.understood {
                li {
                    (words::capital(&check::echo(s, tongue)))
                    @if let Some(assumed) = s.assumed { span.quiet { " (" (assumed) ")" } }
                }
            } }
            @if a.written {
                form method="post" action="/undo" {
                    input type="hidden" name="id" value=(a.id);
                    input type="hidden" name="key" value=(key());
                    button.small { "Undo" }
                }
            } @else { p { "This was undone and does not count." } }
        }
        @for one in &a.set_aside { p.flag.hollow { (check::aside(one, tongue)) } }
        @for one in &a.unknown { p.flag { "Not understood: " span translate="no" { "“" (one.text) "”" } "; " (one.hint) "." } }
        p.big { (check::meaning(a)) }
        @match (&a.after, given) {
            (None, _) => {
                p { "The window follows: it is being worked out. The next look at this page has it." }
                p { a.row href=(format!("/check/seen?id={}", a.id)) { "Look again" } }
            }
            (Some(after), Some(given)) => {
                p { (check::changed_since(given, after)) " " span.quiet { "Against the forecast given on " (when_given(given)) "." } }
                (now(after))
            }
            (Some(after), None) => { (now(after)) }
        }
        p { a.row href=(super::of(&a.chamber)) { "Note another look" } }
        p { a.row href=(chamber::inside_of(&a.chamber)) { "What is it like inside?" } }
    }
}

fn when_given(given: &Given) -> String {
    words::when::day(given.on)
}

fn now(after: &ForecastAnswer) -> Markup {
    html! {
        @if let Some(bed) = words::when::rung_asked(after, words::when::BED) {
            p { (words::when::window(after, bed).join(" ")) " (" (why("forecast.window", "how")) ")" }
        }
        @if let Some(text) = check::worth(after) { p { (text) " (" (why("check.worth", "how")) ")" } }
        p { a.row href=(when::of(&after.chamber)) { "When can I use it, and for what?" } }
    }
}
