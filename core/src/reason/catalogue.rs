//! The catalogue: every code, the values that belong to it, and its sentence.
//!
//! Each line makes a function of the code's name that takes the values, so that no sentence and no
//! value can be missing. How sentences are written is said in `template`. Another language is
//! another column.

use std::borrow::Cow;

use serde::Serialize;

use super::Reason;
use super::value::{
    Angle, Count, Counted, Date, Difference, Hours, Inner, Kind, Length, List, Minutes, Moment,
    Name, Named, Rain, Rule, Share, Speed, Temperature, Values, Weight, Wording,
};
use crate::error::{Error, clip};
use crate::wire::{FromNode, Node, Refusal, Shape};

/// A language of the catalogue. In JSON its tag (BCP 47): `en`.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Language {
    /// English.
    #[default]
    English,
}

impl Language {
    /// Every language of the catalogue.
    pub const ALL: [Language; 1] = [Language::English];

    /// Its tag (BCP 47).
    pub const fn tag(self) -> &'static str {
        match self {
            Language::English => "en",
        }
    }

    /// The language of a tag.
    ///
    /// # Errors
    /// `unknown_name` for a language that the catalogue does not have.
    ///
    /// ```
    /// use apiary_almanac::reason::Language;
    /// assert_eq!(Language::of_tag("en")?, Language::English);
    /// let error = Language::of_tag("de").unwrap_err().to_string();
    /// assert_eq!(error, "language \"de\" is not known; known are en");
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn of_tag(tag: &str) -> Result<Self, Error> {
        let mut all = Language::ALL.into_iter();
        all.find(|known| known.tag() == tag)
            .ok_or_else(|| Error::UnknownName {
                field: "language".to_owned(),
                given: clip(tag),
                allowed: Language::ALL.map(Language::tag).join(", "),
            })
    }
}

impl FromNode for Language {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        Ok(Language::of_tag(node.text("a language such as \"en\"")?)?)
    }
}

impl Serialize for Language {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self.tag())
    }
}

#[cfg(feature = "shapes")]
impl crate::wire::shape::Shape for Language {
    fn shape(shapes: &mut crate::wire::shape::Shapes) -> crate::wire::shape::Type {
        shapes.define::<Self>(
            "Language",
            &["A language of the catalogue, by its tag (BCP 47)."],
        )
    }

    fn body(_: &mut crate::wire::shape::Shapes) -> crate::wire::shape::Body {
        let tag = |one: Language| (one.tag(), String::new());
        crate::wire::shape::Body::Names(Language::ALL.map(tag).to_vec())
    }
}

/// A code of the catalogue.
#[derive(Debug, Clone, PartialEq, Serialize, Shape)]
#[non_exhaustive]
pub struct Sentence {
    /// The [`code`](Reason::code).
    pub code: &'static str,
    /// The sentence with places for values.
    pub template: &'static str,
    /// The values that it is made with.
    pub values: Vec<SentenceValue>,
}

/// A value that belongs to a code.
#[derive(Debug, Clone, PartialEq, Serialize, Shape)]
#[non_exhaustive]
pub struct SentenceValue {
    /// Its name.
    pub name: &'static str,
    /// Its kind, as in the JSON of a [`Value`](super::Value).
    pub kind: &'static str,
    /// True for one that may be missing.
    pub optional: bool,
}

/// A word for a value of the kind `word` or `rule`.
#[derive(Debug, Clone, PartialEq, Serialize, Shape)]
#[non_exhaustive]
pub struct Word {
    /// The value; that of a rule has `rule.` before it, the forms of a unit `unit.`.
    pub name: &'static str,
    /// What is written for it.
    pub word: &'static str,
}

/// The whole catalogue in a language, for those who write sentences with their own units and dates.
#[derive(Debug, Clone, PartialEq, Serialize, Shape)]
#[non_exhaustive]
pub struct Sentences {
    /// The language's tag.
    pub language: &'static str,
    /// Every code, by topic.
    pub sentences: Vec<Sentence>,
    /// The words that stand for values.
    pub words: Vec<Word>,
}

/// Every sentence of a language.
///
/// A sentence holds `{name}` for the value of that name with its unit, a number with at most two
/// decimals; `{name:1}` for one decimal, `{name:n}` and `{name:1n}` for no unit; `{name|# day|# days}`
/// for a number, the first form for 1 and the second for all others, `#` being the number; and what
/// stands in `[...]` is left out where a value in it is missing.
///
/// ```
/// use apiary_almanac::reason::{Language, sentences};
/// let english = sentences(Language::English);
/// assert!(english.sentences.iter().any(|one| one.template == "{hours:1} of possible flight."));
/// ```
pub fn sentences(language: Language) -> Sentences {
    let sentence = |line: &Line| Sentence {
        code: line.code,
        template: line.template(language),
        values: line
            .values
            .iter()
            .map(|(name, kind, optional)| SentenceValue {
                name,
                kind,
                optional: *optional,
            })
            .collect(),
    };
    Sentences {
        language: language.tag(),
        sentences: CATALOGUE.iter().map(sentence).collect(),
        words: words(language)
            .iter()
            .map(|(name, word)| Word { name, word })
            .collect(),
    }
}

/// The sentence of a code.
pub(super) fn template(language: Language, code: &str) -> Option<&'static str> {
    Some(line(code)?.template(language))
}

/// Whether the catalogue has the code, and the values are there that it needs.
pub(super) fn is_complete(code: &str, values: &Values) -> bool {
    line(code).is_some_and(|line| {
        let mut needed = line.values.iter().filter(|(_, _, optional)| !optional);
        needed.all(|(name, ..)| values.get(name).is_some())
    })
}

/// A word by its name.
pub(crate) fn word(language: Language, name: &str) -> Option<&'static str> {
    let mut words = words(language).iter();
    words.find_map(|(known, word)| (*known == name).then_some(*word))
}

fn line(code: &str) -> Option<&'static Line> {
    CATALOGUE.iter().find(|line| line.code == code)
}

fn words(language: Language) -> &'static [(&'static str, &'static str)] {
    match language {
        Language::English => WORDS,
    }
}

/// A line of the catalogue.
pub(super) struct Line {
    pub code: &'static str,
    /// Name, kind, whether it may be missing.
    pub values: &'static [(&'static str, &'static str, bool)],
    english: &'static str,
}

impl Line {
    pub fn template(&self, language: Language) -> &'static str {
        match language {
            Language::English => self.english,
        }
    }
}

macro_rules! catalogue {
    ($($code:ident($($name:ident: $kind:ty),*) $english:literal;)*) => {
        pub(super) const CATALOGUE: &[Line] = &[$(
            Line {
                code: stringify!($code),
                values: &[$(
                    (stringify!($name), <$kind as Kind>::NAME, <$kind as Kind>::OPTIONAL),
                )*],
                english: $english,
            },
        )*];

        $(
            pub(crate) fn $code($($name: <$kind as Kind>::Given<'_>),*) -> Reason {
                let values = Values::default();
                $(let values = values.with::<$kind>(stringify!($name), $name);)*
                Reason {
                    code: Cow::Borrowed(stringify!($code)),
                    values,
                    given: None,
                }
            }
        )*
    };
}

/// Words that sentences are made with.
const WORDS: &[(&str, &str)] = &[
    ("quantity.mean", "the air, day and night together,"),
    ("quantity.minimum", "the low of the night"),
    ("quantity.maximum", "the high of the day"),
    ("rule.warm_enough", "“warm enough”"),
    ("rule.not_too_hot", "“not too hot”"),
    ("rule.warm_weeks_ahead", "“warm weeks ahead”"),
    ("rule.nights_not_cold", "“nights not cold”"),
    (
        "rule.outside_wettest_months",
        "“outside the wettest months”",
    ),
    ("rule.few_wet_days", "“few wet days”"),
    ("rule.rains", "“rains”"),
    ("rains.start", "start"),
    ("rains.end", "end"),
    ("month.1", "January"),
    ("month.2", "February"),
    ("month.3", "March"),
    ("month.4", "April"),
    ("month.5", "May"),
    ("month.6", "June"),
    ("month.7", "July"),
    ("month.8", "August"),
    ("month.9", "September"),
    ("month.10", "October"),
    ("month.11", "November"),
    ("month.12", "December"),
    ("weekday.monday", "Monday"),
    ("weekday.tuesday", "Tuesday"),
    ("weekday.wednesday", "Wednesday"),
    ("weekday.thursday", "Thursday"),
    ("weekday.friday", "Friday"),
    ("weekday.saturday", "Saturday"),
    ("weekday.sunday", "Sunday"),
    // Terms of the Beaufort scale (WMO-No. 306, section E); its limits stand in `climate::beaufort`.
    ("wind.0", "calm"),
    ("wind.1", "light air"),
    ("wind.2", "light breeze"),
    ("wind.3", "gentle breeze"),
    ("wind.4", "moderate breeze"),
    ("wind.5", "fresh breeze"),
    ("wind.6", "strong breeze"),
    ("wind.7", "near gale"),
    ("wind.8", "gale"),
    ("wind.9", "strong gale"),
    ("wind.10", "storm"),
    ("wind.11", "violent storm"),
    ("wind.12", "hurricane"),
    ("strength.weak", "weak"),
    ("strength.medium", "medium"),
    ("strength.strong", "strong"),
    ("seen.queen", "the queen or her eggs"),
    (super::COMMON_PRACTICE, "beekeepers' practice"),
    // A number and its unit: the form for 1 and the form for others.
    ("unit.days", "# day|# days"),
    ("unit.flying_days", "# flying day|# flying days"),
    ("unit.degree_days", "# degree-day|# degree-days"),
];

catalogue! {
    // Flight: why a day is a flying day or none.
    too_cold(maximum: Temperature, limit: Temperature)
        "The maximum of {maximum:1} stays below the {limit:1} at which these bees fly.";
    too_dark() "The sun does not rise high enough for these bees to fly.";
    never_both() "It is warm enough only while it is too dark to fly.";
    too_wet(rain: Rain, limit: Rain)
        "{rain:0} of rain: from {limit:0} a day is not counted as a flying day.";
    too_short(hours: Hours, needed: Hours)
        "{hours:1} of possible flight; {needed:1} are needed.";
    long_enough(hours: Hours) "{hours:1} of possible flight.";

    // Mornings: why there is no move window, and what would help.
    no_dawn() "The sun does not pass the altitude of civil dawn on this day.";
    other_date() "Choose a date on which the sun rises and sets.";
    too_short_a_dawn(length: Minutes, margin: Minutes)
        "There are only {length:0} between light enough to work and {margin:0} before the first bees fly.";
    flight_within_margin(after: Minutes, margin: Minutes)
        "Bees can fly {after:0} after it is light enough to work: sooner than {margin:0}, which must be left.";
    too_early_flight() "Bees can fly before there is light enough to work.";
    close_and_lamp()
        "Close the entrance the evening before and move by lamp before dawn, with help and on a path \
         you know; open it as soon as the hive stands.";
    cooler_morning() "Or wait for a cooler morning: bees then fly later.";

    // Mornings: what speaks for one and against it.
    others_may_fly(from: Moment) "Other hives may fly from {from:n} on: be quick.";
    ample_time() "Enough time.";
    short_time(length: Minutes) "Only {length:0}.";
    cold_work(temperature: Temperature) "{temperature:0} at work: cold enough to chill brood.";
    warm_work(temperature: Temperature) "{temperature:0} at work: warm for a closed hive.";
    mild_work(temperature: Temperature) "{temperature:0} at work.";
    rain_unknown(wet: Option<Count>, least: Option<Rain>)
        "Rain not known[; at this time of year about {wet:0} days in 10 are wet][ ({least} or more)].";
    dry() "Dry.";
    rain(rain: Rain) "{rain:0} of rain.";
    windy(wind: Speed, force: Wording)
        "Wind of {wind:1} ({force}): boxes are hard to carry.";
    bees_learn_place() "Bees can fly long enough to learn the new place.";
    no_flying_day(why: Inner) "Not a flying day: {why}";
    not_free(weekday: Wording) "You are not free on {weekday}.";

    // Season: what it means that a rule does not hold.
    temperature_below(rule: Rule, quantity: Wording, days: Count, limit: Temperature, share: Option<Share>)
        "too cold: {quantity} averages below {limit} over {days|a day|# days}[, in {share:0} of years]";
    temperature_above(rule: Rule, quantity: Wording, days: Count, limit: Temperature, share: Option<Share>)
        "too hot: {quantity} averages above {limit} over {days|a day|# days}[, in {share:0} of years]";
    temperature_outside(
        rule: Rule, quantity: Wording, days: Count, low: Temperature, high: Temperature,
        share: Option<Share>
    ) "too cold or too hot: {quantity} averages outside {low:n} to {high} over {days|a day|# days}[, in {share:0} of \
       years]";
    cool_weeks_ahead(
        rule: Rule, quantity: Wording, averaged: Count, weeks: Count, limit: Temperature,
        share: Option<Share>
    ) "too cold soon after: {quantity} averages below {limit} over {averaged|one week|# weeks on end} of the next \
       {weeks|week|#}[, in {share:0} of years]";
    cool_weeks_next(
        rule: Rule, quantity: Wording, weeks: Count, limit: Temperature, share: Option<Share>
    ) "too cold soon after: {quantity} averages below {limit} over the next {weeks|week|# weeks}[, in {share:0} of \
       years]";
    wettest_months(rule: Rule, months: Count, share: Option<Share>)
        "{months|the wettest month|one of the # wettest months} of the year[ in {share:0} of years]";
    wet_month(rule: Rule, limit: Rain, share: Option<Share>)
        "more than {limit} of rain in the month[ in {share:0} of years]";
    wet_days(rule: Rule, limit: Count, least: Option<Rain>, share: Option<Share>)
        "more than {limit|# wet day|# wet days}[ of {least} or more] in the month[ in {share:0} of years]";
    rains(rule: Rule, edge: Wording, share: Option<Share>)
        "one of the months that are left out, counted from the {edge} of the rains[ in {share:0} of years]";
    far_from_good(weeks: Count) "more than {weeks|# week|# weeks} from the good season";

    // Season: why there is none.
    never_holds(rule: Rule, why: Inner, nearest: Option<Temperature>)
        "The whole time {why}[; the nearest it comes is {nearest:1}].";
    never_together() "Each rule holds at some time, but never all of them on the same date.";
    season_would_change()
        "Records from nearer the hives, a lower chance, or a threshold of your own would change this; \
         a colony can also be kept whole until a warmer site is found.";

    // Season: a colony made on a date.
    odds_too_late(times: Count, years: Option<Count>)
        "Too late: in hardly any year do new workers come before the good season ends: rough, from \
         {times|# published time|# published times} to a queen, the range of the brood time[ and {years|# \
         recorded year|# recorded years}].";
    odds_doubtful(tens: Count, times: Count, years: Option<Count>)
        "Doubtful: only in about {tens:0} of 10 years do new workers come before the good season ends: rough, from \
         {times|# published time|# published times} to a queen, the range of the brood time[ and {years|# \
         recorded year|# recorded years}]. The sooner, the likelier.";
    odds_in_time(tens: Count, times: Count, years: Option<Count>)
        "In about {tens:0} of 10 years new workers come before the good season ends: rough, from \
         {times|# published time|# published times} to a queen, the range of the brood time[ and {years|# \
         recorded year|# recorded years}].";

    // Season: rain, and what is published.
    month_alone(month: Wording) "{month}";
    month_span(from: Wording, to: Wording) "{from} to {to}";
    rain_of_year(months: List, least: Rain, most: Rain, driest: Rain)
        "Wet months: {months}, {least:0n} to {most:0} each; the driest month has {driest:0}. Rain bars no \
         date by itself. Whether it helps or harms here is not known: ask a keeper near you.";
    rain_alike(each: Rain) "All months bring the same rain, {each:0}.";
    published_divide(place: Name, bees: Name, months: List, why: Name)
        "In {place}, {bees} are divided in {months}: {why}.";
    published_swarms(place: Name, bees: Name, months: List, why: Name)
        "In {place}, {bees}: swarms in {months}, {why}.";
    published_queens(place: Name, bees: Name, months: List, why: Name)
        "In {place}, {bees}: queen cells and males in {months}; {why}.";
    published_not_then(place: Name, bees: Name, months: List, why: Name)
        "In {place}, {bees}: not in {months}; {why}.";
    published_without_months(place: Name, bees: Name, why: Name) "In {place}, {bees}: {why}.";
    closed_by_numbers(months: List) "By the numbers closed in {months}.";
    at_risk_by_numbers(months: List) "By the numbers at risk in {months}.";
    good_by_numbers(months: List) "By the numbers good in {months} too.";

    // Waiting times.
    uncertain_wait(likely: Counted, latest: Count)
        "A year is likely to bring {likely:0}, but it is not certain that {latest:0} come together.";
    too_few_flying_days(brought: Counted, wait: Count)
        "A year brings about {brought:0}; the wait is for {wait:0}.";
    too_little_warmth(brought: Counted, wait: Count)
        "A year brings about {brought:0}; the wait is for {wait:0}.";
    rain_chance(lost: Share, limit: Rain, source: Name)
        "The chance of rain is counted in: about {lost:0} of days at this time of year are lost to \
         {limit:0} or more (by rain and wet days of the months; {source}).";

    // What calls for a caution.
    temperature_on(date: Date, temperature: Temperature) "{date}: {temperature:0}";
    rain_on(date: Date, rain: Rain) "{date}: {rain:0}";
    on(date: Date) "{date}";
    days_named(days: List) "{days}";
    lamp_on(dates: List) "a lamp is needed for the work of {dates}";
    declared_weight(weight: Weight) "declared weight {weight:1}";
    declared_net_weight(weight: Weight) "declared {weight:1} without the box";

    // What temperatures rest on.
    grid_climate(attribution: Name, minimum: Option<Difference>, maximum: Option<Difference>)
        "the built-in one-degree grid, {attribution}[ with {minimum:n} and {maximum} added for the \
         warming since]";
    grid_climate_today(attribution: Name, minimum: Difference, maximum: Difference)
        "the built-in one-degree grid, {attribution}, with {minimum:n} and {maximum} added for the \
         warming since and what modern stations around ask for beyond it";
    latitude_climate(minimum: Option<Difference>, maximum: Option<Difference>)
        "latitude and elevation alone, fitted to CRU CL 2.0 (New et al. 2002, Climate Research \
         21:1–25)[ with {minimum:n} and {maximum} added for the warming since]";
    hours_climate(
        readings: Count, from: Option<Moment>, until: Option<Moment>, more: Option<Count>,
        said: Option<Name>
    ) "{readings|# reading|# readings} by the hour[; nothing is known from {from} to {until}][ and in \
       {more|# more gap|# more gaps}][; {said}]";
    forecast_climate(days: Count) "a forecast of {days|# day|# days}";
    better_than_grid()
        "Normals of a near weather station, or daily records of the place, are better, above all on the \
         coast, in mountains and in frost hollows.";
    station_would_pay(error: Difference, left: Difference)
        "The default is weak here: twelve monthly minima and maxima of the nearest weather station bring \
         its error from about {error:1} down to about {left:1}.";
    better_than_latitude() "Give the monthly normals of a near weather station, or daily records.";
    far_from_equator()
        "More than 40° from the equator the latitude says too little: do not rely on this. Give the \
         monthly normals of a near weather station, or daily records.";
    normals_have_no_days()
        "Monthly means say nothing of single days; a forecast or daily records do.";
    mean_of_recorded_years()
        "Dates that were not measured are answered with the mean of the recorded years.";
    gaps_in_records()
        "Parts of the year were never measured; there the latitude has to do. Monthly normals of a \
         near station would be better.";
    forecasts_age() "Forecasts age: give a new one when it is a few days old.";

    // A place: what to look at again. As cautions they have these codes too.
    zone_far_off(zone: Name, clock: Name)
        "At solar noon the clocks of {zone} show {clock} here: look at the longitude and the zone again.";
    zero_coordinates()
        "Latitude and longitude are both exactly 0: were they left out?";
    at_sea()
        "There is no land within about half a degree: look at the coordinates again. Temperatures are \
         those of the latitude alone.";
    longitude_from_360(longitude: Angle)
        "The longitude was given as 180 to 360 and is counted as {longitude} east.";
    elevation_of_the_land(elevation: Length, error: Length)
        "No height was given: {elevation:0}, that of the land around, is taken. Heights of places \
         typically differ from it by {error:0}, and temperatures by 0.65 °C for each 100 m.";
    no_elevation() "No height was given and no land is near: 0 m is taken.";
    elevation_far_off(elevation: Length, land: Length)
        "The land around lies at about {land:0}: look at the height of {elevation:0} again.";

    // Coordinates in a text: what is asked before they are used.
    longitude_stands_first() "The first number cannot be a latitude: does the longitude stand first?";
    not_on_land_as_written()
        "As it is written this lies at sea or more than 45° from the equator: which place is meant?";
    address_of_several_places() "There are several places in this address: which is meant?";

    // What to mind; the code of the caution itself is without `caution_`.
    caution_no_stingless_bees()
        "No stingless bees are known to live here: they live in the tropics and warm subtropics of America, \
         Africa, Asia and Australia, about 30° N to 36° S. What is said of season and flight is arithmetic only.";
    caution_not_native()
        "These bees are not known to live in this part of the world. Bees must not be brought to where they \
         are not native: keep the bees of your place.";
    caution_extreme_heat()
        "Bring hives into a cool room: close the entrance with mesh the night before, carry them in before the heat, \
         and bring them back to the same place in the evening. Without a cool room leave them open, in full shade. \
         Do not open or divide. People: stay out of the sun, drink, and do not work alone.";
    caution_heat()
        "Full shade and moving air for every hive; no dividing. People: work at dawn only.";
    caution_cold_night()
        "Brood chills quickly: do not open hives in the cold, and carry them closed and level.";
    caution_cold_days()
        "Bees of this kind die within days when they are kept so cold: do not divide or carry them, and keep both halves \
         of a division warm.";
    caution_rain()
        "Do not open hives in rain; wet ground and boxes are slippery to carry on.";
    caution_dark()
        "At dawn and dusk footing and handholds are hard to see: walk the path by day first, clear it, \
         use a lamp, and watch for snakes and spiders.";
    caution_lifting()
        "Weigh a hive before you plan to lift it; lift with two people or a barrow what one cannot \
         carry with ease.";
    caution_closed_hive()
        "A closed hive must breathe: close the entrance with mesh, never airtight, keep it out of the \
         sun, and open it as soon as it stands.";
    caution_bites_allergy()
        "Stingless bees bite, and some kinds blister skin; wear a veil. Anyone with a known allergy \
         should ask a doctor first and not work alone.";
    caution_law()
        "Taking, keeping, dividing and moving native bees can need a permit, and moving them across a \
         border can be forbidden: local law and licensed practice come before this calendar.";
    caution_foragers_fly_back()
        "Moved at once within their range, foragers fly back to the old place and are lost there; the \
         colony is weakened or dies.";
    caution_nearer_than_advised()
        "Some foragers may still find back to the old place. A manual advises a greater distance for \
         moves in one go; look there for bees in the first evenings.";
    caution_many_stages()
        "So many stages take long, and each disturbs the colony: a far move and return is mostly \
         quicker and safer.";
    caution_needless_stay()
        "The new place is as far off as is advised for a move in one go: the stay elsewhere costs two \
         journeys more.";
    distance_and_homing(distance: Length, limit: Length)
        "{distance}, and only from about {limit:0} on nine in ten of these bees did not come home";
    distance_and_advised(distance: Length, least: Length)
        "{distance}, and at least {least:0} is advised";
    distance_and_stages(distance: Length, most: Length)
        "{distance}, and stages are proposed up to {most}";

    // Relocation.
    near(distance: Length, limit: Length)
        "{distance} is near enough to go in stages (up to {limit}): bees find a hive that has moved a \
         little.";
    within_range(distance: Length, far: Length, source: Name)
        "{distance} is too far for stages and less than the {far:0} that are advised for a move in one go \
         ({source}): foragers would fly back to the old place. A stay of weeks at least {far:0} away lets a \
         new generation of foragers take over.";
    beyond_range(distance: Length, far: Length, source: Name)
        "{distance} is not less than the {far:0} that are advised for a move in one go ({source}): most \
         foragers learn the new place.";
    stay_instead(limit: Length)
        "This is near the {limit:0} up to which stages are proposed. The other way is a stay far off: two \
         journeys and weeks elsewhere, but no bees searching at the old place.";
    stages_instead(limit: Length, days: Counted)
        "This is near the {limit:0} up to which stages are proposed. The other way is to go on in stages: about \
         {days:0}, and each stage disturbs the colony.";
    at_once_instead(far: Length)
        "This is near the {far:0} that are advised. The other way is to move in one go: it saves two journeys, \
         and risks that many foragers fly back and are lost.";
    farther_stay_instead(far: Length)
        "This is near the {far:0} that are advised, and some foragers may still fly back. The other way is a \
         stay of weeks farther off: two journeys more, and fewer bees lost.";
    half_find_home(distance: Length, source: Name)
        "From about {distance:0} half of the foragers let free did not come home ({source}).";
    few_find_home(distance: Length, source: Name)
        "From about {distance:0} nine in ten did not come home ({source}).";
    farthest_home(distance: Length, source: Name)
        "The farthest from which any came home is about {distance:0} ({source}).";
    homing_unknown() "How far these bees find home is not published.";
    quarter_may_return(source: Name)
        "About a quarter of mandaçaia (M. quadrifasciata) may return even from 3,000 m ({source}): look for bees \
         at the old place in the first evenings.";
    as_asked() "The way was given by the user.";
    watch_the_bees()
        "After each stage look whether foragers find the entrance; where many search at the old place, \
         wait longer or take shorter stages.";
    slow(limit: Length, source: Name, days: Counted)
        "Beyond {limit} stages are slow ({source}): about {days:0} here. A far move and return can be \
         quicker.";
    held_by_rain(days: Count, first: Date, last: Option<Date>, cause: Inner)
        "{days||# days from }{first}{days| was no flying day|}[ to {last} are no flying days. On the first]: \
         {cause}";
    held_by_cold(days: Count, first: Date, last: Option<Date>, cause: Inner)
        "{days||# days from }{first}{days| was no flying day|}[ to {last} are no flying days. On the first]: \
         {cause}";
    held_by_darkness(days: Count, first: Date, last: Option<Date>, cause: Inner)
        "{days||# days from }{first}{days| was no flying day|}[ to {last} are no flying days. On the first]: \
         {cause}";
    cool_season(days: Count)
        "On {days|# day|# days} before it the mean of the season is too cold or too dark for flight; the \
         date counts on warmer days among them.";
    mesh()
        "Close the entrance with fine mesh that lets air through, never with paper or other plugs \
         (Nogueira-Neto 1997, pp. 114–115).";
    too_cold_to_travel(temperature: Temperature, date: Date, limit: Temperature)
        "{temperature:0} at dawn on {date}: below {limit:0} brood is chilled.";
    too_warm_to_travel(temperature: Temperature, date: Date, limit: Temperature)
        "{temperature:0} at dawn on {date}: from {limit:0} a closed hive gets hot.";
    first_flying_day() "The first morning with a move window before a day on which bees fly.";
    by_lamp()
        "No daylight is left before first flight: close the entrance the evening before, move by lamp \
         and with help, open it as soon as the hive stands.";
    by_lamp_open()
        "No daylight is left before the first bees fly: move by lamp and with help, and be done before they do.";
    stopped() "Within two years the weather does not let the move begin.";

    // Plans: whether a colony can be divided.
    heavy_enough(weight: Weight, least: Weight, source: Name)
        "{weight:1} without the box; {least:1} are needed ({source}).";
    too_light(weight: Weight, least: Weight, source: Name)
        "Only {weight:1} without the box; {least:1} are needed ({source}).";
    weight_unknown(least: Weight, source: Name)
        "Its weight is not known; {least:1} without the box are needed ({source}).";
    strong_enough(strength: Wording, least: Wording, source: Name)
        "Judged {strength}; {least} is enough ({source}).";
    too_weak(strength: Wording, least: Wording, source: Name)
        "Judged {strength}; it must be {least} ({source}).";
    strength_unknown(least: Wording, source: Name)
        "Its strength is not known; it must be {least} or more ({source}).";
    divided_lately(months: Count, least: Count, source: Name, from: Date)
        "Last divided {months|# month|# months} ago; {least:0} are needed ({source}): not before {from}.";
    rested(months: Count, least: Count, source: Name)
        "Last divided {months|# month|# months} ago; {least:0} are needed ({source}).";
    history_unknown(least: Count, source: Name)
        "When it was last divided is not known; {least|# month is|# months are} needed ({source}).";
    leave_whole(from: Date) "Leave the colony whole and look again from {from} on.";

    // Plans: the weather of a day.
    too_cold_to_open(maximum: Temperature, limit: Temperature)
        "A maximum of {maximum:0}: below {limit:0} open brood chills.";
    too_short_to_open(hours: Hours)
        "Only {hours:1} are neither too cold nor too hot to open a hive.";
    mild(hours: Hours, low: Temperature, high: Temperature)
        "{hours:1} of flight at {low:0n} to {high:0}.";
    no_mild_hours(low: Temperature, high: Temperature)
        "No time of day with flight at {low:0n} to {high:0}.";
    wet(rain: Rain) "{rain:0} of rain.";
    heat_ahead(maximum: Temperature, date: Date, limit: Temperature, days: Count)
        "{maximum:0} on {date}: from {limit:0} on, a divided colony suffers; divide {days|# day|# days} \
         before it at the latest.";
    too_hot_to_shut(maximum: Temperature, date: Date, limit: Temperature)
        "{maximum:0} on {date}: on days of {limit:0} or more, and on the day before, no entrance is closed \
         and no hive is moved, unless it is carried into a cool room.";
    no_warm_hours()
        "No time of this day is fit for opening a hive: choose the warmest hours of another day.";
    lamp() "It is dark by the time the foragers are in: take a lamp.";

    // Plans: how the dates came about.
    begun_out_of_season(date: Date) "Begun on {date}, outside every good season.";
    begun_late(date: Date) "Begun on {date}, after the last safe date.";
    parted_next_season(last: Date, opens: Date)
        "Too late to part the boxes this season: the last safe date for that is {last}. They stay joined till \
         the next one, from {opens}. Or begin only then.";
    parted_after_short_season(opens: Date)
        "This season is too short to part the boxes. They stay joined till the next one, from {opens}. Or begin \
         only then.";
    last_safe(last: Date, step: Name, rebuilt: Name, closes: Date)
        "{last}: begun by then, all from “{step}” to “{rebuilt}” is over by {closes}, when the season closes, \
         even if every wait takes its longest.";
    last_safe_by_warmth(last: Date, step: Name, rebuilt: Name, until: Date, closes: Date)
        "{last}: begun by then, all from “{step}” to “{rebuilt}” is over by {until}, while it is still warm, even \
         if every wait takes its longest. No new work is begun after {closes}, as warm weeks must follow it.";
    no_last_safe(step: Name, rebuilt: Name, until: Date)
        "The season is too short: if every wait takes its longest, all from “{step}” to “{rebuilt}” is not over by \
         {until}.";
    last_safe_passed(opens: Date, closes: Date, last: Date, from: Date)
        "The season {opens} to {closes} has {last} as its last safe date, which is before {from}.";
    season_too_short(opens: Date, closes: Date, until: Date)
        "The season {opens} to {closes} is too short: a queen and her first workers would not be there \
         by {until}.";
    start_would_change()
        "Records from nearer the hives, season rules of your own, a wanted date in another season, or a \
         warmer site would change this; until then the colony is kept whole.";
    near_wanted(days: Counted, wanted: Date) "{days:0} from the date you wish for, {wanted}.";
    little_notice() "Little time to make ready.";
    early() "Early: the most warm time is left to rebuild.";
    soon(days: Counted) "{days:0} after all is ready.";
    edge_of_season() "This is the edge of the safe dates, or beyond it.";
    wish_after_limit(days: Count, last: Date, earliest: Option<Date>, latest: Option<Date>)
        "{days|# day|# days} after the last careful date of this season, {last}[ ({earliest} to {latest}, as \
         sure as the climate is known)].";
    wish_before_season(days: Count, first: Date)
        "{days|# day|# days} before the next careful date, {first}.";
    way_wait(from: Date) "Wait: from {from} on.";
    way_sooner(date: Date) "Or divide sooner: by {date}.";
    way_set_on()
        "Set an empty box on the entrance till then and part the two in season (eduction): nothing is lost by \
         waiting.";
    way_all_the_same()
        "Divide all the same: warm boxes, both halves heavy with pots and brood, and look at the first date of \
         the plan; put them together again if there is no queen.";
    opening_near_move(task: Named, date: Date, days: Count, source: Name)
        "No hive is opened on the day of a move, nor {days|# day|# days} before or after it: {task} ({date}; \
         {source}).";
    opening_after_division(task: Named, date: Date, days: Count, source: Name)
        "No hive is opened in the first {days|day|# days} after a division: {task} ({date}; {source}).";
    one_work_an_evening(task: Named, date: Date)
        "There is work at the entrance on that evening already: {task} ({date}).";
    moved_from(before: Date, why: Option<Inner>) "It was announced for {before}[. {why}]";
    falls_with(task: Name) "Falls away with “{task}”.";
    slack_moves(task: Named) "After that {task} has to move.";
    slack_too_near(task: Named) "After that it comes too near {task}.";
    slack_full() "After that another plan stands in the way.";
    start_as_alone() "By itself the plan would begin on the same day.";
    start_together(date: Date, why: Option<Inner>) "By itself the plan would begin on {date}[. {why}]";
    start_near_another(hive: Name, date: Date, days: Count)
        "Less than {days|# day|# days} from the start of {hive} ({date}).";
    starts_too_near(one: Name, other: Name, days: Count)
        "The starts of {one} and {other} are less than {days|# day|# days} apart: nothing else was left.";
    openings_full(date: Date, most: Count)
        "{date} has {most|its # opening|its # openings} already: no more are done on a day.";
    moves_full(date: Date, most: Count)
        "{date} has {most|its # move|its # moves} already: no more are done at a dawn.";
    openings_over(date: Date, most: Count)
        "On {date} there is more than {most|# opening|# openings}: nothing else was left.";
    moves_over(date: Date, most: Count)
        "On {date} there is more than {most|# move|# moves}: nothing else was left.";
    why_done(date: Date) "It was done on {date}.";
    why_past(date: Date) "{date} is over.";
    why_with(task: Named, date: Date) "It goes with {task} ({date}).";
    why_fixed(date: Date) "It was put on {date} by the keeper.";
    why_after(earliest: Date, task: Named, date: Date)
        "Too early after {task} ({date}): not before {earliest}.";
    why_too_early(earliest: Date) "Too early: not before {earliest}.";
    why_too_late(last: Date) "Too late: it is to be done by {last}.";
    why_farther(days: Count) "It is {days|# day|# days} farther from the likely date.";
    why_announced() "It was announced for another date.";
    why_would_move(task: Named, before: Date, after: Option<Date>)
        "{task} was announced for {before} and would have to move[ to {after}].";
    why_others() "Other tasks would come out worse.";
    why_later() "It would do as well, but is the later one.";
    why_never() "It has no date at all.";
    begun(date: Date) "The work itself was recorded as done on {date}.";
    before_start(days: Counted, date: Date) "{days:0} before the work itself, {date}.";
    moved() "Put on this date by the keeper.";
    queen_seen(date: Date) "Falls away: a laying queen or her eggs were seen by {date}.";
    ended_by_joining(date: Date) "Falls away: the two were put together again on {date}.";
    ended_with_the_box(date: Date) "Falls away: the box was empty on {date}.";
    ended_with_the_pair(date: Date)
        "Falls away: the other box was empty on {date}, and this one need not go further from it.";
    open_moved_or_not() "The entrance was closed: it is opened at the next dawn, moved or not.";
    helped(date: Date) "Falls away: the box was helped on {date}, and has a look of its own after that.";
    after_help(date: Date) "20 to 30 days after the box was helped ({date}) a look tells.";
    nothing_to_watch() "Neither box has to show a queen any more.";
    old_queen_seen(date: Date)
        "The old queen or her eggs were seen in the other box on {date}. This one raises a new queen.";
    old_queen_elsewhere(date: Date)
        "There were no eggs in it on {date}, and the old queen would have laid by then: she is likely in the other \
         box.";
    other_box_is_empty() "The other box is empty.";
    one_box_is_left() "A laying queen or her eggs were seen in the other box.";
    raises_the_queen() "By the method this box has to raise a queen.";
    either_box() "One of the two has the old queen, and nothing yet tells which.";
    only_if_no_eggs() "Only if the look before found no eggs.";
    until_seen(sign: Name) "Its date comes when this has been seen and recorded: {sign}.";
    until_full_box()
        "How long this bee needs from one division to the next is not published: when the box is full again of \
         brood and pots, and strong.";
    until_task(task: Name) "Its date comes with that of “{task}”.";
    seen_on(sign: Name, date: Date) "Seen on {date}: {sign}.";
    seen_already(date: Date) "Falls away: what it looks for was seen by {date}.";
    too_hot_to_close(maximum: Temperature, date: Date, limit: Temperature, source: Name)
        "Not closed: {maximum:0} on {date}, and from {limit:0} on these bees are not shut in ({source}). Leave the \
         entrance reduced.";
    passed_over(task: Name) "Not recorded, but `{task}`, which comes after it, is done.";
    lapsed(date: Date) "Its time passed on {date} without a record.";
    over() "This time has passed.";
    overdue(date: Date) "It was due by {date}: do it as soon as you can.";
    outside_range(earliest: Date, latest: Date) "The usual range is {earliest} to {latest}.";
    on_the_day_of(task: Named, date: Date, source: Name)
        "On the day of {task} ({date}): {source}.";
    after(least: Option<Count>, wait: Counted, task: Named, date: Date, source: Name)
        "[{least:0} to ]{wait:0} after {task} ({date}): {source}.";
    no_season_in_sight() "It should lie in a good season; none is in sight yet.";
    into_season(opens: Date, closes: Date, safe: Option<Date>)
        "Put into the good season {opens} to {closes}[; its last safe date is {safe}].";
    waits_for_weather(wanted: Date, why: Option<Inner>) "Not on {wanted}[: {why}]";
    no_fit_day() "No day of the range is as it should be; this is how it stands:";
    no_fit_morning() "No morning of the range is as it should be; this is how it stands:";

    // Advice on what was seen.
    count_early(day: Count, share: Option<Share>)
        "Day {day}: [{share:0} of the neighbour's bees. ]In the first month few bees are no failure, and resin alone \
         proves nothing.";
    count_early_published(day: Count, share: Option<Share>)
        "Day {day}: [{share:0} of the neighbour's bees. ]Splits of this bee had fewer than a third of the bees flying of undivided hives for 16 \
         days, with hardly any pollen for 9, and had not recovered on day 31: few bees are no failure now.";
    count_pollen(day: Count, share: Share)
        "Day {day}: as many bees with pollen as {share:0} of the neighbour's. Pollen again after the first month \
         speaks for a queen.";
    count_pollen_near(day: Count, share: Share)
        "Day {day}: as many bees with pollen as {share:0} of the neighbour's. But boxes within 2 m share bees, so it says \
         little of one of them.";
    count_little(day: Count, share: Option<Share>)
        "Day {day}: [{share:0} of the neighbour's bees. ]A count alone proves nothing: count again in a week.";
    count_none(day: Count) "Day {day}: no bee came home on a good flying day.";
    queenless_life(days: Counted, brood: Count, life: Count, source: Name)
        "Without a queen the last bees die about {days:0} after the division: brood {brood:0} and workers {life:0} \
         days ({source}).";
    queenless_life_unknown()
        "How long a box without a queen lives is not known for this bee: the life of its workers is not \
         published.";
    box_empty() "The box is empty; robbers and moths come next.";
    in_range(earliest: Date, latest: Date)
        "Today lies within its range, {earliest} to {latest}.";
    lids_closed_until(date: Date) "Leave the lids closed until {date}.";
    lids_closed() "Leave the lids closed.";
    entrances_open() "Entrances stay open.";
    nothing_to_tell_yet(day: Count)
        "Day {day} after the division, and no sign calls for opening: each opening costs warmth and \
         lets pests in.";
    heat(maximum: Temperature, date: Date, source: Name) "{maximum:0} on {date} ({source}).";
    pests(seen: Name, date: Date) "{seen} ({date})";

    // An agenda.
    waits_to_be_seen(task: Name) "When what it waits for was seen: {task}.";
    goes_on(task: Name, date: Date) "On {date}: {task}.";
    begins_on(date: Date) "It begins on {date}.";
    begins_in_good_season(date: Date) "Today would be at risk. It begins on {date}.";
    begins_in_season(date: Date) "Today is out of season. It begins on {date}.";
    nothing_to_do() "There is nothing to do.";
    nothing_until(date: Date) "There is nothing to do until {date}.";
    work_today(tasks: Count) "Tasks today: {tasks:0}.";
    queen_was_seen() "A laying queen or her eggs were seen.";
    likely_established() "Several signs speak for a laying queen, and none against.";
    against_it() "What was seen speaks against a laying queen.";
    box_is_empty(name: Name) "Empty: {name}.";
    joined_again() "The two were put together again: one colony.";
    not_before(date: Date) "It cannot be told before {date}.";
    settled_by(date: Date) "A look for eggs by {date} will tell.";
    moved_and_opened() "Moved and opened";
    moved_still_shut() "Moved, still shut";
    was_it_done(whose: Name, task: Name, date: Date) "{whose}: was this done by {date}? {task}";

    // The dates of a year.
    season_is_good(until: Date) "Good for dividing colonies until {until}.";
    season_is_at_risk(until: Date)
        "At risk until {until}: in many years too cold, too hot or too late to divide colonies.";
    season_is_closed(until: Date) "Closed until {until}: leave colonies whole.";
    last_safe_of(method: Name) "Last safe day to begin: {method}.";
    heat_is_likely(limit: Temperature, until: Date)
        "Heat of {limit:0} and more is likely until {until}: shade hives, and do not open them on such days, \
         nor close them but to carry them into a cool room.";
    wet_until(until: Date) "Wet months until {until}: more than their share of the year's rain.";
    dawn_of_month(light: Moment, early: Option<Moment>, usual: Option<Moment>)
        "Light enough to work from {light:n}[; first bees on one morning in ten by {early:n}][; bees \
         usually fly from {usual:n}].";

    // A forecast as it was copied: how it was read, and what was left out.
    taken_as_celsius(low: Temperature, high: Temperature)
        "Temperatures are taken as °C: no other unit is possible where {low:0} to {high:0} are usual.";
    taken_as_fahrenheit(low: Temperature, high: Temperature)
        "Temperatures are taken as °F: no other unit is possible where {low:0} to {high:0} are usual.";
    rain_in_mm() "Rain is taken as mm, as temperatures are in °C.";
    date_order(given: Name, date: Date)
        "“{given}” is {date}: only so do the days follow one another.";
    columns_unused(names: Name) "Not used: {names}.";
    unusual_for_the_place(date: Date, minimum: Temperature, maximum: Temperature, low: Temperature, high: Temperature)
        "{minimum:1} to {maximum:1} on {date} is far from the {low:0} to {high:0} that are usual at \
         this place. Look at it again.";
    all_past() "All its days lie before today.";
    clock_twice(zone: Name, clock: Name)
        "Clocks in {zone} showed {clock} twice: the first time that it stands is taken as the first of \
         them.";
    clock_never(zone: Name, clock: Name) "Clocks in {zone} never showed {clock}: it is left out.";
    moment_twice(count: Count)
        "{count|# reading|# readings} of moments that stand twice: the first of each counts.";
    numbers_unclear() "Its minimum and maximum are not clear.";
    no_extremes() "It does not have both minimum and maximum.";
    day_unclear() "Its day is not clear.";
    names_no_day() "It names no day.";
    not_that_weekday(date: Date, weekday: Wording) "{date} is a {weekday}.";
    far_away(date: Date) "{date} is more than a year from today.";
    day_skipped(date: Date) "The calendar of the place had no {date}.";
    not_readable(allowed: Name) "Needed is {allowed}.";
    unit_not_said() "Its unit is not said.";
    no_air_is_at(minimum: Temperature, maximum: Temperature)
        "No air is at {minimum:1} or {maximum:1}.";
    hour_refused(problem: Name) "{problem}.";
    minimum_above_maximum() "Its minimum is above its maximum.";
    rain_unreadable() "Its rain is not a number that can be; the day counts without.";
    wind_unreadable() "Its wind is not a number that can be; the day counts without.";
    date_twice(date: Date) "{date} stands more than once, with different numbers.";
    too_many_days(most: Count) "At most {most} days are read.";

    // Errors; the code of the error itself is without `error_`.
    error_out_of_range(field: Name, given: Name, allowed: Name)
        "{field} is {given}; allowed is {allowed}";
    error_unknown_zone(given: Name)
        "zone {given} is not an IANA time zone; give a name such as \"Australia/Brisbane\" (a numeric \
         offset is not enough: it does not know daylight saving)";
    error_skipped_day(date: Name, zone: Name)
        "{date} did not take place in {zone}: the calendar there skipped it";
    error_inconsistent(field: Name, problem: Name) "{field}: {problem}";
    error_unknown_name(field: Name, given: Name, allowed: Name)
        "{field} {given} is not known; known are {allowed}";
    error_unreadable(field: Name, problem: Name) "{field} cannot be read: {problem}";
    error_bad_cell(file: Name, line: Count, column: Name, given: Name, allowed: Name)
        "{file}, line {line}, column {column}: {given} is not {allowed}";
    error_bad_table(file: Name, problem: Name) "{file}: {problem}";
    error_too_large(field: Name, given: Name, allowed: Name)
        "{field} has {given}; at most {allowed} can be read";
    error_not_enough_data(field: Name, given: Name, needed: Name)
        "{field}: {given}; needed is {needed}";
}
