//! How a household measures: metric or US, and how it spells.

use desk::Desk;
use units::{OutOfRange, Spread};

use super::american::{american_lines, differs};
use super::number::{plain, range};

/// Litres of US measures: 231 in³ a gallon, four quarts or sixteen cups in it (NIST Handbook 44, appendix C).
pub(crate) const GALLON_L: f64 = 3.785_411_784;
pub(crate) const QUART_L: f64 = GALLON_L / 4.0;
pub(crate) const CUP_L: f64 = GALLON_L / 16.0;
/// Kilograms of a pound and an ounce, centimetres of an inch (NIST Handbook 44, appendix C).
pub(crate) const POUND_KG: f64 = 0.453_592_37;
const OUNCE_KG: f64 = POUND_KG / 16.0;
const INCH_CM: f64 = 2.54;
const FOOT_M: f64 = 12.0 * INCH_CM / 100.0;
/// Above it quarts are counted in gallons (choice).
const MANY_QUARTS_L: f64 = 2.0 * GALLON_L;

/// Measures and spelling of a household; metric and British unless it said otherwise.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Tongue {
    /// US measures.
    pub(crate) us: bool,
    /// American words.
    pub(crate) american: bool,
}

/// Names the household gave that hold a word Americans say otherwise, as they may stand in a sentence.
pub(crate) fn names(desk: &Desk) -> Vec<String> {
    let mut all: Vec<String> = desk
        .chambers()
        .unwrap_or_default()
        .into_iter()
        .map(|c| c.name)
        .collect();
    if let Ok(home) = desk.household() {
        all.push(home.name);
        all.extend(home.place);
        for (name, _) in home.own {
            all.extend([super::lower(&name), name.to_lowercase(), name]);
        }
    }
    all.retain(|name| differs(name));
    all
}

/// What a field of a form holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A caddy: litres or quarts.
    Caddy,
    /// A chamber: litres or gallons.
    Chamber,
    /// Kilograms or pounds.
    Mass,
    /// Centimetres or inches.
    Length,
    /// Metres or feet.
    Distance,
}

impl Tongue {
    /// As the household of this desk said; the usual one where no journal is kept.
    pub(crate) fn of(desk: &Desk) -> Self {
        desk.household().map_or_else(
            |_| Self::default(),
            |h| Self {
                us: h.us,
                american: h.american,
            },
        )
    }

    /// A text of the program's own in the words of the household; what a person typed in it stays.
    pub(crate) fn say(self, desk: &Desk, text: String) -> String {
        if self.american {
            american_lines(&text, &names(desk))
        } else {
            text
        }
    }

    /// Name and size of the unit that a volume is said in.
    pub(crate) fn volume_unit(self, litres: f64) -> (&'static str, f64) {
        match (self.us, litres) {
            (false, _) => ("L", 1.0),
            (true, l) if l < QUART_L => ("cups", CUP_L),
            (true, l) if l < MANY_QUARTS_L => ("qt", QUART_L),
            (true, _) => ("gal", GALLON_L),
        }
    }

    /// Name and size of the unit that a mass is said in.
    pub(crate) fn mass_unit(self, kg: f64) -> (&'static str, f64) {
        match self.us {
            false if kg < 1.0 => ("g", 0.001),
            false => ("kg", 1.0),
            true if kg < POUND_KG => ("oz", OUNCE_KG),
            true => ("lb", POUND_KG),
        }
    }

    /// A volume with its doubt, as "16 L (12–20)".
    pub(crate) fn volume(self, litres: Option<Spread>) -> String {
        let (unit, size) = self.volume_unit(litres.map_or(0.0, |l| l.mid));
        range(litres.map(|l| l.scale(1.0 / size)), unit)
    }

    /// A mass with its doubt.
    pub(crate) fn mass(self, kg: Option<Spread>) -> String {
        let (unit, size) = if self.us {
            ("lb", POUND_KG)
        } else {
            ("kg", 1.0)
        };
        range(kg.map(|k| k.scale(1.0 / size)), unit)
    }

    /// A size that was given, to the whole unit: "130 L", "34 gal".
    pub(crate) fn size(self, litres: f64) -> String {
        let (unit, size) = self.volume_unit(litres);
        let units = litres / size;
        if units < 10.0 && self.us {
            format!("{} {unit}", plain((units * 2.0).round() / 2.0))
        } else {
            format!("{units:.0} {unit}")
        }
    }

    /// A mass to the digit a hand can carry: 100 g below 3 kg, half kilograms below 20.
    pub(crate) fn weight(self, kg: f64) -> String {
        match (self.us, kg / POUND_KG) {
            (true, lb) if lb < 7.0 => format!("{} lb", plain((lb * 2.0).round().max(1.0) / 2.0)),
            (true, lb) => format!("{lb:.0} lb"),
            (false, _) if kg < 3.0 => format!("{kg:.1} kg"),
            (false, _) if kg < 20.0 => format!("{} kg", (kg * 2.0).round() / 2.0),
            (false, _) => format!("{kg:.0} kg"),
        }
    }

    /// A distance as it was given: "3 m", "10 ft".
    pub(crate) fn distance(self, metres: f64) -> String {
        if self.us {
            format!("{:.0} ft", metres / FOOT_M)
        } else {
            format!("{} m", plain(metres))
        }
    }

    /// A sentence of the program's own with every "55 °C" in it as the household reads it, also in lists:
    /// "60 or 55 °C". Not for differences of temperature, and not for words that a person typed.
    pub(crate) fn warm(self, text: &str) -> String {
        const UNIT: &str = "°C";
        if !self.us {
            return text.to_owned();
        }
        let mut out = String::new();
        let mut rest = text;
        while let Some((before, after)) = rest.split_once(UNIT) {
            let from = numbers_at_end(before);
            out.push_str(&before[..from]);
            out.push_str(&fahrenheit(&before[from..]));
            out.push_str(if from < before.len() { "°F" } else { UNIT });
            rest = after;
        }
        out.push_str(rest);
        out
    }

    /// The unit of a field in words, and its size in L, kg, cm or m.
    pub(crate) fn field(self, kind: Kind) -> (&'static str, f64) {
        match (kind, self.us) {
            (Kind::Caddy | Kind::Chamber, false) => ("litres", 1.0),
            (Kind::Caddy, true) => ("quarts", QUART_L),
            (Kind::Chamber, true) => ("gallons", GALLON_L),
            (Kind::Mass, false) => ("kg", 1.0),
            (Kind::Mass, true) => ("pounds", POUND_KG),
            (Kind::Length, false) => ("cm", 1.0),
            (Kind::Length, true) => ("inches", INCH_CM),
            (Kind::Distance, false) => ("metres", 1.0),
            (Kind::Distance, true) => ("feet", FOOT_M),
        }
    }

    /// A refusal in the unit of the field.
    pub(crate) fn outside(self, wrong: &OutOfRange, kind: Kind) -> String {
        let (unit, size) = self.field(kind);
        let said = |v: f64| plain(v / size);
        format!(
            "{}: {} {unit} is outside {} to {} {unit}.",
            wrong.range.name,
            said(wrong.value),
            said(wrong.range.least),
            said(wrong.range.most)
        )
    }
}

/// Where the numbers begin that a text ends in: "70, 65, 60 or 55 " or "−127 ".
fn numbers_at_end(text: &str) -> usize {
    let number = |text: &str| {
        let end = text.trim_end_matches([' ', '\u{a0}']);
        let digits = end.trim_end_matches(|c: char| c.is_ascii_digit());
        let sign = digits.strip_suffix(['−', '-']);
        (digits.len() < end.len()).then(|| sign.unwrap_or(digits).len())
    };
    let Some(mut from) = number(text) else {
        return text.len();
    };
    loop {
        let before = [" or ", ", ", "–"]
            .iter()
            .find_map(|gap| text[..from].strip_suffix(gap));
        match before
            .filter(|b| b.ends_with(|c: char| c.is_ascii_digit()))
            .and_then(number)
        {
            Some(earlier) => from = earlier,
            None => return from,
        }
    }
}

/// Each whole number of a text from °C to °F.
fn fahrenheit(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        let (before, number) = rest.split_at(at);
        let end = number
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(number.len());
        let below = before.ends_with(['−', '-']);
        let celsius: f64 = number[..end].parse().unwrap_or_default();
        let value = (if below { -celsius } else { celsius } * 1.8 + 32.0).round();
        out.push_str(if below {
            before.trim_end_matches(['−', '-'])
        } else {
            before
        });
        if value < 0.0 {
            out.push('−');
        }
        out.push_str(&format!("{:.0}", value.abs()));
        rest = &number[end..];
    }
    out.push_str(rest);
    out
}

/// L, kg, cm or m of a unit written behind a number; `None` if the field takes no such unit.
pub(crate) fn unit_named(word: &str, kind: Kind) -> Option<f64> {
    let word = word.trim_end_matches('.').to_lowercase();
    match kind {
        Kind::Caddy | Kind::Chamber => match word.as_str() {
            "l" | "litre" | "litres" | "liter" | "liters" | "ltr" => Some(1.0),
            "ml" => Some(0.001),
            "cup" | "cups" => Some(CUP_L),
            "qt" | "quart" | "quarts" => Some(QUART_L),
            "gal" | "gallon" | "gallons" => Some(GALLON_L),
            _ => None,
        },
        Kind::Mass => match word.as_str() {
            "kg" | "kilo" | "kilos" => Some(1.0),
            "g" | "gram" | "grams" => Some(0.001),
            "lb" | "lbs" | "pound" | "pounds" => Some(POUND_KG),
            "oz" | "ounce" | "ounces" => Some(OUNCE_KG),
            _ => None,
        },
        Kind::Length => match word.as_str() {
            "cm" => Some(1.0),
            "mm" => Some(0.1),
            "m" => Some(100.0),
            "in" | "inch" | "inches" | "\"" | "″" => Some(INCH_CM),
            "ft" | "foot" | "feet" => Some(12.0 * INCH_CM),
            _ => None,
        },
        Kind::Distance => match word.as_str() {
            "m" | "metre" | "metres" | "meter" | "meters" => Some(1.0),
            "cm" => Some(0.01),
            "ft" | "foot" | "feet" | "'" => Some(FOOT_M),
            _ => None,
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const US: Tongue = Tongue {
        us: true,
        american: false,
    };

    #[test]
    fn the_same_amount_in_both_measures() {
        for (litres, metric, us) in [
            (0.35, "0 L", "1.5 cups"),
            (2.0, "2 L", "2 qt"),
            (5.0, "5 L", "5.5 qt"),
            (16.0, "16 L", "4 gal"),
            (130.0, "130 L", "34 gal"),
        ] {
            assert_eq!(Tongue::default().size(litres), metric);
            assert_eq!(US.size(litres), us);
        }
        assert_eq!(Tongue::default().weight(10.6), "10.5 kg");
        assert_eq!(US.weight(10.6), "23 lb");
        assert_eq!(US.weight(0.5), "1 lb");
    }

    #[test]
    fn doubt_is_converted_with_the_amount() {
        let s = Some(Spread::new(12.0, 16.0, 20.0));
        assert_eq!(Tongue::default().volume(s), "16 L (12–20)");
        assert_eq!(US.volume(s), "4 gal (3–5.5)");
        assert_eq!(US.mass(None), "unknown");
    }

    #[test]
    fn warmth_in_a_sentence_follows_the_household() {
        for (metric, us) in [
            (
                "The core is over 55 °C, or ash went in.",
                "The core is over 131 °F, or ash went in.",
            ),
            (
                "55 °C for 72 h, or 60 °C for 48 h",
                "131 °F for 72 h, or 140 °F for 48 h",
            ),
            (
                "70, 65, 60 or 55 °C for 3 days",
                "158, 149, 140 or 131 °F for 3 days",
            ),
            ("65–70 °C, 3 turnings", "149–158 °F, 3 turnings"),
            (
                "−127\u{a0}°C is a loose wire",
                "−197\u{a0}°F is a loose wire",
            ),
            (
                "5 turnings, then 4 h above 55 °C",
                "5 turnings, then 4 h above 131 °F",
            ),
            ("slope 0.14 per °C", "slope 0.14 per °C"),
            ("nothing warm in it", "nothing warm in it"),
        ] {
            assert_eq!(US.warm(metric), us);
            assert_eq!(Tongue::default().warm(metric), metric);
        }
    }

    #[test]
    fn a_unit_behind_a_number_counts() {
        assert_eq!(unit_named("Quarts", Kind::Caddy), Some(QUART_L));
        assert_eq!(unit_named("L", Kind::Chamber), Some(1.0));
        assert_eq!(unit_named("lbs.", Kind::Mass), Some(POUND_KG));
        assert_eq!(unit_named("kg", Kind::Length), None);
    }

    #[test]
    fn a_refusal_names_the_unit_of_the_field() {
        let wrong = units::ranges::CADDY_L.check(300.0).unwrap_err();
        assert_eq!(
            Tongue::default().outside(&wrong, Kind::Caddy),
            "caddy: 300 litres is outside 0.5 to 60 litres."
        );
        assert_eq!(
            US.outside(&wrong, Kind::Caddy),
            "caddy: 317 quarts is outside 0.53 to 63 quarts."
        );
    }
}
