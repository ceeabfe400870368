//! Take it back, or say it better. Both are events; nothing is lost.

use journal::{Body, Corrected, EventId, Order, Page, PutIn, Undone};

use crate::add::recorded;
use crate::answer::LogLine;
use crate::log::log_line;
use crate::{Desk, Error, HOUSEHOLD};

impl Desk {
    /// Undoes an entry by id, or the one written last. Gives the line that no longer counts.
    ///
    /// # Errors
    /// [`Error::NothingToUndo`]; an unknown id or one that is undone already.
    pub fn undo(&self, id: Option<&str>, key: Option<&str>) -> Result<LogLine, Error> {
        let target: EventId = match id {
            Some(id) => id.parse()?,
            None => self.last_written()?.ok_or(Error::NothingToUndo)?,
        };
        self.write(Body::Undone(Undone { event: target }), None, key)?;
        self.line_of(target)
    }

    /// Puts other words in place of an entry's; the chamber stays unless the words name one.
    ///
    /// # Errors
    /// As [`Desk::add`]; an id that is no entry of something put in.
    pub fn correct(&self, id: &str, text: &str, key: Option<&str>) -> Result<LogLine, Error> {
        let target: EventId = id.parse()?;
        let entry = self
            .store()?
            .entry(HOUSEHOLD, target)?
            .ok_or_else(|| Error::NoSuchId(crate::read::shortened(id)))?;
        let Some(Body::PutIn(old)) = entry.body.known() else {
            return Err(Error::BadSetting {
                field: "entry".into(),
                reason: "only what was put in can be said again; undo this one instead".into(),
            });
        };
        let read = self.read_to_record(text)?;
        let (portions, unknown) = recorded(&read.reading)?;
        let chamber = match &read.reading.chamber {
            Some(name) => self.chamber_named(name)?.id,
            None => old.chamber.clone(),
        };
        let body = Body::PutIn(PutIn {
            chamber,
            text: text.to_owned(),
            portions,
            unknown,
        });
        self.write(
            Body::Corrected(Corrected {
                event: target,
                at: read.at,
                body: Box::new(body),
            }),
            None,
            key,
        )?;
        self.line_of(target)
    }

    fn line_of(&self, id: EventId) -> Result<LogLine, Error> {
        let names = self.chamber_names()?;
        let entry = self
            .store()?
            .entry(HOUSEHOLD, id)?
            .ok_or_else(|| Error::NoSuchId(id.to_string()))?;
        Ok(log_line(&entry, &names, &self.zone()))
    }

    /// The entry written last that still counts; undos and corrections are passed over.
    fn last_written(&self) -> Result<Option<EventId>, Error> {
        let page = Page {
            reverse: true,
            order: Order::Written,
            limit: Some(200),
            without: crate::log::QUIET.map(str::to_owned).to_vec(),
            ..Page::default()
        };
        let store = self.store()?;
        for event in store.events(HOUSEHOLD, &page)? {
            if matches!(
                event.body.known(),
                Some(Body::Undone(_) | Body::Corrected(_))
            ) {
                continue;
            }
            let entry = store.entry(HOUSEHOLD, event.raw.id)?;
            if entry.is_some_and(|e| e.undone_by.is_none()) {
                return Ok(Some(event.raw.id));
            }
        }
        Ok(None)
    }

    /// A fingerprint of everything that counts now.
    ///
    /// # Errors
    /// As the journal's.
    pub fn state_hash(&self) -> Result<String, Error> {
        Ok(self.store()?.state_hash(HOUSEHOLD)?)
    }
}
