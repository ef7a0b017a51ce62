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

/// What is off the machine no longer stands against its use; what is only to be scrapped does.
#[test]
fn a_part_counts_until_it_is_off_or_its_successor_is_fitted() {
    let hook =
        |disposition: &str| HOOK.1.replace("disposition: reuse", &format!("disposition: {disposition}"));
    let scrapped = hook("scrap");
    let off = "---\nkind: step\ndoes: Take it off\nremoves: [hook]\nstate: done\ndone_on: 2027-06-12\n---\n";
    let new = "---\nkind: part\nname: New hook\ndisposition: buy\ncost: 9 EUR\nreplaces: [hook]\nsupply: fitted\n---\n";
    let count = |more: &[(&str, &str)]| {
        let found = fitness("", &[&[("hook.md", scrapped.as_str()), DAY], more].concat());
        (found.parts.len(), found.checks.len())
    };
    assert_eq!(count(&[]), (1, 2));
    assert_eq!(count(&[("off.md", off)]), (0, 0));
    assert_eq!(count(&[("new.md", new)]), (0, 0));
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
        "Worn, fails, 1 in",
        "lapsed: valid until 31 January 2027",
        "nothing here stands in for that",
    ];
    for each in says {
        assert!(text.contains(each), "`{each}` is missing from:\n{text}");
    }
    let (cover, rest) = text.split_once("What to do next").unwrap();
    assert!(cover.contains("Worn, fails") && !cover.contains("opened no further"), "{cover}");
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
    for says in
        ["overtaken by what was found since", "more, p. ", "Worn, fails", "What comes next Look at it again"]
    {
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
    assert!(pages[0].contains(&format!("Long post p. {check}: Ends far down")), "{}", pages[0]);
    let index = pages.iter().rev().find(|page| page.contains("plain bearing")).unwrap();
    assert!(index.contains(&format!("plain bearing: Long post {check}")), "{index}");
}
