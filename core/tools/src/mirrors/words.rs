//! Documentation of Rust as that of other languages.

/// The first paragraph, for a type: what follows speaks of Rust.
pub fn first(about: &str) -> &str {
    about.split("\n\n").next().unwrap_or_default()
}

/// The text with its links as plain code, and each piece of code as `code` makes it.
pub fn with_code(about: &str, code: impl Fn(&str) -> String) -> String {
    let mut text = String::new();
    let plain = without_links(about);
    for (position, piece) in plain.split('`').enumerate() {
        // Pieces of code are the odd ones.
        match position % 2 {
            0 => text += piece,
            _ => text += &code(&path(piece)),
        }
    }
    text
}

/// `[words](target)` and `[words]` as words.
fn without_links(text: &str) -> String {
    let mut plain = String::new();
    let mut rest = text;
    while let Some(start) = rest.find('[') {
        let Some(length) = rest[start..].find(']') else {
            break;
        };
        let (words, after) = (
            &rest[start + 1..start + length],
            &rest[start + length + 1..],
        );
        plain += &rest[..start];
        let target = after
            .strip_prefix('(')
            .and_then(|target| target.find(')').map(|end| &target[end + 1..]));
        plain += words;
        rest = target.unwrap_or(after);
    }
    plain + rest
}

/// `crate::bee::Bee::label` as `Bee.label`.
fn path(code: &str) -> String {
    if !code.contains("::") {
        return code.to_owned();
    }
    let parts: Vec<&str> = code.split("::").collect();
    let module = |part: &&&str| part.chars().all(|c| c.is_lowercase() || c == '_');
    let modules = parts.iter().take_while(module).count();
    parts[modules.min(parts.len() - 1)..].join(".")
}

/// The text in lines of at most `width` characters, words kept whole.
pub fn lines(text: &str, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in text.split("\n\n").filter(|paragraph| !paragraph.is_empty()) {
        if !lines.is_empty() {
            lines.push(String::new());
        }
        let mut line = String::new();
        for word in paragraph.split_whitespace() {
            if !line.is_empty() && line.chars().count() + 1 + word.chars().count() > width {
                lines.push(std::mem::take(&mut line));
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line += word;
        }
        lines.push(line);
    }
    lines
}

/// `flight_light` as `flightLight`.
pub fn camel_case(name: &str) -> String {
    let mut camel = String::new();
    let mut up = false;
    for letter in name.chars() {
        match letter {
            '_' => up = true,
            _ if up && letter.is_ascii_lowercase() => {
                camel.push(letter.to_ascii_uppercase());
                up = false;
            }
            _ => {
                if up {
                    camel.push('_');
                    up = false;
                }
                camel.push(letter);
            }
        }
    }
    camel
}

#[cfg(test)]
mod tests {
    use super::*;

    fn code(code: &str) -> String {
        format!("<{code}>")
    }

    #[test]
    fn links_become_code() {
        for (rust, plain) in [
            ("See [`Bee::heat_limit_c`].", "See <Bee.heat_limit_c>."),
            (
                "A [`Bee`](crate::bee::Bee) or [one](Two).",
                "A <Bee> or one.",
            ),
            ("By [`crate::bee::Bee`]: 12 `x`", "By <Bee>: 12 <x>"),
            (
                "[`COMMON`] (of [`flight_day`])",
                "<COMMON> (of <flight_day>)",
            ),
        ] {
            assert_eq!(with_code(rust, code), plain);
        }
    }

    #[test]
    fn names_as_the_door_to_javascript_writes_them() {
        // `camelCase` of wasm/npm/functions.js leaves what follows an underscore and is no letter.
        for (own, camel) in [
            ("flight_light_w_m2", "flightLightWM2"),
            ("p95_error_c", "p95ErrorC"),
            ("zone", "zone"),
        ] {
            assert_eq!(camel_case(own), camel);
        }
    }

    #[test]
    fn words_stay_whole() {
        assert_eq!(
            lines("one two three\n\nfour", 7),
            ["one two", "three", "", "four"]
        );
    }
}
