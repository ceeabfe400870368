//! A TOML file whose every value knows its line.

use engine::climate::Day;
use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};
use units::Range;

use super::error::{CaseError, CaseFault};

type Result<T> = std::result::Result<T, CaseError>;

/// Largest case file, bytes (choice: a slip would name some other file).
const MOST_BYTES: usize = 1 << 20;

/// Keys of the file itself.
pub(super) const ROOT: [&str; 10] = [
    "start", "days", "members", "seed", "vessel", "place", "feeds", "turnings", "wettings",
    "takings",
];

/// Reads the text; the error of the grammar with its line.
pub(super) fn parse(text: &str) -> Result<Spanned<DeTable<'_>>> {
    if text.len() > MOST_BYTES {
        let says = format!(
            "the file holds {} bytes; a case holds at most {MOST_BYTES}",
            text.len()
        );
        return Err(CaseError::plain(CaseFault::Bad, "", says));
    }
    DeTable::parse(text).map_err(|e| {
        let at = e.span().map_or(0, |s| s.start);
        let line = line_of(text, at);
        let read = text.lines().nth(line - 1).unwrap_or_default().trim();
        let says = format!(
            "`{}` cannot be read: {}; write key = value, words in \"quotes\", dates as 2025-05-01",
            crate::read::shortened(read),
            e.message().trim_end()
        );
        CaseError {
            fault: CaseFault::Bad,
            line: Some(line),
            key: String::new(),
            says,
        }
    })
}

fn line_of(text: &str, at: usize) -> usize {
    1 + text.as_bytes()[..at.min(text.len())]
        .iter()
        .filter(|b| **b == b'\n')
        .count()
}

/// One table of the file.
#[derive(Debug, Clone)]
pub(super) struct Table<'a> {
    text: &'a str,
    start: usize,
    path: String,
    inner: &'a DeTable<'a>,
}

/// One value.
#[derive(Debug, Clone)]
pub(super) struct Cell<'a> {
    text: &'a str,
    start: usize,
    path: String,
    value: &'a DeValue<'a>,
}

impl<'a> Table<'a> {
    pub(super) fn root(text: &'a str, table: &'a Spanned<DeTable<'a>>) -> Self {
        Self {
            text,
            start: 0,
            path: String::new(),
            inner: table.get_ref(),
        }
    }

    /// Refuses keys that are not `known`, with the nearest that is.
    pub(super) fn keys(&self, known: &[&str]) -> Result<()> {
        let Some((key, _)) = self
            .inner
            .iter()
            .filter(|(key, _)| !known.contains(&key.get_ref().as_ref()))
            .min_by_key(|(key, _)| key.span().start)
        else {
            return Ok(());
        };
        let near = if !self.path.is_empty() && ROOT.contains(&key.get_ref().as_ref()) {
            "it belongs at the top, above the first [table]".to_owned()
        } else {
            nearest(key.get_ref(), known).map_or_else(
                || format!("known here: {}", known.join(", ")),
                |near| format!("did you mean `{near}`?"),
            )
        };
        Err(CaseError {
            fault: CaseFault::Bad,
            line: Some(line_of(self.text, key.span().start)),
            key: self.under(key.get_ref()),
            says: format!("no such key; {near}"),
        })
    }

    fn under(&self, key: &str) -> String {
        if self.path.is_empty() {
            key.to_owned()
        } else {
            format!("{}.{key}", self.path)
        }
    }

    pub(super) fn get(&self, key: &str) -> Option<Cell<'a>> {
        let (_, value) = self.inner.iter().find(|(k, _)| k.get_ref() == key)?;
        Some(Cell {
            text: self.text,
            start: value.span().start,
            path: self.under(key),
            value: value.get_ref(),
        })
    }

    pub(super) fn has(&self, key: &str) -> bool {
        self.get(key).is_some()
    }

    /// What is wrong with the table as a whole.
    pub(super) fn wrong(&self, says: impl Into<String>) -> CaseError {
        CaseError {
            fault: CaseFault::Bad,
            line: (!self.path.is_empty()).then(|| line_of(self.text, self.start)),
            key: self.path.clone(),
            says: says.into(),
        }
    }

    pub(super) fn number(&self, key: &str, range: Range) -> Result<Option<f64>> {
        self.get(key).map(|c| c.number(range)).transpose()
    }

    /// A number that has to be there.
    pub(super) fn needed(&self, key: &str, range: Range) -> Result<f64> {
        self.number(key, range)?.ok_or_else(|| {
            let says = format!(
                "`{key}` is missing; give {} from {} to {} {}",
                range.name, range.least, range.most, range.unit
            );
            self.wrong(says.trim_end())
        })
    }

    /// Share from a number in per cent.
    pub(super) fn share(&self, key: &str, range: Range) -> Result<Option<f64>> {
        Ok(self.number(key, range)?.map(|v| v / 100.0))
    }

    pub(super) fn table(&self, key: &str) -> Result<Option<Table<'a>>> {
        self.get(key).map(|c| c.table()).transpose()
    }

    /// The tables of a list, `[[key]]`.
    pub(super) fn tables(&self, key: &str) -> Result<Vec<Table<'a>>> {
        let Some(cell) = self.get(key) else {
            return Ok(Vec::new());
        };
        match cell.value {
            DeValue::Array(_) => cell.items()?.map(|c| c.table()).collect(),
            _ => Err(cell.wrong(format!("write a list of tables, each under [[{key}]]"))),
        }
    }
}

impl<'a> Cell<'a> {
    pub(super) fn wrong(&self, says: impl Into<String>) -> CaseError {
        CaseError {
            fault: CaseFault::Bad,
            line: Some(line_of(self.text, self.start)),
            key: self.path.clone(),
            says: says.into(),
        }
    }

    pub(super) fn is_list(&self) -> bool {
        matches!(self.value, DeValue::Array(_))
    }

    pub(super) fn as_text(&self) -> Option<&'a str> {
        match self.value {
            DeValue::String(s) => Some(s.as_ref()),
            _ => None,
        }
    }

    pub(super) fn words(&self) -> Result<&'a str> {
        self.as_text().ok_or_else(|| {
            self.wrong(format!(
                "{} is not text; write it in \"quotes\"",
                self.shown()
            ))
        })
    }

    pub(super) fn number(&self, range: Range) -> Result<f64> {
        let value = match self.value {
            DeValue::Float(f) => f.as_str().parse().ok(),
            DeValue::Integer(i) if i.radix() == 10 => i.as_str().parse().ok(),
            DeValue::Integer(i) => i64::from_str_radix(i.as_str(), i.radix())
                .ok()
                .map(|i| i as f64),
            _ => None,
        };
        let value: f64 = value.ok_or_else(|| {
            self.wrong(format!(
                "{} is not a number; give {} to {} {} without quotes",
                self.shown(),
                range.least,
                range.most,
                range.unit
            ))
        })?;
        range.check(value).map_err(|e| self.wrong(e.to_string()))
    }

    pub(super) fn whole(&self, range: Range) -> Result<u64> {
        let value = self.number(range)?;
        if value.fract() != 0.0 {
            return Err(self.wrong(format!("{}: {value} is not a whole number", range.name)));
        }
        Ok(value as u64)
    }

    pub(super) fn yes(&self) -> Result<bool> {
        match self.value {
            DeValue::Boolean(b) => Ok(*b),
            _ => Err(self.wrong(format!("{} is not true or false", self.shown()))),
        }
    }

    /// A date, bare or in quotes.
    pub(super) fn day(&self) -> Result<Day> {
        let text = match self.value {
            DeValue::Datetime(d) => d.to_string(),
            _ => self.as_text().unwrap_or_default().to_owned(),
        };
        let parts: Vec<Option<i32>> = text.split('-').map(|p| p.parse().ok()).collect();
        let [Some(year), Some(month), Some(day)] = parts[..] else {
            return Err(self.wrong(format!(
                "{} is not a day; write it as 2025-05-01",
                self.shown()
            )));
        };
        Day::from_ymd(year, month.unsigned_abs(), day.unsigned_abs())
            .map_err(|e| self.wrong(e.to_string()))
    }

    pub(super) fn table(&self) -> Result<Table<'a>> {
        match self.value {
            DeValue::Table(inner) => Ok(Table {
                text: self.text,
                start: self.start,
                path: self.path.clone(),
                inner,
            }),
            _ => Err(self.wrong(format!(
                "{} is not a table; write {{ key = value }}",
                self.shown()
            ))),
        }
    }

    pub(super) fn items(&self) -> Result<impl Iterator<Item = Cell<'a>> + use<'a>> {
        let empty: &DeArray<'_> = match self.value {
            DeValue::Array(all) => all,
            _ => {
                return Err(self.wrong(format!("{} is not a list; write [1, 2, 3]", self.shown())));
            }
        };
        let (text, path) = (self.text, self.path.clone());
        Ok(empty.iter().enumerate().map(move |(at, v)| Cell {
            text,
            start: v.span().start,
            path: format!("{path}[{}]", at + 1),
            value: v.get_ref(),
        }))
    }

    /// One of several words.
    pub(super) fn one_of<T: Copy>(&self, known: &[(&str, T)]) -> Result<T> {
        let said = self.words()?;
        if let Some((_, value)) = known.iter().find(|(word, _)| *word == said) {
            return Ok(*value);
        }
        let words: Vec<&str> = known.iter().map(|(word, _)| *word).collect();
        Err(self.wrong(format!(
            "`{}` is not known here; say {}",
            crate::read::shortened(said),
            words.join(", ")
        )))
    }

    fn shown(&self) -> String {
        match self.value {
            DeValue::String(s) => format!("\"{}\"", crate::read::shortened(s)),
            DeValue::Integer(i) => i.to_string(),
            DeValue::Float(f) => f.to_string(),
            DeValue::Boolean(b) => b.to_string(),
            DeValue::Datetime(d) => d.to_string(),
            DeValue::Array(_) => "a list".into(),
            DeValue::Table(_) => "a table".into(),
        }
    }
}

/// The known key most like this one; likeness at least 0.5 (choice).
fn nearest<'k>(key: &str, known: &[&'k str]) -> Option<&'k str> {
    let like = |k: &str| strsim::normalized_damerau_levenshtein(&key.to_lowercase(), k);
    known
        .iter()
        .map(|k| (like(k), *k))
        .filter(|(likeness, k)| *likeness >= 0.5 || (key.len() > 2 && k.starts_with(key)))
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, k)| k)
}
