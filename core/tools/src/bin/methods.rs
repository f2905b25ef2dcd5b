//! Prints `docs/methods.md`.

fn main() -> Result<(), apiary_almanac::Error> {
    print!("{}", apiary_almanac_tools::methods::markdown()?);
    Ok(())
}
