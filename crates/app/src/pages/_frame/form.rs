//! Forms: what was typed stays, what is wrong stands on top and beside the field.

use std::collections::HashMap;
use std::hash::{BuildHasher, Hasher, RandomState};

use axum::extract::{Form, FromRequest, Request};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};

use super::{Oops, nothing, problem};
use crate::words::{Kind, Tongue, unit_named};

/// The fields of a form, or of a query.
#[derive(Debug, Clone, Default)]
pub(crate) struct Fields(HashMap<String, String>);

impl Fields {
    pub(crate) fn get(&self, name: &str) -> &str {
        self.0.get(name).map_or("", |text| text.trim())
    }

    pub(crate) fn some(&self, name: &str) -> Option<&str> {
        Some(self.get(name)).filter(|text| !text.is_empty())
    }

    pub(crate) fn owned(&self, name: &str) -> Option<String> {
        self.some(name).map(str::to_owned)
    }

    /// The fields named, under other names.
    pub(crate) fn renamed(&self, pairs: &[(&str, &str)]) -> Self {
        Self(
            pairs
                .iter()
                .filter_map(|(from, to)| Some(((*to).to_owned(), self.owned(from)?)))
                .collect(),
        )
    }

    /// A number as a person writes it: `7.5`, `7,5` or `7.5 L`; blank is none.
    pub(crate) fn number(&self, name: &'static str) -> Result<Option<f64>, Wrong> {
        let Some(text) = self.some(name) else {
            return Ok(None);
        };
        let end = text
            .find(|c: char| !(c.is_ascii_digit() || "+-.,".contains(c)))
            .unwrap_or(text.len());
        let (digits, unit) = text.split_at(end);
        let value = digits.replace(',', ".").parse::<f64>().ok();
        let unit_reads =
            unit.trim().chars().count() <= 8 && !unit.contains(|c: char| c.is_ascii_digit());
        match value.filter(|v| v.is_finite() && unit_reads) {
            Some(value) => Ok(Some(value)),
            None => Err(Wrong {
                field: name,
                text: format!("“{text}” is not a number. Write it as 7.5 or leave it empty."),
            }),
        }
    }

    /// A measure in L, kg or cm: `7.5` in the unit of the field, or with a unit of its own, `2 gal`.
    pub(crate) fn measure(
        &self,
        name: &'static str,
        kind: Kind,
        tongue: Tongue,
    ) -> Result<Option<f64>, Wrong> {
        let Some(value) = self.number(name)? else {
            return Ok(None);
        };
        let text = self.get(name);
        let word = text
            .trim_start_matches(|c: char| c.is_ascii_digit() || "+-.,".contains(c))
            .trim();
        let (usual, size) = tongue.field(kind);
        if word.is_empty() {
            return Ok(Some(value * size));
        }
        match unit_named(word, kind) {
            Some(size) => Ok(Some(value * size)),
            None => Err(Wrong {
                field: name,
                text: format!("“{text}”: “{word}” is no measure for this. Give it in {usual}."),
            }),
        }
    }
}

impl<S: Send + Sync> FromRequest<S> for Fields {
    type Rejection = Response;

    async fn from_request(request: Request, state: &S) -> Result<Self, Response> {
        match Form::<HashMap<String, String>>::from_request(request, state).await {
            Ok(Form(fields)) => Ok(Self(fields)),
            Err(refused) if refused.status() == StatusCode::PAYLOAD_TOO_LARGE => Err(problem(
                StatusCode::PAYLOAD_TOO_LARGE,
                "That is too long: a form holds 64 kB at most. Send it in parts. Nothing was recorded.",
            )),
            Err(refused) if refused.status().is_client_error() => Err(problem(
                StatusCode::BAD_REQUEST,
                "The form did not arrive whole. Go back and send it again. Nothing was recorded.",
            )),
            Err(refused) => Err(refused.into_response()),
        }
    }
}

/// A field and what is wrong with it.
#[derive(Debug, Clone)]
pub(crate) struct Wrong {
    pub(crate) field: &'static str,
    pub(crate) text: String,
}

/// What was typed into one form of a page, and what was wrong.
#[derive(Debug, Clone, Default)]
pub(crate) struct Typed {
    form: String,
    fields: Fields,
    wrong: Option<(Wrong, StatusCode)>,
}

impl Typed {
    pub(crate) fn new(form: &str, fields: Fields) -> Self {
        Self {
            form: form.to_owned(),
            fields,
            wrong: None,
        }
    }

    pub(crate) fn wrong(form: &str, fields: Fields, wrong: Wrong) -> Self {
        Self {
            form: form.to_owned(),
            fields,
            wrong: Some((wrong, StatusCode::UNPROCESSABLE_ENTITY)),
        }
    }

    pub(crate) fn refused(form: &str, fields: Fields, field: &'static str, oops: &Oops) -> Self {
        let wrong = Wrong {
            field,
            text: oops.text(),
        };
        Self {
            form: form.to_owned(),
            fields,
            wrong: Some((wrong, oops.status())),
        }
    }

    pub(crate) fn status(&self) -> StatusCode {
        self.wrong
            .as_ref()
            .map_or(StatusCode::OK, |(_, status)| *status)
    }

    fn here(&self, form: &str) -> bool {
        self.form == form
    }

    fn value<'a>(&'a self, form: &str, name: &str, usual: &'a str) -> &'a str {
        if self.here(form) && self.fields.0.contains_key(name) {
            self.fields.get(name)
        } else {
            usual
        }
    }

    /// What was typed into a field of this form.
    pub(crate) fn get(&self, form: &str, name: &str) -> &str {
        self.value(form, name, "")
    }

    pub(crate) fn beside(&self, form: &str, name: &str) -> Option<&str> {
        self.wrong
            .as_ref()
            .filter(|(w, _)| self.here(form) && w.field == name)
            .map(|(w, _)| w.text.as_str())
    }

    /// Whether this form was sent and refused, so that its fold stands open.
    pub(crate) fn open(&self, form: &str) -> bool {
        self.here(form) && self.wrong.is_some()
    }

    /// The summary on top, with a link to the field.
    pub(crate) fn summary(&self) -> Markup {
        let Some((wrong, _)) = &self.wrong else {
            return nothing();
        };
        html! {
            div.wrong role="alert" {
                p { (wrong.text) }
                p { a href=(format!("#{}-{}", self.form, wrong.field)) { "Go to the field" } " Nothing was recorded." }
            }
        }
    }

    /// The key of this form: the one it came with, so that a second try is still one entry.
    pub(crate) fn key(&self, form: &str) -> Markup {
        let came = self.value(form, "key", "");
        let key = if came.is_empty() {
            key()
        } else {
            came.to_owned()
        };
        html! { input type="hidden" name="key" value=(key); }
    }
}

/// A one-time key. It has to differ, not to be secret.
pub(crate) fn key() -> String {
    let part = || RandomState::new().build_hasher().finish();
    format!("{:016x}{:016x}", part(), part())
}

/// A labelled text field.
pub(crate) struct Input<'a> {
    form: &'a str,
    name: &'a str,
    label: &'a str,
    hint: &'a str,
    usual: String,
    lines: u8,
    mode: Option<&'a str>,
    list: Option<&'a str>,
    kind: &'a str,
}

impl<'a> Input<'a> {
    pub(crate) fn new(form: &'a str, name: &'a str, label: &'a str) -> Self {
        let usual = String::new();
        Self {
            form,
            name,
            label,
            hint: "",
            usual,
            lines: 1,
            mode: None,
            list: None,
            kind: "text",
        }
    }

    pub(crate) fn hint(mut self, hint: &'a str) -> Self {
        self.hint = hint;
        self
    }

    pub(crate) fn usual(mut self, value: impl Into<String>) -> Self {
        self.usual = value.into();
        self
    }

    pub(crate) fn lines(mut self, lines: u8) -> Self {
        self.lines = lines;
        self
    }

    pub(crate) fn digits(mut self) -> Self {
        self.mode = Some("decimal");
        self
    }

    pub(crate) fn list(mut self, id: &'a str) -> Self {
        self.list = Some(id);
        self
    }

    pub(crate) fn search(mut self) -> Self {
        self.kind = "search";
        self
    }

    pub(crate) fn draw(&self, typed: &Typed) -> Markup {
        let id = format!("{}-{}", self.form, self.name);
        let beside = typed.beside(self.form, self.name);
        let hint_id = format!("{id}-hint");
        let wrong_id = format!("{id}-wrong");
        let about = match (self.hint.is_empty(), beside.is_some()) {
            (true, false) => None,
            (false, false) => Some(hint_id.clone()),
            (true, true) => Some(wrong_id.clone()),
            (false, true) => Some(format!("{wrong_id} {hint_id}")),
        };
        let invalid = beside.map(|_| "true");
        let value = typed.value(self.form, self.name, &self.usual);
        html! {
            div.field {
                label for=(id) { (self.label) }
                @if !self.hint.is_empty() { p.hint id=(hint_id) { (self.hint) } }
                @if let Some(text) = beside { p.beside id=(wrong_id) { (text) } }
                @if self.lines > 1 {
                    textarea id=(id) name=(self.name) rows=(self.lines) aria-describedby=[about] aria-invalid=[invalid]
                        spellcheck="false" { "\n" (value) }
                } @else {
                    input id=(id) name=(self.name) type=(self.kind) value=(value) inputmode=[self.mode] list=[self.list]
                        autocomplete="off" autocapitalize="off" spellcheck="false"
                        aria-describedby=[about] aria-invalid=[invalid];
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<Option<f64>, Wrong> {
        Fields(HashMap::from([("n".into(), text.into())])).number("n")
    }

    #[test]
    fn numbers_read_as_people_write_them() {
        for (text, value) in [
            ("7.5", 7.5),
            ("7,5", 7.5),
            (" 7.5 L ", 7.5),
            ("-33,9", -33.9),
            ("60%", 60.0),
        ] {
            assert_eq!(read(text).unwrap(), Some(value), "{text}");
        }
        assert_eq!(read(" ").unwrap(), None);
        for text in ["lots", "1.2.3", "7 or 8", "NaN", "inf"] {
            assert!(read(text).unwrap_err().text.contains(text), "{text}");
        }
    }

    #[test]
    fn a_measure_is_read_in_the_unit_of_the_household() {
        let read = |text: &str, us| {
            let tongue = Tongue {
                us,
                american: false,
            };
            Fields(HashMap::from([("n".into(), text.into())])).measure("n", Kind::Caddy, tongue)
        };
        assert_eq!(read("7", false).unwrap(), Some(7.0));
        assert_eq!(read("7 L", true).unwrap(), Some(7.0));
        let quarts = read("8", true).unwrap().unwrap();
        let gallons = read("2 gal", false).unwrap().unwrap();
        assert!((quarts - gallons).abs() < 1e-9 && (quarts - 7.571).abs() < 1e-3);
        let wrong = read("7 kg", false).unwrap_err();
        assert!(wrong.text.contains("“kg” is no measure") && wrong.text.contains("litres"));
    }

    #[test]
    fn keys_differ() {
        assert_ne!(key(), key());
    }
}
