//! Which of the next mornings is best, and why.
//!
//! Mornings are put into classes first (those that will do before those that will not, then those with
//! daylight before those by lamp, then free days before others), then by points. The points are our own
//! weighing of what keepers look for, common practice without a source; each is listed with the sentence
//! that goes with it, so that a keeper can disagree.

use chrono::{Datelike, NaiveDate};
use serde::Serialize;

use super::chance::{MorningChances, chances};
use super::verdict::windy;
use super::{Morning, MorningSettings, MoveWindow, Verdict, between};
use crate::bee::Bee;
use crate::civil::check_date;
use crate::climate::Climate;
use crate::error::Error;
use crate::flight::{self, days_with_eves};
use crate::reason::{Reason, say};
use crate::site::Site;
use crate::sun::Ephemeris;
use crate::wire::FromNode;

/// A window this long earns full points: more time no longer helps, minutes.
const AMPLE_WINDOW_MIN: f64 = 45.0;
/// Most mornings that one call ranks.
pub(crate) const MOST_MORNINGS: u32 = 60;

/// A day of the week.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum Weekday {
    Monday,
    Tuesday,
    Wednesday,
    Thursday,
    Friday,
    Saturday,
    Sunday,
}

impl Weekday {
    /// The day of the week of a date.
    ///
    /// ```
    /// use apiary_almanac::morning::Weekday;
    /// assert_eq!(Weekday::of("2026-10-03".parse()?), Weekday::Saturday);
    /// # Ok::<(), chrono::ParseError>(())
    /// ```
    pub fn of(date: NaiveDate) -> Self {
        match date.weekday() {
            chrono::Weekday::Mon => Weekday::Monday,
            chrono::Weekday::Tue => Weekday::Tuesday,
            chrono::Weekday::Wed => Weekday::Wednesday,
            chrono::Weekday::Thu => Weekday::Thursday,
            chrono::Weekday::Fri => Weekday::Friday,
            chrono::Weekday::Sat => Weekday::Saturday,
            chrono::Weekday::Sun => Weekday::Sunday,
        }
    }

    /// Its name in the catalogue of sentences.
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Weekday::Monday => "weekday.monday",
            Weekday::Tuesday => "weekday.tuesday",
            Weekday::Wednesday => "weekday.wednesday",
            Weekday::Thursday => "weekday.thursday",
            Weekday::Friday => "weekday.friday",
            Weekday::Saturday => "weekday.saturday",
            Weekday::Sunday => "weekday.sunday",
        }
    }
}

/// A morning with its place among the others.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct RankedMorning {
    /// 1 is the best.
    pub rank: u32,
    /// 0 to 100, whole; 0 without a window.
    pub points: f64,
    /// True when the keeper is free on that day, or named no days.
    pub free: bool,
    /// What speaks for it and against it.
    pub reasons: Vec<Reason>,
    /// What single years make of it, where only the mean of many years and the spread of the days
    /// about it are known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chances: Option<MorningChances>,
    /// What to look at again before it is believed: the place
    /// ([`place::doubts`](crate::place::doubts)), and a default climate that is weak there.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub doubts: Vec<Reason>,
    /// The next morning after it, of those that were looked at, of which nothing speaks against a move.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next_good: Option<NaiveDate>,
    /// The morning.
    pub morning: Morning,
}

/// See `Weather::mornings`.
pub(crate) fn rank_mornings(
    site: &Site,
    climate: &Climate,
    bee: &Bee,
    settings: &MorningSettings,
    first: NaiveDate,
    days: u32,
    free_weekdays: &[Weekday],
) -> Result<Vec<RankedMorning>, Error> {
    if !(1..=MOST_MORNINGS).contains(&days) {
        return Err(Error::out_of_range(
            "days",
            days,
            format_args!("1 to {MOST_MORNINGS}"),
        ));
    }
    check_date("first", first)?;
    let last = check_date("last", first + chrono::Days::new(u64::from(days) - 1))?;
    let ephemeris = Ephemeris::with_neighbours(first, last)?;
    let doubts = flight::doubts(site, climate);
    let mut ranked = Vec::with_capacity(days as usize);
    for days in days_with_eves(&ephemeris, site, climate, bee, first, last)? {
        let date = days[1].flight.date;
        let found = between(&ephemeris, site, climate, bee, settings, days.each_ref())?;
        let free = free_weekdays.is_empty() || free_weekdays.contains(&Weekday::of(date));
        let (points, judged) = judge(&found, bee, settings, free);
        let reasons = bee.not_at_home(site).into_iter().chain(judged).collect();
        ranked.push(RankedMorning {
            rank: 0,
            next_good: None,
            points,
            free,
            reasons,
            chances: chances(climate, bee, settings, &days[1], &found),
            doubts: doubts.clone(),
            morning: found,
        });
    }
    let class = |m: &RankedMorning| (m.morning.verdict == Verdict::No, !has_window(m), !m.free);
    // The sort is stable: of equals the earlier date comes first.
    ranked.sort_by(|a, b| class(a).cmp(&class(b)).then(b.points.total_cmp(&a.points)));
    let good: Vec<NaiveDate> = ranked
        .iter()
        .filter(|one| one.morning.verdict == Verdict::Go)
        .map(|one| one.morning.date)
        .collect();
    for (rank, morning) in (1..).zip(&mut ranked) {
        morning.rank = rank;
        let after = |date: &&NaiveDate| **date > morning.morning.date;
        morning.next_good = good.iter().filter(after).min().copied();
    }
    Ok(ranked)
}

fn has_window(ranked: &RankedMorning) -> bool {
    matches!(ranked.morning.window, MoveWindow::Open { .. })
}

/// Points for each thing looked at, and the sentences that go with them.
fn judge(
    morning: &Morning,
    bee: &Bee,
    settings: &MorningSettings,
    free: bool,
) -> (f64, Vec<Reason>) {
    let mut reasons = Vec::new();
    let length = match &morning.window {
        MoveWindow::Open { minutes, .. } => *minutes,
        MoveWindow::None { reasons, .. } => return (0.0, reasons.clone()),
    };
    let mut note = |reason| reasons.push(reason);

    let length_points = 35.0 * (length / AMPLE_WINDOW_MIN).min(1.0);
    if length >= AMPLE_WINDOW_MIN {
        note(say::ample_time());
    } else {
        note(say::short_time(length));
    }

    let temperature_points = match morning.temperature_c {
        None => 0.0,
        Some(c) => {
            let (cold, warm) = (settings.coldest_work_c.value, settings.warmest_work_c.value);
            if c < cold {
                note(say::cold_work(c));
            } else if c > warm {
                note(say::warm_work(c));
            } else {
                note(say::mild_work(c));
            }
            let outside = (cold - c).max(c - warm).max(0.0);
            20.0 * (1.0 - outside / 5.0).max(0.0)
        }
    };

    let rain_points = match morning.rain_mm {
        None => {
            note(say::rain_unknown(None, None));
            10.0
        }
        Some(rain) if rain < 1.0 => {
            note(say::dry());
            20.0
        }
        Some(rain) => {
            note(say::rain(rain));
            20.0 * (1.0 - rain / bee.rain_limit_mm.value).max(0.0)
        }
    };

    let wind_points = match windy(morning, bee) {
        Some(reason) => {
            note(reason);
            0.0
        }
        None => 5.0,
    };

    let flying_points = if morning.flying_day {
        note(say::bees_learn_place());
        20.0
    } else {
        note(say::no_flying_day(morning.flight_day_reason.clone()));
        0.0
    };
    if !free {
        note(say::not_free(Weekday::of(morning.date).word()));
    }
    // Whole points, so that mornings that differ by a trifle stand in the order of their dates.
    let points = length_points + temperature_points + rain_points + wind_points + flying_points;
    (points.round(), reasons)
}
