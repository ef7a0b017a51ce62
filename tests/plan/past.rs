//! What has changed when a step begins, held against a plain walk.

use std::collections::BTreeSet;

use asfound::Project;
use asfound::dossier::{Dossier, PartId, Resolved, StepId};
use asfound::estimate::random::Random;
use asfound::plan::past::Past;
use asfound::record::{Step, StepState};
use asfound::source::Sources;

/// 40 steps, each with up to three needs among those before it, some done, some dropped; every second takes a part
/// off and the one after it puts that back.
fn project(seed: u64) -> Project {
    let mut random = Random::new(seed);
    let mut below = move |limit: usize| usize::try_from(random.bits() % limit as u64).expect("below a usize");
    let mut notes = vec![
        ("dossier.yaml".to_owned(), "title: A crane\nunits: metric\n".to_owned()),
        ("parts/old.md".to_owned(), "---\nkind: part\nname: Old\n---\n".to_owned()),
    ];
    for at in 0..40 {
        let needs: BTreeSet<String> =
            (0..below(4)).filter(|_| at > 0).map(|_| format!("s{}", below(at.max(1)))).collect();
        let needs = needs.into_iter().collect::<Vec<_>>().join(", ");
        let state = ["todo", "done", "dropped"][[0, 0, 0, 1, 2][below(5)]];
        let act = if at % 2 == 0 { format!("removes: [p{at}]") } else { format!("refits: [p{}]", at - 1) };
        notes.push((
            format!("steps/s{at}.md"),
            format!("---\nkind: step\ndoes: Do\nneeds: [{needs}]\nstate: {state}\n{act}\n---\n"),
        ));
        notes
            .push((format!("parts/p{at}.md"), "---\nkind: part\nname: P\nreplaces: [old]\n---\n".to_owned()));
    }
    Project::from_sources(Sources::in_memory(notes), Vec::new())
}

/// The steps before this one, looked for one after the other.
fn walked(dossier: &Dossier, id: StepId) -> BTreeSet<StepId> {
    let mut found: BTreeSet<StepId> = BTreeSet::new();
    let mut open = dossier[id].needs.clone();
    while let Some(step) = open.pop() {
        if dossier[step].state != StepState::Dropped && found.insert(step) {
            open.extend(&dossier[step].needs);
        }
    }
    let done = dossier.steps.ids().filter(|step| dossier[*step].state == StepState::Done);
    found.into_iter().chain(done).filter(|step| *step != id).collect()
}

#[test]
fn what_is_before_a_step_is_what_a_walk_finds() {
    let mut counted = 0;
    for seed in 0..20 {
        let project = project(seed);
        let dossier = &project.dossier;
        let past = Past::of(dossier);
        for id in dossier.steps.ids() {
            let (then, walked) = (past.at(id), walked(dossier, id));
            let found: BTreeSet<StepId> = dossier.steps.ids().filter(|step| then.is_after(*step)).collect();
            assert_eq!(found, walked, "seed {seed}");
            counted += found.len();
            for part in dossier.parts.ids() {
                let times = |of: fn(&Step<Resolved>) -> &Vec<PartId>| {
                    walked.iter().filter(|step| of(&dossier[**step]).contains(&part)).count()
                };
                let (off, back) = (times(|step| &step.removes), times(|step| &step.refits));
                assert_eq!(then.is_off(part), off > back, "seed {seed}");
                assert_eq!(then.is_fitted(part), back > 0, "seed {seed}");
            }
        }
    }
    assert!(counted > 1000, "{counted}");
}
