//! Whether the machine may be used, on the cover and for the inspector; the chapters of an edition; the running heads.

use std::path::Path;

use asfound::Project;
use asfound::fitness::{Fitness, Standing};

use super::asfound;
use super::scratch::{outside, pages, project};

const HOOK: (&str, &str) = (
    "hook.md",
    "---\nkind: part\nname: Hook\ndisposition: reuse\ntags: [carries load]\n---\n\
     ```calc\nthroat = 2 in\ncheck throat <= 3 in \"opened no further\"\nwidth = 5 in\ncheck width <= 4 in \"worn\"\n```\n",
);
const EYE: (&str, &str) =
    ("eye.md", "---\nkind: part\nname: Eye of the hook\nwithin: hook\ndisposition: reuse\n---\n");
const CRACK: (&str, &str) = (
    "crack.md",
    "---\nkind: finding\nabout: eye\ncondition: cracked\nseverity: dangerous\nseen: 2027-06-10\n---\n",
);
const DAY: (&str, &str) = ("day.md", "---\nkind: entry\ndate: 2027-06-20\n---\n");
const TACKLE: (&str, &str) = (
    "tackle.md",
    "---\nkind: paper\ntitle: Test of the tackle\nabout: [hook]\nvalid_until: 2027-01-31\n---\n",
);

fn fitness(declared: &str, notes: &[(&str, &str)]) -> Fitness {
    let home = format!("title: A crane\nton: long\n{declared}");
    let dir = project(&[&[("dossier.yaml", home.as_str())], notes].concat());
    let project = Project::open(&dir.path().join("crane")).unwrap();
    assert!(!project.has_errors(), "{:?}", project.problems());
    project.fitness
}

#[test]
fn a_declaration_counts_between_its_days_and_until_a_dangerous_finding_is_later() {
    let declared = |days: &str| format!("fit_for_use: {{words: up to 1 tonf, {days}}}\n");
    let standing = |days: &str, notes: &[(&str, &str)]| fitness(&declared(days), notes).standing;
    assert_eq!(fitness("", &[DAY]).standing, Standing::NotDeclared);
    assert_eq!(standing("date: 2027-06-20", &[DAY]), Standing::Declared);
    assert_eq!(standing("date: 2027-06-21", &[DAY]), Standing::Ahead);
    assert_eq!(standing("date: 2027-06-01, valid_until: 2027-06-20", &[DAY]), Standing::Declared);
    assert_eq!(standing("date: 2027-06-01, valid_until: 2027-06-19", &[DAY]), Standing::Ended);
    let found = [DAY, HOOK, EYE, CRACK];
    assert!(matches!(standing("date: 2027-06-09", &found), Standing::Overtaken(later) if later.len() == 1));
    assert_eq!(standing("date: 2027-06-10", &found), Standing::Declared);
    let undated =
        ("crack.md", "---\nkind: finding\nabout: eye\ncondition: cracked\nseverity: dangerous\n---\n");
    assert!(matches!(standing("date: 2027-06-10", &[DAY, HOOK, EYE, undated]), Standing::Overtaken(_)));
}

/// The weld's check rests on its formula by way of another line; a table's does not count, nor that of a step that is over.
#[test]
fn a_check_counts_by_the_tag_or_by_the_hazard_of_a_formula_behind_it() {
    let pin =
        "```calc\npin = pin_shear(force: 10 kN, d: 5 mm)\nstress = 2*pin\ncheck stress <= 40 MPa\n```\n";
    let of = |head: &str, body: &str| format!("---\n{head}---\n{body}");
    let part = of("kind: part\nname: Pin\ndisposition: reuse\n", pin);
    let table =
        of("kind: part\nname: Table\ndisposition: reuse\n", "```calc\nwide = 3 m\ncheck wide <= 2 m\n```\n");
    let lift = of("kind: step\ndoes: Lift it\nstate: done\ndone_on: 2027-06-01\n", pin);
    let notes =
        [("pin.md", part.as_str()), ("table.md", table.as_str()), ("lift.md", lift.as_str()), DAY, HOOK, EYE];
    let found = fitness("", &notes);
    assert_eq!(found.checks.len(), 3, "{:?}", found.checks);
    assert_eq!(found.not_met().count(), 2);
    assert_eq!(found.checks.iter().filter(|check| check.part.is_some()).count(), 2);
}

/// What is only to be scrapped, or is off and has a successor that is not fitted, still stands against the use.
#[test]
fn a_part_counts_until_its_successor_is_fitted_or_it_is_off_for_good() {
    let hook =
        |disposition: &str| HOOK.1.replace("disposition: reuse", &format!("disposition: {disposition}"));
    let scrapped = hook("scrap");
    let off = "---\nkind: step\ndoes: Take it off\nremoves: [hook]\nstate: done\ndone_on: 2027-06-12\n---\n";
    let new = "---\nkind: part\nname: New hook\ndisposition: buy\ncost: 9 EUR\nreplaces: [hook]\nsupply: fitted\n---\n";
    let count = |more: &[(&str, &str)]| {
        let found = fitness("", &[&[("hook.md", scrapped.as_str()), DAY], more].concat());
        (found.parts.len(), found.checks.len())
    };
    let (ordered, here, put_in) = (
        new.replace("supply: fitted", "supply: ordered"),
        new.replace("supply: fitted", "supply: received"),
        "---\nkind: step\ndoes: Put it in\nuses: [new]\nstate: done\ndone_on: 2027-06-13\n---\n",
    );
    assert_eq!(count(&[]), (1, 2));
    assert_eq!(count(&[("off.md", off)]), (0, 0), "nothing takes its place");
    assert_eq!(count(&[("off.md", off), ("new.md", ordered.as_str())]), (1, 2));
    assert_eq!(count(&[("new.md", here.as_str()), ("put-in.md", put_in)]), (0, 0));
    assert_eq!(count(&[("new.md", new)]), (0, 0));
}

/// A journal whose limits are those of its fit, and whose note holds its least reading against them once more.
#[test]
fn what_asks_the_same_of_the_same_readings_is_one_check() {
    let journal = |limits: &str| {
        format!(
            "---\nkind: measurement\nof: post\nfeature: spigot\nstate: as-found\nunit: mm\nlimits: {limits}\n---\n\
             | at | 0° |\n|---|---|\n| end | 50.02 |\n\n```calc\nseat = tolerance_limits(\"j6\", at: 50 mm)\n\
             check @spigot.min within seat.min .. seat.max \"does not creep\"\n```\n"
        )
    };
    let post = "---\nkind: part\nname: Post\ndisposition: reuse\ntags: [carries load]\n---\n";
    let bearing = "---\nkind: part\nname: Bearing\ndisposition: reuse\nfit: {with: post, at: 50 mm, class: H7/j6}\n---\n";
    let found = |limits: &str| {
        let journal = journal(limits);
        fitness("", &[("post.md", post), ("bearing.md", bearing), ("spigot.md", journal.as_str()), DAY])
    };
    let once = found("49.995 mm .. 50.011 mm");
    assert_eq!((once.checks.len(), once.others.len()), (1, 0), "{once:?}");
    let apart = found("49.995 mm .. 50.012 mm");
    assert_eq!((apart.checks.len(), apart.others.len()), (2, 1), "{apart:?}");
}

/// Where no part is tagged nothing is said to hold, however many checks do; what is not met is counted.
#[test]
fn without_a_tag_nothing_is_said_of_what_carries_load() {
    let sums = "---\nkind: question\nasks: How much?\n---\n```calc\npin = pin_shear(force: 10 N, d: 5 mm)\n\
         check 2*pin <= 40 MPa \"sound\"\nwide = 3 m ± 1 m\ncheck wide <= 3.5 m \"gate\"\n```\n";
    let home = ("dossier.yaml", "title: A gate\n");
    let Some(text) = pages(&[home, ("sums.md", sums)]) else { return };
    let cover = text.split("What to do next").next().unwrap();
    assert!(!cover.contains("every load-carrying check holds"), "{cover}");
    assert!(cover.contains("no part has the tag carries load, so these notes do not say"), "{cover}");
    assert!(cover.contains("1 check of these notes is not met, p. "), "{cover}");
}

/// The one list: what carries load stands with the inspector, the rest with the checks, and the sum says so.
#[test]
fn checks_that_are_not_met_are_counted_once_and_listed_once() {
    let table = "---\nkind: part\nname: Table\ndisposition: reuse\n---\n```calc\nbreadth = 3 m\ncheck breadth <= 2 m \"door\"\n```\n";
    let home = ("dossier.yaml", "title: A crane\nton: long\n");
    let Some(text) = pages(&[home, HOOK, DAY, ("table.md", table)]) else { return };
    let (before, after) = text.rsplit_once("Checks that fail or are not settled").unwrap();
    assert!(after.starts_with(" 2 in all; 1 of them concerns what carries load"), "{after}");
    let listed = after.split("Assumed").next().unwrap();
    assert!(listed.contains("breadth") && !listed.contains("width"), "{listed}");
    let inspector = before.rsplit_once("Parts that carry load").unwrap().1;
    assert!(inspector.contains("width: worn 5 in ≤ 4 in fails, 1 in"), "{inspector}");
}

/// Every open step that can't be undone, whatever its state, with the records that it asks for.
#[test]
fn what_cannot_be_undone_stands_in_one_list_with_what_has_to_be_recorded() {
    let cut = |name: &str, more: &str| {
        format!("---\nkind: step\ndoes: {name}\nirreversible: true\nif_wrong: Make a new one.\n{more}---\n")
    };
    let (ream, turn, burn) = (
        cut("Ream the eye", "parts: [eye]\n"),
        cut("Turn the hook", "parts: [hook]\ncalls_for: {length: 90 ft}\n"),
        cut("Burn it off", "parts: [eye]\nstate: done\ndone_on: 2027-06-12\n"),
    );
    let bore =
        "---\nkind: measurement\nof: eye\nfeature: bore\nstate: as-found\nunit: in\nvalue: 1.01\n---\n";
    let notes = [
        ("dossier.yaml", "title: A crane\nton: long\n"),
        HOOK,
        EYE,
        DAY,
        ("bore.md", bore),
        ("ream.md", ream.as_str()),
        ("turn.md", turn.as_str()),
        ("burn.md", burn.as_str()),
    ];
    let Some(text) = pages(&notes) else { return };
    let (cover, rest) = text.split_once("Before such a step").unwrap();
    assert!(cover.contains("1 of 3 0 2 not known"), "two of them in the figures of the cover: {cover}");
    let list = rest.split("For the inspector").next().unwrap();
    for says in [
        "Ream the eye p. ",
        "recorded as found: Eye of the hook p. ",
        "Turn the hook p. ",
        "record first: Hook p. ",
    ] {
        assert!(list.contains(says), "`{says}` is missing from:\n{list}");
    }
    assert!(!list.contains("Burn it off"), "{list}");
}

#[test]
fn the_first_pages_lead_to_what_is_wrong_and_what_is_due() {
    let drain = "---\nkind: step\ndoes: Drain it\nnot_after: 2027-11-30\n---\n";
    let notes = [("dossier.yaml", "title: A crane\nton: long\n"), HOOK, EYE, CRACK, DAY, ("drain.md", drain)];
    let Some(text) = pages(&notes) else { return };
    let first = text.split("All that can be done now").next().unwrap();
    assert!(first.contains("Due by a date by 30 November 2027: Drain it p. "), "{first}");
    let wrong = first.split("Parts with something wrong:").nth(1).unwrap();
    assert!(wrong.starts_with(" Eye of the hook p. ") && !wrong.contains("Hook p."), "{wrong}");
}

#[test]
fn the_cover_answers_first_whether_it_may_be_used() {
    let home = (
        "dossier.yaml",
        "title: A crane\nton: long\nfit_for_use: {words: up to 1 tonf, date: 2027-06-01, signed_by: the engineer}\n",
    );
    let Some(text) = pages(&[home, HOOK, EYE, CRACK, DAY, TACKLE]) else { return };
    let says = [
        "Declared fit for use, and overtaken by what was found since \"up to 1 tonf\", signed by the engineer, 1 June 2027.",
        "overtaken by dangerous findings that are later, or of no known day: Eye of the hook: cracked p. ",
        "Hook p. ",
        "Width, fails, 1 in",
        "lapsed: valid until 31 January 2027",
        "nothing here stands in for that",
    ];
    for each in says {
        assert!(text.contains(each), "`{each}` is missing from:\n{text}");
    }
    let (cover, rest) = text.split_once("What to do next").unwrap();
    assert!(cover.contains("Width, fails") && !cover.contains("opened no further"), "{cover}");
    let inspector = rest.rsplit_once("Parts that carry load").unwrap().1;
    for each in ["opened no further", "holds", "fails", "Test of the tackle", "cracked"] {
        assert!(inspector.contains(each), "`{each}` is missing from:\n{inspector}");
    }
    let Some(bare) = pages(&[("dossier.yaml", "title: A crane\n")]) else { return };
    assert!(
        bare.contains("Not declared fit for use") && bare.contains("Which parts carry load is not said"),
        "{bare}"
    );
}

#[test]
fn chapters_are_left_out_and_moved_and_nothing_breaks() {
    let home = "title: A crane\nton: long\nchapters: [papers, machine, sequence]\n";
    let draw = "---\nkind: step\ndoes: Draw the eye\nparts: [eye]\nhangs_on: [why]\nneeds: [look]\n---\nAfter [[why]] and [[day]].\n";
    let look = "---\nkind: step\ndoes: Look\nat: shed\n---\n";
    let why = "---\nkind: question\nasks: Why is it cracked?\nabout: [eye]\n---\n";
    let shed = "---\nkind: shop\nname: The shed\n---\n";
    let notes = [
        ("dossier.yaml", home),
        HOOK,
        EYE,
        CRACK,
        DAY,
        TACKLE,
        ("draw.md", draw),
        ("look.md", look),
        ("why.md", why),
        ("shed.md", shed),
    ];
    let Some(text) = pages(&notes) else { return };
    let at = |says: &str| text.find(says).unwrap_or_else(|| panic!("`{says}` is missing from:\n{text}"));
    assert!(at("How to read this") < at("Papers"));
    assert!(text.rfind("What documents belong").unwrap() < text.rfind("What it is made of").unwrap());
    assert!(at("(not in this edition)") > 0);
    for gone in ["What is not known yet", "What was done on which day", "Who has what", "Index"] {
        assert!(!text.contains(gone), "`{gone}` was left out: {text}");
    }
}

/// The pages of a PDF by the first line of each.
fn heads(pdf: &Path) -> Option<Vec<String>> {
    let text = outside("pdftotext", &["-layout", pdf.to_str()?, "-"])?;
    Some(
        text.split('\u{c}')
            .map(|page| page.trim_start().lines().next().unwrap_or_default().to_owned())
            .collect(),
    )
}

#[test]
fn the_head_names_what_goes_on_from_the_page_before() {
    let long = format!(
        "---\nkind: part\nname: Long post\ndisposition: reuse\n---\n{}",
        "Words about it.\n\n".repeat(120)
    );
    let notes = [
        ("dossier.yaml", "title: A crane\nchapters: [machine]\n"),
        ("a.md", long.as_str()),
        ("b.md", "---\nkind: part\nname: Short pin\ndisposition: reuse\n---\n"),
    ];
    let dir = project(&notes);
    asfound(dir.path()).args(["build", "crane"]).assert().success();
    let Some(heads) = heads(&dir.path().join("crane/out/dossier.pdf")) else { return };
    let lower: Vec<String> = heads.iter().map(|head| head.to_lowercase()).collect();
    assert!(lower.iter().any(|head| head.contains("long post, continued")), "{heads:?}");
    assert!(lower.iter().all(|head| !head.contains("short pin")), "it stands alone on no page: {heads:?}");
    assert!(lower.iter().any(|head| head.ends_with("how to read this, continued")), "{heads:?}");
}

/// However much stands against the use, the first page says what comes next, and where the rest stands.
#[test]
fn the_first_page_has_room_for_what_comes_next() {
    let finding = |number: usize| {
        let text =
            format!("---\nkind: finding\nabout: hook\ncondition: crack {number}\nseverity: dangerous\n---\n");
        (format!("crack-{number}.md"), text)
    };
    let findings: Vec<(String, String)> = (0..40).map(finding).collect();
    let home = "title: A crane\nton: long\npaper: letter\nfit_for_use: {words: for show, date: 2027-06-01}\n";
    let step = "---\nkind: step\ndoes: Look at it again\n---\n";
    let mut notes = vec![("dossier.yaml", home), HOOK, DAY, TACKLE, ("look.md", step)];
    notes.extend(findings.iter().map(|(path, text)| (path.as_str(), text.as_str())));
    let dir = project(&notes);
    asfound(dir.path()).args(["build", "crane"]).assert().success();
    let pdf = dir.path().join("crane/out/dossier.pdf");
    let Some(first) = outside("pdftotext", &["-l", "1", pdf.to_str().unwrap(), "-"]) else { return };
    let first = first.split_whitespace().collect::<Vec<_>>().join(" ");
    for says in [
        "overtaken by what was found since",
        "more, from p. ",
        "Width, fails",
        "What comes next Look at it again",
    ] {
        assert!(first.contains(says), "`{says}` is missing from:\n{first}");
    }
    assert!(first.matches("crack ").count() < 40, "{first}");
}

/// A page number leads to the line that is meant, not to the head of its record some pages earlier.
#[test]
fn a_page_behind_a_check_is_the_one_that_the_check_stands_on() {
    let part = format!(
        "---\nkind: part\nname: Long post\ndisposition: reuse\ntags: [carries load]\n---\n{}Here it ends.\n\n```calc\n\
         bore = plain_bearing(load: 1 kN, d: 20 mm, length: 20 mm, speed: 10 rpm)\ncheck 1 mm > 2 mm \"ends far down\"\n```\n",
        "Words about it.\n\n".repeat(160)
    );
    let notes = [("dossier.yaml", "title: A crane\nunits: metric\n"), ("a.md", part.as_str())];
    let dir = project(&notes);
    asfound(dir.path()).args(["build", "crane"]).assert().success();
    let pdf = dir.path().join("crane/out/dossier.pdf");
    let Some(text) = outside("pdftotext", &["-layout", pdf.to_str().unwrap(), "-"]) else { return };
    let pages: Vec<String> =
        text.split('\x0c').map(|page| page.split_whitespace().collect::<Vec<_>>().join(" ")).collect();
    let page_of = |words: &str| pages.iter().position(|page| page.contains(words)).unwrap() + 1;
    let (head, check) = (page_of("To be reused"), page_of("Here it ends."));
    assert!(check > head + 1, "{head}, {check}: the part is too short for the test");
    assert!(pages[0].contains(&format!("Long post p. {check}: 1 mm > 2 mm")), "{}", pages[0]);
}
