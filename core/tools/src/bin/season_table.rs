//! Prints `docs/seasons.md`: published and practised seasons beside the computed ones.

use apiary_almanac::Error;

fn main() -> Result<(), Error> {
    print!("{}", apiary_almanac_tools::season_table::season_table()?);
    Ok(())
}
