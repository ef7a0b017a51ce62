//! What a screen reader says, in the order of the tags: a head before what it heads, a record's margin after its body.

use std::path::Path;

use super::stress::{SAYS, TINY, id, name, write_project};
use super::{build, outside};

/// A heading and the text from it to the next one.
struct Headed {
    level: usize,
    head: String,
    text: String,
}

/// The tagged structure as `pdfinfo -struct-text` prints it: an element a line, its text in quotes below it.
fn headings(pdf: &Path) -> Option<Vec<Headed>> {
    let told = outside("pdfinfo", &["-struct-text", pdf.to_str()?])?;
    let mut all: Vec<Headed> = Vec::new();
    for line in told.lines().map(str::trim) {
        if let Some((level, title)) = line.strip_prefix('H').and_then(|rest| rest.split_once(' '))
            && let Ok(level) = level.parse()
        {
            let head = title.rsplit_once('"').map_or(title, |(title, _)| title).trim_start_matches('"');
            all.push(Headed { level, head: head.to_owned(), text: String::new() });
        } else if let Some(text) = line.strip_prefix('"')
            && let Some(last) = all.last_mut()
        {
            last.text.push_str(text.strip_suffix('"').unwrap_or(text));
        }
    }
    Some(all)
}

/// The text of every record of the second level, with what stands below its own lesser heads.
fn chief(headings: &[Headed]) -> Vec<String> {
    let mut chief: Vec<String> = Vec::new();
    for it in headings {
        match (it.level, chief.last_mut()) {
            (..=2, _) | (_, None) => chief.push(letters(&it.text)),
            (_, Some(last)) => last.push_str(&letters(&it.text)),
        }
    }
    chief
}

/// Letters and figures only: how a name is broken into lines is not asked here.
fn letters(text: &str) -> String {
    text.chars().filter(|letter| letter.is_alphanumeric()).collect()
}

#[test]
fn heads_come_before_what_they_head_and_margins_after_it() {
    let dir = tempfile::tempdir().unwrap();
    write_project(dir.path(), "a4", TINY);
    build(dir.path());
    let Some(headings) = headings(&dir.path().join("out/dossier.pdf")) else { return };

    let mut level = 0;
    for it in &headings {
        assert!(it.level <= level + 1, "`{}` skips a level of headings", it.head);
        // `pdfinfo` spoils the titles that are not Latin, and leaves out hyphens with what stands about them.
        let begins = letters(it.head.split('-').next().unwrap_or_default());
        let is_read = !it.head.is_ascii() || letters(&it.text).starts_with(&begins);
        assert!(is_read, "`{}` does not stand before its text", it.head);
        level = it.level;
    }

    let chapters: Vec<&str> = headings.iter().filter(|it| it.level == 1).map(|it| it.head.as_str()).collect();
    let expected = [
        "What to do next",
        "For the inspector",
        "How to read this",
        "The machine",
        "Questions",
        "Assumptions and checks",
        "Bill of materials",
    ];
    assert_eq!(chapters[..expected.len()], expected);
    assert_eq!(chapters.last(), Some(&"Index"));

    let chief = chief(&headings);
    let mut told = 0;
    for number in 0..TINY.parts {
        let margin = format!("part{}", letters(&id(number)));
        let text = chief.iter().find(|text| text.contains(&margin));
        let text = text.unwrap_or_else(|| panic!("no margin says {}", id(number)));
        let margin = text.find(&margin).unwrap_or_default();
        let name = name(number);
        let begins =
            letters(name.split(['-', ' ']).find(|word| !letters(word).is_empty()).unwrap_or_default());
        assert!(
            !name.is_ascii() || text.to_lowercase().starts_with(&begins.to_lowercase()),
            "`{name}` is not the head of {}",
            id(number)
        );
        if let Some(body) = text.find(&letters(SAYS)) {
            assert!(body < margin, "`{name}`: its margin is told before its body");
            told += 1;
        }
    }
    assert!(told >= 5, "only {told} parts have a body to compare");
}
