//! What holds only for some bees, at some places or with some choices.

use serde::{Deserialize, Deserializer, Serialize};

use super::SettingOption;
use crate::bee::{Bee, Region};
use crate::site::Site;
use crate::wire::{self, FromNode, Node, Refusal};

/// When something holds: all that is given must.
#[derive(Debug, Clone, Default, PartialEq, Serialize, FromNode)]
#[serde(default)]
pub struct When {
    /// Name of a setting; with one of the next two.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub setting: Option<String>,
    /// The option of it that is chosen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub is: Option<String>,
    /// The option of it that is not chosen, while the setting matters.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub is_not: Option<String>,
    /// Whether the bee raises its queens in queen cells: not so in *Melipona*.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub builds_queen_cells: Option<bool>,
    /// The bee is one of these species or genera, in small letters: `tetragonula_carbonaria`, `melipona`.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub bees: Vec<String>,
    /// The hives stand in this part of the world.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub region: Option<Region>,
}

/// A setting's name and the option that was chosen.
pub(super) type Chosen<'a> = (&'a str, &'a SettingOption);

pub(super) fn chosen_option<'a>(
    options: &[Chosen<'a>],
    setting: &str,
) -> Option<&'a SettingOption> {
    let (_, option) = options.iter().find(|(name, _)| *name == setting)?;
    Some(option)
}

/// What conditions are judged by.
pub(super) struct Case<'a> {
    pub options: Vec<Chosen<'a>>,
    pub bee: &'a Bee,
    pub site: &'a Site,
}

impl Case<'_> {
    pub fn holds(&self, when: Option<&When>) -> bool {
        let Some(when) = when else { return true };
        let chosen = |setting: &String| chosen_option(&self.options, setting);
        let by_setting = when.setting.as_ref().is_none_or(|setting| {
            chosen(setting).is_some_and(|option| {
                when.is.as_ref().is_none_or(|is| option.name == *is)
                    && when.is_not.as_ref().is_none_or(|not| option.name != *not)
            })
        });
        by_setting
            && when
                .builds_queen_cells
                .is_none_or(|builds| builds == self.bee.builds_queen_cells())
            && (when.bees.is_empty() || when.bees.iter().any(|name| self.bee.is_of(name)))
            && when.region.is_none_or(|region| region.holds(self.site))
    }

    /// The texts of the lines that hold.
    pub fn texts<'l>(&self, lines: &'l [Line]) -> impl Iterator<Item = &'l str> {
        lines
            .iter()
            .filter(|line| self.holds(line.when()))
            .map(Line::text)
    }
}

/// A sentence that holds always, or only under a condition.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Line {
    /// Always.
    Plain(String),
    /// Under a condition.
    Bound(BoundLine),
}

/// A sentence and its condition.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct BoundLine {
    /// The sentence.
    pub text: String,
    /// When it holds.
    pub when: When,
}

impl Line {
    /// The sentence.
    pub fn text(&self) -> &str {
        match self {
            Line::Plain(text) => text,
            Line::Bound(line) => &line.text,
        }
    }

    /// When it holds; `None` for always.
    pub fn when(&self) -> Option<&When> {
        match self {
            Line::Plain(_) => None,
            Line::Bound(line) => Some(&line.when),
        }
    }
}

impl FromNode for Line {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        match node {
            Node::Text(text) => Ok(Line::Plain(text.clone().into_owned())),
            _ => BoundLine::from_node(node).map(Line::Bound),
        }
    }
}

#[cfg(feature = "shapes")]
impl wire::shape::Shape for Line {
    fn shape(shapes: &mut wire::shape::Shapes) -> wire::shape::Type {
        let bound = BoundLine::shape(shapes);
        wire::shape::Type::Either(vec![wire::shape::Type::Text, bound])
    }
}

impl<'de> Deserialize<'de> for Line {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        wire::deserialize(from)
    }
}
