//! Notes and files from strangers: nothing in them runs, hangs, or stops a build that `check` lets pass.

use std::path::Path;

use asfound::render::{Edition, Templates, dossier};
use asfound::source::Sources;
use asfound::typeset::Folder;
use asfound::{Outlook, Project};
use proptest::prelude::*;
use typst::syntax::{SyntaxKind, SyntaxNode, parse};

use super::asfound;
use super::scratch::{pdf_text, project, write};

/// Paths and texts.
pub(super) type Notes = Vec<(String, String)>;

pub(super) const ABOUT: &str =
    "title: The hand crane\nunits: metric\nmoney: GBP\nstart: 2027-03-01\nhome: shed\n";

pub(super) fn part(name: &str, body: &str) -> String {
    format!("---\nkind: part\nname: {name}\ndisposition: reuse\n---\n{body}\n")
}

/// What the page setter is given for these notes.
pub(super) fn made(notes: &[(String, String)]) -> Folder {
    let project = Project::from_sources(Sources::in_memory(notes.iter().cloned()), Vec::new());
    let outlook = Outlook::of(&project);
    let edition = Edition::new(&project, &outlook, None, true);
    dossier(&edition, &Templates::load(None).unwrap()).unwrap()
}

/// Whether code names `evil` anywhere, or a file can't be parsed.
pub(super) fn runs(folder: &Folder) -> Option<String> {
    fn names_it(node: &SyntaxNode) -> bool {
        let is_name = matches!(node.kind(), SyntaxKind::Ident | SyntaxKind::MathIdent);
        is_name && node.leaf_text().contains("evil") || node.children().any(names_it)
    }
    let made = folder.iter().filter(|(path, _)| path.ends_with(".typ") && !path.starts_with("/look/"));
    for (path, bytes) in made {
        let text = std::str::from_utf8(bytes).unwrap();
        let root = parse(text);
        if names_it(&root) || !root.errors_and_warnings().0.is_empty() {
            return Some(format!("{path}:\n{text}"));
        }
    }
    None
}

/// Texts that would be code where they are put into made text as they are.
fn hostile() -> impl Strategy<Value = String> {
    let pieces = prop::sample::select(vec![
        "#evil()",
        "\n#evil()\n",
        "]#evil()[",
        "\"+evil()+\"",
        "$evil$",
        "*/ #evil() /*",
        "\\",
        "#{evil}",
        "`",
        "\"",
        "'",
        "// ",
        "[",
        "]",
        "<evil>",
        "@evil",
        "{{ evil }}",
        "{% evil %}",
        "\u{7}",
        "\u{1b}[31m",
        "\r",
        "\t",
        "\u{2028}",
        "= ",
        "- ",
        "a",
        "é",
        "図",
        "\u{1f527}",
        "&#10;",
        "|",
        "_",
        "*",
    ]);
    prop::collection::vec(pieces, 1..6).prop_map(|pieces| pieces.concat())
}

/// As a value in double quotes in YAML.
pub(super) fn in_yaml(text: &str) -> String {
    serde_json::to_string(text).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Names of files, ids, texts of keys and bodies: the made text parses, and runs nothing of theirs.
    #[test]
    fn no_text_of_a_note_runs(name in hostile(), id in hostile(), key in hostile(), body in hostile()) {
        let key = in_yaml(&key);
        let notes = [
            ("dossier.yaml".to_owned(), format!("{ABOUT}keeper: {key}\nmachine: {{kind: {key}}}\n")),
            ("shops/shed.md".to_owned(), format!("---\nkind: shop\nname: {key}\ncontact: {key}\n---\n{body}\n")),
            (format!("parts/{name}.md"), part(&key, &format!("{body}\n\n`{body}`\n\n```\n{body}\n```\n"))),
            ("parts/a.md".to_owned(), format!("---\nkind: part\nid: {}\nname: a\n---\n> {body}\n", in_yaml(&id))),
            ("parts/b.md".to_owned(), part("b", &format!("```calc\na = 2 mm # {}\n```\n| a |\n|---|\n| {} |\n",
                body.replace(['\n', '\r'], " "), body.replace(['\n', '\r'], " ")))),
            ("m/m.md".to_owned(), format!("---\nkind: measurement\nof: b\nfeature: {key}\nunit: mm\n---\n| at | {0} |\n|---|---|\n| {0} | 20 |\n",
                body.replace(['\n', '\r', '|'], " "))),
            ("f/f.md".to_owned(), format!("---\nkind: finding\nabout: [b]\ncondition: {key}\n---\n[{body}](https://example.org/{body})\n")),
        ];
        prop_assert_eq!(runs(&made(&notes)), None);
    }
}

#[test]
fn the_end_of_a_line_in_a_name_ends_no_comment() {
    let notes = [
        ("dossier.yaml".to_owned(), ABOUT.to_owned()),
        ("parts/a\n#evil() .md".to_owned(), part("Post", "A text.")),
    ];
    assert_eq!(runs(&made(&notes)), None);
}

/// Names of files that a project may have.
const NAMES: &[&str] = &[
    "図面",
    "🔧",
    "محور",
    "a\\b",
    "a\nb",
    "a#b",
    "a%20b",
    "\"q\"",
    "$x$",
    "‹U+0041›",
    "a b",
    "-x",
    "~",
    "e\u{301}",
];

#[test]
fn files_of_any_name_are_built_and_attached() {
    let dir = project(&[("dossier.yaml", ABOUT), ("shops/shed.md", "---\nkind: shop\nname: Shed\n---\n")]);
    for (at, name) in NAMES.iter().enumerate() {
        let note = part("Post", "A text.").replacen("name", &format!("id: part-{at}\nname"), 1);
        write(dir.path(), &format!("parts/{name}.md"), &note);
        write(dir.path(), &format!("papers/{name}.txt"), "a paper");
        let paper = format!(
            "---\nkind: paper\nid: paper-{at}\ntitle: A paper\nfile: {}\n---\n",
            in_yaml(&format!("{name}.txt"))
        );
        write(dir.path(), &format!("papers/p {name}.md"), &paper);
    }
    write_bytes_named(dir.path(), &[b"a\xff.md", b"a\xfe.md"]);
    asfound(dir.path()).args(["check", "crane"]).assert().success();
    asfound(dir.path()).args(["build", "crane"]).assert().success();
    if let Some(list) = super::scratch::outside(
        "pdfdetach",
        &["-list", dir.path().join("crane/out/dossier.pdf").to_str().unwrap()],
    ) {
        assert!(list.contains("parts--__.md"), "{list}");
        assert!(list.contains("parts--a_b-2.md"), "{list}");
    }
}

#[cfg(unix)]
fn write_bytes_named(dir: &Path, names: &[&[u8]]) {
    use std::os::unix::ffi::OsStrExt;
    for (at, name) in names.iter().enumerate() {
        let path = dir.join("crane/parts").join(std::ffi::OsStr::from_bytes(name));
        std::fs::write(
            path,
            format!("---\nkind: part\nid: invalid-{at}\nname: Post\ndisposition: reuse\n---\n"),
        )
        .unwrap();
    }
}

#[cfg(not(unix))]
fn write_bytes_named(_: &Path, _: &[&[u8]]) {}

#[test]
fn a_text_that_is_no_note_is_not_attached() {
    let notes = [
        ("dossier.yaml".to_owned(), ABOUT.to_owned()),
        ("parts/post.md".to_owned(), part("Post", "A text.")),
        ("old/diary.md".to_owned(), "Nobody's business.\n".to_owned()),
    ];
    let folder = made(&notes);
    assert!(folder.values().all(|bytes| !String::from_utf8_lossy(bytes).contains("business")));
    assert!(folder.values().any(|bytes| String::from_utf8_lossy(bytes).contains("name: Post")));
}

#[test]
fn control_characters_in_a_table_of_readings_are_set() {
    let dir = project(&[
        ("dossier.yaml", ABOUT),
        ("shops/shed.md", "---\nkind: shop\nname: Shed\n---\n"),
        ("parts/post.md", &part("Post", "A text.")),
        (
            "measurements/dia.md",
            "---\nkind: measurement\nof: post\nfeature: journal\nunit: mm\n---\n| at | 0° | 90° |\n|---|---|---|\n\
             | a\u{1b}b | 20 | 20 |\n| b\u{7} | 20 | 20 |\n",
        ),
    ]);
    asfound(dir.path()).args(["build", "crane"]).assert().success();
}

/// Whatever passes `check` is built: at the limit of every nesting and length.
#[test]
fn what_check_passes_is_built() {
    let lists: String = (0..12).map(|level| format!("{}- x\n", "  ".repeat(level))).collect();
    let quoted_lists = format!("{}- x\n", "> - ".repeat(6));
    for body in [
        format!("{} x", "> ".repeat(9)),
        format!("{}{}x", "> ".repeat(5), "- ".repeat(9)),
        quoted_lists,
        lists,
        format!("{}x{}", "*_".repeat(19), "_*".repeat(19)),
        format!("# {}", "x".repeat(1000)),
        "x".repeat(40_000),
        format!("e{}", "\u{301}".repeat(30)),
        format!("x[^1]{}\n\n[^1]: A note.\n", " x[^1]".repeat(300)),
    ] {
        let dir = project(&[
            ("dossier.yaml", ABOUT),
            ("shops/shed.md", &format!("---\nkind: shop\nname: Shed\n---\n{body}\n")),
            ("parts/post.md", &part(&"x".repeat(1000), &body)),
            ("f/f.md", &format!("---\nkind: finding\nabout: [post]\ncondition: worn\n---\n{body}\n")),
            ("steps/turn.md", &format!("---\nkind: step\ndoes: Turn it\nparts: [post]\n---\n{body}\n")),
        ]);
        asfound(dir.path()).args(["check", "crane"]).assert().success();
        asfound(dir.path()).args(["build", "--draft", "crane"]).assert().success();
    }
}

#[test]
fn a_footnote_that_is_marked_often_is_set_once() {
    let body = format!("x[^1]{}\n\n[^1]: Of the keeper's kettle.\n", " x[^1]".repeat(20));
    let dir = project(&[
        ("dossier.yaml", ABOUT),
        ("shops/shed.md", "---\nkind: shop\nname: Shed\n---\n"),
        ("parts/post.md", &part("Post", &body)),
        ("parts/bush.md", &part("Bush", &body)),
    ]);
    asfound(dir.path()).args(["build", "crane"]).assert().success();
    if let Some(text) = pdf_text(&dir.path().join("crane/out/dossier.pdf")) {
        assert_eq!(text.matches("Of the keeper").count(), 2, "once for each note");
    }
}

/// A photograph that goes wrong in the middle: its head and its end are whole.
#[test]
fn a_picture_damaged_in_the_middle_is_reported_by_check_with_the_note_that_shows_it() {
    let dir = project(&[
        ("dossier.yaml", ABOUT),
        ("shops/shed.md", "---\nkind: shop\nname: Shed\n---\n"),
        ("parts/post.md", &part("Post", "![The post](post.png)")),
    ]);
    let picture = image::RgbImage::from_fn(64, 64, |x, y| image::Rgb([x as u8, y as u8, 7]));
    let path = dir.path().join("crane/parts/post.png");
    picture.save(&path).unwrap();
    asfound(dir.path()).args(["check", "crane"]).assert().success();
    let mut bytes = std::fs::read(&path).unwrap();
    let middle = bytes.len() / 2;
    bytes[middle..middle + 40].fill(0x55);
    std::fs::write(&path, bytes).unwrap();
    let result = asfound(dir.path()).args(["check", "--format", "short", "crane"]).assert().code(1);
    let said = String::from_utf8(result.get_output().stdout.clone()).unwrap();
    assert!(said.starts_with("parts/post.md:6:1: error[picture]: `post.png`"), "{said}");
}

#[test]
fn problems_are_printed_up_to_a_few_hundred_and_all_of_them_as_json() {
    let links: String = (0..1000).map(|number| format!("[[nowhere{number}]]\n\n")).collect();
    let dir = project(&[
        ("dossier.yaml", ABOUT),
        ("shops/shed.md", "---\nkind: shop\nname: Shed\n---\n"),
        ("parts/post.md", &part("Post", &links)),
    ]);
    let printed = |format: &str| {
        let result = asfound(dir.path()).args(["check", "--format", format, "crane"]).assert().code(1);
        String::from_utf8(result.get_output().stdout.clone()).unwrap()
    };
    for format in ["text", "short"] {
        let said = printed(format);
        assert_eq!(said.matches("error[link-nowhere]").count(), 300);
        assert!(said.contains("700 problems more are not printed here"), "{said}");
    }
    assert_eq!(printed("json").matches("\"link-nowhere\"").count(), 1000);
}

/// Each doubling takes no more than it must: minutes before, moments now.
#[test]
fn what_grows_without_end_is_refused_with_its_place() {
    let lists: String = (1..40).map(|number| format!("a{number} = [a{0}, a{0}]\n", number - 1)).collect();
    let deep: Vec<(String, String)> = (0..300)
        .map(|number| {
            let within = if number > 0 { format!("within: p{}\n", number - 1) } else { String::new() };
            (
                format!("parts/p{number}.md"),
                format!("---\nkind: part\nname: P\ndisposition: reuse\n{within}---\n"),
            )
        })
        .collect();
    let readings = "| a | 20 | 20 |\n".repeat(5001);
    let cases: [(&str, &str, Notes); 6] = [
        (
            "calc-limit",
            "lists",
            vec![("parts/a.md".into(), part("A", &format!("```calc\na0 = [1, 1]\n{lists}```\n")))],
        ),
        ("limit", "parts within parts", deep),
        (
            "limit",
            "readings",
            vec![
                ("parts/a.md".into(), part("A", "")),
                (
                    "m/m.md".into(),
                    format!(
                        "---\nkind: measurement\nof: a\nfeature: bore\nunit: mm\n---\n| at | 0 | 1 |\n|---|---|---|\n{readings}"
                    ),
                ),
            ],
        ),
        ("limit", "a long name", vec![("parts/a.md".into(), part(&"x".repeat(1001), ""))]),
        (
            "limit",
            "a long heading",
            vec![("parts/a.md".into(), part("A", &format!("# {}", "x".repeat(1001))))],
        ),
        ("limit", "marks", vec![("parts/a.md".into(), part("A", &format!("e{}", "\u{301}".repeat(31))))]),
    ];
    for (code, what, mut notes) in cases {
        notes.push(("dossier.yaml".into(), ABOUT.into()));
        notes.push(("shops/shed.md".into(), "---\nkind: shop\nname: Shed\n---\n".into()));
        let project = Project::from_sources(Sources::in_memory(notes), Vec::new());
        let found = project.problems().iter().find(|problem| problem.code.word == code);
        assert!(
            found.is_some_and(|problem| problem.place.is_some() && !problem.help.is_empty()),
            "{what}: {:?}",
            project.problems()
        );
    }
}

#[test]
fn past_the_limit_of_steps_one_fault_is_enough() {
    let lines: String =
        (1..8000).map(|number| format!("a{number} = a{} + (1 ± 0.1)\n", number - 1)).collect();
    let notes = [
        ("dossier.yaml".to_owned(), ABOUT.to_owned()),
        ("shops/shed.md".to_owned(), "---\nkind: shop\nname: Shed\n---\n".to_owned()),
        ("parts/a.md".to_owned(), part("A", &format!("```calc\na0 = 1\n{lines}```\n"))),
    ];
    let project = Project::from_sources(Sources::in_memory(notes), Vec::new());
    assert_eq!(project.problems().iter().filter(|problem| problem.code.word == "calc-limit").count(), 1);
}

/// The book's page has every limit.
#[test]
fn the_page_of_limits_has_them_all() {
    use asfound::limits as of;
    let page =
        std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("book/src/problems/limit.md"))
            .unwrap();
    let rows = [
        format!("| {} letters |", of::LONGEST_TEXT),
        format!("one letter | {} |", of::MOST_MARKS),
        format!("a quote counts as | {} |", of::LEVELS_OF_QUOTE),
        format!("each other | {} levels |", of::DEEPEST_BLOCK),
        format!("keys within keys | {} levels |", of::DEEPEST_KEY),
        format!("one measurement | {} |", of::MOST_READINGS),
        format!("parts within parts | {} levels |", of::DEEPEST_PART),
        format!("| {} |", asfound::calc::evaluate::MOST_STEPS),
        format!("a note | {} MiB |", asfound::source::LARGEST_NOTE >> 20),
        format!("a paper | {} MiB |", asfound::source::LARGEST_FILE >> 20),
        format!("a picture | {} |", asfound::photo::MOST_PIXELS),
    ];
    for row in rows {
        assert!(page.contains(&row), "{row}");
    }
}

/// Two notes that are always saved as a pair are never read as half of one and half of the other.
#[test]
fn notes_saved_while_they_are_read_are_read_again() {
    let dir = project(&[("dossier.yaml", ABOUT), ("shops/shed.md", "---\nkind: shop\nname: Shed\n---\n")]);
    let many = "x".repeat(2000);
    let save = |round: usize| {
        write(dir.path(), "parts/a.md", &part("A", &format!("{many} state {round} end")));
        write(dir.path(), "parts/z.md", &part("Z", &format!("{many} state {round} end")));
    };
    for number in 0..200 {
        write(dir.path(), &format!("parts/m{number}.md"), &part("M", &many));
    }
    save(0);
    let ended = std::sync::atomic::AtomicBool::new(false);
    std::thread::scope(|scope| {
        scope.spawn(|| {
            for round in 1.. {
                if ended.load(std::sync::atomic::Ordering::Relaxed) {
                    break;
                }
                save(round);
                std::thread::sleep(std::time::Duration::from_millis(300));
            }
        });
        let crane = dir.path().join("crane");
        for _ in 0..8 {
            let (sources, _) = Sources::load(&crane).unwrap();
            let state = |path: &str| {
                let text = &sources.file(sources.find(path).unwrap()).text;
                text.split("state ")
                    .nth(1)
                    .unwrap_or_default()
                    .split(' ')
                    .next()
                    .unwrap_or_default()
                    .to_owned()
            };
            assert_eq!(state("parts/a.md"), state("parts/z.md"));
        }
        ended.store(true, std::sync::atomic::Ordering::Relaxed);
    });
}

/// Puts a picture in place as an editor saves it: whole.
fn save_picture(dir: &Path, width: usize) {
    let drawing = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"9\"><rect width=\"9\" height=\"9\"/></svg>"
    );
    let folder = dir.join("crane/parts");
    std::fs::write(folder.join(".saving"), drawing).unwrap();
    std::fs::rename(folder.join(".saving"), folder.join("post.svg")).unwrap();
}

fn with_a_picture() -> tempfile::TempDir {
    let dir = project(&[
        ("dossier.yaml", ABOUT),
        ("shops/shed.md", "---\nkind: shop\nname: Shed\n---\n"),
        ("parts/post.md", &part("Post", "![The post](post.svg)")),
    ]);
    save_picture(dir.path(), 10);
    dir
}

#[test]
fn nothing_is_written_while_pictures_change_without_end() {
    let dir = with_a_picture();
    let ended = std::sync::atomic::AtomicBool::new(false);
    std::thread::scope(|scope| {
        scope.spawn(|| {
            for round in 0.. {
                if ended.load(std::sync::atomic::Ordering::Relaxed) {
                    break;
                }
                save_picture(dir.path(), 10 + round % 90);
                std::thread::sleep(std::time::Duration::from_millis(5));
            }
        });
        let result = asfound(dir.path()).args(["build", "crane"]).output().unwrap();
        ended.store(true, std::sync::atomic::Ordering::Relaxed);
        let said = String::from_utf8_lossy(&result.stderr);
        assert_eq!(result.status.code(), Some(2), "{said}");
        assert!(said.contains("change while they are read; nothing was written"), "{said}");
    });
    assert!(!dir.path().join("crane/out").exists());
    asfound(dir.path()).args(["build", "crane"]).assert().success();
}

/// Whenever a picture is saved during a build, the dossier is the one of the picture as saved.
#[test]
fn a_picture_saved_during_a_build_is_in_it() {
    let dir = with_a_picture();
    let pdf = || std::fs::read(dir.path().join("crane/out/dossier.pdf")).unwrap();
    for (round, pause) in [20, 100, 300].into_iter().enumerate() {
        std::thread::scope(|scope| {
            scope.spawn(|| {
                std::thread::sleep(std::time::Duration::from_millis(pause));
                save_picture(dir.path(), 20 + round);
            });
            asfound(dir.path()).args(["build", "crane"]).assert().success();
        });
        let built = pdf();
        asfound(dir.path()).args(["build", "crane"]).assert().success();
        assert!(built == pdf() || pause == 300, "saved {pause} ms after the start");
    }
}

#[test]
fn parts_that_replace_each_other_are_an_error() {
    let one = |id: &str, old: &str| {
        (
            format!("parts/{id}.md"),
            format!("---\nkind: part\nname: A\ndisposition: reuse\nreplaces: [{old}]\n---\n"),
        )
    };
    let notes = [("dossier.yaml".to_owned(), ABOUT.to_owned()), one("a", "b"), one("b", "c"), one("c", "a")];
    let project = Project::from_sources(Sources::in_memory(notes), Vec::new());
    let told: Vec<&str> = project
        .problems()
        .iter()
        .filter(|problem| problem.code.word == "part-circle")
        .map(|problem| problem.message.as_str())
        .collect();
    assert_eq!(told, ["a part replaces itself: `a` replaces `b` replaces `c` replaces `a`"]);
}
