//! Problems of templates and pages.

use super::{Problem, codes};
use crate::photo::PhotoFault;
use crate::source::Span;

/// `at`: the note that the text was made from, if it is known; `place`: the made file, line and column.
pub fn typeset(
    at: Option<Span>,
    message: &str,
    place: Option<&(String, usize, usize)>,
    hints: &[String],
) -> Problem {
    let shown =
        place.map(|(file, line, column)| format!(" (made text {file}:{line}:{column})")).unwrap_or_default();
    let help = if hints.is_empty() {
        "Simplify the place in the note; if a template of your own made it, mend the template.".to_owned()
    } else {
        hints.join(" ")
    };
    Problem::new(&codes::TYPESET, at, format!("the page can't be set: {message}{shown}")).help(help)
}

/// A picture that turned out unfit when it was made ready.
pub fn unprintable(path: &str, fault: &PhotoFault) -> Problem {
    Problem::new(&codes::PICTURE, None, format!("`{path}` can't be printed: {fault}")).help(fault.help())
}

pub fn template(message: &str) -> Problem {
    Problem::new(&codes::TEMPLATE, None, format!("a template is broken: {message}"))
        .help("Mend the template in the folder given with `--templates`, or leave the option out.")
}
