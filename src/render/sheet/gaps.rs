//! The last look: every text of a sheet that is ready to be set, wherever it came from.

use serde::Serialize;
use serde_json::Value;

use super::redaction::{GAP, Redaction};
use crate::typeset::Folder;

/// What is markup was looked at block by block, and a path of the virtual folder is in no file.
const NOT_PRINTED: [&str; 5] = ["body", "told", "path", "data", "relation"];

/// Leaves a gap for every text that is not for this reader.
pub(super) fn leave(redaction: &Redaction, value: &mut Value) {
    match value {
        Value::String(text) => *text = redaction.joined(text),
        Value::Array(items) => items.iter_mut().for_each(|item| leave(redaction, item)),
        Value::Object(fields) => {
            let printed = fields.iter_mut().filter(|(key, _)| !NOT_PRINTED.contains(&key.as_str()));
            printed.for_each(|(_, value)| leave(redaction, value));
        }
        _ => {}
    }
}

/// A shape with its gaps.
pub(super) fn left(redaction: &Redaction, shape: &impl Serialize) -> Value {
    let mut value = serde_json::to_value(shape).unwrap_or_default();
    leave(redaction, &mut value);
    value
}

/// The same for the tables that lie beside the text.
pub(super) fn leave_in_data(redaction: &Redaction, folder: &mut Folder) {
    let left = data(folder).map(|(path, mut value)| {
        leave(redaction, &mut value);
        (path.clone(), value.to_string().into_bytes())
    });
    let left: Vec<_> = left.collect();
    folder.extend(left);
}

/// The tables that lie beside the text, by their paths.
pub(super) fn data(folder: &Folder) -> impl Iterator<Item = (&String, Value)> {
    let tables = folder.iter().filter(|(path, _)| path.starts_with("/data/"));
    tables.filter_map(|(path, bytes)| Some((path, serde_json::from_slice(bytes).ok()?)))
}

/// Whether a gap stands in a text of this, be it plain or markup.
pub(super) fn has_one(value: &Value) -> bool {
    match value {
        Value::String(text) => text.contains(MARKUP) || text.replace('\\', "").contains(GAP),
        Value::Array(items) => items.iter().any(has_one),
        Value::Object(fields) => fields.values().any(has_one),
        _ => false,
    }
}

/// A gap of the length of a block, in `look/sheet.typ`.
const MARKUP: &str = "#kept-back";
