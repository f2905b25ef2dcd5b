//! Forecasts as they are copied. All of them are invented.

use super::*;
use crate::climate::{Climate, ClimateInput, Forecast};
use crate::site::Site;
use chrono::NaiveDate;
use proptest::prelude::*;

/// A Monday in a mild winter: 9 to 20 °C are usual there.
const TODAY: &str = "2026-07-20";

fn site() -> Site {
    Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap()
}

fn request(text: &str) -> ForecastRequest {
    ForecastRequest::new(site(), TODAY.parse().unwrap(), text)
}

fn read(text: &str) -> ForecastReading {
    read_forecast(&request(text)).unwrap_or_else(|error| panic!("{text}\n{error}"))
}

fn with(text: &str, answers: ForecastAnswers) -> ForecastReading {
    let request = ForecastRequest {
        answers,
        ..request(text)
    };
    read_forecast(&request).unwrap_or_else(|error| panic!("{text}\n{error}"))
}

/// Date, minimum, maximum, rain and wind of a day, rounded to tenths.
type Day = (String, f64, f64, Option<f64>, Option<f64>);

fn days(reading: &ForecastReading) -> Vec<Day> {
    let tenths = |value: f64| (value * 10.0).round() / 10.0;
    reading
        .forecast
        .iter()
        .map(|day| {
            (
                day.date.to_string(),
                tenths(day.minimum_c),
                tenths(day.maximum_c),
                day.rain_mm.map(tenths),
                day.wind_m_s.map(tenths),
            )
        })
        .collect()
}

fn codes(reading: &ForecastReading) -> Vec<&str> {
    reading
        .questions
        .iter()
        .map(|question| &question.code[..])
        .collect()
}

/// Each is the same two days: Monday 20 July 12 to 24 °C with 5 mm, Tuesday 21 July 10 to 22 °C dry.
const SHAPES: [(&str, &str); 25] = [
    (
        "engine's own columns",
        "date,minimum_c,maximum_c,rain_mm\n2026-07-20,12,24,5\n2026-07-21,10,22,0\n",
    ),
    (
        "other order, capitals, synonyms",
        "HIGH (°C);Rainfall mm;Day;Low °C\n24;5;2026-07-20;12\n22;0;2026-07-21;10\n",
    ),
    (
        "tabs from a page",
        "Date\tMin\tMax\tPrecipitation\tHumidity\n20 Jul\t12°C\t24°C\t5 mm\t80%\n21 Jul\t10°C\t22°C\t0 mm\t70%\n",
    ),
    (
        "several blanks",
        "Day         Low   High   Rain\nMon 20 Jul  12°   24°    5 mm\nTue 21 Jul  10°   22°    0 mm\n",
    ),
    (
        "drawn with |",
        "| Date | Tmin | Tmax | Rain (mm) |\n|------|-----:|-----:|------|\n| Mon | 12 | 24 | 5 |\n| Tue | 10 | 22 | 0 |\n",
    ),
    ("lines", "Mon 12-24 5mm\nTue 10-22 0mm\n"),
    (
        "lines with words",
        "Monday: low 12, high 24, rain 5 mm\nTuesday: low 10, high 22, rain 0 mm\n",
    ),
    (
        "sentences",
        "Today sunny, 12 to 24 °C, 5 mm of rain\nTomorrow cloudy, 10 to 22 °C, 0 mm of rain\n",
    ),
    (
        "blocks of lines",
        "Monday 20 July\nMin 12\nMax 24\nPossible rainfall: 0 to 5 mm\nChance of any rain: 60%\nTuesday 21 July\nMin 10\nMax 22\nPossible rainfall: 0 mm\nChance of any rain: 5%\n",
    ),
    ("maximum first", "Mon 24/12 5mm\nTue 22/10 0mm\n"),
    (
        "words behind",
        "Mon: 24 max 12 min 5mm\nTue: 22 max 10 min 0mm\n",
    ),
    (
        "fahrenheit and inches",
        "Date,Low °F,High °F,Rain in\n2026-07-20,53.6,75.2,0.197\n2026-07-21,50,71.6,0\n",
    ),
    (
        "fahrenheit by the values",
        "Date Low High\n2026-07-20 54 75\n2026-07-21 50 72\n",
    ),
    (
        "days of the month with names",
        "date;min;max;rain mm\n20 July 2026;12;24;5\nJuly 21, 2026;10;22;0\n",
    ),
    (
        "local dates proved by the weekday",
        "Day,Date,Min,Max,Rain (mm)\nMon,20/7/26,12,24,5\nTue,21/7/26,10,22,0\n",
    ),
    (
        "dots and decimal commas",
        "Datum;Min;Max;Regen;Rain mm\n20.07.2026;12,0;24,0;;5,0\n21.07.2026;10,0;22,0;;0,0\n",
    ),
    (
        "minimum and maximum in one cell",
        "Day,Temp min/max (°C),Rain (mm)\n20 Jul,12-24,5\n21 Jul,22/10,0\n",
    ),
    (
        "units in a row of their own",
        "date,min,max,rain,wind\n,°C,°C,mm,km/h\n2026-07-20,12,24,5,\n2026-07-21,10,22,0,\n",
    ),
    (
        "days side by side",
        "\tMon 20\tTue 21\nMin °C\t12\t10\nMax °C\t24\t22\nRain mm\t5\t0\n",
    ),
    (
        "JSON, lists beside each other",
        r#"{"daily_units": {"time": "iso8601", "temperature_2m_min": "°C", "temperature_2m_max": "°C", "precipitation_sum": "mm"},
        "daily": {"time": ["2026-07-20", "2026-07-21"], "temperature_2m_min": [12, 10], "temperature_2m_max": [24, 22], "precipitation_sum": [5, 0]}}"#,
    ),
    (
        "JSON, a list of objects",
        r#"[{"date": "2026-07-20", "tempMin": 12, "tempMax": 24, "rain_mm": 5, "summary": "wet"},
        {"date": "2026-07-21", "tempMin": 10, "tempMax": 22, "rain_mm": 0, "summary": "dry"}]"#,
    ),
    (
        "JSON, objects in objects",
        r#"{"list": [{"dt": 1784509200, "temp": {"min": 12, "max": 24, "day": 20}, "rain": 5},
        {"dt": 1784595600, "temp": {"min": 10, "max": 22, "day": 18}, "rain": 0}]}"#,
    ),
    (
        "a heading above, notes below",
        "My yard, next days\nsource: the radio\n\nday, min, max, rain mm\nmon, 12, 24, 5\ntue, 10, 22, 0\n\nno warnings\n",
    ),
    (
        "Portuguese",
        "Dia;Mínima;Máxima;Chuva (mm)\nsegunda-feira;12;24;5\nterça-feira;10;22;0\n",
    ),
    (
        "empty cells and a day cut off",
        "date,min,max,rain mm\n2026-07-20,12,24,5\n2026-07-21,10,22,0\n2026-07-22,9,,\n2026-07-23,,,\n",
    ),
];

#[test]
fn twenty_five_shapes_are_read_and_none_wrongly() {
    let mut read_well = Vec::new();
    for (name, text) in SHAPES {
        let found = match read_forecast(&request(text)) {
            Ok(found) => found,
            Err(error) => {
                assert!(error.to_string().len() > 40, "{name}: {error}");
                continue;
            }
        };
        let expected = |rain: Option<f64>, n: f64| rain.is_none() || rain == Some(n);
        match &days(&found)[..] {
            [
                (a, 12.0 | 12.2, 24.0 | 23.9, wet, None),
                (b, 10.0, 22.0 | 22.2, dry, None),
            ] if a == "2026-07-20"
                && b == "2026-07-21"
                && expected(*wet, 5.0)
                && expected(*dry, 0.0) =>
            {
                read_well.push(name);
            }
            other => panic!(
                "{name}: {other:?} {:?} {:?}",
                found.questions, found.left_out
            ),
        }
    }
    assert_eq!(read_well.len(), SHAPES.len(), "{read_well:?}");
}

#[test]
fn rain_is_read_in_the_shapes_that_hold_it() {
    for (name, text) in SHAPES {
        if let Ok(found) = read_forecast(&request(text))
            && !name.contains("by the values")
        {
            let rain: Vec<_> = days(&found).into_iter().map(|day| day.3).collect();
            assert_eq!(rain, [Some(5.0), Some(0.0)], "{name}");
        }
    }
}

#[test]
fn where_two_readings_are_possible_it_asks() {
    for (text, code, answers) in [
        (
            "date,min,max\n3/8,12,24\n",
            "date_order",
            &["day_month", "month_day"][..],
        ),
        (
            "3/8: 12-24\n4/8: 10-22\n",
            "date_order",
            &["day_month", "month_day"],
        ),
        (
            "date,min,max,rain mm\n2026-07-20,12,24,\"1,200\"\n",
            "comma",
            &["decimal", "thousands"],
        ),
        (
            "date,min,max,wind\n2026-07-20,12,24,20\n",
            "wind_unit",
            &["m_s", "km_h", "mph", "kn"],
        ),
        (
            "date,low °F,high °F,rain\n2026-07-20,54,75,0.3\n",
            "rain_unit",
            &["in", "mm"],
        ),
        ("Sun 12-24\nMon 10-22\n", "first_day", &["past", "coming"]),
    ] {
        let found = read(text);
        let question = found
            .questions
            .iter()
            .find(|question| question.code == code);
        let question = question.unwrap_or_else(|| panic!("{text}: {found:?}"));
        let offered: Vec<_> = question
            .readings
            .iter()
            .map(|one| &one.answer[..])
            .collect();
        assert_eq!(offered, answers, "{text}");
        assert_eq!(
            found.forecast.is_empty(),
            question.must_be_answered,
            "{text}"
        );
        // Every answer that is offered settles it.
        for answer in offered {
            let answers = serde_json::from_str(&format!(r#"{{"{code}": "{answer}"}}"#)).unwrap();
            let settled = with(text, answers);
            assert!(!codes(&settled).contains(&code), "{text} {answer}");
            assert!(!settled.forecast.is_empty(), "{text} {answer}");
        }
    }
}

#[test]
fn answers_mean_what_they_say() {
    let order = |date_order| ForecastAnswers {
        date_order: Some(date_order),
        ..ForecastAnswers::default()
    };
    let text = "date,min,max\n3/8,12,24\n";
    assert_eq!(
        with(text, order(DateOrder::DayMonth)).understood[0]
            .date
            .to_string(),
        "2026-08-03"
    );
    assert_eq!(
        with(text, order(DateOrder::MonthDay)).understood[0]
            .date
            .to_string(),
        "2026-03-08"
    );
    let error = read_forecast(&ForecastRequest {
        answers: order(DateOrder::MonthDay),
        ..request("date,min,max\n25/7,12,24\n")
    })
    .unwrap_err();
    assert_eq!(
        (error.code(), error.field()),
        ("inconsistent", "answers.date_order")
    );
    let comma = |comma| ForecastAnswers {
        comma: Some(comma),
        ..ForecastAnswers::default()
    };
    let text = "date,min,max,rain mm\n2026-07-20,12,24,\"1,200\"\n";
    assert_eq!(days(&read(text))[0].3, None);
    assert_eq!(
        days(&with(text, comma(CommaMeans::Decimal)))[0].3,
        Some(1.2)
    );
    assert_eq!(
        days(&with(text, comma(CommaMeans::Thousands)))[0].3,
        Some(1200.0)
    );
    let wind = |unit| ForecastAnswers {
        wind_unit: Some(unit),
        ..ForecastAnswers::default()
    };
    let text = "date,min,max,wind\n2026-07-20,12,24,20\n";
    // 20 knots are 10.3 m/s, 20 miles an hour 8.9, 20 km/h 5.6 (SI brochure; from memory).
    for (unit, m_s) in [
        (WindUnit::MS, 20.0),
        (WindUnit::KmH, 5.6),
        (WindUnit::Mph, 8.9),
        (WindUnit::Kn, 10.3),
    ] {
        assert_eq!(days(&with(text, wind(unit)))[0].4, Some(m_s));
    }
}

#[test]
fn a_cold_place_leaves_both_units_possible() {
    // Where 1 to 13 °C are usual, 12 to 30 can be either.
    let site = Site::new(-17.0, -68.0, 4200.0, "America/La_Paz").unwrap();
    let request = ForecastRequest {
        site,
        ..request("Mon 10-25\nTue 12-26\n")
    };
    let found = read_forecast(&request).unwrap();
    assert_eq!(codes(&found), ["temperature_unit"]);
    assert!(found.questions[0].must_be_answered && found.forecast.is_empty());
    assert!(
        found.questions[0].readings[1]
            .text
            .contains("which is -12.2 to -3.9 °C")
    );
}

#[test]
fn what_proves_a_reading_is_said() {
    let notes = |text: &str| -> Vec<String> {
        read(text)
            .notes
            .iter()
            .map(|note| note.code.to_string())
            .collect()
    };
    let text = "date,min,max\n3/8,12,24\n4/8,10,22\n5/8,10,22\n";
    assert_eq!(notes(text), ["date_order", "taken_as_celsius"]);
    assert_eq!(days(&read(text))[2].0, "2026-08-05");
    assert_eq!(
        notes("date,min,max\n25/7,12,24\n3/8,12,24\n"),
        ["taken_as_celsius"]
    );
    assert_eq!(notes("Mon 54-75\n"), ["taken_as_fahrenheit"]);
    assert_eq!(notes("Mon 12-24 °C, rain 5\n"), ["rain_in_mm"]);
    assert_eq!(notes("Mon 12-39 °C\n"), ["unusual_for_the_place"]);
    assert_eq!(notes("2026-07-10 12-24 °C\n"), ["all_past"]);
    assert_eq!(
        notes("date,low_c,high_c,uv,icon\n2026-07-20,12,24,3,sun\n"),
        ["columns_unused"]
    );
}

#[test]
fn what_cannot_be_believed_is_left_out_with_the_reason() {
    let text = "date,min °C,max °C,rain mm\n2026-07-20,12,24,5\n2026-07-21,25,22,0\n2026-07-22,12,,\n\
                someday,12,24,1\n2026-07-23,12,99,1\n2026-07-24,x,24,1\nTue 2026-07-29,12,24,1\n\
                2026-07-25,12,24,lots\n2026-07-26,12,24,1\n2026-07-26,13,24,1\n2029-07-25,12,24,1\n";
    let found = read(text);
    let out: Vec<_> = found
        .left_out
        .iter()
        .map(|left| (&left.place[..], &left.why.code[..]))
        .collect();
    assert_eq!(
        out,
        [
            ("line 4", "no_extremes"),
            ("line 5", "day_unclear"),
            ("line 7", "numbers_unclear"),
            ("line 8", "not_that_weekday"),
            ("line 12", "far_away"),
            ("line 3", "minimum_above_maximum"),
            ("line 6", "no_air_is_at"),
            ("line 9", "rain_unreadable"),
            ("line 10", "date_twice"),
            ("line 11", "date_twice"),
        ]
    );
    let dates: Vec<_> = days(&found).into_iter().map(|day| day.0).collect();
    assert_eq!(dates, ["2026-07-20", "2026-07-25"]);
    assert_eq!(found.forecast[1].rain_mm, None);
}

#[test]
fn what_is_no_forecast_is_refused_with_what_would_be_read() {
    for (text, words) in [
        ("", "write a line for each day"),
        ("It will be nice.", "write a line for each day"),
        ("12 24 5\n10 22 0\n", "write a line for each day"),
        ("Mon 12 24 5\nTue 10 22 0\n", "line 1"),
        ("Mon 12\nTue 10\n", "minimum and maximum are not clear"),
        ("date,temp\n2026-07-20,20\n", "write a line for each day"),
        ("date,rain\n2026-07-20,20\n", "min, max"),
        (
            "date,min,max,low\n2026-07-20,12,24,11\n",
            "min and low hold the same",
        ),
        ("{\"temperature\": 20}", "write a line for each day"),
        (
            "{\"daily\": {\"time\": [\"2026-07-20\"], \"max\": [24]}}",
            "write a line for each day",
        ),
    ] {
        let error = read_forecast(&request(text)).unwrap_err();
        assert_eq!(error.code(), "bad_table", "{text}: {error}");
        assert!(error.to_string().contains(words), "{text}: {error}");
    }
    assert_eq!(
        read_forecast(&request("[1, 2")).unwrap_err().code(),
        "unreadable"
    );
    let long = " ".repeat(MOST_FORECAST_BYTES + 1);
    assert_eq!(
        read_forecast(&request(&long)).unwrap_err().code(),
        "too_large"
    );
}

#[test]
fn numbers_are_not_taken_for_what_they_are_not() {
    for (text, low, high, rain, wind) in [
        ("Mon 12-24, UV 5, humidity 80", 12.0, 24.0, None, None),
        (
            "Mon 20 July: 12-24 °C, wind gusts 60 km/h, wind 18 km/h",
            12.0,
            24.0,
            None,
            Some(5.0),
        ),
        ("Mon -2-12 °C", -2.0, 12.0, None, None),
        ("Mon −5 to −1 °C", -5.0, -1.0, None, None),
        ("Mon 12/24", 12.0, 24.0, None, None),
        ("Mon 12.5-24.25 0.2in", 12.5, 24.3, Some(5.1), None),
        (
            "Mon max temperature 24 min temperature 12 chance of rain 40%",
            12.0,
            24.0,
            None,
            None,
        ),
        ("Mon 12-24 rain 2-8mm", 12.0, 24.0, Some(8.0), None),
    ] {
        let found = read(text);
        let day = &days(&found)[0];
        assert_eq!(
            (&day.0[..], day.1, day.2, day.3, day.4),
            (TODAY, low, high, rain, wind),
            "{text}"
        );
    }
}

#[test]
fn weekdays_are_counted_from_today() {
    let dates =
        |text: &str| -> Vec<String> { days(&read(text)).into_iter().map(|day| day.0).collect() };
    assert_eq!(
        dates("Mon 12-24\nTue 10-22\n"),
        ["2026-07-20", "2026-07-21"]
    );
    assert_eq!(
        dates("Thu 12-24\nSat 10-22\n"),
        ["2026-07-23", "2026-07-25"]
    );
    let week =
        "Mon 12-24\nTue 12-24\nWed 12-24\nThu 12-24\nFri 12-24\nSat 12-24\nSun 12-24\nMon 12-24\n";
    assert_eq!(dates(week)[7], "2026-07-27");
}

#[test]
fn hours_in_a_forecast_are_hours() {
    let mut times = Vec::new();
    let mut temperatures = Vec::new();
    for hour in 0..30 {
        times.push(format!(
            "\"2026-07-{}T{:02}:00\"",
            20 + hour / 24,
            hour % 24
        ));
        temperatures.push(format!("{}", 12 + hour % 12));
    }
    let text = format!(
        r#"{{"hourly": {{"time": [{}], "temperature_2m": [{}]}}, "hourly_units": {{"temperature_2m": "°C"}},
        "daily": {{"time": ["2026-07-20"], "temperature_2m_min": [11], "temperature_2m_max": [25]}},
        "daily_units": {{"temperature_2m_min": "°C", "temperature_2m_max": "°C"}}}}"#,
        times.join(","),
        temperatures.join(",")
    );
    let found = read(&text);
    assert_eq!((found.hours.len(), found.forecast.len()), (30, 1));
    let words: Vec<_> = found.understood.iter().map(|day| &day.text[..]).collect();
    assert_eq!(
        words,
        [
            "Monday 20 July 2026: 24 readings from 12 to 23 °C",
            "Monday 20 July 2026: 11 to 25 °C",
            "Tuesday 21 July 2026: 6 readings from 12 to 17 °C, a part of the day",
        ]
    );
    // What was understood can be used as it is.
    let input = ClimateInput {
        hours: found.hours.clone(),
        forecast: Some(Forecast::new(found.forecast.clone()).unwrap()),
        ..ClimateInput::default()
    };
    let climate = Climate::from_input(&site(), &input).unwrap();
    let date: NaiveDate = TODAY.parse().unwrap();
    assert_eq!(climate.day(date).maximum_c, 23.0);
    // Without its unit it asks.
    let bare = "time,temperature\n2026-07-20T06:00,12\n";
    assert!(
        read(bare)
            .notes
            .iter()
            .any(|note| note.code == "taken_as_celsius")
    );
}

/// Texts that would be slow if anything in them were looked for again and again.
#[test]
fn no_text_is_too_much() {
    let much = |part: &str| part.repeat(MOST_FORECAST_BYTES / 8 / part.len());
    let lists: String = (0..4_000)
        .map(|n| format!(r#""time{n}":["2026-07-20"],"k{n}":[{n}],"#))
        .collect();
    let units: String = (0..4_000).map(|n| format!(r#""k{n}":"°C","#)).collect();
    for text in [
        much(","),
        much("min,max,"),
        much("Mon 12-24 5mm\n"),
        much("Mon "),
        much("3/4: 12-24\n"),
        much("12 "),
        much("\"a"),
        much("|\n"),
        much("["),
        format!("date,min,max\n{}", much("2026-07-20,12,24\n")),
        format!(r#"{{"units":{{{units}"x":"y"}},"a":{{{lists}"date":["2026-07-20"]}}}}"#),
    ] {
        let _ = read_forecast(&request(&text));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn no_text_makes_it_panic(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let _ = read_forecast(&request(&String::from_utf8_lossy(&bytes)));
    }

    #[test]
    fn no_text_like_a_forecast_makes_it_panic(
        text in "(Mon|Tue|today|min|max|rain|wind|date|[0-9]{1,4}|[-/.,;:|\t\n °%\"]|mm|km/h|°C|F|2026-07-2[0-9]|Jul|am|T06:00|\\{|\\[|\\]|\\})( |){0,80}",
    ) {
        let _ = read_forecast(&request(&text));
    }

    /// Whatever is understood was in the text, can be believed, and can be used.
    #[test]
    fn what_is_understood_can_be_used(
        lines in prop::collection::vec("(Mon|Tue|3/4|2026-07-2[0-9]|20 Jul)[ :,](-?[0-9]{1,3}[-/ ][0-9]{1,3}|min [0-9]{1,2} max [0-9]{1,2})( [0-9]{1,2}mm)?", 1..8),
    ) {
        if let Ok(found) = read_forecast(&request(&lines.join("\n"))) {
            let open = found.questions.iter().any(|question| question.must_be_answered);
            prop_assert!(open || !found.forecast.is_empty());
            prop_assert!(found.forecast.is_empty() || Forecast::new(found.forecast.clone()).is_ok());
            let json = serde_json::to_string(&found).unwrap();
            prop_assert_eq!(serde_json::from_str::<ForecastReading>(&json).unwrap(), found);
        }
    }

    #[test]
    fn a_table_of_the_engines_own_is_read_back(
        rows in prop::collection::vec((-20.0..20.0_f64, 0.0..20.0_f64, 0.0..300.0_f64), 1..40),
    ) {
        let mut text = String::from("date,minimum_c,maximum_c,rain_mm\n");
        let first: NaiveDate = TODAY.parse().unwrap();
        for (n, (low, range, rain)) in rows.iter().enumerate() {
            let date = first + chrono::Days::new(n as u64);
            text += &format!("{date},{low},{},{rain}\n", low + range);
        }
        let strict = Forecast::from_csv("f.csv", &text).unwrap();
        let found = read(&text);
        prop_assert_eq!(Forecast::new(found.forecast).unwrap(), strict);
    }
}
