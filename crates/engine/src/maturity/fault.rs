//! Why a test tells nothing, as facts.

/// What is wrong with the numbers of a test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fault {
    /// Nothing was sown.
    NoSeeds {
        /// seeds or control.
        what: &'static str,
    },
    /// More came up than were sown.
    MoreThanSown {
        /// seeds or control.
        what: &'static str,
        /// Came up.
        up: u32,
        /// Sown.
        sown: u32,
    },
    /// Too few came up in plain mix: the seed is to blame, or the watering.
    WeakControl {
        /// Came up.
        up: u32,
        /// Sown.
        sown: u32,
    },
    /// A number that cannot be.
    Outside {
        /// Which.
        what: &'static str,
        /// As given.
        value: f64,
        /// Least.
        least: f64,
        /// Most.
        most: f64,
        /// Unit.
        unit: &'static str,
    },
}

/// A number within its range, ends included.
pub(crate) fn within(
    what: &'static str,
    value: f64,
    (least, most): (f64, f64),
    unit: &'static str,
) -> Result<f64, Fault> {
    if value.is_finite() && (least..=most).contains(&value) {
        Ok(value)
    } else {
        Err(Fault::Outside {
            what,
            value,
            least,
            most,
            unit,
        })
    }
}
