//! What is asked of the journal at every step, read again only after something was written.
//!
//! Another program may write to the same journal at any time, so nothing here is trusted without its mark.

use std::sync::{Arc, RwLock};

use catalogue::Catalogue;
use jiff::tz::TimeZone;
use journal::Settings;

use crate::{Desk, Error, HOUSEHOLD};

/// A value of the journal at one mark.
pub(crate) struct Seen<T>(RwLock<Option<(i64, T)>>);

impl<T> Default for Seen<T> {
    fn default() -> Self {
        Self(RwLock::new(None))
    }
}

impl<T: Clone> Seen<T> {
    pub(crate) fn at(
        &self,
        mark: i64,
        read: impl FnOnce() -> Result<T, Error>,
    ) -> Result<T, Error> {
        if let Ok(place) = self.0.read()
            && let Some((then, value)) = place.as_ref()
            && *then == mark
        {
            return Ok(value.clone());
        }
        // Read after its mark was: what is written in between is read again at the next step.
        let value = read()?;
        if let Ok(mut place) = self.0.write() {
            *place = Some((mark, value.clone()));
        }
        Ok(value)
    }
}

impl Desk {
    /// How far the journal is written; 0 where none is kept.
    pub(crate) fn mark(&self) -> Result<i64, Error> {
        Ok(self.store.as_deref().map_or(Ok(0), |s| s.mark())?)
    }

    /// The catalogue as this household sees it: its own figures lie over it, those of a file over both.
    ///
    /// # Errors
    /// As the journal's; figures written by another program that cannot be used here.
    pub(crate) fn catalogue(&self) -> Result<Arc<Catalogue>, Error> {
        self.laid.at(self.mark()?, || {
            let mut rows = self.stored_own()?;
            rows.extend(self.file_rows.iter().cloned());
            Ok(if rows.is_empty() {
                Arc::clone(&self.base)
            } else {
                Arc::new(self.base.with_own(&rows)?)
            })
        })
    }

    /// Settings as they stand; none are given where no journal is kept.
    pub(crate) fn settings(&self) -> Result<Settings, Error> {
        self.settings
            .at(self.mark()?, || match self.store.as_deref() {
                Some(store) => Ok(store.settings(HOUSEHOLD)?),
                None => Ok(Settings::default()),
            })
    }

    /// The zone days are counted in: the one given, else the machine's.
    pub(crate) fn zone(&self) -> TimeZone {
        match self.settings().ok().and_then(|s| s.zone) {
            Some(zone) => TimeZone::get(&zone).unwrap_or(TimeZone::UTC),
            None => TimeZone::system(),
        }
    }

    /// The name of that zone. A machine's zone may have none: then its distance from UTC today is given.
    pub(crate) fn zone_used(&self) -> String {
        let zone = self.zone();
        match zone.iana_name() {
            Some("Etc/Unknown") => "UTC".into(),
            Some(name) => name.to_owned(),
            None => format!("UTC{}", self.clock.now(&zone).offset()),
        }
    }
}
