//! What may be said to the receiver of a sheet.
//!
//! The kind of a note decides first: what is written for whoever does the job goes; findings, questions, papers and the
//! log go where their note says `for_helpers`; what is private, and what rests on it, never does. Then every text that
//! would go is looked at once more: what tells of money, a contact, a person or another shop leaves a gap.

mod form;
mod names;
mod sentences;
mod words;

use std::cell::RefCell;

use super::Addressee;
use crate::dossier::{NoteId, PartId, decoded};
use crate::note::body::{Block, BlockShape, Cell, Inline, InlineShape, each_block, each_inline, plain};
use crate::photo;
use crate::render::body::Part;
use crate::render::edition::Edition;
use crate::text::{FileId, Span};
use form::one_form;
use names::Names;

/// What stands on the sheet in the place of a text that is kept back.
pub(super) const GAP: &str = "[kept back]";

/// A passage that is not in the sheet.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct KeptBack {
    /// Where it stands in the notes; `None` for what is put together from several.
    pub place: Option<Span>,
    /// Why, to go on from "kept back: ".
    pub why: String,
    /// What is kept back, shortened.
    pub passage: String,
    /// Whether words under `for_helpers` let it through.
    pub can_go: bool,
}

/// Reads every text before it goes into a sheet.
pub(super) struct Redaction<'a> {
    edition: &'a Edition<'a>,
    names: Names,
    /// Of one form; they go in every note.
    let_through: Vec<String>,
    /// What any note lets through: for texts that are put together from several.
    let_through_anywhere: Vec<String>,
    currency: String,
    kept_back: RefCell<Vec<KeptBack>>,
}

impl<'a> Redaction<'a> {
    pub(super) fn new(edition: &'a Edition<'a>, whom: Addressee) -> Self {
        let about = &edition.dossier().about;
        let contact = &about.keeper_contact;
        let own =
            [&contact.ask_for, &contact.telephone, &contact.mail, &contact.address, &contact.machine_at];
        let own = own.into_iter().flatten().chain(&about.for_helpers);
        Self {
            edition,
            names: Names::of(edition.dossier(), edition.privacy(), whom),
            let_through: own.map(|words| one_form(words, " ")).collect(),
            let_through_anywhere: edition
                .dossier()
                .notes()
                .flat_map(|note| &edition.dossier().head(note).for_helpers.words)
                .map(|words| one_form(words, " "))
                .collect(),
            currency: about.settings.currency.to_lowercase(),
            kept_back: RefCell::default(),
        }
    }

    /// What was kept back so far, in order of place.
    pub(super) fn into_kept_back(self) -> Vec<KeptBack> {
        let mut kept_back = self.kept_back.into_inner();
        kept_back.sort();
        kept_back.dedup();
        kept_back
    }

    /// Whether a note may be mentioned at all.
    pub(super) fn is_open(&self, note: impl Into<NoteId>) -> bool {
        !self.edition.privacy().is_private(note.into())
    }

    /// Whether a note goes that is not written for helpers.
    pub(super) fn goes(&self, note: impl Into<NoteId>) -> bool {
        let note = note.into();
        self.is_open(note) && self.edition.dossier().head(note).for_helpers.goes
    }

    /// A text of a note's front matter, or a gap.
    pub(super) fn text(&self, note: impl Into<NoteId>, text: &str) -> String {
        let note = note.into();
        match self.objection(&self.let_through_in(note), text) {
            None => text.to_owned(),
            Some(why) => {
                self.keep_back(self.place_of(note, text), why, text);
                GAP.to_owned()
            }
        }
    }

    /// A text that is put together from several, or a gap.
    pub(super) fn joined(&self, text: &str) -> String {
        match self.objection(&self.let_through_anywhere, text) {
            None => text.to_owned(),
            Some(why) => {
                self.keep_back(self.place_in_sources(text), why, text);
                GAP.to_owned()
            }
        }
    }

    /// What of a block of a note's body is set. A sentence that leads up to a block, and the block, go together.
    pub(super) fn part(&self, note: impl Into<NoteId>, at: usize) -> Part {
        let note = note.into();
        let body = &self.edition.dossier().head(note).body;
        // A footnote is looked at with what it is a note to.
        if matches!(body[at].shape, BlockShape::Footnote { .. }) {
            return Part::Nothing;
        }
        let is_sayable =
            |at: usize| body.get(at).is_none_or(|block| self.objection_to(note, block).is_none());
        let with_next = !leads_on(&body[at]) || is_sayable(at + 1);
        let with_last = at == 0 || !leads_on(&body[at - 1]) || is_sayable(at - 1);
        match self.objection_to(note, &body[at]) {
            None if with_next && with_last => Part::Whole,
            None => Part::Gap,
            Some(_) => self.without_sentences(note, &body[at]).unwrap_or_else(|| {
                self.allows(note, &body[at]);
                Part::Gap
            }),
        }
    }

    /// A paragraph with gaps for those of its sentences that may not be said; `None` where that is not enough.
    fn without_sentences(&self, note: NoteId, block: &Block) -> Option<Part> {
        let BlockShape::Paragraph(text) = &block.shape else { return None };
        let of = |text: Vec<Inline>| Block { shape: BlockShape::Paragraph(text), ..block.clone() };
        let sentences = sentences::of(text);
        let objections: Vec<Option<String>> =
            sentences.iter().map(|sentence| self.objection_to(note, &of(sentence.clone()))).collect();
        let left = |gap: &[Inline]| {
            let each = sentences.iter().zip(&objections);
            each.flat_map(|(sentence, why)| if why.is_some() { gap.to_vec() } else { sentence.clone() })
                .collect()
        };
        let is_enough = objections.iter().any(Option::is_none)
            && objections.iter().any(Option::is_some)
            && self.objection_to(note, &of(left(&[]))).is_none();
        if !is_enough {
            return None;
        }
        for (sentence, why) in sentences.iter().zip(&objections) {
            let Some(why) = why else { continue };
            self.keep_back(Some(block.span), why.clone(), &self.all_text(note, &of(sentence.clone()), " "));
        }
        Some(Part::Instead(of(left(&sentences::gap(block.span)))))
    }

    /// Whether a text that rests on this note may be said; where not, nothing is missing without it.
    pub(super) fn may_say(&self, note: NoteId, text: &str) -> bool {
        self.is_open(note) && self.objection(&self.let_through_in(note), text).is_none()
    }

    /// Whether a block may be said that would otherwise be shown.
    pub(super) fn allows(&self, note: impl Into<NoteId>, block: &Block) -> bool {
        let note = note.into();
        let objection = self.objection_to(note, block);
        let allowed = objection.is_none();
        if let Some(why) = objection {
            let passage = self.all_text(note, block, " ");
            self.keep_back(Some(block.span), why, &passage);
        }
        allowed
    }

    /// Whether a drawing made here may be shown.
    pub(super) fn allows_drawing(&self, part: PartId, svg: &[u8], words: &str) -> bool {
        // Each size is a text of its own: two beside each other are no telephone number.
        let lettering = photo::lettering(svg).unwrap_or_default().join(" ; ");
        let why = self.objection(&self.let_through_in(part.into()), &format!("{lettering} ; {words}"));
        let allowed = why.is_none();
        if let Some(why) = why {
            self.keep_back(Some(self.edition.dossier()[part].head.span), why, "the drawing of its shape");
        }
        allowed
    }

    /// Whether a picture may be shown: a drawing may hold words.
    pub(super) fn allows_picture(&self, note: impl Into<NoteId>, target: &str) -> bool {
        let note = note.into();
        let file = self.edition.dossier().head(note).file;
        let objection = self.objection_to_picture(&self.let_through_in(note), file, target);
        let allowed = objection.is_none();
        if let Some(why) = objection {
            self.keep_back(self.place_of(note, target), why, target);
        }
        allowed
    }

    fn keep_back(&self, place: Option<Span>, why: String, passage: &str) {
        let can_go = !why.contains(PRIVATE);
        let passage = shortened(passage);
        self.kept_back.borrow_mut().push(KeptBack { place, why, passage, can_go });
    }

    fn let_through_in(&self, note: NoteId) -> Vec<String> {
        let words = &self.edition.dossier().head(note).for_helpers.words;
        words.iter().map(|word| one_form(word, " ")).collect()
    }

    /// The line that a text of the front matter stands in; else the note's beginning.
    fn place_of(&self, note: NoteId, text: &str) -> Option<Span> {
        let head = self.edition.dossier().head(note);
        Some(self.find(head.file, text).unwrap_or(head.span))
    }

    fn place_in_sources(&self, text: &str) -> Option<Span> {
        self.edition.project.sources.ids().find_map(|file| self.find(file, text))
    }

    fn find(&self, file: FileId, text: &str) -> Option<Span> {
        let start = self.edition.project.sources.file(file).text.find(text).filter(|_| !text.is_empty())?;
        Some(Span { file, start, end: start + text.len() })
    }

    // The second look

    fn objection_to(&self, note: NoteId, block: &Block) -> Option<String> {
        let words = self.let_through_in(note);
        self.objection_to_values(note, block)
            .or_else(|| self.objection_to_links(block))
            .or_else(|| self.objection_to_pictures(&words, block))
            .or_else(|| self.objection_to_prices(&words, block))
            .or_else(|| {
                let texts = ["", " "].map(|between| self.all_text(note, block, between));
                texts.iter().find_map(|text| self.objection(&words, text))
            })
    }

    /// A bare figure under the head of a column that names a currency.
    fn objection_to_prices(&self, let_through: &[String], block: &Block) -> Option<String> {
        let form = |cell: &Cell| {
            let words = self.let_through.iter().chain(let_through).filter(|words| !words.is_empty());
            words.fold(one_form(&plain(&cell.text), " "), |form, words| form.replace(words.as_str(), " "))
        };
        let mut found = false;
        each_block(std::slice::from_ref(block), &mut |block| {
            let BlockShape::Table(table) = &block.shape else { return };
            let is_of_money =
                |cell: &Cell| words::names_a_currency(&form(cell), &plain(&cell.text), &self.currency);
            let heads = table.head.iter().enumerate().filter(|(_, cell)| is_of_money(cell));
            let mut cells = heads.flat_map(|(at, _)| table.rows.iter().filter_map(move |row| row.get(at)));
            found |= cells.any(|cell| form(cell).contains(|letter: char| letter.is_ascii_digit()));
        });
        found.then(|| "it tells of money".to_owned())
    }

    /// A quoted value that rests on a private note.
    fn objection_to_values(&self, note: NoteId, block: &Block) -> Option<String> {
        let mut found = false;
        each_inline(&self.with_footnotes(note, block), &mut |inline| {
            let is_quote = matches!(&inline.shape, InlineShape::Code(text) if text.starts_with("calc "));
            found |= is_quote && self.edition.privacy().quote(inline.span);
        });
        found.then(|| format!("its value rests on a {PRIVATE}"))
    }

    /// A link to a private note or to another shop tells that there is one.
    fn objection_to_links(&self, block: &Block) -> Option<String> {
        let (dossier, file) = (self.edition.dossier(), block.span.file);
        let mut objection = None;
        each_inline(std::slice::from_ref(block), &mut |inline| {
            let InlineShape::Link { target, by_id, .. } = &inline.shape else { return };
            let note = dossier.link(file, target, *by_id, &self.edition.project.sources);
            let why = match note {
                Some(note) if !self.is_open(note) => {
                    Some(format!("it links to the {PRIVATE} `{}`", dossier.head(note).id))
                }
                Some(NoteId::Shop(shop)) => {
                    self.names.objection(&one_form(dossier[shop].id(), " ")).map(str::to_owned)
                }
                _ => (target.starts_with("mailto:") || target.starts_with("tel:"))
                    .then(|| "it holds a contact".to_owned()),
            };
            objection = objection.take().or(why);
        });
        objection
    }

    fn objection_to_pictures(&self, words: &[String], block: &Block) -> Option<String> {
        let mut objection = None;
        each_inline(std::slice::from_ref(block), &mut |inline| {
            if let InlineShape::Picture { target, .. } = &inline.shape {
                objection =
                    objection.take().or_else(|| self.objection_to_picture(words, block.span.file, target));
            }
        });
        objection
    }

    /// The words of an SVG drawing, one after the other and run together.
    fn objection_to_picture(&self, let_through: &[String], from: FileId, target: &str) -> Option<String> {
        let sources = &self.edition.project.sources;
        let bytes = sources.relative(from, &decoded(target)).and_then(|path| sources.bytes(&path).ok())?;
        match photo::lettering(&bytes) {
            None => Some("it is a drawing whose words can't be read".to_owned()),
            Some(words) => {
                [" ", ""].iter().find_map(|between| self.objection(let_through, &words.join(between)))
            }
        }
    }

    fn with_footnotes(&self, note: NoteId, block: &Block) -> Vec<Block> {
        let body = &self.edition.dossier().head(note).body;
        let mut marks = Vec::new();
        each_inline(std::slice::from_ref(block), &mut |inline| {
            if let InlineShape::FootnoteMark(label) = &inline.shape {
                marks.push(label.clone());
            }
        });
        let is_marked = |block: &&Block| matches!(&block.shape, BlockShape::Footnote { label, .. } if marks.contains(label));
        std::iter::once(block).chain(body.iter().filter(is_marked)).cloned().collect()
    }

    /// Everything that the block would print, footnotes too, with `between` its pieces; of a calculation nothing, for its figures are decided by
    /// what they rest on.
    fn all_text(&self, note: NoteId, block: &Block, between: &str) -> String {
        let blocks = self.with_footnotes(note, block);
        let mut text = String::new();
        each_inline(&blocks, &mut |inline| text.extend([&self.words(inline), between]));
        each_block(&blocks, &mut |block| match &block.shape {
            BlockShape::Code(code) if code.language != "calc" => {
                code.lines.iter().for_each(|line| text.push_str(&format!("\n{}", line.text)));
            }
            BlockShape::Html(html) => text.push_str(html),
            _ => {}
        });
        text
    }

    fn words(&self, inline: &Inline) -> String {
        match &inline.shape {
            InlineShape::Text(text) | InlineShape::Html(text) | InlineShape::Picture { text, .. } => {
                text.clone()
            }
            InlineShape::Code(text) => match self.edition.project.worked.quote(inline.span) {
                Some(quote) => quote.text.clone(),
                None => text.clone(),
            },
            InlineShape::Link { target, by_id: true, .. } => {
                let note = self.edition.dossier().find(target.trim());
                note.map(|note| self.edition.dossier().title(note)).unwrap_or_default()
            }
            InlineShape::Link { target, .. } if target.contains("://") => format!(" {target} "),
            InlineShape::SoftBreak | InlineShape::HardBreak => " ".to_owned(),
            _ => String::new(),
        }
    }

    /// Why a text is not for this reader.
    fn objection(&self, let_through: &[String], text: &str) -> Option<String> {
        [" ", ""].iter().find_map(|between| {
            let words = self.let_through.iter().chain(let_through).filter(|words| !words.is_empty());
            let form = words.fold(one_form(text, between), |form, words| form.replace(words.as_str(), " "));
            self.names
                .objection(&form)
                .map(str::to_owned)
                .or_else(|| {
                    words::tells_of_money(&form, text, &self.currency).then(|| "it tells of money".to_owned())
                })
                .or_else(|| words::holds_mail_address(&form).then(|| "it holds a contact".to_owned()))
                .or_else(|| {
                    words::holds_telephone_number(&form).then(|| "it holds a telephone number".to_owned())
                })
        })
    }
}

const PRIVATE: &str = "private note";

fn leads_on(block: &Block) -> bool {
    match &block.shape {
        BlockShape::Paragraph(text) => plain(text).trim_end().ends_with(':'),
        _ => false,
    }
}

/// The beginning of a passage in one line.
fn shortened(passage: &str) -> String {
    const MOST: usize = 60;
    let line = passage.split_whitespace().collect::<Vec<_>>().join(" ");
    match line.char_indices().nth(MOST) {
        Some((end, _)) => format!("{}…", line[..end].trim_end()),
        None => line,
    }
}
