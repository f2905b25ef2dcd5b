//! Sorting, compiled once. The standard library's sort is 4 to 5 kB of code for each type that is
//! sorted, which a page has to load; here all types share that of their places.

use std::cmp::Ordering;

/// Sorts; what compares as equal keeps its order.
pub(crate) fn sort_by<T>(items: &mut Vec<T>, compare: impl Fn(&T, &T) -> Ordering) {
    let mut order: Vec<usize> = (0..items.len()).collect();
    sort_places(&mut order, &|a, b| compare(&items[a], &items[b]));
    let mut taken: Vec<Option<T>> = items.drain(..).map(Some).collect();
    items.extend(order.into_iter().filter_map(|place| taken[place].take()));
}

/// Sorts by a key; what has the same key keeps its order.
pub(crate) fn sort_by_key<T, K: Ord>(items: &mut Vec<T>, key: impl Fn(&T) -> K) {
    sort_by(items, |a, b| key(a).cmp(&key(b)));
}

#[inline(never)]
fn sort_places(order: &mut [usize], compare: &dyn Fn(usize, usize) -> Ordering) {
    order.sort_by(|a, b| compare(*a, *b));
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn as_the_standard_library_sorts(items in prop::collection::vec((0..9, any::<u8>()), 0..99)) {
            let (mut ours, mut theirs) = (items.clone(), items);
            sort_by_key(&mut ours, |item| item.0);
            theirs.sort_by_key(|item| item.0);
            prop_assert_eq!(ours, theirs);
        }
    }
}
