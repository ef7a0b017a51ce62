//! The order in which lines can be worked out, and the circles that can't.

use crate::cycles::Cycles;

/// Lines in the order of their needs, and the circles among them.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Order {
    /// Every line once, after all that it needs; those of circles included.
    pub lines: Vec<usize>,
    /// Each circle from its earliest line round; every line that needs itself is in one of them.
    pub circles: Vec<Vec<usize>>,
}

/// `needs[line]` are the lines that it needs.
pub(super) fn order(needs: &[Vec<usize>]) -> Order {
    let of_line = |(line, needs): (usize, &Vec<usize>)| needs.iter().map(move |&need| (line, need)).collect();
    let edges: Vec<(usize, usize)> = needs.iter().enumerate().flat_map::<Vec<_>, _>(of_line).collect();
    let cycles = Cycles::of(needs.len(), &edges);
    let circles = cycles.covering().iter().map(|cycle| circle(cycle, &edges)).collect();
    Order { lines: cycles.order().to_vec(), circles }
}

/// The lines of a cycle, turned so that the earliest comes first.
fn circle(cycle: &[usize], edges: &[(usize, usize)]) -> Vec<usize> {
    let mut lines: Vec<usize> = cycle.iter().map(|&edge| edges[edge].0).collect();
    let earliest = lines.iter().enumerate().min_by_key(|(_, line)| **line).map_or(0, |(index, _)| index);
    lines.rotate_left(earliest);
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn needs_come_first() {
        assert_eq!(order(&[vec![2], vec![], vec![1]]).lines, [1, 2, 0]);
    }

    #[test]
    fn a_circle_is_told_from_its_earliest_line() {
        let found = order(&[vec![], vec![3], vec![1], vec![2]]);
        assert_eq!(found.circles, [[1, 3, 2]]);
        assert_eq!(found.lines.len(), 4);
    }

    #[test]
    fn lines_of_two_circles_are_told_in_both() {
        assert_eq!(order(&[vec![1, 2], vec![0], vec![0]]).circles, [[0, 1], [0, 2]]);
    }
}
