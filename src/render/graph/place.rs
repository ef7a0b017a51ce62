//! Places the boxes of one piece and routes its lines; the rows are given.
//!
//! Where a line passes a row it takes a narrow slot of its own. The order within the rows comes from barycentre sweeps
//! (Sugiyama, Tagawa and Toda 1981), of which the one with the fewest crossings is kept; the places are the least-squares
//! fit to the neighbours' places, row by row, with the distances kept (isotonic regression).

use std::collections::BTreeMap;

/// A piece, in points from its top left corner.
#[derive(Clone, Debug)]
pub(super) struct Placed {
    pub(super) width: f64,
    pub(super) height: f64,
    /// By box: the top left corner.
    pub(super) corners: BTreeMap<usize, [f64; 2]>,
    /// By edge: its line from border to border.
    pub(super) lines: BTreeMap<(usize, usize), Vec<[f64; 2]>>,
}

/// Between neighbours of a row, and between rows.
pub(super) const BESIDE: f64 = 13.0;
pub(super) const BELOW: f64 = 22.0;
/// The slot of a line that passes a row.
const SLOT: f64 = 4.0;
/// How far from its corner a line may leave a box.
const INSET: f64 = 14.0;
const SWEEPS: usize = 24;
/// A line's slots hold together more firmly than boxes, so that long lines run straight.
const STRAIGHTNESS: f64 = 6.0;

/// A box or a slot.
#[derive(Clone, Debug)]
struct Item {
    width: f64,
    /// The box, or nothing for a slot.
    card: Option<usize>,
    /// Items of the row above and below that a line ties it to, with the firmness of the tie.
    up: Vec<(usize, f64)>,
    down: Vec<(usize, f64)>,
    /// The middle.
    x: f64,
}

struct Drawing {
    items: Vec<Item>,
    /// The items of each row, from left to right.
    rows: Vec<Vec<usize>>,
    /// By edge: its items from box to box.
    chains: BTreeMap<(usize, usize), Vec<usize>>,
    room: f64,
}

/// Lays a piece out in a room of this width, as far as its widest row allows.
pub(super) fn place(rows: &[Vec<usize>], sizes: &[[f64; 2]], edges: &[(usize, usize)], room: f64) -> Placed {
    let mut drawing = Drawing::new(rows, sizes, edges, room);
    drawing.order();
    drawing.spread();
    drawing.read_off(sizes)
}

impl Drawing {
    fn new(rows: &[Vec<usize>], sizes: &[[f64; 2]], edges: &[(usize, usize)], room: f64) -> Self {
        let mut drawing =
            Self { items: Vec::new(), rows: vec![Vec::new(); rows.len()], chains: BTreeMap::new(), room };
        let mut item_of = BTreeMap::new();
        for (row, cards) in rows.iter().enumerate() {
            for card in cards {
                item_of.insert(*card, (drawing.add(row, sizes[*card][0], Some(*card)), row));
            }
        }
        for (before, after) in edges.iter().copied() {
            let ((first, top), (last, bottom)) = (item_of[&before], item_of[&after]);
            let mut chain = vec![first];
            chain.extend((top + 1..bottom).map(|row| drawing.add(row, SLOT, None)));
            chain.push(last);
            drawing.tie(&chain);
            drawing.chains.insert((before, after), chain);
        }
        drawing
    }

    fn add(&mut self, row: usize, width: f64, card: Option<usize>) -> usize {
        self.items.push(Item { width, card, up: Vec::new(), down: Vec::new(), x: 0.0 });
        self.rows[row].push(self.items.len() - 1);
        self.items.len() - 1
    }

    fn tie(&mut self, chain: &[usize]) {
        for pair in chain.windows(2) {
            let slots = pair.iter().filter(|item| self.items[**item].card.is_none()).count();
            let firmness = if slots == 0 { 1.0 } else { STRAIGHTNESS };
            self.items[pair[0]].down.push((pair[1], firmness));
            self.items[pair[1]].up.push((pair[0], firmness));
        }
    }

    /// Sweeps down and up, and keeps the order with the fewest crossings.
    fn order(&mut self) {
        let mut best = (self.crossings(), self.rows.clone());
        for sweep in 0..SWEEPS {
            let down = sweep % 2 == 0;
            let order: Vec<usize> =
                if down { (0..self.rows.len()).collect() } else { (0..self.rows.len()).rev().collect() };
            for row in order {
                self.sort_row(row, down);
            }
            let crossings = self.crossings();
            if crossings < best.0 {
                best = (crossings, self.rows.clone());
            }
        }
        self.rows = best.1;
    }

    fn sort_row(&mut self, row: usize, by_upper: bool) {
        let place = self.places_in_rows();
        let key = |item: usize| {
            let ties = if by_upper { &self.items[item].up } else { &self.items[item].down };
            let sum: f64 = ties.iter().map(|(other, _)| place[*other]).sum();
            if ties.is_empty() { place[item] } else { sum / count(ties.len()) }
        };
        let mut keyed: Vec<(f64, usize)> = self.rows[row].iter().map(|item| (key(*item), *item)).collect();
        keyed.sort_by(|one, two| one.0.total_cmp(&two.0));
        self.rows[row] = keyed.into_iter().map(|(_, item)| item).collect();
    }

    /// By item: its place in its row, from 0 to 1.
    fn places_in_rows(&self) -> Vec<f64> {
        let mut places = vec![0.0; self.items.len()];
        for row in &self.rows {
            for (index, item) in row.iter().enumerate() {
                places[*item] = (count(index) + 0.5) / count(row.len());
            }
        }
        places
    }

    fn crossings(&self) -> usize {
        self.rows.iter().map(|row| self.crossings_below(row)).sum()
    }

    fn crossings_below(&self, row: &[usize]) -> usize {
        let place = self.places_in_rows();
        let ends: Vec<f64> = row
            .iter()
            .flat_map(|item| {
                let mut below: Vec<f64> =
                    self.items[*item].down.iter().map(|(other, _)| place[*other]).collect();
                below.sort_by(f64::total_cmp);
                below
            })
            .collect();
        (0..ends.len()).map(|index| ends[index + 1..].iter().filter(|end| **end < ends[index]).count()).sum()
    }

    /// Moves every item to the mean place of what it is tied to, as far as its neighbours leave room.
    fn spread(&mut self) {
        let middle = self.room / 2.0;
        for row in 0..self.rows.len() {
            self.settle(row, |_, _| Some((middle, 1.0)));
        }
        for sweep in 0..SWEEPS {
            let rows = 0..self.rows.len();
            let order: Vec<usize> = if sweep % 2 == 0 { rows.collect() } else { rows.rev().collect() };
            for row in order {
                self.settle(row, Item::mean_of_ties);
            }
        }
    }

    fn settle(&mut self, row: usize, wish: impl Fn(&Item, &[Item]) -> Option<(f64, f64)>) {
        let members = self.rows[row].clone();
        let mut offset = 0.0;
        let mut blocks: Vec<Block> = Vec::new();
        let mut offsets = Vec::new();
        for (index, member) in members.iter().enumerate() {
            if index > 0 {
                let before = &self.items[members[index - 1]];
                offset += (before.width + self.items[*member].width) / 2.0 + BESIDE;
            }
            let item = &self.items[*member];
            let (x, weight) = wish(item, &self.items).unwrap_or((item.x, 0.1));
            offsets.push(offset);
            push_block(&mut blocks, Block { place: x - offset, weight, length: 1 });
        }
        let (first, last) = (self.half_width(members.first()), self.half_width(members.last()));
        // A row wider than the room sticks out at the right.
        let (leftmost, rightmost) = (first, (self.room - last - offset).max(first));
        let places = blocks
            .iter()
            .flat_map(|block| std::iter::repeat_n(block.place.clamp(leftmost, rightmost), block.length));
        for ((member, offset), place) in members.iter().zip(offsets).zip(places) {
            self.items[*member].x = place + offset;
        }
    }

    fn half_width(&self, item: Option<&usize>) -> f64 {
        item.map_or(0.0, |item| self.items[*item].width / 2.0)
    }

    fn read_off(&self, sizes: &[[f64; 2]]) -> Placed {
        let left = self.items.iter().map(|item| item.x - item.width / 2.0).fold(f64::INFINITY, f64::min);
        let right = self.items.iter().map(|item| item.x + item.width / 2.0).fold(f64::NEG_INFINITY, f64::max);
        let bands = self.bands(sizes);
        let mut corners = BTreeMap::new();
        for (row, [top, _]) in self.rows.iter().zip(&bands) {
            for item in row.iter().map(|item| &self.items[*item]) {
                if let Some(card) = item.card {
                    corners.insert(card, [item.x - item.width / 2.0 - left, *top]);
                }
            }
        }
        let row_of = self.row_of();
        let lines =
            self.chains.iter().map(|(edge, chain)| (*edge, self.line(chain, &row_of, &bands, sizes, left)));
        let height = bands.last().map_or(0.0, |[_, bottom]| *bottom);
        Placed { width: (right - left).max(0.0), height, lines: lines.collect(), corners }
    }

    /// Top and bottom of every row.
    fn bands(&self, sizes: &[[f64; 2]]) -> Vec<[f64; 2]> {
        let mut top = 0.0;
        let height = |row: &Vec<usize>| {
            row.iter()
                .filter_map(|item| self.items[*item].card)
                .map(|card| sizes[card][1])
                .fold(0.0, f64::max)
        };
        self.rows
            .iter()
            .map(|row| {
                let band = [top, top + height(row)];
                top = band[1] + BELOW;
                band
            })
            .collect()
    }

    fn row_of(&self) -> Vec<usize> {
        let mut rows = vec![0; self.items.len()];
        for (row, items) in self.rows.iter().enumerate() {
            for item in items {
                rows[*item] = row;
            }
        }
        rows
    }

    /// From the lower border of the first box, straight down past each row, to the upper border of the last.
    fn line(
        &self,
        chain: &[usize],
        row_of: &[usize],
        bands: &[[f64; 2]],
        sizes: &[[f64; 2]],
        left: f64,
    ) -> Vec<[f64; 2]> {
        let x = |index: usize| self.items[chain[index]].x - left;
        let port = |index: usize, towards: f64| {
            let half = (self.items[chain[index]].width / 2.0 - INSET).max(0.0);
            towards.clamp(x(index) - half, x(index) + half)
        };
        let last = chain.len() - 1;
        let bottom = |item: usize| {
            let card = self.items[item].card;
            bands[row_of[item]][0] + card.map_or(0.0, |card| sizes[card][1])
        };
        let mut points = vec![[port(0, x(1)), bottom(chain[0])]];
        for index in 1..last {
            let [top, end] = bands[row_of[chain[index]]];
            points.extend([[x(index), top], [x(index), end]]);
        }
        points.push([port(last, x(last - 1)), bands[row_of[chain[last]]][0]]);
        points
    }
}

impl Item {
    /// The mean place of what it is tied to, and the weight of the wish.
    fn mean_of_ties(&self, items: &[Self]) -> Option<(f64, f64)> {
        let ties = || self.up.iter().chain(&self.down);
        let weight: f64 = ties().map(|(_, firmness)| firmness).sum();
        let sum: f64 = ties().map(|(other, firmness)| items[*other].x * firmness).sum();
        (weight > 0.0).then(|| (sum / weight, weight))
    }
}

/// Neighbours that push against each other and move as one.
struct Block {
    place: f64,
    weight: f64,
    length: usize,
}

/// Adds a block at the right; blocks that would overlap are joined at their weighted mean.
fn push_block(blocks: &mut Vec<Block>, mut next: Block) {
    while let Some(last) = blocks.pop_if(|last| last.place > next.place) {
        let weight = last.weight + next.weight;
        let place = (last.place * last.weight + next.place * next.weight) / weight;
        next = Block { place, weight, length: last.length + next.length };
    }
    blocks.push(next);
}

fn count(number: usize) -> f64 {
    f64::from(u32::try_from(number).unwrap_or(u32::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_of_a_row_keep_their_distance_and_lines_end_at_their_boxes() {
        let sizes = [[116.0, 40.0]; 6];
        let rows = vec![vec![0, 1, 2], vec![3], vec![4, 5]];
        let edges = [(0, 3), (1, 3), (2, 5), (3, 4), (0, 4)];
        let placed = place(&rows, &sizes, &edges, 447.0);
        for row in &rows {
            let mut lefts: Vec<f64> = row.iter().map(|card| placed.corners[card][0]).collect();
            lefts.sort_by(f64::total_cmp);
            assert!(lefts.windows(2).all(|pair| pair[1] - pair[0] >= 116.0 + BESIDE - 1e-9));
        }
        for ((before, after), line) in &placed.lines {
            let (first, last) = (line[0], line[line.len() - 1]);
            let ([x, y], [u, v]) = (placed.corners[before], placed.corners[after]);
            assert!((x..=x + 116.0).contains(&first[0]) && (first[1] - (y + 40.0)).abs() < 1e-9);
            assert!((u..=u + 116.0).contains(&last[0]) && (last[1] - v).abs() < 1e-9);
            assert!(line.windows(2).all(|pair| pair[0][1] <= pair[1][1] + 1e-9));
        }
    }
}
