//! Days: pace, lead times, waits, hands; and trips as they are reported.

use asfound::plan::report::{Schedule, trips};
use asfound::plan::travel::itinerary;
use serde_json::{Value, json};

use super::notes::planned;

fn schedule(notes: &[(&str, &str)]) -> Schedule {
    let (project, plan) = planned(notes);
    Schedule::of(&project.dossier, &plan, &plan.timetable())
}

#[test]
fn likely_times_at_the_pace_of_each_shop() {
    let found = schedule(&[
        ("yard", "kind: shop\nname: Yard\nhours_per_week: 16"),
        ("works", "kind: shop\nname: Works"),
        ("a", "kind: step\ndoes: A\ntakes: 8 h"),
        ("b", "kind: step\ndoes: B\ntakes: 6 h .. 10 h\nat: yard\nneeds: [a]\nwaits: 2 days"),
        ("c", "kind: step\ndoes: C\ntakes: {low: 1 h, likely: 4 h, high: 8 h}\nat: works\nneeds: [a]"),
        ("d", "kind: step\ndoes: D\nneeds: [b, c]\ntakes: 8 h"),
        ("e", "kind: step\ndoes: E\nstate: done\ntakes: 80 h"),
    ]);
    let found = serde_json::to_value(found).unwrap();
    let rows: Vec<_> = found["steps"]
        .as_array()
        .unwrap()
        .iter()
        .map(|step| {
            json!([
                step["id"],
                step["early_start_day"],
                step["early_finish_day"],
                step["late_start_day"],
                step["late_finish_day"],
                step["float_days"],
                step["critical"]
            ])
        })
        .collect();
    assert_eq!(
        rows,
        [
            json!(["a", 0.0, 7.0, 0.0, 7.0, 0.0, true]),
            json!(["b", 7.0, 12.5, 7.0, 12.5, 0.0, true]),
            json!(["c", 7.0, 10.5, 9.0, 12.5, 2.0, false]),
            json!(["d", 12.5, 19.5, 12.5, 19.5, 0.0, true]),
        ]
    );
    assert_eq!(found["critical_path"], json!(["a", "b", "d"]));
    assert_eq!(found["day_zero"], json!("2027-03-01"));
    assert_eq!(found["forecast_days"], json!({"low": 18.625, "likely": 19.5, "high": 21.0}));
}

#[test]
fn where_the_keeper_works_the_work_waits_for_the_keeper() {
    let likely = |wharf: &str| {
        let found = schedule(&[
            ("wharf", wharf),
            ("a", "kind: step\ndoes: A\ntakes: 8 h"),
            ("b", "kind: step\ndoes: B\ntakes: 8 h\nat: wharf"),
        ]);
        found.end.forecast_days.unwrap().likely
    };
    assert_eq!(likely("kind: shop\nname: Wharf"), 7.0);
    assert_eq!(likely("kind: shop\nname: Wharf\nhands: keeper"), 14.0);
}

#[test]
fn a_lead_time_counts_from_the_day_of_ordering_else_from_day_zero() {
    let found = schedule(&[
        (
            "early",
            "kind: part\nname: Early\ndisposition: buy\nlead: 10 days\nsupply: ordered\nordered_on: 2027-02-25",
        ),
        (
            "late",
            "kind: part\nname: Late\ndisposition: buy\nlead: 3 days\nsupply: ordered\nordered_on: 2027-02-01",
        ),
        ("new", "kind: part\nname: New\ndisposition: buy\nlead: 2 weeks"),
        ("got", "kind: part\nname: Got\ndisposition: buy\nlead: 90 days\nsupply: received"),
        ("fit", "kind: step\ndoes: Fit\nuses: [early, late, got]\ntakes: 8 h"),
    ]);
    let finish = |id: &str| found.steps.iter().find(|step| step.id == id).map(|step| step.early_finish_day);
    assert_eq!(
        (finish("early"), finish("late"), finish("new"), finish("got")),
        (Some(6.0), Some(0.0), Some(14.0), None)
    );
    assert_eq!(finish("fit"), Some(13.0));
    let kinds: Vec<_> = found.steps.iter().map(|step| (step.id.as_str(), step.kind)).collect();
    assert_eq!(kinds, [("early", "order"), ("late", "order"), ("new", "order"), ("fit", "step")]);
}

/// What has begun to soak keeps the day of its note, whatever the log has of its hours.
#[test]
fn a_wait_counts_from_the_day_on_which_its_step_was_begun() {
    let finish = |begun: &str| {
        let soak = format!("kind: step\ndoes: Soak\ntakes: 8 h\nwaits: 21 days\nstate: doing\n{begun}");
        let found = schedule(&[
            ("soak", soak.as_str()),
            ("log", "kind: entry\ndate: 2027-03-08\nhours: {soak: 8 h}"),
            ("later", "kind: entry\ndate: 2027-03-12"),
        ]);
        found.steps.iter().find(|step| step.id == "soak").map(|step| step.early_finish_day)
    };
    assert_eq!(finish(""), Some(17.0));
    assert_eq!(finish("begun_on: 2027-03-02"), Some(11.0));
}

#[test]
fn day_zero_is_the_last_date_in_the_notes() {
    let found = schedule(&[
        (
            "bearing",
            "kind: part\nname: B\ndisposition: buy\nlead: 10 days\nsupply: ordered\nordered_on: 2027-03-01",
        ),
        ("log", "kind: entry\ndate: 2027-03-08"),
    ]);
    assert_eq!(found.day_zero.as_deref(), Some("2027-03-08"));
    assert_eq!(found.end.forecast_days.unwrap().likely, 3.0);
}

/// The keeper has one pair of hands; another shop works beside; waiting costs no hands.
#[test]
fn the_forecast_adds_the_limit_of_hands() {
    let found = schedule(&[
        ("yard", "kind: shop\nname: Yard"),
        ("a", "kind: step\ndoes: A\ntakes: 8 h\nwaits: 7 days"),
        ("b", "kind: step\ndoes: B\ntakes: 8 h\nat: shed"),
        ("c", "kind: step\ndoes: C\ntakes: 8 h\nat: yard"),
        ("d", "kind: step\ndoes: D\ntakes: 8 h\nneeds: [a]"),
    ]);
    let early_end = found.steps.iter().map(|step| step.early_finish_day).fold(0.0, f64::max);
    assert_eq!((early_end, found.end.forecast_days.unwrap().likely), (21.0, 21.0));
    let start = |id: &str| found.steps.iter().find(|step| step.id == id).unwrap().forecast_start_day;
    assert_eq!((start("a"), start("b"), start("c"), start("d")), (0.0, 7.0, 0.0, 14.0));
}

#[test]
fn an_open_question_takes_no_time_but_keeps_its_order() {
    let found = schedule(&[
        ("q", "kind: question\nasks: Why?\nsettled_by: [look]"),
        ("look", "kind: step\ndoes: Look\ntakes: 8 h"),
        ("cut", "kind: step\ndoes: Cut\ntakes: 8 h\nhangs_on: [q]"),
    ]);
    assert_eq!(found.critical_path, ["look", "cut"]);
    assert_eq!(found.end.forecast_days.unwrap().likely, 14.0);
    assert_eq!(found.steps.len(), 2);
}

#[test]
fn nothing_left_to_do() {
    let found = schedule(&[("a", "kind: step\ndoes: A\nstate: done\ntakes: 8 h")]);
    assert!(found.steps.is_empty() && found.critical_path.is_empty());
    assert_eq!(found.end.forecast_days.unwrap().high, 0.0);
}

#[test]
fn trips_say_what_has_to_be_there() {
    let (project, plan) = planned(&[
        ("works", "kind: shop\nname: Works\nhas: {press: 40 tonf}"),
        ("drum", "kind: part\nname: Drum\nmass: 120 kg\nenvelope: 1 m x 0.5 m x 0.5 m\ndisposition: rework"),
        ("shaft", "kind: part\nname: Shaft\nwithin: drum\nmass: 40 kg\ndisposition: rework"),
        (
            "pawl",
            "kind: part\nname: Pawl\nquantity: 2\nmass: 3 kg\nenvelope: 300 mm x 60 mm x 40 mm\ndisposition: rework",
        ),
        ("lever", "kind: part\nname: Lever\ndisposition: reuse"),
        ("a-strip", "kind: step\ndoes: Strip\nparts: [drum]"),
        (
            "b-press",
            "kind: step\ndoes: Press\nparts: [shaft, drum]\ncalls_for: {press: 30 tonf}\nneeds: [a-strip]",
        ),
        ("c-weld", "kind: step\ndoes: Build up\nparts: [pawl]\nat: works"),
        ("d-try", "kind: step\ndoes: Try\nparts: [pawl, lever]\nneeds: [c-weld]"),
        ("e-forge", "kind: step\ndoes: Forge\nparts: [lever]\nprocesses: [forging]\nneeds: [d-try]"),
    ]);
    let found = itinerary(&project.dossier, &plan, &plan.timetable());
    assert!(found.proven);
    let told = serde_json::to_value(trips(&project.dossier, &plan, &found)).unwrap();
    let leg = |from: &str, to: Option<&str>, parts: Value, mass: Option<f64>, unfound: bool| {
        json!([{"from": from, "to": to, "parts": parts, "mass_kg": mass, "mass_low_kg": mass, "mass_high_kg": mass,
            "distance_m": null, "by_way_of_home": false, "by_day": 0.0, "by": "2027-03-01", "if_shops_found": unfound,
            "runs": null}])
    };
    let part = |id: &str, pieces: u32, mass: Option<f64>| json!({"id": id, "pieces": pieces, "mass_kg": mass, "mass_low_kg": mass, "mass_high_kg": mass});
    let pawl = part("pawl", 2, Some(6.0));
    assert_eq!(
        told,
        json!([
            {"shop": "shed", "unplaced": false, "steps": ["a-strip"], "in_place": [], "runs": null, "no_run": [], "of_unknown_size": [], "parts": ["drum"],
             "there_already": ["drum"], "legs": [], "mass_kg": null, "mass_low_kg": null, "mass_high_kg": null, "unweighed": [], "largest_m": null},
            {"shop": "works", "unplaced": false, "steps": ["b-press", "c-weld"], "in_place": [], "runs": null, "no_run": [], "of_unknown_size": [],
             "parts": ["drum", "pawl"], "there_already": [], "legs": leg("shed", Some("works"), json!([part("drum", 1, Some(120.0)), pawl]), Some(126.0), false),
             "mass_kg": 126.0, "mass_low_kg": 126.0, "mass_high_kg": 126.0, "unweighed": [], "largest_m": [1.0, 0.5, 0.5]},
            {"shop": "shed", "unplaced": false, "steps": ["d-try"], "in_place": [], "runs": null, "no_run": [], "of_unknown_size": [], "parts": ["lever", "pawl"],
             "there_already": ["lever"], "legs": leg("works", Some("shed"), json!([pawl]), Some(6.0), false),
             "mass_kg": 6.0, "mass_low_kg": 6.0, "mass_high_kg": 6.0, "unweighed": [], "largest_m": [0.3, 0.06, 0.04]},
            {"shop": null, "unplaced": true, "steps": ["e-forge"], "in_place": [], "runs": null, "no_run": [], "of_unknown_size": [], "parts": ["lever"],
             "there_already": [], "legs": leg("shed", None, json!([part("lever", 1, None)]), None, true),
             "mass_kg": null, "mass_low_kg": null, "mass_high_kg": null, "unweighed": ["lever"], "largest_m": null},
        ])
    );
}

/// What a shop comes for is not carried to it; what they do with the machine where it stands is still their stay.
#[test]
fn what_a_shop_comes_for_stays_where_it_is() {
    let (project, plan) = planned(&[
        ("yard", "kind: shop\nname: Yard\nprocesses: [boring, reaming]"),
        ("lorry", "kind: shop\nname: Lorry\nhas: {lift: 1 t}\ncomes: true"),
        ("base", "kind: part\nname: Base\nmass: 900 kg\ndisposition: rework"),
        ("rod", "kind: part\nname: Rod\nmass: 20 kg\ndisposition: rework"),
        ("a-bore", "kind: step\ndoes: Bore\nparts: [base]\nprocesses: [boring]\nin_place: true"),
        ("b-ream", "kind: step\ndoes: Ream\nparts: [rod]\nprocesses: [reaming]\nneeds: [a-bore]"),
        ("c-lift", "kind: step\ndoes: Lift\nparts: [base]\ncalls_for: {lift: 950 kg}\nneeds: [b-ream]"),
    ]);
    let found = itinerary(&project.dossier, &plan, &plan.timetable());
    let told = serde_json::to_value(trips(&project.dossier, &plan, &found)).unwrap();
    let stays: Vec<_> = told
        .as_array()
        .unwrap()
        .iter()
        .map(|trip| json!([trip["shop"], trip["in_place"], trip["parts"], trip["mass_kg"]]))
        .collect();
    assert_eq!(
        stays,
        [json!(["yard", ["a-bore"], ["rod"], 20.0]), json!(["lorry", ["c-lift"], ["base"], null])]
    );
}

/// Two steps of one pair of hands, and one beside: the float is that of the forecast, and no start is before the finish of
/// what comes first, nor stands above it in the list.
#[test]
fn one_float_a_step_and_no_start_before_what_comes_first() {
    let notes = [
        ("works", "kind: shop\nname: Works"),
        ("z-first", "kind: step\ndoes: First, takes no time\nneeds: [early]"),
        ("early", "kind: step\ndoes: Early\ntakes: 8 h"),
        ("a-later", "kind: step\ndoes: Later\nneeds: [z-first]"),
        ("other", "kind: step\ndoes: Other\ntakes: 16 h"),
        ("beside", "kind: step\ndoes: Beside\ntakes: 8 h\nat: works"),
    ];
    let (_, plan) = planned(&notes);
    let timetable = plan.timetable();
    let found = schedule(&notes);
    let step = |id: &str| found.steps.iter().find(|step| step.id == id).unwrap();
    for line in &found.steps {
        let (late, early) = (line.late_start_day, line.early_start_day);
        assert!((late - early - line.float_days).abs() < 1e-6, "{}: {late} - {early}", line.id);
    }
    // Without the limit of hands `early` could slip by 7 days; the hands have to be at `other` by then.
    assert_eq!(found.end.forecast_days.unwrap().likely, 21.0);
    assert_eq!((step("early").float_days, step("beside").float_days), (7.0, 7.0));
    assert_eq!(step("early").forecast_float_days + step("other").forecast_float_days, 0.0);
    assert_eq!(step("beside").forecast_float_days, 14.0);
    let place = |id: &str| found.steps.iter().position(|step| step.id == id);
    assert!(place("early") < place("z-first") && place("z-first") < place("a-later"));
    for &node in timetable.network.precedence().order() {
        for &next in timetable.network.precedence().after(node) {
            assert!(timetable.forecast.slots[node].finish <= timetable.forecast.slots[next].start);
        }
    }
}

const CONSENT: &str = "kind: paper\ntitle: Consent\nvalid_from: 2027-04-01\nvalid_until: 2027-04-30";

#[test]
fn a_first_day_and_a_papers_validity_are_kept() {
    let found = schedule(&[
        ("consent", CONSENT),
        ("dredge", "kind: step\ndoes: Dredge\ntakes: 8 h\nnot_before: 2027-03-15"),
        ("weld", "kind: step\ndoes: Weld\ntakes: 8 h\nunder: [consent]\nneeds: [dredge]"),
        ("paint", "kind: step\ndoes: Paint\ntakes: 8 h\nneeds: [weld]"),
        ("shelve", "kind: step\ndoes: Shelve\ntakes: 8 h"),
    ]);
    let found = serde_json::to_value(found).unwrap();
    let told = |id: &str| {
        let steps = found["steps"].as_array().unwrap();
        let step = steps.iter().find(|step| step["id"] == id).unwrap();
        ["forecast_start_day", "forecast_float_days", "not_before", "not_after", "in_time"]
            .map(|key| step[key].clone())
    };
    assert_eq!(told("dredge"), [json!(14.0), json!(10.0), json!("2027-03-15"), json!(null), json!(true)]);
    assert_eq!(
        told("weld"),
        [json!(31.0), json!(0.0), json!("2027-04-01"), json!("2027-04-30"), json!(true)]
    );
    assert_eq!(told("paint"), [json!(38.0), json!(0.0), json!(null), json!(null), json!(true)]);
    assert_eq!(told("shelve")[0], json!(0.0));
    assert_eq!(found["forecast_days"], json!({"low": 45.0, "likely": 45.0, "high": 45.0}));
}

/// Of two steps for one pair of hands the one with a last day goes first; its float ends there, not at the end of all.
#[test]
fn what_has_a_last_day_goes_first() {
    let found = schedule(&[
        ("a-long", "kind: step\ndoes: Long\ntakes: 24 h"),
        ("season", "kind: step\ndoes: Season\ntakes: 8 h\nnot_after: 2027-03-10"),
    ]);
    let step = |id: &str| found.steps.iter().find(|step| step.id == id).unwrap();
    assert_eq!((step("season").forecast_start_day, step("a-long").forecast_start_day), (0.0, 7.0));
    assert!(step("season").in_time);
    let alone = schedule(&[
        ("works", "kind: shop\nname: Works"),
        ("long", "kind: step\ndoes: Long\ntakes: 24 h\nat: works"),
        ("season", "kind: step\ndoes: Season\ntakes: 8 h\nnot_after: 2027-03-10"),
    ]);
    let float = alone.steps.iter().find(|step| step.id == "season").unwrap().forecast_float_days;
    assert!((float - 3.0).abs() < 1e-4, "10 March is the tenth day, and the work takes seven: {float}");
}

#[test]
fn a_last_day_that_is_missed_is_a_caution_with_both_days() {
    let (project, _) = planned(&[
        ("rig", "kind: step\ndoes: Rig\ntakes: 8 h"),
        ("season", "kind: step\ndoes: Season\ntakes: 8 h\nneeds: [rig]\nnot_after: 2027-03-10"),
        ("consent", CONSENT),
        ("weld", "kind: step\ndoes: Weld\ntakes: 40 h\nat: shed\nunder: [consent]"),
    ]);
    let problems = project.problems();
    let told: Vec<&str> = problems
        .iter()
        .filter(|problem| problem.code.word == "last-day-missed")
        .map(|problem| problem.message.as_str())
        .collect();
    assert_eq!(
        told,
        [
            "`weld` is done under `consent`, valid until 2027-04-30, but is likely finished on 2027-05-06",
            "`season` is to be done by 2027-03-10, but is likely finished on 2027-03-15",
        ]
    );
}

#[test]
fn what_waits_for_its_day_or_its_paper_says_so() {
    let (project, plan) = planned(&[
        ("consent", CONSENT),
        ("old", "kind: paper\ntitle: Old licence\nvalid_until: 2027-02-01"),
        ("dredge", "kind: step\ndoes: Dredge\nnot_before: 2027-03-15"),
        ("weld", "kind: step\ndoes: Weld\nunder: [consent]"),
        ("tow", "kind: step\ndoes: Tow\nunder: [old]"),
        ("late", "kind: step\ndoes: Late\nnot_after: 2027-02-15"),
        ("now", "kind: step\ndoes: Now\nnot_before: 2027-03-01\nnot_after: 2027-03-31"),
    ]);
    assert_eq!(
        super::notes::told(&project, &plan, &["dredge", "weld", "tow", "late", "now"]),
        [
            "dredge: waiting: not before 2027-03-15",
            "weld: waiting: Consent – valid from 2027-04-01",
            "tow: waiting: Old licence – valid until 2027-02-01, and that day is past",
            "late: waiting: not after 2027-02-15, and that day is past",
            "now: ready",
        ]
    );
}

#[test]
fn no_end_while_a_job_has_no_shop() {
    let found = schedule(&[
        ("press", "kind: step\ndoes: Press\ntakes: 8 h\ncalls_for: {press: 60 tonf}"),
        ("after", "kind: step\ndoes: After\ntakes: 8 h\nneeds: [press]"),
        ("beside", "kind: step\ndoes: Beside\ntakes: 8 h"),
    ]);
    let conditional = |id: &str| found.steps.iter().find(|step| step.id == id).unwrap().if_shops_found;
    assert_eq!([conditional("press"), conditional("after"), conditional("beside")], [true, true, false]);
    let found = serde_json::to_value(found).unwrap();
    assert_eq!(found["without_shop"], json!(["press"]));
    for key in ["forecast_days", "simulated_days", "three_point_days"] {
        assert_eq!(found[key], json!(null));
        assert!(found["if_shops_found"][key].is_object());
    }
    assert_eq!(found["if_shops_found"]["forecast_days"]["likely"], json!(14.0));
}
/// The machine stands at the weir: nothing has to be brought there that is still on it, and nothing is at home before it
/// was taken off and brought.
#[test]
fn what_is_still_on_the_machine_is_where_it_stands() {
    let (project, plan) = planned(&[
        (
            "dossier.yaml",
            "title: A gate\nhome: shed\nsite: weir\nhours_per_week: 8\nstart: 2027-03-01\nton: long\n",
        ),
        ("shed", "kind: shop\nname: The shed"),
        ("weir", "kind: shop\nname: The weir\nhands: keeper"),
        ("frame", "kind: part\nname: Frame\nmass: 300 kg\ndisposition: reuse"),
        ("worm", "kind: part\nname: Worm\nwithin: frame\nmass: 14 kg\ndisposition: rework"),
        ("a-clean", "kind: step\ndoes: Clean\nparts: [frame]"),
        ("b-off", "kind: step\ndoes: Off\nremoves: [worm]"),
        ("c-file", "kind: step\ndoes: File\nparts: [worm]\nat: shed"),
        ("d-on", "kind: step\ndoes: On\nrefits: [worm]"),
    ]);
    let found = itinerary(&project.dossier, &plan, &plan.timetable());
    let told = serde_json::to_value(trips(&project.dossier, &plan, &found)).unwrap();
    let stays: Vec<_> = told
        .as_array()
        .unwrap()
        .iter()
        .map(|trip| {
            json!([trip["shop"], trip["steps"], trip["parts"], trip["there_already"], trip["mass_kg"]])
        })
        .collect();
    assert_eq!(
        stays,
        [
            json!(["weir", ["a-clean", "b-off"], ["frame"], ["frame"], null]),
            json!(["shed", ["c-file"], ["worm"], [], 14.0]),
            json!(["weir", ["d-on"], ["worm"], [], 14.0]),
        ]
    );
}

/// A step without `at` takes the hands of the one shop that can do it, at their pace.
#[test]
fn a_step_takes_the_hands_of_the_shop_that_can() {
    let found = schedule(&[
        ("works", "kind: shop\nname: Works\nprocesses: [turning]\nhours_per_week: 16"),
        ("a", "kind: step\ndoes: A\ntakes: 8 h"),
        ("b", "kind: step\ndoes: B\ntakes: 8 h\nprocesses: [turning]"),
    ]);
    assert_eq!(found.end.forecast_days.unwrap().likely, 7.0);
    let turned = found.steps.iter().find(|step| step.id == "b").unwrap();
    assert_eq!((turned.forecast_start_day, turned.forecast_finish_day), (0.0, 3.5));
}

/// What no known shop can do has hands of its own, and neither it nor what comes after it moves a day that is sure.
#[test]
fn days_that_are_sure_do_not_hang_on_a_shop_that_is_not_found() {
    let sure = |hours: u32| {
        let unplaced = format!("kind: step\ndoes: Strip\ntakes: {hours} h\nprocesses: [licence]");
        let found = schedule(&[
            ("strip", unplaced.as_str()),
            ("after", "kind: step\ndoes: After\ntakes: 8 h\nwaits: 40 days\nneeds: [strip]"),
            ("a", "kind: step\ndoes: A\ntakes: 8 h"),
            ("b", "kind: step\ndoes: B\ntakes: 8 h"),
        ]);
        let of = |sure: bool| {
            let steps = found.steps.iter().filter(move |step| step.if_shops_found != sure);
            let mut days: Vec<(String, f64)> =
                steps.map(|step| (step.id.clone(), step.forecast_finish_day)).collect();
            days.sort_by(|one, two| one.0.cmp(&two.0));
            days
        };
        (of(true), of(false))
    };
    let days = |days: [(&str, f64); 2]| days.map(|(id, day)| (id.to_owned(), day)).to_vec();
    assert_eq!(sure(1).0, days([("a", 7.0), ("b", 14.0)]));
    assert_eq!(sure(8).0, sure(1).0);
    assert_eq!(sure(80).0, sure(1).0);
    assert_eq!(sure(8).1, days([("after", 61.0), ("strip", 7.0)]));
}

/// The hands finish first what they have begun, less the hours in the log; the wait counts from the last day in it,
/// and not before the work is done.
#[test]
fn what_is_in_hand_goes_on_from_where_it_stands() {
    let finish = |id: &str, logged: &str| {
        let log = format!("kind: entry\ndate: 2027-03-06\nhours: {{soak: {logged}}}");
        let found = schedule(&[
            ("first", "kind: step\ndoes: First\ntakes: 40 h"),
            ("soak", "kind: step\ndoes: Soak\ntakes: 8 h\nwaits: 21 days\nstate: doing"),
            ("log", log.as_str()),
            ("later", "kind: entry\ndate: 2027-03-08"),
        ]);
        found.steps.iter().find(|step| step.id == id).map(|step| step.forecast_finish_day)
    };
    assert_eq!(finish("soak", "4 h"), Some(3.5 + 21.0));
    assert_eq!(finish("first", "4 h"), Some(3.5 + 35.0));
    assert_eq!(finish("soak", "8 h"), Some(19.0));
}
