//! Finding noon, the turning points of the altitude, and the crossings between them.
//!
//! Times are days of UT since the table's epoch. A *phase* counts apparent solar days at the
//! observer: it is whole when the sun crosses the meridian above, and half past a whole number when
//! it crosses below.

use std::f64::consts::{FRAC_PI_2, TAU};

use super::guess::FirstGuess;
use super::skyline::sun_centre_altitude_deg;
use super::table::{Sun, Table};
use crate::site::Site;

/// Where the sun is seen from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Observer {
    pub sin_latitude: f64,
    pub cos_latitude: f64,
    tan_latitude: f64,
    sec_latitude: f64,
    pub longitude_turns: f64,
}

impl Observer {
    pub fn new(site: &Site) -> Self {
        Observer::at(site.latitude_deg.get(), site.longitude_deg.get())
    }

    pub fn at(latitude_deg: f64, longitude_deg: f64) -> Self {
        let (sin_latitude, cos_latitude) = latitude_deg.to_radians().sin_cos();
        // The rounded cosine of 90° is not zero.
        let cos_latitude = if latitude_deg.abs() == 90.0 {
            0.0
        } else {
            cos_latitude
        };
        Observer {
            sin_latitude,
            cos_latitude,
            tan_latitude: sin_latitude / cos_latitude,
            sec_latitude: 1.0 / cos_latitude,
            longitude_turns: longitude_deg / 360.0,
        }
    }

    /// The phase of a mean sun, which keeps the same time every day.
    #[inline]
    pub fn mean_phase(&self, t: f64) -> f64 {
        t + self.longitude_turns - 0.5
    }

    /// Sine of the sun's altitude.
    #[inline]
    fn sin_altitude(&self, sun: &Sun, cos_hour_angle: f64) -> f64 {
        (self.sin_latitude * sun.tan_declination + self.cos_latitude * cos_hour_angle)
            / sec_of_tan(sun.tan_declination)
    }
}

/// The altitudes that count as rising and as setting.
#[derive(Debug, Clone, Copy)]
pub(super) struct Target {
    pub sin_rise: f64,
    pub sin_set: f64,
}

impl Target {
    pub fn altitude(altitude_deg: f64) -> Self {
        let sine = altitude_deg.to_radians().sin();
        Target {
            sin_rise: sine,
            sin_set: sine,
        }
    }

    pub fn skyline(site: &Site) -> Self {
        Target::horizons(site.east_horizon_deg.get(), site.west_horizon_deg.get())
    }

    /// Skylines in the east and in the west, degrees above level.
    pub fn horizons(east: f64, west: f64) -> Self {
        let sine = |deg| sun_centre_altitude_deg(deg).to_radians().sin();
        let sin_rise = sine(east);
        Target {
            sin_rise,
            sin_set: if west == east { sin_rise } else { sine(west) },
        }
    }
}

/// A circle of equal altitude as an observer away from the poles sees it: the hour angle H at which
/// the sun crosses it has `cos H = offset / cos δ - tan φ tan δ`.
#[derive(Debug, Clone, Copy)]
struct Circle {
    tan_latitude: f64,
    /// sin h / cos φ
    offset: f64,
}

/// Half the day's arc above a circle.
#[derive(Debug, Clone, Copy)]
struct Arc {
    turns: f64,
    sine: f64,
    cosine: f64,
}

impl Circle {
    #[inline]
    fn new(observer: &Observer, sin_altitude: f64) -> Self {
        Circle {
            tan_latitude: observer.tan_latitude,
            offset: sin_altitude * observer.sec_latitude,
        }
    }

    #[inline]
    fn cos_hour_angle(&self, sun: &Sun) -> f64 {
        self.offset * sec_of_tan(sun.tan_declination) - self.tan_latitude * sun.tan_declination
    }

    /// The arc at a declination, if the sun crosses the circle steeply.
    #[inline]
    fn half_arc(&self, sun: &Sun) -> Option<Arc> {
        let cosine = self.cos_hour_angle(sun);
        (cosine.abs() <= STEEP_ENOUGH).then(|| Arc {
            turns: cosine.acos() * PER_TAU,
            sine: (1.0 - cosine * cosine).sqrt(),
            cosine,
        })
    }
}

/// 1 / cos from tan, for angles below 90°.
#[inline]
fn sec_of_tan(tangent: f64) -> f64 {
    (1.0 + tangent * tangent).sqrt()
}

/// What happens in the solar day around one noon.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Passage {
    Both { rise: f64, set: f64 },
    Rise(f64),
    Set(f64),
    Above,
    Below,
}

/// The solar day around a noon, from one lowest altitude to the next.
#[derive(Debug, Clone, Copy)]
struct Span {
    start: f64,
    top: f64,
    end: f64,
}

/// Finds events in a table.
#[derive(Debug, Clone, Copy)]
pub(super) struct Finder<'a> {
    pub table: &'a Table,
    pub observer: Observer,
    /// Where the refinement starts; without it, from the declination at noon.
    pub first_guess: Option<FirstGuess>,
}

const PER_TAU: f64 = 1.0 / TAU;
/// Beyond this the search first brackets the event: near the turning points a hour angle says
/// little.
const STEEP_ENOUGH: f64 = 0.95;
/// cos 80°. Nearer the poles a day's change of declination counts as much as the turning.
const FAR_FROM_POLES: f64 = 0.173;
/// After a step no longer than this (43 s) what is left is below 0.1 ms.
const LAST_STEP_D: f64 = 5e-4;

impl<'a> Finder<'a> {
    pub fn new(table: &'a Table, observer: Observer) -> Self {
        Finder {
            table,
            observer,
            first_guess: None,
        }
    }

    /// The noon nearest to a moment, as its whole phase.
    #[inline]
    pub fn noon_phase(&self, near: f64) -> f64 {
        let mean = self.observer.mean_phase(near);
        let nearest = (mean + 0.5) as i64 as f64; // Positive, so the cast rounds to the nearest.
        // The equation of time is below 0.012 days.
        if (mean - nearest).abs() < 0.48 {
            nearest
        } else {
            self.phase(near, &self.table.at(near)).round()
        }
    }

    #[inline]
    fn phase(&self, t: f64, sun: &Sun) -> f64 {
        self.observer.mean_phase(t) + sun.equation_of_time_d
    }

    /// When a phase is reached. Depends on nothing but the phase, so that two days that share a
    /// boundary agree on it to the last bit.
    pub fn moment(&self, phase: f64) -> f64 {
        let mut t = phase + 0.5 - self.observer.longitude_turns;
        for _ in 0..2 {
            let sun = self.table.at(t);
            t -= (self.phase(t, &sun) - phase) / (1.0 + sun.equation_of_time_rate);
        }
        t
    }

    /// Sine of altitude.
    pub fn sin_altitude(&self, t: f64) -> f64 {
        let sun = self.table.at(t);
        self.observer
            .sin_altitude(&sun, (TAU * self.phase(t, &sun)).cos())
    }

    /// Altitude and azimuth (from north through east), radians.
    pub fn position(&self, t: f64) -> (f64, f64) {
        let sun = self.table.at(t);
        let (sin_h, cos_h) = (TAU * self.phase(t, &sun)).sin_cos();
        let Observer {
            sin_latitude,
            cos_latitude,
            ..
        } = self.observer;
        // Towards the sun, in units of the cosine of the declination.
        let up = sin_latitude * sun.tan_declination + cos_latitude * cos_h;
        let east = -sin_h;
        let north = cos_latitude * sun.tan_declination - sin_latitude * cos_h;
        (
            up.atan2(east.hypot(north)),
            east.atan2(north).rem_euclid(TAU),
        )
    }

    /// Rise and set around the noon of a phase.
    #[inline]
    pub fn passage(&self, noon_phase: f64, target: &Target) -> Passage {
        self.steep_passage(noon_phase, target)
            .unwrap_or_else(|| self.bracketed_passage(noon_phase, target))
    }

    /// Both events where the sun crosses steeply: the usual case, without a search.
    #[inline]
    pub fn steep_passage(&self, noon_phase: f64, target: &Target) -> Option<Passage> {
        if self.observer.cos_latitude < FAR_FROM_POLES {
            return None;
        }
        let near_noon = noon_phase + 0.5 - self.observer.longitude_turns;
        let sun = self.table.at(near_noon);
        let noon = near_noon - sun.equation_of_time_d;
        let rising = Circle::new(&self.observer, target.sin_rise);
        let rising_arc = rising.half_arc(&sun)?;
        let (setting, setting_arc) = if target.sin_set == target.sin_rise {
            (rising, rising_arc)
        } else {
            let setting = Circle::new(&self.observer, target.sin_set);
            (setting, setting.half_arc(&sun)?)
        };
        let guess = match &self.first_guess {
            None => [noon - rising_arc.turns, noon + setting_arc.turns],
            Some(guess) => guess.rise_and_set(target)?,
        };
        let circles = [(rising, rising_arc), (setting, setting_arc)];
        let [rise, set] = self.refine(guess, noon_phase, &circles)?;
        Some(Passage::Both { rise, set })
    }

    /// Newton's method for rise and set at once, on "hour angle of the sun less hour angle of the
    /// circle", which is close to a straight line. Each circle comes with its arc at noon.
    #[inline]
    fn refine(
        &self,
        mut times: [f64; 2],
        noon_phase: f64,
        circles: &[(Circle, Arc); 2],
    ) -> Option<[f64; 2]> {
        for _ in 0..8 {
            let steps: [f64; 2] = std::array::from_fn(|i| {
                let (circle, noon_arc) = &circles[i];
                let side = [-1.0, 1.0][i];
                let sun = self.table.at(times[i]);
                let tangent = sun.tan_declination;
                let cosine = circle.cos_hour_angle(&sun);
                let sine = (1.0 - cosine * cosine).max(0.0).sqrt();
                // The arc now, from that of noon: the difference is small, so its sine is as good.
                let change = sine * noon_arc.cosine - cosine * noon_arc.sine;
                let square = change * change;
                let arcsine = change * (1.0 + square * (1.0 / 6.0 + square * (3.0 / 40.0)));
                let arc_turns = noon_arc.turns + arcsine * PER_TAU;
                let gap = self.phase(times[i], &sun) - noon_phase - side * arc_turns;
                // How fast the gap closes, times sin H: the sky turns, and the circle's hour angle
                // shifts with the declination (cos δ from its series; this only steers the steps).
                let shift = (circle.tan_latitude
                    - circle.offset * tangent * (1.0 - tangent * tangent / 2.0))
                    * sun.tan_declination_rate;
                let rate = sine * (1.0 + sun.equation_of_time_rate) - side * shift * PER_TAU;
                // A change too large for the series is left to the search.
                if square > 0.01 {
                    f64::NAN
                } else {
                    gap * sine / rate
                }
            });
            times = [times[0] - steps[0], times[1] - steps[1]];
            let longest = steps[0].abs().max(steps[1].abs());
            if longest < LAST_STEP_D {
                return (times[0] + times[1]).is_finite().then_some(times);
            }
        }
        None
    }

    /// Any latitude, any grazing: between turning points the altitude only rises or only falls, so
    /// the signs at their ends decide what happens, and bisection finds it.
    fn bracketed_passage(&self, noon_phase: f64, target: &Target) -> Passage {
        let span = self.span(noon_phase);
        let halves = [
            (span.start, span.top, target.sin_rise),
            (span.top, span.end, target.sin_set),
        ];
        let (mut rise, mut set) = (None, None);
        for (from, to, sin_altitude) in halves {
            let above = [from, to].map(|t| self.sin_altitude(t) >= sin_altitude);
            match above {
                [false, true] => rise = rise.or(Some(self.cross(from, to, sin_altitude, 1.0))),
                [true, false] => set = Some(self.cross(from, to, sin_altitude, -1.0)),
                _ => {}
            }
        }
        match (rise, set) {
            (Some(rise), Some(set)) => Passage::Both { rise, set },
            (Some(rise), None) => Passage::Rise(rise),
            (None, Some(set)) => Passage::Set(set),
            (None, None) if self.sin_altitude(span.top) >= target.sin_set => Passage::Above,
            (None, None) => Passage::Below,
        }
    }

    /// The solar day around a noon.
    fn span(&self, noon_phase: f64) -> Span {
        Span {
            start: self.turning_point(noon_phase - 0.5, -1.0),
            top: self.turning_point(noon_phase, 1.0),
            end: self.turning_point(noon_phase + 0.5, -1.0),
        }
    }

    /// Where the altitude turns near a meridian passage (`side` 1 above, -1 below). The change of
    /// declination shifts it off the meridian; within 7 km of a pole there is none on most days,
    /// and the shift stops at a quarter turn, where rising (or falling) takes up the whole day.
    fn turning_point(&self, meridian_phase: f64, side: f64) -> f64 {
        let Observer {
            sin_latitude,
            cos_latitude,
            ..
        } = self.observer;
        let mut phase = meridian_phase;
        for _ in 0..3 {
            let sun = self.table.at(self.moment(phase));
            let cos_h = side * (TAU * (phase - meridian_phase)).cos();
            // d/dt (sin φ sin δ + cos φ cos δ cos H) = 0, solved for sin H.
            let sin_h = sun.declination_rate()
                * (sin_latitude - cos_latitude * sun.tan_declination * cos_h)
                / (cos_latitude.max(1e-12) * TAU * (1.0 + sun.equation_of_time_rate));
            let shift = if sin_h.abs() < 1.0 {
                sin_h.asin()
            } else {
                FRAC_PI_2.copysign(sin_h)
            };
            phase = meridian_phase + side * shift / TAU;
        }
        self.moment(phase)
    }

    /// The crossing between two moments on opposite sides of an altitude (`direction` 1 upwards).
    fn cross(&self, from: f64, to: f64, sin_altitude: f64, direction: f64) -> f64 {
        let (mut below, mut above) = if direction > 0.0 {
            (from, to)
        } else {
            (to, from)
        };
        let mut t = (below + above) / 2.0;
        for _ in 0..60 {
            let sun = self.table.at(t);
            let (sin_h, cos_h) = (TAU * self.phase(t, &sun)).sin_cos();
            let excess = self.observer.sin_altitude(&sun, cos_h) - sin_altitude;
            if excess >= 0.0 {
                above = t;
            } else {
                below = t;
            }
            let Observer {
                sin_latitude,
                cos_latitude,
                ..
            } = self.observer;
            let rate = (sun.declination_rate()
                * (sin_latitude - cos_latitude * sun.tan_declination * cos_h)
                - cos_latitude * sin_h * TAU * (1.0 + sun.equation_of_time_rate))
                / sec_of_tan(sun.tan_declination);
            let newton = t - excess / rate;
            let inside = (newton - below) * (newton - above) < 0.0;
            let next = if inside {
                newton
            } else {
                (below + above) / 2.0
            };
            let done = (next - t).abs() < 1e-9;
            t = next;
            if done {
                break;
            }
        }
        t
    }

    /// Hours between the solar day's start and end in which the sun stands above its target.
    pub fn hours_above(&self, noon_phase: f64, passage: &Passage) -> f64 {
        let days = match *passage {
            Passage::Both { rise, set } if rise <= set => set - rise,
            Passage::Both { rise, set } => 1.0 - (rise - set),
            Passage::Rise(rise) => self.span(noon_phase).end - rise,
            Passage::Set(set) => set - self.span(noon_phase).start,
            Passage::Above => 1.0,
            Passage::Below => 0.0,
        };
        24.0 * days.clamp(0.0, 1.0)
    }
}
