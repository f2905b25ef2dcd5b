//! How far announced dates move, against every date of every task tried out.

use chrono::TimeDelta;

use super::campaigns::cases;
use super::*;
use crate::plan::network::{MOVED, Network};
use crate::plan::safe::SeasonView;
use crate::schedule::{BROKEN, Cost, NO_DATE, Set, Solver, Tasks};

/// The least cost of a network: every date of every task is tried, and what is dearer than the best so far is
/// left. None of the scheduler's parts is used.
struct Tried<'n, 'a, 'b> {
    network: &'n Network<'a, 'b>,
    dates: Vec<Option<NaiveDate>>,
    least: Option<Cost>,
}

impl Tried<'_, '_, '_> {
    fn go_on(&mut self, cost: Cost) {
        if self.least.is_some_and(|least| cost >= least) {
            return;
        }
        let place = self.dates.len();
        let Some(task) = self.network.problem.tasks.get(place) else {
            self.least = Some(cost);
            return;
        };
        let mut choices = Vec::new();
        match task.set {
            Set::Done(date) => choices.push((Some(date), Cost::ZERO)),
            Set::Fixed(_) => unreachable!("nothing is fixed here"),
            Set::Open => {
                let after: Option<Vec<NaiveDate>> = task
                    .after
                    .iter()
                    .map(|before| self.dates[*before])
                    .collect();
                let span = after.and_then(|after| self.network.span(place, &after).unwrap());
                for (span, date) in span.iter().flat_map(|span| {
                    span.earliest
                        .iter_days()
                        .take_while(|date| *date <= span.last)
                        .map(move |date| (span, date))
                }) {
                    let moved_d = task
                        .announced
                        .map_or(0, |old| (old - date).num_days().unsigned_abs());
                    let own = self.network.cost(place, date, span).unwrap();
                    choices.extend(own.map(|own| (Some(date), own.with(MOVED, moved_d as u32))));
                }
            }
        }
        if choices.is_empty() {
            choices.push((None, Cost::at(NO_DATE, 1)));
        }
        choices.sort_by_key(|(_, own)| *own);
        for (date, own) in choices {
            let near = date.map_or(0, |date| self.too_near(place, date));
            self.dates.push(date);
            self.go_on(cost + own + Cost::at(BROKEN, near));
            self.dates.pop();
        }
    }

    /// How many rules a date breaks with the tasks before it.
    fn too_near(&self, place: usize, date: NaiveDate) -> u32 {
        let mut near = 0;
        for rule in &self.network.problem.apart {
            assert_eq!(rule.level, BROKEN);
            for (other, on) in self.dates.iter().enumerate() {
                let Some(on) = on else { continue };
                let days = (date - *on).num_days();
                let within =
                    |days: i64| days < i64::from(rule.after_d) && -days < i64::from(rule.before_d);
                let (one, two) = (&rule.one, &rule.other);
                let first = one.contains(&other) && two.contains(&place) && within(days);
                let second = one.contains(&place) && two.contains(&other) && within(-days);
                near += u32::from(first || second);
            }
        }
        near
    }
}

/// Four tasks after a division: two looks, a move and another look.
fn short_method(waits: &[(u32, u32, u32)]) -> Value {
    let wait = |(earliest, more, later): (u32, u32, u32)| {
        json!({"unit": "days", "earliest": earliest, "likely": earliest + more,
               "latest": earliest + more + later, "source": "own"})
    };
    let step = |id: &str, kind: &str, after: &str, number: usize, day: &str, time: &str| {
        json!({"id": id, "kind": kind, "which": "pair", "title": id, "why": "So.", "source": "own",
               "day": day, "time": time, "depends_on": [{"task": after, "wait": wait(waits[number])}]})
    };
    let mut again = step("again", "check", "look", 2, "opening", "warm_hours");
    again["rebuilt"] = json!(true);
    json!({"name": "our_way", "label": "Our way", "about": "As we do it.", "source": "own",
        "new_queen": "daughter", "readiness": {"source": "own"}, "steps": [
        {"id": "halve", "kind": "divide", "which": "pair", "title": "Halve", "why": "In spring.",
         "day": "opening", "time": "warm_hours", "season": "safe", "source": "own"},
        step("look", "check", "halve", 0, "opening", "warm_hours"),
        step("walk", "move", "halve", 1, "flying", "dawn"),
        again,
    ]})
}

proptest! {
    #![proptest_config(cases(6))]

    /// Announced dates become impossible by a cold or a hot spell: what has to move moves by as few days in all
    /// as any dates would that are as fit and break no more rules.
    #[test]
    fn announced_dates_move_by_the_fewest_days(
        at in prop::sample::select(vec![LISMORE, AROUND[3], AROUND[4]]), divided in 0u64..100,
        waits in prop::collection::vec((5u32..12, 0u32..4, 0u32..4), 3),
        from in 0u64..12, long in 1usize..5, cold in any::<bool>(),
    ) {
        let on = date("2026-10-20") + Days::new(divided);
        let mut request = ask_for(at, &on.to_string(), "x", json!({
            "method": short_method(&waits), "records": [{"date": on.to_string(), "task": "halve"}],
        }));
        request.announced = planned(&request).announced();
        let spell = if cold { (4.0, 13.0, 0.0) } else { (24.0, 41.0, 0.0) };
        let first = on + Days::new(4 + from);
        let days = json!({"forecast": forecast(&first.to_string(), &vec![spell; long])});
        request.climate = serde_json::from_value(days).unwrap();
        let moved_d: i64 = {
            let plan = planned(&request);
            let free = |date: &&FixedDate| !date.task.ends_with("-close") && !date.task.ends_with("-open");
            let moved = request.announced.iter().filter(free).map(|date| {
                let now = plan.task(&date.task).unwrap().dates.best;
                (now - date.date).abs()
            });
            moved.sum::<TimeDelta>().num_days()
        };
        worked_out(&request, |bench| {
            let season = SeasonView::new(bench)?;
            let network = Network::new(bench, &season, crate::wait::DateRange::on(on), Some(on))?;
            let solver = Solver::new(&network.problem, &network)?;
            let schedule = solver.solve()?;
            let mut tried = Tried { network: &network, dates: Vec::new(), least: None };
            tried.go_on(Cost::ZERO);
            let least = tried.least.unwrap();
            assert_eq!(schedule.cost, least, "{on} {first}");
            assert_eq!(moved_d, i64::from(least.levels()[MOVED]), "{on} {first}");
            Ok(())
        }).unwrap();
    }
}
