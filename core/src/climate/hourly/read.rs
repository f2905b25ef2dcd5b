//! Readings by the hour from the text of a file: a table, or JSON with lists beside each other.

use chrono::{DateTime, FixedOffset, MappedLocalTime, NaiveDateTime, TimeDelta, Utc};
use chrono_tz::Tz;

use super::{Hour, Hours, MOST_HOURS};
use crate::civil::in_zone;
use crate::climate::input::TextFile;
use crate::climate::paste::{self, Cell, Quantity, Sheet, Unit};
use crate::error::{Error, clip, quoted};
use crate::reason::{Reason, say};
use crate::site::zone_by_name;
use crate::zone;

/// Most text of all files together, bytes.
pub const MOST_HOURS_BYTES: usize = 16 * 1024 * 1024;

/// Where the quantities of a table stand, and in which units.
pub(in crate::climate) struct Places {
    when: Vec<usize>,
    temperature: (usize, Option<Unit>),
    /// Rain, wind, cloud and radiation, where their unit is known.
    others: [Option<(usize, Unit)>; 4],
    /// Columns that hold one of these, but do not say their unit.
    pub without_unit: Vec<String>,
}

/// One reading, before the unit of temperatures is known.
pub(in crate::climate) struct Reading {
    pub at: DateTime<Utc>,
    pub temperature: f64,
    others: [Option<f64>; 4],
}

/// What is wrong with a cell: its row, its column, and what would be right.
pub(in crate::climate) struct WrongCell {
    pub row: usize,
    pub column: usize,
    pub allowed: &'static str,
}

/// Readings, and what must be said of their times.
pub(in crate::climate) struct Readings {
    pub readings: Vec<Reading>,
    pub said: Vec<Reason>,
}

const OTHERS: [Quantity; 4] = [
    Quantity::Rain,
    Quantity::Wind,
    Quantity::Cloud,
    Quantity::Radiation,
];

impl Places {
    /// Finds the columns of a table of readings; `None` where it is no such table, and otherwise
    /// perhaps why it cannot be read.
    pub fn find(sheet: &Sheet) -> Option<Result<Self, String>> {
        let of = |wanted| -> Vec<usize> {
            (0..sheet.headings.len())
                .filter(|column| paste::quantity(&sheet.headings[*column].name) == Some(wanted))
                .collect()
        };
        let unit = |column: usize, quantity| {
            let heading = &sheet.headings[column];
            paste::unit(&heading.unit, quantity).or_else(|| paste::unit(&heading.name, quantity))
        };
        let (when, temperature) = (of(Quantity::When), of(Quantity::Temperature));
        if when.is_empty() || temperature.is_empty() {
            return None;
        }
        if let [first, second, ..] = temperature[..] {
            return Some(Err(format!(
                "columns {} and {} both hold temperatures; keep one",
                quoted(&clip(&sheet.headings[first].name)),
                quoted(&clip(&sheet.headings[second].name))
            )));
        }
        let mut without_unit = Vec::new();
        let others = OTHERS.map(|quantity| {
            // Precipitation holds all that falls; rain beside it is a part of it.
            let columns = of(quantity);
            let all = columns.iter().find(|column| {
                sheet.headings[**column]
                    .name
                    .to_lowercase()
                    .contains("prec")
            });
            let column = *all.or(columns.first())?;
            let known = unit(column, quantity);
            if known.is_none() {
                without_unit.push(sheet.headings[column].name.clone());
            }
            Some((column, known?))
        });
        Some(Ok(Places {
            when,
            temperature: (temperature[0], unit(temperature[0], Quantity::Temperature)),
            others,
            without_unit,
        }))
    }

    /// The unit of temperatures, where the table says it.
    pub fn temperature_unit(&self) -> Option<Unit> {
        self.temperature.1
    }

    pub fn temperature_heading<'a>(&self, sheet: &'a Sheet) -> &'a str {
        &sheet.headings[self.temperature.0].name
    }
}

impl Reading {
    /// In the engine's units.
    pub fn hour(&self, unit: Unit, zone: Tz) -> Hour {
        let [rain_mm, wind_m_s, cloud_percent, radiation_w_m2] = self.others;
        Hour {
            rain_mm,
            wind_m_s,
            cloud_percent,
            radiation_w_m2,
            ..Hour::new(in_zone(self.at, zone), unit.to_si(self.temperature))
        }
    }
}

/// The clocks on which a table's times are read.
struct Clocks {
    fixed: Option<FixedOffset>,
    zone: Tz,
    last: Option<DateTime<Utc>>,
    /// How often clocks showed a reading twice and never, and one of each.
    twice: Option<NaiveDateTime>,
    never: Option<NaiveDateTime>,
}

impl Clocks {
    fn of(sheet: &Sheet, site: Tz) -> Result<Self, Error> {
        let zone = match &sheet.zone {
            Some(name) => zone_by_name(name)?,
            None => site,
        };
        Ok(Clocks {
            fixed: sheet.offset_s.and_then(FixedOffset::east_opt),
            zone,
            last: None,
            twice: None,
            never: None,
        })
    }

    /// The moment of a reading; `None` where clocks never showed it.
    fn moment(&mut self, clock: NaiveDateTime, offset_s: Option<i32>) -> Option<DateTime<Utc>> {
        let fixed = offset_s.and_then(FixedOffset::east_opt).or(self.fixed);
        let at = match fixed {
            Some(offset) => Some(
                clock
                    .checked_sub_signed(TimeDelta::seconds(offset.local_minus_utc().into()))?
                    .and_utc(),
            ),
            None => match zone::instants(self.zone, clock) {
                MappedLocalTime::Single(at) => Some(at),
                MappedLocalTime::Ambiguous(first, second) => {
                    self.twice.get_or_insert(clock);
                    let passed = self.last.is_some_and(|last| first <= last);
                    Some(if passed { second } else { first })
                }
                MappedLocalTime::None => {
                    self.never.get_or_insert(clock);
                    None
                }
            },
        };
        self.last = at.or(self.last);
        at
    }

    fn said(&self) -> Vec<Reason> {
        let mut said = Vec::new();
        let zone = self.zone.name();
        if let Some(clock) = self.twice {
            said.push(say::clock_twice(zone, &clock.to_string()));
        }
        if let Some(clock) = self.never {
            said.push(say::clock_never(zone, &clock.to_string()));
        }
        said
    }
}

/// The readings of a table whose times are dates as `2026-07-20T06:00` or `20 July 2026 6:00`, or
/// seconds since 1970. Rows without a temperature are left out.
pub(in crate::climate) fn readings(
    sheet: &Sheet,
    places: &Places,
    zone: Tz,
    mut wrong: impl FnMut(WrongCell) -> Result<(), Error>,
) -> Result<Readings, Error> {
    let mut rows: Vec<(usize, (NaiveDateTime, Option<i32>))> = Vec::new();
    for (index, row) in sheet.rows.iter().enumerate() {
        if row.is_empty() {
            continue;
        }
        let text: Vec<&str> = places.when.iter().map(|column| row.cell(*column)).collect();
        let when = paste::read_when(&text.join(" "));
        match when.as_ref().and_then(paste::clock_reading) {
            Some(clock) => rows.push((index, clock)),
            None => wrong(WrongCell {
                row: index,
                column: places.when[0],
                allowed: "date and time, such as 2026-07-20T06:00, or that with the offset from \
                          UTC, 2026-07-20T06:00+10:00",
            })?,
        }
    }
    // The newest first, as some loggers write.
    if let [first, .., last] = &rows[..]
        && first.1.0 > last.1.0
    {
        rows.reverse();
    }
    let mut clocks = Clocks::of(sheet, zone)?;
    let mut found = Vec::new();
    for (index, (clock, offset_s)) in rows {
        let Some(at) = clocks.moment(clock, offset_s) else {
            continue;
        };
        let row = &sheet.rows[index];
        let mut number = |column: usize, allowed| -> Result<Option<f64>, Error> {
            match paste::cell(row.cell(column)) {
                Cell::Empty => Ok(None),
                Cell::One(figure) if figure.is_clear() => Ok(Some(figure.decimal)),
                _ => {
                    wrong(WrongCell {
                        row: index,
                        column,
                        allowed,
                    })?;
                    Ok(None)
                }
            }
        };
        let mut others = [None; 4];
        for (slot, place) in others.iter_mut().zip(places.others) {
            if let Some((column, unit)) = place {
                let value = number(column, "a number, or nothing")?;
                *slot = value.map(|value| unit.to_si(value));
            }
        }
        if let Some(temperature) = number(places.temperature.0, "a number, or nothing")? {
            found.push(Reading {
                at,
                temperature,
                others,
            });
        }
    }
    Ok(Readings {
        readings: found,
        said: clocks.said(),
    })
}

impl Hours {
    /// Reads files of readings by the hour, each a table or JSON. Where two files hold the same moment,
    /// the later in the list counts.
    ///
    /// A table names its columns in the first row: `time` or `date` and `time`; `temperature_c` or
    /// `temperature_f`; and where known `rain_mm` or `rain_in`, `wind_m_s`, `wind_km_h`, `wind_mph` or
    /// `wind_kn`, `cloud_percent`, `radiation_w_m2`. Other columns are passed over. JSON holds lists of
    /// the same length by such names, and the units at the end of the names or in an object of the same
    /// names that is called `units`, or `hourly_units` beside `hourly`.
    ///
    /// Times with an offset from UTC are read as such. Others are read by the offset or zone that the
    /// file states (`utc_offset_seconds`, `timezone`), else on the clocks of `zone`; what these never
    /// showed is left out and said in [`Climate::basis`](crate::Climate::basis).
    ///
    /// # Errors
    /// `too_large`, `bad_table`, `bad_cell` and `unreadable`, naming the file; `unknown_zone` for the
    /// zone of a file; and as [`Hours::new`].
    pub fn from_texts(zone: Tz, files: &[TextFile]) -> Result<Self, Error> {
        let bytes: usize = files.iter().map(|file| file.text.len()).sum();
        if bytes > MOST_HOURS_BYTES {
            return Err(Error::TooLarge {
                field: "hours_files".to_owned(),
                given: format!("{bytes} bytes"),
                allowed: format!("{MOST_HOURS_BYTES} bytes"),
            });
        }
        let (mut hours, mut said) = (Vec::new(), Vec::new());
        for file in files {
            of_file(file, zone, &mut hours, &mut said)?;
        }
        // Of the same moment the last counts.
        hours.reverse();
        hours.sort_by_key(|hour: &Hour| hour.at);
        hours.dedup_by_key(|hour| hour.at);
        let hours = Hours::new(zone, hours)?;
        Ok(Hours { said, ..hours })
    }
}

fn of_file(
    file: &TextFile,
    zone: Tz,
    hours: &mut Vec<Hour>,
    said: &mut Vec<String>,
) -> Result<(), Error> {
    let bad_table = |problem: String| Error::BadTable {
        file: clip(&file.file),
        problem,
    };
    let sheets = paste::sheets(&file.file, &file.text)?;
    let found = sheets
        .iter()
        .find_map(|sheet| Some((sheet, Places::find(sheet)?)));
    let Some((sheet, places)) = found else {
        return Err(bad_table(
            "no readings by the hour are found in it; needed are columns `time` and `temperature_c` \
             (or `temperature_f`), or JSON with lists of such names"
                .to_owned(),
        ));
    };
    let places = places.map_err(bad_table)?;
    let Some(unit) = places.temperature_unit() else {
        return Err(bad_table(format!(
            "column {} does not say its unit; name it temperature_c or temperature_f",
            quoted(&clip(places.temperature_heading(sheet)))
        )));
    };
    if let [first, ..] = &places.without_unit[..] {
        return Err(bad_table(format!(
            "column {} does not say its unit; name it rain_mm, rain_in, wind_m_s, wind_km_h, \
             wind_mph, wind_kn, cloud_percent or radiation_w_m2",
            quoted(&clip(first))
        )));
    }
    if sheet.rows.len() > MOST_HOURS {
        return Err(Error::TooLarge {
            field: clip(&file.file),
            given: format!("{} readings", sheet.rows.len()),
            allowed: format!("{MOST_HOURS} readings"),
        });
    }
    let wrong = |cell: WrongCell| {
        let row = &sheet.rows[cell.row];
        let (column, given) = (&sheet.headings[cell.column].name, row.cell(cell.column));
        let (column, given) = (clip(column), clip(given));
        Err(if sheet.row_word == "line" {
            Error::BadCell {
                file: clip(&file.file),
                line: row.number as u64,
                column,
                given,
                allowed: cell.allowed.to_owned(),
            }
        } else {
            bad_table(format!(
                "{column}[{}] is {}, not {}",
                row.number,
                quoted(&given),
                cell.allowed
            ))
        })
    };
    let found = readings(sheet, &places, zone, wrong)?;
    hours.extend(
        found
            .readings
            .iter()
            .map(|reading| reading.hour(unit, zone)),
    );
    said.extend(found.said.into_iter().map(|reason| {
        format!(
            "{}: {}",
            clip(&file.file),
            reason.text().trim_end_matches('.')
        )
    }));
    Ok(())
}
