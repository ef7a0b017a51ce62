//! What is settled on finished pages, where it costs no layout: where links lead, and words that belong to some places only.

use std::collections::VecDeque;

use typst::diag::SourceDiagnostic;
use typst::ecow::{EcoString, EcoVec, eco_format};
use typst::foundations::{Label, Smart};
use typst::introspection::{Introspector, Tag};
use typst::layout::{Abs, Frame, FrameItem, PageElem, Point};
use typst::model::{Destination, Document, LinkMarker};
use typst::syntax::Span;
use typst::text::{LocalName, Locale};
use typst::utils::PicoStr;
use typst_layout::{Page, PagedDocument, PagedIntrospector};

use super::places;

/// How the look writes a link to a label: no address that a text can hold begins with this letter. Typst's own link to a
/// label asks the finished pages, so that every text with a link in it would be laid out twice.
const TO_LABEL: char = '\u{1}';

/// What stands over the head of a table, and only where it is repeated.
const CONTINUED: &str = "continued";

/// The first row of a table, below its first head.
const BEGINS: &str = "table-begins";

/// What is left out at the top of a page.
const WITHIN: &str = "within-page";

/// The pages with their links leading to where the labels are, and without what belongs to other places.
///
/// # Errors
/// A link to a label that is nowhere.
pub(super) fn finished(document: &PagedDocument) -> Result<PagedDocument, EcoVec<SourceDiagnostic>> {
    let introspector = document.introspector();
    let locale = match document.info().locale {
        Smart::Custom(locale) => locale,
        Smart::Auto => Locale::DEFAULT,
    };
    let mut finish = Finish {
        introspector,
        page_word: PageElem::local_name(locale.lang, locale.region),
        names: Names::new(),
        repeated: repeated(document.pages()),
        top: places::top(introspector),
        unknown: EcoVec::new(),
    };
    let pages: EcoVec<Page> = document
        .pages()
        .iter()
        .map(|page| {
            let mut page = page.clone();
            finish.frame(&mut page.frame, Point::zero());
            page
        })
        .collect();
    if finish.unknown.is_empty() {
        Ok(PagedDocument::new(pages, document.info().clone()))
    } else {
        Err(finish.unknown)
    }
}

/// The labels of the look.
struct Names {
    continued: Option<Label>,
    within: Option<Label>,
}

impl Names {
    fn new() -> Self {
        Self { continued: label(CONTINUED), within: label(WITHIN) }
    }
}

fn label(name: &str) -> Option<Label> {
    Label::new(PicoStr::intern(name))
}

/// For every head of a table in the order of the pages, whether it is a repeated one: the first one has the beginning of
/// its table right behind it.
fn repeated(pages: &[Page]) -> VecDeque<bool> {
    let (head, begins) = (label(CONTINUED), label(BEGINS));
    let mut found = VecDeque::new();
    for page in pages {
        look_for_heads(&page.frame, (head, begins), &mut found);
    }
    found
}

fn look_for_heads(frame: &Frame, names: (Option<Label>, Option<Label>), found: &mut VecDeque<bool>) {
    for (_, item) in frame.items() {
        match item {
            FrameItem::Group(group) if group.label.is_some() && group.label == names.0 => {
                found.push_back(true);
            }
            FrameItem::Group(group) => look_for_heads(&group.frame, names, found),
            FrameItem::Tag(Tag::Start(element, _))
                if element.label().is_some() && element.label() == names.1 =>
            {
                if let Some(last) = found.back_mut() {
                    *last = false;
                }
            }
            _ => {}
        }
    }
}

struct Finish<'a> {
    introspector: &'a PagedIntrospector,
    /// "page" in the document's language, for what is read aloud in place of a link.
    page_word: &'static str,
    names: Names,
    repeated: VecDeque<bool>,
    top: Abs,
    unknown: EcoVec<SourceDiagnostic>,
}

impl Finish<'_> {
    /// Only a frame that has something to settle is copied. at: its place on the page.
    fn frame(&mut self, frame: &mut Frame, at: Point) {
        if !self.concerns(frame) {
            return;
        }
        let places: Vec<Point> = frame.items().map(|(place, _)| *place).collect();
        let mut places = places.into_iter();
        frame.retain(|item| self.settle(item, at + places.next().unwrap_or_default()));
    }

    fn concerns(&self, frame: &Frame) -> bool {
        frame.items().any(|(_, item)| match item {
            FrameItem::Link(to, _) => asked(to).is_some(),
            FrameItem::Group(group) => self.is_of_some_places(group.label) || self.concerns(&group.frame),
            _ => false,
        })
    }

    fn is_of_some_places(&self, label: Option<Label>) -> bool {
        label.is_some() && (label == self.names.continued || label == self.names.within)
    }

    /// Settles one item; whether it stays.
    fn settle(&mut self, item: &mut FrameItem, at: Point) -> bool {
        match item {
            FrameItem::Link(to, _) => self.lead(to),
            FrameItem::Tag(Tag::Start(element, _)) => {
                if let Some(link) = element.to_packed::<LinkMarker>()
                    && let Some(alt) = self.read_aloud(link.alt.as_ref(), element.span())
                    && let Some(link) = element.to_packed_mut::<LinkMarker>()
                {
                    link.alt = Some(alt);
                }
                true
            }
            FrameItem::Group(group) if group.label.is_some() && group.label == self.names.continued => {
                self.repeated.pop_front().unwrap_or(false)
            }
            FrameItem::Group(group) if group.label.is_some() && group.label == self.names.within => {
                at.y >= self.top
            }
            FrameItem::Group(group) => {
                self.frame(&mut group.frame, at);
                true
            }
            _ => true,
        }
    }

    /// Whether the link leads somewhere.
    fn lead(&self, to: &mut Destination) -> bool {
        let Some(name) = asked(to) else { return true };
        let found = label(name).and_then(|label| self.introspector.query_label(label).ok()?.location());
        found.is_some_and(|location| {
            *to = Destination::Location(location);
            true
        })
    }

    /// What is read aloud for a link: its page.
    fn read_aloud(&mut self, alt: Option<&EcoString>, span: Span) -> Option<EcoString> {
        let name = alt?.strip_prefix(TO_LABEL)?;
        let found = label(name).map(|label| self.introspector.query_label(label));
        let page = match found {
            Some(Ok(element)) => self.introspector.position(element.location()?)?.page,
            Some(Err(why)) => {
                self.unknown.push(SourceDiagnostic::error(span, why));
                return None;
            }
            None => return None,
        };
        Some(eco_format!("{} {page}", self.page_word))
    }
}

/// The label that a link asks for.
fn asked(to: &Destination) -> Option<&str> {
    match to {
        Destination::Url(url) => url.strip_prefix(TO_LABEL),
        _ => None,
    }
}
