//! Towns with monthly temperature, annual rain and annual sunshine, compiled in.
//!
//! 269 towns, means of 1981 to 2010 on a 1 km grid. Within 0.4 °C of station normals where checked, but
//! about 1 °C cool in big cities and 2 to 3 °C off in mountain towns: the grid cell is no garden.
//! "NA" is Namibia, not a missing value.

use std::collections::HashMap;

use serde::Deserialize;
use units::{Range, ranges};

use crate::load::BadData;
use crate::words::normalise;

const TOWNS: &str = include_str!("../data/climate.csv");
const COUNTRIES: &str = include_str!("../data/countries.csv");
const TABLE: &str = "climate.csv";
const MONTH_C: Range = Range {
    name: "mean temperature of a month",
    unit: "°C",
    least: -60.0,
    most: 50.0,
};
/// Source ids of temperature, rain and sunshine, in that order.
pub const SOURCES: [&str; 3] = ["georank-temperature", "georank-rain", "georank-sun"];

/// One town of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Town {
    /// English name.
    pub name: String,
    /// ISO 3166 two-letter code.
    pub country_code: String,
    /// English name of the country.
    pub country: String,
    /// Degrees, north positive.
    pub latitude: f64,
    /// Degrees, east positive.
    pub longitude: f64,
    /// Mean air temperature of January to December, °C.
    pub monthly_mean_c: [f64; 12],
    /// Rain and melted snow of a mean year, mm.
    pub annual_rain_mm: f64,
    /// Sunshine of a mean year, h.
    pub annual_sun_h: f64,
    names: Vec<String>,
    country_names: Vec<String>,
}

/// What a name means.
#[derive(Debug, Clone, PartialEq)]
pub enum FoundTown<'a> {
    /// One town.
    One(&'a Town),
    /// Several: a country, or a name that two towns share.
    Several(Vec<&'a Town>),
    /// None; these are spelled like it, closest first.
    Nothing(Vec<&'a Town>),
}

/// The table of towns.
#[derive(Debug, Clone)]
pub struct Towns(Vec<Town>);

#[derive(Deserialize)]
struct CountryRow {
    code: String,
    name: String,
    also: String,
}

impl Towns {
    /// Reads the compiled-in table.
    ///
    /// # Errors
    /// [`BadData`] names the row and the reason; a build whose tests pass has none.
    pub fn load() -> Result<Self, BadData> {
        let wrong = |reason: csv::Error| BadData::Table {
            table: TABLE,
            reason: reason.to_string(),
        };
        let mut countries = HashMap::new();
        for row in csv::Reader::from_reader(COUNTRIES.as_bytes()).deserialize() {
            let row: CountryRow = row.map_err(wrong)?;
            countries.insert(row.code.clone(), row);
        }
        let mut towns = Vec::new();
        for row in csv::Reader::from_reader(TOWNS.as_bytes()).records() {
            towns.push(town(&row.map_err(wrong)?, &countries)?);
        }
        Ok(Self(towns))
    }

    /// Every town, by country and name.
    pub fn all(&self) -> &[Town] {
        &self.0
    }

    /// The town of this name. A country may follow ("Porto, Portugal"); a country alone gives its towns.
    pub fn find(&self, words: &str) -> FoundTown<'_> {
        let asked = normalise(words);
        let mut hits: Vec<&Town> = self.0.iter().filter(|t| t.is_called(&asked)).collect();
        if hits.is_empty() && !asked.is_empty() {
            let at_home = |t: &&Town| t.country_names.contains(&asked);
            hits = self.0.iter().filter(at_home).collect();
        }
        match hits[..] {
            [] => FoundTown::Nothing(self.near(words, 5)),
            [one] => FoundTown::One(one),
            _ => FoundTown::Several(hits),
        }
    }

    /// Up to `most` towns spelled like these words, closest first; likeness at least 0.6.
    pub fn near(&self, words: &str, most: usize) -> Vec<&Town> {
        // "Lisbn, Portugal": only the part before the comma is compared.
        let asked = normalise(words.split(',').next().unwrap_or_default());
        if asked.is_empty() {
            return Vec::new();
        }
        let mut best: Vec<(f64, &Town)> = self
            .0
            .iter()
            .map(|t| (t.likeness(&asked), t))
            .filter(|(likeness, _)| *likeness >= 0.6)
            .collect();
        best.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.name.cmp(&b.1.name)));
        best.into_iter().take(most).map(|(_, t)| t).collect()
    }

    /// The town nearest to a point, and how far off it is, km (sphere of 6,371 km, haversine).
    pub fn nearest(&self, latitude: f64, longitude: f64) -> Option<(&Town, f64)> {
        let far = |t: &Town| {
            let (a, b) = (latitude.to_radians(), t.latitude.to_radians());
            let along = (longitude - t.longitude).to_radians();
            let h = ((a - b) / 2.0).sin().powi(2) + a.cos() * b.cos() * (along / 2.0).sin().powi(2);
            2.0 * 6371.0 * h.sqrt().min(1.0).asin()
        };
        self.0
            .iter()
            .map(|t| (t, far(t)))
            .min_by(|a, b| a.1.total_cmp(&b.1))
    }
}

impl Town {
    fn is_called(&self, asked: &str) -> bool {
        self.names.iter().any(|name| {
            asked.strip_prefix(name.as_str()).is_some_and(|rest| {
                rest.is_empty()
                    || rest
                        .strip_prefix(' ')
                        .is_some_and(|c| self.country_names.iter().any(|known| known == c))
            })
        })
    }

    fn likeness(&self, asked: &str) -> f64 {
        let words: Vec<&str> = asked.split(' ').collect();
        let one = |name: &String| {
            let known: Vec<&str> = name.split(' ').collect();
            let common = words.iter().filter(|w| known.contains(w)).count();
            let shared = 0.95 * (2 * common) as f64 / (words.len() + known.len()) as f64;
            strsim::normalized_damerau_levenshtein(asked, name).max(shared)
        };
        self.names.iter().map(one).fold(0.0, f64::max)
    }
}

fn forms(first: &str, also: &str) -> Vec<String> {
    let all = std::iter::once(first).chain(also.split(';'));
    all.map(normalise).filter(|form| !form.is_empty()).collect()
}

fn town(row: &csv::StringRecord, countries: &HashMap<String, CountryRow>) -> Result<Town, BadData> {
    let cell = |at: usize| row.get(at).unwrap_or_default();
    let bad = |reason: String| BadData::Row {
        table: TABLE,
        row: cell(0).to_owned(),
        reason,
    };
    let number = |at: usize| {
        let text = cell(at);
        let value = text.parse::<f64>().ok().filter(|v| v.is_finite());
        value.ok_or_else(|| bad(format!("column {}: {text:?} is no number", at + 1)))
    };
    let country = countries
        .get(cell(2))
        .ok_or_else(|| bad(format!("no country {}", cell(2))))?;
    let mut monthly_mean_c = [0.0; 12];
    for (month, mean) in monthly_mean_c.iter_mut().enumerate() {
        *mean = MONTH_C
            .check(number(5 + month)?)
            .map_err(|e| bad(e.to_string()))?;
    }
    let mut country_names = forms(&country.name, &country.also);
    country_names.push(normalise(&country.code));
    Ok(Town {
        name: cell(0).to_owned(),
        country_code: country.code.clone(),
        country: country.name.clone(),
        latitude: ranges::LATITUDE
            .check(number(3)?)
            .map_err(|e| bad(e.to_string()))?,
        longitude: number(4)?,
        monthly_mean_c,
        annual_rain_mm: number(17)?,
        annual_sun_h: number(18)?,
        names: forms(cell(0), cell(1)),
        country_names,
    })
}
