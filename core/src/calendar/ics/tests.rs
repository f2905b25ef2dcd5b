//! What is written, read again with the parser of the crate `icalendar`, which shares no code with
//! the writer.

use std::collections::BTreeMap;

use chrono::{DateTime, Days, NaiveDateTime, TimeDelta, TimeZone, Utc};
use icalendar::parser::{Component, read_calendar, unfold};
use proptest::prelude::*;

use super::*;
use crate::calendar::sample::{AWKWARD, any_plan, plan};
use crate::calendar::words::on_the_clock;
use crate::civil;
use crate::task::TaskKind;

fn settings() -> IcsSettings {
    IcsSettings {
        stamp: "2026-09-13T08:00:00+10:00".parse().unwrap(),
        sequence: 3,
        before: None,
        name: None,
    }
}

/// What a calendar program would show of an event.
#[derive(Debug, PartialEq)]
enum When {
    At(DateTime<Utc>, DateTime<Utc>),
    Days(NaiveDate, NaiveDate),
}

#[derive(Debug, PartialEq)]
struct Seen {
    summary: String,
    when: When,
    cancelled: bool,
    tentative: bool,
    alarms: Vec<String>,
}

fn property<'a>(component: &'a Component, name: &str) -> &'a icalendar::parser::Property<'a> {
    let found: Vec<_> = component
        .properties
        .iter()
        .filter(|p| p.name == name)
        .collect();
    assert_eq!(found.len(), 1, "{name}");
    found[0]
}

fn value(component: &Component, name: &str) -> String {
    property(component, name).val.to_string()
}

fn parameter(component: &Component, name: &str, parameter: &str) -> Option<String> {
    let property = property(component, name);
    let found = property.params.iter().find(|p| p.key == parameter)?;
    Some(found.val.as_ref()?.to_string())
}

/// The offset of a zone at a clock reading, from the VTIMEZONE alone.
fn offset_s(zones: &BTreeMap<String, Component>, zone: &str, local: NaiveDateTime) -> i64 {
    let seconds = |text: &str| {
        let two = |from: usize| {
            text.get(from..from + 2)
                .map_or(0, |t| t.parse::<i64>().unwrap())
        };
        (two(1) * 3600 + two(3) * 60 + two(5)) * if text.starts_with('-') { -1 } else { 1 }
    };
    let mut observances: Vec<_> = zones[zone]
        .components
        .iter()
        .map(|o| {
            let start = value(o, "DTSTART");
            let start = NaiveDateTime::parse_from_str(&start, "%Y%m%dT%H%M%S").unwrap();
            let (from, to) = (value(o, "TZOFFSETFROM"), value(o, "TZOFFSETTO"));
            (start, seconds(&from), seconds(&to))
        })
        .collect();
    observances.sort();
    // "The first pass of a repeated reading": the old offset holds until its own reading of the
    // change is reached.
    let holds = observances.iter().rev().find(|(start, ..)| *start <= local);
    holds.unwrap().2
}

fn moment(component: &Component, name: &str, zones: &BTreeMap<String, Component>) -> DateTime<Utc> {
    let text = value(component, name);
    if let Some(utc) = text.strip_suffix('Z') {
        return NaiveDateTime::parse_from_str(utc, "%Y%m%dT%H%M%S")
            .unwrap()
            .and_utc();
    }
    let local = NaiveDateTime::parse_from_str(&text, "%Y%m%dT%H%M%S").unwrap();
    let zone = parameter(component, name, "TZID").unwrap();
    (local - TimeDelta::seconds(offset_s(zones, &zone, local))).and_utc()
}

fn seen(text: &str) -> BTreeMap<String, Seen> {
    for line in text.split("\r\n") {
        assert!(
            line.len() <= line::LONGEST_OCTETS,
            "{} octets: {line}",
            line.len()
        );
        assert!(!line.contains(['\r', '\n']), "{line:?}");
    }
    let unfolded = unfold(text);
    let calendar = read_calendar(&unfolded).unwrap();
    let named = |name: &'static str| calendar.components.iter().filter(move |c| c.name == name);
    let zones: BTreeMap<_, _> = named("VTIMEZONE")
        .map(|zone| (value(zone, "TZID"), zone.clone()))
        .collect();
    let mut events = BTreeMap::new();
    for event in named("VEVENT") {
        let day = |name: &str| {
            assert_eq!(parameter(event, name, "VALUE").as_deref(), Some("DATE"));
            NaiveDate::parse_from_str(&value(event, name), "%Y%m%d").unwrap()
        };
        let when = if value(event, "DTSTART").contains('T') {
            When::At(
                moment(event, "DTSTART", &zones),
                moment(event, "DTEND", &zones),
            )
        } else {
            When::Days(day("DTSTART"), day("DTEND"))
        };
        let shown = Seen {
            summary: value(event, "SUMMARY"),
            when,
            cancelled: value(event, "STATUS") == "CANCELLED",
            tentative: value(event, "STATUS") == "TENTATIVE",
            alarms: event
                .components
                .iter()
                .map(|alarm| value(alarm, "TRIGGER"))
                .collect(),
        };
        assert_eq!(value(event, "SEQUENCE"), "3");
        assert_eq!(value(event, "DTSTAMP"), "20260912T220000Z");
        assert!(events.insert(value(event, "UID"), shown).is_none());
    }
    events
}

/// What an event of the task should look like, from the task itself. Boxes of the `number`th plan of one name
/// have its number.
fn expected(plan: &Plan, task: &Task, among_others: bool, number: usize) -> Seen {
    let clean: String = task.title.replace(['\0', '\u{7}'], " ");
    let number = if number > 1 {
        format!(" {number}")
    } else {
        String::new()
    };
    let whose = if among_others {
        format!(" – {}", plan.title)
    } else {
        String::new()
    };
    let (done, date) = match task.state {
        TaskState::Done { on } => ("done: ", on),
        _ => ("", task.dates.best),
    };
    let when = match &task.window {
        Some(window) if date == task.dates.best => {
            let (from, until) = on_the_clock(window, plan.site.zone);
            When::At(from.to_utc(), until.to_utc())
        }
        _ => When::Days(date, date + Days::new(1)),
    };
    let eve = civil::previous_day(task.dates.best, plan.site.zone).unwrap();
    let eve = plan
        .site
        .zone
        .from_local_datetime(&eve.and_hms_opt(18, 0, 0).unwrap());
    let start = match &when {
        When::At(from, _) => *from,
        When::Days(date, _) => civil::day_start(*date, plan.site.zone).unwrap(),
    };
    let lead = (start - eve.earliest().unwrap().to_utc()).num_seconds();
    let leads = match (task.state, task.kind, &when) {
        (TaskState::Planned, TaskKind::Move, When::At(..)) => vec![lead, 30 * 60],
        (TaskState::Planned, ..) => vec![lead],
        _ => Vec::new(),
    };
    Seen {
        summary: format!(
            "{}{number}: {done}{clean}{whose}",
            plan.box_name(task.which)
        ),
        when,
        cancelled: task.state == TaskState::Dropped,
        tentative: false,
        alarms: leads
            .into_iter()
            .map(|lead| {
                let part = |count: i64, unit: &str| {
                    if count > 0 {
                        format!("{count}{unit}")
                    } else {
                        String::new()
                    }
                };
                format!(
                    "-PT{}{}{}",
                    part(lead / 3600, "H"),
                    part(lead / 60 % 60, "M"),
                    part(lead % 60, "S")
                )
            })
            .collect(),
    }
}

fn comes_back(plans: &[Plan]) {
    let found = seen(&plans_ics(plans, &settings()).unwrap());
    let wanted: BTreeMap<_, _> = plans
        .iter()
        .zip(1..)
        .flat_map(|(plan, number)| plan.tasks.iter().map(move |task| (plan, task, number)))
        .map(|(plan, task, number)| {
            (
                format!("{}.{}@apiary-almanac", plan.id, task.id),
                expected(plan, task, plans.len() > 1, number),
            )
        })
        .collect();
    assert_eq!(found, wanted);
}

#[test]
fn the_demo_comes_back() {
    comes_back(&[plan()]);
}

#[test]
fn awkward_titles_come_back() {
    let mut plan = plan();
    for (task, title) in plan.tasks.iter_mut().zip(AWKWARD) {
        title.clone_into(&mut task.title);
    }
    comes_back(&[plan.clone()]);
    plan.title = AWKWARD[0].to_owned();
    comes_back(&[
        plan.clone(),
        Plan {
            id: "second".to_owned(),
            ..plan
        },
    ]);
}

/// A plan of the engine, with a move at dawn, an hour for opening and looks that may never be needed.
fn divided(today: &str) -> Plan {
    let site = crate::Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap();
    let colony = crate::plan::Colony::new("Wattle").with_daughter_name("Saltbush");
    let done = crate::record::Record::new("2026-10-03".parse().unwrap()).with_task("divide");
    let request = crate::plan::PlanRequest::new(site, today.parse().unwrap(), "split", colony);
    crate::plan::plan(&request.with_records([done])).unwrap()
}

#[test]
fn what_may_never_be_needed_is_tentative_and_comes_when_it_is_near() {
    let status = |plan: &Plan| -> BTreeMap<String, Seen> {
        seen(&plans_ics(std::slice::from_ref(plan), &settings()).unwrap())
    };
    let uid = |plan: &Plan, id: &str| format!("{}.{id}@apiary-almanac", plan.id);
    let open = |plan: &Plan| -> Vec<(String, NaiveDate)> {
        let open = plan.tasks.iter().filter(|task| task.only_if.is_some());
        open.map(|task| (task.id.clone(), task.dates.earliest))
            .collect()
    };
    let early = divided("2026-10-05");
    assert!(open(&early).len() > 1);
    let shown = status(&early);
    for (id, _) in open(&early) {
        assert!(!shown.contains_key(&uid(&early, &id)), "{id}");
    }
    // On the day of its condition's look.
    let (id, earliest) = open(&early).remove(0);
    let near = divided(&(earliest - Days::new(NEAR_D)).to_string());
    let event = &status(&near)[&uid(&near, &id)];
    assert!(event.tentative && event.alarms.is_empty(), "{event:?}");
    assert!(
        event.summary.starts_with("Wattle + Saltbush: "),
        "{event:?}"
    );
    let text = plans_ics(&[near], &settings()).unwrap();
    let unfolded = unfold(&text);
    for event in read_calendar(&unfolded).unwrap().components {
        if event.name == "VEVENT" && value(&event, "STATUS") == "TENTATIVE" {
            assert_eq!(value(&event, "TRANSP"), "TRANSPARENT");
        }
    }
}

#[test]
fn a_task_that_waits_stands_on_the_day_before_which_it_is_too_early() {
    let site = crate::Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap();
    let colony = crate::plan::Colony::new("Wattle").with_daughter_name("Saltbush");
    let on = crate::record::Record::new("2026-10-03".parse().unwrap()).with_task("set-on");
    let request =
        crate::plan::PlanRequest::new(site, "2026-10-20".parse().unwrap(), "eduction", colony);
    let plan = crate::plan::plan(&request.with_records([on])).unwrap();
    let near = plan.today + Days::new(NEAR_D);
    let events = seen(&plans_ics(std::slice::from_ref(&plan), &settings()).unwrap());
    let mut shown = 0;
    for task in &plan.waiting {
        let event = events.get(&format!("{}.{}@apiary-almanac", plan.id, task.id));
        match task.not_before.filter(|date| *date <= near) {
            Some(date) => {
                let event = event.unwrap();
                assert!(
                    event.tentative && event.summary.contains("if seen: "),
                    "{event:?}"
                );
                assert_eq!(event.when, When::Days(date, date + Days::new(1)));
                shown += 1;
            }
            None => assert!(event.is_none()),
        }
    }
    assert!(shown > 0, "{:?}", plan.waiting);
}

/// The hour of an opening, the alarms of a move and of the evening before it.
#[test]
fn an_opening_is_one_hour_and_a_move_rings_twice() {
    let plan = divided("2026-10-05");
    let events = seen(&plans_ics(std::slice::from_ref(&plan), &settings()).unwrap());
    let event = |id: &str| &events[&format!("{}.{id}@apiary-almanac", plan.id)];
    let eggs = plan.task("egg-check").unwrap();
    let at = eggs.good_at.unwrap().to_utc();
    let When::At(from, until) = event("egg-check").when else {
        panic!("it has an hour")
    };
    assert_eq!((from, until), (at, at + TimeDelta::hours(1)));
    assert!(eggs.window.unwrap().until.to_utc() > until);

    let window = |id: &str| plan.task(id).unwrap().window.unwrap();
    let closes = on_the_clock(&window("stage-1-close"), plan.site.zone).0;
    let moves = on_the_clock(&window("stage-1"), plan.site.zone).0;
    let rings: Vec<TimeDelta> = event("stage-1")
        .alarms
        .iter()
        .map(|text| lead(text))
        .collect();
    // Within the minute to which the closing's window is drawn in.
    assert!(
        (moves - closes - rings[0]).num_seconds().abs() < 60,
        "{rings:?}"
    );
    assert_eq!(rings[1..], [TimeDelta::minutes(30)]);
    assert_eq!(event("stage-1-close").alarms, ["-PT1H"]);
    assert!(event("stage-1-open").alarms.is_empty());
}

/// A duration of hours, minutes and seconds (RFC 5545, section 3.3.6).
fn lead(text: &str) -> TimeDelta {
    let mut rest = text.strip_prefix("-PT").unwrap();
    let mut all = TimeDelta::zero();
    while let Some(at) = rest.find(['H', 'M', 'S']) {
        let count: i64 = rest[..at].parse().unwrap();
        all += match rest.as_bytes()[at] {
            b'H' => TimeDelta::hours(count),
            b'M' => TimeDelta::minutes(count),
            _ => TimeDelta::seconds(count),
        };
        rest = &rest[at + 1..];
    }
    all
}

#[test]
fn the_same_plan_gives_the_same_bytes_in_any_order() {
    let other = Plan {
        id: "other".to_owned(),
        title: "A".to_owned(),
        ..plan()
    };
    let write = |plans: &[Plan]| plans_ics(plans, &settings()).unwrap();
    assert_eq!(write(&[plan(), other.clone()]), write(&[other, plan()]));
    assert!(plans_ics(&[], &settings()).is_err());
}

#[test]
fn a_plan_without_tasks_is_still_a_calendar() {
    let text = plans_ics(
        &[Plan {
            tasks: Vec::new(),
            ..plan()
        }],
        &settings(),
    )
    .unwrap();
    assert!(text.contains("BEGIN:VTIMEZONE") && !text.contains("BEGIN:VEVENT"));
    assert!(text.contains("\r\nNAME:Quoll Creek Little Bee Circle\\, Ines Marrow\\, Lantern\r\n"));
}

/// RFC 5545: 3.6 and 3.7 of the calendar, 3.6.1 of an event, 3.6.5 of a zone, 3.6.6 of an alarm.
#[test]
fn the_mandatory_properties_stand_once() {
    let text = plans_ics(&[plan()], &settings()).unwrap();
    let unfolded = unfold(&text);
    let calendar = read_calendar(&unfolded).unwrap();
    let once = |properties: &[icalendar::parser::Property<'_>], name: &str| {
        let mut found = properties.iter().filter(|p| p.name == name);
        let value = found.next().map(|p| p.val.to_string());
        assert!(found.next().is_none(), "{name}");
        value.unwrap_or_else(|| panic!("no {name}"))
    };
    assert_eq!(once(&calendar.properties, "VERSION"), "2.0");
    assert!(once(&calendar.properties, "PRODID").starts_with("-//apiary-almanac//"));
    let events = calendar.components.iter().filter(|c| c.name == "VEVENT");
    assert_eq!(events.clone().count(), plan().tasks.len());
    for event in events {
        for name in ["UID", "DTSTAMP", "DTSTART"] {
            assert!(!once(&event.properties, name).is_empty(), "{name}");
        }
        // 3.8.1.6: latitude; longitude.
        assert_eq!(once(&event.properties, "GEO"), "-28.810000;153.280000");
        for alarm in &event.components {
            for name in ["ACTION", "TRIGGER", "DESCRIPTION"] {
                assert!(!once(&alarm.properties, name).is_empty(), "{name}");
            }
        }
    }
    let zones = calendar.components.iter().filter(|c| c.name == "VTIMEZONE");
    for zone in zones {
        assert_eq!(once(&zone.properties, "TZID"), "Australia/Sydney");
        assert!(!zone.components.is_empty());
        for observance in &zone.components {
            for name in ["DTSTART", "TZOFFSETFROM", "TZOFFSETTO"] {
                assert!(!once(&observance.properties, name).is_empty(), "{name}");
            }
        }
    }
}

#[test]
fn the_cautions_of_a_plan_stand_once_with_its_first_event() {
    let text = plans_ics(&[plan()], &settings()).unwrap();
    let unfolded = unfold(&text);
    let calendar = read_calendar(&unfolded).unwrap();
    let told: Vec<String> = calendar
        .components
        .iter()
        .filter(|c| c.name == "VEVENT")
        .map(|event| {
            value(event, "DESCRIPTION")
                .replace("\\,", ",")
                .replace("\\;", ";")
        })
        .collect();
    let of_the_plan: Vec<_> = told
        .iter()
        .map(|text| text.split_once("Mind throughout the plan"))
        .collect();
    let (_, first) = of_the_plan[0].unwrap();
    assert!(plan().cautions.len() > 1);
    for caution in plan().cautions {
        assert!(first.contains(&*caution.text), "{first}");
    }
    assert!(of_the_plan[1..].iter().all(Option::is_none));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, ..ProptestConfig::default() })]

    #[test]
    fn every_plan_comes_back(mut plans in proptest::collection::vec(any_plan(), 1..4)) {
        for (i, plan) in plans.iter_mut().enumerate() {
            plan.id = format!("plan-{i}");
        }
        comes_back(&plans);
    }
}

/// RFC 5545, section 3.8.7.4: the sequence grows with significant changes of an event.
#[test]
fn only_what_changed_gets_a_new_version() {
    let first = plan();
    let text = plans_ics(std::slice::from_ref(&first), &settings()).unwrap();
    let later = |before: &str, plan: &Plan| {
        let settings = IcsSettings {
            stamp: "2026-09-20T08:00:00+10:00".parse().unwrap(),
            sequence: 0,
            before: Some(before.to_owned()),
            name: None,
        };
        plans_ics(std::slice::from_ref(plan), &settings).unwrap()
    };
    assert_eq!(later(&text, &first), text);
    // Some programs store lines with the line ends of their system.
    assert_eq!(later(&text.replace("\r\n", "\n"), &first), text);

    let mut changed = first.clone();
    let moved = changed.tasks[1].id.clone();
    changed.tasks[1].title.push_str(", again");
    let gone = changed.tasks.remove(2).id;
    let versions = |text: &str| -> BTreeMap<String, (String, String, String)> {
        let unfolded = unfold(text);
        let calendar = read_calendar(&unfolded).unwrap();
        let events = calendar.components.iter().filter(|c| c.name == "VEVENT");
        events
            .map(|event| {
                let of = |name| value(event, name);
                (of("UID"), (of("SEQUENCE"), of("DTSTAMP"), of("STATUS")))
            })
            .collect()
    };
    let again = later(&text, &changed);
    let (old, new) = (versions(&text), versions(&again));
    assert_eq!(old.len(), new.len());
    for (uid, (sequence, stamp, status)) in &new {
        let of = |id: &str| *uid == format!("{}.{id}@apiary-almanac", first.id);
        if of(&moved) || of(&gone) {
            assert_eq!((&**sequence, &**stamp), ("4", "20260919T220000Z"));
            assert_eq!(status == "CANCELLED", of(&gone));
        } else {
            assert_eq!(
                (sequence, stamp, status),
                (&old[uid].0, &old[uid].1, &old[uid].2)
            );
        }
    }
    // Said once: it stays cancelled as it is.
    assert_eq!(versions(&later(&again, &changed)), new);
    // Another plan's events are not this one's to cancel.
    let other = Plan {
        id: "other".to_owned(),
        ..first.clone()
    };
    let alone = versions(&later(&text, &other));
    assert!(alone.keys().all(|uid| uid.starts_with("other.")));
}

proptest! {
    #[test]
    fn no_text_that_was_before_stops_the_calendar(before in "\\PC*", cut in 0_usize..4000) {
        let whole = plans_ics(&[plan()], &settings()).unwrap();
        let part: String = whole.chars().take(cut).collect();
        for before in [before, part] {
            let settings = IcsSettings { before: Some(before), ..settings() };
            let text = plans_ics(&[plan()], &settings).unwrap();
            prop_assert_eq!(seen(&text).len(), plan().tasks.len());
        }
    }
}

mod mornings {
    use super::*;
    use crate::morning::{
        Morning, MorningOverrides, MorningSettings, MoveWindow, RankedMorning, Verdict,
    };
    use crate::site::Site;

    fn site() -> Site {
        Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap()
    }

    /// Mornings around the change of the clocks on 4 October 2026.
    fn ranked() -> Vec<RankedMorning> {
        ranked_with(&MorningSettings::default())
    }

    fn ranked_with(settings: &MorningSettings) -> Vec<RankedMorning> {
        let bee = crate::Bee::with_overrides(&crate::bee::BeeOverrides::default()).unwrap();
        crate::weather::Weather::of_location(site(), &bee)
            .mornings("2026-10-01".parse().unwrap(), 8, settings, &[])
            .unwrap()
    }

    fn on(ranked: &[RankedMorning], date: &str) -> usize {
        let date: NaiveDate = date.parse().unwrap();
        ranked
            .iter()
            .position(|one| one.morning.date == date)
            .unwrap()
    }

    fn hours(morning: &Morning) -> (DateTime<Utc>, DateTime<Utc>) {
        let MoveWindow::Open { from, until, .. } = morning.window else {
            panic!("{morning:?}")
        };
        let window = crate::task::TimeWindow { from, until };
        let (from, until) = on_the_clock(&window, site().zone);
        (from.to_utc(), until.to_utc())
    }

    #[test]
    fn go_and_careful_come_back_and_no_does_not() {
        let mut ranked = ranked();
        // Where other hives may fly at once every morning is careful.
        let go = on(&ranked, "2026-10-03");
        ranked[go].morning.verdict = Verdict::Go;
        let no = on(&ranked, "2026-10-05");
        ranked[no].morning.verdict = Verdict::No;
        let place = MorningsPlace::new(site(), "Garden").with_box_name("Saltbush");
        let events = seen(&mornings_ics(&ranked, &place, &settings()).unwrap());
        assert_eq!(events.len(), ranked.len() - 1);
        for one in &ranked {
            let morning = &one.morning;
            let uid = format!("garden-saltbush-dawns.{}@apiary-almanac", morning.date);
            let Some(event) = events.get(&uid) else {
                assert_eq!(morning.verdict, Verdict::No);
                continue;
            };
            let (from, until) = hours(morning);
            assert_eq!(event.when, When::At(from, until));
            assert_eq!(event.tentative, morning.verdict == Verdict::Careful);
            let more = if event.tentative { ", careful" } else { "" };
            assert_eq!(event.summary, format!("Saltbush: dawn move{more} – Garden"));
            let rings: Vec<_> = event.alarms.iter().map(|text| from - lead(text)).collect();
            let closing = morning.evening_before.from.to_utc();
            let half_hour_before = from - TimeDelta::minutes(30);
            assert_eq!(rings.len(), 2);
            // Written in whole seconds.
            assert!(
                (rings[0] - closing).abs() < TimeDelta::seconds(1),
                "{rings:?}"
            );
            assert_eq!(rings[1], half_hour_before);
        }
    }

    #[test]
    fn it_says_when_to_close_why_and_what_to_mind() {
        let place = MorningsPlace::new(site(), "Garden");
        let text = mornings_ics(&ranked(), &place, &settings()).unwrap();
        let text = text.replace("\r\n ", "").replace('\\', "");
        for morning in ranked().iter().map(|one| &one.morning) {
            let from = civil::clock_text(morning.evening_before.from, civil::Edge::From);
            let said = format!("DESCRIPTION:If you move tomorrow: close the entrance from {from}");
            assert!(text.contains(&said), "{said}");
            assert!(text.contains(&morning.verdict_reason.text()));
        }
        for said in [
            "Open the entrance as soon as it stands.",
            "Weigh a hive before",
            "Local law and",
        ] {
            assert!(text.contains(said), "{said}");
        }
    }

    #[test]
    fn of_a_hive_that_stands_open_over_night_nothing_is_said_of_closing() {
        let own = MorningOverrides::default().with_closed_evening_before(false);
        let mornings = ranked_with(&MorningSettings::with_overrides(&own).unwrap());
        let text = mornings_ics(
            &mornings,
            &MorningsPlace::new(site(), "Garden"),
            &settings(),
        );
        let text = text.unwrap();
        let events = seen(&text);
        assert!(!events.is_empty());
        for event in events.values() {
            let rings: Vec<_> = event.alarms.iter().map(|text| lead(text)).collect();
            assert_eq!(rings, [TimeDelta::minutes(30)]);
        }
        let text = text.replace("\r\n ", "");
        assert!(!text.contains("vening before") && !text.contains("close the entrance from"));
        assert!(
            text.contains("The entrance is open over night: be done before the first bees fly.")
        );
    }

    #[test]
    fn what_became_bad_is_cancelled_and_the_rest_keeps_its_version() {
        let place = MorningsPlace::new(site(), "Garden");
        let first = mornings_ics(&ranked(), &place, &settings()).unwrap();
        let mut later = settings();
        later.stamp = "2026-10-02T08:00:00+10:00".parse().unwrap();
        later.before = Some(first.clone());
        assert_eq!(mornings_ics(&ranked(), &place, &later).unwrap(), first);

        // Two days later three mornings are asked about, and one of them is no longer good.
        let mut fewer = ranked();
        fewer.retain(|one| {
            (3..=5).any(|day| one.morning.date == NaiveDate::from_ymd_opt(2026, 10, day).unwrap())
        });
        let bad = on(&fewer, "2026-10-04");
        fewer[bad].morning.verdict = Verdict::No;
        let second = mornings_ics(&fewer, &place, &later).unwrap();
        let versions = |text: &str| {
            let unfolded = unfold(text);
            let calendar = read_calendar(&unfolded).unwrap();
            let events = calendar.components.iter().filter(|c| c.name == "VEVENT");
            events
                .map(|event| {
                    let day = value(event, "UID")["garden-dawns.2026-10-".len()..][..2].to_owned();
                    (day, value(event, "SEQUENCE") + &value(event, "STATUS")[..2])
                })
                .collect::<BTreeMap<_, _>>()
        };
        let found = versions(&second);
        let wanted = [
            ("03", "3TE"),
            ("04", "4CA"),
            ("05", "3TE"),
            ("06", "3TE"),
            ("07", "3TE"),
            ("08", "3TE"),
        ];
        assert_eq!(
            found,
            wanted
                .map(|(day, state)| (day.to_owned(), state.to_owned()))
                .into()
        );
        // Another box's mornings are not this one's to cancel.
        let other = MorningsPlace::new(site(), "Garden").with_box_name("Saltbush");
        assert!(
            !mornings_ics(&fewer, &other, &later)
                .unwrap()
                .contains("CANCELLED")
        );
    }

    #[test]
    fn what_is_no_morning_is_refused() {
        let place = MorningsPlace::new(site(), "Garden");
        let refused = |change: &dyn Fn(&mut Vec<RankedMorning>)| {
            let mut changed = ranked();
            change(&mut changed);
            let error = mornings_ics(&changed, &place, &settings()).unwrap_err();
            (error.code(), error.field().to_owned())
        };
        let inconsistent = |field: &str| ("inconsistent", format!("mornings[0].morning.{field}"));
        assert_eq!(refused(&Vec::clear).0, "not_enough_data");
        assert_eq!(
            refused(&|all| all[1] = all[0].clone()),
            ("inconsistent", "mornings[1].morning.date".to_owned())
        );
        assert_eq!(
            refused(&|all| all[0].morning.date = "1899-12-31".parse().unwrap()).0,
            "out_of_range"
        );
        assert_eq!(
            refused(&|all| all[0].morning.date = "2026-12-01".parse().unwrap()),
            inconsistent("window")
        );
        assert_eq!(
            refused(
                &|all| if let MoveWindow::Open { from, until, .. } = &mut all[0].morning.window {
                    std::mem::swap(from, until);
                }
            ),
            inconsistent("window")
        );
        let nameless = MorningsPlace::new(site(), " ");
        let error = mornings_ics(&ranked(), &nameless, &settings()).unwrap_err();
        assert_eq!((error.code(), error.field()), ("out_of_range", "place"));
    }
}
