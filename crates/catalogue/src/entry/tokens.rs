//! Words, numbers and marks of an entry, each with the bytes it came from.

use winnow::ascii::digit1;
use winnow::combinator::{opt, preceded};
use winnow::prelude::*;
use winnow::token::one_of;

use super::when;
use crate::normalise;

/// What a token is.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Kind {
    /// Letters: lower case as typed (`low`) and in catalogue form (`norm`).
    Word { low: String, norm: String },
    /// Digits, with a decimal point or comma.
    Number(f64),
    /// One of ½ ¼ ¾ ⅓ ⅔ ⅛.
    Frac(f64),
    /// A mark that matters: , ; line break (as `;`) . : + & / - × ( ) ~
    Mark(char),
    /// A symbol with a meaning of its own that is not read here (an emoji, a currency sign).
    Symbol,
}

/// A token and its bytes.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Token {
    pub(crate) start: usize,
    pub(crate) end: usize,
    pub(crate) kind: Kind,
    /// Nothing stands between this token and the one before.
    pub(crate) glued: bool,
    /// It ends in an apostrophe and s.
    pub(crate) owns: bool,
}

impl Token {
    /// The word in catalogue form; empty for anything else.
    pub(crate) fn norm(&self) -> &str {
        if let Kind::Word { norm, .. } = &self.kind {
            norm
        } else {
            ""
        }
    }
    /// The word in lower case as typed; empty for anything else.
    pub(crate) fn low(&self) -> &str {
        if let Kind::Word { low, .. } = &self.kind {
            low
        } else {
            ""
        }
    }
    pub(crate) fn is_mark(&self, mark: char) -> bool {
        self.kind == Kind::Mark(mark)
    }
    pub(crate) fn number(&self) -> Option<f64> {
        if let Kind::Number(n) = self.kind {
            Some(n)
        } else {
            None
        }
    }
}

fn fraction(c: char) -> Option<f64> {
    Some(match c {
        '½' => 0.5,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        '⅛' => 0.125,
        _ => return None,
    })
}

/// Digits with a decimal point or comma; `1,000` is a thousand, `7,5` is seven and a half.
fn number(text: &str) -> Option<(f64, usize)> {
    let mut rest = text;
    let parsed: winnow::ModalResult<(&str, Option<&str>)> =
        (digit1, opt(preceded(one_of(['.', ',']), digit1))).parse_next(&mut rest);
    let (whole, part) = parsed.ok()?;
    let used = text.len() - rest.len();
    let thousands = part.is_some_and(|p| {
        p.len() == 3
            && text[whole.len()..].starts_with(',')
            && !whole.starts_with('0')
            && whole.len() <= 3
    });
    let digits = match part {
        Some(p) if thousands => format!("{whole}{p}"),
        Some(p) => format!("{whole}.{p}"),
        None => whole.to_owned(),
    };
    // A value too long for a float reads as infinite, which is refused later as an amount.
    Some((digits.parse().unwrap_or(f64::INFINITY), used))
}

/// Splits a text into tokens. Quotes, brackets other than round ones and the like carry no meaning.
pub(crate) fn tokens(text: &str) -> Vec<Token> {
    let mut all: Vec<Token> = Vec::new();
    let mut at = 0;
    let mut glued = false;
    while let Some(c) = text[at..].chars().next() {
        let start = at;
        let mut owns = false;
        let kind = if c.is_ascii_digit() {
            let (value, used) = number(&text[at..]).unwrap_or((0.0, 1));
            at += used;
            Some(Kind::Number(value))
        } else if let Some(value) = fraction(c) {
            at += c.len_utf8();
            Some(Kind::Frac(value))
        } else if c == '³' {
            at += c.len_utf8();
            Some(Kind::Number(3.0))
        } else if c.is_alphabetic() {
            for (offset, d) in text[start..].char_indices() {
                let inside = d.is_alphabetic()
                    || is_joint(d)
                        && text[start + offset + d.len_utf8()..].starts_with(char::is_alphabetic);
                if !inside {
                    break;
                }
                at = start + offset + d.len_utf8();
            }
            let typed = text[start..at].to_lowercase();
            let base = ["'s", "’s", "‘s"]
                .iter()
                .find_map(|s| typed.strip_suffix(s));
            owns = base.is_some();
            // "last night's" says when.
            let low = match base.filter(|b| when::knows(b)) {
                Some(base) => base.to_owned(),
                None => typed.replace(['\'', '’', '‘'], ""),
            };
            let norm = normalise(&low);
            Some(Kind::Word { low, norm })
        } else {
            at += c.len_utf8();
            match c {
                ',' | ';' | '.' | ':' | '+' | '&' | '/' | '×' | '(' | ')' | '~' => {
                    Some(Kind::Mark(c))
                }
                '\n' | '\r' | '\u{2028}' => Some(Kind::Mark(';')),
                '-' | '–' | '—' | '−' => Some(Kind::Mark('-')),
                '…' | '!' | '?' => Some(Kind::Mark('.')),
                '|' | '•' | '*' => Some(Kind::Mark(';')),
                c if c.is_whitespace() || c.is_control() || c.is_ascii_punctuation() => None,
                '"' | '“' | '”' | '‘' | '’' | '«' | '»' | '·' => None,
                _ => Some(Kind::Symbol),
            }
        };
        match kind {
            Some(kind) => {
                all.push(Token {
                    start,
                    end: at,
                    kind,
                    glued,
                    owns,
                });
                glued = true;
            }
            None => glued = false,
        }
    }
    all
}

fn is_joint(c: char) -> bool {
    matches!(c, '\'' | '’' | '‘')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kinds(text: &str) -> Vec<Kind> {
        tokens(text).into_iter().map(|t| t.kind).collect()
    }

    #[test]
    fn commas_in_numbers_and_between_things() {
        assert_eq!(kinds("7,5"), [Kind::Number(7.5)]);
        assert_eq!(kinds("1,000"), [Kind::Number(1000.0)]);
        assert_eq!(
            kinds("2, 3"),
            [Kind::Number(2.0), Kind::Mark(','), Kind::Number(3.0)]
        );
        assert_eq!(kinds("1½"), [Kind::Number(1.0), Kind::Frac(0.5)]);
    }

    #[test]
    fn spans_quote_the_original() {
        let text = "Crème’s 🍌 500g";
        let all = tokens(text);
        let quoted: Vec<&str> = all.iter().map(|t| &text[t.start..t.end]).collect();
        assert_eq!(quoted, ["Crème’s", "🍌", "500", "g"]);
        assert!(all[3].glued && !all[2].glued);
    }
}
