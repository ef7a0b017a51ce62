//! Problems of templates and pages.

use crate::diagnostic::{Problem, codes};
use crate::photo::PhotoFault;
use crate::text::Span;

/// `note`: what the text was made from, if it is known; `made`: the place in the text itself.
pub fn typeset(note: Option<Span>, made: Option<Span>, message: &str, hints: &[String]) -> Problem {
    let help = if hints.is_empty() {
        "Simplify the place in the note; if a template of your own made it, mend the template.".to_owned()
    } else {
        hints.join(" ")
    };
    let problem =
        Problem::new(&codes::TYPESET, note.or(made), format!("the page can't be set: {message}")).help(help);
    match (note, made) {
        (Some(_), Some(made)) => problem.also(made, "in the text that was made below it"),
        _ => problem,
    }
}

/// A picture that turned out unfit when it was made ready.
pub fn unprintable(at: Option<Span>, path: &str, fault: &PhotoFault) -> Problem {
    Problem::new(&codes::PICTURE, at, format!("`{path}` can't be printed: {fault}")).help(fault.help())
}

/// A paper's file that could not be read when it was to be attached.
pub fn paper_unreadable(path: &str, why: &str) -> Problem {
    Problem::new(&codes::FILE_MISSING, None, format!("`{path}` can't be attached: {why}"))
        .help("Mend the file, or take `file:` out of the paper's note.")
}

/// A template that can't be read or filled in.
pub fn template(at: Option<Span>, message: &str, help: Option<&str>) -> Problem {
    let usual = "Mend the template in the folder given with `--templates`, or leave the option out.";
    Problem::new(&codes::TEMPLATE, at, format!("a template is broken: {message}")).help(help.unwrap_or(usual))
}
