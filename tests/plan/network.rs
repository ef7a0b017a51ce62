//! Activities, reasons and circles in words.

use asfound::estimate::Estimate;
use asfound::estimate::random::Random;
use asfound::plan::network::{Activity, ActivityKind, Edge, Network, Reason, Resource};

pub(super) fn step(id: &str, hours: f64, hands: usize) -> Activity {
    Activity {
        id: id.to_owned(),
        kind: ActivityKind::Step,
        begun: false,
        hands_on: Estimate::exact(hours),
        passes: Estimate::ZERO,
        release: 0.0,
        due: None,
        hands: Some(hands),
        place: Some(hands),
    }
}

pub(super) fn place(id: &str, hours_per_week: f64) -> Resource {
    Resource { id: id.to_owned(), hours_per_week }
}

pub(super) fn needs(before: usize, after: usize) -> Edge {
    Edge { before, after, reason: Reason::Needs }
}

#[test]
fn a_circle_is_told_with_the_reason_of_each_edge() {
    let steps = ["pull-post", "lift-cap", "free-drain"].map(|id| step(id, 1.0, 0)).to_vec();
    let trapped = Reason::Trapped { part: "post".to_owned(), by: "cap".to_owned() };
    let refit = Reason::Refit { part: "drain".to_owned() };
    let edges = vec![
        Edge { before: 1, after: 0, reason: trapped },
        Edge { before: 2, after: 1, reason: refit },
        needs(0, 2),
    ];
    let network = Network::new(steps, vec![place("shed", 8.0)], edges);
    let circle = network.circle_in_words(&network.circles()[0]);
    let told: Vec<(&str, &str)> = circle.iter().map(|(id, why)| (id.as_str(), why.as_str())).collect();
    assert_eq!(
        told,
        [
            ("pull-post", "free-drain needs pull-post"),
            ("free-drain", "lift-cap puts back drain, which free-drain takes off"),
            ("lift-cap", "pull-post comes after lift-cap, which takes off cap: it traps post"),
        ]
    );
}

#[test]
fn a_step_that_needs_itself_is_a_circle_of_one_and_the_rest_is_planned() {
    let steps = ["a", "b"].map(|id| step(id, 1.0, 0)).to_vec();
    let network = Network::new(steps, vec![place("shed", 8.0)], vec![needs(0, 0), needs(0, 1)]);
    assert_eq!(network.circles(), [vec![0]]);
    assert_eq!(network.set_aside(), [0]);
    assert_eq!(network.precedence().order(), [0, 1]);
}

#[test]
fn days_follow_the_pace_of_the_hands() {
    let mut soak = step("soak", 4.0, 0);
    soak.passes = Estimate::new(1.0, 2.0, 3.0);
    let network = Network::new(vec![soak], vec![place("shed", 8.0)], Vec::new());
    assert_eq!(network.hands_on_days(0), Estimate::exact(3.5));
    assert_eq!(network.days(0), Estimate::new(4.5, 5.5, 6.5));
}

/// Every reason says itself in a sentence that names both ends.
#[test]
fn reasons_in_words() {
    let part = || "bush".to_owned();
    let by = || "collar".to_owned();
    let all = [
        (Reason::Needs, "later needs earlier"),
        (Reason::Settles, "earlier settles later"),
        (Reason::HangsOn, "later hangs on earlier"),
        (Reason::Bought { part: part() }, "later uses bush, which has to be bought"),
        (Reason::Made { part: part() }, "later uses bush, which earlier makes"),
        (Reason::MadeToWorkOn { part: part() }, "later works on bush, which earlier makes"),
        (
            Reason::Trapped { part: part(), by: by() },
            "later comes after earlier, which takes off collar: it traps bush",
        ),
        (
            Reason::PutBack { part: part(), by: by() },
            "later comes after earlier, which puts in bush: collar would trap it",
        ),
        (Reason::Refit { part: part() }, "later puts back bush, which earlier takes off"),
        (
            Reason::Replaces { part: part(), old: by() },
            "later puts in bush in place of collar, which earlier takes off",
        ),
        (
            Reason::OffToWork { part: part(), with: None },
            "later works on bush away from the machine, and earlier takes it off",
        ),
        (
            Reason::OffToWork { part: part(), with: Some(by()) },
            "later works on bush away from the machine, and earlier takes off collar with it",
        ),
        (
            Reason::Worked { part: part(), with: None },
            "later puts back bush, which earlier works on away from the machine",
        ),
        (
            Reason::Worked { part: part(), with: Some(by()) },
            "later puts back collar with bush, which earlier works on away from the machine",
        ),
    ];
    for (reason, sentence) in all {
        let edge = Edge { before: 0, after: 1, reason };
        assert_eq!(edge.sentence("earlier", "later").to_string(), sentence);
    }
}

/// SplitMix64, seed 1234567: the first outputs as printed with the public reference implementation (from memory).
#[test]
fn the_generator_of_chance_is_the_published_one() {
    let mut random = Random::new(1_234_567);
    assert_eq!(
        [random.bits(), random.bits(), random.bits()],
        [6_457_827_717_110_365_317, 3_203_168_211_198_807_973, 9_817_491_932_198_370_423]
    );
}

/// Nothing recurses by the length of a chain, and a circle through everything is one circle.
#[test]
fn ten_thousand_steps_in_a_chain_and_in_a_circle() {
    let steps = || (0..10_000).map(|index| step(&format!("s{index}"), 1.0, 0)).collect::<Vec<_>>();
    let chain = || (1..10_000).map(|after| needs(after - 1, after));
    let network = Network::new(steps(), vec![place("shed", 8.0)], chain().collect());
    assert!(network.circles().is_empty());
    assert_eq!(network.precedence().order().last(), Some(&9_999));
    let network = Network::new(steps(), vec![place("shed", 8.0)], chain().chain([needs(9_999, 0)]).collect());
    assert_eq!((network.circles().len(), network.circles()[0].len()), (1, 10_000));
    assert_eq!(network.set_aside(), [9_999]);
}
