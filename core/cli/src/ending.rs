//! A file's name says by its ending what is written into it: another ending is refused before anything is
//! worked out.

use std::path::Path;

use apiary_almanac::Error;

/// What can be written into a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Calendar,
    Table,
    Poster,
}

impl Kind {
    fn ending(self) -> &'static str {
        match self {
            Kind::Calendar => "ics",
            Kind::Table => "csv",
            Kind::Poster => "svg",
        }
    }
}

/// Which of these kinds is to be written into a file, by its name.
pub fn kind(path: &Path, kinds: &[Kind]) -> Result<Kind, Error> {
    let ends_so = |kind: &&Kind| {
        let ending = path.extension();
        ending.is_some_and(|ending| ending.eq_ignore_ascii_case(kind.ending()))
    };
    let found = kinds.iter().find(ends_so).copied();
    found.ok_or_else(|| {
        let dotted = kinds.iter().map(|kind| format!(".{}", kind.ending()));
        let endings = dotted.collect::<Vec<_>>().join(" or ");
        refused(path, format!("a name that ends in {endings}"))
    })
}

/// Refuses a folder that would be made under what looks like the name of a file.
pub fn check_folder(path: &Path) -> Result<(), Error> {
    let ending = path.extension().unwrap_or_default().to_string_lossy();
    if path.is_dir() || !ending.starts_with(|first: char| first.is_ascii_alphabetic()) {
        return Ok(());
    }
    let allowed = format!(
        "a folder, as several files are written: one that is there, or a name without .{ending}"
    );
    Err(refused(path, allowed))
}

fn refused(path: &Path, allowed: String) -> Error {
    Error::UnknownName {
        field: "--out".to_owned(),
        given: path.display().to_string(),
        allowed,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_ending_names_what_is_written_and_another_is_refused() {
        let all = [Kind::Calendar, Kind::Table, Kind::Poster];
        let of =
            |name: &str, kinds: &[Kind]| kind(Path::new(name), kinds).map_err(|e| e.to_string());
        assert_eq!(of("a/2027.csv", &all), Ok(Kind::Table));
        assert_eq!(of("PLAN.ICS", &all), Ok(Kind::Calendar));
        let told = |name: &str| of(name, &[Kind::Calendar]).unwrap_err();
        for name in ["x.pdf", "x.csv", "ics", ".ics", "x.ics.txt", "x.ics ", "."] {
            assert!(told(name).contains(&format!("{name:?}")), "{}", told(name));
            assert!(
                told(name).contains("a name that ends in .ics"),
                "{}",
                told(name)
            );
        }
        assert!(of("x", &all).unwrap_err().contains(".ics or .csv or .svg"));
    }

    #[test]
    fn a_new_folder_is_not_named_like_a_file() {
        let told = |name: &str| {
            check_folder(Path::new(name))
                .err()
                .map(|error| error.to_string())
        };
        for name in ["all", "2026.09", "Dr. Marrow", "..", "out/"] {
            assert_eq!(told(name), None);
        }
        let refused = told("x/plan.ics").unwrap();
        assert!(
            refused.contains("plan.ics") && refused.contains("without .ics"),
            "{refused}"
        );
        let there = tempfile::Builder::new().suffix(".d").tempdir().unwrap();
        assert_eq!(check_folder(there.path()), Ok(()));
    }
}
