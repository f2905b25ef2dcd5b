//! Stories: what a keeper did and saw, and what is asked of them then. All invented.

use super::*;
use crate::climate::Forecast;
use crate::plan::Colony;
use crate::record::{Record, Sign, SignKind};
use crate::site::Site;

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn wattle(today: &str, records: Vec<Record>) -> PlanRequest {
    let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap();
    let colony = Colony::new("Wattle").with_daughter_name("Saltbush");
    PlanRequest::new(site, date(today), "split", colony).with_records(records)
}

fn divided() -> Record {
    Record::new(date("2026-10-02")).with_task("divide")
}

fn seen(day: &str, kind: SignKind, which: Which) -> Record {
    Record::new(date(day)).with_signs([Sign::new(kind).with_which(which)])
}

fn of(request: PlanRequest) -> Agenda {
    agenda(&AgendaRequest::new([request])).unwrap()
}

/// Every item that has a date, and may thus be shown as something to do.
fn shown(agenda: &Agenda) -> Vec<&Item> {
    [&agenda.now, &agenda.next, &agenda.this_week, &agenda.later]
        .into_iter()
        .flatten()
        .collect()
}

#[test]
fn eighteen_days_after_a_split_nothing_can_be_told_and_nothing_is_asked() {
    let males = seen("2026-10-19", SignKind::MalesTurnedOut, Which::Daughter);
    let found = of(wattle("2026-10-20", vec![divided(), males]));
    assert_eq!(found.state.word, StateWord::Uncertain);
    let settle = found.colonies[0].settle.as_ref().unwrap();
    // Before day 30 a look means nothing for a small bee.
    assert!(settle.from >= date("2026-11-01"), "{settle:?}");
    assert_eq!(found.state.sentence.code, "not_before");
    assert!(shown(&found).iter().all(|item| item.only_if.is_none()));
    assert!(!found.only_if.is_empty());
    for item in &found.only_if {
        assert!(item.only_if.is_some() && item.date > date("2026-10-20"));
    }
    assert!(
        found
            .next
            .iter()
            .all(|item| item.date == found.next[0].date)
    );
}

#[test]
fn once_eggs_are_seen_nobody_is_asked_to_look_or_to_help() {
    let eggs = seen("2026-11-02", SignKind::Eggs, Which::Pair);
    let found = of(wattle("2026-11-03", vec![divided(), eggs]));
    assert_eq!(found.state.word, StateWord::LayingQueenSeen);
    assert!(found.only_if.is_empty(), "{:?}", found.only_if);
    let asks = shown(&found)
        .into_iter()
        .any(|item| item.task == "egg-check" || item.task == "decide");
    assert!(!asks);
    assert!(found.colonies[0].settle.is_none());
}

#[test]
fn a_lost_box_keeps_no_task_and_the_other_keeps_its_own() {
    let before = of(wattle("2026-10-20", vec![divided()]));
    let moved = before
        .now
        .iter()
        .chain(shown(&before))
        .find(|item| item.kind == TaskKind::Entrance)
        .map(|item| item.which)
        .unwrap();
    let empty = seen("2026-10-20", SignKind::BoxEmpty, moved);
    let found = of(wattle("2026-10-20", vec![divided(), empty]));
    assert_eq!(found.state.word, StateWord::Lost);
    assert!(shown(&found).iter().all(|item| item.which != moved));
    assert!(!shown(&found).is_empty());
    assert!(!found.colonies[0].advice.is_empty());
}

#[test]
fn after_fifty_silent_days_what_was_due_is_asked_for_and_not_listed_twice() {
    let found = of(wattle("2026-11-21", vec![divided()]));
    assert!(!found.questions.is_empty());
    for question in &found.questions {
        assert!(question.was_due < date("2026-11-21"));
        assert_eq!(question.sentence.code, "was_it_done");
        let again = shown(&found)
            .into_iter()
            .any(|item| item.task == question.item.task);
        assert!(!again, "{}", question.item.task);
    }
    // A move that is asked about stands between its closing and its opening all the same.
    let first = shown(&found)[0];
    let then: Vec<&str> = first.then.iter().map(|next| next.task.as_str()).collect();
    assert_eq!(
        (first.task.as_str(), then),
        ("stage-1-close", vec!["stage-1", "stage-1-open"])
    );
}

/// The day before the careful limit is good and the day after it at risk, and both are planned on.
#[test]
fn a_wish_past_the_careful_limit_is_at_risk_with_the_other_ways() {
    let wish = |date: NaiveDate| {
        let mut request = wattle("2027-01-10", Vec::new());
        request.wanted = Some(date);
        of(request)
    };
    let last = of(wattle("2027-01-10", Vec::new())).colonies[0]
        .last_safe
        .unwrap();
    let words = [last, last + chrono::Days::new(1)].map(|date| wish(date).state.word);
    assert_eq!(words, [StateWord::Good, StateWord::AtRisk]);
    let late = wish(last + chrono::Days::new(1));
    let said = late.colonies[0].wish.as_ref().unwrap();
    assert_eq!(late.state.sentence, said.reasons[0]);
    assert!(said.other_ways.len() > 1);
    assert!(
        wish(last).colonies[0]
            .wish
            .as_ref()
            .unwrap()
            .other_ways
            .is_empty()
    );
}

/// A plan for the next season does not call today good.
#[test]
fn without_a_wish_a_season_that_is_to_come_is_not_yet() {
    let limit = of(wattle("2027-01-10", Vec::new())).colonies[0].last_safe;
    let day_after = limit.unwrap() + chrono::Days::new(1);
    let in_june = date("2027-06-20");
    for (today, word, code) in [
        (date("2027-01-10"), StateWord::Good, "begins_on"),
        (day_after, StateWord::NotYet, "begins_in_good_season"),
        (in_june, StateWord::NotYet, "begins_in_season"),
    ] {
        let mut request = wattle("2027-01-10", Vec::new());
        request.today = today;
        let state = of(request.clone()).state;
        assert_eq!((state.word, &*state.sentence.code), (word, code), "{today}");
        // Who wishes for a good day is answered that it is good.
        request.wanted = Some(date("2027-11-10"));
        assert_eq!(of(request).state.word, StateWord::Good, "{today}");
    }
}

#[test]
fn an_announced_day_that_passed_is_asked_for() {
    let first = of(wattle("2026-10-05", vec![divided()]));
    let mut stages = shown(&first).into_iter().map(|item| item.then.as_slice());
    let due = stages.find_map(|then| then.first()).unwrap().clone();
    let mut later = wattle("2026-10-05", vec![divided()]);
    later.announced = vec![crate::plan::FixedDate {
        task: due.task.clone(),
        date: due.date,
    }];
    later.today = due.date + chrono::Days::new(1);
    let found = of(later);
    let question = found
        .questions
        .iter()
        .find(|question| question.item.task == due.task);
    assert_eq!(question.map(|question| question.was_due), Some(due.date));
}

#[test]
fn the_day_before_a_division_and_a_colony_that_is_not_ready() {
    let strong = |name: &str, kg: f64| {
        let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap();
        let colony = Colony::new(name)
            .with_net_weight_kg(kg)
            .with_months_since_division(30.0)
            .with_strength(crate::method::Strength::Strong);
        PlanRequest::new(site, date("2026-10-20"), "split", colony)
            .with_bee(crate::bee::BeeOverrides::default().with_based_on("tetragonula_carbonaria"))
    };
    let both = agenda(&AgendaRequest::new([
        strong("Bunya", 3.9),
        strong("Gidgee", 1.2),
    ]))
    .unwrap();
    let words: Vec<_> = both
        .colonies
        .iter()
        .map(|colony| colony.state.word)
        .collect();
    assert_eq!(words, [StateWord::Good, StateWord::NotReady]);
    assert!(both.colonies[0].last_safe.is_some());
    assert!(matches!(both.state.word, StateWord::Rest | StateWord::Work));
    // In the order of the days over all colonies.
    let dates: Vec<_> = shown(&both).iter().map(|item| item.date).collect();
    assert!(dates.is_sorted(), "{dates:?}");
    let plans: std::collections::BTreeSet<_> =
        shown(&both).iter().map(|item| item.plan.clone()).collect();
    assert_eq!(plans.len(), 2);
}

#[test]
fn a_long_note_with_umlauts_changes_nothing() {
    let plain = of(wattle("2026-10-20", vec![divided()]));
    let note = divided().with_note("Bäume blühen: ".repeat(100));
    let noted = of(wattle("2026-10-20", vec![note]));
    assert_eq!((plain.state, plain.next), (noted.state, noted.next));
}

#[test]
fn a_brief_agenda_is_the_same_without_what_it_rests_on() {
    let request = AgendaRequest::new([wattle("2026-10-20", vec![divided()])]);
    let whole = agenda(&request).unwrap();
    let brief = agenda(&request.with_brief(true)).unwrap();
    assert!(brief.reviews.is_empty() && whole.reviews.len() == 1);
    assert_eq!(
        Agenda {
            reviews: Vec::new(),
            ..whole
        },
        brief
    );
}

#[test]
fn the_same_request_gives_the_same_bytes() {
    let males = seen("2026-10-19", SignKind::MalesTurnedOut, Which::Daughter);
    let request = || AgendaRequest::new([wattle("2026-10-20", vec![divided(), males.clone()])]);
    let text = |request: &AgendaRequest| serde_json::to_string(&agenda(request).unwrap()).unwrap();
    assert_eq!(text(&request()), text(&request()));
}

#[test]
fn what_is_refused_names_the_plan() {
    assert_eq!(
        agenda(&AgendaRequest::new([])).unwrap_err().code(),
        "not_enough_data"
    );
    let good = wattle("2026-10-20", Vec::new());
    let mut nameless = good.clone();
    nameless.colony.name.clear();
    let error = agenda(&AgendaRequest::new([good.clone(), nameless])).unwrap_err();
    assert_eq!(error.field(), "plans[1].colony.name");
    let error = agenda(&AgendaRequest::new(vec![good; MOST_PLANS + 1])).unwrap_err();
    assert_eq!(error.code(), "too_large");
}

/// Two places in turn, one of the colonies with a bee of its own and one with a climate of its own.
#[test]
fn colonies_of_one_place_are_told_what_each_is_told_by_itself() {
    let mut plans: Vec<PlanRequest> = (0..6)
        .map(|number| {
            let looked = seen("2026-10-19", SignKind::PollenIn, Which::Pair);
            let records = [vec![], vec![divided()], vec![divided(), looked]];
            let mut plan = wattle("2026-10-20", records[number / 2].clone());
            plan.colony.name = format!("Hive {number}");
            if number % 2 == 1 {
                plan.site = Site::new(-23.55, -46.63, 760.0, "America/Sao_Paulo").unwrap();
            }
            plan
        })
        .collect();
    plans[4].bee.based_on = Some("tetragonula_carbonaria".to_owned());
    let cold = "date,minimum_c,maximum_c\n2026-10-21,6,15\n";
    plans[5].climate.forecast = Some(Forecast::from_csv("cold.csv", cold).unwrap());
    let all = agenda(&AgendaRequest::new(plans.clone())).unwrap();
    for (plan, review) in plans.into_iter().zip(all.reviews) {
        assert_eq!(of(plan).reviews, [review]);
    }
}
