//! The chamber cut across, drawn to scale from the simulated state: wall, level, isotherms, hand, labels.
//!
//! Areas stand for volumes: what fills the cut is counted out in [`super::fill`]. The mix lies level; a drum
//! just turned lies aslant, which is not drawn.

use std::f64::consts::{PI, TAU};

use desk::InsideFacts;
use maud::{Markup, html};

use super::fill;
use crate::pages::chambers::drum::{FREE_PCT, HAND_CM, hand_path, height, to, width_cm};
use crate::words::Tongue;
use crate::words::inside::{self, DRY, TOLD_K, WET};

/// Radius and middle of the drum on paper.
pub(super) const R: f64 = 112.0;
pub(super) const CX: f64 = 122.0;
pub(super) const CY: f64 = 134.0;
/// The ground under the stand.
const GROUND: f64 = 292.0;
/// Where labels begin, and the room they have from top to bottom.
const LABELS_X: f64 = 252.0;
const LABELS: (f64, f64) = (18.0, 210.0);
const LINE: f64 = 17.0;
/// Share of the mass that is core (process: two nodes, 60 and 40 %).
const CORE: f64 = 0.6;
/// A second isotherm is drawn where core and wall differ by this, K (choice).
const SECOND_K: f64 = 8.0;
/// Above it the mix steams on a cool day, °C (choice).
const STEAMS: f64 = 42.0;

/// What is drawn.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cut<'a> {
    pub(super) id: &'a str,
    pub(super) name: &'a str,
    pub(super) inside: &'a InsideFacts,
    /// Litres of the chamber.
    pub(super) litres: f64,
    /// Browns that went in, kg.
    pub(super) browns_kg: f64,
    /// Last measured level, % and date.
    pub(super) level: Option<(f64, &'a str)>,
    /// Whether a probe read last, and whether that reading counts.
    pub(super) probe: Option<bool>,
}

impl Cut<'_> {
    fn y(&self, litres: f64) -> f64 {
        CY + R - 2.0 * R * height(litres / self.litres)
    }

    /// Heights of the surface on paper: 90 %, middle and 10 % of the level.
    pub(super) fn surface(&self) -> [f64; 3] {
        let (low, high) = self.inside.litres_10_90;
        [self.y(high), self.y(self.inside.litres.mid), self.y(low)]
    }
}

/// One label: where it points, its lines, and how it is drawn.
struct Label {
    at: f64,
    bold: bool,
    lines: Vec<String>,
    y: f64,
}

pub(super) fn picture(cut: &Cut<'_>, said: &str, tongue: Tongue) -> Markup {
    let i = cut.inside;
    let [high, mid, low] = cut.surface();
    let frozen = i.core_c.mid <= 0.0;
    let clip = format!("cut-{}", cut.id);
    let free = CY + R - 2.0 * R * height(1.0 - FREE_PCT / 100.0);
    let size = HAND_CM / width_cm(cut.litres) * 2.0 * R;
    let apart = i.core_c.mid - i.shell_c.mid;
    let labels = placed(labels(cut, free, mid, tongue));
    html! {
        svg viewBox="0 0 372 304" role="img" aria-labelledby={ "title-" (clip) " desc-" (clip) } {
            title id={ "title-" (clip) } { "Cut across " (cut.name) }
            desc id={ "desc-" (clip) } { (said) }
            clipPath id=(clip) { circle cx=(CX) cy=(CY) r=(R - 1.5) {} }
            (stand())
            circle.air cx=(CX) cy=(CY) r=(R) {}
            g clip-path={ "url(#" (clip) ")" } {
                path.ply d=(torn(high, 2.6, 0)) {}
                path.mix d=(torn(low, 2.0, 40)) {}
                (fill::contents(cut))
                @if i.water_pct.mid > WET && !frozen { (pool(i.water_pct.mid)) }
                @if i.water_pct.mid < DRY { (cracks(low)) }
                @if apart.abs() > TOLD_K {
                    path.warm d=(isotherm(mid, CORE.sqrt())) {}
                    @if apart.abs() > SECOND_K { path.warm d=(isotherm(mid, CORE.sqrt() * 0.6)) {} }
                }
                @if i.core_c.mid >= STEAMS && high > CY - R + 30.0 { (steam(high)) }
            }
            @if i.shell_c.mid <= 0.0 { (frost()) }
            line.free x1=(to(CX - R * 0.72)) x2=(to(CX + R + 6.0)) y1=(to(free)) y2=(to(free)) {}
            circle.shell cx=(CX) cy=(CY) r=(R) {}
            (door())
            @if low - high > 3.0 { (bracket(high, low)) }
            @if let Some((level, _)) = cut.level {
                @let y = cut.y(level / 100.0 * cut.litres);
                @let half = (R * R - (y - CY).powi(2)).max(0.0).sqrt();
                line.tick x1=(to(CX - half - 10.0)) x2=(to(CX - half + 10.0)) y1=(to(y)) y2=(to(y)) {}
                line.tick x1=(to(CX + half - 10.0)) x2=(to(CX + half.max(R * 0.9) + 14.0)) y1=(to(y)) y2=(to(y)) {}
            }
            @if let Some(counts) = cut.probe {
                @let deep = (mid + CY + R) / 2.0;
                circle.probe.hollow[!counts] cx=(to(CX)) cy=(to(deep)) r="8" {}
                @if counts { circle.bead cx=(to(CX)) cy=(to(deep)) r="3" {} }
            }
            @for label in &labels { (drawn(label)) }
            g.hand transform=(format!("translate({} {}) scale({:.3})", to(LABELS_X + 6.0), to(GROUND - size), size / 36.0)) { (hand_path()) }
            text x=(to(LABELS_X + 12.0 + 28.0 * size / 36.0)) y=(to(GROUND - 2.0)) { "a hand" }
        }
    }
}

/// Feet, an axle and the ground: it is a drum on a stand, and the cut is across its axle.
fn stand() -> Markup {
    let mut legs = String::new();
    for side in [-1.0, 1.0] {
        let (top, foot) = (CX + side * R * 0.55, CX + side * R * 0.86);
        legs.push_str(&format!(
            "M{} {}L{} {GROUND}",
            to(top),
            to(CY + R * 0.8),
            to(foot)
        ));
        legs.push_str(&format!("M{} {GROUND}h{}", to(foot - 9.0), 18));
    }
    html! {
        path.stand d=(legs) {}
        path.ground d=(format!("M6 {GROUND}H238")) {}
    }
}

/// A sliding door in the upper wall, with its knob.
fn door() -> Markup {
    let at = |degrees: f64, r: f64| {
        let a = degrees.to_radians();
        format!("{} {}", to(CX + r * a.cos()), to(CY + r * a.sin()))
    };
    let r = R + 5.0;
    html! {
        path.door d=(format!("M{}A{r} {r} 0 0 1 {}", at(-132.0, r), at(-92.0, r))) {}
        path.door d=(format!("M{}L{}", at(-112.0, r), at(-112.0, r + 8.0))) {}
    }
}

/// The outline of the mix under a torn edge at a height: uneven, but the same each time.
fn torn(y: f64, rough: f64, from: u32) -> String {
    let (left, right) = (CX - R, CX + R);
    let mut edge = format!("M{} {}", to(left), to(CY + R));
    let steps = 56u32;
    for step in 0..=steps {
        let x = left + (right - left) * f64::from(step) / f64::from(steps);
        let n = f64::from(step + from);
        // Long waves of a heap that was tipped in, and the short tear of card.
        let wave = (n * 0.31).sin() + 0.6 * (n * 0.83 + 1.0).sin();
        let tear = fill::even(step + from, 0.618) - 0.5;
        edge.push_str(&format!(
            "L{} {}",
            to(x),
            to(y + rough * (wave * 0.8 + tear * 2.2))
        ));
    }
    edge.push_str(&format!("L{} {}Z", to(right), to(CY + R)));
    edge
}

/// The bracket that spans the 10–90 % of the level.
fn bracket(high: f64, low: f64) -> Markup {
    let x = CX + R + 8.0;
    html! { path.span d=(format!("M{} {}h6V{}h-6", to(x), to(high), to(low))) {} }
}

/// A closed line around the share of the mix that is as warm: the cut shrunk about its middle.
fn isotherm(surface: f64, scale: f64) -> String {
    let middle = (surface + CY + R) / 2.0;
    let mut path = String::new();
    let steps = 48;
    for step in 0..steps {
        let a = f64::from(step) / f64::from(steps) * TAU;
        let (dx, dy) = (a.cos(), a.sin());
        // Distance to the wall along this ray, and to the surface if that is nearer.
        let b = dy * (middle - CY);
        let wall = -b + (b * b - (middle - CY).powi(2) + R * R).max(0.0).sqrt();
        let top = if dy < -1e-9 {
            (surface - middle) / dy
        } else {
            f64::INFINITY
        };
        let reach = wall.min(top) * scale;
        path.push_str(&format!(
            "{}{} {}",
            if step == 0 { "M" } else { "L" },
            to(CX + reach * dx),
            to(middle + reach * dy)
        ));
    }
    path.push('Z');
    path
}

/// Water that stands at the floor; more rows the wetter it is.
fn pool(water_pct: f64) -> Markup {
    let rows = ((water_pct - WET) / 3.0).ceil().clamp(1.0, 4.0) as u32;
    let mut waves = String::new();
    for row in 0..rows {
        let y = CY + R - 7.0 - 8.0 * f64::from(row);
        let half = (R * R - (y - CY).powi(2)).max(0.0).sqrt() - 5.0;
        let count = (half * 2.0 / 12.0).floor().max(1.0);
        waves.push_str(&format!("M{} {}", to(CX - count * 6.0), to(y)));
        waves.push_str(&"q3 -4 6 0t6 0".repeat(count as usize));
    }
    html! { path.pool d=(waves) {} }
}

/// Cracks of a mix that has dried out.
fn cracks(surface: f64) -> Markup {
    let mut lines = String::new();
    for n in 0..5u32 {
        let x = CX - R * 0.62 + R * 0.31 * f64::from(n);
        lines.push_str(&format!("M{} {}", to(x), to(surface + 3.0)));
        for k in 0..4u32 {
            let side = if (n + k) % 2 == 0 { 5.0 } else { -6.0 };
            lines.push_str(&format!(
                "l{side} {}",
                to(7.0 + 5.0 * fill::even(n * 4 + k, 0.618))
            ));
        }
    }
    html! {
        path.cracks d=(lines) {}
        path.rent d=(lines) {}
    }
}

/// Warm damp air over the surface.
fn steam(surface: f64) -> Markup {
    let rise = (surface - (CY - R) - 14.0).clamp(0.0, 46.0);
    let mut lines = String::new();
    for k in [-1.0, 0.0, 1.0] {
        lines.push_str(&format!("M{} {}", to(CX + k * 30.0), to(surface - 8.0)));
        let part = rise / 4.0;
        lines.push_str(&format!(
            "q6 {0} 0 {1}t0 {1}t0 {1}",
            to(-part / 2.0),
            to(-part)
        ));
    }
    html! { path.steam d=(lines) {} }
}

/// Rime on the outside of a frozen wall.
fn frost() -> Markup {
    let mut lines = String::new();
    for step in 0..52 {
        let a = f64::from(step) / 52.0 * TAU;
        // The door stays clear.
        if a > PI * 1.24 && a < PI * 1.52 {
            continue;
        }
        let (r1, r2) = (R + 3.0, R + if step % 2 == 0 { 13.0 } else { 8.0 });
        lines.push_str(&format!(
            "M{} {}L{} {}",
            to(CX + r1 * a.cos()),
            to(CY + r1 * a.sin()),
            to(CX + r2 * a.cos()),
            to(CY + r2 * a.sin())
        ));
    }
    html! { path.frost d=(lines) {} }
}

fn labels(cut: &Cut<'_>, free: f64, mid: f64, tongue: Tongue) -> Vec<Label> {
    let i = cut.inside;
    let of = |at: f64, bold: bool, lines: Vec<String>| Label {
        at,
        bold,
        lines,
        y: 0.0,
    };
    let pct = |litres: f64| inside::fives((100.0 * litres / cut.litres).clamp(0.0, 100.0));
    let mut all = vec![of(free, false, vec!["room to turn".into()])];
    if let Some((level, date)) = cut.level {
        let y = cut.y(level / 100.0 * cut.litres);
        let date = date.replace(", by eye", "");
        all.push(of(y, true, vec![format!("{level:.0} % noted"), date]));
    }
    let (low, high) = (pct(i.litres_10_90.0), pct(i.litres_10_90.1));
    let span = if low == high {
        format!("{low:.0} %")
    } else {
        format!("{low:.0}–{high:.0} %")
    };
    all.push(of(mid, false, vec![span, "worked out".into()]));
    let middle = (mid + CY + R) / 2.0;
    let core = inside::degrees(i.core_c.mid, tongue);
    let mut warmth = if (i.core_c.mid - i.shell_c.mid).abs() > TOLD_K {
        vec![
            format!("core {core}"),
            format!("wall {}", inside::degrees(i.shell_c.mid, tongue)),
        ]
    } else {
        vec![format!("{core} inside")]
    };
    if i.core_c.mid <= 0.0 {
        warmth.push("frozen".into());
    } else if !(DRY..=WET).contains(&i.water_pct.mid) {
        warmth.push(inside::wetness(i.water_pct.mid).into());
    }
    all.push(of(middle, false, warmth));
    all
}

/// Labels from top to bottom, none over another.
fn placed(mut all: Vec<Label>) -> Vec<Label> {
    all.sort_by(|a, b| a.at.total_cmp(&b.at));
    let tall = |l: &Label| LINE * l.lines.len() as f64;
    let mut next = LABELS.0;
    for label in &mut all {
        label.y = (label.at - tall(label) / 2.0 + LINE * 0.75).max(next);
        next = label.y + tall(label) + 4.0;
    }
    // What runs over the bottom pushes the others up again.
    let mut floor = LABELS.1 + LINE;
    for label in all.iter_mut().rev() {
        let lowest = floor - tall(label);
        label.y = label.y.min(lowest);
        floor = label.y - 4.0;
    }
    all
}

fn drawn(label: &Label) -> Markup {
    html! {
        @for (n, line) in label.lines.iter().enumerate() {
            text.level[label.bold && n == 0] x=(to(LABELS_X)) y=(to(label.y + LINE * n as f64)) { (line) }
        }
    }
}
