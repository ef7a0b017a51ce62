//! The sequence: ten thousand steps with thirty thousand edges, and project instances of the size people have.

use asfound::estimate::Estimate;
use asfound::estimate::random::Random;
use asfound::plan::forecast::forecast;
use asfound::plan::network::{Activity, ActivityKind, Edge, Network, Reason, Resource};
use asfound::plan::schedule::critical_path::critical_path;
use asfound::plan::trips::fewest_moves;

fn main() {
    divan::main();
}

/// Circles looked for, early and late times, forecast with simulation, trips: all that planning takes.
#[divan::bench(args = [60, 1_000, 10_000])]
fn plan_whole(bencher: divan::Bencher, steps: usize) {
    bencher.with_inputs(|| parts(steps)).bench_local_values(|(activities, places, edges)| {
        let network = Network::new(activities, places, edges);
        let days: Vec<f64> = (0..steps).map(|node| network.days(node).likely).collect();
        let at: Vec<Option<usize>> = network.activities().iter().map(|activity| activity.place).collect();
        let times = critical_path(network.precedence(), &days);
        (times, forecast(&network), fewest_moves(network.precedence(), &at, Some(0)))
    });
}

#[divan::bench(args = [60, 1_000, 10_000])]
fn untangle(bencher: divan::Bencher, steps: usize) {
    bencher
        .with_inputs(|| parts(steps))
        .bench_local_values(|(activities, places, edges)| Network::new(activities, places, edges));
}

/// A project with three edges a step, each to one of the next two hundred, and six shops.
fn parts(steps: usize) -> (Vec<Activity>, Vec<Resource>, Vec<Edge>) {
    let mut random = Random::new(1912);
    let mut below = move |limit: usize| usize::try_from(random.bits() % limit as u64).expect("below a usize");
    let hours = [1.0, 2.0, 3.0, 5.0, 8.0];
    let activities = (0..steps).map(|index| {
        let (likely, shop) = (hours[below(hours.len())], below(6));
        Activity {
            id: format!("step-{index}"),
            kind: ActivityKind::Step,
            begun: false,
            hands_on: Estimate::new(likely * 0.7, likely, likely * 2.0),
            passes: if below(5) == 0 { Estimate::exact(3.0) } else { Estimate::ZERO },
            release: 0.0,
            due: None,
            hands: Some(shop),
            place: Some(shop),
        }
    });
    let activities = activities.collect();
    let place = |index: usize| Resource { id: format!("shop-{index}"), hours_per_week: 8.0 };
    let mut edge = || {
        let before = below(steps - 1);
        Edge { before, after: before + 1 + below((steps - before - 1).min(200)), reason: Reason::Needs }
    };
    let edges = (0..3 * steps).map(|_| edge()).collect();
    (activities, (0..6).map(place).collect(), edges)
}
