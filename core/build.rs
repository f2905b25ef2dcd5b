//! Turns the built-in methods, which people write as TOML, into the JSON that the engine reads.
//! So a door that takes no TOML carries no reader for it.

use std::error::Error;
use std::path::Path;
use std::{env, fs};

fn main() -> Result<(), Box<dyn Error>> {
    let folder = "src/method/data";
    println!("cargo::rerun-if-changed={folder}");
    let out = env::var("OUT_DIR")?;
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        let name = path.file_stem().ok_or("a file without a name")?;
        let method: toml::Table = fs::read_to_string(&path)?
            .parse()
            .map_err(|problem| format!("{}: {problem}", path.display()))?;
        let json = Path::new(&out).join(name).with_extension("json");
        fs::write(json, serde_json::to_string(&method)?)?;
    }
    Ok(())
}
