//! Heat of a core and a shell.
//!
//! ```text
//! C1 dT1/dt = q s − ṁ [c_a (T1−Ta) + L(T1)(x_o−x_a)] − G (T1−T2)
//! C2 dT2/dt = q (1−s) + G (T1−T2) + ½ φ L E − UA (T2−T_sa)
//! C  = (1.3 D + 4.19 W) kJ/K, 60 % core, 40 % shell, plus the wall;  L = 2.501 − 0.002361 T MJ/kg
//! UA = UA_full clip(V/V_chamber, 0.15, 1.2)^⅔;  G = 1.8 UA_full/((V/0.106)^⅓ √insulation)
//! ```
//! q heat of decay, s its share in the core, by mass and g_T. Freezing: 0.334 MJ/kg of water, evenly over
//! −2…0 °C (choice; solutes spread the freezing point). L: FAO-56 annex 3; the two-node form and 60:40 are
//! choices; conductivity 0.12–0.81 W/m K dense, 0.03–0.30 straw (Ahn et al., seen in an abstract).
//! Ignores layers in an unturned heap, wind by the hour, and heat into the ground apart from UA.

use super::lanes::Real;

/// Mass share of the core.
pub const CORE: f64 = 0.6;
/// Latent heat of freezing, MJ/kg.
const FREEZING: f64 = 0.334;
/// Width of the freezing span below 0 °C, K.
pub const SPAN: f64 = 2.0;

/// Heat capacity of the matter, MJ/K.
#[inline(always)]
pub fn capacity<R: Real>(dry: R, water: R) -> R {
    dry * 1.3e-3 + water * 4.19e-3
}

/// Latent heat of evaporation, MJ/kg.
#[inline(always)]
pub fn evaporation<R: Real>(t: R) -> R {
    t.of(2.501) - t * 0.002_361
}

/// Heat of a node over 0 °C, MJ, from its capacity (MJ/K) and water (kg).
#[inline(always)]
pub fn stored<R: Real>(t: R, capacity: R, water: R) -> R {
    capacity * t + water * FREEZING * (t / SPAN).within(-1.0, 0.0)
}

/// Temperature of a node from its heat: the inverse of [`stored`].
#[inline(always)]
pub fn from_stored<R: Real>(heat: R, capacity: R, water: R) -> R {
    let latent = water * FREEZING;
    let above = heat / capacity;
    let thawing = heat / (latent * (1.0 / SPAN) + capacity);
    let frozen = (heat + latent) / capacity;
    let below = (thawing + SPAN).below(0.0, frozen, thawing);
    heat.below(0.0, below, above)
}

/// Capacity as felt at `t`: in the freezing span the ice counts too.
#[inline(always)]
pub fn felt<R: Real>(t: R, capacity: R, water: R) -> R {
    let inside = capacity + water * (FREEZING / SPAN);
    t.below(0.0, t.below(-SPAN, capacity, inside), capacity)
}
