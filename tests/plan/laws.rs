//! Doing whatever is ready, again and again, never breaks a rule of the machine and never gets stuck without a reason.

use std::collections::BTreeSet;

use asfound::plan::readiness::State;
use proptest::prelude::*;

use super::notes::{planned, step};

/// A machine of a few parts, each trapped by some others, taken off by at most one step and put back by at most one.
#[derive(Clone, Debug)]
struct Machine {
    trapped_by: Vec<BTreeSet<usize>>,
    needs: Vec<BTreeSet<usize>>,
    removes: Vec<Option<usize>>,
    refits: Vec<Option<usize>>,
}

const PARTS: usize = 5;
const STEPS: usize = 8;

fn machines() -> impl Strategy<Value = Machine> {
    let traps = prop::collection::vec(prop::collection::btree_set(0..PARTS, 0..3), PARTS);
    let needs = prop::collection::vec(prop::collection::btree_set(0..STEPS, 0..3), STEPS);
    let step_of = || prop::collection::vec(prop::option::of(0..STEPS), PARTS);
    (traps, needs, step_of(), step_of()).prop_map(|(trapped_by, needs, removes, refits)| Machine {
        trapped_by: only(trapped_by, |part, trap| trap < part),
        needs: only(needs, |step, need| need < step),
        removes,
        refits,
    })
}

fn only(sets: Vec<BTreeSet<usize>>, keep: impl Fn(usize, usize) -> bool) -> Vec<BTreeSet<usize>> {
    let kept =
        |(index, set): (usize, BTreeSet<usize>)| set.into_iter().filter(|&each| keep(index, each)).collect();
    sets.into_iter().enumerate().map(kept).collect()
}

impl Machine {
    fn parts(&self, of: &[Option<usize>], step: usize) -> Vec<usize> {
        (0..PARTS).filter(|&part| of[part] == Some(step)).collect()
    }

    fn notes(&self, done: &BTreeSet<usize>) -> Vec<(String, String)> {
        let list = |letter: char, items: &mut dyn Iterator<Item = usize>| {
            items.map(|item| format!("{letter}{item}")).collect::<Vec<_>>().join(", ")
        };
        let parts = (0..PARTS).map(|part| {
            let traps = list('p', &mut self.trapped_by[part].iter().copied());
            (format!("p{part}"), format!("kind: part\nname: P\ndisposition: reuse\ntrapped_by: [{traps}]"))
        });
        let steps = (0..STEPS).map(|step| {
            let needs = list('s', &mut self.needs[step].iter().copied());
            let removes = list('p', &mut self.parts(&self.removes, step).into_iter());
            let refits = list('p', &mut self.parts(&self.refits, step).into_iter());
            let state = if done.contains(&step) { "done" } else { "todo" };
            let keys = format!("needs: [{needs}]\nremoves: [{removes}]\nrefits: [{refits}]\nstate: {state}");
            (format!("s{step}"), format!("kind: step\ndoes: S\n{keys}"))
        });
        parts.chain(steps).collect()
    }

    /// What is off after these steps, in the order they were done.
    fn do_step(&self, step: usize, off: &mut BTreeSet<usize>) -> Result<(), String> {
        let (removed, refitted) = (self.parts(&self.removes, step), self.parts(&self.refits, step));
        off.extend(removed.iter().copied());
        for part in removed {
            if let Some(trap) = self.trapped_by[part].iter().find(|trap| !off.contains(trap)) {
                return Err(format!("s{step} takes off p{part} while p{trap} traps it"));
            }
        }
        off.retain(|part| !refitted.contains(part));
        Ok(())
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn doing_what_is_ready_keeps_the_rules_and_comes_to_an_end(machine in machines()) {
        let (mut done, mut off) = (BTreeSet::new(), BTreeSet::new());
        loop {
            let notes = machine.notes(&done);
            let notes: Vec<(&str, &str)> = notes.iter().map(|(id, text)| (id.as_str(), text.as_str())).collect();
            let (project, plan) = planned(&notes);
            let state = |index: usize| plan.standing(step(&project.dossier, &format!("s{index}"))).state;
            for index in 0..STEPS {
                let causes = &plan.standing(step(&project.dossier, &format!("s{index}"))).causes;
                prop_assert_eq!(state(index) == State::Waiting, !causes.is_empty());
            }
            let Some(next) = (0..STEPS).find(|&index| state(index) == State::Ready) else {
                let stuck = done.len() < STEPS;
                let told = !plan.graph.network.circles().is_empty() || !plan.graph.loose_traps.is_empty();
                prop_assert!(!stuck || told, "stuck after {done:?} without a reason");
                break;
            };
            if let Err(broken) = machine.do_step(next, &mut off) {
                prop_assert!(false, "{}", broken);
            }
            done.insert(next);
        }
    }
}
