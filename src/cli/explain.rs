//! `explain`: what a problem means and how to mend it.

use super::{Ended, Outcome, Trouble, output};
use crate::diagnostic::{codes, nearest};

/// Explain what a problem means and how to mend it
///
/// CODE is the word in brackets that `check` prints, such as `id-unknown`. Without it, every code is listed.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The code, such as `id-unknown`
    #[arg(value_name = "CODE")]
    code: Option<String>,
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let Some(word) = &arguments.code else {
        let lines: String = codes::ALL.iter().map(|code| listed(code)).collect();
        output::print(&lines)?;
        return Ok(Outcome::Clean);
    };
    let Some(code) = codes::find(word) else {
        let near = nearest(word, codes::ALL.iter().map(|code| code.word));
        let help = near
            .map_or("`asfound explain` lists them all".to_owned(), |near| format!("did you mean `{near}`?"));
        return Err(Trouble(format!("there is no code `{word}`; {help}")));
    };
    output::print(code.page)?;
    Ok(Outcome::Clean)
}

fn listed(code: &codes::Code) -> String {
    let title = code.page.lines().next().unwrap_or_default().trim_start_matches('#').trim();
    let title = title.split_once(": ").map_or(title, |(_, rest)| rest);
    format!("{:<22} {:<8} {title}\n", code.word, code.severity.word())
}
