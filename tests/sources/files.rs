//! The files of the core, for tests that read them.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// All Rust files under a folder, in order; not those of another crate.
pub(crate) fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut queue = vec![folder.to_path_buf()];
    let mut files = BTreeSet::new();
    while let Some(folder) = queue.pop() {
        for entry in fs::read_dir(&folder).expect("a folder reads") {
            let path = entry.expect("an entry reads").path();
            // A folder with a manifest of its own is another crate.
            if path.is_dir() && !path.join("Cargo.toml").exists() {
                queue.push(path);
            } else if path.extension().is_some_and(|end| end == "rs") {
                files.insert(path);
            }
        }
    }
    files.into_iter().collect()
}
