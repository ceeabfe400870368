//! What follows from the events: pure, and the same whether done at once or one by one.
//!
//! A [`Ledger`] holds only what the next event may depend on; portions, once written, are not
//! needed again. [`Ledger::apply`] never fails: an order of events that makes no sense (emptying
//! an empty chamber, say) changes nothing, and the event still stands in the history.

use std::collections::BTreeMap;

use jiff::Timestamp;
use jiff::civil::Date;

use crate::body::{
    Body, ChamberSet, English, Figure, HouseholdSet, Moved, OwnFigures, Portion, Shape, StockMoved,
    StockSet, Units, WeatherDay,
};
use crate::event::Entry;
use crate::id::EventId;

/// Settings of the household as they stand. What was never set is absent.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Settings {
    /// What the household calls itself.
    pub name: Option<String>,
    /// Where it is, in words.
    pub place: Option<String>,
    /// Degrees north; south is negative.
    pub latitude: Option<f64>,
    /// Time zone, by its IANA name.
    pub zone: Option<String>,
    /// Measures to show.
    pub units: Option<Units>,
    /// Words to show.
    pub english: Option<English>,
    /// Size of the caddy, L.
    pub caddy_l: Option<f64>,
    /// Weight of what a full caddy holds, kg.
    pub caddy_full_kg: Option<f64>,
    /// Volume of a handful of browns, L.
    pub handful_l: Option<f64>,
    /// Whether cooked food may go in under the household's local rules.
    pub food_allowed: Option<bool>,
    /// How far the bin must stand from a neighbour or a window under those rules, m.
    pub apart_m: Option<f64>,
    /// How large a chamber may be under those rules, L.
    pub largest_l: Option<f64>,
}

/// A chamber as it stands.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Chamber {
    /// Its id.
    pub id: String,
    /// What the household calls it.
    pub name: Option<String>,
    /// Volume, L.
    pub litres: Option<f64>,
    /// Shape.
    pub shape: Option<Shape>,
    /// Length, cm.
    pub length_cm: Option<f64>,
    /// Width, or the width across a drum, cm.
    pub width_cm: Option<f64>,
    /// Height, cm.
    pub height_cm: Option<f64>,
}

/// One run of a chamber, from its first portion until it is emptied.
#[derive(Debug, Clone, PartialEq)]
pub struct Fill {
    /// Id of the event that started it.
    pub id: EventId,
    /// Id of the chamber.
    pub chamber: String,
    /// When its record began.
    pub started: Timestamp,
    /// The day filling began, where it began before its record.
    pub since: Option<Date>,
    /// Share of the chamber that was full when its record began, 0 to 1.
    pub level: Option<f64>,
    /// When it was closed.
    pub closed: Option<Timestamp>,
    /// When it was emptied.
    pub emptied: Option<Timestamp>,
    /// Volume that came out, L.
    pub litres_out: Option<f64>,
    /// When something was last moved into it from another chamber, or out of it into one: its level and weight from
    /// before say nothing of now.
    pub moved: Option<Timestamp>,
}

/// A portion in a fill, with the event that brought it.
#[derive(Debug, Clone, PartialEq)]
pub struct PortionRow {
    /// The fill it went into.
    pub fill: EventId,
    /// When it went in.
    pub at: Timestamp,
    /// When that was first written down.
    pub recorded: Timestamp,
    /// The event that brought it.
    pub event: EventId,
    /// Its place in the event, from 0.
    pub row: usize,
    /// What it is and how much.
    pub portion: Portion,
}

/// A word in a fill that was not understood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownWord {
    /// The fill.
    pub fill: EventId,
    /// When it went in.
    pub at: Timestamp,
    /// When that was first written down.
    pub recorded: Timestamp,
    /// The event that brought it.
    pub event: EventId,
    /// Its place in the event, from 0.
    pub row: usize,
    /// The word.
    pub text: String,
}

/// What there is of one material. May fall below zero if more was taken than was counted.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Stock {
    /// Id of the material.
    pub material: String,
    /// Volume as it lies, L.
    pub litres: Option<f64>,
    /// Weight, kg.
    pub kg: Option<f64>,
    /// When it was last counted. If never, the amounts are changes only.
    pub counted: Option<Timestamp>,
}

/// A material with figures of the household's own.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct OwnMaterial {
    /// Id of the material.
    pub id: String,
    /// What the household calls it.
    pub name: Option<String>,
    /// Property to figure.
    pub figures: BTreeMap<String, Figure>,
}

/// One row to write, over any earlier row of the same key.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Change {
    Settings(Settings),
    Chamber(Chamber),
    Fill(Fill),
    Portion(PortionRow),
    /// This share of each portion of a fill goes into another fill, and keeps its days.
    Moved {
        from: EventId,
        to: EventId,
        share: f64,
    },
    Unknown(UnknownWord),
    Stock(Stock),
    OwnMaterial {
        id: String,
        name: Option<String>,
    },
    OwnFigure {
        material: String,
        property: String,
        figure: Figure,
    },
    Weather(WeatherDay),
}

/// What the next event may depend on.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Ledger {
    pub(crate) settings: Settings,
    pub(crate) chambers: BTreeMap<String, Chamber>,
    /// The fill in each chamber that is not empty.
    pub(crate) now: BTreeMap<String, Fill>,
    pub(crate) stock: BTreeMap<String, Stock>,
    /// Own materials and their names; figures are written over without a look.
    pub(crate) own: BTreeMap<String, Option<String>>,
}

/// Whether a body of this kind changes any row besides its own entry.
pub(crate) fn moves(body: &Body) -> bool {
    !matches!(
        body,
        Body::Reading(_)
            | Body::Note(_)
            | Body::Undone(_)
            | Body::Corrected(_)
            | Body::Foretold(_)
            | Body::SensorSet(_)
            | Body::Hours(_)
    )
}

impl Ledger {
    /// Applies an entry that counts, the next in order of time, and names the rows to write.
    pub(crate) fn apply(&mut self, entry: &Entry) -> Vec<Change> {
        let Some(body) = entry.body.known() else {
            return Vec::new();
        };
        match body {
            Body::HouseholdSet(it) => self.household_set(it),
            Body::ChamberSet(it) => self.chamber_set(it),
            Body::Opened(it) => {
                let fill = self.fill(&it.chamber, entry);
                fill.closed = None;
                set(&mut fill.level, &it.level);
                set(&mut fill.since, &it.since);
                let id = fill.id;
                let mut changes = vec![Change::Fill(fill.clone())];
                portions(&mut changes, id, entry, &it.portions);
                changes
            }
            Body::PutIn(it) => {
                let started = !self.now.contains_key(&it.chamber);
                let fill = self.fill(&it.chamber, entry);
                let id = fill.id;
                let mut changes = Vec::new();
                if started {
                    changes.push(Change::Fill(fill.clone()));
                }
                portions(&mut changes, id, entry, &it.portions);
                words(&mut changes, id, entry, &it.unknown);
                changes
            }
            Body::Closed(it) => match self.now.get_mut(&it.chamber) {
                Some(fill) if fill.closed.is_none() => {
                    fill.closed = Some(entry.at);
                    vec![Change::Fill(fill.clone())]
                }
                _ => Vec::new(),
            },
            Body::Emptied(it) => match self.now.remove(&it.chamber) {
                Some(fill) => vec![Change::Fill(Fill {
                    emptied: Some(entry.at),
                    litres_out: it.litres,
                    ..fill
                })],
                None => Vec::new(),
            },
            Body::Moved(it) => self.moved(it, entry),
            Body::StockSet(it) => self.stock_set(it, entry.at),
            Body::StockMoved(it) => self.stock_moved(it),
            Body::OwnFigures(it) => self.own_figures(it),
            // A day is written over without a look.
            Body::WeatherSet(it) => it.days.iter().copied().map(Change::Weather).collect(),
            Body::Reading(_)
            | Body::Note(_)
            | Body::Undone(_)
            | Body::Corrected(_)
            | Body::Foretold(_)
            | Body::SensorSet(_)
            | Body::Hours(_) => Vec::new(),
        }
    }

    fn household_set(&mut self, it: &HouseholdSet) -> Vec<Change> {
        let s = &mut self.settings;
        set(&mut s.name, &it.name);
        set(&mut s.place, &it.place);
        set(&mut s.latitude, &it.latitude);
        set(&mut s.zone, &it.zone);
        set(&mut s.units, &it.units);
        set(&mut s.english, &it.english);
        set(&mut s.caddy_l, &it.caddy_l);
        set(&mut s.caddy_full_kg, &it.caddy_full_kg);
        set(&mut s.handful_l, &it.handful_l);
        set(&mut s.food_allowed, &it.food_allowed);
        set(&mut s.apart_m, &it.apart_m);
        set(&mut s.largest_l, &it.largest_l);
        vec![Change::Settings(s.clone())]
    }

    fn chamber_set(&mut self, it: &ChamberSet) -> Vec<Change> {
        let c = self.chambers.entry(it.chamber.clone()).or_default();
        c.id.clone_from(&it.chamber);
        set(&mut c.name, &it.name);
        set(&mut c.litres, &it.litres);
        set(&mut c.shape, &it.shape);
        set(&mut c.length_cm, &it.length_cm);
        set(&mut c.width_cm, &it.width_cm);
        set(&mut c.height_cm, &it.height_cm);
        vec![Change::Chamber(c.clone())]
    }

    /// The fill in the chamber; a new one if the chamber is empty.
    fn fill(&mut self, chamber: &str, entry: &Entry) -> &mut Fill {
        self.now.entry(chamber.to_owned()).or_insert_with(|| Fill {
            id: entry.id,
            chamber: chamber.to_owned(),
            started: entry.at,
            since: None,
            level: None,
            closed: None,
            emptied: None,
            litres_out: None,
            moved: None,
        })
    }

    /// Nothing moves out of an empty chamber or into itself.
    fn moved(&mut self, it: &Moved, entry: &Entry) -> Vec<Change> {
        let at = Some(entry.at);
        let Some(mut left) = self.now.get(&it.chamber).cloned() else {
            return Vec::new();
        };
        if it.to == it.chamber {
            return Vec::new();
        }
        let opened = !self.now.contains_key(&it.to);
        let into = self.fill(&it.to, entry);
        into.moved = at;
        // A batch that finishes goes on finishing in an empty chamber.
        if opened {
            into.closed = left.closed;
        }
        let into = into.clone();
        left.moved = at;
        if it.share >= 1.0 {
            left.emptied = at;
            self.now.remove(&it.chamber);
        } else {
            self.now.insert(it.chamber.clone(), left.clone());
        }
        vec![
            Change::Fill(into.clone()),
            Change::Moved {
                from: left.id,
                to: into.id,
                share: it.share.min(1.0),
            },
            Change::Fill(left),
        ]
    }

    fn stock_set(&mut self, it: &StockSet, at: Timestamp) -> Vec<Change> {
        let stock = Stock {
            material: it.material.clone(),
            litres: it.litres,
            kg: it.kg,
            counted: Some(at),
        };
        self.stock.insert(it.material.clone(), stock.clone());
        vec![Change::Stock(stock)]
    }

    fn stock_moved(&mut self, it: &StockMoved) -> Vec<Change> {
        let stock = self.stock.entry(it.material.clone()).or_default();
        stock.material.clone_from(&it.material);
        stock.litres = sum(stock.litres, it.litres);
        stock.kg = sum(stock.kg, it.kg);
        vec![Change::Stock(stock.clone())]
    }

    fn own_figures(&mut self, it: &OwnFigures) -> Vec<Change> {
        let name = self.own.entry(it.material.clone()).or_default();
        set(name, &it.name);
        let mut changes = vec![Change::OwnMaterial {
            id: it.material.clone(),
            name: name.clone(),
        }];
        changes.extend(
            it.figures
                .iter()
                .map(|(property, figure)| Change::OwnFigure {
                    material: it.material.clone(),
                    property: property.clone(),
                    figure: *figure,
                }),
        );
        changes
    }
}

fn set<T: Clone>(to: &mut Option<T>, from: &Option<T>) {
    if from.is_some() {
        to.clone_from(from);
    }
}

fn sum(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a + b),
        (a, b) => a.or(b),
    }
}

fn portions(changes: &mut Vec<Change>, fill: EventId, entry: &Entry, portions: &[Portion]) {
    changes.extend(portions.iter().enumerate().map(|(row, portion)| {
        Change::Portion(PortionRow {
            fill,
            at: entry.at,
            recorded: entry.recorded,
            event: entry.id,
            row,
            portion: portion.clone(),
        })
    }));
}

fn words(changes: &mut Vec<Change>, fill: EventId, entry: &Entry, words: &[String]) {
    changes.extend(words.iter().enumerate().map(|(row, text)| {
        Change::Unknown(UnknownWord {
            fill,
            at: entry.at,
            recorded: entry.recorded,
            event: entry.id,
            row,
            text: text.clone(),
        })
    }));
}
