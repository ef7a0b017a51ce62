//! Fewest moves against trying every order.

use asfound::plan::precedence::Precedence;
use asfound::plan::trips::{EXACT_STEPS, Itinerary, fewest_moves};
use proptest::prelude::*;

/// The fewest visits over every order that keeps the edges, found by trying them all.
fn by_brute_force(precedence: &Precedence, places: &[Option<usize>]) -> usize {
    type Places = [Option<usize>];
    fn go(precedence: &Precedence, places: &Places, done: &mut Vec<usize>, visits: usize, best: &mut usize) {
        if done.len() == places.len() {
            *best = visits.min(*best);
            return;
        }
        for step in 0..places.len() {
            let free = precedence.before(step).iter().all(|before| done.contains(before));
            if done.contains(&step) || !free {
                continue;
            }
            let last = done.iter().rev().find_map(|&step| places[step]);
            let moves = places[step].is_some() && places[step] != last;
            done.push(step);
            go(precedence, places, done, visits + usize::from(moves), best);
            done.pop();
        }
    }
    let mut best = usize::MAX;
    go(precedence, places, &mut Vec::new(), 0, &mut best);
    best
}

fn assert_keeps_the_rules(precedence: &Precedence, places: &[Option<usize>], found: &Itinerary) {
    let order: Vec<usize> = found.visits.iter().flat_map(|visit| visit.steps.clone()).collect();
    let mut sorted = order.clone();
    sorted.sort_unstable();
    assert_eq!(sorted, (0..places.len()).filter(|&step| places[step].is_some()).collect::<Vec<_>>());
    let rank = |step: usize| order.iter().position(|&each| each == step);
    for step in 0..places.len() {
        for &next in precedence.after(step) {
            assert!(rank(step).is_none() || rank(next).is_none() || rank(step) < rank(next));
        }
    }
    for (index, visit) in found.visits.iter().enumerate() {
        assert!(visit.steps.iter().all(|&step| places[step] == Some(visit.place)));
        assert!(index == 0 || found.visits[index - 1].place != visit.place);
    }
}

fn acyclic(steps: usize, edges: &[(usize, usize)]) -> Precedence {
    let edges: Vec<_> =
        edges.iter().copied().filter(|(before, after)| before < after && *after < steps).collect();
    Precedence::untangle(steps, &edges).precedence
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// Up to nine steps: as few visits as the best of all orders.
    #[test]
    fn as_few_as_the_best_of_all_orders(
        places in prop::collection::vec(prop::option::weighted(0.9, 0..4_usize), 1..=9),
        edges in prop::collection::vec((0..9_usize, 0..9_usize), 6..30),
    ) {
        let precedence = acyclic(places.len(), &edges);
        let found = fewest_moves(&precedence, &places, Some(0));
        assert_keeps_the_rules(&precedence, &places, &found);
        prop_assert!(found.proven);
        prop_assert_eq!(found.visits.len(), by_brute_force(&precedence, &places));
    }

    /// Up to the stated size every result is proven.
    #[test]
    fn proven_to_the_stated_size(
        places in prop::collection::vec((0..7_usize).prop_map(Some), EXACT_STEPS..=EXACT_STEPS),
        edges in prop::collection::vec((0..EXACT_STEPS, 0..EXACT_STEPS), 0..60),
    ) {
        let precedence = acyclic(places.len(), &edges);
        let found = fewest_moves(&precedence, &places, None);
        assert_keeps_the_rules(&precedence, &places, &found);
        prop_assert!(found.proven);
    }
}

#[test]
fn begins_at_home_where_that_costs_nothing() {
    let precedence = Precedence::untangle(2, &[]).precedence;
    for home in [0, 1] {
        let found = fewest_moves(&precedence, &[Some(0), Some(1)], Some(home));
        assert_eq!(found.visits.iter().map(|visit| visit.place).collect::<Vec<_>>(), [home, 1 - home]);
    }
}

#[test]
fn a_large_job_is_ordered_and_says_whether_it_is_proven() {
    let places: Vec<Option<usize>> = (0..400).map(|step| Some((step * 7 + step / 5) % 6)).collect();
    let edges: Vec<_> = (0..400).flat_map(|step| [(step, step + 11), (step, step + 17)]).collect();
    let precedence = acyclic(400, &edges);
    let found = fewest_moves(&precedence, &places, Some(0));
    assert_keeps_the_rules(&precedence, &places, &found);
    let unordered = (1..400).filter(|&step| places[step] != places[step - 1]).count() + 1;
    assert!(found.visits.len() * 3 < unordered, "{} of {unordered}", found.visits.len());
}
