// Written by `cargo run -p apiary-almanac-tools --bin mirrors` from the types of the engine: change those.

/** A civil date, `"YYYY-MM-DD"`, from 1900-01-01 to 2100-12-31. */
export type CivilDate = string;

/** A moment as an ISO string with its offset, such as `"2026-11-26T04:50:17.250+10:00"`. */
export type Instant = string;

/** A moment: a `Date`, or an ISO string with its offset. */
export type InstantInput = Date | Instant;

/** A built-in bee. */
export type BeeName =
  | "generic_small"
  | "generic_medium"
  | "generic_large"
  | "austroplebeia_australis"
  | "austroplebeia_essingtoni"
  | "cephalotrigona_capitata"
  | "friesella_schrottkyi"
  | "frieseomelitta_longipes"
  | "geniotrigona_thoracica"
  | "geotrigona_mombuca"
  | "geotrigona_subterranea"
  | "heterotrigona_itama"
  | "hypotrigona_gribodoi"
  | "lepidotrigona_terminata"
  | "melipona_beecheii"
  | "melipona_bicolor"
  | "melipona_colimana"
  | "melipona_fasciata"
  | "melipona_fasciculata"
  | "melipona_flavolineata"
  | "melipona_mandacaia"
  | "melipona_marginata"
  | "melipona_quadrifasciata"
  | "melipona_rufiventris"
  | "melipona_scutellaris"
  | "melipona_seminigra"
  | "melipona_subnitida"
  | "meliponula_beccarii"
  | "meliponula_bocandei"
  | "meliponula_ferruginea"
  | "meliponula_nebulata"
  | "nannotrigona_perilampoides"
  | "nannotrigona_testaceicornis"
  | "partamona_cupira"
  | "plebeia_droryana"
  | "plebeia_lucii"
  | "plebeia_minima"
  | "plebeia_pugnax"
  | "plebeia_remota"
  | "scaptotrigona_depilis"
  | "scaptotrigona_mexicana"
  | "scaptotrigona_postica"
  | "tetragonisca_angustula"
  | "tetragonula_carbonaria"
  | "tetragonula_fuscobalteata"
  | "tetragonula_hockingsi"
  | "tetragonula_iridipennis"
  | "tetragonula_laeviceps"
  | "tetragonula_ruficornis"
  | "trigona_corvina"
  | "trigona_spinipes"
  | "trigonisca_pipioli";

/** A built-in method. */
export type MethodName =
  | "comb_donation"
  | "eduction"
  | "split"
  | "transfer";

/** A sentence of the engine's catalogue. */
export type ReasonCode =
  | "too_cold"
  | "too_dark"
  | "never_both"
  | "too_wet"
  | "too_short"
  | "long_enough"
  | "no_dawn"
  | "other_date"
  | "too_short_a_dawn"
  | "flight_within_margin"
  | "too_early_flight"
  | "close_and_lamp"
  | "cooler_morning"
  | "others_may_fly"
  | "ample_time"
  | "short_time"
  | "cold_work"
  | "warm_work"
  | "mild_work"
  | "rain_unknown"
  | "dry"
  | "rain"
  | "windy"
  | "bees_learn_place"
  | "no_flying_day"
  | "not_free"
  | "temperature_below"
  | "temperature_above"
  | "temperature_outside"
  | "cool_weeks_ahead"
  | "cool_weeks_next"
  | "wettest_months"
  | "wet_month"
  | "wet_days"
  | "rains"
  | "far_from_good"
  | "never_holds"
  | "never_together"
  | "season_would_change"
  | "odds_too_late"
  | "odds_doubtful"
  | "odds_in_time"
  | "month_alone"
  | "month_span"
  | "rain_of_year"
  | "rain_alike"
  | "published_divide"
  | "published_swarms"
  | "published_queens"
  | "published_not_then"
  | "published_without_months"
  | "closed_by_numbers"
  | "at_risk_by_numbers"
  | "good_by_numbers"
  | "uncertain_wait"
  | "too_few_flying_days"
  | "too_little_warmth"
  | "rain_chance"
  | "temperature_on"
  | "rain_on"
  | "on"
  | "days_named"
  | "lamp_on"
  | "declared_weight"
  | "declared_net_weight"
  | "grid_climate"
  | "grid_climate_today"
  | "latitude_climate"
  | "hours_climate"
  | "forecast_climate"
  | "better_than_grid"
  | "station_would_pay"
  | "better_than_latitude"
  | "far_from_equator"
  | "normals_have_no_days"
  | "mean_of_recorded_years"
  | "gaps_in_records"
  | "forecasts_age"
  | "zone_far_off"
  | "zero_coordinates"
  | "at_sea"
  | "longitude_from_360"
  | "elevation_of_the_land"
  | "no_elevation"
  | "elevation_far_off"
  | "longitude_stands_first"
  | "not_on_land_as_written"
  | "address_of_several_places"
  | "caution_no_stingless_bees"
  | "caution_not_native"
  | "caution_extreme_heat"
  | "caution_heat"
  | "caution_cold_night"
  | "caution_cold_days"
  | "caution_rain"
  | "caution_dark"
  | "caution_lifting"
  | "caution_closed_hive"
  | "caution_bites_allergy"
  | "caution_law"
  | "caution_foragers_fly_back"
  | "caution_nearer_than_advised"
  | "caution_many_stages"
  | "caution_needless_stay"
  | "distance_and_homing"
  | "distance_and_advised"
  | "distance_and_stages"
  | "near"
  | "within_range"
  | "beyond_range"
  | "stay_instead"
  | "stages_instead"
  | "at_once_instead"
  | "farther_stay_instead"
  | "half_find_home"
  | "few_find_home"
  | "farthest_home"
  | "homing_unknown"
  | "quarter_may_return"
  | "as_asked"
  | "watch_the_bees"
  | "slow"
  | "held_by_rain"
  | "held_by_cold"
  | "held_by_darkness"
  | "cool_season"
  | "mesh"
  | "too_cold_to_travel"
  | "too_warm_to_travel"
  | "first_flying_day"
  | "by_lamp"
  | "by_lamp_open"
  | "stopped"
  | "heavy_enough"
  | "too_light"
  | "weight_unknown"
  | "strong_enough"
  | "too_weak"
  | "strength_unknown"
  | "divided_lately"
  | "rested"
  | "history_unknown"
  | "leave_whole"
  | "too_cold_to_open"
  | "too_short_to_open"
  | "mild"
  | "no_mild_hours"
  | "wet"
  | "heat_ahead"
  | "too_hot_to_shut"
  | "no_warm_hours"
  | "lamp"
  | "begun_out_of_season"
  | "begun_late"
  | "parted_next_season"
  | "parted_after_short_season"
  | "last_safe"
  | "last_safe_by_warmth"
  | "no_last_safe"
  | "last_safe_passed"
  | "season_too_short"
  | "start_would_change"
  | "near_wanted"
  | "little_notice"
  | "early"
  | "soon"
  | "edge_of_season"
  | "wish_after_limit"
  | "wish_before_season"
  | "way_wait"
  | "way_sooner"
  | "way_set_on"
  | "way_all_the_same"
  | "opening_near_move"
  | "opening_after_division"
  | "one_work_an_evening"
  | "moved_from"
  | "falls_with"
  | "slack_moves"
  | "slack_too_near"
  | "slack_full"
  | "start_as_alone"
  | "start_together"
  | "start_near_another"
  | "starts_too_near"
  | "openings_full"
  | "moves_full"
  | "openings_over"
  | "moves_over"
  | "why_done"
  | "why_past"
  | "why_with"
  | "why_fixed"
  | "why_after"
  | "why_too_early"
  | "why_too_late"
  | "why_farther"
  | "why_announced"
  | "why_would_move"
  | "why_others"
  | "why_later"
  | "why_never"
  | "begun"
  | "before_start"
  | "moved"
  | "queen_seen"
  | "ended_by_joining"
  | "ended_with_the_box"
  | "ended_with_the_pair"
  | "open_moved_or_not"
  | "helped"
  | "after_help"
  | "nothing_to_watch"
  | "old_queen_seen"
  | "old_queen_elsewhere"
  | "other_box_is_empty"
  | "one_box_is_left"
  | "raises_the_queen"
  | "either_box"
  | "only_if_no_eggs"
  | "until_seen"
  | "until_full_box"
  | "until_task"
  | "seen_on"
  | "seen_already"
  | "too_hot_to_close"
  | "passed_over"
  | "lapsed"
  | "over"
  | "overdue"
  | "outside_range"
  | "on_the_day_of"
  | "after"
  | "no_season_in_sight"
  | "into_season"
  | "waits_for_weather"
  | "no_fit_day"
  | "no_fit_morning"
  | "count_early"
  | "count_early_published"
  | "count_pollen"
  | "count_pollen_near"
  | "count_little"
  | "count_none"
  | "queenless_life"
  | "queenless_life_unknown"
  | "box_empty"
  | "in_range"
  | "lids_closed_until"
  | "lids_closed"
  | "entrances_open"
  | "nothing_to_tell_yet"
  | "heat"
  | "pests"
  | "waits_to_be_seen"
  | "goes_on"
  | "begins_on"
  | "begins_in_good_season"
  | "begins_in_season"
  | "nothing_to_do"
  | "nothing_until"
  | "work_today"
  | "queen_was_seen"
  | "likely_established"
  | "against_it"
  | "box_is_empty"
  | "joined_again"
  | "not_before"
  | "settled_by"
  | "moved_and_opened"
  | "moved_still_shut"
  | "was_it_done"
  | "season_is_good"
  | "season_is_at_risk"
  | "season_is_closed"
  | "last_safe_of"
  | "heat_is_likely"
  | "wet_until"
  | "dawn_of_month"
  | "taken_as_celsius"
  | "taken_as_fahrenheit"
  | "rain_in_mm"
  | "date_order"
  | "columns_unused"
  | "unusual_for_the_place"
  | "all_past"
  | "clock_twice"
  | "clock_never"
  | "moment_twice"
  | "numbers_unclear"
  | "no_extremes"
  | "day_unclear"
  | "names_no_day"
  | "not_that_weekday"
  | "far_away"
  | "day_skipped"
  | "not_readable"
  | "unit_not_said"
  | "no_air_is_at"
  | "hour_refused"
  | "minimum_above_maximum"
  | "rain_unreadable"
  | "wind_unreadable"
  | "date_twice"
  | "too_many_days"
  | "error_out_of_range"
  | "error_unknown_zone"
  | "error_skipped_day"
  | "error_inconsistent"
  | "error_unknown_name"
  | "error_unreadable"
  | "error_bad_cell"
  | "error_bad_table"
  | "error_too_large"
  | "error_not_enough_data";

/** The stable name of a kind of error; the same in every language. */
export type ErrorCode =
  | "bad_cell"
  | "bad_table"
  | "inconsistent"
  | "not_enough_data"
  | "out_of_range"
  | "skipped_day"
  | "too_large"
  | "unknown_name"
  | "unknown_zone"
  | "unreadable";

/** What is behind the door. */
export interface About {
  /** Name of the engine. */
  readonly name: string;
  /** Its version. */
  readonly version: string;
  /** Every code that an error can have. */
  readonly errorCodes: readonly ErrorCode[];
  /** Every name that a request's `ask` can take. */
  readonly requests: readonly string[];
  /** Names of the built-in bees, the generic ones first. */
  readonly bees: readonly BeeName[];
  /** The first date that the engine answers for. */
  readonly firstDate: CivilDate;
  /** The last one. */
  readonly lastDate: CivilDate;
}

/** A place where hives stand. */
export interface Site {
  /** Degrees north, −90 to 90 (south is negative). */
  readonly latitudeDeg: number;
  /** Degrees east, −180 to 180 (west is negative); a request may have 180 to 360. */
  readonly longitudeDeg: number;
  /** Metres above sea level, −500 to 9000; without it a request takes that of the land around. */
  readonly elevationM?: number;
  /** IANA time zone of the people who work there. */
  readonly zone: string;
  /** How high hills or trees stand where the sun comes up, −5 to 45 degrees above level. */
  readonly eastHorizonDeg?: number;
  /** The same where it goes down. */
  readonly westHorizonDeg?: number;
  /** In answers: the height was not given, it is that of the land around (`place`). */
  readonly elevationFromLand?: boolean;
  /** In answers: the longitude was given as 180 to 360. */
  readonly longitudeFrom_360?: boolean;
}

/** A user's own bee: a built-in one to start from, and any number of its numbers. */
export interface BeeOverrides {
  /** Built-in bee to start from; `generic_small` when not given. */
  readonly basedOn?: BeeName | (string & {});
  /** Name for people. */
  readonly label?: string;
  /** Where the numbers come from; "set by the user" when not given. */
  readonly source?: string;
  /** See `Bee.flightLight`; in W/m². Give this or the next, not both. */
  readonly flightLightWM2?: number;
  /** See `Bee.flightLight`; in lx. */
  readonly flightLightLx?: number;
  /** See `Bee.flightEarliestC`. */
  readonly flightEarliestC?: number;
  /** See `Bee.flightMinimumC`. */
  readonly flightMinimumC?: number;
  /** See `Bee.flyingDayH`. */
  readonly flyingDayH?: number;
  /** See `Bee.rainLimitMm`. */
  readonly rainLimitMm?: number;
  /** See `Bee.windLimitMS`. */
  readonly windLimitMS?: number;
  /** See `Bee.workerDevelopmentShortestD`. */
  readonly workerDevelopmentShortestD?: number;
  /** See `Bee.workerDevelopmentD`. */
  readonly workerDevelopmentD?: number;
  /** See `Bee.heatShadeC`. */
  readonly heatShadeC?: number;
  /** See `Bee.heatLimitC`. */
  readonly heatLimitC?: number;
  /** See `Bee.homingTypicalM`. */
  readonly homingTypicalM?: number;
  /** See `Bee.homingLimitM`. */
  readonly homingLimitM?: number;
  /** See `Bee.homingFarthestM`. */
  readonly homingFarthestM?: number;
  /** See `Bee.queenDevelopmentD`. */
  readonly queenDevelopmentD?: number;
  /** See `Bee.workerLifeD`. */
  readonly workerLifeD?: number;
  /** See `Bee.broodColdC`. */
  readonly broodColdC?: number;
  /** See `Bee.broodHeatC`. */
  readonly broodHeatC?: number;
  /** See `Bee.fanningC`. */
  readonly fanningC?: number;
  /** See `Bee.adultColdC`. */
  readonly adultColdC?: number;
  /** See `Bee.adultHeatC`. */
  readonly adultHeatC?: number;
  /** See `Bee.divisionNightC`. */
  readonly divisionNightC?: number;
  /** See `Bee.readyNetKg`. */
  readonly readyNetKg?: number;
  /** See `Bee.divisionIntervalD`. */
  readonly divisionIntervalD?: number;
}

/** Means of the twelve months, January first. */
export interface MonthlyNormals {
  /** Means of the daily minimum, °C. */
  readonly minimumC: ArrayLike<number>;
  /** Means of the daily maximum, °C. */
  readonly maximumC: ArrayLike<number>;
  /** Mean totals of rain, mm. */
  readonly rainMm?: ArrayLike<number>;
  /** Mean numbers of wet days; say in `about` from how much rain a day is wet. */
  readonly wetDays?: ArrayLike<number>;
  /** Station and years. */
  readonly about: string;
}

/** The text of a file, and the name by which errors call it. */
export interface TextFile {
  /** The file's name. */
  readonly file: string;
  /** All of its text. */
  readonly text: string;
}

/** One day of a forecast. */
export interface ForecastDay {
  /** The civil day at the site. */
  readonly date: CivilDate;
  /** Lowest air temperature, °C. */
  readonly minimumC: number;
  /** Highest air temperature, °C. */
  readonly maximumC: number;
  /** Rain, mm. */
  readonly rainMm?: number;
  /** Mean wind, m/s. */
  readonly windMS?: number;
}

/** The weather at one moment, every hour or so. */
export interface Hour {
  /** The moment. */
  readonly at: InstantInput;
  /** Air temperature at that moment, °C. */
  readonly temperatureC: number;
  /** Rain since the reading before, mm. */
  readonly rainMm?: number;
  /** Wind, m/s. */
  readonly windMS?: number;
  /** Share of the sky under cloud, %. */
  readonly cloudPercent?: number;
  /** Radiation of sun and sky on level ground, W/m². */
  readonly radiationWM2?: number;
}

/** What was read and seen at one moment: it moves the usual and the early first flight of its day. */
export interface Reading {
  /** When it was read. */
  readonly at: InstantInput;
  /** Temperature in the shade, °C. */
  readonly temperatureC: number;
  /** Whether bees flew at the entrance; not looked at where it is missing. */
  readonly flying?: boolean;
}

/** Standard deviation of the days of a month about its normal. */
export interface DailySpread {
  /** Of the daily minima, January first, °C. */
  readonly minimumSdC: ArrayLike<number>;
  /** Of the daily maxima, °C. */
  readonly maximumSdC: ArrayLike<number>;
}

/** What is added to normals of 1961–1990 for the years since. */
export interface Warming {
  /** Added to the minimum, °C. */
  readonly minimumC: number;
  /** Added to the maximum, °C. */
  readonly maximumC: number;
}

/**
 * Normals or records, and a forecast: each as values or as the text of a CSV file. Without normals and
 * records the default for the location is used.
 */
export interface ClimateInput {
  /** Twelve monthly normals. */
  readonly normals?: MonthlyNormals;
  /** The same as CSV. */
  readonly normalsCsv?: TextFile;
  /** The same as a table pasted from a weather service's page: `MonthlyNormals.from_paste`. */
  readonly normalsPaste?: string;
  /** Daily records as CSV. */
  readonly recordsCsv?: TextFile;
  /** The next days. */
  readonly forecast?: readonly ForecastDay[];
  /** The same as CSV. */
  readonly forecastCsv?: TextFile;
  /** Weather by the hour, measured or forecast. */
  readonly hours?: readonly Hour[];
  /** The same as the texts of files, CSV or JSON: `Hours.from_texts`. */
  readonly hoursFiles?: readonly TextFile[];
  /** A look at the thermometer on the day itself. */
  readonly reading?: Reading;
  /** How far single days stray from the means, in place of what is taken for the place. */
  readonly spread?: DailySpread;
  /**
   * What the default for the location adds to its normals of 1961–1990, in place of what is known of
   * today.
   */
  readonly warming?: Warming;
}

/** Which box will have to raise a queen. */
export type NewQueen =
  /** The old box. */
  | "parent"
  /** The new box. */
  | "daughter"
  /** One of the two; which one shows only when the queen or eggs are seen. */
  | "either"
  /** Neither: the queen moves with the colony. */
  | "none";

/** A part of the world in which stingless bees are native. */
export type Region =
  /** Mexico to northern Argentina. */
  | "americas"
  /** Africa south of the Sahara, with Madagascar. */
  | "africa"
  /** India to Taiwan and the Solomon Islands. */
  | "asia"
  /** Australia. */
  | "australia";

/** When something holds: all that is given must. */
export interface When {
  /** Name of a setting; with one of the next two. */
  readonly setting?: string;
  /** The option of it that is chosen. */
  readonly is?: string;
  /** The option of it that is not chosen, while the setting matters. */
  readonly isNot?: string;
  /** Whether the bee raises its queens in queen cells: not so in *Melipona*. */
  readonly buildsQueenCells?: boolean;
  /**
   * The bee is one of these species or genera, in small letters: `tetragonula_carbonaria`, `melipona`.
   */
  readonly bees?: readonly string[];
  /** The hives stand in this part of the world. */
  readonly region?: Region;
}

/** A sentence and its condition. */
export interface BoundLine {
  /** The sentence. */
  readonly text: string;
  /** When it holds. */
  readonly when: When;
}

/** How strong a colony is, as its keeper judges it. */
export type Strength =
  /** Few bees at the entrance, little brood or few pots. */
  | "weak"
  /** In between. */
  | "medium"
  /** Steady streams, guards, brood and pots that fill the box. */
  | "strong";

/** What a colony must be before the method is begun. */
export interface Readiness {
  /** True where the bee's own `readyNetKg` is asked, if it has one. */
  readonly netWeightByBee?: boolean;
  /** What shows the strength that is asked, a sentence each. */
  readonly lookFor?: readonly (string | BoundLine)[];
  /** Least net weight, kg. */
  readonly netWeightKg?: number;
  /** Least strength. */
  readonly strength?: Strength;
  /** The setting whose earliest wait must have passed since the last division. */
  readonly sinceDivisionSetting?: string;
  /** Where this comes from. */
  readonly source: string;
}

/** What a waiting time counts. */
export type WaitUnit =
  /** Days. */
  | "days"
  /** Days on which bees fly. */
  | "flying_days"
  /** Warmth above a temperature, °C d. */
  | "degree_days";

/** A waiting time as data: three counts and their source. */
export interface Wait {
  /** What is counted. */
  readonly unit: WaitUnit;
  /** Temperature above which warmth is counted, −10 to 40 °C: for degree-days, and needed there. */
  readonly baseC?: number;
  /** Temperature up to which it is counted, °C: for degree-days. */
  readonly upperC?: number;
  /** The shortest count. */
  readonly earliest: number;
  /** The count to plan with. */
  readonly likely: number;
  /** The longest count. */
  readonly latest: number;
  /** Publication, or `common practice, no source`. */
  readonly source: string;
}

/** A number of the bee that is a waiting time. */
export type BeeWait =
  /** `Bee.workerDevelopmentD`, 5 d less to 5 d more. */
  | "worker_development"
  /**
   * `Bee.divisionIntervalD`. Where none is published the step has no date: it waits until the box is
   * full again.
   */
  | "division_interval"
  /**
   * The day after the division on which a keeper decides for the last time: day 110, or sooner the
   * last on which brood that is given still helps, three weeks before the last bees of a box without a
   * queen die.
   */
  | "last_decision";

/** Which of the two boxes a task concerns. */
export type Which =
  /** The colony that was there before. */
  | "parent"
  /** The new one. */
  | "daughter"
  /** Both. */
  | "pair";

/** One way of doing a thing on which practice differs. */
export interface SettingOption {
  /** Short name, snake case. */
  readonly name: string;
  /** The way in words. */
  readonly words: string;
  /** Publication, or `common practice, no source`. */
  readonly source: string;
  /** The waiting time that goes with it. */
  readonly wait?: Wait;
  /** The waiting time of the bee that goes with it; give this or `wait`. */
  readonly byBee?: BeeWait;
  /** With it this box keeps the old place, `parent` or `daughter`, and the other leaves. */
  readonly keepsPlace?: Which;
}

/** A thing on which practice differs. */
export interface Setting {
  /** Short name, snake case. */
  readonly name: string;
  /** What is to be chosen. */
  readonly question: string;
  /** The option that is taken where the keeper names none. */
  readonly default: string;
  /** The ways; at least two. */
  readonly options: readonly SettingOption[];
  /** It matters only under this condition; of settings those before it count. */
  readonly when?: When;
}

/** What kind of work a task is. Pictures and calendars group by it. */
export type TaskKind =
  /** Looking after readiness and material beforehand. */
  | "prepare"
  /** Dividing, setting a box on, parting, transferring. */
  | "divide"
  /** Closing or opening an entrance. */
  | "entrance"
  /** Looking for pests. */
  | "pest_watch"
  /** Moving a box. */
  | "move"
  /** Leaving the pair alone, side by side. */
  | "rest"
  /** Looking for eggs, queen, new workers. */
  | "check"
  /** Feeding. */
  | "feed"
  /** Deciding what to do. */
  | "decide"
  /** When the colony may be divided again. */
  | "next_division";

/** The box of a step. */
export type StepBox =
  /** The old box. */
  | "parent"
  /** The new one. */
  | "daughter"
  /** Both. */
  | "pair"
  /** The one that leaves the old place, as a setting says. */
  | "leaving"
  /** The one that keeps the old place. */
  | "staying";

/**
 * What comes before a step, and how long before: at most one of the three waits; with none, any later
 * time will do.
 */
export interface After {
  /** The `id` of the other step. */
  readonly task: string;
  /** A waiting time. */
  readonly wait?: Wait;
  /** The waiting time of a setting's option. */
  readonly bySetting?: string;
  /** A waiting time of the bee. */
  readonly byBee?: BeeWait;
  /** True where the other step's date is known as a range only, so that its whole range counts. */
  readonly carriesRange?: boolean;
  /** It is waited for only under a condition. */
  readonly when?: When;
}

/** Something seen at a hive. */
export type SignKind =
  /** New cells with eggs. */
  | "eggs"
  /** The queen, laying or swollen. */
  | "laying_queen"
  /** Pale young bees, weeks after the brood that came along had emerged. */
  | "young_workers"
  /** Pollen carried in. */
  | "pollen_in"
  /** Resin carried in. */
  | "resin_in"
  /** Steady streams of foragers on good flying days. */
  | "steady_streams"
  /** Guards at the entrance. */
  | "guards"
  /** Waste carried out. */
  | "waste_out"
  /** Many males turned out at the entrance on one day, out of season. */
  | "males_turned_out"
  /** Males gathered outside. */
  | "males_gathered"
  /** Bees of one box going into the other. */
  | "bees_enter_other"
  /** Pollen, resin or wax carried from one box to the other. */
  | "stores_carried_between"
  /** No traffic on a good flying day. */
  | "no_traffic"
  /** Brood or empty cells, but no eggs. */
  | "no_eggs"
  /** Larvae of phorid flies inside. */
  | "phorid_larvae"
  /** Moth larvae or webs inside. */
  | "moth"
  /** Ants inside. */
  | "ants"
  /** The box is empty, or only dead bees are in it. */
  | "box_empty"
  /** Brood of any age, in a box that had none. */
  | "brood"
  /** Queen cells in a cocoon. */
  | "queen_cells"
  /** New cells, built and filled, but without eggs. */
  | "cells_without_eggs"
  /** Bees of other colonies fight at the entrance. */
  | "fights"
  /** Eggs of hoverflies in joints, or their larvae inside. */
  | "hoverflies"
  /** Hive beetles or their larvae inside. */
  | "hive_beetle";

/** A sight that a step waits for, and how long after it the step is due. */
export interface AfterSign {
  /** What. */
  readonly sign: SignKind;
  /** Where. */
  readonly which: Which;
  /** The time since it was first seen; give this or the next. */
  readonly wait?: Wait;
  /** The setting that has the time. */
  readonly bySetting?: string;
}

/** What is seen, and at which box. */
export interface SignAt {
  /** What. */
  readonly sign: SignKind;
  /** Where. */
  readonly which: Which;
}

/** A condition that is asked on the day, not in the settings. */
export type OnlyIf =
  /** Only if the look before found no eggs. */
  | "no_eggs";

/** What a step asks of the weather of its day. */
export type DayRule =
  /** Nothing. */
  | "any"
  /** Warm enough to open a hive, not too hot, dry, and no heat in the following days. */
  | "opening"
  /** Bees can fly long enough to learn a place. */
  | "flying";

/** The part of the day that a step takes place in. */
export type TimeOfDay =
  /** Any time. */
  | "whole_day"
  /** The move window of the dawn. */
  | "dawn"
  /** Daytime with flight, while the air is neither too cold nor too hot to open a hive. */
  | "warm_hours"
  /** After last flight. */
  | "evening";

/** What a step does to an entrance. */
export type EntranceWork =
  /** It is closed for some days: not where one of the next two is hotter than `closed_limit`. */
  | "close"
  /** It is opened. */
  | "open";

/** How a step is bound to the season. */
export type SeasonUse =
  /** Not at all. */
  | "free"
  /** It must lie in a working window. */
  | "within"
  /** It must lie in a working window and not after the last safe date. One step of a method. */
  | "safe";

/** What becomes of a step whose time has passed without a record of it. */
export type IfMissed =
  /** It is still to be done. */
  | "still_due"
  /** It is dropped: a look at the hive on that day cannot be made up for. */
  | "lapses";

/** A step that is done several times. */
export interface Repeat {
  /** How often: 2 to 60. */
  readonly times: number;
  /** The time from one to the next; give this or the next. */
  readonly wait?: Wait;
  /** The setting that has the time. */
  readonly bySetting?: string;
  /**
   * The length of each, m, for the stages of a move: 0.1 to 1. Titles and reasons name it where they
   * have `{stageM}`, and how far the box has come by then where they have `{so_far}`.
   */
  readonly stageM?: number;
  /**
   * By how much the entrance is turned in all, degrees, clockwise positive; `{turned}` names what has
   * been turned by then.
   */
  readonly totalTurnDeg?: number;
}

/** One step of a method. */
export interface Step {
  /** Unique within the method, in kebab case. */
  readonly id: string;
  /** What kind of work. */
  readonly kind: TaskKind;
  /** Which box. */
  readonly which: StepBox;
  /** A short line for people. */
  readonly title: string;
  /** The same in a few words, for small screens and calendars; the title where it is not given. */
  readonly short?: string;
  /** Titles that take its place: the first that holds. */
  readonly titles?: readonly (string | BoundLine)[];
  /** Why it is done, and why then; one or two sentences. */
  readonly why: string;
  /** Sentences that are added to it where they hold. */
  readonly moreWhy?: readonly (string | BoundLine)[];
  /** What to look for, a sentence each. */
  readonly lookFor?: readonly (string | BoundLine)[];
  /** What comes before it. */
  readonly dependsOn?: readonly After[];
  /** It has no date until this has been recorded. */
  readonly afterSign?: AfterSign;
  /** It falls away once this has been recorded. */
  readonly untilSign?: SignAt;
  /** It is done only under this condition. */
  readonly onlyIf?: OnlyIf;
  /** Days before the method's first step in season; for steps that prepare it. */
  readonly leadD?: number;
  /** What it asks of the day. */
  readonly day?: DayRule;
  /** The part of the day. */
  readonly time?: TimeOfDay;
  /** Whether it closes or opens an entrance. */
  readonly entrance?: EntranceWork;
  /** How it is bound to the season. */
  readonly season?: SeasonUse;
  /** If its time passes. */
  readonly ifMissed?: IfMissed;
  /** True for a step that asks whether there is a laying queen: it falls away when one is seen. */
  readonly asksForQueen?: boolean;
  /** True for the step at which the colony stands on its own: new workers. One step of a method. */
  readonly rebuilt?: boolean;
  /** Where it is done several times. */
  readonly repeat?: Repeat;
  /** It is a step of the method only under this condition. */
  readonly when?: When;
  /**
   * Codes of the standing cautions that it calls for: `dark`, `lifting`, `closed_hive`,
   * `bites_allergy`, `law`. Those of heat, cold and rain come with the day.
   */
  readonly cautions?: readonly string[];
  /** Publication, or `common practice, no source`. */
  readonly source: string;
}

/** How a new colony is made. */
export interface Method {
  /** Short name, in snake case. */
  readonly name: string;
  /** Name for people. */
  readonly label: string;
  /** What is done, in a few sentences. */
  readonly about: string;
  /** Where the method comes from. */
  readonly source: string;
  /** Which box will have to raise a queen. */
  readonly newQueen: NewQueen;
  /** What the colony must be before. */
  readonly readiness: Readiness;
  /** The things on which practice differs. */
  readonly settings?: readonly Setting[];
  /** The steps, as they were written. */
  readonly steps: readonly Step[];
}

/** How a hive is moved. */
export type Way =
  /** Half a metre or a metre at a time, at dawn, each time followed by flying days. */
  | "staged"
  /** To a place beyond the bees' range, and after a stay from there to the new one. */
  | "far_and_return"
  /** In one go. */
  | "at_once";

/** How long a colony stays far away before it comes back. */
export type FarStay =
  /** About 60 days (Nogueira-Neto 1997). */
  | "sixty_days"
  /** About 21 days (common practice, no source). */
  | "three_weeks";

/** A user's own numbers; what is not given stays at its default. */
export interface RelocationOverrides {
  /** How long a hive stays at a far place. */
  readonly farStay?: FarStay;
  /** How many stages, in the place of their length. */
  readonly stages?: number;
  /** From one stage to the next, in the place of `flyingDaysBetween`. */
  readonly between?: Wait;
  /** Length of a stage, m. */
  readonly stageM?: number;
  /**
   * Flying days from one stage to the next, the day of the stage among them: a hive is moved at dawn,
   * before that day's flight.
   */
  readonly flyingDaysBetween?: number;
  /** Distance from which staged moves are slow, m. */
  readonly slowFromM?: number;
  /** Longest distance for which staged moves are proposed, m. */
  readonly stagedUpToM?: number;
  /** How far away a colony of small bees is taken, at least, m: for a stay, and in one go. */
  readonly farSmallM?: number;
  /** The same for medium and large bees, m. */
  readonly farLargeM?: number;
  /** So near to a limit of distances, as a part of it, the other way is shown too. */
  readonly nearLimitShare?: number;
}

/** A hive that is moved. */
export interface HiveMove {
  /** From here to there, m: 0.05 to 1,000,000. */
  readonly distanceM: number;
  /** The way to take; the engine chooses when not given. */
  readonly way?: Way;
  /** By how much the entrance is to be turned in all, degrees: −360 to 360, clockwise positive. */
  readonly totalTurnDeg?: number;
  /** A user's own numbers. */
  readonly settings?: RelocationOverrides;
}

/**
 * A keeper's own numbers and waiting times; what is not given stays as it is in the preset. With a
 * number of stages and no distance the box comes as far as so many stages make.
 */
export interface PartingOverrides {
  /** See `Parting.beforeEntrance`. */
  readonly beforeEntrance?: Wait;
  /** See `Parting.betweenStages`. */
  readonly betweenStages?: Wait;
  /** See `Parting.sideBySide`. */
  readonly sideBySide?: Wait;
  /** How many stages. */
  readonly stages?: number;
  /** By how much the entrance is turned in all, degrees: −360 to 360, clockwise positive. */
  readonly totalTurnDeg?: number;
  /** How far from the parent the new box comes to stand, m. */
  readonly apartM?: number;
  /** Length of a stage, m. */
  readonly stageM?: number;
}

/** A hive, from here to there. */
export interface MovedMove extends HiveMove {
  readonly kind: "move";
}

/** A new box, from its parent's entrance to a place beside it. */
export interface MovedParting extends PartingOverrides {
  readonly kind: "parting";
}

/** What is moved, in the place of a method: no colony is made, and no season is asked for. */
export type Moved =
  | MovedMove
  | MovedParting;

/**
 * The colony that is to be divided, as its keeper knows it. Nothing here is guessed: what is not
 * declared becomes a task to find out.
 */
export interface Colony {
  /** Its name. */
  readonly name: string;
  /** The name the new colony will have. */
  readonly daughterName?: string;
  /** Weight without the box, kg. */
  readonly netWeightKg?: number;
  /** Months since it was last divided, or made. */
  readonly monthsSinceDivision?: number;
  /** How strong its keeper judges it to be. */
  readonly strength?: Strength;
}

/**
 * A keeper's own stages, in the place of those of a method; what is not given stays as it is. With a
 * number alone, or with number and length, they reach as far as that makes; with a length alone as far
 * as those of the method.
 */
export interface StageOverrides {
  /** How many: 1 to 200. */
  readonly number?: number;
  /** Length of a stage, m: 0.1 to 1. */
  readonly stageM?: number;
  /** From one stage to the next. */
  readonly between?: Wait;
  /** By how much the entrance is turned in all, degrees: −360 to 360, clockwise positive. */
  readonly totalTurnDeg?: number;
}

/** A keeper's own choices and numbers; what is not given stays at its default. */
export interface PlanOverrides {
  /** The options of the method's settings, by the names of the settings. */
  readonly choices?: { readonly [name: string]: string };
  /** The keeper's own stages, for methods that move a box in stages. */
  readonly stages?: StageOverrides;
  /** Air colder than this is too cold to open a hive, °C. */
  readonly openingMinC?: number;
  /** Air warmer than this is too hot to open a hive, °C. */
  readonly openingMaxC?: number;
  /** Shortest time within these bounds, while bees fly, that makes a day one for opening, h. */
  readonly openingH?: number;
  /**
   * Time with flight that is left between an opening and last flight, h: bees that flew up find home,
   * and gaps are sealed before the night.
   */
  readonly flightLeftH?: number;
  /**
   * Time after sunrise before which no hive is opened, h: by then guards are up, most foragers are
   * out, and there is light to see a queen by.
   */
  readonly openingAfterSunriseH?: number;
  /** Days after an opening in which there must be no heat, d. */
  readonly heatAheadD?: number;
  /** Rain of a day from which hives are not opened, mm. */
  readonly openingRainMm?: number;
  /**
   * No hive is opened on the day of a move, nor so many days before or after it, d: its bees learn a
   * place.
   */
  readonly openingFromMoveD?: number;
  /**
   * No hive is opened in the first days after a division, d: gaps are sealed and brood is warmed anew.
   */
  readonly openingAfterDivisionD?: number;
  /**
   * Days that a next division is kept before the last safe date, where the wait since the last one
   * leaves that choice, d.
   */
  readonly inHandD?: number;
  /** Days around the wanted date that are ranked, d. */
  readonly rankedD?: number;
  /** Days after which a colony that was not ready is looked at again, d. */
  readonly lookAgainD?: number;
  /**
   * Days after a division from which eggs are those of the queen of that box: until then they may be
   * older than the division, d.
   */
  readonly eggsCountFromD?: number;
  /**
   * Days after a division from which signs at the entrance count: until then they are the work of bees
   * that came along, d.
   */
  readonly signsCountFromD?: number;
}

/** Which temperature of a day a rule looks at. */
export type Quantity =
  /** Half the sum of minimum and maximum. */
  | "mean"
  /** The night's minimum. */
  | "minimum"
  /** The day's maximum. */
  | "maximum";

/** An end of the rains: of the longest run of wet months. */
export type RainsEdge =
  /** The first wet month. */
  | "start"
  /** The first month after the wet ones. */
  | "end";

/** Months that are left out, counted from the start or the end of the rains. */
export interface BarRains {
  /** From where. */
  readonly countedFrom: RainsEdge;
  /** How many months later (or, below 0, sooner) the first that is left out comes: -11 to 11. */
  readonly shiftMonths?: number;
  /** How many months are left out: 1 to 11. */
  readonly months: number;
}

/** The quantity, averaged over a number of days around the date, lies within bounds. */
export interface RuleTestTemperature {
  readonly kind: "temperature";
  /** Which temperature. */
  readonly quantity: Quantity;
  /** Lower bound, °C. */
  readonly atLeastC?: number;
  /** Upper bound, °C. */
  readonly atMostC?: number;
  /** Days that are averaged, the date in their middle: 1 to 120. */
  readonly overDays: number;
}

/** The weeks that begin with the date are warm enough: every stretch of some weeks on end. */
export interface RuleTestWarmWeeksAhead {
  readonly kind: "warm_weeks_ahead";
  /** Which temperature, averaged over each stretch. */
  readonly quantity: Quantity;
  /** Lower bound, °C. */
  readonly atLeastC: number;
  /** How many weeks: 1 to 40. */
  readonly weeks: number;
  /**
   * How many of them are averaged, 4 when not given: a month or so, as the limits of climates are
   * meant. Not more than `weeks` count.
   */
  readonly averagedWeeks?: number;
}

/** The date does not fall in one of the wettest months of the year. */
export interface RuleTestOutsideWettestMonths {
  readonly kind: "outside_wettest_months";
  /** How many months are barred: 1 to 11. */
  readonly months: number;
}

/** The date's month brings no more rain than this. */
export interface RuleTestMonthlyRain {
  readonly kind: "monthly_rain";
  /** Upper bound, mm in the month. */
  readonly atMostMm: number;
}

/**
 * The date's month has no more wet days than this. From how much rain a day is wet depends on where
 * the climate comes from: `WetDays`.
 */
export interface RuleTestMonthlyWetDays {
  readonly kind: "monthly_wet_days";
  /** Upper bound, days in the month. */
  readonly atMostDays: number;
}

/** The date's month is none of those that are left out, counted from the rains. */
export interface RuleTestRains {
  readonly kind: "rains";
  /** Those that are. */
  readonly bar: BarRains;
}

/** What a rule asks of a date. */
export type RuleTest =
  | RuleTestTemperature
  | RuleTestWarmWeeksAhead
  | RuleTestOutsideWettestMonths
  | RuleTestMonthlyRain
  | RuleTestMonthlyWetDays
  | RuleTestRains;

/** A condition that must hold for a date to lie in a working window. */
export interface Rule {
  /** Short name, used where an answer says which rule opens or closes a window. */
  readonly name: string;
  /** What it asks. */
  readonly test: RuleTest;
  /**
   * What it asks of a date that is not good but *at risk*: the same as `test` when not given, so that
   * the two differ in their chance only.
   */
  readonly atRisk?: RuleTest;
  /** Publication, or `common practice, no source`. */
  readonly source: string;
}

/** How the season is to be judged; what is not given stays at its default. */
export interface SeasonSettings {
  /** Rules in place of the default ones of the bee. */
  readonly rules?: readonly Rule[];
  /** Bars this many of the wettest months, in addition to the rules: 1 to 11. */
  readonly barWettestMonths?: number;
  /** Bars months with more wet days than this, in addition to the rules: 0 to 31. */
  readonly mostWetDays?: number;
  /** Bars months counted from the start or the end of the rains, in addition to the rules. */
  readonly barRains?: BarRains;
  /** Share of years asked of a good date; 0.7 when not given. */
  readonly chance?: number;
  /**
   * Share of years asked of a date at risk, at most `chance`; 0.5, or `chance` where that is less,
   * when not given.
   */
  readonly atRiskChance?: number;
}

/** A user's own numbers for a move; what is not given stays at its default. */
export interface MorningOverrides {
  /**
   * `false` for a hive that stood open over night: the move must then be over before early first
   * flight, since bees that are out come back to the old place.
   */
  readonly closedEveningBefore?: boolean;
  /** Minutes before first flight by which the hive must stand in its new place. */
  readonly marginMin?: number;
  /** Minutes after last flight before the entrance is closed, for the late comers. */
  readonly settleMin?: number;
  /**
   * Minutes before sunset before which no entrance is closed, however early the bees are in: a colony
   * that is shut through a mild afternoon gets warm, and late comers stay out.
   */
  readonly closeBeforeSunsetMin?: number;
  /** The shortest window in which a move can be done, minutes. */
  readonly shortestWindowMin?: number;
  /** Air colder than this chills brood when a hive is carried, °C. */
  readonly coldestWorkC?: number;
  /** Air warmer than this makes a closed hive hot, °C. */
  readonly warmestWorkC?: number;
}

/** A day of the week. */
export type Weekday =
  | "monday"
  | "tuesday"
  | "wednesday"
  | "thursday"
  | "friday"
  | "saturday"
  | "sunday";

/** What came of a task, or of a visit. */
export type Outcome =
  /** Done. A record that names a task and no outcome says the same. */
  | "done"
  /** It could not be done; it is still due. */
  | "not_possible"
  /** The laying queen was seen. */
  | "queen_seen"
  /** New cells with eggs were seen. */
  | "eggs_seen"
  /** Eggs were looked for, and there were none. */
  | "no_eggs"
  /** There were new cells, but no eggs in them. */
  | "cells_without_eggs"
  /** Ripe brood was given to the box. */
  | "gave_brood"
  /** Queen cells in a cocoon were given to it. */
  | "gave_cells"
  /** The laying queen of the other box was given to it. */
  | "gave_queen"
  /** The two boxes were put together again. */
  | "joined"
  /** The box was empty, or only dead bees were in it. */
  | "box_empty";

/** A sign, and at which box. */
export interface Sign {
  /** What was seen. */
  readonly kind: SignKind;
  /** At which box, where it is known. */
  readonly which?: Which;
  /** How many, where they were counted: males turned out, pairs that fight, phorid flies. */
  readonly count?: number;
}

/** Bees that came home through an entrance in five minutes on a good flying day. */
export interface Traffic {
  /** All of them. */
  readonly home: number;
  /** Those with pollen, where they were counted. */
  readonly pollen?: number;
  /** Those with resin, where they were counted. */
  readonly resin?: number;
}

/** A count at a box, and at an undivided neighbour at the same hour. */
export interface EntranceCount {
  /** The box. */
  readonly which: Which;
  /** What was counted at it. */
  readonly counted: Traffic;
  /** What was counted at an undivided colony nearby at the same hour. */
  readonly neighbour?: Traffic;
}

/** What a date is for dividing colonies. The numbers are the bytes of `SeasonColumns.date_state`. */
export type DateState =
  /** The careful rules hold. */
  | "good"
  /**
   * Done by keepers, but by the numbers too cold, too hot or too late in many years: the easier rules
   * hold, and a good date is near.
   */
  | "at_risk"
  /** Neither. */
  | "closed";

/**
 * What a plan knew of the season on its day. Kept with the record of a division it says for good how
 * the day was judged then, whatever a later forecast makes of it.
 */
export interface Known {
  /** What the day was for beginning. */
  readonly season: DateState;
  /** The last careful day of that season, as far as it was known. */
  readonly lastGood?: CivilDate;
}

/** What was done and seen on a day. */
export interface Record {
  /** The day. */
  readonly date: CivilDate;
  /**
   * A name of its own, by which a later record can speak of it. Without one it is named by date and
   * task (`KeptRecord.name`).
   */
  readonly id?: string;
  /** The task that was done, by its `id`. */
  readonly task?: string;
  /** What came of it; with a task and none of these it was done. */
  readonly outcome?: Outcome;
  /** The box that the outcome is about, where it is not that of the task. */
  readonly which?: Which;
  /** What was seen. */
  readonly signs?: readonly Sign[];
  /** Bees counted at entrances. */
  readonly counts?: readonly EntranceCount[];
  /** Net weight of the parent before the division, kg. */
  readonly netWeightKg?: number;
  /** Anything else. */
  readonly note?: string;
  /** What was known of the season when it was done: the `known` of the plan of that day. */
  readonly known?: Known;
  /** The name of an earlier record whose place it takes. */
  readonly corrects?: string;
  /**
   * The name of an earlier record that is no longer to count. Beside it only `date`, `id` and `note`
   * are given.
   */
  readonly strikesOut?: string;
}

/** A task that the keeper has put on a date. */
export interface FixedDate {
  /** The `id` of the task. */
  readonly task: string;
  /** The date. */
  readonly date: CivilDate;
}

/** What a plan is made from. */
export interface PlanRequest {
  /** Where the hives stand. */
  readonly site: Site;
  /** The day on which the plan is made. */
  readonly today: CivilDate;
  /** A built-in bee by name, or a user's own. */
  readonly bee?: BeeName | (string & {}) | BeeOverrides;
  /** Normals, records, forecast; without any the default for the location. */
  readonly climate?: ClimateInput;
  /** A built-in method by name, or one of the keeper's own. */
  readonly method: MethodName | Method | Moved;
  /** The colony. */
  readonly colony: Colony;
  /** The date near which the keeper would like to begin; of a move the first morning that will do. */
  readonly wanted?: CivilDate;
  /** Weight of the hive with its box, kg, for what is said of lifting. */
  readonly hiveWeightKg?: number;
  /** Choices where practice differs, and the keeper's own numbers. */
  readonly settings?: PlanOverrides;
  /** How the season is to be judged. */
  readonly season?: SeasonSettings;
  /** A user's own numbers for moves at dawn and closing in the evening. */
  readonly mornings?: MorningOverrides;
  /** Days on which the keeper can work; every day when empty. */
  readonly freeWeekdays?: readonly Weekday[];
  /** Name of the keeper, for the title. */
  readonly keeper?: string;
  /** Name of the club, for the title. */
  readonly club?: string;
  /**
   * The id that the plan shall have. Give back the id of a plan when it is planned anew, so that
   * calendars know it again.
   */
  readonly id?: string;
  /** What was done and seen so far. */
  readonly records?: readonly Record[];
  /** Tasks that the keeper has put on a date. */
  readonly fixed?: readonly FixedDate[];
  /**
   * The dates that were announced before. They stay unless weather, records or a rule forbid them, and
   * what moves says why.
   */
  readonly announced?: readonly FixedDate[];
}

/**
 * A keeper's own limits; what is not given stays at its default. Parts of whole numbers are dropped.
 */
export interface KeeperLimitOverrides {
  /**
   * Days on which the keeper can work, for the plans that name none of their own; every day when
   * empty.
   */
  readonly freeWeekdays?: readonly Weekday[];
  /** Hives that one person opens on a day, divisions among them. */
  readonly openingsPerDay?: number;
  /** Hives that one person moves at a dawn. */
  readonly movesPerDawn?: number;
  /** People who work at the hives. */
  readonly people?: number;
  /**
   * Days from one division to the next, d: a spell of bad weather then does not meet all new colonies
   * alike, and their looks do not fall on one day.
   */
  readonly betweenStartsD?: number;
}

/** What an agenda is made from. */
export interface AgendaRequest {
  /** The plans as they are asked for, with their records; each has its own `today`. */
  readonly plans: readonly PlanRequest[];
  /** Leave out the plans and reviews that the agenda rests on, which are most of a long answer. */
  readonly brief?: boolean;
  /**
   * What the keeper can do: the plans are then scheduled together, as in `plans_together`. Without it
   * each is by itself.
   */
  readonly limits?: KeeperLimitOverrides;
}

/** How a colony or all of them stand, in one word. */
export type StateWord =
  /** The colony is not ready to be divided. */
  | "not_ready"
  /** There is no date on which it could be divided, or the one that was wished for is out of season. */
  | "closed"
  /** It can be divided in the coming good season, and better not today. */
  | "not_yet"
  /** The date that was wished for is so late that the new colony is in time in none of ten years. */
  | "too_late"
  /** It can be divided, at a time that is too late, too cold or too hot in many years. */
  | "at_risk"
  /** It can be divided, today or on the date that was wished for. */
  | "good"
  /** Nothing is to be done today. */
  | "rest"
  /** Something is to be done today. */
  | "work"
  /** Divided: a laying queen or her eggs were seen. */
  | "laying_queen_seen"
  /** Divided: several signs speak for it and none against. */
  | "likely_established"
  /** Divided: the signs do not tell. */
  | "uncertain"
  /** Divided: strong signs against it. */
  | "failing"
  /** The box is empty. */
  | "lost"
  /** The two boxes were put together again. */
  | "joined";

/** A reason within another, whose text it is part of. */
export interface ReasonWithin {
  /** The name of its sentence in the catalogue, or the name that a user gave it. */
  readonly code: ReasonCode | (string & {});
  /** The sentence, where the catalogue has none. */
  readonly text?: string;
  /** What the sentence is made with. */
  readonly values?: { readonly [name: string]: ReasonValue };
}

/** How many: of days, boxes, months. */
export interface ReasonValueCount {
  readonly kind: "count";
  /** Whole or not. */
  readonly value: number;
}

/** A number of days. */
export interface ReasonValueDays {
  readonly kind: "days";
  /** Whole or not. */
  readonly value: number;
}

/** A number of flying days. */
export interface ReasonValueFlyingDays {
  readonly kind: "flying_days";
  /** Whole or not. */
  readonly value: number;
}

/** A sum of warmth, degree-days. */
export interface ReasonValueDegreeDays {
  readonly kind: "degree_days";
  /** °C d. */
  readonly value: number;
}

/** A temperature, °C. */
export interface ReasonValueTemperature {
  readonly kind: "temperature";
  /** °C. */
  readonly value: number;
}

/** A difference of temperatures, °C. */
export interface ReasonValueDifference {
  readonly kind: "difference";
  /** °C. */
  readonly value: number;
}

/** A length or a height, m. */
export interface ReasonValueLength {
  readonly kind: "length";
  /** m. */
  readonly value: number;
}

/** Rain, mm. */
export interface ReasonValueRain {
  readonly kind: "rain";
  /** mm. */
  readonly value: number;
}

/** A speed of the wind, m/s. */
export interface ReasonValueSpeed {
  readonly kind: "speed";
  /** m/s. */
  readonly value: number;
}

/** A time, h. */
export interface ReasonValueHours {
  readonly kind: "hours";
  /** h. */
  readonly value: number;
}

/** A time, min. */
export interface ReasonValueMinutes {
  readonly kind: "minutes";
  /** min. */
  readonly value: number;
}

/** A weight, kg. */
export interface ReasonValueWeight {
  readonly kind: "weight";
  /** kg. */
  readonly value: number;
}

/** An angle, °. */
export interface ReasonValueAngle {
  readonly kind: "angle";
  /** °. */
  readonly value: number;
}

/** A part of a whole; it is written as a percentage. */
export interface ReasonValueShare {
  readonly kind: "share";
  /** 0 to 1. */
  readonly value: number;
}

/** A civil day. */
export interface ReasonValueDate {
  readonly kind: "date";
  /** The day. */
  readonly value: CivilDate;
}

/** A moment. */
export interface ReasonValueMoment {
  readonly kind: "moment";
  /** With the offset that the clocks of the site show. */
  readonly value: InstantInput;
}

/** A word of the catalogue. */
export interface ReasonValueWord {
  readonly kind: "word";
  /** Its name there, such as `weekday.monday`. */
  readonly value: string;
}

/**
 * A rule of the season. Those that are built in have a word in the catalogue, `rule.` and the name;
 * others are written as they are.
 */
export interface ReasonValueRule {
  readonly kind: "rule";
  /** The rule's name. */
  readonly value: string;
}

/** A name or a text as the user, a file or a source gives it. */
export interface ReasonValueName {
  readonly kind: "name";
  /** The text. */
  readonly value: string;
}

/** The title of a task; it is written in quotation marks. */
export interface ReasonValueTitle {
  readonly kind: "title";
  /** The text. */
  readonly value: string;
}

/** Another sentence. */
export interface ReasonValueReason {
  readonly kind: "reason";
  /** Without its `text`, which is part of this one. */
  readonly value: ReasonWithin;
}

/** Other sentences, to be written with commas between them. */
export interface ReasonValueList {
  readonly kind: "list";
  /** Each without its `text`. */
  readonly value: readonly ReasonWithin[];
}

/** A value of a sentence. In JSON: `kind` and `value`. */
export type ReasonValue =
  | ReasonValueCount
  | ReasonValueDays
  | ReasonValueFlyingDays
  | ReasonValueDegreeDays
  | ReasonValueTemperature
  | ReasonValueDifference
  | ReasonValueLength
  | ReasonValueRain
  | ReasonValueSpeed
  | ReasonValueHours
  | ReasonValueMinutes
  | ReasonValueWeight
  | ReasonValueAngle
  | ReasonValueShare
  | ReasonValueDate
  | ReasonValueMoment
  | ReasonValueWord
  | ReasonValueRule
  | ReasonValueName
  | ReasonValueTitle
  | ReasonValueReason
  | ReasonValueList;

/** One reason, caution or piece of advice. */
export interface Reason {
  /**
   * Stable, in snake case: the name of its sentence in the catalogue, or for a sentence of a user's
   * own the name it was given.
   */
  readonly code: ReasonCode | (string & {});
  /** The sentence in English. */
  readonly text: string;
  /** What the sentence is made with. */
  readonly values?: { readonly [name: string]: ReasonValue };
}

/** A word and a sentence. */
export interface State {
  /** In one word. */
  readonly word: StateWord;
  /** In one sentence. */
  readonly sentence: Reason;
}

/** Which of two boxes has the old queen, and which is to be watched. */
export interface PairStanding {
  /** The box that has the old queen; absent where nothing tells. */
  readonly oldQueen?: Which;
  /** Whether she or her eggs were seen there. False where it is only likely. */
  readonly sure: boolean;
  /**
   * The box that has to show a queen: both where nothing tells which, absent where nothing is to be
   * watched.
   */
  readonly watch?: Which;
  /** Why that one. */
  readonly reason: Reason;
}

/**
 * How many kinds of signs speak for a laying queen, against one, and say little, at the boxes that
 * have to show one. They are shown beside each other, not weighed up.
 */
export interface SignTally {
  /** Those that speak for her. */
  readonly speakFor: number;
  /** Those that speak against her. */
  readonly speakAgainst: number;
  /** Those that are too early, or tell nothing of one box. */
  readonly sayLittle: number;
}

/** The one thing that would settle the question. */
export interface Settle {
  /** What to look for, and where. */
  readonly lookFor: string;
  /** The box. */
  readonly which: Which;
  /** From when on it can be told. */
  readonly from: CivilDate;
  /** By when it should be. */
  readonly by: CivilDate;
  /** From when on a look without eggs counts; before it only a look with eggs tells something. */
  readonly noCountsFrom?: CivilDate;
}

/** What a keeper can do. */
export type Advice =
  /** Shade, air, a cool place. */
  | "protect_from_heat"
  /** Clear out pests and close gaps. */
  | "fight_pests"
  /** Protect the box from other colonies. */
  | "stop_fights"
  /** Clean out and store the box; nobody is to rob it. */
  | "close_empty_box"
  /** Give ripe brood. */
  | "give_brood"
  /** Give queen cells in a cocoon. */
  | "give_cells"
  /** Give the laying queen of the other box. */
  | "give_queen"
  /** Put the two together again. */
  | "recombine"
  /** Open and look. */
  | "inspect"
  /** Say in which box a sign was seen. */
  | "say_which_box"
  /** Leave the lids closed; entrances stay open. */
  | "leave_alone";

/** A piece of advice and its reason. */
export interface Recommendation {
  /** What to do. */
  readonly advice: Advice;
  /** The box; the pair where it concerns both. */
  readonly which: Which;
  /** In words. */
  readonly text: string;
  /** Why. */
  readonly reason: Reason;
  /** The last day on which it still helps, where that is known. */
  readonly until?: CivilDate;
  /** Publication, or `common practice, no source`. */
  readonly source: string;
}

/** What a wished date is. */
export type WishState =
  /**
   * Not later than the last careful date of its season. Where the new colony is nevertheless in time
   * in fewer than half of the years, the reasons say so.
   */
  | "good"
  /**
   * The season is open by the careful or the easier rules, but it is after the last careful date or
   * outside the careful rules: it is planned on all the same.
   */
  | "at_risk"
  /**
   * The same, and the new colony is in time in none of ten years: another season is planned for,
   * unless the work was put or announced on that date.
   */
  | "too_late"
  /** The season is closed: another season is planned for. */
  | "closed";

/**
 * The chance that a colony that is made on a date has workers of its own before the good season ends.
 * Rough: a handful of published times, the range of the bee's brood time, and by how much the end of
 * the warm time differs from year to year.
 */
export interface Odds {
  /** Share of years in which it has, 0 to 1. See `Odds.is_too_late` and `Odds.is_doubtful`. */
  readonly inTime: number;
  /** Share of years in which the careful rules hold on the date itself. */
  readonly goodAtStart: number;
  /**
   * When the new queen's first workers are likely: the middle of the published times and brood times.
   */
  readonly likely: CivilDate;
  /** The same by the longest of both. */
  readonly slow: CivilDate;
  /**
   * The last date on which it is still warm enough in half of the years; none where that lies more
   * than a year ahead.
   */
  readonly warmUntil?: CivilDate;
  /** How many published times to a queen it rests on. */
  readonly publishedTimes: number;
  /** How many recorded years; none where the spread of days about the mean stands for them. */
  readonly years?: number;
  /** The same in a sentence. */
  readonly said: Reason;
}

/** The season does not end: every date is good. */
export interface StartOddsNoEnd {
  readonly kind: "no_end";
}

/** The date is closed, or lies outside the span that was prepared. */
export interface StartOddsClosed {
  readonly kind: "closed";
}

/** A date that is good or at risk. */
export interface StartOddsKnown {
  readonly kind: "known";
  /** The chances. */
  readonly odds: Odds;
}

/** What can be said of a colony that is made on a date. */
export type StartOdds =
  | StartOddsNoEnd
  | StartOddsClosed
  | StartOddsKnown;

/** What is said of the date on which the keeper would like to begin. */
export interface Wish {
  /** That date. */
  readonly date: CivilDate;
  /** What it is. */
  readonly state: WishState;
  /** What is wrong with it, and by how much; empty where it is good without a doubt. */
  readonly reasons: readonly Reason[];
  /**
   * The nearest good date before it; absent where there is none from today on, and where it is good
   * itself.
   */
  readonly before?: CivilDate;
  /** The nearest good date after it. */
  readonly after?: CivilDate;
  /** How likely the new colony has workers of its own before the good season ends; rough. */
  readonly odds?: StartOdds;
  /** What can be done instead; empty where it is good. */
  readonly otherWays?: readonly Reason[];
}

/** How one colony and the one made from it stand. */
export interface ColonyState {
  /** The `id` of its plan. */
  readonly plan: string;
  /** Its names. */
  readonly name: string;
  /** The day for which this holds. */
  readonly today: CivilDate;
  /** How it stands. */
  readonly state: State;
  /** Which of the two boxes has the old queen, and which is to be watched. */
  readonly pair?: PairStanding;
  /** The box to be watched by its name; absent where both are, or none. */
  readonly watch?: string;
  /** What was seen at the boxes that have to show a queen; absent where nothing was. */
  readonly signs?: SignTally;
  /** The one thing that would settle it. */
  readonly settle?: Settle;
  /** What to do because of what was seen, the most urgent first. */
  readonly advice: readonly Recommendation[];
  /** What is said of the date on which its keeper would like to begin, before it has begun. */
  readonly wish?: Wish;
  /**
   * The last date of this season on which the division still leaves enough warm time, where it is
   * still ahead.
   */
  readonly lastSafe?: CivilDate;
}

/** A stretch of a day for a task. */
export interface TimeWindow {
  /** Its beginning, on the task's best date. */
  readonly from: Instant;
  /**
   * What the clocks of the site show at `from`, in whole minutes on the safe side: `05:52`. Passed
   * over where it is read.
   */
  readonly fromClock: string;
  /** Its end, on the same civil day. */
  readonly until: Instant;
  /**
   * What the clocks of the site show at `until`, in whole minutes on the safe side: `05:52`. Passed
   * over where it is read.
   */
  readonly untilClock: string;
}

/** A task that has no item of its own, since it follows another of the same stage. */
export interface Following {
  /** The `id` of the task. */
  readonly task: string;
  /** A few words for people. */
  readonly short: string;
  /** The day. */
  readonly date: CivilDate;
  /** The stretch of the day; absent for the whole day. */
  readonly window?: TimeWindow;
}

/** One of the things that a keeper can say of an item. */
export interface ItemAnswer {
  /** In words. */
  readonly said: Reason;
  /** The tasks that are recorded as done with it. */
  readonly tasks: readonly string[];
}

/** One thing to do, with what a first look needs; the plan has the rest. */
export interface Item {
  /** The `id` of its plan. */
  readonly plan: string;
  /** The `id` of the task. */
  readonly task: string;
  /** What kind of work. */
  readonly kind: TaskKind;
  /** Which box. */
  readonly which: Which;
  /** The box by its name. */
  readonly boxName: string;
  /** A line for people. */
  readonly title: string;
  /** The same in a few words, for small screens. */
  readonly short: string;
  /** The day. */
  readonly date: CivilDate;
  /** The stretch of the day; absent for the whole day. */
  readonly window?: TimeWindow;
  /** One good hour of it. */
  readonly goodAt?: Instant;
  /**
   * What the clocks of the site show at `goodAt`, in whole minutes on the safe side: `05:52`. Passed
   * over where it is read.
   */
  readonly goodAtClock?: string;
  /** The condition under which alone it is to be done. */
  readonly onlyIf?: Reason;
  /** It can be done from this day. */
  readonly earliest: CivilDate;
  /** And until this one. */
  readonly latest: CivilDate;
  /**
   * What comes after it in the same stage of a move, in order: to close, to move, to open are one
   * item.
   */
  readonly then?: readonly Following[];
  /** What a keeper can say of it, and what is then recorded; empty where that is the task alone. */
  readonly answers?: readonly ItemAnswer[];
  /**
   * The box was closed for a move and nobody recorded that it is open again, whether it was moved or
   * not: before all else. Asked for until it is recorded, or a count of bees, a later closing or move
   * shows it; for a week.
   */
  readonly stillShut?: boolean;
}

/** A task that has no date yet: it waits until something is seen. */
export interface WaitingTask {
  /** As that of a `Task`; records name it. */
  readonly id: string;
  /** What kind of work. */
  readonly kind: TaskKind;
  /** Which box. */
  readonly which: Which;
  /** A short line for people. */
  readonly title: string;
  /** The same in a few words, for small screens and calendars. */
  readonly short?: string;
  /** What it waits for. */
  readonly until: Reason;
  /** The day before which it would be too early whatever is seen, where that is known. */
  readonly notBefore?: CivilDate;
  /** The last safe day of the season, for the step that must be safe. */
  readonly notAfter?: CivilDate;
  /** Why it is done. */
  readonly why: Reason;
  /** What to look for, a sentence each. */
  readonly lookFor: readonly string[];
  /** Where the rule comes from. */
  readonly source: string;
}

/** A task that has no date until something is seen. */
export interface Waiting {
  /** The `id` of its plan. */
  readonly plan: string;
  /** The box by its name. */
  readonly boxName: string;
  /** The task. */
  readonly task: WaitingTask;
}

/** Something that was due and of which nothing was recorded. */
export interface Question {
  /** The task, on the day on which it stands if it was not done. */
  readonly item: Item;
  /** The day by which it was due. */
  readonly wasDue: CivilDate;
  /** The question in words. */
  readonly sentence: Reason;
}

/** One caution. */
export interface Caution {
  /** Stable, in snake case. */
  readonly code: string;
  /** What to mind. */
  readonly text: string;
  /** The number or day that calls for it, in words; `null` where it always holds. */
  readonly because: string | null;
  /** The number or day that calls for it; absent where it always holds. */
  readonly becauseReason?: Reason;
  /** Publication, or `common practice, no source`. */
  readonly source: string;
}

/** Where a box stands. */
export type Standing =
  /** A laying queen or her eggs were seen. */
  | "laying_queen_seen"
  /** Several signs speak for it and none against. */
  | "likely_established"
  /** The signs do not tell. */
  | "uncertain"
  /** Strong signs against it. */
  | "failing"
  /** The box is empty. */
  | "lost"
  /** The two were put together again: there is one colony. */
  | "joined";

/** What a sign is worth. */
export type SignStrength =
  /** It settles the question by itself. */
  | "conclusive"
  /** It speaks for a colony that is on its way. */
  | "supportive"
  /** It says little. */
  | "weak"
  /** It says nothing about the queen. */
  | "neutral"
  /** It speaks against. */
  | "contrary";

/** Why a sign is worth less here than in general, or more. */
export type Because =
  /** It is too early for it to tell. */
  | "early"
  /** It may come of brood from before the division. */
  | "older_brood"
  /** Two boxes within 2 m share bees. */
  | "neighbours"
  /** It was not said at which box. */
  | "box_not_said"
  /** With or without a queen it is the same. */
  | "either_way"
  /** So late it tells more. */
  | "late";

/** A sign and what it tells here. */
export interface Seen {
  /** What was seen. */
  readonly kind: SignKind;
  /** When it was seen last. */
  readonly date: CivilDate;
  /** How many, where they were counted. */
  readonly count?: number;
  /**
   * What it is worth here, which may be less than in general: an early sign is the work of bees that
   * came along, and a sign without a box settles neither.
   */
  readonly strength: SignStrength;
  /** Why it is worth less or more than in general. */
  readonly because?: Because;
  /** What it tells. */
  readonly text: string;
  /** Publication, or `common practice, no source`. */
  readonly source: string;
}

/** A count at the entrance and what it tells. */
export interface Counted {
  /** When. */
  readonly date: CivilDate;
  /** What was counted. */
  readonly counted: Traffic;
  /** What was counted at an undivided neighbour. */
  readonly neighbour?: Traffic;
  /** What it is worth. */
  readonly strength: SignStrength;
  /** What it tells. */
  readonly reason: Reason;
  /** Publication, or `common practice, no source`. */
  readonly source: string;
}

/** A box, the signs for it and against it. */
export interface BoxStanding {
  /** Which box. */
  readonly which: Which;
  /** Where it stands. */
  readonly standing: Standing;
  /** What speaks for a laying queen. */
  readonly signsFor: readonly Seen[];
  /** What speaks against. */
  readonly signsAgainst: readonly Seen[];
  /** What tells nothing. */
  readonly signsNeutral: readonly Seen[];
  /** What was counted at its entrance, the newest last. */
  readonly counts?: readonly Counted[];
}

/** Ahead. */
export interface TaskStatePlanned {
  readonly kind: "planned";
}

/** Done on a date; that date no longer moves. */
export interface TaskStateDone {
  readonly kind: "done";
  /** When. */
  readonly on: CivilDate;
}

/** Left out, with the reason among the task's `why`. */
export interface TaskStateDropped {
  readonly kind: "dropped";
}

/** Whether a task is still ahead. */
export type TaskState =
  | TaskStatePlanned
  | TaskStateDone
  | TaskStateDropped;

/** A task whose date or state has changed since the last record. */
export interface Change {
  /** The `id` of the task. */
  readonly task: string;
  /** Its best date before; absent for a task that was not there. */
  readonly before?: CivilDate;
  /** Its best date now; absent for one that was dropped or is no longer there. */
  readonly after?: CivilDate;
  /** What became of it. */
  readonly state: TaskState | null;
  /** Days later; negative for earlier. 0 where only the state has changed, and for a dropped task. */
  readonly laterD: number;
  /** The reason for the date or state it has now. */
  readonly why: readonly Reason[];
}

/** It has a beginning and an end. */
export interface ShiftedWindowSpan {
  readonly kind: "span";
  /** First date. */
  readonly opens: CivilDate;
  /** Last date. */
  readonly closes: CivilDate;
}

/** It has no end within a year. */
export interface ShiftedWindowFrom {
  readonly kind: "from";
  /** First date. */
  readonly opens: CivilDate;
}

/** It has no beginning within a year. */
export interface ShiftedWindowUntil {
  readonly kind: "until";
  /** Last date. */
  readonly closes: CivilDate;
}

/** It has neither: the place is open all year. */
export interface ShiftedWindowAllYear {
  readonly kind: "all_year";
}

/** No date of it is left. */
export interface ShiftedWindowNone {
  readonly kind: "none";
  /** What stands in the way on the date that comes nearest to passing. */
  readonly reasons: readonly Reason[];
}

/**
 * What becomes of a window when the temperatures are others: the longest one that shares a date with
 * it.
 */
export type ShiftedWindow =
  | ShiftedWindowSpan
  | ShiftedWindowFrom
  | ShiftedWindowUntil
  | ShiftedWindowAllYear
  | ShiftedWindowNone;

/** A window if every temperature were higher or lower by the typical error of their source. */
export interface ErrorRange {
  /** The error that was added and taken away, °C. */
  readonly errorC: number;
  /** The window where it is warmer. */
  readonly warmer: ShiftedWindow;
  /** The window where it is cooler. */
  readonly cooler: ShiftedWindow;
}

/** A stretch of dates on which every rule holds, or that is good or at risk. */
export interface WorkingWindow {
  /** First date. */
  readonly opens: CivilDate;
  /** Last date. */
  readonly closes: CivilDate;
  /** Number of dates, both ends included. */
  readonly days: number;
  /**
   * What stood in the way on the day before `opens`; the value `rule` names the rule. Empty where the
   * window was open already at the edge of what the engine can look at.
   */
  readonly openedBy: readonly Reason[];
  /** What stands in the way on the day after `closes`. */
  readonly closedBy: readonly Reason[];
  /** How far the dates may be off because the temperatures are, where their error is known. */
  readonly errorRange?: ErrorRange;
}

/** A date on which the method could begin, with its place among the others. */
export interface BestDate {
  /** The date. */
  readonly date: CivilDate;
  /** 0 to 100, whole. */
  readonly points: number;
  /** True when the weather asked for is likely, and the keeper is free. */
  readonly good: boolean;
  /** What speaks for it and against it. */
  readonly reasons: readonly Reason[];
}

/** A date that depends on weather: a range, and what it rests on. */
export interface DateRange {
  /** Not before. */
  readonly earliest: CivilDate;
  /** The date to plan with. */
  readonly best: CivilDate;
  /** By then at the latest. */
  readonly latest: CivilDate;
}

/** How far a task can slip. */
export interface TaskSlack {
  /** Days after its best date. */
  readonly days: number;
  /** What would have to move after that; absent where its own range ends. */
  readonly until?: Reason;
}

/** What must have been done before, and how long before. */
export interface Dependency {
  /** The `id` of the other task. */
  readonly task: string;
  /** The waiting time after it; absent where any later time will do. */
  readonly wait?: Wait;
}

/** How many of the days that an answer rests on came from where. */
export interface RestsOn {
  /** Days that were recorded. */
  readonly recordedDays: number;
  /** Days of a forecast, or known by the hour. */
  readonly forecastDays: number;
  /** Days of normals or of the mean of records. */
  readonly normalDays: number;
  /** Days of the default for the location. */
  readonly defaultDays: number;
}

/** One thing to do. */
export interface Task {
  /** Stable within the plan, in kebab case: `divide`, `stage-3`, `egg-check`. */
  readonly id: string;
  /** What kind of work. */
  readonly kind: TaskKind;
  /** Which box. */
  readonly which: Which;
  /** A short line for people. */
  readonly title: string;
  /** The same in a few words, for small screens and calendars. */
  readonly short?: string;
  /** When. */
  readonly dates: DateRange;
  /** The stretch of the best date; absent for the whole day. */
  readonly window?: TimeWindow;
  /** One good hour within the window, for opening a hive. */
  readonly goodAt?: Instant;
  /**
   * What the clocks of the site show at `goodAt`, in whole minutes on the safe side: `05:52`. Passed
   * over where it is read.
   */
  readonly goodAtClock?: string;
  /**
   * How far it can slip before something else has to move, while it is ahead and no date is set for
   * it.
   */
  readonly slack?: TaskSlack;
  /** Why then. */
  readonly why: readonly Reason[];
  /** What to look for, a sentence each. */
  readonly lookFor: readonly string[];
  /** What to mind. */
  readonly cautions: readonly Caution[];
  /** Where the rule behind the date comes from. */
  readonly source: string;
  /** What comes before it. */
  readonly dependsOn: readonly Dependency[];
  /** Which weather the date rests on. */
  readonly restsOn: RestsOn;
  /** Ahead or done. */
  readonly state: TaskState;
  /**
   * The day by which it was due, where that has passed and nothing was recorded: it is still to be
   * done.
   */
  readonly wasDue?: CivilDate;
  /** The condition under which alone it is to be done, where there is one that is open. */
  readonly onlyIf?: Reason;
}

/** A setting on which practice differs, what was chosen, and what else is done. */
export interface Choice {
  /** Its name. */
  readonly name: string;
  /** What was chosen, in words. */
  readonly chosen: string;
  /** Where that comes from. */
  readonly source: string;
  /** The other ways, each with its source. */
  readonly others: readonly string[];
}

/** What the temperatures of a day rest on. */
export type TemperatureSource =
  /** The location alone: normals of the built-in grid, or latitude and elevation. */
  | "location_default"
  /** The means of the twelve months. */
  | "monthly_normals"
  /** This very day was measured. */
  | "recorded_day"
  /** The mean of this day of the year over the recorded years. */
  | "recorded_mean"
  /** A forecast. */
  | "forecast"
  /** Readings by the hour, measured or forecast. */
  | "hours";

/** What an answer rests on, in words and numbers that belong beside it. */
export interface Basis {
  /** The kind of source. */
  readonly source: TemperatureSource;
  /** Where the numbers come from. */
  readonly about: string;
  /** The same with its values, where it is not in words of the user's own. */
  readonly aboutReason?: Reason;
  /** The years or dates they cover. */
  readonly period?: string;
  /**
   * Root mean square error of the long-term means, °C, where it has been measured. The weather of a
   * single day scatters around the mean by more.
   */
  readonly typicalErrorC?: number;
  /** Error of the long-term means that one value in twenty exceeds, °C, where it has been measured. */
  readonly p95ErrorC?: number;
  /** What would make the answer better. */
  readonly advice?: string;
  /** The same with its values. */
  readonly adviceReason?: Reason;
}

/** A record as it was given, under the name by which others speak of it. */
export interface KeptRecord {
  /**
   * Its `id`; of one without, its date and its task, or `note` where it has no task, and a number from
   * the second of that name on: `2026-10-02-divide`, `2026-10-20-note-2`.
   */
  readonly name: string;
  /** The record. */
  readonly record: Record;
  /** The name of the one that corrects it or strikes it out; it counts no longer. */
  readonly voidBy?: string;
}

/** A dated plan for one new colony. */
export interface Plan {
  /** Stable: calendars build their identifiers from it. Small letters, digits and hyphens. */
  readonly id: string;
  /** Name for people: club, keeper, hive. */
  readonly title: string;
  /** Who keeps the colony, where that was said. */
  readonly keeper?: string;
  /** The club, where that was said. */
  readonly club?: string;
  /** Name of the old box, or of the colony in it. */
  readonly parentName?: string;
  /** Name of the new box, where it has one. */
  readonly daughterName?: string;
  /** Name of the method. */
  readonly method: string;
  /** Name of the bee. */
  readonly bee: string;
  /** Where. */
  readonly site: Site;
  /** The day the plan was made for. */
  readonly today: CivilDate;
  /** The working window that the plan uses; `null` where the place is open all year. */
  readonly window: WorkingWindow | null;
  /** First date on which the method can begin: season, readiness, today. */
  readonly firstSafe?: CivilDate;
  /** Last date on which the division still leaves enough warm time; `null` all year round. */
  readonly lastSafe: CivilDate | null;
  /** The best dates to begin on, the best first; empty once it has begun. */
  readonly bestDates: readonly BestDate[];
  /**
   * What is said of the date that was wished for, before the work has begun and where the season has
   * an end.
   */
  readonly wish?: Wish;
  /** How first and last safe date came about, and what else there is to know. */
  readonly notes: readonly Reason[];
  /** The tasks, by best date; of equal dates in the order of work. */
  readonly tasks: readonly Task[];
  /** The tasks without a date, in the order of work: each waits until something is seen. */
  readonly waiting?: readonly WaitingTask[];
  /** The choices that were made where practice differs. */
  readonly choices: readonly Choice[];
  /** What to mind throughout. */
  readonly cautions: readonly Caution[];
  /** What the temperatures rest on. */
  readonly basis: readonly Basis[];
  /**
   * Every record as it was given, with its name; those that no longer count say which one took their
   * place.
   */
  readonly records?: readonly KeptRecord[];
  /** What today is for beginning, before the work has begun: a record of today keeps it. */
  readonly known?: Known;
}

/** Where a plan and its colony stand. */
export interface Review {
  /** The day of the review. */
  readonly today: CivilDate;
  /**
   * Where the box that has to raise a queen stands. Where either box may be the one, the less certain
   * of the two counts. `null` before the division.
   */
  readonly standing: Standing | null;
  /** Each of the boxes; empty before the division. */
  readonly boxes: readonly BoxStanding[];
  /**
   * Which of the two has the old queen, and which is to be watched; absent before the division, once
   * joined, and where the whole colony moved.
   */
  readonly pair?: PairStanding;
  /** What would settle it; absent before the division and where it is settled. */
  readonly settle?: Settle;
  /** What changed with the newest records. */
  readonly changes: readonly Change[];
  /** What to do, the most urgent first. */
  readonly recommendations: readonly Recommendation[];
  /** The plan as it is now. */
  readonly plan: Plan;
}

/** What a keeper needs at a moment. */
export interface Agenda {
  /** How all of it stands. */
  readonly state: State;
  /** How each colony stands, in the order of the request. */
  readonly colonies: readonly ColonyState[];
  /** What is to be done today, in the order of the day. */
  readonly now: readonly Item[];
  /** What is to be done on the next day that has something. */
  readonly next: readonly Item[];
  /** The rest of the seven days after today. */
  readonly thisWeek: readonly Item[];
  /** What comes later. */
  readonly later: readonly Item[];
  /** What is to be done only if something turns out so; it is no task yet. */
  readonly onlyIf: readonly Item[];
  /** What waits until something is seen. */
  readonly waiting: readonly Waiting[];
  /** What was due and was not recorded. */
  readonly questions: readonly Question[];
  /** What to mind, each once. */
  readonly cautions: readonly Caution[];
  /** What all this rests on; empty where it was asked to be brief. */
  readonly reviews?: readonly Review[];
}

/**
 * The class of a bee's size. The classes go by Streinzer, Huber & Spaethe 2016 and Teixeira & Campos
 * 2005; where their edges lie is our reading.
 */
export type Size =
  /** Under 5 mm long, up to 1.3 mm between the tegulae: *Tetragonula*, *Plebeia*, *Tetragonisca*. */
  | "small"
  /** 1.4 to 2.2 mm between the tegulae: *Scaptotrigona*, *Heterotrigona*, *Trigona*, *Partamona*. */
  | "medium"
  /** *Melipona*. */
  | "large";

/** A parameter: value, unit, allowed range and source. */
export interface Sourced {
  /** The number. */
  readonly value: number;
  /** Its unit. */
  readonly unit: string;
  /** Lowest value that makes sense. */
  readonly lowest: number;
  /** Highest value that makes sense. */
  readonly highest: number;
  /** Publication, or `common practice, no source`. */
  readonly source: string;
}

/** The numbers of one kind of bee. */
export interface Bee {
  /** Short name, such as `generic_small` or `tetragonula_carbonaria`. */
  readonly name: string;
  /** Name for people. */
  readonly label: string;
  /** The class of its size. */
  readonly size: Size;
  /**
   * Whether its queens are raised in queen cells: not so in *Melipona*, whose virgin queens come from
   * cells like those of workers.
   */
  readonly buildsQueenCells: boolean;
  /** Where it lives; a class lives where stingless bees do. */
  readonly livesIn: readonly Region[];
  /** Light below which foragers stay in: W/m² or lx, as `unit` says. */
  readonly flightLight: Sourced;
  /** Earliest published: air temperature from which single bees may be out, °C. For moves. */
  readonly flightEarliestC: Sourced;
  /** Usual: air temperature from which flight is counted on, °C. For flying days. */
  readonly flightMinimumC: Sourced;
  /** Possible flight that makes a day a flying day, h. */
  readonly flyingDayH: Sourced;
  /** Rain of a day from which it no longer counts as a flying day, mm. */
  readonly rainLimitMm: Sourced;
  /** Wind above which boxes are not carried, m/s. It keeps no bee in during the dividing season. */
  readonly windLimitMS: Sourced;
  /** From egg to new worker, the shortest published, days. */
  readonly workerDevelopmentShortestD: Sourced;
  /** From egg to new worker, days; where several are published, the longest. */
  readonly workerDevelopmentD: Sourced;
  /** Air temperature of a day above which a hive needs full shade, °C. */
  readonly heatShadeC: Sourced;
  /** Air temperature of a day above which a hive should stand somewhere cool, °C. */
  readonly heatLimitC: Sourced;
  /** Distance from which half of the foragers that were let free did not come home, m. */
  readonly homingTypicalM?: Sourced;
  /** Distance from which nine in ten did not come home, m. */
  readonly homingLimitM?: Sourced;
  /** Farthest distance from which any came home, m: single bees may. */
  readonly homingFarthestM?: Sourced;
  /** From egg to young queen, days. */
  readonly queenDevelopmentD?: Sourced;
  /** How long a worker lives, days. */
  readonly workerLifeD?: Sourced;
  /** Nest temperature below which brood is harmed, °C. */
  readonly broodColdC?: Sourced;
  /** Nest temperature above which brood is harmed, °C. */
  readonly broodHeatC?: Sourced;
  /** Air temperature from which bees fan air through the entrance, °C. */
  readonly fanningC?: Sourced;
  /** Air temperature below which adults are harmed within days, °C. */
  readonly adultColdC?: Sourced;
  /** Air temperature above which adults are harmed, °C. */
  readonly adultHeatC?: Sourced;
  /** Minimum of the nights below which colonies are not divided, °C. */
  readonly divisionNightC?: Sourced;
  /** Net weight from which a colony is divided, kg. */
  readonly readyNetKg?: Sourced;
  /** From one division to the next, days. */
  readonly divisionIntervalD?: Sourced;
  /** What else has been published of it, each with its source. */
  readonly notes: readonly string[];
  /** Names of the numbers that were taken from a generic bee. */
  readonly fromGeneric: readonly string[];
  /** Names of the numbers that the user set. */
  readonly overridden: readonly string[];
}

/** What an iCalendar file needs besides the plans. */
export interface IcsSettings {
  /** When the file is made. */
  readonly stamp: InstantInput;
  /**
   * 0 for the first version of the plans, then one more for each changed version; up to 2147483647.
   * With `before` it is the least that a new or changed event gets.
   */
  readonly sequence?: number;
  /**
   * The text of the calendar that was made before this one. An event that is still the same keeps its
   * version and its stamp to the letter, a changed one gets the next version, and one that a plan no
   * longer has is cancelled.
   */
  readonly before?: string;
  /** Name of the calendar for people; the plan's title when not given and there is one plan. */
  readonly name?: string;
}

/** What one calendar is for. */
export type CalendarPer =
  /** A hive, with the colonies that were made from it. */
  | "hive"
  /** A keeper, with all hives. */
  | "keeper"
  /** A club, with all keepers. */
  | "club";

/** Plans as an iCalendar text. */
export interface CalendarRequest extends IcsSettings {
  /** The plans. */
  readonly plans: readonly Plan[];
  /** Also one calendar for each hive, keeper or club. */
  readonly per?: CalendarPer;
}

/** A calendar of some of the plans. */
export interface NamedCalendar {
  /**
   * The name in small letters, digits and hyphens, for a file; with a number where another calendar
   * has it.
   */
  readonly id: string;
  /** Its name: club, keeper and hive, as far as it goes and they are known. */
  readonly name: string;
  /** An iCalendar file (RFC 5545); its lines end with CRLF, which must stay. */
  readonly ics: string;
}

/** An iCalendar file (RFC 5545). */
export interface CalendarText {
  /** The file; its lines end with CRLF, which must stay. */
  readonly ics: string;
  /** A calendar for each hive, keeper or club, where that was asked for. */
  readonly calendars?: readonly NamedCalendar[];
}

/** A civil day by its date, or the one that an instant belongs to. */
export interface CivilDayRequest {
  /** Whose days. */
  readonly site: Site;
  /** The day; give this or `instant`. */
  readonly date?: CivilDate;
  /** A moment of the day. */
  readonly instant?: InstantInput;
}

/** A civil day of a zone. */
export interface CivilDay {
  /** The date. */
  readonly date: CivilDate;
  /** Its first moment. */
  readonly start: Instant;
  /** Hours until the next day starts: 24 but on days when clocks are changed. */
  readonly dayLengthH: number;
}

/** The weather that a question is about. */
export interface WeatherRequest {
  /** Where. */
  readonly site: Site;
  /** A built-in bee by name, or a user's own. */
  readonly bee?: BeeName | (string & {}) | BeeOverrides;
  /** Normals, records, forecast; without any the default for the location. */
  readonly climate?: ClimateInput;
}

/** When a waiting time runs out that starts on a date, or on a range of dates. */
export interface ClockRequest extends WeatherRequest {
  /** What is waited for. */
  readonly wait: Wait;
  /** The day from which it is counted, or a range of days. */
  readonly after: CivilDate | DateRange;
}

/** It does. */
export interface WaitOutcomeRunsOut {
  readonly kind: "runs_out";
  /** The dates on which the count is reached. */
  readonly dates: DateRange;
  /** Which weather the best date rests on. */
  readonly restsOn: RestsOn;
  /** What else was counted in, such as the chance of rain. */
  readonly reasons: readonly Reason[];
}

/** The weather of a year is not enough for one of the three dates. */
export interface WaitOutcomeNeverWithinAYear {
  readonly kind: "never_within_a_year";
  /** What the likely run has counted after 366 days. */
  readonly counted: number;
  /** Why. */
  readonly reason: Reason;
}

/** When a waiting time runs out. */
export type WaitOutcome =
  | WaitOutcomeRunsOut
  | WaitOutcomeNeverWithinAYear;

/** When it runs out, and what the temperatures rest on. */
export interface Clock {
  /** When it runs out. */
  readonly outcome: WaitOutcome;
  /** What the temperatures rest on. */
  readonly basis: readonly Basis[];
  /** What to look at again in the place. */
  readonly doubts?: readonly Reason[];
}

/** Asks for the default climate of a site. */
export interface DefaultClimateRequest {
  /** Where. */
  readonly site: Site;
  /** A warming of one's own, added to the normals of 1961–1990; today's climate when not given. */
  readonly warming?: Warming;
}

/** Mean number of wet days of the twelve months. */
export interface WetDays {
  /** January first. */
  readonly days: readonly number[];
  /**
   * Rain from which a day counts, mm: 0.1 in the built-in grid, 1 in records. absent where the normals
   * that were given do not say it.
   */
  readonly fromMm?: number;
}

/** Root mean square error of standard deviations at stations left out, °C. */
export interface SpreadError {
  /** Of the daily minima's. */
  readonly minimumSdC: number;
  /** Of the daily maxima's. */
  readonly maximumSdC: number;
}

/** Twelve months of what the location alone lets one expect, January first. */
export interface DefaultClimate {
  /** Mean daily minimum, °C. */
  readonly minimumC: readonly number[];
  /** Mean daily maximum, °C. */
  readonly maximumC: readonly number[];
  /** Rain of the month, mm; known on the grid only. */
  readonly rainMm?: readonly number[];
  /** Wet days of the month; known on the grid only. */
  readonly wetDays?: WetDays;
  /** How far single days stray from the means; known on the grid only. */
  readonly spread?: DailySpread;
  /** Error of those standard deviations, °C. */
  readonly spreadErrorC?: SpreadError;
  /** Mean elevation of the land within about a degree, m; known on the grid only. */
  readonly landElevationM?: number;
  /** What has been added to the normals of 1961–1990 all over the world. */
  readonly warming: Warming;
  /** Whether what modern stations around ask for beyond that has been added as well. */
  readonly anchored: boolean;
  /** What it rests on: the period, the error of the monthly means, and what would be better. */
  readonly basis: Basis;
  /** Terms of the numbers. */
  readonly licence: string;
  /** What must be said where the numbers are shown. */
  readonly attribution: string;
}

/** A user's own limits; what is not given stays at its default. */
export interface DayLimitOverrides {
  /** A night is cold whose minimum is at or below this, °C. */
  readonly coldNightC?: number;
  /** This many hot days on end are a heat spell, d. */
  readonly heatSpellD?: number;
}

/** The flight of every civil day of a span. */
export interface FlightRequest extends WeatherRequest {
  /** The first day. */
  readonly first: CivilDate;
  /** The last day. */
  readonly last: CivilDate;
  /** From when on a night is cold, and how many hot days are a heat spell. */
  readonly limits?: DayLimitOverrides;
}

/** Minimum, maximum and rain of one civil day. */
export interface DayTemperatures {
  /** The civil day at the site. */
  readonly date: CivilDate;
  /** Lowest air temperature, °C. */
  readonly minimumC: number;
  /** Highest air temperature, °C. */
  readonly maximumC: number;
  /** Rain of the day in mm; absent where it is not known, which is not the same as none fallen. */
  readonly rainMm?: number;
  /** What the numbers rest on. */
  readonly source: TemperatureSource;
}

/** What holds the bees back at the beginning or the end of the day's flight. */
export type FlightLimit =
  /** It is too dark before (after) this moment. */
  | "light"
  /** It is too cold before (after) this moment. */
  | "temperature";

/** First or last flight, and what sets it. */
export interface FlightEdge {
  /** The moment. */
  readonly at: InstantInput;
  /** The limit that is met there. */
  readonly limit: FlightLimit;
}

/**
 * Flight is possible, usually from `first` to `last`: the later of the morning's light and temperature
 * limits, and the earlier of the afternoon's.
 */
export interface FlightPossible {
  readonly kind: "possible";
  /** Early first flight: on one morning in ten of such a day the first bees are out by then. */
  readonly earlyFirst: FlightEdge;
  /**
   * What the clocks of the site show at `earlyFirst`, in whole minutes on the safe side: `05:52`.
   * Passed over where it is read.
   */
  readonly earlyFirstClock: string;
  /** Usual first flight: on every second one they are. */
  readonly first: FlightEdge;
  /**
   * What the clocks of the site show at `first`, in whole minutes on the safe side: `05:52`. Passed
   * over where it is read.
   */
  readonly firstClock: string;
  /** Usual last flight: on every second evening the last bees are home by then. */
  readonly last: FlightEdge;
  /**
   * What the clocks of the site show at `last`, in whole minutes on the safe side: `05:52`. Passed
   * over where it is read.
   */
  readonly lastClock: string;
  /** Late last flight: on one evening in ten bees still fly after it. */
  readonly lateLast: FlightEdge;
  /**
   * What the clocks of the site show at `lateLast`, in whole minutes on the safe side: `05:52`. Passed
   * over where it is read.
   */
  readonly lateLastClock: string;
}

/** The day's maximum stays below the bee's flight minimum. */
export interface FlightTooCold {
  readonly kind: "too_cold";
}

/** The sun stays too low all day, as in a polar winter. */
export interface FlightTooDark {
  readonly kind: "too_dark";
}

/** It is warm enough and light enough, but never both at once. */
export interface FlightNeverBoth {
  readonly kind: "never_both";
}

/** Whether and when bees can fly. */
export type Flight =
  | FlightPossible
  | FlightTooCold
  | FlightTooDark
  | FlightNeverBoth;

/** Chances of a day of which only the mean over many years is known, 0 to 1. */
export interface DayChances {
  /**
   * That it is warm enough for long enough to be a flying day. Closed form, if the nights before and
   * after depart from their means as much as the day's maximum does, and the warmth of the hours
   * needed from the usual course by 8 % of the day's range. Rain is left out: in wet months the chance
   * is smaller. Waits for flying days do count rain in.
   */
  readonly flyingDay: number;
  /** That the minimum is at or below `DayLimits.coldNightC`. Closed form. */
  readonly coldNight: number;
  /** That the maximum is at or above the bee's `heatShadeC`. Closed form. */
  readonly hotDay: number;
  /**
   * That it is one of `DayLimits.heatSpellD` or more hot days on end: an integral over the days
   * around, whose departures are correlated from one to the next, taken numerically to 0.0001. Days of
   * a forecast or a record among them count as they are.
   */
  readonly heatSpell: number;
}

/** The flight of one day. */
export interface FlightDay {
  /** The civil day. */
  readonly date: CivilDate;
  /** What the answer rests on. */
  readonly temperatures: DayTemperatures;
  /** First and last flight, or why there is none. */
  readonly flight: Flight;
  /** Hours between usual first and usual last flight. */
  readonly flyingHours: number;
  /** True when the hours reach the bee's `flyingDayH` and no heavy rain is known. */
  readonly flyingDay: boolean;
  /** Why it is a flying day or not. */
  readonly reason: Reason;
  /**
   * What single years make of it, where only the mean of many years and the spread of the days about
   * it are known (`Climate.spread`).
   */
  readonly chances?: DayChances;
  /**
   * What to look at again before it is believed: the place (`doubts`), and a default climate that is
   * weak there.
   */
  readonly doubts?: readonly Reason[];
}

/** What is asked about. */
export interface LastSafeRequest {
  /** Where the hives stand. */
  readonly site: Site;
  /** The day from which windows count. */
  readonly today: CivilDate;
  /** A built-in bee by name, or a user's own. */
  readonly bee?: BeeName | (string & {}) | BeeOverrides;
  /** Normals, records, forecast; without any the default for the location. */
  readonly climate?: ClimateInput;
  /** A built-in method by name, or one of the keeper's own. */
  readonly method: MethodName | Method | Moved;
  /** Choices where practice differs, and the keeper's own numbers. */
  readonly settings?: PlanOverrides;
  /** How the season is to be judged. */
  readonly season?: SeasonSettings;
}

/** The dates of a window. */
export interface LastSafeDates {
  /** The window's first date. */
  readonly opens: CivilDate;
  /** Its last date. */
  readonly closes: CivilDate;
  /** Until when it stays warm, or outside the months that a rule of rain bars. */
  readonly goodUntil: CivilDate;
  /** The last date for the step that must be safe; none where the window is too short for it. */
  readonly lastSafe: CivilDate | null;
  /** The last date to begin the method; earlier where there is work before that step. */
  readonly lastStart: CivilDate | null;
  /** How that comes about. */
  readonly why: Reason;
}

/** The season never closes, so that every date is safe. */
export interface LastSafeOutcomeAllYear {
  readonly kind: "all_year";
}

/** Windows that close on today or later and open within a year of it. */
export interface LastSafeOutcomeWindows {
  readonly kind: "windows";
  /** In order; empty where the next one is further away. */
  readonly windows: readonly LastSafeDates[];
}

/** There is no season. */
export interface LastSafeOutcomeNone {
  readonly kind: "none";
  /** The rules in the way. */
  readonly reasons: readonly Reason[];
}

/** Whether there are last dates. */
export type LastSafeOutcome =
  | LastSafeOutcomeAllYear
  | LastSafeOutcomeWindows
  | LastSafeOutcomeNone;

/** The last safe dates of a method. */
export interface LastSafe {
  /** The method's name. */
  readonly method: string;
  /** The windows with their dates, or why there are none. */
  readonly outcome: LastSafeOutcome;
  /** What the temperatures rest on. */
  readonly basis: readonly Basis[];
}

/** The mornings of a number of days, ranked. */
export interface MorningsRequest extends WeatherRequest {
  /** The first day. */
  readonly first: CivilDate;
  /** How many mornings, 1 to 60. */
  readonly days: number;
  /** Days on which the keeper can work; every day when empty. */
  readonly freeWeekdays?: readonly Weekday[];
  /** A user's own numbers for the mornings. */
  readonly settings?: MorningOverrides;
}

/**
 * Chances of a morning of which only the mean over many years is known, 0 to 1: of normally
 * distributed departures from that mean with the standard deviations of `Climate.spread`. Both are
 * closed forms, each with an assumption; none comes from a simulation.
 */
export interface MorningChances {
  /**
   * That the air at work light is neither colder nor warmer than a hive should be carried in: between
   * `MorningSettings.coldestWorkC` and `MorningSettings.warmestWorkC`, if the air at work light
   * departs from its mean as the night's minimum does.
   */
  readonly mildWork: number;
  /**
   * That there is a move window, if the temperatures of the day and its neighbours all depart from
   * their means as the day's mean does.
   */
  readonly window: number;
}

/** When to close the entrance on the evening before. */
export interface EveningClosing {
  /** Last flight of that evening; `null` when bees do not fly on that day at all. */
  readonly lastFlight?: FlightEdge | null;
  /**
   * What the clocks of the site show at `lastFlight`, in whole minutes on the safe side: `05:52`.
   * Passed over where it is read.
   */
  readonly lastFlightClock?: string | null;
  /** From when the foragers are in, and not earlier than shortly before sunset. */
  readonly from: InstantInput;
  /**
   * What the clocks of the site show at `from`, in whole minutes on the safe side: `05:52`. Passed
   * over where it is read.
   */
  readonly fromClock: string;
  /**
   * Until when it can be done by daylight: the end of civil twilight. `null` where it does not get
   * dark.
   */
  readonly daylightUntil?: InstantInput | null;
  /**
   * What the clocks of the site show at `daylightUntil`, in whole minutes on the safe side: `05:52`.
   * Passed over where it is read.
   */
  readonly daylightUntilClock?: string | null;
  /** True when `from` lies after `daylightUntil`, so that a lamp is needed. */
  readonly lampNeeded: boolean;
}

/** There is one. */
export interface MoveWindowOpen {
  readonly kind: "open";
  /** Light enough to work. */
  readonly from: InstantInput;
  /**
   * What the clocks of the site show at `from`, in whole minutes on the safe side: `05:52`. Passed
   * over where it is read.
   */
  readonly fromClock: string;
  /**
   * First flight less the margin: usual first flight of a hive closed the evening before, early first
   * flight of another. A closed hive must be open again before it is too warm for it. On a day without
   * flight, solar noon.
   */
  readonly until: InstantInput;
  /**
   * What the clocks of the site show at `until`, in whole minutes on the safe side: `05:52`. Passed
   * over where it is read.
   */
  readonly untilClock: string;
  /** Its length. */
  readonly minutes: number;
  /**
   * From when on care is needed: other hives may fly already, on one morning in ten. absent where the
   * window ends before.
   */
  readonly carefulFrom?: InstantInput;
  /**
   * What the clocks of the site show at `carefulFrom`, in whole minutes on the safe side: `05:52`.
   * Passed over where it is read.
   */
  readonly carefulFromClock?: string;
}

/** There is none. */
export interface MoveWindowNone {
  readonly kind: "none";
  /** Why. */
  readonly reasons: readonly Reason[];
  /** What would help. */
  readonly help: readonly Reason[];
}

/** The stretch of a morning in which a hive can be moved. */
export type MoveWindow =
  | MoveWindowOpen
  | MoveWindowNone;

/** The stretch before work light in which a hive can be moved by lamp. */
export interface LampWindow {
  /** An hour before there is light enough to work. */
  readonly from: InstantInput;
  /**
   * What the clocks of the site show at `from`, in whole minutes on the safe side: `05:52`. Passed
   * over where it is read.
   */
  readonly fromClock: string;
  /**
   * When there is light enough to work, or early first flight less the margin if that comes before and
   * the hive stood open over night.
   */
  readonly until: InstantInput;
  /**
   * What the clocks of the site show at `until`, in whole minutes on the safe side: `05:52`. Passed
   * over where it is read.
   */
  readonly untilClock: string;
}

/** Whether to move. */
export type Verdict =
  /** Move. */
  | "go"
  /** It can be done; the reason says what to mind. */
  | "careful"
  /** Do not move. */
  | "no";

/** A morning and the evening before it. */
export interface Morning {
  /** The civil day of the morning. */
  readonly date: CivilDate;
  /** Closing the entrance; of a hive that stands open over night, when its bees are in. */
  readonly eveningBefore: EveningClosing;
  /**
   * True for a hive that stands open over night (`closedEveningBefore: false`): its entrance is not
   * closed on the evening before.
   */
  readonly openOvernight?: boolean;
  /**
   * Light enough to work: the sun stands 6° below the skyline in the east. `null` where that does not
   * happen on this day.
   */
  readonly workLight?: InstantInput | null;
  /**
   * What the clocks of the site show at `workLight`, in whole minutes on the safe side: `05:52`.
   * Passed over where it is read.
   */
  readonly workLightClock?: string | null;
  /** Sunrise over the skyline in the east, where the sun rises on this day. */
  readonly sunrise?: InstantInput | null;
  /**
   * What the clocks of the site show at `sunrise`, in whole minutes on the safe side: `05:52`. Passed
   * over where it is read.
   */
  readonly sunriseClock?: string | null;
  /** Usual first flight, or why there is none: see `Morning.flightDayReason`. */
  readonly firstFlight?: FlightEdge | null;
  /**
   * What the clocks of the site show at `firstFlight`, in whole minutes on the safe side: `05:52`.
   * Passed over where it is read.
   */
  readonly firstFlightClock?: string | null;
  /** Early first flight: on one morning in ten the first bees are out by then. */
  readonly earlyFirstFlight?: FlightEdge | null;
  /**
   * What the clocks of the site show at `earlyFirstFlight`, in whole minutes on the safe side:
   * `05:52`. Passed over where it is read.
   */
  readonly earlyFirstFlightClock?: string | null;
  /** When to move by daylight. */
  readonly window: MoveWindow;
  /**
   * When to move by lamp, in the hour before work light: an ordinary way for every bee. `null` where
   * there is no dawn, or an open hive's bees may fly before it could be done.
   */
  readonly byLamp?: LampWindow | null;
  /** Air temperature at work light, °C. */
  readonly temperatureC?: number | null;
  /** Minimum of the night, °C. */
  readonly minimumC: number;
  /** Maximum of the day, °C. */
  readonly maximumC: number;
  /** Rain of the day, mm, where known. */
  readonly rainMm?: number | null;
  /** Wind, m/s, where known. */
  readonly windMS?: number | null;
  /** The same as force on the Beaufort scale, 0 to 12. */
  readonly windBeaufort?: number | null;
  /** True when bees can fly long enough on this day to learn the new place. */
  readonly flyingDay: boolean;
  /** Why it is a flying day or not. */
  readonly flightDayReason: Reason;
  /** Whether to move, judged by the whole day and the next one. */
  readonly verdict: Verdict;
  /** The one reason for that. */
  readonly verdictReason: Reason;
  /** What the temperatures rest on. */
  readonly source: TemperatureSource;
}

/** A morning with its place among the others. */
export interface RankedMorning {
  /** 1 is the best. */
  readonly rank: number;
  /** 0 to 100, whole; 0 without a window. */
  readonly points: number;
  /** True when the keeper is free on that day, or named no days. */
  readonly free: boolean;
  /** What speaks for it and against it. */
  readonly reasons: readonly Reason[];
  /**
   * What single years make of it, where only the mean of many years and the spread of the days about
   * it are known.
   */
  readonly chances?: MorningChances;
  /**
   * What to look at again before it is believed: the place (`doubts`), and a default climate that is
   * weak there.
   */
  readonly doubts?: readonly Reason[];
  /**
   * The next morning after it, of those that were looked at, of which nothing speaks against a move.
   */
  readonly nextGood?: CivilDate;
  /** The morning. */
  readonly morning: Morning;
}

/** Where a hive can be moved on mornings, and which. */
export interface MorningsPlace {
  /** Where it is. */
  readonly site: Site;
  /** What people call the place. */
  readonly place: string;
  /** The box that is to be moved, by its name. */
  readonly boxName?: string;
}

/** Mornings as an iCalendar text. */
export interface MorningsCalendarRequest extends MorningsPlace, IcsSettings {
  /** The mornings, as `mornings` or an outlook gives them. */
  readonly mornings: readonly RankedMorning[];
}

/** An iCalendar file (RFC 5545) of mornings. */
export interface MorningsCalendar {
  /** The file; its lines end with CRLF, which must stay. */
  readonly ics: string;
}

/** What an `Outlook` is made from. */
export interface OutlookRequest {
  /** Where the hives stand. */
  readonly site: Site;
  /** The day on which the question is asked; the mornings begin with the next. */
  readonly today: CivilDate;
  /**
   * The moment at which it is asked, where it is known: while today's dawn lasts the mornings begin
   * with it.
   */
  readonly now?: InstantInput;
  /** A built-in bee by name, or a user's own. */
  readonly bee?: BeeName | (string & {}) | BeeOverrides;
  /** Normals, records, forecast; without any the default for the location. */
  readonly climate?: ClimateInput;
  /** How the season is to be judged. */
  readonly season?: SeasonSettings;
  /** How many mornings to rank: 1 to 60; 10 when not given. */
  readonly mornings?: number;
  /** Days on which the keeper can work; every day when empty. */
  readonly freeWeekdays?: readonly Weekday[];
  /** A user's own numbers for a move. */
  readonly settings?: MorningOverrides;
  /** Weight of the hive that is to be moved, kg, where the keeper knows it. */
  readonly hiveWeightKg?: number;
}

/** What the months of a row are. */
export type PublishedKind =
  /** Colonies are divided in them. */
  | "divide"
  /** Colonies swarm in them. */
  | "swarms"
  /** There are queen cells and males in them. */
  | "queens_and_males"
  /** Colonies are not divided in them: there is no brood, or no flight. */
  | "not_then"
  /** None are named. */
  | "no_months";

/** What a row rests on. */
export type PublishedMark =
  /** A publication. */
  | "publication"
  /** What keepers do or write, without a study. */
  | "practice"
  /** Nothing was found. */
  | "unknown";

/** A published or practised season of the region of a place. */
export interface PublishedSeason {
  /** The region. */
  readonly place: string;
  /** Of which bees it tells. */
  readonly bees: string;
  /** Whether the bee that was asked about is one of them. */
  readonly ofThisBee: boolean;
  /** What the months are. */
  readonly kind: PublishedKind;
  /** The months, January as 1, in the order of the season. */
  readonly months: readonly number[];
  /** Why then, as the source has it. */
  readonly reason: string;
  /** Publication, or `common practice, no source`. */
  readonly source: string;
  /** What it rests on. */
  readonly mark: PublishedMark;
  /** The row in a sentence. */
  readonly said: Reason;
  /**
   * Where the computed season says otherwise; empty where the two agree or there is nothing to
   * compare.
   */
  readonly against: readonly Reason[];
}

/** Every date. */
export interface SeasonOutcomeAllYear {
  readonly kind: "all_year";
}

/** The windows that touch the asked span, in order. */
export interface SeasonOutcomeWindows {
  readonly kind: "windows";
  /** At least one. */
  readonly windows: readonly WorkingWindow[];
}

/** No date passes. */
export interface SeasonOutcomeNone {
  readonly kind: "none";
  /** The rules in the way, how far off they are, and what would help. */
  readonly reasons: readonly Reason[];
}

/** What the rules leave of a year. */
export type SeasonOutcome =
  | SeasonOutcomeAllYear
  | SeasonOutcomeWindows
  | SeasonOutcomeNone;

/**
 * Where the first date of a stretch lies if every temperature is higher or lower by the typical error
 * of their source.
 */
export interface EdgeRange {
  /** The earlier of the two; none where there would be no such edge. */
  readonly earliest?: CivilDate;
  /** The later of the two; none where there would be no such edge. */
  readonly latest?: CivilDate;
}

/** Dates that follow each other and are the same. */
export interface SeasonStretch {
  /** What they are. */
  readonly state: DateState;
  /** First date; that of the asked span where it was so before. */
  readonly first: CivilDate;
  /** Last date; that of the asked span where it goes on. */
  readonly last: CivilDate;
  /** Number of dates, both ends included. */
  readonly days: number;
  /**
   * How far the first date may be off because the temperatures are; none where their error is not
   * known, and where the span begins with the stretch.
   */
  readonly begins?: EdgeRange;
  /**
   * What stands in the way on the date in the middle: of the careful rules where it is at risk, of the
   * easier ones where it is closed.
   */
  readonly why: readonly Reason[];
}

/**
 * The rain of the months of a place. No date is barred by it unless a rule says so: there are places
 * where colonies are divided in the rains, and places where they are not.
 */
export interface RainOfYear {
  /** Mean rain of the twelve months, mm. */
  readonly monthlyMm: readonly number[];
  /** Mean number of wet days of the twelve months, where it is known. */
  readonly wetDays?: readonly number[];
  /** The wet months, January as 1: those with more than a twelfth of the year's rain. */
  readonly wetMonths: readonly number[];
  /** The same in a sentence. */
  readonly said: Reason;
}

/** What a season was judged by. */
export type Judgement =
  /** One mean course of the year: a date passes or not. */
  | "mean_course"
  /** The mean course and the spread of single days about it: a date passes with a chance. */
  | "spread"
  /** The years of the records, each of which passes or not. */
  | "years";

/** The working windows of a span of dates. */
export interface Season {
  /** Why stingless bees, or these, do not live at the place; it comes before all else. */
  readonly notAtHome?: Reason;
  /** What to look at again in the place (`doubts`). */
  readonly doubts?: readonly Reason[];
  /** First date of the span that was asked for. */
  readonly first: CivilDate;
  /** Last date of the span that was asked for. */
  readonly last: CivilDate;
  /**
   * What is published or practised in the region, the row that fits best first; it comes before the
   * computed windows. Empty where nothing is known of the region.
   */
  readonly published: readonly PublishedSeason[];
  /** The windows of good dates: the careful rules hold. */
  readonly outcome: SeasonOutcome;
  /** The windows of dates that are good or at risk. */
  readonly wider: SeasonOutcome;
  /** The asked span in order, without a gap: what its dates are. */
  readonly states: readonly SeasonStretch[];
  /** The rain of the year, where it is known. */
  readonly rain?: RainOfYear;
  /** Share of years asked for of a good date. */
  readonly chance: number;
  /** Share of years asked for of a date at risk. */
  readonly atRiskChance: number;
  /** What it was judged by. */
  readonly judgement: Judgement;
  /** Courses of weather the answer rests on: the years of the records, or 1 for normals. */
  readonly years: number;
  /** The rules that were used. */
  readonly rules: readonly Rule[];
  /** What the temperatures rest on. */
  readonly basis: readonly Basis[];
}

/** The usual day. */
export interface CrossingRisesAndSets {
  readonly kind: "rises_and_sets";
  /** Upwards. */
  readonly rise: Instant;
  /** Downwards. */
  readonly set: Instant;
}

/** It comes up and stays up: polar day begins. */
export interface CrossingOnlyRises {
  readonly kind: "only_rises";
  /** Upwards. */
  readonly rise: Instant;
}

/** It goes down and stays down: polar night begins. */
export interface CrossingOnlySets {
  readonly kind: "only_sets";
  /** Downwards. */
  readonly set: Instant;
}

/** Above all day. */
export interface CrossingAlwaysAbove {
  readonly kind: "always_above";
}

/** Below all day. */
export interface CrossingAlwaysBelow {
  readonly kind: "always_below";
}

/** Whether and when the sun passes an altitude in one solar day. */
export type Crossing =
  | CrossingRisesAndSets
  | CrossingOnlyRises
  | CrossingOnlySets
  | CrossingAlwaysAbove
  | CrossingAlwaysBelow;

/** Sun and twilights of one civil date. */
export interface SunDay {
  /** The civil date asked for. Events may fall on a neighbouring date and carry their own. */
  readonly date: CivilDate;
  /** When the sun crosses the meridian: the crossing nearest to 12:00 on the clocks. */
  readonly solarNoon: Instant;
  /** Altitude at that moment. */
  readonly noonAltitudeDeg: number;
  /** Sunrise and sunset: the upper edge on the skyline of the site, refraction included. */
  readonly sun: Crossing;
  /** Centre at −6°. */
  readonly civil: Crossing;
  /** Centre at −12°. */
  readonly nautical: Crossing;
  /** Centre at −18°. */
  readonly astronomical: Crossing;
  /** Hours with the sun above the skyline in this solar day, 0 to 24. */
  readonly dayLengthH: number;
}

/** Season, tomorrow, the next mornings, cautions. */
export interface Outlook {
  /** Where. */
  readonly site: Site;
  /** The day on which the question was asked. */
  readonly today: CivilDate;
  /** The numbers of the bee. */
  readonly bee: Bee;
  /** What the temperatures rest on, with their error. */
  readonly basis: readonly Basis[];
  /** Working windows of the twelve months from today. */
  readonly season: Season;
  /** How likely a colony that is made today has workers of its own before the good season ends. */
  readonly oddsToday: StartOdds;
  /** Tomorrow's sun. */
  readonly sunTomorrow: SunDay;
  /** Tomorrow's flight. */
  readonly flightTomorrow: FlightDay;
  /** The next mornings, the best first. */
  readonly mornings: readonly RankedMorning[];
  /** What to mind. */
  readonly cautions: readonly Caution[];
}

/** A default number and where it belongs. */
export interface Parameter {
  /**
   * What it belongs to: `bee generic_small`, `morning`, `season`, `clock`, `relocation`, `parting`,
   * `plan`, `plans of one keeper`.
   */
  readonly group: string;
  /** Its name within the group. */
  readonly name: string;
  /** Value, unit, range, source. */
  readonly number: Sourced;
}

/** What the dates of a parting are made from. */
export interface PartingRequest {
  /** Where the hives stand. */
  readonly site: Site;
  /** When the new box is set before the parent's entrance. */
  readonly setBefore: CivilDate;
  /** A built-in bee by name, or a user's own. */
  readonly bee?: BeeName | (string & {}) | BeeOverrides;
  /** Normals, records, forecast; without any the default for the location. */
  readonly climate?: ClimateInput;
  /** A keeper's own numbers and waiting times. */
  readonly settings?: PartingOverrides;
  /** A user's own numbers for the mornings. */
  readonly mornings?: MorningOverrides;
  /** Weight of the new box, kg, where the keeper knows it. */
  readonly hiveWeightKg?: number;
}

/**
 * How a new box gets from the parent's entrance to a place beside it. All of it is common practice, no
 * source.
 */
export interface Parting {
  /** How long the new box stands before the parent's entrance. */
  readonly beforeEntrance: Wait;
  /** From one stage to the next. */
  readonly betweenStages: Wait;
  /** How long the pair then stands side by side. */
  readonly sideBySide: Wait;
  /** How far from the parent the new box comes to stand, m. */
  readonly apartM: Sourced;
  /** Length of a stage, m. */
  readonly stageM: Sourced;
}

/** One move at dawn. */
export interface Stage {
  /** From 1. */
  readonly number: number;
  /** When. */
  readonly dates: DateRange;
  /** The move window of the best date. */
  readonly window: TimeWindow;
  /** Where the box stands afterwards: metres from where it began. */
  readonly distanceSoFarM: number;
  /** By how much its entrance is turned afterwards, degrees, where a turn is asked for. */
  readonly turnedSoFarDeg?: number;
  /** Why then; above all what held it up. */
  readonly reasons: readonly Reason[];
  /** Which weather the best date rests on, from the stage before. */
  readonly restsOn: RestsOn;
}

/** A move in stages. */
export interface StagedMove {
  /** The stages, in order; not all of them where it comes to a stop. */
  readonly stages: readonly Stage[];
  /** When the box stands where it shall; absent where it comes to a stop. */
  readonly finish?: DateRange;
  /** Why it comes to a stop before the end; empty where it does not. */
  readonly stopped: readonly Reason[];
}

/** The dates of a `Parting`. */
export interface PartingDates {
  /**
   * The first stage: the new box comes from before the entrance to beside its parent; absent where the
   * weather does not let it.
   */
  readonly setBeside?: DateRange;
  /** All stages. */
  readonly stages: StagedMove;
  /** Until when the pair stands side by side; absent where the stages come to a stop. */
  readonly sideBySideUntil?: DateRange;
}

/** A dated parting. */
export interface DatedParting {
  /** Where. */
  readonly site: Site;
  /** The numbers of the bee. */
  readonly bee: Bee;
  /** How the box gets from the entrance to its place, with sources. */
  readonly parting: Parting;
  /** When. */
  readonly dates: PartingDates;
  /** What to mind. */
  readonly cautions: readonly Caution[];
  /** What the temperatures rest on. */
  readonly basis: readonly Basis[];
  /** The tasks: evenings, dawns and openings, as those of any plan. */
  readonly plan: Plan;
}

/** Checks a site and gives it back with every field written out. */
export interface SiteRequest {
  /** The site. */
  readonly site: Site;
}

/**
 * Where a place lies, as the built-in grid knows it. The numbers are the bytes of the columns of
 * tables that are called `place`.
 */
export type PlaceState =
  /** On land. */
  | "on_land"
  /** In a square degree that is nearly all sea, with land within about half a degree. */
  | "near_land"
  /** Farther from land: temperatures are those of the latitude alone. */
  | "at_sea"
  /**
   * More than 45° from the equator: the grid does not reach there, and temperatures are those of the
   * latitude alone.
   */
  | "beyond_the_grid";

/** A place, and what is doubtful about it. */
export interface CheckedPlace {
  /** The site with every field written out. */
  readonly site: Site;
  /** Land or sea. */
  readonly state: PlaceState;
  /** Mean height of the land within about a degree, m, where there is land. */
  readonly landElevationM?: number;
  /** How far from 12:00 the clocks of the zone show mean solar noon, h; later is positive. */
  readonly noonOffH: number;
  /** What to look at again. */
  readonly doubts: readonly Reason[];
}

/** Plans as a table. */
export interface PlanCsvRequest {
  /** The plans. */
  readonly plans: readonly Plan[];
}

/** A table for spreadsheets (RFC 4180). */
export interface TableText {
  /** The table, one row a task; its lines end with CRLF, which must stay. */
  readonly csv: string;
}

/** A plan as a picture. */
export interface PlanPictureRequest {
  /** The plan. */
  readonly plan: Plan;
}

/** A picture. */
export interface Picture {
  /** As SVG. */
  readonly svg: string;
}

/** Plans of one keeper, or of people who work together. */
export interface TogetherRequest {
  /** The plans as they are asked for, at most 50, with the same `today`. */
  readonly plans: readonly PlanRequest[];
  /** What the keeper can do. */
  readonly limits?: KeeperLimitOverrides;
}

/** Where the start of a plan is, and why. */
export interface ChosenStart {
  /** The `id` of the plan. */
  readonly plan: string;
  /** The names of its boxes. */
  readonly name: string;
  /** The `id` of its first task. */
  readonly task: string;
  /** The date. */
  readonly date: CivilDate;
  /** The date that it would have by itself. */
  readonly alone: CivilDate;
  /** Why it is on that date. */
  readonly why: readonly Reason[];
}

/** Plans of one keeper. */
export interface Together {
  /** The plans, in the order of the request. */
  readonly plans: readonly Plan[];
  /**
   * The starts that were chosen, in the order of the request: of the plans that have not begun, and
   * can.
   */
  readonly starts: readonly ChosenStart[];
  /** What could not be kept of the limits. */
  readonly broken: readonly Reason[];
  /**
   * No dates keep the limits better, by the costs of a plan. Else they are the best that were found in
   * the time that is given to a request.
   */
  readonly exact: boolean;
}

/** What a date of a place is. */
export type YearDateKind =
  /** A state of the season begins, or holds on the first day. */
  | "season"
  /** The last safe day of a method. */
  | "last_safe"
  /** Days on which heat is likely begin. */
  | "heat"
  /** Months with more than their share of the year's rain begin. */
  | "rain"
  /** The dawn of a month. */
  | "dawn";

/** One date of a place. */
export interface YearDate {
  /** Stable among those of the place: `season-2026-09-27`. */
  readonly id: string;
  /** What it is. */
  readonly kind: YearDateKind;
  /** The day. */
  readonly date: CivilDate;
  /** The last day for which it holds. */
  readonly until: CivilDate;
  /** What is to be said. */
  readonly text: Reason;
}

/** The dates of one place. */
export interface PlaceDates {
  /** What people call it. */
  readonly name: string;
  /** Where it is. */
  readonly site: Site;
  /** Name of the bee. */
  readonly bee: string;
  /** In order. */
  readonly dates: readonly YearDate[];
  /** What is odd about the place, as far as it can be told. */
  readonly doubts?: readonly Reason[];
  /** What the temperatures rest on. */
  readonly basis: readonly Basis[];
}

/** The dates of a year. */
export interface YearDates {
  /** First day. */
  readonly first: CivilDate;
  /** Last day. */
  readonly last: CivilDate;
  /** In the order of the request. */
  readonly places: readonly PlaceDates[];
}

/** A poster of plans or of the dates of a year. */
export interface PosterRequest {
  /** The plans; none where the dates of a year are given. */
  readonly plans?: readonly Plan[];
  /** The dates of a year at places, as `year_calendar` gives them; none where plans are given. */
  readonly dates?: YearDates;
  /** The headline. */
  readonly title?: string;
}

/** A poster. */
export interface Poster {
  /** Its sheets of A4, each as SVG. */
  readonly sheets: readonly string[];
}

/** A text with coordinates in it. */
export interface CoordinatesRequest {
  /**
   * Two angles: decimal degrees with point or comma, degrees with minutes and seconds, signs or the
   * letters of north, south, east and west before or behind them; a `geo:` address (RFC 5870); a
   * position of ISO 6709; the address of a map.
   */
  readonly text: string;
}

/** A place that a text can mean. */
export interface Position {
  /** Degrees north of the equator, to 0.000001; south is negative. */
  readonly latitudeDeg: number;
  /** Degrees east of Greenwich, −180 to 180; west is negative. */
  readonly longitudeDeg: number;
  /** Land or sea. */
  readonly state: PlaceState;
}

/** What a text with coordinates says. */
export interface CoordinatesReading {
  /** The places that it can mean, the likeliest first. */
  readonly positions: readonly Position[];
  /**
   * What its writer must be asked before one of them is used; where nothing is asked there is one
   * position.
   */
  readonly question?: Reason;
  /**
   * The height that stands in a `geo:` address or a position of ISO 6709, m above the ellipsoid of WGS
   * 84, which can be 100 m off the height above the sea.
   */
  readonly heightM?: number;
}

/** What `3/4` means. */
export type DateOrder =
  /** 3 April. */
  | "day_month"
  /** 4 March. */
  | "month_day"
  /** Of three numbers the first is the year. */
  | "year_month";

/** Which of two weekdays is meant. */
export type FirstDay =
  /** The last one before today. */
  | "past"
  /** The next one. */
  | "coming";

/** A unit of temperature. */
export type TemperatureUnit =
  /** °C */
  | "c"
  /** °F */
  | "f";

/** A unit of rain. */
export type RainUnit =
  /** Millimetres. */
  | "mm"
  /** Inches. */
  | "in";

/** A unit of wind. */
export type WindUnit =
  /** Metres per second. */
  | "m_s"
  /** Kilometres per hour. */
  | "km_h"
  /** Miles per hour. */
  | "mph"
  /** Knots. */
  | "kn";

/** What a comma stands for. */
export type CommaMeans =
  /** Decimals follow. */
  | "decimal"
  /** It parts thousands. */
  | "thousands";

/** Answers to the questions of a reading. What the text itself says stays as it is. */
export interface ForecastAnswers {
  /** What `3/4` means. */
  readonly dateOrder?: DateOrder;
  /** Whether a weekday a few days back is the past one or the coming one. */
  readonly firstDay?: FirstDay;
  /** The unit of temperatures. */
  readonly temperatureUnit?: TemperatureUnit;
  /** The unit of rain. */
  readonly rainUnit?: RainUnit;
  /** The unit of wind. */
  readonly windUnit?: WindUnit;
  /** What the comma of `1,200` stands for. */
  readonly comma?: CommaMeans;
}

/** Asks what a text says of the coming days. */
export interface ForecastRequest {
  /** Where. */
  readonly site: Site;
  /** The day on which it is asked; weekdays and dates without a year count from it. */
  readonly today: CivilDate;
  /** The text, as it was copied; up to 2 MiB. */
  readonly text: string;
  /** Its name in errors. */
  readonly file?: string;
  /** Answers to questions of an earlier reading. */
  readonly answers?: ForecastAnswers;
}

/** One day as it was understood. */
export interface UnderstoodDay {
  /** The civil day. */
  readonly date: CivilDate;
  /** It in words: `Monday 20 July 2026: 12 to 24 °C, 5 mm`. */
  readonly text: string;
  /** Where it stands: `line 3`. */
  readonly place: string;
  /** What stands there. */
  readonly given: string;
}

/** Something that is not used. */
export interface LeftOut {
  /** Where it stands: `line 3`, or a column by its name. */
  readonly place: string;
  /** What stands there. */
  readonly given: string;
  /** Why it is left out. */
  readonly why: Reason;
}

/** One answer that is possible. */
export interface PossibleReading {
  /** The value of the field. */
  readonly answer: string;
  /** What the text then means. */
  readonly text: string;
}

/** A question, with the readings that are possible. */
export interface ForecastQuestion {
  /** The field of `ForecastAnswers` that answers it. */
  readonly code: string;
  /** The question. */
  readonly text: string;
  /** What can be answered. */
  readonly readings: readonly PossibleReading[];
  /**
   * True where nothing can be used without an answer; else only the values in question are left out.
   */
  readonly mustBeAnswered: boolean;
}

/** What a text says, to be looked at before it is used. */
export interface ForecastReading {
  /**
   * Day by day in words, in the order of dates. Empty while a question is open that must be answered
   * first.
   */
  readonly understood: readonly UnderstoodDay[];
  /** The days, as `ClimateInput.forecast` takes them. */
  readonly forecast: readonly ForecastDay[];
  /** Readings by the hour, as `ClimateInput.hours` takes them. */
  readonly hours: readonly Hour[];
  /** How the text was read where it does not say so itself, and what to look at. */
  readonly notes: readonly Reason[];
  /** What was left out, and why; the first 100 of it. */
  readonly leftOut: readonly LeftOut[];
  /** How many more were left out. */
  readonly moreLeftOut: number;
  /** What must be known, or would help. */
  readonly questions: readonly ForecastQuestion[];
}

/** Twelve months as they were copied. */
export interface NormalsRequest {
  /** The text of the table. */
  readonly text: string;
  /** By which name errors and the answer call it; `text` when not given. */
  readonly file?: string;
}

/** What a `Relocation` is made from. */
export interface RelocationRequest {
  /** Where the hive stands. */
  readonly site: Site;
  /** The first morning on which work can be done. */
  readonly first: CivilDate;
  /** From here to there, m: 0.05 to 1,000,000. */
  readonly distanceM: number;
  /** A built-in bee by name, or a user's own. */
  readonly bee?: BeeName | (string & {}) | BeeOverrides;
  /** Normals, records, forecast; without any the default for the location. */
  readonly climate?: ClimateInput;
  /** The way to take; the engine chooses when not given. */
  readonly way?: Way;
  /** By how much the entrance is to be turned in all, degrees: −360 to 360, clockwise positive. */
  readonly totalTurnDeg?: number;
  /** A user's own numbers for the relocation. */
  readonly settings?: RelocationOverrides;
  /** A user's own numbers for the mornings. */
  readonly mornings?: MorningOverrides;
  /** Weight of the hive, kg, where the keeper knows it. */
  readonly hiveWeightKg?: number;
}

/** One journey of a closed hive. */
export interface Trip {
  /** The morning of the journey. */
  readonly dates: DateRange;
  /** When the entrance is closed, on the evening before the best date. */
  readonly eveningBefore: EveningClosing;
  /** When it is lifted: the move window of the best date; absent where there is none. */
  readonly lift?: TimeWindow;
  /** Why then. */
  readonly reasons: readonly Reason[];
  /** Which weather the best date rests on. */
  readonly restsOn: RestsOn;
}

/** What a closed hive can bear. */
export interface TransitLimits {
  /** Air colder than this chills brood when a hive is carried, °C. */
  readonly coldestWorkC: Sourced;
  /** Air warmer than this makes a closed hive hot: by then it stands and is open, °C. */
  readonly warmestWorkC: Sourced;
  /** No journey on a day that gets as warm as this, nor on the day before, °C. */
  readonly heatShadeC: Sourced;
  /** A hive that gets as warm as this is in danger, closed or open, °C. */
  readonly heatLimitC: Sourced;
  /** How the entrance is closed. */
  readonly closing: Reason;
}

/** A move to a far place and back. */
export interface FarMove {
  /** How far away the far place is, at least, m, from both the old and the new place. */
  readonly awayAtLeastM: number;
  /** Publication behind that distance. */
  readonly awaySource: string;
  /** There. */
  readonly out: Trip;
  /** How long the colony stays. */
  readonly stay: Wait;
  /** Back, to the new place. */
  readonly back: Trip;
  /** What a closed hive can bear on the way. */
  readonly limits: TransitLimits;
}

/** A move in one go. */
export interface DirectMove {
  /** The journey. */
  readonly trip: Trip;
  /** What a closed hive can bear on the way. */
  readonly limits: TransitLimits;
}

/** In stages. */
export interface CourseStaged extends StagedMove {
  readonly kind: "staged";
}

/** By way of a far place. */
export interface CourseFarAndReturn extends FarMove {
  readonly kind: "far_and_return";
}

/** At once. */
export interface CourseAtOnce extends DirectMove {
  readonly kind: "at_once";
}

/** How the hive gets there. */
export type Course =
  | CourseStaged
  | CourseFarAndReturn
  | CourseAtOnce;

/** A dated relocation. */
export interface Relocation {
  /** Where from. */
  readonly site: Site;
  /** The numbers of the bee. */
  readonly bee: Bee;
  /** From here to there, m. */
  readonly distanceM: number;
  /** The way that is taken. */
  readonly way: Way;
  /** True where the user chose it. */
  readonly wayWasGiven: boolean;
  /** Why this way, and advice. */
  readonly why: readonly Reason[];
  /** Its steps. */
  readonly course: Course;
  /** When the hive stands in its new place; absent where the stages come to a stop. */
  readonly finish?: DateRange;
  /** Settings on which practice differs. */
  readonly choices: readonly Choice[];
  /** What to mind. */
  readonly cautions: readonly Caution[];
  /** What the temperatures rest on. */
  readonly basis: readonly Basis[];
  /** The tasks: evenings, dawns and openings, as those of any plan. */
  readonly plan: Plan;
}

/** The working windows that touch a span. */
export interface SeasonRequest extends WeatherRequest {
  /** The first day. */
  readonly first: CivilDate;
  /** The last day. */
  readonly last: CivilDate;
  /** How the season is to be judged. */
  readonly settings?: SeasonSettings;
}

/** A language of the catalogue, by its tag (BCP 47). */
export type Language =
  | "en";

/** The sentences of a language. */
export interface SentencesRequest {
  /** English when not given. */
  readonly language?: Language;
}

/** A value that belongs to a code. */
export interface SentenceValue {
  /** Its name. */
  readonly name: string;
  /** Its kind, as in the JSON of a `ReasonValue`. */
  readonly kind: string;
  /** True for one that may be missing. */
  readonly optional: boolean;
}

/** A code of the catalogue. */
export interface Sentence {
  /** The `code`. */
  readonly code: ReasonCode;
  /** The sentence with places for values. */
  readonly template: string;
  /** The values that it is made with. */
  readonly values: readonly SentenceValue[];
}

/** A word for a value of the kind `word` or `rule`. */
export interface Word {
  /** The value; that of a rule has `rule.` before it, the forms of a unit `unit.`. */
  readonly name: string;
  /** What is written for it. */
  readonly word: string;
}

/** The whole catalogue in a language, for those who write sentences with their own units and dates. */
export interface Sentences {
  /** The language's tag. */
  readonly language: string;
  /** Every code, by topic. */
  readonly sentences: readonly Sentence[];
  /** The words that stand for values. */
  readonly words: readonly Word[];
}

/** The sun of every civil day of a span, and, if asked, when it passes an altitude. */
export interface SunRequest {
  /** Where. */
  readonly site: Site;
  /** The first day. */
  readonly first: CivilDate;
  /** The last day. */
  readonly last: CivilDate;
  /**
   * An altitude of the sun's centre, degrees, whose crossing is asked for too; true, without
   * refraction.
   */
  readonly altitudeDeg?: number;
}

/** A day's sun; `crossing` is there when an altitude was asked for. */
export interface SunDayAndCrossing extends SunDay {
  /** Passage of the altitude that was asked for. */
  readonly crossing?: Crossing;
  /** What to look at again in the coordinates and the zone. */
  readonly doubts?: readonly Reason[];
}

/** The towns that a name can mean. */
export interface TownsRequest {
  /** A name or its beginning; behind a comma a region or a country. */
  readonly name: string;
  /**
   * The text of the list; that of the package when not given, where the program has it: in Python and
   * in the command. For JavaScript it is the file `towns.txt` of the package.
   */
  readonly list?: string;
}

/** A town of the list. */
export interface Town {
  /** Its name. */
  readonly name: string;
  /** The state, province or other first division of its country; empty where it has none. */
  readonly region: string;
  /** Its country. */
  readonly country: string;
  /** Code of the country by ISO 3166-1. */
  readonly countryCode: string;
  /** How many people live there, to the nearest hundred. */
  readonly people: number;
  /** Where it is, to about 1 km, at the height of the land around. */
  readonly site: Site;
}

/** Towns that a name can mean. */
export interface FoundTowns {
  /**
   * Those of this name or, where there is none, those whose names begin so; the largest first, 20 at
   * most.
   */
  readonly towns: readonly Town[];
  /** How many more there are. */
  readonly more: number;
}

/** The towns around a place, and the zone that all of them have. */
export interface TownsNearRequest {
  /** Degrees north. */
  readonly latitudeDeg: number;
  /** Degrees east. */
  readonly longitudeDeg: number;
  /** The text of the list, as in `towns`. */
  readonly list?: string;
}

/** Towns around a place. */
export interface NearTowns {
  /** Those within `NEAR_KM`, the nearest first, 20 at most. */
  readonly towns: readonly Town[];
  /** How far each of them is, km. */
  readonly distancesKm: readonly number[];
  /** How many more there are. */
  readonly more: number;
  /**
   * The zone that all of them have, the further ones too. Left out where there are none and where they
   * differ: near a border only who lives there knows the clocks.
   */
  readonly zone?: string;
}

/** Asks for the warm season at every crossing of some latitudes and longitudes. */
export interface WarmSeasonMapRequest {
  /** ° north. */
  readonly latitudesDeg: ArrayLike<number>;
  /** ° east. */
  readonly longitudesDeg: ArrayLike<number>;
  /** Mean temperature from which a day is warm, °C; 18 when not given. */
  readonly thresholdC?: number;
  /** A warming of one's own, added to the normals of 1961–1990; today's climate when not given. */
  readonly warming?: Warming;
}

/**
 * Warm seasons over a map: for every latitude in turn, every longitude. Off the land nothing is known.
 */
export interface WarmSeasonMap {
  /** Days of the year at or above the threshold; absent off the land. */
  readonly days: readonly (number | null)[];
  /**
   * First day of the longest warm stretch, 1 January is 1; absent also where no day or every day is
   * warm.
   */
  readonly firstDay: readonly (number | null)[];
  /** Its last day. */
  readonly lastDay: readonly (number | null)[];
  /** The years of the normals. */
  readonly period: string;
  /** What has been added to them all over the world. */
  readonly warming: Warming;
  /** Whether what modern stations around ask for beyond that has been added as well. */
  readonly anchored: boolean;
  /** Terms of the numbers. */
  readonly licence: string;
  /** What must be said where the numbers are shown. */
  readonly attribution: string;
}

/** A question about a date. */
export interface WhyNotRequest {
  /** The plan. */
  readonly plan: PlanRequest;
  /** The `id` of a task of it. */
  readonly task: string;
  /** The date on which somebody would like to do it. */
  readonly date: CivilDate;
}

/** Why a task is not on a date. */
export interface DateAnswer {
  /** The task. */
  readonly task: string;
  /** The date that was asked about. */
  readonly date: CivilDate;
  /** The date that the plan has; `null` for a task without one. */
  readonly planned: CivilDate | null;
  /** The first reason why it is not on the date that was asked about; `null` where it is. */
  readonly reason: Reason | null;
}

/** A place of which the dates are wanted. */
export interface DatedPlace {
  /** What people call it. */
  readonly name: string;
  /** Where it is. */
  readonly site: Site;
  /** A built-in bee by name, or a user's own. */
  readonly bee?: BeeName | (string & {}) | BeeOverrides;
  /** Normals or records; without any the default for the location. */
  readonly climate?: ClimateInput;
  /** How the season is to be judged. */
  readonly season?: SeasonSettings;
}

/** What the dates of a year are asked for with. */
export interface YearDatesRequest {
  /** The places; their names differ. */
  readonly places: readonly DatedPlace[];
  /** First day. */
  readonly first: CivilDate;
  /** Last day, 731 days after the first at most; a year from the first when not given. */
  readonly last?: CivilDate;
}

/** The dates of a year at places, as data and as files. */
export interface YearCalendarRequest extends YearDatesRequest, IcsSettings {
}

/** The dates of a year at places, and the files made of them. */
export interface YearCalendar {
  /** The dates. */
  readonly dates: YearDates;
  /** An iCalendar file (RFC 5545); its lines end with CRLF, which must stay. */
  readonly ics: string;
  /** A table for spreadsheets (RFC 4180); its lines end with CRLF, which must stay. */
  readonly csv: string;
}

/** What a year is asked for with. */
export interface YearRequest {
  /** Where the hives stand. */
  readonly site: Site;
  /** The day that is marked. */
  readonly today: CivilDate;
  /** First of the twelve months; the first day of today's month when not given. */
  readonly first?: CivilDate;
  /**
   * The last date on which a method still leaves enough warm time, as a plan gives it: it depends on
   * the method and comes before the window closes.
   */
  readonly lastSafe?: CivilDate;
  /** Heading, such as club, keeper and hive. */
  readonly title?: string;
  /** A built-in bee by name, or a user's own. */
  readonly bee?: BeeName | (string & {}) | BeeOverrides;
  /** Normals, records, forecast; without any the default for the location. */
  readonly climate?: ClimateInput;
  /** How the season is to be judged. */
  readonly season?: SeasonSettings;
}

/** The picture of a year. */
export interface YearPicture {
  /** As SVG. */
  readonly svg: string;
  /** What to look at again in the place. */
  readonly doubts?: readonly Reason[];
}
