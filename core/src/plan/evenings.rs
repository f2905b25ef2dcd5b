//! The evening before a move and the opening after it, as tasks of their own.

use crate::method::{EntranceWork, IfMissed, Part, Resolved, ResolvedStep, Step, TimeOfDay};
use crate::task::TaskKind;

/// Whether a step is a move before which the entrance is closed.
pub(super) fn asks(step: &Step) -> bool {
    step.kind == TaskKind::Move && step.time == TimeOfDay::Dawn
}

/// The names of the two tasks beside a move.
pub(super) fn ids(of: &str) -> [String; 2] {
    [format!("{of}-close"), format!("{of}-open")]
}

/// The names of the tasks of a stage, in order: to close, to move, to open.
pub(crate) fn parts_of_move(of: &str) -> [String; 3] {
    let [close, open] = ids(of);
    [close, of.to_owned(), open]
}

/// Adds both for each move, behind the steps of the method: their places stay as they are.
pub(super) fn add(resolved: &mut Resolved) {
    let moves: Vec<usize> = (0..resolved.steps.len())
        .filter(|place| asks(&resolved.steps[*place].step))
        .collect();
    for of in moves {
        let [close, open] = ids(&resolved.steps[of].id);
        let eve = beside(&resolved.steps[of], close, Part::Eve { of });
        let opening = beside(&resolved.steps[of], open, Part::Opening { of });
        resolved.steps.extend([eve, opening]);
    }
}

fn beside(moved: &ResolvedStep, id: String, part: Part) -> ResolvedStep {
    let closes = matches!(part, Part::Eve { .. });
    let (title, why, look_for, caution) = if closes {
        (
            "Close the entrance with metal mesh, for the move of the next dawn",
            "After last flight every forager is in, and none is left at the old place.",
            [
                "Mesh that lets air through; every gap is taped.",
                "Late comers hang at the entrance: wait for them.",
            ],
            "closed_hive",
        )
    } else {
        (
            "Open the entrance as soon as the box stands",
            "A closed box gets warm, and foragers must see the new place on the way out.",
            [
                "Bees come out and circle before the box: they learn the place.",
                "The mesh is off altogether; the entrance is not behind a leaf or a board.",
            ],
            "dark",
        )
    };
    ResolvedStep {
        id,
        title: title.to_owned(),
        short: if closes {
            "mesh on the entrance"
        } else {
            "mesh off"
        }
        .to_owned(),
        why: why.to_owned(),
        look_for: look_for.map(str::to_owned).to_vec(),
        part,
        stage: None,
        awaits: None,
        depends_on: Vec::new(),
        before: Vec::new(),
        after: Vec::new(),
        which: moved.which,
        step: Step {
            kind: TaskKind::Entrance,
            day: Default::default(),
            time: if closes {
                TimeOfDay::Evening
            } else {
                TimeOfDay::Dawn
            },
            entrance: Some(if closes {
                EntranceWork::Close
            } else {
                EntranceWork::Open
            }),
            season: Default::default(),
            if_missed: IfMissed::Lapses,
            asks_for_queen: false,
            rebuilt: false,
            lead_d: None,
            only_if: None,
            until_sign: None,
            after_sign: None,
            cautions: vec!["dark".to_owned(), caution.to_owned()],
            source: "entrance closed on the evening before: Nogueira-Neto 1997, pp. 114–115"
                .to_owned(),
            ..moved.step.clone()
        },
    }
}
