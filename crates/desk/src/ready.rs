//! May I use it now, and for what?
//!
//! The forecast says how many of twenty runs reach each rung by today; tests turn those odds. A page never waits:
//! until the forecast is worked out it gets the tests without a chance.

mod answer;
mod rules;
mod test;
mod words;

use std::sync::Arc;

use engine::maturity::verdict::{Evidence, Hold, Verdict, verdicts};
use engine::maturity::{Kind, ccqc, cured, next};
use jiff::civil::Date;
use journal::{Body, Chamber, Fill, Page};

pub use answer::{
    Ends, HoldFacts, NextFacts, ReadyAnswer, RungReady, TestFacts, TestNoted, TestResult,
};
pub(crate) use rules::RULES;
use test::{Test, tests};

use crate::{Desk, Error, ForecastAnswer, ForecastAsk, HOUSEHOLD};

/// A test with what the engine makes of it.
struct Noted {
    facts: TestFacts,
    test: Option<Test>,
}

impl Desk {
    /// Each rung's chance, what the tests say, and which test would tell most. A forecast that is not
    /// known yet is worked out with so many `members`; with `None` it is not waited for, and the chances stay open.
    ///
    /// # Errors
    /// No such chamber, an empty one, or as the forecast's.
    pub fn ready(
        &self,
        chamber: Option<&str>,
        members: Option<usize>,
    ) -> Result<ReadyAnswer, Error> {
        let chamber = self.forecast_chamber(chamber)?;
        let forecast = self.forecast_waited(&chamber.id, members)?;
        self.ready_by(Some(&chamber.id), forecast)
    }

    /// As [`Desk::ready`], by a forecast at hand.
    pub(crate) fn ready_by(
        &self,
        chamber: Option<&str>,
        forecast: Option<Arc<ForecastAnswer>>,
    ) -> Result<ReadyAnswer, Error> {
        let chamber = self.forecast_chamber(chamber)?;
        let name = chamber.name.clone().unwrap_or_else(|| chamber.id.clone());
        let nothing = || Error::NothingToForecast {
            chamber: Some(name.clone()),
        };
        let (fill, rows) = self
            .store()?
            .contents(HOUSEHOLD, &chamber.id)?
            .ok_or_else(nothing)?;
        let zone = self.zone();
        let today = self.clock.now(&zone).date();
        let last = rows.iter().map(|r| r.at).max().unwrap_or(fill.started);
        let last_feed = last.to_zoned_datetime(zone.clone()).date();
        let rest = f64::from((today - last_feed).get_days().max(0));
        let mut noted = self.tests_of(&chamber, &fill, last, today)?;
        mark_counting(&mut noted);
        let evidence: Vec<Evidence> = noted
            .iter()
            .filter(|n| n.facts.counts)
            .filter_map(|n| {
                let test = n.test?;
                Some(Evidence {
                    kind: test.kind()?,
                    age: n.facts.days_ago as f64,
                    passes: test.passes(),
                })
            })
            .collect();
        let by_now = forecast.as_deref().map(|f| {
            let mut counts = [0; 5];
            for (count, rung) in counts.iter_mut().zip(&f.rungs) {
                *count = rung.in_twenty_by_now;
            }
            counts
        });
        let now = verdicts(by_now.unwrap_or_default(), &evidence, rest);
        let told = by_now.and_then(|_| next::next(&now, &evidence));
        let (ccqc, cured) = indices(&noted, forecast.as_deref(), rest);
        Ok(ReadyAnswer {
            chamber: name,
            id: chamber.id,
            state: if fill.closed.is_some() {
                "closed"
            } else {
                "filling"
            },
            today,
            last_feed,
            rungs: now
                .iter()
                .enumerate()
                .map(|(at, v)| rung(v, by_now.map(|b| b[at])))
                .collect(),
            tests: noted.into_iter().map(|n| n.facts).collect(),
            next: told.map(|n| NextFacts {
                test: n.kind.as_str(),
                rung: n.rung.as_str(),
                chances: n.chances,
                bits: n.bits,
            }),
            ccqc,
            cured,
        })
    }

    /// Writes down a test in plain words, as `seeds 17 of 20, control 19 of 20`. A repeat with the same key is one entry.
    ///
    /// # Errors
    /// Words that are not understood, numbers that cannot be, a control that failed: nothing is written then.
    pub fn record_test(
        &self,
        chamber: Option<&str>,
        text: &str,
        key: Option<&str>,
    ) -> Result<TestNoted, Error> {
        let values = words::read(text)?;
        let found = tests(&values).into_iter().collect::<Result<Vec<_>, _>>()?;
        if found.is_empty() {
            return Err(Error::BadSetting {
                field: "test".into(),
                reason: format!(
                    "that is half a test. Say what came of it, as `{}`",
                    words::EXAMPLES.join("`, `")
                ),
            });
        }
        let chamber = self.forecast_chamber(chamber)?;
        let name = chamber.name.clone().unwrap_or_else(|| chamber.id.clone());
        if self.store()?.contents(HOUSEHOLD, &chamber.id)?.is_none() {
            return Err(Error::BadSetting {
                field: name,
                reason: "it is empty, so there is nothing to test. Name the chamber it came from"
                    .into(),
            });
        }
        let body = Body::Reading(journal::Reading {
            chamber: Some(chamber.id.clone()),
            text: text.trim().to_owned(),
            values,
            ..journal::Reading::default()
        });
        let done = self.write(body, None, key)?;
        let today = self.clock.now(&self.zone()).date();
        let id = done.id.to_string();
        Ok(TestNoted {
            tests: found
                .into_iter()
                .map(|test| TestFacts {
                    id: id.clone(),
                    kind: test.name(),
                    date: today,
                    days_ago: 0,
                    text: text.trim().to_owned(),
                    result: test.result(),
                    counts: test.kind().is_some(),
                })
                .collect(),
            id,
            chamber: name,
            written: done.written,
        })
    }

    fn forecast_waited(
        &self,
        chamber: &str,
        members: Option<usize>,
    ) -> Result<Option<Arc<ForecastAnswer>>, Error> {
        if let Some(known) = self.forecast_if_known(chamber) {
            return Ok(Some(known));
        }
        let Some(members) = members else {
            return Ok(None);
        };
        let ask = ForecastAsk {
            chamber: Some(chamber.to_owned()),
            members,
            moves: false,
            ..ForecastAsk::default()
        };
        Ok(Some(Arc::new(self.forecast(&ask)?)))
    }

    /// Tests of a fill, latest first. One from before the last feed is told but does not count.
    fn tests_of(
        &self,
        chamber: &Chamber,
        fill: &Fill,
        last_feed: jiff::Timestamp,
        today: Date,
    ) -> Result<Vec<Noted>, Error> {
        let page = Page {
            kind: Some("reading".into()),
            from: Some(fill.started),
            reverse: true,
            ..Page::default()
        };
        let zone = self.zone();
        let mut all = Vec::new();
        for entry in self.store()?.history(HOUSEHOLD, &page)? {
            let Some(Body::Reading(reading)) = entry.body.known() else {
                continue;
            };
            if reading.chamber.as_deref() != Some(chamber.id.as_str()) {
                continue;
            }
            let date = entry.at.to_zoned_datetime(zone.clone()).date();
            for test in tests(&reading.values) {
                let (kind, result) = match &test {
                    Ok(test) => (test.name(), test.result()),
                    Err(Error::BadSetting { field, reason }) => {
                        ("void", TestResult::Void(format!("{field}: {reason}")))
                    }
                    Err(other) => ("void", TestResult::Void(other.to_string())),
                };
                let facts = TestFacts {
                    id: entry.id.to_string(),
                    kind,
                    date,
                    days_ago: i64::from((today - date).get_days()),
                    text: reading.text.clone(),
                    result,
                    counts: test.is_ok() && entry.at >= last_feed,
                };
                all.push(Noted {
                    facts,
                    test: test.ok(),
                });
            }
        }
        Ok(all)
    }
}

/// Only the latest of a kind counts; seeds with a control stand for those without.
fn mark_counting(noted: &mut [Noted]) {
    let mut seen: Vec<Kind> = Vec::new();
    for one in noted {
        let Some(kind) = one.test.and_then(Test::kind) else {
            one.facts.counts = false;
            continue;
        };
        if one.facts.counts {
            let same = |k: &Kind| {
                let seeds = |k: Kind| matches!(k, Kind::Seeds | Kind::SeedsAlone);
                *k == kind || (seeds(*k) && seeds(kind))
            };
            one.facts.counts = !seen.iter().any(same);
            seen.push(kind);
        }
    }
}

fn rung(v: &Verdict, forecast: Option<usize>) -> RungReady {
    RungReady {
        rung: v.rung.as_str(),
        forecast_in_twenty: forecast,
        chance: forecast.map(|_| v.chance),
        factors: v.factors.iter().map(|(k, f)| (k.as_str(), *f)).collect(),
        holds: v
            .holds
            .iter()
            .map(|h| match h {
                Hold::Rest { days, needed } => HoldFacts::Rest {
                    days: *days,
                    needed: *needed,
                },
                Hold::Failed(kind) => HoldFacts::Failed(kind.as_str()),
                Hold::NoStabilityTest => HoldFacts::NoStabilityTest,
                Hold::NoPlantTest => HoldFacts::NoPlantTest,
            })
            .collect(),
    }
}

/// Two published indices from the tests that count. C:N is the forecast's middle: nobody measured it.
fn indices(
    noted: &[Noted],
    forecast: Option<&ForecastAnswer>,
    rest: f64,
) -> (Option<&'static str>, Option<bool>) {
    let counting = || {
        noted
            .iter()
            .filter(|n| n.facts.counts)
            .filter_map(|n| n.test)
    };
    let rise = counting().find_map(|t| match t {
        // A rise that a small flask or a short watch may have missed grades nothing.
        Test::Flask(f) if !f.small() && !f.cut_short() => Some(f.rise_k),
        _ => None,
    });
    let breath = counting().find_map(|t| match t {
        Test::Jar(jar) => Some(jar.rates()[1]),
        _ => None,
    });
    let seedlings = counting().find_map(|t| match t {
        Test::Seeds(s) => s.result().ratio.map(|(ratio, _)| ratio),
        _ => None,
    });
    let a = rise
        .map(ccqc::by_rise)
        .into_iter()
        .chain(breath.map(ccqc::by_breath))
        .min();
    let b = seedlings.map(ccqc::by_seedlings);
    let index = forecast
        .filter(|_| a.is_some() && b.is_some())
        .and_then(|f| ccqc::index(f.inside.cn.mid, a, b));
    (
        index.map(ccqc::Grade::as_str),
        cured::cured(rest, rise, breath).filter(|_| rise.or(breath).is_some()),
    )
}

#[cfg(test)]
mod tests_of_faults {
    use super::test::reason;
    use engine::maturity::Fault;
    use engine::maturity::verdict;

    #[test]
    fn a_fault_names_the_value_and_the_way_out() {
        let (field, text) = reason(Fault::WeakControl { up: 3, sown: 20 });
        assert_eq!(field, "control");
        assert!(
            text.contains("3 of 20") && text.contains("at least 16") && text.contains("Sow again")
        );
        let (_, text) = reason(Fault::Outside {
            what: "rise",
            value: 90.0,
            least: 0.0,
            most: 75.0,
            unit: "K",
        });
        assert!(text.contains("90 K cannot be") && text.contains("between 0 and 75 K"));
        assert!((verdict::share(10) - 0.5).abs() < 1e-12);
    }
}
