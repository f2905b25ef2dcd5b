//! How a new colony is made, as data: steps, the waiting times between them, what to look for, and
//! the settings on which practice differs.
//!
//! The built-in methods are the TOML files in `method/data`; a keeper's own have the same form in
//! TOML or JSON. What a method cannot say as data is code, in [`plan`](mod@crate::plan): reading the season,
//! the weather of a day and the readiness of a colony.

mod check;
mod moved;
mod resolve;
mod words;

use std::borrow::Cow;
use std::sync::OnceLock;

use serde::{Deserialize, Deserializer, Serialize};

use crate::bee::Bee;
use crate::error::Error;
use crate::record::SignKind;
use crate::task::{TaskKind, Which};
use crate::wait::Wait;
use crate::wire::{self, FromNode, Node, Refusal};

pub use moved::{HiveMove, Moved};
pub(crate) use resolve::{
    Awaited, FIRST_DECISION_D, FIXED_DAYS, LOOK_WITHIN_D, Part, Resolved, ResolvedStep, is_staged,
    last_decision, resolve, stages,
};
pub use words::{BoundLine, Line, When};

pub(crate) use moved::Advice;

/// `data/NAME.toml` as JSON, into which `build.rs` turns it.
macro_rules! as_json {
    ($name:literal) => {
        include_str!(concat!(env!("OUT_DIR"), "/", $name, ".json"))
    };
}

/// The built-in methods, in alphabetical order.
const BUILT_IN: [(&str, &str); 4] = [
    ("comb_donation", as_json!("comb_donation")),
    ("eduction", as_json!("eduction")),
    ("split", as_json!("split")),
    ("transfer", as_json!("transfer")),
];

/// How strong a colony is, as its keeper judges it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum Strength {
    /// Few bees at the entrance, little brood or few pots.
    Weak,
    /// In between.
    Medium,
    /// Steady streams, guards, brood and pots that fill the box.
    Strong,
}

impl Strength {
    /// Its name in the catalogue of sentences.
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Strength::Weak => "strength.weak",
            Strength::Medium => "strength.medium",
            Strength::Strong => "strength.strong",
        }
    }
}

/// Which box will have to raise a queen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum NewQueen {
    /// The old box.
    Parent,
    /// The new box.
    Daughter,
    /// One of the two; which one shows only when the queen or eggs are seen.
    Either,
    /// Neither: the queen moves with the colony.
    None,
}

/// What a colony must be before the method is begun.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct Readiness {
    /// True where the bee's own [`ready_net_kg`](crate::Bee::ready_net_kg) is asked, if it has one.
    #[serde(default, skip_serializing_if = "is_false")]
    pub net_weight_by_bee: bool,
    /// What shows the strength that is asked, a sentence each.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub look_for: Vec<Line>,
    /// Least net weight, kg.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub net_weight_kg: Option<f64>,
    /// Least strength.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strength: Option<Strength>,
    /// The setting whose earliest wait must have passed since the last division.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub since_division_setting: Option<String>,
    /// Where this comes from.
    pub source: String,
}

fn is_false(value: &bool) -> bool {
    !value
}

/// One way of doing a thing on which practice differs.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct SettingOption {
    /// Short name, snake case.
    pub name: String,
    /// The way in words.
    pub words: String,
    /// Publication, or `common practice, no source`.
    pub source: String,
    /// The waiting time that goes with it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait: Option<Wait>,
    /// The waiting time of the bee that goes with it; give this or `wait`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by_bee: Option<BeeWait>,
    /// With it this box keeps the old place, `parent` or `daughter`, and the other leaves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub keeps_place: Option<Which>,
}

/// A thing on which practice differs.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct Setting {
    /// Short name, snake case.
    pub name: String,
    /// What is to be chosen.
    pub question: String,
    /// The option that is taken where the keeper names none.
    pub default: String,
    /// The ways; at least two.
    pub options: Vec<SettingOption>,
    /// It matters only under this condition; of settings those before it count.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub when: Option<When>,
}

/// A number of the bee that is a waiting time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum BeeWait {
    /// [`crate::Bee::worker_development_d`], 5 d less to 5 d more.
    WorkerDevelopment,
    /// [`crate::Bee::division_interval_d`]. Where none is published the step has no date: it waits until
    /// the box is full again.
    DivisionInterval,
    /// The day after the division on which a keeper decides for the last time: day 110, or sooner the last
    /// on which brood that is given still helps, three weeks before the last bees of a box without a
    /// queen die.
    LastDecision,
}

/// What is seen, and at which box.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
pub struct SignAt {
    /// What.
    pub sign: SignKind,
    /// Where.
    pub which: Which,
}

/// A sight that a step waits for, and how long after it the step is due.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct AfterSign {
    /// What.
    pub sign: SignKind,
    /// Where.
    pub which: Which,
    /// The time since it was first seen; give this or the next.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait: Option<Wait>,
    /// The setting that has the time.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by_setting: Option<String>,
}

/// The box of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum StepBox {
    /// The old box.
    Parent,
    /// The new one.
    Daughter,
    /// Both.
    Pair,
    /// The one that leaves the old place, as a setting says.
    Leaving,
    /// The one that keeps the old place.
    Staying,
}

/// A condition that is asked on the day, not in the settings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum OnlyIf {
    /// Only if the look before found no eggs.
    NoEggs,
}

/// What comes before a step, and how long before: at most one of the three waits; with none, any
/// later time will do.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct After {
    /// The `id` of the other step.
    pub task: String,
    /// A waiting time.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait: Option<Wait>,
    /// The waiting time of a setting's option.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by_setting: Option<String>,
    /// A waiting time of the bee.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by_bee: Option<BeeWait>,
    /// True where the other step's date is known as a range only, so that its whole range counts.
    #[serde(default)]
    pub carries_range: bool,
    /// It is waited for only under a condition.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub when: Option<When>,
}

/// What a step asks of the weather of its day.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum DayRule {
    /// Nothing.
    #[default]
    Any,
    /// Warm enough to open a hive, not too hot, dry, and no heat in the following days.
    Opening,
    /// Bees can fly long enough to learn a place.
    Flying,
}

/// The part of the day that a step takes place in.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum TimeOfDay {
    /// Any time.
    #[default]
    WholeDay,
    /// The move window of the dawn.
    Dawn,
    /// Daytime with flight, while the air is neither too cold nor too hot to open a hive.
    WarmHours,
    /// After last flight.
    Evening,
}

/// What a step does to an entrance.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum EntranceWork {
    /// It is closed for some days: not where one of the next two is hotter than
    /// [`closed_limit`](crate::Bee::closed_limit).
    Close,
    /// It is opened.
    Open,
}

/// How a step is bound to the season.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum SeasonUse {
    /// Not at all.
    #[default]
    Free,
    /// It must lie in a working window.
    Within,
    /// It must lie in a working window and not after the last safe date. One step of a method.
    Safe,
}

/// What becomes of a step whose time has passed without a record of it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum IfMissed {
    /// It is still to be done.
    #[default]
    StillDue,
    /// It is dropped: a look at the hive on that day cannot be made up for.
    Lapses,
}

/// A step that is done several times.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct Repeat {
    /// How often: 2 to 60.
    pub times: u32,
    /// The time from one to the next; give this or the next.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait: Option<Wait>,
    /// The setting that has the time.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by_setting: Option<String>,
    /// The length of each, m, for the stages of a move: 0.1 to 1. Titles and reasons name it where
    /// they have `{stage_m}`, and how far the box has come by then where they have `{so_far}`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stage_m: Option<f64>,
    /// By how much the entrance is turned in all, degrees, clockwise positive; `{turned}` names what
    /// has been turned by then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub total_turn_deg: Option<f64>,
}

/// One step of a method.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct Step {
    /// Unique within the method, in kebab case.
    pub id: String,
    /// What kind of work.
    pub kind: TaskKind,
    /// Which box.
    pub which: StepBox,
    /// A short line for people.
    pub title: String,
    /// The same in a few words, for small screens and calendars; the title where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub short: Option<String>,
    /// Titles that take its place: the first that holds.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub titles: Vec<Line>,
    /// Why it is done, and why then; one or two sentences.
    pub why: String,
    /// Sentences that are added to it where they hold.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub more_why: Vec<Line>,
    /// What to look for, a sentence each.
    #[serde(default)]
    pub look_for: Vec<Line>,
    /// What comes before it.
    #[serde(default)]
    pub depends_on: Vec<After>,
    /// It has no date until this has been recorded.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub after_sign: Option<AfterSign>,
    /// It falls away once this has been recorded.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until_sign: Option<SignAt>,
    /// It is done only under this condition.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub only_if: Option<OnlyIf>,
    /// Days before the method's first step in season; for steps that prepare it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lead_d: Option<u32>,
    /// What it asks of the day.
    #[serde(default)]
    pub day: DayRule,
    /// The part of the day.
    #[serde(default)]
    pub time: TimeOfDay,
    /// Whether it closes or opens an entrance.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub entrance: Option<EntranceWork>,
    /// How it is bound to the season.
    #[serde(default)]
    pub season: SeasonUse,
    /// If its time passes.
    #[serde(default)]
    pub if_missed: IfMissed,
    /// True for a step that asks whether there is a laying queen: it falls away when one is seen.
    #[serde(default)]
    pub asks_for_queen: bool,
    /// True for the step at which the colony stands on its own: new workers. One step of a method.
    #[serde(default)]
    pub rebuilt: bool,
    /// Where it is done several times.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub repeat: Option<Repeat>,
    /// It is a step of the method only under this condition.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub when: Option<When>,
    /// Codes of the standing cautions that it calls for: `dark`, `lifting`, `closed_hive`,
    /// `bites_allergy`, `law`. Those of heat, cold and rain come with the day.
    #[serde(default)]
    pub cautions: Vec<String>,
    /// Publication, or `common practice, no source`.
    pub source: String,
}

/// How a new colony is made.
///
/// ```
/// use apiary_almanac::method;
/// let split = method::built_in("split")?;
/// assert!(split.steps().iter().any(|step| step.id == "egg-check"));
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(try_from = "Wire", into = "Wire")]
pub struct Method {
    wire: Wire,
}

#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
struct Wire {
    /// Short name, in snake case.
    name: String,
    /// Name for people.
    label: String,
    /// What is done, in a few sentences.
    about: String,
    /// Where the method comes from.
    source: String,
    /// Which box will have to raise a queen.
    new_queen: NewQueen,
    /// What the colony must be before.
    readiness: Readiness,
    /// The things on which practice differs.
    #[serde(default)]
    settings: Vec<Setting>,
    /// The steps, as they were written.
    steps: Vec<Step>,
}

impl TryFrom<Wire> for Method {
    type Error = Error;

    fn try_from(wire: Wire) -> Result<Self, Error> {
        let method = Method { wire };
        check::check(&method)?;
        Ok(method)
    }
}

impl From<Method> for Wire {
    fn from(method: Method) -> Self {
        method.wire
    }
}

impl Method {
    /// Reads a keeper's own method from TOML (feature `toml`).
    ///
    /// # Errors
    /// `unreadable` with the path; `unknown_name` for a step, setting, option or caution that is
    /// not there; `inconsistent` for names given twice, steps that wait for each other, waits out
    /// of order; `out_of_range` for numbers and texts that cannot be.
    ///
    /// ```
    /// use apiary_almanac::method::Method;
    /// let text = r#"
    ///     name = "our_way"
    ///     label = "Our way"
    ///     about = "Half of the combs go into a new box."
    ///     source = "our circle's habit"
    ///     new_queen = "either"
    ///     readiness = { source = "our circle's habit" }
    ///
    ///     [[steps]]
    ///     id = "divide"
    ///     kind = "divide"
    ///     which = "pair"
    ///     title = "Divide the combs"
    ///     why = "There is time to raise a queen."
    ///     season = "safe"
    ///     source = "our circle's habit"
    ///
    ///     [[steps]]
    ///     id = "workers"
    ///     kind = "check"
    ///     which = "pair"
    ///     title = "Look for pale young bees"
    ///     why = "Those of the new queen are pale at first."
    ///     depends_on = [{ task = "divide", wait = { unit = "days", earliest = 70, likely = 80, latest = 95, source = "own counts" } }]
    ///     rebuilt = true
    ///     source = "our circle's habit"
    /// "#;
    /// assert_eq!(Method::from_toml("ours.toml", text)?.steps()[1].id, "workers");
    /// // A wait for a step that there is not.
    /// let lost = text.replace("task = \"divide\"", "task = \"melt\"");
    /// assert_eq!(Method::from_toml("ours.toml", &lost).unwrap_err().code(), "unknown_name");
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    #[cfg(feature = "toml")]
    pub fn from_toml(file: &str, text: &str) -> Result<Self, Error> {
        wire::from_toml(file, text)
    }

    /// Reads a keeper's own method from JSON.
    ///
    /// # Errors
    /// As [`Method::from_toml`].
    ///
    /// ```
    /// use apiary_almanac::method::{Method, built_in};
    /// // A built-in method to change: written out, and read again.
    /// let text = serde_json::to_string(&built_in("split")?)?.replace("\"Split\"", "\"Our split\"");
    /// assert_eq!(Method::from_json("ours.json", &text)?.label(), "Our split");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn from_json(file: &str, text: &str) -> Result<Self, Error> {
        wire::from_json(file, text)
    }

    /// Short name.
    pub fn name(&self) -> &str {
        &self.wire.name
    }

    /// Name for people.
    pub fn label(&self) -> &str {
        &self.wire.label
    }

    /// What is done, in a few sentences.
    ///
    /// ```
    /// use apiary_almanac::method::built_in;
    /// assert!(built_in("split")?.about().starts_with("The brood of a strong colony is divided"));
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn about(&self) -> &str {
        &self.wire.about
    }

    /// Where the method comes from.
    pub fn source(&self) -> &str {
        &self.wire.source
    }

    /// Which box will have to raise a queen.
    ///
    /// ```
    /// use apiary_almanac::method::{NewQueen, built_in};
    /// // Brood is divided blindly: the old queen may be in either half. A transfer takes her along.
    /// assert_eq!(built_in("split")?.new_queen(), NewQueen::Either);
    /// assert_eq!(built_in("transfer")?.new_queen(), NewQueen::None);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn new_queen(&self) -> NewQueen {
        self.wire.new_queen
    }

    /// What the colony must be before.
    ///
    /// ```
    /// use apiary_almanac::method::{Strength, built_in};
    /// assert_eq!(built_in("split")?.readiness().strength, Some(Strength::Strong));
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn readiness(&self) -> &Readiness {
        &self.wire.readiness
    }

    /// The things on which practice differs.
    ///
    /// ```
    /// use apiary_almanac::method::built_in;
    /// // On what keepers differ, and how each of them does it.
    /// for setting in built_in("split")?.settings() {
    ///     println!("{}", setting.question);
    ///     for option in &setting.options {
    ///         println!("  {}: {} ({})", option.name, option.words, option.source);
    ///     }
    ///     assert!(setting.options.iter().any(|option| option.name == setting.default));
    /// }
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn settings(&self) -> &[Setting] {
        &self.wire.settings
    }

    /// The steps, as they were written.
    ///
    /// ```
    /// use apiary_almanac::method::built_in;
    /// let split = built_in("split")?;
    /// let place = |id| split.steps().iter().position(|step| step.id == id).ok_or(id);
    /// assert!(place("divide")? < place("egg-check")?);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn steps(&self) -> &[Step] {
        &self.wire.steps
    }
}

/// Names of the built-in methods.
///
/// ```
/// use apiary_almanac::method;
/// for name in method::method_names() {
///     println!("{name}: {}", method::built_in(name)?.about());
/// }
/// # assert!(method::method_names().contains(&"split"));
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn method_names() -> [&'static str; BUILT_IN.len()] {
    BUILT_IN.map(|(name, _)| name)
}

/// A built-in method by name.
///
/// # Errors
/// `unknown_name`, with the names that are known.
///
/// ```
/// use apiary_almanac::method::built_in;
/// assert_eq!(built_in("transfer")?.name(), "transfer");
/// let error = built_in("splitt").unwrap_err().to_string();
/// assert!(error.contains("comb_donation, eduction, split, transfer"), "{error}");
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn built_in(name: &str) -> Result<Method, Error> {
    known(name).cloned()
}

/// As [`built_in`], read at the first call.
fn known(name: &str) -> Result<&'static Method, Error> {
    static READ: [OnceLock<Method>; BUILT_IN.len()] = [const { OnceLock::new() }; BUILT_IN.len()];
    let mut all = BUILT_IN.iter().zip(&READ);
    let Some(((name, text), read)) = all.find(|((known, _), _)| *known == name) else {
        return Err(Error::UnknownName {
            field: "method".to_owned(),
            given: crate::error::clip(name),
            allowed: method_names().join(", "),
        });
    };
    if let Some(method) = read.get() {
        return Ok(method);
    }
    let method = Method::from_json(name, text)?;
    Ok(read.get_or_init(|| method))
}

/// A built-in method by name, one of the keeper's own, or a move.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(untagged)]
pub enum MethodChoice {
    /// The name of a built-in one.
    Named(String),
    /// The keeper's own.
    Own(Box<Method>),
    /// No colony is made: one is moved.
    Moved(Box<Moved>),
}

impl MethodChoice {
    /// The method for a bee, with advice where it is a move.
    ///
    /// # Errors
    /// As [`built_in`]; of a move those of its numbers.
    pub(crate) fn for_bee(&self, bee: &Bee) -> Result<(Cow<'_, Method>, Advice), Error> {
        Ok(match self {
            MethodChoice::Named(name) => (Cow::Borrowed(known(name)?), Advice::default()),
            MethodChoice::Own(method) => (Cow::Borrowed(&**method), Advice::default()),
            MethodChoice::Moved(moved) => {
                let (method, advice) = moved.method(bee)?;
                (Cow::Owned(method), advice)
            }
        })
    }
}

impl From<&str> for MethodChoice {
    fn from(name: &str) -> Self {
        MethodChoice::Named(name.to_owned())
    }
}

impl From<Method> for MethodChoice {
    fn from(own: Method) -> Self {
        MethodChoice::Own(Box::new(own))
    }
}

impl From<Moved> for MethodChoice {
    fn from(moved: Moved) -> Self {
        MethodChoice::Moved(Box::new(moved))
    }
}

impl From<HiveMove> for MethodChoice {
    fn from(moved: HiveMove) -> Self {
        Moved::Move(moved).into()
    }
}

impl FromNode for MethodChoice {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        match node {
            Node::Text(name) => Ok(MethodChoice::Named(name.clone().into_owned())),
            Node::Object(fields) if fields.iter().any(|(name, _)| name == "kind") => {
                Box::from_node(node).map(MethodChoice::Moved)
            }
            _ => Box::from_node(node).map(MethodChoice::Own),
        }
    }
}

#[cfg(feature = "shapes")]
impl wire::shape::Shape for MethodChoice {
    fn shape(shapes: &mut wire::shape::Shapes) -> wire::shape::Type {
        let own = Method::shape(shapes);
        let moved = Moved::shape(shapes);
        wire::shape::Type::Either(vec![wire::shape::Type::Text, own, moved])
    }
}

impl<'de> Deserialize<'de> for MethodChoice {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        wire::deserialize(from)
    }
}

#[cfg(test)]
mod tests;
