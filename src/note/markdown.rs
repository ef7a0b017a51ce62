//! Markdown into the tree of blocks: a walk over the parser's events and their byte ranges.

use std::iter::Peekable;
use std::ops::Range;
use std::panic::{AssertUnwindSafe, catch_unwind};

use pulldown_cmark::{
    Alignment as Set, CodeBlockKind, Event, HeadingLevel, LinkType, Options, Parser, Tag, TagEnd,
};

use super::body::{
    Alignment, Block, BlockShape, Cell, CodeBlock, CodeLine, Inline, InlineShape, Item, Table,
};
use crate::diagnostic::Problem;
use crate::limits::{DEEPEST_BLOCK, LEVELS_OF_QUOTE};
use crate::note::problems as problem;
use crate::text::{FileId, Span};

/// Reads a text that stands at byte `base` of its file.
pub(super) fn read(text: &str, base: usize, file: FileId, problems: &mut Vec<Problem>) -> Vec<Block> {
    let whole = Span::new(file, base..base + text.len());
    let options = Options::ENABLE_TABLES
        | Options::ENABLE_FOOTNOTES
        | Options::ENABLE_TASKLISTS
        | Options::ENABLE_STRIKETHROUGH
        | Options::ENABLE_WIKILINKS;
    // The parser has panicked on ranges of hostile input before; that must not cost the other notes.
    let events = catch_unwind(AssertUnwindSafe(|| {
        Parser::new_ext(text, options).into_offset_iter().collect::<Vec<_>>()
    }));
    let Ok(events) = events else {
        problems.push(problem::body_unreadable(whole));
        return Vec::new();
    };
    if let Some(deep) = first_too_deep(&events) {
        problems.push(problem::body_deep(Span::new(file, base + deep.start..base + deep.start + 1)));
        return Vec::new();
    }
    Walk { events: events.into_iter().peekable(), text, base, file, problems }.blocks()
}

fn first_too_deep(events: &[(Event, Range<usize>)]) -> Option<Range<usize>> {
    let mut depth = 0_usize;
    events.iter().find_map(|(event, range)| {
        match event {
            Event::Start(Tag::BlockQuote(_)) => depth += LEVELS_OF_QUOTE,
            Event::End(TagEnd::BlockQuote(_)) => depth -= LEVELS_OF_QUOTE,
            Event::Start(_) => depth += 1,
            Event::End(_) => depth -= 1,
            _ => {}
        }
        (depth > DEEPEST_BLOCK).then(|| range.clone())
    })
}

struct Walk<'a, 'p, I: Iterator<Item = (Event<'a>, Range<usize>)>> {
    events: Peekable<I>,
    text: &'a str,
    base: usize,
    file: FileId,
    problems: &'p mut Vec<Problem>,
}

impl<'a, I: Iterator<Item = (Event<'a>, Range<usize>)>> Walk<'a, '_, I> {
    fn span(&self, range: &Range<usize>) -> Span {
        Span::new(self.file, self.base + range.start..self.base + range.end)
    }

    /// The blocks up to the end of the block that holds them, which is taken too.
    fn blocks(&mut self) -> Vec<Block> {
        let mut blocks = Vec::new();
        while let Some((event, range)) = self.events.next() {
            match event {
                Event::End(_) => break,
                Event::Start(tag) if is_block(&tag) => blocks.push(self.block(tag, &range)),
                Event::Rule => blocks.push(Block { span: self.span(&range), shape: BlockShape::Rule }),
                loose => {
                    let text = self.loose_inlines(loose, range);
                    let span = text
                        .first()
                        .zip(text.last())
                        .map(|(first, last)| Span { end: last.span.end, ..first.span });
                    if let Some(span) = span {
                        blocks.push(Block { span, shape: BlockShape::Paragraph(text) });
                    }
                }
            }
        }
        blocks
    }

    /// Text that stands in a tight list item without a paragraph of its own.
    fn loose_inlines(&mut self, event: Event<'a>, range: Range<usize>) -> Vec<Inline> {
        let mut inlines: Vec<Inline> = self.inline(event, range).into_iter().collect();
        while let Some((event, range)) = self.events.next_if(|(event, _)| is_inline(event)) {
            if let Some(inline) = self.inline(event, range) {
                push_merged(&mut inlines, inline);
            }
        }
        inlines
    }

    fn block(&mut self, tag: Tag<'a>, range: &Range<usize>) -> Block {
        let shape = match tag {
            Tag::Heading { level, .. } => BlockShape::Heading { level: number(level), text: self.inlines() },
            Tag::BlockQuote(_) => BlockShape::Quote(self.blocks()),
            Tag::CodeBlock(kind) => BlockShape::Code(self.code(&kind)),
            Tag::HtmlBlock => BlockShape::Html(self.raw()),
            Tag::List(start) => BlockShape::List { start, items: self.items() },
            Tag::FootnoteDefinition(label) => {
                BlockShape::Footnote { label: label.into_string(), blocks: self.blocks() }
            }
            Tag::Table(columns) => BlockShape::Table(self.table(&columns)),
            _ => BlockShape::Paragraph(self.inlines()),
        };
        Block { span: self.span(range), shape }
    }

    fn items(&mut self) -> Vec<Item> {
        let mut items = Vec::new();
        while let Some((Event::Start(Tag::Item), _)) = self.events.next() {
            let task = match self.events.next_if(|(event, _)| matches!(event, Event::TaskListMarker(_))) {
                Some((Event::TaskListMarker(ticked), _)) => Some(ticked),
                _ => None,
            };
            items.push(Item { task, blocks: self.blocks() });
        }
        items
    }

    /// The lines of a code block. Inside lists and quotes every line is an event of its own, cut free of indentation.
    fn code(&mut self, kind: &CodeBlockKind) -> CodeBlock {
        let language = match kind {
            CodeBlockKind::Fenced(info) => info.split_whitespace().next().unwrap_or_default().to_owned(),
            CodeBlockKind::Indented => String::new(),
        };
        let mut lines: Vec<CodeLine> = Vec::new();
        let mut open = false;
        while let Some((Event::Text(text), range)) =
            self.events.next_if(|(event, _)| !matches!(event, Event::End(_)))
        {
            let mut offset = self.base + range.start;
            for piece in text.split_inclusive('\n') {
                let line = piece.trim_end_matches(['\n', '\r']);
                match lines.last_mut().filter(|_| open) {
                    Some(last) => last.text.push_str(line),
                    None => lines.push(CodeLine { text: line.to_owned(), offset }),
                }
                open = !piece.ends_with('\n');
                offset += piece.len();
            }
        }
        self.events.next();
        CodeBlock { language, lines }
    }

    fn raw(&mut self) -> String {
        let mut text = String::new();
        for (event, _) in self.events.by_ref() {
            match event {
                Event::End(_) => break,
                Event::Html(html) | Event::Text(html) => text.push_str(&html),
                _ => {}
            }
        }
        text
    }

    fn table(&mut self, columns: &[Set]) -> Table {
        let columns = columns.iter().map(|column| alignment(*column)).collect();
        let mut table = Table { columns, head: Vec::new(), rows: Vec::new() };
        while let Some((event, range)) = self.events.next() {
            match event {
                Event::Start(Tag::TableHead) => table.head = self.cells(),
                Event::Start(Tag::TableRow) => {
                    let row = self.cells();
                    self.refuse_surplus(&row, &range);
                    table.rows.push(row);
                }
                Event::End(TagEnd::Table) => break,
                _ => {}
            }
        }
        table
    }

    /// Cells beyond the head's are not among the parser's events: what stands in them would be lost.
    fn refuse_surplus(&mut self, row: &[Cell], range: &Range<usize>) {
        let Some(last) = row.last() else { return };
        let start = last.span.end - self.base;
        let rest = self.text.get(start..range.end).unwrap_or_default();
        let is_edge = |letter: char| letter == '|' || letter.is_whitespace();
        let surplus = rest.trim_matches(is_edge);
        if !surplus.is_empty() {
            let start = start + (rest.len() - rest.trim_start_matches(is_edge).len());
            let at = self.span(&(start..start + surplus.len()));
            self.problems.push(problem::table_cell(at, row.len()));
        }
    }

    fn cells(&mut self) -> Vec<Cell> {
        let mut cells = Vec::new();
        while let Some((Event::Start(Tag::TableCell), range)) = self.events.next() {
            cells.push(Cell { span: self.span(&range), text: self.inlines() });
        }
        cells
    }

    /// The runs of text up to the end of what holds them, which is taken too.
    fn inlines(&mut self) -> Vec<Inline> {
        let mut inlines = Vec::new();
        while let Some((event, range)) = self.events.next() {
            match event {
                Event::End(_) => break,
                event => {
                    if let Some(inline) = self.inline(event, range) {
                        push_merged(&mut inlines, inline);
                    }
                }
            }
        }
        inlines
    }

    fn inline(&mut self, event: Event<'a>, range: Range<usize>) -> Option<Inline> {
        let shape = match event {
            Event::Text(text) => InlineShape::Text(text.into_string()),
            Event::Code(text) => InlineShape::Code(text.into_string()),
            Event::InlineHtml(text) | Event::Html(text) => InlineShape::Html(text.into_string()),
            Event::FootnoteReference(label) => InlineShape::FootnoteMark(label.into_string()),
            Event::SoftBreak => InlineShape::SoftBreak,
            Event::HardBreak => InlineShape::HardBreak,
            Event::Start(tag) => self.span_of_text(tag),
            _ => return None,
        };
        Some(Inline { span: self.span(&range), shape })
    }

    fn span_of_text(&mut self, tag: Tag<'a>) -> InlineShape {
        match tag {
            Tag::Emphasis => InlineShape::Emphasis(self.inlines()),
            Tag::Strong => InlineShape::Strong(self.inlines()),
            Tag::Strikethrough => InlineShape::Struck(self.inlines()),
            Tag::Image { dest_url, .. } => {
                let text = super::body::plain(&self.inlines());
                InlineShape::Picture { target: dest_url.into_string(), text }
            }
            Tag::Link { link_type, dest_url, .. } => InlineShape::Link {
                target: match link_type {
                    LinkType::Email => format!("mailto:{dest_url}"),
                    _ => dest_url.into_string(),
                },
                by_id: matches!(link_type, LinkType::WikiLink { .. }),
                text: self.inlines(),
            },
            _ => InlineShape::Emphasis(self.inlines()),
        }
    }
}

/// Joins the runs of plain text that the parser cuts at every escape and entity.
fn push_merged(inlines: &mut Vec<Inline>, next: Inline) {
    match (inlines.last_mut(), next) {
        (
            Some(Inline { span, shape: InlineShape::Text(text) }),
            Inline { span: more, shape: InlineShape::Text(rest) },
        ) => {
            text.push_str(&rest);
            span.end = more.end;
        }
        (_, next) => inlines.push(next),
    }
}

fn is_block(tag: &Tag) -> bool {
    !matches!(tag, Tag::Emphasis | Tag::Strong | Tag::Strikethrough | Tag::Link { .. } | Tag::Image { .. })
}

fn is_inline(event: &Event) -> bool {
    match event {
        Event::Start(tag) => !is_block(tag),
        Event::End(_) | Event::Rule | Event::TaskListMarker(_) => false,
        _ => true,
    }
}

fn number(level: HeadingLevel) -> u8 {
    level as u8
}

fn alignment(set: Set) -> Alignment {
    match set {
        Set::None => Alignment::Unsaid,
        Set::Left => Alignment::Left,
        Set::Center => Alignment::Centre,
        Set::Right => Alignment::Right,
    }
}
