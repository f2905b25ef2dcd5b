//! The weather of single days: which of them a step can be done on, and at what time.

use chrono::{NaiveDate, TimeDelta, Timelike};

use super::PlanSettings;
use crate::civil::{Instant, check_date, civil_day, day_start, in_zone, next_day, took_place};
use crate::error::Error;
use crate::flight::Flight;
use crate::method::{DayRule, EntranceWork, ResolvedStep, TimeOfDay};
use crate::morning::{LampWindow, Morning, MorningSettings, MoveWindow, Weekday};
use crate::normal::NINE_IN_TEN_SD;
use crate::reason::{Reason, say};
use crate::task::{TaskKind, TimeWindow};
use crate::weather::Weather;
use crate::work;

/// Steps in which the temperature of a day is looked through: ten minutes.
const LOOK_EVERY_MS: f64 = 600_000.0;
/// How long an entrance that is closed against pests stays so, days.
const CLOSED_D: u32 = 2;
/// Shortest time given for an evening's work, with a lamp if need be, minutes.
const EVENING_MIN: i64 = 30;

/// Days, their weather and their windows.
pub(crate) struct Days<'a> {
    weather: &'a Weather<'a>,
    mornings: &'a MorningSettings,
    settings: &'a PlanSettings,
    free: &'a [Weekday],
}

/// What a rule makes of a day.
#[derive(Debug, Clone)]
pub(crate) struct Verdict {
    /// The first thing that speaks against the day, if anything does.
    pub against: Option<Reason>,
    /// Everything there is to say.
    pub reasons: Vec<Reason>,
}

pub(super) fn not_free(date: NaiveDate) -> Reason {
    say::not_free(Weekday::of(date).word())
}

impl Verdict {
    fn new() -> Self {
        Verdict {
            against: None,
            reasons: Vec::new(),
        }
    }

    pub fn good(&self) -> bool {
        self.against.is_none()
    }

    fn say(&mut self, reason: Reason) {
        self.reasons.push(reason);
    }

    /// What speaks against the day, if anything does.
    fn refuse(&mut self, against: impl IntoIterator<Item = Reason>) {
        for reason in against {
            self.against.get_or_insert_with(|| reason.clone());
            self.reasons.push(reason);
        }
    }
}

impl<'a> Days<'a> {
    pub fn new(
        weather: &'a Weather<'a>,
        mornings: &'a MorningSettings,
        settings: &'a PlanSettings,
        free: &'a [Weekday],
    ) -> Self {
        Days {
            weather,
            mornings,
            settings,
            free,
        }
    }

    /// The date itself, or the day after it where the zone's calendar skipped it.
    pub fn that_took_place(&self, date: NaiveDate) -> Result<NaiveDate, Error> {
        let date = check_date("date", date)?;
        Ok(if took_place(date, self.weather.site.zone) {
            date
        } else {
            date + TimeDelta::days(1)
        })
    }

    pub fn is_free(&self, date: NaiveDate) -> bool {
        self.free.is_empty() || self.free.contains(&Weekday::of(date))
    }

    pub fn dawn(&self, date: NaiveDate) -> Result<Morning, Error> {
        self.weather.morning(date, self.mornings)
    }

    /// What a step asks of a day: by its rule, by its time of day, and of a box that is shut over
    /// night.
    pub fn judge(&self, resolved: &ResolvedStep, date: NaiveDate) -> Result<Verdict, Error> {
        work::spend(1)?;
        let step = &resolved.step;
        let mut verdict = Verdict::new();
        match step.day {
            DayRule::Any => {}
            DayRule::Flying => {
                let flight = &self.weather.day(date)?.frame.flight;
                // Where flying days are counted up to it, it is one of them if that can be.
                let counted = resolved.counts_flight() && self.may_fly(date)?;
                if flight.flying_day || counted {
                    verdict.say(flight.reason.clone());
                } else {
                    verdict.refuse([flight.reason.clone()]);
                }
            }
            DayRule::Opening => self.opening(date, &mut verdict)?,
        }
        let is_move = step.time == TimeOfDay::Dawn && step.kind == TaskKind::Move;
        if is_move {
            verdict.refuse(self.unfit_dawn(date)?);
        }
        if is_move {
            verdict.refuse(self.too_hot_to_shut(date)?);
        }
        if step.entrance == Some(EntranceWork::Close) {
            verdict.refuse(self.too_hot_to_close(date)?);
        }
        Ok(verdict)
    }

    /// Whether one in ten such days, as far as nothing is known of it, is one on which bees fly.
    fn may_fly(&self, date: NaiveDate) -> Result<bool, Error> {
        let known = self.weather.day(date)?.is_known();
        Ok(!known && self.weather.flies_from_sd(date)? <= NINE_IN_TEN_SD)
    }

    /// Why no hive can be moved on the morning of a date, as far as its first hours go.
    fn unfit_dawn(&self, date: NaiveDate) -> Result<Vec<Reason>, Error> {
        let dawn = self.dawn(date)?;
        let mornings = self.mornings;
        let (cold_c, warm_c) = (mornings.coldest_work_c.value, mornings.warmest_work_c.value);
        Ok(match (dawn.window, dawn.by_lamp, dawn.temperature_c) {
            (MoveWindow::None { reasons, .. }, None, _) => reasons,
            (_, _, Some(at_work_c)) if at_work_c < cold_c => {
                vec![say::too_cold_to_travel(at_work_c, date, cold_c)]
            }
            (_, _, Some(at_work_c)) if at_work_c >= warm_c => {
                vec![say::too_warm_to_travel(at_work_c, date, warm_c)]
            }
            _ => Vec::new(),
        })
    }

    /// Why no entrance is closed on the evening of a date: a day too hot for these bees before it is opened.
    fn too_hot_to_close(&self, date: NaiveDate) -> Result<Option<Reason>, Error> {
        let limit = self.weather.bee.closed_limit();
        let mut day = date;
        for ahead in 0..=CLOSED_D {
            if ahead > 0 {
                day = next_day(day, self.weather.site.zone)?;
            }
            let maximum_c = self.weather.climate.day(day).maximum_c;
            if maximum_c >= limit.value {
                return Ok(Some(say::too_hot_to_close(
                    maximum_c,
                    day,
                    limit.value,
                    &limit.source,
                )));
            }
        }
        Ok(None)
    }

    /// Why no box is carried on a date: heat on it or on the next day.
    fn too_hot_to_shut(&self, date: NaiveDate) -> Result<Option<Reason>, Error> {
        let limit_c = self.weather.bee.heat_shade_c.value;
        for day in [date, next_day(date, self.weather.site.zone)?] {
            let maximum_c = self.weather.climate.day(day).maximum_c;
            if maximum_c >= limit_c {
                return Ok(Some(say::too_hot_to_shut(maximum_c, day, limit_c)));
            }
        }
        Ok(None)
    }

    /// The air in which a hive is opened: that of the settings, within what the brood of this bee stands.
    fn opening_c(&self) -> (f64, f64) {
        let (low, high) = (&self.settings.opening_min_c, &self.settings.opening_max_c);
        let bee = self.weather.bee();
        let cold_c = bee
            .brood_cold_c()
            .as_ref()
            .map_or(low.value, |one| one.value);
        let heat_c = bee
            .brood_heat_c()
            .as_ref()
            .map_or(high.value, |one| one.value);
        let fit = (low.value.max(cold_c), high.value.min(heat_c));
        // A keeper's own bounds that leave nothing of these are the keeper's to answer for.
        if fit.0 < fit.1 {
            fit
        } else {
            (low.value, high.value)
        }
    }

    fn opening(&self, date: NaiveDate, verdict: &mut Verdict) -> Result<(), Error> {
        let (settings, bee) = (self.settings, self.weather.bee());
        let (low_c, high_c) = self.opening_c();
        let day = self.weather.climate.day(date);
        if day.maximum_c < low_c {
            verdict.refuse([say::too_cold_to_open(day.maximum_c, low_c)]);
        } else if let Some(window) = self.warm_hours(date)? {
            let hours = (window.until - window.from).num_minutes() as f64 / 60.0;
            if hours < settings.opening_h.value {
                verdict.refuse([say::too_short_to_open(hours)]);
            } else {
                verdict.say(say::mild(hours, low_c, high_c));
            }
        } else {
            verdict.refuse([say::no_mild_hours(low_c, high_c)]);
        }
        match day.rain_mm {
            Some(rain) if rain >= settings.opening_rain_mm.value => {
                verdict.refuse([say::wet(rain)]);
            }
            Some(_) => verdict.say(say::dry()),
            None => verdict.say(match &self.weather.rain {
                Some(rain) => say::rain_unknown(Some(10.0 * rain.wet(date)), rain.wet_from_mm),
                None => say::rain_unknown(None, None),
            }),
        }
        if let Some((hot, maximum_c)) = self.heat_within(date)? {
            verdict.refuse([say::heat_ahead(
                maximum_c,
                hot,
                bee.heat_shade_c.value,
                settings.heat_ahead_d.value + 1.0,
            )]);
        }
        Ok(())
    }

    /// The first day with heat from a date on, within the settings' number of days.
    fn heat_within(&self, date: NaiveDate) -> Result<Option<(NaiveDate, f64)>, Error> {
        let mut day = date;
        for ahead in 0..=self.settings.heat_ahead_d.value as u32 {
            if ahead > 0 {
                day = next_day(day, self.weather.site.zone)?;
            }
            let maximum_c = self.weather.climate.day(day).maximum_c;
            if maximum_c >= self.weather.bee.heat_shade_c.value {
                return Ok(Some((day, maximum_c)));
            }
        }
        Ok(None)
    }

    /// The longest stretch of a day with flight and air fit for opening a hive, some time after
    /// sunrise and with flight after it.
    fn warm_hours(&self, date: NaiveDate) -> Result<Option<TimeWindow>, Error> {
        work::spend(work::DAY_COURSE)?;
        let day = self.weather.day(date)?;
        let Flight::Possible { first, last, .. } = day.frame.flight.flight else {
            return Ok(None);
        };
        let (low_c, high_c) = self.opening_c();
        let fit = low_c..=high_c;
        let [sun, _] = day.frame.sky.today_and_tomorrow();
        let after_sunrise = self.settings.opening_after_sunrise_h.value * 3_600_000.0;
        let light = sun
            .rise
            .map(|rise| rise + TimeDelta::milliseconds(after_sunrise as i64));
        let first = light.map_or(first.at, |light| light.max(first.at));
        let first_ms = day.frame.curve.ms(first);
        let left_min = (self.settings.flight_left_h.value * 60.0) as i64;
        let long_ms = day.frame.curve.ms(last.at) - first_ms - (left_min * 60_000) as f64;
        // In steps from first flight: the longest stretch so far, and one that is not over.
        let (mut best, mut open): (Option<(u32, u32)>, Option<u32>) = (None, None);
        for step in 0.. {
            let since_ms = f64::from(step) * LOOK_EVERY_MS;
            if since_ms > long_ms {
                break;
            }
            if fit.contains(&day.frame.curve.temperature_at_ms_c(first_ms + since_ms)) {
                let from = *open.get_or_insert(step);
                if best.is_none_or(|(begun, ended)| step - from > ended - begun) {
                    best = Some((from, step));
                }
            } else {
                open = None;
            }
        }
        let at =
            |step: u32| first + TimeDelta::milliseconds(i64::from(step) * LOOK_EVERY_MS as i64);
        let best = best.map(|(from, until)| TimeWindow {
            from: at(from),
            until: at(until),
        });
        Ok(best.and_then(|window| self.within_day(date, window)))
    }

    /// The stretch of a date for a time of day; `None` for the whole day and where there is none,
    /// then with the reasons.
    pub fn window(
        &self,
        time: TimeOfDay,
        date: NaiveDate,
    ) -> Result<(Option<TimeWindow>, Vec<Reason>), Error> {
        match time {
            TimeOfDay::WholeDay => Ok((None, Vec::new())),
            TimeOfDay::Dawn => {
                let dawn = self.dawn(date)?;
                let by_lamp_reason = dawn.by_lamp_reason();
                Ok(match (dawn.window, dawn.by_lamp) {
                    (MoveWindow::Open { from, until, .. }, _) => (
                        self.within_day(date, TimeWindow { from, until }),
                        Vec::new(),
                    ),
                    (MoveWindow::None { .. }, Some(LampWindow { from, until })) => (
                        self.within_day(date, TimeWindow { from, until }),
                        vec![by_lamp_reason],
                    ),
                    (MoveWindow::None { mut reasons, help }, None) => {
                        reasons.extend(help);
                        (None, reasons)
                    }
                })
            }
            TimeOfDay::WarmHours => {
                let window = self.warm_hours(date)?;
                let why = if window.is_none() {
                    vec![say::no_warm_hours()]
                } else {
                    Vec::new()
                };
                Ok((window, why))
            }
            TimeOfDay::Evening => {
                let tomorrow = next_day(date, self.weather.site.zone)?;
                let evening = self.dawn(tomorrow)?.evening_before;
                let shortest = evening.from + TimeDelta::minutes(EVENING_MIN);
                let until = evening
                    .daylight_until
                    .map_or(shortest, |dusk| dusk.max(shortest));
                let window = TimeWindow {
                    from: evening.from,
                    until,
                };
                let why = if evening.lamp_needed {
                    vec![say::lamp()]
                } else {
                    Vec::new()
                };
                Ok((self.within_day(date, window), why))
            }
        }
    }

    /// One good hour of a stretch for opening a hive, a third into it, two hours at most, and at a
    /// half or a full hour: it is warm by then, and most of the day is left to mend what goes wrong
    /// (common practice, no source). In a short stretch its beginning.
    pub fn good_hour(&self, window: TimeWindow) -> Instant {
        let into = (window.until - window.from) / 3;
        let third = window.from + into.min(TimeDelta::hours(2));
        let past_min = third.minute() % 30;
        let down = TimeDelta::minutes(past_min.into());
        let up = TimeDelta::minutes(if past_min < 15 { 0 } else { 30 });
        let seconds = TimeDelta::seconds(third.second().into())
            + TimeDelta::nanoseconds(third.nanosecond().into());
        let hour = third - seconds - down + up;
        if (window.from..=window.until).contains(&hour) {
            in_zone(hour.to_utc(), self.weather.site.zone)
        } else {
            window.from
        }
    }

    /// The part of a window that lies in the civil day, as the clocks show it then: they may change
    /// within it.
    pub(super) fn within_day(&self, date: NaiveDate, window: TimeWindow) -> Option<TimeWindow> {
        let zone = self.weather.site.zone;
        let start = in_zone(day_start(date, zone).ok()?, zone);
        let end = next_day(date, zone)
            .and_then(|next| day_start(next, zone))
            .ok()?;
        let last = in_zone(end - TimeDelta::seconds(1), zone);
        let shown = |at: Instant| in_zone(at.to_utc(), zone);
        let window = TimeWindow {
            from: shown(window.from.max(start)),
            until: shown(window.until.min(last)),
        };
        let within = |at| civil_day::<chrono::FixedOffset>(at, zone) == date;
        (window.from < window.until && within(window.from) && within(window.until))
            .then_some(window)
    }
}
