//! Moves as methods: the steps of a hive that is moved, and of a new box that is parted from its
//! parent, made from numbers.

use serde::Serialize;

use super::{
    After, DayRule, Line, Method, NewQueen, Readiness, Repeat, SeasonUse, Step, StepBox, TimeOfDay,
    Wire,
};
use crate::bee::Bee;
use crate::caution::Caution;
use crate::error::Error;
use crate::number::COMMON_PRACTICE;
use crate::reason::Reason;
use crate::task::{Choice, TaskKind};
use crate::wait::Wait;
use crate::way::{
    Parting, PartingOverrides, RelocationOverrides, RelocationSettings, Stages, Way,
    advice_on_stages, choices, choose, warnings,
};
use crate::wire::FromNode;

const STAGES: &str = "about 0.5 m a day, no knocks: Nogueira-Neto 1997, Vida e criação de abelhas indígenas sem \
     ferrão, p. 118; the time between stages: common practice, no source";
const TRAVEL: &str =
    "Nogueira-Neto 1997, Vida e criação de abelhas indígenas sem ferrão, pp. 114–118";

/// What is moved, in the place of a method: no colony is made, and no season is asked for.
///
/// JSON: `{"kind": "move", "distance_m": 4}` and `{"kind": "parting", "stages": 4}`.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Moved {
    /// A hive, from here to there.
    Move(HiveMove),
    /// A new box, from its parent's entrance to a place beside it.
    Parting(PartingOverrides),
}

/// A hive that is moved.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, derive_setters::Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct HiveMove {
    /// From here to there, m: 0.05 to 1,000,000.
    #[setters(skip)]
    pub distance_m: f64,
    /// The way to take; the engine chooses when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub way: Option<Way>,
    /// By how much the entrance is to be turned in all, degrees: −360 to 360, clockwise positive.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub total_turn_deg: Option<f64>,
    /// A user's own numbers.
    #[serde(default)]
    pub settings: RelocationOverrides,
}

impl HiveMove {
    /// A move whose way the engine chooses.
    pub fn new(distance_m: f64) -> Self {
        HiveMove {
            distance_m,
            way: None,
            total_turn_deg: None,
            settings: RelocationOverrides::default(),
        }
    }
}

/// What is known of a move beside its steps.
#[derive(Debug, Clone, Default)]
pub(crate) struct Advice {
    /// Why this way, and what to know.
    pub why: Vec<Reason>,
    /// What can go wrong.
    pub cautions: Vec<Caution>,
    /// Settings on which practice differs.
    pub choices: Vec<Choice>,
}

impl Moved {
    /// The steps for a bee, and advice.
    ///
    /// # Errors
    /// `out_of_range` for a distance that is not 0.05 to 1,000,000 m (0 m is no move); those of the
    /// settings and of the stages.
    pub(crate) fn method(&self, bee: &Bee) -> Result<(Method, Advice), Error> {
        match self {
            Moved::Move(moved) => moved.method(bee),
            Moved::Parting(own) => {
                let (parting, stages) = Parting::with_overrides(own)?;
                Ok((parted(&parting, &stages), Advice::default()))
            }
        }
    }
}

impl HiveMove {
    /// The way that is taken.
    ///
    /// # Errors
    /// Those of the settings.
    pub(crate) fn way(&self, bee: &Bee) -> Result<Way, Error> {
        let settings = RelocationSettings::with_overrides(&self.settings)?;
        Ok(choose(self.way, self.distance_m, &settings, bee).0)
    }

    fn method(&self, bee: &Bee) -> Result<(Method, Advice), Error> {
        let distance_m = self.distance_m;
        if !(0.05..=1e6).contains(&distance_m) {
            return Err(Error::out_of_range(
                "distance_m",
                distance_m,
                "0.05 to 1000000 m",
            ));
        }
        let settings = RelocationSettings::with_overrides(&self.settings)?;
        let (way, mut why) = choose(self.way, distance_m, &settings, bee);
        let method = match way {
            Way::Staged => {
                let longest_m = settings.stage_m.value;
                let turn = self.total_turn_deg;
                let stages = Stages::of(distance_m, longest_m, settings.stages, turn)?;
                why.extend(advice_on_stages(distance_m, &stages, &settings));
                in_stages(&stages, &settings.between)
            }
            Way::FarAndReturn => far_and_return(settings.far_m(bee).value, &settings),
            Way::AtOnce => at_once(),
        };
        let advice = Advice {
            why,
            cautions: warnings(self.way, distance_m, &settings, bee),
            choices: choices(way, &settings),
        };
        Ok((method, advice))
    }
}

fn in_stages(stages: &Stages, between: &Wait) -> Method {
    let step = Step {
        look_for: lines(&[
            "The same height, turned slowly, without knocks.",
            "Bees search at the old place for a while, then come in at the new one.",
            "If many still search on the next day, wait a day longer.",
        ]),
        ..stage(stages, between, StepBox::Parent)
    };
    let title = match stages.total_turn_deg {
        Some(_) => "Move the hive {stage_m} at dawn, to {so_far} in all, turned to {turned}",
        None => "Move the hive {stage_m} at dawn, to {so_far} in all",
    };
    let step = Step {
        title: title.to_owned(),
        short: Some("move to {so_far}".to_owned()),
        ..step
    };
    method(
        "staged_move",
        "Move in stages",
        "A hive is moved a little at a time, each time at the dawn of a flying day, so that its bees learn the \
         new place on the same day.",
        STAGES,
        vec![step],
    )
}

fn far_and_return(away_m: f64, settings: &RelocationSettings) -> Method {
    let stay = settings.far_stay.wait();
    let out = Step {
        title: format!("Take the hive {away_m} m away or more, before dawn"),
        short: Some("take far away".to_owned()),
        why: "From beyond their range foragers do not go back to the old place.".to_owned(),
        ..journey("take-away")
    };
    let source = stay.source.clone();
    let back = Step {
        title: "Bring the hive to its new place, before dawn".to_owned(),
        short: Some("bring to new place".to_owned()),
        why: "By now the foragers that knew the old place have died or forgotten it.".to_owned(),
        depends_on: vec![after("take-away", stay)],
        source,
        ..journey("bring-back")
    };
    method(
        "far_move",
        "Move by way of a far place",
        "A hive is taken beyond its bees' range, stays there for weeks, and comes to its new place from there.",
        TRAVEL,
        vec![out, back],
    )
}

fn at_once() -> Method {
    let step = Step {
        title: "Carry the hive to its new place, before dawn".to_owned(),
        short: Some("carry the hive".to_owned()),
        why: "From beyond their range foragers do not go back to the old place.".to_owned(),
        ..journey("carry")
    };
    method(
        "direct_move",
        "Move in one go",
        "A hive is carried to its new place in one go.",
        TRAVEL,
        vec![step],
    )
}

fn parted(parting: &Parting, stages: &Stages) -> Method {
    let set_before = Step {
        which: StepBox::Daughter,
        title: "Set the new box before the entrance of the old one".to_owned(),
        short: Some("set before the entrance".to_owned()),
        why: "Its foragers get used to an entrance of their own close to the one they know."
            .to_owned(),
        look_for: lines(&[
            "Both entrances are found within a day.",
            "No fights at either entrance.",
        ]),
        day: DayRule::Any,
        time: TimeOfDay::WholeDay,
        cautions: vec!["lifting".to_owned()],
        source: COMMON_PRACTICE.to_owned(),
        ..journey("set-before")
    };
    let first = after("set-before", parting.before_entrance.clone());
    let stage = Step {
        title: "Move the new box {stage_m} aside, at dawn".to_owned(),
        short: Some("move {stage_m}".to_owned()),
        look_for: lines(&[
            "Same height, turned slowly, without knocks.",
            "Bees of both boxes find their own entrance on the same day.",
        ]),
        depends_on: vec![first],
        source: COMMON_PRACTICE.to_owned(),
        ..stage(stages, &parting.between_stages, StepBox::Daughter)
    };
    let rest = Step {
        kind: TaskKind::Rest,
        which: StepBox::Pair,
        title: "The pair stands side by side until about this day".to_owned(),
        short: Some("side by side until here".to_owned()),
        why: "Side by side the two boxes share foragers and stores.".to_owned(),
        look_for: lines(&["Traffic at both entrances on good flying days."]),
        depends_on: vec![after("stage", parting.side_by_side.clone())],
        day: DayRule::Any,
        time: TimeOfDay::WholeDay,
        cautions: Vec::new(),
        source: COMMON_PRACTICE.to_owned(),
        ..journey("side-by-side")
    };
    method(
        "parting",
        "Part from the parent",
        "A new box that stood before its parent's entrance comes to stand beside it, in stages.",
        COMMON_PRACTICE,
        vec![set_before, stage, rest],
    )
}

fn method(name: &str, label: &str, about: &str, source: &str, steps: Vec<Step>) -> Method {
    Method {
        wire: Wire {
            name: name.to_owned(),
            label: label.to_owned(),
            about: about.to_owned(),
            source: source.to_owned(),
            new_queen: NewQueen::None,
            readiness: Readiness {
                net_weight_by_bee: false,
                look_for: Vec::new(),
                net_weight_kg: None,
                strength: None,
                since_division_setting: None,
                source: source.to_owned(),
            },
            settings: Vec::new(),
            steps,
        },
    }
}

/// A stage that is repeated.
fn stage(stages: &Stages, between: &Wait, which: StepBox) -> Step {
    Step {
        which,
        why: "Moved a little at a time, on mornings before they fly, foragers find the box again."
            .to_owned(),
        day: DayRule::Flying,
        repeat: Some(Repeat {
            times: stages.number,
            wait: Some(between.clone()),
            by_setting: None,
            stage_m: Some(stages.stage_m),
            total_turn_deg: stages.total_turn_deg,
        }),
        cautions: vec!["dark".to_owned(), "lifting".to_owned()],
        source: STAGES.to_owned(),
        ..journey("stage")
    }
}

/// A closed box that is carried at dawn.
fn journey(id: &str) -> Step {
    Step {
        id: id.to_owned(),
        kind: TaskKind::Move,
        which: StepBox::Parent,
        title: String::new(),
        short: None,
        titles: Vec::new(),
        why: String::new(),
        more_why: Vec::new(),
        look_for: lines(&[
            "The entrance is closed with metal mesh on the evening before.",
            "The box travels level and in the shade, and is opened as soon as it stands.",
        ]),
        depends_on: Vec::new(),
        after_sign: None,
        until_sign: None,
        only_if: None,
        lead_d: None,
        day: DayRule::Any,
        time: TimeOfDay::Dawn,
        entrance: None,
        season: SeasonUse::Free,
        if_missed: Default::default(),
        asks_for_queen: false,
        rebuilt: false,
        repeat: None,
        when: None,
        cautions: ["dark", "lifting", "closed_hive", "law"]
            .map(str::to_owned)
            .to_vec(),
        source: TRAVEL.to_owned(),
    }
}

fn after(task: &str, wait: Wait) -> After {
    After {
        task: task.to_owned(),
        wait: Some(wait),
        by_setting: None,
        by_bee: None,
        carries_range: false,
        when: None,
    }
}

fn lines(texts: &[&str]) -> Vec<Line> {
    texts
        .iter()
        .map(|text| Line::Plain((*text).to_owned()))
        .collect()
}
