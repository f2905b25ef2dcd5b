//! JSON text into a tree (RFC 8259).
//!
//! What is JSON but cannot be held, as `1e999`, becomes a node that refuses to be read, so that the
//! error names its place.

use std::borrow::Cow;

use super::number::parse_f64;
use super::tree::Node;

/// Values within values up to here.
const DEEPEST: u32 = 128;

/// The tree of a text, or what is wrong with it, with line and column.
pub(super) fn parse(text: &str) -> Result<Node<'_>, String> {
    let mut reader = Reader { text, at: 0 };
    let mut whole = || {
        let node = reader.value(0)?;
        match reader.next() {
            None => Ok(node),
            Some(_) => Err("characters after the end"),
        }
    };
    whole().map_err(|problem| {
        let before = &text.as_bytes()[..reader.at.min(text.len())];
        let line_start = before
            .iter()
            .rposition(|b| *b == b'\n')
            .map_or(0, |i| i + 1);
        let line = before.iter().filter(|b| **b == b'\n').count() + 1;
        let column = before.len() - line_start + 1;
        format!("{problem} at line {line} column {column}")
    })
}

type Outcome<T> = Result<T, &'static str>;

const ENDED: &str = "the text ends too early";

struct Reader<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Reader<'a> {
    /// The next byte that is not white space; it is not taken.
    fn next(&mut self) -> Option<u8> {
        while let Some(b' ' | b'\t' | b'\r' | b'\n') = self.here() {
            self.at += 1;
        }
        self.here()
    }

    fn here(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn value(&mut self, depth: u32) -> Outcome<Node<'a>> {
        match self.next().ok_or(ENDED)? {
            b'{' | b'[' if depth == DEEPEST => self.skip_nested(),
            b'{' => self.object(depth + 1),
            b'[' => self.list(depth + 1),
            b'"' => Ok(Node::Text(self.string()?)),
            b'-' | b'0'..=b'9' => self.number(),
            b't' => self.word("true", Node::Bool(true)),
            b'f' => self.word("false", Node::Bool(false)),
            b'n' => self.word("null", Node::Null),
            _ => Err("expected a value"),
        }
    }

    fn word(&mut self, word: &str, node: Node<'a>) -> Outcome<Node<'a>> {
        if !self.text.as_bytes()[self.at..].starts_with(word.as_bytes()) {
            return Err("expected a value");
        }
        self.at += word.len();
        Ok(node)
    }

    fn object(&mut self, depth: u32) -> Outcome<Node<'a>> {
        let mut fields = Vec::new();
        self.items(b'}', "expected `,` or `}`", |reader| {
            if reader.next() != Some(b'"') {
                return Err("expected the name of a field, in double quotes");
            }
            let key = reader.string()?;
            if reader.next() != Some(b':') {
                return Err("expected `:`");
            }
            reader.at += 1;
            fields.push((key, reader.value(depth)?));
            Ok(())
        })?;
        Ok(Node::Object(fields))
    }

    fn list(&mut self, depth: u32) -> Outcome<Node<'a>> {
        let mut nodes = Vec::new();
        self.items(b']', "expected `,` or `]`", |reader| {
            nodes.push(reader.value(depth)?);
            Ok(())
        })?;
        Ok(Node::List(nodes))
    }

    /// What stands between an opening bracket and `close`, with commas.
    fn items(
        &mut self,
        close: u8,
        problem: &'static str,
        mut item: impl FnMut(&mut Self) -> Outcome<()>,
    ) -> Outcome<()> {
        self.at += 1;
        if self.next() == Some(close) {
            self.at += 1;
            return Ok(());
        }
        loop {
            item(self)?;
            let byte = self.next().ok_or(ENDED)?;
            if byte != b',' && byte != close {
                return Err(problem);
            }
            self.at += 1;
            if byte == close {
                return Ok(());
            }
        }
    }

    /// The whole request is refused for it, so only its end matters.
    fn skip_nested(&mut self) -> Outcome<Node<'a>> {
        let mut open = 0_usize;
        loop {
            match self.next().ok_or(ENDED)? {
                b'{' | b'[' => open += 1,
                b'}' | b']' => open -= 1,
                b'"' => {
                    self.string()?;
                    continue;
                }
                _ => {}
            }
            self.at += 1;
            if open == 0 {
                return Ok(Node::Unreadable("nested too deeply"));
            }
        }
    }

    fn digits(&mut self) -> Outcome<()> {
        let start = self.at;
        while let Some(b'0'..=b'9') = self.here() {
            self.at += 1;
        }
        if self.at == start {
            return Err("expected a digit");
        }
        Ok(())
    }

    fn number(&mut self) -> Outcome<Node<'a>> {
        let start = self.at;
        let negative = self.here() == Some(b'-');
        self.at += usize::from(negative);
        let leading_zero = self.here() == Some(b'0');
        let first = self.at;
        self.digits()?;
        if leading_zero && self.at - first > 1 {
            self.at = first + 1;
            return Err("a number starts with a zero too many");
        }
        let mut whole = true;
        if self.here() == Some(b'.') {
            whole = false;
            self.at += 1;
            self.digits()?;
        }
        if let Some(b'e' | b'E') = self.here() {
            whole = false;
            self.at += 1;
            if let Some(b'+' | b'-') = self.here() {
                self.at += 1;
            }
            self.digits()?;
        }
        let text = &self.text[start..self.at];
        if whole && text != "-0" {
            if let Ok(value) = text.parse() {
                return Ok(Node::Unsigned(value));
            }
            if let Ok(value) = text.parse() {
                return Ok(Node::Signed(value));
            }
        }
        Ok(match parse_f64(text) {
            Some(value) if value.is_finite() => Node::Float(value),
            _ => Node::Unreadable("number out of range"),
        })
    }

    fn string(&mut self) -> Outcome<Cow<'a, str>> {
        self.at += 1;
        let mut start = self.at;
        let mut unescaped = String::new();
        loop {
            match self.here().ok_or(ENDED)? {
                b'"' => {
                    let rest = &self.text[start..self.at];
                    self.at += 1;
                    return Ok(if unescaped.is_empty() {
                        Cow::Borrowed(rest)
                    } else {
                        Cow::Owned(unescaped + rest)
                    });
                }
                b'\\' => {
                    unescaped += &self.text[start..self.at];
                    self.at += 1;
                    unescaped.push(self.escape()?);
                    start = self.at;
                }
                0..0x20 => return Err("a control character in a text must be escaped"),
                _ => self.at += 1,
            }
        }
    }

    fn escape(&mut self) -> Outcome<char> {
        let letter = self.here().ok_or(ENDED)?;
        self.at += 1;
        Ok(match letter {
            b'"' | b'\\' | b'/' => char::from(letter),
            b'b' => '\u{8}',
            b'f' => '\u{c}',
            b'n' => '\n',
            b'r' => '\r',
            b't' => '\t',
            b'u' => return self.unicode(),
            _ => {
                self.at -= 1;
                return Err("no such escape in a text");
            }
        })
    }

    fn unicode(&mut self) -> Outcome<char> {
        const HALF: &str = "half of a surrogate pair is no character";
        let first = self.four_digits()?;
        let code = if let 0xd800..0xdc00 = first {
            if !self.text.as_bytes()[self.at..].starts_with(b"\\u") {
                return Err(HALF);
            }
            self.at += 2;
            match self.four_digits()? {
                second @ 0xdc00..0xe000 => 0x1_0000 + ((first - 0xd800) << 10) + (second - 0xdc00),
                _ => return Err(HALF),
            }
        } else {
            first
        };
        char::from_u32(code).ok_or(HALF)
    }

    fn four_digits(&mut self) -> Outcome<u32> {
        let mut code = 0;
        for _ in 0..4 {
            let digit = char::from(self.here().ok_or(ENDED)?).to_digit(16);
            code = code * 16 + digit.ok_or("expected four hexadecimal digits")?;
            self.at += 1;
        }
        Ok(code)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use serde_json::Value;

    use super::*;

    /// As serde_json has it; `None` for what cannot be held.
    fn value(node: &Node<'_>) -> Option<Value> {
        Some(match node {
            Node::Null => Value::Null,
            Node::Bool(value) => Value::from(*value),
            Node::Unsigned(value) => Value::from(*value),
            Node::Signed(value) => Value::from(*value),
            Node::Float(value) => Value::from(*value),
            Node::Text(text) => Value::from(text.as_ref()),
            Node::List(nodes) => nodes.iter().map(value).collect::<Option<_>>()?,
            Node::Object(fields) => Value::Object(
                fields
                    .iter()
                    .map(|(key, node)| Some((key.to_string(), value(node)?)))
                    .collect::<Option<_>>()?,
            ),
            Node::Part(..) | Node::Unreadable(_) => return None,
        })
    }

    fn same(text: &str) {
        let ours = parse(text).ok().and_then(|node| value(&node));
        let theirs = serde_json::from_str::<Value>(text).ok();
        assert_eq!(ours, theirs, "{text}");
    }

    #[test]
    fn what_serde_json_reads_and_refuses() {
        for text in [
            "",
            " ",
            "nul",
            "nulll",
            "true",
            "[]",
            "[1,]",
            "[,]",
            "{}",
            "{\"a\":1,}",
            "{\"a\"}",
            "01",
            "-",
            "-0",
            "-0.0",
            "1.",
            ".5",
            "1e",
            "1e+",
            "1E-7",
            "18446744073709551615",
            "\"\\u00e9\"",
            "18446744073709551616",
            "-9223372036854775808",
            "-9223372036854775809",
            "1e400",
            "1e308",
            "0.1",
            "5e-324",
            "2.2250738585072011e-308",
            "123456789012345678901234567890",
            "\"\\ud83d\\udc1d\"",
            "\"\\ud83d\"",
            "\"\\udc1d\"",
            "\"\\ud83d\\u0041\"",
            "\"\\x\"",
            "\"\\u12g4\"",
            "\"\n\"",
            "\"tab\\t\"",
            "\"open",
            "[1 2]",
            "{\"a\" 1}",
            "{a:1}",
            "[[[[1]]]]",
            "\u{feff}1",
            "1 2",
            "NaN",
            "+1",
            "{\"a\":1,\"b\":[true,false,null,\"x\"]}",
            "\t[\r\n1 ]",
        ] {
            same(text);
        }
        for levels in [127, 129, 100_000] {
            same(&("[".repeat(levels) + &"]".repeat(levels)));
            assert!(parse(&"{\"a\":".repeat(levels)).is_err());
        }
    }

    #[test]
    fn errors_count_lines_and_columns() {
        assert!(
            parse("[1,\n 2,\n  x]")
                .unwrap_err()
                .ends_with(" at line 3 column 3")
        );
        assert!(parse("[").unwrap_err().ends_with(" at line 1 column 2"));
    }

    fn any_value() -> impl Strategy<Value = Value> {
        let leaf = prop_oneof![
            Just(Value::Null),
            any::<bool>().prop_map(Value::from),
            any::<i64>().prop_map(Value::from),
            any::<u64>().prop_map(Value::from),
            any::<f64>().prop_map(Value::from),
            any::<String>().prop_map(Value::from),
        ];
        leaf.prop_recursive(4, 32, 6, |inner| {
            prop_oneof![
                prop::collection::vec(inner.clone(), 0..6).prop_map(Value::from),
                prop::collection::btree_map(any::<String>(), inner, 0..6)
                    .prop_map(|map| Value::Object(map.into_iter().collect())),
            ]
        })
    }

    proptest! {
        #[test]
        fn every_value_comes_back(value in any_value()) {
            same(&value.to_string());
            same(&serde_json::to_string_pretty(&value).unwrap());
        }

        #[test]
        fn damaged_texts_are_judged_alike(
            value in any_value(),
            at in any::<prop::sample::Index>(),
            letter in prop::sample::select(vec!['"', '\\', ',', ':', '[', ']', '{', '}', '0', '-', 'e', '.', 'u', ' ']),
        ) {
            let mut letters: Vec<char> = value.to_string().chars().collect();
            let place = at.index(letters.len());
            letters[place] = letter;
            same(&letters.iter().collect::<String>());
            letters.remove(place);
            same(&letters.iter().collect::<String>());
        }
    }
}
