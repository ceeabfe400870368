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
use super::lanes::Real;
use super::params::Params;
use super::rates::{Rates, rates};
use super::state::{Matter, State};

/// Steps in the hour after a jump.
pub const RESTART: usize = 6;

/// Steps in an hour in which a node passes an edge of the freezing span.
pub const CROSSING: usize = 4;
/// Wet mass on each m² of shell below which an hour is one step too long, kg (by the study in
/// `docs/integrator.md`).
const LITTLE: f64 = 21.0;
/// Above this no node reaches the freezing span within an hour, °C.
const NEAR: f64 = 10.0;

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
fn phi<R: Real>(z: R) -> (R, R) {
    let one = z.of(1.0);
    let per = one / z;
    let first = (z.exp() - one) * per;
    (first, (first - one) * per)
}

/// ΔT of both nodes: `r.flux` and `w`, the change of the forcing over the step, both MJ/d.
#[inline(always)]
fn warmed<R: Real>(r: &Rates<R>, w: [R; 2], h: f64) -> [R; 2] {
    let step = w[0].of(h);
    let (per0, per1) = (step / r.felt[0], step / r.felt[1]);
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
    let (a1, a2) = phi(z1);
    let (b1, b2) = phi(z2);
    let per_gap = step.of(1.0) / (z2 - z1);
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

/// Gives a node its heat and reads its temperature back.
#[inline(always)]
fn settle<R: Real>(t: R, moved: R, (capacity, felt, water): (R, R, R)) -> R {
    let held = heat::stored(t, capacity, water) + moved * felt;
    heat::from_stored(held, capacity, water)
}

/// Mends the step before by the rates at its end, `r`: matter to the trapezium's rule, heat by what the forcing
/// turned out to be. `r` stays that of the state as first found, but for the heat that the mending moves.
#[inline(always)]
fn mended<R: Real>(s: &mut State<R>, b: &mut Before<R>, r: &mut Rates<R>) {
    let was = *s;
    s.matter = s.matter.moved((&r.matter, 0.5 * b.h), (&b.open, 1.0));
    let off = |i: usize| {
        let along = b.slope[i][0] * b.moved[0] + b.slope[i][1] * b.moved[1];
        let missed = r.flux[i] - b.flux[i] - along - b.forced[i];
        let per = missed.of(b.h) / r.felt[i];
        // φ2(z) nearly, as ½/(1 − z/3): bounded where the node is quick.
        missed * per / (per.of(2.0) - b.slope[i][i] * per * (2.0 / 3.0))
    };
    let water = s.matter.water;
    s.core = settle(
        s.core,
        off(0),
        (r.capacity[0], r.felt[0], water * heat::CORE),
    );
    s.shell = settle(
        s.shell,
        off(1),
        (r.capacity[1], r.felt[1], water * (1.0 - heat::CORE)),
    );
    if let Some(mark) = b.passed {
        *s = chosen(mark, &was, s);
    }
    let off = [s.core - was.core, s.shell - was.shell];
    for i in 0..2 {
        r.flux[i] = r.flux[i] + r.slope[i][0] * off[0] + r.slope[i][1] * off[1];
        b.moved[i] = b.moved[i] + off[i];
    }
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
    let mut r = rates(s, p, now, v);
    if !b.is_none() {
        mended(s, b, &mut r);
    }
    // Share of the last step's change that is carried on: 0 when there is none.
    let on = h / b.h;
    let along0 = r.slope[0][0] * b.moved[0] + r.slope[0][1] * b.moved[1];
    let along1 = r.slope[1][0] * b.moved[0] + r.slope[1][1] * b.moved[1];
    let w0 = r.outside[0] * (next.air - now.air)
        + (r.flux[0] - b.flux[0] - along0 - r.outside[0] * (now.air - b.air)) * on;
    let w1 = r.outside[1] * (next.sol_air - now.sol_air)
        + (r.flux[1] - b.flux[1] - along1 - r.outside[1] * (now.sol_air - b.sol_air)) * on;
    let moved = warmed(&r, [w0, w1], h);
    let water = s.matter.water;
    let core = settle(
        s.core,
        moved[0],
        (r.capacity[0], r.felt[0], water * heat::CORE),
    );
    let shell = settle(
        s.shell,
        moved[1],
        (r.capacity[1], r.felt[1], water * (1.0 - heat::CORE)),
    );
    let (new, old) = (h * (1.0 + 0.5 * on), -0.5 * on * h);
    s.matter = s.matter.moved((&r.matter, new), (&b.matter, old));
    let nought = Matter::all(water.of(0.0));
    *b = Before {
        matter: r.matter,
        open: nought.moved((&r.matter, 0.5 * h - new), (&b.matter, -old)),
        flux: r.flux,
        slope: r.slope,
        forced: [w0, w1],
        passed: None,
        moved: [core - s.core, shell - s.shell],
        air: now.air,
        sol_air: now.sol_air,
        h,
    };
    s.core = core;
    s.shell = shell;
    r
}

/// `then` in the lanes where `mark` is below nought.
#[inline(always)]
fn chosen<R: Real>(mark: R, then: &State<R>, other: &State<R>) -> State<R> {
    let pick = |a: R, b: R| mark.below(0.0, a, b);
    let each = |a: &Matter<R>, b: &Matter<R>| {
        let mut all = [mark; Matter::<f64>::COUNT];
        a.to_each(|at, value| all[at] = value);
        b.to_each(|at, value| all[at] = pick(all[at], value));
        Matter::from_each(|at| all[at])
    };
    State {
        matter: each(&then.matter, &other.matter),
        core: pick(then.core, other.core),
        shell: pick(then.shell, other.shell),
        kept: other.kept,
    }
}

/// Below nought where a node passes an edge of the freezing span between `a` and `b`.
#[inline(always)]
fn crossing<R: Real>(a: &State<R>, b: &State<R>) -> R {
    let edge = |t: R, u: R| (t * u).min((t + heat::SPAN) * (u + heat::SPAN));
    edge(a.core, b.core).min(edge(a.shell, b.shell))
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
}

/// One hour of `h` days in `count` steps, or [`RESTART`] when there is no step before. A lane that passes an
/// edge of the freezing span, where the capacity jumps, does the hour again in [`CROSSING`] steps.
#[inline(always)]
pub fn hour<R: Real>(
    s: &mut State<R>,
    b: &mut Before<R>,
    p: &Params<R>,
    v: &Vessel,
    (now, next): (&Drivers<R>, &Drivers<R>),
    (h, count): (f64, usize),
) -> Seen<R> {
    let watched = count == 1 && !b.is_none() && s.core.min(s.shell).any_below(NEAR);
    let mut count = if b.is_none() { RESTART } else { count };
    // Large: taken along only where it may be wanted.
    let was = if watched { Some((*s, *b)) } else { None };
    let mut first = None;
    // One place calls `step`: it is inlined there, and it is long.
    loop {
        let share = 1.0 / count as f64;
        let mut at = *now;
        let mut sub = 1;
        let r = loop {
            let to = now.towards(next, sub as f64 * share);
            let r = step(s, b, p, v, (&at, &to), h * share);
            if sub == count {
                break Seen {
                    oxygen: r.oxygen,
                    bulk: r.bulk,
                };
            }
            at = to;
            sub += 1;
        };
        if let Some((whole, whole_b, whole_r, mark)) = first {
            *s = chosen(mark, s, &whole);
            *b = whole_b;
            // The next hour carries on from the whole of this one, and mends the other lanes only.
            if let Some((was, _)) = &was {
                b.moved = [s.core - was.core, s.shell - was.shell];
            }
            b.passed = Some(mark);
            return whole_r;
        }
        let Some((was_s, was_b)) = &was else {
            return r;
        };
        let mark = crossing(was_s, s);
        if !mark.any_below(0.0) {
            return r;
        }
        first = Some((*s, *b, r, mark));
        (*s, *b) = (*was_s, *was_b);
        count = CROSSING;
    }
}
