//! The household's own figures: a CSV, or one row typed in, that shadows the catalogue.

use thiserror::Error;
use units::{Figure, Grade, OutOfRange, Range, ranges};

use crate::find::Found;
use crate::material::{Material, Property, Role, Verdict};
use crate::{Catalogue, normalise};

/// One row of own figures; `None` is unknown.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnRow {
    /// Name as the household says it.
    pub name: String,
    /// Figures given, in table units.
    pub figures: Vec<(Property, f64)>,
}

/// A row that cannot be used: which line, what name, why.
#[derive(Debug, Error, Clone, PartialEq)]
#[error("line {line}{}: {reason}", if name.is_empty() { String::new() } else { format!(" ({name})") })]
pub struct OwnError {
    /// Line in the file, from 1.
    pub line: u64,
    /// Name in the row, if it has one.
    pub name: String,
    /// What is wrong and the way out.
    pub reason: String,
}

const COLUMNS: &[(&str, Property, Range)] = &[
    ("water_pct", Property::Water, ranges::WATER_PCT),
    ("carbon_pct_dry", Property::Carbon, ranges::CARBON_PCT_DRY),
    (
        "nitrogen_pct_dry",
        Property::Nitrogen,
        ranges::NITROGEN_PCT_DRY,
    ),
    ("cn", Property::CarbonNitrogen, ranges::CARBON_NITROGEN),
    ("density_kg_m3", Property::Density, ranges::DENSITY),
    ("ash_pct_dry", Property::Ash, ranges::ASH_PCT_DRY),
    ("lignin_pct_dry", Property::Lignin, ranges::LIGNIN_PCT_DRY),
];

/// Largest file read, bytes; ten thousand rows are far below it (choice).
const MOST_BYTES: usize = 1 << 20;

/// Reads `name,water_pct,carbon_pct_dry,nitrogen_pct_dry,cn,density_kg_m3,ash_pct_dry,lignin_pct_dry`.
///
/// Comma or semicolon separated; `7,5` is a number in a semicolon file or in quotes; `%`, `:1`, `kg/m³`
/// and `g/L` behind a number are understood. Columns may be left out or blank, in any order.
///
/// # Errors
/// The first bad row, by line and name, with the reason and the way out. Nothing is half read.
pub fn read_own(text: &str) -> Result<Vec<OwnRow>, OwnError> {
    let fail = |line, name: &str, reason: String| OwnError {
        line,
        name: name.to_owned(),
        reason,
    };
    if text.len() > MOST_BYTES {
        return Err(fail(
            1,
            "",
            format!("{} bytes; the most is {MOST_BYTES}", text.len()),
        ));
    }
    let text = text.trim_start_matches('\u{feff}');
    let first = text.lines().next().unwrap_or_default();
    let comma = if first.matches(';').count() > first.matches(',').count() {
        b';'
    } else {
        b','
    };
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(comma)
        .trim(csv::Trim::All)
        .flexible(true)
        .from_reader(text.as_bytes());
    let heads = reader
        .headers()
        .map_err(|e| fail(1, "", e.to_string()))?
        .clone();
    let heads: Vec<String> = heads.iter().map(|h| h.trim().to_lowercase()).collect();
    let at = |name: &str| heads.iter().position(|h| h == name);
    let Some(name_at) = at("name") else {
        return Err(fail(
            1,
            "",
            "the first line must name the columns, with `name` among them".into(),
        ));
    };
    if let Some(odd) = heads
        .iter()
        .find(|h| !h.is_empty() && *h != "name" && !COLUMNS.iter().any(|(c, ..)| c == h))
    {
        let known: Vec<_> = COLUMNS.iter().map(|(c, ..)| *c).collect();
        return Err(fail(
            1,
            "",
            format!("unknown column `{odd}`; known: name, {}", known.join(", ")),
        ));
    }
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|e| {
            fail(
                e.position().map_or(0, csv::Position::line),
                "",
                e.to_string(),
            )
        })?;
        let line = record.position().map_or(0, csv::Position::line);
        if record.iter().all(str::is_empty) {
            continue;
        }
        let name = record.get(name_at).unwrap_or_default();
        if normalise(name).is_empty() {
            return Err(fail(
                line,
                name,
                "no name; give the first column a name".into(),
            ));
        }
        if record.len() > heads.len() {
            return Err(fail(
                line,
                name,
                format!(
                    "{} cells under {} columns; quote a decimal comma: \"7,5\"",
                    record.len(),
                    heads.len()
                ),
            ));
        }
        let mut figures = Vec::new();
        for &(column, property, range) in COLUMNS {
            let cell = at(column).and_then(|i| record.get(i)).unwrap_or_default();
            if cell.is_empty() {
                continue;
            }
            let value = number(cell)
                .ok_or_else(|| fail(line, name, format!("{column}: `{cell}` is not a number")))?;
            range
                .check(value)
                .map_err(|e: OutOfRange| fail(line, name, format!("{column}: {e}")))?;
            figures.push((property, value));
        }
        rows.push(OwnRow {
            name: name.to_owned(),
            figures,
        });
    }
    Ok(rows)
}

/// A number with a decimal point or comma and a unit behind it.
fn number(cell: &str) -> Option<f64> {
    let cell = cell.trim().trim_start_matches('~');
    let end = cell
        .char_indices()
        .find(|(_, c)| !(c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+' | 'e' | 'E')))
        .map_or(cell.len(), |(i, _)| i);
    let (figure, unit) = cell.split_at(end);
    let known = [
        "", "%", "°", ":1", "kg/m3", "kg/m³", "g/l", "% dry", "% wet", "pct",
    ];
    if !known.contains(&unit.trim().to_lowercase().as_str()) {
        return None;
    }
    figure
        .replace(',', ".")
        .parse()
        .ok()
        .filter(|v: &f64| v.is_finite())
}

impl Catalogue {
    /// This catalogue with the household's own rows laid over it. Blank cells fall back to the
    /// catalogue where the name is known there; otherwise they stay unknown.
    ///
    /// # Errors
    /// A row that has too little for what it claims: C:N alone, or carbon and nitrogen above 100 %.
    pub fn with_own(&self, rows: &[OwnRow]) -> Result<Self, OwnError> {
        let mut laid = self.clone();
        // Names of its own are no slips either.
        laid.book = std::sync::OnceLock::new();
        for (index, row) in rows.iter().enumerate() {
            laid.lay(row, index as u64 + 2)?;
        }
        Ok(laid)
    }

    fn lay(&mut self, row: &OwnRow, line: u64) -> Result<(), OwnError> {
        let fail = |reason: String| OwnError {
            line,
            name: row.name.clone(),
            reason,
        };
        let get = |property| {
            row.figures
                .iter()
                .find(|(p, _)| *p == property)
                .map(|(_, v)| *v)
        };
        let base = match self.find(&row.name) {
            Found::One(material) => Some(material.clone()),
            _ => None,
        };
        let (mut carbon, mut nitrogen) = (get(Property::Carbon), get(Property::Nitrogen));
        if let Some(ratio) = get(Property::CarbonNitrogen) {
            match (carbon, nitrogen) {
                (Some(c), None) => nitrogen = Some(c / ratio),
                (None, Some(n)) => carbon = Some(n * ratio),
                (Some(c), Some(n)) if (c / n / ratio - 1.0).abs() > 0.05 => {
                    return Err(fail(format!(
                        "carbon {c} % and nitrogen {n} % make C:N {:.1}, not {ratio}; leave one of them blank",
                        c / n
                    )));
                }
                (Some(_), Some(_)) => {}
                (None, None) => match base.as_ref().and_then(|m| m.composition().carbon) {
                    Some(c) if c.mid > 0.0 => {
                        carbon = Some(c.mid * 100.0);
                        nitrogen = Some(c.mid * 100.0 / ratio);
                    }
                    _ => return Err(fail(
                        "cn alone does not say how much carbon; give carbon_pct_dry or nitrogen_pct_dry too".into(),
                    )),
                },
            }
        }
        if let (Some(c), Some(n)) = (carbon, nitrogen)
            && (c + n > 100.0 || c > ranges::CARBON_PCT_DRY.most)
        {
            return Err(fail(format!(
                "carbon {c:.0} % and nitrogen {n:.1} % of dry mass cannot both be"
            )));
        }
        let mut material = base.unwrap_or_else(|| Material {
            id: format!("own-{}", normalise(&row.name).replace(' ', "-")),
            name: row.name.clone(),
            role: Role::Neutral,
            verdict: Verdict::Yes,
            cap_pct: None,
            structure: 1,
            preparation: String::new(),
            caution: "Your own figures; the catalogue has no verdict on it.".into(),
            figures: Vec::new(),
            food: None,
            own: true,
        });
        let known_before = !material.own;
        let given = [
            (Property::Water, get(Property::Water)),
            (Property::Carbon, carbon),
            (Property::Nitrogen, nitrogen),
            (Property::Density, get(Property::Density)),
            (Property::Ash, get(Property::Ash)),
            (Property::Lignin, get(Property::Lignin)),
        ];
        for (property, value) in given {
            let Some(value) = value else { continue };
            material.figures.retain(|(p, _)| *p != property);
            material.figures.push((
                property,
                Figure {
                    value,
                    low: value,
                    high: value,
                    unit: unit_of(property).to_owned(),
                    source: vec!["own".to_owned()],
                    place: format!("your own figure for {}", row.name),
                    grade: Grade::Measured,
                },
            ));
        }
        if !known_before {
            material.role = role_of(&material);
        }
        let at = match self.by_id.get(&material.id) {
            Some(&at) => {
                self.materials[at] = material;
                at
            }
            None => {
                let at = self.materials.len();
                self.by_id.insert(material.id.clone(), at);
                self.materials.push(material);
                at
            }
        };
        self.words.shadow(&row.name, at);
        Ok(())
    }
}

fn unit_of(property: Property) -> &'static str {
    match property {
        Property::Water => "% of wet mass",
        Property::CarbonNitrogen => "",
        Property::Density => "kg/m3 as it lies",
        _ => "% of dry mass",
    }
}

/// Lately green things are wet or rich in nitrogen; the rest is dry carbon. Common practice.
fn role_of(material: &Material) -> Role {
    let c = material.composition();
    let wet = c.water.is_some_and(|w| w.mid > 0.45);
    match c.carbon_nitrogen() {
        Some(cn) if cn < 30.0 || wet => Role::Feeds,
        Some(_) => Role::Dries,
        None => Role::Neutral,
    }
}
