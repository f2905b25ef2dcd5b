//! The sheet a picture is drawn on: SVG elements with fixed decimals and escaped text.

use std::fmt::Write;

use super::text;
use crate::calendar::words;

/// Width of a picture of a plan or a year, units.
pub(super) const WIDTH: f64 = 320.0;
/// Pixels for a unit where a picture is opened by itself: without a size a browser would squeeze a
/// tall one into its window.
const ALONE: f64 = 1.6;
/// Height of a sheet of A4 for its width (ISO 216: 210 by 297 mm).
pub(super) const A4: f64 = 297.0 / 210.0;
/// Left edge of text and, on the right, the same distance from the edge.
pub(super) const MARGIN: f64 = 10.0;
/// Text that matters; 16.7:1 on white.
pub(super) const INK: &str = "#1c1c1c";
/// Lesser text and rules; 8.5:1 on white, 7.5:1 on the ground of a heading.
pub(super) const SOFT: &str = "#4a4a4a";
/// Lines of the grid; no text is drawn in it.
pub(super) const FAINT: &str = "#c9c9c9";
/// The ground of headings within a picture.
pub(super) const GROUND: &str = "#f0efe9";
/// Behind what is at risk.
pub(super) const BAND: &str = "#eadfc0";
/// Sizes of text, units. On a phone of 360 pixels a picture at full width shows the smallest with 11.8 of them.
pub(super) const TITLE: f64 = 15.0;
/// See [`TITLE`].
pub(super) const BODY: f64 = 11.5;
/// See [`TITLE`].
pub(super) const SMALL: f64 = 10.5;

/// How a line is drawn.
#[derive(Clone, Copy)]
pub(super) struct Stroke {
    pub colour: &'static str,
    pub width: f64,
    pub dashes: &'static str,
}

impl Stroke {
    pub const fn new(colour: &'static str, width: f64, dashes: &'static str) -> Self {
        Stroke {
            colour,
            width,
            dashes,
        }
    }
}

pub(super) const SOLID: Stroke = Stroke::new(INK, 1.6, "");
pub(super) const DASHED: Stroke = Stroke::new(INK, 1.4, "5 3");
pub(super) const DOTTED: Stroke = Stroke::new(INK, 1.4, "1.5 3");
pub(super) const GRID: Stroke = Stroke::new(FAINT, 0.7, "");
pub(super) const HATCH: Stroke = Stroke::new("#5b6b3a", 0.9, "");
/// The line of the day on which the picture was made.
pub(super) const TODAY: Stroke = Stroke::new(INK, 1.2, "4 2 1 2");
/// The line of the last safe date.
pub(super) const LAST_SAFE: Stroke = Stroke::new(INK, 1.8, "2 2");

#[derive(Clone, Copy)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// A picture in the making.
pub(super) struct Page {
    body: String,
    /// From edge to edge, units.
    width: f64,
}

impl Default for Page {
    fn default() -> Self {
        Page::wide(WIDTH)
    }
}

impl Page {
    /// An empty one.
    pub const fn wide(width: f64) -> Self {
        Page {
            body: String::new(),
            width,
        }
    }

    /// Where words end on the right.
    pub fn right(&self) -> f64 {
        self.width - MARGIN
    }

    /// A line of text; `y` is its baseline.
    pub fn text(&mut self, (x, y): (f64, f64), size: f64, bold: bool, anchor: Anchor, words: &str) {
        self.coloured_text((x, y), size, bold, anchor, INK, words);
    }

    /// As [`Page::text`], for lesser text.
    pub fn soft_text(&mut self, (x, y): (f64, f64), size: f64, anchor: Anchor, words: &str) {
        self.coloured_text((x, y), size, false, anchor, SOFT, words);
    }

    fn coloured_text(
        &mut self,
        (x, y): (f64, f64),
        size: f64,
        bold: bool,
        anchor: Anchor,
        colour: &str,
        words: &str,
    ) {
        // An element without words has no place in a browser.
        if words.is_empty() {
            return;
        }
        let anchor = match anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        };
        let weight = if bold { " font-weight=\"bold\"" } else { "" };
        let _ = writeln!(
            self.body,
            "<text x=\"{}\" y=\"{}\" font-size=\"{}\" fill=\"{colour}\"{weight}{anchor}>{}</text>",
            num(x),
            num(y),
            num(size),
            escape(words)
        );
    }

    /// A paragraph from `y` downwards; gives back where the next line would stand.
    pub fn paragraph(&mut self, y: f64, size: f64, bold: bool, most: usize, words: &str) -> f64 {
        let mut y = y;
        for line in text::wrap(words, size, bold, self.width - 2.0 * MARGIN, most) {
            y += line_height(size);
            self.text((MARGIN, y), size, bold, Anchor::Start, &line);
        }
        y
    }

    pub fn line(&mut self, (x1, y1): (f64, f64), (x2, y2): (f64, f64), stroke: Stroke) {
        self.path(
            &format!("M{} {}L{} {}", num(x1), num(y1), num(x2), num(y2)),
            stroke,
            "none",
        );
    }

    /// A broken line through points.
    pub fn curve(&mut self, points: &[(f64, f64)], stroke: Stroke) {
        if points.len() > 1 {
            self.path(&outline(points), stroke, "none");
        }
    }

    /// An area.
    pub fn area(&mut self, points: &[(f64, f64)], fill: &str) {
        if points.len() > 2 {
            let _ = writeln!(
                self.body,
                "<path d=\"{}Z\" fill=\"{fill}\"/>",
                outline(points)
            );
        }
    }

    pub fn rectangle(
        &mut self,
        (x, y): (f64, f64),
        (w, h): (f64, f64),
        fill: &str,
        stroke: Option<Stroke>,
    ) {
        let d = format!("M{} {}h{}v{}h{}Z", num(x), num(y), num(w), num(h), num(-w));
        match stroke {
            Some(stroke) => self.path(&d, stroke, fill),
            None => {
                let _ = writeln!(self.body, "<path d=\"{d}\" fill=\"{fill}\"/>");
            }
        }
    }

    /// A rectangle of slanting lines with a frame.
    pub fn hatched(&mut self, (x, y): (f64, f64), (w, h): (f64, f64)) {
        const STEP: f64 = 5.0;
        let mut d = String::new();
        // Lines x + y = c, clipped to the rectangle.
        let mut c = STEP * (x / STEP).ceil() - x;
        while c < w + h {
            let (x1, y1) = if c <= h {
                (x, y + c)
            } else {
                (x + c - h, y + h)
            };
            let (x2, y2) = if c <= w {
                (x + c, y)
            } else {
                (x + w, y + c - w)
            };
            let _ = write!(d, "M{} {}L{} {}", num(x1), num(y1), num(x2), num(y2));
            c += STEP;
        }
        if !d.is_empty() {
            self.path(&d, HATCH, "none");
        }
        self.rectangle((x, y), (w, h), "none", Some(Stroke::new(INK, 1.0, "")));
    }

    pub fn path(&mut self, d: &str, stroke: Stroke, fill: &str) {
        let dashes = if stroke.dashes.is_empty() {
            String::new()
        } else {
            format!(" stroke-dasharray=\"{}\"", stroke.dashes)
        };
        let _ = writeln!(
            self.body,
            "<path d=\"{d}\" fill=\"{fill}\" stroke=\"{}\" stroke-width=\"{}\"{dashes}/>",
            stroke.colour,
            num(stroke.width)
        );
    }

    /// Everything up to [`Page::end_group`] is one thing, named in words for whoever asks for it.
    pub fn begin_group(&mut self, words: &str) {
        let _ = writeln!(self.body, "<g><title>{}</title>", escape(words));
    }

    pub fn end_group(&mut self) {
        self.body.push_str("</g>\n");
    }

    /// A row of samples with words, broken where the width ends; gives back the lowest y.
    pub fn key(&mut self, y: f64, entries: &[(Sample, &str)]) -> f64 {
        const SAMPLE: f64 = 22.0;
        let (mut x, mut y) = (MARGIN, y + line_height(SMALL));
        for (sample, words) in entries {
            let wide = SAMPLE + 4.0 + text::width(words, SMALL, false);
            if x > MARGIN && x + wide > self.width - MARGIN {
                (x, y) = (MARGIN, y + line_height(SMALL));
            }
            self.sample(x, y - 3.5, SAMPLE, *sample);
            self.soft_text((x + SAMPLE + 4.0, y), SMALL, Anchor::Start, words);
            x += wide + 10.0;
        }
        y
    }

    fn sample(&mut self, x: f64, y: f64, w: f64, sample: Sample) {
        match sample {
            Sample::Line(stroke) => self.line((x, y), (x + w, y), stroke),
            Sample::Mark(mark) => mark.draw(self, (x + w / 2.0, y)),
        }
    }

    /// The whole picture. Each line of the description is a sentence.
    pub fn finish(self, size: &Size, title: &str, description: &str) -> String {
        let sentences: Vec<_> = description.lines().map(escape).collect();
        let (h, (wide, high)) = match *size {
            Size::Alone(h) => (h, (num(self.width * ALONE), num(h * ALONE))),
            Size::A4 => (self.width * A4, ("210mm".to_owned(), "297mm".to_owned())),
        };
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{wide}\" height=\"{high}\" \
             viewBox=\"0 0 {w} {h}\" font-family=\"Helvetica, Arial, 'DejaVu Sans', sans-serif\">\n\
             <title>{}</title>\n<desc>{}</desc>\n\
             <path d=\"M0 0h{w}v{h}h-{w}Z\" fill=\"#ffffff\"/>\n{}</svg>\n",
            escape(title),
            sentences.join("\n"),
            self.body,
            w = num(self.width),
            h = num(h),
        )
    }
}

/// How high a picture is, units, and how large where it is opened by itself.
pub(super) enum Size {
    /// As high as what is on it.
    Alone(f64),
    /// A sheet of A4, so that it is printed at its size.
    A4,
}

/// What stands before the words of a key.
#[derive(Clone, Copy)]
pub(super) enum Sample {
    Line(Stroke),
    Mark(Mark),
}

/// Marks differ in shape.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    /// An empty box.
    Open,
    /// A ring with a tick.
    Done,
    /// A cross.
    Dropped,
}

impl Mark {
    pub fn draw(self, page: &mut Page, (x, y): (f64, f64)) {
        let at = |dx: f64, dy: f64| format!("{} {}", num(x + dx), num(y + dy));
        let thin = Stroke::new(INK, 1.5, "");
        match self {
            Mark::Open => {
                page.rectangle((x - 5.0, y - 5.0), (10.0, 10.0), "#ffffff", Some(thin));
            }
            Mark::Done => {
                let ring = format!(
                    "M{}A5.5 5.5 0 1 0 {}A5.5 5.5 0 1 0 {}Z",
                    at(-5.5, 0.0),
                    at(5.5, 0.0),
                    at(-5.5, 0.0)
                );
                page.path(&ring, thin, "#ffffff");
                let tick = format!("M{}L{}L{}", at(-2.8, 0.2), at(-0.8, 2.5), at(3.0, -2.6));
                page.path(&tick, thin, "none");
            }
            Mark::Dropped => {
                let cross = format!(
                    "M{}L{}M{}L{}",
                    at(-4.0, -4.0),
                    at(4.0, 4.0),
                    at(-4.0, 4.0),
                    at(4.0, -4.0)
                );
                page.path(&cross, thin, "none");
            }
        }
    }
}

pub(super) fn line_height(size: f64) -> f64 {
    size * 1.3
}

/// One decimal, none where it is 0; no negative zero.
pub(super) fn num(value: f64) -> String {
    let tenths = (value * 10.0).round() as i64;
    let sign = if tenths < 0 { "-" } else { "" };
    let tenths = tenths.abs();
    if tenths % 10 == 0 {
        format!("{sign}{}", tenths / 10)
    } else {
        format!("{sign}{}.{}", tenths / 10, tenths % 10)
    }
}

fn outline(points: &[(f64, f64)]) -> String {
    let mut d = String::new();
    for (i, (x, y)) in points.iter().enumerate() {
        let _ = write!(
            d,
            "{}{} {}",
            if i == 0 { 'M' } else { 'L' },
            num(*x),
            num(*y)
        );
    }
    d
}

/// Escapes a text for XML 1.0; characters that XML cannot hold become spaces.
fn escape(text: &str) -> String {
    words::escaped(text, |c| match c {
        '&' => Some("&amp;"),
        '<' => Some("&lt;"),
        '>' => Some("&gt;"),
        '\u{fffe}' | '\u{ffff}' => Some(" "),
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_and_texts() {
        let written = [0.0, -0.04, 0.05, -1.25, 359.96, 12.0].map(num);
        assert_eq!(written, ["0", "0", "0.1", "-1.3", "360", "12"]);
        assert_eq!(
            escape("<a href=\"x\">&\u{0}\u{ffff}"),
            "&lt;a href=\"x\"&gt;&amp;  "
        );
    }
}
