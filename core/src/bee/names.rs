//! Bees by the names that people write.

use super::genera::{GENERA, genus_of};
use super::numbers::Bee;
use super::profiles::{SPECIES, bee_names, generic, of_genus, species};
use crate::error::{Error, clip};

/// Most changes of letters by which a known name is taken to be meant.
const MOST_SLIPS: usize = 4;

/// A built-in bee by name. Capitals, spaces, hyphens and a genus cut to its first letter (`T. carbonaria`)
/// are understood, a subspecies is taken for its species, and a genus alone gives the class of its size.
///
/// # Errors
/// `unknown_name`: with the name that was probably meant, and for a species of a known genus with the
/// generic bee to take for it.
///
/// ```
/// use apiary_almanac::bee::built_in;
/// assert_eq!(built_in("Tetragonula carbonaria")?.flight_minimum_c().value, 18.0);
/// assert_eq!(built_in("Melipona")?.size(), built_in("generic_large")?.size());
/// let error = built_in("Melipona asilvai").unwrap_err().to_string();
/// assert!(error.contains("generic_large"), "{error}");
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn built_in(name: &str) -> Result<Bee, Error> {
    let wanted = plain(name);
    if let Some(bee) = generic(&wanted) {
        return bee;
    }
    if let Some(known) = SPECIES.iter().find(|one| is_called(one.name, &wanted)) {
        return species(known, &label(known.name));
    }
    if let Some(genus) = GENERA.iter().find(|genus| genus.name == wanted) {
        return of_genus(genus, genus.name, &label(genus.name));
    }
    Err(unknown(name, &wanted))
}

/// Small letters and digits, `_` between them.
fn plain(name: &str) -> String {
    let words = name.split(|c: char| !c.is_alphanumeric());
    let words: Vec<_> = words
        .filter(|word| !word.is_empty())
        .map(str::to_ascii_lowercase)
        .collect();
    words.join("_")
}

/// Whether a species is meant: by its whole name, with a subspecies behind it, or with the genus cut to
/// its first letter where no other species is called so.
fn is_called(species: &str, wanted: &str) -> bool {
    if let Some(rest) = wanted.strip_prefix(species) {
        return rest.is_empty() || rest.starts_with('_');
    }
    let short = |name: &str| -> Option<String> {
        let (genus, epithet) = name.split_once('_')?;
        Some(format!("{}_{epithet}", genus.get(..1)?))
    };
    let is_short = |name: &str| short(name).as_deref() == Some(wanted);
    is_short(species) && SPECIES.iter().filter(|one| is_short(one.name)).count() == 1
}

/// `Tetragonula carbonaria`.
fn label(name: &str) -> String {
    let (first, rest) = name.split_at(1);
    format!("{}{}", first.to_ascii_uppercase(), rest.replace('_', " "))
}

fn unknown(given: &str, wanted: &str) -> Error {
    let near = || {
        let all = bee_names().into_iter();
        let all = all.chain(GENERA.iter().map(|genus| genus.name));
        all.map(|name| (strsim::levenshtein(name, wanted), name))
            .min()
            .filter(|(slips, name)| *slips <= MOST_SLIPS.min(name.len() / 3))
            .map(|(_, name)| name)
    };
    // The text comes from outside: no longer name is compared.
    let meant = (wanted.len() <= 60).then(near).flatten();
    let like = genus_of(wanted).map(|genus| {
        format!(
            "{}, for a species like others of {}",
            genus.size.generic(),
            label(genus.name)
        )
    });
    let helpful: Vec<_> = [meant.map(|name| format!("{name}, if that is meant")), like]
        .into_iter()
        .flatten()
        .collect();
    Error::UnknownName {
        field: "bee".to_owned(),
        given: clip(given),
        allowed: if helpful.is_empty() {
            bee_names().join(", ")
        } else {
            helpful.join("; ")
        },
    }
}
