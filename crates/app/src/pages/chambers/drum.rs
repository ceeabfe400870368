//! The picture that is ours: a chamber cut across, to scale, with a sentence that says the same.

use std::collections::BTreeMap;
use std::f64::consts::PI;

use desk::ChamberFacts;
use maud::{Markup, html};

use crate::pages::_frame::{Oops, Site, mark};

/// Roles of the kinds in the chambers, by name.
pub(crate) type Browns = BTreeMap<String, &'static str>;

/// Radius of the drum on paper.
const R: f64 = 90.0;
const CENTRE: (f64, f64) = (110.0, 104.0);
/// A chamber's length by its width, where only litres are known (judged: half of a common drum).
const LENGTH_BY_WIDTH: f64 = 0.53;
/// An adult hand from wrist to fingertip, cm (recalled: 17–20).
pub(crate) const HAND_CM: f64 = 18.0;
/// Half the thickness of the torn edge: one finger is about 4 % of the chamber (judged).
const FINGER_PCT: f64 = 4.0;
/// The same where it was guessed: two people differ by ten points in a drum half full (judged).
const GUESS_PCT: f64 = 10.0;
/// Share to leave free so that the mix falls as it turns (common practice).
pub(crate) const FREE_PCT: f64 = 20.0;

/// Looks up the role of every kind drawn.
pub(crate) async fn browns(site: &Site, chambers: &[ChamberFacts]) -> Result<Browns, Oops> {
    let names: Vec<String> = chambers
        .iter()
        .flat_map(|c| c.kinds.iter().map(|(n, _)| n.clone()))
        .collect();
    site.ask(move |desk| {
        let mut roles = Browns::new();
        for name in names {
            if roles.contains_key(&name) {
                continue;
            }
            if let Some(role) = desk.role(&name) {
                roles.insert(name, role);
            }
        }
        Ok(roles)
    })
    .await
}

pub(crate) fn mark_of(browns: &Browns, name: &str) -> Markup {
    mark(browns.get(name).copied().unwrap_or_default())
}

/// Share of browns by mass among the largest kinds.
pub(crate) fn brown_share(chamber: &ChamberFacts, browns: &Browns) -> Option<f64> {
    let all: f64 = chamber.kinds.iter().map(|(_, kg)| kg).sum();
    let brown: f64 = chamber
        .kinds
        .iter()
        .filter(|(name, _)| matches!(browns.get(name), Some(&("dries" | "opens"))))
        .map(|(_, kg)| kg)
        .sum();
    (all > 0.0).then(|| brown / all)
}

/// Height above the floor, as a share of the width, at which `share` of a circle lies below.
pub(crate) fn height(share: f64) -> f64 {
    let share = share.clamp(0.0, 1.0);
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..40 {
        let mid = f64::midpoint(low, high);
        let angle = 2.0 * (1.0 - 2.0 * mid).acos();
        let below = (angle - angle.sin()) / (2.0 * PI);
        if below < share { low = mid } else { high = mid }
    }
    f64::midpoint(low, high)
}

/// Height on paper of a level in per cent.
fn y_of(level_pct: f64) -> f64 {
    CENTRE.1 + R - 2.0 * R * height(level_pct / 100.0)
}

/// Width of the drum in cm from the litres of one chamber.
pub(crate) fn width_cm(litres: f64) -> f64 {
    (litres * 1000.0 * 4.0 / (PI * LENGTH_BY_WIDTH)).cbrt()
}

/// The chamber in use first, those that wait last.
pub(crate) fn in_use_first(chambers: &mut [ChamberFacts]) {
    chambers.sort_by_key(|c| match c.state {
        "filling" => 0,
        "empty" => 1,
        _ => 2,
    });
}

/// Whether a level was guessed; its date says so.
fn by_eye(date: &str) -> bool {
    date.ends_with("by eye")
}

/// What the picture shows, in words.
pub(crate) fn sentences(chamber: &ChamberFacts, browns: &Browns) -> Vec<String> {
    let since = match (&chamber.since, chamber.days) {
        (Some(date), Some(days)) => {
            format!(
                " It was begun on {date}, {days} {} ago.",
                if days == 1 { "day" } else { "days" }
            )
        }
        _ => String::new(),
    };
    let mut all = vec![match chamber.state {
        "empty" => format!("{} is empty.", chamber.name),
        "closed" => format!("{} is closed and finishing.{since}", chamber.name),
        _ => format!("{} is filling.{since}", chamber.name),
    }];
    if let Some((level, date)) = &chamber.level {
        all.push(if by_eye(date) {
            format!("It was about {level:.0} % full on {date}: a guess.")
        } else {
            format!("It was {level:.0} % full on {date}, give or take a finger.")
        });
    } else if chamber.state != "empty" {
        all.push("Its level was not measured, so none is drawn.".into());
    }
    if let Some(share) = brown_share(chamber, browns) {
        all.push(format!(
            "By weight, about {} of its largest kinds were browns.",
            part(share)
        ));
    }
    all
}

/// A share in words; no finer than eaters and hands can tell.
fn part(share: f64) -> &'static str {
    match share {
        s if s < 0.05 => "none",
        s if s < 0.17 => "a tenth",
        s if s < 0.29 => "a quarter",
        s if s < 0.42 => "a third",
        s if s < 0.58 => "half",
        s if s < 0.8 => "two thirds",
        _ => "nearly all",
    }
}

/// Picture and sentences.
pub(crate) fn figure(chamber: &ChamberFacts, browns: &Browns) -> Markup {
    let said = sentences(chamber, browns);
    html! {
        figure.drum {
            (picture(chamber, browns, &said.join(" ")))
            figcaption { @for line in &said { (line) " " } }
        }
    }
}

fn picture(chamber: &ChamberFacts, browns: &Browns, said: &str) -> Markup {
    let id: String = chamber
        .id
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
        .collect();
    let (cx, cy) = CENTRE;
    let hand = chamber.litres.map(|l| HAND_CM / width_cm(l) * 2.0 * R);
    html! {
        svg viewBox="0 0 320 214" role="img" aria-labelledby={ "t-" (id) " d-" (id) } {
            title id={ "t-" (id) } { "Cut across " (chamber.name) }
            desc id={ "d-" (id) } { (said) }
            clipPath id={ "c-" (id) } { circle cx=(cx) cy=(cy) r=(R) {} }
            circle.air cx=(cx) cy=(cy) r=(R) {}
            @if let Some((level, date)) = &chamber.level {
                g clip-path={ "url(#c-" (id) ")" } { (inside(*level, if by_eye(date) { GUESS_PCT } else { FINGER_PCT }, chamber, browns)) }
                line.tick x1="14" x2="30" y1=(to(y_of(*level))) y2=(to(y_of(*level))) {}
                line.tick x1="190" x2="206" y1=(to(y_of(*level))) y2=(to(y_of(*level))) {}
                text.level x="212" y=(to(y_of(*level) + 5.0)) { @if by_eye(date) { "about " } (format!("{level:.0} %")) }
                // There is no room for more than a day beside the drum; the sentence says the rest.
                text x="212" y=(to(y_of(*level) + 23.0)) { (date.split(',').next().unwrap_or_default()) }
            } @else {
                text.middle x=(cx) y=(cy + 5.0) { @if chamber.state == "empty" { "empty" } @else { "not measured" } }
            }
            @let free = y_of(100.0 - FREE_PCT);
            line.free x1=(to(cx - R * 0.72)) x2="206" y1=(to(free)) y2=(to(free)) {}
            // The level's own label keeps its place; this one moves up when they meet.
            @let near = chamber.level.as_ref().map(|(l, _)| y_of(*l)).filter(|y| *y > free - 30.0 && *y < free + 26.0);
            text x="212" y=(to(near.map_or(free + 5.0, |y| y.min(free) - 15.0))) { "room to turn" }
            circle.shell cx=(cx) cy=(cy) r=(R) {}
            line.shell x1=(cx) x2=(cx) y1="14" y2="2" {}
            @if let Some(size) = hand {
                // Beside the drum; over a low level, whose label stands there, in the drum's air.
                @let top = cy + R - size;
                @if chamber.level.as_ref().is_some_and(|(l, _)| y_of(*l) + 26.0 > top) {
                    (hand_at(cx - size / 2.0, cy - size * 0.6, size))
                } @else {
                    (hand_at(208.0, top, size))
                }
            }
        }
    }
}

/// Browns hatched, water as dots, under a torn edge.
fn inside(level: f64, doubt: f64, chamber: &ChamberFacts, browns: &Browns) -> Markup {
    let (low, high) = (
        y_of((level - doubt).max(0.0)),
        y_of((level + doubt).min(100.0)),
    );
    let floor = CENTRE.1 + R;
    let (left, right) = (CENTRE.0 - R, CENTRE.0 + R);
    let share = brown_share(chamber, browns).unwrap_or_default();
    let water = chamber
        .went_in
        .as_ref()
        .and_then(|m| m.water_pct)
        .map_or(0.0, |w| w.mid / 100.0);
    // A torn edge between low and high: uneven, but the same each time.
    let mut edge = format!("M{} {}", to(left), to(floor));
    for step in 0..=24u32 {
        let x = left + (right - left) * f64::from(step) / 24.0;
        let tear = spread(step, 0.618);
        edge.push_str(&format!("L{} {}", to(x), to(high + (low - high) * tear)));
    }
    edge.push_str(&format!("L{} {}Z", to(right), to(floor)));
    let scatter = |many: u32, shift: f64| {
        (0..many).map(move |n| {
            let x = left + (right - left) * (spread(n, 0.754_88) + shift).fract();
            (n, x, low + (floor - low) * spread(n, 0.569_84))
        })
    };
    let tall = (floor - low).max(0.0) / (2.0 * R);
    let pieces = (150.0 * share * tall) as u32;
    let drops = (260.0 * water * tall) as u32;
    let mut hatched = String::new();
    for (n, x, y) in scatter(pieces, 0.0) {
        // A piece of card: an outline and two strokes across.
        let lean = if n % 2 == 0 { 3.0 } else { -3.0 };
        hatched.push_str(&format!(
            "M{} {}l10 {lean}l-2 7l-10 {}z",
            to(x - 5.0),
            to(y - 4.0),
            -lean
        ));
        hatched.push_str("m2 6l3 -6m1 7l3 -6");
    }
    let mut dots = String::new();
    for (_, x, y) in scatter(drops, 0.37) {
        dots.push_str(&format!("M{} {}h.01", to(x), to(y)));
    }
    html! {
        path.mix d=(edge) {}
        path.browns d=(hatched) {}
        path.water d=(dots) {}
    }
}

/// A hand for scale, wrist down.
fn hand_at(x: f64, y: f64, size: f64) -> Markup {
    let scale = size / 36.0;
    html! {
        g.hand transform=(format!("translate({} {}) scale({scale:.3})", to(x), to(y))) {
            (hand_path())
        }
        text x=(to(x + 6.0 + 28.0 * scale)) y=(to(y + size)) { "a hand" }
    }
}

/// The hand itself, 28 by 36.
pub(crate) fn hand_path() -> Markup {
    html! { path d="M8 36V27L1 20q-2-3 1-4l6 4V5q0-3 2.500-3T13 5v9V3q0-3 2.500-3T18 3v11V4q0-3 2.500-3T23 4v12V8q0-2.500 2-2.500T27 8v15q0 6-4 9v4z" {} }
}

/// An even scatter in 0–1: multiples of an irrational step.
fn spread(n: u32, step: f64) -> f64 {
    (0.5 + f64::from(n) * step).fract()
}

pub(crate) fn to(value: f64) -> String {
    format!("{value:.1}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_half_full_drum_is_full_to_the_middle() {
        assert!((height(0.5) - 0.5).abs() < 1e-6);
        assert!(height(0.2) > 0.25 && height(0.2) < 0.26, "{}", height(0.2));
        assert!((y_of(100.0) - (CENTRE.1 - R)).abs() < 1e-3);
    }

    #[test]
    fn the_width_follows_from_the_litres() {
        // 36 cm of a drum 68 cm across hold 131 L.
        assert!((width_cm(131.0) - 68.0).abs() < 1.0, "{}", width_cm(131.0));
    }

    #[test]
    fn what_was_not_measured_is_not_drawn() {
        let chamber = ChamberFacts {
            id: "a b".into(),
            name: "<Near>".into(),
            litres: Some(130.0),
            state: "filling",
            since: Some("1 May 2026".into()),
            days: Some(1),
            portions: 0,
            went_in: None,
            level: None,
            kinds: vec![],
        };
        let html = figure(&chamber, &Browns::new()).into_string();
        assert!(html.contains("Its level was not measured") && html.contains("1 day ago"));
        assert!(html.contains("&lt;Near&gt;") && !html.contains("class=\"mix\""));
        let measured = ChamberFacts {
            level: Some((62.0, "3 May".into())),
            ..chamber.clone()
        };
        let guessed = ChamberFacts {
            level: Some((60.0, "3 May, by eye".into())),
            ..chamber
        };
        let html = figure(&guessed, &Browns::new()).into_string();
        assert!(
            html.contains("about 60 % full on 3 May, by eye: a guess.") && !html.contains("finger")
        );
        let html = figure(&measured, &Browns::new()).into_string();
        assert!(html.contains("62 % full on 3 May") && html.contains("class=\"mix\""));
    }
}
