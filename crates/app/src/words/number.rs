//! Numbers with no more digits than a hand can carry.

use desk::DoseLine;
use units::{Spread, round_to_doubt};

fn plain(value: f64) -> String {
    if value == 0.0 {
        return "0".into();
    }
    let places = (1 - value.abs().log10().floor() as i32).clamp(0, 3) as usize;
    let text = format!("{value:.places$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// "66 % (61–71)"; "unknown" where it is.
pub(crate) fn range(spread: Option<Spread>, unit: &str) -> String {
    let Some(s) = spread else {
        return "unknown".into();
    };
    let gap = if unit.is_empty() { "" } else { " " };
    let of = |v: f64| plain(round_to_doubt(v, s));
    let mid = of(s.mid);
    let (low, high) = (of(s.low), of(s.high));
    if low == high {
        format!("{mid}{gap}{unit}")
    } else {
        format!("{mid}{gap}{unit} ({low}–{high})")
    }
}

/// "1.2 kg, 2.5 L" of a portion.
pub(crate) fn measure(kg: Option<Spread>, litres: Option<Spread>) -> String {
    let of = |s: Spread| plain(round_to_doubt(s.mid, s));
    match (kg, litres) {
        (Some(kg), Some(l)) => format!("about {}, {} L", mass(kg), of(l)),
        (Some(kg), None) => format!("about {}", mass(kg)),
        (None, Some(l)) => format!("about {} L", of(l)),
        (None, None) => "amount unknown".into(),
    }
}

fn mass(kg: Spread) -> String {
    if kg.mid < 1.0 {
        let grams = kg.scale(1000.0);
        format!("{} g", plain(round_to_doubt(grams.mid, grams)))
    } else {
        format!("{} kg", plain(round_to_doubt(kg.mid, kg)))
    }
}

/// Kilograms of a published recipe: four significant digits, as such recipes are checked by.
pub(crate) fn exact_kg(kg: f64) -> String {
    let places = (3 - kg.abs().max(1e-9).log10().floor() as i32).clamp(0, 6) as usize;
    format!("{kg:.places$}")
}

/// An amount in the measure a hand would use: up to eight handfuls, then half caddies, then buckets.
pub(crate) fn amount(dose: &DoseLine, caddy_l: f64) -> String {
    let (Some(litres), Some(handfuls)) = (dose.litres, dose.handfuls) else {
        return match dose.litres {
            Some(l) if l < 1.0 => format!("about {:.0} ml", (l * 20.0).round() * 50.0),
            Some(l) => format!("about {} L", plain((l * 2.0).round() / 2.0)),
            None => format!("about {} kg", plain(dose.kg)),
        };
    };
    let in_litres = if litres < 3.0 {
        plain((litres * 2.0).round().max(1.0) / 2.0)
    } else {
        format!("{litres:.0}")
    };
    let n = handfuls.round().max(1.0);
    if handfuls <= 8.5 {
        let s = if n > 1.0 { "s" } else { "" };
        return format!("{n:.0} handful{s} ({in_litres} L)");
    }
    let halves = (litres / caddy_l * 2.0).round().max(1.0);
    if halves <= 8.0 {
        return format!(
            "about {} ({in_litres} L)",
            halved(halves, "caddy", "caddies")
        );
    }
    // A bucket is 10 L (common practice).
    let halves = (litres / 10.0 * 2.0).round().max(1.0);
    format!(
        "about {} ({in_litres} L)",
        halved(halves, "bucket", "buckets")
    )
}

fn halved(halves: f64, one: &str, many: &str) -> String {
    let whole = (halves / 2.0).floor();
    let half = halves % 2.0 >= 1.0;
    match (whole as i64, half) {
        (0, _) => format!("half a {one}"),
        (1, false) => format!("1 {one}"),
        (w, false) => format!("{w} {many}"),
        (w, true) => format!("{w}½ {many}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use desk::LedBy;

    fn card(litres: f64) -> DoseLine {
        DoseLine {
            material: "cardboard-corrugated".into(),
            name: "Card".into(),
            kg: litres * 0.045,
            litres: Some(litres),
            handfuls: Some(litres / 0.35),
            led_by: LedBy::Water,
        }
    }

    #[test]
    fn the_measure_grows_with_the_amount() {
        for (litres, said) in [
            (0.3, "1 handful (0.5 L)"),
            (2.8, "8 handfuls (3 L)"),
            (3.5, "about half a caddy (4 L)"),
            (16.0, "about 2½ caddies (16 L)"),
            (24.0, "about 4 caddies (24 L)"),
            (33.0, "about 3½ buckets (33 L)"),
        ] {
            assert_eq!(amount(&card(litres), 6.0), said);
        }
    }

    #[test]
    fn no_digit_beyond_the_doubt() {
        assert_eq!(
            range(Some(Spread::new(61.2, 65.9, 70.8)), "%"),
            "66 % (61–71)"
        );
        assert_eq!(range(None, "%"), "unknown");
        assert_eq!(range(Some(Spread::exact(34.68)), ""), "35");
    }
}
