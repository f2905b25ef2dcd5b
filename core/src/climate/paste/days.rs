//! Which days are meant: proved by the text, answered, or asked.

use chrono::{Datelike, Days, NaiveDate, Weekday};

use super::answer::{DateOrder, FirstDay};
use super::date::{self, DAYS_PAST, Day, ORDERS, Order, When};
use super::entry::{Entry, Slot};
use super::read::Reader;
use super::words::{WEEKDAY_WORDS, WEEKDAYS, day_in_words};
use crate::civil;
use crate::error::Error;
use crate::reason::say;

impl Reader<'_> {
    /// The date of every entry, or nothing while a question of them is open.
    pub(super) fn dates(
        &mut self,
        entries: &[Entry],
    ) -> Result<Option<Vec<Option<NaiveDate>>>, Error> {
        let Some(order) = self.order(entries)? else {
            return Ok(None);
        };
        let mut dates = Vec::new();
        let mut last: Option<NaiveDate> = None;
        for entry in entries {
            if entry.extremes().is_none() {
                let unclear = [entry.low, entry.high].contains(&Slot::Unclear);
                let why = if unclear {
                    say::numbers_unclear()
                } else {
                    say::no_extremes()
                };
                self.leave_out(&entry.place, &entry.given, why);
                dates.push(None);
                continue;
            }
            let Some(when) = entry.when else {
                self.leave_out(&entry.place, &entry.given, say::day_unclear());
                dates.push(None);
                continue;
            };
            let date = match (when.day, when.weekday) {
                (Day::Unsaid, Some(weekday)) => match self.of_weekday(weekday, last) {
                    Some(date) => Some(date),
                    None => return Ok(None),
                },
                _ => self.day_of(&when, order),
            };
            let date = match (date, when.weekday) {
                (Some(date), Some(weekday)) if date.weekday() != weekday => {
                    let why = say::not_that_weekday(date, WEEKDAY_WORDS[date.weekday() as usize]);
                    self.leave_out(&entry.place, &entry.given, why);
                    None
                }
                (Some(date), _) if (date - self.today).num_days().abs() > 366 => {
                    let why = say::far_away(date);
                    self.leave_out(&entry.place, &entry.given, why);
                    None
                }
                (Some(date), _) if !civil::took_place(date, self.site.zone) => {
                    let why = say::day_skipped(date);
                    self.leave_out(&entry.place, &entry.given, why);
                    None
                }
                (None, _) => {
                    self.leave_out(&entry.place, &entry.given, say::day_unclear());
                    None
                }
                (date, _) => date,
            };
            last = date.or(last);
            dates.push(date);
        }
        Ok(Some(dates))
    }

    /// The civil day that a text means; a moment belongs to the day of the site's clocks.
    pub(super) fn day_of(&self, when: &When, order: Order) -> Option<NaiveDate> {
        let date = date::date(when.day, order, self.today)?;
        match (when.time, when.offset_s) {
            (Some(time), Some(offset_s)) => {
                let at = date.and_time(time) - chrono::TimeDelta::seconds(offset_s.into());
                Some(civil::civil_day(at.and_utc(), self.site.zone))
            }
            _ => Some(date),
        }
    }

    /// A weekday alone: the next one after the day before it, or from today on.
    pub(super) fn of_weekday(
        &mut self,
        weekday: Weekday,
        last: Option<NaiveDate>,
    ) -> Option<NaiveDate> {
        let from = last.map_or(self.today, |last| last + Days::new(1));
        let ahead = (7 + weekday as u64 - from.weekday() as u64) % 7;
        let coming = from + Days::new(ahead);
        // A forecast of yesterday begins with yesterday.
        if last.is_some() || ahead < 5 {
            return Some(coming);
        }
        let past = coming - Days::new(7);
        match self.answers.first_day {
            Some(FirstDay::Past) => Some(past),
            Some(FirstDay::Coming) => Some(coming),
            None => {
                self.ask(
                    "first_day",
                    format!("Which {} is the first day?", WEEKDAYS[weekday as usize]),
                    &[
                        ("past", day_in_words(past)),
                        ("coming", day_in_words(coming)),
                    ],
                    true,
                );
                None
            }
        }
    }

    /// The order of dates in numbers, or a question.
    pub(super) fn order(&mut self, entries: &[Entry]) -> Result<Option<Order>, Error> {
        let of = |when: &When, order| {
            let date = date::date(when.day, order, self.today)?;
            when.weekday
                .is_none_or(|weekday| date.weekday() == weekday)
                .then_some(date)
        };
        let numeric: Vec<(&Entry, When)> = entries
            .iter()
            .filter_map(|entry| Some((entry, entry.when?)))
            .filter(|(_, when)| matches!(when.day, Day::Numbers(..)))
            .filter(|(_, when)| ORDERS.iter().any(|order| of(when, *order).is_some()))
            .collect();
        let dates = |order| -> Option<Vec<NaiveDate>> {
            numeric.iter().map(|(_, when)| of(when, order)).collect()
        };
        let possible: Vec<(Order, Vec<NaiveDate>)> = ORDERS
            .into_iter()
            .filter_map(|order| Some((order, dates(order)?)))
            .collect();
        if numeric.is_empty() {
            return Ok(Some(Order::DayMonth));
        }
        let wanted = self.answers.date_order.map(|wanted| match wanted {
            DateOrder::DayMonth => Order::DayMonth,
            DateOrder::MonthDay => Order::MonthDay,
            DateOrder::YearMonth => Order::YearMonth,
        });
        match (&possible[..], wanted) {
            // No order suits all: each is taken by the one that was asked for, if any.
            ([], _) => Ok(Some(wanted.unwrap_or(Order::DayMonth))
                .filter(|_| wanted.is_some())
                .or_else(|| {
                    self.ask_order(&numeric[0], &[Order::DayMonth, Order::MonthDay]);
                    None
                })),
            ([(only, _)], None) => Ok(Some(*only)),
            (several, Some(wanted)) => match several.iter().find(|(order, _)| *order == wanted) {
                Some(_) => Ok(Some(wanted)),
                None => Err(Error::Inconsistent {
                    field: "answers.date_order".to_owned(),
                    problem: format!(
                        "read so, {} is no date of the coming days",
                        numeric.first().map_or("", |(entry, _)| &entry.given)
                    ),
                }),
            },
            ([(first, dates), others @ ..], None) if others.iter().all(|(_, d)| d == dates) => {
                Ok(Some(*first))
            }
            (several, None) => {
                // Three and more days one after another, from about today on, are a proof.
                let follows = |dates: &[NaiveDate]| {
                    let ahead = dates
                        .first()
                        .map_or(99, |first| (*first - self.today).num_days());
                    dates.len() >= 3
                        && (-(DAYS_PAST as i64)..=15).contains(&ahead)
                        && dates
                            .windows(2)
                            .all(|pair| (pair[1] - pair[0]).num_days() == 1)
                };
                let proven: Vec<_> = several.iter().filter(|(_, dates)| follows(dates)).collect();
                if let [(order, dates)] = proven[..] {
                    let (first, entry) = (dates[0], numeric[0].0);
                    self.note(say::date_order(&entry.given, first));
                    return Ok(Some(*order));
                }
                let orders: Vec<Order> = several.iter().map(|(order, _)| *order).collect();
                self.ask_order(&numeric[0], &orders);
                Ok(None)
            }
        }
    }

    pub(super) fn ask_order(&mut self, (entry, when): &(&Entry, When), orders: &[Order]) {
        let readings: Vec<(&str, String)> = orders
            .iter()
            .filter_map(|order| {
                let date = date::date(when.day, *order, self.today)?;
                let name = match order {
                    Order::DayMonth => "day_month",
                    Order::MonthDay => "month_day",
                    Order::YearMonth => "year_month",
                };
                Some((name, day_in_words(date)))
            })
            .collect();
        let text = format!("Which day is meant in “{}”?", entry.given);
        self.ask("date_order", text, &readings, true);
    }
}
