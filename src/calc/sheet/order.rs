//! The order in which lines can be worked out, and the circles that can't.

/// Lines in the order of their needs, and every circle among them.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Order {
    /// Every line once, after all that it needs; those of circles included.
    pub lines: Vec<usize>,
    /// Each circle from its earliest line round.
    pub circles: Vec<Vec<usize>>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    New,
    Open,
    Done,
}

/// `needs[line]` are the lines that it needs.
pub(super) fn order(needs: &[Vec<usize>]) -> Order {
    let mut order = Order::default();
    let mut states = vec![State::New; needs.len()];
    for line in 0..needs.len() {
        if states[line] == State::New {
            visit(line, needs, &mut states, &mut order);
        }
    }
    order
}

/// Depth first with a stack of its own, for chains of any length.
fn visit(start: usize, needs: &[Vec<usize>], states: &mut [State], order: &mut Order) {
    let mut path: Vec<(usize, usize)> = vec![(start, 0)];
    states[start] = State::Open;
    while let Some((line, next)) = path.last_mut() {
        let line = *line;
        let Some(need) = needs[line].get(*next).copied() else {
            states[line] = State::Done;
            order.lines.push(line);
            path.pop();
            continue;
        };
        *next += 1;
        match states[need] {
            State::New => {
                states[need] = State::Open;
                path.push((need, 0));
            }
            State::Open => order.circles.push(circle(&path, need)),
            State::Done => {}
        }
    }
}

/// The part of the path from `closing` on, turned so that its earliest line comes first.
fn circle(path: &[(usize, usize)], closing: usize) -> Vec<usize> {
    let start = path.iter().position(|(line, _)| *line == closing).unwrap_or(0);
    let mut lines: Vec<usize> = path[start..].iter().map(|(line, _)| *line).collect();
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
    fn a_long_chain_needs_no_deep_stack() {
        let needs: Vec<Vec<usize>> =
            (0..200_000).map(|line| if line < 199_999 { vec![line + 1] } else { vec![] }).collect();
        assert_eq!(order(&needs).lines.len(), 200_000);
    }
}
