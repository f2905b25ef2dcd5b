//! Reads text files as people save them: UTF-8, UTF-16 with its mark, or an old 8-bit code.

use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

use encoding_rs::{Encoding, WINDOWS_1252};

use super::Problem;
use super::output::failed;

/// A larger file is no table of a keeper, bytes.
const LARGEST: u64 = 64_000_000;

/// The text of a file. `read` takes its path, `said` how it was read where that could be wrong.
pub fn text_of(
    path: &Path,
    read: &mut Vec<PathBuf>,
    said: &mut Vec<String>,
) -> Result<String, Problem> {
    read.push(path.to_owned());
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(|source| failed(path, source))?;
    file.take(LARGEST + 1)
        .read_to_end(&mut bytes)
        .map_err(|source| failed(path, source))?;
    let not_read = |problem: &str| Problem::NotRead {
        file: path.display().to_string(),
        problem: problem.to_owned(),
    };
    if bytes.len() as u64 > LARGEST {
        return Err(not_read("it is larger than 64 MB"));
    }
    match text(&bytes) {
        Some(Decoded::Sure(text)) => Ok(text),
        Some(Decoded::Guessed(text)) => {
            said.push(format!(
                "{}: taken as Windows-1252, as it is no UTF-8; save it as UTF-8 if letters come out wrong.",
                path.display()
            ));
            Ok(text)
        }
        None => Err(not_read("it is no text; save it as UTF-8 text or CSV")),
    }
}

/// A text, and whether its code is known.
enum Decoded {
    Sure(String),
    Guessed(String),
}

/// `None` for what is no text at all.
fn text(bytes: &[u8]) -> Option<Decoded> {
    if let Some((marked, _)) = Encoding::for_bom(bytes) {
        let (text, _, wrong) = marked.decode(bytes);
        return (!wrong).then(|| Decoded::Sure(text.into_owned()));
    }
    if bytes.contains(&0) {
        return None;
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => Some(Decoded::Sure(text.to_owned())),
        Err(_) => {
            let (text, _) = WINDOWS_1252.decode_without_bom_handling(bytes);
            Some(Decoded::Guessed(text.into_owned()))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(bytes: &[u8]) -> Option<(String, bool)> {
        text(bytes).map(|read| match read {
            Decoded::Sure(text) => (text, true),
            Decoded::Guessed(text) => (text, false),
        })
    }

    #[test]
    fn codes_that_spreadsheets_and_editors_save() {
        let sure = |text: &str| Some((text.to_owned(), true));
        assert_eq!(read("größe".as_bytes()), sure("größe"));
        assert_eq!(read("\u{feff}größe".as_bytes()), sure("größe"));
        // The Unicode Standard, section 23.8: FF FE before little-endian UTF-16, FE FF before big-endian.
        let units: Vec<u16> = "ä€\n".encode_utf16().collect();
        let little: Vec<u8> = units.iter().flat_map(|unit| unit.to_le_bytes()).collect();
        let big: Vec<u8> = units.iter().flat_map(|unit| unit.to_be_bytes()).collect();
        assert_eq!(read(&[&[0xff, 0xfe][..], &little].concat()), sure("ä€\n"));
        assert_eq!(read(&[&[0xfe, 0xff][..], &big].concat()), sure("ä€\n"));
        // The Encoding Standard's index of windows-1252: E4 is ä, 80 is €.
        assert_eq!(read(b"\xe4\x80"), Some(("ä€".to_owned(), false)));
        assert_eq!(read(b"PK\x03\x04\0\0"), None);
        assert_eq!(read(&[0xff, 0xfe, 0x00, 0xd8]), None);
    }
}
