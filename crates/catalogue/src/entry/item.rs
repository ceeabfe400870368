//! From an amount and a material to kilograms and litres, with the doubt of both.

use units::Spread;

use super::Hands;
use super::count::grams;
use super::number::Amount;
use super::unit::{Unit, Vessel, about};
use crate::{Bought, Catalogue, Material, Measure, Role};

/// Most of one portion (choice: more does not fit a household drum, so it is a slip).
const MOST_KG: f64 = 500.0;
const MOST_L: f64 = 2000.0;
/// Handful of torn card that the table of measures stands for, L.
const HANDFUL_L: f64 = 0.35;
/// A mass read off a kitchen or bathroom scale, ±2 % (common practice).
const SCALE: f64 = 0.02;
/// A full caddy by eye, ±15 % (judged).
const CADDY: f64 = 0.15;
/// A hand, ±40 % (judged: half as much again between hands).
pub(super) const HAND: f64 = 0.4;
/// Scraps per food as prepared by different people, ±35 % (judged; peel 15–25 % by hand).
const PREPARED: f64 = 0.35;

/// Mass and volume of a portion.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Portion {
    pub(super) kg: Option<Spread>,
    pub(super) litres: Option<Spread>,
    pub(super) assumed: Option<String>,
    /// One of it had no weight anywhere, so a handful stands in.
    pub(super) by_handful: bool,
}

impl Portion {
    /// Whether it is a portion that a household can handle.
    pub(super) fn holds(&self) -> bool {
        let fits = |s: Option<Spread>, most| {
            s.is_none_or(|s: Spread| s.is_finite() && s.mid > 0.0 && s.mid <= most)
        };
        fits(self.kg, MOST_KG)
            && fits(self.litres, MOST_L)
            && (self.kg.is_some() || self.litres.is_some())
    }

    pub(super) fn note(mut self, text: String) -> Self {
        self.assumed = Some(text);
        self
    }
}

fn widths(s: Spread) -> (f64, f64) {
    let log = |ratio: f64| {
        if ratio.is_finite() && ratio > 1.0 {
            ratio.ln()
        } else {
            0.0
        }
    };
    (log(s.mid / s.low), log(s.high / s.mid))
}

/// Product of two independent quantities: log-widths add in quadrature.
pub(super) fn times(a: Spread, b: Spread) -> Spread {
    let mid = a.mid * b.mid;
    let ((al, ah), (bl, bh)) = (widths(a), widths(b));
    Spread::new(mid / al.hypot(bl).exp(), mid, mid * ah.hypot(bh).exp())
}

fn over(a: Spread, b: Spread) -> Spread {
    times(a, Spread::new(1.0 / b.high, 1.0 / b.mid, 1.0 / b.low))
}

/// The reader's tables and the household's hands.
#[derive(Clone, Copy)]
pub(super) struct Scale<'a> {
    pub(super) catalogue: &'a Catalogue,
    pub(super) hands: &'a Hands,
}

impl<'a> Scale<'a> {
    pub(super) fn density(&self, material: &Material) -> Option<Spread> {
        material
            .composition()
            .density
            .map(|d| d.scale(0.001))
            .filter(|d| d.low > 0.0 && d.is_finite())
    }

    pub(super) fn by_volume(&self, material: &Material, litres: Spread) -> Portion {
        let kg = self.density(material).map(|d| times(litres, d));
        Portion {
            kg,
            litres: Some(litres),
            assumed: None,
            by_handful: false,
        }
    }

    pub(super) fn by_mass(&self, material: &Material, kg: Spread) -> Portion {
        let litres = self.density(material).map(|d| over(kg, d));
        Portion {
            kg: Some(kg),
            litres,
            assumed: None,
            by_handful: false,
        }
    }

    pub(super) fn by_measure(&self, material: &Material, measure: &Measure, by: Spread) -> Portion {
        match (measure.grams, measure.litres) {
            (Some(grams), litres) => {
                let kg = times(grams.scale(0.001), by);
                let by_density = || self.density(material).map(|d| over(kg, d));
                let litres = litres
                    .map(|l| times(about(l, HAND), by))
                    .or_else(by_density);
                Portion {
                    kg: Some(kg),
                    litres,
                    assumed: None,
                    by_handful: false,
                }
            }
            (None, Some(litres)) => self.by_volume(material, times(about(litres, CADDY), by)),
            (None, None) => Portion::default(),
        }
    }

    /// A row for this vessel of this very thing: "one bag of slimy salad".
    fn own_row(&self, material: &Material, name: &str) -> Option<&'a Measure> {
        let unit = name.strip_prefix("a ").or(name.strip_prefix("an "))?;
        self.rows(material).find(|m| m.unit == unit)
    }

    /// The size of a spoken vessel in the table of measures.
    fn vessel(&self, name: &str) -> Option<f64> {
        let unit = name.strip_prefix("a ").or(name.strip_prefix("an "))?;
        let mut all = self.catalogue.measures.iter();
        all.find(|m| m.material.is_none() && m.unit == unit && m.grams.is_none())?
            .litres
    }

    pub(super) fn rows(&self, material: &Material) -> impl Iterator<Item = &'a Measure> {
        let id = material.id.clone();
        self.catalogue
            .measures
            .iter()
            .filter(move |m| m.material.as_deref() == Some(&id))
    }

    /// A handful: the table's own row for the material, scaled by the household's hand.
    pub(super) fn handfuls(&self, material: &Material, by: Spread) -> Portion {
        let hand = self.hands.handful_l / HANDFUL_L;
        // Without a row of its own: what the rows of dense and of light things hold (judged).
        let dense = self.density(material).is_some_and(|d| d.mid > 0.15);
        let litres = if dense {
            0.25 * hand
        } else {
            self.hands.handful_l
        };
        match self.rows(material).find(|m| m.unit == "handful") {
            Some(row) => {
                let mut portion = self.by_measure(material, row, by);
                portion.kg = portion.kg.map(|s| s.scale(hand));
                portion.litres = portion.litres.map(|s| s.scale(hand));
                portion
            }
            None => self.by_volume(material, times(about(litres, HAND), by)),
        }
    }

    fn caddies(&self, material: &Material, vessel: Vessel, by: Spread) -> Portion {
        let scraps = material.id == "mixed-kitchen-scraps";
        if scraps && let Some(kg) = self.hands.caddy_kg {
            let mut portion = self.by_mass(material, times(about(kg, CADDY), by));
            portion.litres = Some(times(about(self.hands.caddy_l, CADDY), by));
            return portion;
        }
        if vessel == Vessel::Pail && matches!(material.role, Role::Dries | Role::Opens) {
            let litres = times(about(10.0, CADDY), by);
            return self
                .by_volume(material, litres)
                .note("a pail taken as 10 L".into());
        }
        let portion = self.by_volume(material, times(about(self.hands.caddy_l, CADDY), by));
        if vessel == Vessel::Other {
            return portion.note(format!(
                "a tub taken as the caddy, {} L",
                self.hands.caddy_l
            ));
        }
        portion
    }

    /// The portion said, or the usual one.
    pub(super) fn portion(
        &self,
        material: &Material,
        words: &str,
        amount: Option<Amount>,
        unit: Option<Unit>,
    ) -> Portion {
        if amount.is_none() && unit.is_none() {
            return self.usual(material, words);
        }
        if amount.is_none() {
            let one = self.portion(material, words, Some(Amount::exact(1.0)), unit);
            let note = one
                .assumed
                .clone()
                .unwrap_or_else(|| "one, as no number was said".into());
            return one.note(note);
        }
        let n = amount.unwrap_or(Amount::exact(1.0));
        let by = Spread::new(n.low, n.mid, n.high);
        match unit {
            None => self.counted(material, words, None, by),
            Some(Unit::Mass(kg)) => self.by_mass(material, times(about(kg, SCALE), by)),
            Some(Unit::Volume {
                litres,
                doubt,
                guessed,
                ..
            }) => {
                if let Some(row) = guessed.and_then(|name| self.own_row(material, name)) {
                    return self.by_measure(material, row, by);
                }
                let litres = guessed.and_then(|name| self.vessel(name)).unwrap_or(litres);
                let portion = self.by_volume(material, times(about(litres, doubt), by));
                match guessed {
                    Some(name) => portion.note(format!("{name} taken as {litres} L")),
                    None => portion,
                }
            }
            Some(Unit::Handful) => self.handfuls(material, by),
            Some(Unit::Caddy(vessel)) => self.caddies(material, vessel, by),
            Some(Unit::Count(name)) => match (name, self.rows(material).find(|m| m.unit == "brew"))
            {
                ("pot" | "brew", Some(first)) => {
                    let pot = self
                        .rows(material)
                        .find(|m| m.unit == "brew" && m.id.contains("pot"));
                    self.by_measure(material, pot.unwrap_or(first), by)
                }
                _ => self.counted(material, words, Some(name), by),
            },
        }
    }

    /// Whole foods thrown away: so many of the weight of one as bought.
    pub(super) fn whole(
        &self,
        material: &Material,
        bought: &Bought,
        amount: Amount,
    ) -> Option<Portion> {
        let kg = about(bought.each_g? / 1000.0, PREPARED);
        Some(self.by_mass(
            material,
            times(kg, Spread::new(amount.low, amount.mid, amount.high)),
        ))
    }

    /// Scraps of a food as bought: amount × refuse share, ±35 %.
    pub(super) fn refuse(
        &self,
        material: &Material,
        bought: &Bought,
        amount: Option<Amount>,
        unit: Option<Unit>,
    ) -> Option<Portion> {
        let n = amount.unwrap_or(Amount::exact(1.0));
        let by = Spread::new(n.low, n.mid, n.high);
        let food = match unit {
            Some(Unit::Mass(kg)) => times(about(kg, SCALE), by),
            // "a head of broccoli", "3 ears": one as bought. Bunches and bags are not.
            None | Some(Unit::Count("head" | "ear" | "piece" | "plant")) => {
                by.scale(bought.each_g? / 1000.0)
            }
            // A bunch of carrots is about six (judged).
            Some(Unit::Count("bunch")) => by.scale(6.0 * bought.each_g? / 1000.0),
            Some(Unit::Handful) => {
                self.by_volume(material, times(about(self.hands.handful_l, HAND), by))
                    .kg?
            }
            Some(Unit::Volume { litres, doubt, .. }) => {
                self.by_volume(material, times(about(litres, doubt), by))
                    .kg?
            }
            _ => return None,
        };
        let kg = times(food.scale(bought.refuse_pct / 100.0), about(1.0, PREPARED));
        let portion = self.by_mass(material, kg);
        Some(if amount.is_none() {
            portion.note(format!("the scraps of one, about {}", grams(kg)))
        } else {
            portion
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_add_in_quadrature() {
        let s = times(about(2.0, 0.3), about(5.0, 0.4));
        assert_eq!(s.mid, 10.0);
        let log = (1.3f64.ln().powi(2) + 1.4f64.ln().powi(2)).sqrt();
        assert!(
            (s.high - 10.0 * log.exp()).abs() < 1e-9 && (s.low - 10.0 / log.exp()).abs() < 1e-9
        );
    }

    #[test]
    fn absurd_portions_do_not_hold() {
        let kg = |n| Portion {
            kg: Some(Spread::exact(n)),
            litres: None,
            assumed: None,
            by_handful: false,
        };
        assert!(
            kg(500.0).holds() && !kg(501.0).holds() && !kg(0.0).holds() && !kg(f64::NAN).holds()
        );
        assert!(!Portion::default().holds());
    }
}
