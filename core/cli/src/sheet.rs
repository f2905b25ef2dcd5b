//! What is printed: lines no wider than a screen, and each source told once, at the end.

use std::fmt::Write;

use apiary_almanac::Reason;
use apiary_almanac::number::COMMON_PRACTICE;
use apiary_almanac::reason::Value;
use clap::Args;

/// Columns of a terminal.
pub const WIDE: usize = 80;
/// Columns of a small screen.
pub const NARROW: usize = 40;

/// How much is told.
#[derive(Debug, Clone, Copy, Default, Args)]
pub struct Detail {
    /// Also say why: reasons, what to look for, what to mind in full
    #[arg(long)]
    pub why: bool,
    /// Also say where it comes from: a number behind a reason, and the sources by number at the end
    #[arg(long)]
    pub sources: bool,
}

impl Detail {
    /// Reasons are wanted; sources stand behind them.
    pub const fn reasons(self) -> bool {
        self.why || self.sources
    }
}

/// A printed answer in the making.
pub struct Sheet {
    out: String,
    width: usize,
    sources: Vec<String>,
    /// How much is told.
    pub detail: Detail,
}

impl Sheet {
    pub const fn new(width: usize, detail: Detail) -> Self {
        Sheet {
            out: String::new(),
            width,
            sources: Vec::new(),
            detail,
        }
    }

    /// The same sheet goes on with lines of another width.
    pub const fn set_width(&mut self, width: usize) {
        self.width = width;
    }

    pub fn lines(&self) -> usize {
        self.out.lines().count()
    }

    pub fn blank(&mut self) {
        self.out.push('\n');
    }

    /// Lines that were made for another sheet.
    pub fn append(&mut self, lines: &str) {
        self.out.push_str(lines);
    }

    /// An underlined title after an empty line.
    pub fn section(&mut self, title: &str) {
        if !self.out.is_empty() {
            self.blank();
        }
        self.line(0, title);
        let long = clean(title).chars().count().min(self.width);
        let _ = writeln!(self.out, "{}", "-".repeat(long));
    }

    pub fn line(&mut self, indent: usize, text: &str) {
        let _ = writeln!(self.out, "{}", wrap(&clean(text), self.width, indent));
    }

    /// The mark before the first line, as many spaces before the others.
    pub fn item(&mut self, mark: &str, text: &str) {
        let body = wrap(&clean(text), self.width, mark.chars().count());
        let _ = writeln!(self.out, "{mark}{}", body.trim_start());
    }

    /// A reason in words, with a number for its source or without it.
    pub fn reason(&mut self, reason: &Reason) -> String {
        let mut text = reason.text();
        if let Some(Value::Name { value }) = reason.values.get("source") {
            let source = value.replace(COMMON_PRACTICE, PRACTICE);
            let cited = self.source(&source);
            text = text.replace(&source, &cited);
        }
        self.cited(&text)
    }

    /// Reasons in words.
    pub fn reasons<'r>(&mut self, reasons: impl IntoIterator<Item = &'r Reason>) -> String {
        let texts: Vec<_> = reasons.into_iter().map(|one| self.reason(one)).collect();
        texts.join(" ")
    }

    /// A text with a number in place of each source in brackets, or without them.
    pub fn cited(&mut self, text: &str) -> String {
        let mut out = String::with_capacity(text.len());
        let mut rest = text;
        while let Some(open) = rest.find('(') {
            let Some(close) = closing(&rest[open..]) else {
                break;
            };
            let inside = &rest[open + 1..open + close];
            let before = &rest[..open];
            if year_at(inside).is_some() {
                out.push_str(before.trim_end());
                let mark = self.mark(inside);
                if !mark.is_empty() {
                    out.push(' ');
                    out.push_str(&mark);
                }
            } else {
                out.push_str(before);
                out.push_str(&rest[open..=open + close]);
            }
            rest = &rest[open + close + 1..];
        }
        out.push_str(rest);
        out.replace(COMMON_PRACTICE, PRACTICE)
    }

    /// What stands as the source of something: words, then a number for what was published.
    pub fn source(&mut self, source: &str) -> String {
        let text = self.cited(source);
        let Some(year) = year_at(&text) else {
            return text;
        };
        // “words that tell something: author and year”.
        let from = ["; ", ": "]
            .iter()
            .filter_map(|sign| text[..year].rfind(sign).map(|at| at + sign.len()))
            .max()
            .unwrap_or(0);
        let (words, published) = text.split_at(from);
        let (words, mark) = (
            words.trim_end_matches([' ', ':', ';']),
            self.mark(published),
        );
        match (words, mark.as_str()) {
            ("", "") => "published".to_owned(),
            ("", mark) => mark.to_owned(),
            (words, "") => words.to_owned(),
            (words, mark) => format!("{words} {mark}"),
        }
    }

    /// The number of a source; nothing where sources are not wanted.
    fn mark(&mut self, source: &str) -> String {
        if !self.detail.sources {
            return String::new();
        }
        let source = source.trim().replace(COMMON_PRACTICE, PRACTICE);
        let known = self.sources.iter().position(|one| *one == source);
        let number = known.unwrap_or_else(|| {
            self.sources.push(source);
            self.sources.len() - 1
        });
        format!("[{}]", number + 1)
    }

    /// All that was printed, and the sources.
    pub fn finish(mut self) -> String {
        let sources = std::mem::take(&mut self.sources);
        if !sources.is_empty() {
            self.section("Sources");
        }
        for (number, source) in sources.iter().enumerate() {
            self.item(&format!("[{}] ", number + 1), source);
        }
        self.out
    }
}

/// How the source of what the trade does without a publication is called in print.
const PRACTICE: &str = "beekeepers' practice";

/// Where the bracket closes that opens a text, bytes.
fn closing(text: &str) -> Option<usize> {
    let mut depth = 0;
    text.char_indices().find_map(|(at, c)| {
        match c {
            '(' => depth += 1,
            ')' => depth -= 1,
            _ => {}
        }
        (depth == 0).then_some(at)
    })
}

/// Where the first year of a publication stands; that of a date follows its month.
fn year_at(text: &str) -> Option<usize> {
    const MONTHS: [&str; 12] = [
        "Jan ", "Feb ", "Mar ", "Apr ", "May ", "Jun ", "Jul ", "Aug ", "Sep ", "Oct ", "Nov ",
        "Dec ",
    ];
    let is_letter = |c: char| c.is_alphanumeric() || c == '-';
    text.char_indices().find_map(|(at, _)| {
        let (before, year) = (&text[..at], text.get(at..at + 4)?);
        let is_year = (year.starts_with("19") || year.starts_with("20"))
            && year.bytes().all(|b| b.is_ascii_digit())
            && !before.ends_with(is_letter)
            && !text[at + 4..].starts_with(is_letter)
            && !MONTHS.iter().any(|month| before.ends_with(month));
        is_year.then_some(at)
    })
}

/// A text as a terminal may have it: without signs of a name that would do something there, or turn the
/// line round.
pub fn clean(text: &str) -> String {
    let acts = |c: char| {
        (c.is_control() && c != '\n')
            || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
    };
    let shown = |c| if acts(c) { '\u{fffd}' } else { c };
    text.chars().map(shown).collect()
}

/// Breaks text at spaces so that no line is longer than `width`; every line is indented.
pub fn wrap(text: &str, width: usize, indent: usize) -> String {
    let margin = " ".repeat(indent);
    let mut lines = Vec::new();
    for paragraph in text.lines() {
        let lead: String = paragraph.chars().take_while(|c| *c == ' ').collect();
        let mut row = format!("{margin}{lead}");
        let mut empty = true;
        // Single spaces are where a line may break; runs of them are columns and stay together.
        let words = paragraph.trim_start().split(' ');
        for word in words.flat_map(|word| pieces(word, width.saturating_sub(indent))) {
            let fits = row.chars().count() + 1 + word.chars().count() <= width;
            if !empty && !fits {
                lines.push(row.trim_end().to_owned());
                row = format!("{margin}{word}");
            } else {
                if !empty {
                    row.push(' ');
                }
                row.push_str(word);
            }
            empty = false;
        }
        lines.push(row.trim_end().to_owned());
    }
    lines.join("\n")
}

/// A word that is longer than a line, in pieces.
fn pieces(word: &str, room: usize) -> Vec<&str> {
    let mut pieces = Vec::new();
    let mut rest = word;
    while let Some((at, _)) = rest.char_indices().nth(room.max(1)) {
        let (piece, after) = rest.split_at(at);
        pieces.push(piece);
        rest = after;
    }
    pieces.push(rest);
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_longer_than_asked() {
        let text = "Weigh a hive before you plan to lift it; lift with two people or a barrow.";
        for width in [20, 33, 80] {
            let wrapped = wrap(text, width, 4);
            assert!(
                wrapped
                    .lines()
                    .all(|l| l.chars().count() <= width && l.starts_with("    "))
            );
            let words: Vec<_> = wrapped.split_whitespace().collect();
            assert_eq!(words, text.split_whitespace().collect::<Vec<_>>());
        }
    }
}
