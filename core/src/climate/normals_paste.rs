//! Twelve monthly minima and maxima as a keeper copies them from a weather service's page.

use super::MonthlyNormals;
use crate::civil::MONTHS;
use crate::error::{Error, at_most};
use crate::wire::parse_f64;

/// Longest text that is read, bytes.
const LONGEST: usize = 20_000;
/// Exact since 1959.
const MM_OF_INCH: f64 = 25.4;
/// Without a unit a month above this is taken for °F, and refused.
const HOTTEST_C: f64 = 50.0;

/// A line: its words in lower case, and its numbers.
struct Line {
    words: Vec<String>,
    numbers: Vec<f64>,
    /// How many numbers stand before the last word: `days of 1 mm or more`.
    in_label: usize,
}

type Months = [f64; 12];
type Both = [Months; 2];

/// What a table says, January first.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Table {
    both: Both,
    rain: Option<Months>,
    wet_days: Option<Months>,
}

impl MonthlyNormals {
    /// Reads twelve minima and maxima from a pasted table: two lines of twelve numbers (minima and
    /// maxima, in either order), or twelve lines of two, with or without names or numbers of the months, and
    /// with a mean of the year at the end of a line or not. Rain, mm or inches, is read from a line that is
    /// called so, or from a third number of each month; wet days from a line of `days`, or from a fourth number.
    /// Numbers stand apart by blanks, tabs, `|`, `;` or commas; a decimal comma is read where only that makes a
    /// table. Without `°F` they are °C. A table whose first line has the names of the columns of
    /// [`from_csv`](MonthlyNormals::from_csv) is read as one.
    ///
    /// # Errors
    /// `bad_table`, naming `file`, for a text that is no such table, that can be read in two ways,
    /// or whose unit is in doubt; `too_large` for a longer one; and what
    /// [`new`](MonthlyNormals::new) refuses.
    ///
    /// ```
    /// use apiary_almanac::climate::MonthlyNormals;
    /// let text = "
    ///     Mean maximum (°C)  29.2 29.0 28.1 26.4 24.0 21.7 21.2 22.4 24.7 26.1 27.6 28.7  25.8
    ///     Mean minimum (°C)  21.0 21.0 19.6 16.6 13.4 11.2 10.0 10.7 13.7 16.3 18.5 20.1  16.0";
    /// let normals = MonthlyNormals::from_paste("pasted", text)?;
    /// assert!((9.0..11.0).contains(&normals.day("2026-07-20".parse()?).minimum_c));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn from_paste(file: &str, text: &str) -> Result<Self, Error> {
        at_most(file, text.len(), LONGEST, "bytes")?;
        if text.to_ascii_lowercase().contains("minimum_") {
            return MonthlyNormals::from_csv(file, text);
        }
        let bad = |problem: &str| Error::BadTable {
            file: file.to_owned(),
            problem: problem.to_owned(),
        };
        let readings = [false, true].map(|decimal| {
            let can_be = decimal || !text.lines().any(has_decimal_commas);
            can_be.then(|| months(&lines(text, decimal))).flatten()
        });
        let table = match readings {
            [Some(a), Some(b)] if a != b => {
                return Err(bad(
                    "its commas can be read in two ways: write decimals with a point",
                ));
            }
            [Some(table), _] | [None, Some(table)] => table,
            [None, None] => {
                return Err(bad(
                    "twelve minima and twelve maxima are needed: two lines of twelve numbers, or \
                     twelve lines of two, with rain and wet days behind them where they are known",
                ));
            }
        };
        let Table {
            both,
            rain,
            wet_days,
        } = table;
        let [low, high] = match unit(text) {
            Unit::Celsius => both,
            Unit::Fahrenheit => both.map(|months| months.map(|f| (f - 32.0) / 1.8)),
            Unit::Both => return Err(bad("°C and °F stand in it: paste one of them")),
            Unit::Unsaid if both.iter().flatten().any(|c| *c > HOTTEST_C) => {
                return Err(bad("it looks like °F: write °F or °C with the numbers"));
            }
            Unit::Unsaid => both,
        };
        let is_inches = text.to_ascii_lowercase().contains("inch");
        let rain = rain.map(|rain| {
            if is_inches {
                rain.map(|inches| inches * MM_OF_INCH)
            } else {
                rain
            }
        });
        let normals = MonthlyNormals::new(low, high, rain, &format!("pasted: {file}"))?;
        match wet_days {
            Some(days) => normals.with_wet_days(days),
            None => Ok(normals),
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Unit {
    Celsius,
    Fahrenheit,
    Both,
    Unsaid,
}

fn unit(text: &str) -> Unit {
    let lower = text.to_ascii_lowercase().replace('º', "°");
    let says = |names: &[&str], letter: char| {
        let alone = |word: &str| {
            let bare = word.trim_start_matches(|c: char| !c.is_alphabetic());
            bare.len() == 1 && bare.starts_with(letter)
        };
        let words = || lower.split(|c: char| c.is_whitespace() || "|;,()[]".contains(c));
        names.iter().any(|name| lower.contains(name)) || words().any(alone)
    };
    match (
        says(&["°c", "° c", "celsius"], 'c'),
        says(&["°f", "° f", "fahrenheit"], 'f'),
    ) {
        (true, true) => Unit::Both,
        (true, false) => Unit::Celsius,
        (false, true) => Unit::Fahrenheit,
        (false, false) => Unit::Unsaid,
    }
}

/// Whether commas between digits must be decimal ones, as other signs keep the numbers apart.
fn has_decimal_commas(line: &str) -> bool {
    let apart = |c: char| c.is_whitespace() || "|;/".contains(c);
    let numbers = line
        .split(apart)
        .filter(|part| part.starts_with(|c: char| c.is_ascii_digit() || c == '-'));
    let tight = |part: &str| !part.contains('.') && part.trim_end_matches(',').contains(',');
    let (mut count, mut tights) = (0, 0);
    for part in numbers {
        count += 1;
        tights += usize::from(tight(part));
    }
    count > 1 && tights > 0
}

/// The lines that hold anything; a comma between digits stands before decimals, or apart like the
/// others.
fn lines(text: &str, decimal_comma: bool) -> Vec<Line> {
    let text = text.replace(['−', '–'], "-").to_ascii_lowercase();
    let apart =
        |c: char| c.is_whitespace() || "|;:/()[]".contains(c) || (c == ',' && !decimal_comma);
    text.lines()
        .map(|line| {
            let (mut words, mut numbers, mut in_label) = (Vec::new(), Vec::new(), 0);
            for token in line.split(apart).filter(|token| !token.is_empty()) {
                let bare = token.trim_end_matches(|c: char| "°ºcf".contains(c));
                match parse_f64(&bare.replace(',', ".")) {
                    Some(number) if number.is_finite() => numbers.push(number),
                    _ => {
                        words.push(token.to_owned());
                        in_label = numbers.len();
                    }
                }
            }
            Line {
                words,
                numbers,
                in_label,
            }
        })
        .filter(|line| !line.words.is_empty() || !line.numbers.is_empty())
        .collect()
}

/// What the lines say; `None` where they are no table of the months.
fn months(lines: &[Line]) -> Option<Table> {
    by_element(lines).or_else(|| by_month(lines))
}

/// Lines of twelve.
fn by_element(lines: &[Line]) -> Option<Table> {
    let named = |line: &Line, names: &[&str]| {
        let mut words = line.words.iter();
        words.any(|word| names.iter().any(|name| word.contains(name)))
    };
    let (mut found, mut rain, mut wet_days) = (Vec::new(), None, None);
    for line in lines {
        let behind = line.numbers.get(line.in_label..).unwrap_or_default();
        let is_whole = behind.len() >= 12;
        let numbers = if is_whole { behind } else { &line.numbers };
        let Some((year, rest)) = numbers.split_first_chunk::<12>() else {
            continue;
        };
        // The numbers of the months, as a head.
        if (1..=12).map(f64::from).eq(year.iter().copied()) {
            continue;
        }
        // The year's total behind them says nothing new.
        let other = if named(line, &["day"]) {
            Some(&mut wet_days)
        } else if named(line, &["rain", "precip"]) {
            Some(&mut rain)
        } else {
            None
        };
        if let Some(other) = other {
            if rest.len() > 1 || other.replace(*year).is_some() {
                return None;
            }
            continue;
        }
        let mean = year.iter().sum::<f64>() / 12.0;
        match rest {
            [] => {}
            [annual] if (annual - mean).abs() < 1.0 => {}
            _ => return None,
        }
        found.push((line, *year));
    }
    let [(a_line, a), (b_line, b)] = found[..] else {
        return None;
    };
    let is_low = |line: &Line| named(line, &["min", "low"]) && !named(line, &["max", "high"]);
    let is_high = |line: &Line| named(line, &["max", "high"]) && !named(line, &["min", "low"]);
    let turned = is_low(b_line) || is_high(a_line);
    if turned && (is_low(a_line) || is_high(b_line)) {
        return None;
    }
    let both = in_order(
        if turned { [b, a] } else { [a, b] },
        turned || is_low(a_line) || is_high(b_line),
    )?;
    Some(Table {
        both,
        rain,
        wet_days,
    })
}

/// Twelve lines of two, or of as many more, in the order of the months or with their names or numbers.
fn by_month(lines: &[Line]) -> Option<Table> {
    let full: Vec<&Line> = lines
        .iter()
        .filter(|line| line.numbers.len() >= 2)
        .collect();
    let is_number = |(count, line): (usize, &&Line)| {
        line.numbers.len() > 2 && line.numbers.first() == Some(&(count as f64 + 1.0))
    };
    let are_numbered = full.iter().enumerate().all(is_number);
    let mut columns = [[None; 12]; 4];
    for (count, line) in full.iter().enumerate() {
        let named = line.words.iter().find_map(|word| month_of(word));
        let month = named.unwrap_or(count);
        let from = usize::from(are_numbered && named.is_none());
        let values = line
            .numbers
            .get(from..)
            .filter(|values| values.len() <= 4)?;
        for (months, value) in columns.iter_mut().zip(values) {
            if months.get_mut(month)?.replace(*value).is_some() {
                return None;
            }
        }
    }
    let whole = |months: [Option<f64>; 12]| -> Option<Months> {
        let months: Vec<f64> = months.into_iter().flatten().collect();
        months.try_into().ok()
    };
    // All months have a column, or none.
    let maybe = |months: [Option<f64>; 12]| match whole(months) {
        None if months.iter().any(Option::is_some) => None,
        all => Some(all),
    };
    let [a, b, rain, wet_days] = columns;
    Some(Table {
        both: in_order([whole(a)?, whole(b)?], false)?,
        rain: maybe(rain)?,
        wet_days: maybe(wet_days)?,
    })
}

/// Number of a month by its English name or its first three letters, January as 0.
fn month_of(word: &str) -> Option<usize> {
    let word = word.trim_end_matches('.');
    (word.len() >= 3)
        .then(|| {
            MONTHS
                .iter()
                .position(|month| month.to_ascii_lowercase().starts_with(word))
        })
        .flatten()
}

/// Minima before maxima: as they stand where that is said, else the lower ones first.
fn in_order([a, b]: Both, is_said: bool) -> Option<Both> {
    let below = |a: &[f64; 12], b: &[f64; 12]| a.iter().zip(b).all(|(a, b)| a <= b);
    if is_said || below(&a, &b) {
        Some([a, b])
    } else {
        below(&b, &a).then_some([b, a])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LOW: [f64; 12] = [
        21.0, 21.0, 19.5, 16.5, 13.4, 11.2, 10.0, 10.7, 13.7, 16.3, 18.5, 20.1,
    ];
    const HIGH: [f64; 12] = [
        29.2, 29.0, 28.1, 26.4, 24.0, 21.7, 21.2, 22.4, 24.7, 26.1, 27.6, 28.7,
    ];

    fn expected() -> MonthlyNormals {
        MonthlyNormals::new(LOW, HIGH, None, "pasted: t").unwrap()
    }

    fn row(values: &[f64], between: &str) -> String {
        let cells: Vec<String> = values.iter().map(|v| format!("{v:.1}")).collect();
        cells.join(between)
    }

    fn by_months(name: impl Fn(usize) -> String, between: &str) -> String {
        let line = |m: usize| {
            format!(
                "{}{}{between}{}\n",
                name(m),
                format_args!("{:.1}", LOW[m]),
                format_args!("{:.1}", HIGH[m])
            )
        };
        (0..12).map(line).collect()
    }

    #[test]
    fn tables_of_many_shapes_are_read() {
        let months = "\tJan\tFeb\tMar\tApr\tMay\tJun\tJul\tAug\tSep\tOct\tNov\tDec\n";
        let texts = [
            format!("{}\n{}", row(&LOW, " "), row(&HIGH, " ")),
            format!("{}\n\n{}", row(&HIGH, "\t"), row(&LOW, "\t")),
            format!(
                "{months}Max °C\t{}\nMin °C\t{}",
                row(&HIGH, "\t"),
                row(&LOW, "\t")
            ),
            format!(
                "| low | {} | 16.0 |\n| high | {} | 25.8 |",
                row(&LOW, " | "),
                row(&HIGH, " | ")
            ),
            format!("min;{}\nmax;{}", row(&LOW, ";"), row(&HIGH, ";")).replace('.', ","),
            format!("minimum,{}\nmaximum,{}", row(&LOW, ","), row(&HIGH, ",")),
            format!(
                "month,min,max\n{}",
                by_months(|m| format!("{},", m + 1), ",")
            ),
            format!(
                "Month Min Max\n{}",
                by_months(|m| format!("{} ", MONTHS[m]), " ")
            ),
            by_months(|m| format!("{}: ", &MONTHS[m][..3]), " / ").replace('.', ","),
            by_months(|_| String::new(), "°C "),
            format!(
                "1 2 3 4 5 6 7 8 9 10 11 12\n{}\n{}",
                row(&LOW, " "),
                row(&HIGH, " ")
            ),
        ];
        for text in texts {
            assert_eq!(
                MonthlyNormals::from_paste("t", &text).unwrap(),
                expected(),
                "{text}"
            );
        }
    }

    #[test]
    fn rain_and_wet_days_are_read_where_they_stand() {
        let rain = [
            160.0, 180.0, 175.5, 120.0, 110.0, 95.0, 60.0, 45.0, 40.0, 80.0, 95.0, 130.0,
        ];
        let wet = [
            13.0, 14.0, 15.0, 12.0, 11.0, 9.0, 8.0, 7.0, 7.0, 9.0, 10.0, 12.0,
        ];
        let lines = |m: usize, sign: &str| {
            format!(
                "{}{sign}{}{sign}{}{sign}{}\n",
                LOW[m], HIGH[m], rain[m], wet[m]
            )
        };
        let numbered: String = (0..12)
            .map(|m| format!("{};{}", m + 1, lines(m, ";")))
            .collect();
        let inches: Vec<f64> = rain.iter().map(|mm| mm / 25.4).collect();
        let inches: Vec<String> = inches.iter().map(|inch| format!("{inch:.6}")).collect();
        for text in [
            format!(
                "max {}\nmin {}\nMean rainfall (mm) {} 1290.5\nDays of rain ≥ 1 mm {} 127",
                row(&HIGH, " "),
                row(&LOW, " "),
                row(&rain, " "),
                row(&wet, " ")
            ),
            (0..12).map(|m| lines(m, "\t")).collect(),
            numbered.clone(),
            numbered.replace('.', ","),
            format!(
                "low {}\nhigh {}\nrain (inches) {}\nwet days {}",
                row(&LOW, " "),
                row(&HIGH, " "),
                inches.join(" "),
                row(&wet, " ")
            ),
            format!("month;minimum_c;maximum_c;rain_mm;wet_days\n{numbered}"),
        ] {
            let read = MonthlyNormals::from_paste("t", &text).unwrap();
            for (read, wanted) in read.rain_mm().unwrap().iter().zip(rain) {
                assert!((read - wanted).abs() < 0.001, "{text}");
            }
            assert_eq!(read.wet_days().unwrap().days, wet, "{text}");
        }
        let without: String = (0..12)
            .map(|m| format!("{} {} {}\n", LOW[m], HIGH[m], rain[m]))
            .collect();
        let read = MonthlyNormals::from_paste("t", &without).unwrap();
        assert_eq!((read.rain_mm(), read.wet_days()), (Some(rain), None));
        // Rain of eleven months is none.
        let eleven = without.replacen(" 160", "", 1);
        assert_eq!(
            MonthlyNormals::from_paste("t", &eleven).unwrap_err().code(),
            "bad_table"
        );
    }

    #[test]
    fn fahrenheit_is_read_where_it_is_said() {
        let f = |months: [f64; 12]| months.map(|c| c * 1.8 + 32.0);
        let text = format!("{}\n{}", row(&f(LOW), " "), row(&f(HIGH), " "));
        let said = MonthlyNormals::from_paste("t", &format!("°F\n{text}")).unwrap();
        let day = said.day("2026-01-15".parse().unwrap());
        assert!((day.minimum_c - 21.0).abs() < 0.3, "{day:?}");
        for unsaid in [text.clone(), format!("°C and °F\n{text}")] {
            let error = MonthlyNormals::from_paste("t", &unsaid).unwrap_err();
            assert_eq!((error.code(), error.field()), ("bad_table", "t"));
        }
    }

    #[test]
    fn what_is_no_table_or_two_is_refused() {
        let eleven = row(&LOW[..11], " ");
        let mut crossed = HIGH;
        crossed[3] = 0.0;
        for text in [
            String::new(),
            "hot in summer".to_owned(),
            row(&LOW, " "),
            format!("{eleven}\n{eleven}"),
            format!("{}\n{}", row(&LOW, " "), row(&crossed, " ")),
            format!("max {}\nhigh {}", row(&LOW, " "), row(&HIGH, " ")),
            by_months(|m| format!("{} ", MONTHS[m.min(10)]), " "),
        ] {
            let error = MonthlyNormals::from_paste("t", &text).unwrap_err();
            assert_eq!(error.code(), "bad_table", "{text}");
        }
        let long = MonthlyNormals::from_paste("t", &"1 ".repeat(20_000)).unwrap_err();
        assert_eq!(long.code(), "too_large");
    }

    proptest::proptest! {
        #[test]
        fn any_text_is_read_without_a_panic(text in ".{0,300}") {
            let _ = MonthlyNormals::from_paste("t", &text).map(|normals| normals.rain_mm());
        }
    }
}
