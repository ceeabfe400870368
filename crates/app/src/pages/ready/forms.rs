//! Four small forms, each of which becomes a test in plain words: seeds, bag, flask, or the words themselves.

use desk::{Error, ReadyAnswer};
use maud::{Markup, html};

use crate::pages::_frame::form::Wrong;
use crate::pages::_frame::{Fields, Input, Typed};
use crate::words::Tongue;

pub(super) const SEEDS: &str = "seeds";
pub(super) const BAG: &str = "bag";
pub(super) const FLASK: &str = "flask";
pub(super) const WORDS: &str = "words";

/// Seeds sown where nobody says otherwise: two pots of ten.
const SOWN: &str = "20";
/// Smells of a bag: the word of the test, and what stands on the button.
const SMELLS: [(&str, &str); 5] = [
    ("earthy", "Earth"),
    ("sour", "Sour"),
    ("rotten", "Rotten"),
    ("ammonia", "Ammonia"),
    ("swollen", "Swollen"),
];

/// The form of that name; words where none is known.
pub(super) fn named(name: &str) -> &'static str {
    [SEEDS, BAG, FLASK]
        .into_iter()
        .find(|f| *f == name)
        .unwrap_or(WORDS)
}

fn wanted(fields: &Fields, name: &'static str, what: &str) -> Result<f64, Wrong> {
    fields.number(name)?.ok_or_else(|| Wrong {
        field: name,
        text: format!("{what} Give a number."),
    })
}

/// A form as a test in plain words.
pub(super) fn words(form: &str, fields: &Fields, tongue: Tongue) -> Result<String, Wrong> {
    match form {
        SEEDS => {
            let up = wanted(fields, "up", "How many came up in compost?")?;
            let sown = wanted(fields, "sown", "How many were sown in compost?")?;
            let control = (fields.number("control_up")?, fields.number("control_sown")?);
            Ok(match control {
                (Some(_), None) => {
                    return Err(Wrong {
                        field: "control_sown",
                        text: "How many were sown in plain mix? Give a number.".into(),
                    });
                }
                (Some(cu), Some(cs)) => format!("seeds {up} of {sown}, control {cu} of {cs}"),
                // The sown field is filled in beforehand: without a count there was no control.
                _ => format!("seeds {up} of {sown}"),
            })
        }
        BAG => Ok(format!("bag {}", fields.get("smell"))),
        FLASK => {
            let rise = wanted(fields, "rise", "How far above the room did it rise?")?;
            let unit = if tongue.us { "F" } else { "K" };
            let mut text = format!("flask rose {rise} {unit}");
            if let Some(days) = fields.number("days")? {
                text.push_str(&format!(" in {days} days"));
            }
            if let Some(litres) = fields.measure("litres", crate::words::Kind::Caddy, tongue)? {
                text.push_str(&format!(", flask {litres} L"));
            }
            Ok(text)
        }
        _ => Ok(fields.get("text").to_owned()),
    }
}

/// The field of a form that an error is about.
pub(super) fn field_of(form: &str, error: &Error) -> &'static str {
    let about = match error {
        Error::BadSetting { field, .. } => field.as_str(),
        _ => "",
    };
    match (form, about) {
        (SEEDS, "control") => "control_up",
        (SEEDS, _) => "up",
        (FLASK, "days") => "days",
        (FLASK, a) if a.starts_with("size") => "litres",
        (FLASK, _) => "rise",
        (BAG, _) => "smell",
        _ => "text",
    }
}

fn hidden(a: &ReadyAnswer, form: &str, typed: &Typed) -> Markup {
    html! {
        (typed.key(form))
        input type="hidden" name="form" value=(form);
        input type="hidden" name="chamber" value=(a.chamber);
    }
}

pub(super) fn seeds(a: &ReadyAnswer, typed: &Typed) -> Markup {
    let input = |name, label| Input::new(SEEDS, name, label).digits();
    html! {
        form method="post" action="/ready" {
            (hidden(a, SEEDS, typed))
            fieldset {
                legend { "Seed test" }
                div.quad {
                    (input("up", "Came up in compost").draw(typed))
                    (input("sown", "Sown in compost").usual(SOWN).draw(typed))
                    (input("control_up", "Came up in plain mix").draw(typed))
                    (input("control_sown", "Sown in plain mix").usual(SOWN).draw(typed))
                }
            }
            button.main { "Note the seeds" }
        }
    }
}

pub(super) fn bag(a: &ReadyAnswer, typed: &Typed) -> Markup {
    let beside = typed.beside(BAG, "smell");
    html! {
        form method="post" action="/ready" {
            (hidden(a, BAG, typed))
            fieldset {
                legend #bag-smell tabindex="-1" { "Bag test: what did it smell of?" }
                @if let Some(text) = beside { p.beside { (text) } }
                div.trio {
                    @for (word, label) in SMELLS { button name="smell" value=(word) { (label) } }
                }
            }
        }
    }
}

pub(super) fn flask(a: &ReadyAnswer, typed: &Typed, tongue: Tongue) -> Markup {
    let (rise, litres) = if tongue.us {
        ("Most above the room, °F", "Size of the flask, quarts")
    } else {
        ("Most above the room, °C", "Size of the flask, litres")
    };
    html! {
        form method="post" action="/ready" {
            (hidden(a, FLASK, typed))
            fieldset {
                legend { "Flask test" }
                (Input::new(FLASK, "rise", rise).digits().draw(typed))
                (Input::new(FLASK, "days", "Days it was watched").digits().draw(typed))
                (Input::new(FLASK, "litres", litres)
                    .hint("Left empty, it counts as a small one, which hides some heat.")
                    .digits().draw(typed))
            }
            button { "Note the flask" }
        }
    }
}

pub(super) fn free(a: &ReadyAnswer, typed: &Typed) -> Markup {
    html! {
        form method="post" action="/ready" {
            (hidden(a, WORDS, typed))
            (Input::new(WORDS, "text", "Any test, in words")
                .hint("As: bag earthy. Or: jar 20000 ppm in 4 h, 1.9 L, 50 g.")
                .draw(typed))
            button { "Note it" }
        }
    }
}
