//! From the entries of a text to days: what dates, units and commas mean, and what is asked.

use chrono::NaiveDate;

use super::answer::{
    ForecastAnswers, ForecastQuestion, ForecastReading, ForecastRequest, LeftOut, PossibleReading,
    UnderstoodDay,
};
use super::entry::{self, Entry, Slot, Unused};
use super::names::Unit;
use super::number::Figure;
use super::sheet::Sheet;
use super::words::{day_in_words, in_words, rounded};
use super::{json, text};
use crate::civil;
use crate::climate::hourly::read::{Places, Readings, readings};
use crate::climate::{ALLOWED_C, Climate, ForecastDay, Hours, MOST_FORECAST_DAYS};
use crate::error::{Error, clip};
use crate::reason::{Reason, say};
use crate::site::Site;

/// Longest forecast that is read, bytes.
pub const MOST_FORECAST_BYTES: usize = 2 * 1024 * 1024;

/// How far from what is usual a temperature is worth a second look, °C. Common practice, no source.
const UNUSUAL_C: f64 = 12.0;
/// Most parts that are listed as left out.
const MOST_LISTED: usize = 100;

/// Reads a forecast as it was copied. Nothing is guessed: where two readings are possible the answer
/// holds a question, and the field of [`ForecastAnswers`] that it names settles it.
///
/// # Errors
/// `too_large` for more than [`MOST_FORECAST_BYTES`], `bad_table` where no day can be found, with what
/// would be read, `unreadable` for what begins as JSON and is not, `out_of_range` for a date of today
/// outside 1900–2100, `inconsistent` for an answer that cannot be, `unknown_zone` for the zone of a text.
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::climate::{ForecastRequest, read_forecast};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let request = ForecastRequest::new(site, "2026-07-20".parse()?, "Mon 12-24 5mm\nTue 10-22");
/// let read = read_forecast(&request)?;
/// assert_eq!(read.understood[0].text, "Monday 20 July 2026: 12 to 24 °C, 5 mm");
/// assert_eq!(read.forecast[1].maximum_c, 22.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn read_forecast(request: &ForecastRequest) -> Result<ForecastReading, Error> {
    civil::check_date("today", request.today)?;
    if request.text.len() > MOST_FORECAST_BYTES {
        return Err(Error::TooLarge {
            field: clip(&request.file),
            given: format!("{} bytes", request.text.len()),
            allowed: format!("{MOST_FORECAST_BYTES} bytes"),
        });
    }
    let mut reader = Reader::new(request);
    let text = request.text.trim_start_matches('\u{feff}');
    let is_json = text.trim_start().starts_with(['{', '[']);
    let sheets: Vec<Sheet> = if is_json {
        json::sheets(&clip(&request.file), text)?
    } else {
        text::sheet(text)
            .or_else(|| text::turned_sheet(text))
            .into_iter()
            .collect()
    };
    let mut problem = None;
    let mut entries = Vec::new();
    let mut unused = Unused::default();
    for sheet in &sheets {
        if entries.is_empty()
            && let Some(found) = entry::of_sheet(sheet, &mut unused)
        {
            match found {
                Ok(found) => entries = found,
                Err(words) => problem = Some(words),
            }
        } else if reader.answer.hours.is_empty()
            && let Some(found) = Places::find(sheet)
        {
            match found {
                Ok(places) => reader.hours(sheet, &places)?,
                Err(words) => problem = Some(words),
            }
        }
    }
    let by_the_hour = !reader.answer.hours.is_empty() || !reader.answer.questions.is_empty();
    let has_days = |entries: &[Entry]| entries.iter().any(|entry| entry.extremes().is_some());
    if !is_json && !by_the_hour && problem.is_none() && !has_days(&entries) {
        let mut of_lines = Unused::default();
        let found = entry::of_lines(text, &mut of_lines);
        if has_days(&found) || entries.is_empty() {
            (entries, unused) = (found, of_lines);
        }
    }
    reader.days(&entries)?;
    reader.unused(unused);
    let answer = reader.finish();
    if answer.understood.is_empty() && answer.questions.is_empty() {
        return Err(Error::BadTable {
            file: clip(&request.file),
            problem: problem.unwrap_or_else(|| nothing_found(&answer)),
        });
    }
    Ok(answer)
}

impl ForecastRequest {
    /// A text without a name and without answers.
    pub fn new(site: Site, today: NaiveDate, text: &str) -> Self {
        ForecastRequest {
            site,
            today,
            text: text.to_owned(),
            file: "forecast".to_owned(),
            answers: ForecastAnswers::default(),
        }
    }
}

impl ForecastReading {
    /// The same, if no question is open that must be answered first.
    ///
    /// # Errors
    /// `not_enough_data` with the first such question and what can be answered.
    pub fn settled(self, file: &str) -> Result<Self, Error> {
        match self
            .questions
            .iter()
            .find(|question| question.must_be_answered)
        {
            None => Ok(self),
            Some(question) => Err(Error::NotEnoughData {
                field: clip(file),
                given: question.text.clone(),
                needed: format!("forecast_answers: {}", question.offered()),
            }),
        }
    }

    /// How the text was read, in lines; none where it says all by itself and all of it was used.
    pub fn in_words(&self, file: &str) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        lines.extend(self.notes.iter().map(|note| note.text()));
        lines.extend(self.questions.iter().map(|question| {
            format!(
                "{} Answer in forecast_answers: {}.",
                question.text,
                question.offered()
            )
        }));
        lines.extend(self.left_out.iter().map(|left| {
            format!(
                "Left out: {}, “{}”. {}",
                left.place,
                left.given,
                left.why.text()
            )
        }));
        if self.more_left_out > 0 {
            lines.push(format!("Left out: {} more.", self.more_left_out));
        }
        if !lines.is_empty() {
            lines.insert(0, format!("How {} was read:", clip(file)));
            lines.extend(self.understood.iter().map(|day| format!("{}.", day.text)));
        }
        lines
    }
}

impl ForecastQuestion {
    /// `date_order = "day_month" (Monday 3 August 2026) or ...`
    fn offered(&self) -> String {
        let readings: Vec<_> = self
            .readings
            .iter()
            .map(|reading| format!("{} = \"{}\" ({})", self.code, reading.answer, reading.text))
            .collect();
        readings.join(" or ")
    }
}

/// What would be read, after the first thing that was not.
fn nothing_found(answer: &ForecastReading) -> String {
    let first = answer.left_out.first().map_or_else(String::new, |left| {
        format!(" ({}, “{}”: {})", left.place, left.given, left.why.text())
    });
    format!(
        "no day with minimum and maximum is found in it{first}; write a line for each day, such as \
         `2026-07-20 12-24 5mm`, or a table with the columns date, min, max and, if wanted, rain and wind"
    )
}

pub(super) struct Reader<'a> {
    pub(super) site: &'a Site,
    pub(super) today: NaiveDate,
    pub(super) answers: &'a ForecastAnswers,
    /// The usual minimum and maximum of these days, °C.
    pub(super) usual: (f64, f64),
    pub(super) answer: ForecastReading,
}

impl<'a> Reader<'a> {
    fn new(request: &'a ForecastRequest) -> Self {
        let day = Climate::from_location(&request.site).day(request.today);
        Reader {
            site: &request.site,
            today: request.today,
            answers: &request.answers,
            usual: (day.minimum_c, day.maximum_c),
            answer: ForecastReading::default(),
        }
    }

    pub(super) fn note(&mut self, note: Reason) {
        self.answer.notes.push(note);
    }

    pub(super) fn leave_out(&mut self, place: &str, given: &str, why: Reason) {
        if self.answer.left_out.len() < MOST_LISTED {
            self.answer.left_out.push(LeftOut {
                place: place.to_owned(),
                given: clip(given),
                why,
            });
        } else {
            self.answer.more_left_out += 1;
        }
    }

    pub(super) fn ask(
        &mut self,
        code: &str,
        text: String,
        readings: &[(&str, String)],
        needed: bool,
    ) {
        let known = self
            .answer
            .questions
            .iter()
            .any(|question| question.code == code);
        if !known {
            self.answer.questions.push(ForecastQuestion {
                code: code.to_owned(),
                text,
                readings: readings
                    .iter()
                    .map(|(answer, text)| PossibleReading {
                        answer: (*answer).to_owned(),
                        text: text.clone(),
                    })
                    .collect(),
                must_be_answered: needed,
            });
        }
    }

    /// Readings by the hour.
    fn hours(&mut self, sheet: &Sheet, places: &Places) -> Result<(), Error> {
        let zone = self.site.zone;
        let mut wrong = Vec::new();
        let Readings { readings, said } = readings(sheet, places, zone, |cell| {
            wrong.push(cell);
            Ok(())
        })?;
        for cell in wrong {
            let row = &sheet.rows[cell.row];
            let place = format!("{} {}", sheet.row_word, row.number);
            let why = say::not_readable(cell.allowed);
            self.leave_out(&place, row.cell(cell.column), why);
        }
        for note in said {
            self.note(note);
        }
        for name in &places.without_unit {
            self.leave_out(&format!("column {}", clip(name)), "", say::unit_not_said());
        }
        let (low, high) = readings
            .iter()
            .map(|reading| reading.temperature)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
                (low.min(value), high.max(value))
            });
        if readings.is_empty() {
            return Ok(());
        }
        let declared = places.temperature_unit();
        let Some(unit) = self.temperature_unit(declared, &[(low, high)]) else {
            return Ok(());
        };
        let mut hours = Vec::new();
        for reading in &readings {
            let hour = reading.hour(unit, zone);
            match Hours::new(zone, vec![hour]) {
                Ok(_) => hours.push(hour),
                Err(error) => {
                    let at = hour.at.to_rfc3339();
                    self.leave_out(
                        &at,
                        &reading.temperature.to_string(),
                        say::hour_refused(&error.to_string()),
                    );
                }
            }
        }
        if hours.is_empty() {
            return Ok(());
        }
        let before = hours.len();
        hours.sort_by_key(|hour| hour.at);
        hours.dedup_by_key(|hour| hour.at);
        if hours.len() < before {
            let twice = before - hours.len();
            self.note(say::moment_twice(twice as f64));
        }
        let hours = Hours::new(zone, hours)?;
        for date in hours.dates() {
            let Some(day) = hours.of_day(date) else {
                continue;
            };
            let (low, high) = day.extremes_c();
            let part = if day.is_whole() {
                ""
            } else {
                ", a part of the day"
            };
            self.answer.understood.push(UnderstoodDay {
                date,
                text: format!(
                    "{}: {} readings from {} to {} °C{part}",
                    day_in_words(date),
                    day.own().len(),
                    rounded(low),
                    rounded(high)
                ),
                place: sheet.name.clone(),
                given: String::new(),
            });
        }
        self.answer.hours = hours.readings().to_vec();
        Ok(())
    }

    fn unused(&mut self, unused: Unused) {
        if !unused.columns.is_empty() {
            let most = unused.columns.len().min(20);
            let names = unused.columns[..most].join(", ");
            self.note(say::columns_unused(&names));
        }
        for (number, line) in unused.lines {
            self.leave_out(&format!("line {number}"), &line, say::names_no_day());
        }
    }

    /// The days of a table or of lines.
    fn days(&mut self, entries: &[Entry]) -> Result<(), Error> {
        if entries.is_empty() {
            return Ok(());
        }
        let mut entries = entries.to_vec();
        self.commas(&mut entries);
        let dates = self.dates(&entries)?;
        let declared = entries.iter().find_map(|entry| {
            let (low, high) = entry.extremes()?;
            low.unit.or(high.unit)
        });
        let extremes: Vec<(f64, f64)> = entries
            .iter()
            .filter_map(|entry| entry.extremes())
            .map(|(low, high)| (low.decimal, high.decimal))
            .collect();
        let unit = if extremes.is_empty() {
            Some(Unit::Celsius)
        } else {
            self.temperature_unit(declared, &extremes)
        };
        let (Some(dates), Some(unit)) = (dates, unit) else {
            return Ok(());
        };
        let rain_unit = self.rain_unit(&entries, unit);
        let wind_unit = self.wind_unit(&entries);
        let mut days: Vec<(ForecastDay, &Entry)> = Vec::new();
        for (entry, date) in entries.iter().zip(dates) {
            let Some(date) = date else { continue };
            if let Some(day) = self.day(entry, date, unit, rain_unit, wind_unit) {
                days.push((day, entry));
            }
        }
        self.one_of_each(&mut days);
        self.look_again(&days);
        for (day, entry) in days {
            self.answer.understood.push(UnderstoodDay {
                date: day.date,
                text: in_words(&day),
                place: entry.place.clone(),
                given: entry.given.clone(),
            });
            self.answer.forecast.push(day);
        }
        Ok(())
    }

    /// One day, where its numbers can be believed.
    fn day(
        &mut self,
        entry: &Entry,
        date: NaiveDate,
        unit: Unit,
        rain_unit: Option<Unit>,
        wind_unit: Option<Unit>,
    ) -> Option<ForecastDay> {
        let (low, high) = entry.extremes()?;
        let celsius = |figure: &Figure| figure.unit.unwrap_or(unit).to_si(figure.decimal);
        let (minimum_c, maximum_c) = (celsius(low), celsius(high));
        if !ALLOWED_C.contains(&minimum_c) || !ALLOWED_C.contains(&maximum_c) {
            let why = say::no_air_is_at(minimum_c, maximum_c);
            self.leave_out(&entry.place, &entry.given, why);
            return None;
        }
        if minimum_c > maximum_c {
            let why = say::minimum_above_maximum();
            self.leave_out(&entry.place, &entry.given, why);
            return None;
        }
        let mut other = |slot: &Slot, unit: Option<Unit>, why: Reason, most: f64| {
            let figure = match slot {
                Slot::Nothing => return None,
                Slot::Unclear => None,
                Slot::Is(figure) => Some(figure),
            };
            let value = figure.map(|figure| (figure.unit.or(unit), figure));
            match value {
                Some((Some(unit), figure))
                    if figure.is_clear() && (0.0..=most).contains(&unit.to_si(figure.decimal)) =>
                {
                    Some(unit.to_si(figure.decimal))
                }
                // A question has been asked.
                Some((None, _)) => None,
                Some((_, figure)) if !figure.is_clear() => None,
                _ => {
                    self.leave_out(&entry.place, &entry.given, why);
                    None
                }
            }
        };
        Some(ForecastDay {
            date,
            minimum_c,
            maximum_c,
            rain_mm: other(&entry.rain, rain_unit, say::rain_unreadable(), 2000.0),
            wind_m_s: other(&entry.wind, wind_unit, say::wind_unreadable(), 100.0),
        })
    }

    /// Sorts; a date that stands twice with different numbers is left out.
    fn one_of_each(&mut self, days: &mut Vec<(ForecastDay, &Entry)>) {
        days.sort_by_key(|(day, _)| day.date);
        days.dedup_by(|a, b| a.0 == b.0);
        let twice: Vec<NaiveDate> = days
            .windows(2)
            .filter(|pair| pair[0].0.date == pair[1].0.date)
            .map(|pair| pair[0].0.date)
            .collect();
        let mut kept = Vec::new();
        for (day, entry) in days.drain(..) {
            if twice.binary_search(&day.date).is_ok() {
                let why = say::date_twice(day.date);
                self.leave_out(&entry.place, &entry.given, why);
            } else if kept.len() == MOST_FORECAST_DAYS {
                let why = say::too_many_days(MOST_FORECAST_DAYS as f64);
                self.leave_out(&entry.place, &entry.given, why);
            } else {
                kept.push((day, entry));
            }
        }
        *days = kept;
    }

    /// What is worth a second look.
    fn look_again(&mut self, days: &[(ForecastDay, &Entry)]) {
        let climate = Climate::from_location(self.site);
        let odd = days.iter().find(|(day, _)| {
            let usual = climate.day(day.date);
            (day.minimum_c - usual.minimum_c).abs() > UNUSUAL_C
                || (day.maximum_c - usual.maximum_c).abs() > UNUSUAL_C
        });
        if let Some((day, _)) = odd {
            let usual = climate.day(day.date);
            self.note(say::unusual_for_the_place(
                day.date,
                day.minimum_c,
                day.maximum_c,
                usual.minimum_c,
                usual.maximum_c,
            ));
        }
        if days.last().is_some_and(|(day, _)| day.date < self.today) {
            self.note(say::all_past());
        }
    }

    fn finish(mut self) -> ForecastReading {
        if self
            .answer
            .questions
            .iter()
            .any(|question| question.must_be_answered)
        {
            self.answer.understood.clear();
            self.answer.forecast.clear();
            self.answer.hours.clear();
        }
        self.answer.understood.sort_by_key(|day| day.date);
        self.answer
    }
}
