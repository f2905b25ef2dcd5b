//! Plans and seasons for other programs and for eyes: iCalendar, CSV, JSON and pictures.
//!
//! Everything here renders what was decided elsewhere; it decides nothing about bees. The same
//! arguments give the same text, to the byte.

mod check;
mod ics;
mod json;
mod label;
mod picture;

mod table;
mod words;

#[cfg(test)]
mod sample;

pub use ics::{
    CalendarPer, IcsSettings, MorningsPlace, NamedCalendar, mornings_ics, plans_ics, plans_ics_per,
    year_dates_ics,
};
pub use json::{plans_from_json, plans_json};

pub use picture::{plan_picture, plans_poster, year_picture, year_poster};
pub use table::{plans_csv, year_dates_csv};

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #![proptest_config(ProptestConfig { cases: 100, ..ProptestConfig::default() })]

        #[test]
        fn any_plan_is_a_picture_a_table_and_json(plan in sample::any_plan()) {
            let svg = plan_picture(&plan).unwrap();
            let document = roxmltree::Document::parse(&svg);
            prop_assert!(document.is_ok(), "{document:?}");
            let table = plans_csv(std::slice::from_ref(&plan)).unwrap();
            let mut rows = csv::Reader::from_reader(table.as_bytes()).into_records();
            prop_assert!(rows.by_ref().take(plan.tasks.len()).all(|row| row.is_ok()));
            prop_assert!(rows.next().is_none());
            let text = plans_json(std::slice::from_ref(&plan)).unwrap();
            prop_assert_eq!(plans_from_json("plans", &text).unwrap(), [plan]);
        }
    }
}
