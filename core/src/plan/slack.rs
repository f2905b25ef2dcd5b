//! How far a task can slip before something else has to move.

use super::network::Network;
use crate::reason::{Reason, Value, say};
use crate::schedule::Stop;
use crate::task::TaskSlack;
use crate::wait::DateRange;

/// The slack of a task that was placed. Where its own last date is the end, that of its whole range
/// counts: the scheduler looks through the near part of long ranges only.
pub(super) fn slack(days: u32, until: Option<Reason>, dates: &DateRange) -> TaskSlack {
    let whole_d = (dates.latest - dates.best).num_days().max(0) as u32;
    TaskSlack {
        days: match until {
            Some(_) => days,
            None => days.max(whole_d),
        },
        until,
    }
}

/// What keeps a task of a network from slipping further, if it is not its own last date.
pub(super) fn until(network: &Network<'_, '_>, stop: Stop) -> Option<Reason> {
    let title = |place: usize| Value::Title {
        value: network.title(place).to_owned().into(),
    };
    match stop {
        Stop::Moves { task } => Some(say::slack_moves(title(task))),
        Stop::TooNear { task, .. } => Some(say::slack_too_near(title(task))),
        _ => None,
    }
}
