//! The borders between the rooms: what each `use`s, held against the table in the contributors' map.

mod dependencies;

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

type Uses = BTreeMap<String, BTreeSet<String>>;

/// Every source file of a room, without its comments and unit tests.
fn files() -> Vec<(PathBuf, String)> {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let entries = walkdir::WalkDir::new(&src).sort_by_file_name().into_iter().map(Result::unwrap);
    let rust = entries.filter(|entry| entry.path().extension().is_some_and(|ending| ending == "rs"));
    let read = |entry: walkdir::DirEntry| {
        let text = std::fs::read_to_string(entry.path()).unwrap();
        let code = text
            .split("#[cfg(test)]")
            .next()
            .unwrap_or_default()
            .lines()
            .filter(|line| !line.trim_start().starts_with("//"));
        (entry.path().strip_prefix(&src).unwrap().to_path_buf(), code.collect::<Vec<_>>().join("\n"))
    };
    rust.map(read)
        .filter(|(path, _)| !["lib.rs", "main.rs"].iter().any(|thin| path == Path::new(thin)))
        .collect()
}

fn room(path: &Path) -> String {
    let first = path.components().next().unwrap().as_os_str().to_str().unwrap();
    first.trim_end_matches(".rs").to_owned()
}

/// What is named behind `crate::`: one name, or those of a list.
fn named(code: &str) -> BTreeSet<String> {
    let letters =
        |text: &str| text.chars().take_while(|letter| letter.is_alphanumeric() || *letter == '_').collect();
    let of_list = |list: &str| -> Vec<String> {
        let mut depth = 0;
        let cut = |letter: char| {
            depth += i32::from(letter == '{') - i32::from(letter == '}');
            letter == ',' && depth == 0
        };
        list.split(cut).map(|name| letters(name.trim())).collect()
    };
    let after = |rest: &str| match rest.strip_prefix('{') {
        Some(list) => of_list(&list[..list.find(';').unwrap_or(list.len())]),
        None => vec![letters(rest)],
    };
    let names = code.split("crate::").skip(1).flat_map(after).filter(|name: &String| !name.is_empty());
    names.map(|name| name.to_lowercase()).collect()
}

fn found() -> Uses {
    let mut uses = Uses::new();
    for (path, code) in files() {
        let room = room(&path);
        let mut named = named(&code);
        named.remove(&room);
        uses.entry(room).or_default().append(&mut named);
    }
    uses
}

/// The table under "Borders", in its order.
fn drawn() -> Vec<(String, BTreeSet<String>)> {
    let map = include_str!("../../DEVELOPERS.md");
    let borders = map.split("\n## Borders\n").nth(1).expect("the map has its borders");
    let rows = borders.split("\n## ").next().unwrap().lines().filter(|line| line.starts_with("| `"));
    let words = |cell: &str| cell.split('`').skip(1).step_by(2).map(str::to_owned).collect::<Vec<_>>();
    rows.map(|row| {
        let cells: Vec<&str> = row.split('|').collect();
        (words(cells[1])[0].clone(), words(cells[2]).into_iter().collect())
    })
    .collect()
}

#[test]
fn each_room_uses_what_the_map_says() {
    let (found, drawn) = (found(), drawn());
    let told: Uses = drawn.iter().cloned().collect();
    for (room, uses) in &found {
        assert_eq!(Some(uses), told.get(room), "what `{room}` uses, and what the map says");
    }
    assert_eq!(found.len(), drawn.len(), "a room of the map is gone");
}

/// The table's order proves that there is no circle.
#[test]
fn a_room_uses_only_rooms_above_it() {
    let mut above = BTreeSet::new();
    for (room, uses) in drawn() {
        let below: Vec<&String> = uses.difference(&above).collect();
        assert!(below.is_empty(), "`{room}` uses {below:?}, which stand below it");
        above.insert(room);
    }
}

/// Rooms whose code holds one of these words.
fn rooms_with(words: &[&str]) -> BTreeSet<String> {
    let with = files().into_iter().filter(|(_, code)| words.iter().any(|word| code.contains(word)));
    with.map(|(path, _)| room(&path)).collect()
}

#[test]
fn the_disk_the_page_setter_and_the_terminal_have_their_rooms() {
    let set = |rooms: &[&str]| rooms.iter().map(|room| (*room).to_owned()).collect::<BTreeSet<_>>();
    assert_eq!(rooms_with(&["std::fs", "File::open"]), set(&["cli", "photo", "source"]));
    assert_eq!(rooms_with(&["use typst", "typst::", "typst_"]), set(&["typeset"]));
    assert_eq!(rooms_with(&["io::stdout", "io::stderr"]), set(&["cli"]));
}

/// A file past this length holds more than one subject.
const LONGEST: usize = 500;

#[test]
fn no_file_is_past_500_lines() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let lines = |path: &Path| std::fs::read_to_string(src.join(path)).unwrap().lines().count();
    let files = files().into_iter().map(|(path, _)| (lines(&path), path));
    let long: Vec<_> = files.filter(|(lines, _)| *lines > LONGEST).collect();
    assert!(long.is_empty(), "divide these by subject: {long:?}");
}

/// What adds up in `render`: widths and letters on the page, and the digits of a telephone number.
const LAYS_OUT: [&str; 8] = [
    "render/breadth.rs",
    "render/by_hand.rs",
    "render/call.rs",
    "render/graph/place.rs",
    "render/mathematics.rs",
    "render/readings.rs",
    "render/sheet/redaction/words.rs",
    "render/working.rs",
];

/// Sums and costs are worked out before the pages are made.
#[test]
fn the_pages_add_nothing_up() {
    let adds = ["sum()", "sum::<", "Estimate::new", "added_ends"];
    let in_render = files().into_iter().filter(|(path, _)| room(path) == "render");
    let adding = in_render.filter(|(_, code)| adds.iter().any(|word| code.contains(word)));
    let adding: Vec<PathBuf> = adding.map(|(path, _)| path).collect();
    assert_eq!(adding, LAYS_OUT.map(PathBuf::from));
}
