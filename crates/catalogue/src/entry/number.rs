//! How many: digits, fractions, words, ranges.

use super::tokens::{Kind, Token};

/// Most of anything in one portion (choice: beyond it a slip of the finger is likelier).
pub(super) const MOST_COUNT: f64 = 10_000.0;

/// A number with what is said about its doubt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Amount {
    pub(crate) low: f64,
    pub(crate) mid: f64,
    pub(crate) high: f64,
    /// Only "a" or "an": gives way to a number that follows.
    pub(crate) article: bool,
    /// A half, a quarter: can only be of a whole thing.
    pub(crate) fraction: bool,
}

impl Amount {
    pub(crate) fn exact(mid: f64) -> Self {
        Self {
            low: mid,
            mid,
            high: mid,
            article: false,
            fraction: false,
        }
    }
    /// Whether it can be an amount at all.
    pub(crate) fn holds(&self) -> bool {
        self.low > 0.0 && self.low.is_finite() && self.mid.is_finite() && self.high <= MOST_COUNT
    }
}

fn word_value(word: &str) -> Option<f64> {
    const ONES: &[&str] = &[
        "zero",
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
        "thirteen",
        "fourteen",
        "fifteen",
        "sixteen",
        "seventeen",
        "eighteen",
        "nineteen",
        "twenty",
    ];
    if let Some(at) = ONES.iter().position(|w| *w == word) {
        return Some(at as f64);
    }
    Some(match word {
        "thirty" => 30.0,
        "forty" => 40.0,
        "fifty" => 50.0,
        "sixty" => 60.0,
        "hundred" => 100.0,
        "dozen" => 12.0,
        "another" | "single" => 1.0,
        _ => return None,
    })
}

fn part_value(word: &str) -> Option<f64> {
    Some(match word {
        "half" => 0.5,
        "third" => 1.0 / 3.0,
        "quarter" => 0.25,
        _ => return None,
    })
}

fn norm(tokens: &[Token], at: usize) -> &str {
    tokens.get(at).map_or("", Token::norm)
}

/// A number at `at`, and the first token after it.
pub(crate) fn number(tokens: &[Token], at: usize) -> Option<(Amount, usize)> {
    let (first, next) = simple(tokens, at)?;
    let to = tokens.get(next).is_some_and(|t| {
        t.is_mark('-')
            && tokens
                .get(next + 1)
                .is_some_and(|n| n.number().is_some() || !n.norm().is_empty())
            || t.norm() == "to"
            || t.norm() == "or"
    });
    if to
        && !first.article
        && let Some((second, after)) = simple(tokens, next + 1)
    {
        let plain = !second.article && second.low == second.high && first.low == first.high;
        if plain && second.mid > first.mid {
            let mid = (first.mid + second.mid) / 2.0;
            return Some((
                Amount {
                    low: first.mid,
                    mid,
                    high: second.mid,
                    ..first
                },
                after,
            ));
        }
    }
    Some((first, next))
}

fn simple(tokens: &[Token], at: usize) -> Option<(Amount, usize)> {
    let token = tokens.get(at)?;
    match &token.kind {
        Kind::Mark('-') => {
            let value = tokens.get(at + 1)?;
            let lone = at == 0 || !token.glued;
            let n = value.number().filter(|_| value.glued && lone)?;
            Some((Amount::exact(-n), at + 2))
        }
        Kind::Mark('×') => tokens
            .get(at + 1)?
            .number()
            .map(|n| (Amount::exact(n), at + 2)),
        Kind::Frac(part) => Some(of_whole(tokens, *part, at + 1)),
        Kind::Number(n) => Some(after_digits(tokens, *n, at + 1)),
        Kind::Word { norm: word, low } => match word.as_str() {
            "x" => tokens
                .get(at + 1)?
                .number()
                .map(|n| (Amount::exact(n), at + 2)),
            "a" | "an" => Some(after_article(tokens, at + 1)),
            "couple" | "pair" => Some((Amount::exact(2.0), skip(tokens, at + 1, &["of"]))),
            "few" => Some((
                Amount {
                    low: 2.0,
                    mid: 3.0,
                    high: 4.0,
                    article: false,
                    fraction: false,
                },
                skip(tokens, at + 1, &["of"]),
            )),
            "several" => Some((
                Amount {
                    low: 3.0,
                    mid: 4.0,
                    high: 6.0,
                    article: false,
                    fraction: false,
                },
                skip(tokens, at + 1, &["of"]),
            )),
            "half" => Some(of_whole(tokens, 0.5, at + 1)),
            "quarter" => Some(of_whole(tokens, 0.25, at + 1)),
            "third" if norm(tokens, at + 1) == "of" => Some(of_whole(tokens, 1.0 / 3.0, at + 1)),
            _ => {
                let value = word_value(low).or_else(|| word_value(word))?;
                Some(after_word(tokens, value, at + 1))
            }
        },
        _ => None,
    }
}

fn skip(tokens: &[Token], at: usize, words: &[&str]) -> usize {
    if words.contains(&norm(tokens, at)) && at < tokens.len() {
        at + 1
    } else {
        at
    }
}

/// "half [of] a dozen", "half a caddy", "three quarters of a pound".
fn of_whole(tokens: &[Token], part: f64, at: usize) -> (Amount, usize) {
    let mut next = at;
    if norm(tokens, next) == "of"
        && matches!(
            norm(tokens, next + 1),
            "a" | "an" | "the" | "one" | "my" | "our"
        )
    {
        next += 1;
    }
    next = skip(tokens, next, &["a", "an", "the", "one", "my", "our"]);
    if norm(tokens, next) == "dozen" {
        return (Amount::exact(part * 12.0), skip(tokens, next + 1, &["of"]));
    }
    (
        Amount {
            fraction: true,
            ..Amount::exact(part)
        },
        next,
    )
}

fn after_article(tokens: &[Token], at: usize) -> (Amount, usize) {
    match norm(tokens, at) {
        "half" | "quarter" | "third" | "couple" | "few" | "dozen" | "pair" | "single"
        | "hundred" => {
            if norm(tokens, at) == "third" {
                return of_whole(tokens, 1.0 / 3.0, at + 1);
            }
            simple(tokens, at).unwrap_or((Amount::exact(1.0), at))
        }
        "good" | "full" | "whole" | "big" | "small" | "large" | "heaped"
            if norm(tokens, at + 1) == "half" =>
        {
            of_whole(tokens, 0.5, at + 2)
        }
        _ => (
            Amount {
                article: true,
                ..Amount::exact(1.0)
            },
            at,
        ),
    }
}

/// "one and a half", "three quarters", "two dozen", "twenty four".
fn after_word(tokens: &[Token], value: f64, at: usize) -> (Amount, usize) {
    if let Some(sum) = and_a_part(tokens, value, at) {
        return sum;
    }
    let mut next = at;
    if tokens.get(next).is_some_and(|t| t.is_mark('-') && t.glued) {
        next += 1;
    }
    let word = norm(tokens, next);
    if let Some(part) = part_value(word).filter(|_| value < 10.0) {
        return of_whole(tokens, value * part, next + 1);
    }
    if word == "dozen" {
        return (Amount::exact(value * 12.0), skip(tokens, next + 1, &["of"]));
    }
    if word == "hundred" {
        return (Amount::exact(value * 100.0), next + 1);
    }
    if (20.0..100.0).contains(&value)
        && let Some(ones) = word_value(word).filter(|v| (1.0..10.0).contains(v))
    {
        return (Amount::exact(value + ones), next + 1);
    }
    (
        Amount::exact(value),
        skip(tokens, at, if value == 12.0 { &["of"] } else { &[] }),
    )
}

fn and_a_part(tokens: &[Token], value: f64, at: usize) -> Option<(Amount, usize)> {
    if !matches!(norm(tokens, at), "and" | "n") {
        return None;
    }
    let mut next = at + 1;
    if let Some(t) = tokens.get(next) {
        if let Kind::Frac(part) = t.kind {
            return Some((Amount::exact(value + part), next + 1));
        }
        if let (Some(up), Some(down)) = slash(tokens, next)
            && up < down
        {
            return Some((Amount::exact(value + up / down), next + 3));
        }
    }
    let mut by = 1.0;
    match norm(tokens, next) {
        "a" | "one" => next += 1,
        "three" => {
            by = 3.0;
            next += 1;
        }
        "two" => {
            by = 2.0;
            next += 1;
        }
        _ => {}
    }
    let part = part_value(norm(tokens, next))?;
    // "one and a half caddies", but not "two lemons and half a melon".
    let after = norm(tokens, next + 1);
    if by == 1.0 && next == at + 1 && matches!(after, "a" | "an" | "the") {
        return None;
    }
    Some((Amount::exact(value + by * part), next + 1))
}

fn slash(tokens: &[Token], at: usize) -> (Option<f64>, Option<f64>) {
    let up = tokens.get(at).and_then(Token::number);
    let bar = tokens
        .get(at + 1)
        .is_some_and(|t| t.is_mark('/') && t.glued);
    let down = tokens
        .get(at + 2)
        .filter(|t| bar && t.glued)
        .and_then(Token::number);
    (up, down)
}

fn after_digits(tokens: &[Token], n: f64, at: usize) -> (Amount, usize) {
    if let Some(Kind::Frac(part)) = tokens.get(at).map(|t| &t.kind) {
        return (Amount::exact(n + part), at + 1);
    }
    if let (Some(up), Some(down)) = slash(tokens, at - 1) {
        let (amount, next) = of_whole(tokens, up / down, at + 2);
        return (
            Amount {
                fraction: up < down,
                ..amount
            },
            next,
        );
    }
    if let (Some(up), Some(down)) = slash(tokens, at)
        && up < down
        && n.fract() == 0.0
    {
        return (Amount::exact(n + up / down), at + 3);
    }
    if let Some(sum) = and_a_part(tokens, n, at) {
        return sum;
    }
    let next = norm(tokens, at);
    if next == "dozen" {
        return (Amount::exact(n * 12.0), skip(tokens, at + 1, &["of"]));
    }
    let times = next == "x" || tokens.get(at).is_some_and(|t| t.is_mark('×'));
    if times && tokens.get(at + 1).is_none_or(|t| t.number().is_none()) {
        return (Amount::exact(n), at + 1);
    }
    (Amount::exact(n), at)
}

#[cfg(test)]
mod tests {
    use super::super::tokens::tokens;
    use super::*;

    #[test]
    fn many_ways_to_say_a_number() {
        for (said, value) in [
            ("2", 2.0),
            ("2.5", 2.5),
            ("7,5", 7.5),
            ("½", 0.5),
            ("1½", 1.5),
            ("1 1/2", 1.5),
            ("3/4", 0.75),
            ("a", 1.0),
            ("twelve", 12.0),
            ("twenty four", 24.0),
            ("a dozen", 12.0),
            ("half a dozen", 6.0),
            ("half a", 0.5),
            ("a half", 0.5),
            ("one and a half", 1.5),
            ("2 and a quarter", 2.25),
            ("two thirds", 2.0 / 3.0),
            ("three-quarters of a", 0.75),
            ("a couple of", 2.0),
            ("a few", 3.0),
            ("several", 4.0),
            ("2-3", 2.5),
            ("2 to 3", 2.5),
            ("x4", 4.0),
            ("4x", 4.0),
            ("-3", -3.0),
        ] {
            let all = tokens(said);
            let (amount, next) = number(&all, 0).unwrap();
            assert!((amount.mid - value).abs() < 1e-9, "{said}: {amount:?}");
            assert_eq!(next, all.len(), "{said}");
        }
    }

    #[test]
    fn a_range_keeps_both_ends() {
        let (amount, _) = number(&tokens("2-3"), 0).unwrap();
        assert_eq!((amount.low, amount.high), (2.0, 3.0));
    }

    #[test]
    fn absurd_numbers_do_not_hold() {
        for said in ["-3", "0", "20000", &"9".repeat(400)] {
            assert!(!number(&tokens(said), 0).unwrap().0.holds(), "{said}");
        }
    }
}
