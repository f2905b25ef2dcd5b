//! Moves of half a metre or a metre, each before a flying day.

use chrono::{Days, NaiveDate};
use serde::{Deserialize, Serialize};

use crate::clock::{ClockOutcome, DateRange, RestsOn, Wait, Weather, run};
use crate::error::Error;
use crate::morning::{MorningSettings, MoveWindow, morning};
use crate::plan::TimeWindow;
use crate::reason::Reason;
use crate::sun::Ephemeris;

/// What a staged move is made of.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Staging {
    /// From here to there, m.
    pub distance_m: f64,
    /// Length of a stage, m.
    pub stage_m: f64,
    /// From one stage to the next, the day of the stage among them.
    pub between: Wait,
    /// By how much the entrance is to be turned in all, degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub total_turn_deg: Option<f64>,
}

/// One move at dawn.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stage {
    /// From 1.
    pub number: u32,
    /// When.
    pub dates: DateRange,
    /// The move window of the best date.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub window: Option<TimeWindow>,
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
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StagedMove {
    /// The stages, in order.
    pub stages: Vec<Stage>,
    /// When the hive stands where it shall; `None` where the weather of two years is not enough.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub finish: Option<DateRange>,
    /// Why it comes to a stop before the end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stopped: Option<Reason>,
}

/// The stages of a move whose first stage can take place from `first` on.
///
/// # Errors
/// As [`run`].
pub fn staged(
    staging: &Staging,
    first: &DateRange,
    mornings: &MorningSettings,
    weather: &Weather<'_>,
) -> Result<StagedMove, Error> {
    let count = (staging.distance_m / staging.stage_m).ceil().max(1.0) as u32;
    let mut stages = Vec::new();
    let mut dates = *first;
    for number in 1..=count {
        let share = f64::from(number) / f64::from(count);
        stages.push(Stage {
            number,
            dates,
            window: window(dates.best, mornings, weather)?,
            distance_so_far_m: staging.distance_m * share,
            turned_so_far_deg: staging.total_turn_deg.map(|turn| turn * share),
            reasons: Vec::new(),
            rests_on: RestsOn::default(),
        });
        let before = |date: NaiveDate| date - Days::new(1);
        let eve = DateRange {
            earliest: before(dates.earliest),
            best: before(dates.best),
            latest: before(dates.latest),
        };
        match run(&staging.between, &eve, weather)? {
            ClockOutcome::RunsOut { dates: after, .. } => {
                dates = DateRange {
                    earliest: after.earliest + Days::new(1),
                    best: after.best + Days::new(1),
                    latest: after.latest + Days::new(1),
                };
            }
            ClockOutcome::NeverWithinAYear { reason, .. } => {
                return Ok(StagedMove {
                    stages,
                    finish: None,
                    stopped: Some(reason),
                });
            }
        }
    }
    Ok(StagedMove {
        finish: stages.last().map(|stage| stage.dates),
        stages,
        stopped: None,
    })
}

fn window(
    date: NaiveDate,
    settings: &MorningSettings,
    weather: &Weather<'_>,
) -> Result<Option<TimeWindow>, Error> {
    let ephemeris = Ephemeris::with_neighbours(date, date)?;
    let morning = morning(
        &ephemeris,
        weather.site,
        weather.climate,
        weather.bee,
        settings,
        date,
    )?;
    Ok(match morning.window {
        MoveWindow::Open { from, until, .. } => Some(TimeWindow { from, until }),
        MoveWindow::None { .. } => None,
    })
}
