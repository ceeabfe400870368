//! Volume, air space and the water share of the pores.
//!
//! ```text
//! ρ_d = ρ_in (1 + 1.2 e + 0.8 max(0, m−0.52)(1 − 0.5 e)) (1 + 0.1 s)      dry bulk density, kg/m³
//! V   = D/ρ_d;  f = 1 − (W/1000 + OM/1600 + Ash/2500)/V                   held ≥ 0.02
//! w   = (W/1000)/(W/1000 + f V)
//! ```
//! e share of the organic matter lost; m water share; s how far it has settled since it was turned; D dry
//! matter, W water, kg. Particle densities: Richard et al. 2004, Compost Sci. Util. 12 (recalled).
//! Settling is a choice; dry bulk density of fresh mixes 100–200 kg/m³ in straw and manure (same, abstract).

use super::lanes::{Real, per_both};

/// Least free air space: a slurry keeps this much (choice; keeps the volume defined).
const LEAST: f64 = 0.02;

/// Volume of an empty vessel, m³: keeps shares defined before the first feed.
const NOTHING: f64 = 1e-9;

/// Volume (m³), free air space, water share of the pores.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bulk<R> {
    /// m³.
    pub volume: R,
    /// Share of the volume.
    pub air_space: R,
    /// Share of the pores.
    pub pores_filled: R,
}

/// Volumes from masses, kg; `dry_in` over `volume_in`, kg/m³, is the dry density as put in.
#[inline(always)]
pub fn bulk<R: Real>(
    water: R,
    organic: R,
    ash: R,
    water_share: R,
    extent: R,
    (dry_in, volume_in): (R, R),
    settled: f64,
) -> Bulk<R> {
    let one = water.of(1.0);
    let wet = (water_share - 0.52).max(one.of(0.0)) * 0.8;
    let slump = extent.fma(one.of(1.2), one) + wet * (one - extent * 0.5);
    let dense = dry_in * slump * (1.0 + 0.1 * settled);
    let wet_volume = water * 1e-3;
    let solids = organic * (1.0 / 1600.0) + ash * (1.0 / 2500.0);
    let filled = wet_volume + solids;
    let volume =
        ((organic + ash) * volume_in / dense).max(filled * (1.0 / (1.0 - LEAST))) + NOTHING;
    let air = volume - filled;
    let [per_volume, per_pores] = per_both(volume, wet_volume + air);
    Bulk {
        volume,
        air_space: air * per_volume,
        pores_filled: wet_volume * per_pores,
    }
}
