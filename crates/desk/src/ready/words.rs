//! A test in plain words to the values of a reading: `seeds 17 of 20, control 19 of 20`, `flask rose 12 K in 5 days`.
//!
//! Clauses part at commas, semicolons, "and", "against". A word that is not known refuses the whole entry: a test
//! half understood would say something nobody measured.

use std::collections::BTreeMap;

use engine::maturity::bag::Bag;
use journal::Measured;

use crate::Error;

/// What may be typed, for a refusal.
pub(super) const EXAMPLES: [&str; 3] = [
    "seeds 17 of 20, control 19 of 20",
    "flask rose 12 K in 5 days",
    "bag earthy",
];
/// Longest entry read, bytes; a test is a line (choice).
const LONGEST: usize = 400;
const FAHRENHEIT_K: f64 = 5.0 / 9.0;
const QUART_L: f64 = 0.946_352_946;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Subject {
    Flask,
    Bag,
    Jar,
    Seeds,
    Ash,
}

#[derive(Debug, Clone, PartialEq)]
enum Token {
    Number(f64),
    Word(String),
}

/// Words that carry nothing here.
const FILL: &[&str] = &[
    "a",
    "the",
    "it",
    "of",
    "out",
    "in",
    "after",
    "by",
    "to",
    "with",
    "is",
    "was",
    "rose",
    "rise",
    "risen",
    "warmed",
    "warmer",
    "than",
    "above",
    "at",
    "for",
    "came",
    "up",
    "sprouted",
    "germinated",
    "grew",
    "seedlings",
    "smells",
    "smelt",
    "smelled",
    "smell",
    "like",
    "only",
    "sown",
    "mix",
    "test",
    "size",
    "head",
    "space",
    "sample",
    "shut",
    "from",
    "on",
    "and",
    "degree",
    "degrees",
    "deg",
    "days",
    "day",
    "were",
    "matter",
    "now",
    "start",
    "beside",
];

fn tokens(clause: &str) -> Vec<Token> {
    let mut all = Vec::new();
    let chars: Vec<char> = clause.chars().collect();
    let mut at = 0;
    while at < chars.len() {
        let c = chars[at];
        let digit = |i: usize| chars.get(i).is_some_and(char::is_ascii_digit);
        let signed = (c == '-' || c == '−') && digit(at + 1) && (at == 0 || chars[at - 1] == ' ');
        let from = at;
        if c.is_ascii_digit() || signed {
            at += 1;
            while digit(at) || (chars.get(at) == Some(&'.') && digit(at + 1)) {
                at += 1;
            }
            let text: String = chars[from..at].iter().collect::<String>().replace('−', "-");
            match text.parse() {
                Ok(value) => all.push(Token::Number(value)),
                Err(_) => all.push(Token::Word(text)),
            }
        } else if c.is_alphabetic() {
            while chars.get(at).is_some_and(|c| c.is_alphabetic()) {
                at += 1;
            }
            all.push(Token::Word(chars[from..at].iter().collect()));
        } else {
            match c {
                '/' => all.push(Token::Word("of".into())),
                '%' => all.push(Token::Word("%".into())),
                _ => {}
            }
            at += 1;
        }
    }
    all
}

/// Clauses of an entry; a decimal comma stays with its number.
fn clauses(text: &str) -> Vec<String> {
    let mut plain = String::with_capacity(text.len());
    let chars: Vec<char> = text.to_lowercase().chars().collect();
    for (at, c) in chars.iter().enumerate() {
        let digit = |i: Option<usize>| {
            i.and_then(|i| chars.get(i))
                .is_some_and(char::is_ascii_digit)
        };
        let decimal = *c == ',' && digit(at.checked_sub(1)) && digit(Some(at + 1));
        plain.push(if decimal { '.' } else { *c });
    }
    plain
        .replace(" against ", ", control ")
        .replace(" and ", ", ")
        .split([',', ';'])
        .map(|c| c.trim().to_owned())
        .filter(|c| !c.is_empty())
        .collect()
}

#[derive(Default)]
struct Reader {
    values: BTreeMap<String, Measured>,
    subject: Option<Subject>,
    room_c: Option<f64>,
    peak_c: Option<f64>,
    unknown: Vec<String>,
}

fn bad(field: &str, reason: impl Into<String>) -> Error {
    Error::BadSetting {
        field: field.into(),
        reason: reason.into(),
    }
}

impl Reader {
    fn set(&mut self, name: &str, value: Measured) -> Result<(), Error> {
        match self.values.insert(name.into(), value.clone()) {
            Some(before) if before != value => Err(bad(
                &name.replace('_', " "),
                "it is said twice, and not alike. Say each once",
            )),
            _ => Ok(()),
        }
    }

    fn number(&mut self, name: &str, value: f64) -> Result<(), Error> {
        self.set(name, Measured::Number(value))
    }

    fn clause(&mut self, clause: &str) -> Result<(), Error> {
        let tokens = tokens(clause);
        let words: Vec<&str> = tokens
            .iter()
            .filter_map(|t| match t {
                Token::Word(w) => Some(w.as_str()),
                Token::Number(_) => None,
            })
            .collect();
        let has = |any: &[&str]| words.iter().any(|w| any.contains(w));
        let control = has(&["control", "controls", "plain", "water"]);
        for (subject, names) in [
            (Subject::Flask, &["flask", "thermos"][..]),
            (Subject::Bag, &["bag"]),
            (Subject::Jar, &["jar"]),
            (
                Subject::Seeds,
                &[
                    "seeds", "seed", "cress", "radish", "radishes", "control", "controls",
                ],
            ),
            (Subject::Ash, &["ash"]),
        ] {
            if has(names) {
                self.subject = Some(subject);
            }
        }
        if has(&["extract"]) {
            self.set("extract", Measured::Text("yes".into()))?;
        }
        let (peak, room) = (has(&["peak", "peaked", "reached"]), has(&["room"]));
        let mut at = 0;
        while at < tokens.len() {
            let word = |i: usize| match tokens.get(i) {
                Some(Token::Word(w)) => w.as_str(),
                _ => "",
            };
            match &tokens[at] {
                Token::Number(value) => {
                    // "17 of 20", "17 out of 20", "12 to 35 %" for ash.
                    let skip = (at + 1..tokens.len().min(at + 6))
                        .find(|i| matches!(tokens[*i], Token::Number(_)))
                        .filter(|i| (at + 1..*i).any(|j| ["of", "to"].contains(&word(j))));
                    if let (Some(next), Some(Token::Number(second))) =
                        (skip, skip.and_then(|i| tokens.get(i)))
                    {
                        self.pair(*value, *second, control)?;
                        at = next + 1;
                        if word(at) == "%" {
                            at += 1;
                        }
                        continue;
                    }
                    let unit = word(at + 1).to_owned();
                    if self.measure(*value, &unit, control, peak, room, &words)? {
                        at += 1;
                    }
                }
                Token::Word(w) => self.word(w)?,
            }
            at += 1;
        }
        Ok(())
    }

    fn word(&mut self, word: &str) -> Result<(), Error> {
        let found = match word {
            "earthy" | "earth" | "woodland" => Some(Bag::Earthy),
            "sour" | "vinegar" => Some(Bag::Sour),
            "rotten" | "foul" => Some(Bag::Rotten),
            "ammonia" => Some(Bag::Ammonia),
            "swollen" | "blown" | "bulging" => Some(Bag::Swollen),
            _ => None,
        };
        if let Some(bag) = found {
            self.subject = Some(Subject::Bag);
            return self.set("bag", Measured::Text(bag.as_str().into()));
        }
        let named = [
            "flask", "thermos", "bag", "jar", "seeds", "seed", "cress", "radish", "radishes",
            "control", "controls", "plain", "water", "ash", "extract", "peak", "peaked", "reached",
            "room", "root", "roots", "dry", "organic", "%",
        ];
        if !named.contains(&word) && !FILL.contains(&word) {
            self.unknown.push(word.to_owned());
        }
        Ok(())
    }

    fn pair(&mut self, first: f64, second: f64, control: bool) -> Result<(), Error> {
        if self.subject == Some(Subject::Ash) {
            self.number("ash_start_pct", first)?;
            return self.number("ash_pct", second);
        }
        let (up, sown, what) = if control {
            ("control_up", "control_sown", "control")
        } else {
            ("seeds_up", "seeds_sown", "seeds")
        };
        self.subject = Some(Subject::Seeds);
        if first.fract() != 0.0 || second.fract() != 0.0 || first < 0.0 || second < 0.0 {
            return Err(bad(
                what,
                format!("{first} of {second} is no count of seeds. Give whole numbers"),
            ));
        }
        self.number(up, first)?;
        self.number(sown, second)
    }

    /// One number with its unit; whether the unit was used.
    fn measure(
        &mut self,
        value: f64,
        unit: &str,
        control: bool,
        peak: bool,
        room: bool,
        words: &[&str],
    ) -> Result<bool, Error> {
        let jar = self.subject == Some(Subject::Jar);
        let name = match unit {
            "mm" | "cm" => {
                let value = if unit == "cm" { value * 10.0 } else { value };
                let own = self.values.contains_key("roots_mm");
                let after = self.values.contains_key("control_sown") && own;
                let name = if control || after {
                    "control_roots_mm"
                } else {
                    "roots_mm"
                };
                return self.number(name, value).map(|()| true);
            }
            "k" | "c" | "f" | "degree" | "degrees" | "deg" => {
                let fahrenheit = unit == "f" || words.contains(&"f");
                let absolute = if fahrenheit {
                    (value - 32.0) * FAHRENHEIT_K
                } else {
                    value
                };
                if room {
                    self.room_c = Some(absolute);
                } else if peak {
                    self.peak_c = Some(absolute);
                } else {
                    let rise = if fahrenheit {
                        value * FAHRENHEIT_K
                    } else {
                        value
                    };
                    self.subject = Some(Subject::Flask);
                    self.number("self_heating_k", rise)?;
                }
                return Ok(true);
            }
            "l" | "litre" | "litres" | "liter" | "liters" | "ml" | "qt" | "quart" | "quarts" => {
                let size = match unit {
                    "ml" => 0.001,
                    u if u.starts_with('q') => QUART_L,
                    _ => 1.0,
                };
                let name = if jar { "jar_l" } else { "flask_l" };
                return self.number(name, value * size).map(|()| true);
            }
            "d" | "day" | "days" if !jar => "days",
            "week" | "weeks" if !jar => return self.number("days", value * 7.0).map(|()| true),
            "h" | "hour" | "hours" if jar => "jar_h",
            "h" | "hour" | "hours" => return self.number("days", value / 24.0).map(|()| true),
            "d" | "day" | "days" => return self.number("jar_h", value * 24.0).map(|()| true),
            "ppm" => "jar_ppm",
            "g" | "gram" | "grams" => "sample_g",
            "%" if words.contains(&"dry") => "dry_pct",
            "%" if words.contains(&"organic") => "organic_pct",
            _ => {
                self.unknown
                    .push(format!("{value} {unit}").trim().to_owned());
                return Ok(!unit.is_empty());
            }
        };
        self.number(name, value).map(|()| true)
    }

    fn done(mut self, text: &str) -> Result<BTreeMap<String, Measured>, Error> {
        match (self.peak_c, self.room_c) {
            (Some(peak), Some(room)) => self.number("self_heating_k", peak - room)?,
            (Some(_), None) => {
                return Err(bad(
                    "flask",
                    "say how warm the room was too, as `peaked at 35 C, room 20 C`",
                ));
            }
            (None, Some(_)) if !self.values.contains_key("self_heating_k") => {
                return Err(bad(
                    "flask",
                    "say its highest reading too, as `peaked at 35 C, room 20 C`",
                ));
            }
            _ => {}
        }
        if self.values.is_empty() {
            return Err(Error::NothingUnderstood {
                // A test is no amount: told as a test, it gets no hint about amounts.
                text: crate::read::shortened(&format!("test: {text}")),
                near: EXAMPLES.map(str::to_owned).to_vec(),
            });
        }
        if let Some(word) = self.unknown.first() {
            return Err(bad(
                &format!("`{}`", crate::read::shortened(word)),
                format!(
                    "it is not understood in a test. Say it as `{}`",
                    EXAMPLES.join("`, `")
                ),
            ));
        }
        Ok(self.values)
    }
}

/// The values of a test in plain words.
pub(super) fn read(text: &str) -> Result<BTreeMap<String, Measured>, Error> {
    if text.len() > LONGEST {
        return Err(bad(
            "test",
            format!("it has {} bytes; a test has at most {LONGEST}", text.len()),
        ));
    }
    let mut reader = Reader::default();
    for clause in clauses(text) {
        reader.clause(&clause)?;
    }
    reader.done(text)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "tests")]
    use super::*;

    fn said(text: &str) -> String {
        let values = match read(text) {
            Ok(values) => values,
            Err(e) => return format!("refused: {e}"),
        };
        let all: Vec<String> = values
            .into_iter()
            .map(|(name, value)| match value {
                Measured::Number(n) => format!("{name}={n}"),
                Measured::Text(t) => format!("{name}={t}"),
            })
            .collect();
        all.join(" ")
    }

    #[test]
    fn plain_words_become_values() {
        let seeds = "control_sown=20 control_up=19 seeds_sown=20 seeds_up=17";
        for text in [
            "seeds 17 of 20, control 19 of 20",
            "17 of 20 seeds came up against 19 of 20",
            "Cress 17/20; control 19/20",
            "radish: 17 out of 20 sprouted, plain mix 19 out of 20",
        ] {
            assert_eq!(said(text), seeds, "{text}");
        }
        for (text, values) in [
            ("flask rose 12 K in 5 days", "days=5 self_heating_k=12"),
            (
                "flask rose 12,5 K after 1 week",
                "days=7 self_heating_k=12.5",
            ),
            (
                "1.5 L flask, peaked at 35 C, room 20 C",
                "flask_l=1.5 self_heating_k=15",
            ),
            ("thermos rose 18 F", "self_heating_k=10"),
            ("bag earthy", "bag=earthy"),
            (
                "the bag smells of ammonia after 6 days",
                "bag=ammonia days=6",
            ),
            (
                "bag swollen and flask rose 30 K",
                "bag=swollen self_heating_k=30",
            ),
            ("ash 12 to 35 %", "ash_pct=35 ash_start_pct=12"),
            (
                "jar 20000 ppm in 4 h, 1.9 L, 50 g, 50 % dry, 45 % organic",
                "dry_pct=50 jar_h=4 jar_l=1.9 jar_ppm=20000 organic_pct=45 sample_g=50",
            ),
            (
                "extract 16 of 20, roots 22 mm, control 18 of 20, roots 28 mm",
                "control_roots_mm=28 control_sown=20 control_up=18 extract=yes roots_mm=22 seeds_sown=20 seeds_up=16",
            ),
        ] {
            assert_eq!(said(text), values, "{text}");
        }
    }

    #[test]
    fn what_is_not_understood_refuses_the_whole() {
        for (text, why) in [
            ("qqq", "nothing understood"),
            ("", "nothing understood"),
            ("bag earthy, wibble", "`wibble`"),
            ("bag earthy, bag sour", "said twice"),
            ("seeds 17.5 of 20", "no count of seeds"),
            ("seeds -3 of 20", "no count of seeds"),
            ("flask peaked at 40 C", "how warm the room was"),
        ] {
            assert!(said(text).contains(why), "{text}: {}", said(text));
        }
        assert!(said(&"bag earthy ".repeat(60)).contains("at most 400"));
    }
}
