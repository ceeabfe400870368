//! Progress on standard error, for work that takes over half a second.

use std::io::{IsTerminal as _, Write as _};
use std::time::{Duration, Instant};

/// Work shorter than this goes without a word; progress is told as often.
const PATIENCE: Duration = Duration::from_millis(500);

/// A line that is written over on a terminal, a line each time elsewhere.
pub(super) struct Progress {
    live: bool,
    told: Instant,
    spoke: bool,
}

impl Progress {
    pub(super) fn new() -> Self {
        Self {
            live: std::io::stderr().is_terminal(),
            told: Instant::now(),
            spoke: false,
        }
    }

    /// Runs done, and runs in all.
    pub(super) fn tell(&mut self, done: u64, all: u64) {
        if self.told.elapsed() < PATIENCE || done >= all {
            return;
        }
        self.told = Instant::now();
        self.spoke = true;
        let (before, after) = if self.live { ("\r", "") } else { ("", "\n") };
        let mut out = std::io::stderr().lock();
        _ = write!(out, "{before}run {done} of {all}{after}");
        _ = out.flush();
    }

    /// Clears the line, so that the answer begins on an empty one.
    pub(super) fn end(self) {
        if self.spoke && self.live {
            _ = write!(std::io::stderr().lock(), "\r\x1b[K");
        }
    }
}
