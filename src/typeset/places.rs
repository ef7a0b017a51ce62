//! Where things stand on the pages, as the text is told: the page of every label, and what runs in the head of a page.

use std::collections::BTreeMap;

use serde::Serialize;
use typst::foundations::{Content, Label, NativeElement, Selector, Value};
use typst::introspection::{Introspector, Location, MetadataElem, PagedPosition};
use typst::layout::Abs;
use typst::model::FigureElem;
use typst::utils::PicoStr;
use typst_layout::{PagedDocument, PagedIntrospector};

/// The virtual file with the pages of labels.
const PLACES: &str = "/places.json";

/// Where the virtual files with what runs in the heads are, so many pages in each: read by the head itself, so that a
/// page that moves lays out no text anew.
const HEADS: &str = "/heads/";

/// Pages in a file of heads.
const HEADS_IN_A_FILE: usize = 50;

/// What a text may say of its pages.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Places {
    /// Each as JSON.
    pub(super) labels: String,
    heads: Vec<String>,
}

/// `places.json`.
#[derive(Serialize)]
struct Labels {
    /// The page of each label, from 1.
    pages: BTreeMap<String, usize>,
    /// Which time it is, of those that a picture is shown, that comes first on the pages, and its figure's number.
    pictures: BTreeMap<String, First>,
    /// What stands for a page while none is known: a number as wide as most will be.
    guess: Option<usize>,
}

#[derive(Serialize)]
struct First {
    time: i64,
    figure: usize,
}

/// A file of heads.
#[derive(Serialize, Default)]
struct Heads {
    /// How many pages there are.
    pages: usize,
    /// What runs in the head of a page.
    heads: BTreeMap<usize, Head>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
struct Head {
    says: String,
    /// It began on an earlier page.
    goes_on: bool,
}

/// About so many letters of made text come to a page.
const LETTERS_A_PAGE: usize = 8000;

impl Places {
    /// Before anything is known. letters: of the made text.
    pub(super) fn guessed(letters: usize) -> Self {
        let guess = match letters / LETTERS_A_PAGE {
            0..10 => 8,
            10..130 => 88,
            130..2000 => 888,
            _ => 8888,
        };
        let labels = Labels { pages: BTreeMap::new(), pictures: BTreeMap::new(), guess: Some(guess) };
        Self::new(&labels, &[])
    }

    /// As they are in a document.
    pub(super) fn of(document: &PagedDocument) -> Self {
        let introspector = document.introspector();
        let labels = Labels { pages: pages(introspector), pictures: pictures(introspector), guess: None };
        Self::new(&labels, &heads(introspector, document.pages().len()))
    }

    fn new(labels: &Labels, heads: &[Heads]) -> Self {
        Self { labels: json(labels), heads: heads.iter().map(json).collect() }
    }

    /// A virtual file by its path, if it is one of these.
    pub(super) fn file(&self, path: &str) -> Option<String> {
        if path == PLACES {
            return Some(self.labels.clone());
        }
        let number = path.strip_prefix(HEADS)?.strip_suffix(".json")?.parse::<usize>().ok()?;
        Some(self.heads.get(number).cloned().unwrap_or_else(|| json(&Heads::default())))
    }
}

/// The page of every label, from 1: of its first place.
pub(super) fn pages(introspector: &PagedIntrospector) -> BTreeMap<String, usize> {
    let mut pages = BTreeMap::new();
    for labelled in introspector.query_labelled() {
        if let Some((label, at)) = labelled.label().zip(position(&labelled, introspector)) {
            pages.entry(label.resolve().to_string()).or_insert_with(|| at.page.get());
        }
    }
    pages
}

fn json(file: &impl Serialize) -> String {
    serde_json::to_string(file).unwrap_or_default()
}

fn position(element: &Content, introspector: &PagedIntrospector) -> Option<PagedPosition> {
    introspector.position(element.location()?)
}

/// The elements under a label of the look, in their order.
fn marked(introspector: &PagedIntrospector, label: &str) -> Vec<(Value, Location)> {
    let Some(label) = Label::new(PicoStr::intern(label)) else { return Vec::new() };
    let found = introspector.query(&Selector::Label(label));
    let value =
        |element: Content| Some((element.to_packed::<MetadataElem>()?.value.clone(), element.location()?));
    found.into_iter().filter_map(value).collect()
}

/// For every picture, by its path, the first time that it is shown.
fn pictures(introspector: &PagedIntrospector) -> BTreeMap<String, First> {
    let mut first = BTreeMap::new();
    for (shown, at) in marked(introspector, "shows") {
        let Value::Array(shown) = shown else { continue };
        if let [Value::Str(path), Value::Int(time)] = shown.as_slice() {
            first.entry(path.to_string()).or_insert_with(|| First {
                time: *time,
                figure: introspector.query_count_before(&FigureElem::ELEM.select(), at),
            });
        }
    }
    first
}

/// Below which height nothing begins at the top of a page, as the look says it.
pub(super) fn top(introspector: &PagedIntrospector) -> Abs {
    match marked(introspector, "page-top").first() {
        Some((Value::Length(top), _)) => top.abs,
        _ => Abs::zero(),
    }
}

/// What runs on each page: what begins at its top, else what goes on from the page before.
fn heads(introspector: &PagedIntrospector, pages: usize) -> Vec<Heads> {
    let top = top(introspector);
    let place = |(name, at): (Value, Location)| Some((name, introspector.position(at)?));
    let running: Vec<_> = marked(introspector, "runs").into_iter().filter_map(place).collect();
    let empty = || Heads { pages, heads: BTreeMap::new() };
    let mut files: Vec<Heads> = (0..=pages / HEADS_IN_A_FILE).map(|_| empty()).collect();
    let mut before: Option<String> = None;
    let mut rest = running.iter().peekable();
    for page in 1..=pages {
        let mut at_top: Option<String> = None;
        let goes_on = before.clone();
        while let Some((name, at)) = rest.next_if(|(_, at)| at.page.get() <= page) {
            before = Some(said(name));
            if at.point.y < top && at_top.is_none() {
                at_top.clone_from(&before);
            }
        }
        let is_new = at_top.is_some();
        if let Some(says) = at_top.or(goes_on) {
            files[page / HEADS_IN_A_FILE].heads.insert(page, Head { says, goes_on: !is_new });
        }
    }
    files
}

fn said(name: &Value) -> String {
    match name {
        Value::Content(content) => content.plain_text().to_string(),
        value => value.clone().display().plain_text().to_string(),
    }
}
