//! The temperature through a day, from the extremes of three days and the sun.

use std::f64::consts::FRAC_PI_2;

use chrono::TimeDelta;
use serde::Serialize;

use super::DayTemperatures;
use crate::civil::Instant;
use crate::error::Error;
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

/// When the extremes come and how the night cools.
///
/// Parton & Logan (1981, Agricultural Meteorology 23:205–216) give a lag coefficient *a*, a night
/// coefficient *b* and a lag of the minimum from sunrise *c*; their sine has the half-period
/// *day length + 2a* and starts at *sunrise + c*, so the maximum comes at *noon + a + c*. Wann, Yen
/// & Gold (1985, Agricultural and Forest Meteorology 34:121–128) give the lag of the maximum from
/// noon itself, which is what stands here.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
pub struct CurveParameters {
    /// From solar noon to the maximum, h.
    pub maximum_after_noon_h: f64,
    /// From sunrise to the minimum, h.
    pub minimum_after_sunrise_h: f64,
    /// How many times the difference to the coming minimum shrinks by a factor e in one night.
    pub night_decay: f64,
    /// Whether the night is stretched to arrive at the coming minimum. As published the exponential
    /// stops above it, and the curve jumps.
    pub reaches_minimum: bool,
}

impl CurveParameters {
    /// Parton & Logan 1981, air at 150 cm over shortgrass prairie: a 1.86, b 2.20, c −0.17. The
    /// night is counted to the coming minimum, as Wann et al. do, not to sunrise ten minutes later.
    pub const PARTON_LOGAN_150_CM: Self = CurveParameters {
        maximum_after_noon_h: 1.86 - 0.17,
        minimum_after_sunrise_h: -0.17,
        night_decay: 2.20,
        reaches_minimum: false,
    };
    /// Wann, Yen & Gold 1985, mean of five sites in North Carolina: 2.59, 1.55, 2.2, as published.
    pub const WANN_NORTH_CAROLINA: Self = CurveParameters {
        maximum_after_noon_h: 2.59,
        minimum_after_sunrise_h: 1.55,
        night_decay: 2.2,
        reaches_minimum: false,
    };
}

impl CurveParameters {
    /// Refuses parameters that make no day: a maximum outside 0 to 6 h after noon, a minimum more
    /// than 3 h from sunrise, a night coefficient outside 0.1 to 10.
    ///
    /// # Errors
    /// `out_of_range`, naming the parameter.
    pub fn check(&self) -> Result<(), Error> {
        for (field, value, low, high, unit) in [
            (
                "maximum_after_noon_h",
                self.maximum_after_noon_h,
                0.0,
                6.0,
                " h",
            ),
            (
                "minimum_after_sunrise_h",
                self.minimum_after_sunrise_h,
                -3.0,
                3.0,
                " h",
            ),
            ("night_decay", self.night_decay, 0.1, 10.0, ""),
        ] {
            if !(low..=high).contains(&value) {
                return Err(Error::out_of_range(
                    field,
                    value,
                    format_args!("{low} to {high}{unit}"),
                ));
            }
        }
        Ok(())
    }
}

impl Default for CurveParameters {
    /// [`CurveParameters::PARTON_LOGAN_150_CM`], with nights that arrive at the coming minimum.
    fn default() -> Self {
        CurveParameters {
            reaches_minimum: true,
            ..Self::PARTON_LOGAN_150_CM
        }
    }
}

/// Air temperature at every moment of a day.
///
/// From the minimum near sunrise to sunset it is a sine through the day's minimum and maximum, at
/// night it falls exponentially towards the coming minimum; before today's minimum that is the
/// night after yesterday. Where the sun does not rise or set, half cosines join a minimum at solar
/// midnight to the maximum after noon.
///
/// It is the curve of a calm, clear day. It fails where fronts, rain, cloud or a sea breeze move
/// the extremes. Parton & Logan (1981) found mean errors of 1.20 to 2.64 °C, at four heights of one
/// prairie site.
///
/// ```
/// use apiary_almanac::Instant;
/// use apiary_almanac::climate::{DayCurve, DaySun, DayTemperatures, TemperatureSource};
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
/// let curve = DayCurve::new([&suns[0], &suns[1], &suns[2]], [&days[0], &days[1], &days[2]]);
///
/// // A bee that flies from 18 °C has from the late morning to the middle of the afternoon.
/// let (first, last) = curve.stretch_at_or_above(18.0).ok_or("too cold")?;
/// assert_eq!(first.format("%H:%M").to_string(), "10:15");
/// assert_eq!(last.format("%H:%M").to_string(), "16:47");
/// assert!((curve.temperature_c(first) - 18.0).abs() < 0.001);
/// assert_eq!(curve.stretch_at_or_above(22.0), None);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayCurve {
    /// Today's solar noon, from which all times are counted.
    noon: Instant,
    /// Yesterday, today, tomorrow.
    days: [Shape; 3],
    parameters: CurveParameters,
}

/// Times are milliseconds from today's solar noon, and whole numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Shape {
    minimum_ms: f64,
    maximum_ms: f64,
    /// When the night curve begins; `None` where the sun does not both rise and set.
    night_from_ms: Option<f64>,
    minimum_c: f64,
    maximum_c: f64,
}

const HOUR_MS: f64 = 3_600_000.0;

impl DayCurve {
    /// The curve of the second of three days that follow each other.
    pub fn new(sun: [&DaySun; 3], temperatures: [&DayTemperatures; 3]) -> Self {
        Self::build(sun, temperatures, CurveParameters::default())
    }

    /// The same with other parameters.
    ///
    /// # Errors
    /// As [`CurveParameters::check`].
    pub fn with_parameters(
        sun: [&DaySun; 3],
        temperatures: [&DayTemperatures; 3],
        parameters: CurveParameters,
    ) -> Result<Self, Error> {
        parameters.check()?;
        Ok(Self::build(sun, temperatures, parameters))
    }

    fn build(
        sun: [&DaySun; 3],
        temperatures: [&DayTemperatures; 3],
        parameters: CurveParameters,
    ) -> Self {
        let noon = sun[1].noon;
        let days = [0, 1, 2].map(|i| Shape::new(noon, sun[i], temperatures[i], &parameters));
        DayCurve {
            noon,
            days,
            parameters,
        }
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

    /// Air temperature, °C. Good from yesterday's minimum to tomorrow's maximum; outside of that
    /// it stays at those.
    pub fn temperature_c(&self, at: Instant) -> f64 {
        self.temperature_at_ms_c(self.ms(at))
    }

    pub(crate) fn temperature_at_ms_c(&self, at_ms: f64) -> f64 {
        let [yesterday, today, tomorrow] = &self.days;
        if at_ms < today.minimum_ms {
            self.before_minimum(yesterday, today, at_ms)
        } else if at_ms < tomorrow.minimum_ms {
            self.before_minimum(today, tomorrow, at_ms)
        } else {
            tomorrow.by_day(at_ms.min(tomorrow.maximum_ms))
        }
    }

    /// From `day`'s minimum to the next one.
    fn before_minimum(&self, day: &Shape, next: &Shape, at_ms: f64) -> f64 {
        let at = at_ms.max(day.minimum_ms);
        match day.night_before(next) {
            Some(sunset) if at > sunset => {
                let done = (at - sunset) / (next.minimum_ms - sunset);
                next.minimum_c + (day.by_day(sunset) - next.minimum_c) * self.night_left(done)
            }
            None if at > day.maximum_ms => {
                let done = (at - day.maximum_ms) / (next.minimum_ms - day.maximum_ms);
                let left = f64::midpoint(1.0, (done * 2.0 * FRAC_PI_2).cos());
                next.minimum_c + (day.maximum_c - next.minimum_c) * left
            }
            _ => day.by_day(at),
        }
    }

    /// How much of the difference to the coming minimum is left when a share of the night is done.
    fn night_left(&self, done: f64) -> f64 {
        let end = self.night_end();
        ((-self.parameters.night_decay * done).exp() - end) / (1.0 - end)
    }

    fn night_end(&self) -> f64 {
        if self.parameters.reaches_minimum {
            (-self.parameters.night_decay).exp()
        } else {
            0.0
        }
    }

    /// The stretch around today's maximum in which it is at least as warm as `threshold_c`; `None`
    /// where the maximum is below it. Where the night before stays as warm it begins at yesterday's
    /// sunset, and where the coming night does it ends at tomorrow's minimum.
    pub fn stretch_at_or_above(&self, threshold_c: f64) -> Option<(Instant, Instant)> {
        let (from_ms, until_ms) = self.stretch_ms(threshold_c)?;
        Some((self.instant(from_ms), self.instant(until_ms)))
    }

    pub(crate) fn stretch_ms(&self, threshold_c: f64) -> Option<(f64, f64)> {
        let [yesterday, today, tomorrow] = &self.days;
        if threshold_c.is_nan() || today.maximum_c < threshold_c {
            return None;
        }
        let from = if today.minimum_c < threshold_c {
            today.rises_to(threshold_c)
        } else {
            self.warm_since(yesterday, today, threshold_c)
        };
        Some((from, self.falls_to(today, tomorrow, threshold_c)))
    }

    /// Since when the night that ends with a warm enough minimum has been warm enough.
    fn warm_since(&self, yesterday: &Shape, today: &Shape, threshold_c: f64) -> f64 {
        match yesterday.night_before(today) {
            Some(sunset) if yesterday.by_day(sunset) >= threshold_c => sunset,
            Some(sunset) => self.night_reaches(yesterday, sunset, today, threshold_c),
            None if yesterday.maximum_c >= threshold_c => yesterday.maximum_ms,
            None => today.minimum_ms,
        }
    }

    fn falls_to(&self, today: &Shape, tomorrow: &Shape, threshold_c: f64) -> f64 {
        let Some(sunset) = today.night_before(tomorrow) else {
            let drop = today.maximum_c - tomorrow.minimum_c;
            if tomorrow.minimum_c >= threshold_c {
                return tomorrow.minimum_ms;
            }
            let left = ((threshold_c - tomorrow.minimum_c) / drop).clamp(0.0, 1.0);
            let share = (2.0 * left - 1.0).acos() / (2.0 * FRAC_PI_2);
            return later(
                today.maximum_ms,
                share * (tomorrow.minimum_ms - today.maximum_ms),
            );
        };
        let at_sunset = today.by_day(sunset);
        if at_sunset < threshold_c {
            let left = today.share_of_range(threshold_c);
            let fall = left.acos() / FRAC_PI_2 * (today.maximum_ms - today.minimum_ms);
            return later(today.maximum_ms, fall);
        }
        if tomorrow.minimum_c >= threshold_c {
            return tomorrow.minimum_ms;
        }
        self.night_reaches(today, sunset, tomorrow, threshold_c)
    }

    /// When the night from `sunset` to the next minimum passes a temperature between the two.
    fn night_reaches(&self, day: &Shape, sunset: f64, next: &Shape, threshold_c: f64) -> f64 {
        let left = (threshold_c - next.minimum_c) / (day.by_day(sunset) - next.minimum_c);
        let end = self.night_end();
        let done = -(left * (1.0 - end) + end).ln() / self.parameters.night_decay;
        later(sunset, done.clamp(0.0, 1.0) * (next.minimum_ms - sunset))
    }
}

impl Shape {
    fn new(
        noon: Instant,
        sun: &DaySun,
        day: &DayTemperatures,
        parameters: &CurveParameters,
    ) -> Self {
        let of_day_ms = ms(noon, sun.noon);
        let maximum_ms = later(of_day_ms, parameters.maximum_after_noon_h * HOUR_MS);
        let rise_and_set = sun.rise.zip(sun.set);
        let regular = rise_and_set.map(|(rise, set)| {
            (
                later(ms(noon, rise), parameters.minimum_after_sunrise_h * HOUR_MS),
                ms(noon, set).max(maximum_ms),
            )
        });
        let (minimum_ms, night_from_ms) = match regular {
            Some((minimum_ms, night_from_ms)) if minimum_ms < maximum_ms => {
                (minimum_ms, Some(night_from_ms))
            }
            _ => (of_day_ms - 12.0 * HOUR_MS, None),
        };
        Shape {
            minimum_ms,
            maximum_ms,
            night_from_ms,
            minimum_c: day.minimum_c,
            maximum_c: day.maximum_c,
        }
    }

    /// The night between this day and the next, if there is one.
    fn night_before(&self, next: &Shape) -> Option<f64> {
        self.night_from_ms
            .filter(|sunset| *sunset < next.minimum_ms)
    }

    /// Daytime curve, on either side of the maximum.
    fn by_day(&self, at_ms: f64) -> f64 {
        let phase = (at_ms - self.maximum_ms) / (self.maximum_ms - self.minimum_ms);
        let share = if self.night_from_ms.is_some() {
            (FRAC_PI_2 * phase).cos()
        } else {
            f64::midpoint(1.0, (2.0 * FRAC_PI_2 * phase).cos())
        };
        self.minimum_c + (self.maximum_c - self.minimum_c) * share
    }

    fn share_of_range(&self, temperature_c: f64) -> f64 {
        ((temperature_c - self.minimum_c) / (self.maximum_c - self.minimum_c)).clamp(0.0, 1.0)
    }

    /// When the morning reaches a temperature between the day's minimum and maximum.
    fn rises_to(&self, threshold_c: f64) -> f64 {
        let share = self.share_of_range(threshold_c);
        let phase = if self.night_from_ms.is_some() {
            share.acos() / FRAC_PI_2
        } else {
            (2.0 * share - 1.0).acos() / (2.0 * FRAC_PI_2)
        };
        later(
            self.maximum_ms,
            -phase * (self.maximum_ms - self.minimum_ms),
        )
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
        DayCurve::new([&s[0], &s[1], &s[2]], [&t[0], &t[1], &t[2]])
    }

    const STEADY: [(f64, f64); 3] = [(10.0, 30.0); 3];

    #[test]
    fn extremes_come_when_the_parameters_say() {
        let curve = curve([Some(6.0); 3], STEADY);
        // Sunrise 06:00 less 0.17 h; noon and 1.69 h.
        assert!((curve.temperature_c(later(noon(0), -6.17)) - 10.0).abs() < 1e-6);
        assert!((curve.temperature_c(later(noon(0), 1.69)) - 30.0).abs() < 1e-6);
        let (start, end) = curve.stretch_at_or_above(30.0).unwrap();
        assert_eq!((start, end), (later(noon(0), 1.69), later(noon(0), 1.69)));
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
        let from_sunset_to_minimum = Some((later(noon(-1), 6.0), later(noon(1), -6.17)));
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
    fn polar_days_and_nights_swing_between_solar_midnight_and_afternoon() {
        let curve = curve([None; 3], STEADY);
        assert!((curve.temperature_c(later(noon(0), -12.0)) - 10.0).abs() < 1e-6);
        assert!((curve.temperature_c(later(noon(0), 1.69)) - 30.0).abs() < 1e-6);
        let (start, end) = curve.stretch_at_or_above(20.0).unwrap();
        assert!((curve.temperature_c(start) - 20.0).abs() < 0.001);
        assert!((curve.temperature_c(end) - 20.0).abs() < 0.001);
    }

    #[test]
    fn parameters_without_sense_are_refused() {
        let (s, t) = (suns([Some(6.0); 3]), temperatures(STEADY));
        let (s, t) = ([&s[0], &s[1], &s[2]], [&t[0], &t[1], &t[2]]);
        let good = CurveParameters::default();
        for (bad, field) in [
            (
                CurveParameters {
                    night_decay: 0.0,
                    ..good
                },
                "night_decay",
            ),
            (
                CurveParameters {
                    night_decay: f64::NAN,
                    ..good
                },
                "night_decay",
            ),
            (
                CurveParameters {
                    maximum_after_noon_h: -1.0,
                    ..good
                },
                "maximum_after_noon_h",
            ),
            (
                CurveParameters {
                    minimum_after_sunrise_h: 4.0,
                    ..good
                },
                "minimum_after_sunrise_h",
            ),
        ] {
            assert_eq!(
                DayCurve::with_parameters(s, t, bad).unwrap_err().field(),
                field
            );
        }
        assert_eq!(
            DayCurve::with_parameters(s, t, good).unwrap(),
            DayCurve::new(s, t)
        );
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
        fn extremes_are_hit_and_joins_are_closed(
            half_days in prop::array::uniform3(half_day()),
            extremes in prop::array::uniform3(extremes()),
        ) {
            let curve = curve(half_days, extremes);
            let [_, today, tomorrow] = &curve.days;
            prop_assert!((curve.temperature_at_ms_c(today.maximum_ms) - today.maximum_c).abs() < 1e-9);
            prop_assert!((curve.temperature_at_ms_c(today.minimum_ms) - today.minimum_c).abs() < 1e-9);
            let joins = [today.minimum_ms, today.maximum_ms, tomorrow.minimum_ms];
            let step = TimeDelta::nanoseconds(1);
            for join in joins.into_iter().chain(today.night_before(tomorrow)) {
                let join = curve.instant(join);
                let (left, right) = (curve.temperature_c(join - step), curve.temperature_c(join + step));
                prop_assert!((left - right).abs() < 1e-5, "{} and {} at {}", left, right, join);
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
            prop_assert!(start <= at(today.maximum_ms) && at(today.maximum_ms) <= end);
            let night_from = at(yesterday.night_before(today).unwrap_or(yesterday.maximum_ms));
            prop_assert!(night_from <= start && end <= at(tomorrow.minimum_ms));
            let length = end - start;
            for part in 0..=100 {
                let moment = start + length * part / 100;
                // Ends are rounded to the millisecond.
                prop_assert!(curve.temperature_c(moment) >= threshold - 0.01, "{}", moment);
            }
            let outside = TimeDelta::seconds(1);
            if start > night_from + outside && (start - at(today.minimum_ms)).abs() > outside {
                prop_assert!(curve.temperature_c(start - outside) < threshold);
            }
            if end < at(tomorrow.minimum_ms) - outside {
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
