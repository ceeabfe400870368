//! Self-heating in a vacuum flask: how far moist, sieved compost warms above the room in 5 to 10 days.
//!
//! Rise: 0–10 K class V (finished), 10–20 IV, 20–30 III (active), 30–40 II, above 40 I (raw): EN 16087-2 and
//! TMECC 05.08-D (recalled). Rottegrad by peak from 20 °C: V 20–30 … I 60–70 °C (I and II seen, the rest recalled).
//! The standard flask holds 1.5–2 L and is 100 mm wide (Brinton et al. 1995, seen): a smaller one loses heat, so it
//! says class IV at best; so does one whose size was not told. A test cut short can fail but not pass.

use super::fault::{Fault, within};
use super::{Passes, sure};

/// Least size of a flask that holds its heat, L.
pub const FLASK_L: f64 = 1.5;
/// Fewest days that let a pass stand.
pub const FEWEST_DAYS: f64 = 5.0;
/// Rise that may be told, K: the hottest heaps reach 75 °C from a cellar of 5 °C (judged), with some room.
pub const RISE_K: (f64, f64) = (0.0, 75.0);
/// Days that may be told.
pub const DAYS: (f64, f64) = (1.0, 14.0);
/// Size that may be told, L (judged).
pub const SIZE_L: (f64, f64) = (0.2, 10.0);

/// What was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flask {
    /// Highest reading less the room, K.
    pub rise_k: f64,
    /// Size, L.
    pub litres: Option<f64>,
    /// Days watched; taken as long enough where not told.
    pub days: Option<f64>,
}

/// Five classes, rawest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Class {
    /// Raw.
    I,
    /// Hot.
    II,
    /// Active.
    III,
    /// Nearly done.
    IV,
    /// Finished.
    V,
}

impl Class {
    /// As it is written.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::I => "I",
            Self::II => "II",
            Self::III => "III",
            Self::IV => "IV",
            Self::V => "V",
        }
    }
}

fn class_of(rise: f64) -> Class {
    match rise {
        r if r <= 10.0 => Class::V,
        r if r <= 20.0 => Class::IV,
        r if r <= 30.0 => Class::III,
        r if r <= 40.0 => Class::II,
        _ => Class::I,
    }
}

/// Rottegrad of a peak, °C, in a flask that began at 20 °C.
#[must_use]
pub fn rottegrad(peak_c: f64) -> Class {
    class_of(peak_c - 20.0)
}

impl Flask {
    /// Checks the numbers.
    ///
    /// # Errors
    /// [`Fault::Outside`].
    pub fn checked(self) -> Result<Self, Fault> {
        within("rise", self.rise_k, RISE_K, "K")?;
        if let Some(litres) = self.litres {
            within("size of the flask", litres, SIZE_L, "L")?;
        }
        if let Some(days) = self.days {
            within("days", days, DAYS, "days")?;
        }
        Ok(self)
    }

    /// Whether its size may hide a rise.
    #[must_use]
    pub fn small(self) -> bool {
        self.litres.is_none_or(|l| l < FLASK_L)
    }

    /// Whether it was watched too short for a pass.
    #[must_use]
    pub fn cut_short(self) -> bool {
        self.days.is_some_and(|d| d < FEWEST_DAYS)
    }

    /// Its class; IV at best from a small flask.
    #[must_use]
    pub fn class(self) -> Class {
        let class = class_of(self.rise_k);
        if self.small() {
            class.min(Class::IV)
        } else {
            class
        }
    }

    /// What it says of each rung: at most 30 K for mulch, 20 K for beds, 10 K for pots and seed trays.
    #[must_use]
    pub fn passes(self) -> Passes {
        [30.0, 20.0, 20.0, 10.0, 10.0].map(|most| {
            if self.rise_k > most {
                return sure(false);
            }
            // What a small flask hides may be a class, never two (judged).
            let hidden = self.small() && most <= 10.0;
            (!self.cut_short() && !hidden).then_some(1.0)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn flask(rise_k: f64, litres: Option<f64>) -> Flask {
        Flask {
            rise_k,
            litres,
            days: Some(6.0),
        }
    }

    #[test]
    fn classes_by_rise_and_by_peak() {
        for (rise, class) in [
            (4.0, Class::V),
            (12.0, Class::IV),
            (25.0, Class::III),
            (38.0, Class::II),
            (44.0, Class::I),
        ] {
            assert_eq!(flask(rise, Some(1.5)).class(), class);
            assert_eq!(rottegrad(20.0 + rise), class);
        }
    }

    #[test]
    fn a_small_flask_is_never_finished() {
        for litres in [None, Some(0.75)] {
            assert_eq!(flask(3.0, litres).class(), Class::IV);
            assert_eq!(
                flask(3.0, litres).passes(),
                [Some(1.0), Some(1.0), Some(1.0), None, None]
            );
        }
        assert_eq!(flask(12.0, None).passes()[3], Some(0.0));
    }

    #[test]
    fn cut_short_it_can_only_fail() {
        let short = Flask {
            days: Some(2.0),
            ..flask(12.0, Some(2.0))
        };
        assert_eq!(short.passes(), [None, None, None, Some(0.0), Some(0.0)]);
        assert!(matches!(
            flask(-1.0, None).checked(),
            Err(Fault::Outside { what: "rise", .. })
        ));
    }
}
