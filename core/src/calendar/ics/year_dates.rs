//! The dates of a year at places as an iCalendar file: each is an event of its one day.

use std::collections::BTreeSet;

use chrono::Days;

use super::before::Before;
use super::event::Event;
use super::line::{Lines, basic_date, escape};
use super::{IcsSettings, begun, check_sequence};
use crate::error::Error;
use crate::plan::slug;
use crate::reason::Reason;
use crate::year_dates::{PlaceDates, YearDate, YearDateKind, YearDates};

/// Writes the dates of a year as one iCalendar text.
///
/// Every date is a transparent event of one whole day, so that it crowds nobody's month; how long it
/// holds stands in its title. Identifiers are made of the place's name and the date's `id`.
///
/// # Errors
/// `out_of_range` for a `sequence` above 2147483647.
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::calendar::{IcsSettings, year_dates_ics};
/// use apiary_almanac::year_dates::{DatedPlace, YearDatesRequest, year_dates};
/// let site = Site::new(-25.43, -49.27, 920.0, "America/Sao_Paulo")?;
/// let request = YearDatesRequest::new([DatedPlace::new("Curitiba", site)], "2027-01-01".parse()?);
/// let settings = IcsSettings::new("2026-11-26T08:00:00-03:00".parse()?);
/// let text = year_dates_ics(&year_dates(&request)?, &settings)?;
/// assert!(text.contains("UID:curitiba.season-2027-01-01@apiary-almanac\r\n"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn year_dates_ics(dates: &YearDates, settings: &IcsSettings) -> Result<String, Error> {
    check_sequence(settings)?;
    let only = match dates.places.as_slice() {
        [place] => Some(place.name.as_str()),
        _ => None,
    };
    let mut lines = begun(settings, only);
    let mut before = Before::of(settings.before.as_deref().unwrap_or_default());
    let mut owners = BTreeSet::new();
    for place in &dates.places {
        let owner = slug(&[&place.name]);
        for date in &place.dates {
            let event = event(place, &owner, date);
            let (sequence, stamp) = before.version(&event, settings);
            event.write(&mut lines, sequence, &stamp);
        }
        owners.insert(owner);
    }
    before.cancel_rest(&owners, settings, &mut lines);
    lines.end("VCALENDAR");
    Ok(lines.into_text())
}

fn event(place: &PlaceDates, owner: &str, date: &YearDate) -> Event {
    let mut lines = Lines::default();
    lines.value("DTSTART;VALUE=DATE", &basic_date(date.date));
    // Exclusive (RFC 5545, section 3.6.1).
    lines.value("DTEND;VALUE=DATE", &basic_date(date.date + Days::new(1)));
    let text = date.text.text();
    lines.text("SUMMARY", &format!("{}: {text}", place.name));
    let mut told = vec![text, format!("For {}.", place.bee)];
    told.extend(place.doubts.iter().map(Reason::text));
    told.extend(
        place
            .basis
            .iter()
            .map(|basis| format!("Rests on {}.", basis.about)),
    );
    told.push("Local law and licensed practice come before this calendar.".to_owned());
    lines.text("DESCRIPTION", &told.join("\n"));
    lines.value(
        "CATEGORIES",
        &[word(date.kind), &place.name].map(escape).join(","),
    );
    lines.value("STATUS", "CONFIRMED");
    lines.value("TRANSP", "TRANSPARENT");
    Event {
        uid: format!("{owner}.{}@apiary-almanac", date.id),
        body: lines,
    }
}

const fn word(kind: YearDateKind) -> &'static str {
    match kind {
        YearDateKind::Season => "Season",
        YearDateKind::LastSafe => "Last safe day",
        YearDateKind::Heat => "Heat",
        YearDateKind::Rain => "Wet months",
        YearDateKind::Dawn => "Dawn",
    }
}
