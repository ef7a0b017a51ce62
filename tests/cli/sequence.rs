//! The pages of the sequence: one table of dates, chains printed once, numbers that follow the order, no end that nobody knows,
//! runs.

use super::scratch::{lines, pages};

const PAGE: &str = "title: A crane\nhome: shed\nstart: 2027-03-01\nhours_per_week: 8\nunits: metric\n";
const SHED: (&str, &str) = ("shed.md", "---\nkind: shop\nname: The shed\n---\n");

/// Number, step, place, hours, early and late dates and the float stand once, in one table; what is critical says so.
#[test]
fn one_table_has_all_dates_and_the_only_float() {
    let Some(lines) = lines(&[
        ("dossier.yaml", PAGE),
        SHED,
        ("works.md", "---\nkind: shop\nname: The works\n---\n"),
        ("early.md", "---\nkind: step\ndoes: Early work\ntakes: 8 h\n---\n"),
        ("other.md", "---\nkind: step\ndoes: Other work\ntakes: 16 h\n---\n"),
        ("beside.md", "---\nkind: step\ndoes: Beside it\ntakes: 8 h\nat: works\n---\n"),
    ]) else {
        return;
    };
    let row = |begins: &str| lines.iter().position(|line| line.starts_with(begins)).unwrap();
    let beside = row("1 Beside it");
    assert_eq!(lines[beside], "1 Beside it, The works 8 1 Mar 2027 8 Mar 2027 14");
    assert_eq!(lines[beside + 1], "15 Mar 2027 22 Mar 2027");
    assert_eq!(lines[row("2 Early")], "2 Early work, The shed — critical 8 1 Mar 2027 8 Mar 2027 0");
    let heads = lines.iter().filter(|line| line.contains("Float"));
    assert_eq!(heads.count(), 1, "{lines:?}");
}

/// The list of the work names steps by their numbers, which it is in the order of; so do trips and jobs.
#[test]
fn a_step_is_named_by_its_number_in_its_chapters() {
    let Some(lines) = lines(&[
        ("dossier.yaml", PAGE),
        SHED,
        ("works.md", "---\nkind: shop\nname: The works\n---\n"),
        ("gear.md", "---\nkind: part\nname: Gear\ndisposition: rework\n---\n"),
        ("off.md", "---\nkind: step\ndoes: Take it off\ntakes: 8 h\nremoves: [gear]\n---\n"),
        (
            "cut.md",
            "---\nkind: step\ndoes: Cut it\ntakes: 8 h\nparts: [gear]\nat: works\nneeds: [off]\n---\n",
        ),
    ]) else {
        return;
    };
    let work = lines.iter().rposition(|line| line == "The work, in order").unwrap();
    let jobs = lines.iter().rposition(|line| line.starts_with("Jobs for others")).unwrap();
    let says = |from: usize, words: &str| lines[from..].iter().any(|line| line.contains(words));
    assert!(says(work, "Before step 2.") && says(work, "Not yet: first step 1."), "{lines:?}");
    assert!(says(jobs, "To do: step 1.") && says(jobs, "To do: step 2."), "{lines:?}");
    assert_eq!(
        lines.iter().filter(|line| line.contains("2. Cut it")).count(),
        3,
        "what the end waits for, graph and record: {lines:?}"
    );
}

/// A chain of prerequisites is printed in full once; where it is needed again, the step that it leads to is named.
#[test]
fn a_chain_is_printed_once_and_no_step_under_itself() {
    let part = |name: &str| format!("---\nkind: part\nname: {name}\ndisposition: rework\n---\n");
    let Some(text) = pages(&[
        ("dossier.yaml", PAGE),
        SHED,
        ("cap.md", &part("Cap")),
        ("gear.md", &part("Gear")),
        ("stud.md", &part("Stud")),
        ("rig.md", "---\nkind: step\ndoes: Rig the legs\ntakes: 8 h\n---\n"),
        (
            "lift.md",
            "---\nkind: step\ndoes: Lift the cap\nremoves: [cap]\nneeds: [rig]\ncalls_for: {lift: 9 t}\n---\n",
        ),
        ("off.md", "---\nkind: step\ndoes: Take the gear off\nremoves: [gear, stud]\nneeds: [lift]\n---\n"),
    ]) else {
        return;
    };
    let text = text.replace('\u{2060}', "");
    let (_, machine) = text.rsplit_once("What it is made of").unwrap();
    let (machine, _) = machine.split_once("Questions 5").unwrap();
    let chain = "2. Lift the cap (p. 7) 1. Rig the legs (p. 7) No shop found: lift: needs 9 t, none known";
    let chain = chain.replace("p. 7", &page_in(machine));
    assert!(machine.contains(&chain), "{machine}");
    assert_eq!(machine.matches("1. Rig the legs").count(), 1, "{machine}");
    assert!(machine.contains("3. Take the gear off") && machine.contains("after step 2, p. "), "{machine}");
    assert!(machine.contains("To remove it: step 3, p. "), "{machine}");
}

/// The page that the first chain of a text names.
fn page_in(text: &str) -> String {
    let (_, page) = text.split_once("Lift the cap (").unwrap();
    page.split_once(')').unwrap().0.to_owned()
}

/// What is under way may still wait for something: it is numbered, listed and drawn after that.
#[test]
fn a_step_under_way_is_not_numbered_before_what_it_needs() {
    let Some(text) = pages(&[
        ("dossier.yaml", PAGE),
        SHED,
        ("begun.md", "---\nkind: step\ndoes: Begun too soon\ntakes: 8 h\nneeds: [rig]\nstate: doing\n---\n"),
        ("rig.md", "---\nkind: step\ndoes: Rig the legs\ntakes: 8 h\n---\n"),
    ]) else {
        return;
    };
    assert!(text.contains("1. Rig the legs") && text.contains("2. Begun too soon"), "{text}");
}

#[test]
fn no_end_date_is_printed_while_a_job_has_no_shop() {
    let Some(text) = lines(&[
        ("dossier.yaml", PAGE),
        SHED,
        ("press.md", "---\nkind: step\ndoes: Press it off\ntakes: 8 h\ncalls_for: {press: 60 tonf}\n---\n"),
        ("after.md", "---\nkind: step\ndoes: Clean it\ntakes: 8 h\nneeds: [press]\n---\n"),
    ]) else {
        return;
    };
    let text = text.into_iter().filter(|line| !line.is_empty()).collect::<Vec<_>>().join(" ");
    let says = "The end is not known while one step has no shop that can do it. If one is found by the time it is needed, \
                then with the keeper's 8 hours a week the last step is done by 15 March 2027 if every time is the likely one";
    assert!(text.contains(says), "{text}");
    assert!(text.contains("Clean it, The shed — critical"), "{text}");
    assert!(text.contains("(8 Mar 2027) (15 Mar 2027)"), "{text}");
    assert!(!text.contains("The end: likely"), "{text}");
}

#[test]
fn the_trips_say_what_goes_in_which_run_and_the_caution_of_the_road() {
    let page = format!("{PAGE}transport: {{payload: 750 kg, bed: 8 ft x 4 ft}}\n");
    let Some(text) = pages(&[
        ("dossier.yaml", &page),
        SHED,
        ("works.md", "---\nkind: shop\nname: The works\n---\n"),
        (
            "drum.md",
            "---\nkind: part\nname: Drum\nmass: 300 kg\nenvelope: 1 m x 1 m x 1 m\ndisposition: rework\n---\n",
        ),
        (
            "jib.md",
            "---\nkind: part\nname: Jib\nmass: 300 kg\nenvelope: 6 m x 1 m x 1 m\ndisposition: rework\n---\n",
        ),
        ("turn.md", "---\nkind: step\ndoes: Turn them\nat: works\nparts: [drum, jib]\n---\n"),
    ]) else {
        return;
    };
    for words in [
        "Drum, Jib. 1 run: Drum, at most 300 kg.",
        "keeper's takes: Jib (longer than the bed).",
        "The keeper's transport bears 750 kg on a bed of",
        "Axle, coupling and brake limits are set by law",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
}

/// The way there and the way back, each with its distance, its day and the mass as it then is; what stays away is named.
#[test]
fn the_trips_say_the_way_back_and_what_stays_away() {
    let page = format!("{PAGE}site: weir\n");
    let part = |name: &str, keys: &str| {
        format!("---\nkind: part\nname: {name}\ndisposition: rework\nenvelope: 1 m x 1 m x 1 m\n{keys}---\n")
    };
    let [gear, wheel, rod] = [
        part("Gear", "mass: 100 kg ± 2 kg\n"),
        part("Wheel", "within: gear\nmass: 30 kg\n"),
        part("Rod", "mass: 7 kg\n"),
    ];
    let Some(text) = pages(&[
        ("dossier.yaml", &page),
        SHED,
        ("weir.md", "---\nkind: shop\nname: At the weir itself\nhands: keeper\nmiles: 1\n---\n"),
        ("works.md", "---\nkind: shop\nname: The works\nmiles: 20\n---\n"),
        ("gear.md", &gear),
        ("wheel.md", &wheel),
        ("rod.md", &rod),
        ("off.md", "---\nkind: step\ndoes: Off\nremoves: [gear, wheel]\nat: weir\ntakes: 8 h\n---\n"),
        (
            "turn.md",
            "---\nkind: step\ndoes: Turn\nat: works\nparts: [gear, rod]\nneeds: [off]\ntakes: 8 h\n---\n",
        ),
        ("on.md", "---\nkind: step\ndoes: On\nrefits: [gear, wheel]\nat: weir\nneeds: [turn]\n---\n"),
    ]) else {
        return;
    };
    let table = text.rsplit_once("From place to place").unwrap().1;
    // By hand: 100 ± 2 - 30, and 7 of the rod on the way there.
    let there = "from the weir itself, 33.8 km by way of home: Gear, Rod.";
    let back = "from The works, 33.8 km by way of home: Gear.";
    for words in [there, "8 March 2027 75 to 79", back, "15 March 2027 68 to 72", "stands at the weir itself"]
    {
        assert!(table.contains(words), "{words}: {table}");
    }
    let left = "No way back is planned yet of what still lies elsewhere at the end: Rod (The works).";
    assert!(table.contains(left), "{table}");
}

/// A step says its season and its permit.
#[test]
fn a_step_says_its_days_and_its_papers() {
    let Some(text) = pages(&[
        ("dossier.yaml", PAGE),
        SHED,
        (
            "permit.md",
            "---\nkind: paper\ntitle: Slip permit\nvalid_from: 2027-04-01\nvalid_until: 2027-09-30\n---\n",
        ),
        (
            "slip.md",
            "---\nkind: step\ndoes: Clear the slip\ntakes: 8 h\nunder: [permit]\nnot_before: 2027-05-01\n---\n",
        ),
    ]) else {
        return;
    };
    let text = text.replace("\u{ad} ", "");
    for words in ["not before 1 May 2027", "Done under: Slip permit"] {
        assert!(text.contains(words), "{words}: {text}");
    }
    assert!(text.contains("Seasons and permits are not counted in the order"), "{text}");
    let table = text.split("Dates and critical path").last().unwrap();
    assert!(table.contains("1 May 2027 8 May 2027"), "{table}");
}

/// One rule for the day on which something ends: the sentence, the table and the caution of a missed day agree. Half a
/// day of work by itself never ends on a whole number of days.
#[test]
fn the_end_is_the_same_day_everywhere() {
    let Some(text) = pages(&[
        ("dossier.yaml", PAGE),
        SHED,
        ("paint.md", "---\nkind: step\ndoes: Paint it\ntakes: 4 h\n---\n"),
    ]) else {
        return;
    };
    assert!(
        text.contains(
            "done by 4 March 2027 if every time is the likely one; eight times in ten on 4 March 2027."
        ),
        "{text}"
    );
    assert!(text.contains("Paint it, The shed — critical"), "{text}");
    assert!(text.contains("4 1 Mar 2027 4 Mar 2027") && !text.contains("5 Mar 2027"), "{text}");
    assert!(text.contains("Assumed: questions are settled"), "{text}");
}

/// That a step is done does not say where; a name that begins with "At" follows no other "at".
#[test]
fn a_step_that_is_done_has_no_place_that_no_note_names() {
    let Some(lines) = lines(&[
        ("dossier.yaml", PAGE),
        SHED,
        ("hatch.md", "---\nkind: shop\nname: At the hatch itself\nhands: keeper\n---\n"),
        ("lab.md", "---\nkind: shop\nname: The laboratory\nprocesses: [assay]\n---\n"),
        ("gear.md", "---\nkind: part\nname: Gear\ndisposition: reuse\n---\n"),
        ("look.md", "---\nkind: step\ndoes: Look it over\nprocesses: [examination]\nstate: done\n---\n"),
        ("assay.md", "---\nkind: step\ndoes: Assay it\nprocesses: [assay]\nstate: done\n---\n"),
        ("loosen.md", "---\nkind: step\ndoes: Loosen it\nat: hatch\ntakes: 1 h\n---\n"),
        ("off.md", "---\nkind: step\ndoes: Take it off\nremoves: [gear]\nneeds: [loosen]\nat: hatch\n---\n"),
    ]) else {
        return;
    };
    // The record of the step, up to that of the next.
    let at = |head: &str| lines.iter().rposition(|line| line.contains(head)).unwrap();
    let record = lines[at(". Look it over")..at(". Loosen it")].join(" ");
    assert_eq!(record.trim(), "2. Look it over look done calls for examination");
    let text = lines.join(" ");
    assert!(text.contains("planned at"), "{text}");
    assert!(text.contains("At the hatch itself") && !text.contains("at At the hatch"), "{text}");
}

/// Days past the end of every calendar are numbers, and nothing stops.
#[test]
fn a_step_of_any_length_is_scheduled_and_printed() {
    let dossier = ("dossier.yaml", "title: Crane\nstart: 2027-01-01\n");
    let shed = ("shops/shed.md", "---\nkind: shop\nname: The shed\n---\n");
    for takes in ["99999999 h", "{low: 1 h, likely: 2 h, high: 2147483648 h}", "1e300 h"] {
        let step = format!("---\nkind: step\ndoes: Draw the post\ntakes: {takes}\nat: shed\n---\n");
        let dir = super::scratch::project(&[dossier, shed, ("steps/draw.md", &step)]);
        for command in ["check", "next", "build", "bill"] {
            super::asfound(dir.path()).args([command, "crane"]).assert().success();
        }
    }
}
