//! `why`: the whole chain between now and a step, part or question.

use std::path::PathBuf;

use super::next::waiting;
use super::wrap::{hung, width};
use super::{AnswerForm, Ended, Outcome, Trouble, open, output};
use crate::diagnostic::nearest;
use crate::dossier::{Dossier, NoteId, StepId};
use crate::plan::Plan;
use crate::plan::left::{days_left, hours_left};
use crate::plan::readiness::State;
use crate::plan::report::Reasons;
use crate::plan::why::{ChainLine, Doable, Why};
use crate::plan::words::by_id;
use crate::record::QuestionState;

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
    let project = open::project(&arguments.dir)?;
    let (dossier, plan) = (&project.dossier, &project.plan);
    let note = asked_about(dossier, &arguments.id)?;
    let why = plan.why(dossier, note);
    if arguments.form.json() {
        output::print_json(&Reasons::of(dossier, &why))?;
    } else {
        output::print(&Teller { dossier, plan, width: width() }.text(&why))?;
    }
    output::mention_errors(&project);
    Ok(Outcome::Clean)
}

/// The step, part or question of this id.
fn asked_about(dossier: &Dossier, id: &str) -> Result<NoteId, Trouble> {
    match dossier.find(id) {
        Some(note @ (NoteId::Step(_) | NoteId::Part(_) | NoteId::Question(_))) => Ok(note),
        Some(other) => Err(Trouble(format!(
            "`{id}` is {}, and nothing stands between now and that; name a step, a part or a question",
            other.kind().owner()
        ))),
        None => {
            let near = nearest(id, dossier.ids().map(|(id, _)| id));
            let help = near.map_or("`asfound check -v` lists them all".to_owned(), |near| {
                format!("did you mean `{near}`?")
            });
            Err(Trouble(format!("there is no note with the id `{id}`; {help}")))
        }
    }
}

/// Levels deeper than this are not set further in.
const DEEPEST: usize = 12;

struct Teller<'a> {
    dossier: &'a Dossier,
    plan: &'a Plan,
    width: usize,
}

impl Teller<'_> {
    fn text(&self, why: &Why) -> String {
        let mut text = hung("", &format!("{}: {}", self.named(why.note), self.stands(why)), self.width);
        if !why.lines.is_empty() {
            text.push('\n');
        }
        // What each level of the tree hangs under.
        let mut above = vec![why.note];
        for line in &why.lines {
            above.truncate(line.depth + 1);
            text.push_str(&self.told(line, above.last().copied()));
            above.push(line.cause.note);
        }
        if !why.doable.is_empty() {
            text.push_str("\nToday you can:\n");
        }
        text.extend(why.doable.iter().map(|doable| self.doable(doable)));
        text
    }

    /// How far it is, or what is asked: `waiting`; `until it is off`.
    fn stands(&self, why: &Why) -> String {
        let stands = match why.note {
            NoteId::Step(step) => state(self.plan.standing(step).state),
            NoteId::Question(question) if self.dossier[question].state == QuestionState::Settled => "settled",
            NoteId::Question(_) => "open",
            _ if why.lines.is_empty() => "nothing stands in the way",
            NoteId::Part(part) => {
                let takes_off = |line: &ChainLine| match line.cause.note {
                    NoteId::Step(step) => {
                        let step = &self.dossier[step];
                        step.removes.contains(&part) && !step.refits.contains(&part)
                    }
                    _ => false,
                };
                let is_on = why.lines.iter().any(|line| line.depth == 0 && takes_off(line));
                if is_on {
                    "what comes before it can come off"
                } else {
                    "what comes before it can be in place"
                }
            }
            _ => "",
        };
        stands.to_owned()
    }

    /// A cause on two lines: what it is and how far; what it has to do with what is above it, and the note that says so.
    fn told(&self, line: &ChainLine, above: Option<NoteId>) -> String {
        let cause = &line.cause;
        let indent = "  ".repeat(line.depth.min(DEEPEST));
        let clause = format!(
            "{} (says {})",
            cause.clause(self.dossier, by_id(self.dossier)),
            self.dossier.head(cause.says).id
        );
        if above == Some(cause.note) {
            return hung(&format!("{indent}- "), &clause, self.width);
        }
        let stands = line.state.map(|stands| format!(", {}", state(stands))).unwrap_or_default();
        let again = if line.told_above { "; see above" } else { "" };
        let head = format!("{}{stands}{again}", self.named(cause.note));
        hung(&format!("{indent}- "), &head, self.width) + &hung(&format!("{indent}  "), &clause, self.width)
    }

    fn doable(&self, doable: &Doable) -> String {
        let place = match doable.note {
            NoteId::Step(step) if !doable.in_the_notes => self.place(step),
            _ => String::new(),
        };
        hung("- ", &format!("{}: {}{place}", self.named(doable.note), doable.what), self.width)
    }

    /// Where a step is done, for how many hours that are left, and what passes after them.
    fn place(&self, id: StepId) -> String {
        let place =
            self.plan.placement(id).place.map(|shop| format!(" at {}", self.dossier[shop].name_after_at()));
        let hours = hours_left(self.dossier, id).map(|hours| format!(", {:.1} h", hours.likely));
        let waits = waiting(days_left(self.dossier, id, self.plan.day_zero).likely);
        place.into_iter().chain(hours).chain(waits.map(|waits| format!(", then {waits}"))).collect()
    }

    /// The name first, then the id.
    fn named(&self, note: NoteId) -> String {
        format!("{} [{}]", self.dossier.title(note), self.dossier.head(note).id)
    }
}

fn state(state: State) -> &'static str {
    match state {
        State::Held => "held at a point of no return",
        State::Unplaced => "no shop found",
        State::Doing => "under way",
        State::Ready => "ready",
        State::Waiting => "waiting",
        State::Done => "done",
        State::Dropped => "given up",
    }
}
