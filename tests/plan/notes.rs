//! A project typed into a test.

use asfound::Project;
use asfound::diagnostic::Problem;
use asfound::dossier::{Dossier, NoteId, StepId};
use asfound::plan::Plan;
use asfound::source::Sources;

/// What stands in dossier.yaml unless a test writes its own.
const HOME_PAGE: &str =
    "title: A crane\nhome: shed\nhours_per_week: 8\nstart: 2027-03-01\nmoney: GBP\nton: long\n";
const SHED: &str = "kind: shop\nname: The shed\nhas: {press: 12 tonf, lift: 500 lb}\nprocesses: [fitting]\n";

/// A project of notes, each given by its id and its front matter; a shed that is home is among them unless written.
/// Circles of steps are let pass; any other error is a slip in the test.
pub(crate) fn project(notes: &[(&str, &str)]) -> Project {
    let given = |wanted: &str| notes.iter().any(|(id, _)| *id == wanted);
    let mut texts: Vec<(String, String)> = notes
        .iter()
        .map(|(id, text)| match *id {
            "dossier.yaml" => ((*id).to_owned(), (*text).to_owned()),
            id => (format!("{id}.md"), format!("---\n{}\n---\n", text.trim())),
        })
        .collect();
    if !given("dossier.yaml") {
        texts.push(("dossier.yaml".to_owned(), HOME_PAGE.to_owned()));
        if !given("shed") {
            texts.push(("shed.md".to_owned(), format!("---\n{SHED}---\n")));
        }
    }
    texts.sort();
    let project = Project::from_sources(Sources::in_memory(texts), Vec::new());
    let slip = |problem: &&Problem| problem.is_error() && problem.code.word != "step-circle";
    assert_eq!(
        project.problems().iter().find(slip).map(|problem| &problem.message),
        None,
        "a slip in the test's notes"
    );
    project
}

/// The plan of a project of notes.
pub(crate) fn planned(notes: &[(&str, &str)]) -> (Project, Plan) {
    let project = project(notes);
    let plan = Plan::of(&project.dossier, &project.worked.makings(&project.dossier));
    (project, plan)
}

/// The step of this id.
pub(crate) fn step(dossier: &Dossier, id: &str) -> StepId {
    match dossier.find(id) {
        Some(NoteId::Step(step)) => step,
        other => panic!("{id} is {other:?}"),
    }
}

/// The state of each step and the words of its causes, as lines.
pub(crate) fn told(project: &Project, plan: &Plan, ids: &[&str]) -> Vec<String> {
    let line = |id: &&str| {
        let standing = plan.standing(step(&project.dossier, id));
        let causes: Vec<String> =
            standing.causes.iter().map(|cause| cause.sentence(&project.dossier)).collect();
        match causes[..] {
            [] => format!("{id}: {}", standing.state.word()),
            _ => format!("{id}: {}: {}", standing.state.word(), causes.join("; ")),
        }
    };
    ids.iter().map(line).collect()
}
