//! What a plan is made from.

use chrono::NaiveDate;
use derive_setters::Setters;
use serde::Serialize;

use super::{Bench, LONGEST_ID, LONGEST_NOTE, LONGEST_TEXT, MOST_RECORDS, evenings, helps};
use crate::bee::{BeeOverrides, name_or_table};
use crate::civil::{check_date, day_start};
use crate::climate::ClimateInput;
use crate::error::{Error, at_most, clip, quoted};
use crate::method::{Method, MethodChoice, Strength, stages};
use crate::morning::{MorningOverrides, Weekday};
use crate::record::{Outcome, Record};
use crate::season::SeasonSettings;
use crate::site::Site;
use crate::task::Which;
use crate::way::StageOverrides;
use crate::wire::FromNode;

/// The colony that is to be divided, as its keeper knows it. Nothing here is guessed: what is not
/// declared becomes a task to find out.
#[derive(Debug, Clone, Default, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct Colony {
    /// Its name.
    #[setters(skip)]
    pub name: String,
    /// The name the new colony will have.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub daughter_name: Option<String>,
    /// Weight without the box, kg.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub net_weight_kg: Option<f64>,
    /// Months since it was last divided, or made.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub months_since_division: Option<f64>,
    /// How strong its keeper judges it to be.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strength: Option<Strength>,
}

impl Colony {
    /// A colony of which only the name is known.
    ///
    /// ```
    /// use apiary_almanac::plan::Colony;
    /// let colony = Colony::new("Lantern").with_net_weight_kg(3.6);
    /// assert_eq!(colony.net_weight_kg, Some(3.6));
    /// ```
    pub fn new(name: impl Into<String>) -> Self {
        Colony {
            name: name.into(),
            ..Self::default()
        }
    }
}

/// A task that the keeper has put on a date.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, FromNode)]
pub struct FixedDate {
    /// The `id` of the task.
    pub task: String,
    /// The date.
    pub date: NaiveDate,
}

/// What a plan is made from.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct PlanRequest {
    /// Where the hives stand.
    #[setters(skip)]
    pub site: Site,
    /// The day on which the plan is made.
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
    /// The colony.
    #[setters(skip)]
    pub colony: Colony,
    /// The date near which the keeper would like to begin; of a move the first morning that will do.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted: Option<NaiveDate>,
    /// Weight of the hive with its box, kg, for what is said of lifting.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[setters(strip_option = false)]
    pub hive_weight_kg: Option<f64>,
    /// Choices where practice differs, and the keeper's own numbers.
    #[serde(default)]
    pub settings: super::PlanOverrides,
    /// How the season is to be judged.
    #[serde(default)]
    pub season: SeasonSettings,
    /// A user's own numbers for moves at dawn and closing in the evening.
    #[serde(default)]
    pub mornings: MorningOverrides,
    /// Days on which the keeper can work; every day when empty.
    #[serde(default)]
    pub free_weekdays: Vec<Weekday>,
    /// Name of the keeper, for the title.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub keeper: Option<String>,
    /// Name of the club, for the title.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub club: Option<String>,
    /// The id that the plan shall have. Give back the id of a plan when it is planned anew, so that
    /// calendars know it again.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// What was done and seen so far.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub records: Vec<Record>,
    /// Tasks that the keeper has put on a date.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub fixed: Vec<FixedDate>,
    /// The dates that were announced before. They stay unless weather, records or a rule forbid them,
    /// and what moves says why.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub announced: Vec<FixedDate>,
}

impl PlanRequest {
    /// A plan as of `today`, with the default bee, climate, settings and season.
    ///
    /// ```
    /// use apiary_almanac::plan::{Colony, PlanRequest};
    /// use apiary_almanac::{Site, plan};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let today = "2026-09-13".parse()?;
    /// let found = plan(&PlanRequest::new(site, today, "split", Colony::new("Wattle")))?;
    /// // Nothing is put before today.
    /// assert!(found.tasks.iter().all(|task| task.dates.best >= today));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(
        site: Site,
        today: NaiveDate,
        method: impl Into<MethodChoice>,
        colony: Colony,
    ) -> Self {
        PlanRequest {
            site,
            today,
            bee: BeeOverrides::default(),
            climate: ClimateInput::default(),
            method: method.into(),
            colony,
            wanted: None,
            hive_weight_kg: None,
            settings: super::PlanOverrides::default(),
            season: SeasonSettings::default(),
            mornings: MorningOverrides::default(),
            free_weekdays: Vec::new(),
            keeper: None,
            club: None,
            id: None,
            records: Vec::new(),
            fixed: Vec::new(),
            announced: Vec::new(),
        }
    }
}

/// What an outcome must have beside it.
fn checked_outcome(record: &Record, field: &impl Fn(&str) -> String) -> Result<(), Error> {
    let problem = match (record.outcome, &record.task, record.which) {
        (Some(Outcome::Done | Outcome::NotPossible), None, _) => {
            "done and not_possible say what came of a task: name the task"
        }
        (Some(Outcome::GaveQueen), _, None | Some(Which::Pair)) => {
            "say in which, the box that the queen was given to: parent or daughter"
        }
        (None, _, Some(_)) => {
            return Err(Error::Inconsistent {
                field: field("which"),
                problem:
                    "it is the box of an outcome, and there is none; signs have a box of their own"
                        .to_owned(),
            });
        }
        _ => return Ok(()),
    };
    Err(Error::Inconsistent {
        field: field("outcome"),
        problem: problem.to_owned(),
    })
}

/// Most of a kind that one sign can count.
const MOST_SEEN: u32 = 1_000_000;
/// Most counts of one record.
const MOST_COUNTS: usize = 20;

/// Tasks that the planner itself adds to those of a method.
pub(super) const FIND_WEIGHT: &str = "find-weight";
pub(super) const FIND_HISTORY: &str = "find-history";
pub(super) const FIND_STRENGTH: &str = "find-strength";
pub(crate) const NOT_READY: &str = "not-ready";
pub(crate) const NO_SEASON: &str = "no-season";
const OWN_TASKS: [&str; 5] = [
    FIND_WEIGHT,
    FIND_HISTORY,
    FIND_STRENGTH,
    NOT_READY,
    NO_SEASON,
];

impl PlanRequest {
    pub(super) fn check(&self, method: &Method) -> Result<(), Error> {
        let ids = task_ids(method, self.settings.stages.as_ref())?;
        let colony = &self.colony;
        if colony.name.trim().is_empty() {
            return Err(Error::out_of_range(
                "colony.name",
                "empty",
                "the name of the colony",
            ));
        }
        for (field, text) in [
            ("colony.name", Some(&colony.name)),
            ("colony.daughter_name", colony.daughter_name.as_ref()),
            ("keeper", self.keeper.as_ref()),
            ("club", self.club.as_ref()),
        ] {
            let length = text.map_or(0, String::len);
            if length > LONGEST_TEXT {
                return Err(too_long(field, length, LONGEST_TEXT));
            }
        }
        weight("colony.net_weight_kg", colony.net_weight_kg)?;
        if let Some(kg) = self.hive_weight_kg
            && !(0.5..=200.0).contains(&kg)
        {
            return Err(Error::out_of_range("hive_weight_kg", kg, "0.5 to 200 kg"));
        }
        if let Some(months) = colony.months_since_division
            && !(0.0..=600.0).contains(&months)
        {
            return Err(Error::out_of_range(
                "colony.months_since_division",
                months,
                "0 to 600 months",
            ));
        }
        if let Some(id) = &self.id
            && !(id.len() <= LONGEST_ID
                && id.split('-').all(|word| {
                    !word.is_empty()
                        && word
                            .bytes()
                            .all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit())
                }))
        {
            return Err(Error::out_of_range(
                "id",
                quoted(id),
                format_args!("small letters, digits and hyphens, up to {LONGEST_ID}"),
            ));
        }
        at_most("records", self.records.len(), MOST_RECORDS, "records")?;
        at_most(
            "free_weekdays",
            self.free_weekdays.len(),
            7,
            "days of the week",
        )?;
        for (index, record) in self.records.iter().enumerate() {
            let field = |name: &str| format!("records[{index}].{name}");
            check_date(&field("date"), record.date)?;
            if record.date > self.today {
                return Err(Error::Inconsistent {
                    field: field("date"),
                    problem: format!("{} is after today, {}", record.date, self.today),
                });
            }
            weight(&field("net_weight_kg"), record.net_weight_kg)?;
            if let Some(id) = &record.task {
                known(&field("task"), id, &ids)?;
            }
            let length = record.note.as_ref().map_or(0, String::len);
            if length > LONGEST_NOTE {
                return Err(too_long(&field("note"), length, LONGEST_NOTE));
            }
            at_most(&field("counts"), record.counts.len(), MOST_COUNTS, "counts")?;
            checked_outcome(record, &field)?;
            for sign in &record.signs {
                if let Some(count) = sign.count
                    && !(1..=MOST_SEEN).contains(&count)
                {
                    return Err(Error::out_of_range(
                        &field("signs.count"),
                        count,
                        format_args!("1 to {MOST_SEEN}; leave out a sign that was not seen"),
                    ));
                }
            }
            for count in &record.counts {
                let counted = [Some(count.counted), count.neighbour];
                for one in counted.into_iter().flatten() {
                    let of_these = one.pollen.max(one.resin).unwrap_or(0);
                    if of_these > one.home {
                        return Err(Error::Inconsistent {
                            field: field("counts"),
                            problem: format!("{of_these} of {} bees carry something", one.home),
                        });
                    }
                }
                if count.which == Which::Pair {
                    return Err(Error::Inconsistent {
                        field: field("counts.which"),
                        problem: "a count is of one box: parent or daughter".to_owned(),
                    });
                }
            }
            if record.signs.len() > 50 {
                return Err(Error::TooLarge {
                    field: field("signs"),
                    given: format!("{} signs", record.signs.len()),
                    allowed: "50 signs".to_owned(),
                });
            }
        }
        for (name, dates) in [("fixed", &self.fixed), ("announced", &self.announced)] {
            for (index, fixed) in dates.iter().enumerate() {
                known(&format!("{name}[{index}].task"), &fixed.task, &ids)?;
                check_date(&format!("{name}[{index}].date"), fixed.date)?;
                day_start(fixed.date, self.site.zone)?;
                if dates[..index].iter().any(|f| f.task == fixed.task) {
                    return Err(Error::Inconsistent {
                        field: name.to_owned(),
                        problem: format!("{} stands there twice", fixed.task),
                    });
                }
            }
        }
        Ok(())
    }

    /// The date that was announced for a task.
    pub(crate) fn announced_on(&self, id: &str) -> Option<NaiveDate> {
        let mut announced = self.announced.iter();
        announced.find(|date| date.task == id).map(|date| date.date)
    }

    /// The date that the keeper has put a task on.
    pub(super) fn fixed_on(&self, id: &str) -> Option<NaiveDate> {
        self.fixed
            .iter()
            .find(|fixed| fixed.task == id)
            .map(|fixed| fixed.date)
    }
}

fn weight(field: &str, kg: Option<f64>) -> Result<(), Error> {
    match kg {
        Some(kg) if !(0.05..=100.0).contains(&kg) => {
            Err(Error::out_of_range(field, kg, "0.05 to 100 kg"))
        }
        _ => Ok(()),
    }
}

fn too_long(field: &str, length: usize, allowed: usize) -> Error {
    Error::TooLarge {
        field: field.to_owned(),
        given: format!("{length} bytes"),
        allowed: format!("{allowed} bytes"),
    }
}

/// Every id that a task of this method can have, whatever was chosen.
fn task_ids(method: &Method, own: Option<&StageOverrides>) -> Result<Vec<String>, Error> {
    let mut ids = Vec::new();
    for step in method.steps() {
        let from = ids.len();
        match &step.repeat {
            None => ids.push(step.id.clone()),
            Some(repeat) => {
                let stages = stages(step, own)?.map_or(0, |stages| stages.number);
                let times = repeat.times.max(stages);
                ids.extend((1..=times).map(|number| format!("{}-{number}", step.id)));
            }
        }
        if evenings::asks(step) {
            let own: Vec<String> = ids[from..].to_vec();
            ids.extend(own.iter().flat_map(|id| evenings::ids(id)));
        }
    }
    ids.extend((0..helps::MOST_HELPS).map(helps::id));
    ids.extend(OWN_TASKS.map(str::to_owned));
    Ok(ids)
}

fn known(field: &str, id: &str, ids: &[String]) -> Result<(), Error> {
    if ids.iter().any(|known| known == id) {
        return Ok(());
    }
    Err(Error::UnknownName {
        field: field.to_owned(),
        given: clip(id),
        allowed: clip(&ids.join(", ")),
    })
}

/// Refuses a task that no plan by this method has.
pub(super) fn known_task(field: &str, id: &str, bench: &Bench<'_>) -> Result<(), Error> {
    let own_stages = bench.request.settings.stages.as_ref();
    known(field, id, &task_ids(bench.method, own_stages)?)
}
