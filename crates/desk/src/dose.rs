//! How much of what goes with this?

use catalogue::{Catalogue, Material};
use engine::blend::{Mixture, PACKING, Point, Portion};
use engine::dose::{Candidate, Cause, Limit, Outcome, Problem, Target, Windows, exact, solve};
use units::{Spread, ranges};

use crate::answer::{DoseAnswer, DoseLine, LedBy, Nearby, Reading, StockLine};
use crate::mix::{facts, first_lack};
use crate::read::portions;
use crate::{Desk, Error, SEED};

/// What is asked.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct DoseAsk {
    /// The entry.
    pub text: String,
    /// What is at hand, as an entry; without amounts it is plenty. `None` is the household's stock.
    pub with: Option<String>,
    /// Chamber whose contents count.
    pub chamber: Option<String>,
    /// Exact targets, as `water=60,cn=30`.
    pub target: Option<String>,
}

/// Browns taken as at hand when nothing is said: the two that every household meets (common practice).
const USUAL: [&str; 2] = ["cardboard-corrugated", "leaves-dry-mixed"];
/// Water comes from the tap.
const WATER: &str = "water-plain";

struct AtHand<'a> {
    material: &'a Material,
    stock_kg: Option<f64>,
    stock_l: Option<f64>,
}

impl Desk {
    /// Finds the amounts that bring the entry, and the chamber if one is named, into the windows.
    ///
    /// # Errors
    /// An entry, stock, chamber or target that does not read; each names the way out.
    pub fn dose(&self, ask: &DoseAsk) -> Result<DoseAnswer, Error> {
        let read = self.read(&ask.text)?.reading;
        let targets = ask.target.as_deref().map(targets).transpose()?;
        let catalogue = self.catalogue()?;
        let (at_hand, unknown_stock) = self.at_hand(&catalogue, ask, targets.is_some())?;
        let mut base = portions(&catalogue, &read.items);
        if let Some(line) = read.items.iter().find(|l| l.kg.is_none()) {
            return Err(Error::Unknown {
                material: line.name.clone(),
                what: "bulk density".into(),
            });
        }
        let mut chamber_name = None;
        if let Some(name) = &ask.chamber {
            let chamber = self.chamber_named(name)?;
            base.extend(self.chamber_portions(&catalogue, &chamber.id)?);
            chamber_name = Some(chamber.name.unwrap_or(chamber.id));
        }
        let answer = self.weigh(&catalogue, &base, &at_hand, targets.as_deref(), read)?;
        Ok(DoseAnswer {
            unknown_stock,
            chamber: chamber_name,
            ..answer
        })
    }

    fn at_hand<'a>(
        &self,
        catalogue: &'a Catalogue,
        ask: &DoseAsk,
        exact: bool,
    ) -> Result<(Vec<AtHand<'a>>, Vec<Nearby>), Error> {
        let mut list: Vec<AtHand<'a>> = Vec::new();
        let mut unknown = Vec::new();
        if let Some(with) = &ask.with {
            let read = self.read(with)?.reading;
            unknown = read.unknown;
            for line in &read.items {
                let Some(material) = catalogue.get(&line.material) else {
                    continue;
                };
                let said = line.assumed.is_none();
                list.push(AtHand {
                    material,
                    stock_kg: line.kg.filter(|_| said).map(|s| s.mid),
                    stock_l: line.litres.filter(|_| said).map(|s| s.mid),
                });
            }
        } else {
            for stock in self.stock_lines()? {
                let Some(material) = catalogue.get(&stock.material) else {
                    continue;
                };
                if stock.kg.is_some_and(|kg| kg > 0.0) {
                    list.push(AtHand {
                        material,
                        stock_kg: stock.kg,
                        stock_l: stock.litres,
                    });
                }
            }
            if list.is_empty() {
                list.extend(
                    USUAL
                        .iter()
                        .filter_map(|id| catalogue.get(id))
                        .map(|material| AtHand {
                            material,
                            stock_kg: None,
                            stock_l: None,
                        }),
                );
            }
        }
        // A recipe with targets uses what it names; a household has a tap.
        if !exact
            && !list.iter().any(|a| a.material.id == WATER)
            && let Some(material) = catalogue.get(WATER)
        {
            list.push(AtHand {
                material,
                stock_kg: None,
                stock_l: None,
            });
        }
        Ok((list, unknown))
    }

    fn weigh(
        &self,
        catalogue: &Catalogue,
        base: &[Portion<'_>],
        at_hand: &[AtHand<'_>],
        targets: Option<&[Target]>,
        read: Reading,
    ) -> Result<DoseAnswer, Error> {
        let before = Mixture::of(base, SEED);
        let hands = self.hands()?;
        let mut lacks = before.lacks().to_vec();
        for thing in at_hand {
            let one = Portion {
                material: thing.material,
                kg: Spread::exact(1.0),
            };
            lacks.extend(Mixture::of(&[one], SEED).lacks().to_vec());
        }
        let name_of = |id: &str| {
            catalogue
                .get(id)
                .map_or_else(|| id.to_owned(), |m| m.name.clone())
        };
        let needed: &[(Limit, &[&str])] = &[
            (Limit::Water, &["water"]),
            (Limit::CarbonNitrogen, &["water", "carbon", "nitrogen"]),
            (Limit::Air, &["density", "water", "ash"]),
        ];
        let limits: Vec<Limit> = needed
            .iter()
            .filter(|(_, what)| first_lack(&lacks, what).is_none())
            .map(|(limit, _)| *limit)
            .collect();
        let wanted: Vec<Limit> = targets.map_or(vec![Limit::Water], |t| {
            t.iter().map(|t| t.limit()).collect()
        });
        for (limit, what) in needed {
            if let (true, Some(lack)) = (wanted.contains(limit), first_lack(&lacks, what)) {
                return Err(Error::Unknown {
                    material: name_of(&lack.material),
                    what: lack.what.into(),
                });
            }
        }
        let problem = Problem {
            base: before.middle(),
            candidates: at_hand
                .iter()
                .map(|thing| Candidate {
                    per_kg: Point::from(&thing.material.composition()).parts(1.0),
                    stock_kg: thing.stock_kg,
                    handful_kg: targets
                        .is_none()
                        .then(|| handful_kg(catalogue, thing.material, hands.handful_l))
                        .flatten(),
                })
                .collect(),
            windows: Windows::default(),
            packing: PACKING.1,
            limits,
        };
        let amounts = |kg: &[f64], led_by: LedBy| -> Vec<DoseLine> {
            at_hand
                .iter()
                .zip(kg)
                .filter(|(_, kg)| **kg > 1e-9)
                .map(|(thing, &kg)| {
                    let density = thing.material.composition().density.map(|d| d.mid);
                    let handful = handful_kg(catalogue, thing.material, hands.handful_l);
                    DoseLine {
                        material: thing.material.id.clone(),
                        name: thing.material.name.clone(),
                        kg,
                        litres: density.map(|d| kg * 1000.0 / d),
                        handfuls: handful.map(|h| kg / h),
                        led_by,
                    }
                })
                .collect()
        };
        let mut beside = Vec::new();
        let (outcome, binding, kg, cause, led_by);
        if let Some(targets) = targets {
            let found = exact(&problem, targets);
            led_by = match targets {
                [one] => led(one.limit()),
                _ => LedBy::Compromise,
            };
            outcome = if found.is_some() {
                Outcome::Meets
            } else {
                Outcome::Cannot
            };
            cause = found.is_none().then_some("target_out_of_reach");
            binding = found.as_ref().and_then(|q| {
                let any = q.iter().any(|kg| *kg > 1e-9);
                targets.first().filter(|_| any).map(|t| t.limit())
            });
            kg = found.unwrap_or_default();
        } else {
            let answer = solve(&problem);
            outcome = answer.outcome;
            binding = answer.binding;
            led_by = match (answer.outcome, answer.binding) {
                (Outcome::Meets, Some(limit)) => led(limit),
                _ => LedBy::Compromise,
            };
            if answer.outcome == Outcome::Compromise {
                for (limit, q) in &answer.alone {
                    if let (Some(q), true) = (q, *limit != Limit::Air) {
                        beside.extend(amounts(q, led(*limit)));
                    }
                }
            }
            cause = answer.cause.map(cause_word);
            kg = answer.kg;
        }
        let mut together = base.to_vec();
        together.extend(at_hand.iter().zip(&kg).map(|(thing, &kg)| Portion {
            material: thing.material,
            kg: Spread::exact(kg),
        }));
        let before_facts = facts(&before);
        Ok(DoseAnswer {
            read,
            outcome: outcome.as_str(),
            binding: binding.map(Limit::as_str),
            doses: amounts(&kg, led_by),
            beside,
            after: facts(&Mixture::of(&together, SEED)),
            without_wet_points: before_facts
                .water_pct
                .map(|w| w.mid - 100.0 * Windows::default().water.high)
                .filter(|p| *p > 0.0),
            before: before_facts,
            cause,
            exact: targets.is_some(),
            at_hand: at_hand
                .iter()
                .map(|thing| StockLine {
                    material: thing.material.id.clone(),
                    name: thing.material.name.clone(),
                    litres: thing.stock_l,
                    kg: thing.stock_kg,
                })
                .collect(),
            unknown_stock: Vec::new(),
            chamber: None,
            caddy_l: hands.caddy_l,
        })
    }
}

fn led(limit: Limit) -> LedBy {
    match limit {
        Limit::Water => LedBy::Water,
        Limit::CarbonNitrogen => LedBy::CarbonNitrogen,
        Limit::Air => LedBy::Air,
    }
}

fn cause_word(cause: Cause) -> &'static str {
    match cause {
        Cause::TooWet => "too_wet",
        Cause::TooDry => "too_dry",
        Cause::TooLittleCarbon => "too_little_carbon",
        Cause::TooLittleNitrogen => "too_little_nitrogen",
        Cause::TooDense => "too_dense",
        Cause::StockTooSmall => "stock_too_small",
        Cause::Conflict => "conflict",
    }
}

/// One handful of a material, kg: its own measure scaled to the household's hand, or the hand's volume.
pub(crate) fn handful_kg(
    catalogue: &Catalogue,
    material: &Material,
    handful_l: f64,
) -> Option<f64> {
    if material.id == WATER {
        return None;
    }
    let density = material.composition().density?.mid;
    let own = catalogue
        .measures()
        .iter()
        .find(|m| m.unit == "handful" && m.material.as_deref() == Some(&material.id))
        .and_then(|m| m.litres);
    // 0.35 L is the handful of torn card that the table's other handfuls were set beside.
    Some(own.unwrap_or(0.35) * handful_l / 0.35 * density / 1000.0)
}

fn targets(text: &str) -> Result<Vec<Target>, Error> {
    let bad = || Error::BadTarget {
        given: crate::read::shortened(text),
    };
    let mut all: Vec<Target> = Vec::new();
    for part in text
        .split([',', ';'])
        .map(str::trim)
        .filter(|p| !p.is_empty())
    {
        let (name, value) = part.split_once('=').ok_or_else(bad)?;
        let value = value.trim().trim_end_matches('%').trim_end_matches(":1");
        let value: f64 = value.parse().map_err(|_| bad())?;
        let target = match name.trim().to_lowercase().as_str() {
            "water" | "moisture" | "wetness" => {
                Target::Water(ranges::TARGET_WATER_PCT.check(value)? / 100.0)
            }
            "cn" | "c:n" => Target::CarbonNitrogen(ranges::TARGET_CN.check(value)?),
            _ => return Err(bad()),
        };
        if all.iter().any(|t| t.limit() == target.limit()) {
            return Err(bad());
        }
        all.push(target);
    }
    if all.is_empty() { Err(bad()) } else { Ok(all) }
}
