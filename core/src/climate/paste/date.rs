//! A day or a moment as people and services write it.

use chrono::{DateTime, Datelike, Days, NaiveDate, NaiveDateTime, NaiveTime, Weekday};

use super::names::folded;

/// Which part of a date comes first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Order {
    DayMonth,
    MonthDay,
    /// Two digits of the year, month, day.
    YearMonth,
}

pub(super) const ORDERS: [Order; 3] = [Order::DayMonth, Order::MonthDay, Order::YearMonth];

/// A text taken apart; what is not said is `None`.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(in crate::climate) struct When {
    pub weekday: Option<Weekday>,
    pub day: Day,
    pub time: Option<NaiveTime>,
    /// Seconds east of UTC.
    pub offset_s: Option<i32>,
}

/// What a text says of the day.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(in crate::climate) enum Day {
    /// Nothing but perhaps a weekday.
    #[default]
    Unsaid,
    Date(NaiveDate),
    /// Days from today.
    Ahead(u32),
    /// Two or three numbers.
    Numbers([u32; 3], Parts),
    /// A month by its name, without a year.
    OfMonth {
        month: u32,
        day: u32,
    },
    /// The day of a month that is not named.
    Alone(u32),
}

/// How many numbers there are, and what they are parted by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::climate) enum Parts {
    Two,
    Three,
    /// Points part days from months, the day first.
    DayFirst2,
    DayFirst3,
}

impl When {
    /// True where the text names a moment, not a whole day.
    pub fn is_moment(&self) -> bool {
        self.time.is_some()
    }

    pub(super) fn is_nothing(&self) -> bool {
        self.weekday.is_none() && self.day == Day::Unsaid
    }
}

/// Reads a whole text as a day or moment; `None` where anything in it is neither.
pub(in crate::climate) fn read(text: &str) -> Option<When> {
    let mut parser = Parser::new(text);
    while parser.next_part()? {}
    let when = parser.finish();
    (!when.is_nothing() || when.is_moment()).then_some(when)
}

/// The longest head of a text that is a day, and what follows it; then shorter ones. For a line such
/// as `Mon 12-24 5mm`, in which more than one head can be the day.
pub(super) fn heads(text: &str) -> Vec<(When, &str)> {
    let mut parser = Parser::new(text);
    let mut heads = Vec::new();
    loop {
        let rest = parser.rest;
        match parser.next_part() {
            Some(true) if parser.rest.len() < rest.len() => {}
            _ => break,
        }
        let when = parser.clone().finish();
        // A line is a day: `Mon 12:00` would be a moment.
        if !when.is_nothing() && !when.is_moment() {
            heads.push((when, parser.rest));
        }
    }
    heads.reverse();
    heads
}

#[derive(Clone)]
struct Parser<'a> {
    rest: &'a str,
    when: When,
    month: Option<u32>,
    /// A number that is a day of the month or, above 31, a year.
    number: Option<u32>,
    year: Option<u32>,
    /// A second such number: the hour before `am` or `pm`.
    hour: Option<u32>,
}

impl<'a> Parser<'a> {
    fn new(text: &'a str) -> Self {
        Parser {
            rest: text,
            when: When::default(),
            month: None,
            number: None,
            year: None,
            hour: None,
        }
    }

    fn has_day(&self) -> bool {
        self.when.day != Day::Unsaid || self.number.is_some()
    }

    /// Takes a part; false at the end, `None` where the next part belongs to no date.
    fn next_part(&mut self) -> Option<bool> {
        let text = self.rest.trim_start_matches(|c: char| {
            c.is_whitespace() || matches!(c, ',' | '(' | ')' | ';' | ':')
        });
        if text.is_empty() {
            self.rest = text;
            return Some(false);
        }
        let end = text
            .find(|c: char| c.is_whitespace() || matches!(c, ',' | '(' | ')' | ';'))
            .unwrap_or(text.len());
        let (token, rest) = text.split_at(end.min(text.len()));
        self.token(token.trim_end_matches(':'))?;
        self.rest = rest;
        Some(true)
    }

    fn token(&mut self, token: &str) -> Option<()> {
        if token.is_empty() || token.len() > 40 {
            return token.is_empty().then_some(());
        }
        if token.starts_with(|c: char| c.is_ascii_digit()) {
            return self.numeric(token);
        }
        if let Some(offset) = offset(token) {
            self.when.time?;
            return set(&mut self.when.offset_s, offset);
        }
        let word: String = token
            .trim_end_matches('.')
            .chars()
            .flat_map(folded)
            .collect();
        match &word[..] {
            "today" | "hoje" | "hoy" => return self.day(Day::Ahead(0)),
            "tomorrow" | "amanha" | "manana" => return self.day(Day::Ahead(1)),
            "of" | "de" | "the" | "at" | "t" => return Some(()),
            "am" | "pm" => return self.half_day(&word),
            "noon" => return set(&mut self.when.time, NaiveTime::from_hms_opt(12, 0, 0)?),
            "z" | "utc" | "gmt" => {
                self.when.time?;
                return set(&mut self.when.offset_s, 0);
            }
            _ => {}
        }
        if let Some(weekday) = weekday(&word) {
            return set(&mut self.when.weekday, weekday);
        }
        // `20-Jul-2026`
        if token.contains('-') {
            return token.split('-').try_for_each(|part| self.token(part));
        }
        let month = month(&word)?;
        set(&mut self.month, month)
    }

    fn half_day(&mut self, half: &str) -> Option<()> {
        use chrono::Timelike;
        // `6 am`: the number before it was taken for a day.
        let (hour, minute) = match self.when.time {
            Some(time) => (time.hour(), time.minute()),
            None => (self.hour.take().or_else(|| self.number.take())?, 0),
        };
        self.when.time = Some(of_half(hour, minute, half)?);
        Some(())
    }

    fn numeric(&mut self, token: &str) -> Option<()> {
        if let Some((date, time)) = token.split_once(['T', 't'])
            && date.len() >= 8
        {
            self.numeric(date)?;
            return self.time_with_offset(time);
        }
        if token.contains(':') {
            return self.time_with_offset(token);
        }
        let lower = token.to_ascii_lowercase();
        for half in ["am", "pm"] {
            if let Some(number) = lower.strip_suffix(half) {
                let time = of_half(digits(number, 2)?, 0, half)?;
                return set(&mut self.when.time, time);
            }
        }
        if let Some((hour, minute)) = lower.split_once('h') {
            let minute = if minute.is_empty() {
                0
            } else {
                digits(minute, 2)?
            };
            let time = NaiveTime::from_hms_opt(digits(hour, 2)?, minute, 0)?;
            return set(&mut self.when.time, time);
        }
        for suffix in ["st", "nd", "rd", "th", "º", "."] {
            if let Some(number) = lower.strip_suffix(suffix)
                && let Some(day) = digits(number, 2)
            {
                return self.day_number(day);
            }
        }
        if token.bytes().all(|b| b.is_ascii_digit()) {
            return match token.len() {
                1 | 2 => self.day_number(token.parse().ok()?),
                4 => set(&mut self.year, token.parse().ok()?),
                8 => {
                    let part = |from, to| digits(token.get(from..to)?, 4);
                    let date =
                        NaiveDate::from_ymd_opt(part(0, 4)? as i32, part(4, 6)?, part(6, 8)?)?;
                    self.day(Day::Date(date))
                }
                9..=13 => self.unix(token.parse().ok()?),
                _ => None,
            };
        }
        let mark = token.chars().find(|c| !c.is_ascii_digit())?;
        if !matches!(mark, '/' | '-' | '.') {
            return None;
        }
        let parts: Vec<&str> = token.trim_end_matches(mark).split(mark).collect();
        // `20-Jul-2026`, `20/Jul`
        if parts
            .iter()
            .any(|part| part.starts_with(char::is_alphabetic))
        {
            return parts.into_iter().try_for_each(|part| self.token(part));
        }
        let numbers: Vec<u32> = parts
            .iter()
            .map(|part| digits(part, 4))
            .collect::<Option<_>>()?;
        match (&numbers[..], mark) {
            ([year, month, day], _) if parts[0].len() == 4 => {
                let date = NaiveDate::from_ymd_opt(*year as i32, *month, *day)?;
                self.day(Day::Date(date))
            }
            ([a, b], '.') => self.day(Day::Numbers([*a, *b, 0], Parts::DayFirst2)),
            ([a, b], _) => self.day(Day::Numbers([*a, *b, 0], Parts::Two)),
            ([a, b, c], '.') => self.day(Day::Numbers([*a, *b, *c], Parts::DayFirst3)),
            ([a, b, c], _) => self.day(Day::Numbers([*a, *b, *c], Parts::Three)),
            _ => None,
        }
    }

    fn day_number(&mut self, day: u32) -> Option<()> {
        (1..=31).contains(&day).then_some(())?;
        if self.when.day != Day::Unsaid {
            return None;
        }
        if self.number.is_some() {
            return set(&mut self.hour, day);
        }
        set(&mut self.number, day)
    }

    fn day(&mut self, day: Day) -> Option<()> {
        if self.has_day() {
            return None;
        }
        self.when.day = day;
        Some(())
    }

    /// Seconds or thousandths since 1970.
    fn unix(&mut self, number: i64) -> Option<()> {
        let seconds = if number >= 100_000_000_000 {
            number / 1000
        } else {
            number
        };
        let at = DateTime::from_timestamp(seconds, 0)?;
        self.day(Day::Date(at.date_naive()))?;
        set(&mut self.when.offset_s, 0)?;
        set(&mut self.when.time, at.time())
    }

    fn time_with_offset(&mut self, text: &str) -> Option<()> {
        let split = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, ':' | '.')));
        let (clock, rest) = text.split_at(split.unwrap_or(text.len()));
        let mut parts = clock.split(':');
        let (hour, minute) = (digits(parts.next()?, 2)?, parts.next().unwrap_or("0"));
        let minute = digits(minute, 2)?;
        let second = match parts.next() {
            Some(second) => digits(second.split('.').next()?, 2)?,
            None => 0,
        };
        parts.next().is_none().then_some(())?;
        let lower = rest.to_ascii_lowercase();
        let time = match &lower[..] {
            "am" | "pm" => of_half(hour, minute, &lower)?,
            // The end of a day.
            _ if (hour, minute, second) == (24, 0, 0) => return None,
            _ => NaiveTime::from_hms_opt(hour, minute, second)?,
        };
        set(&mut self.when.time, time)?;
        match &lower[..] {
            "" | "am" | "pm" => Some(()),
            "z" => set(&mut self.when.offset_s, 0),
            _ => set(&mut self.when.offset_s, offset(rest)?),
        }
    }

    fn finish(mut self) -> When {
        if self.hour.is_some() {
            return When::default();
        }
        let day = match (self.month, self.number, self.year) {
            (Some(month), Some(day), Some(year)) => {
                NaiveDate::from_ymd_opt(year as i32, month, day).map(Day::Date)
            }
            (Some(month), Some(day), None) => Some(Day::OfMonth { month, day }),
            (None, Some(day), None) => Some(Day::Alone(day)),
            (None, None, None) => Some(self.when.day),
            _ => None,
        };
        match day {
            Some(day) => self.when.day = day,
            None => self.when = When::default(),
        }
        self.when
    }
}

fn set<T: Copy>(slot: &mut Option<T>, value: T) -> Option<()> {
    slot.replace(value).is_none().then_some(())
}

fn digits(text: &str, most: usize) -> Option<u32> {
    let right = (1..=most).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
    right.then(|| text.parse().ok()).flatten()
}

fn of_half(hour: u32, minute: u32, half: &str) -> Option<NaiveTime> {
    (1..=12).contains(&hour).then_some(())?;
    let hour = hour % 12 + if half == "pm" { 12 } else { 0 };
    NaiveTime::from_hms_opt(hour, minute, 0)
}

/// `+10:00`, `-0330`, `+10`
fn offset(text: &str) -> Option<i32> {
    let (sign, rest) = match text.split_at_checked(1)? {
        ("+", rest) => (1, rest),
        ("-", rest) => (-1, rest),
        _ => return None,
    };
    let (hours, minutes) = match rest.split_once(':') {
        Some(parts) => parts,
        None if rest.len() == 4 && rest.is_ascii() => rest.split_at(2),
        None => (rest, "0"),
    };
    let (hours, minutes) = (digits(hours, 2)?, digits(minutes, 2)?);
    (hours <= 18 && minutes < 60).then_some(sign * (hours * 3600 + minutes * 60) as i32)
}

/// A weekday of English, or in full of Portuguese or Spanish; English ones may be cut to three
/// letters.
fn weekday(word: &str) -> Option<Weekday> {
    const FULL: [(&str, &[&str]); 7] = [
        ("monday", &["lunes", "segunda", "segunda-feira"]),
        ("tuesday", &["martes", "terca", "terca-feira"]),
        ("wednesday", &["miercoles", "quarta", "quarta-feira"]),
        ("thursday", &["jueves", "quinta", "quinta-feira"]),
        ("friday", &["viernes", "sexta", "sexta-feira"]),
        ("saturday", &["sabado"]),
        ("sunday", &["domingo"]),
    ];
    let place = FULL.iter().position(|(english, others)| {
        (word.len() >= 3 && english.starts_with(word)) || others.contains(&word)
    })?;
    Weekday::try_from(u8::try_from(place).ok()?).ok()
}

/// A month of English, Portuguese or Spanish; English ones may be cut to three letters.
fn month(word: &str) -> Option<u32> {
    const FULL: [(&str, &[&str]); 12] = [
        ("january", &["enero", "janeiro"]),
        ("february", &["febrero", "fevereiro"]),
        ("march", &["marzo", "marco"]),
        ("april", &["abril"]),
        ("may", &["mayo", "maio"]),
        ("june", &["junio", "junho"]),
        ("july", &["julio", "julho"]),
        ("august", &["agosto"]),
        ("september", &["septiembre", "setembro"]),
        ("october", &["octubre", "outubro"]),
        ("november", &["noviembre", "novembro"]),
        ("december", &["diciembre", "dezembro"]),
    ];
    let place = FULL.iter().position(|(english, others)| {
        (word.len() >= 3 && english.starts_with(word)) || others.contains(&word)
    })?;
    Some(place as u32 + 1)
}

/// The date that a text means under an order, today being known; `None` where there is none such.
pub(super) fn date(day: Day, order: Order, today: NaiveDate) -> Option<NaiveDate> {
    match day {
        Day::Unsaid => None,
        Day::Date(date) => Some(date),
        Day::Ahead(days) => today.checked_add_days(Days::new(days.into())),
        Day::OfMonth { month, day } => near(month, day, today),
        // The next such day; a forecast may have begun a few days ago.
        Day::Alone(day) => {
            let from = today - Days::new(DAYS_PAST);
            from.iter_days().take(62).find(|date| date.day() == day)
        }
        Day::Numbers(numbers, parts) => {
            let [a, b, c] = numbers;
            let order = match parts {
                Parts::DayFirst2 | Parts::DayFirst3 => {
                    (order == Order::DayMonth).then_some(order)?
                }
                Parts::Two | Parts::Three => order,
            };
            let two = matches!(parts, Parts::Two | Parts::DayFirst2);
            match (order, two) {
                (Order::DayMonth, true) => near(b, a, today),
                (Order::MonthDay, true) => near(a, b, today),
                (Order::YearMonth, true) => None,
                (Order::DayMonth, false) => with_year(c, b, a, today),
                (Order::MonthDay, false) => with_year(c, a, b, today),
                (Order::YearMonth, false) => (a < 100).then(|| with_year(a, b, c, today)).flatten(),
            }
        }
    }
}

/// How long ago a forecast may have begun, days.
pub(super) const DAYS_PAST: u64 = 7;

/// The date of a month and day nearest to today.
fn near(month: u32, day: u32, today: NaiveDate) -> Option<NaiveDate> {
    (today.year() - 1..=today.year() + 1)
        .filter_map(|year| NaiveDate::from_ymd_opt(year, month, day))
        .min_by_key(|date| (*date - today).num_days().abs())
}

/// With a year of two or four digits; a forecast is not a year away.
fn with_year(year: u32, month: u32, day: u32, today: NaiveDate) -> Option<NaiveDate> {
    let year = match year {
        0..100 => year + 2000,
        1900..=2100 => year,
        _ => return None,
    };
    let date = NaiveDate::from_ymd_opt(year as i32, month, day)?;
    ((date - today).num_days().abs() <= 366).then_some(date)
}

/// A clock reading, where the text has both date and time.
pub(in crate::climate) fn reading(when: &When) -> Option<(NaiveDateTime, Option<i32>)> {
    match (when.day, when.time) {
        (Day::Date(date), Some(time)) => Some((date.and_time(time), when.offset_s)),
        _ => None,
    }
}
