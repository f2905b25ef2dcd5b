//! Why an answer is what it is: a code and named values for programs, from which a catalogue makes
//! the sentence for people.

pub(crate) mod catalogue;
mod report;
mod template;
mod value;

use std::borrow::Cow;

use serde::ser::SerializeStruct;
use serde::{Serialize, Serializer};

use crate::error::Error;
use crate::wire::FromNode;

pub(crate) use catalogue as say;
pub use catalogue::{Language, Sentence, SentenceValue, Sentences, Word, sentences};
pub use report::ErrorReport;
pub use value::{Value, Values};

/// The words that stand in `source` where there is no publication behind a number or a rule.
pub const COMMON_PRACTICE: &str = "common practice, no source";

/// One reason, caution or piece of advice.
///
/// In JSON: `code`, `text` (the sentence in English) and, where there are any, `values`.
///
/// ```
/// use apiary_almanac::{Site, Weather, bee, reason::Value};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let bee = bee::built_in("generic_small")?;
/// let why = Weather::of_location(site, &bee).flight("2026-11-26".parse()?)?.reason;
/// assert_eq!(why.code, "long_enough");
/// assert!(matches!(why.values.get("hours"), Some(Value::Hours { value }) if *value > 9.0));
/// assert!(why.text().ends_with(" h of possible flight."));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, FromNode)]
#[serde(try_from = "Wire")]
#[shape(Written)]
#[non_exhaustive]
pub struct Reason {
    /// Stable, in snake case: the name of its sentence in the catalogue, or for a sentence of a
    /// user's own the name it was given.
    pub code: Cow<'static, str>,
    /// What the sentence is made with.
    pub values: Values,
    /// The sentence as it was given, where the catalogue has none.
    given: Option<Cow<'static, str>>,
}

impl Reason {
    /// A sentence that is not in the catalogue.
    pub(crate) fn new(code: &'static str, text: impl Into<Cow<'static, str>>) -> Self {
        Reason {
            code: Cow::Borrowed(code),
            values: Values::default(),
            given: Some(text.into()),
        }
    }

    /// The rule of the season that it is about.
    ///
    /// ```
    /// use apiary_almanac::season::SeasonOutcome;
    /// use apiary_almanac::{Site, Weather, bee};
    /// // What ends the good season at Lismore?
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let small = bee::built_in("generic_small")?;
    /// let (first, last) = ("2026-07-01".parse()?, "2027-06-30".parse()?);
    /// let season = Weather::of_location(site, &small).season(first, last, &Default::default())?;
    /// let SeasonOutcome::Windows { windows, .. } = season.outcome else { return Err("one".into()) };
    /// assert_eq!(windows[0].closed_by[0].rule(), Some("warm_weeks_ahead"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn rule(&self) -> Option<&str> {
        match self.values.get("rule")? {
            Value::Rule { value } => Some(value),
            _ => None,
        }
    }

    /// The sentence in English.
    ///
    /// ```
    /// use apiary_almanac::place::{doubts, site};
    /// let doubt = doubts(&site(0.0, 0.0, Some(0.0), "Etc/UTC")?).remove(0);
    /// assert_eq!(doubt.code, "zero_coordinates");
    /// assert_eq!(doubt.text(), "Latitude and longitude are both exactly 0: were they left out?");
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn text(&self) -> String {
        self.sentence(Language::English)
    }

    /// The sentence in a language of the catalogue. What a user gave stays as it was given.
    ///
    /// ```
    /// use apiary_almanac::place::{doubts, site};
    /// use apiary_almanac::reason::Language;
    /// let doubt = doubts(&site(0.0, 0.0, Some(0.0), "Etc/UTC")?).remove(0);
    /// assert_eq!(doubt.sentence(Language::English), doubt.text());
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn sentence(&self, language: Language) -> String {
        match (&self.given, catalogue::template(language, &self.code)) {
            (Some(given), _) => given.clone().into_owned(),
            (None, Some(template)) => template::fill(template, &self.values, language),
            (None, None) => self.code.clone().into_owned(),
        }
    }

    /// `text` is left out where the reason stands inside another, which has it.
    fn write<S: Serializer>(&self, to: S, is_inside: bool) -> Result<S::Ok, S::Error> {
        let text = (!is_inside || self.given.is_some()).then(|| self.text());
        let fields = 1 + usize::from(text.is_some()) + usize::from(!self.values.is_empty());
        let mut written = to.serialize_struct("Reason", fields)?;
        written.serialize_field("code", &self.code)?;
        if let Some(text) = text {
            written.serialize_field("text", &text)?;
        }
        if !self.values.is_empty() {
            written.serialize_field("values", &self.values)?;
        }
        written.end()
    }
}

impl Serialize for Reason {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        self.write(to, false)
    }
}

/// A reason as it is read: of an older version, or of a user's own, there are no values.
#[derive(FromNode)]
struct Wire {
    code: String,
    #[serde(default)]
    text: Option<String>,
    #[serde(default)]
    values: Values,
}

/// A reason as it is written.
#[cfg(feature = "shapes")]
#[derive(crate::wire::Shape)]
#[allow(dead_code)]
struct Written {
    code: String,
    /// The sentence in English.
    text: String,
    #[serde(skip_serializing_if = "Values::is_empty")]
    values: Values,
}

/// A reason as it is written within another.
#[cfg(feature = "shapes")]
#[derive(crate::wire::Shape)]
#[allow(dead_code)]
struct WrittenWithin {
    /// The name of its sentence in the catalogue, or the name that a user gave it.
    code: String,
    /// The sentence, where the catalogue has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    text: Option<String>,
    /// What the sentence is made with.
    #[serde(skip_serializing_if = "Values::is_empty")]
    values: Values,
}

impl TryFrom<Wire> for Reason {
    type Error = Error;

    fn try_from(Wire { code, text, values }: Wire) -> Result<Self, Error> {
        let mut reason = Reason {
            code: code.into(),
            values,
            given: None,
        };
        let is_known = catalogue::is_complete(&reason.code, &reason.values);
        match text {
            // What was made here is made again; any other text is kept as it was given.
            Some(text) if !is_known || text != reason.text() => reason.given = Some(text.into()),
            None if !is_known => {
                return Err(Error::Inconsistent {
                    field: "text".to_owned(),
                    problem: "it is needed where code and values make no sentence".to_owned(),
                });
            }
            _ => {}
        }
        Ok(reason)
    }
}

#[cfg(test)]
mod tests;
