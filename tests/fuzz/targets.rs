//! What is fed with mutated texts, and the law each has to keep. A panic is a breach too.

use std::path::Path;

use asfound::calc::literal::Literal;
use asfound::calc::sheet::{Block, Scope, SourceLine, evaluate};
use asfound::calc::uncertainty;
use asfound::calc::units::{Settings, Units};
use asfound::diagnostic::{Format, Problem, show};
use asfound::drafting::{Sheet, Title, clashes, draw};
use asfound::note::{self, body};
use asfound::render::{Addressee, Edition, Templates, bill_csv, dossier, sequence_svg, sheet, state_json};
use asfound::shape::{Allowance, work_out};
use asfound::source::Sources;
use asfound::{Outlook, Project, trade};
use typst::syntax::{SyntaxKind, SyntaxNode, parse};

/// A kind of text, where to begin, and what has to hold for every text.
pub(crate) struct Target {
    pub(crate) name: &'static str,
    pub(crate) corpus: fn() -> Vec<String>,
    pub(crate) words: &'static [&'static str],
    pub(crate) law: fn(&str) -> Result<(), String>,
    /// How many the test suite runs.
    pub(crate) few: usize,
}

pub(crate) const TARGETS: [Target; 8] = [
    Target { name: "front-matter", corpus: front_matter, words: YAML, law: front_matter_law, few: 150 },
    Target { name: "markdown", corpus: bodies, words: MARKDOWN, law: markdown_law, few: 300 },
    Target { name: "quantity", corpus: quantities, words: CALC, law: quantity_law, few: 3000 },
    Target { name: "calculation", corpus: calculations, words: CALC, law: calculation_law, few: 200 },
    Target { name: "readings", corpus: readings, words: MARKDOWN, law: readings_law, few: 150 },
    Target { name: "shape", corpus: shapes, words: SHAPE, law: shape_law, few: 60 },
    Target { name: "project", corpus: projects, words: YAML, law: project_law, few: 6 },
    Target { name: "pages", corpus: bodies, words: TYPST, law: pages_law, few: 6 },
];

const YAML: &[&str] = &[
    "---\n",
    ": ",
    "- ",
    "[",
    "]",
    "{",
    "}",
    "&a ",
    "*a",
    "<<: *a\n",
    "!!binary ",
    "|\n",
    ">\n",
    "? ",
    "\"",
    "'",
    "\\x07",
    "# ",
    "%YAML 1.2\n",
    "...\n",
    "kind: part\n",
    "kind: step\n",
    "id: spindle\n",
    "within: spindle\n",
    "after: [spindle]\n",
    "private: true\n",
    "replaces: spindle\n",
    "mass: 1e308 t\n",
    "hours: -1 .. 1e9\n",
    "2027-02-30",
    "0000-00-00",
    "~",
    "true",
];
const MARKDOWN: &[&str] = &[
    "> ",
    "- ",
    "1. ",
    "```\n",
    "```calc\n",
    "~~~\n",
    "|",
    "|---|",
    "[[",
    "]]",
    "[^1]",
    "[^1]: ",
    "![",
    "](",
    ")",
    "<b>",
    "<!--",
    "&#0;",
    "*",
    "_",
    "~~",
    "`",
    "\\",
    "\t",
    "    ",
    "\r\n",
    "`calc 2 mm`",
    "# ",
    "***\n",
    "- [x] ",
    "@a.b",
];
const CALC: &[&str] = &[
    "(",
    ")",
    "+",
    "-",
    "*",
    "/",
    "^",
    "=",
    ">=",
    " to ",
    " mm",
    " in",
    " degC",
    " ± ",
    " .. ",
    "+0.1/-0",
    "1/2",
    "check ",
    "assume ",
    "sqrt(",
    "min(",
    "interpolate(",
    "@note.a",
    "a",
    "f(x) = ",
    "# ",
    "\"",
    "1e308",
    "deg",
    "%",
    "^(1/3)",
    "?",
    "press_fit(",
    "hole: ",
    ",",
    "_",
    "long ton",
    "'",
    "ft",
    "µm",
    "N·m",
];
const SHAPE: &[&str] = &[
    "hold: x",
    "0 mm",
    "-1 mm",
    "1e9 mm",
    "through",
    " H7",
    " f7",
    "M10",
    "M10 x 1",
    "{",
    "}",
    "[",
    "]",
    "radius: 1 mm",
    "chamfer: 9 mm",
    "keyway: 8 mm",
    "= a",
    "(40 mm)",
    "± 1 mm",
    "as: a",
    "on_circle: 5 mm, count: 99999",
    "taper",
    "to: 0 mm",
    "disc: 1 mm",
    "rectangle: 1 mm x 1 mm",
    "1/64 in",
    "at: 1 m",
    "deep: through",
];
const TYPST: &[&str] = &[
    "#evil()",
    "\n#evil()\n",
    "]#evil()[",
    "\"+evil()+\"",
    "$evil$",
    "*/ #evil() /*",
    "#{evil}",
    "`",
    "\\",
    "// ",
    "<evil>",
    "@evil",
    "{{ evil }}",
    "{% evil %}",
    "\u{1b}[31m",
    "= ",
    "- ",
    "|",
    "_",
    "[^a]",
    "> ",
    "```\n",
    "~",
    "&",
    "#",
    "$",
    "--",
    "...",
];

const ABOUT: &str = "title: The hand crane\nunits: metric\nmoney: GBP\nstart: 2027-03-01\nhome: shed\n";

/// The notes of the example that lie in a folder.
fn notes(folder: &str) -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("notes-example").join(folder);
    let mut paths: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths.into_iter().map(|path| std::fs::read_to_string(path).unwrap()).collect()
}

fn all_notes() -> Vec<String> {
    ["parts", "findings", "measurements", "questions", "steps", "shops", "papers", "log"]
        .iter()
        .flat_map(|kind| notes(kind))
        .collect()
}

fn split(note: &str) -> (String, String) {
    let rest = note.strip_prefix("---\n").unwrap_or(note);
    rest.split_once("\n---\n")
        .map_or((rest.to_owned(), String::new()), |(front, body)| (front.to_owned(), body.to_owned()))
}

fn front_matter() -> Vec<String> {
    all_notes().iter().map(|note| split(note).0).collect()
}

fn bodies() -> Vec<String> {
    all_notes().iter().map(|note| split(note).1).filter(|body| !body.is_empty()).collect()
}

fn calculations() -> Vec<String> {
    let blocks = bodies().into_iter().flat_map(|body| {
        let blocks = body
            .split("```calc\n")
            .skip(1)
            .map(|rest| rest.split("```").next().unwrap_or_default().to_owned());
        blocks.collect::<Vec<_>>()
    });
    blocks.collect()
}

fn quantities() -> Vec<String> {
    let typed = [
        "2 5/16 in",
        "5 ft 3 1/2 in",
        "25 mm +0.021/-0",
        "3 h .. 6 h",
        "2.000 in ± 0.001 in",
        "58.74 mm",
        "-4 degC",
        "15 %",
        "1 long ton",
        "120 GBP .. 180 GBP",
        "3/4 in",
        "8 lb/ft",
        "210 GPa",
        "1e-6 1/degC",
        "1 1/2 in ± 1/64",
        "0.0005 in",
    ];
    typed.map(str::to_owned).to_vec()
}

fn readings() -> Vec<String> {
    notes("measurements")
}

fn shapes() -> Vec<String> {
    let shape = |note: &String| {
        let front = split(note).0;
        let at = front.find("shape:\n")?;
        let end = front[at..]
            .match_indices('\n')
            .find(|(index, _)| front[at + index + 1..].chars().next().is_some_and(|c| c != ' '));
        Some(front[at..end.map_or(front.len(), |(index, _)| at + index)].to_owned())
    };
    notes("parts").iter().filter_map(shape).collect()
}

/// Small projects, each note under a line with its path.
fn projects() -> Vec<String> {
    let part = "---\nkind: part\nname: Spindle\ndisposition: rework\nmass: 12 kg\n---\nA text.\n\n```calc\nd = 40 mm ± 0.1 mm\n\
                check d >= 39 mm\n```\n";
    let step = "---\nkind: step\nname: Turn the journal\nmakes: [spindle]\nat: shed\nhours: 2 h .. 4 h\nirreversible: true\n---\n\
                Take a cut.\n";
    let shop = "---\nkind: shop\nname: Shed\nhas: [lathe]\ncontact: 000\n---\n";
    let question = "---\nkind: question\nask: Does it clean up?\nblocks: [turn]\n---\n";
    let measured = "---\nkind: measurement\nof: spindle\nfeature: journal\nunit: mm\nlimits: 39.9 mm .. 40 mm\n---\n\
                    | at | 0 deg | 90 deg |\n|---|---|---|\n| a | 39.9 | 39.8 |\n| b | 39.7 | 39.6 |\n";
    let finding = "---\nkind: finding\nabout: [spindle]\ncondition: scored\n---\nSeen on day one.\n";
    let whole = [
        ("dossier.yaml", ABOUT),
        ("parts/spindle.md", part),
        ("steps/turn.md", step),
        ("shops/shed.md", shop),
        ("questions/clean-up.md", question),
        ("measurements/journal.md", measured),
        ("findings/scored.md", finding),
    ];
    vec![whole.map(|(path, text)| format!("=== {path}\n{text}")).concat()]
}

fn opened(notes: &[(&str, &str)]) -> Result<Project, String> {
    let owned = notes.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned()));
    let project = Project::from_sources(Sources::in_memory(owned), Vec::new());
    placed(project.problems(), &project.sources)?;
    Ok(project)
}

/// Every problem can be printed; an error has a place, a message and help.
fn placed(problems: &[Problem], sources: &Sources) -> Result<(), String> {
    show(problems, sources, Format::Text { styled: false, width: Some(80) });
    show(problems, sources, Format::Json);
    let bare = problems
        .iter()
        .find(|problem| problem.message.is_empty() || problem.is_error() && problem.place.is_none());
    bare.map_or(Ok(()), |problem| Err(format!("no place or message: {problem:?}")))
}

fn front_matter_law(text: &str) -> Result<(), String> {
    let note = format!("---\n{text}\n---\nA text.\n");
    opened(&[("dossier.yaml", ABOUT), ("notes/note.md", &note)]).map(|_| ())
}

/// Every block and run of text stands between characters of the note.
fn markdown_law(text: &str) -> Result<(), String> {
    let note = format!("---\nkind: part\nname: Spindle\n---\n{text}");
    let sources = Sources::in_memory([("a.md".to_owned(), note)]);
    let mut problems = Vec::new();
    let file = sources.ids().next().ok_or("no file")?;
    if let note::Found::Note(note) = note::read(&sources, file, &mut problems) {
        body::each_block(&note.body, &mut |block| {
            sources.slice(block.span);
        });
        body::each_inline(&note.body, &mut |run| {
            sources.slice(run.span);
        });
    }
    placed(&problems, &sources)
}

fn units() -> Units {
    Units::new(&Settings::default())
}

/// What is read and printed is read as the same again.
fn quantity_law(text: &str) -> Result<(), String> {
    let units = units();
    let literal = match Literal::parse(text, &units) {
        Ok(literal) => literal,
        Err(fault) if text.get(fault.range.clone()).is_some() => return Ok(()),
        Err(fault) => return Err(format!("outside the text: {fault:?}")),
    };
    let printed = literal.print();
    let again = Literal::parse(&printed, &units).map_err(|fault| format!("{printed}: {fault:?}"))?;
    let ends = |of: &Literal| [of.low, of.nominal, of.high];
    // The factors of a unit may be multiplied in another order.
    let near = |(a, b): (f64, f64)| a.is_finite() && (a - b).abs() <= 1e-12 * a.abs();
    let same =
        ends(&literal).into_iter().zip(ends(&again)).all(near) && literal.dimension() == again.dimension();
    same.then_some(()).ok_or_else(|| format!("{printed}: {literal:?}"))
}

/// Faults lie within the text, and the same text gives the same answers.
fn calculation_law(text: &str) -> Result<(), String> {
    let mut offset = 0;
    let lines = text.split('\n').map(|line| {
        let start = offset;
        offset += line.len() + 1;
        SourceLine { text: line.to_owned(), offset: start }
    });
    let blocks = vec![Block { lines: lines.collect() }];
    let scope = Scope { id: "note".to_owned(), blocks, ..Scope::default() };
    let functions: Vec<_> = trade::functions().collect();
    let units = units();
    let run = || evaluate(std::slice::from_ref(&scope), &units, &functions, uncertainty::Sources::new());
    let (first, second) = (run(), run());
    if let Some(fault) =
        first.faults.iter().find(|fault| text.get(fault.range.clone()).is_none() || fault.help.is_empty())
    {
        return Err(format!("{fault:?}"));
    }
    let said = |evaluation: &asfound::calc::sheet::Evaluation| {
        let lines = evaluation.scopes.iter().flat_map(|scope| &scope.blocks).flat_map(|block| &block.lines);
        lines.map(|line| line.text(&units)).collect::<Vec<_>>()
    };
    (said(&first) == said(&second)).then_some(()).ok_or_else(|| "two runs differ".to_owned())
}

fn readings_law(text: &str) -> Result<(), String> {
    let part = "---\nkind: part\nname: Spindle\n---\n";
    opened(&[("dossier.yaml", ABOUT), ("parts/spindle.md", part), ("m/m.md", text)]).map(|_| ())
}

/// A shape without faults has a volume, and its drawing has nothing over a text.
fn shape_law(text: &str) -> Result<(), String> {
    let note = format!("---\nkind: part\nname: Spindle\n{text}\n---\n");
    let project = opened(&[("dossier.yaml", ABOUT), ("parts/spindle.md", &note)])?;
    for formed in project.dossier.parts.ids().filter_map(|part| project.worked.shape(part)) {
        if !formed.is_sound() {
            continue;
        }
        if let Ok(worked) = work_out(&formed.shape, &Allowance::USUAL)
            && !(worked.volume.is_finite() && worked.volume > 0.0)
        {
            return Err(format!("volume {}", worked.volume));
        }
        if let Ok(drawing) = draw(&formed.shape, &Title::default(), &Sheet::A4_LANDSCAPE)
            && let Some(clash) = clashes(&drawing).first()
        {
            return Err(format!("{clash:?}"));
        }
    }
    Ok(())
}

/// Everything that a command makes can be made, and the page setter is given text that parses.
fn project_law(text: &str) -> Result<(), String> {
    let notes = text.split("=== ").skip(1).map(|part| part.split_once('\n').unwrap_or((part, "")));
    // As the folder is read: its notes by their names, and nothing without its home page.
    let notes: Vec<(&str, &str)> =
        notes.filter(|(path, _)| path.ends_with(".md") || *path == "dossier.yaml").collect();
    if !notes.iter().any(|(path, _)| *path == "dossier.yaml") {
        return Ok(());
    }
    made_text_parses(&opened(&notes)?)
}

fn pages_law(text: &str) -> Result<(), String> {
    let part = format!("---\nkind: part\nname: Spindle\n---\n{text}");
    let finding = format!("---\nkind: finding\nabout: [spindle]\n---\n{text}");
    let notes =
        [("dossier.yaml", ABOUT), ("parts/spindle.md", part.as_str()), ("findings/f.md", finding.as_str())];
    made_text_parses(&opened(&notes)?)
}

/// A project with errors is never built.
fn made_text_parses(project: &Project) -> Result<(), String> {
    if project.has_errors() {
        return Ok(());
    }
    let outlook = Outlook::of(project);
    let edition = Edition::new(project, &outlook, None, true);
    let templates = Templates::load(None).map_err(|fault| format!("{fault:?}"))?;
    let folder = dossier(&edition, &templates).map_err(|fault| format!("{fault:?}"))?;
    bill_csv(&edition);
    state_json(&edition);
    sequence_svg(&edition);
    for shop in project.dossier.shops.ids() {
        sheet(Edition::new(project, &outlook, None, true), Addressee::Shop(shop), &[], &templates)
            .map_err(|fault| format!("{fault:?}"))?;
    }
    let made = folder.iter().filter(|(path, _)| path.ends_with(".typ") && !path.starts_with("/look/"));
    for (path, bytes) in made {
        let text = std::str::from_utf8(bytes).map_err(|error| error.to_string())?;
        let root = parse(text);
        if names_evil(&root) || !root.errors_and_warnings().0.is_empty() {
            return Err(format!("{path}:\n{text}"));
        }
    }
    Ok(())
}

/// Whether the code of a made text names what only a note can have put there.
fn names_evil(node: &SyntaxNode) -> bool {
    let is_name = matches!(node.kind(), SyntaxKind::Ident | SyntaxKind::MathIdent);
    is_name && node.leaf_text().contains("evil") || node.children().any(names_evil)
}
