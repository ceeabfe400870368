//! The year in words, then as a strip; what helps; browns; a day to be ready for; going away.

use desk::{AwayAnswer, MonthFacts, SeasonAnswer};
use maud::{Markup, html};

use super::strip;
use crate::pages::_frame::{Typed, why};
use crate::words::{Tongue, capital, season};

pub(super) fn soon(chambers: usize) -> Markup {
    html! {
        h1 { "Will there be room, and compost when beds want it?" }
        @if chambers == 0 {
            p.big { "No chamber has a name yet." }
            p { "Give each chamber, bin or heap a name and a size first." }
            p { a.go href="/household#chamber-name" { "Name a chamber" } }
        } @else {
            p.big { "The year is being worked out." }
            p { "It takes a moment after each entry. Nothing waits for it." }
            p { a.go href="/season" { "Look again" } }
        }
        (away_form(&Typed::default()))
    }
}

pub(super) fn page(a: &SeasonAnswer, typed: &Typed, tongue: Tongue) -> Markup {
    let said = season::room(a);
    let (first, rest) = said
        .split_first()
        .map_or((String::new(), String::new()), |(f, r)| {
            (f.clone(), r.join(" "))
        });
    let tight = a.first_over().is_some();
    html! {
        h1 { "Will there be room, and compost when beds want it?" }
        (typed.summary())
        div.cols.season {
            section {
                p.big { (first) }
                p { (rest) " (" (why("season.overflow", "how")) ")" }
                @for (n, line) in season::advice(a, tongue).iter().enumerate() {
                    p { @if n == 0 { b { (line) } } @else { (line) } }
                }
                (strip::figure(a, &a.months, "now", "Doing as now"))
                @if tight && !a.changes.is_empty() { (strip::figure(a, &a.planned, "planned", "By the plan")) }
                (strip::key())
                (table(a, &a.months, "Doing as now, month by month", tongue))
                @if tight && !a.changes.is_empty() { (table(a, &a.planned, "By the plan, month by month", tongue)) }
            }
            section {
                @if tight {
                    @if !a.changes.is_empty() {
                        h2 { "The plan" }
                        ol { @for change in &a.changes { li { (season::change(a, change)) } } }
                        p.quiet { "Days far ahead will move. The plan is worked out anew each day (" (why("season.plan", "how")) ")." }
                    }
                    h2 { "What helps, least work first" }
                    ul.plain {
                        @for act in &a.acts {
                            li { p { b { (season::act_words(a, act.act)) } } p { (season::act_effect(a, act, tongue)) } }
                        }
                    }
                    p { (season::spilt(a, tongue)) " (" (why("season.acts", "how")) ")" }
                    p.quiet { "Scraps that wait outside draw rats and flies. Tie the sack, and follow the rule of your council." }
                }
                h2 { "Browns" }
                @for line in season::browns(a, tongue) { p { (line) } }
                p.quiet { "Worked out from your log (" (why("season.browns", "how")) ")." }
                div.rests {
                    p { b { "This is arithmetic, not a look inside." } " It takes for granted:" }
                    ul.notes { @for line in season::assumed(a, tongue) { li { (line) } } }
                }
            }
            section {
                h2 { "Compost for a day" }
                @if let Some(ready) = &a.ready {
                    @for line in season::ready(a, ready) { p { (line) } }
                    p.quiet { "A test grants it, never the date (" (why("season.ready", "how")) ")." }
                }
                form method="get" action="/season" {
                    (day_field("for", "day", "When is it wanted?", typed))
                    button { "When must I close?" }
                }
                (away_form(&Typed::default()))
            }
        }
    }
}

/// What the picture shows, for whoever does not see it.
fn table(a: &SeasonAnswer, months: &[MonthFacts], title: &str, tongue: Tongue) -> Markup {
    let mut names: Vec<_> = months.iter().map(|m| m.month).collect();
    names.dedup();
    html! {
        details {
            summary { (title) }
            table.worked {
                thead { tr { th scope="col" { "Month’s end" } @for name in &a.chambers { th scope="col" { (name) } } } }
                tbody {
                    @for month in names {
                        tr {
                            th scope="row" { (month.strftime("%b %Y").to_string()) }
                            @for m in months.iter().filter(|m| m.month == month) { td { (season::month(a, m, tongue)) } }
                        }
                    }
                }
            }
        }
    }
}

/// A day: the browser's own calendar, or typed.
fn day_field(form: &str, name: &str, label: &str, typed: &Typed) -> Markup {
    let id = format!("{form}-{name}");
    let beside = typed.beside(form, name);
    let (wrong, hint) = (format!("{id}-wrong"), format!("{id}-hint"));
    let about = if beside.is_some() {
        format!("{wrong} {hint}")
    } else {
        hint.clone()
    };
    html! {
        div.field {
            label for=(id) { (label) }
            p.hint id=(hint) { "Or write it as 2027-04-15, if no calendar opens." }
            @if let Some(text) = beside { p.beside id=(wrong) { (text) } }
            input id=(id) name=(name) type="date" value=(typed.get(form, name)) autocomplete="off"
                aria-describedby=(about) aria-invalid=[beside.map(|_| "true")];
        }
    }
}

fn away_form(typed: &Typed) -> Markup {
    html! {
        h2 #away { "Going away" }
        form method="get" action="/away" {
            div.fields {
                (day_field("away", "from", "First day away", typed))
                (day_field("away", "to", "Back on", typed))
            }
            button { "What to do before, and a slip" }
        }
    }
}

pub(super) fn away(a: Option<&AwayAnswer>, typed: &Typed, tongue: Tongue) -> Markup {
    html! {
        h1 { "Going away" }
        (typed.summary())
        @if let Some(a) = a {
            div.cols {
                section {
                    h2 { "Before you go" }
                    ul.plain.before {
                        @for (act, by) in &a.before {
                            li { b { (by.strftime("%-d %B").to_string()) } ": " (season::before(*act)) }
                        }
                    }
                    @if let Some(room) = season::room_then(a, tongue) { p { (room) } }
                    p.quiet { (days(a.days)) " away, " (warmth(a.air_c)) " (" (why("season.away", "how")) ")." }
                }
                section.slip {
                    h2 { "For whoever looks after it" }
                    p { b { (a.from.strftime("%-d %B").to_string()) " to " (a.to.strftime("%-d %B %Y").to_string()) } }
                    ul.notes { @for line in season::slip(a, tongue) { li { (capital(&line)) } } }
                    p.quiet { "Print this page and hang it by the drum." }
                }
            }
        }
        (away_form(typed))
        p { a.row href="/season" { "Will there be room?" } }
    }
}

fn days(count: i32) -> String {
    if count == 1 {
        "One day".into()
    } else {
        format!("{count} days")
    }
}

fn warmth(air_c: f64) -> &'static str {
    match air_c {
        c if c >= 16.0 => "in warm weather as usual for then",
        c if c >= 5.0 => "in mild weather as usual for then",
        _ => "in cold weather as usual for then",
    }
}
