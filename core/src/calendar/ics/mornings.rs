//! The mornings on which a hive can be moved as an iCalendar file: each is an event of its window.

use std::collections::BTreeSet;

use chrono::{Days, NaiveDate, TimeDelta};
use chrono_tz::Tz;
use derive_setters::Setters;
use serde::Serialize;

use super::before::Before;
use super::event::{BEFORE_A_MOVE, Event, Parts, Span, cautions, write_alarm, write_place};
use super::line::{Lines, escape};
use super::{IcsSettings, begun, check_sequence, zone};
use crate::calendar::label::short_name;
use crate::calendar::words;
use crate::caution::standing;
use crate::civil::{Edge, Instant, check_date, civil_day, clock_text, in_zone};
use crate::error::Error;
use crate::morning::{EveningClosing, Morning, MoveWindow, RankedMorning, Verdict};
use crate::plan::slug;
use crate::reason::Reason;
use crate::site::Site;
use crate::task::{TaskKind, TimeWindow};
use crate::wire::FromNode;
use crate::year_dates::check_name;

/// Longest time from closing the entrance to the move.
const LONGEST_CLOSED: TimeDelta = TimeDelta::days(2);

/// Where a hive can be moved on mornings, and which.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct MorningsPlace {
    /// Where it is.
    #[setters(skip)]
    pub site: Site,
    /// What people call the place.
    #[setters(skip)]
    pub place: String,
    /// The box that is to be moved, by its name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub box_name: Option<String>,
}

impl MorningsPlace {
    /// A place, for no box in particular.
    ///
    /// ```
    /// use apiary_almanac::Site;
    /// use apiary_almanac::calendar::MorningsPlace;
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let garden = MorningsPlace::new(site, "Garden").with_box_name("Saltbush");
    /// assert_eq!(garden.box_name.as_deref(), Some("Saltbush"));
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn new(site: Site, place: impl Into<String>) -> Self {
        MorningsPlace {
            site,
            place: place.into(),
            box_name: None,
        }
    }

    /// What identifiers begin with.
    fn owner(&self) -> String {
        slug(&[
            &self.place,
            self.box_name.as_deref().unwrap_or_default(),
            "dawns",
        ])
    }

    fn uid(&self, date: NaiveDate) -> String {
        format!("{}.{date}@apiary-almanac", self.owner())
    }

    /// The day of an identifier of this place.
    fn date(&self, uid: &str) -> Option<NaiveDate> {
        let day = uid.strip_prefix(&self.owner())?.strip_prefix('.')?;
        day.strip_suffix("@apiary-almanac")?.parse().ok()
    }
}

/// Writes the mornings of which the verdict is `go` or `careful` as one iCalendar text, by date.
///
/// Each is a transparent event of its window by daylight, else of that by lamp, drawn in to whole minutes; a
/// careful one is `TENTATIVE`. One alarm rings on the evening before when the entrance is to be closed, and says
/// so, and one 30 minutes before the window. Of a hive that stands open over night nothing is said of closing.
///
/// Identifiers are made of the place's name, the box's and the date. With `before` of the settings, what stood
/// there for a morning whose verdict is now `no` is cancelled, what stands there for days after the first
/// morning that were not asked about stays as it was, and what lies before the first morning is left out.
///
/// # Errors
/// `not_enough_data` without any morning; `inconsistent` for a date that comes twice and for a window that ends
/// before it begins or does not belong to its date; `out_of_range` for an empty name, a name above 200 bytes, a
/// `sequence` above 2147483647, and for dates outside 1900–2100.
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::calendar::{IcsSettings, MorningsPlace, mornings_ics};
/// use apiary_almanac::outlook::{OutlookRequest, outlook};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let answer = outlook(&OutlookRequest::new(site, "2026-09-13".parse()?))?;
/// let settings = IcsSettings::new("2026-09-13T08:00:00+10:00".parse()?);
/// let text = mornings_ics(&answer.mornings, &MorningsPlace::new(site, "Garden"), &settings)?;
/// assert!(text.contains("UID:garden-dawns.2026-09-14@apiary-almanac\r\n"));
/// // Other hives may fly at once in that spring.
/// assert!(text.contains("SUMMARY:Garden: dawn move\\, careful\r\n"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn mornings_ics(
    mornings: &[RankedMorning],
    place: &MorningsPlace,
    settings: &IcsSettings,
) -> Result<String, Error> {
    check_sequence(settings)?;
    check_name("place", &place.place)?;
    if let Some(name) = &place.box_name {
        check_name("box_name", name)?;
    }
    let mut events = Vec::with_capacity(mornings.len());
    let mut dates = BTreeSet::new();
    for (number, ranked) in mornings.iter().enumerate() {
        let morning = &ranked.morning;
        let field = format!("mornings[{number}].morning");
        let date = check_date(&format!("{field}.date"), morning.date)?;
        if !dates.insert(date) {
            return Err(Error::Inconsistent {
                field: format!("{field}.date"),
                problem: format!("{date} comes twice"),
            });
        }
        if morning.verdict != Verdict::No {
            let window = window(morning, place.site.zone, &field)?;
            events.push((date, event(ranked, &window, place)));
        }
    }
    let (Some(first), Some(last)) = (dates.first(), dates.last()) else {
        return Err(Error::NotEnoughData {
            field: "mornings".to_owned(),
            given: "no morning".to_owned(),
            needed: "at least one".to_owned(),
        });
    };
    events.sort_by_key(|(date, _)| *date);
    let mut before = Before::of(settings.before.as_deref().unwrap_or_default());
    let left = before.left().filter_map(|uid| place.date(uid));
    let not_asked = left.filter(|date| date > first && !dates.contains(date));
    let not_asked: Vec<NaiveDate> = not_asked.collect();

    let mut lines = begun(settings, Some(&place.place));
    let last = not_asked.last().map_or(*last, |date| *last.max(date));
    zone::write(&mut lines, place.site.zone, *first, last);
    for (_, event) in &events {
        let (sequence, stamp) = before.version(event, settings);
        event.write(&mut lines, sequence, &stamp);
    }
    for date in not_asked {
        before.keep(&place.uid(date), &mut lines);
    }
    let is_gone = |uid: &str| place.date(uid).is_some_and(|date| date >= *first);
    before.cancel(is_gone, settings, &mut lines);
    lines.end("VCALENDAR");
    Ok(lines.into_text())
}

/// When to move, in whole minutes: by daylight, else by lamp.
fn window(morning: &Morning, zone: Tz, field: &str) -> Result<TimeWindow, Error> {
    let refused = |problem: String| Error::Inconsistent {
        field: format!("{field}.window"),
        problem,
    };
    let (from, until) = match (&morning.window, morning.by_lamp) {
        (MoveWindow::Open { from, until, .. }, _) => (*from, *until),
        (MoveWindow::None { .. }, Some(lamp)) => (lamp.from, lamp.until),
        (MoveWindow::None { .. }, None) => {
            return Err(refused("there is none, and none by lamp".to_owned()));
        }
    };
    let date = morning.date;
    // By lamp it can begin before midnight.
    let days = date - Days::new(1)..=date;
    if until <= from {
        return Err(refused(format!("it ends at {until}, not after {from}")));
    }
    if !days.contains(&civil_day(from, zone)) || civil_day(until, zone) != date {
        return Err(refused(format!(
            "{from} to {until} is not the morning of {date} in {zone}"
        )));
    }
    let (from, until) = words::on_the_clock(&TimeWindow { from, until }, zone);
    Ok(TimeWindow { from, until })
}

fn event(ranked: &RankedMorning, window: &TimeWindow, place: &MorningsPlace) -> Event {
    let morning = &ranked.morning;
    let zone = place.site.zone;
    let careful = morning.verdict == Verdict::Careful;
    let TimeWindow { from, until } = *window;
    let short = if careful {
        "dawn move, careful"
    } else {
        "dawn move"
    };
    let summary = match &place.box_name {
        Some(name) => format!("{}: {short} – {}", short_name(name), place.place),
        None => format!("{}: {short}", short_name(&place.place)),
    };
    let mut lines = Lines::default();
    Span::Timed { from, until }.write(&mut lines, zone);
    lines.text("SUMMARY", &summary);
    lines.text("DESCRIPTION", &description(ranked, window, place));
    let mut categories = vec![words::kind(TaskKind::Move), &place.place];
    categories.extend(place.box_name.as_deref());
    let categories: Vec<_> = categories.into_iter().map(escape).collect();
    lines.value("CATEGORIES", &categories.join(","));
    write_place(&mut lines, &place.place, &place.site);
    lines.value("STATUS", if careful { "TENTATIVE" } else { "CONFIRMED" });
    // Nobody is busy on all the mornings that would do.
    lines.value("TRANSP", "TRANSPARENT");
    let closing = &morning.evening_before;
    let lead = from.to_utc() - closing.from.to_utc();
    if !morning.open_overnight && (BEFORE_A_MOVE..LONGEST_CLOSED).contains(&lead) {
        let name = place.box_name.as_ref().unwrap_or(&place.place);
        let said = format!("If you move tomorrow: {} ({name})", close(closing, zone));
        write_alarm(&mut lines, lead, &said);
    }
    write_alarm(&mut lines, BEFORE_A_MOVE, &summary);
    Event {
        uid: place.uid(morning.date),
        body: lines,
    }
}

/// `close the entrance from 18:10`.
fn close(evening: &EveningClosing, zone: Tz) -> String {
    let clock = |at: Instant, edge| clock_text(in_zone(at.to_utc(), zone), edge);
    let from = clock(evening.from, Edge::From);
    let light = match evening.daylight_until {
        _ if evening.lamp_needed => ", by lamp".to_owned(),
        Some(until) => format!(", by daylight until {}", clock(until, Edge::Until)),
        None => String::new(),
    };
    format!("close the entrance from {from}{light}")
}

fn description(ranked: &RankedMorning, window: &TimeWindow, place: &MorningsPlace) -> String {
    let morning = &ranked.morning;
    let whose = match &place.box_name {
        Some(name) => format!("{}: {name}", place.place),
        None => place.place.clone(),
    };
    let by_lamp = match morning.window {
        MoveWindow::Open { .. } => "",
        MoveWindow::None { .. } => ", by lamp",
    };
    let [before, after] = if morning.open_overnight {
        [
            "The entrance is open over night: be done before the first bees fly.".to_owned(),
            "Where you close it to carry the hive, open it as soon as it stands.".to_owned(),
        ]
    } else {
        let closing = close(&morning.evening_before, place.site.zone);
        [
            format!("On the evening before: {closing}."),
            "Open the entrance as soon as it stands.".to_owned(),
        ]
    };
    let mut text = Parts::default();
    let what = format!("Move a hive, {window}{by_lamp}");
    text.part("What", &[what, whose, before, after]);
    let mut why = vec![morning.verdict_reason.text()];
    for reason in ranked.reasons.iter().map(Reason::text) {
        if !why.contains(&reason) {
            why.push(reason);
        }
    }
    text.part("Why", &why);
    text.part(
        "Mind",
        &cautions(&standing(std::slice::from_ref(morning), None)),
    );
    let doubts: Vec<_> = ranked.doubts.iter().map(Reason::text).collect();
    text.part("Look at again", &doubts);
    let temperatures = format!("Temperatures: {}.", morning.source.words());
    text.part("Where it comes from", &[temperatures]);
    text.finish()
}
