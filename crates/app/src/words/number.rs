//! Numbers with no more digits than a hand can carry.

use desk::DoseLine;
use units::{Spread, round_to_doubt};

use super::tongue::{CUP_L, POUND_KG, Tongue};

/// At most two figures behind the point, fewer for a large number; no trailing zeros.
pub(super) fn plain(value: f64) -> String {
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
pub(crate) fn measure(kg: Option<Spread>, litres: Option<Spread>, tongue: Tongue) -> String {
    let of = |s: Spread, (unit, size): (&str, f64)| {
        let s = s.scale(1.0 / size);
        format!("{} {unit}", plain(round_to_doubt(s.mid, s)))
    };
    let mass = |s: Spread| of(s, tongue.mass_unit(s.mid));
    let volume = |s: Spread| of(s, tongue.volume_unit(s.mid));
    match (kg, litres) {
        (Some(kg), Some(l)) => format!("about {}, {}", mass(kg), volume(l)),
        (Some(kg), None) => format!("about {}", mass(kg)),
        (None, Some(l)) => format!("about {}", volume(l)),
        (None, None) => "amount unknown".into(),
    }
}

/// Mass in a published recipe: four significant digits, as such recipes are checked by.
pub(crate) fn exact_mass(kg: f64, tongue: Tongue) -> String {
    let (unit, size) = if tongue.us {
        ("lb", POUND_KG)
    } else {
        ("kg", 1.0)
    };
    let mass = kg / size;
    let places = (3 - mass.abs().max(1e-9).log10().floor() as i32).clamp(0, 6) as usize;
    format!("{mass:.places$} {unit}")
}

/// Litres to what a hand can pour: halves below 3, then whole ones; cups, quarts and gallons to the half.
fn poured(litres: f64, tongue: Tongue) -> String {
    let (unit, size) = tongue.volume_unit(litres);
    let units = litres / size;
    let few = if tongue.us { 10.0 } else { 3.0 };
    let said = if units < few {
        plain((units * 2.0).round().max(1.0) / 2.0)
    } else {
        format!("{units:.0}")
    };
    let unit = if unit == "cups" && units < 1.25 {
        "cup"
    } else {
        unit
    };
    format!("{said} {unit}")
}

/// An amount in the measure a hand would use: up to eight handfuls, then half caddies, then buckets.
pub(crate) fn amount(dose: &DoseLine, caddy_l: f64, tongue: Tongue) -> String {
    let (Some(litres), Some(handfuls)) = (dose.litres, dose.handfuls) else {
        return match dose.litres {
            Some(l) if l < 1.0 => by_cup(l, tongue),
            Some(l) => format!("about {}", poured(l, tongue)),
            None => format!("about {}", tongue.weight(dose.kg)),
        };
    };
    let poured = poured(litres, tongue);
    let n = handfuls.round().max(1.0);
    if handfuls <= 8.5 {
        let s = if n > 1.0 { "s" } else { "" };
        return format!("{n:.0} handful{s} ({poured})");
    }
    let halves = (litres / caddy_l * 2.0).round().max(1.0);
    if halves <= 8.0 {
        return format!("about {} ({poured})", halved(halves, "caddy", "caddies"));
    }
    // A bucket is 10 L (common practice).
    let halves = (litres / 10.0 * 2.0).round().max(1.0);
    format!("about {} ({poured})", halved(halves, "bucket", "buckets"))
}

/// Water below a litre: a metric cup holds 250 ml, a US cup is its own measure.
fn by_cup(litres: f64, tongue: Tongue) -> String {
    let cup = if tongue.us { CUP_L } else { 0.25 };
    let halves = (litres / cup * 2.0).round().max(1.0);
    let cups = halved(halves, "cup", "cups");
    if tongue.us {
        format!("about {cups}")
    } else {
        format!(
            "about {cups} ({:.0} ml)",
            (litres * 20.0).round().max(1.0) * 50.0
        )
    }
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
            assert_eq!(amount(&card(litres), 6.0, Tongue::default()), said);
        }
    }

    #[test]
    fn the_hand_comes_first_in_us_measures_too() {
        let us = Tongue {
            us: true,
            american: false,
        };
        for (litres, said) in [
            (0.3, "1 handful (1.5 cups)"),
            (2.8, "8 handfuls (3 qt)"),
            (16.0, "about 2½ caddies (4 gal)"),
            (33.0, "about 3½ buckets (8.5 gal)"),
        ] {
            assert_eq!(amount(&card(litres), 6.0, us), said);
        }
        let water = DoseLine {
            handfuls: None,
            ..card(0.5)
        };
        assert_eq!(
            amount(&water, 6.0, Tongue::default()),
            "about 2 cups (500 ml)"
        );
        assert_eq!(amount(&water, 6.0, us), "about 2 cups");
        assert_eq!(exact_mass(3.8, us), "8.378 lb");
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
