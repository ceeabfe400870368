//! Ranges as rows: one row feeds the check, the message and the property-test generator.

use std::fmt;

/// What a number may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Name as a person would say it.
    pub name: &'static str,
    /// Unit symbol, or "" for a bare number.
    pub unit: &'static str,
    /// Least value allowed, inclusive.
    pub least: f64,
    /// Most value allowed, inclusive.
    pub most: f64,
}

/// A number outside its range; names the thing, the value and what is allowed.
#[derive(Debug, Clone, PartialEq)]
pub struct OutOfRange {
    /// Which row refused it.
    pub range: Range,
    /// The value given.
    pub value: f64,
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Range {
            name,
            unit,
            least,
            most,
        } = self.range;
        let gap = if unit.is_empty() { "" } else { " " };
        if self.value.is_finite() {
            write!(
                f,
                "{name}: {}{gap}{unit} is outside {least} to {most}{gap}{unit}",
                self.value
            )
        } else {
            write!(f, "{name}: not a number; give {least} to {most}{gap}{unit}")
        }
    }
}

impl std::error::Error for OutOfRange {}

impl Range {
    /// The value itself, or what is wrong with it. NaN and infinities are refused.
    ///
    /// # Errors
    /// [`OutOfRange`] when the value is not finite or lies outside `least..=most`.
    pub fn check(self, value: f64) -> Result<f64, OutOfRange> {
        if value.is_finite() && value >= self.least && value <= self.most {
            Ok(value)
        } else {
            Err(OutOfRange { range: self, value })
        }
    }
}

/// The rows. Physical bounds, or "choice" where they only catch a slip of the finger.
pub mod ranges {
    use super::Range;

    macro_rules! rows {
        ($($(#[$doc:meta])* $id:ident: $name:literal, $unit:literal, $least:literal, $most:literal;)*) => {
            $($(#[$doc])* pub const $id: Range =
                Range { name: $name, unit: $unit, least: $least, most: $most };)*
            /// Every row, for documentation and for tests.
            pub const ALL: &[Range] = &[$($id),*];
        };
    }

    rows! {
        /// Water share of wet mass.
        WATER_PCT: "water", "% of wet mass", 0.0, 100.0;
        /// Organic carbon share of dry mass; graphite-free plant matter cannot exceed fat's 77 %.
        CARBON_PCT_DRY: "carbon", "% of dry mass", 0.0, 80.0;
        /// Nitrogen share of dry mass; urea, the richest thing a household has, holds 46.6 %.
        NITROGEN_PCT_DRY: "nitrogen", "% of dry mass", 0.0, 47.0;
        /// Carbon to nitrogen by mass.
        CARBON_NITROGEN: "C:N", "", 0.5, 2000.0;
        /// Bulk density; from packing flakes to wet sand.
        DENSITY: "bulk density", "kg/m³", 3.0, 2500.0;
        /// Ash share of dry mass.
        ASH_PCT_DRY: "ash", "% of dry mass", 0.0, 100.0;
        /// Lignin share of dry mass.
        LIGNIN_PCT_DRY: "lignin", "% of dry mass", 0.0, 70.0;
        /// Carbonate carbon share of dry mass; pure calcium carbonate holds 12.0 %.
        CARBONATE_CARBON_PCT_DRY: "carbonate carbon", "% of dry mass", 0.0, 12.1;
        /// One portion in one entry; above it is a slip or a lorry (choice).
        PORTION_KG: "amount", "kg", 0.0, 500.0;
        /// One portion in one entry (choice).
        PORTION_L: "amount", "L", 0.0, 2000.0;
        /// Kitchen caddy (choice).
        CADDY_L: "caddy", "L", 0.5, 60.0;
        /// A full caddy on the scale (choice).
        CADDY_KG: "full caddy", "kg", 0.1, 60.0;
        /// One handful of torn card (choice, about four times either side of common hands).
        HANDFUL_L: "handful", "L", 0.05, 2.0;
        /// How far a bin must stand from a neighbour or a window (choice).
        APART_M: "distance to a neighbour", "m", 0.0, 200.0;
        /// How large a chamber may be under a local rule (choice).
        LARGEST_L: "largest size allowed", "L", 5.0, 5000.0;
        /// One chamber, bin or heap (choice).
        CHAMBER_L: "chamber", "L", 5.0, 5000.0;
        /// Water poured in at once (choice).
        WATER_L: "water", "L", 0.05, 200.0;
        /// Level in a chamber.
        LEVEL_PCT: "level", "% of the chamber", 0.0, 100.0;
        /// Latitude of the household.
        LATITUDE: "latitude", "°", -90.0, 90.0;
        /// Share of the week's feed.
        CAP_PCT: "cap", "% of the week's feed", 0.0, 100.0;
        /// A target for the water of a mix, exclusive of bone dry and pure water.
        TARGET_WATER_PCT: "target water", "% of wet mass", 1.0, 99.0;
        /// A target for C:N.
        TARGET_CN: "target C:N", "", 1.0, 500.0;
        /// A count of things in an entry (choice).
        COUNT: "count", "", 0.0, 10000.0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_message_names_thing_value_and_range() {
        let wrong = ranges::WATER_PCT.check(120.0).unwrap_err();
        assert_eq!(
            wrong.to_string(),
            "water: 120 % of wet mass is outside 0 to 100 % of wet mass"
        );
        assert!(
            ranges::WATER_PCT
                .check(f64::NAN)
                .unwrap_err()
                .to_string()
                .contains("not a number")
        );
    }

    #[test]
    fn every_row_is_a_range() {
        for row in ranges::ALL {
            assert!(
                row.least < row.most && row.least.is_finite() && row.most.is_finite(),
                "{row:?}"
            );
        }
    }

    proptest! {
        #[test]
        fn inside_passes_and_outside_does_not(row in 0..ranges::ALL.len(), at in 0.0..=1.0f64, beyond in 1e-6..1e9f64) {
            let row = ranges::ALL[row];
            let inside = (row.least + at * (row.most - row.least)).clamp(row.least, row.most);
            prop_assert_eq!(row.check(inside), Ok(inside));
            prop_assert!(row.check(row.most + beyond).is_err());
            prop_assert!(row.check(row.least - beyond).is_err());
        }
    }
}
