//! What a step lifts and what has to fit, held against its own words and against the shops.

use asfound::bill::mass::weigh;

use super::notes::{planned, step};

fn cautions(notes: &[(&str, &str)]) -> Vec<String> {
    let (project, plan) = planned(notes);
    plan.problems(&project.dossier).into_iter().map(|problem| problem.message).collect()
}

const POST: (&str, &str) =
    ("post", "kind: part\nname: Post\nmass: 2000 lb\nenvelope: 14 ft x 10 in x 10 in\ndisposition: reuse");
const YARD: (&str, &str) = ("yard", "kind: shop\nname: The yard\nhas: {lift: 100 lb, length: 4 ft}");

/// A part of 2000 lb and 14 ft is not ready to be lifted by a lift of 50 lb in a shop of 100 lb and 4 ft.
#[test]
fn a_heavy_part_in_a_small_shop_is_not_ready() {
    for keys in ["parts: [post]", "removes: [post]", "refits: [post]"] {
        let lift = format!("kind: step\ndoes: Lift it\n{keys}\nat: yard\ncalls_for: {{lift: 50 lb}}");
        let notes = [POST, YARD, ("lift", &lift)];
        let (project, plan) = planned(&notes);
        let standing = plan.standing(step(&project.dossier, "lift"));
        assert_eq!(standing.state.word(), "unplaced", "{keys}");
        let why: Vec<String> = standing.causes.iter().map(|cause| cause.sentence(&project.dossier)).collect();
        assert!(
            why.iter().any(|why| why.contains("lift: needs 2000 lb, best known 500 lb (shed)")),
            "{why:?}"
        );
        let told = cautions(&notes);
        assert!(
            told.contains(&"`lift` calls for lift 50 lb, but `post` weighs 2000 lb".to_owned()),
            "{told:?}"
        );
        assert!(
            told.contains(
                &"`yard` can't do `lift`: lift: needs 2000 lb, has 100 lb; length: needs 14 ft, has 4 ft"
                    .to_owned()
            ),
            "{told:?}"
        );
    }
}

/// The upper end of the uncertainty counts, as a mass against a lift given as a force too.
#[test]
fn the_upper_end_of_a_doubtful_mass_counts() {
    let post = ("post", "kind: part\nname: Post\nmass: 2000 lb ± 50 lb\ndisposition: reuse");
    let with = |lift: &str| {
        let lift = format!("kind: step\ndoes: Lift it\nremoves: [post]\ncalls_for: {{lift: {lift}}}");
        cautions(&[post, ("lift", &lift)])
    };
    assert_eq!(with("2040 lb"), ["`lift` calls for lift 2040 lb, but `post` weighs 2000 lb ± 50 lb"]);
    assert_eq!(with("2040 lbf").len(), 1);
    assert!(with("2050 lb").is_empty() && with("2050 lbf").is_empty());
}

/// An assembly weighs what is within it, ends added to ends, without what is off by then; old and new count once.
#[test]
fn an_assembly_weighs_what_is_still_within_it() {
    let parts = [
        ("crab", "kind: part\nname: Crab\ndisposition: rework"),
        ("drum", "kind: part\nname: Drum\nwithin: crab\nmass: 300 lb ± 10 lb\ndisposition: reuse"),
        (
            "frame",
            "kind: part\nname: Frame\nwithin: crab\nquantity: 2\nmass: 100 lb ± 5 lb\ndisposition: reuse",
        ),
        ("old", "kind: part\nname: Old pawl\nwithin: crab\nmass: 4 lb\ndisposition: scrap"),
        ("new", "kind: part\nname: New pawl\nwithin: crab\nmass: 5 lb\ndisposition: make\nreplaces: old"),
    ];
    let lifted = |state: &str, needs: &str| {
        let off = format!(
            "kind: step\ndoes: Take the drum out\nremoves: [drum]\ncalls_for: {{lift: 320 lb}}\nstate: {state}"
        );
        let lift = format!(
            "kind: step\ndoes: Lift it\nremoves: [crab]\nneeds: [{needs}]\ncalls_for: {{lift: 100 lb}}"
        );
        let mut notes = parts.to_vec();
        notes.extend([("drum-off", off.as_str()), ("lift", lift.as_str())]);
        cautions(&notes).into_iter().find(|told| told.starts_with("`lift` calls")).expect("it is too little")
    };
    let told = |mass: &str| format!("`lift` calls for lift 100 lb, but `crab` weighs {mass}");
    assert_eq!(lifted("todo", ""), told("219.9 kg to 238.2 kg"));
    assert_eq!(lifted("todo", "drum-off"), told("88.4 kg to 97.6 kg"));
    assert_eq!(lifted("done", ""), told("88.4 kg to 97.6 kg"));
    let (project, _) = planned(&parts);
    let weight = weigh(&project.dossier)[0];
    let pounds = |kilograms: f64| (kilograms / 0.453_592_37 * 1e6).round() / 1e6;
    let (low, high) = weight.each_ends_kg.expect("it is known");
    assert_eq!((pounds(low), pounds(high), pounds(weight.each_kg.unwrap())), (485.0, 525.0, 505.0));
}

/// What hands can lift asks for nothing; what is worked on where it stands is not lifted; at another's shop it is.
#[test]
fn what_stays_where_it_stands_is_not_lifted() {
    let work = |at: &str| format!("kind: step\ndoes: Paint it\nparts: [post]\nat: {at}");
    let keeper = ("meadow", "kind: shop\nname: The meadow\nhands: keeper\nhas: {lift: 100 lb}");
    let comes = ("lorry", "kind: shop\nname: The lorry\ncomes: true\nhas: {lift: 100 lb}");
    for (at, cautioned) in [("shed", false), ("meadow", false), ("lorry", false), ("yard", true)] {
        let told = cautions(&[POST, YARD, keeper, comes, ("paint", &work(at))]);
        assert_eq!(!told.is_empty(), cautioned, "{at}: {told:?}");
    }
    let key = ("key", "kind: part\nname: Key\nmass: 24 kg\ndisposition: reuse");
    assert!(
        cautions(&[key, YARD, ("off", "kind: step\ndoes: Drive it out\nremoves: [key]\nat: yard")])
            .is_empty()
    );
}

/// A pin of 60 mm and 117 mm by its shape asks for a lathe that takes it, where the step does not say so itself.
#[test]
fn what_is_turned_asks_for_a_lathe_by_its_shape() {
    const PIN: (&str, &str) = (
        "pin",
        "kind: part\nname: Pin\ndisposition: make\nshape: {turned: [{d: 60 mm, long: 17 mm}, {d: 40 mm, long: 100 mm}]}",
    );
    let lathe = |has: &str| format!("kind: shop\nname: The lathe\nprocesses: [turning]\nhas: {{{has}}}");
    let make = |keys: &str| format!("kind: step\ndoes: Make it\nmakes: [pin]\nprocesses: [turning]\n{keys}");
    let why = |has: &str, keys: &str| {
        let (shop, step_keys) = (lathe(has), make(keys));
        let (project, plan) = planned(&[PIN, ("lathe", &shop), ("make", &step_keys)]);
        let standing = plan.standing(step(&project.dossier, "make"));
        standing.causes.iter().map(|cause| cause.sentence(&project.dossier)).collect::<Vec<_>>().join("; ")
    };
    assert_eq!(why("swing: 60 mm, length: 120 mm", ""), "");
    assert!(why("swing: 50 mm, length: 120 mm", "").contains("swing: needs 60 mm by its shape, has 50 mm"));
    for long in ["length", "between centres", "bed"] {
        let says = why(&format!("swing: 60 mm, {long}: 100 mm"), "");
        assert!(says.contains("length: needs 117 mm by its shape, has 100 mm"), "{long}: {says}");
    }
    // A shop that states no swing may have one.
    assert_eq!(why("lift: 100 kg", ""), "");
    // What the step says itself counts, and is held against the shape.
    assert_eq!(why("swing: 100 mm", "calls_for: {swing: 80 mm}"), "");
    let (shop, keys) = (lathe("swing: 100 mm"), make("calls_for: {swing: 50 mm}"));
    let told = cautions(&[PIN, ("lathe", &shop), ("make", &keys)]);
    assert!(told.iter().any(|says| says.contains("60 mm by its shape")), "{told:?}");
}

/// Steel of about 7.85 kg/dm³: 200 mm across and 400 mm long is 98.6 kg, more than a lift of 50 kg.
#[test]
fn what_is_made_is_lifted_by_its_shape() {
    let bar = "kind: part\nname: Bar\nmaterial: mild steel\ndisposition: make\nshape: {turned: [{d: 200 mm, long: 400 mm}]}";
    let shop = "kind: shop\nname: The lathe\nprocesses: [turning]\nhas: {lift: 50 kg}";
    let make = "kind: step\ndoes: Make it\nmakes: [bar]\nprocesses: [turning]";
    let (project, plan) = planned(&[("bar", bar), ("lathe", shop), ("make", make)]);
    let causes = &plan.standing(step(&project.dossier, "make")).causes;
    let why: Vec<String> = causes.iter().map(|cause| cause.sentence(&project.dossier)).collect();
    assert!(
        why.iter().any(|why| why.contains("lift: needs about 98.65 kg by its shape, has 50 kg")),
        "{why:?}"
    );
}

/// What is off by then is not on the hook, and what is worked on at another's shop comes in what it sits in.
#[test]
fn an_assembly_of_a_given_mass_weighs_what_is_left_of_it() {
    let notes = [
        ("yard", "kind: shop\nname: The yard\nhas: {lift: 100 lb}"),
        ("crab", "kind: part\nname: Crab\nmass: 700 lb ± 10 lb\ndisposition: reuse"),
        ("drum", "kind: part\nname: Drum\nwithin: crab\nmass: 200 lb\ndisposition: reuse"),
        ("pin", "kind: part\nname: Pin\nwithin: crab\nmass: 1 lb\ndisposition: reuse"),
        ("off", "kind: step\ndoes: Lift it off\nremoves: [crab]\nat: shed\ncalls_for: {lift: 500 lb}"),
        ("bare", "kind: step\ndoes: Take the drum off\nremoves: [drum]\nat: shed\nneeds: [off]"),
        ("work", "kind: step\ndoes: Turn the pin\nparts: [pin]\nat: yard\nneeds: [bare]"),
    ];
    let told = cautions(&notes);
    let of = |id: &str| {
        told.iter().find(|says| says.starts_with(&format!("`{id}`")) && says.contains("calls for")).cloned()
    };
    assert_eq!(of("off").as_deref(), Some("`off` calls for lift 500 lb, but `crab` weighs 700 lb ± 10 lb"));
    assert_eq!(
        of("work").as_deref(),
        Some("`work` moves `crab`, which weighs 222.2 kg to 231.4 kg, and calls for no lift")
    );
}
