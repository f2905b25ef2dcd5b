//! Writes files: beside their place first, and then they take it. So a reader finds the old file or the
//! new one, never a part, and a full disk costs nothing that was there.

use std::fs::Permissions;
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use super::Problem;

/// What must not be written over without being asked for.
pub struct Writer<'a> {
    /// Files that the answer was made from.
    pub read: &'a [PathBuf],
    /// Write over them all the same, and through links.
    pub force: bool,
}

impl Writer<'_> {
    /// Writes all files, or none where one of them may not be written.
    pub fn write(&self, files: &[(PathBuf, &str)]) -> Result<(), Problem> {
        let places = files
            .iter()
            .map(|(path, _)| self.place(path))
            .collect::<Result<Vec<_>, _>>()?;
        for (place, (path, text)) in places.iter().zip(files) {
            put(place, text.as_bytes()).map_err(|source| failed(path, source))?;
        }
        Ok(())
    }

    /// Where a file comes to stand.
    fn place(&self, path: &Path) -> Result<PathBuf, Problem> {
        let refused = |problem: &str| Problem::NotWritten {
            file: path.display().to_string(),
            problem: problem.to_owned(),
        };
        let found = match path.symlink_metadata() {
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(path.to_owned()),
            found => found.map_err(|source| failed(path, source))?,
        };
        if found.is_symlink() && !self.force {
            return Err(refused(
                "a link stands there; --force writes to where it leads",
            ));
        }
        let place = path.canonicalize().map_err(|source| failed(path, source))?;
        if !place.is_file() {
            return Err(refused("what stands there is not an ordinary file"));
        }
        let is_place = |read: &PathBuf| read.canonicalize().is_ok_and(|read| read == place);
        if self.read.iter().any(is_place) && !self.force {
            return Err(refused(
                "the answer was made from this file; --force writes over it",
            ));
        }
        Ok(place)
    }
}

pub fn failed(path: &Path, source: io::Error) -> Problem {
    Problem::File {
        file: path.display().to_string(),
        source,
    }
}

fn put(place: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = place
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty())
        .unwrap_or(Path::new("."));
    let before = place.metadata().ok().map(|found| found.permissions());
    // The folder would let a write-protected file be replaced.
    if before.as_ref().is_some_and(Permissions::readonly) {
        return Err(ErrorKind::PermissionDenied.into());
    }
    let mut beside = tempfile::Builder::new();
    // As any new file: what the user's mask leaves.
    #[cfg(unix)]
    beside.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let mut file = beside.tempfile_in(folder)?;
    if let Some(before) = before {
        file.as_file().set_permissions(before)?;
    }
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    file.persist(place)?;
    Ok(())
}
