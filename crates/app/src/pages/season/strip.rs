//! Twelve months of both chambers to one scale: each month a chamber seen from the side, its content as high as
//! its litres, under a torn edge as thick as 16 runs in 20 are apart. Pieces while it fills, crumbs while it rests.

use desk::{MonthFacts, SeasonAnswer};
use jiff::ToSpan as _;
use maud::{Markup, html};

use crate::pages::chambers::drum::to;
use crate::words::season;

const LEFT: f64 = 4.0;
/// Width of a month, and of the chamber in it.
const STEP: f64 = 28.6;
const WIDE: f64 = 24.0;
/// Height of the largest chamber.
const TALL: f64 = 74.0;
/// Height of a row with its name and letters.
const ROW: f64 = TALL + 46.0;
/// Litres of a drop outside.
const DROP_L: f64 = 4.0;
/// Height of the drops under both rows.
const DROPS: f64 = 34.0;

/// An even scatter in 0–1: multiples of an irrational step.
fn scatter(n: u32, step: f64) -> f64 {
    (0.5 + f64::from(n) * step).fract()
}

pub(super) fn figure(a: &SeasonAnswer, all: &[MonthFacts], id: &str, title: &str) -> Markup {
    let largest = a.size_l.iter().copied().fold(1.0, f64::max);
    let scale = TALL / largest;
    let mut months: Vec<_> = all.iter().map(|m| m.month).collect();
    months.dedup();
    let rows = a.chambers.len() as f64;
    let foot = rows * ROW;
    let now = id == "now";
    let over: Vec<f64> = months
        .iter()
        .map(|month| {
            let next = month.saturating_add(1.months());
            let within = |o: &&desk::OverFacts| (*month..next).contains(&o.week);
            a.overflow.iter().filter(within).map(|o| o.litres).sum()
        })
        .collect();
    let high = foot + 22.0 + if now { DROPS } else { 0.0 };
    html! {
        figure.course.year {
            figcaption { b { (title) } }
            svg viewBox=(format!("0 0 352 {}", to(high))) role="img" aria-labelledby=(format!("{id}-title {id}-desc")) {
                title id=(format!("{id}-title")) { (title) ": what is in each chamber, month by month" }
                desc id=(format!("{id}-desc")) { (season::room(a).join(" ")) " The table below has the litres." }
                @for (k, name) in a.chambers.iter().enumerate() {
                    @let top = k as f64 * ROW;
                    text x=(LEFT) y=(to(top + 15.0)) { (name) }
                    @for (n, m) in all.iter().filter(|m| m.chamber == *name).enumerate() {
                        (chamber(m, LEFT + n as f64 * STEP, top + 24.0, a.size_l[k] * scale, a.room_l[k] * scale, scale))
                    }
                }
                @for (n, month) in months.iter().enumerate() {
                    @let x = LEFT + n as f64 * STEP;
                    text.middle x=(to(x + WIDE / 2.0)) y=(to(foot + 8.0)) { (&month.strftime("%b").to_string()[..1]) }
                    @if now { path.water d=(drops(over[n], x, foot + 18.0)) {} }
                }
            }
        }
    }
}

/// One chamber in one month; `y` is the top of its walls.
fn chamber(m: &MonthFacts, x: f64, y: f64, tall: f64, room: f64, scale: f64) -> Markup {
    let floor = y + TALL;
    let at = |litres: f64| floor - (litres * scale).clamp(0.0, tall);
    let (low, high) = (at(m.level_l.low), at(m.level_l.high));
    let mut edge = format!("M{} {}", to(x), to(floor));
    for step in 0..=8u32 {
        let tear = high + (low - high) * scatter(step, 0.618);
        edge.push_str(&format!(
            "L{} {}",
            to(x + WIDE * f64::from(step) / 8.0),
            to(tear)
        ));
    }
    edge.push_str(&format!("L{} {}Z", to(x + WIDE), to(floor)));
    let depth = (floor - low).max(0.0);
    let spot = |n: u32| {
        (
            x + 2.0 + (WIDE - 6.0) * scatter(n, 0.754_88),
            floor - 2.0 - (depth - 4.0).max(0.0) * scatter(n, 0.569_84),
        )
    };
    let many = (depth / 5.0) as u32;
    let mut inside = String::new();
    for n in 0..many {
        let (px, py) = spot(n);
        if m.state == "filling" {
            inside.push_str(&format!("M{} {}l4 -1.500l-1 3.500l-4 1z", to(px), to(py)));
        } else {
            inside.push_str(&format!("M{} {}h.01", to(px + 1.5), to(py)));
        }
    }
    let (letter, class) = match m.state {
        "filling" => ("F", "browns"),
        "closed" => ("C", "crumbs"),
        _ => ("–", "crumbs"),
    };
    let full = floor - room;
    let walls = format!(
        "M{} {}V{}H{}V{}",
        to(x),
        to(floor - tall),
        to(floor),
        to(x + WIDE),
        to(floor - tall)
    );
    html! {
        @if m.state != "empty" {
            path.mix d=(edge) {}
            path class=(class) d=(inside) {}
        }
        path.walls d=(walls) {}
        line.free x1=(to(x)) x2=(to(x + WIDE)) y1=(to(full)) y2=(to(full)) {}
        text.middle x=(to(x + WIDE / 2.0)) y=(to(floor + 16.0)) { (letter) }
        @if m.emptied >= 10 { path.out d=(format!("M{} {}l-4 6h8zm0 0v10", to(x + WIDE / 2.0), to(floor - tall - 12.0))) {} }
    }
}

/// Drops outside, one for each few litres.
fn drops(litres: f64, x: f64, y: f64) -> String {
    let many = (litres / DROP_L).round().clamp(0.0, 12.0) as u32;
    (0..many)
        .map(|n| {
            let (column, row) = (f64::from(n % 3), f64::from(n / 3));
            format!("M{} {}h.01", to(x + 5.0 + column * 7.0), to(y + row * 8.0))
        })
        .collect()
}

pub(super) fn key() -> Markup {
    html! {
        ul.key.year {
            li { "F with pieces: it fills. C with crumbs: it is closed and finishes. –: empty." }
            li { "Dashed line: full, with room left to turn. The torn edge is as thick as the doubt: 16 of 20 runs lie within." }
            li { "An arrow above: emptied in that month. A dot below: some 4 litres that find no room, on average." }
        }
    }
}
