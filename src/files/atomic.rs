//! Files that appear whole or not at all.

use super::error::FileError;
use std::fs::{self, Permissions};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};
use tempfile::{Builder, NamedTempFile};

/// A file written beside its place, not yet in it; dropped, it leaves nothing.
pub(super) struct Pending {
    file: NamedTempFile,
    place: PathBuf,
}

impl Pending {
    /// What `fill` writes, on disk beside its place.
    pub(super) fn write(
        path: &Path,
        fill: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> Result<Self, FileError> {
        let (folder, place) = folder_and_place(path)?;
        let written = || -> io::Result<NamedTempFile> {
            let file = with_usual_permissions(&mut Builder::new()).tempfile_in(&folder)?;
            let mut buffer = BufWriter::new(file.as_file());
            fill(&mut buffer)?;
            buffer.flush()?;
            drop(buffer);
            file.as_file().sync_all()?;
            Ok(file)
        };
        Ok(Self { file: written().map_err(|error| unwritable(path, &error))?, place })
    }

    /// The file put in its place, in one step.
    pub(super) fn persist(self) -> Result<(), FileError> {
        let Self { file, place } = self;
        file.persist(&place).map_err(|error| unwritable(&place, &error.error))?;
        Ok(())
    }
}

/// Writes a text to a file, whole or not at all: beside its place first, then moved into it.
pub fn write_text(path: impl AsRef<Path>, text: &str) -> Result<(), FileError> {
    write_bytes(path, text.as_bytes())
}

/// Writes bytes to a file, whole or not at all: beside its place first, then moved into it.
pub fn write_bytes(path: impl AsRef<Path>, bytes: &[u8]) -> Result<(), FileError> {
    write_with(path.as_ref(), |out| out.write_all(bytes))
}

/// Writes what `fill` gives to a file, whole or not at all.
pub(super) fn write_with(
    path: &Path,
    fill: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> Result<(), FileError> {
    Pending::write(path, fill)?.persist()
}

/// The folder to write in, and the place itself, with a link followed to the file it names.
fn folder_and_place(path: &Path) -> Result<(PathBuf, PathBuf), FileError> {
    let place = fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
    let blocked = |reason: String| FileError::Unwritable { file: path.to_path_buf(), reason };
    if place.is_dir() {
        return Err(blocked("a folder stands at this place: expected the name of a file".into()));
    }
    if place.file_name().is_none() {
        return Err(blocked("expected the name of a file".into()));
    }
    let folder = match place.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder.to_path_buf(),
        _ => PathBuf::from("."),
    };
    match fs::metadata(&folder) {
        Ok(found) if found.is_dir() => Ok((folder, place)),
        Ok(_) => Err(blocked(format!("{} is a file: expected a folder", folder.display()))),
        Err(error) => Err(blocked(format!("the folder {}: {error}", folder.display()))),
    }
}

/// Permissions as of a file made the usual way; a temporary one is private unless told otherwise.
#[cfg(unix)]
fn with_usual_permissions<'a, 'b>(builder: &'a mut Builder<'b, 'b>) -> &'a mut Builder<'b, 'b> {
    use std::os::unix::fs::PermissionsExt;
    builder.permissions(Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
fn with_usual_permissions<'a, 'b>(builder: &'a mut Builder<'b, 'b>) -> &'a mut Builder<'b, 'b> {
    builder
}

fn unwritable(path: &Path, error: &io::Error) -> FileError {
    FileError::Unwritable { file: path.to_path_buf(), reason: error.to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_write_that_fails_half_way_leaves_the_old_file_and_no_other() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("report.json");
        write_text(&path, "old").unwrap();
        let error = write_with(&path, |out| {
            out.write_all(&vec![b'x'; 100_000])?;
            Err(io::Error::new(io::ErrorKind::StorageFull, "no space left"))
        });
        assert!(error.unwrap_err().to_string().contains("no space left"));
        assert_eq!(fs::read_to_string(&path).unwrap(), "old");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_file_where_the_folder_should_be_and_a_missing_folder_are_named() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("a");
        write_text(&file, "").unwrap();
        let error = write_text(file.join("b.csv"), "").unwrap_err().to_string();
        assert!(error.contains("is a file") && error.contains("b.csv"), "{error}");
        let error = write_text(folder.path().join("none/b.csv"), "").unwrap_err().to_string();
        assert!(error.contains("none") && error.contains("b.csv"), "{error}");
        let error = write_text(folder.path(), "").unwrap_err().to_string();
        assert!(error.contains("a folder stands"), "{error}");
    }

    #[cfg(unix)]
    #[test]
    fn others_may_read_what_was_written_as_any_file() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let (ours, usual) = (folder.path().join("a"), folder.path().join("b"));
        write_text(&ours, "x").unwrap();
        fs::write(&usual, "x").unwrap();
        let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode();
        assert_eq!(mode(&ours), mode(&usual));
    }
}
