use std::collections::BTreeMap;

use super::*;
use crate::bee;
use crate::number::COMMON_PRACTICE;
use crate::site::Site;

fn lismore() -> Site {
    Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap()
}

fn resolved(method: &str, bee: &str, choices: &[(&str, &str)]) -> Resolved {
    let choices: BTreeMap<_, _> = choices
        .iter()
        .map(|(setting, option)| ((*setting).to_owned(), (*option).to_owned()))
        .collect();
    let bee = bee::built_in(bee).unwrap();
    resolve(&built_in(method).unwrap(), &choices, None, &bee, &lismore()).unwrap()
}

/// The days after the first step from which and until which a step may be due, by the longest way there.
fn days_of(resolved: &Resolved, id: &str) -> Option<[f64; 3]> {
    let step = resolved.steps.iter().find(|step| step.id == id)?;
    let mut days = [0.0_f64; 3];
    for (before, _) in &step.depends_on {
        let from = days_of(resolved, &before.task)?;
        let wait = before.wait.as_ref().map_or([0.0; 3], Wait::counts);
        for place in 0..3 {
            days[place] = days[place].max(from[place] + wait[place]);
        }
    }
    Some(days)
}

fn split_text() -> &'static str {
    include_str!("data/split.toml")
}

#[test]
fn the_built_in_methods_are_right_and_sourced() {
    assert!(BUILT_IN.is_sorted_by_key(|(name, _)| *name));
    for (name, _) in BUILT_IN {
        let method = built_in(name).unwrap();
        assert_eq!(method.name(), name);
        let sourced = |text: &str, what: &str| {
            assert!(
                text.contains(COMMON_PRACTICE)
                    || text.contains(|c: char| c.is_ascii_digit())
                    || text.contains("by the bee's own number"),
                "{name} {what}: {text}"
            );
        };
        for step in method.steps() {
            sourced(&step.source, &step.id);
            assert!(
                step.kind == TaskKind::Rest || !step.look_for.is_empty(),
                "{name} {}",
                step.id
            );
            for after in &step.depends_on {
                after
                    .wait
                    .iter()
                    .for_each(|wait| sourced(&wait.source, &step.id));
            }
        }
        for setting in method.settings() {
            assert!(setting.options.len() >= 2);
            for option in &setting.options {
                sourced(&option.source, &setting.name);
            }
        }
    }
    assert_eq!(built_in("graft").unwrap_err().code(), "unknown_name");
}

/// The intervals that have been published, and those that are common practice.
#[test]
fn the_intervals_are_the_published_ones() {
    let wait = |method: &str, step: &str, after: &str| {
        let closed = [("entrance", "closed_at_first")];
        let choices: &[_] = if step.starts_with("feed-day") {
            &[]
        } else {
            &closed
        };
        let method = resolved(method, "generic_large", choices);
        let found = method.steps.iter().find(|s| s.id == step).unwrap();
        let found = found.depends_on.iter().find(|(on, _)| on.task == after);
        found.unwrap().0.wait.clone().unwrap().counts()
    };
    let eduction = |step: &str, after: &str| {
        let method = resolved("eduction", "generic_large", &[]);
        let found = method.steps.iter().find(|s| s.id == step).unwrap();
        let found = found.depends_on.iter().find(|(on, _)| on.task == after);
        found.unwrap().0.wait.clone().unwrap().counts()
    };
    let option = |method: &str, setting: &str, option: &str| {
        let method = built_in(method).unwrap();
        let setting = method
            .settings()
            .iter()
            .find(|s| s.name == setting)
            .unwrap()
            .clone();
        let option = setting
            .options
            .into_iter()
            .find(|o| o.name == option)
            .unwrap();
        option.wait.unwrap().counts()
    };
    // Villas-Bôas 2012 (manual): look for eggs on day 20 to 30.
    assert_eq!(wait("split", "egg-check", "divide"), [20.0, 25.0, 30.0]);
    assert_eq!(
        wait("comb_donation", "egg-check", "donate"),
        [20.0, 25.0, 30.0]
    );
    // Rivera Hernández, Agroproductividad: the entrance stays closed at least 2 d.
    assert_eq!(wait("split", "open-entrance", "close-entrance")[0], 2.0);
    // Nogueira-Neto 1997, p. 118: about 60 d away; about 21 d is common practice, no source.
    assert_eq!(option("split", "stay_away", "60_d")[1], 60.0);
    assert_eq!(option("split", "stay_away", "21_d")[1], 21.0);
    // Common practice, no source: 14 to 28 d side by side; 12 to 18 months between divisions; the
    // new box about 7 d before the entrance.
    assert_eq!(wait("split", "side-by-side", "divide"), [14.0, 21.0, 28.0]);
    let months = option("split", "division_interval", "12_to_18_months");
    assert_eq!(
        months.map(|days| (days / 30.44).round()),
        [12.0, 15.0, 18.0]
    );
    assert_eq!(eduction("beside-1", "part"), [6.0, 7.0, 8.0]);
    // The same as in relocations.
    let parting = crate::relocation::parted_from_parent();
    assert_eq!(
        eduction("beside-1", "part"),
        parting.before_entrance.counts()
    );
    assert_eq!(
        eduction("side-by-side", "beside-2"),
        parting.side_by_side.counts()
    );
    assert_eq!(
        eduction("beside-2", "beside-1"),
        parting.between_stages.counts()
    );
    // Villas-Bôas 2012, pp. 46–47: the daughter is fed on day 20. Nogueira-Neto 1997, p. 213: not opened
    // for 3 to 4 days. Keepers wait 50 d after the first eggs: common practice, no source.
    assert_eq!(wait("comb_donation", "feed-day-20", "donate")[0], 20.0);
    assert_eq!(wait("split", "feed-after-closing", "divide")[0], 4.0);
    assert_eq!(
        option("eduction", "grow_through", "50_d_after_brood")[0],
        50.0
    );
}

/// Villas-Bôas 2012, p. 52: Melipona decides on day 20 to 30. Mounika et al. 2019: divisions of
/// T. iridipennis were established after 20, 40, 43, 54 and 107 d, so that other bees are not given up before
/// day 60, and for the last time after the slowest.
#[test]
fn each_bee_is_given_the_time_that_its_queens_were_seen_to_need() {
    for method in ["split", "comb_donation", "eduction"] {
        let since_parting = |resolved: &Resolved, id: &str| {
            let safe = days_of(resolved, &resolved.steps[resolved.safe].id).unwrap();
            let days = days_of(resolved, id)?;
            Some([days[0] - safe[0], days[1] - safe[1], days[2] - safe[2]])
        };
        let melipona = resolved(method, "Melipona", &[]);
        assert_eq!(
            since_parting(&melipona, "egg-check"),
            Some([20.0, 25.0, 30.0])
        );
        let decide = since_parting(&melipona, "decide").unwrap();
        assert!(20.0 <= decide[0] && decide[1] <= 30.0, "{decide:?}");
        assert!(since_parting(&melipona, "second-look").is_none());

        let other = resolved(method, "tetragonula_iridipennis", &[]);
        let first = since_parting(&other, "egg-check").unwrap();
        assert_eq!(first[0], 30.0);
        let decide = since_parting(&other, "decide").unwrap();
        assert!(decide[0] >= FIRST_DECISION_D, "{decide:?}");
        let last = since_parting(&other, "late-look").unwrap();
        for published in [20.0, 40.0, 43.0, 54.0, 107.0] {
            assert!(published < last[1], "{published} {last:?}");
        }
        assert!([20.0, 40.0, 43.0, 54.0].iter().all(|day| *day < decide[1]));
        assert_eq!(last[1], 110.0);
        // Emergency cells take two months and more (from memory).
        let none = resolved(method, "generic_small", &[("queen_cells", "none")]);
        assert!(since_parting(&none, "egg-check").unwrap()[0] >= 60.0);
        assert!(since_parting(&none, "decide").unwrap()[0] > decide[0]);
    }
}

/// A bee whose workers are known to live for three weeks only (T. angustula, 21 d: Grüter et al. 2011)
/// is not waited for until day 110: by then nobody is left to be helped.
#[test]
fn the_last_decision_comes_while_there_are_bees_to_help() {
    let angustula = bee::built_in("tetragonisca_angustula").unwrap();
    let ends = angustula.queenless_life_d().unwrap();
    assert_eq!(ends, angustula.worker_development_d.value + 21.0);
    let last = days_of(
        &resolved("split", "tetragonisca_angustula", &[]),
        "late-look",
    )
    .unwrap();
    assert!(last[1] < ends && last[1] >= FIRST_DECISION_D, "{last:?}");
    // 161 d is the longest that was seen in A. australis (Halcroft et al. 2013): no reason to hurry.
    let australis = days_of(
        &resolved("split", "austroplebeia_australis", &[]),
        "late-look",
    );
    assert_eq!(australis.unwrap()[1], 110.0);
    assert!(
        bee::built_in("generic_small")
            .unwrap()
            .queenless_life_d()
            .is_none()
    );
}

/// No advice to look for queen cells where there are none, and no sentence about a bee or a pest of
/// elsewhere.
#[test]
fn texts_are_those_of_the_bee_and_the_place() {
    let tropics = Site::new(-1.45, -48.5, 10.0, "America/Belem").unwrap();
    for bee in bee::bee_names() {
        let bee = bee::built_in(bee).unwrap();
        for name in method_names() {
            let method = built_in(name).unwrap();
            for setting in method.settings() {
                for option in &setting.options {
                    let choices = [(setting.name.clone(), option.name.clone())].into();
                    let here = resolve(&method, &choices, None, &bee, &lismore()).unwrap();
                    let there = resolve(&method, &choices, None, &bee, &tropics).unwrap();
                    let all = |resolved: &Resolved| {
                        let steps = resolved.steps.iter().flat_map(|step| {
                            [step.title.clone(), step.why.clone()]
                                .into_iter()
                                .chain(step.look_for.clone())
                        });
                        let choices = resolved.choices.iter().flat_map(|choice| {
                            [choice.chosen.clone()]
                                .into_iter()
                                .chain(choice.others.clone())
                        });
                        let ready = resolved.ready_look_for.iter().cloned();
                        steps
                            .chain(choices)
                            .chain(ready)
                            .collect::<Vec<String>>()
                            .join("\n")
                    };
                    let (here, there) = (all(&here), all(&there));
                    let place = format!("{name} {} {}", bee.name(), option.name);
                    assert_eq!(
                        bee.builds_queen_cells(),
                        here.to_lowercase().contains("queen cell"),
                        "{place}"
                    );
                    let carbonaria = bee.name() == "tetragonula_carbonaria";
                    for word in ["carbonaria", "hockingsi"] {
                        assert!(carbonaria || !here.contains(word), "{place}: {word}");
                    }
                    assert!(
                        here.contains("Ceriana") && !there.contains("Ceriana"),
                        "{place}"
                    );
                    assert!(!here.contains("Lestrimelitta") && there.contains("Lestrimelitta"));
                    assert_eq!(
                        there.contains("Ants, resin bees"),
                        bee.name() == "tetragonula_iridipennis"
                    );
                    assert!(!here.contains("eight weeks") || bee.name() == "heterotrigona_itama");
                }
            }
        }
    }
}

/// What the manuals ask for is in every way of dividing.
#[test]
fn the_steps_follow_the_manuals() {
    for method in ["split", "comb_donation"] {
        let usual = resolved(method, "generic_small", &[]);
        let text_of = |id: &str| {
            let step = usual.steps.iter().find(|step| step.id == id).unwrap();
            format!("{} {}", step.why, step.look_for.join(" "))
        };
        let safe = &usual.steps[usual.safe].id.clone();
        // Nogueira-Neto 1997, pp. 209 to 217.
        for words in [
            "Never hunt for the queen",
            "same height, facing the same way",
            "ant barrier",
            "Tape all joints",
        ] {
            assert!(text_of(safe).contains(words), "{method}: {words}");
        }
        assert!(text_of("look-before").contains("queen cells in a cocoon"));
        assert!(text_of("pest-day-1").contains("stays closed"));
        // Reduced, not closed, unless it is asked for.
        assert!(!usual.steps.iter().any(|step| step.id == "close-entrance"));
        let early = usual
            .steps
            .iter()
            .filter(|step| step.step.day == DayRule::Opening);
        for step in early.filter(|step| step.id != *safe && step.step.lead_d.is_none()) {
            let days = days_of(&usual, &step.id).unwrap();
            assert!(
                days[0] - days_of(&usual, safe).unwrap()[0] >= 4.0,
                "{}",
                step.id
            );
        }
    }
    // Villas-Bôas 2012, pp. 46–47: 2 to 4 combs, the mother at least 10 m off.
    let donation = resolved("comb_donation", "generic_large", &[]);
    assert!(donation.steps[donation.safe].look_for[0].contains("2 to 4 ripe combs"));
}

#[test]
fn the_box_that_leaves_is_the_one_that_moves() {
    let moved = |choices: &[(&str, &str)], id: &str| {
        let split = resolved("split", "generic_small", choices);
        let step = split.steps.iter().find(|step| step.id == id)?.clone();
        Some((step.which, step.title))
    };
    let (which, title) = moved(&[], "stage-1").unwrap();
    assert!(which == Which::Parent && title.contains("Move the old box"));
    let (which, title) = moved(&[("old_place", "old_box")], "stage-1").unwrap();
    assert!(which == Which::Daughter && title.contains("Move the new box"));
    let away = [("place", "away")];
    assert_eq!(moved(&away, "take-away").unwrap().0, Which::Parent);
    let ten = [("place", "ten_metres")];
    assert_eq!(moved(&ten, "parent-aside").unwrap().0, Which::Parent);
    assert!(moved(&ten, "stage-1").is_none() && moved(&[], "parent-aside").is_none());
}

/// A keeper who never opens a box gets no look that opens one, but counts and a last decision.
#[test]
fn the_inspection_can_be_from_outside() {
    for method in method_names() {
        for bee in ["generic_small", "generic_large"] {
            let outside = resolved(method, bee, &[("inspection", "outside")]);
            let safe = outside.steps[outside.safe].id.clone();
            let opens = outside
                .steps
                .iter()
                .filter(|step| step.step.day == DayRule::Opening);
            let opens: Vec<_> = opens.map(|step| step.step.id.as_str()).collect();
            let allowed = [safe.as_str(), "look-through"];
            assert!(
                opens.iter().all(|id| allowed.contains(id)),
                "{method} {opens:?}"
            );
            let counts = outside.steps.iter().filter(|step| step.step.id == "count");
            assert_eq!(counts.count(), 9);
            let new_workers = &outside.steps[outside.rebuilt];
            assert_eq!(new_workers.depends_on[0].0.task, "eggs-likely");
        }
    }
}

#[test]
fn the_parting_of_an_eduction_waits_for_brood() {
    let eduction = resolved("eduction", "generic_small", &[]);
    let part = &eduction.steps[eduction.safe];
    let Some(Awaited::Sign(at, Some(wait))) = &part.awaits else {
        panic!("{:?}", part.awaits);
    };
    assert_eq!((at.sign, at.which), (SignKind::Brood, Which::Daughter));
    assert_eq!(wait.earliest, 0.0);
    let method = built_in("eduction").unwrap();
    for trial in ["two months", "none had brood and queen", "no colony at all"] {
        assert!(method.about().contains(trial), "{trial}");
    }
}

/// A weight and an interval are asked only where they are known for the bee.
#[test]
fn an_unknown_interval_gives_no_date() {
    let next = |bee: &str, choices: &[(&str, &str)]| {
        let split = resolved("split", bee, choices);
        let step = split.steps.iter().find(|step| step.id == "next-parent");
        let step = step.unwrap();
        (
            step.awaits.is_some(),
            step.depends_on[0].0.wait.clone().map(|w| w.earliest),
        )
    };
    assert_eq!(next("generic_small", &[]), (true, None));
    assert_eq!(next("tetragonula_carbonaria", &[]), (false, Some(548.0)));
    // Ahmad Jailani et al. 2019: grown again after 12 weeks.
    assert_eq!(next("heterotrigona_itama", &[]), (false, Some(84.0)));
    let chosen = [("division_interval", "18_months")];
    assert_eq!(next("generic_small", &chosen), (false, Some(548.0)));
}

/// A. australis 55 d at about 27 °C (Insectes Sociaux 2013), M. colimana 55.44 d (Macías-Macías &
/// Quezada-Euán 2015), M. quadrifasciata 40 d (Kerr 1996).
#[test]
fn new_workers_are_looked_for_when_they_emerge() {
    for (name, published_d) in [
        ("austroplebeia_australis", 55.0),
        ("generic_large", 55.44),
        ("melipona_quadrifasciata", 40.0),
    ] {
        let bee = bee::built_in(name).unwrap();
        let split = resolved("split", name, &[]);
        let step = &split.steps[split.rebuilt];
        let wait = step.depends_on[0].0.wait.clone().unwrap();
        assert!(
            wait.earliest <= published_d && published_d <= wait.latest,
            "{name}"
        );
        assert!((wait.likely - published_d).abs() < 1.0, "{name}");
        assert_eq!(wait.source, bee.worker_development_d.source);
    }
}

#[test]
fn the_same_from_toml_and_json() {
    let split = built_in("split").unwrap();
    let json = serde_json::to_string(&split).unwrap();
    assert_eq!(Method::from_json("own.json", &json).unwrap(), split);
    let bee = bee::built_in("generic_small").unwrap();
    let choice: MethodChoice = serde_json::from_str(&json).unwrap();
    assert_eq!(*choice.for_bee(&bee).unwrap().0, split);
    let named: MethodChoice = serde_json::from_str("\"split\"").unwrap();
    assert_eq!(*named.for_bee(&bee).unwrap().0, split);
}

#[test]
fn what_makes_no_sense_is_refused() {
    let refused = |from: &str, to: &str| {
        let text = split_text();
        assert!(text.contains(from), "{from}");
        let error = Method::from_toml("own.toml", &text.replacen(from, to, 1)).unwrap_err();
        (error.code(), error.field().to_owned(), error.to_string())
    };
    for (from, to, code, field) in [
        (
            "task = \"divide\"",
            "task = \"divde\"",
            "unknown_name",
            "steps[3].depends_on",
        ),
        (
            "id = \"divide\"",
            "id = \"prepare\"",
            "inconsistent",
            "steps",
        ),
        (
            "id = \"divide\"",
            "id = \"Divide it\"",
            "out_of_range",
            "steps[2].id",
        ),
        (
            "id = \"pest-day-7\"",
            "id = \"pest-day-1\"",
            "inconsistent",
            "steps",
        ),
        (
            "default = \"side_by_side\"",
            "default = \"beside\"",
            "unknown_name",
            "settings[1].default",
        ),
        (
            "name = \"entrance\"",
            "name = \"place\"",
            "inconsistent",
            "settings",
        ),
        (
            "\"lifting\"",
            "\"sharks\"",
            "unknown_name",
            "steps[2].cautions",
        ),
        (
            "times = 3",
            "times = 1",
            "out_of_range",
            "steps[6].repeat.times",
        ),
        (
            "season = \"safe\"",
            "season = \"within\"",
            "inconsistent",
            "steps",
        ),
        ("rebuilt = true", "rebuilt = false", "inconsistent", "steps"),
        (
            "net_weight_by_bee = true",
            "net_weight_kg = -3.0",
            "out_of_range",
            "readiness.net_weight_kg",
        ),
        (
            "since_division_setting = \"division_interval\"",
            "since_division_setting = \"feeding\"",
            "inconsistent",
            "readiness.since_division_setting",
        ),
        (
            "title = \"Divide the",
            "titel = \"Divide the",
            "unreadable",
            "steps[2].titel",
        ),
        (
            "bees = [\"tetragonula_carbonaria\"]",
            "bees = [\"apis_mellifera\"]",
            "unknown_name",
            "steps[0].look_for.when.bees",
        ),
        (
            "when = { builds_queen_cells = true }",
            "when = { }",
            "inconsistent",
            "readiness.look_for.when",
        ),
        (
            "when = { setting = \"old_place\", is = \"new_box\" }",
            "when = { setting = \"old_place\" }",
            "inconsistent",
            "steps[2].look_for.when",
        ),
        (
            "keeps_place = \"daughter\"",
            "keeps_place = \"pair\"",
            "inconsistent",
            "settings[2].options.keeps_place",
        ),
        (
            "by_bee = \"division_interval\"",
            "by_bee = \"division_interval\"\nwait = { unit = \"days\", earliest = 1, likely = 1, latest = 1, source = \"x\" }",
            "inconsistent",
            "settings[8].options",
        ),
        (
            "lead_d = 7",
            "lead_d = 7000",
            "out_of_range",
            "steps[0].lead_d",
        ),
    ] {
        let (given, place, message) = refused(from, to);
        assert_eq!((given, place.as_str()), (code, field), "{message}");
    }
    let (code, field, _) = refused("earliest = 20, likely = 25", "earliest = 20, likely = 35");
    assert_eq!(code, "inconsistent");
    assert!(field.ends_with("earliest, likely, latest"), "{field}");
    let (code, _, message) = refused(
        "  { task = \"prepare\" },\n",
        "  { task = \"egg-check\" },\n",
    );
    assert_eq!(code, "inconsistent");
    assert!(
        message.contains("wait for each other") && message.contains("egg-check"),
        "{message}"
    );
}

#[test]
fn a_choice_leaves_steps_out_and_joins_what_is_left() {
    let bee = bee::built_in("generic_small").unwrap();
    let split = built_in("split").unwrap();
    let ids = |choices: &[(&str, &str)]| {
        let choices = choices
            .iter()
            .map(|(setting, option)| ((*setting).to_owned(), (*option).to_owned()))
            .collect();
        resolve(&split, &choices, None, &bee, &lismore()).map(|resolved| {
            resolved
                .steps
                .iter()
                .map(|step| step.id.clone())
                .collect::<Vec<_>>()
        })
    };
    let usual = ids(&[]).unwrap();
    assert!(usual.contains(&"stage-2".to_owned()) && !usual.contains(&"bring-back".to_owned()));
    let away = ids(&[
        ("place", "away"),
        ("stay_away", "21_d"),
        ("entrance", "open"),
    ])
    .unwrap();
    assert!(!away.contains(&"stage-1".to_owned()) && away.contains(&"bring-back".to_owned()));
    assert!(!away.contains(&"open-entrance".to_owned()));
    assert_eq!(
        ids(&[("place", "moon")]).unwrap_err().field(),
        "settings.choices.place"
    );
    assert_eq!(
        ids(&[("moon", "away")]).unwrap_err().field(),
        "settings.choices"
    );
}

#[test]
fn every_conflict_of_practice_is_named_with_both_sources() {
    let split = resolved("split", "generic_small", &[("place", "away")]);
    let choice = |name: &str| split.choices.iter().find(|c| c.name == name).unwrap();
    let stay = choice("stay_away");
    assert!(stay.source.contains("Nogueira-Neto 1997") && stay.others[0].contains("about 21 days"));
    assert!(stay.others[0].contains(COMMON_PRACTICE));
    assert!(choice("entrance").source.contains("Nogueira-Neto 1997"));
    assert!(choice("entrance").others[0].contains("Rivera Hernández"));
    assert!(choice("entrance").others[1].contains("left as it is"));
    assert_eq!(choice("feeding").others.len(), 2);
    assert_eq!(choice("division_interval").others.len(), 2);
    assert_eq!(choice("old_place").others.len(), 1);
}
