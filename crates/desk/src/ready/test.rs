//! A reading's values to tests of the engine, and back to facts; what is wrong with them in plain words.

use std::collections::BTreeMap;

use engine::maturity::bag::Bag;
use engine::maturity::germination::Dish;
use engine::maturity::interval::Interval;
use engine::maturity::jar::{self, Jar};
use engine::maturity::seed::{CONTROL, Seeds};
use engine::maturity::self_heating::Flask;
use engine::maturity::{Fault, Kind, Passes, ash, vitality};
use journal::Measured;

use super::answer::{Ends, TestResult};
use crate::Error;

/// One test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Test {
    Flask(Flask),
    Bag(Bag),
    Jar(Jar),
    Seeds(Seeds),
    Germination(Dish),
    Vitality(f64),
    Ash(f64, f64),
}

impl Test {
    /// As in JSON.
    pub(super) fn name(self) -> &'static str {
        self.kind().map_or("ash", Kind::as_str)
    }

    /// Its kind; ash tells the way come, not whether it is done.
    pub(super) fn kind(self) -> Option<Kind> {
        Some(match self {
            Self::Flask(_) => Kind::Flask,
            Self::Bag(_) => Kind::Bag,
            Self::Jar(_) => Kind::Jar,
            Self::Seeds(s) if s.control.is_none() => Kind::SeedsAlone,
            Self::Seeds(_) => Kind::Seeds,
            Self::Germination(_) => Kind::Germination,
            Self::Vitality(_) => Kind::Vitality,
            Self::Ash(..) => return None,
        })
    }

    pub(super) fn passes(self) -> Passes {
        match self {
            Self::Flask(it) => it.passes(),
            Self::Bag(it) => it.passes(),
            Self::Jar(it) => it.passes(),
            Self::Seeds(it) => it.passes(),
            Self::Germination(it) => it.passes(),
            Self::Vitality(index) => vitality::passes(index),
            Self::Ash(..) => [None; 5],
        }
    }

    pub(super) fn result(self) -> TestResult {
        let ends = |i: Interval| Ends {
            low: i.low,
            high: i.high,
        };
        match self {
            Self::Flask(it) => TestResult::Flask {
                rise_k: it.rise_k,
                class: it.class().as_str(),
                small: it.small(),
                cut_short: it.cut_short(),
            },
            Self::Bag(it) => TestResult::Bag(it.as_str()),
            Self::Jar(it) => TestResult::Jar {
                rates: it.rates(),
                class: match jar::class(it.rates()[1]) {
                    jar::Class::VeryStable => "very_stable",
                    jar::Class::Stable => "stable",
                    jar::Class::ModeratelyUnstable => "moderately_unstable",
                    jar::Class::Unstable => "unstable",
                    jar::Class::Raw => "raw",
                },
            },
            Self::Seeds(it) => {
                let r = it.result();
                TestResult::Seeds {
                    pots: it.pots,
                    control: it.control,
                    likely: ends(r.likely),
                    exact: ends(r.exact),
                    ratio: r.ratio.map(|(ratio, i)| (ratio, ends(i))),
                }
            }
            Self::Germination(it) => TestResult::Index {
                index: it.index().index,
            },
            Self::Vitality(index) => TestResult::Index { index },
            Self::Ash(start, now) => match ash::loss(start, now) {
                Ok(loss) => TestResult::Ash {
                    lost: loss.organic,
                    left: loss.left,
                },
                Err(fault) => TestResult::Void(reason(fault).1),
            },
        }
    }
}

/// The field and the reason of a fault, with the way out.
pub(super) fn reason(fault: Fault) -> (String, String) {
    match fault {
        Fault::NoSeeds { what } => (
            what.into(),
            "none was sown, so there is nothing to count. Say how many were sown, as 17 of 20"
                .into(),
        ),
        Fault::MoreThanSown { what, up, sown } => (
            what.into(),
            format!("{up} cannot come up of {sown} sown. Count again, as 17 of 20"),
        ),
        Fault::WeakControl { up, sown } => {
            let least = (CONTROL * f64::from(sown)).ceil();
            (
                "control".into(),
                format!(
                    "{up} of {sown} came up in plain mix; at least {least:.0} must. The seed or the watering is to blame, so this says nothing of the compost. Sow again with fresh seed"
                ),
            )
        }
        Fault::Outside {
            what,
            value,
            least,
            most,
            unit,
        } => {
            let places = usize::from(value.fract() != 0.0);
            (
                what.into(),
                format!(
                    "{value:.places$} {unit} cannot be; it lies between {least} and {most} {unit}"
                ),
            )
        }
    }
}

fn refused(fault: Fault) -> Error {
    let (field, reason) = reason(fault);
    Error::BadSetting { field, reason }
}

fn lacks(field: &str, reason: &str) -> Error {
    Error::BadSetting {
        field: field.into(),
        reason: reason.into(),
    }
}

/// Every test in the values of a reading; values of other kinds are passed over.
pub(super) fn tests(values: &BTreeMap<String, Measured>) -> Vec<Result<Test, Error>> {
    let number = |name: &str| match values.get(name) {
        Some(Measured::Number(n)) => Some(*n),
        _ => None,
    };
    let mut all = Vec::new();
    if let Some(rise_k) = number("self_heating_k") {
        let flask = Flask {
            rise_k,
            litres: number("flask_l"),
            days: number("days"),
        };
        all.push(flask.checked().map(Test::Flask).map_err(refused));
    }
    if let Some(Measured::Text(word)) = values.get("bag") {
        all.push(
            Bag::named(word)
                .map(Test::Bag)
                .ok_or_else(|| lacks("bag", "say earthy, sour, rotten, ammonia or swollen")),
        );
    }
    if ["jar_ppm", "jar_h", "jar_l", "sample_g"]
        .iter()
        .any(|n| number(n).is_some())
    {
        all.push(jar_of(&number));
    }
    if number("seeds_sown").is_some() || number("control_sown").is_some() {
        all.push(seeds_of(&number, values.contains_key("extract")));
    }
    if let (Some(start), Some(now)) = (number("ash_start_pct"), number("ash_pct")) {
        all.push(
            ash::loss(start, now)
                .map(|_| Test::Ash(start, now))
                .map_err(refused),
        );
    }
    all
}

fn jar_of(number: &impl Fn(&str) -> Option<f64>) -> Result<Test, Error> {
    let share = |name| number(name).map(|p: f64| p / 100.0);
    let (Some(rise_ppm), Some(hours), Some(litres), Some(sample_g)) = (
        number("jar_ppm"),
        number("jar_h"),
        number("jar_l"),
        number("sample_g"),
    ) else {
        return Err(lacks(
            "jar",
            "say the rise of CO2, hours, head space and sample, as `jar 20000 ppm in 4 h, 1.9 L, 50 g`",
        ));
    };
    let jar = Jar {
        rise_ppm,
        hours,
        litres,
        sample_g,
        dry: share("dry_pct"),
        organic: share("organic_pct"),
    };
    jar.checked().map(Test::Jar).map_err(refused)
}

fn seeds_of(number: &impl Fn(&str) -> Option<f64>, extract: bool) -> Result<Test, Error> {
    // Beyond what a count can be, the largest: it is refused as too many.
    let count = |name| number(name).map(|n: f64| n.clamp(0.0, f64::from(u32::MAX)) as u32);
    let pair = |up, sown| Some((count(up)?, count(sown)?));
    let Some(pots) = pair("seeds_up", "seeds_sown") else {
        return Err(lacks(
            "seeds",
            "only the control was counted. Count those in compost too, as `seeds 17 of 20`",
        ));
    };
    let control = pair("control_up", "control_sown");
    let (root, control_root) = (number("roots_mm"), number("control_roots_mm"));
    let test = match (root, control_root, control) {
        (None, None, _) => Seeds { pots, control }.checked().map(Test::Seeds),
        (Some(root_mm), Some(control_root_mm), Some(control)) => {
            let dish = Dish {
                pots,
                control,
                root_mm,
                control_root_mm,
            };
            dish.checked().map(|dish| {
                if extract {
                    Test::Germination(dish)
                } else {
                    Test::Vitality(dish.index().index)
                }
            })
        }
        _ => {
            return Err(lacks(
                "roots",
                "roots are measured in compost and in plain mix, with both counts",
            ));
        }
    };
    test.map_err(refused)
}
