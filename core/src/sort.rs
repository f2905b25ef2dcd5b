//! Lists put in order, by one sort for all types.
//!
//! The standard library's sort is compiled anew for each type of element, 3 to 5 kB every time, which made a tenth
//! of the engine that a page loads. Here positions are sorted, once for all, and the elements follow them.

use std::cmp::Ordering;
use std::mem;

/// Sorts as [`slice::sort`] does.
pub(crate) fn sort<T: Ord>(list: &mut [T]) {
    sort_by(list, T::cmp);
}

/// Sorts as [`slice::sort_by_key`] does: what has the same key stays in its order.
pub(crate) fn sort_by_key<T, K: Ord>(list: &mut [T], key: impl Fn(&T) -> K) {
    sort_by(list, |one, other| key(one).cmp(&key(other)));
}

/// Sorts as [`slice::sort_by`] does: what is equal stays in its order.
pub(crate) fn sort_by<T>(list: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    let mut from = sorted(list.len(), &|one, other| compare(&list[one], &list[other]));
    // Each place takes the element from the position that stands there, round and round.
    for first in 0..from.len() {
        let mut place = first;
        loop {
            let next = mem::replace(&mut from[place], place);
            if next == first {
                break;
            }
            list.swap(place, next);
            place = next;
        }
    }
}

/// The positions of a list in the order of what stands there.
fn sorted(count: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<usize> {
    let mut positions: Vec<usize> = (0..count).collect();
    positions.sort_by(|one, other| compare(*one, *other));
    positions
}

#[cfg(test)]
mod tests {
    use super::*;

    use proptest::prelude::*;

    proptest! {
        /// Against the standard library's.
        #[test]
        fn as_the_standard_library_sorts(list in prop::collection::vec((0_u8..9, any::<u32>()), 0..80)) {
            let (mut ours, mut theirs) = (list.clone(), list.clone());
            sort_by_key(&mut ours, |one| one.0);
            theirs.sort_by_key(|one| one.0);
            prop_assert_eq!(&ours, &theirs);
            sort(&mut ours);
            theirs.sort();
            prop_assert_eq!(ours, theirs);
        }
    }
}
