//! The body of a note as a tree of blocks, each with its byte range in the file.

use crate::text::Span;

/// A block and where it stands.
#[derive(Clone, Debug)]
pub struct Block {
    pub span: Span,
    pub shape: BlockShape,
}

/// What a block is.
#[derive(Clone, Debug)]
pub enum BlockShape {
    Paragraph(Vec<Inline>),
    Heading {
        /// 1 to 6.
        level: u8,
        text: Vec<Inline>,
    },
    Quote(Vec<Block>),
    Code(CodeBlock),
    List {
        /// The first number of a numbered list.
        start: Option<u64>,
        items: Vec<Item>,
    },
    Table(Table),
    Rule,
    /// Raw HTML, printed as typed.
    Html(String),
    Footnote {
        label: String,
        blocks: Vec<Block>,
    },
}

/// A fenced or indented block.
#[derive(Clone, Debug)]
pub struct CodeBlock {
    /// The first word after the fence.
    pub language: String,
    pub lines: Vec<CodeLine>,
}

/// A line of a code block, without its indentation by lists and quotes, and without its end.
#[derive(Clone, Debug)]
pub struct CodeLine {
    pub text: String,
    /// The byte in the file at which `text` begins.
    pub offset: usize,
}

/// An item of a list.
#[derive(Clone, Debug)]
pub struct Item {
    /// For an item of a task list: is it ticked?
    pub task: Option<bool>,
    pub blocks: Vec<Block>,
}

/// A table with a head.
#[derive(Clone, Debug)]
pub struct Table {
    pub columns: Vec<Alignment>,
    pub head: Vec<Cell>,
    pub rows: Vec<Vec<Cell>>,
}

/// How a column is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Alignment {
    Unsaid,
    Left,
    Centre,
    Right,
}

/// A cell of a table.
#[derive(Clone, Debug)]
pub struct Cell {
    pub span: Span,
    pub text: Vec<Inline>,
}

/// A run of text and where it stands.
#[derive(Clone, Debug)]
pub struct Inline {
    pub span: Span,
    pub shape: InlineShape,
}

/// What a run of text is.
#[derive(Clone, Debug)]
pub enum InlineShape {
    Text(String),
    Code(String),
    Emphasis(Vec<Inline>),
    Strong(Vec<Inline>),
    Struck(Vec<Inline>),
    Link {
        target: String,
        /// `[[id]]`: the target is a note's id.
        by_id: bool,
        text: Vec<Inline>,
    },
    Picture {
        target: String,
        /// What it shows: the caption and the alternative text.
        text: String,
    },
    FootnoteMark(String),
    /// A line's end that is only a space.
    SoftBreak,
    HardBreak,
    /// Raw HTML, printed as typed.
    Html(String),
}

/// The plain text of a run.
pub fn plain(inlines: &[Inline]) -> String {
    inlines.iter().map(plain_of).collect()
}

fn plain_of(inline: &Inline) -> String {
    match &inline.shape {
        InlineShape::Text(text) | InlineShape::Code(text) | InlineShape::Html(text) => text.clone(),
        InlineShape::Emphasis(inner) | InlineShape::Strong(inner) | InlineShape::Struck(inner) => {
            plain(inner)
        }
        InlineShape::Link { text, .. } => plain(text),
        InlineShape::Picture { text, .. } => text.clone(),
        InlineShape::SoftBreak | InlineShape::HardBreak => " ".to_owned(),
        InlineShape::FootnoteMark(_) => String::new(),
    }
}

/// Calls `visit` with every block, outer before inner.
pub fn each_block<'a>(blocks: &'a [Block], visit: &mut impl FnMut(&'a Block)) {
    for block in blocks {
        visit(block);
        match &block.shape {
            BlockShape::Quote(inner) | BlockShape::Footnote { blocks: inner, .. } => each_block(inner, visit),
            BlockShape::List { items, .. } => items.iter().for_each(|item| each_block(&item.blocks, visit)),
            _ => {}
        }
    }
}

/// Calls `visit` with every run of text, outer before inner.
pub fn each_inline<'a>(blocks: &'a [Block], visit: &mut impl FnMut(&'a Inline)) {
    each_block(blocks, &mut |block| match &block.shape {
        BlockShape::Paragraph(text) | BlockShape::Heading { text, .. } => each_within(text, visit),
        BlockShape::Table(table) => {
            let cells = table.head.iter().chain(table.rows.iter().flatten());
            cells.for_each(|cell| each_within(&cell.text, visit));
        }
        _ => {}
    });
}

fn each_within<'a>(inlines: &'a [Inline], visit: &mut impl FnMut(&'a Inline)) {
    for inline in inlines {
        visit(inline);
        match &inline.shape {
            InlineShape::Emphasis(inner)
            | InlineShape::Strong(inner)
            | InlineShape::Struck(inner)
            | InlineShape::Link { text: inner, .. } => each_within(inner, visit),
            _ => {}
        }
    }
}
