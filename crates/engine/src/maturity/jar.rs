//! Breath in a jar: carbon given off as CO2, mg C/g OM·d: r = ΔX·10⁻⁶·V·12 000/24.05 / (m·D·O) / Δt.
//!
//! ΔX rise of CO2, ppm; V head space, L; 24.05 L/mol at 20 °C; m sample, g wet; D dry share, O organic share of it;
//! Δt in days. Classes of TMECC 05.08-B (recalled; the 8 is Minnesota's limit, seen): below 2 very stable, 2–8
//! stable, 8–15 moderately unstable, 15–40 unstable, above 40 raw. Holds at 20–25 °C below 5 % CO2, on a damp
//! sample kept warm for 1–3 days first. A cold or dry sample breathes less than it could.

use super::Passes;
use super::fault::{Fault, within};
use crate::forecast::Rung;

/// Litres of a mole of gas at 20 °C.
const MOLE_L: f64 = 24.05;
/// Oxygen for each carbon given off, mg O2/mg CO2-C: one CO2 for each O2 (32/12).
pub const OXYGEN_PER_CARBON: f64 = 32.0 / 12.0;
/// Dry and organic shares where they were not told: low, usual, high (judged; 20 New York composts ran from 28 to
/// 76 % dry and 9 to 80 % organic, Harrison, Cornell ecommons 1813/40227, seen).
pub const DRY: [f64; 3] = [0.35, 0.50, 0.65];
/// As [`DRY`], organic matter of dry matter.
pub const ORGANIC: [f64; 3] = [0.35, 0.50, 0.65];

/// What was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Jar {
    /// Rise of CO2, ppm.
    pub rise_ppm: f64,
    /// Hours shut.
    pub hours: f64,
    /// Head space, L.
    pub litres: f64,
    /// Sample, g wet.
    pub sample_g: f64,
    /// Dry share of the sample.
    pub dry: Option<f64>,
    /// Organic share of dry matter.
    pub organic: Option<f64>,
}

/// Five classes, calmest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Class {
    /// Below 2.
    VeryStable,
    /// 2 to 8.
    Stable,
    /// 8 to 15.
    ModeratelyUnstable,
    /// 15 to 40.
    Unstable,
    /// Above 40.
    Raw,
}

/// Class of a rate, mg CO2-C/g OM·d.
#[must_use]
pub fn class(rate: f64) -> Class {
    match rate {
        r if r < 2.0 => Class::VeryStable,
        r if r <= 8.0 => Class::Stable,
        r if r <= 15.0 => Class::ModeratelyUnstable,
        r if r <= 40.0 => Class::Unstable,
        _ => Class::Raw,
    }
}

impl Jar {
    /// Checks the numbers.
    ///
    /// # Errors
    /// [`Fault::Outside`].
    pub fn checked(self) -> Result<Self, Fault> {
        // Above 5 % the breath slows down by itself.
        within("rise of CO2", self.rise_ppm, (0.0, 50_000.0), "ppm")?;
        within("hours", self.hours, (0.25, 48.0), "h")?;
        within("jar", self.litres, (0.1, 20.0), "L")?;
        within("sample", self.sample_g, (1.0, 2000.0), "g")?;
        for (what, share) in [("dry matter", self.dry), ("organic matter", self.organic)] {
            if let Some(share) = share {
                within(what, share * 100.0, (5.0, 100.0), "%")?;
            }
        }
        Ok(self)
    }

    /// Carbon given off while it was shut, mg.
    #[must_use]
    pub fn carbon_mg(self) -> f64 {
        self.rise_ppm * 1e-6 * self.litres * 12_000.0 / MOLE_L
    }

    /// Rate, mg CO2-C/g OM·d: least, usual and most for the shares not told.
    #[must_use]
    pub fn rates(self) -> [f64; 3] {
        [2, 1, 0].map(|i| {
            let organic_g =
                self.sample_g * self.dry.unwrap_or(DRY[i]) * self.organic.unwrap_or(ORGANIC[i]);
            self.carbon_mg() / organic_g / (self.hours / 24.0)
        })
    }

    /// What it says of each rung: the uptake limit of the rung, as carbon. The ends count half of the middle.
    #[must_use]
    pub fn passes(self) -> Passes {
        let rates = self.rates();
        Rung::ALL.map(|rung| {
            let most = rung.limits().uptake / OXYGEN_PER_CARBON;
            let share = |i: usize, weight: f64| if rates[i] <= most { weight } else { 0.0 };
            Some(share(0, 0.25) + share(1, 0.5) + share(2, 0.25))
        })
    }
}
