//! What the engine holds as data, made when it is built.

use std::error::Error;
use std::path::PathBuf;
use std::{env, fs};

mod methods;
mod zones;

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo::rerun-if-changed=build");
    let out = PathBuf::from(env::var("OUT_DIR")?);
    methods::write(&out)?;
    fs::write(out.join("zones.bin"), zones::table()?)?;
    Ok(())
}
