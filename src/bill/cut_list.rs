//! Pieces out of bars: as few bars as can be.
//!
//! Lengths are whole nanometres, so that fractions of an inch and tenths of a millimetre add up exactly. Every piece is
//! parted off with one cut of width `kerf`, except one that ends flush with the bar; so a bar of length `L` takes pieces
//! with `Σ length + (pieces - 1) kerf <= L`. Method: best fit decreasing, then an exact search with the bound of Martello
//! and Toth (L2; Knapsack Problems, 1990, chapter 8, from memory) until it is proven or the work limit is reached.

use serde::Serialize;

use crate::calc::print::counted;

/// Nanometres.
pub type Length = i64;

/// A piece to be cut, as often as `quantity` says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// What it is for: the part's id.
    pub id: String,
    /// Its length, above zero.
    pub length: Length,
    /// How many.
    pub quantity: u32,
}

/// One bar and what is cut from it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Bar {
    /// The pieces, longest first, as indices into the pieces given.
    pub cuts: Vec<usize>,
    /// What is left in one piece, after the cut that frees it.
    pub offcut: Length,
}

/// How to cut the pieces.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CutList {
    /// The bars, fullest first.
    pub bars: Vec<Bar>,
    /// Pieces (by index) that are longer than a bar.
    pub too_long: Vec<usize>,
    /// No way of cutting needs fewer bars than this.
    pub at_least: usize,
}

impl CutList {
    /// Whether fewer bars are proven to be impossible.
    pub fn proven(&self) -> bool {
        self.bars.len() <= self.at_least
    }
}

/// How sure it is that so few bars are the fewest, as a sentence; `at_least` is `None` where nothing is known of the bars.
pub fn judged(bars: usize, at_least: Option<usize>, proven: bool) -> String {
    let Some(at_least) = at_least else { return UNKNOWN_BARS.to_owned() };
    let bars_said = counted(bars, "bar");
    match (proven, bars) {
        (true, 0) => "No bar is long enough.".to_owned(),
        (true, 1) => "1 bar is enough.".to_owned(),
        (true, _) => format!("{bars_said}; fewer can't be enough."),
        (false, 0) => "There are too many pieces to lay out one by one.".to_owned(),
        (false, _) => format!("{bars_said}; fewer may be enough, but not fewer than {at_least}."),
    }
}

const UNKNOWN_BARS: &str =
    "How many bars that takes is not known: dossier.yaml says nothing of this section under stock_lengths.";

/// The most pieces of one section that are laid out singly; hostile quantities stop here.
pub const MOST_PIECES: usize = 20_000;

/// Cuts `pieces` from bars of length `stock`. Pieces beyond twenty thousand are left out of the plan and reported by `None`.
pub fn cut(pieces: &[Piece], stock: Length, kerf: Length) -> Option<CutList> {
    let kerf = kerf.max(0);
    let fits = |piece: &Piece| piece.length <= stock;
    let too_long = (0..pieces.len()).filter(|&index| !fits(&pieces[index])).collect();
    let count = pieces.iter().filter(|piece| fits(piece)).map(|piece| piece.quantity as usize);
    if count.fold(0, usize::saturating_add) > MOST_PIECES {
        return None;
    }
    let mut singles: Vec<usize> = (0..pieces.len())
        .filter(|&index| fits(&pieces[index]))
        .flat_map(|index| std::iter::repeat_n(index, pieces[index].quantity as usize))
        .collect();
    singles.sort_by_key(|&index| (-pieces[index].length, index));
    // A cut after each piece, and room for the last one's beyond the end of the bar.
    let sizes: Vec<Length> = singles.iter().map(|&index| pieces[index].length.max(0) + kerf).collect();
    let (bins, at_least) = pack(&sizes, stock.saturating_add(kerf));
    let mut bars: Vec<Bar> = bins
        .into_iter()
        .map(|bin| {
            let used: Length = bin.iter().map(|&single| sizes[single]).sum();
            let cuts = bin.into_iter().map(|single| singles[single]).collect();
            Bar { cuts, offcut: (stock - used).max(0) }
        })
        .collect();
    bars.sort_by(|one, two| (one.offcut, &one.cuts).cmp(&(two.offcut, &two.cuts)));
    Some(CutList { bars, too_long, at_least })
}

/// Packs `sizes` (largest first) into bins of `room`: the bins, and how many there must be at least.
fn pack(sizes: &[Length], room: Length) -> (Vec<Vec<usize>>, usize) {
    let bound = bound(sizes, room);
    let quick = best_fit(sizes, room);
    if quick.len() <= bound {
        return (quick, bound);
    }
    let mut search = Search::new(sizes, room, quick, bound);
    search.place(0);
    let at_least = if search.work > WORK_LIMIT { bound } else { search.best.len() };
    (search.best, at_least)
}

fn best_fit(sizes: &[Length], room: Length) -> Vec<Vec<usize>> {
    let mut bins: Vec<Vec<usize>> = Vec::new();
    let mut free = std::collections::BTreeSet::new();
    for (piece, &size) in sizes.iter().enumerate() {
        let tightest = free.range((size, 0)..).next().copied();
        let (left, bin) = tightest.unwrap_or((room, bins.len()));
        if tightest.is_none() {
            bins.push(Vec::new());
        }
        free.remove(&(left, bin));
        bins[bin].push(piece);
        free.insert((left - size, bin));
    }
    bins
}

/// The bound L2: for a threshold `k`, pieces over `room - k` fill a bin each, pieces over half a bin need one each, and
/// what is left of those must take the rest down to `k`.
fn bound(sizes: &[Length], room: Length) -> usize {
    let total: i128 = sizes.iter().map(|&size| i128::from(size)).sum();
    let spread = as_count(ceiling(total, room));
    let mut sums = vec![0_i128];
    for &size in sizes {
        sums.push(sums[sums.len() - 1] + i128::from(size));
    }
    let first_at_most = |limit: Length| sizes.partition_point(|&size| size > limit);
    let half = first_at_most(room / 2);
    let by_threshold = sizes[half..].iter().map(|&threshold| {
        let alone = first_at_most(room - threshold).min(half);
        let rest_end = sizes.partition_point(|&size| size >= threshold).max(half);
        let large = i128::from(room) * (half - alone) as i128 - (sums[half] - sums[alone]);
        let over = sums[rest_end] - sums[half] - large;
        half + if over > 0 { as_count(ceiling(over, room)) } else { 0 }
    });
    by_threshold.chain([half, spread]).max().unwrap_or(0)
}

fn ceiling(total: i128, room: Length) -> i128 {
    let room = i128::from(room.max(1));
    (total + room - 1) / room
}

fn as_count(bars: i128) -> usize {
    usize::try_from(bars).unwrap_or(0)
}

/// Placements tried before the search is given up; then the bound is shown instead of a proof.
const WORK_LIMIT: usize = 400_000;
/// The search goes one call deeper with each piece: beyond this many only the quick way is used.
const DEEPEST: usize = 200;

/// Tries every bin for every piece, largest piece first, skipping bins that are equally full.
struct Search<'a> {
    sizes: &'a [Length],
    room: Length,
    bound: usize,
    bins: Vec<Vec<usize>>,
    free: Vec<Length>,
    /// What is still to be placed from each piece on.
    ahead: Vec<i128>,
    best: Vec<Vec<usize>>,
    work: usize,
}

impl<'a> Search<'a> {
    fn new(sizes: &'a [Length], room: Length, best: Vec<Vec<usize>>, bound: usize) -> Self {
        let mut ahead = vec![0_i128; sizes.len() + 1];
        for piece in (0..sizes.len()).rev() {
            ahead[piece] = ahead[piece + 1] + i128::from(sizes[piece]);
        }
        let work = if sizes.len() > DEEPEST { WORK_LIMIT + 1 } else { 0 };
        Self { sizes, room, bound, bins: Vec::new(), free: Vec::new(), ahead, best, work }
    }

    fn settled(&self) -> bool {
        self.best.len() <= self.bound || self.work > WORK_LIMIT
    }

    fn place(&mut self, piece: usize) {
        if piece == self.sizes.len() {
            if self.bins.len() < self.best.len() {
                self.best = self.bins.clone();
            }
            return;
        }
        if self.hopeless(piece) {
            return;
        }
        let mut tried = Vec::new();
        for bin in 0..self.bins.len() {
            let left = self.free[bin];
            if left >= self.sizes[piece] && !tried.contains(&left) {
                tried.push(left);
                self.with_bin(bin, piece);
                if self.settled() || left == self.sizes[piece] {
                    return;
                }
            }
        }
        self.bins.push(Vec::new());
        self.free.push(self.room);
        self.with_bin(self.bins.len() - 1, piece);
        self.bins.pop();
        self.free.pop();
    }

    fn with_bin(&mut self, bin: usize, piece: usize) {
        self.work += 1;
        self.bins[bin].push(piece);
        self.free[bin] -= self.sizes[piece];
        self.place(piece + 1);
        self.free[bin] += self.sizes[piece];
        self.bins[bin].pop();
    }

    /// Whether the pieces ahead can't fit in fewer bins than the best way found.
    fn hopeless(&self, piece: usize) -> bool {
        if self.settled() {
            return true;
        }
        let smallest = self.sizes[self.sizes.len() - 1];
        let usable: i128 =
            self.free.iter().filter(|&&left| left >= smallest).map(|&left| i128::from(left)).sum();
        let over = self.ahead[piece] - usable;
        let more = if over > 0 { as_count(ceiling(over, self.room)) } else { 0 };
        self.bins.len() + more >= self.best.len()
    }
}
