//! The tables, compiled in, read once. The only place where raw numbers become quantities.

use std::borrow::Cow;
use std::collections::HashMap;

use thiserror::Error;
use units::{Figure, Grade, OutOfRange, Range, Spread, ranges};

use crate::Catalogue;
use crate::food::{Food, Trim};
use crate::material::{Material, Property, Role, Verdict, VerdictList};
use crate::measure::{Bought, Measure};
use crate::source::Source;
use crate::words::{Words, normalise};

macro_rules! table {
    ($name:literal) => {
        ($name, include_str!(concat!("../data/", $name)))
    };
}

const MATERIALS: &[(&str, &str)] = &[
    table!("materials/kitchen.csv"),
    table!("materials/foods.csv"),
    table!("materials/garden.csv"),
    table!("materials/plants.csv"),
    table!("materials/paper.csv"),
    table!("materials/wood.csv"),
    table!("materials/manure.csv"),
    table!("materials/amendment.csv"),
    table!("materials/out.csv"),
];
const FIGURES: &[(&str, &str)] = &[
    table!("figures/kitchen.csv"),
    table!("figures/foods.csv"),
    table!("figures/garden.csv"),
    table!("figures/plants.csv"),
    table!("figures/paper.csv"),
    table!("figures/wood.csv"),
    table!("figures/manure.csv"),
    table!("figures/amendment.csv"),
    table!("figures/out.csv"),
];
const SOURCES: &[(&str, &str)] = &[
    table!("sources.csv"),
    table!("sources_lists_a.csv"),
    table!("sources_lists_b.csv"),
];
const LISTS: &[(&str, &str)] = &[table!("verdict_lists_a.csv"), table!("verdict_lists_b.csv")];
const WORDS: (&str, &str) = table!("words.csv");
const FOODS: (&str, &str) = table!("foods.csv");
const LINKS: (&str, &str) = table!("food_links.csv");
const MEASURES: (&str, &str) = table!("measures.csv");
const BOUGHT: (&str, &str) = table!("bought.csv");

/// A row of the compiled-in tables that does not hold; a test makes sure there is none.
#[derive(Debug, Error, Clone, PartialEq)]
pub enum BadData {
    /// The row is not CSV, or a column is missing.
    #[error("{table}: {reason}")]
    Table {
        /// File name of the table.
        table: &'static str,
        /// What the reader says.
        reason: String,
    },
    /// A cell does not hold.
    #[error("{table}: {row}: {reason}")]
    Row {
        /// File name of the table.
        table: &'static str,
        /// First cell of the row.
        row: String,
        /// What is wrong.
        reason: String,
    },
}

struct Row<'a> {
    table: &'static str,
    heads: &'a csv::StringRecord,
    cells: &'a csv::StringRecord,
}

impl Row<'_> {
    fn bad(&self, reason: impl ToString) -> BadData {
        BadData::Row {
            table: self.table,
            row: self.cells.get(0).unwrap_or_default().to_owned(),
            reason: reason.to_string(),
        }
    }
    fn text(&self, column: &str) -> Result<&str, BadData> {
        let at = self.heads.iter().position(|h| h == column);
        at.and_then(|at| self.cells.get(at))
            .map(str::trim)
            .ok_or_else(|| self.bad(format!("no column {column}")))
    }
    fn number(&self, column: &str) -> Result<Option<f64>, BadData> {
        let text = self.text(column)?;
        if text.is_empty() {
            return Ok(None);
        }
        let value: f64 = text
            .parse()
            .map_err(|_| self.bad(format!("{column}: {text} is no number")))?;
        if value.is_finite() {
            Ok(Some(value))
        } else {
            Err(self.bad(format!("{column}: not finite")))
        }
    }
    fn needed(&self, column: &str) -> Result<f64, BadData> {
        self.number(column)?
            .ok_or_else(|| self.bad(format!("{column} is blank")))
    }
    fn list(&self, column: &str) -> Result<Vec<String>, BadData> {
        Ok(self
            .text(column)?
            .split(';')
            .map(|s| s.trim().to_owned())
            .filter(|s| !s.is_empty())
            .collect())
    }
}

fn each(
    (table, text): (&'static str, &'static str),
    mut take: impl FnMut(&Row<'_>) -> Result<(), BadData>,
) -> Result<(), BadData> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let wrong = |e: csv::Error| BadData::Table {
        table,
        reason: e.to_string(),
    };
    let heads = reader.headers().map_err(wrong)?.clone();
    let mut cells = csv::StringRecord::new();
    while reader.read_record(&mut cells).map_err(wrong)? {
        let row = Row {
            table,
            heads: &heads,
            cells: &cells,
        };
        take(&row)?;
    }
    Ok(())
}

fn range_of(property: Property) -> Range {
    match property {
        Property::Water => ranges::WATER_PCT,
        Property::Carbon => ranges::CARBON_PCT_DRY,
        Property::Nitrogen => ranges::NITROGEN_PCT_DRY,
        Property::CarbonNitrogen => ranges::CARBON_NITROGEN,
        Property::Density => ranges::DENSITY,
        Property::Ash => ranges::ASH_PCT_DRY,
        Property::Lignin => ranges::LIGNIN_PCT_DRY,
        Property::CarbonateCarbon => ranges::CARBONATE_CARBON_PCT_DRY,
    }
}

impl Catalogue {
    /// Reads the compiled-in tables.
    ///
    /// # Errors
    /// [`BadData`] names the table, the row and the reason; a build whose tests pass has none.
    pub fn load() -> Result<Self, BadData> {
        let foods = foods()?;
        let mut sources = HashMap::new();
        for &table in SOURCES {
            each(table, |row| {
                let source = Source {
                    id: row.text("id")?.to_owned(),
                    citation: row.text("citation")?.to_owned(),
                    kind: row.text("kind")?.to_owned(),
                    seen: row.text("seen")? == "yes",
                    licence: row.text("licence")?.to_owned(),
                };
                sources.insert(source.id.clone(), source);
                Ok(())
            })?;
        }
        let (mut materials, by_id) = materials()?;
        each(LINKS, |row| {
            let at = find(&by_id, row, "material")?;
            let ndb = row.text("ndb")?;
            let food = foods
                .get(ndb)
                .ok_or_else(|| row.bad(format!("no food {ndb}")))?;
            let trim = match row.text("trim")? {
                "whole" => Trim::Whole,
                "trim" => Trim::Trim,
                other => return Err(row.bad(format!("trim: {other}"))),
            };
            materials[at].food = Some((food.clone(), trim));
            Ok(())
        })?;
        for &table in FIGURES {
            each(table, |row| {
                let at = find(&by_id, row, "material")?;
                let (property, figure) = figure(row, &sources)?;
                materials[at].figures.push((property, figure));
                Ok(())
            })?;
        }
        let mut words = Words::default();
        for (at, material) in materials.iter().enumerate() {
            words.add(material.name.clone().into(), at);
        }
        name_them(&mut words, &by_id)?;
        let mut lists = Vec::new();
        for &table in LISTS {
            each(table, |row| {
                find(&by_id, row, "material")?;
                lists.push(VerdictList {
                    material: row.text("material")?.to_owned(),
                    source: row.text("source")?.to_owned(),
                    says: row.text("says")?.to_owned(),
                    agrees: row.text("agree")? == "yes",
                    why: row.text("why")?.to_owned(),
                });
                Ok(())
            })?;
        }
        let measures = measures(&by_id)?;
        let bought = bought(&by_id)?;
        Ok(Self {
            materials,
            by_id,
            words,
            measures,
            bought,
            sources,
            lists,
            book: std::sync::OnceLock::new(),
        })
    }
}

/// The table of words, `word,material,sense`, line by line: no cell is quoted and the words are lent
/// from the binary, for reading them costs every command as much as all the other tables together.
fn name_them(words: &mut Words, by_id: &HashMap<String, usize>) -> Result<(), BadData> {
    let (table, text) = WORDS;
    words.reserve(text.len() / 32);
    for line in text.lines().skip(1) {
        let bad = |reason: &str| BadData::Row {
            table,
            row: line.to_owned(),
            reason: reason.to_owned(),
        };
        let mut cells = line.split(',');
        let (Some(word), Some(id), Some(_), None) =
            (cells.next(), cells.next(), cells.next(), cells.next())
        else {
            return Err(bad("not three cells"));
        };
        let at = by_id.get(id).ok_or_else(|| bad("no such material"))?;
        words.add(Cow::Borrowed(word), *at);
    }
    Ok(())
}

fn find(by_id: &HashMap<String, usize>, row: &Row<'_>, column: &str) -> Result<usize, BadData> {
    let id = row.text(column)?;
    by_id
        .get(id)
        .copied()
        .ok_or_else(|| row.bad(format!("no material {id}")))
}

fn materials() -> Result<(Vec<Material>, HashMap<String, usize>), BadData> {
    let mut materials = Vec::new();
    let mut by_id = HashMap::new();
    for &table in MATERIALS {
        each(table, |row| {
            let word = |column| row.text(column).map(str::to_owned);
            let id = word("id")?;
            if by_id.insert(id.clone(), materials.len()).is_some() {
                return Err(row.bad("twice in the tables"));
            }
            let cap_pct = row.number("cap_pct")?;
            if let Some(cap) = cap_pct {
                ranges::CAP_PCT
                    .check(cap)
                    .map_err(|e: OutOfRange| row.bad(e))?;
            }
            materials.push(Material {
                name: word("name")?,
                role: Role::parse(&word("role")?).ok_or_else(|| row.bad("role"))?,
                verdict: Verdict::parse(&word("verdict")?).ok_or_else(|| row.bad("verdict"))?,
                cap_pct,
                structure: row.needed("structure")? as u8,
                preparation: word("preparation")?,
                caution: word("caution")?,
                figures: Vec::new(),
                food: None,
                own: false,
                id,
            });
            Ok(())
        })?;
    }
    Ok((materials, by_id))
}

fn figure(row: &Row<'_>, sources: &HashMap<String, Source>) -> Result<(Property, Figure), BadData> {
    let property = Property::parse(row.text("property")?).ok_or_else(|| row.bad("property"))?;
    let value = row.needed("value")?;
    range_of(property).check(value).map_err(|e| row.bad(e))?;
    let (low, high) = (
        row.number("low")?.unwrap_or(value),
        row.number("high")?.unwrap_or(value),
    );
    if !(low <= value && value <= high) {
        return Err(row.bad(format!(
            "{property}: {low} … {value} … {high} is out of order"
        )));
    }
    let source = row.list("source")?;
    if source.is_empty() {
        return Err(row.bad(format!("{property} has no source")));
    }
    if let Some(missing) = source.iter().find(|id| !sources.contains_key(*id)) {
        return Err(row.bad(format!("{property}: no source {missing}")));
    }
    let grade = Grade::parse(row.text("grade")?).ok_or_else(|| row.bad("grade"))?;
    Ok((
        property,
        Figure {
            value,
            low,
            high,
            unit: row.text("unit")?.to_owned(),
            source,
            place: row.text("place")?.to_owned(),
            grade,
        },
    ))
}

fn foods() -> Result<HashMap<String, Food>, BadData> {
    let mut foods = HashMap::new();
    each(FOODS, |row| {
        let or_nought = |column| row.number(column).map(Option::unwrap_or_default);
        let food = Food {
            ndb: row.text("ndb")?.to_owned(),
            description: row.text("description")?.to_owned(),
            water: row.needed("water")?,
            protein: row.needed("protein")?,
            fat: or_nought("fat")?,
            carbohydrate: row.needed("carbohydrate")?,
            fibre: or_nought("fibre")?,
            sugars: or_nought("sugars")?,
            starch: or_nought("starch")?,
            ash: or_nought("ash")?,
            alcohol: or_nought("alcohol")?,
            refuse_pct: row.number("refuse_pct")?,
            refuse_description: row.text("refuse_description")?.to_owned(),
            nitrogen_factor: or_nought("n_factor")?,
        };
        foods.insert(food.ndb.clone(), food);
        Ok(())
    })?;
    Ok(foods)
}

fn measures(by_id: &HashMap<String, usize>) -> Result<Vec<Measure>, BadData> {
    let mut all = Vec::new();
    each(MEASURES, |row| {
        let material = row.text("material")?;
        if !material.is_empty() {
            find(by_id, row, "material")?;
        }
        let grams = match (
            row.number("g_low")?,
            row.number("g")?,
            row.number("g_high")?,
        ) {
            (low, Some(mid), high) => {
                Some(Spread::new(low.unwrap_or(mid), mid, high.unwrap_or(mid)))
            }
            _ => None,
        };
        all.push(Measure {
            id: row.text("id")?.to_owned(),
            name: row.text("name")?.to_owned(),
            material: (!material.is_empty()).then(|| material.to_owned()),
            unit: row.text("unit")?.to_owned(),
            grams,
            litres: row.number("litres")?,
            source: row.list("source")?,
            place: row.text("place")?.to_owned(),
        });
        Ok(())
    })?;
    Ok(all)
}

fn bought(by_id: &HashMap<String, usize>) -> Result<Vec<Bought>, BadData> {
    let mut all = Vec::new();
    each(BOUGHT, |row| {
        find(by_id, row, "material")?;
        all.push(Bought {
            word: normalise(row.text("word")?),
            material: row.text("material")?.to_owned(),
            ndb: row.text("ndb")?.to_owned(),
            refuse_pct: row.needed("refuse_pct")?,
            each_g: row.number("each_g")?,
        });
        Ok(())
    })?;
    Ok(all)
}
