//! Composition of a material in shares, with spreads.

use units::Spread;

use crate::food::Trim;
use crate::material::{Material, Property};

/// What a kilogram of a material is made of. `None` is unknown, never zero.
#[derive(Debug, Clone, PartialEq)]
pub struct Composition {
    /// Water share of wet mass.
    pub water: Option<Spread>,
    /// Organic carbon share of dry mass.
    pub carbon: Option<Spread>,
    /// Nitrogen share of dry mass.
    pub nitrogen: Option<Spread>,
    /// Ash share of dry mass.
    pub ash: Option<Spread>,
    /// Lignin share of dry mass.
    pub lignin: Option<Spread>,
    /// Carbonate carbon share of dry mass; not food, kept apart.
    pub carbonate: f64,
    /// Bulk density as it lies, kg/m³.
    pub density: Option<Spread>,
}

/// Standard normal 95 % point.
const Z95: f64 = 1.645;
/// Carbon computed from a food row: 4 % (standard errors of SR28's own means).
const FOOD_CARBON_SD: f64 = 0.04;
/// Dry matter of wet produce: 10–15 % between samples (same); the middle is used.
const FOOD_DRY_SD: f64 = 0.125;

impl Composition {
    pub(crate) fn of(material: &Material) -> Self {
        let share = |property| material.spread(property, 100.0);
        let mut all = Self {
            water: share(Property::Water),
            carbon: share(Property::Carbon),
            nitrogen: share(Property::Nitrogen),
            ash: share(Property::Ash),
            lignin: share(Property::Lignin),
            carbonate: share(Property::CarbonateCarbon).map_or(0.0, |s| s.mid),
            density: material.spread(Property::Density, 1.0),
        };
        if let Some((food, trim)) = &material.food {
            let computed = from_food(food, *trim);
            // A figure for the part itself outranks the row of the whole food.
            all.water = all.water.or(computed.water);
            all.carbon = all.carbon.or(computed.carbon);
            all.nitrogen = all.nitrogen.or(computed.nitrogen);
            all.ash = all.ash.or(computed.ash);
        }
        if !material.own && all.carbon.is_none() && all.nitrogen.is_none() {
            // Minerals, water and things that stay out: the tables leave them uncounted on purpose.
            all.carbon = Some(Spread::exact(0.0));
            all.nitrogen = Some(Spread::exact(0.0));
        }
        if !material.own {
            // No row of the tables leaves these out except for bare minerals and water.
            all.ash = all.ash.or(Some(Spread::exact(0.0)));
            all.lignin = all.lignin.or(Some(Spread::exact(0.0)));
        }
        all
    }

    /// C:N at the typical figures, if both are known and nitrogen is there at all.
    pub fn carbon_nitrogen(&self) -> Option<f64> {
        let (c, n) = (self.carbon?.mid, self.nitrogen?.mid);
        (n > 0.0).then(|| c / n)
    }
}

fn lognormal(mid: f64, log_sd: f64) -> Spread {
    let factor = (Z95 * log_sd).exp();
    Spread::new(mid / factor, mid, mid * factor)
}

fn from_food(food: &crate::food::Food, trim: Trim) -> Composition {
    let dry = food.dry() / 100.0;
    let dry_spread = lognormal(dry, FOOD_DRY_SD);
    let per_dry = |grams: f64| grams / food.dry();
    Composition {
        water: Some(Spread::new(
            (1.0 - dry_spread.high).max(0.0),
            1.0 - dry,
            (1.0 - dry_spread.low).min(1.0),
        )),
        carbon: Some(lognormal(per_dry(food.carbon()), FOOD_CARBON_SD)),
        nitrogen: Some(lognormal(
            per_dry(food.nitrogen()),
            trim.nitrogen_log_sd(food),
        )),
        ash: Some(lognormal(per_dry(food.ash.max(0.0)), 0.2)),
        lignin: None,
        carbonate: 0.0,
        density: None,
    }
}
