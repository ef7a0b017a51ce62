//! Problems of what a note says: keys, words, quantities, dates, readings.

use crate::calc::dimension::Dimension;
use crate::calc::function::Refusal;
use crate::calc::literal::{Literal, LiteralFault};
use crate::calc::units::Units;
use crate::diagnostic::{Keys, Problem, choice, codes, nearest};
use crate::limits::MOST_READINGS;
use crate::record::kinds;
use crate::text::Span;

/// More words than this are not all named.
const LONGEST_CHOICE: usize = 12;

pub fn kind_missing(at: Span) -> Problem {
    Problem::new(&codes::KIND_MISSING, at, "this note does not say what kind it is")
        .help(format!("Add `kind:` with {}.", choice(kinds())))
}

pub fn kind_unknown(at: Span, typed: &str) -> Problem {
    let message = format!("`{typed}` is no kind of note");
    Problem::new(&codes::KIND_UNKNOWN, at, message).help(one_of(typed, &kinds()))
}

pub fn key_unknown(at: Span, typed: &str, owner: &str, known: &[&str]) -> Problem {
    let help = match nearest(typed, known.iter().copied()) {
        Some(near) => format!("Did you mean `{near}`?"),
        None => format!("The keys of {owner} are {}.", known.join(", ")),
    };
    let problem = Problem::new(&codes::KEY_UNKNOWN, at, format!("{owner} has no key `{typed}`")).help(help);
    Problem { keys: Keys::Unknown, ..problem }
}

/// `rest` stands behind the comma that ends the value of `key`, which is so far `text`.
pub fn value_cut(at: Span, key: &str, text: &str, rest: &str) -> Problem {
    let message = format!("the comma ends the value of `{key}`, and `{rest}` is left over");
    let is_figure = text.ends_with(|letter: char| letter.is_ascii_digit())
        && rest.starts_with(|letter: char| letter.is_ascii_digit());
    Problem::new(&codes::KEY_UNKNOWN, at, message).help(if is_figure {
        format!("Write a decimal point: `{key}: {text}.{rest}`.")
    } else {
        format!("Put the whole text in quotes: `{key}: \"{text}, {rest}\"`.")
    })
}

pub fn key_missing(at: Span, owner: &str, key: &str, why: &str) -> Problem {
    Problem::new(&codes::KEY_MISSING, at, format!("{owner} needs the key `{key}`"))
        .help(format!("Add `{key}:` and {why}."))
}

pub fn shape(at: Span, wanted: &str, found: &str) -> Problem {
    Problem::new(&codes::VALUE_SHAPE, at, format!("this should be {wanted}, but it is {found}"))
        .help("`asfound explain value-shape` shows how values are written.")
}

pub fn private_open(at: Span) -> Problem {
    Problem::new(&codes::VALUE_SHAPE, at, "`private` is neither true nor false")
        .help("Write `private: true` to keep the note in, or take the key out.")
}

pub fn private_for_helpers(at: Span) -> Problem {
    Problem::new(&codes::PRIVATE_FOR_HELPERS, at, "a private note can't be for helpers")
        .help("Take out `private`, or take out `for_helpers`: until then nothing of the note goes out.")
}

pub fn word_unknown(at: Span, key: &str, typed: &str, words: &[&str]) -> Problem {
    Problem::new(&codes::WORD_UNKNOWN, at, format!("`{typed}` is no word for `{key}`"))
        .help(one_of(typed, words))
}

/// A chapter is named a second time.
pub fn chapter_twice(at: Span, typed: &str) -> Problem {
    Problem::new(&codes::VALUE_SHAPE, at, format!("the chapter `{typed}` is named twice"))
        .help("A chapter is printed once: keep it where you want it.")
}

pub fn quantity(at: Span, typed: &str, fault: &LiteralFault) -> Problem {
    Problem::new(&codes::QUANTITY, at, format!("`{typed}` is no quantity: {}", fault.message))
        .help(as_range(typed).unwrap_or_else(|| fault.help.clone()))
}

/// What to write for a range as people write one: `3 to 4 h`, `3-4 h`.
fn as_range(typed: &str) -> Option<String> {
    let (low, high) =
        typed.split_once(" to ").or_else(|| typed.split_once('-')).or_else(|| typed.split_once('–'))?;
    let (low, high) = (low.trim(), high.trim());
    let is_figure = |text: &str| text.starts_with(|letter: char| letter.is_ascii_digit());
    let unit =
        high.trim_start_matches(|letter: char| letter.is_ascii_digit() || matches!(letter, '.' | '/' | ' '));
    let has_unit = low.ends_with(char::is_alphabetic) || unit.is_empty();
    let unit = if has_unit { String::new() } else { format!(" {unit}") };
    (is_figure(low) && is_figure(high))
        .then(|| format!("Write a range with two dots: `{low}{unit} .. {high}`."))
}

pub fn unit_missing(at: Span, typed: &str, wanted: &str) -> Problem {
    Problem::new(&codes::UNIT_MISSING, at, format!("`{typed}` has no unit")).help(format!("Add {wanted}."))
}

pub fn dimension(at: Span, literal: &Literal, wanted: Dimension, units: &Units) -> Problem {
    let would_do = units.examples(wanted);
    if literal.dimension() == Dimension::NONE {
        return Problem::new(
            &codes::UNIT_MISSING,
            at,
            format!("this is {wanted} and needs a unit", wanted = a(wanted)),
        )
        .help(format!("Add one: {would_do}."));
    }
    let message = format!("this is {}, but {} is needed", a(literal.dimension()), a(wanted));
    Problem::new(&codes::UNIT_DIMENSION, at, message).help(format!("Units that would do: {would_do}."))
}

pub fn negative(at: Span, key: &str) -> Problem {
    Problem::new(&codes::QUANTITY, at, format!("`{key}` is below zero")).help("Check the sign and the range.")
}

pub fn no_distance(at: Span, typed: &str) -> Problem {
    Problem::new(&codes::QUANTITY, at, format!("`{typed}` is no distance"))
        .help("Write the miles as a plain number of zero or more, or a length with its unit: `12`, `20 km`.")
}

pub fn not_positive(at: Span, key: &str) -> Problem {
    Problem::new(&codes::QUANTITY, at, format!("`{key}` is not above zero"))
        .help("Check the figure and its sign.")
}

pub fn days_out_of_order(at: Span, last: &str, first: &str) -> Problem {
    Problem::new(&codes::DATE, at, format!("`{last}` is before `{first}`"))
        .help("The two days are the first and the last: check the years, or exchange them.")
}

/// The pieces of a part's stock are given in both ways.
pub fn pieces_twice(at: Span) -> Problem {
    Problem::new(&codes::VALUE_SHAPE, at, "the pieces are given both for one part and in all")
        .help("Keep `quantity`, the pieces for one part, or `in_all`, the pieces for all of them; not both.")
}

pub fn points_out_of_order(at: Span) -> Problem {
    Problem::new(&codes::QUANTITY, at, "the three points are not in order")
        .help("`low` is the least, `high` the most, `likely` lies between them.")
}

/// A key of a turned part's shape in one from plate.
pub fn not_of_flat(at: Span, key: &str) -> Problem {
    Problem::new(
        &codes::VALUE_SHAPE,
        at,
        format!("`{key}` belongs to a turned part, and this one is from plate"),
    )
    .help("A part from plate has `holes` and `slots` within `flat`.")
}

/// A corner's radius or cut that stands for no rectangle.
pub fn corner_elsewhere(at: Span, key: &str) -> Problem {
    Problem::new(
        &codes::VALUE_SHAPE,
        at,
        format!("`{key}` stands here for the corners of a rectangle, and there is none"),
    )
    .help(format!("At a corner of an outline write `{{to: [4 in, 3 in], {key}: 1/2 in}}`."))
}

/// A designation that leaves the choice between threads.
pub fn thread_unclear(at: Span, typed: &str, names: &[String]) -> Problem {
    let names = choice(names.iter().map(String::as_str));
    Problem::new(&codes::SHAPE_THREAD, at, format!("`{typed}` may be several threads"))
        .help(format!("Say which: {names}."))
}

/// A designation that the table does not hold.
pub fn thread_unknown(at: Span, refusal: &Refusal) -> Problem {
    Problem::new(&codes::SHAPE_THREAD, at, refusal.message.clone()).help(refusal.help.clone())
}

pub fn date(at: Span, typed: &str) -> Problem {
    let is_written_so = typed.len() == 10 && typed.as_bytes().get(4) == Some(&b'-');
    let what = if is_written_so { "is no day of the calendar" } else { "is not written as a date is here" };
    Problem::new(&codes::DATE, at, format!("`{typed}` {what}"))
        .help("Write year, month and day: `2027-03-01`.")
}

/// A year before the calendar that is counted by.
pub fn early(at: Span, typed: &str) -> Problem {
    Problem::new(&codes::DATE, at, format!("`{typed}` is before the calendar of today began, in 1583"))
        .help("Write year, month and day: `2027-03-01`; an older year stands in words, in the text.")
}

pub fn currency(at: Span, typed: &str) -> Problem {
    Problem::new(&codes::WORD_UNKNOWN, at, format!("`{typed}` is no currency"))
        .help("Write the three capital letters of ISO 4217: GBP, EUR, USD.")
}

pub fn id_shape(at: Span, id: &str) -> Problem {
    Problem::new(&codes::ID_SHAPE, at, format!("`{id}` can't be an id"))
        .help("Use lower case letters, digits and hyphens; rename the file or add `id:`.")
}

pub fn readings_missing(at: Span) -> Problem {
    Problem::new(&codes::READINGS, at, "this measurement has no readings")
        .help("Put a table into the body, or add `value:` or `values:`.")
}

/// `value` and `values` in one measurement.
pub fn readings_twice(at: Span, other: Span) -> Problem {
    Problem::new(&codes::READINGS, at, "`value` and `values` stand in one measurement, and only one is read")
        .also(other, "the other stands here")
        .help("Put every figure into `values`, or write a measurement of its own for the other.")
}

/// Figures with commas between them and no brackets around them, or one with a comma for its decimal point.
pub fn readings_unbracketed(at: Span, typed: &str) -> Problem {
    let pieces: Vec<&str> = typed.split(',').collect();
    let listed = pieces.iter().map(|piece| piece.trim()).collect::<Vec<_>>().join(", ");
    let is_decimal = pieces.len() == 2 && pieces.iter().skip(1).all(|piece| !piece.starts_with(' '));
    let decimal = format!("Write a decimal point: `{}`. ", pieces.join("."));
    let brackets = format!("Several readings stand in brackets: `values: [{listed}]`.");
    Problem::new(&codes::READINGS, at, format!("`{typed}` is no single reading")).help(if is_decimal {
        decimal + &brackets
    } else {
        brackets
    })
}

/// Two readings that are one figure with a decimal comma.
pub fn decimal_comma(at: Span, whole: &str, places: &str) -> Problem {
    let message = format!("`{whole},{places}` can be one reading with a decimal comma, or two readings");
    let help = format!(
        "Decimals stand behind a point: `{whole}.{places}`. If two readings are meant, leave a blank after every comma."
    );
    Problem::new(&codes::DECIMAL_POINT, at, message).help(help)
}

/// A reading that is ten times its fellows or more, or a tenth or less.
pub fn misplaced_point(at: Span) -> Problem {
    Problem::new(&codes::DECIMAL_POINT, at, "this reading differs from all others by a factor of ten or more")
        .help("A decimal point may be missing or in the wrong place; decimals stand behind a point, not a comma.")
}

fn one_of(typed: &str, words: &[&str]) -> String {
    if words.len() > LONGEST_CHOICE {
        return match nearest(typed, words.iter().copied()) {
            Some(near) => format!("Did you mean `{near}`?"),
            None => "`asfound explain` lists them.".to_owned(),
        };
    }
    match nearest(typed, words.iter().copied()) {
        Some(near) => format!("Did you mean `{near}`? It may be {}.", choice(words.iter().copied())),
        None => format!("It may be {}.", choice(words.iter().copied())),
    }
}

/// "a length", "an area", "a force".
fn a(dimension: Dimension) -> String {
    if dimension == Dimension::NONE {
        return "a plain number".to_owned();
    }
    let Some(name) = dimension.name() else { return "a quantity of another kind".to_owned() };
    let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {name}")
}

pub fn readings_many(at: Span, count: usize) -> Problem {
    Problem::new(
        &codes::LIMIT,
        at,
        format!("this measurement has {count} readings; the limit is {MOST_READINGS}"),
    )
    .help("Keep the raw data in a file of its own, and measure here what decides.")
}
