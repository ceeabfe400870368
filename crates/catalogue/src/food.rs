//! Carbon and nitrogen from a food table.
//!
//! N = protein / the row's own nitrogen factor (blank or 0: 6.25).
//! C = 0.52 protein (egg 0.54) + 0.77 fat + 0.41 sugars + 0.444 starch + 0.46 fibre + 0.42 rest
//!     + 0.52 alcohol, with rest = carbohydrate − fibre − sugars − starch. The rest may be negative
//! (fields come from separate analyses); clipping it puts potato 5.7 % off, so it is not clipped.
//!
//! Source: USDA National Nutrient Database for Standard Reference, release 28 (2016), documentation,
//! for the fields and factors; coefficients re-derived from the amino acids, fatty acids and sugars
//! of the same table (protein 0.508–0.526 by group, fat 0.762–0.774, sugars 0.404–0.419); starch is
//! C6H10O5, 0.444 by formula. Valid for raw plant foods and eggs. Ignores organic acids and waxes.

/// How the part that goes in differs from the food listed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trim {
    /// The listed food itself goes in.
    Whole,
    /// Peel, leaf or core of it: the listed flesh stands in.
    Trim,
}

impl Trim {
    /// Log-standard deviation of nitrogen of a food used whole: fruit 0.25, roots and tubers 0.35, other
    /// foods 0.20; a trim adds its own difference from the flesh listed, which takes 0.20 to 0.30.
    ///
    /// 0.20 is from SR28's own standard errors. 0.25 and 0.35 are from the scatter between SR28 and the
    /// Indian Food Composition Tables (Longvah et al. 2017), one table's share: fruit 0.26 of 18 pairs,
    /// roots 0.34 of 12, vegetables and leaves 0.16 of 36 (docs/food-check.md). The step for a trim is judged.
    pub fn nitrogen_log_sd(self, food: &Food) -> f64 {
        // SR28's numbers begin with the food group; 09 is fruit. Roots have no group of their own.
        const FRUIT: &str = "09";
        const ROOTS: [&str; 21] = [
            "11080", "11124", "11134", "11141", "11216", "11226", "11254", "11298", "11352",
            "11362", "11367", "11429", "11430", "11435", "11437", "11507", "11518", "11564",
            "11588", "11601", "11603",
        ];
        let whole: f64 = match food.ndb.as_str() {
            ndb if ndb.starts_with(FRUIT) => 0.25,
            ndb if ROOTS.contains(&ndb) => 0.35,
            _ => 0.20,
        };
        match self {
            Self::Whole => whole,
            Self::Trim => whole.hypot((0.30f64.powi(2) - 0.20f64.powi(2)).sqrt()),
        }
    }
}

/// One row of the food table, grams per 100 g of the edible portion.
#[derive(Debug, Clone, PartialEq)]
pub struct Food {
    /// Nutrient databank number.
    pub ndb: String,
    /// Description as printed.
    pub description: String,
    /// Water, g/100 g.
    pub water: f64,
    /// Protein, g/100 g.
    pub protein: f64,
    /// Fat, g/100 g.
    pub fat: f64,
    /// Carbohydrate by difference, g/100 g.
    pub carbohydrate: f64,
    /// Fibre, g/100 g.
    pub fibre: f64,
    /// Sugars, g/100 g; unknown is left in the rest.
    pub sugars: f64,
    /// Starch, g/100 g; unknown is left in the rest.
    pub starch: f64,
    /// Ash, g/100 g.
    pub ash: f64,
    /// Alcohol, g/100 g.
    pub alcohol: f64,
    /// Share thrown away when prepared, per cent of the food as bought.
    pub refuse_pct: Option<f64>,
    /// What the refuse is.
    pub refuse_description: String,
    /// Nitrogen to protein factor; 0 when the row has none.
    pub nitrogen_factor: f64,
}

impl Food {
    /// Dry matter, g/100 g.
    pub fn dry(&self) -> f64 {
        100.0 - self.water
    }

    /// Nitrogen, g/100 g.
    pub fn nitrogen(&self) -> f64 {
        let factor = if self.nitrogen_factor > 0.0 {
            self.nitrogen_factor
        } else {
            6.25
        };
        self.protein / factor
    }

    /// Organic carbon, g/100 g.
    pub fn carbon(&self) -> f64 {
        let egg = self.description.starts_with("Egg");
        let rest = self.carbohydrate - self.fibre - self.sugars - self.starch;
        (if egg { 0.54 } else { 0.52 }) * self.protein
            + 0.77 * self.fat
            + 0.41 * self.sugars
            + 0.444 * self.starch
            + 0.46 * self.fibre
            + 0.42 * rest
            + 0.52 * self.alcohol
    }

    /// C:N by mass, or nothing where the row lists under 0.05 g of protein.
    pub fn carbon_nitrogen(&self) -> Option<f64> {
        (self.protein >= 0.05).then(|| self.carbon() / self.nitrogen())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn potato() -> Food {
        // SR28 NDB 11352, potatoes, flesh and skin, raw.
        Food {
            ndb: "11352".into(),
            description: "Potatoes, flesh and skin, raw".into(),
            water: 79.25,
            protein: 2.05,
            fat: 0.09,
            carbohydrate: 17.49,
            fibre: 2.1,
            sugars: 0.82,
            starch: 15.29,
            ash: 1.11,
            alcohol: 0.0,
            refuse_pct: Some(0.0),
            refuse_description: String::new(),
            nitrogen_factor: 6.25,
        }
    }

    #[test]
    fn a_negative_rest_is_kept() {
        let food = potato();
        assert!(food.carbohydrate - food.fibre - food.sugars - food.starch < 0.0);
        // By hand: 1.066 + 0.0693 + 0.3362 + 6.7888 + 0.966 − 0.3024 = 8.924 g C; 0.328 g N.
        assert!((food.carbon() - 8.924).abs() < 0.001, "{}", food.carbon());
        assert!((food.carbon_nitrogen().unwrap() - 27.2).abs() < 0.05);
    }

    #[test]
    fn nitrogen_of_roots_and_fruit_is_less_sure() {
        let food = |ndb: &str| Food {
            ndb: ndb.into(),
            ..potato()
        };
        let told = |ndb: &str, trim: Trim| (trim.nitrogen_log_sd(&food(ndb)) * 100.0).round();
        // Potato, apple, cabbage; by hand √(0.35² + 0.05) = 0.415, √(0.25² + 0.05) = 0.335.
        assert_eq!(
            (told("11352", Trim::Whole), told("11352", Trim::Trim)),
            (35.0, 42.0)
        );
        assert_eq!(
            (told("09003", Trim::Whole), told("09003", Trim::Trim)),
            (25.0, 34.0)
        );
        assert_eq!(
            (told("11109", Trim::Whole), told("11109", Trim::Trim)),
            (20.0, 30.0)
        );
    }

    #[test]
    fn a_blank_factor_means_6_25() {
        let food = Food {
            nitrogen_factor: 0.0,
            ..potato()
        };
        assert!((food.nitrogen() - 0.328).abs() < 1e-9);
    }

    #[test]
    fn without_protein_there_is_no_ratio() {
        assert_eq!(
            Food {
                protein: 0.0,
                ..potato()
            }
            .carbon_nitrogen(),
            None
        );
    }
}
