//! Numbers of a look with their units: degrees, fingers, shares, litres, kilograms.

use super::read::{HINT_LEVEL, HINT_NUMBER, HINT_RANGE, HINT_WATER, Reader};
use super::words::Topic;
use super::{FINGER_CM, HAND_CM, SHARES, Value};
use crate::entry::number::{Amount, number};
use crate::entry::tokens::Token;
use crate::entry::when::when;

const RIM: &str = "fingers are counted down from the rim";
const AS_CELSIUS: &str = "taken as °C";
const AS_FAHRENHEIT: &str = "taken as °F";
const AS_KG: &str = "taken as kg";
const AS_LB: &str = "taken as pounds";

/// Litres of a US gallon and quart, kilograms of a pound, by definition.
const GALLON_L: f64 = 3.785_411_784;
const QUART_L: f64 = 0.946_352_946;
const IMPERIAL_GALLON_L: f64 = 4.546_09;
const POUND_KG: f64 = 0.453_592_37;
const INCH_CM: f64 = 2.54;

/// A unit behind a number.
enum Unit {
    Celsius,
    Fahrenheit,
    Degrees,
    Percent,
    Cm(f64),
    Litres(f64),
    Kg(f64),
    Times,
}

impl Reader<'_> {
    fn unit(&self, t: &[Token], at: usize) -> Option<(Unit, usize)> {
        let token = t.get(at)?;
        let quoted = &self.text[token.start..token.end];
        let degree = matches!(quoted, "°" | "º" | "˚" | "℃" | "℉");
        let word = if degree {
            match quoted {
                "℃" => return Some((Unit::Celsius, at + 1)),
                "℉" => return Some((Unit::Fahrenheit, at + 1)),
                _ => "",
            }
        } else {
            token.low().trim_start_matches(['º', '˚'])
        };
        if degree || matches!(word, "degree" | "degrees" | "deg" | "degs") {
            return Some(match t.get(at + 1).map(Token::low) {
                Some("c" | "celsius" | "centigrade") => (Unit::Celsius, at + 2),
                Some("f" | "fahrenheit") => (Unit::Fahrenheit, at + 2),
                _ => (Unit::Degrees, at + 1),
            });
        }
        let unit = match word {
            "c" | "celsius" | "centigrade" => Unit::Celsius,
            "f" | "fahrenheit" => Unit::Fahrenheit,
            "percent" | "pct" => Unit::Percent,
            "finger" | "fingers" => {
                let dash = usize::from(t.get(at + 1).is_some_and(|x| x.is_mark('-')));
                let behind = at + 1 + dash;
                let wide = matches!(t.get(behind).map(Token::norm), Some("width" | "breadth"));
                return Some((Unit::Cm(FINGER_CM), if wide { behind + 1 } else { at + 1 }));
            }
            "hand" | "hands" => Unit::Cm(HAND_CM),
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Unit::Cm(1.0),
            "inch" | "inches" => Unit::Cm(INCH_CM),
            "l" | "litre" | "litres" | "liter" | "liters" | "ltr" => Unit::Litres(1.0),
            "ml" => Unit::Litres(0.001),
            "gal" | "gallon" | "gallons" if self.hands.us => Unit::Litres(GALLON_L),
            "gal" | "gallon" | "gallons" => Unit::Litres(IMPERIAL_GALLON_L),
            "qt" | "quart" | "quarts" => Unit::Litres(QUART_L),
            "kg" | "kgs" | "kilo" | "kilos" | "kilogram" | "kilograms" => Unit::Kg(1.0),
            "lb" | "lbs" | "pound" | "pounds" => Unit::Kg(POUND_KG),
            "times" | "x" | "turns" | "round" | "rounds" => Unit::Times,
            _ if quoted == "%" => Unit::Percent,
            _ => return None,
        };
        Some((unit, at + 1))
    }

    /// A number with its unit, or with the topic it stands under.
    #[allow(clippy::type_complexity, reason = "where to go on, and what is wrong")]
    pub(super) fn number(
        &mut self,
        t: &[Token],
        at: usize,
        topics: &[(Topic, usize)],
    ) -> Option<Result<usize, (usize, &'static str)>> {
        let (amount, next) = number(t, at)?;
        let topic = self.topic(topics, at);
        let mid = amount.mid;
        // `%` is no token: it stands between this number and the next word.
        let percent = self.percent_behind(t, next);
        let unit = if percent {
            Some((Unit::Percent, next))
        } else {
            self.unit(t, next)
        };
        let Some((unit, next)) = unit else {
            return self.bare(t, at, next, &amount, topic);
        };
        let (value, end, assumed) = match unit {
            Unit::Celsius => (Value::Celsius(mid), next, None),
            Unit::Fahrenheit => (Value::Celsius(from_fahrenheit(mid)), next, None),
            Unit::Degrees if self.hands.us => (
                Value::Celsius(from_fahrenheit(mid)),
                next,
                Some(AS_FAHRENHEIT),
            ),
            Unit::Degrees => (Value::Celsius(mid), next, Some(AS_CELSIUS)),
            Unit::Percent => match topic {
                Some(Topic::Card) => (Value::Card(class_of(mid)), next, None),
                Some(Topic::Peel) => (Value::Peel(class_of(mid)), next, None),
                Some(Topic::Level) => (Value::Full(mid / 100.0), next, None),
                _ => return Some(Err((next, HINT_NUMBER))),
            },
            Unit::Cm(cm) => {
                let (deep, end, said) = below_or_deep(t, next);
                let value = if deep {
                    Value::DeepCm(mid * cm)
                } else {
                    Value::BelowRimCm(mid * cm)
                };
                (value, end, (!said).then_some(RIM))
            }
            Unit::Litres(l) => match topic {
                Some(Topic::Water) => (Value::Watered(mid * l), next, None),
                Some(Topic::Level) => (Value::Litres(mid * l), next, None),
                _ => return Some(Err((next, HINT_NUMBER))),
            },
            Unit::Kg(kg) => match topic {
                None | Some(Topic::Weight) => (Value::Kilograms(mid * kg), next, None),
                _ => return Some(Err((next, HINT_NUMBER))),
            },
            Unit::Times => match topic {
                Some(Topic::Turn) => (Value::Turned(mid), next, None),
                _ => return None,
            },
        };
        if !within(&value) || amount.article && !matches!(unit, Unit::Cm(_)) {
            return Some(Err((end, HINT_RANGE)));
        }
        self.push(at, end, value, assumed);
        Some(Ok(end))
    }

    fn percent_behind(&self, t: &[Token], next: usize) -> bool {
        let from = t.get(next - 1).map_or(0, |x| x.end);
        let to = t.get(next).map_or(self.text.len(), |x| x.start);
        self.text.get(from..to).is_some_and(|gap| gap.contains('%'))
    }

    /// A number without a unit.
    #[allow(clippy::type_complexity, reason = "as above")]
    fn bare(
        &mut self,
        t: &[Token],
        at: usize,
        next: usize,
        amount: &Amount,
        topic: Option<Topic>,
    ) -> Option<Result<usize, (usize, &'static str)>> {
        if amount.article {
            return None;
        }
        if when(t, at, self.hands.us).is_some() && !amount.fraction {
            return None;
        }
        let (value, end, assumed) = match topic {
            Some(Topic::Squeeze) => {
                // "4 of 5", "4/5" is no fraction here.
                let five = number(t, next + 1).is_some_and(|(n, _)| n.mid == 5.0);
                let of = matches!(t.get(next).map(Token::low), Some("of")) && five;
                let fifths = amount.fraction.then_some(amount.mid * 5.0);
                let grade = fifths.unwrap_or(amount.mid);
                let whole = (grade - grade.round()).abs() < 1e-9 && amount.low == amount.high;
                if !whole || !(1.0..=5.0).contains(&grade.round()) {
                    return Some(Err((next, "the grades of a squeeze are 1 to 5")));
                }
                let end = if of { next + 2 } else { next };
                (Value::Squeeze(grade.round() as u8), end, None)
            }
            Some(Topic::Level) if amount.fraction => (Value::Full(amount.mid), next, None),
            Some(Topic::Card) if amount.fraction => {
                (Value::Card(class_of(amount.mid * 100.0)), next, None)
            }
            Some(Topic::Degrees) if self.hands.us => (
                Value::Celsius(from_fahrenheit(amount.mid)),
                next,
                Some(AS_FAHRENHEIT),
            ),
            Some(Topic::Degrees) => (Value::Celsius(amount.mid), next, Some(AS_CELSIUS)),
            Some(Topic::Weight) if self.hands.us => {
                (Value::Kilograms(amount.mid * POUND_KG), next, Some(AS_LB))
            }
            Some(Topic::Weight) => (Value::Kilograms(amount.mid), next, Some(AS_KG)),
            Some(Topic::Turn) => (Value::Turned(amount.mid), next, None),
            Some(Topic::Level) => return Some(Err((next, HINT_LEVEL))),
            Some(Topic::Water) => return Some(Err((next, HINT_WATER))),
            _ => return Some(Err((next, HINT_NUMBER))),
        };
        if !within(&value) {
            return Some(Err((end, HINT_RANGE)));
        }
        self.push(at, end, value, assumed);
        Some(Ok(end))
    }
}

/// "below the rim" or "deep": whether it is a depth, the token after, and whether it was said.
fn below_or_deep(t: &[Token], at: usize) -> (bool, usize, bool) {
    let word = |i: usize| t.get(i).map_or("", Token::low);
    let mut next = at;
    while matches!(word(next), "of" | "full") {
        next += 1;
    }
    if matches!(word(next), "deep" | "high" | "tall" | "up") {
        return (true, next + 1, true);
    }
    if matches!(word(next), "compost" | "stuff" | "material" | "contents") {
        return (true, next + 1, true);
    }
    let below = matches!(
        word(next),
        "below"
            | "under"
            | "beneath"
            | "down"
            | "from"
            | "off"
            | "short"
            | "free"
            | "empty"
            | "headroom"
            | "space"
    );
    if !below {
        return (false, at, false);
    }
    if matches!(word(next), "free" | "empty" | "headroom" | "space") {
        return (false, next + 1, true);
    }
    let mut end = next + 1;
    while matches!(word(end), "from" | "of" | "the" | "below" | "under" | "my") {
        end += 1;
    }
    match word(end) {
        "bottom" | "floor" | "base" | "ground" => (true, end + 1, true),
        "rim" | "top" | "door" | "hatch" | "edge" | "brim" | "lid" | "opening" | "mark" => {
            (false, end + 1, true)
        }
        _ => (false, end, true),
    }
}

fn from_fahrenheit(f: f64) -> f64 {
    ((f - 32.0) / 1.8 * 100.0).round() / 100.0
}

/// Quarters of what went in, as the four words mean them.
fn class_of(percent: f64) -> usize {
    ((percent / 25.0).floor().max(0.0) as usize).min(SHARES.len() - 1)
}

/// Whether a number can be at all. A broken probe says odd degrees: those pass, to be set aside by name.
fn within(value: &Value) -> bool {
    let (x, least, most) = match *value {
        Value::Celsius(c) => (c, -300.0, 1_000.0),
        Value::BelowRimCm(cm) | Value::DeepCm(cm) => (cm, 0.0, 400.0),
        Value::Full(share) => (share, 0.0, 1.2),
        Value::Litres(l) => (l, 0.0, 20_000.0),
        Value::Kilograms(kg) => (kg, 0.05, 5_000.0),
        Value::Turned(n) => (n, 1.0, 100.0),
        Value::Watered(l) => (l, 0.001, 500.0),
        _ => return true,
    };
    x.is_finite() && (least..=most).contains(&x)
}
