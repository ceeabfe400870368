//! The files of the repository, as a clone would have them.

use std::fs;
use std::path::{Path, PathBuf};

/// Folders that are built or fetched, never committed.
const SKIPPED: &[&str] = &["target", ".git", "node_modules", "shots", "__pycache__"];

/// Kinds of file that are text and written by hand or by our own tools.
const TEXT: &[&str] = &[
    "rs", "toml", "md", "csv", "css", "js", "mjs", "json", "py", "txt", "sql", "svg", "html",
    "snap", "yml", "yaml", "run", "lock", "",
];

/// One text file, its path from the root with forward slashes.
pub(crate) struct File {
    pub(crate) path: String,
    pub(crate) text: String,
}

impl File {
    pub(crate) fn extension(&self) -> &str {
        let name = self.path.rsplit('/').next().unwrap_or_default();
        name.rsplit_once('.')
            .map_or("", |(stem, extension)| match stem {
                "" => "",
                _ => extension,
            })
    }
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// A file that must be there.
pub(crate) fn read(path: &str) -> String {
    try_read(path).unwrap_or_else(|| panic!("{path} is missing or is not text"))
}

pub(crate) fn try_read(path: &str) -> Option<String> {
    fs::read_to_string(root().join(path)).ok()
}

/// Names of the folders directly inside one.
pub(crate) fn folders(path: &str) -> Vec<String> {
    entries(&root().join(path))
        .into_iter()
        .filter(|entry| entry.is_dir())
        .map(|entry| name(&entry))
        .collect()
}

/// Every text file of the tree, in the order of its path.
pub(crate) fn files() -> Vec<File> {
    let mut found = Vec::new();
    walk(&root(), "", &mut found);
    found.sort_by(|a, b| a.path.cmp(&b.path));
    found
}

fn walk(folder: &Path, prefix: &str, found: &mut Vec<File>) {
    for entry in entries(folder) {
        let name = name(&entry);
        let path = if prefix.is_empty() {
            name.clone()
        } else {
            format!("{prefix}/{name}")
        };
        if entry.is_dir() {
            if !SKIPPED.contains(&name.as_str()) {
                walk(&entry, &path, found);
            }
            continue;
        }
        let mut file = File {
            path,
            text: String::new(),
        };
        if TEXT.contains(&file.extension()) {
            let bytes = fs::read(&entry).unwrap_or_else(|e| panic!("{}: {e}", file.path));
            file.text = String::from_utf8(bytes)
                .unwrap_or_else(|e| panic!("{} is not UTF-8: {e}", file.path));
            found.push(file);
        }
    }
}

fn entries(folder: &Path) -> Vec<PathBuf> {
    fs::read_dir(folder)
        .unwrap_or_else(|e| panic!("{}: {e}", folder.display()))
        .map(|entry| {
            entry
                .unwrap_or_else(|e| panic!("{}: {e}", folder.display()))
                .path()
        })
        .collect()
}

fn name(path: &Path) -> String {
    path.file_name()
        .map(|name| name.to_string_lossy().into_owned())
        .unwrap_or_default()
}
