//! What no shop can do, on the page of jobs: each thing called for by itself, shops by name, words as they were typed.

use asfound::render::{self, Edition, Templates};
use asfound::{Outlook, Project};

use super::scratch::project;
use super::sheet::unescaped;

/// The file of the chapter of jobs, with the escapes undone.
fn jobs(shop: &str, calls_for: &str) -> String {
    let shop = format!("---\nkind: shop\nname: The barn\nhas: {shop}\n---\n");
    let step = format!("---\nkind: step\ndoes: Press the pin\nparts: [post]\ncalls_for: {calls_for}\n---\n");
    let notes = [
        ("dossier.yaml", "title: A crane\nton: long\nhome: barn\n"),
        ("barn.md", shop.as_str()),
        ("yard.md", "---\nkind: shop\nname: The yard\nhas: {swing: 20 in}\n---\n"),
        ("post.md", "---\nkind: part\nname: The old post\ndisposition: rework\n---\n"),
        ("press.md", step.as_str()),
    ];
    let dir = project(&notes);
    let project = Project::open(&dir.path().join("crane")).unwrap();
    assert!(!project.has_errors(), "{:?}", project.problems());
    let outlook = Outlook::of(&project);
    let edition = Edition::new(&project, &outlook, None, false);
    let folder = render::dossier(&edition, &Templates::load(None).unwrap()).unwrap();
    let chapters = folder.iter().filter(|(path, _)| !path.starts_with("/look/"));
    chapters.map(|(_, text)| unescaped(&String::from_utf8_lossy(text))).collect()
}

/// A comma in a word parts nothing, and brackets in it name no note.
#[test]
fn a_word_with_a_comma_or_brackets_stays_whole() {
    let demand = r#"{"press, hydraulic": 30 tonf, "bed (post)": 4 ft}"#;
    let page = jobs(r#"{"press, hydraulic": 12 tonf, "bed (post)": 3 ft}"#, demand);
    assert!(page.contains(r#""needs": ("press, hydraulic 30 tonf", "bed (post) 4 ft", )"#), "{page}");
    let nearest = "press, hydraulic: needs 30 tonf, best known 12 tonf (The barn); bed (post): needs 4 ft, best known 3 ft (The barn)";
    assert!(page.contains(nearest), "{page}");
}

/// Where no one place has all of it, the nearest is reported by its name.
#[test]
fn the_nearest_shop_is_told_by_name() {
    let page = jobs("{press: 40 tonf}", "{press: 30 tonf, swing: 18 in}");
    assert!(
        page.contains("not all in one place; nearest is The barn: swing: needs 18 in, has none"),
        "{page}"
    );
}
