//! One step of the fast mode: the heat block by its exponential, all else explicit, one set of rates an hour.
//!
//! Over a step the heat equations are C T' = J T + g(t). J (2×2, real and negative eigenvalues) is frozen;
//! g is taken as linear: its slope is that of air and sun inside the step, exactly, and that of decay and
//! evaporation from the step before. Then
//!
//! ```text
//! ΔT = h φ1(hJ) f + h φ2(hJ) w,  φ1(z) = (e^z − 1)/z,  φ2(z) = (φ1(z) − 1)/z
//! ```
//! Matter moves by Adams–Bashforth of order 2. The rates at the start of the next step, worked out anyway, mend
//! this one: matter to the trapezium's rule, the forcing g to what it became. After a feed, a turning or any
//! jump there is no step before: the hour is then cut into [`RESTART`] steps, the first of order 1.
//!
//! Sources: Cox & Matthews 2002, J. Comput. Phys. 176:430–455; Hochbruck & Ostermann 2010, Acta Numerica
//! 19:209–286 (both recalled). φ of a 2×2 matrix by Newton's divided differences on its eigenvalues.
//! Freezing: the step gives heat, not temperature, to a node; [`heat::from_stored`] turns it back.

use super::drivers::{Drivers, Vessel};
use super::heat;
use super::lanes::{Real, per_both};
use super::params::Params;
use super::rates::{Rates, rates};
use super::state::{Matter, State};

/// Steps in the hour after a jump.
pub const RESTART: usize = 6;

/// Steps in place of one in which a node passes an edge of the freezing span, the shell is quick, or the core
/// takes off.
pub const CROSSING: usize = 3;
/// Warming of the core in one step above which a warm one takes off, K, and what is warm, °C (by the study in
/// `docs/integrator.md`): after frost a batch may gain 4 K an hour.
const TAKING_OFF: (f64, f64) = (1.0, 25.0);
/// Hours of the shell's own time in one hour above which it is quick (by the study in `docs/integrator.md`): little
/// is left of a batch, and much air goes through it.
const QUICK: f64 = 2.4;
/// Wet mass on each m² of shell below which an hour is one step too long, kg (by the study in
/// `docs/integrator.md`).
const LITTLE: f64 = 21.0;

/// What a step leaves for the next: its rates, what it assumed, and the lanes not to be mended.
#[derive(Debug, Clone, Copy)]
pub struct Before<R> {
    matter: Matter<R>,
    open: Matter<R>,
    flux: [R; 2],
    slope: [[R; 2]; 2],
    forced: [R; 2],
    moved: [R; 2],
    air: R,
    sol_air: R,
    passed: Option<R>,
    h: f64,
}

impl<R: Real> Before<R> {
    /// Nothing: the first step, or the first after a jump.
    #[inline(always)]
    pub fn none(like: R) -> Self {
        let nought = like.of(0.0);
        Self {
            matter: Matter::all(nought),
            open: Matter::all(nought),
            flux: [nought; 2],
            slope: [[nought; 2]; 2],
            forced: [nought; 2],
            moved: [nought; 2],
            air: nought,
            sol_air: nought,
            passed: None,
            h: f64::INFINITY,
        }
    }
    /// Whether there is no step before.
    #[inline(always)]
    pub fn is_none(&self) -> bool {
        self.h.is_infinite()
    }
}

#[inline(always)]
fn phi<R: Real>(z: R, per: R) -> (R, R) {
    let one = z.of(1.0);
    let first = (z.exp() - one) * per;
    (first, (first - one) * per)
}

/// ΔT of both nodes: `r.flux` and `w`, the change of the forcing over the step, both MJ/d.
#[inline(always)]
fn warmed<R: Real>(r: &Rates<R>, w: [R; 2], h: f64) -> [R; 2] {
    let step = w[0].of(h);
    let [per0, per1] = per_both(r.felt[0], r.felt[1]).map(|per| per * h);
    let (a, b) = (r.slope[0][0] * per0, r.slope[0][1] * per0);
    let (c, d) = (r.slope[1][0] * per1, r.slope[1][1] * per1);
    let middle = (a + d) * 0.5;
    let half = (a - d) * 0.5;
    let spread = half.fma(half, b * c).sqrt().max(step.of(1e-6));
    // φ loses digits near nought; a node moved by this little moves the polynomial by its square.
    let z1 = middle + spread;
    let near = (z1 * z1).below(1e-6, step.of(1e-3), z1);
    let z1 = near;
    let z2 = middle - spread;
    // One division for z1, z2 and their gap.
    let gap = z2 - z1;
    let [per_z, per_gap] = per_both(z1 * z2, gap);
    let (a1, a2) = phi(z1, z2 * per_z);
    let (b1, b2) = phi(z2, z1 * per_z);
    let (d1, d2) = ((b1 - a1) * per_gap, (b2 - a2) * per_gap);
    let (u0, u1) = (r.flux[0] * per0, r.flux[1] * per1);
    let (w0, w1) = (w[0] * per0, w[1] * per1);
    let (along_u0, along_u1) = (a * u0 + b * u1 - z1 * u0, c * u0 + d * u1 - z1 * u1);
    let (along_w0, along_w1) = (a * w0 + b * w1 - z1 * w0, c * w0 + d * w1 - z1 * w1);
    [
        a1 * u0 + d1 * along_u0 + a2 * w0 + d2 * along_w0,
        a1 * u1 + d1 * along_u1 + a2 * w1 + d2 * along_w1,
    ]
}

/// Gives the nodes their heat and reads their temperatures back. Above 0 °C a node only gets warmer; the lanes
/// that freeze or thaw go by their heat.
#[inline(always)]
fn settle<R: Real>(t: [R; 2], moved: [R; 2], r: &Rates<R>, water: R) -> [R; 2] {
    let to = [t[0] + moved[0], t[1] + moved[1]];
    let coldest = [t[0].min(to[0]), t[1].min(to[1])];
    if !coldest[0].min(coldest[1]).any_below(0.0) {
        return to;
    }
    let shares = [heat::CORE, 1.0 - heat::CORE];
    let mut out = to;
    for i in 0..2 {
        let (capacity, water) = (r.capacity[i], water * shares[i]);
        let held = heat::stored(t[i], capacity, water) + moved[i] * r.felt[i];
        out[i] = coldest[i].below(0.0, heat::from_stored(held, capacity, water), to[i]);
    }
    out
}

/// What the step before missed at both nodes, K: by how much the forcing at its end, in `r`, is not what was
/// assumed.
#[inline(always)]
fn missed<R: Real>(b: &Before<R>, r: &Rates<R>) -> [R; 2] {
    let mut missed = b.forced;
    let mut felt = r.felt;
    for i in 0..2 {
        let along = b.slope[i][0] * b.moved[0] + b.slope[i][1] * b.moved[1];
        missed[i] = (r.flux[i] - b.flux[i] - along - b.forced[i]) * b.h;
        // φ2(z) nearly, as ½/(1 − z/3), z = slope h/felt: bounded where the node is quick.
        felt[i] = r.felt[i] * 2.0 - b.slope[i][i] * (b.h * 2.0 / 3.0);
    }
    let per = per_both(felt[0], felt[1]);
    [missed[0] * per[0], missed[1] * per[1]]
}

/// A step worked out: what it does to the nodes. Nothing has moved yet.
struct Worked<R> {
    rates: Rates<R>,
    /// Nodes after the mending, and after the step.
    from: [R; 2],
    to: [R; 2],
    /// Change of the forcing over the step, MJ/d.
    forced: [R; 2],
}

/// Works a step of `h` days out: rates, the mending of the step before as far as heat goes, the nodes' move.
#[inline(always)]
fn work_out<R: Real>(
    s: &State<R>,
    b: &Before<R>,
    p: &Params<R>,
    v: &Vessel,
    (now, next): (&Drivers<R>, &Drivers<R>),
    h: f64,
) -> Worked<R> {
    let mut r = rates(s, p, now, v);
    let (mut from, mut moved_before) = ([s.core, s.shell], b.moved);
    let mut water = s.matter.water;
    if !b.is_none() {
        let half = water.of(0.5 * b.h);
        let full = r.matter.water.fma(half, water + b.open.water);
        let moved = missed(b, &r);
        let settled = settle(from, moved, &r, full);
        let mut off = [settled[0] - from[0], settled[1] - from[1]];
        water = match b.passed {
            None => full,
            Some(mark) => {
                for off in &mut off {
                    *off = mark.below(0.0, mark.of(0.0), *off);
                }
                mark.below(0.0, water, full)
            }
        };
        for i in 0..2 {
            from[i] = from[i] + off[i];
            r.flux[i] = r.flux[i] + r.slope[i][0] * off[0] + r.slope[i][1] * off[1];
            moved_before[i] = moved_before[i] + off[i];
        }
    }
    // Share of the last step's change that is carried on: 0 when there is none.
    let on = h / b.h;
    let ahead = [next.air - now.air, next.sol_air - now.sol_air];
    let behind = [now.air - b.air, now.sol_air - b.sol_air];
    let mut forced = ahead;
    for i in 0..2 {
        let along = r.slope[i][0] * moved_before[0] + r.slope[i][1] * moved_before[1];
        let grown = r.flux[i] - b.flux[i] - along - r.outside[i] * behind[i];
        forced[i] = r.outside[i] * ahead[i] + grown * on;
    }
    let to = settle(from, warmed(&r, forced, h), &r, water);
    Worked {
        rates: r,
        from,
        to,
        forced,
    }
}

/// Takes a step that is worked out.
#[inline(always)]
fn take<R: Real>(s: &mut State<R>, b: &mut Before<R>, done: &Worked<R>, now: &Drivers<R>, h: f64) {
    let r = &done.rates;
    let on = h / b.h;
    let half = if b.is_none() { 0.0 } else { 0.5 * b.h };
    let (new, old) = (h * (1.0 + 0.5 * on), -0.5 * on * h);
    s.matter.stepped(
        &r.matter,
        (&mut b.matter, &mut b.open),
        (half, b.passed),
        (new, old, 0.5 * h - new),
    );
    // The logistic curve ends at 1; an explicit step may pass it by its own error.
    s.matter.microbes = s.matter.microbes.min(r.oxygen.of(1.0));
    b.flux = r.flux;
    b.slope = r.slope;
    b.forced = done.forced;
    b.passed = None;
    b.moved = [done.to[0] - done.from[0], done.to[1] - done.from[1]];
    b.air = now.air;
    b.sol_air = now.sol_air;
    b.h = h;
    s.core = done.to[0];
    s.shell = done.to[1];
}

/// One step of `h` days from `now` to `next`; gives back the rates at its start.
#[inline(always)]
pub fn step<R: Real>(
    s: &mut State<R>,
    b: &mut Before<R>,
    p: &Params<R>,
    v: &Vessel,
    (now, next): (&Drivers<R>, &Drivers<R>),
    h: f64,
) -> Rates<R> {
    let done = work_out(s, b, p, v, (now, next), h);
    take(s, b, &done, now, h);
    done.rates
}

/// Below nought where a node passes an edge of the freezing span on its way.
#[inline(always)]
fn crossing<R: Real>(from: [R; 2], to: [R; 2]) -> R {
    let edge = |t: R, u: R| (t * u).min((t + heat::SPAN) * (u + heat::SPAN));
    edge(from[0], to[0]).min(edge(from[1], to[1]))
}

/// Below nought where the shell follows the air within a fraction of `h` days.
#[inline(always)]
fn quick<R: Real>(r: &Rates<R>, h: f64) -> R {
    r.felt[1] * QUICK + r.slope[1][1] * h
}

/// Below nought where a warm core warms fast.
#[inline(always)]
fn taking_off<R: Real>(from: R, to: R) -> R {
    let (stride, warm) = TAKING_OFF;
    (from - to + stride).max(-from + warm)
}

/// Steps an hour with so many kilograms put in: a little in a large vessel warms and cools fast.
#[must_use]
pub fn finer(kg: f64, v: &Vessel) -> usize {
    ((LITTLE * v.surface / kg.max(1e-3)).ceil() as usize).clamp(1, 4)
}

/// What an hour shows beside the state: rates are large, and few of them are looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen<R> {
    /// Oxygen in the pores, vol-%.
    pub oxygen: R,
    /// Volume, air space, filled pores.
    pub bulk: super::volume::Bulk<R>,
    /// Steps that it took, those that were done again counted twice.
    pub steps: usize,
}

/// One hour of `h` days in `count` parts, or [`RESTART`] when there is no step before. A part is one step; where
/// a lane passes an edge of the freezing span in it, at which the capacity jumps, is quick, or takes off, that
/// lane does the part again in [`CROSSING`] steps.
#[inline(always)]
pub fn hour<R: Real>(
    s: &mut State<R>,
    b: &mut Before<R>,
    p: &Params<R>,
    v: &Vessel,
    (now, next): (&Drivers<R>, &Drivers<R>),
    (h, count): (f64, usize),
) -> Seen<R> {
    let parts = if b.is_none() { RESTART } else { count };
    let share = 1.0 / parts as f64;
    let h = h * share;
    let mut start = *now;
    let mut part = 1;
    let mut taken = 0;
    // Large: taken along only where a lane passes an edge. What was before, and the part as one step.
    let mut again: Option<(State<R>, Before<R>, R)> = None;
    let mut whole: Option<(State<R>, Before<R>, Seen<R>)> = None;
    // One place works a step out: it is inlined there, and it is long.
    loop {
        let end = now.towards(next, part as f64 * share);
        let steps = if again.is_some() { CROSSING } else { 1 };
        let mut at = start;
        let mut sub = 1;
        taken += steps;
        let mut seen = loop {
            let of_part = 1.0 / steps as f64;
            let to = start.towards(&end, sub as f64 * of_part);
            let step = work_out(s, b, p, v, (&at, &to), h * of_part);
            if steps == 1 {
                let mark = crossing(step.from, step.to)
                    .min(quick(&step.rates, h))
                    .min(taking_off(step.from[0], step.to[0]));
                if mark.any_below(0.0) {
                    again = Some((*s, *b, mark));
                }
            }
            take(s, b, &step, &at, h * of_part);
            if sub == steps {
                break Seen {
                    oxygen: step.rates.oxygen,
                    bulk: step.rates.bulk,
                    steps: taken,
                };
            }
            at = to;
            sub += 1;
        };
        if let Some((was, was_b, mark)) = &again {
            let Some((other, other_b, other_seen)) = &whole else {
                whole = Some((*s, *b, seen));
                (*s, *b) = (*was, *was_b);
                continue;
            };
            s.matter.keep(*mark, &other.matter);
            s.core = mark.below(0.0, s.core, other.core);
            s.shell = mark.below(0.0, s.shell, other.shell);
            *b = *other_b;
            // The next step carries on from the whole of this part, and mends the other lanes only.
            // Nothing is added where they are the same: a member must not feel its neighbour's frost.
            b.moved[0] = b.moved[0] + (s.core - other.core);
            b.moved[1] = b.moved[1] + (s.shell - other.shell);
            b.passed = Some(*mark);
            seen = Seen {
                steps: taken,
                ..*other_seen
            };
            (again, whole) = (None, None);
        }
        if part == parts {
            return seen;
        }
        start = end;
        part += 1;
    }
}
