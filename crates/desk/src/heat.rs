//! What heat was logged in a batch, and how it compares with published criteria. Readings only, never the forecast.

use engine::heat_record::record::Hours;
use engine::heat_record::yardstick::Standing;
use engine::heat_record::{Met, Place, Reading, record};
use jiff::Timestamp;
use jiff::civil::Date;
use journal::{Body, Fill, Measured, Page};

use crate::clock::moment;
use crate::{Desk, Error, HOUSEHOLD};

/// What a probe can read, °C: sensors give −127 for a broken wire and 85.0 as they wake (makers' data sheets, recalled).
const PROBE_C: (f64, f64) = (-40.0, 90.0);
const WAKING_C: f64 = 85.0;
/// Kinds of feed told.
const KINDS: usize = 8;

/// Names of temperatures in a reading, and where the probe stood.
const NAMES: [(&str, Place, &str); 3] = [
    ("core_c", Place::Core, "core"),
    ("shell_c", Place::Shell, "shell"),
    ("temperature_c", Place::Unknown, "not said"),
];

/// Hours of one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatHours {
    /// At 55 °C or more.
    pub plain: f64,
    /// Weighted, at 55 °C.
    pub weighted: f64,
    /// Tenfold kills of the marker.
    pub log_reduction: f64,
    /// Hours that are known.
    pub known: f64,
    /// Warmest reading, °C.
    pub warmest_c: Option<f64>,
    /// Readings.
    pub readings: usize,
}

/// One logged temperature.
#[derive(Debug, Clone, PartialEq)]
pub struct HeatReading {
    /// Moment, as a page tells it.
    pub at: String,
    /// °C.
    pub celsius: f64,
    /// core, shell, not said.
    pub place: &'static str,
}

/// How a criterion stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MetFacts {
    /// At core and shell.
    Met,
    /// Not, even if every unread hour had been hot.
    NotMet,
    /// In the core; the shell was not read.
    CoreOnly,
    /// Too many hours were not read, or no turning was noted.
    Unread,
}

impl MetFacts {
    /// True, false, or not known.
    #[must_use]
    pub fn known(self) -> Option<bool> {
        match self {
            Self::Met => Some(true),
            Self::NotMet => Some(false),
            Self::CoreOnly | Self::Unread => None,
        }
    }

    /// As in JSON.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Met => "met",
            Self::NotMet => "not_met",
            Self::CoreOnly => "met_in_core_only",
            Self::Unread => "not_known",
        }
    }
}

impl From<Met> for MetFacts {
    fn from(met: Met) -> Self {
        match met {
            Met::Yes => Self::Met,
            Met::No => Self::NotMet,
            Met::CoreOnly => Self::CoreOnly,
            Met::Unread => Self::Unread,
        }
    }
}

/// One criterion.
#[derive(Debug, Clone, PartialEq)]
pub struct YardstickFacts {
    /// Id.
    pub id: &'static str,
    /// Name.
    pub name: &'static str,
    /// Law for those it binds; else a standard, guideline or opinion.
    pub law: bool,
    /// Whom it binds.
    pub reach: &'static str,
    /// Its condition.
    pub condition: &'static str,
    /// How it stands.
    pub met: MetFacts,
    /// What else it asks, not compared.
    pub also: &'static str,
    /// Whether its own words leave a household out.
    pub exempt: bool,
    /// Whether the figures were seen in a publication; else recalled, not checked.
    pub seen: bool,
    /// Source.
    pub source: &'static str,
}

/// `heat`.
#[derive(Debug, Clone, PartialEq)]
pub struct HeatAnswer {
    /// Name of the chamber.
    pub chamber: String,
    /// Its id.
    pub id: String,
    /// filling, closed or emptied.
    pub state: &'static str,
    /// Day the batch began.
    pub began: Date,
    /// Day up to which it is told: today, or the day it was emptied.
    pub until: Date,
    /// Wet mass that went in, kg.
    pub fed_kg: f64,
    /// Entries that went in.
    pub feeds: usize,
    /// What went in most, with kg.
    pub kinds: Vec<(String, f64)>,
    /// Temperatures, earliest first.
    pub readings: Vec<HeatReading>,
    /// Readings set aside, as no probe can read them.
    pub set_aside: usize,
    /// Days of turnings, earliest first.
    pub turned: Vec<Date>,
    /// Core, and readings whose place was not said.
    pub core: HeatHours,
    /// Shell, if it was read.
    pub shell: Option<HeatHours>,
    /// The worse of both hours at the colder place.
    pub graded_h: f64,
    /// Whether they reach 72 h.
    pub reaches: bool,
    /// Hours the batch lasts so far.
    pub span_h: f64,
    /// Turnings between hot spells.
    pub turns_between: usize,
    /// Share never in the heat, %: cool zone of 30, 40 and 50 %.
    pub never_heated_pct: Option<[f64; 3]>,
    /// Criteria.
    pub yardsticks: Vec<YardstickFacts>,
    /// Weeds: most annuals; docks and their like. Plant disease.
    pub bands: [(&'static str, MetFacts); 3],
}

impl HeatAnswer {
    /// Whether the shell was never read.
    #[must_use]
    pub fn core_only(&self) -> bool {
        self.shell.is_none()
    }
}

fn hours(h: Hours) -> HeatHours {
    HeatHours {
        plain: h.plain,
        weighted: h.weighted,
        log_reduction: h.log_reduction,
        known: h.known,
        warmest_c: h.warmest,
        readings: h.readings,
    }
}

/// What was logged of a fill.
#[derive(Default)]
struct Logged {
    readings: Vec<(Timestamp, f64, Place, &'static str)>,
    turns: Vec<Timestamp>,
    set_aside: usize,
}

impl Desk {
    /// The heat record of the batch in a chamber; of the last one, if it is empty now.
    /// Without a name, of the chamber closed longest, else of the one filling.
    ///
    /// # Errors
    /// No such chamber; one that never held anything.
    pub fn heat(&self, chamber: Option<&str>) -> Result<HeatAnswer, Error> {
        let chamber = self.forecast_chamber(chamber)?;
        let name = chamber.name.clone().unwrap_or_else(|| chamber.id.clone());
        let fill = self
            .store()?
            .fills(HOUSEHOLD)?
            .into_iter()
            .rfind(|f| f.chamber == chamber.id)
            .ok_or_else(|| Error::NothingToForecast {
                chamber: Some(name.clone()),
            })?;
        let zone = self.zone();
        let local = |at: Timestamp| at.to_zoned_datetime(zone.clone());
        let end = fill
            .emptied
            .unwrap_or_else(|| self.clock.now(&zone).timestamp());
        let logged = self.heat_logged(&fill, end)?;
        // A batch begun before its record has no reading from before it, only a longer span.
        let (began, zero) = match fill.since {
            Some(day) => {
                let midnight = day.to_zoned_datetime(zone.clone());
                (day, midnight.map_or(fill.started, |z| z.timestamp()))
            }
            None => (local(fill.started).date(), fill.started),
        };
        let hour = |at: Timestamp| (at.as_second() - zero.as_second()) as f64 / 3600.0;
        let readings: Vec<Reading> = logged
            .readings
            .iter()
            .map(|&(at, celsius, place, _)| Reading {
                hour: hour(at),
                celsius,
                place,
            })
            .collect();
        let turns: Vec<f64> = logged.turns.iter().map(|at| hour(*at)).collect();
        let r = record(&readings, &turns, hour(end).max(0.0));
        let (fed_kg, feeds, kinds) = self.fed(&fill)?;
        let mut turned: Vec<Date> = logged.turns.iter().map(|at| local(*at).date()).collect();
        turned.sort();
        turned.dedup();
        Ok(HeatAnswer {
            chamber: name,
            id: chamber.id,
            state: match (fill.closed, fill.emptied) {
                (_, Some(_)) => "emptied",
                (Some(_), None) => "closed",
                _ => "filling",
            },
            began,
            until: local(end).date(),
            fed_kg,
            feeds,
            kinds,
            readings: logged
                .readings
                .iter()
                .map(|&(at, celsius, _, place)| HeatReading {
                    at: moment(at, &zone),
                    celsius,
                    place,
                })
                .collect(),
            set_aside: logged.set_aside,
            turned,
            core: hours(r.core),
            shell: r.shell.map(hours),
            graded_h: r.graded(),
            reaches: r.reaches(),
            span_h: r.span,
            turns_between: r.turns_between,
            never_heated_pct: r.never_heated.map(|all| all.map(|f| f * 100.0)),
            yardsticks: r
                .yardsticks
                .iter()
                .map(|y| YardstickFacts {
                    id: y.rule.id,
                    name: y.rule.name,
                    law: y.rule.standing == Standing::Law,
                    reach: y.rule.reach,
                    condition: y.rule.condition,
                    met: y.met.into(),
                    also: y.rule.also,
                    exempt: y.rule.exempt,
                    seen: y.rule.seen,
                    source: y.rule.source,
                })
                .collect(),
            bands: [
                ("annual_weeds", r.bands.annuals.into()),
                ("docks", r.bands.docks.into()),
                ("plant_disease", r.bands.disease.into()),
            ],
        })
    }

    fn heat_logged(&self, fill: &Fill, end: Timestamp) -> Result<Logged, Error> {
        let of = |kind: &str| Page {
            kind: Some(kind.into()),
            from: Some(fill.started),
            ..Page::default()
        };
        let mut logged = Logged::default();
        for entry in self.store()?.history(HOUSEHOLD, &of("hours"))? {
            let Some(Body::Hours(probe)) = entry.body.known() else {
                continue;
            };
            if probe.chamber.as_deref() != Some(fill.chamber.as_str()) {
                continue;
            }
            logged.set_aside += probe.aside.values().map(|n| *n as usize).sum::<usize>();
            let within = |h: &&journal::Hour| h.at >= fill.started && h.at <= end;
            for hour in probe.hours.iter().filter(within) {
                if let Some(celsius) = hour.celsius {
                    logged
                        .readings
                        .push((hour.at, celsius, Place::Core, "core"));
                }
            }
        }
        for entry in self.store()?.history(HOUSEHOLD, &of("reading"))? {
            let Some(Body::Reading(reading)) = entry.body.known() else {
                continue;
            };
            if reading.chamber.as_deref() != Some(fill.chamber.as_str()) || entry.at > end {
                continue;
            }
            for (name, place, said) in NAMES {
                let Some(Measured::Number(celsius)) = reading.values.get(name) else {
                    continue;
                };
                let reads = (PROBE_C.0..=PROBE_C.1).contains(celsius)
                    && *celsius != WAKING_C
                    && !reading.aside.contains_key(name);
                if reads {
                    logged.readings.push((entry.at, *celsius, place, said));
                } else {
                    logged.set_aside += 1;
                }
            }
            if let Some(turns) = reading.values.get("turns")
                && *turns != Measured::Number(0.0)
            {
                logged.turns.push(entry.at);
            }
        }
        logged.readings.sort_by_key(|(at, ..)| *at);
        Ok(logged)
    }

    /// Mass, entries and main kinds of what went in.
    #[allow(clippy::type_complexity, reason = "three plain facts")]
    fn fed(&self, fill: &Fill) -> Result<(f64, usize, Vec<(String, f64)>), Error> {
        let catalogue = self.catalogue()?;
        let rows = self.store()?.portions(HOUSEHOLD, fill.id)?;
        let mut kinds: std::collections::BTreeMap<String, f64> = std::collections::BTreeMap::new();
        let mut events: Vec<String> = Vec::new();
        for row in &rows {
            let name = catalogue
                .get(&row.portion.material)
                .map_or(&row.portion.material, |m| &m.name);
            *kinds.entry(name.clone()).or_default() += row.portion.kg.mid;
            events.push(row.event.to_string());
        }
        events.sort();
        events.dedup();
        let all: f64 = kinds.values().sum();
        let mut kinds: Vec<(String, f64)> = kinds.into_iter().collect();
        kinds.sort_by(|a, b| b.1.total_cmp(&a.1));
        kinds.truncate(KINDS);
        Ok((all, events.len(), kinds))
    }
}
