//! A document is laid out as often as there are things to find out about its pages, and no more.

use asfound::render::Templates;
use asfound::typeset::{Again, Fault, Folder, Made, Making, typeset};

use crate::cli::scratch::outside;

fn folder(text: &str) -> Folder {
    Folder::from([("/main.typ".to_owned(), text.as_bytes().to_vec())])
}

fn making() -> Making {
    Making { main: "/main.typ".to_owned(), identity: "passes".to_owned(), archival: false }
}

fn set(text: &str) -> Result<Made, Vec<Fault>> {
    typeset(&folder(text), &making())
}

/// The same with the look of the dossier.
fn set_with_look(text: &str) -> Made {
    let mut folder = folder(&format!("#import \"/look/look.typ\": *\n{text}"));
    Templates::load(None).unwrap().lay_look(&mut folder);
    typeset(&folder, &making()).unwrap()
}

/// The text of every page, as `pdftotext` reads it.
fn pages(pdf: &[u8]) -> Option<Vec<String>> {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("it.pdf");
    std::fs::write(&path, pdf).unwrap();
    let text = outside("pdftotext", &[path.to_str()?, "-"])?;
    Some(text.split('\u{c}').map(str::to_owned).collect())
}

const SAYS_A_PAGE: &str = "#let places = json(\"/places.json\")
    Page #places.pages.at(\"far\", default: places.guess).
    #pagebreak()
    = Far <far>";

#[test]
fn a_page_number_is_found_out_once_and_known_the_next_time() {
    let mut again = Again::default();
    let mut passes = |text: &str, says: &str| {
        let made = again.typeset(&folder(text), &making()).unwrap();
        let page = pages(&made.pdf).map(|pages| pages[0].trim().to_owned());
        assert!(page.as_ref().is_none_or(|page| page == says), "{page:?}");
        made.passes
    };
    assert_eq!(passes(SAYS_A_PAGE, "Page 2."), 2);
    assert_eq!(passes(SAYS_A_PAGE, "Page 2."), 1, "nothing has moved");
    let moved = SAYS_A_PAGE.replace("= Far", "More #pagebreak()\n= Far");
    assert_eq!(passes(&moved, "Page 3."), 2);
}

#[test]
fn a_text_that_says_nothing_of_its_pages_is_laid_out_once() {
    assert_eq!(set("= A head\nSome text. #pagebreak() More.").unwrap().passes, 1);
}

#[test]
fn a_link_to_a_label_that_is_nowhere_is_a_fault_at_its_place() {
    let faults = set("Some text.\n#link(\"\\u{1}nowhere\")[there]").unwrap_err();
    assert!(faults[0].message.contains("label `<nowhere>` does not exist"), "{faults:?}");
    assert!(faults[0].place.as_ref().is_some_and(|(file, at)| file == "/main.typ" && at.start > 10));
    assert!(set("= Head <here>\n#link(\"\\u{1}here\")[there]").is_ok());
}

#[test]
fn only_a_table_head_that_is_repeated_says_so() {
    let table = "#ruled(columns: (column([Head]),), rows: range(150).map(i => ([row #i],)))";
    let Some(pages) = pages(&set_with_look(&format!("{table}\n{table}")).pdf) else { return };
    let words = |page: &String, word: &str| page.split_whitespace().filter(|it| *it == word).count();
    let heads: usize = pages.iter().map(|page| words(page, "Head")).sum();
    let repeated: usize = pages.iter().map(|page| words(page, "continued")).sum();
    assert!(heads > 2, "{heads}");
    assert_eq!(repeated, heads - 2, "two tables, so two heads are the first ones");
    assert_eq!(words(&pages[0], "continued"), 0);
}
