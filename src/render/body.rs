//! The body of a note as Typst markup.

use std::collections::BTreeMap;

use super::assets::width_of_each;
use super::edition::Edition;
use super::escape::{escape, quoted};
use super::working;
use crate::dossier::{NoteId, is_address};
use crate::note::body::{
    Alignment, Block, BlockShape, Cell, CodeBlock, Inline, InlineShape, Item, Table, each_inline, plain,
};
use crate::text::{FileId, Span};
use crate::typeset::note_mark;

/// The body of a note, without the block at `without` (a measurement's readings, which are set elsewhere).
pub(super) fn markup(edition: &Edition, note: NoteId, without: Option<Span>) -> String {
    let part = |block: &Block| if Some(block.span) == without { Part::Nothing } else { Part::Whole };
    markup_of(edition, note, |_, block| part(block))
}

/// What of a block is set.
#[derive(Clone, Debug)]
pub(super) enum Part {
    Whole,
    /// What is set in its place.
    Instead(Block),
    /// A mark that something stands here which this reader does not get.
    Gap,
    Nothing,
}

/// Those outer blocks of a note's body that are wanted, by their place.
pub(super) fn markup_of(edition: &Edition, note: NoteId, part: impl Fn(usize, &Block) -> Part) -> String {
    let head = edition.dossier().head(note);
    let footnotes = footnotes(&head.body);
    let (set, depths) = (BTreeMap::new(), Vec::new());
    let mut body = Body { edition, note, file: head.file, footnotes, set, depths, in_footnote: false };
    let parts: Vec<(&Block, Part)> =
        head.body.iter().enumerate().map(|(at, block)| (block, part(at, block))).collect();
    let mut blocks: Vec<(&Block, bool)> =
        parts.iter().filter_map(|(block, part)| set_for(block, part)).collect();
    blocks.dedup_by(|(_, next_is_gap), (_, last_is_gap)| *next_is_gap && *last_is_gap);
    if edition.names.is_letter() {
        blocks.retain(|(block, _)| !body.is_silent(block));
    }
    let leads_on = |i: usize| i > 0 && blocks.get(i + 1).is_some_and(|next| introduces(blocks[i].0, next.0));
    let mut set = String::new();
    for (at, (block, is_gap)) in blocks.iter().enumerate() {
        let markup = match is_gap {
            true => "#kept-back\n\n".to_owned(),
            _ if is_followed(&head.body, block, blocks.get(at + 1).map(|next| next.0)) => {
                body.marked(block, leads_on(at))
            }
            _ => {
                let is_answered = blocks.get(at + 1).is_some_and(|next| quotes_a_value(next.0));
                body.marked(&without_lead(block, is_answered), false)
            }
        };
        set.push_str(&markup);
    }
    set
}

/// The block that is set, and whether it leaves a gap instead.
fn set_for<'a>(block: &'a Block, part: &'a Part) -> Option<(&'a Block, bool)> {
    match part {
        Part::Whole => Some((block, false)),
        Part::Instead(other) => Some((other, false)),
        Part::Gap => Some((block, true)),
        Part::Nothing => None,
    }
}

/// Whether the block that is set next is the one that comes next in the note.
fn is_followed(blocks: &[Block], block: &Block, next: Option<&Block>) -> bool {
    let was_followed = blocks.iter().skip_while(|each| each.span != block.span).nth(1);
    next.map(|next| next.span) == was_followed.map(|next| next.span)
}

/// A paragraph without its last sentence if that leads up, by its colon, to what is not set. Where the text goes on with
/// what came out it stays as it is, and leads up to that; with a figure in it, it ends with a full stop, unless it is only
/// half a sentence.
fn without_lead(block: &Block, is_answered: bool) -> Block {
    let mut block = block.clone();
    if let BlockShape::Paragraph(text) = &mut block.shape
        && plain(text).trim_end().ends_with(':')
        && !is_answered
    {
        let mut rest = text.clone();
        cut_last_sentence(&mut rest);
        let lead = plain(text).split_off(plain(&rest).len().min(plain(text).len()));
        if lead.contains(|letter: char| letter.is_ascii_digit()) && !is_half(&lead) {
            end_with_a_stop(text);
        } else {
            *text = rest;
        }
    }
    block
}

/// Whether it asks what the calculation says: "What it would take", "Where it balances".
fn is_half(lead: &str) -> bool {
    let first = lead.split_whitespace().next().unwrap_or_default().to_lowercase();
    ["what", "where", "how", "whether", "which", "why", "when", "that", "only"].contains(&first.as_str())
}

fn end_with_a_stop(text: &mut [Inline]) {
    if let Some(Inline { shape: InlineShape::Text(words), .. }) = text.last_mut()
        && let Some(says) = words.trim_end().strip_suffix(':')
    {
        *words = format!("{says}.");
    }
}

/// Whether a value that was worked out is quoted in a block.
fn quotes_a_value(block: &Block) -> bool {
    let mut quotes = false;
    each_inline(std::slice::from_ref(block), &mut |inline| {
        quotes |= matches!(&inline.shape, InlineShape::Code(code) if code.starts_with("calc "));
    });
    quotes
}

/// A sentence ends with its stop and a blank, or at the end of a line; a picture stays.
fn cut_last_sentence(text: &mut Vec<Inline>) {
    const STOPS: [char; 3] = ['.', '?', '!'];
    let mut is_last_of_line = false;
    while let Some(last) = text.pop_if(|inline| !is_picture(inline)) {
        if let InlineShape::Text(words) = &last.shape {
            let blank = words.match_indices(' ').map(|(at, _)| at).rfind(|at| words[..*at].ends_with(STOPS));
            let end = if is_last_of_line && words.ends_with(STOPS) { Some(words.len()) } else { blank };
            if let Some(end) = end {
                text.push(Inline { shape: InlineShape::Text(words[..end].to_owned()), ..last });
                return;
            }
        }
        is_last_of_line = matches!(last.shape, InlineShape::SoftBreak | InlineShape::HardBreak);
    }
}

fn footnotes(blocks: &[Block]) -> BTreeMap<&str, &[Block]> {
    fn footnote(block: &Block) -> Option<(&str, &[Block])> {
        match &block.shape {
            BlockShape::Footnote { label, blocks } => Some((label, blocks)),
            _ => None,
        }
    }
    blocks.iter().filter_map(footnote).collect()
}

struct Body<'a> {
    edition: &'a Edition<'a>,
    note: NoteId,
    file: FileId,
    footnotes: BTreeMap<&'a str, &'a [Block]>,
    /// The number of each footnote that is set, by its label.
    set: BTreeMap<&'a str, usize>,
    /// The levels of the headings that are open, so that no depth is ever skipped.
    depths: Vec<u8>,
    in_footnote: bool,
}

impl Body<'_> {
    /// A block under a line that says which line of the note it comes from; `leads_on`: it stays with the next.
    fn marked(&mut self, block: &Block, leads_on: bool) -> String {
        let mut markup = self.block(block);
        if markup.is_empty() {
            return markup;
        }
        if leads_on {
            markup = format!("#introduction[{markup}]");
        }
        let line = self.edition.project.sources.place(block.span).line;
        format!("{}{markup}\n\n", note_mark(self.file, line))
    }

    /// Whether it is a calculation of which a letter has nothing.
    fn is_silent(&self, block: &Block) -> bool {
        matches!(&block.shape, BlockShape::Code(code) if code.language == "calc")
            && working::block(self.edition, self.note, block.span).is_empty()
    }

    fn blocks(&mut self, blocks: &[Block]) -> String {
        let set: Vec<String> = blocks.iter().map(|block| self.block(block)).collect();
        set.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join("\n\n")
    }

    fn block(&mut self, block: &Block) -> String {
        match &block.shape {
            BlockShape::Paragraph(text) => self.paragraph(text),
            BlockShape::Heading { level, text } => self.heading(*level, text),
            BlockShape::Quote(blocks) => format!("#quote(block: true)[{}]", self.blocks(blocks)),
            BlockShape::Code(code) => self.code(code, block.span),
            BlockShape::List { start, items } => self.list(*start, items),
            BlockShape::Table(table) => self.table(table),
            BlockShape::Rule => "#scribe()".to_owned(),
            BlockShape::Html(text) => escape(text.trim()),
            BlockShape::Footnote { .. } => String::new(),
        }
    }

    /// The words, and below them the pictures that stand in them; without a word it is no heading.
    fn heading(&mut self, level: u8, text: &[Inline]) -> String {
        let (words, pictures) = self.parted(text);
        if !text.iter().filter(|inline| !is_picture(inline)).any(is_seen) {
            return pictures;
        }
        while self.depths.last().is_some_and(|open| *open >= level) {
            self.depths.pop();
        }
        self.depths.push(level);
        format!("{} {words}\n\n{pictures}", "=".repeat(self.depths.len()))
    }

    /// The text, and below it the pictures that stand in it.
    fn paragraph(&mut self, text: &[Inline]) -> String {
        let (words, pictures) = self.parted(text);
        match (words.trim().is_empty(), pictures.is_empty()) {
            (true, _) => pictures,
            (false, true) => words,
            (false, false) => format!("{words}\n\n{pictures}"),
        }
    }

    /// The words and the pictures of a text, each as markup.
    fn parted(&mut self, text: &[Inline]) -> (String, String) {
        let (pictures, words): (Vec<&Inline>, Vec<&Inline>) =
            text.iter().partition(|inline| is_picture(inline));
        let words = self.run(words.into_iter());
        (words, self.pictures(&pictures))
    }

    fn pictures(&self, pictures: &[&Inline]) -> String {
        let shapes: Vec<_> = pictures
            .iter()
            .filter_map(|inline| match &inline.shape {
                InlineShape::Picture { target, text } => self.edition.assets.picture(
                    self.file,
                    target,
                    Some(text),
                    &[],
                    width_of_each(pictures.len()),
                ),
                _ => None,
            })
            .collect();
        match shapes.as_slice() {
            [] => String::new(),
            [one] => {
                let caption =
                    one.caption.as_deref().map_or("none".to_owned(), |text| format!("[{}]", escape(text)));
                let (path, alt) = (quoted(&one.path), quoted(&one.alt));
                format!("#picture({path}, time: {}, alt: {alt}, caption: {caption})", one.time)
            }
            several => {
                let literals = several.iter().map(super::escape::of).collect::<Vec<_>>();
                format!("#pictures({})", literals.join(", "))
            }
        }
    }

    fn code(&self, code: &CodeBlock, span: Span) -> String {
        if code.language == "calc" {
            return working::block(self.edition, self.note, span);
        }
        let lines: Vec<String> = code.lines.iter().map(|line| escape(&line.text)).collect();
        format!("#raw(block: true, \"{}\")", lines.join("\\n"))
    }

    fn list(&mut self, start: Option<u64>, items: &[Item]) -> String {
        let is_task = items.iter().any(|item| item.task.is_some());
        let set: Vec<String> = items
            .iter()
            .map(|item| {
                let body = self.blocks(&item.blocks);
                if is_task {
                    format!("({}, [{body}])", item.task.unwrap_or(false))
                } else {
                    format!("[{body}]")
                }
            })
            .collect();
        let set = set.join(", ");
        match start {
            _ if is_task => format!("#tasks({set})"),
            Some(start) => format!("#enum(start: {start}, {set})"),
            None => format!("#list({set})"),
        }
    }

    fn table(&mut self, table: &Table) -> String {
        let head: String =
            table.head.iter().map(|cell| format!("[{}], ", self.inlines(&cell.text))).collect();
        let mut cells = |row: &[Cell]| -> String {
            let aligned = row.iter().zip(&table.columns);
            aligned.map(|(cell, column)| format!("{}, ", self.cell(cell, *column))).collect()
        };
        let rows: String = table.rows.iter().map(|row| format!("({}), ", cells(row))).collect();
        let align: String = table.columns.iter().map(|column| format!("{}, ", alignment(*column))).collect();
        format!("#pieces(head: ({head}), align: ({align}), rows: ({rows}))")
    }

    /// A cell of the body: in a column set to the right a number is text, so that it stands on the decimal point.
    fn cell(&mut self, cell: &Cell, column: Alignment) -> String {
        let words = plain(&cell.text);
        let is_number = column == Alignment::Right && words.trim().parse::<f64>().is_ok();
        if is_number { quoted(words.trim()) } else { format!("[{}]", self.inlines(&cell.text)) }
    }

    fn inlines(&mut self, inlines: &[Inline]) -> String {
        self.run(inlines.iter())
    }

    /// A link that letters follow at once is set apart from them: the page setter gives up where it hyphenates between.
    fn run<'b>(&mut self, inlines: impl Iterator<Item = &'b Inline>) -> String {
        let mut inlines = inlines.peekable();
        let mut markup = String::new();
        while let Some(inline) = inlines.next() {
            markup.push_str(&self.inline(inline));
            let follows = inlines.peek().map(|next| plain(std::slice::from_ref(*next)));
            if ends_with_link(inline) && follows.is_some_and(|text| text.starts_with(char::is_alphanumeric)) {
                markup.push(WORD_JOINER);
            }
        }
        markup
    }

    fn inline(&mut self, inline: &Inline) -> String {
        match &inline.shape {
            InlineShape::Text(text) | InlineShape::Html(text) => escape(text),
            InlineShape::Code(text) => self.raw(text, inline.span),
            InlineShape::Emphasis(inner) => format!("#emph[{}]", self.inlines(inner)),
            InlineShape::Strong(inner) => format!("#strong[{}]", self.inlines(inner)),
            InlineShape::Struck(inner) => format!("#strike[{}]", self.inlines(inner)),
            InlineShape::Link { target, by_id, text } => self.link(target, *by_id, text),
            InlineShape::Picture { text, .. } => escape(text),
            InlineShape::FootnoteMark(label) => self.footnote(label),
            InlineShape::SoftBreak => " ".to_owned(),
            InlineShape::HardBreak => "#linebreak()".to_owned(),
        }
    }

    fn raw(&self, text: &str, span: Span) -> String {
        match text.strip_prefix("calc ") {
            Some(_) => working::quote(self.edition, self.note, span),
            None => format!("#raw({})", quoted(text)),
        }
    }

    fn link(&mut self, target: &str, by_id: bool, text: &[Inline]) -> String {
        let sources = &self.edition.project.sources;
        match self.edition.dossier().link(self.file, target, by_id, sources) {
            Some(note) => {
                let bare = by_id && plain(text).trim() == target.trim();
                let words =
                    if bare { escape(&self.edition.dossier().title(note)) } else { self.inlines(text) };
                let label = self.edition.names.label(note).map_or("none".to_owned(), |label| quoted(&label));
                format!("#to({label})[{words}]")
            }
            None if is_address(target) => {
                format!("#link({})[{}]", quoted(target), self.inlines(text))
            }
            None => self.inlines(text),
        }
    }

    /// Its text under the page of its first mark; a further mark leads to the same footnote.
    fn footnote(&mut self, label: &str) -> String {
        let found = self.footnotes.get_key_value(label).filter(|_| !self.in_footnote);
        let Some((&label, &blocks)) = found else { return String::new() };
        if let Some(number) = self.set.get(label) {
            return format!("#footnote(<footnote-{number}>)");
        }
        self.in_footnote = true;
        let text = self.blocks(blocks);
        self.in_footnote = false;
        let number = self.edition.assets.next_footnote();
        self.set.insert(label, number);
        format!("#footnote[{text}]<footnote-{number}>")
    }
}

const WORD_JOINER: char = '\u{2060}';

fn ends_with_link(inline: &Inline) -> bool {
    match &inline.shape {
        InlineShape::Link { .. } => true,
        InlineShape::Emphasis(inner) | InlineShape::Strong(inner) | InlineShape::Struck(inner) => {
            inner.last().is_some_and(ends_with_link)
        }
        _ => false,
    }
}

fn is_picture(inline: &Inline) -> bool {
    matches!(inline.shape, InlineShape::Picture { .. })
}

/// Whether it leaves a mark on the page.
fn is_seen(inline: &Inline) -> bool {
    let invisible = |letter: char| {
        letter.is_whitespace()
            || letter.is_control()
            || matches!(letter, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}')
            || matches!(letter, '\u{2060}'..='\u{2069}' | '\u{feff}')
    };
    !plain(std::slice::from_ref(inline)).chars().all(invisible)
}

/// An introduction has no more letters: about five lines.
const SHORT: usize = 400;

/// Whether a paragraph leads to what follows (the first of a body stays with its head instead): a short one before a
/// calculation, or before anything after a colon.
fn introduces(block: &Block, next: &Block) -> bool {
    let BlockShape::Paragraph(text) = &block.shape else { return false };
    let words = plain(text);
    let is_set_apart = match &next.shape {
        BlockShape::Code(code) => code.language == "calc" || words.trim_end().ends_with(':'),
        BlockShape::List { .. } | BlockShape::Table(_) => words.trim_end().ends_with(':'),
        _ => false,
    };
    is_set_apart && words.len() <= SHORT && !text.iter().any(is_picture)
}

fn alignment(column: Alignment) -> &'static str {
    match column {
        Alignment::Unsaid | Alignment::Left => "left",
        Alignment::Centre => "center",
        Alignment::Right => "right",
    }
}
