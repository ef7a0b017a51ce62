//! Fewest bars against published instances and against trying everything.

use std::fs;

use asfound::bill::cut_list::{CutList, Length, Piece, cut};
use proptest::prelude::*;
use serde_yaml::Value;

fn pieces(lengths: &[Length]) -> Vec<Piece> {
    let piece = |(index, &length): (usize, &Length)| Piece { id: format!("p{index}"), length, quantity: 1 };
    lengths.iter().enumerate().map(piece).collect()
}

fn assert_fits(pieces: &[Piece], stock: Length, kerf: Length, found: &CutList) {
    let mut cuts: Vec<usize> =
        found.bars.iter().flat_map(|bar| bar.cuts.clone()).chain(found.too_long.clone()).collect();
    cuts.sort_unstable();
    let all: Vec<usize> =
        (0..pieces.len()).flat_map(|index| vec![index; pieces[index].quantity as usize]).collect();
    assert_eq!(cuts, all, "each piece once");
    for bar in &found.bars {
        let used: Length = bar.cuts.iter().map(|&piece| pieces[piece].length).sum();
        let count = Length::try_from(bar.cuts.len()).unwrap();
        assert!(used + (count - 1) * kerf <= stock, "{bar:?}");
        assert_eq!(bar.offcut, (stock - used - count * kerf).max(0));
    }
    assert!(found.at_least <= found.bars.len());
}

/// The fewest bars, by putting each piece into every bar there is and into a new one.
fn by_brute_force(lengths: &[Length], stock: Length, kerf: Length) -> usize {
    fn go(
        lengths: &[Length],
        stock: Length,
        kerf: Length,
        bars: &mut Vec<(Length, Length)>,
        best: &mut usize,
    ) {
        let Some((&length, rest)) = lengths.split_first() else {
            *best = bars.len().min(*best);
            return;
        };
        for bar in 0..bars.len() {
            let (used, count) = bars[bar];
            if used + length + count * kerf <= stock {
                bars[bar] = (used + length, count + 1);
                go(rest, stock, kerf, bars, best);
                bars[bar] = (used, count);
            }
        }
        bars.push((length, 1));
        go(rest, stock, kerf, bars, best);
        bars.pop();
    }
    let mut best = usize::MAX;
    go(lengths, stock, kerf, &mut Vec::new(), &mut best);
    best
}

fn example(id: &str) -> Value {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/worked_examples.yaml");
    let all: Value = serde_yaml::from_str(&fs::read_to_string(path).unwrap()).unwrap();
    all["examples"].as_sequence().unwrap().iter().find(|example| example["id"] == id).unwrap().clone()
}

fn assert_published(id: &str) -> CutList {
    let example = example(id);
    let whole = |value: &Value| value.as_i64().unwrap();
    let lengths: Vec<Length> = example["inputs"]["pieces"].as_sequence().unwrap().iter().map(whole).collect();
    let (stock, kerf) = (whole(&example["inputs"]["stock"]), whole(&example["inputs"]["kerf"]));
    let found = cut(&pieces(&lengths), stock, kerf).unwrap();
    assert_fits(&pieces(&lengths), stock, kerf, &found);
    assert!(found.proven());
    assert_eq!(Some(found.bars.len() as u64), example["expected"]["bars"]["value"].as_u64(), "{id}");
    found
}

/// Eleven pieces from bars of 100: a public documentation example of an optimisation library (`WS-10`).
#[test]
fn eleven_pieces_from_bars_of_100() {
    let found = assert_published("WS-10");
    let waste: Length = found.bars.iter().map(|bar| bar.offcut).sum();
    assert_eq!(Some(waste), example("WS-10")["expected"]["waste"]["value"].as_i64());
}

/// Martello and Toth, Knapsack Problems, bin-packing example: three bars by length, four in truth (`WS-12`).
#[test]
fn the_sum_of_lengths_is_not_enough() {
    assert_published("WS-12");
}

#[test]
fn a_cut_after_every_piece_but_a_flush_one() {
    let two = pieces(&[50, 50]);
    assert_eq!(cut(&two, 100, 0).unwrap().bars.len(), 1);
    assert_eq!(cut(&two, 100, 1).unwrap().bars.len(), 2);
    let flush = cut(&two, 101, 1).unwrap();
    assert_eq!((flush.bars.len(), flush.bars[0].offcut), (1, 0));
    let thin = cut(&two, 103, 2).unwrap();
    assert_eq!((thin.bars.len(), thin.bars[0].offcut), (1, 0), "what is left is less than the saw takes");
    assert_eq!(cut(&two, 110, 1).unwrap().bars[0].offcut, 8);
}

#[test]
fn a_piece_longer_than_the_bar_is_told() {
    let found = cut(&pieces(&[120, 30]), 100, 1).unwrap();
    assert_eq!(found.too_long, [0]);
    assert_eq!(found.bars.len(), 1);
}

#[test]
fn nothing_to_cut_and_too_much_to_cut() {
    assert_eq!(cut(&[], 100, 1), Some(CutList::default()));
    let many = Piece { id: "pin".to_owned(), length: 10, quantity: u32::MAX };
    assert_eq!(cut(&[many], 100, 1), None);
}

#[test]
fn a_large_list_shows_its_bound() {
    let lengths: Vec<Length> = (0..3_000).map(|piece| 150 + (piece * 7919) % 4_500).collect();
    let found = cut(&pieces(&lengths), 6_000, 3).unwrap();
    assert_fits(&pieces(&lengths), 6_000, 3, &found);
    assert!(found.bars.len() <= found.at_least * 11 / 9 + 1);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn as_few_bars_as_the_best_of_all_ways(
        lengths in prop::collection::vec(5..70_i64, 1..=8),
        kerf in 0..6_i64,
    ) {
        let found = cut(&pieces(&lengths), 100, kerf).unwrap();
        assert_fits(&pieces(&lengths), 100, kerf, &found);
        prop_assert!(found.proven());
        prop_assert_eq!(found.bars.len(), by_brute_force(&lengths, 100, kerf));
    }

    /// Up to thirty pieces the number is proven or differs from the bound by one.
    #[test]
    fn bounds_hold_for_larger_lists(lengths in prop::collection::vec(80..700_i64, 1..=30), kerf in 0..6_i64) {
        let found = cut(&pieces(&lengths), 1_000, kerf).unwrap();
        assert_fits(&pieces(&lengths), 1_000, kerf, &found);
        prop_assert!(found.bars.len() <= found.at_least + 1);
    }
}
