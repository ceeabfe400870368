//! Three invented years, event by event.

use std::collections::BTreeMap;

use jiff::civil::{Date, date};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan};
use journal::{
    Body, ChamberSet, Closed, Emptied, EventId, HouseholdSet, Measured, NewEvent, PutIn, Reading,
    Shape, StockSet, Units,
};
use rand::{RngExt as _, SeedableRng};
use rand_chacha::ChaCha8Rng;

use crate::add::portion;
use crate::{Desk, Error, HOUSEHOLD};

/// What a caddy of this household holds, by season (invented).
const CADDIES: [&[&str]; 4] = [
    &[
        "full caddy of potato peel, carrot peel and leek tops",
        "full caddy of cabbage leaves, onion ends and tea leaves",
        "full caddy of squash peel, apple cores and coffee grounds",
        "three quarters of a caddy of orange peel and potato peel",
    ],
    &[
        "full caddy of lettuce, radish trimmings and tea leaves",
        "half a caddy of rhubarb leaves and potato peel",
        "full caddy of pea pods, lettuce and coffee grounds",
        "full caddy of carrot peel and asparagus ends",
    ],
    &[
        "full caddy of tomatoes, cucumber and lettuce",
        "full caddy of courgette, melon rind and coffee grounds",
        "full caddy of green bean ends, tomatoes and tea leaves",
        "half a caddy of berries and lettuce",
    ],
    &[
        "full caddy of leek tops, squash peel and tea leaves",
        "full caddy of apple cores, carrot peel and coffee grounds",
        "full caddy of beetroot peel, kale and potato peel",
        "three quarters of a caddy of pear cores and celery",
    ],
];

/// Chamber, begun, closed, emptied with the litres screened.
type Batch = (&'static str, Date, Option<Date>, Option<(Date, f64)>);

/// When each batch began, was closed and was emptied; the litres screened (invented).
const BATCHES: &[Batch] = &[
    (
        "near",
        date(2023, 9, 16),
        Some(date(2024, 1, 20)),
        Some((date(2024, 6, 2), 34.0)),
    ),
    (
        "far",
        date(2024, 1, 20),
        Some(date(2024, 6, 2)),
        Some((date(2024, 11, 17), 30.0)),
    ),
    (
        "near",
        date(2024, 6, 2),
        Some(date(2024, 11, 17)),
        Some((date(2025, 5, 25), 36.0)),
    ),
    (
        "far",
        date(2024, 11, 17),
        Some(date(2025, 5, 25)),
        Some((date(2025, 10, 19), 29.0)),
    ),
    (
        "near",
        date(2025, 5, 25),
        Some(date(2026, 3, 20)),
        Some((date(2026, 7, 12), 31.0)),
    ),
    ("far", date(2026, 3, 20), Some(date(2026, 7, 6)), None),
    ("near", date(2026, 7, 12), None, None),
];

/// Chamber, day, and the words of each seed test (invented); the last is that of the batch in Far.
const SEED_TESTS: &[(&str, Date, [u32; 4])] = &[
    ("far", date(2025, 10, 4), [13, 20, 18, 20]),
    ("near", date(2026, 6, 27), [19, 20, 19, 20]),
    ("far", date(2026, 9, 12), [17, 20, 19, 20]),
];

/// Air of the place by month, °C (normals of Brussels, rounded).
const MONTHS_C: [f64; 12] = [
    3.0, 4.0, 7.0, 10.0, 14.0, 17.0, 19.0, 18.0, 15.0, 11.0, 7.0, 4.0,
];

struct Writer<'a> {
    desk: &'a Desk,
    zone: TimeZone,
    rng: ChaCha8Rng,
    events: Vec<(Timestamp, Body)>,
    /// Entries as read, by their words: the demo says the same things often.
    read: BTreeMap<String, (Vec<journal::Portion>, Vec<String>)>,
}

impl Desk {
    pub(crate) fn write_demo(&self) -> Result<(), Error> {
        self.write_household()?;
        let mut writer = Writer {
            desk: self,
            zone: TimeZone::get("Europe/Brussels").unwrap_or(TimeZone::UTC),
            rng: ChaCha8Rng::seed_from_u64(20_260_918),
            events: Vec::new(),
            read: BTreeMap::new(),
        };
        for &(chamber, began, closed, emptied) in BATCHES {
            writer.batch(chamber, began, closed.unwrap_or(date(2026, 9, 16)))?;
            writer.readings(
                chamber,
                began,
                closed,
                emptied.map_or(date(2026, 9, 14), |(day, _)| day),
            );
            if let Some(day) = closed {
                writer.push(
                    day,
                    11,
                    Body::Closed(Closed {
                        chamber: chamber.into(),
                    }),
                );
            }
            if let Some((day, litres)) = emptied {
                let body = Body::Emptied(Emptied {
                    chamber: chamber.into(),
                    litres: Some(litres),
                    fit_for: Some("planted_bed".into()),
                });
                writer.push(day, 10, body);
            }
        }
        for &(chamber, day, counts) in SEED_TESTS {
            writer.seed_test(chamber, day, counts);
        }
        for (at, foretold) in super::foretold::all() {
            writer.events.push((at, Body::Foretold(foretold)));
        }
        let mut events = std::mem::take(&mut writer.events);
        let now = self.clock.now(&writer.zone).timestamp();
        events.retain(|(at, _)| *at <= now);
        events.sort_by_key(|(at, _)| *at);
        let events: Vec<NewEvent> = events
            .into_iter()
            .enumerate()
            .map(|(n, (at, body))| {
                Ok(NewEvent {
                    id: id(at, n as u64 + 100)?,
                    household: HOUSEHOLD.into(),
                    at,
                    recorded: at,
                    key: None,
                    body,
                })
            })
            .collect::<Result<_, Error>>()?;
        self.store()?.append(&events)?;
        Ok(())
    }

    fn write_household(&self) -> Result<(), Error> {
        let at = date(2023, 9, 15)
            .at(18, 0, 0, 0)
            .to_zoned_datetime(TimeZone::get("Europe/Brussels").unwrap_or(TimeZone::UTC))
            .map_or(Timestamp::UNIX_EPOCH, |z| z.timestamp());
        let mut bodies = vec![Body::HouseholdSet(HouseholdSet {
            name: Some("Ines and Joris (invented)".into()),
            place: Some("A paved courtyard, Brussels climate (invented)".into()),
            latitude: Some(50.85),
            zone: Some("Europe/Brussels".into()),
            units: Some(Units::Metric),
            caddy_l: Some(6.0),
            // What a full caddy holds: one kitchen-scale weighing of 3.4 kg, less the 0.7 kg pail.
            caddy_full_kg: Some(2.7),
            handful_l: Some(0.35),
            ..HouseholdSet::default()
        })];
        for (id, name) in [("near", "Near"), ("far", "Far")] {
            bodies.push(Body::ChamberSet(ChamberSet {
                chamber: id.into(),
                name: Some(name.into()),
                litres: Some(130.0),
                shape: Some(Shape::Drum),
                length_cm: Some(36.0),
                width_cm: Some(68.0),
                height_cm: None,
            }));
        }
        for (material, litres) in [("egg-carton", 20.0), ("cardboard-corrugated", 40.0)] {
            bodies.push(Body::StockSet(StockSet {
                material: material.into(),
                litres: Some(litres),
                kg: None,
            }));
        }
        let events = bodies
            .into_iter()
            .enumerate()
            .map(|(n, body)| {
                Ok(NewEvent {
                    id: id(at, n as u64)?,
                    household: HOUSEHOLD.into(),
                    at,
                    recorded: at,
                    key: None,
                    body,
                })
            })
            .collect::<Result<Vec<_>, Error>>()?;
        self.store()?.append(&events)?;
        Ok(())
    }
}

/// An id that is the same at every start: time and number.
fn id(at: Timestamp, n: u64) -> Result<EventId, Error> {
    let ms = u64::try_from(at.as_millisecond()).unwrap_or_default();
    let mut bytes = [0u8; 10];
    bytes[2..].copy_from_slice(&n.to_be_bytes());
    Ok(EventId::new(
        uuid::Builder::from_unix_timestamp_millis(ms, &bytes).into_uuid(),
    )?)
}

impl Writer<'_> {
    fn push(&mut self, day: Date, hour: i8, body: Body) {
        let minute = self.rng.random_range(0..55);
        if let Ok(at) = day
            .at(hour, minute, 0, 0)
            .to_zoned_datetime(self.zone.clone())
        {
            self.events.push((at.timestamp(), body));
        }
    }

    fn put(&mut self, chamber: &str, day: Date, hour: i8, text: &str) -> Result<(), Error> {
        let (portions, unknown) = match self.read.get(text) {
            Some(known) => known.clone(),
            None => {
                let read = self.desk.read(text)?.reading;
                let portions = read
                    .items
                    .iter()
                    .map(portion)
                    .collect::<Result<Vec<_>, _>>()?;
                let unknown: Vec<String> = read.unknown.iter().map(|u| u.text.clone()).collect();
                self.read
                    .insert(text.to_owned(), (portions.clone(), unknown.clone()));
                (portions, unknown)
            }
        };
        let body = Body::PutIn(PutIn {
            chamber: chamber.into(),
            text: text.into(),
            portions,
            unknown,
        });
        self.push(day, hour, body);
        Ok(())
    }

    /// Two caddies a week with card or leaves, Maud's coffee on Saturdays, clear-outs in late October.
    fn batch(&mut self, chamber: &str, began: Date, closed: Date) -> Result<(), Error> {
        let mut day = began;
        while day <= closed {
            let away = day.month() == 8 && (5..15).contains(&day.day());
            if !away {
                let season = usize::from(matches!(day.month(), 3..=5))
                    + 2 * usize::from(matches!(day.month(), 6..=8))
                    + 3 * usize::from(matches!(day.month(), 9..=11));
                let weekday = day.weekday().to_monday_one_offset();
                if matches!(weekday, 2 | 5) {
                    let caddies = CADDIES[season];
                    let caddy = caddies[self.rng.random_range(0..caddies.len())];
                    // Three people make 4 to 5 kg a week: half a pail by Tuesday, a full one by Friday.
                    let half = weekday == 2;
                    let caddy = if half {
                        caddy.replace("full caddy", "half a caddy")
                    } else {
                        caddy.to_owned()
                    };
                    self.put(chamber, day, 19, &caddy)?;
                    let wet = day.month() == 1;
                    let brown = match (wet, matches!(day.month(), 10..=12 | 2), half) {
                        (true, _, true) => "a bucket of dry leaves",
                        (true, _, false) => "2 buckets of dry leaves",
                        (_, true, true) => "half a bucket of dry leaves and a handful of torn card",
                        (_, true, false) => "a bucket of dry leaves and half a caddy of torn card",
                        (_, _, true) => "a caddy of torn card",
                        _ => "2 caddies of torn card and a handful of egg boxes",
                    };
                    self.put(chamber, day, 19, brown)?;
                }
                if weekday == 6 && self.rng.random_bool(0.6) {
                    self.put(chamber, day, 10, "1 kg coffee grounds")?;
                }
                if matches!(weekday, 1 | 4) {
                    self.put(chamber, day, 20, "3 eggshells and one brew of coffee")?;
                }
                if day.month() == 10 && day.day() == 27 {
                    self.put(
                        chamber,
                        day,
                        15,
                        "a bucket of dry bean plants and 2 kg chard stalks",
                    )?;
                }
            }
            day = day.tomorrow().unwrap_or(closed);
            if day == began {
                break;
            }
        }
        Ok(())
    }

    /// Cress in compost against cress in plain mix.
    fn seed_test(&mut self, chamber: &str, day: Date, [up, sown, control_up, control]: [u32; 4]) {
        let counted = [
            ("seeds_up", up),
            ("seeds_sown", sown),
            ("control_up", control_up),
            ("control_sown", control),
        ];
        let values = counted
            .map(|(name, n)| (name.to_owned(), Measured::Number(f64::from(n))))
            .into();
        let body = Body::Reading(Reading {
            chamber: Some(chamber.into()),
            text: format!("seeds {up} of {sown}, control {control_up} of {control}"),
            values,
            ..Reading::default()
        });
        self.push(day, 10, body);
    }

    /// A squeeze and a level every week or two, card, warmth and smells now and then, turnings twice a week. Invented
    /// after the course of such a drum: it rises while it is filled, sinks and drains afterwards.
    fn readings(&mut self, chamber: &str, began: Date, closed: Option<Date>, until: Date) {
        let days = |from: Date, to: Date| to.since(from).map_or(0.0, |s| f64::from(s.get_days()));
        let mut day = began.saturating_add(7.days());
        let mut looks = 0;
        while day < until {
            let filled = closed.filter(|c| *c < day);
            let full = 80.0 * (1.0 - (-days(began, filled.unwrap_or(day)) / 60.0).exp());
            let rest = filled.map_or(0.0, |c| days(c, day));
            let level = full * (0.55 + 0.45 * (-rest / 70.0).exp());
            let level: f64 = level + self.rng.random_range(-3.0..3.0);
            let wet = matches!(day.month(), 12 | 1 | 2);
            let squeeze = match self.rng.random_range(0..10) {
                0 if wet => "runs",
                8..10 if !wet => "holds, no drip",
                _ => "one to three drops",
            };
            let mut values = BTreeMap::from([
                ("squeeze".to_owned(), Measured::Text(squeeze.into())),
                ("level_pct".to_owned(), Measured::Number(level.round())),
            ]);
            let mut text = format!("squeeze {squeeze}, level {level:.0} %");
            looks += 1;
            if looks % 3 == 0 {
                let card = match (filled.is_some(), rest) {
                    (false, _) if days(began, day) < 60.0 => "most",
                    (false, _) => "some",
                    (true, r) if r < 50.0 => "some",
                    (true, _) => "few",
                };
                values.insert("card".into(), Measured::Text(card.into()));
                text.push_str(&format!(", card {card}"));
            }
            if self.rng.random_bool(0.25) {
                let warmer = if filled.is_some() {
                    0.0..5.0
                } else {
                    3.0..11.0
                };
                let air = MONTHS_C[usize::from(day.month().unsigned_abs()) - 1];
                let celsius: f64 = (air + self.rng.random_range(warmer)).round();
                values.insert("core_c".into(), Measured::Number(celsius));
                text.push_str(&format!(", {celsius:.0} C"));
            }
            if looks % 9 == 5 {
                let smell = if day.month() == 1 { "sour" } else { "earthy" };
                values.insert("smell".into(), Measured::Text(smell.into()));
                text.push_str(&format!(", smells {smell}"));
            }
            let body = Body::Reading(Reading {
                chamber: Some(chamber.into()),
                text,
                values,
                ..Reading::default()
            });
            self.push(day, 12, body);
            for turn in [2, 5] {
                let body = Body::Reading(Reading {
                    chamber: Some(chamber.into()),
                    text: "turned, five times round".into(),
                    values: BTreeMap::from([("turns".to_owned(), Measured::Number(5.0))]),
                    ..Reading::default()
                });
                self.push(day.saturating_add(i64::from(turn).days()), 19, body);
            }
            day = day.saturating_add(i64::from(self.rng.random_range(7..14)).days());
        }
    }
}
