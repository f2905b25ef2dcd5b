//! How wide a text may become, without knowing the font that will show it.

/// Upper estimate of the width of a character, in thousandths of the font size. Letters of the
/// usual sans-serif fonts are narrower than this; other scripts and emoji are taken as square and
/// a bit.
fn width_of(c: char) -> u32 {
    match c {
        'i' | 'j' | 'l' | ' ' | '.' | ',' | ':' | ';' | '|' | '\'' | '!' | 'I' => 350,
        'f' | 't' | 'r' | '(' | ')' | '/' | '-' | '[' | ']' | '\u{b7}' => 440,
        'm' | '%' | '@' | 'W' | '…' => 1010,
        'w' | '+' | '=' | '<' | '>' | '~' | '^' | '_' | '#' | 'M' | 'Q' | 'O' | '≥' | '≤' | '→' => {
            870
        }
        'E' | 'F' | 'L' | 'P' | 'S' | 'T' | 'Y' | 'Z' => 690,
        'a'..='z' | '0'..='9' | '–' | '°' | '"' | '?' | '*' | '$' | 'J' => 650,
        ' '..='~' => 790,
        '\u{a0}'..='\u{24f}' => 900,
        '\u{250}'..='\u{7ff}' => 1000,
        _ => 1400,
    }
}

/// Upper estimate of the width of a text, in units of the picture.
pub(super) fn width(text: &str, size: f64, bold: bool) -> f64 {
    let thousandths: u32 = text.chars().map(width_of).sum();
    let heavier = if bold { 1.13 } else { 1.0 };
    f64::from(thousandths) / 1000.0 * size * heavier
}

/// Breaks a text into lines that are no wider than `room`: at spaces, within words that are longer
/// than a line. What does not fit into `most` lines gives way to an ellipsis.
pub(super) fn wrap(text: &str, size: f64, bold: bool, room: f64, most: usize) -> Vec<String> {
    let fits = |line: &str| width(line, size, bold) <= room;
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split(|c: char| c.is_whitespace() || c.is_control()) {
        if word.is_empty() {
            continue;
        }
        let longer = if line.is_empty() {
            word.to_owned()
        } else {
            format!("{line} {word}")
        };
        if fits(&longer) {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for c in word.chars() {
            line.push(c);
            if !fits(&line) && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::take(&mut line));
                line.push(c);
            }
        }
        if lines.len() > most {
            break;
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    if lines.len() > most {
        lines.truncate(most);
        if let Some(last) = lines.last_mut() {
            while !last.is_empty() && !fits(&format!("{last}…")) {
                last.pop();
            }
            last.push('…');
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_fit_and_lose_nothing() {
        for text in [
            "Weigh a hive before you plan to lift it",
            "Donaudampfschifffahrt",
            "",
            " a  b ",
        ] {
            for room in [40.0, 90.0, 300.0] {
                let lines = wrap(text, 11.0, false, room, 99);
                assert!(lines.iter().all(|l| width(l, 11.0, false) <= room));
                let letters = |t: &str| t.split_whitespace().collect::<String>();
                assert_eq!(letters(&lines.concat()), letters(text));
            }
        }
        let short = wrap(&"hive ".repeat(80), 11.0, true, 100.0, 2);
        assert!(
            short.len() == 2 && short[1].ends_with('…') && width(&short[1], 11.0, true) <= 100.0
        );
        assert_eq!(wrap("\u{1F41D}\u{1F41D}", 11.0, false, 3.0, 9).len(), 2);
    }
}
