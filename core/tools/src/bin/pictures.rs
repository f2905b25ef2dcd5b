//! Writes the pictures of `docs/calendars.md` and those in `core/tests/pictures`.

use apiary_almanac_tools::scenes;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    for (file, svg) in scenes::pictures()? {
        std::fs::write(scenes::project().join(file), svg)?;
    }
    Ok(())
}
