//! What the example's pages are written in: words, not the names that the engine and the notes have for things; and nothing
//! twice.

use super::build::built;
use super::scratch::outside;

/// The pages of the example as they are laid out.
fn pages() -> Option<Vec<String>> {
    let pdf = built().0.path().join("crane/out/dossier.pdf");
    let text = outside("pdftotext", &["-layout", pdf.to_str()?, "-"])?;
    Some(text.split('\u{c}').map(str::to_owned).collect())
}

fn in_one_line(pages: &[String]) -> String {
    pages.iter().flat_map(|page| page.split_whitespace()).collect::<Vec<_>>().join(" ")
}

/// The ids of the notes that are several words joined by hyphens: a single word is English too.
fn ids() -> Vec<String> {
    let dir = built().0.path().join("crane");
    let kinds = ["parts", "findings", "measurements", "questions", "steps", "shops", "papers"];
    let files = kinds.iter().filter_map(|kind| std::fs::read_dir(dir.join(kind)).ok()).flatten();
    let names = files.filter_map(|file| file.ok()?.path().file_stem()?.to_str().map(str::to_owned));
    names.filter(|name| name.contains('-')).collect()
}

/// An id stands at the right, in the margin of its record, by which the note is found: behind a wide gap, alone or after
/// the word for its kind.
fn is_in_margin(line: &str, id: &str) -> bool {
    let Some(before) = line.trim_end().strip_suffix(id) else { return false };
    let kinds = ["part", "finding", "measurement", "question", "step", "shop", "paper"];
    let before = kinds.iter().find_map(|kind| before.trim_end().strip_suffix(kind)).unwrap_or(before);
    before.is_empty() || before.ends_with("   ") || line.trim_start().starts_with(id)
}

#[test]
fn pages_have_no_names_of_the_engine() {
    let Some(pages) = pages() else { return };
    let is_name = |word: &&str| {
        let word = word.trim_matches(|letter: char| !letter.is_alphanumeric());
        word.contains('_') && !word.contains('/') && !word.contains('.')
    };
    for (at, page) in pages.iter().enumerate() {
        let names: Vec<&str> = page.split_whitespace().filter(is_name).collect();
        assert!(names.is_empty(), "page {}: {names:?}", at + 1);
    }
    for code in ["calc-warning", "instrument mic-"] {
        assert!(!in_one_line(&pages).contains(code), "{code}");
    }
}

#[test]
fn an_id_stands_in_the_margin_of_its_record_alone() {
    let Some(pages) = pages() else { return };
    let letters = |letter: char| !letter.is_alphanumeric() && letter != '-';
    let mut seen = 0;
    for id in ids() {
        for (at, page) in pages.iter().enumerate() {
            for line in page.lines().filter(|line| line.split(letters).any(|word| word == id)) {
                assert!(is_in_margin(line, &id), "page {}: {id} in `{}`", at + 1, line.trim());
                seen += 1;
            }
        }
    }
    assert!(seen > 50, "{seen} records have their id beside them");
}

#[test]
fn a_remark_on_a_material_stands_once() {
    let Some(pages) = pages() else { return };
    let text = in_one_line(&pages);
    assert_eq!(text.matches("across the grain UTS about").count(), 1);
    assert!(text.contains("Wrought iron: see p. "), "elsewhere its page");
}

#[test]
fn the_graph_fills_its_pages() {
    let Some(pages) = pages() else { return };
    let holds = |page: &&String| page.contains("piece ") && page.contains(" of 4.");
    let with_pieces: Vec<&String> = pages.iter().filter(holds).collect();
    assert_eq!(with_pieces.len(), 4, "55 steps");
    for page in with_pieces {
        let lines = page.lines().filter(|line| !line.trim().is_empty()).count();
        assert!(lines >= 40, "{lines} lines: {page}");
    }
}

#[test]
fn no_page_of_the_dossier_is_nearly_empty() {
    let Some(pages) = pages() else { return };
    let body = |page: &String| page.lines().filter(|line| !line.trim().is_empty()).count();
    for (at, page) in pages.iter().enumerate().take(pages.len() - 1) {
        let (lines, is_figure) = (body(page), page.contains("fig. "));
        assert!(lines >= 18 || is_figure, "page {} has {lines} lines: {page}", at + 1);
    }
}

/// The text in the order in which it is read, in one line, without the hyphens at the ends of lines.
fn as_read() -> Option<String> {
    let pdf = built().0.path().join("crane/out/dossier.pdf");
    let text = outside("pdftotext", &[pdf.to_str()?, "-"])?;
    Some(text.split_whitespace().collect::<Vec<_>>().join(" ").replace("\u{ad} ", ""))
}

#[test]
fn what_is_called_for_and_assumed_is_in_words() {
    let Some(text) = as_read() else { return };
    let written = [
        ("licensed-asbestos-removal", "licensed asbestos removal: none known"),
        ("mu, as none is given", "μ, as none is given"),
        ("a payee that no note names", "a payee not named"),
        ("Where a part is is not checked", "Not checked: whether two steps have the same part"),
        ("lead paint, at this step", "its own caution"),
        ("stands at The wharf", "stands at the wharf itself"),
        ("802 lb each", "as it will stand"),
    ];
    for (old, new) in written {
        assert!(!text.contains(old), "{old}");
        assert!(text.contains(new), "{new}");
    }
}

#[test]
fn a_day_of_the_log_is_printed_once() {
    let Some(text) = as_read() else { return };
    assert!(text.contains("14 March 2026") && !text.contains("2026-03-14"));
}

/// Steps whose chains stand elsewhere are named one after the other, each once.
#[test]
fn a_step_is_not_named_twice_in_one_line() {
    let Some(text) = as_read() else { return };
    let steps: Vec<&str> = text.split("step ").collect();
    for pair in steps.windows(2) {
        let Some(step) = pair[0].strip_suffix("; ").filter(|step| step.contains(", p. ")) else { continue };
        assert!(!pair[1].starts_with(step), "step {step} twice");
    }
}
