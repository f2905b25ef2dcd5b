//! Dates along a picture's width, and labels that keep out of each other's way.

use chrono::{Datelike, Months, NaiveDate};

use super::page::{Anchor, INK, MARGIN, Page, SMALL, Stroke, WIDTH, line_height};
use super::text;

/// Dates from `first` to `last`, both with their whole day, between two edges.
#[derive(Clone, Copy)]
pub(super) struct DateAxis {
    pub first: NaiveDate,
    pub last: NaiveDate,
    pub left: f64,
    pub right: f64,
}

impl DateAxis {
    fn days(&self) -> f64 {
        (self.last - self.first).num_days() as f64 + 1.0
    }

    /// Where a day begins; outside the axis its nearer edge.
    pub fn start(&self, date: NaiveDate) -> f64 {
        self.at((date - self.first).num_days() as f64)
    }

    /// The middle of a day.
    pub fn middle(&self, date: NaiveDate) -> f64 {
        self.at((date - self.first).num_days() as f64 + 0.5)
    }

    /// Where a day ends.
    pub fn end(&self, date: NaiveDate) -> f64 {
        self.at((date - self.first).num_days() as f64 + 1.0)
    }

    pub fn holds(&self, date: NaiveDate) -> bool {
        (self.first..=self.last).contains(&date)
    }

    fn at(&self, days: f64) -> f64 {
        (self.left + (self.right - self.left) * days / self.days()).clamp(self.left, self.right)
    }

    /// First days of the months that begin on the axis, and the axis's own first day.
    pub fn month_starts(&self) -> Vec<NaiveDate> {
        let mut starts = vec![self.first];
        let mut month = first_of_month(self.first);
        while let Some(next) = month.checked_add_months(Months::new(1)) {
            if next > self.last {
                break;
            }
            starts.push(next);
            month = next;
        }
        starts
    }

    /// The months on the axis by their first day there, each with its left and right edge.
    pub fn months(&self) -> Vec<(NaiveDate, f64, f64)> {
        let starts = self.month_starts();
        let next = starts.iter().skip(1).map(|next| self.start(*next));
        let ends = next.chain([self.right]);
        starts
            .iter()
            .zip(ends)
            .map(|(month, end)| (*month, self.start(*month), end))
            .collect()
    }
}

fn first_of_month(date: NaiveDate) -> NaiveDate {
    date.with_day(1).unwrap_or(date)
}

/// A label that wants to stand over a place.
pub(super) struct Label {
    pub x: f64,
    pub words: String,
}

/// A label with its place: `row` 0 is the lowest.
pub(super) struct Placed {
    pub left: f64,
    pub wide: f64,
    pub row: usize,
    pub x: f64,
    pub words: String,
}

/// Gives each label the lowest row in which it touches no other and stays on the sheet.
pub(super) fn place(mut labels: Vec<Label>) -> Vec<Placed> {
    const GAP: f64 = 8.0;
    labels.sort_by(|a, b| a.x.total_cmp(&b.x));
    let mut row_ends: Vec<f64> = Vec::new();
    labels
        .into_iter()
        .map(|label| {
            let wide = text::width(&label.words, SMALL, false);
            let left = (label.x - wide / 2.0).clamp(MARGIN, (WIDTH - MARGIN - wide).max(MARGIN));
            let row = row_ends
                .iter()
                .position(|end| *end + GAP <= left)
                .unwrap_or(row_ends.len());
            if row == row_ends.len() {
                row_ends.push(0.0);
            }
            row_ends[row] = left + wide;
            Placed {
                left,
                wide,
                row,
                x: label.x,
                words: label.words,
            }
        })
        .collect()
}

/// Draws labels in rows below `top`, each with a line down to where the rows end; gives back where
/// that is.
pub(super) fn draw_labels(page: &mut Page, top: f64, labels: Vec<Label>) -> f64 {
    let row_height = line_height(SMALL);
    let placed = place(labels);
    let rows = placed.iter().map(|label| label.row + 1).max().unwrap_or(0);
    let bottom = top + rows as f64 * row_height;
    let foot = |label: &Placed| bottom - label.row as f64 * row_height;
    for label in placed.iter().filter(|label| label.row > 0) {
        let line = Stroke::new(INK, 0.8, "");
        page.line((label.x, foot(label)), (label.x, bottom), line);
    }
    // A label hides the line of the one above it.
    for label in &placed {
        let y = foot(label);
        let size = (label.wide, row_height - 1.0);
        page.rectangle((label.left, y - row_height), size, "#ffffff", None);
        let middle = label.left + label.wide / 2.0;
        page.text(
            (middle, y - 3.0),
            SMALL,
            false,
            Anchor::Middle,
            &label.words,
        );
    }
    bottom
}

#[cfg(test)]
mod tests {
    use super::*;

    fn axis(first: &str, last: &str) -> DateAxis {
        DateAxis {
            first: first.parse().unwrap(),
            last: last.parse().unwrap(),
            left: 12.0,
            right: 348.0,
        }
    }

    #[test]
    fn days_lie_on_the_axis() {
        let year = axis("2026-09-01", "2027-08-31");
        assert_eq!(year.start(year.first), 12.0);
        assert_eq!(year.end(year.last), 348.0);
        assert_eq!(year.month_starts().len(), 12);
        assert_eq!(year.start("2020-01-01".parse().unwrap()), 12.0);
        assert_eq!(axis("2026-09-13", "2026-10-02").month_starts().len(), 2);
    }

    #[test]
    fn labels_keep_apart() {
        let labels = (0..12).map(|i| Label {
            x: f64::from(i) * 7.0,
            words: format!("label {i}"),
        });
        let placed = place(labels.collect());
        for (i, a) in placed.iter().enumerate() {
            let end = |p: &Placed| p.left + text::width(&p.words, SMALL, false);
            assert!(a.left >= MARGIN && end(a) <= WIDTH - MARGIN);
            for b in &placed[..i] {
                assert!(a.row != b.row || end(a) <= b.left || end(b) <= a.left);
            }
        }
    }
}
