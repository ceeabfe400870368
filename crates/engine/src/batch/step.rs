//! One step of the fast mode: the heat block by its exponential, all else explicit, one set of rates an hour.
//!
//! Over a step the heat equations are C T' = J T + g(t). J (2×2, real and negative eigenvalues) is frozen;
//! g is taken as linear: its slope is that of air and sun inside the step, exactly, and that of decay and
//! evaporation from the step before. Then
//!
//! ```text
//! ΔT = h φ1(hJ) f + h φ2(hJ) w,  φ1(z) = (e^z − 1)/z,  φ2(z) = (φ1(z) − 1)/z
//! ```
//! Matter moves by Adams–Bashforth of order 2. After a feed, a turning or any jump there is no step before:
//! the hour is then cut into [`RESTART`] steps, the first of order 1.
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

/// What a step leaves for the next.
#[derive(Debug, Clone, Copy)]
pub struct Before<R> {
    matter: Matter<R>,
    flux: [R; 2],
    moved: [R; 2],
    air: R,
    sol_air: R,
    h: f64,
}

impl<R: Real> Before<R> {
    /// Nothing: the first step, or the first after a jump.
    #[inline(always)]
    pub fn none(like: R) -> Self {
        let nought = like.of(0.0);
        Self {
            matter: Matter::all(nought),
            flux: [nought; 2],
            moved: [nought; 2],
            air: nought,
            sol_air: nought,
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
    let z1 = (middle + spread).min(step.of(-1e-5));
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
    let r = rates(s, p, now, v);
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
    s.matter = s.matter.moved(
        (&r.matter, h * (1.0 + 0.5 * on)),
        (&b.matter, -0.5 * on * h),
    );
    *b = Before {
        matter: r.matter,
        flux: r.flux,
        moved: [core - s.core, shell - s.shell],
        air: now.air,
        sol_air: now.sol_air,
        h,
    };
    s.core = core;
    s.shell = shell;
    r
}
