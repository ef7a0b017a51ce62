//! `why`: the whole chain between now and a step, part or question.

use std::fmt::Write;

use super::{AnswerForm, Ended, Outcome, Trouble, output};
use crate::diagnostic::nearest;
use crate::dossier::Dossier;
use crate::plan::report::Reasons;
use crate::plan::why::{Line, Why};
use std::path::PathBuf;

/// Tell the whole chain between now and a step, part or question, down to what can be done today
///
/// For a part: until it is off, if a step takes it off and is not done; else until it is in place.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The id of a step, part or question
    #[arg(value_name = "ID")]
    id: String,
    /// The project's folder, which holds dossier.yaml
    #[arg(value_name = "DIR", default_value = ".")]
    dir: PathBuf,
    #[command(flatten)]
    form: AnswerForm,
}

pub(super) fn run(arguments: &Arguments) -> Ended {
    let project = crate::Project::open(&arguments.dir)?;
    let dossier = &project.dossier;
    let Some(note) = dossier.find(&arguments.id) else {
        let near = nearest(&arguments.id, dossier.ids().map(|(id, _)| id));
        let help = near.map_or("`asfound check -v` lists them all".to_owned(), |near| format!("did you mean `{near}`?"));
        return Err(Trouble(format!("there is no note with the id `{}`; {help}", arguments.id)));
    };
    let why = project.plan.why(dossier, note);
    if arguments.form.json() {
        output::print_json(&Reasons::of(dossier, &why))?;
    } else {
        output::print(&text(dossier, &why))?;
    }
    output::mention_errors(&project);
    Ok(Outcome::Clean)
}

fn text(dossier: &Dossier, why: &Why) -> String {
    let mut text = format!("{}: {}\n", dossier.head(why.note).id, dossier.title(why.note));
    if why.lines.is_empty() {
        text.push_str("Nothing stands in the way.\n");
    }
    for line in &why.lines {
        let _ = writeln!(text, "{}", told(dossier, line));
    }
    if !why.doable.is_empty() {
        text.push_str("\nToday you can\n");
        for doable in &why.doable {
            let (id, title) = (&dossier.head(doable.note).id, dossier.title(doable.note));
            let _ = writeln!(text, "  {id} ({title}): {}", doable.what);
        }
    }
    text
}

/// A line of the tree, with the note that says so.
fn told(dossier: &Dossier, line: &Line) -> String {
    let indent = "  ".repeat(line.depth + 1);
    let state = line.state.map(|state| format!(", {}", state.word())).unwrap_or_default();
    let above = if line.told_above { "; told above" } else { "" };
    format!("{indent}because {}{state} [{}]{above}", line.cause.why, dossier.head(line.cause.says).id)
}
