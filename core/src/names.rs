//! Sets of names, compiled once. Each kind of set of the standard library is 2 to 5 kB of code,
//! which a page has to load.

/// Names in alphabetical order, none of them twice.
#[derive(Debug, Default)]
pub(crate) struct Names<'a>(Vec<&'a str>);

impl<'a> Names<'a> {
    /// Adds a name; false where it was there already.
    #[inline(never)]
    pub fn insert(&mut self, name: &'a str) -> bool {
        match self.0.binary_search(&name) {
            Ok(_) => false,
            Err(place) => {
                self.0.insert(place, name);
                true
            }
        }
    }

    /// Whether a name is there.
    #[inline(never)]
    pub fn contains(&self, name: &str) -> bool {
        self.0.binary_search(&name).is_ok()
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.0.len()
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn as_a_set_of_the_standard_library(words in prop::collection::vec("[a-c]{0,2}", 0..40)) {
            let (mut ours, mut theirs) = (Names::default(), BTreeSet::new());
            for word in &words {
                prop_assert_eq!(ours.contains(word), theirs.contains(word.as_str()));
                prop_assert_eq!(ours.insert(word), theirs.insert(word.as_str()));
                prop_assert_eq!(ours.len(), theirs.len());
            }
        }
    }
}
