//! What do you know about us?

use catalogue::{OwnRow, Property};
use jiff::tz::TimeZone;
use journal::{Body, ChamberSet, English, HouseholdSet, OwnFigures, Shape, Units};
use units::ranges;

use crate::{Desk, Error, HOUSEHOLD};

/// Settings as a surface shows them.
#[derive(Debug, Clone, PartialEq)]
pub struct Household {
    /// Name.
    pub name: String,
    /// Place in words.
    pub place: Option<String>,
    /// Latitude, ° north.
    pub latitude: Option<f64>,
    /// IANA time zone as given; empty while none was, see [`Household::zone_given`].
    pub zone: String,
    /// The time zone days are counted in: the one given, else the machine's, by name if it has one.
    pub zone_used: String,
    /// US measures rather than metric.
    pub us: bool,
    /// American words rather than British.
    pub american: bool,
    /// Caddy, L.
    pub caddy_l: f64,
    /// Full caddy, kg, if it was weighed.
    pub caddy_kg: Option<f64>,
    /// Handful of torn card, L.
    pub handful_l: f64,
    /// Own figures: name and what is known.
    pub own: Vec<(String, Vec<(String, f64)>)>,
    /// Whether the journal holds anything yet.
    pub begun: bool,
}

impl Household {
    /// The time zone, if one was given.
    #[must_use]
    pub fn zone_given(&self) -> Option<&str> {
        Some(self.zone.as_str()).filter(|zone| !zone.is_empty())
    }
}

/// A change; `None` leaves a setting as it was.
#[derive(Debug, Clone, PartialEq)]
pub enum HouseholdChange {
    /// Settings of the household.
    Settings {
        /// Name.
        name: Option<String>,
        /// Place.
        place: Option<String>,
        /// Latitude.
        latitude: Option<f64>,
        /// IANA zone.
        zone: Option<String>,
        /// US measures.
        us: Option<bool>,
        /// American words.
        american: Option<bool>,
        /// Caddy, L.
        caddy_l: Option<f64>,
        /// Full caddy, kg.
        caddy_kg: Option<f64>,
        /// Handful of torn card, L.
        handful_l: Option<f64>,
    },
    /// Name, size and shape of a chamber; an unknown name makes a new one.
    Chamber {
        /// Name now, or new.
        name: String,
        /// Litres.
        litres: Option<f64>,
        /// Length, cm, of a round drum.
        length_cm: Option<f64>,
        /// Across, cm, of a round drum.
        across_cm: Option<f64>,
        /// Whether it stands on the ground, as a bin, box or heap does; if not said, as it was.
        upright: Option<bool>,
    },
    /// What the household may do where it lives, by its own answer.
    Rules {
        /// Whether cooked food and meat may go in.
        food_allowed: Option<bool>,
        /// How far the bin must stand from a neighbour or a window, m.
        apart_m: Option<f64>,
        /// How large a chamber may be, L.
        largest_l: Option<f64>,
    },
    /// Own figures for a material, in the columns of the CSV.
    Own(OwnRow),
}

impl HouseholdChange {
    /// Own figures for one material from named columns, as in the CSV; blank values are left out.
    ///
    /// # Errors
    /// [`Error::Own`] with the column, the value and the range.
    pub fn own(name: &str, columns: &[(&str, &str)]) -> Result<Self, Error> {
        let quoted = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
        let heads: Vec<&str> = columns.iter().map(|(column, _)| *column).collect();
        let cells: Vec<String> = columns.iter().map(|(_, value)| quoted(value)).collect();
        let csv = format!(
            "name,{}\n{},{}\n",
            heads.join(","),
            quoted(name),
            cells.join(",")
        );
        let row = catalogue::read_own(&csv)?.into_iter().next();
        row.map(Self::Own).ok_or_else(|| Error::BadSetting {
            field: "own figures".into(),
            reason: "give a name and at least one figure".into(),
        })
    }
}

impl Desk {
    /// Settings as they stand, with the usual ones where none were given.
    ///
    /// # Errors
    /// As the journal's.
    pub fn household(&self) -> Result<Household, Error> {
        let hands = self.hands()?;
        let store = self.store()?;
        let s = self.settings()?;
        Ok(Household {
            name: s.name.unwrap_or_else(|| "Our household".into()),
            place: s.place,
            latitude: s.latitude,
            zone: s.zone.unwrap_or_default(),
            zone_used: self.zone_used(),
            us: s.units == Some(Units::Us),
            american: s.english == Some(English::American),
            caddy_l: hands.caddy_l,
            caddy_kg: hands.caddy_kg,
            handful_l: hands.handful_l,
            own: store
                .own_figures(HOUSEHOLD)?
                .into_iter()
                .map(|m| {
                    let figures = m
                        .figures
                        .iter()
                        .map(|(k, f)| (k.clone(), f.value))
                        .collect();
                    (m.name.unwrap_or(m.id), figures)
                })
                .collect(),
            begun: store.count(HOUSEHOLD)? > 0,
        })
    }

    /// Writes a change of settings; gives the entry's id.
    ///
    /// # Errors
    /// A value out of its range or an unknown time zone; nothing is written then.
    pub fn change_household(
        &self,
        change: HouseholdChange,
        key: Option<&str>,
    ) -> Result<String, Error> {
        let body = match change {
            HouseholdChange::Settings {
                name,
                place,
                latitude,
                zone,
                us,
                american,
                caddy_l,
                caddy_kg,
                handful_l,
            } => {
                if let Some(zone) = &zone {
                    TimeZone::get(zone).map_err(|_| Error::BadSetting {
                        field: "time zone".into(),
                        reason: format!("`{zone}` is none; write it as Europe/Brussels"),
                    })?;
                }
                for (value, range) in [
                    (latitude, ranges::LATITUDE),
                    (caddy_l, ranges::CADDY_L),
                    (caddy_kg, ranges::CADDY_KG),
                    (handful_l, ranges::HANDFUL_L),
                ] {
                    value.map(|v| range.check(v)).transpose()?;
                }
                Body::HouseholdSet(HouseholdSet {
                    name,
                    place,
                    latitude,
                    zone,
                    units: us.map(|us| if us { Units::Us } else { Units::Metric }),
                    english: american.map(|a| {
                        if a {
                            English::American
                        } else {
                            English::British
                        }
                    }),
                    caddy_l,
                    caddy_full_kg: caddy_kg,
                    handful_l,
                    ..HouseholdSet::default()
                })
            }
            HouseholdChange::Rules {
                food_allowed,
                apart_m,
                largest_l,
            } => {
                crate::local_rules::check(apart_m, largest_l)?;
                Body::HouseholdSet(HouseholdSet {
                    food_allowed,
                    apart_m,
                    largest_l,
                    ..HouseholdSet::default()
                })
            }
            HouseholdChange::Chamber {
                name,
                litres,
                length_cm,
                across_cm,
                upright,
            } => {
                litres.map(|l| ranges::CHAMBER_L.check(l)).transpose()?;
                let id = match self.chamber_named(&name) {
                    Ok(known) => known.id,
                    Err(_) => catalogue::normalise(&name).replace(' ', "-"),
                };
                if id.is_empty() {
                    return Err(Error::BadSetting {
                        field: "chamber".into(),
                        reason: "give it a name, as Near".into(),
                    });
                }
                let round = length_cm.is_some() && across_cm.is_some();
                let shape = match upright {
                    Some(true) => Some(Shape::Box),
                    Some(false) => Some(Shape::Drum),
                    None => round.then_some(Shape::Drum),
                };
                Body::ChamberSet(ChamberSet {
                    chamber: id,
                    name: Some(name),
                    litres,
                    shape,
                    length_cm,
                    width_cm: across_cm,
                    height_cm: None,
                })
            }
            HouseholdChange::Own(row) => {
                // Laid once on trial, so that a row that cannot be used is never written.
                self.catalogue()?.with_own(std::slice::from_ref(&row))?;
                Body::OwnFigures(OwnFigures {
                    material: catalogue::normalise(&row.name).replace(' ', "-"),
                    name: Some(row.name),
                    figures: row
                        .figures
                        .iter()
                        .map(|&(p, value)| {
                            (
                                p.as_str().to_owned(),
                                journal::Figure {
                                    value,
                                    low: value,
                                    high: value,
                                },
                            )
                        })
                        .collect(),
                })
            }
        };
        Ok(self.write(body, None, key)?.id.to_string())
    }

    /// Own figures as stored, as rows to lay over the catalogue.
    pub(crate) fn stored_own(&self) -> Result<Vec<OwnRow>, Error> {
        let Some(store) = &self.store else {
            return Ok(Vec::new());
        };
        Ok(store
            .own_figures(HOUSEHOLD)?
            .into_iter()
            .map(|m| OwnRow {
                figures: m
                    .figures
                    .iter()
                    .filter_map(|(word, f)| Some((Property::parse(word)?, f.value)))
                    .collect(),
                name: m.name.unwrap_or(m.id),
            })
            .collect())
    }
}
