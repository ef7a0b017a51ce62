//! Text that can't become Typst code.

use serde_json::Value;

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
