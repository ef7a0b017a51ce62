//! Where the small words of a drawing stand, so that no line and no other word runs through them.

/// How high such words are, and how wide a character of them.
const HEIGHT: f64 = 9.0;
const CHARACTER: f64 = 3.5;

/// Words about a point, in points.
#[derive(Clone, Copy, Debug)]
pub(in crate::render) struct Words {
    pub(in crate::render) middle: [f64; 2],
    half: [f64; 2],
}

impl Words {
    pub(in crate::render) fn new(says: &str, middle: [f64; 2]) -> Self {
        let letters = u32::try_from(says.chars().count()).unwrap_or(u32::MAX);
        Self { middle, half: [(f64::from(letters) * CHARACTER + 4.0) / 2.0, HEIGHT / 2.0] }
    }

    pub(in crate::render) fn width(&self) -> f64 {
        2.0 * self.half[0]
    }

    fn overlaps(&self, other: &Self) -> bool {
        (0..2).all(|axis| (self.middle[axis] - other.middle[axis]).abs() < self.half[axis] + other.half[axis])
    }

    /// Whether a straight line runs through the words (Liang and Barsky 1984).
    fn is_crossed_by(&self, from: [f64; 2], to: [f64; 2]) -> bool {
        let (mut first, mut last) = (0.0_f64, 1.0_f64);
        for axis in 0..2 {
            let (low, high) = (self.middle[axis] - self.half[axis], self.middle[axis] + self.half[axis]);
            let run = to[axis] - from[axis];
            if run.abs() < 1e-9 {
                if from[axis] <= low || from[axis] >= high {
                    return false;
                }
                continue;
            }
            let (enter, leave) = ((low - from[axis]) / run, (high - from[axis]) / run);
            first = first.max(enter.min(leave));
            last = last.min(enter.max(leave));
        }
        first < last
    }
}

/// The first of several places that is free, or the one with the least in its way.
pub(in crate::render) fn free_place(
    places: &[Words],
    lines: &[&[[f64; 2]]],
    others: &[Words],
) -> Option<Words> {
    let in_its_way = |words: &Words| {
        let crossing = lines
            .iter()
            .flat_map(|line| line.windows(2))
            .filter(|pair| words.is_crossed_by(pair[0], pair[1]));
        crossing.count() + 2 * others.iter().filter(|other| words.overlaps(other)).count()
    };
    places.iter().copied().min_by_key(in_its_way)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_make_way_for_a_line_and_for_other_words() {
        let at = |x: f64| Words::new("to 20, 17", [x, 10.0]);
        let line: &[[f64; 2]] = &[[0.0, 0.0], [0.0, 20.0]];
        let free = free_place(&[at(0.0), at(60.0), at(120.0)], &[line], &[at(65.0)]);
        assert_eq!(free.map(|words| words.middle), Some([120.0, 10.0]));
        let slanting: &[[f64; 2]] = &[[40.0, 0.0], [80.0, 20.0]];
        assert!(at(60.0).is_crossed_by(slanting[0], slanting[1]));
        assert!(!at(60.0).is_crossed_by([40.0, 0.0], [80.0, 4.0]));
    }
}
