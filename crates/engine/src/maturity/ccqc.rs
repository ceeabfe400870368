//! Maturity index of CCQC 2001 (California Compost Quality Council): C:N at most 25, then one test of group A and
//! one of group B; the worse of the two counts.
//!
//! Structure seen; thresholds recalled, except that laboratories call ammonium 530 and 640 mg/kg immature and 80 %
//! emergence well cured (seen). A: rise below 10 / 10–20 / above 20 K; CO2-C below 2 / 2–8 / above 8 mg/g OM·d.
//! B: seedlings above 90 / 80–90 / below 80 % of control. Its ammonium, nitrate and acid tests need a laboratory.

/// C:N above which the index is not asked.
pub const GATE: f64 = 25.0;

/// Grades, best last.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grade {
    /// Immature.
    Immature,
    /// Mature.
    Mature,
    /// Very mature.
    VeryMature,
}

impl Grade {
    /// As in JSON.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Immature => "immature",
            Self::Mature => "mature",
            Self::VeryMature => "very_mature",
        }
    }
}

/// Below, between, above.
fn low_is_good(value: f64, good: f64, fair: f64) -> Grade {
    match value {
        v if v < good => Grade::VeryMature,
        v if v <= fair => Grade::Mature,
        _ => Grade::Immature,
    }
}

/// Group A by a rise, K.
#[must_use]
pub fn by_rise(rise_k: f64) -> Grade {
    low_is_good(rise_k, 10.0, 20.0)
}

/// Group A by breath, mg CO2-C/g OM·d.
#[must_use]
pub fn by_breath(rate: f64) -> Grade {
    low_is_good(rate, 2.0, 8.0)
}

/// Group B by seedlings, share of the control.
#[must_use]
pub fn by_seedlings(ratio: f64) -> Grade {
    match ratio {
        r if r > 0.90 => Grade::VeryMature,
        r if r >= 0.80 => Grade::Mature,
        _ => Grade::Immature,
    }
}

/// The index: `None` where a group has no test; immature where the gate is shut.
#[must_use]
pub fn index(carbon_nitrogen: f64, a: Option<Grade>, b: Option<Grade>) -> Option<Grade> {
    if carbon_nitrogen > GATE {
        return Some(Grade::Immature);
    }
    Some(a?.min(b?))
}
