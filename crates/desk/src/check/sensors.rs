//! Probes that send readings by themselves.
//!
//! A probe has a token, of which only the hash is kept. Points of the hour that runs are held in memory; ten minutes
//! after an hour ends its median is written, and points that come later for it are counted as known. So a point that is
//! sent twice is one, and ten thousand points a day are twenty-four numbers.

use std::collections::BTreeMap;

use engine::assimilate::probe::{Whereabouts, whereabouts};
use engine::assimilate::screen::{Point, sensor};
use jiff::{Timestamp, ToSpan};
use journal::{Body, Hour, Hours, Page, SensorSet};
use sha2::{Digest as _, Sha256};
use uuid::Uuid;

use super::sight;
use crate::{Desk, Error, HOUSEHOLD};

/// Most points of one batch; a day of ten-second points is below it (choice).
const MOST_POINTS: usize = 10_000;
/// An hour is closed so long after its end, s: a probe that sends every few minutes has sent (choice).
const GRACE_S: i64 = 600;
/// Points may be this far ahead, s: clocks differ.
const AHEAD_S: i64 = 120;
/// Days looked back to tell where a probe is (choice).
const LOOK_BACK_D: i64 = 10;

/// One point of a batch.
#[derive(Debug, Clone, PartialEq)]
pub struct SensorPoint {
    /// Name of the probe.
    pub sensor: String,
    /// When.
    pub at: Timestamp,
    /// °C.
    pub celsius: f64,
}

/// What became of a batch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Sent {
    /// Points taken in.
    pub taken: usize,
    /// Points that were known already.
    pub known: usize,
    /// Points that cannot be.
    pub set_aside: usize,
    /// Hours written.
    pub hours: usize,
}

/// Where a probe seems to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProbePlace {
    /// In the heap.
    Heap,
    /// In the air.
    Air,
    /// It cannot be told.
    CannotTell,
}

/// A probe as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct SensorFacts {
    /// Its name.
    pub name: String,
    /// Chamber, by name.
    pub chamber: Option<String>,
    /// Last hour that was written: when and °C.
    pub last: Option<(String, f64)>,
    /// Points set aside so far.
    pub set_aside: u32,
    /// Where it seems to be.
    pub place: ProbePlace,
}

/// A probe as the journal has it.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Known {
    chamber: Option<String>,
    token_sha256: Option<String>,
}

/// Points of hours that are not closed: probe, then moment.
pub(crate) type Open = BTreeMap<String, BTreeMap<Timestamp, f64>>;

fn hash(token: &str) -> String {
    let digest = Sha256::digest(token.as_bytes());
    digest.iter().map(|b| format!("{b:02x}")).collect()
}

fn hour_of(at: Timestamp) -> Timestamp {
    let second = at.as_second();
    Timestamp::from_second(second - second.rem_euclid(3600)).unwrap_or(at)
}

impl Desk {
    /// Probes that are not taken back, by name.
    pub(crate) fn known_sensors(&self) -> Result<BTreeMap<String, Known>, Error> {
        self.sensors_seen.at(self.mark()?, || {
            let page = Page {
                kind: Some("sensor_set".into()),
                ..Page::default()
            };
            let mut all: BTreeMap<String, Known> = BTreeMap::new();
            for entry in self.store()?.history(HOUSEHOLD, &page)? {
                if let Some(Body::SensorSet(it)) = entry.body.known() {
                    let one = all.entry(it.sensor.clone()).or_default();
                    if it.chamber.is_some() {
                        one.chamber.clone_from(&it.chamber);
                    }
                    if it.token_sha256.is_some() {
                        one.token_sha256.clone_from(&it.token_sha256);
                    }
                    if it.revoked {
                        one.token_sha256 = None;
                    }
                }
            }
            all.retain(|_, one| one.token_sha256.is_some());
            Ok(all)
        })
    }

    /// Makes a probe known and gives its token, which is shown this once. A known name gets a new token.
    ///
    /// # Errors
    /// No name; no such chamber.
    pub fn add_sensor(&self, name: &str, chamber: &str) -> Result<String, Error> {
        let name = name.trim();
        if name.is_empty() || name.len() > 60 || name.chars().any(char::is_control) {
            return Err(Error::BadSetting {
                field: "probe".into(),
                reason: "give it a name of up to 60 letters, as core-1".into(),
            });
        }
        let chamber = self.chamber_named(chamber)?;
        // Two random identifiers: 244 bits of the system's own chance.
        let token = format!("{}{}", Uuid::new_v4().simple(), Uuid::new_v4().simple());
        let body = Body::SensorSet(SensorSet {
            sensor: name.to_owned(),
            chamber: Some(chamber.id),
            token_sha256: Some(hash(&token)),
            revoked: false,
        });
        self.write(body, None, None)?;
        Ok(token)
    }

    /// Takes the token of a probe back.
    ///
    /// # Errors
    /// No probe of that name.
    pub fn revoke_sensor(&self, name: &str) -> Result<(), Error> {
        if !self.known_sensors()?.contains_key(name) {
            return Err(Error::NoSuchId(crate::read::shortened(name)));
        }
        let body = Body::SensorSet(SensorSet {
            sensor: name.to_owned(),
            revoked: true,
            ..SensorSet::default()
        });
        self.write(body, None, None)?;
        Ok(())
    }

    /// The probe of a token, if there is one.
    ///
    /// # Errors
    /// As the journal's.
    pub fn sensor_of(&self, token: &str) -> Result<Option<String>, Error> {
        let wanted = hash(token);
        Ok(self
            .known_sensors()?
            .into_iter()
            .find(|(_, known)| known.token_sha256.as_deref() == Some(wanted.as_str()))
            .map(|(name, _)| name))
    }

    /// Takes points of one probe in. All or none: a point of another probe, or too many, refuses the batch.
    ///
    /// # Errors
    /// [`Error::OtherSensor`], [`Error::BadSetting`] for too many points, or as the journal's.
    pub fn take_points(&self, sensor: &str, points: &[SensorPoint]) -> Result<Sent, Error> {
        if points.len() > MOST_POINTS {
            return Err(Error::BadSetting {
                field: "readings".into(),
                reason: format!(
                    "{} points in one batch; send {MOST_POINTS} at most",
                    points.len()
                ),
            });
        }
        if let Some(other) = points.iter().find(|p| p.sensor != sensor) {
            return Err(Error::OtherSensor {
                token_of: sensor.to_owned(),
                sensor: crate::read::shortened(&other.sensor),
            });
        }
        let now = self.clock.now(&self.zone()).timestamp();
        let latest = now.as_second() + AHEAD_S;
        if let Some(ahead) = points.iter().find(|p| p.at.as_second() > latest) {
            return Err(Error::BadSetting {
                field: "at".into(),
                reason: format!("{} lies ahead; set the clock of the probe", ahead.at),
            });
        }
        let earliest = points.iter().map(|p| hour_of(p.at)).min();
        let mut sent = Sent::default();
        {
            // Held while the journal is read: an hour that is closed meanwhile would be opened anew.
            let mut open = self.open_hours.lock().map_err(|_| Error::Busy)?;
            let written = match earliest {
                Some(from) => self.hours_written(sensor, from)?,
                None => BTreeMap::new(),
            };
            let mine = open.entry(sensor.to_owned()).or_default();
            for p in points {
                if written.contains_key(&hour_of(p.at)) || mine.contains_key(&p.at) {
                    sent.known += 1;
                } else {
                    mine.insert(p.at, p.celsius);
                    sent.taken += 1;
                }
            }
        }
        let (hours, set_aside) = self.close_hours(now)?;
        (sent.hours, sent.set_aside) = (hours, set_aside);
        Ok(sent)
    }

    /// Hours of a probe that are written, from a moment on.
    fn hours_written(
        &self,
        sensor: &str,
        from: Timestamp,
    ) -> Result<BTreeMap<Timestamp, Option<f64>>, Error> {
        let page = Page {
            kind: Some("hours".into()),
            // An event carries the moment of its last hour.
            from: Some(from),
            ..Page::default()
        };
        let mut all = BTreeMap::new();
        for entry in self.store()?.history(HOUSEHOLD, &page)? {
            if let Some(Body::Hours(it)) = entry.body.known()
                && it.sensor == sensor
            {
                all.extend(it.hours.iter().map(|h| (h.at, h.celsius)));
            }
        }
        Ok(all)
    }

    /// Writes the medians of every hour that has ended; gives how many hours, and points set aside.
    ///
    /// # Errors
    /// As the journal's; the points are kept for the next try then.
    pub(crate) fn close_hours(&self, now: Timestamp) -> Result<(usize, usize), Error> {
        let mut open = self.open_hours.lock().map_err(|_| Error::Busy)?;
        let ended = |at: Timestamp| hour_of(at).as_second() + 3600 + GRACE_S <= now.as_second();
        let known = self.known_sensors()?;
        let (mut hours, mut aside) = (0, 0);
        for (name, points) in open.iter_mut() {
            let done: BTreeMap<Timestamp, f64> = points
                .iter()
                .filter(|(at, _)| ended(**at))
                .map(|(at, c)| (*at, *c))
                .collect();
            let Some((first, last)) = done
                .first_key_value()
                .map(|(at, _)| hour_of(*at))
                .zip(done.last_key_value().map(|(at, _)| hour_of(*at)))
            else {
                continue;
            };
            // One event a batch of a thousand hours: a probe that was away for a season comes back in parts.
            let body = medians(
                name,
                known.get(name).and_then(|k| k.chamber.clone()),
                first,
                &done,
            );
            aside += body.aside.values().map(|n| *n as usize).sum::<usize>();
            hours += body.hours.len();
            // Points set aside are told once, with the first part.
            let mut told = body.aside;
            let mut parts = Vec::new();
            for part in body.hours.chunks(journal::ITEMS) {
                let part = Hours {
                    sensor: body.sensor.clone(),
                    chamber: body.chamber.clone(),
                    hours: part.to_vec(),
                    aside: std::mem::take(&mut told),
                };
                parts.push(self.new_event(Body::Hours(part), Some(last), None)?);
            }
            self.store()?.append(&parts)?;
            points.retain(|at, _| !ended(*at));
        }
        open.retain(|_, points| !points.is_empty());
        Ok((hours, aside))
    }

    /// Probes as they stand.
    ///
    /// # Errors
    /// As the journal's.
    pub fn sensors(&self) -> Result<Vec<SensorFacts>, Error> {
        let (zone, names) = (self.zone(), self.chamber_names()?);
        let now = self.clock.now(&zone).timestamp();
        let from = now
            .checked_sub((LOOK_BACK_D * 24).hours())
            .unwrap_or(Timestamp::UNIX_EPOCH);
        let mut all = Vec::new();
        for (name, known) in self.known_sensors()? {
            let page = Page {
                kind: Some("hours".into()),
                ..Page::default()
            };
            let (mut set_aside, mut hours) = (0, BTreeMap::new());
            for entry in self.store()?.history(HOUSEHOLD, &page)? {
                if let Some(Body::Hours(it)) = entry.body.known()
                    && it.sensor == name
                {
                    set_aside += it.aside.values().sum::<u32>();
                    hours.extend(it.hours.iter().filter_map(|h| Some((h.at, h.celsius?))));
                }
            }
            let last = hours
                .last_key_value()
                .map(|(at, c)| (crate::clock::moment(*at, &zone), *c));
            hours.retain(|at, _| *at >= from);
            all.push(SensorFacts {
                chamber: known.chamber.as_ref().map(|id| {
                    names
                        .iter()
                        .find(|(known, _)| known == id)
                        .map_or_else(|| id.clone(), |(_, name)| name.clone())
                }),
                place: self.place_of(&hours),
                name,
                last,
                set_aside,
            });
        }
        Ok(all)
    }

    /// Whether hours look like a heap's or the air's. The air of this place is the usual one for the day: its swing is
    /// what counts, and a probe in air shows it whatever the weather.
    fn place_of(&self, hours: &BTreeMap<Timestamp, f64>) -> ProbePlace {
        let told = || {
            let first = *hours.first_key_value()?.0;
            let last = *hours.last_key_value()?.0;
            let mut probe = Vec::new();
            let mut at = first;
            while at <= last {
                // A gap is bridged by the hour before it.
                probe.push(*hours.range(..=at).next_back()?.1);
                at = at.checked_add(1.hour()).ok()?;
            }
            let air = self.usual_air(first, probe.len())?;
            Some(whereabouts(&probe, &air))
        };
        match told() {
            Some(Whereabouts::Heap) => ProbePlace::Heap,
            Some(Whereabouts::Air) => ProbePlace::Air,
            _ => ProbePlace::CannotTell,
        }
    }
}

/// Medians of whole hours, by the engine's screen.
fn medians(
    name: &str,
    chamber: Option<String>,
    first: Timestamp,
    points: &BTreeMap<Timestamp, f64>,
) -> Hours {
    let day = |at: &Timestamp| (at.as_second() - first.as_second()) as f64 / 86_400.0;
    let all: Vec<Point> = points
        .iter()
        .map(|(at, celsius)| Point {
            day: day(at),
            celsius: *celsius,
        })
        .collect();
    let screened = sensor(&all, &[], 0.0, f64::INFINITY);
    let mut aside: BTreeMap<String, u32> = BTreeMap::new();
    for run in &screened.aside {
        *aside
            .entry(sight::reason(run.reason).to_owned())
            .or_default() += u32::try_from(run.count).unwrap_or(u32::MAX);
    }
    let mut hours: BTreeMap<Timestamp, Hour> = BTreeMap::new();
    for at in points.keys() {
        let at = hour_of(*at);
        let hour = hours.entry(at).or_insert(Hour {
            at,
            celsius: None,
            points: 0,
        });
        hour.points += 1;
    }
    for point in &screened.hours {
        let middle = first.as_second() + (point.day * 86_400.0).round() as i64;
        if let Ok(at) = Timestamp::from_second(middle).map(hour_of)
            && let Some(hour) = hours.get_mut(&at)
        {
            hour.celsius = Some((point.celsius * 100.0).round() / 100.0);
        }
    }
    Hours {
        sensor: name.to_owned(),
        chamber,
        hours: hours.into_values().collect(),
        aside,
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "tests")]
    use super::*;

    #[test]
    fn an_hour_is_its_median_without_what_cannot_be() {
        let start: Timestamp = "2026-09-18T10:00:00Z".parse().unwrap();
        let mut points = BTreeMap::new();
        for minute in 0..90 {
            let at = start.checked_add(i64::from(minute).minutes()).unwrap();
            let celsius = match minute {
                7 => 85.0,
                9 => -127.0,
                _ => 40.0 + f64::from(minute) / 100.0,
            };
            points.insert(at, celsius);
        }
        let it = medians("core-1", Some("far".into()), start, &points);
        assert_eq!(it.hours.len(), 2);
        assert_eq!((it.hours[0].points, it.hours[1].points), (60, 30));
        assert!((it.hours[0].celsius.unwrap() - 40.3).abs() < 0.05);
        assert_eq!(it.aside.get("powered_up"), Some(&1));
        assert_eq!(it.aside.get("disconnected"), Some(&1));
    }
}
