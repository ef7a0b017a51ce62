//! A project that is as hard on the pages as a keeper could make it: the worst names, the longest tables, the deepest tree.

use std::fmt::Write as _;
use std::path::Path;

use image::DynamicImage;

use crate::check::folder::write;
use crate::photo::pictures::{app1, exif, jpeg, jpeg_with, png, scene, webp};

/// How much of everything.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Size {
    pub parts: usize,
    pub photographs: usize,
    /// Photographs on the note that has most.
    pub on_one: usize,
    pub readings: usize,
    pub rows: usize,
    pub findings_on_one: usize,
    pub steps: usize,
}

pub(crate) const WHOLE: Size = Size {
    parts: 200,
    photographs: 300,
    on_one: 60,
    readings: 200,
    rows: 300,
    findings_on_one: 40,
    steps: 60,
};

pub(crate) const SMALL: Size =
    Size { parts: 30, photographs: 16, on_one: 9, readings: 60, rows: 60, findings_on_one: 12, steps: 12 };

/// A few pages: the reader of tags that the tests use is slow.
pub(crate) const TINY: Size =
    Size { parts: 16, photographs: 4, on_one: 2, readings: 4, rows: 4, findings_on_one: 4, steps: 3 };

/// What plain parts say of themselves.
pub(crate) const SAYS: &str = "A paragraph of no great length that says what the piece does, and where.";

/// Levels of the deepest branch of the tree.
const LEVELS: usize = 12;

/// Names that break what is not ready for them; each is in one line of letters that the embedded faces have.
pub(crate) const NAMES: &[&str] = &[
    "Bracket #1 *left* _and_ $right$ @the [gate] <inner> \\ \"front\" 'rear' ~ `typed`",
    "Κοχλίας σύσφιξης του άνω εδράνου",
    "Подшипник верхний с бронзовой втулкой и стопорным кольцом",
    "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaftsrad",
    "The lower intermediate countershaft pedestal bearing cap with its two brasses, four studs, oil box and the lid of the box",
    "ציר התחתון של המנוף",
    "x",
    "= Not a heading, - not a list, + nor this // not a comment /* nor this */",
];

/// An id of sixty letters: with hyphens, or in one run.
pub(crate) fn id(number: usize) -> String {
    match number % 4 {
        0 => format!("part-{number:03}-{}", "of-the-lower-intermediate-countershaft-pedestal-bearing")
            .chars()
            .take(60)
            .collect(),
        1 => format!("part{number:03}{}", "o".repeat(53)),
        _ => format!("part-{number:03}"),
    }
}

/// The name of a part: the worst ones first, then plain ones. No two are the same.
pub(crate) fn name(number: usize) -> String {
    match NAMES.get(number % (2 * NAMES.len())) {
        Some(worst) => format!("{worst} {number}"),
        None => format!("Plain piece {number}"),
    }
}

/// Writes the whole project into a folder.
pub(crate) fn write_project(dir: &Path, paper: &str, size: Size) {
    write(dir, "dossier.yaml", dossier(paper));
    photographs(dir, size);
    parts(dir, size);
    findings(dir, size);
    measurements(dir, size);
    steps(dir, size);
    write(dir, "questions/why.md", question());
    let shop = "---\nkind: shop\nname: A shop whose name is as long as its list of machines is short, at the far end of the quay\nhas: {lift: 2 t}\nprocesses: [turning]\n---\n";
    write(dir, "shops/far.md", shop);
}

fn dossier(paper: &str) -> String {
    format!(
        "title: The machine whose title is longer than any page head can hold and goes on about its maker, place and year\n\
         keeper: A society of friends with a name of many words, none of which may be left out of anything\n\
         paper: {paper}\nunits: metric\nmoney: EUR\nhours_per_week: 6\nstart: 2026-03-01\nhome: far\n\
         instruments:\n  mic: {{what: outside micrometer 50-75 mm, resolution: 0.01 mm, within: 0.005 mm}}\n"
    )
}

// Parts

fn parts(dir: &Path, size: Size) {
    for number in 0..size.parts {
        let within = match number {
            0 => None,
            _ if number < LEVELS => Some(number - 1),
            _ => Some(number % 5),
        };
        let mut note = format!("---\nkind: part\nname: '{}'\n", name(number).replace('\'', "''"));
        if let Some(within) = within {
            let _ = writeln!(note, "within: {}", id(within));
        }
        let disposition = ["reuse", "rework", "make", "buy", "scrap", "undecided"][number % 6];
        let _ = writeln!(
            note,
            "disposition: {disposition}\nmaterial: a material with a long description, as found {number}"
        );
        if number % 3 == 0 {
            let _ = writeln!(note, "mass: {} kg\ncost: {number}..{} EUR", number + 1, number * 3 + 1);
        }
        if number == LEVELS {
            let _ = writeln!(note, "fit: {{with: {}, at: 60 mm, class: H7/f7}}", id(LEVELS + 1));
        }
        let _ = writeln!(note, "---\n{}", body(number, size));
        write(dir, &format!("parts/{}.md", id(number)), &note);
    }
}

/// Every fifth part has no body; the others take turns.
fn body(number: usize, size: Size) -> String {
    match number {
        6 => long_table(size.rows),
        7 => long_code(),
        8 => formulas(),
        9 => format!("One word: {}\n\nhttps://example.org/{} and <https://example.org/{}>", "a".repeat(300), "path/".repeat(40), "x".repeat(120)),
        10 => "A note[^1] with many[^2] footnotes[^3].\n\n[^1]: The first, which is long enough to take more than the one line that a footnote would like to have at the foot of a page.\n[^2]: The second.\n[^3]: `third`\n".to_owned(),
        11 => "# Head\n\n## Deeper\n\n### Deeper still\n\n- one\n  - two\n    - three\n      - four\n        1. five\n        2. six\n\n> quoted\n> > and again\n\n- [x] done\n- [ ] not done\n".to_owned(),
        _ if number.is_multiple_of(5) => String::new(),
        _ => format!("{SAYS} ").repeat(number % 7),
    }
}

fn long_table(rows: usize) -> String {
    let mut text = "| no. | what was seen | where it was seen, in words that take their room | reading |\n|---|---|---|---:|\n".to_owned();
    for row in 0..rows {
        let _ = writeln!(
            text,
            "| {row} | scored, row{row} | {} | {}.{row} |",
            "further along ".repeat(row % 5),
            row % 13
        );
    }
    text
}

fn long_code() -> String {
    let lines: String = (0..90).fold(String::new(), |mut text, line| {
        let _ = writeln!(text, "line {line} {}", "0123456789 ".repeat(line % 16));
        text
    });
    format!("```\n{lines}{}\n```\n", "unbroken".repeat(40))
}

fn formulas() -> String {
    let terms: Vec<String> = (0..14).map(|number| format!("a_rather_long_name_{number}")).collect();
    let lines: String = terms.iter().enumerate().fold(String::new(), |mut text, (number, term)| {
        let _ = writeln!(text, "{term} = {} mm", number + 1);
        text
    });
    format!(
        "```calc\n{lines}sum_of_all_the_long_names_that_there_are = {}\n\
         nested = ({}) / ({})\ncheck sum_of_all_the_long_names_that_there_are within 1 mm .. 2 m \"a reason that is itself so long that it can't stand in one line beside anything else\"\n```\n",
        terms.join(" + "),
        terms[..7].join(" + "),
        terms[7..].join(" + "),
    )
}

// Findings and photographs

fn findings(dir: &Path, size: Size) {
    for number in 0..size.findings_on_one {
        let severity = ["cosmetic", "minor", "serious", "dangerous"][number % 4];
        let note = format!(
            "---\nkind: finding\nabout: [{}]\nseen: 2026-02-{:02}\ncondition: [worn, 'seen number {number}']\nseverity: {severity}\n---\n{}",
            id(2),
            number % 28 + 1,
            "Seen again from the other side. ".repeat(number % 9)
        );
        write(dir, &format!("findings/seen-{number:03}.md"), &note);
    }
    let mut next = 0;
    let mut with = |count: usize, of: usize, note: &str| {
        let photos: String = (next..next + count).fold(String::new(), |mut text, number| {
            let _ = write!(text, "\n  - file: ../photos/{}\n    shows: {}", file(number), shows(number));
            if number % 7 == 0 {
                text.push_str("\n    marks: [{at: [0.01, 0.02], says: corner}, {at: [0.98, 0.97], says: the other corner}]");
            }
            text
        });
        next += count;
        let note_text = format!(
            "---\nkind: finding\nabout: [{}]\ncondition: photographed\nphotos:{photos}\n---\nText.\n",
            id(of)
        );
        write(dir, &format!("findings/{note}.md"), &note_text);
    };
    with(size.on_one, 3, "album");
    let mut left = size.photographs - size.on_one;
    let mut number = 0;
    while left > 0 {
        let count = (number % 5 + 1).min(left);
        with(count, 4 + number % (size.parts - 5), &format!("shown-{number:03}"));
        left -= count;
        number += 1;
    }
}

fn shows(number: usize) -> String {
    match number % 3 {
        0 => format!("photograph {number}"),
        1 => format!(
            "photograph {number} of the far side, taken with one hand through the lower door while the other held the lamp and nobody held the ladder"
        ),
        _ => format!("photograph {number} {}", "w".repeat(70)),
    }
}

fn file(number: usize) -> String {
    let ending = ["jpg", "png", "webp"][number % 3];
    format!("photo-{number:03}.{ending}")
}

/// Upright, lying, square, very wide and very tall; every fourth JPEG is turned by its orientation only.
fn photographs(dir: &Path, size: Size) {
    const SHAPES: [(u32, u32); 6] = [(640, 480), (480, 640), (500, 500), (1200, 150), (120, 900), (40, 30)];
    std::fs::create_dir_all(dir.join("photos")).unwrap();
    for number in 0..size.photographs {
        let (width, height) = SHAPES[number % SHAPES.len()];
        let picture = scene(width, height);
        let bytes = match number % 3 {
            0 if number % 4 == 0 => jpeg_with(&jpeg(&picture), &[(0xe1, app1(&exif(6, true)))]),
            0 => jpeg(&picture),
            1 => png(&DynamicImage::ImageRgb8(picture)),
            _ => webp(&picture),
        };
        std::fs::write(dir.join("photos").join(file(number)), bytes).unwrap();
    }
}

// Measurements, questions, steps

fn measurements(dir: &Path, size: Size) {
    let mut table = "| along | 0° | 45° | 90° | 135° |\n|---|---|---|---|---|\n".to_owned();
    for row in 0..size.readings {
        let _ = writeln!(
            table,
            "| {row} mm | 59.{:03} | 59.{:03} | 59.{:03} | 59.{:03} |",
            900 + row % 70,
            905 + row % 60,
            910,
            899 + row % 40
        );
    }
    let head = "kind: measurement\nfeature: journal of a feature with a name that fills its line and more\ninstrument: mic\nunit: mm\nnominal: 60 mm\nlimits: 59.94 mm .. 59.97 mm";
    for (state, of) in [("as-found", LEVELS + 1), ("as-left", LEVELS + 1)] {
        write(
            dir,
            &format!("measurements/journal-{state}.md"),
            format!("---\n{head}\nof: {}\nstate: {state}\n---\n{table}\nDone.\n", id(of)),
        );
    }
    let columns: Vec<String> = (0..24).map(|column| format!("{}°", column * 15)).collect();
    let values: Vec<String> = (0..24).map(|column| format!("60.{:03}", column * 3)).collect();
    let wide = format!(
        "| at | {} |\n|{}\n| a station with a long name | {} |\n| b | {2} |\n",
        columns.join(" | "),
        "---|".repeat(25),
        values.join(" | ")
    );
    write(
        dir,
        "measurements/bore.md",
        format!(
            "---\nkind: measurement\nof: {}\nfeature: bore\nstate: as-found\nsurface: inside\ninstrument: mic\nunit: mm\nnominal: 60 mm\nlimits: 60 mm .. 60.03 mm\n---\n{wide}\n",
            id(LEVELS)
        ),
    );
}

fn question() -> String {
    let claim =
        "A theory that needs many words because nobody who holds it has ever been made to put it shortly";
    format!(
        "---\nkind: question\nasks: Why {}?\nabout: [{}, {}]\nstate: open\ntheories:\n  - claim: {claim}\n    for: [album, seen-001, seen-002, seen-003]\n    against: []\n  - claim: {claim}, again\n    for: []\n    against: [journal-as-found]\n---\n",
        "is it so ".repeat(12).trim(),
        id(0),
        id(1)
    )
}

fn steps(dir: &Path, size: Size) {
    for number in 0..size.steps {
        let mut note = format!(
            "---\nkind: step\ndoes: 'Do the work of step {number} {}'\nparts: [{}]\ntakes: {} h\n",
            "very carefully ".repeat(number % 8).trim(),
            id(number % size.parts),
            number % 9 + 1
        );
        if number > 0 {
            let _ =
                writeln!(note, "needs: [step-{:03}]", if number % 4 == 0 { number / 2 } else { number - 1 });
        }
        if number % 3 == 0 {
            note.push_str("at: far\n");
        }
        if number % 11 == 0 {
            note.push_str("hazards: [lifting, hot-work, old-paint]\n");
        }
        note.push_str("---\n");
        write(dir, &format!("steps/step-{number:03}.md"), &note);
    }
}
