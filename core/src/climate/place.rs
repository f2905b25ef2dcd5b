//! What the engine takes for the climate of a place of which nothing else is known, and the warm season
//! over a map of places.

use chrono::{Datelike, NaiveDate};
use derive_setters::Setters;
use serde::Serialize;

use super::grid::{
    self, DailySpread, MAXIMUM_SD_ERROR_C, MINIMUM_SD_ERROR_C, WarmSeason, Warming, warm_season_map,
};
use super::{Basis, Climate, LocationDefault, WetDays};
use crate::error::Error;
use crate::site::{Latitude, Longitude, Site};
use crate::wire::FromNode;

/// Most places of one map.
pub const MOST_MAP_PLACES: usize = 100_000;

/// Asks for the default climate of a site.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct DefaultClimateRequest {
    /// Where.
    #[setters(skip)]
    pub site: Site,
    /// A warming of one's own, added to the normals of 1961–1990; today's climate when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub warming: Option<Warming>,
}

impl DefaultClimateRequest {
    /// With the default [`Warming`].
    ///
    /// ```
    /// use apiary_almanac::climate::{DefaultClimateRequest, default_climate, grid::Warming};
    /// use apiary_almanac::Site;
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let request = DefaultClimateRequest::new(site);
    /// let then = default_climate(&request.clone().with_warming(Warming::NONE))?;
    /// assert!(default_climate(&request)?.minimum_c[6] > then.minimum_c[6]);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn new(site: Site) -> Self {
        DefaultClimateRequest {
            site,
            warming: None,
        }
    }
}

/// Twelve months of what the location alone lets one expect, January first.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct DefaultClimate {
    /// Mean daily minimum, °C.
    pub minimum_c: [f64; 12],
    /// Mean daily maximum, °C.
    pub maximum_c: [f64; 12],
    /// Rain of the month, mm; known on the grid only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain_mm: Option<[f64; 12]>,
    /// Wet days of the month; known on the grid only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wet_days: Option<WetDays>,
    /// How far single days stray from the means; known on the grid only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spread: Option<DailySpread>,
    /// Error of those standard deviations, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spread_error_c: Option<SpreadError>,
    /// Mean elevation of the land within about a degree, m; known on the grid only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub land_elevation_m: Option<f64>,
    /// What has been added to the normals of 1961–1990 all over the world.
    pub warming: Warming,
    /// Whether what modern stations around ask for beyond that has been added as well.
    pub anchored: bool,
    /// What it rests on: the period, the error of the monthly means, and what would be better.
    pub basis: Basis,
    /// Terms of the numbers.
    pub licence: String,
    /// What must be said where the numbers are shown.
    pub attribution: String,
}

/// Root mean square error of standard deviations at stations left out, °C.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct SpreadError {
    /// Of the daily minima's.
    pub minimum_sd_c: f64,
    /// Of the daily maxima's.
    pub maximum_sd_c: f64,
}

/// The default climate of a site: what [`Climate::from_location`] rests on, as numbers.
///
/// # Errors
/// `out_of_range` for a warming of more than 10 °C either way.
///
/// ```
/// use apiary_almanac::climate::{DefaultClimateRequest, default_climate};
/// use apiary_almanac::Site;
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let found = default_climate(&DefaultClimateRequest::new(site))?;
/// assert!((8.0..12.0).contains(&found.minimum_c[6]));
/// assert!(found.basis.typical_error_c.is_some() && found.attribution.contains("CRU CL 2.0"));
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn default_climate(request: &DefaultClimateRequest) -> Result<DefaultClimate, Error> {
    let location = match request.warming {
        Some(warming) => LocationDefault::of_site_with(&request.site, warming)?,
        None => LocationDefault::of_site(&request.site),
    };
    let attribution = location.attribution().to_owned();
    let grid = location.grid_normals().copied();
    let (minimum_c, maximum_c) = match &grid {
        Some(normals) => (normals.minimum_c, normals.maximum_c),
        None => means_of_months(&location),
    };
    let climate = Climate::from(location);
    let basis = climate.basis().into_iter().next();
    Ok(DefaultClimate {
        minimum_c,
        maximum_c,
        rain_mm: climate.monthly_rain_mm(),
        wet_days: climate.monthly_wet_days(),
        spread: climate.spread().copied(),
        spread_error_c: climate.spread().map(|_| SpreadError {
            minimum_sd_c: MINIMUM_SD_ERROR_C,
            maximum_sd_c: MAXIMUM_SD_ERROR_C,
        }),
        land_elevation_m: grid.map(|normals| normals.cell_elevation_m),
        warming: request.warming.unwrap_or_default(),
        anchored: grid.is_some_and(|normals| normals.anchored),
        basis: basis.ok_or_else(|| Error::NotEnoughData {
            field: "site".to_owned(),
            given: "no basis".to_owned(),
            needed: "a default for the location".to_owned(),
        })?,
        licence: grid::LICENCE.to_owned(),
        attribution,
    })
}

/// Means of the days of the months in a common year.
fn means_of_months(location: &LocationDefault) -> ([f64; 12], [f64; 12]) {
    let (mut low, mut high, mut count) = ([0.0; 12], [0.0; 12], [0.0; 12]);
    let new_year = NaiveDate::from_yo_opt(2027, 1).unwrap_or_default();
    for date in new_year.iter_days().take(365) {
        let (day, month) = (location.day(date), date.month0() as usize);
        low[month] += day.minimum_c;
        high[month] += day.maximum_c;
        count[month] += 1.0;
    }
    (
        std::array::from_fn(|m| low[m] / count[m]),
        std::array::from_fn(|m| high[m] / count[m]),
    )
}

/// Asks for the warm season at every crossing of some latitudes and longitudes.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct WarmSeasonMapRequest {
    /// ° north.
    #[setters(skip)]
    pub latitudes_deg: Vec<Latitude>,
    /// ° east.
    #[setters(skip)]
    pub longitudes_deg: Vec<Longitude>,
    /// Mean temperature from which a day is warm, °C; 18 when not given.
    #[serde(default = "default_threshold_c")]
    pub threshold_c: f64,
    /// A warming of one's own, added to the normals of 1961–1990; today's climate when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub warming: Option<Warming>,
}

impl WarmSeasonMapRequest {
    /// With the default threshold and [`Warming`].
    ///
    /// ```
    /// use apiary_almanac::climate::{WarmSeasonMapRequest, season_map};
    /// use apiary_almanac::{Latitude, Longitude};
    /// // Two degrees of latitude and three of longitude: six crossings.
    /// let south = vec![Latitude::new(-28.0)?, Latitude::new(-27.0)?];
    /// let east = vec![Longitude::new(151.0)?, Longitude::new(152.0)?, Longitude::new(153.0)?];
    /// let map = season_map(&WarmSeasonMapRequest::new(south, east).with_threshold_c(20.0))?;
    /// assert_eq!(map.days.len(), 6);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn new(latitudes_deg: Vec<Latitude>, longitudes_deg: Vec<Longitude>) -> Self {
        WarmSeasonMapRequest {
            latitudes_deg,
            longitudes_deg,
            threshold_c: default_threshold_c(),
            warming: None,
        }
    }
}

/// Köppen's limit of tropical climates.
fn default_threshold_c() -> f64 {
    18.0
}

/// Warm seasons over a map: for every latitude in turn, every longitude. Off the land nothing is
/// known.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct WarmSeasonMap {
    /// Days of the year at or above the threshold; `None` off the land.
    pub days: Vec<Option<u16>>,
    /// First day of the longest warm stretch, 1 January is 1; `None` also where no day or every day is
    /// warm.
    pub first_day: Vec<Option<u16>>,
    /// Its last day.
    pub last_day: Vec<Option<u16>>,
    /// The years of the normals.
    pub period: String,
    /// What has been added to them all over the world.
    pub warming: Warming,
    /// Whether what modern stations around ask for beyond that has been added as well.
    pub anchored: bool,
    /// Terms of the numbers.
    pub licence: String,
    /// What must be said where the numbers are shown.
    pub attribution: String,
}

/// Warm seasons over a map, with what must be said about them. The elevation is the land's mean within
/// about a degree.
///
/// # Errors
/// `too_large` for more than [`MOST_MAP_PLACES`] places, `out_of_range` for a threshold outside −40 to
/// 60 °C or a warming of more than 10 °C either way.
///
/// ```
/// use apiary_almanac::climate::{WarmSeasonMapRequest, season_map};
/// let request: WarmSeasonMapRequest = serde_json::from_str(
///     r#"{"latitudes_deg": [-30, -20], "longitudes_deg": [130, 145, 160]}"#,
/// )?;
/// let map = season_map(&request)?;
/// assert!(map.days[0] < map.days[3] && map.days[2].is_none());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn season_map(request: &WarmSeasonMapRequest) -> Result<WarmSeasonMap, Error> {
    let places = request.latitudes_deg.len() * request.longitudes_deg.len();
    if places > MOST_MAP_PLACES {
        return Err(Error::TooLarge {
            field: "latitudes_deg, longitudes_deg".to_owned(),
            given: format!("{places} places"),
            allowed: format!("{MOST_MAP_PLACES} places"),
        });
    }
    let threshold_c = request.threshold_c;
    if !(-40.0..=60.0).contains(&threshold_c) {
        return Err(Error::out_of_range(
            "threshold_c",
            threshold_c,
            "-40 to 60 °C",
        ));
    }
    if let Some(warming) = request.warming {
        warming.check()?;
    }
    let latitudes: Vec<f64> = request
        .latitudes_deg
        .iter()
        .map(|place| place.get())
        .collect();
    let longitudes: Vec<f64> = request
        .longitudes_deg
        .iter()
        .map(|place| place.get())
        .collect();
    let seasons = warm_season_map(&latitudes, &longitudes, threshold_c, request.warming);
    let column = |of: fn(WarmSeason) -> Option<u16>| -> Vec<Option<u16>> {
        seasons.iter().map(|season| season.and_then(of)).collect()
    };
    Ok(WarmSeasonMap {
        days: column(|season| Some(season.days)),
        first_day: column(|season| season.first_day),
        last_day: column(|season| season.last_day),
        period: grid::PERIOD.to_owned(),
        warming: request.warming.unwrap_or_default(),
        anchored: request.warming.is_none(),
        licence: grid::LICENCE.to_owned(),
        attribution: grid::ATTRIBUTION.to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(latitude_deg: f64, longitude_deg: f64, warming: Option<Warming>) -> DefaultClimate {
        let site = Site::new(latitude_deg, longitude_deg, 20.0, "UTC").unwrap();
        default_climate(&DefaultClimateRequest { site, warming }).unwrap()
    }

    #[test]
    fn at_sea_the_latitude_answers_and_says_so() {
        let found = asked(-28.81, 165.0, None);
        assert!(found.rain_mm.is_none() && found.spread.is_none());
        assert!(found.basis.about.contains("latitude and elevation alone"));
        assert!(!found.attribution.contains("Natural Earth"));
        // The mean of the year survives the averaging by months.
        let site = Site::new(-28.81, 165.0, 20.0, "UTC").unwrap();
        let location = LocationDefault::of_site(&site);
        let mid_july = location.day("2027-07-16".parse().unwrap());
        assert!((found.minimum_c[6] - mid_july.minimum_c).abs() < 0.2);
    }

    #[test]
    fn a_warming_of_ones_own_is_added() {
        let own = Warming {
            minimum_c: 2.0,
            maximum_c: -1.0,
        };
        for longitude in [153.28, 165.0] {
            let (none, own_found) = (
                asked(-28.81, longitude, Some(Warming::NONE)),
                asked(-28.81, longitude, Some(own)),
            );
            for month in 0..12 {
                let low = own_found.minimum_c[month] - none.minimum_c[month];
                let high = own_found.maximum_c[month] - none.maximum_c[month];
                assert!((low - 2.0).abs() < 1e-9 && (high + 1.0).abs() < 1e-9);
            }
            assert!(
                !none.basis.about.contains("warming"),
                "{}",
                none.basis.about
            );
            assert!(own_found.basis.about.contains("2 and -1 °C"));
        }
        let site = Site::new(-28.81, 153.28, 20.0, "UTC").unwrap();
        let hot = Warming {
            minimum_c: 11.0,
            maximum_c: 0.0,
        };
        let request = DefaultClimateRequest {
            site,
            warming: Some(hot),
        };
        let error = default_climate(&request).unwrap_err();
        assert_eq!(
            (error.code(), error.field()),
            ("out_of_range", "warming.minimum_c")
        );
    }

    #[test]
    fn a_map_agrees_with_its_places_and_has_a_limit() {
        let request = |latitudes: usize, threshold_c: f64| WarmSeasonMapRequest {
            latitudes_deg: vec![Latitude::new(-28.5).unwrap(); latitudes],
            longitudes_deg: vec![Longitude::new(152.5).unwrap(); 1000],
            threshold_c,
            warming: None,
        };
        let map = season_map(&request(1, 18.0)).unwrap();
        let place = grid::at(-28.5, 152.5, None).unwrap().warm_season(18.0);
        assert_eq!(map.days, vec![Some(place.days); 1000]);
        assert_eq!(map.first_day[7], place.first_day);
        let error = season_map(&request(101, 18.0)).unwrap_err();
        assert_eq!(error.code(), "too_large");
        let error = season_map(&request(1, f64::NAN)).unwrap_err();
        assert_eq!(
            (error.code(), error.field()),
            ("out_of_range", "threshold_c")
        );
    }
}
