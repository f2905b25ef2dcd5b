//! Where a test stops to pass.

/// Between a whole number that passes a test and one that does not, the last that passes and the
/// first that fails, by halving; `passes` must change once between them.
///
/// # Errors
/// Those of the test.
pub(crate) fn change<E>(
    mut passing: i64,
    mut failing: i64,
    passes: impl Fn(i64) -> Result<bool, E>,
) -> Result<(i64, i64), E> {
    while passing.abs_diff(failing) > 1 {
        let middle = i64::midpoint(passing, failing);
        if passes(middle)? {
            passing = middle;
        } else {
            failing = middle;
        }
    }
    Ok((passing, failing))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_neighbours_of_every_change() {
        for last in -3..9 {
            let up = change(-3, 9, |n| Ok::<_, ()>(n <= last));
            assert_eq!(up, Ok((last, last + 1)));
            let down = change(9, -4, |n| Ok::<_, ()>(n >= last));
            assert_eq!(down, Ok((last, last - 1)));
        }
        assert_eq!(change(0, 9, |_| Err("stop")), Err("stop"));
    }
}
