//! Content lines of RFC 5545, section 3.1: escaped, folded, ended with CRLF.

use chrono::{NaiveDate, NaiveDateTime, Timelike};

use crate::calendar::words;

/// The longest line without its CRLF, octets.
pub(super) const LONGEST_OCTETS: usize = 75;

/// A growing iCalendar text.
#[derive(Default)]
pub(super) struct Lines {
    out: String,
}

impl Lines {
    /// A property whose value is not of the type TEXT; `name` may carry parameters.
    pub fn value(&mut self, name: &str, value: &str) {
        self.fold(&format!("{name}:{value}"));
    }

    /// A property of the type TEXT.
    pub fn text(&mut self, name: &str, text: &str) {
        self.value(name, &escape(text));
    }

    pub fn begin(&mut self, component: &str) {
        self.value("BEGIN", component);
    }

    pub fn end(&mut self, component: &str) {
        self.value("END", component);
    }

    pub fn into_text(self) -> String {
        self.out
    }

    /// Lines that are whole and folded already.
    pub fn append(&mut self, lines: &Lines) {
        self.out.push_str(&lines.out);
    }

    /// Each line with its folds.
    pub fn of(text: &str) -> Self {
        Lines {
            out: text.to_owned(),
        }
    }

    pub fn as_text(&self) -> &str {
        &self.out
    }

    /// Folds between characters, so that no line holds half of one.
    fn fold(&mut self, line: &str) {
        let mut octets = 0;
        for c in line.chars() {
            if octets + c.len_utf8() > LONGEST_OCTETS {
                self.out.push_str("\r\n ");
                octets = 1;
            }
            self.out.push(c);
            octets += c.len_utf8();
        }
        self.out.push_str("\r\n");
    }
}

/// Escapes a TEXT (RFC 5545, section 3.3.11). Every kind of line break becomes `\n`; other control
/// characters, which the standard does not allow, become spaces.
pub(super) fn escape(text: &str) -> String {
    let mut after_return = false;
    words::escaped(text, |c| {
        let was_return = std::mem::replace(&mut after_return, c == '\r');
        match c {
            '\n' if was_return => Some(""),
            '\r' | '\n' | '\u{85}' | '\u{2028}' | '\u{2029}' => Some("\\n"),
            '\\' => Some("\\\\"),
            ';' => Some("\\;"),
            ',' => Some("\\,"),
            _ => None,
        }
    })
}

/// A date in the basic form of ISO 8601 (RFC 5545, section 3.3.4).
pub(super) fn basic_date(date: NaiveDate) -> String {
    date.to_string().replace('-', "")
}

/// Date and time in the basic form, to the second (RFC 5545, section 3.3.5).
pub(super) fn basic(at: NaiveDateTime) -> String {
    format!(
        "{}T{:02}{:02}{:02}",
        basic_date(at.date()),
        at.hour(),
        at.minute(),
        at.second()
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_standard_s_example() {
        // RFC 5545, section 3.3.11.
        let text = "Project XYZ Final Review\nConference Room - 3B\nCome Prepared.";
        assert_eq!(
            escape(text),
            "Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared."
        );
        assert_eq!(
            escape("a,b;c\\d\r\ne\rf\u{2028}g\u{7}h"),
            "a\\,b\\;c\\\\d\\ne\\nf\\ng h"
        );
    }

    #[test]
    fn folds_between_characters() {
        for letter in ["x", "é", "蜂", "🐝"] {
            let mut lines = Lines::default();
            lines.text("SUMMARY", &letter.repeat(200));
            let text = lines.into_text();
            let rows: Vec<_> = text.strip_suffix("\r\n").unwrap().split("\r\n").collect();
            assert!(rows.len() > 2);
            for row in &rows {
                assert!(
                    row.len() <= LONGEST_OCTETS && row.len() > LONGEST_OCTETS - 8
                        || row == rows.last().unwrap()
                );
            }
            assert_eq!(
                text.replace("\r\n ", ""),
                format!("SUMMARY:{}\r\n", letter.repeat(200))
            );
        }
    }
}
