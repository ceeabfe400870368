//! Newtypes for the few dimensions the house needs.
//!
//! Wet mass and dry mass share a dimension, so a unit library cannot keep them apart; names do.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Sub};

use serde::{Deserialize, Serialize};

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $unit:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub f64);

        impl $name {
            /// Unit symbol as printed.
            pub const UNIT: &'static str = $unit;
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);
        }
        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self { Self(self.0 + other.0) }
        }
        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) { self.0 += other.0; }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self { Self(self.0 - other.0) }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self { Self(self.0 * factor) }
        }
        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 { self.0 / other.0 }
        }
        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(all: I) -> Self { Self(all.map(|q| q.0).sum()) }
        }
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                if $unit.is_empty() { self.0.fmt(f) } else { self.0.fmt(f)?; write!(f, " {}", $unit) }
            }
        }
    };
}

quantity!(
    /// Mass, kg; wet ("as it lies") unless the name beside it says dry.
    Kilograms, "kg"
);
quantity!(
    /// Volume as it lies, litres.
    Litres, "L"
);
quantity!(
    /// Bulk density as it lies, kg/m³ (which is also g/L).
    KgPerCubicMetre, "kg/m³"
);
quantity!(
    /// A share between 0 and 1; its basis (of wet mass, of dry mass, of volume) is in the name beside it.
    Share, ""
);

impl Share {
    /// From per cent as tables print it.
    #[must_use]
    pub fn from_percent(percent: f64) -> Self {
        Self(percent / 100.0)
    }

    /// As per cent.
    #[must_use]
    pub fn percent(self) -> f64 {
        self.0 * 100.0
    }
}

impl KgPerCubicMetre {
    /// Volume that a mass takes as it lies, L = kg · 1000 / (kg/m³).
    #[must_use]
    pub fn volume_of(self, mass: Kilograms) -> Litres {
        Litres(mass.0 * 1000.0 / self.0)
    }

    /// Mass of a volume as it lies.
    #[must_use]
    pub fn mass_of(self, volume: Litres) -> Kilograms {
        Kilograms(volume.0 * self.0 / 1000.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bucket_weighed_gives_its_density() {
        // Cooperband 2002 bucket method: 1 kg empty, 10 kg full, 20 L.
        let net = Kilograms(10.0) - Kilograms(1.0);
        assert!((net.0 / 20.0 - 0.45).abs() < 1e-12);
        assert!((KgPerCubicMetre(450.0).mass_of(Litres(20.0)).0 - 9.0).abs() < 1e-12);
        assert!((KgPerCubicMetre(450.0).volume_of(Kilograms(9.0)).0 - 20.0).abs() < 1e-12);
    }

    #[test]
    fn printing_carries_the_unit_and_the_asked_precision() {
        assert_eq!(format!("{:.1}", Litres(7.25)), "7.2 L");
        assert_eq!(format!("{:.0}", KgPerCubicMetre(455.0)), "455 kg/m³");
    }
}
