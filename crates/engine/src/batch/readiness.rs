//! What the rungs look at: potential oxygen uptake, C:N, recognisable pieces.
//!
//! ```text
//! OUR = 1000 Σ k_i S_i o_i g_T(25)/OM     mg O2 per g organic matter and day, at 25 °C, moist, aired
//! ```
//! Not held back by nitrogen, microbes or wet: what it could do, not what it does. 1 mg CO2-C is 2.67 mg O2
//! at a respiratory quotient of 1. Limits and their sources: `forecast::rungs`.

use super::carbon::OXYGEN;
use super::lanes::Real;
use super::limits;
use super::params::Params;
use super::state::State;

/// What is measured against the rungs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Signs<R> {
    /// mg O2 per g organic matter and day.
    pub uptake: R,
    /// Carbon to nitrogen.
    pub cn: R,
    /// Share of the cellulose put in that is still there.
    pub recognisable: R,
}

/// The signs of one state.
#[inline(always)]
pub fn signs<R: Real>(s: &State<R>, p: &Params<R>) -> Signs<R> {
    let m = &s.matter;
    let organic = m.quick + m.cellulose + m.lignin + m.humus;
    let g25 = limits::temperature(m.quick.of(25.0), p);
    let paced = p.k_r * m.quick * OXYGEN[0]
        + p.k_c * s.kept.pieces * m.cellulose * OXYGEN[1]
        + p.k_l * m.lignin * OXYGEN[2];
    Signs {
        uptake: paced * g25 * 1000.0 / (organic + 1e-9),
        cn: m.carbon / (m.n_organic + m.n_mineral + 1e-12),
        recognisable: m.cellulose / (s.kept.cellulose_in + 1e-12),
    }
}
