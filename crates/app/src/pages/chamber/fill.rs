//! What fills the cut: air, water, browns and crumb, counted out so that areas stand for volumes.
//!
//! Every dot is as much water, every white gap as much air. Pieces of brown begin as those that went in and
//! shrink as less of them can be recognised; what they lose comes back as crumb.

use maud::{Markup, html};

use super::picture::{CX, CY, Cut, R};
use crate::pages::chambers::drum::to;

/// One piece stands for this much brown as it went in, and one crumb for this much dry matter, kg (choice).
const PIECE_KG: f64 = 0.2;
const CRUMB_KG: f64 = 0.08;
/// Most pieces drawn; more would hide the rest (choice).
const PIECES: f64 = 80.0;
/// Pieces below this part of their first width are crumb (choice).
const CRUMBLED: f64 = 0.3;
/// Clumps are drawn from this share on, % (choice).
const CLUMPED: f64 = 5.0;
/// A dot for each so many litres, by the size of the chamber (choice: 300 to 600 in a full one).
const UNITS: [f64; 5] = [0.25, 0.5, 1.0, 2.0, 5.0];

/// An even scatter in 0–1: multiples of an irrational step.
pub(super) fn even(n: u32, step: f64) -> f64 {
    (0.5 + f64::from(n) * step).fract()
}

/// Litres that a dot stands for.
pub(super) fn unit(chamber_litres: f64) -> f64 {
    let wanted = chamber_litres / 560.0;
    UNITS.into_iter().find(|u| *u >= wanted).unwrap_or(UNITS[4])
}

/// How many there are of each in the whole mix.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Counts {
    pub(super) water: f64,
    pub(super) air: f64,
    pub(super) pieces: f64,
    pub(super) crumbs: f64,
    /// Width of a piece against its first.
    pub(super) size: f64,
}

pub(super) fn counts(cut: &Cut<'_>) -> Counts {
    let i = cut.inside;
    let unit = unit(cut.litres);
    let left = (i.recognisable_pct.mid / 100.0).clamp(0.0, 1.0);
    // An area goes with the square of a width.
    let size = left.sqrt();
    let first = (cut.browns_kg / PIECE_KG).min(PIECES);
    let whole = size >= CRUMBLED;
    let dry = i.mass_kg.mid * (1.0 - i.water_pct.mid / 100.0);
    Counts {
        water: i.mass_kg.mid * i.water_pct.mid / 100.0 / unit,
        air: i.litres.mid * i.air_space_pct.mid / 100.0 / unit,
        pieces: if whole { first } else { 0.0 },
        crumbs: dry / CRUMB_KG * if whole { 1.0 - left } else { 1.0 } * (0.25 / unit).min(1.0),
        size,
    }
}

/// Points spread evenly over the mix, thinning out through the torn edge.
fn points(cut: &Cut<'_>, many: f64) -> Vec<(f64, f64)> {
    let [high, mid, low] = cut.surface();
    let reach = R - 5.0;
    // Area of the mix on paper, by its middle level.
    let share = (cut.inside.litres.mid / cut.litres).clamp(0.01, 1.0);
    let area = std::f64::consts::PI * R * R * share;
    let tall = CY + R - high.min(mid);
    let candidates = (many * 2.0 * R * tall / area).ceil().min(6000.0) as u32;
    (0..candidates)
        .filter_map(|n| {
            let x = CX - R + 2.0 * R * even(n, 0.754_877_666);
            let y = CY + R - tall * even(n, 0.569_840_291);
            let inside = (x - CX).powi(2) + (y - CY).powi(2) < reach * reach;
            let thin = ((y - high) / (low - high).max(1.0)).clamp(0.0, 1.0);
            let kept = even(n, 0.387) < thin && y > high + 3.0;
            (inside && kept).then_some((x, y))
        })
        .collect()
}

/// Everything that lies in the mix.
pub(super) fn contents(cut: &Cut<'_>) -> Markup {
    let c = counts(cut);
    let frozen = cut.inside.core_c.mid <= 0.0;
    let rim_frozen = cut.inside.shell_c.mid <= 0.0;
    let wanted = [c.water, c.air, c.pieces, c.crumbs];
    let all: f64 = wanted.iter().sum();
    let balls = balls(cut);
    let [mut water, mut ice, mut air, mut pieces, mut crumbs] = [const { String::new() }; 5];
    let mut due = [0.0; 4];
    for (n, (x, y)) in points(cut, all).into_iter().enumerate() {
        for (due, wanted) in due.iter_mut().zip(wanted) {
            *due += wanted / all.max(1.0);
        }
        let most = (0..4)
            .max_by(|a, b| due[*a].total_cmp(&due[*b]))
            .unwrap_or(0);
        due[most] -= 1.0;
        if balls
            .iter()
            .any(|(bx, by)| (x - bx).hypot(y - by) < BALL + 3.0)
        {
            continue;
        }
        let rim = (x - CX).hypot(y - CY) > R * 0.74;
        let dot = format!("M{} {}h.01", to(x), to(y));
        match most {
            0 if frozen || (rim_frozen && rim) => ice.push_str(&star(x, y)),
            0 => water.push_str(&dot),
            1 => air.push_str(&dot),
            2 => pieces.push_str(&piece(x, y, c.size, n as u32)),
            _ => crumbs.push_str(&format!(
                "M{} {}l1.6 {}",
                to(x),
                to(y),
                if n % 2 == 0 { "1.2" } else { "-1.2" }
            )),
        }
    }
    html! {
        path.gaps d=(air) {}
        path.crumbs d=(crumbs) {}
        path.browns d=(pieces) {}
        path.water d=(water) {}
        path.ice d=(ice) {}
        @for (x, y) in &balls { (ball(*x, *y)) }
    }
}

/// A piece of card: torn outline and hatch, turned this way and that.
fn piece(x: f64, y: f64, size: f64, n: u32) -> String {
    let a = (even(n, 0.618) - 0.5) * 2.4;
    let (w, h) = (8.5 * size, 5.0 * size);
    let at = |u: f64, v: f64| {
        format!(
            "{} {}",
            to(x + u * a.cos() - v * a.sin()),
            to(y + u * a.sin() + v * a.cos())
        )
    };
    let mut path = format!(
        "M{}L{}L{}L{}L{}Z",
        at(-w, -h),
        at(w * 0.3, -h * 1.15),
        at(w, -h * 0.8),
        at(w * 0.9, h),
        at(-w * 0.9, h * 0.9)
    );
    for k in [-0.5, 0.0, 0.5] {
        path.push_str(&format!(
            "M{}L{}",
            at(w * (k - 0.18), h * 0.9),
            at(w * (k + 0.18), -h)
        ));
    }
    path
}

/// A frozen drop.
fn star(x: f64, y: f64) -> String {
    format!(
        "M{0} {1}h6M{2} {3}l3 5.2M{2} {4}l3 -5.2",
        to(x - 3.0),
        to(y),
        to(x - 1.5),
        to(y - 2.6),
        to(y + 2.6)
    )
}

/// Radius of a wet ball on paper.
const BALL: f64 = 15.0;

/// Middles of the wet balls: one for each twentieth of the mix that lies in clumps, eight at most.
fn balls(cut: &Cut<'_>) -> Vec<(f64, f64)> {
    let clumped = cut.inside.clumped_pct.mid;
    if clumped < CLUMPED {
        return Vec::new();
    }
    let wanted = (clumped / 5.0).round().clamp(1.0, 8.0) as usize;
    let low = cut.surface()[2];
    let mut found: Vec<(f64, f64)> = Vec::new();
    for n in 0..400u32 {
        let x = CX - R + 2.0 * R * even(n, 0.754_877_666);
        let y = CY + R - (CY + R - low) * even(n, 0.569_840_291);
        let fits = (x - CX).hypot(y - CY) < R - BALL - 6.0 && y > low + BALL;
        if fits
            && found
                .iter()
                .all(|(a, b)| (x - a).hypot(y - b) > 2.0 * BALL + 6.0)
        {
            found.push((x, y));
            if found.len() == wanted {
                break;
            }
        }
    }
    found
}

/// A wet ball: an outline, and water packed without air.
fn ball(x: f64, y: f64) -> Markup {
    let mut dots = String::new();
    for (ring, many) in [(0.0, 1), (5.2, 6), (10.4, 12)] {
        for k in 0..many {
            let a = f64::from(k) / f64::from(many) * std::f64::consts::TAU;
            dots.push_str(&format!(
                "M{} {}h.01",
                to(x + ring * a.cos()),
                to(y + ring * a.sin())
            ));
        }
    }
    html! {
        circle.ball cx=(to(x)) cy=(to(y)) r=(BALL) {}
        path.water d=(dots) {}
    }
}
