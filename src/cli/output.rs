//! Everything that goes to the terminal goes through here.

use std::io::{ErrorKind, IsTerminal, Write};

use indicatif::{ProgressBar, ProgressStyle};

use super::{Trouble, wrap};
use crate::calc::print::counted;
use crate::diagnostic::{Format, Problem, Severity, escaped_controls, show, without_commands};
use crate::source::Sources;

/// Prints text from anywhere to standard output: nothing in it commands the terminal.
pub(super) fn print(text: &str) -> Result<(), Trouble> {
    print_styled(&without_commands(text))
}

/// Prints to standard output; a reader that has gone away is no trouble.
fn print_styled(text: &str) -> Result<(), Trouble> {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(error.into()),
        _ => Ok(()),
    }
}

/// Says a line on standard error.
pub(super) fn say(line: &str) {
    let _ = writeln!(std::io::stderr(), "{}", without_commands(line));
}

/// Says why the tool could not run.
pub(super) fn complain(message: &str) {
    say(&format!("asfound: {message}"));
}

/// Prints problems on standard error, for a command whose answer is something else.
pub(super) fn show_problems(problems: &[Problem], sources: &Sources) {
    if !problems.is_empty() {
        let form = text_form(std::io::stderr().is_terminal());
        let _ = write!(std::io::stderr(), "{}", printed(problems, sources, form));
    }
}

/// Prints problems as the answer, on standard output.
pub(super) fn print_problems(problems: &[Problem], sources: &Sources, form: Format) -> Result<(), Trouble> {
    print_styled(&printed(problems, sources, form))
}

/// Problems are printed for people up to this many; scripts get all of them.
const MOST_PRINTED: usize = 300;

/// The first problems in this form and the count of the rest; all of them as JSON.
fn printed(problems: &[Problem], sources: &Sources, form: Format) -> String {
    let most = if form == Format::Json { usize::MAX } else { MOST_PRINTED };
    let rest = problems.len().saturating_sub(most);
    let shown = show(&problems[..problems.len() - rest], sources, form);
    match rest {
        0 => shown,
        rest => format!(
            "{shown}\n{} more are not printed here: mend these first, or list all with `asfound check --format json`.\n",
            counted(rest, "problem")
        ),
    }
}

/// With colours on a terminal, unless it has none or they are not wanted (`NO_COLOR`); no wider than it.
pub(super) fn text_form(is_terminal: bool) -> Format {
    let said = |name: &str| std::env::var(name).unwrap_or_default();
    let styled = is_terminal && takes_colours(&said("NO_COLOR"), &said("TERM"));
    Format::Text { styled, width: is_terminal.then(wrap::width) }
}

fn takes_colours(no_color: &str, term: &str) -> bool {
    no_color.is_empty() && term != "dumb"
}

/// Prints an answer as JSON.
pub(super) fn print_json(answer: &impl serde::Serialize) -> Result<(), Trouble> {
    let text = serde_json::to_string_pretty(answer)?;
    print_styled(&format!("{}\n", escaped_controls(&text)))
}

/// Says that the answer leans on notes with errors.
pub(super) fn mention_errors(project: &crate::Project) {
    if project.has_errors() {
        let tally = tally(project.problems());
        say(&format!(
            "The notes have {tally}: the answer may be wrong until they are mended (`asfound check`)."
        ));
    }
}

/// "2 errors, 3 cautions"; "no problems".
pub(super) fn tally(problems: &[Problem]) -> String {
    let count = |severity| problems.iter().filter(|problem| problem.code.severity == severity).count();
    let words = |number: usize, word: &str| (number > 0).then(|| counted(number, word));
    let both = [words(count(Severity::Error), "error"), words(count(Severity::Caution), "caution")];
    let said: Vec<String> = both.into_iter().flatten().collect();
    if said.is_empty() { "no problems".to_owned() } else { said.join(", ") }
}

/// A line on standard error that says what is being done; nothing when that is no terminal.
pub(super) struct Progress(ProgressBar);

impl Progress {
    pub(super) fn start() -> Self {
        let bar = ProgressBar::new_spinner();
        if let Ok(style) = ProgressStyle::with_template("{spinner} {msg}") {
            bar.set_style(style);
        }
        bar.enable_steady_tick(std::time::Duration::from_millis(120));
        Self(bar)
    }

    pub(super) fn now(&self, doing: &'static str) {
        self.0.set_message(doing);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.0.finish_and_clear();
    }
}

#[cfg(test)]
mod tests {
    use super::takes_colours;

    #[test]
    fn colours_are_left_out_where_they_are_not_wanted_or_not_known() {
        assert!(takes_colours("", "xterm"));
        assert!(!takes_colours("1", "xterm"));
        assert!(!takes_colours("", "dumb"));
    }
}
