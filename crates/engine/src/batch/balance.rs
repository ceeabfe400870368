//! The ledger: after every step what was put in, less what left, is what is there.
//!
//! Mass, water, carbon and nitrogen close to rounding. Heat closes to the error of the step, since the
//! temperature is moved by an exponential and the ledger by a sum; the limit says how well.

use thiserror::Error;

use super::drivers::Vessel;
use super::heat;
use super::lanes::Real;
use super::rates::capacities;
use super::state::State;

/// Largest residual of mass, water, carbon, nitrogen, share of what was put in.
pub const LIMIT: f64 = 1e-9;

/// A balance that does not close.
#[derive(Debug, Error, Clone, PartialEq)]
#[error(
    "the balance of {quantity} is open on day {day:.2}: {residual:e} of what was put in, limit {LIMIT:e}"
)]
pub struct Open {
    /// Mass, water, carbon or nitrogen.
    pub quantity: &'static str,
    /// Days since the first feed.
    pub day: f64,
    /// Share of what was put in.
    pub residual: f64,
}

/// One over what was put in: mass, carbon, nitrogen, 1/kg.
#[inline(always)]
pub fn scales<R: Real>(s: &State<R>) -> [R; 3] {
    let k = &s.kept;
    let one = k.mass_in.of(1.0);
    [
        one / k.mass_in.max(one.of(1e-3)),
        one / k.carbon_in.max(one.of(1e-3)),
        one / k.nitrogen_in.max(one.of(1e-4)),
    ]
}

/// Residuals as shares of what was put in: mass, water, carbon, nitrogen. `per` is [`scales`] when most was in:
/// what is taken out takes its rounding along.
#[inline(always)]
pub fn residuals<R: Real>(s: &State<R>, per: &[R; 3]) -> [R; 4] {
    let m = &s.matter;
    let k = &s.kept;
    let organic = m.quick + m.cellulose + m.lignin + m.humus;
    let out = m.water_air + m.water_drained;
    let mass = k.mass_in + m.water_made - m.lost - out - organic - k.ash - m.water;
    let water = k.water_in + m.water_made - out - m.water;
    let carbon = k.carbon_in - m.carbon_out - m.carbon;
    let nitrogen = k.nitrogen_in - m.n_air - m.n_drained - m.n_organic - m.n_mineral;
    [
        mass * per[0],
        water * per[0],
        carbon * per[1],
        nitrogen * per[2],
    ]
}

/// Residual of heat, MJ.
#[inline(always)]
pub fn heat_residual<R: Real>(s: &State<R>, start: R, v: &Vessel) -> R {
    let m = &s.matter;
    let dry = m.quick + m.cellulose + m.lignin + m.humus + s.kept.ash;
    let c = capacities(dry, m.water, v);
    let now = heat::stored(s.core, c[0], m.water * heat::CORE)
        + heat::stored(s.shell, c[1], m.water * (1.0 - heat::CORE));
    start + s.kept.heat_in + m.heat_made - m.heat_out - now
}

/// Names of [`residuals`], in order.
pub const NAMES: [&str; 4] = ["mass", "water", "carbon", "nitrogen"];
