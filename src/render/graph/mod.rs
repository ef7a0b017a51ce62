//! The repair sequence as a drawing: boxes in rows, time runs down the page, one piece a page.
//!
//! Takes: boxes with their words and the edges between them. Gives: pieces with places and lines, in points.
//! Never: knows of notes or Typst.

mod layers;
mod place;
pub(super) mod words;

use std::collections::{BTreeMap, BTreeSet};

/// A box to be drawn.
#[derive(Clone, Debug)]
pub(super) struct Card {
    /// Its words, cut into lines.
    pub(super) lines: Vec<String>,
    /// Boxes stand in the order of their ranks; an edge leads from a lower rank to a higher one.
    pub(super) rank: usize,
}

/// What one page shows.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    pub(super) width: f64,
    pub(super) height: f64,
    /// The boxes with their top left corner.
    pub(super) boxes: Vec<(usize, [f64; 2])>,
    /// The lines with the number of their edge.
    pub(super) lines: Vec<(usize, Vec<[f64; 2]>)>,
    /// Boxes of this piece that wait for boxes of earlier pieces, and those.
    pub(super) entering: BTreeMap<usize, Vec<usize>>,
    /// Boxes of this piece that boxes of later pieces wait for, and those.
    pub(super) leaving: BTreeMap<usize, Vec<usize>>,
}

/// The room of a page, and of a box.
#[derive(Clone, Copy, Debug)]
pub(super) struct Room {
    pub(super) width: f64,
    pub(super) height: f64,
}

/// A box is as wide as 24 characters of its face; its height follows from its lines.
const BOX_WIDTH: f64 = 116.0;
const LINE: f64 = 10.8;
const BOX_REST: f64 = 19.8;
/// Boxes beside each other.
const WIDEST: usize = 3;
/// Between rows, with room for a continuation mark.
const ROW_GAP: f64 = place::BELOW;
/// What the first page has less room by.
const CHAPTER_HEAD: f64 = 80.0;

impl Card {
    /// Width and height.
    pub(super) fn size(&self) -> [f64; 2] {
        let lines = u32::try_from(self.lines.len()).unwrap_or(u32::MAX);
        [BOX_WIDTH, LINE * f64::from(lines) + BOX_REST]
    }
}

/// Lays the boxes out on as many pieces as they need. `edges` must be free of circles.
pub(super) fn pieces(cards: &[Card], edges: &[(usize, usize)], room: Room) -> Vec<Piece> {
    let shown: Vec<usize> = layers::without_shortcuts(cards.len(), edges);
    let kept: Vec<(usize, usize)> = shown.iter().map(|index| edges[*index]).collect();
    let sizes: Vec<[f64; 2]> = cards.iter().map(Card::size).collect();
    let ranks: Vec<usize> = cards.iter().map(|card| card.rank).collect();
    let rows = layers::rows(cards.len(), &kept, &ranks, WIDEST);
    let numbers: BTreeMap<(usize, usize), usize> = kept.iter().copied().zip(shown).collect();
    pages(rows, &sizes, room).iter().map(|rows| piece(rows, &sizes, &numbers, room.width)).collect()
}

/// Cuts the rows into pages that are no higher than the room.
fn pages(rows: Vec<Vec<usize>>, sizes: &[[f64; 2]], room: Room) -> Vec<Vec<Vec<usize>>> {
    let mut pages: Vec<Vec<Vec<usize>>> = Vec::new();
    let mut left = 0.0;
    for row in rows {
        let height = row.iter().map(|each| sizes[*each][1]).fold(0.0, f64::max) + ROW_GAP;
        match pages.last_mut() {
            Some(page) if height <= left => page.push(row),
            _ => {
                left = room.height + if pages.is_empty() { 0.0 } else { CHAPTER_HEAD };
                pages.push(vec![row]);
            }
        }
        left -= height;
    }
    pages
}

fn piece(
    rows: &[Vec<usize>],
    sizes: &[[f64; 2]],
    edges: &BTreeMap<(usize, usize), usize>,
    width: f64,
) -> Piece {
    let here: BTreeSet<usize> = rows.iter().flatten().copied().collect();
    let inner: Vec<(usize, usize)> = edges
        .keys()
        .copied()
        .filter(|(before, after)| here.contains(before) && here.contains(after))
        .collect();
    let placed = place::place(rows, sizes, &inner, width);
    let (mut entering, mut leaving) = (BTreeMap::<_, Vec<_>>::new(), BTreeMap::<_, Vec<_>>::new());
    for (before, after) in edges.keys().copied() {
        match (here.contains(&before), here.contains(&after)) {
            (false, true) => entering.entry(after).or_default().push(before),
            (true, false) => leaving.entry(before).or_default().push(after),
            _ => {}
        }
    }
    Piece {
        width: placed.width,
        height: placed.height,
        boxes: placed.corners.into_iter().collect(),
        lines: placed.lines.into_iter().map(|(edge, line)| (edges[&edge], line)).collect(),
        entering,
        leaving,
    }
}

/// Cuts words into lines of at most `longest` characters; a longer word stands alone.
pub(super) fn wrapped(text: &str, longest: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= longest => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
