//! The warm part of the year, at one place or over a whole map.

use serde::Serialize;

use super::super::month_spline::common_days;
use super::{GridClimate, Warming, at_level};
use crate::wire::FromNode;

/// The part of a year in which the smoothed daily mean is at or above a threshold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[non_exhaustive]
pub struct WarmSeason {
    /// Days of the year at or above the threshold, all stretches together, 0 to 365.
    pub days: u16,
    /// First day of the longest stretch, counted from 1 January as 1 in a year of 365 days; `None`
    /// where no day or every day is warm enough.
    pub first_day: Option<u16>,
    /// Last day of that stretch; smaller than the first where the stretch goes over new year.
    pub last_day: Option<u16>,
}

impl GridClimate {
    /// The part of the year in which the smoothed mean of minimum and maximum is at or above a
    /// threshold.
    ///
    /// ```
    /// use apiary_almanac::climate::grid;
    /// let lismore = grid::at(-28.81, 153.28, Some(12.0)).ok_or("it lies on land")?;
    /// let season = lismore.warm_season(18.0);
    /// assert!(season.first_day > season.last_day); // over new year
    /// # Ok::<(), &str>(())
    /// ```
    pub fn warm_season(&self, threshold_c: f64) -> WarmSeason {
        let mean: [f64; 12] =
            std::array::from_fn(|m| f64::midpoint(self.minimum_c[m], self.maximum_c[m]));
        warm_season(&mean, threshold_c)
    }
}

/// [`WarmSeason`] of twelve monthly means.
///
/// ```
/// use apiary_almanac::climate::grid::warm_season;
/// assert_eq!(warm_season(&[25.0; 12], 18.0).days, 365);
/// let year = [25.0, 25.0, 23.0, 20.0, 17.0, 14.0, 13.0, 14.0, 17.0, 20.0, 22.0, 24.0];
/// let season = warm_season(&year, 18.0);
/// assert!((215..232).contains(&season.days));
/// ```
pub fn warm_season(mean_c: &[f64; 12], threshold_c: f64) -> WarmSeason {
    let warm: Vec<bool> = common_days(mean_c)
        .iter()
        .map(|day| *day >= threshold_c)
        .collect();
    let count = warm.iter().filter(|warm| **warm).count();
    let mut longest = (0, 0);
    for first in (0..365).filter(|day| warm[*day] && !warm[(day + 364) % 365]) {
        let length = (0..365).take_while(|n| warm[(first + n) % 365]).count();
        if length > longest.0 {
            longest = (length, first);
        }
    }
    let (length, first) = longest;
    let day = |day: usize| u16::try_from(day % 365 + 1).ok().filter(|_| length > 0);
    WarmSeason {
        days: count as u16,
        first_day: day(first),
        last_day: day(first + length.max(1) - 1),
    }
}

/// Warm seasons over a map: for every latitude in turn, every longitude; `None` off the land. With
/// the feature `parallel` the rows are shared among the processor's cores.
///
/// The climate is today's, or that of 1961–1990 with a warming of one's own. The elevation is the
/// land's mean within about a degree, so a map shows regions, not single
/// valleys.
///
/// ```
/// use apiary_almanac::climate::grid::warm_season_map;
/// let map = warm_season_map(&[-30.0, -20.0], &[130.0, 145.0, 160.0], 18.0, None);
/// assert_eq!(map.len(), 6);
/// assert!(map[0].is_some() && map[2].is_none());
/// ```
pub fn warm_season_map(
    latitudes_deg: &[f64],
    longitudes_deg: &[f64],
    threshold_c: f64,
    own_warming: Option<Warming>,
) -> Vec<Option<WarmSeason>> {
    let row = |latitude_deg: &f64| -> Vec<Option<WarmSeason>> {
        longitudes_deg
            .iter()
            .map(|longitude_deg| {
                at_level(*latitude_deg, *longitude_deg, None, own_warming)
                    .filter(|climate| climate.on_land)
                    .map(|climate| climate.warm_season(threshold_c))
            })
            .collect()
    };
    #[cfg(feature = "parallel")]
    {
        use rayon::prelude::*;
        latitudes_deg.par_iter().flat_map_iter(row).collect()
    }
    #[cfg(not(feature = "parallel"))]
    latitudes_deg.iter().flat_map(row).collect()
}
