//! The temperature through a day, from the extremes of three days and the sun.

use chrono::TimeDelta;
use serde::Serialize;

use super::DayTemperatures;
use super::course::{AirOfPlace, Course};
use crate::civil::Instant;
use crate::wire::FromNode;

/// Noon, rise and set of one day, as far as there are any.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
pub struct DaySun {
    /// Solar noon.
    pub noon: Instant,
    /// Sunrise before that noon; `None` where the sun does not rise.
    pub rise: Option<Instant>,
    /// Sunset after that noon; `None` where the sun does not set.
    pub set: Option<Instant>,
}

/// How many times the difference to the coming minimum shrinks by a factor e in one night: the night
/// coefficient of Parton & Logan (1981, Agricultural Meteorology 23:205–216) for air at 150 cm. Unlike
/// theirs, the night is stretched to arrive at the coming minimum.
const NIGHT_DECAY: f64 = 2.20;

/// Half of a day without sunrise or sunset, and the shortest and longest that is reckoned with, h.
const HALF_DAY_H: f64 = 6.0;
const SHORTEST_HALF_DAY_H: f64 = 2.0;
const LONGEST_HALF_DAY_H: f64 = 10.0;

/// Air temperature at every moment of a day, as it usually is and as it is on the one day in ten that
/// warms earliest or cools latest.
///
/// From sunrise, where the day's minimum lies, to sunset it goes the usual share of the way between
/// minimum and maximum, by half-days from solar noon, nearness of the sea and the day's range. At
/// night it falls exponentially towards the coming minimum; before today's sunrise that is the night
/// after yesterday. Where the sun does not rise or set, the half-day is six hours.
///
/// Minimum and maximum do not hold when fronts, cloud or a sea breeze come: the time at which a
/// temperature is reached scatters by about an hour, for which the two edges stand.
///
/// ```
/// use apiary_almanac::Instant;
/// use apiary_almanac::climate::{
///     AirOfPlace, DayCurve, DaySun, DayTemperatures, TemperatureSource,
/// };
/// let sun = |date: &str| -> Result<DaySun, Box<dyn std::error::Error>> {
///     let at = |time: &str| Instant::parse_from_rfc3339(&format!("{date}T{time}:00+10:00"));
///     Ok(DaySun { noon: at("11:50")?, rise: Some(at("06:35")?), set: Some(at("17:05")?) })
/// };
/// let suns = [sun("2026-07-14")?, sun("2026-07-15")?, sun("2026-07-16")?];
/// let day = |date: &str| -> Result<DayTemperatures, chrono::ParseError> {
///     let source = TemperatureSource::Forecast;
///     Ok(DayTemperatures { date: date.parse()?, minimum_c: 9.0, maximum_c: 21.0, rain_mm: None, source })
/// };
/// let days = [day("2026-07-14")?, day("2026-07-15")?, day("2026-07-16")?];
/// let suns = [&suns[0], &suns[1], &suns[2]];
/// let curve = DayCurve::new(suns, [&days[0], &days[1], &days[2]], AirOfPlace::INLAND);
///
/// // A bee that flies from 18 °C usually begins shortly before noon; on one day in ten an hour and
/// // a half earlier.
/// let (first, last) = curve.stretch_at_or_above(18.0).ok_or("too cold")?;
/// assert!((curve.temperature_c(first) - 18.0).abs() < 0.001);
/// let (early, late) = curve.outer_stretch_at_or_above(18.0).ok_or("too cold")?;
/// assert!(early < first && last < late);
/// assert_eq!(curve.stretch_at_or_above(22.0), None);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct DayCurve {
    /// Today's solar noon, from which all times are counted.
    noon: Instant,
    /// Yesterday, today, tomorrow.
    days: [Shape; 3],
    /// Today as it is on one day in ten.
    outer: Course,
    /// Today by the hour, where it is known: when, and °C.
    hours: Option<Vec<(f64, f64)>>,
}

/// Times are milliseconds from today's solar noon, and whole numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Shape {
    noon_ms: f64,
    /// Half of the day before noon and after it.
    half_days_ms: [f64; 2],
    minimum_c: f64,
    maximum_c: f64,
    course: Course,
}

const HOUR_MS: f64 = 3_600_000.0;

impl DayCurve {
    /// The curve of the second of three days that follow each other.
    pub fn new(sun: [&DaySun; 3], temperatures: [&DayTemperatures; 3], air: AirOfPlace) -> Self {
        let noon = sun[1].noon;
        let range_c = temperatures[1].maximum_c - temperatures[1].minimum_c;
        DayCurve {
            noon,
            days: [0, 1, 2].map(|i| Shape::new(noon, sun[i], temperatures[i], air)),
            outer: Course::outer(range_c, air),
            hours: None,
        }
    }

    /// The same day where its temperature is known by the hour: between readings it lies on straight
    /// lines, and no curve is used. The edges are where the air comes within 1 °C of a
    /// threshold.
    #[must_use]
    pub fn with_hours(mut self, readings: impl IntoIterator<Item = (Instant, f64)>) -> Self {
        let readings = readings.into_iter().map(|(at, c)| (self.ms(at), c));
        let hours: Vec<_> = readings.collect();
        self.hours = (hours.len() > 1).then_some(hours);
        self
    }

    /// The same day after a look at the thermometer in the morning: both the usual course and its
    /// early edge are moved to the reading, and go what is left of the way to the maximum as before.
    /// A reading that is as expected changes nothing, nor does one of another day, of the night, after
    /// the hottest time or of a day that is known by the hour.
    #[must_use]
    pub fn with_reading(mut self, at: Instant, temperature_c: f64) -> Self {
        let at_ms = self.ms(at);
        let today = &mut self.days[1];
        let range_c = today.maximum_c - today.minimum_c;
        if self.hours.is_some() {
            return self;
        }
        if at_ms < today.rise_ms() || at_ms > today.set_ms() || range_c <= 0.0 {
            return self;
        }
        let share = (temperature_c - today.minimum_c) / range_c;
        if let Some(by) = today.course.correction(today.half_days(at_ms), share) {
            today.course = today.course.corrected(&by);
            self.outer = self.outer.corrected(&by);
        }
        self
    }

    /// Milliseconds from today's solar noon, in which the crate's own calls count.
    pub(crate) fn ms(&self, at: Instant) -> f64 {
        ms(self.noon, at)
    }

    /// The lowest minimum of the three days, °C.
    pub(crate) fn lowest_c(&self) -> f64 {
        let [yesterday, today, tomorrow] = self.days.map(|day| day.minimum_c);
        yesterday.min(today).min(tomorrow)
    }

    /// Today's maximum, °C.
    pub(crate) fn maximum_c(&self) -> f64 {
        self.days[1].maximum_c
    }

    fn instant(&self, at_ms: f64) -> Instant {
        let step = TimeDelta::milliseconds(at_ms as i64);
        self.noon.checked_add_signed(step).unwrap_or(self.noon)
    }

    /// Air temperature on the usual day, °C. Good from yesterday's sunrise to tomorrow's hottest time;
    /// outside of that it stays at those.
    pub fn temperature_c(&self, at: Instant) -> f64 {
        self.temperature_at_ms_c(self.ms(at))
    }

    pub(crate) fn temperature_at_ms_c(&self, at_ms: f64) -> f64 {
        if let Some(c) = self
            .hours
            .as_deref()
            .and_then(|hours| by_the_hour(hours, at_ms))
        {
            return c;
        }
        let [yesterday, today, tomorrow] = &self.days;
        if at_ms < today.rise_ms() {
            before_sunrise(yesterday, today, at_ms)
        } else if at_ms < tomorrow.rise_ms() {
            before_sunrise(today, tomorrow, at_ms)
        } else {
            tomorrow.by_day(at_ms.min(tomorrow.noon_ms))
        }
    }

    /// The stretch around today's maximum in which it usually is at least as warm as `threshold_c`;
    /// `None` where the maximum is below it. Where the night before stays as warm it begins at
    /// yesterday's sunset, and where the coming night does it ends at tomorrow's sunrise.
    pub fn stretch_at_or_above(&self, threshold_c: f64) -> Option<(Instant, Instant)> {
        let (from_ms, until_ms) = self.stretch_ms(threshold_c)?;
        Some((self.instant(from_ms), self.instant(until_ms)))
    }

    /// The same at its edges: on one morning in ten it is as warm by the first moment, on one evening
    /// in ten it still is after the second.
    pub fn outer_stretch_at_or_above(&self, threshold_c: f64) -> Option<(Instant, Instant)> {
        let usual = self.stretch_ms(threshold_c)?;
        let (from_ms, until_ms) = match &self.hours {
            Some(_) => self
                .stretch_ms(threshold_c - HOURS_OFF_BY_C)
                .unwrap_or(usual),
            None => self.stretch_of(&self.outer, threshold_c)?,
        };
        Some((self.instant(from_ms), self.instant(until_ms)))
    }

    pub(crate) fn stretch_ms(&self, threshold_c: f64) -> Option<(f64, f64)> {
        match &self.hours {
            Some(hours) => self.stretch_by_the_hour(hours, threshold_c),
            None => self.stretch_of(&self.days[1].course, threshold_c),
        }
    }

    /// From the first moment since an hour before sunrise at which it is warm enough to the last one up
    /// to an hour after sunset.
    fn stretch_by_the_hour(&self, hours: &[(f64, f64)], threshold_c: f64) -> Option<(f64, f64)> {
        let today = &self.days[1];
        let (begin, end) = (today.rise_ms() - HOUR_MS, today.set_ms() + HOUR_MS);
        let mut warm: Option<(f64, f64)> = None;
        for pair in hours.windows(2) {
            let [(from, from_c), (until, until_c)] = [pair[0], pair[1]];
            // The part of this line that is warm enough, within the day.
            let crossing = from + (threshold_c - from_c) / (until_c - from_c) * (until - from);
            let (low, high) = match (from_c >= threshold_c, until_c >= threshold_c) {
                (true, true) => (from, until),
                (true, false) => (from, crossing),
                (false, true) => (crossing, until),
                (false, false) => continue,
            };
            let (low, high) = (low.max(begin).round(), high.min(end).round());
            if low <= high {
                warm = Some((warm.map_or(low, |(first, _)| first), high));
            }
        }
        warm
    }

    fn stretch_of(&self, course: &Course, threshold_c: f64) -> Option<(f64, f64)> {
        let [yesterday, today, tomorrow] = &self.days;
        if threshold_c.is_nan() || today.maximum_c < threshold_c {
            return None;
        }
        let share = today.share_of_range(threshold_c);
        let from = if today.minimum_c >= threshold_c {
            warm_since(yesterday, today, threshold_c)
        } else {
            // On a day that is as warm before sunrise it may be so all night.
            let rises = course.rises_to(share);
            rises.map_or(yesterday.set_ms(), |half_days| today.ms_of(half_days))
        };
        let until = today.falls_to(course, tomorrow, threshold_c);
        Some((from, until.max(from)))
    }
}

/// How far readings and forecasts by the hour may be off the air at the hive, °C: common practice, no
/// source.
const HOURS_OFF_BY_C: f64 = 1.0;

/// On the straight line between the readings around a moment.
fn by_the_hour(hours: &[(f64, f64)], at_ms: f64) -> Option<f64> {
    let next = hours.partition_point(|(at, _)| *at < at_ms);
    let (after, after_c) = *hours.get(next)?;
    if after <= at_ms {
        return Some(after_c);
    }
    let (before, before_c) = *hours.get(next.checked_sub(1)?)?;
    Some(before_c + (at_ms - before) / (after - before) * (after_c - before_c))
}

/// From `day`'s sunrise to the next one.
fn before_sunrise(day: &Shape, next: &Shape, at_ms: f64) -> f64 {
    let sunset = day.set_ms();
    if at_ms <= sunset {
        return day.by_day(at_ms.max(day.rise_ms()));
    }
    let done = (at_ms - sunset) / (next.rise_ms() - sunset);
    next.minimum_c + (day.by_day(sunset) - next.minimum_c) * night_left(done)
}

/// How much of the difference to the coming minimum is left when a share of the night is done.
fn night_left(done: f64) -> f64 {
    let end = (-NIGHT_DECAY).exp();
    ((-NIGHT_DECAY * done).exp() - end) / (1.0 - end)
}

/// When the night that begins with a temperature passes one between that and the next minimum.
fn night_reaches(day: &Shape, at_sunset_c: f64, next: &Shape, threshold_c: f64) -> f64 {
    let left = (threshold_c - next.minimum_c) / (at_sunset_c - next.minimum_c);
    let end = (-NIGHT_DECAY).exp();
    let done = -(left * (1.0 - end) + end).ln() / NIGHT_DECAY;
    let sunset = day.set_ms();
    later(sunset, done.clamp(0.0, 1.0) * (next.rise_ms() - sunset))
}

/// Since when the night has been warm enough that ends with a warm enough minimum.
fn warm_since(yesterday: &Shape, today: &Shape, threshold_c: f64) -> f64 {
    let at_sunset_c = yesterday.by_day(yesterday.set_ms());
    if at_sunset_c >= threshold_c {
        yesterday.set_ms()
    } else {
        night_reaches(yesterday, at_sunset_c, today, threshold_c)
    }
}

impl Shape {
    fn new(noon: Instant, sun: &DaySun, day: &DayTemperatures, air: AirOfPlace) -> Self {
        let noon_ms = ms(noon, sun.noon);
        let half_day_ms = |edge: Option<Instant>| {
            let half_h = edge.map_or(HALF_DAY_H, |edge| ms(sun.noon, edge).abs() / HOUR_MS);
            (half_h.clamp(SHORTEST_HALF_DAY_H, LONGEST_HALF_DAY_H) * HOUR_MS).round()
        };
        Shape {
            noon_ms,
            half_days_ms: [half_day_ms(sun.rise), half_day_ms(sun.set)],
            minimum_c: day.minimum_c,
            maximum_c: day.maximum_c,
            course: Course::usual(day.maximum_c - day.minimum_c, air),
        }
    }

    fn rise_ms(&self) -> f64 {
        self.noon_ms - self.half_days_ms[0]
    }

    fn set_ms(&self) -> f64 {
        self.noon_ms + self.half_days_ms[1]
    }

    fn half_days(&self, at_ms: f64) -> f64 {
        let from_noon = at_ms - self.noon_ms;
        from_noon / self.half_days_ms[usize::from(from_noon > 0.0)]
    }

    fn ms_of(&self, half_days: f64) -> f64 {
        let half_day_ms = self.half_days_ms[usize::from(half_days > 0.0)];
        later(self.noon_ms, half_days * half_day_ms)
    }

    /// Between sunrise and sunset.
    fn by_day(&self, at_ms: f64) -> f64 {
        self.at_share(self.course.share(self.half_days(at_ms)))
    }

    fn at_share(&self, share: f64) -> f64 {
        self.minimum_c + (self.maximum_c - self.minimum_c) * share
    }

    fn share_of_range(&self, temperature_c: f64) -> f64 {
        let range_c = self.maximum_c - self.minimum_c;
        if range_c > 0.0 {
            ((temperature_c - self.minimum_c) / range_c).clamp(0.0, 1.0)
        } else {
            0.0
        }
    }

    fn falls_to(&self, course: &Course, tomorrow: &Shape, threshold_c: f64) -> f64 {
        let at_sunset_c = self.at_share(course.share(1.0));
        if at_sunset_c < threshold_c {
            let fall = course.falls_to(self.share_of_range(threshold_c));
            return fall.map_or(self.set_ms(), |half_days| self.ms_of(half_days));
        }
        if tomorrow.minimum_c >= threshold_c {
            return tomorrow.rise_ms();
        }
        night_reaches(self, at_sunset_c, tomorrow, threshold_c)
    }
}

fn ms(from: Instant, to: Instant) -> f64 {
    let span = to - from;
    span.num_seconds() as f64 * 1000.0 + f64::from(span.subsec_nanos()) / 1e6
}

/// A moment so much later, to the millisecond.
fn later(from_ms: f64, step_ms: f64) -> f64 {
    from_ms + step_ms.round()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::climate::TemperatureSource;
    use proptest::prelude::*;

    /// The moment some hours later, to the millisecond.
    fn later(from: Instant, hours: f64) -> Instant {
        from + TimeDelta::milliseconds((hours * HOUR_MS).round() as i64)
    }

    fn noon(day: i64) -> Instant {
        let noon = Instant::parse_from_rfc3339("2026-07-15T12:00:00+10:00").unwrap();
        noon + TimeDelta::days(day)
    }

    /// Sun of three days; `half_day_h` is half of the day's length, none for a polar day.
    fn suns(half_day_h: [Option<f64>; 3]) -> [DaySun; 3] {
        [0, 1, 2].map(|i| {
            let noon = noon(i as i64 - 1);
            let at = |sign: f64| half_day_h[i].map(|half| later(noon, sign * half));
            DaySun {
                noon,
                rise: at(-1.0),
                set: at(1.0),
            }
        })
    }

    fn temperatures(extremes: [(f64, f64); 3]) -> [DayTemperatures; 3] {
        [0, 1, 2].map(|i| DayTemperatures {
            date: noon(i as i64 - 1).date_naive(),
            minimum_c: extremes[i].0,
            maximum_c: extremes[i].1,
            rain_mm: None,
            source: TemperatureSource::RecordedDay,
        })
    }

    fn curve(half_day_h: [Option<f64>; 3], extremes: [(f64, f64); 3]) -> DayCurve {
        let (s, t) = (suns(half_day_h), temperatures(extremes));
        DayCurve::new(
            [&s[0], &s[1], &s[2]],
            [&t[0], &t[1], &t[2]],
            AirOfPlace::INLAND,
        )
    }

    const STEADY: [(f64, f64); 3] = [(10.0, 30.0); 3];

    #[test]
    fn it_is_coldest_at_sunrise_and_warmest_two_hours_after_noon() {
        let curve = curve([Some(6.0); 3], STEADY);
        assert!((curve.temperature_c(later(noon(0), -6.0)) - 10.0).abs() < 1e-6);
        assert!((curve.temperature_c(later(noon(0), 2.4)) - 30.0).abs() < 1e-6);
        let (start, end) = curve.stretch_at_or_above(30.0).unwrap();
        assert_eq!(start, later(noon(0), 2.4));
        assert!(end >= start && end < later(noon(0), 3.1));
    }

    #[test]
    fn a_threshold_above_the_maximum_has_no_stretch() {
        let curve = curve([Some(6.0); 3], STEADY);
        assert_eq!(curve.stretch_at_or_above(30.001), None);
        assert_eq!(curve.stretch_at_or_above(f64::NAN), None);
        assert_eq!(curve.stretch_at_or_above(f64::INFINITY), None);
    }

    #[test]
    fn a_threshold_below_the_nights_reaches_from_sunset_to_the_next_minimum() {
        let curve = curve([Some(6.0); 3], STEADY);
        let from_sunset_to_minimum = Some((later(noon(-1), 6.0), later(noon(1), -6.0)));
        assert_eq!(curve.stretch_at_or_above(10.0), from_sunset_to_minimum);
        assert_eq!(
            curve.stretch_at_or_above(f64::NEG_INFINITY),
            from_sunset_to_minimum
        );
    }

    #[test]
    fn a_warm_night_after_a_cool_dusk_does_not_join_two_stretches() {
        // Tomorrow's minimum is above the temperature at sunset: a front brings warm air.
        let curve = curve([Some(6.0); 3], [(10.0, 20.0), (10.0, 20.0), (19.0, 30.0)]);
        let (_, end) = curve.stretch_at_or_above(18.5).unwrap();
        assert!(end < later(noon(0), 6.0));
        assert!((curve.temperature_c(end) - 18.5).abs() < 0.001);
    }

    #[test]
    fn a_level_day_is_level() {
        let curve = curve([Some(6.0); 3], [(20.0, 20.0); 3]);
        assert_eq!(curve.temperature_c(noon(0)), 20.0);
        assert!(curve.stretch_at_or_above(20.0).is_some());
        assert_eq!(curve.stretch_at_or_above(20.1), None);
    }

    #[test]
    fn where_the_sun_stays_up_or_down_the_half_day_is_six_hours() {
        assert_eq!(curve([None; 3], STEADY), curve([Some(6.0); 3], STEADY));
    }

    /// Expected of the usual course at a moment of the morning.
    fn morning_c(curve: &DayCurve, hours: f64) -> (Instant, f64) {
        let at = later(noon(0), hours);
        (at, curve.temperature_c(at))
    }

    #[test]
    fn a_reading_as_expected_changes_nothing() {
        let curve = curve([Some(6.0); 3], STEADY);
        for hours in [-5.0, -3.2, 1.0] {
            let (at, expected_c) = morning_c(&curve, hours);
            let read = curve.clone().with_reading(at, expected_c);
            for threshold_c in [12.0, 18.0, 25.0] {
                let pairs = [
                    (
                        curve.stretch_at_or_above(threshold_c),
                        read.stretch_at_or_above(threshold_c),
                    ),
                    (
                        curve.outer_stretch_at_or_above(threshold_c),
                        read.outer_stretch_at_or_above(threshold_c),
                    ),
                ];
                for (before, after) in pairs {
                    let (before, after) = (before.unwrap(), after.unwrap());
                    assert!((before.0 - after.0).abs() <= TimeDelta::milliseconds(1));
                    assert!((before.1 - after.1).abs() <= TimeDelta::milliseconds(1));
                }
            }
        }
    }

    #[test]
    fn a_warmer_reading_brings_both_edges_forward_and_meets_the_reading() {
        let curve = curve([Some(6.0); 3], STEADY);
        let (at, expected_c) = morning_c(&curve, -4.0);
        let read = curve.clone().with_reading(at, expected_c + 2.0);
        assert!((read.temperature_c(at) - expected_c - 2.0).abs() < 0.3);
        assert!(
            read.stretch_at_or_above(20.0).unwrap().0 < curve.stretch_at_or_above(20.0).unwrap().0
        );
        let outer = |curve: &DayCurve| curve.outer_stretch_at_or_above(20.0).unwrap().0;
        assert!(outer(&read) < outer(&curve));
        let colder = curve.clone().with_reading(at, expected_c - 2.0);
        assert!(outer(&colder) > outer(&curve));
        // Nothing is learnt from another day, by night or in the afternoon.
        for hours in [-30.0, -8.0, 4.0] {
            assert_eq!(
                curve.clone().with_reading(later(noon(0), hours), 22.0),
                curve
            );
        }
    }

    #[test]
    fn hours_given_by_the_curve_itself_give_its_own_answer_back() {
        let curve = curve([Some(6.0); 3], STEADY);
        let hours = (-12..=12).map(|hour| later(noon(0), f64::from(hour)));
        let hours: Vec<_> = hours.map(|at| (at, curve.temperature_c(at))).collect();
        let known = curve.clone().with_hours(hours.clone());
        for threshold_c in [12.0, 15.0, 18.0, 22.0, 26.0] {
            let (first, last) = curve.stretch_at_or_above(threshold_c).unwrap();
            let (by_hour_first, by_hour_last) = known.stretch_at_or_above(threshold_c).unwrap();
            // Between whole hours the curve bends a little.
            assert!(
                (first - by_hour_first).abs() < TimeDelta::minutes(8),
                "{threshold_c}"
            );
            if last < later(noon(0), 6.0) {
                assert!(
                    (last - by_hour_last).abs() < TimeDelta::minutes(8),
                    "{threshold_c}"
                );
            }
            let (early, late) = known.outer_stretch_at_or_above(threshold_c).unwrap();
            assert!(early <= by_hour_first && by_hour_last <= late);
        }
        for (at, c) in hours {
            assert!((known.temperature_c(at) - c).abs() < 1e-9);
        }
        assert_eq!(known.stretch_at_or_above(31.0), None);
        let read = known.clone().with_reading(later(noon(0), -3.0), 25.0);
        assert_eq!(read, known);
    }

    fn half_day() -> impl Strategy<Value = Option<f64>> {
        prop_oneof![8 => (0.05..11.95_f64).prop_map(Some), 1 => Just(None)]
    }

    fn extremes() -> impl Strategy<Value = (f64, f64)> {
        (-20.0..35.0_f64, 0.0..20.0_f64).prop_map(|(low, range)| (low, low + range))
    }

    /// Every minute from yesterday's noon to tomorrow's noon.
    fn minutes() -> impl Iterator<Item = Instant> {
        (-24 * 60..24 * 60).map(|minute| noon(0) + TimeDelta::minutes(minute))
    }

    proptest! {
        #[test]
        fn it_stays_between_the_extremes_without_a_jump(
            half_days in prop::array::uniform3(half_day()),
            extremes in prop::array::uniform3(extremes()),
        ) {
            let curve = curve(half_days, extremes);
            let lowest = extremes.map(|e| e.0).into_iter().fold(f64::INFINITY, f64::min);
            let highest = extremes.map(|e| e.1).into_iter().fold(f64::NEG_INFINITY, f64::max);
            let mut before: Option<f64> = None;
            for minute in minutes() {
                let now = curve.temperature_c(minute);
                prop_assert!((lowest - 1e-9..=highest + 1e-9).contains(&now));
                // The steepest part is a night of a few minutes, in which days of any
                // difference meet: so the joins themselves are tested below, and this only
                // where nights are nights.
                let nights = half_days.iter().all(|half| half.is_some_and(|half| half < 10.0));
                if let (Some(before), true) = (before, nights) {
                    prop_assert!((now - before).abs() < 0.8, "{} to {}", before, now);
                }
                before = Some(now);
            }
        }

        #[test]
        fn joins_are_closed(
            half_days in prop::array::uniform3(half_day()),
            extremes in prop::array::uniform3(extremes()),
        ) {
            let curve = curve(half_days, extremes);
            let [_, today, tomorrow] = &curve.days;
            prop_assert!((curve.temperature_at_ms_c(today.rise_ms()) - today.minimum_c).abs() < 1e-9);
            let joins = [today.rise_ms(), today.noon_ms, today.set_ms(), tomorrow.rise_ms()];
            let step = TimeDelta::nanoseconds(1);
            for join in joins {
                let join = curve.instant(join);
                let (left, right) = (curve.temperature_c(join - step), curve.temperature_c(join + step));
                prop_assert!((left - right).abs() < 1e-5, "{} and {} at {}", left, right, join);
            }
        }

        #[test]
        fn the_edge_is_never_later_in_the_morning_nor_earlier_in_the_evening(
            half_days in prop::array::uniform3(half_day()),
            extremes in prop::array::uniform3(extremes()),
            threshold in -20.0..55.0_f64,
        ) {
            let curve = curve(half_days, extremes);
            let both = (
                curve.stretch_at_or_above(threshold), curve.outer_stretch_at_or_above(threshold),
            );
            match both {
                (Some(usual), Some(outer)) => {
                    prop_assert!(outer.0 <= usual.0 && usual.1 <= outer.1);
                }
                both => prop_assert_eq!(both, (None, None)),
            }
        }

        #[test]
        fn the_stretch_is_where_the_curve_is_warm_enough(
            half_days in prop::array::uniform3(half_day()),
            extremes in prop::array::uniform3(extremes()),
            threshold in -20.0..55.0_f64,
        ) {
            let curve = curve(half_days, extremes);
            let [yesterday, today, tomorrow] = &curve.days;
            let Some((start, end)) = curve.stretch_at_or_above(threshold) else {
                prop_assert!(today.maximum_c < threshold);
                return Ok(());
            };
            let at = |at_ms| curve.instant(at_ms);
            prop_assert!(at(yesterday.set_ms()) <= start && end <= at(tomorrow.rise_ms()));
            let length = end - start;
            // By day it may be a little short of the maximum when that should be reached.
            let slack_c = 0.03 * (today.maximum_c - today.minimum_c) + 0.01;
            for part in 0..=100 {
                let moment = start + length * part / 100;
                prop_assert!(curve.temperature_c(moment) >= threshold - slack_c, "{}", moment);
            }
            let outside = TimeDelta::seconds(1);
            if start > at(today.rise_ms()) + outside {
                prop_assert!(curve.temperature_c(start - outside) < threshold);
            }
            if end < at(tomorrow.rise_ms()) - outside {
                prop_assert!(curve.temperature_c(end + outside) < threshold);
            }
        }

        #[test]
        fn warmer_days_are_never_colder_at_any_moment(
            half_days in prop::array::uniform3(half_day()),
            extremes in prop::array::uniform3(extremes()),
            warmer in 0.0..5.0_f64,
        ) {
            let cool = curve(half_days, extremes);
            let warm = curve(half_days, extremes.map(|(low, high)| (low + warmer, high + warmer)));
            for minute in minutes().step_by(17) {
                let difference = warm.temperature_c(minute) - cool.temperature_c(minute);
                prop_assert!((difference - warmer).abs() < 1e-9);
            }
        }
    }
}
