//! Can this go in, and as what?

use catalogue::{Catalogue, Found, Material, Property};
use units::Spread;

use crate::answer::{FigureFacts, ListFacts, LookAnswer, MatchFacts, Named};
use crate::local_rules::under_rule;
use crate::{Desk, Error, LocalFood};

impl Desk {
    /// The role of the material of that name, if exactly one has it.
    pub fn role(&self, name: &str) -> Option<&'static str> {
        match self.catalogue().ok()?.find(name) {
            Found::One(material) => Some(material.role.as_str()),
            _ => None,
        }
    }

    /// Finds a material by any of its names. No match is an answer, with near names.
    ///
    /// # Errors
    /// [`Error::TooLong`] for more than 4,096 bytes.
    pub fn look_up(&self, words: &str) -> Result<LookAnswer, Error> {
        const MOST: usize = 4096;
        if words.len() > MOST {
            return Err(catalogue::entry::TooLong {
                bytes: words.len(),
                most: MOST,
            }
            .into());
        }
        let catalogue = self.catalogue()?;
        let mut found: Vec<&Material> = match catalogue.find(words) {
            Found::One(material) => vec![material],
            Found::Several(all) => all,
            Found::Nothing => Vec::new(),
        };
        if found.is_empty() {
            // The grammar knows slips and leading adjectives: "some soggy brocolli".
            let entry = catalogue.read(words, &self.hands()?)?;
            for id in entry.items.iter().map(|i| &i.material) {
                let new = catalogue
                    .get(id)
                    .filter(|m| !found.iter().any(|f| f.id == m.id));
                found.extend(new);
            }
        }
        // Every name is compared with the words: worth it only where none of them matched.
        let near = if found.is_empty() {
            catalogue.near(words, 5)
        } else {
            Vec::new()
        }
        .into_iter()
        .map(|n| Named {
            id: n.material.id.clone(),
            name: n.material.name.clone(),
        })
        .collect();
        Ok(LookAnswer {
            asked: crate::read::shortened(words),
            matches: found
                .iter()
                .map(|m| Ok(facts(&catalogue, m, self.local_food(&m.id)?)))
                .collect::<Result<_, Error>>()?,
            near,
        })
    }
}

fn facts(catalogue: &Catalogue, material: &Material, local: Option<LocalFood>) -> MatchFacts {
    let (verdict, caution) = under_rule(local, material.verdict.as_str(), &material.caution);
    let c = material.composition();
    let percent = |s: Option<Spread>| s.map(|s| s.scale(100.0));
    let counted = c.carbon.is_some_and(|c| c.mid > 0.0);
    let some_if = |s: Option<Spread>| s.filter(|_| counted);
    MatchFacts {
        id: material.id.clone(),
        name: material.name.clone(),
        verdict,
        cap_pct: material.cap_pct,
        role: material.role.as_str(),
        cn: ratio(some_if(c.carbon), some_if(c.nitrogen)),
        water_pct: percent(c.water),
        nitrogen_pct_dry: percent(some_if(c.nitrogen)),
        carbon_pct_dry: percent(some_if(c.carbon)),
        density_kg_m3: c.density,
        preparation: material.preparation.clone(),
        caution,
        local,
        figures: figures(catalogue, material),
        lists: catalogue
            .lists(&material.id)
            .map(|l| ListFacts {
                source: cite(catalogue, std::slice::from_ref(&l.source)),
                says: l.says.clone(),
                agrees: l.agrees,
                why: l.why.clone(),
            })
            .collect(),
    }
}

/// C:N from independent spreads of carbon and nitrogen: log-widths in quadrature.
fn ratio(carbon: Option<Spread>, nitrogen: Option<Spread>) -> Option<Spread> {
    let (c, n) = (carbon?, nitrogen?);
    if n.mid <= 0.0 || n.low <= 0.0 {
        return None;
    }
    let mid = c.mid / n.mid;
    let width = |a: f64, b: f64| (a.ln().powi(2) + b.ln().powi(2)).sqrt().exp();
    Some(Spread::new(
        mid / width(c.mid / c.low, n.high / n.mid),
        mid,
        mid * width(c.high / c.mid, n.mid / n.low),
    ))
}

pub(crate) fn cite(catalogue: &Catalogue, ids: &[String]) -> String {
    ids.iter()
        .map(|id| match id.as_str() {
            "own" => "your own figure".to_owned(),
            id => catalogue
                .source(id)
                .map_or_else(|| id.to_owned(), |s| s.citation.clone()),
        })
        .collect::<Vec<_>>()
        .join("; ")
}

pub(crate) fn figures(catalogue: &Catalogue, material: &Material) -> Vec<FigureFacts> {
    let mut all: Vec<FigureFacts> = material
        .figures
        .iter()
        .map(|(property, f)| FigureFacts {
            id: format!("{}.{property}", material.id),
            property: property.as_str(),
            value: f.value,
            low: f.low,
            high: f.high,
            unit: f.unit.clone(),
            source: cite(catalogue, &f.source),
            place: f.place.clone(),
            grade: f.grade.as_str(),
        })
        .collect();
    if let Some((food, _)) = &material.food {
        let c = material.composition();
        let computed = [
            (Property::Water, c.water, "% of wet mass"),
            (Property::Carbon, c.carbon, "% of dry mass"),
            (Property::Nitrogen, c.nitrogen, "% of dry mass"),
            (Property::Ash, c.ash, "% of dry mass"),
        ];
        for (property, spread, unit) in computed {
            if all.iter().any(|f| f.property == property.as_str()) {
                continue;
            }
            if let Some(s) = spread.map(|s| s.scale(100.0)) {
                all.push(FigureFacts {
                    id: format!("{}.{property}", material.id),
                    property: property.as_str(),
                    value: s.mid,
                    low: s.low,
                    high: s.high,
                    unit: unit.to_owned(),
                    source: cite(catalogue, &["usda-sr28".to_owned()]),
                    place: format!(
                        "NDB {}, {}: computed from its row",
                        food.ndb, food.description
                    ),
                    grade: "measured",
                });
            }
        }
    }
    all
}
