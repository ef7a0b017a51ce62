//! In which row of the drawing each box stands: never more than fit beside each other, and below all that come before.

/// A box may still be put into one of this many rows above the lowest.
const LOOK_BACK: usize = 3;

/// Rows from the top, each with at most `widest` boxes. Boxes are taken in the order of their rank, so that the numbers
/// run down the page; an edge must lead from a lower rank to a higher one.
pub(super) fn rows(count: usize, edges: &[(usize, usize)], rank: &[usize], widest: usize) -> Vec<Vec<usize>> {
    let mut before = vec![Vec::new(); count];
    for (earlier, later) in edges {
        before[*later].push(*earlier);
    }
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by_key(|each| (rank[*each], *each));
    let mut rows: Vec<Vec<usize>> = Vec::new();
    let mut row_of = vec![0_usize; count];
    for each in order {
        let below_all = before[each].iter().map(|earlier| row_of[*earlier] + 1).max().unwrap_or(0);
        let from = below_all.max(rows.len().saturating_sub(1 + LOOK_BACK));
        let found = (from..rows.len()).find(|row| rows[*row].len() < widest);
        let row = found.unwrap_or_else(|| {
            rows.push(Vec::new());
            rows.len() - 1
        });
        row_of[each] = row;
        rows[row].push(each);
    }
    rows
}

/// The edges that are needed to tell the order: one is left out when another way leads from its start to its end.
pub(super) fn without_shortcuts(count: usize, edges: &[(usize, usize)]) -> Vec<usize> {
    let mut after: Vec<Vec<usize>> = vec![Vec::new(); count];
    for (before, next) in edges {
        after[*before].push(*next);
    }
    let has_other_way = |from: usize, to: usize| {
        let mut seen = vec![false; count];
        let mut open: Vec<usize> = after[from].iter().copied().filter(|next| *next != to).collect();
        while let Some(each) = open.pop() {
            if each == to {
                return true;
            }
            if !std::mem::replace(&mut seen[each], true) {
                open.extend(&after[each]);
            }
        }
        false
    };
    (0..edges.len()).filter(|index| !has_other_way(edges[*index].0, edges[*index].1)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn some_edges() -> impl Strategy<Value = (usize, Vec<(usize, usize)>)> {
        (2_usize..20).prop_flat_map(|count| {
            let edge = (0..count, 0..count).prop_filter_map("forward", |(a, b)| (a < b).then_some((a, b)));
            (
                Just(count),
                prop::collection::btree_set(edge, 0..30).prop_map(|edges| edges.into_iter().collect()),
            )
        })
    }

    proptest! {
        #[test]
        fn every_box_stands_once_and_below_what_comes_before((count, edges) in some_edges()) {
            let rank: Vec<usize> = (0..count).collect();
            let rows = rows(count, &edges, &rank, 3);
            let mut row_of = vec![usize::MAX; count];
            for (index, row) in rows.iter().enumerate() {
                prop_assert!(row.len() <= 3);
                for each in row {
                    prop_assert_eq!(row_of[*each], usize::MAX);
                    row_of[*each] = index;
                }
            }
            prop_assert!(row_of.iter().all(|row| *row < usize::MAX));
            prop_assert!(edges.iter().all(|(before, after)| row_of[*before] < row_of[*after]));
        }

        #[test]
        fn what_is_left_out_can_still_be_reached((count, edges) in some_edges()) {
            let kept: Vec<(usize, usize)> = without_shortcuts(count, &edges).into_iter().map(|index| edges[index]).collect();
            for (from, to) in edges {
                let mut open = vec![from];
                let mut reached = false;
                while let Some(each) = open.pop() {
                    reached |= each == to;
                    open.extend(kept.iter().filter(|(before, _)| *before == each).map(|(_, after)| *after));
                }
                prop_assert!(reached);
            }
        }
    }
}
