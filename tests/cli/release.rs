//! What goes to others: the last look at the finished PDF, and the edition without what stays.

use std::path::Path;

use asfound::Project;
use asfound::release::{Secrets, leaks};

use super::asfound;
use super::scratch::{outside, pdf_text, project, write};

const NOTES: &[(&str, &str)] = &[
    (
        "dossier.yaml",
        "title: The hand crane\nunits: metric\nmoney: GBP\nstart: 2027-03-01\nhome: shed\n\
         keeper_contact: {telephone: 01632 960999}\n",
    ),
    ("shops/shed.md", "---\nkind: shop\nname: The shed\n---\n"),
    (
        "shops/works.md",
        "---\nkind: shop\nname: The works\nmiles: 3\nprocesses: [turning]\nrate: 47 GBP/h\n\
         contact: Ask for Nell, 01632 960123, nell@works.example\n---\n",
    ),
    (
        "parts/post.md",
        "---\nkind: part\nname: Post\ndisposition: rework\ncost: 731 GBP\n---\nThe post stands on the quay.\n\n\
         A new one is 900 GBP.\n\nSee [[theft]].\n\n```calc\nbore = 20 mm\npay = 3 h * (47 GBP / 1 h)\n```\n",
    ),
    (
        "parts/pin.md",
        "---\nkind: part\nname: Pin\nwithin: post\ndisposition: reuse\n---\nIts pay is `calc @post.pay`.\n",
    ),
    (
        "findings/theft.md",
        "---\nkind: finding\nabout: [post]\ncondition: taken from the museum\nprivate: true\n---\n\
         We were never asked where it came from.\n",
    ),
    ("questions/where.md", "---\nkind: question\nasks: Where did it stand?\nabout: [post, theft]\n---\n"),
    (
        "steps/turn.md",
        "---\nkind: step\ndoes: Turn the post\nparts: [post]\nprocesses: [turning]\n---\nTurn it.\n",
    ),
];

fn replaced(built_in: &str, by: &str, with: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates").join(built_in);
    std::fs::read_to_string(path).unwrap().replacen(by, with, 1)
}

/// A template of the keeper's own goes past every other look: what it prints is found in the finished file.
#[test]
fn a_sheet_that_would_tell_what_may_not_go_is_refused() {
    let dir = project(NOTES);
    asfound(dir.path()).args(["sheet", "works", "crane"]).assert().success();
    let out = dir.path().join("crane/out/sheet-works.pdf");
    let places = [
        ("on the page", "#text[Ring (01632) 960-123]", "the contact of `works`, on or in page"),
        (
            "hyphenated",
            "#block(width: 2cm, par(justify: true)[taken from the mu-seum])",
            "private note `theft`",
        ),
        ("cost", "#text[It costs 731#h(2cm)GBP]", "the cost in `post`"),
        ("attachment", "#pdf.attach(\"a.txt\", bytes(\"nell@works.example\"))", "an attachment"),
        ("name of an attachment", "#pdf.attach(\"nell@works.example\", bytes(\"a\"))", "`F` of the file"),
        ("alternative text", "#figure(rect(), alt: \"nell@works.example\")", "`Alt` of the file"),
        ("bookmark", "#heading(bookmarked: true)[01632 960123]", "`Title` of the file"),
        ("metadata", "#set document(keywords: (\"nell@works.example\",))", "contact of `works`"),
        (
            "destination",
            "#heading[A]<nell-works-example>#link(<nell-works-example>)[x]",
            "contact of `works`",
        ),
    ];
    for (what, typst, said) in places {
        std::fs::remove_file(&out).ok();
        let mark = "#letter-head(";
        let template = replaced("sheet.typ", mark, &format!("{typst}\n{mark}"));
        std::fs::create_dir_all(dir.path().join("own")).unwrap();
        std::fs::write(dir.path().join("own/sheet.typ"), template).unwrap();
        let result = asfound(dir.path())
            .args(["sheet", "works", "crane", "--draft", "--templates", "own"])
            .assert()
            .code(1);
        let told = String::from_utf8(result.get_output().stderr.clone()).unwrap();
        assert!(told.contains("may not go: ") && told.contains(said), "{what}: {told}");
        assert!(!out.exists(), "{what} was written");
    }
}

#[test]
fn what_the_keeper_lets_through_is_no_leak() {
    let dir = project(NOTES);
    write(
        dir.path(),
        "steps/turn.md",
        "---\nkind: step\ndoes: Turn the post\nparts: [post]\nprocesses: [turning]\nfor_helpers: [01632 960123]\n---\nRing 01632 960123.\n",
    );
    asfound(dir.path()).args(["sheet", "works", "crane"]).assert().success();
}

#[test]
fn an_edition_for_others_holds_no_private_note_contact_or_cost() {
    let dir = project(NOTES);
    let result = asfound(dir.path()).args(["build", "--for-others", "crane"]).assert().success();
    let said = String::from_utf8(result.get_output().stderr.clone()).unwrap();
    assert!(said.contains("without private notes, contacts and costs"), "{said}");
    let path = dir.path().join("crane/out/dossier-for-others.pdf");
    assert!(!dir.path().join("crane/out/dossier.pdf").exists());
    let whole = Project::open(&dir.path().join("crane")).unwrap();
    let pdf = std::fs::read(&path).unwrap();
    assert_eq!(leaks(&pdf, &Secrets::of(&whole)), Some(Vec::new()));
    let Some(text) = pdf_text(&path) else { return };
    for kept in ["The post stands on the quay", "[kept back]", "Where did it stand?", "without private notes"]
    {
        assert!(text.contains(kept), "{kept} is missing in {text}");
    }
    for gone in ["museum", "900 GBP", "Nell", "960123", "731", "47 GBP", "theft"] {
        assert!(!text.contains(gone), "{gone} is in {text}");
    }
    if let Some(list) = outside("pdfdetach", &["-list", path.to_str().unwrap()]) {
        assert!(list.contains("parts--post.md") && !list.contains("theft"), "{list}");
    }
}

/// The full dossier holds all of it, and the look finds that: the law above is no empty one.
#[test]
fn the_full_dossier_leaks_every_kind() {
    let dir = project(NOTES);
    let result = asfound(dir.path()).args(["build", "crane", "--issue", "for the yard"]).assert().success();
    let said = String::from_utf8(result.get_output().stderr.clone()).unwrap();
    assert!(said.contains("It is the full dossier, with private notes, contacts and costs"), "{said}");
    let whole = Project::open(&dir.path().join("crane")).unwrap();
    let pdf = std::fs::read(dir.path().join("crane/out/dossier.pdf")).unwrap();
    let found = leaks(&pdf, &Secrets::of(&whole)).unwrap();
    for what in ["the contact of `works`", "a text of the private note `theft`", "the cost in `works`"] {
        for place in ["page ", "an attachment"] {
            let told = found.iter().any(|leak| leak.what == what && leak.place.starts_with(place));
            assert!(told, "{what}, {place}: {found:?}");
        }
    }
}

/// A danger that only a private note tells of: the copy without it must not read as if there were none.
#[test]
fn an_edition_for_others_declares_nothing_that_a_private_note_contradicts() {
    let ways = [
        "title: A crane\nton: long\nfit_for_use:\n  words: up to 1 tonf\n  date: 2027-02-01\nunits: inch\n",
        "title: A crane\n\"fit_for_use\": {words: up to 1 tonf, date: 2027-02-01}\nton: long\nunits: inch\n",
        "{title: A crane, ton: long, 'fit_for_use': {words: up to 1 tonf, date: 2027-02-01}, units: inch}\n",
    ];
    let part = "---\nkind: part\nname: Hook\ndisposition: reuse\ntags: [carries load]\n---\nA hook.\n";
    let crack = |private: &str| {
        format!(
            "---\nkind: finding\nabout: hook\ncondition: cracked\nseverity: dangerous\nseen: 2027-02-01\n{private}---\n"
        )
    };
    let said = |declared: &str, private: &str| {
        let crack = crack(private);
        let dir = project(&[("dossier.yaml", declared), ("hook.md", part), ("crack.md", crack.as_str())]);
        let whole = Project::open(&dir.path().join("crane")).unwrap();
        assert!(!whole.fitness.is_unopposed());
        let copy = asfound::release::for_others(&whole, &Secrets::of(&whole));
        let about = &copy.sources.file(copy.sources.find("dossier.yaml").unwrap()).text;
        assert!(about.contains("title: A crane") && about.contains("units: inch"), "{about}");
        assert_eq!(about.contains("up to 1"), private.is_empty(), "{about}");
        assert!(!copy.has_errors(), "{:?}", copy.problems());
        (copy.dossier.about.fit_for_use.is_some(), copy.fitness.standing.clone())
    };
    for way in ways {
        assert_eq!(said(way, "private: true\n"), (false, asfound::fitness::Standing::NotDeclared));
        assert_eq!(said(way, ""), (true, asfound::fitness::Standing::Declared));
    }
}

/// A front matter between brackets loses its costs, its contact and its links to what is private, and nothing else.
#[test]
fn keys_between_brackets_are_left_out_alone() {
    let dir = project(NOTES);
    write(
        dir.path(),
        "shops/works.md",
        "---\n{kind: shop, name: The works, rate: 47 GBP/h, \"contact\": \"Ask for Nell, 01632 960123\", processes: [turning]}\n---\n",
    );
    write(
        dir.path(),
        "questions/where.md",
        "---\n{kind: question, about: theft, asks: Where did it stand?}\n---\n",
    );
    let whole = Project::open(&dir.path().join("crane")).unwrap();
    assert!(!whole.has_errors(), "{:?}", whole.problems());
    let copy = asfound::release::for_others(&whole, &Secrets::of(&whole));
    let text = |path: &str| copy.sources.file(copy.sources.find(path).unwrap()).text.clone();
    let works = text("shops/works.md");
    assert!(works.contains("name: The works") && works.contains("processes: [turning]"), "{works}");
    assert!(!works.contains("47") && !works.contains("Nell"), "{works}");
    let question = text("questions/where.md");
    assert!(question.contains("asks: Where did it stand?") && !question.contains("theft"), "{question}");
    assert!(!copy.has_errors(), "{:?}", copy.problems());
}

/// The amounts of a table whose head names the currency.
#[test]
fn a_bare_figure_under_a_currency_is_a_cost() {
    let dir = project(NOTES);
    let step = "---\nkind: step\ndoes: Turn the post\nparts: [post]\nprocesses: [turning]\n---\nTurn it.\n\n\
                | piece | GBP | length |\n|---|---|---|\n| bronze bush | 512 | 40 |\n\n\
                | piece | mm |\n|---|---|\n| bronze ring | 613 |\n";
    write(dir.path(), "steps/turn.md", step);
    let result = asfound(dir.path()).args(["sheet", "works", "crane"]).assert().success();
    let said = String::from_utf8(result.get_output().stderr.clone()).unwrap();
    assert!(said.contains("it tells of money"), "{said}");
    if let Some(text) = pdf_text(&dir.path().join("crane/out/sheet-works.pdf")) {
        assert!(!text.contains("512") && text.contains("613"), "{text}");
    }
    asfound(dir.path()).args(["build", "crane"]).assert().success();
    let whole = Project::open(&dir.path().join("crane")).unwrap();
    let pdf = std::fs::read(dir.path().join("crane/out/dossier.pdf")).unwrap();
    let found = leaks(&pdf, &Secrets::of(&whole)).unwrap();
    assert!(
        found.iter().any(|leak| leak.what == "a cost in `turn`" && leak.place.starts_with("page ")),
        "{found:?}"
    );
    asfound(dir.path()).args(["build", "--for-others", "crane"]).assert().success();
    if let Some(text) = pdf_text(&dir.path().join("crane/out/dossier-for-others.pdf")) {
        assert!(!text.contains("512") && text.contains("613"), "{text}");
    }
}
