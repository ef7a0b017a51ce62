//! Which notes are named on a note's page: by its keys, by links, and by calculations.

use asfound::Project;
use asfound::source::Sources;

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
