//! Prints `docs/parameters.md`.

fn main() {
    print!("{}", apiary_almanac::parameters::parameters_markdown());
}
