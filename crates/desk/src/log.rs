//! What happened?

use jiff::tz::TimeZone;
use journal::{Body, Entry, Measured, Page, Recorded};

use crate::answer::LogLine;
use crate::clock::moment;
use crate::{Desk, Error, HOUSEHOLD, moving};

/// First pages kept, of different lengths; the surfaces here ask for two.
const MOST_KEPT: usize = 4;
/// Kinds that the program writes by itself: they are no doings of the household.
pub(crate) const QUIET: [&str; 2] = ["foretold", "hours"];

impl Desk {
    /// The latest entries, newest first; `after` is the id of the last line of the page before.
    ///
    /// # Errors
    /// As the journal's; an unknown `after`.
    pub fn log(&self, most: u32, after: Option<&str>) -> Result<Vec<LogLine>, Error> {
        let most = most.clamp(1, 500);
        // The first page is the one looked at; those behind it are read as asked.
        if after.is_some() {
            return self.read_log(most, after);
        }
        self.keeping(
            |kept| {
                if kept.logs.len() > MOST_KEPT {
                    kept.logs.clear();
                }
                kept.logs.entry(most).or_default()
            },
            |desk| desk.read_log(most, None),
        )
    }

    fn read_log(&self, most: u32, after: Option<&str>) -> Result<Vec<LogLine>, Error> {
        let page = Page {
            after: after.map(str::parse).transpose()?,
            limit: Some(most),
            reverse: true,
            undone: true,
            without: QUIET.map(str::to_owned).to_vec(),
            ..Page::default()
        };
        let (names, zone) = (self.chamber_names()?, self.zone());
        Ok(self
            .store()?
            .history(HOUSEHOLD, &page)?
            .iter()
            .map(|e| log_line(e, &names, &zone))
            .collect())
    }

    pub(crate) fn chamber_names(&self) -> Result<Vec<(String, String)>, Error> {
        let chambers = self.store()?.chambers(HOUSEHOLD)?;
        Ok(chambers
            .into_iter()
            .map(|c| (c.id.clone(), c.name.unwrap_or(c.id)))
            .collect())
    }

    /// Everything, as lines of JSON.
    ///
    /// # Errors
    /// As the journal's.
    pub fn export(&self, out: &mut dyn std::io::Write) -> Result<(), Error> {
        Ok(journal::export(self.store()?, HOUSEHOLD, out)?)
    }

    /// Takes an export in, whole or not at all; gives how many entries were new.
    ///
    /// # Errors
    /// The first line that cannot be used; nothing is imported then.
    pub fn import(&self, input: &mut dyn std::io::BufRead) -> Result<usize, Error> {
        Ok(journal::import(self.store()?, input)?.written)
    }
}

pub(crate) fn log_line(entry: &Entry, names: &[(String, String)], zone: &TimeZone) -> LogLine {
    let (text, unknown) = match &entry.body {
        Recorded::Known(body) => said(body),
        Recorded::Unknown { .. } => (
            "written by a newer program; kept as it is".into(),
            Vec::new(),
        ),
    };
    let named = |id: &str| {
        let known = names.iter().find(|(known, _)| known == id);
        known.map_or_else(|| id.to_owned(), |(_, name)| name.clone())
    };
    let chamber = entry.body.known().and_then(Body::chamber).map(named);
    let text = match entry.body.known() {
        Some(Body::Moved(it)) => format!("{} moved into {}", moving::told(it.share), named(&it.to)),
        _ => text,
    };
    LogLine {
        id: entry.id.to_string(),
        at: moment(entry.at, zone),
        kind: entry.kind.clone(),
        chamber,
        text,
        unknown,
        undone: entry.undone_by.is_some(),
        corrected: entry.corrected_by.is_some(),
        aside: match entry.body.known() {
            Some(Body::Reading(it)) => it.aside.clone().into_iter().collect(),
            _ => Vec::new(),
        },
    }
}

fn said(body: &Body) -> (String, Vec<String>) {
    let plain = |text: &str| (text.to_owned(), Vec::new());
    match body {
        Body::PutIn(it) => (it.text.clone(), it.unknown.clone()),
        Body::Opened(it) => match it.level {
            Some(level) => plain(&format!("record began, about {:.0} % full", level * 100.0)),
            None => plain("record began"),
        },
        Body::Closed(_) => plain("closed"),
        Body::Emptied(it) => match it.litres {
            Some(litres) => plain(&format!("emptied, {litres:.0} L")),
            None => plain("emptied"),
        },
        Body::Moved(it) => plain(&format!("{} moved into {}", moving::told(it.share), it.to)),
        Body::StockSet(it) => match (it.litres, it.kg) {
            (Some(litres), _) => plain(&format!("{} counted: {litres:.0} L", it.material)),
            (_, Some(kg)) => plain(&format!("{} counted: {kg:.1} kg", it.material)),
            _ => plain(&format!("{} counted", it.material)),
        },
        Body::StockMoved(it) => plain(&it.why),
        Body::OwnFigures(it) => plain(&format!(
            "own figures for {}",
            it.name.as_ref().unwrap_or(&it.material)
        )),
        Body::HouseholdSet(it)
            if it.food_allowed.is_some() || it.apart_m.is_some() || it.largest_l.is_some() =>
        {
            plain("local rules noted")
        }
        Body::HouseholdSet(_) => plain("settings changed"),
        Body::ChamberSet(_) => plain("chamber set"),
        Body::Reading(it) if !it.text.is_empty() => plain(&it.text),
        Body::Reading(it) => {
            let values: Vec<String> = it
                .values
                .iter()
                .map(|(name, value)| match value {
                    Measured::Number(n) => format!("{name} {n}"),
                    Measured::Text(t) => format!("{name} {t}"),
                })
                .collect();
            (values.join(", "), Vec::new())
        }
        Body::WeatherSet(it) => {
            let days = match it.days.len() {
                1 => "1 day".to_owned(),
                n => format!("{n} days"),
            };
            let from = it.days.iter().map(|d| d.day).min();
            let to = it.days.iter().map(|d| d.day).max();
            plain(&match from.zip(to) {
                Some((from, to)) => format!("weather of {days}, {from} to {to}: {}", it.source),
                None => "weather of no days".into(),
            })
        }
        Body::Note(it) => plain(&it.text),
        Body::Foretold(_) => plain("forecast given"),
        Body::SensorSet(it) if it.revoked => {
            plain(&format!("token of probe {} taken back", it.sensor))
        }
        Body::SensorSet(it) => plain(&format!("probe {} made known", it.sensor)),
        Body::Hours(it) => plain(&format!("{} hours of probe {}", it.hours.len(), it.sensor)),
        Body::Undone(_) => plain("undone"),
        Body::Corrected(_) => plain("corrected"),
    }
}
