//! Text that can't become Typst code, and made text that does no more than it should.

use serde::{Serialize, Serializer};
use serde_json::Value;

use crate::typeset::{Fragment, calls_only};

/// Made text as a template sees it: the only thing that the filter `safe` hands on unescaped.
///
/// Whatever was put together wrongly, a text of a note can't run: what is not whole in itself, or does more than call
/// the functions below, is printed as text.
#[derive(Clone, Debug, Default)]
pub(super) struct Markup(String);

/// The functions of the look and of Typst that made text calls: of a body, of a calculation, of mathematics.
const FUNCTIONS: [&str; 30] = [
    "emph",
    "enum",
    "footnote",
    "introduction",
    "linebreak",
    "link",
    "list",
    "picture",
    "pictures",
    "pieces",
    "quote",
    "raw",
    "scribe",
    "strike",
    "strong",
    "tasks",
    "text",
    "to",
    "value",
    "eq",
    "page-of",
    "json",
    "plot",
    "working",
    "abs",
    "cases",
    "frac",
    "inline",
    "root",
    "sqrt",
];

/// The key under which made text reaches a template.
const KEY: &str = "markup";

impl Markup {
    /// What goes between square brackets.
    pub(super) fn of(text: String) -> Self {
        Self::checked(text, Fragment::Markup, escape)
    }

    /// An expression.
    pub(super) fn code(text: String) -> Self {
        Self::checked(text, Fragment::Code, quoted)
    }

    fn checked(text: String, how: Fragment, as_text: fn(&str) -> String) -> Self {
        let is_fit = calls_only(&text, how, &FUNCTIONS);
        Self(if is_fit { text } else { as_text(&text) })
    }

    /// What a template gave to `safe`, if it is made text.
    pub(super) fn in_template(value: &Value) -> Option<&str> {
        value.get(KEY)?.as_str()
    }

    pub(super) fn is_blank(&self) -> bool {
        self.0.trim().is_empty()
    }
}

/// An empty one is an empty text, so that a template can ask whether there is any.
impl Serialize for Markup {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.0.as_str() {
            "" => serializer.serialize_str(""),
            text => std::collections::BTreeMap::from([(KEY, text)]).serialize(serializer),
        }
    }
}

/// The texts of a table of data without what no page can show: their signs reach Typst without the escaping above.
pub(super) fn without_controls(value: &mut Value) {
    match value {
        Value::String(text) if text.contains(char::is_control) => {
            let shown = |letter| match letter {
                '\n' | '\t' | '\r' => ' ',
                letter if char::is_control(letter) => '\u{fffd}',
                letter => letter,
            };
            *text = text.chars().map(shown).collect();
        }
        Value::Array(items) => items.iter_mut().for_each(without_controls),
        Value::Object(fields) => fields.values_mut().for_each(without_controls),
        _ => {}
    }
}

/// Writes a text so that Typst shows it as typed, in markup and inside a quoted string alike: every ASCII punctuation
/// character by its code, line ends and tabs as spaces.
pub(super) fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len() + text.len() / 4);
    escape_to(text, &mut escaped);
    escaped
}

pub(super) fn escape_to(text: &str, out: &mut String) {
    for letter in text.chars() {
        match letter {
            _ if letter.is_ascii_punctuation() => push_code(letter, out),
            '\n' | '\t' | '\r' => out.push(' '),
            _ if letter.is_control() => out.push('\u{fffd}'),
            _ => out.push(letter),
        }
    }
}

fn push_code(letter: char, out: &mut String) {
    out.push_str("\\u{");
    out.push_str(&format!("{:x}", u32::from(letter)));
    out.push('}');
}

/// A Typst string, quoted.
pub(super) fn quoted(text: &str) -> String {
    format!("\"{}\"", escape(text))
}

/// A value as a Typst literal: `none`, numbers, quoted strings, arrays, dictionaries.
pub(super) fn literal(value: &Value) -> String {
    let mut out = String::new();
    literal_to(value, &mut out);
    out
}

/// A shape as a Typst literal.
pub(super) fn of(shape: &impl serde::Serialize) -> String {
    literal(&serde_json::to_value(shape).unwrap_or_default())
}

fn literal_to(value: &Value, out: &mut String) {
    match value {
        Value::Null => out.push_str("none"),
        Value::Bool(truth) => out.push_str(if *truth { "true" } else { "false" }),
        Value::Number(number) => out.push_str(&number.to_string()),
        Value::String(text) => out.push_str(&quoted(text)),
        Value::Array(items) => {
            out.push('(');
            for item in items {
                literal_to(item, out);
                out.push_str(", ");
            }
            out.push(')');
        }
        Value::Object(fields) if fields.is_empty() => out.push_str("(:)"),
        Value::Object(fields) => {
            out.push('(');
            for (key, value) in fields {
                out.push_str(&quoted(key));
                out.push_str(": ");
                literal_to(value, out);
                out.push_str(", ");
            }
            out.push(')');
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Nothing that Typst gives a meaning survives: no punctuation is left but that of the codes themselves.
        #[test]
        fn no_punctuation_survives(text in ".*") {
            let escaped = escape(&text);
            let mut rest = escaped.as_str();
            while let Some(at) = rest.find(|letter: char| letter.is_ascii_punctuation()) {
                rest = &rest[at..];
                prop_assert!(rest.starts_with("\\u{"), "{}", rest);
                let end = rest.find('}').expect("a code is closed");
                prop_assert!(rest[3..end].chars().all(|letter| letter.is_ascii_hexdigit()));
                rest = &rest[end + 1..];
            }
            prop_assert!(!escaped.contains('\n'));
        }
    }

    #[test]
    fn made_text_that_does_more_than_it_should_is_printed_as_text() {
        let of = |text: &str| Markup::of(text.to_owned()).0;
        assert_eq!(of("#emph[a]"), "#emph[a]");
        for text in ["#evil()", "a]#emph[b", "#emph[a", "// a\n#evil()"] {
            assert_eq!(of(text), escape(text));
        }
        assert_eq!(Markup::code("read(\"a\")".to_owned()).0, quoted("read(\"a\")"));
    }

    #[test]
    fn the_texts_of_a_table_hold_no_control_character() {
        let mut value = serde_json::json!({"rows": [["a\u{7}b\u{1b}", 1, "c\nd"]]});
        without_controls(&mut value);
        assert_eq!(value, serde_json::json!({"rows": [["a\u{fffd}b\u{fffd}", 1, "c d"]]}));
    }

    #[test]
    fn literals_are_typst_values() {
        let value = serde_json::json!({"label": "post", "none": null, "list": [1, true, "a\"b"]});
        let expected = r#"("label": "post", "none": none, "list": (1, true, "a\u{22}b", ), )"#;
        let text = literal(&value);
        for piece in
            expected.trim_matches(|c| c == '(' || c == ')').split(", ").filter(|piece| !piece.is_empty())
        {
            assert!(text.contains(piece.trim()), "{piece} is missing in {text}");
        }
    }
}
