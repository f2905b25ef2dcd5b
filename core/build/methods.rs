//! Turns the built-in methods, which people write as TOML, into the JSON that the engine reads.
//! So a door that takes no TOML carries no reader for it.

use std::error::Error;
use std::fs;
use std::path::Path;

const FOLDER: &str = "src/method/data";

/// Writes a file of JSON into `out` for each method.
pub fn write(out: &Path) -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed={FOLDER}");
    for entry in fs::read_dir(FOLDER)? {
        let path = entry?.path();
        let name = path.file_stem().ok_or("a file without a name")?;
        let method: toml::Table = fs::read_to_string(&path)?
            .parse()
            .map_err(|problem| format!("{}: {problem}", path.display()))?;
        let json = out.join(name).with_extension("json");
        fs::write(json, serde_json::to_string(&method)?)?;
    }
    Ok(())
}
