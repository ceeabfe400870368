//! A journal of its own for a test of the command line, gone at the end.

use std::path::PathBuf;
use std::process::{Command, Output};

use serde_json::Value;

/// A folder for one journal.
pub(crate) struct Home(pub(crate) PathBuf);

impl Home {
    /// An empty one; the name keeps tests apart.
    pub(crate) fn new(name: &str) -> Self {
        let dir =
            std::env::temp_dir().join(format!("loamwright-test-{}-{name}", std::process::id()));
        std::fs::create_dir_all(&dir).unwrap();
        Self(dir)
    }

    /// Runs the program on it.
    pub(crate) fn run(&self, args: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_loamwright"))
            .args(args)
            .env("LOAMWRIGHT_DATA", &self.0)
            .env("NO_COLOR", "1")
            .output()
            .unwrap()
    }

    /// Exit code and answer, as JSON.
    pub(crate) fn json(&self, args: &[&str]) -> (i32, Value) {
        let mut all = args.to_vec();
        all.push("--json");
        let out = self.run(&all);
        let text = String::from_utf8(out.stdout).unwrap();
        (
            out.status.code().unwrap(),
            serde_json::from_str(&text).unwrap_or_else(|e| panic!("{e}: {text}")),
        )
    }
}

impl Drop for Home {
    fn drop(&mut self) {
        _ = std::fs::remove_dir_all(&self.0);
    }
}
