//! The year at a place: what dates are good or at risk for dividing, temperature, day length and flying hours.

use chrono::{Datelike, NaiveDate};

use super::axis::{DateAxis, Label, draw_labels};
use super::page::{
    Anchor, BAND, BODY, DASHED, DOTTED, GRID, INK, LAST_SAFE, MARGIN, Page, SMALL, SOLID, Sample,
    Size, TITLE, TODAY, WIDTH, line_height, num,
};
use super::text;
use crate::calendar::words;
use crate::climate::DayTemperatures;
use crate::reason::Reason;
use crate::season::{DateState, SeasonOutcome, SeasonStretch, WorkingWindow};
use crate::site::Site;
use crate::year::Year;

const LEFT: f64 = 28.0;
const RIGHT: f64 = WIDTH - MARGIN;
/// The most windows that are written out and marked.
const MOST_WINDOWS: usize = 4;

/// Draws twelve months at a place as SVG: dates that are good and at risk, the last safe date of a plan, the band
/// between the coolest and the warmest of each day, day length and the hours in which bees can
/// fly, and today.
///
/// ```
/// use apiary_almanac::calendar::year_picture;
/// use apiary_almanac::year::{YearRequest, year};
/// let request: YearRequest = serde_json::from_str(r#"{
///     "site": {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
///              "zone": "Australia/Sydney"},
///     "today": "2026-09-13"
/// }"#)?;
/// assert!(year_picture(&year(&request)?).starts_with("<svg "));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn year_picture(year: &Year) -> String {
    let axis = DateAxis {
        first: year.first,
        last: year.last,
        left: LEFT,
        right: RIGHT,
    };
    let title = year.title.as_deref().unwrap_or("The year of the hives");
    Picture { year, axis }.draw(&year.site, title)
}

struct Picture<'a> {
    year: &'a Year,
    axis: DateAxis,
}

impl Picture<'_> {
    fn draw(&self, site: &Site, title: &str) -> String {
        let mut page = Page::default();
        let mut y = page.paragraph(MARGIN - 2.0, TITLE, true, 3, title);
        let about = format!(
            "{}, {} m, for {}",
            words::place(site),
            num(site.elevation_m.get().round()),
            self.year.bee.label
        );
        y = page.paragraph(y + 1.0, SMALL, false, 2, &about);
        for (i, sentence) in self.season_sentences().iter().enumerate() {
            // Where there is no window, reasons follow: the first sentence is what matters.
            let bold = i == 0 || !self.windows().is_empty();
            y = page.paragraph(y + 2.0, BODY, bold, 4, sentence);
        }
        if let Some(row) = self.year.season.published.first() {
            y = page.paragraph(y + 2.0, SMALL, false, 4, &row.said.text());
        }
        let basis: Vec<_> = self.year.basis.iter().map(|b| b.about.as_str()).collect();
        let basis = format!("Rests on {}.", basis.join("; "));
        y = page.paragraph(y + 2.0, SMALL, false, 7, &basis);
        y = self.lane(&mut page, y + 8.0);
        y = self.temperatures(&mut page, y + 10.0);
        y = self.hours(&mut page, y + 10.0);
        y = self.months(&mut page, y);
        page.finish(&Size::Alone(y + MARGIN), title, &self.description())
    }

    /// What the season is, in words.
    fn season_sentences(&self) -> Vec<String> {
        let mut list = self.window_sentences();
        if let Some(date) = self.year.last_safe {
            list.push(format!("Last safe date to divide: {}.", words::date(date)));
        }
        list
    }

    fn window_sentences(&self) -> Vec<String> {
        match &self.year.season.outcome {
            SeasonOutcome::AllYear => {
                let mut list = vec!["Good for dividing all year by temperature.".to_owned()];
                let rain = self.year.season.rain.as_ref();
                list.push(rain.map_or_else(
                    || "Which months are wet is not known here.".to_owned(),
                    |rain| rain.said.text(),
                ));
                list
            }
            SeasonOutcome::None { reasons } => {
                let mut list = vec!["No good date to divide in these twelve months.".to_owned()];
                list.extend(reasons.iter().take(3).map(Reason::text));
                list
            }
            SeasonOutcome::Windows { windows } => {
                let mut list: Vec<_> = windows
                    .iter()
                    .take(MOST_WINDOWS)
                    .map(|window| {
                        format!(
                            "Good for dividing {} to {} ({} days).",
                            words::date(window.opens),
                            words::date(window.closes),
                            window.days
                        )
                    })
                    .collect();
                if windows.len() > MOST_WINDOWS {
                    list.push(format!("And {} more.", windows.len() - MOST_WINDOWS));
                }
                list.extend(self.risk_sentence());
                list
            }
        }
    }

    /// The dates at risk, in words.
    fn risk_sentence(&self) -> Option<String> {
        let spans: Vec<_> = self
            .at_risk()
            .take(MOST_WINDOWS)
            .map(|stretch| {
                format!(
                    "{} to {}",
                    words::date(stretch.first),
                    words::date(stretch.last)
                )
            })
            .collect();
        (!spans.is_empty()).then(|| format!("At risk {}.", spans.join(", ")))
    }

    fn at_risk(&self) -> impl Iterator<Item = &SeasonStretch> {
        let states = self.year.season.states.iter();
        states.filter(|stretch| stretch.state == DateState::AtRisk)
    }

    /// Windows in the picture; all year is one that never ends.
    fn windows(&self) -> &[WorkingWindow] {
        match &self.year.season.outcome {
            SeasonOutcome::Windows { windows } => windows,
            SeasonOutcome::AllYear | SeasonOutcome::None { .. } => &[],
        }
    }

    fn lane(&self, page: &mut Page, y: f64) -> f64 {
        const HEIGHT: f64 = 22.0;
        let y = heading(page, y, "For dividing colonies");
        let axis = &self.axis;
        let mut labels = Vec::new();
        if axis.holds(self.year.today) {
            labels.push(Label {
                x: axis.middle(self.year.today),
                words: format!("today {}", words::short_date(self.year.today)),
            });
        }
        let closings = self.windows().iter().map(|window| window.closes);
        let closings = closings
            .filter(|closes| axis.holds(*closes))
            .take(MOST_WINDOWS);
        labels.extend(closings.map(|closes| Label {
            x: axis.end(closes),
            words: format!("good until {}", words::short_date(closes)),
        }));
        let openings = self.windows().iter().map(|window| window.opens);
        let openings = openings
            .filter(|opens| axis.holds(*opens) && *opens > axis.first)
            .take(MOST_WINDOWS);
        labels.extend(openings.map(|opens| Label {
            x: axis.start(opens),
            words: format!("good from {}", words::short_date(opens)),
        }));
        let last_safe = self.year.last_safe.filter(|date| axis.holds(*date));
        labels.extend(last_safe.map(|date| Label {
            x: axis.end(date),
            words: format!("last safe {}", words::short_date(date)),
        }));
        let top = draw_labels(page, y, labels);
        let (low, wide) = (top + HEIGHT, RIGHT - LEFT);
        self.month_lines(page, top, low);
        page.rectangle((LEFT, top), (wide, HEIGHT), "none", Some(GRID));
        let mut plates = Vec::new();
        for stretch in self.at_risk() {
            let (from, until) = (axis.start(stretch.first), axis.end(stretch.last));
            page.rectangle((from, top), (until - from, HEIGHT), BAND, Some(GRID));
            if text::width("at risk", SMALL, false) + 8.0 < until - from {
                plates.push((f64::midpoint(from, until), "at risk"));
            }
        }
        match &self.year.season.outcome {
            SeasonOutcome::AllYear => {
                page.hatched((LEFT, top), (wide, HEIGHT));
                plates.push((f64::midpoint(LEFT, RIGHT), "good all year"));
            }
            SeasonOutcome::None { .. } => plates.push((f64::midpoint(LEFT, RIGHT), "no good date")),
            SeasonOutcome::Windows { windows } => {
                for window in windows {
                    let (from, until) = (axis.start(window.opens), axis.end(window.closes));
                    if until - from < 0.1 {
                        continue;
                    }
                    page.hatched((from, top), (until - from, HEIGHT));
                    if text::width("good", SMALL, false) + 8.0 < until - from {
                        plates.push((f64::midpoint(from, until), "good"));
                    }
                }
            }
        }
        if let Some(date) = last_safe {
            let x = axis.end(date);
            page.line((x, top), (x, low), LAST_SAFE);
        }
        self.today_line(page, top, low);
        // Words last, so that no line runs through them.
        for (x, words) in plates {
            plate(page, x, top + HEIGHT / 2.0, words);
        }
        self.wet_months(page, low)
    }

    /// A bar below the lane for each wet month.
    fn wet_months(&self, page: &mut Page, y: f64) -> f64 {
        const HEIGHT: f64 = 5.0;
        let Some(rain) = &self.year.season.rain else {
            return y;
        };
        let mut wet = self.axis.months();
        wet.retain(|(month, ..)| rain.is_wet(*month));
        if wet.is_empty() {
            return y;
        }
        let top = y + 3.0;
        for (_, from, until) in wet {
            page.rectangle((from, top), (until - from, HEIGHT), INK, None);
        }
        let baseline = top + HEIGHT + line_height(SMALL) - 1.0;
        page.soft_text(
            (LEFT, baseline),
            SMALL,
            Anchor::Start,
            "black bars: the wet months",
        );
        baseline + 2.0
    }

    fn temperatures(&self, page: &mut Page, y: f64) -> f64 {
        let axis = &self.axis;
        let days: Vec<DayTemperatures> = self
            .year
            .flights
            .iter()
            .map(|day| day.temperatures)
            .collect();
        let flight_c = self.year.bee.flight_minimum_c.value;
        let of = |pick: fn(&DayTemperatures) -> f64, best: fn(f64, f64) -> f64| {
            days.iter().map(pick).fold(flight_c, best)
        };
        let (low, high) = (
            of(|day| day.minimum_c, f64::min),
            of(|day| day.maximum_c, f64::max),
        );
        let step = if high - low > 25.0 { 10.0 } else { 5.0 };
        let (low, high) = ((low / step).floor() * step, (high / step).ceil() * step);
        let y = heading(page, y, "Air temperature, °C");
        let flies = format!("bees fly from {} °C", num(flight_c));
        let y = page.key(
            y,
            &[
                (Sample::Line(SOLID), "warmest of the day"),
                (Sample::Line(DASHED), "coolest"),
                (Sample::Line(DOTTED), flies.as_str()),
            ],
        );
        let panel = Panel {
            top: y + 7.0,
            height: 120.0,
            low,
            high: high.max(low + step),
        };
        panel.grid(page, step);
        self.month_lines(page, panel.top, panel.bottom());
        let points = |pick: fn(&DayTemperatures) -> f64| -> Vec<(f64, f64)> {
            days.iter()
                .map(|day| (axis.middle(day.date), panel.y(pick(day))))
                .collect()
        };
        let (maxima, minima) = (points(|day| day.maximum_c), points(|day| day.minimum_c));
        let mut band = maxima.clone();
        band.extend(minima.iter().rev());
        page.area(&band, BAND);
        page.curve(&maxima, SOLID);
        page.curve(&minima, DASHED);
        let at = panel.y(flight_c);
        page.line((LEFT, at), (RIGHT, at), DOTTED);
        self.today_line(page, panel.top, panel.bottom());
        panel.bottom()
    }

    fn hours(&self, page: &mut Page, y: f64) -> f64 {
        let axis = &self.axis;
        let y = heading(page, y, "Hours of the day");
        let asked = self.year.bee.flying_day_h.value;
        let asked_words = format!("{} h make a flying day", num(asked));
        let y = page.key(
            y,
            &[
                (Sample::Line(SOLID), "daylight"),
                (Sample::Line(DASHED), "possible flight"),
                (Sample::Line(DOTTED), asked_words.as_str()),
            ],
        );
        let longest = self.year.sun.iter().map(|(_, h)| *h).fold(asked, f64::max);
        let panel = Panel {
            top: y + 7.0,
            height: 90.0,
            low: 0.0,
            high: (longest / 4.0).ceil() * 4.0,
        };
        panel.grid(page, 4.0);
        self.month_lines(page, panel.top, panel.bottom());
        let flights: Vec<_> = self
            .year
            .flights
            .iter()
            .map(|day| (axis.middle(day.date), panel.y(day.flying_hours)))
            .collect();
        if let (Some((from, _)), Some((until, _))) = (flights.first(), flights.last()) {
            let mut area = vec![(*from, panel.bottom())];
            area.extend(&flights);
            area.push((*until, panel.bottom()));
            page.area(&area, BAND);
        }
        let daylight: Vec<_> = self
            .year
            .sun
            .iter()
            .map(|(date, h)| (axis.middle(*date), panel.y(*h)))
            .collect();
        page.curve(&daylight, SOLID);
        page.curve(&flights, DASHED);
        let at = panel.y(asked);
        page.line((LEFT, at), (RIGHT, at), DOTTED);
        self.today_line(page, panel.top, panel.bottom());
        panel.bottom()
    }

    fn today_line(&self, page: &mut Page, top: f64, bottom: f64) {
        if self.axis.holds(self.year.today) {
            let x = self.axis.middle(self.year.today);
            page.line((x, top), (x, bottom), TODAY);
        }
    }

    fn month_lines(&self, page: &mut Page, top: f64, bottom: f64) {
        for month in self.axis.month_starts().into_iter().skip(1) {
            let x = self.axis.start(month);
            page.line((x, top), (x, bottom), GRID);
        }
    }

    /// Names of months and years under the panels.
    fn months(&self, page: &mut Page, y: f64) -> f64 {
        let axis = &self.axis;
        let starts = axis.month_starts();
        let baseline = y + line_height(SMALL);
        for (i, start) in starts.iter().enumerate() {
            let until = starts
                .get(i + 1)
                .map_or(axis.right, |next| axis.start(*next));
            let (from, name) = (axis.start(*start), words::short_month(*start));
            if text::width(name, SMALL, false) <= until - from {
                let middle = f64::midpoint(from, until);
                page.text((middle, baseline), SMALL, false, Anchor::Middle, name);
            }
        }
        let below = baseline + line_height(SMALL);
        for year in axis.first.year()..=axis.last.year() {
            let begins = NaiveDate::from_ymd_opt(year, 1, 1).unwrap_or(axis.first);
            let x = axis.start(begins);
            let next = NaiveDate::from_ymd_opt(year + 1, 1, 1).unwrap_or(axis.last);
            if axis.start(next) - x >= text::width("2026", SMALL, false) {
                page.text((x, below), SMALL, false, Anchor::Start, &year.to_string());
            }
        }
        below
    }

    /// The picture in words.
    fn description(&self) -> String {
        let mut parts = self.season_sentences();
        if self.axis.holds(self.year.today) {
            parts.push(format!("Today is {}.", words::date(self.year.today)));
        }
        let starts = self.axis.month_starts();
        for (i, start) in starts.iter().enumerate() {
            let until = starts.get(i + 1).copied();
            let inside = |date: NaiveDate| date >= *start && until.is_none_or(|next| date < next);
            let days: Vec<_> = self
                .year
                .flights
                .iter()
                .filter(|d| inside(d.date))
                .collect();
            let light: Vec<_> = self
                .year
                .sun
                .iter()
                .filter(|(date, _)| inside(*date))
                .collect();
            let mean = |sum: f64, count: usize| sum / count.max(1) as f64;
            parts.push(format!(
                "{} {}: {:.0} to {:.0} °C, {:.1} h of daylight, {:.1} h of possible flight.",
                words::month(*start),
                start.year(),
                mean(
                    days.iter().map(|d| d.temperatures.minimum_c).sum(),
                    days.len()
                ),
                mean(
                    days.iter().map(|d| d.temperatures.maximum_c).sum(),
                    days.len()
                ),
                mean(light.iter().map(|(_, h)| *h).sum(), light.len()),
                mean(days.iter().map(|d| d.flying_hours).sum(), days.len()),
            ));
        }
        parts.join("\n")
    }
}

fn heading(page: &mut Page, y: f64, words: &str) -> f64 {
    let y = y + line_height(BODY);
    page.text((MARGIN, y), BODY, true, Anchor::Start, words);
    y + 2.0
}

/// Words on a white ground in the middle of hatching.
fn plate(page: &mut Page, x: f64, y: f64, words: &str) {
    let wide = text::width(words, SMALL, false) + 6.0;
    page.rectangle((x - wide / 2.0, y - 7.5), (wide, 15.0), "#ffffff", None);
    page.text((x, y + 3.7), SMALL, false, Anchor::Middle, words);
}

/// A scale from bottom to top.
struct Panel {
    top: f64,
    height: f64,
    low: f64,
    high: f64,
}

impl Panel {
    fn bottom(&self) -> f64 {
        self.top + self.height
    }

    fn y(&self, value: f64) -> f64 {
        let share = (value - self.low) / (self.high - self.low);
        (self.bottom() - share * self.height).clamp(self.top, self.bottom())
    }

    fn grid(&self, page: &mut Page, step: f64) {
        let mut value = (self.low / step).ceil() * step;
        while value <= self.high {
            let y = self.y(value);
            page.line((LEFT, y), (RIGHT, y), GRID);
            page.soft_text((LEFT - 4.0, y + 3.7), SMALL, Anchor::End, &num(value));
            value += step;
        }
    }
}
