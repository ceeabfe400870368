//! What a heading of a weather table names, and in which unit, in the languages such files come in.
//!
//! English, German, French, Spanish, Italian, Portuguese, Dutch; the short names of GHCN, ECA&D, DWD, KNMI.

use crate::climate::sun;

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Column {
    Date,
    Year,
    Month,
    DayOfMonth,
    Hour,
    Mean,
    Min,
    Max,
    Rain,
    Radiation,
    Station,
}

/// Units a column may come in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// °C.
    Celsius,
    /// °F.
    Fahrenheit,
    /// Tenths of °C.
    TenthsCelsius,
    /// K.
    Kelvin,
    /// mm.
    Millimetre,
    /// Tenths of mm.
    TenthsMillimetre,
    /// cm.
    Centimetre,
    /// in.
    Inch,
    /// MJ/m²·d.
    Megajoule,
    /// J/cm²·d.
    JoulePerSquareCentimetre,
    /// kWh/m²·d.
    KilowattHour,
    /// Wh/m²·d.
    WattHour,
    /// W/m², mean of the time.
    Watt,
}

impl Unit {
    /// In °C, mm or MJ/m²·d.
    #[must_use]
    pub fn convert(self, value: f64) -> f64 {
        match self {
            Self::Celsius | Self::Millimetre | Self::Megajoule => value,
            Self::Fahrenheit => (value - 32.0) / 1.8,
            Self::TenthsCelsius | Self::TenthsMillimetre => value / 10.0,
            Self::Kelvin => value - 273.15,
            Self::Centimetre => value * 10.0,
            Self::Inch => value * 25.4,
            Self::JoulePerSquareCentimetre => value * 0.01,
            Self::KilowattHour => value * 3.6,
            Self::WattHour => value * 0.0036,
            Self::Watt => value * sun::MJ_PER_WATT_DAY,
        }
    }
}

const DATE: &[&str] = &[
    "date",
    "datum",
    "fecha",
    "data",
    "datetime",
    "timestamp",
    "time",
    "mess",
    "yyyymmdd",
    "zeit",
    "zeitstempel",
    "tijd",
    "dt",
];
const YEAR: &[&str] = &["year", "jahr", "annee", "ano", "anno", "jaar", "yyyy", "yr"];
const MONTH: &[&str] = &["month", "monat", "mois", "mes", "mese", "maand", "mm", "mo"];
const DAY: &[&str] = &["day", "tag", "jour", "dia", "giorno", "dag", "dd"];
const HOUR: &[&str] = &["hour", "hr", "stunde", "heure", "hora", "ora", "uur", "hh"];
const STATION: &[&str] = &[
    "station", "stations", "stn", "staid", "estacion", "stazione", "location", "city",
];
const TEMPERATURE: &[&str] = &[
    "temp",
    "temperature",
    "temperatures",
    "temperatur",
    "temperatura",
    "temperaturas",
    "temperatuur",
    "lufttemperatur",
    "t",
    "ta",
    "tt",
    "tas",
    "air",
    "t2m",
    "drybulb",
    "dry",
];
const MIN: &[&str] = &[
    "min",
    "minimum",
    "minima",
    "minimo",
    "minimale",
    "minimal",
    "mini",
    "low",
    "lowest",
    "tiefst",
    "tiefstwert",
    "laagste",
];
const MAX: &[&str] = &[
    "max",
    "maximum",
    "maxima",
    "maximo",
    "massima",
    "massimo",
    "maximale",
    "maximal",
    "maxi",
    "high",
    "highest",
    "hochst",
    "hochstwert",
    "hoogste",
];
const MEAN: &[&str] = &[
    "mean",
    "avg",
    "average",
    "mittel",
    "mittelwert",
    "tagesmittel",
    "moyenne",
    "moy",
    "media",
    "medio",
    "medie",
    "gemiddelde",
    "gemiddeld",
];
const T_MIN: &[&str] = &["tmin", "tn", "tnk", "tasmin", "mintemp", "mint"];
const T_MAX: &[&str] = &["tmax", "tx", "txk", "tasmax", "maxtemp", "maxt"];
const T_MEAN: &[&str] = &[
    "tavg", "tmean", "tg", "tmk", "tm", "tmed", "tmoy", "avgtemp", "meantemp",
];
const RAIN: &[&str] = &[
    "rain",
    "rainfall",
    "precipitation",
    "precipitations",
    "precip",
    "prcp",
    "prec",
    "ppt",
    "niederschlag",
    "niederschlagshohe",
    "regen",
    "pluie",
    "pluies",
    "lluvia",
    "precipitacion",
    "chuva",
    "precipitacao",
    "pioggia",
    "precipitazione",
    "precipitazioni",
    "neerslag",
    "rr",
    "rsk",
];
const RADIATION: &[&str] = &[
    "radiation",
    "ghi",
    "globalstrahlung",
    "strahlung",
    "rayonnement",
    "radiacion",
    "radiacao",
    "radiazione",
    "straling",
    "srad",
    "rs",
    "solar",
];
/// Words that make a column something else.
const OTHER: &[&str] = &[
    "dew",
    "dewpoint",
    "soil",
    "ground",
    "boden",
    "erdboden",
    "grass",
    "water",
    "sea",
    "feels",
    "feelslike",
    "apparent",
    "wind",
    "gust",
    "humidity",
    "feuchte",
    "luftfeuchte",
    "humidite",
    "humedad",
    "umidade",
    "umidita",
    "vochtigheid",
    "snow",
    "snowfall",
    "schnee",
    "pressure",
    "wet",
    "attributes",
    "flag",
    "quality",
    "hours",
    "duration",
    "probability",
    "longwave",
    "direct",
    "diffuse",
    "normal",
    "index",
    "departure",
    "normals",
    "sunset",
    "sunrise",
    "source",
    "uncert",
    "zone",
    "evaporation",
    "evapotranspiration",
    "qn",
    "tauw",
    "rosee",
];

fn words(heading: &str) -> Vec<String> {
    let mut plain = String::with_capacity(heading.len());
    for c in heading.chars().flat_map(char::to_lowercase) {
        plain.push(match c {
            'à' | 'á' | 'â' | 'ã' | 'ä' => 'a',
            'è' | 'é' | 'ê' | 'ë' => 'e',
            'ì' | 'í' | 'î' => 'i',
            'ò' | 'ó' | 'ô' | 'õ' | 'ö' => 'o',
            'ù' | 'ú' | 'û' | 'ü' => 'u',
            'ñ' => 'n',
            'ç' => 'c',
            c if c.is_alphanumeric() => c,
            _ => ' ',
        });
    }
    plain.split_whitespace().map(str::to_owned).collect()
}

/// The unit stands in brackets or behind the name; the name is what comes before a bracket.
fn name_of(heading: &str) -> &str {
    heading.split(['(', '[']).next().unwrap_or(heading)
}

/// What a heading names, if it is of use here.
pub(super) fn column(heading: &str) -> Option<Column> {
    let words = words(name_of(heading));
    let any = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
    let only = |list: &[&str]| words.len() == 1 && any(list);
    if any(OTHER) {
        return None;
    }
    if any(RAIN) {
        return Some(Column::Rain);
    }
    if any(RADIATION) {
        return Some(Column::Radiation);
    }
    for (short, long, column) in [
        (T_MIN, MIN, Column::Min),
        (T_MAX, MAX, Column::Max),
        (T_MEAN, MEAN, Column::Mean),
    ] {
        if any(short) || only(long) || (any(long) && any(TEMPERATURE)) {
            return Some(column);
        }
    }
    if any(DATE) {
        return Some(Column::Date);
    }
    if any(TEMPERATURE) {
        return Some(Column::Mean);
    }
    [
        (YEAR, Column::Year),
        (MONTH, Column::Month),
        (DAY, Column::DayOfMonth),
        (HOUR, Column::Hour),
        (STATION, Column::Station),
    ]
    .into_iter()
    .find(|(list, _)| only(list))
    .map(|(_, column)| column)
}

/// The unit that a heading tells of this column.
pub(super) fn unit(heading: &str, column: Column) -> Option<Unit> {
    let lower = heading
        .to_lowercase()
        .replace("m²", "m2")
        .replace("m^2", "m2");
    let words = words(&lower);
    let any = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
    let tenths = lower.contains("0.1")
        || lower.contains("0,1")
        || lower.contains("1/10")
        || any(&["tenth", "tenths", "zehntel", "dixiemes", "decimas"]);
    match column {
        Column::Mean | Column::Min | Column::Max => {
            if lower.contains("°f") || any(&["f", "degf", "fahrenheit"]) {
                Some(Unit::Fahrenheit)
            } else if tenths {
                Some(Unit::TenthsCelsius)
            } else if lower.contains("°c") || any(&["c", "degc", "celsius", "grad", "gradc"]) {
                Some(Unit::Celsius)
            } else {
                any(&["k", "kelvin"]).then_some(Unit::Kelvin)
            }
        }
        Column::Rain if any(&["in", "inch", "inches"]) => Some(Unit::Inch),
        Column::Rain if any(&["cm"]) => Some(Unit::Centimetre),
        Column::Rain if tenths => Some(Unit::TenthsMillimetre),
        Column::Rain => any(&["mm", "l", "litre", "liter"]).then_some(Unit::Millimetre),
        Column::Radiation if lower.contains("mj") => Some(Unit::Megajoule),
        Column::Radiation if lower.contains("kwh") => Some(Unit::KilowattHour),
        Column::Radiation if lower.contains("wh") => Some(Unit::WattHour),
        Column::Radiation if lower.contains("j/cm") => Some(Unit::JoulePerSquareCentimetre),
        Column::Radiation => any(&["w"]).then_some(Unit::Watt),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_of_many_lands() {
        use Column::{Date, Max, Mean, Min, Radiation, Rain, Year};
        for (heading, want) in [
            ("date", Some(Date)),
            ("Datum", Some(Date)),
            ("fecha", Some(Date)),
            ("MESS_DATUM", Some(Date)),
            ("temp_max", Some(Max)),
            ("TMAX", Some(Max)),
            ("Temperatur Maximum (°C)", Some(Max)),
            ("Température minimale", Some(Min)),
            ("temperature_2m_min (°C)", Some(Min)),
            ("TNK", Some(Min)),
            ("Temperatura media", Some(Mean)),
            ("TMK", Some(Mean)),
            ("Tagesmittel Lufttemperatur", Some(Mean)),
            ("gemiddelde temperatuur", Some(Mean)),
            ("temperature", Some(Mean)),
            ("T", Some(Mean)),
            ("precipitation_sum (mm)", Some(Rain)),
            ("Niederschlagshöhe", Some(Rain)),
            ("lluvia", Some(Rain)),
            ("shortwave_radiation_sum (MJ/m²)", Some(Radiation)),
            ("Globalstrahlung", Some(Radiation)),
            ("Jahr", Some(Year)),
            ("wind max", None),
            ("Dew point temperature", None),
            ("TMAX_ATTRIBUTES", None),
            ("humidity min", None),
            ("apparent_temperature_max (°C)", None),
            ("soil temperature", None),
            ("weather", None),
        ] {
            assert_eq!(column(heading), want, "{heading}");
        }
    }

    #[test]
    fn units_in_headings() {
        for (heading, column, want) in [
            ("tmax (°F)", Column::Max, Some(Unit::Fahrenheit)),
            ("temp_max_f", Column::Max, Some(Unit::Fahrenheit)),
            ("TX [0.1 °C]", Column::Max, Some(Unit::TenthsCelsius)),
            ("tmin in °C", Column::Min, Some(Unit::Celsius)),
            ("tmin", Column::Min, None),
            ("rain (in)", Column::Rain, Some(Unit::Inch)),
            ("ghi W/m²", Column::Radiation, Some(Unit::Watt)),
            (
                "radiation (MJ/m²)",
                Column::Radiation,
                Some(Unit::Megajoule),
            ),
            (
                "radiation (kWh/m2)",
                Column::Radiation,
                Some(Unit::KilowattHour),
            ),
        ] {
            assert_eq!(unit(heading, column), want, "{heading}");
        }
        assert!((Unit::Fahrenheit.convert(50.0) - 10.0).abs() < 1e-12);
    }
}
