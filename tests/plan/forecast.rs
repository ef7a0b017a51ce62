//! The forecast with limited hands.

use asfound::estimate::Estimate;
use asfound::plan::forecast::forecast;
use asfound::plan::network::{Activity, ActivityKind, Edge, Network, Resource};
use asfound::plan::schedule::critical_path::critical_path;
use proptest::prelude::*;

use super::network::{needs, place, step};

#[test]
fn one_pair_of_hands_takes_one_step_after_the_other() {
    let steps = vec![step("a", 8.0, 0), step("b", 8.0, 0), step("c", 8.0, 1)];
    let places = vec![place("shed", 8.0), place("yard", 16.0)];
    let found = forecast(&Network::new(steps, places, Vec::new()));
    assert_eq!(found.days, Estimate::exact(14.0));
    assert_eq!(found.slots[2].finish, 3.5);
}

/// What is late for its own day can't slip, and yet the end does not wait for it.
#[test]
fn a_day_that_something_is_due_does_not_move_the_end() {
    let mut pump = step("pump", 8.0, 1);
    pump.due = Some(7.0);
    let steps = vec![step("turn", 80.0, 0), pump];
    let found = forecast(&Network::new(steps, vec![place("shed", 8.0), place("yard", 8.0)], Vec::new()));
    assert_eq!((found.slots[1].float, found.slots[1].to_end), (0.0, 63.0));
    assert!(found.slots[0].moves_the_end() && !found.slots[1].moves_the_end());
}

#[test]
fn a_wait_costs_no_hands() {
    let mut soak = step("soak", 8.0, 0);
    soak.passes = Estimate::exact(7.0);
    let steps = vec![soak, step("after", 8.0, 0), step("beside", 8.0, 0)];
    let found = forecast(&Network::new(steps, vec![place("shed", 8.0)], vec![needs(0, 1)]));
    assert_eq!(found.days, Estimate::exact(21.0));
    assert_eq!((found.slots[2].start, found.slots[1].start), (7.0, 14.0));
}

#[test]
fn the_ends_are_those_of_all_times_low_and_all_high() {
    let mut cut = step("cut", 8.0, 0);
    cut.hands_on = Estimate::new(4.0, 8.0, 16.0);
    let mut order = step("bush", 0.0, 0);
    order =
        Activity { kind: ActivityKind::Order, hands: None, passes: Estimate::new(5.0, 6.0, 20.0), ..order };
    let steps = vec![cut, order, step("fit", 8.0, 0)];
    let found = forecast(&Network::new(steps, vec![place("shed", 8.0)], vec![needs(0, 2), needs(1, 2)]));
    assert_eq!(found.days, Estimate::new(5.0 + 7.0, 14.0, 20.0 + 7.0));
    assert!(found.days.low <= found.spread.p10 && found.spread.p90 <= found.days.high);
}

#[test]
fn nothing_to_do_takes_no_time() {
    let found = forecast(&Network::default());
    assert_eq!(found.days, Estimate::ZERO);
}

fn networks() -> impl Strategy<Value = Network> {
    let activity = (0..4_u8, 0..4_u8, 0..3_u8, 0..3_usize);
    (prop::collection::vec(activity, 1..14), prop::collection::vec((0..14_usize, 0..14_usize), 0..24))
        .prop_map(|(activities, edges)| {
            let count = activities.len();
            let activities = activities.into_iter().enumerate().map(|(index, (hours, more, wait, hands))| {
                let mut activity = step(&format!("s{index}"), 0.0, hands);
                activity.hands_on =
                    Estimate::new(f64::from(hours), f64::from(hours), f64::from(hours + more));
                activity.passes = Estimate::exact(f64::from(wait));
                activity
            });
            let edges = edges.into_iter().filter(|(before, after)| before < after && *after < count);
            let edges: Vec<Edge> = edges.map(|(before, after)| needs(before, after)).collect();
            let places: Vec<Resource> = ["a", "b", "c"].map(|id| place(id, 7.0)).to_vec();
            Network::new(activities.collect(), places, edges)
        })
}

proptest! {
    /// No pair of hands is in two places, nothing starts early, and the end lies between its bounds.
    #[test]
    fn the_forecast_keeps_the_rules(network in networks()) {
        let found = forecast(&network);
        let count = network.activities().len();
        for node in 0..count {
            for &next in network.precedence().after(node) {
                prop_assert!(found.slots[node].finish <= found.slots[next].start + 1e-9);
            }
            for other in 0..node {
                let (own, theirs) = (&network.activities()[node], &network.activities()[other]);
                let both_take_hands = own.hands_on.likely > 0.0 && theirs.hands_on.likely > 0.0;
                let (one, two) = (found.slots[node], found.slots[other]);
                let apart = one.hands_off <= two.start + 1e-9 || two.hands_off <= one.start + 1e-9;
                prop_assert!(own.hands != theirs.hands || !both_take_hands || apart, "{one:?} {two:?}");
            }
        }
        let likely: Vec<f64> = (0..count).map(|node| network.days(node).likely).collect();
        let unlimited = critical_path(network.precedence(), &likely).length;
        prop_assert!(unlimited <= found.days.likely + 1e-9);
        prop_assert!(found.at_least <= found.days.likely + 1e-9);
        prop_assert!(found.days.low <= found.days.likely && found.days.likely <= found.days.high);
        prop_assert!(found.days.low <= found.spread.p10 + 1e-9 && found.spread.p90 <= found.days.high + 1e-9);
    }

    /// With one pair of hands and no waits nothing can be gained or lost: the end is the sum of all work.
    #[test]
    fn one_pair_of_hands_is_never_idle(hours in prop::collection::vec(0..9_u8, 1..20)) {
        let steps: Vec<_> = hours.iter().map(|&hours| step("s", f64::from(hours), 0)).collect();
        let total: f64 = hours.iter().map(|&hours| f64::from(hours)).sum();
        let edges = (1..steps.len()).filter(|index| index % 3 == 0).map(|index| needs(index / 2, index)).collect();
        let found = forecast(&Network::new(steps, vec![place("shed", 7.0)], edges));
        prop_assert!((found.days.likely - total).abs() < 1e-9);
    }
}

proptest! {
    /// First days are kept, and floats lead neither past the end nor past a day that can be kept; each step at its latest
    /// start, alone, moves no finish past either.
    #[test]
    fn windows_are_kept(
        network in networks(),
        windows in prop::collection::vec((0..12_u8, prop::option::of(1..40_u8)), 14)
    ) {
        let mut activities = network.activities().to_vec();
        for (activity, (release, due)) in activities.iter_mut().zip(windows) {
            (activity.release, activity.due) = (f64::from(release), due.map(f64::from));
        }
        let network = Network::new(activities, network.places().to_vec(), network.edges().to_vec());
        let found = forecast(&network);
        for (activity, slot) in network.activities().iter().zip(&found.slots) {
            prop_assert!(slot.start + 1e-9 >= activity.release);
            prop_assert!(slot.float >= 0.0 && slot.free_float >= 0.0 && slot.free_float <= slot.float + 1e-9);
            prop_assert!(slot.finish + slot.float <= found.days.likely + 1e-9);
            if let Some(due) = activity.due {
                prop_assert!(slot.finish > due || slot.finish + slot.float <= due + 1e-9);
            }
        }
        for node in 0..network.activities().len() {
            for &next in network.precedence().after(node) {
                prop_assert!(found.slots[node].finish <= found.slots[next].start + 1e-9);
            }
        }
        let last = found.path.last().map_or(0.0, |&node| found.slots[node].finish);
        prop_assert!((last - found.days.likely).abs() < 1e-9);
    }
}
