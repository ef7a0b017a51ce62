//! The clauses of ISO 19005-3 (PDF/A-3, level A) and ISO 14289-1 (PDF/UA-1) that can be read off the objects of a file, held
//! against the whole example. Clause numbers from memory. A validator sees more: how to run one stands in the contributors'
//! map.

use std::path::Path;

use super::build::built;
use super::scratch::outside;

/// The objects of a file, as text; streams are left out. `None` where nothing unpacks a PDF.
struct Objects {
    file: Vec<u8>,
    objects: Vec<String>,
}

impl Objects {
    fn of(pdf: &Path) -> Option<Self> {
        let dir = tempfile::tempdir().unwrap();
        let plain = dir.path().join("plain.pdf");
        let options = ["--qdf", "--object-streams=disable", "--no-original-object-ids"];
        outside("qpdf", &[&options[..], &[pdf.to_str()?, plain.to_str()?]].concat())?;
        let text = String::from_utf8_lossy(&std::fs::read(&plain).unwrap()).into_owned();
        let dictionary = |object: &str| object.split("\nstream\n").next().unwrap_or_default().to_owned();
        let objects = text.split("\nendobj\n").map(dictionary).collect();
        Some(Self { file: std::fs::read(pdf).unwrap(), objects })
    }

    /// The objects with this entry.
    fn with(&self, entry: &str) -> Vec<&str> {
        let lines = |object: &&String| object.lines().any(|line| line.trim() == entry);
        self.objects.iter().filter(lines).map(String::as_str).collect()
    }

    /// Every object with this entry has all these keys; there is at least one.
    fn each_has(&self, clause: &str, entry: &str, keys: &[&str]) {
        let all = self.with(entry);
        assert!(!all.is_empty(), "{clause}: nothing has {entry}");
        for object in all {
            for key in keys {
                assert!(has(object, key), "{clause}: {key} is missing from {object}");
            }
        }
    }

    /// No object has this key or entry.
    fn none_has(&self, clause: &str, keys: &[&str]) {
        for key in keys {
            let found = self.objects.iter().find(|object| has(object, key));
            assert!(found.is_none(), "{clause}: {key} stands in {}", found.unwrap());
        }
    }
}

/// Whether a line of the object begins with a key, or with a key and its value.
fn has(object: &str, key: &str) -> bool {
    object.lines().map(str::trim).any(|line| {
        line.strip_prefix(key)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '(', '[', '<', '/']))
    })
}

fn example() -> Option<Objects> {
    Objects::of(&built().0.path().join("crane/out/dossier.pdf"))
}

#[test]
fn the_clauses_of_pdf_a_3a() {
    let Some(pdf) = example() else { return };
    let head = &pdf.file[..20];
    assert!(head.starts_with(b"%PDF-1.") && head[9] == b'%', "6.1.2: {head:?}");
    assert!(head[10..14].iter().all(|byte| *byte > 127), "6.1.2: a comment of four bytes above 127");
    let has_word = |word: &[u8]| pdf.file.windows(word.len()).any(|window| window == word);
    assert!(!has_word(b"/Encrypt"), "6.1.3: nothing is encrypted");
    pdf.none_has("6.1.7.2: no old compression", &["/Filter /LZWDecode"]);
    pdf.none_has(
        "6.5.1: no action but a link",
        &["/JS", "/AA", "/S /Launch", "/S /Sound", "/S /Movie", "/S /JavaScript"],
    );
    pdf.none_has("6.4.1: no form", &["/AcroForm"]);
    pdf.none_has("6.2.9: nothing from outside", &["/OPI", "/Ref"]);
    pdf.each_has(
        "6.2.3: the colours have a profile",
        "/S /GTS_PDFA1",
        &["/DestOutputProfile", "/OutputConditionIdentifier"],
    );
    let fonts = pdf.with("/Type /FontDescriptor");
    let embedded = |font: &&str| ["/FontFile", "/FontFile2", "/FontFile3"].iter().any(|key| has(font, key));
    assert!(!fonts.is_empty() && fonts.iter().all(embedded), "6.2.11.4.1: every font is inside");
    pdf.each_has("6.2.11.7.2: letters can be read back", "/Subtype /Type0", &["/ToUnicode"]);
    pdf.each_has("6.3.2: links are printed", "/Type /Annot", &["/F 4"]);
    pdf.each_has(
        "6.6.2.1, 6.7.2.2, 6.7.3.3, 6.7.4",
        "/Type /Catalog",
        &["/Metadata", "/MarkInfo", "/StructTreeRoot", "/Lang", "/AF"],
    );
    assert!(pdf.with("/Type /Catalog")[0].contains("/Marked true"), "6.7.2.2: it is tagged");
    pdf.each_has(
        "6.8: an attachment says what it is",
        "/Type /Filespec",
        &["/F", "/UF", "/EF", "/AFRelationship", "/Desc"],
    );
    pdf.each_has("6.8: its type and its day", "/Type /EmbeddedFile", &["/Subtype", "/ModDate"]);
}

#[test]
fn the_clauses_of_pdf_ua_1() {
    let Some(pdf) = example() else { return };
    assert!(pdf.with("/Type /Catalog")[0].contains("/DisplayDocTitle true"), "7.1: the title is shown");
    pdf.each_has("7.3: a picture has its words", "/S /Figure", &["/Alt"]);
    pdf.each_has("7.7: a formula has its words", "/S /Formula", &["/Alt"]);
    for head in pdf.with("/S /TH") {
        assert!(head.contains("/Scope"), "7.5: a head says what it heads: {head}");
    }
    pdf.each_has("7.18.1: an annotation is in the structure", "/Subtype /Link", &["/StructParent"]);
    pdf.each_has("7.18.5: a link says where it leads", "/Subtype /Link", &["/Contents"]);
    let pages = pdf.with("/Type /Page");
    let linked: Vec<_> = pages.iter().filter(|page| has(page, "/Annots")).collect();
    assert!(
        !linked.is_empty() && linked.iter().all(|page| has(page, "/Tabs /S")),
        "7.18.3: the order of tabs"
    );
    for link in pdf.with("/S /Link") {
        assert!(has(link, "/K"), "7.18.5: a link holds what is read: {link}");
    }
    let figures = pdf.with("/S /Figure");
    let graph = figures.iter().find(|figure| figure.contains("Graph of the work, piece 1"));
    let graph = graph.expect("7.3: the graph is read as its steps");
    let (first, after) = (graph.find("1. Have the paint"), graph.find(", after 1"));
    assert!(first < after && after.is_some(), "7.3: steps in order, each with what comes before it: {graph}");
    let formulas = pdf.with("/S /Formula");
    let spoken = |object: &&str| {
        let alt = object.lines().find(|line| line.trim().starts_with("/Alt")).unwrap_or_default();
        !alt.contains(['√', '≤', '≥', '·', '^', '_'])
    };
    let signs: Vec<_> = formulas.iter().filter(|object| !spoken(object)).collect();
    assert!(signs.is_empty(), "7.7: read as mathematics is spoken: {signs:?}");
}
