//! Posters for the wall, on sheets of A4: the dates of all hives with boxes to tick and lines to write on, and
//! the year of a club's places.

use chrono::{Datelike, NaiveDate, Timelike};

use super::axis::DateAxis;
use super::page::{
    A4, Anchor, BAND, BODY, GRID, INK, MARGIN, Mark, Page, SMALL, Size, Stroke, line_height,
};
use super::plan::{entry, heading, short_day};
use super::text;
use crate::calendar::check::check_plans;
use crate::calendar::label::Labels;
use crate::calendar::words;
use crate::civil::date_words;
use crate::error::Error;
use crate::plan::Plan;
use crate::reason::Value;
use crate::season::DateState;
use crate::task::{Task, TaskState, WaitingTask, Which};
use crate::year_dates::{PlaceDates, YearDate, YearDateKind, YearDates};

/// How wide a sheet may be, units: letters of 10.5 are 17 points on the first and 10 on the last.
const WIDTHS: [f64; 5] = [360.0, 420.0, 480.0, 540.0, 600.0];
/// Where the days stand, beside the boxes, units.
const DAY: f64 = MARGIN + 17.0;
/// Where the works stand, beside the days, units.
const WORK: f64 = DAY + 82.0;
/// The shortest line to write on, units.
const TO_WRITE: f64 = 46.0;
/// At the foot of every sheet.
const CARE: &str = "Local law and licensed practice come first.";

/// Draws the dates of plans as sheets of A4 for the wall: each with a box to tick and a line to write on, in the
/// order of the days over all hives; then what has no date yet. Works that are the same on days that follow each
/// other share a line, with a box for each day.
///
/// `title` is the headline; the club or the first plan's title when not given. It is one sheet, with smaller
/// letters for more hives; below 10 points there are several.
///
/// # Errors
/// `not_enough_data` without any plan, and as [`crate::calendar::plans_ics`].
pub fn plans_poster(plans: &[Plan], title: Option<&str>) -> Result<Vec<String>, Error> {
    check_plans(plans)?;
    let [first, ..] = plans else {
        return Err(Error::NotEnoughData {
            field: "plans".to_owned(),
            given: "no plan".to_owned(),
            needed: "at least one, or the dates of a year".to_owned(),
        });
    };
    let title = title
        .or(first.club.as_deref().filter(|_| plans.len() > 1))
        .unwrap_or(&first.title);
    let names: Vec<_> = plans.iter().map(Plan::names).collect();
    let about = format!("{}. Made on {}.", names.join(", "), date_words(first.today));
    let labels = Labels::of(plans);
    let rows = rows(plans, &labels);
    let waiting: Vec<Row> = plans
        .iter()
        .flat_map(|plan| plan.waiting.iter().map(move |task| (plan, task)))
        .map(|(plan, task)| without_date(plan, &labels, task))
        .collect();
    let draw = |sheets: &mut Sheets| {
        for plan in plans {
            if let Some(last) = plan.last_safe.filter(|last| *last >= plan.today) {
                let words = format!("{}: last safe date {}.", plan.names(), date_words(last));
                sheets.paragraph(SMALL, true, &words);
            }
        }
        for row in &rows {
            sheets.row(row);
        }
        if !waiting.is_empty() {
            sheets.heading("Without a date yet: write it here");
        }
        for row in &waiting {
            sheets.row(row);
        }
    };
    Ok(on_one_sheet(title, &about, draw))
}

/// Draws the dates of a year at places as sheets of A4: for each place a lane of the months with what is good and
/// at risk, the last safe days, heat and wet months in words, and the dawn of each month.
///
/// `title` is the headline; the year when not given.
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::calendar::year_poster;
/// use apiary_almanac::year_dates::{DatedPlace, YearDatesRequest, year_dates};
/// let site = Site::new(-25.43, -49.27, 920.0, "America/Sao_Paulo")?;
/// let request = YearDatesRequest::new([DatedPlace::new("Curitiba", site)], "2027-01-01".parse()?);
/// let sheets = year_poster(&year_dates(&request)?, None);
/// assert!(sheets[0].starts_with("<svg ") && sheets[0].contains("height=\"297mm\""));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn year_poster(dates: &YearDates, title: Option<&str>) -> Vec<String> {
    let span = format!("{} to {}", date_words(dates.first), date_words(dates.last));
    let title = title.map_or_else(|| format!("The year of the hives, {span}"), str::to_owned);
    on_one_sheet(&title, &span, |sheets| {
        for place in &dates.places {
            sheets.place(place, dates.first, dates.last);
        }
    })
}

/// With the largest letters with which it is one sheet, else with the smallest.
fn on_one_sheet(title: &str, about: &str, draw: impl Fn(&mut Sheets)) -> Vec<String> {
    let mut drawn = Vec::new();
    for width in WIDTHS {
        let mut sheets = Sheets::new(width, title, about);
        draw(&mut sheets);
        drawn = sheets.finish();
        if drawn.len() == 1 {
            break;
        }
    }
    drawn
}

/// A line of the poster.
struct Row {
    /// Boxes to tick, and what they hold.
    marks: Vec<Mark>,
    day: String,
    words: String,
}

/// The tasks of all plans by day.
fn rows(plans: &[Plan], labels: &Labels) -> Vec<Row> {
    // Of a single hive the names of both boxes say nothing.
    let whose = |plan: &Plan, which| match (plans.len(), which) {
        (1, Which::Pair) => String::new(),
        _ => format!("{}: ", labels.get(plan, which)),
    };
    let shown = |task: &&Task| task.state != TaskState::Dropped && task.only_if.is_none();
    let mut tasks: Vec<(&Plan, &Task)> = plans
        .iter()
        .flat_map(|plan| {
            let tasks = plan.tasks.iter().filter(shown);
            tasks.map(move |task| (plan, task))
        })
        .collect();
    tasks.sort_by_key(|(_, task)| (task.day(), task.window.map(|window| window.from)));
    let mut rows: Vec<(Row, Vec<NaiveDate>, &Plan, &Task)> = Vec::new();
    for (plan, task) in tasks {
        let found = entry(plan, task);
        if let Some((row, days, known, last)) = rows.last_mut()
            && known.id == plan.id
            && last.which == task.which
        {
            if last.window.is_some() && last.window == task.window {
                row.words += &format!(", {}", task.in_short());
                continue;
            }
            let untimed = last.window.is_none() && task.window.is_none();
            if untimed && alike(last.in_short()) == alike(task.in_short()) {
                days.push(task.day());
                row.marks.extend(found.mark);
                row.day = days_in_words(days, plan.today.year());
                row.words = whose(plan, task.which) + alike(task.in_short());
                continue;
            }
        }
        let time = match found.time.as_str() {
            "" => String::new(),
            time => format!("{time} "),
        };
        let words = format!("{time}{}{}", whose(plan, task.which), task.in_short());
        let row = Row {
            marks: found.mark.into_iter().collect(),
            day: found.day,
            words,
        };
        rows.push((row, vec![task.day()], plan, task));
    }
    rows.into_iter().map(|(row, ..)| row).collect()
}

/// Without the number of the time: `pests? (1 of 3)`.
fn alike(short: &str) -> &str {
    let numbered = short
        .rsplit_once(" (")
        .filter(|(_, rest)| rest.contains(" of "));
    numbered.map_or(short, |(words, _)| words)
}

/// `Mon 28 – Wed 30 Sep`: the first and the last.
fn days_in_words(days: &[NaiveDate], year: i32) -> String {
    let [first, .., last] = days else {
        return String::new();
    };
    let until = short_day(*last, year);
    format!("{} {} – {until}", first.weekday(), first.day())
}

fn without_date(plan: &Plan, labels: &Labels, task: &WaitingTask) -> Row {
    Row {
        marks: vec![Mark::Open],
        day: String::new(),
        words: format!("{}: {}", labels.get(plan, task.which), task.in_short()),
    }
}

/// Sheets of A4 that fill one after the other.
struct Sheets {
    title: String,
    width: f64,
    done: Vec<(Page, Vec<String>)>,
    page: Page,
    /// The sheet in words.
    told: Vec<String>,
    y: f64,
}

impl Sheets {
    fn new(width: f64, title: &str, about: &str) -> Self {
        let mut sheets = Sheets {
            title: title.to_owned(),
            width,
            done: Vec::new(),
            page: Page::wide(width),
            told: Vec::new(),
            y: MARGIN - 2.0,
        };
        sheets.y = sheets.page.paragraph(sheets.y, BODY + 1.5, true, 2, title);
        sheets.y = sheets
            .page
            .paragraph(sheets.y + 1.0, SMALL, false, 3, about)
            + 2.0;
        sheets.told.push(about.to_owned());
        sheets
    }

    /// A new sheet where there is not so much room left.
    fn room(&mut self, height: f64) {
        if self.y + height <= self.width * A4 - 2.0 * MARGIN - 4.0 || self.told.is_empty() {
            return;
        }
        let page = std::mem::replace(&mut self.page, Page::wide(self.width));
        self.done.push((page, std::mem::take(&mut self.told)));
        let title = format!("{} ({})", self.title, self.done.len() + 1);
        self.y = self.page.paragraph(MARGIN - 2.0, BODY, true, 1, &title) + 2.0;
    }

    fn paragraph(&mut self, size: f64, bold: bool, words: &str) {
        const MOST: usize = 4;
        let room = self.page.right() - MARGIN;
        let lines = text::wrap(words, size, bold, room, MOST).len();
        self.room(lines as f64 * line_height(size) + 2.0);
        self.y = self.page.paragraph(self.y, size, bold, MOST, words) + 1.0;
        self.told.push(words.to_owned());
    }

    fn heading(&mut self, words: &str) {
        self.room(60.0);
        self.y = heading(&mut self.page, self.y, words);
        self.told.push(format!("{words}."));
    }

    /// Box, day, work, and a line to write on behind it.
    fn row(&mut self, row: &Row) {
        let (left, right) = (WORK, self.page.right());
        // Days that follow each other are wider than one; their work stands below.
        let wide = text::width(&row.day, SMALL, true) + DAY + 4.0 > WORK;
        let lines = text::wrap(&row.words, SMALL, false, right - left - TO_WRITE, 3);
        let count = lines.len() + usize::from(wide || row.marks.len() > 1);
        let height = line_height(SMALL).max(14.6);
        self.room(count as f64 * height);
        let mut y = self.y + height;
        self.page
            .text((DAY, y), SMALL, true, Anchor::Start, &row.day);
        let several = row.marks.len() > 1;
        for (place, mark) in row.marks.iter().enumerate() {
            let x = if several {
                right - 8.0 - 16.0 * (row.marks.len() - 1 - place) as f64
            } else {
                MARGIN + 6.0
            };
            mark.draw(&mut self.page, (x, y - 3.8));
        }
        if wide || several {
            y += height;
        }
        let mut end = left;
        for (place, words) in lines.iter().enumerate() {
            if place > 0 {
                y += height;
            }
            let at = (left, y);
            self.page.text(at, SMALL, false, Anchor::Start, words);
            end = left + text::width(words, SMALL, false);
        }
        let line = Stroke::new(INK, 0.6, "1 2");
        self.page.line((end + 4.0, y + 1.5), (right, y + 1.5), line);
        self.y = y;
        self.told.push(format!("{}: {}.", row.day, row.words));
    }

    /// The year of a place.
    fn place(&mut self, place: &PlaceDates, first: NaiveDate, last: NaiveDate) {
        self.room(150.0);
        self.y = heading(&mut self.page, self.y, &place.name);
        self.told
            .push(format!("{}, for {}.", place.name, place.bee));
        self.lane(place, first, last);
        let year = first.year();
        for text in in_words(place, year) {
            self.paragraph(SMALL, false, &text);
        }
        self.dawns(place);
        self.y += 4.0;
    }

    /// What is good and at risk along the months.
    fn lane(&mut self, place: &PlaceDates, first: NaiveDate, last: NaiveDate) {
        const HEIGHT: f64 = 16.0;
        let axis = DateAxis {
            first,
            last,
            left: MARGIN,
            right: self.page.right(),
        };
        let (top, page) = (self.y + 3.0, &mut self.page);
        let wide = axis.right - axis.left;
        page.rectangle((axis.left, top), (wide, HEIGHT), "none", Some(GRID));
        for (state, date) in seasons(place) {
            let (from, until) = (axis.start(date.date), axis.end(date.until));
            let size = ((until - from).max(0.0), HEIGHT);
            match state {
                DateState::Good if size.0 > 0.1 => page.hatched((from, top), size),
                DateState::AtRisk => page.rectangle((from, top), size, BAND, Some(GRID)),
                _ => {}
            }
        }
        let low = top + HEIGHT;
        for (month, from, until) in axis.months() {
            page.line((from, low), (from, low + 3.0), Stroke::new(INK, 0.8, ""));
            let name = words::short_month(month);
            if text::width(name, SMALL, false) <= until - from {
                let middle = (f64::midpoint(from, until), low + line_height(SMALL));
                page.text(middle, SMALL, false, Anchor::Middle, name);
            }
        }
        self.y = low + line_height(SMALL) + 2.0;
    }

    /// When there is light enough to work, and when bees usually fly, on the first of each month.
    fn dawns(&mut self, place: &PlaceDates) {
        // A clock text and a gap.
        const COLUMN: f64 = 46.0;
        let dawns: Vec<&YearDate> = of_kind(place, YearDateKind::Dawn).collect();
        if dawns.is_empty() {
            return;
        }
        self.paragraph(
            SMALL,
            true,
            "Light enough to work; below it, when bees usually fly:",
        );
        let room = self.page.right() - MARGIN;
        let columns = if room / COLUMN >= 12.0 { 12 } else { 6 };
        let wide = room / columns as f64;
        for dawns in dawns.chunks(columns) {
            self.room(3.0 * line_height(SMALL));
            for (column, dawn) in dawns.iter().enumerate() {
                let x = MARGIN + wide * (column as f64 + 0.5);
                let [light, usual] = ["light", "usual"].map(|name| clock(dawn, name));
                let month = words::short_month(dawn.date);
                for (row, (words, bold)) in [(month, true), (&light, false), (&usual, false)]
                    .into_iter()
                    .enumerate()
                {
                    let y = self.y + line_height(SMALL) * (row as f64 + 1.0);
                    self.page.text((x, y), SMALL, bold, Anchor::Middle, words);
                }
                self.told.push(dawn.text.text());
            }
            self.y += 3.0 * line_height(SMALL) + 3.0;
        }
    }

    fn finish(mut self) -> Vec<String> {
        let foot = (MARGIN, self.width * A4 - MARGIN);
        self.done.push((self.page, self.told));
        let title = self.title;
        let sheets = self.done.into_iter().map(|(mut page, told)| {
            page.soft_text(foot, SMALL, Anchor::Start, CARE);
            page.finish(&Size::A4, &title, &format!("{}\n{CARE}", told.join("\n")))
        });
        sheets.collect()
    }
}

/// The stretches of the season, each with its state.
fn seasons(place: &PlaceDates) -> impl Iterator<Item = (DateState, &YearDate)> {
    of_kind(place, YearDateKind::Season).filter_map(|date| {
        let state = match &*date.text.code {
            "season_is_good" => DateState::Good,
            "season_is_at_risk" => DateState::AtRisk,
            "season_is_closed" => DateState::Closed,
            _ => return None,
        };
        Some((state, date))
    })
}

fn of_kind(place: &PlaceDates, kind: YearDateKind) -> impl Iterator<Item = &YearDate> {
    place.dates.iter().filter(move |date| date.kind == kind)
}

/// Seasons, limits, heat and rain of a place.
fn in_words(place: &PlaceDates, year: i32) -> Vec<String> {
    let day = |date| short_day(date, year);
    let spans = |state| {
        let spans: Vec<_> = seasons(place)
            .filter(|(of, _)| *of == state)
            .map(|(_, date)| format!("{} to {}", day(date.date), day(date.until)))
            .collect();
        spans.join(", ")
    };
    let mut list = Vec::new();
    for (state, name) in [
        (DateState::Good, "Good (hatched)"),
        (DateState::AtRisk, "At risk (grey)"),
        (DateState::Closed, "Closed (white)"),
    ] {
        let spans = spans(state);
        if !spans.is_empty() {
            list.push(format!("{name}: {spans}."));
        }
    }
    let limits: Vec<_> = of_kind(place, YearDateKind::LastSafe)
        .map(|date| match date.text.values.get("method") {
            Some(Value::Name { value }) => format!("{} ({value})", day(date.date)),
            _ => day(date.date),
        })
        .collect();
    if !limits.is_empty() {
        list.push(format!("Last safe day: {}.", limits.join(", ")));
    }
    for (kind, name) in [
        (YearDateKind::Heat, "Heat is likely"),
        (YearDateKind::Rain, "Wet months"),
    ] {
        let spans: Vec<_> = of_kind(place, kind)
            .map(|date| format!("{} to {}", day(date.date), day(date.until)))
            .collect();
        if !spans.is_empty() {
            list.push(format!("{name}: {}.", spans.join(", ")));
        }
    }
    list
}

/// A clock text of a dawn.
fn clock(dawn: &YearDate, name: &str) -> String {
    match dawn.text.values.get(name) {
        Some(Value::Moment { value }) => format!("{:02}:{:02}", value.hour(), value.minute()),
        _ => "–".to_owned(),
    }
}
