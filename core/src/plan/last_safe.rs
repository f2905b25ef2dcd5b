//! Until when a method can be begun safely, whatever the colony.

use chrono::{NaiveDate, TimeDelta};
use derive_setters::Setters;
use serde::Serialize;

use super::safe::SeasonView;
use super::{Colony, PlanOverrides, PlanRequest, worked_out};
use crate::bee::{BeeOverrides, name_or_table};
use crate::climate::{Basis, ClimateInput};
use crate::error::Error;
use crate::method::MethodChoice;
use crate::reason::Reason;
use crate::season::SeasonSettings;
use crate::site::Site;
use crate::wire::{FromNode, Shape};

/// Windows that open later than this after today are left out, days.
const AHEAD_D: i64 = 366;

/// What is asked about.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct LastSafeRequest {
    /// Where the hives stand.
    #[setters(skip)]
    pub site: Site,
    /// The day from which windows count.
    #[setters(skip)]
    pub today: NaiveDate,
    /// A built-in bee by name, or a user's own.
    #[serde(default, deserialize_with = "name_or_table")]
    pub bee: BeeOverrides,
    /// Normals, records, forecast; without any the default for the location.
    #[serde(default)]
    pub climate: ClimateInput,
    /// A built-in method by name, or one of the keeper's own.
    #[setters(skip)]
    pub method: MethodChoice,
    /// Choices where practice differs, and the keeper's own numbers.
    #[serde(default)]
    pub settings: PlanOverrides,
    /// How the season is to be judged.
    #[serde(default)]
    pub season: SeasonSettings,
}

impl LastSafeRequest {
    /// With the default bee, climate, settings and season.
    ///
    /// ```
    /// use apiary_almanac::plan::{LastSafeOutcome, LastSafeRequest, last_safe};
    /// use apiary_almanac::Site;
    /// // At Singapore no season ends.
    /// let site = Site::new(1.35, 103.8, 15.0, "Asia/Singapore")?;
    /// let found = last_safe(&LastSafeRequest::new(site, "2026-08-01".parse()?, "split"))?;
    /// assert!(!matches!(found.outcome, LastSafeOutcome::Windows { .. }));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(site: Site, today: NaiveDate, method: impl Into<MethodChoice>) -> Self {
        LastSafeRequest {
            site,
            today,
            bee: BeeOverrides::default(),
            climate: ClimateInput::default(),
            method: method.into(),
            settings: PlanOverrides::default(),
            season: SeasonSettings::default(),
        }
    }
}

/// The last safe dates of a method.
#[derive(Debug, Clone, PartialEq, Serialize, Shape)]
#[non_exhaustive]
pub struct LastSafe {
    /// The method's name.
    pub method: String,
    /// The windows with their dates, or why there are none.
    pub outcome: LastSafeOutcome,
    /// What the temperatures rest on.
    pub basis: Vec<Basis>,
}

/// Whether there are last dates.
#[derive(Debug, Clone, PartialEq, Serialize, Shape)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum LastSafeOutcome {
    /// The season never closes, so that every date is safe.
    AllYear,
    /// Windows that close on today or later and open within a year of it.
    #[non_exhaustive]
    Windows {
        /// In order; empty where the next one is further away.
        windows: Vec<LastSafeDates>,
    },
    /// There is no season.
    #[non_exhaustive]
    None {
        /// The rules in the way.
        reasons: Vec<Reason>,
    },
}

/// The dates of a window.
#[derive(Debug, Clone, PartialEq, Serialize, Shape)]
#[non_exhaustive]
pub struct LastSafeDates {
    /// The window's first date.
    pub opens: NaiveDate,
    /// Its last date.
    pub closes: NaiveDate,
    /// Until when it stays warm, or outside the months that a rule of rain bars.
    pub good_until: NaiveDate,
    /// The last date for the step that must be safe; none where the window is too short for it.
    pub last_safe: Option<NaiveDate>,
    /// The last date to begin the method; earlier where there is work before that step.
    pub last_start: Option<NaiveDate>,
    /// How that comes about.
    pub why: Reason,
}

/// Until when a method can be begun so that the new colony stands on its own before the good time
/// ends, with every waiting time at its longest.
///
/// # Errors
/// As [`plan()`](super::plan()) for what both are asked.
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::plan::{LastSafeOutcome, LastSafeRequest, last_safe};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let request = LastSafeRequest::new(site, "2026-08-01".parse()?, "split");
/// let LastSafeOutcome::Windows { windows, .. } = last_safe(&request)?.outcome else {
///     return Err("a season that ends".into());
/// };
/// assert!(windows[0].last_safe <= Some(windows[0].closes));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn last_safe(request: &LastSafeRequest) -> Result<LastSafe, Error> {
    let LastSafeRequest {
        site,
        today,
        bee,
        climate,
        method,
        settings,
        season,
    } = request.clone();
    let plan = PlanRequest {
        site,
        today,
        bee,
        climate,
        method,
        // No date here hangs on the colony.
        colony: Colony {
            name: "-".to_owned(),
            ..Colony::default()
        },
        wanted: None,
        hive_weight_kg: None,
        settings,
        season,
        mornings: Default::default(),
        free_weekdays: Vec::new(),
        keeper: None,
        club: None,
        id: None,
        records: Vec::new(),
        fixed: Vec::new(),
        announced: Vec::new(),
    };
    worked_out(&plan, |bench| {
        let outcome = match SeasonView::new(bench)? {
            SeasonView::AllYear => LastSafeOutcome::AllYear,
            SeasonView::None(reasons) => LastSafeOutcome::None { reasons },
            SeasonView::Windows(windows) => LastSafeOutcome::Windows {
                windows: windows
                    .into_iter()
                    .filter(|safe| {
                        safe.window.closes >= today
                            && safe.window.opens - today <= TimeDelta::days(AHEAD_D)
                    })
                    .map(|safe| LastSafeDates {
                        opens: safe.window.opens,
                        closes: safe.window.closes,
                        good_until: safe.good_until,
                        last_safe: safe.last_safe,
                        last_start: safe.last_start,
                        why: safe.why(bench),
                    })
                    .collect(),
            },
        };
        Ok(LastSafe {
            method: bench.method.name().to_owned(),
            outcome,
            basis: bench.weather.climate.basis(),
        })
    })
}
