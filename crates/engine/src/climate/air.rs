//! Moist air. Temperatures in °C, pressures in kPa.
//!
//! Source: Allen, R. G. and others, 1998, FAO Irrigation and Drainage Paper 56, chapter 3; equation numbers are
//! theirs. Saturation over water, also below freezing, where the pressure over ice is lower (12 % at −12 °C).

/// Eq. 7: P = 101.3 ((293 − 0.0065 z)/293)^5.26, air pressure at z metres, kPa.
#[must_use]
pub fn pressure(altitude_m: f64) -> f64 {
    101.3 * ((293.0 - 0.0065 * altitude_m) / 293.0).max(0.0).powf(5.26)
}

/// Eq. 8: γ = 0.665·10⁻³ P, psychrometric constant, kPa/°C.
#[must_use]
pub fn psychrometric(pressure_kpa: f64) -> f64 {
    0.665e-3 * pressure_kpa
}

/// Eq. 11: e°(T) = 0.6108 exp(17.27 T/(T + 237.3)), saturation vapour pressure, kPa.
#[must_use]
pub fn saturation(t: f64) -> f64 {
    0.6108 * (17.27 * t / (t + 237.3)).exp()
}

/// Eq. 12: e_s = (e°(T_max) + e°(T_min))/2, mean saturation pressure of a day, kPa.
#[must_use]
pub fn mean_saturation(min_c: f64, max_c: f64) -> f64 {
    0.5 * (saturation(min_c) + saturation(max_c))
}

/// Eq. 13: Δ = 4098 e°(T)/(T + 237.3)², slope of the saturation curve, kPa/°C.
#[must_use]
pub fn slope(t: f64) -> f64 {
    4098.0 * saturation(t) / (t + 237.3).powi(2)
}

/// Eq. 14: e_a = e°(T_dew), kPa.
#[must_use]
pub fn vapour_from_dew_point(dew_c: f64) -> f64 {
    saturation(dew_c)
}

/// Eqs 15 and 16: e_a = e°(T_wet) − a P (T_dry − T_wet), kPa; a = 0.000662 °C⁻¹ when ventilated.
#[must_use]
pub fn vapour_from_wet_bulb(dry_c: f64, wet_c: f64, pressure_kpa: f64, a: f64) -> f64 {
    (saturation(wet_c) - a * pressure_kpa * (dry_c - wet_c)).max(0.0)
}

/// Eq. 17: e_a = (e°(T_min) RH_max + e°(T_max) RH_min)/200, kPa; humidity in %.
#[must_use]
pub fn vapour_from_humidity(min_c: f64, max_c: f64, least_pct: f64, most_pct: f64) -> f64 {
    (saturation(min_c) * most_pct + saturation(max_c) * least_pct) / 200.0
}

/// Eq. 48: T_dew taken as T_min, so e_a = e°(T_min), kPa, where no humidity is known; too moist in deserts.
#[must_use]
pub fn vapour_from_minimum(min_c: f64) -> f64 {
    saturation(min_c)
}

/// Eq. 47: u_2 = u_z 4.87/ln(67.8 z − 5.42), wind brought from z to 2 m over short grass, m/s.
///
/// `None` at or below 0.1 m, where the logarithm leaves its range.
#[must_use]
pub fn wind_at_2_m(speed: f64, height_m: f64) -> Option<f64> {
    (height_m > 0.1).then(|| speed * 4.87 / (67.8 * height_m - 5.42).ln())
}

/// Annex 3, eq. 3-1: λ = 2.501 − 2.361·10⁻³ T, heat of vaporisation, MJ/kg.
#[must_use]
pub fn latent_heat(t: f64) -> f64 {
    2.501 - 2.361e-3 * t
}

/// x = 0.622 e/(P − e), water per dry air, kg/kg; ideal gases, 0.622 the ratio of molar masses (p. 32).
///
/// `None` where the air would boil (e ≥ P).
#[must_use]
pub fn humidity_ratio(vapour_kpa: f64, pressure_kpa: f64) -> Option<f64> {
    (vapour_kpa < pressure_kpa).then(|| 0.622 * vapour_kpa / (pressure_kpa - vapour_kpa))
}
