//! Moves of half a metre or a metre, each at the dawn of a flying day.

use chrono::{Days, NaiveDate, TimeDelta};
use serde::Serialize;

use super::holdups::holdups;
use crate::civil::{next_day, previous_day};
use crate::error::Error;
use crate::morning::{Morning, MorningSettings, MoveWindow};
use crate::reason::{Reason, say};
use crate::task::TimeWindow;
use crate::wait::{DateRange, Luck, RestsOn, Wait, WaitUnit, reached, rests_on};
use crate::weather::Weather;
use crate::wire::FromNode;

/// Most stages of one move.
pub const MOST_STAGES: u32 = 200;
/// Days after which a move that is not done is given up.
const HORIZON_D: u32 = 732;
/// Time for work by lamp, minutes (common practice, no source).
const LAMP_WORK_MIN: i64 = 45;

/// What a staged move is made of.
///
/// JSON: `{"distance_m": 4, "stage_m": 0.5, "between": {"unit": "flying_days", "earliest": 2,
/// "likely": 2, "latest": 2, "source": "own counts"}}`.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct Staging {
    /// From here to there, m: 0.05 to 200.
    pub distance_m: f64,
    /// Longest stage, m: 0.1 to 1. All stages have the same length.
    pub stage_m: f64,
    /// From one stage to the next. Flying days count from the day of the stage on, since a hive is
    /// moved before that day's flight.
    pub between: Wait,
    /// By how much the entrance is to be turned in all, degrees: −360 to 360, clockwise positive.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub total_turn_deg: Option<f64>,
    /// True where the keeper also moves by lamp, with the entrance closed the evening before, on
    /// mornings that leave no daylight before first flight.
    #[serde(default)]
    pub by_lamp: bool,
}

/// One move at dawn.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Stage {
    /// From 1.
    pub number: u32,
    /// When.
    pub dates: DateRange,
    /// The move window of the best date.
    pub window: TimeWindow,
    /// Where the hive stands afterwards: metres from where it began.
    pub distance_so_far_m: f64,
    /// By how much its entrance is turned afterwards, degrees, where a turn is asked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turned_so_far_deg: Option<f64>,
    /// Why then; above all what held it up.
    pub reasons: Vec<Reason>,
    /// Which weather the best date rests on, from the stage before.
    pub rests_on: RestsOn,
}

/// A move in stages.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct StagedMove {
    /// The stages, in order; not all of them where it comes to a stop.
    pub stages: Vec<Stage>,
    /// When the hive stands where it shall; `None` where it comes to a stop.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub finish: Option<DateRange>,
    /// Why it comes to a stop before the end, and what would help; empty where it does not.
    pub stopped: Vec<Reason>,
}

impl Staging {
    /// How many stages it takes.
    ///
    /// # Errors
    /// `out_of_range` for a length or a turn, `inconsistent` for more than [`MOST_STAGES`] stages,
    /// and as [`Wait::check`].
    pub fn stages(&self) -> Result<u32, Error> {
        self.between.check()?;
        for (field, value, low, high, unit) in [
            ("distance_m", self.distance_m, 0.05, 200.0, "m"),
            ("stage_m", self.stage_m, 0.1, 1.0, "m"),
            (
                "total_turn_deg",
                self.total_turn_deg.unwrap_or(0.0),
                -360.0,
                360.0,
                "degrees",
            ),
        ] {
            if !(low..=high).contains(&value) {
                let allowed = format!("{low} to {high} {unit}");
                return Err(Error::out_of_range(field, value, allowed));
            }
        }
        // 4 m are eight stages of 0.5 m, whatever the last bit of the quotient says.
        let count = (self.distance_m / self.stage_m - 1e-9).ceil().max(1.0);
        if count > f64::from(MOST_STAGES) {
            return Err(Error::Inconsistent {
                field: "distance_m, stage_m".to_owned(),
                problem: format!(
                    "{} m in stages of {} m takes {count:.0} stages, at most {MOST_STAGES} can be \
                     planned; a far move and return is quicker",
                    self.distance_m, self.stage_m
                ),
            });
        }
        Ok(count as u32)
    }
}

/// The stages of a move whose first stage can take place from `first` on.
///
/// A stage takes place on a flying day, before its flight, so that bees learn the new place at
/// once, and only in a move window. Cold, wet and windowless mornings are passed over and named in
/// the reasons of the stage that they hold up.
///
/// # Errors
/// As [`Staging::stages`] and [`crate::wait::run`].
///
/// ```
/// use apiary_almanac::wait::{WaitUnit, DateRange, Wait};
/// use apiary_almanac::weather::Weather;
/// use apiary_almanac::relocation::{Staging, staged};
/// use apiary_almanac::{Climate, Site, bee};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let (climate, small) = (Climate::from_location(&site), bee::built_in("generic_small")?);
/// let between = Wait::new(WaitUnit::FlyingDays, [2.0; 3], "own counts")?;
/// let staging =
///     Staging { distance_m: 2.0, stage_m: 0.5, between, total_turn_deg: None, by_lamp: false };
/// let weather = Weather::new(&site, &climate, &small);
/// let first = DateRange::on("2026-10-26".parse()?);
/// let plan = staged(&staging, &first, &Default::default(), &weather)?;
/// assert_eq!(plan.stages.len(), 4);
/// // Three waits of two days, and one day that is likely to be lost to rain.
/// assert_eq!(plan.finish.ok_or("stopped")?.best.to_string(), "2026-11-02");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn staged(
    staging: &Staging,
    first: &DateRange,
    mornings: &MorningSettings,
    weather: &Weather<'_>,
) -> Result<StagedMove, Error> {
    let count = staging.stages()?;
    let dawns = Dawns {
        mornings,
        weather,
        by_lamp: staging.by_lamp,
    };
    let chain = |luck: Luck| dawns.chain(&staging.between, count, luck, luck.of(first));
    let (early, middle, late) = (
        chain(Luck::Early)?,
        chain(Luck::Middle)?,
        chain(Luck::Late)?,
    );
    let mut stages: Vec<Stage> = Vec::with_capacity(count as usize);
    let mut before = None;
    for ((number, best), (earliest, latest)) in (1..).zip(middle).zip(early.into_iter().zip(late)) {
        let dates = DateRange {
            earliest: earliest.min(best),
            best,
            latest: latest.max(best),
        };
        let Some((window, how)) = dawns.window(&dawns.morning(best)?) else {
            break;
        };
        let share = f64::from(number) / f64::from(count);
        let from = before.unwrap_or(first.best);
        let mut reasons = vec![why(staging, before.is_none())];
        reasons.extend(how);
        // The recorded years have their own rain.
        if before.is_some() && weather.courses(from)?.is_empty() {
            reasons.extend(weather.rain_reason(from, best)?);
        }
        reasons.extend(holdups(from, best, &dawns)?);
        let eve = previous_day(first.best, weather.site.zone)?;
        stages.push(Stage {
            number,
            dates,
            window,
            distance_so_far_m: staging.distance_m * share,
            turned_so_far_deg: staging.total_turn_deg.map(|turn| turn * share),
            reasons,
            rests_on: rests_on(before.unwrap_or(eve), best, weather)?,
        });
        before = Some(best);
    }
    let done = stages.len() == count as usize;
    let stopped = if done {
        Vec::new()
    } else {
        dawns.stopped(first.best, before)?
    };
    Ok(StagedMove {
        finish: stages.last().filter(|_| done).map(|stage| stage.dates),
        stages,
        stopped,
    })
}

fn why(staging: &Staging, is_first: bool) -> Reason {
    if is_first {
        return say::first_flying_day();
    }
    let between = &staging.between;
    say::after_the_wait(between.unit.value(between.likely))
}

/// The mornings on which a hive can be moved.
pub(super) struct Dawns<'a, 'w> {
    pub mornings: &'a MorningSettings,
    pub weather: &'a Weather<'w>,
    pub by_lamp: bool,
}

impl Dawns<'_, '_> {
    pub fn morning(&self, date: NaiveDate) -> Result<Morning, Error> {
        self.weather.morning(date, self.mornings)
    }

    /// When to move on a morning, and a reason where it is not by daylight.
    pub fn window(&self, morning: &Morning) -> Option<(TimeWindow, Option<Reason>)> {
        match morning.window {
            MoveWindow::Open { from, until, .. } => Some((TimeWindow { from, until }, None)),
            MoveWindow::None { .. } => {
                let margin = TimeDelta::seconds((self.mornings.margin_min.value * 60.0) as i64);
                let until = morning.first_flight.filter(|_| self.by_lamp)?.at - margin;
                let from = until - TimeDelta::minutes(LAMP_WORK_MIN);
                let reason = say::by_lamp();
                (from.date_naive() == morning.date)
                    .then_some((TimeWindow { from, until }, Some(reason)))
            }
        }
    }

    /// The dates of the stages: as many as come within two years.
    fn chain(
        &self,
        between: &Wait,
        count: u32,
        luck: Luck,
        first: NaiveDate,
    ) -> Result<Vec<NaiveDate>, Error> {
        let limit = first + Days::new(HORIZON_D.into());
        let [early, middle, late] = between.counts();
        let step = match luck {
            Luck::Early => early,
            Luck::Middle => middle,
            Luck::Late => late,
        };
        let mut dates: Vec<NaiveDate> = Vec::with_capacity(count as usize);
        let (mut anchor, mut wait) = (first, 0.0);
        // Counting all stages from one anchor keeps the spread of their sum; it starts anew where a
        // morning had to be passed over.
        'anew: while dates.len() < count as usize {
            let left = count as usize - dates.len();
            let counts: Vec<f64> = (0..left).map(|i| wait + i as f64 * step).collect();
            for planned in self.mornings_after(between.unit, anchor, &counts, luck)? {
                let after_last = match dates.last() {
                    Some(last) => next_day(*last, self.weather.site.zone)?,
                    None => first,
                };
                let Some(planned) = planned else {
                    break 'anew;
                };
                let counts_flight = between.unit == WaitUnit::FlyingDays;
                let from = planned.max(after_last);
                let Some(date) = self.next(from, limit, luck, counts_flight && from == planned)?
                else {
                    break 'anew;
                };
                dates.push(date);
                if date != planned {
                    (anchor, wait) = (date, step);
                    continue 'anew;
                }
            }
        }
        Ok(dates)
    }

    /// The mornings on which waiting times from `anchor` are over.
    fn mornings_after(
        &self,
        unit: WaitUnit,
        anchor: NaiveDate,
        counts: &[f64],
        luck: Luck,
    ) -> Result<Vec<Option<NaiveDate>>, Error> {
        let zone = self.weather.site.zone;
        let run =
            |start, counts: &[f64]| reached(unit, start, counts, luck, self.weather, HORIZON_D);
        match unit {
            // A stage on a flying day after n others, the anchor's own among them.
            WaitUnit::FlyingDays => {
                let counts: Vec<f64> = counts.iter().map(|count| count.ceil() + 1.0).collect();
                run(previous_day(anchor, zone)?, &counts)
            }
            WaitUnit::Days => run(anchor, counts),
            // The count is full in the evening.
            WaitUnit::DegreeDays { .. } => run(anchor, counts)?
                .into_iter()
                .map(|date| match date {
                    Some(date) if date > anchor => next_day(date, zone).map(Some),
                    other => Ok(other),
                })
                .collect(),
        }
    }

    /// The first morning from `date` on, up to `limit`, of a flying day and with a move window.
    pub fn next(
        &self,
        date: NaiveDate,
        limit: NaiveDate,
        luck: Luck,
        is_flying_day: bool,
    ) -> Result<Option<NaiveDate>, Error> {
        let zone = self.weather.site.zone;
        let (mut date, mut is_flying_day) = (date, is_flying_day);
        loop {
            if !is_flying_day {
                let eve = previous_day(date, zone)?;
                let first = reached(
                    WaitUnit::FlyingDays,
                    eve,
                    &[1.0],
                    luck,
                    self.weather,
                    HORIZON_D,
                )?;
                let Some(first) = first.first().copied().flatten() else {
                    return Ok(None);
                };
                date = first;
            }
            if date > limit {
                return Ok(None);
            }
            // With luck a day that is not yet known has its window.
            let lucky = luck == Luck::Early && !self.weather.day(date)?.is_known();
            if lucky || self.window(&self.morning(date)?).is_some() {
                return Ok(Some(date));
            }
            date = next_day(date, zone)?;
            is_flying_day = false;
        }
    }

    /// Why no stage is found from `first` on, or none after the one `before`.
    fn stopped(&self, first: NaiveDate, before: Option<NaiveDate>) -> Result<Vec<Reason>, Error> {
        let (date, reason) = match before {
            Some(last) => (
                next_day(last, self.weather.site.zone)?,
                say::stopped_after(last),
            ),
            None => (first, say::stopped()),
        };
        let morning = self.morning(date)?;
        let mut reasons = vec![reason];
        if let MoveWindow::None {
            reasons: none,
            help,
        } = morning.window
        {
            reasons.extend(none);
            reasons.extend(help);
        } else if !morning.flying_day {
            reasons.push(morning.flight_day_reason);
        }
        Ok(reasons)
    }
}
