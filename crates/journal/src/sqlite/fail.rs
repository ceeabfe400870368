//! What SQLite reports, turned into facts.

use std::path::PathBuf;
use std::time::Duration;

use rusqlite::ErrorCode;

use crate::error::Error;

/// A failure inside: a fact already, or SQLite's own.
#[derive(Debug)]
pub(super) enum Fail {
    Fact(Error),
    Sql(rusqlite::Error),
}

pub(super) type Inner<T> = std::result::Result<T, Fail>;

impl From<Error> for Fail {
    fn from(fact: Error) -> Self {
        Self::Fact(fact)
    }
}

impl From<rusqlite::Error> for Fail {
    fn from(sql: rusqlite::Error) -> Self {
        Self::Sql(sql)
    }
}

/// Where the journal is kept and how long it waits, to name both in an error.
#[derive(Debug, Clone)]
pub(super) struct Place {
    pub(super) path: PathBuf,
    pub(super) wait: Duration,
}

/// Extended code of a read that came back short: the file ends too early.
const SHORT_READ: i32 = 522;

impl Place {
    /// Names the failure.
    pub(super) fn name(&self, fail: Fail) -> Error {
        let sql = match fail {
            Fail::Fact(fact) => return fact,
            Fail::Sql(sql) => sql,
        };
        let path = self.path.clone();
        let detail = sql.to_string();
        let (code, extended) = match &sql {
            rusqlite::Error::SqliteFailure(code, _) => (code.code, code.extended_code),
            // A column that does not hold what the layout says.
            rusqlite::Error::FromSqlConversionFailure(..)
            | rusqlite::Error::IntegralValueOutOfRange(..)
            | rusqlite::Error::InvalidColumnType(..) => return Error::Corrupt { path, detail },
            _ => return Error::Storage { path, detail },
        };
        match code {
            ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked => Error::Busy {
                path,
                waited_s: self.wait.as_secs_f64(),
            },
            ErrorCode::DiskFull => Error::DiskFull { path },
            ErrorCode::ReadOnly | ErrorCode::PermissionDenied => Error::ReadOnly { path },
            ErrorCode::CannotOpen => Error::CannotOpen { path, detail },
            ErrorCode::DatabaseCorrupt => Error::Corrupt { path, detail },
            ErrorCode::NotADatabase => Error::Foreign {
                path,
                found: "no database".into(),
            },
            ErrorCode::SystemIoFailure if extended == SHORT_READ => Error::Corrupt { path, detail },
            _ => Error::Storage { path, detail },
        }
    }
}
