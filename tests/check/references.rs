//! Which notes are named on a note's page: by its keys, by links, and by calculations; and where each is defined.

use asfound::Project;
use asfound::source::Sources;
use asfound::text::Span;

/// The ids of the notes that name `id`.
fn named_in(project: &Project, id: &str) -> Vec<String> {
    let note = project.dossier.find(id).expect("a note");
    project.named_in(note).into_iter().map(|other| project.dossier.head(other).id.clone()).collect()
}

#[test]
fn a_calculation_that_names_a_note_refers_to_it() {
    let part =
        |body: &str| format!("---\nkind: part\nname: A part\ndisposition: reuse\nmass: 20 lb\n---\n{body}\n");
    let texts = vec![
        ("dossier.yaml".to_owned(), "title: A crane\nton: long\nmoney: GBP\n".to_owned()),
        ("post.md".to_owned(), part("```calc\nwall = 3 mm\n```")),
        (
            "by-block.md".to_owned(),
            part("```calc\nload = @post.mass * g_n\nhalf = @post.wall / 2 + @post.wall\n```"),
        ),
        ("by-quote.md".to_owned(), part("The wall is `calc @post.wall to in` thick.")),
        (
            "by-words.md".to_owned(),
            part("```calc\nx = 1 mm \"as @post.wall\" # @post.wall\n```\n\n`@post.wall` is code."),
        ),
        ("by-inch.md".to_owned(), part("```calc\nx = 1/2\" + @post.wall\n```")),
        ("by-itself.md".to_owned(), part("```calc\nx = 1 mm\ny = @by-itself.x\n```")),
    ];
    let project = Project::from_sources(Sources::in_memory(texts), Vec::new());
    assert_eq!(named_in(&project, "post"), ["by-block", "by-quote", "by-inch"]);
    assert_eq!(named_in(&project, "by-itself"), Vec::<String>::new());
}

fn project(notes: &[(&str, &str)]) -> Project {
    let note = |(path, text): &(&str, &str)| ((*path).to_owned(), (*text).to_owned());
    Project::from_sources(Sources::in_memory(notes.iter().map(note)), Vec::new())
}

/// File, line and text of a place.
fn place(project: &Project, span: Span) -> (String, usize, String) {
    let sources = &project.sources;
    (sources.file(span.file).path.clone(), sources.place(span).line, sources.slice(span).to_owned())
}

#[test]
fn every_id_in_a_key_leads_to_the_place_of_its_definition() {
    let project = project(&[
        ("dossier.yaml", "title: A crane\nton: long\ninstruments:\n  mic: {within: 0.01 mm}\n"),
        ("post.md", "---\nkind: part\nname: Post\nfit: {with: the-bush, at: 10 mm, class: H7/f7}\n---\n"),
        ("bush.md", "---\nkind: part\nid: the-bush\nname: Bush\n---\n"),
        ("bore.md", "---\nkind: measurement\nof: post\nfeature: bore\ninstrument: mic\nvalue: 10 mm\n---\n"),
        ("turn.md", "---\nkind: step\ndoes: Turn\n---\n"),
        ("day.md", "---\nkind: entry\ndate: 2027-04-10\nhours: {turn: 2 h}\nabout: [bore, nothing]\n---\n"),
        ("which.md", "---\nkind: question\nasks: Which?\ntheories: [{claim: This, for: [bore]}]\n---\n"),
    ]);
    let found = |id: &str| {
        let references = project.dossier.references(project.dossier.find(id).expect("a note"));
        let places = references.map(|each| (each.place, project.dossier.definition(each.to)));
        let texts = places.map(|(at, defined)| (place(&project, at).2, place(&project, defined)));
        texts.map(|(typed, (path, line, text))| format!("{typed} {path}:{line} {text}")).collect::<Vec<_>>()
    };
    assert_eq!(found("post"), ["the-bush bush.md:3 the-bush"]);
    assert_eq!(found("bore"), ["post post.md:1 ", "mic dossier.yaml:4 mic"]);
    assert_eq!(found("day"), ["turn turn.md:1 ", "bore bore.md:1 "]);
    assert_eq!(found("which"), ["bore bore.md:1 "]);
}

#[test]
fn every_name_of_a_calculation_leads_to_the_place_of_its_definition() {
    let project = project(&[
        ("dossier.yaml", "title: A crane\nton: long\n"),
        (
            "post.md",
            "---\nkind: part\nname: Post\nmass: 20 lb\n---\n```calc\nwall = 3 mm\nhalf(x) = x/2\n```\n",
        ),
        (
            "rod.md",
            "---\nkind: part\nname: Rod\n---\n```calc\nload = @post.mass * g_n\nthin = half_of + @post.wall\nhalf_of = 1 mm\n```\n",
        ),
    ]);
    let references = project.worked.references(&project.dossier);
    let found: Vec<_> = references
        .map(|(from, _, reference)| {
            let defined = project.worked.definition(&project.dossier, from, reference);
            let defined = defined.map(|span| place(&project, span));
            (reference.name.as_str(), defined.map(|(path, line, text)| format!("{path}:{line} {text}")))
        })
        .collect();
    let at = |text: &str| Some(text.to_owned());
    assert_eq!(
        found,
        [
            ("mass", at("post.md:4 20 lb")),
            ("half_of", at("rod.md:8 half_of = 1 mm")),
            ("wall", at("post.md:7 wall = 3 mm"))
        ]
    );
}

/// What a note that lacks a required key names is looked up all the same: each key that takes an id, within others too.
#[test]
fn the_ids_in_a_note_that_is_not_whole_are_looked_up() {
    let project = project(&[
        ("dossier.yaml", "title: A crane\nton: long\n"),
        (
            "post.md",
            "---\nkind: part\nwithin: no-crane\nfit: {with: no-bush, at: 10 mm, class: H7/f7}\n---\n",
        ),
        ("turn.md", "---\nkind: step\nmends: no-wear\nunder: [no-paper]\n---\n"),
        ("bore.md", "---\nkind: measurement\nof: no-part\nfeature: bore\ninstrument: no-mic\n---\n"),
        ("which.md", "---\nkind: question\ntheories: [{claim: This, against: no-proof}]\n---\n"),
        ("day.md", "---\nkind: entry\nhours: {no-step: 2 h}\n---\n"),
    ]);
    let unknown = project.problems().iter().filter(|problem| problem.code.word == "id-unknown");
    let typed: Vec<_> = unknown.map(|problem| place(&project, problem.place.expect("a place")).2).collect();
    assert_eq!(
        typed,
        ["no-crane", "no-bush", "no-wear", "no-paper", "no-part", "no-mic", "no-proof", "no-step"]
    );
}
