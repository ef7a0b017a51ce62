//! The repair sequence as a drawing: boxes in rows, time runs down the page; one piece a page, or all in one piece.
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
    /// Letters of its widest line.
    pub(super) letters: f64,
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

/// Of a letter in a box: its height follows from its lines.
const LETTER: f64 = 116.0 / 24.0;
const LINE: f64 = 10.8;
const BOX_REST: f64 = 19.8;
/// Boxes beside each other.
const WIDEST: usize = 3;
/// Between rows, with room for a continuation mark.
const ROW_GAP: f64 = place::BELOW;

impl Card {
    /// Width and height.
    pub(super) fn size(&self) -> [f64; 2] {
        let lines = u32::try_from(self.lines.len()).unwrap_or(u32::MAX);
        [LETTER * self.letters, LINE * f64::from(lines) + BOX_REST]
    }
}

/// Boxes and edges made ready to be laid out.
pub(super) struct Layout {
    sizes: Vec<[f64; 2]>,
    ranks: Vec<usize>,
    /// The edges that are drawn, each with its number.
    edges: BTreeMap<(usize, usize), usize>,
}

impl Layout {
    /// `edges` must be free of circles.
    pub(super) fn of(cards: &[Card], edges: &[(usize, usize)]) -> Self {
        let shown = layers::without_shortcuts(cards.len(), edges);
        Self {
            sizes: cards.iter().map(Card::size).collect(),
            ranks: cards.iter().map(|card| card.rank).collect(),
            edges: shown.into_iter().map(|index| (edges[index], index)).collect(),
        }
    }

    fn rows(&self, widest: usize) -> Vec<Vec<usize>> {
        let edges: Vec<(usize, usize)> = self.edges.keys().copied().collect();
        layers::rows(self.sizes.len(), &edges, &self.ranks, widest)
    }

    fn height_of(&self, row: &[usize]) -> f64 {
        row.iter().map(|each| self.sizes[*each][1]).fold(0.0, f64::max) + ROW_GAP
    }

    /// On as many pieces as it needs.
    pub(super) fn pieces(&self, room: Room) -> Vec<Piece> {
        let pages = self.pages(self.rows(WIDEST), room);
        pages.iter().map(|rows| piece(rows, &self.sizes, &self.edges, room.width)).collect()
    }

    /// In one piece, if its rows are no higher than the room.
    pub(super) fn whole_in(&self, room: Room) -> Option<Piece> {
        let rows = self.rows(self.beside_each_other(room.width));
        let height: f64 = rows.iter().fold(-ROW_GAP, |height, row| height + self.height_of(row));
        (height <= room.height).then(|| piece(&rows, &self.sizes, &self.edges, room.width))
    }

    fn beside_each_other(&self, width: f64) -> usize {
        let widest = self.sizes.iter().map(|[width, _]| *width).fold(1.0, f64::max);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a handful of boxes")]
        let count = (width / (widest + place::BESIDE)).floor().clamp(1.0, 1_000.0) as usize;
        count
    }

    /// Cuts the rows into pages that are no higher than the room.
    fn pages(&self, rows: Vec<Vec<usize>>, room: Room) -> Vec<Vec<Vec<usize>>> {
        let mut pages: Vec<Vec<Vec<usize>>> = Vec::new();
        let mut left = 0.0;
        for row in rows {
            let height = self.height_of(&row);
            match pages.last_mut() {
                Some(page) if height - ROW_GAP <= left => page.push(row),
                _ => {
                    left = room.height;
                    pages.push(vec![row]);
                }
            }
            left -= height;
        }
        pages
    }
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
