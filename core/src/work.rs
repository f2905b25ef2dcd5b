//! How much work one request may make, counted and not timed: the same request is answered or
//! refused on every machine.
//!
//! A unit is about what one day costs that is looked at again; working a day out anew, or its dawn,
//! costs more of them. What can multiply (steps, waits, years of records) pays as it goes, and the
//! request is refused when all is spent. Numbers of things that come in have limits of their own.

use std::cell::Cell;

use crate::error::Error;

/// Units of work that one request may make. The dearest of everyday use, a plan and its review over
/// sixty years of daily records, make less than a tenth of it.
pub const MOST_WORK: u64 = 3_000_000;

/// Working out the sun, the air and the flight of a day.
pub(crate) const NEW_DAY: u64 = 16;
/// Laying other temperatures over a day, or looking through its hours.
pub(crate) const DAY_COURSE: u64 = 4;

thread_local! {
    /// Units spent by the request that this thread answers; `None` between requests.
    static SPENT: Cell<Option<u64>> = const { Cell::new(None) };
}

/// Ends the account of a request, however it ends.
struct Account;

impl Drop for Account {
    fn drop(&mut self) {
        SPENT.set(None);
    }
}

/// Does the work of one request within [`MOST_WORK`], and says how much it was. Within another
/// request's work it belongs to that one.
#[doc(hidden)]
pub fn counted<T>(work: impl FnOnce() -> T) -> (T, u64) {
    if let Some(before) = SPENT.get() {
        let done = work();
        return (done, SPENT.get().unwrap_or(before) - before);
    }
    let _account = Account;
    SPENT.set(Some(0));
    let done = work();
    (done, SPENT.get().unwrap_or(0))
}

/// Counts some units. Outside of a request nothing is counted.
///
/// # Errors
/// `too_large` once more than [`MOST_WORK`] are spent.
pub(crate) fn spend(units: u64) -> Result<(), Error> {
    let Some(before) = SPENT.get() else {
        return Ok(());
    };
    let spent = before.saturating_add(units);
    SPENT.set(Some(spent));
    if spent <= MOST_WORK {
        return Ok(());
    }
    Err(Error::TooLarge {
        field: "request".to_owned(),
        given: format!("{spent} units of work"),
        allowed: format!(
            "{MOST_WORK} units of work (days looked at, for each step, wait, rule and year)"
        ),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_request_pays_for_what_it_calls() {
        assert!(spend(u64::MAX).is_ok(), "between requests nothing counts");
        let (inner, all) = counted(|| {
            spend(2).unwrap();
            let ((), inner) = counted(|| spend(3).unwrap());
            inner
        });
        assert_eq!((inner, all), (3, 5));
        let (refused, spent) = counted(|| {
            spend(MOST_WORK).unwrap();
            spend(1)
        });
        assert_eq!(refused.unwrap_err().code(), "too_large");
        assert_eq!(spent, MOST_WORK + 1);
        assert!(counted(|| spend(1)).0.is_ok(), "each begins anew");
    }

    #[test]
    fn the_account_ends_with_a_request_that_panics() {
        let panicked = std::panic::catch_unwind(|| {
            counted(|| {
                spend(7).unwrap();
                panic!("as a fault of ours would");
            })
        });
        assert!(panicked.is_err());
        assert_eq!(counted(|| spend(1).unwrap()).1, 1);
    }
}
