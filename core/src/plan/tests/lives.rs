//! Whole lives of plans: one record or one change of the forecast after the other, and what moves with each.

use std::collections::{BTreeMap, BTreeSet};

use super::campaigns::{cases, moved_tasks};
use super::*;
use crate::record::{Record, Sign, SignKind};
use crate::task::Which;

/// What a keeper learns next.
#[derive(Debug, Clone, Copy)]
enum News {
    /// The next task is done on its date.
    OnTime,
    /// It is done so many days late, and recorded on that day.
    Late(u64),
    /// It is done so many days early, but not before today.
    Early(u64),
    /// A sign is seen on the day before the next task.
    Seen(SignKind, Which),
    /// Some days of heat, so many days ahead.
    Heat(u64),
}

fn news() -> impl Strategy<Value = News> {
    let which = prop::sample::select(vec![Which::Parent, Which::Daughter, Which::Pair]);
    let sign = prop::sample::select(vec![
        SignKind::SteadyStreams,
        SignKind::PollenIn,
        SignKind::MalesTurnedOut,
        SignKind::Brood,
        SignKind::Eggs,
        SignKind::LayingQueen,
    ]);
    prop_oneof![
        8 => Just(News::OnTime),
        2 => (1_u64..6).prop_map(News::Late),
        2 => (1_u64..4).prop_map(News::Early),
        2 => (sign, which).prop_map(|(sign, which)| News::Seen(sign, which)),
        1 => (0_u64..8).prop_map(News::Heat),
    ]
}

const HEAT_D: u64 = 3;
/// A day is judged with the heat of so many days after it.
const AHEAD_D: u64 = 6;
/// No rule keeps tasks further apart.
const APART_D: i64 = 5;

/// A plan as its keeper has it.
struct Life {
    request: PlanRequest,
    plan: Plan,
    heat: BTreeMap<NaiveDate, Value>,
    /// The steps that ask whether a queen lays.
    asking: BTreeSet<String>,
}

impl Life {
    fn new(at: (f64, f64, f64, &str), today: NaiveDate, method: &str) -> Self {
        let request = ask_for(at, &today.to_string(), method, json!({}));
        let asking = worked_out(&request, |bench| {
            let steps = bench.resolved.steps.iter();
            let asking = steps.filter(|step| step.step.asks_for_queen);
            Ok(asking.map(|step| step.id.clone()).collect())
        });
        let plan = planned(&request);
        Life {
            asking: asking.unwrap(),
            request,
            plan,
            heat: BTreeMap::new(),
        }
    }

    fn next(&self) -> Option<&Task> {
        let mut ahead = self.plan.tasks.iter();
        ahead.find(|task| task.state == TaskState::Planned)
    }

    /// Takes one piece of news, plans anew and hands back what moved without a reason to; `None` at the end.
    fn learn(&mut self, news: News) -> Option<Vec<String>> {
        let next = self.next()?.clone();
        let before = std::mem::replace(&mut self.request.today, next.dates.best);
        self.request.announced = self.plan.announced();
        let mut heat = None;
        match news {
            News::OnTime => {}
            News::Late(days) => self.request.today = next.dates.best + Days::new(days),
            News::Early(days) => self.request.today = before.max(next.dates.best - Days::new(days)),
            News::Seen(..) | News::Heat(_) => {
                self.request.today = before.max(next.dates.best - Days::new(1));
            }
        }
        let today = self.request.today;
        match news {
            News::Heat(ahead) => {
                let from = today + Days::new(ahead);
                let days = vec![(26.0, 41.0, 0.0); HEAT_D as usize];
                for day in forecast(&from.to_string(), &days).as_array().unwrap() {
                    let on = day["date"].as_str().unwrap().parse().unwrap();
                    self.heat.insert(on, day.clone());
                }
                let days: Vec<&Value> = self.heat.values().collect();
                let climate = json!({ "forecast": days });
                self.request.climate = serde_json::from_value(climate).unwrap();
                heat = Some((from, from + Days::new(HEAT_D - 1)));
            }
            News::Seen(kind, which) => {
                let seen = Sign::new(kind).with_which(which);
                self.request
                    .records
                    .push(Record::new(today).with_signs([seen]));
            }
            _ => {
                let done = Record::new(today).with_task(next.id.clone());
                self.request.records.push(done);
            }
        }
        let plan = planned(&self.request);
        let old = std::mem::replace(&mut self.plan, plan);
        Some(self.unconcerned(&old, news, &next, heat))
    }

    fn unconcerned(
        &self,
        old: &Plan,
        news: News,
        next: &Task,
        heat: Option<(NaiveDate, NaiveDate)>,
    ) -> Vec<String> {
        let today = self.request.today;
        // What is otherwise than it was announced, with both dates.
        let changed: Vec<(&str, NaiveDate, NaiveDate)> = old
            .tasks
            .iter()
            .filter(|task| task.state == TaskState::Planned)
            .filter_map(|task| {
                let now = self.plan.task(&task.id)?;
                let same = now.dates.best == task.dates.best && now.state == task.state;
                (!same).then_some((task.id.as_str(), task.dates.best, now.dates.best))
            })
            .collect();
        let queen = match news {
            News::Seen(kind, _) => {
                [SignKind::Eggs, SignKind::LayingQueen, SignKind::Brood].contains(&kind)
            }
            News::OnTime | News::Late(_) | News::Early(_) => self.asking.contains(&next.id),
            News::Heat(_) => false,
        };
        // The range of a task that is overdue goes along with today: a fit day may come within reach.
        let in_reach = |id: &str, now: NaiveDate| {
            let old = old.task(id).map(|task| &task.dates);
            old.is_some_and(|range| range.earliest < today && range.latest < now)
        };
        // A task done on its date, that does not tell of a queen, is what everybody reckoned with.
        let as_reckoned = matches!(news, News::OnTime)
            && !queen
            && !changed.iter().any(|(id, _, now)| in_reach(id, *now));
        let mut without_reason = Vec::new();
        for (task, was) in moved_tasks(&self.plan, &self.request.announced) {
            if task.id == next.id {
                // Opened though nothing was moved, it is to be opened once more.
                continue;
            }
            let now = task.dates.best;
            let waits = task.depends_on.iter().any(|before| {
                let asks = self.asking.contains(&before.task);
                queen && asks || changed.iter().any(|(id, ..)| *id == before.task)
            });
            let near = changed.iter().any(|(id, one, other)| {
                let near = |date: &NaiveDate| {
                    (*date - was).num_days().abs() <= APART_D
                        || (*date - now).num_days().abs() <= APART_D
                };
                *id != task.id && (near(one) || near(other))
            });
            let in_heat = heat.is_some_and(|(from, until)| {
                let counted = task.depends_on.iter().any(|before| {
                    let before = self.plan.task(&before.task).unwrap();
                    before.dates.best <= until && was.max(now) >= from
                });
                counted || was + Days::new(AHEAD_D) >= from && was <= until
            });
            let overdue = was < today || in_reach(&task.id, now);
            let concerned = waits || near || in_heat || overdue;
            if as_reckoned || !concerned {
                without_reason.push(format!("{task} was {was}: {changed:?}"));
            }
            let beside = task.id.ends_with("-close") || task.id.ends_with("-open");
            let told = task.why.iter().any(|why| why.code == "moved_from");
            let own = matches!(task.kind, TaskKind::Divide | TaskKind::Prepare);
            if !told && !beside && !own {
                without_reason.push(format!("{task} was {was} and does not say so"));
            }
        }
        without_reason
    }
}

proptest! {
    #![proptest_config(cases(2))]

    /// A task that no news concerns stays on its date, from the first day to the last.
    #[test]
    fn nothing_moves_that_no_record_concerns(
        place in 0usize..AROUND.len(), start in 0u64..24,
        method in prop::sample::select(vec!["split", "eduction", "comb_donation", "transfer"]),
        all in prop::collection::vec(news(), 12..24),
    ) {
        let mut life = Life::new(AROUND[place], date("2026-07-01") + Days::new(15 * start), method);
        for (step, news) in all.into_iter().enumerate() {
            let Some(wrong) = life.learn(news) else { break };
            prop_assert!(wrong.is_empty(), "{step} {news:?}: {wrong:#?}");
        }
    }
}
