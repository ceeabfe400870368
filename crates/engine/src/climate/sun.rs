//! Sunshine on level ground. Days are counted from 1 (1 January), angles in radians, radiation in MJ/m²·d.
//!
//! Source: Allen, R. G., Pereira, L. S., Raes, D. and Smith, M., 1998, Crop evapotranspiration, FAO Irrigation
//! and Drainage Paper 56, chapter 3; equation numbers are theirs. Solar time throughout: clocks differ by
//! longitude, equation of time and summer time. Above the polar circle the sunset angle is clamped to 0
//! (polar night) or π (polar day). Shade from houses and trees is not seen.

use std::f64::consts::PI;

/// Solar constant, MJ/m²·min (p. 45).
pub const SOLAR_CONSTANT: f64 = 0.0820;
/// Stefan–Boltzmann constant, MJ/K⁴·m²·d (p. 52).
pub const STEFAN_BOLTZMANN: f64 = 4.903e-9;
/// k_Rs of eq. 50 inland and at the coast, °C^-0.5 (p. 60).
pub const KRS_INLAND: f64 = 0.16;
/// k_Rs of eq. 50 at the coast, °C^-0.5 (p. 60).
pub const KRS_COAST: f64 = 0.19;

/// Eq. 23: d_r = 1 + 0.033 cos(2π J / 365), inverse relative distance to the sun, –.
#[must_use]
pub fn inverse_distance(day: f64) -> f64 {
    1.0 + 0.033 * (2.0 * PI * day / 365.0).cos()
}

/// Eq. 24: δ = 0.409 sin(2π J / 365 − 1.39), solar declination, rad.
#[must_use]
pub fn declination(day: f64) -> f64 {
    0.409 * (2.0 * PI * day / 365.0 - 1.39).sin()
}

/// Eq. 25: ω_s = arccos(−tan φ tan δ), sunset hour angle, rad; 0 in polar night, π in polar day.
#[must_use]
pub fn sunset_angle(latitude: f64, declination: f64) -> f64 {
    (-latitude.tan() * declination.tan())
        .clamp(-1.0, 1.0)
        .acos()
}

/// Eq. 34: N = 24 ω_s / π, daylight, h. Sunrise is at 12 − N/2.
#[must_use]
pub fn daylight_hours(sunset_angle: f64) -> f64 {
    24.0 / PI * sunset_angle
}

/// Eq. 21: R_a = 24·60/π G_sc d_r (ω_s sin φ sin δ + cos φ cos δ sin ω_s), above the air, MJ/m²·d.
#[must_use]
pub fn extraterrestrial(latitude: f64, day: f64) -> f64 {
    let delta = declination(day);
    let ws = sunset_angle(latitude, delta);
    let path = ws * latitude.sin() * delta.sin() + latitude.cos() * delta.cos() * ws.sin();
    (24.0 * 60.0 / PI * SOLAR_CONSTANT * inverse_distance(day) * path).max(0.0)
}

/// Eq. 35: R_s = (a + b n/N) R_a with a = 0.25, b = 0.50 (p. 50), n/N relative sunshine, 0 to 1.
#[must_use]
pub fn from_sunshine(ra: f64, relative_sunshine: f64) -> f64 {
    (0.25 + 0.50 * relative_sunshine.clamp(0.0, 1.0)) * ra
}

/// Eq. 50 (Hargreaves): R_s = k_Rs √(T_max − T_min) R_a, held to the clear sky of eq. 36, 0.75 R_a.
#[must_use]
pub fn from_range(ra: f64, min_c: f64, max_c: f64, krs: f64) -> f64 {
    (krs * (max_c - min_c).max(0.0).sqrt()).min(0.75) * ra
}

/// Eq. 37: R_so = (0.75 + 2·10⁻⁵ z) R_a, clear sky at z metres, MJ/m²·d.
#[must_use]
pub fn clear_sky(ra: f64, altitude_m: f64) -> f64 {
    (0.75 + 2e-5 * altitude_m) * ra
}

/// Eq. 39: net long-wave loss, MJ/m²·d; e_a in kPa.
///
/// R_nl = σ (T_max,K⁴ + T_min,K⁴)/2 (0.34 − 0.14 √e_a) (1.35 R_s/R_so − 0.35), R_s/R_so at most 1. Without a
/// clear-sky value (polar night) the ratio is taken as 0.5 (judged).
#[must_use]
pub fn net_longwave(min_c: f64, max_c: f64, vapour_kpa: f64, rs: f64, rso: f64) -> f64 {
    let fourth = |c: f64| (c + 273.16).powi(4);
    let clear = if rso > 0.0 {
        (rs / rso).clamp(0.0, 1.0)
    } else {
        0.5
    };
    STEFAN_BOLTZMANN
        * 0.5
        * (fourth(max_c) + fourth(min_c))
        * (0.34 - 0.14 * vapour_kpa.max(0.0).sqrt())
        * (1.35 * clear - 0.35)
}

/// Share of a day's radiation that falls between two solar hours (0 to 24), eq. 28 over eq. 21.
///
/// (sin φ sin δ Δω + cos φ cos δ Δsin ω) from ω1 to ω2, ω = π/12 (t − 12), both held between ∓ω_s. The shares
/// of a day add to 1 exactly, or all are 0 in polar night. The sky is taken as equally clear all day.
#[must_use]
pub fn share_between(latitude: f64, day: f64, from_h: f64, to_h: f64) -> f64 {
    let delta = declination(day);
    let ws = sunset_angle(latitude, delta);
    let (a, b) = (latitude.sin() * delta.sin(), latitude.cos() * delta.cos());
    let whole = 2.0 * (a * ws + b * ws.sin());
    if whole <= 1e-9 || to_h <= from_h {
        return 0.0;
    }
    let angle = |h: f64| (PI / 12.0 * (h - 12.0)).clamp(-ws, ws);
    let (w1, w2) = (angle(from_h), angle(to_h));
    ((a * (w2 - w1) + b * (w2.sin() - w1.sin())) / whole).max(0.0)
}

/// Irradiance at a solar hour, W/m², of a day that gets `rs` MJ/m²: the rate of [`share_between`].
#[must_use]
pub fn irradiance(latitude: f64, day: f64, rs: f64, hour: f64) -> f64 {
    let delta = declination(day);
    let ws = sunset_angle(latitude, delta);
    let (a, b) = (latitude.sin() * delta.sin(), latitude.cos() * delta.cos());
    let whole = 2.0 * (a * ws + b * ws.sin());
    let angle = PI / 12.0 * (hour.rem_euclid(24.0) - 12.0);
    if whole <= 1e-9 || angle.abs() > ws {
        return 0.0;
    }
    let per_radian = (a + b * angle.cos()).max(0.0) / whole;
    // A day is 2π rad and 86,400 s.
    rs * 1e6 * per_radian * 2.0 * PI / 86_400.0
}

/// MJ/m² that 1 W/m² brings in a day of 86,400 s.
pub const MJ_PER_WATT_DAY: f64 = 0.0864;
