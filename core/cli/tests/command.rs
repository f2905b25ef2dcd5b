//! The README's command, run as a user runs it.
// Helpers of a test may unwrap like the test itself.
#![allow(clippy::unwrap_used)]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use apiary_almanac::civil::date_words;
use apiary_almanac::plan::Plan;
use apiary_almanac::task::TaskState;
use chrono::NaiveDate;

fn demo(file: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../docs/demo")
        .join(file)
}

fn scratch(file: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    std::fs::create_dir_all(folder).unwrap();
    folder.join(file)
}

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_apiary-almanac"))
        .args(args)
        .output()
        .unwrap()
}

fn printed(output: &Output) -> String {
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout.clone()).unwrap()
}

/// The message in one line: where a long one breaks depends on the folder that the tests run in.
fn refused(args: &[&str]) -> String {
    let output = run(args);
    assert_eq!(output.status.code(), Some(1), "{args:?}");
    assert!(output.stdout.is_empty());
    let message = String::from_utf8(output.stderr).unwrap();
    message.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_demo_prints_season_tomorrow_mornings_and_cautions() {
    let folder = scratch("demo");
    let _ = std::fs::remove_dir_all(&folder);
    let short = printed(&run(&[demo("apiary.toml").to_str().unwrap()]));
    let text = printed(&run(&[
        demo("apiary.toml").to_str().unwrap(),
        "--why",
        "--all",
        "--out",
        folder.to_str().unwrap(),
    ]));
    for part in [
        "Season for dividing colonies",
        "Tomorrow, Mon 14 Sep 2026",
        "civil dawn 05:24",
        "Mornings to move a hive, the best first",
        " 1. ",
        "10. ",
        "local law",
        "declared weight 9.5 kg",
    ] {
        assert!(text.contains(part), "{part:?} is missing in:\n{text}");
    }
    let readme = std::fs::read_to_string(demo("../../README.md")).unwrap();
    let example = readme.split("```text\n").nth(1).unwrap();
    assert_eq!(example.split("```").next(), Some(short.as_str()));
    let longest = text.lines().map(|line| line.chars().count()).max();
    assert!(longest <= Some(80), "{longest:?} columns");

    let read = |name: &str| std::fs::read_to_string(folder.join(name)).unwrap();
    let answer: serde_json::Value = serde_json::from_str(&read("outlook.json")).unwrap();
    assert_eq!(answer["today"], "2026-09-13");
    let mornings = answer["mornings"].as_array().unwrap();
    assert_eq!(mornings.len(), 10);
    // The best morning of the text is the best of the JSON.
    let best: NaiveDate = mornings[0]["morning"]["date"]
        .as_str()
        .unwrap()
        .parse()
        .unwrap();
    let best = date_words(best);
    let first_line = text.lines().find(|line| line.starts_with(" 1. ")).unwrap();
    assert!(first_line.contains(&best), "{first_line}");

    // The same tasks stand in every form of the plan.
    let plan: Plan = serde_json::from_str(&read("plan.json")).unwrap();
    assert!(plan.tasks.len() > 10, "{} tasks", plan.tasks.len());
    // What is done only if something is seen comes into the calendar when it is near.
    let sure = plan.tasks.iter().filter(|task| task.only_if.is_none());
    assert_eq!(
        read("plan.ics").matches("BEGIN:VEVENT").count(),
        sure.count()
    );
    let table = read("plan.csv");
    let table = table.strip_prefix('\u{feff}').unwrap();
    let rows = csv::Reader::from_reader(table.as_bytes()).records().count();
    assert_eq!(rows, plan.tasks.len() + plan.waiting.len());
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for task in &plan.tasks {
        assert!(words.contains(&task.title), "{}", task.title);
    }
    for picture in ["plan.svg", "poster.svg", "year.svg"] {
        let svg = read(picture);
        assert_eq!(
            roxmltree::Document::parse(&svg)
                .unwrap()
                .root_element()
                .tag_name()
                .name(),
            "svg"
        );
    }
}

#[test]
fn a_place_and_a_date_are_enough() {
    let text = printed(&run(&[
        "--latitude=-25.53",
        "--longitude=152.7",
        "--elevation=11",
        "--zone=Australia/Brisbane",
        "--today=2026-08-01",
        "--mornings=3",
        "--why",
    ]));
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("°C off, 19 in 20"), "{text}");
    assert!(text.contains(" 3. ") && !text.contains(" 4. "));
}

#[test]
fn arguments_replace_what_the_file_says() {
    let file = demo("apiary.toml");
    let text = printed(&run(&[
        file.to_str().unwrap(),
        "--today=2026-12-01",
        "--bee=generic_large",
        "--latitude=-30",
        "--why",
    ]));
    assert!(
        text.contains("30.000° S") && text.contains("Tomorrow, Wed 2 Dec 2026"),
        "{text}"
    );
    assert!(text.contains("large stingless bee"));
}

#[test]
fn what_is_wrong_is_named_with_file_and_place() {
    let cells = scratch("cells.csv");
    std::fs::write(
        &cells,
        "date,minimum_c,maximum_c\n2026-09-14,11,24\n2026-09-15,warm,24\n",
    )
    .unwrap();
    let file = demo("apiary.toml");
    let message = refused(&[file.to_str().unwrap(), "--records", cells.to_str().unwrap()]);
    assert!(message.contains("cells.csv, line 3"), "{message}");
    assert!(
        message.contains("minimum_c") && message.contains("warm"),
        "{message}"
    );

    let toml = scratch("odd.toml");
    std::fs::write(&toml, "[site]\nlatitude_deg = 5\naltitude_m = 3\n").unwrap();
    let message = refused(&[toml.to_str().unwrap()]);
    assert!(
        message.contains("odd.toml, line 3") && message.contains("altitude_m"),
        "{message}"
    );

    // What the engine refuses later is found in the file too, and told apart from an argument.
    std::fs::write(
        &toml,
        "[site]\nlatitude_deg = 5\nlongitude_deg = 7\nelevation_m = 3\nzone = \"Nowhere\"\n",
    )
    .unwrap();
    let message = refused(&["season", toml.to_str().unwrap()]);
    assert!(
        message.contains("odd.toml, line 5: zone \"Nowhere\""),
        "{message}"
    );
    let message = refused(&["season", toml.to_str().unwrap(), "--zone=Neither"]);
    assert!(message.starts_with("--zone: zone \"Neither\""), "{message}");

    assert!(
        refused(&[
            "--latitude=91",
            "--longitude=0",
            "--elevation=0",
            "--zone=UTC"
        ])
        .contains("-90 to 90")
    );
    assert!(refused(&["--longitude=0"]).contains("latitude_deg"));
    let message = refused(&[]);
    assert_eq!(
        message,
        "Where do the hives stand? Give a keeper's file, or --town NAME, or --latitude, --longitude and --zone."
    );
    let message = refused(&["--latitude=1", "--longitude=0"]);
    assert!(message.starts_with("zone: nothing; "), "{message}");
    assert!(
        refused(&[
            "--latitude=1",
            "--longitude=0",
            "--elevation=0",
            "--zone=UTC+1"
        ])
        .contains("IANA")
    );
}

#[test]
fn a_forecast_as_it_was_copied_is_read_and_what_was_not_is_said() {
    let demo = demo("apiary.toml");
    let demo = demo.to_str().unwrap();
    let file = scratch("copied.txt");
    let file = file.to_str().unwrap();
    let with = |text: &str, more: &[&str]| {
        std::fs::write(file, text).unwrap();
        run(&[
            &[
                "mornings",
                demo,
                "--today=2026-09-13",
                "--forecast",
                file,
                "--json",
            ],
            more,
        ]
        .concat())
    };
    // A forecast that says all by itself needs no words.
    let output = with("Mon 11-24 °C\nTue 12-25 °C\n", &[]);
    let answer: serde_json::Value = serde_json::from_str(&printed(&output)).unwrap();
    assert!(answer.to_string().contains("forecast"), "{answer}");
    assert!(output.stderr.is_empty());
    let output = with("Mon 11-24 °C\nTue warm\n", &[]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success());
    assert!(said.contains("copied.txt was read:"), "{said}");
    assert!(said.contains("line 2, “Tue warm”"), "{said}");
    assert!(
        said.contains("Monday 14 September 2026: 11 to 24 °C."),
        "{said}"
    );
    // What can mean two things is asked, and the keeper's file answers.
    let text = "date,min °C,max °C\n3/10,11,24\n";
    std::fs::write(file, text).unwrap();
    let message = refused(&[demo, "--forecast", file]);
    for words in [
        "Which day is meant",
        "date_order = \"day_month\"",
        "3 October 2026",
    ] {
        assert!(message.contains(words), "{message}");
    }
    let own = scratch("answered.toml");
    let keeper = std::fs::read_to_string(demo)
        .unwrap()
        .replace("normals = \"normals.csv\"\n", "")
        .replace(
            "forecast.csv\"",
            "copied.txt\"\nforecast_answers = { date_order = \"day_month\" }",
        );
    std::fs::write(&own, keeper).unwrap();
    printed(&run(&["season", own.to_str().unwrap()]));
}

/// As a spreadsheet or an editor of another system saves them.
#[test]
fn files_in_other_codes_are_read() {
    let file = demo_with("codes", "");
    let folder = file.parent().unwrap();
    let (keeper, normals) = (folder.join("apiary.toml"), folder.join("normals.csv"));
    let text = std::fs::read_to_string(&keeper)
        .unwrap()
        .replace("Lantern", "Läntern");
    let utf16 = |text: &str| -> Vec<u8> {
        let units = "\u{feff}".encode_utf16().chain(text.encode_utf16());
        units.flat_map(u16::to_le_bytes).collect()
    };
    let months = std::fs::read_to_string(&normals).unwrap();
    let asked = |wanted: &str| {
        let output = run(&[keeper.to_str().unwrap()]);
        let told = printed(&output);
        assert!(told.contains("Läntern"), "{told}");
        let said = String::from_utf8(output.stderr).unwrap();
        assert!(
            said.contains(wanted) && said.is_empty() == wanted.is_empty(),
            "{said}"
        );
    };
    std::fs::write(&keeper, utf16(&text)).unwrap();
    std::fs::write(&normals, utf16(&months)).unwrap();
    asked("");
    let latin: Vec<u8> = text.chars().map(|c| u8::try_from(c).unwrap()).collect();
    std::fs::write(&keeper, latin).unwrap();
    asked("Windows-1252");
    std::fs::write(&normals, b"PK\x03\x04\0\0").unwrap();
    let told = refused(&[keeper.to_str().unwrap()]);
    assert!(
        told.contains("normals.csv: it is no text; save it as UTF-8"),
        "{told}"
    );
}

/// Nothing in a name moves the cursor, colours the screen or turns a line round.
#[test]
fn names_do_nothing_to_a_terminal() {
    let file = demo_with("names", "");
    let text = std::fs::read_to_string(&file).unwrap();
    let text = text.replace("\"Lantern\"", r#""Lan\u001b[2Jtern\u202e\u009b""#);
    std::fs::write(&file, &text).unwrap();
    let path = file.to_str().unwrap();
    std::fs::write(
        &file,
        text.replace("[site]", "[site]\n\"a\\u001b[31m\" = 1"),
    )
    .unwrap();
    let told = refused(&[path]);
    assert!(!told.contains('\u{1b}'), "{told:?}");
    std::fs::write(&file, text).unwrap();
    for args in [
        &[path, "--why"][..],
        &["plan", path],
        &["review", path],
        &["agenda", path],
    ] {
        let told = printed(&run(args));
        assert!(
            told.contains("Lan\u{fffd}[2Jtern\u{fffd}\u{fffd}"),
            "{told}"
        );
        assert!(!told.contains(['\u{1b}', '\u{202e}', '\u{9b}']), "{told:?}");
    }
}

#[test]
fn a_missing_file_is_named() {
    let output = run(&["no-such-file.toml"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&output.stderr).contains("no-such-file.toml"));
}

/// The demo with records under its plan.
/// Each test has a folder of its own: tests run at once.
fn demo_with(test: &str, records: &str) -> PathBuf {
    let folder = scratch(test);
    std::fs::create_dir_all(&folder).unwrap();
    for table in ["normals.csv", "forecast.csv"] {
        std::fs::copy(demo(table), folder.join(table)).unwrap();
    }
    let text = std::fs::read_to_string(demo("apiary.toml")).unwrap() + records;
    let file = folder.join("apiary.toml");
    std::fs::write(&file, text).unwrap();
    file
}

#[test]
fn each_question_has_its_own_answer_as_text_and_as_json() {
    let file = demo("apiary.toml");
    let file = file.to_str().unwrap();
    let page = printed(&run(&[file, "--why", "--all"]));
    for (name, only) in [
        ("season", "Season for dividing colonies"),
        ("mornings", "Mornings to move a hive, the best first"),
        ("plan", "Quoll Creek Little Bee Circle · Ines Marrow"),
    ] {
        let short = printed(&run(&[name, file]));
        assert!(short.contains(only), "{short}");
        let all = if name == "plan" { &["--all"][..] } else { &[] };
        let text = printed(&run(&[&[name, file, "--why"], all].concat()));
        assert!(text.lines().count() > short.lines().count(), "{text}");
        // Nothing is said otherwise than on the page with everything.
        let (answer, _) = text.split_once("\nMind\n").unwrap_or((&text, ""));
        for line in answer.lines().skip_while(|line| !line.contains(only)) {
            assert!(page.contains(line.trim()), "{name}: {line}");
        }
    }
    let json = |args: &[&str]| -> serde_json::Value {
        serde_json::from_str(&printed(&run(args))).unwrap()
    };
    let season = json(&["season", file, "--json"]);
    assert_eq!(season["first"], "2026-09-13");
    let mornings = json(&["mornings", file, "--json", "--mornings=4"]);
    assert_eq!(mornings.as_array().map(Vec::len), Some(4));
    let plan: Plan = serde_json::from_value(json(&["plan", file, "--json"])).unwrap();
    assert_eq!(plan.method, "split");
    let other: Plan =
        serde_json::from_value(json(&["plan", file, "--json", "--method=transfer"])).unwrap();
    assert_eq!(other.method, "transfer");
}

#[test]
fn a_review_says_where_the_colony_stands_and_what_to_do() {
    let file = demo_with(
        "reviewed",
        "\n[[plan.records]]\ndate = \"2026-10-03\"\ntask = \"divide\"\n\
         [[plan.records]]\ndate = \"2026-11-05\"\n\
         signs = [{kind = \"eggs\", which = \"daughter\"}]\n",
    );
    let args = ["review", file.to_str().unwrap(), "--today=2026-11-06"];
    let text = printed(&run(&args));
    for part in [
        "Where it stands on Fri 6 Nov 2026",
        "Candle: a laying queen or her eggs were seen.",
        "for it: Thu 5 Nov 2026, New cells with eggs: a queen lays in this box",
        "[x] Sat 3 Oct 2026",
        "local law",
    ] {
        let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains(part), "{part:?} is missing in:\n{text}");
    }
    let longest = text.lines().map(|line| line.chars().count()).max();
    assert!(longest <= Some(80), "{longest:?} columns");

    // A record of the day after today is refused with its line.
    let message = refused(&["review", file.to_str().unwrap(), "--today=2026-11-04"]);
    assert!(
        message.contains("records[1].date") && message.contains("apiary.toml, line"),
        "{message}"
    );
}

#[test]
fn a_calendar_is_printed_or_written() {
    let file = demo("apiary.toml");
    let args = ["calendar", file.to_str().unwrap(), "--sequence=7"];
    let ics = printed(&run(&args));
    assert!(ics.starts_with("BEGIN:VCALENDAR\r\n") && ics.contains("SEQUENCE:7\r\n"));
    let out = scratch("plan.ics");
    let _ = std::fs::remove_file(&out);
    let args = &[&args[..], &["--out", out.to_str().unwrap()]].concat();
    let text = printed(&run(args));
    assert!(text.contains("plan.ics"), "{text}");
    let stamp = |text: &str| -> String {
        text.lines()
            .filter(|line| !line.starts_with("DTSTAMP") && !line.starts_with("LAST-MODIFIED"))
            .collect::<Vec<_>>()
            .join("\n")
    };
    let written = std::fs::read_to_string(&out).unwrap();
    assert_eq!(stamp(&written), stamp(&ics));
    // Again, with nothing new: to the byte, stamps included.
    printed(&run(args));
    assert_eq!(std::fs::read_to_string(&out).unwrap(), written);
}

#[test]
fn what_was_read_is_written_over_only_when_asked() {
    // A name that a calendar may have.
    let file = scratch("own.ics");
    let text = std::fs::read_to_string(demo("apiary.toml")).unwrap();
    let (tables, plan) = text.split_once("[climate]").unwrap();
    let (_, plan) = plan.split_once("[plan]").unwrap();
    let text = format!("{tables}[plan]{plan}");
    std::fs::write(&file, &text).unwrap();
    let name = file.to_str().unwrap();
    let args = ["calendar", name, "--out", name];
    let message = refused(&args);
    assert!(
        message.contains("own.ics") && message.contains("--force"),
        "{message}"
    );
    assert_eq!(std::fs::read_to_string(&file).unwrap(), text);
    printed(&run(&[&args[..], &["--force"]].concat()));
    assert!(
        std::fs::read_to_string(&file)
            .unwrap()
            .starts_with("BEGIN:VCALENDAR")
    );
}

#[cfg(unix)]
#[test]
fn nothing_is_written_through_a_link_or_over_a_device_or_in_part() {
    use std::os::unix::fs::{MetadataExt, symlink};
    let folder = scratch("links");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    let (kept, link) = (folder.join("kept"), folder.join("plan.svg"));
    std::fs::write(&kept, "mine").unwrap();
    symlink(&kept, &link).unwrap();
    let apiary = demo("apiary.toml");
    let args = [apiary.to_str().unwrap(), "--out", folder.to_str().unwrap()];
    let message = refused(&args);
    assert!(
        message.contains("plan.svg") && message.contains("link"),
        "{message}"
    );
    // Not one of the other files was written.
    let names = || {
        let entries = std::fs::read_dir(&folder).unwrap();
        let mut names: Vec<_> = entries
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    };
    assert_eq!(names(), ["kept", "plan.svg"]);
    assert_eq!(std::fs::read_to_string(&kept).unwrap(), "mine");
    let before = kept.metadata().unwrap();
    printed(&run(&[&args[..], &["--force"]].concat()));
    assert!(std::fs::read_to_string(&kept).unwrap().starts_with("<svg"));
    assert!(link.is_symlink());
    assert_eq!(kept.metadata().unwrap().mode(), before.mode());
    // Nothing is left of what was written beside.
    let all = [
        "kept",
        "outlook.json",
        "plan.csv",
        "plan.ics",
        "plan.json",
        "plan.svg",
        "poster.svg",
        "year.svg",
    ];
    assert_eq!(names(), all);
    let no_file = folder.join("folder.ics");
    std::fs::create_dir(&no_file).unwrap();
    let message = refused(&["calendar", args[0], "--out", no_file.to_str().unwrap()]);
    assert!(message.contains("not an ordinary file"), "{message}");
}

/// A device of Linux that is always full.
#[cfg(target_os = "linux")]
#[test]
fn a_full_output_is_noticed_and_a_closed_one_is_no_error() {
    let apiary = demo("apiary.toml");
    let command = || {
        let mut command = Command::new(env!("CARGO_BIN_EXE_apiary-almanac"));
        command.args(["calendar", apiary.to_str().unwrap()]);
        command
    };
    let full = std::fs::OpenOptions::new()
        .write(true)
        .open("/dev/full")
        .unwrap();
    let output = command().stdout(full).output().unwrap();
    assert_eq!(output.status.code(), Some(1));
    let message = String::from_utf8(output.stderr).unwrap();
    assert!(message.starts_with("standard output: "), "{message}");
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    let output = command().stdout(writer).output().unwrap();
    assert_eq!((output.status.code(), output.stderr), (Some(0), Vec::new()));
}

#[test]
fn a_plan_without_a_method_and_a_wrong_word_are_told_apart() {
    let message = refused(&[
        "plan",
        "--latitude=1",
        "--longitude=0",
        "--elevation=0",
        "--zone=UTC",
    ]);
    assert!(
        message.contains("--method") && message.contains("eduction"),
        "{message}"
    );
    for wrong in [
        &["season", "--altitude=3"][..],
        &["mornings", "--mornings=x"],
    ] {
        let output = run(wrong);
        assert_eq!(output.status.code(), Some(2), "{wrong:?}");
        assert!(String::from_utf8_lossy(&output.stderr).contains("error:"));
    }
    let output = run(&["--help"]);
    assert_eq!(output.status.code(), Some(0));
    let help = String::from_utf8(output.stdout).unwrap();
    for name in ["season", "mornings", "plan", "review", "calendar"] {
        assert!(help.contains(&format!("  {name}")), "{help}");
    }
}

#[test]
fn a_record_is_written_into_the_file_and_nothing_else_changes() {
    let file = demo_with(
        "recorded",
        "\n[season] # how warm is warm enough\nchance = 0.85\n",
    );
    let path = file.to_str().unwrap();
    let before = std::fs::read_to_string(&file).unwrap();
    let told = printed(&run(&[
        "record",
        path,
        "prepare",
        "--saw=steady streams@Lantern",
        "--saw",
        "pollen_in@new",
        "--saw=guards",
        "--weight=3.7",
        "--note=bäume “blühen”",
    ]));
    assert!(told.contains("done on Sun 13 Sep 2026"), "{told}");
    let after = std::fs::read_to_string(&file).unwrap();
    let kept = |line: &&str| after.lines().any(|other| other == *line);
    let lost: Vec<_> = before.lines().filter(|line| !kept(line)).collect();
    assert!(lost.is_empty(), "{lost:?}");
    let review = |args: &[&str]| -> serde_json::Value {
        serde_json::from_str(&printed(&run(args))).unwrap()
    };
    let json = review(&["plan", path, "--json"]);
    let prepare = &json["tasks"].as_array().unwrap()[0];
    assert_eq!(prepare["state"]["on"], "2026-09-13");
    let table: toml::Table = after.parse().unwrap();
    let record = &table["plan"]["records"][0];
    assert_eq!(record["note"].as_str(), Some("bäume “blühen”"));
    assert_eq!(record["net_weight_kg"].as_float(), Some(3.7));
    let signs: Vec<_> = record["signs"]
        .as_array()
        .unwrap()
        .iter()
        .map(|sign| {
            (
                sign["kind"].as_str(),
                sign.get("which").and_then(|w| w.as_str()),
            )
        })
        .collect();
    assert_eq!(
        signs,
        [
            (Some("steady_streams"), Some("parent")),
            (Some("pollen_in"), Some("daughter")),
            (Some("guards"), None)
        ]
    );
    assert_eq!(table["season"]["chance"].as_float(), Some(0.85));
}

#[test]
fn outcomes_counts_corrections_and_what_was_known_are_written_and_read_again() {
    let file = demo_with("outcomes", "\n");
    let path = file.to_str().unwrap();
    let record = |args: &[&str]| printed(&run(&[&["record", path], args].concat()));
    let told = record(&[
        "divide",
        "--outcome=queen_seen@old",
        "--saw",
        "12 males turned out@new",
    ]);
    assert!(told.contains("2026-09-13-divide"), "{told}");
    record(&[
        "--count=new=40,5,2",
        "--count=neighbour=90,30,4",
        "--id=counted",
    ]);
    record(&["--corrects=counted", "--count", "new=41,5"]);
    record(&["--strikes-out=2026-09-13-note", "--note=counted twice"]);
    let review: serde_json::Value =
        serde_json::from_str(&printed(&run(&["review", path, "--json"]))).unwrap();
    assert_eq!(review["pair"]["old_queen"], "parent");
    let records = review["plan"]["records"].as_array().unwrap();
    let first = &records[0]["record"];
    assert_eq!(first["outcome"], "queen_seen");
    assert_eq!(first["signs"][0]["count"], 12);
    // The demo's day lies before its season.
    assert!(first["known"]["season"].is_string(), "{first}");
    let count = &records[1]["record"]["counts"][0];
    assert_eq!(count["neighbour"]["pollen"], 30);
    let void: Vec<_> = records.iter().map(|one| one["void_by"].as_str()).collect();
    let note = Some("2026-09-13-note");
    assert_eq!(void, [None, note, Some("2026-09-13-note-2"), None]);
    for (args, says) in [
        (&["--outcome=lost"][..], "box_empty"),
        (&["--outcome=gave_brood@moon"], "old, new, both"),
        (&["--count=new=x"], "new=40,5,2"),
        (&["--count=neighbour=3"], "the count of a box beside it"),
        (&["--corrects=nothing", "--note=x"], "counted"),
        (&["--saw", "0 fights"], "leave out a sign"),
    ] {
        let message = refused(&[&["record", path], args].concat());
        assert!(message.contains(says), "{args:?}: {message}");
    }
}

#[test]
fn a_record_joins_a_list_in_one_line_and_a_wrong_one_leaves_the_file_alone() {
    let file = demo_with(
        "recorded-in-one-line",
        "records = [{ date = \"2026-09-01\", note = \"seen\" }] # mine\n",
    );
    let path = file.to_str().unwrap();
    printed(&run(&[
        "record",
        path,
        "--on=2026-09-12",
        "--saw=ants@both",
    ]));
    let text = std::fs::read_to_string(&file).unwrap();
    assert!(
        text.contains("# mine") && text.contains("2026-09-12"),
        "{text}"
    );
    for (args, words) in [
        (&["--saw=egs"][..], "known are eggs, laying_queen"),
        (&["--saw=eggs@attic"], "old, new, both, Lantern, Candle"),
        (&["--on=2026-09-31", "--note=x"], "--on"),
        (&["--on=2026-12-01", "--note=x"], "after today"),
        (&["brew"], "brew"),
        (
            &[][..],
            "a task that was done, --outcome, --saw, --count, --weight or --note",
        ),
    ] {
        let told = refused(&[&["record", path][..], args].concat());
        assert!(told.contains(words), "{told}");
        assert_eq!(std::fs::read_to_string(&file).unwrap(), text);
    }
}

/// The demo's file of three hives, in a folder of its own.
fn hives(test: &str) -> PathBuf {
    let folder = scratch(test);
    std::fs::create_dir_all(&folder).unwrap();
    for name in ["hives.toml", "normals.csv"] {
        std::fs::copy(demo(name), folder.join(name)).unwrap();
    }
    folder.join("hives.toml")
}

#[test]
fn several_hives_stand_in_one_file_and_each_has_its_plan_and_its_records() {
    let file = hives("several");
    let path = file.to_str().unwrap();
    let plans = || -> Vec<Plan> {
        serde_json::from_str(&printed(&run(&["plan", path, "--json"]))).unwrap()
    };
    let ids: Vec<_> = plans().into_iter().map(|plan| plan.id).collect();
    assert_eq!(ids.len(), 3);
    assert!(
        ids[0].starts_with("ines-marrow-wattle-saltbush")
            && ids[2].starts_with("ines-marrow-gidgee")
    );
    let text = printed(&run(&[path, "--why"]));
    for name in ["Wattle and Saltbush", "Bunya and Quandong", "Gidgee"] {
        assert!(text.contains(name), "{text}");
    }
    let calendar = printed(&run(&["calendar", path]));
    assert!(
        ids.iter()
            .all(|id| calendar.contains(&format!("UID:{id}.")))
    );

    let folder = file.parent().unwrap().join("calendars");
    let _ = std::fs::remove_dir_all(&folder);
    let args = [
        "calendar",
        path,
        "--per=hive",
        "--out",
        folder.to_str().unwrap(),
    ];
    let read = || -> Vec<(String, String)> {
        let entries = std::fs::read_dir(&folder).unwrap();
        let mut files: Vec<_> = entries
            .map(|entry| entry.unwrap())
            .map(|entry| {
                let name = entry.file_name().into_string().unwrap();
                (name, std::fs::read_to_string(entry.path()).unwrap())
            })
            .collect();
        files.sort();
        files
    };
    printed(&run(&args));
    let first = read();
    assert_eq!(first.len(), 3);
    assert!(
        first[2].0 == "quoll-creek-little-bee-circle-ines-marrow-wattle.ics"
            && first[2].1.contains(&ids[0])
    );
    assert!(!first[2].1.contains(&ids[1]));
    printed(&run(&args));
    assert_eq!(read(), first, "nothing new, nothing changed");

    let told = refused(&["record", path, "divide"]);
    assert!(told.contains("Wattle, Bunya, Gidgee"), "{told}");
    printed(&run(&[
        "record",
        path,
        "divide",
        "--hive=Bunya",
        "--saw=guards@Quandong",
    ]));
    let state = |plan: &Plan| plan.task("divide").map(|task| task.state);
    let done = |date: &str| {
        Some(TaskState::Done {
            on: date.parse().unwrap(),
        })
    };
    let after = plans();
    assert_eq!(state(&after[0]), done("2026-10-03"));
    assert_eq!(state(&after[1]), done("2026-10-24"));

    let text = std::fs::read_to_string(&file).unwrap();
    for (from, to, words) in [
        (
            "name = \"Bunya\"",
            "name = \"Wattle\"",
            "two hives have the name",
        ),
        (
            "keeper =",
            "hive = \"Bunya\"\nkeeper =",
            "each hive has its own name",
        ),
    ] {
        std::fs::write(&file, text.replacen(from, to, 1)).unwrap();
        let told = refused(&["plan", path]);
        assert!(told.contains(words), "{told}");
    }
}

/// What is doubtful of a place stands among the first lines of a page, and beside JSON and calendars.
#[test]
fn doubts_of_the_place_are_read_first() {
    let file = scratch("doubts.toml");
    let text = "[site]\nlatitude_deg = -28.81\nlongitude_deg = 165\nelevation_m = 5\nzone = \"Pacific/Noumea\"\n";
    std::fs::write(&file, text).unwrap();
    let file = file.to_str().unwrap();
    let sea = "There is no land within about half a degree";
    for word in ["season", "mornings"] {
        let page = run(&[word, file, "--today=2026-09-13"]);
        let text = printed(&page);
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let (before, after) = text.split_once(sea).unwrap();
        assert!(
            !before.contains("Asked on") && !after.contains(sea),
            "{text}"
        );
        assert!(page.stderr.is_empty());
        let json = run(&[word, file, "--today=2026-09-13", "--json"]);
        let answer: serde_json::Value = serde_json::from_str(&printed(&json)).unwrap();
        assert!(answer.to_string().contains("\"at_sea\""), "{answer}");
        let said = String::from_utf8_lossy(&json.stderr).into_owned();
        assert!(said.starts_with(sea), "{said}");
    }
}

/// Towns stand for coordinates and zone, as an argument and in the keeper's file.
#[test]
fn a_town_is_a_place() {
    let season = |args: &[&str]| run(&[&["season", "--today=2026-09-13"], args].concat());
    let text = printed(&season(&["--town", "gympie"]));
    assert!(
        text.contains("-26.19") || text.contains("26.190° S"),
        "{text}"
    );
    assert!(
        text.contains("Australia/Brisbane") && text.contains("No height was given"),
        "{text}"
    );
    let higher = printed(&season(&["--town", "Gympie", "--elevation=60"]));
    assert!(
        higher.contains("60 m") && !higher.contains("No height was given"),
        "{higher}"
    );

    let told = refused(&["season", "--town", "maryborough"]);
    for words in [
        "Maryborough, Queensland, Australia",
        "Maryborough, Victoria, Australia",
        "behind a comma",
    ] {
        assert!(told.contains(words), "{told}");
    }
    let told = refused(&["season", "--town", "Nowhereville"]);
    assert!(
        told.contains("town \"Nowhereville\" is not known"),
        "{told}"
    );

    let file = scratch("town.toml");
    let path = file.to_str().unwrap();
    std::fs::write(&file, "[site]\ntown = \"Maryborough, Vic\"\n").unwrap();
    assert!(printed(&season(&[path])).contains("Australia/Melbourne"));
    assert!(printed(&season(&[path, "--town=Gympie"])).contains("Australia/Brisbane"));
    std::fs::write(&file, "[site]\ntown = \"Gympie\"\nlatitude_deg = -26.2\n").unwrap();
    assert!(refused(&["season", path]).contains("give one of them"));
}

#[test]
fn the_dates_of_a_year_need_no_hive() {
    let place = ["--latitude=-25.43", "--longitude=-49.27", "--elevation=920"];
    let zone = "--zone=America/Sao_Paulo";
    let asked = [&["dates"], &place[..], &[zone, "--today=2027-01-01"]].concat();
    let text = printed(&run(&asked));
    for part in [
        "Fri 1 Jan 2027   Good",
        "Last safe day to begin: split",
        "Closed until",
    ] {
        assert!(text.contains(part), "{part:?} is missing in:\n{text}");
    }
    let out = scratch("districts.ics");
    let _ = std::fs::remove_file(&out);
    let file = scratch("districts.toml");
    let site = "site = { latitude_deg = -25.43, longitude_deg = -49.27, elevation_m = 920, zone = \"America/Sao_Paulo\" }";
    let places = ["North", "South"].map(|name| format!("[[places]]\nname = \"{name}\"\n{site}\n"));
    std::fs::write(&file, format!("{site}\n{}", places.concat())).unwrap();
    let args = [
        "dates",
        file.to_str().unwrap(),
        "--first=2027-01-01",
        "--out",
        out.to_str().unwrap(),
    ];
    printed(&run(&args));
    let first = std::fs::read_to_string(&out).unwrap();
    assert!(
        first.contains("UID:north.season-2027-01-01@") && first.contains("UID:south.dawn-2027-12@")
    );
    printed(&run(&args));
    assert_eq!(
        std::fs::read_to_string(&out).unwrap(),
        first,
        "nothing new, nothing changed"
    );
    let poster = scratch("districts.svg");
    let _ = std::fs::remove_file(&poster);
    printed(&run(&[
        "dates",
        file.to_str().unwrap(),
        "--out",
        poster.to_str().unwrap(),
    ]));
    let svg = std::fs::read_to_string(&poster).unwrap();
    assert!(svg.contains("North") && svg.contains("South") && svg.contains("297mm"));
}

#[test]
fn what_is_written_is_what_the_name_says() {
    let file = demo("apiary.toml");
    let path = file.to_str().unwrap();
    let no_file = scratch("x.pdf");
    let out = no_file.to_str().unwrap();
    let asked: [(&[&str], &str); 5] = [
        (&["mornings", path, "--out", out], "ends in .ics"),
        (&["calendar", path, "--out", out], "ends in .ics"),
        (&["dates", path, "--out", out], ".ics or .csv or .svg"),
        (&["calendar", path, "--per=hive", "--out", out], "a folder"),
        (&[path, "--out", out], "a folder"),
    ];
    for (args, allowed) in asked {
        let told = refused(args);
        assert!(told.contains("--out") && told.contains("x.pdf"), "{told}");
        assert!(told.contains(allowed), "{told}");
        assert!(!no_file.exists());
    }
    let plain = scratch("plain");
    let told = refused(&["calendar", path, "--out", plain.to_str().unwrap()]);
    assert!(told.contains("ends in .ics"), "{told}");
    let _ = std::fs::remove_file(&plain);
    let poster = scratch("YEAR.SVG");
    let _ = std::fs::remove_file(&poster);
    printed(&run(&["dates", path, "--out", poster.to_str().unwrap()]));
    assert!(
        std::fs::read_to_string(&poster)
            .unwrap()
            .starts_with("<svg")
    );
}

#[test]
fn a_move_is_recorded_with_its_opening_or_the_opening_is_asked_for() {
    let file = scratch("stage.toml");
    let path = file.to_str().unwrap();
    let start = "today = 2026-10-24\nhive = \"Wattle\"\n[site]\nlatitude_deg = -28.81\nlongitude_deg = 153.28\n\
                 elevation_m = 12\nzone = \"Australia/Sydney\"\n[plan]\nmethod = \"split\"\n\
                 [[plan.records]]\ndate = 2026-10-02\ntask = \"divide\"\n";
    std::fs::write(&file, start).unwrap();
    let screen = printed(&run(&["agenda", path]));
    assert!(
        screen.contains("then mesh off") && screen.contains("stage-1 --opened"),
        "{screen}"
    );
    printed(&run(&["record", path, "stage-1", "--opened"]));
    let text = std::fs::read_to_string(&file).unwrap();
    assert!(
        text.contains("\"stage-1\"") && text.contains("\"stage-1-open\""),
        "{text}"
    );
    assert!(!printed(&run(&["agenda", path])).contains("STILL SHUT"));

    std::fs::write(&file, start).unwrap();
    printed(&run(&["record", path, "stage-1"]));
    for day in ["2026-10-24", "2026-10-25"] {
        let screen = printed(&run(&["agenda", path, "--today", day]));
        assert!(screen.contains("STILL SHUT: mesh"), "{screen}");
    }
    let told = refused(&["record", path, "divide", "--opened"]);
    assert!(
        told.contains("no move before which the entrance is closed"),
        "{told}"
    );
}

/// The keeper's files as three editors save them.
#[test]
fn a_record_is_written_into_a_file_of_any_code() {
    let text = "# Für später: Stöcke\ntoday = 2026-10-24\nhive = \"Größe\"\n[site]\nlatitude_deg = -28.81\n\
                longitude_deg = 153.28\nelevation_m = 12\nzone = \"Australia/Sydney\"\n[plan]\nmethod = \"split\"\n";
    let wide: Vec<u8> = "\u{feff}"
        .encode_utf16()
        .chain(text.encode_utf16())
        .flat_map(u16::to_le_bytes)
        .collect();
    // Below U+0100 Windows-1252 and Unicode agree, but for 80 to 9F.
    let narrow: Vec<u8> = text
        .chars()
        .map(|letter| u8::try_from(u32::from(letter)).unwrap())
        .collect();
    let marked = format!("\u{feff}{text}").into_bytes();
    let file = scratch("codes.toml");
    let path = file.to_str().unwrap();
    for (bytes, is_told) in [
        (wide, true),
        (narrow, true),
        (marked, false),
        (text.as_bytes().to_vec(), false),
    ] {
        std::fs::write(&file, bytes).unwrap();
        let output = run(&["record", path, "--saw=eggs@new", "--note=Müde"]);
        printed(&output);
        let told = String::from_utf8(output.stderr).unwrap();
        assert_eq!(told.contains("it is now UTF-8"), is_told, "{told}");
        let written = std::fs::read_to_string(&file).unwrap();
        assert!(written.starts_with("# Für später: Stöcke"), "{written}");
        assert!(
            written.contains("Größe") && written.contains("Müde"),
            "{written}"
        );
    }
}

#[test]
fn the_coming_dawns_are_a_calendar() {
    let out = scratch("dawns.ics");
    let _ = std::fs::remove_file(&out);
    let file = demo("apiary.toml");
    let args = [
        "mornings",
        file.to_str().unwrap(),
        "--out",
        out.to_str().unwrap(),
    ];
    assert!(printed(&run(&args)).starts_with("Written to "));
    let first = std::fs::read_to_string(&out).unwrap();
    // Every morning of the demo that is not bad, and no other.
    let json = printed(&run(&["mornings", file.to_str().unwrap(), "--json"]));
    let mornings: serde_json::Value = serde_json::from_str(&json).unwrap();
    for ranked in mornings.as_array().unwrap() {
        let morning = &ranked["morning"];
        let uid = format!(
            "-dawns.{}@apiary-almanac",
            morning["date"].as_str().unwrap()
        );
        assert_eq!(first.contains(&uid), morning["verdict"] != "no", "{uid}");
    }
    assert!(first.contains("BEGIN:VALARM"));
    printed(&run(&args));
    assert_eq!(
        std::fs::read_to_string(&out).unwrap(),
        first,
        "nothing new, nothing changed"
    );
}

#[test]
fn of_a_hive_that_stands_open_over_night_no_closing_is_told() {
    let file = scratch("open-hive.toml");
    let path = file.to_str().unwrap();
    let site = "today = 2026-09-13\n[site]\nlatitude_deg = -28.81\nlongitude_deg = 153.28\nelevation_m = 12\n\
                zone = \"Australia/Sydney\"\n[settings]\nclosed_evening_before = false\n";
    std::fs::write(&file, site).unwrap();
    let text = printed(&run(&["mornings", path]));
    assert!(text.contains("; open over night"), "{text}");
    assert!(!text.contains("; close "), "{text}");
    let out = scratch("open-dawns.ics");
    let _ = std::fs::remove_file(&out);
    printed(&run(&["mornings", path, "--out", out.to_str().unwrap()]));
    let calendar = std::fs::read_to_string(&out).unwrap();
    let calendar = calendar.replace("\r\n ", "");
    assert!(calendar.contains("The entrance is open over night"));
    assert!(!calendar.contains("vening before"));
}

#[test]
fn the_first_screen_fits_a_small_terminal() {
    for file in ["hives.toml", "apiary.toml"] {
        let text = printed(&run(&["agenda", demo(file).to_str().unwrap()]));
        let longest = text.lines().map(|line| line.chars().count()).max();
        assert!(longest <= Some(40) && text.lines().count() <= 25, "{text}");
        let page = printed(&run(&[demo(file).to_str().unwrap()]));
        assert!(page.lines().count() <= 60, "{page}");
        assert!(
            page.contains("TODAY") && page.contains("DATES") && page.contains("local law"),
            "{page}"
        );
        // What is added is added behind.
        let all = printed(&run(&[demo(file).to_str().unwrap(), "--all"]));
        let dates = page.split("DATES").nth(1).unwrap().lines().take(8);
        assert!(
            dates.clone().count() == 8 && all.contains("ONLY IF"),
            "{all}"
        );
        for line in dates {
            assert!(all.contains(line), "{line}");
        }
    }
}

/// Each source is told once, at the end; without being asked for none is.
#[test]
fn sources_stand_once_at_the_end() {
    let file = demo("apiary.toml");
    let path = file.to_str().unwrap();
    let why = printed(&run(&["plan", path, "--why", "--all"]));
    assert!(
        !why.contains("Bueno et al.") && !why.contains("[1]"),
        "{why}"
    );
    assert!(
        why.contains("beekeepers' practice") && !why.contains("no source"),
        "{why}"
    );
    let sourced = printed(&run(&["plan", path, "--sources", "--all"]));
    let words = sourced.split_whitespace().collect::<Vec<_>>().join(" ");
    let (answer, sources) = words.split_once(" Sources ------- ").unwrap();
    assert!(!answer.contains("Bueno et al."), "{answer}");
    assert_eq!(
        sources.matches("Insectes Soc. 69:17–27").count(),
        1,
        "{sources}"
    );
    for number in 1..=sources.matches('[').count() {
        assert!(
            answer.contains(&format!("[{number}]")),
            "{number}: {answer}"
        );
    }
}

/// The same twelve months as a table with a header and as they stand on a weather service's page.
#[test]
fn months_are_taken_as_they_were_copied() {
    let table = std::fs::read_to_string(demo("normals.csv")).unwrap();
    let rows: Vec<Vec<&str>> = table
        .lines()
        .skip(1)
        .map(|line| line.split(',').collect())
        .collect();
    let line = |name: &str, column: usize| {
        let numbers: Vec<_> = rows.iter().map(|row| row[column]).collect();
        format!("{name} {}\n", numbers.join(" "))
    };
    let header: Vec<&str> = table.lines().next().unwrap().split(',').collect();
    let column = |name: &str| header.iter().position(|head| *head == name).unwrap();
    let pasted =
        line("Mean maximum", column("maximum_c")) + &line("Mean minimum", column("minimum_c"));
    let file = scratch("months.txt");
    std::fs::write(&file, pasted).unwrap();
    let season = |file: &Path| -> serde_json::Value {
        let place = [
            "--latitude=-28.81",
            "--longitude=153.28",
            "--elevation=12",
            "--zone=Australia/Sydney",
        ];
        let asked = [
            "--today=2026-09-13",
            "--normals",
            file.to_str().unwrap(),
            "--json",
        ];
        serde_json::from_str(&printed(&run(&[&["season"], &place[..], &asked].concat()))).unwrap()
    };
    assert_eq!(
        season(&file)["states"],
        season(&demo("normals.csv"))["states"]
    );
    std::fs::write(&file, "warm in summer").unwrap();
    let told = refused(&[
        "season",
        "--town=Gympie",
        "--normals",
        file.to_str().unwrap(),
    ]);
    assert!(told.contains("months.txt"), "{told}");
}

#[test]
fn a_move_in_the_file_is_planned_recorded_and_put_in_a_calendar() {
    let file = scratch("move.toml");
    std::fs::write(
        &file,
        "hive = \"Lantern\"\ntoday = 2026-11-01\nbee = \"tetragonula_carbonaria\"\n\
         [site]\nlatitude_deg = -28.81\nlongitude_deg = 153.28\nelevation_m = 12\nzone = \"Australia/Sydney\"\n\
         [plan]\nmethod = { kind = \"move\", distance_m = 2, settings = { stages = 4 } }\n",
    )
    .unwrap();
    let path = file.to_str().unwrap();
    let plan = |args: &[&str]| -> Plan {
        serde_json::from_str(&printed(&run(&[args, &["--json"]].concat()))).unwrap()
    };
    let planned = plan(&["plan", path]);
    let first = planned.task("stage-1").unwrap().dates.best;
    let asked = plan(&["move", path, "--distance=2", "--stages=4"]);
    assert_eq!(asked.tasks, planned.tasks);
    let calendar = printed(&run(&["calendar", path]));
    assert!(calendar.contains("move to 0.5 m (1 of 4)"), "{calendar}");
    printed(&run(&["record", path, "stage-1-close"]));
    let closed = plan(&["plan", path]);
    assert_eq!(closed.task("stage-1").unwrap().dates.best, first);
    let done = closed.task("stage-1-close").unwrap().state;
    assert!(matches!(done, TaskState::Done { .. }), "{done:?}");
    // Four of two days after a week in front: common practice, no source.
    let parting = plan(&["parting", path, "--set-before=2026-11-02", "--stages=4"]);
    let stages = parting
        .tasks
        .iter()
        .filter(|task| task.title.contains("of 4)"));
    assert_eq!(stages.count(), 4);
    assert!(refused(&["move", path, "--distance=0"]).contains("0.05 to 1000000 m"));
}
