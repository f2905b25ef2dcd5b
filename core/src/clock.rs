//! Texts of the clock beside moments in answers: `from` and `from_clock`.
//!
//! They are made where an answer is written, so that none can disagree with its moment. The fields
//! are written flat: each of these functions writes two of them.

use serde::Serializer;
use serde::ser::SerializeMap;

use crate::civil::{Edge, Instant, clock_text};

/// What has a moment.
pub(crate) trait Moment {
    fn moment(&self) -> Option<Instant>;
}

impl Moment for Instant {
    fn moment(&self) -> Option<Instant> {
        Some(*self)
    }
}

impl<T: Moment> Moment for Option<T> {
    fn moment(&self) -> Option<Instant> {
        self.as_ref().and_then(Moment::moment)
    }
}

macro_rules! clocks {
    ($($field:ident: $edge:ident),* $(,)?) => {$(
        pub(crate) fn $field<T: Moment + serde::Serialize, S: Serializer>(
            value: &T,
            to: S,
        ) -> Result<S::Ok, S::Error> {
            let mut map = to.serialize_map(Some(2))?;
            map.serialize_entry(stringify!($field), value)?;
            let text = value.moment().map(|at| clock_text(at, Edge::$edge));
            map.serialize_entry(concat!(stringify!($field), "_clock"), &text)?;
            map.end()
        }
    )*};
}

// First flight is an end for who must be done before it, last flight a beginning for who must wait
// for it.
clocks!(
    from: From,
    until: Until,
    careful_from: Until,
    daylight_until: Until,
    work_light: From,
    sunrise: From,
    early_first: Until,
    first: Until,
    last: From,
    late_last: From,
    first_flight: Until,
    early_first_flight: Until,
    last_flight: From,
    good_at: From,
);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bee::built_in;
    use crate::civil::in_zone;
    use crate::climate::Climate;
    use crate::morning::{LampWindow, Morning, MorningSettings};
    use crate::site::Site;
    use crate::task::TimeWindow;
    use crate::weather::Weather;
    use crate::wire::from_json;
    use serde_json::{Value, json};

    #[test]
    fn a_window_carries_its_clock_texts_and_is_read_with_or_without_them() {
        let text =
            r#"{"from":"2026-09-14T05:51:07.218+10:00","until":"2026-09-14T08:10:44.172+10:00"}"#;
        let window: TimeWindow = from_json("window", text).unwrap();
        let written = serde_json::to_value(window).unwrap();
        assert_eq!(written["from_clock"], "05:52");
        assert_eq!(written["until_clock"], "08:10");
        assert_eq!(
            from_json::<TimeWindow>("window", &written.to_string()).unwrap(),
            window
        );

        let whole = text.replace(":07.218", ":00").replace(":44.172", ":00");
        let whole: LampWindow = from_json("window", &whole).unwrap();
        let whole = serde_json::to_value(whole).unwrap();
        assert_eq!(
            (&whole["from_clock"], &whole["until_clock"]),
            (&json!("05:51"), &json!("08:10"))
        );

        // The text is worked out anew, so another one changes nothing; what is no text is refused.
        let mut other = written.clone();
        other["from_clock"] = json!("23:00");
        assert_eq!(
            from_json::<TimeWindow>("window", &other.to_string()).unwrap(),
            window
        );
        other["from_clock"] = json!(5);
        let refused = from_json::<TimeWindow>("window", &other.to_string()).unwrap_err();
        assert_eq!(refused.code(), "unreadable");
        assert_eq!(refused.field(), "from_clock");
    }

    /// Every text lies less than a minute from its moment, on the safe side; where there is no
    /// moment there is no text. Names with the text of the other side stand in the list.
    fn walk(value: &Value, seen: &mut Vec<String>) {
        let begins = [
            "from",
            "work_light",
            "sunrise",
            "last",
            "late_last",
            "last_flight",
        ];
        match value {
            Value::Array(items) => items.iter().for_each(|item| walk(item, seen)),
            Value::Object(map) => {
                for (name, item) in map {
                    walk(item, seen);
                    let Some(of) = name.strip_suffix("_clock") else {
                        continue;
                    };
                    let moment = map[of].get("at").unwrap_or(&map[of]);
                    assert_eq!(item.is_null(), moment.is_null(), "{name}");
                    let Some(moment) = moment.as_str() else {
                        continue;
                    };
                    seen.push(of.to_owned());
                    let moment: Instant = moment.parse().unwrap();
                    let shown = moment
                        .date_naive()
                        .and_time(format!("{}:00", item.as_str().unwrap()).parse().unwrap());
                    // Over midnight it belongs to the next day.
                    let after = (shown - moment.naive_local())
                        .num_milliseconds()
                        .rem_euclid(86_400_000);
                    let late = if begins.contains(&of) {
                        after
                    } else {
                        (86_400_000 - after) % 86_400_000
                    };
                    assert!(late < 60_000, "{of}: {moment} is shown as {item}");
                }
            }
            _ => {}
        }
    }

    #[test]
    fn every_text_of_a_year_of_mornings_is_on_the_safe_side() {
        let site = Site::new(-27.56, 151.95, 600.0, "Australia/Brisbane").unwrap();
        let climate = Climate::from_location(&site);
        let bee = built_in("tetragonula_carbonaria").unwrap();
        let weather = Weather::new(&site, &climate, &bee);
        let mut seen = Vec::new();
        for month in 1..=12 {
            let date = chrono::NaiveDate::from_ymd_opt(2026, month, 15).unwrap();
            let morning: Morning = weather.morning(date, &MorningSettings::default()).unwrap();
            let written = serde_json::to_value(&morning).unwrap();
            walk(&written, &mut seen);
            assert_eq!(
                from_json::<Morning>("morning", &written.to_string()).unwrap(),
                morning
            );
            walk(
                &serde_json::to_value(weather.flight(date).unwrap()).unwrap(),
                &mut seen,
            );
        }
        seen.sort();
        seen.dedup();
        assert_eq!(
            seen,
            [
                "careful_from",
                "daylight_until",
                "early_first",
                "early_first_flight",
                "first",
                "first_flight",
                "from",
                "last",
                "last_flight",
                "late_last",
                "sunrise",
                "until",
                "work_light"
            ]
        );
    }

    #[test]
    fn a_text_is_that_of_the_clocks_of_the_site_on_nights_they_are_changed() {
        // Lord Howe goes forward by half an hour at 02:00 on 4 October 2026 (IANA tz database).
        let zone = "Australia/Lord_Howe".parse().unwrap();
        let text = |utc: &str| {
            let at = in_zone(utc.parse::<chrono::DateTime<chrono::Utc>>().unwrap(), zone);
            let written = serde_json::to_value(LampWindow {
                from: at,
                until: at,
            })
            .unwrap();
            (
                written["from_clock"].clone(),
                written["until_clock"].clone(),
            )
        };
        assert_eq!(
            text("2026-10-03T15:29:30Z"),
            (json!("02:00"), json!("01:59"))
        );
        assert_eq!(
            text("2026-10-03T15:30:00Z"),
            (json!("02:30"), json!("02:30"))
        );
    }
}
