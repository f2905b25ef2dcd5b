//! Running a waiting time.

use chrono::NaiveDate;

use super::{ClockOutcome, ClockUnit, DateRange, RestsOn, Wait, Weather};
use crate::civil::next_day;
use crate::error::Error;
use crate::reason::Reason;
use crate::thermal::{DayShape, DegreeDays};

/// Days after which a clock gives up.
const YEAR_D: u32 = 366;

/// Runs a waiting time from the dates on which it starts.
///
/// # Errors
/// As [`Wait::check`] and [`crate::flight::flight_day`].
pub fn run(wait: &Wait, after: &DateRange, weather: &Weather<'_>) -> Result<ClockOutcome, Error> {
    wait.check()?;
    let mut rests_on = RestsOn::default();
    let mut ends = [after.earliest; 3];
    let starts = [after.earliest, after.best, after.latest];
    for (index, (start, count)) in starts.into_iter().zip(wait.counts()).enumerate() {
        let (end, counted) = count_from(wait.unit, start, count, weather, |date| {
            if index == 1 {
                rests_on.count(weather.climate.day(date).source);
            }
        })?;
        let Some(end) = end else {
            let reason = Reason::new(
                "too_little_warmth",
                format!("{counted:.0} of {count} {} in a year.", wait.unit.words()),
            );
            return Ok(ClockOutcome::NeverWithinAYear { counted, reason });
        };
        ends[index] = end;
    }
    let [earliest, best, latest] = ends;
    let dates = DateRange {
        earliest,
        best: best.max(earliest),
        latest: latest.max(best).max(earliest),
    };
    Ok(ClockOutcome::RunsOut { dates, rests_on })
}

fn count_from(
    unit: ClockUnit,
    start: NaiveDate,
    count: f64,
    weather: &Weather<'_>,
    mut look: impl FnMut(NaiveDate),
) -> Result<(Option<NaiveDate>, f64), Error> {
    let (mut date, mut counted, mut days) = (start, 0.0, 0);
    while counted < count {
        if days == YEAR_D && unit != ClockUnit::Days {
            return Ok((None, counted));
        }
        date = next_day(date, weather.site.zone)?;
        days += 1;
        look(date);
        counted += match unit {
            ClockUnit::Days => 1.0,
            ClockUnit::FlyingDays => f64::from(u8::from(weather.flying_day(date)?.flying_day)),
            ClockUnit::DegreeDays { base_c, upper_c } => {
                DegreeDays::new(DayShape::SingleSine, base_c, upper_c)?
                    .of_day(&weather.climate.day(date))?
            }
        };
    }
    Ok((Some(date), counted))
}
