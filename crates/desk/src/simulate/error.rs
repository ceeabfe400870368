//! Why a case was not run: the line, the key, what is wrong and the way out.

use std::fmt;

/// What went wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CaseFault {
    /// A key, a value or a range.
    Bad,
    /// Words that mean nothing here, or several things.
    NotUnderstood,
    /// Something that stays out of any compost.
    Refused,
    /// A file that cannot be read, or figures that came out wrong.
    Failed,
}

/// A case that was not run.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseError {
    /// What went wrong.
    pub fault: CaseFault,
    /// Line of the case file, from 1; `None` for what was given beside it.
    pub line: Option<usize>,
    /// Key with its tables, as `vessel.litres`.
    pub key: String,
    /// What is wrong and what to do.
    pub says: String,
}

impl fmt::Display for CaseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.line, self.key.as_str()) {
            (Some(line), "") => write!(f, "line {line}: {}", self.says),
            (Some(line), key) => write!(f, "line {line}, {key}: {}", self.says),
            (None, "") => f.write_str(&self.says),
            (None, key) => write!(f, "{key}: {}", self.says),
        }
    }
}

impl std::error::Error for CaseError {}

impl CaseError {
    /// Without a line.
    pub(super) fn plain(fault: CaseFault, key: &str, says: impl Into<String>) -> Self {
        Self {
            fault,
            line: None,
            key: key.to_owned(),
            says: says.into(),
        }
    }

    /// The same under another fault.
    pub(super) fn but(self, fault: CaseFault) -> Self {
        Self { fault, ..self }
    }
}
