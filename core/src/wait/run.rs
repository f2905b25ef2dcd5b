//! Running a waiting time over records, a forecast and the mean of the season.

use chrono::NaiveDate;

use super::{DateRange, RestsOn, Wait, WaitOutcome, WaitUnit};
use crate::civil::{check_date, days_after, next_day};
use crate::climate::ALLOWED_C;
use crate::error::Error;
use crate::normal::NINE_IN_TEN_SD;
use crate::reason::say;
use crate::thermal::{DayShape, DegreeDays};
use crate::weather::{BINS, Weather};
use crate::work;

/// Days after which a clock that depends on weather gives up.
const YEAR_D: u32 = 366;

/// Mean over a standard normal variable: places and weights of five-point Gauss–Hermite quadrature
/// (Abramowitz & Stegun 1964, table 25.10, places times √2 and weights over √π).
const GAUSS_HERMITE: [(f64, f64); 5] = [
    (-2.856_970_013_872_806, 0.011_257_411_327_721),
    (-1.355_626_179_974_266, 0.222_075_922_005_613),
    (0.0, 0.533_333_333_333_333),
    (1.355_626_179_974_266, 0.222_075_922_005_613),
    (2.856_970_013_872_806, 0.011_257_411_327_721),
];

/// Which of the dates that the weather may bring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Luck {
    /// One case in ten comes as early.
    Early,
    /// Half of all cases come as early.
    Middle,
    /// Nine cases in ten come as early.
    Late,
}

impl Luck {
    pub(crate) const ALL: [Luck; 3] = [Luck::Early, Luck::Middle, Luck::Late];

    /// The share of cases that come as early.
    fn share(self) -> f64 {
        match self {
            Luck::Early => 0.1,
            Luck::Middle => 0.5,
            Luck::Late => 0.9,
        }
    }

    /// Warmth of such a case in standard deviations: the 10 % quantile of the normal distribution.
    fn warmth_sd(self) -> f64 {
        match self {
            Luck::Early => NINE_IN_TEN_SD,
            Luck::Middle => 0.0,
            Luck::Late => -NINE_IN_TEN_SD,
        }
    }

    pub fn of(self, dates: &DateRange) -> NaiveDate {
        match self {
            Luck::Early => dates.earliest,
            Luck::Middle => dates.best,
            Luck::Late => dates.latest,
        }
    }
}

/// Runs a waiting time from the dates on which it starts.
///
/// The day of the start is not counted; the clock runs out on the day on which the count is
/// reached, and a count of 0 on the day of the start. The earliest date runs from the earliest
/// start with the earliest count, and so on.
///
/// What is known of a day, recorded or forecast, is taken at its word. For other days:
///
/// - With daily records of at least five years each recorded year is run by itself; earliest, best
///   and latest are the dates that a tenth, half and nine tenths of the years have reached.
/// - Otherwise days stray from the mean of their season by a [`crate::weather::Spread`], normally
///   distributed, minimum and maximum alike, and warm and cold days come in spells. Flying days:
///   the distribution of the count is worked out day by day; it is exact for the chain of spells,
///   in which tomorrow hangs on today alone, and for independent days, where the correlation is 0.
///   Degree-days: an approximation. Over so many days the mean departure is that of one case in ten
///   (1.28 standard deviations of such a mean, warmer or colder), none for the best date, and the
///   single days scatter around it. It is exact for one day.
///
/// Rain of other days is a chance that a flying day is lost, where the climate knows the rain and the
/// wet days of its months: how much falls on a wet day by Selker & Haith 1990, wet spells by
/// [`crate::weather::Spread::wet_day_correlation`]. Elsewhere they are counted as if dry.
///
/// # Errors
/// As [`Wait::check`] and [`Weather::flight`]; `inconsistent` for starts out of order.
///
/// ```
/// use apiary_almanac::wait::{self, WaitOutcome, WaitUnit, DateRange, Wait};
/// use apiary_almanac::weather::Weather;
/// use apiary_almanac::{Climate, Site, bee};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let (climate, small) = (Climate::from_location(&site), bee::built_in("generic_small")?);
/// let wait = Wait::new(WaitUnit::FlyingDays, [2.0; 3], "own counts")?;
/// let start = DateRange::on("2026-11-26".parse()?);
/// let outcome = wait::run(&wait, &start, &Weather::new(&site, &climate, &small))?;
/// let WaitOutcome::RunsOut { dates, .. } = outcome else { panic!("November is warm") };
/// assert_eq!(dates.best.to_string(), "2026-11-28");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn run(wait: &Wait, after: &DateRange, weather: &Weather<'_>) -> Result<WaitOutcome, Error> {
    let Some(dates) = runs_out(wait, after, weather)? else {
        return never(wait, after.best, weather);
    };
    let best = dates.best;
    let rain = match wait.unit {
        WaitUnit::FlyingDays if weather.courses(after.best)?.is_empty() => {
            weather.rain_reason(after.best, best)?
        }
        _ => None,
    };
    Ok(WaitOutcome::RunsOut {
        rests_on: rests_on(after.best, best, weather)?,
        reasons: rain.into_iter().collect(),
        dates,
    })
}

/// The dates of [`run`]; `None` where the weather of a year is not enough for one of the three.
pub(crate) fn runs_out(
    wait: &Wait,
    after: &DateRange,
    weather: &Weather<'_>,
) -> Result<Option<DateRange>, Error> {
    wait.check()?;
    check_order(after)?;
    let mut ends = [None; 3];
    for ((end, luck), count) in ends.iter_mut().zip(Luck::ALL).zip(wait.counts()) {
        let found = reached(wait.unit, luck.of(after), &[count], luck, weather, YEAR_D)?;
        *end = found.first().copied().flatten();
    }
    let [Some(earliest), Some(best), Some(latest)] = ends else {
        return Ok(None);
    };
    let best = best.max(earliest);
    Ok(Some(DateRange {
        earliest,
        best,
        latest: latest.max(best),
    }))
}

/// The first date on which a waiting time can run out, counted from a date; `None` where a year is not enough.
pub(crate) fn earliest(
    wait: &Wait,
    after: NaiveDate,
    weather: &Weather<'_>,
) -> Result<Option<NaiveDate>, Error> {
    let counts = [wait.counts()[0]];
    let found = reached(wait.unit, after, &counts, Luck::Early, weather, YEAR_D)?;
    Ok(found.first().copied().flatten())
}

/// The dates on which one, two, three ... such waits after each other run out, from a start; `None` where
/// two years are not enough.
pub(crate) fn run_out_in_turn(
    wait: &Wait,
    start: NaiveDate,
    times: usize,
    weather: &Weather<'_>,
) -> Result<Vec<Option<DateRange>>, Error> {
    wait.check()?;
    let mut ends = Vec::with_capacity(3);
    for (luck, count) in Luck::ALL.into_iter().zip(wait.counts()) {
        let counts: Vec<f64> = (1..=times).map(|time| time as f64 * count).collect();
        ends.push(reached(
            wait.unit,
            start,
            &counts,
            luck,
            weather,
            2 * YEAR_D,
        )?);
    }
    let of = |luck: usize, time: usize| ends[luck][time];
    Ok((0..times)
        .map(|time| {
            let (earliest, best) = (of(0, time)?, of(1, time)?);
            let best = best.max(earliest);
            Some(DateRange {
                earliest,
                best,
                latest: of(2, time)?.max(best),
            })
        })
        .collect())
}

fn check_order(dates: &DateRange) -> Result<(), Error> {
    check_date("earliest", dates.earliest)?;
    check_date("latest", dates.latest)?;
    if dates.earliest <= dates.best && dates.best <= dates.latest {
        return Ok(());
    }
    Err(Error::Inconsistent {
        field: "earliest, best, latest".to_owned(),
        problem: format!(
            "{}, {}, {} are not in order",
            dates.earliest, dates.best, dates.latest
        ),
    })
}

/// The sources of the days after `from` up to `to`.
pub(crate) fn rests_on(
    from: NaiveDate,
    to: NaiveDate,
    weather: &Weather<'_>,
) -> Result<RestsOn, Error> {
    let mut rests_on = RestsOn::default();
    let mut date = from;
    while date < to {
        work::spend(1)?;
        date = next_day(date, weather.site.zone)?;
        rests_on.count(weather.climate.day(date).source);
    }
    Ok(rests_on)
}

fn never(wait: &Wait, start: NaiveDate, weather: &Weather<'_>) -> Result<WaitOutcome, Error> {
    let counted = likely_count(wait.unit, start, weather)?;
    let reason = if counted >= wait.likely {
        say::uncertain_wait(wait.unit.value(wait.likely), wait.latest)
    } else {
        let too_little = match wait.unit {
            WaitUnit::DegreeDays { .. } => say::too_little_warmth,
            WaitUnit::Days | WaitUnit::FlyingDays => say::too_few_flying_days,
        };
        too_little(wait.unit.value(counted), wait.likely)
    };
    Ok(WaitOutcome::NeverWithinAYear { counted, reason })
}

/// The dates on which counts (in order) are reached, counted from the day after `start`; `None`
/// where that takes more than `horizon_d` days. Days are always reached.
pub(crate) fn reached(
    unit: WaitUnit,
    start: NaiveDate,
    counts: &[f64],
    luck: Luck,
    weather: &Weather<'_>,
    horizon_d: u32,
) -> Result<Vec<Option<NaiveDate>>, Error> {
    let courses = match unit {
        WaitUnit::Days => Vec::new(),
        _ => weather.courses(start)?,
    };
    let walk = Walk {
        start,
        counts,
        weather,
        horizon_d,
    };
    if !courses.is_empty() {
        return walk.courses(unit, luck, &courses);
    }
    match unit {
        WaitUnit::Days => counts
            .iter()
            .map(|count| days_after(start, count.ceil() as u32, weather.site.zone).map(Some))
            .collect(),
        WaitUnit::FlyingDays => walk.flying_days(luck),
        WaitUnit::DegreeDays { base_c, upper_c } => walk.degree_days(luck, base_c, upper_c),
    }
}

/// A walk through the days after a start, until every count has been met.
#[derive(Clone, Copy)]
struct Walk<'a, 'w> {
    start: NaiveDate,
    counts: &'a [f64],
    weather: &'a Weather<'w>,
    horizon_d: u32,
}

impl Walk<'_, '_> {
    /// The dates on which what `counted` says of a day meets the counts.
    fn until_all(
        &self,
        mut counted: impl FnMut(NaiveDate) -> Result<f64, Error>,
    ) -> Result<Vec<Option<NaiveDate>>, Error> {
        let mut found = vec![None; self.counts.len()];
        let (mut date, mut days, mut so_far) = (self.start, 0, 0.0_f64);
        for (slot, count) in found.iter_mut().zip(self.counts) {
            while so_far < *count && days < self.horizon_d {
                work::spend(1)?;
                date = next_day(date, self.weather.site.zone)?;
                days += 1;
                so_far = so_far.max(counted(date)?);
            }
            if so_far < *count {
                break;
            }
            *slot = Some(date);
        }
        Ok(found)
    }

    fn courses(
        &self,
        unit: WaitUnit,
        luck: Luck,
        shifts: &[i32],
    ) -> Result<Vec<Option<NaiveDate>>, Error> {
        let mut by_course = Vec::with_capacity(shifts.len());
        for shift in shifts {
            let mut sum = 0.0;
            by_course.push(self.until_all(|date| {
                sum += match unit {
                    WaitUnit::Days => 1.0,
                    WaitUnit::FlyingDays => {
                        f64::from(u8::from(self.weather.flies_in_course(date, *shift)?))
                    }
                    WaitUnit::DegreeDays { base_c, upper_c } => {
                        DegreeDays::new(DayShape::SingleSine, base_c, upper_c)?
                            .of_day(&self.weather.course_day(date, *shift))?
                    }
                };
                Ok(sum)
            })?);
        }
        // The first date by which at least this share of the years has reached the count.
        let rank = (luck.share() * shifts.len() as f64).ceil() as usize;
        Ok((0..self.counts.len())
            .map(|index| {
                let mut dates: Vec<NaiveDate> = by_course
                    .iter()
                    .filter_map(|course| course[index])
                    .collect();
                dates.sort_unstable();
                dates.get(rank.max(1) - 1).copied()
            })
            .collect())
    }

    /// Carries the joint chance of the count, of the day's departure and of its being wet from day to
    /// day.
    fn flying_days(&self, luck: Luck) -> Result<Vec<Option<NaiveDate>>, Error> {
        let spells = self.weather.spells();
        let wet_after_wet = self.weather.spread().wet_day_correlation.value;
        let most = self.counts.last().map_or(0, |count| count.ceil() as usize);
        // One row for each count below the most; those who have reached it are left out. Each has
        // the chances of dry days, then those of wet ones.
        let mut rows = vec![[[0.0; BINS]; 2]; most];
        if let Some(none) = rows.first_mut() {
            let wet = match &self.weather.rain {
                Some(rain) => rain.wet(self.start),
                None => 0.0,
            };
            *none = [1.0 - wet, wet].map(|share| spells.shares.map(|chance| chance * share));
        }
        // Counts below this one can no longer be: their chance has gone.
        let mut first_row = 0;
        let mut found = vec![None; self.counts.len()];
        let mut date = self.start;
        let mut pending = 0;
        for days in 0..=self.horizon_d {
            if days > 0 {
                date = next_day(date, self.weather.site.zone)?;
                let warm = spells.at_least(self.weather.flies_from_sd(date)?);
                let rain = self.weather.rain_to_expect(date)?;
                // A known day, or one of which no rain is known, is as good wet as dry.
                let lost_if_wet = rain.map_or(0.0, |rain| rain.lost_if_wet(date));
                let flies = [warm, warm.map(|chance| chance * (1.0 - lost_if_wet))];
                let wet = match &self.weather.rain {
                    Some(rain) => rain.wet(date),
                    None => 0.0,
                };
                let turns_wet =
                    [0.0, 1.0].map(|was_wet| wet_after_wet * was_wet + (1.0 - wet_after_wet) * wet);
                let last_row = most.min(days as usize);
                work::spend(1 + (last_row - first_row) as u64)?;
                for row in (first_row..last_row).rev() {
                    let [dry, wet] = [spells.step(&rows[row][0]), spells.step(&rows[row][1])];
                    let [from_dry, from_wet] = turns_wet;
                    let now: [[f64; BINS]; 2] = [
                        std::array::from_fn(|bin| {
                            dry[bin] * (1.0 - from_dry) + wet[bin] * (1.0 - from_wet)
                        }),
                        std::array::from_fn(|bin| dry[bin] * from_dry + wet[bin] * from_wet),
                    ];
                    for (state, (now, flies)) in now.iter().zip(&flies).enumerate() {
                        rows[row][state] = std::array::from_fn(|bin| now[bin] * (1.0 - flies[bin]));
                        if let Some(above) = rows.get_mut(row + 1) {
                            for (bin, chance) in above[state].iter_mut().enumerate() {
                                *chance += now[bin] * flies[bin];
                            }
                        }
                    }
                }
            }
            while let Some(count) = self.counts.get(pending) {
                let below: f64 = rows[..count.ceil() as usize]
                    .iter()
                    .flatten()
                    .flatten()
                    .sum();
                if below > 1.0 - luck.share() + 1e-9 {
                    break;
                }
                found[pending] = Some(date);
                pending += 1;
            }
            if pending == self.counts.len() {
                break;
            }
            while rows
                .get(first_row)
                .is_some_and(|row| row.iter().flatten().sum::<f64>() < 1e-12)
                && first_row + 1 < most.min(days as usize)
            {
                first_row += 1;
            }
        }
        Ok(found)
    }

    fn degree_days(
        &self,
        luck: Luck,
        base_c: f64,
        upper_c: Option<f64>,
    ) -> Result<Vec<Option<NaiveDate>>, Error> {
        let degree_days = DegreeDays::new(DayShape::SingleSine, base_c, upper_c)?;
        let mut unknown = Vec::new();
        let mut known_sum = 0.0;
        self.until_all(|date| {
            let day = self.weather.climate.day(date);
            if crate::weather::is_known(&day) {
                known_sum += degree_days.of_day(&day)?;
            } else {
                unknown.push(day);
            }
            let days = u32::try_from(unknown.len()).unwrap_or(u32::MAX);
            work::spend(days.into())?;
            let day_sd_c = self.weather.mean_sd_c(date);
            let sd_of_mean_c = day_sd_c * self.weather.spread().share_left_in_mean(days);
            let warmer_c = luck.warmth_sd() * sd_of_mean_c;
            let left_c = (day_sd_c.powi(2) - sd_of_mean_c.powi(2)).max(0.0).sqrt();
            unknown.iter().try_fold(known_sum, |sum, day| {
                let mut expected = 0.0;
                for (sd, weight) in GAUSS_HERMITE {
                    let departure_c = warmer_c + sd * left_c;
                    // A departure may leave the range that is allowed for temperatures.
                    let shifted =
                        |c: f64| (c + departure_c).clamp(*ALLOWED_C.start(), *ALLOWED_C.end());
                    expected +=
                        weight * degree_days.of(shifted(day.minimum_c), shifted(day.maximum_c))?;
                }
                Ok(sum + expected)
            })
        })
    }
}

/// What a year after `start` brings, on the whole.
fn likely_count(unit: WaitUnit, start: NaiveDate, weather: &Weather<'_>) -> Result<f64, Error> {
    let courses = weather.courses(start)?;
    let shifts: Vec<Option<i32>> = if courses.is_empty() {
        vec![None]
    } else {
        courses.into_iter().map(Some).collect()
    };
    let mut counts = Vec::with_capacity(shifts.len());
    for shift in shifts {
        let (mut date, mut sum) = (start, 0.0);
        for _ in 0..YEAR_D {
            work::spend(1)?;
            date = next_day(date, weather.site.zone)?;
            sum += match (unit, shift) {
                (WaitUnit::Days, _) => 1.0,
                (WaitUnit::FlyingDays, Some(shift)) => {
                    f64::from(u8::from(weather.flies_in_course(date, shift)?))
                }
                (WaitUnit::FlyingDays, None) => {
                    let flies = weather.spells().at_least(weather.flies_from_sd(date)?);
                    let lost = weather
                        .rain_to_expect(date)?
                        .map_or(0.0, |rain| rain.lost(date));
                    let warm: f64 = flies
                        .iter()
                        .zip(weather.spells().shares)
                        .map(|(chance, share)| chance * share)
                        .sum();
                    warm * (1.0 - lost)
                }
                (WaitUnit::DegreeDays { base_c, upper_c }, shift) => {
                    let day = shift.map_or_else(
                        || weather.climate.day(date),
                        |shift| weather.course_day(date, shift),
                    );
                    DegreeDays::new(DayShape::SingleSine, base_c, upper_c)?.of_day(&day)?
                }
            };
        }
        counts.push(sum);
    }
    counts.sort_by(f64::total_cmp);
    Ok(counts.get((counts.len() - 1) / 2).copied().unwrap_or(0.0))
}
