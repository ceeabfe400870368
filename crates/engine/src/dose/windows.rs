//! The windows of a good mix.

use serde::Serialize;

/// What may bind a dose.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Limit {
    /// Water.
    Water,
    /// Carbon to nitrogen.
    CarbonNitrogen,
    /// Free air space.
    Air,
}

impl Limit {
    /// Every limit.
    pub const ALL: [Self; 3] = [Self::Water, Self::CarbonNitrogen, Self::Air];

    /// As in JSON.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Water => "water",
            Self::CarbonNitrogen => "carbon_nitrogen",
            Self::Air => "air",
        }
    }
}

/// Inside `low..=high` is good; beyond `least` or `most` is a warning.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Window {
    /// Outer limit below.
    pub least: f64,
    /// Good from here.
    pub low: f64,
    /// Good to here.
    pub high: f64,
    /// Outer limit above.
    pub most: f64,
}

impl Window {
    /// Lower edge at slack `t`.
    #[must_use]
    pub fn lower(self, t: f64) -> f64 {
        (self.low - t * (self.low - self.least)).max(0.0)
    }
    /// Upper edge at slack `t`.
    #[must_use]
    pub fn upper(self, t: f64) -> f64 {
        self.high + t * (self.most - self.high)
    }
    /// How far outside a value lies: 0 inside, 1 at the outer limit.
    #[must_use]
    pub fn slack(self, value: f64) -> f64 {
        if value < self.low {
            (self.low - value) / (self.low - self.least)
        } else if value > self.high {
            (value - self.high) / (self.most - self.high)
        } else {
            0.0
        }
    }
}

/// The three windows.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Windows {
    /// Water share of wet mass.
    pub water: Window,
    /// Total C:N.
    pub carbon_nitrogen: Window,
    /// Free air space; only its lower side counts.
    pub air: Window,
}

impl Default for Windows {
    /// For a small drum.
    ///
    /// Water 50–62 %, warn outside 40–68 %: NRAES-54 (Rynk 1992) Table 2.1, 40–65 % acceptable and 50–60 %
    /// preferred; the upper edges are two to three points higher because paper holds its water (Haug
    /// 1993, recalled, gives 55–65 % for paper): choice.
    /// C:N 25–40, warn outside 20–50: NRAES-54 Table 2.1, 20–40 acceptable and 25–30 preferred; *The
    /// Composting Handbook* 2022, Table 4.2, 20–60 and 25–40; the outer 50 is a choice between them.
    /// Air at least 35 %, warn under 25 %: preferred 35–60 % in a technical note after Haug 1993 and Jeris &
    /// Regan 1973 (recalled), which give 30 % as the least; 25 % as the outer limit is a choice.
    fn default() -> Self {
        Self {
            water: Window {
                least: 0.40,
                low: 0.50,
                high: 0.62,
                most: 0.68,
            },
            carbon_nitrogen: Window {
                least: 20.0,
                low: 25.0,
                high: 40.0,
                most: 50.0,
            },
            air: Window {
                least: 0.25,
                low: 0.35,
                high: 1.0,
                most: 1.1,
            },
        }
    }
}

impl Windows {
    /// The aims inside the windows that the one-limit answers use: water at most 60 % (NRAES-54, upper edge
    /// of preferred) or at least 50 %, C:N at least 30 (the common aim) or at most 35.
    #[must_use]
    pub fn aims() -> Self {
        let all = Self::default();
        Self {
            water: Window {
                low: 0.50,
                high: 0.60,
                ..all.water
            },
            carbon_nitrogen: Window {
                low: 30.0,
                high: 35.0,
                ..all.carbon_nitrogen
            },
            air: all.air,
        }
    }
}
