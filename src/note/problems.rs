//! Problems of a note's shape: its front matter as YAML, its body as Markdown.

use crate::calc::print::counted;
use crate::diagnostic::{Problem, codes};
use crate::limits::{DEEPEST_BLOCK, LEVELS_OF_QUOTE, LONGEST_TEXT, MOST_MARKS};
use crate::note::Slip;
use crate::text::Span;

pub fn front_matter_open(at: Span) -> Problem {
    Problem::new(&codes::FRONT_MATTER_OPEN, at, "the front matter begins here and never ends")
        .help("Put a line with only `---` after its last key.")
}

pub fn front_matter_unbegun(at: Span) -> Problem {
    Problem::new(
        &codes::FRONT_MATTER_OPEN,
        at,
        "this looks like a note, but its keys do not begin at the top",
    )
    .help("Make the first line of the file exactly `---`, with nothing before it.")
}

const UNREADABLE: &str = "this front matter can't be read";

/// A slip that is known.
pub fn yaml_slip(at: Span, slip: Slip) -> Problem {
    let said = match slip {
        Slip::Tab => "a tab stands in the indentation",
        Slip::SecondColon => "a second colon stands in this line",
        Slip::OpenBracket => "a bracket or brace is opened and not closed",
        Slip::OpenQuote => "a quote is opened and not closed",
        Slip::BehindValue => "the value before this place has ended, and the rest does not belong to it",
        Slip::Sign | Slip::Alias => "no value begins with this sign",
    };
    let help = match slip {
        Slip::Tab => "Indent with spaces: YAML does not take tabs.",
        Slip::SecondColon => "Put the text after the first colon in quotes: a second colon begins a new key.",
        Slip::OpenBracket => "Close it where its list or its keys end.",
        Slip::OpenQuote => {
            "Close it where the text ends; a quote within a text is doubled or stands in the other quotes."
        }
        Slip::BehindValue | Slip::Sign | Slip::Alias => "Put the whole value in quotes.",
    };
    Problem::new(&codes::YAML_SYNTAX, at, format!("{UNREADABLE}: {said}")).help(help)
}

/// `said` is the parser's own message.
pub fn yaml_syntax(at: Span, said: &str) -> Problem {
    Problem::new(&codes::YAML_SYNTAX, at, format!("{UNREADABLE}: {said}"))
        .help("Check the quotes, brackets and indentation here and on the line before; when in doubt, put the value in quotes.")
}

/// A second document.
pub fn yaml_second(at: Span) -> Problem {
    yaml_syntax(at, "the keys have ended before this place")
}

pub fn yaml_alias(at: Span) -> Problem {
    Problem::new(&codes::YAML_ALIAS, at, "anchors, aliases and tags (`&`, `*`, `!`) are not used in notes")
        .help("Write the value out; if the text itself begins with one of these signs, put it in quotes.")
}

/// `swallowed` is the rest of the line, from its `#`.
pub fn yaml_remark(at: Span, swallowed: &str) -> Problem {
    Problem::new(&codes::YAML_REMARK, at, format!("`{swallowed}` does not count: `#` begins a comment here"))
        .help(
            "Put the whole value in quotes if this belongs to it; write a space after `#` if it is a comment.",
        )
}

pub fn yaml_key(at: Span) -> Problem {
    Problem::new(&codes::YAML_SYNTAX, at, "a key must be a single word").help("Write `key: value`.")
}

pub fn yaml_key_twice(at: Span, first: Span, key: &str) -> Problem {
    Problem::new(&codes::YAML_SYNTAX, at, format!("the key `{key}` stands here a second time"))
        .also(first, "it stands here first")
        .help("Keep one; several values go into a list: `[one, other]`.")
}

pub fn yaml_deep(at: Span, limit: usize) -> Problem {
    Problem::new(&codes::YAML_SHAPE, at, format!("this is nested deeper than {limit} levels"))
        .help("Front matter needs two or three levels; move the rest into the body.")
}

pub fn yaml_no_keys(at: Span, shape: &str) -> Problem {
    Problem::new(&codes::YAML_SHAPE, at, format!("keys with their values belong here, but this is {shape}"))
        .help("Write one `key: value` a line, or `{key: value}`.")
}

pub fn body_unreadable(at: Span) -> Problem {
    Problem::new(&codes::BODY_UNREADABLE, at, "the Markdown reader gave up on this body")
        .help("Take out unusual characters piece by piece until it is read; the front matter was read.")
}

/// `columns` is how many the head of the table has.
pub fn table_cell(at: Span, columns: usize) -> Problem {
    Problem::new(
        &codes::TABLE_CELL,
        at,
        format!(
            "this stands beside the table: its head has {}, and the row goes on",
            counted(columns, "column")
        ),
    )
    .help("Give the head and the line below it one more cell, or write `\\|` for an upright that is part of the text.")
}

pub fn body_deep(at: Span) -> Problem {
    let message = format!(
        "quotes and lists are nested deeper than {DEEPEST_BLOCK} levels here; a quote counts as {LEVELS_OF_QUOTE}"
    );
    Problem::new(&codes::BODY_UNREADABLE, at, message).help("Flatten them: no page can show that.")
}

/// `what` has a text of so many letters: "this heading".
pub fn text_long(at: Span, what: &str, letters: usize) -> Problem {
    let message = format!("{what} is {letters} letters long; the limit is {LONGEST_TEXT}");
    Problem::new(&codes::LIMIT, at, message)
        .help("Say it shorter here, and move the rest into paragraphs of the body.")
}

pub fn marks_stacked(at: Span) -> Problem {
    let message = format!("more than {MOST_MARKS} marks are set over one letter here");
    Problem::new(&codes::LIMIT, at, message).help("Take out all but those that the letter needs.")
}
