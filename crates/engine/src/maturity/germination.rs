//! Germination index: cress on an extract of compost against water. GI % = (Gs/Gc)·(Ls/Lc)·100.
//!
//! Gs, Gc shares that germinate, Ls, Lc mean root lengths, mm. Extract 1:10, 10–20 seeds a dish, 48–72 h at 25 °C in
//! the dark (Zucconi et al. 1981; the limit of 50 % seen quoted, 80 and 100 recalled). Weak evidence: six composts
//! read 0–262 %, set mostly by the seed used (Komilis & Tziouvaras 2009, seen).

use super::Passes;
use super::fault::{Fault, within};
use super::seed::Seeds;

/// Root length that may be told, mm (judged).
pub const ROOT_MM: (f64, f64) = (0.0, 300.0);

/// What was counted and measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dish {
    /// Came up and sown, extract.
    pub pots: (u32, u32),
    /// Came up and sown, water.
    pub control: (u32, u32),
    /// Mean root, extract, mm.
    pub root_mm: f64,
    /// Mean root, water, mm.
    pub control_root_mm: f64,
}

/// Three parts of the index, %.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Index {
    /// Relative germination.
    pub germination: f64,
    /// Relative root length.
    pub root: f64,
    /// Germination index.
    pub index: f64,
}

/// Bands of the index.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Band {
    /// Below 50: strongly toxic.
    Strong,
    /// 50 to 80: moderate.
    Moderate,
    /// Above 80: none.
    None,
    /// Above 100: it helps growth.
    Helps,
}

impl Dish {
    /// Checks the numbers.
    ///
    /// # Errors
    /// As of the seeds; a root that cannot be.
    pub fn checked(self) -> Result<Self, Fault> {
        Seeds {
            pots: self.pots,
            control: Some(self.control),
        }
        .checked()?;
        within("root", self.root_mm, ROOT_MM, "mm")?;
        within("control root", self.control_root_mm, (1.0, ROOT_MM.1), "mm")?;
        Ok(self)
    }

    /// The index.
    #[must_use]
    pub fn index(self) -> Index {
        let share = |(up, sown): (u32, u32)| f64::from(up) / f64::from(sown);
        let germination = 100.0 * share(self.pots) / share(self.control);
        let root = 100.0 * self.root_mm / self.control_root_mm;
        Index {
            germination,
            root,
            index: germination * root / 100.0,
        }
    }

    /// Its band.
    #[must_use]
    pub fn band(self) -> Band {
        match self.index().index {
            i if i < 50.0 => Band::Strong,
            i if i <= 80.0 => Band::Moderate,
            i if i <= 100.0 => Band::None,
            _ => Band::Helps,
        }
    }

    /// What it says of each rung: 50 for a planted bed, 80 for pots and seed trays.
    #[must_use]
    pub fn passes(self) -> Passes {
        super::vitality::passes(self.index().index)
    }
}
