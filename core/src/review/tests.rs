use proptest::prelude::*;
use serde_json::{Value, json};

use super::*;
use crate::record::{SIGNS, SignKind, SignStrength};
use crate::task::Which;

const SITE: &str = r#"{"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
    "zone": "Australia/Sydney"}"#;

/// A division on 1 October, and what was seen on days after it: (day, kind, box).
fn seen(method: &str, start: &str, today_d: u64, signs: &[(u64, &str, Option<&str>)]) -> Review {
    let day = |days: u64| {
        let divided: NaiveDate = "2026-10-01".parse().unwrap();
        (divided + chrono::Days::new(days)).to_string()
    };
    let mut records = vec![json!({"date": day(0), "task": start})];
    for (days, kind, which) in signs {
        let sign = match which {
            Some(which) => json!({"kind": kind, "which": which}),
            None => json!({"kind": kind}),
        };
        records.push(json!({"date": day(*days), "signs": [sign]}));
    }
    let site: Value = serde_json::from_str(SITE).unwrap();
    let request = json!({"site": site, "today": day(today_d), "method": method,
        "colony": {"name": "Hive 7"}, "records": records});
    review(&serde_json::from_value(request).unwrap()).unwrap()
}

fn donated(today_d: u64, signs: &[(u64, &str, Option<&str>)]) -> Review {
    seen("comb_donation", "donate", today_d, signs)
}

const NEW: Option<&str> = Some("daughter");
const OLD: Option<&str> = Some("parent");

#[test]
fn nothing_seen_is_uncertain_and_left_alone() {
    let review = donated(9, &[]);
    assert_eq!(review.standing, Some(Standing::Uncertain));
    assert_eq!(review.recommendations[0].advice, Advice::LeaveAlone);
    let settle = review.settle.unwrap();
    assert!(settle.look_for.contains("eggs") && settle.look_for.contains("the new box"));
    // A first look on day 30; a “no” counts from day 60 on.
    assert_eq!(settle.from.to_string(), "2026-10-31");
    assert_eq!(settle.by.to_string(), "2026-11-07");
    assert_eq!(settle.no_counts_from.unwrap().to_string(), "2026-11-30");
    let review = donated(31, &[]);
    assert_eq!(review.recommendations[0].advice, Advice::Inspect);
}

#[test]
fn signs_at_the_entrance_make_it_likely_but_only_late_enough() {
    let early = donated(
        9,
        &[
            (7, "pollen_in", NEW),
            (8, "steady_streams", NEW),
            (8, "guards", NEW),
        ],
    );
    assert_eq!(early.standing, Some(Standing::Uncertain));
    assert!(
        early.boxes[1]
            .signs_for
            .iter()
            .all(|s| s.strength == SignStrength::Weak)
    );
    let late = donated(28, &[(24, "pollen_in", NEW), (28, "steady_streams", NEW)]);
    assert_eq!(late.standing, Some(Standing::LikelyEstablished));
    assert!(late.settle.is_some());
    let one = donated(28, &[(24, "pollen_in", NEW)]);
    assert_eq!(one.standing, Some(Standing::Uncertain));
    let against = donated(
        28,
        &[
            (24, "pollen_in", NEW),
            (25, "resin_in", NEW),
            (28, "ants", NEW),
        ],
    );
    assert_eq!(against.standing, Some(Standing::Uncertain));
}

#[test]
fn males_turned_out_count_in_whichever_box_and_gathered_ones_hardly() {
    let turned_out = donated(
        25,
        &[(15, "males_turned_out", None), (24, "pollen_in", NEW)],
    );
    assert_eq!(turned_out.standing, Some(Standing::LikelyEstablished));
    // Galindo-López & Kraus: aggregations are not tied to a virgin queen inside.
    let gathered = donated(25, &[(22, "males_gathered", NEW), (24, "pollen_in", NEW)]);
    assert_eq!(gathered.standing, Some(Standing::Uncertain));
    assert_eq!(
        gathered.boxes[1]
            .signs_for
            .iter()
            .map(|s| s.strength)
            .collect::<Vec<_>>(),
        [SignStrength::Supportive, SignStrength::Weak]
    );
}

#[test]
fn bees_that_visit_each_other_tell_nothing() {
    let review = donated(
        10,
        &[
            (5, "bees_enter_other", None),
            (8, "stores_carried_between", None),
        ],
    );
    assert_eq!(review.standing, Some(Standing::Uncertain));
    assert_eq!(review.boxes[1].signs_neutral.len(), 2);
    assert_eq!(review.recommendations[0].advice, Advice::LeaveAlone);
}

#[test]
fn eggs_need_a_box_and_some_days() {
    assert_eq!(
        donated(22, &[(22, "eggs", NEW)]).standing,
        Some(Standing::LayingQueenSeen)
    );
    // Eggs of the first days may be older than the division.
    assert_eq!(
        donated(5, &[(5, "eggs", NEW)]).standing,
        Some(Standing::Uncertain)
    );
    assert_eq!(
        donated(22, &[(22, "eggs", OLD)]).standing,
        Some(Standing::Uncertain)
    );
    let boxless = donated(22, &[(22, "eggs", None)]);
    assert_eq!(boxless.standing, Some(Standing::Uncertain));
    assert!(
        boxless
            .recommendations
            .iter()
            .any(|r| r.advice == Advice::SayWhichBox)
    );
}

#[test]
fn of_a_split_both_boxes_must_show() {
    let split = |signs: &[(u64, &str, Option<&str>)]| seen("split", "divide", 26, signs);
    let one = split(&[(25, "eggs", NEW)]);
    assert_eq!(one.standing, Some(Standing::Uncertain));
    assert!(one.settle.unwrap().look_for.contains("the old box"));
    assert_eq!(
        one.plan.task("egg-check").unwrap().state,
        TaskState::Planned
    );
    let both = split(&[(25, "eggs", NEW), (26, "laying_queen", OLD)]);
    assert_eq!(both.standing, Some(Standing::LayingQueenSeen));
    assert_eq!(
        both.plan.task("egg-check").unwrap().state,
        TaskState::Dropped
    );
    assert_eq!(
        split(&[(26, "eggs", Some("pair"))]).standing,
        Some(Standing::LayingQueenSeen)
    );
}

#[test]
fn pests_are_fought_at_once() {
    let review = donated(6, &[(6, "phorid_larvae", NEW)]);
    assert_eq!(review.standing, Some(Standing::Uncertain));
    let first = &review.recommendations[0];
    assert_eq!(
        (first.advice, first.which),
        (Advice::FightPests, Which::Daughter)
    );
    assert!(first.source.contains("Rivera Hernández"));
    let worse = donated(8, &[(6, "phorid_larvae", NEW), (8, "ants", NEW)]);
    assert_eq!(worse.standing, Some(Standing::Failing));
    // No help is a new queen's while pests are inside.
    let advice: Vec<_> = worse.recommendations.iter().map(|r| r.advice).collect();
    assert_eq!(advice, [Advice::FightPests]);
}

#[test]
fn an_empty_box_is_lost_and_a_queen_can_be_lost_again() {
    let lost = donated(40, &[(24, "eggs", NEW), (40, "box_empty", NEW)]);
    assert_eq!(lost.standing, Some(Standing::Lost));
    assert!(
        lost.recommendations
            .iter()
            .any(|r| r.advice == Advice::CloseEmptyBox)
    );
    let somewhere = donated(40, &[(40, "box_empty", None)]);
    assert_eq!(somewhere.standing, Some(Standing::Uncertain));
    let gone = donated(62, &[(24, "eggs", NEW), (62, "no_eggs", NEW)]);
    assert_eq!(gone.standing, Some(Standing::Failing));
    assert!(
        gone.recommendations
            .iter()
            .any(|r| r.advice == Advice::GiveBrood)
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn without_a_conclusive_sign_nothing_is_certain(
        kinds in prop::collection::vec((0usize..SIGNS.len(), 0u64..60, 0usize..4), 0..8),
    ) {
        let boxes = [None, Some("parent"), Some("daughter"), Some("pair")];
        let names: Vec<(u64, String, Option<&str>)> = kinds
            .iter()
            .filter(|(kind, ..)| SIGNS[*kind].strength != SignStrength::Conclusive)
            .map(|(kind, day, which)| {
                let name = serde_json::to_value(SIGNS[*kind].kind).unwrap();
                (*day, name.as_str().unwrap().to_owned(), boxes[*which])
            })
            .collect();
        let signs: Vec<_> = names.iter().map(|(d, k, w)| (*d, k.as_str(), *w)).collect();
        let review = donated(60, &signs);
        for one in &review.boxes {
            prop_assert!(!matches!(one.standing, Standing::LayingQueenSeen | Standing::Lost));
        }
        prop_assert!(review.settle.is_some() && !review.recommendations.is_empty());
        let known = |kind: SignKind| signs.iter().any(|(_, name, _)| {
            serde_json::to_value(kind).unwrap() == *name
        });
        for one in &review.boxes {
            for sign in one.signs_for.iter().chain(&one.signs_against).chain(&one.signs_neutral) {
                prop_assert!(known(sign.kind) && !sign.source.is_empty());
            }
        }
    }
}
